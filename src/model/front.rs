//! Fronts, doors and their pulls.

use super::build::{Builder, NewPart, Place};
use super::cabinet::Shell;
use super::drawer::front_planes;
use super::{Convex, Edge, Material, Motion, Role, RuleClass, Vec3, Why, Work};
use crate::length::Length;
use crate::plan::{Door, FrontFace, FrontGrain, HingeSide, Pin, Pull, PullSet, PullShape, Side};

/// A bar's posts stand in from its ends by this share of its length, and are this share of its thickness.
/// Common practice, no source.
const POST_INSET_SHARE: f64 = 0.12;
const POST_THICKNESS_SHARE: f64 = 0.8;

impl Builder<'_> {
    /// A door whose front stands on `bottom`, turning about its hinges' pin.
    pub(super) fn door(&mut self, shell: &Shell, unit: &str, door: &Door, bottom: f64) {
        let construction = self.construction();
        let reach = construction.front_zone().side.to_mm();
        let face = front_planes(construction, shell.front_plane)[1];
        let z = [bottom, bottom + door.front_height.to_mm()];
        let edges = [shell.s[0] + reach, shell.s[1] - reach];
        let motion =
            self.swing(shell.side, edges, z, face, (door.hinge, door.hinges.pin(construction), door.opens_to_deg));
        let name = format!("{unit}, door");
        let mover = self.mover(name.clone(), shell.side, shell.index, motion, Some(door.pull));
        let place = Place::unit(shell.side, shell.index).on(mover);
        self.front(shell, &place, &name, Role::DoorFront, door.pull, z, Some(door.hinge));
        if let Some(pull_outs) = door.pull_outs {
            self.pull_outs(shell, unit, pull_outs, mover);
        }
    }

    /// How a door between two edges along `side`'s run and two heights turns, its face lying `face` out.
    pub(super) fn swing(
        &self,
        side: Side,
        s: [f64; 2],
        z: [f64; 2],
        face: f64,
        (edge, pin, opens_to_deg): (HingeSide, Pin, f64),
    ) -> Motion {
        let frame = self.run(side);
        let (inset, n) = (pin.inset.to_mm(), face - pin.behind.to_mm());
        let (hinge, toward_free) = match edge {
            HingeSide::CornerSide => (frame.at(s[0] + inset, n, 0.0), frame.along),
            HingeSide::FarSide => (frame.at(s[1] - inset, n, 0.0), -frame.along),
            HingeSide::Top => (frame.at(s[0], n, z[1] - inset), -Vec3::Z),
            HingeSide::Bottom => (frame.at(s[0], n, z[0] + inset), Vec3::Z),
        };
        // Turning right-handed about this line carries the free edge out into the room.
        let axis = toward_free.cross(frame.out).normalize();
        Motion::Swing { hinge, axis, angle: opens_to_deg.to_radians() }
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
        let class = RuleClass::Run;
        let title = if role == Role::DrawerFront { format!("{name} front") } else { name.to_owned() };
        let grain = match self.plan.joinery.front_grain {
            FrontGrain::Upright => Vec3::Z,
            FrontGrain::Level => self.run(shell.side).along,
        };
        let (core, strips) = self.front_strips(s, z);
        let stripped =
            if strips.is_empty() { Vec::new() } else { vec![Edge::Upper, Edge::Lower, Edge::Near, Edge::Far] };
        let front = self.block(shell.side, core[0], [back, face], core[1]);
        let part = NewPart::new(&title, role, Material::FrontStock, class, vec![front]);
        self.add(place, part.grain(grain).work(Work { stripped, ..Work::default() }));
        for (edge, [s, z]) in strips {
            let title = format!("{title}, {} strip", edge.word());
            let upright = matches!(edge, Edge::Near | Edge::Far);
            let grain = if upright { Vec3::Z } else { self.run(shell.side).along };
            let strip = self.block(shell.side, s, [back, face], z);
            let work = Work { why: Some(Why::Strip { of: role }), ..Work::default() };
            let part = NewPart::new(&title, Role::EdgeStrip, Material::SolidWood, class, vec![strip]);
            self.add(place, part.grain(grain).work(work));
        }
        let pull = &self.plan.pulls[pull];
        let pieces = self.pull_pieces(shell, pull, s, z, face, hinge);
        let title = format!("{name} pull");
        self.add(place, NewPart::new(&title, Role::Pull, Material::Metal, class, pieces));
        back
    }

    /// A front's core, along the run and up, and the strips around it where its edges get any: those above and below run
    /// over the ends of the other two.
    fn front_strips(&self, s: [f64; 2], z: [f64; 2]) -> ([[f64; 2]; 2], Vec<(Edge, [[f64; 2]; 2])>) {
        let thick = self.construction().edge_strip.to_mm();
        let least = (s[1] - s[0]).min(z[1] - z[0]);
        if !self.plan.joinery.strip_edges.fronts || thick <= 0.0 || least <= 2.0 * thick {
            return ([s, z], Vec::new());
        }
        let core = [[s[0] + thick, s[1] - thick], [z[0] + thick, z[1] - thick]];
        let strips = vec![
            (Edge::Upper, [s, [core[1][1], z[1]]]),
            (Edge::Lower, [s, [z[0], core[1][0]]]),
            (Edge::Near, [[s[0], core[0][0]], core[1]]),
            (Edge::Far, [[core[0][1], s[1]], core[1]]),
        ];
        (core, strips)
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
                let post = pull.holes.map_or(reach * (1.0 - 2.0 * POST_INSET_SHARE), half);
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
