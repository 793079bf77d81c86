//! Is there room for people? To stand before what is open, for fingers behind and beside a pull, and within reach.
//!
//! [`People::of`] takes a [`Plan`] and its [`Model`] and tells what there is, each beside the clause of a published
//! standard that names a figure for it: [`Clause`]. Nothing here is asked for by the plan, so nothing is a fault: which
//! standard holds, if any, is for local codes to say. The passage before a run that is shut, and the room to stand beside
//! an open appliance, are told by [`crate::clearance`].
//!
//! `passage` looks at the floor before each front, `reach` at pulls, shelves and the toe kick. Lengths are measured
//! from the finished floor and between boxes along the run, which is on the safe side for what stands askew.

mod clause;
mod passage;
mod reach;

use crate::model::Model;
use crate::plan::Plan;

pub use clause::{Clause, clear_floor_width, storage_share, toe_height};
pub use passage::Standing;
pub use reach::{Fingers, Kick, Pulled, Stored};

/// What there is of room for people.
#[derive(Clone, Debug, PartialEq)]
pub struct People {
    /// The floor before each drawer or door of the runs, in the model's order; what is behind a door is left out, since
    /// one stands before that door.
    pub standing: Vec<Standing>,
    /// The room for fingers at each bar or knob.
    pub fingers: Vec<Fingers>,
    /// How high each drawer or door is taken hold of.
    pub pulled: Vec<Pulled>,
    /// How much of what things are put on lies within reach.
    pub stored: Stored,
    /// The countertop's height, mm above the finished floor; `None` where the plan has none.
    pub worktop_mm: Option<f64>,
    /// The toe kick.
    pub kick: Kick,
}

impl People {
    /// What there is in `model`, which was built from `plan`.
    #[must_use]
    pub fn of(plan: &Plan, model: &Model) -> Self {
        Self {
            standing: passage::standing(model),
            fingers: reach::fingers(plan, model),
            pulled: reach::pulled(model),
            stored: reach::stored(plan, model),
            worktop_mm: reach::worktop(model),
            kick: reach::kick(plan),
        }
    }
}
