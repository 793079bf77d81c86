//! How does the floor really go? Its level as a function of the place, from the points that were measured.
//!
//! Points along one wall whose distances from it differ by no more than [`SAME_ROW`] are a row, at their mean distance. Along
//! a row the floor goes straight from point to point, from row to row straight as well, and past the outermost ones level.
//! Under a run the rows of its own wall count; where there are none, those of the other.

use super::curve::Curve;
use super::surface::Setting;
use super::{Vec3, curve::Extreme};
use crate::plan::{FloorLevel, Plan, Side};

/// Points this near to each other, out from the wall, are one row, mm. Our own choice.
const SAME_ROW: f64 = 100.0;

/// The measured floor.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorSurface {
    /// Rows along each wall, nearest first: distance out from it, and the level along it.
    rows: [Vec<(f64, Curve)>; 2],
    setting: Setting,
    room_angle: f64,
}

/// The highest point of the floor under something.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HighSpot {
    /// Which wall it is told along.
    pub wall: Side,
    /// From the corner along the wall, mm.
    pub along: f64,
    /// Out from the wall, mm.
    pub out: f64,
    /// The floor's level there, above the builder's level line, mm.
    pub level: f64,
}

impl FloorSurface {
    /// The floor of `plan`, in a room that stands as `setting` says; level where nothing was measured.
    #[must_use]
    pub fn of(plan: &Plan, setting: Setting) -> Self {
        let rows = Side::BOTH.map(|side| {
            rows(plan.room.survey.floor.iter().filter(|point| point.wall == side).copied().collect::<Vec<_>>())
        });
        Self { rows, setting, room_angle: plan.room.angle_deg.to_radians() }
    }

    /// Whether no level was measured.
    #[must_use]
    pub fn is_level(&self) -> bool {
        self.rows.iter().all(Vec::is_empty)
    }

    /// The wall whose rows say the level under `side`'s run.
    fn rows_for(&self, side: Side) -> (Side, &[(f64, Curve)]) {
        let [left, right] = &self.rows;
        let (own, other) = if side == Side::Left { (left, right) } else { (right, left) };
        if own.is_empty() && !other.is_empty() { (side.other(), other) } else { (side, own) }
    }

    /// The floor's level under `side`'s run at `point` of the runs' frame, above the builder's level line, mm.
    #[must_use]
    pub fn level(&self, side: Side, point: Vec3) -> f64 {
        let (wall, rows) = self.rows_for(side);
        let [along, out] = self.setting.on_wall(wall, self.room_angle, point);
        row_at(rows, out).at(along)
    }

    /// The highest point under an outline in plan view of the runs' frame. Between rows and points the floor goes straight, so
    /// it lies on a row, on the outline, or at one of its corners: looked for in the box along the wall around the outline,
    /// which is never less.
    #[must_use]
    pub fn highest(&self, side: Side, outline: &[Vec3]) -> Option<HighSpot> {
        let (wall, rows) = self.rows_for(side);
        let places: Vec<[f64; 2]> = outline.iter().map(|&p| self.setting.on_wall(wall, self.room_angle, p)).collect();
        let range = |k: usize| {
            let of = places.iter().map(|place| place[k]);
            of.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], v| [low.min(v), high.max(v)])
        };
        if places.is_empty() || rows.is_empty() {
            return None;
        }
        let (along, out) = (range(0), range(1));
        let inside = rows.iter().map(|(at, _)| *at).filter(|at| *at > out[0] && *at < out[1]);
        let mut best: Option<HighSpot> = None;
        for n in std::iter::once(out[0]).chain(inside).chain(std::iter::once(out[1])) {
            let [_, Extreme { value, along }] = row_at(rows, n).extremes(along, 0.0);
            if best.is_none_or(|spot| value > spot.level) {
                best = Some(HighSpot { wall, along, out: n, level: value });
            }
        }
        best
    }
}

fn rows(mut points: Vec<FloorLevel>) -> Vec<(f64, Curve)> {
    points.sort_by_key(|point| point.out);
    let mut groups: Vec<Vec<FloorLevel>> = Vec::new();
    for point in points {
        match groups.last_mut() {
            Some(group) if group.first().is_some_and(|first| (point.out - first.out).to_mm() <= SAME_ROW) => {
                group.push(point);
            }
            _ => groups.push(vec![point]),
        }
    }
    let row = |mut group: Vec<FloorLevel>| {
        group.sort_by_key(|point| (point.along, point.level));
        let out = group.iter().map(|point| point.out.to_mm()).sum::<f64>() / group.len() as f64;
        let points: Vec<[f64; 2]> = group.iter().map(|point| [point.along.to_mm(), point.level.to_mm()]).collect();
        (out, Curve::straight(&points))
    };
    groups.into_iter().map(row).collect()
}

/// The level along the line `out` from the wall.
fn row_at(rows: &[(f64, Curve)], out: f64) -> Curve {
    let after = rows.partition_point(|(at, _)| *at < out);
    match (after.checked_sub(1).and_then(|k| rows.get(k)), rows.get(after)) {
        (Some((n0, near)), Some((n1, far))) => {
            let part = (out - n0) / (n1 - n0);
            Curve::mixed(near, 1.0 - part, far, part)
        }
        (Some((_, row)), None) | (None, Some((_, row))) => row.clone(),
        (None, None) => Curve::default(),
    }
}
