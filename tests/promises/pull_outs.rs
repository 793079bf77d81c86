//! A shelf behind a door comes out only when that is open far enough, and the check says how far.

use elbowroom::clearance::{self, Answer, free_travel};
use elbowroom::plan;
use elbowroom::report;

/// Side, slide and what it is packed out by.
fn beside(spacer: f64) -> f64 {
    18.0 + 12.7 + spacer - REVEAL
}
const REVEAL: f64 = 1.5;
const THICK: f64 = 19.0;

fn answer(width: f64, slide: f64, spacer: f64, opens_to: f64) -> Answer {
    let text = format!(
        "(units: Millimetre, room: (left_wall: 5000, right_wall: 5000), \
         pulls: {{\"none\": Absent}}, slides: {{\"s\": (length: {slide})}}, \
         left: (units: [Drawers(width: 900, fronts: Equal(3)), \
             Door(width: {width}, hinge: FarSide, opens_to: {opens_to}, pull_outs: (count: 2, spacer: {spacer}))], \
             ends_at: Open), \
         right: (units: [Drawers(width: 400, fronts: Equal(3))], ends_at: Open), \
         corner: (left: Fixed(200), right: Fixed(100)))"
    );
    match plan::read("pull-outs.ron", &text) {
        Ok(plan) => clearance::answer(&plan),
        Err(problems) => panic!("{}", problems.lines().join("\n")),
    }
}

/// The angle at which a door `wide` that turns about its outer edge just leaves free what lies from `beside` it on, out to
/// `reach` before its face. Its free back corner is w cos φ + t sin φ aside; where that lies further out than the shelf
/// comes, its back passes the shelf's near corner where d sin φ − L cos φ = t.
fn passes(wide: f64, beside: f64, reach: f64) -> f64 {
    let corner = THICK.atan2(wide) + (beside / wide.hypot(THICK)).acos();
    let corner_out = wide * corner.sin() - THICK * corner.cos();
    if corner_out <= reach { corner } else { reach.atan2(beside) + (THICK / beside.hypot(reach)).asin() }
}

#[test]
fn the_angle_is_that_of_the_door_s_free_corner_or_of_the_shelf_s_near_one() {
    for (width, slide, spacer) in [(400.0, 500.0, 0.0), (400.0, 500.0, 25.0), (600.0, 450.0, 0.0), (600.0, 350.0, 40.0)]
    {
        let answer = answer(width, slide, spacer, 130.0);
        // The shelf's front starts 7 behind the door's back, and the face is 19 before that.
        let reach = slide - 5.0 - 2.0 - THICK;
        let expected = passes(width - 2.0 * REVEAL, beside(spacer), reach);
        let shelves: Vec<_> = answer.openings.iter().filter(|opening| !opening.needs.is_empty()).collect();
        assert_eq!(shelves.len(), 2);
        for opening in shelves {
            let need = opening.needs[0];
            assert!(need.at_least >= expected - 1e-9, "{width}: {} is not open enough, {expected}", need.at_least);
            // 0.01 mm kept, and 0.01 mm of bound.
            assert!((need.at_least - expected) * 100.0 < 0.1, "{width}: {} against {expected}", need.at_least);
            assert!(need.is_met() && opening.is_clear(), "{:?}", answer.findings);
            let line = report::opening_line(&answer, opening);
            assert!(line.contains("comes out only when left 2 door unit, door is open to"), "{line}");
        }
        assert!(answer.is_clear(), "{:?}", answer.findings);
    }
}

// By hand: with the door a little further open the shelf comes out, with it a little less it does not.
#[test]
fn by_hand_the_shelf_comes_out_from_that_angle_on() {
    let answer = answer(450.0, 500.0, 10.0, 130.0);
    let model = &answer.model;
    for opening in answer.openings.iter().filter(|opening| !opening.needs.is_empty()) {
        let need = opening.needs[0];
        let goes = |angle: f64| {
            let mut outs = vec![0.0; model.movers.len()];
            outs[need.mover.0] = angle;
            free_travel(model, &outs, opening.mover, 0.0, opening.full).out
        };
        for more in [0.0, 0.001, 0.1, 0.5] {
            assert!((goes(need.at_least + more) - opening.full).abs() < 1e-9, "{more}");
        }
        assert!(goes(need.at_least - 0.003) < opening.full);
        // Behind the shut door it stands 7 off.
        assert!((goes(0.0) - 7.0).abs() < 1e-6, "{}", goes(0.0));
    }
}

#[test]
fn a_door_that_does_not_open_far_enough_is_a_finding() {
    let answer = answer(450.0, 500.0, 0.0, 80.0);
    let shelf = answer.openings.iter().find(|opening| !opening.needs.is_empty()).unwrap();
    assert!(!shelf.needs[0].is_met() && shelf.needs[0].at_least.is_infinite());
    assert!(!shelf.is_clear());
    assert_eq!(answer.findings.len(), 2, "{:?}", answer.findings);
    let line = report::opening_line(&answer, shelf);
    assert!(line.contains("is in its way however far it opens"), "{line}");
    // It goes to the back of the door as that stands: at the shelf's near corner d sin φ − n cos φ = t, n before the face.
    let (turned, beside) = (80.0_f64.to_radians(), beside(0.0));
    let met = (beside * turned.sin() - THICK) / turned.cos();
    // The face lies 19 + 7 before the shelf's front.
    assert!((shelf.to_touch - (met + THICK + 7.0)).abs() < 0.1, "{} against {}", shelf.to_touch, met + THICK + 7.0);
}

#[test]
fn json_says_what_must_be_open_first() {
    let json = report::check_json(&answer(450.0, 500.0, 10.0, 130.0));
    let needs: Vec<_> =
        json["openings"].as_array().unwrap().iter().filter(|o| o["needs"] != serde_json::json!([])).collect();
    assert_eq!(needs.len(), 2);
    for opening in needs {
        let need = &opening["needs"][0];
        assert_eq!(need["mover"], "left 2 door unit, door");
        assert_eq!(need["met"], true);
        assert!(need["at_least"]["deg"].as_f64().unwrap() > 80.0);
        assert!((need["reaches"]["deg"].as_f64().unwrap() - 130.0).abs() < 1e-9);
    }
}
