//! What is it like to live with? Room for people, and what damp air and load do.

use bevy_egui::egui::{Label, RichText, Ui};

use super::{View, bordered, capital, card, small_print_ui, told_ui};
use crate::report::{self, Mark};
use crate::viewer::look;

/// Lines as the reports have them: a heading, then what stands below it.
pub(super) type Lines = [(Mark, String)];

/// What the section needs to know.
#[derive(Clone, Copy, Debug)]
pub struct InUseView<'a> {
    /// Room for people.
    pub people: &'a Lines,
    /// All that wood and load do.
    pub wood: &'a Lines,
}

/// The section that says what it is like in use.
pub(super) fn in_use_ui(ui: &mut Ui, view: &View<'_>) {
    worries_ui(ui, view.worries);
    let Some(told) = view.in_use else { return };
    for lines in [told.people, told.wood] {
        for section in lines.chunk_by(|_, next| next.0 != Mark::Heading) {
            card(ui, |ui| section_ui(ui, section, beside_ui));
        }
    }
    small_print_ui(ui, "Take care", report::cautions().iter().copied());
}

/// What wood and load make bad, in a frame of its own; nothing where all is well.
pub(super) fn worries_ui(ui: &mut Ui, worries: &Lines) {
    if !worries.is_empty() {
        bordered(ui, look::WARN, |ui| section_ui(ui, worries, |ui, words| told_ui(ui, Mark::Bad, words)));
    }
}

/// What is not as a published figure has it, which no plan need be.
fn beside_ui(ui: &mut Ui, words: &str) {
    ui.add(Label::new(RichText::new(format!("⚠ {words}")).small().color(look::WARN)).wrap());
}

fn section_ui(ui: &mut Ui, lines: &Lines, bad_ui: impl Fn(&mut Ui, &str)) {
    for (mark, line) in lines {
        let words = line.trim_start().trim_start_matches("! ");
        match mark {
            Mark::Heading => {
                ui.label(RichText::new(words).strong().size(look::TITLE));
            }
            Mark::Bad => bad_ui(ui, &capital(words)),
            Mark::Good => told_ui(ui, *mark, &capital(words)),
            Mark::Plain => {
                ui.add(Label::new(RichText::new(capital(words)).small()).wrap());
            }
        }
    }
}
