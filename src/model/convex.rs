//! What is a piece of a part? A [`Convex`]: a flat convex outline pushed along a straight line.
//!
//! Boards, bars and bevelled filler faces are all prisms, so one shape serves the window (faces), the clearance check
//! (vertices and edge directions) and the drawings (outlines). Points are in the room frame, mm, z up.

use parry3d::math::Vector;

/// A point or direction in the room frame, in mm.
pub type Vec3 = Vector;

/// Sides of the polygon that stands for a circle.
///
/// It is drawn around the circle, so the error (under 0.9 % of the
/// radius, 1/cos(7.5°) − 1) is on the safe side, and flat on the four axis directions, where it is none.
pub const ROUND_SIDES: usize = 24;

/// A convex prism: `base` is a flat convex outline, `push` carries it to the opposite face.
///
/// The outline runs counter-clockwise seen from where `push` points, so that faces look outwards.
#[derive(Clone, Debug, PartialEq)]
pub struct Convex {
    base: Vec<Vec3>,
    push: Vec3,
}

impl Convex {
    /// A prism over `base`, which may run either way round.
    ///
    /// # Panics
    /// If the outline has fewer than three points: a builder's mistake in this crate, not in a plan.
    #[must_use]
    pub fn prism(mut base: Vec<Vec3>, push: Vec3) -> Self {
        assert!(base.len() >= 3, "a prism needs an outline of at least three points");
        if outline_normal(&base).dot(push) < 0.0 {
            base.reverse();
        }
        Self { base, push }
    }

    /// A box from its corner and three edges at right angles to each other.
    #[must_use]
    pub fn block(corner: Vec3, a: Vec3, b: Vec3, c: Vec3) -> Self {
        Self::prism(vec![corner, corner + a, corner + a + b, corner + b], c)
    }

    /// A round bar along `push` from `centre`, drawn around the circle of `radius`; `flat` is a unit direction across
    /// the bar on which a side lies flat.
    #[must_use]
    pub fn round(centre: Vec3, radius: f64, flat: Vec3, push: Vec3) -> Self {
        let sideways = push.normalize().cross(flat);
        let half_angle = std::f64::consts::PI / ROUND_SIDES as f64;
        let to_vertex = radius / half_angle.cos();
        let base = (0..ROUND_SIDES)
            .map(|k| {
                let angle = (2 * k + 1) as f64 * half_angle;
                centre + flat * (to_vertex * angle.cos()) + sideways * (to_vertex * angle.sin())
            })
            .collect();
        Self::prism(base, push)
    }

    /// The outline of the near face.
    #[must_use]
    pub fn base(&self) -> &[Vec3] {
        &self.base
    }

    /// From the near face to the far one.
    #[must_use]
    pub fn push(&self) -> Vec3 {
        self.push
    }

    /// All its corners, the near face first.
    pub fn vertices(&self) -> impl Iterator<Item = Vec3> + '_ {
        self.base.iter().copied().chain(self.base.iter().map(|&p| p + self.push))
    }

    /// Its faces as outlines that run counter-clockwise seen from outside.
    #[must_use]
    pub fn faces(&self) -> Vec<Vec<Vec3>> {
        let mut near = self.base.clone();
        near.reverse();
        let mut faces = vec![near, self.base.iter().map(|&p| p + self.push).collect()];
        for (k, &a) in self.base.iter().enumerate() {
            let b = self.base[(k + 1) % self.base.len()];
            faces.push(vec![a, b, b + self.push, a + self.push]);
        }
        faces
    }

    /// Its volume in mm³.
    #[must_use]
    pub fn volume(&self) -> f64 {
        outline_normal(&self.base).dot(self.push).abs() / 2.0
    }

    /// The same piece elsewhere.
    #[must_use]
    pub fn moved(&self, by: Vec3) -> Self {
        Self { base: self.base.iter().map(|&p| p + by).collect(), push: self.push }
    }

    /// Whether it is a box with square corners, as a board is.
    #[must_use]
    pub fn as_block(&self) -> Option<(Vec3, [Vec3; 3])> {
        let [a, b, c, d] = self.base.as_slice() else { return None };
        let (u, v) = (*b - *a, *d - *a);
        let square = |x: Vec3, y: Vec3| x.dot(y).abs() <= 1e-9 * x.length() * y.length();
        let closes = (*c - *b - v).length() <= 1e-9 * (u.length() + v.length());
        (closes && square(u, v) && square(u, self.push) && square(v, self.push)).then_some((*a, [u, v, self.push]))
    }
}

/// Twice the outline's area along its normal.
fn outline_normal(outline: &[Vec3]) -> Vec3 {
    let mut sum = Vec3::ZERO;
    for (k, &a) in outline.iter().enumerate() {
        let b = outline[(k + 1) % outline.len()];
        sum += (a - outline[0]).cross(b - outline[0]);
    }
    sum
}

/// The part of a flat convex `outline` where `normal · p ≥ least`; empty where nothing of it is left.
#[must_use]
pub fn clip_outline(outline: &[Vec3], normal: Vec3, least: f64) -> Vec<Vec3> {
    let mut kept = Vec::with_capacity(outline.len() + 1);
    for (k, &a) in outline.iter().enumerate() {
        let b = outline[(k + 1) % outline.len()];
        let (da, db) = (normal.dot(a) - least, normal.dot(b) - least);
        if da >= 0.0 {
            kept.push(a);
        }
        if (da > 0.0 && db < 0.0) || (da < 0.0 && db > 0.0) {
            kept.push(a + (b - a) * (da / (da - db)));
        }
    }
    if kept.len() < 3 || outline_normal(&kept).length() < 1e-6 { Vec::new() } else { kept }
}

/// The convex outline around `points` in plan view, counter-clockwise, at the height of the first; Andrew's monotone
/// chain.
#[must_use]
pub fn hull_outline(points: &[Vec3]) -> Vec<Vec3> {
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let turns_left = |a: Vec3, b: Vec3, c: Vec3| (b - a).cross(c - a).z > 1e-9;
    let chain = |ordered: &mut dyn Iterator<Item = Vec3>| {
        let mut kept: Vec<Vec3> = Vec::new();
        for p in ordered {
            while let [.., a, b] = kept.as_slice()
                && !turns_left(*a, *b, p)
            {
                kept.pop();
            }
            kept.push(p);
        }
        kept.pop();
        kept
    };
    let mut outline = chain(&mut sorted.iter().copied());
    outline.extend(chain(&mut sorted.iter().rev().copied()));
    outline
}

/// The area that convex outlines cover together, counter-clockwise each.
///
/// Cut into upright slabs at every corner and every crossing of two edges: within a slab no edges cross, so what is
/// covered is a set of trapezia, as wide as the slab and as high as the union of intervals on its middle line.
#[must_use]
pub fn area_of_union(outlines: &[Vec<Vec3>]) -> f64 {
    let span = |outline: &Vec<Vec3>| {
        let ends = (f64::INFINITY, f64::NEG_INFINITY);
        outline.iter().fold(ends, |(low, high), p| (low.min(p.x), high.max(p.x)))
    };
    let mut spans: Vec<((f64, f64), &Vec<Vec3>)> = outlines.iter().map(|outline| (span(outline), outline)).collect();
    spans.sort_by(|a, b| a.0.0.total_cmp(&b.0.0));
    let edges = |outline: &Vec<Vec3>| -> Vec<(Vec3, Vec3)> {
        outline.iter().enumerate().map(|(k, &a)| (a, outline[(k + 1) % outline.len()])).collect()
    };
    let mut cuts: Vec<f64> = outlines.iter().flatten().map(|a| a.x).collect();
    for (k, (span, outline)) in spans.iter().enumerate() {
        let own = edges(outline);
        // Only what begins before this one ends can cross it.
        for (_, other) in spans[k + 1..].iter().take_while(|(other, _)| other.0 < span.1) {
            let theirs = edges(other);
            cuts.extend(own.iter().flat_map(|a| theirs.iter().filter_map(move |b| crossing(*a, *b))));
        }
    }
    cuts.sort_by(f64::total_cmp);
    cuts.dedup();
    let slabs = cuts.windows(2).filter_map(|two| if let [from, to] = *two { Some((from, to)) } else { None });
    let at = |x: f64| spans.iter().filter(move |(span, _)| span.0 < x && x < span.1).map(|(_, outline)| *outline);
    slabs.map(|(from, to)| (to - from) * covered(at(f64::midpoint(from, to)), f64::midpoint(from, to))).sum()
}

/// The x of the point where two edges cross, where they do.
fn crossing((a, b): (Vec3, Vec3), (c, d): (Vec3, Vec3)) -> Option<f64> {
    let (u, v) = (b - a, d - c);
    let across = u.x * v.y - u.y * v.x;
    if across.abs() < 1e-12 {
        return None;
    }
    let from = c - a;
    let (t, r) = ((from.x * v.y - from.y * v.x) / across, (from.x * u.y - from.y * u.x) / across);
    ((0.0..=1.0).contains(&t) && (0.0..=1.0).contains(&r)).then_some(a.x + u.x * t)
}

/// How much of the line at `x` the outlines cover together.
fn covered<'a>(outlines: impl Iterator<Item = &'a Vec<Vec3>>, x: f64) -> f64 {
    let mut stretches: Vec<(f64, f64)> = outlines
        .filter_map(|outline| {
            let crossed = outline.iter().enumerate().filter_map(|(k, a)| {
                let b = outline[(k + 1) % outline.len()];
                ((a.x < x) != (b.x < x)).then(|| a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x))
            });
            let (low, high) = crossed.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), y| (l.min(y), h.max(y)));
            (low < high).then_some((low, high))
        })
        .collect();
    stretches.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut sum, mut reached) = (0.0, f64::NEG_INFINITY);
    for (low, high) in stretches {
        sum += (high - low.max(reached)).max(0.0);
        reached = reached.max(high);
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_block_knows_its_volume_and_corners() {
        let block = Convex::block(Vec3::ZERO, Vec3::X * 2.0, Vec3::Y * 3.0, Vec3::Z * 4.0);
        assert!((block.volume() - 24.0).abs() < 1e-12);
        assert_eq!(block.vertices().count(), 8);
        assert!(block.as_block().is_some());
    }

    #[test]
    fn every_face_looks_outwards() {
        for piece in [
            Convex::block(Vec3::ZERO, Vec3::X, Vec3::Y, -Vec3::Z),
            Convex::round(Vec3::ZERO, 5.0, Vec3::Y, Vec3::X * 30.0),
        ] {
            let count = piece.vertices().count() as f64;
            let middle = piece.vertices().fold(Vec3::ZERO, |sum, v| sum + v) / count;
            for face in piece.faces() {
                assert!(outline_normal(&face).dot(face[0] - middle) > 0.0);
            }
        }
    }

    #[test]
    fn a_round_bar_is_drawn_around_its_circle() {
        let bar = Convex::round(Vec3::ZERO, 6.0, Vec3::Y, Vec3::X * 100.0);
        let top = bar.vertices().map(|v| v.z).fold(f64::MIN, f64::max);
        let out = bar.vertices().map(|v| v.y).fold(f64::MIN, f64::max);
        assert!((top - 6.0).abs() < 1e-12 && (out - 6.0).abs() < 1e-12);
        let widest = bar.base().iter().map(|v| v.length()).fold(0.0, f64::max);
        assert!(widest > 6.0 && widest < 6.0 * 1.009);
    }

    #[test]
    fn a_hull_leaves_out_what_lies_inside() {
        let points = [[0.0, 0.0], [4.0, 0.0], [2.0, 1.0], [4.0, 4.0], [0.0, 4.0], [2.0, 0.0]];
        let outline = hull_outline(&points.map(|[x, y]| Vec3::new(x, y, 0.0)));
        assert_eq!(outline.len(), 4);
        assert!((outline_normal(&outline).z / 2.0 - 16.0).abs() < 1e-12);
    }

    #[test]
    fn clipping_keeps_the_side_asked_for() {
        let square = [Vec3::ZERO, Vec3::X * 4.0, Vec3::new(4.0, 4.0, 0.0), Vec3::Y * 4.0];
        let half = clip_outline(&square, Vec3::X, 3.0);
        assert!((outline_normal(&half).length() / 2.0 - 4.0).abs() < 1e-12);
        assert!(clip_outline(&square, Vec3::X, 5.0).is_empty());
    }

    fn square(x: f64, y: f64, side: f64) -> Vec<Vec3> {
        [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]
            .map(|[a, b]| Vec3::new(x + a * side, y + b * side, 0.0))
            .to_vec()
    }

    // Three squares of 100 that overlap by 50 x 50, twice, with nothing in all three: 3 x 10,000 - 2 x 2,500.
    #[test]
    fn what_overlaps_counts_once() {
        let squares = [square(0.0, 0.0, 100.0), square(50.0, 50.0, 100.0), square(100.0, 100.0, 100.0)];
        assert!((area_of_union(&squares) - 25_000.0).abs() < 1e-9);
        let same = [square(0.0, 0.0, 100.0), square(0.0, 0.0, 100.0), square(0.0, 0.0, 100.0)];
        assert!((area_of_union(&same) - 10_000.0).abs() < 1e-9);
    }
}
