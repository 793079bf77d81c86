//! What a new choice, item or entry starts as: a value that can be read, for a person to change.

use super::{Form, Row, What, typed};
use crate::plan::shape::{self, Choice, Field, Holds, Kind, Start, Usually};
use crate::plan::write::{Edit, PlanPath, Step, quoted};

/// Lists with one item for each drawer of a bank.
const PER_DRAWER: [&str; 3] = ["fronts", "pulls", "box_heights"];

impl Form {
    /// The edit that makes the choice `row` the one of `word`, keeping every field that both have.
    #[must_use]
    pub fn chosen(&self, row: &Row, word: &str) -> Edit {
        let choices = match row.what {
            What::Choice { choices, .. } => choices,
            _ => &[],
        };
        let holds = choices.iter().find(|choice| choice.word == word).map_or(Holds::Nothing, |choice| choice.holds);
        let with = match holds {
            Holds::Nothing => Vec::new(),
            Holds::Fields(fields) => self.needed(fields),
            Holds::Value((kind, start)) | Holds::Itself((kind, start)) => {
                vec![(String::new(), row.instead.clone().unwrap_or_else(|| self.start(*kind, *start)))]
            }
        };
        Edit::Become { at: row.path.clone(), word: word.to_owned(), with }
    }

    /// The edit that puts a new item into the list `row` at place `at`; `word` says which of its choices, and is empty
    /// where there is but one. A list with one item a drawer brings its sisters along, and starts whole.
    #[must_use]
    pub fn added(&self, row: &Row, at: usize, word: &str) -> Edit {
        let row = row.list();
        let at = at.min(row.rows.len());
        if row.given.is_none()
            && let Some(whole) = &row.instead
        {
            return Edit::Set { at: row.path.clone(), value: whole.clone() };
        }
        let insert = |row: &Row, word: &str| Edit::Insert { at: row.path.item(at), value: self.item(row, word) };
        let mut edits = vec![insert(row, word)];
        edits.extend(self.sisters(row).map(|sister| insert(sister, "")));
        together(edits)
    }

    /// The edit that puts an entry called `name` into the set `row`; `word` as for [`Form::added`].
    #[must_use]
    pub fn added_as(&self, row: &Row, name: &str, word: &str) -> Edit {
        Edit::Set { at: row.path.entry(name.trim()), value: self.item(row, word) }
    }

    /// The edit that takes the item or entry `row` out; a drawer goes with its pull and its box.
    #[must_use]
    pub fn removed(&self, row: &Row) -> Edit {
        let mut edits = vec![Edit::Unset { at: row.path.clone() }];
        if let Some((list, Step::Item(n))) = row.path.parent()
            && let Some(list) = self.row(&list)
        {
            edits.extend(self.sisters(list).map(|sister| Edit::Unset { at: sister.path.item(*n) }));
        }
        together(edits)
    }

    /// The other lists of the same bank with one item a drawer that are given.
    fn sisters(&self, list: &Row) -> impl Iterator<Item = &Row> {
        let is_one = |step: &Step| matches!(step, Step::Field(name) if PER_DRAWER.contains(&name.as_str()));
        let own = list.path.clone();
        let bank = list.path.parent().filter(|(_, last)| is_one(last)).and_then(|(bank, _)| self.row(&bank));
        let rows = bank.map(|bank| bank.rows.as_slice()).unwrap_or_default().iter();
        rows.filter(move |row| {
            let is_list = row.given.as_ref().is_some_and(|given| given.starts_with('['));
            row.path != own && is_list && row.path.steps().last().is_some_and(is_one)
        })
    }

    /// A new item or entry of the list or set `row`.
    fn item(&self, row: &Row, word: &str) -> String {
        let kind = kind_of(&row.path);
        let many = match kind {
            Some(Kind::List(many) | Kind::Set(many)) => many,
            Some(Kind::OneOf(choices)) => {
                let list = choices.iter().find_map(|choice| match choice.holds {
                    Holds::Itself((Kind::List(many), _)) => Some(many),
                    _ => None,
                });
                let Some(many) = list else { return String::new() };
                many
            }
            _ => return String::new(),
        };
        match many.kind.choice(word) {
            Some(choice) => self.choice(choice),
            None => self.start(many.kind, many.start),
        }
    }

    fn start(&self, kind: Kind, start: Start) -> String {
        match (start, kind) {
            (Start::Size(usual), _) => typed::length_text(usual.of(self.unit), self.unit),
            (Start::ListOf(usual), _) => format!("[{}]", typed::length_text(usual.of(self.unit), self.unit)),
            (Start::Text(text), _) => text.to_owned(),
            (Start::Kind, Kind::Group(fields)) => self.brackets("", fields),
            (Start::Kind, Kind::Name(hardware)) => quoted(self.names(hardware).first().map_or("", String::as_str)),
            (Start::Kind, kind) => kind.choices().first().map_or_else(String::new, |choice| self.choice(choice)),
        }
    }

    fn choice(&self, choice: &Choice) -> String {
        match choice.holds {
            Holds::Nothing => choice.word.to_owned(),
            Holds::Fields(fields) => self.brackets(choice.word, fields),
            Holds::Value((kind, start)) => format!("{}({})", choice.word, self.start(*kind, *start)),
            Holds::Itself((kind, start)) => self.start(*kind, *start),
        }
    }

    fn brackets(&self, word: &str, fields: &[Field]) -> String {
        let needed: Vec<_> = self.needed(fields).iter().map(|(name, value)| format!("{name}: {value}")).collect();
        format!("{word}({})", needed.join(", "))
    }

    /// The fields that a new value must have, with what they start as.
    fn needed(&self, fields: &[Field]) -> Vec<(String, String)> {
        let value = |field: &Field| match field.usual {
            Usually::Needed(start) => Some(self.start(field.kind, start)),
            Usually::TheOnly(hardware) => match self.names(hardware) {
                [] | [_] => None,
                [first, ..] => Some(quoted(first)),
            },
            _ => None,
        };
        fields.iter().filter_map(|field| value(field).map(|value| (field.name.to_owned(), value))).collect()
    }
}

/// What kind of value a list or set at `path` is: the words on the way do not matter, since all that have such a
/// field have the same.
fn kind_of(path: &PlanPath) -> Option<Kind> {
    path.steps().iter().try_fold(shape::PLAN, |kind, step| match step {
        Step::Field(name) => kind.any_field(name),
        Step::Item(_) | Step::Entry(_) => match kind {
            Kind::List(many) | Kind::Set(many) => Some(many.kind),
            _ => None,
        },
    })
}

/// One edit, or several as one.
fn together(mut edits: Vec<Edit>) -> Edit {
    match edits.len() {
        1 => edits.remove(0),
        _ => Edit::Together(edits),
    }
}
