//! How does a part become a mesh? Flat faces, broken edges on boards, and pictures laid along the grain.
//!
//! All pieces of a part make one mesh, since each thing drawn apart costs the renderer its time. A mesh is made about the
//! part's own first corner, so that all boards of one size, joints and direction share one.

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::platform::collections::HashMap;
use bevy::prelude::{Assets, Handle, Mesh, Resource, Vec2, Vec3 as BevyVec3};

use super::frame;
use super::look::{BROKEN_EDGE_MM, PICTURE_METRES};
use crate::model::{Convex, Part, Role, Vec3};

/// The corners of a part's pieces about its first one, and its grown frame, in thousandths.
type Key = (Vec<Vec<[i64; 3]>>, [[i64; 3]; 3], bool);

/// A part's own frame: its middle, and which way its grain runs. Patterns that go all through a part are laid out in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grown {
    /// The part's middle, mm.
    middle: Vec3,
    /// Unit direction of the grain.
    along: Vec3,
    /// Unit direction across the grain in which the part is wide.
    across: Vec3,
    /// Whether its edges look into a narrow gap, as those of fronts do: then they are dark.
    gaps: bool,
}

impl Grown {
    /// The frame of `part` with its grain along `along`.
    #[must_use]
    pub fn of(part: &Part, along: Vec3) -> Self {
        let square_to = |v: Vec3| (v - along * v.dot(along)).try_normalize();
        let edges = part.pieces.iter().flat_map(|piece| {
            let side = piece.base().get(1).zip(piece.base().first()).map(|(b, a)| *b - *a);
            [Some(piece.push()), side].into_iter().flatten()
        });
        let one = edges.filter_map(square_to).next().unwrap_or_else(|| along.any_orthonormal_vector());
        let other = along.cross(one);
        let extent = |axis: Vec3| {
            let places = part.pieces.iter().flat_map(Convex::vertices).map(|v| v.dot(axis));
            let (low, high) = places.fold((f64::MAX, f64::MIN), |(low, high), d| (low.min(d), high.max(d)));
            high - low
        };
        let across = if extent(one) > extent(other) { one } else { other };
        let gaps = matches!(part.role, Role::DrawerFront | Role::DoorFront);
        Self { middle: part.middle(), along, across, gaps }
    }

    /// The frame of a piece that is no part.
    #[must_use]
    pub fn of_piece(piece: &Convex, along: Vec3) -> Self {
        let count = piece.base().len().max(1) as f64;
        let middle = piece.base().iter().copied().sum::<Vec3>() / count + piece.push() / 2.0;
        let push = piece.push();
        let across = (push - along * push.dot(along)).try_normalize().unwrap_or_else(|| along.any_orthonormal_vector());
        Self { middle, along, across, gaps: false }
    }

    /// Where `at` lies in the frame, in metres: along, across, through.
    fn place(&self, at: Vec3) -> [f32; 3] {
        let from = at - self.middle;
        let through = self.along.cross(self.across);
        [self.along, self.across, through].map(|axis| frame::narrow(from.dot(axis) * 0.001))
    }
}

/// The meshes made so far. What the last scene did not use is let go.
#[derive(Resource, Debug, Default)]
pub struct Shapes {
    made: HashMap<Key, (Handle<Mesh>, u64)>,
    round: u64,
}

impl Shapes {
    /// Begins a new scene.
    pub fn begin(&mut self) {
        self.round += 1;
    }

    /// Lets go of the meshes that the scene just built does not use.
    pub fn finish(&mut self) {
        let round = self.round;
        self.made.retain(|_, (_, used)| *used == round);
    }

    /// The mesh of a part's `pieces`, with this frame, about their first corner; and where that corner is.
    pub fn of(&mut self, pieces: &[Convex], grown: &Grown, meshes: &mut Assets<Mesh>) -> (Handle<Mesh>, BevyVec3) {
        let origin = pieces.first().and_then(|piece| piece.base().first()).copied().unwrap_or(Vec3::ZERO);
        let local: Vec<Convex> = pieces.iter().map(|piece| piece.moved(-origin)).collect();
        let grown = Grown { middle: grown.middle - origin, ..*grown };
        let frame = [grown.middle, grown.along * 1000.0, grown.across * 1000.0].map(thousandths);
        let corners = local.iter().map(|piece| piece.vertices().map(thousandths).collect());
        let key = (corners.collect(), frame, grown.gaps);
        let round = self.round;
        let (handle, used) = self.made.entry(key).or_insert_with(|| (meshes.add(mesh(&local, &grown)), round));
        *used = round;
        (handle.clone(), frame::to_bevy(origin))
    }
}

#[expect(clippy::cast_possible_truncation, reason = "a room is far smaller than 2^63 thousandths")]
fn thousandths(v: Vec3) -> [i64; 3] {
    [v.x, v.y, v.z].map(|c| (c * 1000.0).round() as i64)
}

#[derive(Default)]
struct Build {
    positions: Vec<[f32; 3]>,
    normals: Vec<[f32; 3]>,
    uvs: Vec<[f32; 2]>,
    /// Where in the part a corner lies, in metres, and whether its face is end grain: as colours, because those reach
    /// every shader of Bevy's as they are.
    places: Vec<[f32; 4]>,
    /// How deep in a narrow gap a corner lies; the second number is not used.
    gaps: Vec<[f32; 2]>,
    indices: Vec<u32>,
}

impl Build {
    fn vertex(&mut self, at: Vec3, normal: Vec3, grown: &Grown) -> u32 {
        let at_bevy = frame::to_bevy(at);
        self.positions.push(at_bevy.to_array());
        self.normals.push(frame::direction(normal).normalize_or_zero().to_array());
        self.uvs.push(picture_at(at_bevy, normal, grown.along).to_array());
        let [x, y, z] = grown.place(at);
        let end = normal.try_normalize().map_or(0.0, |n| n.dot(grown.along).powi(4));
        self.places.push([x, y, z, frame::narrow(end)]);
        let through = grown.along.cross(grown.across);
        let edge = normal.try_normalize().is_some_and(|n| n.dot(through).abs() < 0.5);
        self.gaps.push([if grown.gaps && edge { 1.0 } else { 0.0 }, 0.0]);
        u32::try_from(self.positions.len() - 1).unwrap_or(u32::MAX)
    }

    fn fan(&mut self, corners: &[u32]) {
        if let [first, rest @ ..] = corners {
            for pair in rest.windows(2) {
                if let [b, c] = pair {
                    self.indices.extend([*first, *b, *c]);
                }
            }
        }
    }

    /// As [`Build::fan`], turned so that it looks towards `out`.
    fn fan_towards(&mut self, corners: &mut [u32], out: Vec3) {
        let at = |k: u32| self.positions.get(k as usize).map_or(BevyVec3::ZERO, |p| BevyVec3::from_array(*p));
        if let [a, b, c, ..] = *corners {
            let normal = (at(b) - at(a)).cross(at(c) - at(a));
            if normal.dot(frame::direction(out)) < 0.0 {
                corners.reverse();
            }
        }
        self.fan(corners);
    }

    fn mesh(self) -> Mesh {
        Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
            .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, self.positions)
            .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, self.normals)
            .with_inserted_attribute(Mesh::ATTRIBUTE_UV_0, self.uvs)
            .with_inserted_attribute(Mesh::ATTRIBUTE_COLOR, self.places)
            .with_inserted_attribute(Mesh::ATTRIBUTE_UV_1, self.gaps)
            .with_inserted_indices(Indices::U32(self.indices))
    }
}

/// Where on a finish's picture a point of a face lies: u along the grain, v across it.
fn picture_at(at: BevyVec3, normal: Vec3, grain: Vec3) -> Vec2 {
    let normal = frame::direction(normal).normalize_or_zero();
    let wish = frame::direction(grain);
    let along = wish - normal * wish.dot(normal);
    // End grain, or no grain at all: any direction that lies in the face.
    let along = if along.length() < 0.1 { normal.any_orthonormal_vector() } else { along.normalize() };
    Vec2::new(at.dot(along), at.dot(normal.cross(along))) / PICTURE_METRES
}

fn mesh(pieces: &[Convex], grown: &Grown) -> Mesh {
    let mut build = Build::default();
    for piece in pieces {
        match piece.as_block() {
            Some((corner, edges)) => build.board(corner, edges, grown),
            None => build.faceted(piece, grown),
        }
    }
    build.mesh()
}

/// Something turned on a wheel: `outline` is its radius and height, in mm, from the foot's middle to the top's middle.
pub(super) fn turned(outline: &[[f32; 2]]) -> Mesh {
    const STEPS: u32 = 40;
    let mut build = Build::default();
    let slope = |k: usize| {
        let at = |k: usize| outline.get(k).copied().unwrap_or_default();
        let ([r0, z0], [r1, z1]) = (at(k.saturating_sub(1)), at((k + 1).min(outline.len().saturating_sub(1))));
        (z1 - z0, r0 - r1)
    };
    for (k, [radius, height]) in outline.iter().enumerate() {
        let (out, up) = slope(k);
        for step in 0..=STEPS {
            let (sin, cos) = (step as f32 / STEPS as f32 * std::f32::consts::TAU).sin_cos();
            let at = BevyVec3::new(cos * radius, *height, -sin * radius) * 0.001;
            build.positions.push(at.to_array());
            build.normals.push(BevyVec3::new(cos * out, up, -sin * out).normalize_or_zero().to_array());
            build.uvs.push([at.x, at.y]);
            build.places.push([at.y, at.x, at.z, 0.0]);
            build.gaps.push([0.0; 2]);
        }
    }
    let rings = u32::try_from(outline.len()).unwrap_or(0);
    for ring in 1..rings {
        for step in 0..STEPS {
            let (low, high) = ((ring - 1) * (STEPS + 1) + step, ring * (STEPS + 1) + step);
            build.fan(&[low, low + 1, high + 1, high]);
        }
    }
    build.mesh()
}

impl Build {
    /// A piece of any outline: flat faces, each with its own normal; the long sides of a round bar shade smoothly.
    fn faceted(&mut self, piece: &Convex, grown: &Grown) {
        let round = piece.base().len() >= crate::model::convex::ROUND_SIDES;
        let middle = piece.vertices().sum::<Vec3>() / (2 * piece.base().len()) as f64;
        let axis = piece.push().normalize();
        for (k, face) in piece.faces().iter().enumerate() {
            let flat = face_normal(face);
            let corners: Vec<u32> = face
                .iter()
                .map(|&at| {
                    let radial = (at - middle) - axis * (at - middle).dot(axis);
                    let normal = if round && k >= 2 { radial } else { flat };
                    self.vertex(at, normal, grown)
                })
                .collect();
            self.fan(&corners);
        }
    }

    /// A board: each corner three times, once for each face it belongs to, with the strips between them shading round the
    /// broken edge.
    fn board(&mut self, corner: Vec3, edges: [Vec3; 3], grown: &Grown) {
        let centre = corner + (edges[0] + edges[1] + edges[2]) / 2.0;
        let axes = edges.map(|e| e.normalize());
        let half = edges.map(|e| e.length() / 2.0);
        let broken = BROKEN_EDGE_MM.min(half[0].min(half[1]).min(half[2]) * 0.35);
        // index[axis][sign bits] of the corner on the face across `axis`.
        let sign = |bits: usize, axis: usize| if bits >> axis & 1 == 1 { 1.0 } else { -1.0 };
        let mut index = [[0u32; 8]; 3];
        for (axis, row) in index.iter_mut().enumerate() {
            for (bits, slot) in row.iter_mut().enumerate() {
                let at = (0..3).fold(centre, |sum, k| {
                    let reach = if k == axis { half[k] } else { half[k] - broken };
                    sum + axes[k] * (sign(bits, k) * reach)
                });
                *slot = self.vertex(at, axes[axis] * sign(bits, axis), grown);
            }
        }
        for axis in 0..3 {
            let (b, c) = ((axis + 1) % 3, (axis + 2) % 3);
            for side in [0usize, 1] {
                let at = |q: usize, r: usize| index[axis][side << axis | q << b | r << c];
                let out = axes[axis] * sign(side << axis, axis);
                self.fan_towards(&mut [at(0, 0), at(1, 0), at(1, 1), at(0, 1)], out);
            }
            // The four edges that run along `axis`, between the faces across b and c.
            for (q, r) in [(0, 0), (1, 0), (0, 1), (1, 1)] {
                let bits = q << b | r << c;
                let out = axes[b] * sign(bits, b) + axes[c] * sign(bits, c);
                let far = bits | 1 << axis;
                self.fan_towards(&mut [index[b][bits], index[b][far], index[c][far], index[c][bits]], out);
            }
        }
        let [across_a, across_b, across_c] = index;
        for (bits, ((a, b), c)) in across_a.into_iter().zip(across_b).zip(across_c).enumerate() {
            let out = (0..3).fold(Vec3::ZERO, |sum, k| sum + axes[k] * sign(bits, k));
            self.fan_towards(&mut [a, b, c], out);
        }
    }
}

fn face_normal(face: &[Vec3]) -> Vec3 {
    let Some(&first) = face.first() else { return Vec3::Z };
    face.windows(2).fold(Vec3::ZERO, |sum, pair| sum + (pair[0] - first).cross(pair[1] - first))
}

#[cfg(test)]
mod tests {
    use super::*;
    use bevy::mesh::VertexAttributeValues;

    /// The frame of the boards below: 600 long, 19 thick, 200 high.
    fn plain() -> Grown {
        Grown { middle: Vec3::new(300.0, 9.5, 100.0), along: Vec3::X, across: Vec3::Z, gaps: false }
    }

    #[test]
    fn grain_runs_with_the_part_and_ends_are_end_grain() {
        let made = mesh(&[Convex::block(Vec3::ZERO, Vec3::X * 600.0, Vec3::Y * 19.0, Vec3::Z * 200.0)], &plain());
        let (
            Some(VertexAttributeValues::Float32x4(places)),
            Some(VertexAttributeValues::Float32x3(at)),
            Some(VertexAttributeValues::Float32x3(normals)),
        ) = (
            made.attribute(Mesh::ATTRIBUTE_COLOR),
            made.attribute(Mesh::ATTRIBUTE_POSITION),
            made.attribute(Mesh::ATTRIBUTE_NORMAL),
        )
        else {
            panic!("a board has places, positions and normals")
        };
        for ((place, at), normal) in places.iter().zip(at).zip(normals) {
            // Along the grain is along the board, counted from its middle; across is up; through is its thickness.
            assert!((place[0] - (at[0] - 0.3)).abs() < 1e-6 && (place[1] - (at[1] - 0.1)).abs() < 1e-6);
            assert!((place[2].abs() - (-at[2] - 0.0095).abs()).abs() < 1e-6);
            assert!((place[3] - normal[0].abs()).abs() < 1e-6, "only the two ends are end grain");
        }
    }

    #[test]
    fn a_board_keeps_its_size_and_its_faces_look_out() {
        let made = mesh(&[Convex::block(Vec3::ZERO, Vec3::X * 600.0, Vec3::Y * 19.0, Vec3::Z * 200.0)], &plain());
        let (Some(VertexAttributeValues::Float32x3(at)), Some(indices)) =
            (made.attribute(Mesh::ATTRIBUTE_POSITION), made.indices())
        else {
            panic!("a board has positions and indices")
        };
        let widest = at.iter().map(|p| p[0]).fold(f32::MIN, f32::max);
        assert!((widest - 0.6).abs() < 1e-6);
        let centre = BevyVec3::new(0.3, 0.1, -0.0095);
        let corner = |k: usize| BevyVec3::from_array(at[k]);
        let list: Vec<usize> = indices.iter().collect();
        assert_eq!(list.len(), 3 * 44);
        for t in list.chunks(3) {
            let normal = (corner(t[1]) - corner(t[0])).cross(corner(t[2]) - corner(t[0]));
            assert!(normal.dot(corner(t[0]) - centre) > 0.0);
        }
    }

    #[test]
    fn equal_boards_share_a_mesh() {
        let (mut shapes, mut meshes) = (Shapes::default(), Assets::<Mesh>::default());
        let board = Convex::block(Vec3::ZERO, Vec3::X * 600.0, Vec3::Y * 19.0, Vec3::Z * 200.0);
        let (here, _) = shapes.of(std::slice::from_ref(&board), &plain(), &mut meshes);
        let moved = Grown { middle: plain().middle + Vec3::Z * 300.0, ..plain() };
        let (there, at) = shapes.of(&[board.moved(Vec3::Z * 300.0)], &moved, &mut meshes);
        assert_eq!(here, there);
        assert!((at.y - 0.3).abs() < 1e-6);
    }
}
