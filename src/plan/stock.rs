//! What is there to cut from? Sheets and boards with their sizes, prices and counts, as the plan's `stock` section says.

use crate::length::Length;

/// What is at hand or can be bought, and how the saw takes from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Stock {
    /// What each cut takes.
    pub kerf: Length,
    /// Taken off each edge of a sheet before anything is cut from it.
    pub trim: Length,
    /// Taken off each end of a board.
    pub end_trim: Length,
    /// In what order sheets and boards are cut.
    pub cuts: CutOrder,
    /// What prices are in, such as `EUR`; empty where the plan does not say.
    pub currency: String,
    /// What there is; empty where the plan leaves it to the usual sizes.
    pub items: Vec<StockItem>,
}

/// In what order a sheet or board is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutOrder {
    /// Every rip along the whole length first, then crosscuts of each rip, then what is still too wide.
    RipFirst,
    /// Rips and crosscuts in any order, each from edge to edge of what lies on the saw.
    Free,
}

/// One kind of sheet or board.
#[derive(Clone, Debug, PartialEq)]
pub struct StockItem {
    /// What the builder calls it.
    pub name: String,
    /// What it is used for.
    pub of: Stuff,
    /// Whether it is a sheet or a board.
    pub form: StockForm,
    /// Its thickness as measured.
    pub thickness: Length,
    /// The thickness it is sold by, where that is not the real one.
    pub sold_as: Option<Length>,
    /// Its length, along the grain where it has one.
    pub length: Length,
    /// Its width.
    pub width: Length,
    /// What one costs.
    pub price: Option<Money>,
    /// How many there are; `None` for as many as are needed.
    pub count: Option<usize>,
    /// Whether it has a grain that parts must follow.
    pub grain: bool,
    /// Its density, kg/m³, for weights; `None` for the usual one of its kind.
    pub density: Option<f64>,
}

/// What parts are made of, as far as it is bought to be cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stuff {
    /// Panels of carcasses and shelves.
    Panel,
    /// Thin panels of backs and box bottoms.
    ThinPanel,
    /// Fronts, filler faces, kick covers, end panels.
    Front,
    /// Solid wood: edge strips, face frames.
    Solid,
    /// Sides and ends of drawer boxes.
    Box,
    /// Blocks, blocking and base frames.
    Lumber,
    /// The countertop.
    Countertop,
}

impl Stuff {
    /// In the trade's words.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Panel => "carcass panel",
            Self::ThinPanel => "thin panel",
            Self::Front => "front stock",
            Self::Solid => "solid wood",
            Self::Box => "box stock",
            Self::Lumber => "lumber",
            Self::Countertop => "countertop",
        }
    }
}

/// What shape it is bought in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StockForm {
    /// A sheet, from which rectangles are cut.
    Sheet,
    /// A board or strip, from which lengths are cut.
    Board,
}

impl StockForm {
    /// `sheet` or `board`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Sheet => "sheet",
            Self::Board => "board",
        }
    }
}

/// A sum of money in hundredths of the currency's unit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Money(pub i64);

impl Money {
    /// The most a price may be: beyond it, sums of thousands would lose their last digit nowhere, but nobody pays it.
    pub(super) const MOST: f64 = 1e7;

    /// This many units of the currency, to the nearest hundredth; `None` for what is no price.
    #[must_use]
    pub fn of(units: f64) -> Option<Self> {
        if !(0.0..=Self::MOST).contains(&units) {
            return None;
        }
        #[expect(clippy::cast_possible_truncation, reason = "at most a thousand million hundredths")]
        let hundredths = (units * 100.0).round() as i64;
        Some(Self(hundredths))
    }

    /// This sum `count` times.
    #[must_use]
    pub fn times(self, count: usize) -> Self {
        Self(self.0.saturating_mul(i64::try_from(count).unwrap_or(i64::MAX)))
    }

    /// The sum as text with two decimals, `currency` behind it where there is one.
    #[must_use]
    pub fn show(self, currency: &str) -> String {
        let sum = format!("{}.{:02}", self.0 / 100, self.0 % 100);
        if currency.is_empty() { sum } else { format!("{sum} {currency}") }
    }
}

impl std::iter::Sum for Money {
    fn sum<I: Iterator<Item = Self>>(sums: I) -> Self {
        Self(sums.fold(0, |sum, Self(next)| sum.saturating_add(next)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn money_adds_up_to_the_last_hundredth() {
        let sums = [0.1, 0.2, 64.5].map(|units| Money::of(units).unwrap());
        assert_eq!(sums.into_iter().sum::<Money>().show("EUR"), "64.80 EUR");
        assert_eq!(Money::of(64.5).unwrap().times(3).show(""), "193.50");
        assert!(Money::of(-1.0).is_none() && Money::of(f64::NAN).is_none());
    }
}
