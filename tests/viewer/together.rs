//! What can be open together and how sure it is, on the panel: found by what a person reads, and told as the command line
//! tells it.

use std::time::{Duration, Instant};

use bevy::prelude::*;
use bevy_egui::egui;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use elbowroom::certainty::Sampling;
use elbowroom::clearance::{self, FillerMap};
use elbowroom::length::Length;
use elbowroom::model::Fillers;
use elbowroom::plan::{Filler, Plan, Side};
use elbowroom::progress::patient;
use elbowroom::report::{self, Mark};
use elbowroom::viewer::action::Action;
use elbowroom::viewer::desk::Desk as PlanDesk;
use elbowroom::viewer::panel::{SureView, TogetherView, View, panel_ui};
use elbowroom::viewer::settings::{Section, Settings};
use elbowroom::viewer::sure::{Certain, NarrowerTold, SamplesTold};
use elbowroom::viewer::together::{BothFillers, Pairs, Together};

use crate::hands::{app, ask, out, shown, updates};
use crate::plans;

pub(crate) const TESTS: &[(&str, fn())] = &[
    ("together: every two that meet are listed, and what they leave each other", every_pair_is_listed),
    ("together: a drag of the point asks both to stand where it is", the_point_is_dragged),
    ("together: the point says whether it is clear, and arrow keys move it", the_point_says),
    ("together: a pick of both fillers asks for them", a_pick_is_taken),
    ("together: two asked to stand so far open do, whatever is in the way", both_stand),
    ("together: both fillers are one step, and a drag of them too", both_fillers_are_one_step),
    ("together: maps are worked out beside the window, those of both fillers once", maps_come),
    ("sure: samples are told with widths, chances and what they come from", samples_are_told),
    ("sure: drawing samples can be stopped", drawing_can_be_stopped),
    ("sure: a change that saves filler is made in the plan, and taken back", a_change_is_tried),
];

struct Desk {
    plan: Plan,
    answer: clearance::Answer,
    outs: Vec<f64>,
    pairs: Pairs,
    fillers: Option<BothFillers>,
    samples: Option<SamplesTold>,
    drawing: Option<f32>,
    actions: Vec<Action>,
}

impl Desk {
    fn new(plan: Plan) -> Self {
        let answer = clearance::answer(&plan);
        let outs = vec![0.0; answer.model.movers.len()];
        let pairs = Pairs::of(&answer.model);
        Self { plan, answer, outs, pairs, fillers: None, samples: None, drawing: None, actions: Vec::new() }
    }

    fn harness(self, section: Section) -> Harness<'static, Self> {
        let settings = Settings { section, ..Settings::default() };
        let mut harness = Harness::builder().with_size(egui::vec2(400.0, 3_000.0)).build_ui_state(
            move |root, desk: &mut Self| {
                let fillers = desk.fillers.as_ref().map(|fillers| (fillers, true));
                let together = TogetherView { pairs: Some((&desk.pairs, true)), chosen: 0, fillers };
                let sure = SureView {
                    worst: None,
                    samples: desk.samples.as_ref().map(|samples| (samples, true)),
                    drawing: desk.drawing,
                    narrower: None,
                    trying: None,
                };
                let view = View {
                    outs: &desk.outs,
                    together: Some(together),
                    sure: Some(sure),
                    ..View::at_rest(&desk.plan, &desk.answer, &settings)
                };
                panel_ui(root, &view, &mut desk.actions);
            },
            self,
        );
        // Spinners and bars that run never let it rest.
        harness.run_steps(4);
        harness
    }
}

/// The plane whose name its label begins with: where it is, and what it says.
fn plane(harness: &Harness<'_, Desk>, name: &str) -> (egui::Rect, String) {
    let label = format!("{name}: ");
    let node = harness.get_by_label_contains(&label);
    (node.rect(), node.accesskit_node().value().unwrap_or_default())
}

fn every_pair_is_listed() {
    let desk = Desk::new(plans::tight());
    let found = clearance::map::maps(&desk.answer.model);
    assert!(found.len() > 6, "the example has many pairs");
    let names: Vec<String> =
        found.iter().map(|map| map.movers.map(|id| desk.answer.model.mover(id).name.clone()).join(" and ")).collect();
    let lines = report::map_lines(&desk.answer.model, &found[0]);
    let mut harness = desk.harness(Section::Together);
    for line in &lines {
        harness.get_by_label(line);
    }
    harness.get_by_label_contains("Show all").click();
    harness.run_steps(3);
    for name in &names {
        harness.get_by_role_and_label(egui::accesskit::Role::RadioButton, name);
    }
    harness.get_by_label(&names[2]).click();
    harness.run_steps(3);
    assert_eq!(harness.state().actions, [Action::LookAtPair(2)]);
}

fn the_point_is_dragged() {
    let mut harness = Desk::new(plans::tight()).harness(Section::Together);
    let (place, _) = plane(&harness, "two open");
    let [first, second] = harness.state().pairs.list[0].map.movers;
    let extents = harness.state().pairs.list[0].map.extents;
    harness.drag_at(place.center());
    harness.run_steps(2);
    harness.hover_at(place.center() + egui::vec2(20.0, 0.0));
    harness.run_steps(2);
    harness.drop_at(place.center() + egui::vec2(20.0, 0.0));
    harness.run_steps(2);
    let actions = &harness.state().actions;
    let stands: Vec<&Vec<_>> =
        actions.iter().filter_map(|action| if let Action::Stand(outs) = action { Some(outs) } else { None }).collect();
    assert_eq!(stands.len(), actions.len(), "nothing else was asked for: {actions:?}");
    let (at_first, at_last) = (stands[0], stands[stands.len() - 1]);
    assert_eq!(at_first.iter().map(|(mover, _)| *mover).collect::<Vec<_>>(), [first, second]);
    // The middle of the plane is half of each way.
    for (k, (_, out)) in at_first.iter().enumerate() {
        assert!((out / extents[k] - 0.5).abs() < 0.01, "{at_first:?} of {extents:?}");
    }
    // Twenty points to the right, as the plane is drawn: its width is the way and a little around it.
    let moved = (at_last[0].1 - at_first[0].1) / extents[0] * f64::from(place.width()) / 1.07;
    assert!((moved - 20.0).abs() < 0.5 && (at_last[1].1 - at_first[1].1).abs() < 1e-3, "{at_first:?} {at_last:?}");
}

fn the_point_says() {
    let desk = Desk::new(plans::tight());
    let map = desk.pairs.list[0].map.clone();
    let half = map.extents.map(|extent| extent / 2.0);
    assert!(map.conflict_at(0.0, 0.0).is_none() && map.conflict_at(half[0], half[1]).is_some());
    let mut harness = desk.harness(Section::Together);
    assert!(plane(&harness, "two open").1.starts_with("Clear: "));
    harness.get_by_label_contains("two open: ").focus();
    harness.run_steps(2);
    harness.key_press(egui::Key::ArrowUp);
    harness.run_steps(2);
    let [first, second] = map.movers;
    assert_eq!(harness.state().actions, [Action::Stand(vec![(first, 0.0), (second, map.extents[1] * 0.02)])]);
    let state = harness.state_mut();
    (state.outs[first.0], state.outs[second.0]) = (half[0], half[1]);
    harness.run_steps(2);
    let (mark, words) = report::map_point_line(&harness.state().answer.model, &map, half);
    assert_eq!(mark, Mark::Bad);
    assert_eq!(plane(&harness, "two open").1, words);
    harness.get_by_label(&format!("✖ {words}"));
}

fn a_pick_is_taken() {
    let mut desk = Desk::new(plans::tight());
    let map = FillerMap::of(&desk.plan);
    desk.fillers = Some(BothFillers::of(&desk.plan));
    let (least, alike) = (map.least_sum.expect("there is one"), map.equal.expect("there is one"));
    let mut harness = desk.harness(Section::Together);
    assert!(plane(&harness, "both fillers").1.starts_with("In conflict: left 40 mm"));
    harness.get_by_label("Take least sum").click();
    harness.run_steps(2);
    harness.get_by_label("Take both alike").click();
    harness.run_steps(2);
    assert_eq!(harness.state().actions, [Action::SetFillers(least.fillers), Action::SetFillers(alike.fillers)]);
    // A click sets both, on the shop step.
    let (place, _) = plane(&harness, "both fillers");
    harness.state_mut().actions.clear();
    harness.drag_at(place.center());
    harness.run_steps(1);
    harness.drop_at(place.center());
    harness.run_steps(2);
    let half = Length::mm((harness.state().fillers.as_ref().expect("given").near_to / 2.0).round());
    assert_eq!(harness.state().actions.first(), Some(&Action::SetFillers(Fillers { left: half, right: half })));
}

fn both_stand() {
    let mut app = app(plans::tight());
    let [first, second] = clearance::map::maps(shown(&app).model())[0].movers;
    // Through each other, if need be.
    ask(&mut app, Action::Stand(vec![(first, 300.0), (second, 350.0)]));
    assert!((out(&app, first) - 300.0).abs() < 1e-9 && (out(&app, second) - 350.0).abs() < 1e-9);
    updates(&mut app, 60);
    assert!((out(&app, first) - 300.0).abs() < 1e-9, "and they stay so");
    // No further than they go.
    ask(&mut app, Action::Stand(vec![(first, 1e6), (second, -3.0)]));
    let full = shown(&app).model().mover(first).motion.extent();
    assert!((out(&app, first) - full).abs() < 1e-9 && out(&app, second).abs() < 1e-9);
}

fn both_fillers_are_one_step() {
    let mut app = app(plans::tight());
    let before = shown(&app).answer().fillers();
    for mm in [70.0, 80.0, 90.0] {
        let width = Length::mm(mm);
        // The button of the mouse is held meanwhile.
        app.world_mut().resource_mut::<ButtonInput<MouseButton>>().press(MouseButton::Left);
        ask(&mut app, Action::SetFillers(Fillers { left: width, right: width + Length::mm(1.0) }));
    }
    let now = shown(&app).answer().fillers();
    assert_eq!((now.left, now.right), (Length::mm(90.0), Length::mm(91.0)));
    ask(&mut app, Action::Undo);
    assert_eq!(shown(&app).answer().fillers(), before);
}

/// Goes on until `done`, with a limit.
fn wait(app: &mut App, done: impl Fn(&App) -> bool) {
    let begun = Instant::now();
    while !done(app) {
        assert!(begun.elapsed().as_secs() < 120, "it takes too long");
        std::thread::sleep(Duration::from_millis(5));
        app.update();
    }
}

fn maps_come() {
    let mut app = app(plans::tight());
    assert!(app.world().resource::<Together>().pairs(shown(&app).plan()).is_none());
    ask(&mut app, Action::Turn(Section::Together));
    let both = |app: &App| {
        let (plan, together) = (shown(app).plan(), app.world().resource::<Together>());
        let [pairs, fillers] =
            [together.pairs(plan).map(|(_, is_now)| is_now), together.fillers(plan).map(|(_, is_now)| is_now)];
        (pairs, fillers)
    };
    wait(&mut app, |app| both(app) == (Some(true), Some(true)));
    let pairs = app.world().resource::<Together>().pairs(shown(&app).plan()).expect("waited for").0.list.clone();
    let maps: Vec<_> = pairs.iter().map(|pair| pair.map.clone()).collect();
    assert_eq!(maps, clearance::map::maps(shown(&app).model()), "it is what the command line finds");
    ask(&mut app, Action::LookAtPair(2));
    assert_eq!(app.world().resource::<Together>().chosen(), 2);
    // Other fillers: other maps of two, told as old until they come; those of both fillers are the same.
    let width = Length::mm(45.0);
    ask(&mut app, Action::SetFillers(Fillers { left: width, right: width }));
    assert_eq!(both(&app), (Some(false), Some(true)));
    wait(&mut app, |app| both(app).0 == Some(true));
    assert_eq!(app.world().resource::<Together>().chosen(), 2, "the same two are looked at");
    updates(&mut app, 3);
    assert_eq!(both(&app), (Some(true), Some(true)));
}

fn samples_are_told() {
    let mut desk = Desk::new(plans::tight());
    let sampling = Sampling { samples: 1_000, ..Sampling::default() };
    let told = SamplesTold::of(&desk.plan, &desk.answer, sampling, &patient).expect("nobody stops it");
    assert!(told.chances[0].contains('%') && told.sides.iter().all(|side| side.wanted.len() == 3));
    desk.samples = Some(told.clone());
    let mut harness = desk.harness(Section::Sure);
    let sign = if told.verdict.0 == Mark::Good { '✔' } else { '✖' };
    harness.get_by_label(&format!("{sign} {}", told.verdict.1));
    for side in &told.sides {
        let (share, what) = side.shares.first().expect("something varies");
        let words = format!("{}: {what}", report::certainty::percent(*share));
        harness.get_by_role_and_label(egui::accesskit::Role::ProgressIndicator, &words);
    }
    harness.get_by_label("Draw 100,000 again").click();
    harness.run_steps(2);
    assert_eq!(harness.state().actions, [Action::Sample(true)]);
    harness.state_mut().drawing = Some(0.3);
    harness.run_steps(2);
    harness.get_by_label("Stop drawing").click();
    harness.run_steps(2);
    assert_eq!(harness.state().actions, [Action::Sample(true), Action::Sample(false)]);
}

fn drawing_can_be_stopped() {
    let mut app = app(plans::tight());
    ask(&mut app, Action::Turn(Section::Sure));
    ask(&mut app, Action::Sample(true));
    assert!(app.world().resource::<Certain>().drawing().is_some());
    ask(&mut app, Action::Sample(false));
    updates(&mut app, 20);
    let certain = app.world().resource::<Certain>();
    assert!(certain.drawing().is_none() && certain.samples(shown(&app).plan()).is_none());
}

fn a_change_is_tried() {
    let mut app = app(plans::tight());
    ask(&mut app, Action::Turn(Section::Sure));
    wait(&mut app, |app| {
        let (plan, certain) = (shown(app).plan(), app.world().resource::<Certain>());
        certain.narrower(plan).is_some() && certain.worst(plan).is_some()
    });
    let plan = shown(&app).plan().clone();
    let told = app.world().resource::<Certain>().narrower(&plan).expect("waited for").0.clone();
    let text = app.world().resource::<PlanDesk>().text().to_owned();
    let again = NarrowerTold::of("corner.ron", &text, &plan, &patient).expect("nobody stops it");
    let lines = |told: &NarrowerTold| told.better.iter().map(|change| change.does.clone()).collect::<Vec<_>>();
    assert_eq!(lines(&told), lines(&again), "it is what the command line finds");
    let best = &told.better[0];
    assert!(best.saved > Length::ZERO);
    ask(&mut app, Action::TryChange(0));
    let now = shown(&app).plan();
    assert!(Side::BOTH.iter().all(|side| now.corner.filler(*side) == Filler::Fixed(best.fillers.of(*side))));
    // The check of the changed plan, with both fillers asked for, gives the same.
    let mut asked = now.clone();
    for side in Side::BOTH {
        asked.corner = asked.corner.with_filler(side, Filler::Least);
    }
    assert_eq!(clearance::least_fillers(&asked), best.fillers);
    ask(&mut app, Action::Undo);
    assert_eq!(*shown(&app).plan(), plan);
}
