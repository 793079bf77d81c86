//! What does the layout look like in millimetres? Slicing trees become cuts, pieces and offcuts on real sheets.

use super::super::layout::Standing;
use super::super::size::to_mm;
use super::apart::{self, Step};
use super::prepare::{Prepared, take_one};
use super::tree;
use super::{Area, Becomes, Branch, Direction, Layout, Sheet};

pub(super) fn tell(prepared: &Prepared, sheets: &[tree::Sheet], (used, at_least): (i64, i64), steps: u64) -> Layout {
    let mut pieces = prepared.pieces.clone();
    let mut told = Vec::new();
    for sheet in sheets.iter().filter(|sheet| sheet.pieces > 0) {
        let stock = prepared.stock[sheet.kind];
        let mut steps = Vec::new();
        sheet.take_apart(&prepared.task, &mut |step| steps.push(step));
        let mut builder = Builder { prepared, pieces: &mut pieces, steps: steps.into_iter() };
        if let Some(whole) = builder.branch() {
            told.push(Sheet { stock, whole });
        }
    }
    told.sort_by_key(|sheet| sheet.stock);
    let standing = if used <= at_least {
        Standing::Proved
    } else {
        Standing::BestFound { at_least: at_least as f64 * prepared.unit }
    };
    Layout { sheets: told, measure: prepared.measure, used: used as f64 * prepared.unit, standing, steps }
}

struct Builder<'p> {
    prepared: &'p Prepared,
    pieces: &'p mut Vec<Vec<(usize, usize)>>,
    steps: std::vec::IntoIter<Step>,
}

impl Builder<'_> {
    /// The branch that the next steps tell of; `None` where the saw has taken all of it.
    fn branch(&mut self) -> Option<Branch> {
        match self.steps.next()? {
            Step::Piece { area, sort, turned } => {
                let piece = take_one(&mut self.pieces[sort as usize]);
                let area = self.area(area)?;
                Some(Branch { area, becomes: Becomes::Piece { piece, turned } })
            }
            Step::Offcut { area } => Some(Branch { area: self.area(area)?, becomes: Becomes::Offcut }),
            Step::Split { area, across } => {
                let area = self.area(area);
                let first = self.branch();
                let second = self.branch().map(Box::new);
                let direction = if across { Direction::Crosscut } else { Direction::Rip };
                Some(Branch { area: area?, becomes: Becomes::Split { direction, first: Box::new(first?), second } })
            }
        }
    }

    /// An area on the real sheet, the kerf at its far edges left off.
    fn area(&self, (x, y, length, width): apart::Area) -> Option<Area> {
        let (length, width) = (length - self.prepared.kerf, width - self.prepared.kerf);
        (length > 0 && width > 0).then(|| Area {
            x: to_mm(self.prepared.trim + x),
            y: to_mm(self.prepared.trim + y),
            length: to_mm(length),
            width: to_mm(width),
        })
    }
}
