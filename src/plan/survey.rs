//! What did the builder measure of the room, and how are the units to be fixed in it?
//!
//! A [`Survey`] holds readings as they are taken with a tape, a straightedge, a square and a level. Every wall has a
//! *measuring line*: a string or a straightedge in front of it. The room angle is the angle between the two measuring
//! lines; where nothing was read the walls themselves are these lines. `along` is measured from the corner along the
//! measuring line, heights from the finished floor.
//!
//! A reading's `gap` is the distance from the measuring line to the wall, square to the line: a larger gap is a wall
//! that lies further back. Only differences of gaps matter; how far the line stood off is the builder's choice.

use super::{Side, defaults};
use crate::length::{Length, Unit};

/// What was measured of the room beside the lengths in [`super::Room`]. Empty where the plan says nothing.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Survey {
    /// The wall behind the left run.
    pub left: WallSurvey,
    /// The wall behind the right run.
    pub right: WallSurvey,
    /// How the room angle was found, where it was not measured as an angle.
    pub corner: Option<CornerMeasure>,
    /// Levels of the floor.
    pub floor: Vec<FloorLevel>,
    /// Thickness of the flooring still to be laid; heights in the plan are from its top.
    pub flooring: Length,
    /// The narrowest way in: width and height of a door or a turn of the stairs.
    pub way_in: Option<WayIn>,
}

impl Survey {
    /// A survey with nothing measured, in plans of `unit`.
    #[must_use]
    pub fn usual(unit: Unit) -> Self {
        Self { left: WallSurvey::usual(unit), right: WallSurvey::usual(unit), ..Self::default() }
    }

    /// The wall behind `side`'s run.
    #[must_use]
    pub fn wall(&self, side: Side) -> &WallSurvey {
        match side {
            Side::Left => &self.left,
            Side::Right => &self.right,
        }
    }
}

/// What was measured of one wall.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct WallSurvey {
    /// Gaps from the measuring line, in the order of the file.
    pub readings: Vec<Reading>,
    /// How the wall goes between readings.
    pub between: Between,
    /// How far the wall leans, at places along it.
    pub plumb: Vec<Plumb>,
    /// Its length at the floor, at mid height and at the countertop, where measured at all three.
    pub lengths: Option<[Length; 3]>,
    /// Where its studs are.
    pub studs: Studs,
    /// What it is made of.
    pub made_of: WallMade,
    /// Outlets, pipes, registers, casings, sills: what is in or on it.
    pub fixtures: Vec<Fixture>,
}

impl WallSurvey {
    /// A wall of which nothing was measured, in plans of `unit`.
    #[must_use]
    pub fn usual(unit: Unit) -> Self {
        Self { made_of: WallMade::usual(unit), ..Self::default() }
    }
}

/// One gap from the measuring line to the wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// From the corner along the line.
    pub along: Length,
    /// Above the finished floor.
    pub height: Length,
    /// From the line to the wall, square to the line.
    pub gap: Length,
}

/// How a wall goes between readings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Between {
    /// Straight from one to the next.
    #[default]
    Straight,
    /// In a smooth curve through all of them (a natural cubic spline).
    Curved,
}

/// How far a wall leans, by a level held upright against it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plumb {
    /// From the corner along the measuring line.
    pub along: Length,
    /// Height over which it was measured, from the floor up.
    pub over: Length,
    /// How far the wall at that height lies further back than at the floor; negative where it leans into the room.
    pub back_by: Length,
}

/// Where studs are.
#[derive(Clone, Debug, PartialEq, Default)]
pub enum Studs {
    /// Not found yet, or none (masonry).
    #[default]
    Unknown,
    /// The middle of one, and the spacing of the rest.
    Spaced {
        /// Middle of one stud, from the corner.
        one_at: Length,
        /// From middle to middle.
        spacing: Length,
    },
    /// The middles of all, from the corner.
    At(Vec<Length>),
}

/// What a wall is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WallMade {
    /// Studs behind board or plaster.
    Framed {
        /// Thickness of the board or plaster.
        board: Length,
        /// Width of a stud's face.
        stud: Length,
    },
    /// Brick, block, concrete or stone.
    Masonry,
}

impl WallMade {
    /// What is taken in plans of `unit` that do not say: board on studs, of the usual sizes.
    #[must_use]
    pub fn usual(unit: Unit) -> Self {
        Self::Framed { board: defaults::WALL_BOARD.of(unit), stud: defaults::STUD.of(unit) }
    }
}

impl Default for WallMade {
    /// 1/2 in board on studs 1-1/2 in wide (PS 20). Common practice, no source.
    fn default() -> Self {
        Self::usual(Unit::Millimetre)
    }
}

/// Something in or on a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Fixture {
    /// What it is.
    pub kind: FixtureKind,
    /// What the builder calls it.
    pub name: String,
    /// Its centre, from the corner.
    pub along: Length,
    /// Its centre, above the finished floor.
    pub above: Length,
    /// Its size along the wall.
    pub width: Length,
    /// Its size upwards.
    pub height: Length,
    /// How far it stands out from the wall.
    pub out: Length,
}

/// What a fixture is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FixtureKind {
    /// An outlet or switch.
    Outlet,
    /// A junction box.
    JunctionBox,
    /// A water or waste pipe.
    Pipe,
    /// A gas pipe or cock.
    Gas,
    /// A valve that someone must reach.
    Valve,
    /// A register or grille for air.
    Register,
    /// A casing of a door or window.
    Casing,
    /// A window sill.
    Sill,
}

impl FixtureKind {
    /// Its name in plain words.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Outlet => "outlet",
            Self::JunctionBox => "junction box",
            Self::Pipe => "pipe",
            Self::Gas => "gas pipe",
            Self::Valve => "valve",
            Self::Register => "register",
            Self::Casing => "casing",
            Self::Sill => "sill",
        }
    }
}

/// How the room angle was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CornerMeasure {
    /// A mark on each line, and the distance between the marks (3-4-5): law of cosines.
    Triangle {
        /// From the corner to the mark on the left line.
        left: Length,
        /// From the corner to the mark on the right line.
        right: Length,
        /// From mark to mark.
        across: Length,
    },
    /// All four sides of the room and both diagonals.
    Diagonals {
        /// The left wall, from the corner.
        left: Length,
        /// The right wall, from the corner.
        right: Length,
        /// The wall opposite the left one.
        opposite_left: Length,
        /// The wall opposite the right one.
        opposite_right: Length,
        /// From the left wall's far end to the right wall's far end.
        across: Length,
        /// From the corner to the corner opposite.
        through: Length,
    },
}

/// The floor's level at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FloorLevel {
    /// The wall it is measured along.
    pub wall: Side,
    /// From the corner along the wall.
    pub along: Length,
    /// From the wall into the room.
    pub out: Length,
    /// Height of the finished floor there above any level line of the builder's choice; only differences matter.
    pub level: Length,
}

/// The narrowest way in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WayIn {
    /// Clear width.
    pub width: Length,
    /// Clear height.
    pub height: Length,
    /// Clear length of the passage behind it, where a piece must turn; `None` where it may come straight in.
    pub turn: Option<Length>,
}

/// How the units are fixed in the room.
#[derive(Clone, Debug, PartialEq)]
pub struct Fixing {
    /// How the back line of the runs lies to the measuring lines.
    pub line: BackLine,
    /// Least length of screw in the stud.
    pub bite: Length,
    /// Lengths of screws at hand, in the order of the file; empty where any can be had.
    pub screws: Vec<Length>,
    /// Further places where a shim is asked for, along each run's wall from the corner.
    pub shim_also: Vec<(Side, Length)>,
    /// Steps in which shims are cut.
    pub shim_step: Length,
}

impl Fixing {
    /// What is usual in plans of `unit`.
    #[must_use]
    pub fn usual(unit: Unit) -> Self {
        Self {
            line: BackLine::default(),
            bite: defaults::SCREW_BITE.of(unit),
            screws: Vec::new(),
            shim_also: Vec::new(),
            shim_step: defaults::SHIM_STEP.of(unit),
        }
    }
}

/// How the back line of a run lies to the measuring line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum BackLine {
    /// Parallel to it, as close as the wall lets it.
    Parallel,
    /// Turned and moved so that the greatest gap is least.
    #[default]
    LeastGap,
}
