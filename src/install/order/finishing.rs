//! Finishing comes last, in the trade's order: everything off and numbered, filled, primed, sanded, caulked, two coats.
//!
//! Clear and stained finishes have their own schedule: no filler that shows, no primer, and no caulk at all. Times are
//! ranges; the tin goes before. Common practice, no source.

use super::caulk::{floor_stays, joints};
use super::faces::areas;
use super::job::Job;
use super::step::{Area, Caution, Check, Step, StepId};
use crate::model::Role;
use crate::plan::{Base, Finish};

/// Square metres that a litre of primer, paint or varnish covers once: 8 to 12, which is 325 to 490 square feet a US
/// gallon. Common practice, no source.
pub const SPREAD_M2_PER_LITRE: [f64; 2] = [8.0, 12.0];

/// Litres for one coat on these areas, least and most.
#[must_use]
pub fn litres(areas: &[Area]) -> [f64; 2] {
    let m2 = areas.iter().map(|area| area.mm2).sum::<f64>() / 1e6;
    let [poor, rich] = SPREAD_M2_PER_LITRE;
    [m2 / rich, m2 / poor]
}

/// These steps, in the order in which they are done where nothing else decides.
pub(super) fn steps(job: &Job<'_>) -> Vec<Step> {
    let all = areas(job.plan, job.model);
    let some =
        |wanted: fn(Finish) -> bool| -> Vec<Area> { all.iter().copied().filter(|area| wanted(area.finish)).collect() };
    let painted = some(|finish| matches!(finish, Finish::Painted(_)));
    let stained = some(|finish| matches!(finish, Finish::Stained(..)));
    let clear = some(|finish| !matches!(finish, Finish::Painted(_)));
    let mut steps = Vec::new();
    steps.extend(take_off(job));
    if !painted.is_empty() {
        steps.extend(paint(job, &painted));
    }
    if !clear.is_empty() {
        steps.extend(varnish(&clear, &stained));
    }
    steps.extend(put_back(job));
    steps.extend(appliances(job));
    steps
}

fn take_off(job: &Job<'_>) -> Option<Step> {
    if !job.has_openings() {
        return None;
    }
    let step = Step::new(StepId::TakeOff, "Take fronts, pulls and drawers off and number them")
        .how(["Pulls off the fronts, fronts off boxes and hinges, drawers off their slides; number each on a face that is hidden, and keep each one's screws with it."])
        .how_if(job.any(StepId::Shelves), "Loose shelves come out too.")
        .tools(["driver", "tape and pencil", "boxes for screws"])
        .cautions([Caution::Lifting]);
    Some(step)
}

fn with_areas(step: Step, areas: &[Area]) -> Step {
    Step { areas: areas.to_vec(), ..step }
}

/// The schedule of paint.
fn paint(job: &Job<'_>, areas: &[Area]) -> Vec<Step> {
    let fill = Step::new(StepId::Fill, "Fill and sand what is painted")
        .how(["Fill nail and screw holes and raw edges a little proud; when hard sand flush, then all faces with 150 to 180 grit along the grain, edges just broken. Vacuum, wipe."])
        .tools(["filler and knife", "sanding block or sander with extraction", "vacuum"])
        .cautions([Caution::Dust, Caution::Vapours])
        .drying("filler, before it is sanded", 0.5, 4.0);
    let prime = Step::new(StepId::Prime, "Prime bare wood and edges")
        .how(["All bare wood, raw edges twice: they drink. Knots and bleeding wood get a stain-blocking primer."])
        .tools(["brush", "small roller"])
        .cautions([Caution::Vapours])
        .drying("primer, before it is sanded", 1.0, 16.0);
    let sand = Step::new(StepId::SandPrimer, "Sand the primer")
        .how(["220 grit, lightly, until it is smooth; fill what shows now and touch it in with primer. Vacuum, wipe."])
        .tools(["sanding block", "vacuum", "tack cloth"])
        .cautions([Caution::Dust]);
    let first = Step::new(StepId::FirstCoat, "First coat")
        .how(["Thin and even: edges first, then faces; fronts lying flat, the back before the face."])
        .tools(["brush", "small roller", "stands"])
        .cautions([Caution::Vapours])
        .drying("first coat, before the next", 4.0, 16.0);
    let second = Step::new(StepId::SecondCoat, "Second coat")
        .how(["Sand the first with 220 to 320 grit, wipe, and paint again. Where it does not cover yet, a third."])
        .tools(["sanding block", "brush", "small roller", "stands"])
        .cautions([Caution::Vapours, Caution::Dust])
        .drying("second coat, before it is handled", 16.0, 48.0)
        .drying("paint, until it is hard and may be knocked", 168.0, 720.0);
    let mut steps = vec![with_areas(fill, areas), with_areas(prime, areas), with_areas(sand, areas)];
    steps.extend(caulk(job));
    steps.extend([with_areas(first, areas), with_areas(second, areas)]);
    steps
}

fn caulk(job: &Job<'_>) -> Option<Step> {
    let joints = joints(job.plan, job.model);
    if joints.is_empty() {
        return None;
    }
    let has_kick = job.count(Role::KickCover) > 0;
    let clipped = job.plan.construction.base == Base::Legs;
    let step = Step::new(StepId::Caulk, "Caulk the fixed joints of painted work")
        .how(["Paintable acrylic caulk, a thin bead pressed in and wiped, in the joints listed here and no others."])
        .how_if(job.has_openings(), "Never the gaps of fronts, nor anything that opens or comes off.")
        .how_if(has_kick && clipped, "Never the kick covers: they are clipped on and come off.")
        .how_if(
            has_kick && !clipped && !floor_stays(job.plan.finishes.floor),
            "Never the kick cover to the floor: boards move, and may float.",
        )
        .tools(["caulking gun", "damp cloth"])
        .cautions([Caution::Vapours])
        .drying("caulk, before it is painted", 0.5, 4.0)
        .drying("caulk, until it is cured", 24.0, 72.0);
    Some(Step { caulk: joints, ..step })
}

/// The schedule of stain and clear coats.
fn varnish(areas: &[Area], stained: &[Area]) -> Vec<Step> {
    let sand = Step::new(StepId::SandBare, "Sand what gets a clear or stained finish")
        .how(["Holes get wax or filler of the wood's colour after the first coat, not before; no caulk anywhere on it. Sand along the grain, 120, 150, then 180 to 220 grit; vacuum, wipe, look across the light."])
        .tools(["sanding block or sander with extraction", "vacuum", "lamp"])
        .cautions([Caution::Dust]);
    let mut steps = vec![with_areas(sand, areas)];
    if !stained.is_empty() {
        let stain = Step::new(StepId::Stain, "Stain")
            .how(["Try it on an offcut of the same board first, with the clear coat over it. Flood, wait, wipe off along the grain, whole pieces at a time."])
            .tools(["brush or cloth", "offcuts"])
            .cautions([Caution::Vapours, Caution::OilyRags])
            .drying("stain, before it is coated", 2.0, 24.0);
        steps.push(with_areas(stain, stained));
    }
    let first = Step::new(StepId::FirstClear, "First clear coat")
        .how(["Thin, along the grain, backs and edges too, so that the wood stays flat."])
        .tools(["brush or pad", "stands"])
        .cautions([Caution::Vapours, Caution::OilyRags])
        .drying("clear coat, before the next", 2.0, 24.0);
    let second = Step::new(StepId::SecondClear, "Second clear coat")
        .how(["Sand the first lightly with 240 to 320 grit, wipe, and coat again; a third where water comes."])
        .tools(["sanding block", "brush or pad", "stands"])
        .cautions([Caution::Vapours, Caution::OilyRags, Caution::Dust])
        .drying("clear coat, before it is handled", 8.0, 48.0)
        .drying("clear coat, until it is hard", 168.0, 720.0);
    steps.extend([with_areas(first, areas), with_areas(second, areas)]);
    steps
}

fn put_back(job: &Job<'_>) -> Option<Step> {
    if !job.has_openings() {
        return None;
    }
    let step = Step::new(StepId::PutBack, "Put drawers, fronts and pulls back by their numbers")
        .how(["Drawers on their slides, fronts on boxes and hinges, pulls on fronts; align once more, then open everything past everything."])
        .tools(["driver", "packers"])
        .cautions([Caution::TipOver])
        .check(Check {
            what: "every drawer and door opens its whole way and keeps clear of the other run".to_owned(),
            size: None,
            within: None,
            source: "the clearance report",
        });
    Some(step)
}

fn appliances(job: &Job<'_>) -> Option<Step> {
    if !job.any(StepId::Appliances) {
        return None;
    }
    let step = Step::new(StepId::Appliances, "Slide the appliances in")
        .how(["Set their feet to the floor, connect, slide in, and fix them as their maker says. Water, gas and mains are connected by those who are licensed for it."])
        .tools(["level", "sheet to slide on"])
        .cautions([Caution::Lifting, Caution::Pipes, Caution::Wires, Caution::TipOver]);
    Some(job.lifted_singly(step))
}
