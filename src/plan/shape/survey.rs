//! What was measured of the room, and how the units are fixed in it.

use super::room::SIDES;
use super::{Choice, Field, Holds, Kind, Many, NONE, Start, Usually};
use crate::plan::defaults::{self, Usual};

const COMMON: &str = "common practice, no source";

pub(super) const SURVEY: &[Field] = &[
    Field::new(
        "left",
        "Left wall",
        "What was measured of the wall behind the left run.",
        Kind::Group(WALL),
        Usually::Inside,
    ),
    Field::new(
        "right",
        "Right wall",
        "What was measured of the wall behind the right run.",
        Kind::Group(WALL),
        Usually::Inside,
    ),
    Field::new(
        "corner",
        "Corner by the tape",
        "Lengths that give the room angle, where it was not read as an angle.",
        Kind::OneOf(CORNER),
        Usually::Value("Absent", "not measured so"),
    ),
    Field::new(
        "floor",
        "Floor levels",
        "How high the floor is at some places; only differences matter.",
        Kind::List(&FLOOR),
        Usually::Inside,
    ),
    Field::size(
        "flooring",
        "Flooring to come",
        "Thickness of flooring still to be laid; heights are from its top.",
        NONE,
    ),
    Field::new(
        "way_in",
        "Way in",
        "The narrowest door, stair or passage on the way to the room.",
        Kind::OneOf(WAY_IN),
        Usually::Value("Absent", "not measured: everything is taken to come in"),
    ),
];

const WALL: &[Field] = &[
    Field::new(
        "readings",
        "Gaps",
        "Gaps from a straight measuring line to the wall, square to the line.",
        Kind::List(&READINGS),
        Usually::Inside,
    ),
    Field::new(
        "between",
        "Between gaps",
        "How the wall goes from one gap to the next.",
        Kind::OneOf(&[
            Choice::word("Straight", "Straight", "Straight from one to the next."),
            Choice::word("Curved", "Curved", "In a smooth curve through all of them."),
        ]),
        Usually::Value("Straight", COMMON),
    ),
    Field::new("plumb", "Plumb", "How far the wall leans, at places along it.", Kind::List(&PLUMB), Usually::Inside),
    Field::new(
        "lengths",
        "Three lengths",
        "The wall's length at three heights; its length above is the least of them.",
        Kind::OneOf(LENGTHS),
        Usually::Value("Absent", "measured along the floor alone"),
    ),
    Field::new(
        "studs",
        "Studs",
        "Where the middles of studs are.",
        Kind::OneOf(STUDS),
        Usually::Value("Unknown", "not found yet"),
    ),
    Field::new(
        "made_of",
        "Made of",
        "What the wall is made of.",
        Kind::OneOf(MADE_OF),
        Usually::Value("Framed", "common practice, no source; lumber as PS 20 names it"),
    ),
    Field::new(
        "fixtures",
        "In or on the wall",
        "Outlets, pipes, gas, valves, registers, casings and sills.",
        Kind::List(&FIXTURES),
        Usually::Inside,
    ),
];

const ALONG: Field =
    Field::measured("along", "Distance from the corner", "From the corner along the wall.", Usual::new(600.0, 24.0));

const READINGS: Many = Many {
    one: "Gap",
    help: "A gap from the measuring line to the wall.",
    kind: Kind::Group(READING),
    start: Start::Kind,
};

const READING: &[Field] = &[
    ALONG,
    Field::measured("height", "Height", "Above the finished floor.", Usual::new(100.0, 4.0)),
    Field::measured("gap", "Gap", "From the line to the wall; larger where the wall lies further back.", NONE),
];

const PLUMB: Many = Many {
    one: "Plumb reading",
    help: "How far the wall leans there.",
    kind: Kind::Group(PLUMB_READING),
    start: Start::Kind,
};

const PLUMB_READING: &[Field] = &[
    ALONG,
    Field::measured(
        "over",
        "Over a height of",
        "From the floor up to where it was measured.",
        Usual::new(1800.0, 72.0),
    ),
    Field::measured(
        "back_by",
        "Further back by",
        "How far the wall lies further back up there than at the floor; negative where it leans into the room.",
        NONE,
    ),
];

const LENGTHS: &[Choice] = &[
    Choice::word("Absent", "Not measured", "The wall is as long at every height."),
    Choice::with("", "Measured", "At the floor, at mid height and at the countertop.", Holds::Fields(THREE_LENGTHS)),
];

const WALL_LENGTH: Usual = Usual::new(2400.0, 96.0);

const THREE_LENGTHS: &[Field] = &[
    Field::measured("floor", "At the floor", "From the corner along the floor.", WALL_LENGTH),
    Field::measured("middle", "At mid height", "From the corner at half the height of the units.", WALL_LENGTH),
    Field::measured("top", "At the countertop", "From the corner at the countertop's height.", WALL_LENGTH),
];

const STUDS: &[Choice] = &[
    Choice::word("Unknown", "Not known", "Not found yet, or there are none."),
    Choice::with("Spaced", "Evenly spaced", "One stud and the spacing of the rest.", Holds::Fields(SPACED)),
    Choice::with(
        "",
        "One by one",
        "The middle of each, from the corner.",
        Holds::Itself(&(Kind::List(&STUD_LIST), Start::ListOf(Usual::new(400.0, 16.0)))),
    ),
];

const STUD_LIST: Many = Many {
    one: "Stud",
    help: "Its middle, from the corner.",
    kind: Kind::Length,
    start: Start::Size(Usual::new(400.0, 16.0)),
};

const SPACED: &[Field] = &[
    Field::measured("one_at", "One stud at", "Its middle, from the corner.", Usual::new(400.0, 16.0)),
    Field::measured(
        "spacing",
        "Spacing",
        "From the middle of one stud to the middle of the next.",
        Usual::new(400.0, 16.0),
    ),
];

const MADE_OF: &[Choice] = &[
    Choice::with("Framed", "Framed", "Studs behind board or plaster.", Holds::Fields(FRAMED)),
    Choice::word("Masonry", "Masonry", "Brick, block, concrete or stone."),
];

const FRAMED: &[Field] = &[
    Field::size("board", "Board", "Thickness of the board or plaster before the studs.", defaults::WALL_BOARD),
    Field::size("stud", "Stud", "Width of a stud's face.", defaults::STUD),
];

const FIXTURES: Many =
    Many { one: "Fixture", help: "Something in or on the wall.", kind: Kind::OneOf(FIXTURE_KINDS), start: Start::Kind };

const FIXTURE_KINDS: &[Choice] = &[
    Choice::with("Outlet", "Outlet", "An outlet or a switch.", Holds::Fields(PLATED)),
    Choice::with("JunctionBox", "Junction box", "A box with joined wires in it.", Holds::Fields(PLATED)),
    Choice::with("Pipe", "Pipe", "A water or waste pipe.", Holds::Fields(SIZED)),
    Choice::with("Gas", "Gas", "A gas pipe or cock.", Holds::Fields(SIZED)),
    Choice::with("Valve", "Valve", "A valve that someone must reach.", Holds::Fields(SIZED)),
    Choice::with("Register", "Register", "A register or grille for air.", Holds::Fields(SIZED)),
    Choice::with("Casing", "Casing", "The casing of a door or window.", Holds::Fields(SIZED)),
    Choice::with("Sill", "Sill", "A window sill.", Holds::Fields(SIZED)),
];

const NAME: Field = Field::new("name", "Name", "What you call it.", Kind::Text, Usually::Said("called by what it is"));
const CENTRE: Field = Field::measured(
    "along",
    "Distance from the corner",
    "From the corner along the wall to its centre.",
    Usual::new(1000.0, 40.0),
);
const ABOVE: Field = Field::measured(
    "above",
    "Above the floor",
    "Height of its centre above the finished floor.",
    Usual::new(400.0, 16.0),
);
const OUT: Field = Field::size("out", "Stands out", "How far it stands out from the wall.", NONE);

const PLATED: &[Field] = &[
    NAME,
    CENTRE,
    ABOVE,
    Field::size("width", "Width", "Width of its plate.", defaults::PLATE_WIDTH),
    Field::size("height", "Height", "Height of its plate.", defaults::PLATE_HEIGHT),
    OUT,
];

const SIZED: &[Field] = &[
    NAME,
    CENTRE,
    ABOVE,
    Field::measured("width", "Width", "Its own size along the wall.", Usual::new(50.0, 2.0)),
    Field::measured("height", "Height", "Its own size upwards.", Usual::new(50.0, 2.0)),
    OUT,
];

const CORNER: &[Choice] = &[
    Choice::word("Absent", "Not measured so", "The room angle is as read, or taken as square."),
    Choice::with(
        "Triangle",
        "A triangle",
        "A mark on each wall's line, and from mark to mark: 3-4-5.",
        Holds::Fields(TRIANGLE),
    ),
    Choice::with("Diagonals", "Both diagonals", "All four walls and both diagonals.", Holds::Fields(DIAGONALS)),
];

const TRIANGLE: &[Field] = &[
    Field::measured("left", "Along the left wall", "From the corner to the mark.", Usual::new(900.0, 36.0)),
    Field::measured("right", "Along the right wall", "From the corner to the mark.", Usual::new(1200.0, 48.0)),
    Field::measured(
        "across",
        "From mark to mark",
        "1500 to 900 and 1200 where the walls are square.",
        Usual::new(1500.0, 60.0),
    ),
];

const DIAGONALS: &[Field] = &[
    Field::measured("left", "Left wall", "From the corner to its far end.", Usual::new(3000.0, 120.0)),
    Field::measured("right", "Right wall", "From the corner to its far end.", Usual::new(4000.0, 160.0)),
    Field::measured("opposite_left", "Opposite the left wall", "The whole wall.", Usual::new(3000.0, 120.0)),
    Field::measured("opposite_right", "Opposite the right wall", "The whole wall.", Usual::new(4000.0, 160.0)),
    Field::measured(
        "across",
        "Diagonal across the corner",
        "From the left wall's far end to the right wall's far end.",
        Usual::new(5000.0, 200.0),
    ),
    Field::measured(
        "through",
        "Diagonal from the corner",
        "From the corner to the corner opposite.",
        Usual::new(5000.0, 200.0),
    ),
];

const FLOOR: Many =
    Many { one: "Level", help: "How high the floor is in one place.", kind: Kind::Group(LEVEL), start: Start::Kind };

const LEVEL: &[Field] = &[
    WALL_OF,
    ALONG,
    Field::size("out", "Off the wall", "From the wall into the room.", NONE),
    Field::measured(
        "level",
        "Level",
        "How high the floor is there over any level line; negative where it is lower.",
        NONE,
    ),
];

const WALL_OF: Field = Field::new(
    "wall",
    "Wall",
    "The wall that it is measured along.",
    Kind::OneOf(SIDES),
    Usually::Needed(Start::Text("Left")),
);

const WAY_IN: &[Choice] = &[
    Choice::word("Absent", "Not measured", "Everything is taken to come in."),
    Choice::with("", "Measured", "The narrowest place on the way.", Holds::Fields(WAY)),
];

const WAY: &[Field] = &[
    Field::measured("width", "Width", "Clear width, past stops and handles.", Usual::new(760.0, 30.0)),
    Field::measured("height", "Height", "Clear height.", Usual::new(2000.0, 80.0)),
    Field::new(
        "turn",
        "Passage behind it",
        "Clear length of the passage behind it, where a piece must turn there.",
        Kind::Length,
        Usually::Said("pieces come straight in"),
    ),
];

pub(super) const FIXING: &[Field] = &[
    Field::new(
        "line",
        "Back line",
        "How the backs of a run lie to its wall.",
        Kind::OneOf(&[
            Choice::word("Parallel", "Parallel", "Parallel to the measuring line, as close as the wall lets it."),
            Choice::word("LeastGap", "Least gap", "Turned and moved so that the greatest gap is least."),
        ]),
        Usually::Value("LeastGap", COMMON),
    ),
    Field::size("bite", "Bite", "Least length of a fixing screw in the stud.", defaults::SCREW_BITE),
    Field::new(
        "screws",
        "Screws at hand",
        "Lengths of the screws that you have.",
        Kind::List(&SCREWS),
        Usually::Inside,
    ),
    Field::new(
        "shim_also",
        "Shims also at",
        "Places beside the studs where a shim is asked for.",
        Kind::List(&SHIM_ALSO),
        Usually::Inside,
    ),
    Field::size("shim_step", "Step of shims", "The step to which shims are cut.", defaults::SHIM_STEP),
];

const SCREWS: Many = Many {
    one: "Screw",
    help: "The length of a kind of screw.",
    kind: Kind::Length,
    start: Start::Size(Usual::new(80.0, 3.0)),
};

const SHIM_ALSO: Many =
    Many { one: "Place", help: "A place for a shim.", kind: Kind::Group(&[WALL_OF, ALONG]), start: Start::Kind };
