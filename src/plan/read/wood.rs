//! What the file says of wood, air and load.

use super::node::Node;
use super::reader::{Fields, Reader};
use crate::length::Unit;
use crate::plan::{Air, FrontsOf, Sawn, Sheet, Timber, Wood, defaults};

/// Fahrenheit's degrees: the freezing point, and how many make one of Celsius's.
const FREEZING_F: f64 = 32.0;
const F_IN_C: f64 = 1.8;

pub(super) fn wood<'a>(reader: &mut Reader<'a>, plan: &mut Fields<'a>) -> Wood {
    let mut wood = Wood::usual(reader.unit);
    let Some(node) = plan.take("wood") else { return wood };
    let mut fields = reader.fields("the wood", &node);
    wood.fronts = fields.take("fronts").map_or(wood.fronts, |node| fronts(reader, &node));
    wood.driest = fields.take("driest").map_or(wood.driest, |node| air(reader, &node, wood.driest));
    wood.dampest = fields.take("dampest").map_or(wood.dampest, |node| air(reader, &node, wood.dampest));
    wood.paint_build = reader.length_or(&mut fields, "paint_build", wood.paint_build);
    wood.least_gap = reader.length_or(&mut fields, "least_gap", wood.least_gap);
    wood.panel = fields.take("panel").map_or(wood.panel, |node| sheet(reader, &node));
    wood.thin_panel = fields.take("thin_panel").map_or(wood.thin_panel, |node| sheet(reader, &node));
    wood.load_pa = fields.take("load").and_then(|node| load(reader, &node)).unwrap_or(wood.load_pa);
    reader.finish(fields);
    wood
}

fn fronts<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> FrontsOf {
    match node.head() {
        Some(head) if head.name == "Panel" && head.payload.is_none() => FrontsOf::Panel,
        Some(head) if head.name == "Solid" => {
            let mut fields = reader.head_fields("a solid front", node, head.payload);
            let timber = timber(reader, &mut fields);
            let ways = [("Flat", Sawn::Flat), ("Quartered", Sawn::Quartered)];
            let sawn = reader.choice_or(&mut fields, "sawn", defaults::SAWN, &ways);
            let help = "write the moisture content in percent, such as `8`";
            let made_at =
                fields.take("made_at").and_then(|node| reader.plain_number(&node, "a moisture content", help));
            reader.finish(fields);
            let made_at = made_at.unwrap_or(defaults::MADE_AT);
            timber.map_or(FrontsOf::Panel, |timber| FrontsOf::Solid { timber, sawn, made_at })
        }
        _ => {
            reader.refuse_choice(node, &["Panel", "Solid"]);
            FrontsOf::Panel
        }
    }
}

fn timber<'a>(reader: &mut Reader<'a>, fields: &mut Fields<'a>) -> Option<Timber> {
    let value = reader.require(fields, "timber", "say which wood, such as `timber: WhiteOak`")?;
    reader.choice(&value, Timber::ALL)
}

fn sheet<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Sheet {
    const PLAIN: [(&str, Sheet); 4] = [
        ("Plywood", Sheet::Plywood),
        ("Particleboard", Sheet::Particleboard),
        ("Mdf", Sheet::Mdf),
        ("Hardboard", Sheet::Hardboard),
    ];
    match node.head() {
        Some(head) if head.name == "Solid" => {
            let mut fields = reader.head_fields("a solid board", node, head.payload);
            let timber = timber(reader, &mut fields);
            reader.finish(fields);
            timber.map_or(Sheet::Plywood, Sheet::Solid)
        }
        Some(head) if head.payload.is_none() && PLAIN.iter().any(|(word, _)| *word == head.name) => {
            reader.choice(node, &PLAIN).unwrap_or(Sheet::Plywood)
        }
        _ => {
            reader.refuse_choice(node, &["Plywood", "Particleboard", "Mdf", "Hardboard", "Solid"]);
            Sheet::Plywood
        }
    }
}

fn air<'a>(reader: &mut Reader<'a>, node: &Node<'a>, usual: Air) -> Air {
    let mut air = usual;
    let mut fields = reader.fields("the state of air", node);
    let help = "write the relative humidity in percent, such as `45`";
    let humidity = fields.take("humidity").and_then(|node| reader.plain_number(&node, "a humidity", help));
    air.humidity = humidity.unwrap_or(air.humidity);
    let help = match reader.unit {
        Unit::Millimetre => "write degrees Celsius, such as `21`",
        Unit::Inch => "write degrees Fahrenheit, such as `70`",
    };
    let degrees = fields.take("temperature").and_then(|node| reader.plain_number(&node, "a temperature", help));
    air.celsius = match (degrees, reader.unit) {
        (None, _) => air.celsius,
        (Some(celsius), Unit::Millimetre) => celsius,
        (Some(fahrenheit), Unit::Inch) => (fahrenheit - FREEZING_F) / F_IN_C,
    };
    reader.finish(fields);
    air
}

fn load<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Option<f64> {
    let (one, help) = match reader.unit {
        Unit::Millimetre => (defaults::PA_IN_KG_M2, "write kilograms on a square metre, such as `73`"),
        Unit::Inch => (defaults::PA_IN_PSF, "write pounds on a square foot, such as `15`"),
    };
    reader.plain_number(node, "a load", help).map(|load| load * one)
}
