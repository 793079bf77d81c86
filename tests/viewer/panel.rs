//! What the panel says and does, found by what a person reads.

use bevy_egui::egui;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use elbowroom::clearance;
use elbowroom::length::Length;
use elbowroom::plan::{Plan, Side};
use elbowroom::report;
use elbowroom::viewer::action::Action;
use elbowroom::viewer::panel::{View, controls_ui, panel_ui};
use elbowroom::viewer::settings::Settings;

use crate::plans;

pub(crate) const TESTS: &[(&str, fn())] = &[
    ("panel: the verdict is on it", the_verdict_is_on_it),
    ("panel: a clear plan says so in words", a_clear_plan_says_so),
    ("panel: the button for the least asks for the least", the_least),
    ("panel: a width typed as a fraction is taken", a_fraction_is_taken),
    ("panel: a width that is none is explained", a_bad_width_is_explained),
    ("panel: a click on a finding points it out", a_finding_is_pointed_out),
    ("panel: a file's problems are listed", problems_are_listed),
    ("panel: a plan in inches that nobody touches asks for nothing", nothing_is_asked_for),
    ("panel: the film has buttons", the_film_has_buttons),
];

struct Desk {
    plan: Plan,
    answer: clearance::Answer,
    problems: Vec<String>,
    actions: Vec<Action>,
}

impl Desk {
    fn new(plan: Plan) -> Self {
        let answer = clearance::answer(&plan);
        Self { plan, answer, problems: Vec::new(), actions: Vec::new() }
    }

    fn harness<'a>(self, ui: fn(&mut egui::Ui, &View<'_>, &mut Vec<Action>)) -> Harness<'a, Self> {
        let mut harness = Harness::builder().with_size(egui::vec2(400.0, 2400.0)).build_ui_state(
            move |root, desk: &mut Self| {
                let open = vec![false; desk.answer.model.movers.len()];
                let settings = Settings::default();
                let rest = View::at_rest(&desk.plan, &desk.answer, &settings);
                let view = View { origin: "corner.ron", problems: &desk.problems, open: &open, ..rest };
                ui(root, &view, &mut desk.actions);
            },
            self,
        );
        harness.run();
        harness
    }
}

fn the_verdict_is_on_it() {
    let desk = Desk::new(plans::too_narrow());
    assert!(!desk.answer.is_clear());
    let verdict = report::verdict(&desk.answer);
    let harness = desk.harness(panel_ui);
    harness.get_by_label(&verdict);
    // The usual cautions stand where the widths are read.
    for caution in report::cautions() {
        harness.get_by_label(caution);
    }
}

fn a_clear_plan_says_so() {
    let desk = Desk::new(plans::wide());
    assert!(desk.answer.is_clear(), "{:?}", desk.answer.findings);
    let verdict = report::verdict(&desk.answer);
    let harness = desk.harness(panel_ui);
    harness.get_by_label(&verdict);
    assert!(harness.query_by_label_contains("Findings").is_none());
}

fn the_least() {
    let mut harness = Desk::new(plans::too_narrow()).harness(panel_ui);
    harness.get_by_label("Set to least, left").click();
    harness.run();
    assert_eq!(harness.state().actions, [Action::SetToLeast(Side::Left)]);
}

fn type_width(text: &str) -> Harness<'static, Desk> {
    let mut harness = Desk::new(plans::wide()).harness(panel_ui);
    let field = harness.get_by_role_and_label(egui::accesskit::Role::TextInput, "Left filler");
    field.focus();
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.get_by_role_and_label(egui::accesskit::Role::TextInput, "Left filler").type_text(text);
    harness.run();
    harness.key_press(egui::Key::Enter);
    harness.run();
    harness
}

fn a_fraction_is_taken() {
    let harness = type_width("2-3/8 in");
    assert_eq!(harness.state().actions, [Action::SetFiller(Side::Left, Length::inches(2.375))]);
}

fn a_bad_width_is_explained() {
    let harness = type_width("wide");
    assert!(harness.state().actions.is_empty());
    harness.get_by_label_contains("`wide` is not a length");
}

fn a_finding_is_pointed_out() {
    let desk = Desk::new(plans::too_narrow());
    let line = report::finding_line(&desk.answer, &desk.answer.findings[0]);
    let mut harness = desk.harness(panel_ui);
    let button = |node: &egui_kittest::Node<'_>| {
        egui_kittest::kittest::NodeT::accesskit_node(node).role() == egui::accesskit::Role::Button
    };
    harness.get_all_by_label_contains(&line).find(button).expect("the finding is a button").click();
    harness.run();
    assert_eq!(harness.state().actions, [Action::PointOut(0)]);
}

fn problems_are_listed() {
    let mut desk = Desk::new(plans::wide());
    desk.problems = vec!["corner.ron:4:9: front height `0` must be more than 0 (write 140)".to_owned()];
    let harness = desk.harness(panel_ui);
    harness.get_by_label_contains("still the plan before it");
    harness.get_by_label_contains("front height `0`");
}

fn the_film_has_buttons() {
    let mut harness = Desk::new(plans::wide()).harness(controls_ui);
    harness.get_by_label("▶ Play").click();
    harness.run();
    assert_eq!(harness.state().actions, [Action::PlayPause]);
}

// The slider brought 1.4999… in to a whole step in every frame, and the plan was never saved.
fn nothing_is_asked_for() {
    let text = include_str!("../../assets/plans/tack-room.ron");
    let plan = elbowroom::plan::read("tack-room.ron", text).expect("the example plan is good");
    let mut harness = Desk::new(plan).harness(panel_ui);
    harness.run_steps(5);
    assert_eq!(harness.state().actions, []);
}
