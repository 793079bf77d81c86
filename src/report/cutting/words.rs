//! Single facts of the bench lists in words.

use crate::cutting::drilling::Holes;
use crate::cutting::hardware::{Count, Item};
use crate::cutting::parts::Row;
use crate::cutting::rips::{Crosscut, Rip, RipGroup};
use crate::cutting::{Demand, StockWord};
use crate::length::{Length, Unit};
use crate::model::{Bevel, Cutting, CuttingKind, Edge, Model, Why};
use crate::plan::{StockForm, StockItem};

/// A length without its unit.
pub(super) fn bare(mm: f64, unit: Unit) -> String {
    Length::mm(mm).show_bare(unit)
}

/// Length × width × thickness, without the unit.
#[must_use]
pub fn size_line(size: &[Length], unit: Unit) -> String {
    size.iter().map(|length| length.show_bare(unit)).collect::<Vec<_>>().join(" × ")
}

/// Degrees to a tenth.
pub(super) fn degrees(angle: f64) -> String {
    let text = format!("{angle:.1}");
    format!("{}°", text.strip_suffix(".0").unwrap_or(&text))
}

/// A stretch of rip or band: metres, or feet.
pub(super) fn stretch(length: Length, unit: Unit) -> String {
    match unit {
        Unit::Millimetre => format!("{:.2} m", length.to_mm() / 1000.0),
        Unit::Inch => format!("{:.1} ft", length.to_inches() / 12.0),
    }
}

/// The units that the parts of a row go to: `left 1 glaze drawers (2), right countertop`.
#[must_use]
pub fn places(row: &Row, model: &Model) -> String {
    let mut places: Vec<(String, usize)> = Vec::new();
    for &id in &row.parts {
        let name = &model.part(id).name;
        // What stands before the first comma is the unit.
        let place = name.split(',').next().unwrap_or(name).to_owned();
        match places.iter_mut().find(|(known, _)| *known == place) {
            Some((_, count)) => *count += 1,
            None => places.push((place, 1)),
        }
    }
    let place =
        |(place, count): &(String, usize)| if *count > 1 { format!("{place} ({count})") } else { place.clone() };
    places.iter().map(place).collect::<Vec<_>>().join(", ")
}

/// A group of rips: from what they are ripped.
#[must_use]
pub fn rip_group_line(group: &RipGroup, unit: Unit) -> String {
    let along = if group.form == StockForm::Sheet { "sheets" } else { "boards" };
    format!("{}, {} thick, from {along}", group.stuff.word(), group.thickness.show(unit))
}

/// One setting of the fence, and how much is ripped at it.
#[must_use]
pub fn rip_line(rip: &Rip, unit: Unit) -> String {
    let tilt = if rip.bevel_deg > 0.0 { format!(", blade tilted {}", degrees(rip.bevel_deg)) } else { String::new() };
    format!("fence {}{tilt}: {}", rip.fence.show_bare(unit), stretch(rip.total, unit))
}

/// Pieces of one length, and their rows in the cut list.
#[must_use]
pub fn crosscut_line(cut: &Crosscut, unit: Unit) -> String {
    let end = if cut.bevel_deg > 0.0 { format!(", one end at {}", degrees(cut.bevel_deg)) } else { String::new() };
    let rows = cut.rows.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
    format!("{:>3} × {}{end} (no. {rows})", cut.quantity, cut.length.show_bare(unit))
}

/// Edge names with commas.
#[must_use]
pub fn edges_line(edges: &[Edge]) -> String {
    edges.iter().map(|edge| edge.word()).collect::<Vec<_>>().join(", ")
}

/// What is cut into a board, where, and for what.
#[must_use]
pub fn joint_line(cut: &Cutting, unit: Unit) -> String {
    let [deep, wide, at] = [cut.deep, cut.wide, cut.at].map(|mm| bare(mm, unit));
    let (kind, takes) = (cut.kind.word(), cut.takes.word());
    match cut.kind {
        CuttingKind::Notch => {
            format!("{kind} {deep} deep at the {} edge, {wide} along it, for the {takes}", cut.from.word())
        }
        CuttingKind::Rabbet if cut.at <= 0.0 => {
            format!("{kind} {deep} deep, {wide} wide, along the {} edge, for the {takes}", cut.from.word())
        }
        CuttingKind::Rabbet | CuttingKind::Dado | CuttingKind::Groove => {
            format!("{kind} {deep} deep, {wide} wide, {at} from the {} edge, for the {takes}", cut.from.word())
        }
    }
}

fn bevel_line(bevel: &Bevel) -> String {
    format!("{} edge sawn at {} from square", bevel.edge.word(), degrees(bevel.angle_deg))
}

/// Everything that is done to the parts of a row, a line each.
#[must_use]
pub fn work_lines(row: &Row, unit: Unit) -> Vec<String> {
    let mut lines = Vec::new();
    if row.is_fitted_on_site() {
        let fitted = size_line(&row.fitted, unit);
        lines.push(format!("fitted on site to {fitted}; the rest is left on"));
    }
    if !row.stripped.is_empty() {
        let edges = if row.stripped.len() == 1 { "edge" } else { "edges" };
        lines.push(format!("strip on the {} {edges}", edges_line(&row.stripped)));
    }
    lines.extend(row.joints.iter().map(|cut| joint_line(cut, unit)));
    lines.extend(row.bevels.iter().map(bevel_line));
    if row.in_pairs {
        lines.push("in pairs: half of them mirror the others".to_owned());
    }
    lines
}

/// How much longer or shorter than its filler a piece is at the corner, and why.
fn at_corner(corner: f64, reason: &str, unit: Unit) -> String {
    if corner.abs() <= crate::length::SNAP_MM {
        String::new()
    } else if corner > 0.0 {
        format!(" + {} {reason}", bare(corner, unit))
    } else {
        format!(" − {} {reason}", bare(-corner, unit))
    }
}

/// Why a finishing piece is there and how its size comes about, in one line.
#[must_use]
pub fn why_line(why: &Why, unit: Unit) -> String {
    let b = |mm: f64| bare(mm, unit);
    match *why {
        Why::Strip { of } => format!("covers the raw edge of the {}", of.word()),
        Why::Filler { filler, corner, laps, with_fronts } => {
            let flush = if with_fronts { "the fronts" } else { "the carcass's stripped edge" };
            let meets = if laps { "it covers the other face's edge" } else { "it meets the other face" };
            let corner = at_corner(corner, "at the corner", unit);
            format!("flush with {flush}: filler {}{corner}, where {meets}", b(filler))
        }
        Why::CornerStile { stile, filler, corner } => {
            let corner = at_corner(corner, "at the corner", unit);
            format!("stile {} + filler {}{corner}, in one piece", b(stile), b(filler))
        }
        Why::Backing => "carries the filler face; screwed to the first unit's side".to_owned(),
        Why::KickCover { units, filler, setback, lap } => {
            let lap = at_corner(lap, "where it meets its mate", unit);
            let setback = format!("setback ÷ tan(run angle ÷ 2) {}", b(setback));
            format!("units {} + filler {} + {setback}{lap}", b(units), b(filler))
        }
        Why::KickStretch => "covers the toe kick of the units over it".to_owned(),
        Why::KickBlock => "both kick covers are fixed to it".to_owned(),
        Why::ShelfStile { proud, widened } if widened > 0.0 => {
            format!("as deep as the fronts stand proud, {}; {} wider, over the baseboard", b(proud), b(widened))
        }
        Why::ShelfStile { proud, .. } => format!("as deep as the fronts stand proud, {}", b(proud)),
        Why::ShelfRail { proud, shelf, rail } if shelf > 0.0 => {
            format!(
                "as deep as the fronts stand proud, {}; as high as bottom {} and rail {} together",
                b(proud),
                b(shelf),
                b(rail)
            )
        }
        Why::ShelfRail { proud, .. } => {
            format!("as deep as the fronts stand proud, {}; one a shelf and one at the top", b(proud))
        }
        Why::EndPanel => "closes the end of the run; its back edge is fitted to the wall".to_owned(),
        Why::BuildUp { drop } if drop > 0.0 => {
            format!("lifts the countertop, whose edge drops by {}, clear of the top fronts", b(drop))
        }
        Why::BuildUp { .. } => "lifts the countertop".to_owned(),
        Why::Packing { out } => format!("packs the slides out by {}, so that the shelves pass the open door", b(out)),
        Why::Blocking { out } => format!("brings the side {} out to the stile's inner edge, for the slides", b(out)),
    }
}

/// The sums behind a row, each once.
#[must_use]
pub fn whys_line(row: &Row, unit: Unit) -> String {
    let mut whys: Vec<String> = row.whys.iter().map(|why| why_line(why, unit)).collect();
    whys.dedup();
    whys.join("; ")
}

/// What is wrong with the stock or was taken for granted, in one line.
#[must_use]
pub fn stock_line(word: &StockWord, demand: &Demand, unit: Unit) -> String {
    let name = |index: usize| demand.stock.get(index).map_or("", |item| item.name.as_str());
    let size = |index: usize| demand.stock.get(index).map_or(String::new(), |item| item_size(item, unit));
    match word {
        StockWord::NothingListed => {
            "the plan lists no `stock`: usual sheets and boards are taken, without prices".to_owned()
        }
        StockWord::NoneOf { stuff, thickness, instead } => format!(
            "the stock has no {} {} thick: a {}, {}, is taken",
            stuff.word(),
            thickness.show(unit),
            name(*instead),
            size(*instead)
        ),
        StockWord::TooLarge { label, size: piece, largest } => format!(
            "`{label}`, {}, is larger than `{}`, {}, less its trim: it must be made of two, or of larger stock",
            size_line(piece, unit),
            name(*largest),
            size(*largest)
        ),
        StockWord::AcrossGrain { label, size: piece, sheet } => format!(
            "`{label}`, {}, goes onto `{}`, {}, only across its grain: write `grain: false` for a sheet without one",
            size_line(piece, unit),
            name(*sheet),
            size(*sheet)
        ),
        StockWord::Planed { item, thickness } => {
            format!("`{}` is planed down to {}, which is not in the stock", name(*item), thickness.show(unit))
        }
        StockWord::NoPrice { item } => format!("`{}` has no price, so no sum is whole", name(*item)),
        StockWord::NoKerf => "the kerf is 0: every saw takes something, and a full sheet will come up short".to_owned(),
    }
}

/// A stock item's size, with the thickness it is sold by.
pub(super) fn item_size(item: &StockItem, unit: Unit) -> String {
    let size = size_line(&[item.length, item.width, item.thickness], unit);
    match item.sold_as {
        Some(sold_as) => format!("{size} (sold as {})", sold_as.show(unit)),
        None => size,
    }
}

/// How many, in words.
pub(super) fn count_words(item: &Item, unit: Unit) -> String {
    match item.count {
        Count::Pieces(count) => count.to_string(),
        Count::Pairs(1) => "1 pair".to_owned(),
        Count::Pairs(count) => format!("{count} pairs"),
        Count::Length(length) => stretch(length, unit),
    }
}

/// Where holes are, in one line.
pub(super) fn holes_line(holes: &Holes, unit: Unit) -> String {
    const MOST: usize = 6;
    let list = |lengths: &[Length]| match lengths {
        // Rows are told by first, last and count.
        [first, second, .., last] if lengths.len() > MOST => format!(
            "{} to {}, {} apart ({} holes)",
            first.show_bare(unit),
            last.show_bare(unit),
            (*second - *first).show_bare(unit),
            lengths.len()
        ),
        _ => lengths.iter().map(|length| length.show_bare(unit)).collect::<Vec<_>>().join(", "),
    };
    let up = format!("{} from the {} edge", list(&holes.up), holes.up_from.word());
    let size = holes
        .diameter
        .map_or_else(String::new, |diameter| format!("{} mm across, ", bare(diameter.to_mm(), Unit::Millimetre)));
    if holes.across.is_empty() {
        format!("{size}{up}")
    } else {
        format!("{size}{} from the {} edge, {up}", list(&holes.across), holes.across_from.word())
    }
}

/// Cautions for the saw, dust and lifting, where the lists are shown.
#[must_use]
pub fn bench_cautions() -> &'static [&'static str] {
    &[
        "Saw with guard and riving knife in place, a push stick for narrow rips, the strip free to fall away from the fence; unplug before you touch the blade. Wear eye and hearing protection.",
        "Wood dust harms the lungs (IARC group 1): extract it at the machine and wear a mask. In the USA, OSHA 29 CFR 1910.1000 limits dust to 15 mg/m³, 5 respirable.",
        "Two people for sheets and for whatever weighs more than 23 kg (51 lb). Cut one of each first and check it against what you have built.",
        "The maker's sheet goes before these hole positions and screw lengths. Local codes govern; licensed trades do their part.",
    ]
}
