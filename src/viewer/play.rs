//! Where does the film stand, and does it go on? [`Play`] holds the [`Timeline`] and a moment of it, and puts every part
//! where that moment has it.

use bevy::prelude::*;

use super::motion::{Poses, Wish, step_of};
use super::shown::Shown;
use super::timeline::{Timeline, Way};
use crate::model::MoverId;

/// The film: where it stands, and whether it goes on.
#[derive(Resource, Debug, PartialEq)]
pub struct Play {
    timeline: Timeline,
    way: Way,
    slow: bool,
    at: f64,
    stage: Stage,
}

#[derive(Debug, Default, PartialEq, Clone, Copy)]
enum Stage {
    /// The film moves nothing.
    #[default]
    Off,
    /// It will run when everything is shut.
    Waiting,
    Running,
    Paused,
}

impl Default for Play {
    fn default() -> Self {
        Self { timeline: Timeline::default(), way: Way::default(), slow: true, at: 0.0, stage: Stage::Off }
    }
}

impl Play {
    /// Whether the film runs.
    #[must_use]
    pub fn is_running(&self) -> bool {
        matches!(self.stage, Stage::Waiting | Stage::Running)
    }

    /// Whether the film is held still.
    #[must_use]
    pub fn is_paused(&self) -> bool {
        self.stage == Stage::Paused
    }

    /// Whether the film says where parts are.
    #[must_use]
    pub fn is_on(&self) -> bool {
        matches!(self.stage, Stage::Running | Stage::Paused)
    }

    /// The part whose turn it is.
    #[must_use]
    pub fn turn(&self) -> Option<MoverId> {
        self.timeline.turn_at(self.at).filter(|_| self.is_on())
    }

    /// The film itself.
    #[must_use]
    pub fn timeline(&self) -> &Timeline {
        &self.timeline
    }

    /// Where it stands, in seconds from its start.
    #[must_use]
    pub fn at(&self) -> f64 {
        self.at
    }

    /// In what order parts open.
    #[must_use]
    pub fn way(&self) -> Way {
        self.way
    }

    /// Whether parts come slowly to what they meet.
    #[must_use]
    pub fn is_slow(&self) -> bool {
        self.slow
    }

    /// Starts, holds still or goes on.
    pub fn play_or_pause(&mut self, poses: &mut Poses) {
        let over = self.at >= self.timeline.length();
        self.stage = match self.stage {
            Stage::Running | Stage::Waiting => Stage::Paused,
            Stage::Paused if !over => Stage::Running,
            Stage::Paused | Stage::Off => {
                poses.shut_all();
                self.at = 0.0;
                Stage::Waiting
            }
        };
    }

    /// Holds the film still at this time.
    pub fn scrub(&mut self, to: f64) {
        self.at = to.clamp(0.0, self.timeline.length());
        self.stage = Stage::Paused;
    }

    /// Ends the film; what it opened stays where it is.
    pub fn stop(&mut self) {
        if self.stage != Stage::Off || self.at > 0.0 {
            self.stage = Stage::Off;
            self.at = 0.0;
        }
    }

    /// Makes the film anew for what is shown; a film that runs or is held still stays at the same share of its length.
    pub fn make(&mut self, shown: &Shown, way: Way, slow: bool) {
        let share = self.at / self.timeline.length().max(f64::MIN_POSITIVE);
        self.timeline = Timeline::new(shown.model(), &shown.answer().openings, way, slow);
        self.at = (share * self.timeline.length()).clamp(0.0, self.timeline.length());
        (self.way, self.slow) = (way, slow);
    }

    fn step(&mut self, shown: &Shown, poses: &mut Poses, seconds: f64) {
        if self.stage == Stage::Waiting {
            if !poses.is_still() {
                return;
            }
            self.stage = Stage::Running;
        } else if self.stage == Stage::Running {
            self.at += seconds;
        }
        let over = self.at >= self.timeline.length() && self.stage == Stage::Running;
        self.at = self.at.min(self.timeline.length());
        let outs = self.timeline.outs(self.at);
        let mut on = vec![false; outs.len()];
        for turn in self.timeline.turns().iter().filter(|turn| turn.is_on(self.at)) {
            on[turn.mover.0] = true;
        }
        for mover in &shown.model().movers {
            let out = outs.get(mover.id.0).copied().unwrap_or(0.0);
            let is_on = on.get(mover.id.0).copied().unwrap_or(false);
            poses.put(mover, out, if is_on { Wish::At(out) } else { Wish::Shut });
        }
        if over {
            self.stage = Stage::Off;
        }
    }
}

/// Makes the film anew where something changed.
pub(super) fn make(shown: Res<'_, Shown>, mut play: ResMut<'_, Play>) {
    if shown.is_changed() {
        let (way, slow) = (play.way, play.slow);
        play.make(&shown, way, slow);
    }
}

/// Lets the film go on.
pub(super) fn run(
    time: Res<'_, Time>,
    shown: Res<'_, Shown>,
    mut play: ResMut<'_, Play>,
    mut poses: ResMut<'_, Poses>,
) {
    if play.stage != Stage::Off && (play.is_running() || play.is_changed()) {
        play.step(&shown, &mut poses, step_of(&time));
    }
}
