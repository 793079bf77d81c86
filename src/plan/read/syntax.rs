//! The structure of the file is broken: what `ron` says of it, in words for a builder.

use std::ops::Range;

use ron::error::{Error, Position, SpannedError};

use crate::plan::Problem;

const NOT_CLOSED: &str = "a bracket is not closed";
const CLOSE_EACH: &str = "close every `(`, `[` and `{` with its own `)`, `]` and `}`";
const NOT_QUOTED: &str = "a length is not between quotes";
const QUOTE_IT: &str = "write `\"3/4\"`, `\"1 1/4\"`, `\"5' 2-1/2\\\"\"` or `\"19 mm\"`";

/// The problem behind `error`, which stopped the reading of `source`.
pub(super) fn problem(source: &str, error: &SpannedError) -> Problem {
    let end = byte_at(source, error.span.end);
    let first = first_word(source);
    let outermost = matches!(
        error.code,
        Error::ExpectedNamedStructLike(_) | Error::ExpectedStructLike | Error::ExpectedDifferentStructName { .. }
    );
    let (message, help, at) = if source.trim().is_empty() {
        ("the plan is empty", "start with `(units: Millimetre, room: (`", 0)
    } else if outermost && end <= first.end {
        ("the plan does not start with `(`", "the whole plan stands between `(` and `)`", first.start)
    } else {
        let (message, help) = words(source, &error.code, end);
        (message, help, end)
    };
    let stop = source.get(at..).and_then(|rest| rest.chars().next()).map_or(at, |c| at + c.len_utf8());
    let (message, help, path) = (message.to_owned(), help.to_owned(), "plan".to_owned());
    Problem { code: "plan::syntax", message, help, span: at..stop, path }
}

/// What is wrong at the byte `at`, and what would be right.
fn words(source: &str, error: &Error, at: usize) -> (&'static str, &'static str) {
    let rest = source.get(at..).unwrap_or_default();
    match error {
        Error::ExpectedStringEnd => ("a text is not closed", "end the text with a second quote"),
        Error::UnclosedBlockComment => ("a comment is not closed", "end the comment with `*/`"),
        Error::ExceededRecursionLimit => {
            ("brackets stand in one another too deeply", "a plan needs no more than ten levels of brackets")
        }
        Error::TrailingCharacters => ("something stands behind the plan's last `)`", "remove it, or the `)` before it"),
        Error::InvalidEscape(_) => {
            ("a `\\` in a text is not understood", "write `\\\"` for a quote and `\\\\` for a stroke")
        }
        _ if unquoted_length(source, at) => (NOT_QUOTED, QUOTE_IT),
        Error::Eof | Error::ExpectedArrayEnd | Error::ExpectedStructLikeEnd | Error::ExpectedMapEnd => {
            (NOT_CLOSED, CLOSE_EACH)
        }
        Error::ExpectedComma if rest.is_empty() => (NOT_CLOSED, CLOSE_EACH),
        Error::ExpectedComma if rest.starts_with([')', ']', '}']) => {
            ("this bracket closes one of another kind", CLOSE_EACH)
        }
        Error::ExpectedComma => ("a comma is missing before this", "end every value with a comma"),
        Error::ExpectedMapColon => ("a `:` is missing after a name", "write `name: value`"),
        Error::ExpectedIdentifier | Error::SuggestRawIdentifier(_) | Error::InvalidIdentifier(_) => {
            ("a field's name is missing or not understood", "a name is letters and `_`, as `left_wall: 2400`")
        }
        _ => (
            "this is not understood",
            "write `name: value,` with a number, a `\"text\"`, a word, `(\u{2026})`, `[\u{2026}]` or `{\u{2026}}`",
        ),
    }
}

/// Whether the text before `at` in its line ends as a fraction, a mixed number or a number with a unit does.
fn unquoted_length(source: &str, at: usize) -> bool {
    let before = source.get(..at).unwrap_or_default();
    let line = before.rsplit('\n').next().unwrap_or_default();
    let value = line.rsplit([':', ',', '(', '[']).next().unwrap_or_default().trim_start();
    let rest = source.get(at..).unwrap_or_default();
    let starts_like_one = |text: &str| text.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '/' | '\'' | '"'));
    let unit = ["mm", "cm", "m", "in", "ft"].iter().any(|unit| rest.starts_with(unit) || value.ends_with(unit));
    value.starts_with(|c: char| c.is_ascii_digit())
        && (unit || starts_like_one(rest.trim_start()) || value.contains('/'))
}

/// The first word of the file behind its blanks and comments.
fn first_word(source: &str) -> Range<usize> {
    let start = super::text::blank(source);
    let rest = source.get(start..).unwrap_or_default();
    start..start + super::text::token(rest)
}

/// The byte at which a line and column stand, both from 1 and columns in characters.
fn byte_at(source: &str, position: Position) -> usize {
    let mut start = 0;
    for _ in 1..position.line {
        let Some(end) = source.get(start..).and_then(|rest| rest.find('\n')) else { return source.len() };
        start += end + 1;
    }
    let line = source.get(start..).unwrap_or_default();
    line.char_indices().nth(position.col.saturating_sub(1)).map_or(source.len(), |(at, _)| start + at)
}
