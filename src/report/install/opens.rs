//! Does everything still open in the measured room, in words and as JSON?

use serde_json::{Value, json};

use super::super::text::finding_line;
use super::super::{Mark, check_json};
use crate::clearance::Answer;

/// Lines to read: what is wrong in the measured room, and whether it was wrong in the drawn one already.
#[must_use]
pub fn opens_text(measured: &Answer, drawn: &Answer) -> Vec<(Mark, String)> {
    let mut lines = vec![(Mark::Heading, "Clearance in the measured room".to_owned())];
    if measured.is_clear() {
        let line = "  Fillers and clearances hold: every drawer and door opens fully, and both runs fit.";
        lines.push((Mark::Good, line.to_owned()));
    }
    // In another room nothing is just as near, so findings are the same where they name the same things.
    let known = |part, other, kind| drawn.findings.iter().any(|f| f.part == part && f.other == other && f.kind == kind);
    for finding in &measured.findings {
        let told = if known(finding.part, finding.other, finding.kind) { " `check` says so too." } else { "" };
        lines.push((Mark::Bad, format!("  ! {}{told}", finding_line(measured, finding))));
    }
    lines
}

/// The same for machines, as `check` has it.
#[must_use]
pub fn opens_json(measured: &Answer) -> Value {
    let all = check_json(measured);
    json!({ "clear": all["clear"], "openings": all["openings"], "findings": all["findings"] })
}
