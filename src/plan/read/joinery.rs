//! How the boards are joined and finished, as the file says it.

use super::node::Node;
use super::reader::{Fields, Reader};
use crate::length::Length;
use crate::plan::{
    BackJoint, Construction, CornerWork, FrameJoint, FrontGrain, Joinery, Joint, ShelfFrame, ShelfJoint, StripEdges,
    StripRule, defaults,
};

pub(super) fn joinery<'a>(reader: &mut Reader<'a>, plan: &mut Fields<'a>, construction: &Construction) -> Joinery {
    let mut joinery = usual(reader, construction);
    let Some(node) = plan.take("joinery") else { return joinery };
    let mut fields = reader.fields("a joinery", &node);
    let j = &mut joinery;
    for (name, joint) in [("bottom", &mut j.bottom), ("top", &mut j.top), ("box_corners", &mut j.box_corners)] {
        if let Some(node) = fields.take(name) {
            *joint = self::joint(reader, &node, &JOINTS).unwrap_or(*joint);
        }
    }
    if let Some(node) = fields.take("shelves") {
        j.shelves = shelf_joint(reader, &node, j.shelves);
    }
    if let Some(node) = fields.take("back") {
        j.back = back_joint(reader, &node, j.back);
    }
    let frames = [("PocketScrews", FrameJoint::PocketScrews), ("Dowels", FrameJoint::Dowels)];
    let strips = [("TakenOff", StripRule::TakenOff), ("Added", StripRule::Added)];
    let grains = [("Upright", FrontGrain::Upright), ("Level", FrontGrain::Level)];
    let corners = [("Faces", CornerWork::Faces), ("Stiles", CornerWork::Stiles)];
    j.frame = reader.choice_or(&mut fields, "frame", j.frame, &frames);
    j.strips = reader.choice_or(&mut fields, "strips", j.strips, &strips);
    j.front_grain = reader.choice_or(&mut fields, "front_grain", j.front_grain, &grains);
    j.corner = reader.choice_or(&mut fields, "corner", j.corner, &corners);
    j.blocking = reader.switch_or(&mut fields, "blocking", j.blocking);
    j.hole_rows = reader.switch_or(&mut fields, "hole_rows", j.hole_rows);
    for (name, length) in [
        ("box_groove", &mut j.box_groove),
        ("box_play", &mut j.box_play),
        ("box_recess", &mut j.box_recess),
        ("scribe", &mut j.scribe),
    ] {
        *length = reader.length_or(&mut fields, name, *length);
    }
    if let Some(node) = fields.take("strip_edges") {
        j.strip_edges = strip_edges(reader, &node);
    }
    if let Some(node) = fields.take("shelf_frame") {
        j.shelf_frame = shelf_frame(reader, &node);
    }
    if let Some(node) = fields.take("spare_fronts") {
        j.spare_fronts = reader.count(&node).unwrap_or(j.spare_fronts);
    }
    reader.finish(fields);
    joinery
}

/// The joinery of a plan that does not say. Common practice, no source.
fn usual(reader: &Reader<'_>, construction: &Construction) -> Joinery {
    let unit = reader.unit;
    // A joint never takes more than half of a thin board.
    let in_half = |usual: defaults::Usual, board: Length| usual.of(unit).min(board * defaults::LET_IN_SHARE);
    let in_panel = in_half(defaults::LET_IN, construction.panel);
    let in_box = in_half(defaults::BOX_LET_IN, construction.box_stock);
    Joinery {
        bottom: Joint::LetIn(in_panel),
        top: Joint::LetIn(in_panel),
        shelves: ShelfJoint::Fixed(Joint::Butt),
        back: BackJoint::Rabbet(in_panel),
        frame: FrameJoint::PocketScrews,
        blocking: true,
        box_corners: Joint::LetIn(in_box),
        box_groove: in_box,
        box_play: defaults::BOX_PLAY.of(unit).min(in_box),
        box_recess: defaults::BOX_RECESS.of(unit),
        strips: StripRule::TakenOff,
        strip_edges: StripEdges { sides: true, bottom: true, top: true, shelves: true, fronts: false },
        front_grain: FrontGrain::Upright,
        scribe: defaults::SCRIBE.of(unit),
        corner: CornerWork::Faces,
        shelf_frame: None,
        hole_rows: false,
        spare_fronts: 1,
    }
}

/// The words for a board's end against another's face.
const JOINTS: [&str; 3] = ["Butt", "Dado", "Rabbet"];

fn joint<'a>(reader: &mut Reader<'a>, node: &Node<'a>, words: &[&'static str]) -> Option<Joint> {
    match node.head() {
        Some(head) if head.name == "Butt" && head.payload.is_none() => Some(Joint::Butt),
        Some(head) if matches!(head.name, "Dado" | "Rabbet") => {
            let depth = reader.only_value(node, head.payload, "Dado(9)");
            depth.and_then(|depth| reader.length(&depth)).map(Joint::LetIn)
        }
        _ => {
            reader.refuse_choice(node, words);
            None
        }
    }
}

fn shelf_joint<'a>(reader: &mut Reader<'a>, node: &Node<'a>, usual: ShelfJoint) -> ShelfJoint {
    match node.head() {
        Some(head) if head.name == "Pins" => {
            let play = reader.only_value(node, head.payload, "Pins(2)");
            play.and_then(|play| reader.length(&play)).map_or(usual, ShelfJoint::Pins)
        }
        _ => joint(reader, node, &["Butt", "Dado", "Pins"]).map_or(usual, ShelfJoint::Fixed),
    }
}

fn back_joint<'a>(reader: &mut Reader<'a>, node: &Node<'a>, usual: BackJoint) -> BackJoint {
    match node.head() {
        Some(head) if head.name == "Between" && head.payload.is_none() => BackJoint::Between,
        Some(head) if head.name == "Applied" && head.payload.is_none() => BackJoint::Applied,
        Some(head) if head.name == "Rabbet" => {
            let depth = reader.only_value(node, head.payload, "Rabbet(9)");
            depth.and_then(|depth| reader.length(&depth)).map_or(usual, BackJoint::Rabbet)
        }
        _ => {
            reader.refuse_choice(node, &["Between", "Rabbet", "Applied"]);
            usual
        }
    }
}

fn strip_edges<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> StripEdges {
    const MOST_WORDS: usize = 10;
    let words = [("Sides", 0_usize), ("Bottom", 1), ("Top", 2), ("Shelves", 3), ("Fronts", 4)];
    let mut named = [false; 5];
    for item in reader.items("edges", MOST_WORDS, node) {
        if let Some(flag) = reader.choice(&item, &words).and_then(|at| named.get_mut(at)) {
            *flag = true;
        }
    }
    let [sides, bottom, top, shelves, fronts] = named;
    StripEdges { sides, bottom, top, shelves, fronts }
}

fn shelf_frame<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Option<ShelfFrame> {
    if reader.absent(node, "(stile: 38, rail: 38)")? {
        return None;
    }
    let unit = reader.unit;
    let mut fields = reader.fields("a shelf frame", node);
    let frame = ShelfFrame {
        stile: reader.length_or(&mut fields, "stile", defaults::STILE.of(unit)),
        rail: reader.length_or(&mut fields, "rail", defaults::RAIL.of(unit)),
    };
    reader.finish(fields);
    Some(frame)
}
