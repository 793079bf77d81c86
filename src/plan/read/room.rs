//! The room, the corner and what must stay clear, as the file says them.

use super::MOST_THINGS;
use super::node::Node;
use super::opposite::opposite;
use super::reader::{Fields, Reader};
use super::survey::survey;
use crate::length::Length;
use crate::plan::{
    Baseboard, BaseboardTreatment, Clearance, Corner, Filler, Flush, HingeSide, Obstacle, Room, RoomDoor, Side, Survey,
    defaults,
};

/// The words for the two sides.
pub(super) const SIDES: [(&str, Side); 2] = [("Left", Side::Left), ("Right", Side::Right)];

/// The angle taken where the plan does not measure one, in degrees.
const SQUARE_DEG: f64 = 90.0;

pub(super) fn room<'a>(reader: &mut Reader<'a>, plan: &mut Fields<'a>) -> Room {
    let usual_ceiling = defaults::CEILING.of(reader.unit);
    let Some(node) = reader.require(plan, "room", "give the walls: `room: (left_wall: 2400, right_wall: 3000)`") else {
        return Room {
            angle_deg: SQUARE_DEG,
            angle_measured: false,
            angle_read: None,
            left_wall: Length::ZERO,
            right_wall: Length::ZERO,
            ceiling: usual_ceiling,
            baseboard: None,
            obstacles: Vec::new(),
            doors: Vec::new(),
            survey: Survey::usual(reader.unit),
        };
    };
    let mut fields = reader.fields("a room", &node);
    let wall = "measure the wall from the corner along the floor";
    let angle = fields.take("angle").and_then(|node| reader.degrees(&node));
    let mut room = Room {
        angle_deg: angle.unwrap_or(SQUARE_DEG),
        angle_measured: angle.is_some(),
        angle_read: angle,
        left_wall: reader.required_length(&mut fields, "left_wall", wall),
        right_wall: reader.required_length(&mut fields, "right_wall", wall),
        ceiling: reader.length_or(&mut fields, "ceiling", usual_ceiling),
        baseboard: fields.take("baseboard").and_then(|node| baseboard(reader, &node)),
        obstacles: obstacles(reader, &mut fields),
        doors: doors(reader, &mut fields),
        survey: survey(reader, &mut fields),
    };
    // Measures that make no triangle are told by the checks.
    if let Some(angle_deg) = room.survey.corner.and_then(|corner| corner.angle_deg()) {
        (room.angle_deg, room.angle_measured) = (angle_deg, true);
    }
    reader.finish(fields);
    room
}

fn baseboard<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Option<Baseboard> {
    let absent = reader.absent(node, "(height: 100, thickness: 15)")?;
    if absent {
        return None;
    }
    let mut fields = reader.fields("a baseboard", node);
    let treatments = [
        ("Removed", BaseboardTreatment::Removed),
        ("Left", BaseboardTreatment::Left),
        ("Notched", BaseboardTreatment::Notched),
    ];
    let baseboard = Baseboard {
        height: reader.required_length(&mut fields, "height", "measure it from the floor"),
        thickness: reader.required_length(&mut fields, "thickness", "measure how far it stands off the wall"),
        treatment: reader.choice_or(&mut fields, "treatment", BaseboardTreatment::Removed, &treatments),
    };
    reader.finish(fields);
    Some(baseboard)
}

fn obstacles<'a>(reader: &mut Reader<'a>, room: &mut Fields<'a>) -> Vec<Obstacle> {
    let Some(node) = room.take("obstacles") else { return Vec::new() };
    reader.items("obstacles", MOST_THINGS, &node).iter().map(|node| obstacle(reader, node)).collect()
}

fn obstacle<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Obstacle {
    let mut fields = reader.fields("an obstacle", node);
    let wall = reader.require(&mut fields, "wall", "say `wall: Left` or `wall: Right`");
    let size = "give its own size along the wall, out from it and upwards";
    let above = reader.length_or(&mut fields, "above", Length::ZERO);
    let obstacle = Obstacle {
        name: reader.optional_name(&mut fields, "name").unwrap_or_else(|| "obstacle".to_owned()),
        wall: wall.and_then(|node| reader.choice(&node, &SIDES)).unwrap_or(Side::Left),
        along: reader.required_length(&mut fields, "along", "measure from the corner along the wall to its near end"),
        out: reader.length_or(&mut fields, "out", Length::ZERO),
        above,
        width: reader.required_length(&mut fields, "width", size),
        depth: reader.required_length(&mut fields, "depth", size),
        height: reader.required_length(&mut fields, "height", size),
        opens: opposite(reader, &mut fields, above),
    };
    reader.finish(fields);
    obstacle
}

fn doors<'a>(reader: &mut Reader<'a>, room: &mut Fields<'a>) -> Vec<RoomDoor> {
    let Some(node) = room.take("doors") else { return Vec::new() };
    reader.items("doors", MOST_THINGS, &node).iter().map(|node| room_door(reader, node)).collect()
}

fn room_door<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> RoomDoor {
    let unit = reader.unit;
    let mut fields = reader.fields("a door of the room", node);
    let wall = reader.require(&mut fields, "wall", "say `wall: Left` or `wall: Right`");
    let edges = [("CornerSide", HingeSide::CornerSide), ("FarSide", HingeSide::FarSide)];
    let opens_to = fields.take("opens_to").and_then(|node| reader.degrees(&node));
    let door = RoomDoor {
        name: reader.optional_name(&mut fields, "name").unwrap_or_else(|| "room door".to_owned()),
        wall: wall.and_then(|node| reader.choice(&node, &SIDES)).unwrap_or(Side::Left),
        along: reader.required_length(&mut fields, "along", "measure from the corner along the wall to its near edge"),
        width: reader.required_length(&mut fields, "width", "measure the leaf"),
        height: reader.length_or(&mut fields, "height", defaults::ROOM_DOOR_HEIGHT.of(unit)),
        thickness: reader.length_or(&mut fields, "thickness", defaults::ROOM_DOOR_THICKNESS.of(unit)),
        hinge: reader.choice_or(&mut fields, "hinge", HingeSide::FarSide, &edges),
        opens_to_deg: opens_to.unwrap_or(defaults::ROOM_DOOR_OPENS_TO_DEG),
    };
    reader.finish(fields);
    door
}

pub(super) fn corner<'a>(reader: &mut Reader<'a>, plan: &mut Fields<'a>) -> Corner {
    let unit = reader.unit;
    let mut corner = Corner {
        left: Filler::Least,
        right: Filler::Least,
        flush: Flush::WithCarcass,
        laps: Side::Left,
        face: defaults::FILLER_FACE.of(unit),
        block: defaults::BLOCK.of(unit),
    };
    let Some(node) = plan.take("corner") else { return corner };
    let mut fields = reader.fields("a corner", &node);
    corner.left = filler(reader, &mut fields, "left");
    corner.right = filler(reader, &mut fields, "right");
    let flush = [("WithCarcass", Flush::WithCarcass), ("WithFronts", Flush::WithFronts)];
    corner.flush = reader.choice_or(&mut fields, "flush", corner.flush, &flush);
    corner.laps = reader.choice_or(&mut fields, "laps", corner.laps, &SIDES);
    corner.face = reader.length_or(&mut fields, "face", corner.face);
    corner.block = reader.length_or(&mut fields, "block", corner.block);
    reader.finish(fields);
    corner
}

fn filler<'a>(reader: &mut Reader<'a>, corner: &mut Fields<'a>, side: &'static str) -> Filler {
    let Some(node) = corner.take(side) else { return Filler::Least };
    match node.head() {
        Some(head) if head.name == "Least" && head.payload.is_none() => Filler::Least,
        Some(head) if head.name == "Fixed" => {
            let width = reader.only_value(&node, head.payload, "Fixed(60)");
            width.and_then(|value| reader.length(&value)).map_or(Filler::Least, Filler::Fixed)
        }
        _ => {
            reader.refuse_choice(&node, &["Least", "Fixed"]);
            Filler::Least
        }
    }
}

pub(super) fn clearance<'a>(reader: &mut Reader<'a>, plan: &mut Fields<'a>) -> Clearance {
    let unit = reader.unit;
    let mut clearance = Clearance {
        wanted: defaults::WANTED.of(unit),
        shop_step: defaults::SHOP_STEP.of(unit),
        ajar: defaults::AJAR.of(unit),
    };
    let Some(node) = plan.take("clearance") else { return clearance };
    let mut fields = reader.fields("a clearance", &node);
    clearance.wanted = reader.length_or(&mut fields, "wanted", clearance.wanted);
    clearance.shop_step = reader.length_or(&mut fields, "shop_step", clearance.shop_step);
    clearance.ajar = reader.length_or(&mut fields, "ajar", clearance.ajar);
    reader.finish(fields);
    clearance
}
