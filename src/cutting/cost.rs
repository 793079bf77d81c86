//! What does it come to, and what does it weigh? Prices by stock item, waste, and weights for lifting.
//!
//! Until pieces are laid out, [`least`] tells how many sheets and boards are needed at least, by area and length; a layout
//! gives its own counts to [`total`]. Weights are volumes of the model's own pieces times a density.

use std::collections::BTreeMap;

use super::demand::{Demand, usable};
use super::parts_by_unit;
use crate::length::{Length, SNAP_MM};
use crate::model::Model;
use crate::model::weight::MM3_IN_M3;
pub use crate::model::weight::{ONE_PERSON_KG, usual_density, weight};
use crate::plan::{Money, Plan, Side, StockItem};

/// How many of one stock item are used, and for how much of it there are pieces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Use {
    /// Index into [`Demand::stock`].
    pub item: usize,
    /// How many.
    pub count: usize,
    /// Share of their face that becomes pieces, 0 to 1.
    pub used: f64,
}

/// What the stock comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Cost {
    /// What is used.
    pub uses: Vec<Use>,
    /// The sum of what has a price.
    pub sum: Money,
    /// Whether everything used has a price.
    pub whole: bool,
}

/// How many sheets and boards are needed at the very least: by the pieces' area, a kerf left out, with the first item that
/// serves for each material. A layout needs as many or more.
#[must_use]
pub fn least(demand: &Demand, plan: &Plan) -> Vec<Use> {
    // Strips of several widths come from the same boards.
    let mut areas: BTreeMap<usize, f64> = BTreeMap::new();
    for group in &demand.groups {
        if let Some(&item) = group.from.first() {
            let area = group.pieces.iter().map(|p| p.length.to_mm() * p.width.to_mm()).sum::<f64>();
            *areas.entry(item).or_default() += area;
        }
    }
    let least_of = |(item, area): (usize, f64)| {
        let stock = demand.stock.get(item)?;
        let [length, width] = usable(&plan.stock, stock).map(Length::to_mm);
        let (one, whole) = (length * width, stock.length.to_mm() * stock.width.to_mm());
        if one <= 0.0 || area <= 0.0 {
            return None;
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "positive and far below 2^52")]
        let count = (area / one - SNAP_MM).ceil().max(1.0) as usize;
        Some(Use { item, count, used: area / (whole * count as f64) })
    };
    areas.into_iter().filter_map(least_of).collect()
}

/// What these uses come to.
#[must_use]
pub fn total(demand: &Demand, uses: Vec<Use>) -> Cost {
    let price = |one: &Use| demand.stock.get(one.item).and_then(|item| item.price).map(|price| price.times(one.count));
    let sum = uses.iter().filter_map(price).sum();
    let whole = uses.iter().all(|one| price(one).is_some());
    Cost { uses, sum, whole }
}

/// What one sheet or board weighs, kg; `None` for a countertop of unknown stuff.
#[must_use]
pub fn stock_weight(item: &StockItem) -> Option<f64> {
    let density = item.density.or_else(|| usual_density(item.of))?;
    let volume = item.length.to_mm() * item.width.to_mm() * item.thickness.to_mm();
    Some(volume / MM3_IN_M3 * density)
}

/// What one unit weighs.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitWeight {
    /// Its run.
    pub side: Side,
    /// Its index in the run, from the corner.
    pub unit: usize,
    /// Its name.
    pub name: String,
    /// What stays put when drawers and doors are off, kg.
    pub fixed: f64,
    /// Drawers and doors, kg.
    pub moving: f64,
}

/// What each unit of `model` weighs without its hardware; appliances and countertop left out.
#[must_use]
pub fn weights(model: &Model, plan: &Plan) -> Vec<UnitWeight> {
    let mut list = Vec::new();
    for ((side, unit), parts) in parts_by_unit(model) {
        let sum = |moving: bool| {
            let parts = parts.iter().filter(|part| part.mover.is_some() == moving);
            parts.filter_map(|part| weight(part, plan)).sum::<f64>()
        };
        let (fixed, moving) = (sum(false), sum(true));
        if fixed > 0.0 {
            let name = plan.run(side).units.get(unit).map(|unit| unit.name.clone()).unwrap_or_default();
            list.push(UnitWeight { side, unit, name, fixed, moving });
        }
    }
    list
}
