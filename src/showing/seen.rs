//! Are the two fillers alike? Their faces as wide as one sees them from the room.
//!
//! A face that laps runs on behind the other, and faces that are flush with the fronts meet before the front planes do:
//! so the width seen is not the filler's. It is measured on the face's outer plane, from the other face's outer plane
//! to the first unit.

use crate::length::Length;
use crate::model::{Convex, Model, Part, Role};
use crate::plan::Side;

/// Widths that differ by no more than this look alike, in mm: less than one sees. Common practice, no source.
pub const ALIKE: f64 = 0.5;

/// Both filler faces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FillersSeen {
    /// The left face's width, seen from the room; nothing where there is no face.
    pub left: Length,
    /// The right face's.
    pub right: Length,
}

impl FillersSeen {
    /// Measures the faces of `model`.
    #[must_use]
    pub fn of(model: &Model) -> Self {
        Self { left: seen(model, Side::Left), right: seen(model, Side::Right) }
    }

    /// The width on `side`.
    #[must_use]
    pub fn of_side(self, side: Side) -> Length {
        match side {
            Side::Left => self.left,
            Side::Right => self.right,
        }
    }

    /// How much wider the left one is; negative where it is narrower.
    #[must_use]
    pub fn difference(self) -> Length {
        self.left - self.right
    }

    /// Whether one would say that they are the same width.
    #[must_use]
    pub fn alike(self) -> bool {
        self.difference().to_mm().abs() <= ALIKE
    }
}

/// The filler face of `side`, where there is one.
pub(super) fn face(model: &Model, side: Side) -> Option<&Part> {
    model.parts.iter().find(|part| part.role == Role::FillerFace && part.run == Some(side))
}

/// How far out from the back plane the face of `side` reaches and begins, or the front plane twice where there is none.
pub(super) fn planes(model: &Model, side: Side) -> [f64; 2] {
    let run = model.run(side);
    let Some(face) = face(model, side) else { return [run.depth; 2] };
    let out = || face.pieces.iter().flat_map(Convex::vertices).map(|v| v.dot(run.out));
    [out().fold(f64::INFINITY, f64::min), out().fold(f64::NEG_INFINITY, f64::max)]
}

fn seen(model: &Model, side: Side) -> Length {
    let (own, other) = (model.run(side), model.run(side.other()));
    let Some(face) = face(model, side) else { return Length::ZERO };
    let [_, outer] = planes(model, side);
    let [_, other_outer] = planes(model, side.other());
    // A point of the outer plane, `s` along the run, stands `s·(along·out') + outer·(out·out')` before the other back.
    let meets = (other_outer - outer * own.out.dot(other.out)) / own.along.dot(other.out);
    let on_outer = face.pieces.iter().flat_map(Convex::vertices).filter(|v| v.dot(own.out) > outer - 1e-6);
    let near = on_outer.map(|v| v.dot(own.along)).fold(f64::INFINITY, f64::min);
    Length::mm((own.starts_at - near.max(meets)).max(0.0))
}
