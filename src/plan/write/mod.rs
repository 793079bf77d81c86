//! How is a plan file changed? By editing its text at the changed values, so that all else stays as its author wrote it.
//!
//! [`apply`] takes the text and one [`Edit`] and gives the new text with its plan, or why not. The plan is never
//! printed anew: comments, order, blank lines and the style of numbers stay. What an edit adds follows the style of
//! its neighbours. The text given is never changed, so undo is a list of texts.
//!
//! A comment directly above an item, or at the end of its line, travels with it and goes with it; every other stays.

mod change;
mod layout;
mod list;
mod path;
pub(super) mod tree;

pub(super) use change::quoted;
pub use path::{NoPath, PlanPath, Step};

use super::read::excerpt;
use super::{Plan, Problem, Problems};

/// One change of a plan's text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Edit {
    /// Sets what stands at `at`, or puts it in where it is not given yet, with everything it is part of.
    Set {
        /// The place.
        at: PlanPath,
        /// The value as the file has it: `600`, `"2-3/8"`, `Fixed(60)`.
        value: String,
    },
    /// Takes a field, an item of a list or an entry of a set out; a field goes back to what is usual.
    Unset {
        /// The place.
        at: PlanPath,
    },
    /// Puts an item into a list.
    Insert {
        /// The place that the item gets; those from there on move one further.
        at: PlanPath,
        /// The value as the file has it.
        value: String,
    },
    /// Moves an item of a list, with its comments.
    Move {
        /// The list.
        list: PlanPath,
        /// Its place now, from 0.
        from: usize,
        /// Its place afterwards.
        to: usize,
    },
    /// Gives a pull or a slide another name, here and wherever units name it.
    Rename {
        /// The entry.
        at: PlanPath,
        /// The new name, without quotes.
        name: String,
    },
    /// Makes a choice anew: `Drawers(…)` becomes `Door(…)`, and keeps every field that both have.
    Become {
        /// The place of the choice.
        at: PlanPath,
        /// The new choice; empty for the one that has no word.
        word: String,
        /// Values for fields that the new choice needs and the old one lacks; for a choice that holds one value,
        /// such as `Fixed`, that value under any name.
        with: Vec<(String, String)>,
    },
    /// Several as one, each on what the one before has left.
    Together(Vec<Self>),
}

impl Edit {
    /// The place that the edit is about: where its refusal is shown.
    #[must_use]
    pub fn place(&self) -> PlanPath {
        match self {
            Self::Set { at, .. } | Self::Unset { at } | Self::Insert { at, .. } | Self::Become { at, .. } => at.clone(),
            Self::Move { list, .. } => list.clone(),
            Self::Rename { at, name } => at.parent().map_or(PlanPath::WHOLE, |(set, _)| set.entry(name)),
            Self::Together(edits) => edits.first().map_or(PlanPath::WHOLE, Self::place),
        }
    }
}

/// Why an edit was not made. The text it was asked of is as it was.
#[derive(Clone, Debug, thiserror::Error)]
#[error("the edit of `{at}` is refused: {problems}")]
pub struct Refused {
    /// The place that was to be changed.
    pub at: PlanPath,
    /// Everything that would be wrong; its lines are those of the text as it would have become.
    pub problems: Box<Problems>,
}

impl Refused {
    /// What is wrong with the edited place itself or in it: to be shown beside the field.
    pub fn here(&self) -> impl Iterator<Item = &Problem> {
        self.problems.list().iter().filter(|problem| self.is_here(problem))
    }

    /// What the edit would make wrong at other places, such as fronts that no longer fill their opening.
    pub fn elsewhere(&self) -> impl Iterator<Item = &Problem> {
        self.problems.list().iter().filter(|problem| !self.is_here(problem))
    }

    fn is_here(&self, problem: &Problem) -> bool {
        problem.path.parse().is_ok_and(|path| self.at.holds(&path))
    }
}

/// Makes `edit` in `text`, which came from the file `name`, and reads what came of it.
///
/// # Errors
/// If the place does not exist, the value is no value, or the plan that would result has any problem.
pub fn apply(name: &str, text: &str, edit: &Edit) -> Result<(String, Plan), Refused> {
    let refused = |problems: Problems| Refused { at: changed_place(text, edit), problems: Box::new(problems) };
    match change::edited(text, edit) {
        Ok(new) => match super::read(name, &new) {
            Ok(plan) => Ok((new, plan)),
            Err(problems) => Err(refused(problems)),
        },
        // A text whose structure is broken is told as the reader tells it.
        Err(wrong) => match super::read(name, text) {
            Err(problems) if tree::scan(text).is_none() => Err(refused(problems)),
            _ => Err(refused(Problems::new(name, text, vec![wrong.problem(text)]))),
        },
    }
}

/// The place that an edit changes: what it makes on the way to its own is new as a whole, and so is a word that gets
/// brackets.
fn changed_place(text: &str, edit: &Edit) -> PlanPath {
    let place = edit.place();
    let steps = place.steps();
    let missing = tree::scan(text).and_then(|plan| {
        let mut part = (1..=steps.len()).filter_map(|n| steps.get(..n));
        let part = part.find(|part| plan.find(text, part).is_none())?;
        let around = part.split_last().map(|(_, around)| around).unwrap_or_default();
        let is_word = plan.find(text, around).is_some_and(|value| value.group.is_none());
        Some(PlanPath::of(if is_word { around } else { part }))
    });
    missing.unwrap_or(place)
}

/// Why the text could not be edited at all.
#[derive(Debug)]
struct Wrong {
    at: PlanPath,
    message: String,
    help: String,
}

impl Wrong {
    fn new(at: &PlanPath, message: impl Into<String>, help: impl Into<String>) -> Self {
        Self { at: at.clone(), message: message.into(), help: help.into() }
    }

    fn problem(self, text: &str) -> Problem {
        // Points at what stands nearest round the place.
        let steps = self.at.steps();
        let plan = tree::scan(text);
        let near = plan
            .as_ref()
            .and_then(|plan| (0..=steps.len()).rev().find_map(|n| plan.find(text, steps.get(..n).unwrap_or_default())));
        let span = near.map_or(0..0, |value| value.span.start..value.span.start);
        Problem { code: "plan::edit", message: self.message, help: self.help, span, path: self.at.to_string() }
    }
}
