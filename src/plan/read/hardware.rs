//! The pulls and slides that the file names.

use super::MOST_THINGS;
use super::node::Node;
use super::reader::{Fields, Reader};
use crate::plan::{Extension, Mount, Pull, PullSet, PullShape, Slide, Surface, defaults};

/// Most screw holes of one slide.
const MOST_HOLES: usize = 40;

pub(super) fn pulls<'a>(reader: &mut Reader<'a>, plan: &mut Fields<'a>) -> Vec<Pull> {
    let Some(node) = plan.take("pulls") else { return Vec::new() };
    reader.entries("pulls", MOST_THINGS, &node).into_iter().map(|(name, node)| pull(reader, name, &node)).collect()
}

fn pull<'a>(reader: &mut Reader<'a>, name: String, node: &Node<'a>) -> Pull {
    let unit = reader.unit;
    let (head, payload) = node.head().map_or(("", None), |head| (head.name, head.payload));
    let mut pull = Pull::absent(name);
    if head == "Absent" && payload.is_none() {
        return pull;
    }
    if !matches!(head, "Bar" | "Knob" | "Edge") {
        reader.refuse_choice(node, &["Bar", "Knob", "Edge", "Absent"]);
        return pull;
    }
    let mut fields = reader.head_fields("a pull", node, payload);
    pull.shape = match head {
        "Bar" => {
            let sets = [("Level", PullSet::Level), ("Upright", PullSet::Upright)];
            pull.set = reader.choice_or(&mut fields, "set", PullSet::Level, &sets);
            pull.holes = reader.optional_length(&mut fields, "holes");
            PullShape::Bar {
                length: reader.required_length(&mut fields, "length", "measure the bar over all, not hole to hole"),
                thickness: reader.length_or(&mut fields, "thickness", defaults::BAR_THICKNESS.of(unit)),
            }
        }
        "Knob" => PullShape::Knob {
            across: reader.required_length(&mut fields, "across", "measure across the knob at its widest"),
            square: reader.switch(&mut fields, "square"),
        },
        _ => PullShape::Edge {
            length: reader.optional_length(&mut fields, "length"),
            thickness: reader.length_or(&mut fields, "thickness", defaults::LIP_THICKNESS.of(unit)),
        },
    };
    let projection = "measure from the front's face to the pull's farthest point";
    pull.projection = reader.required_length(&mut fields, "projection", projection);
    pull.height = reader.optional_length(&mut fields, "height");
    pull.sideways = reader.optional_length(&mut fields, "sideways");
    pull.finish = super::finish::optional(reader, &mut fields, "finish", Surface::Pulls);
    reader.finish(fields);
    pull
}

pub(super) fn slides<'a>(reader: &mut Reader<'a>, plan: &mut Fields<'a>) -> Vec<Slide> {
    let Some(node) = plan.take("slides") else { return Vec::new() };
    reader.entries("slides", MOST_THINGS, &node).into_iter().map(|(name, node)| slide(reader, name, &node)).collect()
}

fn slide<'a>(reader: &mut Reader<'a>, name: String, node: &Node<'a>) -> Slide {
    let unit = reader.unit;
    let mut fields = reader.fields("a slide", node);
    let mounts = [("SideMount", Mount::SideMount), ("UnderMount", Mount::UnderMount)];
    let mount = reader.choice_or(&mut fields, "mount", Mount::SideMount, &mounts);
    let side = match mount {
        Mount::SideMount => defaults::SLIDE_SIDE,
        Mount::UnderMount => defaults::SLIDE_SIDE_UNDER_MOUNT,
    };
    let under = reader.length_or(&mut fields, "under", defaults::SLIDE_UNDER.of(unit));
    let usual_line = match mount {
        Mount::SideMount => defaults::SLIDE_LINE.of(unit),
        // In the middle of the space under the box. Common practice, no source: see the slide's sheet.
        Mount::UnderMount => -under / 2.0,
    };
    let slide = Slide {
        name,
        length: reader.required_length(&mut fields, "length", "give the slide's length, which is the drawer box's"),
        extension: fields.take("extension").map_or(Extension::Full, |node| extension(reader, &node)),
        mount,
        side: reader.length_or(&mut fields, "side", side.of(unit)),
        under,
        lift_out: reader.length_or(&mut fields, "lift_out", defaults::SLIDE_LIFT_OUT.of(unit)),
        behind: reader.length_or(&mut fields, "behind", defaults::SLIDE_BEHIND.of(unit)),
        line: reader.length_or(&mut fields, "line", usual_line),
        holes: reader.lengths(&mut fields, "holes", MOST_HOLES),
    };
    reader.finish(fields);
    slide
}

fn extension<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Extension {
    match node.head() {
        Some(head) if head.name == "Full" && head.payload.is_none() => Extension::Full,
        Some(head) if head.name == "ThreeQuarter" && head.payload.is_none() => Extension::ThreeQuarter,
        Some(head) if head.name == "Travel" => {
            let travel = reader.only_value(node, head.payload, "Travel(520)");
            travel.and_then(|value| reader.length(&value)).map_or(Extension::Full, Extension::Travel)
        }
        _ => {
            reader.refuse_choice(node, &["Full", "ThreeQuarter", "Travel"]);
            Extension::Full
        }
    }
}
