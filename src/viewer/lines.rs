//! What lines are drawn over the scene? A measured distance with its ends and its label, what the mouse points at while
//! measuring, and the line that keeps the clearance wanted from what is swept.

use bevy_egui::egui::{Painter, Pos2, Rect, Stroke, vec2};

use super::measure::{Feature, Measured, Measuring};
use super::{look, marks, swept};
use crate::length::{Length, Unit};
use crate::model::{Model, MoverId, Vec3};

/// Half the length of the stroke across an end of a measured line, in points.
const END: f32 = 9.0;

/// A measured distance in words: the distance, then its shares.
#[must_use]
pub(super) fn told(measured: &Measured, unit: Unit) -> [String; 2] {
    let show = |mm: f64| Length::mm(mm).show(unit);
    let [along, out, up] = measured.shares.map(show);
    let how = if measured.square { " square between faces" } else { "" };
    [format!("{}{how}", show(measured.distance)), format!("along the run {along}, out {out}, up {up}")]
}

/// Draws what was picked, what the mouse points at, and the distance.
pub(super) fn measured(
    painter: &Painter,
    scene: Rect,
    model: &Model,
    outs: &[f64],
    measuring: &Measuring,
    project: impl Fn(Vec3) -> Option<Pos2>,
) {
    if !measuring.on {
        return;
    }
    for picked in measuring.picks().iter().chain(&measuring.hovered) {
        if let Some(feature) = picked.now(model, outs) {
            outline(painter, &feature, &project);
        }
    }
    let Some(found) = measuring.measured(model, outs) else { return };
    let [Some(a), Some(b)] = found.points.map(&project) else { return };
    let along = if (b - a).length() > 0.5 { (b - a).normalized() } else { vec2(1.0, 0.0) };
    for stroke in strokes(4.0) {
        painter.line_segment([a, b], stroke);
        for end in [a, b] {
            painter.line_segment([end - along.rot90() * END, end + along.rot90() * END], stroke);
        }
    }
    marks::draw_label(painter, scene, &mut Vec::new(), a + (b - a) / 2.0, &told(&found, model.unit), look::MEASURE);
}

/// A line this wide, and a dark one below it that sets it off.
fn strokes(width: f32) -> [Stroke; 2] {
    [Stroke::new(width + 2.5, bevy_egui::egui::Color32::from_black_alpha(150)), Stroke::new(width, look::MEASURE)]
}

fn outline(painter: &Painter, feature: &Feature, project: &impl Fn(Vec3) -> Option<Pos2>) {
    let mut points: Vec<Pos2> = feature.points().iter().filter_map(|&p| project(p)).collect();
    for stroke in strokes(1.5) {
        match feature {
            Feature::Corner(_) => {
                let Some(&at) = points.first() else { return };
                painter.rect_stroke(
                    Rect::from_center_size(at, vec2(11.0, 11.0)),
                    0.0,
                    stroke,
                    bevy_egui::egui::StrokeKind::Middle,
                );
            }
            Feature::Edge(_) => {
                painter.line(points.clone(), stroke);
            }
            Feature::Face(_) => {
                if let Some(&first) = points.first().filter(|_| points.len() == feature.points().len()) {
                    points.push(first);
                }
                painter.line(points.clone(), stroke);
            }
        }
    }
}

/// Draws the line on the floor plan that keeps the clearance wanted from what each of these passes over.
pub(super) fn kept_clear(painter: &Painter, model: &Model, movers: &[MoverId], project: impl Fn(Vec3) -> Option<Pos2>) {
    let stroke = Stroke::new(1.5, look::MEASURE.gamma_multiply(0.8));
    for mover in movers.iter().filter_map(|id| model.movers.get(id.0)) {
        let line: Vec<Pos2> = swept::kept_clear(model, mover).into_iter().filter_map(&project).collect();
        painter.extend(bevy_egui::egui::Shape::dashed_line(&line, stroke, 7.0, 4.0));
    }
}
