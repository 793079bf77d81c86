//! How wide must the fillers be? The exact set of good widths of one side, and the least pair of both.
//!
//! Against each pair the bad widths of one filler, the other held, are one open interval (see [`super::travel`]); the
//! bad set is the union over pairs. Pairs that a filler does not move against each other say nothing about its width.
//! In both fillers together: see [`super::search`].

use std::cell::OnceCell;

use super::pairs::{Pair, Scene};
use super::search::{Search, Witness};
use super::sweep::{Closest, Swept, closest};
use super::swing::{covered, insert};
use super::tolerance::{SAME, WIDEST_FILLER};
use super::travel::{Interval, comes_too_near, nearest_on_the_way, too_near};
use crate::model::{MoverId, RuleClass, Vec3};
use crate::plan::Side;

/// What a pair of fillers is up against.
#[derive(Debug)]
pub(super) struct Solver<'s, 'm> {
    pub(super) scene: &'s Scene<'m>,
    pub(super) pairs: Vec<Pair>,
    /// For each pair that swings and that only one filler can part, what that filler's bad widths are, once asked for:
    /// the other filler does not come into it.
    once: Vec<OnceCell<Vec<Interval>>>,
}

/// Which pairs a filler is held to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Scope {
    /// Every pair that the filler moves, and that the runs fit the room.
    All,
    /// Every pair with a moving part; the runs need not fit.
    Opening,
    /// What opens on the filler's own run, which is what the filler is for.
    Own,
    /// The same, past the other run alone and not past what else stands in the room.
    Corner,
}

/// The widths of one side that pass, the other held.
#[derive(Clone, Debug)]
pub(super) struct Widths {
    /// Bad widths, as disjoint open intervals in order.
    bad: Vec<Interval>,
}

impl Widths {
    /// The good widths as closed ranges, the last without an end where nothing stops it.
    pub(super) fn good(&self) -> Vec<(f64, Option<f64>)> {
        let mut ranges = Vec::new();
        let mut from = 0.0;
        let mut open = true;
        for &[low, high] in &self.bad {
            if high <= 0.0 {
                continue;
            }
            if low >= from {
                ranges.push((from, Some(low)));
            }
            from = high;
            if high >= WIDEST_FILLER {
                open = false;
                break;
            }
        }
        if open {
            ranges.push((from, None));
        }
        ranges
    }
}

/// No limit to the count of steps.
pub(super) const ANY_STEP: [f64; 2] = [0.0, f64::INFINITY];

fn snapped_up(width: f64, step: f64) -> f64 {
    crate::length::Length::mm(width).steps_up(crate::length::Length::mm(step))
}

impl<'s, 'm> Solver<'s, 'm> {
    /// Finds the pairs that fillers can part.
    pub(super) fn new(scene: &'s Scene<'m>) -> Self {
        let pairs = scene.pairs(0.0, true);
        let once = pairs.iter().map(|_| OnceCell::new()).collect();
        Self { scene, pairs, once }
    }

    /// The bad widths of filler `k` against a pair that swings and that the other filler does not part: what is known
    /// of them already, or all of them where they will be asked for `again` and again.
    pub(super) fn for_good(&self, index: usize, k: usize, again: bool) -> Option<&[Interval]> {
        let pair = &self.pairs[index];
        if !self.is_swing(pair) || self.is_parted_by(pair, 1 - k) || !self.is_parted_by(pair, k) {
            return None;
        }
        let once = &self.once[index];
        if again {
            return Some(once.get_or_init(|| self.solve(pair, k, [0.0; 2], &[])));
        }
        once.get().map(Vec::as_slice)
    }

    /// Whether filler `k` moves the pair's pieces against each other.
    pub(super) fn is_parted_by(&self, pair: &Pair, k: usize) -> bool {
        self.stretches(pair.other, k) || self.stretches(pair.piece, k) || self.against(pair, k).length_squared() > 1e-18
    }

    /// Whether `pair` counts in `scope` for the filler of `side`; for both fillers where there is no side.
    pub(super) fn counts(&self, pair: &Pair, scope: Scope, side: Option<Side>) -> bool {
        let own = |id: MoverId| {
            let mover = self.scene.model.mover(id);
            !mover.of_the_room && side.is_none_or(|side| mover.side == side)
        };
        let past_a_run = matches!(self.scene.pieces[pair.other].part.class, RuleClass::Run | RuleClass::Appliance);
        match (scope, pair.moving) {
            (Scope::All, _) | (Scope::Opening, Some(_)) => true,
            (Scope::Own, Some((id, _))) => own(id),
            (Scope::Corner, Some((id, _))) => own(id) && past_a_run,
            (Scope::Opening | Scope::Own | Scope::Corner, None) => false,
        }
    }

    /// What boxes leave open: for each pair of the scope, the widths at which it may be bad. The longest first, since
    /// they hide most of the rest; slides before swings, since they are quick.
    fn tasks(&self, k: usize, widths: [f64; 2], scope: Scope) -> Vec<(Interval, usize)> {
        let side = Side::BOTH[k];
        let mut tasks: Vec<(Interval, usize)> = self
            .pairs
            .iter()
            .enumerate()
            .filter(|(_, pair)| self.counts(pair, scope, Some(side)))
            .filter_map(|(index, pair)| Some((self.by_boxes(pair, k, widths)?, index)))
            .collect();
        let swings = |task: &(Interval, usize)| self.is_swing(&self.pairs[task.1]);
        let length = |task: &(Interval, usize)| task.0[1] - task.0[0];
        tasks.sort_by(|a, b| swings(a).cmp(&swings(b)).then(length(b).total_cmp(&length(a))).then(a.1.cmp(&b.1)));
        tasks
    }

    /// The least good width of `side` that is not below `from`, the other filler being `held`; and the pair that
    /// decides it. Solves only the pairs that stand in the way.
    pub(super) fn least_from(&self, side: Side, held: f64, scope: Scope, from: f64) -> Option<(f64, Option<Pair>)> {
        Least::new(self, side, held, scope).from(from, WIDEST_FILLER)
    }

    /// The least count of whole `step`s that is good, from `from` steps on and up to `most` of them.
    pub(super) fn least_step(
        &self,
        side: Side,
        held: f64,
        scope: Scope,
        step: f64,
        [from, most]: [f64; 2],
    ) -> Option<f64> {
        let least = Least::new(self, side, held, scope);
        let limit = most * step + SAME;
        let mut width = least.from(from * step, limit)?.0;
        loop {
            let steps = snapped_up(width, step);
            let on_step = steps * step;
            // A step within the snap of the end of a bad interval is that end.
            if on_step <= width {
                return Some(steps);
            }
            let next = least.from(on_step, limit)?.0;
            if next <= on_step + SAME {
                return Some(steps);
            }
            width = next;
        }
    }

    /// The bad widths of `side`, the other filler being `held`.
    pub(super) fn widths(&self, side: Side, held: f64, scope: Scope) -> Widths {
        let k = usize::from(side == Side::Right);
        let mut widths = [held; 2];
        widths[k] = 0.0;
        let tasks = self.tasks(k, widths, scope);
        let mut found = Widths { bad: Vec::new() };
        if scope == Scope::All {
            for interval in self.too_long(k, widths) {
                insert(&mut found.bad, interval);
            }
        }
        for (outer, index) in tasks {
            if covered(outer, &found.bad) {
                continue;
            }
            let intervals = match self.for_good(index, k, false) {
                Some(intervals) => intervals.to_vec(),
                None => self.solve(&self.pairs[index], k, widths, &found.bad),
            };
            for interval in intervals {
                if interval[1] > 0.0 && interval[0] < WIDEST_FILLER {
                    insert(&mut found.bad, interval);
                }
            }
        }
        found
    }

    pub(super) fn is_swing(&self, pair: &Pair) -> bool {
        self.scene.swing(pair).is_some()
    }

    /// What run `index` leaves of its wall with no fillers, and what each filler adds to that a millimetre.
    pub(super) fn left_over(&self, index: usize) -> (f64, [f64; 2]) {
        let model = self.scene.model;
        let run = &model.runs[index];
        let own = run.along.dot(run.wall_along);
        let rates = [0, 1].map(|k| {
            let room = if k == 1 { model.room_shift.dot(run.wall_along) } else { 0.0 };
            if k == index { room - own } else { room }
        });
        let built = [model.fillers.left.to_mm(), model.fillers.right.to_mm()];
        (run.left_over - rates[0] * built[0] - rates[1] * built[1], rates)
    }

    /// Widths at which a run is longer than its wall.
    fn too_long(&self, k: usize, widths: [f64; 2]) -> Vec<Interval> {
        let mut found = Vec::new();
        for index in 0..self.scene.model.runs.len() {
            let (none, rates) = self.left_over(index);
            let left_over = none + rates[0] * widths[0] + rates[1] * widths[1];
            let per_mm = rates[k];
            if per_mm < -1e-9 {
                let longest = (left_over / -per_mm).max(-1.0) + SAME;
                if longest < WIDEST_FILLER {
                    found.push([longest, WIDEST_FILLER + 1.0]);
                }
            } else if per_mm > 1e-9 && left_over < 0.0 {
                found.push([-1.0, -left_over / per_mm - SAME]);
            }
        }
        found
    }

    /// How `pair`'s first piece goes against its second for each millimetre of filler `k`.
    pub(super) fn against(&self, pair: &Pair, k: usize) -> Vec3 {
        self.scene.pieces[pair.piece].shift[k] - self.scene.pieces[pair.other].shift[k]
    }

    pub(super) fn stretches(&self, piece: usize, k: usize) -> bool {
        let side = [Side::Left, Side::Right][k];
        self.scene.pieces[piece].stretch.as_ref().is_some_and(|stretch| stretch.side == side)
    }

    /// The widths that the pair's bounding boxes leave open, or `None` where they meet at no width or at every one.
    fn by_boxes(&self, pair: &Pair, k: usize, widths: [f64; 2]) -> Option<Interval> {
        if self.stretches(pair.other, k) || self.stretches(pair.piece, k) {
            return Some([0.0, WIDEST_FILLER]);
        }
        let u = self.against(pair, k);
        if u.length_squared() < 1e-18 {
            return None;
        }
        let scene = self.scene;
        let own = scene.own_bounds(pair).moved(scene.carried(pair.piece, widths));
        let other = scene.bounds_at(pair.other, widths);
        own.meeting(&other, u, pair.margin)
    }

    /// The bad widths of one pair.
    pub(super) fn solve(&self, pair: &Pair, k: usize, widths: [f64; 2], known: &[Interval]) -> Vec<Interval> {
        if self.stretches(pair.other, k) || self.stretches(pair.piece, k) {
            return self.solve_stretch(pair, k, widths).into_iter().collect();
        }
        let scene = self.scene;
        let Some(shape) = scene.shape(pair.other, widths) else { return Vec::new() };
        let b = scene.standing(pair, &shape, widths);
        let (at, u) = (scene.carried(pair.piece, widths), self.against(pair, k));
        if let Some(swing) = scene.swing(pair) {
            return swing.too_near(&b.moved(-at), u, pair.margin, [-1.0, WIDEST_FILLER + 1.0], known);
        }
        let Some(own) = scene.shape(pair.piece, widths) else { return Vec::new() };
        let sweep = pair.moving.map_or(Vec3::ZERO, |(id, index)| scene.movers[id.0][index].sweep);
        let a = Swept { piece: &own, twin: None, at, sweep };
        too_near(&a, &b, u, pair.margin).into_iter().collect()
    }

    /// A piece that stretches only ever comes nearer: bad from some width on. By halves.
    fn solve_stretch(&self, pair: &Pair, k: usize, mut widths: [f64; 2]) -> Option<Interval> {
        let mut bad_at = |width: f64| {
            widths[k] = width;
            self.scene.is_too_near(pair, widths)
        };
        let end = WIDEST_FILLER + 1.0;
        if !bad_at(end) {
            return None;
        }
        let (mut low, mut high) = (0.0, end);
        if bad_at(low) {
            return Some([-1.0, end]);
        }
        while high - low > SAME / 10.0 {
            let middle = f64::midpoint(low, high);
            if bad_at(middle) { high = middle } else { low = middle }
        }
        Some([low, end])
    }

    /// The least pair of whole steps that passes on both sides, a millimetre of each filler weighing as much as `weights`
    /// says: least weight, then most equal, then smaller left. Least sum where both weigh 1.
    pub(super) fn least_pair(&self, step: f64, scope: Scope, weights: [f64; 2]) -> Option<[f64; 2]> {
        let start = self.settle(step, scope);
        Search::new(self, step, scope, weights).run(start)
    }

    /// The least count of whole steps that passes on both sides alike.
    pub(super) fn least_equal(&self, step: f64, scope: Scope) -> Option<f64> {
        let mut steps = 0.0;
        let mut known: Option<Witness> = None;
        while steps * step <= WIDEST_FILLER {
            let widths = [steps * step; 2];
            // What was bad a step ago mostly still is.
            if !known.is_some_and(|witness| self.holds(witness, widths)) {
                known = self.bad_pair(widths, scope, true);
                if known.is_none() {
                    return Some(steps);
                }
            }
            steps += 1.0;
        }
        None
    }

    /// A good pair of steps to start from: each side's own least in turn, until neither changes; `None` where they
    /// chase each other or leave something in conflict.
    fn settle(&self, step: f64, scope: Scope) -> Option<[f64; 2]> {
        let mut steps = [0.0, 0.0];
        for _ in 0..8 {
            let left = self.least_step(Side::Left, steps[1] * step, Scope::Own, step, ANY_STEP)?;
            let right = self.least_step(Side::Right, left * step, Scope::Own, step, ANY_STEP)?;
            if steps == [left, right] {
                return self.bad_pair([left * step, right * step], scope, false).is_none().then_some(steps);
            }
            steps = [left, right];
        }
        None
    }

    /// A pair that is too near at these widths, pinned to where it is; `None` where none is. Slides first, since they
    /// are quick. `again` where this will be asked of many widths.
    pub(super) fn bad_pair(&self, widths: [f64; 2], scope: Scope, again: bool) -> Option<Witness> {
        let is_bad = |index: usize| {
            let pair = &self.pairs[index];
            let alone = [0, 1].into_iter().find_map(|k| Some((k, self.for_good(index, k, again)?)));
            match alone {
                Some((k, intervals)) => intervals.iter().any(|i| i[0] < widths[k] && widths[k] < i[1]),
                None => self.scene.is_too_near(pair, widths),
            }
        };
        let counted = |index: &usize| {
            let pair = &self.pairs[*index];
            self.counts(pair, scope, None)
                && [0, 1].iter().any(|&k| self.is_parted_by(pair, k))
                && self.boxes_meet(pair, widths)
        };
        let (swings, slides): (Vec<usize>, Vec<usize>) =
            (0..self.pairs.len()).filter(counted).partition(|&index| self.is_swing(&self.pairs[index]));
        let found = slides.into_iter().chain(swings).find(|&index| is_bad(index))?;
        Some(Witness { pair: found, angle: self.worst_angle(&self.pairs[found], widths) })
    }

    fn boxes_meet(&self, pair: &Pair, widths: [f64; 2]) -> bool {
        let scene = self.scene;
        if scene.pieces[pair.other].stretch.is_some() || scene.pieces[pair.piece].stretch.is_some() {
            return true;
        }
        let own = scene.own_bounds(pair).moved(scene.carried(pair.piece, widths));
        let other = scene.bounds_at(pair.other, widths);
        own.gap(&other) <= pair.margin
    }

    /// For a swinging pair, an angle at which it is near: held there, its bad set is convex like any other's.
    fn worst_angle(&self, pair: &Pair, widths: [f64; 2]) -> Option<f64> {
        let scene = self.scene;
        let swing = scene.swing(pair)?;
        let shape = scene.shape(pair.other, widths)?;
        let b = scene.standing(pair, &shape, widths).moved(-scene.carried(pair.piece, widths));
        Some(swing.somewhere_near(&b))
    }

    /// Whether a witness is too near at these widths.
    pub(super) fn holds(&self, witness: Witness, widths: [f64; 2]) -> bool {
        let (scene, pair) = (self.scene, &self.pairs[witness.pair]);
        let (Some(angle), Some(swing)) = (witness.angle, scene.swing(pair)) else {
            return scene.is_too_near(pair, widths);
        };
        let Some(shape) = scene.shape(pair.other, widths) else { return false };
        let turned = swing.at(angle);
        let a = Swept::still(&turned).moved(scene.carried(pair.piece, widths));
        comes_too_near(&a, &scene.standing(pair, &shape, widths), pair.margin)
    }
}

/// Looks for the least good width of one side.
struct Least<'a, 's, 'm> {
    solver: &'a Solver<'s, 'm>,
    k: usize,
    widths: [f64; 2],
    tasks: Vec<(Interval, usize)>,
    too_long: Vec<Interval>,
}

impl<'a, 's, 'm> Least<'a, 's, 'm> {
    fn new(solver: &'a Solver<'s, 'm>, side: Side, held: f64, scope: Scope) -> Self {
        let k = usize::from(side == Side::Right);
        let mut widths = [held; 2];
        widths[k] = 0.0;
        let tasks = solver.tasks(k, widths, scope);
        let too_long = if scope == Scope::All { solver.too_long(k, widths) } else { Vec::new() };
        Self { solver, k, widths, tasks, too_long }
    }

    /// The least good width from `from` up to `most`, and the pair that is bad just below it.
    fn from(&self, from: f64, most: f64) -> Option<(f64, Option<Pair>)> {
        let mut width = from.max(0.0);
        let mut decider = None;
        while width <= most.min(WIDEST_FILLER) {
            let Some((end, pair)) = self.bad_at(width) else { return Some((width, decider)) };
            width = end;
            decider = pair;
        }
        None
    }

    /// Where the bad interval around `width` ends, if `width` is bad, and whose it is.
    fn bad_at(&self, width: f64) -> Option<(f64, Option<Pair>)> {
        let holds = |interval: &Interval| interval[0] < width && width < interval[1];
        if let Some(interval) = self.too_long.iter().find(|interval| holds(interval)) {
            return Some((interval[1], None));
        }
        let mut there = self.widths;
        there[self.k] = width;
        for (outer, index) in &self.tasks {
            let pair = &self.solver.pairs[*index];
            if !holds(outer) {
                continue;
            }
            if let Some(intervals) = self.solver.for_good(*index, self.k, false) {
                if let Some(interval) = intervals.iter().find(|interval| holds(interval)) {
                    return Some((interval[1], Some(*pair)));
                }
                continue;
            }
            if !self.solver.scene.is_too_near(pair, there) {
                continue;
            }
            let solved = self.solver.solve(pair, self.k, self.widths, &[]);
            if let Some(interval) = solved.iter().find(|interval| holds(interval)) {
                return Some((interval[1], Some(*pair)));
            }
        }
        None
    }
}

/// How `pair` stands at these widths, at its nearest on the way: how far out, and the closest points; `None` where it
/// stays `cutoff` away.
pub(super) fn nearest(scene: &Scene<'_>, pair: &Pair, widths: [f64; 2], cutoff: f64) -> Option<(f64, Closest)> {
    let shape = scene.shape(pair.other, widths)?;
    let b = scene.standing(pair, &shape, widths);
    let at = scene.carried(pair.piece, widths);
    let own = scene.shape(pair.piece, widths)?;
    let a = Swept { piece: &own, twin: None, at, sweep: Vec3::ZERO };
    let Some((id, index)) = pair.moving else { return Some((0.0, closest(&a, &b))) };
    let moving = &scene.movers[id.0][index];
    if let Some(swings) = &moving.swing {
        let (angle, mut found) = swings[0].nearest(&b.moved(-at), cutoff)?;
        found.points = found.points.map(|p| p + at);
        return Some((angle, found));
    }
    let least = closest(&Swept { sweep: moving.sweep, ..a }, &b).distance;
    if least >= cutoff {
        return None;
    }
    Some(nearest_on_the_way(&a, &b, moving.sweep, least))
}
