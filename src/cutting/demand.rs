//! What must come out of which sheets and boards? For each material its pieces as cut, and what there is to cut them from.
//!
//! [`demand()`] takes a [`Model`] and its [`Plan`]. Where the plan's stock has nothing for a material, a sheet or board of
//! the usual size stands in, and a [`StockWord`] says so. Pieces of a board are grouped by the width they are ripped to:
//! one board gives so many strips of it.

use std::collections::BTreeMap;

use super::parts::{CutList, Row, cut_list, millionths};
use crate::length::{Length, SNAP_MM};
use crate::model::{Model, PartId, Role};
use crate::plan::{Plan, Stock, StockForm, StockItem, Stuff, defaults};

/// A strip thinner than this is band from a roll, and not cut from a board: mm. Common practice, no source.
pub const BAND: f64 = 2.5;

/// A sheet or board serves for a part whose thickness is no farther off than this: 1/64 in, the tolerance of sanded
/// plywood up to 3/4 in (PS 1-19).
const SAME_THICKNESS: f64 = 0.4;

/// The thickest board of which a narrow strip is ripped on edge, where the plan does not list any: mm.
const THICKEST_USUAL: f64 = 25.4;

/// All pieces to be laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct Demand {
    /// What there is: the plan's own, then the usual ones that stand in.
    pub stock: Vec<StockItem>,
    /// One a material, thickness and, of boards, width.
    pub groups: Vec<MaterialDemand>,
    /// What is wrong or was taken for granted.
    pub words: Vec<StockWord>,
}

/// The pieces that come from like sheets or boards.
#[derive(Clone, Debug, PartialEq)]
pub struct MaterialDemand {
    /// The material.
    pub stuff: Stuff,
    /// Sheets or boards.
    pub form: StockForm,
    /// Its real thickness.
    pub thickness: Length,
    /// Of boards, the width that strips are ripped to.
    pub strip: Option<Length>,
    /// Indices into [`Demand::stock`] of what serves for at least one of the pieces, in the plan's order.
    pub from: Vec<usize>,
    /// The pieces, like ones together.
    pub pieces: Vec<Piece>,
}

impl MaterialDemand {
    /// How many strips of this width one of `item` gives, by its width and the kerf.
    #[must_use]
    pub fn strips_of(&self, item: &StockItem, kerf: Length) -> usize {
        let Some(strip) = self.strip.filter(|strip| *strip > Length::ZERO) else { return 1 };
        let step = (strip + kerf).to_mm();
        let strips = ((item.width + kerf).to_mm() / step + SNAP_MM).floor();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "positive and far below 2^52")]
        let strips = strips.max(0.0) as usize;
        strips
    }
}

/// One piece, as cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Number of its row in the cut list.
    pub row: usize,
    /// The part it becomes; of a spare, the part it could stand in for.
    pub part: PartId,
    /// What is written on it.
    pub label: String,
    /// Along the grain.
    pub length: Length,
    /// Across the grain; of a strip ripped on edge, what the fence is set to.
    pub width: Length,
    /// Whether it may not be turned on a sheet that has a grain.
    pub grain: bool,
    /// The angle its long edge is ripped at, from square, in degrees; 0 for square.
    pub rip_bevel_deg: f64,
    /// The angle its end is crosscut at, from square, in degrees; 0 for square.
    pub end_bevel_deg: f64,
    /// Cut beside what the model needs.
    pub spare: bool,
}

/// What is wrong with the stock, or was taken for granted about it.
#[derive(Clone, Debug, PartialEq)]
pub enum StockWord {
    /// The plan lists no stock at all.
    NothingListed,
    /// The plan lists stock, but nothing of this kind and thickness.
    NoneOf {
        /// The kind.
        stuff: Stuff,
        /// The thickness.
        thickness: Length,
        /// Index into [`Demand::stock`] of the usual one that stands in.
        instead: usize,
    },
    /// A piece is larger than any sheet or board of its kind.
    TooLarge {
        /// What is written on it.
        label: String,
        /// Its length and width.
        size: [Length; 2],
        /// Index into [`Demand::stock`] of the largest there is.
        largest: usize,
    },
    /// A piece would go onto its sheet only across the grain.
    AcrossGrain {
        /// What is written on it.
        label: String,
        /// Its length and width.
        size: [Length; 2],
        /// Index into [`Demand::stock`] of the sheet.
        sheet: usize,
    },
    /// A board is planed down to a thickness that is not listed.
    Planed {
        /// Index into [`Demand::stock`].
        item: usize,
        /// The thickness that is wanted.
        thickness: Length,
    },
    /// It has no price, so sums leave it out.
    NoPrice {
        /// Index into [`Demand::stock`].
        item: usize,
    },
    /// Cuts are taken to take nothing.
    NoKerf,
}

/// Gathers what `model`, built of `plan`, needs.
#[must_use]
pub fn demand(model: &Model, plan: &Plan) -> Demand {
    let list = cut_list(model);
    let mut gathering = Gathering {
        plan,
        stock: plan.stock.items.clone(),
        usual: BTreeMap::new(),
        groups: BTreeMap::new(),
        words: Vec::new(),
    };
    if plan.stock.items.is_empty() {
        gathering.words.push(StockWord::NothingListed);
    }
    if plan.stock.kerf <= Length::ZERO {
        gathering.words.push(StockWord::NoKerf);
    }
    for group in &list.groups {
        for row in &group.rows {
            for &part in &row.parts {
                gathering.piece(group.stuff, row, part, model.part(part).name.clone(), false);
            }
        }
    }
    for (row, count, what) in spares(&list, plan) {
        for _ in 0..count {
            if let (Some(stuff), Some(&part)) = (stuff_of_row(&list, row), row.parts.first()) {
                gathering.piece(stuff, row, part, what.to_owned(), true);
            }
        }
    }
    gathering.finish()
}

/// A spare front of the largest size, and a spare length of the widest filler face. Common practice, no source.
pub(super) fn spares<'l>(list: &'l CutList, plan: &Plan) -> Vec<(&'l Row, usize, &'static str)> {
    let area = |row: &&Row| row.cut[0].to_mm() * row.cut[1].to_mm();
    let largest =
        |role: fn(Role) -> bool| list.rows().filter(|r| role(r.role)).max_by(|a, b| area(a).total_cmp(&area(b)));
    let front = largest(|role| matches!(role, Role::DrawerFront)).or_else(|| largest(|role| role == Role::DoorFront));
    let filler = largest(|role| role == Role::FillerFace);
    let front = front.map(|row| (row, plan.joinery.spare_fronts, "spare front"));
    let filler = filler.map(|row| (row, 1, "spare filler stock"));
    front.into_iter().chain(filler).filter(|(_, count, _)| *count > 0).collect()
}

fn stuff_of_row(list: &CutList, row: &Row) -> Option<Stuff> {
    list.groups.iter().find(|group| group.rows.iter().any(|r| r.number == row.number)).map(|group| group.stuff)
}

/// Stuff, form, thickness and strip width, in millionths of a millimetre.
type GroupKey = (Stuff, StockForm, i64, i64);

struct Gathering<'p> {
    plan: &'p Plan,
    stock: Vec<StockItem>,
    /// The usual ones that stand in, by what and how thick.
    usual: BTreeMap<(Stuff, i64), usize>,
    groups: BTreeMap<GroupKey, MaterialDemand>,
    words: Vec<StockWord>,
}

impl Gathering<'_> {
    fn piece(&mut self, stuff: Stuff, row: &Row, part: PartId, label: String, spare: bool) {
        let [length, width, thickness] = row.cut;
        let band = row.role == Role::EdgeStrip && thickness.to_mm() < BAND;
        // Countertops are mostly bought to measure: only a plan that lists stock for one cuts it.
        let listed = self.plan.stock.items.iter().any(|item| item.of == stuff);
        if band || (stuff == Stuff::Countertop && !listed) {
            return;
        }
        let from = self.serving(stuff, width, thickness);
        let Some(&first) = from.first() else { return };
        let (form, board) = (self.stock[first].form, self.stock[first].thickness);
        // Of a board as thick as the piece is wide, the piece is ripped on edge.
        let on_edge = form == StockForm::Board && !same(board, thickness) && same(board, width);
        let across = if on_edge { thickness } else { width };
        let strip = (form == StockForm::Board).then_some(across);
        let rip_bevel_deg = row.bevel_along();
        let end_bevel_deg = row.bevels.first().map_or(0.0, |bevel| bevel.angle_deg - rip_bevel_deg);
        let label = if spare { label } else { format!("{} {label}", row.number) };
        let piece = Piece {
            row: row.number,
            part,
            label,
            length,
            width: across,
            grain: row.grain,
            rip_bevel_deg,
            end_bevel_deg,
            spare,
        };
        self.fits(&piece, &from);
        let thickness = if on_edge { width } else { thickness };
        let key = (stuff, form, -millionths(thickness.to_mm()), -strip.map_or(0, |s| millionths(s.to_mm())));
        let group = self.groups.entry(key).or_insert_with(|| MaterialDemand {
            stuff,
            form,
            thickness,
            strip,
            from: Vec::new(),
            pieces: Vec::new(),
        });
        for index in from {
            if !group.from.contains(&index) {
                group.from.push(index);
            }
        }
        group.pieces.push(piece);
    }

    /// What serves for a piece of `stuff`, `width` by `thickness`: the plan's own, or a usual one. All of one form.
    fn serving(&mut self, stuff: Stuff, width: Length, thickness: Length) -> Vec<usize> {
        let serves = |item: &StockItem, by: Length| item.of == stuff && same(item.thickness, by);
        let listed = |by: Length| {
            let found = self.plan.stock.items.iter().enumerate().filter(|(_, item)| serves(item, by));
            found.map(|(index, item)| (index, item.form)).collect::<Vec<_>>()
        };
        let mut found = listed(thickness);
        if found.is_empty() {
            found = listed(width).into_iter().filter(|(_, form)| *form == StockForm::Board).collect();
        }
        if found.is_empty() {
            found = self.planed(stuff, thickness);
        }
        if let Some(&(_, form)) = found.first() {
            return found.into_iter().filter(|(_, other)| *other == form).map(|(index, _)| index).collect();
        }
        vec![self.usual(stuff, width, thickness)]
    }

    /// The thinnest listed boards of which the thickness can be planed, told once.
    fn planed(&mut self, stuff: Stuff, thickness: Length) -> Vec<(usize, StockForm)> {
        let items = self.plan.stock.items.iter().enumerate();
        let boards = items.filter(|(_, item)| item.of == stuff && item.form == StockForm::Board);
        let thicker = boards.filter(|(_, item)| item.thickness > thickness);
        let Some((item, _)) = thicker.min_by_key(|(_, item)| item.thickness) else { return Vec::new() };
        let word = StockWord::Planed { item, thickness };
        let known = |other: &StockWord| match other {
            StockWord::Planed { item: known, thickness: other } => *known == item && same(*other, thickness),
            _ => false,
        };
        if !self.words.iter().any(known) {
            self.words.push(word);
        }
        vec![(item, StockForm::Board)]
    }

    /// A sheet or board of the usual size, told once.
    fn usual(&mut self, stuff: Stuff, width: Length, thickness: Length) -> usize {
        let form = match stuff {
            Stuff::Solid | Stuff::Lumber => StockForm::Board,
            Stuff::Panel | Stuff::ThinPanel | Stuff::Front | Stuff::Box | Stuff::Countertop => StockForm::Sheet,
        };
        // A thin strip is ripped on edge, off a board as thick as the strip is wide.
        let on_edge = form == StockForm::Board && width.to_mm() <= THICKEST_USUAL;
        let thickness = if on_edge { width.max(thickness) } else { thickness };
        let key = (stuff, millionths(thickness.to_mm()));
        if let Some(&index) = self.usual.get(&key) {
            let needed = if on_edge { Length::ZERO } else { width };
            if form == StockForm::Board {
                self.stock[index].width = self.stock[index].width.max(needed);
            }
            return index;
        }
        let unit = self.plan.unit;
        let (length, usual_width) = match form {
            StockForm::Sheet => (defaults::SHEET_LENGTH, defaults::SHEET_WIDTH),
            StockForm::Board => (defaults::BOARD_LENGTH, defaults::BOARD_WIDTH),
        };
        let index = self.stock.len();
        self.stock.push(StockItem {
            name: format!("usual {} of {}", form.word(), stuff.word()),
            of: stuff,
            form,
            thickness,
            sold_as: None,
            length: length.of(unit),
            width: usual_width.of(unit),
            price: None,
            count: None,
            grain: true,
            density: None,
        });
        self.usual.insert(key, index);
        if !self.plan.stock.items.is_empty() {
            self.words.push(StockWord::NoneOf { stuff, thickness, instead: index });
        }
        index
    }

    /// Says so where `piece` goes onto none of `from`, or only across the grain.
    fn fits(&mut self, piece: &Piece, from: &[usize]) {
        let stock = &self.plan.stock;
        let items = from.iter().filter_map(|&index| self.stock.get(index).map(|item| (index, item)));
        let goes = |item: &StockItem, length: Length, width: Length| {
            let [most_length, most_width] = usable(stock, item);
            length - most_length <= Length::mm(SNAP_MM) && width - most_width <= Length::mm(SNAP_MM)
        };
        let (mut largest, mut area, mut turned) = (None, 0.0, None);
        for (index, item) in items {
            let across = item.form == StockForm::Sheet && goes(item, piece.width, piece.length);
            let may_turn = !(piece.grain && item.grain);
            if goes(item, piece.length, piece.width) || (across && may_turn) {
                return;
            }
            if across {
                turned = Some(index);
            }
            let size = item.length.to_mm() * item.width.to_mm();
            if size > area {
                (largest, area) = (Some(index), size);
            }
        }
        let (label, size) = (piece.label.clone(), [piece.length, piece.width]);
        match (turned, largest) {
            (Some(sheet), _) => self.words.push(StockWord::AcrossGrain { label, size, sheet }),
            (None, Some(largest)) => self.words.push(StockWord::TooLarge { label, size, largest }),
            (None, None) => {}
        }
    }

    fn finish(mut self) -> Demand {
        let mut used: Vec<usize> = self.groups.values().flat_map(|group| group.from.iter().copied()).collect();
        used.sort_unstable();
        used.dedup();
        if !self.plan.stock.items.is_empty() {
            let priceless = |index: &usize| self.stock.get(*index).is_some_and(|item| item.price.is_none());
            let words: Vec<_> = used.into_iter().filter(priceless).map(|item| StockWord::NoPrice { item }).collect();
            self.words.extend(words);
        }
        let mut groups: Vec<_> = self.groups.into_values().collect();
        for group in &mut groups {
            group.from.sort_unstable();
            group.pieces.sort_by(|a, b| {
                b.width.cmp(&a.width).then(b.length.cmp(&a.length)).then(a.row.cmp(&b.row)).then(a.part.cmp(&b.part))
            });
        }
        Demand { stock: self.stock, groups, words: self.words }
    }
}

/// Length and width of `item` that pieces can come from: less the trim.
#[must_use]
pub(super) fn usable(stock: &Stock, item: &StockItem) -> [Length; 2] {
    match item.form {
        StockForm::Sheet => [item.length - stock.trim * 2.0, item.width - stock.trim * 2.0],
        StockForm::Board => [item.length - stock.end_trim * 2.0, item.width],
    }
}

fn same(a: Length, b: Length) -> bool {
    (a - b).abs() <= Length::mm(SAME_THICKNESS)
}

impl Row {
    /// The bevel of a long edge, in degrees from square: a face whose grain stands is bevelled along its length, one that
    /// lies along the run at its end.
    pub(super) fn bevel_along(&self) -> f64 {
        match (self.role, self.bevels.first()) {
            (Role::KickCover, _) | (_, None) => 0.0,
            (_, Some(bevel)) => bevel.angle_deg,
        }
    }
}
