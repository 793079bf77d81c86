//! What opens opposite a run: the drawers and doors of an island, or of a run along another wall.
//!
//! A front is as measured. Its pull is a block as far out as it stands, over the whole front of a drawer and over the half
//! of a door that is away from its hinges: on the safe side, since nobody measures where another's pulls are. Behind a
//! drawer's front its box is as wide and high as that.

use super::build::Builder;
use super::room::room_part;
use super::{Material, Motion, PartId, Role, RuleClass};
use crate::plan::{HingeSide, Obstacle, OppositeFront, OppositeOpening, Side};

impl Builder<'_> {
    /// What of `obstacle` opens; that is `part` of the model.
    pub(super) fn opposite(&mut self, obstacle: &Obstacle, part: PartId) {
        for (n, front) in obstacle.opens.iter().enumerate() {
            let name = format!("{} {}, {}", obstacle.name, n + 1, front.name);
            self.opposite_front(obstacle, part, front, &name);
        }
    }

    fn opposite_front(&mut self, obstacle: &Obstacle, part: PartId, front: &OppositeFront, name: &str) {
        let near = (obstacle.along + front.from).to_mm();
        let s = [near, near + front.width.to_mm()];
        let z = [front.above.to_mm(), (front.above + front.height).to_mm()];
        let back = obstacle.out.to_mm();
        let face = back - front.thickness.to_mm();
        let wall = obstacle.wall;
        let (motion, pull, behind) = match front.opens {
            OppositeOpening::Draws(by) => {
                let toward = -self.room.out[usize::from(wall == Side::Right)];
                let motion = Motion::Slide { direction: toward, travel: by.to_mm() };
                (motion, s, Some(by.min(obstacle.depth).to_mm()))
            }
            OppositeOpening::Turns { hinge, opens_to_deg } => {
                let middle = f64::midpoint(s[0], s[1]);
                let far_half = if hinge == HingeSide::CornerSide { [middle, s[1]] } else { [s[0], middle] };
                (self.opposite_swing(obstacle, s, face, (hinge, opens_to_deg)), far_half, None)
            }
        };
        // It is in no unit: its place is past the last.
        let unit = self.plan.run(wall).units.len();
        let mover = self.mover(name.to_owned(), wall, unit, motion, None);
        self.opens_opposite(mover, part);
        let place = self.room_place(None).on(mover);
        let pulls = [face - front.pull.to_mm(), face];
        for (what, s, n, class) in [
            ("front", s, [face, back], RuleClass::Standing),
            ("pull", pull, pulls, RuleClass::Standing),
            // What it meets meets the front or the thing itself before, but for what comes from beside an open drawer.
            ("box", s, [back, back + behind.unwrap_or(0.0)], RuleClass::Hidden),
        ] {
            let piece = self.on_wall(wall, s, n, z);
            let title = format!("{name} {what}");
            if n[1] > n[0] {
                self.add(&place, room_part(&title, Role::Obstacle, Material::Unknown, class, vec![piece]));
            }
        }
    }

    /// A door between two places along its wall, its face `face` out from that and looking to it.
    fn opposite_swing(
        &self,
        obstacle: &Obstacle,
        s: [f64; 2],
        face: f64,
        (edge, opens_to_deg): (HingeSide, f64),
    ) -> Motion {
        let k = usize::from(obstacle.wall == Side::Right);
        let (along, out) = (self.room.along[k], self.room.out[k]);
        let (hinged, toward_free) = match edge {
            HingeSide::CornerSide => (s[0], along),
            _ => (s[1], -along),
        };
        let hinge = self.room.corner + along * hinged + out * face;
        Motion::Swing { hinge, axis: toward_free.cross(-out).normalize(), angle: opens_to_deg.to_radians() }
    }
}
