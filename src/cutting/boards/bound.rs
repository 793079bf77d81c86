//! How much must any layout of boards cost, before anything is searched? The material, and Martello and Toth's bound.

use super::task::Task;

/// No layout costs less: the length wanted at the best price for a length, and, where one kind with no limit is all there
/// is, the bound L2 (S. Martello, P. Toth, Discrete Appl. Math. 28 (1990) 59–70).
pub(super) fn at_least(task: &Task) -> i64 {
    let wanted: i128 = task.sorts.iter().map(|sort| i128::from(sort.length) * sort.count as i128).sum();
    let by_kind = task.kinds.iter().map(|kind| {
        let length = i128::from(kind.length);
        (wanted * i128::from(kind.cost) + length - 1) / length
    });
    let material = i64::try_from(by_kind.min().unwrap_or(0)).unwrap_or(0);
    let step = task.cost_step();
    let material = (material + step - 1) / step * step;
    let [kind] = task.kinds.as_slice() else { return material };
    material.max(boards_at_least(task, kind.length) * kind.cost)
}

/// L2: pieces longer than half a board lie alone; those that no long one leaves room for need boards of their own.
fn boards_at_least(task: &Task, board: i64) -> i64 {
    let mut most = 0;
    for limit in task.sorts.iter().map(|sort| sort.length).filter(|&length| 2 * length <= board).chain([0]) {
        let (mut alone, mut halves, mut room, mut middling) = (0_i64, 0_i64, 0_i128, 0_i128);
        for sort in &task.sorts {
            let count = i64::try_from(sort.count).unwrap_or(i64::MAX);
            let length = i128::from(sort.length);
            if sort.length > board - limit {
                alone += count;
            } else if 2 * sort.length > board {
                halves += count;
                room += (i128::from(board) - length) * i128::from(count);
            } else if sort.length >= limit {
                middling += length * i128::from(count);
            }
        }
        let board = i128::from(board);
        let more = ((middling - room).max(0) + board - 1) / board;
        most = most.max(alone + halves + i64::try_from(more).unwrap_or(0));
    }
    most
}
