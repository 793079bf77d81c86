//! What do the doors hang on, and how many of it?

use super::{Model, Part, Role, Vec3};
use crate::length::Length;
use crate::plan::{Hinges, Plan, Side, UnitKind, hinges};

/// Every kind of hinge that the doors of `plan` may hang on, and how many its doors take; 0 where none does. In the order
/// in which a plan may name them, so that like hinges of all units come in one row.
#[must_use]
pub fn hung_on(model: &Model, plan: &Plan) -> [(&'static str, usize); 3] {
    let mut counts = [("hinge with plate", 0), ("butt hinge", 0), ("knife hinge, pair", 0)];
    for side in Side::BOTH {
        for (index, unit) in plan.run(side).units.iter().enumerate() {
            let (UnitKind::Door(door) | UnitKind::DrawerOverDoor(_, door)) = &unit.kind else { continue };
            let front = model
                .parts
                .iter()
                .find(|part| part.role == Role::DoorFront && part.run == Some(side) && part.unit == Some(index));
            let axis = if door.hinge.is_upright() { Vec3::Z } else { model.run(side).along };
            let each = hinges(Length::mm(front.map_or(0.0, |part| whole_door(model, part, axis))));
            let (row, count) = match door.hinges {
                Hinges::FaceEdge | Hinges::Concealed { .. } => (0, each),
                Hinges::Butt { .. } => (1, each),
                Hinges::Knife { .. } => (2, 1),
            };
            counts[row].1 += count;
        }
    }
    counts
}

/// How long a door is along `axis`, mm: a door with edge strips stands as high as they do.
fn whole_door(model: &Model, front: &Part, axis: Vec3) -> f64 {
    let parts = front.mover.map(|id| model.mover(id).parts.as_slice()).unwrap_or_default();
    let parts = parts.iter().map(|&id| model.part(id));
    let strips = parts.filter(|part| part.role == Role::EdgeStrip).map(|part| part.extent(axis));
    let [low, high] = strips.fold(front.extent(axis), |[low, high], [a, b]| [low.min(a), high.max(b)]);
    high - low
}

/// How the number in a row of [`hung_on`] comes about.
#[must_use]
pub fn hung_on_note(what: &str) -> &'static str {
    match what {
        "knife hinge, pair" => "a pair a door",
        _ => "two a door up to 900 mm, 35 in, three up to twice that",
    }
}
