//! Doors turn about their hinges' pin: closed forms of circles about it. Common practice, no source: the sums a
//! cabinetmaker does with a compass.

use elbowroom::clearance::{self, Answer};
use elbowroom::plan;
use elbowroom::report;

/// The face of the door is this wide, the plane that it turns toward is the right run's front plane.
const DOOR: f64 = 500.0 - 2.0 * (18.0 + GAP);
const GAP: f64 = 2.5;
const DEPTH: f64 = 580.0;

/// An inset door in the left run, hinged on its corner side, with nothing near it but the right run's fronts.
fn answer(hinges: &str, filler: f64, opens_to: f64) -> Answer {
    let text = format!(
        "(units: Millimetre, room: (left_wall: 4000, right_wall: 4000), \
         construction: (fronts: Inset, gap: {GAP}, hinges: {hinges}), \
         pulls: {{\"none\": Absent}}, slides: {{\"s\": (length: 450)}}, \
         left: (units: [Door(width: 500, hinge: CornerSide, opens_to: {opens_to})], ends_at: Open), \
         right: (units: [Drawers(width: 900, fronts: Equal(3))], ends_at: Open), \
         corner: (left: Fixed({filler}), right: Fixed(60)), clearance: (wanted: 12))"
    );
    clearance::answer(&plan::read("hinges.ron", &text).unwrap())
}

/// Each kind, with its pin: in from the door's edge, and behind its face.
fn kinds() -> [(&'static str, f64, f64); 4] {
    let concealed = (1.2_f64 * 1.2 + 2.0 * 5.0 * 1.2).sqrt();
    [
        ("FaceEdge", 0.0, 0.0),
        ("Concealed(cup: 5, least_reveal: 1.2)", 5.0, concealed),
        ("Butt(pin_out: 6)", -GAP / 2.0, -6.0),
        ("Knife(inset: 9, behind: -4)", 9.0, -4.0),
    ]
}

// The free corner of the outer face lies (w − a, b) from the pin, along the run and out. Turned by φ it is
// (w − a) cos φ − b sin φ along the run from the pin; that must stay 12 before the plane of the other run's fronts, which
// lies `filler + 18 + gap + a` behind the pin.
#[test]
fn a_door_hinged_at_the_corner_needs_a_stop_where_its_circle_meets_the_other_fronts() {
    for (hinges, a, b) in kinds() {
        for filler in [30.0, 75.0] {
            let answer = answer(hinges, filler, 170.0);
            let stop = answer.openings[0].stop.unwrap();
            let before = 12.0 - (filler + 18.0 + GAP + a);
            let along = DOOR - a;
            let expected = (before / along.hypot(b)).acos() - b.atan2(along);
            assert!(stop <= expected + 1e-9, "{hinges}: {stop} is past {expected}");
            assert!((expected - stop) * DOOR < 0.05, "{hinges}: {stop} against {expected}");
            let door = answer.model.mover(answer.openings[0].mover).name.clone();
            let line = report::opening_line(&answer, &answer.openings[0]);
            assert!(line.starts_with(&door) && line.contains("set a stop at"), "{line}");
            let json = report::check_json(&answer);
            let told = json["openings"][0]["stop"]["deg"].as_f64().unwrap();
            assert!((told - stop.to_degrees()).abs() < 1e-9);
        }
    }
}

#[test]
fn a_door_with_its_stop_is_clear_and_needs_no_other() {
    for (hinges, ..) in kinds() {
        let stop = answer(hinges, 30.0, 170.0).openings[0].stop.unwrap().to_degrees();
        let stopped = answer(hinges, 30.0, stop - 1e-6);
        assert_eq!(stopped.openings[0].stop, None, "{hinges}");
        assert!(stopped.is_clear(), "{hinges}: {:?}", stopped.findings);
    }
}

// The corner of the outer face lies (−a, b) from the pin and goes a cos φ + b sin φ − a beyond the door's edge. Where the
// gap is less than the sheet's least reveal it meets the side that it hangs on.
#[test]
fn a_gap_smaller_than_the_least_reveal_is_found_at_the_angle_where_the_edge_meets_the_side() {
    let (cup, reveal) = (5.0_f64, 4.0_f64);
    let b = (reveal * reveal + 2.0 * cup * reveal).sqrt();
    let answer = answer("Concealed(cup: 5, least_reveal: 4)", 400.0, 95.0);
    let opening = &answer.openings[0];
    let beyond = |turned: f64| cup * turned.cos() + b * turned.sin() - cup;
    let met = opening.touches_first.unwrap();
    assert!(answer.model.part(met.other).name.contains("side"), "{}", answer.model.part(met.other).name);
    // Drawn in by 0.01 mm on both faces of the corner, the door meets the side that much later at most.
    let at = beyond(opening.to_touch);
    assert!(at > GAP - 0.01 && at < GAP + 0.05, "{at}");
    // With a gap that takes it, it opens.
    let fits = answer_with_reveal(2.4);
    assert!(fits.openings[0].is_clear(), "{:?}", fits.findings);
}

fn answer_with_reveal(reveal: f64) -> Answer {
    answer(&format!("Concealed(cup: 5, least_reveal: {reveal})"), 400.0, 95.0)
}

// A door's own hinges go before the construction's.
#[test]
fn a_door_may_hang_on_its_own_hinges() {
    let text = |own: &str| {
        format!(
            "(units: Millimetre, room: (left_wall: 4000, right_wall: 4000), construction: (hinges: Butt(pin_out: 3)), \
             pulls: {{\"none\": Absent}}, slides: {{\"s\": (length: 450)}}, \
             left: (units: [Door(width: 500{own})], ends_at: Open), \
             right: (units: [Drawers(width: 900, fronts: Equal(3))], ends_at: Open))"
        )
    };
    let pin = |own: &str| {
        let answer = clearance::answer(&plan::read("own.ron", &text(own)).unwrap());
        match answer.model.movers[0].motion {
            elbowroom::model::Motion::Swing { hinge, .. } => hinge.y,
            elbowroom::model::Motion::Slide { .. } => panic!("a door slides"),
        }
    };
    // The face lies 580 + 2 + 19 out; the pins 3 before it and 8 behind it.
    assert!((pin("") - (DEPTH + 24.0)).abs() < 1e-9);
    assert!((pin(", hinges: Knife(inset: 10, behind: 8)") - (DEPTH + 13.0)).abs() < 1e-9);
}

// Everything that is wrong with hinges, flaps, pull-out shelves and a room's door, all at once.
#[test]
fn what_cannot_be_hung_is_told_with_its_place() {
    let text = r#"(
        units: Millimetre,
        room: (left_wall: 4000, right_wall: 4000, doors: [(wall: Left, along: 3000, width: 0, opens_to: 190)]),
        construction: (hinges: Concealed(cup: 5, least_reveal: 30)),
        pulls: {"none": Absent}, slides: {"s": (length: 450)},
        left: (units: [
            Door(width: 500, hinges: Butt(pin_out: -1)),
            Door(width: 500, pull_outs: (count: 30)),
            Door(width: 500, pull_outs: (count: 2, box_height: 400, spacer: 230)),
        ]),
        right: (units: [
            Door(width: 500, hinge: Middle),
            ApplianceSpace(width: 600, above: 60, door: (bottom: 20, thickness: 700, opens_to: 0)),
            Door(width: 500, hinges: Strap),
        ]),
    )"#;
    let lines = plan::read("bad.ron", text).unwrap_err().lines();
    for part in [
        "the door's width `0` mm must be more than 0",
        "the door opens to `190` degrees",
        "the least reveal `30` mm would put the pin",
        "the pin's distance from the face `-1` mm must not be less than 0",
        "`30` pull-out shelves are not between 1 and 20",
        "a pull-out shelf would be",
        "a pull-out shelf's height `400` mm must not be more than its space takes",
        "`Middle` is not one of the choices here",
        "the door's lower edge `20` mm must lie between",
        "the door's thickness `700` mm must be less than",
        "the door opens to `0` degrees",
        "`Strap` is not one of the choices here",
    ] {
        assert!(lines.iter().any(|line| line.contains(part)), "{part} is not in\n{}", lines.join("\n"));
    }
    assert_eq!(lines.len(), 12, "{}", lines.join("\n"));
}
