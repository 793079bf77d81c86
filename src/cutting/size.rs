//! Does it fit to the last step? Sizes in whole steps, so that a sum which is equal is equal.
//!
//! A step is an eighth of a micrometre: a micrometre is 8 of them and 1/64 in is 3,175, so sizes in either are exact.

/// Steps in a millimetre.
const STEPS_PER_MM: f64 = 8000.0;
/// The longest size taken, mm: 30 m.
pub(super) const LONGEST_MM: f64 = 30_000.0;

/// A size in steps, to the nearest; `None` where it is no size of anything: below 0, above 30 m, not a number.
pub(super) fn to_steps(mm: f64) -> Option<i64> {
    #[expect(clippy::cast_possible_truncation, reason = "at most 2.4e8")]
    (0.0..=LONGEST_MM).contains(&mm).then(|| (mm * STEPS_PER_MM).round() as i64)
}

/// Steps as millimetres.
pub(super) fn to_mm(steps: i64) -> f64 {
    steps as f64 / STEPS_PER_MM
}

/// The greatest common divisor; of 0 and a number, the number.
pub(super) fn common_divisor(a: i64, b: i64) -> i64 {
    let (mut a, mut b) = (a.abs(), b.abs());
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thirty_two_thirty_seconds_are_an_inch_and_a_thousand_micrometres_a_millimetre() {
        assert_eq!(to_steps(25.4 / 32.0).map(|step| 32 * step), to_steps(25.4));
        assert_eq!(to_steps(25.4 / 64.0).map(|step| 64 * step), to_steps(25.4));
        assert_eq!(to_steps(0.001).map(|step| 1000 * step), to_steps(1.0));
        assert_eq!(to_steps(-0.1), None);
        assert_eq!(to_steps(f64::NAN), None);
        assert_eq!(to_steps(30_001.0), None);
    }
}
