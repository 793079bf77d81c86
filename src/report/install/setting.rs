//! How do the runs stand in the room, in words and as JSON? Both ways side by side, and the gaps that the chosen one leaves.

use serde_json::{Value, json};

use super::super::Mark;
use crate::install::{GapAt, Installation, RunSet, Set};
use crate::length::Length;
use crate::plan::{BackLine, Side};

/// Lines to read.
pub(super) fn lines(installation: &Installation) -> Vec<(Mark, String)> {
    let unit = installation.model.unit;
    let set = &installation.setting;
    let mut lines = vec![(Mark::Heading, "Where the runs stand".to_owned())];
    lines.push((
        Mark::Plain,
        format!("  The walls meet at {}, the runs at {}.", degrees(set.room_angle_deg), degrees(set.run_angle_deg)),
    ));
    let how = match set.line {
        BackLine::Parallel => "the left run is parallel to its measuring line, as the plan says",
        BackLine::LeastGap => "turned so that the greatest gap behind the nailers is least",
    };
    lines.push((Mark::Plain, format!("  Back line: {how}.")));
    for run in &set.runs {
        lines.extend(run_lines(run, unit).into_iter().map(|(mark, line)| (mark, format!("  {line}"))));
    }
    if let Some(spot) = &set.highest {
        let [along, out] = [spot.along, spot.out].map(|mm| Length::mm(mm).show(unit));
        let line = format!(
            "  The floor is highest {along} along the {} wall and {out} out from it: the level line starts there.",
            spot.wall.word()
        );
        lines.push((Mark::Plain, line));
    }
    lines.push((Mark::Heading, "Both ways".to_owned()));
    match &installation.other_way {
        None => {
            lines.push((Mark::Plain, "  Square to each other and along the walls come to the same here.".to_owned()));
        }
        Some(other) => {
            for (set, chosen) in [(set, "as the plan says"), (other, "the other way")] {
                lines.extend(way_lines(set, chosen, unit).into_iter().map(|line| (Mark::Plain, line)));
            }
        }
    }
    lines
}

fn degrees(degrees: f64) -> String {
    let text = format!("{degrees:.2}");
    format!("{}°", text.trim_end_matches('0').trim_end_matches('.'))
}

fn place(at: &GapAt, unit: crate::length::Unit) -> String {
    format!("{} from the corner, {} up", at.along.show(unit), at.height.show(unit))
}

/// From the wall line to a run, in words.
fn tilt(run: &RunSet) -> String {
    let tilt = run.lie.tilt.to_degrees();
    if tilt.abs() < 5e-4 {
        "parallel to the measuring line".to_owned()
    } else {
        let way = if tilt > 0.0 { "leaves" } else { "nears" };
        format!("{:.3}° to the measuring line ({way} it from the corner on)", tilt.abs())
    }
}

fn run_lines(run: &RunSet, unit: crate::length::Unit) -> Vec<(Mark, String)> {
    let side = run.side.word();
    let mut lines = vec![
        (
            Mark::Plain,
            format!(
                "{side} run: {} to {} from the corner, {}",
                run.along[0].show(unit),
                run.along[1].show(unit),
                tilt(run)
            ),
        ),
        (Mark::Plain, format!("  touches {}", place(&run.touches, unit))),
    ];
    for row in &run.rows {
        let line = if row.touches_nowhere() {
            format!(
                "  {}: touches nowhere; gap {} to {}",
                row.name,
                row.least.gap.show(unit),
                row.greatest.gap.show(unit)
            )
        } else {
            format!("  {}: gap up to {}", row.name, row.greatest.gap.show(unit))
        };
        lines.push((Mark::Plain, format!("{line}, at {}", place(&row.greatest, unit))));
    }
    for edge in &run.edges {
        let there = run.rows.iter().zip(&edge.gaps).filter(|(row, _)| row.is_at(edge.s));
        let gaps: Vec<String> = there.map(|(row, gap)| format!("{} {}", row.name, gap.show(unit))).collect();
        if !gaps.is_empty() {
            let line = format!("  unit end at {}: {}", edge.along.show(unit), gaps.join(", "));
            lines.push((Mark::Plain, line));
        }
    }
    let spared = run.greatest.gap - run.alone.greatest.gap;
    if spared.to_mm() > 0.5 {
        lines.push((
            Mark::Plain,
            format!(
                "  turned alone to {:.3}° its greatest gap would be {}, not {}",
                run.alone.lie.tilt.to_degrees().abs(),
                run.alone.greatest.gap.show(unit),
                run.greatest.gap.show(unit)
            ),
        ));
    }
    let heights = ["at the floor", "at half height", "at the top"];
    let lacks = run.left_over.iter().any(|left| left.to_mm() < -1e-6);
    let left: Vec<String> =
        run.left_over.iter().zip(heights).map(|(left, at)| format!("{} {at}", left.show(unit))).collect();
    let line = if lacks {
        format!("  ! the run does not fit before the end of its wall: {} left", left.join(", "))
    } else {
        format!("  left of the wall past its end: {}", left.join(", "))
    };
    lines.push((if lacks { Mark::Bad } else { Mark::Plain }, line));
    lines
}

/// One of the two ways in short.
fn way_lines(set: &Set, chosen: &str, unit: crate::length::Unit) -> Vec<String> {
    let mut lines = vec![format!("  Runs at {} ({chosen}):", degrees(set.run_angle_deg))];
    let [left, right] = Side::BOTH.map(|side| set.fillers.of(side).show(unit));
    let bevel = if set.filler_bevel_deg > 1e-9 {
        format!("their ends sawn {} off square", degrees(set.filler_bevel_deg))
    } else {
        "their ends square".to_owned()
    };
    lines.push(format!("    fillers {left} left, {right} right, {bevel}"));
    for run in &set.runs {
        let side = run.side.word();
        lines.push(format!(
            "    {side}: greatest gap behind the nailers {}, at {}",
            run.greatest.gap.show(unit),
            place(&run.greatest, unit)
        ));
        if let Some(top) = run.countertop.filter(|top| top.gap > Length::ZERO) {
            lines.push(format!(
                "    {side}: the countertop reaches back {} further than the units, most {} from the corner",
                top.gap.show(unit),
                top.along.show(unit)
            ));
        }
        if let Some(end) = run.seen_at_end.filter(|end| end.gap.gap > Length::ZERO) {
            let hide = match (end.ends_in_panel, end.gap.gap.to_mm() > 1.0) {
                (true, _) => "the end panel is scribed to the wall and hides it",
                (false, true) => "an end panel scribed to the wall would hide it",
                (false, false) => "caulk closes it",
            };
            lines.push(format!("    {side}: gap to be seen at the open end up to {}: {hide}", end.gap.gap.show(unit)));
        }
        let least = run.left_over.into_iter().reduce(Length::min).unwrap_or_default();
        lines.push(if least.to_mm() < -1e-6 {
            format!("    {side}: {} too long for its wall", least.abs().show(unit))
        } else {
            format!("    {side}: {} left at the far end, at the tightest height", least.show(unit))
        });
    }
    lines
}

/// Both ways of setting the runs, side by side: what is told, as the plan says, the other way. Without another way the last
/// column is empty.
#[must_use]
pub fn both_ways(installation: &Installation) -> Vec<[String; 3]> {
    let unit = installation.model.unit;
    let ways = [Some(&installation.setting), installation.other_way.as_ref()];
    let mut rows: Vec<[String; 3]> = Vec::new();
    let mut row = |what: String, tell: &dyn Fn(&Set) -> String| {
        let [chosen, other] = ways.map(|set| set.map(tell).unwrap_or_default());
        rows.push([what, chosen, other]);
    };
    row("runs at".to_owned(), &|set| degrees(set.run_angle_deg));
    for side in Side::BOTH {
        row(format!("{} filler", side.word()), &|set| set.fillers.of(side).show(unit));
    }
    row("filler ends off square".to_owned(), &|set| degrees(set.filler_bevel_deg));
    for side in Side::BOTH {
        row(format!("{}: greatest gap behind", side.word()), &|set| set.run(side).greatest.gap.show(unit));
    }
    let or_none = |length: Option<Length>| length.map_or_else(|| "–".to_owned(), |length| length.show(unit));
    for side in Side::BOTH {
        let deeper = |set: &Set| or_none(set.run(side).countertop.as_ref().map(|at| at.gap));
        row(format!("{}: countertop deeper by", side.word()), &deeper);
    }
    for side in Side::BOTH {
        if ways.iter().flatten().any(|set| set.run(side).seen_at_end.is_some()) {
            let seen = |set: &Set| or_none(set.run(side).seen_at_end.as_ref().map(|end| end.gap.gap));
            row(format!("{}: gap seen at the open end", side.word()), &seen);
        }
    }
    for side in Side::BOTH {
        let least = |set: &Set| or_none(set.run(side).left_over.into_iter().reduce(Length::min));
        row(format!("{}: left at the far end", side.word()), &least);
    }
    rows
}

/// The same for machines: lengths in mm, unrounded; angles in degrees.
pub(super) fn json(installation: &Installation) -> Value {
    json!({
        "chosen": set_json(&installation.setting),
        "other_way": installation.other_way.as_ref().map(set_json),
    })
}

fn gap_json(at: &GapAt) -> Value {
    json!({ "gap_mm": at.gap, "along_mm": at.along, "height_mm": at.height })
}

fn set_json(set: &Set) -> Value {
    json!({
        "run_angle_deg": set.run_angle_deg,
        "room_angle_deg": set.room_angle_deg,
        "back_line": match set.line { BackLine::Parallel => "parallel", BackLine::LeastGap => "least_gap" },
        "room_corner_mm": [set.place.corner.x, set.place.corner.y, set.place.corner.z],
        "room_turn_deg": set.place.turn.to_degrees(),
        "fillers_mm": { "left": set.fillers.left, "right": set.fillers.right },
        "filler_bevel_deg": set.filler_bevel_deg,
        "greatest_gap_mm": set.greatest(),
        "fits": set.fits(),
        "highest_floor": set.highest.as_ref().map(|spot| json!({
            "wall": spot.wall.word(), "along_mm": spot.along, "out_mm": spot.out, "level_mm": spot.level,
        })),
        "runs": set.runs.iter().map(run_json).collect::<Vec<_>>(),
    })
}

fn run_json(run: &RunSet) -> Value {
    json!({
        "side": run.side.word(),
        "tilt_deg": run.lie.tilt.to_degrees(),
        "along_mm": run.along,
        "touches": gap_json(&run.touches),
        "greatest": gap_json(&run.greatest),
        "nailers": run.rows.iter().map(|row| json!({
            "name": row.name, "height_mm": row.height, "touches_nowhere": row.touches_nowhere(),
            "least": gap_json(&row.least), "greatest": gap_json(&row.greatest),
        })).collect::<Vec<_>>(),
        "unit_ends": run.edges.iter().map(|edge| json!({
            "along_mm": edge.along, "along_run_mm": edge.s,
            // One a row of nailers; null where that has none there.
            "gaps_mm": run.rows.iter().zip(&edge.gaps).map(|(row, gap)| row.is_at(edge.s).then_some(gap)).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "countertop_further_back": run.countertop.as_ref().map(gap_json),
        "seen_at_open_end": run.seen_at_end.as_ref().map(|end| json!({
            "widest": gap_json(&end.gap), "ends_in_panel": end.ends_in_panel,
        })),
        "left_over_mm": run.left_over,
        "turned_alone": { "tilt_deg": run.alone.lie.tilt.to_degrees(), "greatest": gap_json(&run.alone.greatest) },
    })
}
