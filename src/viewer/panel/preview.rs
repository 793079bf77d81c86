//! What does the owner want to do and to know? Open, shut, play, look from elsewhere; what owners ask, in plain words.
//!
//! Large controls, no findings, no lengths. The bar lies below the scene, the side beside it scrolls, so that nothing is
//! cut at any size of text.

use bevy_egui::egui::{self, Button, RichText, ScrollArea, Ui, WidgetInfo, WidgetType, vec2};

use super::{Film, View, card, finish, top};
use crate::viewer::action::Action;
use crate::viewer::look;
use crate::viewer::viewpoint::Viewpoint;

/// Least size of a large control, in points: easy to hit on a screen that one touches.
const LARGE: egui::Vec2 = vec2(118.0, 44.0);
/// Least height of the buttons beside the scene, in points.
const MEDIUM: f32 = 32.0;

/// The bar below the scene, for the owner.
pub(super) fn bar_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        let any_open = view.open.iter().any(|&open| open);
        let (play, play_help) = match view.film {
            Film::Off => ("▶ Play", "Opens each drawer and door in turn (Space)"),
            Film::Running => ("⏸ Pause", "Holds everything still (Space)"),
            Film::Paused => ("▶ Go on", "Goes on where it stopped (Space)"),
        };
        let (all, all_help) = if any_open {
            ("Close all", "Shuts every drawer and door (O)")
        } else {
            ("Open all", "Opens every drawer and door that can be open at once (O)")
        };
        let full = view.settings.full_screen;
        let (screen, screen_help) = if full {
            ("Leave full screen", "Back to the window as it was (F11)")
        } else {
            ("Full screen", "Nothing but this on the screen (F11)")
        };
        let buttons = [
            (all, all_help, Action::ToggleAll),
            (play, play_help, Action::PlayPause),
            (screen, screen_help, Action::FullScreen(!full)),
        ];
        for (text, help, action) in buttons {
            let button = Button::new(RichText::new(text).size(look::HEADING)).min_size(LARGE);
            if ui.add(button).on_hover_text(help).clicked() {
                actions.push(action);
            }
        }
        top::audience_ui(ui, view, actions);
    });
}

/// What stands beside the scene, for the owner.
pub(super) fn side_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    ScrollArea::vertical().id_salt("preview side").auto_shrink([false, false]).show(ui, |ui| {
        // Room for the scroll bar, so that it never lies on text.
        ui.set_max_width(ui.available_width() - 10.0);
        ui.add(egui::Label::new(RichText::new(&view.plan.name).heading()).wrap());
        viewpoints_ui(ui, view, actions);
        asks_ui(ui, view);
        card(ui, |ui| {
            ui.label(RichText::new("Finishes").size(look::TITLE).strong());
            finish::owner_ui(ui, view.plan, actions);
        });
        ui.add_space(8.0);
    });
}

/// Buttons that fly to a view, named or kept.
fn viewpoints_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    card(ui, |ui| {
        ui.label(RichText::new("Look from").size(look::TITLE).strong());
        ui.horizontal_wrapped(|ui| {
            for viewpoint in Viewpoint::ALL {
                let button = Button::new(viewpoint.word()).min_size(vec2(0.0, MEDIUM));
                if ui.add(button).on_hover_text(viewpoint.help()).clicked() {
                    actions.push(Action::LookFrom(viewpoint));
                }
            }
        });
        ui.horizontal_wrapped(|ui| {
            for (k, saved) in view.saved.iter().enumerate() {
                let button = Button::new(&saved.name).min_size(vec2(0.0, MEDIUM)).fill(look::PANEL);
                if ui.add(button).on_hover_text("A view that you kept").clicked() {
                    actions.push(Action::LookAgain(k));
                }
                let forget = ui.add(Button::new("×").min_size(vec2(MEDIUM, MEDIUM)).fill(look::PANEL));
                // A reader of the screen must hear which one.
                let spoken = format!("Forget {}", saved.name);
                forget.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, spoken.clone()));
                if forget.on_hover_text(&spoken).clicked() {
                    actions.push(Action::ForgetView(k));
                }
            }
            let keep = Button::new("Keep this view").min_size(vec2(0.0, MEDIUM));
            if ui.add(keep).on_hover_text("Keeps a button for the view as it is now, for the next time too").clicked() {
                actions.push(Action::SaveView);
            }
        });
    });
}

/// What owners ask, and the answers.
fn asks_ui(ui: &mut Ui, view: &View<'_>) {
    card(ui, |ui| {
        ui.label(RichText::new("What owners ask").size(look::TITLE).strong());
        for asked in view.asks {
            ui.add_space(4.0);
            ui.add(egui::Label::new(RichText::new(asked.question).strong()).wrap());
            for (k, sentence) in asked.answer.iter().enumerate() {
                // The answer first, in full ink; what belongs to it below.
                let text = if k == 0 { RichText::new(sentence) } else { RichText::new(sentence).color(look::FAINT) };
                ui.add(egui::Label::new(text).wrap());
            }
        }
    });
}
