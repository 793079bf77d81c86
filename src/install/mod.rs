//! How does it go in? Where the runs stand in the measured room, what is shimmed and cut to fit, and in which order.
//!
//! Takes a [`Plan`] and a [`Model`] of it with its fillers resolved, gives an [`Installation`]. It reads the model
//! and the survey alone; whether everything still opens in the measured room is [`crate::clearance`]'s question, asked of
//! [`Installation::model`] by whoever gathers the two.

pub mod order;

use crate::model::Model;
use crate::plan::Plan;
use order::Step;

/// Everything the installer asks.
#[derive(Clone, Debug, PartialEq)]
pub struct Installation {
    /// The model, set in the measured room.
    pub model: Model,
    /// What is done when.
    pub order: Vec<Step>,
}

impl Installation {
    /// Works it all out for `plan`, whose fillers are those of `model`.
    #[must_use]
    pub fn of(plan: &Plan, model: &Model) -> Self {
        Self { model: model.clone(), order: order::order(plan, model) }
    }
}
