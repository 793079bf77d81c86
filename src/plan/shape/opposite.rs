//! What opens opposite a run.

use super::room::UPRIGHT_EDGE;
use super::{Choice, Field, Holds, Kind, Many, NONE, Start, Usually};
use crate::plan::defaults::{self, Usual};

pub(super) const FRONTS: Many = Many {
    one: "Front",
    help: "A drawer or door in its face toward the wall that it is measured along.",
    kind: Kind::OneOf(&[
        Choice::with("Drawer", "Drawer", "It draws out toward the run.", Holds::Fields(DRAWER)),
        Choice::with("Door", "Door", "It turns about an upright edge.", Holds::Fields(DOOR)),
    ]),
    start: Start::Kind,
};

const fn name(usual: &'static str) -> Field {
    Field::new("name", "Name", "What you call it.", Kind::Text, Usually::Value(usual, "no name given"))
}

const FROM: Field = Field::size("from", "From its end", "From the obstacle's near end to the front's near edge.", NONE);
const WIDTH: Field = Field::measured("width", "Width", "Its own size along the wall.", Usual::new(400.0, 16.0));
const ABOVE: Field = Field::new(
    "above",
    "Above the floor",
    "Height of its lower edge above the floor.",
    Kind::Length,
    Usually::Said("as high as the obstacle's lower face"),
);
const HEIGHT: Field = Field::measured("height", "Height", "Its own size upwards.", Usual::new(200.0, 8.0));
const THICKNESS: Field = Field::size("thickness", "Thickness", "How thick the front is.", defaults::FRONT);
const PULL: Field =
    Field::size("pull", "Pull stands out", "How far its pull stands out before the front; 0 where it has none.", NONE);

const DRAWER: &[Field] = &[
    name("\"drawer\""),
    FROM,
    WIDTH,
    ABOVE,
    HEIGHT,
    THICKNESS,
    PULL,
    Field::measured("opens_by", "Opens by", "How far it draws out.", Usual::new(450.0, 18.0)),
];

const DOOR: &[Field] = &[
    name("\"door\""),
    FROM,
    WIDTH,
    ABOVE,
    HEIGHT,
    THICKNESS,
    PULL,
    UPRIGHT_EDGE,
    Field::new(
        "opens_to",
        "Opens to",
        "How far it opens, in degrees from shut.",
        Kind::Angle,
        Usually::Value("110", "the common hinge"),
    ),
];
