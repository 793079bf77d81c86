//! How does a run's back lie before its wall? Touching it, at a small angle, and how far the wall stands behind it.
//!
//! Frame of a wall: `x` along the wall line from the corner, `y` out from it into the room, mm. Frame of a run: `s` along its
//! back plane from where the two back planes meet, and the gap straight behind it, square to the back plane.
//!
//! A wall point (x, y) lies at `s = (x − x₀) cos δ + (y − y₀) sin δ`, and behind the back plane by
//! `(x − x₀) sin δ − (y − y₀) cos δ`, δ the run's tilt. So for a given tilt the wall point nearest to the back plane and
//! the farthest from it are the extremes of `y − x tan δ` along the wall, which [`Curve::extremes`] gives exactly.

use crate::model::Curve;

/// Where a run's back plane lies before its wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lie {
    /// From the wall line to the run, radians; positive where the run leaves the wall as it goes from the corner.
    pub tilt: f64,
    /// Where the two back planes meet, in the wall's frame.
    pub origin: [f64; 2],
}

/// A run and what of its wall counts.
#[derive(Clone, Debug)]
pub(super) struct Backing {
    /// From where to where it stands, along itself.
    pub(super) extent: [f64; 2],
    /// How the wall goes at each height at which the back may touch it, what stays on the wall included.
    pub(super) contact: Vec<Row>,
    /// How it goes behind each row of nailers.
    pub(super) behind: Vec<Row>,
}

/// A wall at one height, behind a part of a run.
#[derive(Clone, Debug)]
pub(super) struct Row {
    /// The height, and how the wall goes there.
    pub(super) wall: (f64, Curve),
    /// The stretches along the run that stand before it.
    pub(super) stretches: Vec<[f64; 2]>,
}

impl Row {
    /// The places nearest to the back plane and farthest from it, stretch by stretch.
    pub(super) fn places(&self, lie: &Lie) -> impl Iterator<Item = [Place; 2]> {
        self.stretches.iter().map(|&stretch| lie.extremes(&self.wall, stretch))
    }
}

/// A place behind a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    /// From the back plane to the wall.
    pub(super) gap: f64,
    /// Along the wall line.
    pub(super) x: f64,
    pub(super) height: f64,
}

/// Steps of the fixed points below: each shrinks what is left by the wall's slope times the tilt, or by the slope alone.
const STEPS: usize = 80;
/// What the fixed points stop at, mm.
const STILL: f64 = 1e-10;

impl Lie {
    /// The wall point straight behind `s`: where along the wall line, and how far behind the back plane.
    pub(super) fn behind(&self, curve: &Curve, s: f64) -> [f64; 2] {
        let (sin, cos) = self.tilt.sin_cos();
        let [x0, y0] = self.origin;
        let (mut x, mut gap) = (x0 + s * cos, 0.0);
        for _ in 0..STEPS {
            let found = (y0 + s * sin - curve.at(x)) / cos;
            let still = (found - gap).abs() <= STILL;
            gap = found;
            x = x0 + s * cos + gap * sin;
            if still {
                break;
            }
        }
        [x, gap]
    }

    /// Along the run, the place before which the wall point at `x` lies.
    pub(super) fn before(&self, curve: &Curve, x: f64) -> f64 {
        let (sin, cos) = self.tilt.sin_cos();
        (x - self.origin[0]) * cos + (curve.at(x) - self.origin[1]) * sin
    }

    /// The places nearest to the back plane and farthest from it behind a stretch of the run.
    pub(super) fn extremes(&self, (height, curve): &(f64, Curve), [from, to]: [f64; 2]) -> [Place; 2] {
        let range = [from, to].map(|s| self.behind(curve, s)[0]);
        let range = [range[0].min(range[1]), range[0].max(range[1])];
        let (sin, cos) = self.tilt.sin_cos();
        let [x0, y0] = self.origin;
        let [far, near] = curve.extremes(range, self.tilt.tan());
        [near, far].map(|place| Place { gap: cos * (y0 - place.value) - sin * x0, x: place.along, height: *height })
    }
}

impl Backing {
    /// How far out the back plane must stand for a run with its back planes' meeting at `lie`, so that it touches: the
    /// place of that meeting out from the wall line.
    fn touching(&self, lie: &Lie) -> f64 {
        let nearest = self.contact.iter().flat_map(|row| row.places(lie)).map(|[near, _]| near.gap);
        lie.origin[1] - nearest.fold(f64::INFINITY, f64::min) / lie.tilt.cos()
    }

    /// Where it comes nearest to its wall.
    pub(super) fn touch(&self, lie: &Lie) -> Option<Place> {
        let places = self.contact.iter().flat_map(|row| row.places(lie)).map(|[near, _]| near);
        places.reduce(|best, place| if place.gap < best.gap { place } else { best })
    }

    /// The greatest gap behind its nailers.
    pub(super) fn greatest(&self, lie: &Lie) -> Option<Place> {
        let places = self.behind.iter().flat_map(|row| row.places(lie)).map(|[_, far]| far);
        places.reduce(|best, place| if place.gap > best.gap { place } else { best })
    }

    fn greatest_gap(&self, lie: &Lie) -> f64 {
        self.greatest(lie).map_or(0.0, |place| place.gap)
    }

    /// The tilts between which its own best one lies: beyond the steepest slopes of its wall the gaps only grow.
    fn tilts(&self) -> [f64; 2] {
        let [from, to] = self.extent;
        let range = [from - MOST_SHIFT, to + MOST_SHIFT];
        let slopes = self.contact.iter().chain(&self.behind).map(|row| row.wall.1.slopes(range));
        let slopes = slopes.fold([0.0_f64; 2], |[low, high], [least, most]| [low.min(least), high.max(most)]);
        slopes.map(|slope| slope.atan().clamp(-MOST_TILT, MOST_TILT))
    }
}

/// A wall that runs off its line by more than this is a corner of its own and not followed: 12°. Our own choice.
const MOST_TILT: f64 = 0.21;
/// How far along a wall a run may come to stand from where it would with flat walls, for the search of slopes alone, mm.
const MOST_SHIFT: f64 = 300.0;

/// Both runs moved until each touches its wall, the room turned by `turn` (the left wall line's angle from the left run).
///
/// Where one back plane stands shifts the other run along its wall, so what it touches may change: gone through until both
/// stay where they are. Walls with steps may never come to rest; then both are moved out until nothing stands in them.
pub(super) fn settle(backings: &[Backing; 2], angles: Angles, turn: f64) -> [Lie; 2] {
    let tilts = [-turn, angles.room + turn - angles.runs];
    let mut out = [0.0; 2];
    for step in 0..2 * STEPS {
        let lies = angles.lies(tilts, out);
        let mut found = [backings[0].touching(&lies[0]), backings[1].touching(&lies[1])];
        if step >= STEPS {
            found = [found[0].max(out[0]), found[1].max(out[1])];
        }
        let moved = (found[0] - out[0]).abs().max((found[1] - out[1]).abs());
        out = found;
        if moved <= STILL {
            break;
        }
    }
    angles.lies(tilts, out)
}

/// The two angles of a corner, radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Angles {
    /// At which the walls meet.
    pub(super) room: f64,
    /// At which the runs meet.
    pub(super) runs: f64,
}

impl Angles {
    /// Both lies from how far out from each wall line the back planes meet.
    fn lies(self, tilts: [f64; 2], out: [f64; 2]) -> [Lie; 2] {
        let (sin, cos) = self.room.sin_cos();
        let lie = |own: usize, other: usize| {
            let along = (out[other] + out[own] * cos) / sin;
            Lie { tilt: tilts[own], origin: [along, out[own]] }
        };
        [lie(0, 1), lie(1, 0)]
    }
}

/// The turn with which the greatest gap behind the nailers is least.
///
/// With the stretches of wall behind the runs held, each gap is linear in the tangent of the turn, and so the greatest less
/// the least is convex; that they shift a little with the turn bends that by no more than the wall's slope. A coarse search
/// finds the valley, golden sections its bottom. Left or right exactly along the wall line is taken where it is as good.
pub(super) fn best_turn(backings: &[Backing; 2], angles: Angles) -> f64 {
    let gap = |turn: f64| {
        let lies = settle(backings, angles, turn);
        backings.iter().zip(&lies).map(|(backing, lie)| backing.greatest_gap(lie)).fold(0.0, f64::max)
    };
    let apart = angles.runs - angles.room;
    let [left, right] = [backings[0].tilts(), backings[1].tilts()];
    // The left run's tilt is −turn, the right one's turn − apart.
    let low = (-left[1]).min(apart + right[0]).min(0.0).min(apart);
    let high = (-left[0]).max(apart + right[1]).max(0.0).max(apart);
    let best = least(gap, [low, high]);
    let plain = [0.0, apart].into_iter().min_by(|a, b| gap(*a).total_cmp(&gap(*b))).unwrap_or(0.0);
    if gap(plain) <= gap(best) + AS_GOOD { plain } else { best }
}

/// The tilt that one run alone would take with its near end held where it is along the wall.
pub(super) fn best_alone(backing: &Backing, lie: &Lie) -> Lie {
    // Turning about a place of the wall does not shift it along the wall by more than its gap times the tilt.
    let turned = |tilt: f64| {
        let lie = Lie { tilt, origin: lie.origin };
        Lie { origin: [lie.origin[0], backing.touching(&lie)], ..lie }
    };
    let [low, high] = backing.tilts();
    let best = least(|tilt| backing.greatest_gap(&turned(tilt)), [low.min(lie.tilt), high.max(lie.tilt)]);
    turned(best)
}

/// A gap that is smaller by less than this is not worth a turn, mm.
const AS_GOOD: f64 = 1e-6;
/// Parts of the coarse search.
const COARSE: usize = 64;
/// Golden sections after it: each leaves 0.618 of the rest, so that 48 of them leave less than 1e-10 rad of the widest.
const SECTIONS: usize = 48;

/// Where in `range` a function with one valley is least.
fn least(of: impl Fn(f64) -> f64, [low, high]: [f64; 2]) -> f64 {
    if high - low <= 0.0 {
        return low;
    }
    let at = |k: usize| low + (high - low) * k as f64 / COARSE as f64;
    let coarse: Vec<f64> = (0..=COARSE).map(|k| of(at(k))).collect();
    let valley = (0..=COARSE).min_by(|a, b| coarse[*a].total_cmp(&coarse[*b])).unwrap_or(0);
    let (mut a, mut b) = (at(valley.saturating_sub(1)), at((valley + 1).min(COARSE)));
    let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
    let [mut c, mut d] = [b - golden * (b - a), a + golden * (b - a)];
    let [mut at_c, mut at_d] = [of(c), of(d)];
    for _ in 0..SECTIONS {
        if at_c <= at_d {
            (b, d, at_d) = (d, c, at_c);
            c = b - golden * (b - a);
            at_c = of(c);
        } else {
            (a, c, at_c) = (c, d, at_d);
            d = a + golden * (b - a);
            at_d = of(d);
        }
    }
    f64::midpoint(a, b)
}
