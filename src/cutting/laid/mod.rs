//! Which piece comes out of which sheet or board? A plan's whole demand, material by material, on its stock.
//!
//! [`lay_out`] takes a [`Demand`] and the plan's [`Stock`] and gives a [`LaidOut`]. Sheets and boards are cut in the order
//! that the plan's `cuts` says. Boards that give one strip of one width are laid out in one dimension ([`super::boards`]),
//! all else in two ([`super::sheets`]). Places are mm from the near corner of the whole sheet or board, before its trim.
//!
//! What has no place is told, and why; everything else is still laid out.

mod bench;
mod order;

use std::collections::BTreeMap;

use super::cost::{self, Cost, Use};
use super::demand::{Demand, Piece};
use super::layout::{Measure, Problem, Standing};
use super::sheets::{Cuts, Sheet};
use crate::plan::{CutOrder, Stock, StockForm, StockItem, Stuff};
use crate::progress::{Cancelled, Effort, Progress, Watch};
use bench::Bench;

/// A whole demand on its stock.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidOut {
    /// One for each set of sheets or boards that like pieces come from, in the demand's order.
    pub materials: Vec<LaidMaterial>,
    /// How many of each stock item are used, and what they come to.
    pub cost: Cost,
}

/// The pieces that share sheets or boards, on them.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidMaterial {
    /// The material.
    pub stuff: Stuff,
    /// Sheets or boards.
    pub form: StockForm,
    /// Which cuts may be made.
    pub cuts: Cuts,
    /// Width of a cut, mm.
    pub kerf: f64,
    /// What is taken off first, mm: each edge of a sheet, each end of a board.
    pub trim: f64,
    /// Indices into [`Demand::stock`] of what the pieces may come from.
    pub from: Vec<usize>,
    /// The pieces: a number of [`Sheet::pieces`] is an index into these.
    pub pieces: Vec<PieceAt>,
    /// The sheets or boards; [`Sheet::stock`] is an index into [`Demand::stock`].
    pub sheets: Vec<Sheet>,
    /// What it uses as little of as it can.
    pub measure: Measure,
    /// How good that is known to be, an area in mm² where the measure is material; `None` where nothing could be laid out.
    pub standing: Option<Standing>,
    /// How many sheets or boards it takes with [`Cuts::Free`], where the plan wants rips first and that is known to take
    /// less.
    pub freely: Option<usize>,
    /// Pieces without a place, indices into `pieces`, and why.
    pub left: Vec<(usize, NoPlace)>,
}

/// Where a piece stands in the demand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PieceAt {
    /// Index into [`Demand::groups`].
    pub group: usize,
    /// Index into that group's pieces.
    pub piece: usize,
}

impl PieceAt {
    /// The piece itself: its part, label, bevels and size.
    #[must_use]
    pub fn of(self, demand: &Demand) -> Option<&Piece> {
        demand.groups.get(self.group).and_then(|group| group.pieces.get(self.piece))
    }
}

/// Why a piece has no place.
#[derive(Clone, Debug, PartialEq)]
pub enum NoPlace {
    /// It is larger than any sheet or board less its trim.
    TooLarge,
    /// It would fit only across the grain.
    AcrossGrain,
    /// The stock's counts do not reach.
    RunsOut {
        /// Whether no layout could place it.
        proved: bool,
    },
    /// The layout was refused.
    Refused(Problem),
}

impl LaidMaterial {
    /// The piece with this number on a sheet.
    #[must_use]
    pub fn piece<'d>(&self, number: usize, demand: &'d Demand) -> Option<&'d Piece> {
        self.pieces.get(number).and_then(|at| at.of(demand))
    }

    /// The face of its sheets or boards, and of the pieces on them, mm².
    #[must_use]
    pub fn areas(&self, demand: &Demand) -> (f64, f64) {
        let face = |sheet: &Sheet| demand.stock.get(sheet.stock).map_or(0.0, face_of);
        let whole = self.sheets.iter().map(face).sum();
        (whole, self.sheets.iter().map(area_of_pieces).sum())
    }
}

fn face_of(item: &StockItem) -> f64 {
    item.length.to_mm() * item.width.to_mm()
}

fn area_of_pieces(sheet: &Sheet) -> f64 {
    sheet.pieces().iter().map(|placed| placed.area.length * placed.area.width).sum()
}

impl Effort {
    /// What is worth spending on laying out all of `demand`.
    #[must_use]
    pub fn for_demand(demand: &Demand) -> Self {
        Self::for_pieces(demand.groups.iter().map(|group| group.pieces.len()).sum())
    }
}

/// Lays `demand` out on its stock; `stock` says what the saw takes and which cuts may be made.
///
/// The effort is shared out
/// among the materials by their pieces; what one leaves goes to the next.
/// Where rips first are not known to take the least, cuts in any order are tried for half as long again.
///
/// # Errors
/// The watch said [`crate::progress::Flow::Cancel`]. Stock that does not serve is no error: see [`LaidMaterial::left`].
pub fn lay_out(demand: &Demand, stock: &Stock, effort: &Effort, watch: &Watch<'_>) -> Result<LaidOut, Cancelled> {
    let mut materials = gather(demand, stock);
    let mut counts: Vec<Option<usize>> = demand.stock.iter().map(|item| item.count).collect();
    let mut waiting: usize = materials.iter().map(|material| material.pieces.len()).sum();
    let mut spent = 0;
    for material in &mut materials {
        let steps = share(effort.steps - spent, material.pieces.len(), waiting);
        waiting -= material.pieces.len();
        let told = |now: Progress| watch(Progress { steps: spent + now.steps, of: effort.steps, ..now });
        let bench = Bench { demand, stock, counts: &counts };
        let used = bench.lay(material, Effort { steps, seed: effort.seed }, &told)?;
        spent = (spent + used).min(effort.steps);
        for sheet in &material.sheets {
            if let Some(Some(count)) = counts.get_mut(sheet.stock) {
                *count = count.saturating_sub(1);
            }
        }
    }
    let cost = cost::total(demand, uses(demand, &materials));
    Ok(LaidOut { materials, cost })
}

fn share(steps: u64, pieces: usize, of: usize) -> u64 {
    let part = u128::from(steps) * pieces as u128 / of.max(1) as u128;
    u64::try_from(part).unwrap_or(steps)
}

fn uses(demand: &Demand, materials: &[LaidMaterial]) -> Vec<Use> {
    let mut uses: BTreeMap<usize, (usize, f64)> = BTreeMap::new();
    for sheet in materials.iter().flat_map(|material| &material.sheets) {
        let (count, area) = uses.entry(sheet.stock).or_default();
        *count += 1;
        *area += area_of_pieces(sheet);
    }
    let told = |(item, (count, area)): (usize, (usize, f64))| {
        let face = demand.stock.get(item).map(face_of)?;
        Some(Use { item, count, used: area / (face * count as f64) })
    };
    uses.into_iter().filter_map(told).collect()
}

/// Groups that come from the very same sheets or boards are laid out together: strips of several widths, thicknesses
/// that one sheet serves for.
fn gather(demand: &Demand, stock: &Stock) -> Vec<LaidMaterial> {
    let mut materials: Vec<LaidMaterial> = Vec::new();
    for (group, wanted) in demand.groups.iter().enumerate() {
        let at = materials.iter().position(|known| known.stuff == wanted.stuff && known.from == wanted.from);
        let at = at.unwrap_or_else(|| {
            let cuts = match stock.cuts {
                CutOrder::RipFirst => Cuts::RipFirst { trims: true },
                CutOrder::Free => Cuts::Free,
            };
            materials.push(LaidMaterial {
                stuff: wanted.stuff,
                form: wanted.form,
                cuts,
                kerf: stock.kerf.to_mm(),
                trim: if wanted.form == StockForm::Sheet { stock.trim } else { stock.end_trim }.to_mm(),
                from: wanted.from.clone(),
                pieces: Vec::new(),
                sheets: Vec::new(),
                measure: Measure::Count,
                standing: None,
                freely: None,
                left: Vec::new(),
            });
            materials.len() - 1
        });
        materials[at].pieces.extend((0..wanted.pieces.len()).map(|piece| PieceAt { group, piece }));
    }
    materials
}
