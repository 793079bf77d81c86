//! How the boards are joined, trimmed and finished.

use super::{Choice, Field, Holds, Kind, Many, Start, Usually};
use crate::plan::defaults;

const COMMON: &str = "common practice, no source";

const BUTT: Choice = Choice::word("Butt", "Butted", "The board's end stands flat against the other.");
const DEPTH: (Kind, Start) = (Kind::Length, Start::Size(defaults::LET_IN));
const DADO: Choice =
    Choice::with("Dado", "In a dado", "The board is let into the other by this much.", Holds::Value(&DEPTH));
const RABBET: Choice = Choice::with(
    "Rabbet",
    "In a rabbet",
    "The board is let into the other's end by this much; the same as a dado there.",
    Holds::Value(&DEPTH),
);
const JOINTS: Kind = Kind::OneOf(&[BUTT, DADO, RABBET]);
const BOX_DEPTH: (Kind, Start) = (Kind::Length, Start::Size(defaults::BOX_LET_IN));
const BOX_JOINTS: Kind = Kind::OneOf(&[
    BUTT,
    Choice::with("Dado", "In a dado", "The end is let into the side by this much.", Holds::Value(&BOX_DEPTH)),
    Choice::with("Rabbet", "In a rabbet", "The end lies in a rabbet of the side this deep.", Holds::Value(&BOX_DEPTH)),
]);
const HALF: Usually = Usually::Said("let in by 9 mm or 3/8 in, at most half the panel");

pub(super) const JOINERY: &[Field] = &[
    Field::new("bottom", "Bottom", "How the carcass's bottom meets its sides.", JOINTS, HALF),
    Field::new("top", "Full top", "How a full top meets the sides; stretchers are butted.", JOINTS, HALF),
    Field::new(
        "shelves",
        "Shelves",
        "How shelves rest in the sides.",
        Kind::OneOf(&[
            BUTT,
            DADO,
            Choice::with(
                "Pins",
                "On pins",
                "Loose on four pins each, and shorter than the opening by this much in all.",
                Holds::Value(&(Kind::Length, Start::Size(defaults::SHELF_PLAY))),
            ),
        ]),
        Usually::Value("Butt", COMMON),
    ),
    Field::new(
        "back",
        "Back",
        "How the back is put on.",
        Kind::OneOf(&[
            Choice::word("Between", "Between the sides", "The back lies between the sides."),
            Choice::with(
                "Rabbet",
                "In rabbets",
                "The back lies in a rabbet along each side's back edge, this far into its thickness.",
                Holds::Value(&DEPTH),
            ),
            Choice::word("Applied", "Over the sides", "The back lies over the sides' back edges."),
        ]),
        HALF,
    ),
    Field::new(
        "frame",
        "Face frame",
        "How a frame's stiles and rails hold together.",
        Kind::OneOf(&[
            Choice::word("PocketScrews", "Pocket screws", "Two pocket screws at each end of a rail."),
            Choice::word("Dowels", "Dowels", "Two dowels at each end of a rail."),
        ]),
        Usually::Value("PocketScrews", COMMON),
    ),
    Field::new(
        "blocking",
        "Side blocking",
        "Whether the sides of face-frame units are filled out to the stiles for the slides.",
        Kind::YesNo,
        Usually::Value("true", COMMON),
    ),
    Field::new("box_corners", "Drawer-box corners", "How a box's ends meet its sides.", BOX_JOINTS, BOX_HALF),
    Field::new(
        "box_groove",
        "Groove for the box bottom",
        "Depth of the grooves that hold a box's bottom; 0 for a bottom between the sides.",
        Kind::Length,
        BOX_HALF,
    ),
    Field::new(
        "box_play",
        "Play of the box bottom",
        "How much smaller, in all, a box bottom is than its grooves.",
        Kind::Length,
        Usually::Said("1.5 mm or 1/16 in, at most the groove's depth"),
    ),
    Field::size(
        "box_recess",
        "Below the box bottom",
        "From the lower edge of a box's sides up to its bottom.",
        defaults::BOX_RECESS,
    ),
    Field::new(
        "strips",
        "Edge strips",
        "Whether the depth that the plan gives includes the strips.",
        Kind::OneOf(&[
            Choice::word("TakenOff", "Taken off", "The panels are narrower by the strip; depths include it."),
            Choice::word("Added", "Added", "The strip comes on top: the front plane lies out by its thickness."),
        ]),
        Usually::Value("TakenOff", COMMON),
    ),
    Field::new(
        "strip_edges",
        "Stripped edges",
        "Which raw edges get a strip.",
        Kind::List(&STRIP_EDGES),
        Usually::Value("[Sides, Bottom, Top, Shelves]", COMMON),
    ),
    Field::new(
        "front_grain",
        "Grain of fronts",
        "Which way the grain of drawer fronts and doors runs.",
        Kind::OneOf(&[
            Choice::word("Upright", "Upright", "Up, so that it goes on from one front to the next."),
            Choice::word("Level", "Level", "Along the front."),
        ]),
        Usually::Value("Upright", COMMON),
    ),
    Field::size(
        "scribe",
        "Left on for fitting",
        "What is left on a piece that is fitted on site, at each edge that meets a wall, the floor or its mate.",
        defaults::SCRIBE,
    ),
    Field::new(
        "corner",
        "Corner",
        "What closes the corner in face-frame work.",
        Kind::OneOf(&[
            Choice::word("Faces", "Filler faces", "A filler face on a backing block, on each side."),
            Choice::word("Stiles", "Wider stiles", "The first unit's stile is widened to the corner."),
        ]),
        Usually::Value("Faces", COMMON),
    ),
    Field::new(
        "shelf_frame",
        "Frame before open shelves",
        "A frame that brings open shelves flush with the overlay fronts beside them.",
        Kind::OneOf(&[
            Choice::word("Absent", "None", "Open shelves stand as the carcass does."),
            Choice::with("", "There is one", "As deep as the fronts stand proud.", Holds::Fields(SHELF_FRAME)),
        ]),
        Usually::Value("Absent", "no frame"),
    ),
    Field::new(
        "hole_rows",
        "Rows of holes",
        "Whether the sides of open shelves are bored with rows of holes, 32 mm apart.",
        Kind::YesNo,
        Usually::Value("false", COMMON),
    ),
    Field::new(
        "spare_fronts",
        "Spare fronts",
        "How many spare fronts are cut, of the largest size.",
        Kind::Count,
        Usually::Value("1", COMMON),
    ),
];

const BOX_HALF: Usually = Usually::Said("6 mm or 1/4 in, at most half the box stock");

const STRIP_EDGES: Many = Many {
    one: "Edge",
    help: "A kind of edge that gets a strip.",
    kind: Kind::OneOf(&[
        Choice::word("Sides", "Sides", "The front edges of the sides."),
        Choice::word("Bottom", "Bottom", "The front edge of the bottom."),
        Choice::word("Top", "Top", "The front edge of the top or the front stretcher."),
        Choice::word("Shelves", "Shelves", "The front edges of shelves."),
        Choice::word("Fronts", "Fronts", "All four edges of drawer fronts and doors."),
    ]),
    start: Start::Kind,
};

const SHELF_FRAME: &[Field] = &[
    Field::size("stile", "Stile", "Width of its upright pieces.", defaults::STILE),
    Field::size("rail", "Rail", "Height of its level pieces.", defaults::RAIL),
];
