//! Putting items between two brackets, taking them out, and changing their order: in the style of their neighbours.

use super::layout::{Chunk, Splice, chunks, indent, indent_step, moved_in};
use super::tree::{Group, Item, Value, part};
use crate::plan::read::text;

/// A line with a new value longer than this is broken where the brackets were empty.
const LONGEST_LINE: usize = 110;

/// What the layout of new text follows.
#[derive(Clone, Copy, Debug)]
pub(super) struct Style<'t> {
    pub text: &'t str,
    pub plan: &'t Value,
    pub line_break: &'static str,
}

/// Puts `new` (an item without its comma) at place `at` of `group`, or at its end.
pub(super) fn insert(style: Style<'_>, group: &Group, at: usize, new: &str) -> Vec<Splice> {
    let text = style.text;
    let all = chunks(text, group);
    let before = at.min(all.len()).checked_sub(1).and_then(|n| Some((all.get(n)?, group.items.get(n)?)));
    if let Some((chunk, item)) = before {
        return insert_behind(style, group, &all, (chunk, item), new);
    }
    let Some(first) = all.first() else { return vec![insert_alone(style, group, new)] };
    let gap = if first.own_line {
        format!("{}{}", style.line_break, indent(text, first.start))
    } else {
        blank_between(text, &all)
    };
    let new = moved_in(new, indent(text, first.start), style.line_break);
    vec![Splice::new(first.start..first.start, format!("{new},{gap}"))]
}

fn insert_behind(
    style: Style<'_>,
    group: &Group,
    all: &[Chunk],
    (chunk, item): (&Chunk, &Item),
    new: &str,
) -> Vec<Splice> {
    let text = style.text;
    let inner = if chunk.own_line { indent(text, chunk.start).to_owned() } else { inner_indent(style, group) };
    let gap = if chunk.own_line || chunk.swallows {
        format!("{}{inner}", style.line_break)
    } else {
        blank_between(text, all)
    };
    let new = moved_in(new, if chunk.own_line { &inner } else { indent(text, chunk.start) }, style.line_break);
    // What the last item had at its end, the new last one has.
    let (now_needed, comma) = if item.comma.is_some() { ("", ",") } else { (",", "") };
    let end = item.value.span.end;
    let tail = part(text, end..chunk.end);
    // A bracket that closes in the same line must not end up in a comment.
    vec![Splice::new(end..chunk.end, format!("{now_needed}{tail}{gap}{new}{comma}"))]
}

/// The first item of empty brackets.
fn insert_alone(style: Style<'_>, group: &Group, new: &str) -> Splice {
    let text = style.text;
    let inside = part(text, group.open + 1..group.close);
    let outer = indent(text, group.open).to_owned();
    let line_start = part(text, 0..group.open).rfind('\n').map_or(0, |end| end + 1);
    let line = part(text, line_start..group.close).chars().count() + new.chars().count();
    let has_comments = !text::comments(inside).is_empty();
    if !has_comments && !new.contains('\n') && line <= LONGEST_LINE {
        return Splice::new(group.open + 1..group.close, moved_in(new, &outer, style.line_break));
    }
    let inner = inner_indent(style, group);
    let new = moved_in(new, &inner, style.line_break);
    let kept = inside.trim_end();
    let (line_break, start) = (style.line_break, group.open + 1 + kept.len());
    Splice::new(start..group.close, format!("{line_break}{inner}{new},{line_break}{outer}"))
}

/// The blanks that a line between the brackets of `group` starts with.
fn inner_indent(style: Style<'_>, group: &Group) -> String {
    format!("{}{}", indent(style.text, group.open), indent_step(style.text, style.plan))
}

/// What stands between two items of one line here.
fn blank_between(text: &str, all: &[Chunk]) -> String {
    let between = all.iter().zip(all.iter().skip(1)).map(|(one, next)| part(text, one.end..next.start));
    let plain = |gap: &&str| gap.chars().all(|c| c == ' ' || c == '\t');
    between.filter(plain).map(str::to_owned).next().unwrap_or_else(|| " ".to_owned())
}

/// Takes the item at place `at` out of `group`, with what travels with it.
pub(super) fn remove(text: &str, group: &Group, at: usize) -> Vec<Splice> {
    let all = chunks(text, group);
    let Some(chunk) = all.get(at) else { return Vec::new() };
    let before = at.checked_sub(1).and_then(|n| Some((all.get(n)?, group.items.get(n)?)));
    let mut splices = Vec::new();
    // The new last item ends as the old one did.
    if let (true, Some((_, item))) = (at + 1 == all.len(), before)
        && group.items.get(at).is_some_and(|item| item.comma.is_none())
        && let Some(comma) = item.comma
    {
        splices.push(Splice::new(comma..comma + 1, ""));
    }
    let range = match (before, all.get(at + 1)) {
        _ if all.len() == 1
            && text::comments(part(text, group.open + 1..chunk.start)).is_empty()
            && text::comments(part(text, chunk.end..group.close)).is_empty() =>
        {
            group.open + 1..group.close
        }
        _ if chunk.own_line && chunk.ends_line => whole_lines(text, chunk),
        (_, Some(next)) if text::comments(part(text, chunk.end..next.start)).is_empty() && !chunk.ends_line => {
            chunk.start..next.start
        }
        (Some((previous, _)), _)
            if !previous.swallows && text::comments(part(text, previous.end..chunk.start)).is_empty() =>
        {
            let comma = group.items.get(at - 1).and_then(|item| item.comma).map_or(previous.end, |comma| comma + 1);
            previous.end.max(comma)..chunk.end
        }
        _ => chunk.start..chunk.end,
    };
    splices.push(Splice::new(range, ""));
    splices
}

/// The lines of `chunk`, and the blank one behind it where there is one on both sides.
fn whole_lines(text: &str, chunk: &Chunk) -> std::ops::Range<usize> {
    let start = part(text, 0..chunk.start).rfind('\n').map_or(0, |end| end + 1);
    let end = |from: usize| part(text, from..text.len()).find('\n').map_or(text.len(), |end| from + end + 1);
    let (stop, next) = (end(chunk.end), end(end(chunk.end)));
    let before = part(text, 0..start).trim_end_matches([' ', '\t', '\r', '\n']).len();
    let blank_before = part(text, before..start).matches('\n').count() > 1;
    let blank_behind = part(text, stop..next).trim().is_empty() && next > stop;
    if blank_before && blank_behind { start..next } else { start..stop }
}

/// Moves the item at place `from` of `group` to place `to`; comments that belong to nobody stay.
pub(super) fn reorder(style: Style<'_>, group: &Group, from: usize, to: usize) -> Vec<Splice> {
    let text = style.text;
    let all = chunks(text, group);
    let count = all.len();
    if from >= count || to >= count || from == to {
        return Vec::new();
    }
    let mut order: Vec<usize> = (0..count).collect();
    let moved = order.remove(from);
    order.insert(to, moved);
    let ends_in_comma = group.items.last().is_some_and(|last| last.comma.is_some());
    let (low, high) = (from.min(to), from.max(to));
    let mut out = String::new();
    for (slot, &n) in order.iter().enumerate().take(high + 1).skip(low) {
        let (Some(chunk), Some(item)) = (all.get(n), group.items.get(n)) else { return Vec::new() };
        out += &with_comma(text, chunk, item, slot + 1 < count || ends_in_comma);
        let behind = all.get(slot).map_or(group.close, |here| here.end)
            ..all.get(slot + 1).map_or(group.close, |next| next.start);
        let gap = part(text, behind);
        if chunk.swallows && !gap.trim_start_matches([' ', '\t', '\r']).starts_with('\n') {
            out += style.line_break;
            out += &inner_indent(style, group);
        }
        if slot < high {
            out += gap;
        }
    }
    let range = all.get(low).map_or(0, |chunk| chunk.start)..all.get(high).map_or(0, |chunk| chunk.end);
    vec![Splice::new(range, out)]
}

/// The text of `chunk` with a comma or without.
fn with_comma(text: &str, chunk: &Chunk, item: &Item, wanted: bool) -> String {
    let end = item.value.span.end;
    let (front, back) = (part(text, chunk.start..end), part(text, end..chunk.end));
    match item.comma {
        None if wanted => format!("{front},{back}"),
        Some(comma) if !wanted => {
            format!("{front}{}{}", part(text, end..comma), part(text, comma + 1..chunk.end))
        }
        _ => format!("{front}{back}"),
    }
}
