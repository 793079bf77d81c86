//! The answer turned round: how far may the pulls of a run stand out?
//!
//! A pull that stands out further is the same pull pushed out along its front's normal; what is pushed first comes too
//! near first, so its outermost slice decides.

use super::pairs::{Bounds, Pair};
use super::reach::Standing;
use super::rules::Rule;
use super::sweep::Swept;
use super::swing::Swinging;
use super::tolerance::{FAR, SAME, SWING};
use super::travel::{comes_near_at, too_near};
use crate::length::Length;
use crate::model::{Convex, Motion, PullExtent, Role, Vec3};
use crate::plan::Side;

impl Standing<'_, '_> {
    /// How far the pulls of `side`'s run may stand out before they come too near to what opens past them, or to what
    /// they pass themselves; `None` where nothing is in reach. Against a swing to 0.01 mm, on the safe side.
    pub(super) fn largest_projection(&self, side: Side) -> Option<Length> {
        let mut largest: Option<f64> = None;
        for pair in self.pairs.iter().filter(|pair| pair.rule == Rule::ClearanceWanted) {
            let Some((id, index)) = pair.moving else { continue };
            let [own, other] = [pair.piece, pair.other].map(|k| self.scene.pieces[k].part);
            let passed = other.role == Role::Pull && other.run == Some(side);
            let passing = own.role == Role::Pull && own.run == Some(side);
            if !passed && !passing {
                continue;
            }
            let pull = if passed { pair.other } else { pair.piece };
            let Some(extent) = PullExtent::of(self.scene.model, self.scene.pieces[pull].part) else { continue };
            let known = largest.unwrap_or(extent.projection + FAR);
            let limit = match (self.scene.model.mover(id).motion, &self.scene.movers[id.0][index].swing) {
                (motion @ Motion::Swing { .. }, Some(swings)) => {
                    let swing = &swings[usize::from(pair.margin <= 0.0)];
                    self.past_a_swing(pair, passed, motion, swing, &extent, known)
                }
                _ => self.past_a_slide(pair, passed, &extent, known),
            };
            if let Some(limit) = limit.filter(|limit| *limit < known) {
                largest = Some(limit);
            }
        }
        largest.map(Length::mm)
    }

    /// The projection at which a pull that a sliding part passes, or that slides itself, comes too near.
    fn past_a_slide(&self, pair: &Pair, passed: bool, extent: &PullExtent, known: f64) -> Option<f64> {
        let (id, index) = pair.moving?;
        let sweep = self.scene.movers[id.0][index].sweep;
        let (pull, rest) = if passed { (pair.other, pair.piece) } else { (pair.piece, pair.other) };
        let slice = extent.outermost(self.scene.pieces[pull].shape);
        let pull_sweep = if passed { self.scene.pieces[pull].ajar } else { sweep };
        let rest_sweep = if passed { sweep } else { self.scene.pieces[rest].ajar };
        let shape = self.scene.shape(rest, self.widths)?;
        let a = Swept { sweep: pull_sweep, ..Swept::still(&slice) }.moved(extent.out * -extent.projection);
        let b = Swept { sweep: rest_sweep, ..Swept::still(&shape) };
        // Boxes first: most pairs cannot come near before the limit that is known already.
        if Bounds::around(&a).swept(extent.out * known).gap(&Bounds::around(&b)) >= pair.margin.max(SAME) {
            return None;
        }
        let low = comes_near_at(&a, &b, extent.out, pair.margin)?;
        // Where it is too near when flat on its front already, it may have been so only behind it.
        if low < 0.0 && too_near(&a, &b, extent.out, pair.margin).is_none_or(|[_, high]| high <= 0.0) {
            return None;
        }
        Some(low.max(0.0))
    }

    /// The same for a pull that a door passes, or that stands on one; by halves.
    fn past_a_swing(
        &self,
        pair: &Pair,
        passed: bool,
        motion: Motion,
        swing: &Swinging,
        extent: &PullExtent,
        known: f64,
    ) -> Option<f64> {
        let pull = if passed { pair.other } else { pair.piece };
        let slice = extent.outermost(self.scene.pieces[pull].shape);
        let shape = self.scene.shape(pair.other, self.widths)?;
        let other = self.scene.standing(pair, &shape, self.widths);
        let opens_fully = |projection: f64| {
            let pushed: Vec3 = extent.out * (projection - extent.projection);
            let opens_to = if passed {
                let b = Swept { piece: &slice, ..other }.moved(pushed);
                swing.opens_to(&b, pair.margin)
            } else {
                Swinging::new(&slice.moved(pushed), motion, pair.margin <= 0.0).opens_to(&other, pair.margin)
            };
            opens_to >= motion.extent()
        };
        if opens_fully(known) {
            return None;
        }
        let (mut low, mut high) = (0.0, known);
        while high - low > SWING / 2.0 {
            let middle = f64::midpoint(low, high);
            if opens_fully(middle) { low = middle } else { high = middle }
        }
        Some(low)
    }
}

impl PullExtent {
    /// What stands out farthest: a bar whole, of a post, knob or lip only its outermost slice.
    fn outermost(&self, piece: &Convex) -> Convex {
        /// Thickness of the slice, mm: far below anything that matters, far above rounding.
        const SLICE: f64 = 1e-3;
        let [near, far] = Swept::still(piece).extent(self.out);
        if near > self.face + SAME {
            return piece.clone();
        }
        let thickness = SLICE.min(far - near);
        if let Some((corner, edges)) = piece.as_block() {
            let along: Vec<Vec3> = edges.iter().copied().filter(|e| e.normalize().dot(self.out).abs() < 0.5).collect();
            let outward = edges.iter().copied().find(|e| e.normalize().dot(self.out).abs() >= 0.5);
            if let (Some(outward), [a, b]) = (outward, along.as_slice()) {
                let base = if outward.dot(self.out) > 0.0 { corner + outward } else { corner };
                return Convex::block(base - self.out * thickness, *a, *b, self.out * thickness);
            }
        }
        let push = piece.push();
        let outline = piece.base().iter().map(|&p| if push.dot(self.out) > 0.0 { p + push } else { p });
        Convex::prism(outline.map(|p| p - self.out * thickness).collect(), self.out * thickness)
    }
}
