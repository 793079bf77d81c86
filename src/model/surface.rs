//! How does a wall really go? The surveyed surface behind a run, as a function of the place on it.
//!
//! [`Surface::of`] takes the survey of one wall. Frame: `along` mm from the corner along the measuring line, `height` mm above
//! the finished floor; the answer is how far the wall stands out into the room from the *wall line*: the line parallel to
//! the measuring line through the corner (the wall's place at `along` 0, at the lowest height read). Negative where it
//! lies further back.
//!
//! Between readings of one height the wall goes straight, or along a natural cubic spline; between heights straight; past the
//! outermost readings it keeps their gap. Gaps read at two heights or more say how the wall leans. Where they were read at
//! one height, or not at all, the plumb readings say it: straight up from the floor as far as each was measured over,
//! upright from there on, straight between their places and level past them.

use super::Vec3;
use super::curve::Curve;
use crate::plan::{Between, Plan, Side, WallSurvey};

/// Where the measured room stands in the runs' frame: where the two wall lines meet on the floor, and how the left one
/// turns from +x.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// Where the wall lines meet, at z = 0, mm.
    pub corner: Vec3,
    /// From +x to the left wall line, radians, counter-clockwise seen from above.
    pub turn: f64,
}

impl Setting {
    /// Unit directions of `side`'s wall line, away from the corner, and out from it into the room; `room_angle` in radians.
    #[must_use]
    pub fn wall_frame(&self, side: Side, room_angle: f64) -> [Vec3; 2] {
        let angle = match side {
            Side::Left => self.turn,
            Side::Right => self.turn + room_angle,
        };
        let (sin, cos) = angle.sin_cos();
        let out = match side {
            Side::Left => Vec3::new(-sin, cos, 0.0),
            Side::Right => Vec3::new(sin, -cos, 0.0),
        };
        [Vec3::new(cos, sin, 0.0), out]
    }

    /// How far `point` lies from the corner along `side`'s wall line, and out from it, mm.
    #[must_use]
    pub fn on_wall(&self, side: Side, room_angle: f64, point: Vec3) -> [f64; 2] {
        self.wall_frame(side, room_angle).map(|axis| (point - self.corner).dot(axis))
    }

    /// The point `along` `side`'s wall line, `out` from it, `height` above the floor.
    #[must_use]
    pub fn point(&self, side: Side, room_angle: f64, [along, out, height]: [f64; 3]) -> Vec3 {
        let [w, n] = self.wall_frame(side, room_angle);
        self.corner + w * along + n * out + Vec3::Z * height
    }
}

/// A surveyed wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    /// Rows, lowest first: height, and how far the wall stands out along it.
    rows: Vec<(f64, Curve)>,
}

/// A part of a wall between two places along it and two heights: no point of the wall there stands out further than this
/// flat face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Patch {
    pub(super) along: [f64; 2],
    pub(super) height: [f64; 2],
    /// How far it stands out at its lower and its upper edge, where `along` begins.
    pub(super) near: [f64; 2],
    /// How much further it stands out where `along` ends, the same at both edges.
    pub(super) grows: f64,
}

/// How much more wall than there is a [`Patch`] may hold, mm: half of it for the curve, half for the twist. Our own choice.
pub(super) const PATCH_EXCESS: f64 = 0.2;

impl Surface {
    /// The wall behind `side`'s run; plane where nothing was read.
    #[must_use]
    pub fn of(plan: &Plan, side: Side) -> Self {
        let survey = plan.room.survey.wall(side);
        let mut rows = read_rows(survey);
        let datum = rows.first().map_or(0.0, |(_, row)| row.at(0.0));
        for (_, row) in &mut rows {
            row.raise(-datum);
        }
        if rows.len() < 2 && !survey.plumb.is_empty() { Self { rows: leaning(survey, &rows) } } else { Self { rows } }
    }

    /// How far the wall stands out from the wall line there, mm.
    #[must_use]
    pub fn stands_out(&self, along: f64, height: f64) -> f64 {
        match self.around(height) {
            [Some((low, below)), Some((_, above))] => low * below.at(along) + (1.0 - low) * above.at(along),
            [Some((_, row)), None] | [None, Some((_, row))] => row.at(along),
            [None, None] => 0.0,
        }
    }

    /// How the wall goes at one height.
    #[must_use]
    pub fn at_height(&self, height: f64) -> Curve {
        match self.around(height) {
            [Some((low, below)), Some((_, above))] => Curve::mixed(below, low, above, 1.0 - low),
            [Some((_, row)), None] | [None, Some((_, row))] => row.clone(),
            [None, None] => Curve::default(),
        }
    }

    /// The heights between `from` and `to` at which the wall may be farthest out or farthest back: both, and every row
    /// between. The wall goes straight from each to the next.
    #[must_use]
    pub fn heights(&self, [from, to]: [f64; 2]) -> Vec<f64> {
        let rows = self.rows.iter().map(|(height, _)| *height).filter(|height| *height > from && *height < to);
        std::iter::once(from).chain(rows).chain(std::iter::once(to)).collect()
    }

    /// How far back and how far out it stands between two places and two heights, exactly.
    #[must_use]
    pub fn range(&self, along: [f64; 2], height: [f64; 2]) -> [f64; 2] {
        let ends = self.heights(height).into_iter().map(|z| self.at_height(z).extremes(along, 0.0));
        ends.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], [least, most]| {
            [low.min(least.value), high.max(most.value)]
        })
    }

    /// Whether nothing was measured of it.
    #[must_use]
    pub fn is_plane(&self) -> bool {
        self.rows.is_empty()
    }

    /// The rows below and above `height`, each with its weight.
    fn around(&self, height: f64) -> [Option<(f64, &Curve)>; 2] {
        let after = self.rows.partition_point(|(at, _)| *at < height);
        match (after.checked_sub(1).and_then(|k| self.rows.get(k)), self.rows.get(after)) {
            (Some((h0, low)), Some((h1, high))) => {
                let part = (height - h0) / (h1 - h0);
                [Some((1.0 - part, low)), Some((part, high))]
            }
            (low, high) => [low.map(|(_, row)| (1.0, row)), high.map(|(_, row)| (1.0, row))],
        }
    }

    /// The wall between two places and two heights in patches, each at most [`PATCH_EXCESS`] more wall than there is and
    /// nowhere less.
    pub(super) fn patches(&self, along: [f64; 2], height: [f64; 2]) -> Vec<Patch> {
        let mut patches = Vec::new();
        for z in self.heights(height).windows(2) {
            let &[low, high] = z else { continue };
            let rows = [low, high].map(|z| self.at_height(z));
            let mut ends: Vec<f64> = rows.iter().flat_map(Curve::knots).copied().collect();
            ends.extend(along);
            ends.retain(|x| *x >= along[0] && *x <= along[1]);
            ends.sort_by(f64::total_cmp);
            ends.dedup();
            for x in ends.windows(2) {
                let &[from, to] = x else { continue };
                let parts = parts_needed(&rows, [from, to]);
                let mut near = from;
                for k in 1..=parts {
                    let far = if k == parts { to } else { from + (to - from) * k as f64 / parts as f64 };
                    patches.push(patch(&rows, [near, far], [low, high]));
                    near = far;
                }
            }
        }
        patches
    }
}

/// In how many parts a stretch between two knots must be cut to keep [`PATCH_EXCESS`]. A chord leaves a curve by no more than
/// its second derivative over 8 times its length squared, which counts twice: the chord is raised by it, and the curve
/// may be as far behind. Half of what two rows rise apart counts once.
fn parts_needed(rows: &[Curve; 2], x: [f64; 2]) -> usize {
    let half = PATCH_EXCESS / 2.0;
    let bend = rows.iter().map(|row| row.bend(x)).fold(0.0, f64::max);
    let [low, high] = Curve::mixed(&rows[1], 1.0, &rows[0], -1.0).slopes(x);
    let twist = low.abs().max(high.abs()) * (x[1] - x[0]) / 2.0;
    let parts = (2.0 * bend / half).sqrt().max(twist / half).ceil().clamp(1.0, 1000.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and 1000")]
    let parts = parts as usize;
    parts
}

fn patch(rows: &[Curve; 2], along: [f64; 2], height: [f64; 2]) -> Patch {
    let corners = rows.each_ref().map(|row| {
        let bulge = row.bulge(along);
        along.map(|x| row.at(x) + bulge)
    });
    let grows = corners.iter().map(|[near, far]| far - near).sum::<f64>() / 2.0;
    Patch { along, height, near: corners.map(|[near, far]| near.max(far - grows)), grows }
}

/// The rows as they were read, lowest first.
fn read_rows(survey: &WallSurvey) -> Vec<(f64, Curve)> {
    let mut readings: Vec<[f64; 3]> =
        survey.readings.iter().map(|r| [r.height.to_mm(), r.along.to_mm(), -r.gap.to_mm()]).collect();
    readings.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])).then(a[2].total_cmp(&b[2])));
    let mut rows: Vec<(f64, Vec<[f64; 2]>)> = Vec::new();
    for [height, along, out] in readings {
        match rows.last_mut() {
            Some((last, row)) if last.total_cmp(&height).is_eq() => row.push([along, out]),
            _ => rows.push((height, vec![[along, out]])),
        }
    }
    let curve = |row: &[[f64; 2]]| match survey.between {
        Between::Straight => Curve::straight(row),
        Between::Curved => Curve::spline(row),
    };
    rows.iter().map(|(height, row)| (*height, curve(row))).collect()
}

/// Rows of a wall whose gaps were read at one height or none, and which leans as its plumb readings say.
fn leaning(survey: &WallSurvey, read: &[(f64, Curve)]) -> Vec<(f64, Curve)> {
    let mut plumb = survey.plumb.clone();
    plumb.sort_by_key(|reading| reading.along);
    let lean = |height: f64| {
        let at = |reading: &crate::plan::Plumb| {
            let over = reading.over.to_mm();
            let part = if over > 0.0 { (height / over).clamp(0.0, 1.0) } else { 0.0 };
            [reading.along.to_mm(), -reading.back_by.to_mm() * part]
        };
        Curve::straight(&plumb.iter().map(at).collect::<Vec<_>>())
    };
    let flat = (0.0, Curve::default());
    let (read_at, row) = read.first().unwrap_or(&flat);
    let mut heights: Vec<f64> = plumb.iter().map(|reading| reading.over.to_mm()).collect();
    heights.extend([0.0, *read_at]);
    heights.sort_by(f64::total_cmp);
    heights.dedup();
    let here = lean(*read_at);
    let at = |height: f64| Curve::mixed(row, 1.0, &Curve::mixed(&lean(height), 1.0, &here, -1.0), 1.0);
    heights.into_iter().map(|height| (height, at(height))).collect()
}
