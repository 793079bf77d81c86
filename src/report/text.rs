//! The clearance report in plain lines: verdict first, then fillers, then each finding.

use super::map::together_lines;
use super::owner::showing_lines;
use crate::clearance::tolerance::SAME;
use crate::clearance::{
    Advice, Answer, Contact, Finding, FindingKind, GoodRange, Need, OpenPassage, Opening, SideAnswer,
};
use crate::length::Length;
use crate::model::{Model, Motion, MoverId};
use crate::plan::Filler;
use crate::showing::showing;

/// How a line is marked, beside its words: for colour on a terminal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// All is well.
    Good,
    /// Something is wrong.
    Bad,
    /// A heading.
    Heading,
    /// Neither.
    Plain,
}

/// The verdict in one line, with what would cure it where a filler would.
#[must_use]
pub fn verdict(answer: &Answer) -> String {
    let count = match answer.findings.len() {
        0 => return "ALL CLEAR: every drawer and door opens fully, and both runs fit.".to_owned(),
        1 => "CONFLICT: 1 finding.".to_owned(),
        n => format!("CONFLICT: {n} findings."),
    };
    let narrow: Vec<String> = answer
        .sides
        .iter()
        .filter(|side| side.spare().is_some_and(|spare| spare < Length::mm(-SAME)))
        .filter_map(|side| {
            let spare = side.spare()?.abs().show(answer.model.unit);
            Some(format!("the {} filler is {spare} too narrow", side.side.word()))
        })
        .collect();
    if narrow.is_empty() { count } else { format!("{count} {}.", sentence(&narrow.join(", "))) }
}

/// With its first letter large.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// How far open, in words: `pulled out by 312 mm`, `turned by 87.5°`, `shut`.
#[must_use]
pub fn travel(answer: &Answer, mover: MoverId, out: f64) -> String {
    match answer.model.mover(mover).motion {
        _ if out <= SAME => "shut".to_owned(),
        Motion::Slide { .. } => format!("pulled out by {}", Length::mm(out).show(answer.model.unit)),
        Motion::Swing { .. } => format!("turned by {}", degrees(out)),
    }
}

pub(super) fn degrees(radians: f64) -> String {
    // Down to the next tenth: the answer for a swing is on the safe side, and so is its print.
    format!("{:.1}°", (radians.to_degrees() * 10.0 + 1e-6).floor() / 10.0)
}

/// One finding in one line, with figures and the two parts.
#[must_use]
pub fn finding_line(answer: &Answer, finding: &Finding) -> String {
    let unit = answer.model.unit;
    let [part, other] = [finding.part, finding.other].map(|id| answer.model.part(id).name.as_str());
    let open = finding.mover.map(|mover| travel(answer, mover, finding.out)).unwrap_or_default();
    match finding.kind {
        FindingKind::Hits => format!("{part} touches {other} when {open}."),
        FindingKind::TooNear => format!(
            "{part} comes within {} of {other} when {open}; {} is wanted.",
            finding.gap.show(unit),
            finding.wanted.show(unit)
        ),
        FindingKind::Overlaps => format!("{part} stands where {other} is."),
        FindingKind::RunTooLong => {
            let side = answer.model.part(finding.part).run.map_or("", |side| side.word());
            format!("the {side} run is {} too long for its wall.", finding.gap.abs().show(unit))
        }
    }
}

/// How one drawer or door opens, in one line.
#[must_use]
pub fn opening_line(answer: &Answer, opening: &Opening) -> String {
    let mover = answer.model.mover(opening.mover);
    let swings = matches!(mover.motion, Motion::Swing { .. });
    let how_far = |out: f64| if swings { degrees(out) } else { Length::mm(out).show(answer.model.unit) };
    let full = how_far(opening.full);
    let verb = if swings { "turns" } else { "pulls out" };
    let mut line = if opening.is_clear() {
        format!("{}: {verb} its full {full}", mover.name)
    } else if opening.to_touch >= opening.full && opening.to_wanted <= SAME {
        format!("{}: {verb} its full {full}, but is nearer than is wanted even shut", mover.name)
    } else if opening.to_touch >= opening.full {
        let wanted = how_far(opening.to_wanted);
        format!("{}: {verb} its full {full}, but keeps the clearance wanted only to {wanted}", mover.name)
    } else if opening.to_touch <= SAME && opening.touches_first.is_some() {
        format!("{}: does not open, it touches already when shut", mover.name)
    } else {
        format!("{}: {verb} {} of {full}", mover.name, how_far(opening.to_touch))
    };
    if let Some(contact) = &opening.touches_first {
        line += &format!("; touches first: {}", answer.model.part(contact.other).name);
    }
    if let Some(gap) = gap_line(answer, opening) {
        line += &format!("; {gap}");
    }
    if let Some(stop) = opening.stop {
        line += &format!("; set a stop at {}", degrees(stop));
    }
    for need in &opening.needs {
        line += &format!("; {}", need_line(answer, need));
    }
    line
}

/// What must be open before a part moves, in words.
#[must_use]
pub fn need_line(answer: &Answer, need: &Need) -> String {
    let door = &answer.model.mover(need.mover).name;
    if need.at_least.is_infinite() {
        return format!("{door} is in its way however far it opens");
    }
    // Up to the next tenth: a little more open is on the safe side.
    let at_least = (need.at_least.to_degrees() * 10.0 - 1e-6).ceil() / 10.0;
    let reaches = if need.is_met() { String::new() } else { format!(", which opens to {}", degrees(need.reaches)) };
    format!("comes out only when {door} is open to {at_least:.1}° or more{reaches}")
}

/// What had better be otherwise, in words.
#[must_use]
pub fn advice_line(answer: &Answer, advice: &Advice) -> String {
    let (model, unit) = (&answer.model, answer.model.unit);
    let name = |id| model.part(id).name.as_str();
    match *advice {
        Advice::SupportPanel { side, appliance } => format!(
            "{} stands at the corner: put an end panel before it, first in the {} run, to hold the filler and the top.",
            name(appliance),
            side.word()
        ),
        Advice::StandingRoom { door, other, room, wanted } => {
            let (room, other) = (room.show_no_more(unit), name(other));
            let than = if advice.is_short() { "less than" } else { "not less than" };
            format!(
                "{}, open: {room} to stand beside it, to {other}; {than} the usual {}.",
                name(door),
                wanted.show(unit)
            )
        }
        Advice::Raising { side, room, wanted } => {
            let (room, wanted) = (room.show_no_more(unit), wanted.show_no_less(unit));
            let unit_name = name(side).rsplit_once(", ").map_or(name(side), |(unit, _)| unit);
            let then = if advice.is_short() {
                "less: build it in two parts, set its base under it after, or make it lower"
            } else {
                "enough"
            };
            format!(
                "{unit_name}, stood up from lying down, needs {wanted} under the ceiling, and has {room}: {then}. Measure \
                 the way in too; two people raise it, and it is fixed to the wall before anything else is done at it."
            )
        }
        Advice::Passage { part, other, room, wanted, open } => {
            let than = if advice.is_short() { "less than" } else { "not less than" };
            format!(
                "{} to pass between {} and {}, all shut; {than} {}, which the 2010 ADA Standards, section 804.2.1, ask \
                 for in a pass-through. Local codes govern.{}",
                room.show_no_more(unit),
                name(part),
                name(other),
                wanted.show(unit),
                open.map(|open| format!(" {}", open_passage_line(model, &open))).unwrap_or_default()
            )
        }
    }
}

/// The passage with drawers and doors open, in words.
fn open_passage_line(model: &Model, open: &OpenPassage) -> String {
    let left = |room: Length| {
        if room > Length::ZERO {
            format!("{} is left", room.show_no_more(model.unit))
        } else {
            "nothing is left".to_owned()
        }
    };
    let name = |mover: MoverId| model.mover(mover).name.as_str();
    let (other, opposite) = open.opposite;
    let opposite = format!("With {} open {}", name(other), left(opposite));
    match open.run {
        Some((own, run)) => {
            format!("{opposite}, with {} open {}, with both {}.", name(own), left(run), left(open.both))
        }
        None => format!("{opposite}."),
    }
}

/// The least gap over the whole travel, in words.
#[must_use]
pub fn gap_line(answer: &Answer, opening: &Opening) -> Option<String> {
    let contact = opening.least_gap.filter(|contact| contact.gap > Length::mm(SAME))?;
    let other = &answer.model.part(contact.other).name;
    Some(format!("least gap {} to {other}", contact.gap.show(answer.model.unit)))
}

/// The least width of one side, in words.
#[must_use]
pub fn least_line(answer: &Answer, side: &SideAnswer) -> String {
    let unit = answer.model.unit;
    match (side.least, side.least_on_step) {
        (None, _) => "no width clears all that opens on its run".to_owned(),
        (Some(least), _) if least <= Length::ZERO => "none needed".to_owned(),
        (Some(least), Some(step)) if step == least => format!("least {}", least.show_no_less(unit)),
        (Some(least), Some(step)) => {
            format!("least {}, on the shop step {}", least.show_no_less(unit), step.show_no_less(unit))
        }
        (Some(least), None) => format!("least {}, no shop step passes", least.show_no_less(unit)),
    }
}

/// The widths with which everything is clear, in words, where they are not simply "the least or more".
#[must_use]
pub fn good_line(answer: &Answer, side: &SideAnswer) -> Option<String> {
    let unit = answer.model.unit;
    let plain = |from: Length| side.least.is_some_and(|least| (least - from).abs() <= Length::mm(SAME));
    let show = |range: &GoodRange| match range.to {
        Some(to) if to - range.from <= Length::mm(SAME) => format!("{} only", to.show(unit)),
        Some(to) => format!("{} to {}", range.from.show_no_less(unit), to.show_no_more(unit)),
        None => format!("{} or more", range.from.show_no_less(unit)),
    };
    match side.good.as_slice() {
        [] if side.least.is_none() => None,
        [] => Some("no width of this filler alone clears everything: see the findings".to_owned()),
        [GoodRange { from, to: None }] if plain(*from) => None,
        ranges => Some(format!("all is clear at {}", ranges.iter().map(show).collect::<Vec<_>>().join("; "))),
    }
}

fn decided(answer: &Answer, contact: &Contact) -> String {
    let [part, other] = [contact.part, contact.other].map(|id| answer.model.part(id).name.as_str());
    let mut line = format!("decided by {part}, {}, past {other}", travel(answer, contact.mover, contact.out));
    if contact.other_out > 0.0 {
        line += &format!(", ajar by {}", Length::mm(contact.other_out).show(answer.model.unit));
    }
    line
}

/// Everything about one side's filler, a line each; the first names the side and its present width.
#[must_use]
pub fn side_lines(answer: &Answer, side: &SideAnswer) -> Vec<String> {
    let unit = answer.model.unit;
    let asked = match side.asked {
        Filler::Fixed(_) => "as the plan fixes it",
        Filler::Least if side.least.is_none() => "the least past the other run",
        Filler::Least => "the least on the shop step",
    };
    let mut lines = vec![format!(
        "{} filler: {} ({asked}); {}",
        side.side.word(),
        side.present.show(unit),
        least_line(answer, side)
    )];
    match side.spare() {
        Some(spare) if spare < Length::mm(-SAME) => {
            lines.push(format!("{} too narrow", spare.abs().show(unit)));
        }
        Some(spare)
            if spare > Length::mm(SAME) && side.present.show(unit) != side.least.unwrap_or_default().show(unit) =>
        {
            let passes = side.good.iter().any(|range| {
                range.from <= side.present + Length::mm(SAME) && range.to.is_none_or(|to| side.present <= to)
            });
            let but = if passes || side.good.is_empty() { "" } else { ", but not all is clear at this width" };
            lines.push(format!("{} more than the least{but}", spare.show(unit)));
        }
        _ => {}
    }
    lines.extend(side.decided_by.as_ref().map(|contact| decided(answer, contact)));
    lines.extend(good_line(answer, side));
    lines.push(match side.largest_projection {
        Some(projection) => {
            format!("pulls on the {} run may project up to {}", side.side.word(), projection.show_no_more(unit))
        }
        None => format!("no pull on the {} run is in reach of what opens", side.side.word()),
    });
    lines.push(if side.left_over < Length::ZERO {
        format!("the run is {} longer than its wall", side.left_over.abs().show(unit))
    } else {
        format!("{} of wall left past the run's end", side.left_over.show(unit))
    });
    lines.extend(side.far_end.map(|need| {
        let short = if side.left_over < need.least - Length::mm(SAME) { "too little is left: " } else { "" };
        format!(
            "{short}what opens needs {} between the last unit and {}, for {}",
            need.least.show_no_less(unit),
            answer.model.part(need.other).name,
            answer.model.part(need.part).name
        )
    }));
    lines
}

/// The usual cautions, in short.
#[must_use]
pub fn cautions() -> &'static [&'static str] {
    &[
        "Check the built boxes, slides and pulls against these figures before you cut the fillers.",
        "Fix every unit to the wall before a drawer is loaded: open drawers tip a loose unit.",
        "Find wires, pipes and gas in the wall before you screw into it. Local codes govern; licensed trades do their part.",
    ]
}

/// The whole report, line by line, each with its mark.
#[must_use]
pub fn text(answer: &Answer) -> Vec<(Mark, String)> {
    text_with(answer, Vec::new())
}

/// The report with `worries` of other readings, a heading and lines, after what opens and before what is good to know.
#[must_use]
pub fn text_with(answer: &Answer, worries: Vec<(Mark, String)>) -> Vec<(Mark, String)> {
    let mut lines = Vec::new();
    let clear = answer.is_clear();
    lines.push((if clear { Mark::Good } else { Mark::Bad }, verdict(answer)));
    lines.push((Mark::Plain, answer.model.name.clone()));
    lines.push((Mark::Heading, "Fillers".to_owned()));
    for side in &answer.sides {
        for (k, line) in side_lines(answer, side).into_iter().enumerate() {
            lines.push((Mark::Plain, format!("{}{line}", if k == 0 { "  " } else { "    " })));
        }
    }
    if !clear {
        lines.push((Mark::Heading, "Findings".to_owned()));
        for finding in &answer.findings {
            lines.push((Mark::Bad, format!("  ! {}", finding_line(answer, finding))));
        }
    }
    lines.push((Mark::Heading, "Each drawer and door".to_owned()));
    for opening in &answer.openings {
        let mark = if opening.is_clear() { Mark::Plain } else { Mark::Bad };
        lines.push((
            mark,
            format!("  {} {}", if opening.is_clear() { " " } else { "!" }, opening_line(answer, opening)),
        ));
    }
    lines.extend(worries);
    lines.extend(together_lines(&answer.model));
    if !answer.advice.is_empty() {
        lines.push((Mark::Heading, "Better to know".to_owned()));
        let advice = answer.advice.iter();
        lines.extend(advice.map(|advice| (Mark::Plain, format!("  {}", advice_line(answer, advice)))));
    }
    lines.push((Mark::Heading, "What owners ask".to_owned()));
    let asked = showing_lines(&answer.model, &showing(&answer.model));
    lines.extend(asked.into_iter().map(|line| (Mark::Plain, format!("  {line}"))));
    lines.push((Mark::Heading, "Taken for granted".to_owned()));
    lines.extend(answer.assumes.iter().map(|line| (Mark::Plain, format!("  {line}"))));
    lines.push((Mark::Heading, "Take care".to_owned()));
    lines.extend(cautions().iter().map(|line| (Mark::Plain, format!("  {line}"))));
    lines
}
