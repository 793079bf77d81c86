//! How do flat convex outlines turn, and where do they overlap? The geometry of one section, in mm.
//!
//! Overlap is decided by separating axes: two convex outlines are apart exactly when the normal of one of their edges
//! tells them apart (separating axis theorem, standard geometry). Touching is not overlapping.
//!
//! Of an outline that turns by a little about a point inside it, [`Outline::hull_of_turn`] holds all that it passes over, and
//! [`Outline::core_of_turn`] lies within it all the while: one is on the safe side for "goes in", the other for "does not".

use std::ops::{Add, Mul, Sub};

/// Outlines that overlap by no more than this touch, mm: sums of whole millimetres and thirty-seconds carry about 1e-12 of
/// noise.
pub const TOUCH: f64 = 1e-7;

/// A point or direction in a section, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flat {
    /// Across.
    pub x: f64,
    /// Out, or up.
    pub y: f64,
}

impl Flat {
    /// The origin.
    pub const ZERO: Self = Self { x: 0.0, y: 0.0 };

    /// A point.
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// The scalar product.
    #[must_use]
    pub fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// Positive where `other` lies counter-clockwise from it.
    #[must_use]
    pub fn cross(self, other: Self) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// Its distance from the origin.
    #[must_use]
    pub fn length(self) -> f64 {
        self.x.hypot(self.y)
    }

    /// Turned counter-clockwise about the origin, radians.
    #[must_use]
    pub fn turned(self, angle: f64) -> Self {
        let (sin, cos) = angle.sin_cos();
        Self::new(self.x * cos - self.y * sin, self.x * sin + self.y * cos)
    }

    fn left(self) -> Self {
        Self::new(-self.y, self.x)
    }
}

impl Add for Flat {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y)
    }
}

impl Sub for Flat {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.y - other.y)
    }
}

impl Mul<f64> for Flat {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        Self::new(self.x * by, self.y * by)
    }
}

/// A convex outline, counter-clockwise; as a body it is what lies inside.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    points: Vec<Flat>,
}

impl Outline {
    /// The convex outline around `points` (Andrew's monotone chain); `None` where they lie on one line.
    #[must_use]
    pub fn around(points: impl IntoIterator<Item = Flat>) -> Option<Self> {
        let mut sorted: Vec<Flat> = points.into_iter().collect();
        sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
        let mut outline: Vec<Flat> = Vec::with_capacity(sorted.len() + 1);
        for back in [false, true] {
            let start = outline.len();
            for k in 0..sorted.len() {
                let p = sorted[if back { sorted.len() - 1 - k } else { k }];
                while outline.len() >= start + 2 {
                    let (a, b) = (outline[outline.len() - 2], outline[outline.len() - 1]);
                    let (along, next) = ((b - a), (p - b));
                    if along.cross(next) > 1e-12 * along.length().max(next.length()) {
                        break;
                    }
                    outline.pop();
                }
                outline.push(p);
            }
            outline.pop();
        }
        (outline.len() >= 3).then_some(Self { points: outline })
    }

    /// A rectangle from its least to its greatest corner; `None` where it has no area.
    #[must_use]
    pub fn rectangle(x: [f64; 2], y: [f64; 2]) -> Option<Self> {
        Self::around([x[0], x[1]].into_iter().flat_map(|x| y.map(|y| Flat::new(x, y))))
    }

    /// Its corners, counter-clockwise.
    #[must_use]
    pub fn points(&self) -> &[Flat] {
        &self.points
    }

    /// Edges as their start and unit direction.
    fn edges(&self) -> impl Iterator<Item = (Flat, Flat)> + '_ {
        self.points.iter().enumerate().map(|(k, &a)| {
            let along = self.points[(k + 1) % self.points.len()] - a;
            (a, along * (1.0 / along.length()))
        })
    }

    /// The mean of its corners, which lies inside.
    #[must_use]
    pub fn middle(&self) -> Flat {
        let sum = self.points.iter().fold(Flat::ZERO, |sum, &p| sum + p);
        sum * (1.0 / self.points.len() as f64)
    }

    /// From where to where it reaches along `axis`.
    #[must_use]
    pub fn extent(&self, axis: Flat) -> [f64; 2] {
        let along = self.points.iter().map(|p| p.dot(axis));
        along.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], d| [low.min(d), high.max(d)])
    }

    /// The same with every corner moved so.
    #[must_use]
    pub fn map(&self, place: impl Fn(Flat) -> Flat) -> Self {
        Self { points: self.points.iter().map(|&p| place(p)).collect() }
    }

    /// The greatest distance of a corner from the origin.
    #[must_use]
    pub fn radius(&self) -> f64 {
        self.points.iter().map(|p| p.length()).fold(0.0, f64::max)
    }

    /// How far the two are apart along the edge normal that tells them apart best; negative where they overlap, then the
    /// least move that would part them. No more than their distance.
    #[must_use]
    pub fn apart(&self, other: &Self) -> f64 {
        let best = |one: &Self, two: &Self| {
            one.edges()
                .map(|(start, along)| {
                    let outward = along.left() * -1.0;
                    two.extent(outward)[0] - start.dot(outward)
                })
                .fold(f64::NEG_INFINITY, f64::max)
        };
        best(self, other).max(best(other, self))
    }

    /// Whether the insides share anything.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        self.apart(other) < -TOUCH
    }

    /// What it passes over on its way by `shift`.
    #[must_use]
    pub fn swept(&self, shift: Flat) -> Self {
        let both = self.points.iter().flat_map(|&p| [p, p + shift]);
        Self::around(both).unwrap_or_else(|| self.clone())
    }

    /// Holds all that it passes over as it turns about the origin from the first angle to the second: each corner's arc lies
    /// between its ends and the point where the tangents there meet.
    #[must_use]
    pub fn hull_of_turn(&self, [from, to]: [f64; 2]) -> Self {
        let half = (to - from) / 2.0;
        if half.abs() <= 0.0 {
            return self.map(|p| p.turned(from));
        }
        let tangents = 1.0 / half.cos();
        let arcs = self.points.iter().flat_map(|&p| [p.turned(from), p.turned(to), p.turned(from + half) * tangents]);
        Self::around(arcs).unwrap_or_else(|| self.clone())
    }

    /// Lies within it whatever the angle from the first to the second as it turns about the origin, which must lie inside:
    /// each edge's line rolls on a circle, and what lies beyond the two outermost lines and the chord between their feet
    /// goes. `None` where nothing is left.
    #[must_use]
    pub fn core_of_turn(&self, [from, to]: [f64; 2]) -> Option<Self> {
        let half = (to - from) / 2.0;
        let mut core = self.map(|p| p.turned(from)).points;
        if half.abs() > 0.0 {
            for (start, along) in self.edges() {
                let outward = along.left() * -1.0;
                let far = start.dot(outward);
                for (angle, far) in [(from + half, far * half.cos()), (to, far)] {
                    core = clipped(&core, outward.turned(angle), far);
                }
            }
        }
        Self::around(core)
    }

    /// Where its origin may not be: every place at which `moving`, carried there, would overlap it by more than [`TOUCH`]
    /// (the Minkowski difference, drawn in by that).
    #[must_use]
    pub fn barred_to(&self, moving: &Self) -> Option<Self> {
        // Minkowski's sum of two convex outlines has the edges of both in the order of their directions (standard geometry).
        let turned = moving.map(|p| p * -1.0);
        let (one, two) = (self.corners_from_lowest(), turned.corners_from_lowest());
        let (mut at, mut corners) = (one[0] + two[0], Vec::with_capacity(one.len() + two.len()));
        let edge = |of: &[Flat], k: usize| of[(k + 1) % of.len()] - of[k];
        let (mut i, mut j) = (0, 0);
        while i < one.len() || j < two.len() {
            corners.push(at);
            let first = match (i < one.len(), j < two.len()) {
                (true, true) => edge(&one, i).cross(edge(&two, j)),
                (true, false) => 1.0,
                _ => -1.0,
            };
            // Parallel edges make one.
            if first >= 0.0 {
                at = at + edge(&one, i);
                i += 1;
            }
            if first <= 0.0 {
                at = at + edge(&two, j);
                j += 1;
            }
        }
        let barred = Self::around(corners)?;
        let count = barred.points.len();
        let inward: Vec<Flat> = barred.edges().map(|(_, along)| along.left()).collect();
        let drawn_in = (0..count).map(|k| {
            let (before, after) = (inward[(k + count - 1) % count], inward[k]);
            barred.points[k] + (before + after) * (TOUCH / (1.0 + before.dot(after)).max(1e-3))
        });
        Self::around(drawn_in)
    }

    /// Its corners from the lowest, of those the leftmost, on.
    fn corners_from_lowest(&self) -> Vec<Flat> {
        let lower = |&j: &usize, &k: &usize| {
            let (a, b) = (self.points[j], self.points[k]);
            a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x))
        };
        let start = (0..self.points.len()).min_by(lower).unwrap_or(0);
        self.points[start..].iter().chain(&self.points[..start]).copied().collect()
    }

    /// Whether `point` lies inside by more than `by`.
    #[must_use]
    pub fn holds(&self, point: Flat, by: f64) -> bool {
        // Squares with their sign, to spare the roots.
        let by = by * by.abs();
        (0..self.points.len()).all(|k| {
            let start = self.points[k];
            let along = self.points[(k + 1) % self.points.len()] - start;
            let far = along.cross(point - start);
            far * far.abs() > by * along.dot(along)
        })
    }
}

/// What of a convex outline has `normal · p ≤ far`.
fn clipped(outline: &[Flat], normal: Flat, far: f64) -> Vec<Flat> {
    let mut kept = Vec::with_capacity(outline.len() + 1);
    for (k, &a) in outline.iter().enumerate() {
        let b = outline[(k + 1) % outline.len()];
        let (da, db) = (far - normal.dot(a), far - normal.dot(b));
        if da >= 0.0 {
            kept.push(a);
        }
        if (da > 0.0 && db < 0.0) || (da < 0.0 && db > 0.0) {
            kept.push(a + (b - a) * (da / (da - db)));
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rectangle(x: [f64; 2], y: [f64; 2]) -> Outline {
        Outline::rectangle(x, y).unwrap()
    }

    #[test]
    fn touching_is_apart_and_a_hair_more_overlaps() {
        let plate = rectangle([0.0, 100.0], [0.0, 20.0]);
        assert!(!plate.overlaps(&rectangle([0.0, 100.0], [20.0, 30.0])));
        assert!(plate.overlaps(&rectangle([0.0, 100.0], [20.0 - 1e-6, 30.0])));
        assert!((plate.apart(&rectangle([103.0, 110.0], [0.0, 5.0])) - 3.0).abs() < 1e-12);
    }

    #[test]
    fn a_turning_outline_stays_in_its_hull_and_holds_its_core() {
        let plate = rectangle([-300.0, 300.0], [-9.0, 9.0]);
        for [from, to] in [[0.0, 0.03], [0.2, 0.9], [-1.2, -1.0]] {
            let (hull, core) = (plate.hull_of_turn([from, to]), plate.core_of_turn([from, to]).unwrap());
            for k in 0..=50 {
                let now = plate.map(|p| p.turned(from + (to - from) * f64::from(k) / 50.0));
                assert!(now.points().iter().all(|&p| hull.holds(p, -1e-9)));
                assert!(core.points().iter().all(|&p| now.holds(p, -1e-9)));
            }
        }
    }

    // Between angles a and b a plate 2l × 2t reaches l cos a + t sin b across at the most; the tangents' bulge is r (1/cos(Δ/2) − 1).
    #[test]
    fn the_hull_of_a_small_turn_is_hardly_larger_than_the_turn() {
        let plate = rectangle([-300.0, 300.0], [-9.0, 9.0]);
        let widest = (300.0_f64 * 300.0 + 81.0).sqrt();
        let reach = plate.hull_of_turn([0.02, 0.04]).extent(Flat::new(1.0, 0.0))[1];
        assert!(reach >= widest && reach < widest / 0.01_f64.cos() + 1e-9, "{reach}");
    }

    #[test]
    fn the_barred_places_are_the_ones_that_overlap() {
        let plate = rectangle([-30.0, 30.0], [-5.0, 5.0]).map(|p| p.turned(0.4));
        let post = Outline::around([[0.0, 0.0], [50.0, 10.0], [20.0, 60.0]].map(|[x, y]| Flat::new(x, y))).unwrap();
        let barred = post.barred_to(&plate).unwrap();
        let mut both = [0, 0];
        for k in 0..4000 {
            let at = Flat::new(f64::from(k % 63) * 3.0 - 70.0, f64::from(k / 63) * 2.7 - 60.0);
            let moved = plate.map(|p| p + at);
            assert_eq!(moved.overlaps(&post), barred.holds(at, 0.0), "{at:?}");
            both[usize::from(moved.overlaps(&post))] += 1;
        }
        assert!(both[0] > 500 && both[1] > 500, "{both:?}");
    }
}
