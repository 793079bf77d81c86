//! The lists for the bench, line by line.

use super::words::{
    bench_cautions, count_words, degrees, holes_line, item_size, size_line, stock_line, stretch, why_line, work_lines,
};
use super::{Bench, BenchList};
use crate::cutting::cost::ONE_PERSON_KG;
use crate::cutting::parts::{Row, finishing};
use crate::length::Unit;
use crate::model::Model;
use crate::plan::StockForm;
use crate::report::Mark;

/// A kilogram in pounds.
const POUNDS: f64 = 2.204_622_621_848_776;

/// Lines with their marks.
pub(super) type Lines = Vec<(Mark, String)>;

/// The lists of `parts`, each under its heading; `model` gives the parts' names.
#[must_use]
pub fn parts_text(bench: &Bench, model: &Model, lists: &[BenchList]) -> Vec<(Mark, String)> {
    let mut lines: Lines = vec![(Mark::Plain, bench.name.clone())];
    lines.push((Mark::Plain, format!("Lengths in {}, along the grain × across × thick.", bench.unit.symbol())));
    for list in lists {
        match list {
            BenchList::Cut => cut(bench, model, &mut lines),
            BenchList::Finishing => finish(bench, &mut lines),
            BenchList::Drilling => drill(bench, model, &mut lines),
            BenchList::Hardware => hardware(bench, &mut lines),
            BenchList::Cost => cost(bench, &mut lines),
        }
    }
    cautions(&mut lines);
    lines
}

pub(super) fn heading(lines: &mut Lines, text: &str) {
    lines.push((Mark::Heading, text.to_owned()));
}

pub(super) fn plain(lines: &mut Lines, text: String) {
    lines.push((Mark::Plain, text));
}

pub(super) fn cautions(lines: &mut Lines) {
    heading(lines, "Take care");
    lines.extend(bench_cautions().iter().map(|line| (Mark::Plain, format!("  {line}"))));
}

fn cut(bench: &Bench, model: &Model, lines: &mut Lines) {
    heading(lines, "Cut list, as cut");
    for group in &bench.list.groups {
        plain(lines, format!("  {}, {} thick", group.stuff.word(), group.thickness.show(bench.unit)));
        for row in &group.rows {
            plain(lines, row_line(row, bench.unit));
            lines.extend(work_lines(row, bench.unit).into_iter().map(|work| (Mark::Plain, format!("{:14}{work}", ""))));
            plain(lines, format!("{:14}for {}", "", places(row, model)));
        }
    }
}

fn row_line(row: &Row, unit: Unit) -> String {
    let size = size_line(&row.cut, unit);
    let grain = if row.grain { "" } else { ", no grain" };
    format!("  {:>4} {:>3} × {:<18} {size}{grain}", row.number, row.quantity(), row.role.word())
}

/// The units that the parts of a row go to: `left 1 glaze drawers (2), right countertop`.
fn places(row: &Row, model: &Model) -> String {
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

fn finish(bench: &Bench, lines: &mut Lines) {
    heading(lines, "Finishing pieces, as fitted");
    for row in finishing(&bench.list) {
        let size = size_line(&row.fitted, bench.unit);
        let mut whys: Vec<String> = row.whys.iter().map(|why| why_line(why, bench.unit)).collect();
        whys.dedup();
        plain(
            lines,
            format!("  {:>4} {:>3} × {} {size}: {}", row.number, row.quantity(), row.role.word(), whys.join("; ")),
        );
    }
}

fn drill(bench: &Bench, model: &Model, lines: &mut Lines) {
    heading(lines, "Drilling");
    for holes in &bench.drilling {
        let first = holes.parts.first().map_or("", |&id| model.part(id).name.as_str());
        let more = match holes.parts.len() {
            0 | 1 => String::new(),
            n => format!(" and {} more", n - 1),
        };
        plain(lines, format!("  {}: {first}{more}: {}", holes.what.words(), holes_line(holes, bench.unit)));
    }
}

fn hardware(bench: &Bench, lines: &mut Lines) {
    heading(lines, "Hardware and what is used up (counts and screw lengths: common practice)");
    for item in &bench.hardware {
        let length = item.length.map_or_else(String::new, |length| format!(", {}", length.show(bench.unit)));
        plain(lines, format!("  {:>9}  {}{length}: {}", count_words(item, bench.unit), item.what, item.note));
    }
}

pub(super) fn kilograms(kg: f64, unit: Unit) -> String {
    match unit {
        Unit::Millimetre => format!("{kg:.1} kg"),
        Unit::Inch => format!("{:.0} lb", kg * POUNDS),
    }
}

fn cost(bench: &Bench, lines: &mut Lines) {
    heading(lines, "Stock, by area and length alone: a layout needs as many or more");
    for one in &bench.cost.uses {
        let Some(item) = bench.demand.stock.get(one.item) else { continue };
        let price = item.price.map_or_else(
            || "no price".to_owned(),
            |price| format!("{} × {} = {}", one.count, price.show(""), price.times(one.count).show(&bench.currency)),
        );
        let (name, size) = (&item.name, item_size(item, bench.unit));
        let plural = if one.count == 1 { "" } else { "s" };
        let waste = 100.0 * (1.0 - one.used);
        plain(
            lines,
            format!("  {:>3} {}{plural} `{name}`, {size}: {price}; {waste:.0} % waste", one.count, item.form.word()),
        );
    }
    let sum = bench.cost.sum.show(&bench.currency);
    match (bench.cost.sum.0 > 0, bench.cost.whole) {
        (_, true) => plain(lines, format!("  At least {sum} in all.")),
        (true, false) => plain(lines, format!("  At least {sum} for what has a price.")),
        (false, false) => {}
    }
    for word in &bench.demand.words {
        lines.push((Mark::Bad, format!("  ! {}", stock_line(word, &bench.demand, bench.unit))));
    }
    heading(lines, "Weight, without hardware");
    for one in &bench.weights {
        let [fixed, moving] = [one.fixed, one.moving].map(|kg| kilograms(kg, bench.unit));
        let two = if one.fixed > ONE_PERSON_KG { "; two people" } else { "" };
        let moving = if one.moving > 0.0 { format!(", {moving} of drawers and doors") } else { String::new() };
        plain(lines, format!("  {} {} {}: {fixed} of carcass{moving}{two}", one.side.word(), one.unit + 1, one.name));
    }
}

/// The lists of `rips`.
#[must_use]
pub fn rips_text(bench: &Bench) -> Vec<(Mark, String)> {
    let unit = bench.unit;
    let mut lines: Lines = vec![(Mark::Plain, bench.name.clone())];
    let per = if unit == Unit::Millimetre { "metres" } else { "feet" };
    plain(&mut lines, format!("Fence and lengths in {}; {per} of each rip with a kerf a crosscut.", unit.symbol()));
    for group in &bench.rips.groups {
        let along = if group.form == StockForm::Sheet { "sheets" } else { "boards" };
        heading(&mut lines, &format!("{}, {} thick, from {along}", group.stuff.word(), group.thickness.show(unit)));
        for rip in &group.rips {
            let tilt =
                if rip.bevel_deg > 0.0 { format!(", blade tilted {}", degrees(rip.bevel_deg)) } else { String::new() };
            plain(&mut lines, format!("  fence {}{tilt}: {}", rip.fence.show_bare(unit), stretch(rip.total, unit)));
            for cut in &rip.crosscuts {
                let end = if cut.bevel_deg > 0.0 {
                    format!(", one end at {}", degrees(cut.bevel_deg))
                } else {
                    String::new()
                };
                let rows = cut.rows.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
                plain(
                    &mut lines,
                    format!("    {:>3} × {}{end} (no. {rows})", cut.quantity, cut.length.show_bare(unit)),
                );
            }
        }
    }
    for word in &bench.demand.words {
        lines.push((Mark::Bad, format!("! {}", stock_line(word, &bench.demand, unit))));
    }
    cautions(&mut lines);
    lines
}
