//! The lists for the bench as JSON: lengths in mm, unrounded; the keys stand in `DEVELOPERS.md`.

use serde_json::{Value, json};

use super::words::{edges_line, stock_line, why_line};
use super::{Bench, bench_cautions, joint_line};
use crate::cutting::cost::Use;
use crate::cutting::drilling::Holes;
use crate::cutting::hardware::{Count, Item};
use crate::cutting::parts::Row;
use crate::cutting::{MaterialDemand, Piece};
use crate::model::{Cutting, Model};

/// What `parts --json` prints.
#[must_use]
pub fn parts_json(bench: &Bench, model: &Model) -> Value {
    let rows = bench
        .list
        .groups
        .iter()
        .flat_map(|group| group.rows.iter().map(move |row| row_json(group.stuff.word(), row, bench, model)));
    json!({
        "schema": "elbowroom-parts-1",
        "plan": bench.name,
        "parts": rows.collect::<Vec<_>>(),
        "demand": bench.demand.groups.iter().map(|group| demand_json(group, bench)).collect::<Vec<_>>(),
        "drilling": bench.drilling.iter().map(|holes| holes_json(holes, model)).collect::<Vec<_>>(),
        "hardware": bench.hardware.iter().map(item_json).collect::<Vec<_>>(),
        "cost": {
            "currency": bench.currency,
            "least": bench.cost.uses.iter().map(|one| use_json(one, bench)).collect::<Vec<_>>(),
            "sum_hundredths": bench.cost.sum.0,
            "whole": bench.cost.whole,
        },
        "weights": bench.weights.iter().map(|one| json!({
            "run": one.side.word(),
            "unit": one.unit + 1,
            "name": one.name,
            "fixed_kg": one.fixed,
            "moving_kg": one.moving,
        })).collect::<Vec<_>>(),
        "stock_words": words(bench),
        "cautions": bench_cautions(),
    })
}

/// What `rips --json` prints.
#[must_use]
pub fn rips_json(bench: &Bench) -> Value {
    let groups = bench.rips.groups.iter().map(|group| {
        let rips = group.rips.iter().map(|rip| {
            let cuts = rip.crosscuts.iter().map(|cut| {
                json!({
                    "length_mm": cut.length, "bevel_deg": cut.bevel_deg, "quantity": cut.quantity, "rows": cut.rows,
                })
            });
            json!({
                "fence_mm": rip.fence,
                "bevel_deg": rip.bevel_deg,
                "total_mm": rip.total,
                "crosscuts": cuts.collect::<Vec<_>>(),
            })
        });
        json!({
            "material": group.stuff.word(),
            "form": group.form.word(),
            "thickness_mm": group.thickness,
            "rips": rips.collect::<Vec<_>>(),
        })
    });
    json!({
        "schema": "elbowroom-rips-1",
        "plan": bench.name,
        "materials": groups.collect::<Vec<_>>(),
        "stock_words": words(bench),
        "cautions": bench_cautions(),
    })
}

pub(super) fn words(bench: &Bench) -> Vec<String> {
    bench.demand.words.iter().map(|word| stock_line(word, &bench.demand, bench.unit)).collect()
}

fn row_json(material: &str, row: &Row, bench: &Bench, model: &Model) -> Value {
    let joint = |cut: &Cutting| {
        json!({
            "kind": cut.kind,
            "takes": cut.takes,
            "deep_mm": cut.deep,
            "wide_mm": cut.wide,
            "long_mm": cut.long,
            "from": cut.from,
            "at_mm": cut.at,
            "text": joint_line(cut, bench.unit),
        })
    };
    let bevels = row.bevels.iter().map(|bevel| json!({ "edge": bevel.edge, "angle_deg": bevel.angle_deg }));
    json!({
        "number": row.number,
        "role": row.role,
        "material": material,
        "quantity": row.quantity(),
        "as_cut_mm": row.cut,
        "as_fitted_mm": row.fitted,
        "grain": row.grain,
        "stripped": row.stripped,
        "joints": row.joints.iter().map(joint).collect::<Vec<_>>(),
        "bevels": bevels.collect::<Vec<_>>(),
        "in_pairs": row.in_pairs,
        "why": row.whys.iter().map(|why| why_line(why, bench.unit)).collect::<Vec<_>>(),
        "names": row.parts.iter().map(|&id| model.part(id).name.clone()).collect::<Vec<_>>(),
    })
}

fn demand_json(group: &MaterialDemand, bench: &Bench) -> Value {
    let piece = |piece: &Piece| {
        json!({
            "row": piece.row,
            "label": piece.label,
            "length_mm": piece.length,
            "width_mm": piece.width,
            "grain": piece.grain,
            "spare": piece.spare,
        })
    };
    let from = group.from.iter().filter_map(|&index| bench.demand.stock.get(index));
    json!({
        "material": group.stuff.word(),
        "form": group.form.word(),
        "thickness_mm": group.thickness,
        "strip_mm": group.strip,
        "from": from.map(|item| item.name.clone()).collect::<Vec<_>>(),
        "pieces": group.pieces.iter().map(piece).collect::<Vec<_>>(),
    })
}

fn holes_json(holes: &Holes, model: &Model) -> Value {
    json!({
        "for": holes.what.words(),
        "names": holes.parts.iter().map(|&id| model.part(id).name.clone()).collect::<Vec<_>>(),
        "diameter_mm": holes.diameter,
        "across_from": edges_line(&[holes.across_from]),
        "across_mm": holes.across,
        "up_from": edges_line(&[holes.up_from]),
        "up_mm": holes.up,
    })
}

fn item_json(item: &Item) -> Value {
    let (count, unit) = match item.count {
        Count::Pieces(count) => (json!(count), "pieces"),
        Count::Pairs(count) => (json!(count), "pairs"),
        Count::Length(length) => (json!(length), "mm"),
    };
    json!({ "what": item.what, "length_mm": item.length, "count": count, "counted_in": unit, "note": item.note })
}

pub(super) fn use_json(one: &Use, bench: &Bench) -> Value {
    let item = bench.demand.stock.get(one.item);
    json!({
        "stock": item.map(|item| item.name.clone()),
        "count": one.count,
        "used_share": one.used,
        "price_hundredths": item.and_then(|item| item.price).map(|price| price.0),
    })
}
