//! Which place in the plan is meant? A [`PlanPath`] such as `left.units[1].width` or `pulls["bar 192"].projection`.
//!
//! The same words that the reader puts in [`Problem::path`](crate::plan::Problem::path): fields by name, items of a
//! list by their place from 0, entries of a set by their name between quotes. What stands in brackets behind a word,
//! as the 60 of `Fixed(60)`, has no place of its own.

use std::fmt;
use std::str::FromStr;

use crate::plan::read::text;

/// One step into the plan.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Step {
    /// The field of this name.
    Field(String),
    /// The item at this place of a list, from 0.
    Item(usize),
    /// The entry of this name in a set.
    Entry(String),
}

/// A place in the plan; the empty path is the whole plan.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PlanPath(Vec<Step>);

/// Why a text names no place.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{0}` names no place in a plan; write it as `left.units[1].width` or `pulls[\"bar\"].projection`")]
pub struct NoPath(String);

impl PlanPath {
    /// The whole plan.
    pub const WHOLE: Self = Self(Vec::new());

    /// The field `name` of this place.
    #[must_use]
    pub fn field(&self, name: &str) -> Self {
        self.with(Step::Field(name.to_owned()))
    }

    /// The item at place `n` of this list, from 0.
    #[must_use]
    pub fn item(&self, n: usize) -> Self {
        self.with(Step::Item(n))
    }

    /// The entry `name` of this set.
    #[must_use]
    pub fn entry(&self, name: &str) -> Self {
        self.with(Step::Entry(name.to_owned()))
    }

    /// The steps from the whole plan to this place.
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.0
    }

    /// What this place is directly part of, and the last step to it; `None` for the whole plan.
    #[must_use]
    pub fn parent(&self) -> Option<(Self, &Step)> {
        self.0.split_last().map(|(last, rest)| (Self(rest.to_vec()), last))
    }

    /// Whether `other` is this place or a part of it.
    #[must_use]
    pub fn holds(&self, other: &Self) -> bool {
        other.0.starts_with(&self.0)
    }

    pub(super) fn of(steps: &[Step]) -> Self {
        Self(steps.to_vec())
    }

    fn with(&self, step: Step) -> Self {
        let mut steps = Vec::with_capacity(self.0.len() + 1);
        steps.extend_from_slice(&self.0);
        steps.push(step);
        Self(steps)
    }
}

impl fmt::Display for PlanPath {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (n, step) in self.0.iter().enumerate() {
            match step {
                Step::Field(name) if n == 0 => f.write_str(name)?,
                Step::Field(name) => write!(f, ".{name}")?,
                Step::Item(at) => write!(f, "[{at}]")?,
                // As the reader does: its messages name the same place in the same words.
                Step::Entry(name) => write!(f, "[{name:?}]")?,
            }
        }
        Ok(())
    }
}

impl FromStr for PlanPath {
    type Err = NoPath;

    fn from_str(path: &str) -> Result<Self, NoPath> {
        let mut steps = Vec::new();
        let mut rest = path;
        while !rest.is_empty() {
            let (step, length) = next_step(rest, steps.is_empty()).ok_or_else(|| NoPath(path.to_owned()))?;
            steps.push(step);
            rest = rest.get(length..).unwrap_or_default();
        }
        Ok(Self(steps))
    }
}

/// The first step of `rest`, and its length in bytes.
fn next_step(rest: &str, first: bool) -> Option<(Step, usize)> {
    if let Some(inside) = rest.strip_prefix('[') {
        if inside.starts_with('"') {
            let quoted = inside.get(..text::token(inside))?;
            let name = unescaped(quoted.strip_prefix('"')?.strip_suffix('"')?)?;
            inside.get(quoted.len()..)?.strip_prefix(']')?;
            return Some((Step::Entry(name), quoted.len() + 2));
        }
        let digits = inside.get(..inside.find(']')?)?;
        let plain = digits.bytes().all(|b| b.is_ascii_digit()) && (digits == "0" || !digits.starts_with('0'));
        return if plain { Some((Step::Item(digits.parse().ok()?), digits.len() + 2)) } else { None };
    }
    let (name, dot) = if first { (rest, 0) } else { (rest.strip_prefix('.')?, 1) };
    let name = name.get(..name.find(['.', '[']).unwrap_or(name.len()))?;
    let whole = text::identifier(name).is_some_and(|word| word == name);
    if whole { Some((Step::Field(name.to_owned()), dot + name.len())) } else { None }
}

/// The text that Rust's debug form shows as `body` between quotes.
fn unescaped(body: &str) -> Option<String> {
    let mut out = String::with_capacity(body.len());
    let mut rest = body.chars();
    while let Some(c) = rest.next() {
        if c != '\\' {
            out.push(c);
            continue;
        }
        out.push(match rest.next()? {
            'n' => '\n',
            'r' => '\r',
            't' => '\t',
            '0' => '\0',
            'u' => {
                let digits = rest.as_str().strip_prefix('{')?;
                let digits = digits.get(..digits.find('}')?)?;
                rest.nth(digits.len() + 1)?;
                char::from_u32(u32::from_str_radix(digits, 16).ok()?)?
            }
            plain @ ('"' | '\\' | '\'') => plain,
            _ => return None,
        });
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_is_read_as_it_is_printed() {
        let bar = PlanPath::WHOLE.field("pulls").entry("bar \"192\"").field("projection");
        assert_eq!(bar.to_string(), r#"pulls["bar \"192\""].projection"#);
        assert_eq!(bar.to_string().parse(), Ok(bar));
        let width = PlanPath::WHOLE.field("left").field("units").item(1).field("width");
        assert_eq!("left.units[1].width".parse(), Ok(width.clone()));
        assert!(width.parent().is_some_and(|(unit, _)| unit.holds(&width)));
        assert_eq!("".parse(), Ok(PlanPath::WHOLE));
    }

    #[test]
    fn what_is_no_path_is_refused() {
        for wrong in [".", "left.", "left..units", "left[", "left[x]", "left[01]", "left[\"x]", "left units", "[1", "1"]
        {
            assert!(wrong.parse::<PlanPath>().is_err(), "{wrong}");
        }
    }
}
