//! What is a pull or a slide in a plan's text? For a change that needs one that the plan does not have yet.

use crate::length::Length;
use crate::plan::{Extension, Mount, Pull, PullSet, PullShape, Slide};

/// A length that reads the same in a plan of either unit.
pub(super) fn length_text(length: Length) -> String {
    format!("\"{} mm\"", length.to_mm())
}

/// A pull as a plan's text has it, its finish left to the plan's.
pub(super) fn pull_text(pull: &Pull) -> String {
    let mut fields = Vec::new();
    let mut give = |name: &str, length: Option<Length>| {
        fields.extend(length.map(|length| format!("{name}: {}", length_text(length))));
    };
    let word = match pull.shape {
        PullShape::Bar { length, thickness } => {
            give("length", Some(length));
            give("thickness", Some(thickness));
            give("holes", pull.holes);
            "Bar"
        }
        PullShape::Knob { across, .. } => {
            give("across", Some(across));
            "Knob"
        }
        PullShape::Edge { length, thickness } => {
            give("length", length);
            give("thickness", Some(thickness));
            "Edge"
        }
        PullShape::Absent => return "Absent".to_owned(),
    };
    give("projection", Some(pull.projection));
    give("height", pull.height);
    give("sideways", pull.sideways);
    if let PullShape::Knob { square: true, .. } = pull.shape {
        fields.push("square: true".to_owned());
    }
    if pull.set == PullSet::Upright {
        fields.push("set: Upright".to_owned());
    }
    format!("{word}({})", fields.join(", "))
}

/// A pair of slides as a plan's text has it.
pub(super) fn slide_text(slide: &Slide) -> String {
    let extension = match slide.extension {
        Extension::Full => "Full".to_owned(),
        Extension::ThreeQuarter => "ThreeQuarter".to_owned(),
        Extension::Travel(travel) => format!("Travel({})", length_text(travel)),
    };
    let mount = match slide.mount {
        Mount::SideMount => "SideMount",
        Mount::UnderMount => "UnderMount",
    };
    let mut fields = vec![format!("extension: {extension}"), format!("mount: {mount}")];
    for (name, length) in [
        ("length", slide.length),
        ("side", slide.side),
        ("under", slide.under),
        ("lift_out", slide.lift_out),
        ("behind", slide.behind),
        ("line", slide.line),
    ] {
        fields.push(format!("{name}: {}", length_text(length)));
    }
    if !slide.holes.is_empty() {
        let holes: Vec<String> = slide.holes.iter().map(|&hole| length_text(hole)).collect();
        fields.push(format!("holes: [{}]", holes.join(", ")));
    }
    fields.extend(slide.droop.map(|droop| format!("droop: {}", length_text(droop))));
    format!("({})", fields.join(", "))
}
