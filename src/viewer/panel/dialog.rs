//! How is a question put? A card before the window, with its answers as buttons; Esc takes it away.

use bevy_egui::egui::{self, Button, Grid, Id, Key, Modal, RichText, ScrollArea, TextEdit, Ui, vec2};

use super::place::note;
use crate::plan::template::TEMPLATES;
use crate::viewer::action::{Action, Choice};
use crate::viewer::dialog::{Dialog, Found, Next};
use crate::viewer::keys::{KEYS, MOUSE};
use crate::viewer::look;

/// Draws the question, if there is one. A field that is typed into changes `dialog` itself; all else is an action.
pub fn dialog_ui(ctx: &egui::Context, dialog: &mut Dialog, file: &str, can_choose: bool, actions: &mut Vec<Action>) {
    if *dialog == Dialog::None {
        return;
    }
    let frame = egui::Frame::new()
        .fill(look::PANEL)
        .stroke(egui::Stroke::new(1.0, look::FAINT.gamma_multiply(0.5)))
        .corner_radius(egui::CornerRadius::same(8))
        .inner_margin(egui::Margin::same(18));
    let modal = Modal::new(Id::new("question")).frame(frame).show(ctx, |ui| {
        let widest = if *dialog == Dialog::Help { 860.0 } else { 560.0 };
        ui.set_width((ui.ctx().content_rect().width() - 80.0).min(widest));
        match dialog {
            Dialog::None => {}
            Dialog::Help => help_ui(ui, actions),
            Dialog::Open { path, wrong } => open_ui(ui, path, wrong, can_choose, actions),
            Dialog::SaveAs { path, wrong, then, exists } => {
                save_ui(ui, path, wrong.as_deref(), then.as_ref(), exists, can_choose, actions);
            }
            Dialog::New => new_ui(ui, actions),
            Dialog::Unsaved(next) => unsaved_ui(ui, file, next, actions),
            Dialog::Found(found) => found_ui(ui, file, found, actions),
        }
    });
    // Changes that were found must be taken or thrown away, not clicked away.
    let must_answer = matches!(dialog, Dialog::Found(_));
    if modal.should_close() && !must_answer {
        actions.push(Action::Ask(Dialog::None));
    }
}

fn title_ui(ui: &mut Ui, title: &str) {
    ui.heading(title);
    ui.add_space(4.0);
}

fn buttons_ui(ui: &mut Ui, actions: &mut Vec<Action>, buttons: Vec<(&str, Action)>) {
    ui.add_space(8.0);
    ui.horizontal_wrapped(|ui| {
        for (word, action) in buttons {
            let button = ui.add(Button::new(word).min_size(vec2(84.0, 30.0)));
            note(&button, || format!("answer {word}"));
            if button.clicked() {
                actions.push(action);
            }
        }
    });
}

fn warn_ui(ui: &mut Ui, line: &str) {
    ui.add(egui::Label::new(RichText::new(format!("⚠ {line}")).color(look::WARN)).wrap());
}

/// A field for a path, with the focus when it first appears; true when Enter was pressed in it.
fn path_ui(ui: &mut Ui, path: &mut String) -> bool {
    let id = Id::new("path of the plan");
    let label = ui.label("File");
    let field = ui.add(TextEdit::singleline(path).id(id).desired_width(f32::INFINITY).hint_text("folder/plan.ron"));
    let field = field.labelled_by(label.id);
    let first = ui.data_mut(|data| !std::mem::replace(data.get_temp_mut_or(id, false), true));
    if first || ui.memory(|memory| memory.focused().is_none()) {
        field.request_focus();
    }
    field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter))
}

fn choose_ui(ui: &mut Ui, can_choose: bool, choice: Choice, actions: &mut Vec<Action>) {
    if can_choose && ui.button("Choose…").on_hover_text("Ask the desktop for the file").clicked() {
        actions.push(Action::Choose(choice));
    }
}

fn open_ui(ui: &mut Ui, path: &mut String, wrong: &[String], can_choose: bool, actions: &mut Vec<Action>) {
    title_ui(ui, "Open a plan");
    let entered = path_ui(ui, path);
    choose_ui(ui, can_choose, Choice::Open, actions);
    ScrollArea::vertical().max_height(220.0).show(ui, |ui| wrong.iter().for_each(|line| warn_ui(ui, line)));
    let open = Action::Proceed(Next::Open(path.trim().into()));
    if entered {
        actions.push(open.clone());
    }
    buttons_ui(ui, actions, vec![("Open", open), ("Cancel", Action::Ask(Dialog::None))]);
}

fn save_ui(
    ui: &mut Ui,
    path: &mut String,
    wrong: Option<&str>,
    then: Option<&Next>,
    exists: &mut bool,
    can_choose: bool,
    actions: &mut Vec<Action>,
) {
    title_ui(ui, "Save the plan");
    let before = path.clone();
    let entered = path_ui(ui, path);
    if *path != before {
        *exists = false;
    }
    choose_ui(ui, can_choose, Choice::Save, actions);
    if let Some(wrong) = wrong {
        warn_ui(ui, wrong);
    }
    let save = Action::SaveAs { path: path.trim().into(), replace: *exists, then: then.cloned() };
    let word = if *exists { "Replace it" } else { "Save" };
    if entered && !*exists {
        actions.push(save.clone());
    }
    buttons_ui(ui, actions, vec![(word, save), ("Cancel", Action::Ask(Dialog::None))]);
}

fn new_ui(ui: &mut Ui, actions: &mut Vec<Action>) {
    title_ui(ui, "Start a new plan from");
    for (index, template) in TEMPLATES.iter().enumerate() {
        let text = format!("{}\n{}", template.title, template.about);
        let button = Button::new(text).wrap().min_size(vec2(ui.available_width(), 0.0));
        if ui.add(button).clicked() {
            actions.push(Action::Proceed(Next::New(index)));
        }
    }
    buttons_ui(ui, actions, vec![("Cancel", Action::Ask(Dialog::None))]);
}

fn unsaved_ui(ui: &mut Ui, file: &str, next: &Next, actions: &mut Vec<Action>) {
    title_ui(ui, "Save the changes first?");
    ui.add(egui::Label::new(format!("{file} has changes that are not saved.")).wrap());
    let buttons = vec![
        ("Save", Action::SaveThen(next.clone())),
        ("Do not save", Action::Proceed(next.clone())),
        ("Stay", Action::Ask(Dialog::None)),
    ];
    buttons_ui(ui, actions, buttons);
}

fn found_ui(ui: &mut Ui, file: &str, found: &Found, actions: &mut Vec<Action>) {
    title_ui(ui, "Changes were found that never reached the file");
    let lines = if found.lines == 1 { "1 line differs".to_owned() } else { format!("{} lines differ", found.lines) };
    let text = format!(
        "{file} was being changed {} when its window ended without a word; {lines} from the file. \
                        Take the changes up again? The file itself stays as it is until you save.",
        found.when
    );
    ui.add(egui::Label::new(text).wrap());
    let buttons = vec![("Take them up", Action::TakeFound(true)), ("Throw them away", Action::TakeFound(false))];
    buttons_ui(ui, actions, buttons);
}

fn help_ui(ui: &mut Ui, actions: &mut Vec<Action>) {
    title_ui(ui, "Mouse and keys");
    let rows: Vec<(&str, &str)> = MOUSE.iter().copied().chain(KEYS.iter().map(|key| (key.words, key.does))).collect();
    ScrollArea::vertical().max_height(ui.ctx().content_rect().height() - 200.0).show(ui, |ui| {
        ui.columns(2, |columns| {
            for (k, (column, rows)) in columns.iter_mut().zip(rows.chunks(rows.len().div_ceil(2))).enumerate() {
                let width = column.available_width();
                Grid::new(("keys", k)).num_columns(2).spacing(vec2(14.0, 4.0)).show(column, |ui| {
                    for (press, does) in rows {
                        ui.label(RichText::new(*press).strong());
                        ui.vertical(|ui| {
                            ui.set_width(width * 0.55);
                            ui.add(egui::Label::new(*does).wrap());
                        });
                        ui.end_row();
                    }
                });
            }
        });
        ui.add_space(6.0);
        let more = "Everything can be reached with the keyboard alone: Tab goes from control to control, Space or Enter \
                    presses, arrows move a slider. A screen reader is told what each control is.";
        ui.add(egui::Label::new(RichText::new(more).small().color(look::FAINT)).wrap());
    });
    buttons_ui(ui, actions, vec![("Close", Action::Ask(Dialog::None))]);
}
