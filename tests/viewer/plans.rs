//! The plans that the tests show.

use elbowroom::length::Length;
use elbowroom::model::MoverId;
use elbowroom::plan::{self, Filler, Plan, Side};
use elbowroom::viewer::Source;

/// A plan whose left filler is a fixed width that may be too narrow.
pub(crate) const TEXT: &str = include_str!("../../assets/plans/glazing-corner.ron");

/// The plan as its file has it.
pub(crate) fn plan() -> Plan {
    plan::read("glazing-corner.ron", TEXT).expect("the example plan is good")
}

/// With both fillers this wide, mm.
pub(crate) fn with_fillers(mm: f64) -> Plan {
    let mut plan = plan();
    for side in Side::BOTH {
        plan.corner = plan.corner.with_filler(side, Filler::Fixed(Length::mm(mm)));
    }
    plan
}

/// So narrow that something touches.
pub(crate) fn too_narrow() -> Plan {
    with_fillers(0.0)
}

/// So wide that everything opens past everything.
pub(crate) fn wide() -> Plan {
    with_fillers(150.0)
}

pub(crate) fn source(plan: Plan) -> Source {
    Source { path: None, name: "glazing-corner.ron".to_owned(), text: TEXT.to_owned(), plan }
}

/// The first drawer or door that touches something.
pub(crate) fn touching(plan: &Plan) -> MoverId {
    let answer = elbowroom::clearance::answer(plan);
    answer.openings.iter().find(|o| o.touches_first.is_some()).expect("something touches").mover
}
