//! What is usual? The size taken where a plan does not say, in each of the two systems.
//!
//! Each figure has its source beside it; most are common practice, no source. They are starting points: every one is
//! a field of the plan file.

use super::{Air, CutOrder, FrontsOf, Sawn, Sheet, SpreadLaw, Tolerances, Wood};
use crate::length::{Length, Unit};

/// A usual size: a round figure in millimetres and another in inches, for plans of either unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Usual {
    mm: f64,
    inches: f64,
    source: &'static str,
}

impl Usual {
    /// A size that is common practice, with no source to name.
    pub(super) const fn new(mm: f64, inches: f64) -> Self {
        Self::sourced(mm, inches, "common practice, no source")
    }

    /// A size with the source it is from.
    pub(super) const fn sourced(mm: f64, inches: f64, source: &'static str) -> Self {
        Self { mm, inches, source }
    }

    /// Where the figure is from, in words.
    #[must_use]
    pub fn source(self) -> &'static str {
        self.source
    }

    /// The round figure for a plan in `unit`.
    #[must_use]
    pub fn of(self, unit: Unit) -> Length {
        match unit {
            Unit::Millimetre => Length::mm(self.mm),
            Unit::Inch => Length::inches(self.inches),
        }
    }
}

/// Least length of a fixing screw in the stud. Common practice, no source.
pub const SCREW_BITE: Usual = Usual::new(32.0, 1.25);
/// Lengths that wood screws are sold in. Common practice, no source.
const SCREWS_MM: [f64; 17] =
    [12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0, 65.0, 70.0, 80.0, 90.0, 100.0, 120.0];
const SCREWS_INCHES: [f64; 14] = [0.5, 0.625, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5, 3.0, 3.5, 4.0, 5.0];

/// The screw lengths sold in `unit`'s countries, shortest first. Common practice, no source.
#[must_use]
pub fn screws_sold(unit: Unit) -> Vec<Length> {
    match unit {
        Unit::Millimetre => SCREWS_MM.iter().map(|&mm| Length::mm(mm)).collect(),
        Unit::Inch => SCREWS_INCHES.iter().map(|&inches| Length::inches(inches)).collect(),
    }
}

/// Steps in which shims are cut. Common practice, no source.
pub const SHIM_STEP: Usual = Usual::new(0.5, 0.03125);

/// How far one reading of a tape or a level may be off. Common practice, no source.
pub const READING: Usual = Usual::new(1.0, 0.0625);
/// Thickness of the board or plaster over studs: 1/2 in. Common practice, no source.
pub const WALL_BOARD: Usual = Usual::new(12.7, 0.5);
/// Width of a stud's face: lumber sold as 2 in thick, PS 20.
pub const STUD: Usual = Usual::sourced(38.1, 1.5, "lumber sold as 2 in thick, PS 20");
/// Width of an outlet's or junction box's plate. Common practice, no source.
pub const PLATE_WIDTH: Usual = Usual::new(85.0, 2.75);
/// Height of an outlet's or junction box's plate. Common practice, no source.
pub const PLATE_HEIGHT: Usual = Usual::new(85.0, 4.5);

/// Height of the ceiling. Common practice, no source.
pub const CEILING: Usual = Usual::new(2400.0, 96.0);

/// Height of a unit. 870 mm: one of the three heights of EN 1116 (secondary source); 34-1/2 in: trade pages.
pub const HEIGHT: Usual = Usual::sourced(870.0, 34.5, "870 mm: EN 1116 (secondary source); 34-1/2 in: trade pages");
/// Depth of a unit. 580 mm: common practice, no source (under a top of 600 or more, EN 1116); 24 in: trade pages.
pub const DEPTH: Usual = Usual::sourced(580.0, 24.0, "580 mm: common practice, no source; 24 in: trade pages");
/// Thickness of panels. 3/4 in as PS 20 and PS 1-19 name it; 18 mm: common practice, no source.
pub const PANEL: Usual = Usual::sourced(18.0, 0.75, "3/4 in: PS 20 and PS 1-19; 18 mm: common practice, no source");
/// Thickness of a back. Common practice, no source.
pub const BACK: Usual = Usual::new(6.0, 0.25);
/// Thickness of an edge strip: glued band, or a solid strip. Common practice, no source.
pub const EDGE_STRIP: Usual = Usual::new(1.0, 0.25);
/// Height of a nailer. Common practice, no source; the architectural woodwork standards of 2009 ask 2-1/2 in or more.
pub const NAILER: Usual = Usual::new(100.0, 4.0);
/// Width of a stretcher. Common practice, no source.
pub const STRETCHER: Usual = Usual::new(100.0, 4.0);
/// Height of a toe kick. 100 mm: the least of EN 1116 (secondary source); 3 to 4-1/2 in: trade pages.
pub const KICK_HEIGHT: Usual = Usual::sourced(100.0, 4.0, "100 mm: EN 1116 (secondary source); 4 in: trade pages");
/// Setback of a toe kick. About 3 in: trade pages; 75 mm is the same.
pub const KICK_SETBACK: Usual = Usual::sourced(75.0, 3.0, "trade pages");
/// Thickness of a kick cover. Common practice, no source.
pub const KICK_COVER: Usual = Usual::new(12.0, 0.5);
/// Width of a face-frame stile: lumber sold as 2 in wide, PS 20.
pub const STILE: Usual = Usual::sourced(38.0, 1.5, "lumber sold as 2 in wide, PS 20");
/// Height of a face-frame rail, as [`STILE`].
pub const RAIL: Usual = Usual::sourced(38.0, 1.5, "lumber sold as 2 in wide, PS 20");
/// Thickness of a face frame: lumber sold as 1 in thick, PS 20.
pub const FRAME_THICKNESS: Usual = Usual::sourced(19.0, 0.75, "lumber sold as 1 in thick, PS 20");
/// Thickness of a front. Common practice, no source.
pub const FRONT: Usual = Usual::new(19.0, 0.75);
/// Space kept by bumpers behind an overlay front. Common practice, no source.
pub const BUMPER: Usual = Usual::new(2.0, 0.0625);
/// Reveal at each side of an overlay front. Common practice, no source.
pub const REVEAL_SIDE: Usual = Usual::new(1.5, 0.0625);
/// Reveal above the top overlay front. Common practice, no source.
pub const REVEAL_TOP: Usual = Usual::new(3.0, 0.25);
/// Reveal between two overlay fronts. Common practice, no source.
pub const REVEAL_BETWEEN: Usual = Usual::new(3.0, 0.125);
/// Reveal below the lowest overlay front. Common practice, no source.
pub const REVEAL_BOTTOM: Usual = Usual::new(0.0, 0.0);
/// Gap round an inset front. Common practice, no source.
pub const GAP: Usual = Usual::new(2.5, 0.093_75);
/// Thickness of drawer-box sides. Common practice, no source.
pub const BOX_STOCK: Usual = Usual::new(12.0, 0.5);
/// Thickness of drawer-box bottoms. Common practice, no source.
pub const BOX_BOTTOM: Usual = Usual::new(6.0, 0.25);

/// Thickness of a countertop. 1-1/2 in: trade pages; 30 mm: common practice, no source.
pub const COUNTERTOP: Usual = Usual::sourced(30.0, 1.5, "1-1/2 in: trade pages; 30 mm: common practice, no source");
/// Overhang of a countertop. 1 to 1-1/2 in: trade pages.
pub const OVERHANG: Usual = Usual::sourced(25.0, 1.0, "trade pages");

/// Thickness of a corner filler's face, as [`FRAME_THICKNESS`].
pub const FILLER_FACE: Usual = Usual::sourced(19.0, 0.75, "lumber sold as 1 in thick, PS 20");
/// Section of a backing block: lumber sold as 2 by 2 in, PS 20.
pub const BLOCK: Usual = Usual::sourced(38.0, 1.5, "lumber sold as 2 by 2 in, PS 20");

/// Clearance wanted. Common practice, no source.
pub const WANTED: Usual = Usual::new(12.0, 0.5);
/// Step to which a shop cuts a filler. Common practice, no source.
pub const SHOP_STEP: Usual = Usual::new(1.0, 0.125);
/// How far a shut front may stand out. Fronts shut are taken as shut.
pub const AJAR: Usual = Usual::sourced(0.0, 0.0, "fronts shut are taken as shut");

/// Thickness of a bar pull. Common practice, no source.
pub const BAR_THICKNESS: Usual = Usual::new(12.0, 0.5);
/// Thickness of a lip pull. Common practice, no source.
pub const LIP_THICKNESS: Usual = Usual::new(3.0, 0.125);
/// From a door's opening edge to the nearer side of its pull. Common practice, no source.
pub const DOOR_PULL_FROM_EDGE: Usual = Usual::new(50.0, 2.0);
/// From a door's upper edge down to the top of its pull. Common practice, no source.
pub const DOOR_PULL_BELOW_TOP: Usual = Usual::new(75.0, 3.0);

/// A door higher than this has its pull where a hand finds it and not near its upper edge. Our own choice.
pub const TALL_DOOR: Usual = Usual::new(1200.0, 48.0);
/// From such a door's lower edge to the middle of its pull, at the most. Common practice, no source.
pub const TALL_DOOR_PULL: Usual = Usual::new(950.0, 38.0);

/// Space at each side of a drawer box on side-mount slides. 1/2 in: trade pages.
pub const SLIDE_SIDE: Usual = Usual::sourced(12.7, 0.5, "trade pages");
/// Space at each side of a drawer box on under-mount slides. Common practice, no source.
pub const SLIDE_SIDE_UNDER_MOUNT: Usual = Usual::new(6.0, 0.25);
/// Space under a drawer box. Common practice, no source.
pub const SLIDE_UNDER: Usual = Usual::new(12.0, 0.5);
/// Space above a drawer box, to lift it out. Common practice, no source.
pub const SLIDE_LIFT_OUT: Usual = Usual::new(12.0, 0.5);
/// Space behind a drawer box. Common practice, no source.
pub const SLIDE_BEHIND: Usual = Usual::new(10.0, 0.375);

/// Depth to which a board is let into another's face: half a panel. Common practice, no source.
pub const LET_IN: Usual = Usual::new(9.0, 0.375);
/// A joint deeper than this share of the board it goes into is not taken where the plan does not say. Common practice, no
/// source.
pub const LET_IN_SHARE: f64 = 0.5;
/// Depth of rabbets and grooves in drawer-box stock. Common practice, no source.
pub const BOX_LET_IN: Usual = Usual::new(6.0, 0.25);
/// How much smaller, in all, a box bottom is than its grooves. Common practice, no source.
pub const BOX_PLAY: Usual = Usual::new(1.5, 0.0625);
/// From the lower edge of a box's sides up to its bottom: 1/4 in. Common practice, no source.
pub const BOX_RECESS: Usual = Usual::new(6.35, 0.25);
/// How much shorter a loose shelf is than its opening. Common practice, no source.
pub const SHELF_PLAY: Usual = Usual::new(2.0, 0.0625);
/// What is left on a piece that is fitted on site. 6 to 19 mm: common practice, no source.
pub const SCRIBE: Usual = Usual::new(12.0, 0.5);
/// Width of what a saw takes. Common practice, no source.
pub const KERF: Usual = Usual::new(3.2, 0.125);
/// Taken off each edge of a sheet. Common practice, no source.
pub const TRIM: Usual = Usual::new(5.0, 0.25);
/// Taken off each end of a board. Common practice, no source.
pub const END_TRIM: Usual = Usual::new(25.0, 1.0);
/// Rips first, as a table saw with a fence wants it. Common practice, no source.
pub const CUT_ORDER: CutOrder = CutOrder::RipFirst;
/// Length of a sheet: 4 by 8 ft, sold as 1220 by 2440 (trade pages).
pub const SHEET_LENGTH: Usual = Usual::new(2440.0, 96.0);
/// Width of a sheet, as [`SHEET_LENGTH`].
pub const SHEET_WIDTH: Usual = Usual::new(1220.0, 48.0);
/// Length of a board: 8 ft. Common practice, no source.
pub const BOARD_LENGTH: Usual = Usual::new(2440.0, 96.0);
/// Width of a board: 5-1/2 in, sold as 6 wide (PS 20).
pub const BOARD_WIDTH: Usual = Usual::new(140.0, 5.5);
/// From the front edge to the first hole of a slide, plate or row: the 32 mm system (trade pages; no standards body owns
/// it).
pub const HOLES_BEHIND_FRONT: Usual = Usual::new(37.0, 37.0 / crate::length::MM_PER_INCH);
/// From one hole of a row to the next: the 32 mm system (trade pages).
pub const HOLE_PITCH: Usual = Usual::new(32.0, 32.0 / crate::length::MM_PER_INCH);
/// Side-mount slides: their screws' line above the box's lower edge. Common practice, no source: see the slide's sheet.
pub const SLIDE_LINE: Usual = Usual::new(22.0, 0.875);

/// How far a door opens, in degrees: the common hinge. Common practice, no source.
pub const OPENS_TO_DEG: f64 = 110.0;
/// How far a door opens that lifts up or drops down, in degrees: level. Common practice, no source.
pub const FLAP_OPENS_TO_DEG: f64 = 90.0;
/// From a door's edge to the rim of a concealed hinge's cup: 3 to 6 mm; from memory, no source at hand.
pub const CUP_FROM_EDGE: Usual =
    Usual::sourced(5.0, 5.0 / crate::length::MM_PER_INCH, "3 to 6 mm: from memory, no source at hand");
/// Least reveal of a concealed hinge: see the hinge's own sheet. Common practice, no source.
pub const LEAST_REVEAL: Usual = Usual::new(1.0, 0.03125);
/// From a door's face to the middle of a butt hinge's pin: half a knuckle. Common practice, no source.
pub const PIN_OUT: Usual = Usual::new(4.0, 0.15625);
/// Height of the sides of a pull-out shelf. Common practice, no source.
pub const PULL_OUT_HEIGHT: Usual = Usual::new(80.0, 3.0);
/// A pull-out shelf lies this far behind the door before it, in mm: our own choice.
pub const PULL_OUT_BEHIND_DOOR: f64 = 5.0;
/// Height of a room door's leaf. Common practice, no source: measure it.
pub const ROOM_DOOR_HEIGHT: Usual = Usual::new(2000.0, 80.0);
/// Thickness of a room door's leaf. Common practice, no source: measure it.
pub const ROOM_DOOR_THICKNESS: Usual = Usual::new(40.0, 1.375);
/// How far a room door opens, in degrees. Common practice, no source.
pub const ROOM_DOOR_OPENS_TO_DEG: f64 = 90.0;
/// Passage before cabinets to what stands opposite: 40 in, 1015 mm in its own conversion, the 2010 ADA Standards,
/// section 804.2.1 (pass-through kitchens). Local codes govern.
pub const PASSAGE: Usual = Usual::sourced(1015.0, 40.0, "2010 ADA Standards, section 804.2.1");
/// Thickness of an appliance's door. Common practice, no source: measure it.
pub const APPLIANCE_DOOR: Usual = Usual::new(30.0, 1.25);
/// Standing room beside the open door of a dishwasher, to what stands square to it: 21 in, from a kitchen planning
/// guideline; from memory, no source at hand.
pub const STANDING_ROOM: Usual =
    Usual::sourced(533.0, 21.0, "21 in: a kitchen planning guideline, from memory, no source at hand");
/// Shelves in a unit of open shelves. Common practice, no source.
pub const SHELVES: usize = 2;

/// How far the angle between the runs may be off, in degrees: 2 mm over 600. Common practice, no source.
pub const RUN_ANGLE_OFF_DEG: f64 = 0.2;
/// How far a unit's width may be off. Common practice, no source.
pub const UNIT_WIDTH_OFF: Usual = Usual::new(0.5, 0.03125);
/// How far a unit's front may stand sideways of its back. Common practice, no source.
pub const SQUARENESS_OFF: Usual = Usual::new(1.0, 0.03125);
/// How far a drawer may stand sideways in its slides. Common practice, no source: see the slide's sheet.
pub const SLIDE_PLAY_OFF: Usual = Usual::new(0.5, 0.03125);
/// How far a drawer may be turned in its slides, in degrees. Common practice, no source: see the slide's sheet.
pub const SLIDE_YAW_OFF_DEG: f64 = 0.1;
/// How far a pull's projection may be off. Common practice, no source.
pub const PULL_PROJECTION_OFF: Usual = Usual::new(0.5, 0.03125);
/// How far a pull may be drilled off its place. Common practice, no source.
pub const PULL_PLACE_OFF: Usual = Usual::new(1.0, 0.03125);
/// How far a front may be screwed on off its place. Common practice, no source.
pub const FRONT_ADJUSTMENT_OFF: Usual = Usual::new(0.5, 0.03125);
/// How far a filler as cut and fitted may be off its width. Common practice, no source.
pub const FILLER_CUT_OFF: Usual = Usual::new(0.5, 0.03125);
/// Pascals in a pound on a square foot: 0.453 592 37 kg (1959 agreement) under standard gravity on 0.3048 m squared.
pub const PA_IN_PSF: f64 = 0.453_592_37 * STANDARD_GRAVITY / (0.3048 * 0.3048);
/// Pascals in a kilogram on a square metre.
pub const PA_IN_KG_M2: f64 = STANDARD_GRAVITY;
/// Standard gravity, m/s² (third general conference on weights and measures, 1901).
pub const STANDARD_GRAVITY: f64 = 9.806_65;
/// The load on shelves and in drawers: 15 lb on a square foot (ANSI/KCMA A161.1-2012, sections 5.1 and 7.1), in pascals.
pub const LOAD_PA: f64 = 15.0 * PA_IN_PSF;
/// The driest air: 30 % at 21 °C. Common practice, no source: measure the room's own.
pub const DRIEST: Air = Air { humidity: 30.0, celsius: ROOM_CELSIUS };
/// The dampest air: 60 % at 21 °C. Common practice, no source: measure the room's own.
pub const DAMPEST: Air = Air { humidity: 60.0, celsius: ROOM_CELSIUS };
/// Temperature of a room: 70 °F. Common practice, no source.
const ROOM_CELSIUS: f64 = 38.0 / 1.8;
/// Moisture content at which fronts are made, in percent. Common practice, no source; ANSI/KCMA A161.1 section 2.8 allows
/// up to 10.
pub const MADE_AT: f64 = 8.0;
/// Flat-sawn boards: the safe side, since they move more.
pub const SAWN: Sawn = Sawn::Flat;
/// The least that a gap may come down to. Common practice, no source.
pub const LEAST_GAP: Usual = Usual::new(0.5, 0.03125);

/// Mostly near the plan. Common practice, no source.
pub const SPREAD: SpreadLaw = SpreadLaw::Normal;

impl Tolerances {
    /// What is usual for a plan in `unit`.
    #[must_use]
    pub fn usual(unit: Unit) -> Self {
        Self {
            run_angle_deg: RUN_ANGLE_OFF_DEG,
            unit_width: UNIT_WIDTH_OFF.of(unit),
            squareness: SQUARENESS_OFF.of(unit),
            slide_play: SLIDE_PLAY_OFF.of(unit),
            slide_yaw_deg: SLIDE_YAW_OFF_DEG,
            pull_projection: PULL_PROJECTION_OFF.of(unit),
            pull_place: PULL_PLACE_OFF.of(unit),
            front_adjustment: FRONT_ADJUSTMENT_OFF.of(unit),
            filler_cut: FILLER_CUT_OFF.of(unit),
            spread: SPREAD,
        }
    }
}

impl Wood {
    /// What is usual for a plan in `unit`.
    #[must_use]
    pub fn usual(unit: Unit) -> Self {
        Self {
            fronts: FrontsOf::Panel,
            driest: DRIEST,
            dampest: DAMPEST,
            paint_build: Length::ZERO,
            least_gap: LEAST_GAP.of(unit),
            panel: Sheet::Plywood,
            thin_panel: Sheet::Plywood,
            load_pa: LOAD_PA,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plan_in_inches_gets_round_inches() {
        assert_eq!(HEIGHT.of(Unit::Inch).show(Unit::Inch), "34-1/2 in");
        assert_eq!(GAP.of(Unit::Inch).show(Unit::Inch), "3/32 in");
        assert_eq!(SLIDE_SIDE.of(Unit::Millimetre), SLIDE_SIDE.of(Unit::Inch));
    }
}
