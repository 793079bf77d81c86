//! What can be off, and what does it move? Every cause of a plan with its tolerance, and what it does to each part.
//!
//! A cause does the same to all that shares it: one angle turns the whole right run, a unit's width moves every unit after
//! it. Effects are taken as straight in their cause: a turn by an angle of `a` moves a point at distance `r` by `r·a`
//! square to it, and what that leaves out, up to `r·a²/2`, is added to what must stay clear (see
//! [`super::body::Body::bend`]).
//!
//! Frame: the room's, mm and radians. The left run and the room stay; the right run turns about the upright line where
//! the two front planes meet, since fillers are measured from there.

use std::collections::BTreeMap;

use crate::model::{Follows, Model, Motion, MoverId, Part, Role, Vec3};
use crate::plan::{Plan, Side};

/// One thing that can be off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// The angle between the runs.
    RunAngle,
    /// The width of that side's filler, as cut and fitted.
    FillerCut(Side),
    /// The width of that unit of the run.
    UnitWidth(Side, usize),
    /// How far that unit's front plane stands sideways of its back.
    Squareness(Side, usize),
    /// How that drawer stands sideways in its slides.
    SlidePlay(MoverId),
    /// How that drawer is turned in its slides.
    SlideYaw(MoverId),
    /// How that front is screwed on sideways.
    FrontSideways(MoverId),
    /// How that front is screwed on in or out.
    FrontOut(MoverId),
    /// How far that front's pull stands out.
    PullProjection(MoverId),
    /// Where that pull is drilled, sideways.
    PullSideways(MoverId),
    /// Where that pull is drilled, upwards.
    PullUp(MoverId),
}

impl Cause {
    /// The place in the plan of its tolerance.
    #[must_use]
    pub fn field(self) -> &'static str {
        match self {
            Self::RunAngle => "run_angle",
            Self::FillerCut(_) => "filler_cut",
            Self::UnitWidth(..) => "unit_width",
            Self::Squareness(..) => "squareness",
            Self::SlidePlay(_) => "slide_play",
            Self::SlideYaw(_) => "slide_yaw",
            Self::FrontSideways(_) | Self::FrontOut(_) => "front_adjustment",
            Self::PullProjection(_) => "pull_projection",
            Self::PullSideways(_) | Self::PullUp(_) => "pull_place",
        }
    }

    /// What it is in a builder's words.
    #[must_use]
    pub fn words(self, model: &Model) -> String {
        let mover = |id: MoverId| &model.mover(id).name;
        match self {
            Self::RunAngle => "angle between the runs".to_owned(),
            Self::FillerCut(side) => format!("{} filler as cut", side.word()),
            Self::UnitWidth(side, unit) => format!("width of {} unit {}", side.word(), unit + 1),
            Self::Squareness(side, unit) => format!("squareness of {} unit {}", side.word(), unit + 1),
            Self::SlidePlay(id) => format!("side play of {}", mover(id)),
            Self::SlideYaw(id) => format!("turn in its slides of {}", mover(id)),
            Self::FrontSideways(id) => format!("front sideways, {}", mover(id)),
            Self::FrontOut(id) => format!("front in or out, {}", mover(id)),
            Self::PullProjection(id) => format!("projection of the pull, {}", mover(id)),
            Self::PullSideways(id) => format!("pull sideways, {}", mover(id)),
            Self::PullUp(id) => format!("pull up or down, {}", mover(id)),
        }
    }
}

/// How points move when one cause is off by one: straight in the point's place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Field {
    at_zero: Vec3,
    per_x: Vec3,
    per_y: Vec3,
}

impl Field {
    pub(super) const STILL: Self = Self { at_zero: Vec3::ZERO, per_x: Vec3::ZERO, per_y: Vec3::ZERO };

    /// Every point alike.
    pub(super) fn shift(by: Vec3) -> Self {
        Self { at_zero: by, ..Self::STILL }
    }

    /// By a small angle about the upright line through `about`.
    fn turn(about: Vec3) -> Self {
        let (per_x, per_y) = (Vec3::Y, -Vec3::X);
        Self { at_zero: -(per_x * about.x + per_y * about.y), per_x, per_y }
    }

    /// Along `along`, by as much as a point lies along `out`, divided by `depth`.
    fn shear(along: Vec3, out: Vec3, depth: f64) -> Self {
        Self { at_zero: Vec3::ZERO, per_x: along * (out.x / depth), per_y: along * (out.y / depth) }
    }

    /// How the point at `p` moves.
    pub(super) fn at(&self, p: Vec3) -> Vec3 {
        self.at_zero + self.along(p)
    }

    /// How the end of `way` moves against its beginning.
    pub(super) fn along(&self, way: Vec3) -> Vec3 {
        self.per_x * way.x + self.per_y * way.y
    }

    /// The direction in which a point lies farthest along `direction` once it has moved.
    pub(super) fn pulled_back(&self, direction: Vec3) -> Vec3 {
        direction + Vec3::new(self.per_x.dot(direction), self.per_y.dot(direction), 0.0)
    }

    pub(super) fn add(&mut self, other: &Self, by: f64) {
        self.at_zero += other.at_zero * by;
        self.per_x += other.per_x * by;
        self.per_y += other.per_y * by;
    }

    /// Whether it turns or shears, not only shifts.
    pub(super) fn is_bent(&self) -> bool {
        self.per_x != Vec3::ZERO || self.per_y != Vec3::ZERO
    }
}

/// What a cause does to a part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Effect {
    /// Index into [`Causes::list`].
    pub(super) cause: usize,
    pub(super) field: Field,
    /// Whether it stays where it is in the room when a filler carries the part along.
    pub(super) stays: bool,
}

/// Every cause of a plan.
#[derive(Clone, Debug)]
pub(super) struct Causes {
    /// Each with the most that it can be off either way: mm or radians, more than 0.
    pub(super) list: Vec<(Cause, f64)>,
    places: BTreeMap<Cause, usize>,
    /// Distance of each unit's near side from its run's first unit, mm, and its width.
    units: [Vec<[f64; 2]>; 2],
}

impl Causes {
    pub(super) fn of(plan: &Plan, model: &Model) -> Self {
        let tolerances = plan.tolerances;
        let mut list = vec![(Cause::RunAngle, tolerances.run_angle_deg.to_radians())];
        for side in Side::BOTH {
            list.push((Cause::FillerCut(side), tolerances.filler_cut.to_mm()));
            for unit in 0..plan.run(side).units.len() {
                list.push((Cause::UnitWidth(side, unit), tolerances.unit_width.to_mm()));
                list.push((Cause::Squareness(side, unit), tolerances.squareness.to_mm()));
            }
        }
        // What stands in the room is as measured.
        for mover in model.movers.iter().filter(|mover| !mover.of_the_room) {
            if matches!(mover.motion, Motion::Slide { .. }) {
                list.push((Cause::SlidePlay(mover.id), tolerances.slide_play.to_mm()));
                list.push((Cause::SlideYaw(mover.id), tolerances.slide_yaw_deg.to_radians()));
            }
            list.push((Cause::FrontSideways(mover.id), tolerances.front_adjustment.to_mm()));
            list.push((Cause::FrontOut(mover.id), tolerances.front_adjustment.to_mm()));
            list.push((Cause::PullProjection(mover.id), tolerances.pull_projection.to_mm()));
            list.push((Cause::PullSideways(mover.id), tolerances.pull_place.to_mm()));
            list.push((Cause::PullUp(mover.id), tolerances.pull_place.to_mm()));
        }
        list.retain(|(_, most)| *most > 0.0);
        let places = list.iter().enumerate().map(|(k, (cause, _))| (*cause, k)).collect();
        let units = Side::BOTH.map(|side| {
            let mut near = 0.0;
            let units = plan.run(side).units.iter();
            units
                .map(|unit| {
                    let width = unit.width.to_mm();
                    near += width;
                    [near - width, width]
                })
                .collect()
        });
        Self { list, places, units }
    }

    /// The most that each can be off, in order.
    pub(super) fn most(&self) -> Vec<f64> {
        self.list.iter().map(|(_, most)| *most).collect()
    }

    /// What each cause does to `part`, `moving` on its own way, a swing turned by `angle`, or shut.
    pub(super) fn effects(&self, model: &Model, part: &Part, moving: bool, angle: f64) -> Vec<Effect> {
        let mut effects = Vec::new();
        let (Some(side), true) = (part.run, matches!(part.follows, Follows::Run(_) | Follows::Stretch { .. })) else {
            return effects;
        };
        let run = model.run(side);
        let mut put = |cause: Cause, field: Field, stays: bool| {
            if let Some(&cause) = self.places.get(&cause) {
                effects.push(Effect { cause, field, stays });
            }
        };
        if side == Side::Right {
            let left = model.run(Side::Left);
            put(Cause::RunAngle, Field::turn(left.at(left.corner_at, left.depth, 0.0)), true);
        }
        let Some(unit) = part.unit else { return effects };
        put(Cause::FillerCut(side), Field::shift(run.along), false);
        for before in 0..unit {
            put(Cause::UnitWidth(side, before), Field::shift(run.along), false);
        }
        put(Cause::UnitWidth(side, unit), Field::shift(run.along * self.share_of_width(model, part, unit)), false);
        let mover = part.mover.map(|id| model.mover(id));
        let swings = mover.is_some_and(|mover| matches!(mover.motion, Motion::Swing { .. }));
        // A door hangs from the front edge, and goes with it as a whole.
        let skewed =
            if swings { Field::shift(run.along) } else { Field::shear(run.along, run.out, run.depth.max(1.0)) };
        put(Cause::Squareness(side, unit), skewed, false);
        let Some(mover) = mover else { return effects };
        let carry = mover.motion.carrier(if swings { angle } else { 0.0 });
        let turned = |direction: Vec3| if swings { carry(direction) - carry(Vec3::ZERO) } else { direction };
        if !swings {
            put(Cause::SlidePlay(mover.id), Field::shift(run.along), false);
            if moving {
                put(Cause::SlideYaw(mover.id), Field::turn(box_middle(model, &mover.parts)), false);
            }
        }
        let (along, out) = (turned(run.along), turned(run.out));
        if matches!(part.role, Role::DrawerFront | Role::DoorFront | Role::EdgeStrip | Role::Pull) {
            put(Cause::FrontSideways(mover.id), Field::shift(along), false);
            put(Cause::FrontOut(mover.id), Field::shift(out), false);
        }
        if part.role == Role::Pull {
            put(Cause::PullProjection(mover.id), Field::shift(out), false);
            put(Cause::PullSideways(mover.id), Field::shift(along), false);
            put(Cause::PullUp(mover.id), Field::shift(Vec3::Z), false);
        }
        effects
    }

    /// How much of what its own unit's width is off moves `part`: none at the near side, all at the far one, half for what
    /// is centred in the opening.
    fn share_of_width(&self, model: &Model, part: &Part, unit: usize) -> f64 {
        let Some(side) = part.run.filter(|_| part.mover.is_none()) else { return 0.5 };
        let run = model.run(side);
        let Some(&[near, width]) = self.units[usize::from(side == Side::Right)].get(unit) else { return 0.5 };
        ((part.middle().dot(run.along) - run.starts_at - near) / width.max(1.0)).clamp(0.0, 1.0)
    }
}

/// The middle of a drawer's box, in plan view: what it turns about in its slides.
fn box_middle(model: &Model, parts: &[crate::model::PartId]) -> Vec3 {
    let boxes = parts.iter().map(|&id| model.part(id)).filter(|part| part.role == Role::BoxBottom);
    boxes.map(Part::middle).next().or_else(|| parts.first().map(|&id| model.part(id).middle())).unwrap_or(Vec3::ZERO)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_turn_moves_points_square_to_their_distance() {
        let field = Field::turn(Vec3::new(10.0, 20.0, 0.0));
        assert!((field.at(Vec3::new(10.0, 20.0, 5.0))).length() < 1e-12);
        assert!((field.at(Vec3::new(110.0, 20.0, 5.0)) - Vec3::Y * 100.0).length() < 1e-9);
        assert!((field.at(Vec3::new(10.0, 70.0, 5.0)) + Vec3::X * 50.0).length() < 1e-9);
        assert!((field.along(Vec3::X * 3.0) - Vec3::Y * 3.0).length() < 1e-12);
    }

    #[test]
    fn a_shear_moves_the_front_and_leaves_the_back() {
        let field = Field::shear(Vec3::X, Vec3::Y, 500.0);
        assert!(field.at(Vec3::new(70.0, 0.0, 9.0)).length() < 1e-12);
        assert!((field.at(Vec3::new(70.0, 500.0, 9.0)) - Vec3::X).length() < 1e-12);
    }
}
