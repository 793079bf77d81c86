//! What is taken for granted of the room, because the plan does not measure it?

use super::defaults::{self, Usual};
use super::{FarEnd, Plan, Side, Studs, WallMade, WallSurvey};
use crate::length::Length;

/// Lengths of one wall that differ by more than this are worth a word. Common practice, no source.
const SAME_LENGTH: Usual = Usual::new(3.0, 0.125);

/// What an installation of `plan` takes for granted, one sentence each: the room first, then each wall.
#[must_use]
pub fn assumed(plan: &Plan) -> Vec<String> {
    let (survey, unit) = (&plan.room.survey, plan.unit);
    let mut list = Vec::new();
    if !plan.room.angle_measured {
        list.push("The room angle was not measured: 90\u{b0} is taken.".to_owned());
    }
    for side in Side::BOTH {
        wall(&mut list, plan, side);
        tall(&mut list, plan, side);
    }
    if survey.floor.is_empty() {
        list.push("No floor levels were read: the floor is taken as level and flat.".to_owned());
    } else {
        for side in Side::BOTH {
            if survey.floor.iter().all(|level| level.wall != side) {
                list.push(format!(
                    "No floor level was read along the {} wall: the others are carried on to it.",
                    side.word()
                ));
            }
        }
    }
    if survey.flooring > Length::ZERO {
        let flooring = survey.flooring.show(unit);
        list.push(format!("Flooring of {flooring} is still to be laid: heights are from its top."));
    }
    match survey.way_in {
        None => list.push("No way in was measured: every unit is taken to come into the room.".to_owned()),
        Some(way) if way.turn.is_none() => {
            list.push("Units are taken to come straight in, with no turn behind the narrowest place.".to_owned());
        }
        Some(_) => {}
    }
    if plan.fixing.screws.is_empty() {
        list.push("No screws are listed: any length is taken to be at hand.".to_owned());
    }
    list
}

/// What is tall may reach above all that was read of its wall, and of the wall it ends at.
fn tall(list: &mut Vec<String>, plan: &Plan, side: Side) {
    let (wall, run) = (plan.room.survey.wall(side), plan.run(side));
    let tall = run.units.iter().filter(|unit| unit.kind.has_carcass() && plan.is_tall(unit));
    let Some(unit) = tall.max_by_key(|unit| unit.height) else { return };
    let (name, word) = (&unit.name, side.word());
    let read = wall.readings.iter().map(|reading| reading.height);
    let highest = read.chain(wall.plumb.iter().map(|reading| reading.over)).max();
    if let Some(highest) = highest.filter(|&highest| highest < unit.height) {
        let highest = highest.show(plan.unit);
        list.push(format!("Above {highest} the {word} wall was not read: behind {name} it keeps the gap read there."));
    }
    if wall.lengths.is_some() && run.ends_at == FarEnd::Wall {
        list.push(format!("Above the countertop the wall that {name} ends at is taken as plumb."));
    }
}

fn wall(list: &mut Vec<String>, plan: &Plan, side: Side) {
    let (wall, word, unit) = (plan.room.survey.wall(side), side.word(), plan.unit);
    let heights = heights(wall);
    if heights == 0 {
        let plumb = if wall.plumb.is_empty() { " and plumb" } else { "" };
        list.push(format!("No gaps were read along the {word} wall: it is taken as straight{plumb}."));
    } else if heights == 1 && wall.plumb.is_empty() {
        list.push(format!(
            "Gaps of the {word} wall were read at one height and it was not plumbed: it is taken as plumb."
        ));
    }
    match wall.lengths {
        None => {
            list.push(format!(
                "The {word} wall was measured at one height: it is taken to be as long at every height."
            ));
        }
        Some([a, b, c]) => {
            let (least, most) = (a.min(b).min(c), a.max(b).max(c));
            if most - least > SAME_LENGTH.of(unit) {
                let [least, most] = [least, most].map(|length| length.show(unit));
                list.push(format!("The {word} wall is {least} to {most} long, by height: the least counts."));
            }
        }
    }
    let framed = matches!(wall.made_of, WallMade::Framed { .. });
    match &wall.studs {
        Studs::Unknown if framed => {
            list.push(format!("Studs of the {word} wall are not known: find and mark them before anything is fixed."));
        }
        Studs::Spaced { spacing, .. } => {
            let spacing = spacing.show(unit);
            list.push(format!(
                "Studs of the {word} wall are taken to follow each other every {spacing}: find each before you drill."
            ));
        }
        Studs::Unknown | Studs::At(_) => {}
    }
    if wall.made_of == WallMade::usual(unit) && wall.studs != Studs::Unknown {
        let [board, stud] = [defaults::WALL_BOARD, defaults::STUD].map(|usual| usual.of(unit).show(unit));
        list.push(format!("The {word} wall is taken as {board} of board over studs {stud} wide."));
    }
    if wall.fixtures.is_empty() {
        list.push(format!(
            "Nothing in or on the {word} wall is listed: no outlet, pipe or wire is taken to be there. Look before you drill."
        ));
    }
}

/// At how many heights gaps were read.
fn heights(wall: &WallSurvey) -> usize {
    let mut heights: Vec<Length> = wall.readings.iter().map(|reading| reading.height).collect();
    heights.sort();
    heights.dedup();
    heights.len()
}
