//! What can be asked on the command line? One function a command: a plan's text in, printable text out.

use crate::clearance::{self, Answer, FillerMap};
use crate::install::Installation;
use crate::model::Model;
use crate::plan::{self, Plan, Problems};
use crate::progress::{Effort, Watch};
use crate::report::cutting::{self, Bench, BenchList};
use crate::report::install::{InstallList, install_json, install_text};
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
    /// 0: all clear. 1: conflicts, or pieces without a place.
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

/// `check --map`: the same, and every two that meet when both are open, and all good pairs of fillers.
///
/// # Errors
/// Every problem in the plan's text at once.
pub fn check_with_maps(name: &str, text: &str, style: Style) -> Result<Outcome, Problems> {
    let plan = plan::read(name, text)?;
    let answer = clearance::answer(&plan);
    let (maps, fillers) = (clearance::map::maps(&answer.model), FillerMap::of(&plan));
    let text = match style {
        Style::Json => {
            let mut value = report::check_json(&answer);
            value["together"] = report::maps_json(&answer.model, &maps);
            value["filler_pairs"] = report::fillers_json(&fillers);
            pretty(&value)
        }
        Style::Plain | Style::Coloured => {
            let mut lines = report::text(&answer);
            lines.extend(report::maps_text(&answer.model, &maps));
            lines.extend(report::fillers_text(&answer.model, &fillers));
            printed(lines, style)
        }
    };
    Ok(Outcome { text, code: u8::from(!answer.is_clear()) })
}

/// The clearance report of an answer.
#[must_use]
pub fn report(answer: &Answer, style: Style) -> Outcome {
    let text = match style {
        Style::Json => pretty(&report::check_json(answer)),
        Style::Plain | Style::Coloured => printed(report::text(answer), style),
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

/// How a list for the bench is to look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ListStyle {
    /// Lines to read.
    Lines(Style),
    /// A table with commas.
    Table,
}

/// `parts`: what is cut, finished, drilled, bought and paid for; one list of it, or all.
///
/// # Errors
/// Every problem in the plan's text at once.
pub fn parts(name: &str, text: &str, list: Option<BenchList>, style: ListStyle) -> Result<Outcome, Problems> {
    let (model, bench) = bench(name, text)?;
    let text = match style {
        ListStyle::Lines(Style::Json) => pretty(&cutting::parts_json(&bench, &model)),
        ListStyle::Lines(style) => {
            let lists = list.map_or(BenchList::ALL.to_vec(), |list| vec![list]);
            printed(cutting::parts_text(&bench, &model, &lists), style)
        }
        ListStyle::Table => cutting::parts_csv(&bench, &model, list.unwrap_or(BenchList::Cut)),
    };
    Ok(Outcome { text, code: 0 })
}

/// `rips`: the same in the order of the saw.
///
/// # Errors
/// Every problem in the plan's text at once.
pub fn rips(name: &str, text: &str, style: ListStyle) -> Result<Outcome, Problems> {
    let (_, bench) = bench(name, text)?;
    let text = match style {
        ListStyle::Lines(Style::Json) => pretty(&cutting::rips_json(&bench)),
        ListStyle::Lines(style) => printed(cutting::rips_text(&bench), style),
        ListStyle::Table => cutting::rips_csv(&bench),
    };
    Ok(Outcome { text, code: 0 })
}

/// How long to look for a layout.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Search {
    /// Where the chance choices begin.
    pub seed: u64,
    /// How many times the usual effort.
    pub times: u32,
}

impl Default for Search {
    fn default() -> Self {
        Self { seed: 1, times: 1 }
    }
}

/// `layout`: which piece comes out of which sheet or board, and what that comes to. Ends with 1 where a piece has no place,
/// and where `watch` cancels it, with no text.
///
/// # Errors
/// Every problem in the plan's text at once.
pub fn layout(
    name: &str,
    text: &str,
    style: ListStyle,
    search: Search,
    watch: &Watch<'_>,
) -> Result<Outcome, Problems> {
    let plan: Plan = plan::read(name, text)?;
    let model = Model::build(&plan, clearance::least_fillers(&plan));
    let bench = Bench::new(&model, &plan);
    let usual = Effort::for_demand(&bench.demand);
    let effort = Effort { steps: usual.steps.saturating_mul(search.times.into()), seed: search.seed };
    let Ok(laid) = crate::cutting::lay_out(&bench.demand, &plan.stock, &effort, watch) else {
        return Ok(Outcome { text: String::new(), code: 1 });
    };
    let text = match style {
        ListStyle::Lines(Style::Json) => pretty(&cutting::layout_json(&bench, &laid, &model)),
        ListStyle::Lines(style) => printed(cutting::layout_text(&bench, &laid), style),
        ListStyle::Table => cutting::layout_csv(&bench, &laid),
    };
    let all_placed = laid.materials.iter().all(|material| material.left.is_empty());
    Ok(Outcome { text, code: u8::from(!all_placed) })
}

/// `install`: where the runs stand in the measured room, what is shimmed and cut to fit, and in which order; one list of it,
/// or all.
///
/// # Errors
/// Every problem in the plan's text at once.
pub fn install(name: &str, text: &str, list: Option<InstallList>, style: Style) -> Result<Outcome, Problems> {
    let plan: Plan = plan::read(name, text)?;
    let model = Model::build(&plan, clearance::least_fillers(&plan));
    let installation = Installation::of(&plan, &model);
    let text = match style {
        Style::Json => pretty(&install_json(&installation)),
        Style::Plain | Style::Coloured => {
            let lists = list.map_or(InstallList::ALL.to_vec(), |list| vec![list]);
            printed(install_text(&installation, &lists), style)
        }
    };
    Ok(Outcome { text, code: 0 })
}

/// The model of a plan, its fillers resolved, and its readings for the bench.
fn bench(name: &str, text: &str) -> Result<(Model, Bench), Problems> {
    let plan: Plan = plan::read(name, text)?;
    let model = Model::build(&plan, clearance::least_fillers(&plan));
    let bench = Bench::new(&model, &plan);
    Ok((model, bench))
}

/// Lines, coloured by their marks where that is asked for.
fn printed(lines: Vec<(Mark, String)>, style: Style) -> String {
    let mut out = String::new();
    for (mark, line) in lines {
        let (on, off) = if style == Style::Coloured { ansi(mark) } else { ("", "") };
        out.extend([on, &line, off, "\n"]);
    }
    out
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
