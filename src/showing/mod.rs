//! What do owners ask? Whether the drawer lines meet round the corner, whether the two fillers are alike, and how large
//! the space is that the corner shuts off.
//!
//! [`showing`] takes a [`Model`] and gives a [`Showing`]: [`lines`] compares the fronts of neighbours, [`seen`] measures
//! the filler faces as seen from the room, [`space`] the volume behind them. Frame and units are the model's: mm, z up.
//!
//! What this does not do: it judges nothing that moves, and it has no words for an owner; those are the report's.

pub mod lines;
pub mod seen;
pub mod space;

use crate::model::Model;
use lines::Neighbours;
use seen::FillersSeen;
use space::Space;

/// What owners ask of a corner, answered.
#[derive(Clone, Debug, PartialEq)]
pub struct Showing {
    /// Each two units whose fronts stand next to each other, from the far end of the left run round the corner to the
    /// far end of the right one.
    pub neighbours: Vec<Neighbours>,
    /// The two filler faces as seen from the room.
    pub fillers: FillersSeen,
    /// What the corner shuts off.
    pub space: Space,
}

impl Showing {
    /// The two units whose fronts stand nearest to the corner, one on each run; `None` where a run has no fronts.
    #[must_use]
    pub fn at_corner(&self) -> Option<&Neighbours> {
        self.neighbours.iter().find(|pair| pair.round_the_corner)
    }
}

/// Answers what owners ask of `model`.
///
/// A sum that a carpenter can check in the head: units 500 deep, fillers 100, faces 20 thick with their faces in the
/// front plane, so that behind them 480 are left. Two strips of 600 by 480, less the 480 by 480 that they share, less
/// two backing blocks of 40 by 40, all 700 high:
///
/// ```
/// use elbowroom::{clearance, plan, showing::showing};
///
/// let plan = plan::read("sum.ron", r#"(
///     name: "Sum", units: Millimetre,
///     room: (left_wall: 3000, right_wall: 3000),
///     construction: (depth: 500, height: 800, kick_height: 100),
///     pulls: { "none": Absent },
///     slides: { "short": (length: 400, extension: Full) },
///     left: (units: [Drawers(width: 600, fronts: Equal(3), pull: "none")], ends_at: Open),
///     right: (units: [Drawers(width: 600, fronts: Equal(3), pull: "none")], ends_at: Open),
///     corner: (left: Fixed(100), right: Fixed(100), face: 20, block: 40),
/// )"#).expect("a good plan");
/// let showing = showing(&clearance::answer(&plan).model);
/// let floor = 2.0 * 600.0 * 480.0 - 480.0 * 480.0 - 2.0 * 40.0 * 40.0;
/// assert!((showing.space.litres() - floor * 700.0 / 1e6).abs() < 1e-6);
/// // Both are seen 100 wide, and three drawers beside three drawers meet in every line.
/// assert!(showing.fillers.alike());
/// assert!(showing.at_corner().is_some_and(|pair| pair.all_meet()));
/// ```
#[must_use]
pub fn showing(model: &Model) -> Showing {
    Showing { neighbours: lines::neighbours(model), fillers: FillersSeen::of(model), space: Space::of(model) }
}
