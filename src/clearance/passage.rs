//! How wide is the passage between a run and what stands opposite it: all shut, and with drawers and doors open on the one
//! side, on the other and on both?
//!
//! Seen from above, across the run: from what reaches out farthest of the one side to what reaches out farthest of the
//! other, wherever along the passage they are. Each drawer and door is out as far as it goes alone; a door, where it
//! reaches out farthest on its way.

use super::Opening;
use super::advice::Advice;
use crate::length::Length;
use crate::model::{Convex, Model, Motion, Mover, MoverId, Part, Role, RuleClass, Vec3};
use crate::plan::{Plan, Side, defaults};

/// The passage with drawers and doors open; negative where they reach past each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpenPassage {
    /// What of the run reaches out farthest, and what that leaves with the other side shut; `None` where nothing of the
    /// run opens there.
    pub run: Option<(MoverId, Length)>,
    /// What opposite reaches out farthest, and what that leaves with the run shut.
    pub opposite: (MoverId, Length),
    /// What is left with both open.
    pub both: Length,
}

/// What hangs higher than this above the floor, mm, stands in nobody's way along a run. Our own choice.
const WALKED_OVER: f64 = 300.0;

/// Every passage of `model`, whose drawers and doors open as `openings` say.
pub(super) fn passages(plan: &Plan, model: &Model, openings: &[Opening]) -> Vec<Advice> {
    let stands =
        |part: &&Part| part.role == Role::Obstacle && part.mover.is_none() && part.extent(Vec3::Z)[0] < WALKED_OVER;
    let things = model.parts.iter().filter(stands);
    things.flat_map(|thing| Side::BOTH.map(|side| passage(plan, model, openings, side, thing))).flatten().collect()
}

/// The passage between `side`'s run and `thing`, where that stands before it: beside a run is no passage.
fn passage(plan: &Plan, model: &Model, openings: &[Opening], side: Side, thing: &Part) -> Option<Advice> {
    let run = model.run(side);
    let ([from, to], [face, _]) = (thing.extent(run.along), thing.extent(run.out));
    if to <= run.corner_at || from >= run.ends_at || face <= run.depth {
        return None;
    }
    let over = |part: &&Part| {
        part.run == Some(side)
            && matches!(part.class, RuleClass::Run | RuleClass::Appliance | RuleClass::Countertop)
            && lies_within(part, run.along, [from, to])
    };
    let reach = |part: &Part| part.extent(run.out)[1];
    let part = model.parts.iter().filter(over).max_by(|a, b| reach(a).total_cmp(&reach(b)).then(b.id.cmp(&a.id)))?;
    let fronts: Vec<&Mover> = model
        .movers
        .iter()
        .filter(|mover| mover.belongs_to == Some(thing.id))
        .filter(|mover| parts(model, mover).any(|part| lies_within(part, run.along, [run.corner_at, run.ends_at])))
        .collect();
    let stands_out = |part: &Part| part.extent(run.out)[0];
    let nearest = fronts.iter().flat_map(|mover| parts(model, mover)).chain([thing]);
    let other = nearest.min_by(|a, b| stands_out(a).total_cmp(&stands_out(b)).then(b.id.cmp(&a.id)))?;
    let shut = [reach(part), stands_out(other)];
    let own = model.movers.iter().filter(|mover| {
        mover.side == side
            && !mover.of_the_room
            && parts(model, mover).any(|part| lies_within(part, run.along, [from, to]))
    });
    let open = open_passage(model, openings, run.out, shut, (own, &fronts));
    let room = Length::mm(shut[1] - shut[0]);
    Some(Advice::Passage { part: part.id, other: other.id, room, wanted: defaults::PASSAGE.of(plan.unit), open })
}

/// The passage with what opens of the run and what opens opposite: out along `out` they reach to `shut`.
fn open_passage<'m>(
    model: &'m Model,
    openings: &[Opening],
    out: Vec3,
    shut: [f64; 2],
    (own, opposite): (impl Iterator<Item = &'m Mover>, &[&'m Mover]),
) -> Option<OpenPassage> {
    let goes = |mover: &Mover| openings.get(mover.id.0).map_or(0.0, |opening| opening.to_touch);
    let run = own.map(|mover| (mover.id, farthest(model, mover, goes(mover), out)));
    let run = run.max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)));
    let other = opposite.iter().map(|mover| (mover.id, -farthest(model, mover, goes(mover), -out)));
    let (other, other_to) = other.min_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)))?;
    let run_to = run.map_or(shut[0], |(_, to)| to.max(shut[0]));
    let other_to = other_to.min(shut[1]);
    Some(OpenPassage {
        run: run.map(|(mover, _)| (mover, Length::mm(shut[1] - run_to))),
        opposite: (other, Length::mm(other_to - shut[0])),
        both: Length::mm(other_to - run_to),
    })
}

fn parts<'m>(model: &'m Model, mover: &'m Mover) -> impl Iterator<Item = &'m Part> {
    mover.parts.iter().map(|&id| model.part(id))
}

/// Whether `part` lies at least in part between two places along the unit vector `axis`.
fn lies_within(part: &Part, axis: Vec3, [from, to]: [f64; 2]) -> bool {
    let [near, far] = part.extent(axis);
    near < to && far > from
}

/// How far along the unit vector `direction` a part reaches on its way to where it is `out` open.
fn farthest(model: &Model, mover: &Mover, out: f64, direction: Vec3) -> f64 {
    let corners = parts(model, mover).flat_map(|part| &part.pieces).flat_map(Convex::vertices);
    corners.map(|v| highest(&mover.motion, v, out, direction)).fold(f64::NEG_INFINITY, f64::max)
}

/// How far along `direction` the point `v` gets.
fn highest(motion: &Motion, v: Vec3, out: f64, direction: Vec3) -> f64 {
    let ends = v.dot(direction).max(motion.carry(v, out).dot(direction));
    let Motion::Swing { hinge, axis, .. } = *motion else { return ends };
    // Along the direction it goes as a·cos φ + b·sin φ, which is highest where tan φ = b / a.
    let r = v - hinge;
    let flat = r - axis * axis.dot(r);
    let (a, b) = (flat.dot(direction), axis.cross(flat).dot(direction));
    let top = b.atan2(a);
    if (0.0..=out).contains(&top) { ends.max(motion.carry(v, top).dot(direction)) } else { ends }
}
