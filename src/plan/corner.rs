//! At which angle do the two walls meet, by the tape?
//!
//! A triangle of three lengths fixes the angle by the law of cosines, c² = a² + b² − 2ab cos C. All four walls and both
//! diagonals say more than they must: the diagonal across the corner makes the angle, and the diagonal through it must
//! then be as long as the two triangles make it.
//!
//! How far an answer may be off is the sum of what an error of one reading in each measure makes, found by taking each
//! that much longer and shorter: first order, the worst of signs.

use super::CornerMeasure;
use crate::length::Length;

/// An angle from lengths is rounded to this many parts of a degree, so that 3-4-5 in inches makes 90 and no noise: in 10 m
/// that is less than a millionth of a millimetre.
const PARTS_OF_A_DEGREE: f64 = 1e9;

/// How far an angle read with a protractor or bevel may be off, in degrees: half of a tenth. Common practice, no source.
pub(super) const ANGLE_READING_DEG: f64 = 0.05;

/// Three lengths that make no triangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct NoTriangle {
    /// The longest.
    pub longest: Length,
    /// The others.
    pub others: [Length; 2],
}

impl CornerMeasure {
    /// The room angle in degrees; `None` where the lengths make no triangle.
    #[must_use]
    pub fn angle_deg(&self) -> Option<f64> {
        let degrees = angle(&self.at_the_corner().map(Length::to_mm))?.to_degrees();
        Some((degrees * PARTS_OF_A_DEGREE).round() / PARTS_OF_A_DEGREE)
    }

    /// How far, in degrees, a room angle read as an angle may lie from [`CornerMeasure::angle_deg`] before the two
    /// contradict each other: what errors of `reading` in each length make, and half a tenth of a degree for the angle.
    #[must_use]
    pub fn angle_slack_deg(&self, reading: Length) -> f64 {
        let lengths = self.at_the_corner().map(Length::to_mm);
        spread(&lengths, reading.to_mm(), angle).to_degrees() + ANGLE_READING_DEG
    }

    /// The diagonal through the corner as the other five measures make it, and how far errors of `reading` in all six
    /// can take it from that; `None` for a triangle, and where there is none.
    #[must_use]
    pub fn expected_through(&self, reading: Length) -> Option<(Length, Length)> {
        let Self::Diagonals { left, right, opposite_left, opposite_right, across, .. } = *self else { return None };
        let measures = [left, right, opposite_left, opposite_right, across].map(Length::to_mm);
        let slack = spread(&measures, reading.to_mm(), through) + reading.to_mm();
        Some((Length::mm(through(&measures)?), Length::mm(slack)))
    }

    /// The lengths, of those that must, that make no triangle.
    pub(super) fn no_triangle(&self) -> Option<NoTriangle> {
        let none = |mut sides: [Length; 3]| {
            sides.sort();
            let [a, b, longest] = sides;
            (!makes_triangle(sides.map(Length::to_mm))).then_some(NoTriangle { longest, others: [a, b] })
        };
        let opposite = match *self {
            Self::Triangle { .. } => None,
            Self::Diagonals { opposite_left, opposite_right, across, .. } => {
                Some([opposite_left, opposite_right, across])
            }
        };
        none(self.at_the_corner()).or_else(|| opposite.and_then(none))
    }

    /// Both sides and the length from one's end to the other's.
    fn at_the_corner(&self) -> [Length; 3] {
        match *self {
            Self::Triangle { left, right, across } | Self::Diagonals { left, right, across, .. } => {
                [left, right, across]
            }
        }
    }
}

/// The angle, in radians, between two sides of a triangle; `None` where there is no triangle.
fn angle(sides: &[f64; 3]) -> Option<f64> {
    if !makes_triangle(*sides) {
        return None;
    }
    // In shares of the longest, no square is too small to be a number.
    let longest = sides.iter().copied().fold(0.0, f64::max);
    let [a, b, across] = sides.map(|side| side / longest);
    let cosine = (a * a + b * b - across * across) / (2.0 * a * b);
    cosine.is_finite().then(|| cosine.clamp(-1.0, 1.0).acos())
}

fn makes_triangle(mut sides: [f64; 3]) -> bool {
    sides.sort_by(f64::total_cmp);
    let [a, b, longest] = sides;
    a > 0.0 && longest < a + b
}

/// The diagonal from the corner to the corner opposite: the two triangles lie on either side of the diagonal across.
fn through(&[left, right, opposite_left, opposite_right, across]: &[f64; 5]) -> Option<f64> {
    // At the left wall's far end, the angles of both triangles add up.
    let at_left = angle(&[left, across, right])? + angle(&[opposite_right, across, opposite_left])?;
    let square = left * left + opposite_right * opposite_right - 2.0 * left * opposite_right * at_left.cos();
    Some(square.max(0.0).sqrt())
}

/// How far `of` can go when each value is `by` off. A change that leaves nothing to work out counts from the value itself.
fn spread<const N: usize>(values: &[f64; N], by: f64, of: fn(&[f64; N]) -> Option<f64>) -> f64 {
    let Some(middle) = of(values) else { return 0.0 };
    let off = |k: usize, sign: f64| {
        let mut moved = *values;
        if let Some(value) = moved.get_mut(k) {
            *value += sign * by;
        }
        of(&moved).map_or(0.0, |value| (value - middle).abs())
    };
    (0..N).map(|k| off(k, 1.0).max(off(k, -1.0))).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(value: f64) -> Length {
        Length::mm(value)
    }

    #[test]
    fn three_four_five_is_square_in_either_unit() {
        for one in [300.0, 304.8, 25.4 * 3.0] {
            let measure = CornerMeasure::Triangle { left: mm(3.0 * one), right: mm(4.0 * one), across: mm(5.0 * one) };
            assert_eq!(measure.angle_deg(), Some(90.0));
        }
    }

    // Plane geometry, by hand: an equilateral triangle, and half of one doubled.
    #[test]
    fn sixty_and_a_hundred_and_twenty_degrees() {
        let measure = CornerMeasure::Triangle { left: mm(1000.0), right: mm(1000.0), across: mm(1000.0) };
        assert_eq!(measure.angle_deg(), Some(60.0));
        let measure =
            CornerMeasure::Triangle { left: mm(1000.0), right: mm(1000.0), across: mm(1000.0 * 3.0_f64.sqrt()) };
        assert_eq!(measure.angle_deg(), Some(120.0));
    }

    // With legs a and b at a right angle, dC = c dc / (a b), and −dC = a da / (a b) or b db / (a b): for 1 mm each
    // (c + a + b) / (a b) radians. 900, 1200, 1500: 3600 / 1080000 = 0.003333 rad = 0.19099°, and 0.05 for the angle.
    #[test]
    fn what_an_error_of_one_reading_each_makes_is_as_by_hand() {
        let measure = CornerMeasure::Triangle { left: mm(900.0), right: mm(1200.0), across: mm(1500.0) };
        let slack = measure.angle_slack_deg(mm(1.0));
        assert!((slack - 0.240_99).abs() < 0.000_5, "{slack}");
    }
}
