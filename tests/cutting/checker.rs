//! Can this really be cut? Looks at sizes and places alone, and shares nothing with the solvers: edge-to-edge cuts are
//! searched for anew, not read from the layout's cuts.

use elbowroom::cutting::{boards, sheets};

/// Slack for sums of millimetres in floating point.
const SLACK: f64 = 1e-6;

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < SLACK
}

/// Every fault of a layout of boards.
pub(crate) fn faults_of_boards(job: &boards::Job, layout: &boards::Layout) -> Vec<String> {
    let mut faults = Vec::new();
    let mut cut = vec![0; job.pieces.len()];
    for (number, board) in layout.boards.iter().enumerate() {
        let stock = &job.stock[board.stock];
        let mut free_from = job.saw.trim;
        for piece in &board.cuts {
            cut[piece.piece] += 1;
            if !same(piece.to - piece.from, job.pieces[piece.piece].length) {
                faults.push(format!("board {number}: {piece:?} has not its length"));
            }
            if piece.from < free_from - SLACK || piece.to > stock.length - job.saw.trim + SLACK {
                faults.push(format!("board {number}: {piece:?} overlaps, or passes the end"));
            }
            free_from = piece.to + job.saw.kerf;
        }
        if !same(board.offcut, (stock.length - job.saw.trim - free_from).max(0.0)) {
            faults.push(format!("board {number}: an offcut of {} after {free_from}", board.offcut));
        }
        if board.cuts.is_empty() {
            faults.push(format!("board {number} is empty"));
        }
    }
    let used: Vec<usize> = layout.boards.iter().map(|board| board.stock).collect();
    let counts: Vec<Option<usize>> = job.stock.iter().map(|stock| stock.count).collect();
    let wanted: Vec<usize> = job.pieces.iter().map(|piece| piece.count).collect();
    faults.extend(faults_of_counts(&cut, &wanted, &used, &counts));
    faults
}

fn faults_of_counts(cut: &[usize], wanted: &[usize], used: &[usize], counts: &[Option<usize>]) -> Vec<String> {
    let mut faults = Vec::new();
    for (piece, (cut, wanted)) in cut.iter().zip(wanted).enumerate() {
        if cut != wanted {
            faults.push(format!("piece {piece} is cut {cut} times, wanted {wanted}"));
        }
    }
    for (stock, count) in counts.iter().enumerate() {
        let taken = used.iter().filter(|&&used| used == stock).count();
        if count.is_some_and(|count| taken > count) {
            faults.push(format!("stock {stock} is used {taken} times of {count:?}"));
        }
    }
    faults
}

/// x, y, length, width.
type Rectangle = (f64, f64, f64, f64);

fn rectangle(area: sheets::Area) -> Rectangle {
    (area.x, area.y, area.length, area.width)
}

fn along(part: &Rectangle) -> (f64, f64) {
    (part.0, part.0 + part.2)
}

fn across(part: &Rectangle) -> (f64, f64) {
    (part.1, part.1 + part.3)
}

/// Groups that one cut after the other, all in one direction, parts them into.
fn parted(parts: &[Rectangle], by: fn(&Rectangle) -> (f64, f64), kerf: f64) -> Vec<Vec<Rectangle>> {
    let mut sorted = parts.to_vec();
    sorted.sort_by(|a, b| by(a).0.total_cmp(&by(b).0));
    let mut groups: Vec<Vec<Rectangle>> = Vec::new();
    let mut reach = f64::NEG_INFINITY;
    for part in sorted {
        let (from, to) = by(&part);
        match groups.last_mut() {
            Some(group) if from < reach + kerf - SLACK => group.push(part),
            _ => groups.push(vec![part]),
        }
        reach = reach.max(to);
    }
    groups
}

/// Whether cuts from edge to edge part all of them.
pub(crate) fn cuts_edge_to_edge(parts: &[Rectangle], kerf: f64) -> bool {
    if parts.len() <= 1 {
        return true;
    }
    for by in [along, across] {
        let groups = parted(parts, by, kerf);
        if groups.len() > 1 {
            return groups.iter().all(|group| cuts_edge_to_edge(group, kerf));
        }
    }
    false
}

/// Whether rips of the whole length, then crosscuts part all of them; without `trims`, to their widths.
fn cuts_rip_first(parts: &[Rectangle], kerf: f64, trims: bool) -> bool {
    parted(parts, across, kerf).iter().all(|rip| {
        let even = rip.iter().all(|part| same(part.1, rip[0].1) && same(part.3, rip[0].3));
        (trims || even) && parted(rip, along, kerf).iter().all(|group| group.len() == 1)
    })
}

/// Every fault of a layout of sheets.
pub(crate) fn faults_of_sheets(job: &sheets::Job, layout: &sheets::Layout) -> Vec<String> {
    let (kerf, trim) = (job.saw.kerf, job.saw.trim);
    let mut faults = Vec::new();
    let mut cut = vec![0; job.pieces.len()];
    for (number, sheet) in layout.sheets.iter().enumerate() {
        let stock = &job.stock[sheet.stock];
        let placed = sheet.pieces();
        for part in &placed {
            cut[part.piece] += 1;
            let piece = &job.pieces[part.piece];
            let (length, width) = (part.area.length, part.area.width);
            let (length, width) = if part.turned { (width, length) } else { (length, width) };
            if !same(length, piece.length) || !same(width, piece.width) {
                faults.push(format!("sheet {number}: {part:?} has not its size"));
            }
            if part.turned && !piece.turns {
                faults.push(format!("sheet {number}: {part:?} lies across the grain"));
            }
        }
        let pieces: Vec<Rectangle> = placed.iter().map(|part| rectangle(part.area)).collect();
        let mut all = pieces.clone();
        all.extend(sheet.offcuts().into_iter().map(rectangle));
        for part in &all {
            let inside = part.0 >= trim - SLACK
                && part.1 >= trim - SLACK
                && along(part).1 <= stock.length - trim + SLACK
                && across(part).1 <= stock.width - trim + SLACK;
            if !inside || part.2 <= 0.0 || part.3 <= 0.0 {
                faults.push(format!("sheet {number}: {part:?} is outside or nothing"));
            }
        }
        for (at, one) in all.iter().enumerate() {
            for other in &all[at + 1..] {
                let gap = |by: fn(&Rectangle) -> (f64, f64)| {
                    (by(other).0 - by(one).1).max(by(one).0 - by(other).1) >= kerf - SLACK
                };
                if !gap(along) && !gap(across) {
                    faults.push(format!("sheet {number}: {one:?} and {other:?} have no kerf between them"));
                }
            }
        }
        let cuttable = match job.cuts {
            sheets::Cuts::Free => cuts_edge_to_edge(&all, kerf),
            sheets::Cuts::RipFirst { trims } => cuts_edge_to_edge(&all, kerf) && cuts_rip_first(&pieces, kerf, trims),
        };
        if !cuttable {
            faults.push(format!("sheet {number} cannot be cut as asked: {pieces:?}"));
        }
        let nothing_lost = kerf > 0.0
            || same(all.iter().map(|part| part.2 * part.3).sum::<f64>(), {
                (stock.length - 2.0 * trim) * (stock.width - 2.0 * trim)
            });
        if !nothing_lost {
            faults.push(format!("sheet {number}: pieces and offcuts are not the whole sheet"));
        }
        faults.extend(faults_of_cuts(number, sheet, kerf));
    }
    let used: Vec<usize> = layout.sheets.iter().map(|sheet| sheet.stock).collect();
    let counts: Vec<Option<usize>> = job.stock.iter().map(|stock| stock.count).collect();
    let wanted: Vec<usize> = job.pieces.iter().map(|piece| piece.count).collect();
    faults.extend(faults_of_counts(&cut, &wanted, &used, &counts));
    faults
}

/// Follows the cuts as told, with a pile of what is still to be cut.
fn faults_of_cuts(number: usize, sheet: &sheets::Sheet, kerf: f64) -> Vec<String> {
    let mut faults = Vec::new();
    let mut pile = vec![rectangle(sheet.whole.area)];
    for cut in sheet.cuts() {
        let (x, y, length, width) = rectangle(cut.through);
        let close =
            |part: &Rectangle| same(part.0, x) && same(part.1, y) && same(part.2, length) && same(part.3, width);
        let Some(at) = pile.iter().position(close) else {
            faults.push(format!("sheet {number}: {cut:?} cuts what is not there"));
            continue;
        };
        pile.swap_remove(at);
        let rest = cut.at + kerf;
        let (first, second) = match cut.direction {
            sheets::Direction::Rip => ((x, y, length, cut.at), (x, y + rest, length, width - rest)),
            sheets::Direction::Crosscut => ((x, y, cut.at, width), (x + rest, y, length - rest, width)),
        };
        pile.push(first);
        if second.2 > SLACK && second.3 > SLACK {
            pile.push(second);
        }
    }
    let mut told: Vec<Rectangle> = sheet.pieces().iter().map(|part| rectangle(part.area)).collect();
    told.extend(sheet.offcuts().into_iter().map(rectangle));
    for part in &told {
        let is_there = pile
            .iter()
            .any(|left| same(left.0, part.0) && same(left.1, part.1) && same(left.2, part.2) && same(left.3, part.3));
        if !is_there {
            faults.push(format!("sheet {number}: the cuts do not leave {part:?}"));
        }
    }
    if pile.len() != told.len() {
        faults.push(format!("sheet {number}: the cuts leave {} parts, the layout tells {}", pile.len(), told.len()));
    }
    faults
}
