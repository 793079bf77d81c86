//! What does the plan say, and what can be changed in it? Every row of the plan's [`Form`], with fields to type in.
//!
//! A value counts when Enter is pressed or its field is left. One that is refused stays in its field with the reason
//! below it, and the plan stays as it was. What is not given shows what is usual, in faint letters.

mod list;

use bevy_egui::egui::{
    self, Align, Button, CollapsingHeader, ComboBox, Id, Key, Label, Layout, Response, RichText, TextEdit, Ui, vec2,
};

use super::place::note;
use super::{View, small_print_ui};
use crate::plan::form::{Form, Row, What};
use crate::plan::write::{Edit, Refused};
use crate::plan::{Choice, Problem};
use crate::report;
use crate::viewer::action::Action;
use crate::viewer::look;

/// Width of a field, in points.
const FIELD: f32 = 118.0;
/// Width of a field's unit, in points.
const SYMBOL: f32 = 26.0;
/// Width of the button that puts back what is usual, in points.
const USUAL: f32 = 24.0;

/// What the section needs to know.
#[derive(Clone, Copy, Debug)]
pub struct FormView<'a> {
    /// Everything that can be changed.
    pub form: &'a Form,
    /// The last edit, where it was refused.
    pub refused: Option<&'a Refused>,
}

/// The section that shows and changes the plan.
pub(super) fn plan_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let Some(FormView { form, refused }) = view.form else { return };
    let (wanted, unfold) = find_ui(ui);
    let mut drawn = Drawn { form, refused, unfold, actions };
    if wanted.is_empty() {
        for row in &form.plan.rows {
            ui.push_id(&row.label, |ui| drawn.row_ui(ui, row));
        }
    } else {
        let mut trail = Vec::new();
        // What was looked for is not to be unfolded by hand.
        drawn.unfold = Some(true);
        let found = drawn.found_ui(ui, &form.plan, &wanted, &mut trail);
        if found == 0 {
            ui.label(RichText::new(format!("Nothing in the plan is called `{wanted}`.")).color(look::FAINT));
        }
    }
    ui.add_space(6.0);
    small_print_ui(ui, "Take care", report::cautions().iter().copied());
}

/// A field to find rows by their names, and buttons that unfold and fold all of them; gives what is typed, in small
/// letters, and what all groups are to be.
fn find_ui(ui: &mut Ui) -> (String, Option<bool>) {
    let id = Id::new("find in the plan");
    let mut text: String = ui.data(|data| data.get_temp(id)).unwrap_or_default();
    ui.horizontal(|ui| {
        let label = ui.label("Find");
        let field = TextEdit::singleline(&mut text).id(id.with("field")).hint_text("a word, such as reveal");
        let field = ui.add(field.desired_width(ui.available_width() - 40.0)).labelled_by(label.id);
        note(&field, || "find".to_owned());
        if ui.add_enabled(!text.is_empty(), Button::new("✖")).on_hover_text("Show the whole plan").clicked() {
            text.clear();
        }
    });
    let mut unfold = None;
    ui.horizontal(|ui| {
        for (word, open) in [("Unfold all", true), ("Fold all", false)] {
            if ui.small_button(word).clicked() {
                unfold = Some(open);
            }
        }
    });
    ui.data_mut(|data| data.insert_temp(id, text.clone()));
    (text.trim().to_lowercase(), unfold)
}

/// What is being typed into a field.
#[derive(Clone, Debug, Default)]
struct Draft {
    text: String,
    /// Why it is no value at all.
    wrong: Option<String>,
}

/// The row whose edit was asked for last: where its refusal belongs.
fn sender() -> Id {
    Id::new("row of the last edit")
}

struct Drawn<'a, 'b> {
    form: &'a Form,
    refused: Option<&'a Refused>,
    /// Every group is to be unfolded, or folded.
    unfold: Option<bool>,
    actions: &'b mut Vec<Action>,
}

impl Drawn<'_, '_> {
    fn send(&mut self, ui: &Ui, edit: Edit) {
        ui.data_mut(|data| data.insert_temp(sender(), ui.id()));
        self.actions.push(Action::Edit(edit));
    }

    fn row_ui(&mut self, ui: &mut Ui, row: &Row) {
        match row.what {
            What::Group => self.group_ui(ui, row, |this, ui| this.rows_ui(ui, row)),
            What::List { choices, one } => self.group_ui(ui, row, |this, ui| this.list_ui(ui, row, one, choices)),
            What::Set { choices, one } => self.group_ui(ui, row, |this, ui| this.set_ui(ui, row, one, choices)),
            What::Choice { choices, chosen } => self.choice_ui(ui, row, choices, chosen),
            What::YesNo => self.yes_no_ui(ui, row),
            What::Name(hardware) => {
                let names = self.form.names(hardware);
                self.name_ui(ui, row, names);
            }
            What::Length | What::Angle | What::Count | What::Number | What::Text => self.field_ui(ui, row),
        }
        self.refusal_ui(ui);
    }

    fn rows_ui(&mut self, ui: &mut Ui, row: &Row) {
        for inner in &row.rows {
            ui.push_id(&inner.label, |ui| self.row_ui(ui, inner));
        }
    }

    fn group_ui(&mut self, ui: &mut Ui, row: &Row, inside: impl FnOnce(&mut Self, &mut Ui)) {
        if row.label.is_empty() {
            inside(self, ui);
            return;
        }
        let title = match row.what {
            What::List { .. } | What::Set { .. } => format!("{} ({})", row.label, row.rows.len()),
            _ => row.label.clone(),
        };
        let header = CollapsingHeader::new(RichText::new(title).strong()).id_salt("group").open(self.unfold);
        let shown = header.show(ui, |ui| inside(self, ui));
        note(&shown.header_response, || format!("group {}", row.path));
        shown.header_response.on_hover_text(row.help);
    }

    /// A line with the row's name on the left and what changes it on the right.
    fn line_ui(&mut self, ui: &mut Ui, row: &Row, add: impl FnOnce(&mut Self, &mut Ui, Id)) {
        ui.horizontal(|ui| {
            let width = (ui.available_width() - FIELD - SYMBOL - USUAL - 30.0).max(80.0);
            let colour = if row.given.is_some() || row.needed { look::INK } else { look::FAINT };
            let name = Label::new(RichText::new(&row.label).color(colour)).wrap();
            let label = ui.allocate_ui_with_layout(
                vec2(width, ui.spacing().interact_size.y),
                Layout::left_to_right(Align::Center).with_main_wrap(true),
                |ui| {
                    ui.set_width(width);
                    ui.add(name)
                },
            );
            let label = label.inner.on_hover_ui(|ui| help_ui(ui, row));
            add(self, ui, label.id);
            self.usual_ui(ui, row);
        });
    }

    fn usual_ui(&mut self, ui: &mut Ui, row: &Row) {
        let Some(unset) = row.unset().filter(|_| row.usual.is_some()) else { return };
        let button = ui.add(Button::new("↺").min_size(vec2(USUAL, 0.0)));
        button.widget_info(|| {
            egui::WidgetInfo::labeled(egui::WidgetType::Button, true, format!("{} as usual", row.label))
        });
        let usual = row.usual.as_ref().map_or("", |usual| usual.text.as_str());
        if button.on_hover_text(format!("Back to what is usual: {usual}")).clicked() {
            self.send(ui, unset);
        }
    }

    fn field_ui(&mut self, ui: &mut Ui, row: &Row) {
        let outer = ui.id();
        let id = outer.with("field");
        let mut draft: Draft = ui.data(|data| data.get_temp(id)).unwrap_or_default();
        let shown = row.shown().unwrap_or_default();
        let is_refused = self.refused.is_some() && ui.data(|data| data.get_temp(sender()) == Some(outer));
        if !ui.memory(|memory| memory.has_focus(id)) && draft.wrong.is_none() && !is_refused {
            draft.text.clone_from(&shown);
        }
        self.line_ui(ui, row, |this, ui, label| {
            let hint = row.usual.as_ref().map_or("", |usual| usual.text.as_str());
            let field = TextEdit::singleline(&mut draft.text).id(id).desired_width(FIELD).hint_text(hint);
            let field = ui.add(field).labelled_by(label);
            note(&field, || format!("field {}", row.path));
            symbol_ui(ui, row.symbol);
            this.typed_ui(ui, outer, row, &field, &shown, &mut draft);
        });
        if let Some(wrong) = &draft.wrong {
            warn_ui(ui, wrong);
        }
        ui.data_mut(|data| data.insert_temp(id, draft));
    }

    /// Takes what was typed when the field is left; Esc puts back what stands in the plan.
    fn typed_ui(&mut self, ui: &Ui, outer: Id, row: &Row, field: &Response, shown: &str, draft: &mut Draft) {
        if field.changed() {
            draft.wrong = None;
        }
        if !field.lost_focus() {
            return;
        }
        if ui.input(|input| input.key_pressed(Key::Escape)) || draft.text.trim() == shown.trim() {
            *draft = Draft { text: shown.to_owned(), wrong: None };
            self.actions.push(Action::ForgetRefused);
            return;
        }
        let edit = match row.unset() {
            // An empty field means what is usual.
            Some(unset) if draft.text.trim().is_empty() && row.usual.is_some() => Ok(unset),
            _ => self.form.typed(row, &draft.text),
        };
        match edit {
            Ok(edit) => {
                draft.wrong = None;
                ui.data_mut(|data| data.insert_temp(sender(), outer));
                self.actions.push(Action::Edit(edit));
            }
            Err(wrong) => draft.wrong = Some(wrong),
        }
    }

    fn yes_no_ui(&mut self, ui: &mut Ui, row: &Row) {
        let outer = ui.id();
        self.line_ui(ui, row, |this, ui, label| {
            let mut on = match row.given.as_deref() {
                Some(given) => given == "true",
                None => row.usual.as_ref().is_some_and(|usual| usual.text == "true"),
            };
            let word = |on: bool| if on { "yes" } else { "no" };
            let text = word(on);
            if ui.checkbox(&mut on, text).labelled_by(label).changed()
                && let Ok(edit) = this.form.typed(row, word(on))
            {
                ui.data_mut(|data| data.insert_temp(sender(), outer));
                this.actions.push(Action::Edit(edit));
            }
        });
    }

    fn name_ui(&mut self, ui: &mut Ui, row: &Row, names: &[String]) {
        let outer = ui.id();
        let now = row.shown();
        let usual = row.usual.as_ref().map(|usual| usual.text.clone());
        self.line_ui(ui, row, |this, ui, label| {
            let text = now.clone().or(usual).unwrap_or_else(|| "choose".to_owned());
            combo(ui, text, label, row, |ui| {
                for name in names {
                    if ui.selectable_label(now.as_deref() == Some(name), name).clicked()
                        && let Ok(edit) = this.form.typed(row, name)
                    {
                        ui.data_mut(|data| data.insert_temp(sender(), outer));
                        this.actions.push(Action::Edit(edit));
                    }
                }
            });
        });
    }

    fn choice_ui(&mut self, ui: &mut Ui, row: &Row, choices: &'static [Choice], chosen: Option<&'static str>) {
        let outer = ui.id();
        let chosen_one = chosen.and_then(|word| choices.iter().find(|choice| choice.word == word));
        let usual = row.usual.as_ref().map(|usual| usual.text.clone());
        let change = |this: &mut Self, ui: &mut Ui, label: Id| {
            let text =
                chosen_one.map(|choice| choice.label.to_owned()).or(usual).unwrap_or_else(|| "choose".to_owned());
            combo(ui, text, label, row, |ui| {
                for choice in choices {
                    let is_chosen = chosen_one.is_some_and(|one| one.word == choice.word);
                    let button = ui.selectable_label(is_chosen, choice.label).on_hover_text(choice.help);
                    if button.clicked() && !is_chosen {
                        let edit = this.form.chosen(row, choice.word);
                        ui.data_mut(|data| data.insert_temp(sender(), outer));
                        this.actions.push(Action::Edit(edit));
                    }
                }
            });
        };
        if row.label.is_empty() {
            // An item of a list: its name stands in the list already.
            ui.horizontal(|ui| {
                let label = ui.label("kind");
                change(self, ui, label.id);
            });
            self.rows_ui(ui, row);
        } else {
            self.line_ui(ui, row, change);
            if !row.rows.is_empty() {
                ui.indent("held", |ui| self.rows_ui(ui, row));
            }
        }
    }

    /// Why the last edit of this row was refused.
    fn refusal_ui(&mut self, ui: &mut Ui) {
        let Some(refused) = self.refused else { return };
        if ui.data(|data| data.get_temp(sender())) != Some(ui.id()) {
            return;
        }
        refused.here().for_each(|problem| warn_ui(ui, &sentence(problem)));
        let elsewhere: Vec<&Problem> = refused.elsewhere().collect();
        if !elsewhere.is_empty() {
            warn_ui(ui, "not taken, because of what it would lead to:");
            elsewhere.iter().for_each(|problem| warn_ui(ui, &format!("{}: {}", problem.path, sentence(problem))));
        }
    }

    /// Every row whose name holds `wanted`, with where it belongs; gives how many there are.
    fn found_ui(&mut self, ui: &mut Ui, row: &Row, wanted: &str, trail: &mut Vec<String>) -> usize {
        let mut count = 0;
        for inner in &row.rows {
            let is_it = inner.label.to_lowercase().contains(wanted);
            if is_it {
                count += 1;
                ui.push_id((trail.len(), inner.path.to_string(), &inner.label), |ui| {
                    if !trail.is_empty() {
                        ui.label(RichText::new(trail.join(" › ")).small().color(look::FAINT));
                    }
                    self.row_ui(ui, inner);
                });
            } else {
                let named = !inner.label.is_empty();
                if named {
                    trail.push(inner.label.clone());
                }
                count += self.found_ui(ui, inner, wanted, trail);
                if named {
                    trail.pop();
                }
            }
        }
        count
    }
}

fn sentence(problem: &Problem) -> String {
    if problem.help.is_empty() { problem.message.clone() } else { format!("{}; {}", problem.message, problem.help) }
}

fn warn_ui(ui: &mut Ui, text: &str) {
    ui.add(Label::new(RichText::new(format!("⚠ {text}")).small().color(look::WARN)).wrap());
}

fn symbol_ui(ui: &mut Ui, symbol: Option<&str>) {
    ui.add_sized(vec2(SYMBOL, 18.0), Label::new(RichText::new(symbol.unwrap_or_default()).small()));
}

fn help_ui(ui: &mut Ui, row: &Row) {
    ui.set_max_width(320.0);
    ui.label(row.help);
    if let Some(usual) = &row.usual {
        ui.label(RichText::new(format!("Usual: {} – {}", usual.text, usual.source)).small());
    }
    ui.label(RichText::new(row.path.to_string()).small().color(look::FAINT));
}

fn combo(ui: &mut Ui, text: String, label: Id, row: &Row, choices: impl FnOnce(&mut Ui)) {
    let text = if row.given.is_some() { RichText::new(text) } else { RichText::new(text).color(look::FAINT) };
    let shown =
        ComboBox::from_id_salt("choice").selected_text(text).width(FIELD + SYMBOL).truncate().show_ui(ui, choices);
    note(&shown.response, || format!("field {}", row.path));
    shown.response.labelled_by(label);
}
