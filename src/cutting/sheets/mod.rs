//! Which pieces come out of which sheet, by which cuts? Layouts in two dimensions, by edge-to-edge cuts only.
//!
//! Takes stock sheets with counts and prices, pieces with their grain, the saw's kerf and the trim at each edge, and which
//! [`Cuts`] the saw can make; gives a [`Layout`] that uses the least stock found (see [`Measure`]), then the fewest cuts,
//! then the largest offcut. Lengths are mm. A sheet lies with its length, and its grain, along x; its width is along y,
//! and a rip runs along x.
//!
//! A sheet is a slicing tree (`tree`), so what it says can be cut. Bounds by area and dual-feasible functions (`bound`);
//! ruin and recreate (`search`) until the cost meets the bound or the effort is spent, then tidying with what is left. Not
//! exact: where found and bound do not meet, either may be off, and the [`Standing`] says so. That cuts are fewest and
//! the offcut largest is never proved.

mod apart;
mod bound;
mod prepare;
mod search;
mod task;
mod tell;
mod tree;

use super::layout::{Failure, Measure, Problem, Saw, Standing};
use crate::progress::{Effort, Meter, Watch};
use prepare::Prepared;
use search::Search;

/// A size of sheet that can be had.
#[derive(Debug, Clone, PartialEq)]
pub struct Stock {
    /// What messages call it.
    pub name: String,
    /// Length, along the grain, mm.
    pub length: f64,
    /// Width, mm.
    pub width: f64,
    /// How many there are; `None` for as many as wanted.
    pub count: Option<usize>,
    /// Price of one; 0 for an offcut on hand.
    pub price: Option<f64>,
}

/// A size of piece that is wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// What messages call it.
    pub name: String,
    /// Length, along the sheet's length unless turned, mm.
    pub length: f64,
    /// Width, mm.
    pub width: f64,
    /// How many are wanted.
    pub count: usize,
    /// Whether it may lie across the sheet: its grain does not matter.
    pub turns: bool,
}

/// Which cuts may be made; each goes from edge to edge of what lies on the saw.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cuts {
    /// Rips and crosscuts in any order, any number deep.
    Free,
    /// First rips the whole length of the sheet, then crosscuts of each rip; with `trims`, a last rip of a piece that is
    /// narrower than its rip. Without, every piece is as wide as its rip.
    RipFirst {
        /// Whether pieces may be ripped to width at the last.
        trims: bool,
    },
}

/// What is to be cut from what.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// What can be had.
    pub stock: Vec<Stock>,
    /// What is wanted.
    pub pieces: Vec<Piece>,
    /// What the saw takes; the trim is at each of the four edges.
    pub saw: Saw,
    /// Which cuts may be made.
    pub cuts: Cuts,
}

/// A rectangle on a sheet, mm from the sheet's near corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Area {
    /// Where it begins along the sheet's length.
    pub x: f64,
    /// Where it begins across.
    pub y: f64,
    /// Its size along the sheet's length.
    pub length: f64,
    /// Its size across.
    pub width: f64,
}

/// Which way a cut runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// Along the sheet's length.
    Rip,
    /// Across it.
    Crosscut,
}

/// A rectangle of a sheet and what becomes of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Branch {
    /// Where it lies.
    pub area: Area,
    /// What becomes of it.
    pub becomes: Becomes,
}

/// What becomes of a rectangle.
#[derive(Debug, Clone, PartialEq)]
pub enum Becomes {
    /// A piece, to its size.
    Piece {
        /// Which of the job's pieces.
        piece: usize,
        /// Whether it lies across the sheet.
        turned: bool,
    },
    /// Left over.
    Offcut,
    /// Two, by a cut from edge to edge. `second` is missing where the saw takes all that is beyond the cut.
    Split {
        /// Which way the cut runs.
        direction: Direction,
        /// The nearer side, up to the kerf.
        first: Box<Branch>,
        /// What is beyond the kerf.
        second: Option<Box<Branch>>,
    },
}

/// A piece on a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placed {
    /// Which of the job's pieces.
    pub piece: usize,
    /// Whether it lies across the sheet.
    pub turned: bool,
    /// Where it lies.
    pub area: Area,
}

/// A cut, in the order in which they are made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cut {
    /// Which way it runs.
    pub direction: Direction,
    /// What it goes through, from edge to edge.
    pub through: Area,
    /// How far from the near edge of `through` it begins, mm: the size of the first side.
    pub at: f64,
}

/// One sheet: what is left of it when the edges are trimmed, and what becomes of that.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Which of the job's stock.
    pub stock: usize,
    /// The trimmed sheet, taken apart.
    pub whole: Branch,
}

impl Sheet {
    /// Its pieces, in the order in which they come off the saw.
    pub fn pieces(&self) -> Vec<Placed> {
        let mut placed = Vec::new();
        self.whole.visit(&mut |branch| {
            if let Becomes::Piece { piece, turned } = branch.becomes {
                placed.push(Placed { piece, turned, area: branch.area });
            }
        });
        placed
    }

    /// What is left over.
    pub fn offcuts(&self) -> Vec<Area> {
        let mut offcuts = Vec::new();
        self.whole.visit(&mut |branch| {
            if branch.becomes == Becomes::Offcut {
                offcuts.push(branch.area);
            }
        });
        offcuts
    }

    /// Its cuts, in an order in which they can be made; trimming the edges is not among them.
    pub fn cuts(&self) -> Vec<Cut> {
        let mut cuts = Vec::new();
        self.whole.visit(&mut |branch| {
            if let Becomes::Split { direction, first, .. } = &branch.becomes {
                let at = if *direction == Direction::Rip { first.area.width } else { first.area.length };
                cuts.push(Cut { direction: *direction, through: branch.area, at });
            }
        });
        cuts
    }
}

impl Branch {
    fn visit<'b>(&'b self, told: &mut dyn FnMut(&'b Self)) {
        told(self);
        if let Becomes::Split { first, second, .. } = &self.becomes {
            first.visit(told);
            if let Some(second) = second {
                second.visit(told);
            }
        }
    }
}

/// Sheets and what is cut from each.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// The sheets.
    pub sheets: Vec<Sheet>,
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
    /// How many cuts, trimming of edges left out.
    pub fn cuts(&self) -> usize {
        self.sheets.iter().map(|sheet| sheet.cuts().len()).sum()
    }

    /// The largest piece left over by area, if anything is.
    pub fn largest_offcut(&self) -> Option<Area> {
        let offcuts = self.sheets.iter().flat_map(Sheet::offcuts);
        offcuts.max_by(|a, b| (a.length * a.width).total_cmp(&(b.length * b.width)))
    }
}

/// Steps spent on fewer cuts and a larger offcut, for each piece.
const TIDYING: u64 = 100_000;

/// Lays the pieces out on the least stock that it finds.
///
/// # Errors
/// Everything that keeps the job from being done, all at once, or that the watch said [`crate::progress::Flow::Cancel`].
pub fn lay_out(job: &Job, effort: Effort, watch: &Watch<'_>) -> Result<Layout, Failure> {
    let prepared = prepare::prepare(job).map_err(Failure::Unfit)?;
    let task = &prepared.task;
    let mut meter = Meter::new(effort.steps, watch);
    let mut steps = 0;
    let at_least = bound::at_least(task, &mut steps);
    meter.at_least = at_least as f64 * prepared.unit;
    let mut search = Search::new(task, effort.seed);
    search.begin(&mut meter);
    meter.spend(steps);
    if !search.state.aside.is_empty() && !search.within(i64::MAX, &mut meter) {
        meter.is_cancelled()?;
        return Err(Failure::Unfit(vec![runs_out(job, &prepared, &search)]));
    }
    let pieces: usize = task.sorts.iter().map(|sort| sort.count).sum();
    let tidying = (TIDYING * pieces as u64).min(effort.steps / 5);
    let step = task.cost_step();
    loop {
        search.move_to_cheaper();
        let cost = search.cost();
        meter.found = Some(cost as f64 * prepared.unit);
        meter.keep_back(if cost <= at_least { 0 } else { tidying });
        if cost <= at_least || !meter.may_go_on() {
            break;
        }
        let best = search.state.clone();
        if !search.within(cost - step, &mut meter) {
            search.state = best;
            break;
        }
    }
    meter.keep_back(0);
    search.tidy(tidying, &mut meter);
    meter.is_cancelled()?;
    Ok(tell::tell(&prepared, &search.state.sheets, (search.cost(), at_least), meter.spent()))
}

fn runs_out(job: &Job, prepared: &Prepared, search: &Search<'_>) -> Problem {
    let mut pieces = prepared.pieces.clone();
    let mut left = vec![0_usize; job.pieces.len()];
    for &sort in &search.state.aside {
        left[prepare::take_one(&mut pieces[sort as usize])] += 1;
    }
    let wanted: f64 = prepared.task.sorts.iter().map(|sort| sort.area() as f64 * sort.count as f64).sum();
    let there: f64 = prepared
        .task
        .kinds
        .iter()
        .map(|kind| kind.count.map_or(f64::INFINITY, |count| count as f64 * kind.area()))
        .sum();
    let left = left.into_iter().enumerate().filter(|&(_, count)| count > 0);
    let left = left.map(|(piece, count)| (job.pieces[piece].name.clone(), count)).collect();
    Problem::StockRunsOut { left, proved: wanted > there * (1.0 + 1e-9) }
}
