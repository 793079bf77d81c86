//! In what order would a person at the saw cut it? The same cuts, the widest rip and the longest crosscut first, what is
//! left over last; like pieces in the order of the list.

use super::super::sheets::{Area, Becomes, Branch, Direction};
use crate::length::SNAP_MM;

/// `branch` with the cuts of one direction that follow each other put in order. Every part keeps its size.
pub(super) fn in_saw_order(branch: Branch, kerf: f64) -> Branch {
    let Becomes::Split { direction, .. } = branch.becomes else { return branch };
    let area = branch.area;
    let mut parts = Vec::new();
    take_apart(branch, direction, &mut parts);
    let mut parts: Vec<Branch> = parts.into_iter().map(|part| in_saw_order(part, kerf)).collect();
    parts.sort_by(|a, b| {
        let left_over = |part: &Branch| part.becomes == Becomes::Offcut;
        let size = |part: &Branch| size_of(part.area, direction);
        left_over(a).cmp(&left_over(b)).then(size(b).total_cmp(&size(a))).then(first_piece(a).cmp(&first_piece(b)))
    });
    put_together(parts, area, direction, kerf)
}

/// What the cuts of `direction` that follow each other part `branch` into.
fn take_apart(branch: Branch, direction: Direction, parts: &mut Vec<Branch>) {
    match branch.becomes {
        Becomes::Split { direction: own, first, second } if own == direction => {
            take_apart(*first, direction, parts);
            if let Some(second) = second {
                take_apart(*second, direction, parts);
            }
        }
        _ => parts.push(branch),
    }
}

fn size_of(area: Area, direction: Direction) -> f64 {
    if direction == Direction::Rip { area.width } else { area.length }
}

fn first_piece(branch: &Branch) -> usize {
    match &branch.becomes {
        Becomes::Piece { piece, .. } => *piece,
        Becomes::Offcut => usize::MAX,
        Becomes::Split { first, .. } => first_piece(first),
    }
}

/// The parts one after the other in `area`.
fn put_together(parts: Vec<Branch>, area: Area, direction: Direction, kerf: f64) -> Branch {
    let mut rest = area;
    let mut cut = Vec::new();
    for part in parts {
        let size = size_of(part.area, direction);
        let moved = shifted(part.clone(), rest.x - part.area.x, rest.y - part.area.y);
        cut.push((rest, moved));
        match direction {
            Direction::Rip => (rest.y, rest.width) = (rest.y + size + kerf, rest.width - size - kerf),
            Direction::Crosscut => (rest.x, rest.length) = (rest.x + size + kerf, rest.length - size - kerf),
        }
    }
    let mut whole: Option<Branch> = None;
    for (rest, part) in cut.into_iter().rev() {
        let fills = size_of(rest, direction) - size_of(part.area, direction) <= SNAP_MM;
        whole = Some(match whole {
            None if fills => part,
            second => Branch {
                area: rest,
                becomes: Becomes::Split { direction, first: Box::new(part), second: second.map(Box::new) },
            },
        });
    }
    whole.unwrap_or(Branch { area, becomes: Becomes::Offcut })
}

/// `branch` elsewhere.
pub(super) fn shifted(branch: Branch, x: f64, y: f64) -> Branch {
    let area = Area { x: branch.area.x + x, y: branch.area.y + y, ..branch.area };
    let becomes = match branch.becomes {
        Becomes::Split { direction, first, second } => Becomes::Split {
            direction,
            first: Box::new(shifted(*first, x, y)),
            second: second.map(|second| Box::new(shifted(*second, x, y))),
        },
        becomes @ (Becomes::Piece { .. } | Becomes::Offcut) => becomes,
    };
    Branch { area, becomes }
}
