//! The pulls and slides that a plan buys.

use super::{Choice, Field, Holds, Kind, Many, Start, Usually, finish};
use crate::plan::defaults::{self, Usual};

pub(super) const PULLS: Many = Many {
    one: "Pull",
    help: "A pull, with the name that units call it by.",
    kind: Kind::OneOf(SHAPES),
    start: Start::Text("Absent"),
};

pub(super) const SLIDES: Many = Many {
    one: "Slide",
    help: "A pair of slides, with the name that units call it by.",
    kind: Kind::Group(SLIDE),
    start: Start::Kind,
};

const SHAPES: &[Choice] = &[
    Choice::with("Bar", "Bar", "A round bar on two posts.", Holds::Fields(BAR)),
    Choice::with("Knob", "Knob", "A round or square knob.", Holds::Fields(KNOB)),
    Choice::with("Edge", "Lip", "A lip along the upper edge of the front.", Holds::Fields(EDGE)),
    Choice::word("Absent", "None", "A push latch, or a hand hold in the front: nothing stands out."),
];

const PROJECTION: Field = Field::measured(
    "projection",
    "Projection",
    "From the face of the front to the pull's farthest point.",
    Usual::new(32.0, 1.25),
);
const HEIGHT: Field = Field::new(
    "height",
    "Height on the front",
    "From the front's lower edge up to the middle of the pull.",
    Kind::Length,
    Usually::Said("the middle of a drawer front; near the upper corner of a door"),
);
const SIDEWAYS: Field = Field::new(
    "sideways",
    "Sideways",
    "From the middle of the front to the middle of the pull; more than 0 is away from the corner.",
    Kind::Length,
    Usually::Said("the middle of a drawer front; near the opening edge of a door"),
);

const BAR: &[Field] = &[
    Field::measured("length", "Length", "Length of the bar over all, not hole to hole.", Usual::new(160.0, 6.0)),
    Field::size("thickness", "Thickness", "Diameter of the bar.", defaults::BAR_THICKNESS),
    PROJECTION,
    Field::new(
        "set",
        "Set",
        "Which way the bar lies on its front.",
        Kind::OneOf(&[
            Choice::word("Level", "Level", "Along the front."),
            Choice::word("Upright", "Upright", "Standing."),
        ]),
        Usually::Value("Level", "common practice, no source"),
    ),
    Field::new(
        "holes",
        "Hole to hole",
        "From one screw hole to the other.",
        Kind::Length,
        Usually::Said("three quarters of the length"),
    ),
    HEIGHT,
    SIDEWAYS,
    finish::OF_PULL,
];

const KNOB: &[Field] = &[
    Field::measured("across", "Across", "Across the knob at its widest.", Usual::new(32.0, 1.25)),
    Field::new(
        "square",
        "Square",
        "Whether the knob is square, not round.",
        Kind::YesNo,
        Usually::Value("false", "a round one"),
    ),
    PROJECTION,
    HEIGHT,
    SIDEWAYS,
    finish::OF_PULL,
];

const EDGE: &[Field] = &[
    Field::new("length", "Length", "Length of the lip.", Kind::Length, Usually::Said("the whole width of the front")),
    Field::size("thickness", "Thickness", "Thickness of the lip.", defaults::LIP_THICKNESS),
    PROJECTION,
    HEIGHT,
    SIDEWAYS,
    finish::OF_PULL,
];

const SLIDE: &[Field] = &[
    Field::measured("length", "Length", "Length of the slide, which is the drawer box's.", Usual::new(500.0, 20.0)),
    Field::new(
        "extension",
        "Extension",
        "How far the slide draws out.",
        Kind::OneOf(&[
            Choice::word("Full", "Full", "Its whole length."),
            Choice::word("ThreeQuarter", "Three-quarter", "Three quarters of its length."),
            Choice::with(
                "Travel",
                "Its own travel",
                "This far, as over-travel slides do.",
                Holds::Value(&(Kind::Length, Start::Size(Usual::new(525.0, 21.0)))),
            ),
        ]),
        Usually::Value("Full", "common practice, no source"),
    ),
    Field::new(
        "mount",
        "Mount",
        "Where the slide is fixed to the drawer box.",
        Kind::OneOf(&[
            Choice::word("SideMount", "Side-mount", "At the sides of the box."),
            Choice::word("UnderMount", "Under-mount", "Under the bottom of the box."),
        ]),
        Usually::Value("SideMount", "common practice, no source"),
    ),
    Field::new(
        "side",
        "Space at each side",
        "Space between the drawer box and the side of the opening.",
        Kind::Length,
        Usually::ByMount { under: defaults::SLIDE_SIDE_UNDER_MOUNT, side: defaults::SLIDE_SIDE },
    ),
    Field::size("under", "Space under the box", "Space under the drawer box.", defaults::SLIDE_UNDER),
    Field::size(
        "lift_out",
        "Space to lift out",
        "Space above the drawer box, to lift it out.",
        defaults::SLIDE_LIFT_OUT,
    ),
    Field::size(
        "behind",
        "Space behind the box",
        "Least space between the drawer box and the back.",
        defaults::SLIDE_BEHIND,
    ),
    Field::new(
        "line",
        "Line of screws",
        "Height of its screws in the carcass above the box's lower edge; less than 0 below it.",
        Kind::Length,
        Usually::Said("22 mm or 7/8 in; of under-mount slides, the middle of the space under the box"),
    ),
    Field::new(
        "holes",
        "Screw holes",
        "Its screws in the carcass, measured from its front end.",
        Kind::List(&HOLES),
        Usually::Said("the first at 37 mm, one in the middle and one near the back, on a pitch of 32 mm"),
    ),
    Field::new(
        "droop",
        "Droop",
        "How far the front end drops when the loaded drawer is drawn out its whole way: the maker's figure.",
        Kind::Length,
        Usually::Said("not known: only the sag of the drawer's bottom is judged"),
    ),
];

const HOLES: Many = Many {
    one: "Hole",
    help: "A screw, measured from the slide's front end.",
    kind: Kind::Length,
    start: Start::Size(defaults::HOLES_BEHIND_FRONT),
};
