//! Does the window show how it goes in? Step by step, in the measured room, with the pieces that must be turned in; found by
//! what a person reads.

use bevy::prelude::*;
use bevy_egui::egui;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use elbowroom::clearance;
use elbowroom::install::fit::Entry;
use elbowroom::install::order::StepId;
use elbowroom::model::{Convex, PartId, Role, Vec3 as RoomVec3};
use elbowroom::plan::{self, Plan, Side};
use elbowroom::report::install::{both_ways, caution_lines, step_lines, turned_line};
use elbowroom::viewer::Source;
use elbowroom::viewer::action::Action;
use elbowroom::viewer::frame;
use elbowroom::viewer::headless::headless;
use elbowroom::viewer::install::{Ask, Done, DrawnRoom, Installed, Installing};
use elbowroom::viewer::motion::Poses;
use elbowroom::viewer::panel::{InstallView, View, panel_ui};
use elbowroom::viewer::scene::{Body, Home};
use elbowroom::viewer::settings::{Section, Settings};

use crate::hands::{ask, shown, updates};

pub(crate) const TESTS: &[(&str, fn())] = &[
    ("install: the panel tells a step with all that belongs to it", the_panel_tells_a_step),
    ("install: a step is chosen by its button, the next by another", steps_are_chosen),
    ("install: both ways of setting stand side by side as numbers", both_ways_side_by_side),
    ("install: the finishing schedule has every area", the_finishing_schedule),
    ("install: each piece that goes in is told, and shown where a way is known", each_piece_is_told),
    ("install: the cautions stand in full below the lists", the_cautions_stand_below),
    ("install: later parts are hidden, this step's are marked, earlier ones stay", stepping_hides_parts),
    ("install: fronts are off while they are painted", fronts_are_off_for_paint),
    ("install: another section shows everything again, in the plan's own room", another_section_shows_all),
    ("install: the scene has the measured walls, and the slider moves them", the_slider_moves_walls),
    ("install: no number follows the slider", no_number_follows_the_slider),
    ("install: a piece is shown going in, pose by pose, and ends in its place", a_piece_goes_in),
    ("install: the keys go on and back", the_keys),
    ("install: the same step stays when the plan changes", the_step_stays),
    ("install: it is worked out in a task, once, and beside the window", worked_out_once),
];

const TEXT: &str = include_str!("../../assets/plans/old-house.ron");

fn plan() -> Plan {
    plan::read("old-house.ron", TEXT).expect("the example plan is good")
}

struct Desk {
    plan: Plan,
    answer: clearance::Answer,
    done: Done,
    state: Installing,
    actions: Vec<Action>,
}

impl Desk {
    fn new() -> Self {
        let plan = plan();
        let answer = clearance::answer(&plan);
        let done = Done::new(&plan, &answer.model);
        Self { plan, answer, done, state: Installing::default(), actions: Vec::new() }
    }

    fn at(step: StepId) -> Self {
        let mut desk = Self::new();
        let at = number(&desk.done, step);
        desk.state.go(&desk.done, at);
        desk
    }

    fn harness(self) -> Harness<'static, Self> {
        let settings = Settings { section: Section::Install, ..Settings::default() };
        let mut harness = Harness::builder().with_size(egui::vec2(400.0, 20_000.0)).build_ui_state(
            move |root, desk: &mut Self| {
                let install = Some(InstallView { done: Some(&desk.done), state: &desk.state });
                let view = View { install, ..View::at_rest(&desk.plan, &desk.answer, &settings) };
                panel_ui(root, &view, &mut desk.actions);
            },
            self,
        );
        harness.run();
        harness
    }
}

fn number(done: &Done, step: StepId) -> usize {
    done.installation.order.iter().position(|one| one.id == step).expect("the plan has the step")
}

fn the_panel_tells_a_step() {
    for id in [StepId::Set(Side::Right, 1), StepId::Fix(Side::Left), StepId::FirstCoat, StepId::Caulk] {
        let desk = Desk::at(id);
        let (at, count) = (desk.state.step(), desk.done.installation.order.len());
        let step = &desk.done.installation.order[at];
        let lines: Vec<String> = step_lines(&desk.done.installation, step).into_iter().map(|(_, line)| line).collect();
        assert!(lines.len() >= 3, "{id} tells little");
        let harness = desk.harness();
        harness.get_by_label(&format!("Step {} of {count}", at + 1));
        for line in lines {
            assert!(harness.query_all_by_label_contains(&line).next().is_some(), "`{line}` is not on the panel");
        }
    }
}

fn steps_are_chosen() {
    let desk = Desk::at(StepId::DryFit);
    let titles: Vec<String> =
        desk.done.installation.order.iter().enumerate().map(|(k, step)| format!("{}  {}", k + 1, step.title)).collect();
    let mut harness = desk.harness();
    for title in &titles {
        harness.get_by_label(title);
    }
    harness.get_by_label(&titles[4]).click();
    harness.run();
    harness.get_by_label("Next step").click();
    harness.run();
    harness.get_by_label("Step back").click();
    harness.run();
    let wanted = [Ask::Step(4), Ask::Next, Ask::Previous].map(Action::Install);
    assert_eq!(harness.state().actions, wanted);
}

fn both_ways_side_by_side() {
    let desk = Desk::new();
    let rows = both_ways(&desk.done.installation);
    // From the plan: the runs square to each other, the walls read at 88.9 degrees.
    assert_eq!(rows[0], ["runs at", "90°", "88.9°"].map(str::to_owned));
    let harness = desk.harness();
    for cell in rows.iter().flatten() {
        assert!(harness.query_all_by_label(cell).next().is_some(), "`{cell}` is not on the panel");
    }
}

fn the_finishing_schedule() {
    let desk = Desk::new();
    let order = desk.done.installation.order.clone();
    let finished: Vec<_> = order.iter().enumerate().filter(|(_, step)| !step.areas.is_empty()).collect();
    assert!(finished.len() >= 4, "it is painted in several steps");
    let lines: Vec<String> =
        step_lines(&desk.done.installation, finished[0].1).into_iter().map(|(_, line)| line).collect();
    let areas: Vec<&String> = lines.iter().filter(|line| line.contains("m²")).collect();
    assert!(!areas.is_empty());
    let mut harness = desk.harness();
    harness.get_by_label("Finishing schedule").click();
    harness.run();
    for line in areas {
        assert!(harness.query_all_by_label(line).next().is_some(), "`{line}` is not in the schedule");
    }
    let (k, step) = finished[1];
    harness.get_by_label(&format!("Go to step {}, {}", k + 1, step.title)).click();
    harness.run();
    assert_eq!(harness.state().actions, [Action::Install(Ask::Step(k))]);
}

fn each_piece_is_told() {
    let desk = Desk::new();
    let installation = &desk.done.installation;
    let pieces: Vec<(String, String, bool)> = installation
        .turning_in
        .iter()
        .map(|turned| (turned.name.clone(), turned_line(turned, &installation.model), turned.way.is_some()))
        .collect();
    assert!(pieces.len() > 4);
    let mut harness = desk.harness();
    let mut asked = Vec::new();
    for (k, (name, line, way)) in pieces.iter().enumerate() {
        assert!(harness.query_all_by_label_contains(line).next().is_some(), "`{line}` is not on the panel");
        let label = format!("Show how {name} goes in");
        if *way {
            harness.get_by_label(&label).click();
            harness.run();
            asked.push(Action::Install(Ask::Show(k)));
        }
    }
    assert!(!asked.is_empty());
    assert_eq!(harness.state().actions, asked);
}

fn the_cautions_stand_below() {
    let desk = Desk::new();
    let cautions = caution_lines(&desk.done.installation);
    let harness = desk.harness();
    for caution in cautions {
        harness.get_by_label(&caution);
    }
}

/// The window on the old house with the section open, everything worked out at once.
fn opened() -> App {
    let mut app = headless(
        Source { path: None, name: "old-house.ron".to_owned(), text: TEXT.to_owned(), plan: plan() },
        (1280, 800),
    );
    app.world_mut().resource_mut::<Poses>().at_once = true;
    updates(&mut app, 4);
    ask(&mut app, Action::Turn(Section::Install));
    updates(&mut app, 2);
    assert!(app.world().resource::<Installed>().done().is_some(), "it is worked out at once");
    app
}

fn done(app: &App) -> &Done {
    app.world().resource::<Installed>().done().expect("the section is open")
}

fn installing(app: &App) -> &Installing {
    app.world().resource::<Installing>()
}

/// The parts that are drawn.
fn drawn(app: &mut App) -> std::collections::BTreeSet<PartId> {
    let mut bodies = app.world_mut().query::<(&Body, &Visibility)>();
    bodies.iter(app.world()).filter(|(_, seen)| **seen != Visibility::Hidden).map(|(body, _)| body.part).collect()
}

fn stepping_hides_parts() {
    let mut app = opened();
    let order = done(&app).installation.order.clone();
    let cabinets: Vec<PartId> = order.iter().flat_map(|step| step.parts.iter().copied()).collect();
    assert!(cabinets.len() > 40);
    let take_off = number(done(&app), StepId::TakeOff);
    let mut before = 0;
    for (k, step) in order.iter().enumerate().take(take_off + 1) {
        ask(&mut app, Action::Install(Ask::Step(k)));
        updates(&mut app, 1);
        let drawn = drawn(&mut app);
        let come: Vec<PartId> = order[..=k].iter().flat_map(|step| step.parts.iter().copied()).collect();
        for part in &cabinets {
            let name = &shown(&app).model().part(*part).name;
            assert_eq!(drawn.contains(part), come.contains(part), "step {} ({}): {name}", k + 1, step.title);
        }
        assert!(come.len() >= before);
        before = come.len();
        // The room is always there.
        for part in shown(&app).model().parts.iter().filter(|part| matches!(part.role, Role::Wall | Role::Floor)) {
            assert!(drawn.contains(&part.id));
        }
        for part in &shown(&app).model().parts {
            let is_new = step.parts.contains(&part.id) || (k == take_off && part.mover.is_some());
            assert_eq!(done(&app).comes(part, k), is_new, "{}", part.name);
        }
    }
    assert!(before > 40);
    ask(&mut app, Action::Install(Ask::Step(order.len() - 1)));
    updates(&mut app, 1);
    let drawn = drawn(&mut app);
    assert!(cabinets.iter().all(|part| drawn.contains(part)), "in the end all of it stands");
}

fn fronts_are_off_for_paint() {
    let mut app = opened();
    for (step, there) in [(StepId::TakeOff, true), (StepId::FirstCoat, false), (StepId::PutBack, true)] {
        let at = number(done(&app), step);
        ask(&mut app, Action::Install(Ask::Step(at)));
        updates(&mut app, 1);
        let drawn = drawn(&mut app);
        let model = shown(&app).model();
        assert!(model.movers.iter().flat_map(|mover| &mover.parts).all(|part| drawn.contains(part) == there), "{step}");
        assert!(model.parts.iter().filter(|p| p.role == Role::CarcassSide).all(|part| drawn.contains(&part.id)));
    }
}

fn another_section_shows_all() {
    let mut app = opened();
    ask(&mut app, Action::Install(Ask::Step(0)));
    updates(&mut app, 1);
    assert!(drawn(&mut app).len() < shown(&app).model().parts.len());
    ask(&mut app, Action::Turn(Section::Corner));
    updates(&mut app, 2);
    assert_eq!(drawn(&mut app).len(), shown(&app).model().parts.len());
    assert!(app.world().resource::<DrawnRoom>().parts.is_empty());
}

/// The corners of a wall as it is drawn: those of its mesh, in mm, told apart by where they stand along the run.
fn wall_face(app: &mut App, side: Side) -> Vec<RoomVec3> {
    let name = format!("{} wall", side.word());
    let mut bodies = app.world_mut().query::<(&Name, &Home, &Mesh3d)>();
    let (home, mesh) = bodies
        .iter(app.world())
        .find(|(own, ..)| own.as_str() == name)
        .map(|(_, home, mesh)| (home.0, mesh.0.clone()))
        .expect("the wall is drawn");
    let mesh = app.world().resource::<Assets<Mesh>>().get(&mesh).expect("it has a mesh");
    let at = mesh.attribute(Mesh::ATTRIBUTE_POSITION).and_then(|at| at.as_float3()).expect("it has corners");
    at.iter().map(|&at| frame::to_room(Vec3::from_array(at) + home)).collect()
}

fn the_slider_moves_walls() {
    let mut app = opened();
    let model = done(&app).installation.model.clone();
    // Drawn once as far, the wall's corners are those of the measured room.
    ask(&mut app, Action::Install(Ask::Exaggerate(1.0)));
    updates(&mut app, 2);
    for side in Side::BOTH {
        let wall = model.parts.iter().find(|part| part.role == Role::Wall && part.run == Some(side)).expect("a wall");
        let corners: Vec<RoomVec3> = wall.pieces.iter().flat_map(Convex::vertices).collect();
        for drawn in wall_face(&mut app, side) {
            let off = corners.iter().map(|corner| (*corner - drawn).length()).fold(f64::INFINITY, f64::min);
            assert!(off < 2.0, "a corner of the {} wall is drawn {off} mm from where it is", side.word());
        }
    }
    let once = wall_face(&mut app, Side::Left);
    ask(&mut app, Action::Install(Ask::Exaggerate(10.0)));
    updates(&mut app, 2);
    let ten = wall_face(&mut app, Side::Left);
    let run = model.run(Side::Left);
    let deepest = |points: &[RoomVec3]| points.iter().map(|p| -p.dot(run.out)).fold(f64::NEG_INFINITY, f64::max);
    assert!(deepest(&ten) > deepest(&once) + 50.0, "{} and {}", deepest(&once), deepest(&ten));
    // More than there is is not offered.
    ask(&mut app, Action::Install(Ask::Exaggerate(1e9)));
    assert!((installing(&app).times - 20.0).abs() < 1e-12);
}

fn no_number_follows_the_slider() {
    let mut app = opened();
    let before = done(&app).installation.clone();
    ask(&mut app, Action::Install(Ask::Exaggerate(20.0)));
    updates(&mut app, 2);
    assert_eq!(done(&app).installation, before);
    // Nor does anything that stands on the floor: only the room is drawn elsewhere.
    let model = shown(&app).model();
    let room = app.world().resource::<DrawnRoom>();
    for part in model.parts.iter().filter(|part| part.unit.is_some()) {
        assert_eq!(room.instead_of(part), part);
    }
}

fn a_piece_goes_in() {
    let mut app = opened();
    let pieces = done(&app).installation.turning_in.clone();
    let (k, turned) = pieces
        .iter()
        .enumerate()
        .max_by_key(|(_, turned)| (turned.entry == Entry::Turned, turned.way.as_ref().map_or(0, |way| way.poses.len())))
        .expect("something goes in");
    let way = turned.way.clone().expect("its way is known");
    assert!(way.poses.len() > 1);
    ask(&mut app, Action::Install(Ask::Show(k)));
    // At once: the first update brings it to its place.
    updates(&mut app, 3);
    let showing = installing(&app).showing.expect("it is shown");
    assert!((showing.at - 1.0).abs() < 1e-12 && !showing.runs);
    let drawn = drawn(&mut app);
    for part in &shown(&app).model().parts {
        let room = matches!(
            part.role,
            Role::Wall | Role::EndWall | Role::Baseboard | Role::Casing | Role::Obstacle | Role::Floor
        );
        let there = room || turned.parts.contains(&part.id) || turned.among.contains(&part.id);
        assert_eq!(drawn.contains(&part.id), there, "{}", part.name);
    }
    for at in [0.0, 0.3, 0.5, 1.0] {
        ask(&mut app, Action::Install(Ask::Scrub(at)));
        updates(&mut app, 2);
        let pose = way.at(at).expect("a pose");
        let mut bodies = app.world_mut().query::<(&Body, &Home, &GlobalTransform)>();
        let mut checked = 0;
        for (body, home, place) in bodies.iter(app.world()).filter(|(body, ..)| turned.parts.contains(&body.part)) {
            let part = shown(&app).model().part(body.part);
            for corner in part.pieces.iter().flat_map(Convex::vertices) {
                let drawn = place.transform_point(frame::to_bevy(corner) - home.0);
                let wanted = frame::to_bevy(pose.carry(corner));
                assert!(drawn.distance(wanted) < 1e-4, "{} at {at}: {drawn} is not {wanted}", part.name);
                checked += 1;
            }
        }
        assert!(checked >= 8);
    }
    ask(&mut app, Action::Leave);
    updates(&mut app, 2);
    assert!(installing(&app).showing.is_none());
    let mut bodies = app.world_mut().query::<(&Home, &Transform)>();
    assert!(bodies.iter(app.world()).all(|(home, at)| *at == Transform::from_translation(home.0)));
}

fn press(app: &mut App, key: KeyCode) {
    app.world_mut().resource_mut::<ButtonInput<KeyCode>>().press(key);
    app.world_mut().run_schedule(Update);
    app.world_mut().resource_mut::<ButtonInput<KeyCode>>().reset_all();
}

fn the_keys() {
    let mut app = opened();
    press(&mut app, KeyCode::KeyN);
    press(&mut app, KeyCode::KeyN);
    press(&mut app, KeyCode::KeyB);
    assert_eq!(installing(&app).step(), 1);
    let last = done(&app).installation.order.len() - 1;
    ask(&mut app, Action::Install(Ask::Step(last)));
    press(&mut app, KeyCode::KeyN);
    assert_eq!(installing(&app).step(), last, "after the last step comes none");
    // With another section open they do nothing.
    ask(&mut app, Action::Turn(Section::Corner));
    press(&mut app, KeyCode::KeyB);
    assert_eq!(installing(&app).step(), last);
}

fn the_step_stays() {
    let mut app = opened();
    let at = number(done(&app), StepId::Fix(Side::Right));
    ask(&mut app, Action::Install(Ask::Step(at)));
    let width = elbowroom::length::Length::mm(180.0);
    ask(&mut app, Action::SetFiller(Side::Left, width));
    updates(&mut app, 2);
    assert_eq!(done(&app).installation.setting.fillers.left, width);
    assert_eq!(installing(&app).step(), number(done(&app), StepId::Fix(Side::Right)));
}

fn worked_out_once() {
    let mut app = headless(
        Source { path: None, name: "old-house.ron".to_owned(), text: TEXT.to_owned(), plan: plan() },
        (1280, 800),
    );
    updates(&mut app, 4);
    assert!(app.world().resource::<Installed>().done().is_none(), "nobody has asked");
    ask(&mut app, Action::Turn(Section::Install));
    assert!(app.world().resource::<Installed>().done().is_none(), "the window goes on meanwhile");
    let begun = std::time::Instant::now();
    while app.world().resource::<Installed>().done().is_none() {
        assert!(begun.elapsed().as_secs() < 120, "it is not worked out");
        std::thread::sleep(std::time::Duration::from_millis(5));
        app.update();
    }
    // It is not worked out again by a step, another section, or a finding.
    let first = std::ptr::from_ref(done(&app).installation.model.parts.first().expect("a part"));
    for action in [Action::Install(Ask::Next), Action::Turn(Section::View), Action::Turn(Section::Install)] {
        ask(&mut app, action);
        updates(&mut app, 3);
    }
    assert_eq!(std::ptr::from_ref(done(&app).installation.model.parts.first().expect("a part")), first);
}
