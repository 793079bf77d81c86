//! What owners ask: drawer lines, fillers seen, the space shut off. Closed forms by hand (common practice, no source).

use elbowroom::clearance;
use elbowroom::plan;
use elbowroom::showing::space::{Space, Use};
use elbowroom::showing::{Showing, showing};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use crate::plans::{Corner, Pull, Run, close};

/// Depth of the test corner's units, thickness of its filler faces, section of its blocks and height of its faces, mm.
const DEPTH: f64 = 620.0;
const FACE: f64 = 19.0;
const BLOCK: f64 = 38.0;
const HIGH: f64 = 870.0 - 100.0;

fn shown(corner: &Corner) -> Showing {
    showing(&clearance::answer(&corner.plan()).model)
}

fn corner(angle: f64, left: f64, right: f64) -> Corner {
    let mut corner = Corner::new(Run::of(600.0, Pull::None), Run::of(600.0, Pull::None));
    corner.angle = angle;
    (corner.left.filler, corner.right.filler) = (Some(left), Some(right));
    corner
}

fn space(corner: &Corner) -> Space {
    shown(corner).space
}

/// The floor behind the faces, mm²: for each run a strip from where the backs meet to the first unit, as deep as the
/// faces' inner planes; less what both have in common.
fn floor(angle: f64, fillers: [f64; 2]) -> f64 {
    let half = (angle.to_radians() / 2.0).tan();
    // The front planes meet at d·cot(θ/2) along the runs, the inner planes at the same for their own depth.
    let (inner, starts) = (DEPTH - FACE, fillers.map(|filler| DEPTH / half + filler));
    inner * (starts[0] + starts[1] - inner / half)
}

#[test]
fn a_square_corner_shuts_off_two_strips_less_what_they_share() {
    for fillers in [[60.0, 60.0], [80.0, 120.0]] {
        let expected = (floor(90.0, fillers) - 2.0 * BLOCK * BLOCK) * HIGH / 1e6;
        close(space(&corner(90.0, fillers[0], fillers[1])).litres(), expected, 1e-6);
    }
    // By hand: 2 x 720 x 601 - 601 x 601 = 504,239; less 2,888; times 770.
    close(space(&corner(90.0, 100.0, 100.0)).litres(), (504_239.0 - 2_888.0) * 770.0 / 1e6, 1e-6);
}

// Off square the blocks, set along their runs, lie clear of the mitre with fillers as wide as these.
#[test]
fn a_corner_off_square_has_the_same_closed_form() {
    for angle in [75.0, 88.0, 100.0, 120.0, 135.0] {
        let fillers = [150.0, 170.0];
        let expected = (floor(angle, fillers) - 2.0 * BLOCK * BLOCK) * HIGH / 1e6;
        close(space(&corner(angle, fillers[0], fillers[1])).litres(), expected, 1e-6);
    }
}

// With no fillers the units' front edges meet, and the square between the backs and them is shut off; less the post that
// the lapping face still is, 19 by 19, and its block of 38 by 38, cut at the mitre by half of 19 by 19.
#[test]
fn without_fillers_the_square_between_the_units_is_shut_off() {
    let post = FACE * FACE;
    let expected = (DEPTH * DEPTH - post - (BLOCK * BLOCK - post / 2.0)) * HIGH / 1e6;
    close(space(&corner(90.0, 0.0, 0.0)).litres(), expected, 1e-6);
}

#[test]
fn what_stands_in_the_corner_takes_its_room_once() {
    let without = corner(90.0, 100.0, 100.0);
    let with = |obstacles: &str| {
        let text = without.text().replace("room: (", &format!("room: (obstacles: [{obstacles}], "));
        let plan = plan::read("test.ron", &text).unwrap();
        showing(&clearance::answer(&plan).model).space.litres()
    };
    let pipe = "(name: \"pipe\", wall: Left, along: 100, width: 50, depth: 40, height: 2000),";
    let before = space(&without).litres();
    // 50 x 40 over the height of the faces.
    close(before - with(pipe), 50.0 * 40.0 * HIGH / 1e6, 1e-6);
    close(before - with(&pipe.repeat(3)), 50.0 * 40.0 * HIGH / 1e6, 1e-6);
    // A box that ends 300 above the floor takes 200 of the height; one that reaches past the first unit's side, only
    // what lies before it: 720 - 700.
    let low = "(name: \"box\", wall: Left, along: 700, width: 200, depth: 40, height: 300)";
    close(before - with(low), 20.0 * 40.0 * 200.0 / 1e6, 1e-6);
    // Far along the wall it is not in the corner.
    close(before - with("(name: \"far\", wall: Left, along: 2000, width: 50, depth: 40, height: 2000)"), 0.0, 1e-9);
}

#[test]
fn fillers_are_measured_as_one_sees_them() {
    // Flush with the carcass: as wide as they are, whichever laps.
    for laps in [false, true] {
        let mut flush = corner(90.0, 60.0, 85.0);
        flush.right_laps = laps;
        let fillers = shown(&flush).fillers;
        close(fillers.left.to_mm(), 60.0, 1e-9);
        close(fillers.right.to_mm(), 85.0, 1e-9);
        assert!(!fillers.alike());
        close(fillers.difference().to_mm(), -25.0, 1e-9);
    }
    // Flush with the fronts, 2 + 19 before the carcass: each loses as much to the other.
    let mut proud = corner(90.0, 60.0, 60.0);
    proud.flush_with_fronts = true;
    let fillers = shown(&proud).fillers;
    close(fillers.left.to_mm(), 60.0 - 21.0, 1e-9);
    assert!(fillers.alike());
}

#[test]
fn equal_fronts_meet_and_others_are_off_by_their_difference() {
    let same = shown(&corner(90.0, 60.0, 60.0));
    assert!(same.at_corner().is_some_and(|pair| pair.all_meet() && pair.adjoin && pair.count() == 4));
    let mut other = corner(90.0, 60.0, 60.0);
    other.left.units[0].1 = vec![240.0, 260.0];
    other.right.units[0].1 = vec![255.0, 260.0];
    let both = shown(&other);
    let pair = both.at_corner().unwrap();
    let off: Vec<f64> = pair.pairs.iter().map(|two| two.off.to_mm().round()).collect();
    // Edges meet; each gap lies 15 lower on the right.
    assert_eq!(off, [0.0, -15.0, -15.0, 0.0]);
    assert_eq!((pair.meeting(), pair.count()), (2, 4));
}

#[test]
fn a_door_beside_the_corner_can_be_reached_through() {
    let mut with_door = corner(90.0, 100.0, 100.0);
    with_door.left.door = Some((450.0, false, 100.0));
    let uses = space(&with_door).uses;
    assert!(uses.iter().any(|this| matches!(this, Use::ThroughUnit(plan::Side::Left))), "{uses:?}");
    assert!(!uses.iter().any(|this| matches!(this, Use::ThroughUnit(plan::Side::Right))), "{uses:?}");
    // A seat 330 high and 300 deep with no fillers: 300 x 300 x 330 is some 30 litres, worth nothing.
    let low = r#"(name: "low", units: Millimetre, room: (left_wall: 3000, right_wall: 3000),
        construction: (height: 400, depth: 300, kick_height: 70), pulls: { "none": Absent },
        slides: { "short": (length: 200, extension: Full) },
        left: (units: [Drawers(width: 600, fronts: [Rest], pull: "none")], ends_at: Open),
        right: (units: [Drawers(width: 600, fronts: [Rest], pull: "none")], ends_at: Open),
        corner: (left: Fixed(0), right: Fixed(0)))"#;
    let space = showing(&clearance::answer(&plan::read("low.ron", low).unwrap()).model).space;
    assert!(space.litres() > 28.0 && space.litres() < 29.7 && space.uses.is_empty(), "{space:?}");
}

#[test]
fn the_report_and_its_json_tell_the_same_space() {
    let answer = clearance::answer(&corner(90.0, 100.0, 100.0).plan());
    let text: Vec<String> = elbowroom::report::text(&answer).into_iter().map(|(_, line)| line).collect();
    let json = elbowroom::report::check_json(&answer);
    let litres = json["showing"]["shut_off"]["litres"].as_f64().unwrap();
    close(litres, 386.040_27, 1e-6);
    assert!(text.iter().any(|line| line.contains("shut off in the corner: 386 litres (13.6 cubic feet)")), "{text:?}");
}

fn config() -> ProptestConfig {
    let looks_harder = std::env::var_os("PROPTEST_CASES").is_some();
    let rng_seed = if looks_harder { RngSeed::Random } else { RngSeed::Fixed(91) };
    ProptestConfig { failure_persistence: None, rng_seed, ..ProptestConfig::default() }
}

fn corners() -> impl Strategy<Value = Corner> {
    let heights = || {
        prop_oneof![Just(Vec::new()), (120..300_u32, 120..300_u32).prop_map(|(a, b)| vec![f64::from(a), f64::from(b)])]
    };
    let angle = prop_oneof![Just(90.0), 62.0..150.0_f64];
    // Wide enough for both faces to stand, so that none appears with its own thickness as the filler grows.
    (angle, 80.0..200.0_f64, 80.0..200.0_f64, heights(), heights(), any::<bool>(), any::<bool>()).prop_map(
        |(angle, left, right, left_fronts, right_fronts, laps, flush)| {
            let mut corner = corner(angle, left, right);
            (corner.right_laps, corner.flush_with_fronts) = (laps, flush);
            corner.left.units[0].1 = left_fronts;
            corner.right.units[0].1 = right_fronts;
            corner
        },
    )
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn a_mirrored_corner_answers_its_owner_the_same(corner in corners()) {
        let (one, other) = (shown(&corner), shown(&corner.mirrored()));
        prop_assert!((one.space.litres() - other.space.litres()).abs() < 1e-6);
        prop_assert!((one.fillers.left - other.fillers.right).to_mm().abs() < 1e-6);
        let (a, b) = (one.at_corner().unwrap(), other.at_corner().unwrap());
        prop_assert_eq!(a.count(), b.count());
        prop_assert_eq!(a.meeting(), b.meeting());
        for (x, y) in a.pairs.iter().zip(&b.pairs) {
            prop_assert!((x.off + y.off).to_mm().abs() < 1e-9);
        }
    }

    #[test]
    fn a_wider_filler_never_shuts_off_less(corner in corners(), more in 0.0..300.0_f64) {
        let mut wider = corner.clone();
        wider.left.filler = wider.left.filler.map(|filler| filler + more);
        prop_assert!(space(&wider).mm3 >= space(&corner).mm3 - 1e-3);
        // And what it adds is the strip behind its face, with the block moved along.
        let (inner, flat) = (DEPTH - FACE, !corner.flush_with_fronts);
        if corner.angle <= 90.0 && flat && corner.left.filler > Some(130.0) {
            let grown = (space(&wider).mm3 - space(&corner).mm3) / HIGH;
            prop_assert!((grown - inner * more).abs() < 1e-3, "{} for {}", grown, inner * more);
        }
    }
}
