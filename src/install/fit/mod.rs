//! Will it go in? Pieces that go to their place among others: straight, turned, or not as they are.
//!
//! Takes a [`crate::plan::Plan`] and its [`crate::model::Model`], gives a [`TurnIn`] for each kick cover, filler face,
//! loose shelf and drawer box, and a [`CarriedIn`] for each unit where the plan tells the way in. Each piece is asked about in the sections it can move in, with
//! what stands there at that moment (`pieces`); the motion is rigid and planar, touching is allowed (`section`).
//!
//! An answer is on the safe side: "goes in" is a way that was checked between its poses too, to 0.0004 mm of overlap; "does not"
//! is told with a play that is proved too little and one that is known to do. What it does not do: motions out of the plane of
//! a section, pieces that bend.

mod cells;
mod flat;
mod pieces;
mod search;
mod section;
mod way_in;

pub use flat::{Flat, Outline, TOUCH};
pub use section::{Exit, Passage, Place, Play, Section};
pub use way_in::{Carried, CarriedIn, carried, carried_in, goes_into, goes_round};

pub use pieces::turning_in;

use crate::model::{PartId, Vec3};

/// What kind of piece goes in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Piece {
    /// A cover before the toe kick.
    KickCover,
    /// A face of a corner filler.
    FillerFace,
    /// A loose shelf.
    Shelf,
    /// A drawer box.
    DrawerBox,
}

/// The plane a piece moves in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// Seen from above.
    Above,
    /// Seen along the run.
    End,
    /// Seen from the room.
    Room,
}

/// What must not be on yet, or must be off again, for a piece to go in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Before {
    /// Nothing: it goes in last.
    Nothing,
    /// The countertop: it is let down from above.
    Countertop,
    /// The frame that stands before open shelves.
    ShelfFrame,
    /// The pulls.
    Pulls,
    /// The fronts with their pulls.
    Fronts,
}

/// How a piece goes in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Entry {
    /// Straight in.
    Straight,
    /// In several moves, none a turn.
    Moves,
    /// Turned.
    Turned,
    /// Not as it is: no way was found. A piece shorter by this goes in, mm.
    TooTight {
        /// By how much, up to the play's bounds more than needed.
        short: f64,
    },
    /// Not even at half its length, or it overlaps another part where it belongs.
    NoWay,
}

/// One piece and how it goes in.
#[derive(Clone, Debug, PartialEq)]
pub struct TurnIn {
    /// What kind of piece.
    pub piece: Piece,
    /// What a builder calls it.
    pub name: String,
    /// Its parts: they move as one.
    pub parts: Vec<PartId>,
    /// How.
    pub entry: Entry,
    /// What must be off for that.
    pub before: Before,
    /// The plane it moves in.
    pub seen: Seen,
    /// What stands there at that moment.
    pub among: Vec<PartId>,
    /// What is in its way where it does not go straight in.
    pub in_the_way: Option<PartId>,
    /// How much room it needs to be turned, where it must be.
    pub play: Option<Play>,
    /// The way in; of a piece that is too tight, the way of one that is shorter by as much.
    pub way: Option<Way>,
}

/// How parts move into place.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// From the open to the place, the last with no turn and no shift. From one to the next the shift goes straight and the
    /// angle evenly: [`Way::at`].
    pub poses: Vec<Pose>,
}

/// Where a piece is, from its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// A point of the line it is turned about.
    pub about: Vec3,
    /// That line's unit direction; turning is right-handed about it. All poses of a way have the same line.
    pub axis: Vec3,
    /// By how much, radians.
    pub angle: f64,
    /// How far it is moved after the turn, mm.
    pub shift: Vec3,
}

impl Pose {
    /// Where a point of the piece in its place is in this pose.
    #[must_use]
    pub fn carry(&self, point: Vec3) -> Vec3 {
        // Rodrigues' rotation formula.
        let (sin, cos) = self.angle.sin_cos();
        let r = point - self.about;
        let turned = r * cos + self.axis.cross(r) * sin + self.axis * (self.axis.dot(r) * (1.0 - cos));
        self.about + turned + self.shift
    }

    /// Between this pose and the next, `part` of the way.
    #[must_use]
    pub fn toward(&self, next: &Self, part: f64) -> Self {
        Self {
            angle: self.angle + (next.angle - self.angle) * part,
            shift: self.shift + (next.shift - self.shift) * part,
            ..*self
        }
    }
}

impl Way {
    /// The pose `part` of the whole way in, 0 in the open and 1 in place; each step takes as long as the next.
    #[must_use]
    pub fn at(&self, part: f64) -> Option<Pose> {
        let steps = self.poses.len().checked_sub(1)?;
        let along = part.clamp(0.0, 1.0) * steps as f64;
        let step = (0..steps).rev().find(|&k| k as f64 <= along).unwrap_or(0);
        let (from, to) = (self.poses.get(step)?, self.poses.get(step + 1).or(self.poses.get(step))?);
        Some(from.toward(to, along - step as f64))
    }
}
