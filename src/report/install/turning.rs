//! Which pieces must be turned to go in, in words and as JSON.

use serde_json::{Value, json};

use super::super::Mark;
use crate::install::Installation;
use crate::install::fit::{Before, Carried, CarriedIn, Entry, Piece, Play, Pose, Seen, TurnIn};
use crate::length::{Length, Unit};
use crate::model::{Model, Vec3};

/// Lines to read.
pub(super) fn lines(installation: &Installation) -> Vec<(Mark, String)> {
    let (model, pieces) = (&installation.model, &installation.turning_in);
    let mut lines = vec![(Mark::Heading, "Going in".to_owned())];
    for (kind, many) in KINDS {
        let of_kind: Vec<&TurnIn> = pieces.iter().filter(|turned| turned.piece == kind).collect();
        let plain = |turned: &&TurnIn| turned.entry == Entry::Straight && turned.before == Before::Nothing;
        let (straight, other): (Vec<&TurnIn>, Vec<&TurnIn>) = of_kind.iter().copied().partition(plain);
        match (straight.len(), other.len()) {
            (0, _) => {}
            (1, 0) => lines.push((Mark::Good, format!("{}: straight in.", straight[0].name))),
            (n, 0) => lines.push((Mark::Good, format!("{many}: all {n} straight in."))),
            (n, _) => lines.push((Mark::Good, format!("{many}: {n} of {} straight in.", of_kind.len()))),
        }
        lines.extend(other.iter().map(|turned| (mark(turned), turned_line(turned, model))));
    }
    if !installation.carried_in.is_empty() {
        lines.push((Mark::Heading, "Through the way in".to_owned()));
        lines.extend(installation.carried_in.iter().map(|carried| carried_line(carried, model.unit)));
        lines.push((Mark::Plain, LIFTING.to_owned()));
    }
    lines
}

/// Common practice, no source.
const LIFTING: &str =
    "Carry units with two people or more, drawers and doors off; see the weights in the list of parts.";

const KINDS: [(Piece, &str); 4] = [
    (Piece::Shelf, "Loose shelves"),
    (Piece::DrawerBox, "Drawer boxes"),
    (Piece::FillerFace, "Filler faces"),
    (Piece::KickCover, "Kick covers"),
];

fn mark(turned: &TurnIn) -> Mark {
    match turned.entry {
        Entry::Straight | Entry::Moves | Entry::Turned => Mark::Plain,
        Entry::TooTight { .. } | Entry::NoWay => Mark::Bad,
    }
}

/// How one piece goes in, in words.
#[must_use]
pub fn turned_line(turned: &TurnIn, model: &Model) -> String {
    let unit = model.unit;
    let how = match turned.entry {
        Entry::Straight if turned.before == Before::Countertop => "let down from above".to_owned(),
        Entry::Straight => "straight in".to_owned(),
        Entry::Moves => format!("in several moves {}, none a turn", plane(turned.seen)),
        Entry::Turned => format!("turned {}, by up to {:.1}°", plane(turned.seen), most_turned(turned)),
        Entry::TooTight { short } => {
            format!("no way found {}; {} shorter it goes in", plane(turned.seen), Length::mm(short).show_no_less(unit))
        }
        Entry::NoWay => "no way found".to_owned(),
    };
    let play = turned.play.map_or_else(String::new, |play| play_words(play, unit));
    let before = match turned.before {
        Before::Nothing => "",
        Before::Countertop => ", before the countertop is on",
        Before::ShelfFrame => ", before the shelf frame is on",
        Before::Pulls => ", before the pulls are on",
        Before::Fronts => ", before the fronts are on",
    };
    let way =
        turned.in_the_way.map_or_else(String::new, |id| format!(" In its straight way: {}.", model.part(id).name));
    format!("{}: {how}{before}.{play}{way}", turned.name)
}

/// The least play and what there is, each rounded to the safe side.
fn play_words(play: Play, unit: Unit) -> String {
    let [has, most] = [play.has, play.at_most].map(Length::mm);
    format!(
        " It needs {} of play the longer way at the most ({} is proved too little) and has {}.",
        most.show_no_less(unit),
        Length::mm(play.at_least).show_no_more(unit),
        has.show_no_more(unit)
    )
}

fn plane(seen: Seen) -> &'static str {
    match seen {
        Seen::Above => "seen from above",
        Seen::End => "seen from the run's end",
        Seen::Room => "seen from the room",
    }
}

/// The greatest turn on its way, degrees.
fn most_turned(turned: &TurnIn) -> f64 {
    let poses = turned.way.iter().flat_map(|way| &way.poses);
    poses.map(|pose| pose.angle.abs().to_degrees()).fold(0.0, f64::max)
}

const DIRECTIONS: [&str; 3] = ["its side", "its back", "its base"];

/// How one unit comes through the way in, in words.
#[must_use]
pub fn carried_line(carried: &CarriedIn, unit: Unit) -> (Mark, String) {
    let size = carried.size.map(|size| Length::mm(size).show_bare(unit)).join(" × ");
    let (mark, how) = match carried.goes {
        Carried::Straight { upright } => (Mark::Good, format!("straight, standing on {}", DIRECTIONS[upright])),
        Carried::Turned { upright } => {
            (Mark::Good, format!("turned about the corner, standing on {}", DIRECTIONS[upright]))
        }
        Carried::Tilted { first } => (Mark::Plain, format!("tilted in the opening, {} first", DIRECTIONS[first])),
        Carried::TooLarge { short } => (
            Mark::Bad,
            format!("does not come through: the way would have to be {} wider", Length::mm(short).show_no_less(unit)),
        ),
    };
    (mark, format!("{} ({size} {}): {how}.", carried.name, unit.symbol()))
}

/// The same for machines.
pub(super) fn json(installation: &Installation) -> Value {
    let model = &installation.model;
    let pieces: Vec<Value> = installation.turning_in.iter().map(|turned| piece_json(turned, model)).collect();
    let units: Vec<Value> = installation.carried_in.iter().map(carried_json).collect();
    json!({ "pieces": pieces, "units": units })
}

fn piece_json(turned: &TurnIn, model: &Model) -> Value {
    let piece = match turned.piece {
        Piece::KickCover => "kick_cover",
        Piece::FillerFace => "filler_face",
        Piece::Shelf => "shelf",
        Piece::DrawerBox => "drawer_box",
    };
    let (goes, short) = match turned.entry {
        Entry::Straight => ("straight", None),
        Entry::Moves => ("moves", None),
        Entry::Turned => ("turned", None),
        Entry::TooTight { short } => ("too_tight", Some(short)),
        Entry::NoWay => ("no_way", None),
    };
    let before = match turned.before {
        Before::Nothing => None,
        Before::Countertop => Some("countertop"),
        Before::ShelfFrame => Some("shelf_frame"),
        Before::Pulls => Some("pulls"),
        Before::Fronts => Some("fronts"),
    };
    let seen = match turned.seen {
        Seen::Above => "above",
        Seen::End => "end",
        Seen::Room => "room",
    };
    let play =
        turned.play.map(|play| json!({ "has_mm": play.has, "at_least_mm": play.at_least, "at_most_mm": play.at_most }));
    let names: Vec<&str> = turned.parts.iter().map(|&id| model.part(id).name.as_str()).collect();
    let way: Option<Vec<Value>> = turned.way.as_ref().map(|way| way.poses.iter().map(pose_json).collect());
    json!({
        "piece": piece, "name": turned.name, "parts": names, "goes": goes, "short_mm": short, "before": before,
        "seen_from": seen, "in_the_way": turned.in_the_way.map(|id| model.part(id).name.as_str()), "play": play, "way": way,
    })
}

fn pose_json(pose: &Pose) -> Value {
    let point = |v: Vec3| [v.x, v.y, v.z];
    json!({
        "about_mm": point(pose.about), "axis": point(pose.axis), "angle_deg": pose.angle.to_degrees(),
        "shift_mm": point(pose.shift),
    })
}

fn carried_json(carried: &CarriedIn) -> Value {
    let (goes, direction, short) = match carried.goes {
        Carried::Straight { upright } => ("straight", Some(upright), None),
        Carried::Turned { upright } => ("turned", Some(upright), None),
        Carried::Tilted { first } => ("tilted", Some(first), None),
        Carried::TooLarge { short } => ("too_large", None, Some(short)),
    };
    let direction = direction.map(|k| ["along", "out", "up"][k]);
    json!({
        "name": carried.name, "run": carried.side.word(), "unit": carried.unit + 1, "size_mm": carried.size, "goes": goes,
        "direction": direction, "short_mm": short,
    })
}
