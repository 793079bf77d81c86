//! What lies on the desk? The plan's text as it stands in the window, all that it was before, and what is on disk.
//!
//! The text is the document: every change edits it in place ([`write::apply`]), and the plan on screen is what the text
//! says. So undo and redo are lists of texts, and a save writes what the author would have written, comments and all.
//! Nothing here draws; [`super::file`] does the reading and writing.

use std::path::{Path, PathBuf};

use bevy::prelude::{Local, Res, ResMut, Resource};

use super::panel::DeskView;
use super::settings::{Audience, Section, Settings};
use super::shown::Shown;
use crate::plan::form::{self, Form};
use crate::plan::write::{self, Edit, PlanPath, Refused};
use crate::plan::{self, Plan};

/// A text that stood on the desk, and what changed it.
#[derive(Clone, Debug, PartialEq)]
struct Step {
    text: String,
    what: String,
}

/// The plan's text, its past and its future.
#[derive(Resource, Clone, Debug, Default)]
pub struct Desk {
    /// The file, or none for a plan that was never saved.
    path: Option<PathBuf>,
    /// What to call it.
    name: String,
    text: String,
    /// The file's text as read or saved last; none where there is no file.
    on_disk: Option<String>,
    before: Vec<Step>,
    after: Vec<Step>,
    /// The place of the edit that goes on, while a slider is being dragged.
    in_hand: Option<PlanPath>,
    refused: Option<Refused>,
    newer: Option<String>,
    /// The problems of the file's last save by another program, one line each; empty when it was good.
    pub problems: Vec<String>,
    /// Why the file is not watched, if it should be and is not.
    pub unwatched: Option<String>,
    /// The last thing that was done, in words: `saved`, or why it was not.
    pub told: Option<Told>,
}

/// What came of saving, opening or undoing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// The sentence.
    pub text: String,
    /// Whether it went wrong.
    pub wrong: bool,
}

impl Desk {
    /// A desk with `text`, which was read from `path`, or is built in under `name`.
    #[must_use]
    pub fn new(name: String, path: Option<PathBuf>, text: String) -> Self {
        let on_disk = path.is_some().then(|| text.clone());
        Self { path, name, text, on_disk, ..Self::default() }
    }

    /// The text as it stands in the window.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// What the plan's file is called.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The plan's file; none where it was never saved.
    #[must_use]
    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// The file's text as read or saved last.
    #[must_use]
    pub fn on_disk(&self) -> Option<&str> {
        self.on_disk.as_deref()
    }

    /// Whether something would be lost if the window closed now. A plan that was only looked at is not on disk, and is
    /// not lost.
    #[must_use]
    pub fn has_unsaved(&self) -> bool {
        match &self.on_disk {
            Some(on_disk) => *on_disk != self.text,
            None => !self.before.is_empty(),
        }
    }

    /// What undo would take back.
    #[must_use]
    pub fn undoes(&self) -> Option<&str> {
        self.before.last().map(|step| step.what.as_str())
    }

    /// What redo would do again.
    #[must_use]
    pub fn redoes(&self) -> Option<&str> {
        self.after.last().map(|step| step.what.as_str())
    }

    /// What the bar above the scene shows of it.
    #[must_use]
    pub fn view(&self) -> DeskView<'_> {
        DeskView {
            unsaved: self.has_unsaved(),
            undoes: self.undoes(),
            redoes: self.redoes(),
            told: self.told.as_ref().map(|told| (told.text.as_str(), told.wrong)),
            newer: self.newer.is_some(),
        }
    }

    /// The last edit that was refused, until the next that is taken.
    #[must_use]
    pub fn refused(&self) -> Option<&Refused> {
        self.refused.as_ref()
    }

    /// Another text that the file has got while there are unsaved changes here.
    #[must_use]
    pub fn newer(&self) -> Option<&str> {
        self.newer.as_deref()
    }

    /// Whether an edit goes on, such as a slider being dragged.
    #[must_use]
    pub fn is_in_hand(&self) -> bool {
        self.in_hand.is_some()
    }

    /// The mouse was let go: the next edit is a step of its own.
    pub fn let_go(&mut self) {
        self.in_hand = None;
    }

    /// Makes an edit; gives the plan that came of it, or none where it was refused or changes nothing.
    pub fn edit(&mut self, edit: &Edit) -> Option<Plan> {
        match write::apply(&self.name, &self.text, edit) {
            Ok((text, plan)) => {
                self.refused = None;
                if text == self.text {
                    return None;
                }
                let place = edit.place();
                // One drag of a slider is one step, however many widths it passed.
                let goes_on = only_sets(edit) && self.in_hand.as_ref() == Some(&place);
                if !goes_on {
                    self.push(what(edit));
                }
                self.in_hand = Some(place);
                self.text = text;
                Some(plan)
            }
            Err(refused) => {
                self.refused = Some(refused);
                None
            }
        }
    }

    /// Drops what was refused: its field is left.
    pub fn forget_refused(&mut self) {
        self.refused = None;
    }

    /// Puts another text in place of this one, as a step that can be taken back.
    pub fn replace(&mut self, text: String, what: &str) {
        if text != self.text {
            self.push(what.to_owned());
            self.text = text;
        }
    }

    fn push(&mut self, what: String) {
        self.before.push(Step { text: self.text.clone(), what });
        self.after.clear();
        self.in_hand = None;
        self.told = None;
    }

    /// Takes the last step back; gives the plan as it was.
    pub fn undo(&mut self) -> Option<Plan> {
        let step = self.before.pop()?;
        let now = std::mem::replace(&mut self.text, step.text);
        self.after.push(Step { text: now, what: step.what });
        self.come_to_rest()
    }

    /// Does the last step that was taken back again.
    pub fn redo(&mut self) -> Option<Plan> {
        let step = self.after.pop()?;
        let now = std::mem::replace(&mut self.text, step.text);
        self.before.push(Step { text: now, what: step.what });
        self.come_to_rest()
    }

    fn come_to_rest(&mut self) -> Option<Plan> {
        self.refused = None;
        self.in_hand = None;
        self.told = None;
        // Every text that was on the desk could be read; one that no longer can stays out of the window.
        plan::read(&self.name, &self.text).ok()
    }

    /// The text now lies on disk at `path`.
    pub fn saved(&mut self, path: PathBuf) {
        self.name = path.display().to_string();
        self.path = Some(path);
        self.on_disk = Some(self.text.clone());
        self.newer = None;
        self.problems.clear();
        self.in_hand = None;
        self.told = Some(Told { text: format!("Saved to {}", self.name), wrong: false });
    }

    /// The file has got this text from another program. Gives the plan to show, where it is taken.
    pub fn reloaded(&mut self, text: String) -> Option<Plan> {
        if self.on_disk.as_deref() == Some(text.as_str()) {
            return None;
        }
        if text == self.text {
            self.on_disk = Some(text);
            self.newer = None;
            return None;
        }
        if self.has_unsaved() {
            self.newer = Some(text);
            return None;
        }
        self.take(text)
    }

    /// Takes the file's newer text, in place of what was changed here; undo brings that back.
    pub fn take_newer(&mut self) -> Option<Plan> {
        let text = self.newer.take()?;
        self.take(text)
    }

    /// Keeps what was changed here; the file's newer text is known of, and the next save replaces it.
    pub fn keep_mine(&mut self) {
        if let Some(newer) = self.newer.take() {
            self.on_disk = Some(newer);
        }
    }

    fn take(&mut self, text: String) -> Option<Plan> {
        match plan::read(&self.name, &text) {
            Ok(plan) => {
                self.problems.clear();
                self.refused = None;
                self.replace(text.clone(), "the file's save");
                self.on_disk = Some(text);
                Some(plan)
            }
            Err(problems) => {
                self.problems = problems.lines();
                None
            }
        }
    }
}

/// What can be changed in the plan, while the section that shows it is open.
#[derive(Resource, Clone, Debug, Default)]
pub struct PlanForm(pub Option<Form>);

/// Makes the form anew where the text or the section changed.
pub(super) fn fill_form(
    desk: Res<'_, Desk>,
    shown: Res<'_, Shown>,
    settings: Res<'_, Settings>,
    mut form: ResMut<'_, PlanForm>,
    mut made_of: Local<'_, String>,
) {
    let wanted = settings.audience == Audience::Builder && settings.section == Section::Plan;
    if !wanted {
        if form.0.is_some() {
            form.0 = None;
        }
    } else if form.0.is_none() || *made_of != desk.text {
        form.0 = Some(form::form(&desk.text, shown.plan()));
        made_of.clone_from(&desk.text);
    }
}

/// Whether an edit only gives places other values: then the next of the same place goes on with it.
fn only_sets(edit: &Edit) -> bool {
    match edit {
        Edit::Set { .. } => true,
        Edit::Together(edits) => edits.iter().all(only_sets),
        _ => false,
    }
}

/// What an edit does, for the tooltip of undo.
fn what(edit: &Edit) -> String {
    match edit {
        Edit::Set { at, .. } | Edit::Become { at, .. } => format!("change of {at}"),
        Edit::Unset { at } => format!("{at} as usual"),
        Edit::Insert { at, .. } => format!("new {at}"),
        Edit::Move { list, .. } => format!("order of {list}"),
        Edit::Rename { at, name } => format!("{at} called {name}"),
        Edit::Together(edits) => edits.first().map_or_else(String::new, what),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::{DEMO, DEMO_NAME};

    fn width(value: &str) -> Edit {
        Edit::Set { at: "left.units[1].width".parse().expect("a place"), value: value.to_owned() }
    }

    fn desk() -> Desk {
        Desk::new(DEMO_NAME.to_owned(), Some(PathBuf::from(DEMO_NAME)), DEMO.to_owned())
    }

    #[test]
    fn undo_and_redo_walk_over_every_text() {
        let mut desk = desk();
        assert!(!desk.has_unsaved());
        assert!(desk.edit(&width("510")).is_some());
        desk.let_go();
        assert!(desk.edit(&width("520")).is_some());
        let last = desk.text().to_owned();
        assert!(desk.has_unsaved());
        assert!(desk.undo().is_some() && desk.undo().is_some() && desk.undo().is_none());
        assert_eq!(desk.text(), DEMO);
        assert!(!desk.has_unsaved());
        assert!(desk.redo().is_some() && desk.redo().is_some() && desk.redo().is_none());
        assert_eq!(desk.text(), last);
    }

    #[test]
    fn one_drag_is_one_step() {
        let mut desk = desk();
        for mm in 501..520 {
            desk.edit(&width(&mm.to_string()));
        }
        assert!(desk.undo().is_some());
        assert_eq!(desk.text(), DEMO);
    }

    #[test]
    fn a_refused_edit_changes_nothing_and_says_why() {
        let mut desk = desk();
        assert!(desk.edit(&width("-4")).is_none());
        assert_eq!(desk.text(), DEMO);
        assert!(desk.refused().is_some_and(|refused| refused.here().count() > 0));
        assert!(desk.undoes().is_none());
    }

    #[test]
    fn a_save_elsewhere_never_overwrites_what_was_changed_here() {
        let mut desk = desk();
        let other = DEMO.replace("Glazing corner", "Glazing corner, second thoughts");
        desk.edit(&width("510"));
        let mine = desk.text().to_owned();
        assert!(desk.reloaded(other.clone()).is_none());
        assert_eq!((desk.text(), desk.newer()), (mine.as_str(), Some(other.as_str())));
        assert!(desk.take_newer().is_some());
        assert_eq!(desk.text(), other);
        // And even then nothing is lost.
        assert!(desk.undo().is_some());
        assert_eq!(desk.text(), mine);
    }

    #[test]
    fn a_save_elsewhere_is_shown_where_nothing_was_changed_here() {
        let mut desk = desk();
        let other = DEMO.replace("Glazing corner", "Glazing corner, second thoughts");
        assert!(desk.reloaded(other.clone()).is_some_and(|plan| plan.name.ends_with("second thoughts")));
        assert!(!desk.has_unsaved());
        assert!(desk.reloaded("(".to_owned()).is_none());
        assert!(!desk.problems.is_empty());
        assert_eq!(desk.text(), other);
    }
}
