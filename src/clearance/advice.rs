//! What is not wrong, and had better be otherwise? An appliance at the corner with nothing beside it to hold the filler,
//! too little room to stand beside an open appliance, to pass before a run or to stand a tall unit up.

use super::Opening;
use super::passage::{OpenPassage, passages};
use super::sweep::{Swept, closest};
use crate::length::Length;
use crate::model::convex::hull_outline;
use crate::model::{Convex, Model, Motion, Mover, Part, PartId, Role, RuleClass, Vec3};
use crate::plan::{CabinetUnit, Plan, Side, UnitKind, defaults};

/// One thing that had better be otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Advice {
    /// An appliance is the first of its run: the corner filler has nothing to be screwed to, and the countertop nothing
    /// to lie on, until a panel stands between.
    SupportPanel {
        /// Which run.
        side: Side,
        /// The appliance.
        appliance: PartId,
    },
    /// Beside the open door of an appliance there is less room to stand than is usual, or as much: see `is_short`.
    StandingRoom {
        /// A part of the door.
        door: PartId,
        /// What is nearest to it on the other run or in the room.
        other: PartId,
        /// The room between them, seen from above.
        room: Length,
        /// What is usual.
        wanted: Length,
    },
    /// How high the ceiling must be for a tall unit that is made lying down to be stood up at its place, as against how
    /// high it is.
    Raising {
        /// One of the unit's sides.
        side: PartId,
        /// The ceiling.
        room: Length,
        /// The unit's diagonal, seen from its side.
        wanted: Length,
    },
    /// How wide the passage is between a run, shut, and what stands opposite it on the floor.
    Passage {
        /// The run's part that stands out farthest there.
        part: PartId,
        /// What stands opposite.
        other: PartId,
        /// The room between them, seen from above.
        room: Length,
        /// What a published standard asks for.
        wanted: Length,
        /// The passage with drawers and doors open; `None` where what stands opposite has none.
        open: Option<OpenPassage>,
    },
}

impl Advice {
    /// Whether something is short of what is usual; else it is told for the builder to judge.
    #[must_use]
    pub fn is_short(&self) -> bool {
        match self {
            Self::SupportPanel { .. } => true,
            Self::StandingRoom { room, wanted, .. }
            | Self::Raising { room, wanted, .. }
            | Self::Passage { room, wanted, .. } => room < wanted,
        }
    }
}

/// Everything about `plan`, whose `model` opens as `openings` say.
pub(super) fn advice(plan: &Plan, model: &Model, openings: &[Opening]) -> Vec<Advice> {
    let mut list: Vec<Advice> = Side::BOTH.into_iter().filter_map(|side| support_panel(plan, model, side)).collect();
    for (mover, opening) in model.movers.iter().zip(openings) {
        list.extend(standing_room(plan, model, mover, opening.to_touch));
    }
    list.extend(Side::BOTH.into_iter().flat_map(|side| raised(plan, model, side)));
    list.extend(passages(plan, model, openings));
    list
}

/// The tall units of `side`: what stands on a base of its own goes up without that.
fn raised<'m>(plan: &'m Plan, model: &'m Model, side: Side) -> impl Iterator<Item = Advice> + 'm {
    let tall = |(_, unit): &(usize, &CabinetUnit)| unit.kind.has_carcass() && plan.is_tall(unit);
    plan.run(side).units.iter().enumerate().filter(tall).filter_map(move |(index, _)| {
        let own = |part: &&Part| part.run == Some(side) && part.unit == Some(index) && part.mover.is_none();
        let own = model.parts.iter().filter(own).filter(|part| !matches!(part.role, Role::BaseFrame | Role::Leg));
        let spans = [model.run(side).out, Vec3::Z].map(|axis| {
            let extents = own.clone().map(|part| part.extent(axis));
            extents.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], [a, b]| [low.min(a), high.max(b)])
        });
        let [deep, high] = spans.map(|[low, high]| high - low);
        let board = own.clone().find(|part| part.role == Role::CarcassSide)?.id;
        Some(Advice::Raising { side: board, room: plan.room.ceiling, wanted: Length::mm(deep.hypot(high)) })
    })
}

fn support_panel(plan: &Plan, model: &Model, side: Side) -> Option<Advice> {
    let first = plan.run(side).units.first()?;
    if !matches!(first.kind, UnitKind::ApplianceSpace(_)) {
        return None;
    }
    let stands = |part: &&Part| part.role == Role::Appliance && part.run == Some(side);
    let appliance = model.parts.iter().filter(stands).find(|part| part.unit == Some(0))?.id;
    Some(Advice::SupportPanel { side, appliance })
}

/// Room to stand beside an appliance's door that drops down, `out` open: the distance seen from above to the nearest
/// thing that is no part of its own run.
fn standing_room(plan: &Plan, model: &Model, mover: &Mover, out: f64) -> Option<Advice> {
    let Motion::Swing { axis, .. } = mover.motion else { return None };
    let doors = || mover.parts.iter().map(|&id| model.part(id)).filter(|part| part.class == RuleClass::Appliance);
    if axis.z.abs() > LEVEL || doors().next().is_none() {
        return None;
    }
    let carry = mover.motion.carrier(out);
    let mut nearest: Option<(f64, PartId, PartId)> = None;
    for door in doors() {
        let open = door.pieces.iter().map(|piece| from_above(piece.vertices().map(&carry)));
        let open: Vec<Convex> = open.collect();
        for part in model.parts.iter().filter(|part| stands_beside(part, mover.side)) {
            for piece in &part.pieces {
                let other = from_above(piece.vertices());
                for leaf in &open {
                    let gap = closest(&Swept::still(leaf), &Swept::still(&other)).distance;
                    if nearest.is_none_or(|(least, ..)| gap < least) {
                        nearest = Some((gap, door.id, part.id));
                    }
                }
            }
        }
    }
    let (room, door, other) = nearest?;
    let wanted = defaults::STANDING_ROOM.of(plan.unit);
    Some(Advice::StandingRoom { door, other, room: Length::mm(room), wanted })
}

/// A line that rises less than this a millimetre is level.
const LEVEL: f64 = 1e-9;

/// Whether a person who stands beside something of `side`'s run may be held up by `part`.
fn stands_beside(part: &Part, side: Side) -> bool {
    match part.class {
        RuleClass::Floor | RuleClass::Hidden => false,
        RuleClass::Run | RuleClass::Appliance | RuleClass::Countertop | RuleClass::Wall => part.run != Some(side),
        RuleClass::Standing => true,
    }
}

/// What a piece covers of the floor, a millimetre high.
fn from_above(corners: impl Iterator<Item = Vec3>) -> Convex {
    let flat: Vec<Vec3> = corners.map(|v| Vec3::new(v.x, v.y, 0.0)).collect();
    Convex::prism(hull_outline(&flat), Vec3::Z)
}
