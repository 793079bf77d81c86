//! What stands in the room? An entity for each piece of each part of the model, built anew whenever the model changes.
//!
//! Parts of a drawer or door hang below one [`MoverRoot`], which moves them together. Meshes and finishes are shared;
//! see [`super::shape`] and [`super::look`].

use bevy::light::{CascadeShadowConfigBuilder, NotShadowCaster};
use bevy::picking::Pickable;
use bevy::prelude::*;

use super::action::Layer;
use super::camera::Eye;
use super::finish::{Finish, Finishes, Lit};
use super::marks::Marks;
use super::motion::Poses;
use super::pick::Hovered;
use super::shape::Shapes;
use super::shown::Shown;
use super::{ViewerSystems, frame};
use crate::model::{Convex, Material, Model, MoverId, Part, PartId, Role, Vec3 as RoomVec3};

/// A drawer or door: moves all that hangs below it.
#[derive(Component, Clone, Copy, Debug, PartialEq, Eq)]
pub struct MoverRoot(pub MoverId);

/// One piece of a part.
#[derive(Component, Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Its part.
    pub part: PartId,
    /// Its index in the part's pieces.
    pub index: usize,
}

/// Whether a piece stands in the way of the eye, and so is only just drawn.
#[derive(Component, Clone, Copy, Debug, PartialEq, Eq)]
struct Faded(bool);

/// Everything that was built from the model hangs below this.
#[derive(Component, Debug)]
struct Built;

/// Which layers are shown.
#[derive(Resource, Clone, Copy, Debug, PartialEq, Eq)]
pub struct Show {
    /// The countertop, which one looks through.
    pub countertop: bool,
    /// Walls, and what is fixed to them.
    pub walls: bool,
    /// Drawer fronts, doors and their pulls.
    pub fronts: bool,
}

impl Default for Show {
    fn default() -> Self {
        Self { countertop: true, walls: true, fronts: true }
    }
}

impl Show {
    /// Shows or hides a layer.
    pub fn set(&mut self, layer: Layer, visible: bool) {
        match layer {
            Layer::Countertop => self.countertop = visible,
            Layer::Walls => self.walls = visible,
            Layer::Fronts => self.fronts = visible,
        }
    }

    /// Whether parts of this role are shown.
    #[must_use]
    pub fn shows(&self, role: Role) -> bool {
        match role {
            Role::Countertop => self.countertop,
            Role::Wall | Role::EndWall | Role::Baseboard | Role::Casing => self.walls,
            Role::DrawerFront | Role::DoorFront | Role::Pull => self.fronts,
            _ => true,
        }
    }
}

/// Registers the scene.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Show>().init_resource::<Shapes>();
    app.insert_resource(ClearColor(super::look::BACKDROP));
    app.add_systems(PreStartup, light);
    app.add_systems(Update, rebuild.run_if(resource_changed::<Shown>).in_set(ViewerSystems::Rebuild));
    app.add_systems(Update, (show_layers, dress).chain().in_set(ViewerSystems::Dress));
}

/// A sun that comes over the left shoulder of a person who faces the corner, and a weaker light from the right that keeps
/// the shaded run readable.
fn light(mut commands: Commands<'_, '_>, shown: Res<'_, Shown>, mut finishes: ResMut<'_, Finishes>) {
    let [left, right] = &shown.model().runs;
    let (into, across) = (left.along + right.along, left.along - right.along);
    let from = |into_by: f64, across_by: f64, up: f64| {
        frame::direction(into * into_by + across * across_by + RoomVec3::Z * up)
    };
    finishes.set_fill(from(0.8, -0.9, 0.8), 0.30);
    commands.spawn((
        Name::new("sun"),
        DirectionalLight { shadow_maps_enabled: true, shadow_normal_bias: 1.2, ..default() },
        CascadeShadowConfigBuilder { num_cascades: 1, minimum_distance: 0.1, maximum_distance: 8.0, ..default() }
            .build(),
        Transform::from_translation(from(0.9, 0.75, 1.9)).looking_at(Vec3::ZERO, Vec3::Y),
    ));
}

fn rebuild(
    mut commands: Commands<'_, '_>,
    shown: Res<'_, Shown>,
    poses: Res<'_, Poses>,
    old: Query<'_, '_, Entity, With<Built>>,
    mut shapes: ResMut<'_, Shapes>,
    mut finishes: ResMut<'_, Finishes>,
    mut meshes: ResMut<'_, Assets<Mesh>>,
    mut materials: ResMut<'_, Assets<Lit>>,
    mut images: ResMut<'_, Assets<Image>>,
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
    for part in &model.parts {
        let parent = part.mover.and_then(|id| roots.get(id.0)).copied().unwrap_or(built);
        let finish = finishes.of(Finish::Plain(part.material), &mut materials, &mut images);
        for (index, piece) in part.pieces.iter().enumerate() {
            let (mesh, at) = shapes.of(piece, part.grain, &mut meshes);
            let mut spawned = commands.spawn((
                Name::new(part.name.clone()),
                Piece { part: part.id, index },
                Faded(false),
                Mesh3d(mesh),
                MeshMaterial3d(finish.clone()),
                Transform::from_translation(at),
                ChildOf(parent),
            ));
            if is_room(part.role) || part.material == Material::Countertop {
                // The room is lit as if from a window; walls and a countertop that one looks through cast no shadow.
                spawned.insert(NotShadowCaster);
            }
            if part.material == Material::Countertop {
                spawned.insert(Pickable::IGNORE);
            }
        }
    }
    shapes.finish();
}

/// Gives each piece the finish that tells its state: touching, under the mouse, or in the way.
fn dress(
    shown: Res<'_, Shown>,
    marks: Res<'_, Marks>,
    hovered: Res<'_, Hovered>,
    mut finishes: ResMut<'_, Finishes>,
    mut materials: ResMut<'_, Assets<Lit>>,
    mut images: ResMut<'_, Assets<Image>>,
    mut pieces: Query<'_, '_, (&Piece, &Faded, &mut MeshMaterial3d<Lit>)>,
) {
    for (piece, faded, mut material) in &mut pieces {
        let Some(part) = shown.model().parts.get(piece.part.0) else { continue };
        let finish = if marks.touches(part.id) {
            Finish::Touching(part.material)
        } else if part.mover.is_some() && part.mover == hovered.0 {
            Finish::Hovered(part.material)
        } else if faded.0 {
            Finish::Faded(part.material)
        } else {
            Finish::Plain(part.material)
        };
        let wanted = finishes.of(finish, &mut materials, &mut images);
        if material.0 != wanted {
            material.0 = wanted;
        }
    }
}

/// Hides the layers that are not wanted, and fades every wall that stands between the eye and the corner; what is faded
/// lets the mouse through as it lets the eye.
fn show_layers(
    mut commands: Commands<'_, '_>,
    shown: Res<'_, Shown>,
    show: Res<'_, Show>,
    eye: Res<'_, Eye>,
    mut pieces: Query<'_, '_, (Entity, &Piece, &mut Faded, &mut Visibility)>,
) {
    let watched = looked_at(shown.model());
    for (entity, piece, mut faded, mut visibility) in &mut pieces {
        let Some(part) = shown.model().parts.get(piece.part.0) else { continue };
        visibility.set_if_neq(if show.shows(part.role) { Visibility::Inherited } else { Visibility::Hidden });
        let in_the_way = hides_the_corner(part, piece.index, eye.at, &watched);
        if faded.set_if_neq(Faded(in_the_way)) {
            if in_the_way {
                commands.entity(entity).insert(Pickable::IGNORE);
            } else {
                commands.entity(entity).remove::<Pickable>();
            }
        }
    }
}

fn is_room(role: Role) -> bool {
    may_hide(role) || role == Role::Floor
}

/// Whether such a part fades where it hides the corner.
fn may_hide(role: Role) -> bool {
    matches!(role, Role::Wall | Role::EndWall | Role::Baseboard | Role::Casing | Role::Obstacle)
}

/// The points that a wall must not hide: where the fronts meet, and along both runs.
fn looked_at(model: &Model) -> Vec<RoomVec3> {
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
fn hides_the_corner(part: &Part, index: usize, eye: Option<RoomVec3>, watched: &[RoomVec3]) -> bool {
    let (Some(eye), true, Some(piece)) = (eye, may_hide(part.role), part.pieces.get(index)) else { return false };
    watched.iter().any(|&point| passes_through(piece, eye, point))
}

/// Whether the straight line from `from` to `to` goes through `piece`.
fn passes_through(piece: &Convex, from: RoomVec3, to: RoomVec3) -> bool {
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
