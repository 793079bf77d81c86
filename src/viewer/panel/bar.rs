//! How does it open? The bar below the scene: the film with its time marks, and the help line.

use bevy_egui::egui::{self, Color32, FontId, Id, Rect, RichText, Slider, Stroke, Ui, WidgetInfo, WidgetType, pos2};

use super::place::note;
use super::{Film, View};
use crate::model::MoverId;
use crate::viewer::action::Action;
use crate::viewer::timeline::{Moment, Step, TimeMark, Timeline, Way};
use crate::viewer::{frame, look};

/// What the mouse and the keys do.
pub(super) const HELP: &str = "Drag: turn   Drag a front: open it   Right drag: move   Wheel: zoom   Click a front: open, shut   \
                        Space: play, pause   Left, Right: step   Page Up, Page Down: to a mark   O: open or shut all   M: measure   \
                        F: frame   Esc: stop";

/// Height of the names above the film's slider, and of the signs below it, in points.
const NAMES: f32 = 17.0;
const SIGNS: f32 = 15.0;
/// What is narrower than this, in points, is not drawn by itself.
const LEAST_WIDTH: f32 = 4.0;

/// The bar below the scene: the film, and the help line.
pub fn controls_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        buttons_ui(ui, view, actions);
        ui.separator();
        order_ui(ui, view, actions);
    });
    if let Some(timeline) = view.bench.timeline.filter(|timeline| timeline.length() > 0.0) {
        film_ui(ui, view, timeline, actions);
    }
    ui.add(egui::Label::new(RichText::new(HELP).small().color(look::FAINT)).wrap());
}

fn buttons_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let play = match view.film {
        Film::Off => "▶ Play",
        Film::Running => "⏸ Pause",
        Film::Paused => "▶ Go on",
    };
    let any_open = view.open.iter().any(|&open| open);
    let all = if any_open {
        ("Shut all", "Shut every drawer and door (O)")
    } else {
        ("Open all", "Open every drawer and door that can be open together (O)")
    };
    let buttons = [
        (play, "Open the drawers and doors as a film, or hold it still (Space)", Action::PlayPause),
        ("⏹ Stop", "End the film and shut everything (Esc)", Action::Stop),
        (all.0, all.1, Action::ToggleAll),
        ("Frame the corner", "Look at the corner as at the start (F)", Action::FrameCorner),
    ];
    for (text, help, action) in buttons {
        if ui.button(text).on_hover_text(help).clicked() {
            actions.push(action);
        }
    }
}

fn order_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let ways = [
        (Way::InTurn, "In turn", "The film opens each drawer and door alone, one after the other"),
        (Way::AllAtOnce, "All at once", "The film opens everything at once that can be open together"),
    ];
    for (way, word, help) in ways {
        let chosen = view.bench.way == way;
        let button = ui.selectable_label(chosen, word);
        button.widget_info(|| WidgetInfo::selected(WidgetType::RadioButton, true, chosen, word));
        if button.on_hover_text(help).clicked() {
            actions.push(Action::PlayWay(way));
        }
    }
    let mut slow = view.bench.slow;
    let help = "The last 60 mm (12° of a door) before a touch, or before the clearance wanted is gone, go at a tenth of the \
                speed, and the gap that is left is told";
    if ui.checkbox(&mut slow, "Slow approach").on_hover_text(help).clicked() {
        actions.push(Action::SlowApproach(slow));
    }
}

/// The film: a slider over its whole length, with the names of turns and the signs of touches above it.
fn film_ui(ui: &mut Ui, view: &View<'_>, timeline: &Timeline, actions: &mut Vec<Action>) {
    let name = |id: MoverId| view.answer.model.movers.get(id.0).map_or("", |mover| mover.name.as_str());
    let turn = view.bench.turn.filter(|_| view.bench.way == Way::InTurn).map_or("", name);
    let time = format!("{:.1} of {:.1} s", view.bench.at, timeline.length());
    ui.add_space(NAMES);
    let slider = ui
        .horizontal(|ui| {
            ui.spacing_mut().slider_width = ui.available_width() - 100.0;
            let mut at = view.bench.at;
            let slider = ui.add(Slider::new(&mut at, 0.0..=timeline.length()).show_value(false));
            slider.widget_info(|| WidgetInfo::slider(true, at, format!("Film, seconds {turn}").trim_end()));
            if slider.changed() {
                actions.push(Action::Scrub(at));
            }
            ui.label(RichText::new(&time).small());
            slider
        })
        .inner;
    if slider.has_focus() {
        let keys = [(egui::Key::Home, Step::ToStart), (egui::Key::End, Step::ToEnd)];
        let further = [(egui::Key::PageUp, Step::ToMarkBefore), (egui::Key::PageDown, Step::ToMarkAfter)];
        let pressed = |key: egui::Key| ui.input(|input| input.key_pressed(key));
        actions.extend(keys.into_iter().chain(further).filter(|(key, _)| pressed(*key)).map(|(_, s)| Action::Step(s)));
    }
    note(&slider, || "slider film".to_owned());
    turns_ui(ui, view, timeline, slider.rect, actions);
    touches_ui(ui, view, timeline, slider.rect, actions);
    let help =
        "Drag to any moment of the film; arrow keys step, Home and End go to its ends, Page Up and Down to the marks";
    slider.on_hover_text(help);
}

/// Where on the slider a moment is: its left end, and points a second.
fn scale(timeline: &Timeline, slider: Rect) -> impl Fn(f64) -> f32 + use<> {
    let handle = slider.height() / 2.5;
    let (left, right) = (slider.left() + handle, slider.right() - handle);
    let length = timeline.length();
    move |at| left + (right - left) * frame::narrow(at / length)
}

/// A line for each turn, and the name of each unit over its turns; a click goes there.
fn turns_ui(ui: &mut Ui, view: &View<'_>, timeline: &Timeline, slider: Rect, actions: &mut Vec<Action>) {
    let place = scale(timeline, slider);
    let name = |id: MoverId| view.answer.model.movers.get(id.0).map_or("", |mover| mover.name.as_str());
    let all = view.bench.way == Way::AllAtOnce;
    let turns: Vec<&TimeMark> = timeline.marks().iter().filter(|mark| mark.moment == Moment::Turn).collect();
    let top = slider.top() - NAMES;
    // The unit's own name is told once, over all its turns; which of its drawers it is, the line's help tells.
    let mut unit: Option<(&str, f32)> = None;
    let mut line_at = f32::NEG_INFINITY;
    for (k, mark) in turns.iter().enumerate() {
        let (from, to) = (place(mark.at), turns.get(k + 1).map_or(place(timeline.length()), |next| place(next.at)));
        let text = if all { "everything that can be open together" } else { name(mark.mover) };
        let of_unit = if all { text } else { text.split(", ").next().unwrap_or(text) };
        let begins = unit.is_none_or(|(before, _)| before != of_unit);
        let high = if begins { top } else { slider.top() - 4.0 };
        // In a plan of many units the lines would else be a grey bar.
        if from - line_at >= LEAST_WIDTH {
            line_at = from;
            ui.painter().vline(from, high..=slider.bottom(), Stroke::new(1.0, Color32::from_gray(110)));
        }
        if begins {
            unit = Some((of_unit, from));
        }
        let ends = turns.get(k + 1).is_none_or(|next| !name(next.mover).starts_with(of_unit));
        let on = all || view.bench.turn.is_some_and(|turn| name(turn).starts_with(of_unit));
        if let Some((text, start)) = unit.filter(|_| ends) {
            let row = Rect::from_min_max(pos2(start, top - 1.0), pos2(to - 2.0, slider.top() + 1.0));
            name_ui(ui, row, text, if on { look::INK } else { look::FAINT });
        }
        if to - from < LEAST_WIDTH {
            continue;
        }
        let row = Rect::from_min_max(pos2(from, top), pos2(to - 1.0, slider.top()));
        let turn = ui.interact(row, Id::new(("film turn", mark.mover.0)), egui::Sense::click());
        turn.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, format!("{text}: its turn")));
        if turn.on_hover_text(format!("{text}: its turn begins here; click to go there")).clicked() {
            actions.push(Action::Scrub(mark.at));
        }
    }
}

/// A name, cut short with dots where there is no room for it.
fn name_ui(ui: &Ui, row: Rect, text: &str, ink: Color32) {
    let mut job = egui::text::LayoutJob::simple_singleline(text.to_owned(), FontId::proportional(look::SMALL), ink);
    job.wrap = egui::text::TextWrapping::truncate_at_width((row.width() - 5.0).max(0.0));
    let galley = ui.painter().layout_job(job);
    let at = pos2(row.left() + 4.0, row.center().y - galley.size().y / 2.0);
    ui.painter().galley(at, galley, ink);
}

/// A sign below the slider for each touch and each place that comes too near, with a word where there is room.
fn touches_ui(ui: &mut Ui, view: &View<'_>, timeline: &Timeline, slider: Rect, actions: &mut Vec<Action>) {
    let place = scale(timeline, slider);
    let met: Vec<&TimeMark> = timeline.marks().iter().filter(|mark| mark.moment != Moment::Turn).collect();
    for (k, mark) in met.iter().enumerate() {
        let (sign, word, colour) = match mark.moment {
            Moment::TooNear => ("⚠", "too near", look::WARN),
            Moment::Turn | Moment::Touch => ("✖", "touches", look::TOUCH),
        };
        let name = view.answer.model.movers.get(mark.mover.0).map_or("", |mover| mover.name.as_str());
        let x = place(mark.at);
        let layout = |text: String| ui.painter().layout_no_wrap(text, FontId::proportional(look::SMALL), colour);
        let room = met.get(k + 1).map_or(slider.right() + 60.0, |next| place(next.at)) - x;
        let mut galley = layout(format!("{sign} {word}"));
        if galley.size().x + 4.0 > room {
            galley = layout(sign.to_owned());
        }
        let middle = slider.bottom() + SIGNS / 2.0 + 1.0;
        let rect = Rect::from_min_size(pos2(x - 6.0, middle - galley.size().y / 2.0), galley.size());
        ui.painter().vline(x, slider.top()..=slider.bottom() + 2.0, Stroke::new(2.0, colour));
        ui.painter().galley(rect.min, galley, colour);
        let sign = ui.interact(rect, Id::new(("film mark", mark.mover.0)), egui::Sense::click());
        let label = format!("{name} {word}");
        sign.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &label));
        if sign.on_hover_text(format!("{label} here; click to go there")).clicked() {
            actions.push(Action::Scrub(mark.at));
        }
    }
    // Kept free where nothing touches too: the scene must not jump while a filler is tried out.
    ui.add_space(SIGNS);
}
