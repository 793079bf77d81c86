//! What do wood and load eat of the clearance? Fronts that grow in damp air, shelves and drawer bottoms that sag.
//!
//! [`Reading::of`] takes a [`Plan`] and its [`Model`] and tells, for every front of solid wood, what the gaps beside it come
//! to in the driest and the dampest air of the plan; what that eats of the clearance beside the corner; how far shelves and
//! drawer bottoms sag at first and in the end; and whether a drawer that sags and droops clears what is below.
//! [`Worry`] is what had better be otherwise.
//!
//! The laws are published ones, each named where it is: [`moisture`], [`movement`], [`sag`]. Lengths in mm. What wood does
//! is an average of its kind: boards differ, so these are figures to plan by, and no promise of one board.

mod boards;
mod fronts;
pub mod moisture;
pub mod movement;
mod place;
pub mod sag;

pub use boards::{Below, DrawerSag, ShelfSag};
pub use fronts::{CornerEats, EdgeMoves, FrontEdge, FrontMoves, Width};

use crate::model::{Model, MoverId, PartId};
use crate::plan::{Air, Plan};

/// Moisture content, in percent, that fronts come to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moisture {
    /// In the driest air.
    pub driest: f64,
    /// In the dampest air.
    pub dampest: f64,
}

impl Moisture {
    fn of(driest: Air, dampest: Air) -> Self {
        let [a, b] = [driest, dampest].map(moisture::hailwood_horrobin);
        // Air as damp but warmer holds wood at a little less: the ends are those of the wood.
        Self { driest: a.min(b), dampest: a.max(b) }
    }

    /// The driest, then the dampest.
    fn ends(self) -> [f64; 2] {
        [self.driest, self.dampest]
    }
}

/// Something that had better be otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Worry {
    /// A gap closes, or comes down below the least.
    Gap {
        /// The front.
        part: PartId,
        /// Its edge.
        edge: FrontEdge,
        /// What the gap is to.
        other: PartId,
        /// The gap.
        gap: Width,
        /// The least that it may come down to, mm.
        least: f64,
    },
    /// More is eaten beside the corner than the clearance wanted.
    Corner(CornerEats),
    /// A shelf sags past its limit.
    Sags(ShelfSag),
    /// More lies on a shelf than one bears.
    Overloaded(ShelfSag),
    /// A drawer comes down on what is below it.
    Drops {
        /// The drawer.
        mover: MoverId,
        /// What it comes down on.
        below: Below,
    },
}

/// All that wood and load do.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// What fronts come to.
    pub moisture: Moisture,
    /// Every front.
    pub fronts: Vec<FrontMoves>,
    /// What is eaten beside the corner.
    pub corners: Vec<CornerEats>,
    /// Every shelf that lies in its unit.
    pub shelves: Vec<ShelfSag>,
    /// Every drawer, and every shelf that draws out.
    pub drawers: Vec<DrawerSag>,
    /// What had better be otherwise.
    pub worries: Vec<Worry>,
}

impl Reading {
    /// What wood and load do in `model`, which was built from `plan`.
    #[must_use]
    pub fn of(plan: &Plan, model: &Model) -> Self {
        let places = place::Places::of(model);
        let moisture = Moisture::of(plan.wood.driest, plan.wood.dampest);
        let fronts = fronts::fronts(plan, model, &places, moisture);
        let corners = fronts::corners(plan, model, &fronts, moisture);
        let shelves = boards::shelves(plan, model, &places);
        let drawers = boards::drawers(plan, model, &places);
        let mut worries = fronts::worries(plan, &fronts, &corners);
        worries.extend(boards::worries(&shelves, &drawers));
        Self { moisture, fronts, corners, shelves, drawers, worries }
    }
}
