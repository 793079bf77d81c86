//! By which cuts does a sheet come apart? From a slicing tree to cuts, pieces and offcuts, in order.

use super::task::Way;
use super::tree::{NONE, Node, What};

/// A rectangle: how far along, how far across, length, width.
pub(super) type Area = (i64, i64, i64, i64);

/// One step of taking a sheet apart, in the order in which a split's two sides follow it: first side, then second.
#[derive(Debug, Clone, Copy)]
pub(super) enum Step {
    /// A cut through `area`, across it (a crosscut) or along it (a rip).
    Split { area: Area, across: bool },
    /// What is left is this piece to its size.
    Piece { area: Area, sort: u32, turned: bool },
    /// What is left is of no use to the job.
    Offcut { area: Area },
}

/// A tree, the cuts that may be made, and the size of its numbers.
pub(super) struct Taking<'n> {
    pub(super) nodes: &'n [Node],
    pub(super) way: Way,
    /// What sizes in the tree are multiplied by.
    pub(super) scale: (i64, i64),
}

impl Taking<'_> {
    fn needs(&self, index: u32) -> (i64, i64) {
        let node = &self.nodes[index as usize];
        (node.length * self.scale.0, node.width * self.scale.1)
    }

    /// Takes the node's area apart: what it does not need is cut off first, then it is split.
    ///
    /// Rip-first, nothing is cut off a sheet's end before its rips, and a strip is cut to length before its pieces are cut
    /// to width.
    pub(super) fn apart(&self, index: u32, area: Area, told: &mut dyn FnMut(Step)) {
        let Node { what, parent, first, second, .. } = self.nodes[index as usize];
        let (x, y, length, width) = area;
        let (own_length, own_width) = self.needs(index);
        let (over_length, over_width) = (length - own_length, width - own_width);
        let rips_next = over_width > 0
            && match self.way {
                Way::Free => over_length * width <= over_width * length,
                Way::RipFirst { .. } => parent == NONE || over_length == 0 && matches!(what, What::Piece { .. }),
            };
        let is_all_rips = self.way != Way::Free && what == What::Above;
        if rips_next {
            told(Step::Split { area, across: false });
            self.apart(index, (x, y, length, own_width), told);
            told(Step::Offcut { area: (x, y + own_width, length, over_width) });
        } else if over_length > 0 && !is_all_rips {
            told(Step::Split { area, across: true });
            self.apart(index, (x, y, own_length, width), told);
            told(Step::Offcut { area: (x + own_length, y, over_length, width) });
        } else if let What::Piece { sort, turned } = what {
            told(Step::Piece { area, sort, turned });
        } else if what == What::Beside {
            let at = self.needs(first).0;
            told(Step::Split { area, across: true });
            self.apart(first, (x, y, at, width), told);
            self.apart(second, (x + at, y, length - at, width), told);
        } else {
            let at = self.needs(first).1;
            told(Step::Split { area, across: false });
            self.apart(first, (x, y, length, at), told);
            self.apart(second, (x, y + at, length, width - at), told);
        }
    }
}
