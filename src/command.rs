//! What can be asked on the command line? One function a command: a plan's text in, printable text out.

use crate::certainty::{self, Sampling};
use crate::clearance::{self, Answer, FillerMap};
use crate::install::{Installation, Set};
use crate::model::Model;
use crate::people::People;
use crate::plan::{self, Plan, Problems, RunAngle};
use crate::progress::{Effort, Watch, patient};
use crate::report::certainty as certain;
use crate::report::cutting::{self, Bench, BenchList};
use crate::report::install::{self, InstallList, Template, install_json, install_text, opens_json, opens_text};
use crate::report::{self, Mark};
use crate::wood::Reading;

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
    check_with(name, text, style, Beside::default())
}

/// What `check` tells beside the report.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Beside {
    /// Every two that meet when both are open, and all good pairs of fillers.
    pub maps: bool,
    /// The worst case over the plan's tolerances, and what would save most filler.
    pub sure: bool,
    /// All that wood and load do; what of it had better be otherwise is told in any case.
    pub wood: bool,
    /// Room for people.
    pub people: bool,
}

/// `check` with more beside it.
///
/// # Errors
/// Every problem in the plan's text at once.
pub fn check_with(name: &str, text: &str, style: Style, beside: Beside) -> Result<Outcome, Problems> {
    let plan = plan::read(name, text)?;
    let answer = clearance::answer(&plan);
    let reading = Reading::of(&plan, &answer.model);
    let mut lines = report::text_with(&answer, report::worry_lines(&answer.model, &reading));
    let mut json = report::check_json(&answer);
    json["wood_worries"] = report::worries_json(&answer.model, &reading);
    if beside.wood {
        json["wood"] = report::wood_json(&plan, &answer.model, &reading);
        lines.extend(report::wood_text(&plan, &answer.model, &reading));
    }
    if beside.maps {
        let (maps, fillers) = (clearance::map::maps(&answer.model), FillerMap::of(&plan));
        json["together"] = report::maps_json(&answer.model, &maps);
        json["filler_pairs"] = report::fillers_json(&fillers);
        lines.extend(report::maps_text(&answer.model, &maps));
        lines.extend(report::fillers_text(&answer.model, &fillers));
    }
    if beside.sure {
        let worst = certainty::worst(&plan, &answer);
        let tried = certainty::alternatives::alternatives(name, text, &plan, &patient).ok();
        json["worst"] = certain::worst_json(&answer, &worst);
        json["narrower"] = tried.as_ref().map_or(serde_json::Value::Null, |tried| certain::best_json(&plan, tried));
        lines.extend(certain::worst_text(&answer, &plan, &worst));
        let best = tried.and_then(|tried| certain::best_line(&plan, &tried));
        lines.extend(best.map(|line| (Mark::Plain, format!("  {line}"))));
    }
    if beside.people {
        let people = People::of(&plan, &answer.model);
        json["people"] = report::people_json(&answer.model, &people);
        lines.extend(report::people_text(&answer.model, &people));
    }
    let text = match style {
        Style::Json => pretty(&json),
        Style::Plain | Style::Coloured => printed(lines, style),
    };
    Ok(Outcome { text, code: u8::from(!answer.is_clear()) })
}

/// `sure`: what the fillers must be when things are a little off. Ends with 1 where something touches in any sample with
/// the fillers as they are, and where `watch` cancels it, with no text.
///
/// # Errors
/// Every problem in the plan's text at once.
pub fn sure(name: &str, text: &str, style: Style, sampling: Sampling, watch: &Watch<'_>) -> Result<Outcome, Problems> {
    let plan = plan::read(name, text)?;
    let answer = clearance::answer(&plan);
    let Ok((worst, sure)) = certainty::sure(&plan, &answer, sampling, watch) else {
        return Ok(Outcome { text: String::new(), code: 1 });
    };
    let text = match style {
        Style::Json => pretty(&certain::sure_json(&answer, &plan, &worst, &sure)),
        Style::Plain | Style::Coloured => printed(certain::sure_text(&answer, &plan, &worst, &sure), style),
    };
    Ok(Outcome { text, code: u8::from(sure.touches.share > 0.0) })
}

/// `narrower`: what would make the fillers narrower, and what else the corner could hold. Ends with 1 where `watch`
/// cancels it, with no text.
///
/// # Errors
/// Every problem in the plan's text at once.
pub fn narrower(name: &str, text: &str, style: Style, watch: &Watch<'_>) -> Result<Outcome, Problems> {
    let plan = plan::read(name, text)?;
    let Ok(tried) = certainty::alternatives::alternatives(name, text, &plan, watch) else {
        return Ok(Outcome { text: String::new(), code: 1 });
    };
    let text = match style {
        Style::Json => pretty(&certain::narrower_json(&plan, &tried)),
        Style::Plain | Style::Coloured => printed(certain::narrower_text(&plan, &tried), style),
    };
    Ok(Outcome { text, code: 0 })
}

/// `check --measured`: the same, in the room as it was measured.
///
/// # Errors
/// Every problem in the plan's text at once.
pub fn check_measured(name: &str, text: &str, style: Style) -> Result<Outcome, Problems> {
    let plan: Plan = plan::read(name, text)?;
    let model = measured(&plan, &Model::build(&plan, clearance::least_fillers(&plan)));
    Ok(report(&clearance::answer_in(&plan, model), style))
}

/// The model `drawn`, set into the room as it was measured.
fn measured(plan: &Plan, drawn: &Model) -> Model {
    Model::build_in(plan, drawn.fillers, &Set::of(plan, drawn).place)
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

/// `solids`: every solid of the plan, its fillers resolved, as JSON; in the room as it was measured, or as drawn.
///
/// # Errors
/// Every problem in the plan's text at once.
pub fn solids(name: &str, text: &str, in_measured: bool) -> Result<Outcome, Problems> {
    let plan: Plan = plan::read(name, text)?;
    let mut model = Model::build(&plan, clearance::least_fillers(&plan));
    if in_measured {
        model = measured(&plan, &model);
    }
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
    let drawn = clearance::answer(&plan);
    let installation = installed(&plan, &drawn.model);
    let measured = clearance::answer_in(&plan, installation.model.clone());
    let text = match style {
        Style::Json => {
            let mut json = install_json(&installation);
            json["opens"] = opens_json(&measured);
            pretty(&json)
        }
        Style::Plain | Style::Coloured => {
            let lists = list.map_or(InstallList::ALL.to_vec(), |list| vec![list]);
            let mut lines = install_text(&installation, &lists);
            if lists.contains(&InstallList::Setting) {
                lines.extend(opens_text(&measured, &drawn));
            }
            printed(lines, style)
        }
    };
    Ok(Outcome { text, code: 0 })
}

/// How `plan` goes in, with the other way of setting its runs beside it: along the walls, or square. Fillers are resolved
/// for each.
#[must_use]
pub fn installed(plan: &Plan, model: &Model) -> Installation {
    let installation = Installation::of(plan, model);
    let run_angle = match plan.run_angle {
        RunAngle::AlongWalls => RunAngle::Square,
        RunAngle::Square | RunAngle::Degrees(_) => RunAngle::AlongWalls,
    };
    let other = Plan { run_angle, ..plan.clone() };
    if other.run_angle_deg().total_cmp(&plan.run_angle_deg()).is_eq() {
        return installation;
    }
    let model = Model::build(&other, clearance::least_fillers(&other));
    installation.with_other_way(&other, &model)
}

/// `install --templates`: the full-size drawings to cut and to mark from, as names and texts of files.
///
/// # Errors
/// Every problem in the plan's text at once.
pub fn templates(name: &str, text: &str) -> Result<Vec<Template>, Problems> {
    let plan: Plan = plan::read(name, text)?;
    let model = Model::build(&plan, clearance::least_fillers(&plan));
    Ok(install::templates(&Installation::of(&plan, &model)))
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
