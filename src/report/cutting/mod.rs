//! The lists for the bench in words, as JSON and as CSV: what is cut, ripped, laid out, drilled, bought, paid and lifted.
//!
//! Lengths are printed in the plan's unit. No number is made here.

mod csv;
mod json;
mod layout_data;
mod layout_text;
mod text;
mod words;

use crate::cutting::cost::{self, Cost, UnitWeight};
use crate::cutting::drilling::{self, Holes};
use crate::cutting::hardware::{self, Item};
use crate::cutting::parts::{self, CutList};
use crate::cutting::rips::{self, RipList};
use crate::cutting::{self, Demand};
use crate::length::Unit;
use crate::model::Model;
use crate::plan::Plan;

pub use csv::{parts_csv, rips_csv};
pub use json::{parts_json, rips_json};
pub use layout_data::{layout_csv, layout_json};
pub use layout_text::{
    layout_caution, layout_text, left_line, material_line, order_line, sheet_line, standing_words, total_lines,
};
pub use text::{list_lines, parts_text, rips_text};
pub use words::{
    bench_cautions, crosscut_line, edges_line, joint_line, places, rip_group_line, rip_line, size_line, stock_line,
    why_line, whys_line, work_lines,
};

/// Every reading of a model for the bench.
#[derive(Clone, Debug)]
pub struct Bench {
    /// What is cut.
    pub list: CutList,
    /// From what.
    pub demand: Demand,
    /// In the order of the saw.
    pub rips: RipList,
    /// Holes.
    pub drilling: Vec<Holes>,
    /// What is bought.
    pub hardware: Vec<Item>,
    /// What the stock comes to at the very least.
    pub cost: Cost,
    /// What units weigh.
    pub weights: Vec<UnitWeight>,
    /// The plan's name.
    pub name: String,
    /// The unit lists are printed in.
    pub unit: Unit,
    /// What prices are in.
    pub currency: String,
}

impl Bench {
    /// Reads `model`, built of `plan`.
    #[must_use]
    pub fn new(model: &Model, plan: &Plan) -> Self {
        let demand = cutting::demand(model, plan);
        let uses = cost::least(&demand, plan);
        Self {
            list: parts::cut_list(model),
            rips: rips::rip_list(&demand, plan),
            drilling: drilling::drilling_list(model, plan),
            hardware: hardware::hardware_list(model, plan),
            cost: cost::total(&demand, uses),
            weights: cost::weights(model, plan),
            demand,
            name: model.name.clone(),
            unit: model.unit,
            currency: plan.stock.currency.clone(),
        }
    }
}

/// Which of the lists is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BenchList {
    /// The cut list.
    Cut,
    /// Finishing pieces with the sums behind them.
    Finishing,
    /// Holes.
    Drilling,
    /// Hardware and what is used up.
    Hardware,
    /// Stock, prices and weights.
    Cost,
}

impl BenchList {
    /// All, in the order they are printed.
    pub const ALL: [Self; 5] = [Self::Cut, Self::Finishing, Self::Drilling, Self::Hardware, Self::Cost];
}
