//! What is the least cost of covering every need with columns, fractions allowed? A revised simplex method that columns
//! can be added to and whose needs can be changed.
//!
//! Minimise `cost · x` with `entries · x ≥ needs`, `x ≥ 0`. The basis's inverse is kept in full, column by column; after a
//! change of needs the dual simplex method goes on from where the last solution was (G. B. Dantzig; C. E. Lemke 1954).
//! An artificial column for each row, at a cost that no real one has, makes every needs reachable.

/// Below this a number is taken for zero.
const ZERO: f64 = 1e-9;
/// A pivot smaller than this is not used.
const LEAST_PIVOT: f64 = 1e-7;
/// Pivots after which the inverse is checked against the basis.
const BETWEEN_CHECKS: u32 = 100;
/// Differences from the needs that make the inverse be worked out anew.
const DRIFT: f64 = 1e-7;

#[derive(Debug, Clone)]
struct Column {
    cost: f64,
    entries: Vec<(usize, f64)>,
    /// The row in which it is basic.
    row: Option<usize>,
}

/// The covering problem and its present solution.
#[derive(Debug, Clone)]
pub(super) struct Master {
    needs: Vec<f64>,
    columns: Vec<Column>,
    basis: Vec<usize>,
    /// Column by column.
    inverse: Vec<f64>,
    values: Vec<f64>,
    duals: Vec<f64>,
    since_check: u32,
    /// Work done, in steps of `progress`.
    pub(super) steps: u64,
}

/// The linear program could not be solved to the end: numbers too near to zero to go on with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stuck;

impl Master {
    /// No columns yet but the artificial ones, which cost `dear`.
    pub(super) fn new(needs: Vec<f64>, dear: f64) -> Self {
        let rows = needs.len();
        let mut columns: Vec<Column> =
            (0..rows).map(|row| Column { cost: dear, entries: vec![(row, 1.0)], row: None }).collect();
        columns.extend((0..rows).map(|row| Column { cost: 0.0, entries: vec![(row, -1.0)], row: None }));
        let mut master = Self {
            basis: vec![0; rows],
            inverse: vec![0.0; rows * rows],
            values: vec![0.0; rows],
            duals: vec![0.0; rows],
            needs,
            columns,
            since_check: 0,
            steps: 0,
        };
        for row in 0..rows {
            let sign = if master.needs[row] < 0.0 { -1.0 } else { 1.0 };
            let column = if sign < 0.0 { rows + row } else { row };
            master.basis[row] = column;
            master.columns[column].row = Some(row);
            master.inverse[row * rows + row] = sign;
            master.values[row] = master.needs[row].abs();
            master.duals[row] = sign * master.columns[column].cost;
        }
        master
    }

    fn rows(&self) -> usize {
        self.needs.len()
    }

    /// Adds a column and says its number, counted from 0 over the columns added.
    pub(super) fn add(&mut self, cost: f64, entries: Vec<(usize, f64)>) -> usize {
        self.columns.push(Column { cost, entries, row: None });
        self.columns.len() - 1 - 2 * self.rows()
    }

    /// The dual value of each row.
    pub(super) fn duals(&self) -> &[f64] {
        &self.duals
    }

    /// The cost of the present solution.
    pub(super) fn cost(&self) -> f64 {
        self.basis.iter().zip(&self.values).map(|(&column, value)| self.columns[column].cost * value).sum()
    }

    /// Whether the present solution leans on artificial columns.
    pub(super) fn is_short(&self) -> bool {
        let rows = self.rows();
        self.basis.iter().zip(&self.values).any(|(&column, &value)| column < rows && value > 1e-6)
    }

    /// The columns added that are in use, with how much of each.
    pub(super) fn in_use(&self) -> Vec<(usize, f64)> {
        let own = 2 * self.rows();
        let mut used: Vec<(usize, f64)> = self
            .basis
            .iter()
            .zip(&self.values)
            .filter(|&(&column, &value)| column >= own && value > ZERO)
            .map(|(&column, &value)| (column - own, value))
            .collect();
        used.sort_unstable_by_key(|&(column, _)| column);
        used
    }

    fn reduced_cost(&self, column: &Column) -> f64 {
        column.entries.iter().fold(column.cost, |cost, &(row, entry)| cost - self.duals[row] * entry)
    }

    /// The inverse times a column.
    fn through(&mut self, column: usize) -> Vec<f64> {
        let rows = self.rows();
        let mut direction = vec![0.0; rows];
        for &(row, entry) in &self.columns[column].entries {
            for (to, from) in direction.iter_mut().zip(&self.inverse[row * rows..(row + 1) * rows]) {
                *to += from * entry;
            }
        }
        self.steps += (rows * self.columns[column].entries.len()) as u64 / 8;
        direction
    }

    fn pivot(&mut self, row: usize, column: usize, direction: &[f64]) -> Result<(), Stuck> {
        let rows = self.rows();
        let pivot = direction[row];
        if pivot.abs() < ZERO {
            return Err(Stuck);
        }
        let reduced = self.reduced_cost(&self.columns[column]);
        let step = self.values[row] / pivot;
        for (value, along) in self.values.iter_mut().zip(direction) {
            *value -= step * along;
        }
        self.values[row] = step;
        let mut touched = 0;
        for (at, part) in self.inverse.chunks_exact_mut(rows).enumerate() {
            if part[row] == 0.0 {
                continue;
            }
            touched += 1;
            let scaled = part[row] / pivot;
            for (to, along) in part.iter_mut().zip(direction) {
                *to -= scaled * along;
            }
            part[row] = scaled;
            self.duals[at] += reduced * scaled;
        }
        self.steps += (touched * rows) as u64 / 8 + 50;
        self.columns[self.basis[row]].row = None;
        self.columns[column].row = Some(row);
        self.basis[row] = column;
        self.since_check += 1;
        if self.since_check >= BETWEEN_CHECKS { self.check() } else { Ok(()) }
    }

    /// Works the inverse out anew where it has drifted from the basis.
    fn check(&mut self) -> Result<(), Stuck> {
        self.since_check = 0;
        let mut differences = self.needs.clone();
        for (&column, &value) in self.basis.iter().zip(&self.values) {
            for &(row, entry) in &self.columns[column].entries {
                differences[row] -= entry * value;
            }
        }
        let dual_drift =
            self.basis.iter().map(|&column| self.reduced_cost(&self.columns[column]).abs()).fold(0.0, f64::max);
        if differences.iter().any(|difference| difference.abs() > DRIFT) || dual_drift > DRIFT {
            self.invert()?;
        }
        Ok(())
    }

    /// Gauss–Jordan elimination on the basis.
    fn invert(&mut self) -> Result<(), Stuck> {
        let rows = self.rows();
        let old = std::mem::take(&mut self.basis);
        for &column in &old {
            self.columns[column].row = None;
        }
        self.basis = vec![usize::MAX; rows];
        self.inverse = vec![0.0; rows * rows];
        for row in 0..rows {
            self.inverse[row * rows + row] = 1.0;
        }
        for column in old {
            let direction = self.through(column);
            let row = (0..rows)
                .filter(|&row| self.basis[row] == usize::MAX)
                .max_by(|&a, &b| direction[a].abs().total_cmp(&direction[b].abs()))
                .filter(|&row| direction[row].abs() > ZERO)
                .ok_or(Stuck)?;
            for part in self.inverse.chunks_exact_mut(rows) {
                if part[row] != 0.0 {
                    let scaled = part[row] / direction[row];
                    for (to, along) in part.iter_mut().zip(&direction) {
                        *to -= scaled * along;
                    }
                    part[row] = scaled;
                }
            }
            self.steps += (rows * rows) as u64 / 8;
            self.basis[row] = column;
            self.columns[column].row = Some(row);
        }
        self.work_out_values();
        for at in 0..rows {
            let part = &self.inverse[at * rows..(at + 1) * rows];
            self.duals[at] = self.basis.iter().zip(part).map(|(&column, part)| self.columns[column].cost * part).sum();
        }
        Ok(())
    }

    fn work_out_values(&mut self) {
        let rows = self.rows();
        self.values.fill(0.0);
        for (part, &need) in self.inverse.chunks_exact(rows).zip(&self.needs) {
            if need != 0.0 {
                for (value, part) in self.values.iter_mut().zip(part) {
                    *value += part * need;
                }
            }
        }
        self.steps += (rows * rows) as u64 / 8;
    }

    /// Brings one added column into the solution.
    pub(super) fn bring_in(&mut self, number: usize) -> Result<(), Stuck> {
        self.enter(number + 2 * self.rows())
    }

    fn enter(&mut self, column: usize) -> Result<(), Stuck> {
        let direction = self.through(column);
        let mut best: Option<(usize, f64)> = None;
        for (row, (&along, &value)) in direction.iter().zip(&self.values).enumerate() {
            if along <= LEAST_PIVOT {
                continue;
            }
            let step = value.max(0.0) / along;
            let better = best
                .is_none_or(|(other, least)| step < least - ZERO || (step < least + ZERO && along > direction[other]));
            if better {
                best = Some((row, step));
            }
        }
        let (row, _) = best.ok_or(Stuck)?;
        self.pivot(row, column, &direction)
    }

    /// Pivots over the columns at hand until none would lower the cost.
    pub(super) fn lower(&mut self) -> Result<(), Stuck> {
        for _ in 0..20 * self.rows() + 1000 {
            let mut best: Option<(usize, f64)> = None;
            for (at, column) in self.columns.iter().enumerate() {
                if column.row.is_none() {
                    let reduced = self.reduced_cost(column);
                    if reduced < best.map_or(-ZERO, |(_, least)| least) {
                        best = Some((at, reduced));
                    }
                }
            }
            self.steps += self.columns.len() as u64 / 2;
            let Some((column, _)) = best else { return Ok(()) };
            self.enter(column)?;
        }
        Err(Stuck)
    }

    /// Takes other needs and goes on from the present basis.
    pub(super) fn need(&mut self, needs: Vec<f64>) -> Result<(), Stuck> {
        self.needs = needs;
        self.work_out_values();
        let rows = self.rows();
        for _ in 0..20 * rows + 1000 {
            let Some(row) = (0..rows)
                .filter(|&row| self.values[row] < -ZERO)
                .min_by(|&a, &b| self.values[a].total_cmp(&self.values[b]))
            else {
                return self.lower();
            };
            let across: Vec<f64> = self.inverse.chunks_exact(rows).map(|part| part[row]).collect();
            let mut best: Option<(usize, f64, f64)> = None;
            for (at, column) in self.columns.iter().enumerate() {
                if column.row.is_some() {
                    continue;
                }
                let along: f64 = column.entries.iter().map(|&(row, entry)| across[row] * entry).sum();
                if along > -LEAST_PIVOT {
                    continue;
                }
                let ratio = self.reduced_cost(column).max(0.0) / -along;
                let better = best.is_none_or(|(_, least, steepest)| {
                    ratio < least - ZERO || (ratio < least + ZERO && along < steepest)
                });
                if better {
                    best = Some((at, ratio, along));
                }
            }
            self.steps += self.columns.len() as u64;
            let (column, ..) = best.ok_or(Stuck)?;
            let direction = self.through(column);
            self.pivot(row, column, &direction)?;
        }
        Err(Stuck)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cover_by_hand_costs_what_the_sum_on_paper_says() {
        // Needs 3 and 5; one column gives (1, 1), one (0, 2), each at a cost of 1: 3 of the first, 1 of the second.
        let mut master = Master::new(vec![3.0, 5.0], 100.0);
        assert_eq!(master.add(1.0, vec![(0, 1.0), (1, 1.0)]), 0);
        assert_eq!(master.add(1.0, vec![(1, 2.0)]), 1);
        assert_eq!(master.lower(), Ok(()));
        assert!((master.cost() - 4.0).abs() < 1e-9);
        assert!(!master.is_short());
        assert_eq!(master.in_use().len(), 2);
        // Less needed of the second: the first alone covers both.
        assert_eq!(master.need(vec![3.0, 2.0]), Ok(()));
        assert!((master.cost() - 3.0).abs() < 1e-9);
        // No more than two of the first column: the first need cannot be met.
        let mut limited = Master::new(vec![3.0, -2.0], 100.0);
        limited.add(1.0, vec![(0, 1.0), (1, -1.0)]);
        assert_eq!(limited.lower(), Ok(()));
        assert!(limited.is_short());
    }

    #[test]
    fn changed_needs_cost_the_same_as_beginning_with_them() {
        let mut chance = fastrand::Rng::with_seed(3);
        for _ in 0..100 {
            let rows = chance.usize(2..12);
            let needs =
                |chance: &mut fastrand::Rng| -> Vec<f64> { (0..rows).map(|_| f64::from(chance.u32(0..9))).collect() };
            let columns: Vec<Vec<(usize, f64)>> = (0..3 * rows)
                .map(|_| {
                    let mut entries: Vec<(usize, f64)> = Vec::new();
                    for row in 0..rows {
                        if chance.u32(0..3) == 0 {
                            entries.push((row, f64::from(chance.u32(1..4))));
                        }
                    }
                    entries
                })
                .collect();
            let (before, after) = (needs(&mut chance), needs(&mut chance));
            let mut changed = Master::new(before, 50.0);
            let mut fresh = Master::new(after.clone(), 50.0);
            for entries in columns {
                changed.add(1.0, entries.clone());
                fresh.add(1.0, entries);
            }
            assert_eq!((changed.lower(), fresh.lower()), (Ok(()), Ok(())));
            assert_eq!(changed.need(after), Ok(()));
            assert!((changed.cost() - fresh.cost()).abs() < 1e-6, "{} and {}", changed.cost(), fresh.cost());
        }
    }
}
