//! About which line does a door turn? The kinds of hinges, and where each has its pin.
//!
//! Every hinge is taken as one pin that does not move, so a door turns about one line, and what is claimed is exact for
//! that line. Butt and knife hinges have such a pin. The arms of a concealed hinge move theirs a little as it opens; it
//! is placed so that the door's edge goes as far sideways as the hinge's own sheet says for that cup offset and
//! thickness of door, which is the figure that decides beside a neighbour.

use super::{Construction, Fronts};
use crate::length::Length;

/// What doors hang on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hinges {
    /// The edge of the door's outer face: no hinge in particular. The door leaves its own width and its neighbours alone.
    FaceEdge,
    /// Concealed hinges, in a cup bored into the door's back.
    Concealed {
        /// From the door's edge to the cup's rim.
        cup: Length,
        /// The least reveal that the hinge's sheet gives for this cup offset and thickness of door: how far the door's
        /// edge goes beyond where it is shut.
        least_reveal: Length,
    },
    /// Butt hinges, their knuckles before the door's face.
    Butt {
        /// From the door's face out to the middle of the pin.
        pin_out: Length,
        /// From the door's edge to the middle of the pin, away from the door; `None` for the middle of the gap of an inset
        /// door, and the edge of an overlay one.
        pin_beside: Option<Length>,
    },
    /// Knife hinges, their pins in line with the door's upper and lower edge.
    Knife {
        /// From the door's edge to the pin, into the door; negative beside it.
        inset: Length,
        /// From the door's face back to the pin; negative before it.
        behind: Length,
    },
}

/// Where the pin lies that a door turns about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pin {
    /// From the door's hinged edge toward its free edge; negative beside the door.
    pub inset: Length,
    /// From the door's outer face toward its back; negative before the face.
    pub behind: Length,
}

impl Pin {
    /// How far the hinged edge of the outer face goes beyond where it is shut as the door opens at least to a right
    /// angle: it turns on a circle about the pin, and is farthest out where that circle is widest.
    #[must_use]
    pub fn least_reveal(&self) -> Length {
        let (a, b) = (self.inset.to_mm(), self.behind.to_mm());
        // The corner lies at (−a, b) from the pin, and turns away from the room first where b is negative.
        if b <= 0.0 { Length::ZERO } else { Length::mm(a.hypot(b) - a) }
    }
}

impl Hinges {
    /// The pin of a door in units built so.
    #[must_use]
    pub fn pin(&self, construction: &Construction) -> Pin {
        match *self {
            Self::FaceEdge => Pin { inset: Length::ZERO, behind: Length::ZERO },
            Self::Concealed { cup, least_reveal } => {
                // From √(a² + b²) − a = r.
                let (a, r) = (cup.to_mm(), least_reveal.to_mm());
                Pin { inset: cup, behind: Length::mm((r * r + 2.0 * a * r).max(0.0).sqrt()) }
            }
            Self::Butt { pin_out, pin_beside } => {
                let usual = match construction.fronts {
                    Fronts::Inset => construction.gap / 2.0,
                    Fronts::Overlay => Length::ZERO,
                };
                Pin { inset: -pin_beside.unwrap_or(usual), behind: -pin_out }
            }
            Self::Knife { inset, behind } => Pin { inset, behind },
        }
    }

    /// What they are called.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::FaceEdge => "hinges",
            Self::Concealed { .. } => "concealed hinges",
            Self::Butt { .. } => "butt hinges",
            Self::Knife { .. } => "knife hinges",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn construction() -> Construction {
        let demo = include_str!("../../assets/plans/glazing-corner.ron");
        crate::plan::read("glazing-corner.ron", demo).unwrap().construction
    }

    // The corner of the outer face goes round the pin on a circle; by brute force over the angle it goes as far sideways
    // as the sheet was said to give.
    #[test]
    fn a_concealed_hinge_takes_the_reveal_that_its_sheet_gives() {
        let construction = construction();
        for (cup, reveal) in [(3.0, 1.6), (5.0, 0.9), (6.0, 0.4), (4.5, 3.2)] {
            let hinges = Hinges::Concealed { cup: Length::mm(cup), least_reveal: Length::mm(reveal) };
            let pin = hinges.pin(&construction);
            let (a, b) = (pin.inset.to_mm(), pin.behind.to_mm());
            let beyond = |k: i32| {
                let turned = f64::from(k) / 10_000.0 * std::f64::consts::FRAC_PI_2;
                // (−a, b) turned toward the hinged side, seen from the edge.
                -(a - a * turned.cos() - b * turned.sin())
            };
            let most = (0..=10_000).map(beyond).fold(0.0, f64::max);
            assert!((most - reveal).abs() < 1e-6, "{most} against {reveal}");
            assert!((pin.least_reveal().to_mm() - reveal).abs() < 1e-9);
        }
    }

    #[test]
    fn the_pin_of_a_butt_hinge_lies_before_the_gap_of_an_inset_door() {
        let mut construction = construction();
        construction.gap = Length::mm(2.5);
        let hinges = Hinges::Butt { pin_out: Length::mm(4.0), pin_beside: None };
        construction.fronts = Fronts::Inset;
        assert_eq!(hinges.pin(&construction), Pin { inset: Length::mm(-1.25), behind: Length::mm(-4.0) });
        construction.fronts = Fronts::Overlay;
        assert_eq!(hinges.pin(&construction).inset, Length::ZERO);
        assert_eq!(hinges.pin(&construction).least_reveal(), Length::ZERO);
    }
}
