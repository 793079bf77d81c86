//! How is a set of pairs drawn? Convex outlines that overlap, as one region: filled, hatched, and with a line around all
//! of it and none through it.
//!
//! A point is a pair of numbers, from nothing up to a given pair: two openings, or two widths. Worked out once a map, in
//! shares of that pair, so that both axes count alike.

use crate::clearance::map::Point;

/// So many slanting lines would lie over a region that fills everything.
const LINES: u32 = 56;
/// So many places for its name are kept.
const MIDDLES: usize = 4;
/// Outlines this near to each other, as a share, have no line between them.
const NEAR: f64 = 1e-3;
/// A piece of a line shorter than this, as a share, is not drawn.
const SHORT: f64 = 1e-4;

/// A region as it is drawn, in the map's own numbers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Region {
    /// Convex outlines that cover it, within what is drawn.
    pub outlines: Vec<Vec<Point>>,
    /// Pieces of the line around it.
    pub edges: Vec<[Point; 2]>,
    /// Pieces of the lines over it.
    pub hatching: Vec<[Point; 2]>,
    /// Where its name may stand: the middles of the largest outlines, the largest first.
    pub middles: Vec<Point>,
}

impl Region {
    /// The region that `outlines` (convex, counter-clockwise) cover between nothing and `to`.
    #[must_use]
    pub fn of<'o>(outlines: impl Iterator<Item = &'o [Point]>, to: Point) -> Self {
        let to = to.map(|end| end.max(f64::MIN_POSITIVE));
        let shares = outlines.map(|outline| within(outline.iter().map(|p| [p[0] / to[0], p[1] / to[1]]).collect()));
        let shares: Vec<Piece> = shares.filter(|outline| outline.len() >= 3).map(Piece::new).collect();
        let scaled = |p: Point| [p[0] * to[0], p[1] * to[1]];
        let lines = |list: Vec<[Point; 2]>| list.into_iter().map(|line| line.map(scaled)).collect();
        let mut largest: Vec<&Piece> = shares.iter().collect();
        largest.sort_by(|a, b| b.area.total_cmp(&a.area));
        Self {
            edges: lines(edges(&shares)),
            hatching: lines(hatching(&shares)),
            middles: largest.into_iter().take(MIDDLES).map(|piece| scaled(piece.middle())).collect(),
            outlines: shares.iter().map(|piece| piece.outline.iter().copied().map(scaled).collect()).collect(),
        }
    }
}

/// A convex outline and the box around it.
struct Piece {
    outline: Vec<Point>,
    low: Point,
    high: Point,
    area: f64,
}

impl Piece {
    fn new(outline: Vec<Point>) -> Self {
        let fold = |start: f64, pick: fn(f64, f64) -> f64| {
            outline.iter().fold([start; 2], |far, p| [pick(far[0], p[0]), pick(far[1], p[1])])
        };
        let (low, high) = (fold(f64::INFINITY, f64::min), fold(f64::NEG_INFINITY, f64::max));
        let area = sides(&outline).map(|[a, b]| a[0] * b[1] - a[1] * b[0]).sum::<f64>() / 2.0;
        Self { outline, low, high, area }
    }

    /// Its centre of gravity.
    fn middle(&self) -> Point {
        let mut sum = [0.0; 2];
        for [a, b] in sides(&self.outline) {
            let twice = a[0] * b[1] - a[1] * b[0];
            sum = [0, 1].map(|k| sum[k] + (a[k] + b[k]) * twice);
        }
        sum.map(|sum| sum / (6.0 * self.area.max(f64::MIN_POSITIVE)))
    }

    /// The part of the line from `a` to `b` that lies within, as shares of it.
    fn holds(&self, [a, b]: [Point; 2]) -> Option<[f64; 2]> {
        let boxed = |k: usize| a[k].min(b[k]) <= self.high[k] && a[k].max(b[k]) >= self.low[k];
        if !boxed(0) || !boxed(1) {
            return None;
        }
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for [p, q] in sides(&self.outline) {
            // Positive on the left of the edge, where the outline lies.
            let over = |point: Point| (q[0] - p[0]) * (point[1] - p[1]) - (q[1] - p[1]) * (point[0] - p[0]);
            let (first, last) = (over(a), over(b));
            if first < 0.0 && last < 0.0 {
                return None;
            }
            if first < 0.0 {
                from = from.max(first / (first - last));
            } else if last < 0.0 {
                to = to.min(first / (first - last));
            }
        }
        (from < to).then_some([from, to])
    }
}

fn sides(outline: &[Point]) -> impl Iterator<Item = [Point; 2]> + '_ {
    outline.iter().copied().zip(outline.iter().copied().cycle().skip(1)).map(|(a, b)| [a, b])
}

/// What of an outline lies between 0 and 1 both ways.
fn within(mut outline: Vec<Point>) -> Vec<Point> {
    for (k, sign, end) in [(0, 1.0, 0.0), (0, -1.0, -1.0), (1, 1.0, 0.0), (1, -1.0, -1.0)] {
        let over = |p: Point| sign * p[k] - end;
        let mut kept = Vec::with_capacity(outline.len() + 1);
        for [a, b] in sides(&outline) {
            let (first, last) = (over(a), over(b));
            if first >= 0.0 {
                kept.push(a);
            }
            if (first < 0.0) != (last < 0.0) {
                let share = first / (first - last);
                kept.push([a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share]);
            }
        }
        outline = kept;
    }
    outline
}

/// The pieces of every outline's sides that lie in no other outline.
fn edges(pieces: &[Piece]) -> Vec<[Point; 2]> {
    let mut found = Vec::new();
    for (own, piece) in pieces.iter().enumerate() {
        for [a, b] in sides(&piece.outline) {
            let long = (b[0] - a[0]).hypot(b[1] - a[1]);
            if long < SHORT {
                continue;
            }
            // A little outwards, so that a side that two outlines share lies within the other.
            let out = [(b[1] - a[1]) / long * NEAR, -(b[0] - a[0]) / long * NEAR];
            let moved = [a, b].map(|p| [p[0] + out[0], p[1] + out[1]]);
            let others = pieces.iter().enumerate().filter(|(other, _)| *other != own);
            let covered = others.filter_map(|(_, other)| other.holds(moved)).collect();
            found.extend(gaps(covered).into_iter().map(|gap| part_of([a, b], gap)));
        }
    }
    found.retain(|[a, b]| (b[0] - a[0]).hypot(b[1] - a[1]) >= SHORT);
    found
}

/// Slanting lines over all of it, each drawn once where outlines overlap.
fn hatching(pieces: &[Piece]) -> Vec<[Point; 2]> {
    let mut found = Vec::new();
    for k in 1..LINES {
        let up = 2.0 * f64::from(k) / f64::from(LINES) - 1.0;
        let line = [[0.0, up], [1.0, 1.0 + up]];
        let mut covered: Vec<[f64; 2]> = pieces.iter().filter_map(|piece| piece.holds(line)).collect();
        found.extend(joined(&mut covered).into_iter().map(|share| part_of(line, share)));
    }
    found
}

fn part_of([a, b]: [Point; 2], share: [f64; 2]) -> [Point; 2] {
    share.map(|share| [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share])
}

/// Intervals that overlap, as one.
fn joined(intervals: &mut [[f64; 2]]) -> Vec<[f64; 2]> {
    intervals.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut found: Vec<[f64; 2]> = Vec::new();
    for &mut [from, to] in intervals {
        match found.last_mut() {
            Some(last) if from <= last[1] => last[1] = last[1].max(to),
            _ => found.push([from, to]),
        }
    }
    found
}

/// What intervals leave of 0 to 1.
fn gaps(mut covered: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    let mut left = Vec::new();
    let mut from = 0.0;
    for [low, high] in joined(&mut covered) {
        if low > from {
            left.push([from, low]);
        }
        from = high.max(from);
    }
    if from < 1.0 {
        left.push([from, 1.0]);
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square([x, y]: Point, size: f64) -> Vec<Point> {
        vec![[x, y], [x + size, y], [x + size, y + size], [x, y + size]]
    }

    fn length(lines: &[[Point; 2]]) -> f64 {
        lines.iter().map(|[a, b]| (b[0] - a[0]).hypot(b[1] - a[1])).sum()
    }

    #[test]
    fn the_line_goes_around_and_not_through() {
        // Two squares of side 2 that share a square of side 1: what is around both is 2·8 − 4 long.
        let both = [square([1.0, 1.0], 2.0), square([2.0, 2.0], 2.0)];
        let region = Region::of(both.iter().map(Vec::as_slice), [10.0, 10.0]);
        assert!((length(&region.edges) - 12.0).abs() < 0.1, "{}", length(&region.edges));
        // Two that lie side by side: 2·8 − 2·2.
        let both = [square([1.0, 1.0], 2.0), square([3.0, 1.0], 2.0)];
        let region = Region::of(both.iter().map(Vec::as_slice), [10.0, 10.0]);
        assert!((length(&region.edges) - 12.0).abs() < 0.1, "{}", length(&region.edges));
    }

    #[test]
    fn hatching_covers_what_is_covered_once() {
        // Slanting lines are as long in all as the area over their distance: 10·√2 / 28 apart, on 4 and on 7.
        let apart = 10.0 * std::f64::consts::SQRT_2 / 56.0;
        for (outlines, area) in
            [(vec![square([1.0, 1.0], 2.0)], 4.0), (vec![square([1.0, 1.0], 2.0), square([2.0, 2.0], 2.0)], 7.0)]
        {
            let region = Region::of(outlines.iter().map(Vec::as_slice), [10.0, 10.0]);
            let drawn = length(&region.hatching) * apart;
            assert!((drawn - area).abs() < 0.15 * area, "{drawn} for {area}");
        }
    }

    #[test]
    fn what_lies_outside_is_cut_off() {
        let region = Region::of(std::iter::once(square([-5.0, -5.0], 7.0).as_slice()), [10.0, 4.0]);
        let all = region.outlines.iter().flatten();
        assert!(all.clone().count() == 4 && all.flatten().all(|x| (0.0..=2.0).contains(x)), "{region:?}");
        let none = Region::of(std::iter::once(square([20.0, 20.0], 7.0).as_slice()), [10.0, 4.0]);
        assert_eq!(none, Region::default());
    }
}
