//! Two open at once: what a map says is so, and is said of every pair of openings; and so for both fillers together.

use elbowroom::clearance::map::{Map, Point, maps};
use elbowroom::clearance::{self, Cleared, FillerMap, gap_now, overlaps_now};
use elbowroom::command::{self, DEMO, Style};
use elbowroom::length::Length;
use elbowroom::model::{Model, Motion, MoverId, Role};
use elbowroom::plan::{self, Filler, Plan, Side};
use proptest::prelude::*;

use crate::laws::{config, corners};
use crate::plans::{Corner, Pull, Run};

/// Where an outline around a conflict lies further out than this in distance, it is wrong: 0.01 mm in the plane of two
/// openings, and each opening moves its part by as much.
const FINE: f64 = 0.01 * std::f64::consts::SQRT_2 + 1e-6;

/// Openings of both, from shut to full, ends included.
const GRID: u32 = 8;

fn model(corner: &Corner) -> Model {
    clearance::answer(&corner.plan()).model
}

/// The gap of two drawers or doors, each out by so much, from the distances of their parts one by one.
fn gap(model: &Model, map: &Map, at: Point) -> f64 {
    let mut outs = vec![0.0; model.movers.len()];
    for k in 0..2 {
        outs[map.movers[k].0] = at[k];
    }
    let [first, second] = map.movers.map(|id| &model.mover(id).parts);
    let gaps = first.iter().flat_map(|&a| second.iter().map(move |&b| (a, b)));
    gaps.map(|(a, b)| gap_now(model, &outs, a, b).0).fold(f64::INFINITY, f64::min)
}

fn overlap(model: &Model, map: &Map, at: Point) -> bool {
    let mut outs = vec![0.0; model.movers.len()];
    for k in 0..2 {
        outs[map.movers[k].0] = at[k];
    }
    let met = overlaps_now(model, &outs, map.movers[0]);
    met.iter().any(|contact| model.part(contact.other).mover == Some(map.movers[1]))
}

fn is_convex(outline: &[Point]) -> bool {
    (0..outline.len()).all(|k| {
        let [a, b, c] = [0, 1, 2].map(|n| outline[(k + n) % outline.len()]);
        let (u, v) = ([b[0] - a[0], b[1] - a[1]], [c[0] - b[0], c[1] - b[1]]);
        u[0] * v[1] - u[1] * v[0] >= -1e-6
    })
}

/// Two units of one drawer each with no pulls, runs 500 deep, fillers as given.
fn two_drawers(left: f64, right: f64, wanted: f64) -> Plan {
    let text = format!(
        r#"(units: Millimetre, room: (left_wall: 3000, right_wall: 3000),
        construction: (depth: 500, front: 20, bumper: 2, reveal: (side: 1.5)),
        pulls: {{ "none": Absent }}, slides: {{ "short": (length: 400, extension: Full) }},
        left: (units: [Drawers(width: 600, fronts: Equal(1), pull: "none")], ends_at: Open),
        right: (units: [Drawers(width: 600, fronts: Equal(1), pull: "none")], ends_at: Open),
        corner: (left: Fixed({left}), right: Fixed({right})), clearance: (wanted: {wanted}))"#
    );
    plan::read("two.ron", &text).unwrap()
}

fn only_map(plan: &Plan) -> Map {
    let found = maps(&clearance::answer(plan).model);
    assert_eq!(found.len(), 1);
    found[0].clone()
}

// By hand. The left drawer's front has its face 500 + 2 + 20 from the left wall, and out by a it is at 522 + a. The right
// unit begins at 500 + 80, and its front 1.5 further, at 581.5. So a ≤ 59.5 leaves the right drawer its whole way, and with
// 12 wanted 47.5. The other way round, the left front begins at 500 + 100 + 1.5: b ≤ 79.5, or 67.5.
#[test]
fn two_drawers_leave_each_other_what_is_worked_out_by_hand() {
    for (wanted, free) in [(0.0, [59.5, 79.5]), (12.0, [47.5, 67.5])] {
        let map = only_map(&two_drawers(100.0, 80.0, wanted));
        let got = map.leaves_free();
        for k in 0..2 {
            assert!((got[k] - free[k]).abs() < 1e-4, "{got:?} is not {free:?}");
        }
        assert!(map.exact && !map.both_open_fully());
        // Everything beyond both is a conflict. With clearance the corner between is round: what it saves of a square of
        // 12 is what a quarter of a circle leaves, by Minkowski's sum of a corner and a disc.
        let round = wanted * wanted * (1.0 - std::f64::consts::FRAC_PI_4);
        let whole = (400.0 - free[0]) * (400.0 - free[1]) - round;
        let [least, most] = map.area();
        assert!(least <= whole + 1e-2 && whole <= most + 1e-2 && most - least < 1.0, "{least} {whole} {most}");
    }
}

#[test]
fn a_pair_on_the_edge_is_clear_and_one_past_it_is_not() {
    let map = only_map(&two_drawers(100.0, 80.0, 0.0));
    assert!(map.conflict_at(59.5, 400.0).is_none() && map.conflict_at(400.0, 79.5).is_none());
    assert!(map.conflict_at(59.6, 79.6).is_some());
    // Out as far as they go, which is an edge of the map but no edge of the conflict.
    assert!(map.conflict_at(400.0, 400.0).is_some());
}

#[test]
fn fully_open_drawers_of_one_run_do_not_meet() {
    let model = clearance::answer(&plan::read("demo", DEMO).unwrap()).model;
    let found = maps(&model);
    let slides = |id: MoverId| matches!(model.mover(id).motion, Motion::Slide { .. });
    for map in found.iter().filter(|map| map.movers.iter().all(|&id| slides(id))) {
        assert_ne!(model.mover(map.movers[0]).side, model.mover(map.movers[1]).side);
    }
    assert!(found.iter().filter(|map| map.exact).count() >= 3);
}

#[test]
fn the_report_says_what_one_leaves_the_other() {
    let text = r#"(units: Millimetre, room: (left_wall: 3000, right_wall: 3000),
        construction: (depth: 500, front: 20, bumper: 2, reveal: (side: 1.5)),
        pulls: { "none": Absent }, slides: { "short": (length: 400, extension: Full) },
        left: (units: [Drawers(width: 600, fronts: Equal(1), pull: "none")], ends_at: Open),
        right: (units: [Drawers(width: 600, fronts: Equal(1), pull: "none")], ends_at: Open),
        corner: (left: Fixed(100), right: Fixed(80)), clearance: (wanted: 12))"#;
    let said = command::check("two.ron", text, Style::Plain).unwrap().text;
    assert!(said.contains("out by up to 47.5 mm, right 1") && said.contains("out by up to 67.5 mm, left 1"), "{said}");
    let json =
        command::check_with("two.ron", text, Style::Json, command::Beside { maps: true, ..command::Beside::default() })
            .unwrap()
            .text;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let first = &json["together"][0];
    assert!((first["leaves_free"][0]["mm"].as_f64().unwrap() - 47.5).abs() < 1e-4);
    assert!(first["regions"][0]["outer"].as_array().unwrap().len() > 4);
    // By hand: each filler must clear the other run's front, which stands out 22, by 12, less the reveal of 1.5: 32.5, and
    // on a shop step of 1 mm 33. The floor lost is 500 · 500 and two strips of 500 · 33.
    let least = &json["filler_pairs"]["least_sum"];
    assert_eq!((least["left_mm"].as_f64(), least["right_mm"].as_f64()), (Some(33.0), Some(33.0)));
    assert!((least["floor_lost_mm2"].as_f64().unwrap() - 283_000.0).abs() < 1e-6);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..config() })]

    #[test]
    fn a_map_says_of_every_pair_of_openings_what_distances_say(corner in corners()) {
        let model = model(&corner);
        for map in maps(&model).iter().take(6) {
            let slack = if map.exact { FINE } else { map.error_mm + 1e-6 };
            for i in 0..=GRID {
                for j in 0..=GRID {
                    let at = [map.extents[0] * f64::from(i) / f64::from(GRID), map.extents[1] * f64::from(j) / f64::from(GRID)];
                    let told = map.conflict_at(at[0], at[1]).is_some();
                    let gap = gap(&model, map, at);
                    prop_assert!(!told || gap <= map.wanted + slack, "{at:?} is told, with a gap of {gap}");
                    prop_assert!(told || gap >= map.wanted - 1e-5, "{at:?} is not told, with a gap of {gap}");
                    prop_assert!(told || map.wanted > 0.0 || !overlap(&model, map, at), "{at:?} is not told");
                }
            }
        }
    }

    #[test]
    fn outlines_are_convex_and_more_clearance_takes_more(corner in corners()) {
        let model = model(&corner);
        for map in maps(&model).iter().filter(|map| map.exact).take(6) {
            for region in &map.regions {
                prop_assert!(is_convex(&region.outer) && is_convex(&region.inner));
            }
            let [least, most] = map.area();
            prop_assert!(least <= most + 1e-6);
            let more = Map::keeping(&model, map.movers[0], map.movers[1], map.wanted + 5.0);
            prop_assert!(more.area()[1] >= most - 1e-6);
            for k in 0..2 {
                prop_assert!(more.leaves_free()[k] <= map.leaves_free()[k] + 1e-6);
            }
        }
    }

    #[test]
    fn a_mirrored_corner_has_mirrored_maps(corner in corners(), left in 0..120_u32, right in 0..120_u32) {
        // Least fillers need not be mirrored where sums tie.
        let mut corner = corner;
        corner.left.filler = Some(f64::from(left));
        corner.right.filler = Some(f64::from(right));
        let (model, mirror) = (model(&corner), model(&corner.mirrored()));
        let (one, other) = (summary(&model), summary(&mirror));
        prop_assert_eq!(one.len(), other.len());
        for k in 0..2 {
            let in_order = |maps: &[[f64; 2]], k: usize| {
                let mut free: Vec<f64> = maps.iter().map(|map| map[k]).collect();
                free.sort_by(f64::total_cmp);
                free
            };
            for (a, b) in in_order(&one, k).into_iter().zip(in_order(&other, 1 - k)) {
                prop_assert!((a - b).abs() < 0.02, "{a} {b}");
            }
        }
    }
}

/// What each map of two that slide, of different runs, leaves free: the left run's first.
fn summary(model: &Model) -> Vec<[f64; 2]> {
    let of_two_runs = |map: &&Map| map.exact && model.mover(map.movers[0]).side != model.mover(map.movers[1]).side;
    let left_first = |map: &Map| {
        let free = map.leaves_free();
        if model.mover(map.movers[0]).side == Side::Left { free } else { [free[1], free[0]] }
    };
    maps(model).iter().filter(of_two_runs).map(left_first).collect()
}

/// Conflicts that a filler can cure, with these widths.
fn conflicts(plan: &Plan, left: f64, right: f64) -> bool {
    let mut plan = plan.clone();
    plan.corner = plan.corner.with_filler(Side::Left, Filler::Fixed(Length::mm(left)));
    plan.corner = plan.corner.with_filler(Side::Right, Filler::Fixed(Length::mm(right)));
    let answer = clearance::answer(&plan);
    answer.findings.iter().any(|finding| {
        let own = finding.mover.map(|id| answer.model.mover(id).side);
        own.is_some() && answer.model.part(finding.other).run != own
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..config() })]

    #[test]
    fn what_the_map_of_both_fillers_calls_good_is_clear(corner in corners(), widths in prop::collection::vec((0..160_u32, 0..160_u32), 6)) {
        let plan = corner.plan();
        let map = FillerMap::of(&plan);
        prop_assume!(map.cleared == Cleared::Everything);
        for (left, right) in widths {
            let (left, right) = (f64::from(left), f64::from(right));
            let conflict = conflicts(&plan, left, right);
            match map.bad_at(left, right) {
                None => prop_assert!(!conflict, "{left} {right}"),
                Some(bad) if is_within(&bad.inner, [left, right]) => prop_assert!(conflict, "{left} {right} {bad:?}"),
                // Told as bad, and perhaps only by the error that is said.
                Some(_) => {}
            }
        }
        for pair in [map.least_sum, map.least_floor, map.equal].into_iter().flatten() {
            let [left, right] = [pair.fillers.left, pair.fillers.right].map(Length::to_mm);
            prop_assert!(!conflicts(&plan, left, right), "{left} {right}");
        }
    }

    // Brute force: no pair of coarse steps that the map calls good weighs less than the ones that were found.
    #[test]
    fn no_good_pair_of_fillers_is_less_than_the_least(corner in corners()) {
        let plan = corner.plan();
        let map = FillerMap::of(&plan);
        let step = plan.clearance.shop_step.to_mm();
        let coarse = step * (8.0 / step).ceil();
        let (Some(sum), Some(floor), Some(equal)) = (map.least_sum, map.least_floor, map.equal) else { return Ok(()) };
        let depths = Side::BOTH.map(|side| clearance::solver_model(&plan).run(side).depth);
        let weigh = |[left, right]: Point, weights: [f64; 2]| left * weights[0] + right * weights[1];
        let of = |pair: &clearance::FillerPair| [pair.fillers.left.to_mm(), pair.fillers.right.to_mm()];
        for i in 0..60 {
            for j in 0..60 {
                let at = [coarse * f64::from(i), coarse * f64::from(j)];
                if map.bad_at(at[0], at[1]).is_none() {
                    prop_assert!(weigh(at, [1.0; 2]) >= weigh(of(&sum), [1.0; 2]) - 1e-6, "{at:?} against {sum:?}");
                    prop_assert!(weigh(at, depths) >= weigh(of(&floor), depths) - 1e-3, "{at:?} against {floor:?}");
                    prop_assert!(i != j || at[0] >= of(&equal)[0] - 1e-6, "{at:?} against {equal:?}");
                }
            }
        }
    }
}

fn is_within(outline: &[Point], p: Point) -> bool {
    outline.len() >= 3
        && (0..outline.len()).all(|k| {
            let (a, b) = (outline[k], outline[(k + 1) % outline.len()]);
            (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 1e-3
        })
}

#[test]
fn every_drawer_front_of_a_map_belongs_to_its_drawer() {
    let corner = Corner::new(Run::of(600.0, Pull::None), Run::of(600.0, Pull::None));
    let model = model(&corner);
    for map in maps(&model) {
        for region in &map.regions {
            for k in 0..2 {
                let part = model.part(region.parts[k]);
                assert_eq!(part.mover, Some(map.movers[k]));
                assert_ne!(part.role, Role::CarcassSide);
            }
        }
    }
}
