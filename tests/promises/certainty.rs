//! How sure it is, and what would make it narrower: tolerances come from the plan, every alternative is a plan that says the
//! same when it is read, and a seed is an answer.

use assert_cmd::Command;
use elbowroom::certainty::alternatives::{Change, alternatives};
use elbowroom::certainty::{self, Sampling, storage_mm3};
use elbowroom::clearance;
use elbowroom::command::DEMO;
use elbowroom::length::Length;
use elbowroom::model::Fillers;
use elbowroom::plan::write::apply;
use elbowroom::plan::{self, Filler, Plan, Side, SpreadLaw};
use elbowroom::progress::patient;
use elbowroom::showing::space::CornerUnit;
use serde_json::Value;

use crate::editing::read;
use crate::plans::EXAMPLES;

/// Two banks of one drawer each, a knob on each; no edge strip, so that sums are short.
fn two_banks(more: &str) -> String {
    format!(
        r#"(
        name: "two banks", units: Millimetre,
        room: (left_wall: 3000, right_wall: 3000),
        construction: (depth: 500, height: 800, kick_height: 100),
        pulls: {{ "knob": Knob(across: 30, square: true, projection: 40), "bar": Bar(length: 160, projection: 30) }},
        slides: {{ "full": (length: 450, extension: Full) }},
        left: (units: [Drawers(width: 600, fronts: Equal(2), pull: "knob")], ends_at: Open),
        right: (units: [Drawers(width: 600, fronts: Equal(2), pull: "knob")], ends_at: Open),
        corner: (left: Fixed(100), right: Fixed(100), face: 20),
        clearance: (wanted: 12, shop_step: 1), {more}
    )"#
    )
}

fn least_of_both(plan: &Plan) -> Fillers {
    let mut plan = plan.clone();
    for side in Side::BOTH {
        plan.corner = plan.corner.with_filler(side, Filler::Least);
    }
    clearance::least_fillers(&plan)
}

#[test]
fn tolerances_are_the_plan_s_own() {
    let plan = read(&two_banks("tolerances: (run_angle: 0.5, pull_place: 2, spread: Uniform),"));
    assert!((plan.tolerances.run_angle_deg - 0.5).abs() < 1e-12);
    assert_eq!(plan.tolerances.pull_place, Length::mm(2.0));
    assert_eq!(plan.tolerances.spread, SpreadLaw::Uniform);
    // What is not said is usual.
    assert_eq!(plan.tolerances.filler_cut, read(&two_banks("")).tolerances.filler_cut);
}

#[test]
fn tolerances_that_are_none_are_refused_all_at_once() {
    let text = two_banks("tolerances: (run_angle: 3, unit_width: -1, filler_cut: 40, slide_yaw: -0.1, squarness: 1),");
    let problems = plan::read("plan.ron", &text).unwrap_err();
    let paths: Vec<&str> = problems.list().iter().map(|problem| problem.path.as_str()).collect();
    for field in ["run_angle", "unit_width", "filler_cut", "slide_yaw", "squarness"] {
        assert!(paths.contains(&format!("tolerances.{field}").as_str()), "{field}: {paths:?}");
    }
    let told = problems.lines().join("\n");
    assert!(told.contains("did you mean `squareness`?"), "{told}");
}

#[test]
fn without_tolerances_the_worst_case_is_what_the_check_tells() {
    let exact = "tolerances: (run_angle: 0, unit_width: 0, squareness: 0, slide_play: 0, slide_yaw: 0, \
                 pull_projection: 0, pull_place: 0, front_adjustment: 0, filler_cut: 0),";
    let plan = read(&two_banks(exact));
    let answer = clearance::answer(&plan);
    let worst = certainty::worst(&plan, &answer);
    for (side, told) in worst.wanted.iter().zip(&answer.sides) {
        assert!((side.enough - told.least.unwrap()).abs() < Length::mm(1e-3), "{side:?}");
        assert!((side.at_least - side.enough).abs() < Length::mm(1e-3), "{side:?}");
    }
    // Touching: the same less the clearance wanted, since a drawer front passes a knob's flat face.
    assert!((worst.apart[0].enough + Length::mm(12.0) - worst.wanted[0].enough).abs() < Length::mm(0.01));
}

#[test]
fn the_worst_case_is_never_narrower_than_what_is_planned() {
    for (_, text) in EXAMPLES {
        let plan = read(text);
        let answer = clearance::answer(&plan);
        let worst = certainty::worst(&plan, &answer);
        for (side, told) in worst.wanted.iter().zip(&answer.sides) {
            if let Some(planned) = told.least.filter(|_| side.decided_by.is_some()) {
                // What stands in the room is no part of it, and may ask for more.
                let past_a_run = told.decided_by.is_some_and(|by| answer.model.part(by.other).unit.is_some());
                assert!(!past_a_run || side.enough >= planned - Length::mm(0.02), "{}: {side:?}", plan.name);
                assert!(side.at_least <= side.enough);
            }
        }
    }
}

#[test]
fn every_alternative_says_the_same_when_its_plan_is_read() {
    for text in [DEMO.to_owned(), two_banks("")] {
        let plan = read(&text);
        let found = alternatives("plan.ron", &text, &plan, &patient).unwrap();
        assert_eq!(found.before, least_of_both(&plan));
        assert!(found.list.len() >= 8, "{}", found.list.len());
        for one in &found.list {
            let (_, changed) = apply("plan.ron", &text, &one.edit).unwrap();
            let fillers = least_of_both(&changed);
            assert_eq!(one.fillers, fillers, "{:?}", one.change);
            let saved = found.before.left + found.before.right - fillers.left - fillers.right;
            assert_eq!(one.saved, saved);
            assert!((one.storage_mm3 - (storage_mm3(&changed) - storage_mm3(&plan))).abs() < 1e-3);
        }
        assert!(found.list.is_sorted_by(|a, b| a.saved >= b.saved));
    }
}

// Knobs of 40 against bars of 30: each other pull saves 10 on the other run's filler.
#[test]
fn a_flatter_pull_saves_what_it_is_flatter_by() {
    let text = two_banks("");
    let found = alternatives("plan.ron", &text, &read(&text), &patient).unwrap();
    let bars =
        found.list.iter().find(|one| matches!(&one.change, Change::OtherPull(Side::Left, 0, pull) if pull == "bar"));
    assert_eq!(bars.unwrap().saved, Length::mm(10.0));
    assert!(bars.unwrap().storage_mm3.abs() < 1e-3);
    // Inset: neither bumper nor front stands out, but the edge of the panel and the gap come before the front: 21 less
    // each way, and the front begins 18 + 2.5 - 1.5 = 19 further off.
    let inset = found.list.iter().find(|one| one.change == Change::InsetFronts).unwrap();
    assert_eq!(inset.saved, Length::mm(2.0 * (21.0 + 19.0)));
}

#[test]
fn what_is_put_away_is_counted_as_far_as_it_comes_out() {
    // Side-mount slides 12.7 each side, panels 18, box stock 12: 600 - 36 - 25.4 - 24 = 514.6 wide, 450 - 24 deep.
    let plan = read(&two_banks(""));
    let plan::UnitKind::Drawers(drawers) = &plan.left.units[0].kind else { panic!("drawers") };
    let one = |drawer: &plan::Drawer| 514.6 * 426.0 * (drawer.box_height.to_mm() - 6.35 - 6.0);
    let all: f64 = drawers.iter().map(one).sum::<f64>() * 2.0;
    assert!((storage_mm3(&plan) / all - 1.0).abs() < 1e-9);
    let less = read(&two_banks("").replace("extension: Full", "extension: ThreeQuarter"));
    assert!((storage_mm3(&less) / all - 0.75).abs() < 1e-9);
}

// 500 deep and 300 past the corner: 800 x 800 less 300 x 300, 700 high; a diagonal front adds half of 300 x 300. Both
// push the first units away by 300 - 100 each.
#[test]
fn a_corner_unit_holds_what_its_floor_says() {
    let model = clearance::answer(&read(&two_banks(""))).model;
    let [folding, diagonal] = CornerUnit::both(&model).try_into().unwrap();
    assert!((folding.holds_mm3 - (640_000.0 - 90_000.0) * 700.0).abs() < 1.0, "{folding:?}");
    assert!((diagonal.holds_mm3 - folding.holds_mm3 - 45_000.0 * 700.0).abs() < 1.0);
    assert!((folding.takes_mm3 - 2.0 * 200.0 * 500.0 * 700.0).abs() < 1.0);
}

#[test]
fn samples_lie_between_the_least_and_the_worst() {
    let plan = read(&two_banks(""));
    let answer = clearance::answer(&plan);
    let (worst, sure) =
        certainty::sure(&plan, &answer, Sampling { samples: 3_000, seed: 2, threads: 2 }, &patient).unwrap();
    for (worst, sampled) in worst.wanted.iter().zip(&sure.sides) {
        for enough in &sampled.wanted {
            assert!(worst.at_least <= enough.width && enough.width <= worst.enough + Length::mm(1e-3));
        }
        assert!(sampled.wanted.is_sorted_by(|a, b| a.width <= b.width));
        assert!(!sampled.shares.is_empty());
    }
    // 100 wide and 71.5 needed: nothing touches, nothing comes too near.
    assert!(sure.touches.share.total_cmp(&0.0).is_eq() && sure.too_near.share.total_cmp(&0.0).is_eq());
    assert!(sure.touches.band[1] > 0.0 && sure.touches.band[1] < 0.002);
}

fn run(arguments: &[&str], text: &str) -> (i32, String) {
    let mut command = Command::cargo_bin("elbowroom").unwrap();
    command.env_remove("DISPLAY").env_remove("WAYLAND_DISPLAY").env_remove("NO_COLOR");
    let output = command.args(arguments).write_stdin(text).output().unwrap();
    assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
    (output.status.code().unwrap(), String::from_utf8(output.stdout).unwrap())
}

#[test]
fn sure_says_the_same_as_text_and_json_with_any_number_of_threads() {
    let sure = |more: &[&str]| run(&[&["sure", "-", "--samples", "2000", "--seed", "3"], more].concat(), DEMO);
    let (code, json) = sure(&["--json", "--threads", "1"]);
    // The demo's left filler is too narrow on purpose: a drawer touches whatever is off.
    assert_eq!(code, 1);
    assert_eq!(sure(&["--json", "--threads", "3"]).1, json);
    let json: Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["schema"], "elbowroom-sure-1");
    assert_eq!(json["samples"], 2000);
    assert_eq!(json["touches"]["share"], 1.0);
    let left = &json["worst"]["wanted"][0];
    assert!(left["enough_mm"].as_f64().unwrap() > left["planned_mm"].as_f64().unwrap());
    assert!(left["can_decide"].as_u64().unwrap() * 10 < left["looked_at"].as_u64().unwrap());
    let (_, text) = sure(&[]);
    assert!(text.starts_with("With the fillers as they are something touches in 100 % of all cases."), "{text}");
    for heading in ["In the worst case", "How wide is enough, how often", "What this rests on", "Take care"] {
        assert!(text.contains(heading), "{heading}");
    }
}

#[test]
fn narrower_and_check_tell_what_would_save_most() {
    let (code, json) = run(&["narrower", "-", "--json"], DEMO);
    assert_eq!(code, 0);
    let json: Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["schema"], "elbowroom-narrower-1");
    let best = &json["alternatives"][0];
    assert!(best["saved_mm"].as_f64().unwrap() > 0.0, "{best}");
    assert!(json["corner"].as_array().unwrap().len() >= 2);
    let (_, text) = run(&["narrower", "-"], DEMO);
    assert!(text.contains(best["change"].as_str().unwrap()));
    let (code, check) = run(&["check", "--sure", "--json", "-"], DEMO);
    assert_eq!(code, 1);
    let check: Value = serde_json::from_str(&check).unwrap();
    assert_eq!(check["narrower"], *best);
    assert!(check["worst"]["wanted"][1]["enough_mm"].as_f64().unwrap() > 0.0);
    let (_, text) = run(&["check", "--sure", "-"], DEMO);
    assert!(text.contains("How sure, in the worst case") && text.contains(best["change"].as_str().unwrap()));
}
