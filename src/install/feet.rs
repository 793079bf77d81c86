//! What stands under the units? How far each corner is packed up to be level with the highest point of the floor.
//!
//! Heights in a plan are from the finished floor. Units stand level on the highest point of the floor under the runs; every
//! corner is lifted by what the floor lies lower there, and by the flooring that is still to come.

use super::setting::{Set, unit_stretch};
use crate::length::Length;
use crate::model::{FloorSurface, Model, Role, Vec3};
use crate::plan::{Base, BaseboardTreatment, Plan, Side, UnitKind};

/// One corner that a unit stands on.
#[derive(Clone, Debug, PartialEq)]
pub struct Foot {
    /// Which run.
    pub side: Side,
    /// Which unit of it, from the corner.
    pub unit: usize,
    /// Which corner, in words: `near back`.
    pub corner: &'static str,
    /// What stands there.
    pub base: Base,
    /// Where, on the level of the highest point, in the runs' frame, mm.
    pub at: Vec3,
    /// How much lower the floor is there than at its highest point.
    pub below: Length,
    /// What is put under, or what the leg is drawn out further: that, and the flooring still to come.
    pub packed: Length,
    /// From the floor as it is to the carcass's lower edge.
    pub height: Length,
}

/// Every corner that the units of `model` stand on, from the corner of the room outwards; appliances have feet of their own.
#[must_use]
pub fn feet(plan: &Plan, model: &Model, set: &Set) -> Vec<Foot> {
    let floor = FloorSurface::of(plan, set.place);
    let high = set.highest.map_or(0.0, |spot| spot.level);
    let c = &plan.construction;
    let behind = match plan.room.baseboard {
        Some(board) if board.treatment == BaseboardTreatment::Notched => board.thickness.to_mm(),
        _ => 0.0,
    };
    let mut feet = Vec::new();
    for side in Side::BOTH {
        let run = model.run(side);
        let front = run.depth - (c.kick_setback + c.kick_cover).to_mm();
        for (unit, of) in plan.run(side).units.iter().enumerate() {
            if matches!(of.kind, UnitKind::ApplianceSpace(_)) {
                continue;
            }
            let [near, far] = unit_stretch(plan, model, side, unit);
            let mut places = vec![[near, behind], [near, front], [far, behind], [far, front]];
            if c.base == Base::Legs && of.kind != UnitKind::EndPanel {
                let legs = model
                    .parts
                    .iter()
                    .filter(|part| part.role == Role::Leg && part.run == Some(side) && part.unit == Some(unit));
                places = legs.map(|leg| [run.along, run.out].map(|axis| leg.middle().dot(axis))).collect();
            }
            let middle = [f64::midpoint(near, far), f64::midpoint(behind, front)];
            for [s, n] in places {
                let at = run.at(s, n, 0.0);
                let below = Length::mm((high - floor.level(side, at)).max(0.0));
                let packed = below + plan.room.survey.flooring;
                let corner = match (s > middle[0], n > middle[1]) {
                    (false, false) => "near back",
                    (false, true) => "near front",
                    (true, false) => "far back",
                    (true, true) => "far front",
                };
                feet.push(Foot { side, unit, corner, base: c.base, at, below, packed, height: c.kick_height + packed });
            }
        }
    }
    feet
}
