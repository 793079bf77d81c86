//! How large is it all? A window with its casing, and a few things on the countertop, drawn so that one sees.
//!
//! Scenery is no part: it stands in no list, is never touched and lets the mouse through. It lies on a wall or on the
//! countertop's back, and goes where that wall is faded, so it hides nothing from any place. [`Scenery`] leaves it out.
//!
//! Sizes are common practice, no source: a sill a hand above the countertop, a casing of 70 mm, jars a hand high.

use bevy::picking::Pickable;
use bevy::prelude::*;

use super::camera::Eye;
use super::coat::{Coat, Thing};
use super::explode::Exploded;
use super::install::Standing;
use super::layers::{Shade, Show};
use super::scene::{Veil, Worn, hides_the_corner, looked_at};
use super::shape::{Grown, Shapes, turned};
use super::shown::Shown;
use super::{ViewerSystems, frame};
use crate::model::{Convex, Model, Part, PartId, Role, RunFrame, Vec3 as RoomVec3};

/// Whether scenery is drawn.
#[derive(Resource, Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scenery {
    /// It is.
    pub shown: bool,
}

impl Default for Scenery {
    fn default() -> Self {
        Self { shown: true }
    }
}

/// A piece of scenery, and the part it lies on: it is seen where that is.
#[derive(Component, Clone, Copy, Debug, PartialEq, Eq)]
pub struct LiesOn(PartId);

/// Registers the scenery.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Scenery>();
    app.add_systems(Update, stage.run_if(resource_changed::<Shown>).in_set(ViewerSystems::Rebuild));
    app.add_systems(Update, lift_curtain.in_set(ViewerSystems::Draw));
}

/// Most that a window is wide, and how high its head is.
const WINDOW_WIDTH: f64 = 1_150.0;
const WINDOW_HEAD: f64 = 2_080.0;
/// Space between countertop and sill, from head to ceiling, and to what else is on the wall.
const OVER_COUNTERTOP: f64 = 170.0;
const UNDER_CEILING: f64 = 180.0;
const BESIDE: f64 = 160.0;
/// Width of a casing, of a sash's wood, and how far each stands off the wall.
const CASING: f64 = 70.0;
const SASH: f64 = 38.0;
/// Countertops between these heights get jars; a seat gets none.
const COUNTER_HEIGHTS: std::ops::Range<f64> = 700.0..1_100.0;

/// A wall's face: a point of it on the floor at the corner's end, its directions, and how long it is.
struct Face {
    part: PartId,
    corner: RoomVec3,
    along: RoomVec3,
    out: RoomVec3,
    length: f64,
    height: f64,
}

impl Face {
    /// The face of the wall that `run` backs on to.
    fn of(model: &Model, run: &RunFrame) -> Option<Self> {
        let part = model.parts.iter().find(|part| part.role == Role::Wall && part.run == Some(run.side))?;
        let along = run.wall_along;
        let up = RoomVec3::Z;
        let out = if along.cross(up).dot(run.out) > 0.0 { along.cross(up) } else { up.cross(along) };
        let [s, n, z] = [along, out, up].map(|axis| extent(part, axis));
        // The wall begins behind the corner, by its own thickness.
        let thickness = n[1] - n[0];
        let corner = along * (s[0] + thickness) + out * n[1];
        Some(Self { part: part.id, corner, along, out, length: s[1] - s[0] - thickness, height: z[1] })
    }

    /// A box on the face: from and to along the wall, off its face, and up.
    fn block(&self, s: [f64; 2], n: [f64; 2], z: [f64; 2]) -> Convex {
        Convex::block(
            self.corner + self.along * s[0] + self.out * n[0] + RoomVec3::Z * z[0],
            self.along * (s[1] - s[0]),
            self.out * (n[1] - n[0]),
            RoomVec3::Z * (z[1] - z[0]),
        )
    }

    /// Whether nothing else stands before this stretch of the wall.
    fn is_free(&self, model: &Model, s: [f64; 2], z: [f64; 2]) -> bool {
        let stands = |part: &&Part| {
            let tall = matches!(part.role, Role::CarcassSide | Role::EndPanel);
            tall || matches!(part.role, Role::Obstacle | Role::Appliance | Role::EndWall | Role::Casing)
        };
        model.parts.iter().filter(stands).all(|part| {
            let from = self.corner.dot(self.along);
            let [low, high] = extent(part, self.along).map(|at| at - from);
            let off = extent(part, self.out)[0] - self.corner.dot(self.out);
            let [below, above] = extent(part, RoomVec3::Z);
            high < s[0] || low > s[1] || above < z[0] || below > z[1] || off > 1_000.0
        })
    }
}

fn extent(part: &Part, axis: RoomVec3) -> [f64; 2] {
    let places = part.pieces.iter().flat_map(Convex::vertices).map(|v| v.dot(axis));
    places.fold([f64::MAX, f64::MIN], |[low, high], d| [low.min(d), high.max(d)])
}

/// Where a window is on a face: along the wall and up.
fn window_place(model: &Model, face: &Face) -> Option<([f64; 2], [f64; 2])> {
    let top = |part: &&Part| matches!(part.role, Role::Countertop | Role::Appliance);
    let below = model.parts.iter().filter(top).map(|part| extent(part, RoomVec3::Z)[1]).fold(450.0, f64::max);
    let z = [below + OVER_COUNTERTOP, WINDOW_HEAD.min(face.height - UNDER_CEILING)];
    let width = WINDOW_WIDTH.min(face.length * 0.42);
    let fits = |middle: f64| {
        let s = [middle - width / 2.0, middle + width / 2.0];
        let beside = [s[0] - BESIDE, s[1] + BESIDE];
        let inside = beside[0] > 300.0 && beside[1] < face.length;
        (inside && face.is_free(model, beside, z)).then_some(s)
    };
    let s = [0.52, 0.45, 0.6, 0.38, 0.7].iter().find_map(|share| fits(face.length * share))?;
    (z[1] - z[0] > 450.0 && width > 450.0).then_some((s, z))
}

/// A window: panes, sash and casing, each with what it is.
fn window(face: &Face, s: [f64; 2], z: [f64; 2]) -> Vec<(Thing, Convex)> {
    let [left, right, below, above] = [s[0], s[1], z[0], z[1]];
    let (middle, bar) = ((left + right) / 2.0, below + (above - below) * 0.66);
    let wood = |s: [f64; 2], n: f64, z: [f64; 2]| (Thing::Casing, face.block(s, [0.0, n], z));
    vec![
        (Thing::Pane, face.block(s, [0.0, 3.0], z)),
        wood([left, left + SASH], 12.0, z),
        wood([right - SASH, right], 12.0, z),
        wood([middle - SASH, middle + SASH], 12.0, z),
        wood(s, 11.0, [below, below + SASH]),
        wood(s, 11.0, [above - SASH, above]),
        wood(s, 10.0, [bar - 11.0, bar + 11.0]),
        wood([left - CASING, left], 20.0, z),
        wood([right, right + CASING], 20.0, z),
        wood([left - CASING - 12.0, right + CASING + 12.0], 24.0, [above, above + CASING + 10.0]),
        wood([left - CASING - 25.0, right + CASING + 25.0], 55.0, [below - 26.0, below]),
        wood([left - CASING, right + CASING], 18.0, [below - 26.0 - CASING, below - 26.0]),
    ]
}

/// Radius and height of a jug, of a bowl and of a lidded jar, mm.
const JUG: [[f32; 2]; 12] = [
    [0.0, 0.0],
    [52.0, 0.0],
    [62.0, 12.0],
    [78.0, 70.0],
    [80.0, 110.0],
    [66.0, 165.0],
    [44.0, 205.0],
    [42.0, 225.0],
    [50.0, 248.0],
    [46.0, 248.0],
    [38.0, 236.0],
    [0.0, 234.0],
];
const BOWL: [[f32; 2]; 9] = [
    [0.0, 0.0],
    [50.0, 0.0],
    [56.0, 10.0],
    [104.0, 48.0],
    [128.0, 92.0],
    [124.0, 93.0],
    [98.0, 52.0],
    [50.0, 20.0],
    [0.0, 16.0],
];
const JAR: [[f32; 2]; 10] = [
    [0.0, 0.0],
    [58.0, 0.0],
    [66.0, 8.0],
    [66.0, 118.0],
    [60.0, 130.0],
    [64.0, 134.0],
    [60.0, 144.0],
    [14.0, 150.0],
    [15.0, 166.0],
    [0.0, 170.0],
];

/// Spawns the scenery of the model on screen, in place of the last one's.
fn stage(
    mut commands: Commands<'_, '_>,
    shown: Res<'_, Shown>,
    old: Query<'_, '_, Entity, With<LiesOn>>,
    mut shapes: Local<'_, Shapes>,
    mut meshes: ResMut<'_, Assets<Mesh>>,
) {
    for old in &old {
        commands.entity(old).despawn();
    }
    let model = shown.model();
    let faces: Vec<Face> = model.runs.iter().filter_map(|run| Face::of(model, run)).collect();
    shapes.begin();
    let mut put = |thing: Thing, on: PartId, mesh: Handle<Mesh>, place: Transform| {
        let piece = (Worn(Coat::Scenery(thing)), Veil::Opaque, LiesOn(on), Pickable::IGNORE);
        commands.spawn((Name::new("scenery"), piece, Mesh3d(mesh), place));
    };
    // On the longer wall that has room for it.
    let mut walls: Vec<&Face> = faces.iter().collect();
    walls.sort_by(|a, b| b.length.total_cmp(&a.length));
    let lit = walls.iter().find_map(|face| Some((*face, window_place(model, face)?)));
    let lit_part = lit.as_ref().map(|(face, _)| face.part);
    if let Some((face, (s, z))) = lit {
        for (thing, piece) in window(face, s, z) {
            let along = if thing == Thing::Pane { RoomVec3::Z } else { face.along };
            let (mesh, at) = shapes.of(std::slice::from_ref(&piece), &Grown::of_piece(&piece, along), &mut meshes);
            put(thing, face.part, mesh, Transform::from_translation(at));
        }
    }
    for (run, face) in model.runs.iter().zip(&faces) {
        let top = model.parts.iter().find(|part| part.role == Role::Countertop && part.run == Some(run.side));
        let Some(top) = top else { continue };
        let height = extent(top, RoomVec3::Z)[1];
        if !COUNTER_HEIGHTS.contains(&height) {
            continue;
        }
        let at = |share: f64, off: f64| {
            let s = run.corner_at + (run.ends_at - run.corner_at) * share;
            Transform::from_translation(frame::to_bevy(run.at(s, off, height)))
        };
        match run.side {
            crate::plan::Side::Left => {
                put(Thing::PaleJar, top.id, meshes.add(turned(&JUG)), at(0.22, 150.0));
                put(Thing::DarkJar, top.id, meshes.add(turned(&JAR)), at(0.34, 130.0));
            }
            crate::plan::Side::Right => {
                put(Thing::DarkJar, top.id, meshes.add(turned(&BOWL)), at(0.62, 230.0));
                if lit_part == Some(face.part) {
                    continue;
                }
                // A board that leans on the wall.
                let s = (run.corner_at + run.ends_at) / 2.0 - 230.0;
                let lean = face.out * 50.0;
                let foot = run.at(s, 12.0, height) + lean;
                let up = RoomVec3::Z * 330.0 - lean;
                let thick = up.cross(face.along).normalize() * 18.0;
                let thick = if thick.dot(face.out) > 0.0 { thick } else { -thick };
                let board = Convex::block(foot, face.along * 220.0, thick, up);
                let (mesh, at) =
                    shapes.of(std::slice::from_ref(&board), &Grown::of_piece(&board, up.normalize()), &mut meshes);
                put(Thing::Board, top.id, mesh, Transform::from_translation(at));
            }
        }
    }
    shapes.finish();
}

/// Shows scenery where what it lies on is seen, and hides it where that is faded or left out.
fn lift_curtain(
    shown: Res<'_, Shown>,
    show: Res<'_, Show>,
    exploded: Res<'_, Exploded>,
    (scenery, standing): (Res<'_, Scenery>, Standing<'_>),
    eye: Res<'_, Eye>,
    mut pieces: Query<'_, '_, (&LiesOn, &mut Visibility)>,
) {
    let model = shown.model();
    let watched = looked_at(model);
    // It hangs on the plan's walls and stands on a countertop that has not come yet.
    let built_up = standing.done().is_some();
    for (lies_on, mut visibility) in &mut pieces {
        let seen = model.parts.get(lies_on.0.0).is_some_and(|part| {
            let faded = hides_the_corner(part, eye.at, &watched);
            scenery.shown && !built_up && show.shade(part.role) == Shade::Shown && !exploded.is_apart() && !faded
        });
        visibility.set_if_neq(if seen { Visibility::Inherited } else { Visibility::Hidden });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clearance;
    use crate::plan;

    #[test]
    fn a_window_keeps_clear_of_the_countertop_the_ceiling_and_what_is_on_the_wall() {
        for text in [
            include_str!("../../assets/plans/glazing-corner.ron"),
            include_str!("../../assets/plans/old-house.ron"),
            include_str!("../../assets/plans/print-room.ron"),
        ] {
            let plan = plan::read("plan.ron", text).expect("the example plan is good");
            let model = clearance::answer(&plan).model;
            for face in model.runs.iter().filter_map(|run| Face::of(&model, run)) {
                let Some((s, z)) = window_place(&model, &face) else { continue };
                assert!(s[0] > 0.0 && s[1] < face.length && z[1] < face.height);
                for (_, piece) in window(&face, s, z) {
                    for part in &model.parts {
                        let apart = [face.along, face.out, RoomVec3::Z].iter().any(|&axis| {
                            let ends = piece.vertices().map(|v| v.dot(axis));
                            let (low, high) = ends.fold((f64::MAX, f64::MIN), |(l, h), d| (l.min(d), h.max(d)));
                            let [below, above] = extent(part, axis);
                            high <= below + 1e-6 || low >= above - 1e-6
                        });
                        assert!(apart || part.role == Role::Wall, "{} is behind the window", part.name);
                    }
                }
            }
        }
    }
}
