//! Which edges are cut to the wall and the floor, and how do they run? Scribes and notches as full-size outlines.
//!
//! Takes the room as measured around a model ([`Measured`]), gives an [`Outline`] for each part that is fitted on site:
//! end panels, kick covers, stiles beside a wall, countertops. An outline lies in the part's own plane, in mm, its
//! origin in a corner of the blank (the part as cut in the shop, [`Part::as_cut`]), x to the right and y up as seen from
//! the side that [`Outline::seen_from`] names. It is what is left of the blank once all that would stand in the wall or the
//! floor is gone: where the blank does not reach, its own edge stays and the gap is told ([`Fit::lacks`]). What ends well
//! before an end wall is not cut to it.
//!
//! A scribed edge is straight between points, and never further than [`CHORD_MM`] off. It is drawn on the face that is
//! seen; a bevel says what the face behind must give way. A countertop's back edge is drawn where the wall stands out most
//! over the top's thickness, so that it goes in. How much the wall varies in between is not known to anyone who
//! measured at points: every edge is tried in place before it is sawn.

mod chain;
mod piece;
mod top;
mod upright;

use super::measured::Measured;
use crate::length::SNAP_MM;
use crate::model::{Edge, Part, PartId, Role, Vec3};
use crate::plan::Side;
pub use chain::{CHORD_MM, Point};

/// All outlines of an installation.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Outlines {
    /// One a part, in the model's order.
    pub pieces: Vec<Outline>,
    /// Parts that no outline could be drawn for: a wall stands further into the room than they do.
    pub blocked: Vec<PartId>,
    /// Whether anything was read of each wall, left first, and of the floor.
    pub measured: [bool; 3],
}

/// A part as it is cut on site.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// Which part.
    pub part: PartId,
    /// Its name.
    pub name: String,
    /// From where the outline is seen.
    pub seen_from: View,
    /// The part as cut in the shop, along x and y.
    pub blank: [f64; 2],
    /// Its thickness.
    pub thickness: f64,
    /// Its edges, counter-clockwise; each begins where the one before it ends.
    pub edges: Vec<OutlineEdge>,
}

impl Outline {
    /// The closed outline, counter-clockwise, its first point not said again.
    #[must_use]
    pub fn points(&self) -> Vec<Point> {
        let of_edge = |edge: &OutlineEdge| edge.points.split_last().map_or(Vec::new(), |(_, points)| points.to_vec());
        self.edges.iter().flat_map(of_edge).collect()
    }

    /// Its area in mm².
    #[must_use]
    pub fn area(&self) -> f64 {
        chain::twice_area(&self.points()) / 2.0
    }

    /// Whether the blank reaches everywhere.
    #[must_use]
    pub fn reaches(&self) -> bool {
        self.edges.iter().filter_map(|edge| edge.fit.as_ref()).all(|fit| fit.lacks() <= CHORD_MM)
    }

    /// The edge of that name.
    #[must_use]
    pub fn edge(&self, name: Edge) -> Option<&OutlineEdge> {
        self.edges.iter().find(|edge| edge.edge == name)
    }
}

/// From where an outline is seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum View {
    /// From the side away from the corner.
    FarSide,
    /// From the room.
    Room,
    /// From above.
    Above,
}

impl View {
    /// In plain words.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::FarSide => "from its far side",
            Self::Room => "from the room",
            Self::Above => "from above",
        }
    }
}

/// One edge of an outline.
#[derive(Clone, Debug, PartialEq)]
pub struct OutlineEdge {
    /// Which.
    pub edge: Edge,
    /// What it is cut to.
    pub cut_to: CutTo,
    /// From its first corner to its last.
    pub points: Vec<Point>,
    /// From square to the face, in degrees; the face that is not seen is the shorter one on an edge cut to a wall.
    pub bevel_deg: f64,
    /// How it comes out of the blank, where it is cut to what was measured.
    pub fit: Option<Fit>,
}

/// What an edge is cut to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutTo {
    /// Nothing: it stays as it came from the shop.
    Straight,
    /// The other piece of the countertop: a butt seam, this piece against the other's front edge.
    Seam,
    /// The wall that this side's run stands along.
    Wall(Side),
    /// The wall at the far end of this side's run.
    EndWall(Side),
    /// The floor.
    Floor,
}

impl CutTo {
    /// In plain words.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Straight => "straight, as it came from the shop",
            Self::Seam => "the seam",
            Self::Wall(Side::Left) => "the left wall",
            Self::Wall(Side::Right) => "the right wall",
            Self::EndWall(Side::Left) => "the left run's end wall",
            Self::EndWall(Side::Right) => "the right run's end wall",
            Self::Floor => "the floor",
        }
    }
}

/// How a measured edge comes out of the blank.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// What the shop left on at this edge.
    pub left_on: f64,
    /// What is sawn off, least and most, less the notch; negative: what the blank lacks there.
    pub cut_off: [f64; 2],
    /// The end of the edge from which [`Fit::offsets`] are measured.
    pub from: Edge,
    /// From the blank's corner at that end along the blank's edge, and what comes off there (negative: lacks), at every
    /// reading and at both ends.
    pub offsets: Vec<[f64; 2]>,
    /// The notch over a baseboard: into the edge, and up from its lower end.
    pub notch: Option<[f64; 2]>,
}

impl Fit {
    /// How far the blank falls short where it falls short most; 0 where it reaches everywhere.
    #[must_use]
    pub fn lacks(&self) -> f64 {
        (-self.cut_off[0]).max(0.0)
    }

    /// What ought to be left on at this edge.
    #[must_use]
    pub fn needs_left_on(&self) -> f64 {
        self.left_on + self.lacks()
    }
}

impl Outlines {
    /// The outlines of every part that is fitted to the room.
    #[must_use]
    pub fn of(room: &Measured<'_>) -> Self {
        let mut found = Self::default();
        for part in &room.model().parts {
            let Some(side) = part.run else { continue };
            let piece = match part.role {
                Role::EndPanel => Some(upright::end_panel(room, part, side)),
                Role::KickCover | Role::FrameStile | Role::FillerFace => upright::board(room, part, side),
                Role::Countertop => top::countertop(room, part, side),
                _ => None,
            };
            match piece.map(piece::Piece::outline) {
                Some(Some(outline)) => found.pieces.push(outline),
                Some(None) => found.blocked.push(part.id),
                None => {}
            }
        }
        let survey = &room.plan().room.survey;
        let read = |side: Side| !survey.wall(side).readings.is_empty() || !survey.wall(side).plumb.is_empty();
        found.measured = [read(Side::Left), read(Side::Right), !survey.floor.is_empty()];
        found
    }
}

/// What ends further than this before an end wall is not meant to meet it, mm: no one scribes so much. Our own choice.
const MEANT_TO_MEET: f64 = 50.0;

/// Whether a part that ends `s` along its run, `n` out and `z` up, is cut to the wall at the run's end.
fn meets_end_wall(room: &Measured<'_>, side: Side, s: f64, n: f64, z: f64) -> bool {
    room.end_wall(side, n, z).is_some_and(|wall| wall - s <= MEANT_TO_MEET)
}

/// What the shop left on `part` along `axis`.
fn left_on(part: &Part, axis: Vec3) -> f64 {
    let [low, high] = part.extent(axis);
    let same = part.size.iter().zip(part.work.left_on).find(|(size, _)| (**size - (high - low)).abs() <= SNAP_MM);
    same.map_or(0.0, |(_, left_on)| left_on)
}
