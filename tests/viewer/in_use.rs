//! Room for people, wood and load on the panel; and what opens opposite a run, by hand.

use bevy_egui::egui;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use elbowroom::clearance::{self, Answer};
use elbowroom::model::{Model, Mover};
use elbowroom::people::People;
use elbowroom::plan::{self, Plan};
use elbowroom::report::{self, Mark};
use elbowroom::viewer::motion::{Poses, Wish};
use elbowroom::viewer::panel::{InUseView, View, panel_ui};
use elbowroom::viewer::settings::{Section, Settings};
use elbowroom::viewer::shown::Shown;
use elbowroom::wood::Reading;

pub(crate) const TESTS: &[(&str, fn())] = &[
    ("in use: people, wood and load are told as the command line tells them", all_is_told),
    ("in use: a gap that closes in damp air is told beside the verdict too", a_worry_is_told_at_the_corner),
    ("in use: what opens opposite shuts what meets it on the run, and is shut by it", opposite_and_run_take_turns),
];

type Lines = Vec<(Mark, String)>;

struct Desk {
    plan: Plan,
    answer: Answer,
    people: Lines,
    wood: Lines,
    worries: Lines,
}

/// Cherry fronts between frames, flat-sawn, so that some bind.
fn desk() -> Desk {
    let text = include_str!("../../assets/plans/print-room.ron").replace("sawn: Quartered", "sawn: Flat");
    let plan = plan::read("print-room.ron", &text).expect("the example plan is good");
    let answer = clearance::answer(&plan);
    let reading = Reading::of(&plan, &answer.model);
    let people = report::people_text(&answer.model, &People::of(&plan, &answer.model));
    let wood = report::wood_text(&plan, &answer.model, &reading);
    let worries = report::worry_lines(&answer.model, &reading);
    assert!(worries.len() > 1, "the example has something to tell");
    Desk { plan, answer, people, wood, worries }
}

fn harness(section: Section) -> Harness<'static, Desk> {
    let settings = Settings { section, ..Settings::default() };
    let mut harness = Harness::builder().with_size(egui::vec2(400.0, 9_000.0)).build_ui_state(
        move |root, desk: &mut Desk| {
            let told = InUseView { people: &desk.people, wood: &desk.wood };
            let view = View {
                worries: &desk.worries,
                in_use: (section == Section::InUse).then_some(told),
                ..View::at_rest(&desk.plan, &desk.answer, &settings)
            };
            panel_ui(root, &view, &mut Vec::new());
        },
        desk(),
    );
    harness.run_steps(4);
    harness
}

/// As the panel has a line: begun with a capital, and with a sign for what is wrong.
fn on_panel(sign: &str, (mark, line): &(Mark, String)) -> String {
    let words = line.trim_start().trim_start_matches("! ");
    let mut letters = words.chars();
    let words: String = letters.next().into_iter().flat_map(char::to_uppercase).chain(letters).collect();
    if *mark == Mark::Bad { format!("{sign} {words}") } else { words }
}

fn all_is_told() {
    let harness = harness(Section::InUse);
    let desk = harness.state();
    let beside = desk.people.iter().chain(&desk.wood).map(|line| ("⚠", line));
    for (sign, line) in desk.worries.iter().map(|line| ("✖", line)).chain(beside) {
        let words = on_panel(sign, line);
        assert!(harness.query_all_by_label(&words).next().is_some(), "{words}");
    }
}

fn a_worry_is_told_at_the_corner() {
    let harness = harness(Section::Corner);
    for line in &harness.state().worries {
        harness.get_by_label(&on_panel("✖", line));
    }
    assert!(harness.query_by_label("Room for people").is_none(), "the rest has a section of its own");
}

fn opposite_and_run_take_turns() {
    let text = include_str!("../../assets/plans/wash-up.ron");
    let shown = Shown::new(plan::read("wash-up.ron", text).expect("the example plan is good"));
    let model = shown.model();
    let [first, second] = meeting(model);
    let mut poses = Poses::default();
    for (now, other) in [(first, second), (second, first), (first, second)] {
        poses.toggle(&shown, now.id);
        assert_eq!((poses.wish(now), poses.wish(other)), (Wish::Open, Wish::Shut), "{}", now.name);
    }
    // It comes all the way out of its own cabinet while the run is shut.
    let shut = vec![0.0; model.movers.len()];
    for mover in [first, second] {
        let full = mover.motion.extent();
        let free = clearance::free_travel(model, &shut, mover.id, 0.0, full);
        assert!(free.meets.is_none() && (free.out - full).abs() < 1e-9, "{}", mover.name);
    }
}

/// A drawer of the run and one opposite it that meet when both are open.
fn meeting(model: &Model) -> [&Mover; 2] {
    let maps = clearance::map::maps(model);
    let both = maps.iter().map(|map| map.movers.map(|id| model.mover(id)));
    let mut opposite = both.filter(|pair| pair.iter().any(|mover| mover.belongs_to.is_some()));
    opposite.next().expect("the table's drawers meet those of the run")
}
