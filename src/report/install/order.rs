//! The order of work in lines and as JSON, with its cautions at the end.

use serde_json::{Value, json};

use super::Mark;
use crate::install::Installation;
use crate::install::order::{Area, CaulkJoint, Caution, Check, Drying, Fastener, Step, StepId, litres};
use crate::length::{Length, MM_PER_INCH, Unit};
use crate::model::weight::ONE_PERSON_KG;
use crate::model::{Model, PartId};

/// Pounds in a kilogram: 1 lb is 0.45359237 kg exactly.
const POUNDS: f64 = 1.0 / 0.453_592_37;
/// US quarts in a litre: a US gallon is 231 cubic inches.
const QUARTS: f64 = 4.0 * 1e6 / (231.0 * MM_PER_INCH * MM_PER_INCH * MM_PER_INCH);
/// Hours in a day.
const DAY: f64 = 24.0;
/// Waits longer than this are told in days, hours.
const IN_DAYS: f64 = 72.0;

/// Said once for all of it.
const DEFERS: &str = "Local codes and the makers' sheets go before everything here; wires, water, gas, lead and asbestos are for licensed people. Sizes and weights are the model's; counts, times and limits are common practice where no source is named.";

/// What a line about a step is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Topic {
    /// What is done before, and why.
    After,
    /// How it is done.
    How,
    /// The parts that come in.
    Parts,
    /// Screws and the like.
    Fasteners,
    /// What is needed.
    Tools,
    /// Faces that are finished, and what is used up on them.
    Areas,
    /// Joints that are caulked.
    Caulk,
    /// What to look at before going on.
    Checks,
    /// What must dry.
    Drying,
    /// What is lifted.
    Lifting,
    /// What can hurt someone.
    Cautions,
}

/// Everything that is told beside a step, a line each.
#[must_use]
pub fn step_lines(installation: &Installation, step: &Step) -> Vec<(Topic, String)> {
    let (model, unit) = (&installation.model, installation.model.unit);
    let mut lines = Vec::new();
    let mut add = |topic: Topic, line: String| lines.push((topic, line));
    if !step.after.is_empty() {
        add(Topic::After, format!("after {}", after_words(installation, step)));
    }
    step.how.iter().for_each(|line| add(Topic::How, line.clone()));
    if !step.parts.is_empty() {
        add(Topic::Parts, format!("parts: {}", parts_words(model, &step.parts)));
    }
    step.fasteners.iter().for_each(|fastener| add(Topic::Fasteners, fastener_words(fastener, unit)));
    if !step.tools.is_empty() {
        add(Topic::Tools, format!("tools: {}", step.tools.join(", ")));
    }
    step.areas.iter().for_each(|area| add(Topic::Areas, area_words(area, unit)));
    if step.id.coats() {
        add(Topic::Areas, coat_words(&step.areas, unit));
    }
    step.caulk.iter().for_each(|joint| add(Topic::Caulk, joint_words(joint, model)));
    if !step.caulk.is_empty() {
        let all = step.caulk.iter().map(|joint| joint.length).sum::<f64>();
        add(Topic::Caulk, format!("caulk in all: {}", run_of(all, unit)));
    }
    step.checks.iter().for_each(|check| add(Topic::Checks, check_words(check, unit)));
    step.drying.iter().for_each(|drying| add(Topic::Drying, drying_words(drying)));
    if let Some(kg) = step.lift_kg {
        add(Topic::Lifting, lift_words(kg, unit));
    }
    if !step.cautions.is_empty() {
        let words: Vec<_> = step.cautions.iter().map(|caution| caution.word()).collect();
        add(Topic::Cautions, words.join(", "));
    }
    lines
}

/// Each caution that a step names, in full, and what goes before all of it.
#[must_use]
pub fn caution_lines(installation: &Installation) -> Vec<String> {
    let named = |caution: &&Caution| installation.order.iter().any(|step| step.cautions.contains(caution));
    let told = Caution::ALL.iter().filter(named).map(|caution| format!("{}: {}", caution.word(), caution.words()));
    told.chain([DEFERS.to_owned()]).collect()
}

/// Lines to read.
pub(super) fn lines(installation: &Installation) -> Vec<(Mark, String)> {
    let mut lines = vec![(Mark::Heading, "Order of work".to_owned())];
    for (index, step) in installation.order.iter().enumerate() {
        lines.push((Mark::Plain, format!("{:>3}  {}", index + 1, step.title)));
        lines.extend(step_lines(installation, step).into_iter().map(|(topic, line)| match topic {
            Topic::Cautions => (Mark::Bad, format!("     ! {line}")),
            _ => (Mark::Plain, format!("     {line}")),
        }));
    }
    lines.push((Mark::Heading, "Take care".to_owned()));
    lines.extend(caution_lines(installation).into_iter().map(|line| (Mark::Plain, format!("  {line}"))));
    lines
}

/// Every step that comes before one that `last` waits for: named there, it need not be named again.
fn before_those(steps: &[Step], last: &Step) -> Vec<StepId> {
    let after = |id: StepId| steps.iter().find(|step| step.id == id).map_or(&[][..], |step| &step.after);
    let mut all: Vec<StepId> = Vec::new();
    let mut open: Vec<StepId> = last.after.iter().map(|after| after.step).collect();
    while let Some(step) = open.pop() {
        for before in after(step) {
            if !all.contains(&before.step) {
                all.push(before.step);
                open.push(before.step);
            }
        }
    }
    all
}

/// The numbers of the steps that come right before, and why: each reason once.
fn after_words(installation: &Installation, step: &Step) -> String {
    let number = |after: &crate::install::order::After| {
        installation.order.iter().position(|one| one.id == after.step).map_or(0, |index| index + 1)
    };
    let mut reasons: Vec<(&str, Vec<usize>)> = Vec::new();
    let named = before_those(&installation.order, step);
    for after in step.after.iter().filter(|after| !named.contains(&after.step)) {
        match reasons.iter_mut().find(|(why, _)| *why == after.why) {
            Some((_, steps)) => steps.push(number(after)),
            None => reasons.push((after.why, vec![number(after)])),
        }
    }
    let words = reasons.into_iter().map(|(why, mut steps)| {
        steps.sort_unstable();
        format!("{} ({why})", steps.iter().map(usize::to_string).collect::<Vec<_>>().join(", "))
    });
    words.collect::<Vec<_>>().join("; ")
}

/// Up to four parts by name, and how many more.
fn parts_words(model: &Model, parts: &[PartId]) -> String {
    let names: Vec<_> = parts.iter().take(4).map(|&id| model.part(id).name.as_str()).collect();
    match parts.len().saturating_sub(names.len()) {
        0 => names.join("; "),
        more => format!("{}; and {more} more", names.join("; ")),
    }
}

fn fastener_words(fastener: &Fastener, unit: Unit) -> String {
    let length = match (fastener.least, fastener.most) {
        (Some(least), Some(most)) => format!(", {} to {}", least.show_no_less(unit), most.show_no_more(unit)),
        (Some(least), None) => format!(", at least {}", least.show_no_less(unit)),
        (None, Some(most)) => format!(", up to {}", most.show_no_more(unit)),
        (None, None) => String::new(),
    };
    format!("{} × {}{length}: {}", fastener.count, fastener.what, fastener.note)
}

fn check_words(check: &Check, unit: Unit) -> String {
    let size = check.size.map_or_else(String::new, |size| format!(": {}", size.show(unit)));
    let within = check.within.map_or_else(String::new, |within| format!(", within {}", within.show_no_more(unit)));
    format!("check: {}{size}{within} ({})", check.what, check.source)
}

fn drying_words(drying: &Drying) -> String {
    let (least, most) = (drying.least_hours, drying.most_hours);
    let range = if most > IN_DAYS {
        format!("{} to {} days", least / DAY, most / DAY)
    } else {
        format!("{least} to {most} hours")
    };
    format!("wait: {}: {range}, by what the tin says", drying.what)
}

fn lift_words(kg: f64, unit: Unit) -> String {
    let weight = match unit {
        Unit::Millimetre => format!("{kg:.1} kg"),
        Unit::Inch => format!("{:.1} lb", kg * POUNDS),
    };
    let people = if people(kg) > 1 { ": two people" } else { "" };
    format!("lifted in one go: up to {weight} without hardware{people}")
}

/// How many people lift this.
fn people(kg: f64) -> usize {
    if kg > ONE_PERSON_KG { 2 } else { 1 }
}

fn area_words(area: &Area, unit: Unit) -> String {
    format!("{}, {}: {}", area.surface.field(), area.finish.kind().to_lowercase(), area_of(area.mm2, unit))
}

fn area_of(mm2: f64, unit: Unit) -> String {
    match unit {
        Unit::Millimetre => format!("{:.2} m²", mm2 / 1e6),
        Unit::Inch => format!("{:.1} ft²", mm2 / (12.0 * MM_PER_INCH).powi(2)),
    }
}

fn coat_words(areas: &[Area], unit: Unit) -> String {
    let [least, most] = litres(areas);
    let amount = match unit {
        Unit::Millimetre => format!("{least:.2} to {most:.2} litres"),
        Unit::Inch => format!("{:.2} to {:.2} US quarts", least * QUARTS, most * QUARTS),
    };
    format!("for this coat: {amount}, by what the tin says it covers")
}

fn run_of(mm: f64, unit: Unit) -> String {
    match unit {
        Unit::Millimetre => format!("{:.1} m", mm / 1000.0),
        Unit::Inch => format!("{:.1} ft", mm / (12.0 * MM_PER_INCH)),
    }
}

fn joint_words(joint: &CaulkJoint, model: &Model) -> String {
    let (part, meets) = (&model.part(joint.part).name, &model.part(joint.meets).name);
    format!("caulk: {part} to {meets}, {}", Length::mm(joint.length).show(model.unit))
}

/// The same for machines.
pub(super) fn json(installation: &Installation) -> Value {
    let model = &installation.model;
    let steps: Vec<Value> = installation.order.iter().map(|step| step_json(step, model)).collect();
    let cautions = Caution::ALL.iter().map(|caution| (caution.word().to_owned(), json!(caution.words())));
    json!({ "steps": steps, "cautions": cautions.collect::<serde_json::Map<_, _>>(), "defers": DEFERS })
}

fn step_json(step: &Step, model: &Model) -> Value {
    let name = |id: PartId| model.part(id).name.as_str();
    let [least, most] = litres(&step.areas);
    json!({
        "id": step.id.to_string(),
        "title": step.title,
        "how": step.how,
        "after": step.after.iter().map(|a| json!({ "step": a.step.to_string(), "why": a.why })).collect::<Vec<_>>(),
        "parts": step.parts.iter().map(|&id| name(id)).collect::<Vec<_>>(),
        "fasteners": step.fasteners.iter().map(|f| json!({
            "what": f.what, "count": f.count, "least_mm": f.least, "most_mm": f.most, "note": f.note,
        })).collect::<Vec<_>>(),
        "tools": step.tools,
        "checks": step.checks.iter().map(|c| json!({
            "what": c.what, "size_mm": c.size, "within_mm": c.within, "source": c.source,
        })).collect::<Vec<_>>(),
        "drying": step.drying.iter().map(|d| json!({
            "what": d.what, "least_hours": d.least_hours, "most_hours": d.most_hours,
        })).collect::<Vec<_>>(),
        "cautions": step.cautions.iter().map(|caution| caution.word()).collect::<Vec<_>>(),
        "lift_kg": step.lift_kg,
        "people": step.lift_kg.map(people),
        "areas": step.areas.iter().map(|a| json!({
            "surface": a.surface.field(), "finish": a.finish.kind(), "mm2": a.mm2,
        })).collect::<Vec<_>>(),
        "litres": step.id.coats().then_some([least, most]),
        "caulk": step.caulk.iter().map(|j| json!({
            "part": name(j.part), "meets": name(j.meets), "length_mm": j.length,
        })).collect::<Vec<_>>(),
    })
}
