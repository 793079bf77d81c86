//! Which pairs can decide? Found once, with the proof that the rest cannot.
//!
//! For each pair the widths of a filler at which it is too near are one open interval. How far that interval can reach
//! with anything off within the tolerances is bounded twice: no point moves farther than a known length, so the plan's
//! own distance less that length is a bound that costs one query; and the worst case itself (see the module `body`) is a
//! finer one. From below: what a piece keeps of itself when it is drawn in by that length is inside it whatever is off, so
//! widths that are bad for the drawn-in pieces are bad always. A pair whose interval never reaches past those widths
//! decides nothing, in no sample.
//!
//! A swing is cut into steps, each the hull of where it begins and ends, wider by the arc's bulge; steps are halved until
//! the hull leaves what is passed over by no more than [`SWING_FINE`], on the safe side, or cannot decide.

use std::collections::BinaryHeap;

use super::body::{Body, Errors, Pair, end_from};
use super::cause::Causes;
use crate::clearance::{Meeting, TurnedHull, drawn_in};
use crate::model::{Convex, Model, Motion, MoverId, PartId, RuleClass, Vec3};
use crate::plan::Side;

/// Nearer than this counts as touching, in mm: far below anything that is built.
pub(super) const TOUCHING: f64 = 1e-3;
/// Swings are judged to this, on the safe side, in mm.
pub(super) const SWING_FINE: f64 = 0.1;
/// Steps that a swing is cut into from the start. Our own choice.
const FIRST_STEPS: u32 = 12;

/// How far a filler is taken to carry a body at first, in mm either way; see [`Scene::carried`]. Our own choice.
pub(super) const CARRIED: f64 = 200.0;

/// Everything the search for deciding pairs looks at.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scene<'a> {
    pub(super) model: &'a Model,
    pub(super) causes: &'a Causes,
    /// The most that each cause can be off.
    pub(super) most: &'a [f64],
    pub(super) meetings: &'a [Meeting],
    /// What must be kept, mm.
    pub(super) margin: f64,
    /// How far a filler carries a body either way from where the model has it, mm: what an angle then moves it besides
    /// counts to what it moves at most.
    pub(super) carried: f64,
}

/// A pair, or one step of one that swings.
#[derive(Clone, Debug)]
pub(super) struct Candidate {
    pub(super) pair: Pair,
    /// What must be kept, with what straight effects and the hull of a swing leave out.
    pub(super) margin: f64,
    pub(super) mover: MoverId,
    pub(super) parts: [PartId; 2],
    /// The width from which on it is clear, whatever is off.
    pub(super) clear_from: f64,
    /// The direction from the one to the other where they come nearest, nothing off; zero where that is not known. Along it
    /// most samples are seen to be clear without a query.
    pub(super) way: Vec3,
    meeting: usize,
    step: Option<[f64; 2]>,
    /// No point of either body moves farther than this, both together.
    moves: f64,
    bend: f64,
    is_fine: bool,
}

impl Candidate {
    fn of(scene: &Scene<'_>, index: usize, side: Side, step: Option<[f64; 2]>) -> Option<Self> {
        let meeting = scene.meetings.get(index)?;
        let model = scene.model;
        let (part, other) = (model.part(meeting.part), model.part(meeting.other));
        let its_effects = scene.causes.effects(model, other, false, 0.0);
        let its = Body::new(&[&meeting.its], meeting.ajar, its_effects);
        let (mut bulge, mut is_fine) = (0.0, true);
        let own = match (model.mover(meeting.mover).motion, step) {
            (Motion::Swing { hinge, axis, .. }, Some([from, to])) => {
                let motion = model.mover(meeting.mover).motion;
                let [first, last] = [from, to].map(|angle| turned(&meeting.own, motion, angle));
                let hull = TurnedHull::of(&meeting.own, hinge, axis);
                let each = to - from;
                let effects = scene.causes.effects(model, part, true, f64::midpoint(from, to));
                let body = Body::new(&[&first, &last], Vec3::ZERO, effects);
                // What is off turns with the door by half a step either way.
                bulge = hull.bulge(each) + body.moves_at_most(scene.most) * each / 2.0;
                is_fine = hull.excess(each) + bulge <= SWING_FINE;
                body
            }
            (Motion::Slide { direction, travel }, _) => {
                let effects = scene.causes.effects(model, part, true, 0.0);
                Body::new(&[&meeting.own], direction * travel, effects)
            }
            (Motion::Swing { .. }, None) => return None,
        };
        let stays = own.effects.iter().filter(|effect| effect.stays);
        let carried: f64 =
            stays.map(|effect| scene.most.get(effect.cause).copied().unwrap_or(0.0) * scene.carried).sum();
        let moves = own.moves_at_most(scene.most) + its.moves_at_most(scene.most) + carried;
        let bend = own.bend(scene.most) + its.bend(scene.most);
        let margin = scene.margin + bend + bulge;
        let u = meeting.against[usize::from(side == Side::Right)];
        let parts = [meeting.part, meeting.other];
        let pair = Pair { own, its, u };
        let (mover, clear_from, way) = (meeting.mover, 0.0, Vec3::ZERO);
        Some(Self { pair, margin, mover, parts, clear_from, way, meeting: index, step, moves, bend, is_fine })
    }

    /// Whether it is a step of a swing.
    pub(super) fn swings(&self) -> bool {
        self.step.is_some()
    }

    /// What its two bodies' straight effects leave out at most.
    pub(super) fn bend(&self) -> f64 {
        self.bend
    }

    /// All steps of a meeting, whole.
    fn steps(scene: &Scene<'_>, index: usize) -> Vec<Option<[f64; 2]>> {
        let Some(meeting) = scene.meetings.get(index) else { return Vec::new() };
        match scene.model.mover(meeting.mover).motion {
            Motion::Slide { .. } => vec![None],
            Motion::Swing { angle, .. } => {
                let each = angle / f64::from(FIRST_STEPS);
                (0..FIRST_STEPS).map(|k| Some([each * f64::from(k), each * f64::from(k + 1)])).collect()
            }
        }
    }

    fn halves(&self) -> Vec<Option<[f64; 2]>> {
        let Some([from, to]) = self.step else { return Vec::new() };
        let middle = f64::midpoint(from, to);
        vec![Some([from, middle]), Some([middle, to])]
    }

    /// The pair drawn in by all that each body can move: inside the bodies whatever is off. `None` where a piece is too
    /// thin for that.
    fn drawn_in(&self, scene: &Scene<'_>) -> Option<Pair> {
        let meeting = scene.meetings.get(self.meeting)?;
        let motion = scene.model.mover(meeting.mover).motion;
        let by = |body: &Body| body.moves_at_most(scene.most) + body.bend(scene.most);
        let own = thinned(&meeting.own, by(&self.pair.own))?;
        let its = thinned(&meeting.its, by(&self.pair.its))?;
        let (own, sweep) = match motion {
            Motion::Slide { direction, travel } => (own, direction * travel),
            Motion::Swing { .. } => {
                let [from, to] = self.step?;
                (turned(&own, motion, f64::midpoint(from, to)), Vec3::ZERO)
            }
        };
        let own = Body::new(&[&own], sweep, Vec::new());
        let its = Body::new(&[&its], meeting.ajar, Vec::new());
        Some(Pair { own, its, u: self.pair.u })
    }

    /// Whether it is surely clear, off by `errors` and the filler wider by `s` than in the model: a cheap yes, or not known.
    pub(super) fn is_surely_clear(&self, s: f64, errors: &Errors) -> bool {
        self.way != Vec3::ZERO && self.pair.apart_along(self.way, s, errors).distance >= self.margin
    }

    /// Where, off by `errors`, it is surely clear from there on: no wider than [`Candidate::clear_from`].
    pub(super) fn clear_from(&self, built: f64, errors: &Errors) -> f64 {
        let here = self.pair.apart_along(self.way, 0.0, errors);
        if self.way == Vec3::ZERO || here.slope <= 0.0 {
            return self.clear_from;
        }
        (built + (self.margin - here.distance) / here.slope).min(self.clear_from)
    }

    /// How near the worst case comes, the filler wider by `s` than in the model.
    fn worst(&self, s: f64, most: &[f64]) -> super::body::Near {
        self.pair.worst(s, most)
    }
}

/// `piece` turned as far as `angle` along its swing.
fn turned(piece: &Convex, motion: Motion, angle: f64) -> Convex {
    let turn = motion.carrier(angle);
    let push = turn(piece.push()) - turn(Vec3::ZERO);
    Convex::prism(piece.base().iter().map(|&p| turn(p)).collect(), push)
}

/// `piece` drawn in by `by`, where it is thick enough.
fn thinned(piece: &Convex, by: f64) -> Option<Convex> {
    let is_thick = match piece.as_block() {
        Some((_, edges)) => edges.iter().all(|edge| edge.length() > 2.0 * by),
        None => piece.push().length() > 2.0 * by,
    };
    is_thick.then(|| drawn_in(piece, by)).filter(|thin| thin.volume() > 0.0)
}

/// The pairs that can decide how wide one filler must be, and what they can come to.
#[derive(Clone, Debug)]
pub(super) struct Deciding {
    /// Those that are clear latest first.
    pub(super) list: Vec<Candidate>,
    /// Every width below this is bad, whatever is off.
    pub(super) at_least: f64,
    /// The least width that is good whatever is off.
    pub(super) worst: f64,
    /// What decides that.
    pub(super) worst_by: Option<(MoverId, [PartId; 2])>,
    /// How many pairs and steps there were to look at.
    pub(super) looked_at: usize,
    /// The width that the model has.
    pub(super) built: f64,
}

/// In the queue: what may reach farthest is looked at first.
struct Queued {
    reaches: f64,
    /// Which came first, so that equals keep their order.
    number: usize,
    candidate: Candidate,
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
        self.reaches.total_cmp(&other.reaches).then(other.number.cmp(&self.number))
    }
}

/// The search: what may reach farthest first, until nothing left can reach past what is bad always.
struct Search<'a> {
    scene: Scene<'a>,
    side: Side,
    built: f64,
    queue: BinaryHeap<Queued>,
    looked_at: usize,
    at_least: f64,
}

impl Search<'_> {
    fn offer(&mut self, index: usize, steps: Vec<Option<[f64; 2]>>) {
        for step in steps {
            self.looked_at += 1;
            let Some(candidate) = Candidate::of(&self.scene, index, self.side, step) else { continue };
            let margin = candidate.margin + candidate.moves;
            if candidate.pair.u.length_squared() < 1e-18 || candidate.pair.apart() >= margin {
                continue;
            }
            let start = candidate.pair.beyond(margin);
            let end = end_from(start, margin, |s| candidate.pair.near(s, &Errors::NONE));
            let Some(reaches) = end.map(|s| s + self.built).filter(|reaches| *reaches > self.at_least) else {
                continue;
            };
            self.queue.push(Queued { reaches, number: self.looked_at, candidate });
        }
    }

    /// Raises what is bad always, where the drawn-in pair is bad from there on.
    fn raise(&mut self, candidate: &Candidate) {
        let Some(inner) = candidate.drawn_in(&self.scene) else { return };
        let margin = self.scene.margin;
        let near = |s: f64| inner.near(s, &Errors::NONE);
        if near(self.at_least - self.built).distance >= margin {
            return;
        }
        if let Some(end) = end_from(inner.beyond(margin), margin, near) {
            // The end is found a hair outside.
            self.at_least = self.at_least.max(end + self.built - 2.0 * super::body::FINE);
        }
    }

    fn run(mut self) -> Deciding {
        let mut list: Vec<Candidate> = Vec::new();
        while let Some(Queued { reaches, candidate, .. }) = self.queue.pop() {
            if reaches <= self.at_least {
                break;
            }
            self.raise(&candidate);
            if candidate.is_fine {
                list.push(Candidate { clear_from: reaches, ..candidate });
            } else {
                self.offer(candidate.meeting, candidate.halves());
            }
        }
        let (most, built, at_least) = (self.scene.most, self.built, self.at_least);
        list.retain_mut(|candidate| {
            if candidate.clear_from <= at_least {
                return false;
            }
            let start = candidate.clear_from - built;
            let Some(end) = end_from(start, candidate.margin, |s| candidate.worst(s, most)) else { return false };
            candidate.clear_from = end + built;
            candidate.way = candidate.pair.way(end);
            candidate.clear_from > at_least
        });
        list.sort_by(|a, b| b.clear_from.total_cmp(&a.clear_from).then(a.meeting.cmp(&b.meeting)));
        let (worst, worst_by) = least_for_all(&list, built, most, at_least);
        // What begins to be bad beyond the widest that is ever needed decides nothing either.
        list.retain(|candidate| {
            let there = candidate.worst(worst - built, most);
            there.distance < candidate.margin || there.slope > 0.0
        });
        Deciding { list, at_least, worst, worst_by, looked_at: self.looked_at, built }
    }
}

/// The least width not below `from` that is good whatever is off.
fn least_for_all(list: &[Candidate], built: f64, most: &[f64], from: f64) -> (f64, Option<(MoverId, [PartId; 2])>) {
    let (mut width, mut by) = (from.max(0.0), None);
    loop {
        let mut reaching = list.iter().take_while(|candidate| candidate.clear_from > width);
        let bad = reaching.find(|candidate| candidate.worst(width - built, most).distance < candidate.margin);
        let Some(bad) = bad else { return (width, by) };
        width = bad.clear_from;
        by = Some((bad.mover, bad.parts));
    }
}

/// Finds the pairs that can decide how wide the filler of `side` must be for what opens on its run to pass the other.
pub(super) fn deciding(mut scene: Scene<'_>, side: Side) -> Deciding {
    loop {
        let found = search(scene, side);
        let farthest = (found.worst - found.built).abs().max((found.built - found.at_least).abs());
        // What was taken to be moved by an angle holds only as far as that.
        if farthest <= scene.carried {
            return found;
        }
        scene.carried = farthest * 2.0;
    }
}

/// Whether a drawer or door is one of `side`'s run, and not one of the room, which no corner filler is for.
fn opens_on(model: &Model, mover: MoverId, side: Side) -> bool {
    let mover = model.mover(mover);
    mover.side == side && !mover.of_the_room
}

fn search(scene: Scene<'_>, side: Side) -> Deciding {
    let model = scene.model;
    let built = model.fillers.of(side).to_mm();
    let mut search = Search { scene, side, built, queue: BinaryHeap::new(), looked_at: 0, at_least: 0.0 };
    for (index, meeting) in scene.meetings.iter().enumerate() {
        let past_a_run = matches!(model.part(meeting.other).class, RuleClass::Run | RuleClass::Appliance);
        if past_a_run && opens_on(model, meeting.mover, side) {
            search.offer(index, Candidate::steps(&scene, index));
        }
    }
    search.run()
}

/// All pairs, down to the finest steps, none left out but for boxes and what never comes near.
#[cfg(test)]
pub(super) fn everything(scene: Scene<'_>, side: Side) -> Deciding {
    let built = scene.model.fillers.of(side).to_mm();
    let at_least = f64::NEG_INFINITY;
    let mut search = Search { scene, side, built, queue: BinaryHeap::new(), looked_at: 0, at_least };
    for (index, meeting) in scene.meetings.iter().enumerate() {
        let past_a_run = matches!(scene.model.part(meeting.other).class, RuleClass::Run | RuleClass::Appliance);
        if past_a_run && opens_on(scene.model, meeting.mover, side) {
            search.offer(index, Candidate::steps(&scene, index));
        }
    }
    let mut list = Vec::new();
    while let Some(Queued { reaches, candidate, .. }) = search.queue.pop() {
        if candidate.is_fine {
            list.push(Candidate { clear_from: reaches, ..candidate });
        } else {
            search.offer(candidate.meeting, candidate.halves());
        }
    }
    list.sort_by(|a, b| b.clear_from.total_cmp(&a.clear_from));
    Deciding { list, at_least: 0.0, worst: 0.0, worst_by: None, looked_at: search.looked_at, built }
}

/// What can be too near with the fillers as they are.
#[derive(Clone, Debug)]
pub(super) struct AtPresent {
    /// Something is, whatever is off.
    pub(super) always: Option<(MoverId, [PartId; 2])>,
    /// What may be, likeliest first.
    pub(super) list: Vec<Candidate>,
}

/// Finds what may be too near with the model's own fillers: everything that opens, past everything that it must keep clear
/// of.
pub(super) fn at_present(scene: Scene<'_>) -> AtPresent {
    let mut found = AtPresent { always: None, list: Vec::new() };
    let mut nearest: Vec<(f64, Candidate)> = Vec::new();
    for index in 0..scene.meetings.len() {
        let mut steps = Candidate::steps(&scene, index);
        while let Some(step) = steps.pop() {
            let Some(mut candidate) = Candidate::of(&scene, index, Side::Left, step) else { continue };
            candidate.pair.u = Vec3::ZERO;
            let apart = candidate.pair.apart();
            if apart >= candidate.margin + candidate.moves {
                continue;
            }
            let distance = candidate.pair.near(0.0, &Errors::NONE).distance;
            if distance >= candidate.margin + candidate.moves {
                continue;
            }
            let inner = candidate.drawn_in(&scene);
            if inner.is_some_and(|inner| inner.near(0.0, &Errors::NONE).distance < scene.margin) {
                found.always = Some((candidate.mover, candidate.parts));
                return found;
            }
            if !candidate.is_fine {
                steps.extend(candidate.halves());
            } else if candidate.worst(0.0, scene.most).distance < candidate.margin {
                candidate.way = candidate.pair.way(0.0);
                nearest.push((distance - candidate.margin, candidate));
            }
        }
    }
    nearest.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.meeting.cmp(&b.1.meeting)));
    found.list = nearest.into_iter().map(|(_, candidate)| candidate).collect();
    found
}
