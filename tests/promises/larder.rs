//! A larder beside drawers: shelves behind its door, what opens past it and what it opens past, computed by hand.

use elbowroom::clearance::{self, Answer};
use elbowroom::command::{self, ListStyle, Style};
use elbowroom::install::{Installation, Set};
use elbowroom::length::Length;
use elbowroom::model::{Fillers, Model, Part, Role, Vec3};
use elbowroom::plan::form::form;
use elbowroom::plan::write::{Edit, PlanPath, apply};
use elbowroom::plan::{self, Plan, Side};

const PANEL: f64 = 18.0;
const KICK: f64 = 100.0;

const LARDER: &str = "Door(name: \"larder\", width: 600, height: 2100, shelves: 4, hinge: FarSide)";

fn text(left: &str, more: &str) -> String {
    format!(
        "(units: Millimetre, room: (left_wall: 5000, right_wall: 5000, ceiling: 2500, {more}), \
         construction: (height: 870, depth: 580, panel: 18, kick_height: 100, reveal: (side: 1.5, top: 3, between: 3, \
             bottom: 0), bumper: 2, front: 19), \
         pulls: {{\"bar\": Bar(length: 160, thickness: 12, projection: 35, set: Upright)}}, \
         slides: {{\"s\": (length: 450)}}, \
         left: (units: [{left}], ends_at: Open), \
         right: (units: [OpenShelves(width: 400, shelves: 1), Drawers(width: 900, fronts: Equal(3))], ends_at: Open), \
         countertop: (thickness: 30, overhang: 20), \
         corner: (left: Fixed(100), right: Fixed(100)), clearance: (wanted: 12))"
    )
}

fn read(text: &str) -> Plan {
    match plan::read("tall.ron", text) {
        Ok(plan) => plan,
        Err(problems) => panic!("{}", problems.lines().join("\n")),
    }
}

fn model(plan: &Plan) -> Model {
    Model::build(plan, Fillers { left: Length::mm(100.0), right: Length::mm(100.0) })
}

fn larder() -> String {
    text(&format!("Drawers(width: 900, fronts: Equal(3)), {LARDER}"), "")
}

fn parts(model: &Model, role: Role, unit: usize) -> Vec<&Part> {
    let of = |part: &&Part| part.role == role && part.run == Some(Side::Left) && part.unit == Some(unit);
    model.parts.iter().filter(of).collect()
}

fn near(got: f64, expected: f64) {
    assert!((got - expected).abs() < 1e-6, "{got} against {expected}");
}

// 2100 - 100 - 2 x 18 of clear height, less four shelves 18 thick, is five spaces of 378.4.
#[test]
fn shelves_behind_the_door_share_the_height() {
    let model = model(&read(&larder()));
    let shelves = parts(&model, Role::Shelf, 1);
    assert_eq!(shelves.len(), 4);
    for (k, shelf) in shelves.iter().enumerate() {
        let low = KICK + PANEL + 378.4 + k as f64 * (378.4 + PANEL);
        near(shelf.extent(Vec3::Z)[0], low);
        assert!(shelf.extent(model.run(Side::Left).out)[1] <= 580.0 + 1e-9);
    }
}

// In the carcass, 19 thick, the door's back lies 561 out: shelves end there.
#[test]
fn shelves_end_behind_a_door_set_in_the_carcass() {
    let inset = larder().replace("bumper: 2,", "bumper: 2, fronts: Inset,");
    let model = model(&read(&inset));
    for shelf in parts(&model, Role::Shelf, 1) {
        assert!(shelf.extent(model.run(Side::Left).out)[1] <= 580.0 - 19.0 + 1e-9);
    }
    let answer = clearance::answer(&read(&inset));
    assert!(answer.is_clear(), "{:?}", clearance_lines(&answer));
}

fn clearance_lines(answer: &Answer) -> Vec<String> {
    let line = |finding: &clearance::Finding| elbowroom::report::finding_line(answer, finding);
    answer.findings.iter().map(line).collect()
}

// The right run's drawers come out along the left run's fronts: 1.5 of reveal and the filler from its front plane. The
// tall door's bar stands 2 + 19 + 35 before it, 600 above the floor, and is 12 wide; set at its usual height, above the
// drawers, it is passed beneath, and the door's own face, 21 before the plane, decides.
#[test]
fn a_drawer_of_the_other_run_passes_the_tall_door_s_pull() {
    for (pull, needed) in [(", height: 500", 2.0 + 19.0 + 35.0), ("", 2.0 + 19.0)] {
        let text = text(
            "Drawers(width: 300, fronts: Equal(3), pull: \"none\"), Door(width: 600, height: 2100, hinge: \
             FarSide, pull: \"bar\")",
            "",
        )
        .replace(
            "right: (units: [OpenShelves(width: 400, shelves: 1), Drawers(width: 900, fronts: Equal(3))]",
            "right: (units: [Drawers(width: 900, fronts: Equal(3), pull: \"none\")]",
        )
        .replace("pulls: {", "pulls: {\"none\": Absent, ")
        .replace("set: Upright", &format!("set: Upright{pull}"))
        .replace("right: Fixed(100)", "right: Least");
        let answer = clearance::answer(&read(&text));
        let side = answer.sides.iter().find(|side| side.side == Side::Right).unwrap();
        let least = side.least.unwrap().to_mm();
        let expected = needed - 1.5 + 12.0;
        assert!(least >= expected - 1e-6 && least < expected + 0.05, "{pull}: {least} against {expected}");
    }
}

fn turns(answer: &Answer, unit: &str) -> clearance::Opening {
    let of = |opening: &&clearance::Opening| answer.model.mover(opening.mover).name.starts_with(unit);
    answer.openings.iter().find(of).unwrap().clone()
}

// Hinged toward the corner on the edge of its outer face, 1.5 beyond the countertop's end and 21 before the front plane,
// the door meets the top's corner, 40 before that plane, when it points there: at atan2(40 - 21, -1.5).
#[test]
fn a_tall_door_meets_the_countertop_beside_it() {
    let door = "Drawers(width: 900, fronts: Equal(3)), Door(name: \"d\", width: 600, hinge: CornerSide, opens_to: 110";
    let tall = text(&format!("{door}, height: 2100)"), "").replace("overhang: 20", "overhang: 40");
    let answer = clearance::answer(&read(&tall));
    let opening = turns(&answer, "left 2 d");
    let expected = (40.0_f64 - 21.0).atan2(-1.5);
    // A hundredth of a millimetre is what swings are judged to.
    assert!((opening.to_touch - expected).abs() * 19.0_f64.hypot(1.5) < 0.01, "{}", opening.to_touch);
    let first = opening.touches_first.unwrap();
    assert_eq!(answer.model.part(first.other).role, Role::Countertop);
    // Under the top it opens fully.
    let base = text(&format!("{door})"), "").replace("overhang: 20", "overhang: 40");
    assert!(turns(&clearance::answer(&read(&base)), "left 2 d").is_clear());
}

// Between the panels there are 2100 - 100 - 2 x 18 for drawers, and the fronts share 2000 - 3 - 3.
#[test]
fn a_tall_bank_shares_the_whole_height() {
    let text = text("Drawers(width: 900, fronts: Equal(3)), Drawers(width: 600, height: 2100, fronts: Equal(2))", "");
    let model = model(&read(&text));
    for front in parts(&model, Role::DrawerFront, 1) {
        near(front.extent(Vec3::Z)[1] - front.extent(Vec3::Z)[0], (2000.0 - 3.0 - 3.0) / 2.0);
    }
}

// A height that is the run's own is none.
#[test]
fn a_unit_as_high_as_its_run_changes_nothing() {
    let unit = |height: &str| {
        text(&format!("Drawers(width: 900, fronts: Equal(3)), Door(name: \"d\", width: 600{height})"), "")
    };
    let list = |text: &str| {
        let check = command::check("tall.ron", text, Style::Plain).unwrap().text;
        (check, command::parts("tall.ron", text, None, ListStyle::Lines(Style::Plain)).unwrap().text)
    };
    let plain = list(&unit(""));
    assert_eq!(list(&unit(", height: 870")), plain);
    assert!(!plain.0.contains("stood up from lying down"));
}

#[test]
fn a_side_longer_than_the_sheet_is_told() {
    let layout = |length: f64| {
        let stock = format!(
            "stock: (sheets: {{\"ply\": (of: Panel, thickness: 18, width: 1220, length: {length}), \
             \"thin\": (of: ThinPanel, thickness: 6)}}), pulls: {{"
        );
        let text = larder().replace("pulls: {", &stock);
        command::parts("tall.ron", &text, None, ListStyle::Lines(Style::Plain)).unwrap().text
    };
    // Both sides, less the trim at each end.
    let told = |text: &str| text.matches("is larger than `ply`").count();
    assert_eq!((told(&layout(2000.0)), told(&layout(2440.0))), (2, 0));
}

#[track_caller]
fn refused(left: &str, expected: &str) {
    let problems = plan::read("tall.ron", &text(left, "")).unwrap_err();
    let lines: Vec<String> =
        problems.list().iter().map(|problem| format!("{}: {}", problem.path, problem.message)).collect();
    assert!(lines.iter().any(|line| line.contains(expected)), "{expected:?} in {lines:#?}");
}

#[test]
fn shelves_that_do_not_fit_are_told() {
    let base = "Drawers(width: 600, fronts: Equal(3))";
    refused(
        &format!("{base}, Door(width: 600, height: 2100, shelves: 60)"),
        "left.units[1].shelves: `60` shelves are more than fit",
    );
    refused(
        &format!("{base}, Door(width: 600, shelves: 1, pull_outs: (count: 2))"),
        "left.units[1].shelves: `1` shelves stand where pull-out shelves draw out",
    );
}

// Read to lean out above the countertop alone, by 10 over 800: at the tall unit's top the wall would stand
// 10 × (2100 - 1000) / 800 out, but past the highest reading it keeps its gap, so 10 at 1800. Without the tall unit
// nothing of the run stands as high.
#[test]
fn the_wall_is_met_as_high_as_what_stands_before_it() {
    let reading = |height: f64, gap: f64| {
        format!("(along: 0, height: {height}, gap: {gap}), (along: 4000, height: {height}, gap: {gap}),")
    };
    let readings = format!("{}{}{}", reading(200.0, 20.0), reading(1000.0, 20.0), reading(1800.0, 10.0));
    let survey = format!("survey: (left: (readings: [{readings}]))");
    let touches = |height: &str| {
        let units = format!("Drawers(width: 900, fronts: Equal(3)), Door(width: 600, {height} hinge: FarSide)");
        let plan = read(&text(&units, &survey));
        Set::of(&plan, &model(&plan)).run(Side::Left).touches.height.to_mm()
    };
    near(touches("height: 2100,"), 1800.0);
    assert!(touches("") <= 870.0);
    let units = format!("Drawers(width: 900, fronts: Equal(3)), {LARDER}");
    let plan = read(&text(&units, &survey));
    let assumed = Installation::of(&plan, &model(&plan)).assumes;
    let said = "Above 1800 mm the left wall was not read: behind larder it keeps the gap read there.";
    assert!(assumed.iter().any(|line| line == said), "{assumed:?}");
}

// An outlet 1500 above the floor lies behind drawers that reach so high, and behind none that do not.
#[test]
fn an_outlet_behind_tall_drawers_is_shut_in() {
    let survey = "survey: (left: (fixtures: [Outlet(name: \"o\", along: 1850, above: 1500, width: 70, height: 115)]))";
    for (height, shut_in) in [("height: 2100,", 1), ("", 0)] {
        let units = format!("Drawers(width: 900, fronts: Equal(3)), Drawers(width: 600, {height} fronts: Equal(3))");
        let plan = read(&text(&units, survey));
        assert_eq!(Installation::of(&plan, &model(&plan)).shut_in.len(), shut_in, "{height}");
    }
}

#[test]
fn its_height_is_in_the_form_and_is_written_back() {
    let base = text("Drawers(width: 900, fronts: Equal(3)), Door(width: 600)", "");
    let at = PlanPath::WHOLE.field("left").field("units").item(1).field("height");
    let mut rows = Vec::new();
    form(&base, &read(&base)).plan.walk(&mut |row| rows.extend((row.path == at).then(|| row.given.clone())));
    assert_eq!(rows, [None]);
    let (tall, plan) = apply("tall.ron", &base, &Edit::Set { at: at.clone(), value: "2100".to_owned() }).unwrap();
    assert_eq!(plan.left.units[1].height, Length::mm(2100.0));
    let (again, plan) = apply("tall.ron", &tall, &Edit::Unset { at: at.clone() }).unwrap();
    assert_eq!(plan, read(&base));
    assert!(!again.contains("height: 2100"));
    let refused = apply("tall.ron", &base, &Edit::Set { at, value: "2600".to_owned() }).unwrap_err();
    assert!(refused.problems.lines().iter().any(|line| line.contains("less than the ceiling's")));
}
