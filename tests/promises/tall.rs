//! Tall units and tall end panels: sizes by hand, where the countertop ends, what opens past them, what is refused, and how
//! they are stood up and set. The sums are done by hand; how a tall unit is built is common practice, no source.

use elbowroom::clearance::{self, Advice, Answer};
use elbowroom::command::{self, ListStyle, Style};
use elbowroom::cutting::parts::cut_list;
use elbowroom::install::Set;
use elbowroom::length::Length;
use elbowroom::model::{Model, Part, Role, Vec3, hung_on};
use elbowroom::plan::{self, Plan, Side};
use elbowroom::report;

use crate::plans::{EXAMPLES, close};

const BAR: &str = "\"bar\": Bar(length: 160, projection: 35)";

/// A run of drawers and then `last`, the other of one bank; frameless, 870 high and 580 deep, fillers of 100.
fn text(last: &str, room: &str) -> String {
    format!(
        "(units: Millimetre, room: (left_wall: 3000, right_wall: 3000{room}), \
         construction: (height: 870, depth: 580, kick_height: 100, panel: 18), countertop: (thickness: 30, overhang: 20), \
         pulls: {{{BAR}}}, slides: {{\"s\": (length: 450)}}, \
         left: (units: [Drawers(width: 800, fronts: Equal(3)), {last}], ends_at: Open), \
         right: (units: [Drawers(width: 800, fronts: Equal(3))], ends_at: Open), \
         corner: (left: Fixed(100), right: Fixed(100)), clearance: (wanted: 10))"
    )
}

fn read(last: &str) -> Plan {
    plan::read("tall.ron", &text(last, "")).unwrap_or_else(|problems| panic!("{}", problems.lines().join("\n")))
}

fn answer(last: &str) -> Answer {
    clearance::answer(&read(last))
}

fn faults(last: &str, room: &str) -> String {
    plan::read("tall.ron", &text(last, room)).unwrap_err().lines().join("\n")
}

const LARDER: &str = "Door(name: \"larder\", width: 600, height: 2100)";

fn part<'m>(model: &'m Model, name: &str) -> &'m Part {
    let names = || model.parts.iter().map(|part| part.name.as_str()).collect::<Vec<_>>();
    model.parts.iter().find(|part| part.name == name).unwrap_or_else(|| panic!("{name} among {:?}", names()))
}

fn extent(model: &Model, name: &str, axis: Vec3) -> [f64; 2] {
    part(model, name).extent(axis)
}

// The door: 2100 less the kick of 100 and the reveal above of 3, the unit's 600 less two reveals of 1.5. A top closes the
// carcass, which the run's stretchers do not.
#[test]
fn a_tall_unit_is_as_high_as_it_says_and_is_closed_above() {
    let answer = answer(LARDER);
    assert!(answer.is_clear(), "{:?}", answer.findings);
    let model = &answer.model;
    for (name, low, high) in [
        ("left 2 larder, near side", 0.0, 2100.0),
        ("left 2 larder, back", 100.0, 2100.0),
        ("left 2 larder, top", 2082.0, 2100.0),
        ("left 2 larder, top nailer", 1982.0, 2082.0),
        ("left 2 larder, bottom nailer", 118.0, 218.0),
        ("left 2 larder, door", 100.0, 2097.0),
        ("left 1 drawer bank, near side", 0.0, 870.0),
    ] {
        let [from, to] = extent(model, name, Vec3::Z);
        assert!((from - low).abs() < 1e-9 && (to - high).abs() < 1e-9, "{name}: {from} to {to}");
    }
    let stretchers = |unit: usize| {
        let own = |part: &&Part| part.run == Some(Side::Left) && part.unit == Some(unit);
        model.parts.iter().filter(own).filter(|part| part.role == Role::Stretcher).count()
    };
    assert_eq!((stretchers(0), stretchers(1)), (2, 0));
    let list = cut_list(model);
    let door =
        list.rows().find(|row| row.parts.iter().any(|&id| model.part(id).name == "left 2 larder, door")).unwrap();
    let mut size = door.cut.map(Length::to_mm);
    size.sort_by(f64::total_cmp);
    assert_eq!(size, [19.0, 597.0, 1997.0]);
    // Up to 900 mm a door hangs on two hinges, up to 1,800 on three, this one on four: common practice, no source.
    assert_eq!(hung_on(model, &read(LARDER))[0].1, 4);
}

// The corner of the front planes lies 580 out, and the run begins 100 farther: 680, then 800 of drawers.
#[test]
fn the_countertop_ends_at_its_side_and_none_lies_over_it() {
    let answer = answer(LARDER);
    let (model, along) = (&answer.model, answer.model.run(Side::Left).along);
    close(extent(model, "left 2 larder, near side", along)[0], 1480.0, 1e-9);
    close(extent(model, "left countertop", along)[1], 1480.0, 1e-9);
    let tops = |part: &&Part| part.role == Role::Countertop && part.run == Some(Side::Left);
    assert_eq!(model.parts.iter().filter(tops).count(), 1);
    // Between two low ones it parts the countertop.
    let plan = read(&format!("{LARDER}, Drawers(name: \"low\", width: 400, fronts: Equal(2))"));
    let model = Model::build(&plan, clearance::least_fillers(&plan));
    close(extent(&model, "left countertop, piece 2", along)[0], 2080.0, 1e-9);
    close(extent(&model, "left countertop, piece 2", along)[1], 2480.0, 1e-9);
}

// The pull's middle at 950 above the door's lower edge, not 75 below its upper one.
#[test]
fn a_tall_door_has_its_pull_within_reach() {
    let answer = answer(LARDER);
    let [low, high] = extent(&answer.model, "left 2 larder, door pull", Vec3::Z);
    close(f64::midpoint(low, high), 1050.0, 1e-9);
}

#[test]
fn what_opens_is_judged_over_the_whole_height() {
    // A shelf on the wall at 1.5 m that a base door would pass under: 400 before the larder's door.
    let shelf = ", obstacles: [(name: \"shelf\", wall: Left, along: 1400, out: 900, above: 1500, width: 900, depth: 200, \
                 height: 40)]";
    let plan = |last: &str| match plan::read("tall.ron", &text(last, shelf)) {
        Ok(plan) => plan,
        Err(problems) => panic!("{}", problems.lines().join("\n")),
    };
    let low = clearance::answer(&plan("Door(name: \"larder\", width: 600)"));
    assert!(low.is_clear(), "{:?}", low.findings);
    let tall = clearance::answer(&plan(LARDER));
    let told: Vec<String> = tall.findings.iter().map(|finding| report::finding_line(&tall, finding)).collect();
    assert!(told.iter().any(|line| line.contains("larder, door") && line.contains("shelf")), "{told:?}");
}

#[test]
fn a_height_that_cannot_be_is_told_with_what_would_be_right() {
    for (last, room, told) in [
        ("Door(width: 600, height: 800)", "", "the unit's height `800` mm must not be less than the run's, `870` mm"),
        (LARDER, ", ceiling: 2050", "the unit's height `2100` mm must be less than the ceiling's, `2050` mm"),
        ("EndPanel(height: 2500)", ", ceiling: 2400", "must be less than the ceiling's"),
        (
            "EndPanel(height: 2100)",
            "",
            "the panel's height `2100` mm is more than that of what stands beside it, `870` mm",
        ),
        ("Drawers(width: 600, height: 2100, fronts: [Rest, 900, 1200])", "", "must be more than 0"),
        ("OpenShelves(width: 600, height: 1000, shelves: 40)", "", "`40` shelves are more than fit"),
    ] {
        let lines = faults(last, room);
        assert!(lines.contains(told), "{last}: {lines}");
    }
    let first = text("EndPanel()", "")
        .replace("right: (units: [Drawers(width: 800,", "right: (units: [Drawers(width: 800, height: 1200,");
    let lines = plan::read("tall.ron", &first).unwrap_err().lines().join("\n");
    assert!(lines.contains("and it stands at the corner"), "{lines}");
}

// 2100 high and 580 deep: √(2100² + 580²) = 2178.6. On a base of its own the box is 2000 high: 2082.4.
#[test]
fn whether_it_can_be_stood_up_under_the_ceiling_is_told() {
    let raising = |base: &str, ceiling: f64| {
        let text = text(LARDER, &format!(", ceiling: {ceiling}"))
            .replace("construction: (", &format!("construction: ({base}"));
        let plan = plan::read("tall.ron", &text).unwrap_or_else(|problems| panic!("{}", problems.lines().join("\n")));
        let answer = clearance::answer(&plan);
        let advice = answer.advice.iter().find(|advice| matches!(advice, Advice::Raising { .. })).copied().unwrap();
        let Advice::Raising { wanted, .. } = advice else { unreachable!() };
        (wanted.to_mm(), advice.is_short(), report::advice_line(&answer, &advice))
    };
    let (wanted, is_short, line) = raising("", 2178.0);
    close(wanted, 2178.6, 0.05);
    assert!(
        is_short && line.contains("left 2 larder, stood up") && line.contains("less: build it in two parts"),
        "{line}"
    );
    assert!(!raising("", 2179.0).1);
    let (wanted, is_short, _) = raising("base: LevelledBase, ", 2150.0);
    close(wanted, 2082.4, 0.05);
    assert!(!is_short);
    // Nothing tall, nothing to stand up.
    assert!(!answer("EndPanel()").advice.iter().any(|advice| matches!(advice, Advice::Raising { .. })));
}

// The wall leans in by 12 mm at 2000, and by nothing at the run's top: only the tall unit touches it up there, so with it
// the left run stands 12.6 off (12 at 2000, in a straight line on to 2100) where without it touches at the floor.
#[test]
fn a_leaning_wall_holds_a_tall_unit_off() {
    let survey = ", survey: (left: (readings: [(along: 0, height: 0, gap: 20), (along: 3000, height: 0, gap: 20), \
                  (along: 0, height: 1000, gap: 20), (along: 3000, height: 1000, gap: 20), \
                  (along: 0, height: 2100, gap: 8), (along: 3000, height: 2100, gap: 8)]))";
    let stands = |last: &str| {
        let plan = plan::read("tall.ron", &text(last, survey)).unwrap_or_else(|p| panic!("{}", p.lines().join("\n")));
        let model = Model::build(&plan, clearance::least_fillers(&plan));
        let set = Set::of(&plan, &model);
        let gap = set.gap(Side::Left, Length::mm(1000.0), Length::mm(500.0)).to_mm();
        (gap, set.run(Side::Left).touches.height.to_mm())
    };
    let (low, _) = stands("Door(name: \"larder\", width: 600)");
    let (tall, at) = stands(LARDER);
    close(tall - low, 12.0, 0.01);
    close(at, 2100.0, 0.01);
}

// A refrigerator at the corner stands behind a panel as high as itself, and the countertop goes round before that.
#[test]
fn a_tall_panel_may_hold_the_filler_beside_a_tall_appliance() {
    let fridge = "EndPanel(height: 1800), ApplianceSpace(width: 600, appliance: \"refrigerator\", height: 1780)";
    let plan = plan::read(
        "tall.ron",
        &text("Drawers(width: 600, fronts: Rest)", "")
            .replace("right: (units: [Drawers(width: 800, fronts: Equal(3))]", &format!("right: (units: [{fridge}]"))
            .replace("fronts: Rest", "fronts: [Rest]"),
    );
    // 20 mm higher than what it closes is too much; as high is right.
    let lines = plan.unwrap_err().lines().join("\n");
    assert!(lines.contains("`1800` mm is more than that of what stands beside it, `1780` mm"), "{lines}");
    let text = text("Drawers(width: 600, fronts: [Rest])", "").replace(
        "right: (units: [Drawers(width: 800, fronts: Equal(3))]",
        &format!("right: (units: [{}]", fridge.replace("height: 1800", "height: 1780")),
    );
    let answer = clearance::answer(&plan::read("tall.ron", &text).unwrap());
    assert!(answer.is_clear(), "{:?}", answer.findings);
    assert_eq!(extent(&answer.model, "right 1 end panel, panel", Vec3::Z)[1], 1780.0);
}

#[test]
fn it_is_set_by_two_and_told_everywhere() {
    let text = EXAMPLES.iter().find(|(name, _)| *name == "bay-seat.ron").unwrap().1;
    let plan = plan::read("bay-seat.ron", text).unwrap();
    let answer = clearance::answer(&plan);
    let model = &answer.model;
    assert_eq!(extent(model, "right 3 books, far side", Vec3::Z)[1], 2000.0);
    assert_eq!(extent(model, "right 4 end panel, panel", Vec3::Z)[1], 2000.0);
    let said = command::check("bay-seat.ron", text, Style::Plain).unwrap().text;
    assert!(said.contains("right 3 books, stood up from lying down"), "{said}");
    let json: serde_json::Value =
        serde_json::from_str(&command::check("bay-seat.ron", text, Style::Json).unwrap().text).unwrap();
    assert!(json["advice"].as_array().unwrap().iter().any(|advice| advice["kind"] == "raising"));
    let lists = command::parts("bay-seat.ron", text, None, ListStyle::Lines(Style::Plain)).unwrap().text;
    assert!(lists.contains("right 3 books: 40.8 kg of carcass; two people"), "{lists}");
    let set = command::install("bay-seat.ron", text, None, Style::Plain).unwrap().text;
    assert!(set.contains("It stands higher than the run and tips sooner: two people raise it"), "{set}");
    assert_eq!(set.matches("It stands higher than the run").count(), 1);
    assert!(
        set.contains("those screws are its anchor for good") && set.contains("anchor it for good, high up"),
        "{set}"
    );
    assert!(set.contains("the tops of all units under the countertop"), "{set}");
    // Its upper nailer has gaps at its own ends alone.
    let json = command::install("bay-seat.ron", text, None, Style::Json).unwrap().text;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let run = json["setting"]["chosen"]["runs"].as_array().unwrap().iter().find(|run| run["side"] == "right").unwrap();
    assert_eq!(run["nailers"][0]["name"], "top nailer of books");
    let ends: Vec<bool> = run["unit_ends"].as_array().unwrap().iter().map(|end| !end["gaps_mm"][0].is_null()).collect();
    assert_eq!(ends, [false, false, true, true, false]);
}
