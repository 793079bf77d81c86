//! Which plan is it, and who looks? The bar above the scene.

use bevy_egui::egui::{Align, Layout, RichText, Ui};

use super::View;
use crate::viewer::action::Action;
use crate::viewer::look;
use crate::viewer::settings::Audience;

/// The bar above the scene.
pub(super) fn top_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    ui.horizontal(|ui| {
        ui.heading(&view.plan.name);
        ui.label(RichText::new(view.origin).small().color(look::FAINT));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            audience_ui(ui, view, actions);
            text_size_ui(ui, actions);
        });
    });
}

/// The switch between bench and preview.
pub(super) fn audience_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let (word, help) = match view.settings.audience {
        Audience::Builder => ("Preview", "Show it to the owner: no figures, large controls (P)"),
        Audience::Owner => ("Bench", "Back to findings, widths and the plan (P)"),
    };
    if ui.button(word).on_hover_text(help).clicked() {
        actions.push(Action::ShowTo(view.settings.audience.other()));
    }
}

fn text_size_ui(ui: &mut Ui, actions: &mut Vec<Action>) {
    if ui.button("A+").on_hover_text("Larger text").clicked() {
        actions.push(Action::TextSize { larger: true });
    }
    if ui.button("A−").on_hover_text("Smaller text").clicked() {
        actions.push(Action::TextSize { larger: false });
    }
}
