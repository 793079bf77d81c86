//! Rows that come in numbers: units, drawers, obstacles, pulls and slides are added, moved, named and taken out.

use bevy_egui::egui::{self, Button, CollapsingHeader, TextEdit, Ui};

use super::{Drawn, sender};
use crate::plan::Choice;
use crate::plan::form::{Form, Row, What};
use crate::plan::write::Edit;
use crate::viewer::action::Action;
use crate::viewer::panel::place::note;

impl Drawn<'_, '_> {
    pub(super) fn list_ui(&mut self, ui: &mut Ui, row: &Row, one: &str, choices: &'static [Choice]) {
        let last = row.rows.len().saturating_sub(1);
        for (n, item) in row.rows.iter().enumerate() {
            ui.push_id(n, |ui| {
                ui.horizontal_top(|ui| {
                    self.order_ui(ui, row, item, n, last);
                    ui.vertical(|ui| self.item_ui(ui, item));
                });
                self.refusal_ui(ui);
            });
        }
        self.add_ui(ui, one, choices, |form, word| form.added(row, row.rows.len(), word));
    }

    /// Buttons that move an item and take it out.
    fn order_ui(&mut self, ui: &mut Ui, row: &Row, item: &Row, n: usize, last: usize) {
        let moves = [("⏶", "earlier", n.checked_sub(1)), ("⏷", "later", (n < last).then_some(n + 1))];
        for (sign, word, to) in moves {
            let button = ui.add_enabled(to.is_some(), Button::new(sign).small());
            button.widget_info(|| {
                let spoken = format!("{} {word}", item.label);
                egui::WidgetInfo::labeled(egui::WidgetType::Button, to.is_some(), spoken)
            });
            if button.on_hover_text(format!("One place {word}, with its comments")).clicked()
                && let Some(to) = to
            {
                self.send(ui, Edit::Move { list: row.path.clone(), from: n, to });
            }
        }
        self.remove_ui(ui, item);
    }

    fn remove_ui(&mut self, ui: &mut Ui, item: &Row) {
        let button = ui.add(Button::new("✖").small());
        button.widget_info(|| {
            egui::WidgetInfo::labeled(egui::WidgetType::Button, true, format!("take {} out", item.label))
        });
        if button.on_hover_text("Take it out (undo brings it back)").clicked() {
            let edit = self.form.removed(item);
            self.send(ui, edit);
        }
    }

    fn item_ui(&mut self, ui: &mut Ui, item: &Row) {
        match item.what {
            What::Group | What::Choice { .. } if !item.rows.is_empty() || matches!(item.what, What::Group) => {
                let header = CollapsingHeader::new(&item.label).id_salt("item").open(self.unfold);
                let shown = header.show(ui, |ui| match item.what {
                    What::Choice { choices, chosen } => {
                        let mut nameless = item.clone();
                        nameless.label.clear();
                        self.choice_ui(ui, &nameless, choices, chosen);
                    }
                    _ => self.rows_ui(ui, item),
                });
                note(&shown.header_response, || format!("group {}", item.path));
            }
            _ => self.row_ui(ui, item),
        }
    }

    pub(super) fn set_ui(&mut self, ui: &mut Ui, row: &Row, one: &str, choices: &'static [Choice]) {
        for item in &row.rows {
            ui.push_id(&item.label, |ui| {
                ui.horizontal_top(|ui| {
                    self.remove_ui(ui, item);
                    ui.vertical(|ui| {
                        self.rename_ui(ui, item);
                        let mut kind = item.clone();
                        kind.label = format!("what {} is", item.label);
                        self.item_ui(ui, &kind);
                    });
                });
                self.refusal_ui(ui);
            });
        }
        let id = ui.id().with("new name");
        let mut name: String = ui.data(|data| data.get_temp(id)).unwrap_or_default();
        ui.horizontal(|ui| {
            let label = ui.label(format!("new {one}"));
            ui.add(TextEdit::singleline(&mut name).id(id).desired_width(150.0).hint_text("its name"))
                .labelled_by(label.id);
        });
        let taken = name.trim().is_empty() || row.rows.iter().any(|row| row.label == name.trim());
        ui.add_enabled_ui(!taken, |ui| {
            self.add_ui(ui, one, choices, |form, word| form.added_as(row, &name, word));
        });
        ui.data_mut(|data| data.insert_temp(id, name));
    }

    fn rename_ui(&mut self, ui: &mut Ui, item: &Row) {
        let id = ui.id().with("rename");
        let mut name: String = ui.data(|data| data.get_temp(id)).unwrap_or_else(|| item.label.clone());
        if !ui.memory(|memory| memory.has_focus(id)) {
            name.clone_from(&item.label);
        }
        ui.horizontal(|ui| {
            let label = ui.label("name");
            let field = ui.add(TextEdit::singleline(&mut name).id(id).desired_width(170.0)).labelled_by(label.id);
            let field = field.on_hover_text("A new name is taken wherever units name it");
            if field.lost_focus() && !name.trim().is_empty() && name.trim() != item.label {
                self.send(ui, Edit::Rename { at: item.path.clone(), name: name.trim().to_owned() });
            }
        });
        ui.data_mut(|data| data.insert_temp(id, name));
    }

    fn add_ui(&mut self, ui: &mut Ui, one: &str, choices: &'static [Choice], edit: impl Fn(&Form, &str) -> Edit) {
        if choices.is_empty() {
            if ui.button(format!("Add a {one}")).clicked() {
                let edit = edit(self.form, "");
                self.send(ui, edit);
            }
            return;
        }
        let outer = ui.id();
        ui.menu_button(format!("Add a {one}…"), |ui| {
            for choice in choices {
                if ui.button(choice.label).on_hover_text(choice.help).clicked() {
                    ui.data_mut(|data| data.insert_temp(sender(), outer));
                    self.actions.push(Action::Edit(edit(self.form, choice.word)));
                    ui.close();
                }
            }
        });
    }
}
