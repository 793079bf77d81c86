//! How does a plan get back into its file? As a whole or not at all, and never over what another hand has written.
//!
//! [`save`] writes a new file beside the old one, makes sure that it is on the disk, and puts it in the old one's
//! place. Permissions are kept, and a link is followed to the file it leads to. Owners and hard links are not kept:
//! the file is a new one. The one place in the core, with [`super::recovery`], that touches files.

use std::fs::{self, File, Permissions};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use super::read::excerpt;

/// What is expected to stand in the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Expected<'t> {
    /// No file: the plan is new.
    Nothing,
    /// This text: as it was read or saved last.
    Text(&'t str),
    /// Whatever: a person has decided to write over it.
    Anything,
}

/// Why a plan was not saved. The file is as it was.
#[derive(Debug, thiserror::Error)]
pub enum SaveError {
    /// Another hand has changed the file.
    #[error("`{file}` was changed on disk since it was read: line {line} there is `{there}`, here it was `{here}`")]
    Changed {
        /// The file.
        file: PathText,
        /// The first line that differs, from 1.
        line: usize,
        /// That line on disk.
        there: String,
        /// That line as it was read.
        here: String,
    },
    /// A file of that name is there already.
    #[error("`{0}` is there already; choose another name, or say that it may be written over")]
    Exists(PathText),
    /// The file was taken away.
    #[error("`{0}` was taken away or renamed since it was read; save it under a name of its own")]
    Gone(PathText),
    /// The file may not be written.
    #[error("`{0}` is read-only; save the plan under another name, or allow the file to be written")]
    ReadOnly(PathText),
    /// The name is a folder's, or leads nowhere.
    #[error("`{0}` is not the name of a file")]
    NoFile(PathText),
    /// The folder takes no new file.
    #[error("the folder `{folder}` cannot be written to: {reason}")]
    Folder {
        /// The folder.
        folder: PathText,
        /// What the system says.
        reason: io::Error,
    },
    /// Reading or writing failed.
    #[error("`{file}` could not be saved: {reason}")]
    Failed {
        /// The file.
        file: PathText,
        /// What the system says.
        reason: io::Error,
    },
}

/// A path, to be shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PathText(pub PathBuf);

impl std::fmt::Display for PathText {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.display().fmt(f)
    }
}

/// Saves `text` as the file at `path`, which must hold what is `expected`.
///
/// # Errors
/// If the file holds something else, or cannot be written; it is then as it was.
pub fn save(path: &Path, text: &str, expected: Expected<'_>) -> Result<(), SaveError> {
    let shown = || PathText(path.to_owned());
    let target = linked(path).ok_or_else(|| SaveError::NoFile(shown()))?;
    let permissions = match fs::metadata(&target) {
        Ok(found) if found.is_dir() => return Err(SaveError::NoFile(shown())),
        Ok(found) if found.permissions().readonly() => return Err(SaveError::ReadOnly(shown())),
        Ok(found) => Some(found.permissions()),
        Err(missing) if missing.kind() == io::ErrorKind::NotFound => None,
        Err(reason) => return Err(SaveError::Failed { file: shown(), reason }),
    };
    match (expected, &permissions) {
        (Expected::Nothing, Some(_)) => return Err(SaveError::Exists(shown())),
        (Expected::Text(_), None) => return Err(SaveError::Gone(shown())),
        (Expected::Text(here), Some(_)) => {
            let there = fs::read(&target).map_err(|reason| SaveError::Failed { file: shown(), reason })?;
            if there != here.as_bytes() {
                return Err(changed(path, &String::from_utf8_lossy(&there), here));
            }
        }
        (Expected::Nothing, None) | (Expected::Anything, _) => {}
    }
    replace(&target, text, permissions, expected == Expected::Nothing).map_err(|(at, reason)| match at {
        At::Folder(folder) => SaveError::Folder { folder: PathText(folder), reason },
        At::File if reason.kind() == io::ErrorKind::AlreadyExists => SaveError::Exists(shown()),
        At::File => SaveError::Failed { file: shown(), reason },
    })
}

/// The file that `path` leads to, through links, whether it is there or not.
fn linked(path: &Path) -> Option<PathBuf> {
    /// More links than this lead in a circle.
    const MOST_LINKS: usize = 40;
    path.file_name()?;
    let mut target = path.to_owned();
    for _ in 0..MOST_LINKS {
        match fs::read_link(&target) {
            Ok(next) => target = target.parent().map(|folder| folder.join(&next)).unwrap_or(next),
            Err(_no_link) => return Some(target),
        }
    }
    None
}

fn changed(path: &Path, there: &str, here: &str) -> SaveError {
    let lines = there.lines().zip(here.lines());
    let same = lines.take_while(|(there, here)| there == here).count();
    let line = |text: &str| text.lines().nth(same).map_or_else(|| "the end".to_owned(), excerpt);
    let (there, here) = (line(there), line(here));
    SaveError::Changed { file: PathText(path.to_owned()), line: same + 1, there, here }
}

/// Where replacing a file failed.
pub(super) enum At {
    Folder(PathBuf),
    File,
}

/// Puts a file with `text` in the place of `target`, as a whole or not at all; with `fresh`, only where none is.
pub(super) fn replace(
    target: &Path,
    text: &str,
    permissions: Option<Permissions>,
    fresh: bool,
) -> Result<(), (At, io::Error)> {
    let folder = match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let in_folder = |reason| (At::Folder(folder.to_owned()), reason);
    let in_file = |reason| (At::File, reason);
    let mut builder = tempfile::Builder::new();
    builder.prefix(".elbowroom-").suffix(".part");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        // What every new file gets; the system takes off what the user wants taken off.
        const NEW_FILE: u32 = 0o666;
        builder.permissions(Permissions::from_mode(NEW_FILE));
    }
    let mut file = builder.tempfile_in(folder).map_err(in_folder)?;
    file.write_all(text.as_bytes()).map_err(in_file)?;
    if let Some(permissions) = permissions {
        file.as_file().set_permissions(permissions).map_err(in_file)?;
    }
    file.as_file().sync_all().map_err(in_file)?;
    let put = if fresh { file.persist_noclobber(target) } else { file.persist(target) };
    put.map_err(|failed| in_file(failed.error))?;
    // The new name is on the disk only when the folder is; some file systems cannot say so, and the file is whole.
    if let Ok(folder) = File::open(folder) {
        let _unsupported = folder.sync_all().is_err();
    }
    Ok(())
}
