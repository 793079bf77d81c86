//! How high is it, and do fingers get behind it? Pulls, what things are put on, the worktop, the toe kick.

use super::Clause;
use crate::model::{Model, Mover, MoverId, Part, PartId, Role, RuleClass, Vec3};
use crate::plan::{Plan, PullShape, UnitKind};

/// The room for fingers at one pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fingers {
    /// The drawer or door.
    pub mover: MoverId,
    /// From the front to the back of the bar, mm; `None` for a knob, which one takes by its head.
    pub behind: Option<f64>,
    /// What stands out beside the pull, nearest, everything shut; `None` where nothing does within a hand's breadth.
    pub beside: Option<(PartId, f64)>,
}

impl Fingers {
    /// The clauses that it falls short of.
    #[must_use]
    pub fn short_of(&self) -> Vec<Clause> {
        let behind = self.behind.filter(|&mm| !Clause::FingersBehind.is_met(mm)).map(|_| Clause::FingersBehind);
        let beside = self.beside.filter(|&(_, mm)| !Clause::FingersBeside.is_met(mm)).map(|_| Clause::FingersBeside);
        behind.into_iter().chain(beside).collect()
    }
}

/// How high one drawer or door is taken hold of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pulled {
    /// The drawer or door.
    pub mover: MoverId,
    /// The middle of its pull above the finished floor, mm; where it has none, the upper edge of its front.
    pub height: f64,
    /// Whether it has no pull, and is taken by its edge.
    pub by_edge: bool,
}

/// How much of what things are put on lies within reach, by area.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Stored {
    /// All of it, mm²: drawer bottoms, shelves, and carcass bottoms that are no drawers' place.
    pub whole: f64,
    /// What of it lies within reach, mm².
    pub within: f64,
}

impl Stored {
    /// The share within reach, 0 to 1; 1 where nothing is stored.
    #[must_use]
    pub fn share(&self) -> f64 {
        if self.whole > 0.0 { self.within / self.whole } else { 1.0 }
    }

    /// Whether it is half of it at the least.
    #[must_use]
    pub fn is_met(&self) -> bool {
        self.share() >= super::clause::storage_share()
    }
}

/// The space for toes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kick {
    /// Its height above the finished floor, mm.
    pub height: f64,
    /// From the front plane back to the kick cover's face, mm.
    pub depth: f64,
}

impl Kick {
    /// Whether it is toe clearance as 306.2 has it.
    #[must_use]
    pub fn is_toe_clearance(&self) -> bool {
        self.height >= super::clause::toe_height().to_mm() && Clause::Toe.is_met(self.depth)
    }
}

/// Further than this from a pull nothing is in a hand's way, mm: the least that is told as enough, and as much again.
const HAND: f64 = 76.0;

pub(super) fn fingers(plan: &Plan, model: &Model) -> Vec<Fingers> {
    let mut list = Vec::new();
    for mover in model.movers.iter().filter(|mover| !mover.of_the_room) {
        let Some(pull) = mover.pull.and_then(|index| plan.pulls.get(index)) else { continue };
        let behind = match pull.shape {
            PullShape::Bar { thickness, .. } => Some((pull.projection - thickness).to_mm()),
            PullShape::Knob { .. } => None,
            // A lip or a front's edge is taken from above.
            PullShape::Edge { .. } | PullShape::Absent => continue,
        };
        list.push(Fingers { mover: mover.id, behind, beside: beside(model, mover) });
    }
    list
}

/// The nearest thing beside `mover`'s pull that stands out as far as some of it, everything shut.
fn beside(model: &Model, mover: &Mover) -> Option<(PartId, f64)> {
    let run = model.run(mover.side);
    let axes = [run.along, run.out, Vec3::Z];
    let spans = |part: &Part| axes.map(|axis| part.extent(axis));
    let own = mover.parts.iter().map(|&id| model.part(id)).find(|part| part.role == Role::Pull).map(spans)?;
    let mut nearest: Option<(PartId, f64)> = None;
    let others = model.parts.iter().filter(|part| part.mover != Some(mover.id) && stands_out(part.class));
    for part in others {
        let other = spans(part);
        // What lies no further out than the front is behind the knuckles.
        if other[1][1] <= own[1][0] + LEVEL || other[1][0] >= own[1][1] {
            continue;
        }
        let gap = |k: usize| (other[k][0] - own[k][1]).max(own[k][0] - other[k][1]).max(0.0);
        let apart = gap(0).hypot(gap(2));
        if apart < HAND && nearest.is_none_or(|(_, least)| apart < least) {
            nearest = Some((part.id, apart));
        }
    }
    nearest
}

/// Faces in one plane are no further apart than this, mm.
const LEVEL: f64 = 1e-6;

fn stands_out(class: RuleClass) -> bool {
    !matches!(class, RuleClass::Floor | RuleClass::Hidden)
}

pub(super) fn pulled(model: &Model) -> Vec<Pulled> {
    let mut list = Vec::new();
    for mover in model.movers.iter().filter(|mover| !mover.of_the_room) {
        let parts = || mover.parts.iter().map(|&id| model.part(id));
        let pulls = parts().filter(|part| matches!(part.role, Role::Pull | Role::ApplianceHandle));
        let span = pulls.map(|part| part.extent(Vec3::Z)).reduce(|[a, b], [low, high]| [a.min(low), b.max(high)]);
        let top = || parts().map(|part| part.extent(Vec3::Z)[1]).fold(0.0, f64::max);
        let height = span.map_or_else(top, |[low, high]| f64::midpoint(low, high));
        list.push(Pulled { mover: mover.id, height, by_edge: span.is_none() });
    }
    list
}

pub(super) fn stored(plan: &Plan, model: &Model) -> Stored {
    let mut stored = Stored::default();
    for part in &model.parts {
        let Some((side, unit)) = part.run.zip(part.unit) else { continue };
        let counts = match part.role {
            Role::BoxBottom | Role::Shelf => true,
            Role::CarcassBottom => {
                plan.run(side).units.get(unit).is_some_and(|unit| is_stored_on_its_bottom(&unit.kind))
            }
            _ => false,
        };
        if counts {
            let run = model.run(side);
            let size = |axis: Vec3| part.extent(axis)[1] - part.extent(axis)[0];
            let area = size(run.along) * size(run.out);
            stored.whole += area;
            if Clause::Storage.is_met(part.extent(Vec3::Z)[1]) {
                stored.within += area;
            }
        }
    }
    stored
}

/// Whether things stand on the carcass bottom itself: where no drawer runs over it.
fn is_stored_on_its_bottom(kind: &UnitKind) -> bool {
    match kind {
        UnitKind::Door(door) => door.pull_outs.is_none(),
        UnitKind::DrawerOverDoor(..) | UnitKind::OpenShelves { .. } => true,
        UnitKind::Drawers(_) | UnitKind::EndPanel | UnitKind::ApplianceSpace(_) => false,
    }
}

pub(super) fn worktop(model: &Model) -> Option<f64> {
    let tops = model.parts.iter().filter(|part| part.role == Role::Countertop).map(|part| part.extent(Vec3::Z)[1]);
    tops.reduce(f64::max)
}

pub(super) fn kick(plan: &Plan) -> Kick {
    let c = &plan.construction;
    Kick { height: c.kick_height.to_mm(), depth: c.kick_setback.to_mm() }
}
