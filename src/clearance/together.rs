//! Which pairs of fillers are good? All of them, as what is left of the plane of (left, right) between convex bad sets.
//!
//! [`FillerMap::of`] takes a [`Plan`] and tells where in the plane something is in conflict, and three good pairs of whole
//! shop steps: with the least sum, with the least floor lost, and with both alike. Widths are in mm.
//!
//! What slides is bad against each piece in a convex set of pairs (see [`super::map::level`]). What swings is held at
//! angles: all that it passes over in a step is its hull and a bulge, bad in a convex set; where that lies in the set of one
//! angle, told [`SWING_EASE`] too large, the step is done, and so where no point moves further than that in half of it;
//! otherwise it is halved. A filler face that grows with its filler
//! is bad in sets that grow with it: stairs, as fine as [`STAIR`]. All three err on the safe side. The three pairs do not
//! come from these outlines: they are searched for and checked as every least filler is.
//!
//! What this does not do: the other questions of a width, how it looks or what is stored, are the builder's.

use super::filler::{Scope, Solver};
use super::map::Point;
use super::map::level::{FINE, Meeting, lies_in};
use super::map::plane::{area, clip, holds_inside, rectangle};
use super::pairs::{Pair, Scene};
use super::stairs::{Stair, stairs};
use super::sweep::Swept;
use super::swing::Swinging;
use super::tolerance::{SAME, STEERS, SWING, WIDEST_FILLER};
use super::{least_of_both, solver_model};
use crate::length::Length;
use crate::model::{Fillers, Model, Vec3};
use crate::plan::{Plan, Side};
use std::collections::VecDeque;

/// How much too large the bad set of a swing may be told, in mm of distance.
const SWING_EASE: f64 = 0.5;

/// How far the outlines for a swing may lie outside their sets, mm.
const COARSE: f64 = 0.1;

/// How much too large the bad set of a face that grows may be told, mm.
const STAIR: f64 = 0.1;

/// A map is drawn a little past the last place where anything changes, and at least this far, mm. Our own choice.
const DRAWN_AT_LEAST: f64 = 100.0;

/// What is good and what is bad in the plane of both fillers' widths.
#[derive(Clone, Debug, PartialEq)]
pub struct FillerMap {
    /// The pairs (left, right) with which something is in conflict; they may overlap.
    pub bad: Vec<BadFillers>,
    /// How far the outlines may lie outside what is bad, mm.
    pub error_mm: f64,
    /// From there on nothing changes: no need to draw further, mm.
    pub drawn_to: f64,
    /// Whether anything depends on both: whether a wider left filler lets the right one be narrower, or the other way
    /// round.
    pub interact: bool,
    /// What the pairs below clear.
    pub cleared: Cleared,
    /// The pair of shop steps with the least sum, then the most equal, then the smaller left.
    pub least_sum: Option<FillerPair>,
    /// The pair of shop steps with the least floor lost, then the most equal, then the smaller left.
    pub least_floor: Option<FillerPair>,
    /// The least two of the same shop step.
    pub equal: Option<FillerPair>,
    floor: Floor,
}

/// The floor that no unit stands on, from both back planes to both front planes.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Floor {
    /// With no fillers, mm².
    none: f64,
    /// What a millimetre of each filler adds: the depths of the runs.
    per_mm: [f64; 2],
}

impl Floor {
    /// Each run adds a rectangle as deep as itself to two triangles: between the feet of the front planes' meeting line,
    /// that line and the origin.
    fn of(model: &Model) -> Self {
        let none = model.runs.iter().map(|run| run.corner_at * run.depth / 2.0).sum();
        Self { none, per_mm: Side::BOTH.map(|side| model.run(side).depth) }
    }

    fn with(&self, left: f64, right: f64) -> f64 {
        self.none + self.per_mm[0] * left + self.per_mm[1] * right
    }
}

/// A convex set of pairs of widths with which something is in conflict.
#[derive(Clone, Debug, PartialEq)]
pub struct BadFillers {
    /// The names of what conflicts; `None` where a run is too long for its wall.
    pub names: Option<[String; 2]>,
    /// All that is bad for these two lies within, counter-clockwise.
    pub outer: Vec<Point>,
    /// All within is bad; may be empty.
    pub inner: Vec<Point>,
}

/// What a pair of fillers was asked to clear.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cleared {
    /// Everything opens and fits.
    Everything,
    /// Everything opens; no sensible width makes the runs fit.
    AllThatOpens,
    /// What opens passes the other run; no sensible width clears what else stands in the room.
    PastTheRuns,
}

/// One pair of fillers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FillerPair {
    /// Both widths.
    pub fillers: Fillers,
    /// The floor that no unit stands on, from both back planes to both front planes, mm².
    pub floor_mm2: f64,
}

impl FillerMap {
    /// Every good pair of fillers of `plan`; whether it fixes them or not does not matter.
    #[must_use]
    pub fn of(plan: &Plan) -> Self {
        let model = solver_model(plan);
        let scene = Scene::new(&model);
        let solver = Solver::new(&scene);
        let step = plan.clearance.shop_step;
        let (scope, least) = least_of_both(&solver, step.to_mm());
        let is_good = |steps: &[f64; 2]| solver.bad_pair(steps.map(|s| s * step.to_mm()), scope, false).is_none();
        let floor = Floor::of(&model);
        let pair = |steps: [f64; 2]| {
            let [left, right] = steps.map(|count| step * count);
            FillerPair { fillers: Fillers { left, right }, floor_mm2: floor.with(left.to_mm(), right.to_mm()) }
        };
        let (bad, error_mm) = Bad::of(&solver, scope);
        Self {
            error_mm,
            drawn_to: drawn_to(&bad),
            interact: bad.iter().any(|bad| depends_on_both(&bad.outer)),
            bad,
            cleared: match scope {
                Scope::All => Cleared::Everything,
                Scope::Opening => Cleared::AllThatOpens,
                Scope::Own | Scope::Corner => Cleared::PastTheRuns,
            },
            least_sum: Some(least).filter(is_good).map(pair),
            least_floor: solver.least_pair(step.to_mm(), scope, floor.per_mm).map(pair),
            equal: solver.least_equal(step.to_mm(), scope).map(|steps| pair([steps; 2])),
            floor,
        }
    }

    /// The floor lost with these widths, mm²: what no unit stands on, from both back planes to both front planes.
    #[must_use]
    pub fn floor_mm2(&self, left: f64, right: f64) -> f64 {
        self.floor.with(left, right)
    }

    /// What is in conflict with these widths; on the safe side by [`FillerMap::error_mm`]. Equality is clear.
    #[must_use]
    pub fn bad_at(&self, left: f64, right: f64) -> Option<&BadFillers> {
        // No width is less than 0, and the outlines begin a little below.
        self.bad.iter().find(|bad| holds_inside(&bad.outer, [left, right]))
    }
}

impl FillerPair {
    /// Both widths together.
    #[must_use]
    pub fn sum(&self) -> Length {
        self.fillers.left + self.fillers.right
    }
}

/// Whether an outline is no strip across the whole plane.
fn depends_on_both(outline: &[Point]) -> bool {
    let spans = |k: usize| {
        let (low, high) =
            outline.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), p| (l.min(p[k]), h.max(p[k])));
        low <= 0.0 && high >= WIDEST_FILLER
    };
    !spans(0) && !spans(1)
}

fn drawn_to(bad: &[BadFillers]) -> f64 {
    let corners = bad.iter().flat_map(|bad| bad.outer.iter().flatten());
    let last = corners.copied().filter(|&x| x < WIDEST_FILLER).fold(0.0, f64::max);
    (last * 1.1).clamp(DRAWN_AT_LEAST, WIDEST_FILLER)
}

/// Gathers what is bad.
struct Bad<'a, 's, 'm> {
    solver: &'a Solver<'s, 'm>,
    whole: Vec<Point>,
    found: Vec<BadFillers>,
    error: f64,
}

impl<'a, 's, 'm> Bad<'a, 's, 'm> {
    fn of(solver: &'a Solver<'s, 'm>, scope: Scope) -> (Vec<BadFillers>, f64) {
        // From a little below 0, so that a width of 0 lies within and not on an edge.
        let whole = rectangle([-1.0; 2], [WIDEST_FILLER + 1.0; 2]);
        let mut bad = Self { solver, whole, found: Vec::new(), error: 0.0 };
        if scope == Scope::All {
            bad.too_long();
        }
        let counted =
            |pair: &&Pair| solver.counts(pair, scope, None) && [0, 1].iter().any(|&k| solver.is_parted_by(pair, k));
        let (mut slides, mut others) = (Vec::new(), Vec::new());
        for (index, pair) in solver.pairs.iter().enumerate().filter(|(_, pair)| counted(pair)) {
            let grows =
                [0, 1].into_iter().find(|&k| solver.stretches(pair.piece, k) || solver.stretches(pair.other, k));
            if let (None, None) = (grows, solver.scene.swing(pair)) {
                let outline = bad.meeting(pair).map(|meeting| meeting.by_boxes(&bad.whole)).unwrap_or_default();
                slides.extend((!outline.is_empty()).then(|| (area(&outline), pair, outline)));
            } else {
                others.push((index, pair, grows));
            }
        }
        // The largest first: they hold most of the rest. The sort is stable, so equals keep their order.
        slides.sort_by(|a, b| b.0.total_cmp(&a.0));
        for (_, pair, outline) in slides {
            bad.add_slide(pair, &outline);
        }
        // A door's front before its knob.
        let size = |pair: &Pair| {
            let (own, other) = (solver.scene.own_bounds(pair), solver.scene.pieces[pair.other].bounds);
            (own.high - own.low).length() * (other.high - other.low).length()
        };
        others.sort_by(|a, b| size(b.1).total_cmp(&size(a.1)));
        for (index, pair, grows) in others {
            match grows {
                Some(k) => bad.add_growing(pair, k),
                None => bad.add_swing(index, pair),
            }
        }
        (bad.found, bad.error)
    }

    fn too_long(&mut self) {
        for index in 0..self.solver.scene.model.runs.len() {
            let (none, rates) = self.solver.left_over(index);
            let outer = clip(&self.whole, rates.map(|rate| -rate), none + SAME);
            if !outer.is_empty() {
                self.found.push(BadFillers { names: None, inner: outer.clone(), outer });
            }
        }
    }

    /// The pair's two pieces as they stand with no fillers, and where each filler carries them.
    fn meeting(&self, pair: &Pair) -> Option<Meeting<'m>> {
        let scene = self.solver.scene;
        let ([own, other], none) = ([pair.piece, pair.other].map(|k| &scene.pieces[k]), [0.0; 2]);
        let sweep = pair.moving.map_or(Vec3::ZERO, |(id, index)| scene.movers[id.0][index].sweep);
        let a = Swept { sweep, ..Swept::still(own.shape) }.moved(scene.carried(pair.piece, none));
        let b = scene.standing(pair, other.shape, none);
        Some(Meeting { a, b, ways: [0, 1].map(|k| self.solver.against(pair, k)), margin: pair.margin, fine: FINE })
    }

    fn names(&self, pair: &Pair) -> Option<[String; 2]> {
        Some(self.solver.scene.parts(pair).map(|id| self.solver.scene.model.part(id).name.clone()))
    }

    /// Whether all of an outline is told as bad already.
    fn is_known(&self, outline: &[Point]) -> bool {
        self.found.iter().any(|bad| lies_in(outline, &bad.outer))
    }

    fn add_slide(&mut self, pair: &Pair, outline: &[Point]) {
        if self.is_known(outline) {
            return;
        }
        let Some(level) = self.meeting(pair).and_then(|meeting| meeting.level(outline)) else { return };
        if !self.is_known(&level.outer) {
            self.error = self.error.max(level.error);
            self.found.push(BadFillers { names: self.names(pair), outer: level.outer, inner: level.inner });
        }
    }

    /// A piece grows with filler `k`: what it is bad for with one width it is bad for with every greater one.
    fn add_growing(&mut self, pair: &Pair, k: usize) {
        let other = 1 - k;
        let end = WIDEST_FILLER + 1.0;
        if !self.solver.is_parted_by(pair, other) {
            for [low, high] in self.solver.solve(pair, k, [0.0; 2], &[]) {
                let outer = strip(k, [low, high]);
                self.found.push(BadFillers { names: self.names(pair), inner: outer.clone(), outer });
            }
            return;
        }
        let bad_with = |width: f64| {
            let mut widths = [0.0; 2];
            widths[k] = width;
            let found = self.solver.solve(pair, other, widths, &[]);
            let found = found.into_iter().map(|[low, high]| [low.max(-1.0), high.min(end)]);
            found.filter(|[low, high]| low < high).collect()
        };
        // All pairs with filler `k` between two widths and the other between two; a hair before, so that no pair lies
        // between two steps.
        let step = |[from, to]: [f64; 2], across: [f64; 2]| {
            let mut corners = [[if from <= 0.0 { -1.0 } else { from - 4.0 * SAME }, across[0]], [to, across[1]]];
            if k == 1 {
                corners = corners.map(|[x, y]| [y, x]);
            }
            rectangle(corners[0], corners[1])
        };
        let stair = if self.solver.is_swing(pair) { SWING_EASE } else { STAIR };
        let is_known = |steps, across| self.is_known(&step(steps, across));
        for Stair { steps, outer, inner } in stairs(end, stair, bad_with, is_known) {
            let (outer, inner) = (step(steps, outer), inner.map(|inner| step(steps, inner)).unwrap_or_default());
            if !self.is_known(&outer) {
                self.error = self.error.max(stair);
                self.found.push(BadFillers { names: self.names(pair), outer, inner });
            }
        }
    }

    fn add_swing(&mut self, index: usize, pair: &Pair) {
        let k = usize::from(!self.solver.is_parted_by(pair, 0));
        if let Some(intervals) = self.solver.for_good(index, k, true) {
            let strips: Vec<Vec<Point>> = intervals.iter().map(|&interval| strip(k, interval)).collect();
            self.error = self.error.max(SWING);
            for outer in strips {
                if !self.is_known(&outer) {
                    self.found.push(BadFillers { names: self.names(pair), inner: outer.clone(), outer });
                }
            }
            return;
        }
        let (Some(swing), Some(meeting)) = (self.solver.scene.swing(pair), self.meeting(pair)) else { return };
        let meeting = Meeting { fine: COARSE, ..meeting };
        let mut steps: VecDeque<[f64; 2]> = swing.first_steps().collect();
        while let Some([from, to]) = steps.pop_front() {
            let Some(over) = self.passed_over(swing, &meeting, [from, to]) else { continue };
            // No point of the piece is further than half the step from where it is at its middle.
            let moves = swing.radius() * (to - from) / 2.0;
            let middle = f64::midpoint(from, to);
            let turned = swing.at(middle);
            let a = Swept::still(&turned).moved(meeting.a.at);
            let ease = Meeting { a, margin: pair.margin + SWING_EASE, ..meeting };
            let level = ease.level(&self.whole);
            let done = level.as_ref().is_some_and(|level| lies_in(&over, &level.outer));
            if let Some(level) = level
                && !self.is_known(&level.outer)
            {
                self.error = self.error.max(SWING_EASE + level.error);
                self.found.push(BadFillers { names: self.names(pair), outer: level.outer, inner: Vec::new() });
            }
            if !done && moves > SWING_EASE {
                steps.push_back([from, middle]);
                steps.push_back([middle, to]);
            }
        }
    }

    /// The pairs that are bad for all that a swing passes over in one step, and a little more; `None` where there are none,
    /// or all of them are known.
    fn passed_over(&self, swing: &Swinging, meeting: &Meeting<'_>, [from, to]: [f64; 2]) -> Option<Vec<Point>> {
        let (first, last) = (swing.at(from), swing.at(to));
        let hull = Swept { twin: Some(&last), ..Swept::still(&first) }.moved(meeting.a.at);
        let margin = (meeting.margin + swing.bulge(to - from)).max(STEERS);
        let over = Meeting { a: hull, margin, ..*meeting };
        let outline = over.by_boxes(&self.whole);
        if outline.is_empty() || self.is_known(&outline) {
            return None;
        }
        over.level(&outline).map(|level| level.outer).filter(|outer| !self.is_known(outer))
    }
}

/// All pairs of which filler `k` lies in an interval.
fn strip(k: usize, [low, high]: [f64; 2]) -> Vec<Point> {
    let (mut from, mut to) = ([-1.0; 2], [WIDEST_FILLER + 1.0; 2]);
    (from[k], to[k]) = (low, high);
    rectangle(from, to)
}
