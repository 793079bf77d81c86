//! What a hand on mouse and keys brings about, with no window and no graphics adapter.

use bevy::camera::{NormalizedRenderTarget, RenderTarget};
use bevy::picking::pointer::{Location, PointerAction, PointerButton, PointerId, PointerInput};
use bevy::prelude::*;
use bevy::window::{PrimaryWindow, WindowRef};
use elbowroom::length::Length;
use elbowroom::model::{MoverId, Role};
use elbowroom::plan::{Plan, Side};
use elbowroom::viewer::action::{Action, Asked};
use elbowroom::viewer::camera::SceneCamera;
use elbowroom::viewer::desk::Desk;
use elbowroom::viewer::frame;
use elbowroom::viewer::headless::headless;
use elbowroom::viewer::marks::Marks;
use elbowroom::viewer::motion::{Play, Poses};
use elbowroom::viewer::scene::{Body, MoverRoot};
use elbowroom::viewer::shown::Shown;

use crate::plans;

pub(crate) const TESTS: &[(&str, fn())] = &[
    ("hands: a click on a front opens it, and another shuts it", a_click_opens),
    ("hands: a click at the end of a drag does not open or shut", a_drag_is_no_click),
    ("hands: another filler width is in the scene with the next update", a_filler_moves_the_run),
    ("hands: an open drawer stays open when a filler changes", an_open_drawer_stays_open),
    ("hands: a bad save keeps the last plan and tells the problems", a_bad_save_keeps_the_plan),
    ("hands: a finding is pointed out with its parts where they meet", a_finding_poses_the_parts),
    ("hands: the film opens each part, stops at a touch, and ends shut", the_film_runs_through),
    ("hands: the space bar plays and pauses", the_space_bar),
];

pub(crate) fn app(plan: Plan) -> App {
    let mut app = headless(plans::source(plan), (1280, 800));
    updates(&mut app, 4);
    app
}

pub(crate) fn updates(app: &mut App, count: usize) {
    (0..count).for_each(|_| app.update());
}

pub(crate) fn ask(app: &mut App, action: Action) {
    app.world_mut().resource_mut::<Asked>().0.push(action);
    app.update();
}

pub(crate) fn shown(app: &App) -> &Shown {
    app.world().resource::<Shown>()
}

pub(crate) fn out(app: &App, mover: MoverId) -> f64 {
    app.world().resource::<Poses>().of(shown(app).model().mover(mover)).now()
}

/// Where the middle of a mover's front is in the window.
pub(crate) fn on_screen(app: &mut App, mover: MoverId) -> Vec2 {
    let model = shown(app).model();
    let is_front = |role| matches!(role, Role::DrawerFront | Role::DoorFront);
    let front = model.mover(mover).parts.iter().map(|id| model.part(*id)).find(|part| is_front(part.role));
    let run = model.run(model.mover(mover).side);
    // Beside the pull, on the front's face.
    let point = front.expect("a mover has a front").middle() + run.along * 90.0 + elbowroom::model::Vec3::Z * 40.0;
    let mut eyes = app.world_mut().query_filtered::<(&Camera, &GlobalTransform), With<SceneCamera>>();
    let (camera, place) = eyes.single(app.world()).expect("one eye");
    camera.world_to_viewport(place, frame::to_bevy(point)).expect("it is in the picture")
}

pub(crate) fn pointer(app: &mut App, position: Vec2, action: PointerAction) {
    let window = app.world_mut().query_filtered::<Entity, With<PrimaryWindow>>().single(app.world()).expect("a window");
    let target: NormalizedRenderTarget =
        RenderTarget::Window(WindowRef::Primary).normalize(Some(window)).expect("the window is a target");
    let location = Location { target, position };
    app.world_mut().write_message(PointerInput::new(PointerId::Mouse, location, action));
    app.update();
}

pub(crate) fn click(app: &mut App, press: Vec2, release: Vec2) {
    pointer(app, press, PointerAction::Move { delta: Vec2::ZERO });
    pointer(app, press, PointerAction::Move { delta: Vec2::ZERO });
    pointer(app, press, PointerAction::Press(PointerButton::Primary));
    if press != release {
        pointer(app, release, PointerAction::Move { delta: release - press });
    }
    pointer(app, release, PointerAction::Release(PointerButton::Primary));
    app.update();
}

/// The farthest drawer of the left run: nothing stands before it.
pub(crate) fn easy(app: &App) -> MoverId {
    shown(app).model().movers.iter().rev().find(|m| m.side == Side::Left).expect("the left run has a mover").id
}

fn a_click_opens() {
    let mut app = app(plans::wide());
    let mover = easy(&app);
    let at = on_screen(&mut app, mover);
    click(&mut app, at, at);
    updates(&mut app, 60);
    let full = shown(&app).opening(mover).expect("it opens").full;
    assert!((out(&app, mover) - full).abs() < 1e-6, "out by {} of {full}", out(&app, mover));
    let mut roots = app.world_mut().query::<(&MoverRoot, &Transform)>();
    let moved = roots.iter(app.world()).find(|(root, _)| root.0 == mover).map(|(_, t)| *t != Transform::IDENTITY);
    assert_eq!(moved, Some(true));
    ask(&mut app, Action::Toggle(mover));
    updates(&mut app, 60);
    assert!(out(&app, mover).abs() < 1e-9);
}

fn a_drag_is_no_click() {
    let mut app = app(plans::wide());
    let mover = easy(&app);
    let at = on_screen(&mut app, mover);
    click(&mut app, at, at + Vec2::new(9.0, 0.0));
    updates(&mut app, 60);
    let full = shown(&app).opening(mover).expect("it opens").full;
    assert!(out(&app, mover) < full * 0.2, "it went no further than the mouse: {}", out(&app, mover));
}

/// How far along its run the nearest corner of the first left unit is drawn, mm.
fn left_run_starts_at(app: &mut App) -> f64 {
    let model = shown(app).model().clone();
    let mut bodies = app.world_mut().query::<(&Body, &GlobalTransform)>();
    let along = model.run(Side::Left).along;
    bodies
        .iter(app.world())
        .filter(|(body, _)| {
            let part = model.part(body.part);
            part.role == Role::CarcassSide && part.run == Some(Side::Left) && part.unit == Some(0)
        })
        .map(|(_, place)| frame::to_room(place.translation()).dot(along))
        .fold(f64::INFINITY, f64::min)
}

fn a_filler_moves_the_run() {
    let mut app = app(plans::with_fillers(40.0));
    let before = left_run_starts_at(&mut app);
    ask(&mut app, Action::SetFiller(Side::Left, Length::mm(75.0)));
    let after = left_run_starts_at(&mut app);
    assert!((after - before - 35.0).abs() < 0.01, "{before} to {after}");
    assert_eq!(shown(&app).answer().fillers().left, Length::mm(75.0));
}

fn an_open_drawer_stays_open() {
    let mut app = app(plans::wide());
    let mover = easy(&app);
    ask(&mut app, Action::Toggle(mover));
    updates(&mut app, 60);
    let open = out(&app, mover);
    assert!(open > 0.0);
    ask(&mut app, Action::SetFiller(Side::Left, Length::mm(140.0)));
    assert!((out(&app, mover) - open).abs() < 1e-6);
}

fn a_bad_save_keeps_the_plan() {
    let mut app = app(plans::plan());
    let name = shown(&app).plan().name.clone();
    ask(&mut app, Action::Reloaded(Ok("(name: 12".to_owned())));
    assert_eq!(shown(&app).plan().name, name);
    assert!(!app.world().resource::<Desk>().problems.is_empty());
    // The next good save clears them.
    ask(&mut app, Action::Reloaded(Ok(plans::TEXT.replace(&name, "Another name"))));
    assert_eq!(shown(&app).plan().name, "Another name");
    assert!(app.world().resource::<Desk>().problems.is_empty());
}

fn a_finding_poses_the_parts() {
    let mut app = app(plans::too_narrow());
    let (index, finding) = {
        let findings = &shown(&app).answer().findings;
        let index = findings.iter().position(|f| f.mover.is_some()).expect("a moving part meets something");
        (index, findings[index].clone())
    };
    ask(&mut app, Action::PointOut(index));
    updates(&mut app, 60);
    let mover = finding.mover.expect("checked above");
    assert!((out(&app, mover) - finding.out).abs() < 1e-6);
    let marks = &app.world().resource::<Marks>().0;
    assert!(marks.iter().any(|mark| mark.parts == [finding.part, finding.other]));
}

fn the_film_runs_through() {
    let mut app = app(plans::too_narrow());
    let touches = plans::touching(shown(&app).plan());
    let to_touch = shown(&app).opening(touches).expect("it opens").to_touch;
    ask(&mut app, Action::PlayPause);
    let (mut furthest, mut marked) = (0.0_f64, false);
    for _ in 0..20_000 {
        app.update();
        furthest = furthest.max(out(&app, touches));
        marked |=
            app.world().resource::<Play>().turn() == Some(touches) && !app.world().resource::<Marks>().0.is_empty();
        if !app.world().resource::<Play>().is_running() {
            break;
        }
    }
    assert!(!app.world().resource::<Play>().is_running(), "the film has an end");
    assert!((furthest - to_touch).abs() < 1e-6, "{furthest} is not {to_touch}");
    assert!(marked, "the touch is marked");
    let shut = shown(&app).model().movers.iter().all(|mover| out(&app, mover.id).abs() < 1e-9);
    assert!(shut, "everything is shut at the end");
}

fn the_space_bar() {
    let mut app = app(plans::wide());
    let press = |app: &mut App| {
        let mut keys = app.world_mut().resource_mut::<ButtonInput<KeyCode>>();
        keys.press(KeyCode::Space);
        app.world_mut().run_schedule(Update);
        app.world_mut().resource_mut::<ButtonInput<KeyCode>>().reset_all();
    };
    press(&mut app);
    assert!(app.world().resource::<Play>().is_running());
    press(&mut app);
    assert!(app.world().resource::<Play>().is_paused());
}
