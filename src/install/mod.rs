//! How does it go in? Where the runs stand in the measured room, what is shimmed and cut to fit, and in which order.
//!
//! Takes a [`Plan`] and a [`Model`] of it with its fillers resolved, gives an [`Installation`]. It reads the model
//! and the survey alone; whether everything still opens in the measured room is [`crate::clearance`]'s question, asked of
//! [`Installation::model`] by whoever gathers the two.

mod feet;
pub mod fit;
mod lie;
pub mod marks;
pub mod measured;
pub mod order;
pub mod outline;
mod setting;
mod shims;
mod shut_in;

use crate::model::Model;
use crate::plan::{self, Plan};

pub use feet::{Foot, feet};
pub use lie::Lie;
pub use setting::{Alone, GapAt, NailerRow, RunSet, SeenAtEnd, Set, UnitEdge};
pub use shims::{FixingWarning, Screw, Serves, Shim, Stepped, WhyHere, shims};
pub use shut_in::{Behind, ShutIn};

use fit::{CarriedIn, TurnIn};
use order::Step;

/// Everything the installer asks.
#[derive(Clone, Debug, PartialEq)]
pub struct Installation {
    /// How the runs stand in the measured room.
    pub setting: Set,
    /// How they would stand set the other way: along the walls where they are square, square where they are not. `None`
    /// where both are one, or where nobody asked; see [`Installation::with_other_way`].
    pub other_way: Option<Set>,
    /// What goes behind the nailers.
    pub shims: Vec<Shim>,
    /// What must be known before the units are fixed.
    pub fixing: Vec<FixingWarning>,
    /// What the units stand on.
    pub feet: Vec<Foot>,
    /// The model, set in the measured room. Parts have the ids that they have in the model it was made of.
    pub model: Model,
    /// What nobody would get at any more.
    pub shut_in: Vec<ShutIn>,
    /// What is taken for granted of the room, one sentence each.
    pub assumes: Vec<String>,
    /// What is done when.
    pub order: Vec<Step>,
    /// Edges cut to the walls and the floor.
    pub outlines: outline::Outlines,
    /// What is marked on the left wall and the right one.
    pub marks: [marks::WallMarks; 2],
    /// How pieces that go to their place among others go in.
    pub turning_in: Vec<TurnIn>,
    /// How each unit comes through the way in, where the plan tells one.
    pub carried_in: Vec<CarriedIn>,
}

impl Installation {
    /// Works it all out for `plan`, whose fillers are those of `model`.
    #[must_use]
    pub fn of(plan: &Plan, model: &Model) -> Self {
        let setting = Set::of(plan, model);
        let (shims, fixing) = shims(plan, model, &setting);
        let feet = feet(plan, model, &setting);
        let (shut_in, assumes) = (shut_in::shut_in(plan, model), plan::assumed(plan));
        let room = measured::Measured::new(plan, model, setting.place);
        let (outlines, marks) = (outline::Outlines::of(&room), marks::WallMarks::of(&room));
        let order = order::order(plan, model);
        // Among the runs as drawn: no piece goes in between a unit and the wall behind it, and a curved wall in patches would
        // only make the search long.
        let (turning_in, carried_in) = (fit::turning_in(plan, model), fit::carried_in(plan, model));
        let model = Model::build_in(plan, model.fillers, &setting.place);
        Self {
            setting,
            other_way: None,
            shims,
            fixing,
            feet,
            model,
            shut_in,
            assumes,
            outlines,
            marks,
            order,
            turning_in,
            carried_in,
        }
    }

    /// The same, with how it would be the other way: `plan` with another run angle, and its `model`.
    #[must_use]
    pub fn with_other_way(self, plan: &Plan, model: &Model) -> Self {
        Self { other_way: Some(Set::of(plan, model)), ..self }
    }
}
