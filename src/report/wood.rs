//! What wood and load do, in words and as JSON. No number is made here.

use serde_json::{Value, json};

use super::Mark;
use crate::length::{Length, Unit};
use crate::model::Model;
use crate::plan::{FrontsOf, Plan, Sawn, Sheet, defaults};
use crate::wood::sag::{FIRST_SHARE, LONG_SHARE, MOST_ON_A_SHELF, creep};
use crate::wood::{Below, CornerEats, DrawerSag, EdgeMoves, FrontMoves, Reading, ShelfSag, Width, Worry};

/// What moves less than this, mm, keeps its width.
const SAME: f64 = 0.005;

/// Lengths that wood and load come to, in decimals: an eighth of an inch is too coarse for them.
fn fine(mm: f64, unit: Unit) -> String {
    match unit {
        Unit::Millimetre => format!("{mm:.1} mm"),
        Unit::Inch => format!("{:.3} in", Length::mm(mm).to_inches()),
    }
}

/// The heading and what had better be otherwise, those that fare alike in one line; nothing where all is well.
#[must_use]
pub fn worry_lines(model: &Model, reading: &Reading) -> Vec<(Mark, String)> {
    if reading.worries.is_empty() {
        return Vec::new();
    }
    let mut kept: Vec<(&Worry, Said, usize)> = Vec::new();
    for worry in &reading.worries {
        let said = said(model, worry);
        match kept.iter_mut().find(|(_, other, _)| other.of_any == said.of_any) {
            Some((.., more)) => *more += 1,
            None => kept.push((worry, said, 0)),
        }
    }
    let lines = kept.into_iter().map(|(worry, said, more)| match more {
        0 => worry_line(model, worry),
        more => format!("{} and {more} more{}", said.name, said.of_any),
    });
    let lines = lines.map(|line| (Mark::Bad, format!("  ! {line}")));
    [(Mark::Heading, "Wood and load".to_owned())].into_iter().chain(lines).collect()
}

/// What had better be otherwise, in one line.
#[must_use]
pub fn worry_line(model: &Model, worry: &Worry) -> String {
    let said = said(model, worry);
    said.name + &said.of_this
}

/// What had better be otherwise, in words.
struct Said {
    /// What it is said of.
    name: String,
    /// The rest of the line, with the names of what is beside or below it.
    of_this: String,
    /// The same with no names in it, alike for all that fare alike.
    of_any: String,
}

impl Said {
    /// What `words` say of `name` and of what is called `other`, or of any that fare so and of what is `beside` them.
    fn of(name: &str, other: &str, beside: &str, words: impl Fn(&str) -> String) -> Self {
        Self { name: name.to_owned(), of_this: words(other), of_any: words(beside) }
    }
}

fn said(model: &Model, worry: &Worry) -> Said {
    let unit = model.unit;
    let show = |mm: f64| fine(mm, unit);
    match *worry {
        Worry::Gap { part, edge, other, gap, least } => {
            let when = if gap.damp <= gap.dry { "damp" } else { "dry" };
            let (edge, drawn) = (edge.word(), show(gap.drawn));
            let words = |other: &str| {
                let what = if gap.least() <= 0.0 {
                    format!("binds on {other} in {when} air: it lacks {}", show(-gap.least()))
                } else {
                    format!("comes within {} of {other} in {when} air, less than {}", show(gap.least()), show(least))
                };
                format!(", {edge} edge: {what}; {drawn} as drawn")
            };
            Said::of(&model.part(part).name, &model.part(other).name, "what is beside it", words)
        }
        Worry::Corner(corner) => {
            let words = |parts: &str| {
                format!(
                    " filler: damp wood and paint eat {} of the {} wanted beside the corner ({parts})",
                    show(corner.whole()),
                    show(corner.wanted)
                )
            };
            let parts = corner_parts(model, &corner);
            Said::of(corner.side.word(), &parts, &parts, words)
        }
        Worry::Sags(shelf) => {
            let s = &shelf.sagging;
            let past = if s.first > s.first_limit() {
                format!("sags {} at first, more than {}", show(s.first), show(s.first_limit()))
            } else {
                format!("sags {} at last, more than {}", show(s.in_the_end), show(s.long_limit()))
            };
            let words = |_: &str| format!(": {past}; it may span {}, not {}", show(s.longest), show(s.span));
            Said::of(&model.part(shelf.part).name, "", "", words)
        }
        Worry::Overloaded(shelf) => {
            let (load, most) = (force(shelf.sagging.load, unit), force(MOST_ON_A_SHELF, unit));
            Said::of(&model.part(shelf.part).name, "", "", |_| format!(": bears {load}, more than {most} a shelf"))
        }
        Worry::Drops { mover, below } => {
            let mover = &model.mover(mover).name;
            let (part, other) = (&model.part(below.part).name, &model.part(below.other).name);
            Said {
                name: mover.clone(),
                of_this: format!(": does not clear {other}: {part} {}", comes_down(model, &below)),
                of_any: format!(": does not clear what is below it: it {}", comes_down(model, &below)),
            }
        }
    }
}

fn force(newtons: f64, unit: Unit) -> String {
    let kg = newtons / defaults::STANDARD_GRAVITY;
    match unit {
        Unit::Millimetre => format!("{kg:.0} kg"),
        Unit::Inch => format!("{:.0} lb", kg / 0.453_592_37),
    }
}

fn corner_parts(model: &Model, corner: &CornerEats) -> String {
    let show = |mm: f64| fine(mm, model.unit);
    format!(
        "{} goes {} toward it, the other run's fronts thicken by {}, paint takes {}",
        model.part(corner.front).name,
        show(corner.edge),
        show(corner.face),
        show(corner.paint)
    )
}

fn below_words(model: &Model, below: &Below) -> String {
    format!("{} {}", model.part(below.part).name, comes_down(model, below))
}

fn comes_down(model: &Model, below: &Below) -> String {
    let show = |mm: f64| fine(mm, model.unit);
    let left = below.left();
    let rest = if left < 0.0 { format!("{} too little", show(-left)) } else { format!("{} left", show(left)) };
    format!(
        "comes down {} over it when it is {} out, with {} of room: {rest}",
        show(below.drop),
        Length::mm(below.out).show(model.unit),
        show(below.room)
    )
}

/// Everything that `check --wood` adds, line by line; what had better be otherwise is in [`worry_lines`].
#[must_use]
pub fn wood_text(plan: &Plan, model: &Model, reading: &Reading) -> Vec<(Mark, String)> {
    let mut lines = Vec::new();
    let mut section = |title: &str, list: Vec<String>| {
        if !list.is_empty() {
            lines.push((Mark::Heading, title.to_owned()));
            lines.extend(list.into_iter().map(|line| (Mark::Plain, format!("  {line}"))));
        }
    };
    section("Fronts in dry and damp air", fronts_lines(plan, model, reading));
    section("Shelves under load", reading.shelves.iter().map(|shelf| shelf_line(model, shelf)).collect());
    section("Drawers under load", reading.drawers.iter().map(|drawer| drawer_line(model, drawer)).collect());
    section("What wood and load rest on", notes(plan, reading));
    lines
}

fn fronts_lines(plan: &Plan, model: &Model, reading: &Reading) -> Vec<String> {
    let mut lines = vec![match plan.wood.fronts {
        FrontsOf::Panel => "Fronts are panels: their size is taken as keeping; paint alone counts.".to_owned(),
        FrontsOf::Solid { timber, sawn, made_at } => format!(
            "{} {}, made at {made_at} %; {:.1} % in the driest air, {:.1} % in the dampest.",
            if sawn == Sawn::Flat { "Flat-sawn" } else { "Quarter-sawn" },
            timber.word(),
            reading.moisture.driest,
            reading.moisture.dampest
        ),
    }];
    lines.extend(reading.fronts.iter().filter_map(|front| front_line(model, front)));
    lines.extend(reading.corners.iter().filter(|corner| corner.whole() > SAME).map(|corner| {
        format!(
            "{} filler: {} of the {} wanted beside the corner is eaten ({})",
            corner.side.word(),
            fine(corner.whole(), model.unit),
            fine(corner.wanted, model.unit),
            corner_parts(model, corner)
        )
    }));
    lines
}

/// What becomes of one front; `None` where nothing does.
fn front_line(model: &Model, front: &FrontMoves) -> Option<String> {
    let show = |mm: f64| fine(mm, model.unit);
    let width = |width: &Width| format!("{} ({} dry, {} damp)", show(width.drawn), show(width.dry), show(width.damp));
    let [dry, damp] = front.changes;
    let mut parts = Vec::new();
    for edge in &front.edges {
        let word = edge.edge.word();
        // What keeps its width needs no figures of its own.
        let moves = |width: &Width| (width.dry - width.drawn).abs().max((width.damp - width.drawn).abs()) > SAME;
        parts.extend(
            edge.reveal
                .as_ref()
                .filter(|reveal| moves(reveal))
                .map(|reveal| format!("{word} reveal {}", width(reveal))),
        );
        let gap = edge.gap.as_ref().filter(|(_, gap)| moves(gap));
        parts.extend(gap.map(|(other, gap)| format!("{word} gap to {} {}", model.part(*other).name, width(gap))));
    }
    if parts.is_empty() && dry.abs().max(damp.abs()) <= SAME {
        return None;
    }
    let name = &model.part(front.part).name;
    let changes = format!(
        "{} across the grain goes {} dry, {} damp",
        show(front.across),
        signed(dry, model),
        signed(damp, model)
    );
    Some([format!("{name}: {changes}")].into_iter().chain(parts).collect::<Vec<_>>().join("; "))
}

fn signed(mm: f64, model: &Model) -> String {
    format!("{}{}", if mm < 0.0 { "" } else { "+" }, fine(mm, model.unit))
}

fn shelf_line(model: &Model, shelf: &ShelfSag) -> String {
    let (s, show) = (&shelf.sagging, |mm: f64| fine(mm, model.unit));
    let held =
        if shelf.is_fixed { format!(" (no less than {} with its ends fixed)", show(s.held)) } else { String::new() };
    format!(
        "{}, {} over {}: {} at first{held}, may be {}; {} at last, may be {}; {} with the load in one heap",
        model.part(shelf.part).name,
        shelf.sheet.word(),
        show(s.span),
        show(s.first),
        show(s.first_limit()),
        show(s.in_the_end),
        show(s.long_limit()),
        show(s.heaped)
    )
}

fn drawer_line(model: &Model, drawer: &DrawerSag) -> String {
    let (s, show) = (&drawer.sagging, |mm: f64| fine(mm, model.unit));
    let below = drawer.nearest.as_ref().map_or_else(
        || "nothing below it".to_owned(),
        |below| format!("nearest below is {}: {}", model.part(below.other).name, below_words(model, below)),
    );
    let droop = drawer.droop.map_or_else(
        || "droop of its slides not known".to_owned(),
        |droop| format!("its slides droop {}", show(droop)),
    );
    format!(
        "{}: bottom of {} over {} sags {} at first, {} at last; {droop}; {below}",
        model.mover(drawer.mover).name,
        drawer.sheet.word(),
        show(s.span),
        show(s.first),
        show(s.in_the_end)
    )
}

/// What the numbers rest on, one sentence each.
fn notes(plan: &Plan, reading: &Reading) -> Vec<String> {
    let unit = plan.unit;
    let load = match unit {
        Unit::Millimetre => format!("{:.0} kg on a square metre", plan.wood.load_pa / defaults::PA_IN_KG_M2),
        Unit::Inch => format!("{:.0} lb on a square foot", plan.wood.load_pa / defaults::PA_IN_PSF),
    };
    let mut notes = Vec::new();
    if plan.wood.fronts != FrontsOf::Panel {
        notes.push("Movement: Wood Handbook, FPL-GTR-190 (2010), table 13-5, equations 13-2 and 13-3; moisture of wood in air: equation 4-5. Averages: boards differ.".to_owned());
        notes.push("Fronts are slabs. Drawer fronts grow by half at each edge, doors away from their hinges. Frames, cases and end walls are taken as keeping still; paint only slows wood down.".to_owned());
    }
    let (panel, thin) = (plan.wood.panel, plan.wood.thin_panel);
    let times = |sheet: Sheet| format!("{} times that for {}", creep(sheet), sheet.word());
    let at_last = if panel == thin { times(panel) } else { format!("{}, {}", times(panel), times(thin)) };
    notes.push(format!(
        "Load of {load} and the boards' own weight. Stiffness: Wood Handbook, tables 5-3 and 12-1, for panels the least of the range. At last: {at_last} (NDS 3.5.2 for solid wood; EN 1995-1-1, table 3.2, service class 1)."
    ));
    if !reading.shelves.is_empty() {
        notes.push(format!(
            "Shelves rest on their ends. At first 1/{FIRST_SHARE} of the span and no more than 1/4 in (ANSI/KCMA A161.1-2012, section 5.1); at last 1/{LONG_SHARE}, and no more than 200 lb a shelf (Architectural Woodwork Standards, 2009, section 1.2.21)."
        ));
    }
    if !reading.drawers.is_empty() {
        notes.push("Bottoms of drawers are taken as strips over the shorter way between their grooves, and judged by what they clear: the other two grooves help, and bottoms sag less. The whole droop of a slide counts for all of its drawer. Hardware of slides is not drawn.".to_owned());
    }
    notes
}

/// What `check --json` has under `wood_worries`.
#[must_use]
pub fn worries_json(model: &Model, reading: &Reading) -> Value {
    let one = |worry: &Worry| {
        let (kind, part, other, has, needs) = match *worry {
            Worry::Gap { part, other, gap, least, .. } => {
                let kind = if gap.least() <= 0.0 { "binds" } else { "narrow_gap" };
                (kind, model.part(part).name.as_str(), Some(other), gap.least(), least)
            }
            Worry::Corner(corner) => {
                ("eaten_at_corner", model.part(corner.front).name.as_str(), None, corner.whole(), corner.wanted)
            }
            Worry::Sags(shelf) => {
                let s = shelf.sagging;
                ("sags", model.part(shelf.part).name.as_str(), None, s.span, s.longest)
            }
            Worry::Overloaded(shelf) => {
                let name = model.part(shelf.part).name.as_str();
                return json!({ "kind": "overloaded", "text": worry_line(model, worry), "part": name, "other": null,
                    "has_n": shelf.sagging.load, "limit_n": MOST_ON_A_SHELF });
            }
            Worry::Drops { mover, below } => {
                ("does_not_clear", model.mover(mover).name.as_str(), Some(below.other), below.room, below.drop)
            }
        };
        let other = other.map(|id| model.part(id).name.as_str());
        json!({ "kind": kind, "text": worry_line(model, worry), "part": part, "other": other, "has_mm": has,
            "limit_mm": needs })
    };
    reading.worries.iter().map(one).collect()
}

/// What `check --json --wood` has under `wood`.
#[must_use]
pub fn wood_json(plan: &Plan, model: &Model, reading: &Reading) -> Value {
    json!({
        "moisture_percent": { "driest": reading.moisture.driest, "dampest": reading.moisture.dampest },
        "load_pa": plan.wood.load_pa,
        "fronts": reading.fronts.iter().map(|front| front_json(model, front)).collect::<Vec<_>>(),
        "corners": reading.corners.iter().map(|corner| json!({
            "side": corner.side.word(),
            "front": model.part(corner.front).name,
            "edge_mm": corner.edge,
            "face_mm": corner.face,
            "paint_mm": corner.paint,
            "eats_mm": corner.whole(),
            "wanted_mm": corner.wanted,
        })).collect::<Vec<_>>(),
        "shelves": reading.shelves.iter().map(|shelf| {
            let s = &shelf.sagging;
            json!({
                "part": model.part(shelf.part).name,
                "of": shelf.sheet.word(),
                "fixed": shelf.is_fixed,
                "span_mm": s.span,
                "first_mm": s.first,
                "first_limit_mm": s.first_limit(),
                "in_the_end_mm": s.in_the_end,
                "in_the_end_limit_mm": s.long_limit(),
                "heaped_mm": s.heaped,
                "held_mm": s.held,
                "load_n": s.load,
                "longest_span_mm": s.longest,
                "holds": s.holds(),
            })
        }).collect::<Vec<_>>(),
        "drawers": reading.drawers.iter().map(|drawer| {
            let s = &drawer.sagging;
            json!({
                "mover": model.mover(drawer.mover).name,
                "of": drawer.sheet.word(),
                "span_mm": s.span,
                "first_mm": s.first,
                "in_the_end_mm": s.in_the_end,
                "droop_mm": drawer.droop,
                "nearest_below": drawer.nearest.map(|below| json!({
                    "part": model.part(below.part).name,
                    "other": model.part(below.other).name,
                    "room_mm": below.room,
                    "drop_mm": below.drop,
                    "out_mm": below.out,
                })),
            })
        }).collect::<Vec<_>>(),
        "rests_on": notes(plan, reading),
    })
}

fn front_json(model: &Model, front: &FrontMoves) -> Value {
    let width = |width: &Width| json!({ "drawn_mm": width.drawn, "dry_mm": width.dry, "damp_mm": width.damp });
    let edge = |edge: &EdgeMoves| {
        json!({
            "edge": edge.edge.word(),
            "goes_mm": edge.goes,
            "reveal": edge.reveal.as_ref().map(width),
            "gap": edge.gap.as_ref().map(|(_, gap)| width(gap)),
            "gap_to": edge.gap.as_ref().map(|(other, _)| model.part(*other).name.as_str()),
        })
    };
    json!({
        "front": model.part(front.part).name,
        "across_mm": front.across,
        "changes_mm": front.changes,
        "edges": front.edges.iter().map(edge).collect::<Vec<_>>(),
    })
}
