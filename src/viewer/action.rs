//! What can a person ask for? An [`Action`]: the panel, the keys, the mouse and the file watcher write them, and one
//! system carries them out.

use bevy::ecs::system::SystemParam;
use bevy::prelude::*;

use super::camera::Flight;
use super::motion::{Play, Poses};
use super::scene::Show;
use super::settings::{Audience, Section, Settings};
use super::shown::{Origin, Shown};
use crate::length::Length;
use crate::model::MoverId;
use crate::plan::{self, Side};

/// One thing that a person asked for.
#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    /// Make `side`'s filler this wide.
    SetFiller(Side, Length),
    /// Make `side`'s filler the least that passes on the shop step.
    SetToLeast(Side),
    /// Open this drawer or door, or shut it.
    Toggle(MoverId),
    /// Open every drawer and door as far as it goes, or shut them all if any is open.
    ToggleAll,
    /// Open each in turn; or hold still; or go on.
    PlayPause,
    /// Stop, and shut everything.
    Stop,
    /// Look at the corner as at the start.
    FrameCorner,
    /// Point out a finding: look at it, with the parts where they come closest.
    PointOut(usize),
    /// Show or hide a layer.
    Show(Layer, bool),
    /// Lay the window out for another.
    ShowTo(Audience),
    /// Turn the builder's panel to a section.
    Turn(Section),
    /// Make all text and controls larger or smaller.
    TextSize {
        /// Larger, not smaller.
        larger: bool,
    },
    /// Fill the screen, or no longer.
    FullScreen(bool),
    /// The plan file was saved with this text, or could not be read for this reason.
    Reloaded(Result<String, String>),
}

/// What can be hidden.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layer {
    /// The countertop.
    Countertop,
    /// Walls, and what is fixed to them.
    Walls,
    /// Drawer fronts, doors and their pulls.
    Fronts,
}

/// What was asked for since the last frame.
#[derive(Resource, Debug, Default)]
pub struct Asked(pub Vec<Action>);

#[derive(SystemParam)]
pub(super) struct Applied<'w> {
    shown: ResMut<'w, Shown>,
    origin: ResMut<'w, Origin>,
    poses: ResMut<'w, Poses>,
    play: ResMut<'w, Play>,
    show: ResMut<'w, Show>,
    flight: ResMut<'w, Flight>,
    settings: ResMut<'w, Settings>,
}

/// Carries out what was asked for.
pub(super) fn apply(mut asked: ResMut<'_, Asked>, mut to: Applied<'_>) {
    if asked.0.is_empty() {
        return;
    }
    for action in asked.0.drain(..) {
        match &action {
            // A whole file has no place in a log line.
            Action::Reloaded(text) => info!("asked for: Reloaded, good to read: {}", text.is_ok()),
            other => info!("asked for: {other:?}"),
        }
        to.carry_out(action);
    }
}

impl Applied<'_> {
    fn carry_out(&mut self, action: Action) {
        match action {
            Action::SetFiller(side, width) => self.shown.set_filler(side, width),
            Action::SetToLeast(side) => {
                if let Some(least) = self.shown.answer().side(side).least_on_step {
                    self.shown.set_filler(side, least);
                }
            }
            Action::Toggle(mover) => {
                self.interrupt();
                self.poses.toggle(&self.shown, mover);
            }
            Action::ToggleAll => {
                self.interrupt();
                self.poses.toggle_all(&self.shown);
            }
            Action::PlayPause => {
                self.forget_finding();
                self.play.play_or_pause(&mut self.poses);
            }
            Action::Stop => {
                self.interrupt();
                self.poses.shut_all();
            }
            Action::FrameCorner => *self.flight = Flight::ToCorner,
            Action::PointOut(finding) => self.point_out(finding),
            Action::Show(layer, visible) => self.show.set(layer, visible),
            Action::ShowTo(audience) => {
                self.forget_finding();
                self.settings.audience = audience;
            }
            Action::Turn(section) => self.settings.section = section,
            Action::TextSize { larger } => self.settings.step_text(larger),
            Action::FullScreen(full) => self.settings.full_screen = full,
            Action::Reloaded(Ok(text)) => match plan::read(&self.origin.name, &text) {
                Ok(plan) => {
                    self.origin.problems.clear();
                    self.shown.set_plan(plan);
                }
                Err(problems) => self.origin.problems = problems.lines(),
            },
            Action::Reloaded(Err(reason)) => self.origin.problems = vec![reason],
        }
    }

    /// A person who takes a drawer in hand wants no film and no finding in the way.
    fn interrupt(&mut self) {
        self.play.stop();
        self.forget_finding();
    }

    fn forget_finding(&mut self) {
        if self.shown.chosen().is_some() {
            self.shown.choose(None);
        }
    }

    fn point_out(&mut self, finding: usize) {
        self.play.stop();
        self.shown.choose(Some(finding));
        let Some(finding) = self.shown.chosen_finding() else { return };
        self.poses.shut_all();
        if let Some(mover) = finding.mover {
            self.poses.hold_at(self.shown.model(), mover, finding.out);
        }
        *self.flight = Flight::ToFinding;
    }
}

/// Works the answer out where something changed.
pub(super) fn solve(mut shown: ResMut<'_, Shown>) {
    if shown.is_stale() {
        shown.solve();
    }
}
