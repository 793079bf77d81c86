//! What may a plan file say? Every field, choice and list that the reader takes, with its trade label, a sentence of
//! help, and what is usual where it is not given.
//!
//! The reader does not use this: it has words of its own for faults. A test asks the reader for every name it knows
//! and compares (`tests/promises/editing.rs`).

mod build;
mod finish;
mod hardware;
mod joinery;
mod opposite;
mod room;
mod run;
mod stock;
mod survey;
mod tolerance;
mod wood;

use super::defaults::Usual;
use super::write::tree::{Item, Value};
use super::write::{PlanPath, Step};

/// What a plan buys and names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hardware {
    /// Pulls, under `pulls`.
    Pull,
    /// Drawer slides, under `slides`.
    Slide,
}

impl Hardware {
    /// Both.
    pub const BOTH: [Self; 2] = [Self::Pull, Self::Slide];

    /// The plan's field that lists it.
    #[must_use]
    pub fn set(self) -> &'static str {
        match self {
            Self::Pull => "pulls",
            Self::Slide => "slides",
        }
    }
}

/// What kind of value stands somewhere.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Kind {
    Length,
    /// In degrees.
    Angle,
    Count,
    /// Plain, with or without decimals.
    Number,
    Text,
    YesNo,
    Name(Hardware),
    Group(&'static [Field]),
    OneOf(&'static [Choice]),
    List(&'static Many),
    Set(&'static Many),
}

/// A field of a group.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Field {
    pub name: &'static str,
    pub label: &'static str,
    pub help: &'static str,
    pub kind: Kind,
    pub usual: Usually,
}

/// What holds where a field is not given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Usually {
    /// It must be given; a new one starts as this.
    Needed(Start),
    Size(Usual),
    /// One size with under-mount slides, the other with side-mount ones.
    ByMount {
        under: Usual,
        side: Usual,
    },
    /// This value, as the file would have it, and why.
    Value(&'static str, &'static str),
    /// What a sentence says.
    Said(&'static str),
    /// The only one there is; must be given where there are more.
    TheOnly(Hardware),
    /// Nothing: it is a group, whose own fields say what is usual.
    Inside,
}

/// What a new value starts as.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Start {
    /// Round figures of the plan's own unit.
    Size(Usual),
    /// This text.
    Text(&'static str),
    /// A list of one length of round figures.
    ListOf(Usual),
    /// What its kind gives: the needed fields of a group.
    Kind,
}

/// One of several things that a value can be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Choice {
    /// Its word in the file; empty for the one that has none.
    pub word: &'static str,
    /// Its name.
    pub label: &'static str,
    /// What it means.
    pub help: &'static str,
    pub(super) holds: Holds,
}

/// What stands behind a choice's word.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Holds {
    Nothing,
    /// One value in brackets, and what a new one starts as.
    Value(&'static (Kind, Start)),
    /// `Name(name: value, …)`, or `(…)` without a word.
    Fields(&'static [Field]),
    /// The value itself, without a word, and what a new one starts as.
    Itself(&'static (Kind, Start)),
}

/// The items of a list or the entries of a set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Many {
    /// What one of them is called.
    pub one: &'static str,
    pub help: &'static str,
    pub kind: Kind,
    /// What a new one starts as.
    pub start: Start,
}

impl Choice {
    const fn word(word: &'static str, label: &'static str, help: &'static str) -> Self {
        Self { word, label, help, holds: Holds::Nothing }
    }

    const fn with(word: &'static str, label: &'static str, help: &'static str, holds: Holds) -> Self {
        Self { word, label, help, holds }
    }
}

impl Field {
    const fn new(name: &'static str, label: &'static str, help: &'static str, kind: Kind, usual: Usually) -> Self {
        Self { name, label, help, kind, usual }
    }

    const fn size(name: &'static str, label: &'static str, help: &'static str, usual: Usual) -> Self {
        Self::new(name, label, help, Kind::Length, Usually::Size(usual))
    }

    /// A length that must be given.
    const fn measured(name: &'static str, label: &'static str, help: &'static str, start: Usual) -> Self {
        Self::new(name, label, help, Kind::Length, Usually::Needed(Start::Size(start)))
    }

    /// Whether it may be left out because there is but one `hardware` to name.
    pub(super) fn is_the_only(&self, hardware: Hardware) -> bool {
        self.usual == Usually::TheOnly(hardware)
    }
}

impl Kind {
    pub(super) fn choices(self) -> &'static [Choice] {
        match self {
            Self::OneOf(choices) => choices,
            _ => &[],
        }
    }

    /// The choice of this word; the one without a word for every other.
    pub(super) fn choice(self, word: &str) -> Option<&'static Choice> {
        self.choices().iter().find(|choice| choice.word == word)
    }

    /// The choice that a value is which starts with `word`.
    pub(super) fn chosen(self, word: Option<&str>) -> Option<&'static Choice> {
        word.and_then(|word| self.choice(word)).or_else(|| self.choice(""))
    }

    /// The fields of a value that starts with `word`.
    pub(super) fn fields(self, word: Option<&str>) -> Option<&'static [Field]> {
        match self {
            Self::Group(fields) => Some(fields),
            _ => match self.chosen(word)?.holds {
                Holds::Fields(fields) => Some(fields),
                _ => None,
            },
        }
    }

    /// The field `name` of a group, or of any of the choices.
    pub(super) fn any_field(self, name: &str) -> Option<Self> {
        let of_choice = |choice: &'static Choice| match choice.holds {
            Holds::Fields(fields) => Some(fields),
            _ => None,
        };
        let own = self.fields(None).into_iter().chain(self.choices().iter().filter_map(of_choice)).flatten();
        own.into_iter().find(|field| field.name == name).map(|field| field.kind)
    }

    /// What a value that starts with `word` is, where the choice made is no word but the value itself.
    fn itself(self, word: Option<&str>) -> Self {
        match self.chosen(word).map(|choice| choice.holds) {
            Some(Holds::Itself((kind, _))) => *kind,
            _ => self,
        }
    }

    fn step(self, word: Option<&str>, step: &Step) -> Option<Self> {
        match (step, self.itself(word)) {
            (Step::Field(name), kind) => {
                kind.fields(word)?.iter().find(|field| field.name == *name).map(|field| field.kind)
            }
            (Step::Item(_), Self::List(many)) | (Step::Entry(_), Self::Set(many)) => Some(many.kind),
            _ => None,
        }
    }
}

/// What is nothing unless it is given.
const NONE: Usual = Usual::sourced(0.0, 0.0, "none, or none measured");

/// The whole plan.
pub(super) const PLAN: Kind = Kind::Group(room::PLAN);

/// What kind of value stands, or would stand, at `steps` of the plan in `text`.
pub(super) fn kind_at(text: &str, plan: &Value, steps: &[Step]) -> Option<Kind> {
    let mut value = Some(plan);
    steps.iter().try_fold(PLAN, |kind, step| {
        let next = kind.step(value.and_then(|value| value.word(text)), step);
        value = value.and_then(|value| value.find(text, std::slice::from_ref(step)));
        next
    })
}

/// A place that [`visit`] comes to.
#[derive(Debug)]
pub(super) struct Visit<'v> {
    pub kind: Kind,
    /// The field, where it is one.
    pub field: Option<&'static Field>,
    /// What it is a field of.
    pub owner: Option<(&'v Value, &'v PlanPath)>,
    /// What stands there; `None` where nothing is given.
    pub value: Option<&'v Value>,
}

/// Comes to every value that the plan in `text` gives, and to every field that it could give there.
pub(super) fn visit(text: &str, plan: &Value, come: &mut dyn FnMut(&Visit<'_>)) {
    enter(text, PLAN, plan, &PlanPath::WHOLE, come);
}

fn enter(text: &str, kind: Kind, value: &Value, path: &PlanPath, come: &mut dyn FnMut(&Visit<'_>)) {
    let word = value.word(text);
    let items = value.group.as_ref().map(|group| group.items.as_slice()).unwrap_or_default();
    if let Some(fields) = kind.fields(word) {
        for field in fields {
            let given = items.iter().find(|item| item.name(text) == Some(field.name)).map(|item| &item.value);
            come(&Visit { kind: field.kind, field: Some(field), owner: Some((value, path)), value: given });
            if let Some(given) = given {
                enter(text, field.kind, given, &path.field(field.name), come);
            }
        }
        return;
    }
    let mut each = |kind: Kind, item: &Item, path: &PlanPath| {
        come(&Visit { kind, field: None, owner: None, value: Some(&item.value) });
        enter(text, kind, &item.value, path, come);
    };
    match kind.itself(word) {
        Kind::List(many) => {
            for (n, item) in items.iter().enumerate() {
                each(many.kind, item, &path.item(n));
            }
        }
        Kind::Set(many) => {
            for item in items {
                each(many.kind, item, &path.entry(&item.entry(text).unwrap_or_default()));
            }
        }
        _ => {
            if let (Some(Holds::Value((kind, _))), [item]) = (kind.chosen(word).map(|choice| choice.holds), items) {
                each(*kind, item, path);
            }
        }
    }
}
