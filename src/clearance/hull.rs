//! How far does the hull of where a turning piece begins and ends a step reach past what it passes over?
//!
//! A point of the hull is (1 − t) a + t R b, with a and b in the piece and R the turn by the step Δ. The piece's own point
//! (1 − t) a + t b, turned by t Δ, is off it by t (1 − t) Δ |b − a| and a second-order rest, so by no more than
//! Δ |b − a| / 4 + r Δ² / 8. What the hull adds lies in pockets, and a pocket lies deepest at the straight edge that
//! closes it: from a corner a of the piece where it begins to a corner R b where it ends. So only such edges count. No
//! point of one is further from where the piece ends than a is, nor from where it begins than R b is, and a corner near
//! the line it turns about hardly moves. So a door hung at its edge leaves pockets of a leaf's thickness at its far end,
//! and a bar turned about its middle leaves large ones.

use crate::model::convex::hull_outline;
use crate::model::{Convex, Vec3};

/// 1 − cos x is a little less than x²/2: by less than this share for the steps that are in question.
const ARCS: f64 = 1.01;

/// Corners no further apart than the root of this, in mm², are one.
const SAME_CORNER: f64 = 1e-18;

/// A turning piece, seen along the line that it turns about, and the hulls of its steps.
#[derive(Clone, Debug)]
pub(crate) struct TurnedHull {
    /// Its corners in the plane square to that line, from the line.
    flat: Vec<Vec3>,
    /// Distance of the farthest corner from the line.
    radius: f64,
}

impl TurnedHull {
    pub(crate) fn of(piece: &Convex, hinge: Vec3, axis: Vec3) -> Self {
        let out = axis.any_orthonormal_vector();
        let up = axis.cross(out);
        let seen = |p: Vec3| Vec3::new((p - hinge).dot(out), (p - hinge).dot(up), 0.0);
        let mut flat: Vec<Vec3> = Vec::with_capacity(8);
        for p in piece.vertices().map(seen) {
            // What stands along the line is seen from its end.
            if flat.iter().all(|known| (*known - p).length_squared() > SAME_CORNER) {
                flat.push(p);
            }
        }
        let radius = flat.iter().map(|v| v.length()).fold(0.0, f64::max);
        Self { flat, radius }
    }

    /// Distance of its farthest corner from the line, mm.
    pub(crate) fn radius(&self) -> f64 {
        self.radius
    }

    /// How far an arc of the step leaves its chord at most, mm: the hull with that around it holds all that is passed
    /// over.
    pub(crate) fn bulge(&self, step: f64) -> f64 {
        self.radius * (1.0 - (step / 2.0).cos())
    }

    /// The first of `step`, its half, the half of that and so on whose hull and bulge together leave what is passed over
    /// by no more than `error`, in mm; none smaller than `least`.
    pub(crate) fn finest(&self, mut step: f64, error: f64, least: f64) -> f64 {
        // Arcs alone leave more than that in greater steps: r Δ²/8 for the hull and as much for the bulge.
        let arcs = |step: f64| self.radius * step * step / 4.0 > error * ARCS;
        while step > least && (arcs(step) || self.excess(step) + self.bulge(step) > error) {
            step /= 2.0;
        }
        step
    }

    /// How far the hull reaches past what is passed over at most, mm.
    pub(crate) fn excess(&self, step: f64) -> f64 {
        let (sin, cos) = step.sin_cos();
        let turned: Vec<Vec3> =
            self.flat.iter().map(|v| Vec3::new(v.x * cos - v.y * sin, v.x * sin + v.y * cos, 0.0)).collect();
        let outline = hull_outline(&[self.flat.as_slice(), turned.as_slice()].concat());
        let of = |corners: &[Vec3], p: Vec3| corners.iter().position(|&corner| corner == p);
        let corner = |k: usize| self.flat.get(k).copied().unwrap_or(Vec3::ZERO);
        let curved = self.radius * step * step / 8.0;
        // Between two ends of one corner, which an arc joins.
        let mut most = curved;
        for (k, &p) in outline.iter().enumerate() {
            let q = outline.get((k + 1) % outline.len()).copied().unwrap_or(p);
            for [p, q] in [[p, q], [q, p]] {
                if let (Some(a), Some(b)) = (of(&self.flat, p), of(&turned, q)) {
                    let (a, b) = (corner(a), corner(b));
                    let moves = step * a.length().min(b.length());
                    most = most.max(moves.min(step * (b - a).length() / 4.0 + curved));
                }
            }
        }
        most
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Motion;

    fn bar(from: Vec3, to: Vec3) -> Convex {
        let size = to - from;
        Convex::block(from, Vec3::X * size.x, Vec3::Y * size.y, Vec3::Z * size.z)
    }

    /// How far the hull reaches past what is passed over, by looking at many points of its outline and of the way.
    fn looked_at(piece: &Convex, step: f64) -> f64 {
        let motion = Motion::Swing { hinge: Vec3::ZERO, axis: Vec3::Z, angle: step };
        let corners = |angle: f64| {
            piece.vertices().map(motion.carrier(angle)).map(|p| Vec3::new(p.x, p.y, 0.0)).collect::<Vec<_>>()
        };
        let outline = hull_outline(&[corners(0.0), corners(step)].concat());
        let poses: Vec<Vec<Vec3>> = (0..=60).map(|k| hull_outline(&corners(step * f64::from(k) / 60.0))).collect();
        let mut farthest = 0.0_f64;
        for (k, &p) in outline.iter().enumerate() {
            let q = outline[(k + 1) % outline.len()];
            for t in (0..=40).map(|t| f64::from(t) / 40.0) {
                let x = p + (q - p) * t;
                let nearest = poses.iter().map(|pose| outside(pose, x)).fold(f64::INFINITY, f64::min);
                farthest = farthest.max(nearest);
            }
        }
        farthest
    }

    /// Distance of `x` from a convex outline; 0 within.
    fn outside(outline: &[Vec3], x: Vec3) -> f64 {
        let edges = || outline.iter().enumerate().map(|(k, &p)| (p, outline[(k + 1) % outline.len()]));
        if edges().all(|(p, q)| (q - p).cross(x - p).z >= 0.0) {
            return 0.0;
        }
        let to_edge = |(p, q): (Vec3, Vec3)| {
            let t = ((x - p).dot(q - p) / (q - p).length_squared()).clamp(0.0, 1.0);
            (x - p - (q - p) * t).length()
        };
        edges().map(to_edge).fold(f64::INFINITY, f64::min)
    }

    #[test]
    fn no_hull_reaches_past_by_more_than_is_told() {
        let pieces = [
            // A leaf hung at its edge, one on a pin beside it, a bar turned about its middle, a pull far out.
            bar(Vec3::new(0.0, 0.0, 0.0), Vec3::new(600.0, 19.0, 700.0)),
            bar(Vec3::new(8.0, -24.0, 0.0), Vec3::new(608.0, -5.0, 700.0)),
            bar(Vec3::new(-300.0, -10.0, 0.0), Vec3::new(300.0, 10.0, 700.0)),
            bar(Vec3::new(350.0, 19.0, 0.0), Vec3::new(510.0, 54.0, 12.0)),
        ];
        for piece in pieces {
            let hull = TurnedHull::of(&piece, Vec3::ZERO, Vec3::Z);
            for step in [0.002, 0.02, 0.1] {
                let (found, told) = (looked_at(&piece, step), hull.excess(step));
                // A fifth of a hundredth for the poses that were not looked at.
                assert!(found <= told + 0.002 * hull.radius * step, "{found} is more than {told} at {step}");
            }
        }
    }

    #[test]
    fn a_leaf_hung_at_its_edge_leaves_hardly_a_pocket_and_a_bar_turned_about_its_middle_does() {
        let told = |from: Vec3, to: Vec3| TurnedHull::of(&bar(from, to), Vec3::ZERO, Vec3::Z).excess(0.02);
        // A leaf's thickness, not its width.
        let leaf = told(Vec3::ZERO, Vec3::new(600.0, 19.0, 700.0));
        assert!(leaf < 0.02 * 19.0 / 4.0 + 600.4 * 0.02 * 0.02 / 8.0, "{leaf}");
        let middle = told(Vec3::new(-300.0, -10.0, 0.0), Vec3::new(300.0, 10.0, 700.0));
        assert!(middle > 0.02 * 500.0 / 4.0, "{middle}");
    }
}
