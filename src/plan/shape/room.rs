//! The whole plan, its room, its corner and what must stay clear.

use super::{
    Choice, Field, Hardware, Holds, Kind, Many, NONE, Start, Usually, build, finish, hardware, joinery, opposite, run,
    stock, survey, tolerance, wood,
};
use crate::plan::defaults::{self, Usual};

pub(super) const PLAN: &[Field] = &[
    Field::new("name", "Name of the job", "What you call this corner.", Kind::Text, Usually::Said("the file's name")),
    Field::new(
        "units",
        "Units",
        "The unit of every length that is a plain number, and of every answer.",
        Kind::OneOf(UNITS),
        Usually::Needed(Start::Text("Millimetre")),
    ),
    Field::new("room", "Room", "The room as you measured it.", Kind::Group(ROOM), Usually::Needed(Start::Kind)),
    Field::new(
        "run_angle",
        "Angle between the runs",
        "How the two runs are set to each other; cabinets are commonly set square though the walls are not.",
        Kind::OneOf(RUN_ANGLE),
        Usually::Value("Square", "must be given where the walls are far from square"),
    ),
    Field::new(
        "construction",
        "Construction",
        "How every unit is built.",
        Kind::Group(build::CONSTRUCTION),
        Usually::Inside,
    ),
    Field::new(
        "joinery",
        "Joinery",
        "How boards are joined, trimmed and finished.",
        Kind::Group(joinery::JOINERY),
        Usually::Inside,
    ),
    Field::new("stock", "Stock", "What there is to cut from.", Kind::Group(stock::STOCK), Usually::Inside),
    Field::new(
        "pulls",
        "Pulls",
        "The pulls that drawers and doors have.",
        Kind::Set(&hardware::PULLS),
        Usually::Inside,
    ),
    Field::new("slides", "Slides", "The slides that drawers run on.", Kind::Set(&hardware::SLIDES), Usually::Inside),
    Field::new(
        "left",
        "Left run",
        "The units on your left hand as you face the corner.",
        Kind::Group(run::RUN),
        Usually::Needed(Start::Kind),
    ),
    Field::new(
        "right",
        "Right run",
        "The units on your right hand as you face the corner.",
        Kind::Group(run::RUN),
        Usually::Needed(Start::Kind),
    ),
    Field::new(
        "countertop",
        "Countertop",
        "The top over both runs.",
        Kind::OneOf(build::COUNTERTOP),
        Usually::Value("Absent", "no countertop"),
    ),
    Field::new(
        "corner",
        "Corner fillers",
        "What closes the corner between the runs.",
        Kind::Group(CORNER),
        Usually::Inside,
    ),
    Field::new(
        "clearance",
        "Clearance",
        "What must stay free when drawers and doors open.",
        Kind::Group(CLEARANCE),
        Usually::Inside,
    ),
    Field::new(
        "fixing",
        "Fixing",
        "How the units are fixed to the walls.",
        Kind::Group(survey::FIXING),
        Usually::Inside,
    ),
    Field::new(
        "tolerances",
        "Tolerances",
        "How far what is built and fitted may be off; no answer but how sure they are depends on it.",
        Kind::Group(tolerance::TOLERANCES),
        Usually::Inside,
    ),
    Field::new(
        "wood",
        "Wood and load",
        "What fronts and boards are made of, the air they live in and what lies on them.",
        Kind::Group(wood::WOOD),
        Usually::Inside,
    ),
    Field::new(
        "finishes",
        "Finishes",
        "What it is to look like; no size and no answer depends on it.",
        Kind::Group(finish::FINISHES),
        Usually::Inside,
    ),
];

const UNITS: &[Choice] = &[
    Choice::word("Millimetre", "Millimetres", "Plain numbers are millimetres."),
    Choice::word("Inch", "Inches", "Plain numbers are inches."),
];

const RUN_ANGLE: &[Choice] = &[
    Choice::word("Square", "Square", "The runs meet at 90 degrees whatever the walls do."),
    Choice::word("AlongWalls", "Along the walls", "Each run follows its wall."),
    Choice::with(
        "Degrees",
        "At an angle",
        "The runs meet at this angle.",
        Holds::Value(&(Kind::Angle, Start::Text("90"))),
    ),
];

const ROOM: &[Field] = &[
    Field::new(
        "angle",
        "Room angle",
        "The angle at which the two walls meet, in degrees, measured inside the room.",
        Kind::Angle,
        Usually::Value("90", "taken as square, where the survey has no measure of the corner either"),
    ),
    Field::measured(
        "left_wall",
        "Left wall",
        "Length of the wall behind the left run, from the corner along the floor.",
        Usual::new(2400.0, 96.0),
    ),
    Field::measured(
        "right_wall",
        "Right wall",
        "Length of the wall behind the right run, from the corner along the floor.",
        Usual::new(2400.0, 96.0),
    ),
    Field::size("ceiling", "Ceiling", "Height of the ceiling above the finished floor.", defaults::CEILING),
    Field::new(
        "baseboard",
        "Baseboard",
        "The board along the foot of both walls.",
        Kind::OneOf(BASEBOARD),
        Usually::Value("Absent", "no baseboard"),
    ),
    Field::new(
        "obstacles",
        "Obstacles",
        "What stands in the room or hangs on its walls near the cabinets.",
        Kind::List(&OBSTACLES),
        Usually::Inside,
    ),
    Field::new(
        "survey",
        "Survey",
        "What was measured of the walls and the floor.",
        Kind::Group(survey::SURVEY),
        Usually::Inside,
    ),
    Field::new(
        "doors",
        "Doors of the room",
        "Doors in the two walls that open into the room near the cabinets.",
        Kind::List(&ROOM_DOORS),
        Usually::Inside,
    ),
];

const BASEBOARD: &[Choice] = &[
    Choice::word("Absent", "None", "The walls run down to the floor."),
    Choice::with("", "There is one", "A board along both walls.", Holds::Fields(BASEBOARD_FIELDS)),
];

const BASEBOARD_FIELDS: &[Field] = &[
    Field::measured("height", "Height", "Height of the baseboard above the floor.", Usual::new(90.0, 3.5)),
    Field::measured("thickness", "Thickness", "How far the baseboard stands off the wall.", Usual::new(15.0, 0.625)),
    Field::new(
        "treatment",
        "Behind the units",
        "What becomes of the baseboard behind the units.",
        Kind::OneOf(TREATMENT),
        Usually::Value("Removed", "common practice, no source"),
    ),
];

const TREATMENT: &[Choice] = &[
    Choice::word("Removed", "Taken off", "The units stand against the wall."),
    Choice::word("Left", "Left on", "Both runs stand off the wall by its thickness."),
    Choice::word("Notched", "Notched over", "The units' sides are notched over it and stand against the wall."),
];

const ROOM_DOORS: Many = Many {
    one: "Door",
    help: "A door of the room that opens into it.",
    kind: Kind::Group(ROOM_DOOR),
    start: Start::Kind,
};

/// The upright edge that a leaf turns about.
pub(super) const UPRIGHT_EDGE: Field = Field::new(
    "hinge",
    "Hinged on",
    "The edge that it turns about.",
    Kind::OneOf(&[
        Choice::word("CornerSide", "Corner side", "The edge toward the corner."),
        Choice::word("FarSide", "Far side", "The edge away from the corner."),
    ]),
    Usually::Value("FarSide", "common practice, no source"),
);

const ROOM_DOOR: &[Field] = &[
    Field::new("name", "Name", "What you call it.", Kind::Text, Usually::Value("\"room door\"", "no name given")),
    Field::new("wall", "Wall", "The wall that it is in.", Kind::OneOf(SIDES), Usually::Needed(Start::Text("Left"))),
    Field::measured(
        "along",
        "Distance from the corner",
        "From the corner along the wall to the near edge of its leaf.",
        Usual::new(2500.0, 100.0),
    ),
    Field::measured("width", "Width", "Width of its leaf.", Usual::new(800.0, 32.0)),
    Field::size("height", "Height", "Height of its leaf.", defaults::ROOM_DOOR_HEIGHT),
    Field::size("thickness", "Thickness", "Thickness of its leaf.", defaults::ROOM_DOOR_THICKNESS),
    UPRIGHT_EDGE,
    Field::new(
        "opens_to",
        "Opens to",
        "How far it opens, in degrees from shut.",
        Kind::Angle,
        Usually::Value("90", "common practice, no source"),
    ),
];

const OBSTACLES: Many = Many {
    one: "Obstacle",
    help: "A box that stands in the room or hangs on a wall: a pipe, a radiator, a window sill, an island.",
    kind: Kind::Group(OBSTACLE),
    start: Start::Kind,
};

/// The room's left or right, as a word.
pub(super) const SIDES: &[Choice] = &[
    Choice::word("Left", "Left", "The one on your left hand as you face the corner."),
    Choice::word("Right", "Right", "The one on your right hand as you face the corner."),
];

const OBSTACLE: &[Field] = &[
    Field::new("name", "Name", "What you call it.", Kind::Text, Usually::Value("\"obstacle\"", "no name given")),
    Field::new(
        "wall",
        "Wall",
        "The wall that it is measured along.",
        Kind::OneOf(SIDES),
        Usually::Needed(Start::Text("Left")),
    ),
    Field::measured(
        "along",
        "Distance from the corner",
        "From the corner along the wall to its near end.",
        Usual::new(2000.0, 78.0),
    ),
    Field::size("out", "Off the wall", "From the wall to its back.", NONE),
    Field::size("above", "Above the floor", "Height of its lower face above the floor.", NONE),
    Field::measured("width", "Width", "Its own size along the wall.", Usual::new(100.0, 4.0)),
    Field::measured("depth", "Depth", "Its own size out from the wall.", Usual::new(100.0, 4.0)),
    Field::measured("height", "Height", "Its own size upwards.", Usual::new(1000.0, 40.0)),
    Field::new(
        "opens",
        "What of it opens",
        "Drawers and doors in its face toward the wall that it is measured along.",
        Kind::List(&opposite::FRONTS),
        Usually::Inside,
    ),
];

const FILLER: &[Choice] = &[
    Choice::word("Least", "The least that passes", "The least width on the shop step at which everything opens."),
    Choice::with(
        "Fixed",
        "A set width",
        "This wide, along the run's front plane.",
        Holds::Value(&(Kind::Length, Start::Size(Usual::new(60.0, 2.5)))),
    ),
];

const CORNER: &[Field] = &[
    Field::new(
        "left",
        "Left filler",
        "Width of the filler beside the left run.",
        Kind::OneOf(FILLER),
        Usually::Value("Least", "the least width that passes"),
    ),
    Field::new(
        "right",
        "Right filler",
        "Width of the filler beside the right run.",
        Kind::OneOf(FILLER),
        Usually::Value("Least", "the least width that passes"),
    ),
    Field::new(
        "flush",
        "Filler faces lie flush",
        "What the faces of the fillers are flush with.",
        Kind::OneOf(&[
            Choice::word("WithCarcass", "With the carcass", "The faces lie in the front plane."),
            Choice::word("WithFronts", "With the fronts", "The faces lie level with the faces of the fronts."),
        ]),
        Usually::Value("WithCarcass", "common practice, no source"),
    ),
    Field::new(
        "laps",
        "Lapping face",
        "The filler face that covers the other's edge.",
        Kind::OneOf(SIDES),
        Usually::Value("Left", "either will do"),
    ),
    Field::size("face", "Face thickness", "Thickness of the filler faces.", defaults::FILLER_FACE),
    Field::size("block", "Backing block", "Section of the backing blocks behind the fillers, square.", defaults::BLOCK),
];

const CLEARANCE: &[Field] = &[
    Field::size(
        "wanted",
        "Clearance wanted",
        "Least space that a moving part keeps from the other run and from what stands in the room.",
        defaults::WANTED,
    ),
    Field::size(
        "shop_step",
        "Shop step",
        "A filler that the program chooses is a whole number of these.",
        defaults::SHOP_STEP,
    ),
    Field::size("ajar", "Ajar", "How far a shut front of the other run may stand out.", defaults::AJAR),
];

/// What a unit has for a name of hardware.
pub(super) const fn named(name: &'static str, label: &'static str, help: &'static str, hardware: Hardware) -> Field {
    Field::new(name, label, help, Kind::Name(hardware), Usually::TheOnly(hardware))
}
