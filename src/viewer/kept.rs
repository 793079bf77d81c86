//! What is lost if the window ends without a word? Nothing: a copy of what is not saved lies in the user's state folder.
//!
//! It is written when a change is over, and taken away when all is saved. What an earlier window left behind is offered
//! when its plan is opened again.

use std::path::{Path, PathBuf};

use bevy::prelude::*;

use super::desk::Desk;
use super::dialog::{Dialog, Found};
use super::file::Files;
use crate::plan::recovery::{self, RecoveryCopy};

/// What a plan's copies are kept under.
fn kept_as(desk: &Desk) -> PathBuf {
    let path = desk.path().unwrap_or_else(|| Path::new(desk.name()));
    if desk.path().is_none() { path.to_owned() } else { std::path::absolute(path).unwrap_or_else(|_| path.to_owned()) }
}

fn seconds_now() -> u64 {
    std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).map_or(0, |since| since.as_secs())
}

/// The copies of one window.
#[derive(Debug, Default)]
pub(super) struct Copies {
    /// Where they are kept; none for no copies.
    folder: Option<PathBuf>,
    /// The copy of what is not saved now.
    pub(super) now: Option<RecoveryCopy>,
    /// One that an earlier window left behind, while the question stands.
    pub(super) found: Option<recovery::Found>,
    /// None can be written; said once.
    useless: bool,
}

impl Copies {
    /// Copies in `folder`, or none.
    pub(super) fn in_folder(folder: Option<PathBuf>) -> Self {
        Self { folder, ..Self::default() }
    }

    /// Asks about a copy of this plan that an earlier window left behind, if there is one that says something new.
    pub(super) fn look_for(&mut self, desk: &Desk, dialog: &mut Dialog) {
        let Some(folder) = &self.folder else { return };
        let copies = match recovery::find(folder, &kept_as(desk)) {
            Ok(copies) => copies,
            Err(why) => {
                warn!("recovery copies in {} could not be looked for: {why}", folder.display());
                return;
            }
        };
        for copy in copies {
            if copy.text == desk.text() {
                // The file has it all.
                if let Err(why) = copy.discard() {
                    warn!("a recovery copy could not be taken away: {why}");
                }
                continue;
            }
            let when = ago(seconds_now().saturating_sub(copy.about.saved_at_s));
            let lines = lines_that_differ(desk.text(), &copy.text);
            *dialog = Dialog::Found(Found { text: copy.text.clone(), when, lines });
            self.found = Some(copy);
            return;
        }
    }

    /// Takes the copy away: all is saved, or is not wanted.
    pub(super) fn forget(&mut self) {
        if let Some(copy) = self.now.take()
            && let Err(why) = copy.discard()
        {
            warn!("the recovery copy could not be taken away: {why}");
        }
    }

    fn write(&mut self, desk: &Desk) {
        let Some(folder) = self.folder.as_deref().filter(|_| !self.useless) else { return };
        let written = match &self.now {
            Some(copy) => copy.write(desk.text(), seconds_now(), std::process::id()),
            None => RecoveryCopy::start(folder, &kept_as(desk)).and_then(|copy| {
                let written = copy.write(desk.text(), seconds_now(), std::process::id());
                self.now = Some(copy);
                written
            }),
        };
        if let Err(why) = written {
            warn!("no copy of what is not saved can be kept in {}: {why}", folder.display());
            self.useless = true;
        }
    }
}

/// Asks about what an earlier window left behind, before anything else.
pub(super) fn look_at_start(mut files: ResMut<'_, Files>, desk: Res<'_, Desk>, mut dialog: ResMut<'_, Dialog>) {
    files.copies.look_for(&desk, &mut dialog);
}

/// Keeps a copy of what is not saved, once a change is over, and takes it away when all is saved.
pub(super) fn keep(mut files: ResMut<'_, Files>, desk: Res<'_, Desk>, mut written: Local<'_, Option<String>>) {
    // A question about an older copy is answered first.
    if desk.is_in_hand() || files.copies.found.is_some() {
        return;
    }
    if !desk.has_unsaved() {
        *written = None;
        files.copies.forget();
    } else if written.as_deref() != Some(desk.text()) {
        files.copies.write(&desk);
        *written = Some(desk.text().to_owned());
    }
}

/// How long ago, as one says it.
fn ago(seconds: u64) -> String {
    let (count, word) = match seconds {
        0..60 => return "a moment ago".to_owned(),
        60..3_600 => (seconds / 60, "minute"),
        3_600..86_400 => (seconds / 3_600, "hour"),
        _ => (seconds / 86_400, "day"),
    };
    format!("{count} {word}{} ago", if count == 1 { "" } else { "s" })
}

/// How many lines one of the two texts has and the other has not, counted on the larger side.
fn lines_that_differ(a: &str, b: &str) -> usize {
    let mut counts = std::collections::BTreeMap::<&str, (usize, usize)>::new();
    a.lines().for_each(|line| counts.entry(line).or_default().0 += 1);
    b.lines().for_each(|line| counts.entry(line).or_default().1 += 1);
    let gone: usize = counts.values().map(|(a, b)| a.saturating_sub(*b)).sum();
    let come: usize = counts.values().map(|(a, b)| b.saturating_sub(*a)).sum();
    gone.max(come)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_that_differ_are_counted_once() {
        assert_eq!(
            lines_that_differ(
                "a
b
c", "a
x
c"
            ),
            1
        );
        assert_eq!(
            lines_that_differ(
                "a
b", "a
b
c
d"
            ),
            2
        );
        assert_eq!(lines_that_differ("a", "a"), 0);
    }

    #[test]
    fn a_time_is_told_as_one_says_it() {
        assert_eq!(ago(3), "a moment ago");
        assert_eq!(ago(60), "1 minute ago");
        assert_eq!(ago(7_300), "2 hours ago");
    }
}
