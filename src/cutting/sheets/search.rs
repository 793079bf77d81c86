//! Can the pieces go on less? Take some off, put them back elsewhere, many times over.
//!
//! Ruin and recreate (G. Schrimpf and others, J. Comput. Phys. 159 (2000) 139–171) with a target: the cost may not pass a
//! limit that is one step below the best layout so far, what finds no place waits aside, and its area is what the search
//! brings down (after J. Gardeyn, T. Wauters, Eur. J. Oper. Res. 297 (2022) 464–478). Worse states are taken with a
//! chance that falls over a cycle and then begins again.

use fastrand::Rng;

use super::task::{Kind, Sort, Task};
use super::tree::{NONE, Place, Sheet, What};
use crate::progress::Meter;

/// Heat at the beginning and the end of a cycle, in mean areas of a piece (or in cuts, when tidying).
const HOT: f64 = 0.05;
const COLD: f64 = 0.005;
/// Rounds in a cycle.
const CYCLE: u32 = 5000;
/// What free area that lies together is worth against area without a place.
const TOGETHER: f64 = 0.05;
/// One sheet in so many is passed over where it would have been the best, so that the same is not always done.
const PASSED_OVER: u32 = 200;
/// The most sheets that pieces are taken off in a round, and times that something is taken off each.
const MOST_SHEETS: usize = 3;
const MOST_TIMES: usize = 3;

/// What the search brings down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Aim {
    /// Area without a place.
    Less,
    /// Cuts, then what is not in the largest offcut; everything keeps a place.
    Tidier,
}

/// Sheets, some of them perhaps empty, and the pieces that have no place.
#[derive(Debug, Clone)]
pub(super) struct State {
    pub(super) sheets: Vec<Sheet>,
    pub(super) aside: Vec<u32>,
}

/// Sheets as they were before a round, latest last; `None` where there was none.
type Before = Vec<(usize, Option<Sheet>)>;

pub(super) struct Search<'t> {
    task: &'t Task,
    pub(super) state: State,
    /// The cost may not pass this.
    limit: i64,
    rng: Rng,
    steps: u64,
    mean: f64,
    largest: f64,
    aim: Aim,
}

impl<'t> Search<'t> {
    /// Everything aside, no sheet in use.
    pub(super) fn new(task: &'t Task, seed: u64) -> Self {
        let mut aside = Vec::new();
        for (index, sort) in (0_u32..).zip(&task.sorts) {
            aside.extend(std::iter::repeat_n(index, sort.count));
        }
        let area: f64 = task.sorts.iter().map(|sort| sort.area() as f64 * sort.count as f64).sum();
        let mean = area / aside.len().max(1) as f64;
        let whole = |kind: &Kind| kind.whole.0 as f64 * kind.whole.1 as f64;
        let largest = task.kinds.iter().map(whole).fold(1.0, f64::max);
        let state = State { sheets: Vec::new(), aside };
        Self { task, state, limit: i64::MAX, rng: Rng::with_seed(seed), steps: 0, mean, largest, aim: Aim::Less }
    }

    /// What the sheets in use cost.
    pub(super) fn cost(&self) -> i64 {
        let used = self.state.sheets.iter().filter(|sheet| sheet.pieces > 0);
        used.map(|sheet| self.task.kinds[sheet.kind].cost).sum()
    }

    /// Whether any more of a kind is left.
    fn is_left(&self, kind: usize) -> bool {
        self.task.kinds[kind].count.is_none_or(|count| {
            self.state.sheets.iter().filter(|sheet| sheet.pieces > 0 && sheet.kind == kind).count() < count
        })
    }

    /// Everything put on sheets once, largest first.
    pub(super) fn begin(&mut self, meter: &mut Meter<'_>) {
        let mut aside = std::mem::take(&mut self.state.aside);
        aside.sort_by_key(|&sort| std::cmp::Reverse(self.task.sorts[sort as usize].area()));
        for some in aside.chunks(64) {
            self.place_all(some, &mut Vec::new());
            meter.spend(std::mem::take(&mut self.steps));
            if meter.is_cancelled().is_err() {
                return;
            }
        }
    }

    /// Moves every sheet's pieces to the cheapest kind that takes them.
    pub(super) fn move_to_cheaper(&mut self) {
        for index in 0..self.state.sheets.len() {
            let sheet = &self.state.sheets[index];
            if sheet.pieces == 0 {
                continue;
            }
            let (length, width) = sheet.needs();
            let own = sheet.kind;
            let cheaper = (0..self.task.kinds.len())
                .filter(|&kind| {
                    let stock = &self.task.kinds[kind];
                    stock.cost < self.task.kinds[own].cost && stock.length >= length && stock.width >= width
                })
                .filter(|&kind| self.is_left(kind))
                .min_by_key(|&kind| self.task.kinds[kind].cost);
            if let Some(kind) = cheaper {
                self.state.sheets[index].move_to(kind, self.task);
            }
        }
    }

    /// Takes whole sheets away, those with the most free first, until the cost is within `limit`, and searches for a
    /// place for everything within it. Whether there was one.
    pub(super) fn within(&mut self, limit: i64, meter: &mut Meter<'_>) -> bool {
        self.limit = limit;
        self.aim = Aim::Less;
        while self.cost() > limit {
            let filled = (0..self.state.sheets.len()).filter(|&at| self.state.sheets[at].pieces > 0);
            let share =
                |at: usize| self.state.sheets[at].free as f64 / self.task.kinds[self.state.sheets[at].kind].area();
            let Some(emptiest) = filled.max_by(|&a, &b| share(a).total_cmp(&share(b))) else { break };
            let root = self.state.sheets[emptiest].root();
            self.state.sheets[emptiest].remove(root, &mut self.state.aside, self.task);
        }
        let aside = std::mem::take(&mut self.state.aside);
        let ordered = self.in_some_order(aside);
        self.place_all(&ordered, &mut Vec::new());
        self.go_round(meter, u64::MAX);
        self.state.aside.is_empty()
    }

    /// Searches for fewer cuts and a larger offcut on the same stock, for so many steps.
    pub(super) fn tidy(&mut self, steps: u64, meter: &mut Meter<'_>) {
        self.limit = self.cost();
        self.aim = Aim::Tidier;
        self.go_round(meter, steps);
    }

    fn go_round(&mut self, meter: &mut Meter<'_>, most_steps: u64) {
        let mut before: Before = Vec::new();
        let mut value = self.value();
        let mut best = (self.aim == Aim::Tidier).then(|| (value, self.state.clone()));
        let mut round = 0_u32;
        let until = meter.spent().saturating_add(most_steps);
        while (self.aim == Aim::Tidier || !self.state.aside.is_empty())
            && meter.spend(std::mem::take(&mut self.steps))
            && meter.spent() < until
        {
            let heat = HOT * (COLD / HOT).powf(f64::from(round) / f64::from(CYCLE));
            round = (round + 1) % CYCLE;
            let scale = if self.aim == Aim::Less { self.mean } else { 10.0 };
            before.clear();
            let aside = self.state.aside.clone();
            let off = std::mem::take(&mut self.state.aside);
            let off = self.take_off(off, &mut before);
            self.steps += 100;
            let ordered = self.in_some_order(off);
            self.place_all(&ordered, &mut before);
            let next = self.value();
            if next <= value - heat * scale * self.rng.f64().max(1e-9).ln() {
                value = next;
                if let Some((least, state)) = &mut best
                    && value < *least
                {
                    (*least, *state) = (value, self.state.clone());
                }
            } else {
                self.state.aside = aside;
                for (index, old) in before.drain(..).rev() {
                    match old {
                        Some(old) => self.state.sheets[index] = old,
                        None => self.state.sheets.truncate(index),
                    }
                }
            }
        }
        if let Some((_, state)) = best {
            self.state = state;
        }
    }

    fn in_some_order(&mut self, mut sorts: Vec<u32>) -> Vec<u32> {
        self.rng.shuffle(&mut sorts);
        let key: fn(&Sort) -> i64 = match self.rng.u32(0..10) {
            0..4 => |sort| -sort.area(),
            4..6 => |sort| -sort.length,
            6..8 => |sort| -sort.width,
            8 => |sort| -sort.length.max(sort.width),
            _ => return sorts,
        };
        sorts.sort_by_key(|&sort| key(&self.task.sorts[sort as usize]));
        sorts
    }

    /// Puts the pieces on sheets one after the other, as far as it goes; the rest is left aside.
    fn place_all(&mut self, sorts: &[u32], before: &mut Before) {
        let mut nowhere = None;
        for &sort in sorts {
            if nowhere == Some(sort) {
                self.state.aside.push(sort);
                continue;
            }
            let Some((index, place)) = self.best_place(sort).or_else(|| self.open(sort, before)) else {
                nowhere = Some(sort);
                self.state.aside.push(sort);
                continue;
            };
            remember(before, index, &self.state.sheets[index]);
            self.steps += 50;
            self.state.sheets[index].insert(&place, sort, self.task);
        }
    }

    fn best_place(&mut self, sort: u32) -> Option<(usize, Place)> {
        let mut best: Option<(usize, Place)> = None;
        let area = self.task.sorts[sort as usize].area();
        self.steps += self.state.sheets.len() as u64 / 4 + 4;
        for (index, sheet) in self.state.sheets.iter_mut().enumerate() {
            if sheet.pieces == 0 || sheet.free < area {
                continue;
            }
            let Some(place) = sheet.place_for(sort, self.task, &mut self.steps) else { continue };
            if best.is_none_or(|(_, best)| place.cost < best.cost) && self.rng.u32(0..PASSED_OVER) != 0 {
                best = Some((index, place));
            }
        }
        best
    }

    /// An empty sheet that takes the piece, if the limit and the stock allow one more.
    fn open(&mut self, sort: u32, before: &mut Before) -> Option<(usize, Place)> {
        let cost = self.cost();
        let mut best: Option<(f64, usize, Place)> = None;
        for (kind, stock) in self.task.kinds.iter().enumerate() {
            if cost + stock.cost > self.limit || !self.is_left(kind) {
                continue;
            }
            let mut sheet = Sheet::empty(kind, self.task);
            let Some(place) = sheet.place_for(sort, self.task, &mut self.steps) else { continue };
            let stray = if self.limit == i64::MAX { 1.0 } else { 0.8 + 0.4 * self.rng.f64() };
            let worth = stray * stock.cost as f64 / stock.area();
            if best.is_none_or(|(least, ..)| worth < least) {
                best = Some((worth, kind, place));
            }
        }
        let (_, kind, place) = best?;
        let sheet = Sheet::empty(kind, self.task);
        let index = self.state.sheets.iter().position(|sheet| sheet.pieces == 0);
        let index = index.unwrap_or(self.state.sheets.len());
        if index == self.state.sheets.len() {
            before.push((index, None));
            self.state.sheets.push(sheet);
        } else {
            remember(before, index, &self.state.sheets[index]);
            self.state.sheets[index] = sheet;
        }
        Some((index, place))
    }

    /// Less is better.
    fn value(&mut self) -> f64 {
        if self.aim == Aim::Tidier {
            return self.untidiness();
        }
        let aside: f64 = self.state.aside.iter().map(|&sort| self.task.sorts[sort as usize].area() as f64).sum();
        let mut together = 0.0;
        for sheet in self.state.sheets.iter().filter(|sheet| sheet.pieces > 0) {
            let free = sheet.free as f64;
            together += free * free / self.task.kinds[sheet.kind].area();
        }
        aside - TOGETHER * together
    }

    fn untidiness(&mut self) -> f64 {
        if !self.state.aside.is_empty() {
            return f64::INFINITY;
        }
        let (mut cuts, mut largest) = (0, 0);
        for sheet in &mut self.state.sheets {
            let tally = sheet.tally(self.task);
            cuts += tally.0;
            largest = largest.max(tally.1);
        }
        f64::from(cuts) - 0.99 * largest as f64 / self.largest
    }

    /// Takes pieces off one to three sheets: all, or what hangs on a few nodes.
    fn take_off(&mut self, mut off: Vec<u32>, before: &mut Before) -> Vec<u32> {
        let filled: Vec<usize> =
            (0..self.state.sheets.len()).filter(|&index| self.state.sheets[index].pieces > 0).collect();
        if filled.is_empty() {
            return off;
        }
        for _ in 0..self.rng.usize(1..=MOST_SHEETS.min(filled.len())) {
            let index = filled[self.rng.usize(0..filled.len())];
            if self.state.sheets[index].pieces == 0 {
                continue;
            }
            remember(before, index, &self.state.sheets[index]);
            let sheet = &mut self.state.sheets[index];
            self.steps += 50;
            if self.rng.u32(0..8) == 0 {
                let root = sheet.root();
                sheet.remove(root, &mut off, self.task);
                continue;
            }
            for _ in 0..self.rng.usize(1..=MOST_TIMES) {
                if sheet.pieces == 0 {
                    break;
                }
                let nodes: Vec<u32> = sheet.in_use().map(|(index, _)| index).collect();
                let mut pick = nodes[self.rng.usize(0..nodes.len())];
                let node = sheet.node(pick);
                if matches!(node.what, What::Piece { .. }) && node.parent != NONE && self.rng.bool() {
                    pick = node.parent;
                }
                sheet.remove(pick, &mut off, self.task);
            }
        }
        off
    }
}

fn remember(before: &mut Before, index: usize, sheet: &Sheet) {
    if !before.iter().any(|&(other, _)| other == index) {
        before.push((index, Some(sheet.clone())));
    }
}
