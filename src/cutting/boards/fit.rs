//! How many boards does a quick hand need? First fit and best fit, longest pieces first, and one board filled after the
//! other as full as it gets.

use super::super::knapsack::{Item, fill_best};
use super::task::{Load, Task};

/// Longest pieces first, each on the first board that has room (D. S. Johnson, 1973). `None` where the stock runs out.
pub(super) fn first_fit(task: &Task, wanted: &[usize], stock: &[usize]) -> Option<Vec<Load>> {
    fit(task, wanted, stock, |_, _| true)
}

/// The same with each piece on the board that it leaves fullest.
pub(super) fn best_fit(task: &Task, wanted: &[usize], stock: &[usize]) -> Option<Vec<Load>> {
    fit(task, wanted, stock, |left, best| left < best)
}

fn fit(task: &Task, wanted: &[usize], stock: &[usize], is_better: fn(i64, i64) -> bool) -> Option<Vec<Load>> {
    let mut stock = stock.to_vec();
    let mut loads: Vec<Load> = Vec::new();
    let mut lefts: Vec<i64> = Vec::new();
    let takes_first = is_better(1, 0);
    for (sort, &count) in wanted.iter().enumerate() {
        let length = task.sorts[sort].length;
        let mut from = 0;
        for _ in 0..count {
            let mut at: Option<usize> = None;
            for (index, &left) in lefts.iter().enumerate().skip(from) {
                if left >= length && at.is_none_or(|best| is_better(left, lefts[best])) {
                    at = Some(index);
                    if takes_first {
                        break;
                    }
                }
            }
            let at = match at {
                Some(at) => at,
                None => {
                    let kind = cheapest(task, &stock, length)?;
                    stock[kind] = stock[kind].saturating_sub(usize::from(stock[kind] != usize::MAX));
                    loads.push(Load { kind, sorts: Vec::new() });
                    lefts.push(task.kinds[kind].length);
                    lefts.len() - 1
                }
            };
            if takes_first {
                // Boards before this one had no room for this length, and have none for the next of it.
                from = at;
            }
            loads[at].sorts.push(sort);
            lefts[at] -= length;
        }
    }
    Some(loads)
}

/// Every board that can be counted laid out at once, each piece where it leaves the least room; other boards are taken as
/// they are needed. With the number of each sort that has no place.
pub(super) fn on_all_there_is(task: &Task) -> (Vec<Load>, Vec<usize>) {
    let wanted = task.wanted();
    let pieces: usize = wanted.iter().sum();
    let mut loads: Vec<Load> = Vec::new();
    for (kind, board) in task.kinds.iter().enumerate() {
        let count = board.count.map_or(0, |count| count.min(pieces));
        loads.extend(std::iter::repeat_n(Load { kind, sorts: Vec::new() }, count));
    }
    let mut rooms: Vec<i64> = loads.iter().map(|load| task.kinds[load.kind].length).collect();
    let endless: Vec<usize> = task.kinds.iter().map(|kind| usize::from(kind.count.is_none())).collect();
    let mut left = vec![0; wanted.len()];
    for (sort, &count) in wanted.iter().enumerate() {
        let length = task.sorts[sort].length;
        for _ in 0..count {
            let tightest = (0..rooms.len()).filter(|&at| rooms[at] >= length).min_by_key(|&at| rooms[at]);
            let at = match (tightest, cheapest(task, &endless, length)) {
                (Some(at), _) => at,
                (None, Some(kind)) => {
                    loads.push(Load { kind, sorts: Vec::new() });
                    rooms.push(task.kinds[kind].length);
                    rooms.len() - 1
                }
                (None, None) => {
                    left[sort] += 1;
                    continue;
                }
            };
            rooms[at] -= length;
            loads[at].sorts.push(sort);
        }
    }
    loads.retain(|load| !load.sorts.is_empty());
    (loads, left)
}

/// The kind with the least cost for its length that is left and takes `length`.
fn cheapest(task: &Task, stock: &[usize], length: i64) -> Option<usize> {
    (0..task.kinds.len()).filter(|&kind| stock[kind] > 0 && task.kinds[kind].length >= length).min_by(|&a, &b| {
        let per_length = |kind: usize| task.kinds[kind].cost as f64 / task.kinds[kind].length as f64;
        per_length(a).total_cmp(&per_length(b)).then(task.kinds[b].length.cmp(&task.kinds[a].length))
    })
}

/// One board after the other as full as it gets, the longest piece left always on it; `lean` above 0 favours long pieces.
/// (J. N. D. Gupta, J. C. Ho, Prod. Plan. Control 10 (1999) 598–603, in kind.)
pub(super) fn fill_one_by_one(
    task: &Task,
    wanted: &[usize],
    stock: &[usize],
    lean: f64,
    steps: &mut u64,
) -> Option<Vec<Load>> {
    let mut left = wanted.to_vec();
    let mut stock = stock.to_vec();
    let mut loads = Vec::new();
    while let Some(longest) = left.iter().position(|&count| count > 0) {
        let first = task.sorts[longest].length;
        left[longest] -= 1;
        let mut best: Option<(f64, Load)> = None;
        for (kind, board) in task.kinds.iter().enumerate() {
            if stock[kind] == 0 || board.length < first {
                continue;
            }
            let items: Vec<Item> = task
                .sorts
                .iter()
                .zip(&left)
                .map(|(sort, &count)| {
                    let length = sort.length as f64;
                    Item { length: sort.length, value: length * (1.0 + lean * length / board.length as f64), count }
                })
                .collect();
            let filling = fill_best(board.length - first, &items, 0.0, steps);
            let mut sorts = vec![longest];
            sorts.extend(filling.chosen.iter().flat_map(|&(sort, count)| std::iter::repeat_n(sort, count)));
            sorts.sort_unstable();
            let filled: i64 = sorts.iter().map(|&sort| task.sorts[sort].length).sum();
            let worth = board.cost as f64 / filled as f64;
            if best.as_ref().is_none_or(|(least, _)| worth < *least) {
                best = Some((worth, Load { kind, sorts }));
            }
        }
        let (_, load) = best?;
        for &sort in &load.sorts[1..] {
            left[sort] -= 1;
        }
        stock[load.kind] = stock[load.kind].saturating_sub(usize::from(stock[load.kind] != usize::MAX));
        loads.push(load);
    }
    Some(loads)
}

/// Puts each load on the cheapest board that takes it, while there are any.
pub(super) fn on_cheaper_boards(task: &Task, loads: &mut [Load]) {
    let mut stock = task.stock_after(loads);
    for load in loads.iter_mut() {
        let filled = task.kinds[load.kind].length - task.left(load);
        let kinds = (0..task.kinds.len()).filter(|&kind| stock[kind] > 0 && task.kinds[kind].length >= filled);
        if let Some(kind) = kinds.min_by_key(|&kind| (task.kinds[kind].cost, task.kinds[kind].length))
            && task.kinds[kind].cost < task.kinds[load.kind].cost
        {
            stock[kind] = stock[kind].saturating_sub(usize::from(stock[kind] != usize::MAX));
            if stock[load.kind] != usize::MAX {
                stock[load.kind] += 1;
            }
            load.kind = kind;
        }
    }
}
