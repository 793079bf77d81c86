//! What can be asked on the command line? One function a command: a plan's text in, printable text out.

use crate::clearance::{self, Answer};
use crate::model::Model;
use crate::plan::{self, Plan, Problems};
use crate::report::{self, Mark};

/// The demo: a pottery studio's glazing corner.
pub const DEMO: &str = include_str!("../assets/plans/glazing-corner.ron");

/// What the demo is called where a file's name would stand.
pub const DEMO_NAME: &str = "glazing-corner.ron";

/// How a command's text is to look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    /// No colour: a pipe, a file, or `NO_COLOR`.
    Plain,
    /// Coloured, on a terminal.
    Coloured,
    /// JSON, for machines.
    Json,
}

/// What a command has to say, and how the program is to end.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// For standard output.
    pub text: String,
    /// 0: all clear. 1: conflicts.
    pub code: u8,
}

/// `check`: the clearance report of a plan.
///
/// # Errors
/// Every problem in the plan's text at once.
pub fn check(name: &str, text: &str, style: Style) -> Result<Outcome, Problems> {
    let plan = plan::read(name, text)?;
    Ok(report(&clearance::answer(&plan), style))
}

/// The clearance report of an answer.
#[must_use]
pub fn report(answer: &Answer, style: Style) -> Outcome {
    let text = match style {
        Style::Json => pretty(&report::check_json(answer)),
        Style::Plain | Style::Coloured => {
            let mut out = String::new();
            for (mark, line) in report::text(answer) {
                let (on, off) = if style == Style::Coloured { ansi(mark) } else { ("", "") };
                out.extend([on, &line, off, "\n"]);
            }
            out
        }
    };
    Outcome { text, code: u8::from(!answer.is_clear()) }
}

/// `solids`: every solid of the plan, its fillers resolved, as JSON.
///
/// # Errors
/// Every problem in the plan's text at once.
pub fn solids(name: &str, text: &str) -> Result<Outcome, Problems> {
    let plan: Plan = plan::read(name, text)?;
    let model = Model::build(&plan, clearance::least_fillers(&plan));
    Ok(Outcome { text: pretty(&report::solids_json(&model, &plan.clearance)), code: 0 })
}

fn pretty(value: &serde_json::Value) -> String {
    format!("{value:#}\n")
}

/// The eight-colour codes every terminal knows.
fn ansi(mark: Mark) -> (&'static str, &'static str) {
    match mark {
        Mark::Good => ("\u{1b}[1;32m", "\u{1b}[0m"),
        Mark::Bad => ("\u{1b}[31m", "\u{1b}[0m"),
        Mark::Heading => ("\u{1b}[1m", "\u{1b}[0m"),
        Mark::Plain => ("", ""),
    }
}
