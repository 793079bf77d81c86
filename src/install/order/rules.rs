//! What must be done before what, and why? One table of rules over the steps, and the order that keeps them all.
//!
//! The order is the steps' own where the rules leave a choice: of all steps that wait for nothing more, the one that
//! stands first in the list comes next. So the same plan gives the same order.

use super::place::{carcasses, corner_box};
use super::step::{After, StepId};
use crate::plan::{Plan, Side, UnitKind};

/// Which steps come before which others.
pub(super) struct Rule {
    /// Why.
    pub(super) why: &'static str,
    /// Whether the first step must be done before the second.
    holds: fn(&Plan, StepId, StepId) -> bool,
}

/// A run angle up to this has one strip of the corner lap the other; in wider corners both are mitred.
const WIDEST_LAP_DEG: f64 = 90.0;

use StepId::{
    Appliances, Base, BaseboardBack, BaseboardOff, Blocks, Caulk, Check, Clear, Corner, Drawers, DryFit, EndPanel,
    Fill, Filler, FirstClear, FirstCoat, Fix, Fronts, Join, Kick, Marks, OldPaint, Prime, Pulls, PutBack, SandBare,
    SandPrimer, SecondClear, SecondCoat, Services, Set, ShelfFrames, Shelves, Slides, Stain, Stiles, Survey, TakeOff,
    Top, TopSupport,
};

/// Every rule. Common practice, no source.
pub(super) const RULES: &[Rule] = &[
    Rule {
        why: "what stands in the way hides walls and floor",
        holds: |_, a, b| matches!((a, b), (Clear, OldPaint | Survey)),
    },
    Rule {
        why: "nothing is drilled, pried or sanded before it is known what the old paint holds",
        holds: |_, a, b| matches!((a, b), (OldPaint, Services | BaseboardOff)),
    },
    Rule {
        why: "every line starts at the highest floor point and the walls as they are",
        holds: |_, a, b| matches!((a, b), (Survey, Marks)),
    },
    Rule {
        why: "studs, wires and pipes are marked with the lines, so that no screw misses the one or meets the others",
        holds: |_, a, b| matches!((a, b), (Services, Marks)),
    },
    Rule {
        why: "the lines are drawn on the wall that the units stand against",
        holds: |_, a, b| matches!((a, b), (BaseboardOff, Marks)),
    },
    Rule { why: "it is set to the level line", holds: |_, a, b| matches!((a, b), (Marks, Base | DryFit)) },
    Rule { why: "the units are tried on what they will stand on", holds: |_, a, b| matches!((a, b), (Base, DryFit)) },
    Rule {
        why: "what does not fit is cut before anything is screwed",
        holds: |_, a, b| matches!((a, b), (DryFit, Set(..) | Blocks(_) | EndPanel(..) | Filler(_) | Kick(_))),
    },
    Rule {
        why: "each unit is set against the one before, from the corner outwards",
        holds: |plan, a, b| match (a, b) {
            (Set(side, first), Set(other, next)) => {
                let units = carcasses(plan, side);
                side == other && units.windows(2).any(|pair| *pair == [first, next])
            }
            _ => false,
        },
    },
    Rule {
        why: "the corner is squared with its boxes in place",
        holds: |plan, a, b| matches!((a, b), (Set(side, unit), Corner) if corner_box(plan, side) == Some(unit)),
    },
    Rule {
        why: "the corner comes first: everything outward is set from it",
        holds: |plan, a, b| match (a, b) {
            (Corner, Set(side, unit)) => corner_box(plan, side) != Some(unit),
            (Corner, Check(_)) => true,
            _ => false,
        },
    },
    Rule {
        why: "its place is taken from the squared corner",
        holds: |_, a, b| matches!((a, b), (Corner, Blocks(_) | Stiles)),
    },
    Rule {
        why: "the panel is screwed to the corner box from inside",
        holds: |plan, a, b| match (a, b) {
            (Set(side, unit), EndPanel(other, panel)) => {
                side == other && corner_box(plan, side) == Some(unit) && in_corner(plan, side, panel)
            }
            _ => false,
        },
    },
    Rule {
        why: "the block is screwed through the panel",
        holds: |plan, a, b| match (a, b) {
            (EndPanel(side, panel), Blocks(other)) => side == other && in_corner(plan, side, panel),
            _ => false,
        },
    },
    Rule {
        why: "neighbours, slides, drawers and doors close the way to the screws inside the corner box",
        holds: |plan, a, b| match (a, b) {
            (Blocks(side), Set(other, unit)) => side == other && corner_box(plan, side) != Some(unit),
            (Stiles, Set(side, unit)) => corner_box(plan, side) != Some(unit),
            (Blocks(_) | Stiles, Slides | Drawers | Shelves | Fronts) => true,
            _ => false,
        },
    },
    Rule {
        why: "all its units stand",
        holds: |_, a, b| match (a, b) {
            (Set(side, _), Join(other) | Check(other)) => side == other,
            _ => false,
        },
    },
    Rule {
        why: "joining can draw a unit out of line",
        holds: |_, a, b| matches!((a, b), (Join(side), Check(other)) if side == other),
    },
    Rule {
        why: "once it is screwed to the wall it stays as it is",
        holds: |_, a, b| matches!((a, b), (Check(side), Fix(other)) if side == other),
    },
    Rule {
        why: "a unit that is not fixed can tip when it is loaded or a drawer is drawn out",
        holds: |_, a, b| matches!((a, b), (Fix(_), Slides | Drawers | Shelves | Fronts | TopSupport)),
    },
    Rule {
        why: "it is fitted to where the units stand for good, and hides their shims",
        holds: |plan, a, b| match (a, b) {
            (Fix(_), Filler(_) | Kick(_) | ShelfFrames) => true,
            (Fix(side), EndPanel(other, panel)) => side == other && !in_corner(plan, side, panel),
            _ => false,
        },
    },
    Rule {
        why: "the face is screwed to its block",
        holds: |_, a, b| matches!((a, b), (Blocks(side), Filler(other)) if side == other),
    },
    Rule {
        why: "the kick covers are fixed to the block in the corner",
        holds: |_, a, b| matches!((a, b), (Blocks(_), Kick(_))),
    },
    Rule {
        why: "its end butts against the other's face",
        holds: |plan, a, b| match (a, b) {
            (Filler(first), Filler(next)) | (Kick(first), Kick(next)) => {
                plan.run_angle_deg() <= WIDEST_LAP_DEG && first == plan.corner.laps && next == first.other()
            }
            _ => false,
        },
    },
    Rule {
        why: "a panel that stands on the floor would trap the kick cover between two ends",
        holds: |plan, a, b| match (a, b) {
            (Kick(side), EndPanel(other, panel)) => side == other && !in_corner(plan, side, panel),
            _ => false,
        },
    },
    Rule { why: "drawers run in on their slides", holds: |_, a, b| matches!((a, b), (Slides, Drawers)) },
    Rule { why: "drawer fronts hang on their boxes", holds: |_, a, b| matches!((a, b), (Drawers, Fronts)) },
    Rule {
        why: "fronts are aligned to what stands beside them",
        holds: |_, a, b| matches!((a, b), (Filler(_) | EndPanel(..) | ShelfFrames, Fronts)),
    },
    Rule { why: "holes are bored where the fronts end up", holds: |_, a, b| matches!((a, b), (Fronts, Pulls)) },
    Rule {
        why: "the frame's stiles stand before the shelves' ends",
        holds: |_, a, b| matches!((a, b), (Shelves, ShelfFrames)),
    },
    Rule {
        why: "its screws are driven from behind, through the corner that the countertop closes",
        holds: |_, a, b| matches!((a, b), (Filler(_), TopSupport)),
    },
    Rule { why: "the countertop lies on the panel too", holds: |_, a, b| matches!((a, b), (EndPanel(..), TopSupport)) },
    Rule { why: "it lies on level, fixed units", holds: |_, a, b| matches!((a, b), (TopSupport, Top)) },
    Rule {
        why: "the baseboard is cut to what now stands there",
        holds: |_, a, b| matches!((a, b), (Kick(_) | EndPanel(..) | Fix(_), BaseboardBack)),
    },
    Rule {
        why: "sawing and knocks are over before the finish begins",
        holds: |_, a, b| {
            let work = matches!(
                a,
                Pulls
                    | Fronts
                    | Kick(_)
                    | Filler(_)
                    | EndPanel(..)
                    | BaseboardBack
                    | Shelves
                    | ShelfFrames
                    | TopSupport
                    | Top
                    | Fix(_)
            );
            work && matches!(b, TakeOff | Fill | SandBare)
        },
    },
    Rule {
        why: "fronts are finished lying flat, their edges too",
        holds: |_, a, b| matches!((a, b), (TakeOff, Fill | SandBare)),
    },
    Rule { why: "primer shows what was missed and hides it badly", holds: |_, a, b| matches!((a, b), (Fill, Prime)) },
    Rule { why: "primer raises the grain", holds: |_, a, b| matches!((a, b), (Prime, SandPrimer)) },
    Rule { why: "caulk holds to primer and not to dust", holds: |_, a, b| matches!((a, b), (SandPrimer, Caulk)) },
    Rule { why: "paint goes on a smooth, clean ground", holds: |_, a, b| matches!((a, b), (SandPrimer, FirstCoat)) },
    Rule { why: "paint covers the caulk", holds: |_, a, b| matches!((a, b), (Caulk, FirstCoat)) },
    Rule {
        why: "the second coat goes on the first, dry and sanded",
        holds: |_, a, b| matches!((a, b), (FirstCoat, SecondCoat)),
    },
    Rule {
        why: "stain and varnish show every scratch",
        holds: |_, a, b| matches!((a, b), (SandBare, Stain | FirstClear)),
    },
    Rule {
        why: "the clear coat seals the stain in, and nothing gets through it",
        holds: |_, a, b| matches!((a, b), (Stain, FirstClear)),
    },
    Rule {
        why: "the second clear coat goes on the first, dry and sanded",
        holds: |_, a, b| matches!((a, b), (FirstClear, SecondClear)),
    },
    Rule {
        why: "what is not hard yet sticks and marks",
        holds: |_, a, b| matches!((a, b), (SecondCoat | SecondClear, PutBack | Appliances)),
    },
    Rule { why: "appliances come into finished spaces", holds: |_, a, b| matches!((a, b), (PutBack, Appliances)) },
];

/// Whether unit `panel` of `side` is an end panel with nothing but end panels between it and the corner.
fn in_corner(plan: &Plan, side: Side, panel: usize) -> bool {
    plan.run(side).units.iter().take(panel + 1).all(|unit| unit.kind == UnitKind::EndPanel)
}

/// What `step` waits for among `steps`, by `rules`, in their order; the first reason where there are several.
pub(super) fn waits_for<'r>(
    plan: &Plan,
    rules: impl IntoIterator<Item = &'r Rule> + Clone,
    steps: &[StepId],
    step: StepId,
) -> Vec<After> {
    let reason = |before: StepId| {
        let rule = rules.clone().into_iter().find(|rule| (rule.holds)(plan, before, step))?;
        Some(After { step: before, why: rule.why })
    };
    steps.iter().filter_map(|&before| reason(before)).collect()
}

/// The steps in an order in which each comes after all that it waits for; of those that may come next, the first in the
/// list.
///
/// # Panics
/// If the rules go in a circle: a mistake in the table, never a plan's.
pub(super) fn sorted(waits: &[(StepId, Vec<After>)]) -> Vec<StepId> {
    let mut done: Vec<StepId> = Vec::with_capacity(waits.len());
    while done.len() < waits.len() {
        let ready = |after: &[After]| after.iter().all(|after| done.contains(&after.step));
        let next = waits.iter().find(|(step, after)| !done.contains(step) && ready(after)).map(|(step, _)| *step);
        assert!(next.is_some(), "the rules of the order of work go in a circle");
        done.extend(next);
    }
    done
}
