//! What can a person ask for? An [`Action`]: the panel, the keys, the mouse and the file watcher write them, and one
//! system carries them out.

use std::path::PathBuf;

use bevy::ecs::system::SystemParam;
use bevy::prelude::*;

use super::camera::{Eye, Flight};
use super::desk::Desk;
use super::dialog::{Dialog, Next};
use super::drag::Hand;
use super::explode::Exploded;
use super::file::Files;
use super::install::{Ask, Installed, Installing};
use super::layers::{Layer, Shade, Show};
use super::layouts::Layouts;
use super::measure::{Measuring, Picked};
use super::motion::{Play, Poses, Wish};
use super::pointed::{Aim, CutLists, Pointed};
use super::quality::Drawing;
use super::saved::Saved;
use super::settings::{Audience, Section, Settings};
use super::shown::Shown;
use super::sure::Certain;
use super::swept::SweptOf;
use super::timeline::{Step, Way};
use super::together::Together;
use super::viewpoint::Viewpoint;
use crate::clearance::free_travel;
use crate::length::Length;
use crate::model::{Fillers, MoverId};
use crate::plan::form;
use crate::plan::write::{Edit, PlanPath};
use crate::plan::{Plan, Side};

/// One thing that a person asked for.
#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    /// Make `side`'s filler this wide.
    SetFiller(Side, Length),
    /// Make both fillers so wide, in one step.
    SetFillers(Fillers),
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
    /// Look from a named place.
    LookFrom(Viewpoint),
    /// Keep the view as it is now.
    SaveView,
    /// Go back to a view that was kept, by its place in the row.
    LookAgain(usize),
    /// Forget a view that was kept.
    ForgetView(usize),
    /// Point out a finding: look at it, with the parts where they come closest.
    PointOut(usize),
    /// Hold the film still at this many seconds.
    Scrub(f64),
    /// Step along the film.
    Step(Step),
    /// In what order the film opens parts.
    PlayWay(Way),
    /// Whether the film comes slowly to what parts meet.
    SlowApproach(bool),
    /// Take a drawer or door by hand to this opening, mm or radians, as far as it goes.
    Pull {
        /// Which.
        mover: MoverId,
        /// How far open.
        to: f64,
    },
    /// Stand these so far open at once, mm or radians, whatever is in the way.
    Stand(Vec<(MoverId, f64)>),
    /// Look at this pair of those that meet when both are open.
    LookAtPair(usize),
    /// Draw samples of what can be off, or stop doing so.
    Sample(bool),
    /// Make the change in the plan that stands at this place among those that make the fillers narrower.
    TryChange(usize),
    /// Whether what stands in the way stops what is dragged.
    Solid(bool),
    /// Show, ghost or hide a layer.
    Show(Layer, Shade),
    /// Show the volume that these sweep.
    ShowSwept(SweptOf),
    /// Draw the parts apart: 0 as built, 1 wholly.
    Explode(f64),
    /// Begin or end measuring.
    ToggleMeasuring,
    /// Take this as an end of what is measured.
    Pick(Picked),
    /// Drop what was picked for measuring; with nothing picked, end it.
    DropPicks,
    /// Point out a part, or the parts of a row of the cut list, in the scene and in the lists.
    Point(Aim),
    /// Lay the pieces out on the stock, or stop doing so.
    LayOut(bool),
    /// What is asked for while the section for installing is open.
    Install(Ask),
    /// Leave what is going on: measuring, or else the film and all that stands open.
    Leave,
    /// Lay the window out for another.
    ShowTo(Audience),
    /// Turn the builder's panel to a section.
    Turn(Section),
    /// Make all text and controls larger or smaller.
    TextSize {
        /// Larger, not smaller.
        larger: bool,
    },
    /// Draw dimension lines, or no longer.
    Dimensions(bool),
    /// Draw with this much effect.
    Draw(Drawing),
    /// Fill the screen, or no longer.
    FullScreen(bool),
    /// The plan file was saved with this text, or could not be read for this reason.
    Reloaded(Result<String, String>),
    /// Change the plan.
    Edit(Edit),
    /// Leave a field whose value was refused.
    ForgetRefused,
    /// Take the last change back.
    Undo,
    /// Do again what was taken back.
    Redo,
    /// Save the plan to its file; ask for one where it has none.
    Save,
    /// Ask where to save it.
    AskSaveAs,
    /// Save it there; where a file stands there already, only if it may be replaced.
    SaveAs {
        /// The file.
        path: PathBuf,
        /// Whether a file that is there may be replaced.
        replace: bool,
        /// What to do once it is saved.
        then: Option<Next>,
    },
    /// Ask which plan to open.
    AskOpen,
    /// Ask from which starting plan to make a new one.
    AskNew,
    /// Open a plan, start a new one or close the window, whatever becomes of changes that are not saved.
    Proceed(Next),
    /// Save first, then go on.
    SaveThen(Next),
    /// Ask the desktop for a file.
    Choose(Choice),
    /// Another text of the file, while there are changes here: take it, or keep what is here.
    TakeNewer(bool),
    /// Changes that an earlier window did not save: take them, or throw them away.
    TakeFound(bool),
    /// Show which keys there are.
    Help,
    /// Put another question, or none.
    Ask(Dialog),
    /// The window was asked to close.
    Close,
}

/// What a file is asked of the desktop for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// To open it.
    Open,
    /// To save to it.
    Save,
}

/// What was asked for since the last frame.
#[derive(Resource, Debug, Default)]
pub struct Asked(pub Vec<Action>);

#[derive(SystemParam)]
pub(super) struct Applied<'w> {
    pub(super) shown: ResMut<'w, Shown>,
    pub(super) desk: ResMut<'w, Desk>,
    pub(super) dialog: ResMut<'w, Dialog>,
    pub(super) files: ResMut<'w, Files>,
    pub(super) poses: ResMut<'w, Poses>,
    pub(super) play: ResMut<'w, Play>,
    show: ResMut<'w, Show>,
    pub(super) hand: ResMut<'w, Hand>,
    pub(super) exploded: ResMut<'w, Exploded>,
    measuring: ResMut<'w, Measuring>,
    swept: ResMut<'w, SweptOf>,
    pub(super) flight: ResMut<'w, Flight>,
    pub(super) settings: ResMut<'w, Settings>,
    drawing: ResMut<'w, Drawing>,
    saved: ResMut<'w, Saved>,
    pub(super) pointed: ResMut<'w, Pointed>,
    pub(super) lists: Res<'w, CutLists>,
    pub(super) layouts: ResMut<'w, Layouts>,
    pub(super) installed: Res<'w, Installed>,
    pub(super) installing: ResMut<'w, Installing>,
    pub(super) together: ResMut<'w, Together>,
    pub(super) certain: ResMut<'w, Certain>,
    eye: Res<'w, Eye>,
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
            Action::SetFiller(side, width) => self.set_filler(side, width),
            Action::SetToLeast(side) => self.set_to_least(side),
            Action::Toggle(mover) => {
                self.interrupt();
                self.hand.take(mover);
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
            Action::Leave if self.measuring.on => self.measuring.drop_picks(),
            Action::Leave if !self.pointed.is_empty() => *self.pointed = Pointed::default(),
            Action::Leave if self.installing.showing.is_some() => self.install(Ask::Leave),
            Action::Stop | Action::Leave => {
                self.interrupt();
                self.poses.shut_all();
            }
            Action::FrameCorner => *self.flight = Flight::ToCorner,
            Action::LookFrom(_) | Action::SaveView | Action::LookAgain(_) | Action::ForgetView(_) => self.look(&action),
            Action::PointOut(finding) => self.point_out(finding),
            Action::Scrub(_)
            | Action::Step(_)
            | Action::PlayWay(_)
            | Action::SlowApproach(_)
            | Action::Pull { .. }
            | Action::Solid(_)
            | Action::Show(..)
            | Action::ShowSwept(_)
            | Action::Explode(_)
            | Action::ToggleMeasuring
            | Action::Pick(_)
            | Action::DropPicks => self.move_or_look(action),
            Action::Point(_) | Action::LayOut(_) => self.carry_out_on_lists(&action),
            Action::Install(ask) => self.install(ask),
            Action::SetFillers(_) | Action::Stand(_) | Action::LookAtPair(_) => self.together(action),
            Action::Sample(_) | Action::TryChange(_) => self.sure(&action),
            Action::ShowTo(audience) => {
                self.forget_finding();
                self.measuring.turn(false);
                self.settings.audience = audience;
            }
            Action::Turn(section) => self.settings.section = section,
            Action::TextSize { larger } => self.settings.step_text(larger),
            Action::Dimensions(drawn) => self.settings.dimensions = drawn,
            Action::Draw(drawing) => *self.drawing = drawing,
            Action::FullScreen(full) => self.settings.full_screen = full,
            Action::Reloaded(Ok(text)) => {
                let plan = self.desk.reloaded(text);
                self.show_plan(plan);
            }
            Action::Reloaded(Err(reason)) => self.desk.problems = vec![reason],
            Action::Edit(edit) => {
                let plan = self.desk.edit(&edit);
                self.show_plan(plan);
            }
            Action::ForgetRefused => self.desk.forget_refused(),
            Action::Undo => {
                let plan = self.desk.undo();
                self.show_plan(plan);
            }
            Action::Redo => {
                let plan = self.desk.redo();
                self.show_plan(plan);
            }
            Action::TakeNewer(true) => {
                let plan = self.desk.take_newer();
                self.show_plan(plan);
            }
            Action::TakeNewer(false) => self.desk.keep_mine(),
            Action::Help => *self.dialog = Dialog::Help,
            Action::Ask(dialog) => *self.dialog = dialog,
            file => self.carry_out_on_file(file),
        }
    }

    pub(super) fn show_plan(&mut self, plan: Option<Plan>) {
        if let Some(plan) = plan {
            self.shown.set_plan(plan);
        }
    }

    fn set_filler(&mut self, side: Side, width: Length) {
        let at = PlanPath::WHOLE.field("corner").field(side.word());
        let value = format!("Fixed({})", form::length_text(width, self.shown.plan().unit));
        self.carry_out(Action::Edit(Edit::Set { at, value }));
    }

    fn set_to_least(&mut self, side: Side) {
        if let Some(least) = self.shown.answer().side(side).least_on_step {
            self.set_filler(side, least);
        }
    }

    /// What changes how parts stand and are looked at, and nothing of the plan.
    fn move_or_look(&mut self, action: Action) {
        match action {
            Action::Scrub(to) => self.scrub(to),
            Action::Step(step) => {
                let to = self.play.timeline().stepped(self.play.at(), step);
                self.scrub(to);
            }
            Action::PlayWay(way) => {
                let slow = self.play.is_slow();
                self.play.make(&self.shown, way, slow);
            }
            Action::SlowApproach(slow) => {
                let way = self.play.way();
                self.play.make(&self.shown, way, slow);
            }
            Action::Pull { mover, to } => self.pull(mover, to),
            Action::Solid(solid) => self.hand.solid = solid,
            Action::Show(layer, shade) => self.show.set(layer, shade),
            Action::ShowSwept(of) => *self.swept = of,
            Action::Explode(share) => self.exploded.ask(share),
            Action::ToggleMeasuring => {
                let on = !self.measuring.on;
                self.measuring.turn(on);
            }
            Action::Pick(picked) => self.measuring.pick(picked),
            Action::DropPicks => self.measuring.drop_picks(),
            // All others are carried out above.
            _ => {}
        }
    }

    fn scrub(&mut self, to: f64) {
        self.forget_finding();
        self.play.scrub(to);
    }

    /// Takes a part by hand to `to`, or to where something solid stops it.
    fn pull(&mut self, mover: MoverId, to: f64) {
        self.interrupt();
        self.hand.take(mover);
        let model = self.shown.model();
        let Some(part) = model.movers.get(mover.0) else { return };
        let outs = self.poses.outs(model);
        let from = outs.get(mover.0).copied().unwrap_or(0.0);
        let (out, meets) = if self.hand.solid {
            let found = free_travel(model, &outs, mover, from, to);
            (found.out, found.meets)
        } else {
            (to.clamp(0.0, part.motion.extent()), None)
        };
        self.poses.put(part, out, if out > 0.0 { Wish::At(out) } else { Wish::Shut });
        let outs = self.poses.outs(model);
        self.hand.stop(meets, outs);
    }

    /// A person who takes a drawer in hand wants no film and no finding in the way.
    pub(super) fn interrupt(&mut self) {
        self.play.stop();
        self.forget_finding();
    }

    /// Looks from a named place, or goes by the views that were kept.
    fn look(&mut self, action: &Action) {
        match *action {
            Action::LookFrom(viewpoint) => *self.flight = Flight::To(viewpoint),
            Action::SaveView => {
                if let Some(view) = self.eye.view {
                    self.saved.add(view);
                }
            }
            Action::LookAgain(index) => {
                if let Some(saved) = self.saved.views().get(index) {
                    *self.flight = Flight::ToView(saved.view);
                }
            }
            Action::ForgetView(index) => self.saved.forget(index),
            _ => {}
        }
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
