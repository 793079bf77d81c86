//! Does it open? How far each drawer and door comes out, what it meets first, and the least fillers that let it pass.
//!
//! [`answer`] takes a [`Plan`] and gives an [`Answer`]: the fillers resolved, the model built with them, an opening for
//! every drawer and door, and every finding. Lengths in the answer are unrounded unless a field says otherwise.
//!
//! Each moving part is judged alone, everything else shut.

use crate::length::Length;
use crate::model::{Fillers, Model, MoverId, PartId, Vec3};
use crate::plan::{Filler, Side};

/// Everything the clearance check found out about a plan.
#[derive(Clone, Debug)]
pub struct Answer {
    /// The model, built with the resolved fillers.
    pub model: Model,
    /// The left side, then the right.
    pub sides: [SideAnswer; 2],
    /// One for each of the model's moving parts, in their order.
    pub openings: Vec<Opening>,
    /// What is wrong, worst first; empty when all is clear.
    pub findings: Vec<Finding>,
    /// What was taken for granted, one sentence each.
    pub assumes: Vec<String>,
}

impl Answer {
    /// Whether everything opens and fits.
    #[must_use]
    pub fn is_clear(&self) -> bool {
        self.findings.is_empty()
    }

    /// The answer for `side`.
    #[must_use]
    pub fn side(&self, side: Side) -> &SideAnswer {
        match side {
            Side::Left => &self.sides[0],
            Side::Right => &self.sides[1],
        }
    }

    /// The widths the model was built with.
    #[must_use]
    pub fn fillers(&self) -> Fillers {
        self.model.fillers
    }
}

/// What one side's filler is and could be, the other side being as it is.
#[derive(Clone, Debug)]
pub struct SideAnswer {
    /// Which side.
    pub side: Side,
    /// What the plan asked for.
    pub asked: Filler,
    /// The width in the model.
    pub present: Length,
    /// The least width that passes, unrounded; `None` where none does.
    pub least: Option<Length>,
    /// The least whole number of shop steps that passes; `None` where none does.
    pub least_on_step: Option<Length>,
    /// Every width that passes, in order; a plain "this or more" is one range without an end.
    pub good: Vec<GoodRange>,
    /// What decides the least width; `None` where no filler is needed at all.
    pub decided_by: Option<Contact>,
    /// How far a pull on this run may stand out before the present fillers are too narrow for it; `None` where no
    /// pull of this run is in reach.
    pub largest_projection: Option<Length>,
    /// What the run leaves of its wall, negative where it is too long.
    pub left_over: Length,
}

impl SideAnswer {
    /// Present width less the least: negative where it is too narrow.
    #[must_use]
    pub fn spare(&self) -> Option<Length> {
        self.least.map(|least| self.present - least)
    }
}

/// Filler widths that pass: from one up to another, both included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GoodRange {
    /// The narrowest.
    pub from: Length,
    /// The widest; `None` where there is no limit.
    pub to: Option<Length>,
}

/// How two parts come closest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// The drawer or door that moves.
    pub mover: MoverId,
    /// Which of its parts.
    pub part: PartId,
    /// What it meets.
    pub other: PartId,
    /// How far it is open there: mm or radians.
    pub out: f64,
    /// How far the other, shut, stands ajar there, mm.
    pub other_out: f64,
    /// The space between them; 0 where they touch or overlap.
    pub gap: Length,
    /// The closest points, on `part` and on `other`, in the room frame, mm.
    pub points: [Vec3; 2],
}

/// How one drawer or door opens.
#[derive(Clone, Copy, Debug)]
pub struct Opening {
    /// Which.
    pub mover: MoverId,
    /// Its whole travel: mm or radians.
    pub full: f64,
    /// How far it goes before it touches anything.
    pub to_touch: f64,
    /// How far it goes before it comes nearer to anything than is wanted.
    pub to_wanted: f64,
    /// What it touches first, where it cannot open fully.
    pub touches_first: Option<Contact>,
    /// Where it comes closest to anything that it must keep clear of, over its whole travel.
    pub least_gap: Option<Contact>,
}

impl Opening {
    /// Whether it opens fully with the clearance wanted.
    #[must_use]
    pub fn is_clear(&self) -> bool {
        self.to_wanted >= self.full
    }
}

/// One thing that is wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// What kind.
    pub kind: FindingKind,
    /// The first part it is about.
    pub part: PartId,
    /// The other part.
    pub other: PartId,
    /// The drawer or door that moves, where one does.
    pub mover: Option<MoverId>,
    /// How far it is open where the two come closest: mm or radians.
    pub out: f64,
    /// The space between them there.
    pub gap: Length,
    /// The space that must be there; 0 where they merely must not overlap.
    pub wanted: Length,
    /// The closest points, on `part` and on `other`.
    pub points: [Vec3; 2],
}

/// What kind of thing is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FindingKind {
    /// A moving part hits another.
    Hits,
    /// A moving part comes nearer than is wanted.
    TooNear,
    /// Two fixed parts are in the same place.
    Overlaps,
    /// A run is longer than its wall.
    RunTooLong,
}
