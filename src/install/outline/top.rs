//! What lies on top: each piece of the countertop seen from above, its back edge to the wall, its ends to the walls beside.
//!
//! The seam in the corner is a butt: the left piece goes through to the right wall, the right piece stops at its front
//! edge.

use super::chain::{Point, Straight, Waste, followed};
use super::piece::{Line, PAST, Piece, Scribe};
use super::{CutTo, View, left_on};
use crate::install::measured::Measured;
use crate::length::SNAP_MM;
use crate::model::{Convex, Edge, Part, Vec3};
use crate::plan::{FarEnd, Side};

/// A wall is followed this far past the piece, so that it meets the edges beside it, mm.
const WALL_PAST: f64 = 150.0;

/// A piece of the countertop; `None` for the strip that makes its edge drop.
pub(super) fn countertop(room: &Measured<'_>, part: &Part, side: Side) -> Option<Piece> {
    let plan = room.plan();
    let top = plan.countertop?;
    let z = part.extent(Vec3::Z);
    if z[0] < (plan.construction.height + top.build_up).to_mm() - SNAP_MM {
        return None;
    }
    let (run, other) = (room.run(side), room.run(side.other()));
    let [[s0, s1], [_, n1]] = [part.extent(run.along), part.extent(run.out)];
    let back_on = left_on(part, run.out);
    let n0 = -back_on;
    // What is left on its length lies at the far end where a wall stands there, the rest at the corner.
    let along_on = left_on(part, run.along);
    // A piece that ends at something tall is sawn there.
    let at_wall = plan.run(side).ends_at == FarEnd::Wall && s1 >= run.ends_at - SNAP_MM;
    let far_on = if at_wall { plan.joinery.scribe.to_mm().min(along_on) } else { 0.0 };
    let near_on = along_on - far_on;
    let at_end = s1 >= run.ends_at - SNAP_MM && super::meets_end_wall(room, side, s1, n1, z[0]);
    let s1 = s1 + far_on;
    let depth_to_seam = part.pieces.iter().flat_map(Convex::vertices).map(|v| v.dot(other.out));
    let seam = depth_to_seam.fold(f64::INFINITY, f64::min);
    let in_corner = seam <= other.depth + top.overhang.to_mm() + SNAP_MM;
    // The seam's plane, n_other = seam, as s over n.
    let (rises, falls) = (run.along.dot(other.out), run.out.dot(other.out));
    let near = if in_corner {
        Straight { at_zero: (seam - near_on) / rises, slope: -falls / rises }
    } else {
        Straight::level(s0 - near_on)
    };
    let s0 = near.at(n0).min(near.at(n1));
    let back = along_wall(room, side, [s0, s1], z, |p| [p.dot(run.along), p.dot(run.out)]);
    let back = scribe(0, back, Straight::level(n0), Waste::Below, back_on, room.read_at(side), Edge::Near, |a| {
        room.from_wall(side, a, room.stands_out(side, a, z[0])).dot(run.along)
    });
    let near_line = if in_corner && side == Side::Left {
        let wall = along_wall(room, Side::Right, [n0, n1], z, |p| [p.dot(run.out), p.dot(run.along)]);
        let read_at = room.read_at(Side::Right);
        let scribed = scribe(1, wall, near, Waste::Below, near_on, read_at, Edge::Back, |a| {
            room.from_wall(Side::Right, a, room.stands_out(Side::Right, a, z[0])).dot(run.out)
        });
        scribed.line(Edge::Near, CutTo::Wall(Side::Right), true)
    } else {
        let cut_to = if in_corner { CutTo::Seam } else { CutTo::Straight };
        let [from, to] = [n1 + WALL_PAST, n0 - WALL_PAST].map(|n| [near.at(n), n]);
        Line::straight(Edge::Near, cut_to, from, to)
    };
    let far_line = if at_end {
        far_end(room, side, [n0, n1], z, s1, far_on)
    } else {
        Line::straight(Edge::Far, CutTo::Straight, [s1, n0 - PAST], [s1, n1 + WALL_PAST])
    };
    Some(Piece {
        part: part.id,
        name: part.name.clone(),
        seen_from: View::Above,
        blank: [[s0, s1], [n0, n1]],
        thickness: z[1] - z[0],
        lines: vec![
            back.line(Edge::Back, CutTo::Wall(side), false),
            far_line,
            Line::straight(Edge::Front, CutTo::Straight, [s1 + PAST, n1], [s0 - WALL_PAST, n1]),
            near_line,
        ],
        turned: [false, side == Side::Right],
    })
}

/// The far end at a wall, where that stands nearest over the top's thickness.
fn far_end(room: &Measured<'_>, side: Side, n: [f64; 2], z: [f64; 2], blank: f64, left_on: f64) -> Line {
    let at = heights(room, side, z);
    let wall = |n: f64| at.iter().filter_map(|&z| room.end_wall(side, n, z)).fold(f64::INFINITY, f64::min);
    let measured = followed(&wall, &[], n[0] - PAST, n[1] + WALL_PAST);
    let (blank, waste, read_at) = (Straight::level(blank), Waste::Above, Vec::new());
    let scribed = scribe(1, measured, blank, waste, left_on, read_at, Edge::Back, |t| t);
    scribed.line(Edge::Far, CutTo::EndWall(side), false)
}

/// The wall's line over the stretch `range`, in the frame that `seen` gives.
fn along_wall(
    room: &Measured<'_>,
    side: Side,
    range: [f64; 2],
    z: [f64; 2],
    seen: impl Fn(Vec3) -> Point,
) -> Vec<Point> {
    let at = heights(room, side, z);
    let foremost = |a: f64| at.iter().map(|&z| room.stands_out(side, a, z)).fold(f64::NEG_INFINITY, f64::max);
    // The corner of the room may lie before or behind the corner of the runs.
    let corner = seen(room.setting.corner)[0];
    let each = seen(room.from_wall(side, 1.0, 0.0))[0] - corner;
    let [from, to] = [range[0].min(corner) - WALL_PAST, range[1] + WALL_PAST].map(|t| (t - corner) / each);
    let line = followed(&foremost, &room.read_at(side), from, to);
    line.into_iter().map(|[a, o]| seen(room.from_wall(side, a, o))).collect()
}

/// The heights at which the wall may stand out most between `z`.
fn heights(room: &Measured<'_>, side: Side, z: [f64; 2]) -> Vec<f64> {
    let between = room.heights(side).into_iter().filter(|&height| height > z[0] && height < z[1]);
    z.into_iter().chain(between).collect()
}

/// `place` says where along the edge a reading of the wall lies.
fn scribe(
    runs: usize,
    measured: Vec<Point>,
    blank: Straight,
    waste: Waste,
    left_on: f64,
    read_at: Vec<f64>,
    from: Edge,
    place: impl Fn(f64) -> f64,
) -> Scribe {
    let read_at = read_at.into_iter().map(place).collect();
    Scribe { runs, measured, hidden: Vec::new(), blank, waste, left_on, read_at, from, board: None }
}
