//! How does a part come to what it meets? Quickly at first, and over the last 60 mm (12° of a door) at a tenth of the speed,
//! so that one sees the gap close.
//!
//! Openings in mm or radians, times in seconds.

use crate::clearance::{Contact, Opening};
use crate::model::Motion;

/// Seconds from shut to open.
pub(super) const TRAVEL_SECONDS: f64 = 0.75;
/// A slow approach begins this far before, in mm and in radians (12°).
const APPROACH: [f64; 2] = [60.0, std::f64::consts::PI / 15.0];
/// A slow approach is this many times slower.
pub(super) const SLOWER: f64 = 10.0;
/// A fast leg takes this much longer than at the mean speed, since it ends slowly.
const ENDS_SLOWLY: f64 = 1.2;

/// What a part comes near to, and over which part of its way that is told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Approach {
    /// From this opening on.
    pub from: f64,
    /// To this one: the touch, or where it comes nearer than is wanted.
    pub to: f64,
    /// What it meets.
    pub contact: Contact,
    /// Whether it touches there.
    pub touches: bool,
}

impl Approach {
    /// The approach of a part that opens so; `None` where it meets nothing.
    #[must_use]
    pub fn of(motion: &Motion, opening: &Opening) -> Option<Self> {
        let before = match motion {
            Motion::Slide { .. } => APPROACH[0],
            Motion::Swing { .. } => APPROACH[1],
        };
        let (to, contact, touches) = match opening.touches_first {
            Some(contact) => (opening.to_touch, contact, true),
            None if !opening.is_clear() => (opening.to_wanted, opening.least_gap?, false),
            None => return None,
        };
        Some(Self { from: (to - before).max(0.0), to, contact, touches })
    }
}

/// A piece of the way: from here to there in this time, with these speeds at its ends; a cubic of Hermite's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Leg {
    pub(super) ends: [f64; 2],
    pub(super) speeds: [f64; 2],
    pub(super) seconds: f64,
}

impl Leg {
    pub(super) fn at(&self, time: f64) -> f64 {
        if self.seconds <= 0.0 {
            return self.ends[1];
        }
        let u = (time / self.seconds).clamp(0.0, 1.0);
        let (square, cube) = (u * u, u * u * u);
        let [from, to] = self.ends;
        let [first, last] = self.speeds.map(|speed| speed * self.seconds);
        from + (to - from) * (3.0 * square - 2.0 * cube) + first * (cube - 2.0 * square + u) + last * (cube - square)
    }
}

/// How long a whole `way` takes of a part whose full extent is `full`.
pub(super) fn seconds(way: f64, full: f64) -> f64 {
    // A short way is not over in a blink.
    if way <= 0.0 { 0.0 } else { TRAVEL_SECONDS * (way / full.max(1e-9)).max(0.35) }
}

/// The way from shut to `goal`, slower over `approach`.
pub(super) fn legs(goal: f64, full: f64, approach: Option<Approach>) -> Vec<Leg> {
    if goal <= 0.0 {
        return Vec::new();
    }
    let Some(approach) = approach else {
        return vec![Leg { ends: [0.0, goal], speeds: [0.0; 2], seconds: seconds(goal, full) }];
    };
    let fast = full / TRAVEL_SECONDS;
    let slow = fast / SLOWER;
    let (from, to) = (approach.from, approach.to.min(goal));
    let mut legs = Vec::new();
    if from > 0.0 {
        legs.push(Leg { ends: [0.0, from], speeds: [0.0, slow], seconds: ENDS_SLOWLY * from / fast });
    }
    legs.push(Leg { ends: [from, to], speeds: [slow; 2], seconds: (to - from) / slow });
    if goal > to {
        legs.push(Leg { ends: [to, goal], speeds: [slow, 0.0], seconds: ENDS_SLOWLY * (goal - to) / fast });
    }
    legs
}
