//! Opening by hand and as a film, layers, parts drawn apart, measuring: what the hand does and what is seen of it.

use bevy::picking::Pickable;
use bevy::picking::pointer::{PointerAction, PointerButton};
use bevy::prelude::*;
use bevy_egui::egui;
use bevy_panorbit_camera::PanOrbitCamera;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use elbowroom::clearance::{self, Answer};
use elbowroom::model::{Motion, MoverId, Role};
use elbowroom::plan::{Plan, Side};
use elbowroom::viewer::action::Action;
use elbowroom::viewer::camera::SceneCamera;
use elbowroom::viewer::explode::{Exploded, taken_apart};
use elbowroom::viewer::frame;
use elbowroom::viewer::layers::{Layer, Shade};
use elbowroom::viewer::marks::{MarkKind, Marks};
use elbowroom::viewer::measure::{Feature, Measuring};
use elbowroom::viewer::motion::{Play, Poses};
use elbowroom::viewer::panel::{Bench, View, controls_ui, panel_ui};
use elbowroom::viewer::scene::{Body, Home};
use elbowroom::viewer::settings::{Section, Settings};
use elbowroom::viewer::swept::{SweptBody, SweptOf};
use elbowroom::viewer::timeline::{Moment, Step, Timeline, Way};

use crate::hands::{app, ask, click, easy, on_screen, out, pointer, shown, updates};
use crate::plans;

pub(crate) const TESTS: &[(&str, fn())] = &[
    ("opening: a drawer dragged to contact stops at the first touch and says so", a_drag_stops_at_the_touch),
    ("opening: a drawer follows the mouse and stays where it is let go", a_drawer_follows_the_mouse),
    (
        "opening: the scene turns by a drag beside the fronts and not by one on them",
        the_scene_rests_while_a_front_is_held,
    ),
    ("opening: with nothing solid it passes through and the overlap is marked", without_solid_it_passes),
    ("opening: what another open part blocks is stopped by it", an_open_drawer_stops_another),
    ("opening: the film scrubbed to any moment has the poses of that moment", scrubbing_is_exact),
    ("opening: arrow keys, Home and End step along the film", the_film_by_keys),
    ("opening: the gap that is left is told on the slow approach", the_live_gap),
    ("opening: all at once, everything that can be open together is", all_at_once),
    ("opening: a ghosted layer is not picked and a hidden one is not drawn", layers_by_shade),
    ("opening: drawn apart, parts move, nothing is marked and the answer stays", drawn_apart),
    ("opening: a unit measured by clicks is as wide as the plan says", measured_by_clicks),
    ("opening: the volume of the part in hand is shown on demand", the_swept_volume),
    ("opening panel: the film is a slider with names and touches", the_film_on_the_bar),
    ("opening panel: every layer has three buttons that say what they do", the_layers_in_the_section),
    ("opening panel: parts drawn apart are not measured, and it says so", apart_is_not_measured),
    ("opening panel: solid, swept, apart and measuring are there and work", the_section_works),
];

/// A drawer that touches, with the first touch some way out.
fn drawer_that_touches(app: &App) -> (MoverId, f64) {
    let is_slide = |id: MoverId| matches!(shown(app).model().mover(id).motion, Motion::Slide { .. });
    let touching = |o: &&clearance::Opening| o.touches_first.is_some() && is_slide(o.mover) && o.to_touch > 5.0;
    let opening = shown(app).answer().openings.iter().find(touching).expect("a drawer touches");
    (opening.mover, opening.to_touch)
}

/// Where in the window a point of a shut front is once its part is `by` open.
fn carried_on_screen(app: &mut App, mover: MoverId, by: f64) -> Vec2 {
    let model = shown(app).model();
    let (part, run) = (model.mover(mover), model.run(model.mover(mover).side));
    let fronts = part.parts.iter().map(|id| model.part(*id));
    let front = fronts.into_iter().find(|p| matches!(p.role, Role::DrawerFront | Role::DoorFront)).expect("a front");
    // The same point as `on_screen`, on the face: half the front's thickness before its middle.
    let point = front.middle() + run.along * 90.0 + elbowroom::model::Vec3::Z * 40.0;
    let point = part.motion.carry(point, by);
    let mut eyes = app.world_mut().query_filtered::<(&Camera, &GlobalTransform), With<SceneCamera>>();
    let (camera, place) = eyes.single(app.world()).expect("one eye");
    camera.world_to_viewport(place, frame::to_bevy(point)).expect("it is in the picture")
}

fn press(app: &mut App, at: Vec2) {
    pointer(app, at, PointerAction::Move { delta: Vec2::ZERO });
    pointer(app, at, PointerAction::Move { delta: Vec2::ZERO });
    pointer(app, at, PointerAction::Press(PointerButton::Primary));
}

fn drag(app: &mut App, from: Vec2, to: Vec2) {
    press(app, from);
    for k in 1..=10u8 {
        let at = from.lerp(to, f32::from(k) / 10.0);
        pointer(app, at, PointerAction::Move { delta: (to - from) / 10.0 });
    }
}

fn let_go(app: &mut App, at: Vec2) {
    pointer(app, at, PointerAction::Release(PointerButton::Primary));
    app.update();
}

fn marks(app: &App) -> &Marks {
    app.world().resource::<Marks>()
}

fn a_drag_stops_at_the_touch() {
    let mut app = app(plans::tight());
    let (mover, to_touch) = drawer_that_touches(&app);
    let from = on_screen(&mut app, mover);
    let to = carried_on_screen(&mut app, mover, to_touch + 150.0);
    drag(&mut app, from, to);
    assert!((out(&app, mover) - to_touch).abs() < 0.1, "{} is not {to_touch}", out(&app, mover));
    let contact = shown(&app).opening(mover).and_then(|o| o.touches_first).expect("it touches");
    let mark = marks(&app).0.iter().find(|mark| mark.kind == MarkKind::Touch).expect("the touch is marked");
    assert!(mark.label[0].contains("Touches here"), "{:?}", mark.label);
    assert_eq!(mark.parts[0], contact.part);
    // Let go, it stays, and the mark with it.
    let_go(&mut app, to);
    updates(&mut app, 30);
    assert!((out(&app, mover) - to_touch).abs() < 0.1);
    assert!(marks(&app).touches(contact.part));
    // A click shuts it.
    let at = carried_on_screen(&mut app, mover, to_touch);
    click(&mut app, at, at);
    updates(&mut app, 60);
    assert!(out(&app, mover).abs() < 1e-9 && marks(&app).0.is_empty());
}

fn a_drawer_follows_the_mouse() {
    let mut app = app(plans::wide());
    let mover = easy(&app);
    let from = on_screen(&mut app, mover);
    let to = carried_on_screen(&mut app, mover, 200.0);
    drag(&mut app, from, to);
    // The front's face lies nearer to the eye than the point in its middle, so a few millimetres are the mouse's.
    assert!((out(&app, mover) - 200.0).abs() < 12.0, "out by {}", out(&app, mover));
    let_go(&mut app, to);
    let left = out(&app, mover);
    pointer(&mut app, from, PointerAction::Move { delta: from - to });
    updates(&mut app, 10);
    assert!((out(&app, mover) - left).abs() < 1e-9, "let go, it no longer follows");
    // No further than it goes, however far the mouse does.
    let far = carried_on_screen(&mut app, mover, 1200.0);
    let at = carried_on_screen(&mut app, mover, left);
    drag(&mut app, at, far);
    let full = shown(&app).opening(mover).expect("it opens").full;
    assert!((out(&app, mover) - full).abs() < 1e-9);
    let_go(&mut app, far);
}

fn camera_is_enabled(app: &mut App) -> bool {
    let mut cameras = app.world_mut().query::<&PanOrbitCamera>();
    cameras.single(app.world()).expect("one camera").enabled
}

fn the_scene_rests_while_a_front_is_held() {
    let mut app = app(plans::wide());
    let mover = easy(&app);
    let at = on_screen(&mut app, mover);
    press(&mut app, at);
    assert!(!camera_is_enabled(&mut app));
    let_go(&mut app, at);
    assert!(camera_is_enabled(&mut app));
    // The floor in the middle of the room is no front.
    let floor = Vec2::new(420.0, 560.0);
    press(&mut app, floor);
    assert!(camera_is_enabled(&mut app));
    let_go(&mut app, floor);
}

fn without_solid_it_passes() {
    let mut app = app(plans::tight());
    let (mover, to_touch) = drawer_that_touches(&app);
    ask(&mut app, Action::Solid(false));
    ask(&mut app, Action::Pull { mover, to: to_touch + 30.0 });
    assert!((out(&app, mover) - to_touch - 30.0).abs() < 1e-9);
    let touches = marks(&app).0.iter().filter(|mark| mark.kind == MarkKind::Touch).count();
    assert!(touches > 0, "the overlap is marked");
    // Back out of it: nothing touches, nothing is marked.
    ask(&mut app, Action::Pull { mover, to: to_touch * 0.5 });
    assert!(marks(&app).0.iter().all(|mark| mark.kind != MarkKind::Touch), "{:?}", marks(&app).0);
}

fn an_open_drawer_stops_another() {
    let mut app = app(plans::wide());
    let first = |side: Side| move |m: &&elbowroom::model::Mover| m.side == side;
    let (left, right) = {
        let movers = &shown(&app).model().movers;
        let of = |side| movers.iter().find(first(side)).expect("both runs have drawers");
        (of(Side::Left).id, of(Side::Right).id)
    };
    let full = |app: &App, id| shown(app).opening(id).expect("it opens").full;
    let (left_full, right_full) = (full(&app, left), full(&app, right));
    ask(&mut app, Action::Pull { mover: left, to: left_full });
    ask(&mut app, Action::Pull { mover: right, to: right_full });
    assert!((out(&app, left) - left_full).abs() < 1e-9 && out(&app, right) < right_full - 1.0);
    let mark = marks(&app).0.iter().find(|mark| mark.kind == MarkKind::Touch).expect("marked");
    assert_eq!(shown(&app).model().part(mark.parts[1]).mover, Some(left));
    // The right one now stands in the way of the left one's front; it must be shut first. Then the mark goes.
    ask(&mut app, Action::Pull { mover: left, to: 0.0 });
    assert!(out(&app, left) > 100.0);
    ask(&mut app, Action::Pull { mover: right, to: 0.0 });
    ask(&mut app, Action::Pull { mover: left, to: 0.0 });
    assert!(out(&app, left).abs() < 1e-9 && marks(&app).0.is_empty());
    ask(&mut app, Action::Pull { mover: right, to: right_full });
    assert!((out(&app, right) - right_full).abs() < 1e-9);
}

fn play(app: &App) -> &Play {
    app.world().resource::<Play>()
}

fn scrubbing_is_exact() {
    let mut app = app(plans::tight());
    let length = play(&app).timeline().length();
    assert!(length > 5.0);
    // Forwards, backwards, anywhere: the poses are those of the moment.
    for share in [0.1, 0.77, 0.32, 0.999, 0.0, 0.5] {
        ask(&mut app, Action::Scrub(length * share));
        let wanted = play(&app).timeline().outs(length * share);
        for mover in &shown(&app).model().movers {
            assert!((out(&app, mover.id) - wanted[mover.id.0]).abs() < 1e-9);
        }
        updates(&mut app, 5);
        assert!(play(&app).is_paused() && (play(&app).at() - length * share).abs() < 1e-9);
    }
    let touch = play(&app).timeline().marks().iter().find(|m| m.moment == Moment::Touch).copied().expect("a touch");
    ask(&mut app, Action::Scrub(touch.at + 0.05));
    let marked = marks(&app).0.iter().any(|mark| mark.kind == MarkKind::Touch);
    assert!(marked, "at the moment of a touch it is marked");
    // Going on from there it plays to its end.
    ask(&mut app, Action::PlayPause);
    assert!(play(&app).is_running());
    ask(&mut app, Action::Stop);
    updates(&mut app, 60);
    assert!(shown(&app).model().movers.iter().all(|mover| out(&app, mover.id).abs() < 1e-9));
}

fn key(app: &mut App, keys: &[KeyCode]) {
    let mut input = app.world_mut().resource_mut::<ButtonInput<KeyCode>>();
    keys.iter().for_each(|&key| input.press(key));
    app.world_mut().run_schedule(Update);
    app.world_mut().resource_mut::<ButtonInput<KeyCode>>().reset_all();
}

fn the_film_by_keys() {
    let mut app = app(plans::tight());
    key(&mut app, &[KeyCode::ArrowRight]);
    assert!((play(&app).at() - Step::SECONDS).abs() < 1e-9 && play(&app).is_paused());
    key(&mut app, &[KeyCode::ArrowLeft]);
    assert!(play(&app).at().abs() < 1e-9);
    key(&mut app, &[KeyCode::End]);
    assert!((play(&app).at() - play(&app).timeline().length()).abs() < 1e-9);
    key(&mut app, &[KeyCode::PageUp]);
    let last = play(&app).timeline().marks().last().expect("marks").at;
    assert!((play(&app).at() - last).abs() < 1e-6);
    key(&mut app, &[KeyCode::Home]);
    assert!(play(&app).at().abs() < 1e-9);
}

fn the_live_gap() {
    let mut app = app(plans::tight());
    let (mover, to_touch) = drawer_that_touches(&app);
    let touch = {
        let marks = play(&app).timeline().marks();
        marks.iter().find(|m| m.mover == mover && m.moment == Moment::Touch).expect("its touch").at
    };
    // A moment before the touch the gap is about as wide as the way that is left, and told.
    ask(&mut app, Action::Scrub(touch - 0.05));
    let left = to_touch - out(&app, mover);
    assert!(left > 0.5, "it comes slowly: {left}");
    let near = |mark: &&elbowroom::viewer::marks::Mark| matches!(mark.kind, MarkKind::Near | MarkKind::TooNear);
    let mark = marks(&app).0.iter().find(near).expect("the gap is told").clone();
    assert!(mark.label[0].contains("apart"), "{:?}", mark.label);
    let gap = (mark.points[1] - mark.points[0]).length();
    assert!(gap > 0.0 && gap <= left + 1e-6, "{gap} of {left}");
}

fn all_at_once() {
    let mut app = app(plans::wide());
    ask(&mut app, Action::PlayWay(Way::AllAtOnce));
    let held = play(&app).timeline().turns().iter().map(|turn| turn.arrives).fold(0.0, f64::max);
    ask(&mut app, Action::Scrub(held + 0.1));
    let open = shown(&app).model().movers.iter().filter(|mover| out(&app, mover.id) > 1.0).count();
    assert!(open > 3, "only {open} are open");
    assert_eq!(open, play(&app).timeline().turns().len());
}

/// How many parts of `role` are hidden, and how many let the mouse through.
fn seen(app: &mut App, role: Role) -> (usize, usize, usize) {
    let model = shown(app).model().clone();
    let mut bodies = app.world_mut().query::<(&Body, &Visibility, Has<Pickable>)>();
    let of_role = bodies.iter(app.world()).filter(|(body, ..)| model.part(body.part).role == role);
    of_role.fold((0, 0, 0), |(all, hidden, through), (_, visibility, ignored)| {
        (all + 1, hidden + usize::from(*visibility == Visibility::Hidden), through + usize::from(ignored))
    })
}

fn layers_by_shade() {
    let mut app = app(plans::wide());
    let (all, hidden, through) = seen(&mut app, Role::DrawerFront);
    assert!(all > 3 && hidden == 0 && through == 0);
    ask(&mut app, Action::Show(Layer::Fronts, Shade::Ghosted));
    assert_eq!(seen(&mut app, Role::DrawerFront), (all, 0, all));
    ask(&mut app, Action::Show(Layer::Fronts, Shade::Hidden));
    assert_eq!(seen(&mut app, Role::DrawerFront).1, all);
    assert_eq!(seen(&mut app, Role::BoxSide).1, 0);
    ask(&mut app, Action::Show(Layer::Fronts, Shade::Shown));
    assert_eq!(seen(&mut app, Role::DrawerFront), (all, 0, 0));
    // A click on a ghosted front goes through it: to the box behind or to nothing, never to the front itself.
    for layer in [Layer::Fronts, Layer::Boxes] {
        ask(&mut app, Action::Show(layer, Shade::Ghosted));
    }
    let mover = easy(&app);
    let at = on_screen(&mut app, mover);
    click(&mut app, at, at);
    updates(&mut app, 20);
    assert!(out(&app, mover).abs() < 1e-9);
}

fn drawn_apart() {
    let mut app = app(plans::tight());
    let before = shown(&app).answer().openings.iter().map(|o| o.to_touch).collect::<Vec<_>>();
    ask(&mut app, Action::PointOut(0));
    updates(&mut app, 60);
    assert!(!marks(&app).0.is_empty());
    ask(&mut app, Action::Explode(1.0));
    updates(&mut app, 60);
    assert!((app.world().resource::<Exploded>().now() - 1.0).abs() < 1e-9);
    assert!(marks(&app).0.is_empty(), "nothing is marked while parts are drawn apart");
    let away = taken_apart(shown(&app).model());
    let mut bodies = app.world_mut().query::<(&Body, &Home, &Transform)>();
    for (body, home, place) in bodies.iter(app.world()) {
        let by = frame::to_bevy(away[body.part.0]);
        assert!((place.translation - home.0 - by).length() < 1e-5);
    }
    assert_eq!(shown(&app).answer().openings.iter().map(|o| o.to_touch).collect::<Vec<_>>(), before);
    ask(&mut app, Action::Explode(0.0));
    updates(&mut app, 60);
    assert!(bodies.iter(app.world()).all(|(_, home, place)| place.translation == home.0));
    assert!(!marks(&app).0.is_empty(), "as built again, the finding is");
}

fn measured_by_clicks() {
    let mut app = app(plans::wide());
    ask(&mut app, Action::ToggleMeasuring);
    let mover = easy(&app);
    // The two ends of one front: faces are narrow, so pick its corners as seen, by clicks just inside of them.
    let (corners, width) = {
        let model = shown(&app).model();
        let parts = model.mover(mover).parts.iter().map(|id| model.part(*id));
        let front = parts.into_iter().find(|p| p.role == Role::DrawerFront).expect("a front");
        let run = model.run(Side::Left);
        let far = |towards: f64| {
            let key = |v: &elbowroom::model::Vec3| v.dot(run.along) * towards + v.dot(run.out) * 3.0 + v.z * 2.0;
            front.pieces[0].vertices().max_by(|a, b| key(a).total_cmp(&key(b))).expect("corners")
        };
        let ends = [far(-1.0), far(1.0)];
        // 3 mm inside of each, on the face.
        let inside = [run.along * 3.0, run.along * -3.0].map(|by| by - elbowroom::model::Vec3::Z * 3.0);
        ([ends[0] + inside[0], ends[1] + inside[1]], (ends[1] - ends[0]).length())
    };
    for corner in corners {
        let mut eyes = app.world_mut().query_filtered::<(&Camera, &GlobalTransform), With<SceneCamera>>();
        let (camera, place) = eyes.single(app.world()).expect("one eye");
        let at = camera.world_to_viewport(place, frame::to_bevy(corner)).expect("in the picture");
        click(&mut app, at, at);
    }
    let measuring = app.world().resource::<Measuring>();
    assert_eq!(measuring.picks().len(), 2);
    assert!(measuring.picks().iter().all(|pick| matches!(pick.feature, Feature::Corner(_))), "{measuring:?}");
    let outs = app.world().resource::<Poses>().outs(shown(&app).model());
    let found = measuring.measured(shown(&app).model(), &outs).expect("a distance");
    assert!((found.distance - width).abs() < 1e-6 && (found.shares[0] - width).abs() < 1e-6);
    assert!(out(&app, mover).abs() < 1e-9, "a click that measures opens nothing");
    // Escape drops the picks, and then ends measuring.
    key(&mut app, &[KeyCode::Escape]);
    assert!(app.world().resource::<Measuring>().on && app.world().resource::<Measuring>().picks().is_empty());
    key(&mut app, &[KeyCode::Escape]);
    assert!(!app.world().resource::<Measuring>().on);
}

fn the_swept_volume() {
    let mut app = app(plans::wide());
    let count = |app: &mut App| app.world_mut().query::<&SweptBody>().iter(app.world()).count();
    ask(&mut app, Action::ShowSwept(SweptOf::InHand));
    assert_eq!(count(&mut app), 0);
    let mover = easy(&app);
    ask(&mut app, Action::Toggle(mover));
    updates(&mut app, 2);
    assert_eq!(count(&mut app), 1);
    ask(&mut app, Action::ShowSwept(SweptOf::All));
    assert_eq!(count(&mut app), shown(&app).model().movers.len());
    ask(&mut app, Action::ShowSwept(SweptOf::Nothing));
    assert_eq!(count(&mut app), 0);
}

struct Desk {
    plan: Plan,
    answer: Answer,
    film: Timeline,
    actions: Vec<Action>,
}

fn harness<'a>(ui: fn(&mut egui::Ui, &View<'_>, &mut Vec<Action>), width: f32) -> Harness<'a, Desk> {
    harness_at(ui, width, Bench::default())
}

/// The same with the bench as `at` has it, save the film and what is solid.
fn harness_at<'a>(
    ui: fn(&mut egui::Ui, &View<'_>, &mut Vec<Action>),
    width: f32,
    at: Bench<'static>,
) -> Harness<'a, Desk> {
    let plan = plans::tight();
    let answer = clearance::answer(&plan);
    let film = Timeline::new(&answer.model, &answer.openings, Way::InTurn, true);
    let desk = Desk { plan, answer, film, actions: Vec::new() };
    let mut harness = Harness::builder().with_size(egui::vec2(width, 1200.0)).build_ui_state(
        move |root, desk: &mut Desk| {
            let settings = Settings { section: Section::View, ..Settings::default() };
            let bench = Bench { timeline: Some(&desk.film), at: 3.0, solid: true, slow: true, ..at };
            let view = View { bench, ..View::at_rest(&desk.plan, &desk.answer, &settings) };
            ui(root, &view, &mut desk.actions);
        },
        desk,
    );
    harness.run();
    harness
}

fn the_film_on_the_bar() {
    let mut harness = harness(controls_ui, 900.0);
    let touch = *harness.state().film.marks().iter().find(|m| m.moment == Moment::Touch).expect("a touch");
    let name = harness.state().answer.model.mover(touch.mover).name.clone();
    harness.get_by_label(&format!("{name} touches")).click();
    harness.run();
    assert_eq!(harness.state().actions, [Action::Scrub(touch.at)]);
    harness.state_mut().actions.clear();
    harness.get_by_role_and_label(egui::accesskit::Role::Slider, "Film, seconds").focus();
    harness.run();
    harness.key_press(egui::Key::End);
    harness.run();
    assert_eq!(harness.state().actions, [Action::Step(Step::ToEnd)]);
    harness.key_press(egui::Key::ArrowRight);
    harness.run();
    assert!(matches!(harness.state().actions[1], Action::Scrub(at) if at > 3.0), "{:?}", harness.state().actions);
    harness.state_mut().actions.clear();
    harness.get_by_label("All at once").click();
    harness.get_by_label("Slow approach").click();
    harness.run();
    assert_eq!(harness.state().actions, [Action::PlayWay(Way::AllAtOnce), Action::SlowApproach(false)]);
}

fn the_layers_in_the_section() {
    let mut harness = harness(panel_ui, 400.0);
    let mut wanted = Vec::new();
    for layer in Layer::ALL {
        for shade in Shade::ALL {
            harness.get_by_label(&format!("{} {}", layer.word(), shade.word())).click();
            harness.run();
            wanted.push(Action::Show(layer, shade));
        }
    }
    assert_eq!(harness.state().actions, wanted);
}

fn the_section_works() {
    let mut harness = harness(panel_ui, 400.0);
    harness.get_by_label("Solid: what is dragged stops at what it touches").click();
    harness.run();
    harness.get_by_label("Room it takes: all").click();
    harness.run();
    harness.get_by_label("Measure").click();
    harness.run();
    let wanted = [Action::Solid(false), Action::ShowSwept(SweptOf::All), Action::ToggleMeasuring];
    assert_eq!(harness.state().actions, wanted);
    harness.state_mut().actions.clear();
    harness.get_by_role_and_label(egui::accesskit::Role::Slider, "Drawn apart").focus();
    harness.run();
    harness.key_press(egui::Key::ArrowRight);
    harness.run();
    assert_eq!(harness.state().actions, [Action::Explode(0.01)]);
}

fn apart_is_not_measured() {
    let apart = Bench { measuring: true, exploded: 0.5, ..Bench::default() };
    harness_at(panel_ui, 400.0, apart).get_by_label_contains("drawn apart cannot be measured");
    let built = Bench { measuring: true, ..Bench::default() };
    harness_at(panel_ui, 400.0, built).get_by_label_contains("click the first corner, edge or face");
}
