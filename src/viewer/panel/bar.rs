//! How does it open, and what is shown? The bar below the scene: the film, the view, the layers, and the help line.

use bevy_egui::egui::{self, RichText, Ui};

use super::{Film, View};
use crate::viewer::action::{Action, Layer};
use crate::viewer::look;

/// What the mouse and the keys do.
pub(super) const HELP: &str = "Drag: turn   Right drag: move   Wheel: zoom   Click a front: open, shut   Space: play, pause   \
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
