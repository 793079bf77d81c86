//! Which edges does the installer cut, and by how much? Lines and JSON of the outlines.

use serde_json::{Value, json};

use super::super::Mark;
use crate::install::Installation;
use crate::install::outline::{CHORD_MM, CutTo, Fit, Outline, OutlineEdge};
use crate::length::{Length, Unit};
use crate::model::Edge;
use crate::plan::Side;

/// Lines to read.
pub(super) fn lines(installation: &Installation) -> Vec<(Mark, String)> {
    let (outlines, unit) = (&installation.outlines, installation.model.unit);
    let mut lines = vec![(Mark::Heading, "Edges cut to the walls and the floor".to_owned())];
    let taken = ["the left wall", "the right wall", "the floor"].into_iter().zip(outlines.measured);
    let missing: Vec<&str> = taken.filter(|(_, read)| !read).map(|(what, _)| what).collect();
    if !missing.is_empty() {
        lines.push((Mark::Plain, format!("Not measured, so taken as straight: {}.", missing.join(", "))));
    }
    for outline in &outlines.pieces {
        lines.extend(piece(outline, unit));
    }
    for &id in &outlines.blocked {
        let name = &installation.model.part(id).name;
        let line = format!("{name}: a wall stands further into the room than its front; nothing of it is left.");
        lines.push((Mark::Bad, line));
    }
    if !outlines.pieces.is_empty() {
        let line = "Hold each piece in its place and check the line before sawing: between readings the wall may do what it \
                    likes. Saw off the line and plane or sand to it. Guard eyes, ears and lungs.";
        lines.push((Mark::Plain, line.to_owned()));
    }
    lines
}

fn piece(outline: &Outline, unit: Unit) -> Vec<(Mark, String)> {
    let [x, y] = outline.blank.map(|mm| show(mm, unit));
    let seen = outline.seen_from.word();
    let mut lines = vec![(Mark::Plain, format!("{}: as cut {x} by {y}, seen {seen}.", outline.name))];
    for edge in &outline.edges {
        match (&edge.fit, edge.cut_to) {
            (Some(fit), _) => lines.extend(fitted(edge, fit, unit)),
            (None, CutTo::Seam) => {
                let what = "the seam, a butt against the other piece's front edge";
                lines.push((Mark::Plain, format!("  {} edge: {what}.", edge.edge.word())));
            }
            (None, _) if edge.bevel_deg > 0.0 => {
                let line = format!("  {} edge: sawn {} from square in the shop.", edge.edge.word(), degrees(edge));
                lines.push((Mark::Plain, line));
            }
            (None, _) => {}
        }
    }
    lines
}

fn fitted(edge: &OutlineEdge, fit: &Fit, unit: Unit) -> Vec<(Mark, String)> {
    let name = format!("  {} edge, to {}", edge.edge.word(), edge.cut_to.word());
    let mut lines = Vec::new();
    let [least, most] = fit.cut_off;
    let left_on = show(fit.left_on, unit);
    let off = if most <= CHORD_MM {
        "nothing comes off".to_owned()
    } else if most - least <= CHORD_MM {
        format!("{} comes off all along", show(most, unit))
    } else {
        format!("{} to {} comes off", show(least.max(0.0), unit), show(most, unit))
    };
    let bevel = if edge.bevel_deg >= BEVEL_TOLD_DEG {
        format!("; cut the face behind back by {}", degrees(edge))
    } else {
        String::new()
    };
    if most > CHORD_MM || fit.lacks() <= CHORD_MM {
        lines.push((Mark::Plain, format!("{name}: {off}, of {left_on} left on{bevel}.")));
    }
    if fit.lacks() > CHORD_MM {
        let (lacks, needs) =
            (Length::mm(fit.lacks()).show_no_less(unit), Length::mm(fit.needs_left_on()).show_no_less(unit));
        let line = format!(
            "{name}: THE PIECE AS CUT IS TOO SMALL by {lacks}: leave {needs} on, not {left_on}, or a gap stays there."
        );
        lines.push((Mark::Bad, line));
    }
    if let Some([deep, high]) = fit.notch {
        let line =
            format!("    notch for the baseboard: {} deep, {} up from the floor.", show(deep, unit), show(high, unit));
        lines.push((Mark::Plain, line));
    }
    if most - least > CHORD_MM {
        let at = |&[t, off]: &[f64; 2]| format!("at {} {}", bare(t, unit), bare(off, unit));
        let table: Vec<String> = fit.offsets.iter().map(at).collect();
        let line = format!("    from the {} end of the blank: {}.", fit.from.word(), table.join("; "));
        lines.push((Mark::Plain, line));
    }
    lines
}

/// A smaller bevel is not worth setting a saw for. Our own choice.
const BEVEL_TOLD_DEG: f64 = 0.1;

fn degrees(edge: &OutlineEdge) -> String {
    format!("{:.1}°", edge.bevel_deg)
}

fn show(mm: f64, unit: Unit) -> String {
    Length::mm(mm).show(unit)
}

fn bare(mm: f64, unit: Unit) -> String {
    Length::mm(mm).show_bare(unit)
}

/// The same for machines.
pub(super) fn json(installation: &Installation) -> Value {
    let outlines = &installation.outlines;
    let [left, right, floor] = outlines.measured;
    let pieces: Vec<Value> = outlines.pieces.iter().map(piece_json).collect();
    let blocked: Vec<&str> = outlines.blocked.iter().map(|&id| installation.model.part(id).name.as_str()).collect();
    json!({
        "measured": { "left_wall": left, "right_wall": right, "floor": floor },
        "pieces": pieces,
        "blocked": blocked,
    })
}

fn piece_json(outline: &Outline) -> Value {
    let edges: Vec<Value> = outline.edges.iter().map(edge_json).collect();
    json!({
        "part": outline.name,
        "seen": outline.seen_from.word(),
        "blank_mm": outline.blank,
        "thickness_mm": outline.thickness,
        "area_mm2": outline.area(),
        "reaches": outline.reaches(),
        "edges": edges,
    })
}

fn edge_json(edge: &OutlineEdge) -> Value {
    let (to, side) = match edge.cut_to {
        CutTo::Straight => ("straight", None),
        CutTo::Seam => ("seam", None),
        CutTo::Wall(side) => ("wall", Some(side)),
        CutTo::EndWall(side) => ("end_wall", Some(side)),
        CutTo::Floor => ("floor", None),
    };
    let fit = edge.fit.as_ref().map(|fit| {
        json!({
            "left_on_mm": fit.left_on,
            "cut_off_mm": fit.cut_off,
            "lacks_mm": fit.lacks(),
            "offsets_from": fit.from,
            "offsets_mm": fit.offsets,
            "notch_mm": fit.notch,
        })
    });
    json!({
        "edge": edge.edge,
        "cut_to": to,
        "of_run": side.map(Side::word),
        "bevel_deg": edge.bevel_deg,
        "points_mm": edge.points,
        "fit": fit,
    })
}

/// What an edge is called on a template.
pub(super) fn label(edge: &OutlineEdge) -> String {
    let name = edge.edge.word();
    match edge.cut_to {
        CutTo::Straight if edge.edge == Edge::Front => "front edge".to_owned(),
        CutTo::Straight => format!("{name} edge, straight"),
        CutTo::Seam => format!("{name} edge, seam"),
        to => format!("{name} edge, to {}", to.word()),
    }
}
