//! Before anything stands: the room cleared, tested, measured and marked, the bases level, everything tried dry.

use super::job::Job;
use super::measure::level_check;
use super::place::carcasses;
use super::step::{Caution, Fastener, Step, StepId};
use crate::model::Role;
use crate::plan::{Base, BaseboardTreatment, Side};

/// These steps, in the order in which they are done where nothing else decides.
pub(super) fn steps(job: &Job<'_>) -> Vec<Step> {
    let baseboard = job.plan.room.baseboard.map(|board| board.treatment);
    let mut steps = vec![clear(), old_paint(), survey(job), services()];
    if baseboard == Some(BaseboardTreatment::Removed) {
        steps.push(baseboard_off());
    }
    steps.push(marks(job));
    if job.any_carcass() {
        steps.push(base(job));
    }
    steps.push(dry_fit(job));
    steps
}

fn clear() -> Step {
    Step::new(StepId::Clear, "Clear the room and protect what stays")
        .how([
            "Empty the corner to both runs' ends and a working space before them; take up loose floor coverings.",
            "Cover the floor, hang a dust sheet at the door, seal registers that blow into the room.",
        ])
        .tools(["dust sheets", "floor protection", "tape"])
        .cautions([Caution::Dust])
}

fn old_paint() -> Step {
    Step::new(StepId::OldPaint, "Test for old paint and old floors")
        .how([
            "Test painted walls, baseboards and casings for lead where the house may be old enough, and have old floor layers tested for asbestos before they are cut.",
            "If either is found, stop: who may go on, and how, is for local rules and licensed people.",
        ])
        .tools(["test kit, or a sample to a laboratory"])
        .cautions([Caution::OldPaint, Caution::OldFloor])
}

fn survey(job: &Job<'_>) -> Step {
    let room = &job.plan.room;
    let measured = !room.survey.left.readings.is_empty() || !room.survey.right.readings.is_empty();
    Step::new(StepId::Survey, "Check the survey against the room")
        .how(["Measure again what the plan was made from: wall lengths at the floor, half way up and at countertop height, the room angle by a diagonal, the floor's levels along both runs."])
        .how_if(!room.angle_measured, "The plan takes the room angle as 90° because none was measured: measure it now.")
        .how_if(!measured, "The plan has no readings of the walls: hold a straightedge to each and note every gap.")
        .how_if(
            room.survey.floor.is_empty(),
            "The plan has no floor levels: find the highest point under both runs, where everything starts.",
        )
        .tools(["tape", "long straightedge or string", "level or laser", "square"])
}

fn services() -> Step {
    Step::new(StepId::Services, "Find studs, wires and pipes")
        .how([
            "Mark every stud behind the runs with tape at the height of both nailers; prove one in three with a fine nail where a nailer will cover the hole.",
            "Mark wires, pipes and gas; switch off and test every circuit in these walls, and know where water and gas are shut off.",
            "Outlets, junction boxes, valves and cocks that would end up behind a unit or in the dead corner are moved first, by licensed people, or stay in reach.",
        ])
        .tools(["stud finder", "wire and pipe detector", "voltage tester", "fine nail"])
        .cautions([Caution::Wires, Caution::Pipes, Caution::Studs, Caution::Eyes])
}

fn baseboard_off() -> Step {
    Step::new(StepId::BaseboardOff, "Take the baseboard off where the runs stand")
        .how([
            "Cut the paint line with a knife, pry from the nearest joint with a board behind the bar, and number the pieces for their return.",
            "Cut what stays at the runs' ends on its mark, or lift it whole and cut it on the bench later.",
        ])
        .tools(["knife", "flat bar", "pull saw or oscillating saw"])
        .cautions([Caution::OldPaint, Caution::Wires, Caution::Eyes, Caution::Blades])
}

fn marks(job: &Job<'_>) -> Step {
    let height = job.plan.construction.height.show(job.plan.unit);
    Step::new(StepId::Marks, "Mark level line, plumb lines and front line")
        .how_if(
            true,
            format!("From the highest floor point under both runs measure up {height} and draw the level line of the carcass tops round the corner."),
        )
        .how([
            "Draw a plumb line at each unit's edge, outward from the corner with the fillers' widths, and each stud and pipe across the level line.",
            "Draw the front line of both runs on the floor and see that they meet where the plan has them meet.",
        ])
        .tools(["level or laser", "chalk line", "pencil", "plumb bob or long level"])
        .check(level_check(job.plan, "the level line back at its start after once round"))
}

fn base(job: &Job<'_>) -> Step {
    let kick = job.plan.construction.kick_height.show(job.plan.unit);
    let (title, lines) = match job.plan.construction.base {
        Base::LevelledBase => (
            "Set the base frames level from the highest floor point",
            vec![
                format!("Start at the highest point with {kick} of frame on the bare floor; everywhere else the frame is shimmed up to that level."),
                "Work from the corner outwards; screw the frames to each other, then to the floor through blocks, clear of pipes and heating in it.".to_owned(),
            ],
        ),
        Base::Legs => (
            "Screw the legs on and set them from the highest floor point",
            vec![
                format!("With each unit on its back screw the legs on; at the highest point they stand {kick} high, elsewhere longer by what the floor lies lower."),
                "Set them a little short: a leg is sooner turned up than down under load.".to_owned(),
            ],
        ),
        Base::IntegralKick => (
            "Lay shims out from the highest floor point",
            vec!["The units stand on their own sides: at the highest point on the bare floor, elsewhere on shims up to the level line. Lay them out under each side, front and back.".to_owned()],
        ),
    };
    let legs = Fastener {
        what: "levelling leg",
        count: job.count(Role::Leg),
        least: None,
        most: None,
        note: "as drawn, with the screws that come with it, shorter than the bottom is thick",
    };
    let step = Step { how: lines, ..Step::new(StepId::Base, title) }
        .tools(["level or laser", "shims", "driver"])
        .cautions([Caution::Pipes, Caution::Wires, Caution::OldFloor])
        .fastener(legs)
        .check(level_check(job.plan, "every base, leg or shim under the same level line, along and across"));
    job.lifted_singly(step)
}

fn dry_fit(job: &Job<'_>) -> Step {
    let carcasses: usize = Side::BOTH.iter().map(|&side| carcasses(job.plan, side).len()).sum();
    let face = job.any(StepId::Filler(Side::Left)) || job.any(StepId::Filler(Side::Right));
    Step::new(StepId::DryFit, "Stand everything in its place without a screw")
        .how_if(
            carcasses > 0,
            "Drawers, doors and loose shelves are out; stand the units from the corner outwards on their lines.",
        )
        .how(["Cut the holes for outlets, pipes and registers that stay in reach, and try that they do."])
        .how_if(face, "Hold the filler faces in place: does the whole run fit, and what is left at its ends?")
        .tools(["jigsaw", "hole saw", "clamps"])
        .cautions([Caution::Lifting, Caution::TipOver, Caution::Blades, Caution::Dust, Caution::Eyes])
}
