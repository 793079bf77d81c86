//! Which pieces fill one length with the most value? Bounded counts, whole-number lengths, values of any size.
//!
//! Branch and bound over the pieces in order of value per length (Dantzig's bound); where that runs long, dynamic
//! programming over the length, exactly where it is short enough and otherwise on a coarser grid, lengths rounded down,
//! which still gives a value that no filling can exceed.

/// A length that may be chosen up to `count` times.
#[derive(Debug, Clone, Copy)]
pub(super) struct Item {
    pub(super) length: i64,
    pub(super) value: f64,
    pub(super) count: usize,
}

/// The best filling found.
#[derive(Debug, Clone)]
pub(super) struct Filling {
    /// Indices of items and how often each is chosen, never 0.
    pub(super) chosen: Vec<(usize, usize)>,
    pub(super) value: f64,
    /// No filling is worth more than this.
    pub(super) at_most: f64,
    /// Other fillings met on the way that are worth more than enough, better ones last.
    pub(super) also: Vec<Vec<(usize, usize)>>,
}

/// Values closer than this, relative to one another, are the same.
const SAME: f64 = 1e-11;
/// Branches looked at before dynamic programming takes over.
const BRANCHES: u64 = 60_000;
/// Branches after which a filling that is good enough will do.
const BRANCHES_IF_ENOUGH: u64 = 5_000;
/// The most cells for dynamic programming.
const CELLS: i64 = 24_000_000;

struct Branching<'i> {
    order: &'i [(usize, Item)],
    left: Vec<usize>,
    taken: Vec<usize>,
    best: Vec<usize>,
    passed: Vec<Vec<usize>>,
    best_value: f64,
    branches: u64,
    /// A value that will do where finding the best runs long.
    enough: f64,
    /// For each place in the order, the shortest length and the highest value from there on.
    ahead: Vec<(i64, f64)>,
}

impl Branching<'_> {
    fn is_long(&self) -> bool {
        self.branches > if self.best_value > self.enough { BRANCHES_IF_ENOUGH } else { BRANCHES }
    }

    fn go(&mut self, from: usize, room: i64, value: f64) {
        if value > self.best_value * (1.0 + SAME) {
            if self.best_value > self.enough {
                self.passed.push(std::mem::take(&mut self.best));
            }
            self.best_value = value;
            self.best.clone_from(&self.taken);
        }
        for at in from..self.order.len() {
            self.branches += 1;
            if self.is_long() {
                return;
            }
            let item = self.order[at].1;
            let (shortest, highest) = self.ahead[at];
            let to_beat = self.best_value * (1.0 + SAME) - value;
            if room < shortest
                || room as f64 * item.value / item.length as f64 <= to_beat
                || (room / shortest) as f64 * highest <= to_beat
            {
                return;
            }
            if item.length <= room && self.left[at] > 0 {
                self.left[at] -= 1;
                self.taken.push(at);
                self.go(at, room - item.length, value + item.value);
                self.taken.pop();
                self.left[at] += 1;
            }
        }
    }
}

/// The most valuable filling of `room`, or one worth more than `enough` where the best is long to find; adds the work
/// done to `steps`.
pub(super) fn fill_best(room: i64, items: &[Item], enough: f64, steps: &mut u64) -> Filling {
    let mut order: Vec<(usize, Item)> = items
        .iter()
        .copied()
        .enumerate()
        .filter(|(_, item)| item.count > 0 && item.value > 0.0 && item.length <= room)
        .collect();
    order.sort_by(|(i, a), (j, b)| {
        let (a_worth, b_worth) = (a.value / a.length as f64, b.value / b.length as f64);
        b_worth.total_cmp(&a_worth).then(b.length.cmp(&a.length)).then(i.cmp(j))
    });
    let left = order.iter().map(|(_, item)| item.count).collect();
    let mut ahead = vec![(i64::MAX, 0.0_f64); order.len()];
    let mut last = (i64::MAX, 0.0_f64);
    for (ahead, (_, item)) in ahead.iter_mut().zip(&order).rev() {
        last = (last.0.min(item.length), last.1.max(item.value));
        *ahead = last;
    }
    let mut branching = Branching {
        order: &order,
        left,
        taken: Vec::new(),
        best: Vec::new(),
        passed: Vec::new(),
        best_value: 0.0,
        branches: 0,
        enough,
        ahead,
    };
    branching.go(0, room, 0.0);
    *steps += branching.branches + 10 * order.len() as u64;
    let also = branching.passed.iter().map(|passed| filling(&order, passed).chosen).collect();
    let found = Filling { also, ..filling(&order, &branching.best) };
    if !branching.is_long() {
        return found;
    }
    if found.value > enough {
        return Filling { at_most: f64::INFINITY, ..found };
    }
    // A bundle for each power of two of a count; see `fill_on_grid`.
    let bundles: u32 = order.iter().map(|(_, item)| item.count.min(1 << 20).ilog2() + 1).sum();
    let coarse = room / (CELLS / i64::from(bundles.max(1))).max(1) + 1;
    let by_grid = fill_on_grid(room / coarse, coarse, &order, steps);
    if coarse == 1 {
        return filling(&order, &by_grid);
    }
    // Lengths rounded down: the grid's choice may be too long to use, but nothing is worth more.
    let at_most = filling(&order, &by_grid).value;
    let fits = by_grid.iter().map(|&at| order[at].1.length).sum::<i64>() <= room;
    let better = if fits && at_most > found.value { filling(&order, &by_grid) } else { found };
    Filling { at_most: at_most.max(better.value), ..better }
}

fn filling(order: &[(usize, Item)], taken: &[usize]) -> Filling {
    let mut chosen: Vec<(usize, usize)> = Vec::new();
    let mut value = 0.0;
    for &at in taken {
        let (index, item) = order[at];
        value += item.value;
        match chosen.last_mut() {
            Some((last, count)) if *last == index => *count += 1,
            _ => chosen.push((index, 1)),
        }
    }
    Filling { chosen, value, at_most: value, also: Vec::new() }
}

/// Dynamic programming over 0..=`grid`; positions in `order`, ascending, one for each time an item is chosen.
fn fill_on_grid(grid: i64, coarse: i64, order: &[(usize, Item)], steps: &mut u64) -> Vec<usize> {
    let size = usize::try_from(grid).unwrap_or(0) + 1;
    // Bundles of 1, 2, 4, … of one item, so that a count costs its logarithm.
    let mut bundles: Vec<(usize, usize, usize)> = Vec::new();
    for (at, (_, item)) in order.iter().enumerate() {
        let length = usize::try_from(item.length / coarse).unwrap_or(0);
        let mut left = size.checked_div(length).map_or(item.count, |fit| fit.min(item.count));
        let mut bundle = 1;
        while left > 0 {
            let now = bundle.min(left);
            bundles.push((at, now, now * length));
            left -= now;
            bundle *= 2;
        }
    }
    let mut worth = vec![0.0_f64; size];
    let mut took = vec![false; size * bundles.len()];
    *steps += (size * bundles.len()) as u64 / 8;
    for (row, &(at, count, length)) in bundles.iter().enumerate() {
        let value = order[at].1.value * count as f64;
        for room in (length..size).rev() {
            let with = worth[room - length] + value;
            if with > worth[room] {
                worth[room] = with;
                took[row * size + room] = true;
            }
        }
    }
    let mut room = size - 1;
    let mut taken = Vec::new();
    for (row, &(at, count, length)) in bundles.iter().enumerate().rev() {
        if took[row * size + room] {
            taken.extend(std::iter::repeat_n(at, count));
            room -= length;
        }
    }
    taken.sort_unstable();
    taken
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every choice there is.
    fn by_trying_all(room: i64, items: &[Item]) -> f64 {
        let Some((first, rest)) = items.split_first() else { return 0.0 };
        (0..=first.count)
            .filter(|&count| count as i64 * first.length <= room)
            .map(|count| count as f64 * first.value + by_trying_all(room - count as i64 * first.length, rest))
            .fold(0.0, f64::max)
    }

    #[test]
    fn branching_and_the_grid_agree_with_trying_every_choice() {
        let mut chance = fastrand::Rng::with_seed(7);
        for _ in 0..300 {
            let items: Vec<Item> = (0..chance.usize(1..6))
                .map(|_| Item { length: chance.i64(5..60), value: chance.f64(), count: chance.usize(0..4) })
                .collect();
            let room = chance.i64(0..150);
            let all = by_trying_all(room, &items);
            let filling = fill_best(room, &items, f64::INFINITY, &mut 0);
            assert!((filling.value - all).abs() < 1e-9, "{items:?} in {room}: {filling:?}, not {all}");
            let order: Vec<(usize, Item)> =
                items.iter().copied().enumerate().filter(|(_, item)| item.length <= room).collect();
            let exact = super::filling(&order, &fill_on_grid(room, 1, &order, &mut 0));
            assert!((exact.value - all).abs() < 1e-9, "{items:?} in {room}: {exact:?}, not {all}");
            let coarse = super::filling(&order, &fill_on_grid(room / 4, 4, &order, &mut 0));
            assert!(coarse.value >= all - 1e-9, "{items:?} in {room}: coarse {coarse:?} is below {all}");
        }
    }
}
