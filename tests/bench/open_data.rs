//! How few boards and sheets against what is known? The whole table, 2 s of one core an instance, beside first fit
//! decreasing and rectpack: `cargo bench --no-default-features --bench open_data`.
//!
//! `ELBOWROOM_PYTHON` names a Python that has rectpack; without it that column is left out, and the table says so. A word
//! after `--` picks the instances whose set or name holds it; `ELBOWROOM_SECONDS` and `ELBOWROOM_SEED` change the limit
//! and where chance begins. Fails where the layouts are not as good as promised.
#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a bench that fails should stop and say why"
)]

use std::collections::BTreeMap;
use std::process::{Command, ExitCode};
use std::time::Instant;

use elbowroom::cutting::layout::{Saw, Standing};
use elbowroom::cutting::{boards, sheets};
use elbowroom::progress::{Effort, Flow, Progress};

#[path = "../cutting/checker.rs"]
mod checker;
#[path = "../cutting/instances.rs"]
mod instances;

use instances::{BoardInstance, SheetInstance};

const NO_SAW: Saw = Saw { kerf: 0.0, trim: 0.0 };

/// Seconds of processor time of this thread, so that other work on the machine does not count; of the clock where the
/// system does not tell.
fn seconds(start: Instant) -> f64 {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let nanoseconds = told.and_then(|told| told.split(' ').next()?.parse::<f64>().ok());
    nanoseconds.map_or_else(|| start.elapsed().as_secs_f64(), |nanoseconds| nanoseconds * 1e-9)
}

fn setting(name: &str, usual: f64) -> f64 {
    std::env::var(name).map_or(usual, |text| text.parse().unwrap_or_else(|_| panic!("{name} is no number: {text}")))
}

/// What a layout came to.
struct Outcome {
    used: f64,
    proved: bool,
    seconds: f64,
}

/// Calls with a watch that says enough after the limit, and times it.
fn timed(lay_out: impl FnOnce(Effort, &dyn Fn(Progress) -> Flow) -> (f64, Standing)) -> Outcome {
    let clock = Instant::now();
    let limit = setting("ELBOWROOM_SECONDS", 2.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small whole number")]
    let effort = Effort { steps: u64::MAX, seed: setting("ELBOWROOM_SEED", 1.0) as u64 };
    let start = seconds(clock);
    let (used, standing) = lay_out(effort, &|_| if seconds(clock) - start > limit { Flow::Enough } else { Flow::GoOn });
    Outcome { used, proved: standing == Standing::Proved, seconds: seconds(clock) - start }
}

/// Lengths are read as tenths of a millimetre: the longest are 100,000.
fn lay_boards(instance: &BoardInstance) -> Outcome {
    let pieces = instance.pieces.iter().map(|&(length, count)| boards::Piece {
        name: length.to_string(),
        length: length / 10.0,
        count,
    });
    let stock = boards::Stock { name: "board".into(), length: instance.length / 10.0, count: None, price: None };
    let job = boards::Job { stock: vec![stock], pieces: pieces.collect(), saw: NO_SAW };
    timed(|effort, watch| {
        let layout = boards::lay_out(&job, effort, watch).unwrap();
        assert_eq!(checker::faults_of_boards(&job, &layout), Vec::<String>::new());
        (layout.used, layout.standing)
    })
}

fn lay_sheets(instance: &SheetInstance) -> Outcome {
    let pieces = instance.pieces.iter().map(|&((length, width), count)| {
        let name = format!("{length}x{width}");
        sheets::Piece { name, length, width, count, turns: false }
    });
    let (length, width) = instance.sheet;
    let stock = sheets::Stock { name: "sheet".into(), length, width, count: None, price: None };
    let job = sheets::Job { stock: vec![stock], pieces: pieces.collect(), saw: NO_SAW, cuts: sheets::Cuts::Free };
    timed(|effort, watch| {
        let layout = sheets::lay_out(&job, effort, watch).unwrap();
        assert_eq!(checker::faults_of_sheets(&job, &layout), Vec::<String>::new());
        (layout.used, layout.standing)
    })
}

/// Longest first, each on the first board with room.
fn first_fit_boards(instance: &BoardInstance) -> usize {
    let mut lengths: Vec<f64> =
        instance.pieces.iter().flat_map(|&(length, count)| std::iter::repeat_n(length, count)).collect();
    lengths.sort_by(|a, b| b.total_cmp(a));
    let mut rooms: Vec<f64> = Vec::new();
    for length in lengths {
        if let Some(room) = rooms.iter_mut().find(|room| **room >= length) {
            *room -= length;
        } else {
            rooms.push(instance.length - length);
        }
    }
    rooms.len()
}

/// Widest first, each in the first strip with room, a new strip on the first sheet with room (J. O. Berkey, P. Y. Wang
/// 1987, finite first fit).
fn first_fit_sheets(instance: &SheetInstance) -> usize {
    let (length, width) = instance.sheet;
    let mut pieces: Vec<(f64, f64)> =
        instance.pieces.iter().flat_map(|&(size, count)| std::iter::repeat_n(size, count)).collect();
    pieces.sort_by(|a, b| b.1.total_cmp(&a.1).then(b.0.total_cmp(&a.0)));
    // For each sheet the width left, and its strips: width, and length left.
    let mut sheets: Vec<(f64, Vec<(f64, f64)>)> = Vec::new();
    'pieces: for piece in pieces {
        for (width_left, strips) in &mut sheets {
            if let Some(strip) = strips.iter_mut().find(|strip| strip.0 >= piece.1 && strip.1 >= piece.0) {
                strip.1 -= piece.0;
                continue 'pieces;
            }
            if *width_left >= piece.1 {
                *width_left -= piece.1;
                strips.push((piece.1, length - piece.0));
                continue 'pieces;
            }
        }
        sheets.push((width - piece.1, vec![(piece.1, length - piece.0)]));
    }
    sheets.len()
}

/// What rectpack needs, by name; empty where there is no Python for it.
fn rectpack(names: &[&str]) -> BTreeMap<String, f64> {
    let Some(python) = std::env::var_os("ELBOWROOM_PYTHON") else { return BTreeMap::new() };
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/cutting/rectpack_side.py");
    let limit = setting("ELBOWROOM_SECONDS", 2.0).to_string();
    let output = Command::new(python).arg(script).arg(limit).args(names).output().unwrap();
    assert!(output.status.success(), "rectpack failed: {}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout).unwrap();
    text.lines()
        .map(|line| {
            let (name, count) = line.split_once(' ').unwrap();
            (name.to_owned(), count.parse().unwrap())
        })
        .collect()
}

/// Sums over one table.
#[derive(Default)]
struct Sums {
    instances: usize,
    as_good: usize,
    proved: usize,
    more_than_one_over: usize,
    used: f64,
    best: f64,
    first_fit: f64,
    seconds: f64,
    longest: f64,
}

impl Sums {
    fn row(&mut self, set: &str, name: &str, at_least: f64, best: f64, ours: &Outcome, first_fit: usize, beside: &str) {
        assert!(ours.used >= at_least, "{name}: {} is below the bound {at_least}", ours.used);
        assert!(!ours.proved || ours.used <= best, "{name}: {} is not least, and called proved", ours.used);
        let first_fit = first_fit as f64;
        let over = ours.used - best;
        let standing = if ours.proved { "proved" } else { "found" };
        println!(
            "{set:16} {name:12} {at_least:5} {best:5} {:5} {:>4} {standing:7} {:6.2} {first_fit:6} {beside:>8}",
            ours.used,
            if over == 0.0 { String::new() } else { format!("{over:+}") },
            ours.seconds
        );
        self.instances += 1;
        self.as_good += usize::from(over <= 0.0);
        self.proved += usize::from(ours.proved);
        self.more_than_one_over += usize::from(over > 1.0);
        self.used += ours.used;
        self.best += best;
        self.first_fit += first_fit;
        self.seconds += ours.seconds;
        self.longest = self.longest.max(ours.seconds);
    }

    fn keeps(&self, what: &str, percent: usize, beside: &str) -> bool {
        println!(
            "{what}: {} of {} as good as the best known ({} proved), {} more than one over; in all {} ({} known, {} first \
             fit{beside}); {:.1} s, the longest {:.2} s\n",
            self.as_good,
            self.instances,
            self.proved,
            self.more_than_one_over,
            self.used,
            self.best,
            self.first_fit,
            self.seconds,
            self.longest
        );
        self.as_good * 100 >= self.instances * percent && self.more_than_one_over == 0
    }
}

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).filter(|word| !word.starts_with("--")).collect();
    let picked = |set: &str, name: &str| {
        words.is_empty() || words.iter().any(|word| set.contains(word.as_str()) || name == word.as_str())
    };
    println!("set              instance     bound  best  ours over standing seconds first fit rectpack");
    let mut sums = Sums::default();
    for instance in instances::boards().iter().filter(|instance| picked(&instance.set, &instance.name)) {
        let ours = lay_boards(instance);
        let first_fit = first_fit_boards(instance);
        sums.row(&instance.set, &instance.name, instance.at_least, instance.best, &ours, first_fit, "");
    }
    let boards_keep = sums.keeps("boards", 95, "");
    let instances: Vec<SheetInstance> =
        instances::sheets().into_iter().filter(|instance| picked(&instance.set, &instance.name)).collect();
    let names: Vec<&str> = instances.iter().map(|instance| instance.name.as_str()).collect();
    let beside = if names.is_empty() { BTreeMap::new() } else { rectpack(&names) };
    let mut sums = Sums::default();
    for instance in &instances {
        let ours = lay_sheets(instance);
        let first_fit = first_fit_sheets(instance);
        let beside = beside.get(&instance.name).map_or_else(|| "not run".to_owned(), ToString::to_string);
        sums.row(&instance.set, &instance.name, instance.at_least, instance.best, &ours, first_fit, &beside);
    }
    let all = beside.values().sum::<f64>();
    let told = if beside.is_empty() {
        ", rectpack not run: see ELBOWROOM_PYTHON".to_owned()
    } else {
        format!(", {all} rectpack")
    };
    let sheets_keep = sums.keeps("sheets", 90, &told);
    if boards_keep && sheets_keep { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
