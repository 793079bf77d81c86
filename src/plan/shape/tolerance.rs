//! How far what is built and fitted may be off the plan.

use super::{Choice, Field, Kind, Usually};
use crate::plan::defaults;

const COMMON: &str = "common practice, no source";

pub(super) const TOLERANCES: &[Field] = &[
    Field::new(
        "run_angle",
        "Angle between the runs",
        "How far the runs may be set off their angle either way, in degrees.",
        Kind::Angle,
        Usually::Value("0.2", COMMON),
    ),
    Field::size(
        "unit_width",
        "Unit width",
        "How far each unit's width may be off either way; what comes after it moves by as much.",
        defaults::UNIT_WIDTH_OFF,
    ),
    Field::size(
        "squareness",
        "Squareness of a unit",
        "How far a unit's front may stand sideways of its back, either way.",
        defaults::SQUARENESS_OFF,
    ),
    Field::size(
        "slide_play",
        "Side play of slides",
        "How far a drawer may stand sideways in its slides, either way.",
        defaults::SLIDE_PLAY_OFF,
    ),
    Field::new(
        "slide_yaw",
        "Turn in the slides",
        "How far a drawer drawn out may be turned either way, in degrees.",
        Kind::Angle,
        Usually::Value("0.1", COMMON),
    ),
    Field::size(
        "pull_projection",
        "Projection of a pull",
        "How far a pull's projection may be off either way.",
        defaults::PULL_PROJECTION_OFF,
    ),
    Field::size(
        "pull_place",
        "Place of a pull",
        "How far a pull may be drilled off its place, sideways and upwards, either way.",
        defaults::PULL_PLACE_OFF,
    ),
    Field::size(
        "front_adjustment",
        "Place of a front",
        "How far a front may be screwed on off its place, sideways and in and out, either way.",
        defaults::FRONT_ADJUSTMENT_OFF,
    ),
    Field::size(
        "filler_cut",
        "Width of a filler",
        "How far a filler as cut and fitted may be off its width either way.",
        defaults::FILLER_CUT_OFF,
    ),
    Field::new(
        "spread",
        "Spread",
        "How what is built lies within its tolerance.",
        Kind::OneOf(&[
            Choice::word(
                "Normal",
                "Mostly near the plan",
                "A normal distribution whose three sigma are the tolerance, cut off there.",
            ),
            Choice::word("Uniform", "Anywhere alike", "Anywhere within the tolerance alike."),
        ]),
        Usually::Value("Normal", COMMON),
    ),
];
