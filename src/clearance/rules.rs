//! Which pair keeps what? The one table.
//!
//! | a moving part and … | rule |
//! |---|---|
//! | fronts, pulls, carcass, frame, filler face, kick of the *other* run, shut or ajar | clearance wanted |
//! | the other run's appliances | clearance wanted |
//! | end walls, casings, obstacles, and the wall its own run does not back on to | clearance wanted |
//! | its own unit, neighbours and appliances of its run, its own filler, wall and baseboard | no overlap |
//! | the floor, either countertop, and blocks hidden behind faces and covers | no overlap |
//!
//! | a door of the room and … | rule |
//! |---|---|
//! | either run, its appliances and countertop, obstacles | clearance wanted |
//! | walls, the floor | no overlap |
//! | casings: it hangs in one | nothing |
//!
//! | a drawer or door opposite a run and … | rule |
//! |---|---|
//! | either run, its appliances and countertop, walls, casings, doors of the room, other obstacles | clearance wanted |
//! | the floor | no overlap |
//! | that thing itself and its other fronts, which somebody else has fitted | nothing |
//!
//! A fixed part of a run, its countertop or a block behind its filler, and an end wall, casing or obstacle: no overlap; the
//! run fits or it does not. An appliance and a fixed part of the other run: no overlap.

use crate::model::{Part, Role, RuleClass};
use crate::plan::Side;

/// What a pair must keep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rule {
    /// The clearance that the plan wants.
    ClearanceWanted,
    /// Touching is fine, overlapping is not.
    NoOverlap,
}

/// What a moving part of `run` keeps from `other`, a part that does not move with it.
pub(super) fn rule(run: Side, other: &Part) -> Rule {
    match other.class {
        RuleClass::Run | RuleClass::Appliance | RuleClass::Wall if other.run == Some(run) => Rule::NoOverlap,
        RuleClass::Run | RuleClass::Appliance | RuleClass::Wall | RuleClass::Standing => Rule::ClearanceWanted,
        RuleClass::Floor | RuleClass::Countertop | RuleClass::Hidden => Rule::NoOverlap,
    }
}

/// What a door of the room keeps from `other`, which is no casing: touching the wall it is in is fine.
pub(super) fn rule_of_room_door(other: &Part) -> Rule {
    match other.class {
        RuleClass::Run | RuleClass::Appliance | RuleClass::Countertop => Rule::ClearanceWanted,
        // Boxes in the room; not the end wall beside it.
        RuleClass::Standing if other.role == Role::Obstacle => Rule::ClearanceWanted,
        RuleClass::Wall | RuleClass::Floor | RuleClass::Hidden | RuleClass::Standing => Rule::NoOverlap,
    }
}

/// What a drawer or door opposite a run keeps from `other`, which is no part of the thing that it belongs to.
pub(super) fn rule_of_opposite(other: &Part) -> Rule {
    match other.class {
        RuleClass::Floor | RuleClass::Hidden => Rule::NoOverlap,
        RuleClass::Run | RuleClass::Appliance | RuleClass::Countertop | RuleClass::Wall | RuleClass::Standing => {
            Rule::ClearanceWanted
        }
    }
}

/// Whether a fixed part is of the kind that a run must not stand in.
pub(super) fn stands_in_the_way(part: &Part) -> bool {
    part.class == RuleClass::Standing
}

/// Whether a part stands with its run and must fit between what stands in the room.
pub(super) fn must_fit(part: &Part) -> bool {
    // Boxes of drawers opposite are no part of a run.
    part.role != Role::Obstacle
        && matches!(part.class, RuleClass::Run | RuleClass::Appliance | RuleClass::Countertop | RuleClass::Hidden)
}

/// Whether a fixed part may reach into the other run: an appliance, which stands out past the front plane. Carcasses
/// cannot, since each keeps behind its own front plane, and the corner's own pieces are cut to each other.
pub(super) fn may_reach_over(part: &Part) -> bool {
    part.class == RuleClass::Appliance
}
