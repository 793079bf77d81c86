//! What there is to cut from.

use super::{Choice, Field, Kind, Many, Start, Usually};
use crate::plan::defaults;

pub(super) const STOCK: &[Field] = &[
    Field::size("kerf", "Kerf", "What each cut of the saw takes.", defaults::KERF),
    Field::size("trim", "Trim of sheets", "Taken off each edge of a sheet before it is cut.", defaults::TRIM),
    Field::size("end_trim", "Trim of boards", "Taken off each end of a board.", defaults::END_TRIM),
    Field::new(
        "cuts",
        "Order of cuts",
        "In what order sheets and boards are cut.",
        Kind::OneOf(&[
            Choice::word("RipFirst", "Rips first", "Rips along the whole length, then crosscuts of each rip."),
            Choice::word("Free", "Any order", "Rips and crosscuts as they come; at times a sheet less."),
        ]),
        Usually::Value("RipFirst", "common practice, no source"),
    ),
    Field::new("currency", "Currency", "What prices are in.", Kind::Text, Usually::Said("not said")),
    Field::new("sheets", "Sheets", "Sheets at hand or to be bought.", Kind::Set(&SHEETS), Usually::Inside),
    Field::new("boards", "Boards", "Boards at hand or to be bought.", Kind::Set(&BOARDS), Usually::Inside),
];

const SHEETS: Many = Many {
    one: "Sheet",
    help: "A kind of sheet, with the name that lists call it by.",
    kind: Kind::Group(SHEET),
    start: Start::Kind,
};

const BOARDS: Many = Many {
    one: "Board",
    help: "A kind of board, with the name that lists call it by.",
    kind: Kind::Group(BOARD),
    start: Start::Kind,
};

const OF: Field = Field::new(
    "of",
    "Used for",
    "What is cut from it.",
    Kind::OneOf(&[
        Choice::word("Panel", "Carcass panel", "Sides, bottoms, shelves, nailers and stretchers."),
        Choice::word("ThinPanel", "Thin panel", "Backs and drawer-box bottoms."),
        Choice::word("Front", "Front stock", "Fronts, filler faces, kick covers and end panels."),
        Choice::word("Solid", "Solid wood", "Edge strips and face frames."),
        Choice::word("Box", "Box stock", "Sides and ends of drawer boxes."),
        Choice::word("Lumber", "Lumber", "Blocks, blocking and strips out of sight."),
        Choice::word("Countertop", "Countertop", "The top, where it is cut and not bought to measure."),
    ]),
    Usually::Needed(Start::Text("Panel")),
);
const THICKNESS: Field = Field::new(
    "thickness",
    "Thickness",
    "Its real thickness, measured.",
    Kind::Length,
    Usually::Said("as the construction has it for its kind"),
);
const SOLD_AS: Field = Field::new(
    "sold_as",
    "Sold as",
    "The thickness that it is sold by, where that is not the real one.",
    Kind::Length,
    Usually::Said("the real thickness"),
);
const PRICE: Field = Field::new("price", "Price", "What one costs.", Kind::Number, Usually::Said("not known"));
const COUNT: Field =
    Field::new("count", "Count", "How many there are.", Kind::Count, Usually::Said("as many as are needed"));
const GRAIN: Field = Field::new(
    "grain",
    "Grain",
    "Whether it has a grain, along its length, that parts must follow.",
    Kind::YesNo,
    Usually::Value("true", "common practice, no source"),
);
const DENSITY: Field = Field::new(
    "density",
    "Density",
    "Kilograms in a cubic metre, for weights.",
    Kind::Number,
    Usually::Said("the usual one of its kind"),
);

const SHEET: &[Field] = &[
    OF,
    THICKNESS,
    SOLD_AS,
    Field::size("length", "Length", "Its length, along the grain.", defaults::SHEET_LENGTH),
    Field::size("width", "Width", "Its width.", defaults::SHEET_WIDTH),
    PRICE,
    COUNT,
    GRAIN,
    DENSITY,
];

const BOARD: &[Field] = &[
    OF,
    THICKNESS,
    SOLD_AS,
    Field::size("length", "Length", "Its length.", defaults::BOARD_LENGTH),
    Field::size("width", "Width", "Its width.", defaults::BOARD_WIDTH),
    PRICE,
    COUNT,
    GRAIN,
    DENSITY,
];
