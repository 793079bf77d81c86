//! Where does one stand before an open drawer or door, and who gets past it?

use super::Clause;
use crate::model::{Convex, Model, Mover, MoverId, Part, PartId, Role, RuleClass, Vec3};

/// The floor before one drawer or door that is open its whole way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    /// What is open.
    pub mover: MoverId,
    /// How far it stands out from its run's front plane, open, mm.
    pub stands_out: f64,
    /// What stands opposite, nearest; `None` where the plan has nothing there.
    pub opposite: Option<PartId>,
    /// The floor from what is open to that, straight out from the run, mm; `None` where nothing stands there.
    pub room: Option<f64>,
}

impl Standing {
    /// Whether the clear floor space of 305.3 has room, its depth before what is open; where nothing stands opposite it
    /// has.
    #[must_use]
    pub fn takes_clear_floor(&self) -> bool {
        self.room.is_none_or(|room| Clause::ClearFloor.is_met(room))
    }

    /// Whether somebody gets past while it is open.
    #[must_use]
    pub fn leaves_a_way_past(&self) -> bool {
        self.room.is_none_or(|room| Clause::Walking.is_met(room))
    }
}

/// What hangs higher than this is over everybody's head, mm. 2010 ADA Standards, 307.4 (80 in), from memory.
const OVERHEAD: f64 = 2032.0;
/// What stays below this is stepped over or has toes above it, mm: a sill's or a baseboard's height. Our own choice.
const UNDERFOOT: f64 = 50.0;

/// What reaches into the strip before a front by less than this, mm, is passed with a shoulder: the other run's pulls
/// beside a drawer at the corner. Our own choice: a hand's breadth.
const SHOULDER: f64 = 100.0;

/// The floor before everything of the runs that opens.
pub(super) fn standing(model: &Model) -> Vec<Standing> {
    let asked = |mover: &&Mover| !mover.of_the_room && mover.behind.is_none();
    model.movers.iter().filter(asked).map(|mover| before(model, mover)).collect()
}

fn before(model: &Model, mover: &Mover) -> Standing {
    let run = model.run(mover.side);
    let carry = mover.motion.carrier(mover.motion.extent());
    let corners = || {
        let parts = mover.parts.iter().map(|&id| model.part(id));
        parts.flat_map(Part::outside).flat_map(Convex::vertices).map(&carry)
    };
    let span = |axis: Vec3| {
        let along = corners().map(|p| p.dot(axis));
        along.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], d| [low.min(d), high.max(d)])
    };
    let ([near, far], [_, reaches]) = (span(run.along), span(run.out));
    let mut nearest: Option<(f64, PartId)> = None;
    for part in model.parts.iter().filter(|part| stands_in_the_way(part, mover)) {
        for piece in part.outside() {
            let extent = |axis: Vec3| {
                let along = piece.vertices().map(|p| p.dot(axis));
                along.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], d| [low.min(d), high.max(d)])
            };
            let ([s, end], [front, back], [low, high]) = (extent(run.along), extent(run.out), extent(Vec3::Z));
            let before_it = far.min(end) - near.max(s) >= SHOULDER.min((far - near) / 2.0);
            let before_it = before_it && back > reaches && low < OVERHEAD && high > UNDERFOOT;
            let room = (front - reaches).max(0.0);
            if before_it && nearest.is_none_or(|(least, _)| room < least) {
                nearest = Some((room, part.id));
            }
        }
    }
    Standing {
        mover: mover.id,
        stands_out: reaches - run.depth,
        opposite: nearest.map(|(_, id)| id),
        room: nearest.map(|(room, _)| room),
    }
}

/// Whether a person before something of `mover`'s run may meet `part`, everything else shut.
fn stands_in_the_way(part: &Part, mover: &Mover) -> bool {
    let opens_too = part.mover == Some(mover.id);
    match part.class {
        RuleClass::Floor | RuleClass::Hidden => false,
        // One stands beside one's own run, and one's knees under a countertop's overhang.
        RuleClass::Run | RuleClass::Appliance | RuleClass::Countertop => part.run != Some(mover.side),
        RuleClass::Wall => part.run != Some(mover.side) || part.role == Role::EndWall,
        RuleClass::Standing => !opens_too,
    }
}
