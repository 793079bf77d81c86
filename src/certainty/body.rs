//! How near do two bodies come when they are off by so much, or by anything within their tolerances?
//!
//! A [`Body`] is a convex piece, or the hull of where it begins and ends a step of a swing, with the straight way it
//! slides, and what each cause does to it. [`Bent`] is that body with every cause off by a given amount: an affine image,
//! whose support point is found by pulling the direction back, so that nothing is built. [`Spread`] is the hull of all
//! that it can be within the tolerances: the support point of a corner is the corner and, for each cause, the end of its
//! tolerance that lies farther along. One distance query against it is the least over the whole box of tolerances:
//! exact where causes only shift, since a body shifted in all ways sweeps a convex one; on the safe side where they turn.

use parry3d::math::Pose;
use parry3d::query::details::closest_points_support_map_support_map_with_params;
use parry3d::query::gjk::{GJKResult, VoronoiSimplex};
use parry3d::shape::SupportMap;

use super::cause::{Effect, Field};
use crate::model::{Convex, Vec3};

/// A piece, all the way that it goes in a straight line, and what can be off about it.
#[derive(Clone, Debug)]
pub(super) struct Body {
    /// The piece as an outline and a push; of a swing's step, where it begins and where it ends.
    prisms: Vec<(Vec<Vec3>, Vec3)>,
    sweep: Vec3,
    pub(super) effects: Vec<Effect>,
    middle: Vec3,
}

impl Body {
    pub(super) fn new(pieces: &[&Convex], sweep: Vec3, effects: Vec<Effect>) -> Self {
        let corners = || pieces.iter().flat_map(|piece| piece.vertices());
        let middle = corners().fold(Vec3::ZERO, |sum, p| sum + p) / corners().count().max(1) as f64 + sweep / 2.0;
        let prisms = pieces.iter().map(|piece| (piece.base().to_vec(), piece.push())).collect();
        Self { prisms, sweep, effects, middle }
    }

    /// Its corners before it slides.
    fn corners(&self) -> impl Iterator<Item = Vec3> + '_ {
        self.prisms.iter().flat_map(|(base, push)| base.iter().flat_map(|&p| [p, p + *push]))
    }

    /// Its corners before it slides and after.
    fn all_corners(&self) -> impl Iterator<Item = Vec3> + '_ {
        self.corners().flat_map(|p| [p, p + self.sweep])
    }

    /// How every cause together moves its points, each off by as much as `errors` says.
    pub(super) fn field(&self, errors: &[f64]) -> Field {
        let mut sum = Field::STILL;
        for effect in &self.effects {
            if let Some(&error) = errors.get(effect.cause) {
                sum.add(&effect.field, error);
            }
        }
        sum
    }

    /// No point of it moves farther than this within the tolerances `most`.
    pub(super) fn moves_at_most(&self, most: &[f64]) -> f64 {
        let farthest = |effect: &Effect| self.all_corners().map(|p| effect.field.at(p).length()).fold(0.0, f64::max);
        self.effects.iter().map(|effect| farthest(effect) * tolerance(most, effect)).sum()
    }

    /// What taking the effects as straight leaves out at most: for each turn half the arc, `r·a²/2`, and what it turns the
    /// other causes' shifts by.
    pub(super) fn bend(&self, most: &[f64]) -> f64 {
        let turns: Vec<&Effect> = self.effects.iter().filter(|effect| effect.field.is_bent()).collect();
        let angle = |effect: &Effect| {
            effect.field.along(Vec3::X).length().max(effect.field.along(Vec3::Y).length()) * tolerance(most, effect)
        };
        let all: f64 = self.moves_at_most(most);
        let own = |effect: &Effect| {
            self.all_corners().map(|p| effect.field.at(p).length()).fold(0.0, f64::max) * tolerance(most, effect)
        };
        // r·a is what the turn moves; half of that times the angle is the arc's rest.
        turns.iter().map(|effect| angle(effect) * (own(effect) / 2.0 + (all - own(effect)))).sum()
    }

    /// From where to where it lies along `axis` with nothing off.
    pub(super) fn extent(&self, axis: Vec3) -> [f64; 2] {
        let step = self.sweep.dot(axis);
        let along = self.corners().map(|p| p.dot(axis));
        let [low, high] = along.fold([f64::INFINITY, f64::NEG_INFINITY], |[l, h], d| [l.min(d), h.max(d)]);
        [low + step.min(0.0), high + step.max(0.0)]
    }

    /// A box around it with nothing off.
    pub(super) fn bounds(&self) -> [Vec3; 2] {
        let ([x0, x1], [y0, y1], [z0, z1]) = (self.extent(Vec3::X), self.extent(Vec3::Y), self.extent(Vec3::Z));
        [Vec3::new(x0, y0, z0), Vec3::new(x1, y1, z1)]
    }
}

fn tolerance(most: &[f64], effect: &Effect) -> f64 {
    most.get(effect.cause).copied().unwrap_or(0.0)
}

/// A body with every cause off by a given amount, carried by `at`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bent<'a> {
    pub(super) body: &'a Body,
    pub(super) field: Field,
    pub(super) at: Vec3,
}

impl SupportMap for Bent<'_> {
    fn local_support_point(&self, direction: Vec3) -> Vec3 {
        let pulled = self.field.pulled_back(direction);
        let mut best = Vec3::ZERO;
        let mut most = f64::NEG_INFINITY;
        for (base, push) in &self.body.prisms {
            let pushed = push.dot(pulled).max(0.0);
            for &p in base {
                let along = p.dot(pulled) + pushed;
                if along > most {
                    (best, most) = (if pushed > 0.0 { p + *push } else { p }, along);
                }
            }
        }
        if self.body.sweep.dot(pulled) > 0.0 {
            best += self.body.sweep;
        }
        best + self.field.at(best) + self.at
    }
}

/// Everything that a body can be within the tolerances, carried by `at`, of which `by` is what a filler carries it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spread<'a> {
    pub(super) body: &'a Body,
    pub(super) most: &'a [f64],
    pub(super) by: Vec3,
    pub(super) at: Vec3,
}

impl SupportMap for Spread<'_> {
    fn local_support_point(&self, direction: Vec3) -> Vec3 {
        let mut best = Vec3::ZERO;
        let mut most = f64::NEG_INFINITY;
        for p in self.body.all_corners() {
            let mut off = p;
            for effect in &self.body.effects {
                let carried = if effect.stays { p + self.by } else { p };
                let moves = effect.field.at(carried) * tolerance(self.most, effect);
                off += if moves.dot(direction) >= 0.0 { moves } else { -moves };
            }
            let along = off.dot(direction);
            if along > most {
                (best, most) = (off, along);
            }
        }
        best + self.at
    }
}

/// Two bodies, of which a filler carries the first along `u`.
#[derive(Clone, Debug)]
pub(super) struct Pair {
    pub(super) own: Body,
    pub(super) its: Body,
    /// Where the first goes for each millimetre.
    pub(super) u: Vec3,
}

/// A distance, and how it grows for each millimetre that the first body is carried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Near {
    pub(super) distance: f64,
    pub(super) slope: f64,
}

impl Pair {
    /// How near the two come, off by `errors`, the first carried by `s`.
    pub(super) fn near(&self, s: f64, errors: &Errors) -> Near {
        let along = self.u + errors.own_stays.along(self.u);
        let origin = self.own.middle + self.u * s;
        let own = Bent { body: &self.own, field: errors.own, at: along * s - origin };
        let its = Bent { body: &self.its, field: errors.its, at: -origin };
        query(&own, &its, along, self.its.middle - origin)
    }

    /// How far apart the two stay along the unit vector `way`, off by `errors`, the first carried by `s`: never more than
    /// their distance, for a few sums instead of a query. And how that grows for each millimetre.
    pub(super) fn apart_along(&self, way: Vec3, s: f64, errors: &Errors) -> Near {
        let along = self.u + errors.own_stays.along(self.u);
        let own = Bent { body: &self.own, field: errors.own, at: along * s };
        let its = Bent { body: &self.its, field: errors.its, at: Vec3::ZERO };
        let distance = its.local_support_point(-way).dot(way) - own.local_support_point(way).dot(way);
        Near { distance, slope: -along.dot(way) }
    }

    /// The direction from the first to the second where they are nearest, nothing off, the first carried by `s`; zero
    /// where they meet there.
    pub(super) fn way(&self, s: f64) -> Vec3 {
        let origin = self.own.middle + self.u * s;
        let own = Bent { body: &self.own, field: Field::STILL, at: self.u * s - origin };
        let its = Bent { body: &self.its, field: Field::STILL, at: -origin };
        between(&own, &its, self.its.middle - origin).map_or(Vec3::ZERO, Vec3::normalize_or_zero)
    }

    /// How near the two come for the worst of everything within `most`, the first carried by `s`.
    pub(super) fn worst(&self, s: f64, most: &[f64]) -> Near {
        let by = self.u * s;
        let origin = self.own.middle + by;
        let own = Spread { body: &self.own, most, by, at: by - origin };
        let its = Spread { body: &self.its, most, by: Vec3::ZERO, at: -origin };
        query(&own, &its, self.u, self.its.middle - origin)
    }

    /// How its two bodies are bent by `errors`.
    pub(super) fn errors(&self, errors: &[f64]) -> Errors {
        let mut own_stays = Field::STILL;
        for effect in self.own.effects.iter().filter(|effect| effect.stays) {
            own_stays.add(&effect.field, errors.get(effect.cause).copied().unwrap_or(0.0));
        }
        Errors { own: self.own.field(errors), its: self.its.field(errors), own_stays }
    }

    /// The first carried so far along `u` that it lies beyond the other by more than `margin` whatever is off by `slack`.
    pub(super) fn beyond(&self, margin: f64) -> f64 {
        let ([back, _], [_, front]) = (self.own.extent(self.u), self.its.extent(self.u));
        (front - back + margin + 1.0) / self.u.length_squared().max(1e-12)
    }

    /// A distance that boxes surely keep with nothing off, whatever the filler.
    pub(super) fn apart(&self) -> f64 {
        let ([own_low, own_high], [low, high]) = (self.own.bounds(), self.its.bounds());
        let gap = (low - own_high).max(own_low - high).max(Vec3::ZERO);
        // Along an axis that the filler carries it on, they may come to overlap.
        let keeps = |gap: f64, u: f64| if u.abs() > 1e-9 { 0.0 } else { gap };
        Vec3::new(keeps(gap.x, self.u.x), keeps(gap.y, self.u.y), keeps(gap.z, self.u.z)).length()
    }
}

/// How the two bodies of a pair are off.
#[derive(Clone, Copy, Debug)]
pub(super) struct Errors {
    own: Field,
    its: Field,
    own_stays: Field,
}

impl Errors {
    /// Nothing is off.
    pub(super) const NONE: Self = Self { own: Field::STILL, its: Field::STILL, own_stays: Field::STILL };
}

fn query(own: &impl SupportMap, its: &impl SupportMap, u: Vec3, toward: Vec3) -> Near {
    let way = between(own, its, toward).unwrap_or(Vec3::ZERO);
    let distance = way.length();
    Near { distance, slope: if distance > 0.0 { -way.dot(u) / distance } else { 0.0 } }
}

/// From the nearest point of the one to that of the other; `None` where they meet.
fn between(own: &impl SupportMap, its: &impl SupportMap, toward: Vec3) -> Option<Vec3> {
    let toward = (toward.length_squared() > 1e-12).then_some(-toward);
    let found = closest_points_support_map_support_map_with_params(
        &Pose::IDENTITY,
        own,
        its,
        f64::MAX,
        &mut VoronoiSimplex::new(),
        toward,
    );
    match found {
        GJKResult::ClosestPoints(p, q, _) => Some(q - p),
        GJKResult::Intersection | GJKResult::Proximity(_) | GJKResult::NoIntersection(_) => None,
    }
}

/// Closest points nearer than this, in mm, can lie far from each other: below it only the distance itself is trusted.
const STEERS: f64 = 0.1;
/// The search for an end stops when the distance is this close to what is to be kept, mm.
pub(super) const FINE: f64 = 1e-5;
/// A slope flatter than this is a graze: they come no nearer.
const GRAZE: f64 = 1e-6;
/// Steps after which the end found so far, on the safe side, is told.
const MOST_STEPS: usize = 60;

/// Coming from `start`, where the two are at least `margin` apart, back towards less: the least `s` at which they still
/// are, within [`FINE`] and on the safe side; `None` where they never come nearer.
///
/// The distance is convex in `s`, so neither a tangent nor a chord drawn from outside steps past the end. With a worst
/// case it is so but for what an angle turns on the way, some 1e-3 of it: a step that goes too far is taken back by
/// halves.
pub(super) fn end_from(start: f64, margin: f64, near: impl Fn(f64) -> Near) -> Option<f64> {
    let mut clear = (start, near(start));
    for _ in 0..MOST_STEPS {
        let (s, here) = clear;
        if here.distance <= margin + FINE {
            return (here.slope > GRAZE || here.distance < STEERS).then_some(s);
        }
        let slope = if here.distance >= STEERS { here.slope } else { chord(&near, s, here.distance) };
        if slope <= GRAZE {
            return None;
        }
        let next = s - (here.distance - margin) / slope;
        if next >= s {
            return Some(s);
        }
        let there = near(next);
        if there.distance < margin {
            return Some(by_halves(next, s, margin, near));
        }
        clear = (next, there);
    }
    Some(clear.0)
}

/// The slope at `s` from two distances, a little further out: a chord, which is no flatter than what lies before it.
fn chord(near: &impl Fn(f64) -> Near, s: f64, distance: f64) -> f64 {
    let step = distance.max(1e-3);
    (near(s + step).distance - distance) / step
}

fn by_halves(mut bad: f64, mut clear: f64, margin: f64, near: impl Fn(f64) -> Near) -> f64 {
    while clear - bad > FINE {
        let middle = f64::midpoint(bad, clear);
        if near(middle).distance < margin { bad = middle } else { clear = middle }
    }
    clear
}
