//! One edit of the text: what is replaced, put in and taken out, so that everything else stays byte for byte.

use std::collections::BTreeSet;

use super::layout::{Splice, indent, line_break, loose_comments, moved_in, spliced};
use super::list::{self, Style};
use super::path::{PlanPath, Step};
use super::tree::{Group, Item, Value, part, scan, scan_value};
use super::{Edit, Wrong};
use crate::plan::read::text;
use crate::plan::shape::{self, Hardware, Holds, Kind};

/// `text` with `edit` made.
pub(super) fn edited(text: &str, edit: &Edit) -> Result<String, Wrong> {
    match edit {
        Edit::Set { at, value } => set(text, at, value),
        Edit::Unset { at } => unset(text, at),
        Edit::Insert { at, value } => insert(text, at, value),
        Edit::Move { list, from, to } => reorder(text, list, *from, *to),
        Edit::Rename { at, name } => rename(text, at, name),
        Edit::Become { at, word, with } => turn_into(text, at, word, with),
        Edit::Together(edits) => edits.iter().try_fold(text.to_owned(), |text, edit| edited(&text, edit)),
    }
}

fn tree(text: &str) -> Result<Value, Wrong> {
    scan(text).ok_or_else(|| Wrong::new(&PlanPath::WHOLE, "the plan's brackets do not fit", "mend the file by hand"))
}

fn no_such_place(at: &PlanPath) -> Wrong {
    Wrong::new(at, format!("the plan has no place `{at}`"), "name a place that stands in the plan")
}

/// `value` without blanks around it, where it is one value of a plan.
fn one_value<'v>(at: &PlanPath, value: &'v str) -> Result<&'v str, Wrong> {
    let plain = value.trim();
    let whole = scan_value(plain).is_some() && ron::value::RawValue::from_ron(plain).is_ok();
    if whole && text::value_end(plain) == plain.len() {
        return Ok(plain);
    }
    let message = format!("`{}` is not one value of a plan", super::excerpt(plain));
    Err(Wrong::new(at, message, "write a number, a `\"text\"`, a word, `(\u{2026})`, `[\u{2026}]` or `{\u{2026}}`"))
}

fn set(text: &str, at: &PlanPath, value: &str) -> Result<String, Wrong> {
    let value = one_value(at, value)?;
    let plan = tree(text)?;
    let style = Style { text, plan: &plan, line_break: line_break(text) };
    if let Some(old) = plan.find(text, at.steps()) {
        if at.steps().is_empty() {
            return Err(no_such_place(at));
        }
        let mut splices = Vec::new();
        replace(style, old, value, &mut splices);
        return Ok(spliced(text, splices));
    }
    // As far in as the plan goes, and what is missing from there on.
    let steps = at.steps();
    let depth = (0..steps.len()).rfind(|&n| plan.find(text, steps.get(..n).unwrap_or_default()).is_some());
    let (here, rest) = steps.split_at(depth.unwrap_or_default());
    let (Some(parent), Some((step, inner))) = (plan.find(text, here), rest.split_first()) else {
        return Err(no_such_place(at));
    };
    let value = wrapped(inner, value).ok_or_else(|| no_such_place(at))?;
    let mut splices = match step {
        Step::Entry(_) => name_the_only_one(style, here),
        _ => Vec::new(),
    };
    splices.extend(put_in(style, parent, &PlanPath::of(here), step, &value).ok_or_else(|| no_such_place(at))?);
    Ok(spliced(text, splices))
}

/// `value` in the brackets that `steps` go through.
fn wrapped(steps: &[Step], value: &str) -> Option<String> {
    steps.iter().rev().try_fold(value.to_owned(), |value, step| match step {
        Step::Field(name) => Some(format!("({name}: {value})")),
        Step::Entry(name) => Some(format!("{{{}: {value}}}", quoted(name))),
        Step::Item(0) => Some(format!("[{value}]")),
        Step::Item(_) => None,
    })
}

/// Puts the missing part `step` of `parent`, which stands at `here`, into it.
fn put_in(style: Style<'_>, parent: &Value, here: &PlanPath, step: &Step, value: &str) -> Option<Vec<Splice>> {
    let text = style.text;
    let name = match step {
        Step::Field(name) => name.clone(),
        Step::Entry(name) => quoted(name),
        Step::Item(n) => {
            let group = parent.group.as_ref().filter(|group| group.bracket == '[' && group.items.len() == *n)?;
            return Some(list::insert(style, group, *n, value));
        }
    };
    let Some(group) = &parent.group else {
        // A word alone, such as `EndPanel`.
        parent.word.as_ref().filter(|_| matches!(step, Step::Field(_)))?;
        return Some(vec![Splice::new(parent.span.end..parent.span.end, format!("({name}: {value})"))]);
    };
    let fits = group.bracket == if matches!(step, Step::Field(_)) { '(' } else { '{' };
    if !fits || group.items.iter().any(|item| item.key.is_none()) {
        return None;
    }
    let at = match step {
        Step::Field(name) => place_among(style, group, here, name),
        _ => group.items.len(),
    };
    Some(list::insert(style, group, at, &format!("{name}{}{value}", colon(text, group))))
}

/// How the names of `group` are parted from their values.
fn colon<'t>(text: &'t str, group: &Group) -> &'t str {
    let first = group.items.first().and_then(|item| {
        let between = part(text, item.key.as_ref()?.end..item.value.span.start);
        Some(between).filter(|between| between.chars().all(|c| matches!(c, ':' | ' ')))
    });
    first.unwrap_or(": ")
}

/// The place of a new field `name` in `group`: behind the last of those that usually stand before it.
fn place_among(style: Style<'_>, group: &Group, here: &PlanPath, name: &str) -> usize {
    let kind = shape::kind_at(style.text, style.plan, here.steps());
    let value = style.plan.find(style.text, here.steps());
    let fields = kind.zip(value).and_then(|(kind, value)| kind.fields(value.word(style.text)));
    let Some(fields) = fields else { return group.items.len() };
    let order = |name: &str| fields.iter().position(|field| field.name == name);
    let Some(own) = order(name) else { return group.items.len() };
    let earlier = |item: &Item| item.name(style.text).and_then(order).is_some_and(|other| other < own);
    group.items.iter().rposition(earlier).map_or(0, |last| last + 1)
}

/// Replaces `old` by `new`, as little of it as can be; comments in what goes are put before the new value.
fn replace(style: Style<'_>, old: &Value, new: &str, splices: &mut Vec<Splice>) {
    let text = style.text;
    if old.text(text) == new {
        return;
    }
    if let (Some(was), Some(value)) = (&old.group, scan_value(new))
        && let Some(group) = &value.group
        && was.bracket == group.bracket
        && was.items.len() == group.items.len()
        && !was.items.is_empty()
        && old.word(text) == value.word(new)
        && was.items.iter().zip(&group.items).all(|(was, item)| same_key(text, was, new, item))
    {
        for (was, item) in was.items.iter().zip(&group.items) {
            replace(style, &was.value, item.value.text(new), splices);
        }
        return;
    }
    let indent = indent(text, old.span.start);
    let comments = text::comments(old.text(text));
    let lifted = comments.into_iter().map(|comment| part(old.text(text), comment));
    let mut out = lifted.fold(String::new(), |out, comment| out + &lifted_comment(comment, indent, style.line_break));
    out += &moved_in(new, indent, style.line_break);
    splices.push(Splice::new(old.span.clone(), out));
}

fn same_key(text: &str, was: &Item, new: &str, item: &Item) -> bool {
    match (&was.key, &item.key) {
        (None, None) => true,
        (Some(was), Some(key)) => part(text, was.clone()) == part(new, key.clone()),
        _ => false,
    }
}

/// A comment to stand before a value.
fn lifted_comment(comment: &str, indent: &str, line_break: &str) -> String {
    if comment.starts_with("//") { format!("{comment}{line_break}{indent}") } else { format!("{comment} ") }
}

fn unset(text: &str, at: &PlanPath) -> Result<String, Wrong> {
    let plan = tree(text)?;
    let (group, n) = place(text, &plan, at)?;
    Ok(spliced(text, list::remove(text, group, n)))
}

/// The brackets that `at` stands in, and its place in them.
fn place<'v>(text: &str, plan: &'v Value, at: &PlanPath) -> Result<(&'v Group, usize), Wrong> {
    let (rest, last) = at.steps().split_last().map(|(last, rest)| (rest, last)).ok_or_else(|| no_such_place(at))?;
    let parent = plan.find(text, rest);
    parent.and_then(|parent| parent.step(text, last)).ok_or_else(|| no_such_place(at))
}

fn insert(text: &str, at: &PlanPath, value: &str) -> Result<String, Wrong> {
    let plan = tree(text)?;
    let Some((Step::Item(n), rest)) = at.steps().split_last() else { return Err(no_such_place(at)) };
    let list = plan.find(text, rest).and_then(|list| list.group.as_ref()).filter(|list| list.bracket == '[');
    let Some(list) = list.filter(|list| *n <= list.items.len()) else {
        // A list that is not there yet is made by setting its first item.
        return if *n == 0 && plan.find(text, rest).is_none() { set(text, at, value) } else { Err(no_such_place(at)) };
    };
    let style = Style { text, plan: &plan, line_break: line_break(text) };
    Ok(spliced(text, list::insert(style, list, *n, one_value(at, value)?)))
}

fn reorder(text: &str, at: &PlanPath, from: usize, to: usize) -> Result<String, Wrong> {
    let plan = tree(text)?;
    let list = plan.find(text, at.steps()).and_then(|list| list.group.as_ref()).filter(|list| list.bracket == '[');
    let list = list.filter(|list| from < list.items.len() && to < list.items.len());
    let style = Style { text, plan: &plan, line_break: line_break(text) };
    Ok(spliced(text, list::reorder(style, list.ok_or_else(|| no_such_place(at))?, from, to)))
}

fn rename(text: &str, at: &PlanPath, name: &str) -> Result<String, Wrong> {
    let plan = tree(text)?;
    let (group, n) = place(text, &plan, at)?;
    let key = group.items.get(n).and_then(|item| item.key.clone());
    let Some((key, Some(Step::Entry(old)))) = key.map(|key| (key, at.steps().last())) else {
        return Err(Wrong::new(at, format!("`{at}` has no name of its own"), "name a pull or a slide"));
    };
    let mut splices = vec![Splice::new(key, quoted(name))];
    if let Some(hardware) = hardware_at(at) {
        shape::visit(text, &plan, &mut |visit| {
            let names_it = visit.kind == Kind::Name(hardware)
                && visit.value.is_some_and(|value| name_of(text, value).as_ref() == Some(old));
            if let (true, Some(value)) = (names_it, visit.value) {
                splices.push(Splice::new(value.span.clone(), quoted(name)));
            }
        });
    }
    Ok(spliced(text, splices))
}

fn name_of(text: &str, value: &Value) -> Option<String> {
    crate::plan::read::string(value.text(text)).map(|name| name.trim().to_owned())
}

/// What the set is called that `at`, one of its entries, stands in.
fn hardware_at(at: &PlanPath) -> Option<Hardware> {
    match at.steps() {
        [Step::Field(set), Step::Entry(_)] => Hardware::BOTH.into_iter().find(|hardware| hardware.set() == set),
        _ => None,
    }
}

/// The one pull or slide of a plan need not be named. A second one would leave every unit without: they get the name.
fn name_the_only_one(style: Style<'_>, set: &[Step]) -> Vec<Splice> {
    let text = style.text;
    let [Step::Field(field)] = set else { return Vec::new() };
    let Some(hardware) = Hardware::BOTH.into_iter().find(|hardware| hardware.set() == field) else { return Vec::new() };
    let entries = style.plan.find(text, set).and_then(|set| set.group.as_ref());
    let Some([only]) = entries.map(|entries| entries.items.as_slice()) else { return Vec::new() };
    let Some(name) = only.entry(text) else { return Vec::new() };
    let mut splices = Vec::new();
    shape::visit(text, style.plan, &mut |visit| {
        let Some((owner, here)) = visit.owner.filter(|_| visit.value.is_none()) else { return };
        let gives_each = owner
            .group
            .as_ref()
            .is_some_and(|group| group.items.iter().any(|item| item.name(text) == Some(hardware.set())));
        let Some(field) = visit.field.filter(|field| field.is_the_only(hardware) && !gives_each) else { return };
        let step = Step::Field(field.name.to_owned());
        splices.extend(put_in(style, owner, here, &step, &quoted(&name)).unwrap_or_default());
    });
    splices
}

fn turn_into(text: &str, at: &PlanPath, word: &str, with: &[(String, String)]) -> Result<String, Wrong> {
    let plan = tree(text)?;
    let kind = shape::kind_at(text, &plan, at.steps()).ok_or_else(|| no_such_place(at))?;
    let Some(choice) = kind.choice(word) else {
        let words: Vec<_> = kind.choices().iter().map(|choice| choice.word).collect();
        let message = format!("`{}` is not one of the choices here", super::excerpt(word));
        return Err(Wrong::new(at, message, format!("the choices are {}", words.join(", "))));
    };
    let Holds::Fields(fields) = choice.holds else {
        let value = match (choice.holds, with) {
            (Holds::Value(_), [(_, value)]) => format!("{word}({})", one_value(at, value)?),
            (Holds::Itself(_), [(_, value)]) => value.clone(),
            _ => word.to_owned(),
        };
        return collapse(text, &plan, at, &value);
    };
    let old = plan.find(text, at.steps());
    let named = old.and_then(|old| Some((old, old.group.as_ref()?))).filter(|(_, group)| {
        group.bracket == '(' && !group.items.is_empty() && group.items.iter().all(|item| item.key.is_some())
    });
    let Some((old, group)) = named else {
        let fields: Vec<_> = with.iter().map(|(name, value)| format!("{name}: {value}")).collect();
        let brackets =
            if fields.is_empty() && !word.is_empty() { String::new() } else { format!("({})", fields.join(", ")) };
        return set(text, at, &format!("{word}{brackets}"));
    };
    let known: BTreeSet<&str> = fields.iter().map(|field| field.name).collect();
    let dropped: Vec<&str> =
        group.items.iter().filter_map(|item| item.name(text)).filter(|name| !known.contains(name)).collect();
    let head = old.word.clone().unwrap_or(group.open..group.open);
    let mut new = spliced(text, vec![Splice::new(head, word)]);
    for name in dropped {
        new = unset(&new, &at.field(name))?;
    }
    for (name, value) in with {
        let place = at.field(name);
        if tree(&new)?.find(&new, place.steps()).is_none() {
            new = set(&new, &place, value)?;
        }
    }
    Ok(new)
}

/// Replaces what stands at `at`, with its items and their comments; comments that belong to no item are kept.
fn collapse(text: &str, plan: &Value, at: &PlanPath, value: &str) -> Result<String, Wrong> {
    let named = |group: &&Group| group.bracket == '(' && group.items.iter().any(|item| item.key.is_some());
    let old = plan.find(text, at.steps());
    let Some((old, group)) = old.and_then(|old| Some((old, old.group.as_ref().filter(named)?))) else {
        return set(text, at, value);
    };
    let (indent, line_break) = (indent(text, old.span.start), line_break(text));
    let lifted = loose_comments(text, group).into_iter().map(|comment| part(text, comment));
    let lifted = lifted.fold(String::new(), |out, comment| out + &lifted_comment(comment, indent, line_break));
    Ok(spliced(text, vec![Splice::new(old.span.clone(), lifted + one_value(at, value)?)]))
}

/// `text` between quotes.
pub(in crate::plan) fn quoted(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for c in text.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            c if c.is_control() => out.extend(c.escape_debug()),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}
