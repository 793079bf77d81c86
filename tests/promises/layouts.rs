//! What layouts of boards and sheets promise: they can be cut, they use no more than is known to do, and bad jobs are
//! refused in words.

use elbowroom::cutting::layout::{Failure, Measure, Problem, Saw, Standing};
use elbowroom::cutting::{boards, sheets};
use elbowroom::progress::{Cancelled, Effort, Flow, patient};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

#[path = "../cutting/checker.rs"]
pub(crate) mod checker;
#[path = "../cutting/instances.rs"]
mod instances;

use checker::{cuts_edge_to_edge, faults_of_boards, faults_of_sheets};

const NO_SAW: Saw = Saw { kerf: 0.0, trim: 0.0 };

fn board(length: f64) -> boards::Stock {
    boards::Stock { name: format!("{length} board"), length, count: None, price: None }
}

fn sheet(length: f64, width: f64) -> sheets::Stock {
    sheets::Stock { name: format!("{length}x{width} sheet"), length, width, count: None, price: None }
}

fn board_job(length: f64, pieces: &[(f64, usize)], saw: Saw) -> boards::Job {
    let pieces = pieces.iter().map(|&(length, count)| boards::Piece { name: format!("rail {length}"), length, count });
    boards::Job { stock: vec![board(length)], pieces: pieces.collect(), saw }
}

fn sheet_job((length, width): (f64, f64), pieces: &[((f64, f64), usize)], saw: Saw, turns: bool) -> sheets::Job {
    let pieces = pieces.iter().map(|&((length, width), count)| {
        let name = format!("panel {length}x{width}");
        sheets::Piece { name, length, width, count, turns }
    });
    sheets::Job { stock: vec![sheet(length, width)], pieces: pieces.collect(), saw, cuts: sheets::Cuts::Free }
}

fn steps(steps: u64) -> Effort {
    Effort { steps, seed: 1 }
}

fn lay_boards(job: &boards::Job, effort: u64) -> boards::Layout {
    let layout = boards::lay_out(job, steps(effort), &patient).unwrap();
    assert_eq!(faults_of_boards(job, &layout), Vec::<String>::new());
    if let Standing::BestFound { at_least } = layout.standing {
        assert!(at_least < layout.used, "{at_least} is not below {}", layout.used);
    }
    layout
}

fn lay_sheets(job: &sheets::Job, effort: u64) -> sheets::Layout {
    let layout = sheets::lay_out(job, steps(effort), &patient).unwrap();
    assert_eq!(faults_of_sheets(job, &layout), Vec::<String>::new());
    if let Standing::BestFound { at_least } = layout.standing {
        assert!(at_least < layout.used, "{at_least} is not below {}", layout.used);
    }
    layout
}

#[test]
fn the_checker_sees_the_five_piece_pinwheel_that_no_edge_to_edge_cut_parts() {
    let pinwheel =
        [(0.0, 0.0, 2.0, 1.0), (2.0, 0.0, 1.0, 2.0), (1.0, 2.0, 2.0, 1.0), (0.0, 1.0, 1.0, 2.0), (1.0, 1.0, 1.0, 1.0)];
    assert!(!cuts_edge_to_edge(&pinwheel, 0.0));
    assert!(cuts_edge_to_edge(&pinwheel[..3], 0.0));
    assert!(cuts_edge_to_edge(&pinwheel[..2], 0.0));
    assert!(!cuts_edge_to_edge(&[(0.0, 0.0, 2.0, 1.0), (2.1, 0.0, 1.0, 1.0)], 0.2));
}

/// E. Falkenauer 1996 and the other sets in `tests/cutting/README.md`; the whole table is `--bench open_data`.
#[test]
fn boards_of_the_open_data_need_what_is_known_to_do() {
    let instances = instances::boards();
    assert_eq!(instances.len(), 107);
    let (mut tried, mut proved) = (0, 0);
    for instance in instances.iter().filter(|instance| !instance.set.starts_with("scholl")).step_by(4) {
        let layout = lay_boards(&board_job(instance.length, &instance.pieces, NO_SAW), 60_000_000);
        assert!(layout.used >= instance.at_least, "{} below the bound: {}", instance.name, layout.used);
        assert!(layout.used <= instance.best, "{}: {}, not {}", instance.name, layout.used, instance.best);
        assert_eq!(layout.measure, Measure::Count);
        tried += 1;
        proved += usize::from(layout.standing == Standing::Proved);
    }
    assert!(tried >= 24 && proved >= tried - 2, "{proved} of {tried} proved");
}

/// R. Macedo and others 2010 and the other sets in `tests/cutting/README.md`; the whole table is `--bench open_data`.
#[test]
fn sheets_of_the_open_data_need_at_most_one_more_than_is_known_to_do() {
    let instances = instances::sheets();
    assert_eq!(instances.len(), 158);
    let (mut tried, mut as_good) = (0, 0);
    for instance in instances.iter().step_by(5).filter(|instance| instance.best < 40.0) {
        let layout = lay_sheets(&sheet_job(instance.sheet, &instance.pieces, NO_SAW, false), 20_000_000);
        assert!(layout.used >= instance.at_least, "{} below the bound: {}", instance.name, layout.used);
        let name = format!("{} {}", instance.set, instance.name);
        assert!(layout.standing != Standing::Proved || layout.used <= instance.best, "{name} is not proved");
        assert!(layout.used <= instance.best + 1.0, "{name}: {}, not {}", layout.used, instance.best);
        tried += 1;
        as_good += usize::from(layout.used <= instance.best);
    }
    assert!(tried >= 25 && as_good * 100 >= tried * 85, "{as_good} of {tried} as good as known");
}

#[test]
fn four_quarters_and_three_kerfs_come_out_of_one_board_to_the_last_thirty_second() {
    // 96 in, kerf 1/8 in: 4 × 23 29/32 in and 3 kerfs are 96 in exactly; 1/32 in more and they are not.
    let inches = |inches: f64| inches * 25.4;
    let saw = Saw { kerf: inches(0.125), trim: 0.0 };
    let fits = lay_boards(&board_job(inches(96.0), &[(inches(23.0 + 29.0 / 32.0), 4)], saw), 1_000_000);
    assert_eq!((fits.used, fits.standing), (1.0, Standing::Proved));
    let over = lay_boards(&board_job(inches(96.0), &[(inches(23.0 + 30.0 / 32.0), 4)], saw), 1_000_000);
    assert_eq!((over.used, over.standing), (2.0, Standing::Proved));
    // The same across a sheet, with 10 mm trimmed off each edge: 2440 − 20 = 4 × 602.6 + 3 × 3.2.
    let saw = Saw { kerf: 3.2, trim: 10.0 };
    let fits = lay_sheets(&sheet_job((2440.0, 1220.0), &[((602.6, 1200.0), 4)], saw, false), 1_000_000);
    assert_eq!((fits.used, fits.standing, fits.cuts()), (1.0, Standing::Proved, 3));
    assert_eq!(fits.largest_offcut(), None);
    let over = lay_sheets(&sheet_job((2440.0, 1220.0), &[((602.601, 1200.0), 4)], saw, false), 1_000_000);
    assert_eq!(over.used, 2.0);
}

#[test]
fn an_offcut_on_hand_is_used_before_a_board_is_bought() {
    let mut job = board_job(3000.0, &[(900.0, 3), (700.0, 1)], Saw { kerf: 3.0, trim: 0.0 });
    job.stock[0].price = Some(12.0);
    job.stock.push(boards::Stock { name: "offcut".into(), length: 720.0, count: Some(1), price: Some(0.0) });
    let layout = lay_boards(&job, 5_000_000);
    assert_eq!((layout.measure, layout.used), (Measure::Price, 12.0));
    assert_eq!(layout.standing, Standing::Proved);
    assert_eq!(layout.boards.len(), 2);
    let mut job = sheet_job((2440.0, 1220.0), &[((1200.0, 600.0), 4), ((500.0, 400.0), 1)], NO_SAW, false);
    job.stock[0].price = Some(50.0);
    let offcut = sheets::Stock { name: "offcut".into(), length: 700.0, width: 500.0, count: Some(1), price: Some(0.0) };
    job.pieces[0].length = 1220.0;
    job.pieces[0].width = 610.0;
    job.stock.push(offcut);
    let layout = lay_sheets(&job, 5_000_000);
    assert_eq!((layout.measure, layout.used), (Measure::Price, 50.0));
}

#[test]
fn sizes_without_prices_are_chosen_for_the_least_material() {
    let mut job = board_job(3000.0, &[(1000.0, 4)], NO_SAW);
    job.stock.push(board(2000.0));
    let layout = lay_boards(&job, 2_000_000);
    assert_eq!((layout.measure, layout.used, layout.standing), (Measure::Material, 4000.0, Standing::Proved));
    let mut job = sheet_job((2000.0, 1000.0), &[((1000.0, 500.0), 5)], NO_SAW, false);
    job.stock.push(sheet(1000.0, 500.0));
    let layout = lay_sheets(&job, 2_000_000);
    assert_eq!((layout.measure, layout.used, layout.standing), (Measure::Material, 2_500_000.0, Standing::Proved));
}

#[test]
fn the_longest_offcut_is_kept_in_one_piece() {
    // Two boards of 1000: 600 + 300 and 500 + 200 leave 300 at most, 600 + 200 and 500 + 300 leave 200; 500 + 300 + 200
    // fill one and leave 400 of the other.
    let layout = lay_boards(&board_job(1000.0, &[(600.0, 1), (500.0, 1), (300.0, 1), (200.0, 1)], NO_SAW), 2_000_000);
    assert_eq!((layout.used, layout.largest_offcut()), (2.0, 400.0));
}

#[test]
fn what_cannot_be_cut_is_said_all_at_once_and_by_name() {
    let mut job = board_job(2400.0, &[(2395.0, 1), (500.0, 0), (f64::NAN, 1)], Saw { kerf: 3.0, trim: 5.0 });
    job.stock.push(boards::Stock { name: "short".into(), length: 10.0, count: None, price: Some(1.0) });
    let Err(Failure::Unfit(problems)) = boards::lay_out(&job, steps(1000), &patient) else { panic!("it was laid out") };
    let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_eq!(
        said,
        [
            "0 of `rail 500` are wanted; leave it out, or want at least 1",
            "the length of `rail NaN` is NaN mm; it must be more than 0 and at most 30000 mm",
            "`2400 board` has no price though other stock has; give it one (0 for an offcut on hand), or none to any",
            "nothing is left of `short` when 5 mm are trimmed off each side",
            "`rail 2395` (2395 mm) is larger than any stock once trimmed (the largest: 2390 mm)",
        ]
    );
    let pieces = [((1300.0, 600.0), 1), ((600.0, 1300.0), 1), ((3000.0, 100.0), 1)];
    let job = sheet_job((2440.0, 1220.0), &pieces, Saw { kerf: 3.0, trim: 0.0 }, false);
    let Err(Failure::Unfit(problems)) = sheets::lay_out(&job, steps(1000), &patient) else { panic!("it was laid out") };
    let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_eq!(
        said,
        [
            "`panel 600x1300` (600 × 1300 mm) fits no sheet with its grain along the sheet; it would fit turned",
            "`panel 3000x100` (3000 × 100 mm) is larger than any stock once trimmed (the largest: 2440 × 1220 mm)",
        ]
    );
}

#[test]
fn stock_that_runs_out_names_what_is_left() {
    let mut job = board_job(1000.0, &[(600.0, 3)], NO_SAW);
    job.stock[0].count = Some(2);
    let failure = boards::lay_out(&job, steps(2_000_000), &patient).unwrap_err();
    assert_eq!(failure.to_string(), "the stock runs out: 1 of `rail 600` still to be cut");
    // What fits a length that never runs out is not what is lacking.
    job.pieces.push(boards::Piece { name: "slat".into(), length: 90.0, count: 40 });
    job.stock.push(boards::Stock { name: "short".into(), length: 300.0, count: None, price: None });
    let failure = boards::lay_out(&job, steps(2_000_000), &patient).unwrap_err();
    assert_eq!(failure.to_string(), "the stock runs out: 1 of `rail 600` still to be cut");
    job.stock[0].count = Some(3);
    lay_boards(&job, 2_000_000);
    let mut job = sheet_job((1000.0, 1000.0), &[((600.0, 600.0), 3)], NO_SAW, false);
    job.stock[0].count = Some(2);
    let failure = sheets::lay_out(&job, steps(2_000_000), &patient).unwrap_err();
    assert!(failure.to_string().starts_with("the stock runs out: 1 of `panel 600x600` still to be cut"), "{failure}");
    job.stock[0].count = Some(0);
    let Err(Failure::Unfit(problems)) = sheets::lay_out(&job, steps(1000), &patient) else { panic!("it was laid out") };
    assert!(problems.contains(&Problem::NoStock), "{problems:?}");
    job.stock.clear();
    let Err(Failure::Unfit(problems)) = sheets::lay_out(&job, steps(1000), &patient) else { panic!("it was laid out") };
    assert_eq!(problems, [Problem::NoStock]);
}

#[test]
fn nothing_wanted_needs_nothing_and_no_budget_still_gives_a_layout() {
    assert_eq!(lay_boards(&board_job(1000.0, &[], NO_SAW), 1000).boards, []);
    assert_eq!(lay_sheets(&sheet_job((1000.0, 500.0), &[], NO_SAW, false), 1000).sheets, []);
    let pieces: Vec<((f64, f64), usize)> = (1..40).map(|n| ((100.0 + f64::from(n), 90.0), 2)).collect();
    lay_sheets(&sheet_job((1000.0, 500.0), &pieces, NO_SAW, true), 0);
    lay_boards(&board_job(1000.0, &[(300.0, 7), (170.0, 9)], NO_SAW), 0);
}

#[test]
fn five_thousand_slats_are_laid_out_and_one_more_is_refused() {
    let job = sheet_job((2440.0, 1220.0), &[((20.0, 12.0), 5000)], Saw { kerf: 3.0, trim: 0.0 }, true);
    let layout = sheets::lay_out(&job, steps(1_000_000), &patient).unwrap();
    assert_eq!(layout.sheets.iter().map(|sheet| sheet.pieces().len()).sum::<usize>(), 5000);
    let job = sheet_job((2440.0, 1220.0), &[((20.0, 12.0), 5001)], Saw { kerf: 3.0, trim: 0.0 }, true);
    let failure = sheets::lay_out(&job, steps(1_000_000), &patient).unwrap_err();
    assert_eq!(failure.to_string(), "5001 pieces are wanted; at most 5000 can be laid out at once");
}

#[test]
fn a_watch_can_cancel_or_take_what_there_is() {
    let instance = instances::sheets().into_iter().find(|instance| instance.name == "a09").unwrap();
    let job = sheet_job(instance.sheet, &instance.pieces, NO_SAW, false);
    let cancelled = sheets::lay_out(&job, steps(u64::MAX), &|_| Flow::Cancel);
    assert_eq!(cancelled, Err(Failure::Cancelled(Cancelled)));
    let stop = |progress: elbowroom::progress::Progress| {
        if progress.steps > 2_000_000 { Flow::Enough } else { Flow::GoOn }
    };
    let layout = sheets::lay_out(&job, steps(u64::MAX), &stop).unwrap();
    assert_eq!(faults_of_sheets(&job, &layout), Vec::<String>::new());
    let boards = board_job(1000.0, &[(501.0, 3), (334.0, 5), (251.0, 9), (126.0, 7)], NO_SAW);
    assert_eq!(boards::lay_out(&boards, steps(u64::MAX), &|_| Flow::Cancel), Err(Failure::Cancelled(Cancelled)));
}

#[test]
fn the_same_effort_and_seed_give_the_same_layout() {
    let instance = instances::sheets().into_iter().find(|instance| instance.name == "a07").unwrap();
    let job = sheet_job(instance.sheet, &instance.pieces, Saw { kerf: 3.2, trim: 5.0 }, true);
    assert_eq!(lay_sheets(&job, 3_000_000), lay_sheets(&job, 3_000_000));
    let instance = instances::boards().into_iter().find(|instance| instance.name == "TEST0022").unwrap();
    let job = board_job(instance.length, &instance.pieces, NO_SAW);
    assert_eq!(lay_boards(&job, 3_000_000), lay_boards(&job, 3_000_000));
}

#[test]
fn rip_first_layouts_are_ripped_first() {
    let instance = instances::sheets().into_iter().find(|instance| instance.name == "a26").unwrap();
    let mut used = Vec::new();
    let ways = [sheets::Cuts::Free, sheets::Cuts::RipFirst { trims: true }, sheets::Cuts::RipFirst { trims: false }];
    for cuts in ways {
        let mut job = sheet_job(instance.sheet, &instance.pieces, Saw { kerf: 4.0, trim: 6.0 }, false);
        job.cuts = cuts;
        used.push(lay_sheets(&job, 20_000_000).used);
    }
    assert!(used[0] <= used[1] && used[1] <= used[2], "{used:?}");
}

/// Fewest boards by trying every board for every piece; `lengths` longest first.
fn fewest_boards(lengths: &[u32], board: u32, lefts: &mut Vec<u32>, best: &mut usize) {
    if lefts.len() >= *best {
        return;
    }
    let Some((&first, rest)) = lengths.split_first() else {
        *best = lefts.len();
        return;
    };
    for at in 0..lefts.len() {
        if lefts[at] >= first {
            lefts[at] -= first;
            fewest_boards(rest, board, lefts, best);
            lefts[at] += first;
        }
    }
    lefts.push(board - first);
    fewest_boards(rest, board, lefts, best);
    lefts.pop();
}

/// The same jobs every time, others where `PROPTEST_CASES` asks to look harder.
fn config() -> ProptestConfig {
    let looks_harder = std::env::var_os("PROPTEST_CASES");
    let rng_seed = if looks_harder.is_some() { RngSeed::Random } else { RngSeed::Fixed(10) };
    let cases = looks_harder.and_then(|cases| cases.to_str()?.parse().ok()).unwrap_or(40);
    ProptestConfig { cases, failure_persistence: None, rng_seed, ..ProptestConfig::default() }
}

fn few_pieces() -> impl Strategy<Value = Vec<((f64, f64), usize)>> {
    let size = |range: std::ops::Range<u32>| range.prop_map(f64::from);
    prop::collection::vec(((size(150..900), size(100..500)), 1..3_usize), 1..6)
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn few_boards_are_as_few_as_trying_everything_finds(
        mut lengths in prop::collection::vec(10..70_u32, 1..11), kerf in 0..4_u32,
    ) {
        lengths.sort_unstable_by(|a, b| b.cmp(a));
        let pieces: Vec<(f64, usize)> = lengths.iter().map(|&length| (f64::from(length), 1)).collect();
        let layout = lay_boards(&board_job(100.0, &pieces, Saw { kerf: f64::from(kerf), trim: 0.0 }), 5_000_000);
        let with_kerf: Vec<u32> = lengths.iter().map(|length| length + kerf).collect();
        let mut best = usize::MAX;
        fewest_boards(&with_kerf, 100 + kerf, &mut Vec::new(), &mut best);
        prop_assert_eq!(layout.boards.len(), best);
    }

    #[test]
    fn every_layout_can_be_cut_and_turning_or_more_stock_never_makes_it_worse(
        pieces in few_pieces(), kerf in 0..5_u32, trim in 0..12_u32, way in 0..3_usize,
    ) {
        let saw = Saw { kerf: f64::from(kerf), trim: f64::from(trim) };
        let mut job = sheet_job((1250.0, 700.0), &pieces, saw, false);
        job.cuts = [sheets::Cuts::Free, sheets::Cuts::RipFirst { trims: true }, sheets::Cuts::RipFirst { trims: false }][way];
        job.stock[0].price = Some(30.0);
        let grain = lay_sheets(&job, 3_000_000);
        for piece in &mut job.pieces {
            piece.turns = true;
        }
        let turning = lay_sheets(&job, 3_000_000);
        prop_assert!(turning.used <= grain.used, "{} turned, {} not", turning.used, grain.used);
        prop_assert_eq!(turning.measure, Measure::Count);
        job.stock.push(sheets::Stock { price: Some(18.0), count: Some(2), ..sheet(900.0, 600.0) });
        let more = lay_sheets(&job, 3_000_000);
        prop_assert!(more.used <= turning.used * 30.0 + 1e-9, "{} with more stock, {} without", more.used, turning.used);
    }

    #[test]
    fn a_kerf_is_the_same_as_pieces_and_sheets_larger_by_it(pieces in few_pieces(), kerf in 1..5_u32, trim in 0..9_u32) {
        let (kerf, trim) = (f64::from(kerf), f64::from(trim));
        let with = lay_sheets(&sheet_job((1250.0, 700.0), &pieces, Saw { kerf, trim }, false), 3_000_000);
        let grown: Vec<((f64, f64), usize)> =
            pieces.iter().map(|&((length, width), count)| ((length + kerf, width + kerf), count)).collect();
        let size = (1250.0 - 2.0 * trim + kerf, 700.0 - 2.0 * trim + kerf);
        let without = lay_sheets(&sheet_job(size, &grown, NO_SAW, false), 3_000_000);
        prop_assert_eq!(with.used, without.used);
        // And at ten times the size nothing changes.
        let tenfold: Vec<((f64, f64), usize)> =
            grown.iter().map(|&((length, width), count)| ((10.0 * length, 10.0 * width), count)).collect();
        let scaled = lay_sheets(&sheet_job((10.0 * size.0, 10.0 * size.1), &tenfold, NO_SAW, false), 3_000_000);
        prop_assert_eq!(scaled.used, without.used);
        prop_assert_eq!(scaled.cuts(), without.cuts());
    }

    #[test]
    fn boards_of_several_lengths_and_counts_can_be_cut_and_more_stock_never_costs_more(
        lengths in prop::collection::vec((100..900_u32, 1..4_usize), 1..7), kerf in 0..5_u32, trim in 0..12_u32,
    ) {
        let pieces: Vec<(f64, usize)> = lengths.iter().map(|&(length, count)| (f64::from(length), count)).collect();
        let mut job = board_job(2400.0, &pieces, Saw { kerf: f64::from(kerf), trim: f64::from(trim) });
        job.stock[0].price = Some(10.0);
        let one = lay_boards(&job, 5_000_000);
        job.stock.push(boards::Stock { name: "short".into(), length: 1800.0, count: Some(2), price: Some(7.0) });
        let two = lay_boards(&job, 5_000_000);
        prop_assert_eq!(one.measure, Measure::Count);
        let before = one.used * 10.0;
        prop_assert!(two.used <= before + 1e-9, "{} with more stock, {before} without", two.used);
    }
}
