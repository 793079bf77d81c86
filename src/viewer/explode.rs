//! How is it put together? Parts drawn apart, as on a fitter's sheet: fronts and boxes out, sides apart, tops up, each
//! unit away from the next.
//!
//! [`taken_apart`] says for each part where to, when wholly apart; nothing of it touches the model or what was found out
//! about it. While parts are apart, nothing is marked.

use std::collections::BTreeMap;

use bevy::prelude::*;
use bevy::window::RequestRedraw;

use super::install::DrawnRoom;
use super::motion::Poses;
use super::scene::{Body, Home};
use super::shown::Shown;
use super::{ViewerSystems, frame};
use crate::model::{Model, Part, Role, Vec3 as RoomVec3};
use crate::plan::Side;

/// How far out from the wall, in mm: carcasses, what is on their front edges, boxes, fronts, pulls. Our own choice.
const CARCASS_OUT: f64 = 120.0;
const EDGE_OUT: f64 = 190.0;
const BOX_OUT: f64 = 430.0;
const FRONT_OUT: f64 = 580.0;
const PULL_OUT: f64 = 660.0;
/// Further along the run than anything comes out, so that the two runs part in the corner.
const RUN_ALONG: f64 = 800.0;
/// From one unit to the next, more than two sides move apart.
const UNIT_ALONG: f64 = 220.0;
/// Sides, and box sides and ends, from the middle.
const SIDE_APART: f64 = 60.0;
const BOX_APART: f64 = 40.0;
/// Up: countertop; tops, stretchers and nailers.
const COUNTERTOP_UP: f64 = 420.0;
const TOP_UP: f64 = 130.0;
/// From 0 to wholly apart in this many seconds.
const SECONDS: f64 = 0.6;

/// How far apart the parts are drawn: 0 as built, 1 wholly apart.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq)]
pub struct Exploded {
    goal: f64,
    now: f64,
}

impl Exploded {
    /// Asks for it.
    pub fn ask(&mut self, goal: f64) {
        self.goal = goal.clamp(0.0, 1.0);
    }

    /// What was asked for.
    #[must_use]
    pub fn goal(&self) -> f64 {
        self.goal
    }

    /// How far apart they are drawn now.
    #[must_use]
    pub fn now(&self) -> f64 {
        self.now
    }

    /// Whether anything is drawn elsewhere than it is built, or will be.
    #[must_use]
    pub fn is_apart(&self) -> bool {
        self.now > 0.0 || self.goal > 0.0
    }
}

/// For each part of `model`, in their order, how far and where to it moves when wholly apart; mm, room frame.
#[must_use]
pub fn taken_apart(model: &Model) -> Vec<RoomVec3> {
    let middles = unit_middles(model);
    model.parts.iter().map(|part| away(model, part, &middles)).collect()
}

/// How far along its run the middle of each unit's carcass is.
fn unit_middles(model: &Model) -> BTreeMap<(Side, usize), f64> {
    let mut extents: BTreeMap<(Side, usize), [f64; 2]> = BTreeMap::new();
    for part in model.parts.iter().filter(|part| part.mover.is_none()) {
        if let (Some(side), Some(unit)) = (part.run, part.unit) {
            let along = model.run(side).along;
            let extent = extents.entry((side, unit)).or_insert([f64::INFINITY, f64::NEG_INFINITY]);
            for s in part.pieces.iter().flat_map(crate::model::Convex::vertices).map(|v| v.dot(along)) {
                *extent = [extent[0].min(s), extent[1].max(s)];
            }
        }
    }
    extents.into_iter().map(|(unit, [low, high])| (unit, f64::midpoint(low, high))).collect()
}

fn away(model: &Model, part: &Part, middles: &BTreeMap<(Side, usize), f64>) -> RoomVec3 {
    if part.role == Role::Countertop {
        return RoomVec3::Z * COUNTERTOP_UP;
    }
    let of_room =
        matches!(part.role, Role::Wall | Role::EndWall | Role::Baseboard | Role::Casing | Role::Obstacle | Role::Floor);
    let (Some(side), false) = (part.run, of_room) else { return RoomVec3::ZERO };
    let run = model.run(side);
    let middle = match (part.mover, part.unit) {
        (Some(mover), _) => middle_of(model.mover(mover).parts.iter().map(|&id| model.part(id))),
        (None, Some(unit)) => {
            run.along * middles.get(&(side, unit)).copied().unwrap_or(0.0) + run.out * run.depth / 2.0
        }
        (None, None) => part.middle(),
    };
    let from_middle = part.middle() - middle;
    let apart = |direction: RoomVec3, by: f64| by.copysign(from_middle.dot(direction));
    let (mut along, mut out, mut up) = (0.0, CARCASS_OUT, 0.0);
    match part.role {
        Role::DrawerFront | Role::DoorFront => out = FRONT_OUT,
        Role::Pull => out = PULL_OUT,
        Role::BoxSide => (along, out) = (apart(run.along, BOX_APART), BOX_OUT),
        Role::BoxEnd => out = BOX_OUT + apart(run.out, BOX_APART),
        Role::BoxBottom => (out, up) = (BOX_OUT, -BOX_APART),
        Role::CarcassSide | Role::EndPanel => along = apart(run.along, SIDE_APART),
        Role::CarcassTop | Role::Stretcher => up = TOP_UP,
        Role::Nailer => (out, up) = (0.0, TOP_UP),
        Role::Back => out = 0.0,
        Role::EdgeStrip | Role::FrameStile | Role::FrameRail | Role::KickCover => out = EDGE_OUT,
        Role::FillerFace => out = FRONT_OUT / 2.0,
        _ => {}
    }
    // The corner's own pieces stay in the corner, and part from each other as they come out.
    let in_the_corner = matches!(part.role, Role::FillerFace | Role::BackingBlock | Role::KickBlock);
    if !in_the_corner {
        along += RUN_ALONG + UNIT_ALONG * part.unit.unwrap_or(0) as f64;
    }
    run.along * along + run.out * out + RoomVec3::Z * up
}

fn middle_of<'m>(parts: impl Iterator<Item = &'m Part>) -> RoomVec3 {
    let (mut sum, mut count) = (RoomVec3::ZERO, 0.0);
    for part in parts {
        (sum, count) = (sum + part.middle(), count + 1.0);
    }
    if count > 0.0 { sum / count } else { sum }
}

/// Registers the exploded view.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Exploded>();
    app.add_systems(Update, (animate, spread).chain().in_set(ViewerSystems::Draw));
}

fn animate(
    time: Res<'_, Time>,
    poses: Res<'_, Poses>,
    mut exploded: ResMut<'_, Exploded>,
    mut redraw: MessageWriter<'_, RequestRedraw>,
) {
    let left = exploded.goal - exploded.now;
    if left == 0.0 {
        return;
    }
    // After a pause the clock may jump.
    let step = time.delta_secs_f64().min(0.1) / SECONDS;
    exploded.now += if poses.at_once { left } else { left.clamp(-step, step) };
    redraw.write(RequestRedraw);
}

fn spread(
    shown: Res<'_, Shown>,
    room: Res<'_, DrawnRoom>,
    exploded: Res<'_, Exploded>,
    mut bodies: Query<'_, '_, (&Body, &Home, &mut Transform)>,
) {
    // A new scene is built as the model stands.
    let built_anew = (shown.is_changed() || room.is_changed()) && exploded.is_apart();
    if !exploded.is_changed() && !built_anew {
        return;
    }
    let share = exploded.now;
    let away = if share > 0.0 { taken_apart(shown.model()) } else { Vec::new() };
    for (body, home, mut transform) in &mut bodies {
        let by = away.get(body.part.0).map_or(Vec3::ZERO, |by| frame::to_bevy(*by * share));
        if transform.translation != home.0 + by {
            transform.translation = home.0 + by;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clearance;
    use crate::model::Convex;
    use crate::plan;

    fn models() -> Vec<Model> {
        [
            include_str!("../../assets/plans/glazing-corner.ron"),
            include_str!("../../assets/plans/old-house.ron"),
            include_str!("../../assets/plans/print-room.ron"),
        ]
        .map(|text| clearance::answer(&plan::read("plan", text).unwrap()).model)
        .into()
    }

    fn bounds(parts: &[&Part], away: &[RoomVec3]) -> [RoomVec3; 2] {
        let corners = parts.iter().flat_map(|part| part.pieces.iter().map(move |p| (part.id, p)));
        corners
            .flat_map(|(id, piece): (_, &Convex)| piece.vertices().map(move |v| v + away[id.0]).collect::<Vec<_>>())
            .fold([RoomVec3::INFINITY, RoomVec3::NEG_INFINITY], |[low, high], v| [low.min(v), high.max(v)])
    }

    #[test]
    fn fronts_and_boxes_come_out_tops_go_up_and_the_room_stays() {
        for model in models() {
            let away = taken_apart(&model);
            for part in &model.parts {
                let by = away[part.id.0];
                match part.role {
                    Role::DrawerFront | Role::DoorFront => {
                        assert!(by.dot(model.run(part.run.unwrap()).out) > 500.0 && by.z.abs() < 1e-9);
                    }
                    Role::BoxSide => assert!(by.dot(model.run(part.run.unwrap()).out) > 300.0),
                    Role::Countertop | Role::CarcassTop => assert!(by.z > 100.0),
                    Role::Wall | Role::Floor | Role::EndWall => assert!(by.length() < 1e-9),
                    _ => {}
                }
            }
        }
    }

    #[test]
    fn the_two_sides_of_a_unit_move_apart() {
        for model in models() {
            let away = taken_apart(&model);
            for side in Side::BOTH {
                let along = model.run(side).along;
                let is_side = |p: &&Part| p.role == Role::CarcassSide && p.run == Some(side) && p.unit == Some(0);
                let sides: Vec<&Part> = model.parts.iter().filter(is_side).collect();
                let [near, far] = sides[..] else { continue };
                let before = (far.middle() - near.middle()).dot(along).abs();
                let after = (far.middle() + away[far.id.0] - near.middle() - away[near.id.0]).dot(along).abs();
                assert!((after - before - 2.0 * SIDE_APART).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn taken_apart_no_unit_is_in_another() {
        for model in models() {
            let away = taken_apart(&model);
            let mut units: BTreeMap<(Option<Side>, Option<usize>), Vec<&Part>> = BTreeMap::new();
            for part in model.parts.iter().filter(|part| part.unit.is_some()) {
                units.entry((part.run, part.unit)).or_default().push(part);
            }
            let boxes: Vec<_> = units.iter().map(|(unit, parts)| (unit, bounds(parts, &away))).collect();
            assert!(boxes.len() > 2);
            for (k, (a, [low_a, high_a])) in boxes.iter().enumerate() {
                for (b, [low_b, high_b]) in &boxes[k + 1..] {
                    let shared = high_a.min(*high_b) - low_a.max(*low_b);
                    // The runs of these plans are nearly square to each other, so boxes along the axes tell.
                    assert!(shared.min_element() < 1e-6, "{}: {a:?} and {b:?} share {shared}", model.name);
                }
            }
        }
    }
}
