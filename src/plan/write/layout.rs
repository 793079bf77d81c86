//! What travels with an item? Its comments, its comma and its line, found by how the author laid the text out.
//!
//! A comment directly above an item (no blank line between) and one at the end of its line belong to it; every other
//! comment belongs to nobody and stays where it is.

use std::ops::Range;

use super::tree::{Group, Item, Value, part};
use crate::plan::read::text;

/// An item with everything that travels with it: `start..end` of the text.
#[derive(Clone, Debug)]
pub(super) struct Chunk {
    pub start: usize,
    pub end: usize,
    /// Only blanks stand before it in its line.
    pub own_line: bool,
    /// Only blanks stand behind it in its line.
    pub ends_line: bool,
    /// It ends in a comment that runs to the end of its line.
    pub swallows: bool,
}

/// A piece of the text to be replaced.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Splice {
    pub range: Range<usize>,
    pub text: String,
}

impl Splice {
    pub(super) fn new(range: Range<usize>, text: impl Into<String>) -> Self {
        Self { range, text: text.into() }
    }
}

/// `text` with every splice made; they must not overlap.
pub(super) fn spliced(text: &str, mut splices: Vec<Splice>) -> String {
    splices.sort_by_key(|splice| (splice.range.start, splice.range.end));
    let mut out = String::with_capacity(text.len() + splices.iter().map(|splice| splice.text.len()).sum::<usize>());
    let mut at = 0;
    for splice in splices {
        out += part(text, at..splice.range.start);
        out += &splice.text;
        at = splice.range.end.max(at);
    }
    out + part(text, at..text.len())
}

/// The items of `group` with what travels with each.
pub(super) fn chunks(text: &str, group: &Group) -> Vec<Chunk> {
    let mut chunks: Vec<Chunk> = Vec::with_capacity(group.items.len());
    let mut after = group.open + 1;
    for (n, item) in group.items.iter().enumerate() {
        let (_, start) = divide(text, after..item.start(), n > 0);
        after = item.comma.map_or(item.value.span.end, |comma| comma + 1);
        let next = group.items.get(n + 1).map_or(group.close, Item::start);
        let gap = after..next;
        let last = n + 1 == group.items.len();
        let (end, _) = if last { trailing(text, gap) } else { divide(text, gap, true) };
        let before = part(text, group.open + 1..start);
        let behind = part(text, end..group.close).trim_start_matches([' ', '\t', '\r']);
        let tail = part(text, item.value.span.end..end);
        let swallows = text::comments(tail)
            .last()
            .is_some_and(|comment| comment.end == tail.len() && part(tail, comment.clone()).starts_with("//"));
        chunks.push(Chunk {
            start,
            end,
            own_line: before.trim_end_matches([' ', '\t']).ends_with('\n'),
            ends_line: behind.starts_with('\n'),
            swallows,
        });
    }
    chunks
}

/// Where what belongs to the item before `gap` ends, and where what belongs to the one behind it starts.
fn divide(text: &str, gap: Range<usize>, has_before: bool) -> (usize, usize) {
    let comments: Vec<_> = found(text, &gap);
    let Some(line_end) = line_end(text, &gap, &comments) else {
        return (gap.start, comments.first().map_or(gap.end, |comment| comment.start));
    };
    let before = comments.iter().rfind(|comment| comment.start < line_end).map_or(gap.start, |comment| comment.end);
    let mut start = gap.end;
    for comment in comments.iter().rev().take_while(|comment| comment.start > line_end) {
        if part(text, comment.end..start).matches('\n').count() > 1 {
            break;
        }
        start = comment.start;
    }
    (if has_before { before } else { gap.start }, start)
}

/// As [`divide`], behind the last item, where nothing comes.
fn trailing(text: &str, gap: Range<usize>) -> (usize, usize) {
    let comments = found(text, &gap);
    let line_end = line_end(text, &gap, &comments).unwrap_or(gap.end);
    let end = comments.iter().rfind(|comment| comment.start < line_end).map_or(gap.start, |comment| comment.end);
    (end, gap.end)
}

fn found(text: &str, gap: &Range<usize>) -> Vec<Range<usize>> {
    let place = |comment: Range<usize>| gap.start + comment.start..gap.start + comment.end;
    text::comments(part(text, gap.clone())).into_iter().map(place).collect()
}

/// The first line break of `gap` that is in no comment.
fn line_end(text: &str, gap: &Range<usize>, comments: &[Range<usize>]) -> Option<usize> {
    part(text, gap.clone())
        .match_indices('\n')
        .map(|(at, _)| gap.start + at)
        .find(|at| !comments.iter().any(|comment| comment.contains(at)))
}

/// The comments of `group` that belong to none of its items.
pub(super) fn loose_comments(text: &str, group: &Group) -> Vec<Range<usize>> {
    let chunks = chunks(text, group);
    let mut gaps = Vec::with_capacity(chunks.len() + 1);
    let mut at = group.open + 1;
    for chunk in &chunks {
        gaps.push(at..chunk.start);
        at = chunk.end;
    }
    gaps.push(at..group.close);
    gaps.iter().flat_map(|gap| found(text, gap)).collect()
}

/// The line break that the text uses.
pub(super) fn line_break(text: &str) -> &'static str {
    match text.find('\n') {
        Some(at) if part(text, 0..at).ends_with('\r') => "\r\n",
        _ => "\n",
    }
}

/// The blanks that the line of byte `at` starts with.
pub(super) fn indent(text: &str, at: usize) -> &str {
    let start = part(text, 0..at).rfind('\n').map_or(0, |end| end + 1);
    let line = part(text, start..at);
    let blanks = line.len() - line.trim_start_matches([' ', '\t']).len();
    part(line, 0..blanks)
}

/// What one level of brackets is indented by, told from the outermost one.
pub(super) fn indent_step(text: &str, plan: &Value) -> String {
    let first = plan.group.as_ref().and_then(|group| {
        let first = chunks(text, group).into_iter().find(|chunk| chunk.own_line)?;
        indent(text, first.start).strip_prefix(indent(text, group.open))
    });
    first.filter(|step| !step.is_empty()).unwrap_or("    ").to_owned()
}

/// `value` for a place in a line that starts with `indent`: its further lines moved in, its line breaks the file's.
pub(super) fn moved_in(value: &str, indent: &str, line_break: &str) -> String {
    let plain = value.replace("\r\n", "\n");
    if !plain.contains('\n') {
        return plain;
    }
    // What stands between quotes is not layout.
    let mut out = String::with_capacity(plain.len() * 2);
    let mut rest = plain.as_str();
    while !rest.is_empty() {
        let length = if rest.starts_with(['\n', ' ', '\t']) {
            1
        } else if rest.starts_with("//") {
            rest.find('\n').unwrap_or(rest.len())
        } else if rest.starts_with("/*") {
            text::comments(rest).first().map_or(rest.len(), |comment| comment.end)
        } else {
            text::token(rest)
        };
        let piece = rest.get(..length).unwrap_or(rest);
        if piece == "\n" {
            out += line_break;
            if !rest.get(1..).unwrap_or_default().starts_with('\n') {
                out += indent;
            }
        } else {
            out += piece;
        }
        rest = rest.get(piece.len()..).unwrap_or_default();
    }
    out
}
