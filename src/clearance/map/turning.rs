//! Where does what swings conflict with what slides? Angle by angle, on the safe side.
//!
//! At one angle the openings of the slide that come within a distance are one open interval. Two
//! angles give two intervals, and straight lines between their ends bound what is too near in between: along such a line
//! each corner of the one piece goes past each corner of the other, and in a direction `n` that turns evenly from where the
//! closest points lie at the first angle to where they lie at the last, their gap is a smooth function of the angle. It
//! drops below the straight line between its two ends by no more than Δ²/8 · max|φ″|, and
//! |φ″| ≤ ν²·D + 2ν·(|k| + r) + r: ν how fast `n` turns, D how far apart two corners are at most, k the slope of the line, r
//! the distance of the farthest corner from the hinge line. So lines through where the gap is the clearance and [`EASE`]
//! keep the clearance, where that bound is no more than [`EASE`]; if it is more, the step is halved. Where steps have become
//! as small as [`FINEST`], all that the hull of both ends and its bulge comes near counts as a conflict (see
//! [`crate::clearance::swing`]).

use super::plane::{Point, area, clip, rectangle};
use super::{Opener, Region};
use crate::clearance::free::posed;
use crate::clearance::sweep::{Swept, closest};
use crate::clearance::tolerance::{SAME, STEERS};
use crate::clearance::travel::{Interval, too_near_within};
use crate::model::{Convex, Motion, PartId, Vec3};

/// What a line may lie outside the conflict at its ends, so that all of it lies outside: mm.
const EASE: f64 = STEERS;

/// An angle step is not halved any more when no point moves further in it than this, mm.
const FINEST: f64 = 0.1;

/// What a pair on the outlines keeps beyond the clearance at most: at the ends of a line [`EASE`], and at its middle, which
/// is measured, twice that; of the smallest steps, how far a point moves in it and a little more. In mm.
pub(super) const ERROR: f64 = 0.25;

/// Angle steps from the start. Our own choice.
const FIRST_STEPS: u32 = 16;

/// The slack of an interval's end, mm: far below [`EASE`].
const ENDS: f64 = 1e-4;

/// A piece that turns, against one that slides.
struct Turning<'m> {
    piece: &'m Convex,
    motion: Motion,
    /// Distance of its farthest corner from the hinge line.
    radius: f64,
    other: &'m Convex,
    along: Vec3,
    travel: f64,
    margin: f64,
}

/// The openings of the slide that are too near at one angle, and the directions between the closest points at both ends.
#[derive(Clone, Copy, Debug)]
struct Chord {
    ends: Interval,
    toward: [Vec3; 2],
}

/// A step that was done: its angles, and the openings that are within the outline all over it.
struct Done {
    angles: Interval,
    within: Interval,
}

/// The conflicts of a swing with what slides along `along`: the swing's angle first.
pub(super) fn against_a_slide(openers: [&Opener<'_>; 2], along: Vec3, margin: f64) -> Vec<Region> {
    let [swing, slide] = openers;
    let travel = slide.motion.extent();
    let mut open = Vec::new();
    for (part, piece, bounds) in &swing.pieces {
        for (other, other_piece, other_bounds) in &slide.pieces {
            if bounds.gap(other_bounds) < margin.max(SAME) {
                let radius = radius(piece, &swing.motion);
                let turning =
                    Turning { piece, motion: swing.motion, radius, other: other_piece, along, travel, margin };
                open.push((turning.size(), [*part, *other], turning));
            }
        }
    }
    // The largest first: they hold most of the rest.
    open.sort_by(|a, b| b.0.total_cmp(&a.0));
    let (mut regions, mut done): (Vec<Region>, Vec<Vec<Done>>) = (Vec::new(), Vec::new());
    for (_, parts, turning) in open {
        done.push(turning.map(parts, &done, &mut regions));
    }
    regions
}

/// Distance of a piece's farthest corner from the hinge line; for a slide, how far a point goes for each mm.
pub(super) fn radius(piece: &Convex, motion: &Motion) -> f64 {
    match *motion {
        Motion::Slide { .. } => 1.0,
        Motion::Swing { hinge, axis, .. } => {
            piece.vertices().map(|v| (v - hinge).cross(axis).length()).fold(0.0, f64::max)
        }
    }
}

impl Turning<'_> {
    /// About how much of a map it takes.
    fn size(&self) -> f64 {
        let [low, high] = Swept::still(self.other).extent(Vec3::Z);
        let [own_low, own_high] = Swept::still(self.piece).extent(Vec3::Z);
        self.radius * (high.min(own_high) - low.max(own_low)).max(0.0)
    }

    /// Adds the conflicts of the two pieces, less what is `known` already.
    fn map(&self, parts: [PartId; 2], known: &[Vec<Done>], regions: &mut Vec<Region>) -> Vec<Done> {
        let each = self.motion.extent() / f64::from(FIRST_STEPS);
        let angle = |k: u32| each * f64::from(k);
        let chords: Vec<Option<Chord>> = (0..=FIRST_STEPS).map(|k| self.chord(angle(k))).collect();
        let mut steps: Vec<(Interval, [Option<Chord>; 2])> = (0..FIRST_STEPS)
            .rev()
            .zip(chords.windows(2).rev())
            .map(|(k, chords)| ([angle(k), angle(k + 1)], [chords[0], chords[1]]))
            .collect();
        let mut done = Vec::new();
        while let Some((angles, chords)) = steps.pop() {
            let bounded = match chords {
                [Some(first), Some(last)] => self.bounded(angles, first, last),
                _ => None,
            };
            let outline = if let Some(outline) = bounded {
                outline
            } else {
                let Some(over) = self.passed_over(angles) else { continue };
                let known = known.iter().any(|done| hold(done, angles, over));
                if known {
                    continue;
                }
                if self.radius * (angles[1] - angles[0]) > FINEST {
                    let middle = f64::midpoint(angles[0], angles[1]);
                    let chord = self.chord(middle);
                    steps.push(([middle, angles[1]], [chord, chords[1]]));
                    steps.push(([angles[0], middle], [chords[0], chord]));
                    continue;
                }
                rectangle([angles[0], over[0]], [angles[1], over[1]])
            };
            let [low, high] = [outline[0][1].max(outline[1][1]), outline[2][1].min(outline[3][1])];
            done.push(Done { angles, within: [low, high] });
            let needed = [outline[0][1].min(outline[1][1]).max(0.0), outline[2][1].max(outline[3][1]).min(self.travel)];
            if known.iter().any(|done| hold(done, angles, needed)) {
                continue;
            }
            let outer = clip(&clip(&outline, [0.0, 1.0], 0.0), [0.0, -1.0], -self.travel);
            if area(&outer) > 0.0 {
                regions.push(Region { parts, outer, inner: Vec::new() });
            }
        }
        done
    }

    fn turned(&self, angle: f64) -> std::borrow::Cow<'_, Convex> {
        posed(self.piece, &self.motion, angle)
    }

    /// What comes within the margin and [`EASE`] at one angle.
    fn chord(&self, angle: f64) -> Option<Chord> {
        let turned = self.turned(angle);
        let (own, other) = (Swept::still(&turned), Swept::still(self.other));
        let ends = too_near_within(&other, &own, self.along, self.margin + EASE, ENDS)?;
        let toward = ends.map(|s| {
            let near = closest(&own, &other.moved(self.along * s));
            (near.points[1] - near.points[0]).normalize_or_zero()
        });
        Some(Chord { ends, toward })
    }

    /// The outline between two angles, where straight lines are sure to bound what is too near: the first angle's lower
    /// end, the last one's, and the upper ends back again.
    fn bounded(&self, angles: Interval, first: Chord, last: Chord) -> Option<Vec<Point>> {
        for end in [0, 1] {
            let [from, to] = [first.ends[end], last.ends[end]];
            // Beyond either end of the slide's way there is nothing to bound.
            let beyond = if end == 0 { from.max(to) <= 0.0 } else { from.min(to) >= self.travel };
            if !beyond && !self.is_sure(angles, [from, to], [first.toward[end], last.toward[end]]) {
                return None;
            }
        }
        Some(vec![
            [angles[0], first.ends[0]],
            [angles[1], last.ends[0]],
            [angles[1], last.ends[1]],
            [angles[0], first.ends[1]],
        ])
    }

    /// Whether a straight line between two ends keeps the margin, and at its middle no more than twice [`EASE`] beyond it.
    fn is_sure(&self, angles: Interval, ends: Interval, toward: [Vec3; 2]) -> bool {
        let step = angles[1] - angles[0];
        let slope = ((ends[1] - ends[0]) / step).abs();
        let turns = toward[0].cross(toward[1]).length().atan2(toward[0].dot(toward[1]));
        let goes = slope + self.radius;
        let curves = self.radius * step * step;
        // Without how far apart corners are, which is dearer to find: most steps that are too long fail by this.
        let least = (2.0 * turns * goes * step + curves) / 8.0;
        if least > EASE {
            return false;
        }
        let turned = self.turned(angles[0]);
        let other = Swept::still(self.other).moved(self.along * ends[0]);
        let corners = self.other.vertices().map(|v| v + other.at);
        let apart = corners.flat_map(|v| turned.vertices().map(move |w| (v - w).length())).fold(0.0, f64::max);
        if least + turns * turns * (apart + goes * step) / 8.0 > EASE {
            return false;
        }
        let middle = self.turned(f64::midpoint(angles[0], angles[1]));
        let there = Swept::still(self.other).moved(self.along * f64::midpoint(ends[0], ends[1]));
        closest(&Swept::still(&middle), &there).distance <= self.margin + 2.0 * EASE
    }

    /// The openings of the slide that come near all that is passed over between two angles, as far as they lie on its way;
    /// `None` where none do.
    fn passed_over(&self, angles: Interval) -> Option<Interval> {
        let (first, last) = (self.turned(angles[0]), self.turned(angles[1]));
        let bulge = self.radius * (1.0 - ((angles[1] - angles[0]) / 2.0).cos());
        let hull = Swept { twin: Some(&last), ..Swept::still(&first) };
        // Not less than steers the tangents: on the safe side, and far below what the smallest steps add.
        let margin = (self.margin + bulge).max(STEERS);
        let [low, high] = too_near_within(&Swept::still(self.other), &hull, self.along, margin, ENDS)?;
        let [low, high] = [low.max(0.0), high.min(self.travel)];
        (low < high).then_some([low, high])
    }
}

/// Whether the steps, in order, hold `openings` at every one of `angles`.
fn hold(done: &[Done], angles: Interval, openings: Interval) -> bool {
    let mut reached = angles[0];
    let from = done.partition_point(|step| step.angles[1] <= reached);
    for step in done.iter().skip(from) {
        if step.angles[0] > reached || step.within[0] > openings[0] || step.within[1] < openings[1] {
            return false;
        }
        reached = step.angles[1];
        if reached >= angles[1] {
            return true;
        }
    }
    false
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::clearance::map::plane::holds;

    const REACH: f64 = 400.0;
    pub(in super::super) const THICK: f64 = 19.0;

    pub(in super::super) fn opener(piece: &Convex, motion: Motion) -> Opener<'_> {
        let bounds = crate::clearance::map::way_bounds(piece, &motion);
        Opener { motion, pieces: vec![(PartId(0), piece, bounds)], bounds }
    }

    /// A 400 × 19 door hinged at the origin, opening from +x towards +y.
    pub(in super::super) fn door() -> (Convex, Motion) {
        let piece = Convex::block(Vec3::new(0.0, -THICK, 0.0), Vec3::X * REACH, Vec3::Y * THICK, Vec3::Z * 700.0);
        (piece, Motion::Swing { hinge: Vec3::ZERO, axis: Vec3::Z, angle: 120.0_f64.to_radians() })
    }

    /// How far the point (x, y) is from the door at an angle: the distance from a rectangle, a closed form.
    fn from_door(angle: f64, x: f64, y: f64) -> f64 {
        let (sin, cos) = angle.sin_cos();
        let (along, off) = (x * cos + y * sin, -x * sin + y * cos);
        let beyond = |value: f64, low: f64, high: f64| (low - value).max(value - high).max(0.0);
        beyond(along, 0.0, REACH).hypot(beyond(off, -THICK, 0.0))
    }

    #[test]
    fn a_door_against_a_needle_is_told_on_the_safe_side_and_within_its_error() {
        let (piece, swing) = door();
        for (start, way, margin) in [
            (Vec3::new(380.0, 450.0, 0.0), -Vec3::Y, 12.0),
            (Vec3::new(-300.0, 150.0, 0.0), Vec3::X, 3.0),
            (Vec3::new(390.0, 300.0, 0.0), Vec3::new(-0.6, -0.8, 0.0), 0.0),
        ] {
            let thin = 1e-4;
            let needle = Convex::block(start, Vec3::X * thin, Vec3::Y * thin, Vec3::Z * 50.0);
            let slide = Motion::Slide { direction: way, travel: 500.0 };
            let regions = against_a_slide([&opener(&piece, swing), &opener(&needle, slide)], way, margin);
            let (mut told, mut conflicts) = (0, 0);
            for i in 0..=400 {
                let angle = swing.extent() * f64::from(i) / 400.0;
                for j in 0..=500 {
                    let out = f64::from(j);
                    let at = start + way * out;
                    let gap = from_door(angle, at.x, at.y);
                    let is_told = regions.iter().any(|region| holds(&region.outer, [angle, out], 0.0));
                    assert!(is_told || gap >= margin - 2.0 * thin, "{angle} {out}: {gap} is not told");
                    assert!(!is_told || gap <= margin + ERROR, "{angle} {out}: {gap} is told");
                    told += i32::from(is_told);
                    conflicts += i32::from(gap < margin.max(1e-9));
                }
            }
            assert!(conflicts > 1000 && told >= conflicts && regions.len() < 2000, "{told} {conflicts}");
        }
    }

    // What a turning bar passes over is an annular sector: with a needle that comes straight at the hinge, the openings
    // that conflict at some angle end where the circle of the bar's far corner does.
    #[test]
    fn the_way_of_a_door_is_an_annular_sector() {
        let (piece, swing) = door();
        let margin = 5.0;
        let needle = Convex::block(Vec3::new(0.0, 600.0, 0.0), Vec3::X * 1e-4, Vec3::Y * 1e-4, Vec3::Z * 50.0);
        let slide = Motion::Slide { direction: -Vec3::Y, travel: 300.0 };
        let regions = against_a_slide([&opener(&piece, swing), &opener(&needle, slide)], -Vec3::Y, margin);
        let first = regions.iter().flat_map(|region| &region.outer).map(|p| p[1]).fold(f64::INFINITY, f64::min);
        let circle = 600.0 - REACH.hypot(THICK) - margin;
        assert!(first <= circle && circle - first < ERROR, "{first} against {circle}");
        // The angles at which it can be reached: from where the inner face's corner first comes up to the needle's line.
        let angles = regions.iter().flat_map(|region| &region.outer).map(|p| p[0]);
        let least = angles.clone().fold(f64::INFINITY, f64::min);
        let before = |angle: f64| (0..=300).all(|k| from_door(angle, 0.0, 600.0 - f64::from(k)) > margin);
        assert!(before(least - 1e-9) && !before(least + 4e-3));
    }
}
