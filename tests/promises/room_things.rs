//! What a run must leave at its far end, doors of the room, and the passage before a run: closed forms.

use elbowroom::clearance::{self, Advice, Answer, FindingKind};
use elbowroom::plan::{self, Side};
use elbowroom::report;

const WANTED: f64 = 12.0;
const REVEAL: f64 = 1.5;

fn read(room: &str, left: &str, ends_at: &str) -> Answer {
    let text = format!(
        "(units: Millimetre, room: (left_wall: 2400, right_wall: 5000{room}), \
         pulls: {{\"none\": Absent, \"bar\": Bar(length: 160, projection: 35)}}, slides: {{\"s\": (length: 450)}}, \
         left: (units: [Drawers(width: 900, fronts: Equal(3), pull: \"none\"), {left}], ends_at: {ends_at}), \
         right: (units: [Drawers(width: 900, fronts: Equal(3), pull: \"none\")], ends_at: Open), \
         corner: (left: Fixed(100), right: Fixed(100)), clearance: (wanted: {WANTED}))"
    );
    match plan::read("room.ron", &text) {
        Ok(plan) => clearance::answer(&plan),
        Err(problems) => panic!("{}", problems.lines().join("\n")),
    }
}

fn needs(answer: &Answer) -> Option<f64> {
    answer.side(Side::Left).far_end.map(|need| need.least.to_mm())
}

// A drawer keeps its own reveal from the wall beside it: 12 − 1.5 more is needed.
#[test]
fn a_drawer_beside_an_end_wall_needs_the_clearance_wanted_less_its_reveal() {
    let answer = read("", "Drawers(width: 500, fronts: Equal(2), pull: \"none\")", "Wall");
    assert!((needs(&answer).unwrap() - (WANTED - REVEAL)).abs() < 1e-6, "{:?}", needs(&answer));
}

// Hinged beside the wall and opened to φ > 90°, the door leans over toward it: its free corner by w · cos (180° − φ)
// beyond the edge that it turns about. The face's own thickness lies on the other side of it.
#[test]
fn a_door_hinged_beside_an_end_wall_needs_what_it_leans_over() {
    for degrees in [95.0_f64, 110.0, 135.0] {
        let door = format!("Door(width: 450, hinge: FarSide, opens_to: {degrees}, pull: \"none\")");
        let answer = read("", &door, "Wall");
        let wide = 450.0 - 2.0 * REVEAL;
        let expected = WANTED - REVEAL - wide * degrees.to_radians().cos();
        let got = needs(&answer).unwrap();
        assert!(got >= expected - 1e-9 && got - expected < 0.03, "{got} against {expected}");
        // 370 are left of the wall: enough for all of these.
        assert!(answer.is_clear(), "{:?}", answer.findings);
        let lines = report::side_lines(&answer, answer.side(Side::Left));
        assert!(lines.iter().any(|line| line.starts_with("what opens needs")), "{lines:?}");
        let json = report::check_json(&answer);
        assert!((json["fillers"][0]["far_end"]["least_mm"].as_f64().unwrap() - got).abs() < 1e-9);
    }
}

// A casing 18 off the wall lies behind every front: a door that opens no further than 90° never comes near it.
#[test]
fn a_thin_casing_asks_for_nothing() {
    let door = "Door(width: 450, hinge: FarSide, opens_to: 90, pull: \"none\")";
    assert_eq!(needs(&read("", door, "Casing(width: 90, thickness: 18)")), None);
    assert_eq!(needs(&read("", door, "Open")), None);
}

/// A room door in the left wall past the run, which ends at 580 + 100 + 900 + 450 = 2030; hinged on its corner side, it
/// leans over toward the run when it opens past a right angle.
fn with_room_door(opens_to: f64, pull: &str) -> Answer {
    let door = format!(
        ", doors: [(name: \"hall door\", wall: Left, along: 2450, width: 800, hinge: CornerSide, opens_to: {opens_to})]"
    );
    read(&door, &format!("Drawers(width: 450, fronts: Equal(2), pull: \"{pull}\")"), "Open")
}

// The face that looks at the run turns about its own edge, 40 before the wall. The run's nearest corner is that of the
// last front, 601 out and 1.5 short of the run's end: r away from that edge, at the angle β. The face is r · sin (β − φ)
// from it.
#[test]
fn a_room_door_that_swings_against_a_run_is_a_finding() {
    let (before, out) = (2450.0 - (2030.0 - REVEAL), 601.0_f64 - 40.0);
    let expected = std::f64::consts::PI - out.atan2(before) - (WANTED / out.hypot(before)).asin();
    let answer = with_room_door(150.0, "none");
    let mover = answer.model.movers.iter().find(|mover| mover.of_the_room).unwrap();
    let got = answer.openings[mover.id.0].to_wanted;
    assert!(got <= expected + 1e-9 && (expected - got) * 800.0 < 0.05, "{got} against {expected}");
    assert!(answer.findings.iter().any(|f| f.mover == Some(mover.id)));
    let clear = with_room_door(got.to_degrees() - 1e-6, "none");
    assert!(clear.is_clear(), "{:?}", clear.findings);
}

// Every filler told is found without it: a room door is not what a corner filler is for.
#[test]
fn a_room_door_asks_nothing_of_the_corner_fillers() {
    let (with, without) =
        (with_room_door(150.0, "bar"), read("", "Drawers(width: 450, fronts: Equal(2), pull: \"bar\")", "Open"));
    assert!(with.findings.iter().any(|f| matches!(f.kind, FindingKind::Hits | FindingKind::TooNear)));
    for side in Side::BOTH {
        assert_eq!(with.side(side).least, without.side(side).least);
    }
}

// An island 1,600 out from the left wall: 1600 − 601 = 999 to pass, 1 less than 1000 would be; bars take 35 more.
#[test]
fn the_passage_to_an_island_is_told() {
    let island = |out: f64| {
        format!(
            ", obstacles: [(name: \"island\", wall: Left, along: 900, out: {out}, width: 900, depth: 700, height: 900)]"
        )
    };
    for (out, pull, room, short) in
        [(1600.0, "none", 999.0, true), (1616.0, "none", 1015.0, false), (1650.0, "bar", 1014.0, true)]
    {
        let answer = read(&island(out), &format!("Drawers(width: 450, fronts: Equal(2), pull: \"{pull}\")"), "Open");
        let passage = answer.advice.iter().find(|a| matches!(a, Advice::Passage { .. })).unwrap();
        let Advice::Passage { room: got, .. } = *passage else { panic!("{passage:?}") };
        assert!((got.to_mm() - room).abs() < 1e-6, "{got:?} against {room}");
        // 40 in, 1015 mm in its own conversion: 2010 ADA Standards, section 804.2.1.
        assert_eq!(passage.is_short(), short);
        let line = report::advice_line(&answer, passage);
        assert!(line.contains("section 804.2.1") && line.contains("Local codes govern"), "{line}");
    }
}

#[test]
fn the_wash_up_corner_opens_and_says_what_to_mind() {
    let plan = plan::read("wash-up.ron", include_str!("../../assets/plans/wash-up.ron")).unwrap();
    let answer = clearance::answer(&plan);
    assert!(answer.is_clear(), "{:?}", answer.findings);
    let needs = answer.openings.iter().flat_map(|opening| &opening.needs);
    assert_eq!(needs.filter(|need| need.is_met()).count(), 3);
    let standing = |a: &&Advice| matches!(a, Advice::StandingRoom { .. });
    assert!(answer.advice.iter().find(standing).is_some_and(Advice::is_short));
    assert_eq!(answer.advice.iter().filter(|a| matches!(a, Advice::Passage { .. })).count(), 2);
    assert!(!answer.advice.iter().any(|a| matches!(a, Advice::SupportPanel { .. })));
}
