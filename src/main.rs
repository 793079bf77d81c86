//! The program: reads the command line, calls one command, prints, and ends with the right code.

mod picture;

use std::cell::Cell;
use std::io::{self, IsTerminal as _, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Parser, Subcommand, ValueEnum};
use elbowroom::certainty::Sampling;
use elbowroom::command::{self, Beside, ListStyle, Outcome, Search, Style};
use elbowroom::plan::save::{Expected, save};
use elbowroom::plan::{self, LARGEST_PLAN_BYTES, Problems};
use elbowroom::progress::{Flow, Progress, Watch};
use elbowroom::report::cutting::BenchList;
use elbowroom::report::install::{InstallList, TEMPLATE_MARK, Template};

/// Plans fitted base cabinets round a room's inside corner: shows them, opens them, and finds the least corner filler.
///
/// Ends with 0 when all is clear, 1 when something is in the way, 2 when the plan could not be read.
#[derive(Debug, Parser)]
#[command(version, args_conflicts_with_subcommands = true)]
struct Arguments {
    #[command(subcommand)]
    command: Option<Command>,
    /// The plan to open; the built-in demo where none is named.
    plan: Option<PathBuf>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Print the clearance report of a plan.
    Check {
        /// The plan's file, or - for standard input.
        plan: PathBuf,
        /// Every two drawers or doors that meet when both are open, and all good pairs of fillers as well.
        #[arg(long)]
        map: bool,
        /// With the worst case over the plan's tolerances, and what would make the fillers narrower most.
        #[arg(long)]
        sure: bool,
        /// With the room for people: to stand before what is open, for fingers, within reach.
        #[arg(long)]
        people: bool,
        /// In the room as it was measured.
        #[arg(long, conflicts_with_all = ["map", "sure", "people"])]
        measured: bool,
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// Print how wide the fillers must be when angle, units, slides, pulls and fronts are a little off.
    ///
    /// Ends with 1 when something touches in any sample with the fillers as they are.
    Sure {
        /// The plan's file, or - for standard input.
        plan: PathBuf,
        /// How many samples to draw.
        #[arg(long, default_value_t = 100_000, value_parser = clap::value_parser!(u32).range(100..=10_000_000))]
        samples: u32,
        /// Where the chance begins; the same seed gives the same answer with any number of threads.
        #[arg(long, default_value_t = 1)]
        seed: u64,
        /// How many threads share the work; as many as there are processors where none is named.
        #[arg(long, value_parser = clap::value_parser!(u16).range(1..=512))]
        threads: Option<u16>,
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// Print what would make the fillers of a plan narrower, and what else its corner could hold.
    Narrower {
        /// The plan's file, or - for standard input.
        plan: PathBuf,
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// Print what is cut, drilled and bought for a plan, what it comes to and weighs.
    Parts {
        /// The plan's file, or - for standard input.
        plan: PathBuf,
        /// One list alone; with --csv, the cut list where none is named.
        #[arg(long, value_enum)]
        list: Option<ListName>,
        #[command(flatten)]
        form: Form,
    },
    /// Print the rips of a plan in the order to set the fence, and the crosscuts out of each.
    Rips {
        /// The plan's file, or - for standard input.
        plan: PathBuf,
        #[command(flatten)]
        form: Form,
    },
    /// Print which piece comes out of which sheet or board, cut by cut, and what that comes to.
    ///
    /// Ends with 1 when a piece has no place on the stock.
    Layout {
        /// The plan's file, or - for standard input.
        plan: PathBuf,
        /// Where the chance choices begin; the same seed and effort give the same layout.
        #[arg(long, default_value_t = 1)]
        seed: u64,
        /// How many times the usual effort to spend on using less stock.
        #[arg(long, default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=1000))]
        effort: u32,
        #[command(flatten)]
        form: Form,
    },
    /// Print how a plan goes into its room: gaps, shims, marks, edges cut to the wall, pieces to be turned in, order of work.
    Install {
        /// The plan's file, or - for standard input.
        plan: PathBuf,
        /// One list alone.
        #[arg(long, value_enum)]
        list: Option<InstallName>,
        /// As JSON.
        #[arg(long)]
        json: bool,
        /// Writes full-size templates to cut and to mark from into this folder instead, and prints their names.
        #[arg(long, value_name = "FOLDER", conflicts_with_all = ["list", "json"])]
        templates: Option<PathBuf>,
    },
    /// Print every solid of a plan, for outside programs.
    Solids {
        /// The plan's file, or - for standard input.
        plan: PathBuf,
        /// As JSON, which is the only form there is.
        #[arg(long, required = true)]
        json: bool,
        /// Set in the room as it was measured.
        #[arg(long)]
        measured: bool,
    },
    Picture(Box<picture::PictureArguments>),
}

/// How a list is printed.
#[derive(Clone, Copy, Debug, clap::Args)]
struct Form {
    /// As JSON.
    #[arg(long, conflicts_with = "csv")]
    json: bool,
    /// As a table with commas.
    #[arg(long)]
    csv: bool,
}

impl Form {
    fn style(self) -> ListStyle {
        match (self.json, self.csv) {
            (true, _) => ListStyle::Lines(Style::Json),
            (false, true) => ListStyle::Table,
            (false, false) => ListStyle::Lines(style()),
        }
    }
}

/// The lists of `parts`.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum ListName {
    /// Every part to cut.
    Cut,
    /// Fillers, covers, strips and panels, with the sums behind them.
    Finishing,
    /// Holes from named edges.
    Drilling,
    /// Hardware and what is used up.
    Hardware,
    /// Stock, prices and weights.
    Cost,
}

impl From<ListName> for BenchList {
    fn from(name: ListName) -> Self {
        match name {
            ListName::Cut => Self::Cut,
            ListName::Finishing => Self::Finishing,
            ListName::Drilling => Self::Drilling,
            ListName::Hardware => Self::Hardware,
            ListName::Cost => Self::Cost,
        }
    }
}

/// The lists of `install`.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum InstallName {
    /// How the runs stand in the room, both ways, and the gaps behind them.
    Setting,
    /// Shims, screws, legs.
    Shims,
    /// What is marked on walls and floor.
    Marks,
    /// Edges cut to the wall and the floor.
    Outlines,
    /// Which pieces must be turned to go in.
    TurningIn,
    /// What is done when, with its cautions.
    Order,
}

impl From<InstallName> for InstallList {
    fn from(name: InstallName) -> Self {
        match name {
            InstallName::Setting => Self::Setting,
            InstallName::Shims => Self::Shims,
            InstallName::Marks => Self::Marks,
            InstallName::Outlines => Self::Outlines,
            InstallName::TurningIn => Self::TurningIn,
            InstallName::Order => Self::Order,
        }
    }
}

/// Why a command gave no outcome.
enum Failure {
    /// The file could not be read.
    File(String),
    /// The plan could not be read.
    Plan(Box<Problems>),
}

impl From<Problems> for Failure {
    fn from(problems: Problems) -> Self {
        Self::Plan(Box::new(problems))
    }
}

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let outcome = match arguments.command {
        Some(Command::Check { plan, measured: true, json, .. }) => {
            let style = if json { Style::Json } else { style() };
            read_file(&plan).and_then(|(name, text)| Ok(command::check_measured(&name, &text, style)?))
        }
        Some(Command::Check { plan, map, sure, people, measured: false, json }) => {
            let style = if json { Style::Json } else { style() };
            let beside = Beside { maps: map, sure, people };
            read_file(&plan).and_then(|(name, text)| Ok(command::check_with(&name, &text, style, beside)?))
        }
        Some(Command::Sure { plan, samples, seed, threads, json }) => {
            let style = if json { Style::Json } else { style() };
            let threads = threads.map_or_else(processors, usize::from);
            let sampling = Sampling { samples: samples as usize, seed, threads };
            with_progress("drawing samples", &plan, |name, text, watch| {
                command::sure(name, text, style, sampling, watch)
            })
        }
        Some(Command::Narrower { plan, json }) => {
            let style = if json { Style::Json } else { style() };
            with_progress("trying changes", &plan, |name, text, watch| command::narrower(name, text, style, watch))
        }
        Some(Command::Parts { plan, list, form }) => {
            let list = list.map(BenchList::from);
            read_file(&plan).and_then(|(name, text)| Ok(command::parts(&name, &text, list, form.style())?))
        }
        Some(Command::Rips { plan, form }) => {
            read_file(&plan).and_then(|(name, text)| Ok(command::rips(&name, &text, form.style())?))
        }
        Some(Command::Layout { plan, seed, effort, form }) => {
            let search = Search { seed, times: effort };
            with_progress("laying out", &plan, |name, text, watch| {
                command::layout(name, text, form.style(), search, watch)
            })
        }
        Some(Command::Install { plan, templates: Some(folder), .. }) => read_file(&plan).and_then(|(name, text)| {
            let text = write_templates(&folder, &command::templates(&name, &text)?).map_err(Failure::File)?;
            Ok(Outcome { text, code: 0 })
        }),
        Some(Command::Install { plan, list, json, templates: None }) => {
            let style = if json { Style::Json } else { style() };
            let list = list.map(InstallList::from);
            read_file(&plan).and_then(|(name, text)| Ok(command::install(&name, &text, list, style)?))
        }
        Some(Command::Solids { plan, json: _, measured }) => {
            read_file(&plan).and_then(|(name, text)| Ok(command::solids(&name, &text, measured)?))
        }
        Some(Command::Picture(asked)) => match picture::run(&asked) {
            Ok(text) => Ok(Outcome { text, code: 0 }),
            Err(picture::Failure::Plan(failure)) => Err(failure),
            Err(failure) => {
                let code = failure.code();
                talk(&format!("elbowroom: {}\n", failure.said()));
                return ExitCode::from(code);
            }
        },
        None => return open(arguments.plan.as_deref()),
    };
    finish(outcome)
}

/// Opens the window on a plan or the demo. Where there can be no window, says what is missing and prints the report.
fn open(path: Option<&Path>) -> ExitCode {
    let read = match path {
        Some(path) => read_file(path),
        None => Ok((command::DEMO_NAME.to_owned(), command::DEMO.to_owned())),
    };
    let (name, text) = match read {
        Ok(read) => read,
        Err(failure) => return finish(Err(failure)),
    };
    let plan = match plan::read(&name, &text) {
        Ok(plan) => plan,
        Err(problems) => return finish(Err(problems.into())),
    };
    let missing = match window(path, &name, &text, &plan) {
        Ok(code) => return code,
        Err(missing) => missing,
    };
    talk(&format!("No window: {missing}\nThe clearance report instead:\n"));
    let outcome = command::report(&elbowroom::clearance::answer(&plan), style());
    // The report was asked for as a stand-in, not as a check: a conflict in it is no failure of the program.
    finish(Ok(Outcome { code: 0, ..outcome }))
}

#[cfg(feature = "viewer")]
fn window(path: Option<&Path>, name: &str, text: &str, plan: &plan::Plan) -> Result<ExitCode, String> {
    use elbowroom::viewer;
    if let Some(missing) = viewer::missing() {
        return Err(missing);
    }
    Ok(viewer::run(viewer::Source {
        path: path.map(Path::to_path_buf),
        name: name.to_owned(),
        text: text.to_owned(),
        plan: plan.clone(),
    }))
}

#[cfg(not(feature = "viewer"))]
fn window(_: Option<&Path>, _: &str, _: &str, _: &plan::Plan) -> Result<ExitCode, String> {
    Err("this build has none (it was built with --no-default-features).".to_owned())
}

/// A plan's name and text; `-` is standard input.
fn read_file(path: &Path) -> Result<(String, String), Failure> {
    let name = path.display().to_string();
    let wrong = |error: io::Error| Failure::File(format!("`{name}` could not be read: {error}"));
    let mut bytes = Vec::new();
    // One byte more than is allowed is enough to refuse it.
    let limit = LARGEST_PLAN_BYTES as u64 + 1;
    if path.as_os_str() == "-" {
        io::stdin().lock().take(limit).read_to_end(&mut bytes).map_err(wrong)?;
    } else {
        std::fs::File::open(path).map_err(wrong)?.take(limit).read_to_end(&mut bytes).map_err(wrong)?;
    }
    match String::from_utf8(bytes) {
        Ok(text) => Ok((name, text)),
        Err(_) => Err(Failure::File(format!("`{name}` is not a plan: it is not text in UTF-8"))),
    }
}

/// Writes `files` into `folder`, each as a whole, and says what was written. What is no template of ours is not written
/// over: then nothing is.
fn write_templates(folder: &Path, files: &[Template]) -> Result<String, String> {
    let shown = folder.display();
    std::fs::create_dir_all(folder).map_err(|error| format!("the folder `{shown}` could not be made: {error}"))?;
    for file in files {
        let path = folder.join(&file.name);
        let ours = match std::fs::read(&path) {
            Ok(there) => there
                .split(|byte| *byte == b'\n')
                .next()
                .is_some_and(|line| line.windows(TEMPLATE_MARK.len()).any(|words| words == TEMPLATE_MARK.as_bytes())),
            Err(error) => error.kind() == io::ErrorKind::NotFound,
        };
        if !ours {
            let path = path.display();
            return Err(format!("`{path}` is no template of ours, so nothing was written; name another folder"));
        }
    }
    let mut text = String::new();
    for file in files {
        let path = folder.join(&file.name);
        save(&path, &file.text, Expected::Anything).map_err(|error| error.to_string())?;
        text.push_str(&format!("{}\n", path.display()));
    }
    Ok(text)
}

/// Colour on a terminal, unless `NO_COLOR` is set to anything (no-color.org).
fn style() -> Style {
    let quiet = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    if !quiet && io::stdout().is_terminal() { Style::Coloured } else { Style::Plain }
}

fn finish(outcome: Result<Outcome, Failure>) -> ExitCode {
    match outcome {
        Ok(Outcome { text, code }) => match io::stdout().lock().write_all(text.as_bytes()) {
            Ok(()) => ExitCode::from(code),
            // Whoever reads has had enough: that is no failure.
            Err(error) if error.kind() == io::ErrorKind::BrokenPipe => ExitCode::from(code),
            Err(error) => {
                talk(&format!("elbowroom: the report could not be written: {error}\n"));
                ExitCode::from(2)
            }
        },
        Err(Failure::File(message)) => {
            talk(&format!("elbowroom: {message}\n"));
            ExitCode::from(2)
        }
        Err(Failure::Plan(problems)) => {
            let colour =
                io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
            talk(&problems.render(100, colour));
            ExitCode::from(2)
        }
    }
}

fn processors() -> usize {
    std::thread::available_parallelism().map_or(1, usize::from)
}

/// Runs a long calculation on the plan at `path`, with a line on the terminal that says how far it is.
fn with_progress(
    what: &'static str,
    path: &Path,
    run: impl FnOnce(&str, &str, &Watch<'_>) -> Result<Outcome, Problems>,
) -> Result<Outcome, Failure> {
    let (name, text) = read_file(path)?;
    let bar = ProgressLine { what, shown: Cell::new(None) };
    let outcome = run(&name, &text, &|now| bar.tell(now));
    bar.clear();
    Ok(outcome?)
}

/// A line on the terminal that says how far a long calculation is; silent where standard error is no terminal.
struct ProgressLine {
    /// What is being done.
    what: &'static str,
    shown: Cell<Option<u64>>,
}

impl ProgressLine {
    fn tell(&self, now: Progress) -> Flow {
        let percent = now.steps.saturating_mul(100) / now.of.max(1);
        if self.shown.get() != Some(percent) && io::stderr().is_terminal() {
            self.shown.set(Some(percent));
            talk(&format!("\r{}: {:>3} % of the effort", self.what, percent.min(100)));
        }
        Flow::GoOn
    }

    fn clear(&self) {
        if self.shown.get().is_some() {
            talk("\r\u{1b}[K");
        }
    }
}

/// To standard error; nothing is left to do where even that fails.
fn talk(text: &str) {
    let _unheard = io::stderr().lock().write_all(text.as_bytes());
}
