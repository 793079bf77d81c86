//! How long is it? A length in millimetres, read from and printed as a builder writes it.
//!
//! Takes numbers or text (`"3/4"`, `"1 1/4\""`, `"5' 2-1/2\""`, `"19 mm"`) and gives a [`Length`], always finite.
//! One inch is exactly 25.4 mm (the 1959 agreement; 16 CFR 500.19).
//!
//! Rounding happens only when a length is printed or brought to a shop step, and the function's name says which way
//! it errs. Lengths stay unrounded in between.

use std::cmp::Ordering;
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

use serde::{Serialize, Serializer};

/// Millimetres in one inch, exactly.
pub const MM_PER_INCH: f64 = 25.4;

/// Two lengths closer than this count as the same when a length is brought to a step: far below anything a shop can
/// measure, far above the noise of f64 sums.
pub const SNAP_MM: f64 = 1e-6;

/// The finest fraction of an inch that is printed: 1/32.
const INCH_PARTS: f64 = 32.0;

/// What lies within this share of a printing step counts as on it.
const SNAP_PARTS: f64 = 1e-4;

/// The unit a plan is written in and its answers are printed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres, printed with up to two decimals.
    Millimetre,
    /// Inches, printed as fractions to the nearest 1/32.
    Inch,
}

impl Unit {
    /// The length of `count` of this unit.
    #[must_use]
    pub fn of(self, count: f64) -> Length {
        match self {
            Self::Millimetre => Length::mm(count),
            Self::Inch => Length::inches(count),
        }
    }

    /// The unit's short name: `mm` or `in`.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Inch => "in",
        }
    }
}

/// A length in millimetres; never NaN, never infinite.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Length(f64);

impl Serialize for Length {
    /// As a number of millimetres.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(self.0)
    }
}

/// Why a text is not a length.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LengthError {
    /// Nothing but blanks.
    #[error("the length is empty")]
    Empty,
    /// Not a number, fraction or known unit.
    #[error("`{0}` is not a length")]
    NotALength(String),
    /// A fraction over zero.
    #[error("`{0}` divides by zero")]
    DivisionByZero(String),
    /// NaN, infinite or beyond ten kilometres.
    #[error("`{0}` is not a length that can be built")]
    NotFinite(String),
}

/// Nothing that a builder measures is longer than this (ten kilometres); beyond it sums lose their last digits.
const LONGEST_MM: f64 = 1e7;

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0.0);

    /// A length of `mm` millimetres, for numbers the program itself works out.
    ///
    /// # Panics
    /// If `mm` is NaN or infinite: a sum gone wrong inside the program, never a user's input.
    #[must_use]
    pub fn mm(mm: f64) -> Self {
        assert!(mm.is_finite(), "a length must be a finite number of millimetres, got {mm}");
        Self(mm)
    }

    /// A length of `inches` inches; as [`Length::mm`].
    #[must_use]
    pub fn inches(inches: f64) -> Self {
        Self::mm(inches * MM_PER_INCH)
    }

    /// A length that a user typed as a plain number of `unit`.
    ///
    /// # Errors
    /// If it is NaN, infinite or longer than ten kilometres.
    pub fn of_number(number: f64, unit: Unit) -> Result<Self, LengthError> {
        let scale = match unit {
            Unit::Millimetre => 1.0,
            Unit::Inch => MM_PER_INCH,
        };
        let mm = number * scale;
        if mm.is_finite() && mm.abs() <= LONGEST_MM {
            Ok(Self(mm))
        } else {
            Err(LengthError::NotFinite(number.to_string()))
        }
    }

    /// Reads a length as a builder writes it; a number without a unit is in `unit`.
    ///
    /// Understands decimals, fractions (`3/4`), whole and fraction (`1 1/4`, `1-1/4`), feet and inches
    /// (`5' 2-1/2"`), and the units `mm`, `cm`, `m`, `in`, `ft`, `"` and `'`.
    ///
    /// # Errors
    /// If the text is none of these, divides by zero, or is too large.
    pub fn parse(text: &str, unit: Unit) -> Result<Self, LengthError> {
        let whole = text.trim();
        if whole.is_empty() {
            return Err(LengthError::Empty);
        }
        let (negative, body) = match whole.strip_prefix('-') {
            Some(rest) => (true, rest.trim_start()),
            None => (false, whole),
        };
        let wrong = || LengthError::NotALength(whole.to_owned());
        let feet_mark = body.find('\'').map(|at| (at, 1)).or_else(|| body.find("ft").map(|at| (at, 2)));
        let mm = match feet_mark {
            Some((at, mark)) => {
                let feet = parse_mixed(&body[..at], whole)?;
                let rest = body[at + mark..].trim_start().trim_start_matches('-').trim_start();
                let inches = match rest.trim_end_matches("in").trim_end_matches('"').trim() {
                    "" if rest.is_empty() => 0.0,
                    "" => return Err(wrong()),
                    inches => parse_mixed(inches, whole)?,
                };
                (feet * 12.0 + inches) * MM_PER_INCH
            }
            None => {
                let (digits, scale) = split_unit(body, unit);
                parse_mixed(digits, whole)? * scale
            }
        };
        if !mm.is_finite() || mm > LONGEST_MM {
            return Err(LengthError::NotFinite(whole.to_owned()));
        }
        Ok(Self(if negative { -mm } else { mm }))
    }

    /// The number of millimetres.
    #[must_use]
    pub fn to_mm(self) -> f64 {
        self.0
    }

    /// The number of inches.
    #[must_use]
    pub fn to_inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }

    /// The number of `unit`s.
    #[must_use]
    pub fn to(self, unit: Unit) -> f64 {
        match unit {
            Unit::Millimetre => self.to_mm(),
            Unit::Inch => self.to_inches(),
        }
    }

    /// The larger of the two.
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        if self >= other { self } else { other }
    }

    /// The smaller of the two.
    #[must_use]
    pub fn min(self, other: Self) -> Self {
        if self <= other { self } else { other }
    }

    /// Its distance from zero.
    #[must_use]
    pub fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// The count of the least whole `step` that is not below this length: what lies within [`SNAP_MM`] of a step
    /// counts as that step, everything else goes up. Never negative; 0 where `step` is not positive.
    #[must_use]
    pub fn steps_up(self, step: Self) -> f64 {
        if step.0 <= 0.0 {
            return 0.0;
        }
        let nearest = (self.0 / step.0).round();
        let steps = if (nearest * step.0 - self.0).abs() <= SNAP_MM { nearest } else { (self.0 / step.0).ceil() };
        steps.max(0.0)
    }

    /// This length brought up to the next whole `step` (see [`Length::steps_up`]); never smaller than it was, save
    /// for the snap.
    #[must_use]
    pub fn rounded_up_to(self, step: Self) -> Self {
        if step.0 <= 0.0 { self } else { Self(self.steps_up(step) * step.0) }
    }

    /// The length as text in `unit`, with the unit: `58.74 mm`, `2-5/16 in`. Inches are rounded to the nearest 1/32,
    /// half up, and marked with `~` where that is not exact; millimetres likewise to two decimals.
    #[must_use]
    pub fn show(self, unit: Unit) -> String {
        format!("{} {}", self.show_bare(unit), unit.symbol())
    }

    /// As [`Length::show`], but never less than the length: for a least that must not be read too small.
    #[must_use]
    pub fn show_no_less(self, unit: Unit) -> String {
        self.show_marked(unit, |parts| (parts - SNAP_PARTS).ceil())
    }

    /// As [`Length::show`], but never more than the length: for a limit that must not be read too large.
    #[must_use]
    pub fn show_no_more(self, unit: Unit) -> String {
        self.show_marked(unit, |parts| (parts + SNAP_PARTS).floor())
    }

    /// The length brought to the printing step by `round`, and marked where that is not what it was.
    fn show_marked(self, unit: Unit, round: fn(f64) -> f64) -> String {
        let step = match unit {
            Unit::Millimetre => Self::mm(0.01),
            Unit::Inch => Self::inches(1.0 / INCH_PARTS),
        };
        let rounded = step * round(self.0 / step.0);
        let mark = if (rounded.0 - self.0).abs() > SNAP_MM { "~" } else { "" };
        // What is on the step prints without a mark of its own.
        format!("{mark}{}", rounded.show(unit).trim_start_matches('~'))
    }

    /// As [`Length::show`] without the unit.
    #[must_use]
    pub fn show_bare(self, unit: Unit) -> String {
        match unit {
            Unit::Millimetre => show_mm(self.0),
            Unit::Inch => show_inches(self.to_inches()),
        }
    }
}

/// The unit a text ends in and the millimetres in one of it, or `unit`'s own.
fn split_unit(body: &str, unit: Unit) -> (&str, f64) {
    const SUFFIXES: [(&str, f64); 6] =
        [("mm", 1.0), ("cm", 10.0), ("inches", MM_PER_INCH), ("in", MM_PER_INCH), ("\"", MM_PER_INCH), ("m", 1000.0)];
    for (suffix, scale) in SUFFIXES {
        if let Some(digits) = body.strip_suffix(suffix) {
            return (digits, scale);
        }
    }
    (body, unit.of(1.0).to_mm())
}

/// A non-negative number as `1.25`, `3/4`, `1 3/4` or `1-3/4`; `whole` is the text to name in an error.
fn parse_mixed(text: &str, whole: &str) -> Result<f64, LengthError> {
    let wrong = || LengthError::NotALength(whole.to_owned());
    let text = text.trim();
    let Some((front, below)) = text.split_once('/') else {
        return parse_decimal(text).ok_or_else(wrong);
    };
    let (count, above) = match front.trim_end().rsplit_once([' ', '-']) {
        Some((count, above)) => (parse_digits(count.trim()).ok_or_else(wrong)?, above),
        None => (0.0, front),
    };
    let above = parse_digits(above.trim()).ok_or_else(wrong)?;
    let below = parse_digits(below.trim()).ok_or_else(wrong)?;
    if below <= 0.0 {
        return Err(LengthError::DivisionByZero(whole.to_owned()));
    }
    Ok(count + above / below)
}

fn parse_digits(text: &str) -> Option<f64> {
    if text.is_empty() || !text.bytes().all(|b| b.is_ascii_digit()) { None } else { text.parse().ok() }
}

/// Digits with at most one point; no exponent, no sign, no `nan`.
fn parse_decimal(text: &str) -> Option<f64> {
    let plain = text.bytes().all(|b| b.is_ascii_digit() || b == b'.') && text.bytes().any(|b| b.is_ascii_digit());
    if plain { text.parse().ok() } else { None }
}

fn show_mm(mm: f64) -> String {
    let rounded = (mm * 100.0).round() / 100.0;
    let mark = if (rounded - mm).abs() > SNAP_MM { "~" } else { "" };
    let text = format!("{rounded:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    // "-0" reads as a fault.
    format!("{mark}{}", if text == "-0" { "0" } else { text })
}

fn show_inches(inches: f64) -> String {
    let parts = (inches.abs() * INCH_PARTS + 0.5 + SNAP_MM).floor();
    let mark = if (parts / INCH_PARTS - inches.abs()).abs() * MM_PER_INCH > SNAP_MM { "~" } else { "" };
    let sign = if inches < 0.0 && parts > 0.0 { "-" } else { "" };
    let (whole, mut above, mut below) = ((parts / INCH_PARTS).floor(), parts % INCH_PARTS, INCH_PARTS);
    while above > 0.0 && above % 2.0 == 0.0 {
        above /= 2.0;
        below /= 2.0;
    }
    match (whole > 0.0, above > 0.0) {
        (_, false) => format!("{mark}{sign}{whole}"),
        (false, true) => format!("{mark}{sign}{above}/{below}"),
        (true, true) => format!("{mark}{sign}{whole}-{above}/{below}"),
    }
}

impl Eq for Length {}

impl PartialOrd for Length {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Length {
    fn cmp(&self, other: &Self) -> Ordering {
        // Zero has two signs in f64; a builder knows one.
        (self.0 + 0.0).total_cmp(&(other.0 + 0.0))
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::mm(self.0 + other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::mm(self.0 - other.0)
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<f64> for Length {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::mm(self.0 * factor)
    }
}

impl Div<f64> for Length {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self::mm(self.0 / divisor)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

impl fmt::Display for Length {
    /// In millimetres, for messages about the program itself; use [`Length::show`] for a builder.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", show_mm(self.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inch(text: &str) -> f64 {
        Length::parse(text, Unit::Inch).unwrap().to_inches()
    }

    #[test]
    fn a_builder_s_ways_of_writing_are_read() {
        for (text, inches) in [
            ("3/4", 0.75),
            ("1 1/4", 1.25),
            ("1-1/4\"", 1.25),
            ("5' 2-1/2\"", 62.5),
            ("5'", 60.0),
            ("5ft 2in", 62.0),
            ("5'-2\"", 62.0),
            ("2.5", 2.5),
            ("-1/2", -0.5),
            ("25.4 mm", 1.0),
            ("2.54cm", 1.0),
        ] {
            assert!((inch(text) - inches).abs() < 1e-12, "{text}");
        }
        assert_eq!(Length::parse("1 1/4\"", Unit::Millimetre), Ok(Length::mm(31.75)));
        assert_eq!(Length::parse("1.2m", Unit::Millimetre), Ok(Length::mm(1200.0)));
    }

    #[test]
    fn what_is_no_length_is_refused() {
        for text in
            ["", "  ", "abc", "1/0", "NaN", "inf", "1e400", "1//2", "1/2/3", "5' x", "--3", "1 2 3", "9e9", "\""]
        {
            assert!(Length::parse(text, Unit::Inch).is_err(), "{text} was read");
        }
        assert!(Length::parse("99999999999", Unit::Millimetre).is_err());
        assert!(Length::of_number(f64::NAN, Unit::Inch).is_err());
        assert!(Length::of_number(f64::INFINITY, Unit::Millimetre).is_err());
    }

    // Rows of the conversion table: exact arithmetic with 1 in = 25.4 mm (16 CFR 500.19), none of them a tie.
    #[test]
    fn inches_print_to_the_nearest_thirty_second() {
        for (mm, text) in [
            (12.0, "~15/32"),
            (15.0, "~19/32"),
            (19.0, "~3/4"),
            (25.0, "~31/32"),
            (37.0, "~1-15/32"),
            (720.0, "~28-11/32"),
            (876.3, "34-1/2"),
            (2440.0, "~96-1/16"),
            (0.0, "0"),
            (-12.7, "-1/2"),
            (15.99 * 25.4, "~16"),
        ] {
            assert_eq!(Length::mm(mm).show_bare(Unit::Inch), text);
        }
    }

    #[test]
    fn millimetres_print_without_idle_zeros() {
        assert_eq!(Length::mm(58.7375).show(Unit::Millimetre), "~58.74 mm");
        assert_eq!(Length::mm(60.0).show(Unit::Millimetre), "60 mm");
        assert_eq!(Length::mm(-0.001).show(Unit::Millimetre), "~0 mm");
    }

    #[test]
    fn a_least_is_never_read_too_small_and_a_limit_never_too_large() {
        let length = Length::mm(254.092);
        assert_eq!(length.show_no_less(Unit::Millimetre), "~254.1 mm");
        assert_eq!(length.show_no_more(Unit::Millimetre), "~254.09 mm");
        let length = Length::inches(2.3125 + 0.01);
        assert_eq!(length.show_no_less(Unit::Inch), "~2-11/32 in");
        assert_eq!(length.show_no_more(Unit::Inch), "~2-5/16 in");
        assert_eq!(Length::inches(2.3125).show_no_less(Unit::Inch), "2-5/16 in");
        assert_eq!(Length::mm(61.5 + 1e-8).show_no_less(Unit::Millimetre), "61.5 mm");
    }

    #[test]
    fn a_step_is_never_rounded_down_but_noise_is() {
        let eighth = Length::inches(0.125);
        assert_eq!(Length::inches(2.3125).rounded_up_to(eighth), Length::inches(2.375));
        assert_eq!(Length::mm(60.0 + 1e-9).rounded_up_to(Length::mm(1.0)), Length::mm(60.0));
        assert_eq!(Length::mm(60.001).rounded_up_to(Length::mm(1.0)), Length::mm(61.0));
        assert_eq!(Length::mm(-4.0).rounded_up_to(Length::mm(1.0)), Length::ZERO);
    }
}
