//! The rules of the room, the corner and what must stay clear.

use super::Faults;
use crate::length::Length;
use crate::plan::defaults::Usual;
use crate::plan::{Baseboard, BaseboardTreatment, Filler, RunAngle, Side};

/// A wider filler is a mistake of unit.
const WIDEST_FILLER: Usual = Usual::new(2000.0, 80.0);

/// Runs further off the walls than this leave a hole behind them that no builder would; our own choice.
const MOST_APART_DEG: f64 = 15.0;

/// Less than this is neither touching nor a clearance that a shop can keep.
const LEAST_CLEARANCE_MM: f64 = 0.1;

/// No shop cuts to a finer step.
const FINEST_STEP_MM: f64 = 0.01;

/// More clearance, step or standing out is a mistake of unit.
const MOST_CLEARANCE: Usual = Usual::new(500.0, 20.0);

pub(super) fn room(faults: &mut Faults<'_>) {
    let plan = faults.plan;
    let room = &plan.room;
    // Measures that make no triangle leave the angle as it was read.
    let measured = room.survey.corner.and_then(|corner| corner.angle_deg()).is_some();
    let angle_path = if measured { "room.survey.corner" } else { "room.angle" };
    faults.corner_angle(angle_path, "the room angle", room.angle_deg);
    if let RunAngle::Degrees(degrees) = plan.run_angle {
        faults.corner_angle("run_angle", "the run angle", degrees);
    }
    let apart = (room.angle_deg - plan.run_angle_deg()).abs();
    // An angle that is out of range has been told already.
    let in_range = |angle: f64| super::ANGLES_DEG.contains(&angle);
    if apart > MOST_APART_DEG && in_range(room.angle_deg) && in_range(plan.run_angle_deg()) {
        let message =
            format!("the runs, set at `{}`°, do not go into a corner of `{}`°", plan.run_angle_deg(), room.angle_deg);
        let help = "write `run_angle: AlongWalls`, or an angle within 15° of the room angle";
        faults.add("plan::fit", "run_angle".to_owned(), &[angle_path], message, help);
    }
    let measure = "measure the wall from the corner along the floor";
    faults.above_zero("room", "left_wall", "the left wall", room.left_wall, measure);
    faults.above_zero("room", "right_wall", "the right wall", room.right_wall, measure);
    ceiling(faults);
    if let Some(baseboard) = &room.baseboard {
        let absent = "measure it, or write `baseboard: Absent`";
        faults.above_zero("room.baseboard", "height", "the baseboard's height", baseboard.height, absent);
        faults.above_zero("room.baseboard", "thickness", "the baseboard's thickness", baseboard.thickness, absent);
        let most = super::build::THICKEST.of(plan.unit);
        let stands_off = "measure how far it stands off the wall";
        let thickness = baseboard.thickness;
        faults.at_most("room.baseboard", "thickness", "the baseboard's thickness", thickness, most, stands_off);
        notch(faults, baseboard);
    }
    for (n, obstacle) in room.obstacles.iter().enumerate() {
        let at = format!("room.obstacles[{n}]");
        let size = "give its own size along the wall, out from it and upwards";
        faults.above_zero(&at, "width", "the obstacle's width", obstacle.width, size);
        faults.above_zero(&at, "depth", "the obstacle's depth", obstacle.depth, size);
        faults.above_zero(&at, "height", "the obstacle's height", obstacle.height, size);
        let place = "measure from the corner, the wall or the floor; 0 where it stands against it";
        faults.not_below_zero(&at, "along", "the distance along the wall", obstacle.along, place);
        faults.not_below_zero(&at, "out", "the distance out from the wall", obstacle.out, place);
        faults.not_below_zero(&at, "above", "the height above the floor", obstacle.above, place);
        super::opposite::fronts(faults, &at, obstacle);
    }
    room_doors(faults);
}

/// A room's door must be one.
fn room_doors(faults: &mut Faults<'_>) {
    for (n, door) in faults.plan.room.doors.iter().enumerate() {
        let at = format!("room.doors[{n}]");
        let size = "measure its leaf";
        faults.above_zero(&at, "width", "the door's width", door.width, size);
        faults.above_zero(&at, "height", "the door's height", door.height, size);
        faults.above_zero(&at, "thickness", "the door's thickness", door.thickness, size);
        faults.not_below_zero(&at, "along", "the distance along the wall", door.along, "measure from the corner");
        super::unit::opens(faults, &at, door.opens_to_deg);
    }
}

/// Only the sides can be notched: above the toe kick the back and the bottom would be in the way too.
fn notch(faults: &mut Faults<'_>, baseboard: &Baseboard) {
    let kick = faults.plan.construction.kick_height;
    if baseboard.treatment == BaseboardTreatment::Notched && baseboard.height > kick {
        let (height, kick) = (faults.show(baseboard.height), faults.show(kick));
        let message = format!(
            "the baseboard, {height} high, is higher than the toe kick, {kick}, so notched sides do not clear it"
        );
        let help =
            "write `Left` to stand the runs off by its thickness, `Removed` to take it off, or raise the toe kick";
        let rests_on = ["construction.kick_height"];
        faults.add("plan::fit", "room.baseboard.height".to_owned(), &rests_on, message, help);
    }
}

fn ceiling(faults: &mut Faults<'_>) {
    let plan = faults.plan;
    let top = plan.construction.height + plan.countertop.map_or(Length::ZERO, |top| top.thickness + top.build_up);
    if plan.room.ceiling <= top {
        let (ceiling, top) = (faults.show(plan.room.ceiling), faults.show(top));
        let message = format!("the ceiling {ceiling} must be higher than the units and their countertop, {top}");
        let rests_on = ["construction.height", "countertop"];
        faults.add("plan::fit", "room.ceiling".to_owned(), &rests_on, message, "measure it from the finished floor");
    }
}

pub(super) fn corner(faults: &mut Faults<'_>) {
    let plan = faults.plan;
    let corner = &plan.corner;
    for side in Side::BOTH {
        if let Filler::Fixed(width) = corner.filler(side) {
            let help = "write `Least` to have the least width found";
            faults.not_below_zero("corner", side.word(), "the filler", width, help);
            faults.at_most("corner", side.word(), "the filler", width, WIDEST_FILLER.of(plan.unit), help);
        }
    }
    let thickness = "give its thickness as cut";
    faults.above_zero("corner", "face", "the filler face's thickness", corner.face, thickness);
    let most = super::build::THICKEST.of(plan.unit);
    faults.at_most("corner", "face", "the filler face's thickness", corner.face, most, thickness);
    faults.above_zero("corner", "block", "the backing block", corner.block, thickness);
    faults.at_most("corner", "block", "the backing block", corner.block, most, thickness);
}

pub(super) fn clearance(faults: &mut Faults<'_>) {
    let clearance = &faults.plan.clearance;
    let (wanted, step) = (clearance.wanted, clearance.shop_step);
    let least = Length::mm(LEAST_CLEARANCE_MM);
    if wanted != Length::ZERO && wanted < least {
        let message =
            format!("the clearance wanted {} must be 0 or at least {}", faults.show(wanted), Faults::show_mm(least));
        let help = "write 0 where touching is good enough, else what a shop can keep";
        faults.add("plan::length", "clearance.wanted".to_owned(), &[], message, help);
    }
    let finest = Length::mm(FINEST_STEP_MM);
    if step < finest {
        let message = format!("the shop step {} must be at least {}", faults.show(step), Faults::show_mm(finest));
        let help = "give the step to which fillers are cut, such as 1 mm or 1/8 in";
        faults.add("plan::length", "clearance.shop_step".to_owned(), &[], message, help);
    }
    let most = MOST_CLEARANCE.of(faults.plan.unit);
    let usual = "a finger's breadth is usual";
    faults.at_most("clearance", "wanted", "the clearance wanted", wanted, most, usual);
    faults.at_most("clearance", "shop_step", "the shop step", step, most, "1 mm or 1/8 in is usual");
    let shut = "give how far a shut front of the other run may stand out; 0 where it shuts fully";
    faults.not_below_zero("clearance", "ajar", "what a front may stand out", clearance.ajar, shut);
    faults.at_most("clearance", "ajar", "what a front may stand out", clearance.ajar, most, shut);
}
