//! What lies over and beside the scene? The panel, the bar below, the marks; and the scene's share of the window.
//!
//! Two cameras draw on one target: the scene's, with a viewport that leaves out panel and bar, and one for egui. The
//! orbit camera and picking both test the viewport, so the mouse over the panel never reaches the scene.

use bevy::camera::visibility::RenderLayers;
use bevy::camera::{CameraOutputMode, RenderTarget, Viewport};
use bevy::ecs::system::SystemParam;
use bevy::prelude::*;
use bevy::render::render_resource::BlendState;
use bevy::window::RequestRedraw;
use bevy_egui::{EguiContexts, EguiGlobalSettings, EguiPrimaryContextPass, PrimaryEguiContext, egui};

use super::ViewerSystems;
use super::action::Asked;
use super::camera::{self, SceneCamera, View};
use super::desk::{Desk, PlanForm};
use super::dialog::Dialog;
use super::drag::Hand;
use super::explode::Exploded;
use super::file::Files;
use super::install::{self, Standing};
use super::layers::Show;
use super::layouts::Layouts;
use super::lines;
use super::marks::{self, Marks};
use super::measure::Measuring;
use super::motion::{Play, Poses, Wish};
use super::panel::{self, Bench, Film};
use super::pick::{Hovered, HoveredPart};
use super::pointed::{CutLists, Drawn, Pointed};
use super::quality::{Drawing, Level};
use super::saved::Saved;
use super::scene::is_room;
use super::settings::{Audience, Settings};
use super::shown::Shown;
use super::sure::Certain;
use super::swept::{self, SweptOf};
use super::together::Together;
use super::{dimension, frame};
use crate::model::Vec3 as RoomVec3;

/// Whether panel and bar are drawn; a picture may leave them out.
#[derive(Resource, Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct WithPanel(pub(super) bool);

/// What bars and panel take of the target, in physical pixels.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Taken {
    above: u32,
    right: u32,
    below: u32,
}

/// Registers panel, bar and marks.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Marks>().init_resource::<Show>().init_resource::<Taken>().init_resource::<WithPanel>();
    app.add_systems(Update, fit_scene.in_set(ViewerSystems::Input));
    app.add_systems(Update, gather_marks.after(ViewerSystems::Draw).before(ViewerSystems::Dress));
    app.add_systems(EguiPrimaryContextPass, draw);
    app.add_systems(Last, settle);
}

impl Default for WithPanel {
    fn default() -> Self {
        Self(true)
    }
}

/// Spawns the scene's camera and egui's on one target. `orbits` lets the mouse turn the scene.
pub(super) fn spawn_cameras(commands: &mut Commands<'_, '_>, target: &RenderTarget, view: &View, orbits: bool) {
    let scene = (Name::new("eye"), SceneCamera, Camera3d::default(), target.clone(), camera::lens(), view.transform());
    let mut scene = commands.spawn(scene);
    if orbits {
        scene.insert(camera::orbit(view));
    }
    commands.spawn((
        Name::new("panel camera"),
        PrimaryEguiContext,
        Camera2d,
        target.clone(),
        RenderLayers::none(),
        // egui smooths its own edges.
        Msaa::Off,
        Camera {
            order: 1,
            output_mode: CameraOutputMode::Write {
                blend_state: Some(BlendState::ALPHA_BLENDING),
                clear_color: ClearColorConfig::None,
            },
            clear_color: ClearColorConfig::Custom(Color::NONE),
            ..default()
        },
    ));
}

/// The first camera would otherwise be egui's.
pub(super) fn choose_context_by_hand(app: &mut App) {
    if let Some(mut settings) = app.world_mut().get_resource_mut::<EguiGlobalSettings>() {
        settings.auto_create_primary_context = false;
    }
}

/// What the panel needs to know.
#[derive(SystemParam)]
struct Seen<'w> {
    shown: Res<'w, Shown>,
    desk: Res<'w, Desk>,
    poses: Res<'w, Poses>,
    play: Res<'w, Play>,
    show: Res<'w, Show>,
    hand: Res<'w, Hand>,
    exploded: Res<'w, Exploded>,
    measuring: Res<'w, Measuring>,
    swept: Res<'w, SweptOf>,
    marks: Res<'w, Marks>,
    hovered: Res<'w, Hovered>,
    with_panel: Res<'w, WithPanel>,
    standing: Standing<'w>,
    settings: Res<'w, Settings>,
    files: Res<'w, Files>,
    form: Res<'w, PlanForm>,
    drawing: Res<'w, Drawing>,
    level: Res<'w, Level>,
    saved: Res<'w, Saved>,
    lists: Res<'w, CutLists>,
    pointed: Res<'w, Pointed>,
    layouts: Res<'w, Layouts>,
    together: Res<'w, Together>,
    certain: Res<'w, Certain>,
    part: Res<'w, HoveredPart>,
}

impl Seen<'_> {
    /// What the mouse is over, and what a click would do.
    fn told_at_pointer(&self) -> Option<String> {
        let model = self.shown.model();
        if self.measuring.on {
            let picked = self.measuring.hovered.as_ref()?;
            let part = model.parts.get(picked.part.0)?;
            return Some(format!("{} of {} – click to measure", picked.feature.word(), part.name));
        }
        if self.hand.dragged().is_some() {
            return None;
        }
        if self.settings.lists_are_open() {
            let part = model.parts.get(self.part.0?.0).filter(|part| !is_room(part.role))?;
            let drags = if part.mover.is_some() { ", drag to open" } else { "" };
            return Some(format!("{} – click to find it in the list{drags}", part.name));
        }
        let mover = model.movers.get(self.hovered.0?.0)?;
        let does =
            if self.poses.wish(mover) == Wish::Shut { "click or drag to open" } else { "click to shut, or drag" };
        Some(format!("{} – {does}", mover.name))
    }

    /// What the mouse does in the scene, told by its own shape.
    fn cursor(&self) -> Option<egui::CursorIcon> {
        if self.measuring.on {
            Some(egui::CursorIcon::Crosshair)
        } else if self.hand.dragged().is_some() {
            Some(egui::CursorIcon::Grabbing)
        } else if self.settings.lists_are_open() {
            self.part.0.map(|_| egui::CursorIcon::PointingHand)
        } else {
            self.hovered.0.map(|_| egui::CursorIcon::Grab)
        }
    }

    /// What can be open at once, while that is on screen.
    fn together(&self) -> Option<panel::TogetherView<'_>> {
        let (plan, known) = (self.shown.plan(), &self.together);
        self.settings.together_is_open().then(|| panel::TogetherView {
            pairs: known.pairs(plan),
            chosen: known.chosen(),
            fillers: known.fillers(plan),
        })
    }

    /// How sure it is, while that is on screen.
    fn sure(&self) -> Option<panel::SureView<'_>> {
        let (plan, known) = (self.shown.plan(), &self.certain);
        self.settings.sure_is_open().then(|| panel::SureView {
            worst: known.worst(plan),
            samples: known.samples(plan),
            drawing: known.drawing(),
            narrower: known.narrower(plan),
            trying: known.trying(),
        })
    }

    /// What it is like in use, while that is on screen.
    fn in_use(&self) -> Option<panel::InUseView<'_>> {
        self.settings.in_use_is_open().then(|| {
            let [people, wood] = self.shown.in_use();
            panel::InUseView { people, wood }
        })
    }

    fn film(&self) -> Film {
        match (self.play.is_running(), self.play.is_paused()) {
            (true, _) => Film::Running,
            (_, true) => Film::Paused,
            _ => Film::Off,
        }
    }
}

fn draw(
    mut contexts: EguiContexts<'_, '_>,
    seen: Seen<'_>,
    mut asked: ResMut<'_, Asked>,
    mut dialog: ResMut<'_, Dialog>,
    mut taken: ResMut<'_, Taken>,
    eyes: Query<'_, '_, (&Camera, &Transform), With<SceneCamera>>,
    drawn: Drawn<'_, '_>,
    mut dressed: Local<'_, bool>,
) {
    // No context yet, or no more: nothing to draw on.
    let Ok(ctx) = contexts.ctx_mut() else { return };
    ctx.set_zoom_factor(seen.settings.text_scale);
    if !*dressed {
        panel::dress_egui(ctx);
        panel::warm_letters(ctx);
        *dressed = true;
    }
    let whole = ctx.viewport_rect();
    let mut scene = whole;
    if seen.with_panel.0 {
        scene = panel_and_bar(ctx, whole, &seen, &mut asked);
        ask(ctx, &seen, &mut dialog, &mut asked);
    }
    let pixels = ctx.pixels_per_point();
    let wanted = Taken {
        above: physical((scene.top() - whole.top()) * pixels),
        right: physical((whole.right() - scene.right()) * pixels),
        below: physical((whole.bottom() - scene.bottom()) * pixels),
    };
    taken.set_if_neq(wanted);

    let painter = ctx.layer_painter(egui::LayerId::new(egui::Order::Background, "marks".into())).with_clip_rect(scene);
    let Some((eye, place)) = eyes.iter().next() else { return };
    let place = GlobalTransform::from(*place);
    // Bevy's points are window pixels over the window's scale; egui's are also divided by its own zoom.
    let zoom = ctx.zoom_factor();
    let project_drawn = |point: Vec3| {
        let at = eye.world_to_viewport(&place, point).ok()?;
        Some(egui::pos2(at.x / zoom, at.y / zoom))
    };
    let project = |point: RoomVec3| project_drawn(frame::to_bevy(point));
    let model = seen.shown.model();
    let outs = seen.poses.outs(model);
    if seen.settings.dimensions && seen.settings.audience == Audience::Builder && !seen.exploded.is_apart() {
        dimension::paint(&painter, seen.shown.dimensions(), project);
    }
    if !seen.exploded.is_apart() {
        let swept = swept::swept_now(*seen.swept, model, &seen.hand, &seen.play);
        lines::kept_clear(&painter, model, &swept, project);
    }
    drawn.outline(&painter, project_drawn);
    let built_up = seen.standing.done().filter(|_| !seen.exploded.is_apart() && seen.standing.way().is_none());
    let numbers = built_up
        .map(|done| install::paint(&painter, scene, seen.shown.plan(), done, &seen.standing.installing, project));
    drawn.name(&painter, scene, numbers.unwrap_or_default(), project_drawn);
    marks::paint(&painter, scene, &seen.marks, project);
    lines::measured(&painter, scene, model, &outs, &seen.measuring, project);
    let pointer = ctx.pointer_hover_pos().filter(|at| scene.contains(*at));
    if let Some(icon) = pointer.and_then(|_| seen.cursor()) {
        ctx.set_cursor_icon(icon);
    }
    if let Some(at) = pointer
        && let Some(text) = seen.told_at_pointer()
    {
        marks::paint_name(&painter, scene, at, &text);
    }
}

/// Draws panel and bar; gives what is left for the scene.
fn panel_and_bar(ctx: &egui::Context, whole: egui::Rect, seen: &Seen<'_>, asked: &mut Asked) -> egui::Rect {
    let open: Vec<bool> = seen.shown.model().movers.iter().map(|m| seen.poses.wish(m) != Wish::Shut).collect();
    let outs = seen.poses.outs(seen.shown.model());
    let measured = seen.measuring.measured(seen.shown.model(), &outs);
    let bench = Bench {
        timeline: Some(seen.play.timeline()),
        at: seen.play.at(),
        turn: seen.play.turn(),
        way: seen.play.way(),
        slow: seen.play.is_slow(),
        solid: seen.hand.solid,
        swept: *seen.swept,
        exploded: seen.exploded.goal(),
        measuring: seen.measuring.on,
        picked: seen.measuring.picks(),
        measured,
    };
    let origin = match seen.desk.path() {
        Some(path) => format!("{} – watched: each save is shown", path.display()),
        None => format!("{} – not saved yet", seen.desk.name()),
    };
    let owner = seen.settings.audience == Audience::Owner;
    let view = panel::View {
        plan: seen.shown.plan(),
        answer: seen.shown.answer(),
        origin: &origin,
        problems: &seen.desk.problems,
        unwatched: seen.desk.unwatched.as_deref(),
        chosen: seen.shown.chosen(),
        open: &open,
        outs: &outs,
        film: seen.film(),
        show: *seen.show,
        bench,
        settings: &seen.settings,
        desk: seen.desk.view(),
        drawing: (*seen.drawing, Some(&seen.level)),
        form: seen.form.0.as_ref().map(|form| panel::FormView { form, refused: seen.desk.refused() }),
        saved: seen.saved.views(),
        asks: if owner { seen.shown.asks() } else { &[] },
        cut: seen.lists.0.as_ref().map(|bench| panel::CutView { bench, pointed: &seen.pointed }),
        install: seen
            .settings
            .install_is_open()
            .then(|| panel::InstallView { done: seen.standing.done(), state: &seen.standing.installing }),
        laid: seen.layouts.laid(),
        laying: seen.layouts.share_done(),
        together: seen.together(),
        sure: seen.sure(),
        worries: if owner { &[] } else { seen.shown.worries() },
        in_use: seen.in_use(),
    };
    let builder = egui::UiBuilder::new().layer_id(egui::LayerId::background()).max_rect(whole);
    let mut root = egui::Ui::new(ctx.clone(), "window".into(), builder);
    match seen.settings.audience {
        Audience::Builder => panel::bench_ui(&mut root, &view, &mut asked.0),
        Audience::Owner => panel::preview_ui(&mut root, &view, &mut asked.0),
    }
}

/// Puts the question, if there is one. What is typed into it counts as a change, and nothing else does.
fn ask(ctx: &egui::Context, seen: &Seen<'_>, dialog: &mut ResMut<'_, Dialog>, asked: &mut Asked) {
    let mut now = (**dialog).clone();
    panel::dialog_ui(ctx, &mut now, seen.desk.name(), seen.files.can_choose(), &mut asked.0);
    dialog.set_if_neq(now);
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0 and a screen's size")]
fn physical(pixels: f32) -> u32 {
    pixels.round().clamp(0.0, 100_000.0) as u32
}

/// Gives the scene what panel and bar leave of the target.
fn fit_scene(taken: Res<'_, Taken>, mut cameras: Query<'_, '_, &mut Camera, With<SceneCamera>>) {
    for mut camera in &mut cameras {
        let Some(target) = camera.physical_target_size() else { continue };
        let high = target.y.saturating_sub(taken.above + taken.below).max(1);
        let size = UVec2::new(target.x.saturating_sub(taken.right).max(1), high);
        let from = UVec2::new(0, taken.above.min(target.y - high));
        let now = camera.viewport.as_ref().map(|v| (v.physical_position, v.physical_size));
        if now != Some((from, size)) {
            camera.viewport = Some(Viewport { physical_position: from, physical_size: size, ..default() });
        }
    }
}

/// What is drawn apart touches nothing, and an owner sees no marks: they are the builder's figures. In the measured room
/// others hold.
fn gather_marks(
    shown: Res<'_, Shown>,
    poses: Res<'_, Poses>,
    hand: Res<'_, Hand>,
    play: Res<'_, Play>,
    exploded: Res<'_, Exploded>,
    settings: Res<'_, Settings>,
    mut marks: ResMut<'_, Marks>,
) {
    let none = exploded.is_apart() || settings.audience == Audience::Owner || settings.install_is_open();
    marks.set_if_neq(if none { Marks::default() } else { Marks::of(&shown, &poses, &hand, &play) });
}

/// The picture follows some changes late: egui's layout by a frame, letters that were never drawn before by three. So a few frames are drawn after each change, and then none until the next.
fn settle(
    seen: Seen<'_>,
    dialog: Res<'_, Dialog>,
    taken: Res<'_, Taken>,
    mut left: Local<'_, Option<u8>>,
    mut redraw: MessageWriter<'_, RequestRedraw>,
) {
    const FRAMES: u8 = 5;
    let changed = seen.shown.is_changed()
        || seen.desk.is_changed()
        || dialog.is_changed()
        || seen.marks.is_changed()
        || seen.show.is_changed()
        || seen.pointed.is_changed()
        || seen.lists.is_changed()
        || seen.layouts.is_changed()
        || seen.together.is_changed()
        || seen.certain.is_changed()
        || seen.standing.installed.is_changed()
        || seen.standing.installing.is_changed();
    let looks = seen.exploded.is_changed() || seen.measuring.is_changed() || seen.swept.is_changed();
    let hands = seen.hand.is_changed() || seen.play.is_changed();
    // The first frames of all also wait for the window and its first shaders.
    let left = left.get_or_insert(12);
    if changed || looks || hands || seen.settings.is_changed() || seen.saved.is_changed() || taken.is_changed() {
        *left = (*left).max(FRAMES);
    }
    if *left > 0 {
        *left -= 1;
        redraw.write(RequestRedraw);
    }
}
