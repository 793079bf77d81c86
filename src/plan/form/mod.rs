//! What can be changed in a plan? A tree of rows for an editing panel: groups, lists and fields, each with its place,
//! its label, what it means, and what stands in the file.
//!
//! [`form`] takes the plan's text with the plan read from it. The rows cover everything that the reader accepts. What
//! a person types, chooses or adds becomes an [`Edit`] here ([`Form::typed`], [`Form::chosen`], [`Form::added`]), in
//! the style of the value that it replaces; [`apply`](super::write::apply) makes it.

mod start;
mod typed;

pub use typed::length_text;

use super::shape::{self, Choice, Field, Hardware, Holds, Kind, Many, Usually};
use super::write::tree::{self, Value};
use super::write::{Edit, PlanPath, Step};
use super::{Drawer, Plan, Side, UnitKind, read};
use crate::length::Unit;

/// Everything that can be changed in one plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Form {
    /// The plan's unit: what a number without one means.
    pub unit: Unit,
    /// The names of the plan's pulls.
    pub pulls: Vec<String>,
    /// The names of the plan's slides.
    pub slides: Vec<String>,
    /// The whole plan; its rows are the plan's fields.
    pub plan: Row,
}

/// One row: a group with rows of its own, a list, or a field.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Its place in the plan. The value in brackets behind a chosen word has the place of the choice.
    pub path: PlanPath,
    /// Its trade name.
    pub label: String,
    /// One sentence that says what it means.
    pub help: &'static str,
    /// What it is, and so how it is changed.
    pub what: What,
    /// Its text as it stands in the file; `None` where it is not given.
    pub given: Option<String>,
    /// What holds where it is not given; `None` where it must be given, or its own rows say it.
    pub usual: Option<Usual>,
    /// Whether it must be given.
    pub needed: bool,
    /// What its numbers are, where they are of something: `mm`, `in` or `°`.
    pub symbol: Option<&'static str>,
    /// The rows in it.
    pub rows: Vec<Self>,
    /// The chosen word whose brackets the value stands in.
    within: Option<&'static str>,
    /// What the choice of a word, or the first item of a list, starts as here.
    instead: Option<String>,
}

/// What holds where a field is not given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Usual {
    /// The value in the plan's unit, or a sentence where it depends on others.
    pub text: String,
    /// Where the figure is from, or why it is that.
    pub source: &'static str,
}

/// What a row is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum What {
    /// A length, typed as a builder writes it.
    Length,
    /// An angle in degrees.
    Angle,
    /// A whole number.
    Count,
    /// A number, with or without decimals: a price, a density.
    Number,
    /// A line of text.
    Text,
    /// Yes or no.
    YesNo,
    /// The name of one of the plan's pulls or slides.
    Name(Hardware),
    /// Rows that belong together.
    Group,
    /// One of several things; the rows are what the chosen one holds.
    Choice {
        /// All there are.
        choices: &'static [Choice],
        /// The word of the one that holds now.
        chosen: Option<&'static str>,
    },
    /// Rows of one kind in an order, each of which can be moved and taken out.
    List {
        /// What one of them is called.
        one: &'static str,
        /// What may be added; empty where there is but one kind.
        choices: &'static [Choice],
    },
    /// Rows of one kind, each with a name of its own that can be changed.
    Set {
        /// What one of them is called.
        one: &'static str,
        /// What may be added; empty where there is but one kind.
        choices: &'static [Choice],
    },
}

/// What can be changed in the plan `plan`, which was read from `text`.
#[must_use]
pub fn form(text: &str, plan: &Plan) -> Form {
    let pulls = plan.pulls.iter().map(|pull| pull.name.clone()).collect();
    let slides = plan.slides.iter().map(|slide| slide.name.clone()).collect();
    let tree = tree::scan(text);
    let maker = Maker { text, plan };
    let whole = maker.row(&WHOLE, tree.as_ref(), tree.as_ref(), PlanPath::WHOLE);
    Form { unit: plan.unit, pulls, slides, plan: whole }
}

/// The plan as if it were a field.
const WHOLE: Field = Field {
    name: "",
    label: "Plan",
    help: "The room, the two runs and their hardware.",
    kind: shape::PLAN,
    usual: Usually::Inside,
};

impl Form {
    /// The row at `path`: the outermost, where a choice and its value share one.
    #[must_use]
    pub fn row(&self, path: &PlanPath) -> Option<&Row> {
        self.plan.find(path)
    }

    /// The names that a row of `hardware` may have.
    #[must_use]
    pub fn names(&self, hardware: Hardware) -> &[String] {
        match hardware {
            Hardware::Pull => &self.pulls,
            Hardware::Slide => &self.slides,
        }
    }
}

impl Row {
    /// What stands in the file as a person would type it: a text without its quotes.
    #[must_use]
    pub fn shown(&self) -> Option<String> {
        let given = self.given.as_deref()?;
        let inner = self.within.and_then(|word| {
            let value = tree::scan_value(given)?;
            let [item] = value.group.as_ref()?.items.as_slice() else { return None };
            (value.word(given) == Some(word)).then(|| item.value.text(given))
        });
        let value = inner.unwrap_or(given);
        let quoted = value.ends_with('"') || value.ends_with('#');
        Some(if quoted { read::string(value).map(String::from) } else { None }.unwrap_or_else(|| value.to_owned()))
    }

    /// The edit that takes it out of the file, so that what is usual holds; `None` where nothing is given.
    #[must_use]
    pub fn unset(&self) -> Option<Edit> {
        let stands = self.given.is_some() && self.within.is_none() && !self.path.steps().is_empty();
        stands.then(|| Edit::Unset { at: self.path.clone() })
    }

    /// The list that a choice of "one by one" holds, or the row itself.
    fn list(&self) -> &Self {
        match self.rows.as_slice() {
            [list] if list.path == self.path && matches!(list.what, What::List { .. }) => list,
            _ => self,
        }
    }

    /// This row and every one in it, from the outside in.
    pub fn walk(&self, come: &mut dyn FnMut(&Self)) {
        come(self);
        for row in &self.rows {
            row.walk(come);
        }
    }

    fn find(&self, path: &PlanPath) -> Option<&Self> {
        if self.path == *path {
            return Some(self);
        }
        self.rows.iter().filter(|row| row.path.holds(path)).find_map(|row| row.find(path))
    }
}

/// Makes the rows.
#[derive(Clone, Copy)]
struct Maker<'p> {
    text: &'p str,
    plan: &'p Plan,
}

impl Maker<'_> {
    /// The row of `field`, whose value stands at `path` if it is given; `owner` is what it is a field of.
    fn row(&self, field: &Field, owner: Option<&Value>, value: Option<&Value>, path: PlanPath) -> Row {
        let mut row = self.of_kind(field.kind, value, path);
        field.label.clone_into(&mut row.label);
        row.help = field.help;
        row.usual = self.usual(field, owner);
        row.needed = row.usual.is_none() && matches!(field.usual, Usually::Needed(_) | Usually::TheOnly(_));
        row
    }

    /// The row of a value of `kind`, without a label.
    fn of_kind(&self, kind: Kind, value: Option<&Value>, path: PlanPath) -> Row {
        let word = value.and_then(|value| value.word(self.text));
        let what = match kind {
            Kind::Length => What::Length,
            Kind::Angle => What::Angle,
            Kind::Count => What::Count,
            Kind::Number => What::Number,
            Kind::Text => What::Text,
            Kind::YesNo => What::YesNo,
            Kind::Name(hardware) => What::Name(hardware),
            Kind::Group(_) => What::Group,
            Kind::List(many) => What::List { one: many.one, choices: many.kind.choices() },
            Kind::Set(many) => What::Set { one: many.one, choices: many.kind.choices() },
            Kind::OneOf(choices) => {
                let chosen = value.and_then(|_| kind.chosen(word)).map(|choice| choice.word);
                What::Choice { choices, chosen }
            }
        };
        let symbol = match kind {
            Kind::Length => Some(self.plan.unit.symbol()),
            Kind::Angle => Some("\u{b0}"),
            _ => None,
        };
        let rows = self.rows(kind, value, &path);
        let given = value.map(|value| value.text(self.text).to_owned());
        let instead = self.instead(&path, what);
        Row {
            path,
            label: String::new(),
            help: "",
            what,
            given,
            usual: None,
            needed: false,
            symbol,
            rows,
            within: None,
            instead,
        }
    }

    fn rows(&self, kind: Kind, value: Option<&Value>, path: &PlanPath) -> Vec<Row> {
        let word = value.and_then(|value| value.word(self.text));
        match kind {
            Kind::Group(fields) => self.fields(fields, value, path),
            Kind::List(many) => self.items(many, value, path),
            Kind::Set(many) => self.entries(many, value, path),
            Kind::OneOf(_) => {
                let Some((value, choice)) = value.zip(kind.chosen(word)) else { return Vec::new() };
                match choice.holds {
                    Holds::Nothing => Vec::new(),
                    Holds::Fields(fields) => self.fields(fields, Some(value), path),
                    Holds::Value((kind, _)) => vec![self.held(*kind, value, path, choice, true)],
                    Holds::Itself((kind, _)) => vec![self.held(*kind, value, path, choice, false)],
                }
            }
            _ => Vec::new(),
        }
    }

    /// The value that a choice holds: its place is the choice's.
    fn held(&self, kind: Kind, value: &Value, path: &PlanPath, choice: &Choice, in_brackets: bool) -> Row {
        let mut row = self.of_kind(kind, Some(value), path.clone());
        choice.label.clone_into(&mut row.label);
        row.help = choice.help;
        row.within = if in_brackets { Some(choice.word) } else { None };
        row
    }

    fn fields(&self, fields: &[Field], value: Option<&Value>, path: &PlanPath) -> Vec<Row> {
        let given = |field: &Field| {
            let items = value.and_then(|value| value.group.as_ref()).map(|group| group.items.as_slice());
            let items = items.unwrap_or_default().iter();
            items.clone().find(|item| item.name(self.text) == Some(field.name)).map(|item| &item.value)
        };
        fields.iter().map(|field| self.row(field, value, given(field), path.field(field.name))).collect()
    }

    fn items(&self, many: &Many, value: Option<&Value>, path: &PlanPath) -> Vec<Row> {
        let items = value.and_then(|value| value.group.as_ref()).map(|group| group.items.as_slice());
        let row = |(n, item): (usize, &tree::Item)| {
            let mut row = self.of_kind(many.kind, Some(&item.value), path.item(n));
            let name = row.rows.iter().find(|row| row.what == What::Text).and_then(Row::shown);
            row.label = match name {
                Some(name) => format!("{} {}: {name}", many.one, n + 1),
                None => format!("{} {}", many.one, n + 1),
            };
            row.help = many.help;
            row
        };
        items.unwrap_or_default().iter().enumerate().map(row).collect()
    }

    fn entries(&self, many: &Many, value: Option<&Value>, path: &PlanPath) -> Vec<Row> {
        let items = value.and_then(|value| value.group.as_ref()).map(|group| group.items.as_slice());
        let row = |item: &tree::Item| {
            let name = item.entry(self.text).unwrap_or_default();
            let mut row = self.of_kind(many.kind, Some(&item.value), path.entry(&name));
            row.label = name;
            row.help = many.help;
            row
        };
        items.unwrap_or_default().iter().map(row).collect()
    }

    /// What holds where `field` of `owner` is not given.
    fn usual(&self, field: &Field, owner: Option<&Value>) -> Option<Usual> {
        let unit = self.plan.unit;
        let size = |usual: super::defaults::Usual| Usual { text: usual.of(unit).show(unit), source: usual.source() };
        let said = |text: &str, source| Some(Usual { text: text.to_owned(), source });
        match field.usual {
            Usually::Needed(_) | Usually::Inside => None,
            Usually::Size(usual) => Some(size(usual)),
            Usually::Value(text, source) => said(text, source),
            Usually::Said(text) => said(text, "follows from the rest of the plan"),
            Usually::ByMount { under, side } => {
                let mount = owner.and_then(|owner| owner.find(self.text, &[Step::Field("mount".to_owned())]));
                let is_under = mount.is_some_and(|mount| mount.word(self.text) == Some("UnderMount"));
                Some(size(if is_under { under } else { side }))
            }
            Usually::TheOnly(hardware) => match self.names(hardware).as_slice() {
                [only] => said(only, "the only one in the plan"),
                _ => None,
            },
        }
    }

    fn names(&self, hardware: Hardware) -> Vec<&str> {
        match hardware {
            Hardware::Pull => self.plan.pulls.iter().map(|pull| pull.name.as_str()).collect(),
            Hardware::Slide => self.plan.slides.iter().map(|slide| slide.name.as_str()).collect(),
        }
    }

    /// A change of how drawers are said starts from the drawers that there are.
    fn instead(&self, path: &PlanPath, what: What) -> Option<String> {
        let (Step::Field(side), Step::Field(_), Step::Item(unit), Step::Field(field), rest) = (
            path.steps().first()?,
            path.steps().get(1)?,
            path.steps().get(2)?,
            path.steps().get(3)?,
            path.steps().get(4..)?,
        ) else {
            return None;
        };
        let side = Side::BOTH.into_iter().find(|each| each.word() == side)?;
        let UnitKind::Drawers(drawers) = &self.plan.run(side).units.get(*unit)?.kind else { return None };
        let length = |length| length_text(length, self.plan.unit);
        let list =
            |of: &dyn Fn(&Drawer) -> String| format!("[{}]", drawers.iter().map(of).collect::<Vec<_>>().join(", "));
        match (field.as_str(), rest, what) {
            ("fronts", [], What::Choice { chosen: Some("Equal"), .. }) => {
                let heights = drawers.iter().skip(1).map(|drawer| length(drawer.front_height));
                Some(format!("[{}]", heights.chain(["Rest".to_owned()]).collect::<Vec<_>>().join(", ")))
            }
            ("fronts", [], _) => Some(drawers.len().to_string()),
            ("fronts", [Step::Item(n)], _) => drawers.get(*n).map(|drawer| length(drawer.front_height)),
            ("pulls", [], _) => Some(list(&|drawer| {
                super::write::quoted(self.plan.pulls.get(drawer.pull).map_or("", |pull| pull.name.as_str()))
            })),
            ("box_heights", [], _) => Some(list(&|drawer| length(drawer.box_height))),
            _ => None,
        }
    }
}
