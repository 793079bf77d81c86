//! What a builder measures with a tape, a straightedge, a square and a level is read, checked against itself, and told
//! where it is missing; what the units would shut in is a finding.

use elbowroom::clearance;
use elbowroom::install::{Behind, Installation};
use elbowroom::length::{Length, Unit};
use elbowroom::model::{Fillers, Model};
use elbowroom::plan::write::{Edit, apply};
use elbowroom::plan::{self, BackLine, Between, CornerMeasure, FixtureKind, Plan, Side, Studs, WallMade, assumed};
use elbowroom::report::install::{InstallList, install_json, install_text};
use proptest::prelude::*;

/// A small plan in millimetres, its room's fields in front, its survey and its fixing to be filled in.
fn text(room: &str, survey: &str, more: &str) -> String {
    format!(
        r#"(
    units: Millimetre,
    room: ({room}left_wall: 3000, right_wall: 4000, ceiling: 2400, survey: (
        {survey}
    )),
    pulls: {{ "bar": Bar(length: 160, projection: 35) }},
    slides: {{ "full 500": (length: 500) }},
    left: (units: [DrawerOverDoor(name: "linen", width: 600, drawer: 160), EndPanel(width: 20)], ends_at: Open),
    right: (units: [
        Drawers(name: "cutlery", width: 500, fronts: Equal(3)),
        Door(name: "sink", width: 900),
        OpenShelves(width: 400),
        ApplianceSpace(width: 600),
    ], ends_at: Open),
    corner: (left: Fixed(60), right: Fixed(60)),
    {more}
)"#
    )
}

#[track_caller]
fn read(text: &str) -> Plan {
    match plan::read("plan.ron", text) {
        Ok(plan) => plan,
        Err(problems) => panic!("{}\n{text}", problems.lines().join("\n")),
    }
}

fn surveyed(survey: &str) -> Plan {
    read(&text("", survey, ""))
}

/// What is told of a text, a line each: the place, what is wrong and what would be right.
#[track_caller]
fn told(text: &str) -> Vec<String> {
    let Err(problems) = plan::read("plan.ron", text) else { panic!("it was read:\n{text}") };
    problems.list().iter().map(|problem| format!("{}: {} ({})", problem.path, problem.message, problem.help)).collect()
}

#[test]
fn a_survey_is_read_as_it_was_taken() {
    let plan = read(&text(
        "",
        r#"left: (
            readings: [(along: 0, height: 100, gap: 12), (along: "4 ft", height: 100, gap: "3/8 in")],
            between: Curved,
            plumb: [(along: 600, over: 1800, back_by: -6)],
            lengths: (floor: 3004, middle: 3000, top: 3001),
            studs: [400, 812, 1220],
            made_of: Framed(board: 20),
            fixtures: [Outlet(along: 900, above: 300), Gas(name: "cock", along: 1500, above: 200, width: 30, height: 30, out: 40)],
        ),
        right: (studs: Spaced(one_at: 410, spacing: 406)),
        floor: [(wall: Right, along: 2000, out: 600, level: -9)],
        flooring: 14,
        way_in: (width: 740, height: 1960)"#,
        "fixing: (line: Parallel, bite: 40, screws: [60, 80], shim_also: [(wall: Left, along: 1000)], shim_step: 1)",
    ));
    let (mm, survey) = (Length::mm, &plan.room.survey);
    assert_eq!(survey.left.readings[1].along, Length::inches(48.0));
    assert_eq!(survey.left.readings[1].gap, Length::inches(0.375));
    assert_eq!(survey.left.between, Between::Curved);
    assert_eq!(survey.left.plumb[0].back_by, mm(-6.0));
    assert_eq!(survey.left.lengths, Some([mm(3004.0), mm(3000.0), mm(3001.0)]));
    assert_eq!(survey.left.studs, Studs::At(vec![mm(400.0), mm(812.0), mm(1220.0)]));
    assert_eq!(survey.left.made_of, WallMade::Framed { board: mm(20.0), stud: mm(38.1) });
    assert_eq!(survey.left.fixtures[0].name, "outlet");
    assert_eq!(survey.left.fixtures[1].kind, FixtureKind::Gas);
    assert_eq!(survey.left.fixtures[1].out, mm(40.0));
    assert_eq!(survey.right.studs, Studs::Spaced { one_at: mm(410.0), spacing: mm(406.0) });
    assert_eq!(survey.right.made_of, WallMade::default());
    assert_eq!((survey.floor[0].wall, survey.floor[0].level), (Side::Right, mm(-9.0)));
    assert_eq!(survey.flooring, mm(14.0));
    assert_eq!(survey.way_in.map(|way| (way.width, way.turn)), Some((mm(740.0), None)));
    assert_eq!(plan.fixing.line, BackLine::Parallel);
    assert_eq!(plan.fixing.screws, [mm(60.0), mm(80.0)]);
    assert_eq!(plan.fixing.shim_also, [(Side::Left, mm(1000.0))]);
}

#[test]
fn the_survey_in_the_readme_can_be_read() {
    let shown = include_str!("../../README.md").split("```ron\n").nth(2).unwrap().split("```").next().unwrap();
    let plan = read(&format!(
        "(units: Inch, {shown} pulls: {{}}, slides: {{}}, left: (units: [EndPanel]), right: (units: [EndPanel]))"
    ));
    // (36² + 48² − 59.875²) / (2 · 36 · 48) = 14.984 / 3456 = 0.004 336: 89.7516°.
    assert!((plan.room.angle_deg - 89.751_6).abs() < 0.000_1, "{}", plan.room.angle_deg);
    assert_eq!(plan.room.survey.left.fixtures.len(), 2);
    assert_eq!(plan.fixing.screws.len(), 2);
}

#[test]
fn a_survey_in_inches_gets_usual_sizes_in_inches() {
    let text = text("", "left: (fixtures: [Outlet(along: 30, above: 12)])", "")
        .replace("Millimetre", "Inch")
        .replace("3000", "120")
        .replace("4000", "160")
        .replace("2400", "96")
        .replace("length: 160, projection: 35", r#"length: 5, projection: "1 3/8""#)
        .replace("length: 500", "length: 20")
        .replace("width: 600, drawer: 160", "width: 24, drawer: 6")
        .replace("width: 20", "width: 1")
        .replace("width: 500", "width: 20")
        .replace("width: 900", "width: 36")
        .replace("width: 400", "width: 16")
        .replace("width: 600", "width: 24")
        .replace("Fixed(60)", "Fixed(3)");
    let plan = read(&text);
    assert_eq!(plan.room.survey.left.fixtures[0].height, Length::inches(4.5));
    assert_eq!(plan.fixing.bite, Length::inches(1.25));
    assert_eq!(plan.fixing.shim_step.show(Unit::Inch), "1/32 in");
}

// The law of cosines: cos C = (a² + b² − c²) / 2ab. Common practice, no source; the sums are by hand.
#[test]
fn three_four_five_gives_the_room_angle() {
    // (900² + 1200² − 1500²) / 2 160 000 = 0.
    let plan = surveyed("corner: Triangle(left: 900, right: 1200, across: 1500)");
    assert_eq!(plan.room.angle_deg, 90.0);
    assert!(plan.room.angle_measured);
    // (810 000 + 1 440 000 − 1 486² = 2 208 196) / 2 160 000 = 41 804 / 2 160 000 = 0.019 354: 88.891°.
    let plan = surveyed("corner: Triangle(left: 900, right: 1200, across: 1486)");
    assert!((plan.room.angle_deg - 88.891).abs() < 0.000_1, "{}", plan.room.angle_deg);
    // The old house: (850² + 1700² − 1886²) / (2 · 850 · 1700) = 55 504 / 2 890 000 = 0.019 206: 88.8995°.
    let plan = read(include_str!("../../assets/plans/old-house.ron"));
    assert!((plan.room.angle_deg - 88.8995).abs() < 0.000_1, "{}", plan.room.angle_deg);
    assert_eq!(plan.room.angle_read, Some(88.9));
}

#[test]
fn both_diagonals_give_the_room_angle() {
    let plan = surveyed(
        "corner: Diagonals(left: 3000, right: 4000, opposite_left: 3000, opposite_right: 4000, across: 5000, through: 5000)",
    );
    assert_eq!(plan.room.angle_deg, 90.0);
    // A kite of two triangles 3-4-5 on either side of its axis: corner at (0, 0), the axis 5 to the corner opposite, the
    // other two corners 2.4 off the axis and 1.8 along it from here (3 · 3/5, 3 · 4/5). The corner is twice
    // atan(2.4 / 1.8) = 106.2602°, across 4.8, through 5.
    let kite = read(
        &text(
            "",
            "corner: Diagonals(left: 3000, right: 3000, opposite_left: 4000, opposite_right: 4000, across: 4800, through: 5000)",
            "run_angle: AlongWalls",
        )
        .replace("right_wall: 4000", "right_wall: 3000")
        .replace("Fixed(60)", "Least"),
    );
    assert!((kite.room.angle_deg - 106.260_2).abs() < 0.000_1, "{}", kite.room.angle_deg);
    let reading = Length::mm(1.0);
    let corner = kite.room.survey.corner.unwrap();
    let (through, _) = corner.expected_through(reading).unwrap();
    assert!((through.to_mm() - 5000.0).abs() < 1e-6);
}

#[test]
fn measures_of_the_corner_that_contradict_are_refused_with_the_numbers() {
    let corner = |measures: &str| told(&text("", &format!("corner: {measures}"), "")).join("\n");
    let angle = told(&text("angle: 90, ", "corner: Triangle(left: 900, right: 1200, across: 1486)", "")).join("\n");
    let all = [
        corner("Triangle(left: 900, right: 1200, across: 2200)"),
        corner("Triangle(left: 900, right: 0, across: -5)"),
        // The triangle opposite: 1000 + 3900 < 5000.
        corner(
            "Diagonals(left: 3000, right: 4000, opposite_left: 1000, opposite_right: 3900, across: 5000, through: 5000)",
        ),
        corner(
            "Diagonals(left: 3000, right: 4000, opposite_left: 3000, opposite_right: 4000, across: 5000, through: 5040)",
        ),
        corner("Triangle(left: 1000, right: 1000, across: 500)"),
        angle,
    ];
    insta::assert_snapshot!(all.join("\n\n"));
}

#[test]
fn an_angle_within_what_the_tape_can_be_off_is_no_contradiction() {
    // By hand in `plan::corner`: 0.241° for 900, 1200, 1500 and 1 mm each.
    for (angle, agrees) in [("90.2", true), ("89.8", true), ("90.3", false), ("89.7", false)] {
        let text = text(&format!("angle: {angle}, "), "corner: Triangle(left: 900, right: 1200, across: 1500)", "");
        assert_eq!(plan::read("plan.ron", &text).is_ok(), agrees, "{angle}");
    }
}

#[test]
fn a_diagonals_side_is_the_wall_that_ends_at_a_wall() {
    let corner = "corner: Diagonals(left: 3000, right: 4050, opposite_left: 3000, opposite_right: 4050, \
                  across: 5040.1, through: 5040.1)";
    // The right run's wall goes on: 4000 may be a part of it.
    surveyed(corner);
    let ends = text("", corner, "").replace("ends_at: Open", "ends_at: Wall");
    let told = told(&ends).join("\n");
    assert!(
        told.contains("the right wall `4050` mm long between the diagonals is not the `right_wall` of `4000` mm"),
        "{told}"
    );
    assert!(!told.contains("left_wall"), "{told}");
}

#[test]
fn every_fault_of_a_survey_is_told_at_once() {
    let survey = r#"left: (
            readings: [
                (along: -1, height: 100, gap: 5), (along: 3200, height: 100, gap: 5), (along: 0, height: 2500, gap: -2),
                (along: 600, height: 100, gap: 5), (along: 600, height: 100, gap: 9), (along: 900, height: 100, gap: 400),
                (along: 900, gap: 4), (along: 700, hight: 3, height: 100, gap: x),
            ],
            between: Bent,
            plumb: [(along: 600, over: 0, back_by: 5), (along: 600, over: 2600, back_by: 900)],
            lengths: (floor: 3010, middle: 2990, top: 0),
            studs: [400, 390, 410, 5000, y],
            made_of: Framed(board: 0, stud: -1),
            fixtures: [
                Outlet(name: "low", along: 900, above: 30), Outlet(name: "near", along: 20, above: 300),
                Pipe(name: "far", along: 2990, above: 300, width: 50, height: 0, out: -4),
                Lamp(along: 900, above: 300), Valve(along: 900, above: 300),
            ],
        ),
        right: (
            studs: Spaced(one_at: 4100, spacing: 0), made_of: Wood, lengths: (floor: 4000, middle: 4000, top: 3900),
            fixtures: 3,
        ),
        corner: Square,
        floor: [
            (wall: Left, along: 3001, out: -1, level: 0), (wall: Both, along: 0, level: 0),
            (wall: Right, along: 500, level: 2), (wall: Right, along: 500, level: 3), (wall: Right, along: 600, level: 900),
        ],
        flooring: -3,
        way_in: (width: 0, height: 99999, turn: -1),
        celing: 3"#;
    let fixing = "fixing: (line: Straight, bite: 0, screws: [60, 0, 900], shim_also: [(wall: Right, along: 4100), (along: 3)], \
                  shim_step: 0)";
    insta::assert_snapshot!(told(&text("", survey, fixing)).join("\n"));
}

#[test]
fn what_is_read_twice_or_from_two_lines_is_told() {
    let of = |survey: &str| told(&text("", survey, "")).join("\n");
    let all = [
        of("left: (readings: [(along: 600, height: 100, gap: 5), (along: 0, height: 100, gap: 5), \
            (along: 600, height: 100, gap: 9), (along: 600, height: 800, gap: 9)])"),
        of("left: (readings: [(along: 0, height: 100, gap: 40), (along: 600, height: 100, gap: 341)])"),
        of("right: (plumb: [(along: 500, over: 1800, back_by: 4), (along: 500, over: 2000, back_by: 4)])"),
        of("floor: [(wall: Right, along: 500, level: 2), (wall: Left, along: 500, level: 2), \
            (wall: Right, along: 500, level: 3), (wall: Right, along: 500, out: 400, level: 3)]"),
        of("floor: [(wall: Right, along: 500, level: -200), (wall: Right, along: 600, level: 101)]"),
    ];
    insta::assert_snapshot!(all.join("\n"));
}

#[test]
fn studs_are_told_apart_from_what_cannot_be() {
    let wall = |wall: &str| told(&text("", &format!("left: ({wall})"), "")).join("\n");
    let all = [
        wall("studs: []"),
        wall("studs: Sometimes"),
        wall("studs: Spaced(one_at: 400)"),
        wall("studs: Spaced(one_at: 400, spacing: 30)"),
        wall("studs: [400, 420]"),
        wall("studs: [400], made_of: Masonry"),
        wall("studs: 400"),
    ];
    insta::assert_snapshot!(all.join("\n"));
}

#[test]
fn a_wall_s_three_lengths_agree_with_its_length() {
    // Two readings, 1 mm each.
    surveyed("left: (lengths: (floor: 3020, middle: 3002, top: 3011))");
    let told = told(&text("", "left: (lengths: (floor: 3020, middle: 3003, top: 3011))", "")).join("\n");
    assert!(
        told.contains("the least of the left wall's three lengths `3003` mm is not the `left_wall` of `3000` mm"),
        "{told}"
    );
}

#[test]
fn what_was_not_measured_is_said() {
    insta::assert_snapshot!(assumed(&surveyed("")).join("\n"));
    // What the old house's survey leaves open is little.
    insta::assert_snapshot!(
        "what_the_old_house_takes_for_granted",
        assumed(&read(include_str!("../../assets/plans/old-house.ron"))).join("\n")
    );
}

#[test]
fn measuring_more_takes_less_for_granted() {
    let steps = [
        "",
        "corner: Triangle(left: 900, right: 1200, across: 1500)",
        "corner: Triangle(left: 900, right: 1200, across: 1500), left: (readings: [(along: 0, height: 100, gap: 3), \
         (along: 0, height: 800, gap: 3)])",
        "corner: Triangle(left: 900, right: 1200, across: 1500), left: (readings: [(along: 0, height: 100, gap: 3), \
         (along: 0, height: 800, gap: 3)], studs: [400])",
    ];
    let counts = steps.map(|survey| assumed(&surveyed(survey)).len());
    // The third step's wall is no longer assumed straight. The last tells what stands before the studs instead.
    assert_eq!([counts[0] - counts[1], counts[1] - counts[2], counts[2] - counts[3]], [1, 1, 0], "{counts:?}");
}

fn install(text: &str) -> Installation {
    let plan = read(text);
    let fillers = Fillers { left: Length::mm(60.0), right: Length::mm(60.0) };
    Installation::of(&plan, &Model::build(&plan, fillers))
}

fn behind(wall: &str, fixture: &str) -> Option<Behind> {
    let installation = install(&text("", &format!("{wall}: (fixtures: [{fixture}])"), ""));
    installation.shut_in.first().map(|shut| shut.behind.clone())
}

// The runs are square and 580 deep, the fillers 60: the first units start 640 from the corner. Units are 870 high on a kick
// of 100. On the right, drawers go to 1140, the sink's door to 2040, the shelves to 2440, the appliance to 3040.
#[test]
fn what_nobody_can_reach_any_more_is_a_finding() {
    let drawers = |unit, name: &str| Some(Behind::Drawers { unit, name: name.to_owned() });
    let kick = |unit, name: &str| Some(Behind::Kick { unit, name: name.to_owned() });
    for (wall, fixture, expected) in [
        ("right", "Outlet(along: 900, above: 300)", drawers(0, "cutlery")),
        ("right", "JunctionBox(along: 1130, above: 300)", drawers(0, "cutlery")),
        // Its plate is 85 wide, and counts 10 more at each side: from 1140 + 42.5 + 10 on it is past the drawers.
        ("right", "Outlet(along: 1192, above: 300)", drawers(0, "cutlery")),
        ("right", "Outlet(along: 1193, above: 300)", None),
        ("right", "Outlet(along: 1600, above: 300)", None),
        ("right", "Outlet(along: 2200, above: 300)", None),
        ("right", "Outlet(along: 2700, above: 300)", None),
        ("right", "Outlet(along: 3100, above: 300)", None),
        ("right", "Outlet(along: 300, above: 300)", Some(Behind::DeadCorner)),
        ("left", "Valve(along: 600, above: 300, width: 50, height: 50)", Some(Behind::DeadCorner)),
        // Above the units it is where it belongs.
        ("right", "Outlet(along: 900, above: 1100)", None),
        ("left", "Outlet(along: 300, above: 1100)", None),
        // 870 + 42.5 + 10.
        ("right", "Outlet(along: 900, above: 922)", drawers(0, "cutlery")),
        ("right", "Outlet(along: 900, above: 923)", None),
        // The drawer's front over the door reaches down to 870 − 3 − 160 = 707, and the box is before the outlet above.
        ("left", "Outlet(along: 900, above: 760)", drawers(0, "linen")),
        ("left", "Outlet(along: 900, above: 300)", None),
        (
            "left",
            "Gas(along: 1250, above: 300, width: 20, height: 20)",
            Some(Behind::EndPanel { unit: 1, name: "end panel".to_owned() }),
        ),
        ("right", "Register(along: 1600, above: 60, width: 250, height: 80)", kick(1, "sink")),
        ("left", "Valve(along: 900, above: 60, width: 50, height: 50)", kick(0, "linen")),
        // Nobody need reach a pipe, a casing or a sill.
        ("right", "Pipe(along: 900, above: 300, width: 50, height: 50)", None),
        ("right", "Pipe(along: 300, above: 60, width: 50, height: 50)", None),
        ("right", "Casing(along: 900, above: 300, width: 50, height: 50)", None),
        ("right", "Sill(along: 900, above: 300, width: 50, height: 50)", None),
    ] {
        assert_eq!(behind(wall, fixture), expected, "{wall} {fixture}");
    }
}

// A room wider than square: the right wall touches the right run at its near end, so what is measured along the wall
// lies where the wall goes. By hand: walls at 95°, runs square. The right run's back is x = 0 from 640 on; the wall, at 5°
// to it, passes x = 0 at y = 640 and meets y = 0 at x = 640 · tan 5° = 55.99; along the wall y 640 is at 640 / cos 5° =
// 642.44. The drawers end at y 1140, at 1144.4 along; the plate ends there from 1144.4 + 52.5 / cos 5° on, near enough.
#[test]
fn in_a_room_off_square_the_wall_s_own_measure_counts() {
    let of = |along: f64| {
        let survey = format!("right: (fixtures: [Outlet(along: {along}, above: 300)])");
        install(&text("angle: 95, ", &survey, "")).shut_in.first().map(|shut| shut.behind.clone())
    };
    let edge = 1140.0 / 5_f64.to_radians().cos() + 52.5 / 5_f64.to_radians().cos();
    assert!(matches!(of(edge - 0.5), Some(Behind::Drawers { .. })));
    assert_eq!(of(edge + 0.5), None);
    let edge = 640.0 / 5_f64.to_radians().cos() + 52.5 / 5_f64.to_radians().cos();
    assert_eq!(of(edge - 0.5), Some(Behind::DeadCorner));
    assert!(matches!(of(edge + 0.5), Some(Behind::Drawers { .. })));
}

#[test]
fn the_old_house_s_kettle_socket_would_be_shut_in() {
    let plan = read(include_str!("../../assets/plans/old-house.ron"));
    let answer = clearance::answer(&plan);
    assert!(answer.is_clear());
    let installation = Installation::of(&plan, &answer.model);
    let lines: Vec<String> =
        install_text(&installation, &[InstallList::Setting]).into_iter().map(|(_, line)| line).collect();
    let text = lines.join("\n");
    assert_eq!(installation.shut_in.len(), 1, "{text}");
    assert!(
        text.contains(
            "! The outlet `old kettle socket` on the right wall, 880 mm along and 320 mm up, would be shut in behind the \
             drawers of right 1 cutlery."
        ),
        "{text}"
    );
    assert!(text.contains("a licensed electrician decide"), "{text}");
    let json = install_json(&installation);
    assert_eq!(json["shut_in"][0]["behind"], "drawers");
    assert_eq!(json["shut_in"][0]["along_mm"], 880.0);
    assert_eq!(json["assumes"].as_array().unwrap().len(), installation.assumes.len());
}

#[test]
fn editing_a_survey_keeps_its_comments() {
    let old = include_str!("../../assets/plans/old-house.ron");
    let set = |at: &str, value: &str| Edit::Set { at: at.parse().unwrap(), value: value.to_owned() };
    let gap = set("room.survey.right.readings[7].gap", "16");
    let (text, plan) = apply("old-house.ron", old, &gap).unwrap();
    assert_eq!(plan.room.survey.right.readings[7].gap, Length::mm(16.0));
    assert_eq!(text, old.replace("along: 650, height: 800, gap: 15", "along: 650, height: 800, gap: 16"));
    // A new reading goes below the last one, and a first survey into a plan without any.
    let insert = Edit::Insert {
        at: "room.survey.left.readings[5]".parse().unwrap(),
        value: "(along: 300, height: 150, gap: 15)".to_owned(),
    };
    let (text, plan) = apply("old-house.ron", &text, &insert).unwrap();
    assert_eq!(plan.room.survey.left.readings.len(), 6);
    assert_eq!(text.matches("//").count(), old.matches("//").count());
    let demo = include_str!("../../assets/plans/glazing-corner.ron");
    let (text, plan) = apply("demo.ron", demo, &set("room.survey.left.studs", "[400, 800]")).unwrap();
    assert_eq!(plan.room.survey.left.studs, Studs::At(vec![Length::mm(400.0), Length::mm(800.0)]));
    assert_eq!(text.matches("//").count(), demo.matches("//").count());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    // A room drawn with compass and ruler: four corners, measured exactly, give its angle back.
    #[test]
    fn exact_measures_of_any_room_agree_and_give_its_angle(
        degrees in 61.0..169.0_f64, left in 500.0..6000.0_f64, right in 500.0..6000.0_f64, far in 0.6..1.8_f64, skew in 0.3..0.7_f64,
    ) {
        let (sin, cos) = degrees.to_radians().sin_cos();
        let (l, r) = ([left, 0.0], [right * cos, right * sin]);
        // The corner opposite lies beyond the line through both ends.
        let on_line = [l[0] + (r[0] - l[0]) * skew, l[1] + (r[1] - l[1]) * skew];
        let q = on_line.map(|x| x * (1.0 + far));
        let distance = |a: [f64; 2], b: [f64; 2]| Length::mm((a[0] - b[0]).hypot(a[1] - b[1]));
        let corner = CornerMeasure::Diagonals {
            left: Length::mm(left),
            right: Length::mm(right),
            opposite_left: distance(r, q),
            opposite_right: distance(l, q),
            across: distance(l, r),
            through: distance([0.0, 0.0], q),
        };
        let found = corner.angle_deg().unwrap();
        prop_assert!((found - degrees).abs() < 1e-6, "{found}");
        let (through, slack) = corner.expected_through(Length::mm(1.0)).unwrap();
        prop_assert!((through - distance([0.0, 0.0], q)).abs() < Length::mm(1e-6));
        prop_assert!(slack >= Length::mm(1.0));
    }

    // A tape that is off by at most one reading is never called a contradiction.
    #[test]
    fn honest_errors_are_no_contradiction(
        degrees in 80.0..110.0_f64, left in 600.0..3000.0_f64, right in 600.0..3000.0_f64,
        off in prop::array::uniform3(-1.0..1.0_f64), bevel in -0.05..0.05_f64,
    ) {
        let across = (left * left + right * right - 2.0 * left * right * degrees.to_radians().cos()).sqrt();
        let [a, b, c] = [left + off[0], right + off[1], across + off[2]];
        let corner =
            CornerMeasure::Triangle { left: Length::mm(a), right: Length::mm(b), across: Length::mm(c) };
        let apart = (corner.angle_deg().unwrap() - (degrees + bevel)).abs();
        // First order: the sums of squares left out are below a hundredth of it.
        prop_assert!(apart <= corner.angle_slack_deg(Length::mm(1.0)) * 1.01, "{apart}");
    }
}
