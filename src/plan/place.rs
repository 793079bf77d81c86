//! Where does a pull sit on its front? As its hardware entry says, or in the usual place.

use super::{HingeSide, Pull, PullSet, PullShape, defaults};
use crate::length::{Length, Unit};

/// Doors up to this height hang on two hinges, up to twice as much on three. Common practice, no source.
const TWO_HINGES: f64 = 900.0;

/// How many hinges a door of this height hangs on.
#[must_use]
pub fn hinges(height: Length) -> usize {
    if height.to_mm() <= TWO_HINGES {
        2
    } else if height.to_mm() <= 2.0 * TWO_HINGES {
        3
    } else {
        4
    }
}

/// The front that a pull sits on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrontFace {
    /// Width of the front.
    pub width: Length,
    /// Height of the front.
    pub height: Length,
    /// The side a door is hinged on; `None` for a drawer.
    pub hinge: Option<HingeSide>,
}

/// A pull's size and place on its front.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PullPlace {
    /// Its size along the front.
    pub across: Length,
    /// Its size upwards.
    pub upward: Length,
    /// Its centre above the front's lower edge.
    pub height: Length,
    /// Its centre from the front's centre, positive away from the corner.
    pub sideways: Length,
}

impl Pull {
    /// Size and place on `front`, in a plan of `unit`; `None` for [`PullShape::Absent`].
    ///
    /// The usual place on a drawer is its centre. On a door it is near the opening edge and near the top, or in the
    /// middle of a door too small for that, and within reach on one as high as a person; on one that lifts up or drops down near the middle of the opening edge. A lip
    /// lies along the upper edge.
    #[must_use]
    pub fn place_on(&self, front: FrontFace, unit: Unit) -> Option<PullPlace> {
        let (across, upward) = match self.shape {
            PullShape::Bar { length, thickness } => match self.set {
                PullSet::Level => (length, thickness),
                PullSet::Upright => (thickness, length),
            },
            PullShape::Knob { across, .. } => (across, across),
            PullShape::Edge { length, thickness } => (length.unwrap_or(front.width), thickness),
            PullShape::Absent => return None,
        };
        let (usual_height, usual_sideways) = match (self.shape, front.hinge) {
            (PullShape::Edge { .. }, _) => (front.height - upward / 2.0, Length::ZERO),
            (_, None) => (front.height / 2.0, Length::ZERO),
            (_, Some(hinge @ (HingeSide::Top | HingeSide::Bottom))) => {
                let from_edge = defaults::DOOR_PULL_FROM_EDGE.of(unit) + upward / 2.0;
                let from_edge = from_edge.min(front.height / 2.0);
                (if hinge == HingeSide::Top { from_edge } else { front.height - from_edge }, Length::ZERO)
            }
            (_, Some(hinge)) => {
                let below_top = front.height - defaults::DOOR_PULL_BELOW_TOP.of(unit) - upward / 2.0;
                let toward_edge = front.width / 2.0 - defaults::DOOR_PULL_FROM_EDGE.of(unit) - across / 2.0;
                let toward_edge = toward_edge.max(Length::ZERO);
                let sideways = match hinge {
                    HingeSide::CornerSide => toward_edge,
                    _ => -toward_edge,
                };
                let usual = below_top.max(front.height / 2.0);
                let tall = front.height > defaults::TALL_DOOR.of(unit);
                (if tall { usual.min(defaults::TALL_DOOR_PULL.of(unit)) } else { usual }, sideways)
            }
        };
        Some(PullPlace {
            across,
            upward,
            height: self.height.unwrap_or(usual_height),
            sideways: self.sideways.unwrap_or(usual_sideways),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bar(set: PullSet) -> Pull {
        let shape = PullShape::Bar { length: Length::mm(160.0), thickness: Length::mm(12.0) };
        Pull {
            name: "bar".to_owned(),
            shape,
            projection: Length::mm(35.0),
            height: None,
            sideways: None,
            set,
            finish: None,
            holes: None,
        }
    }

    #[test]
    fn a_drawer_has_its_pull_in_the_middle() {
        let front = FrontFace { width: Length::mm(597.0), height: Length::mm(140.0), hinge: None };
        let place = bar(PullSet::Level).place_on(front, Unit::Millimetre).unwrap();
        assert_eq!((place.height, place.sideways), (Length::mm(70.0), Length::ZERO));
    }

    // 400 - 50 - 6 = 344 above the lower edge of a door that drops down, 56 of one that lifts up.
    #[test]
    fn a_door_that_drops_down_has_its_pull_near_its_upper_edge() {
        let front = FrontFace { width: Length::mm(600.0), height: Length::mm(400.0), hinge: Some(HingeSide::Bottom) };
        let place = bar(PullSet::Level).place_on(front, Unit::Millimetre).unwrap();
        assert_eq!((place.height, place.sideways), (Length::mm(344.0), Length::ZERO));
        let front = FrontFace { hinge: Some(HingeSide::Top), ..front };
        assert_eq!(bar(PullSet::Level).place_on(front, Unit::Millimetre).unwrap().height, Length::mm(56.0));
    }

    // 300 - 50 - 6 = 244 from the centre; 700 - 75 - 80 = 545 above the lower edge.
    #[test]
    fn a_door_has_its_pull_near_the_edge_that_opens() {
        let front = FrontFace { width: Length::mm(600.0), height: Length::mm(700.0), hinge: Some(HingeSide::FarSide) };
        let place = bar(PullSet::Upright).place_on(front, Unit::Millimetre).unwrap();
        assert_eq!((place.height, place.sideways), (Length::mm(545.0), Length::mm(-244.0)));
        let front = FrontFace { hinge: Some(HingeSide::CornerSide), ..front };
        assert_eq!(bar(PullSet::Upright).place_on(front, Unit::Millimetre).unwrap().sideways, Length::mm(244.0));
    }
}
