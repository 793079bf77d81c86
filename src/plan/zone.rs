//! Where do fronts and drawer boxes go? The one place that turns a [`Construction`] into openings.
//!
//! Heights are above the floor; `side` is measured from a unit's own side. Rows of fronts are counted from the top.

use super::{Construction, Face, Fronts, Top};
use crate::length::Length;

/// The part of a unit's face that its fronts fill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrontZone {
    /// Height of the lowest front's lower edge.
    pub bottom: Length,
    /// Height of the top front's upper edge.
    pub top: Length,
    /// Between two fronts, one above the other.
    pub between: Length,
    /// From the unit's side to the front's edge.
    pub side: Length,
}

impl FrontZone {
    /// Height of the zone; not positive where the construction leaves none.
    #[must_use]
    pub fn height(&self) -> Length {
        self.top - self.bottom
    }

    /// What `rows` fronts share among them: the height less what lies between.
    #[must_use]
    pub fn height_for(&self, rows: usize) -> Length {
        (1..rows).fold(self.height(), |height, _| height - self.between)
    }

    /// Width of a front on a unit `unit_width` wide.
    #[must_use]
    pub fn front_width(&self, unit_width: Length) -> Length {
        unit_width - self.side * 2.0
    }

    /// Lower and upper edge of each front, given their heights from the top.
    #[must_use]
    pub fn rows(&self, heights: impl IntoIterator<Item = Length>) -> Vec<(Length, Length)> {
        let mut top = self.top;
        let mut rows = Vec::new();
        for height in heights {
            let bottom = top - height;
            rows.push((bottom, top));
            top = bottom - self.between;
        }
        rows
    }
}

impl Construction {
    /// The same for a unit of another height. What is higher than the run has no countertop to close it: it has a top.
    #[must_use]
    pub fn as_high_as(&self, height: Length) -> Self {
        let top = if height > self.height { Top::FullTop } else { self.top };
        Self { height, top, ..self.clone() }
    }

    /// The part of each unit's face that its fronts fill.
    #[must_use]
    pub fn front_zone(&self) -> FrontZone {
        match (self.fronts, self.face) {
            (Fronts::Overlay, Face::Frameless | Face::FaceFrame { .. }) => FrontZone {
                bottom: self.kick_height + self.reveal.bottom,
                top: self.height - self.reveal.top,
                between: self.reveal.between,
                side: self.reveal.side,
            },
            (Fronts::Inset, Face::Frameless) => self.inset_zone(self.panel, self.panel, self.gap),
            // A rail stands between two rows, with a gap above and below it.
            (Fronts::Inset, Face::FaceFrame { stile, rail, .. }) => self.inset_zone(rail, stile, rail + self.gap * 2.0),
        }
    }

    fn inset_zone(&self, edge: Length, side: Length, between: Length) -> FrontZone {
        FrontZone {
            bottom: self.kick_height + edge + self.gap,
            top: self.height - edge - self.gap,
            between,
            side: side + self.gap,
        }
    }

    /// From a unit's side to its clear opening: a panel, or a stile where one covers more.
    #[must_use]
    pub fn opening_side(&self) -> Length {
        match self.face {
            Face::Frameless => self.panel,
            Face::FaceFrame { stile, .. } => stile.max(self.panel),
        }
    }

    /// Lower and upper edge of a unit's clear opening: bottom to top panel, or rail to rail where they cover more.
    #[must_use]
    pub fn opening_height(&self) -> (Length, Length) {
        let edge = match self.face {
            Face::Frameless => self.panel,
            Face::FaceFrame { rail, .. } => rail.max(self.panel),
        };
        (self.kick_height + edge, self.height - edge)
    }

    /// Lower and upper edge of the opening behind a drawer front that reaches from `front_bottom` to `front_top`.
    #[must_use]
    pub fn drawer_opening(&self, front_bottom: Length, front_top: Length) -> (Length, Length) {
        let (lowest, highest) = self.opening_height();
        let wider = match self.fronts {
            Fronts::Overlay => Length::ZERO,
            Fronts::Inset => self.gap,
        };
        ((front_bottom - wider).max(lowest), (front_top + wider).min(highest))
    }

    /// Lower and upper end of the space of each of `count` pull-out shelves, from the lowest up: the opening shared evenly.
    #[must_use]
    pub fn pull_out_spaces(&self, count: usize) -> Vec<(Length, Length)> {
        let (bottom, top) = self.opening_height();
        let each = (top - bottom) / count.max(1) as f64;
        (0..count).map(|k| (bottom + each * k as f64, bottom + each * (k + 1) as f64)).collect()
    }

    /// Clear depth for a drawer box and its slides in a unit `depth` deep.
    #[must_use]
    pub fn inside_depth(&self, depth: Length) -> Length {
        let front = match self.fronts {
            Fronts::Overlay => Length::ZERO,
            Fronts::Inset => self.front,
        };
        depth - self.back - front
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Base, Hinges, Reveal};
    use super::*;

    fn construction(face: Face, fronts: Fronts) -> Construction {
        let mm = Length::mm;
        Construction {
            base: Base::IntegralKick,
            height: mm(870.0),
            depth: mm(580.0),
            panel: mm(18.0),
            back: mm(6.0),
            edge_strip: mm(1.0),
            nailer: mm(100.0),
            top: Top::Stretchers,
            stretcher: mm(100.0),
            kick_height: mm(100.0),
            kick_setback: mm(75.0),
            kick_cover: mm(12.0),
            face,
            fronts,
            front: mm(19.0),
            bumper: mm(2.0),
            reveal: Reveal { side: mm(1.5), top: mm(3.0), between: mm(3.0), bottom: mm(0.0) },
            gap: mm(2.5),
            box_stock: mm(12.0),
            box_bottom: mm(6.0),
            hinges: Hinges::FaceEdge,
        }
    }

    // 870 - 100 - 3 = 767; two rows share 767 - 3.
    #[test]
    fn overlay_fronts_reach_from_the_kick_to_the_top_reveal() {
        let zone = construction(Face::Frameless, Fronts::Overlay).front_zone();
        assert_eq!((zone.bottom, zone.top), (Length::mm(100.0), Length::mm(867.0)));
        assert_eq!(zone.height_for(2), Length::mm(764.0));
        assert_eq!(zone.front_width(Length::mm(600.0)), Length::mm(597.0));
    }

    // 870 - 2 x 18 - 2 x 2.5 - 100 = 729.
    #[test]
    fn inset_fronts_lie_between_the_panels() {
        let zone = construction(Face::Frameless, Fronts::Inset).front_zone();
        assert_eq!(zone.height(), Length::mm(729.0));
        assert_eq!(zone.side, Length::mm(20.5));
        assert_eq!(zone.between, Length::mm(2.5));
    }

    #[test]
    fn a_rail_stands_between_inset_fronts_in_a_frame() {
        let face = Face::FaceFrame { stile: Length::mm(40.0), rail: Length::mm(38.0), thickness: Length::mm(19.0) };
        let framed = construction(face, Fronts::Inset);
        let zone = framed.front_zone();
        assert_eq!(zone.between, Length::mm(43.0));
        assert_eq!((zone.bottom, zone.top, zone.side), (Length::mm(140.5), Length::mm(829.5), Length::mm(42.5)));
        // The opening behind the top front is the frame's own: 829.5 + 2.5 = 870 - 38.
        assert_eq!(framed.drawer_opening(Length::mm(700.0), zone.top), (Length::mm(697.5), Length::mm(832.0)));
    }

    #[test]
    fn a_box_behind_an_overlay_front_stays_between_bottom_and_top() {
        let frameless = construction(Face::Frameless, Fronts::Overlay);
        let zone = frameless.front_zone();
        let rows = zone.rows([Length::mm(140.0), Length::mm(624.0)]);
        assert_eq!(rows, [(Length::mm(727.0), Length::mm(867.0)), (Length::mm(100.0), Length::mm(724.0))]);
        assert_eq!(frameless.drawer_opening(rows[0].0, rows[0].1), (Length::mm(727.0), Length::mm(852.0)));
        assert_eq!(frameless.drawer_opening(rows[1].0, rows[1].1), (Length::mm(118.0), Length::mm(724.0)));
    }
}
