//! The same job in whole numbers: lengths with one kerf each, divided by what all of them share.

/// A stock length.
#[derive(Debug, Clone)]
pub(super) struct Kind {
    pub(super) length: i64,
    pub(super) cost: i64,
    /// How many there are; `None` for as many as wanted.
    pub(super) count: Option<usize>,
}

/// A length of piece.
#[derive(Debug, Clone)]
pub(super) struct Sort {
    pub(super) length: i64,
    pub(super) count: usize,
}

/// What is to be cut from what; sorts stand longest first.
#[derive(Debug, Clone)]
pub(super) struct Task {
    pub(super) kinds: Vec<Kind>,
    pub(super) sorts: Vec<Sort>,
}

/// One board: its kind and the sorts cut from it, longest first, one entry a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Load {
    pub(super) kind: usize,
    pub(super) sorts: Vec<usize>,
}

impl Task {
    pub(super) fn wanted(&self) -> Vec<usize> {
        self.sorts.iter().map(|sort| sort.count).collect()
    }

    pub(super) fn cost(&self, loads: &[Load]) -> i64 {
        loads.iter().map(|load| self.kinds[load.kind].cost).sum()
    }

    /// What is left of a board's length.
    pub(super) fn left(&self, load: &Load) -> i64 {
        self.kinds[load.kind].length - load.sorts.iter().map(|&sort| self.sorts[sort].length).sum::<i64>()
    }

    /// How many of each kind are left after `loads`; `usize::MAX` for as many as wanted.
    pub(super) fn stock_after(&self, loads: &[Load]) -> Vec<usize> {
        let mut stock: Vec<usize> = self.kinds.iter().map(|kind| kind.count.unwrap_or(usize::MAX)).collect();
        for load in loads {
            if stock[load.kind] != usize::MAX {
                stock[load.kind] = stock[load.kind].saturating_sub(1);
            }
        }
        stock
    }

    /// Every cost is a multiple of this.
    pub(super) fn cost_step(&self) -> i64 {
        self.kinds.iter().fold(0, |common, kind| super::super::size::common_divisor(common, kind.cost)).max(1)
    }
}
