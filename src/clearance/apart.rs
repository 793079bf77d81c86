//! How far apart are two things as they stand?
//!
//! [`gap_now`] measures between two parts of a [`Model`], each as far open as it is said to be; [`nearest_points`] between
//! the hulls of two sets of points: a corner, an edge, a face. Room frame, mm. The method is that of every distance here,
//! see [`super::sweep`].

use parry3d::math::Pose;
use parry3d::query::details::closest_points_support_map_support_map_with_params;
use parry3d::query::gjk::{GJKResult, VoronoiSimplex};
use parry3d::shape::SupportMap;

use super::free::posed;
use super::sweep::{Swept, closest};
use crate::model::{Model, PartId, Vec3};

/// The space between two parts, 0 where they touch or overlap, and the closest points on the first and on the second.
///
/// Every drawer and door is as far open as `outs` says, by mover; what is not in it is shut.
#[must_use]
pub fn gap_now(model: &Model, outs: &[f64], part: PartId, other: PartId) -> (f64, [Vec3; 2]) {
    let stands = |id: PartId| {
        let part = model.part(id);
        let motion = part.mover.map(|id| (&model.mover(id).motion, outs.get(id.0).copied().unwrap_or(0.0)));
        part.pieces.iter().map(move |piece| match motion {
            Some((motion, out)) => posed(piece, motion, out),
            None => std::borrow::Cow::Borrowed(piece),
        })
    };
    let mut least = (f64::INFINITY, [Vec3::ZERO; 2]);
    for own in stands(part) {
        for theirs in stands(other) {
            let found = closest(&Swept::still(&own), &Swept::still(&theirs));
            if found.distance < least.0 {
                least = (found.distance, found.points);
            }
        }
    }
    least
}

/// The closest points of two convex things given by their corners: one point, the two ends of an edge, a face's outline.
/// `None` where either is empty.
#[must_use]
pub fn nearest_points(a: &[Vec3], b: &[Vec3]) -> Option<[Vec3; 2]> {
    let (first, other) = (*a.first()?, *b.first()?);
    // Small coordinates keep the last digits.
    let near = |points: &[Vec3]| Hull(points.iter().map(|&p| p - first).collect());
    let toward = (other - first).try_normalize();
    let found = closest_points_support_map_support_map_with_params(
        &Pose::IDENTITY,
        &near(a),
        &near(b),
        f64::MAX,
        &mut VoronoiSimplex::new(),
        toward.map(|t| -t),
    );
    match found {
        GJKResult::ClosestPoints(p, q, _) => Some([p + first, q + first]),
        // They meet: where, is told only for a corner on something.
        GJKResult::Intersection | GJKResult::Proximity(_) | GJKResult::NoIntersection(_) => {
            let at = if b.len() == 1 { other } else { first };
            Some([at, at])
        }
    }
}

struct Hull(Vec<Vec3>);

impl SupportMap for Hull {
    fn local_support_point(&self, direction: Vec3) -> Vec3 {
        let farthest = |best: Vec3, &p: &Vec3| if p.dot(direction) > best.dot(direction) { p } else { best };
        self.0.iter().fold(self.0.first().copied().unwrap_or(Vec3::ZERO), farthest)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn corners_edges_and_faces_keep_their_distance() {
        let face = [[0.0, 0.0], [100.0, 0.0], [100.0, 50.0], [0.0, 50.0]].map(|[x, y]| Vec3::new(x, y, 0.0));
        let over = Vec3::new(40.0, 20.0, 30.0);
        let [p, q] = nearest_points(&[over], &face).unwrap();
        assert!((p - over).length() < 1e-9 && (q - Vec3::new(40.0, 20.0, 0.0)).length() < 1e-6);
        // Past the face's edge: 30 up, 40 along, so 50 in all.
        let [p, q] = nearest_points(&[Vec3::new(140.0, 20.0, 30.0)], &face).unwrap();
        assert!(((p - q).length() - 50.0).abs() < 1e-6);
        let edge = [Vec3::new(-10.0, -20.0, 7.0), Vec3::new(110.0, -20.0, 7.0)];
        let [p, q] = nearest_points(&edge, &face[..2]).unwrap();
        assert!(((p - q).length() - 20.0_f64.hypot(7.0)).abs() < 1e-6);
    }
}
