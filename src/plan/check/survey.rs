//! The rules of what was measured: readings lie on their wall, say one thing once, and do not contradict each other.
//!
//! Measures contradict each other where they differ by more than an error of one reading in each would make
//! ([`defaults::READING`]); the fault says how much that is.

use super::{Faults, exceeds, join, wall};
use crate::length::Length;
use crate::plan::corner::ANGLE_READING_DEG;
use crate::plan::defaults::{self, Usual};
use crate::plan::{CornerMeasure, FarEnd, FloorLevel, Side};

/// A room further out than this between two readings was measured in another unit, or is no corner for cabinets. Our own
/// choice.
pub(super) const MOST_OUT: Usual = Usual::new(300.0, 12.0);

/// Thicker flooring, or a longer screw, is a mistake of unit.
const THICKEST_FLOORING: Usual = Usual::new(100.0, 4.0);
const LONGEST_SCREW: Usual = Usual::new(300.0, 12.0);

/// A wider way in is none.
const WIDEST_WAY: Usual = Usual::new(10_000.0, 400.0);

/// No shim is split finer, mm.
const FINEST_SHIM_MM: f64 = 0.01;

pub(super) fn survey(faults: &mut Faults<'_>) {
    corner(faults);
    for side in Side::BOTH {
        wall::wall(faults, side);
    }
    floor(faults);
    let survey = &faults.plan.room.survey;
    let unit = faults.plan.unit;
    let still = "give the thickness still to be laid, 0 for none";
    faults.not_below_zero("room.survey", "flooring", "the flooring's thickness", survey.flooring, still);
    let most = THICKEST_FLOORING.of(unit);
    faults.at_most("room.survey", "flooring", "the flooring's thickness", survey.flooring, most, still);
    let Some(way_in) = survey.way_in else { return };
    let at = "room.survey.way_in";
    let clear = "measure the narrowest place on the way, clear of stops and handles; `way_in: Absent` where nothing is";
    let sizes = [
        ("width", "the way in's width", Some(way_in.width)),
        ("height", "the way in's height", Some(way_in.height)),
        ("turn", "the length of the passage behind the way in", way_in.turn),
    ];
    for (field, what, size) in sizes {
        let Some(size) = size else { continue };
        faults.above_zero(at, field, what, size, clear);
        faults.at_most(at, field, what, size, WIDEST_WAY.of(unit), clear);
    }
}

/// The measures of the corner make triangles, agree with each other, with the walls and with the angle.
fn corner(faults: &mut Faults<'_>) {
    let room = &faults.plan.room;
    let Some(corner) = room.survey.corner else { return };
    let at = "room.survey.corner";
    let sides = match corner {
        CornerMeasure::Triangle { left, right, across } => {
            vec![("left", left), ("right", right), ("across", across)]
        }
        CornerMeasure::Diagonals { left, right, opposite_left, opposite_right, across, through } => vec![
            ("left", left),
            ("right", right),
            ("opposite_left", opposite_left),
            ("opposite_right", opposite_right),
            ("across", across),
            ("through", through),
        ],
    };
    let before = faults.list.len();
    for &(field, length) in &sides {
        let what = format!("the measure `{field}`");
        faults.above_zero(at, field, &what, length, "give what the tape reads");
    }
    if faults.list.len() > before {
        return;
    }
    if let Some(none) = corner.no_triangle() {
        let ([a, b], longest) = (none.others.map(|side| faults.show(side)), faults.show(none.longest));
        let sum = faults.show(none.others.iter().copied().sum());
        let message = format!(
            "{a}, {b} and {longest} make no triangle: the longest must be less than the other two together, {sum}"
        );
        faults.add(
            "plan::fit",
            at.to_owned(),
            &[],
            message,
            "one of the three was read or written wrongly: measure again",
        );
        return;
    }
    second_diagonal(faults, corner);
    walls_of_the_corner(faults, corner);
    angle(faults, corner);
}

/// The diagonal through the corner is as long as the other five measures make it.
fn second_diagonal(faults: &mut Faults<'_>, corner: CornerMeasure) {
    let CornerMeasure::Diagonals { through, .. } = corner else { return };
    let reading = defaults::READING.of(faults.plan.unit);
    let Some((expected, slack)) = corner.expected_through(reading) else { return };
    if exceeds((through - expected).abs(), slack) {
        let (given, expected) = (faults.show(through), faults.show(expected));
        let (slack, reading) = (faults.show(slack), faults.show(reading));
        let message =
            format!("the diagonal `through` {given} contradicts the other five measures, which make it {expected}");
        let help = format!("errors of {reading} in each would make {slack} of difference: measure all six again");
        faults.add("plan::fit", "room.survey.corner.through".to_owned(), &["room.survey.corner"], message, help);
    }
}

/// A wall that ends at another one is the room's whole wall, so the diagonals' side is the same length.
fn walls_of_the_corner(faults: &mut Faults<'_>, corner: CornerMeasure) {
    let CornerMeasure::Diagonals { left, right, .. } = corner else { return };
    // One error in each of the two.
    let slack = defaults::READING.of(faults.plan.unit) * 2.0;
    for (side, measure) in [(Side::Left, left), (Side::Right, right)] {
        let wall = faults.plan.room.wall(side);
        let ends_at_wall = faults.plan.run(side).ends_at == FarEnd::Wall;
        if ends_at_wall && wall > Length::ZERO && exceeds((measure - wall).abs(), slack) {
            let word = side.word();
            let (measure, wall) = (faults.show(measure), faults.show(wall));
            let message =
                format!("the {word} wall {measure} long between the diagonals is not the `{word}_wall` of {wall}");
            let help = format!("give the same length, or say what else the {word} run ends at");
            let rests_on = [format!("room.{word}_wall"), format!("{word}.ends_at")];
            let rests_on = rests_on.each_ref().map(String::as_str);
            faults.add("plan::fit", join("room.survey.corner", word), &rests_on, message, help);
        }
    }
}

/// An angle read as well is the one that the lengths make.
fn angle(faults: &mut Faults<'_>, corner: CornerMeasure) {
    let reading = defaults::READING.of(faults.plan.unit);
    let Some((read, measured)) = faults.plan.room.angle_read.zip(corner.angle_deg()) else { return };
    let slack = corner.angle_slack_deg(reading);
    if (read - measured).abs() > slack {
        let (read, measured, slack) = (degrees(read), degrees(measured), degrees(slack));
        let message = format!(
            "the angle `{read}` degrees contradicts the measures of the corner, which make it `{measured}` degrees"
        );
        let help = format!(
            "errors of {} in each length and `{ANGLE_READING_DEG}` degrees in the angle would make `{slack}` degrees of \
             difference: measure again, or leave `angle` out",
            faults.show(reading)
        );
        faults.add("plan::fit", "room.angle".to_owned(), &["room.survey.corner"], message, help);
    }
}

/// Degrees to a thousandth, without zeros at the end.
fn degrees(angle: f64) -> String {
    let text = format!("{angle:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn floor(faults: &mut Faults<'_>) {
    let floor = &faults.plan.room.survey.floor;
    for (n, level) in floor.iter().enumerate() {
        let at = format!("room.survey.floor[{n}]");
        wall::on_wall(faults, &at, "along", "the floor level", level.along, level.wall);
        let out = "measure from the wall into the room, 0 at the wall";
        faults.not_below_zero(&at, "out", "the distance from the wall", level.out, out);
        let same = |other: &FloorLevel| {
            other.wall == level.wall && wall::same(other.along, level.along) && wall::same(other.out, level.out)
        };
        if let Some((k, before)) = floor.iter().enumerate().take(n).find(|(_, before)| same(before)) {
            let (along, out) = (faults.show(level.along), faults.show(level.out));
            let (one, two) = (faults.show(before.level), faults.show(level.level));
            let side = level.wall.word();
            let message = format!(
                "the floor is given two levels in one place, {one} and {two}, at {along} along the {side} wall and {out} out"
            );
            faults.add("plan::fit", at, &[&format!("room.survey.floor[{k}]")], message, "keep the right one");
        }
    }
    let levels = || floor.iter().map(|level| level.level);
    if let (Some(low), Some(high)) = (levels().min(), levels().max()) {
        let most = MOST_OUT.of(faults.plan.unit);
        if exceeds(high - low, most) {
            let (low, high, most) = (faults.show(low), faults.show(high), faults.show(most));
            let message = format!("the floor's levels go from {low} to {high}, more than {most} apart");
            let help = "measure all from one level line, each positive where the floor is higher";
            faults.add("plan::length", "room.survey.floor".to_owned(), &[], message, help);
        }
    }
}

pub(super) fn fixing(faults: &mut Faults<'_>) {
    let fixing = &faults.plan.fixing;
    let most = LONGEST_SCREW.of(faults.plan.unit);
    let bite = "give the least length of a screw in the stud itself";
    faults.above_zero("fixing", "bite", "the screw's bite", fixing.bite, bite);
    faults.at_most("fixing", "bite", "the screw's bite", fixing.bite, most, bite);
    for (n, &screw) in fixing.screws.iter().enumerate() {
        let at = format!("fixing.screws[{n}]");
        let length = "give the lengths of screws that you have";
        faults.above_zero(&at, "", "the screw's length", screw, length);
        faults.at_most(&at, "", "the screw's length", screw, most, length);
    }
    for (n, &(side, along)) in fixing.shim_also.iter().enumerate() {
        wall::on_wall(faults, &format!("fixing.shim_also[{n}]"), "along", "the place for a shim", along, side);
    }
    let finest = Length::mm(FINEST_SHIM_MM);
    if fixing.shim_step < finest {
        let (step, finest) = (faults.show(fixing.shim_step), Faults::show_mm(finest));
        let message = format!("the step of shims {step} must be at least {finest}");
        let help = "give the step to which shims are cut or stacked, such as 0.5 mm or 1/32 in";
        faults.add("plan::length", "fixing.shim_step".to_owned(), &[], message, help);
    }
    let thickest = "give the step to which shims are cut or stacked, such as 0.5 mm or 1/32 in";
    let most = super::build::THICKEST.of(faults.plan.unit);
    faults.at_most("fixing", "shim_step", "the step of shims", fixing.shim_step, most, thickest);
}
