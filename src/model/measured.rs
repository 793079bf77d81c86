//! What stands in the room as it was measured? The same room, its walls the surveyed ones, the runs set in it.
//!
//! Walls and the baseboards on them are flat patches between readings; where a wall curves or twists they hold up to
//! [`super::surface`]'s excess more wall than there is and never less. What stands before a wall (casings, obstacles, pipes)
//! reaches from where the wall behind it is farthest back to where it would be before the wall's farthest point out, so
//! what is clear of it here is clear of it in the room. The floor is drawn level: units stand on legs or shims.

use super::build::{Builder, Measured, NewPart, Place, RoomFrame};
use super::room::{CASING_HEIGHT, END_WALL_REACH, WALL_THICKNESS, room_part};
use super::run::stand_off;
use super::surface::{Patch, Setting, Surface};
use super::{Convex, Fillers, Follows, Material, Model, Role, RuleClass, RunFrame, Vec3};
use crate::plan::{FarEnd, FixtureKind, Plan, Side};

/// What is taken as the wall's surface where its lengths were measured at three heights: at the floor, at half the units'
/// height and at their top.
fn length_heights(plan: &Plan) -> [f64; 3] {
    let high = plan.construction.height.to_mm();
    [0.0, high / 2.0, high]
}

impl Model {
    /// Builds every part of `plan` with these filler widths in the measured room, which stands to the runs as `setting` says.
    ///
    /// Parts keep the ids that they have in [`Model::build`]; fixtures that stand out from a wall come last.
    #[must_use]
    pub fn build_in(plan: &Plan, fillers: Fillers, setting: &Setting) -> Self {
        Self::of(plan, fillers, true, Some(setting))
    }
}

/// Where the wall at `side`'s far end stands at the three heights: along the wall line from the corner, mm. A length is
/// taken from the other wall's face at that height.
#[must_use]
pub fn wall_ends(plan: &Plan, side: Side) -> [f64; 3] {
    let survey = plan.room.survey.wall(side);
    let Some(lengths) = survey.lengths else { return [plan.room.wall(side).to_mm(); 3] };
    let angle = plan.room.angle_deg.to_radians();
    let [own, other] = [side, side.other()].map(|side| Surface::of(plan, side));
    let heights = length_heights(plan);
    std::array::from_fn(|k| {
        let [own, other] = [&own, &other].map(|surface| surface.stands_out(0.0, heights[k]));
        (other + own * angle.cos()) / angle.sin() + lengths[k].to_mm()
    })
}

/// The room around the runs' frames, and what the runs leave of their walls in it.
pub(super) fn measured_frames(plan: &Plan, runs: &mut [RunFrame; 2], setting: &Setting) -> (RoomFrame, Measured) {
    let angle = plan.room.angle_deg.to_radians();
    let frames = Side::BOTH.map(|side| setting.wall_frame(side, angle));
    let room = RoomFrame {
        corner: setting.corner,
        along: frames.map(|[along, _]| along),
        out: frames.map(|[_, out]| out),
        shift: Vec3::ZERO,
    };
    let ends = Side::BOTH.map(|side| wall_ends(plan, side));
    for ((run, ends), along) in runs.iter_mut().zip(ends).zip(room.along) {
        let end_board = if plan.run(run.side).ends_at == FarEnd::Wall { stand_off(plan) } else { 0.0 };
        let reach = [0.0, run.depth]
            .map(|n| (run.at(run.ends_at, n, 0.0) - setting.corner).dot(along))
            .into_iter()
            .fold(f64::NEG_INFINITY, f64::max);
        run.wall_along = along;
        run.wall_length = ends.into_iter().fold(f64::INFINITY, f64::min);
        run.left_over = run.wall_length - end_board - reach;
    }
    (room, Measured { surfaces: Side::BOTH.map(|side| Surface::of(plan, side)), ends })
}

impl Builder<'_> {
    /// From where to where the wall behind a box stands back and out.
    pub(super) fn wall_range(&self, side: Side, s: [f64; 2], z: [f64; 2]) -> [f64; 2] {
        let k = usize::from(side == Side::Right);
        self.measured.as_ref().map_or([0.0; 2], |measured| measured.surfaces[k].range(s, z))
    }

    /// How far from the corner `side`'s wall reaches at most.
    pub(super) fn wall_reaches(&self, side: Side) -> f64 {
        let k = usize::from(side == Side::Right);
        let ends = self.measured.as_ref().map(|measured| measured.ends[k]);
        ends.into_iter().flatten().fold(self.runs[k].wall_length, f64::max)
    }

    /// The surveyed wall's pieces, or the pieces of what lies `thick` on it; `None` in a room that was not measured.
    pub(super) fn measured_pieces(
        &self,
        side: Side,
        s: [f64; 2],
        z: [f64; 2],
        thick: Option<f64>,
    ) -> Option<Vec<Convex>> {
        let k = usize::from(side == Side::Right);
        let measured = self.measured.as_ref()?;
        let surface = &measured.surfaces[k];
        let back = surface.range(s, z)[0] - WALL_THICKNESS;
        let (along, out) = (self.room.along[k], self.room.out[k]);
        let piece = |patch: Patch| {
            let [low, high] = patch.height;
            let at = |n: f64, z: f64| self.room.corner + along * patch.along[0] + out * n + Vec3::Z * z;
            let [face_low, face_high] = patch.near;
            let outline = match thick {
                // The back stays where it is however the face goes: the push carries it too, by what is added here.
                None => {
                    let behind = back - patch.grows.abs();
                    vec![at(behind, low), at(face_low, low), at(face_high, high), at(behind, high)]
                }
                Some(thick) => {
                    vec![at(face_low, low), at(face_low + thick, low), at(face_high + thick, high), at(face_high, high)]
                }
            };
            Convex::prism(outline, along * (patch.along[1] - patch.along[0]) + out * patch.grows)
        };
        Some(surface.patches(s, z).into_iter().map(piece).collect())
    }

    /// The wall at `side`'s far end, as long as it was measured at three heights; `None` in a room that was not measured.
    pub(super) fn measured_end(&self, side: Side, ceiling: f64) -> Option<Vec<Convex>> {
        let k = usize::from(side == Side::Right);
        let ends = self.measured.as_ref()?.ends[k];
        let (along, out) = (self.room.along[k], self.room.out[k]);
        let far = ends.into_iter().fold(f64::NEG_INFINITY, f64::max) + WALL_THICKNESS;
        let from = self.wall_range(side, [ends[0], far], [0.0, ceiling])[0].min(0.0) - WALL_THICKNESS;
        let [floor, middle, top] = length_heights(self.plan);
        let stretches = [
            ([ends[0], ends[1]], [floor, middle]),
            ([ends[1], ends[2]], [middle, top]),
            ([ends[2]; 2], [top, ceiling.max(top)]),
        ];
        let piece = |(s, z): ([f64; 2], [f64; 2])| {
            let at = |s: f64, z: f64| self.room.corner + along * s + out * from + Vec3::Z * z;
            let outline = vec![at(s[0], z[0]), at(far, z[0]), at(far, z[1]), at(s[1], z[1])];
            Convex::prism(outline, out * (END_WALL_REACH - from))
        };
        Some(stretches.into_iter().filter(|(_, z)| z[1] > z[0]).map(piece).collect())
    }

    /// What stands out from the walls: pipes, registers, casings.
    pub(super) fn fixtures(&mut self) {
        if self.measured.is_none() {
            return;
        }
        let plan = self.plan;
        for side in Side::BOTH {
            for fixture in plan.room.survey.wall(side).fixtures.iter().filter(|f| f.out.to_mm() > 0.0) {
                let [s, z] = [(fixture.along, fixture.width), (fixture.above, fixture.height)].map(|(middle, size)| {
                    let (middle, half) = (middle.to_mm(), size.to_mm() / 2.0);
                    [middle - half, middle + half]
                });
                let piece = self.on_wall(side, s, [0.0, fixture.out.to_mm()], [z[0].max(0.0), z[1]]);
                let (role, material) = match fixture.kind {
                    FixtureKind::Casing | FixtureKind::Sill => (Role::Casing, Material::PaintedWoodwork),
                    FixtureKind::Outlet
                    | FixtureKind::JunctionBox
                    | FixtureKind::Pipe
                    | FixtureKind::Gas
                    | FixtureKind::Valve
                    | FixtureKind::Register => (Role::Obstacle, Material::Unknown),
                };
                let place = Place { run: None, unit: None, follows: Follows::Room, mover: None };
                let name = if fixture.name.is_empty() { "fixture" } else { &fixture.name };
                let part: NewPart<'_> = room_part(name, role, material, RuleClass::Standing, vec![piece]);
                self.add(&place, part);
            }
        }
    }

    /// Height of a casing.
    pub(super) fn casing_height(&self) -> f64 {
        CASING_HEIGHT.min(self.plan.room.ceiling.to_mm())
    }
}
