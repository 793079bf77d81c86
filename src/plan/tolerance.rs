//! How far may what is built and fitted be off the plan? The [`Tolerances`] of shop and site, each either way.

use crate::length::Length;

/// How far each thing may be off what the plan says, either way.
///
/// Nothing but [`crate::certainty`] asks for them: every other answer takes the plan as it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerances {
    /// The angle between the runs as they are set, in degrees.
    pub run_angle_deg: f64,
    /// Width of each unit; what comes after it along its run moves by as much.
    pub unit_width: Length,
    /// How far a unit's front plane may stand sideways of its back; its drawers run out as crooked.
    pub squareness: Length,
    /// How far a drawer may stand sideways in its slides.
    pub slide_play: Length,
    /// How far a drawer that is drawn out may be turned in its slides, in degrees.
    pub slide_yaw_deg: f64,
    /// How far a pull stands out from its front.
    pub pull_projection: Length,
    /// Where a pull is drilled, sideways and upwards.
    pub pull_place: Length,
    /// Where a front is screwed on, sideways and in and out.
    pub front_adjustment: Length,
    /// Width of each filler as cut and fitted.
    pub filler_cut: Length,
    /// How what is built lies within its tolerance.
    pub spread: SpreadLaw,
}

/// How often what is built is off by how much.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpreadLaw {
    /// Mostly near the plan: a normal distribution whose three sigma are the tolerance. What is off by more is not built
    /// in, so it is cut off there.
    Normal,
    /// Anywhere within the tolerance alike.
    Uniform,
}
