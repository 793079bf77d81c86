//! Where do parts meet? A mark at each touch and at the finding that is pointed out: a ring with a sign in it, a line
//! between the closest points, and a label with its length.
//!
//! Marks are painted over the scene in screen points, so they stay readable from any distance and nothing hides them.

use bevy::prelude::Resource;
use bevy_egui::egui::{self, Align2, Color32, FontId, Painter, Pos2, Rect, Stroke, Vec2, pos2, vec2};

use super::approach::Approach;
use super::drag::Hand;
use super::look;
use super::motion::{Play, Poses, Wish};
use super::shown::Shown;
use crate::clearance::{Contact, FindingKind, Opening, gap_now, overlaps_now};
use crate::length::{Length, Unit};
use crate::model::{Model, Motion, Mover, MoverId, PartId, Vec3};

/// Radius of the ring, in points.
const RING: f32 = 15.0;
/// Length of an arrow that points at a gap, in points.
const ARROW: f32 = 24.0;
/// A label stands this far from its mark, in points.
const LEADER: Vec2 = vec2(46.0, -52.0);
/// A label is at most this wide, in points.
const LABEL_WIDTH: f32 = 300.0;

/// What a mark says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkKind {
    /// The parts touch or overlap: a ring with a cross in it.
    Touch,
    /// They come nearer than is wanted: a ring with two arrows that point at the gap.
    TooNear,
    /// They come near, and are still far enough apart: two arrows alone.
    Near,
}

/// One mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// What it says.
    pub kind: MarkKind,
    /// The two parts.
    pub parts: [PartId; 2],
    /// The closest points on them, in the room's mm.
    pub points: [Vec3; 2],
    /// The label, a line each.
    pub label: Vec<String>,
}

/// The marks of this frame.
#[derive(Resource, Clone, Debug, Default, PartialEq)]
pub struct Marks(pub Vec<Mark>);

impl Marks {
    /// Whether this part touches another or is too near to it.
    #[must_use]
    pub fn touches(&self, part: PartId) -> bool {
        self.0.iter().any(|mark| mark.kind != MarkKind::Near && mark.parts.contains(&part))
    }

    /// The marks that belong to what is on screen: the finding that is pointed out, every part that touches something as
    /// it stands, and the gap that is left while the film or a hand brings a part to what it meets.
    #[must_use]
    pub fn of(shown: &Shown, poses: &Poses, hand: &Hand, play: &Play) -> Self {
        let model = shown.model();
        let mut marks = Vec::new();
        let mut told = None;
        if let Some(finding) = shown.chosen_finding() {
            let touching = finding.gap <= Length::ZERO || finding.kind == FindingKind::Overlaps;
            let kind = if touching { MarkKind::Touch } else { MarkKind::TooNear };
            let mut label = vec![first_line(kind, finding.gap, Some(finding.wanted), model.unit)];
            label.extend(finding.mover.map(|id| out_line(model, id, finding.out)));
            label.push(names(model, finding.part, finding.other));
            marks.push(Mark { kind, parts: [finding.part, finding.other], points: finding.points, label });
            told = finding.mover;
        }
        if model.movers.iter().all(|mover| poses.wish(mover) == Wish::Shut) {
            return Self(marks);
        }
        let now = Now { shown, outs: poses.outs(model), poses };
        let stopped = hand.stopped_by(&now.outs);
        marks.extend(stopped.map(|contact| touch(model, contact)));
        told = told.or(stopped.map(|contact| contact.mover));
        for mover in model.movers.iter().filter(|m| poses.wish(m) != Wish::Shut && told != Some(m.id)) {
            let Some(opening) = shown.opening(mover.id) else { continue };
            let watched = play.is_on() || hand.dragged() == Some(mover.id);
            for mark in now.marks(mover, opening, watched) {
                // Two that touch each other are marked once.
                let [part, other] = mark.parts;
                if !marks.iter().any(|had| had.parts == [other, part]) {
                    marks.push(mark);
                }
            }
        }
        Self(marks)
    }
}

/// How everything stands now.
struct Now<'a> {
    shown: &'a Shown,
    outs: Vec<f64>,
    poses: &'a Poses,
}

impl Now<'_> {
    fn marks(&self, mover: &Mover, opening: &Opening, watched: bool) -> Vec<Mark> {
        let model = self.shown.model();
        // Only by hand, with nothing solid, does a part come to where it overlaps others.
        let by_hand = matches!(self.poses.wish(mover), Wish::At(_)) && !watched;
        if self.poses.is_past_touch(mover, opening) || by_hand {
            return overlaps_now(model, &self.outs, mover.id).iter().take(3).map(|c| touch(model, c)).collect();
        }
        let there = self.poses.touching(mover, opening).filter(|contact| self.is_shut(contact.other));
        if let Some(contact) = there {
            return vec![touch(model, &contact)];
        }
        let approach = Approach::of(&mover.motion, opening).filter(|_| watched);
        approach.and_then(|approach| self.gap(mover, &approach)).into_iter().collect()
    }

    /// The first touch that was worked out is with a shut part.
    fn is_shut(&self, part: PartId) -> bool {
        let mover = self.shown.model().parts.get(part.0).and_then(|part| part.mover);
        mover.is_none_or(|id| self.outs.get(id.0).is_none_or(|out| *out <= 0.0))
    }

    /// The gap that is left, while `mover` is on its last way to what it meets.
    fn gap(&self, mover: &Mover, approach: &Approach) -> Option<Mark> {
        let model = self.shown.model();
        let out = *self.outs.get(mover.id.0)?;
        if out <= 0.0 || out < approach.from || !self.is_shut(approach.contact.other) {
            return None;
        }
        let parts = [approach.contact.part, approach.contact.other];
        let (gap, points) = gap_now(model, &self.outs, parts[0], parts[1]);
        let wanted = Length::mm(model.wanted);
        let gap = Length::mm(gap);
        let kind = if gap < wanted { MarkKind::TooNear } else { MarkKind::Near };
        // Past the nearest point there is nothing more to tell.
        if out > approach.to && kind == MarkKind::Near {
            return None;
        }
        let label = vec![
            first_line(kind, gap, Some(wanted), model.unit),
            out_line(model, mover.id, out),
            names(model, parts[0], parts[1]),
        ];
        Some(Mark { kind, parts, points, label })
    }
}

/// The mark of a touch.
fn touch(model: &Model, contact: &Contact) -> Mark {
    let label = vec![
        first_line(MarkKind::Touch, contact.gap, None, model.unit),
        out_line(model, contact.mover, contact.out),
        names(model, contact.part, contact.other),
    ];
    Mark { kind: MarkKind::Touch, parts: [contact.part, contact.other], points: contact.points, label }
}

fn first_line(kind: MarkKind, gap: Length, wanted: Option<Length>, unit: Unit) -> String {
    match (kind, wanted) {
        (MarkKind::Touch, _) => "Touches here".to_owned(),
        (MarkKind::TooNear, Some(wanted)) => format!("{} apart, {} wanted", gap.show(unit), wanted.show(unit)),
        (MarkKind::TooNear, None) | (MarkKind::Near, _) => format!("{} apart", gap.show(unit)),
    }
}

fn out_line(model: &Model, mover: MoverId, out: f64) -> String {
    match model.movers.get(mover.0).map(|m| m.motion) {
        Some(Motion::Slide { .. }) => format!("pulled out by {}", Length::mm(out).show(model.unit)),
        Some(Motion::Swing { .. }) => format!("opened to {:.1}°", out.to_degrees()),
        None => String::new(),
    }
}

fn names(model: &Model, part: PartId, other: PartId) -> String {
    let name = |id: PartId| model.parts.get(id.0).map_or("", |part| part.name.as_str());
    format!("{} — {}", name(part), name(other))
}

/// Paints the marks over the scene. `project` gives the place on screen of a point of the room, where it has one.
pub fn paint(painter: &Painter, scene: Rect, marks: &Marks, project: impl Fn(Vec3) -> Option<Pos2>) {
    let mut taken: Vec<Rect> = Vec::new();
    for mark in &marks.0 {
        let [Some(a), Some(b)] = mark.points.map(&project) else { continue };
        let middle = a + (b - a) / 2.0;
        if !scene.contains(middle) {
            continue;
        }
        let colour = match mark.kind {
            MarkKind::Touch => look::TOUCH,
            MarkKind::TooNear => look::WARN,
            MarkKind::Near => look::CLEAR,
        };
        draw_sign(painter, mark.kind, a, b, colour);
        draw_label(painter, scene, &mut taken, middle, &mark.label, colour);
    }
}

fn draw_sign(painter: &Painter, kind: MarkKind, a: Pos2, b: Pos2, colour: Color32) {
    let (ink, shade) = (Stroke::new(2.5, colour), Stroke::new(5.0, Color32::from_black_alpha(150)));
    let middle = a + (b - a) / 2.0;
    let radius = RING.max((b - a).length() / 2.0 + 6.0);
    for stroke in [shade, ink] {
        painter.line_segment([a, b], stroke);
        if kind != MarkKind::Near {
            painter.circle_stroke(middle, radius, stroke);
        }
        match kind {
            MarkKind::Touch => {
                for arm in [vec2(5.5, 5.5), vec2(5.5, -5.5)] {
                    painter.line_segment([middle - arm, middle + arm], stroke);
                }
            }
            MarkKind::TooNear | MarkKind::Near => {
                let along = if (b - a).length() > 0.5 { (b - a).normalized() } else { vec2(1.0, 0.0) };
                draw_arrow(painter, a - along * ARROW, a, stroke);
                draw_arrow(painter, b + along * ARROW, b, stroke);
            }
        }
    }
}

fn draw_arrow(painter: &Painter, from: Pos2, to: Pos2, stroke: Stroke) {
    let back = (from - to).normalized() * 7.0;
    painter.line_segment([from, to], stroke);
    for side in [back.rot90(), -back.rot90()] {
        painter.line_segment([to, to + back + side * 0.6], stroke);
    }
}

pub(super) fn draw_label(
    painter: &Painter,
    scene: Rect,
    taken: &mut Vec<Rect>,
    at: Pos2,
    lines: &[String],
    colour: Color32,
) {
    let mut job = egui::text::LayoutJob::default();
    for (k, line) in lines.iter().enumerate() {
        let (size, ink) = if k == 0 { (look::TITLE, colour) } else { (look::SMALL, look::INK) };
        let text = if k == 0 { line.clone() } else { format!("\n{line}") };
        job.append(&text, 0.0, egui::TextFormat::simple(FontId::proportional(size), ink));
    }
    job.wrap.max_width = LABEL_WIDTH.min(scene.width() - 40.0);
    let galley = painter.layout_job(job);
    let size = galley.size() + vec2(18.0, 12.0);
    let Some(place) = free_place(scene, taken, at, size) else { return };
    let knee = pos2(
        at.x.clamp(place.left(), place.right()),
        if place.center().y < at.y { place.bottom() } else { place.top() },
    );
    let from = at + (knee - at).normalized() * RING;
    painter.line_segment([from, knee], Stroke::new(1.5, colour));
    painter.rect(place, 5.0, look::LABEL, Stroke::new(1.5, colour), egui::StrokeKind::Inside);
    painter.galley(place.min + vec2(9.0, 6.0), galley, look::INK);
    taken.push(place);
}

/// A place for a label near `at`, inside the scene and clear of the labels already there.
fn free_place(scene: Rect, taken: &[Rect], at: Pos2, size: Vec2) -> Option<Rect> {
    let room = scene.shrink(8.0);
    if room.width() < size.x || room.height() < size.y {
        return None;
    }
    let (dx, dy) = (LEADER.x, LEADER.y);
    let mut tries = Vec::new();
    for step in 0..8 {
        let further = step as f32 * 44.0;
        tries.push(at + vec2(dx, dy - further - size.y));
        tries.push(at + vec2(-dx - size.x, dy - further - size.y));
        tries.push(at + vec2(dx, -dy + further));
        tries.push(at + vec2(-dx - size.x, -dy + further));
    }
    let inside = |min: Pos2| {
        let min =
            pos2(min.x.clamp(room.left(), room.right() - size.x), min.y.clamp(room.top(), room.bottom() - size.y));
        Rect::from_min_size(min, size)
    };
    let clear = |rect: &Rect| !rect.expand(RING).contains(at) && taken.iter().all(|other| !other.intersects(*rect));
    tries.into_iter().map(inside).find(clear)
}

/// Names the drawer or door under the mouse.
pub fn paint_name(painter: &Painter, scene: Rect, at: Pos2, text: &str) {
    let galley = painter.layout_no_wrap(text.to_owned(), FontId::proportional(look::SMALL), look::INK);
    let size = galley.size() + vec2(12.0, 8.0);
    let min = pos2((at.x + 16.0).min(scene.right() - size.x - 4.0), (at.y + 18.0).min(scene.bottom() - size.y - 4.0));
    painter.rect_filled(Rect::from_min_size(min, size), 4.0, look::LABEL);
    painter.galley(min + vec2(6.0, 4.0), galley, look::INK);
}

/// Says that nothing can be seen where the scene would be too small.
pub fn paint_centre(painter: &Painter, scene: Rect, text: &str) {
    painter.text(scene.center(), Align2::CENTER_CENTER, text, FontId::proportional(look::TEXT), look::INK);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_stay_inside_and_apart() {
        let scene = Rect::from_min_size(pos2(0.0, 0.0), vec2(880.0, 700.0));
        let mut taken = Vec::new();
        for at in [pos2(870.0, 5.0), pos2(870.0, 10.0), pos2(4.0, 690.0), pos2(440.0, 350.0)] {
            let place = free_place(scene, &taken, at, vec2(280.0, 60.0)).expect("there is room");
            assert!(scene.contains_rect(place) && !place.contains(at));
            assert!(taken.iter().all(|other: &Rect| !other.intersects(place)));
            taken.push(place);
        }
    }
}
