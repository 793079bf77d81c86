//! What is drawn over the scene while it is built up? The level line, the studs, and behind the units each shim and gap with
//! its number.
//!
//! Lines go where the walls are drawn ([`DrawnWalls`]); numbers are those of the measured room, in the plan's unit, however
//! far the walls are drawn back. A number that has no room near its place stays out: come nearer, or read it in the panel.

use bevy_egui::egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, Vec2, vec2};

use super::room::DrawnWalls;
use super::{Done, Installing};
use crate::install::marks::{MarkKind, WallMarks};
use crate::install::order::StepId;
use crate::install::{RunSet, Shim};
use crate::length::{Length, Unit};
use crate::model::Vec3;
use crate::plan::{Plan, Side};
use crate::viewer::look;

/// Half of the width of a shim as it is drawn, along the run, mm. Our own choice.
const HALF_SHIM: f64 = 22.0;
/// And half of its height, mm. Our own choice.
const HALF_HIGH: f64 = 30.0;
/// Studs are drawn so far above the level line, mm. Our own choice.
const STUD_ABOVE: f64 = 220.0;
/// The level line is drawn in pieces of no more than this, mm.
const PIECE: f64 = 60.0;
/// Numbers are moved up or down by so many of their own heights to find room.
const STEPS_ASIDE: [f32; 5] = [0.0, -1.05, 1.05, -2.1, 2.1];

/// What the step that is looked at needs to see: both runs, one, or one unit of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum About {
    All,
    Run(Side),
    Unit(Side, usize),
}

impl About {
    fn of(step: StepId) -> Self {
        match step {
            StepId::Set(side, unit) | StepId::EndPanel(side, unit) => Self::Unit(side, unit),
            StepId::Join(side)
            | StepId::Check(side)
            | StepId::Fix(side)
            | StepId::Filler(side)
            | StepId::Kick(side) => Self::Run(side),
            _ => Self::All,
        }
    }

    fn has(self, side: Side, unit: usize) -> bool {
        match self {
            Self::All => true,
            Self::Run(own) => own == side,
            Self::Unit(own, of) => own == side && of == unit,
        }
    }

    /// Whether the `edge`-th end of units, counted from the corner, is one of those.
    fn has_edge(self, side: Side, edge: usize) -> bool {
        match self {
            Self::Unit(own, of) => own == side && (edge == of || edge == of + 1),
            _ => self.has(side, edge),
        }
    }
}

/// Where things are drawn, and what room is taken.
struct Sheet<'p, P> {
    painter: &'p Painter,
    scene: Rect,
    project: P,
    unit: Unit,
    taken: Vec<Rect>,
}

/// Paints it all; gives the room that numbers took.
pub(in crate::viewer) fn paint(
    painter: &Painter,
    scene: Rect,
    plan: &Plan,
    done: &Done,
    installing: &Installing,
    project: impl Fn(Vec3) -> Option<Pos2>,
) -> Vec<Rect> {
    let walls = DrawnWalls::new(plan, &done.installation, installing.times);
    let mut sheet = Sheet { painter, scene, project, unit: plan.unit, taken: Vec::new() };
    let installation = &done.installation;
    let about = installation.order.get(installing.step()).map_or(About::All, |step| About::of(step.id));
    if installing.lines {
        for marks in &installation.marks {
            sheet.studs(&walls, marks);
        }
    }
    if installing.shims {
        // Shims have the first choice of room: they are what is cut.
        for shim in installation.shims.iter().filter(|shim| about.has(shim.side, shim.unit)) {
            sheet.shim(&walls, shim, &installation.model.run(shim.side).along);
        }
        for run in &installation.setting.runs {
            sheet.gaps(&walls, run, about);
        }
    }
    if installing.lines {
        for marks in &installation.marks {
            sheet.level_line(&walls, marks);
        }
    }
    sheet.taken
}

impl<P: Fn(Vec3) -> Option<Pos2>> Sheet<'_, P> {
    fn line(&self, points: impl IntoIterator<Item = Vec3>, stroke: Stroke, dashed: bool) {
        let points: Vec<Pos2> = points.into_iter().filter_map(&self.project).collect();
        if dashed {
            self.painter.extend(Shape::dashed_line(&points, stroke, 6.0, 4.0));
        } else {
            self.painter.line(points, stroke);
        }
    }

    fn level_line(&mut self, walls: &DrawnWalls<'_>, marks: &WallMarks) {
        let pieces = (marks.length / PIECE).ceil().max(1.0);
        let along = (0..=steps(pieces)).map(|k| marks.length * f64::from(k) / pieces);
        let points: Vec<Vec3> = along.map(|along| walls.point(marks.side, along, marks.level.height)).collect();
        let up = format!("level line, {} up", Length::mm(marks.level.height).show(self.unit));
        self.line(points.iter().copied(), Stroke::new(2.0, look::DIMENSION), false);
        // As far from the corner as there is room.
        let places: Vec<Pos2> = points.iter().rev().filter_map(|&at| (self.project)(at)).collect();
        for at in places {
            if self.number(at, &up, look::INK) {
                break;
            }
        }
    }

    fn studs(&mut self, walls: &DrawnWalls<'_>, marks: &WallMarks) {
        let top = marks.level.height + STUD_ABOVE;
        for stud in marks.marks.iter().filter(|mark| mark.kind == MarkKind::Stud) {
            let heights = (0..=8).map(|k| top * f64::from(k) / 8.0);
            let points: Vec<Vec3> = heights.map(|z| walls.point(marks.side, stud.along, z)).collect();
            let head = points.last().copied().and_then(|head| (self.project)(head));
            self.line(points, Stroke::new(1.5, look::DIMENSION), true);
            if let Some(at) = head {
                let along = Length::mm(stud.along).show_bare(self.unit);
                self.number(at - vec2(0.0, 10.0), &format!("stud {along}"), look::INK);
            }
        }
    }

    /// A shim from the back plane to the wall, with its thickness.
    fn shim(&mut self, walls: &DrawnWalls<'_>, shim: &Shim, along: &Vec3) {
        let (s, height) = (shim.s.to_mm(), shim.at.height.to_mm());
        let front = walls.behind_run(shim.side, s, height, walls.between());
        let back = walls.behind_run(shim.side, s, height, shim.at.gap.to_mm());
        let corner = |at: Vec3, side: f64, up: f64| at + *along * (side * HALF_SHIM) + Vec3::Z * (up * HALF_HIGH);
        // Where the nearest step is none at all, nothing is put in.
        let touches = shim.thickness.nearest <= Length::ZERO;
        let faces = [
            [corner(front, -1.0, -1.0), corner(front, 1.0, -1.0), corner(front, 1.0, 1.0), corner(front, -1.0, 1.0)],
            [corner(front, -1.0, 1.0), corner(front, 1.0, 1.0), corner(back, 1.0, 1.0), corner(back, -1.0, 1.0)],
        ];
        let fill = look::POINTED.gamma_multiply(if touches { 0.15 } else { 0.55 });
        for face in faces {
            let points: Vec<Pos2> = face.into_iter().filter_map(&self.project).collect();
            if points.len() == 4 {
                self.painter.add(Shape::convex_polygon(points, fill, Stroke::new(1.0, Color32::from_black_alpha(150))));
            }
        }
        if let Some(at) = (self.project)(front + Vec3::Z * (HALF_HIGH * 2.2)) {
            let thickness = shim.thickness.nearest.show_bare(self.unit);
            let words = if touches { "no shim".to_owned() } else { format!("shim {thickness}") };
            self.number(at, &words, look::POINTED);
        }
    }

    /// The gaps at the ends of units, at each row of nailers.
    fn gaps(&mut self, walls: &DrawnWalls<'_>, run: &RunSet, about: About) {
        for edge in run.edges.iter().enumerate().filter(|(k, _)| about.has_edge(run.side, *k)).map(|(_, edge)| edge) {
            for (row, gap) in run.rows.iter().zip(&edge.gaps).filter(|(row, _)| row.is_at(edge.s)) {
                let (s, height) = (edge.s.to_mm(), row.height.to_mm());
                let from = walls.behind_run(run.side, s, height, walls.between());
                let to = walls.behind_run(run.side, s, height, gap.to_mm());
                self.line([from, to], Stroke::new(2.5, look::MEASURE), false);
                if let Some(at) = (self.project)(to) {
                    self.number(at, &format!("gap {}", gap.show_bare(self.unit)), look::MEASURE);
                }
            }
        }
    }

    /// A number near `at`, where there is room; whether there was.
    fn number(&mut self, at: Pos2, text: &str, colour: Color32) -> bool {
        let galley = self.painter.layout_no_wrap(text.to_owned(), FontId::proportional(look::SMALL), colour);
        let size = galley.size() + vec2(6.0, 2.0);
        let Some(place) = free(self.scene, &self.taken, at, size) else { return false };
        self.painter.rect_filled(place, 3.0, look::LABEL);
        self.painter.galley(place.min + vec2(3.0, 1.0), galley, colour);
        self.taken.push(place);
        true
    }
}

/// A place for a label about `at` or a little above or below, inside the scene and clear of the others.
fn free(scene: Rect, taken: &[Rect], at: Pos2, size: Vec2) -> Option<Rect> {
    let places =
        STEPS_ASIDE.into_iter().map(|step| Align2::CENTER_CENTER.anchor_size(at + vec2(0.0, step * size.y), size));
    places.into_iter().find(|place| scene.contains_rect(*place) && taken.iter().all(|other| !other.intersects(*place)))
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a wall is shorter than a kilometre")]
fn steps(count: f64) -> u32 {
    count.clamp(1.0, 20_000.0) as u32
}

#[cfg(test)]
mod tests {
    use super::*;
    use bevy_egui::egui::pos2;

    #[test]
    fn numbers_stay_inside_and_apart_or_stay_out() {
        let scene = Rect::from_min_size(Pos2::ZERO, vec2(400.0, 300.0));
        let mut taken = Vec::new();
        let drawn = (0..9).filter(|_| {
            let place = free(scene, &taken, pos2(200.0, 150.0), vec2(60.0, 18.0));
            taken.extend(place);
            place.is_some()
        });
        assert_eq!(drawn.count(), STEPS_ASIDE.len());
        for (k, one) in taken.iter().enumerate() {
            assert!(scene.contains_rect(*one) && taken[k + 1..].iter().all(|other| !other.intersects(*one)));
        }
        assert!(free(scene, &[], pos2(2.0, 150.0), vec2(60.0, 18.0)).is_none());
    }

    #[test]
    fn a_step_that_sets_one_unit_shows_its_own_shims_and_both_its_ends() {
        let about = About::of(StepId::Set(Side::Left, 1));
        let shown: Vec<usize> = (0..4).filter(|&unit| about.has(Side::Left, unit)).collect();
        let ends: Vec<usize> = (0..4).filter(|&edge| about.has_edge(Side::Left, edge)).collect();
        assert_eq!((shown, ends), (vec![1], vec![1, 2]));
        assert!(!about.has(Side::Right, 1) && About::of(StepId::Clear).has(Side::Right, 1));
    }
}
