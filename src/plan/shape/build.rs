//! How every unit is built, and the countertop.

use super::{Choice, Field, Holds, Kind, Usually};
use crate::plan::defaults::{self, Usual};

const COMMON: &str = "common practice, no source";

pub(super) const CONSTRUCTION: &[Field] = &[
    Field::new(
        "base",
        "Base",
        "What the units stand on.",
        Kind::OneOf(&[
            Choice::word("IntegralKick", "Sides to the floor", "The sides run to the floor, notched for the toe kick."),
            Choice::word("LevelledBase", "Loose base", "A base frame is levelled first, and the boxes are set on it."),
            Choice::word("Legs", "Legs", "Each unit stands on legs that are screwed up or down."),
        ]),
        Usually::Value("IntegralKick", COMMON),
    ),
    Field::size(
        "height",
        "Height",
        "From the floor to the top of the carcass, without the countertop.",
        defaults::HEIGHT,
    ),
    Field::size("depth", "Depth", "From the back plane to the front plane, without fronts.", defaults::DEPTH),
    Field::size(
        "panel",
        "Panel thickness",
        "Thickness of sides, bottoms, shelves, nailers and stretchers.",
        defaults::PANEL,
    ),
    Field::size("back", "Back thickness", "Thickness of the backs.", defaults::BACK),
    Field::size(
        "edge_strip",
        "Edge strip",
        "Thickness of the strip on raw front edges; 0 for none.",
        defaults::EDGE_STRIP,
    ),
    Field::size("nailer", "Nailer", "Height of the rail at the back that screws go through.", defaults::NAILER),
    Field::new(
        "top",
        "Top",
        "What closes a carcass at the top.",
        Kind::OneOf(&[
            Choice::word("Stretchers", "Stretchers", "A front and a back stretcher, laid flat."),
            Choice::word("FrontStretcher", "Front stretcher", "A front stretcher; the top nailer closes the back."),
            Choice::word("FullTop", "Full top", "A full panel."),
        ]),
        Usually::Value("Stretchers", COMMON),
    ),
    Field::size("stretcher", "Stretcher", "Width of a stretcher, front to back.", defaults::STRETCHER),
    Field::size("kick_height", "Toe-kick height", "Height of the toe kick above the floor.", defaults::KICK_HEIGHT),
    Field::size(
        "kick_setback",
        "Toe-kick setback",
        "How far the toe kick lies behind the front plane.",
        defaults::KICK_SETBACK,
    ),
    Field::size("kick_cover", "Kick cover", "Thickness of the board that covers the toe kick.", defaults::KICK_COVER),
    Field::new(
        "face",
        "Face",
        "Whether the carcass has a frame before it.",
        Kind::OneOf(&[
            Choice::word("Frameless", "Frameless", "The edges of the carcass, with their strips, are the front plane."),
            Choice::with(
                "FaceFrame",
                "Face frame",
                "A frame of stiles and rails, its face in the front plane.",
                Holds::Fields(FRAME),
            ),
        ]),
        Usually::Value("Frameless", COMMON),
    ),
    Field::new(
        "fronts",
        "Fronts",
        "Where drawer fronts and doors lie.",
        Kind::OneOf(&[
            Choice::word("Overlay", "Overlay", "In front of the carcass or frame."),
            Choice::word("Inset", "Inset", "In the opening, flush with the front plane."),
        ]),
        Usually::Value("Overlay", COMMON),
    ),
    Field::size("front", "Front thickness", "Thickness of drawer fronts and doors.", defaults::FRONT),
    Field::size("bumper", "Bumper", "Space that bumpers keep behind an overlay front.", defaults::BUMPER),
    Field::new(
        "reveal",
        "Reveals",
        "What an overlay front leaves bare round it.",
        Kind::Group(REVEAL),
        Usually::Inside,
    ),
    Field::size("gap", "Gap", "Space round an inset front.", defaults::GAP),
    Field::size("box_stock", "Drawer-box sides", "Thickness of drawer-box sides and ends.", defaults::BOX_STOCK),
    Field::size("box_bottom", "Drawer-box bottom", "Thickness of drawer-box bottoms.", defaults::BOX_BOTTOM),
    Field::new(
        "hinges",
        "Hinges",
        "What doors hang on: it says about which line they turn.",
        Kind::OneOf(HINGES),
        Usually::Value("FaceEdge", "no hinge in particular"),
    ),
];

pub(super) const HINGES: &[Choice] = &[
    Choice::word("FaceEdge", "Any", "Doors turn about the edge of their outer face, as no hinge quite does."),
    Choice::with(
        "Concealed",
        "Concealed hinges",
        "In cups bored into the door's back; taken as one pin that needs the reveal that the hinge's sheet gives.",
        Holds::Fields(&[
            Field::size("cup", "Cup", "From the door's edge to the rim of the cup.", defaults::CUP_FROM_EDGE),
            Field::size(
                "least_reveal",
                "Least reveal",
                "How far the door's edge goes sideways as it opens: the hinge's sheet gives it for the cup and thickness.",
                defaults::LEAST_REVEAL,
            ),
        ]),
    ),
    Choice::with(
        "Butt",
        "Butt hinges",
        "The knuckles stand before the door's face.",
        Holds::Fields(&[
            Field::size(
                "pin_out",
                "Pin before the face",
                "From the door's face to the middle of the pin.",
                defaults::PIN_OUT,
            ),
            Field::new(
                "pin_beside",
                "Pin beside the door",
                "From the door's edge to the middle of the pin, away from the door.",
                Kind::Length,
                Usually::Said("the middle of an inset door's gap; the edge of an overlay one"),
            ),
        ]),
    ),
    Choice::with(
        "Knife",
        "Knife hinges",
        "The pins lie in line with the door's upper and lower edge.",
        Holds::Fields(&[
            Field::measured(
                "inset",
                "Pin in from the edge",
                "From the door's edge to the pin.",
                Usual::new(9.0, 0.375),
            ),
            Field::measured(
                "behind",
                "Pin behind the face",
                "From the door's face back to the pin.",
                Usual::new(9.0, 0.375),
            ),
        ]),
    ),
];

const FRAME: &[Field] = &[
    Field::size("stile", "Stile", "Width of the upright pieces of the frame.", defaults::STILE),
    Field::size("rail", "Rail", "Height of the level pieces of the frame.", defaults::RAIL),
    Field::size("thickness", "Thickness", "Thickness of the frame.", defaults::FRAME_THICKNESS),
];

const REVEAL: &[Field] = &[
    Field::size("side", "At the sides", "From a front's edge to its own carcass side.", defaults::REVEAL_SIDE),
    Field::size("top", "At the top", "From the top of the carcass down to the top front.", defaults::REVEAL_TOP),
    Field::size("between", "Between fronts", "Between two fronts of one unit.", defaults::REVEAL_BETWEEN),
    Field::size(
        "bottom",
        "At the bottom",
        "From the carcass's lower edge up to the lowest front.",
        defaults::REVEAL_BOTTOM,
    ),
];

pub(super) const COUNTERTOP: &[Choice] = &[
    Choice::word("Absent", "None", "The plan has no countertop."),
    Choice::with("", "There is one", "A top over both runs.", Holds::Fields(COUNTERTOP_FIELDS)),
];

const COUNTERTOP_FIELDS: &[Field] = &[
    Field::size("thickness", "Thickness", "Thickness of the countertop.", defaults::COUNTERTOP),
    Field::size("overhang", "Overhang", "How far the countertop stands out from the front plane.", defaults::OVERHANG),
    Field::new(
        "edge",
        "Edge",
        "Height of its front edge, more than its thickness where the edge drops.",
        Kind::Length,
        Usually::Said("its thickness"),
    ),
    Field::size("edge_width", "Edge thickness", "Of a dropped edge, front to back.", defaults::FRAME_THICKNESS),
    Field::new(
        "build_up",
        "Build-up",
        "Height of the strips that it lies on, so that a dropped edge does not hide the top fronts.",
        Kind::Length,
        Usually::Said("what the edge drops by"),
    ),
];
