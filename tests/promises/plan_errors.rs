//! Every fault of a plan file is told at once, with its line and column and what would be right.

use elbowroom::length::{Length, Unit};
use elbowroom::plan::{self, Filler, Plan, Side, UnitKind};
use proptest::prelude::*;

use crate::plans::EXAMPLES;

/// The smallest plan, with `%` where a test puts something.
const SMALLEST: &str = r#"(
    units: Millimetre,
    room: (left_wall: 2400, right_wall: 2400),
    pulls: { "bar": Bar(length: 160, projection: 35) },
    slides: { "full 500": (length: 500) },
    left: (units: [Drawers(width: 600, fronts: [140, 280, Rest])]),
    right: (units: [Door(width: 600)]),
    %
)"#;

fn read(text: &str) -> Result<Plan, String> {
    plan::read("plan.ron", text).map_err(|problems| problems.lines().join("\n"))
}

fn smallest() -> String {
    SMALLEST.replace('%', "")
}

/// Every line of `expected` is told of `text`, and nothing else.
#[track_caller]
fn tells(name: &str, text: &str, expected: &[&str]) {
    let read = plan::read(name, text);
    assert!(read.is_err(), "{name} was read");
    let Err(told) = read else { return };
    let told: Vec<String> = told
        .list()
        .iter()
        .map(|problem| {
            let (line, column) = told.line_column(problem);
            format!("{line}:{column} {}: {}", problem.path, problem.message)
        })
        .collect();
    for line in expected {
        assert!(told.iter().any(|told| told == line), "not told: {line}\ntold:\n{}", told.join("\n"));
    }
    assert_eq!(told.len(), expected.len(), "told:\n{}", told.join("\n"));
}

#[test]
fn the_example_plans_are_read() {
    for (name, text) in EXAMPLES {
        let plan = plan::read(name, text);
        assert!(plan.is_ok(), "{}", plan.unwrap_err().render(100, false));
    }
}

#[test]
fn the_demo_has_one_filler_too_tight_and_one_to_be_found() {
    let plan = plan::read("glazing-corner.ron", EXAMPLES[0].1).unwrap();
    assert_eq!(plan.corner.left, Filler::Fixed(Length::mm(40.0)));
    assert_eq!(plan.corner.right, Filler::Least);
    assert_eq!(plan.room.angle_deg, 89.64);
    // What the file does not say is usual.
    assert_eq!(plan.construction.panel, Length::mm(18.0));
    // 860 - 90 - 3 - 2 x 3 = 761, less 150 and 280.
    let UnitKind::Drawers(drawers) = &plan.left.units[0].kind else { panic!("the first unit is a drawer bank") };
    assert_eq!(drawers[2].front_height, Length::mm(331.0));
    // 331 less the bottom panel behind its lower edge, 12 under the box and 12 to lift it out.
    assert_eq!(drawers[2].box_height, Length::mm(289.0));
    assert_eq!(plan.slides[drawers[0].slide].name, "full 550");
}

#[test]
fn lengths_are_read_as_a_builder_writes_them() {
    let plan = plan::read("print-room.ron", EXAMPLES[1].1).unwrap();
    assert_eq!(plan.unit, Unit::Inch);
    assert_eq!(plan.room.left_wall, Length::inches(112.0));
    assert_eq!(plan.room.right_wall, Length::inches(134.5));
    assert_eq!(plan.construction.height, Length::inches(34.5));
    let UnitKind::Drawers(drawers) = &plan.right.units[1].kind else { panic!("the second unit is a drawer bank") };
    let pulls: Vec<_> = drawers.iter().map(|drawer| plan.pulls[drawer.pull].name.as_str()).collect();
    assert_eq!(pulls, ["turned knob", "turned knob", "cup"]);
}

#[test]
fn the_only_pull_and_slide_need_not_be_named() {
    let plan = read(&smallest()).unwrap();
    assert_eq!(plan.name, "plan");
    assert_eq!(plan.run_angle_deg(), 90.0);
    assert!(!plan.room.angle_measured);
    assert_eq!(plan.run(Side::Right).units[0].name, "door unit");
}

#[test]
fn every_fault_is_told_at_once() {
    tells(
        "many-faults.ron",
        include_str!("../broken/many-faults.ron"),
        &[
            "6:16 room.angle: the room angle `59` degrees must be between 60 and 170",
            "7:20 room.left_wall: the left wall `-2400` mm must be more than 0",
            "8:9 room.right_wal: a room has no field `right_wal`",
            "9:18 room.ceiling: the ceiling `800` mm must be higher than the units and their countertop, `870` mm",
            "10:42 room.obstacles[0].wall: `Lft` is not one of the choices here",
            "10:65 room.obstacles[0].width: the obstacle's width `0` mm must be more than 0",
            "10:87 room.obstacles[0].height: `NaN` is not a length",
            "14:16 construction.panel: `3/4 foot` is not a length",
            "15:16 construction.front: the front's thickness `190` mm must not be more than `100` mm",
            "16:17 construction.bumper: the bumper `-1` mm must not be less than 0",
            "17:14 construction.top: `Stretcher` is not one of the choices here",
            "18:9 construction.colour: a construction has no field `colour`",
            "21:60 pulls[\"bar\"].projection: the projection `36` mm must not be less than the bar's thickness, `40` mm",
            "22:9 pulls: the name `bar` is given to two pulls",
            "23:33 pulls[\"lip\"].projection: the projection `0` mm must be more than 0",
            "24:17 pulls[\"push\"]: `Push` is not one of the choices here",
            "27:30 slides[\"full 500\"].length: `inf` is not a length",
            "28:43 slides[\"short\"].extension: the travel `900` mm must not be more than twice the slide's length, `600` mm",
            "33:53 left.units[1].fronts[2]: `Rest` is given twice",
            "34:41 left.units[2].fronts: `0` drawers are not between 1 and 20",
            "34:57 left.units[2].pull: `bra` is not one of the plan's pulls",
            "34:71 left.units[2].slide: `shrt` is not one of the plan's slides",
            "35:13 left.units[3]: `Drawer` is not one of the choices here",
            "37:18 left.ends_at.thickness: a casing lacks `thickness`",
            "41:18 right.units[0].widht: a door unit has no field `widht`",
            "41:40 right.units[0].opens_to: the door opens to `270` degrees, which must be more than 0 and at most 180",
            "42:30 right.units[1].width: `width` is given twice in a door unit",
            "42:62 right.units[1].hinge: `Left` is not one of the choices here",
            "43:13 right.units[2].pull: a door unit lacks `pull`",
            "44:46 right.units[3].shelves: `1.5` is not a count",
            "47:20 corner.left: the filler `-5` mm must not be less than 0",
            "47:38 corner.right: the filler `2500` mm must not be more than `2000` mm",
            "47:57 corner.laps: `Both` is not one of the choices here",
            "48:25 clearance.wanted: the clearance wanted `0.05` mm must be 0 or at least `0.1` mm",
            "48:42 clearance.shop_step: the shop step `0` mm must be at least `0.01` mm",
            "48:51 clearance.ajar: `1/0` divides by zero",
        ],
    );
}

#[test]
fn what_does_not_fit_is_told_with_what_is_there() {
    tells(
        "does-not-fit.ron",
        include_str!("../broken/does-not-fit.ron"),
        &[
            "4:54 room.ceiling: the ceiling `35` in must be higher than the units and their countertop, `36` in",
            "11:16 left.units: the left run's units are `72` in wide together, more than their wall, `60` in",
            "12:40 left.units[0].fronts: the drawer fronts are `36` in high together, taller than the opening",
            "13:40 left.units[1].fronts: the drawer fronts leave `6-1/8` in of the opening bare",
            "14:49 left.units[2].fronts[2]: a drawer front's height `-10` in must be more than 0",
            "19:13 right.units[0].slide: slide `24 in` needs `24-3/8` in of depth with the space behind it, \
             and the unit has `23-3/4` in",
            "19:65 right.units[0].box_heights[0]: the drawer box's height `3/4` in must not be more than its opening \
             takes, `1/2` in",
            "19:72 right.units[0].box_heights[1]: the drawer box's height `40` in must not be more than its opening \
             takes, `26-3/8` in",
            "19:83 right.units[0].pull: pull `bar`, `30` by `1/2` in, is larger than its front, `23-7/8` by `2` in",
            "19:83 right.units[0].pull: pull `bar`, `30` by `1/2` in, is larger than its front, `23-7/8` by `28-1/8` in",
            "20:52 right.units[1].drawer: the drawer front's height `40` in must be less than the opening's, `30-1/8` in",
            "21:45 right.units[2].shelves: `20` shelves are more than fit, which is 9",
            "22:51 right.units[3].body_width: the appliance's width `25` in must not be more than its space, `24` in",
        ],
    );
}

#[test]
fn a_room_far_from_square_must_say_how_the_runs_are_set() {
    let bay = smallest().replace("left_wall: 2400", "angle: 135, left_wall: 2400");
    tells("plan.ron", &bay, &["1:1 run_angle: the plan lacks `run_angle`"]);
    let along =
        SMALLEST.replace("left_wall: 2400", "angle: 135, left_wall: 2400").replace('%', "run_angle: AlongWalls");
    assert_eq!(read(&along).unwrap().run_angle_deg(), 135.0);
    let wide = SMALLEST.replace('%', "run_angle: Degrees(171)");
    tells("plan.ron", &wide, &["8:16 run_angle: the run angle `171` degrees must be between 60 and 170"]);
}

#[test]
fn a_broken_structure_is_told_in_plain_words() {
    for (text, line) in [
        ("", "1:1 plan: the plan is empty"),
        ("// nothing but this\n", "2:1 plan: the plan does not start with `(`"),
        ("[", "1:1 plan: the plan does not start with `(`"),
        ("(units: Inch", "1:13 plan: a bracket is not closed"),
        ("(a: [1, 2)", "1:10 plan: this bracket closes one of another kind"),
        ("(a: 600 b: 3)", "1:9 plan: a comma is missing before this"),
        ("(a 600)", "1:4 plan: a `:` is missing after a name"),
        ("(a: 1 1/4)", "1:7 plan: a length is not between quotes"),
        ("(a: 5' 2)", "1:6 plan: a length is not between quotes"),
        ("(a: 19 mm)", "1:8 plan: a length is not between quotes"),
        ("(a: \"open)", "1:6 plan: a text is not closed"),
        ("(a: /* open )", "1:14 plan: a comment is not closed"),
        ("(\n  a: 1\n)\nx", "4:1 plan: something stands behind the plan's last `)`"),
    ] {
        tells("plan.ron", text, &[line]);
    }
}

#[test]
fn brackets_without_end_give_an_error_and_no_crash() {
    for one in ["[", "(", "{", "(a:", "[[(", "{\"a\":", "Some(", "a(", "(a: [", "/*", "//", "\"", "'", "(a: \"", "r#"] {
        let text = one.repeat(1_900_000 / one.len());
        assert!(read(&text).is_err());
        assert!(read(&format!("(units: Inch, a: {text}")).is_err());
    }
    let larger = " ".repeat(plan::LARGEST_PLAN_BYTES + 1);
    assert!(read(&larger).unwrap_err().contains("is larger than"));
}

#[test]
fn a_garbled_file_is_not_told_to_the_last_byte() {
    let text = SMALLEST.replace('%', &"x: 1, ".repeat(100_000));
    let told = plan::read("plan.ron", &text).unwrap_err();
    assert_eq!(told.list().len(), 501);
    assert_eq!(told.list()[500].message, "`99500` more problems are not shown");
    let text =
        SMALLEST.replace("[Door(width: 600)]", &format!("[{}]", "Door(width: 1), ".repeat(5_000))).replace('%', "");
    assert!(read(&text).unwrap_err().contains("`5000` units are more than `2000`"));
}

#[test]
fn a_problem_is_drawn_with_its_line() {
    let text = SMALLEST.replace("280, Rest", "280").replace('%', "clearence: (wanted: 12),");
    let problems = plan::read("plan.ron", &text).unwrap_err();
    insta::assert_snapshot!(problems.render(80, false));
}

/// A plan that was read keeps what the model relies on.
fn keeps_its_promises(plan: &Plan) {
    let zone = plan.construction.front_zone();
    for unit in Side::BOTH.iter().flat_map(|&side| &plan.run(side).units) {
        assert!(unit.width > Length::ZERO);
        let (drawers, door) = match &unit.kind {
            UnitKind::Drawers(drawers) => (drawers.as_slice(), None),
            UnitKind::DrawerOverDoor(drawer, door) => (std::slice::from_ref(drawer), Some(door)),
            UnitKind::Door(door) => (&[][..], Some(door)),
            UnitKind::OpenShelves { .. } | UnitKind::EndPanel | UnitKind::ApplianceSpace(_) => continue,
        };
        assert!(zone.front_width(unit.width) > Length::ZERO);
        for drawer in drawers {
            assert!(drawer.front_height > Length::ZERO && drawer.box_height > plan.construction.box_bottom);
            assert!(drawer.pull < plan.pulls.len() && drawer.slide < plan.slides.len());
        }
        if let Some(door) = door {
            assert!(door.front_height > Length::ZERO && door.pull < plan.pulls.len() && door.opens_to_deg > 0.0);
        }
        let heights = drawers.iter().map(|drawer| drawer.front_height).chain(door.map(|door| door.front_height));
        let (count, sum) = heights.fold((0, Length::ZERO), |(count, sum), height| (count + 1, sum + height));
        assert!((sum - zone.height_for(count)).abs() <= Length::mm(1.0 + 1e-6));
    }
}

/// The byte of `text` at or before `place`, taken round and round, on a character's edge.
fn byte_at(text: &str, place: usize) -> usize {
    let mut at = place % (text.len() + 1);
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

const SNIPPETS: [&str; 40] = [
    "(",
    ")",
    "[",
    "]",
    "{",
    "}",
    ",",
    ":",
    "\"",
    "'",
    "/*",
    "*/",
    "//",
    "\n",
    "\\",
    "-",
    "0",
    "1e308",
    "-1e-308",
    "NaN",
    "inf",
    "99999999999999999999",
    "Rest",
    "Equal(3)",
    "Equal(20)",
    "Fixed(0)",
    "\"3/4\"",
    "\"1/0\"",
    "\"\"",
    "None",
    "Some(1)",
    "()",
    "[]",
    "{}",
    "r#\"",
    "b\"x\"",
    "\u{e9}",
    "\u{0}",
    "#![enable(implicit_some)]",
    "units: Inch,",
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(512))]

    #[test]
    fn a_plan_with_slips_in_it_is_read_or_refused_and_never_crashes(
        example in 0..EXAMPLES.len(),
        slips in prop::collection::vec((0..10_000_usize, 0..12_usize, prop::option::of(prop::sample::select(&SNIPPETS[..]))), 1..5),
    ) {
        let (name, text) = EXAMPLES[example];
        let mut text = text.to_owned();
        for (place, taken_out, put_in) in slips {
            let start = byte_at(&text, place);
            let mut end = (start + taken_out).min(text.len());
            while !text.is_char_boundary(end) {
                end += 1;
            }
            text.replace_range(start..end, put_in.unwrap_or_default());
        }
        match plan::read(name, &text) {
            Ok(plan) => keeps_its_promises(&plan),
            Err(problems) => {
                prop_assert!(!problems.list().is_empty());
                prop_assert!(!problems.render(80, false).is_empty());
                for problem in problems.list() {
                    prop_assert!(text.get(problem.span.clone()).is_some(), "{problem:?}");
                    prop_assert!(!problem.help.is_empty() && !problem.path.is_empty());
                }
            }
        }
    }

    #[test]
    fn any_number_anywhere_is_read_or_refused(
        example in 0..EXAMPLES.len(),
        which in 0..1_000_usize,
        number in prop_oneof![
            Just("0".to_owned()), Just("-1".to_owned()), Just("1e7".to_owned()), Just("1e-9".to_owned()),
            (-100.0..3000.0_f64).prop_map(|n| n.to_string()),
            (0..40_u32).prop_map(|n| n.to_string()),
        ],
    ) {
        let (name, text) = EXAMPLES[example];
        let numbers: Vec<(usize, usize)> = text
            .match_indices(": ")
            .map(|(at, _)| at + 2)
            .filter(|&at| text[at..].starts_with(|c: char| c.is_ascii_digit()))
            .map(|at| (at, at + text[at..].find([',', ')', ' ', '\n']).unwrap_or(0)))
            .collect();
        let (start, end) = numbers[which % numbers.len()];
        let mut text = text.to_owned();
        text.replace_range(start..end, &number);
        if let Ok(plan) = plan::read(name, &text) {
            keeps_its_promises(&plan);
        }
    }
}

#[test]
fn a_baseboard_higher_than_the_toe_kick_cannot_be_notched_over() {
    let notched = |height: u32| {
        let board = format!("right_wall: 2400, baseboard: (height: {height}, thickness: 14, treatment: Notched)");
        read(&smallest().replacen("right_wall: 2400", &board, 1))
    };
    assert!(notched(100).is_ok());
    let told = notched(140).unwrap_err();
    assert!(told.contains("`140` mm") && told.contains("`100` mm") && told.contains("`Left`"), "{told}");
}
