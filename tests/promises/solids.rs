//! Nothing stands in anything else: the fixed parts of every example plan, and of corners from 60° to 170°, share no more
//! than faces.

use elbowroom::clearance;
use elbowroom::model::{Convex, Model, Part, RuleClass, Vec3};
use elbowroom::plan::{self, Side};

use crate::plans::{Corner, EXAMPLES, Pull, Run};

/// Whether two prisms share volume: no axis across a face, or across a pair of edges, separates them by the slack.
pub(crate) fn overlap(a: &Convex, b: &Convex) -> bool {
    const SLACK: f64 = 1e-4;
    let edges = |piece: &Convex| {
        let base = piece.base();
        let around = (0..base.len()).map(|k| base[(k + 1) % base.len()] - base[k]);
        around.chain([piece.push()]).map(Vec3::normalize).collect::<Vec<_>>()
    };
    let all: Vec<Vec3> = edges(a).into_iter().chain(edges(b)).collect();
    let extent = |piece: &Convex, axis: Vec3| {
        piece.vertices().map(|v| v.dot(axis)).fold((f64::MAX, f64::MIN), |(l, h), d| (l.min(d), h.max(d)))
    };
    all.iter().enumerate().all(|(k, &p)| {
        all[k + 1..].iter().all(|&q| {
            let axis = p.cross(q);
            if axis.length() < 1e-9 {
                return true;
            }
            let axis = axis.normalize();
            let ((a0, a1), (b0, b1)) = (extent(a, axis), extent(b, axis));
            a0 + SLACK < b1 && b0 + SLACK < a1
        })
    })
}

/// What of the runs is fixed; legs, blocks and the countertop too.
fn is_fixed_work(part: &Part) -> bool {
    let class = matches!(part.class, RuleClass::Run | RuleClass::Appliance | RuleClass::Hidden | RuleClass::Countertop);
    class && part.mover.is_none()
}

#[track_caller]
fn shares_nothing(model: &Model, what: &str) {
    let parts: Vec<&Part> = model.parts.iter().filter(|part| is_fixed_work(part)).collect();
    for (k, a) in parts.iter().enumerate() {
        assert!(a.volume() > 0.0 && a.pieces.iter().flat_map(Convex::vertices).all(Vec3::is_finite), "{}", a.name);
        for b in &parts[k + 1..] {
            let shared = a.pieces.iter().any(|p| b.pieces.iter().any(|q| overlap(p, q)));
            assert!(!shared, "{what}: {} and {} are in one place", a.name, b.name);
        }
    }
}

#[test]
fn the_parts_of_every_example_plan_share_nothing() {
    for (name, text) in EXAMPLES {
        let plan = plan::read(name, text).unwrap();
        shares_nothing(&clearance::answer(&plan).model, name);
    }
}

#[test]
fn the_parts_of_a_corner_share_nothing_at_any_angle() {
    let bar = Pull::Bar { length: 160.0, projection: 35.0, upright: false };
    for angle in [60.0, 75.0, 89.0, 90.0, 90.4, 91.0, 100.0, 120.0, 135.0, 150.0, 170.0] {
        for (filler, flush) in [(0.0, false), (3.0, false), (25.0, true), (60.0, false), (60.0, true)] {
            let mut corner = Corner::new(Run::of(600.0, bar), Run::of(450.0, bar));
            (corner.angle, corner.flush_with_fronts) = (angle, flush);
            (corner.left.filler, corner.right.filler) = (Some(filler), Some(filler));
            shares_nothing(&corner.answer().model, &format!("{angle}°, fillers {filler}, with fronts: {flush}"));
        }
    }
}

// Two appliances deeper than their runs meet in the corner; no moving part is in it.
#[test]
fn appliances_that_stand_in_each_other_are_a_finding() {
    let text = "(units: Millimetre, room: (left_wall: 3000, right_wall: 3000), pulls: {}, slides: {}, \
        left: (units: [ApplianceSpace(width: 600, body_width: 595, depth: 700, height: 850)], ends_at: Open), \
        right: (units: [ApplianceSpace(width: 600, body_width: 595, depth: 700, height: 850)], ends_at: Open), \
        corner: (left: Fixed(0), right: Fixed(0)))";
    let answer = clearance::answer(&plan::read("appliances.ron", text).unwrap());
    assert!(!answer.is_clear());
    // They stand 120 out, in the middle of spaces 5 wider than themselves.
    let good = answer.side(Side::Left).good[0].from.to_mm();
    assert!((good - 117.5).abs() < 0.001, "{good}");
}

// An island that no filler cures leaves the fillers at what the corner asks for.
#[test]
fn what_no_filler_cures_does_not_change_the_fillers() {
    let text = |island: &str| {
        format!(
            "(units: Millimetre, room: (left_wall: 3000, right_wall: 3000, obstacles: [{island}]), \
             pulls: {{\"bar\": Bar(length: 160, projection: 35)}}, slides: {{\"s\": (length: 500)}}, \
             left: (units: [Drawers(width: 600, fronts: Equal(3))], ends_at: Open), \
             right: (units: [Drawers(width: 600, fronts: Equal(3)), Drawers(width: 600, fronts: Equal(3))], ends_at: Open))"
        )
    };
    let fillers = |island: &str| clearance::answer(&plan::read("island.ron", &text(island)).unwrap()).fillers();
    let island = "(name: \"island\", wall: Right, along: 1500, out: 900, width: 1400, depth: 600, height: 900)";
    assert_eq!(fillers(island), fillers(""));
}
