//! Where does a value begin and end? Walking over RON text that has already been read once without a fault.
//!
//! Takes text and gives byte counts, always on a character's edge and never beyond the end, whatever the text is. It
//! does not judge: the `ron` crate has done so before.

use std::ops::Range;

/// Bytes of blanks and comments at the start of `text`.
pub(in crate::plan) fn blank(text: &str) -> usize {
    let mut rest = text;
    loop {
        rest = rest.trim_start_matches(is_blank);
        if rest.starts_with("//") {
            rest = rest.find('\n').and_then(|end| rest.get(end..)).unwrap_or_default();
        } else if rest.starts_with("/*") {
            rest = rest.get(block_comment(rest)..).unwrap_or_default();
        } else {
            return text.len() - rest.len();
        }
    }
}

/// Where the comments in `text` stand, in its order; a line's comment ends before its line break.
pub(in crate::plan) fn comments(text: &str) -> Vec<Range<usize>> {
    let (mut at, mut found) = (0, Vec::new());
    while let Some(rest) = text.get(at..).filter(|rest| !rest.is_empty()) {
        if rest.starts_with("//") {
            let end = rest.find('\n').unwrap_or(rest.len());
            let end = rest.get(..end).map_or(end, |line| line.trim_end_matches('\r').len());
            found.push(at..at + end);
            at += end;
        } else if rest.starts_with("/*") {
            let end = block_comment(rest);
            found.push(at..at + end);
            at += end;
        } else {
            let first = rest.chars().next().map_or(1, char::len_utf8);
            at += if rest.starts_with(is_blank) { first } else { token(rest).max(first) };
        }
    }
    found
}

/// Bytes from the start of `text` to the end of its last token: what is left of it without the blanks and comments
/// behind it.
pub(in crate::plan) fn value_end(text: &str) -> usize {
    let (mut at, mut end) = (0, 0);
    while let Some(rest) = text.get(at..).filter(|rest| !rest.is_empty()) {
        match blank(rest) {
            0 => {
                at += token(rest);
                end = at;
            }
            blanks => at += blanks,
        }
    }
    end
}

/// Bytes of the first token of `text`, which must not start with a blank: a whole string, one bracket or mark, or a
/// number or word.
pub(in crate::plan) fn token(text: &str) -> usize {
    if let Some(length) = string(text) {
        return length;
    }
    let Some(first) = text.chars().next() else { return 0 };
    if is_mark(first) {
        return first.len_utf8();
    }
    // A word ends at a blank, a mark, a string or a comment; a lone stroke belongs to it.
    let ends = |(at, c): (usize, char)| {
        is_blank(c)
            || is_mark(c)
            || c == '"'
            || text.get(at..).is_some_and(|rest| rest.starts_with("//") || rest.starts_with("/*"))
    };
    text.char_indices().skip(1).find(|&here| ends(here)).map_or(text.len(), |(at, _)| at)
}

/// The name at the start of `text`, where there is one.
pub(in crate::plan) fn identifier(text: &str) -> Option<&str> {
    if string(text).is_some() || !text.starts_with(|c: char| c == '_' || c.is_alphabetic()) {
        return None;
    }
    let end = text.find(|c: char| c != '_' && !c.is_alphanumeric()).unwrap_or(text.len());
    text.get(..end)
}

/// The blanks that the `ron` crate knows.
fn is_blank(c: char) -> bool {
    matches!(
        c,
        ' ' | '\t' | '\n' | '\r' | '\x0B' | '\x0C' | '\u{85}' | '\u{200E}' | '\u{200F}' | '\u{2028}' | '\u{2029}'
    )
}

fn is_mark(c: char) -> bool {
    matches!(c, '(' | ')' | '[' | ']' | '{' | '}' | ',' | ':')
}

/// Bytes of the block comment that `text` starts with; block comments nest.
fn block_comment(text: &str) -> usize {
    let (mut at, mut depth) = (0, 0_usize);
    while let Some(rest) = text.get(at..).filter(|rest| !rest.is_empty()) {
        if rest.starts_with("/*") {
            (at, depth) = (at + 2, depth + 1);
        } else if rest.starts_with("*/") {
            (at, depth) = (at + 2, depth.saturating_sub(1));
            if depth == 0 {
                return at;
            }
        } else {
            at += rest.chars().next().map_or(1, char::len_utf8);
        }
    }
    text.len()
}

/// Bytes of the string or character that `text` starts with.
fn string(text: &str) -> Option<usize> {
    let plain = text.strip_prefix('b').unwrap_or(text);
    let prefix = text.len() - plain.len();
    if let Some(raw) = plain.strip_prefix('r') {
        let hashes = raw.len() - raw.trim_start_matches('#').len();
        let body = raw.get(hashes..)?.strip_prefix('"')?;
        let close = format!("\"{}", "#".repeat(hashes));
        let end = body.find(&close).map_or(body.len(), |end| end + close.len());
        return Some(text.len() - body.len() + end);
    }
    let quote = plain.chars().next().filter(|c| matches!(c, '"' | '\''))?;
    let mut escaped = false;
    for (at, c) in plain.char_indices().skip(1) {
        if escaped {
            escaped = false;
        } else if c == '\\' {
            escaped = true;
        } else if c == quote {
            return Some(prefix + at + 1);
        }
    }
    Some(text.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_nest_and_are_no_part_of_a_value() {
        assert_eq!(blank("  // one\n /* two /* in */ */ 600"), 29);
        assert_eq!(blank("/* never closed"), 15);
        assert_eq!(value_end("600 /* mm */ // wide"), 3);
        assert_eq!(value_end("(width: 600 /* ) */) // end"), 20);
    }

    #[test]
    fn every_comment_is_found_and_no_text_is_taken_for_one() {
        let text = "(a: 1, // one\r\n b: \"// none\", /* two /* in */ */ c: r#\"/* none */\"#) // three";
        let found: Vec<_> = comments(text).into_iter().map(|range| &text[range]).collect();
        assert_eq!(found, ["// one", "/* two /* in */ */", "// three"]);
    }

    #[test]
    fn strings_hide_what_they_hold() {
        assert_eq!(token(r#""5' 2\" // high", 3"#), 16);
        assert_eq!(token(r##"r#"a " b"# x"##), 10);
        assert_eq!(token("600//wide"), 3);
        assert_eq!(token("3/4 "), 3);
        assert_eq!(token("(600)"), 1);
        assert_eq!(token("\"open"), 5);
        assert_eq!(identifier("Drawers (width: 1)"), Some("Drawers"));
        assert_eq!(identifier("r\"text\""), None);
        assert_eq!(identifier("600"), None);
    }
}
