//! What stands in the room before the cabinets come: walls, floor, baseboards, casings, obstacles.

use super::build::{Builder, NewPart, Place};
use super::convex::hull_outline;
use super::{Convex, Follows, Material, Motion, Role, RuleClass, Vec3};
use crate::plan::{BaseboardTreatment, FarEnd, HingeSide, RoomDoor, Side};

/// Thickness a wall is drawn with; nothing depends on it. Our own choice.
pub(super) const WALL_THICKNESS: f64 = 100.0;
/// How far an end wall reaches into the room: past any drawer drawn out. Our own choice.
pub(super) const END_WALL_REACH: f64 = 2400.0;
/// Height of a casing above the floor: past any base cabinet. Common practice, no source.
pub(super) const CASING_HEIGHT: f64 = 2100.0;
/// Thickness the floor is drawn with, and how far it goes beyond the walls' ends. Our own choice.
const FLOOR_THICKNESS: f64 = 20.0;
const FLOOR_BEYOND: f64 = 600.0;

impl Builder<'_> {
    /// Walls, floor, baseboards, what stands at the runs' ends, and obstacles.
    pub(super) fn room(&mut self) {
        self.floor();
        for side in Side::BOTH {
            self.wall(side);
            self.far_end(side);
        }
        let plan = self.plan;
        for obstacle in &plan.room.obstacles {
            let piece = self.on_wall(
                obstacle.wall,
                [obstacle.along.to_mm(), (obstacle.along + obstacle.width).to_mm()],
                [obstacle.out.to_mm(), (obstacle.out + obstacle.depth).to_mm()],
                [obstacle.above.to_mm(), (obstacle.above + obstacle.height).to_mm()],
            );
            let place = self.room_place(None);
            let thing = self.next_part();
            let name = if obstacle.name.is_empty() { "obstacle" } else { &obstacle.name };
            self.add(&place, room_part(name, Role::Obstacle, Material::Unknown, RuleClass::Standing, vec![piece]));
            self.opposite(obstacle, thing);
        }
        for door in &plan.room.doors {
            self.room_door(door);
        }
    }

    /// A door of the room: its leaf stands before the wall's face and turns about the edge of its face there. On the safe
    /// side: a leaf that lies back in its opening reaches less far.
    fn room_door(&mut self, door: &RoomDoor) {
        let k = usize::from(door.wall == Side::Right);
        let (along, out) = (self.room.along[k], self.room.out[k]);
        let s = [door.along.to_mm(), (door.along + door.width).to_mm()];
        let (hinged, toward_free) = match door.hinge {
            HingeSide::CornerSide => (s[0], along),
            _ => (s[1], -along),
        };
        // Before a baseboard that stays: where the leaf is, the board stops in truth.
        let back = match self.plan.room.baseboard {
            Some(board) if board.treatment != BaseboardTreatment::Removed => board.thickness.to_mm(),
            _ => 0.0,
        };
        let face = back + door.thickness.to_mm();
        let hinge = self.room.corner + along * hinged + out * face;
        let axis = toward_free.cross(out).normalize();
        let motion = Motion::Swing { hinge, axis, angle: door.opens_to_deg.to_radians() };
        // It is in no unit: its place is past the last.
        let unit = self.plan.run(door.wall).units.len();
        let mover = self.mover(door.name.clone(), door.wall, unit, motion, None);
        self.is_of_the_room(mover);
        let leaf = self.on_wall(door.wall, s, [back, face], [0.0, door.height.to_mm()]);
        let place = self.room_place(None).on(mover);
        let part = room_part(&door.name, Role::Casing, Material::PaintedWoodwork, RuleClass::Standing, vec![leaf]);
        self.add(&place, part);
    }

    pub(super) fn room_place(&self, run: Option<Side>) -> Place {
        let follows = if self.room.shift == Vec3::ZERO {
            Follows::Room
        } else {
            Follows::Shifts { side: Side::Right, by: self.room.shift }
        };
        Place { run, unit: None, follows, mover: None }
    }

    /// A box measured along a wall from the corner of the room, out from the wall's face, and up from the floor. In a
    /// measured room it reaches from the wall's farthest point back there to before its farthest point out.
    pub(super) fn on_wall(&self, side: Side, s: [f64; 2], n: [f64; 2], z: [f64; 2]) -> Convex {
        let k = usize::from(side == Side::Right);
        let (along, out) = (self.room.along[k], self.room.out[k]);
        let [back, forth] = self.wall_range(side, s, z);
        let n = [n[0] + back, n[1] + forth];
        Convex::block(
            self.room.corner + along * s[0] + out * n[0] + Vec3::Z * z[0],
            along * (s[1] - s[0]),
            out * (n[1] - n[0]),
            Vec3::Z * (z[1] - z[0]),
        )
    }

    /// The floor: under both walls, and out into the room as far as a person would stand back to look.
    fn floor(&mut self) {
        let corner = self.room.corner - Vec3::Z * FLOOR_THICKNESS;
        let mut points = Vec::new();
        for k in [0, 1] {
            let (along, out) = (self.room.along[k], self.room.out[k]);
            for s in [-WALL_THICKNESS, self.runs[k].wall_length + FLOOR_BEYOND] {
                points.push(corner + along * s - out * WALL_THICKNESS);
                points.push(corner + along * s.max(0.0) + out * END_WALL_REACH);
            }
        }
        let place = self.room_place(None);
        let piece = Convex::prism(hull_outline(&points), Vec3::Z * FLOOR_THICKNESS);
        self.add(&place, room_part("floor", Role::Floor, Material::Floor, RuleClass::Floor, vec![piece]));
    }

    fn wall(&mut self, side: Side) {
        let length = self.wall_reaches(side);
        let place = self.room_place(Some(side));
        let (ceiling, board) = (self.plan.room.ceiling.to_mm(), self.plan.room.baseboard);
        let s = [-WALL_THICKNESS, length];
        let wall = self.measured_pieces(side, s, [0.0, ceiling], None);
        let wall = wall.unwrap_or_else(|| vec![self.on_wall(side, s, [-WALL_THICKNESS, 0.0], [0.0, ceiling])]);
        let name = format!("{} wall", side.word());
        self.add(&place, room_part(&name, Role::Wall, Material::Plaster, RuleClass::Wall, wall));
        if let Some(board) = board
            && board.treatment != BaseboardTreatment::Removed
        {
            let (s, z, thick) = ([0.0, length], [0.0, board.height.to_mm()], board.thickness.to_mm());
            let pieces = self.measured_pieces(side, s, z, Some(thick));
            let pieces = pieces.unwrap_or_else(|| vec![self.on_wall(side, s, [0.0, thick], z)]);
            let name = format!("{} baseboard", side.word());
            self.add(&place, room_part(&name, Role::Baseboard, Material::PaintedWoodwork, RuleClass::Wall, pieces));
        }
    }

    fn far_end(&mut self, side: Side) {
        let length = self.run(side).wall_length;
        let place = self.room_place(Some(side));
        match self.plan.run(side).ends_at {
            FarEnd::Wall => {
                let ceiling = self.plan.room.ceiling.to_mm();
                let (s, n) = ([length, length + WALL_THICKNESS], [-WALL_THICKNESS, END_WALL_REACH]);
                let pieces = self.measured_end(side, ceiling);
                let pieces = pieces.unwrap_or_else(|| vec![self.on_wall(side, s, n, [0.0, ceiling])]);
                let name = format!("{} end wall", side.word());
                self.add(&place, room_part(&name, Role::EndWall, Material::Plaster, RuleClass::Standing, pieces));
                self.end_baseboard(side, &place);
            }
            FarEnd::Casing { width, thickness } => {
                let piece = self.on_wall(
                    side,
                    [length, length + width.to_mm()],
                    [0.0, thickness.to_mm()],
                    [0.0, self.casing_height()],
                );
                let name = format!("{} casing", side.word());
                self.add(
                    &place,
                    room_part(&name, Role::Casing, Material::PaintedWoodwork, RuleClass::Standing, vec![piece]),
                );
            }
            FarEnd::Open => {}
        }
    }
}

impl Builder<'_> {
    /// The baseboard of the wall at a run's far end, where it stays whole.
    fn end_baseboard(&mut self, side: Side, place: &Place) {
        let stand_off = super::run::stand_off(self.plan);
        let Some(board) = self.plan.room.baseboard.filter(|_| stand_off > 0.0) else { return };
        let length = self.run(side).wall_length;
        let piece =
            self.on_wall(side, [length - stand_off, length], [0.0, END_WALL_REACH], [0.0, board.height.to_mm()]);
        let name = format!("{} end wall's baseboard", side.word());
        self.add(place, room_part(&name, Role::Baseboard, Material::PaintedWoodwork, RuleClass::Standing, vec![piece]));
    }
}

pub(super) fn room_part(
    name: &str,
    role: Role,
    material: Material,
    class: RuleClass,
    pieces: Vec<Convex>,
) -> NewPart<'_> {
    NewPart::new(name, role, material, class, pieces)
}
