//! What does the panel say? The verdict, both fillers, what decides them, the findings, and how each part opens.
//!
//! Nothing of Bevy in here: [`panel_ui`] and [`controls_ui`] read a [`View`] and write [`Action`]s, so that tests can
//! drive them by what a person reads.

use bevy_egui::egui::{
    self, Button, Color32, CornerRadius, FontId, Frame, Margin, RichText, ScrollArea, Stroke, TextStyle, Ui, Vec2,
    Visuals,
};

use super::action::{Action, Layer};
use super::filler_entry::filler_ui;
use super::look;
use super::scene::Show;
use crate::clearance::{Answer, FindingKind};
use crate::plan::{Plan, Side};
use crate::report;

/// Where the film stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Film {
    /// It does not run.
    #[default]
    Off,
    /// It runs.
    Running,
    /// It is held still.
    Paused,
}

/// Everything that the panel shows.
#[derive(Clone, Copy, Debug)]
pub struct View<'a> {
    /// The plan, with the fillers as set in the window.
    pub plan: &'a Plan,
    /// What was worked out from it.
    pub answer: &'a Answer,
    /// Where the plan came from: a file's name, or that it is built in.
    pub origin: &'a str,
    /// The problems of the file's last save.
    pub problems: &'a [String],
    /// Why the file is not watched, if it should be and is not.
    pub unwatched: Option<&'a str>,
    /// The finding that is pointed out.
    pub chosen: Option<usize>,
    /// For each drawer and door, whether it is asked to be open.
    pub open: &'a [bool],
    /// Where the film stands.
    pub film: Film,
    /// Which layers are shown.
    pub show: Show,
}

/// Sets text sizes and colours; once for a context.
pub fn dress_egui(ctx: &egui::Context) {
    ctx.all_styles_mut(|style| {
        style.text_styles = [
            (TextStyle::Heading, FontId::proportional(look::HEADING)),
            (TextStyle::Body, FontId::proportional(look::TEXT)),
            (TextStyle::Button, FontId::proportional(look::TEXT)),
            (TextStyle::Monospace, FontId::monospace(look::TEXT)),
            (TextStyle::Small, FontId::proportional(look::SMALL)),
        ]
        .into();
        style.visuals = Visuals { override_text_color: Some(look::INK), panel_fill: look::PANEL, ..Visuals::dark() };
        style.visuals.widgets.inactive.weak_bg_fill = Color32::from_rgb(66, 73, 82);
        style.visuals.widgets.inactive.bg_fill = Color32::from_rgb(84, 92, 102);
        style.visuals.widgets.hovered.weak_bg_fill = Color32::from_rgb(82, 91, 102);
        style.visuals.widgets.active.weak_bg_fill = Color32::from_rgb(98, 108, 120);
        style.visuals.extreme_bg_color = Color32::from_rgb(22, 25, 28);
        style.visuals.selection.bg_fill = Color32::from_rgb(60, 108, 128);
        // A drag on the panel moves a slider or nothing.
        style.interaction.selectable_labels = false;
        style.spacing.item_spacing = Vec2::new(8.0, 6.0);
        style.spacing.button_padding = Vec2::new(8.0, 4.0);
        style.spacing.interact_size.y = 24.0;
    });
}

/// Has every common letter drawn in every size, at several shares of a pixel, as egui tells them apart.
///
/// A letter drawn for the first time reaches the screen some frames late.
pub fn warm_letters(ctx: &egui::Context) {
    let letters = ('!'..='~').chain("–—…°×’✔✖⚠▶⏸⏹↔►▼".chars());
    let common: String = letters.flat_map(|letter| [letter; 7].into_iter().chain([' '])).collect();
    let painter = ctx.debug_painter();
    for size in look::TEXT_SIZES {
        drop(painter.layout_no_wrap(common.clone(), FontId::proportional(size), look::INK));
    }
}

/// The panel beside the scene.
pub fn panel_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        // Room for the scroll bar, so that it never lies on text.
        ui.set_max_width(ui.available_width() - 10.0);
        ui.heading(&view.plan.name);
        ui.label(RichText::new(view.origin).small().color(look::FAINT));
        problems_ui(ui, view);
        verdict_ui(ui, view.answer);
        for side in Side::BOTH {
            card(ui, |ui| filler_ui(ui, view.plan, view.answer, side, actions));
        }
        findings_ui(ui, view, actions);
        openings_ui(ui, view, actions);
        assumes_ui(ui, view.answer);
        ui.add_space(8.0);
    });
}

/// A box on the panel, as wide as the panel.
fn card<R>(ui: &mut Ui, add: impl FnOnce(&mut Ui) -> R) -> R {
    let frame =
        Frame::new().fill(look::CARD).corner_radius(CornerRadius::same(6)).inner_margin(Margin::symmetric(10, 8));
    frame
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            add(ui)
        })
        .inner
}

fn bordered<R>(ui: &mut Ui, colour: Color32, add: impl FnOnce(&mut Ui) -> R) -> R {
    let frame = Frame::new()
        .fill(look::CARD)
        .stroke(Stroke::new(1.5, colour))
        .corner_radius(CornerRadius::same(6))
        .inner_margin(Margin::symmetric(10, 8));
    frame
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            add(ui)
        })
        .inner
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

fn problems_ui(ui: &mut Ui, view: &View<'_>) {
    if let Some(reason) = view.unwatched {
        ui.add(egui::Label::new(RichText::new(format!("⚠ {reason}")).small().color(look::WARN)).wrap());
    }
    if view.problems.is_empty() {
        return;
    }
    bordered(ui, look::WARN, |ui| {
        let heading = "⚠ The file's last save has problems; this is still the plan before it.";
        ui.add(egui::Label::new(RichText::new(heading).color(look::WARN).strong()).wrap());
        for line in view.problems {
            ui.add(egui::Label::new(RichText::new(line).small()).wrap());
        }
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
    for opening in &view.answer.openings {
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

/// What the mouse and the keys do.
pub const HELP: &str = "Drag: turn   Right drag: move   Wheel: zoom   Click a front: open, shut   Space: play, pause   \
                        O: open or shut all   F: frame   Esc: stop";

/// The bar below the scene: the film, the view, the layers, and the help line.
pub fn controls_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        let play = match view.film {
            Film::Off => "▶ Play",
            Film::Running => "⏸ Pause",
            Film::Paused => "▶ Go on",
        };
        let any_open = view.open.iter().any(|&open| open);
        let buttons = [
            (play, Action::PlayPause),
            ("⏹ Stop", Action::Stop),
            (if any_open { "Shut all" } else { "Open all" }, Action::ToggleAll),
            ("Frame the corner", Action::FrameCorner),
        ];
        for (text, action) in buttons {
            if ui.button(text).clicked() {
                actions.push(action);
            }
        }
        ui.separator();
        ui.label("Show");
        let layers = [
            ("countertop", Layer::Countertop, view.show.countertop),
            ("walls", Layer::Walls, view.show.walls),
            ("fronts", Layer::Fronts, view.show.fronts),
        ];
        for (text, layer, mut visible) in layers {
            if ui.checkbox(&mut visible, text).clicked() {
                actions.push(Action::Show(layer, visible));
            }
        }
    });
    ui.add(egui::Label::new(RichText::new(HELP).small().color(look::FAINT)).wrap());
}

/// A heading and sentences below it in small print.
fn small_print_ui<'a>(ui: &mut Ui, heading: &str, sentences: impl Iterator<Item = &'a str>) {
    ui.label(RichText::new(heading).strong());
    for sentence in sentences {
        ui.add(egui::Label::new(RichText::new(sentence).small().color(look::FAINT)).wrap());
    }
}
