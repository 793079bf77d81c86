//! Which outlines lie in the plane of a map, and how much of it do they cover? Convex outlines, counter-clockwise.
//!
//! A point is a pair of numbers: how far one part is out and the other, or how wide one filler is and the other.

use crate::model::Vec3;
use crate::model::convex::{area_of_union, hull_outline};

/// A point of a map.
pub type Point = [f64; 2];

/// Outlines with less than this much in them, in the map's own units squared, are nothing.
const NOTHING: f64 = 1e-10;

/// The rectangle from the origin to `far`.
pub(in crate::clearance) fn rectangle([x0, y0]: Point, [x1, y1]: Point) -> Vec<Point> {
    vec![[x0, y0], [x1, y0], [x1, y1], [x0, y1]]
}

/// What of `outline` lies where `normal · p ≥ least`; empty where nothing does.
pub(in crate::clearance) fn clip(outline: &[Point], normal: Point, least: f64) -> Vec<Point> {
    let mut kept = Vec::with_capacity(outline.len() + 1);
    let over = |p: Point| normal[0] * p[0] + normal[1] * p[1] - least;
    let Some(&last) = outline.last() else { return kept };
    let (mut from, mut from_over) = (last, over(last));
    for &to in outline {
        let to_over = over(to);
        if (from_over > 0.0 && to_over < 0.0) || (from_over < 0.0 && to_over > 0.0) {
            let share = from_over / (from_over - to_over);
            kept.push([from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share]);
        }
        if to_over >= 0.0 {
            kept.push(to);
        }
        (from, from_over) = (to, to_over);
    }
    if area(&kept) < NOTHING { Vec::new() } else { kept }
}

/// The area of one outline.
pub(in crate::clearance) fn area(outline: &[Point]) -> f64 {
    let Some(&[x0, y0]) = outline.first() else { return 0.0 };
    let around = outline.iter().zip(outline.iter().cycle().skip(1));
    around.map(|(a, b)| (a[0] - x0) * (b[1] - y0) - (b[0] - x0) * (a[1] - y0)).sum::<f64>() / 2.0
}

/// Its centre of gravity; `None` where there is nothing of it.
pub(in crate::clearance) fn centre(outline: &[Point]) -> Option<Point> {
    let &[x0, y0] = outline.first()?;
    let (mut sum, mut twice) = ([0.0; 2], 0.0);
    for (a, b) in outline.iter().zip(outline.iter().cycle().skip(1)) {
        let (p, q) = ([a[0] - x0, a[1] - y0], [b[0] - x0, b[1] - y0]);
        let cross = p[0] * q[1] - q[0] * p[1];
        twice += cross;
        sum = [sum[0] + (p[0] + q[0]) * cross, sum[1] + (p[1] + q[1]) * cross];
    }
    (twice > 2.0 * NOTHING).then(|| [x0 + sum[0] / (3.0 * twice), y0 + sum[1] / (3.0 * twice)])
}

/// Whether `p` lies in the outline, its edges included, or no further outside any edge's line than `slack`.
pub(in crate::clearance) fn holds(outline: &[Point], p: Point, slack: f64) -> bool {
    outline.len() >= 3
        && outline.iter().zip(outline.iter().cycle().skip(1)).all(|(a, b)| {
            let edge = [b[0] - a[0], b[1] - a[1]];
            let cross = edge[0] * (p[1] - a[1]) - edge[1] * (p[0] - a[0]);
            cross >= -slack * edge[0].hypot(edge[1])
        })
}

/// Whether `p` lies in the outline and on none of its edges.
pub(in crate::clearance) fn holds_inside(outline: &[Point], p: Point) -> bool {
    holds(outline, p, -super::super::tolerance::SAME)
}

/// The convex outline around `points`.
pub(in crate::clearance) fn hull(points: &[Point]) -> Vec<Point> {
    let flat: Vec<Vec3> = points.iter().map(|&[x, y]| Vec3::new(x, y, 0.0)).collect();
    let outline = hull_outline(&flat);
    if outline.len() < 3 { Vec::new() } else { outline.iter().map(|p| [p.x, p.y]).collect() }
}

/// The area that convex outlines cover together.
pub(in crate::clearance) fn covered_area<'a>(outlines: impl Iterator<Item = &'a [Point]>) -> f64 {
    let flat: Vec<Vec<Vec3>> =
        outlines.map(|outline| outline.iter().map(|&[x, y]| Vec3::new(x, y, 0.0)).collect()).collect();
    area_of_union(&flat)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clipping_a_square_by_its_diagonal_leaves_half_of_it() {
        let square = rectangle([0.0; 2], [4.0; 2]);
        let half = clip(&square, [1.0, 1.0], 4.0);
        assert!((area(&half) - 8.0).abs() < 1e-12);
        let [x, y] = centre(&half).unwrap();
        assert!((x - 8.0 / 3.0).abs() < 1e-12 && (y - 8.0 / 3.0).abs() < 1e-12);
        assert!(holds(&half, [3.0, 3.0], 0.0) && !holds(&half, [1.0, 1.0], 0.0));
        assert!(!holds_inside(&half, [2.0, 2.0]));
        assert!(clip(&square, [1.0, 0.0], 5.0).is_empty());
    }
}
