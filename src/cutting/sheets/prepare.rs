//! Can the job be done at all? Checks it and puts it into whole numbers.

use super::super::layout::{self, Measure, Priced, Problem};
use super::super::size::{self, common_divisor};
use super::task::{Kind, Sort, Task, Way};
use super::{Cuts, Job};

/// A job in whole numbers, and the way back.
pub(super) struct Prepared {
    pub(super) task: Task,
    pub(super) measure: Measure,
    /// What one of the task's costs is in the measure.
    pub(super) unit: f64,
    pub(super) kerf: i64,
    pub(super) trim: i64,
    /// For each sort, the pieces of that size and how many of each.
    pub(super) pieces: Vec<Vec<(usize, usize)>>,
    /// For each kind, its stock.
    pub(super) stock: Vec<usize>,
}

/// Takes one of the pieces of a sort off its list.
pub(super) fn take_one(same: &mut Vec<(usize, usize)>) -> usize {
    let Some((piece, count)) = same.last_mut() else { return 0 };
    let piece = *piece;
    *count -= 1;
    if *count == 0 {
        same.pop();
    }
    piece
}

struct Sizes {
    stock: Vec<(i64, i64)>,
    pieces: Vec<(i64, i64)>,
    kerf: i64,
    trim: i64,
}

pub(super) fn prepare(job: &Job) -> Result<Prepared, Vec<Problem>> {
    let mut problems = Vec::new();
    let (kerf, trim) = layout::check_saw(job.saw, &mut problems);
    layout::check_counts(job.pieces.iter().map(|piece| (piece.name.as_str(), piece.count)), &mut problems);
    if job.stock.iter().all(|stock| stock.count == Some(0)) {
        problems.push(Problem::NoStock);
    }
    let check = |name: &str, length: f64, width: f64, problems: &mut Vec<Problem>| {
        let length = layout::check_size("length", name, length, problems);
        (length, layout::check_size("width", name, width, problems))
    };
    let mut stock = Vec::new();
    for size in &job.stock {
        stock.push(check(&size.name, size.length, size.width, &mut problems));
    }
    let stock_is_sound = !problems.iter().any(|problem| matches!(problem, Problem::Size { .. }));
    let mut pieces = Vec::new();
    for piece in &job.pieces {
        pieces.push(check(&piece.name, piece.length, piece.width, &mut problems));
    }
    let named = job.stock.iter().zip(&stock);
    let priced: Vec<Priced<'_>> =
        named.map(|(stock, &size)| Priced { name: &stock.name, price: stock.price, size }).collect();
    let (costs, measure, unit) = layout::costs(&priced, &mut problems);
    let mut usable = Vec::new();
    for (stock, &(length, width)) in job.stock.iter().zip(&stock) {
        if length.min(width) <= 2 * trim {
            problems.push(Problem::TrimTakesAll { stock: stock.name.clone(), trim: job.saw.trim });
        }
        usable.push((length - 2 * trim, width - 2 * trim));
    }
    let sizes = Sizes { stock: usable, pieces, kerf, trim };
    if stock_is_sound {
        check_fits(job, &sizes, &mut problems);
    }
    if problems.is_empty() { Ok(in_whole_numbers(job, &sizes, &costs, measure, unit)) } else { Err(problems) }
}

/// Every piece must fit some sheet that there is.
fn check_fits(job: &Job, sizes: &Sizes, problems: &mut Vec<Problem>) {
    let there: Vec<(i64, i64)> =
        job.stock.iter().zip(&sizes.stock).filter(|(stock, _)| stock.count != Some(0)).map(|(_, &size)| size).collect();
    let Some(largest) = there.iter().max_by_key(|size| size.0 * size.1) else { return };
    for (piece, &(length, width)) in job.pieces.iter().zip(&sizes.pieces) {
        let fits = |length: i64, width: i64| there.iter().any(|sheet| length <= sheet.0 && width <= sheet.1);
        if fits(length, width) || piece.turns && fits(width, length) {
            continue;
        }
        let size = format!("{} × {}", piece.length, piece.width);
        problems.push(if fits(width, length) {
            Problem::GrainForbids { piece: piece.name.clone(), size }
        } else {
            let largest = format!("{} × {}", size::to_mm(largest.0), size::to_mm(largest.1));
            Problem::TooLarge { piece: piece.name.clone(), size, largest }
        });
    }
}

fn in_whole_numbers(job: &Job, sizes: &Sizes, costs: &[i64], measure: Measure, unit: f64) -> Prepared {
    let kerf = sizes.kerf;
    // Sums of lengths are multiples of what the lengths share; where a piece turns, both directions share it.
    let (mut along, mut across) = (0, 0);
    for (piece, &(length, width)) in job.pieces.iter().zip(&sizes.pieces) {
        along = common_divisor(along, length + kerf);
        across = common_divisor(across, width + kerf);
        if piece.turns {
            along = common_divisor(along, width + kerf);
            across = common_divisor(across, length + kerf);
        }
    }
    let scale = (along.max(1), across.max(1));
    let mut order: Vec<usize> = (0..job.pieces.len()).collect();
    let key = |piece: usize| (sizes.pieces[piece], job.pieces[piece].turns);
    order.sort_by_key(|&piece| (std::cmp::Reverse(key(piece)), piece));
    let mut sorts: Vec<Sort> = Vec::new();
    let mut pieces: Vec<Vec<(usize, usize)>> = Vec::new();
    let mut last = None;
    for piece in order {
        let count = job.pieces[piece].count;
        if last == Some(key(piece))
            && let (Some(sort), Some(same)) = (sorts.last_mut(), pieces.last_mut())
        {
            sort.count += count;
            same.push((piece, count));
            continue;
        }
        last = Some(key(piece));
        let (length, width) = sizes.pieces[piece];
        let turns = job.pieces[piece].turns && length != width;
        sorts.push(Sort { length: (length + kerf) / scale.0, width: (width + kerf) / scale.1, turns, count });
        pieces.push(vec![(piece, count)]);
    }
    let mut kinds = Vec::new();
    let mut stock = Vec::new();
    for (index, (&(length, width), &cost)) in sizes.stock.iter().zip(costs).enumerate() {
        let count = job.stock[index].count;
        if count != Some(0) {
            let whole = (length + kerf, width + kerf);
            kinds.push(Kind { length: whole.0 / scale.0, width: whole.1 / scale.1, whole, cost, count });
            stock.push(index);
        }
    }
    let way = match job.cuts {
        Cuts::Free => Way::Free,
        Cuts::RipFirst { trims } => Way::RipFirst { trims },
    };
    let least = |length: bool| {
        let sizes = sorts.iter().map(|sort| match (sort.turns, length) {
            (true, _) => sort.length.min(sort.width),
            (false, true) => sort.length,
            (false, false) => sort.width,
        });
        sizes.min().unwrap_or(0)
    };
    let (least_length, least_width) = (least(true), least(false));
    let task = Task { kinds, sorts, way, scale, least_length, least_width };
    Prepared { task, measure, unit, kerf, trim: sizes.trim, pieces, stock }
}
