//! Two drawers or doors open at once: which pairs of openings conflict?
//!
//! [`Map::of`] takes two moving parts of a [`Model`] and gives every pair (one out by this much, the other by that) at
//! which they come nearer to each other than they must, as convex outlines; everything else is left out of it. Openings
//! are mm for a slide and radians for a swing, 0 is shut.
//!
//! Where both slide, each two pieces conflict in a convex set (see `level`): a polygon for touching, told exactly, and
//! for a clearance one with round corners, told by an outline around it and one within, 0.01 mm apart. Where one swings,
//! the outlines err on the safe side alone (see `turning` and `swings`).
//!
//! A map says where two things must not be. It does not say how one gets from one pair to another: what lies behind a
//! conflict may be free and yet out of reach.

pub(super) mod level;
pub(super) mod plane;
mod swings;
mod turning;

use super::pairs::Bounds;
use super::rules::{Rule, rule};
use super::sweep::Swept;
use super::tolerance::{SAME, STEERS};
use crate::model::{Convex, Model, Motion, MoverId, PartId, Vec3};
use level::{FINE, Meeting, lies_in};
pub use plane::Point;
use plane::{area, covered_area, rectangle};

/// Where two drawers or doors conflict.
#[derive(Clone, Debug, PartialEq)]
pub struct Map {
    /// The two.
    pub movers: [MoverId; 2],
    /// How far each opens: mm or radians.
    pub extents: [f64; 2],
    /// What they keep from each other, mm; 0: they may touch.
    pub wanted: f64,
    /// The pairs of openings that conflict; they may overlap.
    pub regions: Vec<Region>,
    /// Whether both slide: then the outlines are exact for touching, and as good as [`Map::error_mm`] on either side for a
    /// clearance.
    pub exact: bool,
    /// How far the outlines lie outside the conflict at most. Where one part swings, a pair on them keeps no more than
    /// this beyond the clearance.
    pub error_mm: f64,
}

/// A convex set of pairs of openings that conflict.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    /// What conflicts there: a part of the first, and one of the second.
    pub parts: [PartId; 2],
    /// Every conflict of the two pieces lies within this outline, counter-clockwise.
    pub outer: Vec<Point>,
    /// All within this one is a conflict; empty where one swings.
    pub inner: Vec<Point>,
}

/// One drawer or door, its pieces, and a box around the way of each.
struct Opener<'m> {
    motion: Motion,
    pieces: Vec<(PartId, &'m Convex, Bounds)>,
    bounds: Bounds,
}

impl<'m> Opener<'m> {
    fn new(model: &'m Model, id: MoverId) -> Self {
        let mover = model.mover(id);
        let parts = mover.parts.iter().map(|&part| model.part(part));
        let pieces: Vec<_> = parts
            .flat_map(|part| part.outside().iter().map(|piece| (part.id, piece, way_bounds(piece, &mover.motion))))
            .collect();
        let bounds = pieces.iter().map(|piece| piece.2).reduce(Bounds::join);
        let bounds = bounds.unwrap_or(Bounds { low: Vec3::ZERO, high: Vec3::ZERO });
        Self { motion: mover.motion, pieces, bounds }
    }
}

/// A box around all that `piece` passes over.
fn way_bounds(piece: &Convex, motion: &Motion) -> Bounds {
    match *motion {
        Motion::Slide { direction, travel } => Bounds::of(piece.vertices()).swept(direction * travel),
        // The whole circle of each corner.
        Motion::Swing { hinge, axis, .. } => piece
            .vertices()
            .map(|v| {
                let middle = hinge + axis * (v - hinge).dot(axis);
                let radius = (v - middle).length();
                let flat = |along: f64| radius * (1.0 - along * along).max(0.0).sqrt();
                let reach = Vec3::new(flat(axis.x), flat(axis.y), flat(axis.z));
                Bounds { low: middle - reach, high: middle + reach }
            })
            .reduce(Bounds::join)
            .unwrap_or(Bounds { low: Vec3::ZERO, high: Vec3::ZERO }),
    }
}

impl Map {
    /// The map of two drawers or doors with what they must keep from each other: the clearance wanted where they are of
    /// different runs, no more than not to overlap where they are of one.
    ///
    /// Takes well under a millisecond where both slide, some tens where one swings.
    #[must_use]
    pub fn of(model: &Model, first: MoverId, second: MoverId) -> Self {
        Self::keeping(model, first, second, keeps(model, first, second))
    }

    /// The map for another distance, in mm: 0 for where they touch. Less than 0.1 mm is taken for 0.1 mm.
    #[must_use]
    pub fn keeping(model: &Model, first: MoverId, second: MoverId, distance: f64) -> Self {
        Self::between([first, second], [&Opener::new(model, first), &Opener::new(model, second)], distance)
    }

    fn between(movers: [MoverId; 2], openers: [&Opener<'_>; 2], distance: f64) -> Self {
        let wanted = if distance > 0.0 { distance.max(STEERS) } else { 0.0 };
        let extents = openers.map(|opener| opener.motion.extent());
        let slides = openers.map(|opener| match opener.motion {
            Motion::Slide { direction, .. } => Some(direction),
            Motion::Swing { .. } => None,
        });
        let (regions, exact, error_mm) = match slides {
            [Some(u), Some(v)] => {
                let (regions, error) = sliding(openers, [u, v], extents, wanted);
                (regions, true, error)
            }
            [None, Some(v)] => (turning::against_a_slide(openers, v, wanted), false, turning::ERROR),
            [Some(u), None] => {
                let [first, second] = openers;
                let turned = turning::against_a_slide([second, first], u, wanted);
                (turned.into_iter().map(Region::mirrored).collect(), false, turning::ERROR)
            }
            [None, None] => (swings::against_each_other(openers, wanted), false, swings::ERROR),
        };
        Self { movers, extents, wanted, regions, exact, error_mm }
    }

    /// Whether they ever conflict.
    #[must_use]
    pub fn conflicts(&self) -> bool {
        !self.regions.is_empty()
    }

    /// The parts that conflict where the first is out by `a` and the second by `b`; `None` where none do. On the safe
    /// side by [`Map::error_mm`]; equality is clear.
    #[must_use]
    pub fn conflict_at(&self, a: f64, b: f64) -> Option<[PartId; 2]> {
        self.regions.iter().find(|region| self.holds(&region.outer, [a, b])).map(|region| region.parts)
    }

    /// Whether a pair lies in an outline; on its edge only where that is the end of a way, or where one swings: there
    /// outlines lie side by side.
    fn holds(&self, outline: &[Point], p: Point) -> bool {
        let is_end = |a: Point, b: Point| {
            (0..2).any(|k| [0.0, self.extents[k]].iter().any(|end| (a[k] - end).abs().max((b[k] - end).abs()) < SAME))
        };
        outline.len() >= 3
            && outline.iter().zip(outline.iter().cycle().skip(1)).all(|(a, b)| {
                let edge = [b[0] - a[0], b[1] - a[1]];
                let over = edge[0] * (p[1] - a[1]) - edge[1] * (p[0] - a[0]);
                let most = SAME * edge[0].hypot(edge[1]);
                if !self.exact || is_end(*a, *b) { over >= -most } else { over > most }
            })
    }

    /// How far the first may stand out so that the second still opens its whole way, and the other way round: mm or
    /// radians, the whole extent where it always does.
    #[must_use]
    pub fn leaves_free(&self) -> [f64; 2] {
        let corners = self.regions.iter().flat_map(|region| &region.outer);
        corners.fold(self.extents, |least, corner| [least[0].min(corner[0]), least[1].min(corner[1])])
    }

    /// Whether both can be open fully at once.
    #[must_use]
    pub fn both_open_fully(&self) -> bool {
        self.conflict_at(self.extents[0], self.extents[1]).is_none()
    }

    /// How much of the map conflicts, in the units of its two ways: at least, and at most. The least is 0 where one
    /// swings, which is not worked out.
    #[must_use]
    pub fn area(&self) -> [f64; 2] {
        let inner = self.regions.iter().map(|region| region.inner.as_slice()).filter(|outline| !outline.is_empty());
        [covered_area(inner), covered_area(self.regions.iter().map(|region| region.outer.as_slice()))]
    }
}

impl Region {
    fn mirrored(self) -> Self {
        let mirror = |outline: Vec<Point>| outline.into_iter().rev().map(|[x, y]| [y, x]).collect();
        let [a, b] = self.parts;
        Self { parts: [b, a], outer: mirror(self.outer), inner: mirror(self.inner) }
    }
}

/// What two drawers or doors keep from each other, in mm.
fn keeps(model: &Model, first: MoverId, second: MoverId) -> f64 {
    let wants = |own: MoverId, other: MoverId| {
        let side = model.mover(own).side;
        let mut parts = model.mover(other).parts.iter();
        parts.any(|&part| rule(side, model.part(part)) == Rule::ClearanceWanted)
    };
    if wants(first, second) || wants(second, first) { model.wanted } else { 0.0 }
}

/// The maps of every two drawers or doors of `model` that conflict somewhere, in their order.
#[must_use]
pub fn maps(model: &Model) -> Vec<Map> {
    maps_of(model, |_| true)
}

/// The same for drawers alone, which takes a few milliseconds.
#[must_use]
pub fn maps_of_slides(model: &Model) -> Vec<Map> {
    maps_of(model, |motion| matches!(motion, Motion::Slide { .. }))
}

fn maps_of(model: &Model, counts: impl Fn(&Motion) -> bool) -> Vec<Map> {
    let counted = model.movers.iter().filter(|mover| counts(&mover.motion));
    let openers: Vec<(MoverId, Opener<'_>)> = counted.map(|mover| (mover.id, Opener::new(model, mover.id))).collect();
    let mut found = Vec::new();
    for (k, (first, own)) in openers.iter().enumerate() {
        for (second, other) in &openers[k + 1..] {
            // What opens of one thing in the room has been fitted by whoever made it.
            let thing = model.mover(*first).belongs_to;
            if thing.is_some() && thing == model.mover(*second).belongs_to {
                continue;
            }
            let wanted = keeps(model, *first, *second);
            if own.bounds.gap(&other.bounds) < wanted.max(SAME) {
                let map = Map::between([*first, *second], [own, other], wanted);
                found.extend(Some(map).filter(Map::conflicts));
            }
        }
    }
    found
}

/// The conflicts of two that slide along `ways`, and how far the outlines lie outside them at most.
fn sliding(openers: [&Opener<'_>; 2], ways: [Vec3; 2], extents: [f64; 2], margin: f64) -> (Vec<Region>, f64) {
    let whole = rectangle([0.0; 2], extents);
    let mut open = Vec::new();
    for (part, piece, bounds) in &openers[0].pieces {
        for (other, other_piece, other_bounds) in &openers[1].pieces {
            if bounds.gap(other_bounds) >= margin.max(SAME) {
                continue;
            }
            let [a, b] = [piece, other_piece].map(|piece| Swept::still(piece));
            let meeting = Meeting { a, b, ways: [ways[0], -ways[1]], margin, fine: FINE };
            let outline = meeting.by_boxes(&whole);
            if !outline.is_empty() {
                open.push((area(&outline), [*part, *other], outline, meeting));
            }
        }
    }
    // The largest first: they hold most of the rest. The sort is stable, so equals keep the order of the parts.
    open.sort_by(|a, b| b.0.total_cmp(&a.0));
    let (mut regions, mut error): (Vec<Region>, f64) = (Vec::new(), 0.0);
    for (_, parts, outline, meeting) in open {
        if regions.iter().any(|region| lies_in(&outline, &region.inner)) {
            continue;
        }
        if let Some(level) = meeting.level(&outline)
            && !regions.iter().any(|region| lies_in(&level.outer, &region.inner))
        {
            error = error.max(level.error);
            regions.push(Region { parts, outer: level.outer, inner: level.inner });
        }
    }
    (regions, error)
}
