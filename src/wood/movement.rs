//! How much does a board grow or shrink across its grain? The Wood Handbook's coefficients and equations.
//!
//! Source: USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), table 13-5 and equations 13-2 and 13-3.
//! Along the grain wood keeps its length as far as joinery can tell (about 0.1 % from green to dry; from memory). The
//! handbook warns that where the rings lie aslant the width moves less than this and the thickness more.

use std::ops::RangeInclusive;

use crate::plan::{Sawn, Timber};

/// Moisture contents, in percent, for which table 13-5 and equation 13-2 stand.
pub const TABLE_RANGE: RangeInclusive<f64> = 6.0..=14.0;
/// Equation 13-3 stands up to this moisture content, in percent.
pub const GREATEST_MOISTURE: f64 = 30.0;

/// Change of size for each percent of moisture content, as a share of the size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coefficients {
    /// Across the rings: the width of quarter-sawn boards.
    pub radial: f64,
    /// Along the rings: the width of flat-sawn boards.
    pub tangential: f64,
}

/// Table 13-5's coefficients of a wood.
///
/// From memory, and in keeping with their shrinkage in table 4-3 by equation 13-3: both of yellow-poplar and of the two
/// pines, and Douglas-fir's radial one.
#[must_use]
pub fn coefficients(timber: Timber) -> Coefficients {
    let (radial, tangential) = match timber {
        Timber::HardMaple => (0.001_65, 0.003_53),
        Timber::RedOak => (0.001_58, 0.003_69),
        Timber::WhiteOak => (0.001_80, 0.003_65),
        Timber::BlackCherry => (0.001_26, 0.002_48),
        Timber::BlackWalnut => (0.001_90, 0.002_74),
        Timber::YellowBirch => (0.002_56, 0.003_38),
        Timber::YellowPoplar => (0.001_58, 0.002_89),
        Timber::WhiteAsh => (0.001_69, 0.002_74),
        Timber::AmericanBeech => (0.001_90, 0.004_31),
        Timber::DouglasFir => (0.001_65, 0.002_67),
        Timber::WhitePine => (0.000_71, 0.002_12),
        Timber::PonderosaPine => (0.001_33, 0.002_16),
    };
    Coefficients { radial, tangential }
}

impl Coefficients {
    /// The one for a board's width.
    #[must_use]
    pub fn across(self, sawn: Sawn) -> f64 {
        match sawn {
            Sawn::Flat => self.tangential,
            Sawn::Quartered => self.radial,
        }
    }

    /// The larger one: the safe side for a thickness, whose rings may lie either way.
    #[must_use]
    pub fn larger(self) -> f64 {
        self.radial.max(self.tangential)
    }
}

/// The shrinkage from green to dry, in percent, that belongs to a coefficient: equation 13-3 at 10 %, turned round.
#[must_use]
pub fn shrinkage(coefficient: f64) -> f64 {
    3000.0 / (1.0 / coefficient + 20.0)
}

/// The coefficient that belongs to a shrinkage from green to dry in percent: equation 13-3 at 10 %.
#[must_use]
pub fn coefficient(shrinkage: f64) -> f64 {
    1.0 / (3000.0 / shrinkage - 20.0)
}

/// By how much a `size` changes, in its own unit, as the moisture content goes `from` one percentage `to` another.
///
/// Equation 13-2 where both lie within [`TABLE_RANGE`], else 13-3. Neither stands above [`GREATEST_MOISTURE`], where wood
/// does not move any more: what is more counts as that.
#[must_use]
pub fn change(size: f64, coefficient: f64, from: f64, to: f64) -> f64 {
    let [from, to] = [from, to].map(|moisture| moisture.min(GREATEST_MOISTURE));
    if TABLE_RANGE.contains(&from) && TABLE_RANGE.contains(&to) {
        size * coefficient * (to - from)
    } else {
        size * (to - from) / (3000.0 / shrinkage(coefficient) - GREATEST_MOISTURE + from)
    }
}
