//! What was measured of the room, and how the units are fixed in it, as the file says it.
//!
//! A length that cannot be read stands as 0 in its list, so that the places of the others stay theirs.

use super::MOST_THINGS;
use super::node::Node;
use super::reader::{Fields, Reader};
use super::room::SIDES;
use crate::length::Length;
use crate::plan::{
    BackLine, Between, CornerMeasure, Fixing, Fixture, FixtureKind, FloorLevel, Plumb, Reading, Side, Studs, Survey,
    WallMade, WallSurvey, WayIn, defaults,
};

const ALONG: &str = "measure from the corner along the wall's measuring line";
const UP: &str = "measure it from the finished floor up";

pub(super) fn survey<'a>(reader: &mut Reader<'a>, room: &mut Fields<'a>) -> Survey {
    let Some(node) = room.take("survey") else { return Survey::usual(reader.unit) };
    let mut fields = reader.fields("a survey", &node);
    let survey = Survey {
        left: wall(reader, &mut fields, Side::Left),
        right: wall(reader, &mut fields, Side::Right),
        corner: fields.take("corner").and_then(|node| corner(reader, &node)),
        floor: list(reader, &mut fields, "floor", "floor levels", floor_level),
        flooring: reader.length_or(&mut fields, "flooring", Length::ZERO),
        way_in: fields.take("way_in").and_then(|node| way_in(reader, &node)),
    };
    reader.finish(fields);
    survey
}

/// The items of the list `name`, each read by `one`; none where it is not given.
fn list<'a, T>(
    reader: &mut Reader<'a>,
    fields: &mut Fields<'a>,
    name: &'static str,
    what: &str,
    one: fn(&mut Reader<'a>, &Node<'a>) -> T,
) -> Vec<T> {
    let Some(node) = fields.take(name) else { return Vec::new() };
    reader.items(what, MOST_THINGS, &node).iter().map(|node| one(reader, node)).collect()
}

fn length<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Length {
    reader.length(node).unwrap_or(Length::ZERO)
}

fn wall<'a>(reader: &mut Reader<'a>, survey: &mut Fields<'a>, side: Side) -> WallSurvey {
    let Some(node) = survey.take(side.word()) else { return WallSurvey::usual(reader.unit) };
    let mut fields = reader.fields("a surveyed wall", &node);
    let between = [("Straight", Between::Straight), ("Curved", Between::Curved)];
    let wall = WallSurvey {
        readings: list(reader, &mut fields, "readings", "readings", reading),
        between: reader.choice_or(&mut fields, "between", Between::default(), &between),
        plumb: list(reader, &mut fields, "plumb", "plumb readings", plumb),
        lengths: fields.take("lengths").and_then(|node| lengths(reader, &node)),
        studs: fields.take("studs").map_or(Studs::Unknown, |node| studs(reader, &node)),
        made_of: fields.take("made_of").map_or(WallMade::usual(reader.unit), |node| made_of(reader, &node)),
        fixtures: list(reader, &mut fields, "fixtures", "fixtures", fixture),
    };
    reader.finish(fields);
    wall
}

fn reading<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Reading {
    let mut fields = reader.fields("a reading", node);
    let gap = "measure from the measuring line to the wall, square to the line";
    let reading = Reading {
        along: reader.required_length(&mut fields, "along", ALONG),
        height: reader.required_length(&mut fields, "height", UP),
        gap: reader.required_length(&mut fields, "gap", gap),
    };
    reader.finish(fields);
    reading
}

fn plumb<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Plumb {
    let mut fields = reader.fields("a plumb reading", node);
    let back =
        "give how far the wall lies further back up there than at the floor; negative where it leans into the room";
    let plumb = Plumb {
        along: reader.required_length(&mut fields, "along", ALONG),
        over: reader.required_length(&mut fields, "over", "give the height that the level or line reached up to"),
        back_by: reader.required_length(&mut fields, "back_by", back),
    };
    reader.finish(fields);
    plumb
}

fn lengths<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Option<[Length; 3]> {
    if reader.absent(node, "(floor: 2510, middle: 2508, top: 2513)")? {
        return None;
    }
    let mut fields = reader.fields("a wall's three lengths", node);
    let lengths = ["floor", "middle", "top"].map(|name| {
        reader.required_length(&mut fields, name, "measure the wall at the floor, at mid height and at the countertop")
    });
    reader.finish(fields);
    Some(lengths)
}

/// `Unknown`, `Spaced(…)`, or a list of middles.
fn studs<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Studs {
    if node.text.starts_with('[') {
        let items = reader.items("studs", MOST_THINGS, node);
        let middles: Vec<Length> = items.iter().map(|node| length(reader, node)).collect();
        if middles.is_empty() {
            let help = "list the middles from the corner outwards, or write `Unknown`";
            reader.refuse("plan::count", node, "`0` studs are listed".to_owned(), help);
        }
        return Studs::At(middles);
    }
    match node.head() {
        Some(head) if head.name == "Unknown" && head.payload.is_none() => Studs::Unknown,
        Some(head) if head.name == "Spaced" => {
            let mut fields = reader.head_fields("a row of studs", node, head.payload);
            let one_at = reader.required_length(&mut fields, "one_at", "give the middle of one stud, from the corner");
            let spacing = reader.required_length(&mut fields, "spacing", "measure from middle to middle");
            reader.finish(fields);
            Studs::Spaced { one_at, spacing }
        }
        _ => {
            let message = format!("`{}` is not one of the choices here", node.excerpt());
            let help = "the choices are `Unknown`, `Spaced`, and a list of middles such as [406, 813, 1219]";
            reader.refuse("plan::choice", node, message, help);
            Studs::Unknown
        }
    }
}

fn made_of<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> WallMade {
    let unit = reader.unit;
    match node.head() {
        Some(head) if head.name == "Masonry" && head.payload.is_none() => WallMade::Masonry,
        Some(head) if head.name == "Framed" => {
            let mut fields = reader.head_fields("a framed wall", node, head.payload);
            let board = reader.length_or(&mut fields, "board", defaults::WALL_BOARD.of(unit));
            let stud = reader.length_or(&mut fields, "stud", defaults::STUD.of(unit));
            reader.finish(fields);
            WallMade::Framed { board, stud }
        }
        _ => {
            reader.refuse_choice(node, &["Framed", "Masonry"]);
            WallMade::usual(unit)
        }
    }
}

/// One fixture; what cannot be read becomes an outlet, marked as broken.
fn fixture<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Fixture {
    const KINDS: [(&str, FixtureKind, &str); 8] = [
        ("Outlet", FixtureKind::Outlet, "an outlet"),
        ("JunctionBox", FixtureKind::JunctionBox, "a junction box"),
        ("Pipe", FixtureKind::Pipe, "a pipe"),
        ("Gas", FixtureKind::Gas, "a gas pipe"),
        ("Valve", FixtureKind::Valve, "a valve"),
        ("Register", FixtureKind::Register, "a register"),
        ("Casing", FixtureKind::Casing, "a casing on the wall"),
        ("Sill", FixtureKind::Sill, "a sill"),
    ];
    let unit = reader.unit;
    let head = node.head();
    let known = head.as_ref().and_then(|head| KINDS.iter().find(|(word, ..)| *word == head.name));
    let Some((_, kind, what)) = known.copied() else {
        reader.refuse_choice(node, &KINDS.map(|(word, ..)| word));
        let (along, above, width) = (Length::ZERO, Length::ZERO, Length::ZERO);
        let (kind, name, height, out) = (FixtureKind::Outlet, "fixture".to_owned(), width, width);
        return Fixture { kind, name, along, above, width, height, out };
    };
    let mut fields = reader.head_fields(what, node, head.and_then(|head| head.payload));
    let name = reader.optional_name(&mut fields, "name").unwrap_or_else(|| kind.word().to_owned());
    let along = reader.required_length(&mut fields, "along", "measure from the corner along the wall to its centre");
    let above = reader.required_length(&mut fields, "above", "measure from the finished floor up to its centre");
    let usual = match kind {
        FixtureKind::Outlet | FixtureKind::JunctionBox => {
            Some([defaults::PLATE_WIDTH.of(unit), defaults::PLATE_HEIGHT.of(unit)])
        }
        _ => None,
    };
    let [width, height] = match usual {
        Some([width, height]) => {
            [reader.length_or(&mut fields, "width", width), reader.length_or(&mut fields, "height", height)]
        }
        None => ["width", "height"]
            .map(|name| reader.required_length(&mut fields, name, "give its own size along the wall and upwards")),
    };
    let out = reader.length_or(&mut fields, "out", Length::ZERO);
    reader.finish(fields);
    Fixture { kind, name, along, above, width, height, out }
}

fn corner<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Option<CornerMeasure> {
    match node.head() {
        Some(head) if head.name == "Absent" && head.payload.is_none() => None,
        Some(head) if head.name == "Triangle" => {
            let mut fields = reader.head_fields("a triangle", node, head.payload);
            let mark =
                "mark a point on each wall's line, and measure from the corner to both and from one to the other";
            let [left, right, across] =
                ["left", "right", "across"].map(|name| reader.required_length(&mut fields, name, mark));
            reader.finish(fields);
            Some(CornerMeasure::Triangle { left, right, across })
        }
        Some(head) if head.name == "Diagonals" => {
            let mut fields = reader.head_fields("a pair of diagonals", node, head.payload);
            let all = "measure all four walls and both diagonals along the floor";
            let mut measure = |name| reader.required_length(&mut fields, name, all);
            let corner = CornerMeasure::Diagonals {
                left: measure("left"),
                right: measure("right"),
                opposite_left: measure("opposite_left"),
                opposite_right: measure("opposite_right"),
                across: measure("across"),
                through: measure("through"),
            };
            reader.finish(fields);
            Some(corner)
        }
        _ => {
            reader.refuse_choice(node, &["Absent", "Triangle", "Diagonals"]);
            None
        }
    }
}

fn floor_level<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> FloorLevel {
    let mut fields = reader.fields("a floor level", node);
    let wall = reader.require(&mut fields, "wall", "say `wall: Left` or `wall: Right`");
    let level = "give how high the floor is there over any level line; negative where it is lower";
    let floor_level = FloorLevel {
        wall: wall.and_then(|node| reader.choice(&node, &SIDES)).unwrap_or(Side::Left),
        along: reader.required_length(&mut fields, "along", "measure from the corner along the wall"),
        out: reader.length_or(&mut fields, "out", Length::ZERO),
        level: reader.required_length(&mut fields, "level", level),
    };
    reader.finish(fields);
    floor_level
}

fn way_in<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Option<WayIn> {
    if reader.absent(node, "(width: 760, height: 2000)")? {
        return None;
    }
    let mut fields = reader.fields("a way in", node);
    let narrowest = "measure the narrowest door, stair or passage on the way, clear of its stops and handles";
    let way_in = WayIn {
        width: reader.required_length(&mut fields, "width", narrowest),
        height: reader.required_length(&mut fields, "height", narrowest),
        turn: reader.optional_length(&mut fields, "turn"),
    };
    reader.finish(fields);
    Some(way_in)
}

pub(super) fn fixing<'a>(reader: &mut Reader<'a>, plan: &mut Fields<'a>) -> Fixing {
    let mut fixing = Fixing::usual(reader.unit);
    let Some(node) = plan.take("fixing") else { return fixing };
    let mut fields = reader.fields("a fixing", &node);
    let lines = [("Parallel", BackLine::Parallel), ("LeastGap", BackLine::LeastGap)];
    fixing.line = reader.choice_or(&mut fields, "line", fixing.line, &lines);
    fixing.bite = reader.length_or(&mut fields, "bite", fixing.bite);
    fixing.screws = list(reader, &mut fields, "screws", "screws", length);
    fixing.shim_also = list(reader, &mut fields, "shim_also", "places for shims", shim_at);
    fixing.shim_step = reader.length_or(&mut fields, "shim_step", fixing.shim_step);
    reader.finish(fields);
    fixing
}

fn shim_at<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> (Side, Length) {
    let mut fields = reader.fields("a place for a shim", node);
    let wall = reader.require(&mut fields, "wall", "say `wall: Left` or `wall: Right`");
    let side = wall.and_then(|node| reader.choice(&node, &SIDES)).unwrap_or(Side::Left);
    let along = reader.required_length(&mut fields, "along", "measure from the corner along the wall");
    reader.finish(fields);
    (side, along)
}
