//! What opens opposite a run? Drawers and doors of an island, or of a run along another wall.

use super::HingeSide;
use crate::length::Length;

/// A drawer or door of an obstacle, in the face that looks at the wall which that is measured along.
#[derive(Clone, Debug, PartialEq)]
pub struct OppositeFront {
    /// What the builder calls it.
    pub name: String,
    /// Distance of its near edge from the obstacle's near end, along the wall.
    pub from: Length,
    /// Its width along the wall.
    pub width: Length,
    /// Height of its lower edge above the floor.
    pub above: Length,
    /// Its height.
    pub height: Length,
    /// Its thickness: its back lies on the obstacle's face.
    pub thickness: Length,
    /// How far its pull stands out before its own face; 0 for none.
    pub pull: Length,
    /// How it opens.
    pub opens: OppositeOpening,
}

/// How a front opposite a run opens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OppositeOpening {
    /// It draws out by so much.
    Draws(Length),
    /// It turns about an upright edge of its outer face.
    Turns {
        /// Which edge: toward the corner, or away from it.
        hinge: HingeSide,
        /// How far it opens, in degrees from shut.
        opens_to_deg: f64,
    },
}
