//! Fronts, doors and their pulls.

use super::build::{Builder, NewPart, Place};
use super::cabinet::Shell;
use super::drawer::{FRONT_GRAIN, front_planes};
use super::{Convex, Material, Motion, Role, RuleClass, Vec3};
use crate::length::Length;
use crate::plan::{Door, FrontFace, HingeSide, Pull, PullSet, PullShape};

/// A bar's posts stand in from its ends by this share of its length, and are this share of its thickness.
/// Common practice, no source.
const POST_INSET_SHARE: f64 = 0.12;
const POST_THICKNESS_SHARE: f64 = 0.8;

impl Builder<'_> {
    /// A door whose front stands on `bottom`, turning about the upright line at the edge of its outer face on its
    /// hinged side.
    pub(super) fn door(&mut self, shell: &Shell, unit: &str, door: &Door, bottom: f64) {
        let construction = self.construction();
        let reach = construction.front_zone().side.to_mm();
        let face = front_planes(construction, shell.front_plane)[1];
        let frame = self.run(shell.side);
        let (s, toward_free) = match door.hinge {
            HingeSide::CornerSide => (shell.s[0] + reach, frame.along),
            HingeSide::FarSide => (shell.s[1] - reach, -frame.along),
        };
        // Turning right-handed about this line carries the free edge out into the room.
        let axis = toward_free.cross(frame.out).normalize();
        let hinge = frame.at(s, face, 0.0);
        let motion = Motion::Swing { hinge, axis, angle: door.opens_to_deg.to_radians() };
        let name = format!("{unit}, door");
        let mover = self.mover(name.clone(), shell.side, shell.index, motion, door.pull);
        let place = Place::unit(shell.side, shell.index).on(mover);
        let z = [bottom, bottom + door.front_height.to_mm()];
        self.front(shell, &place, &name, Role::DoorFront, door.pull, z, Some(door.hinge));
    }

    /// A front with its pull; gives how far out its back lies.
    pub(super) fn front(
        &mut self,
        shell: &Shell,
        place: &Place,
        name: &str,
        role: Role,
        pull: usize,
        z: [f64; 2],
        hinge: Option<HingeSide>,
    ) -> f64 {
        let construction = self.construction();
        let [back, face] = front_planes(construction, shell.front_plane);
        let reach = construction.front_zone().side.to_mm();
        let s = [shell.s[0] + reach, shell.s[1] - reach];
        let front = self.block(shell.side, s, [back, face], z);
        let class = RuleClass::Run;
        let title = if role == Role::DrawerFront { format!("{name} front") } else { name.to_owned() };
        let grain = Some(FRONT_GRAIN);
        let part = NewPart { name: &title, role, material: Material::FrontStock, grain, class, pieces: vec![front] };
        self.add(place, part);
        let pull = &self.plan.pulls[pull];
        let pieces = self.pull_pieces(shell, pull, s, z, face, hinge);
        let title = format!("{name} pull");
        let part = NewPart { name: &title, role: Role::Pull, material: Material::Metal, grain: None, class, pieces };
        self.add(place, part);
        back
    }

    fn pull_pieces(
        &self,
        shell: &Shell,
        pull: &Pull,
        s: [f64; 2],
        z: [f64; 2],
        face: f64,
        hinge: Option<HingeSide>,
    ) -> Vec<Convex> {
        let frame = self.run(shell.side);
        let projection = pull.projection.to_mm();
        let front = FrontFace { width: Length::mm(s[1] - s[0]), height: Length::mm(z[1] - z[0]), hinge };
        let Some(place) = pull.place_on(front, self.plan.unit) else { return Vec::new() };
        let across = f64::midpoint(s[0], s[1]) + place.sideways.to_mm();
        let up = z[0] + place.height.to_mm();
        let half = |length: Length| length.to_mm() / 2.0;
        match pull.shape {
            PullShape::Absent => Vec::new(),
            PullShape::Edge { length, thickness } => {
                let reach = length.map_or((s[1] - s[0]) / 2.0, half);
                let t = half(thickness);
                let lip = [across - reach, across + reach];
                vec![self.block(shell.side, lip, [face, face + projection], [up - t, up + t])]
            }
            PullShape::Knob { across: size, square: true } => {
                let r = half(size);
                let n = [face, face + projection];
                vec![self.block(shell.side, [across - r, across + r], n, [up - r, up + r])]
            }
            PullShape::Knob { across: size, square: false } => {
                let middle = frame.at(across, face, up);
                vec![Convex::round(middle, half(size), Vec3::Z, frame.out * projection)]
            }
            PullShape::Bar { length, thickness } => {
                let (reach, radius) = (half(length), half(thickness));
                let lie = if pull.set == PullSet::Level { frame.along } else { Vec3::Z };
                let middle = frame.at(across, face + projection - radius, up);
                let mut pieces = vec![Convex::round(middle - lie * reach, radius, frame.out, lie * (2.0 * reach))];
                let post = reach * (1.0 - 2.0 * POST_INSET_SHARE);
                for offset in [-post, post] {
                    let foot = frame.at(across, face, up) + lie * offset;
                    let thick = radius * POST_THICKNESS_SHARE;
                    pieces.push(Convex::round(foot, thick, lie, frame.out * (projection - radius)));
                }
                pieces
            }
        }
    }
}
