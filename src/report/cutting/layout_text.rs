//! Layouts in words: each sheet or board with its cuts in order, what each cut gives, and what it all comes to.

use super::Bench;
use super::text::{Lines, cautions, heading, kilograms, plain};
use super::words::{bare, degrees, item_size, size_line, stock_line};
use crate::cutting::cost::{ONE_PERSON_KG, stock_weight};
use crate::cutting::layout::{Measure, Standing};
use crate::cutting::sheets::{Area, Becomes, Branch, Cuts, Direction, Sheet};
use crate::cutting::{LaidMaterial, LaidOut, NoPlace};
use crate::length::Unit;
use crate::plan::StockForm;
use crate::report::Mark;

/// Square millimetres in a square metre, and in a square foot.
const M2: f64 = 1e6;
const FT2: f64 = 304.8 * 304.8;

/// What is narrower goes into the bin, mm: an inch. Common practice, no source.
const SCRAP: f64 = 25.4;

/// What `layout` prints.
#[must_use]
pub fn layout_text(bench: &Bench, laid: &LaidOut) -> Vec<(Mark, String)> {
    let unit = bench.unit;
    let mut lines: Lines = vec![(Mark::Plain, bench.name.clone())];
    let symbol = unit.symbol();
    plain(
        &mut lines,
        format!("Lengths in {symbol}, along the grain × across, as cut; numbers are those of the cut list."),
    );
    plain(&mut lines, "Cuts stand in order; what is indented is done to what the line above it cut off.".to_owned());
    for material in &laid.materials {
        one_material(&mut lines, bench, material);
    }
    total(&mut lines, bench, laid);
    for word in &bench.demand.words {
        lines.push((Mark::Bad, format!("! {}", stock_line(word, &bench.demand, unit))));
    }
    cautions(&mut lines);
    plain(&mut lines, format!("  {}", layout_caution()));
    lines
}

/// The caution that goes with layouts, beside those of all the lists for the bench. Common practice, no source.
#[must_use]
pub fn layout_caution() -> &'static str {
    "A layout only says what fits: what is wider than long, or shorter than 300 mm (12 in), is no piece to rip along the fence. Cut it on a sled, with a track saw or by hand."
}

/// A material with how many sheets or boards it takes, and how good that is known to be.
#[must_use]
pub fn material_line(bench: &Bench, material: &LaidMaterial) -> String {
    let unit = bench.unit;
    let thickness = material.from.first().and_then(|&index| bench.demand.stock.get(index)).map(|item| item.thickness);
    let thick = thickness.map_or_else(String::new, |thickness| format!(", {} thick", thickness.show(unit)));
    let count = material.sheets.len();
    let plural = if count == 1 { "" } else { "s" };
    let standing = material.standing.map_or_else(String::new, |standing| {
        format!(": {}", standing_words(material.measure, standing, unit, &bench.currency))
    });
    format!("{}{thick}: {count} {}{plural}{standing}", material.stuff.word(), material.form.word())
}

/// How a material is trimmed and cut.
#[must_use]
pub fn order_line(bench: &Bench, material: &LaidMaterial) -> String {
    let unit = bench.unit;
    let order = match material.cuts {
        Cuts::RipFirst { .. } => "rips first, then crosscuts",
        Cuts::Free => "rips and crosscuts as they come",
    };
    let trimmed = match (material.trim > 0.0, material.form) {
        (false, _) => String::new(),
        (true, StockForm::Sheet) => format!("trim {} off each edge; ", bare(material.trim, unit)),
        (true, StockForm::Board) => format!("trim {} off each end; ", bare(material.trim, unit)),
    };
    let kept = largest_offcut(material).map_or_else(String::new, |area| {
        format!("; largest left over {} × {}", bare(area.length, unit), bare(area.width, unit))
    });
    format!("{trimmed}{order}; kerf {}{kept}", bare(material.kerf, unit))
}

fn one_material(lines: &mut Lines, bench: &Bench, material: &LaidMaterial) {
    heading(lines, &material_line(bench, material));
    plain(lines, format!("  {}", order_line(bench, material)));
    if let Some(count) = material.freely {
        let plural = if count == 1 { "" } else { "s" };
        let word = material.form.word();
        plain(
            lines,
            format!("  cut in any order (`cuts: Free` in the plan's `stock`) it takes less: {count} {word}{plural}"),
        );
    }
    for (number, sheet) in material.sheets.iter().enumerate() {
        one_sheet(lines, bench, material, number + 1, sheet);
    }
    for (number, why) in &material.left {
        lines.push((Mark::Bad, format!("  ! {}", left_line(material, *number, why, bench))));
    }
}

fn largest_offcut(material: &LaidMaterial) -> Option<Area> {
    let offcuts = material.sheets.iter().flat_map(Sheet::offcuts);
    offcuts.max_by(|a, b| (a.length * a.width).total_cmp(&(b.length * b.width)))
}

/// A sheet or board with its number, what is wasted of it, and what it weighs.
#[must_use]
pub fn sheet_line(bench: &Bench, material: &LaidMaterial, number: usize, sheet: &Sheet) -> String {
    let Some(item) = bench.demand.stock.get(sheet.stock) else { return String::new() };
    let (word, size) = (material.form.word(), item_size(item, bench.unit));
    let weight = stock_weight(item).map_or_else(String::new, |kg| {
        let two = if kg > ONE_PERSON_KG { ", two people" } else { "" };
        format!("; {}{two}", kilograms(kg, bench.unit))
    });
    let waste = 100.0 * (1.0 - used_share(sheet, bench));
    format!("{word} {number}, `{}`, {size}; {waste:.0} % waste{weight}", item.name)
}

fn one_sheet(lines: &mut Lines, bench: &Bench, material: &LaidMaterial, number: usize, sheet: &Sheet) {
    plain(lines, format!("  {}", sheet_line(bench, material, number, sheet)));
    steps(lines, bench, material, &sheet.whole, 4);
}

/// Share of a sheet's face that becomes pieces.
pub(super) fn used_share(sheet: &Sheet, bench: &Bench) -> f64 {
    let face = bench.demand.stock.get(sheet.stock).map_or(0.0, |item| item.length.to_mm() * item.width.to_mm());
    let pieces: f64 = sheet.pieces().iter().map(|placed| placed.area.length * placed.area.width).sum();
    if face > 0.0 { pieces / face } else { 0.0 }
}

/// The cuts of one direction that follow each other, a line each; what they cut off is indented.
fn steps(lines: &mut Lines, bench: &Bench, material: &LaidMaterial, branch: &Branch, indent: usize) {
    let unit = bench.unit;
    let Becomes::Split { direction, .. } = &branch.becomes else {
        plain(lines, format!("{:indent$}whole: {}", "", becomes_line(branch, bench, material)));
        return;
    };
    let (verb, size): (_, fn(Area) -> f64) = match direction {
        Direction::Rip => ("rip", |area| area.width),
        Direction::Crosscut => ("crosscut", |area| area.length),
    };
    let mut rest = Some(branch);
    while let Some(now) = rest {
        let (part, step) = match &now.becomes {
            Becomes::Split { direction: own, first, second } if own == direction => {
                rest = second.as_deref();
                (&**first, verb)
            }
            _ => {
                rest = None;
                (now, "rest")
            }
        };
        let size = bare(size(part.area), unit);
        match &part.becomes {
            Becomes::Split { .. } => {
                plain(lines, format!("{:indent$}{step} {size}", ""));
                steps(lines, bench, material, part, indent + 2);
            }
            Becomes::Offcut if step == "rest" => {
                plain(lines, format!("{:indent$}{}", "", becomes_line(part, bench, material)));
            }
            Becomes::Offcut | Becomes::Piece { .. } => {
                plain(lines, format!("{:indent$}{step} {size}: {}", "", becomes_line(part, bench, material)));
            }
        }
    }
}

/// A piece by its label, or what is left over.
fn becomes_line(branch: &Branch, bench: &Bench, material: &LaidMaterial) -> String {
    let area = branch.area;
    let size = format!("{} × {}", bare(area.length, bench.unit), bare(area.width, bench.unit));
    let Becomes::Piece { piece, turned } = branch.becomes else {
        let word = if area.length.min(area.width) < SCRAP { "scrap" } else { "left over" };
        return format!("{word} {size}");
    };
    let Some(piece) = material.piece(piece, &bench.demand) else { return size };
    let mut line = format!("{} ({size}", piece.label);
    if turned {
        line += ", lies across the sheet";
    }
    if piece.rip_bevel_deg > 0.0 {
        line += &format!(", long edge sawn at {}", degrees(piece.rip_bevel_deg));
    }
    if piece.end_bevel_deg > 0.0 {
        line += &format!(", one end sawn at {}", degrees(piece.end_bevel_deg));
    }
    line + ")"
}

/// How good a layout is known to be, in words.
#[must_use]
pub fn standing_words(measure: Measure, standing: Standing, unit: Unit, currency: &str) -> String {
    match (standing, measure) {
        (Standing::Proved, Measure::Count) => "proved least".to_owned(),
        (Standing::Proved, Measure::Price) => "proved least in price".to_owned(),
        (Standing::Proved, Measure::Material) => "proved least in material".to_owned(),
        (Standing::BestFound { at_least }, Measure::Count) => format!("best found, at least {at_least:.0} needed"),
        (Standing::BestFound { at_least }, Measure::Price) => {
            let space = if currency.is_empty() { "" } else { " " };
            format!("best found, at least {at_least:.2}{space}{currency} needed")
        }
        (Standing::BestFound { at_least }, Measure::Material) => match unit {
            Unit::Millimetre => format!("best found, at least {:.2} m² needed", at_least / M2),
            Unit::Inch => format!("best found, at least {:.1} square feet needed", at_least / FT2),
        },
    }
}

/// A piece without a place, and why.
#[must_use]
pub fn left_line(material: &LaidMaterial, number: usize, why: &NoPlace, bench: &Bench) -> String {
    let Some(piece) = material.piece(number, &bench.demand) else { return String::new() };
    let size = size_line(&[piece.length, piece.width], bench.unit);
    format!("`{}`, {size}, has no place: {}", piece.label, why_words(why, material.form))
}

/// Why a piece has no place.
pub(super) fn why_words(why: &NoPlace, form: StockForm) -> String {
    match why {
        NoPlace::TooLarge => format!("it is larger than any {} less its trim", form.word()),
        NoPlace::AcrossGrain => "it would fit only across the grain".to_owned(),
        NoPlace::RunsOut { proved: true } => format!("the {}s in the plan's `count` do not reach", form.word()),
        NoPlace::RunsOut { proved: false } => {
            format!("the {}s in the plan's `count` do not reach in the best layout found", form.word())
        }
        NoPlace::Refused(problem) => problem.to_string(),
    }
}

/// What a layout comes to, under its heading.
#[must_use]
pub fn total_lines(bench: &Bench, laid: &LaidOut) -> Vec<(Mark, String)> {
    let mut lines = Lines::new();
    total(&mut lines, bench, laid);
    lines
}

fn total(lines: &mut Lines, bench: &Bench, laid: &LaidOut) {
    heading(lines, "What it comes to");
    for one in &laid.cost.uses {
        let Some(item) = bench.demand.stock.get(one.item) else { continue };
        let plural = if one.count == 1 { "" } else { "s" };
        let price = item.price.map_or_else(
            || "no price".to_owned(),
            |price| format!("{} × {} = {}", one.count, price.show(""), price.times(one.count).show(&bench.currency)),
        );
        let weight = stock_weight(item)
            .map_or_else(String::new, |kg| format!("; {} in all", kilograms(kg * one.count as f64, bench.unit)));
        let waste = 100.0 * (1.0 - one.used);
        let (name, size) = (&item.name, item_size(item, bench.unit));
        plain(
            lines,
            format!(
                "  {:>3} {}{plural} `{name}`, {size}: {price}; {waste:.0} % waste{weight}",
                one.count,
                item.form.word()
            ),
        );
    }
    let sum = laid.cost.sum.show(&bench.currency);
    match (laid.cost.sum.0 > 0, laid.cost.whole) {
        (_, true) => plain(lines, format!("  {sum} in all.")),
        (true, false) => plain(lines, format!("  {sum} for what has a price.")),
        (false, false) => {}
    }
    let left: usize = laid.materials.iter().map(|material| material.left.len()).sum();
    if left > 0 {
        let (pieces, have) = if left == 1 { ("piece", "has") } else { ("pieces", "have") };
        lines.push((Mark::Bad, format!("  ! {left} {pieces} {have} no place: the sums leave them out")));
    }
}
