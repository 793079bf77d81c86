//! With no more boards than these, how long an offcut can be kept? Pieces change places so that what is left of one board
//! grows.

use super::task::{Load, Task};

/// Moves pieces off the board with most left over, or changes them for shorter ones, while that leaves more of it; every
/// board is tried as the one to be emptied. Costs nothing: the boards stay the same.
pub(super) fn gather(task: &Task, loads: &mut Vec<Load>, steps: &mut u64) {
    let mut best = loads.clone();
    let mut longest = best.iter().map(|load| task.left(load)).max().unwrap_or(0);
    let mut order: Vec<usize> = (0..loads.len()).collect();
    order.sort_by_key(|&load| std::cmp::Reverse(task.left(&loads[load])));
    for &spared in order.iter().take(MOST_TRIED) {
        let mut now = loads.clone();
        while give_away(task, &mut now, spared, steps) {}
        let left = task.left(&now[spared]);
        if left > longest {
            longest = left;
            best = now;
        }
    }
    for load in &mut best {
        load.sorts.sort_unstable();
    }
    best.retain(|load| !load.sorts.is_empty());
    *loads = best;
}

/// Boards tried as the one that keeps the offcut.
const MOST_TRIED: usize = 40;

/// One change that leaves more of board `spared`: the largest there is.
fn give_away(task: &Task, loads: &mut [Load], spared: usize, steps: &mut u64) -> bool {
    let mut best: Option<(i64, usize, usize, Option<usize>)> = None;
    let lengths = |load: &Load, at: usize| task.sorts[load.sorts[at]].length;
    for at in 0..loads[spared].sorts.len() {
        let length = lengths(&loads[spared], at);
        for (other, load) in loads.iter().enumerate() {
            if other == spared {
                continue;
            }
            let left = task.left(load);
            *steps += load.sorts.len() as u64;
            if left >= length && best.is_none_or(|(gain, ..)| length > gain) {
                best = Some((length, at, other, None));
            }
            for back in 0..load.sorts.len() {
                let gain = length - lengths(load, back);
                if gain > 0 && gain <= left && best.is_none_or(|(most, ..)| gain > most) {
                    best = Some((gain, at, other, Some(back)));
                }
            }
        }
    }
    let Some((_, at, other, back)) = best else { return false };
    let sort = loads[spared].sorts.swap_remove(at);
    if let Some(back) = back {
        let shorter = loads[other].sorts.swap_remove(back);
        loads[spared].sorts.push(shorter);
    }
    loads[other].sorts.push(sort);
    true
}
