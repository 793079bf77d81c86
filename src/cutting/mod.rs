//! What is cut, from what, and what is bought beside it? Readings of a [`crate::model::Model`] for the bench.
//!
//! - [`parts`]: the cut list, every wooden part once, and what makes up each finishing piece.
//! - [`demand()`]: for each material the pieces to lay out, what there is to cut them from, and what is wrong with that.
//! - [`rips`]: the same in the order of the saw: fence by fence, then the crosscuts.
//! - [`drilling`]: holes from named edges. [`hardware`]: what is bought. [`cost`]: what it comes to and weighs.
//!
//! - [`boards`]: pieces on stock lengths. [`sheets`]: pieces on stock sheets, by edge-to-edge cuts. [`layout`]: what
//!   both share: the saw, the measure, how good a layout is known to be, what stands in its way.
//! - [`lay_out`]: a whole demand on its stock, and what it really comes to.
//!
//! Lists count the model's parts and never make a size of their own. Lengths are as fitted or as cut, and say which.
//! Layouts take and give millimetres; inside they are whole steps (`size`), so that what fits exactly fits. How long to
//! search is an [`Effort`](crate::progress::Effort).

pub mod boards;
pub mod cost;
mod demand;
pub mod drilling;
pub mod hardware;
mod knapsack;
mod laid;
pub mod layout;
mod master;
pub mod parts;
pub mod rips;
pub mod sheets;
mod size;

use std::collections::BTreeMap;

use crate::model::{Model, Part};
use crate::plan::Side;

pub use crate::model::weight::stuff_of;
pub use demand::{BAND, Demand, MaterialDemand, Piece, StockWord, demand};
pub use laid::{LaidMaterial, LaidOut, NoPlace, PieceAt, lay_out};

/// The parts of each unit, by its run and its index in it.
fn parts_by_unit(model: &Model) -> BTreeMap<(Side, usize), Vec<&Part>> {
    let mut units: BTreeMap<_, Vec<&Part>> = BTreeMap::new();
    for part in &model.parts {
        if let (Some(side), Some(unit)) = (part.run, part.unit) {
            units.entry((side, unit)).or_default().push(part);
        }
    }
    units
}
