//! Tests of the queries themselves that must come out at zero misses, by the hundred thousand, and the off-square
//! closed form on bare bodies.
//!
//! Boxes of 3–800 mm, sweeps up to 600 mm, as cabinets have them: aligned on whole millimetres (ties everywhere),
//! aligned, and turned by 60°–150°.

use super::sweep::{Swept, closest};
use super::tolerance::{SAME, TOUCH};
use super::travel::{overlap, overlapping, too_near};
use crate::model::{Convex, Vec3};

/// The counter-based generator of Steele, Lea and Flood (2014), "Fast splittable pseudorandom number generators".
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * ((self.next() >> 11) as f64 / (1_u64 << 53) as f64)
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Whole,
    Aligned,
    Turned,
}

/// A box and its sweep; for aligned ones also what the swept box covers.
struct Body {
    piece: Convex,
    sweep: Vec3,
}

impl Body {
    fn random(random: &mut Random, kind: Kind) -> Self {
        let mut number = |low: f64, high: f64| {
            let n = random.between(low, high);
            if kind == Kind::Whole { n.round() } else { n }
        };
        let corner = Vec3::new(number(-600.0, 600.0), number(-600.0, 600.0), number(-300.0, 300.0));
        let size = Vec3::new(number(3.0, 800.0), number(3.0, 800.0), number(3.0, 400.0));
        let mut sweep = Vec3::ZERO;
        let travel = number(0.0, 600.0);
        let axis = random.next() % 3;
        if axis < 2 {
            sweep[usize::try_from(axis).unwrap()] = travel;
        }
        let (mut x, mut y) = (Vec3::X, Vec3::Y);
        if kind == Kind::Turned {
            let turn = random.between(60.0, 150.0).to_radians();
            x = Vec3::new(turn.cos(), turn.sin(), 0.0);
            y = Vec3::new(-turn.sin(), turn.cos(), 0.0);
        }
        let piece = Convex::block(corner, x * size.x, y * size.y, Vec3::Z * size.z);
        Self { piece, sweep: x * sweep.x + y * sweep.y }
    }

    fn swept(&self) -> Swept<'_> {
        Swept { sweep: self.sweep, ..Swept::still(&self.piece) }
    }
}

/// The closed form for aligned boxes moved along x: near while the gap along x is under √(m² − the other gaps²).
fn aligned_interval(a: &Swept<'_>, b: &Swept<'_>, margin: f64) -> Option<[f64; 2]> {
    let gap = |axis: Vec3| {
        let ([a0, a1], [b0, b1]) = (a.extent(axis), b.extent(axis));
        (b0 - a1).max(a0 - b1)
    };
    let (y, z) = (gap(Vec3::Y), gap(Vec3::Z));
    let ([a0, a1], [b0, b1]) = (a.extent(Vec3::X), b.extent(Vec3::X));
    if margin <= 0.0 {
        return (y < -TOUCH && z < -TOUCH).then_some([b0 - a1, b1 - a0]);
    }
    let off = y.max(0.0).hypot(z.max(0.0));
    // Equality is a graze, and clear.
    (off < margin - 1e-9).then(|| {
        let reach = (margin * margin - off * off).sqrt();
        [b0 - a1 - reach, b1 - a0 + reach]
    })
}

const PAIRS: usize = 100_000;

#[test]
fn aligned_boxes_agree_with_the_closed_form_every_time() {
    for (kind, seed) in [(Kind::Whole, 1), (Kind::Aligned, 2)] {
        let mut random = Random(seed);
        for margin in [0.0, 0.1, 2.0, 12.0] {
            for _ in 0..PAIRS {
                let (a, b) = (Body::random(&mut random, kind), Body::random(&mut random, kind));
                let (a, b) = (a.swept(), b.swept());
                let found = too_near(&a, &b, Vec3::X, margin);
                let expected = aligned_interval(&a, &b, margin);
                match (found, expected) {
                    (None, None) => {}
                    (Some(found), Some(expected)) => {
                        // In distance, not in width: where the approach is nearly a graze a little distance is much
                        // width. Never late: each end keeps the margin.
                        for (f, e) in found.into_iter().zip(expected) {
                            let there = closest(&a.moved(Vec3::X * f), &b).distance;
                            assert!(
                                (f - e).abs() < 1e-6 || (there - margin).abs() < SAME,
                                "{f} for {e}, margin {margin}"
                            );
                            assert!(there >= margin - SAME);
                        }
                    }
                    (None, Some([low, high])) => {
                        // A graze so slight that its depth is within the same millionth.
                        let middle = f64::midpoint(low, high);
                        let deepest = closest(&a.moved(Vec3::X * middle), &b).distance;
                        assert!(margin > 0.0 && deepest > margin - SAME, "missed {low}..{high}, margin {margin}");
                    }
                    (Some(found), None) => panic!("{found:?} where there is nothing, margin {margin}"),
                }
            }
        }
    }
}

#[test]
fn turned_boxes_agree_with_bisection_on_the_distance() {
    let mut random = Random(3);
    for margin in [0.1, 2.0, 12.0] {
        for round in 0..PAIRS {
            let (a, b) = (Body::random(&mut random, Kind::Turned), Body::random(&mut random, Kind::Turned));
            let (a, b) = (a.swept(), b.swept());
            let distance = |s: f64| closest(&a.moved(Vec3::X * s), &b).distance;
            match too_near(&a, &b, Vec3::X, margin) {
                Some([low, high]) => {
                    // The ends keep the margin, and a hundredth further in does not: nothing late, nothing early.
                    assert!((distance(low) - margin).abs() < SAME, "{low}: {}", distance(low));
                    assert!((distance(high) - margin).abs() < SAME, "{high}: {}", distance(high));
                    let inside = 0.01_f64.min((high - low) / 2.0);
                    assert!(distance(low + inside) < margin && distance(high - inside) < margin);
                }
                // By thirds on the convex distance, for one in ten: it is the slow way.
                None if round % 10 == 0 => {
                    let (mut low, mut high) = (-3000.0, 3000.0);
                    while high - low > 1e-6 {
                        let (p, q) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
                        if distance(p) <= distance(q) { high = q } else { low = p }
                    }
                    assert!(distance(low) >= margin - SAME, "missed at {low}");
                }
                None => {}
            }
        }
    }
}

#[test]
fn contact_of_turned_boxes_is_what_the_distance_says_beside_its_ends() {
    let mut random = Random(4);
    for _ in 0..PAIRS {
        let (a, b) = (Body::random(&mut random, Kind::Turned), Body::random(&mut random, Kind::Turned));
        let (a, b) = (a.swept(), b.swept());
        let distance = |s: f64| closest(&a.moved(Vec3::X * s), &b).distance;
        match overlapping(&a, &b, Vec3::X, TOUCH) {
            Some([low, high]) => {
                assert!(!overlap(&a.moved(Vec3::X * low), &b) && !overlap(&a.moved(Vec3::X * high), &b));
                assert!(distance(f64::midpoint(low, high)) <= 1e-9);
                assert!(distance(low - 1.0) > 0.0 && distance(high + 1.0) > 0.0);
            }
            None => {
                // Nowhere do they overlap: at the extents' meeting, least of all.
                let [_, a1] = a.extent(Vec3::X);
                let [b0, _] = b.extent(Vec3::X);
                assert!(!overlap(&a.moved(Vec3::X * (b0 - a1 + 1.0)), &b));
            }
        }
    }
}

/// The least filler for bare bodies at run angle θ, from the plan view.
///
/// Both carcasses D deep. A point x along run A from the corner and y out from its wall clears run B's front plane by
/// `x sin θ − y cos θ − D`, which must be at least t + p + c. The opening front's near edge is the line
/// x = x₀ + w, y from D + t outwards to D + t + T; x₀ = D (1 + cos θ) / sin θ is where the front planes meet. The least
/// over y is at the front's face drawn out (θ < 90°: y = D + t + T) or shut at its back (θ > 90°: y = D), so
/// `w = (t + p + c)/sin θ + max(0, (t + T) cot θ)` for bodies whose near edge begins in the front plane.
#[test]
fn bare_bodies_off_square_agree_with_the_plan_view() {
    const DEPTH: f64 = 600.0;
    let (front, projection, clear, travel) = (19.0, 35.0, 12.0, 533.0);
    for degrees in (60..=170).step_by(1) {
        let theta = f64::from(degrees).to_radians();
        let (along, out) = (Vec3::new(theta.cos(), theta.sin(), 0.0), Vec3::new(theta.sin(), -theta.cos(), 0.0));
        let corner_at = DEPTH * (1.0 + theta.cos()) / theta.sin();
        // The opening front on the left run, bare, at filler 0.
        let opening =
            Convex::block(Vec3::new(corner_at, DEPTH, 0.0), Vec3::X * 600.0, Vec3::Y * front, Vec3::Z * 200.0);
        // An endless front and pull opposite.
        let opposite = Convex::block(
            along * (corner_at - 20_000.0) + out * DEPTH,
            along * 40_000.0,
            out * (front + projection),
            Vec3::Z * 200.0,
        );
        let a = Swept { sweep: Vec3::Y * travel, ..Swept::still(&opening) };
        let [_, end] = too_near(&a, &Swept::still(&opposite), Vec3::X, clear).unwrap();
        let expected =
            (front + projection + clear) / theta.sin() + (front + travel).max(0.0) * (1.0 / theta.tan()).max(0.0);
        assert!((end - expected).abs() < 0.001, "{degrees}°: {end} for {expected}");
    }
}

// The published check values for the formula (t 19, p 35, c 12, T 533): 95.020 at 87°, 66 at 90°, 66.040 at 92°.
#[test]
fn the_off_square_formula_gives_its_published_values() {
    for (degrees, expected) in [(87.0_f64, 95.020), (88.0, 85.316), (89.0, 75.645), (90.0, 66.000), (92.0, 66.040)] {
        let theta = degrees.to_radians();
        let got = 66.0 / theta.sin() + (552.0 / theta.tan()).max(0.0);
        assert!((got - expected).abs() < 0.0006, "{degrees}°: {got}");
    }
}
