//! What window is it in? Its title and size, when it redraws, and how it ends.
//!
//! The window draws only when something happens: input, a save of the file, or motion.

use std::process::ExitCode;
use std::time::{Duration, Instant};

use bevy::camera::RenderTarget;
use bevy::log::LogPlugin;
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::window::{MonitorSelection, WindowMode, WindowResizeConstraints, WindowResolution};
use bevy::winit::{UpdateMode, WinitSettings};
use bevy_egui::EguiPlugin;
use bevy_panorbit_camera::PanOrbitCameraPlugin;

use super::camera::View;
use super::desk::Desk;
use super::saved::KeepViews;
use super::settings::Settings;
use super::shown::Shown;
use super::{Source, ViewerPlugin, file, look, overlay, tell, watch};

/// The window's size at the start, in points: with its title bar it fits a screen of 1280 × 800.
const SIZE: (u32, u32) = (1278, 764);
/// Without input, a save or motion, the window draws this seldom.
const IDLE: Duration = Duration::from_secs(60);

/// Opens the window and returns when it is closed. Call [`super::missing`] first: Bevy ends the program where there is
/// no display or no graphics adapter.
#[must_use]
pub fn run(source: Source) -> ExitCode {
    let begun = tell::Begun(Instant::now());
    let mut app = App::new();
    app.add_plugins(
        DefaultPlugins
            .set(WindowPlugin {
                primary_window: Some(window(&source)),
                // Changes that are not saved are asked about first.
                close_when_requested: false,
                ..default()
            })
            // Without this a part may be missing for some frames, and no frame would follow to bring it.
            .set(RenderPlugin { synchronous_pipeline_compilation: true, ..default() })
            .set(LogPlugin { filter: log_filter(), ..default() }),
    );
    app.add_plugins((EguiPlugin::default(), PanOrbitCameraPlugin));
    overlay::choose_context_by_hand(&mut app);
    // Focused or not: a plan is saved in an editor that has the focus, and must be seen here.
    let seldom = UpdateMode::reactive(IDLE);
    app.insert_resource(WinitSettings { focused_mode: seldom, unfocused_mode: seldom });
    app.insert_resource(begun);
    app.insert_resource(file::Files::new(file::state_folder()));
    app.add_plugins((ViewerPlugin { source }, watch::plugin, tell::plugin));
    app.add_plugins(KeepViews { folder: file::state_folder() });
    app.add_systems(Startup, open_eye);
    app.add_systems(Update, title.run_if(resource_changed::<Desk>));
    app.add_systems(Update, fill_screen.run_if(resource_changed::<Settings>));
    match app.run() {
        AppExit::Success => ExitCode::SUCCESS,
        AppExit::Error(code) => ExitCode::from(code.get()),
    }
}

fn window(source: &Source) -> Window {
    Window {
        title: title_of(&source.plan.name, &source.name),
        name: Some("elbowroom".to_owned()),
        resolution: WindowResolution::new(SIZE.0, SIZE.1),
        resize_constraints: WindowResizeConstraints { min_width: 760.0, min_height: 480.0, ..default() },
        ..default()
    }
}

fn title_of(plan: &str, file: &str) -> String {
    format!("{plan} – {file} – Elbowroom")
}

/// Only what a person could act on; the graphics stack's small talk is of no use here.
fn log_filter() -> String {
    std::env::var("RUST_LOG").unwrap_or_else(|_unset| "error,elbowroom=warn".to_owned())
}

fn title(shown: Res<'_, Shown>, desk: Res<'_, Desk>, mut windows: Query<'_, '_, &mut Window>) {
    for mut window in &mut windows {
        let mark = if desk.has_unsaved() { "● " } else { "" };
        let title = format!("{mark}{}", title_of(&shown.plan().name, desk.name()));
        if window.title != title {
            window.title = title;
        }
    }
}

fn fill_screen(settings: Res<'_, Settings>, mut windows: Query<'_, '_, &mut Window>) {
    let wanted = match settings.full_screen {
        true => WindowMode::BorderlessFullscreen(MonitorSelection::Current),
        false => WindowMode::Windowed,
    };
    for mut window in &mut windows {
        if window.mode != wanted {
            window.mode = wanted;
        }
    }
}

pub(super) fn open_eye(mut commands: Commands<'_, '_>, shown: Res<'_, Shown>, windows: Query<'_, '_, &Window>) {
    let (width, height) = windows.iter().next().map_or((1280.0, 800.0), |w| (w.width(), w.height()));
    let aspect = (width - look::PANEL_WIDTH).max(1.0) / (height - look::BAR_HEIGHT).max(1.0);
    let view = View::of_corner(shown.model(), aspect);
    overlay::spawn_cameras(&mut commands, &RenderTarget::default(), &view, true);
}
