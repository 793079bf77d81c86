//! How long does a layout take, and how much memory, as plans grow? `cargo bench --no-default-features --bench layouts`.
//!
//! Parts of fitted base units (invented: sides, bottoms, stretchers, shelves, fronts, backs) in 24 sizes a dozen units,
//! with the effort that a command spends.

use divan::{AllocProfiler, Bencher};
use elbowroom::cutting::layout::Saw;
use elbowroom::cutting::{boards, sheets};
use elbowroom::progress::{Effort, patient};

#[global_allocator]
static MEMORY: AllocProfiler = AllocProfiler::system();

fn main() {
    divan::main();
}

/// So many parts of units whose widths go round from 300 to 910 mm.
fn panels(parts: usize) -> Vec<sheets::Piece> {
    let mut pieces = Vec::new();
    let mut unit = 0_u32;
    while pieces.len() < parts {
        let width = 300.0 + f64::from(unit * 87 % 611);
        unit += 1;
        for (name, length, across, turns) in [
            ("side", 720.0, 560.0, false),
            ("side", 720.0, 560.0, false),
            ("bottom", width - 36.0, 560.0, false),
            ("stretcher", width - 36.0, 100.0, true),
            ("stretcher", width - 36.0, 100.0, true),
            ("shelf", width - 38.0, 530.0, false),
            ("front", 140.0, width - 4.0, false),
            ("front", 280.0, width - 4.0, false),
            ("front", 290.0, width - 4.0, false),
            ("back", 684.0, width - 36.0, true),
        ] {
            let name = format!("{name} {unit}");
            pieces.push(sheets::Piece { name, length, width: across, count: 1, turns });
        }
    }
    pieces.truncate(parts);
    pieces
}

const SAW: Saw = Saw { kerf: 3.2, trim: 10.0 };

#[divan::bench(args = [15, 30, 60, 120, 300, 600], sample_count = 3, sample_size = 1)]
fn panels_on_sheets(bencher: Bencher<'_, '_>, parts: usize) {
    let stock = sheets::Stock { name: "sheet".into(), length: 2440.0, width: 1220.0, count: None, price: Some(60.0) };
    let job = sheets::Job { stock: vec![stock], pieces: panels(parts), saw: SAW, cuts: sheets::Cuts::Free };
    bencher.bench_local(|| sheets::lay_out(&job, Effort::for_pieces(parts), &patient));
}

#[divan::bench(args = [60, 600], sample_count = 3, sample_size = 1)]
fn panels_rip_first(bencher: Bencher<'_, '_>, parts: usize) {
    let stock = sheets::Stock { name: "sheet".into(), length: 2440.0, width: 1220.0, count: None, price: Some(60.0) };
    let cuts = sheets::Cuts::RipFirst { trims: true };
    let job = sheets::Job { stock: vec![stock], pieces: panels(parts), saw: SAW, cuts };
    bencher.bench_local(|| sheets::lay_out(&job, Effort::for_pieces(parts), &patient));
}

#[divan::bench(args = [60, 120, 300, 600], sample_count = 3, sample_size = 1)]
fn rails_on_boards(bencher: Bencher<'_, '_>, parts: usize) {
    let pieces =
        panels(parts).into_iter().map(|panel| boards::Piece { name: panel.name, length: panel.length, count: 1 });
    let stock = boards::Stock { name: "board".into(), length: 2440.0, count: None, price: Some(9.0) };
    let job = boards::Job { stock: vec![stock], pieces: pieces.collect(), saw: Saw { kerf: 3.2, trim: 20.0 } };
    bencher.bench_local(|| boards::lay_out(&job, Effort::for_pieces(parts), &patient));
}
