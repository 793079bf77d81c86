//! Which joints are caulked? The fixed joints of painted work, measured on the model.
//!
//! Never caulked: what opens or comes off (fronts, drawers, kick covers that are clipped to legs), what has a clear or
//! stained finish, and a kick cover on a floor that may move under it (boards). A gap wider than what is left on the piece
//! for fitting is no joint: it is closed with wood first. Common practice, no source.

use super::step::CaulkJoint;
use crate::length::SNAP_MM;
use crate::model::finish::finish;
use crate::model::{Model, Part, Role, Vec3};
use crate::plan::{Base, FarEnd, Finish, Plan, Side};

/// A joint of a fitted piece is no wider than this even where nothing is left on for fitting: 1/16 in. Common practice, no
/// source.
const JOINT: f64 = 1.5875;

/// Every joint that is caulked, in the order of the model's parts.
pub(super) fn joints(plan: &Plan, model: &Model) -> Vec<CaulkJoint> {
    let work = Work { plan, model };
    let mut joints = Vec::new();
    work.corner(&mut joints);
    for side in Side::BOTH {
        work.beside_filler(side, &mut joints);
        work.at_walls(side, &mut joints);
        work.under_top(side, &mut joints);
        work.at_floor(side, &mut joints);
    }
    work.top_to_wall(&mut joints);
    joints.retain(|joint| joint.length > SNAP_MM);
    joints
}

struct Work<'m> {
    plan: &'m Plan,
    model: &'m Model,
}

impl<'m> Work<'m> {
    fn painted(&self, part: &Part) -> bool {
        matches!(finish(self.plan, self.model, part), Some(Finish::Painted(_)))
    }

    /// Whether it stays where it is: nothing that opens, and no kick cover clipped to legs.
    fn stays(&self, part: &Part) -> bool {
        part.mover.is_none() && !(part.role == Role::KickCover && self.plan.construction.base == Base::Legs)
    }

    /// The painted fixed parts of `side` that are `wanted`.
    fn parts(&self, side: Side, wanted: fn(&Part) -> bool) -> impl Iterator<Item = &'m Part> {
        let own = move |part: &&Part| part.run == Some(side) && wanted(part);
        self.model.parts.iter().filter(own).filter(|part| self.painted(part) && self.stays(part))
    }

    /// Where the two filler faces, corner stiles or kick covers meet.
    fn corner(&self, joints: &mut Vec<CaulkJoint>) {
        let corner = |part: &Part| part.unit.is_none() && matches!(part.role, Role::FillerFace | Role::FrameStile);
        let kick = |part: &Part| part.role == Role::KickCover;
        for wanted in [corner as fn(&Part) -> bool, kick] {
            let [left, right] = Side::BOTH.map(|side| self.parts(side, wanted).next());
            if let (Some(left), Some(right)) = (left, right) {
                joints.push(CaulkJoint { part: left.id, meets: right.id, length: overlap(left, right, Vec3::Z) });
            }
        }
    }

    /// Where a filler face meets the painted frame, edge or panel of the first unit.
    fn beside_filler(&self, side: Side, joints: &mut Vec<CaulkJoint>) {
        let run = self.model.run(side);
        let Some(face) = self.parts(side, |part| part.role == Role::FillerFace).next() else { return };
        let beside = |part: &Part| {
            part.unit == Some(0)
                && matches!(part.role, Role::FrameStile | Role::EdgeStrip | Role::CarcassSide | Role::EndPanel)
        };
        let at_face = |part: &&Part| (part.extent(run.along)[0] - run.starts_at).abs() < JOINT;
        let foremost = |a: &&Part, b: &&Part| a.extent(run.out)[1].total_cmp(&b.extent(run.out)[1]);
        if let Some(unit) = self.parts(side, beside).filter(at_face).max_by(foremost) {
            joints.push(CaulkJoint { part: face.id, meets: unit.id, length: overlap(face, unit, Vec3::Z) });
        }
    }

    /// Where an end panel's back edge meets its wall, and where the run's last piece meets the wall it ends at.
    fn at_walls(&self, side: Side, joints: &mut Vec<CaulkJoint>) {
        let (run, plan_run) = (self.model.run(side), self.plan.run(side));
        let last = plan_run.units.len().checked_sub(1);
        let of_wall = |role: Role| {
            let mut walls = self.model.parts.iter().filter(|part| part.run == Some(side) && part.role == role);
            walls.find(|part| self.painted(part))
        };
        let board = self.plan.room.baseboard.map_or(0.0, |board| board.height.to_mm());
        if plan_run.ends_at != FarEnd::Wall
            && let Some(wall) = of_wall(Role::Wall)
        {
            for panel in self.parts(side, |part| part.role == Role::EndPanel).filter(|part| part.unit == last) {
                let gap = panel.extent(run.out)[0] - farthest(wall, run.out, panel);
                let [low, high] = panel.extent(Vec3::Z);
                let joint = CaulkJoint { part: panel.id, meets: wall.id, length: high - low.max(board) };
                joints.extend((gap <= self.left_on(panel)).then_some(joint));
            }
        }
        if plan_run.ends_at == FarEnd::Wall
            && let Some(wall) = of_wall(Role::EndWall)
        {
            let ends = |part: &Part| matches!(part.role, Role::FrameStile | Role::EndPanel);
            let reaches = |part: &&Part| part.extent(run.along)[1] >= run.ends_at - JOINT;
            let foremost = |a: &&Part, b: &&Part| a.extent(run.out)[1].total_cmp(&b.extent(run.out)[1]);
            let piece = self.parts(side, ends).filter(|part| part.unit == last).filter(reaches).max_by(foremost);
            if let Some(piece) = piece
                && (-SNAP_MM..=self.left_on(piece))
                    .contains(&(run.left_over - (piece.extent(run.along)[1] - run.ends_at)))
            {
                let [low, high] = piece.extent(Vec3::Z);
                joints.push(CaulkJoint { part: piece.id, meets: wall.id, length: high - low });
            }
        }
    }

    /// The widest gap that fitting `part` closes.
    fn left_on(&self, part: &Part) -> f64 {
        part.work.left_on.into_iter().fold(JOINT, f64::max)
    }

    /// Where filler faces and the outer faces of end panels meet the countertop from below.
    fn under_top(&self, side: Side, joints: &mut Vec<CaulkJoint>) {
        let run = self.model.run(side);
        let tops = self.model.parts.iter().filter(|part| part.role == Role::Countertop && part.run == Some(side));
        let Some(top) = tops.min_by(|a, b| a.extent(Vec3::Z)[0].total_cmp(&b.extent(Vec3::Z)[0])) else { return };
        let touches = |part: &&Part| (part.extent(Vec3::Z)[1] - top.extent(Vec3::Z)[0]).abs() < JOINT;
        for part in self.parts(side, |part| part.role == Role::FillerFace).filter(touches) {
            let outer = part.extent(run.out)[1];
            let on_face = part.pieces.iter().flat_map(crate::model::Convex::vertices);
            let on_face = on_face.filter(|v| (v.dot(run.out) - outer).abs() < SNAP_MM).map(|v| v.dot(run.along));
            let [near, far] = on_face.fold([f64::INFINITY, f64::NEG_INFINITY], |[a, b], s| [a.min(s), b.max(s)]);
            // What the other face laps is not seen.
            let length = far - near.max(self.other_face(side, outer));
            joints.push(CaulkJoint { part: part.id, meets: top.id, length });
        }
        let last = self.plan.run(side).units.len().checked_sub(1);
        if self.plan.run(side).ends_at != FarEnd::Wall {
            for panel in self.parts(side, |part| part.role == Role::EndPanel).filter(|part| part.unit == last) {
                if touches(&panel) {
                    let [back, front] = panel.extent(run.out);
                    joints.push(CaulkJoint { part: panel.id, meets: top.id, length: front - back });
                }
            }
        }
    }

    /// How far along `side`'s run the other run's filler face stands, on the plane `n` out from `side`'s back.
    fn other_face(&self, side: Side, n: f64) -> f64 {
        let (own, other) = (self.model.run(side), self.model.run(side.other()));
        let faces = self.model.parts.iter();
        let mut faces = faces.filter(|part| part.run == Some(side.other()) && part.role == Role::FillerFace);
        let Some(outer) = faces.next().map(|part| part.extent(other.out)[1]) else { return f64::NEG_INFINITY };
        (outer - n * own.out.dot(other.out)) / own.along.dot(other.out)
    }

    /// Where a kick cover stands on a floor that does not move under it.
    fn at_floor(&self, side: Side, joints: &mut Vec<CaulkJoint>) {
        if !floor_stays(self.plan.finishes.floor) {
            return;
        }
        let Some(floor) = self.model.parts.iter().find(|part| part.role == Role::Floor) else { return };
        let run = self.model.run(side);
        for cover in self.parts(side, |part| part.role == Role::KickCover) {
            let [near, far] = cover.extent(run.along);
            joints.push(CaulkJoint { part: cover.id, meets: floor.id, length: far - near });
        }
    }

    /// Along the countertop's back edges, where painted walls are met.
    fn top_to_wall(&self, joints: &mut Vec<CaulkJoint>) {
        let walls = self.model.parts.iter().filter(|part| matches!(part.role, Role::Wall | Role::EndWall));
        let walls: Vec<_> = walls.filter(|part| self.painted(part)).collect();
        let tops = self.model.parts.iter().filter(|part| part.role == Role::Countertop);
        for top in tops {
            for wall in &walls {
                let limit = self.left_on(top);
                let length = side_faces(top)
                    .flat_map(|edge| side_faces(wall).map(move |face| meeting(edge, face, limit)))
                    .fold(0.0, f64::max);
                joints.push(CaulkJoint { part: top.id, meets: wall.id, length });
            }
        }
    }
}

/// Whether a floor with this finish lies fast: boards may float.
pub(super) fn floor_stays(finish: Finish) -> bool {
    matches!(finish, Finish::Tile(_) | Finish::Stone(_) | Finish::Concrete)
}

/// How far both reach together along `axis`.
fn overlap(a: &Part, b: &Part, axis: Vec3) -> f64 {
    let ([a0, a1], [b0, b1]) = (a.extent(axis), b.extent(axis));
    (a1.min(b1) - a0.max(b0)).max(0.0)
}

/// How far out along `out` a wall stands behind `part`: its face's plane, followed to the part's place.
fn farthest(wall: &Part, out: Vec3, part: &Part) -> f64 {
    let middle = part.middle();
    let along = Vec3::Z.cross(out);
    let faces = side_faces(wall).filter(|[from, to]| Vec3::Z.cross(*to - *from).dot(out) < 0.0);
    let at = faces.filter_map(|[from, to]| {
        let way = to - from;
        let share = (middle - from).dot(along) / way.dot(along);
        (0.0..=1.0).contains(&share).then(|| (from + way * share).dot(out))
    });
    at.fold(f64::NEG_INFINITY, f64::max)
}

/// The upright faces of a part, each by its lower edge from end to end, outwards on its right hand.
fn side_faces(part: &Part) -> impl Iterator<Item = [Vec3; 2]> {
    let faces = part.pieces.iter().flat_map(crate::model::Convex::faces);
    faces.filter_map(|face| {
        let low = face.iter().map(|p| p.z).fold(f64::INFINITY, f64::min);
        let high = face.iter().map(|p| p.z).fold(f64::NEG_INFINITY, f64::max);
        let lower: Vec<_> = face.iter().enumerate().filter(|(_, p)| p.z < low + SNAP_MM).collect();
        match lower.as_slice() {
            [(i, a), (j, b)] if high > low + SNAP_MM => {
                // Counter-clockwise seen from outside: the lower edge runs left to right.
                let in_turn = j - i == 1;
                Some(if in_turn { [**a, **b] } else { [**b, **a] })
            }
            _ => None,
        }
    })
}

/// How long the upright faces over `edge` and over `wall` look at each other with no more than `limit` between them.
fn meeting(edge: [Vec3; 2], wall: [Vec3; 2], limit: f64) -> f64 {
    let flat = |v: Vec3| Vec3::new(v.x, v.y, 0.0);
    let [a, b, c, d] = [edge[0], edge[1], wall[0], wall[1]].map(flat);
    let (Some(way), Some(wall_way)) = ((b - a).try_normalize(), (d - c).try_normalize()) else { return 0.0 };
    // They look at each other when they run opposite ways; walls out of square by more are no joint.
    if way.dot(wall_way) > -0.99 {
        return 0.0;
    }
    let away = |p: Vec3| wall_way.cross(p - c).z.abs();
    if away(a) > limit || away(b) > limit {
        return 0.0;
    }
    let [c, d] = [c, d].map(|p| (p - a).dot(way));
    let length = (b - a).length();
    (c.max(d).min(length) - c.min(d).max(0.0)).max(0.0)
}
