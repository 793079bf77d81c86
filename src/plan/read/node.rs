//! A value of the plan file that knows where it stands: the cursor that the reader walks with.
//!
//! The `ron` crate does the parsing, one level at a time, with [`RawValue`] leaves: their text is part of the source,
//! so its address tells where it stands. Reading the outermost level checks the structure of the whole file; what
//! fails further in is a value of another shape than asked for.

use std::fmt;
use std::ops::Range;

use ron::value::RawValue;
use serde::de::{Deserializer as _, MapAccess, SeqAccess, Visitor};

use super::text;

/// One value of the plan file.
#[derive(Clone, Debug)]
pub(super) struct Node<'a> {
    /// The text from the value's first byte; comments may follow the value.
    pub text: &'a str,
    /// Where the text stands in the source, in bytes.
    pub at: usize,
    /// The value's place in the plan, such as `left.units[1].width`.
    pub path: String,
}

/// A name with what follows it in brackets: `Least`, `Fixed(60)`, `Drawers(width: 600)`.
#[derive(Debug)]
pub(super) struct Head<'a> {
    pub name: &'a str,
    /// From the opening bracket on.
    pub payload: Option<Node<'a>>,
}

impl<'a> Node<'a> {
    /// `raw`, whose text is part of `source`.
    fn new(source: &'a str, raw: &'a RawValue, path: String) -> Self {
        let whole = raw.get_ron();
        let text = whole.get(text::blank(whole)..).unwrap_or_default();
        Self { text, at: offset(source, text), path }
    }

    /// The bytes to point at: the value, or its first word where it is long or runs over several lines.
    pub(super) fn span(&self) -> Range<usize> {
        const LONGEST: usize = 120;
        let end = match self.text.len() {
            0..=LONGEST => text::value_end(self.text),
            _ => text::token(self.text),
        };
        let value = self.text.get(..end).unwrap_or_default();
        let end = if value.contains('\n') { text::token(value) } else { end };
        self.at..self.at + end
    }

    /// The first token of the value: all of a number, string or word.
    pub(super) fn token(&self) -> &'a str {
        self.text.get(..text::token(self.text)).unwrap_or_default()
    }

    /// The value as a builder would recognise it, cut short, for messages.
    pub(super) fn excerpt(&self) -> String {
        excerpt(self.token())
    }

    /// The fields of `(name: value, …)`, in the order of the text, with where each name stands.
    pub(super) fn fields(&self, source: &'a str) -> Option<Vec<(&'a str, Range<usize>, Self)>> {
        let pairs = parse(self.text, |de| de.deserialize_struct("", &[], FieldsVisitor)).ok()?;
        Some(self.named(source, pairs))
    }

    /// The entries of `{"name": value, …}`, in the order of the text.
    pub(super) fn entries(&self, source: &'a str) -> Option<Vec<(Self, &'a RawValue)>> {
        let pairs = parse(self.text, |de| de.deserialize_map(EntriesVisitor)).ok()?;
        Some(pairs.into_iter().map(|(key, value)| (Self::new(source, key, self.path.clone()), value)).collect())
    }

    /// The value of an entry called `name`.
    pub(super) fn entry(&self, source: &'a str, name: &str, value: &'a RawValue) -> Self {
        Self::new(source, value, format!("{}[{name:?}]", self.path))
    }

    /// The items of `[…]`.
    pub(super) fn items(&self, source: &'a str) -> Option<Vec<Self>> {
        let items = parse(self.text, |de| de.deserialize_seq(ItemsVisitor)).ok()?;
        let place = |(n, raw)| Self::new(source, raw, format!("{}[{n}]", self.path));
        Some(items.into_iter().enumerate().map(place).collect())
    }

    /// The values of `(…)`; they keep this value's path.
    pub(super) fn tuple(&self, source: &'a str) -> Option<Vec<Self>> {
        let items = parse(self.text, |de| de.deserialize_tuple(1, ItemsVisitor)).ok()?;
        Some(items.into_iter().map(|raw| Self::new(source, raw, self.path.clone())).collect())
    }

    /// The value as a name with or without brackets behind it.
    pub(super) fn head(&self) -> Option<Head<'a>> {
        let name = text::identifier(self.text)?;
        let behind = self.text.get(name.len()..)?;
        let skipped = name.len() + text::blank(behind);
        let payload = self.text.get(skipped..).filter(|rest| rest.starts_with('(')).map(|text| Self {
            text,
            at: self.at + skipped,
            path: self.path.clone(),
        });
        Some(Head { name, payload })
    }

    fn named(&self, source: &'a str, pairs: Vec<(&'a str, &'a RawValue)>) -> Vec<(&'a str, Range<usize>, Self)> {
        let dot = if self.path.is_empty() { "" } else { "." };
        let place = |(name, raw): (&'a str, _)| {
            let start = offset(source, name);
            (name, start..start + name.len(), Self::new(source, raw, format!("{}{dot}{name}", self.path)))
        };
        pairs.into_iter().map(place).collect()
    }
}

/// The fields of the outermost `(…)`; reading them checks the structure of the whole text.
pub(super) fn outermost(source: &str) -> Result<Vec<(&str, Range<usize>, Node<'_>)>, ron::error::SpannedError> {
    let pairs = parse(source, |de| de.deserialize_struct("Plan", &[], FieldsVisitor))?;
    Ok(Node { text: source, at: 0, path: String::new() }.named(source, pairs))
}

/// At most forty characters of `text`, without control characters.
pub(in crate::plan) fn excerpt(text: &str) -> String {
    const MOST: usize = 40;
    let mut short: String = text.chars().take(MOST).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.chars().nth(MOST).is_some() {
        short.push('\u{2026}');
    }
    short
}

/// Where `part` stands in `source`, which it is a part of.
fn offset(source: &str, part: &str) -> usize {
    part.as_ptr().addr().saturating_sub(source.as_ptr().addr()).min(source.len())
}

fn parse<'a, T>(
    text: &'a str,
    read: impl FnOnce(&mut ron::Deserializer<'a>) -> ron::Result<T>,
) -> Result<T, ron::error::SpannedError> {
    let mut deserializer = ron::Deserializer::from_str(text)?;
    let value = read(&mut deserializer).map_err(|error| deserializer.span_error(error))?;
    deserializer.end().map_err(|error| deserializer.span_error(error))?;
    Ok(value)
}

struct FieldsVisitor;

impl<'de> Visitor<'de> for FieldsVisitor {
    type Value = Vec<(&'de str, &'de RawValue)>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("fields between brackets")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let mut pairs = Vec::new();
        while let Some(pair) = map.next_entry()? {
            pairs.push(pair);
        }
        Ok(pairs)
    }
}

struct EntriesVisitor;

impl<'de> Visitor<'de> for EntriesVisitor {
    type Value = Vec<(&'de RawValue, &'de RawValue)>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("names with values")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let mut pairs = Vec::new();
        while let Some(pair) = map.next_entry()? {
            pairs.push(pair);
        }
        Ok(pairs)
    }
}

struct ItemsVisitor;

impl<'de> Visitor<'de> for ItemsVisitor {
    type Value = Vec<&'de RawValue>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a list")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Self::Value, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = seq.next_element()? {
            items.push(item);
        }
        Ok(items)
    }
}
