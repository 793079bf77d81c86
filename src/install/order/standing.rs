//! The units stand: corner first, outward on both runs, joined, true, and fixed to the studs.

use super::job::{Job, short_of_face, with_bite};
use super::measure::{box_checks, corner_checks, filler_check, flush_check, level_check};
use super::place::{carcasses, corner_box};
use super::step::{Caution, Fastener, Step, StepId};
use crate::length::{Length, SNAP_MM};
use crate::model::{Model, Role};
use crate::plan::{BaseboardTreatment, FarEnd, Plan, Side, Studs, WallMade};

/// Studs are usually 16 in apart.
const STUDS_APART: f64 = 406.4;

/// These steps, in the order in which they are done where nothing else decides.
pub(super) fn steps(job: &Job<'_>) -> Vec<Step> {
    let mut steps = Vec::new();
    let corner: Vec<_> = Side::BOTH.iter().filter_map(|&side| Some((side, corner_box(job.plan, side)?))).collect();
    steps.extend(corner.iter().map(|&(side, unit)| set(job, side, unit)));
    if !corner.is_empty() {
        steps.push(square(job));
    }
    steps.extend(Side::BOTH.into_iter().filter_map(|side| blocks(job, side)));
    steps.extend(stiles(job));
    for side in Side::BOTH {
        let outward = carcasses(job.plan, side).into_iter().filter(|&unit| corner_box(job.plan, side) != Some(unit));
        steps.extend(outward.map(|unit| set(job, side, unit)));
    }
    for side in Side::BOTH {
        if carcasses(job.plan, side).is_empty() {
            continue;
        }
        steps.extend(join(job, side));
        steps.push(check(job, side));
        steps.push(fix(job, side));
    }
    steps
}

fn name(plan: &Plan, side: Side, unit: usize) -> String {
    let name = plan.run(side).units.get(unit).map_or("", |unit| unit.name.as_str());
    format!("{} {} {name}", side.word(), unit + 1)
}

fn set(job: &Job<'_>, side: Side, unit: usize) -> Step {
    let at_corner = corner_box(job.plan, side) == Some(unit);
    let panel_before = unit.checked_sub(1).and_then(|k| job.plan.run(side).units.get(k)).map(|unit| &unit.kind);
    let spacer = panel_before == Some(&crate::plan::UnitKind::EndPanel);
    let tall = job.plan.run(side).units.get(unit).is_some_and(|unit| job.plan.is_tall(unit));
    let place = if at_corner { "in the corner" } else { "beside the one before" };
    let step = Step::new(StepId::Set(side, unit), format!("Set and shim {} {place}", name(job.plan, side, unit)))
        .how(["Stand it on its plumb lines and shim it level, plumb and out of twist: under it, and behind both nailers at each stud, until it touches without a push."])
        .how_if(tall, "It stands higher than the run and tips sooner: two people raise it, and one screw through its top nailer into a stud holds it, not yet tight, until the run is fixed.")
        .how_if(spacer && !at_corner, "Keep the end panel's place beside it with an offcut of the same stock.")
        .how_if(at_corner && spacer, "The end panel toward the corner is screwed to it next: leave its room.")
        .fastener(Fastener { what: "shim, pair", count: 4, least: None, most: None, note: "two under it, two behind its nailers, and one more at each stud" })
        .tools(["level", "shims", "clamps", "hammer and block"])
        .cautions([Caution::Lifting, Caution::TipOver])
        .caution_if(tall, Caution::TallUnit);
    // That first screw meets what is in the wall.
    let step = if tall { step.cautions([Caution::Studs, Caution::Wires, Caution::Pipes, Caution::Eyes]) } else { step };
    let step = if at_corner { step.check(filler_check(job.model, side)) } else { step };
    let step =
        Step { checks: step.checks.into_iter().chain(box_checks(job.plan, job.model, side, unit)).collect(), ..step };
    job.lifted_together(step)
}

fn square(job: &Job<'_>) -> Step {
    let step = Step::new(StepId::Corner, "Square the corner")
        .how([
            "Move the corner boxes until both fillers and the distances between the boxes are right: then the angle is.",
            "Clamp a straight board across both fronts; it holds them while the blocks are screwed.",
        ])
        .tools(["tape", "two clamps and a straight board", "level"])
        .cautions([Caution::TipOver]);
    Step { checks: corner_checks(job.plan, job.model), ..step }
}

fn blocks(job: &Job<'_>, side: Side) -> Option<Step> {
    let id = StepId::Blocks(side);
    if !job.any(id) {
        return None;
    }
    let blocks = job.parts(id).into_iter().filter(|part| part.role == Role::BackingBlock).count();
    let kick = job.parts(id).iter().any(|part| part.role == Role::KickBlock);
    let nothing_to_hold = corner_box(job.plan, side).is_none();
    let step = Step::new(id, format!("Screw the {} corner blocks in place", side.word()))
        .how_if(blocks > 0, "Clamp the backing block plumb to the corner side of the run's first unit, back from the front plane by the face's thickness, and screw it from inside the corner box, before slides and drawers are in the way.")
        .how_if(nothing_to_hold, "No box of this run stands at the corner: screw the block to a cleat on floor and wall, and to the other run's block.")
        .how_if(kick, "Screw the corner kick block to the floor behind where the two kick covers will meet.")
        .fastener(Fastener {
            what: "screw, backing block to unit",
            count: 4 * blocks,
            least: None,
            most: with_bite(job.plan.construction.panel),
            note: "four a block, through the unit's side",
        })
        .fastener(Fastener {
            what: "screw, kick block to floor",
            count: if kick { 2 } else { 0 },
            least: None,
            most: None,
            note: "two, on the slant; none into a floor with heating in it, and none through a floating floor: glue it to a cleat on the base instead",
        })
        .tools(["clamps", "drill", "short or right-angle driver"])
        .cautions([Caution::Eyes, Caution::TipOver, Caution::Pipes]);
    Some(job.lifted_singly(step))
}

fn stiles(job: &Job<'_>) -> Option<Step> {
    let corner = |part: &crate::model::Part| part.role == Role::FrameStile && part.unit.is_none();
    let stiles = job.model.parts.iter().filter(|part| corner(part)).count();
    if stiles < 2 {
        return None;
    }
    let step = Step::new(StepId::Stiles, "Draw the two corner stiles together")
        .how(["Bore from inside one corner box, glue the joint, clamp it flush, and screw it from inside, before slides and drawers are in the way."])
        .fastener(Fastener { what: "screw, corner stile to corner stile", count: 4, least: None, most: None, note: "four, short of the face" })
        .tools(["clamps", "drill", "short or right-angle driver", "glue"])
        .cautions([Caution::Eyes, Caution::TipOver, Caution::Vapours])
        .check(level_check(job.plan, "the two stiles closed from top to bottom"))
        .drying("wood glue, before the clamps come off", 0.5, 1.0)
        .drying("wood glue, before it is loaded", 12.0, 24.0);
    Some(step)
}

fn join(job: &Job<'_>, side: Side) -> Option<Step> {
    let pairs = job.neighbours(side);
    if pairs == 0 {
        return None;
    }
    let step = Step::new(StepId::Join(side), format!("Clamp and join the {} run", side.word()))
        .how(["From the corner outwards clamp each two neighbours flush at the front, top and bottom, bore, and screw them together near the front and the back, where hinge plates and slides will cover the screws."])
        .fastener(Fastener {
            what: "screw, unit to unit",
            count: 4 * pairs,
            least: None,
            most: short_of_face(job.through_neighbours()),
            note: "four where two units meet, clamped flush first",
        })
        .tools(["clamps with soft jaws", "drill", "driver", "straightedge"])
        .cautions([Caution::Eyes, Caution::TipOver])
        .check(flush_check(job.plan, side));
    Some(step)
}

fn check(job: &Job<'_>, side: Side) -> Step {
    let boxes = carcasses(job.plan, side).into_iter().flat_map(|unit| box_checks(job.plan, job.model, side, unit));
    let step = Step::new(StepId::Check(side), format!("Check the {} run: square, level, flush", side.word()))
        .how(["Measure every diagonal again after joining, lay the long level along the tops and across, sight along the fronts. Put right now what is off: after the next step it stays."])
        .tools(["tape", "long level", "straightedge", "string"])
        .cautions([Caution::TipOver]);
    let step = Step { checks: boxes.collect(), ..step };
    let tops = if job.stands_tall(side) {
        "the tops of all units under the countertop in one level plane"
    } else {
        "the tops of all units in one level plane"
    };
    let step = step.check(level_check(job.plan, tops)).check(flush_check(job.plan, side));
    Step { checks: step.checks.into_iter().chain(corner_checks(job.plan, job.model)).collect(), ..step }
}

fn fix(job: &Job<'_>, side: Side) -> Step {
    let (plan, c) = (job.plan, &job.plan.construction);
    let through = c.panel + c.back;
    let (what, least, note) = match plan.room.survey.wall(side).made_of {
        WallMade::Framed { board, .. } => (
            "screw, nailer to stud",
            Some(through + board + plan.fixing.bite),
            "one through each nailer at each stud: nailer, back, wall board and bite, and the gap at that stud on top; deeper may meet a wire",
        ),
        WallMade::Masonry => (
            "screw and plug, nailer to masonry",
            Some(through),
            "two through each nailer of a unit: nailer and back, and on top the gap there and what the plug's maker asks",
        ),
    };
    let places: usize =
        carcasses(plan, side).into_iter().map(|unit| studs_behind(plan, job.model, side, unit).max(1)).sum();
    let unknown = plan.room.survey.wall(side).studs == Studs::Unknown;
    Step::new(StepId::Fix(side), format!("Fix the {} run to the studs", side.word()))
        .how(["Bore through nailer, back and shims at each stud, and drive the screws until the head lies flush and no farther: the gap is the shim's to fill, not the screw's to close.",
            "Trim the shims when all is checked once more. Nothing is loaded before this."])
        .how_if(job.stands_tall(side), "What stands higher than the run is screwed through its top nailer at two places at least: those screws are its anchor for good.")
        .caution_if(job.stands_tall(side), Caution::TallUnit)
        .how_if(unknown, "Where the studs are is not in the plan: the count takes them 16 in, 406 mm, apart.")
        .how_if(true, "A unit with no stud behind it is screwed to blocking between the studs, or with a fixing made for that wall and rated for the load.")
        .fastener(Fastener { what, count: 2 * places, least, most: None, note })
        .tools(["drill", "driver", "level", "knife or fine saw for the shims"])
        .cautions([Caution::Studs, Caution::Wires, Caution::Pipes, Caution::TipOver, Caution::OldPaint, Caution::Eyes, Caution::Dust, Caution::Blades])
        .check(level_check(job.plan, "level, plumb and flush as before: nothing has moved"))
}

/// How many studs lie behind a unit, by the survey, or one every 16 in where it does not say.
fn studs_behind(plan: &Plan, model: &Model, side: Side, unit: usize) -> usize {
    let run = model.run(side);
    let before: Length = plan.run(side).units.iter().take(unit).map(|unit| unit.width).sum();
    let width = plan.run(side).units.get(unit).map_or(0.0, |unit| unit.width.to_mm());
    let near = run.starts_at + before.to_mm();
    // Along the wall from the room's corner, which lies where the run's far end and what is left past it say.
    let end_board = plan
        .room
        .baseboard
        .filter(|board| board.treatment == BaseboardTreatment::Left && plan.run(side).ends_at == FarEnd::Wall);
    let end_board = end_board.map_or(0.0, |board| board.thickness.to_mm());
    let corner = run.ends_at + run.left_over + end_board - run.wall_length;
    let [near, far] = [near - corner, near + width - corner];
    let (within, spaced) = (
        |at: f64| at >= near - SNAP_MM && at <= far + SNAP_MM,
        |one: f64, apart: f64| {
            // Whole steps from the first stud up to each end.
            let steps = ((far - one) / apart).floor() - ((near - one) / apart).ceil() + 1.0;
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a wall has few studs")]
            let count = steps.max(0.0) as usize;
            count
        },
    );
    match &plan.room.survey.wall(side).studs {
        Studs::At(places) => places.iter().filter(|at| within(at.to_mm())).count(),
        Studs::Spaced { one_at, spacing } if spacing.to_mm() > SNAP_MM => spaced(one_at.to_mm(), spacing.to_mm()),
        Studs::Spaced { .. } | Studs::Unknown => {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a wall has few studs")]
            let count = (width / STUDS_APART).floor() as usize;
            count
        }
    }
}
