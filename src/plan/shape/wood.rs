//! What fronts and boards are made of, the air they live in, and what lies on them.

use super::{Choice, Field, Holds, Kind, NONE, Start, Usually};
use crate::plan::defaults;

const COMMON: &str = "common practice, no source";

pub(super) const WOOD: &[Field] = &[
    Field::new(
        "fronts",
        "Fronts",
        "What drawer fronts and doors are: solid wood grows and shrinks across its grain.",
        Kind::OneOf(&[
            Choice::word("Panel", "Panels", "Plywood, MDF or veneered board, which keep their width."),
            Choice::with("Solid", "Solid wood", "Slabs glued up of solid wood.", Holds::Fields(SOLID)),
        ]),
        Usually::Value("Panel", COMMON),
    ),
    Field::new(
        "driest",
        "Driest air",
        "The driest air that the fronts will stand in for weeks: the heating season, mostly.",
        Kind::Group(DRIEST),
        Usually::Inside,
    ),
    Field::new(
        "dampest",
        "Dampest air",
        "The dampest air that the fronts will stand in for weeks.",
        Kind::Group(DAMPEST),
        Usually::Inside,
    ),
    Field::size(
        "paint_build",
        "Paint build",
        "What all coats together add to each face and edge of a front and of what stands beside it.",
        NONE,
    ),
    Field::size("least_gap", "Least gap", "The least that a gap beside a front may come down to.", defaults::LEAST_GAP),
    Field::new(
        "panel",
        "Shelves",
        "What shelves are cut from.",
        Kind::OneOf(SHEETS),
        Usually::Value("Plywood", COMMON),
    ),
    Field::new(
        "thin_panel",
        "Box bottoms",
        "What drawer-box bottoms are cut from.",
        Kind::OneOf(SHEETS),
        Usually::Value("Plywood", COMMON),
    ),
    Field::new(
        "load",
        "Load",
        "What lies on shelves and in drawers: kilograms on a square metre, or pounds on a square foot in an inch plan.",
        Kind::Number,
        Usually::Said("15 lb on a square foot, which is 73.2 kg on a square metre: ANSI/KCMA A161.1, section 5.1"),
    ),
];

const SOLID: &[Field] = &[
    TIMBER,
    Field::new(
        "sawn",
        "Sawn",
        "How the boards were sawn.",
        Kind::OneOf(&[
            Choice::word("Flat", "Flat-sawn", "The width lies along the rings and moves most."),
            Choice::word("Quartered", "Quarter-sawn", "The width lies across the rings and moves about half as much."),
        ]),
        Usually::Value("Flat", "the safe side"),
    ),
    Field::new(
        "made_at",
        "Made at",
        "Moisture content of the wood when the fronts were cut to size, in percent.",
        Kind::Number,
        Usually::Value("8", COMMON),
    ),
];

const TIMBER: Field = Field::new(
    "timber",
    "Wood",
    "Which wood it is: those whose figures are in the Wood Handbook's tables.",
    Kind::OneOf(&[
        Choice::word("HardMaple", "Hard maple", "Sugar maple, Acer saccharum."),
        Choice::word("RedOak", "Red oak", "Red oak as sold, several species."),
        Choice::word("WhiteOak", "White oak", "White oak as sold, several species."),
        Choice::word("BlackCherry", "Black cherry", "Prunus serotina."),
        Choice::word("BlackWalnut", "Black walnut", "Juglans nigra."),
        Choice::word("YellowBirch", "Yellow birch", "Betula alleghaniensis."),
        Choice::word("YellowPoplar", "Yellow-poplar", "Liriodendron tulipifera."),
        Choice::word("WhiteAsh", "White ash", "Fraxinus americana."),
        Choice::word("AmericanBeech", "American beech", "Fagus grandifolia."),
        Choice::word("DouglasFir", "Douglas-fir", "Pseudotsuga menziesii, from the coast."),
        Choice::word("WhitePine", "Eastern white pine", "Pinus strobus."),
        Choice::word("PonderosaPine", "Ponderosa pine", "Pinus ponderosa."),
    ]),
    Usually::Needed(Start::Text("WhiteOak")),
);

const TEMPERATURE: Field = Field::new(
    "temperature",
    "Temperature",
    "In degrees Celsius, or Fahrenheit in an inch plan.",
    Kind::Number,
    Usually::Said("21 degrees Celsius, 70 Fahrenheit"),
);

const DRIEST: &[Field] = &[
    Field::new("humidity", "Humidity", "Relative humidity, in percent.", Kind::Number, Usually::Value("30", COMMON)),
    TEMPERATURE,
];

const DAMPEST: &[Field] = &[
    Field::new("humidity", "Humidity", "Relative humidity, in percent.", Kind::Number, Usually::Value("60", COMMON)),
    TEMPERATURE,
];

const SHEETS: &[Choice] = &[
    Choice::word("Plywood", "Plywood", "Plywood, taken at the least stiffness of its kind."),
    Choice::word("Particleboard", "Particleboard", "Particleboard, taken at the least stiffness of its kind."),
    Choice::word("Mdf", "MDF", "Medium-density fibreboard."),
    Choice::word("Hardboard", "Hardboard", "Hardboard, taken at the least stiffness of its kind."),
    Choice::with("Solid", "Solid wood", "Solid wood, its grain along the span.", Holds::Fields(&[TIMBER])),
];
