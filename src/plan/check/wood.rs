//! The rules of wood, air and load: within what the published tables cover.

use std::ops::RangeInclusive;

use super::Faults;
use crate::length::Unit;
use crate::plan::defaults::{self, Usual};
use crate::plan::{Air, FrontsOf};

/// Relative humidity of rooms, in percent: what the Wood Handbook's table 4-2 covers (5 to 95; from memory).
const HUMIDITIES: RangeInclusive<f64> = 5.0..=95.0;
/// Temperatures of rooms, in degrees Celsius, within that table's 30 to 270 degrees Fahrenheit (from memory).
const CELSIUS: RangeInclusive<f64> = 0.0..=60.0;
/// Moisture contents that woodwork is made at, in percent: kiln-dried and air-dried wood. Common practice, no source.
const MADE_AT: RangeInclusive<f64> = 3.0..=20.0;
/// More paint than this is a mistake of unit.
const MOST_PAINT: Usual = Usual::new(2.0, 0.0625);
/// A larger gap than this is none that one keeps against binding.
const MOST_GAP: Usual = Usual::new(10.0, 0.375);
/// Heavier loads are a mistake of unit, in pascals: 200 lb on a square foot.
const MOST_LOAD_PA: f64 = 200.0 * defaults::PA_IN_PSF;

pub(super) fn wood(faults: &mut Faults<'_>) {
    let wood = faults.plan.wood;
    let unit = faults.plan.unit;
    for (field, what, length, most, help) in [
        ("paint_build", "the paint build", wood.paint_build, MOST_PAINT, "give what all coats add to one face"),
        ("least_gap", "the least gap", wood.least_gap, MOST_GAP, "give what must be left beside a front"),
    ] {
        faults.not_below_zero("wood", field, what, length, help);
        faults.at_most("wood", field, what, length, most.of(unit), help);
    }
    if let FrontsOf::Solid { made_at, .. } = wood.fronts
        && !MADE_AT.contains(&made_at)
    {
        let (least, most) = (MADE_AT.start(), MADE_AT.end());
        let message = format!("the moisture content `{made_at}` % must be between {least} and {most}");
        let help = "most woodwork for heated rooms is made at 6 to 10 %";
        faults.add("plan::number", "wood.fronts.made_at".to_owned(), &[], message, help);
    }
    air(faults, "driest", wood.driest);
    air(faults, "dampest", wood.dampest);
    if wood.driest.humidity > wood.dampest.humidity {
        let (driest, dampest) = (wood.driest.humidity, wood.dampest.humidity);
        let message =
            format!("the driest air's humidity `{driest}` % must not be more than the dampest's, `{dampest}` %");
        let path = "wood.driest.humidity".to_owned();
        faults.add("plan::number", path, &["wood.dampest"], message, "change the two over, or measure again");
    }
    load(faults, wood.load_pa);
}

fn air(faults: &mut Faults<'_>, field: &str, air: Air) {
    if !HUMIDITIES.contains(&air.humidity) {
        let (least, most) = (HUMIDITIES.start(), HUMIDITIES.end());
        let message = format!("the humidity `{}` % must be between {least} and {most}", air.humidity);
        let help = "a hygrometer left in the room for some weeks tells it";
        faults.add("plan::number", format!("wood.{field}.humidity"), &[], message, help);
    }
    if !CELSIUS.contains(&air.celsius) {
        let (shown, range) = match faults.plan.unit {
            Unit::Millimetre => (air.celsius, "0 and 60 degrees Celsius"),
            Unit::Inch => (air.celsius * 1.8 + 32.0, "32 and 140 degrees Fahrenheit"),
        };
        let message = format!("the temperature `{shown:.1}` must be between {range}");
        let help = "an inch plan gives degrees Fahrenheit, every other degrees Celsius";
        faults.add("plan::number", format!("wood.{field}.temperature"), &["units"], message, help);
    }
}

fn load(faults: &mut Faults<'_>, pascals: f64) {
    if (0.0..=MOST_LOAD_PA).contains(&pascals) {
        return;
    }
    let (one, symbol) = match faults.plan.unit {
        Unit::Millimetre => (defaults::PA_IN_KG_M2, "kg on a square metre"),
        Unit::Inch => (defaults::PA_IN_PSF, "lb on a square foot"),
    };
    let message = format!("the load `{:.1}` {symbol} must be between 0 and {:.0}", pascals / one, MOST_LOAD_PA / one);
    let help = "books weigh some 20 lb on a square foot of shelf, 100 kg on a square metre";
    faults.add("plan::number", "wood.load".to_owned(), &["units"], message, help);
}
