//! What does the owner want to do? Open, shut, play, look from elsewhere: large controls and no figures.

use bevy_egui::egui::{Button, RichText, Ui, vec2};

use super::{Film, View, top};
use crate::viewer::action::Action;
use crate::viewer::look;

/// The bar below the scene, for the owner.
pub(super) fn bar_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        let any_open = view.open.iter().any(|&open| open);
        let play = if view.film == Film::Running { "⏸ Pause" } else { "▶ Play" };
        let buttons = [
            (if any_open { "Shut all" } else { "Open all" }, Action::ToggleAll),
            (play, Action::PlayPause),
            ("Whole corner", Action::FrameCorner),
        ];
        for (text, action) in buttons {
            let button = Button::new(RichText::new(text).size(look::HEADING)).min_size(vec2(120.0, 44.0));
            if ui.add(button).clicked() {
                actions.push(action);
            }
        }
        top::audience_ui(ui, view, actions);
    });
}
