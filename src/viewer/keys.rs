//! What do the keys do? One table: what is pressed, what it does, in words, and the action. The help is made from it.
//!
//! A key counts only while no field is being typed into; with Ctrl it counts always, save those that a field needs.

use bevy::prelude::*;
use bevy_egui::input::EguiWantsInput;

use super::ViewerSystems;
use super::action::{Action, Asked};
use super::dialog::Dialog;
use super::install::Ask;
use super::settings::Settings;
use super::timeline::Step;

/// One key, or several held together.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// What is pressed, in words.
    pub words: &'static str,
    /// What it does, in words.
    pub does: &'static str,
    code: KeyCode,
    ctrl: bool,
    shift: bool,
    action: fn(&Settings) -> Action,
}

const fn plain(words: &'static str, does: &'static str, code: KeyCode, action: fn(&Settings) -> Action) -> Key {
    Key { words, does, code, ctrl: false, shift: false, action }
}

const fn ctrl(words: &'static str, does: &'static str, code: KeyCode, action: fn(&Settings) -> Action) -> Key {
    Key { words, does, code, ctrl: true, shift: false, action }
}

const fn shifted(words: &'static str, does: &'static str, code: KeyCode, action: fn(&Settings) -> Action) -> Key {
    Key { words, does, code, ctrl: true, shift: true, action }
}

/// Every key, in the order of the help.
pub const KEYS: &[Key] = &[
    plain("Space", "play, pause", KeyCode::Space, |_| Action::PlayPause),
    plain("O", "open all that can be open together, or shut all", KeyCode::KeyO, |_| Action::ToggleAll),
    plain("Left", "a tenth of a second back in the film", KeyCode::ArrowLeft, |_| Action::Step(Step::Back)),
    plain("Right", "a tenth of a second on", KeyCode::ArrowRight, |_| Action::Step(Step::On)),
    plain("Page Up", "back to the mark before", KeyCode::PageUp, |_| Action::Step(Step::ToMarkBefore)),
    plain("Page Down", "on to the next mark", KeyCode::PageDown, |_| Action::Step(Step::ToMarkAfter)),
    plain("Home", "to the start of the film", KeyCode::Home, |_| Action::Step(Step::ToStart)),
    plain("End", "to its end", KeyCode::End, |_| Action::Step(Step::ToEnd)),
    plain(
        "Esc",
        "drop what is measured, picked or shown going in; else stop, and shut everything",
        KeyCode::Escape,
        |_| Action::Leave,
    ),
    plain("M", "measure, or no longer", KeyCode::KeyM, |_| Action::ToggleMeasuring),
    plain("F", "frame the corner", KeyCode::KeyF, |_| Action::FrameCorner),
    plain("P", "preview for the owner, or back to the bench", KeyCode::KeyP, |now| {
        Action::ShowTo(now.audience.other())
    }),
    plain("D", "draw dimension lines, or no longer", KeyCode::KeyD, |now| Action::Dimensions(!now.dimensions)),
    plain("N", "next step of the work, with Install open", KeyCode::KeyN, |_| Action::Install(Ask::Next)),
    plain("B", "back to the step before", KeyCode::KeyB, |_| Action::Install(Ask::Previous)),
    plain("F11", "fill the screen, or no longer", KeyCode::F11, |now| Action::FullScreen(!now.full_screen)),
    plain("F1", "this help", KeyCode::F1, |_| Action::Help),
    ctrl("Ctrl Z", "undo", KeyCode::KeyZ, |_| Action::Undo),
    shifted("Ctrl Shift Z", "redo", KeyCode::KeyZ, |_| Action::Redo),
    ctrl("Ctrl Y", "redo", KeyCode::KeyY, |_| Action::Redo),
    ctrl("Ctrl S", "save the plan", KeyCode::KeyS, |_| Action::Save),
    shifted("Ctrl Shift S", "save it under another name", KeyCode::KeyS, |_| Action::AskSaveAs),
    ctrl("Ctrl O", "open a plan", KeyCode::KeyO, |_| Action::AskOpen),
    ctrl("Ctrl N", "new plan", KeyCode::KeyN, |_| Action::AskNew),
    ctrl("Ctrl +", "larger text", KeyCode::Equal, |_| Action::TextSize { larger: true }),
    ctrl("Ctrl -", "smaller text", KeyCode::Minus, |_| Action::TextSize { larger: false }),
];

/// What the mouse does, in the order of the help.
pub const MOUSE: &[(&str, &str)] = &[
    ("drag on the scene", "turn it"),
    ("drag with the right button", "move it"),
    ("wheel", "come nearer, go farther"),
    ("click a front", "open or shut it"),
    ("click a part, with Cut open", "find it in the list of what is cut"),
    ("drag or click in a plot, with Together open", "open the two so far, or set both fillers; arrow keys do too"),
    ("drag a front", "open it as far as the mouse goes, and nothing stops it"),
];

/// Registers the keys.
pub(super) fn plugin(app: &mut App) {
    app.add_systems(Update, keys.in_set(ViewerSystems::Input));
}

fn keys(
    pressed: Option<Res<'_, ButtonInput<KeyCode>>>,
    panel: Option<Res<'_, EguiWantsInput>>,
    settings: Res<'_, Settings>,
    dialog: Res<'_, Dialog>,
    mut asked: ResMut<'_, Asked>,
) {
    let Some(pressed) = pressed else { return };
    // A question before the window has the keys to itself.
    if *dialog != Dialog::None {
        return;
    }
    let typing = panel.is_some_and(|panel| panel.wants_any_keyboard_input());
    // Where frames are slow a whole press lies between two of them.
    let held = |keys: &[KeyCode]| {
        let held = |key: &KeyCode| pressed.pressed(*key) || pressed.just_pressed(*key) || pressed.just_released(*key);
        keys.iter().any(held)
    };
    let ctrl = held(&[KeyCode::ControlLeft, KeyCode::ControlRight, KeyCode::SuperLeft, KeyCode::SuperRight]);
    let shift = held(&[KeyCode::ShiftLeft, KeyCode::ShiftRight]);
    let counts = |key: &&Key| {
        let together = key.ctrl == ctrl && (!key.ctrl || key.shift == shift);
        let free = !typing || matches!(key.code, KeyCode::F1 | KeyCode::F11) || (ctrl && !undoes_typing(key.code));
        together && free && pressed.just_pressed(key.code)
    };
    asked.0.extend(KEYS.iter().filter(counts).map(|key| (key.action)(&settings)));
}

/// A field that is being typed into has its own undo.
fn undoes_typing(code: KeyCode) -> bool {
    matches!(code, KeyCode::KeyZ | KeyCode::KeyY)
}
