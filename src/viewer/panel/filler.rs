//! How wide is a filler? A slider, a field that takes what a builder writes, and a button for the least.

use bevy_egui::egui::{self, Color32, Id, RichText, Slider, TextEdit, Ui, Vec2, pos2};

use super::place::note;
use crate::clearance::{Answer, SideAnswer};
use crate::length::{Length, SNAP_MM, Unit};
use crate::plan::{Plan, Side};
use crate::report;
use crate::viewer::action::Action;
use crate::viewer::{frame, look};

/// The slider reaches at least this far, in mm.
const SLIDER_MM: f64 = 125.0;
/// A filler wider than this, in mm, is a slip of the finger.
const WIDEST_MM: f64 = 1_000.0;

/// So many lines of the report stand below a filler where nothing decides its least.
const FIRST_LINES: usize = 2;

/// What is being typed into a filler's field.
#[derive(Clone, Debug, Default)]
struct Draft {
    text: String,
    /// Why the text was not taken.
    refused: Option<String>,
}

/// One side's filler: its width, how to change it, and what decides the least.
pub fn filler_ui(ui: &mut Ui, plan: &Plan, answer: &Answer, side: Side, actions: &mut Vec<Action>) {
    let this = answer.side(side);
    let unit = plan.unit;
    let draft_id = Id::new(("filler", side.word()));
    let mut draft: Draft = ui.data(|data| data.get_temp(draft_id)).unwrap_or_default();
    let title = format!("{} filler", super::capital(side.word()));

    ui.horizontal(|ui| {
        let enough = this.spare().is_some_and(|spare| spare.to_mm() >= -SNAP_MM);
        let (sign, colour) = if enough { ("✔", look::CLEAR) } else { ("✖", look::TOUCH) };
        ui.label(RichText::new(sign).color(colour));
        let label = ui.label(RichText::new(&title).strong());
        entry_ui(ui, this, unit, &mut draft, label.id, actions);
        ui.label(unit.symbol());
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let can = this.least_on_step.is_some_and(|least| least != this.present);
            let button = ui.add_enabled(can, egui::Button::new("Set to least"));
            button.widget_info(|| {
                let spoken = format!("Set to least, {}", side.word());
                egui::WidgetInfo::labeled(egui::WidgetType::Button, can, spoken)
            });
            if button.clicked() {
                draft = Draft::default();
                actions.push(Action::SetToLeast(side));
            }
        });
    });
    slider_ui(ui, plan, this, side, &title, &mut draft, actions);
    if let Some(refused) = &draft.refused {
        ui.add(egui::Label::new(RichText::new(format!("⚠ {refused}")).small().color(look::WARN)).wrap());
    }
    let lines = report::side_lines(answer, this);
    // What decides the least is what one acts on; the rest is for who asks.
    let first = lines.iter().position(|line| line.starts_with("decided by")).map_or(FIRST_LINES, |k| k + 1);
    let (first, more) = lines.split_at(first.min(lines.len()));
    let line_ui = |ui: &mut Ui, line: &String| ui.add(egui::Label::new(RichText::new(line).small()).wrap());
    for line in first {
        line_ui(ui, line);
    }
    if !more.is_empty() {
        let heading = RichText::new(format!("More about the {} filler", side.word())).small();
        egui::CollapsingHeader::new(heading).id_salt(("more", side.word())).show(ui, |ui| {
            for line in more {
                line_ui(ui, line);
            }
        });
    }
    ui.data_mut(|data| data.insert_temp(draft_id, draft));
}

/// The field: what is typed counts when Enter is pressed or the field is left.
fn entry_ui(ui: &mut Ui, this: &SideAnswer, unit: Unit, draft: &mut Draft, label: Id, actions: &mut Vec<Action>) {
    let id = Id::new(("filler entry", this.side.word()));
    let typing = ui.memory(|memory| memory.has_focus(id));
    if !typing && draft.refused.is_none() {
        // The mark for "rounded" is not something one types.
        draft.text = this.present.show_bare(unit).trim_start_matches('~').to_owned();
    }
    let before = draft.text.clone();
    let field = ui.add(TextEdit::singleline(&mut draft.text).id(id).desired_width(74.0).hint_text("width"));
    let field = field.labelled_by(label).on_hover_text("2-3/8, 60 mm or 5' 2\"; Enter takes it");
    if draft.text != before {
        draft.refused = None;
    }
    let shown = this.present.show_bare(unit);
    if field.lost_focus() && draft.text.trim() != shown.trim_start_matches('~') {
        match read_width(&draft.text, unit) {
            Ok(width) => {
                draft.refused = None;
                actions.push(Action::SetFiller(this.side, width));
            }
            Err(reason) => draft.refused = Some(reason),
        }
    } else if field.lost_focus() {
        draft.refused = None;
    }
}

/// A filler width as a builder writes it, or why it cannot be one.
fn read_width(text: &str, unit: Unit) -> Result<Length, String> {
    let example = match unit {
        Unit::Millimetre => "60 or 2-3/8 in",
        Unit::Inch => "2-3/8 or 60 mm",
    };
    let width = Length::parse(text, unit).map_err(|wrong| format!("{wrong}; write for example {example}"))?;
    if width < Length::ZERO {
        return Err(format!("`{}` is less than no filler at all", text.trim()));
    }
    if width.to_mm() > WIDEST_MM {
        return Err(format!("`{}` is wider than {}", text.trim(), Length::mm(WIDEST_MM).show(unit)));
    }
    Ok(width)
}

fn slider_ui(
    ui: &mut Ui,
    plan: &Plan,
    this: &SideAnswer,
    side: Side,
    title: &str,
    draft: &mut Draft,
    actions: &mut Vec<Action>,
) {
    let unit = plan.unit;
    let step = plan.clearance.shop_step;
    let least = this.least.unwrap_or(Length::ZERO).to_mm();
    let reach = Length::mm(SLIDER_MM.max(least * 1.7).max(this.present.to_mm())).rounded_up_to(step).to(unit);
    let mut value = this.present.to(unit);
    ui.spacing_mut().slider_width = ui.available_width() - 4.0;
    let slider = Slider::new(&mut value, 0.0..=reach).show_value(false).step_by(step.to(unit));
    let response = ui.add(slider);
    response.widget_info(|| egui::WidgetInfo::slider(true, value, format!("{title} slider")));
    if response.changed() {
        *draft = Draft::default();
        // Steps of an inch are not exact in decimal; bring the value back to a whole one.
        let width = Length::of_number(value, unit).map(|width| nearest_step(width, step));
        // The slider calls it a change when it brings 1.4999… in to a whole step, each frame anew.
        if let Some(width) = width.ok().filter(|width| (*width - this.present).abs() > Length::mm(SNAP_MM)) {
            actions.push(Action::SetFiller(side, width));
        }
    }
    note(&response, || format!("slider {}", side.word()));
    good_ranges_ui(ui, this, response.rect, reach, unit);
    // The tick hangs below the slider.
    ui.add_space(5.0);
}

/// The whole shop step nearest to where the slider stands.
fn nearest_step(width: Length, step: Length) -> Length {
    if step <= Length::ZERO { width } else { step * (width.to_mm() / step.to_mm()).round() }
}

/// A line below the slider where widths pass, and a tick at the least: the slider shows where it may stand.
fn good_ranges_ui(ui: &Ui, this: &SideAnswer, slider: egui::Rect, reach: f64, unit: Unit) {
    let handle = slider.height() / 2.5;
    let (left, right) = (slider.left() + handle, slider.right() - handle);
    let place = |width: Length| {
        let share = frame::narrow((width.to(unit) / reach).clamp(0.0, 1.0));
        left + (right - left) * share
    };
    let y = slider.bottom() + 1.0;
    let painter = ui.painter();
    painter.hline(left..=right, y, egui::Stroke::new(1.0, Color32::from_gray(90)));
    for range in &this.good {
        let to = range.to.map_or(right, place);
        painter.hline(place(range.from)..=to, y, egui::Stroke::new(3.0, look::CLEAR));
    }
    if let Some(least) = this.least {
        let tip = pos2(place(least), y - 1.0);
        let foot = [tip + Vec2::new(-4.5, 7.0), tip + Vec2::new(4.5, 7.0)];
        painter.add(egui::Shape::convex_polygon(vec![tip, foot[1], foot[0]], look::CLEAR, egui::Stroke::NONE));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_are_read_as_a_builder_writes_them() {
        assert_eq!(read_width("2-3/8", Unit::Inch), Ok(Length::inches(2.375)));
        assert_eq!(read_width("60 mm", Unit::Inch), Ok(Length::mm(60.0)));
        assert!(read_width("-1", Unit::Inch).is_err_and(|why| why.contains("less than no filler")));
        assert!(read_width("two", Unit::Inch).is_err_and(|why| why.contains("2-3/8")));
        assert!(read_width("9000", Unit::Millimetre).is_err_and(|why| why.contains("1000 mm")));
    }
}
