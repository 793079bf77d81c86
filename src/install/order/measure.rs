//! What should it measure when it is right? Diagonals of units and of the corner, from the model.

use super::place::{corner_box, parts_of};
use super::step::{Check, StepId};
use crate::length::{Length, Unit};
use crate::model::{Model, Part, Role, Vec3};
use crate::plan::{Plan, Side};

/// How far off something may be, in plans in mm and in inches.
#[derive(Clone, Copy)]
pub(super) struct Limit {
    mm: f64,
    inches: f64,
    source: &'static str,
}

impl Limit {
    fn of(self, unit: Unit) -> Length {
        match unit {
            Unit::Millimetre => Length::mm(self.mm),
            Unit::Inch => Length::inches(self.inches),
        }
    }

    /// A check of `what` to this limit.
    pub(super) fn check(self, unit: Unit, what: impl Into<String>, size: Option<Length>) -> Check {
        Check { what: what.into(), size, within: Some(self.of(unit)), source: self.source }
    }
}

/// How much two diagonals of a box may differ, and a corner's diagonal be off.
const SQUARE: Limit = Limit { mm: 1.5, inches: 0.0625, source: PRACTICE };
/// How far a box may be off level or plumb over its own width, and a gap off its size.
pub(super) const CLOSE: Limit = Limit { mm: 0.8, inches: 0.03125, source: PRACTICE };
/// How far a whole run may be off one level line or plane.
pub(super) const LEVEL: Limit = Limit { mm: 1.5, inches: 0.0625, source: PRACTICE };
/// How far two faces side by side may stand out of line: 1/16 in.
const FLUSH: Limit =
    Limit { mm: 1.5, inches: 0.0625, source: "a residential remodelling guide (secondary source): 1/16 in" };

pub(super) const PRACTICE: &str = "common practice, no source";

/// Width along the run, depth out from its back and height, without what stands in front of the carcass, mm.
pub(super) fn carcass_size(plan: &Plan, model: &Model, side: Side, unit: usize) -> Option<[f64; 3]> {
    let run = model.run(side);
    let parts = parts_of(plan, model, StepId::Set(side, unit));
    let own = |wanted: fn(Role) -> bool| parts.iter().copied().filter(move |part: &&Part| wanted(part.role));
    let [low, high] = joint_extent(own(|role| role == Role::CarcassSide), run.along)?;
    let [back, front] = joint_extent(own(|role| matches!(role, Role::CarcassSide | Role::EdgeStrip)), run.out)?;
    let [_, top] = joint_extent(own(|role| role == Role::CarcassSide), Vec3::Z)?;
    let [bottom, _] = joint_extent(own(|role| role == Role::CarcassBottom), Vec3::Z)?;
    Some([high - low, front - back, top - bottom])
}

/// From where to where all of `parts` reach along `axis`; `None` where there are none.
fn joint_extent<'m>(parts: impl Iterator<Item = &'m Part>, axis: Vec3) -> Option<[f64; 2]> {
    parts.map(|part| part.extent(axis)).reduce(|[a, b], [c, d]| [a.min(c), b.max(d)])
}

/// Both diagonals of a unit's front and of its top, and whether it stands level.
pub(super) fn box_checks(plan: &Plan, model: &Model, side: Side, unit: usize) -> Vec<Check> {
    let Some([width, depth, height]) = carcass_size(plan, model, side, unit) else { return Vec::new() };
    let name = plan.run(side).units.get(unit).map_or("", |unit| unit.name.as_str());
    let name = format!("{} {} {name}", side.word(), unit + 1);
    let diagonal = |what: &str, across: f64| {
        SQUARE.check(plan.unit, format!("both diagonals of {name}, {what}, alike"), Some(Length::mm(across)))
    };
    vec![
        diagonal("carcass front", width.hypot(height)),
        diagonal("from above", width.hypot(depth)),
        CLOSE.check(plan.unit, format!("{name} level along and across, its sides plumb"), None),
    ]
}

/// Neighbours' faces in line.
pub(super) fn flush_check(plan: &Plan, side: Side) -> Check {
    let what = format!("faces of neighbours on the {} run flush, a straightedge across each joint", side.word());
    FLUSH.check(plan.unit, what, None)
}

/// Something in one line or plane.
pub(super) fn level_check(plan: &Plan, what: &str) -> Check {
    LEVEL.check(plan.unit, what, None)
}

/// From the far front edge of the one corner box to that of the other: both runs' own legs and the angle between them
/// make this third side. In a corner with one box alone there is nothing to measure across.
pub(super) fn corner_checks(plan: &Plan, model: &Model) -> Vec<Check> {
    let edges = Side::BOTH.map(|side| {
        let unit = corner_box(plan, side)?;
        let run = model.run(side);
        let parts = parts_of(plan, model, StepId::Set(side, unit));
        let sides = parts.into_iter().filter(|part| part.role == Role::CarcassSide);
        let [near, far] = joint_extent(sides, run.along)?;
        Some([near, far].map(|s| run.at(s, run.depth, 0.0)))
    });
    let [Some(left), Some(right)] = edges else { return Vec::new() };
    let across = |what: &str, from: Vec3, to: Vec3| {
        let what = format!("from the {what} front edge of the left corner box to that of the right one");
        SQUARE.check(plan.unit, what, Some(Length::mm((from - to).length())))
    };
    vec![across("near", left[0], right[0]), across("far", left[1], right[1])]
}

/// The filler's room: from where the front planes meet to the corner box.
pub(super) fn filler_check(model: &Model, side: Side) -> Check {
    let what = format!("the {} filler, from where the two front planes meet to the corner box", side.word());
    CLOSE.check(model.unit, what, Some(model.fillers.of(side)))
}
