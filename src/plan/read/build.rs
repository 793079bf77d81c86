//! How every unit is built, and the countertop, as the file says them.

use super::node::Node;
use super::reader::{Fields, Reader};
use crate::length::{Length, Unit};
use crate::plan::{Base, Construction, Countertop, Face, Fronts, Hinges, Reveal, Top, defaults};

pub(super) fn construction<'a>(reader: &mut Reader<'a>, plan: &mut Fields<'a>) -> Construction {
    let mut construction = usual(reader.unit);
    let Some(node) = plan.take("construction") else { return construction };
    let mut fields = reader.fields("a construction", &node);
    let c = &mut construction;
    let bases = [("IntegralKick", Base::IntegralKick), ("LevelledBase", Base::LevelledBase), ("Legs", Base::Legs)];
    let tops = [("Stretchers", Top::Stretchers), ("FrontStretcher", Top::FrontStretcher), ("FullTop", Top::FullTop)];
    let fronts = [("Overlay", Fronts::Overlay), ("Inset", Fronts::Inset)];
    c.base = reader.choice_or(&mut fields, "base", c.base, &bases);
    c.top = reader.choice_or(&mut fields, "top", c.top, &tops);
    c.fronts = reader.choice_or(&mut fields, "fronts", c.fronts, &fronts);
    for (name, length) in [
        ("height", &mut c.height),
        ("depth", &mut c.depth),
        ("panel", &mut c.panel),
        ("back", &mut c.back),
        ("edge_strip", &mut c.edge_strip),
        ("nailer", &mut c.nailer),
        ("stretcher", &mut c.stretcher),
        ("kick_height", &mut c.kick_height),
        ("kick_setback", &mut c.kick_setback),
        ("kick_cover", &mut c.kick_cover),
        ("front", &mut c.front),
        ("bumper", &mut c.bumper),
        ("gap", &mut c.gap),
        ("box_stock", &mut c.box_stock),
        ("box_bottom", &mut c.box_bottom),
    ] {
        *length = reader.length_or(&mut fields, name, *length);
    }
    if let Some(node) = fields.take("face") {
        c.face = face(reader, &node);
    }
    c.hinges = fields.take("hinges").map_or(Hinges::FaceEdge, |node| hinges(reader, &node));
    if let Some(node) = fields.take("reveal") {
        let mut reveals = reader.fields("a reveal", &node);
        c.reveal.side = reader.length_or(&mut reveals, "side", c.reveal.side);
        c.reveal.top = reader.length_or(&mut reveals, "top", c.reveal.top);
        c.reveal.between = reader.length_or(&mut reveals, "between", c.reveal.between);
        c.reveal.bottom = reader.length_or(&mut reveals, "bottom", c.reveal.bottom);
        reader.finish(reveals);
    }
    reader.finish(fields);
    construction
}

/// The construction of a plan that does not say.
fn usual(unit: Unit) -> Construction {
    Construction {
        base: Base::IntegralKick,
        height: defaults::HEIGHT.of(unit),
        depth: defaults::DEPTH.of(unit),
        panel: defaults::PANEL.of(unit),
        back: defaults::BACK.of(unit),
        edge_strip: defaults::EDGE_STRIP.of(unit),
        nailer: defaults::NAILER.of(unit),
        top: Top::Stretchers,
        stretcher: defaults::STRETCHER.of(unit),
        kick_height: defaults::KICK_HEIGHT.of(unit),
        kick_setback: defaults::KICK_SETBACK.of(unit),
        kick_cover: defaults::KICK_COVER.of(unit),
        face: Face::Frameless,
        fronts: Fronts::Overlay,
        front: defaults::FRONT.of(unit),
        bumper: defaults::BUMPER.of(unit),
        reveal: Reveal {
            side: defaults::REVEAL_SIDE.of(unit),
            top: defaults::REVEAL_TOP.of(unit),
            between: defaults::REVEAL_BETWEEN.of(unit),
            bottom: defaults::REVEAL_BOTTOM.of(unit),
        },
        gap: defaults::GAP.of(unit),
        box_stock: defaults::BOX_STOCK.of(unit),
        box_bottom: defaults::BOX_BOTTOM.of(unit),
        hinges: Hinges::FaceEdge,
    }
}

/// What doors hang on.
pub(super) fn hinges<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Hinges {
    let unit = reader.unit;
    match node.head() {
        Some(head) if head.name == "FaceEdge" && head.payload.is_none() => Hinges::FaceEdge,
        Some(head) if head.name == "Concealed" => {
            let mut fields = reader.head_fields("a concealed hinge", node, head.payload);
            let hinges = Hinges::Concealed {
                cup: reader.length_or(&mut fields, "cup", defaults::CUP_FROM_EDGE.of(unit)),
                least_reveal: reader.length_or(&mut fields, "least_reveal", defaults::LEAST_REVEAL.of(unit)),
            };
            reader.finish(fields);
            hinges
        }
        Some(head) if head.name == "Butt" => {
            let mut fields = reader.head_fields("a butt hinge", node, head.payload);
            let hinges = Hinges::Butt {
                pin_out: reader.length_or(&mut fields, "pin_out", defaults::PIN_OUT.of(unit)),
                pin_beside: reader.optional_length(&mut fields, "pin_beside"),
            };
            reader.finish(fields);
            hinges
        }
        Some(head) if head.name == "Knife" => {
            let mut fields = reader.head_fields("a knife hinge", node, head.payload);
            let hinges = Hinges::Knife {
                inset: reader.required_length(&mut fields, "inset", "measure it from the door's edge to the pin"),
                behind: reader.required_length(&mut fields, "behind", "measure it from the door's face to the pin"),
            };
            reader.finish(fields);
            hinges
        }
        _ => {
            reader.refuse_choice(node, &["FaceEdge", "Concealed", "Butt", "Knife"]);
            Hinges::FaceEdge
        }
    }
}

fn face<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Face {
    let unit = reader.unit;
    match node.head() {
        Some(head) if head.name == "Frameless" && head.payload.is_none() => Face::Frameless,
        Some(head) if head.name == "FaceFrame" => {
            let mut fields = reader.head_fields("a face frame", node, head.payload);
            let face = Face::FaceFrame {
                stile: reader.length_or(&mut fields, "stile", defaults::STILE.of(unit)),
                rail: reader.length_or(&mut fields, "rail", defaults::RAIL.of(unit)),
                thickness: reader.length_or(&mut fields, "thickness", defaults::FRAME_THICKNESS.of(unit)),
            };
            reader.finish(fields);
            face
        }
        _ => {
            reader.refuse_choice(node, &["Frameless", "FaceFrame"]);
            Face::Frameless
        }
    }
}

pub(super) fn countertop<'a>(reader: &mut Reader<'a>, plan: &mut Fields<'a>) -> Option<Countertop> {
    let unit = reader.unit;
    let node = plan.take("countertop")?;
    let absent = reader.absent(&node, "(thickness: 30, overhang: 25)")?;
    if absent {
        return None;
    }
    let mut fields = reader.fields("a countertop", &node);
    let thickness = reader.length_or(&mut fields, "thickness", defaults::COUNTERTOP.of(unit));
    let edge = reader.length_or(&mut fields, "edge", thickness);
    let countertop = Countertop {
        thickness,
        overhang: reader.length_or(&mut fields, "overhang", defaults::OVERHANG.of(unit)),
        edge,
        edge_width: reader.length_or(&mut fields, "edge_width", defaults::FRAME_THICKNESS.of(unit)),
        // By as much as the edge drops.
        build_up: reader.length_or(&mut fields, "build_up", (edge - thickness).max(Length::ZERO)),
    };
    reader.finish(fields);
    Some(countertop)
}
