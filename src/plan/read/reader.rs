//! What the reader knows while it walks the file: the problems so far, where each value stands, what could not be read.
//!
//! A value that cannot be read is reported, marked as broken and replaced by a stand-in, so that everything else is
//! still read and checked; rules that rest on a broken value stay silent.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use super::node::{Node, excerpt};
use super::spelling::nearest;
use crate::length::Unit;
use crate::plan::Problem;
use crate::plan::check::Fault;

/// More problems than this are counted, not told: nobody reads them, and a garbled file has one a byte.
const MOST_PROBLEMS: usize = 500;

/// The state of one reading.
#[derive(Debug)]
pub(super) struct Reader<'a> {
    pub source: &'a str,
    pub unit: Unit,
    problems: Vec<Problem>,
    untold: usize,
    /// Every value met, to find where a fault stands; sorted only when there is one.
    met: Vec<Node<'a>>,
    broken: BTreeSet<String>,
}

/// Fields of one `(…)` that have not been asked for yet.
#[derive(Debug)]
pub(super) struct Fields<'a> {
    /// What the fields belong to, with its article, for messages.
    what: &'static str,
    path: String,
    /// What to point at when a field is missing.
    head: Range<usize>,
    left: Vec<(&'a str, Range<usize>, Node<'a>)>,
    asked: Vec<&'static str>,
}

impl<'a> Fields<'a> {
    /// The value of `name`, if it is given.
    pub(super) fn take(&mut self, name: &'static str) -> Option<Node<'a>> {
        self.asked.push(name);
        let at = self.left.iter().position(|(given, ..)| *given == name)?;
        Some(self.left.swap_remove(at).2)
    }

    /// Whether `name` is given and not yet taken.
    pub(super) fn gives(&self, name: &str) -> bool {
        self.left.iter().any(|(given, ..)| *given == name)
    }

    /// The place of `name` in the plan.
    pub(super) fn path_of(&self, name: &str) -> String {
        if self.path.is_empty() { name.to_owned() } else { format!("{}.{name}", self.path) }
    }
}

impl<'a> Reader<'a> {
    pub(super) fn new(source: &'a str) -> Self {
        let (met, broken) = (Vec::new(), BTreeSet::new());
        Self { source, unit: Unit::Millimetre, problems: Vec::new(), untold: 0, met, broken }
    }

    /// Reports that `node` is not what it should be, and marks it as broken.
    pub(super) fn refuse(&mut self, code: &'static str, node: &Node<'a>, message: String, help: impl Into<String>) {
        self.broken.insert(node.path.clone());
        self.tell(Problem { code, message, help: help.into(), span: node.span(), path: node.path.clone() });
    }

    fn tell(&mut self, problem: Problem) {
        if self.problems.len() < MOST_PROBLEMS {
            self.problems.push(problem);
        } else {
            self.untold += 1;
        }
    }

    /// Every problem found.
    pub(super) fn into_problems(mut self) -> Vec<Problem> {
        if self.untold > 0 {
            let message = format!("`{}` more problems are not shown", self.untold);
            let (help, end) = ("mend those above first".to_owned(), self.source.len());
            self.problems.push(Problem { code: "plan::more", message, help, span: end..end, path: "plan".to_owned() });
        }
        self.problems
    }

    /// Whether the value at `path`, something it is part of, or something in it could not be read.
    pub(super) fn is_broken(&self, path: &str) -> bool {
        let inside = |mark| {
            let start = format!("{path}{mark}");
            self.broken.range(start.clone()..).next().is_some_and(|found| found.starts_with(&start))
        };
        !self.broken.is_empty() && (at_or_around(path, |part| self.broken.contains(part)) || inside('.') || inside('['))
    }

    /// Whether the value at `path` itself could not be read, apart from what is in it.
    pub(super) fn is_unreadable(&self, path: &str) -> bool {
        self.broken.contains(path)
    }

    /// Marks the value at `path` as broken, where the report is made elsewhere.
    pub(super) fn break_off(&mut self, path: String) {
        self.broken.insert(path);
    }

    /// Turns what is wrong with the plan into problems of the text; rules that rest on broken values are left out.
    pub(super) fn report(&mut self, faults: Vec<Fault>) {
        if faults.is_empty() {
            return;
        }
        let met = std::mem::take(&mut self.met);
        let places: BTreeMap<&str, &Node<'a>> = met.iter().map(|node| (node.path.as_str(), node)).collect();
        for fault in faults {
            if self.is_broken(&fault.path) || fault.rests_on.iter().any(|path| self.is_broken(path)) {
                continue;
            }
            let mut span = 0..self.source.len().min(1);
            at_or_around(&fault.path, |part| {
                places.get(part).is_some_and(|node| {
                    span = node.span();
                    true
                })
            });
            let Fault { code, path, message, help, .. } = fault;
            self.tell(Problem { code, message, help, span, path });
        }
    }

    /// Starts on fields that have been parsed: reports those given twice and notes where each value stands.
    pub(super) fn start(
        &mut self,
        what: &'static str,
        path: String,
        head: Range<usize>,
        given: Vec<(&'a str, Range<usize>, Node<'a>)>,
    ) -> Fields<'a> {
        let mut left = Vec::with_capacity(given.len());
        let mut seen = BTreeSet::new();
        for (name, span, node) in given {
            if seen.insert(name) {
                self.met.push(node.clone());
                left.push((name, span, node));
            } else {
                let message = format!("`{}` is given twice in {what}", excerpt(name));
                let help = "keep one of them".to_owned();
                self.tell(Problem { code: "plan::field", message, help, span, path: node.path });
            }
        }
        Fields { what, path, head, left, asked: Vec::new() }
    }

    /// The fields of `node`, which stand for `what` (with its article); none where it is no `(…)`.
    pub(super) fn fields(&mut self, what: &'static str, node: &Node<'a>) -> Fields<'a> {
        let given = if node.text.starts_with('(') { node.fields(self.source) } else { None };
        let given = given.unwrap_or_else(|| {
            let message = format!("`{}` does not begin {what}", node.excerpt());
            self.refuse("plan::value", node, message, format!("write {what} as `(name: value, \u{2026})`"));
            Vec::new()
        });
        self.start(what, node.path.clone(), node.span(), given)
    }

    /// The fields of a `Name(name: value, …)`; none for a bare `Name`, where every field has a usual value or is
    /// reported as missing.
    pub(super) fn head_fields(&mut self, what: &'static str, node: &Node<'a>, payload: Option<Node<'a>>) -> Fields<'a> {
        let given = match payload {
            None => Vec::new(),
            Some(payload) => payload.fields(self.source).unwrap_or_else(|| {
                let message = format!("`{}` is followed by values without names", node.excerpt());
                self.refuse("plan::value", node, message, format!("write {what} as `Name(name: value, \u{2026})`"));
                Vec::new()
            }),
        };
        self.start(what, node.path.clone(), node.span(), given)
    }

    /// Whether `node` is the word `Absent`; `None`, and reported, where it is no `(…)` either.
    pub(super) fn absent(&mut self, node: &Node<'a>, example: &str) -> Option<bool> {
        match node.head() {
            Some(head) if head.name == "Absent" && head.payload.is_none() => Some(true),
            None if node.text.starts_with('(') => Some(false),
            _ => {
                let message = format!("`{}` is not understood here", node.excerpt());
                self.refuse("plan::choice", node, message, format!("write `Absent` or `{example}`"));
                None
            }
        }
    }

    /// Reports every field that nobody asked for.
    pub(super) fn finish(&mut self, fields: Fields<'a>) {
        let Fields { what, left, asked, .. } = fields;
        for (name, span, node) in left {
            let near = if self.untold == 0 { nearest(name, &asked) } else { None };
            let help = match near {
                Some(known) => format!("did you mean `{known}`?"),
                None => format!("the fields of {what} are {}", quoted(&asked)),
            };
            let message = format!("{what} has no field `{}`", excerpt(name));
            self.tell(Problem { code: "plan::field", message, help, span, path: node.path });
        }
    }

    /// The value of `name`; reported where it is missing. A field already refused with its whole is not reported again.
    pub(super) fn require(&mut self, fields: &mut Fields<'a>, name: &'static str, help: &str) -> Option<Node<'a>> {
        let found = fields.take(name);
        if found.is_none() {
            let path = fields.path_of(name);
            // A misspelt name is reported as such, and not as a missing one as well.
            let misspelt = fields.left.iter().any(|(given, ..)| nearest(given, &[name]).is_some());
            if !misspelt && !self.broken.contains(&fields.path) {
                let message = format!("{} lacks `{name}`", fields.what);
                let (help, span) = (help.to_owned(), fields.head.clone());
                self.tell(Problem { code: "plan::field", message, help, span, path: path.clone() });
            }
            self.broken.insert(path);
        }
        found
    }

    /// The items of a list, at most `most` of them.
    pub(super) fn items(&mut self, what: &str, most: usize, node: &Node<'a>) -> Vec<Node<'a>> {
        let items = if node.text.starts_with('[') { node.items(self.source) } else { None };
        let Some(mut items) = items else {
            let message = format!("`{}` does not begin a list of {what}", node.excerpt());
            self.refuse(
                "plan::value",
                node,
                message,
                format!("write the {what} between square brackets: `[\u{2026}]`"),
            );
            return Vec::new();
        };
        if items.len() > most {
            let message = format!("`{}` {what} are more than `{most}`", items.len());
            self.refuse("plan::count", node, message, format!("give at most {most} {what}"));
            items.truncate(most);
        }
        self.met.extend(items.iter().cloned());
        items
    }

    /// The entries of a `{"name": value}`, at most `most` of them; names given twice are reported.
    pub(super) fn entries(&mut self, what: &str, most: usize, node: &Node<'a>) -> Vec<(String, Node<'a>)> {
        let entries = if node.text.starts_with('{') { node.entries(self.source) } else { None };
        let Some(mut entries) = entries else {
            let message = format!("`{}` does not begin a set of {what}", node.excerpt());
            let help = format!("write the {what} between curly brackets, each with its name: `{{\"name\": \u{2026}}}`");
            self.refuse("plan::value", node, message, help);
            return Vec::new();
        };
        if entries.len() > most {
            let message = format!("`{}` {what} are more than `{most}`", entries.len());
            self.refuse("plan::count", node, message, format!("give at most {most} {what}"));
            entries.truncate(most);
        }
        let (mut seen, mut named) = (BTreeSet::new(), Vec::new());
        for (key, value) in entries {
            let Some(name) = self.name(&key) else { continue };
            if seen.insert(name.clone()) {
                let value = node.entry(self.source, &name, value);
                self.met.push(value.clone());
                named.push((name, value));
            } else {
                // The first of the two stands, so nothing is marked as broken.
                let message = format!("the name `{name}` is given to two {what}");
                let (help, span) = ("give each its own name".to_owned(), key.span());
                self.tell(Problem { code: "plan::name", message, help, span, path: key.path });
            }
        }
        named
    }

    /// The one value of a `Name(value)`.
    pub(super) fn only_value(&mut self, node: &Node<'a>, payload: Option<Node<'a>>, example: &str) -> Option<Node<'a>> {
        let values = payload.and_then(|payload| payload.tuple(self.source)).unwrap_or_default();
        match <[Node<'a>; 1]>::try_from(values) {
            Ok([value]) => Some(value),
            Err(_) => {
                let message = format!("`{}` takes one value in brackets", node.excerpt());
                self.refuse("plan::value", node, message, format!("write it as `{example}`"));
                None
            }
        }
    }
}

/// Whether `test` holds for `path` or for anything that it is a part of, from the inside out.
fn at_or_around(path: &str, mut test: impl FnMut(&str) -> bool) -> bool {
    let mut part = path;
    loop {
        if test(part) {
            return true;
        }
        match part.rfind(['.', '[']).and_then(|end| part.get(..end)) {
            Some(outer) => part = outer,
            None => return false,
        }
    }
}

/// The words in backquotes, with commas.
pub(super) fn quoted<S: AsRef<str>>(words: &[S]) -> String {
    words.iter().map(|word| format!("`{}`", word.as_ref())).collect::<Vec<_>>().join(", ")
}
