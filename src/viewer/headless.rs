//! Does the window do what its user asks? [`headless`] is the whole viewer with neither screen nor graphics adapter.
//!
//! Input goes in, the world can be read, nothing is drawn. An update takes about a millisecond.

use std::time::Duration;

use bevy::log::LogPlugin;
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::render::settings::WgpuSettings;
use bevy::time::TimeUpdateStrategy;
use bevy::window::WindowResolution;
use bevy::winit::WinitPlugin;
use bevy_egui::EguiPlugin;
use bevy_panorbit_camera::PanOrbitCameraPlugin;

use super::{Source, ViewerPlugin, overlay, shell};

/// The viewer on `source`, in a window of `size` points that exists in the world only. Each update is 20 ms long.
pub fn headless(source: Source, size: (u32, u32)) -> App {
    let mut app = App::new();
    let window = Window { resolution: WindowResolution::new(size.0, size.1), ..default() };
    app.add_plugins(
        DefaultPlugins
            .set(WindowPlugin { primary_window: Some(window), close_when_requested: false, ..default() })
            .set(RenderPlugin { render_creation: WgpuSettings { backends: None, ..default() }.into(), ..default() })
            .disable::<LogPlugin>()
            .disable::<WinitPlugin>(),
    );
    app.add_plugins((EguiPlugin::default(), PanOrbitCameraPlugin));
    overlay::choose_context_by_hand(&mut app);
    app.insert_resource(TimeUpdateStrategy::ManualDuration(Duration::from_millis(20)));
    app.add_plugins(ViewerPlugin { source });
    app.add_systems(Startup, shell::open_eye);
    app.finish();
    app.cleanup();
    app
}
