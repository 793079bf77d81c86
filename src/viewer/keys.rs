//! What do the keys do? Each key is one action; none counts while a field of the panel is being typed into.

use bevy::prelude::*;
use bevy_egui::input::EguiWantsInput;

use super::ViewerSystems;
use super::action::{Action, Asked};
use super::settings::Settings;

/// Registers the keys.
pub(super) fn plugin(app: &mut App) {
    app.add_systems(Update, keys.in_set(ViewerSystems::Input));
}

fn keys(
    pressed: Option<Res<'_, ButtonInput<KeyCode>>>,
    panel: Option<Res<'_, EguiWantsInput>>,
    settings: Res<'_, Settings>,
    mut asked: ResMut<'_, Asked>,
) {
    let Some(pressed) = pressed else { return };
    if panel.is_some_and(|panel| panel.wants_any_keyboard_input()) {
        return;
    }
    let keys = [
        (KeyCode::Space, Action::PlayPause),
        (KeyCode::KeyO, Action::ToggleAll),
        (KeyCode::KeyF, Action::FrameCorner),
        (KeyCode::Escape, Action::Stop),
        (KeyCode::KeyP, Action::ShowTo(settings.audience.other())),
        (KeyCode::F11, Action::FullScreen(!settings.full_screen)),
    ];
    asked.0.extend(keys.into_iter().filter(|(key, _)| pressed.just_pressed(*key)).map(|(_, action)| action));
}
