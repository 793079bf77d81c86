//! How does an edge run, and where does it meet the next? Lines in a part's own plane, as functions of one coordinate.
//!
//! A measured line is followed so closely that between its points the straight edge is never further off than [`CHORD_MM`].

/// A straight edge between two points of an outline lies no further than this from the measured line, mm: a twentieth of a
/// pencil line.
pub const CHORD_MM: f64 = 0.01;

/// How often a stretch is halved at most: 2000 mm come down to half a millimetre.
const MOST_HALVINGS: u32 = 12;

/// A point in a part's own plane, mm.
pub type Point = [f64; 2];

/// `f` over `from..=to` as points (t, f(t)), straight between them to [`CHORD_MM`]; `knots` are where `f` may bend.
pub(super) fn followed(f: &dyn Fn(f64) -> f64, knots: &[f64], from: f64, to: f64) -> Vec<Point> {
    let mut at = vec![from];
    at.extend(knots.iter().copied().filter(|&t| t > from && t < to));
    at.push(to);
    at.sort_by(f64::total_cmp);
    at.dedup();
    let mut points = vec![[from, f(from)]];
    for pair in at.windows(2) {
        if let [a, b] = *pair {
            halve(f, [a, f(a)], [b, f(b)], MOST_HALVINGS, &mut points);
        }
    }
    points
}

/// Adds the points after `a` up to `b`.
fn halve(f: &dyn Fn(f64) -> f64, a: Point, b: Point, left: u32, points: &mut Vec<Point>) {
    // A curve may cross its chord in the middle, but not at both quarters as well.
    let off = |part: f64| (f(a[0] + (b[0] - a[0]) * part) - (a[1] + (b[1] - a[1]) * part)).abs();
    if left == 0 || [0.25, 0.5, 0.75].into_iter().all(|part| off(part) <= CHORD_MM / 2.0) {
        points.push(b);
        return;
    }
    let middle = f64::midpoint(a[0], b[0]);
    let middle = [middle, f(middle)];
    halve(f, a, middle, left - 1, points);
    halve(f, middle, b, left - 1, points);
}

/// Which way the waste lies from an edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Waste {
    /// Below it: the part lies at larger values.
    Below,
    /// Above it.
    Above,
}

impl Waste {
    fn sign(self) -> f64 {
        match self {
            Self::Below => 1.0,
            Self::Above => -1.0,
        }
    }
}

/// A straight edge of a blank: its value at t = 0, and by how much it rises for each millimetre.
#[derive(Clone, Copy, Debug)]
pub(super) struct Straight {
    pub(super) at_zero: f64,
    pub(super) slope: f64,
}

impl Straight {
    pub(super) fn level(at_zero: f64) -> Self {
        Self { at_zero, slope: 0.0 }
    }

    pub(super) fn at(self, t: f64) -> f64 {
        self.at_zero + self.slope * t
    }
}

/// `measured` where the blank reaches it, the blank's own edge where not: what of the blank is left.
pub(super) fn kept(measured: &[Point], blank: Straight, waste: Waste) -> Vec<Point> {
    let over = |p: Point| waste.sign() * (p[1] - blank.at(p[0]));
    let held = |p: Point| if over(p) >= 0.0 { p } else { [p[0], blank.at(p[0])] };
    let mut points: Vec<Point> = measured.first().map(|&p| held(p)).into_iter().collect();
    for pair in measured.windows(2) {
        let [a, b] = *pair else { continue };
        let (da, db) = (over(a), over(b));
        if (da < 0.0) != (db < 0.0) && a[0] < b[0] {
            let part = da / (da - db);
            points.push([a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part]);
        }
        points.push(held(b));
    }
    points.dedup_by(|a, b| (a[0] - b[0]).abs() + (a[1] - b[1]).abs() <= 1e-12);
    points
}

/// Least and most of what lies between the blank's edge and the measured one over `range`: what is sawn off, or negative,
/// what the blank lacks.
pub(super) fn between(measured: &[Point], blank: Straight, waste: Waste, range: [f64; 2]) -> Option<[f64; 2]> {
    let off = |p: Point| waste.sign() * (p[1] - blank.at(p[0]));
    let inside = measured.iter().copied().filter(|p| p[0] > range[0] && p[0] < range[1]).map(off);
    let ends = range.into_iter().filter_map(|t| value(measured, t).map(|v| off([t, v])));
    inside.chain(ends).fold(None, |found, d| match found {
        None => Some([d, d]),
        Some([least, most]) => Some([d.min(least), d.max(most)]),
    })
}

/// What is measured at `t`, straight between its points.
pub(super) fn value(measured: &[Point], t: f64) -> Option<f64> {
    let after = measured.partition_point(|p| p[0] < t);
    match (after.checked_sub(1).and_then(|k| measured.get(k)), measured.get(after)) {
        (_, Some(b)) if b[0] <= t => Some(b[1]),
        (Some(a), Some(b)) => Some(a[1] + (b[1] - a[1]) * (t - a[0]) / (b[0] - a[0])),
        _ => None,
    }
}

/// Where line `a`, followed from its beginning, first meets line `b`: the number of the piece of each, and the point.
pub(super) fn meet(a: &[Point], b: &[Point]) -> Option<([usize; 2], Point)> {
    for (i, pair) in a.windows(2).enumerate() {
        let [p, q] = *pair else { continue };
        let crossings = b.windows(2).enumerate().filter_map(|(j, other)| match *other {
            [r, s] => crossing(p, q, r, s).map(|t| (t, j)),
            _ => None,
        });
        if let Some((t, j)) = crossings.min_by(|a, b| a.0.total_cmp(&b.0)) {
            return Some(([i, j], [p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t]));
        }
    }
    None
}

/// Which part of the way from `p` to `q` lies on the way from `r` to `s`.
fn crossing(p: Point, q: Point, r: Point, s: Point) -> Option<f64> {
    let (d, e, g) = ([q[0] - p[0], q[1] - p[1]], [s[0] - r[0], s[1] - r[1]], [r[0] - p[0], r[1] - p[1]]);
    let across = |a: Point, b: Point| a[0] * b[1] - a[1] * b[0];
    let turn = across(d, e);
    if turn == 0.0 {
        return None;
    }
    let (t, u) = (across(g, e) / turn, across(g, d) / turn);
    let on = |x: f64| (-1e-12..=1.0 + 1e-12).contains(&x);
    (on(t) && on(u)).then_some(t.clamp(0.0, 1.0))
}

/// Twice the area that a closed line goes round, positive where it goes round counter-clockwise.
pub(super) fn twice_area(points: &[Point]) -> f64 {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_curve_is_followed_to_a_hundredth() {
        // A bow of 5 mm in 2000: a parabola.
        let f = |t: f64| 5.0 * (1.0 - (t / 1000.0 - 1.0).powi(2));
        let points = followed(&f, &[], 0.0, 2000.0);
        let worst = (0..=20_000).map(|k| f64::from(k) / 10.0).map(|t| (value(&points, t).unwrap() - f(t)).abs());
        let worst = worst.fold(0.0, f64::max);
        assert!(worst <= CHORD_MM, "{worst} mm off");
        assert!(points.len() < 80, "{} points", points.len());
    }

    #[test]
    fn a_blank_that_does_not_reach_keeps_its_own_edge() {
        let measured = [[0.0, 4.0], [10.0, -6.0], [20.0, -6.0]];
        let kept = kept(&measured, Straight::level(0.0), Waste::Below);
        assert_eq!(kept, [[0.0, 4.0], [4.0, 0.0], [10.0, 0.0], [20.0, 0.0]]);
        assert_eq!(between(&measured, Straight::level(0.0), Waste::Below, [0.0, 15.0]), Some([-6.0, 4.0]));
        assert_eq!(between(&measured, Straight::level(0.0), Waste::Above, [2.0, 8.0]), Some([-2.0, 4.0]));
    }

    #[test]
    fn two_lines_meet_where_they_cross() {
        let steps = [[0.0, 0.0], [5.0, 0.0], [5.0, 3.0], [9.0, 3.0]];
        assert_eq!(meet(&steps, &[[4.0, 1.0], [8.0, 1.0]]), Some(([1, 0], [5.0, 1.0])));
        assert_eq!(meet(&steps, &[[0.0, 7.0], [9.0, 7.0]]), None);
        assert!((twice_area(&[[0.0, 0.0], [2.0, 0.0], [2.0, 3.0], [0.0, 3.0]]) - 12.0).abs() < 1e-12);
    }
}
