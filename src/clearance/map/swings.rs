//! Where do two conflict that both swing? Rectangles of both angles, halved, on the safe side.
//!
//! No point of a piece is further from where it is at the middle of a rectangle than radius × half the angle, so the
//! distance there clears the rectangle, or the depth of the overlap makes it a conflict. What is left when two points
//! cannot come nearer in it by half of [`ERROR`] counts as a conflict.

use super::plane::{Point, rectangle};
use super::turning::radius;
use super::{Opener, Region};
use crate::clearance::free::posed;
use crate::clearance::pairs::Bounds;
use crate::clearance::sweep::{Swept, closest};
use crate::clearance::tolerance::SAME;
use crate::clearance::travel::edge_directions;
use crate::model::Vec3;

/// What a pair that is told as a conflict keeps beyond the clearance at most, mm.
pub(super) const ERROR: f64 = 1.0;

/// A rectangle of two openings, and the pairs of pieces that may conflict in it.
struct Cell {
    low: Point,
    high: Point,
    pairs: Vec<(usize, usize)>,
}

/// The conflicts of two that swing.
pub(super) fn against_each_other(openers: [&Opener<'_>; 2], margin: f64) -> Vec<Region> {
    let [first, second] = openers;
    let radii = openers.map(|o| o.pieces.iter().map(|(_, piece, _)| radius(piece, &o.motion)).collect::<Vec<_>>());
    let mut pairs = Vec::new();
    for (i, (_, _, bounds)) in first.pieces.iter().enumerate() {
        let near = |other: &Bounds| bounds.gap(other) < margin.max(SAME);
        pairs.extend(second.pieces.iter().enumerate().filter(|(_, (_, _, b))| near(b)).map(|(j, _)| (i, j)));
    }
    let mut cells = vec![Cell { low: [0.0; 2], high: openers.map(|o| o.motion.extent()), pairs }];
    let mut regions = Vec::new();
    while let Some(Cell { low, high, mut pairs }) = cells.pop() {
        let middle = [f64::midpoint(low[0], high[0]), f64::midpoint(low[1], high[1])];
        let half = [(high[0] - low[0]) / 2.0, (high[1] - low[1]) / 2.0];
        let mut surely = None;
        pairs.retain(|&(i, j)| {
            if surely.is_some() {
                return false;
            }
            let moves = radii[0][i] * half[0] + radii[1][j] * half[1];
            let own = posed(first.pieces[i].1, &first.motion, middle[0]);
            let other = posed(second.pieces[j].1, &second.motion, middle[1]);
            let [a, b] = [&own, &other].map(|piece| Swept::still(piece));
            let distance = closest(&a, &b).distance;
            if distance < margin - moves || (distance <= 0.0 && depth(&a, &b) + margin > moves) {
                surely = Some((i, j));
            }
            distance < margin + moves
        });
        let moves = |k: usize| half[k] * radii[k].iter().copied().fold(0.0, f64::max);
        let small = moves(0) + moves(1) <= ERROR / 2.0;
        if let Some((i, j)) = surely.or_else(|| pairs.first().copied().filter(|_| small)) {
            let parts = [first.pieces[i].0, second.pieces[j].0];
            regions.push(Region { parts, outer: rectangle(low, high), inner: Vec::new() });
            continue;
        }
        if pairs.is_empty() {
            continue;
        }
        let across = usize::from(moves(1) > moves(0));
        let (mut near, mut far) = ((low, high), (low, high));
        near.1[across] = middle[across];
        far.0[across] = middle[across];
        cells.push(Cell { low: far.0, high: far.1, pairs: pairs.clone() });
        cells.push(Cell { low: near.0, high: near.1, pairs });
    }
    regions
}

/// How far two pieces that overlap must be moved apart at least: the least overlap along any axis that could separate them.
fn depth(a: &Swept<'_>, b: &Swept<'_>) -> f64 {
    let mut edges = edge_directions(a.piece, a.sweep);
    edges.extend(edge_directions(b.piece, b.sweep));
    let axes = edges.iter().enumerate().flat_map(|(k, &p)| edges[k + 1..].iter().map(move |&q| p.cross(q)));
    axes.filter_map(Vec3::try_normalize)
        .map(|axis| {
            let ([a0, a1], [b0, b1]) = (a.extent(axis), b.extent(axis));
            (a1 - b0).min(b1 - a0)
        })
        .fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clearance::map::plane::holds;
    use crate::clearance::map::turning::tests::{THICK, door, opener};
    use crate::model::{Convex, Motion};

    #[test]
    fn two_doors_are_told_on_the_safe_side_and_within_their_error() {
        let (piece, swing) = door();
        let other = Convex::block(Vec3::new(600.0, -THICK, 0.0), Vec3::X * -330.0, Vec3::Y * THICK, Vec3::Z * 700.0);
        let turns = Motion::Swing { hinge: Vec3::new(600.0, 0.0, 0.0), axis: -Vec3::Z, angle: 2.0 };
        let margin = 8.0;
        let regions = against_each_other([&opener(&piece, swing), &opener(&other, turns)], margin);
        let mut conflicts = 0;
        for i in 0..=60 {
            for j in 0..=60 {
                let at = [swing.extent() * f64::from(i) / 60.0, turns.extent() * f64::from(j) / 60.0];
                let (a, b) = (posed(&piece, &swing, at[0]), posed(&other, &turns, at[1]));
                let gap = closest(&Swept::still(&a), &Swept::still(&b)).distance;
                let is_told = regions.iter().any(|region| holds(&region.outer, at, 0.0));
                assert!(is_told || gap >= margin, "{at:?}: {gap} is not told");
                assert!(!is_told || gap <= margin + ERROR, "{at:?}: {gap} is told");
                conflicts += i32::from(gap < margin);
            }
        }
        assert!(conflicts > 100);
    }
}
