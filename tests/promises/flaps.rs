//! Doors that lift up or drop down, and appliances that open: closed forms of a circle seen from the side.

use elbowroom::clearance::{self, Advice, Answer};
use elbowroom::model::Motion;
use elbowroom::plan;
use elbowroom::report;

const WANTED: f64 = 12.0;
/// Front plane, bumper and front.
const FACE: f64 = 580.0 + 2.0 + 19.0;

fn answer(unit: &str, obstacle: &str) -> Answer {
    let text = format!(
        "(units: Millimetre, room: (left_wall: 5000, right_wall: 5000, obstacles: [{obstacle}]), \
         pulls: {{\"none\": Absent}}, slides: {{\"s\": (length: 450)}}, \
         left: (units: [Drawers(width: 900, fronts: Equal(3)), {unit}], ends_at: Open), \
         right: (units: [Drawers(width: 900, fronts: Equal(3))], ends_at: Open), \
         corner: (left: Fixed(300), right: Fixed(100)), clearance: (wanted: {WANTED}))"
    );
    match plan::read("flaps.ron", &text) {
        Ok(plan) => clearance::answer(&plan),
        Err(problems) => panic!("{}", problems.lines().join("\n")),
    }
}

/// The one that turns.
fn turned(answer: &Answer) -> f64 {
    let turns =
        |opening: &&clearance::Opening| matches!(answer.model.mover(opening.mover).motion, Motion::Swing { .. });
    answer.openings.iter().find(turns).unwrap().to_wanted
}

/// Where a face that turns about the edge (0, 0), first upright, comes within 12 of an edge `before` it and `off` towards
/// its free end: before cos φ − off sin φ = 12.
fn expected(before: f64, off: f64) -> f64 {
    (WANTED / before.hypot(off)).acos() - off.atan2(before)
}

#[track_caller]
fn on_the_safe_side(got: f64, expected: f64, height: f64) {
    assert!(got <= expected + 1e-9, "{got} is past {expected}");
    assert!((expected - got) * height < 0.05, "{got} against {expected}");
}

// A crate stands on the floor before it, its upper near edge 300 before the door's face and 150 above its lower edge.
#[test]
fn a_door_that_drops_down_comes_down_on_what_stands_before_it() {
    let crate_before = |face: f64, bottom: f64| {
        format!(
            "(name: \"crate\", wall: Left, along: 1850, out: {}, width: 500, depth: 300, height: {})",
            face + 300.0,
            bottom + 150.0
        )
    };
    let door = answer("Door(width: 600, hinge: Bottom)", &crate_before(FACE, 100.0));
    on_the_safe_side(turned(&door), expected(300.0, 150.0), 767.0);
    let dishwasher = "ApplianceSpace(width: 600, depth: 600, height: 850, door: (bottom: 120, thickness: 25))";
    let appliance = answer(dishwasher, &crate_before(600.0, 120.0));
    on_the_safe_side(turned(&appliance), expected(300.0, 150.0), 730.0);
    let hits = |answer: &Answer| answer.findings.iter().any(|f| answer.model.part(f.other).name == "crate");
    assert!(hits(&door) && hits(&appliance));
}

// A bracket hangs 250 before the door's face, its lower near edge 200 below the door's upper edge, 867 above the floor.
#[test]
fn a_door_that_lifts_up_goes_up_under_what_hangs_before_it() {
    let bracket = format!(
        "(name: \"bracket\", wall: Left, along: 1850, out: {}, above: 667, width: 500, depth: 200, height: 400)",
        FACE + 250.0
    );
    let answer = answer("Door(width: 600, hinge: Top)", &bracket);
    on_the_safe_side(turned(&answer), expected(250.0, 200.0), 767.0);
}

#[test]
fn a_door_that_drops_down_level_is_clear_with_nothing_before_it() {
    for hinge in ["Bottom", "Top"] {
        let answer = answer(&format!("Door(width: 600, hinge: {hinge})"), "");
        assert!(answer.is_clear(), "{hinge}: {:?}", answer.findings);
    }
}

fn at_the_corner(panel: &str, filler: f64) -> Answer {
    let text = format!(
        "(units: Millimetre, room: (left_wall: 4000, right_wall: 4000), \
         pulls: {{\"knob\": Knob(across: 30, projection: 28)}}, slides: {{\"s\": (length: 450)}}, \
         left: (units: [{panel}ApplianceSpace(width: 604, body_width: 598, depth: 600, height: 850, handle: 45, \
             appliance: \"dishwasher\", door: (bottom: 110, thickness: 25))], ends_at: Open), \
         right: (units: [Drawers(width: 1200, fronts: Equal(3))], ends_at: Open), \
         corner: (left: Fixed({filler}), right: Fixed(100)))"
    );
    clearance::answer(&plan::read("corner.ron", &text).unwrap())
}

#[test]
fn an_appliance_at_the_corner_wants_a_panel_before_it() {
    let wants = |answer: &Answer| answer.advice.iter().any(|a| matches!(a, Advice::SupportPanel { .. }));
    assert!(wants(&at_the_corner("", 90.0)));
    assert!(!wants(&at_the_corner("EndPanel, ", 90.0)));
    let lines: Vec<String> = report::text(&at_the_corner("", 90.0)).into_iter().map(|(_, line)| line).collect();
    assert!(lines.iter().any(|line| line.contains("put an end panel before it, first in the left run")), "{lines:?}");
}

// From the door's edge: half of what the space is wider, the panel and the filler, less the right run's bumper, front and
// knob, which lies within the door's reach.
#[test]
fn the_room_to_stand_beside_an_open_dishwasher_is_told() {
    for (filler, short) in [(90.0, true), (560.9, true), (561.1, false)] {
        let answer = at_the_corner("EndPanel, ", filler);
        let Some(Advice::StandingRoom { room, other, .. }) = answer.advice.first() else {
            panic!("{:?}", answer.advice)
        };
        let expected = 3.0 + 18.0 + filler - (2.0 + 19.0 + 28.0);
        assert!((room.to_mm() - expected).abs() < 1e-6, "{room:?} against {expected}");
        assert!(answer.model.part(*other).name.contains("pull"), "{}", answer.model.part(*other).name);
        // 21 in, here 533 mm, from a kitchen planning guideline; from memory.
        assert_eq!(answer.advice[0].is_short(), short);
    }
}

// The handle goes with the door: from 645 before the back plane, 670 above the door's lower edge, level it is further down.
#[test]
fn a_handle_goes_with_its_door() {
    let answer = at_the_corner("EndPanel, ", 90.0);
    let mover = answer.model.movers.iter().find(|m| m.name.contains("door of dishwasher")).unwrap();
    let handle = mover.parts.iter().map(|&id| answer.model.part(id)).find(|p| p.name.contains("handle")).unwrap();
    let lowest = |out: f64| {
        let carried =
            handle.pieces.iter().flat_map(elbowroom::model::Convex::vertices).map(|v| mover.motion.carry(v, out).z);
        carried.fold(f64::INFINITY, f64::min)
    };
    // Level, the face looks down: the handle hangs 45 below the line that the door turns about.
    assert!((lowest(mover.motion.extent()) - (110.0 - 45.0)).abs() < 0.1, "{}", lowest(mover.motion.extent()));
    assert!(lowest(0.0) > 700.0);
}
