//! Room for people, in words and as JSON: what there is, beside the clause that names a figure for it.

use serde_json::{Value, json};

use super::text::Mark;
use crate::length::{Length, Unit};
use crate::model::{Model, Motion, MoverId, PartId};
use crate::people::{Clause, Fingers, People, Pulled, Standing, clear_floor_width, toe_height};

/// Said once, above the list.
const GOVERNS: &str = "what there is, beside published figures; the plan asks for none of them, and local codes govern";

/// What stands before open drawers and doors, fingers, reach, worktop and toe kick.
#[must_use]
pub fn people_text(model: &Model, people: &People) -> Vec<(Mark, String)> {
    let unit = model.unit;
    let mut lines = vec![(Mark::Heading, "Room for people".to_owned()), (Mark::Plain, format!("  {GOVERNS}"))];
    let mut say = |is_met: bool, line: String| {
        let sign = if is_met { "  " } else { "  ! " };
        lines.push((if is_met { Mark::Plain } else { Mark::Bad }, format!("{sign}{line}")));
    };
    if people.standing.iter().all(|standing| standing.room.is_none()) {
        say(true, "nothing that the plan has stands opposite the runs: the floor before them is open".to_owned());
    } else {
        let floor = format!("{} by {}", clear_floor_width().show(unit), least(Clause::ClearFloor, unit));
        let past = least(Clause::Walking, unit);
        let [of_floor, of_past] = [Clause::ClearFloor, Clause::Walking].map(Clause::source);
        say(true, format!("a clear floor space is {floor} ({of_floor}), a way past {past} wide ({of_past})"));
    }
    let standing = people.standing.iter().filter_map(|standing| {
        let line = standing_line(model, standing)?;
        Some((standing.takes_clear_floor(), name(model, standing.mover), line))
    });
    for (is_met, names, line) in together(standing) {
        say(is_met, format!("{names}{line}"));
    }
    let short = people.fingers.iter().filter(|fingers| !fingers.short_of().is_empty());
    for (is_met, names, line) in together(short.map(|f| (false, name(model, f.mover), fingers_line(model, f)))) {
        say(is_met, format!("fingers at the pull of {names}: {line}"));
    }
    let ample = people.fingers.iter().filter(|fingers| fingers.short_of().is_empty()).count();
    if ample > 0 {
        let [behind, beside] = [Clause::FingersBehind, Clause::FingersBeside].map(|clause| least(clause, unit));
        let source = Clause::FingersBehind.source();
        let pulls = if ample == 1 { "1 pull".to_owned() } else { format!("{ample} pulls") };
        say(true, format!("room for fingers at {pulls}: {behind} behind a bar, {beside} beside a pull ({source})"));
    }
    let (within, outside): (Vec<&Pulled>, Vec<&Pulled>) =
        people.pulled.iter().partition(|pulled| Clause::Reach.is_met(pulled.height));
    let range = format!("{} to {}", least(Clause::Reach, unit), most(Clause::Reach, unit));
    let source = Clause::Reach.source();
    if !within.is_empty() {
        let taken = if within.len() == 1 {
            "1 drawer or door".to_owned()
        } else {
            format!("{} drawers and doors", within.len())
        };
        say(true, format!("{taken} within reach, {range} ({source})"));
    }
    let outside = outside.iter().map(|pulled| {
        let by = if pulled.by_edge { "upper edge" } else { "pull" };
        (false, name(model, pulled.mover), format!(": {by} {} above the floor", mm(pulled.height, unit)))
    });
    for (is_met, names, line) in together(outside) {
        say(is_met, format!("{names}{line}, out of {range} ({source})"));
    }
    let stored = people.stored;
    if stored.whole > 0.0 {
        let (share, source) = ((stored.share() * 100.0).floor(), Clause::Storage.source());
        let line = format!("{share:.0} % of what things are put on, by area, lies within {range}; half is asked for");
        say(stored.is_met(), format!("{line} ({source})"));
    }
    if let Some(height) = people.worktop_mm {
        let than = if Clause::Worktop.is_met(height) { "no higher than" } else { "higher than" };
        let (height, most, source) = (mm(height, unit), most(Clause::Worktop, unit), Clause::Worktop.source());
        say(true, format!("worktop {height} above the floor, {than} the {most} of one to sit at ({source})"));
    }
    let (kick, source) = (people.kick, Clause::Toe.source());
    let is = if kick.is_toe_clearance() { "toe clearance" } else { "to stand at, no toe clearance" };
    let asked = format!("{} high and {} deep", toe_height().show(unit), least(Clause::Toe, unit));
    let (height, depth) = (mm(kick.height, unit), mm(kick.depth, unit));
    say(true, format!("toe kick {height} high, {depth} deep: {is}, which is {asked} ({source})"));
    lines
}

/// Those of which the same is said in one line: whether it is met, their names, and what is said.
fn together<'m>(all: impl Iterator<Item = (bool, &'m str, String)>) -> Vec<(bool, String, String)> {
    let mut kept: Vec<(bool, Vec<&str>, String)> = Vec::new();
    for (is_met, name, line) in all {
        match kept.iter_mut().find(|(met, _, said)| (*met, said.as_str()) == (is_met, line.as_str())) {
            Some((_, names, _)) => names.push(name),
            None => kept.push((is_met, vec![name], line)),
        }
    }
    let said = |names: &[&str]| match names {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [one, other] => format!("{one} and {other}"),
        [one, rest @ ..] => format!("{one} and {} more", rest.len()),
    };
    kept.into_iter().map(|(is_met, names, line)| (is_met, said(&names), line)).collect()
}

/// The floor before one drawer or door; `None` where nothing stands opposite.
fn standing_line(model: &Model, standing: &Standing) -> Option<String> {
    let (room, opposite) = standing.room.zip(standing.opposite)?;
    let how = match model.mover(standing.mover).motion {
        Motion::Slide { .. } => "out",
        Motion::Swing { .. } => "open",
    };
    let (room, opposite) = (Length::mm(room).show_no_more(model.unit), part(model, opposite));
    let takes = match (standing.takes_clear_floor(), standing.leaves_a_way_past()) {
        (true, _) => "takes a clear floor space",
        (false, true) => "does not take a clear floor space; there is a way past",
        (false, false) => "does not take a clear floor space, nor a way past",
    };
    Some(format!(", {how}: {room} of floor to {opposite}, which {takes}"))
}

fn fingers_line(model: &Model, fingers: &Fingers) -> String {
    let unit = model.unit;
    let mut said = Vec::new();
    for clause in fingers.short_of() {
        let wanted = least(clause, unit);
        match (clause, fingers.behind, fingers.beside) {
            (Clause::FingersBehind, Some(behind), _) => {
                said.push(format!("{} behind it, {wanted} wanted", mm(behind, unit)));
            }
            (_, _, Some((other, beside))) => {
                said.push(format!("{} beside it to {}, {wanted} wanted", mm(beside, unit), part(model, other)));
            }
            _ => {}
        }
    }
    format!("{} ({})", said.join("; "), Clause::FingersBehind.source())
}

/// The same as JSON.
#[must_use]
pub fn people_json(model: &Model, people: &People) -> Value {
    let part = |id: PartId| model.part(id).name.as_str();
    let standing = people.standing.iter().map(|standing| {
        json!({
            "mover": name(model, standing.mover),
            "stands_out_mm": standing.stands_out,
            "opposite": standing.opposite.map(part),
            "room_mm": standing.room,
            "takes_clear_floor": standing.takes_clear_floor(),
            "leaves_a_way_past": standing.leaves_a_way_past(),
        })
    });
    let fingers = people.fingers.iter().map(|fingers| {
        json!({
            "mover": name(model, fingers.mover),
            "behind_mm": fingers.behind,
            "beside_mm": fingers.beside.map(|(_, beside)| beside),
            "beside": fingers.beside.map(|(other, _)| part(other)),
            "is_enough": fingers.short_of().is_empty(),
        })
    });
    let pulled = people.pulled.iter().map(|pulled| {
        json!({
            "mover": name(model, pulled.mover),
            "height_mm": pulled.height,
            "by_edge": pulled.by_edge,
            "within_reach": Clause::Reach.is_met(pulled.height),
        })
    });
    let clauses = [
        ("clear_floor", Clause::ClearFloor),
        ("walking", Clause::Walking),
        ("reach", Clause::Reach),
        ("storage", Clause::Storage),
        ("worktop", Clause::Worktop),
        ("toe", Clause::Toe),
        ("fingers_behind", Clause::FingersBehind),
        ("fingers_beside", Clause::FingersBeside),
    ];
    let clauses = clauses.map(|(key, clause)| {
        let figures = json!({
            "source": clause.source(),
            "least_mm": clause.least().map(Length::to_mm),
            "most_mm": clause.most().map(Length::to_mm),
        });
        (key.to_owned(), figures)
    });
    json!({
        "standing": standing.collect::<Vec<_>>(),
        "fingers": fingers.collect::<Vec<_>>(),
        "pulls": pulled.collect::<Vec<_>>(),
        "storage_within_reach": { "share": people.stored.share(), "by": "area", "is_met": people.stored.is_met() },
        "worktop_mm": people.worktop_mm,
        "toe_kick": {
            "height_mm": people.kick.height,
            "depth_mm": people.kick.depth,
            "is_toe_clearance": people.kick.is_toe_clearance(),
        },
        "clauses": serde_json::Map::from_iter(clauses),
        "note": GOVERNS,
    })
}

fn name(model: &Model, mover: MoverId) -> &str {
    &model.mover(mover).name
}

fn part(model: &Model, id: PartId) -> &str {
    &model.part(id).name
}

fn mm(mm: f64, unit: Unit) -> String {
    Length::mm(mm).show(unit)
}

fn least(clause: Clause, unit: Unit) -> String {
    clause.least().unwrap_or_default().show(unit)
}

fn most(clause: Clause, unit: Unit) -> String {
    clause.most().unwrap_or_default().show(unit)
}
