//! How does a wall go at one height? A curve through readings: straight between them, or a natural cubic spline.
//!
//! Past the outermost readings it keeps their value.

/// A curve in pieces, each a cubic.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Curve {
    /// Where the pieces begin; the last goes on without end.
    knots: Vec<f64>,
    /// For each knot the coefficients of the piece from it on, in the distance from it.
    cubics: Vec<[f64; 4]>,
}

/// Where a curve, less a slope, is least or greatest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extreme {
    /// The curve less the slope there.
    pub value: f64,
    /// Where.
    pub along: f64,
}

impl Curve {
    /// Straight from each point to the next; the points in order. Of two at one place the one that stands out further.
    #[must_use]
    pub fn straight(points: &[[f64; 2]]) -> Self {
        let points = apart(points);
        Self::through(&points, |_, length, rise| [rise / length, 0.0, 0.0])
    }

    /// The natural cubic spline through points in order: its second derivative is 0 at both ends.
    ///
    /// The second derivatives follow from a tridiagonal system, solved by elimination (Thomas).
    #[must_use]
    pub fn spline(points: &[[f64; 2]]) -> Self {
        let points = apart(points);
        let bends = second_derivatives(&points);
        Self::through(&points, |k, length, rise| {
            let [m0, m1] = [k, k + 1].map(|k| bends.get(k).copied().unwrap_or(0.0));
            [rise / length - length * (2.0 * m0 + m1) / 6.0, m0 / 2.0, (m1 - m0) / (6.0 * length)]
        })
    }

    /// A curve through `points`; `rest` gives the higher coefficients of piece `k` from its length and rise.
    fn through(points: &[[f64; 2]], rest: impl Fn(usize, f64, f64) -> [f64; 3]) -> Self {
        let mut cubics: Vec<[f64; 4]> = points
            .windows(2)
            .enumerate()
            .filter_map(|(k, pair)| {
                let &[[x0, y0], [x1, y1]] = pair else { return None };
                let [b, c, d] = rest(k, x1 - x0, y1 - y0);
                Some([y0, b, c, d])
            })
            .collect();
        cubics.extend(points.last().map(|&[_, y]| [y, 0.0, 0.0, 0.0]));
        Self { knots: points.iter().map(|&[x, _]| x).collect(), cubics }
    }

    /// `a` times `of_a` and `b` times `of_b`.
    #[must_use]
    pub fn mixed(a: &Self, of_a: f64, b: &Self, of_b: f64) -> Self {
        let mut knots: Vec<f64> = a.knots.iter().chain(&b.knots).copied().collect();
        knots.sort_by(f64::total_cmp);
        knots.dedup();
        let cubics = knots.iter().map(|&x| {
            let (p, q) = (a.piece_from(x), b.piece_from(x));
            std::array::from_fn(|k| of_a * p[k] + of_b * q[k])
        });
        let cubics = cubics.collect();
        Self { knots, cubics }
    }

    /// Adds `by` everywhere.
    pub fn raise(&mut self, by: f64) {
        if self.knots.is_empty() {
            *self = Self::straight(&[[0.0, by]]);
            return;
        }
        for cubic in &mut self.cubics {
            cubic[0] += by;
        }
    }

    /// Where its pieces begin.
    #[must_use]
    pub fn knots(&self) -> &[f64] {
        &self.knots
    }

    /// Its value at `x`.
    #[must_use]
    pub fn at(&self, x: f64) -> f64 {
        self.piece_from(x)[0]
    }

    /// The cubic that goes on from `x`, in the distance from it.
    fn piece_from(&self, x: f64) -> [f64; 4] {
        let after = self.knots.partition_point(|knot| *knot <= x);
        let piece = after.checked_sub(1).and_then(|k| Some((self.knots.get(k)?, self.cubics.get(k)?)));
        match piece {
            Some((knot, [a, b, c, d])) => {
                let t = x - knot;
                [a + t * (b + t * (c + t * d)), b + t * (2.0 * c + 3.0 * t * d), c + 3.0 * t * d, *d]
            }
            None => [self.cubics.first().map_or(0.0, |first| first[0]), 0.0, 0.0, 0.0],
        }
    }

    /// Where the curve less `slope · x` is least and where it is greatest between two places, exactly: at the ends, at a
    /// knot, or where a piece is as steep as the slope.
    #[must_use]
    pub fn extremes(&self, [from, to]: [f64; 2], slope: f64) -> [Extreme; 2] {
        let of = |along: f64| Extreme { value: self.at(along) - slope * along, along };
        let mut found = [of(from); 2];
        let mut look = |along: f64| {
            let here = of(along);
            if here.value < found[0].value {
                found[0] = here;
            }
            if here.value > found[1].value {
                found[1] = here;
            }
        };
        look(to);
        let first = self.knots.partition_point(|knot| *knot <= from).saturating_sub(1);
        for (k, (&knot, [_, b, c, d])) in self.knots.iter().zip(&self.cubics).enumerate().skip(first) {
            if knot >= to {
                break;
            }
            let end = self.knots.get(k + 1).copied().unwrap_or(f64::INFINITY);
            for x in std::iter::once(knot).chain(roots(3.0 * d, 2.0 * c, b - slope).into_iter().map(|t| knot + t)) {
                if x > from && x < to && x >= knot && x < end {
                    look(x);
                }
            }
        }
        found
    }

    /// How steep it gets between two places: least and greatest slope.
    #[must_use]
    pub fn slopes(&self, [from, to]: [f64; 2]) -> [f64; 2] {
        let mut range = [f64::INFINITY, f64::NEG_INFINITY];
        let mut look = |slope: f64| range = [range[0].min(slope), range[1].max(slope)];
        let mut starts = vec![from];
        starts.extend(self.knots.iter().copied().filter(|knot| *knot > from && *knot < to));
        for (k, &start) in starts.iter().enumerate() {
            let length = starts.get(k + 1).copied().unwrap_or(to) - start;
            let [_, b, c, d] = self.piece_from(start);
            let slope = |t: f64| b + t * (2.0 * c + 3.0 * t * d);
            look(slope(0.0));
            look(slope(length));
            let turn = -c / (3.0 * d);
            if turn > 0.0 && turn < length {
                look(slope(turn));
            }
        }
        range
    }

    /// A bound on how far it stands out past its chord between two places of one piece.
    pub(super) fn bulge(&self, x: [f64; 2]) -> f64 {
        let [low, high] = self.second_derivatives(x);
        (-low.min(high)).max(0.0) * (x[1] - x[0]).powi(2) / 8.0
    }

    /// A bound on how far it leaves its chord, to either side, between two places of one piece.
    pub(super) fn bend(&self, x: [f64; 2]) -> f64 {
        let [low, high] = self.second_derivatives(x);
        low.abs().max(high.abs()) * (x[1] - x[0]).powi(2) / 8.0
    }

    /// The second derivatives at both ends of a stretch of one piece; it is linear between.
    fn second_derivatives(&self, [from, to]: [f64; 2]) -> [f64; 2] {
        let [_, _, c, d] = self.piece_from(from);
        [2.0 * c, 2.0 * c + 6.0 * d * (to - from)]
    }
}

/// The real roots of a t² + b t + c, without those that cancellation would spoil.
fn roots(a: f64, b: f64, c: f64) -> Vec<f64> {
    if a.abs() < 1e-300 {
        return if b == 0.0 { Vec::new() } else { vec![-c / b] };
    }
    let under = b * b - 4.0 * a * c;
    if under < 0.0 {
        return Vec::new();
    }
    let q = -0.5 * (b + under.sqrt().copysign(b));
    if q == 0.0 { vec![0.0] } else { vec![q / a, c / q] }
}

/// Points with one for each place: the last of equals, which stands out furthest where they are sorted so.
fn apart(points: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut kept: Vec<[f64; 2]> = Vec::with_capacity(points.len());
    for &point in points {
        match kept.last_mut() {
            Some(last) if last[0].total_cmp(&point[0]).is_eq() => *last = [point[0], last[1].max(point[1])],
            _ => kept.push(point),
        }
    }
    kept
}

/// The second derivatives of the natural spline at its points.
fn second_derivatives(points: &[[f64; 2]]) -> Vec<f64> {
    let lengths: Vec<f64> = points.windows(2).map(|pair| pair[1][0] - pair[0][0]).collect();
    let slopes: Vec<f64> = points.windows(2).zip(&lengths).map(|(pair, h)| (pair[1][1] - pair[0][1]) / h).collect();
    // Forward: each unknown as `carry − factor · next`.
    let mut eliminated: Vec<[f64; 2]> = Vec::new();
    for (h, s) in lengths.windows(2).zip(slopes.windows(2)) {
        let [factor, carry] = eliminated.last().copied().unwrap_or([0.0; 2]);
        let pivot = 2.0 * (h[0] + h[1]) - h[0] * factor;
        eliminated.push([h[1] / pivot, (6.0 * (s[1] - s[0]) - h[0] * carry) / pivot]);
    }
    let mut bends = vec![0.0];
    for [factor, carry] in eliminated.into_iter().rev() {
        let next = bends.last().copied().unwrap_or(0.0);
        bends.push(carry - factor * next);
    }
    bends.push(0.0);
    bends.reverse();
    bends
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(got: f64, expected: f64) {
        assert!((got - expected).abs() < 1e-9, "got {got}, expected {expected}");
    }

    #[test]
    fn straight_between_two_readings_is_their_line() {
        let curve = Curve::straight(&[[0.0, 0.0], [600.0, 3.0], [1200.0, -1.0]]);
        close(curve.at(200.0), 1.0);
        close(curve.at(900.0), 1.0);
        close(curve.at(-50.0), 0.0);
        close(curve.at(5000.0), -1.0);
    }

    // By hand: points (0, 0), (1, 1), (2, 0). One inner unknown: 2 (1 + 1) m = 6 (−1 − 1), m = −3. On the first piece
    // y = 1.5 x − 0.5 x³, so y(0.5) = 0.6875, and the slope at 1 is 0.
    #[test]
    fn a_spline_through_three_points_by_hand() {
        let curve = Curve::spline(&[[0.0, 0.0], [1.0, 1.0], [2.0, 0.0]]);
        close(curve.at(0.5), 0.6875);
        close(curve.at(1.5), 0.6875);
        close(curve.at(1.0), 1.0);
        // Less a slope of 1: 1.5 − 1.5 x² = 1 at x = √(1/3).
        let [_, most] = curve.extremes([0.0, 2.0], 1.0);
        let x = (1.0_f64 / 3.0).sqrt();
        close(most.along, x);
        close(most.value, 1.5 * x - 0.5 * x.powi(3) - x);
    }

    #[test]
    fn extremes_are_those_that_a_fine_grid_finds() {
        let points: Vec<[f64; 2]> =
            [3.0, -2.0, 4.5, 0.0, 1.0, -6.0, 2.0].iter().enumerate().map(|(k, &y)| [k as f64 * 370.0, y]).collect();
        for curve in [Curve::straight(&points), Curve::spline(&points)] {
            for slope in [-0.02, -0.001, 0.0, 0.004] {
                for range in [[100.0, 2100.0], [-300.0, 900.0], [500.0, 700.0], [1900.0, 2600.0]] {
                    let [least, most] = curve.extremes(range, slope);
                    let grid: Vec<f64> = (0..=20000)
                        .map(|k| range[0] + (range[1] - range[0]) * f64::from(k) / 20000.0)
                        .map(|x| curve.at(x) - slope * x)
                        .collect();
                    let low = grid.iter().copied().fold(f64::INFINITY, f64::min);
                    let high = grid.iter().copied().fold(f64::NEG_INFINITY, f64::max);
                    assert!(least.value <= low + 1e-9 && least.value > low - 1e-3, "{least:?} {low}");
                    assert!(most.value >= high - 1e-9 && most.value < high + 1e-3, "{most:?} {high}");
                }
            }
        }
    }

    #[test]
    fn a_mix_is_the_sum_of_what_it_is_mixed_of() {
        let a = Curve::spline(&[[0.0, 1.0], [700.0, 4.0], [1500.0, 2.0], [2400.0, 5.0]]);
        let b = Curve::straight(&[[200.0, -1.0], [900.0, 3.0]]);
        let mix = Curve::mixed(&a, 0.25, &b, 0.75);
        for k in -10..300 {
            let x = f64::from(k) * 10.0;
            close(mix.at(x), 0.25 * a.at(x) + 0.75 * b.at(x));
        }
    }
}
