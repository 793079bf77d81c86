//! For which distances moved are two pieces too near? One open interval, found from outside it.
//!
//! For convex A and B, `g(s) = distance(A + s·u, B)` is convex in `s`, so the `s` with `g(s) < margin` are one open
//! interval and a tangent drawn from outside never steps past its end. For a margin of 0 separating axes decide, and
//! touching is not overlapping.

use super::sweep::{Closest, Swept, closest};
use super::tolerance::{GRAZE, SAME, STEERS, TANGENT, TOUCH};
use crate::model::{Convex, Vec3};

/// Distances along `u` that are too near: from, to; both ends themselves are clear.
pub(super) type Interval = [f64; 2];

/// Steps after which the tangents give way to bisection; 17 were the most ever measured.
const MOST_STEPS: usize = 100;

/// The `s` for which `a + s·u` comes nearer to `b` than `margin` (for 0: overlaps it); `u` need not be of unit length.
pub(super) fn too_near(a: &Swept<'_>, b: &Swept<'_>, u: Vec3, margin: f64) -> Option<Interval> {
    too_near_within(a, b, u, margin, TANGENT)
}

/// The same, its ends where the distance is up to `slack` more than the margin: wider, and sooner found.
pub(super) fn too_near_within(a: &Swept<'_>, b: &Swept<'_>, u: Vec3, margin: f64, slack: f64) -> Option<Interval> {
    if margin > 0.0 {
        let low = first_too_near(a, b, u, margin, slack)?;
        let high = first_too_near(a, b, -u, margin, slack).map_or(low, |s| -s);
        // Where the nearest they come is the margin itself, they graze: equality, and clear. The ends are found a hair
        // outside, where a graze still has some slope; halfway between them it has not.
        let deepest = closest(&a.moved(u * f64::midpoint(low, high)), b).distance;
        (high > low && deepest < margin - TOUCH).then_some([low, high])
    } else {
        overlapping(a, b, u, TOUCH)
    }
}

/// The least `s` at which `a + s·u` comes within `margin` of `b`.
fn first_too_near(a: &Swept<'_>, b: &Swept<'_>, u: Vec3, margin: f64, slack: f64) -> Option<f64> {
    if margin < STEERS {
        let low = first_too_near(a, b, u, STEERS, slack)?;
        let high = first_too_near(a, b, -u, STEERS, slack).map_or(low, |s| -s);
        return bisect(a, b, u, margin, [low, high]);
    }
    let (outside, beyond) = (apart(a, b, u, margin), -apart(a, b, -u, margin));
    let mut s = outside;
    for _ in 0..MOST_STEPS {
        let near = closest(&a.moved(u * s), b);
        let slope = -(near.points[1] - near.points[0]).dot(u) / near.distance;
        if near.distance <= margin + slack {
            return (slope < -GRAZE * u.length()).then_some(s);
        }
        if slope >= 0.0 {
            return None;
        }
        let step = (near.distance - margin) / -slope;
        if s + step > beyond {
            return None;
        }
        // Below the last digit of s there is nothing left to gain.
        if s + step <= s {
            return Some(s);
        }
        s += step;
    }
    bisect(a, b, u, margin, [outside, beyond])
}

/// An `s` before which the two are further apart along `u` than the margin.
fn apart(a: &Swept<'_>, b: &Swept<'_>, u: Vec3, margin: f64) -> f64 {
    let ([_, front], [back, _]) = (a.extent(u), b.extent(u));
    let per_step = u.length_squared();
    (back - front - (margin + 1.0) * u.length()) / per_step
}

/// The same end by brute force: the least of a convex function by thirds, then its crossing by halves.
fn bisect(a: &Swept<'_>, b: &Swept<'_>, u: Vec3, margin: f64, [outside, beyond]: [f64; 2]) -> Option<f64> {
    let distance = |s: f64| closest(&a.moved(u * s), b).distance;
    let (mut low, mut high) = (outside, beyond);
    // Fine enough that what is left of the width is far below any tolerance in distance.
    let finest = 1e-9 * (1.0 + outside.abs() + beyond.abs());
    while high - low > finest {
        let (p, q) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        let (at_p, at_q) = (distance(p), distance(q));
        if at_p < margin - TANGENT || at_q < margin - TANGENT {
            high = if at_p < margin - TANGENT { p } else { q };
            break;
        }
        if at_p <= at_q { high = q } else { low = p }
    }
    if distance(high) >= margin - TANGENT {
        return None;
    }
    let mut low = outside;
    while high - low > finest {
        let middle = f64::midpoint(low, high);
        if distance(middle) < margin { high = middle } else { low = middle }
    }
    Some(low)
}

/// The `s` for which `a + s·u` overlaps `b` by more than `slack`: on every axis that could separate them, in one
/// interval.
pub(super) fn overlapping(a: &Swept<'_>, b: &Swept<'_>, u: Vec3, slack: f64) -> Option<Interval> {
    let mut edges = edge_directions(a.piece, a.sweep);
    edges.extend(edge_directions(b.piece, b.sweep));
    let mut range = [f64::NEG_INFINITY, f64::INFINITY];
    for (k, &p) in edges.iter().enumerate() {
        for &q in &edges[k + 1..] {
            let axis = p.cross(q);
            let length = axis.length();
            if length < 1e-9 {
                continue;
            }
            narrow(a, b, u, axis / length, slack, &mut range)?;
        }
    }
    (range[1] > range[0]).then_some(range)
}

/// Keeps of `range` the `s` for which the two overlap along the unit `axis`; `None` where none are left.
fn narrow(a: &Swept<'_>, b: &Swept<'_>, u: Vec3, axis: Vec3, slack: f64, range: &mut Interval) -> Option<()> {
    let ([a0, a1], [b0, b1]) = (a.extent(axis), b.extent(axis));
    let along = u.dot(axis);
    // They overlap while b0 + slack < a1 + s·along and a0 + s·along < b1 − slack.
    let (first, last) = (b0 + slack - a1, b1 - slack - a0);
    if along.abs() < 1e-12 * u.length().max(1e-12) {
        return (first < 0.0 && last > 0.0).then_some(());
    }
    let (from, to) = if along > 0.0 { (first / along, last / along) } else { (last / along, first / along) };
    range[0] = range[0].max(from);
    range[1] = range[1].min(to);
    (range[0] < range[1]).then_some(())
}

/// Whether the two overlap where they are; an end that [`too_near`] found is clear.
pub(super) fn overlap(a: &Swept<'_>, b: &Swept<'_>) -> bool {
    overlapping(a, b, Vec3::ZERO, SAME).is_some()
}

/// Whether the two come nearer than `margin` where they are; for 0, whether they overlap. An end that [`too_near`] found
/// is clear.
pub(super) fn comes_too_near(a: &Swept<'_>, b: &Swept<'_>, margin: f64) -> bool {
    if margin > 0.0 { closest(a, b).distance < margin - SAME } else { overlap(a, b) }
}

/// Every edge direction of a swept piece, each once.
pub(super) fn edge_directions(piece: &Convex, sweep: Vec3) -> Vec<Vec3> {
    let base = piece.base();
    let mut kept: Vec<Vec3> = Vec::with_capacity(base.len() + 2);
    let edges = (0..base.len()).map(|k| base[(k + 1) % base.len()] - base[k]).chain([piece.push(), sweep]);
    for edge in edges {
        let Some(edge) = edge.try_normalize() else { continue };
        if !kept.iter().any(|k| k.cross(edge).length() < 1e-9) {
            kept.push(edge);
        }
    }
    kept
}

/// Where `a`, on its way along `sweep`, comes as close to `b` as `least`, the distance of the whole way: the first
/// such distance gone, and the points there.
pub(super) fn nearest_on_the_way(a: &Swept<'_>, b: &Swept<'_>, sweep: Vec3, least: f64) -> (f64, Closest) {
    let (most, at) = (sweep.length(), |s: f64| closest(&a.moved(sweep * s), b));
    if most <= 0.0 {
        return (0.0, at(0.0));
    }
    // Tangents from outside find the first such place.
    if least >= STEERS
        && let Some(share) = first_too_near(a, b, sweep, least + SAME, TANGENT)
    {
        let share = share.clamp(0.0, 1.0);
        let found = at(share);
        // The place is found a hair before; the distance is known.
        return (share * most, Closest { distance: least, ..found });
    }
    // By thirds on a convex function; equal values keep the nearer end, so that the first of equals is found.
    let (mut low, mut high) = (0.0, 1.0);
    while (high - low) * most > 1e-4 {
        let (p, q) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if at(p).distance <= at(q).distance + TANGENT { high = q } else { low = p }
    }
    let (start, end) = (at(0.0), at(low));
    if start.distance <= end.distance + TANGENT {
        (0.0, start)
    } else {
        (low * most, Closest { distance: least, ..end })
    }
}

/// The least `s` at which `a + s·u` comes within `margin` of `b`, whatever comes after.
pub(super) fn comes_near_at(a: &Swept<'_>, b: &Swept<'_>, u: Vec3, margin: f64) -> Option<f64> {
    if margin > 0.0 {
        first_too_near(a, b, u, margin, TANGENT)
    } else {
        overlapping(a, b, u, TOUCH).map(|[low, _]| low)
    }
}
