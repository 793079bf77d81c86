//! How near does a swinging part come? Bounds on the angle, halved until they are good to 0.01 mm, on the safe side.
//!
//! Over an angle step Δ every point goes along an arc of radius at most r, the distance of the part's farthest point
//! from the hinge line; the arc leaves its chord by no more than r·(1 − cos Δ/2). So all that the part passes over lies
//! within that of the hull of where the step begins and where it ends, and `distance(hull) ≥ margin + r·(1 − cos Δ/2)`
//! clears the whole step. A step that is not cleared is halved; one so small that its hull leaves what the part passes
//! over by no more than [`FINE`] (see [`super::hull`]) counts as too near. A part that merely must not overlap is drawn in
//! by 0.01 mm first, since a shut door touches what it lies against.

use std::collections::VecDeque;

use super::hull::TurnedHull;
use super::pairs::Bounds;
use super::sweep::{Closest, Swept, closest, drawn_in};
use super::tolerance::{SAME, SWING};
use super::travel::{Interval, too_near_within};
use crate::model::{Convex, Motion, Vec3};

/// Added to every bulge, in mm: far above the noise of a distance, far below [`SWING`].
const LAST_DIGITS: f64 = 1e-4;

/// What the hull of a step may leave of what is passed over, in mm, where it decides; a part of [`SWING`], since an angle
/// that is told keeps as much again.
const FINE: f64 = SWING / 4.0;

/// No step is halved below this, in radians: a point a hundred metres from the hinge moves 0.01 mm in it.
const LEAST_STEP: f64 = 1e-7;

/// Steps that every swing is cut into from the start, and angles tried for a first bound. Our own choice.
const FIRST_STEPS: u32 = 12;
const TRIES: u32 = 24;

/// One piece that swings.
#[derive(Clone, Debug)]
pub(super) struct Swinging {
    piece: Convex,
    motion: Motion,
    /// Distance of its farthest point from the hinge line.
    radius: f64,
    /// The hull of a step no greater than this, with its bulge, leaves what the part passes over by no more than [`FINE`].
    fine: f64,
    /// The whole way in a few first steps, each with a box around all that is passed over in it.
    steps: Vec<(Interval, Bounds)>,
}

impl Swinging {
    /// `piece` turning as `motion` says; drawn in where it merely must not overlap.
    pub(super) fn new(piece: &Convex, motion: Motion, no_overlap: bool) -> Self {
        let piece = if no_overlap { drawn_in(piece, SWING) } else { piece.clone() };
        let (mut radius, mut fine) = (0.0, 0.0);
        let each = motion.extent() / f64::from(FIRST_STEPS);
        if let Motion::Swing { hinge, axis, .. } = motion {
            let hull = TurnedHull::of(&piece, hinge, axis);
            radius = hull.radius();
            fine = hull.finest(each, FINE - LAST_DIGITS, LEAST_STEP);
        }
        let mut swinging = Self { piece, motion, radius, fine, steps: Vec::new() };
        let bounds = |angle: f64| Bounds::of(swinging.at(angle).vertices());
        let mut from = bounds(0.0);
        let mut steps = Vec::new();
        for k in 0..FIRST_STEPS {
            let step = [each * f64::from(k), each * f64::from(k + 1)];
            let to = bounds(step[1]);
            steps.push((step, from.join(to).swept_across(swinging.axis(), swinging.bulge(each))));
            from = to;
        }
        swinging.steps = steps;
        swinging
    }

    /// Distance of its farthest point from the hinge line.
    pub(super) fn radius(&self) -> f64 {
        self.radius
    }

    /// The whole way in a few steps.
    pub(super) fn first_steps(&self) -> impl Iterator<Item = Interval> + '_ {
        self.steps.iter().map(|(step, _)| *step)
    }

    /// The first steps that may come within `margin` of `b`'s box, the last first.
    fn steps_near(&self, b: &Bounds, margin: f64) -> Vec<Interval> {
        self.steps.iter().rev().filter(|(_, bounds)| bounds.gap(b) <= margin + SWING).map(|(step, _)| *step).collect()
    }

    /// The piece turned by `angle`.
    pub(super) fn at(&self, angle: f64) -> Convex {
        let turn = self.motion.carrier(angle);
        let from = turn(Vec3::ZERO);
        Convex::prism(self.piece.base().iter().map(|&p| turn(p)).collect(), turn(self.piece.push()) - from)
    }

    /// The direction of the line it turns about.
    fn axis(&self) -> Vec3 {
        match self.motion {
            Motion::Swing { axis, .. } => axis,
            Motion::Slide { .. } => Vec3::ZERO,
        }
    }

    fn whole(&self) -> f64 {
        self.motion.extent()
    }

    /// Whether `b`'s box lies further than `margin` from the box of a step from `first` to `last`; the arc's bulge counts
    /// only across the line it turns about.
    fn boxes_clear(&self, first: &Convex, last: &Convex, b: &Bounds, margin: f64, bulge: f64) -> bool {
        let around = Bounds::of(first.vertices().chain(last.vertices())).swept_across(self.axis(), bulge);
        around.gap(b) > margin + SWING
    }

    /// How far an arc of this step leaves its chord at most, and a little more for the last digits.
    pub(super) fn bulge(&self, step: f64) -> f64 {
        self.radius * (1.0 - (step / 2.0).cos()) + LAST_DIGITS
    }

    /// Whether the hull of this step is as good as what the part passes over.
    fn is_fine(&self, step: f64) -> bool {
        // Halves of halves are the same to the last digits.
        step <= self.fine * (1.0 + 1e-9)
    }

    /// The largest angle up to which it keeps `margin` from `b`, on the safe side.
    pub(super) fn opens_to(&self, b: &Swept<'_>, margin: f64) -> f64 {
        let bounds = Bounds::around(b);
        let mut steps = self.steps_near(&bounds, margin);
        while let Some([from, to]) = steps.pop() {
            let (first, last) = (self.at(from), self.at(to));
            if self.boxes_clear(&first, &last, &bounds, margin, self.bulge(to - from)) {
                continue;
            }
            let hull = Swept { twin: Some(&last), ..Swept::still(&first) };
            if closest(&hull, b).distance >= margin + self.bulge(to - from) - SAME {
                continue;
            }
            if self.is_fine(to - from) {
                return self.first_in(b, margin, [from, to]);
            }
            let middle = f64::midpoint(from, to);
            steps.push([middle, to]);
            steps.push([from, middle]);
        }
        self.whole()
    }

    /// Where in a fine step that is not clear the part first comes nearer than the margin and [`FINE`]: so a part stopped
    /// there is clear, however its way is cut into steps. Down to steps in which no point moves half of [`SWING`]. Where
    /// the smaller hulls all clear, the step's beginning: what counts as too near stays so.
    fn first_in(&self, b: &Swept<'_>, margin: f64, step: Interval) -> f64 {
        let margin = margin + FINE;
        let mut steps = vec![step];
        while let Some([from, to]) = steps.pop() {
            let (first, last) = (self.at(from), self.at(to));
            let hull = Swept { twin: Some(&last), ..Swept::still(&first) };
            if closest(&hull, b).distance >= margin + self.bulge(to - from) - SAME {
                continue;
            }
            if self.radius * (to - from) <= SWING / 2.0 {
                return from;
            }
            let middle = f64::midpoint(from, to);
            steps.push([middle, to]);
            steps.push([from, middle]);
        }
        step[0]
    }

    /// Where it comes closest to `b`, within 0.01 mm: the angle, and the closest points there; `None` where it stays
    /// `cutoff` away.
    pub(super) fn nearest(&self, b: &Swept<'_>, cutoff: f64) -> Option<(f64, Closest)> {
        let shut = closest(&Swept::still(&self.at(0.0)), b);
        let mut least = shut.distance.min(cutoff);
        let mut best = (shut.distance < cutoff).then_some((0.0, shut));
        let bounds = Bounds::around(b);
        let mut steps = self.steps_near(&bounds, least);
        while let Some([from, to]) = steps.pop() {
            // Touching already: nothing nearer is to be found.
            if least <= 0.0 {
                break;
            }
            let (first, last) = (self.at(from), self.at(to));
            let bulge = self.bulge(to - from);
            if self.boxes_clear(&first, &last, &bounds, least, bulge) {
                continue;
            }
            let hull = Swept { twin: Some(&last), ..Swept::still(&first) };
            if closest(&hull, b).distance - bulge >= least - SWING {
                continue;
            }
            let middle = f64::midpoint(from, to);
            let here = closest(&Swept::still(&self.at(middle)), b);
            if here.distance < least {
                least = here.distance;
                best = Some((middle, here));
            }
            // Down to steps in which no point moves further than that: the least told is one that was met.
            if self.radius * (to - from) > SWING {
                steps.push([middle, to]);
                steps.push([from, middle]);
            }
        }
        best
    }

    /// An angle at which it is about as near to `b` as it comes: by trying some.
    pub(super) fn somewhere_near(&self, b: &Swept<'_>) -> f64 {
        let angle = |k: u32| self.whole() * f64::from(k) / f64::from(TRIES);
        let distance = |k: u32| closest(&Swept::still(&self.at(angle(k))), b).distance;
        let best = (0..=TRIES).map(|k| (distance(k), k)).min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        best.map_or(0.0, |(_, k)| angle(k))
    }

    /// Every `s` within `window` for which, moved by `s·u`, it comes nearer to `b` than `margin` somewhere on its way;
    /// within 0.01 mm and on the safe side, less what `known` holds already. The same `b` may move instead, by `−u`.
    pub(super) fn too_near(
        &self,
        b: &Swept<'_>,
        u: Vec3,
        margin: f64,
        window: Interval,
        known: &[Interval],
    ) -> Vec<Interval> {
        let clip = |[low, high]: Interval| [low.max(window[0]), high.min(window[1])];
        let mut surely: Vec<Interval> = known.iter().copied().map(clip).filter(|k| k[0] < k[1]).collect();
        let mut found: Vec<Interval> = Vec::new();
        let bounds = Bounds::around(b);
        // All steps of one size before any smaller one: so the widest widths are known before the fine steps come, and
        // hide all but those at their ends.
        let mut steps: VecDeque<Interval> = self.steps.iter().map(|(step, _)| *step).collect();
        while let Some([from, to]) = steps.pop_front() {
            let (first, last) = (self.at(from), self.at(to));
            let bulge = self.bulge(to - from);
            let around = Bounds::of(first.vertices().chain(last.vertices())).swept_across(self.axis(), bulge);
            let by_boxes = around.meeting(&bounds, u, margin + SWING).map(clip);
            if by_boxes.is_none_or(|outer| outer[0] >= outer[1] || covered(outer, &surely)) {
                continue;
            }
            let hull = Swept { twin: Some(&last), ..Swept::still(&first) };
            let Some(outer) = too_near_within(&hull, b, u, margin + bulge, LAST_DIGITS).map(clip) else { continue };
            if outer[0] >= outer[1] || covered(outer, &surely) {
                continue;
            }
            // Only the finest steps count as found, so that this and [`Self::opens_to`] agree on every width.
            if self.is_fine(to - from) {
                insert(&mut surely, outer);
                insert(&mut found, outer);
                continue;
            }
            let middle = f64::midpoint(from, to);
            let at_middle = self.at(middle);
            if let Some(inner) = too_near_within(&Swept::still(&at_middle), b, u, margin, LAST_DIGITS).map(clip)
                && inner[0] < inner[1]
            {
                insert(&mut surely, inner);
                insert(&mut found, inner);
            }
            steps.push_back([from, middle]);
            steps.push_back([middle, to]);
        }
        found
    }
}

/// Whether one of `kept` holds all of `interval`.
pub(super) fn covered(interval: Interval, kept: &[Interval]) -> bool {
    kept.iter().any(|k| k[0] <= interval[0] && interval[1] <= k[1])
}

/// Adds an open interval to a sorted list of disjoint ones, joining those that overlap. Intervals that merely touch
/// stay apart: the point between them is good.
pub(super) fn insert(kept: &mut Vec<Interval>, mut new: Interval) {
    kept.retain(|k| {
        let apart = k[1] <= new[0] || new[1] <= k[0];
        if !apart {
            new = [new[0].min(k[0]), new[1].max(k[1])];
        }
        apart
    });
    let place = kept.partition_point(|k| k[0] < new[0]);
    kept.insert(place, new);
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A 400 × 19 door hinged at the origin, opening from +x towards +y.
    fn door(angle_deg: f64) -> Swinging {
        let piece = Convex::block(Vec3::new(0.0, -19.0, 0.0), Vec3::X * 400.0, Vec3::Y * 19.0, Vec3::Z * 700.0);
        let motion = Motion::Swing { hinge: Vec3::ZERO, axis: Vec3::Z, angle: angle_deg.to_radians() };
        Swinging::new(&piece, motion, false)
    }

    // Closed form: the free edge's outer corner travels on a circle of radius 400 about the hinge.
    #[test]
    fn a_door_meets_a_post_where_its_circle_does() {
        let post = Convex::block(Vec3::new(-50.0, 390.0, 0.0), Vec3::X * 40.0, Vec3::Y * 50.0, Vec3::Z * 700.0);
        let opens = door(180.0).opens_to(&Swept::still(&post), 12.0);
        // The outer face of the open door, at angle a, has its free edge at 400 (cos a, sin a); the post's near lower
        // corner is (−10, 390). Twelve away, by bisection on the same circle and the door's face.
        let face_gap = |a: f64| {
            let (c, s) = (a.cos(), a.sin());
            let (x, y): (f64, f64) = (-10.0, 390.0);
            let (along, off) = (x * c + y * s, -x * s + y * c);
            let beyond = (along - 400.0).max(0.0);
            off.max(0.0).hypot(beyond)
        };
        let (mut low, mut high) = (0.0_f64, std::f64::consts::FRAC_PI_2);
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if face_gap(middle) >= 12.0 { low = middle } else { high = middle }
        }
        assert!(opens <= low && (low - opens) * 400.0 < 0.05, "{opens} against {low}");
    }

    #[test]
    fn widths_that_are_too_near_err_on_the_safe_side_by_a_hundredth() {
        // A long wall square to the door's run: the farthest reach of the free edge's circle in −x.
        let wall = Convex::block(Vec3::new(-2000.0, -500.0, 0.0), Vec3::X * 100.0, Vec3::Y * 2000.0, Vec3::Z * 700.0);
        let found = door(170.0).too_near(&Swept::still(&wall), -Vec3::X, 12.0, [0.0, 5000.0], &[]);
        // At 170° the outer corner lies at −400 cos 10°; the inner corner, 19 mm aside of it, lies further in.
        let reach = 400.0 * 10.0_f64.to_radians().cos();
        let wanted = 1900.0 - reach - 12.0;
        let first = found.first().unwrap()[0];
        assert!(first <= wanted + 1e-9 && wanted - first < 0.03, "{first} against {wanted}");
    }

    #[test]
    fn intervals_join_only_where_they_overlap() {
        let mut kept = Vec::new();
        for new in [[0.0, 1.0], [3.0, 4.0], [1.0, 2.0], [0.5, 1.5]] {
            insert(&mut kept, new);
        }
        assert_eq!(kept, vec![[0.0, 2.0], [3.0, 4.0]]);
    }
}
