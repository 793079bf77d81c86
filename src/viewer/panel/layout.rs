//! How do the pieces lie on sheets and boards? Each drawn to scale: pieces with the number of their row and the way of
//! their grain, what is left over hatched. A click on a piece picks its part.

use bevy_egui::egui::{
    self, Align2, Button, Color32, CornerRadius, FontId, Label, Painter, Pos2, ProgressBar, Rect, RichText, Sense,
    Shape, Stroke, StrokeKind, Ui, WidgetInfo, WidgetType, pos2, vec2,
};

use super::place::note;
use super::{View, card};
use crate::cutting::sheets::{Area, Placed, Sheet};
use crate::cutting::{LaidMaterial, LaidOut, Piece};
use crate::length::Length;
use crate::plan::StockItem;
use crate::report::Mark;
use crate::report::cutting::{Bench, left_line, material_line, order_line, sheet_line, size_line, total_lines};
use crate::viewer::action::Action;
use crate::viewer::look;
use crate::viewer::pointed::{Aim, Pointed};

/// A board is drawn at least this high, in points, so that its numbers can be read: then it is not to scale across.
const LEAST_HIGH: f32 = 24.0;
/// Lines of the hatching are this far apart, in points.
const HATCH: f32 = 7.0;
/// What a piece looks like.
const WOOD: Color32 = Color32::from_rgb(196, 172, 134);
/// Letters and lines on it.
const ON_WOOD: Color32 = Color32::from_rgb(30, 26, 20);

/// The layouts, or the button that asks for them.
pub(super) fn layouts_ui(ui: &mut Ui, view: &View<'_>, bench: &Bench, pointed: &Pointed, actions: &mut Vec<Action>) {
    if let Some(share) = view.laying {
        ui.add(ProgressBar::new(share).text("Laying out…"));
        if ui.button("Stop laying out").clicked() {
            actions.push(Action::LayOut(false));
        }
        return;
    }
    let Some(laid) = view.laid else {
        let words = "Lay the pieces out on the stock: the least sheets and boards, by cuts from edge to edge.";
        ui.add(Label::new(RichText::new(words).small().color(look::FAINT)).wrap());
        let button = ui.add(Button::new("Lay out"));
        note(&button, || "lay out".to_owned());
        if button.clicked() {
            actions.push(Action::LayOut(true));
        }
        return;
    };
    let words = "Seen from above, grain along the long side. Numbers are those of the cut list; arrows show a piece's \
                 grain; what is hatched is left over. Click a piece to see its part.";
    ui.add(Label::new(RichText::new(words).small().color(look::FAINT)).wrap());
    for material in &laid.materials {
        material_ui(ui, bench, material, pointed, actions);
    }
    totals_ui(ui, bench, laid);
}

fn material_ui(ui: &mut Ui, bench: &Bench, material: &LaidMaterial, pointed: &Pointed, actions: &mut Vec<Action>) {
    ui.add_space(4.0);
    ui.add(Label::new(RichText::new(material_line(bench, material)).strong()).wrap());
    ui.add(Label::new(RichText::new(order_line(bench, material)).small().color(look::FAINT)).wrap());
    for (number, why) in &material.left {
        let line = format!("⚠ {}", left_line(material, *number, why, bench));
        ui.add(Label::new(RichText::new(line).small().color(look::WARN)).wrap());
    }
    for (k, sheet) in material.sheets.iter().enumerate() {
        ui.add(Label::new(RichText::new(sheet_line(bench, material, k + 1, sheet)).small()).wrap());
        if let Some(item) = bench.demand.stock.get(sheet.stock) {
            sheet_ui(ui, bench, material, sheet, item, pointed, actions);
        }
    }
}

/// From mm on a sheet, from its near corner, to points on screen: its width runs upwards.
struct Scale {
    at: Rect,
    along: f32,
    across: f32,
}

impl Scale {
    fn place(&self, area: Area) -> Rect {
        let [x, y, length, width] = [area.x, area.y, area.length, area.width].map(points);
        let low = pos2(self.at.left() + x * self.along, self.at.bottom() - y * self.across);
        Rect::from_min_max(pos2(low.x, low.y - width * self.across), pos2(low.x + length * self.along, low.y))
    }
}

#[expect(clippy::cast_possible_truncation, reason = "no sheet is longer than 30 m")]
fn points(mm: f64) -> f32 {
    mm as f32
}

fn sheet_ui(
    ui: &mut Ui,
    bench: &Bench,
    material: &LaidMaterial,
    sheet: &Sheet,
    item: &StockItem,
    pointed: &Pointed,
    actions: &mut Vec<Action>,
) {
    let [length, width] = [item.length, item.width].map(|size| points(size.to_mm()).max(1.0));
    let along = ui.available_width() / length;
    let high = (width * along).max(LEAST_HIGH);
    let (at, _) = ui.allocate_exact_size(vec2(length * along, high), Sense::hover());
    if !ui.is_rect_visible(at) {
        return;
    }
    let scale = Scale { at, along, across: high / width };
    let painter = ui.painter().with_clip_rect(ui.clip_rect().intersect(at.expand(1.0)));
    painter.rect_filled(at, CornerRadius::ZERO, look::LABEL);
    for area in sheet.offcuts() {
        let place = scale.place(area);
        hatch(&painter, place);
        let size = size_line(&[Length::mm(area.length), Length::mm(area.width)], bench.unit);
        words_in(&painter, place, &[size], look::FAINT);
    }
    for placed in sheet.pieces() {
        if let Some(piece) = material.piece(placed.piece, &bench.demand) {
            let place = scale.place(placed.area);
            piece_ui(ui, &painter, bench, piece, &placed, place, pointed, actions);
        }
    }
    painter.rect_stroke(at, CornerRadius::ZERO, Stroke::new(1.0, look::FAINT), StrokeKind::Inside);
}

fn piece_ui(
    ui: &Ui,
    painter: &Painter,
    bench: &Bench,
    piece: &Piece,
    placed: &Placed,
    place: Rect,
    pointed: &Pointed,
    actions: &mut Vec<Action>,
) {
    let id = ui.id().with(("piece", piece.row, placed.piece, piece.part.0));
    let response = ui.interact(place, id, Sense::click());
    let size = size_line(&[piece.length, piece.width], bench.unit);
    let spare = if piece.spare { ", a spare" } else { "" };
    // Its label begins with the number of its row.
    let words = format!("no. {}, {size}{spare}", piece.label);
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &words));
    note(&response, || format!("piece {}", piece.label));
    let own = pointed.part == Some(piece.part) && !piece.spare;
    let chosen = own || (pointed.part.is_none() && pointed.row == Some(piece.row));
    let fill = if chosen { look::POINTED } else { WOOD };
    painter.rect_filled(place, CornerRadius::ZERO, fill);
    let (wide, ink) =
        if chosen || response.hovered() || response.has_focus() { (2.5, Color32::WHITE) } else { (0.5, ON_WOOD) };
    painter.rect_stroke(place, CornerRadius::ZERO, Stroke::new(wide, ink), StrokeKind::Inside);
    let number = piece.row.to_string();
    let number = if piece.spare { format!("{number} spare") } else { number };
    words_in(
        painter,
        place,
        &[format!("{number}: {size}"), format!("{number}\n{size}"), number, piece.row.to_string()],
        ON_WOOD,
    );
    if piece.grain {
        grain_arrow(painter, place, placed.turned);
    }
    if response.on_hover_text(&words).clicked() {
        actions.push(Action::Point(Aim::Show(piece.part)));
    }
}

/// The first of `words` that fits into `place`, in its middle; upright where only that fits.
fn words_in(painter: &Painter, place: Rect, words: &[String], ink: Color32) {
    let font = FontId::proportional(look::SMALL * 0.85);
    for word in words {
        let galley = painter.layout_no_wrap(word.clone(), font.clone(), ink);
        let (size, room) = (galley.size(), place.size() - vec2(4.0, 1.0));
        if size.x <= room.x && size.y <= room.y {
            painter.galley(Align2::CENTER_CENTER.anchor_size(place.center(), size).min, galley, ink);
            return;
        }
        if size.x <= room.y && size.y <= room.x {
            // Turned about its corner, it runs upwards.
            let at = pos2(place.center().x - size.y / 2.0, place.center().y + size.x / 2.0);
            let shape = egui::epaint::TextShape::new(at, galley, ink).with_angle(-std::f32::consts::FRAC_PI_2);
            painter.add(shape);
            return;
        }
    }
}

/// A line with two heads near the edge of a piece, along its grain.
fn grain_arrow(painter: &Painter, place: Rect, turned: bool) {
    const INSET: f32 = 3.5;
    const HEAD: f32 = 3.0;
    let stroke = Stroke::new(1.0, ON_WOOD);
    let middle = |low: f32, high: f32, length: f32| {
        let half = (length * 0.3).min(16.0);
        (f32::midpoint(low, high) - half, f32::midpoint(low, high) + half)
    };
    let (from, to): (Pos2, Pos2) = if turned {
        let (low, high) = middle(place.top(), place.bottom(), place.height());
        let x = place.left() + INSET;
        (pos2(x, low), pos2(x, high))
    } else {
        let (low, high) = middle(place.left(), place.right(), place.width());
        let y = place.bottom() - INSET;
        (pos2(low, y), pos2(high, y))
    };
    if (to - from).length() < 3.0 * HEAD || place.width().min(place.height()) < 3.0 * INSET {
        return;
    }
    painter.line_segment([from, to], stroke);
    let back = (to - from).normalized() * HEAD;
    for (tip, inwards) in [(from, back), (to, -back)] {
        for side in [inwards.rot90(), -inwards.rot90()] {
            painter.line_segment([tip, tip + inwards + side * 0.7], stroke);
        }
    }
}

/// Slanting lines over what is left over.
fn hatch(painter: &Painter, place: Rect) {
    let painter = painter.with_clip_rect(painter.clip_rect().intersect(place));
    let stroke = Stroke::new(0.7, look::FAINT.gamma_multiply(0.6));
    let mut x = place.left() - place.height();
    let mut lines = Vec::new();
    while x < place.right() {
        lines.push(Shape::line_segment([pos2(x, place.bottom()), pos2(x + place.height(), place.top())], stroke));
        x += HATCH;
    }
    painter.extend(lines);
}

fn totals_ui(ui: &mut Ui, bench: &Bench, laid: &LaidOut) {
    ui.add_space(4.0);
    card(ui, |ui| {
        for (mark, line) in total_lines(bench, laid) {
            let text = RichText::new(line.trim());
            let text = if mark == Mark::Heading { text.strong() } else { text.small() };
            ui.add(Label::new(text).wrap());
        }
    });
}
