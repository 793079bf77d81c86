//! What stands in a space for an appliance? Its body, its handle, and its door where that is opened too.

use super::build::{Builder, NewPart, Place};
use super::cabinet::Shell;
use super::{Convex, Material, Role, RuleClass, Vec3};
use crate::length::Length;
use crate::plan::{Appliance, BaseboardTreatment, HingeSide, Pin};

/// A handle stands this far from the edge of an appliance that opens, and is this share of that edge. Our own choice.
const HANDLE_FROM_EDGE: f64 = 70.0;
const HANDLE_SHARE: f64 = 0.8;
/// A handle is no thicker than this, in mm from its middle. Our own choice.
const HANDLE_RADIUS: f64 = 10.0;

impl Builder<'_> {
    /// The appliance in the middle of its space.
    pub(super) fn appliance(&mut self, shell: &Shell, unit: &str, appliance: &Appliance) {
        let middle = f64::midpoint(shell.s[0], shell.s[1]);
        let half = appliance.width.to_mm() / 2.0;
        let s = [middle - half, middle + half];
        let (face, top) = (appliance.depth.to_mm(), appliance.height.to_mm());
        let behind = match self.plan.room.baseboard {
            Some(board) if board.treatment == BaseboardTreatment::Notched => board.thickness.to_mm(),
            _ => 0.0,
        };
        let mut place = Place::unit(shell.side, shell.index);
        let class = RuleClass::Appliance;
        let name = format!("{unit}, {}", appliance.name);
        let thickness = appliance.door.map_or(0.0, |door| door.thickness.to_mm());
        let body = self.block(shell.side, s, [behind, face - thickness], [appliance.above.to_mm(), top]);
        self.add(&place, NewPart::new(&name, Role::Appliance, Material::Appliance, class, vec![body]));
        let mut z = [appliance.above.to_mm(), top];
        let mut edge = HingeSide::Bottom;
        if let Some(door) = appliance.door {
            z[0] = door.bottom.to_mm();
            edge = door.hinge;
            let pin = Pin { inset: Length::ZERO, behind: Length::ZERO };
            let motion = self.swing(shell.side, s, z, face, (edge, pin, door.opens_to_deg));
            let name = format!("{unit}, door of {}", appliance.name);
            let mover = self.mover(name.clone(), shell.side, shell.index, motion, None);
            place = place.on(mover);
            let slab = self.block(shell.side, s, [face - thickness, face], z);
            self.add(&place, NewPart::new(&name, Role::Appliance, Material::Appliance, class, vec![slab]));
        }
        if appliance.handle > Length::ZERO {
            let pieces = self.handle(shell, s, z, face, edge, appliance.handle.to_mm());
            let name = format!("{unit}, handle of {}", appliance.name);
            self.add(&place, NewPart::new(&name, Role::ApplianceHandle, Material::Metal, class, pieces));
        }
    }

    /// A bar on two posts along the edge that opens, `handle` off the face.
    fn handle(&self, shell: &Shell, s: [f64; 2], z: [f64; 2], face: f64, edge: HingeSide, handle: f64) -> Vec<Convex> {
        let frame = self.run(shell.side);
        let radius = (handle / 2.0).min(HANDLE_RADIUS);
        let [across, up] = [s, z].map(|[low, high]| f64::midpoint(low, high));
        let [wide, high] = [s, z].map(|[low, high]| high - low);
        let (middle, lie, long, side) = match edge {
            HingeSide::Bottom => ([across, z[1] - HANDLE_FROM_EDGE.min(high / 2.0)], frame.along, wide, Vec3::Z),
            HingeSide::Top => ([across, z[0] + HANDLE_FROM_EDGE.min(high / 2.0)], frame.along, wide, Vec3::Z),
            HingeSide::CornerSide => ([s[1] - HANDLE_FROM_EDGE.min(wide / 2.0), up], Vec3::Z, high, frame.along),
            HingeSide::FarSide => ([s[0] + HANDLE_FROM_EDGE.min(wide / 2.0), up], Vec3::Z, high, frame.along),
        };
        let reach = long / 2.0 * HANDLE_SHARE;
        let at = |along: f64, n: f64| frame.at(middle[0], n, middle[1]) + lie * along;
        let bar = Convex::round(at(-reach, face + handle - radius), radius, frame.out, lie * (2.0 * reach));
        let post = |along: f64| Convex::round(at(along, face), radius * 0.8, side, frame.out * (handle - radius));
        vec![bar, post(-reach * 0.9), post(reach * 0.9)]
    }
}
