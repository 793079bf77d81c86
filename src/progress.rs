//! How far is a long calculation, and should it go on? Asked of the caller, who alone has a clock.
//!
//! Whoever starts a long calculation hands in a [`Watch`]: a function that is told the [`Progress`] now and then and
//! answers with a [`Flow`]. How much work is done is decided by an [`Effort`], counted in steps, so that the same effort
//! and seed give the same answer on any machine, as long as the watch never says [`Flow::Enough`].

use thiserror::Error;

/// How far a calculation is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progress {
    /// Steps done; a step is a few nanoseconds of one core.
    pub steps: u64,
    /// Steps after which it ends with what it has.
    pub of: u64,
    /// The measure of the best answer so far, where there is one.
    pub found: Option<f64>,
    /// What no answer can go below, as far as is known.
    pub at_least: f64,
}

/// What the caller wants done next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Flow {
    /// Search on.
    GoOn,
    /// Stop and give the best answer found so far.
    Enough,
    /// Stop and give nothing.
    Cancel,
}

/// The calculation was stopped by [`Flow::Cancel`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error("cancelled")]
pub struct Cancelled;

/// Told how far a calculation is, says whether it goes on.
pub type Watch<'a> = dyn Fn(Progress) -> Flow + 'a;

/// A watch that never stops anything.
pub fn patient(_: Progress) -> Flow {
    Flow::GoOn
}

/// How much work may be spent, and where its chance choices begin.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effort {
    /// Steps that may be spent; a step is a few nanoseconds of one core.
    pub steps: u64,
    /// Where the chance choices begin.
    pub seed: u64,
}

impl Effort {
    /// What is worth spending on so many pieces: about a millisecond of one core for each, and never less than a tenth or
    /// two of a second for all.
    pub fn for_pieces(pieces: usize) -> Self {
        Self { steps: (250_000 * u64::try_from(pieces.min(2_000)).unwrap_or(2_000)).max(40_000_000), seed: 1 }
    }
}

/// How often the watch is asked, in steps: a few times a millisecond.
const BETWEEN_QUESTIONS: u64 = 50_000;

/// Counts the steps of one calculation and asks its watch.
pub(crate) struct Meter<'a> {
    watch: &'a Watch<'a>,
    spent: u64,
    budget: u64,
    kept_back: u64,
    next_question: u64,
    answer: Flow,
    pub(crate) found: Option<f64>,
    pub(crate) at_least: f64,
}

impl<'a> Meter<'a> {
    pub(crate) fn new(budget: u64, watch: &'a Watch<'a>) -> Self {
        Self { watch, spent: 0, budget, kept_back: 0, next_question: 0, answer: Flow::GoOn, found: None, at_least: 0.0 }
    }

    /// Counts `steps` and says whether there is anything left to spend.
    pub(crate) fn spend(&mut self, steps: u64) -> bool {
        self.spent = self.spent.saturating_add(steps);
        if self.answer == Flow::GoOn && self.spent >= self.next_question {
            self.next_question = self.spent + BETWEEN_QUESTIONS;
            let progress = Progress { steps: self.spent, of: self.budget, found: self.found, at_least: self.at_least };
            self.answer = (self.watch)(progress);
        }
        self.may_go_on()
    }

    /// Whether there is anything left to spend and nobody said stop.
    pub(crate) fn may_go_on(&self) -> bool {
        self.answer == Flow::GoOn && self.spent < self.budget - self.kept_back
    }

    pub(crate) fn spent(&self) -> u64 {
        self.spent
    }

    /// Keeps some of the budget for later.
    pub(crate) fn keep_back(&mut self, steps: u64) {
        self.kept_back = steps.min(self.budget);
    }

    pub(crate) fn is_cancelled(&self) -> Result<(), Cancelled> {
        if self.answer == Flow::Cancel { Err(Cancelled) } else { Ok(()) }
    }
}
