//! How near do two pieces come? Distance queries between convex pieces, standing or sliding.
//!
//! A convex piece that slides by `sweep` covers the convex body with support point
//! `support(n) + (sweep if sweep · n > 0)`. That support map is all the query needs: no hull is built, nothing is
//! sampled, and the distance of two swept pieces is the least over every pair of their positions.

use parry3d::math::Pose;
use parry3d::query::details::closest_points_support_map_support_map_with_params;
use parry3d::query::gjk::{GJKResult, VoronoiSimplex};
use parry3d::shape::SupportMap;

use crate::model::{Convex, Vec3};

/// A piece moved by `at` and swept by `sweep`; where it has a `twin`, the hull of the two: a piece and where it has
/// turned to.
#[derive(Clone, Copy, Debug)]
pub(super) struct Swept<'a> {
    pub(super) piece: &'a Convex,
    pub(super) twin: Option<&'a Convex>,
    pub(super) at: Vec3,
    pub(super) sweep: Vec3,
}

impl<'a> Swept<'a> {
    /// The piece where it stands in the model.
    pub(super) fn still(piece: &'a Convex) -> Self {
        Self { piece, twin: None, at: Vec3::ZERO, sweep: Vec3::ZERO }
    }

    /// The same, further by `by`.
    pub(super) fn moved(mut self, by: Vec3) -> Self {
        self.at += by;
        self
    }

    /// A point inside it.
    fn inside(&self) -> Vec3 {
        let base = self.piece.base();
        let sum = base.iter().fold(Vec3::ZERO, |sum, &p| sum + p);
        sum / base.len() as f64 + self.piece.push() / 2.0 + self.at + self.sweep / 2.0
    }

    /// Its extent along `axis`, which need not be of unit length.
    pub(super) fn extent(&self, axis: Vec3) -> [f64; 2] {
        let [mut low, mut high] = extent_of(self.piece, axis);
        if let Some(twin) = self.twin {
            let [also_low, also_high] = extent_of(twin, axis);
            (low, high) = (low.min(also_low), high.max(also_high));
        }
        let step = self.sweep.dot(axis);
        if step < 0.0 {
            low += step;
        } else {
            high += step;
        }
        let at = self.at.dot(axis);
        [low + at, high + at]
    }
}

fn extent_of(piece: &Convex, axis: Vec3) -> [f64; 2] {
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for p in piece.base() {
        let d = p.dot(axis);
        low = low.min(d);
        high = high.max(d);
    }
    let step = piece.push().dot(axis);
    if step < 0.0 { [low + step, high] } else { [low, high + step] }
}

/// The corner of `piece` farthest along `direction`, and how far that is.
fn farthest(piece: &Convex, direction: Vec3) -> (Vec3, f64) {
    let base = piece.base();
    let mut best = base.first().copied().unwrap_or(Vec3::ZERO);
    let mut most = best.dot(direction);
    for &p in base.iter().skip(1) {
        let d = p.dot(direction);
        if d > most {
            (best, most) = (p, d);
        }
    }
    let step = piece.push().dot(direction);
    if step > 0.0 { (best + piece.push(), most + step) } else { (best, most) }
}

impl SupportMap for Swept<'_> {
    fn local_support_point(&self, direction: Vec3) -> Vec3 {
        let (mut best, most) = farthest(self.piece, direction);
        if let Some(twin) = self.twin {
            let (also, further) = farthest(twin, direction);
            if further > most {
                best = also;
            }
        }
        if self.sweep.dot(direction) > 0.0 {
            best += self.sweep;
        }
        best + self.at
    }
}

/// How two pieces come closest.
#[derive(Clone, Copy, Debug)]
pub(super) struct Closest {
    /// 0 where they touch or overlap.
    pub(super) distance: f64,
    /// The points, on the first piece and on the second; where they overlap, only somewhere near.
    pub(super) points: [Vec3; 2],
}

/// The distance of two pieces and their closest points.
pub(super) fn closest(a: &Swept<'_>, b: &Swept<'_>) -> Closest {
    // Small coordinates keep the last digits.
    let origin = a.inside();
    let (near_a, near_b) = (a.moved(-origin), b.moved(-origin));
    let mut simplex = VoronoiSimplex::new();
    let toward = near_b.inside() - near_a.inside();
    let toward = (toward.length_squared() > 1e-12).then_some(toward);
    let far = f64::MAX;
    let found = closest_points_support_map_support_map_with_params(
        &Pose::IDENTITY,
        &near_a,
        &near_b,
        far,
        &mut simplex,
        toward.map(|t| -t),
    );
    match found {
        GJKResult::ClosestPoints(p, q, _) => Closest { distance: (q - p).length(), points: [p + origin, q + origin] },
        GJKResult::Intersection | GJKResult::Proximity(_) | GJKResult::NoIntersection(_) => {
            let middle = shared_middle(a, b);
            Closest { distance: 0.0, points: [middle, middle] }
        }
    }
}

/// The middle of what two pieces' bounding boxes share: a place to point at where they overlap.
fn shared_middle(a: &Swept<'_>, b: &Swept<'_>) -> Vec3 {
    let middle = |axis: Vec3| {
        let ([a0, a1], [b0, b1]) = (a.extent(axis), b.extent(axis));
        f64::midpoint(a0.max(b0), a1.min(b1))
    };
    Vec3::new(middle(Vec3::X), middle(Vec3::Y), middle(Vec3::Z))
}

/// `piece` with every face brought in by `by`; by less than half its least thickness, or nothing sensible is left.
#[must_use]
pub fn drawn_in(piece: &Convex, by: f64) -> Convex {
    if let Some((corner, edges)) = piece.as_block() {
        let steps = edges.map(|edge| edge.normalize_or_zero() * by);
        let [a, b, c] = [0, 1, 2].map(|k| edges[k] - steps[k] * 2.0);
        return Convex::block(corner + steps[0] + steps[1] + steps[2], a, b, c);
    }
    // A face at distance h from the middle comes in by h·(1 − factor) ≥ by where h is the least of them.
    let count = piece.base().len() as f64;
    let middle = piece.base().iter().fold(Vec3::ZERO, |sum, &p| sum + p) / count;
    let base = piece.base();
    let nearest = (0..base.len())
        .map(|k| {
            let (p, q) = (base[k], base[(k + 1) % base.len()]);
            let edge = (q - p).normalize_or_zero();
            ((p - middle) - edge * (p - middle).dot(edge)).length()
        })
        .fold(f64::INFINITY, f64::min);
    let factor = (1.0 - by / nearest.max(by)).max(0.0);
    let step = piece.push().normalize_or_zero() * by;
    Convex::prism(base.iter().map(|&p| middle + (p - middle) * factor + step).collect(), piece.push() - step * 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cube(corner: Vec3, size: f64) -> Convex {
        Convex::block(corner, Vec3::X * size, Vec3::Y * size, Vec3::Z * size)
    }

    #[test]
    fn two_cubes_keep_the_gap_between_them() {
        let (a, b) = (cube(Vec3::ZERO, 10.0), cube(Vec3::new(13.0, 0.0, 0.0), 10.0));
        let found = closest(&Swept::still(&a), &Swept::still(&b));
        assert!((found.distance - 3.0).abs() < 1e-9);
        let slid = Swept { sweep: Vec3::X * 2.0, ..Swept::still(&a) };
        assert!((closest(&slid, &Swept::still(&b)).distance - 1.0).abs() < 1e-9);
    }

    #[test]
    fn a_piece_drawn_in_keeps_its_middle() {
        let smaller = drawn_in(&cube(Vec3::ZERO, 10.0), 0.5);
        assert!((smaller.volume() - 729.0).abs() < 1e-9);
        let bar = Convex::round(Vec3::ZERO, 5.0, Vec3::Y, Vec3::X * 30.0);
        assert!(drawn_in(&bar, 0.01).volume() < bar.volume());
    }
}
