//! How much water does wood hold in air of this state? The equilibrium moisture content.
//!
//! Two-hydrate sorption after Hailwood and Horrobin, with the coefficients for degrees Celsius that the Wood Handbook
//! prints (USDA Forest Products Laboratory, FPL-GTR-190, 2010, equations 4-5). It stands for all woods alike; its table
//! 4-2 is reproduced to 0.06 at room temperatures. Wood takes weeks to follow the air, paint makes it slower.

use std::fmt;
use std::ops::RangeInclusive;

use crate::plan::Air;

/// Relative humidity that the equation stands for, in percent.
pub const HUMIDITIES: RangeInclusive<f64> = 0.0..=100.0;
/// Temperatures that it stands for, in degrees Celsius: 30 to 270 degrees Fahrenheit, as table 4-2 (from memory), to the
/// tenth outwards.
pub const CELSIUS: RangeInclusive<f64> = -1.2..=132.3;

/// Air of a state that the equation does not stand for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutsideTable(pub Air);

impl fmt::Display for OutsideTable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Air { humidity, celsius } = self.0;
        let (low, high) = (CELSIUS.start(), CELSIUS.end());
        write!(
            f,
            "air of `{humidity}` % at `{celsius}` \u{b0}C: the equation is for 0 to 100 % at {low} to {high} \u{b0}C"
        )
    }
}

impl std::error::Error for OutsideTable {}

/// Moisture content, in percent of the dry weight, of wood that has long stood in `air`.
///
/// # Errors
/// Where the air's state lies outside [`HUMIDITIES`] or [`CELSIUS`], or is no number.
pub fn equilibrium(air: Air) -> Result<f64, OutsideTable> {
    if HUMIDITIES.contains(&air.humidity) && CELSIUS.contains(&air.celsius) {
        Ok(hailwood_horrobin(air))
    } else {
        Err(OutsideTable(air))
    }
}

/// Equation 4-5, whatever the air's state; the plan's check keeps that within the table.
pub(super) fn hailwood_horrobin(air: Air) -> f64 {
    let (h, t) = (air.humidity / 100.0, air.celsius);
    let of = |a: f64, b: f64, c: f64| a + b * t + c * t * t;
    let w = of(349.0, 1.29, 0.0135);
    let k = of(0.805, 0.000_736, -0.000_002_73);
    let k1 = of(6.27, -0.009_38, -0.000_303);
    let k2 = of(1.91, 0.0407, -0.000_293);
    let kh = k * h;
    let (one, two) = (k1 * kh, k1 * k2 * kh * kh);
    1800.0 / w * (kh / (1.0 - kh) + (one + 2.0 * two) / (1.0 + one + two))
}
