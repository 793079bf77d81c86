//! The plans that the tests show.

use std::path::Path;

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
    let width = Filler::Fixed(Length::mm(mm));
    let mut plan = plan();
    for side in Side::BOTH {
        plan.corner = plan.corner.with_filler(side, width);
    }
    plan
}

/// The text of a plan that differs from the file's by its fillers alone.
fn text_of(plan: &Plan) -> String {
    let word = |side| match plan.corner.filler(side) {
        Filler::Fixed(width) => format!("Fixed({})", width.to_mm()),
        Filler::Least => "Least".to_owned(),
    };
    let text = TEXT.replace("left: Fixed(40)", &format!("left: {}", word(Side::Left)));
    let text = text.replace("right: Least", &format!("right: {}", word(Side::Right)));
    assert_eq!(plan::read("glazing-corner.ron", &text).ok().as_ref(), Some(plan), "the text says what the plan is");
    text
}

/// So narrow that something touches.
pub(crate) fn too_narrow() -> Plan {
    with_fillers(0.0)
}

/// So narrow that the left drawers touch a pull of the other run, when most of their way out.
pub(crate) fn tight() -> Plan {
    with_fillers(40.0)
}

/// So wide that everything opens past everything.
pub(crate) fn wide() -> Plan {
    with_fillers(150.0)
}

/// A plan that was never saved.
pub(crate) fn source(plan: Plan) -> Source {
    Source { path: None, name: "glazing-corner.ron".to_owned(), text: text_of(&plan), plan }
}

/// The example plan, saved as a file in `folder`.
pub(crate) fn saved(folder: &Path) -> Source {
    let path = folder.join("corner.ron");
    std::fs::write(&path, TEXT).expect("the folder can be written to");
    Source { name: path.display().to_string(), path: Some(path), text: TEXT.to_owned(), plan: plan() }
}

/// The first drawer or door that touches something.
pub(crate) fn touching(plan: &Plan) -> MoverId {
    let answer = elbowroom::clearance::answer(plan);
    answer.openings.iter().find(|o| o.touches_first.is_some()).expect("something touches").mover
}
