//! What opens opposite a run, as the file says it.

use super::MOST_THINGS;
use super::node::Node;
use super::reader::{Fields, Reader};
use crate::length::Length;
use crate::plan::{HingeSide, OppositeFront, OppositeOpening, defaults};

/// The fronts of an obstacle whose lower face lies `above` the floor.
pub(super) fn opposite<'a>(reader: &mut Reader<'a>, obstacle: &mut Fields<'a>, above: Length) -> Vec<OppositeFront> {
    let Some(node) = obstacle.take("opens") else { return Vec::new() };
    let items = reader.items("fronts", MOST_THINGS, &node);
    items.iter().filter_map(|node| front(reader, node, above)).collect()
}

fn front<'a>(reader: &mut Reader<'a>, node: &Node<'a>, above: Length) -> Option<OppositeFront> {
    let (head, payload) = node.head().map_or(("", None), |head| (head.name, head.payload));
    let (what, name) = match head {
        "Drawer" => ("a drawer opposite", "drawer"),
        "Door" => ("a door opposite", "door"),
        _ => {
            reader.refuse_choice(node, &["Drawer", "Door"]);
            return None;
        }
    };
    let mut fields = reader.head_fields(what, node, payload);
    let size = "give the front's own size along the wall and upwards";
    let usual = defaults::FRONT.of(reader.unit);
    let front = OppositeFront {
        name: reader.optional_name(&mut fields, "name").unwrap_or_else(|| name.to_owned()),
        from: reader.length_or(&mut fields, "from", Length::ZERO),
        width: reader.required_length(&mut fields, "width", size),
        above: reader.length_or(&mut fields, "above", above),
        height: reader.required_length(&mut fields, "height", size),
        thickness: reader.length_or(&mut fields, "thickness", usual),
        pull: reader.length_or(&mut fields, "pull", Length::ZERO),
        opens: if head == "Drawer" {
            OppositeOpening::Draws(reader.required_length(&mut fields, "opens_by", "measure how far it draws out"))
        } else {
            turns(reader, &mut fields)
        },
    };
    reader.finish(fields);
    Some(front)
}

fn turns<'a>(reader: &mut Reader<'a>, fields: &mut Fields<'a>) -> OppositeOpening {
    let edges = [("CornerSide", HingeSide::CornerSide), ("FarSide", HingeSide::FarSide)];
    let hinge = reader.choice_or(fields, "hinge", HingeSide::FarSide, &edges);
    let opens_to = fields.take("opens_to").and_then(|node| reader.degrees(&node));
    OppositeOpening::Turns { hinge, opens_to_deg: opens_to.unwrap_or(defaults::OPENS_TO_DEG) }
}
