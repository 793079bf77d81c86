//! How does it go in? Where the runs stand in the measured room, what is shimmed and cut to fit, and in which order.
//!
//! Takes a [`Plan`] and a [`Model`] of it with its fillers resolved, gives an [`Installation`]. It reads the model
//! and the survey alone; whether everything still opens in the measured room is [`crate::clearance`]'s question, asked of
//! [`Installation::model`] by whoever gathers the two.

mod shut_in;

use crate::model::Model;
use crate::plan::{self, Plan};

pub use shut_in::{Behind, ShutIn};

/// Everything the installer asks.
#[derive(Clone, Debug, PartialEq)]
pub struct Installation {
    /// The model, set in the measured room.
    pub model: Model,
    /// What nobody would get at any more.
    pub shut_in: Vec<ShutIn>,
    /// What is taken for granted of the room, one sentence each.
    pub assumes: Vec<String>,
}

impl Installation {
    /// Works it all out for `plan`, whose fillers are those of `model`.
    #[must_use]
    pub fn of(plan: &Plan, model: &Model) -> Self {
        Self { model: model.clone(), shut_in: shut_in::shut_in(plan, model), assumes: plan::assumed(plan) }
    }
}
