//! Which pieces come out of which board? Layouts in one dimension, for boards, rips and edge strips.
//!
//! Takes stock lengths with counts and prices, pieces, the saw's kerf and the trim at each end; gives a [`Layout`] that
//! uses the least (see [`Measure`]) and, of that, keeps the longest offcut found. Lengths are mm, along the board from its
//! left end as it lies.
//!
//! Quick fits and bounds first; then patterns by column generation, and dives (`columns`) until a layout meets the bound
//! or the effort is spent. A layout is [`Standing::Proved`] where the two meet. Not searched to the end: where they do
//! not meet, either may be off.

mod bound;
mod columns;
mod fit;
mod offcut;
mod task;

use super::layout::{self, Failure, Measure, Priced, Problem, Saw, Standing};
use super::size;
use crate::progress::{Effort, Meter, Watch};
use columns::Columns;
use task::{Kind, Load, Sort, Task};

/// A length of board that can be had.
#[derive(Debug, Clone, PartialEq)]
pub struct Stock {
    /// What messages call it.
    pub name: String,
    /// Length, mm.
    pub length: f64,
    /// How many there are; `None` for as many as wanted.
    pub count: Option<usize>,
    /// Price of one; 0 for an offcut on hand.
    pub price: Option<f64>,
}

/// A length that is wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// What messages call it.
    pub name: String,
    /// Length, mm.
    pub length: f64,
    /// How many are wanted.
    pub count: usize,
}

/// What is to be cut from what.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// What can be had.
    pub stock: Vec<Stock>,
    /// What is wanted.
    pub pieces: Vec<Piece>,
    /// What the saw takes.
    pub saw: Saw,
}

/// One piece on a board.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cut {
    /// Which of the job's pieces.
    pub piece: usize,
    /// Where it begins, mm from the board's end.
    pub from: f64,
    /// Where it ends, mm.
    pub to: f64,
}

/// One board with its pieces in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Board {
    /// Which of the job's stock.
    pub stock: usize,
    /// The pieces, in the order in which they are cut.
    pub cuts: Vec<Cut>,
    /// What is left at the far end after the last cut and the trim, mm; 0 where the saw takes it all.
    pub offcut: f64,
}

/// Boards and what is cut from each.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// The boards.
    pub boards: Vec<Board>,
    /// What it uses as little of as it can.
    pub measure: Measure,
    /// How much of it.
    pub used: f64,
    /// How good that is known to be.
    pub standing: Standing,
    /// Steps spent.
    pub steps: u64,
}

impl Layout {
    /// The longest piece of board left over, mm.
    pub fn largest_offcut(&self) -> f64 {
        self.boards.iter().map(|board| board.offcut).fold(0.0, f64::max)
    }
}

/// A job in whole numbers, and the way back.
struct Prepared {
    task: Task,
    measure: Measure,
    unit: f64,
    kerf: i64,
    trim: i64,
    /// For each sort, the pieces of that length and how many of each.
    pieces: Vec<Vec<(usize, usize)>>,
    /// For each kind, its stock and how many of each.
    stock: Vec<usize>,
}

/// Lays the pieces out on the least stock.
///
/// # Errors
/// Everything that keeps the job from being done, all at once, or that the watch said [`crate::progress::Flow::Cancel`].
pub fn lay_out(job: &Job, effort: Effort, watch: &Watch<'_>) -> Result<Layout, Failure> {
    let prepared = prepare(job).map_err(Failure::Unfit)?;
    let task = &prepared.task;
    let mut meter = Meter::new(effort.steps, watch);
    let at_least = bound::at_least(task);
    meter.at_least = at_least as f64 * prepared.unit;
    let mut search = Search { task, best: None, at_least, short: false };
    search.quick(&mut meter);
    if !search.is_done() {
        search.with_columns(effort.seed, &mut meter, prepared.unit);
    }
    meter.is_cancelled()?;
    let Some(mut loads) = search.best else {
        return Err(Failure::Unfit(vec![runs_out(job, &prepared, search.short)]));
    };
    fit::on_cheaper_boards(task, &mut loads);
    let mut steps = 0;
    offcut::gather(task, &mut loads, &mut steps);
    meter.spend(steps);
    meter.is_cancelled()?;
    Ok(tell(job, &prepared, &loads, search.at_least, meter.spent()))
}

struct Search<'t> {
    task: &'t Task,
    best: Option<Vec<Load>>,
    at_least: i64,
    /// Whether the stock was shown not to reach.
    short: bool,
}

impl Search<'_> {
    fn is_done(&self) -> bool {
        self.short || self.best.as_ref().is_some_and(|best| self.task.cost(best) <= self.at_least)
    }

    fn offer(&mut self, loads: Option<Vec<Load>>) {
        let Some(mut loads) = loads else { return };
        fit::on_cheaper_boards(self.task, &mut loads);
        if self.best.as_ref().is_none_or(|best| self.task.cost(&loads) < self.task.cost(best)) {
            self.best = Some(loads);
        }
    }

    fn quick(&mut self, meter: &mut Meter<'_>) {
        let stock = self.task.stock_after(&[]);
        self.quick_from(&stock, meter);
        if stock.len() > 1 {
            for (kind, &count) in stock.iter().enumerate() {
                let mut alone = vec![0; stock.len()];
                alone[kind] = count;
                self.quick_from(&alone, meter);
            }
        }
        if self.best.is_none() {
            let (loads, left) = fit::on_all_there_is(self.task);
            self.offer(left.iter().all(|&count| count == 0).then_some(loads));
        }
    }

    fn quick_from(&mut self, stock: &[usize], meter: &mut Meter<'_>) {
        let wanted = self.task.wanted();
        self.offer(fit::first_fit(self.task, &wanted, stock));
        self.offer(fit::best_fit(self.task, &wanted, stock));
        for lean in [0.0, 0.05, 0.3] {
            if self.is_done() || !meter.may_go_on() {
                return;
            }
            let mut steps = 0;
            self.offer(fit::fill_one_by_one(self.task, &wanted, stock, lean, &mut steps));
            meter.spend(steps);
        }
    }

    fn with_columns(&mut self, seed: u64, meter: &mut Meter<'_>, unit: f64) {
        let start = self.best.clone().unwrap_or_default();
        let mut columns = Columns::new(self.task, &start, seed);
        // While it is easy, a step at a time; then the bound, which can be long to find.
        while let Some(best) = self.best.as_ref().filter(|_| !self.is_done()) {
            let below = self.task.cost(best);
            let found = columns.dive(self.at_least.max(below - self.task.cost_step()), below, 0.0, meter);
            if found.is_none() {
                break;
            }
            self.offer(found);
        }
        if self.is_done() {
            return;
        }
        match columns.bound(self.at_least, meter) {
            Some(Some(bound)) => self.at_least = self.at_least.max(bound),
            Some(None) => self.short = self.best.is_none(),
            None => {}
        }
        meter.at_least = self.at_least as f64 * unit;
        // Dives that stray more and more, then begin again.
        let mut dives = 0_u32;
        while !self.is_done() && meter.spend(1000) {
            let below = self.best.as_ref().map_or(i64::MAX / 4, |best| self.task.cost(best));
            let wild = if dives == 0 { 0.0 } else { [0.05, 0.2, 0.5, 1.0][(dives % 4) as usize] };
            let found = columns.dive(self.at_least, below, wild, meter);
            self.offer(found);
            meter.found = self.best.as_ref().map(|best| self.task.cost(best) as f64 * unit);
            dives += 1;
        }
    }
}

fn prepare(job: &Job) -> Result<Prepared, Vec<Problem>> {
    let mut problems = Vec::new();
    let (kerf, trim) = layout::check_saw(job.saw, &mut problems);
    layout::check_counts(job.pieces.iter().map(|piece| (piece.name.as_str(), piece.count)), &mut problems);
    if job.stock.iter().all(|stock| stock.count == Some(0)) {
        problems.push(Problem::NoStock);
    }
    let stock: Vec<i64> =
        job.stock.iter().map(|stock| layout::check_size("length", &stock.name, stock.length, &mut problems)).collect();
    let stock_is_sound = !problems.iter().any(|problem| matches!(problem, Problem::Size { .. }));
    let wanted: Vec<i64> =
        job.pieces.iter().map(|piece| layout::check_size("length", &piece.name, piece.length, &mut problems)).collect();
    let priced: Vec<Priced<'_>> = job
        .stock
        .iter()
        .zip(&stock)
        .map(|(stock, &length)| Priced { name: &stock.name, price: stock.price, size: (length, 1) })
        .collect();
    let (costs, measure, unit) = layout::costs(&priced, &mut problems);
    // Length mm of material: the second size is 1 step, not 1 mm.
    let unit = if measure == Measure::Material { unit / size::to_mm(1) } else { unit };
    let mut usable = Vec::new();
    for (stock, &length) in job.stock.iter().zip(&stock) {
        if length <= 2 * trim {
            problems.push(Problem::TrimTakesAll { stock: stock.name.clone(), trim: job.saw.trim });
        }
        usable.push(length - 2 * trim);
    }
    let there = job.stock.iter().zip(&usable).filter(|(stock, usable)| stock.count != Some(0) && **usable > 0);
    let longest = there.map(|(_, &usable)| usable).max().filter(|_| stock_is_sound).unwrap_or(i64::MAX);
    for (piece, &length) in job.pieces.iter().zip(&wanted) {
        if length > longest {
            problems.push(Problem::TooLarge {
                piece: piece.name.clone(),
                size: piece.length.to_string(),
                largest: size::to_mm(longest).to_string(),
            });
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    Ok(in_whole_numbers(job, &usable, &wanted, costs, measure, unit, (kerf, trim)))
}

fn in_whole_numbers(
    job: &Job,
    usable: &[i64],
    wanted: &[i64],
    costs: Vec<i64>,
    measure: Measure,
    unit: f64,
    (kerf, trim): (i64, i64),
) -> Prepared {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by_key(|&piece| (std::cmp::Reverse(wanted[piece]), piece));
    let common = wanted.iter().fold(0, |common, &length| size::common_divisor(common, length + kerf)).max(1);
    let mut sorts: Vec<Sort> = Vec::new();
    let mut pieces: Vec<Vec<(usize, usize)>> = Vec::new();
    for piece in order {
        let (length, count) = ((wanted[piece] + kerf) / common, job.pieces[piece].count);
        match (sorts.last_mut(), pieces.last_mut()) {
            (Some(sort), Some(same)) if sort.length == length => {
                sort.count += count;
                same.push((piece, count));
            }
            _ => {
                sorts.push(Sort { length, count });
                pieces.push(vec![(piece, count)]);
            }
        }
    }
    let mut kinds = Vec::new();
    let mut stock = Vec::new();
    for (index, (&usable, cost)) in usable.iter().zip(costs).enumerate() {
        if job.stock[index].count != Some(0) {
            kinds.push(Kind { length: (usable + kerf) / common, cost, count: job.stock[index].count });
            stock.push(index);
        }
    }
    Prepared { task: Task { kinds, sorts }, measure, unit, kerf, trim, pieces, stock }
}

fn runs_out(job: &Job, prepared: &Prepared, proved: bool) -> Problem {
    let (_, without) = fit::on_all_there_is(&prepared.task);
    let mut left = Vec::new();
    for (same, mut without) in prepared.pieces.iter().zip(without) {
        for &(piece, count) in same {
            let now = without.min(count);
            without -= now;
            if now > 0 {
                left.push((job.pieces[piece].name.clone(), now));
            }
        }
    }
    Problem::StockRunsOut { left, proved }
}

fn tell(job: &Job, prepared: &Prepared, loads: &[Load], at_least: i64, steps: u64) -> Layout {
    let task = &prepared.task;
    let used = task.cost(loads);
    let mut pieces = prepared.pieces.clone();
    let mut boards = Vec::new();
    for load in loads {
        let stock = prepared.stock[load.kind];
        let mut cuts = Vec::new();
        let mut at = prepared.trim;
        for &sort in &load.sorts {
            let Some((piece, count)) = pieces[sort].last_mut() else { continue };
            let piece = *piece;
            *count -= 1;
            if *count == 0 {
                pieces[sort].pop();
            }
            let length = size::to_steps(job.pieces[piece].length).unwrap_or(0);
            cuts.push(Cut { piece, from: size::to_mm(at), to: size::to_mm(at + length) });
            at += length + prepared.kerf;
        }
        let whole = size::to_steps(job.stock[stock].length).unwrap_or(0);
        let offcut = size::to_mm((whole - prepared.trim - at).max(0));
        boards.push(Board { stock, cuts, offcut });
    }
    let standing = if used <= at_least {
        Standing::Proved
    } else {
        Standing::BestFound { at_least: at_least as f64 * prepared.unit }
    };
    Layout { boards, measure: prepared.measure, used: used as f64 * prepared.unit, standing, steps }
}
