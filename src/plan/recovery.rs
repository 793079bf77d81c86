//! What was being edited when the program ended too soon? A copy kept beside the user's other state, not in the plan.
//!
//! A window that edits a plan has one [`RecoveryCopy`] in a folder that the caller names (commonly
//! `$XDG_STATE_HOME/elbowroom` or `~/.local/state/elbowroom`). Its name is made from the plan's whole path. As long as
//! the window lives it holds a lock, which the system takes back when it ends in whatever way: so two windows on one
//! plan never share a copy, and [`find`] gives only those that nobody is working on.

use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::save;

/// A copy starts with this, in a line of its own, which RON takes for a comment.
const MARK: &str = "// elbowroom recovery copy: ";

/// More abandoned copies of one plan than this are not kept apart.
const MOST_COPIES: usize = 100;

/// What is known of a copy besides its text.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct About {
    /// The plan's whole path, or what the caller calls a plan that has no file yet.
    pub plan: PathBuf,
    /// When the copy was written: seconds since the start of 1970, UTC.
    pub saved_at_s: u64,
    /// The process that wrote it.
    pub process: u32,
}

/// The copy of one window's work on one plan.
#[derive(Debug)]
pub struct RecoveryCopy {
    plan: PathBuf,
    file: PathBuf,
    lock_file: PathBuf,
    /// Held as long as this lives.
    _lock: File,
}

/// A copy that its window has left behind.
#[derive(Debug)]
pub struct Found {
    /// What it is a copy of, and since when.
    pub about: About,
    /// The plan's text.
    pub text: String,
    copy: RecoveryCopy,
}

impl RecoveryCopy {
    /// Takes a place in `folder`, which is made if need be, for the work on `plan`. Nothing is written there yet, and
    /// copies that others have left behind stay.
    ///
    /// # Errors
    /// If the folder cannot be made or written to.
    pub fn start(folder: &Path, plan: &Path) -> io::Result<Self> {
        fs::create_dir_all(folder)?;
        for n in 0..MOST_COPIES {
            if let Some(copy) = Self::take(folder, plan, n)? {
                if !copy.file.exists() {
                    return Ok(copy);
                }
                // Someone's work lies there, to be offered first.
                drop(copy);
            }
        }
        Err(io::Error::other(format!("more than {MOST_COPIES} recovery copies of one plan in `{}`", folder.display())))
    }

    /// The `n`th place for `plan`, unless a living window holds it.
    fn take(folder: &Path, plan: &Path, n: usize) -> io::Result<Option<Self>> {
        let name = format!("{}-{n}", name(plan));
        let lock_file = folder.join(format!("{name}.lock"));
        let lock = File::options().create(true).append(true).open(&lock_file)?;
        match lock.try_lock() {
            Err(TryLockError::WouldBlock) => Ok(None),
            // Where there are no locks, two windows may meet; each still writes whole copies.
            Ok(()) | Err(TryLockError::Error(_)) => {
                let file = folder.join(format!("{name}.ron"));
                Ok(Some(Self { plan: plan.to_owned(), file, lock_file, _lock: lock }))
            }
        }
    }

    /// Writes `text` as the copy, in place of what was there; `saved_at_s` and `process` as in [`About`].
    ///
    /// # Errors
    /// If it cannot be written; the copy before it is then as it was.
    pub fn write(&self, text: &str, saved_at_s: u64, process: u32) -> io::Result<()> {
        let about = About { plan: self.plan.clone(), saved_at_s, process };
        let about = serde_json::to_string(&about)?;
        save::replace(&self.file, &format!("{MARK}{about}\n{text}"), None, false).map_err(|(_, reason)| reason)
    }

    /// Takes the copy away: the work was saved, or is not wanted.
    ///
    /// # Errors
    /// If the file is there and cannot be taken away.
    pub fn discard(self) -> io::Result<()> {
        remove(&self.file)?;
        remove(&self.lock_file)
    }

    /// Where the copy lies.
    #[must_use]
    pub fn file(&self) -> &Path {
        &self.file
    }
}

impl Found {
    /// Takes the copy away.
    ///
    /// # Errors
    /// If it cannot be taken away.
    pub fn discard(self) -> io::Result<()> {
        self.copy.discard()
    }

    /// Goes on with the copy as one's own: what is written from now on replaces it.
    #[must_use]
    pub fn resumed(self) -> RecoveryCopy {
        self.copy
    }
}

/// The copies of `plan` in `folder` that nobody is working on, newest first. What is no copy is left alone.
///
/// # Errors
/// If the folder is there and cannot be read.
pub fn find(folder: &Path, plan: &Path) -> io::Result<Vec<Found>> {
    let mut found = Vec::new();
    for n in 0..MOST_COPIES {
        let file = folder.join(format!("{}-{n}.ron", name(plan)));
        if !file.exists() {
            continue;
        }
        let Some(copy) = RecoveryCopy::take(folder, plan, n)? else { continue };
        let whole = fs::read_to_string(&copy.file)?;
        let parts = whole.strip_prefix(MARK).and_then(|rest| rest.split_once('\n'));
        let about = parts.and_then(|(about, text)| Some((serde_json::from_str::<About>(about).ok()?, text)));
        // Two paths may have one name here; the copy says which it is of.
        if let Some((about, text)) = about.filter(|(about, _)| about.plan == plan) {
            found.push(Found { about, text: text.to_owned(), copy });
        }
    }
    found.sort_by_key(|found| std::cmp::Reverse(found.about.saved_at_s));
    Ok(found)
}

/// A file's name for `plan`: what it is called, and a number made from its whole path.
fn name(plan: &Path) -> String {
    const LONGEST: usize = 40;
    let stem = plan.file_stem().unwrap_or_default().to_string_lossy();
    let plain = |c: char| if c.is_alphanumeric() || c == '-' || c == '_' { c } else { '_' };
    let stem: String = stem.chars().take(LONGEST).map(plain).collect();
    format!("{stem}-{:016x}", stable_hash(plan.as_os_str().as_encoded_bytes()))
}

/// FNV-1a, 64 bits (Fowler, Noll and Vo): the same in every version of the program, unlike the standard
/// library's.
fn stable_hash(bytes: &[u8]) -> u64 {
    const OFFSET: u64 = 0xcbf2_9ce4_8422_2325;
    const PRIME: u64 = 0x0000_0100_0000_01b3;
    bytes.iter().fold(OFFSET, |hash, &byte| (hash ^ u64::from(byte)).wrapping_mul(PRIME))
}

fn remove(file: &Path) -> io::Result<()> {
    match fs::remove_file(file) {
        Err(missing) if missing.kind() == io::ErrorKind::NotFound => Ok(()),
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Test values of the FNV-1a hash: the empty text, "a" and "foobar", from memory of the authors' test vectors.
    #[test]
    fn the_number_of_a_path_is_the_same_for_ever() {
        assert_eq!(stable_hash(b""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(stable_hash(b"a"), 0xaf63_dc4c_8601_ec8c);
        assert_eq!(stable_hash(b"foobar"), 0x8594_4171_f739_67e8);
    }
}
