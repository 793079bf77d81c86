//! The same job in whole numbers: sizes with one kerf each, divided by what all of them share.

use super::super::size::common_divisor;
use super::tree::{NONE, Node, Sheet, What};

/// A size of stock sheet.
#[derive(Debug, Clone)]
pub(super) struct Kind {
    pub(super) length: i64,
    pub(super) width: i64,
    /// Both again in steps, not rounded down to what the pieces share.
    pub(super) whole: (i64, i64),
    pub(super) cost: i64,
    /// How many there are; `None` for as many as wanted.
    pub(super) count: Option<usize>,
}

impl Kind {
    pub(super) fn area(&self) -> f64 {
        self.length as f64 * self.width as f64
    }
}

/// A size of piece.
#[derive(Debug, Clone)]
pub(super) struct Sort {
    pub(super) length: i64,
    pub(super) width: i64,
    pub(super) turns: bool,
    pub(super) count: usize,
}

impl Sort {
    pub(super) fn area(&self) -> i64 {
        self.length * self.width
    }
}

/// Which cuts may be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// Any edge-to-edge cuts.
    Free,
    /// Rips the whole length of the sheet, then crosscuts; with `trims`, a last rip to width.
    RipFirst { trims: bool },
}

impl Way {
    /// Whether a piece may be put above this node.
    pub(super) fn allows_above(self, node: &Node) -> bool {
        self == Self::Free || node.parent == NONE
    }

    /// Whether a piece of this width may be put beside this node.
    pub(super) fn allows_beside(self, sheet: &Sheet, node: &Node, width: i64) -> bool {
        match self {
            Self::Free => true,
            Self::RipFirst { trims } => {
                node.what != What::Above
                    && (node.parent == NONE || sheet.node(node.parent).what == What::Above)
                    && (trims || node.width == width)
            }
        }
    }
}

/// What is to be cut from what.
#[derive(Debug, Clone)]
pub(super) struct Task {
    pub(super) kinds: Vec<Kind>,
    pub(super) sorts: Vec<Sort>,
    pub(super) way: Way,
    /// Steps in one whole number, along and across.
    pub(super) scale: (i64, i64),
    /// The smallest size of any piece along the sheet's length, and across.
    pub(super) least_length: i64,
    pub(super) least_width: i64,
}

impl Task {
    /// Every cost is a multiple of this.
    pub(super) fn cost_step(&self) -> i64 {
        self.kinds.iter().fold(0, |common, kind| common_divisor(common, kind.cost)).max(1)
    }
}
