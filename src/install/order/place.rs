//! In which step does a part appear?

use super::step::StepId;
use crate::model::{Model, Part, Role, Why};
use crate::plan::{Plan, ShelfJoint, Side, UnitKind};

/// The step in which `part` comes into the room; `None` for what stands there before.
pub(super) fn appears_in(plan: &Plan, part: &Part) -> Option<StepId> {
    let side = part.run?;
    let first = corner_box(plan, side);
    match part.role {
        Role::Wall | Role::EndWall | Role::Baseboard | Role::Casing | Role::Obstacle | Role::Floor => None,
        Role::BaseFrame | Role::Leg => Some(StepId::Base),
        Role::BackingBlock | Role::KickBlock => Some(StepId::Blocks(side)),
        Role::FillerFace => Some(StepId::Filler(side)),
        Role::KickCover => Some(StepId::Kick(side)),
        Role::EndPanel => Some(StepId::EndPanel(side, part.unit?)),
        Role::BoxSide | Role::BoxEnd | Role::BoxBottom => Some(StepId::Drawers),
        Role::DrawerFront | Role::DoorFront => Some(StepId::Fronts),
        Role::EdgeStrip if part.mover.is_some() => Some(StepId::Fronts),
        Role::Pull => Some(StepId::Pulls),
        Role::BuildUp => Some(StepId::TopSupport),
        Role::Countertop => Some(StepId::Top),
        Role::Appliance | Role::ApplianceHandle => Some(StepId::Appliances),
        Role::Shelf if loose_shelves(plan) => Some(StepId::Shelves),
        Role::EdgeStrip if loose_shelves(plan) && part.work.why == Some(Why::Strip { of: Role::Shelf }) => {
            Some(StepId::Shelves)
        }
        Role::FrameStile | Role::FrameRail if of_shelf_frame(part) => Some(StepId::ShelfFrames),
        Role::CarcassSide
        | Role::CarcassBottom
        | Role::CarcassTop
        | Role::Back
        | Role::Nailer
        | Role::Stretcher
        | Role::Shelf
        | Role::EdgeStrip
        | Role::KickBoard
        | Role::FrameStile
        | Role::FrameRail
        | Role::Blocking => Some(StepId::Set(side, part.unit.or(first)?)),
    }
}

/// Whether shelves lie loose on pins.
fn loose_shelves(plan: &Plan) -> bool {
    matches!(plan.joinery.shelves, ShelfJoint::Pins(_))
}

/// Whether a stile or rail belongs to the frame before open shelves.
fn of_shelf_frame(part: &Part) -> bool {
    matches!(part.work.why, Some(Why::ShelfStile { .. } | Why::ShelfRail { .. }))
}

/// Whether a unit has a carcass.
/// The units of `side` with a carcass, from the corner.
pub(super) fn carcasses(plan: &Plan, side: Side) -> Vec<usize> {
    let units = plan.run(side).units.iter().enumerate();
    units.filter(|(_, unit)| unit.kind.has_carcass()).map(|(index, _)| index).collect()
}

/// The first unit of `side` with a carcass, where nothing but end panels stands between it and the corner.
pub(super) fn corner_box(plan: &Plan, side: Side) -> Option<usize> {
    let units = &plan.run(side).units;
    let first = units.iter().position(|unit| unit.kind != UnitKind::EndPanel)?;
    units.get(first).filter(|unit| unit.kind.has_carcass()).map(|_| first)
}

/// The parts that appear in `step`, in the model's order.
pub(super) fn parts_of<'m>(plan: &Plan, model: &'m Model, step: StepId) -> Vec<&'m Part> {
    model.parts.iter().filter(|part| appears_in(plan, part) == Some(step)).collect()
}
