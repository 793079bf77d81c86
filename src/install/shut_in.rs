//! What would nobody get at any more? Outlets, junction boxes, gas cocks, valves and registers that the units shut in.
//!
//! Takes the survey's fixtures and the model as planned, gives each one that ends up behind drawers, behind an end
//! panel's edge, behind the toe kick or in the dead corner. What lies behind a door or open shelves can be reached through
//! an opening in the back, and behind an appliance by pulling that out; pipes, casings and sills need no reaching.
//!
//! A fixture counts as it is measured, [`SLACK_MM`] larger on each side, since the runs move a little when they are set to
//! the real walls: on the safe side.

use crate::model::{Model, Role, RunFrame, Vec3};
use crate::plan::{Fixture, FixtureKind, Plan, Side, UnitKind};

/// How much larger than measured a fixture counts, on each side, mm. Our own choice.
const SLACK_MM: f64 = 10.0;

/// One fixture that would be shut in.
#[derive(Clone, Debug, PartialEq)]
pub struct ShutIn {
    /// The wall it is on.
    pub wall: Side,
    /// The fixture, as surveyed.
    pub fixture: Fixture,
    /// What shuts it in.
    pub behind: Behind,
}

/// What shuts a fixture in.
#[derive(Clone, Debug, PartialEq)]
pub enum Behind {
    /// The drawers of a unit.
    Drawers {
        /// Index of the unit in its run.
        unit: usize,
        /// What the builder calls it.
        name: String,
    },
    /// An end panel, which stands on it edge on.
    EndPanel {
        /// Index of the unit in its run.
        unit: usize,
        /// What the builder calls it.
        name: String,
    },
    /// The toe kick of a unit.
    Kick {
        /// Index of the unit in its run.
        unit: usize,
        /// What the builder calls it.
        name: String,
    },
    /// The corner that neither run reaches.
    DeadCorner,
}

/// Every fixture of `plan` that the units of `model`, which is the model as planned, shut in: left wall first, each in
/// the order of the survey.
#[must_use]
pub(super) fn shut_in(plan: &Plan, model: &Model) -> Vec<ShutIn> {
    let Some(corner) = room_corner(model) else { return Vec::new() };
    let of_wall = |side: Side| {
        plan.room.survey.wall(side).fixtures.iter().filter_map(move |fixture| {
            let behind = behind(plan, model.run(side), corner, fixture)?;
            Some(ShutIn { wall: side, fixture: fixture.clone(), behind })
        })
    };
    Side::BOTH.into_iter().flat_map(of_wall).collect()
}

/// Where the two walls meet, on the floor: each wall of the model ends its measured length from there.
fn room_corner(model: &Model) -> Option<Vec3> {
    let along = |side: Side| {
        let run = model.run(side);
        let wall = model.parts.iter().find(|part| part.role == Role::Wall && part.run == Some(side))?;
        Some((run.wall_along, wall.extent(run.wall_along)[1] - run.wall_length))
    };
    let ((a, at_a), (b, at_b)) = (along(Side::Left)?, along(Side::Right)?);
    let area = a.x * b.y - a.y * b.x;
    Some(Vec3::new((at_a * b.y - at_b * a.y) / area, (a.x * at_b - b.x * at_a) / area, 0.0))
}

fn behind(plan: &Plan, run: &RunFrame, corner: Vec3, fixture: &Fixture) -> Option<Behind> {
    match fixture.kind {
        FixtureKind::Outlet
        | FixtureKind::JunctionBox
        | FixtureKind::Gas
        | FixtureKind::Valve
        | FixtureKind::Register => {}
        FixtureKind::Pipe | FixtureKind::Casing | FixtureKind::Sill => return None,
    }
    let construction = &plan.construction;
    let around = |middle: f64, size: f64| [middle - size / 2.0 - SLACK_MM, middle + size / 2.0 + SLACK_MM];
    let [low, high] = around(fixture.above.to_mm(), fixture.height.to_mm());
    let middle = (corner + run.wall_along * fixture.along.to_mm()).dot(run.along);
    let [near, far] = around(middle, fixture.width.to_mm());
    if near >= run.ends_at {
        return None;
    }
    if near < run.starts_at && low < construction.height.to_mm() {
        return Some(Behind::DeadCorner);
    }
    let mut from = run.starts_at;
    for (index, unit) in plan.run(run.side).units.iter().enumerate() {
        let to = from + unit.width.to_mm();
        let is_behind = near < to && far > from && low < unit.stands().to_mm();
        from = to;
        if !is_behind {
            continue;
        }
        let name = unit.name.clone();
        let zone_top = plan.construction_of(unit).front_zone().top;
        match &unit.kind {
            UnitKind::EndPanel => return Some(Behind::EndPanel { unit: index, name }),
            // The appliance is pulled out, kick and all.
            UnitKind::ApplianceSpace(_) => {}
            _ if low < construction.kick_height.to_mm() => return Some(Behind::Kick { unit: index, name }),
            UnitKind::Drawers(_) => return Some(Behind::Drawers { unit: index, name }),
            UnitKind::DrawerOverDoor(drawer, _) if high > (zone_top - drawer.front_height).to_mm() => {
                return Some(Behind::Drawers { unit: index, name });
            }
            UnitKind::DrawerOverDoor(..) | UnitKind::Door(_) | UnitKind::OpenShelves { .. } => {}
        }
    }
    None
}
