//! How often does it come out how wide? Seeded samples of everything that can be off, in parallel.
//!
//! In each sample every cause is drawn once and moves all that shares it. Only the pairs that can decide are asked (see
//! [`mod@super::deciding`]), those that may reach farthest first, until nothing left can reach past the widest found: each
//! sample's answer is that of all pairs.
//!
//! Blocks of samples are shared among threads and put together in order, so the answer for a seed is the same with any
//! number of them.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::mpsc;

use super::body::{Errors, end_from};
use super::chance::{BLOCK, draw, generator};
use super::deciding::{AtPresent, Candidate, Deciding};
use crate::plan::SpreadLaw;
use crate::progress::{Cancelled, Flow, Progress, Watch};

/// What is drawn, and how often.
#[derive(Clone, Copy, Debug)]
pub(super) struct Draws<'a> {
    pub(super) law: SpreadLaw,
    /// The most that each cause can be off.
    pub(super) most: &'a [f64],
    pub(super) samples: usize,
    pub(super) seed: u64,
    pub(super) threads: usize,
}

/// What the samples are asked: for each question about a filler how wide it must be, for each about the fillers as they
/// are whether something is too near.
#[derive(Clone, Copy, Debug)]
pub(super) struct Questions<'a> {
    pub(super) widths: &'a [&'a Deciding],
    pub(super) present: &'a [&'a AtPresent],
}

/// The answers of all samples.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Sampled {
    pub(super) samples: usize,
    pub(super) widths: Vec<Widths>,
    /// In how many samples something was too near.
    pub(super) present: Vec<usize>,
}

/// The widths of one question.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Widths {
    /// In the order of the samples.
    pub(super) all: Vec<f64>,
    /// For each cause the sums of what it was off by, of its square, and of its product with the width less the least
    /// possible one.
    pub(super) sums: Vec<[f64; 3]>,
}

impl Sampled {
    fn join(&mut self, block: Self) {
        if self.widths.is_empty() {
            *self = block;
            return;
        }
        self.samples += block.samples;
        for (own, new) in self.widths.iter_mut().zip(block.widths) {
            own.all.extend(new.all);
            for (own, new) in own.sums.iter_mut().zip(new.sums) {
                for (own, new) in own.iter_mut().zip(new) {
                    *own += new;
                }
            }
        }
        for (own, new) in self.present.iter_mut().zip(block.present) {
            *own += new;
        }
    }
}

/// Draws the samples.
///
/// # Errors
/// If `watch` cancels.
pub(super) fn sample(questions: Questions<'_>, draws: Draws<'_>, watch: &Watch<'_>) -> Result<Sampled, Cancelled> {
    let blocks = draws.samples.div_ceil(BLOCK) as u64;
    let (next, stop) = (AtomicU64::new(0), AtomicBool::new(false));
    let mut done: Vec<(u64, Sampled)> = Vec::new();
    let mut cancelled = false;
    std::thread::scope(|scope| {
        let (tell, told) = mpsc::channel();
        for _ in 0..draws.threads.max(1) {
            let (tell, next, stop) = (tell.clone(), &next, &stop);
            scope.spawn(move || {
                while !stop.load(Ordering::Relaxed) {
                    let block = next.fetch_add(1, Ordering::Relaxed);
                    if block >= blocks || tell.send((block, one_block(questions, draws, block))).is_err() {
                        return;
                    }
                }
            });
        }
        drop(tell);
        // Only this thread may ask the watch.
        for answer in told {
            done.push(answer);
            let steps = (done.len() * BLOCK).min(draws.samples) as u64;
            let progress = Progress { steps, of: draws.samples as u64, found: None, at_least: 0.0 };
            match watch(progress) {
                Flow::GoOn => {}
                Flow::Enough => stop.store(true, Ordering::Relaxed),
                Flow::Cancel => {
                    cancelled = true;
                    stop.store(true, Ordering::Relaxed);
                }
            }
        }
    });
    if cancelled {
        return Err(Cancelled);
    }
    done.sort_by_key(|(block, _)| *block);
    let mut sampled = Sampled::default();
    // Stopped early, what came in without a gap counts: the same first blocks whoever drew them.
    for (k, (block, answer)) in done.into_iter().enumerate() {
        if block != k as u64 {
            break;
        }
        sampled.join(answer);
    }
    Ok(sampled)
}

fn one_block(questions: Questions<'_>, draws: Draws<'_>, block: u64) -> Sampled {
    let mut generator = generator(draws.seed, block);
    let before = usize::try_from(block).unwrap_or(usize::MAX).saturating_mul(BLOCK);
    let count = BLOCK.min(draws.samples.saturating_sub(before));
    let mut sampled = Sampled {
        samples: count,
        widths: questions
            .widths
            .iter()
            .map(|_| Widths { all: Vec::with_capacity(count), sums: vec![[0.0; 3]; draws.most.len()] })
            .collect(),
        present: vec![0; questions.present.len()],
    };
    let mut off = vec![0.0; draws.most.len()];
    for _ in 0..count {
        for (off, most) in off.iter_mut().zip(draws.most) {
            *off = draw(draws.law, &mut generator) * most;
        }
        for (deciding, widths) in questions.widths.iter().zip(&mut sampled.widths) {
            let width = needed(deciding, &off);
            let over = width - deciding.at_least;
            widths.all.push(width);
            for (sums, &off) in widths.sums.iter_mut().zip(&off) {
                *sums = [sums[0] + off, sums[1] + off * off, sums[2] + off * over];
            }
        }
        for (present, count) in questions.present.iter().zip(&mut sampled.present) {
            *count += usize::from(is_too_near(present, &off));
        }
    }
    sampled
}

/// The least width that is good with everything off by `off`.
pub(super) fn needed(deciding: &Deciding, off: &[f64]) -> f64 {
    let mut width = deciding.at_least.max(0.0);
    // What has been asked and was clear there may be bad further on: the search begins again, past those that end before.
    'wider: loop {
        for candidate in deciding.list.iter().take_while(|candidate| candidate.clear_from > width) {
            let errors: Errors = candidate.pair.errors(off);
            let near = |s: f64| candidate.pair.near(s, &errors);
            let here = width - deciding.built;
            if candidate.is_surely_clear(here, &errors) || near(here).distance >= candidate.margin {
                continue;
            }
            let start = candidate.clear_from(deciding.built, &errors) - deciding.built;
            let end = end_from(start, candidate.margin, near);
            let clear = end.map_or(candidate.clear_from, |s| s + deciding.built);
            if clear > width {
                width = clear;
                continue 'wider;
            }
        }
        return width;
    }
}

/// Whether anything is too near with everything off by `off`.
fn is_too_near(present: &AtPresent, off: &[f64]) -> bool {
    let is_bad = |candidate: &Candidate| {
        let errors = candidate.pair.errors(off);
        !candidate.is_surely_clear(0.0, &errors) && candidate.pair.near(0.0, &errors).distance < candidate.margin
    };
    present.always.is_some() || present.list.iter().any(is_bad)
}
