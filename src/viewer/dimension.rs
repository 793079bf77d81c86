//! How large is it? Dimension lines along both walls and at the ends of the runs, painted over the scene.
//!
//! Along each wall, above the countertop: a chain from the corner over the filler and every unit, and one for the whole
//! run. At the end of each run the heights: kick, unit, with the countertop. The figures are those of the model, in the
//! plan's unit. A figure that has no room on its line stays out; come nearer to see it.

use bevy_egui::egui::{Align2, FontId, Painter, Pos2, Rect, Stroke, Vec2, vec2};

use super::look;
use crate::length::Length;
use crate::model::{Model, RunFrame, Vec3};
use crate::plan::Plan;

/// The first chain stands so far above the countertop, mm, and the second so far above the first.
const CHAIN_MM: f64 = 130.0;
/// Heights stand so far out from the front plane, mm.
const BEFORE_MM: f64 = 170.0;
/// Half of the stroke across the end of a line, in points.
const TICK: f32 = 5.0;

/// One measured distance.
#[derive(Clone, Debug, PartialEq)]
pub struct Dimension {
    /// What is measured: the two points on the parts, in the room's mm.
    pub from: [Vec3; 2],
    /// Where its line is drawn.
    pub line: [Vec3; 2],
    /// The distance, in the plan's unit.
    pub label: String,
}

impl Dimension {
    fn new(plan: &Plan, from: [Vec3; 2], by: Vec3) -> Self {
        let [a, b] = from;
        let label = Length::mm((b - a).length()).show_bare(plan.unit);
        Self { from, line: [a + by, b + by], label }
    }
}

/// The dimensions of the whole plan.
#[must_use]
pub fn dimensions(plan: &Plan, model: &Model) -> Vec<Dimension> {
    model.runs.iter().flat_map(|run| along(plan, run).into_iter().chain(heights(plan, run))).collect()
}

/// Height of what the chains stand above, mm.
fn top(plan: &Plan) -> f64 {
    (plan.construction.height + plan.countertop.map_or(Length::ZERO, |top| top.thickness + top.build_up)).to_mm()
}

fn along(plan: &Plan, run: &RunFrame) -> Vec<Dimension> {
    let mut stops = vec![0.0, run.corner_at];
    let mut at = run.starts_at;
    // Where there is no filler the first unit begins at the corner line.
    if at > run.corner_at {
        stops.push(at);
    }
    for unit in &plan.run(run.side).units {
        at += unit.width.to_mm();
        stops.push(at);
    }
    let z = top(plan);
    let point = |s: f64| run.at(s, 0.0, z);
    let chain = |a: f64, b: f64, n: f64| Dimension::new(plan, [point(a), point(b)], Vec3::Z * CHAIN_MM * n);
    let mut chains: Vec<Dimension> = stops
        .windows(2)
        .filter_map(|pair| match pair {
            [a, b] if b - a > 1e-6 => Some(chain(*a, *b, 1.0)),
            _ => None,
        })
        .collect();
    chains.push(chain(0.0, run.ends_at, 2.0));
    chains
}

fn heights(plan: &Plan, run: &RunFrame) -> Vec<Dimension> {
    let out = run.out * BEFORE_MM;
    let upright = |from: f64, to: f64, n: f64| {
        let point = |z: f64| run.at(run.ends_at, run.depth, z);
        Dimension::new(plan, [point(from), point(to)], out * n)
    };
    let (kick, height) = (plan.construction.kick_height.to_mm(), plan.construction.height.to_mm());
    let mut heights = vec![upright(0.0, kick, 1.0), upright(kick, height, 1.0)];
    if top(plan) > height {
        heights.push(upright(height, top(plan), 1.0));
    }
    heights.push(upright(0.0, top(plan), 1.6));
    heights
}

/// Paints dimensions over the scene. `project` gives the place on screen of a point of the room, where it has one.
pub fn paint(painter: &Painter, dimensions: &[Dimension], project: impl Fn(Vec3) -> Option<Pos2>) {
    let mut taken: Vec<Rect> = Vec::new();
    let (line, thin) = (Stroke::new(1.5, look::DIMENSION), Stroke::new(1.0, look::DIMENSION.gamma_multiply(0.55)));
    for dimension in dimensions {
        let ([Some(a), Some(b)], [Some(from_a), Some(from_b)]) =
            (dimension.line.map(&project), dimension.from.map(&project))
        else {
            continue;
        };
        if (b - a).length() < 2.0 {
            continue;
        }
        painter.line_segment([from_a, a], thin);
        painter.line_segment([from_b, b], thin);
        painter.line_segment([a, b], line);
        // Strokes across the ends, as on a drawing board.
        let across = ((b - a).normalized() + (b - a).normalized().rot90()) * TICK;
        for end in [a, b] {
            painter.line_segment([end - across, end + across], line);
        }
        label(painter, &mut taken, a, b, &dimension.label);
    }
}

fn label(painter: &Painter, taken: &mut Vec<Rect>, a: Pos2, b: Pos2, text: &str) {
    let galley = painter.layout_no_wrap(text.to_owned(), FontId::proportional(look::SMALL), look::INK);
    let size = galley.size() + vec2(6.0, 2.0);
    let place = Align2::CENTER_CENTER.anchor_size(a + (b - a) / 2.0, size);
    if !has_room(b - a, size) || taken.iter().any(|other| other.intersects(place)) {
        return;
    }
    painter.rect_filled(place, 3.0, look::LABEL);
    painter.galley(place.min + vec2(3.0, 1.0), galley, look::INK);
    taken.push(place);
}

/// Whether a figure of this size fits on its line, with a little of the line on both sides.
fn has_room(line: Vec2, size: Vec2) -> bool {
    line.x.abs() > size.x + 4.0 || line.y.abs() > size.y + 4.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::Side;
    use crate::{clearance, command, plan};

    #[test]
    fn a_chain_runs_over_every_unit_without_a_gap() {
        let plan = plan::read(command::DEMO_NAME, command::DEMO).expect("the demo is a plan");
        let model = Model::build(&plan, clearance::least_fillers(&plan));
        let run = model.run(Side::Left);
        let chain = along(&plan, run);
        let (whole, links) = chain.split_last().expect("there is a run");
        // The corner, the filler and each unit.
        assert_eq!(links.len(), 2 + plan.left.units.len());
        for pair in links.windows(2) {
            assert!((pair[0].from[1] - pair[1].from[0]).length() < 1e-9);
        }
        let sum: f64 = links.iter().map(|link| (link.from[1] - link.from[0]).length()).sum();
        assert!((sum - (whole.from[1] - whole.from[0]).length()).abs() < 1e-6);
        assert!(links.iter().any(|link| link.label == "800"), "the first unit is 800 wide");
    }

    #[test]
    fn heights_are_those_of_the_plan() {
        let plan = plan::read(command::DEMO_NAME, command::DEMO).expect("the demo is a plan");
        let model = Model::build(&plan, clearance::least_fillers(&plan));
        let labels: Vec<String> = heights(&plan, model.run(Side::Right)).into_iter().map(|d| d.label).collect();
        // Kick 90, unit 860 from the floor, countertop 30.
        assert_eq!(labels, ["90", "770", "30", "890"]);
    }
}
