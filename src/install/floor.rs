//! How does the floor lie? Its measured levels as a function of the place, from the highest point under the runs.
//!
//! Each wall has its own levels, in rows as far from the wall as they were taken. In a row the floor goes straight from
//! one level to the next, between rows straight as well, and past the outermost it keeps their height: as
//! [`crate::model::Surface`] has the walls. Whoever asks along a wall without levels asks along the other; with none at
//! all the floor is flat.

use crate::plan::{FloorLevel, Plan, Side};

/// The floor along both walls.
#[derive(Clone, Debug, PartialEq)]
pub struct Floor {
    /// For each wall, left first: rows by distance out from it; in a row (along, level) from the corner.
    rows: [Vec<(f64, Vec<[f64; 2]>)>; 2],
    /// The level that counts as height 0, mm.
    datum: f64,
}

impl Floor {
    /// The floor as measured, its heights from the builder's own level line: see [`Floor::from_highest`].
    #[must_use]
    pub fn of(plan: &Plan) -> Self {
        let levels = &plan.room.survey.floor;
        let own = |side: Side| rows(levels.iter().filter(|level| level.wall == side));
        Self { rows: Side::BOTH.map(own), datum: 0.0 }
    }

    /// Whether levels were taken along `side`'s wall.
    #[must_use]
    pub fn has(&self, side: Side) -> bool {
        !self.rows(side).is_empty()
    }

    fn rows(&self, side: Side) -> &[(f64, Vec<[f64; 2]>)] {
        match side {
            Side::Left => &self.rows[0],
            Side::Right => &self.rows[1],
        }
    }

    /// The same with its heights measured from the highest of these places: wall, along it, out from it, mm.
    #[must_use]
    pub fn from_highest(self, places: impl IntoIterator<Item = (Side, f64, f64)>) -> Self {
        let highest = places.into_iter().map(|(side, along, out)| self.height(side, along, out)).reduce(f64::max);
        let datum = self.datum + highest.unwrap_or(0.0);
        Self { datum, ..self }
    }

    /// Height of the floor there, mm; `along` and `out` from the corner and from the line of `side`'s wall.
    #[must_use]
    pub fn height(&self, side: Side, along: f64, out: f64) -> f64 {
        let rows = self.rows(side);
        let after = rows.partition_point(|(at, _)| *at < out);
        let level = match (after.checked_sub(1).and_then(|k| rows.get(k)), rows.get(after)) {
            (Some((n0, near)), Some((n1, far))) => {
                let part = (out - n0) / (n1 - n0);
                in_row(near, along) * (1.0 - part) + in_row(far, along) * part
            }
            (Some((_, row)), None) | (None, Some((_, row))) => in_row(row, along),
            (None, None) => return 0.0,
        };
        level - self.datum
    }

    /// Where levels of `side`'s wall were taken: along it and out from it, mm.
    pub fn taken_at(&self, side: Side) -> impl Iterator<Item = [f64; 2]> + '_ {
        self.rows(side).iter().flat_map(|(out, row)| row.iter().map(|[along, _]| [*along, *out]))
    }
}

fn rows<'a>(levels: impl Iterator<Item = &'a FloorLevel>) -> Vec<(f64, Vec<[f64; 2]>)> {
    let mut taken: Vec<[f64; 3]> = levels.map(|l| [l.out.to_mm(), l.along.to_mm(), l.level.to_mm()]).collect();
    taken.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let mut rows: Vec<(f64, Vec<[f64; 2]>)> = Vec::new();
    for [out, along, level] in taken {
        match rows.last_mut() {
            Some((last, row)) if last.total_cmp(&out).is_eq() => row.push([along, level]),
            _ => rows.push((out, vec![[along, level]])),
        }
    }
    rows
}

fn in_row(row: &[[f64; 2]], along: f64) -> f64 {
    let after = row.partition_point(|[at, _]| *at < along);
    match (after.checked_sub(1).and_then(|k| row.get(k)), row.get(after)) {
        (Some([s0, a]), Some([s1, b])) => a + (b - a) * (along - s0) / (s1 - s0),
        (Some([_, level]), None) | (None, Some([_, level])) => *level,
        (None, None) => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Length;

    const PLAN: &str = include_str!("../../assets/plans/glazing-corner.ron");

    fn level(wall: Side, along: f64, out: f64, level: f64) -> FloorLevel {
        FloorLevel { wall, along: Length::mm(along), out: Length::mm(out), level: Length::mm(level) }
    }

    #[test]
    fn the_floor_goes_straight_between_levels_and_is_measured_from_the_highest_place() {
        let mut plan = crate::plan::read("glazing-corner.ron", PLAN).unwrap();
        plan.room.survey.floor = vec![
            level(Side::Left, 0.0, 0.0, 100.0),
            level(Side::Left, 2000.0, 0.0, 90.0),
            level(Side::Left, 0.0, 600.0, 104.0),
            level(Side::Left, 2000.0, 600.0, 94.0),
        ];
        let floor = Floor::of(&plan).from_highest([(Side::Left, 0.0, 600.0), (Side::Left, 2000.0, 0.0)]);
        // 100 + 4/2 - 10/4 = 99.5, below 104.
        assert!((floor.height(Side::Left, 500.0, 300.0) + 4.5).abs() < 1e-9);
        // Past the outermost it keeps their height.
        assert!((floor.height(Side::Left, 2600.0, 900.0) + 10.0).abs() < 1e-9);
        assert!(floor.has(Side::Left) && !floor.has(Side::Right));
        plan.room.survey.floor.clear();
        assert!(Floor::of(&plan).height(Side::Left, 500.0, 300.0).abs() < 1e-12);
    }
}
