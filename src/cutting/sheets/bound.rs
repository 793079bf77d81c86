//! How much must any layout of sheets cost? The area, and areas of pieces made larger by dual-feasible functions.
//!
//! A dual-feasible function keeps any set of sizes that fit into 1 within 1. Lengths made larger by one and widths by
//! another still fit a sheet, so their areas bound the sheets needed, whatever the cuts (S. P. Fekete, J. Schepers, Math.
//! Program. 91 (2001) 11–31; Math. Methods Oper. Res. 60 (2004) 311–329).

use super::task::Task;

/// No layout costs less than this.
pub(super) fn at_least(task: &Task, steps: &mut u64) -> i64 {
    let area: f64 = task.sorts.iter().map(|sort| sort.area() as f64 * sort.count as f64).sum();
    let best_price = task.kinds.iter().map(|kind| kind.cost as f64 / kind.area()).fold(f64::INFINITY, f64::min);
    let step = task.cost_step();
    let by_area = whole_up(area * best_price / step as f64) * step;
    let Some(first) = task.kinds.first() else { return 0 };
    if task.kinds.iter().any(|kind| (kind.length, kind.width) != (first.length, first.width)) {
        return by_area;
    }
    let cheapest = task.kinds.iter().map(|kind| kind.cost).min().unwrap_or(0);
    let by_count = sheets_at_least(task, first.length, first.width, steps) * cheapest;
    by_area.max(by_count)
}

/// Rounded up, with room for what floating point adds to a sum that is whole.
fn whole_up(value: f64) -> i64 {
    #[expect(clippy::cast_possible_truncation, reason = "a count of sheets or of cost steps")]
    let whole = (value - 1e-6).ceil().max(0.0) as i64;
    whole
}

/// A function of one size, as its values for each sort: as it lies, and turned where it may be.
struct Values {
    lying: Vec<f64>,
    turned: Vec<f64>,
}

/// The most functions tried in each direction.
const MOST_FUNCTIONS: usize = 120;

fn sheets_at_least(task: &Task, length: i64, width: i64, steps: &mut u64) -> i64 {
    let along = functions(task, length, |sort| (sort.length, sort.width));
    let across = functions(task, width, |sort| (sort.width, sort.length));
    let mut most = 0.0_f64;
    for f in &along {
        for g in &across {
            let mut sum = 0.0;
            for (at, sort) in task.sorts.iter().enumerate() {
                let lies = sort.length <= length && sort.width <= width;
                let turns = sort.turns && sort.width <= length && sort.length <= width;
                let lying = f.lying[at] * g.lying[at];
                let turned = f.turned[at] * g.turned[at];
                let least = match (lies, turns) {
                    (true, true) => lying.min(turned),
                    (false, true) => turned,
                    _ => lying,
                };
                sum += least * sort.count as f64;
            }
            most = most.max(sum);
        }
    }
    *steps += (along.len() * across.len() * task.sorts.len()) as u64 / 2;
    whole_up(most)
}

fn functions(task: &Task, whole: i64, sizes: fn(&super::task::Sort) -> (i64, i64)) -> Vec<Values> {
    let values = |function: &dyn Fn(i64) -> f64| Values {
        lying: task.sorts.iter().map(|sort| function(sizes(sort).0.min(whole))).collect(),
        turned: task.sorts.iter().map(|sort| function(sizes(sort).1.min(whole))).collect(),
    };
    let mut all = vec![values(&|size| size as f64 / whole as f64)];
    for k in 1..=4_i64 {
        // u(k): (k + 1)·x where that is whole, else rounded down, both over k.
        all.push(values(&|size| {
            let scaled = (k + 1) * size;
            if scaled % whole == 0 { size as f64 / whole as f64 } else { (scaled / whole) as f64 / k as f64 }
        }));
    }
    let mut limits: Vec<i64> = task
        .sorts
        .iter()
        .flat_map(|sort| [sizes(sort).0, sizes(sort).1])
        .flat_map(|size| [size, whole - size])
        .filter(|&limit| limit > 0 && 2 * limit <= whole)
        .collect();
    limits.sort_unstable();
    limits.dedup();
    let every = (2 * limits.len() / MOST_FUNCTIONS).max(1);
    for &limit in limits.iter().step_by(every) {
        // Sizes above whole − limit count as all of it, those below limit as nothing.
        all.push(values(&|size| {
            if size > whole - limit {
                1.0
            } else if size < limit {
                0.0
            } else {
                size as f64 / whole as f64
            }
        }));
        // Sizes above half: 1 less what fits beside them, in limits; up to half: one limit; below limit: nothing.
        let limits = whole / limit;
        all.push(values(&|size| {
            if 2 * size > whole {
                1.0 - ((whole - size) / limit) as f64 / limits as f64
            } else if size >= limit {
                1.0 / limits as f64
            } else {
                0.0
            }
        }));
    }
    all
}

#[cfg(test)]
mod tests {
    use fastrand::Rng;

    use super::super::task::{Kind, Sort, Way};
    use super::*;

    fn cut_up(length: i64, width: i64, deep: u32, chance: &mut Rng, pieces: &mut Vec<(i64, i64)>) {
        if deep == 0 || length < 4 || width < 4 {
            pieces.push((length, width));
        } else if chance.bool() {
            let at = chance.i64(1..length);
            cut_up(at, width, deep - 1, chance, pieces);
            cut_up(length - at, width, deep - 1, chance, pieces);
        } else {
            let at = chance.i64(1..width);
            cut_up(length, at, deep - 1, chance, pieces);
            cut_up(length, width - at, deep - 1, chance, pieces);
        }
    }

    #[test]
    fn what_was_cut_from_so_many_sheets_is_never_said_to_need_more() {
        let mut chance = Rng::with_seed(11);
        for round in 0..400 {
            let (length, width) = (chance.i64(20..300), chance.i64(20..300));
            let sheets = chance.i64(1..4);
            let mut pieces = Vec::new();
            for _ in 0..sheets {
                cut_up(length, width, 1 + round % 5, &mut chance, &mut pieces);
            }
            let sorts = pieces
                .into_iter()
                .map(|(length, width)| {
                    let turns = chance.bool();
                    let lies_across = turns && chance.bool();
                    let (length, width) = if lies_across { (width, length) } else { (length, width) };
                    Sort { length, width, turns, count: 1 }
                })
                .collect();
            let kinds = vec![Kind { length, width, whole: (length, width), cost: 1, count: None }];
            let (least_length, least_width) = (1, 1);
            let task = Task { kinds, sorts, way: Way::Free, scale: (1, 1), least_length, least_width };
            assert_eq!(at_least(&task, &mut 0), sheets, "{task:?}");
        }
    }
}
