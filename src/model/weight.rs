//! What does a part weigh? Its volume times the density of what it is cut from.

use super::{Material, Part, Role};
use crate::length::Length;
use crate::plan::{Plan, StockItem, Stuff};

/// The load that one person lifts in the best of cases: 23 kg, 51 lb (NIOSH lifting equation of 1994, secondary source).
/// Less with reach or twist.
pub const ONE_PERSON_KG: f64 = 23.0;

/// Cubic millimetres in a cubic metre.
pub(crate) const MM3_IN_M3: f64 = 1e9;

/// What a part is cut from; `None` for what is bought whole and for the room.
#[must_use]
pub fn stuff_of(part: &Part) -> Option<Stuff> {
    match (part.role, part.material) {
        // A base frame is ripped from the panel it is as thick as.
        (Role::BaseFrame, _) | (_, Material::Panel) => Some(Stuff::Panel),
        (_, Material::ThinPanel) => Some(Stuff::ThinPanel),
        (_, Material::FrontStock) => Some(Stuff::Front),
        (_, Material::SolidWood) => Some(Stuff::Solid),
        (_, Material::BoxStock) => Some(Stuff::Box),
        (_, Material::DimensionLumber) => Some(Stuff::Lumber),
        (_, Material::Countertop) => Some(Stuff::Countertop),
        (
            _,
            Material::Metal
            | Material::Appliance
            | Material::Plaster
            | Material::PaintedWoodwork
            | Material::Floor
            | Material::Unknown,
        ) => None,
    }
}

/// The usual density of a kind of stock, kg/m³, from memory: hardwood plywood 680, fronts and hardwoods 700, softwood
/// lumber 480. `None` for a countertop, which may be wood or stone.
#[must_use]
pub fn usual_density(stuff: Stuff) -> Option<f64> {
    match stuff {
        Stuff::Panel | Stuff::ThinPanel | Stuff::Box => Some(680.0),
        Stuff::Front | Stuff::Solid => Some(700.0),
        Stuff::Lumber => Some(480.0),
        Stuff::Countertop => None,
    }
}

/// What one part weighs, kg; `None` for what is not wood, and for a countertop of unknown stuff.
#[must_use]
pub fn weight(part: &Part, plan: &Plan) -> Option<f64> {
    let stuff = stuff_of(part)?;
    let serves = |item: &&StockItem| item.of == stuff && item.density.is_some();
    let thickness = Length::mm(part.size[2]);
    // The item as thick as the part, else any of its kind.
    let nearest = plan.stock.items.iter().filter(serves).min_by_key(|item| (item.thickness - thickness).abs());
    let density = nearest.and_then(|item| item.density).or_else(|| usual_density(stuff))?;
    Some(part.volume() / MM3_IN_M3 * density)
}
