//! Where is each drawer and door at a given moment of the film? [`Timeline::outs`] is a pure function of the time, so
//! scrubbing is exact and playing only lets the time go on.
//!
//! A film opens each part in turn, or all at once that can be open together. Each goes as far as it can alone: to its
//! full travel or to its first touch. With the slow approach on, the last 60 mm (12° of a door) before a first touch, or
//! before it comes nearer than is wanted, go at a tenth of the speed. Times in seconds, openings in mm or radians.

use super::approach::{Approach, Leg, legs, seconds};
use super::motion::together;
use crate::clearance::Opening;
use crate::model::{Model, MoverId};

/// Seconds that a part stays where it touched something.
const HOLD_AT_TOUCH_SECONDS: f64 = 1.8;
/// Seconds that a part stays open that touched nothing.
const HOLD_OPEN_SECONDS: f64 = 0.35;
/// Seconds that everything stays open that opened at once.
const HOLD_ALL_SECONDS: f64 = 1.2;

/// In what order parts open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Way {
    /// Each in turn, everything else shut.
    #[default]
    InTurn,
    /// Everything at once that can be open together.
    AllAtOnce,
}

/// What a time mark is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moment {
    /// A part's turn begins.
    Turn,
    /// It comes nearer than is wanted.
    TooNear,
    /// It touches.
    Touch,
}

/// A time that has a mark on the bar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeMark {
    /// When.
    pub at: f64,
    /// What happens then.
    pub moment: Moment,
    /// To which drawer or door.
    pub mover: MoverId,
}

/// One part's share of the film.
#[derive(Clone, Debug, PartialEq)]
pub struct Turn {
    /// Which drawer or door.
    pub mover: MoverId,
    /// When it begins to open.
    pub begins: f64,
    /// When it is as far open as it goes.
    pub arrives: f64,
    /// When it begins to shut.
    pub leaves: f64,
    /// When it is shut again.
    pub ends: f64,
    opening: Vec<Leg>,
    shutting: Leg,
}

impl Turn {
    fn new(model: &Model, opening: &Opening, slow: bool, begins: f64) -> Option<Self> {
        let motion = &model.movers.get(opening.mover.0)?.motion;
        let goal = opening.to_touch.min(opening.full);
        let legs = legs(goal, opening.full, Approach::of(motion, opening).filter(|_| slow));
        let arrives = begins + legs.iter().map(|leg| leg.seconds).sum::<f64>();
        let hold = if opening.touches_first.is_some() { HOLD_AT_TOUCH_SECONDS } else { HOLD_OPEN_SECONDS };
        let shutting = Leg { ends: [goal, 0.0], speeds: [0.0; 2], seconds: seconds(goal, opening.full) };
        let mut turn = Self { mover: opening.mover, begins, arrives, leaves: 0.0, ends: 0.0, opening: legs, shutting };
        turn.hold_until(arrives + hold);
        Some(turn)
    }

    fn hold_until(&mut self, time: f64) {
        self.leaves = time;
        self.ends = time + self.shutting.seconds;
    }

    /// Whether its share of the film is at `time`.
    #[must_use]
    pub fn is_on(&self, time: f64) -> bool {
        (self.begins..self.ends).contains(&time)
    }

    /// How far open the part is at `time`.
    #[must_use]
    pub fn out(&self, time: f64) -> f64 {
        if time <= self.begins {
            return 0.0;
        }
        if time >= self.leaves {
            return self.shutting.at(time - self.leaves);
        }
        let mut since = time - self.begins;
        for leg in &self.opening {
            if since < leg.seconds {
                return leg.at(since);
            }
            since -= leg.seconds;
        }
        self.shutting.ends[0]
    }

    /// When it is first `out` open: at the end of a leg that ends there.
    fn when_at(&self, out: f64) -> Option<f64> {
        if out <= 0.0 {
            return Some(self.begins);
        }
        let mut time = self.begins;
        for leg in &self.opening {
            time += leg.seconds;
            if (leg.ends[1] - out).abs() < 1e-9 {
                return Some(time);
            }
        }
        // Without a slow approach no leg ends there: by halves on the way out, which only goes on.
        let (mut low, mut high) = (self.begins, self.arrives);
        for _ in 0..50 {
            let middle = f64::midpoint(low, high);
            if self.out(middle) < out { low = middle } else { high = middle }
        }
        (self.opening.last()?.ends[1] >= out).then_some(high)
    }
}

/// Which of `turns` is that of the door that `mover` stands behind.
fn behind(model: &Model, turns: &[Turn], mover: MoverId) -> Option<usize> {
    let door = model.movers.get(mover.0)?.behind?;
    turns.iter().position(|turn| turn.mover == door)
}

/// The whole film.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Timeline {
    movers: usize,
    turns: Vec<Turn>,
    marks: Vec<TimeMark>,
    length: f64,
}

impl Timeline {
    /// The film of `model`, whose parts open as `openings` say.
    #[must_use]
    pub fn new(model: &Model, openings: &[Opening], way: Way, slow: bool) -> Self {
        let mut turns = Vec::new();
        match way {
            Way::InTurn => {
                let mut begins = 0.0;
                for opening in openings {
                    // What stands behind a door has its turn while that is open.
                    let door = behind(model, &turns, opening.mover);
                    let from = door.and_then(|door| turns.get(door)).map_or(begins, |turn: &Turn| turn.leaves);
                    let Some(turn) = Turn::new(model, opening, slow, from) else { continue };
                    begins = turn.ends;
                    if let Some(door) = door.and_then(|door| turns.get_mut(door)) {
                        door.hold_until(turn.ends);
                        begins = door.ends;
                    }
                    turns.push(turn);
                }
            }
            Way::AllAtOnce => {
                let open = together(model);
                for opening in openings.iter().filter(|opening| open.contains(&opening.mover)) {
                    let door = behind(model, &turns, opening.mover).and_then(|door| turns.get(door));
                    let from = door.map_or(0.0, |turn: &Turn| turn.arrives);
                    turns.extend(Turn::new(model, opening, slow, from));
                }
                let last = turns.iter().map(|turn| turn.arrives).fold(0.0, f64::max);
                turns.iter_mut().for_each(|turn| turn.hold_until(last + HOLD_ALL_SECONDS));
                for (mover, ends) in turns.iter().map(|turn| (turn.mover, turn.ends)).collect::<Vec<_>>() {
                    if let Some(door) = behind(model, &turns, mover).and_then(|door| turns.get_mut(door)) {
                        door.hold_until(door.leaves.max(ends));
                    }
                }
            }
        }
        let length = turns.iter().map(|turn| turn.ends).fold(0.0, f64::max);
        let mut marks = Vec::new();
        for turn in &turns {
            let of = |at: f64, moment: Moment| TimeMark { at, moment, mover: turn.mover };
            if way == Way::InTurn || turn.mover == turns[0].mover {
                marks.push(of(turn.begins, Moment::Turn));
            }
            let opening = openings.iter().find(|opening| opening.mover == turn.mover);
            let motion = model.movers.get(turn.mover.0).map(|mover| mover.motion);
            let approach = motion.zip(opening).and_then(|(motion, opening)| Approach::of(&motion, opening));
            if let Some(approach) = approach {
                let moment = if approach.touches { Moment::Touch } else { Moment::TooNear };
                marks.extend(turn.when_at(approach.to).map(|at| of(at, moment)));
            }
        }
        marks.sort_by(|a, b| a.at.total_cmp(&b.at));
        Self { movers: model.movers.len(), turns, marks, length }
    }

    /// How long it takes.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.length
    }

    /// Its marks, in order of time.
    #[must_use]
    pub fn marks(&self) -> &[TimeMark] {
        &self.marks
    }

    /// The shares of the parts that open in it.
    #[must_use]
    pub fn turns(&self) -> &[Turn] {
        &self.turns
    }

    /// The part whose turn it is at `time`; the last one at the very end.
    #[must_use]
    pub fn turn_at(&self, time: f64) -> Option<MoverId> {
        // A door that is held open for what stands behind it has had its turn: the one that began last has it.
        let later = |first: Option<&Turn>, turn: &Turn| first.is_none_or(|first| turn.begins > first.begins);
        let on = self.turns.iter().filter(|turn| turn.is_on(time));
        let on = on.fold(None, |first, turn| if later(first, turn) { Some(turn) } else { first });
        let on = on.or_else(|| self.turns.last());
        on.map(|turn| turn.mover)
    }

    /// How far each drawer and door is open at `time`, by [`MoverId`].
    #[must_use]
    pub fn outs(&self, time: f64) -> Vec<f64> {
        let mut outs = vec![0.0; self.movers];
        for turn in &self.turns {
            if let Some(out) = outs.get_mut(turn.mover.0) {
                *out = turn.out(time);
            }
        }
        outs
    }

    /// Where a step takes the hand that stands at `time`.
    #[must_use]
    pub fn stepped(&self, time: f64, step: Step) -> f64 {
        // A mark that the hand stands on is not the next one.
        const ON: f64 = 1e-6;
        let wanted = match step {
            Step::Back => time - Step::SECONDS,
            Step::On => time + Step::SECONDS,
            Step::ToMarkBefore => self.marks.iter().map(|m| m.at).rfind(|at| *at < time - ON).unwrap_or(0.0),
            Step::ToMarkAfter => self.marks.iter().map(|m| m.at).find(|at| *at > time + ON).unwrap_or(self.length),
            Step::ToStart => 0.0,
            Step::ToEnd => self.length,
        };
        wanted.clamp(0.0, self.length)
    }
}

/// A step along the film.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// A tenth of a second back.
    Back,
    /// A tenth of a second on.
    On,
    /// Back to the mark before.
    ToMarkBefore,
    /// On to the next mark.
    ToMarkAfter,
    /// To the start.
    ToStart,
    /// To the end.
    ToEnd,
}

impl Step {
    /// How long a small step is.
    pub const SECONDS: f64 = 0.1;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clearance::{self, Answer};
    use crate::length::Length;
    use crate::model::Motion;
    use crate::plan::{self, Filler, Side};
    use crate::viewer::approach::{SLOWER, TRAVEL_SECONDS};

    fn answer(filler: f64) -> Answer {
        let text = include_str!("../../assets/plans/glazing-corner.ron");
        let mut plan = plan::read("glazing-corner.ron", text).unwrap();
        for side in Side::BOTH {
            plan.corner = plan.corner.with_filler(side, Filler::Fixed(Length::mm(filler)));
        }
        clearance::answer(&plan)
    }

    fn film(answer: &Answer, way: Way, slow: bool) -> Timeline {
        Timeline::new(&answer.model, &answer.openings, way, slow)
    }

    #[test]
    fn each_part_opens_as_far_as_it_can_and_shuts_again() {
        for (slow, filler) in [(false, 0.0), (true, 0.0), (false, 40.0), (true, 40.0)] {
            let answer = answer(filler);
            let film = film(&answer, Way::InTurn, slow);
            assert_eq!(film.turns().len(), answer.openings.len());
            for (turn, opening) in film.turns().iter().zip(&answer.openings) {
                let outs = film.outs(f64::midpoint(turn.arrives, turn.leaves));
                for (k, out) in outs.iter().enumerate() {
                    let wanted = if k == turn.mover.0 { opening.to_touch } else { 0.0 };
                    assert!((out - wanted).abs() < 1e-9, "{out} is not {wanted}");
                }
            }
            assert!(film.outs(0.0).iter().chain(&film.outs(film.length())).all(|out| out.abs() < 1e-12));
        }
    }

    #[test]
    fn nothing_jumps_and_opening_never_goes_back() {
        let answer = answer(40.0);
        let film = film(&answer, Way::InTurn, true);
        for turn in film.turns() {
            let full = answer.openings[turn.mover.0].full;
            let (mut before, mut time) = (0.0, turn.begins);
            while time < turn.arrives {
                let out = turn.out(time);
                assert!(out >= before - 1e-9 && out - before < full * 0.05, "{before} to {out}");
                (before, time) = (out, time + 0.01);
            }
        }
    }

    #[test]
    fn the_last_60_mm_go_at_a_tenth_of_the_speed() {
        let answer = answer(40.0);
        let slide = |m: MoverId| matches!(answer.model.mover(m).motion, Motion::Slide { .. });
        let opening = answer.openings.iter().find(|o| slide(o.mover) && o.touches_first.is_some() && o.to_touch > 80.0);
        let opening = opening.expect("a drawer of the narrow corner comes out a little and touches");
        let film = film(&answer, Way::InTurn, true);
        let turn = film.turns().iter().find(|turn| turn.mover == opening.mover).unwrap();
        let speed = 60.0 / (TRAVEL_SECONDS * SLOWER * 60.0 / opening.full);
        assert!((turn.out(turn.arrives - 0.4) - (opening.to_touch - 0.4 * speed)).abs() < 1e-9);
        // The same film without it is shorter by what that took.
        let quick = Timeline::new(&answer.model, &answer.openings, Way::InTurn, false);
        assert!(quick.length() < film.length());
    }

    #[test]
    fn touches_are_marked_when_they_happen() {
        for (slow, filler) in [(false, 0.0), (true, 0.0), (false, 40.0), (true, 40.0)] {
            let answer = answer(filler);
            let film = film(&answer, Way::InTurn, slow);
            let touches: Vec<_> = film.marks().iter().filter(|mark| mark.moment == Moment::Touch).collect();
            let wanted = answer.openings.iter().filter(|opening| opening.touches_first.is_some()).count();
            assert!(wanted > 0 && touches.len() == wanted);
            for mark in touches {
                let out = film.outs(mark.at)[mark.mover.0];
                assert!((out - answer.openings[mark.mover.0].to_touch).abs() < 1e-6);
            }
        }
    }

    #[test]
    fn all_at_once_has_everything_open_together_for_a_while() {
        let answer = answer(150.0);
        let film = film(&answer, Way::AllAtOnce, true);
        let open = together(&answer.model);
        assert!(open.len() > 3 && open.len() < answer.model.movers.len());
        let held = film.turns().iter().map(|turn| turn.arrives).fold(0.0, f64::max) + 0.1;
        let outs = film.outs(held);
        for opening in &answer.openings {
            let wanted = if open.contains(&opening.mover) { opening.to_touch } else { 0.0 };
            assert!((outs[opening.mover.0] - wanted).abs() < 1e-9);
        }
    }

    #[test]
    fn steps_stay_on_the_film_and_find_the_marks() {
        let answer = answer(40.0);
        let film = film(&answer, Way::InTurn, true);
        assert!(film.stepped(0.0, Step::Back).abs() < 1e-12);
        assert!((film.stepped(film.length(), Step::On) - film.length()).abs() < 1e-12);
        let mut time = 0.0;
        for mark in film.marks().iter().filter(|mark| mark.at > 0.0) {
            let next = film.stepped(time, Step::ToMarkAfter);
            assert!((next - mark.at).abs() < 1e-6);
            assert!(film.stepped(next, Step::ToMarkBefore) < next);
            time = next;
        }
    }
}
