//! What an owner asks, answered in words: for the report with figures, for the owner without.

use serde_json::{Value, json};

use crate::length::{Length, Unit};
use crate::model::Model;
use crate::plan::Side;
use crate::showing::Showing;
use crate::showing::lines::{Line, LinePair, LinePlace, Neighbours};
use crate::showing::space::{Space, Use};

/// Below this a line that misses is told as barely off, in mm; below the next as slightly. Our own choice.
const BARELY_MM: f64 = 2.0;
/// About a pencil. Our own choice.
const SLIGHTLY_MM: f64 = 8.0;
/// So many neighbours are told of by name; of the rest there is a count.
const NAMED: usize = 2;

/// A question that owners ask, and the answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnerAnswer {
    /// As an owner would ask it.
    pub question: &'static str,
    /// Sentences, the answer first.
    pub answer: Vec<String>,
    /// Whether it is as one would like it; `None` where that is a matter of taste.
    pub pleases: Option<bool>,
}

/// What owners ask, in words and with no lengths: volumes only.
#[must_use]
pub fn owner_answers(model: &Model, showing: &Showing) -> Vec<OwnerAnswer> {
    vec![lines_answer(showing), fillers_answer(showing), space_answer(model.unit, &showing.space)]
}

fn lines_answer(showing: &Showing) -> OwnerAnswer {
    let question = "Do the drawer lines meet round the corner?";
    let Some(corner) = showing.at_corner() else {
        let answer = vec!["There are no fronts on one of the runs to compare.".to_owned()];
        return OwnerAnswer { question, answer, pleases: None };
    };
    let all = corner.all_meet();
    let mut answer = vec![match (corner.meeting(), corner.count()) {
        _ if all => "Yes: every line runs on from one run to the other.".to_owned(),
        (meeting, count) => format!("Not all: {meeting} of {count} lines run on."),
    }];
    answer.extend(corner.pairs.iter().filter(|pair| !pair.meets()).map(|pair| {
        let by = match pair.off.to_mm().abs() {
            off if off < BARELY_MM => "barely",
            off if off < SLIGHTLY_MM => "slightly",
            _ => "clearly",
        };
        let which = if pair.off > Length::ZERO { "higher" } else { "lower" };
        format!("{} is {by} {which} on the {} run.", capital(&place(&pair.here)), corner.there.side.word())
    }));
    let ending = corner.alone_here.len() + corner.alone_there.len();
    if ending > 0 {
        answer.push(match ending {
            1 => "One line ends at the corner: the fronts are divided differently.".to_owned(),
            n => format!("{n} lines end at the corner: the fronts are divided differently."),
        });
    }
    let along: Vec<&Neighbours> = showing.neighbours.iter().filter(|pair| !pair.round_the_corner).collect();
    let off = along.iter().filter(|pair| !pair.all_meet()).count();
    match (along.len(), off) {
        (0, _) => {}
        (_, 0) => answer.push("Along both runs every line goes on too.".to_owned()),
        (n, off) if n == off => {
            answer.push("Along the runs the fronts are divided differently from unit to unit.".to_owned());
        }
        (n, off) => answer.push(format!("Along the runs {off} of {n} neighbours are divided differently.")),
    }
    OwnerAnswer { question, answer, pleases: Some(all) }
}

fn fillers_answer(showing: &Showing) -> OwnerAnswer {
    let question = "Are the two fillers alike?";
    let fillers = showing.fillers;
    let alike = fillers.alike();
    let (left, right) = (fillers.left.to_mm(), fillers.right.to_mm());
    let answer = if left.max(right) <= 0.0 {
        "No filler is to be seen.".to_owned()
    } else if alike {
        "Yes: both look equally wide.".to_owned()
    } else {
        let (wide, narrow) = if left > right { (Side::Left, right / left) } else { (Side::Right, left / right) };
        let how = match narrow {
            share if share <= 0.0 => "is the only one to be seen".to_owned(),
            share if share >= 0.9 => "is a little wider".to_owned(),
            share if share >= 0.65 => "is plainly wider".to_owned(),
            share => format!("is about {} as wide", times(1.0 / share)),
        };
        format!("No: the {} one {how}.", wide.word())
    };
    OwnerAnswer { question, answer: vec![answer], pleases: Some(alike) }
}

/// `twice`, `1.7 times`.
fn times(ratio: f64) -> String {
    if (ratio - 2.0).abs() < 0.05 { "twice".to_owned() } else { format!("{ratio:.1} times") }
}

fn space_answer(unit: Unit, space: &Space) -> OwnerAnswer {
    let question = "How much space does the corner shut off?";
    let mut answer = vec![format!("{}.", capital(&volume(unit, space, "about ")))];
    answer.extend(use_lines(space));
    OwnerAnswer { question, answer, pleases: None }
}

/// In the unit of the plan first: `about 301 litres (10.6 cubic feet)`.
fn volume(unit: Unit, space: &Space, about: &str) -> String {
    let (litres, feet) = (space.litres(), space.cubic_feet());
    match unit {
        Unit::Millimetre => format!("{about}{litres:.0} litres ({feet:.1} cubic feet)"),
        Unit::Inch => format!("{about}{feet:.1} cubic feet ({litres:.0} litres)"),
    }
}

/// What could use the space, a sentence each.
fn use_lines(space: &Space) -> Vec<String> {
    if space.uses.is_empty() {
        return vec!["Too little to be worth a door: leave it shut.".to_owned()];
    }
    let sentence = |this: &Use| match this {
        Use::ThroughUnit(side) => format!(
            "It can be reached from the {} run's first unit, through an opening in that unit's side.",
            side.word()
        ),
        Use::CornerUnit => {
            "It is large enough for a corner unit with a door of its own, in place of the fillers and a part of the \
             first units."
                .to_owned()
        }
        Use::FromBehind(side) => format!(
            "If one can walk round the open end of the {} wall, a door from behind would open it; have the wall looked at \
             first.",
            side.word()
        ),
    };
    space.uses.iter().map(sentence).collect()
}

/// What owners ask, with figures, a line each, for the report.
#[must_use]
pub fn showing_lines(model: &Model, showing: &Showing) -> Vec<String> {
    let unit = model.unit;
    let mut lines = Vec::new();
    match showing.at_corner() {
        Some(corner) => lines.extend(neighbour_lines(unit, corner)),
        None => lines.push("drawer lines: one run has no fronts, so none meet round the corner".to_owned()),
    }
    let along = || showing.neighbours.iter().filter(|pair| !pair.round_the_corner);
    for pair in along().filter(|pair| !pair.all_meet()).take(NAMED) {
        lines.extend(neighbour_lines(unit, pair));
    }
    let (off, count) = (along().filter(|pair| !pair.all_meet()).count(), along().count());
    if off > NAMED {
        lines.push(match off - NAMED {
            1 => "and 1 more pair along the runs whose lines do not all meet".to_owned(),
            more => format!("and {more} more pairs along the runs whose lines do not all meet"),
        });
    } else if off == 0 && count > 0 {
        lines.push("along the runs every line goes on from unit to unit".to_owned());
    }
    let fillers = showing.fillers;
    let widths = format!("fillers as seen: left {}, right {}", fillers.left.show(unit), fillers.right.show(unit));
    lines.push(if fillers.alike() {
        format!("{widths}: alike")
    } else {
        format!("{widths}: {} apart", fillers.difference().abs().show(unit))
    });
    lines.push(format!("shut off in the corner: {}", volume(unit, &showing.space, "")));
    lines.push(
        "  from the back planes to the filler faces, between the first units, over the kick, less blocks and obstacles"
            .to_owned(),
    );
    lines.extend(use_lines(&showing.space).into_iter().map(|line| format!("  {line}")));
    lines
}

fn neighbour_lines(unit: Unit, pair: &Neighbours) -> Vec<String> {
    let way = if pair.round_the_corner { " round the corner" } else { "" };
    let apart = if pair.adjoin { "" } else { ", with something else between" };
    let head = format!("drawer lines{way}, {} to {}{apart}", pair.here.name, pair.there.name);
    if pair.all_meet() {
        return vec![format!("{head}: all {} meet", pair.count())];
    }
    let mut lines = vec![format!("{head}: {} of {} meet", pair.meeting(), pair.count())];
    let off = |two: &LinePair| {
        let which = if two.off > Length::ZERO { "higher" } else { "lower" };
        format!("  {}: {} {which} on {}", place(&two.here), two.off.abs().show(unit), pair.there.name)
    };
    lines.extend(pair.pairs.iter().filter(|two| !two.meets()).map(off));
    for (ending, from, at) in
        [(pair.alone_here.len(), &pair.here, &pair.there), (pair.alone_there.len(), &pair.there, &pair.here)]
    {
        match ending {
            0 => {}
            1 => lines.push(format!("  1 line of {} ends at {}", from.name, at.name)),
            n => lines.push(format!("  {n} lines of {} end at {}", from.name, at.name)),
        }
    }
    lines
}

fn place(line: &Line) -> String {
    match line.place {
        LinePlace::Top => "the upper edge".to_owned(),
        LinePlace::Between => format!("the line below the {}", line.front),
        LinePlace::Bottom => "the lower edge".to_owned(),
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// What owners ask, for machines.
#[must_use]
pub fn showing_json(showing: &Showing) -> Value {
    let place = |line: &Line| match line.place {
        LinePlace::Top => "top",
        LinePlace::Between => "between",
        LinePlace::Bottom => "bottom",
    };
    let line =
        |line: &Line| json!({ "place": place(line), "front": line.front, "low_mm": line.low, "high_mm": line.high });
    let pair = |two: &LinePair| json!({ "here": line(&two.here), "there": line(&two.there), "off_mm": two.off, "meets": two.meets() });
    let neighbours = |both: &Neighbours| {
        json!({
            "here": both.here.name,
            "there": both.there.name,
            "round_the_corner": both.round_the_corner,
            "adjoin": both.adjoin,
            "all_meet": both.all_meet(),
            "lines": both.pairs.iter().map(pair).collect::<Vec<_>>(),
            "alone_here": both.alone_here.iter().map(line).collect::<Vec<_>>(),
            "alone_there": both.alone_there.iter().map(line).collect::<Vec<_>>(),
        })
    };
    let uses = showing.space.uses.iter().map(|this| match this {
        Use::ThroughUnit(side) => json!({ "through_unit": side.word() }),
        Use::CornerUnit => json!({ "corner_unit": null }),
        Use::FromBehind(side) => json!({ "from_behind": side.word() }),
    });
    json!({
        "neighbours": showing.neighbours.iter().map(neighbours).collect::<Vec<_>>(),
        "fillers_seen": {
            "left_mm": showing.fillers.left,
            "right_mm": showing.fillers.right,
            "alike": showing.fillers.alike(),
        },
        "shut_off": {
            "litres": showing.space.litres(),
            "cubic_feet": showing.space.cubic_feet(),
            "uses": uses.collect::<Vec<_>>(),
        },
    })
}
