//! Where are the measured walls drawn? As far behind the units as they are, or many times as far, so that a gap of a few
//! millimetres can be seen.
//!
//! What is exaggerated is the gap behind a run's back plane (less a baseboard that stays between): the place where a run
//! touches its wall stays where it is, and a wall never comes through a cabinet that it does not touch. Walls and the
//! baseboards on them lean and bow with their gaps; what hangs on a wall moves with it as a whole; end walls and floor
//! follow to where the walls go. Only the picture: numbers and the model stay as they are.

use bevy::prelude::{DetectChanges as _, Res, ResMut, Resource};

use super::{Installed, Installing};
use crate::install::Installation;
use crate::model::convex::hull_outline;
use crate::model::{Convex, Model, Part, Role, RuleClass, Setting, Vec3};
use crate::plan::{BaseboardTreatment, Plan, Side};
use crate::viewer::scene::is_room;
use crate::viewer::settings::Settings;
use crate::viewer::shown::Shown;

/// The measured room in place of the plan's, while the section for installing is open.
#[derive(Resource, Debug, Default)]
pub struct DrawnRoom {
    times: Option<f64>,
    /// Its parts: those of the plan's room with the same numbers, and what stands out from the walls besides.
    pub parts: Vec<Part>,
}

impl DrawnRoom {
    /// How `part` is drawn.
    #[must_use]
    pub fn instead_of<'p>(&'p self, part: &'p Part) -> &'p Part {
        self.parts.iter().find(|own| own.id == part.id).unwrap_or(part)
    }

    /// What stands in it beside the parts of `model`.
    pub fn besides<'p>(&'p self, model: &Model) -> impl Iterator<Item = &'p Part> + use<'p> {
        let known = model.parts.len();
        self.parts.iter().filter(move |part| part.id.0 >= known)
    }
}

/// Walls as they are drawn.
#[derive(Clone, Copy, Debug)]
pub struct DrawnWalls<'a> {
    installation: &'a Installation,
    setting: Setting,
    angle: f64,
    /// What lies between a back plane and its wall where the run touches.
    between: f64,
    ceiling: f64,
    times: f64,
}

impl<'a> DrawnWalls<'a> {
    /// The walls behind `installation`'s runs, `times` as far from them as they are.
    #[must_use]
    pub fn new(plan: &Plan, installation: &'a Installation, times: f64) -> Self {
        let stays = plan.room.baseboard.filter(|board| board.treatment == BaseboardTreatment::Left);
        Self {
            installation,
            setting: installation.setting.place,
            angle: plan.room.angle_deg.to_radians(),
            between: stays.map_or(0.0, |board| board.thickness.to_mm()),
            ceiling: plan.room.ceiling.to_mm(),
            times,
        }
    }

    /// What lies between a back plane and its wall where a run touches: a baseboard that stays, mm.
    #[must_use]
    pub fn between(&self) -> f64 {
        self.between
    }

    /// How far behind the plane that touches it `side`'s wall stands, square to the run, mm; negative where it stands before.
    #[must_use]
    pub fn behind(&self, side: Side, along: f64, height: f64) -> f64 {
        let out = self.installation.setting.wall(side).stands_out(along, height);
        let surface = self.setting.point(side, self.angle, [along, out, height]);
        -surface.dot(self.installation.model.run(side).out) - self.between
    }

    /// How far out from where it is that place of the wall is drawn, mm.
    fn moves_out(&self, side: Side, along: f64, height: f64) -> f64 {
        -(self.times - 1.0) * self.behind(side, along, height)
    }

    /// Where a place on `side`'s wall, `along` it from the corner and `height` above the floor, is drawn.
    #[must_use]
    pub fn point(&self, side: Side, along: f64, height: f64) -> Vec3 {
        let out = self.installation.setting.wall(side).stands_out(along, height);
        self.setting.point(side, self.angle, [along, out + self.moves_out(side, along, height), height])
    }

    /// Behind a place on a back plane, `s` along the run: where the wall there is drawn.
    #[must_use]
    pub fn behind_run(&self, side: Side, s: f64, height: f64, gap: f64) -> Vec3 {
        let run = self.installation.model.run(side);
        run.at(s, -(self.between + (gap - self.between) * self.times), height)
    }

    /// The measured room's parts as they are drawn.
    #[must_use]
    pub fn parts(&self, known: usize) -> Vec<Part> {
        let of_room = self.installation.model.parts.iter().filter(|part| is_room(part.role) || part.id.0 >= known);
        let drawn = |part: &Part| {
            let mut drawn = part.clone();
            drawn.pieces = self.pieces(part);
            drawn
        };
        of_room.map(drawn).collect()
    }

    fn pieces(&self, part: &Part) -> Vec<Convex> {
        match (part.role, part.class, part.run) {
            (Role::Wall | Role::Baseboard, RuleClass::Wall, Some(side)) => self.bent(side, part),
            (Role::EndWall, _, Some(side)) => part.pieces.iter().map(|piece| self.reaching_back(side, piece)).collect(),
            (Role::Floor, ..) => part.pieces.iter().map(|piece| self.reaching_under(piece)).collect(),
            (Role::Baseboard, ..) => part.pieces.clone(),
            _ => {
                let side = self.hangs_on(part);
                let middle = part.middle();
                let [along, _] = self.setting.on_wall(side, self.angle, middle);
                let [_, out] = self.setting.wall_frame(side, self.angle);
                let by = out * self.moves_out(side, along, middle.z);
                part.pieces.iter().map(|piece| piece.moved(by)).collect()
            }
        }
    }

    /// The wall that a part hangs on or stands at: the nearer one.
    fn hangs_on(&self, part: &Part) -> Side {
        let out = |side: Side| {
            let [_, out] = self.setting.wall_frame(side, self.angle);
            part.extent(out)[0] - self.setting.corner.dot(out)
        };
        if out(Side::Left) <= out(Side::Right) { Side::Left } else { Side::Right }
    }

    /// A wall, or a baseboard on it: each end of each patch goes as far back as its gap says, at each height. At the corner it
    /// goes on to where the other wall is drawn.
    fn bent(&self, side: Side, part: &Part) -> Vec<Convex> {
        let [along, out] = self.setting.wall_frame(side, self.angle);
        let begins = |piece: &Convex| {
            piece.vertices().map(|p| (p - self.setting.corner).dot(along)).fold(f64::INFINITY, f64::min)
        };
        let first = part.pieces.iter().map(begins).fold(f64::INFINITY, f64::min);
        let on = self.farthest_back(side.other(), 0.0);
        let piece = |piece: &Convex| {
            let moves = |p: Vec3| self.moves_out(side, (p - self.setting.corner).dot(along), p.z);
            let (near, push) = (piece.base(), piece.push());
            // A patch is flat: what its two heights grow apart is shared between them.
            let grows: f64 = near.iter().map(|&p| moves(p + push) - moves(p)).sum::<f64>() / near.len() as f64;
            let on = if begins(piece) <= first + 1e-6 { along * on } else { Vec3::ZERO };
            let base = near.iter().map(|&p| p + out * moves(p) - on).collect();
            Convex::prism(base, push + out * grows + on)
        };
        // The plan's own wall, where nothing was measured, is a block that is pushed upwards.
        let lies_along = |piece: &Convex| piece.push().dot(along).abs() > 1e-6;
        part.pieces.iter().map(|p| if lies_along(p) { piece(p) } else { p.clone() }).collect()
    }

    /// How far further back than it is any place of a wall at `along` is drawn, mm; never less than 0.
    fn farthest_back(&self, side: Side, along: f64) -> f64 {
        let surface = self.installation.setting.wall(side);
        let heights = surface.heights([0.0, self.ceiling]).into_iter();
        heights.map(|z| -self.moves_out(side, along, z)).fold(0.0, f64::max)
    }

    fn reaching_back(&self, side: Side, piece: &Convex) -> Convex {
        let [along, out] = self.setting.wall_frame(side, self.angle);
        if piece.push().dot(out) <= 0.0 {
            return piece.clone();
        }
        let at = piece.vertices().map(|p| (p - self.setting.corner).dot(along)).fold(f64::INFINITY, f64::min);
        let on = out * self.farthest_back(side, at);
        Convex::prism(piece.base().iter().map(|&p| p - on).collect(), piece.push() + on)
    }

    fn reaching_under(&self, piece: &Convex) -> Convex {
        let mut points = piece.base().to_vec();
        for side in Side::BOTH {
            let [_, out] = self.setting.wall_frame(side, self.angle);
            let run = self.installation.model.run(side);
            let ends = [0.0, run.wall_length / 2.0, run.wall_length];
            let on = ends.into_iter().map(|along| self.farthest_back(side, along)).fold(0.0, f64::max);
            points.extend(points.clone().into_iter().map(|p| p - out * on));
        }
        Convex::prism(hull_outline(&points), piece.push())
    }
}

/// Puts the measured room in place of the plan's while the section is open, and takes it away after.
pub(super) fn draw(
    shown: Res<'_, Shown>,
    settings: Res<'_, Settings>,
    installed: Res<'_, Installed>,
    installing: Res<'_, Installing>,
    mut room: ResMut<'_, DrawnRoom>,
) {
    let done = installed.done().filter(|_| settings.install_is_open());
    let wanted = done.map(|_| installing.times);
    if room.times == wanted && !(installed.is_changed() && wanted.is_some()) {
        return;
    }
    let walls = done.map(|done| DrawnWalls::new(shown.plan(), &done.installation, installing.times));
    let parts = walls.map(|walls| walls.parts(shown.model().parts.len())).unwrap_or_default();
    *room = DrawnRoom { times: wanted, parts };
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{clearance, command, plan};

    fn old_house() -> (Plan, Model, Installation) {
        let plan = plan::read("plan", include_str!("../../../assets/plans/old-house.ron")).expect("it is a plan");
        let model = clearance::answer(&plan).model;
        let installation = command::installed(&plan, &model);
        (plan, model, installation)
    }

    fn pieces(part: &Part) -> impl Iterator<Item = Vec3> + '_ {
        part.pieces.iter().flat_map(Convex::vertices)
    }

    #[test]
    fn once_as_far_is_the_measured_room_itself() {
        let (plan, model, installation) = old_house();
        for part in DrawnWalls::new(&plan, &installation, 1.0).parts(model.parts.len()) {
            // The floor may gain points on its outline, and no area.
            if part.role == Role::Floor {
                continue;
            }
            let as_built = installation.model.part(part.id);
            for (drawn, built) in pieces(&part).zip(pieces(as_built)) {
                assert!((drawn - built).length() < 1e-9, "{}", part.name);
            }
        }
    }

    #[test]
    fn gaps_are_drawn_so_many_times_and_a_touch_stays_a_touch() {
        let (plan, _, installation) = old_house();
        for times in [1.0, 5.0, 20.0] {
            let walls = DrawnWalls::new(&plan, &installation, times);
            for shim in &installation.shims {
                let run = installation.model.run(shim.side);
                let drawn = walls.behind_run(shim.side, shim.s.to_mm(), shim.at.height.to_mm(), shim.at.gap.to_mm());
                assert!((-drawn.dot(run.out) - times * shim.at.gap.to_mm()).abs() < 1e-9);
                // The wall's own face is drawn there too: square to the wall, which leans by less than 2 degrees, so that
                // the place found is that far along.
                let [along, _] = installation.setting.place.on_wall(shim.side, plan.room.angle_deg.to_radians(), drawn);
                let face = walls.point(shim.side, along, shim.at.height.to_mm());
                assert!((face - drawn).dot(run.out).abs() < 0.05 * times, "{shim:?}");
            }
            for run in &installation.setting.runs {
                let at = walls.point(run.side, run.touches.along.to_mm(), run.touches.height.to_mm());
                let gap = -at.dot(installation.model.run(run.side).out) - walls.between();
                assert!(gap.abs() < 0.01 * times, "the {} run touches: {gap}", run.side.word());
            }
        }
    }

    #[test]
    fn the_faces_drawn_are_the_walls() {
        let (plan, model, installation) = old_house();
        let walls = DrawnWalls::new(&plan, &installation, 10.0);
        for part in walls.parts(model.parts.len()).iter().filter(|part| part.role == Role::Wall) {
            let side = part.run.expect("a wall is behind a run");
            let (angle, place) = (plan.room.angle_deg.to_radians(), installation.setting.place);
            // Half of the corners lie on the face, less those where the wall goes on past the corner of the room.
            let mut faces = 0;
            for point in pieces(part) {
                let [along, out] = place.on_wall(side, angle, point);
                let [_, wanted] = place.on_wall(side, angle, walls.point(side, along, point.z));
                // Patches hold up to 0.2 mm more wall than there is, and their slope is drawn ten times as well.
                if (out - wanted).abs() < 2.5 {
                    faces += 1;
                }
            }
            assert!(
                faces * 5 >= pieces(part).count() * 2,
                "{faces} of {} corners lie on the {} wall",
                pieces(part).count(),
                side.word()
            );
        }
    }

    #[test]
    fn nothing_measured_comes_through_a_cabinet_it_does_not_touch() {
        let (plan, model, installation) = old_house();
        let parts = DrawnWalls::new(&plan, &installation, 20.0).parts(model.parts.len());
        for part in parts.iter().filter(|part| part.role == Role::Wall) {
            let side = part.run.expect("a wall is behind a run");
            let run = installation.model.run(side);
            let high = plan.construction.height.to_mm();
            let behind =
                pieces(part).filter(|p| p.z <= high && (run.starts_at..run.ends_at).contains(&p.dot(run.along)));
            let most = behind.map(|p| p.dot(run.out)).fold(f64::NEG_INFINITY, f64::max);
            assert!(most < 4.5, "the {} wall is drawn {most} mm into the run", side.word());
        }
    }
}
