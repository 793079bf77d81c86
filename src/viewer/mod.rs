//! What does the corner look like, and does it open? The window: a [`Plan`] drawn in three dimensions beside a panel
//! with the answer.
//!
//! [`run`] opens it; [`missing`] says beforehand what a machine lacks for it; [`capture::picture`] draws the same scene
//! without a window. The room's frame (mm, z up) becomes Bevy's (m, y up) in [`frame`].
//!
//! Everything on screen is drawn from [`shown::Shown`]. The panel, the mouse, the keys and the file watcher write
//! [`action::Action`]s; one system carries them out; what follows is worked out, built and drawn in the same frame.

pub mod action;
pub mod approach;
pub mod camera;
pub mod capture;
pub mod coat;
pub mod desk;
pub mod dialog;
pub mod dimension;
pub mod drag;
pub mod explode;
pub mod file;
pub mod finish;
pub mod frame;
mod grain;
pub mod headless;
pub mod install;
mod kept;
pub mod keys;
pub mod layers;
pub mod layouts;
mod light;
mod lines;
pub mod look;
pub mod marks;
pub mod measure;
mod missing;
pub mod motion;
mod overlay;
pub mod panel;
pub mod pick;
mod play;
pub mod pointed;
pub mod quality;
pub mod region;
pub mod saved;
pub mod scene;
pub mod scenery;
pub mod settings;
pub mod shape;
mod shell;
pub mod shown;
pub mod solid;
pub mod stills;
pub mod sure;
pub mod swept;
mod tell;
pub mod timeline;
pub mod together;
pub mod viewpoint;
mod watch;
pub mod work;

use std::path::PathBuf;

use bevy::prelude::*;

use crate::plan::Plan;
pub use missing::{draws_on_processor, missing, missing_adapter};
pub use shell::run;

/// A plan and where it came from.
#[derive(Clone, Debug)]
pub struct Source {
    /// The file to watch; none for the built-in plan.
    pub path: Option<PathBuf>,
    /// What to call it in messages.
    pub name: String,
    /// The text it was read from.
    pub text: String,
    /// The plan itself.
    pub plan: Plan,
}

/// The order of one frame.
#[derive(SystemSet, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ViewerSystems {
    /// Keys and the file watcher become actions. (The panel's and the mouse's are there already.)
    Input,
    /// Actions are carried out.
    Apply,
    /// The answer is worked out where the plan changed.
    Solve,
    /// The scene is built where the model changed.
    Rebuild,
    /// Parts and the eye move.
    Draw,
    /// Finishes follow what moved.
    Dress,
}

/// Everything save the window and the renderer: what the window, pictures and tests share.
///
/// Add it after Bevy's own plugins and `bevy_egui`'s.
#[derive(Debug)]
pub struct ViewerPlugin {
    /// What to show.
    pub source: Source,
}

impl Plugin for ViewerPlugin {
    fn build(&self, app: &mut App) {
        use ViewerSystems::{Apply, Draw, Dress, Input, Rebuild, Solve};
        app.configure_sets(Update, (Input, Apply, Solve, Rebuild, Draw, Dress).chain());
        app.insert_resource(shown::Shown::new(self.source.plan.clone()));
        let Source { path, name, text, .. } = self.source.clone();
        app.insert_resource(desk::Desk::new(name, path, text));
        app.init_resource::<dialog::Dialog>().init_resource::<desk::PlanForm>();
        app.add_systems(Update, desk::fill_form.after(Apply).before(Draw));
        app.init_resource::<action::Asked>().init_resource::<settings::Settings>().init_resource::<saved::Saved>();
        app.add_systems(Update, (action::apply.in_set(Apply), action::solve.in_set(Solve)));
        app.add_plugins((
            file::plugin,
            (finish::plugin, quality::plugin, light::plugin, scenery::plugin),
            keys::plugin,
            scene::plugin,
            motion::plugin,
            camera::plugin,
            pick::plugin,
            overlay::plugin,
        ));
        app.add_plugins((
            drag::plugin,
            explode::plugin,
            measure::plugin,
            swept::plugin,
            pointed::plugin,
            layouts::plugin,
            install::plugin,
            together::plugin,
            sure::plugin,
        ));
    }
}
