//! Which ways of cutting a board, how often each? Column generation (P. C. Gilmore, R. E. Gomory, Oper. Res. 9 (1961)
//! 849–859), then dives: fix what is whole, and where nothing is, one more of a pattern that is nearly so; solve again.

use fastrand::Rng;

use super::super::knapsack::{Item, fill_best};
use super::super::master::{Master, Stuck};
use super::fit;
use super::task::{Load, Task};
use crate::progress::Meter;

/// Fractions closer to a whole number than this are whole.
const WHOLE: f64 = 1e-6;
/// The least gain for which another pattern is brought in.
const GAIN: f64 = 1e-9;

/// The most patterns brought in with the best one.
const MOST_ALSO: usize = 4;

#[derive(Debug, Clone)]
struct Pattern {
    kind: usize,
    /// Sorts and how often each.
    counts: Vec<(usize, usize)>,
}

pub(super) struct Columns<'t> {
    task: &'t Task,
    master: Master,
    patterns: Vec<Pattern>,
    /// The row that keeps each kind within its count.
    limit_rows: Vec<Option<usize>>,
    /// Costs are divided by this, so that the program's numbers are near 1.
    scale: f64,
    step: i64,
    rng: Rng,
}

/// What solving the linear program came to.
enum Solved {
    /// Its optimum, and a bound that holds even where patterns were not searched to the end.
    Done { cost: f64, at_least: f64 },
    /// Nothing left to spend.
    Spent,
}

impl<'t> Columns<'t> {
    pub(super) fn new(task: &'t Task, start: &[Load], seed: u64) -> Self {
        let mut rows = task.sorts.len();
        let limit_rows: Vec<Option<usize>> = task
            .kinds
            .iter()
            .map(|kind| {
                kind.count.map(|_| {
                    rows += 1;
                    rows - 1
                })
            })
            .collect();
        let scale = task.kinds.iter().map(|kind| kind.cost).max().unwrap_or(1).max(1) as f64;
        // An artificial column costs more than any board; where boards are few, much more.
        let dear = if limit_rows.iter().any(Option::is_some) { 1000.0 } else { 2.0 };
        let mut columns = Self {
            task,
            master: Master::new(Vec::new(), dear),
            patterns: Vec::new(),
            limit_rows,
            scale,
            step: task.cost_step(),
            rng: Rng::with_seed(seed),
        };
        columns.master = Master::new(columns.needs(&task.wanted(), &task.stock_after(&[])), dear);
        for load in start {
            let mut counts: Vec<(usize, usize)> = Vec::new();
            for &sort in &load.sorts {
                match counts.last_mut() {
                    Some((last, count)) if *last == sort => *count += 1,
                    _ => counts.push((sort, 1)),
                }
            }
            columns.add(Pattern { kind: load.kind, counts });
        }
        columns
    }

    fn needs(&self, wanted: &[usize], stock: &[usize]) -> Vec<f64> {
        let mut needs: Vec<f64> = wanted.iter().map(|&count| count as f64).collect();
        for (kind, row) in self.limit_rows.iter().enumerate() {
            if row.is_some() {
                needs.push(-(stock[kind] as f64));
            }
        }
        needs
    }

    fn add(&mut self, pattern: Pattern) -> usize {
        let mut entries: Vec<(usize, f64)> = pattern.counts.iter().map(|&(sort, count)| (sort, count as f64)).collect();
        if let Some(row) = self.limit_rows[pattern.kind] {
            entries.push((row, -1.0));
        }
        let cost = self.task.kinds[pattern.kind].cost as f64 / self.scale;
        self.patterns.push(pattern);
        self.master.add(cost, entries)
    }

    /// A cost rounded up to one that a layout can have.
    fn round_up(&self, cost: f64) -> i64 {
        let steps = (cost * self.scale / self.step as f64 - 1e-6).ceil().max(0.0);
        #[expect(clippy::cast_possible_truncation, reason = "a cost is far below 2^63 steps")]
        let steps = steps as i64;
        steps * self.step
    }

    /// Brings in patterns until none lowers the cost, until the cost rounded up is `enough`, or until the bound rounds up
    /// to the same as the cost.
    fn solve(&mut self, wanted: &[usize], enough: i64, meter: &mut Meter<'_>) -> Result<Solved, Stuck> {
        let mut at_least = 0.0_f64;
        loop {
            self.master.lower()?;
            let mut steps = std::mem::take(&mut self.master.steps);
            let cost = self.master.cost();
            if self.round_up(cost) <= enough && !self.master.is_short() {
                meter.spend(steps);
                return Ok(Solved::Done { cost, at_least });
            }
            let duals = self.master.duals().to_vec();
            // The duals times `safe` price no pattern above its cost, which makes a bound of them (A. A. Farley, 1990).
            let mut safe = 1.0_f64;
            let mut gains = false;
            for kind in 0..self.task.kinds.len() {
                let board = &self.task.kinds[kind];
                let items: Vec<Item> = self
                    .task
                    .sorts
                    .iter()
                    .zip(wanted)
                    .zip(&duals)
                    .map(|((sort, &count), &value)| Item { length: sort.length, value, count })
                    .collect();
                let own = board.cost as f64 / self.scale;
                let limit = self.limit_rows[kind].map_or(0.0, |row| duals[row]);
                let filling = fill_best(board.length, &items, own + limit + 1e-6, &mut steps);
                if filling.at_most > own + limit + GAIN {
                    safe = safe.min((own / (filling.at_most - limit)).max(0.0));
                }
                if filling.value > own + limit + GAIN {
                    for counts in filling.also.into_iter().rev().take(MOST_ALSO) {
                        self.add(Pattern { kind, counts });
                    }
                    let number = self.add(Pattern { kind, counts: filling.chosen });
                    if !gains {
                        self.master.bring_in(number)?;
                    }
                    gains = true;
                }
            }
            at_least = at_least.max(cost * safe);
            if !meter.spend(steps) {
                return Ok(Solved::Spent);
            }
            let settled = self.round_up(at_least) >= self.round_up(cost) && !self.master.is_short();
            if !gains || settled {
                return Ok(Solved::Done { cost, at_least });
            }
        }
    }

    /// The root's bound, in costs; `None` where it was not reached. `Some(None)` where no stock covers what is wanted.
    pub(super) fn bound(&mut self, at_least: i64, meter: &mut Meter<'_>) -> Option<Option<i64>> {
        let (wanted, stock) = (self.task.wanted(), self.task.stock_after(&[]));
        if self.master.need(self.needs(&wanted, &stock)).is_err() {
            self.begin_again(&wanted, &stock);
        }
        match self.solve(&wanted, at_least, meter) {
            Ok(Solved::Done { at_least, .. }) => {
                let short = self.master.is_short() && self.limit_rows.iter().any(Option::is_some);
                Some((!short).then(|| self.round_up(at_least)))
            }
            Ok(Solved::Spent) | Err(Stuck) => None,
        }
    }

    /// One dive for a layout that costs less than `below`.
    pub(super) fn dive(&mut self, at_least: i64, below: i64, wild: f64, meter: &mut Meter<'_>) -> Option<Vec<Load>> {
        let mut wanted = self.task.wanted();
        let mut fixed: Vec<Load> = Vec::new();
        loop {
            let stock = self.task.stock_after(&fixed);
            if self.master.need(self.needs(&wanted, &stock)).is_err() {
                self.begin_again(&wanted, &stock);
            }
            let spent = self.task.cost(&fixed);
            let cost = match self.solve(&wanted, at_least - spent, meter) {
                Ok(Solved::Done { cost, .. }) => cost,
                Ok(Solved::Spent) => return None,
                Err(Stuck) => {
                    self.begin_again(&wanted, &stock);
                    return None;
                }
            };
            if spent + self.round_up(cost) >= below {
                return None;
            }
            if !self.fix(&mut wanted, &mut fixed, wild) {
                return None;
            }
            let rest = below - self.task.cost(&fixed);
            if let Some(more) = self.finish(&wanted, &fixed, rest, meter) {
                fixed.extend(more);
                return Some(fixed);
            }
            if rest <= 0 {
                return None;
            }
        }
    }

    /// A new master over the patterns at hand.
    fn begin_again(&mut self, wanted: &[usize], stock: &[usize]) {
        let dear = if self.limit_rows.iter().any(Option::is_some) { 1000.0 } else { 2.0 };
        self.master = Master::new(self.needs(wanted, stock), dear);
        for pattern in std::mem::take(&mut self.patterns) {
            self.add(pattern);
        }
    }

    /// Fixes what is whole; where nothing is, one board of a pattern with a large fraction. A wild dive leaves some of
    /// what is whole for later.
    fn fix(&mut self, wanted: &mut [usize], fixed: &mut Vec<Load>, wild: f64) -> bool {
        let used = self.master.in_use();
        let before = fixed.len();
        for &(number, amount) in &used {
            if wild > 0.0 && self.rng.f64() < wild {
                continue;
            }
            let whole = (amount + WHOLE).floor();
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small count, not negative")]
            for _ in 0..whole as usize {
                self.fix_one(number, wanted, fixed);
            }
        }
        if fixed.len() > before {
            return true;
        }
        let mut best: Option<(f64, usize)> = None;
        for &(number, amount) in &used {
            let worth = amount - amount.floor() + wild * self.rng.f64();
            if best.is_none_or(|(most, _)| worth > most) {
                best = Some((worth, number));
            }
        }
        let Some((_, number)) = best else { return false };
        self.fix_one(number, wanted, fixed)
    }

    fn fix_one(&self, number: usize, wanted: &mut [usize], fixed: &mut Vec<Load>) -> bool {
        let pattern = &self.patterns[number];
        let stock = self.task.stock_after(fixed);
        if stock[pattern.kind] == 0 {
            return false;
        }
        let mut sorts = Vec::new();
        for &(sort, count) in &pattern.counts {
            let count = count.min(wanted[sort]);
            wanted[sort] -= count;
            sorts.extend(std::iter::repeat_n(sort, count));
        }
        if sorts.is_empty() {
            return false;
        }
        sorts.sort_unstable();
        fixed.push(Load { kind: pattern.kind, sorts });
        true
    }

    /// What is left, quickly, for less than `below`.
    fn finish(&self, wanted: &[usize], fixed: &[Load], below: i64, meter: &mut Meter<'_>) -> Option<Vec<Load>> {
        if wanted.iter().all(|&count| count == 0) {
            return (below > 0).then(Vec::new);
        }
        let stock = self.task.stock_after(fixed);
        let pieces: usize = wanted.iter().sum();
        meter.spend((pieces * 30) as u64);
        [fit::best_fit(self.task, wanted, &stock), fit::first_fit(self.task, wanted, &stock)]
            .into_iter()
            .flatten()
            .find(|loads| self.task.cost(loads) < below)
    }
}
