//! How much can be put away? The volume of drawers, as far as they come out, and of what lies behind doors and on shelves.

use crate::plan::{CabinetUnit, Drawer, Plan, Side, UnitKind};

/// Everything that can be put away in `plan`, in mm³.
///
/// A drawer counts with the inside of its box, times the share of its depth that comes out past the front plane: what stays
/// inside when it is drawn out is not reached. Behind doors and on open shelves the carcass's inside counts, shelves and
/// all. Appliances and end panels hold nothing.
#[must_use]
pub fn storage_mm3(plan: &Plan) -> f64 {
    Side::BOTH.into_iter().map(|side| run_storage(plan, side)).sum()
}

fn run_storage(plan: &Plan, side: Side) -> f64 {
    let units = plan.run(side).units.iter();
    let of = |unit: &CabinetUnit| {
        let construction = plan.construction_of(unit);
        let (low, high) = construction.opening_height();
        let deep = construction.inside_depth(plan.depth(side)).to_mm();
        let wide = (unit.width - construction.panel * 2.0).to_mm();
        let inside = |height: f64| (wide * deep * height).max(0.0);
        let drawer = |drawer: &Drawer| drawer_storage(plan, unit, drawer);
        match &unit.kind {
            UnitKind::Drawers(drawers) => drawers.iter().map(drawer).sum(),
            UnitKind::Door(_) | UnitKind::OpenShelves { .. } => inside((high - low).to_mm()),
            UnitKind::DrawerOverDoor(top, _) => {
                let zone = construction.front_zone();
                let below = zone.top - top.front_height - zone.between;
                drawer(top) + inside((below - low).to_mm())
            }
            UnitKind::EndPanel | UnitKind::ApplianceSpace(_) => 0.0,
        }
    };
    units.map(of).sum()
}

fn drawer_storage(plan: &Plan, unit: &CabinetUnit, drawer: &Drawer) -> f64 {
    let (construction, joinery) = (&plan.construction, &plan.joinery);
    let Some(slide) = plan.slides.get(drawer.slide) else { return 0.0 };
    let outside = unit.width - construction.opening_side() * 2.0 - slide.side * 2.0;
    let wide = (outside - construction.box_stock * 2.0).to_mm();
    let deep = (slide.length - construction.box_stock * 2.0).to_mm();
    let high = (drawer.box_height - joinery.box_recess - construction.box_bottom).to_mm();
    let reached = (slide.travel().to_mm() / slide.length.to_mm().max(1.0)).clamp(0.0, 1.0);
    (wide.max(0.0) * deep.max(0.0) * high.max(0.0)) * reached
}
