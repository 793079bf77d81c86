//! What it is to look like.

use super::{Choice, Field, Holds, Kind, Start, Usually};

const OURS: &str = "our own choice";

pub(super) const FINISHES: &[Field] = &[
    Field::new(
        "fronts",
        "Fronts",
        "Of drawer fronts, doors, end panels, filler faces and kick covers.",
        Kind::OneOf(JOINERY),
        Usually::Value("Painted(colour: \"#5c7870\")", OURS),
    ),
    Field::new(
        "frames",
        "Face frames",
        "Of the stiles and rails of face frames.",
        Kind::OneOf(JOINERY),
        Usually::Said("as the fronts"),
    ),
    Field::new(
        "carcass",
        "Carcasses",
        "Of sides, bottoms, shelves and backs, with their edge strips.",
        Kind::OneOf(JOINERY),
        Usually::Value("Wood(species: Birch)", OURS),
    ),
    Field::new(
        "boxes",
        "Drawer boxes",
        "Of the boxes behind the drawer fronts.",
        Kind::OneOf(JOINERY),
        Usually::Value("Wood(species: Maple)", OURS),
    ),
    Field::new(
        "pulls",
        "Pulls",
        "Of pulls that do not name a finish of their own.",
        Kind::OneOf(PULLS),
        Usually::Value("Metal(kind: Brass)", OURS),
    ),
    Field::new(
        "countertop",
        "Countertop",
        "Of the top over both runs.",
        Kind::OneOf(&[STONE, WOOD, STAINED, METAL, TILE, CONCRETE]),
        Usually::Value("Stone(kind: Quartz)", OURS),
    ),
    Field::new(
        "walls",
        "Walls",
        "Of the walls of the room.",
        Kind::OneOf(&[PAINTED, TILE]),
        Usually::Value("Painted(colour: \"#e6e0d6\")", OURS),
    ),
    Field::new(
        "floor",
        "Floor",
        "Of the floor of the room.",
        Kind::OneOf(&[BOARDS, TILE, STONE, CONCRETE]),
        Usually::Value("Boards(species: Oak)", OURS),
    ),
    Field::new(
        "woodwork",
        "Woodwork of the room",
        "Of baseboards and casings.",
        Kind::OneOf(JOINERY),
        Usually::Value("Painted(colour: \"white\")", OURS),
    ),
];

/// A pull's own finish.
pub(super) const OF_PULL: Field = Field::new(
    "finish",
    "Finish",
    "What this pull is made of, where it is not as the plan's other pulls.",
    Kind::OneOf(PULLS),
    Usually::Said("as the plan's finishes say for pulls"),
);

const JOINERY: &[Choice] = &[WOOD, STAINED, PAINTED];
const PULLS: &[Choice] = &[METAL, WOOD, STAINED, PAINTED];

const WOOD: Choice =
    Choice::with("Wood", "Wood", "Wood or veneer, oiled or varnished clear.", Holds::Fields(&[SPECIES]));
const STAINED: Choice = Choice::with(
    "Stained",
    "Stained wood",
    "Wood whose grain shows through a stain.",
    Holds::Fields(&[SPECIES, COLOUR]),
);
const PAINTED: Choice = Choice::with("Painted", "Painted", "Paint in one colour.", Holds::Fields(&[COLOUR]));
const METAL: Choice = Choice::with("Metal", "Metal", "Bare or blackened metal.", Holds::Fields(&[METALS]));
const STONE: Choice = Choice::with("Stone", "Stone", "Stone, natural or cast.", Holds::Fields(&[STONES]));
const TILE: Choice = Choice::with("Tile", "Tile", "Square glazed tiles.", Holds::Fields(&[COLOUR]));
const BOARDS: Choice = Choice::with("Boards", "Boards", "Wooden floorboards.", Holds::Fields(&[SPECIES]));
const CONCRETE: Choice = Choice::word("Concrete", "Concrete", "Bare concrete, sealed.");

const COLOUR: Field = Field::new(
    "colour",
    "Colour",
    "A word such as `sage`, or red, green and blue such as `#5c7870`.",
    Kind::Text,
    Usually::Needed(Start::Text("\"white\"")),
);
const SPECIES: Field = Field::new(
    "species",
    "Wood",
    "Which wood it is.",
    Kind::OneOf(&[
        Choice::word("Oak", "Oak", "White or European oak: open grain, with rays."),
        Choice::word("Maple", "Maple", "Hard maple: pale and close-grained."),
        Choice::word("Birch", "Birch", "Birch: pale, a little livelier than maple."),
        Choice::word("Cherry", "Cherry", "Black cherry: reddish brown."),
        Choice::word("Walnut", "Walnut", "Black walnut: dark brown."),
        Choice::word("Ash", "Ash", "Ash: pale, with bold open grain."),
        Choice::word("Beech", "Beech", "Beech: pinkish, flecked with short rays."),
        Choice::word("Pine", "Pine", "Scots pine: dark lines in every ring."),
    ]),
    Usually::Needed(Start::Text("Oak")),
);
const METALS: Field = Field::new(
    "kind",
    "Metal",
    "Which metal it is, and how it is worked.",
    Kind::OneOf(&[
        Choice::word("BrushedSteel", "Brushed steel", "Stainless steel, brushed."),
        Choice::word("PolishedSteel", "Polished steel", "Steel or nickel, polished."),
        Choice::word("Brass", "Brass", "Brass, satin."),
        Choice::word("Bronze", "Bronze", "Bronze, dark."),
        Choice::word("Copper", "Copper", "Copper, satin."),
        Choice::word("Black", "Black", "Blackened steel, or metal lacquered black."),
    ]),
    Usually::Needed(Start::Text("Brass")),
);
const STONES: Field = Field::new(
    "kind",
    "Stone",
    "Which stone it is.",
    Kind::OneOf(&[
        Choice::word("Granite", "Granite", "Grey and speckled."),
        Choice::word("Marble", "Marble", "White with grey veins."),
        Choice::word("Slate", "Slate", "Dark and honed."),
        Choice::word("Soapstone", "Soapstone", "Grey-green with pale veins."),
        Choice::word("Quartz", "Quartz", "Quartz bound in resin: pale and fine."),
        Choice::word("Limestone", "Limestone", "Sand-coloured."),
    ]),
    Usually::Needed(Start::Text("Quartz")),
);
