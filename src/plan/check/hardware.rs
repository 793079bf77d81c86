//! The rules of pulls and slides by themselves.

use super::{Faults, exceeds, join};
use crate::length::Length;
use crate::plan::defaults::Usual;
use crate::plan::{Extension, PullShape};

/// No slide draws out farther than this many times its own length.
const MOST_TRAVEL: f64 = 2.0;

/// A bar's posts are this share of its thickness; common practice, no source.
const POST_SHARE: f64 = 0.8;
/// No slide's screws lie farther off its box than this.
const FARTHEST_LINE: Usual = Usual::new(500.0, 20.0);

/// A drawer that hangs farther down than this has come off its slides. Our own choice.
const MOST_DROOP: Usual = Usual::new(50.0, 2.0);

pub(super) fn pulls(faults: &mut Faults<'_>) {
    for pull in &faults.plan.pulls {
        let at = format!("pulls[{:?}]", pull.name);
        let measure = "measure the pull itself";
        match pull.shape {
            PullShape::Bar { length, thickness } => {
                faults.above_zero(&at, "length", "the bar's length", length, measure);
                faults.above_zero(&at, "thickness", "the bar's thickness", thickness, measure);
                if exceeds(thickness, pull.projection) && pull.projection > Length::ZERO {
                    let (projection, thickness) = (faults.show(pull.projection), faults.show(thickness));
                    let message =
                        format!("the projection {projection} must not be less than the bar's thickness, {thickness}");
                    let rests_on = join(&at, "thickness");
                    let help = "measure from the front's face to the pull's farthest point";
                    faults.add("plan::length", join(&at, "projection"), &[&rests_on], message, help);
                }
            }
            PullShape::Knob { across, .. } => {
                faults.above_zero(&at, "across", "the knob's size across", across, measure);
            }
            PullShape::Edge { length, thickness } => {
                if let Some(length) = length {
                    faults.above_zero(&at, "length", "the lip's length", length, "leave it out for the front's width");
                }
                faults.above_zero(&at, "thickness", "the lip's thickness", thickness, measure);
            }
            PullShape::Absent => continue,
        }
        if let (PullShape::Bar { length, thickness }, Some(holes)) = (pull.shape, pull.holes) {
            faults.above_zero(&at, "holes", "the distance between its holes", holes, measure);
            if exceeds(holes, length - thickness * POST_SHARE) && length > thickness {
                let message = format!(
                    "the holes {} apart must lie within the bar's length, {}",
                    faults.show(holes),
                    faults.show(length)
                );
                let help = "give hole to hole here, and the length over all under `length`";
                faults.add("plan::length", join(&at, "holes"), &[&join(&at, "length")], message, help);
            }
        }
        let absent = "measure from the front's face; a front without a pull has `Absent`";
        faults.above_zero(&at, "projection", "the projection", pull.projection, absent);
    }
}

pub(super) fn slides(faults: &mut Faults<'_>) {
    for slide in &faults.plan.slides {
        let at = format!("slides[{:?}]", slide.name);
        faults.above_zero(&at, "length", "the slide's length", slide.length, "give the length that it is sold by");
        if let Extension::Travel(travel) = slide.extension {
            let help = "give how far the drawer comes out";
            faults.above_zero(&at, "extension", "the travel", travel, help);
            let most = slide.length * MOST_TRAVEL;
            if most > Length::ZERO && exceeds(travel, most) {
                let message = format!(
                    "the travel {} must not be more than twice the slide's length, {}",
                    faults.show(travel),
                    faults.show(most)
                );
                faults.add("plan::length", join(&at, "extension"), &[&join(&at, "length")], message, help);
            }
        }
        let sheet = "take it from the slide's sheet; leave it out where that does not say";
        let droop = slide.droop.unwrap_or(Length::ZERO);
        faults.not_below_zero(&at, "droop", "the droop", droop, sheet);
        faults.at_most(&at, "droop", "the droop", droop, MOST_DROOP.of(faults.plan.unit), sheet);
        let line = "measure from the box's lower edge to the slide's screws; negative below it";
        faults.at_most(&at, "line", "the screws' line", slide.line.abs(), FARTHEST_LINE.of(faults.plan.unit), line);
        for (n, &hole) in slide.holes.iter().enumerate() {
            let field = format!("holes[{n}]");
            let help = "measure from the slide's front end";
            faults.not_below_zero(&at, &field, "a screw hole", hole, help);
            faults.at_most(&at, &field, "a screw hole", hole, slide.length, help);
        }
        for (field, what, length) in [
            ("side", "the space at each side", slide.side),
            ("under", "the space under the drawer box", slide.under),
            ("lift_out", "the space to lift the drawer box out", slide.lift_out),
            ("behind", "the space behind the drawer box", slide.behind),
        ] {
            faults.not_below_zero(&at, field, what, length, "write 0 where none is needed");
        }
    }
}
