//! What does the installer mark on walls and floor? Lines and JSON of the marks.

use serde_json::{Value, json};

use super::super::Mark;
use crate::install::Installation;
use crate::install::marks::{MarkKind, WallMark, WallMarks};
use crate::length::{Length, Unit};

/// Lines to read.
pub(super) fn lines(installation: &Installation) -> Vec<(Mark, String)> {
    let unit = installation.model.unit;
    let mut lines = Vec::new();
    for wall in &installation.marks {
        lines.push((Mark::Heading, format!("Marks on the {} wall, from the corner", wall.side.word())));
        lines.extend(table(wall, unit).into_iter().map(|line| (Mark::Plain, line)));
    }
    let caution = "Find studs, pipes and cables with a detector before drilling or driving a screw, and try a stud with a \
                   thin nail where the unit will hide it. Cables and pipes need not run where they are expected: turn off \
                   what may be hit, and leave gas and wiring to licensed people. Local codes decide.";
    lines.push((Mark::Plain, caution.to_owned()));
    lines
}

/// The marks of one wall, a line each.
pub(super) fn table(wall: &WallMarks, unit: Unit) -> Vec<String> {
    let show = |mm: f64| Length::mm(mm).show(unit);
    let [along, out, below] = wall.level.starts_at;
    let high = if below > crate::length::SNAP_MM {
        format!("{} lower than the highest under both runs", show(below))
    } else {
        "the highest under both runs: the level line starts there".to_owned()
    };
    let mut lines =
        vec![format!("Level line, the units' upper edge: {} above the highest floor.", show(wall.level.height))];
    if wall.level.floor_measured {
        let place = format!("{} along, {} out from the wall's line", show(along.max(0.0)), show(out));
        lines.push(format!("  Highest floor under this run: {place}, {high}."));
        let heights = wall.level.above_floor.iter();
        let heights: Vec<String> = heights.map(|[a, h]| format!("{} at {}", show(*h), show(*a))).collect();
        lines.push(format!("  Above the floor at the wall: {}.", heights.join("; ")));
    } else {
        lines.push("  The floor's levels were not taken: find its highest point under both runs first.".to_owned());
    }
    lines.extend(wall.marks.iter().map(|mark| line(mark, unit)));
    if !wall.studs_known {
        lines.push("  Studs are not known: find and mark them first.".to_owned());
    }
    let face = if wall.from_baseboard { "the baseboard's face" } else { "the wall's face" };
    for floor in &wall.floor {
        let [near, far] = [floor.near, floor.far].map(|[a, o]| format!("{} out at {}", show(o), show(a)));
        lines.push(format!("On the floor, {}: {near}, {far}, from {face}.", floor.name));
    }
    lines
}

fn line(mark: &WallMark, unit: Unit) -> String {
    let show = |mm: f64| Length::mm(mm).show(unit);
    let at = show(mark.along);
    let behind = mark
        .behind
        .map_or(String::new(), |(unit, off)| format!(", {} from the near side of unit {}", show(off), unit + 1));
    match (mark.kind, mark.above_level) {
        (MarkKind::UnitEdge, _) => format!("  {at}: plumb line, {}", mark.name),
        (kind, None) => format!("  {at}: {}{behind}", kind.word()),
        (kind, Some(above)) => {
            let way = if above < 0.0 { "below" } else { "above" };
            let kind = if mark.name == kind.word() { String::new() } else { format!("{} ", kind.word()) };
            format!("  {at}: {kind}{}, centre {} {way} the level line{behind}", mark.name, show(above.abs()))
        }
    }
}

/// The same for machines.
pub(super) fn json(installation: &Installation) -> Value {
    installation.marks.iter().map(wall_json).collect()
}

fn wall_json(wall: &WallMarks) -> Value {
    let marks: Vec<Value> = wall
        .marks
        .iter()
        .map(|mark| {
            json!({
                "along_mm": mark.along,
                "kind": mark.kind.word(),
                "name": mark.name,
                "above_level_mm": mark.above_level,
                "size_mm": mark.size,
                "unit": mark.behind.map(|(unit, _)| unit + 1),
                "from_near_side_mm": mark.behind.map(|(_, off)| off),
            })
        })
        .collect();
    let floor: Vec<Value> =
        wall.floor.iter().map(|line| json!({ "name": line.name, "near_mm": line.near, "far_mm": line.far })).collect();
    let [along, out, below] = wall.level.starts_at;
    json!({
        "wall": wall.side.word(),
        "length_mm": wall.length,
        "level_line": {
            "height_mm": wall.level.height,
            "floor_measured": wall.level.floor_measured,
            "highest_floor": { "along_mm": along, "out_mm": out, "below_highest_mm": below },
            "above_floor_mm": wall.level.above_floor,
        },
        "marks": marks,
        "studs_known": wall.studs_known,
        "floor_lines": floor,
        "floor_lines_from": if wall.from_baseboard { "baseboard" } else { "wall" },
    })
}
