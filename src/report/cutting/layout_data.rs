//! Layouts for machines: JSON with lengths in mm, unrounded, whose keys stand in `DEVELOPERS.md`, and a table with commas.

use serde_json::{Value, json};

use super::csv::{line, mm, table};
use super::json::{use_json, words};
use super::layout_text::{layout_caution, standing_words, used_share, why_words};
use super::words::bare;
use super::{Bench, bench_cautions};
use crate::cutting::cost::stock_weight;
use crate::cutting::layout::{Measure, Standing};
use crate::cutting::sheets::{Area, Cut, Cuts, Direction, Placed, Sheet};
use crate::cutting::{LaidMaterial, LaidOut};
use crate::length::Length;
use crate::model::Model;

/// What `layout --json` prints.
#[must_use]
pub fn layout_json(bench: &Bench, laid: &LaidOut, model: &Model) -> Value {
    json!({
        "schema": "elbowroom-layout-1",
        "plan": bench.name,
        "materials": laid.materials.iter().map(|one| material_json(one, bench, model)).collect::<Vec<_>>(),
        "cost": {
            "currency": bench.currency,
            "uses": laid.cost.uses.iter().map(|one| use_json(one, bench)).collect::<Vec<_>>(),
            "sum_hundredths": laid.cost.sum.0,
            "whole": laid.cost.whole,
        },
        "stock_words": words(bench),
        "cautions": ([bench_cautions(), &[layout_caution()]].concat()),
    })
}

fn material_json(material: &LaidMaterial, bench: &Bench, model: &Model) -> Value {
    let from = material.from.iter().filter_map(|&index| bench.demand.stock.get(index));
    let left = material.left.iter().map(|(number, why)| {
        let piece = material.piece(*number, &bench.demand);
        json!({ "label": piece.map(|piece| piece.label.clone()), "why": why_words(why, material.form) })
    });
    let order = match material.cuts {
        Cuts::RipFirst { .. } => "rip first",
        Cuts::Free => "free",
    };
    json!({
        "material": material.stuff.word(),
        "form": material.form.word(),
        "from": from.map(|item| item.name.clone()).collect::<Vec<_>>(),
        "cuts": order,
        "kerf_mm": material.kerf,
        "trim_mm": material.trim,
        "standing": material.standing.map(|standing| standing_json(material.measure, standing, bench)),
        "sheets": material.sheets.iter().map(|sheet| sheet_json(sheet, material, bench, model)).collect::<Vec<_>>(),
        "freely": material.freely,
        "left": left.collect::<Vec<_>>(),
    })
}

fn standing_json(measure: Measure, standing: Standing, bench: &Bench) -> Value {
    let (proved, at_least) = match standing {
        Standing::Proved => (true, None),
        Standing::BestFound { at_least } => (false, Some(at_least)),
    };
    let measure_word = match measure {
        Measure::Count => "count",
        Measure::Price => "price",
        Measure::Material => "square mm",
    };
    let text = standing_words(measure, standing, bench.unit, &bench.currency);
    json!({ "proved": proved, "least_of": measure_word, "at_least": at_least, "text": text })
}

fn area_json(area: Area) -> Value {
    json!({ "x_mm": area.x, "y_mm": area.y, "length_mm": area.length, "width_mm": area.width })
}

fn sheet_json(sheet: &Sheet, material: &LaidMaterial, bench: &Bench, model: &Model) -> Value {
    let item = bench.demand.stock.get(sheet.stock);
    let piece_json = |placed: &Placed| {
        let piece = material.piece(placed.piece, &bench.demand);
        json!({
            "row": piece.map(|piece| piece.row),
            "label": piece.map(|piece| piece.label.clone()),
            "part": piece.map(|piece| model.part(piece.part).name.clone()),
            "spare": piece.map(|piece| piece.spare),
            "turned": placed.turned,
            "at": area_json(placed.area),
        })
    };
    let cut_json = |cut: &Cut| {
        let direction = if cut.direction == Direction::Rip { "rip" } else { "crosscut" };
        json!({ "direction": direction, "size_mm": cut.at, "through": area_json(cut.through) })
    };
    json!({
        "stock": item.map(|item| item.name.clone()),
        "size_mm": item.map(|item| [item.length, item.width, item.thickness]),
        "weight_kg": item.and_then(stock_weight),
        "used_share": used_share(sheet, bench),
        "pieces": sheet.pieces().iter().map(piece_json).collect::<Vec<_>>(),
        "offcuts": sheet.offcuts().into_iter().map(area_json).collect::<Vec<_>>(),
        "cuts": sheet.cuts().iter().map(cut_json).collect::<Vec<_>>(),
    })
}

/// A line for each piece and each offcut, in the order in which they come off the saw; then the pieces without a place.
#[must_use]
pub fn layout_csv(bench: &Bench, laid: &LaidOut) -> String {
    let head = [
        "material",
        "stock",
        "sheet",
        "what",
        "number",
        "label",
        "x_mm",
        "y_mm",
        "length",
        "width",
        "length_mm",
        "width_mm",
        "turned",
    ];
    let mut rows = vec![line(&head)];
    for material in &laid.materials {
        for (number, sheet) in material.sheets.iter().enumerate() {
            let stock = bench.demand.stock.get(sheet.stock).map_or("", |item| item.name.as_str());
            let start = [material.stuff.word().to_owned(), stock.to_owned(), (number + 1).to_string()];
            for placed in sheet.pieces() {
                let Some(piece) = material.piece(placed.piece, &bench.demand) else { continue };
                let what = [if piece.spare { "spare" } else { "piece" }.to_owned(), piece.row.to_string()];
                let turned = if placed.turned { "yes" } else { "no" };
                rows.push(row(
                    &start,
                    what,
                    &piece.label,
                    Some(placed.area),
                    [piece.length, piece.width],
                    turned,
                    bench,
                ));
            }
            for area in sheet.offcuts() {
                let size = [Length::mm(area.length), Length::mm(area.width)];
                rows.push(row(&start, ["left over".to_owned(), String::new()], "", Some(area), size, "", bench));
            }
        }
        for (number, why) in &material.left {
            let Some(piece) = material.piece(*number, &bench.demand) else { continue };
            let start = [material.stuff.word().to_owned(), String::new(), String::new()];
            let what = [format!("no place: {}", why_words(why, material.form)), piece.row.to_string()];
            rows.push(row(&start, what, &piece.label, None, [piece.length, piece.width], "", bench));
        }
    }
    table(rows)
}

fn row(
    start: &[String; 3],
    what: [String; 2],
    label: &str,
    at: Option<Area>,
    size: [Length; 2],
    turned: &str,
    bench: &Bench,
) -> Vec<String> {
    let place =
        at.map_or([String::new(), String::new()], |area| [area.x, area.y].map(|mm_from| mm(Length::mm(mm_from))));
    let mut cells = start.to_vec();
    cells.extend(what);
    cells.push(label.to_owned());
    cells.extend(place);
    cells.extend(size.map(|length| bare(length.to_mm(), bench.unit)));
    cells.extend(size.map(mm));
    cells.push(turned.to_owned());
    cells
}
