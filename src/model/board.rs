//! What is left of a board when joints are cut into it? Boxes square to a run, less other boxes.
//!
//! Coordinates are the run's: along it from the corner, out from its back plane, up from the floor; mm.

use super::Convex;
use super::build::Builder;
use crate::plan::Side;

/// Sharing less than this, in mm, is sharing nothing.
const TOUCHING: f64 = 1e-9;

/// A box square to its run: from and to along it, out from the back plane, and up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Board(pub(super) [[f64; 2]; 3]);

/// Which of a board's three directions is its thickness: that one is cut first, so that the face away from the joint stays
/// whole.
#[derive(Clone, Copy, Debug)]
pub(super) enum Thickness {
    Along,
    Out,
}

impl Board {
    pub(super) fn new(s: [f64; 2], n: [f64; 2], z: [f64; 2]) -> Self {
        Self([s, n, z])
    }

    /// Adds what of it lies outside `cut` to `kept`, as boxes that share nothing.
    fn less(self, cut: &Self, order: [usize; 3], kept: &mut Vec<Self>) {
        let shares = |k: usize| {
            let ([a, b], [c, d]) = (self.0[k], cut.0[k]);
            b.min(d) - a.max(c) > TOUCHING
        };
        if !(0..3).all(shares) {
            kept.push(self);
            return;
        }
        let mut rest = self;
        for k in order {
            let ([low, high], [from, to]) = (rest.0[k], cut.0[k]);
            for piece in [[low, from], [to, high]] {
                if piece[1] - piece[0] > TOUCHING {
                    let mut outside = rest;
                    outside.0[k] = piece;
                    kept.push(outside);
                }
            }
            rest.0[k] = [low.max(from), high.min(to)];
        }
    }
}

/// `boards` less `cuts`.
pub(super) fn carve(boards: Vec<Board>, cuts: &[Board], thickness: Thickness) -> Vec<Board> {
    let order = match thickness {
        Thickness::Along => [0, 2, 1],
        Thickness::Out => [1, 2, 0],
    };
    let (mut boards, mut kept) = (boards, Vec::new());
    for cut in cuts {
        boards.drain(..).for_each(|board| board.less(cut, order, &mut kept));
        std::mem::swap(&mut boards, &mut kept);
    }
    boards
}

impl Builder<'_> {
    /// `boards` less the joints `cuts`, and whole for a model with every joint filled: the pieces of a part.
    pub(super) fn joined(&self, side: Side, boards: &[Board], cuts: &[Board], thickness: Thickness) -> Vec<Convex> {
        if self.joints {
            self.solids(side, &carve(boards.to_vec(), cuts, thickness))
        } else {
            self.solids(side, boards)
        }
    }

    /// The boards of `side`'s run as solids.
    pub(super) fn solids(&self, side: Side, boards: &[Board]) -> Vec<Convex> {
        boards.iter().map(|&Board([s, n, z])| self.block(side, s, n, z)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn volume(boards: &[Board]) -> f64 {
        boards.iter().map(|Board(ranges)| ranges.iter().map(|[a, b]| b - a).product::<f64>()).sum()
    }

    // 18 × 580 × 770 with a dado 9 × 18 × 580 and a rabbet 9 × 6 × 770 that cross.
    #[test]
    fn what_is_cut_out_is_gone_once() {
        let side = Board::new([0.0, 18.0], [0.0, 580.0], [100.0, 870.0]);
        let dado = Board::new([9.0, 18.0], [0.0, 580.0], [300.0, 318.0]);
        let rabbet = Board::new([9.0, 18.0], [0.0, 6.0], [100.0, 870.0]);
        let left = carve(vec![side], &[dado, rabbet], Thickness::Along);
        let removed = 9.0 * 18.0 * 580.0 + 9.0 * 6.0 * 770.0 - 9.0 * 18.0 * 6.0;
        assert!((volume(&left) - (18.0 * 580.0 * 770.0 - removed)).abs() < 1e-6);
        // The outer face is one piece.
        assert!(left.contains(&Board::new([0.0, 9.0], [0.0, 580.0], [100.0, 870.0])));
    }

    #[test]
    fn a_cut_elsewhere_changes_nothing() {
        let board = Board::new([0.0, 1.0], [0.0, 1.0], [0.0, 1.0]);
        assert_eq!(carve(vec![board], &[Board::new([1.0, 2.0], [0.0, 1.0], [0.0, 1.0])], Thickness::Out), [board]);
    }
}
