//! What does the plan file say? From RON text to a [`Plan`], or every problem in the text at once.
//!
//! [`read`] takes text and gives a plan that can be built. The structure is parsed by the `ron` crate, one level at a
//! time (see `node`), each value by our own code, so that one bad value does not hide the next. What the file says is
//! read here; whether it can be built is the question of [`super::check`]. Nothing here does I/O.

mod build;
mod finish;
mod hardware;
mod joinery;
mod leaf;
mod node;
mod opposite;
mod reader;
mod room;
mod run;
mod spelling;
mod stock;
mod survey;
mod syntax;
pub(in crate::plan) mod text;
mod tolerance;
mod wood;

pub(in crate::plan) use leaf::string;
pub(in crate::plan) use node::excerpt;
use reader::{Fields, Reader};

use super::{Plan, Problem, Problems, RunAngle, Side, check};
use crate::length::Unit;

/// A larger text is refused unread: five hundred times a large plan.
pub const LARGEST_PLAN_BYTES: usize = 2_000_000;

/// Most units in both runs together, so that no answer takes minutes.
pub(super) const MOST_UNITS: usize = 2_000;

/// Most obstacles, pulls or slides.
const MOST_THINGS: usize = 500;

/// Reads the plan in `text`, which came from the file `name`.
///
/// # Errors
/// Every problem in the text: what is not RON, not known, missing, out of its range, or cannot be built.
pub fn read(name: &str, text: &str) -> Result<Plan, Problems> {
    if text.len() > LARGEST_PLAN_BYTES {
        let problem = Problem {
            code: "plan::size",
            message: format!("the plan of `{}` bytes is larger than {LARGEST_PLAN_BYTES} bytes", text.len()),
            help: "a plan is a text file of a few pages; is this the right file?".to_owned(),
            span: 0..0,
            path: "plan".to_owned(),
        };
        // The text is left out: nobody wants it shown.
        return Err(Problems::new(name, "", vec![problem]));
    }
    let given = match node::outermost(text) {
        Ok(given) => given,
        Err(error) => return Err(Problems::new(name, text, vec![syntax::problem(text, &error)])),
    };
    let mut reader = Reader::new(text);
    let start = text::blank(text);
    let fields = reader.start("the plan", String::new(), start..text.len().min(start + 1), given);
    let plan = plan(&mut reader, fields, name);
    // Lengths without a unit have no size that could be checked.
    if !reader.is_broken("units") {
        reader.report(check::faults(&plan));
    }
    let problems = reader.into_problems();
    if problems.is_empty() { Ok(plan) } else { Err(Problems::new(name, text, problems)) }
}

fn plan<'a>(reader: &mut Reader<'a>, mut fields: Fields<'a>, file: &str) -> Plan {
    let units = [("Millimetre", Unit::Millimetre), ("Inch", Unit::Inch)];
    let unit = reader.require(&mut fields, "units", "say `units: Millimetre` or `units: Inch`");
    reader.unit = unit.and_then(|node| reader.choice(&node, &units)).unwrap_or(Unit::Millimetre);
    let name = reader.optional_name(&mut fields, "name").unwrap_or_else(|| stem(file));
    let room = room::room(reader, &mut fields);
    let run_angle = run_angle(reader, &mut fields, room.angle_deg);
    let construction = build::construction(reader, &mut fields);
    let joinery = joinery::joinery(reader, &mut fields, &construction);
    let stock = stock::stock(reader, &mut fields, &construction);
    let pulls = hardware::pulls(reader, &mut fields);
    let slides = hardware::slides(reader, &mut fields);
    let shop = run::Shop { construction: &construction, pulls: &pulls, slides: &slides };
    let left = run::run(reader, &mut fields, Side::Left, &shop);
    let right = run::run(reader, &mut fields, Side::Right, &shop);
    let countertop = build::countertop(reader, &mut fields);
    let corner = room::corner(reader, &mut fields);
    let clearance = room::clearance(reader, &mut fields);
    let fixing = survey::fixing(reader, &mut fields);
    let tolerances = tolerance::tolerances(reader, &mut fields);
    let wood = wood::wood(reader, &mut fields);
    let finishes = finish::finishes(reader, &mut fields);
    reader.finish(fields);
    let unit = reader.unit;
    Plan {
        name,
        unit,
        room,
        run_angle,
        construction,
        joinery,
        stock,
        pulls,
        slides,
        left,
        right,
        countertop,
        corner,
        clearance,
        tolerances,
        wood,
        fixing,
        finishes,
    }
}

/// The file's name without its folder and ending, for a plan that does not name itself.
fn stem(file: &str) -> String {
    let stem = std::path::Path::new(file).file_stem().and_then(|stem| stem.to_str()).unwrap_or_default();
    if stem.is_empty() { "plan".to_owned() } else { excerpt(stem) }
}

fn run_angle<'a>(reader: &mut Reader<'a>, fields: &mut Fields<'a>, room_angle_deg: f64) -> RunAngle {
    let Some(node) = fields.take("run_angle") else {
        // Which way was meant is a guess that moves every unit, so it is not made.
        let is_known = !reader.is_broken("room.angle") && !reader.is_broken("room.survey.corner");
        if !check::NEARLY_SQUARE_DEG.contains(&room_angle_deg) && is_known {
            reader.require(
                fields,
                "run_angle",
                "the walls are far from square: say `run_angle: AlongWalls`, `run_angle: Square` or `run_angle: Degrees(135)`",
            );
        }
        return RunAngle::Square;
    };
    let words = ["Square", "AlongWalls", "Degrees"];
    match node.head() {
        Some(head) if head.name == "Degrees" => {
            let value = reader.only_value(&node, head.payload, "Degrees(135)");
            value.and_then(|value| reader.degrees(&value)).map_or(RunAngle::Square, RunAngle::Degrees)
        }
        Some(head) if head.name == "Square" && head.payload.is_none() => RunAngle::Square,
        Some(head) if head.name == "AlongWalls" && head.payload.is_none() => RunAngle::AlongWalls,
        _ => {
            reader.refuse_choice(&node, &words);
            RunAngle::Square
        }
    }
}
