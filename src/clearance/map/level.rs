//! For which pairs of moves are two convex pieces too near? A convex set, told by an outline around it and one in it.
//!
//! For convex A and B, `f(x, y) = distance(A + x·p + y·q, B)` is convex in (x, y), so the pairs with `f < margin` are a
//! convex set. For a margin of 0 it is a polygon, cut out by every axis that could separate the two. For more, its edge is
//! the level curve of `f`: an outline around it is cut smaller along tangents, from its corners inwards, until no corner
//! lies further than [`FINE`] from a point of the edge. A cut by a tangent of a convex function never takes away a pair
//! that is too near, so the outline errs on the safe side; the points of the edge make the outline within.

use super::plane::{Point, area, centre, clip, holds, hull};
use crate::clearance::sweep::{Swept, closest};
use crate::clearance::tolerance::{STEERS, TANGENT, TOUCH};
use crate::clearance::travel::edge_directions;
use crate::model::{Convex, Vec3};

/// How far the outline around a set may lie from the set, in the map's own units.
pub(in crate::clearance) const FINE: f64 = 0.01;

/// Cuts after which an outline is left as it is; it stays on the safe side, and its distance from the set is told. Forty
/// were the most ever seen in a test.
const MOST_CUTS: usize = 400;

/// Steps towards an edge, or towards a place inside; ten were the most ever seen.
const MOST_STEPS: usize = 100;

/// Two pieces that move against each other in two ways.
#[derive(Clone, Copy, Debug)]
pub(in crate::clearance) struct Meeting<'a> {
    /// Goes by `x·ways[0] + y·ways[1]`.
    pub(in crate::clearance) a: Swept<'a>,
    pub(in crate::clearance) b: Swept<'a>,
    pub(in crate::clearance) ways: [Vec3; 2],
    /// Nearer than this is too near; 0: they must not overlap. Above 0 never below 0.1 mm.
    pub(in crate::clearance) margin: f64,
    /// How far an outline may lie outside the set: [`FINE`] where nothing else is said.
    pub(in crate::clearance) fine: f64,
}

/// Which pairs are too near.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::clearance) struct Level {
    /// Every pair that is too near lies in it.
    pub(in crate::clearance) outer: Vec<Point>,
    /// Every pair in it is too near; may be empty where the set is thin.
    pub(in crate::clearance) inner: Vec<Point>,
    /// No corner of `outer` lies further than this from the set.
    pub(in crate::clearance) error: f64,
}

impl Meeting<'_> {
    /// What the pieces' boxes leave of `within`.
    pub(in crate::clearance) fn by_boxes(&self, within: &[Point]) -> Vec<Point> {
        self.by_axes(within, [Vec3::X, Vec3::Y, Vec3::Z].into_iter())
    }

    /// The pairs in `within` that are too near; `None` where there are none. A graze is no conflict.
    pub(in crate::clearance) fn level(&self, within: &[Point]) -> Option<Level> {
        let outline = self.by_boxes(within);
        if outline.is_empty() {
            return None;
        }
        if self.margin <= 0.0 {
            let mut edges = edge_directions(self.a.piece, self.a.sweep);
            edges.extend(edge_directions(self.b.piece, self.b.sweep));
            let axes = edges.iter().enumerate().flat_map(|(k, &p)| edges[k + 1..].iter().map(move |&q| p.cross(q)));
            let outer = self.by_axes(&outline, axes.filter_map(Vec3::try_normalize));
            return (!outer.is_empty()).then(|| Level { inner: outer.clone(), outer, error: 0.0 });
        }
        let faces = face_axes(&self.a).into_iter().chain(face_axes(&self.b));
        self.shrunk(self.by_axes(&outline, faces))
    }

    /// What of `outline` is left where along none of the unit `axes` the two are further apart than the margin.
    fn by_axes(&self, outline: &[Point], axes: impl Iterator<Item = Vec3>) -> Vec<Point> {
        let mut kept = outline.to_vec();
        // Touching is not overlapping.
        let slack = if self.margin > 0.0 { self.margin } else { -TOUCH };
        for axis in axes {
            if kept.is_empty() {
                break;
            }
            let ([a0, a1], [b0, b1]) = (self.a.extent(axis), self.b.extent(axis));
            let along = self.ways.map(|way| way.dot(axis));
            kept = clip(&kept, along, b0 - slack - a1);
            kept = clip(&kept, along.map(|x| -x), a0 - b1 - slack);
        }
        kept
    }

    /// The distance at `p`, and its gradient; where they overlap there is none.
    fn distance(&self, [x, y]: Point) -> (f64, Point) {
        let near = closest(&self.a.moved(self.ways[0] * x + self.ways[1] * y), &self.b);
        let away = (near.points[1] - near.points[0]) / near.distance.max(STEERS);
        (near.distance, self.ways.map(|way| -away.dot(way)))
    }

    /// Cuts an outline that surely holds every pair that is too near down to them.
    fn shrunk(&self, mut outline: Vec<Point>) -> Option<Level> {
        let inside = self.somewhere_inside(&mut outline)?;
        let mut open: Vec<(Point, bool)> = outline.into_iter().map(|p| (p, false)).collect();
        let (mut edge, mut error): (Vec<Point>, f64) = (Vec::new(), 0.0);
        for cuts in 0.. {
            let Some(next) = open.iter().position(|(_, done)| !done) else { break };
            let corner = open[next].0;
            let (on_edge, tangent) = self.edge_towards(corner, inside);
            if !edge.contains(&on_edge) {
                edge.push(on_edge);
            }
            let off = (corner[0] - on_edge[0]).hypot(corner[1] - on_edge[1]);
            match tangent.filter(|_| off > self.fine && cuts < MOST_CUTS) {
                Some([gx, gy]) => {
                    let level = gx * on_edge[0] + gy * on_edge[1];
                    open = cut(&open, [-gx, -gy], -level);
                }
                None => {
                    open[next].1 = true;
                    error = error.max(off);
                }
            }
        }
        let outer: Vec<Point> = open.into_iter().map(|(p, _)| p).collect();
        (outer.len() >= 3 && area(&outer) > 0.0).then(|| Level { outer, inner: hull(&edge), error })
    }

    /// A place where they are too near, `outline` cut smaller on the way; `None` where there is none.
    ///
    /// Asks at the centre of gravity: a cut there takes away more than a third of what is left (Grünbaum 1960: at least
    /// 1/e of a convex set lies on either side of its centre of gravity).
    fn somewhere_inside(&self, outline: &mut Vec<Point>) -> Option<Point> {
        for _ in 0..MOST_STEPS {
            let at = centre(outline)?;
            let (distance, [gx, gy]) = self.distance(at);
            if distance < self.margin - TOUCH {
                return Some(at);
            }
            if gx.hypot(gy) < 1e-9 {
                return None;
            }
            *outline = clip(outline, [-gx, -gy], distance - self.margin - gx * at[0] - gy * at[1]);
        }
        None
    }

    /// The first point on the way from `corner` to `inside` that comes within the margin, and the gradient there; no
    /// gradient where the corner itself does.
    fn edge_towards(&self, corner: Point, inside: Point) -> (Point, Option<Point>) {
        let way = [inside[0] - corner[0], inside[1] - corner[1]];
        let mut share = 0.0;
        for step in 0..MOST_STEPS {
            let at = [corner[0] + way[0] * share, corner[1] + way[1] * share];
            let (distance, gradient) = self.distance(at);
            if distance <= self.margin + TANGENT {
                return (at, (step > 0).then_some(gradient));
            }
            // From outside, a tangent of a convex function never steps past its level.
            let slope = -(gradient[0] * way[0] + gradient[1] * way[1]);
            let on = share + (distance - self.margin) / slope;
            if slope <= 0.0 || on >= 1.0 {
                break;
            }
            // Below the last digit of the share there is nothing left to gain.
            if on <= share {
                return (at, Some(gradient));
            }
            share = on;
        }
        (inside, None)
    }
}

/// The unit normals of a swept piece's faces.
fn face_axes(swept: &Swept<'_>) -> Vec<Vec3> {
    if swept.sweep == Vec3::ZERO {
        return prism_axes(swept.piece);
    }
    let edges = edge_directions(swept.piece, swept.sweep);
    let pairs = edges.iter().enumerate().flat_map(|(k, &p)| edges[k + 1..].iter().map(move |&q| p.cross(q)));
    pairs.filter_map(Vec3::try_normalize).collect()
}

fn prism_axes(piece: &Convex) -> Vec<Vec3> {
    let (base, push) = (piece.base(), piece.push());
    let edges = base.iter().zip(base.iter().cycle().skip(1)).map(|(a, b)| *b - *a);
    let sides = edges.clone().filter_map(|edge| edge.cross(push).try_normalize());
    let flat = edges.clone().zip(edges.skip(1)).find_map(|(a, b)| a.cross(b).try_normalize());
    let mut kept: Vec<Vec3> = Vec::with_capacity(base.len() + 1);
    for axis in sides.chain(flat) {
        if !kept.iter().any(|k| k.cross(axis).length_squared() < 1e-18) {
            kept.push(axis);
        }
    }
    kept
}

/// [`clip`] for corners that remember whether they are done; a new one is not.
fn cut(outline: &[(Point, bool)], normal: Point, least: f64) -> Vec<(Point, bool)> {
    let points: Vec<Point> = outline.iter().map(|&(p, _)| p).collect();
    let kept = clip(&points, normal, least);
    kept.into_iter().map(|p| (p, outline.iter().any(|&(q, done)| done && q == p))).collect()
}

/// Whether all of `outline` lies in `other`, but for the last digits.
pub(in crate::clearance) fn lies_in(outline: &[Point], other: &[Point]) -> bool {
    outline.iter().all(|&p| holds(other, p, TANGENT))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clearance::map::plane::rectangle;

    fn cube(corner: Vec3, size: f64) -> Convex {
        Convex::block(corner, Vec3::X * size, Vec3::Y * size, Vec3::Z * size)
    }

    fn crossing(margin: f64) -> Level {
        // One comes from the left along +x, the other from below along +y; they meet where both are 100 to 120 out.
        let (a, b) = (cube(Vec3::new(-10.0, 100.0, 0.0), 10.0), cube(Vec3::new(100.0, -10.0, 0.0), 10.0));
        let (a, b) = (Swept::still(&a), Swept::still(&b));
        Meeting { a, b, ways: [Vec3::X, -Vec3::Y], margin, fine: FINE }.level(&rectangle([0.0; 2], [200.0; 2])).unwrap()
    }

    // By hand: the first lies at x from s − 10 to s, the second at x from 100 to 110: they overlap for 100 < s < 120.
    #[test]
    fn two_boxes_that_cross_make_a_square() {
        let level = crossing(0.0);
        assert!((area(&level.outer) - 400.0).abs() < 1e-4);
        for corner in &level.outer {
            assert!(corner.iter().all(|x| (x - 100.0).abs() < 1e-5 || (x - 120.0).abs() < 1e-5));
        }
        assert!(level.error == 0.0 && level.inner == level.outer);
    }

    // Minkowski's sum of a square and a disc (Steiner's formula): 400 + perimeter·r + π r².
    #[test]
    fn clearance_rounds_the_square_s_corners() {
        for r in [0.1, 2.0, 12.0] {
            let level = crossing(r);
            let whole = 400.0 + 80.0 * r + std::f64::consts::PI * r * r;
            let (outer, inner) = (area(&level.outer), area(&level.inner));
            assert!(inner <= whole + 1e-6 && whole <= outer + 1e-6, "{inner} {whole} {outer}");
            // Its edge is 80 + 2 π r long, and the outlines lie no further than 0.01 from it.
            assert!(outer - inner < 0.011 * (80.0 + 7.0 * r), "{}", outer - inner);
            assert!(level.error <= FINE && level.outer.len() < 150);
        }
    }

    #[test]
    fn a_graze_is_no_conflict() {
        let (a, b) = (cube(Vec3::ZERO, 10.0), cube(Vec3::new(0.0, 0.0, 12.0), 10.0));
        let (a, b) = (Swept::still(&a), Swept::still(&b));
        let within = rectangle([0.0; 2], [200.0; 2]);
        for (margin, meets) in [(2.0, false), (2.001, true), (0.0, false)] {
            let meeting = Meeting { a, b, ways: [Vec3::X, -Vec3::Y], margin, fine: FINE };
            assert_eq!(meeting.level(&within).is_some(), meets, "{margin}");
        }
    }
}
