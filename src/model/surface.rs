//! How does a wall really go? The surveyed surface behind a run, as a function of the place on it.
//!
//! [`Surface::of`] takes the survey of one wall. Frame: `along` mm from the corner along the measuring line, `height` mm above
//! the finished floor; the answer is how far the wall stands out into the room from the *wall line*: the line parallel to
//! the measuring line through the corner (the wall's place at `along` 0, at the lowest height read). Negative where it
//! lies further back.
//!
//! Between readings of one height the wall goes straight, or along a natural cubic spline; between heights straight; past the
//! outermost readings it keeps their gap.

use super::Vec3;
use crate::plan::{Between, Plan, Side};

/// Where the measured room stands in the runs' frame: where the two wall lines meet on the floor, and how the left one
/// turns from +x.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// Where the wall lines meet, at z = 0, mm.
    pub corner: Vec3,
    /// From +x to the left wall line, radians, counter-clockwise seen from above.
    pub turn: f64,
}

/// A surveyed wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    /// Rows of readings, lowest first: height, and (along, stands out) from the corner outwards.
    rows: Vec<(f64, Vec<[f64; 2]>)>,
    between: Between,
}

impl Surface {
    /// The wall behind `side`'s run; plane where nothing was read.
    #[must_use]
    pub fn of(plan: &Plan, side: Side) -> Self {
        let survey = plan.room.survey.wall(side);
        let mut readings: Vec<[f64; 3]> =
            survey.readings.iter().map(|r| [r.height.to_mm(), r.along.to_mm(), -r.gap.to_mm()]).collect();
        readings.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
        let mut rows: Vec<(f64, Vec<[f64; 2]>)> = Vec::new();
        for [height, along, out] in readings {
            match rows.last_mut() {
                Some((last, row)) if last.total_cmp(&height).is_eq() => row.push([along, out]),
                _ => rows.push((height, vec![[along, out]])),
            }
        }
        let surface = Self { rows, between: survey.between };
        let datum = surface.rows.first().map_or(0.0, |(height, _)| surface.stands_out(0.0, *height));
        let rows = surface
            .rows
            .into_iter()
            .map(|(height, row)| (height, row.into_iter().map(|[a, o]| [a, o - datum]).collect()));
        Self { rows: rows.collect(), between: surface.between }
    }

    /// How far the wall stands out from the wall line there, mm.
    #[must_use]
    pub fn stands_out(&self, along: f64, height: f64) -> f64 {
        let after = self.rows.partition_point(|(at, _)| *at < height);
        let (low, high) = (after.checked_sub(1).and_then(|k| self.rows.get(k)), self.rows.get(after));
        match (low, high) {
            (Some((h0, low)), Some((h1, high))) => {
                let part = (height - h0) / (h1 - h0);
                row_at(low, along) * (1.0 - part) + row_at(high, along) * part
            }
            (Some((_, row)), None) | (None, Some((_, row))) => row_at(row, along),
            (None, None) => 0.0,
        }
    }
}

fn row_at(row: &[[f64; 2]], along: f64) -> f64 {
    let after = row.partition_point(|[at, _]| *at < along);
    match (after.checked_sub(1).and_then(|k| row.get(k)), row.get(after)) {
        (Some([s0, a]), Some([s1, b])) => a + (b - a) * (along - s0) / (s1 - s0),
        (Some([_, out]), None) | (None, Some([_, out])) => *out,
        (None, None) => 0.0,
    }
}
