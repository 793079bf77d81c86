//! The lists for the bench as tables with commas (RFC 4180): sizes in the plan's unit as text, and in mm for reckoning.

use super::words::{bare, count_words, edges_line, item_size, size_line, why_line, work_lines};
use super::{Bench, BenchList};
use crate::cutting::parts::finishing;
use crate::length::Length;
use crate::model::Model;

/// One of the lists of `parts`.
#[must_use]
pub fn parts_csv(bench: &Bench, model: &Model, list: BenchList) -> String {
    match list {
        BenchList::Cut => cut(bench, model),
        BenchList::Finishing => finish(bench),
        BenchList::Drilling => drill(bench, model),
        BenchList::Hardware => hardware(bench),
        BenchList::Cost => cost(bench),
    }
}

/// The lists of `rips`: a line for each length that is crosscut from each rip, in order.
#[must_use]
pub fn rips_csv(bench: &Bench) -> String {
    let mut rows = vec![line(&[
        "material",
        "thickness_mm",
        "fence",
        "fence_mm",
        "tilt_deg",
        "rip_total_mm",
        "crosscut",
        "crosscut_mm",
        "end_deg",
        "quantity",
        "numbers",
    ])];
    for group in &bench.rips.groups {
        for rip in &group.rips {
            for cut in &rip.crosscuts {
                let numbers = cut.rows.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
                rows.push(vec![
                    group.stuff.word().to_owned(),
                    mm(group.thickness),
                    rip.fence.show_bare(bench.unit),
                    mm(rip.fence),
                    rip.bevel_deg.to_string(),
                    mm(rip.total),
                    cut.length.show_bare(bench.unit),
                    mm(cut.length),
                    cut.bevel_deg.to_string(),
                    cut.quantity.to_string(),
                    numbers,
                ]);
            }
        }
    }
    table(rows)
}

pub(super) fn line(cells: &[&str]) -> Vec<String> {
    cells.iter().map(|&cell| cell.to_owned()).collect()
}

/// Millimetres without the noise of sums.
pub(super) fn mm(length: Length) -> String {
    let micrometres = (length.to_mm() * 1e6).round() / 1e6;
    micrometres.to_string()
}

/// `rows` with commas between their cells, quoted where they must be (RFC 4180, lines ended as on this system).
pub(super) fn table(rows: Vec<Vec<String>>) -> String {
    let quoted = |cell: String| {
        let plain = !cell.contains([',', '"', '\n', '\r']);
        if plain { cell } else { format!("\"{}\"", cell.replace('"', "\"\"")) }
    };
    let line = |row: Vec<String>| row.into_iter().map(quoted).collect::<Vec<_>>().join(",");
    rows.into_iter().map(|row| line(row) + "\n").collect()
}

fn cut(bench: &Bench, model: &Model) -> String {
    let mut rows = vec![line(&[
        "number",
        "quantity",
        "part",
        "material",
        "length",
        "width",
        "thickness",
        "length_mm",
        "width_mm",
        "thickness_mm",
        "fitted_length_mm",
        "fitted_width_mm",
        "fitted_thickness_mm",
        "grain",
        "stripped",
        "work",
        "names",
    ])];
    for group in &bench.list.groups {
        for row in &group.rows {
            let mut cells = vec![
                row.number.to_string(),
                row.quantity().to_string(),
                row.role.word().to_owned(),
                group.stuff.word().to_owned(),
            ];
            cells.extend(row.cut.map(|length| length.show_bare(bench.unit)));
            cells.extend(row.cut.map(mm));
            cells.extend(row.fitted.map(mm));
            cells.push(if row.grain { "along the length" } else { "none" }.to_owned());
            cells.push(edges_line(&row.stripped));
            cells.push(work_lines(row, bench.unit).join("; "));
            cells.push(row.parts.iter().map(|&id| model.part(id).name.as_str()).collect::<Vec<_>>().join("; "));
            rows.push(cells);
        }
    }
    table(rows)
}

fn finish(bench: &Bench) -> String {
    let mut rows = vec![line(&["number", "quantity", "part", "as_fitted", "as_cut", "why"])];
    for row in finishing(&bench.list) {
        rows.push(vec![
            row.number.to_string(),
            row.quantity().to_string(),
            row.role.word().to_owned(),
            size_line(&row.fitted, bench.unit),
            size_line(&row.cut, bench.unit),
            row.whys.iter().map(|why| why_line(why, bench.unit)).collect::<Vec<_>>().join("; "),
        ]);
    }
    table(rows)
}

fn drill(bench: &Bench, model: &Model) -> String {
    let mut rows = vec![line(&["for", "parts", "diameter_mm", "across_from", "across_mm", "up_from", "up_mm"])];
    let lengths = |list: &[Length]| list.iter().map(|&length| mm(length)).collect::<Vec<_>>().join(" ");
    for holes in &bench.drilling {
        rows.push(vec![
            holes.what.words().to_owned(),
            holes.parts.iter().map(|&id| model.part(id).name.as_str()).collect::<Vec<_>>().join("; "),
            holes.diameter.map_or_else(String::new, mm),
            holes.across_from.word().to_owned(),
            lengths(&holes.across),
            holes.up_from.word().to_owned(),
            lengths(&holes.up),
        ]);
    }
    table(rows)
}

fn hardware(bench: &Bench) -> String {
    let mut rows = vec![line(&["count", "what", "length", "note"])];
    for item in &bench.hardware {
        let length = item.length.map_or_else(String::new, |length| bare(length.to_mm(), bench.unit));
        rows.push(vec![count_words(item, bench.unit), item.what.clone(), length, item.note.clone()]);
    }
    table(rows)
}

fn cost(bench: &Bench) -> String {
    let mut rows = vec![line(&["stock", "size", "at_least", "price", "sum", "currency", "waste_share"])];
    for one in &bench.cost.uses {
        let Some(item) = bench.demand.stock.get(one.item) else { continue };
        rows.push(vec![
            item.name.clone(),
            item_size(item, bench.unit),
            one.count.to_string(),
            item.price.map_or_else(String::new, |price| price.show("")),
            item.price.map_or_else(String::new, |price| price.times(one.count).show("")),
            bench.currency.clone(),
            format!("{:.3}", 1.0 - one.used),
        ]);
    }
    table(rows)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cell_with_a_comma_or_a_quote_is_quoted() {
        let cells = ["plain", "a, b", "5' 2\"", "two\nlines"].map(ToOwned::to_owned).to_vec();
        assert_eq!(table(vec![cells]), "plain,\"a, b\",\"5' 2\"\"\",\"two\nlines\"\n");
    }
}
