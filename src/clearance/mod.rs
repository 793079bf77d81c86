//! Does it open? How far each drawer and door comes out, what it meets first, and the least fillers that let it pass.
//!
//! [`answer`] takes a [`Plan`] and gives an [`Answer`]: the fillers resolved, the model built with them, an opening for
//! every drawer and door, and every finding. Lengths in the answer are unrounded unless a field says otherwise.
//!
//! Each moving part is judged alone, everything else shut; what stands behind a door, with that door open.

mod advice;
mod apart;
mod behind;
mod far_end;
mod filler;
mod free;
mod hull;
pub mod map;
mod meeting;
mod pairs;
mod passage;
mod projection;
mod reach;
mod rules;
mod search;
mod stairs;
mod sweep;
mod swing;
mod together;
pub mod tolerance;
mod travel;
#[cfg(test)]
mod zero;

pub use advice::Advice;
pub use apart::{gap_now, nearest_points};
pub use behind::Need;
pub use far_end::FarEndNeed;
pub use free::{FreeTravel, free_travel, overlaps_now};
pub(crate) use hull::TurnedHull;
pub use meeting::{Meeting, meetings};
pub use passage::OpenPassage;
pub use sweep::drawn_in;
pub use together::{BadFillers, Cleared, FillerMap, FillerPair};

use crate::length::Length;
use crate::model::{Fillers, Model, MoverId, PartId, Vec3};
use crate::plan::{CabinetUnit, Filler, Hinges, Plan, RunAngle, Side, UnitKind};
use filler::{ANY_STEP, Scope, Solver, nearest};
use pairs::Scene;
use reach::Standing;

/// Everything the clearance check found out about a plan.
#[derive(Clone, Debug)]
pub struct Answer {
    /// The model, built with the resolved fillers.
    pub model: Model,
    /// The left side, then the right.
    pub sides: [SideAnswer; 2],
    /// One for each of the model's moving parts, in their order.
    pub openings: Vec<Opening>,
    /// What is wrong, worst first; empty when all is clear.
    pub findings: Vec<Finding>,
    /// What is not wrong, and had better be otherwise.
    pub advice: Vec<Advice>,
    /// What was taken for granted, one sentence each.
    pub assumes: Vec<String>,
}

impl Answer {
    /// Whether everything opens and fits.
    #[must_use]
    pub fn is_clear(&self) -> bool {
        self.findings.is_empty()
    }

    /// The answer for `side`.
    #[must_use]
    pub fn side(&self, side: Side) -> &SideAnswer {
        match side {
            Side::Left => &self.sides[0],
            Side::Right => &self.sides[1],
        }
    }

    /// The widths the model was built with.
    #[must_use]
    pub fn fillers(&self) -> Fillers {
        self.model.fillers
    }
}

/// What one side's filler is and could be, the other side being as it is.
#[derive(Clone, Debug)]
pub struct SideAnswer {
    /// Which side.
    pub side: Side,
    /// What the plan asked for.
    pub asked: Filler,
    /// The width in the model.
    pub present: Length,
    /// The least width, unrounded, at which everything that opens on this run passes: a filler answers for what opens
    /// on its own run. `None` where no width does.
    pub least: Option<Length>,
    /// The least whole number of shop steps that does the same.
    pub least_on_step: Option<Length>,
    /// Every width of this filler with which nothing at all is in conflict, on either run, and the runs fit; in order.
    /// Empty where no width of this filler alone clears everything, because the other one is too narrow.
    pub good: Vec<GoodRange>,
    /// What decides the least width; `None` where no filler is needed at all.
    pub decided_by: Option<Contact>,
    /// How far a pull on this run may stand out before the present fillers are too narrow for it; `None` where no
    /// pull of this run is in reach.
    pub largest_projection: Option<Length>,
    /// What the run leaves of its wall, negative where it is too long.
    pub left_over: Length,
    /// What must be left between the last unit and an end wall or casing; `None` where nothing need be.
    pub far_end: Option<FarEndNeed>,
}

impl SideAnswer {
    /// Present width less the least: negative where it is too narrow.
    #[must_use]
    pub fn spare(&self) -> Option<Length> {
        self.least.map(|least| self.present - least)
    }
}

/// Filler widths that pass: from one up to another, both included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GoodRange {
    /// The narrowest.
    pub from: Length,
    /// The widest; `None` where there is no limit.
    pub to: Option<Length>,
}

/// How two parts come closest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// The drawer or door that moves.
    pub mover: MoverId,
    /// Which of its parts.
    pub part: PartId,
    /// What it meets.
    pub other: PartId,
    /// How far it is open there: mm or radians.
    pub out: f64,
    /// How far the other, shut, stands ajar there, mm.
    pub other_out: f64,
    /// The space between them; 0 where they touch or overlap.
    pub gap: Length,
    /// The closest points, on `part` and on `other`, in the room frame, mm.
    pub points: [Vec3; 2],
}

/// How one drawer or door opens.
#[derive(Clone, Debug)]
pub struct Opening {
    /// Which.
    pub mover: MoverId,
    /// Its whole travel: mm or radians.
    pub full: f64,
    /// How far it goes before it touches anything.
    pub to_touch: f64,
    /// How far it goes before it comes nearer to anything than is wanted.
    pub to_wanted: f64,
    /// What it touches first, where it cannot open fully.
    pub touches_first: Option<Contact>,
    /// Where it comes closest to anything that it must keep clear of, over its whole travel.
    pub least_gap: Option<Contact>,
    /// The angle, in radians, at which a door needs a stop: the largest at which it keeps the clearance wanted, where
    /// that is less than it opens to. `None` where it needs none, and where no stop helps.
    pub stop: Option<f64>,
    /// What must be open before it moves.
    pub needs: Vec<Need>,
}

impl Opening {
    /// Whether it opens fully with the clearance wanted.
    #[must_use]
    pub fn is_clear(&self) -> bool {
        self.to_wanted >= self.full
    }
}

/// One thing that is wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// What kind.
    pub kind: FindingKind,
    /// The first part it is about.
    pub part: PartId,
    /// The other part.
    pub other: PartId,
    /// The drawer or door that moves, where one does.
    pub mover: Option<MoverId>,
    /// How far it is open where the two come closest: mm or radians.
    pub out: f64,
    /// The space between them there.
    pub gap: Length,
    /// The space that must be there; 0 where they merely must not overlap.
    pub wanted: Length,
    /// The closest points, on `part` and on `other`.
    pub points: [Vec3; 2],
}

/// What kind of thing is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FindingKind {
    /// A moving part hits another.
    Hits,
    /// A moving part comes nearer than is wanted.
    TooNear,
    /// Two fixed parts are in the same place.
    Overlaps,
    /// A run is longer than its wall.
    RunTooLong,
}

/// The filler widths the solver's own model is built with: wide enough that every part of the corner exists. Nothing
/// depends on it, since pieces are carried from there.
const SOLVER_WIDTH: f64 = 400.0;

/// Finds out everything about `plan`: resolves its fillers, builds it, opens everything.
#[must_use]
pub fn answer(plan: &Plan) -> Answer {
    let model = solver_model(plan);
    let scene = Scene::new(&model);
    let solver = Solver::new(&scene);
    let fillers = resolve(plan, &solver);
    let sides = Side::BOTH.map(|side| side_answer(plan, &solver, &scene, side, fillers));
    let built = Model::build(plan, fillers);
    let [mut left, mut right] = sides;
    let (openings, findings) = {
        let scene = Scene::new(&built);
        let standing = Standing::new(&scene);
        for side in [&mut left, &mut right] {
            side.largest_projection = standing.largest_projection(side.side);
            side.left_over = Length::mm(built.run(side.side).left_over);
            side.far_end = far_end::far_end(&scene, side.side);
        }
        standing.openings()
    };
    let advice = advice::advice(plan, &built, &openings);
    Answer { model: built, sides: [left, right], openings, findings, advice, assumes: assumptions(plan) }
}

/// [`answer`], but opened in `model`: the plan's own, set in the measured room with the fillers it has.
///
/// What could be narrower or wider is still told for the runs as drawn; openings, findings and what is left of the walls
/// are the measured room's.
#[must_use]
pub fn answer_in(plan: &Plan, model: Model) -> Answer {
    let drawn = answer(plan);
    let mut sides = drawn.sides;
    let (openings, findings) = {
        let scene = Scene::new(&model);
        let standing = Standing::new(&scene);
        for side in &mut sides {
            side.largest_projection = standing.largest_projection(side.side);
            side.left_over = Length::mm(model.run(side.side).left_over);
            side.far_end = far_end::far_end(&scene, side.side);
        }
        standing.openings()
    };
    let advice = advice::advice(plan, &model, &openings);
    let assumes = drawn.assumes.into_iter().map(|line| {
        if line == STRAIGHT {
            "Units are true; walls are as they were measured, straight or curved between.".to_owned()
        } else {
            line
        }
    });
    Answer { model, sides, openings, findings, advice, assumes: assumes.collect() }
}

/// The widths that the plan's fillers come to.
#[must_use]
pub fn least_fillers(plan: &Plan) -> Fillers {
    solve(plan, &solver_model(plan))
}

/// The model the solver moves about: the plan's, with fillers wide enough that every part of the corner exists.
#[must_use]
pub fn solver_model(plan: &Plan) -> Model {
    let wide = Length::mm(SOLVER_WIDTH);
    Model::build_filled(plan, Fillers { left: wide, right: wide })
}

/// [`least_fillers`], with the [`solver_model`] of the plan at hand.
#[must_use]
pub fn solve(plan: &Plan, model: &Model) -> Fillers {
    let scene = Scene::new(model);
    resolve(plan, &Solver::new(&scene))
}

/// A wider piece in the corner is no filler: where something in the room asks for that much more than the other run does,
/// the filler is not widened for it, and the findings tell. Our own choice, mm.
const MOST_FOR_THE_ROOM: f64 = 300.0;

/// Resolves `Least`.
///
/// Both sides asked for: the least pair that clears everything. One side: the least that clears what opens on its own
/// run. Where that leaves the other run in conflict, since the other filler is fixed too narrow, this one is widened on
/// its behalf only if that costs no more than widening the other would.
///
/// What no sensible width cures (a run too long for its wall, an obstacle before a unit further along) is left to the
/// findings, and the least past the other run alone is taken.
fn resolve(plan: &Plan, solver: &Solver<'_, '_>) -> Fillers {
    let step = plan.clearance.shop_step;
    let least = |side: Side, held: f64, scope: Scope, range: [f64; 2]| {
        solver.least_step(side, held, scope, step.to_mm(), range)
    };
    let for_the_room = MOST_FOR_THE_ROOM / step.to_mm();
    let own = |side: Side, held: f64| {
        let past_the_run = least(side, held, Scope::Corner, ANY_STEP).unwrap_or(0.0);
        least(side, held, Scope::Own, [past_the_run, past_the_run + for_the_room]).unwrap_or(past_the_run)
    };
    let one = |side: Side, held: Length| {
        let held = held.to_mm();
        let own_steps = own(side, held);
        let short = (own(side.other(), own_steps * step.to_mm()) - held / step.to_mm()).max(0.0);
        step * least(side, held, Scope::All, [own_steps, own_steps + short]).unwrap_or(own_steps)
    };
    match (plan.corner.left, plan.corner.right) {
        (Filler::Fixed(left), Filler::Fixed(right)) => Fillers { left, right },
        (Filler::Least, Filler::Fixed(right)) => Fillers { left: one(Side::Left, right), right },
        (Filler::Fixed(left), Filler::Least) => Fillers { left, right: one(Side::Right, left) },
        (Filler::Least, Filler::Least) => {
            let (_, [left, right]) = least_of_both(solver, step.to_mm());
            Fillers { left: step * left, right: step * right }
        }
    }
}

/// The least pair of whole steps, and what it clears: everything, or all that opens, or only what opens past the runs,
/// where no sensible width does more.
fn least_of_both(solver: &Solver<'_, '_>, step: f64) -> (Scope, [f64; 2]) {
    let pair = |scope| solver.least_pair(step, scope, [1.0; 2]);
    let past_the_runs = pair(Scope::Corner).unwrap_or([0.0; 2]);
    let most = past_the_runs[0] + past_the_runs[1] + MOST_FOR_THE_ROOM / step;
    let sensible = |found: &[f64; 2]| found[0] + found[1] <= most;
    let found = |scope| pair(scope).filter(sensible).map(|found| (scope, found));
    found(Scope::All).or_else(|| found(Scope::Opening)).unwrap_or((Scope::Corner, past_the_runs))
}

fn side_answer(plan: &Plan, solver: &Solver<'_, '_>, scene: &Scene<'_>, side: Side, fillers: Fillers) -> SideAnswer {
    let held = fillers.of(side.other()).to_mm();
    let step = plan.clearance.shop_step;
    let found = solver.least_from(side, held, Scope::Own, 0.0);
    let least = found.map(|(least, _)| least);
    let decided_by = found.and_then(|(least, pair)| {
        let pair = pair?;
        let at = if side == Side::Left { [least, held] } else { [held, least] };
        let (out, found) = nearest(scene, &pair, at, f64::INFINITY)?;
        let [part, other] = scene.parts(&pair);
        let mover = pair.moving?.0;
        let other_out = scene.pieces[pair.other].ajar.length();
        Some(Contact { mover, part, other, out, other_out, gap: Length::mm(found.distance), points: found.points })
    });
    SideAnswer {
        side,
        asked: plan.corner.filler(side),
        present: fillers.of(side),
        least: least.map(Length::mm),
        least_on_step: solver.least_step(side, held, Scope::Own, step.to_mm(), ANY_STEP).map(|steps| step * steps),
        good: solver
            .widths(side, held, Scope::All)
            .good()
            .into_iter()
            .map(|(from, to)| GoodRange { from: Length::mm(from), to: to.map(Length::mm) })
            .collect(),
        decided_by,
        largest_projection: None,
        left_over: Length::ZERO,
        far_end: None,
    }
}

/// What the check takes for granted of rooms that it was not given as measured.
const STRAIGHT: &str = "Units are true, walls are straight and floors are level; fronts stand as the plan says.";

/// What the check takes for granted about `plan`.
fn assumptions(plan: &Plan) -> Vec<String> {
    let mut list = vec!["Each drawer and door is opened alone, everything else shut.".to_owned(), STRAIGHT.to_owned()];
    if !plan.room.angle_measured {
        list.push("The room angle was not measured: 90° is taken.".to_owned());
    }
    // An angle from lengths has more digits than anyone measured.
    let angle = (plan.run_angle_deg() * 1e3).round() / 1e3;
    match plan.run_angle {
        RunAngle::Square => list.push("The runs are set square to each other, whatever the walls do.".to_owned()),
        RunAngle::AlongWalls => list.push(format!("The runs stand along the walls, at {angle}°.")),
        RunAngle::Degrees(_) => list.push(format!("The runs are set at {angle}°, as the plan says.")),
    }
    let any = |of: fn(&CabinetUnit) -> bool| Side::BOTH.iter().any(|&side| plan.run(side).units.iter().any(of));
    if any(|unit| matches!(&unit.kind, UnitKind::ApplianceSpace(appliance) if appliance.door.is_none())) {
        list.push(
            "Appliances stand shut: their own doors and racks are not opened here. Check that they open too."
                .to_owned(),
        );
    }
    if any(|unit| matches!(&unit.kind, UnitKind::ApplianceSpace(appliance) if appliance.door.is_some())) {
        list.push(
            "An appliance's door turns about the edge of its outer face; its racks are not drawn out here. \
             Check both against its own sheet."
                .to_owned(),
        );
    }
    list.extend(hinges_assumed(plan));
    list.push("Slides and hinges are not drawn: a drawer box keeps the space that its slides ask for.".to_owned());
    if plan.clearance.ajar > Length::ZERO {
        let ajar = plan.clearance.ajar.show(plan.unit);
        list.push(format!("Shut fronts of the other run may stand out by {ajar}."));
    }
    list
}

/// How the plan's doors are taken to turn, one sentence for each kind of hinges.
fn hinges_assumed(plan: &Plan) -> Vec<String> {
    let units = Side::BOTH.into_iter().flat_map(|side| &plan.run(side).units);
    let mut told: Vec<String> = Vec::new();
    for unit in units {
        let (UnitKind::Door(door) | UnitKind::DrawerOverDoor(_, door)) = &unit.kind else { continue };
        let line = match door.hinges {
            Hinges::FaceEdge => "Doors without hinges of their own turn about the edge of their outer face.".to_owned(),
            Hinges::Concealed { .. } => format!(
                "Concealed hinges are taken as one pin that takes the door's edge {} beyond where it is shut, as their \
                 sheet says; their arms are not drawn. Check the sheet for the thickness of the door.",
                door.hinges.pin(&plan.construction).least_reveal().show(plan.unit)
            ),
            Hinges::Butt { .. } => "Butt hinges turn about the pin's middle; their knuckles are not drawn.".to_owned(),
            Hinges::Knife { .. } => "Knife hinges turn about their pins; their leaves are not drawn.".to_owned(),
        };
        if !told.contains(&line) {
            told.push(line);
        }
    }
    told
}
