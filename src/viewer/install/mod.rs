//! How does it go in, step by step? What the builder looks at while the panel's section for installing is open.
//!
//! [`Installed`] is what was worked out of the plan, in a task beside the window; [`Installing`] is where the person stands
//! in it: the step, how much the walls are exaggerated, the piece whose way in is shown. [`room`] gives the measured walls
//! to the scene, [`sketch`] the lines and numbers over it, [`piece`] moves what is shown going in. Nothing of it touches the
//! model, and no number is ever exaggerated.

pub mod piece;
pub mod room;
mod sketch;
mod work;

use bevy::ecs::system::SystemParam;
use bevy::prelude::{App, IntoScheduleConfigs as _, Res, Resource, Update};

use super::ViewerSystems;
use super::action::Applied;
use super::camera::Flight;
use super::settings::Settings;
use crate::install::fit::{TurnIn, Way};
use crate::install::order::StepId;
use crate::model::{Part, PartId};

pub use room::DrawnRoom;
pub(super) use sketch::paint;
pub use work::{Done, Installed};

/// Walls are drawn at most this many times as far from the units as they are. Our own choice.
pub const MOST_TIMES: f64 = 20.0;
/// And at the start: as they are, a gap of a few millimetres would not be seen.
const TIMES: f64 = 5.0;

/// What is asked for while the section for installing is open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ask {
    /// The next step of the work.
    Next,
    /// The step before.
    Previous,
    /// This step, counted from 0.
    Step(usize),
    /// Draw the walls this many times as far from the units as they are.
    Exaggerate(f64),
    /// Draw the level line and the studs, or no longer.
    Lines(bool),
    /// Draw shims and gaps with their numbers, or no longer.
    Shims(bool),
    /// Show how this piece of the list of those that turn in goes in.
    Show(usize),
    /// Hold it still at this part of its way, 0 in the open and 1 in place.
    Scrub(f64),
    /// Let it go in, or hold it still.
    PlayPause,
    /// Show the step again.
    Leave,
}

/// A piece on its way in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Showing {
    /// Which of [`crate::install::Installation::turning_in`].
    pub piece: usize,
    /// How much of its way is done.
    pub at: f64,
    /// Whether it goes on by itself.
    pub runs: bool,
}

/// Where a person stands in the work.
#[derive(Resource, Clone, Debug, PartialEq)]
pub struct Installing {
    step: usize,
    /// The same step by its name, which stays when the plan changes.
    id: Option<StepId>,
    /// How many times as far from the units the walls are drawn.
    pub times: f64,
    /// Whether level line and studs are drawn.
    pub lines: bool,
    /// Whether shims and gaps are drawn.
    pub shims: bool,
    /// The piece that is shown going in.
    pub showing: Option<Showing>,
}

impl Default for Installing {
    fn default() -> Self {
        Self { step: 0, id: None, times: TIMES, lines: true, shims: true, showing: None }
    }
}

impl Installing {
    /// The step that is looked at, counted from 0.
    #[must_use]
    pub fn step(&self) -> usize {
        self.step
    }

    /// Looks at a step of `done`; the last one where there are not so many.
    pub fn go(&mut self, done: &Done, step: usize) {
        let order = &done.installation.order;
        self.step = step.min(order.len().saturating_sub(1));
        self.id = order.get(self.step).map(|step| step.id);
        self.showing = None;
    }

    /// Keeps to the same step where another plan has it too.
    fn follow(&mut self, done: &Done) {
        let same = done.installation.order.iter().position(|step| Some(step.id) == self.id);
        self.go(done, same.unwrap_or(self.step));
    }

    /// The piece that is shown going in, of `done`.
    #[must_use]
    pub fn piece<'d>(&self, done: &'d Done) -> Option<&'d TurnIn> {
        done.installation.turning_in.get(self.showing?.piece)
    }

    fn ask(&mut self, done: &Done, ask: Ask) {
        match ask {
            Ask::Next => self.go(done, self.step + 1),
            Ask::Previous => self.go(done, self.step.saturating_sub(1)),
            Ask::Step(step) => self.go(done, step),
            Ask::Exaggerate(times) => self.times = times.clamp(1.0, MOST_TIMES),
            Ask::Lines(drawn) => self.lines = drawn,
            Ask::Shims(drawn) => self.shims = drawn,
            Ask::Show(piece) => {
                let way = done.installation.turning_in.get(piece).and_then(|turned| turned.way.as_ref());
                self.showing = way.map(|_| Showing { piece, at: 0.0, runs: true });
            }
            Ask::Scrub(at) => {
                if let Some(showing) = &mut self.showing {
                    (showing.at, showing.runs) = (at.clamp(0.0, 1.0), false);
                }
            }
            Ask::PlayPause => {
                if let Some(showing) = &mut self.showing {
                    showing.runs = !showing.runs;
                    if showing.runs && showing.at >= 1.0 {
                        showing.at = 0.0;
                    }
                }
            }
            Ask::Leave => self.showing = None,
        }
    }
}

impl Applied<'_> {
    /// What is asked while the section is open.
    pub(super) fn install(&mut self, ask: Ask) {
        let open = self.settings.install_is_open();
        let Some(done) = self.installed.done().filter(|_| open) else { return };
        self.installing.ask(done, ask);
        if matches!(ask, Ask::Show(_)) && self.installing.showing.is_some() {
            // The piece goes in past shut fronts, and nothing is drawn apart.
            self.play.stop();
            self.poses.shut_all();
            self.exploded.ask(0.0);
            *self.flight = Flight::ToPointed;
        }
    }
}

/// What stands in the room at the step that is looked at; everything where the section is not open.
#[derive(SystemParam)]
pub(super) struct Standing<'w> {
    pub(super) settings: Res<'w, Settings>,
    pub(super) installed: Res<'w, Installed>,
    pub(super) installing: Res<'w, Installing>,
}

impl Standing<'_> {
    /// What was worked out, while it is on screen.
    pub(super) fn done(&self) -> Option<&Done> {
        self.installed.done().filter(|_| self.settings.install_is_open())
    }

    /// Whether this part is not there yet, or not any more.
    pub(super) fn hides(&self, part: &Part) -> bool {
        let Some(done) = self.done() else { return false };
        match self.installing.piece(done) {
            Some(turned) => {
                !super::scene::is_room(part.role)
                    && !turned.parts.contains(&part.id)
                    && !turned.among.contains(&part.id)
            }
            None => !done.stands(part, self.installing.step),
        }
    }

    /// Whether it is what the step, or the way in that is shown, is about.
    pub(super) fn marks(&self, part: &Part) -> bool {
        let Some(done) = self.done() else { return false };
        match self.installing.piece(done) {
            Some(turned) => turned.parts.contains(&part.id),
            None => done.comes(part, self.installing.step),
        }
    }

    /// Parts on their way in, and that way.
    pub(super) fn way(&self) -> Option<(&[PartId], &Way)> {
        let turned = self.installing.piece(self.done()?)?;
        Some((&turned.parts, turned.way.as_ref()?))
    }

    /// What stands at the marked parts: which step, or which piece.
    pub(super) fn label(&self) -> Option<Vec<String>> {
        let done = self.done()?;
        if let Some(turned) = self.installing.piece(done) {
            return Some(vec!["Goes in".to_owned(), turned.name.clone()]);
        }
        let step = done.installation.order.get(self.installing.step)?;
        Some(vec![format!("Step {}", self.installing.step + 1), step.title.clone()])
    }
}

/// Registers what belongs to installing.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Installed>().init_resource::<Installing>().init_resource::<DrawnRoom>();
    let before = (work::keep, room::draw).chain();
    app.add_systems(Update, before.after(ViewerSystems::Solve).before(ViewerSystems::Rebuild));
    app.add_systems(Update, piece::animate.in_set(ViewerSystems::Draw));
    app.add_systems(Update, piece::place.after(ViewerSystems::Draw).before(ViewerSystems::Dress));
}
