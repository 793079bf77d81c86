//! Do shelves and drawer bottoms bear their load, and does a drawer that hangs low still clear what is below?

use super::Worry;
use super::place::{Placed, Places, overlap};
use super::sag::Sagging;
use crate::length::{Length, SNAP_MM};
use crate::model::weight::weight;
use crate::model::{Model, Motion, Mover, MoverId, Part, PartId, Role, RuleClass};
use crate::plan::{Plan, Sheet, ShelfJoint, UnitKind, defaults};

/// A shelf under its load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShelfSag {
    /// The shelf.
    pub part: PartId,
    /// What it is cut from.
    pub sheet: Sheet,
    /// Whether its ends are let in or fixed, and so held in part.
    pub is_fixed: bool,
    /// What it does.
    pub sagging: Sagging,
}

/// A drawer under its load: its bottom, and what is nearest below it on its way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DrawerSag {
    /// The drawer, or the shelf that draws out.
    pub mover: MoverId,
    /// Its bottom.
    pub bottom: PartId,
    /// What it is cut from.
    pub sheet: Sheet,
    /// What the bottom does: over the shorter way between its grooves.
    pub sagging: Sagging,
    /// How far its front end drops when it is all the way out, mm; `None` where the slide does not say.
    pub droop: Option<f64>,
    /// What comes nearest; `None` where nothing lies below, or nothing comes down.
    pub nearest: Option<Below>,
}

/// Something below a part of a drawer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Below {
    /// The part of the drawer.
    pub part: PartId,
    /// What is below it.
    pub other: PartId,
    /// From one to the other as drawn, mm.
    pub room: f64,
    /// How far the part comes down there, mm.
    pub drop: f64,
    /// How far the drawer is out there, mm.
    pub out: f64,
}

impl Below {
    /// What is left between the two, mm.
    #[must_use]
    pub fn left(&self) -> f64 {
        self.room - self.drop
    }
}

/// A part's own weight, in N on each square millimetre of it seen from above; 0 where it has none.
fn own_weight(plan: &Plan, placed: &Placed<'_>) -> f64 {
    let area = (placed.along[1] - placed.along[0]) * (placed.out[1] - placed.out[0]);
    weight(placed.part, plan).map_or(0.0, |kg| kg * defaults::STANDARD_GRAVITY / area)
}

/// Newtons on a square millimetre in a pascal.
const N_MM2_IN_PA: f64 = 1e-6;

/// Every shelf that lies in its unit: those that draw out are drawers here.
pub(super) fn shelves(plan: &Plan, model: &Model, places: &Places<'_>) -> Vec<ShelfSag> {
    let is_fixed = matches!(plan.joinery.shelves, ShelfJoint::Fixed(_));
    let shelf = |part: &Part| {
        let (side, unit) = (part.run?, part.unit?);
        let own = places.unit(side, unit);
        let placed = own.iter().find(|placed| placed.part.id == part.id)?;
        let sides = || own.iter().filter(|placed| placed.part.role == Role::CarcassSide);
        // Between the sides' inner faces.
        let from = sides().map(|placed| placed.along[1]).fold(f64::INFINITY, f64::min);
        let to = sides().map(|placed| placed.along[0]).fold(f64::NEG_INFINITY, f64::max);
        let size = [placed.out[1] - placed.out[0], placed.up[1] - placed.up[0]];
        let pressure = plan.wood.load_pa * N_MM2_IN_PA;
        let sheet = plan.wood.panel;
        let sagging = Sagging::of(sheet, to - from, size, pressure, own_weight(plan, placed));
        Some(ShelfSag { part: part.id, sheet, is_fixed, sagging })
    };
    model.parts.iter().filter(|part| part.role == Role::Shelf).filter_map(shelf).collect()
}

/// Every drawer, and every shelf that draws out.
pub(super) fn drawers(plan: &Plan, model: &Model, places: &Places<'_>) -> Vec<DrawerSag> {
    let drawer = |mover: &Mover| {
        let own = places.unit(mover.side, mover.unit);
        let mut parts = own.iter().filter(|placed| placed.part.mover == Some(mover.id));
        let bottom = parts.find(|placed| placed.part.role == Role::BoxBottom)?;
        let sagging = bottom_sag(plan, bottom);
        let droop = droop(plan, model, mover);
        let nearest = nearest_below(mover, places, droop.unwrap_or(0.0), sagging.in_the_end);
        let sheet = plan.wood.thin_panel;
        Some(DrawerSag { mover: mover.id, bottom: bottom.part.id, sheet, sagging, droop, nearest })
    };
    model.movers.iter().filter_map(drawer).collect()
}

/// A box bottom, as a strip over the shorter way between its grooves: what the other two grooves bear is left out.
fn bottom_sag(plan: &Plan, bottom: &Placed<'_>) -> Sagging {
    let (groove, play) = (plan.joinery.box_groove.to_mm(), plan.joinery.box_play.to_mm());
    // What lies in both grooves; a bottom without grooves lies between the boards.
    let within = if groove > 0.0 { 2.0 * groove - play } else { 0.0 };
    let [along, out] = [bottom.along, bottom.out].map(|[low, high]| high - low - within);
    let (span, wide) = (along.min(out), along.max(out));
    let pressure = plan.wood.load_pa * N_MM2_IN_PA;
    let thick = bottom.up[1] - bottom.up[0];
    Sagging::of(plan.wood.thin_panel, span, [wide, thick], pressure, own_weight(plan, bottom))
}

/// The droop of the slides that `mover` runs on, mm.
fn droop(plan: &Plan, model: &Model, mover: &Mover) -> Option<f64> {
    let unit = plan.run(mover.side).units.get(mover.unit)?;
    let slide = match &unit.kind {
        // Drawers are built from the top downwards, as the plan lists them.
        UnitKind::Drawers(drawers) => {
            let of_unit = model.movers.iter().filter(|other| (other.side, other.unit) == (mover.side, mover.unit));
            drawers.get(of_unit.take_while(|other| other.id != mover.id).count())?.slide
        }
        UnitKind::DrawerOverDoor(drawer, _) if mover.behind.is_none() => drawer.slide,
        UnitKind::Door(door) | UnitKind::DrawerOverDoor(_, door) => door.pull_outs?.slide,
        _ => return None,
    };
    plan.slides.get(slide)?.droop.map(Length::to_mm)
}

/// What comes nearest below the parts of `mover` that come down on its way out, its bottom sagged by `sag`.
///
/// The drop grows with the way out: in proportion is the safe side, since a slide bends less at first. All of it counts
/// for every part, though what is still within the unit drops less.
fn nearest_below(mover: &Mover, places: &Places<'_>, droop: f64, sag: f64) -> Option<Below> {
    let Motion::Slide { travel, .. } = mover.motion else { return None };
    let mut nearest: Option<Below> = None;
    let own = places.unit(mover.side, mover.unit).iter().filter(|placed| placed.part.mover == Some(mover.id));
    for placed in own.filter(|placed| placed.part.role != Role::Pull) {
        let sags = if placed.part.role == Role::BoxBottom { sag } else { 0.0 };
        for other in places.round(mover.side, mover.unit).filter(|other| lies_below(placed, other, mover.id)) {
            // Over `other` from where the front edge comes over it to where the back edge leaves it.
            let (comes, leaves) = (other.out[0] - placed.out[1], other.out[1] - placed.out[0]);
            if comes >= travel || leaves <= 0.0 {
                continue;
            }
            let out = leaves.min(travel);
            let drop = sags + if travel > 0.0 { droop * out / travel } else { 0.0 };
            if drop <= 0.0 {
                continue;
            }
            let below =
                Below { part: placed.part.id, other: other.part.id, room: placed.up[0] - other.up[1], drop, out };
            if nearest.is_none_or(|least| below.left() < least.left()) {
                nearest = Some(below);
            }
        }
    }
    nearest
}

/// Whether `other` stands below `placed`, a part of `mover`, and stays where it is as that draws out.
fn lies_below(placed: &Placed<'_>, other: &Placed<'_>, mover: MoverId) -> bool {
    let stands = matches!(other.part.class, RuleClass::Run | RuleClass::Appliance);
    stands
        && other.part.mover != Some(mover)
        && other.up[1] <= placed.up[0] + SNAP_MM
        && overlap(placed.along, other.along)
}

/// What sags past its limits, bears too much, or does not clear.
pub(super) fn worries(shelves: &[ShelfSag], drawers: &[DrawerSag]) -> Vec<Worry> {
    let mut list = Vec::new();
    for shelf in shelves {
        if !shelf.sagging.holds() {
            list.push(Worry::Sags(*shelf));
        }
        if shelf.sagging.is_overloaded() {
            list.push(Worry::Overloaded(*shelf));
        }
    }
    for drawer in drawers {
        let drops = drawer.nearest.filter(|below| below.drop > SNAP_MM && below.left() < -SNAP_MM);
        list.extend(drops.map(|below| Worry::Drops { mover: drawer.mover, below }));
    }
    list
}
