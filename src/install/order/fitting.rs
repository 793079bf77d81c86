//! What is fitted to units that stand: faces, covers, panels, slides, shelves, drawers, fronts, pulls, and the countertop.

use super::job::{Job, short_of_face, with_bite};
use super::measure::{CLOSE, PRACTICE, level_check};
use super::step::{Caution, Check, Fastener, Step, StepId};
use crate::length::Length;
use crate::model::{Motion, Mover, Part, Role, hung_on, hung_on_note};
use crate::plan::{Base, BaseboardTreatment, Fronts, Mount, PullShape, Side, UnitKind};

/// How far a bolt goes into its pull: 6 mm, 1/4 in. Common practice, no source.
const INTO_PULL: f64 = 6.35;

/// These steps, in the order in which they are done where nothing else decides.
pub(super) fn steps(job: &Job<'_>) -> Vec<Step> {
    let mut steps = Vec::new();
    steps.extend(Side::BOTH.into_iter().filter_map(|side| filler(job, side)));
    steps.extend(Side::BOTH.into_iter().filter_map(|side| kick(job, side)));
    for side in Side::BOTH {
        let panels = job.plan.run(side).units.iter().enumerate();
        let panels = panels.filter(|(_, unit)| unit.kind == UnitKind::EndPanel);
        steps.extend(panels.map(|(index, _)| end_panel(job, side, index)));
    }
    steps.extend(baseboard_back(job));
    steps.extend(slides(job));
    steps.extend(shelves(job));
    steps.extend(shelf_frames(job));
    steps.extend(drawers(job));
    steps.extend(fronts(job));
    steps.extend(pulls(job));
    steps.extend(top(job));
    steps
}

fn filler(job: &Job<'_>, side: Side) -> Option<Step> {
    let id = StepId::Filler(side);
    let faces = job.parts(id).len();
    if faces == 0 {
        return None;
    }
    let corner = &job.plan.corner;
    let step = Step::new(id, format!("Fit the {} filler face", side.word()))
        .how([
            "Scribe it to the unit's edge and to the other run, bevel its back a little so that the front edge closes, and try it until it goes home without force.",
            "Screw it from behind, through the block, reaching down into the open corner from above: no screw shows.",
        ])
        .fastener(Fastener {
            what: "screw, filler face to block",
            count: 4 * faces,
            least: None,
            most: short_of_face(corner.block + corner.face),
            note: "four a face, through the block from behind, short of the face",
        })
        .tools(["block plane", "scriber", "jigsaw", "right-angle driver", "clamps"])
        .cautions([Caution::Blades, Caution::Eyes, Caution::Dust])
        .check(level_check(job.plan, "the face plumb and in line with what it is flush with"));
    Some(job.lifted_singly(step))
}

fn kick(job: &Job<'_>, side: Side) -> Option<Step> {
    let id = StepId::Kick(side);
    let covers = job.parts(id);
    if covers.is_empty() {
        return None;
    }
    let clipped = job.plan.construction.base == Base::Legs;
    // One at the corner, at each end, and at least every 16 in between. Common practice, no source.
    let fixings = |part: &&Part| {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a cover has few fixings")]
        let between = (part.size[0] / 406.4).ceil() as usize;
        between + 1
    };
    let count = covers.iter().map(fixings).sum();
    let (what, note) = if clipped {
        ("clip, kick cover to leg", "one at each end and at least every 16 in, 406 mm; it comes off again")
    } else {
        (
            "finish nail, kick cover",
            "one at each end and at least every 16 in, 406 mm, into the kick boards or the base",
        )
    };
    let step = Step::new(id, format!("Fit the {} kick cover", side.word()))
        .how(["Scribe its lower edge to the floor; tilt it in, top edge first under the units, before what would trap it at its ends stands."])
        .fastener(Fastener { what, count, least: None, most: None, note })
        .tools(["scriber", "block plane", "jigsaw", "hammer or driver"])
        .cautions([Caution::Blades, Caution::Dust, Caution::Eyes, Caution::Pipes]);
    Some(job.lifted_singly(step))
}

fn end_panel(job: &Job<'_>, side: Side, unit: usize) -> Step {
    let id = StepId::EndPanel(side, unit);
    let held = job.plan.run(side).has_box_beside(unit);
    let step = Step::new(id, format!("Scribe and fix {} {} end panel", side.word(), unit + 1))
        .how(["Stand it in its place, scribe its back edge to the wall and its foot to the floor, cut, and try again."])
        .how_if(held, "Clamp it flush and screw it from inside the unit beside it, short of its face.")
        .how_if(!held, "No unit stands beside it: fix it to cleats on wall and floor, out of sight, and to the countertop later. Until then it can fall.")
        .fastener(Fastener {
            what: if held { "screw, end panel to unit" } else { "screw, end panel to cleat" },
            count: 6,
            least: None,
            most: short_of_face(job.plan.construction.panel * 2.0),
            note: if held { "six a panel, from inside the unit, short of its face" } else { "six a panel, from behind, short of its face" },
        })
        .tools(["scriber", "circular saw with a guide", "block plane", "clamps", "driver"])
        .cautions([Caution::Blades, Caution::Dust, Caution::Eyes, Caution::Lifting])
        .check(level_check(job.plan, "its front edge plumb and in the front plane"));
    job.lifted_together(step)
}

fn baseboard_back(job: &Job<'_>) -> Option<Step> {
    let board = job.plan.room.baseboard?;
    let (title, how) = match board.treatment {
        BaseboardTreatment::Removed => (
            "Return the baseboard to the runs' ends",
            "Cut the pieces to what now stands there, cope or mitre them, and nail them back into the studs.",
        ),
        BaseboardTreatment::Left => (
            "Close the joints at the baseboard that stayed",
            "The runs stand off the wall by it: close what shows above it at the runs' open ends with a strip scribed to the wall.",
        ),
        BaseboardTreatment::Notched => (
            "Close the joints at the notches over the baseboard",
            "Fit what shows of the notches at the runs' ends with a slip of the same stock.",
        ),
    };
    let step = Step::new(StepId::BaseboardBack, title)
        .how([how])
        .tools(["mitre saw", "coping saw", "hammer and nail set"])
        .cautions([Caution::Blades, Caution::Dust, Caution::Eyes, Caution::Wires]);
    Some(step)
}

fn slides(job: &Job<'_>) -> Option<Step> {
    let slides = |mover: &&Mover| !mover.of_the_room && matches!(mover.motion, Motion::Slide { .. });
    let count = job.model.movers.iter().filter(slides).count();
    if count == 0 {
        return None;
    }
    let under = job.plan.slides.iter().any(|slide| slide.mount == Mount::UnderMount);
    let step = Step::new(StepId::Slides, "Screw the slides in")
        .how(["A spacer cut once for each row sets both sides at the same height; keep to the list of drilling, and screw front holes first, back holes after the drawer has run."])
        .how_if(under, "Under-mount slides: the maker's distances from front edge and floor go before everything here.")
        .fastener(Fastener { what: "slide, pair", count, least: None, most: short_of_face(job.plan.construction.panel), note: "a pair a drawer; its screws stay inside the panel" })
        .tools(["spacers", "drill with a stop", "driver", "square"])
        .cautions([Caution::Eyes])
        .check(CLOSE.check(job.plan.unit, "each pair parallel and level with each other", None));
    Some(step)
}

fn shelves(job: &Job<'_>) -> Option<Step> {
    let parts = job.parts(StepId::Shelves);
    let shelves = parts.iter().filter(|part| part.role == Role::Shelf).count();
    if shelves == 0 {
        return None;
    }
    let step = Step::new(StepId::Shelves, "Lay the loose shelves on their pins")
        .how(["Tilt each in past the frame or sides and lay it down; it has play, so it needs no force."])
        .fastener(Fastener {
            what: "shelf pin",
            count: 4 * shelves,
            least: None,
            most: None,
            note: "four a loose shelf",
        })
        .cautions([Caution::TipOver]);
    Some(job.lifted_singly(step))
}

fn shelf_frames(job: &Job<'_>) -> Option<Step> {
    let parts = job.parts(StepId::ShelfFrames);
    if parts.is_empty() {
        return None;
    }
    let step = Step::new(StepId::ShelfFrames, "Fix the frames before open shelves")
        .how(["Clamp the frame flush with where the fronts beside it will lie, scribe the stile at a wall, glue and nail it to the carcass edge."])
        .fastener(Fastener { what: "finish nail, shelf frame", count: 3 * parts.len(), least: None, most: None, note: "three a stile or rail, set below the face" })
        .tools(["clamps", "block plane", "hammer and nail set", "glue"])
        .cautions([Caution::Blades, Caution::Eyes, Caution::Vapours])
        .drying("wood glue, before the clamps come off", 0.5, 1.0);
    Some(job.lifted_singly(step))
}

fn drawers(job: &Job<'_>) -> Option<Step> {
    if !job.any(StepId::Drawers) {
        return None;
    }
    let step = Step::new(StepId::Drawers, "Run the drawer boxes in")
        .how(["Run each in empty and draw it out to its stop; then screw the slides' back holes. One drawer out at a time."])
        .tools(["driver"])
        .cautions([Caution::TipOver])
        .check(Check { what: "each runs its whole way without rubbing and stays where it is let go".to_owned(), size: None, within: None, source: PRACTICE });
    Some(job.lifted_singly(step))
}

fn fronts(job: &Job<'_>) -> Option<Step> {
    if !job.any(StepId::Fronts) {
        return None;
    }
    let c = &job.plan.construction;
    let drawers = job.count(Role::DrawerFront);
    let doors = job.count(Role::DoorFront);
    let (gap, what) = match c.fronts {
        Fronts::Overlay => (c.reveal.side, "reveal from a front's edge to its carcass side, alike all over"),
        Fronts::Inset => (c.gap, "gap round each front, alike all over"),
    };
    let mut step = Step::new(StepId::Fronts, "Hang and align the fronts")
        .how(["From the corner outwards and from the lowest up: packers of the gap's width between, double-sided tape on the box, press, draw out, screw from inside.",
            "Doors: hang, then set them by their hinges. Open everything past everything before the last screw."])
        .fastener(Fastener {
            what: "screw, drawer front to box",
            count: 4 * drawers,
            least: None,
            most: short_of_face(c.box_stock + c.front),
            note: "four a front, from inside the box, short of its face",
        });
    for (what, count) in hung_on(job.model, job.plan) {
        step = step.fastener(Fastener { what, count, least: None, most: None, note: hung_on_note(what) });
    }
    let step = step
        .fastener(Fastener {
            what: "bumper",
            count: if c.fronts == Fronts::Overlay { 2 * (drawers + doors) } else { 0 },
            least: None,
            most: None,
            note: "two a front",
        })
        .tools(["packers", "clamps", "driver", "straightedge"])
        .cautions([Caution::TipOver, Caution::Eyes])
        .check(CLOSE.check(job.plan.unit, what, Some(gap)));
    Some(job.lifted_singly(step))
}

fn pulls(job: &Job<'_>) -> Option<Step> {
    if !job.any(StepId::Pulls) {
        return None;
    }
    let mut bolts = 0;
    for mover in &job.model.movers {
        bolts += match mover.pull.and_then(|pull| job.plan.pulls.get(pull)).map(|pull| pull.shape) {
            Some(PullShape::Bar { .. }) => 2,
            Some(PullShape::Knob { .. }) => 1,
            Some(PullShape::Edge { .. } | PullShape::Absent) | None => 0,
        };
    }
    let step = Step::new(StepId::Pulls, "Bore for the pulls and screw them on")
        .how(["A template with stops, used from the same edge everywhere; a waste board behind the front, so that it does not break out."])
        .fastener(Fastener {
            what: "pull bolt",
            count: bolts,
            least: Some(job.plan.construction.front),
            most: Some(job.plan.construction.front + Length::mm(INTO_PULL)),
            note: "two a bar, one a knob: through the front and up to 1/4 in, 6 mm, into the pull",
        })
        .tools(["drilling template", "drill", "driver"])
        .cautions([Caution::Eyes, Caution::Blades]);
    Some(job.lifted_singly(step))
}

/// Ready for the countertop, and the countertop.
fn top(job: &Job<'_>) -> Vec<Step> {
    let Some(top) = job.plan.countertop else { return Vec::new() };
    let strips = job.count(Role::BuildUp);
    let appliances = Side::BOTH.iter().flat_map(|&side| &job.plan.run(side).units);
    let wide = appliances.filter(|unit| matches!(unit.kind, UnitKind::ApplianceSpace(_))).map(|unit| unit.width);
    let widest = wide.reduce(Length::max);
    let overhang = top.overhang.show(job.plan.unit);
    let support = Step::new(StepId::TopSupport, "Make ready for the countertop")
        .how_if(strips > 0, "Screw the build-up strips along front and back of every unit, flush with the front plane.")
        .how_if(true, "Screw a cleat to the wall studs where the top spans the dead corner, level with the units: nothing else carries it there.")
        .how_if(widest.is_some(), format!("Over the space for an appliance the top spans {} without a unit: ask its maker what that takes.", widest.unwrap_or_default().show(job.plan.unit)))
        .fastener(Fastener { what: "screw, build-up strip", count: 3 * strips, least: None, most: with_bite(job.plan.construction.panel), note: "three a strip" })
        .tools(["long level", "driver"])
        .cautions([Caution::Studs, Caution::Wires, Caution::Pipes, Caution::Eyes])
        .check(level_check(job.plan, "all that the top lies on in one level plane, the corner too"))
        .check(Check { what: "from the front plane to where the top's edge will be".to_owned(), size: Some(top.overhang), within: None, source: "the plan" });
    let laid = Step::new(StepId::Top, "Lay the countertop")
        .how_if(true, format!("Lay it dry, push it to the walls, see that it overhangs the front planes by {overhang}, scribe what the wall asks; only then glue the seam and fix it from below."))
        .how(["Stone is for its maker's people: it breaks at cut-outs when it is carried flat, and cutting it makes silica dust."])
        .tools(["straps or suction lifters", "scriber", "level", "clamps"])
        .cautions([Caution::Lifting, Caution::Blades, Caution::Dust, Caution::Eyes, Caution::Vapours])
        .drying("glue in the seam", 1.0, 24.0);
    vec![job.lifted_singly(support), job.lifted_singly(laid)]
}
