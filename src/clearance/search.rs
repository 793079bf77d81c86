//! Which pair of fillers is the least? Regions of pairs of widths, the least sum first.
//!
//! In both fillers together each pair's bad set is convex, since distance is convex in (left, right). So a region of
//! pairs of widths is bad throughout when one pair is bad at its corners: that is how the least pair is proved without
//! trying every one.

use super::filler::{Scope, Solver};
use super::tolerance::WIDEST_FILLER;

/// A pair that is bad, at one angle where it swings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Witness {
    /// Its index in the solver.
    pub(super) pair: usize,
    /// The angle it is held at.
    pub(super) angle: Option<f64>,
}

/// A count of steps: whole, never NaN, and so in order.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Steps(f64);

impl Eq for Steps {}
impl PartialOrd for Steps {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Steps {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}

/// Least weight, then most equal, then smaller left.
fn order(steps: [f64; 2], weights: [f64; 2]) -> (Steps, Steps, Steps) {
    let weight = steps[0] * weights[0] + steps[1] * weights[1];
    (Steps(weight), Steps((steps[0] - steps[1]).abs()), Steps(steps[0]))
}

/// Looks for the least good pair of steps, regions with the least weight first.
pub(super) struct Search<'a, 's, 'm> {
    solver: &'a Solver<'s, 'm>,
    step: f64,
    scope: Scope,
    /// What a step of each filler weighs: more than nothing.
    weights: [f64; 2],
    /// What has been found bad, the last that helped first.
    witnesses: Vec<Witness>,
}

/// A rectangle of whole steps.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Region {
    low: [f64; 2],
    high: [f64; 2],
}

impl Region {
    fn is_single(&self) -> bool {
        self.low[0] >= self.high[0] && self.low[1] >= self.high[1]
    }

    fn corners(&self) -> [[f64; 2]; 4] {
        [self.low, self.high, [self.low[0], self.high[1]], [self.high[0], self.low[1]]]
    }

    /// Its two halves across the longer way.
    fn halves(self) -> [Self; 2] {
        let k = usize::from(self.high[1] - self.low[1] > self.high[0] - self.low[0]);
        let middle = f64::midpoint(self.low[k], self.high[k]).floor();
        let (mut near, mut far) = (self, self);
        near.high[k] = middle;
        far.low[k] = middle + 1.0;
        [near, far]
    }
}

/// A region in the queue: the one whose best pair would come first is taken first.
struct Queued {
    region: Region,
    /// The order of the best pair that the region could hold: no pair of it weighs less than its low corner, and that
    /// corner is the only one of that weight.
    key: (Steps, Steps, Steps),
}

impl Queued {
    fn new(region: Region, weights: [f64; 2]) -> Self {
        Self { region, key: order(region.low, weights) }
    }
}

impl PartialEq for Queued {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}
impl Eq for Queued {}
impl PartialOrd for Queued {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Queued {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        // The heap gives the greatest first.
        other.key.cmp(&self.key)
    }
}

impl<'a, 's, 'm> Search<'a, 's, 'm> {
    /// A search over whole `step`s for what clears every pair of `scope`.
    pub(super) fn new(solver: &'a Solver<'s, 'm>, step: f64, scope: Scope, weights: [f64; 2]) -> Self {
        Self { solver, step, scope, weights, witnesses: Vec::new() }
    }

    /// The least good pair; `start` is a good one, where one is known: then only what could come before it is looked
    /// through, split where its own two sides' bounds lie.
    pub(super) fn run(mut self, start: Option<[f64; 2]>) -> Option<[f64; 2]> {
        let most = (WIDEST_FILLER / self.step).floor();
        let mut queue = std::collections::BinaryHeap::new();
        let weights = self.weights;
        let queued = |low: [f64; 2], high: [f64; 2]| Queued::new(Region { low, high }, weights);
        match start {
            None => queue.push(queued([0.0; 2], [most; 2])),
            Some([left, right]) => {
                // Wider than this on one side weighs more than the start, whatever the other is.
                let weight = left * weights[0] + right * weights[1];
                let [widest_left, widest_right] = weights.map(|w| (weight / w).ceil().min(most));
                if left > 0.0 {
                    queue.push(queued([0.0; 2], [left - 1.0, widest_right]));
                }
                if right > 0.0 {
                    queue.push(queued([left, 0.0], [widest_left, right - 1.0]));
                }
            }
        }
        while let Some(Queued { region, key }) = queue.pop() {
            if start.is_some_and(|start| key >= order(start, weights)) {
                return start;
            }
            // Taken in order of their low corners, the first single pair that is good is the least: a region further
            // back holds only pairs that come later.
            if region.is_single() {
                match self.solver.bad_pair(self.widths(region.low), self.scope, true) {
                    None => return Some(region.low),
                    Some(_) => continue,
                }
            }
            if !self.is_bad(&region) {
                queue.extend(region.halves().map(|half| Queued::new(half, weights)));
            }
        }
        start
    }

    fn widths(&self, steps: [f64; 2]) -> [f64; 2] {
        steps.map(|s| s * self.step)
    }

    /// Whether one pair is bad at every corner of `region`, and so everywhere in it.
    fn is_bad(&mut self, region: &Region) -> bool {
        let corners = region.corners();
        let holds = |witness: Witness| corners.iter().all(|&steps| self.solver.holds(witness, self.widths(steps)));
        if let Some(k) = self.witnesses.iter().position(|&witness| holds(witness)) {
            self.witnesses[..=k].rotate_right(1);
            return true;
        }
        // What is bad at one corner may be bad at all. A corner where nothing is bad settles it.
        for corner in corners {
            let Some(witness) = self.solver.bad_pair(self.widths(corner), self.scope, true) else { return false };
            if !self.witnesses.contains(&witness) {
                self.witnesses.insert(0, witness);
                if corners.iter().all(|&steps| self.solver.holds(witness, self.widths(steps))) {
                    return true;
                }
            }
        }
        false
    }
}
