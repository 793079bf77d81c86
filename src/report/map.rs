//! Two open at once, and both fillers together: the maps of [`crate::clearance`] in words and as JSON.

use serde_json::{Value, json};

use super::text::{Mark, degrees};
use crate::clearance::map::{Map, Point, maps_of_slides};
use crate::clearance::tolerance::SAME;
use crate::clearance::{Cleared, FillerMap, FillerPair};
use crate::length::{Length, Unit};
use crate::model::{Fillers, Model, Motion, MoverId};

/// Square millimetres in a square metre, and in a square foot of 304.8 mm (the 1959 agreement; NIST Special Publication
/// 811).
const MM2_PER_SQUARE_METRE: f64 = 1e6;
const MM2_PER_SQUARE_FOOT: f64 = 304.8 * 304.8;

/// How far open, rounded down.
fn no_more(model: &Model, mover: MoverId, out: f64) -> String {
    match model.mover(mover).motion {
        Motion::Slide { .. } => Length::mm(out).show_no_more(model.unit),
        Motion::Swing { .. } => degrees(out),
    }
}

/// What one of two leaves the other, both ways: two lines.
#[must_use]
pub fn map_lines(model: &Model, map: &Map) -> [String; 2] {
    let free = map.leaves_free();
    [0, 1].map(|k| {
        let [own, other] = [map.movers[k], map.movers[1 - k]];
        let [name, other_name] = [own, other].map(|id| model.mover(id).name.as_str());
        let verb = match model.mover(own).motion {
            Motion::Slide { .. } => "out by",
            Motion::Swing { .. } => "turned by",
        };
        if free[k] >= map.extents[k] {
            format!("with {name} open fully, {other_name} still opens fully")
        } else if free[k] > SAME {
            format!("with {name} {verb} up to {}, {other_name} still opens fully", no_more(model, own, free[k]))
        } else if holds_shut(map, k) {
            format!("even with {name} shut, {other_name} does not open fully")
        } else {
            format!("only with {name} shut, {other_name} opens fully")
        }
    })
}

/// Whether something conflicts while part `k` of the map is shut: then an edge of an outline lies there.
fn holds_shut(map: &Map, k: usize) -> bool {
    map.regions.iter().any(|region| {
        let there = region.outer.iter().filter(|p| p[k] <= SAME).map(|p| p[1 - k]);
        let (low, high) = there.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(x), h.max(x)));
        high - low > SAME
    })
}

/// How far a part stands open.
fn stands(model: &Model, mover: MoverId, out: f64) -> String {
    let part = model.mover(mover);
    let is = match part.motion {
        _ if out <= SAME => "shut".to_owned(),
        _ if out >= part.motion.extent() - SAME => "open fully".to_owned(),
        Motion::Slide { .. } => format!("out by {}", Length::mm(out).show(model.unit)),
        Motion::Swing { .. } => format!("turned by {}", degrees(out)),
    };
    format!("{} {is}", part.name)
}

/// How two stand, and whether they conflict there: with what, where they do.
#[must_use]
pub fn map_point_line(model: &Model, map: &Map, outs: Point) -> (Mark, String) {
    let [first, second] = [0, 1].map(|k| stands(model, map.movers[k], outs[k]));
    let Some(parts) = map.conflict_at(outs[0], outs[1]) else {
        return (Mark::Good, format!("Clear: {first}, {second}"));
    };
    let [part, other] = parts.map(|id| model.part(id).name.as_str());
    let how = if map.wanted > 0.0 { "come nearer than the clearance wanted" } else { "overlap" };
    (Mark::Bad, format!("In conflict: {first}, {second}; {part} and {other} {how}"))
}

/// What a pair of fillers comes to, and whether it is good: what is in the way, where it is not.
#[must_use]
pub fn fillers_point_line(unit: Unit, map: &FillerMap, fillers: Fillers) -> (Mark, String) {
    let [left, right] = [fillers.left, fillers.right].map(Length::to_mm);
    let told = format!(
        "left {}, right {}, together {}; {} of floor lost",
        fillers.left.show(unit),
        fillers.right.show(unit),
        (fillers.left + fillers.right).show(unit),
        floor(unit, map.floor_mm2(left, right))
    );
    match map.bad_at(left, right) {
        None => (Mark::Good, format!("Clear: {told}")),
        Some(bad) => {
            let why = bad.names.as_ref().map_or_else(
                || "a run is too long for its wall".to_owned(),
                |[part, other]| format!("{part} and {other} are in each other's way"),
            );
            (Mark::Bad, format!("In conflict: {told}; {why}"))
        }
    }
}

/// The map that leaves the least: by the larger share of their ways that the two may be open.
fn tightest(maps: &[Map]) -> Option<&Map> {
    let share = |map: &Map| {
        let free = map.leaves_free();
        (free[0] / map.extents[0]).max(free[1] / map.extents[1])
    };
    maps.iter().min_by(|a, b| share(a).total_cmp(&share(b)))
}

/// In short: the two drawers that leave each other least, and how many others meet.
#[must_use]
pub fn together_lines(model: &Model) -> Vec<(Mark, String)> {
    let maps = maps_of_slides(model);
    let Some(map) = tightest(&maps) else { return Vec::new() };
    let mut lines = vec![(Mark::Heading, "Two drawers open at once".to_owned())];
    lines.extend(map_lines(model, map).map(|line| (Mark::Plain, format!("  {line}"))));
    let others = match maps.len() - 1 {
        0 => return lines,
        1 => "1 other pair of drawers meets, and leaves no less".to_owned(),
        n => format!("{n} other pairs of drawers meet, and leave no less"),
    };
    lines.push((Mark::Plain, format!("  {others}: see `check --map`, doors too")));
    lines
}

/// Every two that conflict when both are open.
#[must_use]
pub fn maps_text(model: &Model, maps: &[Map]) -> Vec<(Mark, String)> {
    let mut lines = vec![(Mark::Heading, "Two open at once, every pair that meets".to_owned())];
    if maps.is_empty() {
        lines.push((Mark::Plain, "  no two drawers or doors ever meet".to_owned()));
    }
    for map in maps {
        for (k, line) in map_lines(model, map).into_iter().enumerate() {
            lines.push((Mark::Plain, format!("{}{line}", if k == 0 { "  " } else { "    " })));
        }
        if !map.exact {
            let error = Length::mm(map.error_mm).show_no_less(model.unit);
            lines.push((Mark::Plain, format!("    on the safe side, by {error} at most")));
        }
    }
    lines
}

fn floor(unit: Unit, mm2: f64) -> String {
    match unit {
        Unit::Millimetre => format!("{:.3} m²", mm2 / MM2_PER_SQUARE_METRE),
        Unit::Inch => format!("{:.2} sq ft", mm2 / MM2_PER_SQUARE_FOOT),
    }
}

/// The good pairs of fillers, in words.
#[must_use]
pub fn fillers_text(model: &Model, map: &FillerMap) -> Vec<(Mark, String)> {
    let mut lines = vec![(Mark::Heading, "Both fillers together".to_owned())];
    let mut say = |line: String| lines.push((Mark::Plain, format!("  {line}")));
    let line = |what: &str, pair: &FillerPair| {
        let [left, right] = [pair.fillers.left, pair.fillers.right].map(|width| width.show(model.unit));
        let sum = pair.sum().show(model.unit);
        format!(
            "{what}: left {left}, right {right}, together {sum}; {} of floor lost",
            floor(model.unit, pair.floor_mm2)
        )
    };
    let pairs = [("least sum", &map.least_sum), ("least floor lost", &map.least_floor), ("both alike", &map.equal)];
    for (what, pair) in pairs {
        say(pair.as_ref().map_or_else(|| format!("{what}: no pair of shop steps"), |pair| line(what, pair)));
    }
    say(match map.cleared {
        Cleared::Everything => "with these, everything opens and fits".to_owned(),
        Cleared::AllThatOpens => "with these, everything opens; no sensible width makes the runs fit".to_owned(),
        Cleared::PastTheRuns => {
            "with these, everything passes the other run; no sensible width clears the rest of the room".to_owned()
        }
    });
    if !map.interact {
        say("neither filler changes what the other must be".to_owned());
    }
    lines
}

/// A value and its unit.
fn out(model: &Model, mover: MoverId, out: f64) -> Value {
    super::json::out(model, mover, out)
}

/// The key `together` of `check --json --map`.
#[must_use]
pub fn maps_json(model: &Model, maps: &[Map]) -> Value {
    let one = |map: &Map| {
        let free = map.leaves_free();
        // Angles are degrees in what others read.
        let scale = map.movers.map(|id| match model.mover(id).motion {
            Motion::Slide { .. } => 1.0,
            Motion::Swing { .. } => 1.0_f64.to_degrees(),
        });
        let outline = |points: &[Point]| points.iter().map(|p| [p[0] * scale[0], p[1] * scale[1]]).collect::<Vec<_>>();
        let regions = map.regions.iter().map(|region| {
            json!({
                "parts": region.parts.map(|id| model.part(id).name.as_str()),
                "outer": outline(&region.outer),
                "inner": outline(&region.inner),
            })
        });
        let full: Vec<Value> = (0..2).map(|k| out(model, map.movers[k], map.extents[k])).collect();
        let leaves_free: Vec<Value> = (0..2).map(|k| out(model, map.movers[k], free[k])).collect();
        json!({
            "movers": map.movers.map(|id| model.mover(id).name.as_str()),
            "full": full,
            "leaves_free": leaves_free,
            "both_open_fully": map.both_open_fully(),
            "wanted_mm": map.wanted,
            "exact": map.exact,
            "error_mm": map.error_mm,
            "regions": regions.collect::<Vec<_>>(),
        })
    };
    Value::Array(maps.iter().map(one).collect())
}

/// The key `filler_pairs` of `check --json --map`.
#[must_use]
pub fn fillers_json(map: &FillerMap) -> Value {
    let pair = |pair: &FillerPair| {
        json!({
            "left_mm": pair.fillers.left,
            "right_mm": pair.fillers.right,
            "sum_mm": pair.sum(),
            "floor_lost_mm2": pair.floor_mm2,
        })
    };
    let bad = map.bad.iter().map(|bad| json!({ "parts": bad.names, "outer": bad.outer, "inner": bad.inner }));
    json!({
        "cleared": match map.cleared {
            Cleared::Everything => "everything",
            Cleared::AllThatOpens => "all_that_opens",
            Cleared::PastTheRuns => "past_the_runs",
        },
        "interact": map.interact,
        "least_sum": map.least_sum.as_ref().map(pair),
        "least_floor": map.least_floor.as_ref().map(pair),
        "equal": map.equal.as_ref().map(pair),
        "error_mm": map.error_mm,
        "drawn_to_mm": map.drawn_to,
        "bad": bad.collect::<Vec<_>>(),
    })
}
