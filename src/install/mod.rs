//! How does it go in? Where the runs stand in the measured room, what is shimmed and cut to fit, and in which order.
//!
//! Takes a [`Plan`] and a [`Model`] of it with its fillers resolved, gives an [`Installation`]. It reads the model
//! and the survey alone; whether everything still opens in the measured room is [`crate::clearance`]'s question, asked of
//! [`Installation::model`] by whoever gathers the two.

pub mod floor;
pub mod marks;
pub mod measured;
pub mod outline;

use crate::model::Model;
use crate::plan::Plan;

/// Everything the installer asks.
#[derive(Clone, Debug, PartialEq)]
pub struct Installation {
    /// The model, set in the measured room.
    pub model: Model,
    /// Edges cut to the walls and the floor.
    pub outlines: outline::Outlines,
    /// What is marked on the left wall and the right one.
    pub marks: [marks::WallMarks; 2],
}

impl Installation {
    /// Works it all out for `plan`, whose fillers are those of `model`.
    #[must_use]
    pub fn of(plan: &Plan, model: &Model) -> Self {
        let room = measured::Measured::new(plan, model, measured::nominal_setting(plan, model));
        let outlines = outline::Outlines::of(&room);
        let marks = marks::WallMarks::of(&room);
        Self { model: model.clone(), outlines, marks }
    }
}
