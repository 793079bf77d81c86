//! The two runs and their units.

use super::room::named;
use super::{Choice, Field, Hardware, Holds, Kind, Many, NONE, Start, Usually, build};
use crate::plan::defaults::{self, Usual};

pub(super) const RUN: &[Field] = &[
    Field::new(
        "units",
        "Units",
        "The units of this run, from the corner outwards.",
        Kind::List(&UNITS),
        Usually::Needed(Start::Text("[]")),
    ),
    Field::new(
        "ends_at",
        "Ends at",
        "What stands where the wall behind this run ends.",
        Kind::OneOf(FAR_END),
        Usually::Value("Wall", "another wall, square to this one"),
    ),
    Field::new(
        "depth",
        "Depth of this run",
        "From the back plane to the front plane, where it is not the construction's.",
        Kind::Length,
        Usually::Said("as deep as the construction says"),
    ),
];

const FAR_END: &[Choice] = &[
    Choice::word("Wall", "A wall", "Another wall, square to this one."),
    Choice::with(
        "Casing",
        "A casing",
        "The casing of a door or window; the wall is measured to its near edge.",
        Holds::Fields(CASING),
    ),
    Choice::word("Open", "Nothing", "The wall just ends, or goes on."),
];

const CASING: &[Field] = &[
    Field::measured("width", "Width", "Width of the casing along the wall.", Usual::new(90.0, 3.5)),
    Field::measured("thickness", "Thickness", "How far the casing stands off the wall.", Usual::new(18.0, 0.75)),
];

const UNITS: Many =
    Many { one: "Unit", help: "One unit of the run.", kind: Kind::OneOf(KINDS), start: Start::Text("EndPanel") };

const KINDS: &[Choice] = &[
    Choice::with("Drawers", "Drawer bank", "A bank of drawers over the whole opening.", Holds::Fields(DRAWERS)),
    Choice::with("Door", "Door", "One door over the whole opening.", Holds::Fields(DOOR)),
    Choice::with("DrawerOverDoor", "Drawer over door", "A drawer above a door.", Holds::Fields(DRAWER_OVER_DOOR)),
    Choice::with("OpenShelves", "Open shelves", "Shelves with no front.", Holds::Fields(SHELVES)),
    Choice::with(
        "EndPanel",
        "End panel",
        "A panel from the floor to the top of the run, or higher.",
        Holds::Fields(END_PANEL),
    ),
    Choice::with(
        "ApplianceSpace",
        "Appliance space",
        "A space for an appliance, with the appliance in it.",
        Holds::Fields(APPLIANCE),
    ),
];

const WIDTH: Field = Field::measured("width", "Width", "Width of the unit along the run.", Usual::new(600.0, 24.0));

const HEIGHT: Field = Field::new(
    "height",
    "Height",
    "From the floor to its top, where it is higher than the run: a tall unit, with no countertop over it.",
    Kind::Length,
    Usually::Said("as high as the run"),
);

const fn unit_name(usual: &'static str) -> Field {
    Field::new("name", "Name", "What you call this unit.", Kind::Text, Usually::Value(usual, "no name given"))
}

const PULL: Field = named("pull", "Pull", "The pull on its front.", Hardware::Pull);
const SLIDE: Field = named("slide", "Slide", "The slides that its drawers run on.", Hardware::Slide);

const EDGES: &[Choice] = &[
    Choice::word("CornerSide", "Corner side", "The edge toward the corner."),
    Choice::word("FarSide", "Far side", "The edge away from the corner."),
    Choice::word("Top", "Upper edge", "It lifts up."),
    Choice::word("Bottom", "Lower edge", "It drops down."),
];

const HINGE: Field = Field::new(
    "hinge",
    "Hinged on",
    "The edge that the door turns about.",
    Kind::OneOf(EDGES),
    Usually::Value("FarSide", "common practice, no source"),
);
const OPENS_TO: Field = Field::new(
    "opens_to",
    "Opens to",
    "How far the door opens, in degrees from shut.",
    Kind::Angle,
    Usually::Said("110, the common hinge; 90 for a door that lifts up or drops down"),
);
const HINGES: Field = Field::new(
    "hinges",
    "Hinges",
    "What this door hangs on, where it is not what the others do.",
    Kind::OneOf(build::HINGES),
    Usually::Said("the construction's"),
);
const PULL_OUTS: Field = Field::new(
    "pull_outs",
    "Pull-out shelves",
    "Shelves that draw out on slides behind the door.",
    Kind::OneOf(&[
        Choice::word("Absent", "None", "No shelf draws out."),
        Choice::with(
            "",
            "There are some",
            "Low boxes without a front, alike and evenly spaced.",
            Holds::Fields(PULL_OUT),
        ),
    ]),
    Usually::Value("Absent", "no shelf draws out"),
);
const PULL_OUT: &[Field] = &[
    Field::new("count", "How many", "How many there are.", Kind::Count, Usually::Needed(Start::Text("2"))),
    SLIDE,
    Field::size("box_height", "Height", "Height of their sides.", defaults::PULL_OUT_HEIGHT),
    Field::size(
        "spacer",
        "Packing",
        "What their slides are packed out by at each side, so that they pass the open door.",
        NONE,
    ),
];
const BOX_HEIGHT: &str = "as high as its opening and its slide let it be";

const DRAWERS: &[Field] = &[
    unit_name("\"drawer bank\""),
    WIDTH,
    HEIGHT,
    Field::new(
        "fronts",
        "Front heights",
        "Heights of the drawer fronts, from the top.",
        Kind::OneOf(FRONTS),
        Usually::Needed(Start::Text("Equal(3)")),
    ),
    PULL,
    Field::new(
        "pulls",
        "Pull of each drawer",
        "A pull for each drawer from the top, where they differ.",
        Kind::List(&Many {
            one: "Drawer",
            help: "The pull of this drawer.",
            kind: Kind::Name(Hardware::Pull),
            start: Start::Kind,
        }),
        Usually::Said("one pull for all"),
    ),
    SLIDE,
    Field::new(
        "box_heights",
        "Box heights",
        "Heights of the drawer boxes' sides, one for each drawer from the top.",
        Kind::List(&Many {
            one: "Drawer",
            help: "Height of this drawer box's sides.",
            kind: Kind::Length,
            start: Start::Size(Usual::new(100.0, 4.0)),
        }),
        Usually::Said(BOX_HEIGHT),
    ),
];

const FRONTS: &[Choice] = &[
    Choice::with(
        "Equal",
        "All alike",
        "So many drawers of one height.",
        Holds::Value(&(Kind::Count, Start::Text("3"))),
    ),
    Choice::with(
        "",
        "One by one",
        "A height for each drawer, from the top.",
        Holds::Itself(&(Kind::List(&HEIGHTS), Start::Text("[Rest]"))),
    ),
];

const HEIGHTS: Many = Many {
    one: "Drawer",
    help: "Height of this drawer's front.",
    kind: Kind::OneOf(&[
        Choice::word("Rest", "What is left", "The height that the other fronts leave."),
        Choice::with("", "A height", "This high.", Holds::Itself(&(Kind::Length, Start::Size(Usual::new(150.0, 6.0))))),
    ]),
    start: Start::Size(Usual::new(150.0, 6.0)),
};

const DOOR: &[Field] = &[
    unit_name("\"door unit\""),
    WIDTH,
    HEIGHT,
    HINGE,
    HINGES,
    OPENS_TO,
    PULL,
    PULL_OUTS,
    Field::new(
        "shelves",
        "Shelves",
        "How many shelves stand between bottom and top behind the door; none where shelves draw out.",
        Kind::Count,
        Usually::Value("0", "common practice, no source"),
    ),
];

const DRAWER_OVER_DOOR: &[Field] = &[
    unit_name("\"drawer over door\""),
    WIDTH,
    HEIGHT,
    Field::measured("drawer", "Drawer front", "Height of the drawer's front.", Usual::new(150.0, 6.0)),
    Field::new(
        "box_height",
        "Box height",
        "Height of the drawer box's sides.",
        Kind::Length,
        Usually::Said(BOX_HEIGHT),
    ),
    HINGE,
    HINGES,
    OPENS_TO,
    PULL,
    Field::new(
        "door_pull",
        "Pull of the door",
        "The pull on the door, where it is not the drawer's.",
        Kind::Name(Hardware::Pull),
        Usually::Said("the drawer's pull"),
    ),
    SLIDE,
];

const SHELVES: &[Field] = &[
    unit_name("\"open shelves\""),
    WIDTH,
    HEIGHT,
    Field::new(
        "shelves",
        "Shelves",
        "How many shelves stand between bottom and top.",
        Kind::Count,
        Usually::Value("2", "common practice, no source"),
    ),
];

const END_PANEL: &[Field] = &[
    unit_name("\"end panel\""),
    Field::new(
        "width",
        "Thickness",
        "How much of the run the panel takes.",
        Kind::Length,
        Usually::Said("as thick as the construction's panels"),
    ),
    HEIGHT,
];

const APPLIANCE: &[Field] = &[
    unit_name("\"appliance space\""),
    WIDTH,
    Field::new(
        "appliance",
        "Appliance",
        "What stands in the space.",
        Kind::Text,
        Usually::Value("\"appliance\"", "no name given"),
    ),
    Field::new(
        "body_width",
        "Its width",
        "Width of the appliance itself; it stands in the middle of its space.",
        Kind::Length,
        Usually::Said("as wide as its space"),
    ),
    Field::new(
        "depth",
        "Its depth",
        "From the run's back plane to the appliance's face.",
        Kind::Length,
        Usually::Said("as deep as the run"),
    ),
    Field::new(
        "height",
        "Its height",
        "Height of the appliance's top above the finished floor.",
        Kind::Length,
        Usually::Said("as high as the units"),
    ),
    Field::size(
        "above",
        "Above the floor",
        "Height of its underside above the finished floor; 0 where it stands on it.",
        NONE,
    ),
    Field::size("handle", "Its handle", "How far its handle stands off its face; 0 for none.", NONE),
    Field::new(
        "door",
        "Its door",
        "The appliance's own door, where it is to be opened too.",
        Kind::OneOf(&[
            Choice::word("Absent", "Not opened", "The appliance stands shut."),
            Choice::with("", "It has one", "As wide as the appliance, up to its top.", Holds::Fields(APPLIANCE_DOOR)),
        ]),
        Usually::Value("Absent", "it stands shut"),
    ),
];

const APPLIANCE_DOOR: &[Field] = &[
    Field::new(
        "hinge",
        "Hinged on",
        "The edge that the door turns about.",
        Kind::OneOf(EDGES),
        Usually::Value("Bottom", "it drops down"),
    ),
    Field::new(
        "bottom",
        "Its lower edge",
        "Height of the door's lower edge above the finished floor.",
        Kind::Length,
        Usually::Said("the appliance's underside"),
    ),
    Field::size("thickness", "Its thickness", "Thickness of the door.", defaults::APPLIANCE_DOOR),
    Field::new(
        "opens_to",
        "Opens to",
        "How far the door opens, in degrees from shut.",
        Kind::Angle,
        Usually::Value("90", "level; common practice, no source"),
    ),
];
