//! What do the gaps beside a front come to in dry and in damp air?
//!
//! A front of solid wood grows across its grain: a drawer front by half at each edge, since its screws hold it in the
//! middle; a door away from its hinges, and by half at each edge where it grows along them. Paint fills every gap from
//! both sides. Frames, cases and panels are taken as keeping their size.

use std::collections::BTreeMap;

use super::movement::{change, coefficients};
use super::place::{Placed, Places, overlap};
use super::{Moisture, Worry};
use crate::model::{Model, MoverId, PartId, Role, RuleClass, finish};
use crate::plan::{FrontGrain, Fronts, FrontsOf, HingeSide, Plan, Side, Surface, UnitKind};

/// An edge of a front, as seen from its corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FrontEdge {
    /// Toward the corner.
    Near,
    /// Away from it.
    Far,
    /// Below.
    Lower,
    /// Above.
    Upper,
}

impl FrontEdge {
    /// All four.
    pub const ALL: [Self; 4] = [Self::Near, Self::Far, Self::Lower, Self::Upper];

    /// `near`, `far`, `lower` or `upper`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Near => "near",
            Self::Far => "far",
            Self::Lower => "lower",
            Self::Upper => "upper",
        }
    }

    /// Whether it is one of the upright edges.
    #[must_use]
    pub fn is_upright(self) -> bool {
        matches!(self, Self::Near | Self::Far)
    }

    fn facing(self) -> Self {
        match self {
            Self::Near => Self::Far,
            Self::Far => Self::Near,
            Self::Lower => Self::Upper,
            Self::Upper => Self::Lower,
        }
    }
}

/// A width as it is drawn, in the driest air and in the dampest, in mm. Less than 0 is one that there is no room for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Width {
    /// As drawn, bare wood.
    pub drawn: f64,
    /// In the driest air, painted.
    pub dry: f64,
    /// In the dampest air, painted.
    pub damp: f64,
}

impl Width {
    /// The lesser of dry and damp.
    #[must_use]
    pub fn least(&self) -> f64 {
        self.dry.min(self.damp)
    }
}

/// What one edge of a front does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeMoves {
    /// Which edge.
    pub edge: FrontEdge,
    /// How far it goes outwards in the driest air and in the dampest, without paint, mm; less than 0 inwards.
    pub goes: [f64; 2],
    /// Of an overlay front's upright edge: from it to its own unit's side.
    pub reveal: Option<Width>,
    /// To the nearest part of its run that it could bind on, and the gap there.
    pub gap: Option<(PartId, Width)>,
}

/// What one front does.
#[derive(Clone, Debug, PartialEq)]
pub struct FrontMoves {
    /// The drawer or door.
    pub mover: MoverId,
    /// Its front.
    pub part: PartId,
    /// Its size across the grain, mm.
    pub across: f64,
    /// How much that changes in the driest air and in the dampest, mm.
    pub changes: [f64; 2],
    /// Its edges: near, far, lower, upper.
    pub edges: [EdgeMoves; 4],
}

/// A front of the plan, and how it is hung.
#[derive(Clone, Copy, Debug)]
struct Hung<'m> {
    front: Placed<'m>,
    mover: MoverId,
    side: Side,
    unit: usize,
    /// The edge that hinges hold; `None` where screws hold its middle.
    held: Option<FrontEdge>,
}

/// How solid fronts change between the states of air; nothing for panels.
#[derive(Clone, Copy, Debug)]
struct Law {
    fronts: FrontsOf,
    grain: FrontGrain,
    at: [f64; 2],
}

impl Law {
    /// What a size along the wider change, across the grain, changes by in each state of air.
    fn across(self, size: f64) -> [f64; 2] {
        let FrontsOf::Solid { timber, sawn, made_at } = self.fronts else { return [0.0; 2] };
        self.at.map(|moisture| change(size, coefficients(timber).across(sawn), made_at, moisture))
    }

    /// What a thickness changes by, on the safe side.
    fn thickness(self, size: f64) -> [f64; 2] {
        let FrontsOf::Solid { timber, made_at, .. } = self.fronts else { return [0.0; 2] };
        self.at.map(|moisture| change(size, coefficients(timber).larger(), made_at, moisture))
    }

    /// What the size across the grain of `hung` is.
    fn size_across(self, hung: &Hung<'_>) -> f64 {
        let [low, high] = if self.grain == FrontGrain::Upright { hung.front.along } else { hung.front.up };
        high - low
    }

    /// How far `edge` of `hung` goes outwards in each state of air.
    fn goes(self, hung: &Hung<'_>, edge: FrontEdge) -> [f64; 2] {
        let moves = edge.is_upright() == (self.grain == FrontGrain::Upright);
        let share = match hung.held {
            _ if !moves => 0.0,
            Some(held) if held == edge => 0.0,
            Some(held) if held == edge.facing() => 1.0,
            _ => 0.5,
        };
        self.across(self.size_across(hung)).map(|change| change * share)
    }
}

/// Every front, in the order of the model's movers.
fn hung<'m>(plan: &Plan, model: &Model, places: &Places<'m>) -> BTreeMap<MoverId, Hung<'m>> {
    let mut list = BTreeMap::new();
    for mover in model.movers.iter().filter(|mover| !mover.of_the_room) {
        let own = || places.unit(mover.side, mover.unit).iter().filter(|placed| placed.part.mover == Some(mover.id));
        let is_front = |placed: &&Placed<'m>| matches!(placed.part.role, Role::DrawerFront | Role::DoorFront);
        let Some(mut front) = own().find(is_front).copied() else { continue };
        // Strips round a front are a part of its size.
        for strip in own().filter(|placed| placed.part.role == Role::EdgeStrip) {
            let wider = |a: [f64; 2], b: [f64; 2]| [a[0].min(b[0]), a[1].max(b[1])];
            (front.along, front.up) = (wider(front.along, strip.along), wider(front.up, strip.up));
        }
        let held = if front.part.role == Role::DoorFront {
            let unit = plan.run(mover.side).units.get(mover.unit);
            unit.and_then(|unit| match &unit.kind {
                UnitKind::Door(door) | UnitKind::DrawerOverDoor(_, door) => Some(hinged(door.hinge)),
                _ => None,
            })
        } else {
            None
        };
        list.insert(mover.id, Hung { front, mover: mover.id, side: mover.side, unit: mover.unit, held });
    }
    list
}

fn hinged(hinge: HingeSide) -> FrontEdge {
    match hinge {
        HingeSide::CornerSide => FrontEdge::Near,
        HingeSide::FarSide => FrontEdge::Far,
        HingeSide::Top => FrontEdge::Upper,
        HingeSide::Bottom => FrontEdge::Lower,
    }
}

/// What every front of `model` does.
pub(super) fn fronts(plan: &Plan, model: &Model, places: &Places<'_>, moisture: Moisture) -> Vec<FrontMoves> {
    let law = Law { fronts: plan.wood.fronts, grain: plan.joinery.front_grain, at: moisture.ends() };
    let list = hung(plan, model, places);
    let of = |hung: &Hung<'_>| FrontMoves {
        mover: hung.mover,
        part: hung.front.part.id,
        across: law.size_across(hung),
        changes: law.across(law.size_across(hung)),
        edges: FrontEdge::ALL.map(|edge| edge_moves(plan, places, &list, law, hung, edge)),
    };
    list.values().map(of).collect()
}

fn edge_moves(
    plan: &Plan,
    places: &Places<'_>,
    list: &BTreeMap<MoverId, Hung<'_>>,
    law: Law,
    hung: &Hung<'_>,
    edge: FrontEdge,
) -> EdgeMoves {
    let goes = law.goes(hung, edge);
    let build = plan.wood.paint_build.to_mm();
    let width = |drawn: f64, paint: f64, other: [f64; 2]| {
        let [dry, damp] = [0, 1].map(|k| drawn - paint - goes[k] - other[k]);
        Width { drawn, dry, damp }
    };
    let has_reveal = plan.construction.fronts == Fronts::Overlay && edge.is_upright();
    let reveal = has_reveal.then(|| width(plan.construction.reveal.side.to_mm(), build, [0.0; 2]));
    let gap = nearest(places, hung, edge).map(|(other, drawn)| {
        let facing = other.part.mover.and_then(|mover| list.get(&mover));
        let theirs = facing.map_or([0.0; 2], |front| law.goes(front, edge.facing()));
        let painted = matches!(finish::surface(other.part), Some(Surface::Fronts | Surface::Frames | Surface::Carcass));
        let coats = if painted { 2.0 } else { 1.0 };
        (other.part.id, width(drawn, build * coats, theirs))
    });
    EdgeMoves { edge, goes, reveal, gap }
}

/// The part of the run that `edge` of `hung` would meet first if it grew, and how far off that is, mm.
fn nearest<'p, 'm>(places: &'p Places<'m>, hung: &Hung<'_>, edge: FrontEdge) -> Option<(&'p Placed<'m>, f64)> {
    /// What stands this far, in mm, over an edge is not beside it but before or behind: rounding apart.
    const INTO: f64 = 0.01;
    let front = &hung.front;
    let beside = |other: &&Placed<'_>| {
        let across = if edge.is_upright() { overlap(front.up, other.up) } else { overlap(front.along, other.along) };
        let meets = matches!(other.part.class, RuleClass::Run | RuleClass::Appliance | RuleClass::Countertop);
        let is_own = other.part.mover == Some(hung.mover);
        meets && !is_own && other.part.role != Role::Pull && across && overlap(front.out, other.out)
    };
    let off = |other: &Placed<'_>| match edge {
        FrontEdge::Near => front.along[0] - other.along[1],
        FrontEdge::Far => other.along[0] - front.along[1],
        FrontEdge::Lower => front.up[0] - other.up[1],
        FrontEdge::Upper => other.up[0] - front.up[1],
    };
    let others = places.round(hung.side, hung.unit).filter(beside).map(|other| (other, off(other)));
    others.filter(|(_, off)| *off > -INTO).min_by(|a, b| a.1.total_cmp(&b.1).then(a.0.part.id.cmp(&b.0.part.id)))
}

/// What damp wood and paint eat of the clearance beside the corner, on one side's filler.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CornerEats {
    /// Whose filler.
    pub side: Side,
    /// The front of that run nearest to the corner that goes farthest toward it.
    pub front: PartId,
    /// How far its edge goes toward the corner in the dampest air, mm; 0 where it shrinks.
    pub edge: f64,
    /// How far the faces of the other run's fronts come out as they thicken, mm; 0 where they shrink.
    pub face: f64,
    /// What paint adds: to the edge, and to both faces of the other run's fronts, mm.
    pub paint: f64,
    /// The clearance wanted, mm.
    pub wanted: f64,
}

impl CornerEats {
    /// All of it, mm.
    #[must_use]
    pub fn whole(&self) -> f64 {
        self.edge + self.face + self.paint
    }
}

/// What is eaten beside the corner, left and right, where a run has fronts.
pub(super) fn corners(plan: &Plan, model: &Model, fronts: &[FrontMoves], moisture: Moisture) -> Vec<CornerEats> {
    let law = Law { fronts: plan.wood.fronts, grain: plan.joinery.front_grain, at: moisture.ends() };
    let build = plan.wood.paint_build.to_mm();
    let first = |side: Side| {
        let own = || fronts.iter().filter(move |front| model.mover(front.mover).side == side);
        let unit = own().map(|front| model.mover(front.mover).unit).min()?;
        let near = own().filter(|front| model.mover(front.mover).unit == unit);
        near.max_by(|a, b| near_edge(a).total_cmp(&near_edge(b)).then(b.part.cmp(&a.part)))
    };
    let of = |side: Side| {
        let front = first(side)?;
        let faces = first(side.other()).is_some();
        let [_, thicker] = law.thickness(plan.construction.front.to_mm());
        Some(CornerEats {
            side,
            front: front.part,
            edge: near_edge(front).max(0.0),
            face: if faces { thicker.max(0.0) } else { 0.0 },
            paint: build * if faces { 3.0 } else { 1.0 },
            wanted: model.wanted,
        })
    };
    Side::BOTH.into_iter().filter_map(of).collect()
}

/// How far a front's edge goes toward the corner in the dampest air.
fn near_edge(front: &FrontMoves) -> f64 {
    let [near, ..] = &front.edges;
    near.goes[1]
}

/// Gaps that close, or come down below the least, by what wood and paint do.
pub(super) fn worries(plan: &Plan, fronts: &[FrontMoves], corners: &[CornerEats]) -> Vec<Worry> {
    let least = plan.wood.least_gap.to_mm();
    let mut list = Vec::new();
    for front in fronts {
        for edge in &front.edges {
            let Some((other, gap)) = edge.gap else { continue };
            if gap.least() >= least || gap.least() >= gap.drawn {
                continue;
            }
            // Two fronts beside each other share one gap: it is told once.
            let told = |worry: &Worry| matches!(worry, Worry::Gap { part, other: to, .. } if *part == other && *to == front.part);
            if !list.iter().any(told) {
                list.push(Worry::Gap { part: front.part, edge: edge.edge, other, gap, least });
            }
        }
    }
    let eaten = corners.iter().filter(|corner| corner.whole() > corner.wanted.max(NOTHING));
    list.extend(eaten.map(|corner| Worry::Corner(*corner)));
    list
}

/// Less than this, in mm, is eaten by nothing.
const NOTHING: f64 = 1e-6;
