//! How does one material go onto its stock? Trims come off, what no sheet can hold is set aside, and a solver does the rest.

use super::super::boards;
use super::super::demand::{Demand, usable};
use super::super::layout::{Failure, Measure, Problem, Saw, Standing};
use super::super::sheets::{self, Area, Becomes, Branch, Cuts, Direction, Sheet};
use super::order::{in_saw_order, shifted};
use super::{LaidMaterial, NoPlace, area_of_pieces};
use crate::length::{Length, SNAP_MM};
use crate::plan::{Stock, StockForm, StockItem};
use crate::progress::{Cancelled, Effort, Progress, Watch};

/// What one material is laid out with.
pub(super) struct Bench<'d> {
    pub(super) demand: &'d Demand,
    pub(super) stock: &'d Stock,
    /// How many of each stock item are left.
    pub(super) counts: &'d [Option<usize>],
}

/// A sheet or board as the solvers see it: less its trim.
struct Usable<'d> {
    index: usize,
    item: &'d StockItem,
    length: f64,
    width: f64,
    count: Option<usize>,
}

impl Usable<'_> {
    fn holds(&self, length: f64, width: f64) -> bool {
        length <= self.length + SNAP_MM && width <= self.width + SNAP_MM
    }
}

/// A piece as the solvers see it.
struct Wanted {
    /// Index into the material's pieces.
    number: usize,
    length: f64,
    width: f64,
    turns: bool,
}

/// What a solver found.
struct Found {
    sheets: Vec<Sheet>,
    measure: Measure,
    /// How much of it.
    used: f64,
    standing: Standing,
    steps: u64,
}

impl Bench<'_> {
    /// Lays one material out; the steps it took.
    pub(super) fn lay(&self, material: &mut LaidMaterial, effort: Effort, watch: &Watch<'_>) -> Result<u64, Cancelled> {
        let there = self.there(material);
        let mut wanted = self.wanted(material, &there);
        let mut spent = 0;
        while !wanted.is_empty() {
            let effort = Effort { steps: effort.steps.saturating_sub(spent), ..effort };
            let told = |now: Progress| watch(Progress { steps: spent + now.steps, ..now });
            match solve(&there, &wanted, material, effort, &told) {
                Ok(found) => {
                    spent += found.steps;
                    let at_end = |now: Progress| watch(Progress { steps: effort.steps, ..now });
                    material.freely = freely(&found, &there, &wanted, material, effort, &at_end)?;
                    material.sheets = found.sheets.into_iter().map(|sheet| self.on_stock(sheet, &there)).collect();
                    // The fullest first, so that the largest offcut is on the last.
                    material
                        .sheets
                        .sort_by(|a, b| a.stock.cmp(&b.stock).then(area_of_pieces(b).total_cmp(&area_of_pieces(a))));
                    (material.measure, material.standing) = (found.measure, Some(found.standing));
                    break;
                }
                Err(Failure::Cancelled(cancelled)) => return Err(cancelled),
                Err(Failure::Unfit(problems)) => set_aside(material, &mut wanted, problems),
            }
        }
        material.left.sort_by_key(|(number, _)| *number);
        Ok(spent.min(effort.steps))
    }

    /// The sheets or boards of which some are left and something remains when they are trimmed.
    fn there(&self, material: &LaidMaterial) -> Vec<Usable<'_>> {
        let items = material.from.iter().filter_map(|&index| {
            let item = self.demand.stock.get(index)?;
            let [length, width] = usable(self.stock, item).map(Length::to_mm);
            let count = self.counts.get(index).copied().flatten();
            (length > 0.0 && width > 0.0).then_some(Usable { index, item, length, width, count })
        });
        items.collect()
    }

    /// The pieces that some sheet or board can hold; the others are set aside with the reason.
    fn wanted(&self, material: &mut LaidMaterial, there: &[Usable<'_>]) -> Vec<Wanted> {
        let grained = there.iter().any(|usable| usable.item.grain);
        let mut wanted = Vec::new();
        for (number, at) in material.pieces.iter().enumerate() {
            let Some(piece) = at.of(self.demand) else { continue };
            let [length, width] = [piece.length, piece.width].map(Length::to_mm);
            let turns = material.form == StockForm::Sheet && !(piece.grain && grained);
            let holds = |usable: &Usable<'_>| usable.holds(length, width) || (turns && usable.holds(width, length));
            if there.iter().filter(|usable| usable.count != Some(0)).any(holds) {
                wanted.push(Wanted { number, length, width, turns });
                continue;
            }
            let turned = |usable: &Usable<'_>| usable.holds(width, length);
            let why = if there.iter().any(holds) {
                NoPlace::RunsOut { proved: true }
            } else if material.form == StockForm::Sheet && there.iter().any(turned) {
                NoPlace::AcrossGrain
            } else {
                NoPlace::TooLarge
            };
            material.left.push((number, why));
        }
        wanted
    }

    /// The solver's sheet with the demand's number for its stock, and places from the untrimmed corner.
    fn on_stock(&self, sheet: Sheet, there: &[Usable<'_>]) -> Sheet {
        let Some(usable) = there.get(sheet.stock) else { return sheet };
        let (x, y) = match usable.item.form {
            StockForm::Sheet => (self.stock.trim.to_mm(), self.stock.trim.to_mm()),
            StockForm::Board => (self.stock.end_trim.to_mm(), 0.0),
        };
        Sheet { stock: usable.index, whole: in_saw_order(shifted(sheet.whole, x, y), self.stock.kerf.to_mm()) }
    }
}

/// Takes what has no place out of `wanted`. The solvers are told numbers for names.
fn set_aside(material: &mut LaidMaterial, wanted: &mut Vec<Wanted>, problems: Vec<Problem>) {
    for problem in &problems {
        if let Problem::StockRunsOut { left, proved } = problem {
            let is_left = |piece: &Wanted| left.iter().any(|(name, _)| *name == piece.number.to_string());
            let (out, kept): (Vec<Wanted>, Vec<Wanted>) = std::mem::take(wanted).into_iter().partition(is_left);
            *wanted = kept;
            material.left.extend(out.iter().map(|piece| (piece.number, NoPlace::RunsOut { proved: *proved })));
            if !out.is_empty() {
                return;
            }
        }
    }
    let Some(problem) = problems.into_iter().next() else { return wanted.clear() };
    material.left.extend(wanted.drain(..).map(|piece| (piece.number, NoPlace::Refused(problem.clone()))));
}

fn solve(
    there: &[Usable<'_>],
    wanted: &[Wanted],
    material: &LaidMaterial,
    effort: Effort,
    watch: &Watch<'_>,
) -> Result<Found, Failure> {
    // One price short and no sum can be compared; a word about it stands in the demand.
    let priced = there.iter().all(|usable| usable.item.price.is_some());
    let price = |usable: &Usable<'_>| usable.item.price.filter(|_| priced).map(|price| price.0 as f64 / 100.0);
    let saw = Saw { kerf: material.kerf, trim: 0.0 };
    if let Some(strip) = one_strip(there, wanted, material) {
        let stock = there.iter().map(|usable| boards::Stock {
            name: usable.item.name.clone(),
            length: usable.length,
            count: usable.count,
            price: price(usable),
        });
        let pieces =
            wanted.iter().map(|piece| boards::Piece { name: piece.number.to_string(), length: piece.length, count: 1 });
        let job = boards::Job { stock: stock.collect(), pieces: pieces.collect(), saw };
        let layout = boards::lay_out(&job, effort, watch)?;
        let sheets = layout.boards.iter().filter_map(|board| {
            let usable = there.get(board.stock)?;
            Some(as_sheet(board, usable, strip, material.kerf, wanted))
        });
        let (measure, used, standing, steps) = (layout.measure, layout.used, layout.standing, layout.steps);
        let standing = match (measure, standing) {
            // All are as wide: areas, as of sheets.
            (Measure::Material, Standing::BestFound { at_least }) => {
                let width = there.first().map_or(0.0, |usable| usable.width);
                Standing::BestFound { at_least: at_least * width }
            }
            (_, standing) => standing,
        };
        return Ok(Found { sheets: sheets.collect(), measure, used, standing, steps });
    }
    let stock = there.iter().map(|usable| sheets::Stock {
        name: usable.item.name.clone(),
        length: usable.length,
        width: usable.width,
        count: usable.count,
        price: price(usable),
    });
    let pieces = wanted.iter().map(|piece| sheets::Piece {
        name: piece.number.to_string(),
        length: piece.length,
        width: piece.width,
        count: 1,
        turns: piece.turns,
    });
    let job = sheets::Job { stock: stock.collect(), pieces: pieces.collect(), saw, cuts: material.cuts };
    let layout = sheets::lay_out(&job, effort, watch)?;
    let (measure, used, standing, steps) = (layout.measure, layout.used, layout.standing, layout.steps);
    let mut sheets = layout.sheets;
    sheets.iter_mut().for_each(|sheet| number(&mut sheet.whole, wanted));
    Ok(Found { sheets, measure, used, standing, steps })
}

/// How many sheets it takes to cut in any order, where `found` is by rips first, not proved, and takes more.
fn freely(
    found: &Found,
    there: &[Usable<'_>],
    wanted: &[Wanted],
    material: &LaidMaterial,
    effort: Effort,
    watch: &Watch<'_>,
) -> Result<Option<usize>, Cancelled> {
    if material.cuts == Cuts::Free || found.standing == Standing::Proved {
        return Ok(None);
    }
    let free = LaidMaterial { cuts: Cuts::Free, ..material.clone() };
    match solve(there, wanted, &free, Effort { steps: effort.steps / 2, ..effort }, watch) {
        // Both are whole counts, prices to the hundredth or areas of whole sheets.
        Ok(other) => Ok((other.used < found.used - SNAP_MM).then_some(other.sheets.len())),
        Err(Failure::Cancelled(cancelled)) => Err(cancelled),
        // What was found with rips first can be cut in any order too, but need not be found again.
        Err(Failure::Unfit(_)) => Ok(None),
    }
}

/// Gives pieces the material's numbers.
fn number(branch: &mut Branch, wanted: &[Wanted]) {
    match &mut branch.becomes {
        Becomes::Piece { piece, .. } => *piece = wanted.get(*piece).map_or(*piece, |wanted| wanted.number),
        Becomes::Offcut => {}
        Becomes::Split { first, second, .. } => {
            number(first, wanted);
            if let Some(second) = second {
                number(second, wanted);
            }
        }
    }
}

/// The width of all strips, where every board gives one of them: then only lengths count.
fn one_strip(there: &[Usable<'_>], wanted: &[Wanted], material: &LaidMaterial) -> Option<f64> {
    let strip = wanted.first().filter(|_| material.form == StockForm::Board)?.width;
    let alike = wanted.iter().all(|piece| (piece.width - strip).abs() <= SNAP_MM);
    // Boards of several widths, without prices, would be compared by length alone.
    let even = there.windows(2).all(|pair| (pair[0].width - pair[1].width).abs() <= SNAP_MM);
    let one = there.iter().all(|usable| 2.0 * strip + material.kerf > usable.width + SNAP_MM);
    (alike && even && one).then_some(strip)
}

/// A board ripped to one strip, if it is wider, and crosscut.
fn as_sheet(board: &boards::Board, usable: &Usable<'_>, strip: f64, kerf: f64, wanted: &[Wanted]) -> Sheet {
    let area = |x: f64, length: f64| Area { x, y: 0.0, length, width: strip };
    let end = board.cuts.last().map_or(0.0, |cut| cut.to);
    let mut rest = (board.offcut > 0.0).then(|| {
        let x = end + kerf;
        Branch { area: area(x, board.offcut), becomes: Becomes::Offcut }
    });
    for (at, cut) in board.cuts.iter().enumerate().rev() {
        let piece = wanted.get(cut.piece).map_or(cut.piece, |wanted| wanted.number);
        let branch =
            Branch { area: area(cut.from, cut.to - cut.from), becomes: Becomes::Piece { piece, turned: false } };
        // Nothing beyond, and nothing for the saw: the piece reaches the end of the board.
        let reaches = at + 1 == board.cuts.len() && usable.length - cut.to <= SNAP_MM;
        rest = Some(match rest {
            None if reaches => branch,
            second => {
                let length = usable.length - cut.from;
                let (first, second) = (Box::new(branch), second.map(Box::new));
                let becomes = Becomes::Split { direction: Direction::Crosscut, first, second };
                Branch { area: area(cut.from, length), becomes }
            }
        });
    }
    let whole = Area { x: 0.0, y: 0.0, length: usable.length, width: usable.width };
    let strip_branch = rest.unwrap_or(Branch { area: area(0.0, usable.length), becomes: Becomes::Offcut });
    if usable.width - strip <= SNAP_MM {
        return Sheet { stock: board.stock, whole: strip_branch };
    }
    let beyond = usable.width - strip - kerf;
    let second = (beyond > SNAP_MM).then(|| {
        let area = Area { y: strip + kerf, width: beyond, ..whole };
        Box::new(Branch { area, becomes: Becomes::Offcut })
    });
    let becomes = Becomes::Split { direction: Direction::Rip, first: Box::new(strip_branch), second };
    Sheet { stock: board.stock, whole: Branch { area: whole, becomes } }
}
