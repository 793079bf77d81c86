//! What stands upright: end panels seen from the side; kick covers, stiles and filler faces seen from the room.

use super::chain::{Straight, Waste};
use super::piece::{Line, PAST, Piece, Scribe, both_faces};
use super::{CutTo, View, left_on};
use crate::install::measured::Measured;
use crate::length::SNAP_MM;
use crate::model::{Convex, Edge, Part, Role, Vec3};
use crate::plan::{Side, UnitKind};

/// An end panel in the plane out from the wall and up: its back edge to the wall, its lower edge to the floor.
pub(super) fn end_panel(room: &Measured<'_>, part: &Part, side: Side) -> Piece {
    let run = room.run(side);
    let [hidden, seen] = part.extent(run.along);
    let [[n0, n1], [z0, z1]] = [part.extent(run.out), part.extent(Vec3::Z)];
    let [back_on, low_on] = [left_on(part, run.out), left_on(part, Vec3::Z)];
    let (n0, z0) = (n0 - back_on, z0 - low_on);
    let heights = room.heights(side);
    let wall = |s: f64| move |z: f64| room.wall(side, s, z);
    let [measured, behind] = both_faces(&wall(seen), &wall(hidden), &heights, [z0 - PAST, z1 + PAST]);
    let board = room.baseboard().map(|[thick, high]| {
        let foot = room.wall(side, seen, 0.0) + thick;
        [room.floor(side, seen, foot) + high, thick]
    });
    let back = Scribe {
        runs: 1,
        measured,
        hidden: behind,
        blank: Straight::level(n0),
        waste: Waste::Below,
        left_on: back_on,
        read_at: heights,
        from: Edge::Lower,
        board,
    };
    let floor = |s: f64| move |n: f64| room.floor(side, s, n);
    let read_at: Vec<f64> = room.levels_at(side).into_iter().map(|[_, n]| n).collect();
    let lower = floor_line([&floor(seen), &floor(hidden)], read_at, [n0, n1], z0, low_on, Edge::Back);
    Piece {
        part: part.id,
        name: part.name.clone(),
        seen_from: View::FarSide,
        blank: [[n0, n1], [z0, z1]],
        thickness: seen - hidden,
        lines: vec![
            lower,
            Line::straight(Edge::Front, CutTo::Straight, [n1, z0 - PAST], [n1, z1 + PAST]),
            Line::straight(Edge::Upper, CutTo::Straight, [n1 + PAST, z1], [n0 - PAST, z1]),
            back.line(Edge::Back, CutTo::Wall(side), true),
        ],
        // Seen from its far side, the left run's front is on the right.
        turned: [side == Side::Right, false],
    }
}

/// A board that stands along the run, in the plane along it and up: its lower edge to the floor where it stands on it, its
/// far end to the end wall where it reaches that. `None` where it does neither.
pub(super) fn board(room: &Measured<'_>, part: &Part, side: Side) -> Option<Piece> {
    let run = room.run(side);
    let [n0, n1] = part.extent(run.out);
    let [[_, s1], [z0, z1]] = [part.extent(run.along), part.extent(Vec3::Z)];
    let on_floor = z0.abs() <= SNAP_MM;
    let at_wall = super::meets_end_wall(room, side, s1, n1, z0) && ends_the_run(room, part, side);
    if !on_floor && !at_wall {
        return None;
    }
    let low_on = if on_floor { left_on(part, Vec3::Z) } else { 0.0 };
    let far_on = if at_wall { left_on(part, run.along) } else { 0.0 };
    let (z0, s1) = (z0 - low_on, s1 + far_on);
    // Its near end on the face that is seen: a mitred or lapped end is bevelled.
    let face = part.pieces.iter().flat_map(Convex::vertices).filter(|v| (v.dot(run.out) - n1).abs() <= SNAP_MM);
    let s0 = face.map(|v| v.dot(run.along)).fold(f64::INFINITY, f64::min);
    let near_bevel = part.work.bevels.iter().find(|bevel| bevel.edge == Edge::Near).map_or(0.0, |b| b.angle_deg);
    let lower = if on_floor {
        let floor = |n: f64| move |s: f64| room.floor(side, s, n);
        let read_at: Vec<f64> = room.levels_at(side).into_iter().map(|[s, _]| s).collect();
        floor_line([&floor(n1), &floor(n0)], read_at, [s0, s1], z0, low_on, Edge::Near)
    } else {
        Line::straight(Edge::Lower, CutTo::Straight, [s0 - PAST, z0], [s1 + PAST, z0])
    };
    let far = if at_wall {
        let wall = |n: f64| move |z: f64| room.end_wall(side, n, z).unwrap_or(s1);
        let heights = room.heights(side);
        let [measured, hidden] = both_faces(&wall(n1), &wall(n0), &heights, [z0 - PAST, z1 + PAST]);
        let board = room.end_baseboard().map(|[thick, high]| [room.floor(side, s1, n1) + high, thick]);
        let scribe = Scribe {
            runs: 1,
            measured,
            hidden,
            blank: Straight::level(s1),
            waste: Waste::Above,
            left_on: far_on,
            read_at: heights,
            from: Edge::Lower,
            board,
        };
        scribe.line(Edge::Far, CutTo::EndWall(side), false)
    } else {
        Line::straight(Edge::Far, CutTo::Straight, [s1, z0 - PAST], [s1, z1 + PAST])
    };
    Some(Piece {
        part: part.id,
        name: part.name.clone(),
        seen_from: View::Room,
        blank: [[s0, s1], [z0, z1]],
        thickness: n1 - n0,
        lines: vec![
            lower,
            far,
            Line::straight(Edge::Upper, CutTo::Straight, [s1 + PAST, z1], [s0 - PAST, z1]),
            Line::straight(Edge::Near, CutTo::Straight, [s0, z1 + PAST], [s0, z0 - PAST]).bevelled(near_bevel),
        ],
        // Seen from the room, the left run goes to the left.
        turned: [side == Side::Left, false],
    })
}

/// Whether `part` is the last of its run: what the end wall stands beside.
fn ends_the_run(room: &Measured<'_>, part: &Part, side: Side) -> bool {
    let units = &room.plan().run(side).units;
    let last = units.len().checked_sub(1);
    let reaches = part.extent(room.run(side).along)[1] >= room.run(side).ends_at - SNAP_MM;
    match part.role {
        Role::KickCover => {
            reaches && !units.last().is_some_and(|u| matches!(u.kind, UnitKind::EndPanel | UnitKind::ApplianceSpace(_)))
        }
        _ => reaches && part.unit.is_some() && part.unit == last,
    }
}

/// A lower edge along the floor over `range`, the blank's own at `low`.
fn floor_line(
    [seen, hidden]: [&dyn Fn(f64) -> f64; 2],
    read_at: Vec<f64>,
    range: [f64; 2],
    low: f64,
    left_on: f64,
    from: Edge,
) -> Line {
    let [measured, hidden] = both_faces(seen, hidden, &read_at, [range[0] - PAST, range[1] + PAST]);
    let blank = Straight::level(low);
    let scribe = Scribe { runs: 0, measured, hidden, blank, waste: Waste::Below, left_on, read_at, from, board: None };
    scribe.line(Edge::Lower, CutTo::Floor, false)
}
