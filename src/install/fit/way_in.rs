//! Does each unit come through the narrowest way in? Boxes through an opening, and round a corner behind it.
//!
//! Through a plain opening a box goes when one of its three faces does, as it lies or tilted ([`goes_into`]).
//!
//! Where a piece must turn behind the opening, the opening is taken for a passage as wide as it is that meets another as wide as
//! the clear length behind it at a right angle, and the box is carried level, one edge upright. A rectangle l × w goes round
//! that corner when w is no more than either passage and l ≤ (a cos t + b sin t − w)/(sin t cos t) for every angle t between
//! (standard geometry, the ladder round a corner with a width). A real jamb is thin: the sum is on the safe side.

use std::f64::consts::FRAC_PI_2;

use crate::model::{Model, Role};
use crate::plan::{Plan, Side, WayIn};

/// What is left of a fit that counts as none, mm.
const SAME: f64 = 1e-6;
/// Steps in which an angle is looked through before the best of them is drawn closer.
const ANGLES: usize = 256;
/// The room lacking is looked for until it is known to this, mm.
const STEP: f64 = 0.01;

/// One unit and the narrowest way in.
#[derive(Clone, Debug, PartialEq)]
pub struct CarriedIn {
    /// Its run.
    pub side: Side,
    /// Its index in the run.
    pub unit: usize,
    /// What a builder calls it.
    pub name: String,
    /// The box that is carried, without fronts and without a loose base: along the run, out from the wall, up; mm.
    pub size: [f64; 3],
    /// How it goes.
    pub goes: Carried,
}

/// How a box goes through the way in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Carried {
    /// With this one of its three directions upright (0 along the run, 1 out, 2 up), and without turning.
    Straight {
        /// Which.
        upright: usize,
    },
    /// Likewise, turned about the corner behind the opening.
    Turned {
        /// Which.
        upright: usize,
    },
    /// Tilted in the opening, this direction first.
    Tilted {
        /// Which.
        first: usize,
    },
    /// Not: the opening would have to be wider by this, mm, or as much more clear.
    TooLarge {
        /// By how much; up to 0.01 mm more than needed.
        short: f64,
    },
}

/// Every unit's box, where the plan tells a way in.
#[must_use]
pub fn carried_in(plan: &Plan, model: &Model) -> Vec<CarriedIn> {
    let Some(way) = plan.room.survey.way_in else { return Vec::new() };
    let units = Side::BOTH.into_iter().flat_map(|side| (0..plan.run(side).units.len()).map(move |unit| (side, unit)));
    units
        .filter_map(|(side, unit)| {
            let size = carried_size(model, side, unit)?;
            let name = format!("{} {} {}", side.word(), unit + 1, plan.run(side).units.get(unit)?.name);
            Some(CarriedIn { side, unit, name, size, goes: carried(size, way) })
        })
        .collect()
}

/// What is carried of a unit: what is fixed to it, less a loose base.
fn carried_size(model: &Model, side: Side, unit: usize) -> Option<[f64; 3]> {
    let run = model.run(side);
    let fixed = model.parts.iter().filter(|part| {
        let loose = matches!(
            part.role,
            Role::BaseFrame | Role::Leg | Role::Appliance | Role::ApplianceHandle | Role::BuildUp | Role::Countertop
        );
        part.run == Some(side) && part.unit == Some(unit) && part.mover.is_none() && !loose
    });
    let mut reach: Option<[[f64; 2]; 3]> = None;
    for part in fixed {
        let own = [run.along, run.out, crate::model::Vec3::Z].map(|axis| part.extent(axis));
        reach = Some(reach.map_or(own, |all| [0, 1, 2].map(|k| [all[k][0].min(own[k][0]), all[k][1].max(own[k][1])])));
    }
    reach.map(|reach| reach.map(|[low, high]| high - low))
}

/// How a box of `size` goes through `way`.
#[must_use]
pub fn carried(size: [f64; 3], way: WayIn) -> Carried {
    let (width, height) = (way.width.to_mm(), way.height.to_mm());
    // As it stands in the room first, then on its back or front, then on its end.
    const UPRIGHT: [usize; 3] = [2, 1, 0];
    let level = |upright: usize| {
        let (a, b) = (size[(upright + 1) % 3], size[(upright + 2) % 3]);
        [a.max(b), a.min(b)]
    };
    let stands = |upright: usize| size[upright] <= height + SAME;
    match way.turn.map(crate::length::Length::to_mm) {
        None => {
            if let Some(upright) = UPRIGHT.into_iter().find(|&u| stands(u) && level(u)[1] <= width + SAME) {
                return Carried::Straight { upright };
            }
            let face = |first: usize| [size[(first + 1) % 3], size[(first + 2) % 3]];
            if let Some(first) = UPRIGHT.into_iter().find(|&f| goes_into(face(f), [width, height])) {
                return Carried::Tilted { first };
            }
            let short = least(|more| (0..3).any(|f| goes_into(face(f), [width + more, height + more])), size);
            Carried::TooLarge { short }
        }
        Some(turn) => {
            let without = |u: usize| {
                let [long, wide] = level(u);
                (wide <= width + SAME && long <= turn + SAME) || (long <= width + SAME && wide <= turn + SAME)
            };
            if let Some(upright) = UPRIGHT.into_iter().find(|&u| stands(u) && without(u)) {
                return Carried::Straight { upright };
            }
            if let Some(upright) = UPRIGHT.into_iter().find(|&u| stands(u) && goes_round(level(u), [width, turn])) {
                return Carried::Turned { upright };
            }
            let goes = |more: f64| {
                UPRIGHT.into_iter().any(|u| {
                    let [long, wide] = level(u);
                    let passages = [width + more, turn + more];
                    let straight = wide <= passages[0].min(passages[1]) && long <= passages[0].max(passages[1]);
                    size[u] <= height + more && (straight || goes_round(level(u), passages))
                })
            };
            Carried::TooLarge { short: least(goes, size) }
        }
    }
}

/// The least that makes `goes` hold; with the whole size more it does.
fn least(goes: impl Fn(f64) -> bool, size: [f64; 3]) -> f64 {
    let (mut no, mut yes) = (0.0, size.into_iter().fold(0.0, f64::max) * 2.0);
    while yes - no > STEP {
        let middle = f64::midpoint(no, yes);
        if goes(middle) { yes = middle } else { no = middle }
    }
    yes
}

/// Whether a rectangle goes into another, tilted where need be.
///
/// Tilted by t it is p cos t + q sin t wide and p sin t + q cos t high. The least t at which it is no wider than the opening is
/// where it is lowest, so that one angle decides.
#[must_use]
pub fn goes_into(piece: [f64; 2], opening: [f64; 2]) -> bool {
    let sorted = |[a, b]: [f64; 2]| [a.max(b), a.min(b)];
    let ([p, q], [a, b]) = (sorted(piece), sorted(opening));
    if p <= a + SAME {
        return q <= b + SAME;
    }
    let diagonal = p.hypot(q);
    if diagonal <= 0.0 || q > b {
        return false;
    }
    // p cos t + q sin t = diagonal · cos(t − lean): it falls to a past the lean.
    let lean = q.atan2(p);
    let t = lean + (a / diagonal).min(1.0).acos();
    t <= FRAC_PI_2 && p * t.sin() + q * t.cos() <= b + SAME
}

/// Whether a rectangle, its length and width, goes round the right-angled corner where passages of these widths meet.
#[must_use]
pub fn goes_round([long, wide]: [f64; 2], [a, b]: [f64; 2]) -> bool {
    wide <= a.min(b) + SAME && long <= longest_round(wide, a, b) + SAME
}

/// The greatest length of a piece `wide` wide that goes round the corner of passages `a` and `b` wide: the least over the angle of
/// (a cos t + b sin t − wide)/(sin t cos t), found closer than 1e-6 mm.
fn longest_round(wide: f64, a: f64, b: f64) -> f64 {
    let reach = |t: f64| (a * t.cos() + b * t.sin() - wide) / (t.sin() * t.cos());
    let angle = |k: usize| FRAC_PI_2 * k as f64 / ANGLES as f64;
    let best = (1..ANGLES).min_by(|&j, &k| reach(angle(j)).total_cmp(&reach(angle(k)))).unwrap_or(1);
    // The golden section between the two beside it.
    let (mut low, mut high) = (angle(best - 1), angle(best + 1));
    let share = (5.0_f64.sqrt() - 1.0) / 2.0;
    for _ in 0..60 {
        let (one, two) = (high - (high - low) * share, low + (high - low) * share);
        if reach(one) < reach(two) { high = two } else { low = one }
    }
    reach(f64::midpoint(low, high)).min(reach(angle(best)))
}

#[cfg(test)]
mod tests {
    use super::*;

    // The ladder round a corner, (a^⅔ + b^⅔)^(3/2): standard geometry. 1000 and 1000: 2828.427.
    #[test]
    fn a_piece_without_width_goes_round_like_a_ladder() {
        for (a, b) in [(1000.0_f64, 1000.0_f64), (762.0, 900.0), (600.0, 1400.0)] {
            let ladder = (a.powf(2.0 / 3.0) + b.powf(2.0 / 3.0)).powf(1.5);
            assert!((longest_round(0.0, a, b) - ladder).abs() < 1e-6);
        }
        // In passages alike the worst angle is 45°: 2 (a √2 − w).
        assert!((longest_round(300.0, 1000.0, 1000.0) - 2.0 * (1000.0 * 2.0_f64.sqrt() - 300.0)).abs() < 1e-6);
    }

    // By trying every angle in small steps.
    #[test]
    fn a_tilted_rectangle_goes_in_where_some_angle_lets_it() {
        let mut rng = fastrand::Rng::with_seed(3);
        let mut both = [0, 0];
        for _ in 0..4000 {
            let [p, q, a, b] = [0; 4].map(|_| 50.0 + 400.0 * rng.f64());
            let (p, q, a, b) = (p.max(q), p.min(q), a.max(b), a.min(b));
            let q = if rng.bool() { q } else { q * 0.1 };
            let over = |t: f64| (p * t.cos() + q * t.sin() - a).max(p * t.sin() + q * t.cos() - b);
            let least = (0..=20_000).map(|k| over(FRAC_PI_2 * f64::from(k) / 20_000.0)).fold(f64::INFINITY, f64::min);
            if least.abs() > 0.1 {
                assert_eq!(goes_into([p, q], [a, b]), least < 0.0, "{p} {q} {a} {b}: {least}");
                both[usize::from(least < 0.0)] += usize::from(p > a);
            }
        }
        assert!(both[0] > 100 && both[1] > 20, "{both:?}");
    }
}
