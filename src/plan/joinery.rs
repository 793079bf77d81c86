//! How are the boards joined, trimmed and finished? What the plan's `joinery` section says.
//!
//! None of it changes what stands in the room, save where it says so (strips that are added, frames before open
//! shelves, a build-up under the countertop): joints move wood from one board to another.

use crate::length::Length;

/// How the boards of every unit are joined and finished.
#[derive(Clone, Debug, PartialEq)]
pub struct Joinery {
    /// The carcass's bottom into its sides.
    pub bottom: Joint,
    /// A full top into the sides. Stretchers and nailers are butted.
    pub top: Joint,
    /// Shelves into the sides.
    pub shelves: ShelfJoint,
    /// The back onto the carcass.
    pub back: BackJoint,
    /// How a face frame's stiles and rails hold together.
    pub frame: FrameJoint,
    /// Fill out the sides of face-frame units to the stiles' inner edges, so that slides have something to go on.
    pub blocking: bool,
    /// A drawer box's ends into its sides.
    pub box_corners: Joint,
    /// Depth of the grooves that hold a drawer box's bottom; 0 for a bottom that lies between the sides.
    pub box_groove: Length,
    /// How much smaller, in all, a box bottom is than its grooves.
    pub box_play: Length,
    /// From the lower edge of a box's sides up to its bottom.
    pub box_recess: Length,
    /// Whether edge strips are taken off the panels or added to them.
    pub strips: StripRule,
    /// Which edges get a strip.
    pub strip_edges: StripEdges,
    /// Which way the grain of fronts runs.
    pub front_grain: FrontGrain,
    /// What is left on a piece that is fitted on site, each edge that meets a wall, the floor or its mate.
    pub scribe: Length,
    /// What closes the corner in face-frame work.
    pub corner: CornerWork,
    /// The frame before a unit of open shelves that brings it flush with its neighbours' fronts.
    pub shelf_frame: Option<ShelfFrame>,
    /// Whether sides of open shelves are bored with rows of holes, 32 mm apart.
    pub hole_rows: bool,
    /// How many spare fronts are cut, of the largest size.
    pub spare_fronts: usize,
}

/// How a board's end meets the board it stands against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Joint {
    /// Flat against it.
    Butt,
    /// Let into it by this much. At the very end of the other board it makes a rabbet, elsewhere a dado.
    LetIn(Length),
}

impl Joint {
    /// How deep the board goes into the other.
    #[must_use]
    pub fn depth(self) -> Length {
        match self {
            Self::Butt => Length::ZERO,
            Self::LetIn(depth) => depth,
        }
    }
}

/// How shelves rest in the sides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ShelfJoint {
    /// Fixed.
    Fixed(Joint),
    /// Loose on four pins each, and shorter by this much in all.
    Pins(Length),
}

/// How the back is put on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BackJoint {
    /// Captured between the sides.
    Between,
    /// Captured in a rabbet along each side's back edge, this far into the side's thickness.
    Rabbet(Length),
    /// Applied over the sides' back edges, which are shorter by its thickness.
    Applied,
}

/// How a face frame's corners hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FrameJoint {
    /// Two pocket screws each.
    PocketScrews,
    /// Two dowels each.
    Dowels,
}

/// Whether the plan's depth includes the edge strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StripRule {
    /// The panel is narrower by the strip: depths include it.
    TakenOff,
    /// The strip comes on top: the front plane lies out by its thickness.
    Added,
}

/// Which raw edges get a strip, in frameless work; those of fronts in any.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StripEdges {
    /// The front edges of the sides.
    pub sides: bool,
    /// The front edge of the bottom.
    pub bottom: bool,
    /// The front edge of the top or the front stretcher.
    pub top: bool,
    /// The front edges of shelves.
    pub shelves: bool,
    /// All four edges of drawer fronts and doors.
    pub fronts: bool,
}

/// Which way the grain of drawer fronts and doors runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FrontGrain {
    /// Up, so that it goes on from one front to the next.
    Upright,
    /// Along the front.
    Level,
}

/// What closes the corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CornerWork {
    /// A filler face on a backing block, on each side.
    Faces,
    /// The first unit's stile is widened to the corner, in face-frame work.
    Stiles,
}

/// A frame before open shelves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShelfFrame {
    /// Width of its stiles.
    pub stile: Length,
    /// Height of its rails.
    pub rail: Length,
}
