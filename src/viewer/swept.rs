//! Where does it pass? The volume that a drawer or door sweeps from shut to open, as a translucent body.
//!
//! A piece that slides covers the convex body that the clearance check reckons with: [`slid`] is that body, face by
//! face. A piece that swings covers a fan about its hinge line: [`turned`] draws it in fine steps. Frame: the room's, mm.

use bevy::asset::RenderAssetUsages;
use bevy::light::NotShadowCaster;
use bevy::mesh::PrimitiveTopology;
use bevy::picking::Pickable;
use bevy::prelude::*;

use super::drag::Hand;
use super::explode::Exploded;
use super::motion::Play;
use super::shown::Shown;
use super::{ViewerSystems, frame, look};
use crate::model::convex::hull_outline;
use crate::model::{Convex, Model, Motion, Mover, MoverId, Vec3 as RoomVec3};

/// A direction this near to lying in a face does.
const FLAT: f64 = 1e-9;
/// Steps from the inner to the outer edge of a fan.
const RINGS: u32 = 16;
/// A fan's steps round, in radians: 2°.
const FAN_STEP: f64 = std::f64::consts::PI / 90.0;
/// A line on the floor plan round what is passed over goes round in steps of this, in radians: 6°.
const ROUND_STEP: f64 = std::f64::consts::PI / 30.0;

/// Whose swept volume is shown.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SweptOf {
    /// Nobody's.
    #[default]
    Nothing,
    /// The part in hand, or the one whose turn it is.
    InHand,
    /// Every drawer's and door's.
    All,
}

impl SweptOf {
    /// All, from least to most.
    pub const ALL: [Self; 3] = [Self::Nothing, Self::InHand, Self::All];

    /// What its button says.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Nothing => "none",
            Self::InHand => "part in hand",
            Self::All => "all",
        }
    }
}

/// The faces of what `piece` covers when it slides by `sweep`: outlines, counter-clockwise seen from outside.
#[must_use]
pub fn slid(piece: &Convex, sweep: RoomVec3) -> Vec<Vec<RoomVec3>> {
    let faces = piece.faces();
    let facing: Vec<f64> = faces
        .iter()
        .map(|face| {
            let n = (face[1] - face[0]).cross(face[2] - face[1]).normalize_or_zero().dot(sweep.normalize_or_zero());
            if n.abs() < FLAT { 0.0 } else { n }
        })
        .collect();
    let mut covered = Vec::new();
    for (face, &ahead) in faces.iter().zip(&facing) {
        if ahead > 0.0 {
            covered.push(face.iter().map(|&p| p + sweep).collect());
        } else if ahead < 0.0 {
            covered.push(face.clone());
        } else {
            covered.push(drawn_out(face, sweep));
        }
    }
    // Where a face that looks ahead meets one that looks back, their edge sweeps a face of its own.
    for (k, back) in faces.iter().enumerate().filter(|(k, _)| facing[*k] < 0.0) {
        for ahead in (0..faces.len()).filter(|&other| other != k && facing[other] > 0.0) {
            for (a, b) in edges(back) {
                if edges(&faces[ahead]).any(|(c, d)| a == d && b == c) {
                    covered.push(vec![b, a, a + sweep, b + sweep]);
                }
            }
        }
    }
    covered
}

fn edges(face: &[RoomVec3]) -> impl Iterator<Item = (RoomVec3, RoomVec3)> + '_ {
    (0..face.len()).map(|k| (face[k], face[(k + 1) % face.len()]))
}

/// What a flat face covers when it slides by `sweep`, which lies in it.
fn drawn_out(face: &[RoomVec3], sweep: RoomVec3) -> Vec<RoomVec3> {
    let normal = (face[1] - face[0]).cross(face[2] - face[1]);
    let mut outline: Vec<RoomVec3> = Vec::new();
    for (a, b) in edges(face) {
        // The edge's own outward direction in the plane of the face.
        let by = if (b - a).cross(normal).dot(sweep) > 0.0 { sweep } else { RoomVec3::ZERO };
        for point in [a + by, b + by] {
            if outline.last() != Some(&point) {
                outline.push(point);
            }
        }
    }
    if outline.first() == outline.last() {
        outline.pop();
    }
    outline
}

/// The fan that `piece` covers when it turns about the line through `hinge`, right-handed about `axis`, as flat
/// faces with their outside in front.
#[must_use]
pub fn turned(piece: &Convex, hinge: RoomVec3, axis: RoomVec3, angle: f64) -> Vec<Vec<RoomVec3>> {
    let Some(aside) = RoomVec3::Z.cross(axis).try_normalize() else { return turned_upright(piece, hinge, axis, angle) };
    // Seen along the line it turns about, that line is upright.
    let across = axis.cross(aside);
    let seen = |v: RoomVec3| RoomVec3::new(aside.dot(v), across.dot(v), axis.dot(v));
    let tipped = Convex::prism(piece.base().iter().map(|&p| seen(p - hinge)).collect(), seen(piece.push()));
    let back = |v: RoomVec3| hinge + aside * v.x + across * v.y + axis * v.z;
    let faces = turned_upright(&tipped, RoomVec3::ZERO, RoomVec3::Z, angle);
    faces.into_iter().map(|face| face.into_iter().map(back).collect()).collect()
}

/// The same about an upright line.
fn turned_upright(piece: &Convex, hinge: RoomVec3, axis: RoomVec3, angle: f64) -> Vec<Vec<RoomVec3>> {
    let flat: Vec<RoomVec3> = piece.vertices().map(|v| RoomVec3::new(v.x - hinge.x, v.y - hinge.y, 0.0)).collect();
    let outline = hull_outline(&flat);
    let (low, high) =
        piece.vertices().map(|v| v.z).fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), z| (l.min(z), h.max(z)));
    let far = outline.iter().map(|p| p.length()).fold(0.0, f64::max);
    let near = edges(&outline).map(|edge| from_origin(edge.0, edge.1)).fold(far, f64::min).max(0.1);
    let sign = axis.z.signum();
    let rings: Vec<(f64, [f64; 2])> = (0..=RINGS)
        .filter_map(|k| {
            // The very nearest and farthest circles only graze it.
            let share = (f64::from(k) / f64::from(RINGS)).clamp(1e-6, 1.0 - 1e-6);
            let radius = near + (far - near) * share;
            let [from, to] = arc_within(&outline, radius)?;
            let turned = angle * sign;
            Some((radius, [from + turned.min(0.0), to + turned.max(0.0)]))
        })
        .collect();
    let at =
        |radius: f64, turn: f64, z: f64| RoomVec3::new(hinge.x + radius * turn.cos(), hinge.y + radius * turn.sin(), z);
    let steps = steps_in(angle);
    let turn = |[from, to]: [f64; 2], k: u32| from + (to - from) * f64::from(k) / f64::from(steps);
    let mut faces = Vec::new();
    for pair in rings.windows(2) {
        let [(inner, inner_arc), (outer, outer_arc)] = [pair[0], pair[1]];
        for k in 0..steps {
            let [a, b] = [turn(inner_arc, k), turn(inner_arc, k + 1)];
            let [c, d] = [turn(outer_arc, k), turn(outer_arc, k + 1)];
            faces.push(vec![at(inner, a, high), at(outer, c, high), at(outer, d, high), at(inner, b, high)]);
            faces.push(vec![at(inner, b, low), at(outer, d, low), at(outer, c, low), at(inner, a, low)]);
        }
        // The two ends: where it is shut, and where it stands open.
        let ([a, b], [c, d]) = (inner_arc, outer_arc);
        faces.push(vec![at(inner, a, low), at(outer, c, low), at(outer, c, high), at(inner, a, high)]);
        faces.push(vec![at(inner, b, high), at(outer, d, high), at(outer, d, low), at(inner, b, low)]);
    }
    if let (Some(first), Some(last)) = (rings.first(), rings.last()) {
        for k in 0..steps {
            let [a, b] = [turn(last.1, k), turn(last.1, k + 1)];
            faces.push(vec![at(last.0, a, low), at(last.0, b, low), at(last.0, b, high), at(last.0, a, high)]);
            let [a, b] = [turn(first.1, k), turn(first.1, k + 1)];
            faces.push(vec![at(first.0, a, high), at(first.0, b, high), at(first.0, b, low), at(first.0, a, low)]);
        }
    }
    faces
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "an angle of at most a few turns")]
fn steps_in(angle: f64) -> u32 {
    (angle.abs() / FAN_STEP).ceil().clamp(1.0, 720.0) as u32
}

fn from_origin(a: RoomVec3, b: RoomVec3) -> f64 {
    let along = b - a;
    let share = (-a.dot(along) / along.length_squared().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
    (a + along * share).length()
}

/// From which to which direction the circle of `radius` about the origin runs within a flat convex outline.
fn arc_within(outline: &[RoomVec3], radius: f64) -> Option<[f64; 2]> {
    let middle = outline.iter().fold(RoomVec3::ZERO, |sum, &p| sum + p) / outline.len() as f64;
    let about = middle.y.atan2(middle.x);
    let mut range: Option<[f64; 2]> = None;
    for (a, b) in edges(outline) {
        // |a + t (b − a)| = radius.
        let along = b - a;
        let (square, half, rest) = (along.length_squared(), a.dot(along), a.length_squared() - radius * radius);
        let under = half * half - square * rest;
        if under < 0.0 || square <= 0.0 {
            continue;
        }
        for t in [(-half - under.sqrt()) / square, (-half + under.sqrt()) / square] {
            if (-1e-9..=1.0 + 1e-9).contains(&t) {
                let p = a + along * t;
                // Half a turn to either side of the middle.
                let half = std::f64::consts::PI;
                let turn = (p.y.atan2(p.x) - about + half).rem_euclid(2.0 * half) - half;
                range = Some(range.map_or([turn; 2], |[from, to]| [from.min(turn), to.max(turn)]));
            }
        }
    }
    range.map(|[from, to]| [from + about, to + about])
}

/// The line on the floor plan that keeps the clearance wanted from all that `mover` passes over, at the height of its
/// middle; closed.
#[must_use]
pub fn kept_clear(model: &Model, mover: &Mover) -> Vec<RoomVec3> {
    let corners = mover.parts.iter().flat_map(|&id| &model.part(id).pieces).flat_map(Convex::vertices);
    let mut points = Vec::new();
    let (mut height, mut count) = (0.0, 0.0);
    for corner in corners {
        (height, count) = (height + corner.z, count + 1.0);
        let steps = if matches!(mover.motion, Motion::Swing { .. }) { steps_in(mover.motion.extent()) } else { 1 };
        let carried = |k: u32| mover.motion.carry(corner, mover.motion.extent() * f64::from(k) / f64::from(steps));
        points.extend((0..=steps).map(carried).map(|p| RoomVec3::new(p.x, p.y, 0.0)));
    }
    let z = if count > 0.0 { height / count } else { 0.0 };
    // A swing sweeps no convex set; its outline is that of the fan's hull, which no corner of the fan leaves.
    let outline = hull_outline(&points);
    let mut line = Vec::new();
    for (k, &p) in outline.iter().enumerate() {
        let before = outline[(k + outline.len() - 1) % outline.len()];
        let after = outline[(k + 1) % outline.len()];
        let out_of = |a: RoomVec3, b: RoomVec3| (a.x - b.x).atan2(b.y - a.y);
        let (from, mut to) = (out_of(before, p), out_of(p, after));
        while to < from {
            to += std::f64::consts::TAU;
        }
        let mut turn = from;
        while turn < to {
            line.push(p + RoomVec3::new(turn.cos(), turn.sin(), 0.0) * model.wanted);
            turn += ROUND_STEP;
        }
        line.push(p + RoomVec3::new(to.cos(), to.sin(), 0.0) * model.wanted);
    }
    line.extend(line.first().copied());
    line.into_iter().map(|p| RoomVec3::new(p.x, p.y, z)).collect()
}

/// Whose swept volume is to be seen now.
#[must_use]
pub fn swept_now(of: SweptOf, model: &Model, hand: &Hand, play: &Play) -> Vec<MoverId> {
    match of {
        SweptOf::Nothing => Vec::new(),
        SweptOf::InHand => play.turn().or(hand.in_hand()).filter(|id| id.0 < model.movers.len()).into_iter().collect(),
        SweptOf::All => model.movers.iter().map(|mover| mover.id).collect(),
    }
}

/// A body that shows what is swept.
#[derive(Component, Debug)]
pub struct SweptBody(pub MoverId);

/// The finish of all of them, made once.
#[derive(Resource, Debug, Default)]
struct Veil(Option<Handle<StandardMaterial>>);

/// Registers the swept volumes.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<SweptOf>().init_resource::<Veil>();
    app.add_systems(Update, draw.in_set(ViewerSystems::Dress));
}

fn draw(
    mut commands: Commands<'_, '_>,
    of: Res<'_, SweptOf>,
    shown: Res<'_, Shown>,
    hand: Res<'_, Hand>,
    play: Res<'_, Play>,
    exploded: Res<'_, Exploded>,
    old: Query<'_, '_, (Entity, &SweptBody)>,
    mut veil: ResMut<'_, Veil>,
    mut meshes: ResMut<'_, Assets<Mesh>>,
    mut materials: ResMut<'_, Assets<StandardMaterial>>,
    mut drawn: Local<'_, Vec<MoverId>>,
) {
    let wanted = if exploded.is_apart() { Vec::new() } else { swept_now(*of, shown.model(), &hand, &play) };
    let stale = shown.is_changed() && !wanted.is_empty();
    if *drawn == wanted && !stale {
        return;
    }
    for (body, _) in &old {
        commands.entity(body).despawn();
    }
    for &id in &wanted {
        let Some(mover) = shown.model().movers.get(id.0) else { continue };
        let material = veil.0.get_or_insert_with(|| {
            materials.add(StandardMaterial {
                base_color: look::SWEPT,
                alpha_mode: AlphaMode::Blend,
                unlit: true,
                ..default()
            })
        });
        commands.spawn((
            Name::new(format!("swept by {}", mover.name)),
            SweptBody(id),
            Mesh3d(meshes.add(mesh(&bodies(shown.model(), mover)))),
            MeshMaterial3d(material.clone()),
            Transform::IDENTITY,
            NotShadowCaster,
            Pickable::IGNORE,
        ));
    }
    *drawn = wanted;
}

/// The faces of all that `mover` passes over; what lies wholly within another piece's share is left out.
fn bodies(model: &Model, mover: &Mover) -> Vec<Vec<RoomVec3>> {
    let pieces = mover.parts.iter().flat_map(|&id| &model.part(id).pieces);
    match mover.motion {
        Motion::Slide { direction, travel } => {
            let all: Vec<Vec<Vec<RoomVec3>>> = pieces.map(|piece| slid(piece, direction * travel)).collect();
            let hidden = |k: usize| (0..all.len()).any(|other| other != k && lies_within(&all[k], &all[other]));
            (0..all.len()).filter(|&k| !hidden(k)).flat_map(|k| all[k].clone()).collect()
        }
        Motion::Swing { hinge, axis, angle } => pieces.flat_map(|piece| turned(piece, hinge, axis, angle)).collect(),
    }
}

/// Whether the convex body with the faces `inner` lies within the one with the faces `outer`.
fn lies_within(inner: &[Vec<RoomVec3>], outer: &[Vec<RoomVec3>]) -> bool {
    outer.iter().all(|face| {
        let normal = (face[1] - face[0]).cross(face[2] - face[1]);
        inner.iter().flatten().all(|p| normal.dot(*p - face[0]) <= 1e-6)
    })
}

fn mesh(faces: &[Vec<RoomVec3>]) -> Mesh {
    let mut at: Vec<[f32; 3]> = Vec::new();
    for face in faces {
        for k in 1..face.len().saturating_sub(1) {
            at.extend([face[0], face[k], face[k + 1]].map(|p| frame::to_bevy(p).to_array()));
        }
    }
    Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, at)
        .with_computed_flat_normals()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The volume that faces enclose, by the divergence theorem.
    fn volume(faces: &[Vec<RoomVec3>]) -> f64 {
        let fan = |face: &Vec<RoomVec3>| {
            (1..face.len() - 1).map(|k| face[0].dot(face[k].cross(face[k + 1]))).sum::<f64>() / 6.0
        };
        faces.iter().map(fan).sum()
    }

    // Closed form: a convex body swept along w covers its own volume and its shadow across w times the way.
    #[test]
    fn a_block_that_slides_covers_itself_and_its_shadow() {
        let block =
            Convex::block(RoomVec3::new(5.0, 6.0, 7.0), RoomVec3::X * 20.0, RoomVec3::Y * 30.0, RoomVec3::Z * 40.0);
        for way in [RoomVec3::Y * 100.0, RoomVec3::new(30.0, 40.0, 0.0), RoomVec3::new(10.0, -20.0, 30.0)] {
            let shadow = 30.0 * 40.0 * way.x.abs() + 20.0 * 40.0 * way.y.abs() + 20.0 * 30.0 * way.z.abs();
            let found = volume(&slid(&block, way));
            assert!((found - 20.0 * 30.0 * 40.0 - shadow).abs() < 1e-6, "{found} along {way:?}");
        }
    }

    #[test]
    fn a_round_bar_covers_its_width_all_the_way() {
        let bar = Convex::round(RoomVec3::ZERO, 6.0, RoomVec3::Y, RoomVec3::X * 100.0);
        let found = volume(&slid(&bar, RoomVec3::Y * 50.0));
        assert!((found - bar.volume() - 12.0 * 100.0 * 50.0 * 1.0).abs() < 12.0 * 100.0 * 50.0 * 0.01);
    }

    // Closed form: a thin leaf from the hinge line to R covers a sector of the circle, R²·angle/2, and itself.
    #[test]
    fn a_leaf_covers_its_sector() {
        let leaf = Convex::block(RoomVec3::new(0.0, -1.0, 0.0), RoomVec3::X * 400.0, RoomVec3::Y, RoomVec3::Z * 700.0);
        for axis in [RoomVec3::Z, -RoomVec3::Z] {
            let angle = 1.9;
            let found = volume(&turned(&leaf, RoomVec3::ZERO, axis, angle)) / 700.0;
            let wanted = 400.0 * 400.0 * angle / 2.0 + 400.0;
            assert!((found - wanted).abs() < wanted * 0.01, "{found} is not {wanted}");
        }
    }

    #[test]
    fn the_line_kept_clear_is_the_clearance_away() {
        let text = include_str!("../../assets/plans/glazing-corner.ron");
        let model = crate::clearance::answer(&crate::plan::read("glazing-corner.ron", text).unwrap()).model;
        let drawer = model.movers.iter().find(|m| matches!(m.motion, Motion::Slide { .. })).unwrap();
        let out = model.run(drawer.side).out;
        let far = |points: &[RoomVec3]| points.iter().map(|p| p.dot(out)).fold(f64::NEG_INFINITY, f64::max);
        let corners: Vec<_> =
            drawer.parts.iter().flat_map(|&id| &model.part(id).pieces).flat_map(Convex::vertices).collect();
        let wanted = far(&corners) + drawer.motion.extent() + model.wanted;
        assert!((far(&kept_clear(&model, drawer)) - wanted).abs() < 1e-6);
    }
}
