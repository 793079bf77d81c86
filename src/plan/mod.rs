//! What has the builder decided and measured? A [`Plan`], read from a RON file and known to be buildable.
//!
//! [`read()`] takes the text and gives a plan or every problem in it at once. A plan that came from [`read()`] keeps these
//! promises, which [`crate::model`] relies on: every length is positive where it must be, fronts fill their opening,
//! drawer boxes fit their carcass, names of pulls and slides are known, angles lie in their range.
//!
//! The file's text is the document: [`mod@write`] edits it at the changed values, [`mod@form`] says what can be changed.
//!
//! Lengths are [`Length`]s; angles are degrees, and say so. Heights are measured from the finished floor, distances
//! along a wall from the corner.

mod assumed;
mod check;
mod corner;
pub mod defaults;
mod finish;
pub mod form;
mod hinge;
mod joinery;
mod opposite;
mod place;
mod problem;
mod read;
pub mod recovery;
pub mod save;
mod shape;
mod stock;
mod survey;
pub mod template;
mod tolerance;
mod wood;
pub mod write;
mod zone;

use crate::length::{Length, Unit};

pub use assumed::assumed;
pub use finish::{Colour, Finish, Finishes, Metal, Species, Stone, Surface};
pub use hinge::{Hinges, Pin};
pub use joinery::{
    BackJoint, CornerWork, FrameJoint, FrontGrain, Joinery, Joint, ShelfFrame, ShelfJoint, StripEdges, StripRule,
};
pub use opposite::{OppositeFront, OppositeOpening};
pub use place::{FrontFace, PullPlace, hinges};
pub use problem::{Problem, Problems};
pub use read::{LARGEST_PLAN_BYTES, read};
pub use shape::{Choice, Hardware};
pub use stock::{CutOrder, Money, Stock, StockForm, StockItem, Stuff};
pub use survey::{
    BackLine, Between, CornerMeasure, Fixing, Fixture, FixtureKind, FloorLevel, Plumb, Reading, Studs, Survey,
    WallMade, WallSurvey, WayIn,
};
pub use tolerance::{SpreadLaw, Tolerances};
pub use wood::{Air, FrontsOf, Sawn, Sheet, Timber, Wood};
pub use zone::FrontZone;

/// One of the two runs, as seen by a person who stands in the room and faces the corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// The run on the left hand.
    Left,
    /// The run on the right hand.
    Right,
}

impl Side {
    /// Both, left first.
    pub const BOTH: [Self; 2] = [Self::Left, Self::Right];

    /// The other run.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// `left` or `right`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}

/// A whole plan: the room, the two runs, their hardware and what is wanted of the corner.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// What the builder calls the job.
    pub name: String,
    /// The unit the file is written in; answers are printed in it.
    pub unit: Unit,
    /// The measured room.
    pub room: Room,
    /// How the runs are set to each other.
    pub run_angle: RunAngle,
    /// How every unit is built.
    pub construction: Construction,
    /// How boards are joined, trimmed and finished.
    pub joinery: Joinery,
    /// What is cut from.
    pub stock: Stock,
    /// The pulls that units name; fronts hold an index into this list.
    pub pulls: Vec<Pull>,
    /// The slides that drawers name; drawers hold an index into this list.
    pub slides: Vec<Slide>,
    /// The run on the left hand.
    pub left: Run,
    /// The run on the right hand.
    pub right: Run,
    /// The countertop, if the plan has one.
    pub countertop: Option<Countertop>,
    /// The two corner fillers.
    pub corner: Corner,
    /// What must stay clear.
    pub clearance: Clearance,
    /// How far what is built and fitted may be off.
    pub tolerances: Tolerances,
    /// What fronts and boards are made of, the air they live in and what lies on them.
    pub wood: Wood,
    /// How the units are fixed in the room.
    pub fixing: Fixing,
    /// What it is to look like; no size and no answer depends on it.
    pub finishes: Finishes,
}

impl Plan {
    /// The run on `side`.
    #[must_use]
    pub fn run(&self, side: Side) -> &Run {
        match side {
            Side::Left => &self.left,
            Side::Right => &self.right,
        }
    }

    /// Depth of `side`'s units, back plane to front plane, without fronts: what the plan gives, and the edge strip where
    /// it is added to that.
    #[must_use]
    pub fn depth(&self, side: Side) -> Length {
        self.run(side).depth.unwrap_or(self.construction.depth) + self.added_strip()
    }

    /// How `unit` is built: as all are, but as high as it is.
    #[must_use]
    pub fn construction_of(&self, unit: &CabinetUnit) -> Construction {
        self.construction.as_high_as(unit.height)
    }

    /// Whether `unit` stands higher than the countertop's underside: then that ends at its side.
    #[must_use]
    pub fn is_tall(&self, unit: &CabinetUnit) -> bool {
        unit.stands() > self.construction.height
    }

    /// What edge strips add to the depth that the plan gives.
    #[must_use]
    pub fn added_strip(&self) -> Length {
        match (self.joinery.strips, self.construction.face) {
            (StripRule::Added, Face::Frameless) => self.construction.edge_strip,
            (StripRule::Added, Face::FaceFrame { .. }) | (StripRule::TakenOff, _) => Length::ZERO,
        }
    }

    /// The angle between the runs, in degrees.
    #[must_use]
    pub fn run_angle_deg(&self) -> f64 {
        match self.run_angle {
            RunAngle::Square => 90.0,
            RunAngle::AlongWalls => self.room.angle_deg,
            RunAngle::Degrees(angle) => angle,
        }
    }
}

/// The measured room.
#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    /// The angle at which the two walls meet, in degrees: from [`Survey::corner`] where that is given, else as read.
    pub angle_deg: f64,
    /// False where the plan does not say and 90° was taken.
    pub angle_measured: bool,
    /// The angle as the plan gives it, in degrees, where it does.
    pub angle_read: Option<f64>,
    /// Length of the wall behind the left run, from the corner.
    pub left_wall: Length,
    /// Length of the wall behind the right run, from the corner.
    pub right_wall: Length,
    /// Height of the ceiling.
    pub ceiling: Length,
    /// The baseboard, where there is one.
    pub baseboard: Option<Baseboard>,
    /// Things that stand in the room or on its walls.
    pub obstacles: Vec<Obstacle>,
    /// Doors into the room that open into it, near the cabinets.
    pub doors: Vec<RoomDoor>,
    /// What was measured of its walls and floor.
    pub survey: Survey,
}

impl Room {
    /// Length of the wall behind `side`'s run.
    #[must_use]
    pub fn wall(&self, side: Side) -> Length {
        match side {
            Side::Left => self.left_wall,
            Side::Right => self.right_wall,
        }
    }
}

/// A baseboard along both walls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Baseboard {
    /// Its height.
    pub height: Length,
    /// How far it stands off the wall.
    pub thickness: Length,
    /// What becomes of it behind the units.
    pub treatment: BaseboardTreatment,
}

/// What becomes of the baseboard behind the units.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BaseboardTreatment {
    /// Taken off: the units stand against the wall.
    Removed,
    /// Left on: the runs stand off the wall by its thickness.
    Left,
    /// Left on, and the units' sides are notched over it: the units stand against the wall.
    Notched,
}

/// A box that stands in the room or hangs on a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Obstacle {
    /// What the builder calls it.
    pub name: String,
    /// The wall it is measured along.
    pub wall: Side,
    /// Distance of its near end from the corner, along the wall.
    pub along: Length,
    /// Distance of its back from the wall.
    pub out: Length,
    /// Height of its lower face.
    pub above: Length,
    /// Its size along the wall.
    pub width: Length,
    /// Its size out from the wall.
    pub depth: Length,
    /// Its size upwards.
    pub height: Length,
    /// What of it opens, toward the wall that it is measured along.
    pub opens: Vec<OppositeFront>,
}

/// A door of the room in one of the two walls, opening into the room.
#[derive(Clone, Debug, PartialEq)]
pub struct RoomDoor {
    /// What the builder calls it.
    pub name: String,
    /// The wall that it is in.
    pub wall: Side,
    /// Distance of its leaf's near edge from the corner, along the wall.
    pub along: Length,
    /// Width of its leaf.
    pub width: Length,
    /// Height of its leaf.
    pub height: Length,
    /// Thickness of its leaf.
    pub thickness: Length,
    /// Which edge it is hinged on: toward the corner, or away from it.
    pub hinge: HingeSide,
    /// How far it opens, in degrees from shut.
    pub opens_to_deg: f64,
}

/// How the two runs are set to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RunAngle {
    /// At 90° whatever the walls do: the common way.
    Square,
    /// Each along its wall, so at the room angle.
    AlongWalls,
    /// At this angle, in degrees.
    Degrees(f64),
}

/// How every unit is built.
#[derive(Clone, Debug, PartialEq)]
pub struct Construction {
    /// What the units stand on.
    pub base: Base,
    /// Height of a unit, floor to carcass top, without the countertop.
    pub height: Length,
    /// Depth of a unit, back plane to front plane, without fronts.
    pub depth: Length,
    /// Thickness of sides, bottom, shelves, nailers and stretchers.
    pub panel: Length,
    /// Thickness of the back.
    pub back: Length,
    /// Thickness of the edge strip on raw front edges; 0 for none.
    pub edge_strip: Length,
    /// Height of the nailers (the rails at the back that screws go through).
    pub nailer: Length,
    /// What closes the carcass at the top.
    pub top: Top,
    /// Width, front to back, of a stretcher.
    pub stretcher: Length,
    /// Height of the toe kick.
    pub kick_height: Length,
    /// How far the toe kick's face is set back from the front plane.
    pub kick_setback: Length,
    /// Thickness of the kick cover.
    pub kick_cover: Length,
    /// Frameless, or with a face frame.
    pub face: Face,
    /// Fronts laid over the carcass or set into it.
    pub fronts: Fronts,
    /// Thickness of fronts.
    pub front: Length,
    /// Space between the front plane and an overlay front's back, kept by the bumpers.
    pub bumper: Length,
    /// Reveals of overlay fronts.
    pub reveal: Reveal,
    /// Gap around an inset front.
    pub gap: Length,
    /// Thickness of drawer-box sides and ends.
    pub box_stock: Length,
    /// Thickness of drawer-box bottoms.
    pub box_bottom: Length,
    /// What doors hang on, where a door does not say.
    pub hinges: Hinges,
}

/// What units stand on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Base {
    /// The sides run to the floor and are notched for the toe kick.
    IntegralKick,
    /// A loose base frame, levelled first, with the boxes set on it.
    LevelledBase,
    /// Adjustable legs.
    Legs,
}

/// What closes a carcass at the top.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Top {
    /// A front and a back stretcher, laid flat.
    Stretchers,
    /// A front stretcher alone, laid flat; the top nailer closes the back.
    FrontStretcher,
    /// A full top panel.
    FullTop,
}

/// Frameless, or with a face frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Face {
    /// No frame: the carcass edge, with its edge strip, is the front plane.
    Frameless,
    /// A frame before the carcass, its face in the front plane.
    FaceFrame {
        /// Width of a stile.
        stile: Length,
        /// Height of a rail.
        rail: Length,
        /// Thickness of the frame.
        thickness: Length,
    },
}

/// Where fronts lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fronts {
    /// In front of the front plane.
    Overlay,
    /// In the opening, flush with the front plane.
    Inset,
}

/// Reveals of overlay fronts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reveal {
    /// From a front's edge to its own carcass side.
    pub side: Length,
    /// From the carcass top down to the top front.
    pub top: Length,
    /// Between two fronts of one unit.
    pub between: Length,
    /// From the carcass's lower edge up to the lowest front.
    pub bottom: Length,
}

/// A pull, as bought.
#[derive(Clone, Debug, PartialEq)]
pub struct Pull {
    /// What units call it.
    pub name: String,
    /// Its shape.
    pub shape: PullShape,
    /// From the front's face to its farthest point.
    pub projection: Length,
    /// Its centre above the front's lower edge; `None` for the usual place (see [`defaults`]).
    pub height: Option<Length>,
    /// Its centre from the front's centre, positive away from the corner; `None` for the usual place.
    pub sideways: Option<Length>,
    /// Which way a bar lies.
    pub set: PullSet,
    /// Its finish, where it is not the plan's for pulls.
    pub finish: Option<Finish>,
    /// From one screw hole of a bar to the other; `None` where the posts stand in the usual place.
    pub holes: Option<Length>,
}

impl Pull {
    /// None at all: a front that is opened by its edge or by a push.
    #[must_use]
    pub fn absent(name: String) -> Self {
        Self {
            name,
            shape: PullShape::Absent,
            projection: Length::ZERO,
            height: None,
            sideways: None,
            set: PullSet::Level,
            finish: None,
            holes: None,
        }
    }
}

/// A pull's shape.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PullShape {
    /// A round bar on two posts.
    Bar {
        /// Overall length.
        length: Length,
        /// Diameter of the bar.
        thickness: Length,
    },
    /// A knob.
    Knob {
        /// Its diameter, or its side where it is square.
        across: Length,
        /// Square, not round.
        square: bool,
    },
    /// A lip along the front's upper edge.
    Edge {
        /// Overall length; `None` for the whole width of the front.
        length: Option<Length>,
        /// Thickness of the lip.
        thickness: Length,
    },
    /// No pull at all: a push latch, or a hand hold in the front.
    Absent,
}

/// Which way a pull lies on its front.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PullSet {
    /// Along the front.
    Level,
    /// Standing.
    Upright,
}

/// A pair of drawer slides, as bought.
#[derive(Clone, Debug, PartialEq)]
pub struct Slide {
    /// What units call it.
    pub name: String,
    /// Its length, which is the drawer box's.
    pub length: Length,
    /// How far it draws out.
    pub extension: Extension,
    /// Where it is fixed.
    pub mount: Mount,
    /// Space at each side of the drawer box.
    pub side: Length,
    /// Space under the drawer box.
    pub under: Length,
    /// Space above the drawer box, to lift it out.
    pub lift_out: Length,
    /// Least space behind the drawer box.
    pub behind: Length,
    /// Height of its screws' line in the carcass above the box's lower edge; negative below it.
    pub line: Length,
    /// Its screws in the carcass, measured from its front end; empty for the usual places.
    pub holes: Vec<Length>,
    /// How far the drawer's front end drops when it is drawn out its whole way under load: its maker's figure; `None`
    /// where the plan does not say.
    pub droop: Option<Length>,
}

impl Slide {
    /// How far a drawer on this slide comes out when nothing stops it.
    #[must_use]
    pub fn travel(&self) -> Length {
        match self.extension {
            Extension::Full => self.length,
            Extension::ThreeQuarter => self.length * 0.75,
            Extension::Travel(travel) => travel,
        }
    }
}

/// How far a slide draws out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Extension {
    /// Its whole length.
    Full,
    /// Three quarters of its length.
    ThreeQuarter,
    /// This far, as over-travel slides do.
    Travel(Length),
}

/// Where a slide is fixed to the drawer box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mount {
    /// At its sides.
    SideMount,
    /// Under its bottom.
    UnderMount,
}

/// One run of units.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The units, from the corner outwards.
    pub units: Vec<CabinetUnit>,
    /// What stands at the far end.
    pub ends_at: FarEnd,
    /// Depth of this run's units where it is not the construction's.
    pub depth: Option<Length>,
}

impl Run {
    /// The sum of the units' widths.
    #[must_use]
    pub fn width(&self) -> Length {
        self.units.iter().map(|unit| unit.width).sum()
    }

    /// Whether a box stands beside unit `index`, which an end panel there can be screwed to.
    #[must_use]
    pub fn has_box_beside(&self, index: usize) -> bool {
        let is_box = |at: usize| self.units.get(at).is_some_and(|unit| unit.kind.has_carcass());
        index.checked_sub(1).is_some_and(is_box) || is_box(index + 1)
    }
}

/// What stands where a run's wall ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FarEnd {
    /// Another wall, square to this one.
    Wall,
    /// The casing of a door or window; the wall's length is measured to its near edge.
    Casing {
        /// Its width along the wall.
        width: Length,
        /// How far it stands off the wall.
        thickness: Length,
    },
    /// Nothing: the wall just ends, or goes on.
    Open,
}

/// One unit of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct CabinetUnit {
    /// What the builder calls it: the plan's name, or one made from its kind and place.
    pub name: String,
    /// Its width along the run.
    pub width: Length,
    /// From the floor to its carcass's top, or to that of an end panel: as high as the run, or higher. An appliance has its
    /// own.
    pub height: Length,
    /// What it is.
    pub kind: UnitKind,
}

impl CabinetUnit {
    /// How high it stands above the floor: an appliance as high as that is.
    #[must_use]
    pub fn stands(&self) -> Length {
        match &self.kind {
            UnitKind::ApplianceSpace(appliance) => appliance.height,
            _ => self.height,
        }
    }
}

/// What a unit is.
#[derive(Clone, Debug, PartialEq)]
pub enum UnitKind {
    /// A bank of drawers, listed from the top.
    Drawers(Vec<Drawer>),
    /// One door over the whole opening.
    Door(Door),
    /// A drawer above a door.
    DrawerOverDoor(Drawer, Door),
    /// Open shelves: no front.
    OpenShelves {
        /// Shelves between bottom and top.
        shelves: usize,
    },
    /// A panel as wide as its thickness, from the floor up.
    EndPanel,
    /// A space for an appliance, with the appliance in it.
    ApplianceSpace(Appliance),
}

impl UnitKind {
    /// Whether it is a box: an end panel is a board, and an appliance stands by itself.
    #[must_use]
    pub fn has_carcass(&self) -> bool {
        !matches!(self, Self::EndPanel | Self::ApplianceSpace(_))
    }
}

/// One drawer.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawer {
    /// Height of its front.
    pub front_height: Length,
    /// Height of its box's sides.
    pub box_height: Length,
    /// Index into [`Plan::pulls`].
    pub pull: usize,
    /// Index into [`Plan::slides`].
    pub slide: usize,
}

/// One hinged door.
#[derive(Clone, Debug, PartialEq)]
pub struct Door {
    /// Height of its front.
    pub front_height: Length,
    /// Which edge it turns about.
    pub hinge: HingeSide,
    /// What it hangs on.
    pub hinges: Hinges,
    /// How far it opens, in degrees from shut.
    pub opens_to_deg: f64,
    /// Index into [`Plan::pulls`].
    pub pull: usize,
    /// The pull-out shelves behind it.
    pub pull_outs: Option<PullOuts>,
    /// Shelves between bottom and top that stay in behind it.
    pub shelves: usize,
}

/// Shelves that draw out on slides behind a door, alike and evenly spaced: low drawer boxes without a front.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PullOuts {
    /// How many.
    pub count: usize,
    /// Index into [`Plan::slides`].
    pub slide: usize,
    /// Height of their sides.
    pub box_height: Length,
    /// What their slides are packed out by at each side, so that they pass the open door.
    pub spacer: Length,
}

/// Which edge a door turns about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HingeSide {
    /// The edge toward the corner.
    CornerSide,
    /// The edge away from the corner.
    FarSide,
    /// The upper edge: the door lifts up.
    Top,
    /// The lower edge: the door drops down.
    Bottom,
}

impl HingeSide {
    /// Whether it is hung on an upright edge.
    #[must_use]
    pub fn is_upright(self) -> bool {
        matches!(self, Self::CornerSide | Self::FarSide)
    }
}

/// A free-standing appliance in its space.
#[derive(Clone, Debug, PartialEq)]
pub struct Appliance {
    /// What the builder calls it.
    pub name: String,
    /// Its width; it stands in the middle of its space.
    pub width: Length,
    /// From the run's back plane to its face.
    pub depth: Length,
    /// Height of its underside above the finished floor; 0 where it stands on it.
    pub above: Length,
    /// Height of its top above the finished floor.
    pub height: Length,
    /// How far its handle stands off its face; 0 for none.
    pub handle: Length,
    /// Its door, where it is opened too.
    pub door: Option<ApplianceDoor>,
}

/// The door of an appliance: as wide as it, up to its top, its face the appliance's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ApplianceDoor {
    /// Which edge of its outer face it turns about.
    pub hinge: HingeSide,
    /// Height of its lower edge above the finished floor.
    pub bottom: Length,
    /// Its thickness.
    pub thickness: Length,
    /// How far it opens, in degrees from shut.
    pub opens_to_deg: f64,
}

/// The countertop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Countertop {
    /// Its thickness.
    pub thickness: Length,
    /// How far it stands out from the front plane.
    pub overhang: Length,
    /// Height of its front edge: its thickness, or more where the edge drops below it.
    pub edge: Length,
    /// How thick a dropped edge is, front to back.
    pub edge_width: Length,
    /// Height of the strips that it is built up on, so that a dropped edge does not hide the top fronts; 0 for none.
    pub build_up: Length,
}

/// The corner between the runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    /// The left run's filler.
    pub left: Filler,
    /// The right run's filler.
    pub right: Filler,
    /// Where the filler faces lie.
    pub flush: Flush,
    /// Which face covers the other's edge.
    pub laps: Side,
    /// Thickness of the filler faces.
    pub face: Length,
    /// Section of the backing blocks, square.
    pub block: Length,
}

impl Corner {
    /// The filler of `side`.
    #[must_use]
    pub fn filler(&self, side: Side) -> Filler {
        match side {
            Side::Left => self.left,
            Side::Right => self.right,
        }
    }

    /// This corner with `side`'s filler set.
    #[must_use]
    pub fn with_filler(mut self, side: Side, filler: Filler) -> Self {
        match side {
            Side::Left => self.left = filler,
            Side::Right => self.right = filler,
        }
        self
    }
}

/// How wide a corner filler is: along its run's front plane, from the line where the two front planes meet to the
/// first unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Filler {
    /// This wide.
    Fixed(Length),
    /// The least width on the shop step that passes.
    Least,
}

/// What the faces of the corner fillers are flush with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flush {
    /// The front plane.
    WithCarcass,
    /// The faces of the fronts.
    WithFronts,
}

/// What must stay clear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearance {
    /// Least space a moving part keeps from the other run and from what stands in the room: 0 or at least 0.1 mm.
    pub wanted: Length,
    /// Fillers chosen by the program are a whole number of these.
    pub shop_step: Length,
    /// How far a shut front of the other run may stand out.
    pub ajar: Length,
}
