//! Where does everything stand? The text of a plan as a tree of places: values, brackets, names and commas.
//!
//! The `ron` crate keeps neither commas nor comments, so this walks over the text itself, token by token. It judges
//! nothing but the brackets: what it takes for a plan is read afterwards in any case.

use std::ops::Range;

use super::path::Step;
use crate::plan::read::{string, text};

/// Deeper brackets than any plan has, and few enough for any stack.
const DEEPEST: usize = 60;

/// A value and where it stands, in bytes.
#[derive(Clone, Debug)]
pub(in crate::plan) struct Value {
    pub span: Range<usize>,
    /// The word: alone, as `Least`, or before the brackets, as in `Fixed(60)`.
    pub word: Option<Range<usize>>,
    pub group: Option<Group>,
}

/// What stands between two brackets.
#[derive(Clone, Debug)]
pub(in crate::plan) struct Group {
    /// Where the opening bracket stands.
    pub open: usize,
    /// Where the closing bracket stands.
    pub close: usize,
    pub bracket: char,
    pub items: Vec<Item>,
}

/// One of the values between two brackets.
#[derive(Clone, Debug)]
pub(in crate::plan) struct Item {
    /// The name before the colon.
    pub key: Option<Range<usize>>,
    pub value: Value,
    /// Where the comma behind it stands.
    pub comma: Option<usize>,
}

impl Item {
    pub(in crate::plan) fn start(&self) -> usize {
        self.key.as_ref().map_or(self.value.span.start, |key| key.start)
    }
}

/// The text in `range`.
pub(in crate::plan) fn part(text: &str, range: Range<usize>) -> &str {
    text.get(range).unwrap_or_default()
}

impl Value {
    /// The value's own text.
    pub(in crate::plan) fn text<'t>(&self, text: &'t str) -> &'t str {
        part(text, self.span.clone())
    }

    /// Its word, where it has one.
    pub(in crate::plan) fn word<'t>(&self, text: &'t str) -> Option<&'t str> {
        self.word.clone().map(|word| part(text, word))
    }

    /// The brackets and the place in them that `step` leads to.
    pub(in crate::plan) fn step(&self, text: &str, step: &Step) -> Option<(&Group, usize)> {
        let group = self.group.as_ref()?;
        let at = match (step, group.bracket) {
            (Step::Field(name), '(') => group.items.iter().position(|item| item.name(text) == Some(name))?,
            (Step::Item(n), '[') => *n,
            (Step::Entry(name), '{') => group.items.iter().position(|item| item.entry(text).as_ref() == Some(name))?,
            _ => return None,
        };
        if at < group.items.len() { Some((group, at)) } else { None }
    }

    /// The value that `steps` lead to.
    pub(in crate::plan) fn find(&self, text: &str, steps: &[Step]) -> Option<&Self> {
        steps.iter().try_fold(self, |value, step| {
            let (group, at) = value.step(text, step)?;
            group.items.get(at).map(|item| &item.value)
        })
    }
}

impl Item {
    /// The field's name.
    pub(in crate::plan) fn name<'t>(&self, text: &'t str) -> Option<&'t str> {
        let name = part(text, self.key.clone()?);
        Some(name.strip_prefix("r#").unwrap_or(name))
    }

    /// The entry's name, as the reader takes it.
    pub(in crate::plan) fn entry(&self, text: &str) -> Option<String> {
        string(part(text, self.key.clone()?)).map(|name| name.trim().to_owned())
    }
}

/// The whole plan in `text`; `None` where its brackets do not fit.
pub(in crate::plan) fn scan(text: &str) -> Option<Value> {
    let mut scanner = Scanner { text, at: 0 };
    scanner.skip_blank();
    // A line for the `ron` crate, such as `#![enable(implicit_some)]`.
    while scanner.rest().starts_with('#') {
        scanner.at += scanner.rest().find(']')? + 1;
        scanner.skip_blank();
    }
    let value = scanner.value(DEEPEST)?;
    scanner.skip_blank();
    if scanner.rest().is_empty() { Some(value) } else { None }
}

/// The one value that `text` is, with nothing before or behind it; `None` where it is no value, or more than one.
pub(in crate::plan) fn scan_value(text: &str) -> Option<Value> {
    let mut scanner = Scanner { text, at: 0 };
    let value = scanner.value(DEEPEST)?;
    if scanner.rest().is_empty() { Some(value) } else { None }
}

struct Scanner<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Scanner<'t> {
    fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn skip_blank(&mut self) {
        self.at += text::blank(self.rest());
    }

    fn take(&mut self, mark: char) -> Option<usize> {
        let here = self.at;
        self.at += if self.rest().starts_with(mark) { mark.len_utf8() } else { return None };
        Some(here)
    }

    fn value(&mut self, deepest: usize) -> Option<Value> {
        let start = self.at;
        let rest = self.rest();
        if rest.starts_with(['(', '[', '{']) {
            let group = self.group(deepest)?;
            return Some(Value { span: start..self.at, word: None, group: Some(group) });
        }
        let length = text::token(rest);
        if length == 0 || rest.starts_with([')', ']', '}', ',', ':']) {
            return None;
        }
        let is_word = text::identifier(rest).is_some_and(|word| word.len() == length);
        self.at = start + length;
        let word = if is_word { Some(start..self.at) } else { None };
        let end = self.at;
        if is_word {
            self.skip_blank();
            if self.rest().starts_with('(') {
                let group = self.group(deepest)?;
                return Some(Value { span: start..self.at, word, group: Some(group) });
            }
            self.at = end;
        }
        Some(Value { span: start..end, word, group: None })
    }

    fn group(&mut self, deepest: usize) -> Option<Group> {
        let deeper = deepest.checked_sub(1)?;
        let open = self.at;
        let (bracket, closing) = match self.rest().chars().next()? {
            '(' => ('(', ')'),
            '[' => ('[', ']'),
            '{' => ('{', '}'),
            _ => return None,
        };
        self.at += 1;
        let mut items: Vec<Item> = Vec::new();
        loop {
            self.skip_blank();
            if let Some(close) = self.take(closing) {
                return Some(Group { open, close, bracket, items });
            }
            if items.last().is_some_and(|last| last.comma.is_none()) {
                return None;
            }
            let key = match bracket {
                '(' => self.field_name(),
                '{' => Some(self.key(deeper)?),
                _ => None,
            };
            let value = self.value(deeper)?;
            let end = self.at;
            self.skip_blank();
            let comma = self.take(',');
            if comma.is_none() {
                self.at = end;
            }
            items.push(Item { key, value, comma });
        }
    }

    /// The name before a colon, if that is what comes; the value comes next.
    fn field_name(&mut self) -> Option<Range<usize>> {
        let start = self.at;
        let length = text::token(self.rest());
        let name = self.rest().get(..length)?;
        text::identifier(name.strip_prefix("r#").unwrap_or(name))?;
        self.at += length;
        let end = self.at;
        self.skip_blank();
        if self.take(':').is_none() {
            self.at = start;
            return None;
        }
        self.skip_blank();
        Some(start..end)
    }

    fn key(&mut self, deepest: usize) -> Option<Range<usize>> {
        let key = self.value(deepest)?;
        self.skip_blank();
        self.take(':')?;
        self.skip_blank();
        Some(key.span)
    }
}

#[cfg(test)]
mod tests {
    use super::super::PlanPath;
    use super::*;

    #[track_caller]
    fn stands(text: &str, path: &str, expected: &str) {
        let path: PlanPath = path.parse().unwrap();
        let found = scan(text).unwrap().find(text, path.steps()).map(|value| value.text(text).to_owned());
        assert_eq!(found.as_deref(), Some(expected), "{path}");
    }

    #[test]
    fn every_value_is_found_whatever_stands_around_it() {
        let text = "#![enable(implicit_some)]\n/* /* a */ ( */ Plan ( // (\n  r#name : \"x) // \\\"y\", left: (units: [ \
                    Drawers /* b */ (width:600,fronts:[1, Rest]), EndPanel ,]),\r\n\tpulls: {r#\"bar\"#: Absent, \
                    \"k\\\"\": Knob(across: -3)}, corner: (left: Fixed(\"5' 2\\\"\"))) // end";
        stands(text, "name", "\"x) // \\\"y\"");
        stands(text, "left.units[0]", "Drawers /* b */ (width:600,fronts:[1, Rest])");
        stands(text, "left.units[0].fronts[1]", "Rest");
        stands(text, "left.units[1]", "EndPanel");
        stands(text, "pulls[\"bar\"]", "Absent");
        stands(text, "pulls[\"k\\\"\"].across", "-3");
        stands(text, "corner.left", "Fixed(\"5' 2\\\"\")");
    }

    #[test]
    fn what_is_no_plan_gives_no_tree() {
        for wrong in
            ["", "(", "(a: 1", "(a: 1]", "(a: 1 b: 2)", "(a: )", "(a: 1))", "[1,,2]", "{\"a\" 1}", "/*", "(\"a)"]
        {
            assert!(scan(wrong).is_none(), "{wrong}");
        }
        let deep = "[".repeat(5_000) + &"]".repeat(5_000);
        assert!(scan(&deep).is_none());
    }
}
