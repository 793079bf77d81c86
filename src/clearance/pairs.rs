//! Which pieces can meet? Moving pieces against standing ones, for every pair of filler widths at once.
//!
//! Pieces are gathered by drawer, door and unit; a tree of their bounding boxes, each grown by how far the fillers can
//! carry it, leaves out all that can never meet. What is left are [`Pair`]s.

use parry3d::bounding_volume::Aabb;
use parry3d::partitioning::{Bvh, BvhBuildStrategy};

use super::rules::{Rule, may_reach_over, must_fit, rule, rule_of_opposite, rule_of_room_door, stands_in_the_way};
use super::sweep::Swept;
use super::swing::Swinging;
use super::tolerance::{SAME, WIDEST_FILLER};
use super::travel::comes_too_near;
use crate::model::{Convex, Follows, Model, Motion, Mover, MoverId, Part, PartId, Role, RuleClass, Vec3};
use crate::plan::Side;

/// A box along the axes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bounds {
    pub(super) low: Vec3,
    pub(super) high: Vec3,
}

impl Bounds {
    const NOTHING: Self = Self { low: Vec3::splat(f64::INFINITY), high: Vec3::splat(f64::NEG_INFINITY) };

    pub(super) fn of(points: impl Iterator<Item = Vec3>) -> Self {
        points.fold(Self::NOTHING, |b, p| Self { low: b.low.min(p), high: b.high.max(p) })
    }

    /// Around a swept piece.
    pub(super) fn around(swept: &Swept<'_>) -> Self {
        let [x, y, z] = [Vec3::X, Vec3::Y, Vec3::Z].map(|axis| swept.extent(axis));
        Self { low: Vec3::new(x[0], y[0], z[0]), high: Vec3::new(x[1], y[1], z[1]) }
    }

    /// Grown by `by` every way across the unit vector `axis`: by as much of it as each of the three directions can get.
    pub(super) fn swept_across(self, axis: Vec3, by: f64) -> Self {
        let flat = across(axis) * by;
        Self { low: self.low - flat, high: self.high + flat }
    }

    /// Around all that `piece` passes over as it goes right round the line through `hinge` along the unit vector `axis`.
    pub(super) fn right_round(piece: &Convex, hinge: Vec3, axis: Vec3) -> Self {
        piece.vertices().fold(Self::NOTHING, |bounds, v| {
            let middle = hinge + axis * (v - hinge).dot(axis);
            bounds.join(Self { low: middle, high: middle }.swept_across(axis, (v - middle).length()))
        })
    }

    pub(super) fn join(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    /// Grown by a push along `by`.
    pub(super) fn swept(self, by: Vec3) -> Self {
        Self { low: self.low + by.min(Vec3::ZERO), high: self.high + by.max(Vec3::ZERO) }
    }

    pub(super) fn moved(self, by: Vec3) -> Self {
        Self { low: self.low + by, high: self.high + by }
    }

    pub(super) fn grown(self, by: f64) -> Self {
        Self { low: self.low - Vec3::splat(by), high: self.high + Vec3::splat(by) }
    }

    /// A distance that the two boxes' contents surely keep.
    pub(super) fn gap(&self, other: &Self) -> f64 {
        let apart = (other.low - self.high).max(self.low - other.high).max(Vec3::ZERO);
        apart.length()
    }

    /// Whether the two boxes share more than a face.
    pub(super) fn overlaps(&self, other: &Self) -> bool {
        let shared = self.high.min(other.high) - self.low.max(other.low);
        shared.min_element() > SAME
    }

    /// The `s` around 0 to [`WIDEST_FILLER`] for which this box, moved by `s·u`, comes within `margin` of `other`, as far
    /// as boxes tell.
    pub(super) fn meeting(&self, other: &Self, u: Vec3, margin: f64) -> Option<[f64; 2]> {
        let mut range = [-1.0, WIDEST_FILLER + 1.0];
        for (low, high, other_low, other_high, step) in [
            (self.low.x, self.high.x, other.low.x, other.high.x, u.x),
            (self.low.y, self.high.y, other.low.y, other.high.y, u.y),
            (self.low.z, self.high.z, other.low.z, other.high.z, u.z),
        ] {
            let (first, last) = (other_low - margin - high, other_high + margin - low);
            if step.abs() < 1e-12 {
                if first >= 0.0 || last <= 0.0 {
                    return None;
                }
                continue;
            }
            let (a, b) = (first / step, last / step);
            range = [range[0].max(a.min(b)), range[1].min(a.max(b))];
        }
        (range[0] < range[1]).then_some(range)
    }

    fn aabb(self) -> Aabb {
        Aabb::new(self.low, self.high)
    }
}

/// How far a vector of unit length across the unit vector `axis` reaches at most in each of the three directions.
fn across(axis: Vec3) -> Vec3 {
    let reach = |along: f64| (1.0 - along * along).max(0.0).sqrt();
    Vec3::new(reach(axis.x), reach(axis.y), reach(axis.z))
}

/// Whether `part` is the box of a drawer opposite a run: shut it lies within the thing that it belongs to.
fn is_box_opposite(part: &Part) -> bool {
    part.role == Role::Obstacle && part.class == RuleClass::Hidden
}

/// How a piece stretches with a filler.
#[derive(Clone, Debug)]
pub(super) struct Stretch<'m> {
    pub(super) side: Side,
    pub(super) least: f64,
    moves: &'m [bool],
}

/// One convex piece of one part, with what the fillers do to it.
#[derive(Clone, Debug)]
pub(super) struct Piece<'m> {
    pub(super) part: &'m Part,
    pub(super) shape: &'m Convex,
    /// Where it goes for each millimetre of the left filler, and of the right one.
    pub(super) shift: [Vec3; 2],
    pub(super) stretch: Option<Stretch<'m>>,
    /// Where a shut front may stand ajar.
    pub(super) ajar: Vec3,
    pub(super) bounds: Bounds,
}

/// A piece of a drawer or door on its way.
#[derive(Clone, Debug)]
pub(super) struct Moving {
    /// Index into [`Scene::pieces`].
    pub(super) piece: usize,
    /// The whole way of a slide.
    pub(super) sweep: Vec3,
    /// Plain, and drawn in for pairs that merely must not overlap.
    pub(super) swing: Option<[Swinging; 2]>,
    pub(super) bounds: Bounds,
}

/// A moving piece, or a standing one of a run that must fit, and a piece it may meet.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair {
    /// The drawer or door, and which of its moving pieces; `None` for two fixed parts.
    pub(super) moving: Option<(MoverId, usize)>,
    /// Index into [`Scene::pieces`].
    pub(super) piece: usize,
    /// Index into [`Scene::pieces`].
    pub(super) other: usize,
    pub(super) rule: Rule,
    /// What must be kept, mm; 0 means no overlap.
    pub(super) margin: f64,
}

/// A model taken apart for the check.
#[derive(Debug)]
pub(super) struct Scene<'m> {
    pub(super) model: &'m Model,
    pub(super) pieces: Vec<Piece<'m>>,
    /// The moving pieces of each drawer and door.
    pub(super) movers: Vec<Vec<Moving>>,
    groups: Vec<Group>,
}

#[derive(Debug)]
struct Group {
    pieces: std::ops::Range<usize>,
    mover: Option<MoverId>,
    bounds: Bounds,
    /// Where the fillers carry it; parts of one group go together, or stretch as far.
    shift: [Vec3; 2],
    /// Whether its near end stays at the corner.
    stretches: bool,
}

impl<'m> Scene<'m> {
    /// Takes `model` apart.
    pub(super) fn new(model: &'m Model) -> Self {
        let mut pieces = Vec::new();
        let mut groups: Vec<Group> = Vec::new();
        let mut movers = vec![Vec::new(); model.movers.len()];
        let mut last_key = None;
        for part in &model.parts {
            let key = (part.run, part.unit, part.mover, part.unit.is_none().then_some(part.id));
            if last_key != Some(key) {
                let start = pieces.len();
                groups.push(Group {
                    pieces: start..start,
                    mover: part.mover,
                    bounds: Bounds::NOTHING,
                    stretches: matches!(part.follows, Follows::Stretch { .. }),
                    shift: [Vec3::ZERO; 2],
                });
                last_key = Some(key);
            }
            for (k, shape) in part.outside().iter().enumerate() {
                let piece = Piece::new(model, part, k, shape);
                if let Some(group) = groups.last_mut() {
                    group.pieces.end = pieces.len() + 1;
                    group.bounds = group.bounds.join(piece.bounds);
                    group.shift = piece.reach_shift(model);
                }
                if let Some(mover) = part.mover {
                    movers[mover.0].push(Moving::new(model.mover(mover).motion, pieces.len(), &piece));
                }
                pieces.push(piece);
            }
        }
        Self { model, pieces, movers, groups }
    }

    /// The margin and rule that `mover`'s pieces keep from `other`.
    fn keeps(&self, mover: &Mover, other: &Part) -> (Rule, f64) {
        let rule = match (mover.belongs_to, mover.of_the_room) {
            (Some(_), _) => rule_of_opposite(other),
            (None, true) => rule_of_room_door(other),
            (None, false) => rule(mover.side, other),
        };
        match rule {
            Rule::ClearanceWanted => (Rule::ClearanceWanted, self.model.wanted),
            Rule::NoOverlap => (Rule::NoOverlap, 0.0),
        }
    }

    /// Every pair that may come within its margin and `extra` more, for fillers from 0 to the widest where `widths` is
    /// set (less the pairs that no filler moves against each other), for the model's own where it is not.
    pub(super) fn pairs(&self, extra: f64, widths: bool) -> Vec<Pair> {
        let boxes: Vec<Aabb> =
            self.groups.iter().map(|group| self.reach(group.bounds, group.shift, widths).aabb()).collect();
        let tree = Bvh::from_leaves(BvhBuildStrategy::default(), &boxes);
        let mut pairs = Vec::new();
        for (index, moving) in self.movers.iter().enumerate() {
            let id = MoverId(index);
            let behind = self.model.mover(id).behind;
            let Some(shift) = moving.first().map(|m| self.pieces[m.piece].shift) else { continue };
            let bounds = moving.iter().fold(Bounds::NOTHING, |b, m| b.join(m.bounds));
            let reach = self.reach(bounds, shift, widths).grown(self.model.wanted + extra);
            let mut near: Vec<usize> = tree.intersect_aabb(&reach.aabb()).map(|leaf| leaf as usize).collect();
            near.sort_unstable();
            for group in near {
                // What slides out cannot meet what lies along its own run; a door that opens far can, since the near end
                // of a strip stays at the corner while the door goes with its run.
                let stays = self.groups[group].stretches && moving.iter().any(|m| m.swing.is_some());
                let together = self.groups[group].shift == shift && !stays;
                // What stands behind a door moves when that is open: see [`super::behind`].
                let of = self.groups[group].mover;
                if of != Some(id) && (of.is_none() || of != behind) && !(widths && together) {
                    self.pairs_of_group(id, group, extra, widths, &mut pairs);
                }
            }
        }
        self.fixed_pairs(&tree, widths, &mut pairs);
        pairs
    }

    /// Where the contents of `bounds` can be, as the fillers carry or stretch them.
    fn reach(&self, bounds: Bounds, shift: [Vec3; 2], widths: bool) -> Bounds {
        if !widths {
            return bounds;
        }
        Side::BOTH.into_iter().zip(shift).fold(bounds, |bounds, (side, shift)| {
            let back = bounds.moved(shift * -self.model.fillers.of(side).to_mm());
            back.swept(shift * WIDEST_FILLER)
        })
    }

    fn pairs_of_group(&self, id: MoverId, group: usize, extra: f64, widths: bool, pairs: &mut Vec<Pair>) {
        let mover = self.model.mover(id);
        let group = &self.groups[group];
        for (index, moving) in self.movers[id.0].iter().enumerate() {
            let own = self.reach(moving.bounds, self.pieces[moving.piece].shift, widths);
            for other in group.pieces.clone() {
                let part = self.pieces[other].part;
                // A door of the room hangs in its casing; what opens opposite is a part of its own
                // thing, whose fronts somebody else has fitted.
                let own_casing = mover.of_the_room && mover.belongs_to.is_none() && part.role == Role::Casing;
                let own_thing = own_casing || self.model.is_of_its_thing(mover, part);
                if own_thing || is_box_opposite(part) || (widths && matches!(part.follows, Follows::Rebuilt)) {
                    continue;
                }
                let (rule, margin) = self.keeps(mover, part);
                let theirs = self.reach(self.pieces[other].bounds, group.shift, widths);
                let near = match rule {
                    Rule::ClearanceWanted if margin + extra > 0.0 => own.gap(&theirs) < margin + extra,
                    Rule::ClearanceWanted | Rule::NoOverlap => own.overlaps(&theirs),
                };
                if near {
                    pairs.push(Pair { moving: Some((id, index)), piece: moving.piece, other, rule, margin });
                }
            }
        }
    }

    /// Fixed parts of runs, and shut drawers and doors, against what stands in the room; and what may reach over into
    /// the other run against its fixed parts.
    fn fixed_pairs(&self, tree: &Bvh, widths: bool, pairs: &mut Vec<Pair>) {
        for group in &self.groups {
            let any = |of: fn(&Part) -> bool| group.pieces.clone().any(|k| of(self.pieces[k].part));
            if !any(stands_in_the_way) && !any(may_reach_over) {
                continue;
            }
            let reach = self.reach(group.bounds, group.shift, widths);
            let mut near: Vec<usize> = tree.intersect_aabb(&reach.aabb()).map(|leaf| leaf as usize).collect();
            near.sort_unstable();
            for piece in near.into_iter().flat_map(|near| self.groups[near].pieces.clone()) {
                for other in group.pieces.clone() {
                    self.fixed_pair(piece, other, group, widths, pairs);
                }
            }
        }
    }

    fn fixed_pair(&self, piece: usize, other: usize, group: &Group, widths: bool, pairs: &mut Vec<Pair>) {
        let (fits, stands) = (&self.pieces[piece], &self.pieces[other]);
        let against_room = must_fit(fits.part) && stands_in_the_way(stands.part);
        let against_run = may_reach_over(stands.part)
            && fits.part.mover.is_none()
            && matches!(fits.part.class, RuleClass::Run | RuleClass::Appliance)
            && fits.part.run != stands.part.run
            && (!may_reach_over(fits.part) || fits.part.id < stands.part.id);
        if !(against_room || against_run) || (widths && matches!(fits.part.follows, Follows::Rebuilt)) {
            return;
        }
        let own = self.reach(fits.bounds, fits.reach_shift(self.model), widths);
        if own.overlaps(&self.reach(stands.bounds, group.shift, widths)) {
            pairs.push(Pair { moving: None, piece, other, rule: Rule::NoOverlap, margin: 0.0 });
        }
    }

    /// Where the fillers carry `piece` from where it stands in this scene's model.
    pub(super) fn carried(&self, piece: usize, widths: [f64; 2]) -> Vec3 {
        let piece = &self.pieces[piece];
        let built = self.model.fillers;
        piece.shift[0] * (widths[0] - built.left.to_mm()) + piece.shift[1] * (widths[1] - built.right.to_mm())
    }

    /// A box around `piece` at these widths; of one that stretches, around how far it reaches.
    pub(super) fn bounds_at(&self, piece: usize, widths: [f64; 2]) -> Bounds {
        let bounds = self.pieces[piece].bounds;
        match &self.pieces[piece].stretch {
            Some(stretch) => {
                let k = usize::from(stretch.side == Side::Right);
                let longer = widths[k] - self.model.fillers.of(stretch.side).to_mm();
                bounds.swept(self.model.run(stretch.side).along * longer)
            }
            None => bounds.moved(self.carried(piece, widths)),
        }
    }

    /// The shape of `piece` at these widths before it is carried; `None` where it does not exist there.
    pub(super) fn shape(&self, piece: usize, widths: [f64; 2]) -> Option<std::borrow::Cow<'m, Convex>> {
        let piece = &self.pieces[piece];
        let Some(stretch) = &piece.stretch else { return Some(std::borrow::Cow::Borrowed(piece.shape)) };
        let k = usize::from(stretch.side == Side::Right);
        if widths[k] <= stretch.least {
            return None;
        }
        let by = self.model.run(stretch.side).along * (widths[k] - self.model.fillers.of(stretch.side).to_mm());
        let base = piece.shape.base().iter().zip(stretch.moves).map(|(&p, &moves)| if moves { p + by } else { p });
        Some(std::borrow::Cow::Owned(Convex::prism(base.collect(), piece.shape.push())))
    }

    /// Whether the pair is too near with these fillers.
    pub(super) fn is_too_near(&self, pair: &Pair, widths: [f64; 2]) -> bool {
        let Some(shape) = self.shape(pair.other, widths) else { return false };
        let b = self.standing(pair, &shape, widths);
        let at = self.carried(pair.piece, widths);
        if let Some(swing) = self.swing(pair) {
            return swing.opens_to(&b.moved(-at), pair.margin) < self.extent(pair);
        }
        let Some(own) = self.shape(pair.piece, widths) else { return false };
        let sweep = pair.moving.map_or(Vec3::ZERO, |(id, index)| self.movers[id.0][index].sweep);
        comes_too_near(&Swept { piece: &own, twin: None, at, sweep }, &b, pair.margin)
    }

    /// The other piece of a pair, ajar where it may be, where the fillers put it.
    pub(super) fn standing<'s>(&self, pair: &Pair, shape: &'s Convex, widths: [f64; 2]) -> Swept<'s> {
        let other = &self.pieces[pair.other];
        let ajar = if pair.rule == Rule::ClearanceWanted { other.ajar } else { Vec3::ZERO };
        Swept { piece: shape, twin: None, at: self.carried(pair.other, widths), sweep: ajar }
    }

    /// The whole way of the pair's moving part.
    pub(super) fn extent(&self, pair: &Pair) -> f64 {
        pair.moving.map_or(0.0, |(id, _)| self.model.mover(id).motion.extent())
    }

    /// A box around all that the pair's own piece passes over, fillers as built.
    pub(super) fn own_bounds(&self, pair: &Pair) -> Bounds {
        match pair.moving {
            Some((id, index)) => self.movers[id.0][index].bounds,
            None => self.pieces[pair.piece].bounds,
        }
    }

    /// The swinging piece of a pair, where it swings: drawn in where the two merely must not overlap.
    pub(super) fn swing(&self, pair: &Pair) -> Option<&Swinging> {
        let (id, index) = pair.moving?;
        let swings = self.movers[id.0][index].swing.as_ref()?;
        Some(&swings[usize::from(pair.margin <= 0.0)])
    }

    /// The ids of the pair's two parts.
    pub(super) fn parts(&self, pair: &Pair) -> [PartId; 2] {
        [self.pieces[pair.piece].part.id, self.pieces[pair.other].part.id]
    }
}

impl<'m> Piece<'m> {
    /// Where the fillers carry it, or stretch it to.
    fn reach_shift(&self, model: &Model) -> [Vec3; 2] {
        match &self.stretch {
            Some(stretch) => {
                Side::BOTH.map(|side| if side == stretch.side { model.run(side).along } else { Vec3::ZERO })
            }
            None => self.shift,
        }
    }

    fn new(model: &'m Model, part: &'m Part, index: usize, shape: &'m Convex) -> Self {
        let stretch = match &part.follows {
            Follows::Stretch { side, least, moves } => {
                moves.get(index).map(|moves| Stretch { side: *side, least: *least, moves })
            }
            Follows::Room | Follows::Run(_) | Follows::Shifts { .. } | Follows::Rebuilt => None,
        };
        let ajar = match (part.mover, part.run) {
            (Some(_), Some(run)) => model.run(run).out * model.ajar,
            _ => Vec3::ZERO,
        };
        let bounds = Bounds::of(shape.vertices()).swept(ajar);
        Self { part, shape, shift: Side::BOTH.map(|side| model.shift(part, side)), stretch, ajar, bounds }
    }
}

impl Moving {
    fn new(motion: Motion, index: usize, piece: &Piece<'_>) -> Self {
        let still = Bounds::of(piece.shape.vertices());
        match motion {
            Motion::Slide { direction, travel } => {
                let sweep = direction * travel;
                Self { piece: index, sweep, swing: None, bounds: still.swept(sweep) }
            }
            Motion::Swing { hinge, axis, .. } => {
                let around = Bounds::right_round(piece.shape, hinge, axis);
                let swing = [false, true].map(|inward| Swinging::new(piece.shape, motion, inward));
                Self { piece: index, sweep: Vec3::ZERO, swing: Some(swing), bounds: around }
            }
        }
    }
}
