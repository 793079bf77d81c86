//! Does the corner work? The verdict, both fillers and what decides them, the findings, and how each part opens.

use bevy_egui::egui::{self, Button, RichText, Stroke, Ui, Vec2};

use super::filler::filler_ui;
use super::in_use::worries_ui;
use super::{View, bordered, card, small_print_ui};
use crate::clearance::{Answer, FindingKind};
use crate::plan::Side;
use crate::report;
use crate::viewer::action::Action;
use crate::viewer::look;

/// So many drawers and doors are listed at first.
const SHOWN_OPENINGS: usize = 40;

/// The section that answers whether the corner works.
pub(super) fn corner_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    verdict_ui(ui, view.answer);
    for side in Side::BOTH {
        card(ui, |ui| filler_ui(ui, view.plan, view.answer, side, actions));
    }
    findings_ui(ui, view, actions);
    worries_ui(ui, view.worries);
    openings_ui(ui, view, actions);
    advice_ui(ui, view.answer);
    assumes_ui(ui, view.answer);
}

fn verdict_ui(ui: &mut Ui, answer: &Answer) {
    let (sign, colour) = if answer.is_clear() { ("✔", look::CLEAR) } else { ("✖", look::TOUCH) };
    bordered(ui, colour, |ui| {
        ui.horizontal_top(|ui| {
            ui.label(RichText::new(sign).size(look::SIGN).color(colour));
            let text = RichText::new(report::verdict(answer)).size(look::TITLE).color(colour).strong();
            ui.add(egui::Label::new(text).wrap());
        });
    });
}

fn findings_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let findings = &view.answer.findings;
    if findings.is_empty() {
        return;
    }
    ui.add_space(2.0);
    ui.label(RichText::new(format!("Findings ({}) – click one to see it", findings.len())).strong());
    for (k, finding) in findings.iter().enumerate() {
        let (sign, colour) = match finding.kind {
            FindingKind::Hits | FindingKind::Overlaps => ("✖", look::TOUCH),
            FindingKind::TooNear => ("⚠", look::WARN),
            FindingKind::RunTooLong => ("↔", look::TOUCH),
        };
        let chosen = view.chosen == Some(k);
        let text = RichText::new(format!("{sign}  {}", report::finding_line(view.answer, finding))).color(look::INK);
        let edge = if chosen { Stroke::new(2.0, colour) } else { Stroke::new(1.0, colour.gamma_multiply(0.45)) };
        let button = Button::new(text).wrap().fill(look::CARD).stroke(edge).selected(chosen);
        let button = button.min_size(Vec2::new(ui.available_width(), 0.0));
        if ui.add(button).clicked() {
            actions.push(Action::PointOut(k));
        }
    }
}

fn openings_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    ui.add_space(2.0);
    ui.label(RichText::new("Drawers and doors").strong());
    let all = &view.answer.openings;
    let many_id = egui::Id::new("all openings");
    let show_all = all.len() <= SHOWN_OPENINGS || ui.data(|data| data.get_temp(many_id)).unwrap_or(false);
    // What does not open comes first; of a long run of units the rest is there when asked for.
    let (wrong, clear): (Vec<_>, Vec<_>) = all.iter().partition(|opening| !opening.is_clear());
    let rows: Vec<_> =
        if show_all { all.iter().collect() } else { wrong.into_iter().chain(clear).take(SHOWN_OPENINGS).collect() };
    for opening in rows {
        let open = view.open.get(opening.mover.0).copied().unwrap_or_default();
        let (sign, colour) = if opening.is_clear() { ("✔", look::CLEAR) } else { ("✖", look::TOUCH) };
        ui.horizontal_top(|ui| {
            let name = view.answer.model.movers.get(opening.mover.0).map_or("", |mover| mover.name.as_str());
            let word = if open { "Shut" } else { "Open" };
            let button = ui.add(Button::new(RichText::new(word).small()).min_size(Vec2::new(46.0, 22.0)));
            // A reader of the screen must hear which one.
            button.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Button, true, format!("{word} {name}")));
            if button.clicked() {
                actions.push(Action::Toggle(opening.mover));
            }
            ui.label(RichText::new(sign).color(colour));
            ui.add(egui::Label::new(RichText::new(report::opening_line(view.answer, opening)).small()).wrap());
        });
    }
    if !show_all && ui.button(format!("Show all {}", all.len())).clicked() {
        ui.data_mut(|data| data.insert_temp(many_id, true));
    }
}

fn advice_ui(ui: &mut Ui, answer: &Answer) {
    if answer.advice.is_empty() {
        return;
    }
    ui.add_space(2.0);
    let lines: Vec<String> = answer.advice.iter().map(|advice| report::advice_line(answer, advice)).collect();
    small_print_ui(ui, "Better to know", lines.iter().map(String::as_str));
}

fn assumes_ui(ui: &mut Ui, answer: &Answer) {
    if answer.assumes.is_empty() {
        return;
    }
    ui.add_space(2.0);
    let assumes = answer.assumes.iter().map(String::as_str);
    small_print_ui(ui, "Taken for granted", assumes);
    small_print_ui(ui, "Take care", report::cautions().iter().copied());
}
