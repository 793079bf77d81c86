//! How does it go in? Where the runs stand in the measured room, what is shimmed and cut to fit, and in which order.
//!
//! Takes a [`Plan`] and a [`Model`] of it with its fillers resolved, gives an [`Installation`]. It reads the model
//! and the survey alone; whether everything still opens in the measured room is [`crate::clearance`]'s question, asked of
//! [`Installation::model`] by whoever gathers the two.

pub mod fit;

use crate::model::Model;
use crate::plan::Plan;
use fit::{CarriedIn, TurnIn};

/// Everything the installer asks.
#[derive(Clone, Debug, PartialEq)]
pub struct Installation {
    /// The model, set in the measured room.
    pub model: Model,
    /// How pieces that go to their place among others go in.
    pub turning_in: Vec<TurnIn>,
    /// How each unit comes through the way in, where the plan tells one.
    pub carried_in: Vec<CarriedIn>,
}

impl Installation {
    /// Works it all out for `plan`, whose fillers are those of `model`.
    #[must_use]
    pub fn of(plan: &Plan, model: &Model) -> Self {
        Self {
            turning_in: fit::turning_in(plan, model),
            carried_in: fit::carried_in(plan, model),
            model: model.clone(),
        }
    }
}
