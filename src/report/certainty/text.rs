//! How sure is it, and what would make it narrower? In words.

use super::super::text::{Mark, cautions};
use crate::certainty::alternatives::{Alternative, Alternatives, Change};
use crate::certainty::{Chance, Enough, SampledSide, Sure, Worst, WorstSide};
use crate::clearance::Answer;
use crate::length::{Length, Unit};
use crate::model::Model;
use crate::plan::{Plan, SpreadLaw};
use crate::showing::space::{CORNER_LEG, CornerUnit, MM3_PER_CUBIC_FOOT, MM3_PER_LITRE, Space, Use};

/// So many causes are told of a side.
const TOLD: usize = 8;
/// What the causes leave of the variance is told from this share on.
const WORTH_TELLING: f64 = 0.02;

/// What a worst case and samples rest on.
#[must_use]
pub fn rests_on(plan: &Plan, worst: &Worst) -> Vec<String> {
    let (unit, t) = (plan.unit, plan.tolerances);
    let off = |length: Length| length.show(unit);
    let law = match t.spread {
        SpreadLaw::Normal => {
            "Spread: mostly near the plan, a normal law whose three sigma are the tolerance, cut off there."
        }
        SpreadLaw::Uniform => "Spread: anywhere within the tolerance alike.",
    };
    let sides = || worst.wanted.iter().chain(&worst.apart);
    let turns = sides().map(|side| side.exactness.turns).fold(0.0, f64::max);
    let swings = sides().map(|side| side.exactness.swings).fold(0.0, f64::max);
    let mut lines = vec![
        format!(
            "Tolerances, either way: run angle {}°, unit width {}, squareness {}, slides {} sideways and {}°, pulls {} in \
             projection and {} in place, fronts {}, fillers {}.",
            t.run_angle_deg,
            off(t.unit_width),
            off(t.squareness),
            off(t.slide_play),
            t.slide_yaw_deg,
            off(t.pull_projection),
            off(t.pull_place),
            off(t.front_adjustment),
            off(t.filler_cut)
        ),
        law.to_owned(),
        "One angle turns the whole right run; a unit's width moves every unit after it; all else is off by itself."
            .to_owned(),
        "Asked is how what opens passes the other run; neighbours on one run are left to their reveals and gaps."
            .to_owned(),
        format!("Turns are taken as straight, and {turns:.3} mm at most are added for that, on the safe side."),
    ];
    if swings > 0.0 {
        lines.push(format!("Doors are judged to {swings} mm, on the safe side."));
    }
    lines
}

/// One side in the worst case, in words.
#[must_use]
pub fn worst_line(model: &Model, wanted: &WorstSide, apart: &WorstSide) -> String {
    let unit = model.unit;
    let side = wanted.side.word();
    let mut line = if wanted.enough <= Length::ZERO {
        format!("{side} filler: none is needed, whatever is off within the tolerances")
    } else {
        let short = wanted.enough - wanted.present;
        let verdict = if short.to_mm() <= crate::clearance::tolerance::SAME {
            format!("{} is enough", wanted.present.show(unit))
        } else {
            format!("{} is {} short", wanted.present.show(unit), short.show_no_less(unit))
        };
        format!(
            "{side} filler: {verdict}; {} keeps the clearance wanted whatever is off, {} stays apart",
            wanted.enough.show_no_less(unit),
            apart.enough.show_no_less(unit)
        )
    };
    if let Some((_, parts)) = wanted.decided_by {
        let [part, other] = parts.map(|id| model.part(id).name.as_str());
        line += &format!("; decided by {part} and {other}");
    }
    line
}

/// A share in per cent.
#[must_use]
pub fn percent(share: f64) -> String {
    let percent = share * 100.0;
    let bare = if percent > 0.0 && percent < 0.01 { format!("{percent:.4}") } else { format!("{percent:.2}") };
    let short = if bare.contains('.') { bare.trim_end_matches('0').trim_end_matches('.') } else { &bare };
    format!("{short} %")
}

fn chance_line(what: &str, chance: &Chance) -> String {
    format!(
        "{what}: {} of all cases ({} to {})",
        percent(chance.share),
        percent(chance.band[0]),
        percent(chance.band[1])
    )
}

fn enough_line(what: &str, list: &[Enough], unit: Unit) -> String {
    let each = list.iter().map(|enough| {
        let [low, high] = enough.band.map(|width| width.show(unit));
        format!("{} in {} ({low} to {high})", enough.width.show_no_less(unit), percent(enough.share))
    });
    format!("{what}: {}", each.collect::<Vec<_>>().join(", "))
}

/// Mean and sigma of the widths that one side needs.
#[must_use]
pub fn mean_line(model: &Model, side: &SampledSide) -> String {
    let mean = side.mean.show(model.unit);
    format!("{} filler: needed is {mean} with a sigma of {:.2} mm", side.side.word(), side.sigma.to_mm())
}

/// What one side's variance comes from, the largest first: its share, and what it is. The last is what comes from which
/// pair decides, where that is worth telling.
#[must_use]
pub fn shares(model: &Model, side: &SampledSide) -> Vec<(f64, String)> {
    let told = side.shares.iter().take(TOLD);
    let mut list: Vec<(f64, String)> = told.map(|share| (share.share, share.cause.words(model))).collect();
    let rest = rest_of(side);
    if !list.is_empty() && rest > WORTH_TELLING {
        list.push((rest, "which pair happens to decide".to_owned()));
    }
    list
}

/// What the causes leave of the variance.
fn rest_of(side: &SampledSide) -> f64 {
    1.0 - side.shares.iter().map(|share| share.share).sum::<f64>()
}

fn side_lines(model: &Model, side: &SampledSide) -> Vec<String> {
    let unit = model.unit;
    let mut lines = vec![
        mean_line(model, side),
        enough_line("to keep the clearance wanted", &side.wanted, unit),
        enough_line("to stay apart", &side.apart, unit),
    ];
    let told = side.shares.iter().take(TOLD);
    let shares: Vec<String> =
        told.map(|share| format!("{} {}", percent(share.share), share.cause.words(model))).collect();
    if !shares.is_empty() {
        lines.push(format!("the variance comes from: {}", shares.join("; ")));
    }
    let rest = rest_of(side);
    if !shares.is_empty() && rest > WORTH_TELLING {
        lines.push(format!("{} of it from which pair happens to decide", percent(rest)));
    }
    lines
}

fn headed(lines: &mut Vec<(Mark, String)>, title: &str, body: impl IntoIterator<Item = String>) {
    lines.push((Mark::Heading, title.to_owned()));
    lines.extend(body.into_iter().map(|line| (Mark::Plain, format!("  {line}"))));
}

/// The worst case alone, a line a side.
#[must_use]
pub fn worst_text(answer: &Answer, plan: &Plan, worst: &Worst) -> Vec<(Mark, String)> {
    let mut lines = Vec::new();
    let sides = worst.wanted.iter().zip(&worst.apart);
    headed(&mut lines, "How sure, in the worst case", sides.map(|(w, a)| worst_line(&answer.model, w, a)));
    lines.extend(rests_on(plan, worst).into_iter().take(1).map(|line| (Mark::Plain, format!("  {line}"))));
    lines
}

/// Whether anything touches with the fillers as they are.
#[must_use]
pub fn touch_verdict(sure: &Sure) -> (Mark, String) {
    if sure.touches.share > 0.0 {
        let often = percent(sure.touches.share);
        (Mark::Bad, format!("With the fillers as they are something touches in {often} of all cases."))
    } else {
        (Mark::Good, format!("With the fillers as they are nothing touches in {} samples.", sure.samples))
    }
}

/// How often something touches with the fillers as they are, and how often it comes nearer than is wanted.
#[must_use]
pub fn chance_lines(sure: &Sure) -> [String; 2] {
    [
        chance_line("something touches", &sure.touches),
        chance_line("something comes nearer than is wanted", &sure.too_near),
    ]
}

/// How many samples were drawn, and what stands in brackets.
#[must_use]
pub fn samples_line(sure: &Sure) -> String {
    format!(
        "{} samples from seed {}; in brackets the band that holds the true value with 95 %. The other filler is as it is.",
        sure.samples, sure.seed
    )
}

/// Everything that the worst case and samples say.
#[must_use]
pub fn sure_text(answer: &Answer, plan: &Plan, worst: &Worst, sure: &Sure) -> Vec<(Mark, String)> {
    let model = &answer.model;
    let mut lines = vec![touch_verdict(sure), (Mark::Plain, model.name.clone())];
    let sides = worst.wanted.iter().zip(&worst.apart);
    headed(&mut lines, "In the worst case", sides.map(|(wanted, apart)| worst_line(model, wanted, apart)));
    headed(&mut lines, "With the fillers as they are", chance_lines(sure));
    lines.push((Mark::Heading, "How wide is enough, how often".to_owned()));
    for side in &sure.sides {
        for (k, line) in side_lines(model, side).into_iter().enumerate() {
            lines.push((Mark::Plain, format!("{}{line}", if k == 0 { "  " } else { "    " })));
        }
    }
    let mut rests = rests_on(plan, worst);
    rests.push(samples_line(sure));
    rests.extend(worst.wanted.iter().map(|side| {
        format!(
            "{} filler: {} of {} pairs and steps can decide; the rest are proved not to.",
            side.side.word(),
            side.can_decide,
            side.looked_at
        )
    }));
    headed(&mut lines, "What this rests on", rests);
    headed(&mut lines, "Take care", cautions().iter().map(|&line| line.to_owned()));
    lines
}

/// A volume in the plan's own kind of unit.
fn volume(mm3: f64, unit: Unit) -> String {
    match unit {
        Unit::Millimetre => format!("{:.1} l", mm3 / MM3_PER_LITRE),
        Unit::Inch => format!("{:.2} cu ft", mm3 / MM3_PER_CUBIC_FOOT),
    }
}

fn more_or_less(mm3: f64, unit: Unit) -> String {
    let [told, none] = [mm3.abs(), 0.0].map(|mm3| volume(mm3, unit));
    if told == none {
        return "as much".to_owned();
    }
    format!("{told} {}", if mm3 < 0.0 { "less" } else { "more" })
}

/// What a change is, in words.
#[must_use]
pub fn change_words(plan: &Plan, change: &Change) -> String {
    let unit = plan.unit;
    let place = |side: &crate::plan::Side, index: &usize| {
        let name = plan.run(*side).units.get(*index).map_or("", |unit| unit.name.as_str());
        format!("{} {} {name}", side.word(), index + 1)
    };
    match change {
        Change::OtherPull(side, k, pull) => format!("the pull \"{pull}\" on {}", place(side, k)),
        Change::PullShifted(side, k, by) => {
            format!("the pulls of {} moved {} away from the corner", place(side, k), by.show(unit))
        }
        Change::PullTurned(side, k) => format!("the pulls of {} turned", place(side, k)),
        Change::InsetFronts => "every front set in".to_owned(),
        Change::OtherSlide(side, k, slide) => format!("the slide \"{slide}\" in {}", place(side, k)),
        Change::ShorterExtension(side, k) => format!("three-quarter slides in {}", place(side, k)),
        Change::DrawerStop(side, k, way) => {
            format!("a stop that lets the drawers of {} out by {}", place(side, k), way.show(unit))
        }
        Change::NarrowerUnit(side, k, by) => format!("{} narrower by {}", place(side, k), by.show(unit)),
    }
}

/// What is told of changes rests on this.
pub const NARROWER_RESTS_ON: [&str; 3] = [
    "Both fillers are taken as the least that passes on the shop step, whatever the plan fixes.",
    "To put away: the inside of drawer boxes as far as they come out, and of carcasses behind doors and on shelves.",
    "Corner units are told to their outsides; their own doors are not opened here. A new pull has the plan's finish.",
];

fn alternative_line(plan: &Plan, alternative: &Alternative) -> String {
    format!("{}: {}", change_words(plan, &alternative.change), change_does(plan, alternative))
}

/// What a change would do, in words.
#[must_use]
pub fn change_does(plan: &Plan, alternative: &Alternative) -> String {
    let unit = plan.unit;
    let fillers = format!("{} and {}", alternative.fillers.left.show(unit), alternative.fillers.right.show(unit));
    let saved = if alternative.saved < Length::ZERO {
        format!("{} wider in all", alternative.saved.abs().show(unit))
    } else {
        format!("{} saved", alternative.saved.show(unit))
    };
    format!(
        "fillers {fillers}, {saved}; {} to put away, {} shut off",
        more_or_less(alternative.storage_mm3, unit),
        more_or_less(alternative.shut_off_mm3, unit)
    )
}

/// What saves most, in one line; `None` where nothing saves anything.
#[must_use]
pub fn best_line(plan: &Plan, alternatives: &Alternatives) -> Option<String> {
    let best = alternatives.list.first().filter(|best| best.saved > Length::ZERO)?;
    Some(format!("What would make the fillers narrower most: {}", alternative_line(plan, best)))
}

/// What a corner could hold in place of what it shuts off: words, what it holds and what it takes elsewhere, mm³.
pub(super) fn holds(plan: &Plan, model: &Model) -> Vec<(String, f64, f64)> {
    let space = Space::of(model);
    let mut list: Vec<(String, f64, f64)> = space
        .uses
        .iter()
        .filter_map(|one| match one {
            Use::ThroughUnit(side) => {
                Some((format!("reached through the first unit of the {} run", side.word()), space.mm3, 0.0))
            }
            Use::FromBehind(side) => {
                Some((format!("reached from the open end of the {} run or from behind", side.word()), space.mm3, 0.0))
            }
            Use::CornerUnit => None,
        })
        .collect();
    let leg = Length::mm(CORNER_LEG).show(plan.unit);
    list.extend(CornerUnit::both(model).into_iter().map(|unit| {
        let front = if unit.diagonal { "a diagonal front" } else { "a door round the corner" };
        (format!("a corner unit with {front}, {leg} past the corner each way"), unit.holds_mm3, unit.takes_mm3)
    }));
    list
}

/// What the corner shuts off with the least fillers, and what it could hold instead, a line each.
#[must_use]
pub fn corner_lines(plan: &Plan, alternatives: &Alternatives) -> Vec<String> {
    let unit = plan.unit;
    let model = Model::build(plan, alternatives.before);
    let mut corner = vec![format!("shut off as it is: {}", volume(alternatives.shut_off_mm3, unit))];
    corner.extend(holds(plan, &model).into_iter().map(|(what, holds, takes)| {
        let less =
            if takes > 0.0 { format!(", {} less in the units beside it", volume(takes, unit)) } else { String::new() };
        format!("{what}: {}{less}", volume(holds, unit))
    }));
    corner
}

/// Everything that would make it narrower, and what else the corner could hold.
#[must_use]
pub fn narrower_text(plan: &Plan, alternatives: &Alternatives) -> Vec<(Mark, String)> {
    let unit = plan.unit;
    let before = alternatives.before;
    let (better, rest): (Vec<_>, Vec<_>) = alternatives.list.iter().partition(|one| one.saved > Length::ZERO);
    let mut lines = vec![
        (Mark::Heading, format!("The least fillers are {} and {}.", before.left.show(unit), before.right.show(unit))),
        (Mark::Plain, plan.name.clone()),
    ];
    headed(&mut lines, "What makes them narrower, most first", better.iter().map(|one| alternative_line(plan, one)));
    headed(&mut lines, "What does not", rest.iter().map(|one| alternative_line(plan, one)));
    if !alternatives.refused.is_empty() {
        let refused = alternatives.refused.iter();
        headed(
            &mut lines,
            "What cannot be built",
            refused.map(|refused| format!("{}: {}", change_words(plan, &refused.change), refused.why)),
        );
    }
    headed(&mut lines, "What else the corner could hold", corner_lines(plan, alternatives));
    headed(&mut lines, "What this rests on", NARROWER_RESTS_ON.map(str::to_owned));
    lines
}
