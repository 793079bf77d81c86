//! What stands opposite a run and opens, sills and radiators: closed forms.

use elbowroom::clearance::map::Map;
use elbowroom::clearance::{self, Advice, Answer, FindingKind, OpenPassage};
use elbowroom::model::{Model, Mover};
use elbowroom::plan;
use elbowroom::report;

const WANTED: f64 = 12.0;
const REVEAL: f64 = 1.5;
/// Front plane 580, bumper 2, front 19.
const FACE: f64 = 601.0;
/// 580 to the corner of the front planes, a filler of 100, a unit of 900 and one of 450.
const RUN_ENDS: f64 = 2030.0;
const TRAVEL: f64 = 450.0;

const DRAWERS: &str = "Drawers(width: 450, fronts: Equal(2), pull: \"none\")";

fn text(obstacles: &str, last: &str, more: &str) -> String {
    format!(
        "(units: Millimetre, room: (left_wall: 2400, right_wall: 5000, obstacles: [{obstacles}]), \
         construction: (depth: 580, height: 870), pulls: {{\"none\": Absent}}, slides: {{\"s\": (length: {TRAVEL})}}, \
         left: (units: [Drawers(width: 900, fronts: Equal(3), pull: \"none\"), {last}]), \
         right: (units: [Drawers(width: 900, fronts: Equal(3), pull: \"none\")], ends_at: Open), \
         corner: (left: Fixed(100), right: Fixed(100)), clearance: (wanted: {WANTED}){more})"
    )
}

fn read(obstacles: &str, last: &str, more: &str) -> Answer {
    match plan::read("opposite.ron", &text(obstacles, last, more)) {
        Ok(plan) => clearance::answer(&plan),
        Err(problems) => panic!("{}", problems.lines().join("\n")),
    }
}

/// An island before the last unit alone, 21.5 away from the fronts of the one beside it.
fn island(out: f64, opens: &str) -> String {
    format!(
        "(name: \"island\", wall: Left, along: 1600, out: {out}, width: 410, depth: 600, height: 850, opens: [{opens}])"
    )
}

const DRAWER: &str = "Drawer(width: 410, above: 100, height: 700, pull: 30, opens_by: 400)";
/// From the island's face to the pull's outermost: 19 and 30.
const STANDS_OUT: f64 = 49.0;

fn opposite(model: &Model) -> &Mover {
    model.movers.iter().find(|mover| mover.belongs_to.is_some()).unwrap()
}

/// A drawer of the last unit of the left run.
fn own(model: &Model) -> &Mover {
    model.movers.iter().find(|mover| mover.unit == 1 && !mover.of_the_room).unwrap()
}

fn passage(answer: &Answer) -> (f64, OpenPassage) {
    let found = answer.advice.iter().find_map(|advice| match advice {
        Advice::Passage { room, open: Some(open), .. } => Some((room.to_mm(), *open)),
        _ => None,
    });
    found.unwrap()
}

#[track_caller]
fn near(got: f64, expected: f64, by: f64) {
    assert!((got - expected).abs() <= by, "{got} against {expected}");
}

// Two faces that come straight at each other, 1300 − 49 − 601 = 650 apart when shut: they conflict where a + b is more
// than 650 − 12.
#[test]
fn two_that_open_at_each_other_share_what_is_between_them() {
    let answer = read(&island(1300.0, DRAWER), DRAWERS, "");
    assert!(answer.is_clear(), "each opens alone: {:?}", answer.findings);
    let model = &answer.model;
    let map = Map::of(model, own(model).id, opposite(model).id);
    let both = 1300.0 - STANDS_OUT - FACE - WANTED;
    let free = map.leaves_free();
    near(free[0], both - 400.0, 0.02);
    near(free[1], both - TRAVEL, 0.02);
    assert!(map.exact && !map.both_open_fully());
    for (a, b) in [(300.0, both - 300.0 - 0.02), (450.0, both - 450.0 - 0.02), (both - 400.02, 400.0)] {
        assert!(map.conflict_at(a, b).is_none(), "{a} and {b}");
        assert!(map.conflict_at(a + 0.04, b).is_some() || a + 0.04 > TRAVEL, "{a} and {b}");
    }
    let maps = clearance::map::maps(model);
    let lines = report::maps_text(model, &maps).into_iter().map(|(_, line)| line).collect::<Vec<_>>().join("\n");
    assert!(lines.contains("with island 1, drawer out by up to 188 mm, left 2 drawer bank"), "{lines}");
    let json = report::check_json(&answer);
    let names: Vec<&str> = json["openings"].as_array().unwrap().iter().filter_map(|o| o["mover"].as_str()).collect();
    assert!(names.contains(&"island 1, drawer"), "{names:?}");
}

// 650 shut, 400 less with the island's open, 450 less with the run's, and nothing with both: 650 − 850 < 0.
#[test]
fn the_passage_is_told_with_each_side_open_and_with_both() {
    let answer = read(&island(1300.0, DRAWER), DRAWERS, "");
    let (room, open) = passage(&answer);
    near(room, 650.0, 1e-6);
    let (own_mover, run) = open.run.unwrap();
    assert_eq!((answer.model.mover(own_mover).unit, open.opposite.0), (1, opposite(&answer.model).id));
    near(run.to_mm(), 650.0 - TRAVEL, 1e-6);
    near(open.opposite.1.to_mm(), 650.0 - 400.0, 1e-6);
    near(open.both.to_mm(), 650.0 - 400.0 - TRAVEL, 1e-6);
    let advice = answer.advice.iter().find(|advice| matches!(advice, Advice::Passage { .. })).unwrap();
    let line = report::advice_line(&answer, advice);
    assert!(line.contains("island 1, drawer open 250 mm is left") && line.contains("both nothing is left"), "{line}");
    let json = report::check_json(&answer);
    let told = json["advice"].as_array().unwrap().iter().find(|a| a["kind"] == "passage").unwrap();
    near(told["open"]["both_mm"].as_f64().unwrap(), -200.0, 1e-6);
    near(told["open"]["opposite"]["has_mm"].as_f64().unwrap(), 250.0, 1e-6);
    // Farther off both go past each other.
    let wide = passage(&read(&island(1600.0, DRAWER), DRAWERS, ""));
    near(wide.1.both.to_mm(), 100.0, 1e-6);
}

// 1000 − 49 − 601 = 350 between them, shut. The island's drawer is one finding, against the unit; each of the two drawers
// one, against the island with all that is on it.
#[test]
fn what_opens_opposite_stops_at_the_run_and_what_opens_on_the_run_at_it() {
    let answer = read(&island(1000.0, DRAWER), DRAWERS, "");
    for mover in [own(&answer.model), opposite(&answer.model)] {
        let opening = &answer.openings[mover.id.0];
        near(opening.to_touch, 350.0, 1e-6);
        near(opening.to_wanted, 350.0 - WANTED, 1e-6);
    }
    let told: Vec<String> = answer.findings.iter().map(|finding| report::finding_line(&answer, finding)).collect();
    assert_eq!(answer.findings.len(), 3, "{told:?}");
    assert!(answer.findings.iter().all(|finding| finding.kind == FindingKind::Hits));
}

/// A door 410 wide with a pull 30 out, `opens_to` degrees.
fn door(opens_to: f64) -> String {
    format!("Door(width: 410, above: 100, height: 700, pull: 30, hinge: FarSide, opens_to: {opens_to})")
}

// The pull's corner at the free edge is (410, 30) from the line that the door turns about: turned by φ it stands
// 30 cos φ + 410 sin φ out, √(410² + 30²) at the most.
#[test]
fn a_door_opposite_takes_the_most_of_the_passage_on_its_way() {
    let turned = |degrees: f64| {
        let phi = degrees.to_radians();
        30.0 * phi.cos() + 410.0 * phi.sin()
    };
    for (opens_to, reach) in [(110.0, 410.0_f64.hypot(30.0)), (60.0, turned(60.0))] {
        let (_, open) = passage(&read(&island(1700.0, &door(opens_to)), DRAWERS, ""));
        near(open.opposite.1.to_mm(), 1700.0 - 19.0 - FACE - reach, 1e-6);
    }
}

// The same corner comes within 12 of the fronts, 360 before the door's face, at sin⁻¹ (348 / r) − tan⁻¹ (30 / 410).
#[test]
fn a_door_opposite_that_swings_against_the_run_is_a_finding() {
    let answer = read(&island(980.0, &door(95.0)), DRAWERS, "");
    let expected = ((980.0 - 19.0 - FACE - WANTED) / 410.0_f64.hypot(30.0)).asin() - 30.0_f64.atan2(410.0);
    let opening = &answer.openings[opposite(&answer.model).id.0];
    let got = opening.to_wanted;
    assert!(got <= expected + 1e-9 && (expected - got) * 410.0 < 0.05, "{got} against {expected}");
    assert!(answer.findings.iter().any(|finding| finding.mover == Some(opening.mover)));
}

// Fronts of one thing stand side by side and one above the other, and are in nobody's way but the run's.
#[test]
fn fronts_of_one_thing_do_not_disturb_each_other() {
    let fronts = "Drawer(width: 205, above: 500, height: 300, opens_by: 500), \
                  Drawer(from: 205, width: 205, above: 500, height: 300, pull: 30, opens_by: 500), \
                  Door(width: 205, height: 500, hinge: CornerSide, opens_to: 170, pull: 30), \
                  Door(from: 205, width: 205, height: 500, hinge: FarSide, opens_to: 170)";
    let answer = read(&island(1700.0, fronts), DRAWERS, "");
    assert!(answer.is_clear(), "{:?}", answer.findings);
    let maps = clearance::map::maps(&answer.model);
    let of_it = |map: &&Map| map.movers.iter().all(|&id| answer.model.mover(id).belongs_to.is_some());
    assert_eq!(maps.iter().filter(of_it).count(), 0);
}

#[test]
fn a_front_that_is_not_on_its_face_is_told_with_its_line() {
    for (out, opens, told) in [
        (1300.0, "Drawer(from: 20, width: 400, height: 200, opens_by: 400)", "which is `410` mm wide"),
        (1300.0, "Drawer(width: 400, above: 700, height: 200, opens_by: 400)", "above the obstacle's upper face"),
        (1300.0, "Drawer(width: 400, height: 200)", "lacks `opens_by`"),
        (1300.0, "Drawer(width: 400, height: 200, opens_by: 0)", "must be more than 0"),
        (1300.0, "Door(width: 400, height: 200, hinge: Top)", "`Top` is not one of the choices"),
        (40.0, "Drawer(width: 400, height: 200, pull: 30, opens_by: 400)", "`49` mm out before a face that is `40` mm"),
        (1300.0, "Flap(width: 400, height: 200)", "`Flap` is not one of the choices"),
    ] {
        let problems = plan::read("opposite.ron", &text(&island(out, opens), DRAWERS, "")).unwrap_err();
        let lines = problems.lines().join("\n");
        assert!(problems.list().len() == 1 && lines.contains(told), "{told}: {lines}");
    }
}

// What stands in the room asks nothing of the corner fillers.
#[test]
fn what_opens_opposite_leaves_the_least_fillers_alone() {
    let [with, without] = [DRAWER, ""].map(|opens| read(&island(1000.0, opens), DRAWERS, ""));
    for (a, b) in with.sides.iter().zip(&without.sides) {
        assert_eq!((a.least, a.decided_by.map(|c| c.gap)), (b.least, b.decided_by.map(|c| c.gap)));
    }
}

/// A sill 40 deep whose lower face lies so high.
fn sill(above: f64) -> String {
    format!("(name: \"sill\", wall: Left, along: 900, above: {above}, width: 800, depth: 40, height: 25)")
}

// 870 and a countertop of 30: a sill from 900 up lies on it, one any lower is where the countertop is.
#[test]
fn a_sill_just_above_a_countertop_fits_and_one_lower_does_not() {
    let top = ", countertop: (thickness: 30)";
    assert!(read(&sill(900.0), DRAWERS, top).is_clear());
    let answer = read(&sill(899.0), DRAWERS, top);
    let found: Vec<_> = answer.findings.iter().map(|finding| report::finding_line(&answer, finding)).collect();
    assert_eq!(answer.findings.len(), 1, "{found:?}");
    assert!(answer.findings[0].kind == FindingKind::Overlaps && found[0].contains("countertop"), "{found:?}");
}

/// A radiator beside the run's end, from `along` on.
fn radiator(along: f64) -> String {
    format!(
        "(name: \"radiator\", wall: Left, along: {along}, out: 40, above: 150, width: 300, depth: 100, height: 600)"
    )
}

#[test]
fn a_radiator_past_the_runs_end_stands_in_nobodys_way_and_one_behind_it_does() {
    assert!(read(&radiator(RUN_ENDS), DRAWERS, "").is_clear());
    let answer = read(&radiator(RUN_ENDS - 5.0), DRAWERS, "");
    assert_eq!(answer.findings.len(), 1, "{:?}", answer.findings);
    assert_eq!(answer.findings[0].kind, FindingKind::Overlaps);
}

// On the wall at the run's end, its face 70 past that: a door hinged there leans over by w · sin (φ − 90°), and stays 12
// away up to sin⁻¹ ((70 + 1.5 − 12) / w).
#[test]
fn a_radiator_on_the_end_wall_holds_a_door_that_leans_over_to_it() {
    let on_end =
        "(name: \"radiator\", wall: Left, along: 2100, out: 650, above: 150, width: 300, depth: 800, height: 600)";
    let door = "Door(width: 450, hinge: FarSide, opens_to: 110, pull: \"none\")";
    let answer = read(on_end, door, "");
    let wide = 450.0 - 2.0 * REVEAL;
    let expected = std::f64::consts::FRAC_PI_2 + ((2100.0 - RUN_ENDS + REVEAL - WANTED) / wide).asin();
    let opening = &answer.openings[own(&answer.model).id.0];
    let got = opening.to_wanted;
    assert!(got <= expected + 1e-9 && (expected - got) * wide < 0.05, "{got} against {expected}");
    assert_eq!(opening.stop, Some(got));
}

#[test]
fn solids_say_what_stands_behind_what_and_whose_front_it_is() {
    let plan = plan::read("wash-up.ron", include_str!("../../assets/plans/wash-up.ron")).unwrap();
    let answer = clearance::answer(&plan);
    let json = report::solids_json(&answer.model, &plan.clearance);
    let parts = json["parts"].as_array().unwrap();
    let of = |mover: &str| parts.iter().filter(|part| part["mover"] == mover).collect::<Vec<_>>();
    let shelves = parts.iter().filter(|part| part["behind"] == "right 2 store, door");
    assert_eq!(shelves.clone().count() % 3, 0);
    assert!(shelves.count() > 0);
    assert!(of("yard door").iter().all(|part| part["run"] == "left" && part["belongs_to"].is_null()));
    assert!(!of("yard door").is_empty());
    let table = of("wedging table 1, tools");
    assert_eq!(table.len(), 3, "a front, a pull and a box");
    assert!(table.iter().all(|part| part["belongs_to"] == "wedging table" && part["run"] == "left"));
}

#[test]
fn the_wash_up_corner_tells_what_table_and_run_leave_each_other() {
    let plan = plan::read("wash-up.ron", include_str!("../../assets/plans/wash-up.ron")).unwrap();
    let answer = clearance::answer(&plan);
    assert!(answer.is_clear(), "{:?}", answer.findings);
    let maps = clearance::map::maps(&answer.model);
    let of_table = |map: &&Map| map.movers.iter().any(|&id| answer.model.mover(id).belongs_to.is_some());
    assert!(maps.iter().filter(of_table).count() > 0);
    let (_, open) = passage(&answer);
    assert!(open.both < open.opposite.1 && open.opposite.1 > elbowroom::length::Length::ZERO);
}
