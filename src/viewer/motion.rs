//! How far is each drawer and door open? [`Poses`] knows, by name, so that a new model does not shut them. The film's
//! poses come from [`Play`].
//!
//! A part that is asked to open goes as far as it can: to its full travel, or to the first touch.

use std::collections::BTreeMap;

use bevy::prelude::*;
use bevy::window::RequestRedraw;

use super::approach::TRAVEL_SECONDS;
use super::play;
use super::scene::MoverRoot;
use super::shown::Shown;
use super::{ViewerSystems, frame};
use crate::clearance::{Contact, Opening};
use crate::model::{Model, Motion, Mover, MoverId, Vec3};

pub use super::play::Play;

/// After a pause the clock may jump; a step is never longer than this.
const LONGEST_STEP_SECONDS: f64 = 0.1;
/// A part this near to its goal, as a share of its whole extent, is there.
const ARRIVED: f64 = 1e-6;

/// What a part is asked to do.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Wish {
    /// Be shut.
    #[default]
    Shut,
    /// Be as far open as it goes.
    Open,
    /// Stand this far open, mm or radians, whatever is in the way.
    At(f64),
}

/// Where one part is and where it is going.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pose {
    wish: Wish,
    from: f64,
    goal: f64,
    done: f64,
}

impl Pose {
    /// How far open it is now, mm or radians.
    #[must_use]
    pub fn now(&self) -> f64 {
        self.from + (self.goal - self.from) * eased(self.done)
    }

    /// Whether it has arrived.
    #[must_use]
    pub fn is_still(&self) -> bool {
        self.done >= 1.0
    }

    fn ask(&mut self, wish: Wish, goal: f64) {
        if self.wish != wish {
            *self = Self { wish, from: self.now(), goal, done: 0.0 };
        } else if self.is_still() {
            // A filler changed below an open drawer: what is drawn must be true in the next frame, without a glide.
            self.from = goal;
            self.goal = goal;
        } else {
            self.goal = goal;
        }
    }
}

/// Starts and stops gently.
fn eased(t: f64) -> f64 {
    let t = t.clamp(0.0, 1.0);
    t * t * t * (t * (t * 6.0 - 15.0) + 10.0)
}

/// Every drawer and door that was ever asked to move, by name.
#[derive(Resource, Debug, Default)]
pub struct Poses {
    by_name: BTreeMap<String, Pose>,
    wishes: BTreeMap<String, Wish>,
    /// Arrive at once: for pictures.
    pub at_once: bool,
}

impl Poses {
    /// Where `mover` is.
    #[must_use]
    pub fn of(&self, mover: &Mover) -> Pose {
        self.by_name.get(&mover.name).copied().unwrap_or(Pose { done: 1.0, ..Pose::default() })
    }

    /// What `mover` was asked to do last.
    #[must_use]
    pub fn wish(&self, mover: &Mover) -> Wish {
        self.wishes.get(&mover.name).copied().unwrap_or_default()
    }

    /// Whether everything has arrived.
    #[must_use]
    pub fn is_still(&self) -> bool {
        self.by_name.values().all(Pose::is_still)
    }

    /// Asks one part.
    pub fn ask(&mut self, model: &Model, mover: MoverId, wish: Wish) {
        if let Some(mover) = model.movers.get(mover.0) {
            self.wishes.insert(mover.name.clone(), wish);
        }
    }

    /// Opens `mover`, or shuts it where it is open. What stands open in its way on the other run, or
    /// opposite, is shut.
    pub fn toggle(&mut self, shown: &Shown, mover: MoverId) {
        let model = shown.model();
        let Some(part) = model.movers.get(mover.0) else { return };
        if self.wish(part) != Wish::Shut {
            self.ask(model, mover, Wish::Shut);
            return;
        }
        let meets = |other: &&Mover| other.side != part.side || other.of_the_room != part.of_the_room;
        for other in model.movers.iter().filter(meets) {
            if self.wish(other) != Wish::Shut && in_each_others_way(model, part, other) {
                self.ask(model, other.id, Wish::Shut);
            }
        }
        self.ask(model, mover, Wish::Open);
    }

    /// Shuts everything if anything is open; else opens everything that can be open at once, the left run first.
    pub fn toggle_all(&mut self, shown: &Shown) {
        let model = shown.model();
        if model.movers.iter().any(|mover| self.wish(mover) != Wish::Shut) {
            self.shut_all();
            return;
        }
        for mover in together(model) {
            self.ask(model, mover, Wish::Open);
        }
    }

    /// Shuts everything.
    pub fn shut_all(&mut self) {
        self.wishes.values_mut().for_each(|wish| *wish = Wish::Shut);
    }

    /// How far each drawer and door is open now, by [`MoverId`].
    #[must_use]
    pub fn outs(&self, model: &Model) -> Vec<f64> {
        model.movers.iter().map(|mover| self.of(mover).now()).collect()
    }

    /// Puts a part this far open at once, without a glide: by hand, or as the film has it.
    pub fn put(&mut self, mover: &Mover, out: f64, wish: Wish) {
        let pose = Pose { wish, from: out, goal: out, done: 1.0 };
        // Most parts stand still most of the time.
        if self.by_name.get(&mover.name) != Some(&pose) || self.wish(mover) != wish {
            self.wishes.insert(mover.name.clone(), wish);
            self.by_name.insert(mover.name.clone(), pose);
        }
    }

    /// Holds a part this far open.
    pub fn hold_at(&mut self, model: &Model, mover: MoverId, out: f64) {
        self.ask(model, mover, Wish::At(out));
    }

    /// What `mover` touches, where it has come to its first touch.
    #[must_use]
    pub fn touching(&self, mover: &Mover, opening: &Opening) -> Option<Contact> {
        let pose = self.of(mover);
        let there = (pose.now() - opening.to_touch).abs() <= ARRIVED * opening.full.max(1.0);
        opening.touches_first.filter(|_| self.wish(mover) != Wish::Shut && pose.is_still() && there)
    }

    /// Whether `mover` stands further open than its first touch would let it.
    #[must_use]
    pub fn is_past_touch(&self, mover: &Mover, opening: &Opening) -> bool {
        opening.touches_first.is_some() && self.of(mover).now() > opening.to_touch + ARRIVED * opening.full.max(1.0)
    }
}

/// Everything that can be open at once, the left run first.
#[must_use]
pub fn together(model: &Model) -> Vec<MoverId> {
    let mut open: Vec<&Mover> = Vec::new();
    for mover in &model.movers {
        if open.iter().all(|other| other.side == mover.side || !in_each_others_way(model, mover, other)) {
            open.push(mover);
        }
    }
    open.into_iter().map(|mover| mover.id).collect()
}

/// Whether two open parts may meet: their whole ways, boxed in, overlap. On the safe side: a few pairs that would just
/// pass are kept apart as well.
fn in_each_others_way(model: &Model, a: &Mover, b: &Mover) -> bool {
    let ((low_a, high_a), (low_b, high_b)) = (whole_way(model, a), whole_way(model, b));
    (low_a.cmplt(high_b) & low_b.cmplt(high_a)).all()
}

fn whole_way(model: &Model, mover: &Mover) -> (Vec3, Vec3) {
    const STEPS: usize = 12;
    let (mut low, mut high) = (Vec3::INFINITY, Vec3::NEG_INFINITY);
    for part in mover.parts.iter().filter_map(|id| model.parts.get(id.0)) {
        for corner in part.pieces.iter().flat_map(crate::model::Convex::vertices) {
            let steps = if matches!(mover.motion, Motion::Slide { .. }) { 1 } else { STEPS };
            for k in 0..=steps {
                let at = mover.motion.carry(corner, mover.motion.extent() * k as f64 / steps as f64);
                low = low.min(at);
                high = high.max(at);
            }
        }
    }
    (low, high)
}

/// Registers what moves.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Poses>().init_resource::<Play>();
    app.add_systems(Update, (play::make, play::run, advance, place).chain().in_set(ViewerSystems::Draw));
}

pub(super) fn step_of(time: &Time) -> f64 {
    time.delta_secs_f64().min(LONGEST_STEP_SECONDS)
}

/// Brings every part nearer to its wish, and asks for another frame while one is on its way.
fn advance(
    time: Res<'_, Time>,
    shown: Res<'_, Shown>,
    play: Res<'_, Play>,
    mut poses: ResMut<'_, Poses>,
    mut redraw: MessageWriter<'_, RequestRedraw>,
) {
    let share = step_of(&time) / TRAVEL_SECONDS;
    let poses = &mut *poses;
    for mover in &shown.model().movers {
        let Some(&wish) = poses.wishes.get(&mover.name) else { continue };
        let goal = match wish {
            Wish::Shut => 0.0,
            Wish::Open => shown.opening(mover.id).map_or(mover.motion.extent(), |o| o.to_touch.min(o.full)),
            Wish::At(out) => out,
        };
        let pose = poses.by_name.entry(mover.name.clone()).or_insert(Pose { done: 1.0, ..Pose::default() });
        pose.ask(wish, goal);
        pose.done = if poses.at_once { 1.0 } else { (pose.done + share).min(1.0) };
    }
    if play.is_running() || !poses.is_still() {
        redraw.write(RequestRedraw);
    }
}

/// Puts the drawn parts where the poses say.
fn place(shown: Res<'_, Shown>, poses: Res<'_, Poses>, mut roots: Query<'_, '_, (&MoverRoot, &mut Transform)>) {
    for (root, mut transform) in &mut roots {
        let Some(mover) = shown.model().movers.get(root.0.0) else { continue };
        let there = frame::opened(&mover.motion, poses.of(mover).now());
        if *transform != there {
            *transform = there;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pose_starts_and_ends_where_it_says() {
        let mut pose = Pose { done: 1.0, ..Pose::default() };
        pose.ask(Wish::Open, 400.0);
        assert!(pose.now().abs() < 1e-12);
        pose.done = 1.0;
        assert!((pose.now() - 400.0).abs() < 1e-9);
        // A narrower filler under an open drawer: no glide.
        pose.ask(Wish::Open, 300.0);
        assert!((pose.now() - 300.0).abs() < 1e-9);
    }
}
