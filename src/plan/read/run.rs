//! The two runs and their units, as the file says them: names of hardware become places in the plan's lists, shares of
//! a front zone become heights.

use super::MOST_UNITS;
use super::build::hinges;
use super::node::Node;
use super::reader::{Fields, Reader, quoted};
use super::spelling::nearest;
use crate::length::Length;
use crate::plan::{
    Appliance, ApplianceDoor, CabinetUnit, Construction, Door, Drawer, FarEnd, HingeSide, Pull, PullOuts, Run, Side,
    Slide, UnitKind, defaults,
};

/// Most drawers in one unit: lower ones hold nothing.
const MOST_DRAWERS: usize = 20;

/// The words for the edges that a door may turn about.
const EDGES: [(&str, HingeSide); 4] = [
    ("CornerSide", HingeSide::CornerSide),
    ("FarSide", HingeSide::FarSide),
    ("Top", HingeSide::Top),
    ("Bottom", HingeSide::Bottom),
];

/// What the units are made with.
#[derive(Debug)]
pub(super) struct Shop<'p> {
    pub construction: &'p Construction,
    pub pulls: &'p [Pull],
    pub slides: &'p [Slide],
}

pub(super) fn run<'a>(reader: &mut Reader<'a>, plan: &mut Fields<'a>, side: Side, shop: &Shop<'_>) -> Run {
    let mut run = Run { units: Vec::new(), ends_at: FarEnd::Wall, depth: None };
    let example = "give both runs: `left: (units: [\u{2026}]), right: (units: [\u{2026}])`";
    let Some(node) = reader.require(plan, side.word(), example) else { return run };
    let mut fields = reader.fields("a run", &node);
    run.depth = reader.optional_length(&mut fields, "depth");
    run.ends_at = fields.take("ends_at").map_or(FarEnd::Wall, |node| far_end(reader, &node));
    let depth = run.depth.unwrap_or(shop.construction.depth);
    if let Some(node) = reader.require(&mut fields, "units", "list the units from the corner outwards") {
        let units = reader.items("units", MOST_UNITS, &node);
        run.units = units.iter().map(|node| unit(reader, node, shop, depth)).collect();
    }
    reader.finish(fields);
    run
}

fn far_end<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> FarEnd {
    match node.head() {
        Some(head) if head.name == "Wall" && head.payload.is_none() => FarEnd::Wall,
        Some(head) if head.name == "Open" && head.payload.is_none() => FarEnd::Open,
        Some(head) if head.name == "Casing" => {
            let mut fields = reader.head_fields("a casing", node, head.payload);
            let end = FarEnd::Casing {
                width: reader.required_length(&mut fields, "width", "measure it along the wall"),
                thickness: reader.required_length(&mut fields, "thickness", "measure how far it stands off the wall"),
            };
            reader.finish(fields);
            end
        }
        _ => {
            reader.refuse_choice(node, &["Wall", "Casing", "Open"]);
            FarEnd::Wall
        }
    }
}

/// One unit; what cannot be read becomes an end panel, marked as broken.
fn unit<'a>(reader: &mut Reader<'a>, node: &Node<'a>, shop: &Shop<'_>, depth: Length) -> CabinetUnit {
    const KINDS: [&str; 6] = ["Drawers", "Door", "DrawerOverDoor", "OpenShelves", "EndPanel", "ApplianceSpace"];
    let (head, payload) = node.head().map_or(("", None), |head| (head.name, head.payload));
    let (what, name) = match head {
        "Drawers" => ("a drawer bank", "drawer bank"),
        "Door" => ("a door unit", "door unit"),
        "DrawerOverDoor" => ("a drawer over a door", "drawer over door"),
        "OpenShelves" => ("a unit of open shelves", "open shelves"),
        "EndPanel" => ("an end panel", "end panel"),
        "ApplianceSpace" => ("an appliance space", "appliance space"),
        _ => {
            reader.refuse_choice(node, &KINDS);
            let name = "unit".to_owned();
            let (width, height) = (shop.construction.panel, shop.construction.height);
            return CabinetUnit { name, width, height, kind: UnitKind::EndPanel };
        }
    };
    let mut fields = reader.head_fields(what, node, payload);
    let name = reader.optional_name(&mut fields, "name").unwrap_or_else(|| name.to_owned());
    let width = match head {
        "EndPanel" => reader.length_or(&mut fields, "width", shop.construction.panel),
        _ => reader.required_length(&mut fields, "width", "give its width along the run"),
    };
    // An appliance's height is its own.
    let height = match head {
        "ApplianceSpace" => shop.construction.height,
        _ => reader.length_or(&mut fields, "height", shop.construction.height),
    };
    let own = shop.construction.as_high_as(height);
    let shop = &Shop { construction: &own, pulls: shop.pulls, slides: shop.slides };
    let kind = match head {
        "Drawers" => UnitKind::Drawers(drawers(reader, &mut fields, shop)),
        "Door" => UnitKind::Door(door(reader, &mut fields, shop)),
        "DrawerOverDoor" => drawer_over_door(reader, &mut fields, shop),
        "OpenShelves" => {
            let shelves = fields.take("shelves").and_then(|node| reader.count(&node));
            UnitKind::OpenShelves { shelves: shelves.unwrap_or(defaults::SHELVES) }
        }
        "ApplianceSpace" => UnitKind::ApplianceSpace(appliance(reader, &mut fields, shop, [width, depth])),
        _ => UnitKind::EndPanel,
    };
    reader.finish(fields);
    CabinetUnit { name, width, height, kind }
}

/// The appliance in a space so wide, in a run so deep.
fn appliance<'a>(
    reader: &mut Reader<'a>,
    fields: &mut Fields<'a>,
    shop: &Shop<'_>,
    [width, depth]: [Length; 2],
) -> Appliance {
    let above = reader.length_or(fields, "above", Length::ZERO);
    Appliance {
        name: reader.optional_name(fields, "appliance").unwrap_or_else(|| "appliance".to_owned()),
        width: reader.length_or(fields, "body_width", width),
        depth: reader.length_or(fields, "depth", depth),
        above,
        height: reader.length_or(fields, "height", shop.construction.height),
        handle: reader.length_or(fields, "handle", Length::ZERO),
        door: fields.take("door").and_then(|node| appliance_door(reader, &node, above)),
    }
}

fn appliance_door<'a>(reader: &mut Reader<'a>, node: &Node<'a>, above: Length) -> Option<ApplianceDoor> {
    if reader.absent(node, "(bottom: 100, thickness: 20)")? {
        return None;
    }
    let mut fields = reader.fields("an appliance's door", node);
    let hinge = reader.choice_or(&mut fields, "hinge", HingeSide::Bottom, &EDGES);
    let opens_to = fields.take("opens_to").and_then(|node| reader.degrees(&node));
    let door = ApplianceDoor {
        hinge,
        bottom: reader.length_or(&mut fields, "bottom", above),
        thickness: reader.length_or(&mut fields, "thickness", defaults::APPLIANCE_DOOR.of(reader.unit)),
        opens_to_deg: opens_to.unwrap_or(defaults::FLAP_OPENS_TO_DEG),
    };
    reader.finish(fields);
    Some(door)
}

fn drawers<'a>(reader: &mut Reader<'a>, fields: &mut Fields<'a>, shop: &Shop<'_>) -> Vec<Drawer> {
    let help =
        "list the front heights from the top, as `fronts: [140, 280, Rest]`, or share them with `fronts: Equal(3)`";
    let fronts = reader.require(fields, "fronts", help).map(|node| front_heights(reader, &node, shop));
    let fronts = fronts.unwrap_or_default();
    let slide = hardware(reader, fields, "slide", "slides", shop.slides.iter().map(|slide| slide.name.as_str()));
    let pulls = match per_drawer(reader, fields, "pulls", fronts.len()) {
        Some(nodes) => nodes.iter().map(|node| named(reader, node, "pulls", &pull_names(shop))).collect(),
        None => Vec::new(),
    };
    // Where each drawer has its own pull, one for all is neither needed nor asked for.
    let pull = if pulls.is_empty() || fields.gives("pull") {
        hardware(reader, fields, "pull", "pulls", shop.pulls.iter().map(|pull| pull.name.as_str()))
    } else {
        0
    };
    let boxes: Option<Vec<Option<Length>>> = per_drawer(reader, fields, "box_heights", fronts.len())
        .map(|nodes| nodes.iter().map(|node| reader.length(node)).collect());
    let boxes = boxes.unwrap_or_default();
    let rows = shop.construction.front_zone().rows(fronts.iter().copied());
    let drawer = |(n, (front_height, (bottom, top))): (usize, (Length, (Length, Length)))| Drawer {
        front_height,
        box_height: boxes.get(n).copied().flatten().unwrap_or_else(|| usual_box(shop, slide, bottom, top)),
        pull: pulls.get(n).copied().unwrap_or(pull),
        slide,
    };
    fronts.iter().copied().zip(rows).enumerate().map(drawer).collect()
}

/// The values of a list with one entry for each of `count` drawers.
fn per_drawer<'a>(
    reader: &mut Reader<'a>,
    fields: &mut Fields<'a>,
    name: &'static str,
    count: usize,
) -> Option<Vec<Node<'a>>> {
    let node = fields.take(name)?;
    let nodes = reader.items(name, MOST_DRAWERS, &node);
    if nodes.len() != count && count > 0 && !reader.is_broken(&node.path) {
        let message = format!("`{}` {name} are given for {count} drawers", nodes.len());
        reader.refuse("plan::count", &node, message, "give one for each drawer, from the top");
    }
    Some(nodes)
}

/// The heights of a bank's fronts from the top: `Equal(3)`, or a list in which one may be `Rest`.
fn front_heights<'a>(reader: &mut Reader<'a>, node: &Node<'a>, shop: &Shop<'_>) -> Vec<Length> {
    let zone = shop.construction.front_zone();
    if let Some(head) = node.head() {
        if head.name != "Equal" {
            reader.refuse_choice(node, &["Equal"]);
            return Vec::new();
        }
        let value = reader.only_value(node, head.payload, "Equal(3)");
        let Some(count) = value.and_then(|value| reader.count(&value)) else { return Vec::new() };
        if !(1..=MOST_DRAWERS).contains(&count) {
            let message = format!("`{count}` drawers are not between 1 and {MOST_DRAWERS}");
            reader.refuse("plan::count", node, message, "write `Equal(3)` for three drawers of one height");
            return Vec::new();
        }
        return vec![zone.height_for(count) / count as f64; count];
    }
    let items = reader.items("fronts", MOST_DRAWERS, node);
    if items.is_empty() && !reader.is_broken(&node.path) {
        reader.refuse(
            "plan::count",
            node,
            "`0` fronts make no drawer bank".to_owned(),
            "write `[Rest]` for one drawer",
        );
    }
    let mut rest = None;
    let mut heights = Vec::with_capacity(items.len());
    for item in &items {
        let is_rest = item.head().is_some_and(|head| head.name == "Rest" && head.payload.is_none());
        if is_rest && rest.is_some() {
            let message = "`Rest` is given twice".to_owned();
            reader.refuse("plan::fit", item, message, "only one front can take what is left; give the others a height");
        }
        if is_rest {
            rest = rest.or(Some(heights.len()));
            heights.push(Length::ZERO);
        } else {
            heights.push(reader.length(item).unwrap_or(Length::ZERO));
        }
    }
    let left = zone.height_for(heights.len()) - heights.iter().copied().sum();
    if let Some(height) = rest.and_then(|at| heights.get_mut(at)) {
        *height = left;
    }
    // One height not known makes all places unknown: the rules of the whole bank stay silent.
    if reader.is_broken(&node.path) {
        reader.break_off(node.path.clone());
    }
    heights
}

/// The box that fills its opening, less the space its slide needs.
fn usual_box(shop: &Shop<'_>, slide: usize, front_bottom: Length, front_top: Length) -> Length {
    let (bottom, top) = shop.construction.drawer_opening(front_bottom, front_top);
    let space = shop.slides.get(slide).map_or(Length::ZERO, |slide| slide.under + slide.lift_out);
    top - bottom - space
}

fn door<'a>(reader: &mut Reader<'a>, fields: &mut Fields<'a>, shop: &Shop<'_>) -> Door {
    let hung = hung(reader, fields, shop);
    let pull = hardware(reader, fields, "pull", "pulls", shop.pulls.iter().map(|pull| pull.name.as_str()));
    let pull_outs = fields.take("pull_outs").and_then(|node| pull_outs(reader, &node, shop));
    let shelves = fields.take("shelves").and_then(|node| reader.count(&node)).unwrap_or(0);
    Door { front_height: shop.construction.front_zone().height(), pull, pull_outs, shelves, ..hung }
}

fn drawer_over_door<'a>(reader: &mut Reader<'a>, fields: &mut Fields<'a>, shop: &Shop<'_>) -> UnitKind {
    let front_height = reader.required_length(fields, "drawer", "give the height of the drawer's front");
    let given_box = reader.optional_length(fields, "box_height");
    let slide = hardware(reader, fields, "slide", "slides", shop.slides.iter().map(|slide| slide.name.as_str()));
    let pull = hardware(reader, fields, "pull", "pulls", shop.pulls.iter().map(|pull| pull.name.as_str()));
    let door_pull = fields.take("door_pull").map(|node| named(reader, &node, "pulls", &pull_names(shop)));
    let hung = hung(reader, fields, shop);
    let zone = shop.construction.front_zone();
    let box_height = given_box.unwrap_or_else(|| usual_box(shop, slide, zone.top - front_height, zone.top));
    let drawer = Drawer { front_height, box_height, pull, slide };
    let door_height = zone.height_for(2) - front_height;
    let door = Door { front_height: door_height, pull: door_pull.unwrap_or(pull), ..hung };
    UnitKind::DrawerOverDoor(drawer, door)
}

/// How a door is hung; its height and its pull are not known here.
fn hung<'a>(reader: &mut Reader<'a>, fields: &mut Fields<'a>, shop: &Shop<'_>) -> Door {
    let hinge = reader.choice_or(fields, "hinge", HingeSide::FarSide, &EDGES);
    let own = fields.take("hinges").map(|node| hinges(reader, &node));
    let opens_to = fields.take("opens_to").and_then(|node| reader.degrees(&node));
    let usual = if hinge.is_upright() { defaults::OPENS_TO_DEG } else { defaults::FLAP_OPENS_TO_DEG };
    Door {
        front_height: Length::ZERO,
        hinge,
        hinges: own.unwrap_or(shop.construction.hinges),
        opens_to_deg: opens_to.unwrap_or(usual),
        pull: 0,
        pull_outs: None,
        shelves: 0,
    }
}

fn pull_outs<'a>(reader: &mut Reader<'a>, node: &Node<'a>, shop: &Shop<'_>) -> Option<PullOuts> {
    if reader.absent(node, "(count: 2)")? {
        return None;
    }
    let mut fields = reader.fields("pull-out shelves", node);
    let count = reader.require(&mut fields, "count", "say how many there are, as `count: 2`");
    let slides = shop.slides.iter().map(|slide| slide.name.as_str());
    let pull_outs = PullOuts {
        count: count.and_then(|node| reader.count(&node)).unwrap_or(1),
        slide: hardware(reader, &mut fields, "slide", "slides", slides),
        box_height: reader.length_or(&mut fields, "box_height", defaults::PULL_OUT_HEIGHT.of(reader.unit)),
        spacer: reader.length_or(&mut fields, "spacer", Length::ZERO),
    };
    reader.finish(fields);
    Some(pull_outs)
}

fn pull_names<'p>(shop: &Shop<'p>) -> Vec<&'p str> {
    shop.pulls.iter().map(|pull| pull.name.as_str()).collect()
}

/// The place in `known` of the hardware that `field` names; the only one where there is but one.
fn hardware<'a, 'p>(
    reader: &mut Reader<'a>,
    fields: &mut Fields<'a>,
    field: &'static str,
    list: &'static str,
    known: impl Iterator<Item = &'p str>,
) -> usize {
    let known: Vec<&str> = known.collect();
    if fields.gives(field) {
        return fields.take(field).map_or(0, |node| named(reader, &node, list, &known));
    }
    match known.len() {
        1 => {
            let _only = fields.take(field);
        }
        // The list itself has been reported.
        _ if reader.is_unreadable(list) => reader.break_off(fields.path_of(field)),
        0 => {
            let help = match field {
                "pull" => "name a pull under `pulls`, if only `\"none\": Absent`",
                _ => "name a slide under `slides`, as `\"full 500\": (length: 500)`",
            };
            reader.require(fields, field, help);
        }
        _ => {
            reader.require(fields, field, &format!("the plan's {list} are {}", quoted(&known)));
        }
    }
    0
}

/// The place in `known` of the name that `node` gives.
fn named<'a>(reader: &mut Reader<'a>, node: &Node<'a>, list: &'static str, known: &[&str]) -> usize {
    let Some(name) = reader.name(node) else { return 0 };
    if let Some(at) = known.iter().position(|known| *known == name) {
        return at;
    }
    if reader.is_unreadable(list) {
        reader.break_off(node.path.clone());
        return 0;
    }
    let help = match nearest(&name, known) {
        Some(near) => format!("did you mean `{near}`?"),
        None if known.is_empty() => format!("the plan has no `{list}` yet: add it there"),
        None => format!("the plan's {list} are {}", quoted(known)),
    };
    reader.refuse("plan::name", node, format!("`{name}` is not one of the plan's {list}"), help);
    0
}
