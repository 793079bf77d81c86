//! Is it so? The worst case against every corner of the box of tolerances, samples against sums done by hand, and against
//! plans that are off by as much.

use super::cause::Causes;
use super::deciding::Scene;
use super::sampled::needed;
use super::*;
use crate::progress::{Flow, patient};

const DEMO: &str = include_str!("../../assets/plans/glazing-corner.ron");
const SHED: &str = include_str!("../../assets/plans/potting-shed.ron");

/// A drawer on each run; the right one has a square knob in the middle of its front, the left one none.
fn plan_of(tolerances: &str, angle: f64, projection: f64) -> Plan {
    let text = format!(
        r#"(
        name: "two drawers", units: Millimetre,
        room: (left_wall: 3000, right_wall: 3000),
        run_angle: Degrees({angle}),
        construction: (depth: 500, height: 800, kick_height: 100),
        pulls: {{ "none": Absent, "knob": Knob(across: 30, square: true, projection: {projection}) }},
        slides: {{ "full": (length: 450, extension: Full) }},
        left: (units: [Drawers(width: 600, fronts: Equal(1), pull: "none")], ends_at: Open),
        right: (units: [Drawers(width: 600, fronts: Equal(1), pull: "knob")], ends_at: Open),
        corner: (left: Least, right: Fixed(60)),
        clearance: (wanted: 12, shop_step: 1),
        tolerances: {tolerances},
    )"#
    );
    match crate::plan::read("two.ron", &text) {
        Ok(plan) => plan,
        Err(problems) => panic!("{}", problems.lines().join("\n")),
    }
}

const SHIFTS: &str = "(run_angle: 0, unit_width: 0.8, squareness: 0, slide_play: 0.6, slide_yaw: 0, \
                      pull_projection: 0.7, pull_place: 1, front_adjustment: 0.5, filler_cut: 0.4)";
const ALL: &str = "(run_angle: 0.3, unit_width: 0.8, squareness: 1.2, slide_play: 0.6, slide_yaw: 0.15, \
                   pull_projection: 0.7, pull_place: 0, front_adjustment: 0.5, filler_cut: 0.4)";

fn with_law(tolerances: &str, law: &str) -> String {
    format!("{}, spread: {law})", tolerances.trim_end_matches(')'))
}

fn left_wanted(plan: &Plan) -> (Answer, Deciding, Causes) {
    let answer = clearance::answer(plan);
    let prepared = Prepared::of(plan, &answer);
    let [[wanted, _], _] = prepared.deciding;
    (answer, wanted, prepared.causes)
}

/// Every corner of the box of the causes that move what can decide; the rest are not off.
fn widest_corner(deciding: &Deciding, most: &[f64]) -> f64 {
    let mut moved: Vec<usize> = deciding
        .list
        .iter()
        .flat_map(|c| c.pair.own.effects.iter().chain(&c.pair.its.effects).map(|effect| effect.cause))
        .collect();
    moved.sort_unstable();
    moved.dedup();
    assert!((4..=16).contains(&moved.len()), "{}", moved.len());
    (0..1_u32 << moved.len())
        .map(|corner| {
            let mut off = vec![0.0; most.len()];
            for (bit, &cause) in moved.iter().enumerate() {
                off[cause] = if corner >> bit & 1 == 1 { most[cause] } else { -most[cause] };
            }
            needed(deciding, &off)
        })
        .fold(0.0, f64::max)
}

// Left drawer front's near edge against the knob's face. Fronts: bumper 2, front 19; side reveal 1.5:
// 2 + 19 + 36 + 12 - 1.5 = 67.5.
const PLANNED: f64 = 2.0 + 19.0 + 36.0 + 12.0 - 1.5;

#[test]
fn the_worst_case_of_shifts_is_their_sum() {
    let plan = plan_of(SHIFTS, 90.0, 36.0);
    let (answer, deciding, causes) = left_wanted(&plan);
    let planned = answer.sides[0].least.unwrap().to_mm();
    assert!((planned - PLANNED).abs() < 1e-6, "{planned}");
    // Filler, half the unit's own width, side play, front sideways; front out, projection.
    let sum = 0.4 + 0.8 / 2.0 + 0.6 + 0.5 + 0.5 + 0.7;
    assert!((deciding.worst - (planned + sum)).abs() < 1e-4, "{} against {}", deciding.worst, planned + sum);
    let corner = widest_corner(&deciding, &causes.most());
    assert!((corner - deciding.worst).abs() < 1e-4, "{corner} against {}", deciding.worst);
    // From below it is bounded too: nothing is ever enough that is less than planned less the sum.
    assert!(deciding.at_least <= planned - sum + 1e-4);
    assert!(deciding.at_least > 0.0);
}

#[test]
fn with_turns_the_worst_case_is_on_the_safe_side_of_every_corner() {
    let plan = plan_of(ALL, 90.0, 36.0);
    let (answer, deciding, causes) = left_wanted(&plan);
    let told = worst_side(&answer, Side::Left, &deciding);
    let corner = widest_corner(&deciding, &causes.most());
    assert!(corner <= deciding.worst + 1e-4, "{corner} against {}", deciding.worst);
    // The hull of all that can be is no wider than its corners, but where two turn at once.
    assert!(deciding.worst - corner < 0.05, "{corner} against {}", deciding.worst);
    assert!(told.exactness.turns > 0.0 && told.exactness.turns < 0.2, "{:?}", told.exactness);
    assert!(told.exactness.swings.total_cmp(&0.0).is_eq());
}

/// The same plan, its angle and its projection really off: an answer that knows nothing of causes.
#[test]
fn what_is_off_counts_as_it_does_in_a_plan_that_is_off() {
    let off = 0.3;
    let least = |angle: f64, projection: f64| {
        let plan = plan_of(SHIFTS, angle, projection);
        clearance::answer(&plan).sides[0].least.unwrap().to_mm()
    };
    let only = |field: &str, by: f64| {
        let zero = "(run_angle: 0, unit_width: 0, squareness: 0, slide_play: 0, slide_yaw: 0, pull_projection: 0, \
                    pull_place: 0, front_adjustment: 0, filler_cut: 0)";
        let (_, deciding, _) =
            left_wanted(&plan_of(&zero.replace(&format!("{field}: 0"), &format!("{field}: {by}")), 90.0, 36.0));
        deciding.worst
    };
    let wider = least(90.0, 36.7);
    assert!((only("pull_projection", 0.7) - wider).abs() < 1e-4);
    // The runs closed up by 0.3 degrees, or opened: the worse of both.
    let turned = least(90.0 - off, 36.0).max(least(90.0 + off, 36.0));
    let told = only("run_angle", off);
    assert!(turned > PLANNED + 0.5, "{turned}");
    assert!(told >= turned - 1e-4 && told - turned < 0.05, "{told} against {turned}");
}

#[test]
fn samples_have_the_mean_and_the_sigma_of_the_closed_form() {
    for law in ["Normal", "Uniform"] {
        let plan = plan_of(&with_law(SHIFTS, law), 90.0, 36.0);
        let answer = clearance::answer(&plan);
        let sampling = Sampling { samples: 100_000, seed: 4, threads: 2 };
        let (_, sure) = sure(&plan, &answer, sampling, &patient).unwrap();
        let left = &sure.sides[0];
        let shares = [0.4, 0.8 / 2.0, 0.6, 0.5, 0.5, 0.7];
        let square: f64 = shares.iter().map(|t| t * t).sum();
        let sigma = sigma(sure.law) * square.sqrt();
        assert!((left.mean.to_mm() / PLANNED - 1.0).abs() < 0.01, "{:?}", left.mean);
        assert!((left.mean.to_mm() - PLANNED).abs() < 0.01 * sigma + 4.0 * sigma / 100_000_f64.sqrt());
        assert!((left.sigma.to_mm() / sigma - 1.0).abs() < 0.01, "{law}: {:?} against {sigma}", left.sigma);
        // What it comes from: the squares, the largest first, and all of it.
        assert!((left.shares[0].share - 0.7 * 0.7 / square).abs() < 0.01);
        assert!(matches!(left.shares[0].cause, Cause::PullProjection(_)));
        assert_eq!(left.shares.len(), 6, "{:?}", left.shares);
        assert!((left.shares.iter().map(|s| s.share).sum::<f64>() - 1.0).abs() < 0.02);
        if law == "Normal" {
            // Normal deviates for 95, 99 and 99.9 % (Abramowitz and Stegun, table 26.5). Six causes cut off at three sigma
            // each are all but normal: the tail is a little thinner.
            for (enough, deviate) in left.wanted.iter().zip([1.644_85, 2.326_35, 3.090_23]) {
                let width = PLANNED + deviate * sigma;
                let slack = if enough.share > 0.995 { 0.15 } else { 0.04 };
                assert!((enough.width.to_mm() - width).abs() < slack * sigma, "{enough:?} against {width}");
                assert!(enough.band[0] <= enough.width && enough.width <= enough.band[1]);
            }
        }
    }
}

#[test]
fn the_chance_of_touching_is_the_share_of_the_normal_law() {
    // The filler such that what is planned to be left is one sigma: 15.87 % of a normal law lie beyond (table 26.1).
    let mut plan = plan_of(SHIFTS, 90.0, 36.0);
    let square: f64 = [0.4, 0.8 / 2.0, 0.6, 0.5, 0.5, 0.7].iter().map(|t: &f64| t * t).sum();
    let one_sigma = sigma(SpreadLaw::Normal) * square.sqrt();
    let touching = PLANNED - 12.0;
    plan.corner = plan.corner.with_filler(Side::Left, crate::plan::Filler::Fixed(Length::mm(touching + one_sigma)));
    let answer = clearance::answer(&plan);
    let (_, sure) = sure(&plan, &answer, Sampling { samples: 40_000, seed: 9, threads: 2 }, &patient).unwrap();
    assert!((sure.touches.share - 0.158_66).abs() < 0.01, "{:?}", sure.touches);
    assert!(sure.touches.band[0] < sure.touches.share && sure.touches.share < sure.touches.band[1]);
    // Far nearer than the clearance wanted, whatever is off.
    assert!(sure.too_near.share > 0.999_999);
}

#[test]
fn the_same_seed_gives_the_same_answer_with_any_number_of_threads() {
    let plan = plan_of(ALL, 93.0, 36.0);
    let answer = clearance::answer(&plan);
    let with = |threads: usize, seed: u64| {
        sure(&plan, &answer, Sampling { samples: 4_500, seed, threads }, &patient).unwrap().1
    };
    let one = with(1, 5);
    assert_eq!(one.samples, 4_500);
    assert_eq!(one, with(2, 5));
    assert_eq!(one, with(7, 5));
    assert_ne!(one.sides, with(1, 6).sides);
}

#[test]
fn a_watch_can_stop_the_samples_with_what_there_is_or_with_nothing() {
    let plan = plan_of(SHIFTS, 90.0, 36.0);
    let answer = clearance::answer(&plan);
    let sampling = Sampling { samples: 50_000, seed: 1, threads: 1 };
    let (_, some) =
        sure(&plan, &answer, sampling, &|now| if now.steps >= 2_000 { Flow::Enough } else { Flow::GoOn }).unwrap();
    assert!(some.samples >= 2_000 && some.samples < 50_000, "{}", some.samples);
    assert_eq!(sure(&plan, &answer, sampling, &|_| Flow::Cancel).unwrap_err(), Cancelled);
}

/// Each sample answered by all pairs, not only by those that are said to decide.
#[test]
fn what_is_left_out_decides_nothing() {
    for (text, count) in [(DEMO, 60), (SHED, 3)] {
        let plan = crate::plan::read("plan", text).unwrap();
        let answer = clearance::answer(&plan);
        let model = Model::build_filled(&plan, answer.fillers());
        let causes = Causes::of(&plan, &model);
        let most = causes.most();
        for side in Side::BOTH {
            let met = meetings(&model, reach(&causes));
            for keep in Keep::BOTH {
                let scene = Scene {
                    model: &model,
                    causes: &causes,
                    most: &most,
                    meetings: &met,
                    margin: keep.margin(&model),
                    carried: CARRIED,
                };
                let few = deciding(scene, side);
                let all = deciding::everything(scene, side);
                assert!(few.list.len() < all.list.len() / 2, "{} of {}", few.list.len(), all.list.len());
                let mut generator = chance::generator(11, 0);
                for _ in 0..count {
                    let off: Vec<f64> =
                        most.iter().map(|most| chance::draw(SpreadLaw::Uniform, &mut generator) * most).collect();
                    let (told, wanted) = (needed(&few, &off), needed(&all, &off));
                    assert!((told - wanted).abs() < 1e-3, "{side:?} {keep:?}: {told} against {wanted}");
                    assert!(told <= few.worst + 1e-3 && told >= few.at_least - 1e-3);
                }
            }
        }
    }
}
