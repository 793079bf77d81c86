//! What is on screen, for a script? With `RUST_LOG=error,elbowroom=info` the window says on stderr what it shows and
//! where, so that a script can drive it with a real mouse and check what came of it.

use std::collections::BTreeMap;
use std::time::Instant;

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use bevy_egui::{EguiContexts, EguiPrimaryContextPass, egui};

use super::camera::SceneCamera;
use super::install::{Installed, Installing};
use super::marks::Marks;
use super::motion::{Play, Poses, Wish};
use super::panel::place::Places;
use super::shown::Shown;
use super::{ViewerSystems, frame};
use crate::model::{Role, Vec3 as RoomVec3};

/// When the program began to open its window.
#[derive(Resource, Debug)]
pub(super) struct Begun(pub(super) Instant);

/// Registers what tells.
pub(super) fn plugin(app: &mut App) {
    if !bevy::log::tracing::enabled!(target: "elbowroom::viewer::tell", bevy::log::Level::INFO) {
        return;
    }
    app.add_systems(Last, (frames, answers.run_if(resource_changed::<Shown>), arrivals));
    app.add_systems(Last, (marks.run_if(resource_changed::<Marks>), film, steps));
    app.add_systems(Update, fronts.after(ViewerSystems::Dress));
    app.add_systems(EguiPrimaryContextPass, controls);
}

fn frames(begun: Res<'_, Begun>, mut count: Local<'_, u32>) {
    *count += 1;
    // The renderer is a frame behind the world, so the third update ends when the first picture is on screen.
    if matches!(*count, 1 | 3) {
        info!("update {} after {} ms", *count, begun.0.elapsed().as_millis());
    } else if count.is_multiple_of(5) {
        info!("update {}", *count);
    }
}

fn answers(shown: Res<'_, Shown>) {
    let answer = shown.answer();
    let fillers = answer.fillers();
    let verdict = if answer.is_clear() { "clear" } else { "not clear" };
    info!(
        "verdict {verdict}, left {:.3} mm, right {:.3} mm, {} findings",
        fillers.left.to_mm(),
        fillers.right.to_mm(),
        answer.findings.len()
    );
}

fn arrivals(shown: Res<'_, Shown>, poses: Res<'_, Poses>, mut told: Local<'_, Vec<String>>) {
    if !poses.is_still() {
        return;
    }
    let open = |mover: &&crate::model::Mover| poses.wish(mover) != Wish::Shut;
    let now: Vec<String> = shown.model().movers.iter().filter(open).map(|mover| mover.name.clone()).collect();
    if *told != now {
        info!("open {now:?}");
        *told = now;
    }
}

fn marks(marks: Res<'_, Marks>) {
    for mark in &marks.0 {
        info!("mark {:?}: {}", mark.kind, mark.label.join("; "));
    }
}

/// Says where the film stands when it is held still.
fn film(play: Res<'_, Play>, mut told: Local<'_, f64>) {
    if play.is_paused() && *told != play.at() {
        *told = play.at();
        info!("film held at {:.3} of {:.3} s", play.at(), play.timeline().length());
    }
}

/// Says which step of the work is looked at, and how far a piece that is held still has come in.
fn steps(installed: Res<'_, Installed>, installing: Res<'_, Installing>, mut told: Local<'_, String>) {
    let Some(done) = installed.done() else { return };
    let order = &done.installation.order;
    let now = match (installing.showing, installing.piece(done)) {
        (Some(showing), Some(turned)) if !showing.runs => {
            format!("{} held at {:.2} of its way", turned.name, showing.at)
        }
        (Some(_), _) => return,
        _ => {
            let title = order.get(installing.step()).map_or("", |step| step.title.as_str());
            format!("step {} of {}: {title}, walls × {}", installing.step() + 1, order.len(), installing.times)
        }
    };
    if *told != now {
        info!("{now}");
        *told = now;
    }
}

/// Says where each front is, a little beside its pull, whenever the eye has come to rest elsewhere.
fn fronts(
    shown: Res<'_, Shown>,
    eyes: Query<'_, '_, (&Camera, Ref<'_, Transform>), With<SceneCamera>>,
    mut frames_at_rest: Local<'_, u8>,
    mut redraw: MessageWriter<'_, RequestRedraw>,
) {
    const AT_REST: u8 = 4;
    let Some((camera, place)) = eyes.iter().next() else { return };
    *frames_at_rest = if place.is_changed() { 0 } else { frames_at_rest.saturating_add(1) };
    if *frames_at_rest < AT_REST {
        redraw.write(RequestRedraw);
    }
    if *frames_at_rest != AT_REST {
        return;
    }
    let model = shown.model();
    for mover in &model.movers {
        let parts = mover.parts.iter().filter_map(|id| model.parts.get(id.0));
        let Some(front) = parts.into_iter().find(|p| matches!(p.role, Role::DrawerFront | Role::DoorFront)) else {
            continue;
        };
        let point = front.middle() + model.run(mover.side).along * 90.0 + RoomVec3::Z * 40.0;
        if let Ok(at) = camera.world_to_viewport(&GlobalTransform::from(*place), frame::to_bevy(point)) {
            info!("front {:.0} {:.0} {}", at.x, at.y, mover.name);
        }
    }
}

/// Says where controls are, whenever one was drawn elsewhere than before.
fn controls(
    mut contexts: EguiContexts<'_, '_>,
    mut listener: Local<'_, Option<Places>>,
    mut told: Local<'_, BTreeMap<String, egui::Rect>>,
) {
    let Ok(ctx) = contexts.ctx_mut() else { return };
    let listener = listener.get_or_insert_with(|| Places::listen(ctx));
    let zoom = ctx.zoom_factor();
    for (name, place) in listener.take() {
        if told.insert(name.clone(), place) != Some(place) {
            let [left, right] = [place.left(), place.right()].map(|x| x * zoom);
            info!("control {left:.0} {right:.0} {:.0} {name}", place.center().y * zoom);
        }
    }
}
