//! Where may a piece be that does not turn? The plane less convex outlines, cut into cells.
//!
//! The places barred to the piece are open convex outlines. Upright lines through every visible corner and crossing cut
//! what is left of a rectangle into trapezoids (vertical decomposition, standard geometry): exact, so that two places are in
//! one connected part exactly when a chain of cells joins them.

use super::flat::{Flat, Outline, TOUCH};

/// Upright lines closer than this are one.
const SAME_LINE: f64 = 1e-10;
/// A side that leans by less than this is upright.
const UPRIGHT: f64 = 1e-9;
/// Two cells meet where they share at least this much of an upright line: outlines are drawn in by [`TOUCH`], so what is
/// narrower is no way.
const SHARED: f64 = TOUCH * 0.1;

/// A trapezoid with two upright sides.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cell {
    x: [f64; 2],
    low: [f64; 2],
    high: [f64; 2],
}

impl Cell {
    fn at(&self, ends: [f64; 2], x: f64) -> f64 {
        let part = ((x - self.x[0]) / (self.x[1] - self.x[0])).clamp(0.0, 1.0);
        ends[0] + (ends[1] - ends[0]) * part
    }

    /// From where to where it reaches upwards at `x`.
    fn range(&self, x: f64) -> [f64; 2] {
        [self.at(self.low, x), self.at(self.high, x)]
    }

    pub(super) fn holds(&self, p: Flat) -> bool {
        let [low, high] = self.range(p.x);
        p.x >= self.x[0] && p.x <= self.x[1] && p.y >= low && p.y <= high
    }

    /// A point of both, near `near`.
    pub(super) fn shared(&self, other: &Self, near: Flat) -> Option<Flat> {
        let (left, right) = (self.x[0].max(other.x[0]), self.x[1].min(other.x[1]));
        if left > right {
            return None;
        }
        let crossing = |one: [f64; 2], two: [f64; 2]| {
            let gap = |x: f64| self.at(one, x) - other.at(two, x);
            let (a, b) = (gap(left), gap(right));
            if (a < 0.0) == (b < 0.0) { left } else { left + (right - left) * a / (a - b) }
        };
        let places =
            [near.x.clamp(left, right), left, right, crossing(self.low, other.low), crossing(self.high, other.high)];
        let mut best: Option<Flat> = None;
        for x in places {
            let ([a, b], [c, d]) = (self.range(x), other.range(x));
            let (low, high) = (a.max(c), b.min(d));
            if low <= high {
                let p = Flat::new(x, near.y.clamp(low, high));
                if best.is_none_or(|q| (p - near).length() < (q - near).length()) {
                    best = Some(p);
                }
            }
        }
        best
    }

    /// Whether it reaches the rim of the rectangle that was cut up.
    pub(super) fn reaches_rim(&self, [least, greatest]: [Flat; 2]) -> bool {
        self.x[0] <= least.x
            || self.x[1] >= greatest.x
            || self.low.iter().any(|&y| y <= least.y)
            || self.high.iter().any(|&y| y >= greatest.y)
    }

    /// The point nearest `near` (nearly) where `y` is at least `line`.
    pub(super) fn beyond(&self, line: f64, near: Flat) -> Option<Flat> {
        let top = self.high[0].max(self.high[1]) + 1.0;
        let above = Self { x: self.x, low: [line; 2], high: [top.max(line); 2] };
        self.shared(&above, near)
    }

    /// A point of the upright line that this cell shares with the one to its right, near `near`.
    fn door(&self, right: &Self, near: Flat) -> Option<Flat> {
        let (low, high) = (self.low[1].max(right.low[0]), self.high[1].min(right.high[0]));
        (high - low >= SHARED).then(|| Flat::new(self.x[1], near.y.clamp(low, high)))
    }
}

/// What is free, as cells in strips from left to right.
#[derive(Clone, Debug)]
pub(super) struct Free {
    pub(super) cells: Vec<Cell>,
    /// Where each strip's cells begin, and the end.
    strips: Vec<usize>,
    lines: Vec<f64>,
}

/// A barred outline as its lower and its upper edge, each from left to right.
struct Barred<'o> {
    outline: &'o Outline,
    x: [f64; 2],
    y: [f64; 2],
    lower: Vec<Flat>,
    upper: Vec<Flat>,
}

impl<'o> Barred<'o> {
    fn new(outline: &'o Outline) -> Self {
        let x = outline.extent(Flat::new(1.0, 0.0));
        // A side that is upright but for the last digits is upright: what it bars must not lean across a strip.
        let upright = |p: &Flat| match p.x {
            near if near - x[0] < UPRIGHT => Flat::new(x[0], p.y),
            near if x[1] - near < UPRIGHT => Flat::new(x[1], p.y),
            _ => *p,
        };
        let points: Vec<Flat> = outline.points().iter().map(upright).collect();
        let count = points.len();
        let start = |k: usize, end: f64| points[k].x.total_cmp(&end).is_eq();
        // Counter-clockwise, the lower edge runs from the last point of the left side to the first of the right side.
        let left = (0..count).find(|&k| start(k, x[0]) && !start((k + 1) % count, x[0])).unwrap_or(0);
        let right = (0..count).find(|&k| start(k, x[1]) && !start((k + 1) % count, x[1])).unwrap_or(0);
        let walk = |from: usize, end: f64| {
            let mut chain = Vec::new();
            for k in 0..count {
                let p = points[(from + k) % count];
                chain.push(p);
                if p.x.total_cmp(&end).is_eq() {
                    break;
                }
            }
            chain
        };
        let lower = walk(left, x[1]);
        let mut upper = walk(right, x[0]);
        upper.reverse();
        Self { outline, x, y: outline.extent(Flat::new(0.0, 1.0)), lower, upper }
    }

    fn range(&self, x: f64) -> [f64; 2] {
        [height(&self.lower, x), height(&self.upper, x)]
    }
}

fn height(chain: &[Flat], x: f64) -> f64 {
    let after = chain.partition_point(|p| p.x < x).clamp(1, chain.len().max(2) - 1);
    match (chain.get(after - 1), chain.get(after)) {
        (Some(a), Some(b)) => a.y + (b.y - a.y) * ((x - a.x) / (b.x - a.x)).clamp(0.0, 1.0),
        (Some(a), None) => a.y,
        _ => 0.0,
    }
}

impl Free {
    /// The rectangle from `least` to `greatest` less `barred`.
    pub(super) fn less(barred: &[Outline], least: Flat, greatest: Flat) -> Self {
        let near = |outline: &&Outline| {
            let ([a, b], [c, d]) = (outline.extent(Flat::new(1.0, 0.0)), outline.extent(Flat::new(0.0, 1.0)));
            b > least.x && a < greatest.x && d > least.y && c < greatest.y
        };
        let barred: Vec<Barred<'_>> = barred.iter().filter(near).map(Barred::new).collect();
        let lines = upright_lines(&barred, least, greatest);
        let mut free = Self { cells: Vec::new(), strips: vec![0], lines };
        let mut across: Vec<([f64; 2], usize)> = Vec::new();
        for k in 1..free.lines.len() {
            let x = [free.lines[k - 1], free.lines[k]];
            let middle = f64::midpoint(x[0], x[1]);
            across.clear();
            across.extend(
                barred
                    .iter()
                    .enumerate()
                    .filter(|(_, b)| b.x[0] < middle && middle < b.x[1])
                    .map(|(k, b)| (b.range(middle), k)),
            );
            across.sort_by(|a, b| a.0[0].total_cmp(&b.0[0]));
            let (mut top, mut low) = (least.y, [least.y; 2]);
            for &([from, to], which) in &across {
                let ends = x.map(|x| barred[which].range(x));
                if from > top && top < greatest.y {
                    free.add(x, low, [ends[0][0], ends[1][0]].map(|y| y.min(greatest.y)));
                }
                if to > top {
                    (top, low) = (to, [ends[0][1], ends[1][1]].map(|y| y.max(least.y)));
                }
            }
            if top < greatest.y {
                free.add(x, low, [greatest.y; 2]);
            }
            free.strips.push(free.cells.len());
        }
        free
    }

    fn add(&mut self, x: [f64; 2], low: [f64; 2], high: [f64; 2]) {
        let high = [high[0].max(low[0]), high[1].max(low[1])];
        self.cells.push(Cell { x, low, high });
    }

    /// The cell that holds `point`.
    pub(super) fn cell_of(&self, point: Flat) -> Option<usize> {
        self.over(point.x, point.x).find(|&k| self.cells[k].holds(point))
    }

    /// The cells of every strip that meets `left`..`right`.
    fn over(&self, left: f64, right: f64) -> std::ops::Range<usize> {
        let first = self.lines.partition_point(|&x| x < left).saturating_sub(1);
        let last = self.lines.partition_point(|&x| x <= right).min(self.strips.len() - 1);
        self.strips[first.min(last)]..self.strips[last]
    }

    /// Cells of this one that share a point with `cell`, and such a point near `near`.
    pub(super) fn sharing<'f>(&'f self, cell: &'f Cell, near: Flat) -> impl Iterator<Item = (usize, Flat)> + 'f {
        self.over(cell.x[0], cell.x[1]).filter_map(move |k| Some((k, self.cells[k].shared(cell, near)?)))
    }

    /// Cells beside cell `k`, and the point near `near` at which one gets there.
    pub(super) fn beside(&self, k: usize, near: Flat) -> impl Iterator<Item = (usize, Flat)> + '_ {
        let strip = self.strips.partition_point(|&start| start <= k).saturating_sub(1);
        let cells = |strip: Option<usize>| {
            let range = strip.and_then(|s| Some(*self.strips.get(s)?..*self.strips.get(s + 1)?));
            range.unwrap_or(0..0)
        };
        let here = self.cells[k];
        let right = cells(Some(strip + 1)).filter_map(move |n| Some((n, here.door(&self.cells[n], near)?)));
        let left = cells(strip.checked_sub(1)).filter_map(move |n| Some((n, self.cells[n].door(&here, near)?)));
        right.chain(left)
    }
}

/// Where the cells' upright sides lie: at every corner and crossing that lies in no other outline.
fn upright_lines(barred: &[Barred<'_>], least: Flat, greatest: Flat) -> Vec<f64> {
    let (left, right) = (least.x, greatest.x);
    let mut lines = vec![left, right];
    let mut theirs: Vec<(Flat, Flat)> = Vec::new();
    let rims = [least.y, greatest.y].map(|y| (Flat::new(left, y), Flat::new(right, y)));
    let within = |p: Flat, b: &Barred<'_>| p.x > b.x[0] && p.x < b.x[1] && p.y > b.y[0] && p.y < b.y[1];
    let hidden = |p: Flat, but: [usize; 2]| {
        let holds = |b: &Barred<'_>| within(p, b) && b.outline.holds(p, TOUCH * 1e-3);
        p.y < least.y || p.y > greatest.y || barred.iter().enumerate().any(|(k, b)| !but.contains(&k) && holds(b))
    };
    for (i, one) in barred.iter().enumerate() {
        let points = one.outline.points();
        let over_rims = sides(points).flat_map(|(a, b)| rims.map(|(c, d)| crossing(a, b, c, d)));
        lines.extend(over_rims.flatten().map(|p| p.x.clamp(left, right)));
        lines.extend(points.iter().filter(|&&p| p.x > left && p.x < right && !hidden(p, [i, i])).map(|p| p.x));
        for (j, two) in barred.iter().enumerate().skip(i + 1) {
            let (x, y) = (shared_range(one.x, two.x), shared_range(one.y, two.y));
            if x[0] > x[1] || y[0] > y[1] {
                continue;
            }
            let meets = |(a, b): &(Flat, Flat)| {
                a.x.min(b.x) <= x[1] && a.x.max(b.x) >= x[0] && a.y.min(b.y) <= y[1] && a.y.max(b.y) >= y[0]
            };
            theirs.clear();
            theirs.extend(sides(two.outline.points()).filter(meets));
            for (a, b) in sides(points).filter(meets) {
                for &(c, d) in &theirs {
                    if let Some(p) = crossing(a, b, c, d).filter(|p| p.x > left && p.x < right)
                        && !hidden(p, [i, j])
                    {
                        lines.push(p.x);
                    }
                }
            }
        }
    }
    lines.sort_by(f64::total_cmp);
    lines.dedup_by(|b, a| *b - *a < SAME_LINE);
    lines
}

fn shared_range(one: [f64; 2], two: [f64; 2]) -> [f64; 2] {
    [one[0].max(two[0]), one[1].min(two[1])]
}

fn sides(points: &[Flat]) -> impl Iterator<Item = (Flat, Flat)> + '_ {
    points.iter().enumerate().map(|(k, &a)| (a, points[(k + 1) % points.len()]))
}

fn crossing(a: Flat, b: Flat, c: Flat, d: Flat) -> Option<Flat> {
    let (u, v) = (b - a, d - c);
    let (from_c, from_d) = (u.cross(c - a), u.cross(d - a));
    if from_c * from_d > 0.0 {
        return None;
    }
    let (from_a, from_b) = (v.cross(a - c), v.cross(b - c));
    if from_a * from_b > 0.0 {
        return None;
    }
    let whole = u.cross(v);
    (whole * whole > 1e-24 * u.dot(u) * v.dot(v)).then(|| a + u * ((c - a).cross(v) / whole))
}

#[cfg(test)]
mod tests {
    use super::*;

    // Two overlapping plates, a triangle and random points: a point is in a cell exactly when no outline holds it, and a flood
    // over a fine grid joins the same places as the cells do.
    #[test]
    fn cells_join_what_a_flood_of_a_grid_joins() {
        let mut rng = fastrand::Rng::with_seed(5);
        for round in 0..12 {
            let outlines: Vec<Outline> = (0..7)
                .filter_map(|_| {
                    let at = Flat::new(rng.f64() * 100.0, rng.f64() * 100.0);
                    Outline::around((0..5).map(|_| at + Flat::new(rng.f64() * 60.0, rng.f64() * 60.0 - 30.0)))
                })
                .collect();
            let (least, greatest) = (Flat::ZERO, Flat::new(120.0, 110.0));
            let free = Free::less(&outlines, least, greatest);
            let parts = parts_of(&free);
            const STEP: f64 = 1.0;
            let (wide, tall) = (120_usize, 110_usize);
            let place = |k: usize| Flat::new((k % wide) as f64 * STEP + 0.213, (k / wide) as f64 * STEP + 0.171);
            let open: Vec<bool> = (0..wide * tall).map(|k| !outlines.iter().any(|o| o.holds(place(k), 0.0))).collect();
            for k in 0..wide * tall {
                let cell = free.cell_of(place(k));
                assert_eq!(cell.is_some(), open[k], "round {round} at {:?}", place(k));
                for next in [k + 1, k + wide] {
                    if next < wide * tall && (next == k + wide || next % wide != 0) && open[k] && open[next] {
                        let half = outlines.iter().any(|o| {
                            Outline::around([place(k), place(next), place(k) + Flat::new(1e-6, 2e-6)])
                                .is_some_and(|s| s.overlaps(o))
                        });
                        let ends = [cell, free.cell_of(place(next))].map(|c| parts[c.unwrap()]);
                        assert!(half || ends[0] == ends[1], "round {round}: {:?} {:?}", place(k), place(next));
                    }
                }
            }
        }
    }

    // Seen once: the post's left side leaned by 4e-14, and its whole height was told free at the line there.
    #[test]
    fn a_side_that_leans_by_noise_bars_as_an_upright_one() {
        let lip = Outline::rectangle([-10.0, 550.0], [-24.0, 6.0]).unwrap();
        let leaning = [[50.71, -606.0], [550.0, -606.0], [550.0, 6.0], [50.710_000_000_000_04, 6.0]];
        let post = Outline::around(leaning.map(|[x, y]| Flat::new(x, y))).unwrap();
        let free = Free::less(&[lip, post], Flat::new(-250.0, -696.0), Flat::new(352.0, 302.0));
        assert!(free.cells.len() > 3);
        for cell in free.cells.iter().filter(|cell| cell.x[0] >= -10.0) {
            assert!((0..2).all(|end| cell.high[end] <= -24.0 || cell.low[end] >= 6.0), "{cell:?}");
        }
    }

    fn parts_of(free: &Free) -> Vec<usize> {
        let mut part = vec![usize::MAX; free.cells.len()];
        for start in 0..part.len() {
            let mut left = vec![start];
            while let Some(k) = left.pop() {
                if part[k] == usize::MAX {
                    part[k] = start;
                    left.extend(free.beside(k, Flat::ZERO).map(|(n, _)| n));
                }
            }
        }
        part
    }

    #[test]
    fn a_slit_of_touching_plates_is_a_way_and_an_overlap_is_none() {
        for (gap, ways) in [(2e-7, true), (-1e-9, false)] {
            let walls: Vec<Outline> =
                [[-50.0, 0.0], [gap, 50.0]].iter().filter_map(|&x| Outline::rectangle(x, [40.0, 60.0])).collect();
            let free = Free::less(&walls, Flat::new(-50.0, 0.0), Flat::new(50.0, 100.0));
            let parts = parts_of(&free);
            let [below, above] = [10.0, 90.0].map(|y| parts[free.cell_of(Flat::new(0.3, y)).unwrap()]);
            assert_eq!(below == above, ways);
        }
    }
}
