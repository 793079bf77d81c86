//! What is done to a board before it goes in, and why is it there? Joints, bevels, stripped edges, what is left on for
//! fitting, and the sum behind a finishing piece.
//!
//! Everything is measured on the part itself, in mm and degrees. The part's pieces already have the joints in them; this
//! says in a builder's terms what they are.

use serde::Serialize;

use super::Role;

/// What is done to one part.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Work {
    /// What is cut into it.
    pub joints: Vec<Cutting>,
    /// Ends and edges that are not sawn square.
    pub bevels: Vec<Bevel>,
    /// Edges that a strip lies on.
    pub stripped: Vec<Edge>,
    /// What is left on its length, width and thickness until it is fitted on site, mm.
    pub left_on: [f64; 3],
    /// The sum behind it.
    pub why: Option<Why>,
}

/// One dado, rabbet, groove or notch.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutting {
    /// What it is called.
    pub kind: CuttingKind,
    /// What goes into it.
    pub takes: Role,
    /// Into the board's face; of a notch, in from the edge.
    pub deep: f64,
    /// Across.
    pub wide: f64,
    /// From end to end; of a notch, through the thickness.
    pub long: f64,
    /// The edge that its place is measured from.
    pub from: Edge,
    /// From that edge to its nearer side.
    pub at: f64,
}

impl Cutting {
    /// What it takes out of the board, mm³.
    #[must_use]
    pub fn volume(&self) -> f64 {
        self.deep * self.wide * self.long
    }
}

/// What a cut into a board is called.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CuttingKind {
    /// Across the grain, open at no edge along it.
    Dado,
    /// Along an edge.
    Rabbet,
    /// Along the board, away from its edges.
    Groove,
    /// Out of an edge, through the thickness.
    Notch,
}

impl CuttingKind {
    /// In the trade's words.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Dado => "dado",
            Self::Rabbet => "rabbet",
            Self::Groove => "groove",
            Self::Notch => "notch",
        }
    }
}

/// An end or edge sawn at an angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bevel {
    /// Which.
    pub edge: Edge,
    /// From square, in degrees.
    pub angle_deg: f64,
}

/// An edge of a part as it stands in the room.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
#[expect(missing_docs, reason = "each variant is the plain word for the edge")]
pub enum Edge {
    Front,
    Back,
    Upper,
    Lower,
    Near,
    Far,
}

impl Edge {
    /// In plain words: near is toward the corner.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Back => "back",
            Self::Upper => "upper",
            Self::Lower => "lower",
            Self::Near => "corner-side",
            Self::Far => "far",
        }
    }
}

/// Why a piece is there and how its size comes about; lengths in mm. Common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Why {
    /// It covers the raw edge of another board.
    Strip {
        /// Which board's.
        of: Role,
    },
    /// It closes one side of the corner.
    Filler {
        /// The filler's width.
        filler: f64,
        /// How much longer it is at the corner than the filler is wide; negative where it is shorter.
        corner: f64,
        /// Whether it covers the other face's edge.
        laps: bool,
        /// Whether it is flush with the fronts, and not with the carcass.
        with_fronts: bool,
    },
    /// The first unit's stile, widened to the corner.
    CornerStile {
        /// A stile's own width.
        stile: f64,
        /// The filler's width.
        filler: f64,
        /// How much longer it is at the corner.
        corner: f64,
    },
    /// It carries a filler face, screwed to the first unit's side.
    Backing,
    /// It covers the toe kick from the corner on.
    KickCover {
        /// The units' widths together.
        units: f64,
        /// The filler's width.
        filler: f64,
        /// Setback ÷ tan(run angle ÷ 2).
        setback: f64,
        /// What it has for the lap or the mitre.
        lap: f64,
    },
    /// It covers a toe kick that does not reach the corner.
    KickStretch,
    /// The two kick covers are fixed to it.
    KickBlock,
    /// A stile of the frame before open shelves.
    ShelfStile {
        /// What the neighbours' fronts stand proud of the carcass: the frame's own depth.
        proud: f64,
        /// What it is wider by, to reach a wall over its baseboard.
        widened: f64,
    },
    /// A rail of the frame before open shelves.
    ShelfRail {
        /// What the neighbours' fronts stand proud of the carcass.
        proud: f64,
        /// What of its height covers the bottom; 0 for all others.
        shelf: f64,
        /// What of its height is rail.
        rail: f64,
    },
    /// It closes the end of a run.
    EndPanel,
    /// It lifts the countertop, so that a dropped edge does not hide the fronts.
    BuildUp {
        /// How far the edge drops below the countertop.
        drop: f64,
    },
    /// It brings a side out to the stile's inner edge, so that slides have something to go on.
    Blocking {
        /// How far it stands in from the side.
        out: f64,
    },
    /// It packs out the slides of pull-out shelves, so that they pass the open door.
    Packing {
        /// How far it stands in from the side.
        out: f64,
    },
}
