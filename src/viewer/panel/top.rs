//! Which plan is it, is it saved, and who looks? The bar above the scene.

use bevy_egui::egui::{self, Align, Layout, RichText, Ui};

use super::View;
use super::place::note;
use crate::viewer::action::Action;
use crate::viewer::look;
use crate::viewer::settings::Audience;

/// What the bar needs to know of the desk.
#[derive(Clone, Copy, Debug, Default)]
pub struct DeskView<'a> {
    /// The plan has changes that are not saved.
    pub unsaved: bool,
    /// What undo would take back.
    pub undoes: Option<&'a str>,
    /// What redo would do again.
    pub redoes: Option<&'a str>,
    /// What came of the last save or open, and whether it went wrong.
    pub told: Option<(&'a str, bool)>,
    /// The file has got another text while there are changes here.
    pub newer: bool,
}

/// The bar above the scene.
pub(super) fn top_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        let desk = view.desk;
        let buttons = [
            ("New…", "Start a new plan (Ctrl N)", Action::AskNew, true),
            ("Open…", "Open a plan (Ctrl O)", Action::AskOpen, true),
            ("Save", "Save the plan to its file (Ctrl S)", Action::Save, desk.unsaved),
            ("Save as…", "Save it under another name (Ctrl Shift S)", Action::AskSaveAs, true),
        ];
        for (word, help, action, can) in buttons {
            let button = ui.add_enabled(can, egui::Button::new(word)).on_hover_text(help);
            note(&button, || word.trim_end_matches('…').to_lowercase());
            if button.clicked() {
                actions.push(action);
            }
        }
        ui.separator();
        step_ui(ui, "Undo", desk.undoes, "Ctrl Z", Action::Undo, actions);
        step_ui(ui, "Redo", desk.redoes, "Ctrl Shift Z", Action::Redo, actions);
        ui.separator();
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if ui.button("Help").on_hover_text("Mouse and keys (F1)").clicked() {
                actions.push(Action::Help);
            }
            text_size_ui(ui, actions);
            audience_ui(ui, view, actions);
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| name_ui(ui, view));
        });
    });
    notice_ui(ui, view, actions);
}

/// The plan's name and where it lies, cut with dots where there is no room.
fn name_ui(ui: &mut Ui, view: &View<'_>) {
    let mark = if view.desk.unsaved { "* not saved – " } else { "" };
    let text = format!("{mark}{}", view.origin);
    let label = egui::Label::new(RichText::new(text.as_str()).small().color(look::FAINT)).truncate();
    ui.add(label).on_hover_text(text);
}

fn step_ui(ui: &mut Ui, word: &str, what: Option<&str>, keys: &str, action: Action, actions: &mut Vec<Action>) {
    let button = ui.add_enabled(what.is_some(), egui::Button::new(word));
    note(&button, || word.to_lowercase());
    let button = match what {
        Some(what) => button.on_hover_text(format!("{word}: {what} ({keys})")),
        None => button.on_disabled_hover_text(format!("Nothing to {}", word.to_lowercase())),
    };
    if button.clicked() {
        actions.push(action);
    }
}

/// What came of the last save, and the choice where the file has got another text meanwhile.
fn notice_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    if view.desk.newer {
        ui.horizontal_wrapped(|ui| {
            let text = "⚠ The file was saved by another program, and there are changes here that are not saved.";
            ui.label(RichText::new(text).color(look::WARN));
            if ui.button("Show the file's").on_hover_text("Undo brings the changes made here back").clicked() {
                actions.push(Action::TakeNewer(true));
            }
            if ui.button("Keep these").on_hover_text("The next save replaces the file's text").clicked() {
                actions.push(Action::TakeNewer(false));
            }
        });
    }
    if let Some((text, wrong)) = view.desk.told {
        let (sign, colour) = if wrong { ("⚠", look::WARN) } else { ("✔", look::FAINT) };
        ui.add(egui::Label::new(RichText::new(format!("{sign} {text}")).small().color(colour)).wrap());
    }
}

/// The switch between bench and preview.
pub(super) fn audience_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let (word, help) = match view.settings.audience {
        Audience::Builder => ("Preview", "Show it to the owner: no figures, large controls (P)"),
        Audience::Owner => ("Bench", "Back to findings, widths and the plan (P)"),
    };
    let button = ui.button(word).on_hover_text(help);
    note(&button, || "audience".to_owned());
    if button.clicked() {
        actions.push(Action::ShowTo(view.settings.audience.other()));
    }
}

fn text_size_ui(ui: &mut Ui, actions: &mut Vec<Action>) {
    if ui.button("A+").on_hover_text("Larger text (Ctrl +)").clicked() {
        actions.push(Action::TextSize { larger: true });
    }
    if ui.button("A-").on_hover_text("Smaller text (Ctrl -)").clicked() {
        actions.push(Action::TextSize { larger: false });
    }
}
