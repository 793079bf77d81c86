//! What stands in the room? An entity for each part of the model, built anew whenever the model changes.
//!
//! Parts of a drawer or door hang below one [`MoverRoot`], which moves them together. Meshes and finishes are shared;
//! see [`super::shape`], [`super::coat`] and [`super::finish`].

use bevy::light::NotShadowCaster;
use bevy::mesh::MeshTag;
use bevy::picking::Pickable;
use bevy::prelude::*;

use super::camera::Eye;
use super::coat::{self, Coat};
use super::finish::{Lit, State, Wardrobe};
use super::install::{DrawnRoom, Standing};
use super::layers::{Shade, Show};
use super::marks::Marks;
use super::measure::Measuring;
use super::motion::Poses;
use super::pick::Hovered;
use super::pointed::Pointed;
use super::quality::{Level, Quality};
use super::settings::{Audience, Settings};
use super::shape::{Grown, Shapes};
use super::shown::Shown;
use super::solid::Solid;
use super::{ViewerSystems, frame};
use crate::model::{Convex, Model, MoverId, Part, PartId, Role, Vec3 as RoomVec3, finish};

/// A drawer or door: moves all that hangs below it.
#[derive(Component, Clone, Copy, Debug, PartialEq, Eq)]
pub struct MoverRoot(pub MoverId);

/// A part, drawn with all of its pieces.
#[derive(Component, Clone, Copy, Debug, PartialEq, Eq)]
pub struct Body {
    /// Which part.
    pub part: PartId,
}

/// Where a part is drawn below its drawer, its door or the model, as built.
#[derive(Component, Clone, Copy, Debug, PartialEq)]
pub struct Home(pub Vec3);

/// What a part wears.
#[derive(Component, Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Worn(pub(super) Coat);

/// Whether one looks through a part, and why.
#[derive(Component, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Veil {
    /// One does not.
    #[default]
    Opaque,
    /// It is kept back so that what lies below is seen.
    Ghosted,
    /// It stands in the way of the eye, and so is only just drawn.
    Faded,
}

/// Everything that was built from the model hangs below this.
#[derive(Component, Debug)]
struct Built;

/// Registers the scene.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Show>().init_resource::<Shapes>();
    app.insert_resource(ClearColor(super::look::BACKDROP));
    app.add_systems(Update, rebuild.run_if(is_another_scene).in_set(ViewerSystems::Rebuild));
    app.add_systems(Update, (show_layers, dress).chain().in_set(ViewerSystems::Dress));
}

fn is_another_scene(shown: Res<'_, Shown>, room: Res<'_, DrawnRoom>) -> bool {
    shown.is_changed() || room.is_changed()
}

fn rebuild(
    mut commands: Commands<'_, '_>,
    (shown, room): (Res<'_, Shown>, Res<'_, DrawnRoom>),
    poses: Res<'_, Poses>,
    old: Query<'_, '_, Entity, With<Built>>,
    mut shapes: ResMut<'_, Shapes>,
    mut meshes: ResMut<'_, Assets<Mesh>>,
) {
    for old in &old {
        commands.entity(old).despawn();
    }
    let model = shown.model();
    let built = commands.spawn((Name::new("model"), Built, Transform::IDENTITY, Visibility::default())).id();
    let roots: Vec<Entity> = model
        .movers
        .iter()
        .map(|mover| {
            let there = frame::opened(&mover.motion, poses.of(mover).now());
            let bundle = (Name::new(mover.name.clone()), MoverRoot(mover.id), there, Visibility::default());
            commands.spawn((bundle, ChildOf(built))).id()
        })
        .collect();
    shapes.begin();
    for part in model.parts.iter().map(|part| room.instead_of(part)).chain(room.besides(model)) {
        let parent = part.mover.and_then(|id| roots.get(id.0)).copied().unwrap_or(built);
        let worn = Worn(coat::coat(shown.plan(), model, part));
        let grown = Grown::of(part, finish::grain(model, part));
        let (mesh, at) = shapes.of(&part.pieces, &grown, &mut meshes);
        let mut spawned = commands.spawn((
            Name::new(part.name.clone()),
            Body { part: part.id },
            Home(at),
            (worn, Veil::Opaque),
            Mesh3d(mesh),
            MeshTag(tag(part)),
            Transform::from_translation(at),
            ChildOf(parent),
        ));
        if is_room(part.role) {
            // The room is lit as if from a window.
            spawned.insert(NotShadowCaster);
        }
    }
    shapes.finish();
}

/// Gives each part the material of its coat and its state, of the kind that the quality asks for.
fn dress(
    mut commands: Commands<'_, '_>,
    shown: Res<'_, Shown>,
    marks: Res<'_, Marks>,
    (hovered, pointed, standing): (Res<'_, Hovered>, Res<'_, Pointed>, Standing<'_>),
    level: Res<'_, Level>,
    mut wardrobe: Wardrobe<'_>,
    mut bodies: Query<
        '_,
        '_,
        (Entity, Option<&Body>, &Worn, &Veil, Option<&mut MeshMaterial3d<Lit>>, Option<&mut MeshMaterial3d<Solid>>),
    >,
) {
    for (entity, body, worn, veil, lit, solid) in &mut bodies {
        let part = body.and_then(|body| shown.model().parts.get(body.part.0));
        let state = match veil {
            _ if part.is_some_and(|part| marks.touches(part.id)) => State::Touching,
            _ if part.is_some_and(|part| pointed.has(part.id) || standing.marks(part)) => State::Pointed,
            _ if hovered.0.is_some() && part.is_some_and(|part| part.mover == hovered.0) => State::Hovered,
            Veil::Faded => State::Faded,
            Veil::Ghosted => State::Ghosted,
            Veil::Opaque => State::Calm,
        };
        let wear = (worn.0, state);
        if level.quality == Quality::Plain {
            let wanted = MeshMaterial3d(wardrobe.lit(wear));
            match lit {
                Some(mut worn) => drop(worn.set_if_neq(wanted)),
                None => drop(commands.entity(entity).remove::<MeshMaterial3d<Solid>>().insert(wanted)),
            }
        } else {
            let wanted = MeshMaterial3d(wardrobe.solid(wear));
            match solid {
                Some(mut worn) => drop(worn.set_if_neq(wanted)),
                None => drop(commands.entity(entity).remove::<MeshMaterial3d<Lit>>().insert(wanted)),
            }
        }
    }
}

/// Shades the layers as asked for, fades every wall that stands between the eye and the corner, and lets the builder look
/// through the countertop; what one looks through lets the mouse through as well, and casts no shadow. To be measured, the
/// countertop is there for the mouse. While the work is gone through step by step, what comes later is not there.
fn show_layers(
    mut commands: Commands<'_, '_>,
    shown: Res<'_, Shown>,
    show: Res<'_, Show>,
    (settings, standing): (Res<'_, Settings>, Standing<'_>),
    measuring: Res<'_, Measuring>,
    eye: Res<'_, Eye>,
    mut bodies: Query<'_, '_, (Entity, &Body, Has<Pickable>, &mut Veil, &mut Visibility)>,
) {
    let watched = looked_at(shown.model());
    for (entity, body, ignored, mut veil, mut visibility) in &mut bodies {
        let Some(part) = shown.model().parts.get(body.part.0) else { continue };
        let shade = show.shade(part.role);
        let hidden = shade == Shade::Hidden || standing.hides(part);
        visibility.set_if_neq(if hidden { Visibility::Hidden } else { Visibility::Inherited });
        let looked_through = part.role == Role::Countertop && settings.audience == Audience::Builder;
        let wanted = if hides_the_corner(part, eye.at, &watched) {
            Veil::Faded
        } else if shade == Shade::Ghosted || looked_through {
            Veil::Ghosted
        } else {
            Veil::Opaque
        };
        let mut entity = commands.entity(entity);
        if veil.set_if_neq(wanted) {
            if wanted != Veil::Opaque {
                entity.insert(NotShadowCaster);
            } else if !is_room(part.role) {
                entity.remove::<NotShadowCaster>();
            }
        }
        let to_measure = looked_through && shade == Shade::Shown && measuring.on;
        let lets_through = wanted == Veil::Faded || (wanted == Veil::Ghosted && !to_measure);
        if lets_through && !ignored {
            entity.insert(Pickable::IGNORE);
        } else if !lets_through && ignored {
            entity.remove::<Pickable>();
        }
    }
}

/// Tells parts apart in the shaders, so that no two boards have the same grain; the room's patterns meet in its corner.
fn tag(part: &Part) -> u32 {
    if is_room(part.role) { 0 } else { u32::try_from(part.id.0).unwrap_or(u32::MAX) }
}

pub(super) fn is_room(role: Role) -> bool {
    may_hide(role) || role == Role::Floor
}

/// Whether such a part fades where it hides the corner.
fn may_hide(role: Role) -> bool {
    matches!(role, Role::Wall | Role::EndWall | Role::Baseboard | Role::Casing | Role::Obstacle)
}

/// The points that a wall must not hide: where the fronts meet, and along both runs.
pub(super) fn looked_at(model: &Model) -> Vec<RoomVec3> {
    // A hand's breadth short of the end, where an end wall may stand close by.
    const SHORT: f64 = 100.0;
    model
        .runs
        .iter()
        .flat_map(|run| {
            let stops = [run.corner_at, (run.starts_at + run.ends_at) / 2.0, run.ends_at - SHORT];
            stops.into_iter().flat_map(|s| [300.0, 800.0].map(|z| run.at(s, run.depth + 60.0, z)))
        })
        .collect()
}

/// Whether a wall stands between the eye and what it should see, or has the eye inside it.
pub(super) fn hides_the_corner(part: &Part, eye: Option<RoomVec3>, watched: &[RoomVec3]) -> bool {
    let (Some(eye), true) = (eye, may_hide(part.role)) else { return false };
    part.pieces.iter().any(|piece| watched.iter().any(|&point| passes_through(piece, eye, point)))
}

/// Whether the straight line from `from` to `to` goes through `piece`.
pub(super) fn passes_through(piece: &Convex, from: RoomVec3, to: RoomVec3) -> bool {
    let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
    for face in piece.faces() {
        let [a, b, c, ..] = face.as_slice() else { continue };
        let normal = (*b - *a).cross(*c - *a);
        let (start, along) = (normal.dot(from - *a), normal.dot(to - from));
        // Outside where start + t·along > 0.
        if along.abs() < 1e-12 {
            if start > 0.0 {
                return false;
            }
        } else if along < 0.0 {
            enters = enters.max(-start / along);
        } else {
            leaves = leaves.min(-start / along);
        }
    }
    enters < leaves
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wall_between_eye_and_corner_is_seen_through() {
        let wall = Convex::block(RoomVec3::ZERO, RoomVec3::X * 3000.0, RoomVec3::Y * -100.0, RoomVec3::Z * 2400.0);
        let front = RoomVec3::new(600.0, 600.0, 800.0);
        assert!(passes_through(&wall, RoomVec3::new(800.0, -2000.0, 1500.0), front));
        assert!(!passes_through(&wall, RoomVec3::new(2000.0, 2000.0, 1500.0), front));
        assert!(passes_through(&wall, RoomVec3::new(800.0, -50.0, 1500.0), front));
    }
}
