//! Where are holes drilled? From named edges of each part, measured on the model.
//!
//! [`drilling_list`] takes a [`Model`] and its [`Plan`]. A [`Holes`] is a grid: every distance across with every distance
//! up. Slides and plates keep to the 32 mm system: 37 mm behind the front edge, or behind an inset front's back (trade
//! pages; no standards body owns it). The hardware's own sheet goes before these figures.

use std::collections::BTreeMap;

use super::parts::millionths;
use super::parts_by_unit;
use crate::length::{Length, SNAP_MM};
use crate::model::{Edge, Model, Mover, Part, PartId, Role, RunFrame, Vec3};
use crate::plan::{
    Construction, Door, Drawer, Face, Fronts, HingeSide, Hinges, Mount, Plan, PullShape, Side, Slide, UnitKind,
    defaults, hinges,
};

/// A pull's bolt goes through this: M4 with play. Common practice, no source.
const PULL_HOLE: f64 = 5.0;
/// Holes of the 32 mm system.
const ROW_HOLE: f64 = 5.0;
/// A hinge's cup. From memory: 35 mm.
const CUP: f64 = 35.0;
/// From a door's upper and lower edge to a hinge's middle. Common practice, no source.
const HINGE_FROM_END: f64 = 100.0;
/// Rows of holes keep this many pitches off bottom and top. Common practice, no source.
const ROW_KEEPS_OFF: f64 = 2.0;

/// Holes in parts that are alike.
#[derive(Clone, Debug, PartialEq)]
pub struct Holes {
    /// What they are for.
    pub what: HolesFor,
    /// The parts that get them; a unit's near and far side mirror each other.
    pub parts: Vec<PartId>,
    /// Diameter; `None` where the screw is driven as it is, or after a fine bit.
    pub diameter: Option<Length>,
    /// The edge that `across` is measured from.
    pub across_from: Edge,
    /// Distances across.
    pub across: Vec<Length>,
    /// The edge that `up` is measured from.
    pub up_from: Edge,
    /// Distances up, or down from an upper edge.
    pub up: Vec<Length>,
}

/// What holes are for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HolesFor {
    /// The cabinet's half of a slide, in a side or its blocking.
    Slide,
    /// The drawer's half of a side-mount slide: the line of its screws.
    SlideOnBox,
    /// A pull's bolts.
    Pull,
    /// The cups of hinges.
    HingeCup,
    /// The plates of hinges.
    HingePlate,
    /// Rows for shelf pins.
    Row,
}

impl HolesFor {
    /// In plain words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Slide => "slide",
            Self::SlideOnBox => "slide's line on the box",
            Self::Pull => "pull",
            Self::HingeCup => "hinge cups",
            Self::HingePlate => "hinge plates",
            Self::Row => "rows for shelf pins",
        }
    }
}

/// Every hole of `model`, built of `plan`; like parts together, in the order of the units.
#[must_use]
pub fn drilling_list(model: &Model, plan: &Plan) -> Vec<Holes> {
    let mut list = List { model, plan, holes: Vec::new() };
    let mut parts = parts_by_unit(model);
    let mut movers: BTreeMap<(Side, usize), Vec<&Mover>> = BTreeMap::new();
    for mover in &model.movers {
        movers.entry((mover.side, mover.unit)).or_default().push(mover);
    }
    for side in Side::BOTH {
        for (index, unit) in plan.run(side).units.iter().enumerate() {
            let own = parts.remove(&(side, index)).unwrap_or_default();
            let unit_parts = UnitParts::new(model.run(side), &own, movers.remove(&(side, index)).unwrap_or_default());
            match &unit.kind {
                UnitKind::Drawers(drawers) => list.drawers(&unit_parts, drawers),
                UnitKind::Door(door) => {
                    list.door(&unit_parts, door);
                    if door.shelves > 0 && plan.joinery.hole_rows {
                        list.rows(&unit_parts, &plan.construction_of(unit));
                    }
                }
                UnitKind::DrawerOverDoor(drawer, door) => {
                    list.drawers(&unit_parts, std::slice::from_ref(drawer));
                    list.door(&unit_parts, door);
                }
                UnitKind::OpenShelves { .. } if plan.joinery.hole_rows => {
                    list.rows(&unit_parts, &plan.construction_of(unit));
                }
                UnitKind::OpenShelves { .. } | UnitKind::EndPanel | UnitKind::ApplianceSpace(_) => {}
            }
        }
    }
    list.holes
}

/// The parts of one unit.
struct UnitParts<'m> {
    frame: &'m RunFrame,
    sides: Vec<&'m Part>,
    blocks: Vec<&'m Part>,
    movers: Vec<&'m Mover>,
}

impl<'m> UnitParts<'m> {
    fn new(frame: &'m RunFrame, parts: &[&'m Part], movers: Vec<&'m Mover>) -> Self {
        let of = |role: Role| parts.iter().copied().filter(|part| part.role == role).collect::<Vec<_>>();
        Self { frame, sides: of(Role::CarcassSide), blocks: of(Role::Blocking), movers }
    }
}

struct List<'m> {
    model: &'m Model,
    plan: &'m Plan,
    holes: Vec<Holes>,
}

impl List<'_> {
    /// Adds holes; to those of another part where they are the same and the parts are alike.
    fn add(&mut self, new: Holes) {
        let model = self.model;
        let size = |id: &PartId| model.part(*id).size.map(millionths);
        let same = |a: &[Length], b: &[Length]| {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| (*a - *b).abs() <= Length::mm(SNAP_MM))
        };
        let alike = |old: &&mut Holes| {
            old.what == new.what
                && (old.across_from, old.up_from) == (new.across_from, new.up_from)
                && same(&old.across, &new.across)
                && same(&old.up, &new.up)
                && old.parts.first().map(size) == new.parts.first().map(size)
        };
        match self.holes.iter_mut().find(alike) {
            Some(old) => old.parts.extend(new.parts),
            None => self.holes.push(new),
        }
    }

    /// From the front edge of a part of `frame`'s run, with its strip, to a hole `behind` a slide's or plate's front.
    fn behind_edge(&self, frame: &RunFrame, part: &Part, behind: Length) -> Length {
        let construction = &self.plan.construction;
        let inset = if construction.fronts == Fronts::Inset { construction.front } else { Length::ZERO };
        let edge = match construction.face {
            Face::Frameless => frame.depth,
            Face::FaceFrame { .. } => part.extent(frame.out)[1],
        };
        behind + inset - Length::mm(frame.depth - edge)
    }

    fn drawers(&mut self, unit: &UnitParts<'_>, drawers: &[Drawer]) {
        for (drawer, mover) in drawers.iter().zip(&unit.movers) {
            self.both_halves(unit, mover, &self.plan.slides[drawer.slide]);
            self.pull(unit, mover, Role::DrawerFront, drawer.pull);
        }
    }

    /// Both halves of the slides that a drawer or pull-out shelf runs on.
    fn both_halves(&mut self, unit: &UnitParts<'_>, mover: &Mover, slide: &Slide) {
        let parts = mover.parts.iter().map(|&id| self.model.part(id));
        let box_sides: Vec<&Part> = parts.filter(|part| part.role == Role::BoxSide).collect();
        let Some(first) = box_sides.first() else { return };
        let line = first.extent(Vec3::Z)[0] + slide.line.to_mm();
        self.slide(unit, slide, line);
        if slide.mount == Mount::SideMount {
            self.add(Holes {
                what: HolesFor::SlideOnBox,
                parts: box_sides.iter().map(|part| part.id).collect(),
                diameter: None,
                across_from: Edge::Front,
                across: Vec::new(),
                up_from: Edge::Lower,
                up: vec![slide.line],
            });
        }
    }

    /// The cabinet's half of a slide, its screws at the height `line`.
    fn slide(&mut self, unit: &UnitParts<'_>, slide: &Slide, line: f64) {
        let holds = |part: &&&Part| {
            let [low, high] = part.extent(Vec3::Z);
            low <= line && line <= high
        };
        let blocks: Vec<&Part> = unit.blocks.iter().filter(holds).copied().collect();
        let into = if blocks.is_empty() { unit.sides.clone() } else { blocks };
        for part in into {
            let low = part.extent(Vec3::Z)[0];
            let across = slide_holes(slide).into_iter().map(|hole| self.behind_edge(unit.frame, part, hole));
            self.add(Holes {
                what: HolesFor::Slide,
                parts: vec![part.id],
                diameter: None,
                across_from: Edge::Front,
                across: across.filter(|across| *across > Length::ZERO).collect(),
                up_from: Edge::Lower,
                up: vec![Length::mm(line - low)],
            });
        }
    }

    /// The bolts of a pull, where its posts stand on the front.
    fn pull(&mut self, unit: &UnitParts<'_>, mover: &Mover, front: Role, pull: usize) {
        let parts: Vec<&Part> = mover.parts.iter().map(|&id| self.model.part(id)).collect();
        let found = |role: Role| parts.iter().find(|part| part.role == role).copied();
        let (Some(front), Some(pull_part)) = (found(front), found(Role::Pull)) else { return };
        let posts = match self.plan.pulls[pull].shape {
            PullShape::Bar { .. } => pull_part.pieces.get(1..).unwrap_or_default(),
            PullShape::Knob { .. } => pull_part.pieces.as_slice(),
            // A lip is screwed on from behind, along its length.
            PullShape::Edge { .. } | PullShape::Absent => return,
        };
        // Strips round a front belong to it.
        let whole = |axis: Vec3| {
            let bodies = parts.iter().filter(|part| matches!(part.role, Role::EdgeStrip) || part.id == front.id);
            bodies.map(|part| part.extent(axis)[0]).fold(f64::INFINITY, f64::min)
        };
        let (near, low) = (whole(unit.frame.along), whole(Vec3::Z));
        let spot = |piece: &crate::model::Convex| {
            let [s, z] = [unit.frame.along, Vec3::Z].map(|axis| {
                let on_axis = piece.vertices().map(|v| v.dot(axis));
                let [a, b] = on_axis.fold([f64::INFINITY, f64::NEG_INFINITY], |[a, b], d| [a.min(d), b.max(d)]);
                f64::midpoint(a, b)
            });
            [s - near, z - low]
        };
        let spots: Vec<[f64; 2]> = posts.iter().map(spot).collect();
        let distances = |k: usize| {
            let mut list: Vec<Length> = Vec::new();
            for spot in &spots {
                let length = Length::mm(spot[k]);
                if !list.iter().any(|known| (*known - length).abs() <= Length::mm(SNAP_MM)) {
                    list.push(length);
                }
            }
            list
        };
        self.add(Holes {
            what: HolesFor::Pull,
            parts: vec![front.id],
            diameter: Some(Length::mm(PULL_HOLE)),
            across_from: Edge::Near,
            across: distances(0),
            up_from: Edge::Lower,
            up: distances(1),
        });
    }

    /// The cups of a door that lifts up or drops down: along its upper or lower edge. Their plates go on what lies above
    /// or below, without a row of holes.
    fn flap_cups(&mut self, frame: &RunFrame, front: &Part, door: &Door, cup_from_edge: Length) {
        let [near, far] = front.extent(frame.along);
        let [low, high] = front.extent(Vec3::Z);
        let wide = far - near;
        let count = hinges(Length::mm(wide));
        let end = HINGE_FROM_END.min(wide / 4.0);
        let spread = (wide - 2.0 * end) / (count - 1) as f64;
        let up = cup_from_edge + Length::mm(CUP / 2.0);
        self.add(Holes {
            what: HolesFor::HingeCup,
            parts: vec![front.id],
            diameter: Some(Length::mm(CUP)),
            across_from: Edge::Near,
            across: (0..count).map(|k| Length::mm(end + spread * k as f64)).collect(),
            up_from: Edge::Lower,
            up: vec![if door.hinge == HingeSide::Bottom { up } else { Length::mm(high - low) - up }],
        });
    }

    /// A door's pull, its hinges' cups, and their plates on the side it hangs on.
    fn door(&mut self, unit: &UnitParts<'_>, door: &Door) {
        if let Some(pull_outs) = door.pull_outs {
            for mover in unit.movers.iter().filter(|mover| mover.behind.is_some()) {
                self.both_halves(unit, mover, &self.plan.slides[pull_outs.slide]);
            }
        }
        let hung = |mover: &&&Mover| mover.parts.iter().any(|&id| self.model.part(id).role == Role::DoorFront);
        let Some(mover) = unit.movers.iter().find(hung).copied() else { return };
        self.pull(unit, mover, Role::DoorFront, door.pull);
        let Some(front) = mover.parts.iter().map(|&id| self.model.part(id)).find(|p| p.role == Role::DoorFront) else {
            return;
        };
        // Butt and knife hinges are let in by hand, each to its own leaf.
        let cup_from_edge = match door.hinges {
            Hinges::FaceEdge => defaults::CUP_FROM_EDGE.of(self.plan.unit),
            Hinges::Concealed { cup, .. } => cup,
            Hinges::Butt { .. } | Hinges::Knife { .. } => return,
        };
        if !door.hinge.is_upright() {
            return self.flap_cups(unit.frame, front, door, cup_from_edge);
        }
        let [low, high] = front.extent(Vec3::Z);
        let count = hinges(Length::mm(high - low));
        let end = HINGE_FROM_END.min((high - low) / 4.0);
        let spread = (high - low - 2.0 * end) / (count - 1) as f64;
        let up: Vec<f64> = (0..count).map(|k| end + spread * k as f64).collect();
        let (edge, side) = match door.hinge {
            HingeSide::CornerSide => (Edge::Near, unit.sides.first()),
            _ => (Edge::Far, unit.sides.last()),
        };
        self.add(Holes {
            what: HolesFor::HingeCup,
            parts: vec![front.id],
            diameter: Some(Length::mm(CUP)),
            across_from: edge,
            across: vec![cup_from_edge + Length::mm(CUP / 2.0)],
            up_from: Edge::Lower,
            up: up.iter().map(|&mm| Length::mm(mm)).collect(),
        });
        // On a face frame hinges are screwed to the stile, without a row of holes.
        if let (Some(side), Face::Frameless) = (side, self.plan.construction.face) {
            let floor = side.extent(Vec3::Z)[0];
            let behind = defaults::HOLES_BEHIND_FRONT.of(self.plan.unit);
            self.add(Holes {
                what: HolesFor::HingePlate,
                parts: vec![side.id],
                diameter: Some(Length::mm(ROW_HOLE)),
                across_from: Edge::Front,
                across: vec![self.behind_edge(unit.frame, side, behind)],
                up_from: Edge::Lower,
                up: up.iter().map(|&mm| Length::mm(low + mm - floor)).collect(),
            });
        }
    }

    /// Rows of holes in the sides beside shelves: 37 mm behind the front edge and before the back one, 32 mm apart.
    fn rows(&mut self, unit: &UnitParts<'_>, construction: &Construction) {
        let unit_of = self.plan.unit;
        let (behind, pitch) = (defaults::HOLES_BEHIND_FRONT.of(unit_of), defaults::HOLE_PITCH.of(unit_of));
        let (lowest, highest) =
            (construction.kick_height + construction.panel, construction.height - construction.panel);
        for side in &unit.sides {
            let floor = Length::mm(side.extent(Vec3::Z)[0]);
            let mut up = Vec::new();
            let mut z = lowest + pitch * ROW_KEEPS_OFF;
            while z <= highest - pitch * ROW_KEEPS_OFF {
                up.push(z - floor);
                z += pitch;
            }
            let front = self.behind_edge(unit.frame, side, behind);
            for (across_from, across) in [(Edge::Front, front), (Edge::Back, behind)] {
                self.add(Holes {
                    what: HolesFor::Row,
                    parts: vec![side.id],
                    diameter: Some(Length::mm(ROW_HOLE)),
                    across_from,
                    across: vec![across],
                    up_from: Edge::Lower,
                    up: up.clone(),
                });
            }
        }
    }
}

/// A slide's screws from its front end: the plan's, or 37 mm and two more on the 32 mm pitch, in the middle and near its
/// back end. Common practice, no source.
#[must_use]
pub fn slide_holes(slide: &Slide) -> Vec<Length> {
    const FIRST: f64 = 37.0;
    const PITCH: f64 = 32.0;
    const KEEPS_OFF_END: f64 = 10.0;
    if !slide.holes.is_empty() {
        return slide.holes.clone();
    }
    let room = slide.length.to_mm() - FIRST - KEEPS_OFF_END;
    let pitches = (room / PITCH).floor().max(0.0);
    let mut holes = vec![FIRST];
    for share in [(pitches / 2.0).floor(), pitches] {
        let hole = FIRST + share * PITCH;
        if holes.iter().all(|known| hole - known > SNAP_MM) && hole < slide.length.to_mm() {
            holes.push(hole);
        }
    }
    holes.retain(|hole| *hole < slide.length.to_mm());
    holes.into_iter().map(Length::mm).collect()
}
