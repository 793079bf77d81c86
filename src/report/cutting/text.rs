//! The lists for the bench, line by line.

use super::words::{
    bench_cautions, count_words, crosscut_line, holes_line, item_size, places, rip_group_line, rip_line, size_line,
    stock_line, whys_line, work_lines,
};
use super::{Bench, BenchList};
use crate::cutting::cost::ONE_PERSON_KG;
use crate::cutting::parts::{Row, finishing};
use crate::length::Unit;
use crate::model::Model;
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
    lines.extend(lists.iter().flat_map(|&list| list_lines(bench, model, list)));
    cautions(&mut lines);
    lines
}

/// One of the lists under its heading, without the cautions that must stand where it is shown.
#[must_use]
pub fn list_lines(bench: &Bench, model: &Model, list: BenchList) -> Vec<(Mark, String)> {
    let mut lines: Lines = Vec::new();
    match list {
        BenchList::Cut => cut(bench, model, &mut lines),
        BenchList::Finishing => finish(bench, &mut lines),
        BenchList::Drilling => drill(bench, model, &mut lines),
        BenchList::Hardware => hardware(bench, &mut lines),
        BenchList::Cost => cost(bench, &mut lines),
    }
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

fn finish(bench: &Bench, lines: &mut Lines) {
    heading(lines, "Finishing pieces, as fitted");
    for row in finishing(&bench.list) {
        let size = size_line(&row.fitted, bench.unit);
        let whys = whys_line(row, bench.unit);
        plain(lines, format!("  {:>4} {:>3} × {} {size}: {whys}", row.number, row.quantity(), row.role.word()));
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
        heading(&mut lines, &rip_group_line(group, unit));
        for rip in &group.rips {
            plain(&mut lines, format!("  {}", rip_line(rip, unit)));
            let cuts = rip.crosscuts.iter().map(|cut| (Mark::Plain, format!("    {}", crosscut_line(cut, unit))));
            lines.extend(cuts);
        }
    }
    for word in &bench.demand.words {
        lines.push((Mark::Bad, format!("! {}", stock_line(word, &bench.demand, unit))));
    }
    cautions(&mut lines);
    lines
}
