//! The rules of what is cut from: sizes that a saw can take something from.

use super::{Faults, exceeds, join};
use crate::length::Length;
use crate::plan::StockForm;
use crate::plan::defaults::Usual;

/// A wider kerf or trim is a mistake of unit.
const MOST_KERF: Usual = Usual::new(15.0, 0.625);
const MOST_TRIM: Usual = Usual::new(300.0, 12.0);
/// The real thickness and the one that a sheet or board is sold by differ by no more: lumber sold as 2 in thick, 1-1/2
/// real (PS 20), is the most.
const MOST_APART: Usual = Usual::new(15.0, 0.625);
/// Woods and panels weigh between these, kg/m³; from memory: balsa 150, the heaviest woods and boards under 1,400; stone
/// tops 3,000.
const DENSITIES: std::ops::RangeInclusive<f64> = 100.0..=3500.0;

pub(super) fn stock(faults: &mut Faults<'_>) {
    let stock = &faults.plan.stock;
    let unit = faults.plan.unit;
    let none = "measure what it takes; 0 for none";
    for (field, what, length, most) in [
        ("kerf", "the kerf", stock.kerf, MOST_KERF),
        ("trim", "the trim", stock.trim, MOST_TRIM),
        ("end_trim", "the end trim", stock.end_trim, MOST_TRIM),
    ] {
        faults.not_below_zero("stock", field, what, length, none);
        faults.at_most("stock", field, what, length, most.of(unit), none);
    }
    for item in &stock.items {
        let (list, trims) = match item.form {
            StockForm::Sheet => ("sheets", [stock.trim * 2.0, stock.trim * 2.0]),
            StockForm::Board => ("boards", [stock.end_trim * 2.0, Length::ZERO]),
        };
        let at = format!("stock.{list}[{:?}]", item.name);
        faults.above_zero(&at, "thickness", "the thickness", item.thickness, "measure it");
        for (field, what, length, trim) in
            [("length", "the length", item.length, trims[0]), ("width", "the width", item.width, trims[1])]
        {
            faults.above_zero(&at, field, what, length, "measure it");
            if length > Length::ZERO && length <= trim {
                let (length, trim) = (faults.show(length), faults.show(trim));
                let message = format!("{what} {length} leaves nothing when {trim} are trimmed off");
                let rests_on = ["stock.trim", "stock.end_trim"];
                faults.add("plan::fit", join(&at, field), &rests_on, message, "trim less, or leave it out");
            }
        }
        if let Some(sold_as) = item.sold_as
            && exceeds((sold_as - item.thickness).abs(), MOST_APART.of(unit))
        {
            let (sold_as, real) = (faults.show(sold_as), faults.show(item.thickness));
            let message = format!("it is sold as {sold_as} thick and really {real}, which is too far apart");
            let help = "`thickness` is the real one, measured; `sold_as` what the shop calls it";
            faults.add("plan::fit", join(&at, "sold_as"), &[&join(&at, "thickness"), "construction"], message, help);
        }
        if let Some(density) = item.density
            && !DENSITIES.contains(&density)
        {
            let (least, most) = (DENSITIES.start(), DENSITIES.end());
            let message = format!("the density `{density}` kg/m³ must be between {least} and {most}");
            let help = "most woods and panels weigh 400 to 800 kg/m³";
            faults.add("plan::number", join(&at, "density"), &[], message, help);
        }
    }
}
