//! Which views did the owner save? A few for each plan, kept in the user's state folder, so that they are there again
//! with the next window.
//!
//! One small RON file a plan, named for the plan's path. It is no part of the plan: a builder's file stays as it is, and
//! losing the views loses no work. A file that cannot be read is left alone and told once.

use std::path::{Path, PathBuf};

use bevy::prelude::*;
use serde::{Deserialize, Serialize};

use super::camera::View;
use super::desk::Desk;

/// More saved views than this make a poor row of buttons; the oldest goes.
const MOST: usize = 8;

/// A view that was saved.
#[derive(Clone, Debug, PartialEq)]
pub struct SavedView {
    /// What its button says.
    pub name: String,
    /// From where.
    pub view: View,
}

/// The saved views of the plan on screen.
#[derive(Resource, Clone, Debug, Default)]
pub struct Saved {
    views: Vec<SavedView>,
    /// Where they are kept; none for this window alone.
    file: Option<PathBuf>,
}

/// A saved view as it is written.
#[derive(Debug, Serialize, Deserialize)]
struct Written {
    name: String,
    focus: [f32; 3],
    yaw: f32,
    pitch: f32,
    radius: f32,
}

/// A file of saved views.
#[derive(Debug, Serialize, Deserialize)]
struct File {
    /// The plan it belongs to, for a person who looks into it.
    plan: String,
    views: Vec<Written>,
}

impl Saved {
    /// All of them, oldest first.
    #[must_use]
    pub fn views(&self) -> &[SavedView] {
        &self.views
    }

    /// Keeps a view under the first free number.
    pub fn add(&mut self, view: View) {
        let name = (1..).map(|k| format!("View {k}")).find(|name| self.views.iter().all(|saved| saved.name != *name));
        self.views.push(SavedView { name: name.unwrap_or_default(), view });
        if self.views.len() > MOST {
            self.views.remove(0);
        }
    }

    /// Forgets one.
    pub fn forget(&mut self, index: usize) {
        if index < self.views.len() {
            self.views.remove(index);
        }
    }

    fn read(file: &Path) -> Result<Vec<SavedView>, String> {
        let text = match std::fs::read_to_string(file) {
            Ok(text) => text,
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
            Err(error) => return Err(error.to_string()),
        };
        let read: File = ron::from_str(&text).map_err(|error| error.to_string())?;
        let is_number =
            |w: &Written| w.focus.iter().chain([&w.yaw, &w.pitch, &w.radius]).all(|value| value.is_finite());
        let views = read.views.into_iter().filter(is_number).take(MOST);
        Ok(views
            .map(|w| SavedView {
                name: w.name,
                view: View { focus: Vec3::from_array(w.focus), yaw: w.yaw, pitch: w.pitch, radius: w.radius },
            })
            .collect())
    }

    fn write(&self, file: &Path, plan: &str) -> std::io::Result<()> {
        let views = self.views.iter().map(|saved| Written {
            name: saved.name.clone(),
            focus: saved.view.focus.to_array(),
            yaw: saved.view.yaw,
            pitch: saved.view.pitch,
            radius: saved.view.radius,
        });
        let written = File { plan: plan.to_owned(), views: views.collect() };
        let text =
            ron::ser::to_string_pretty(&written, ron::ser::PrettyConfig::default()).map_err(std::io::Error::other)?;
        if let Some(folder) = file.parent() {
            std::fs::create_dir_all(folder)?;
        }
        // Whole or not at all.
        let part = file.with_extension("part");
        std::fs::write(&part, text)?;
        std::fs::rename(&part, file)
    }
}

/// Where the views of the plan at `path` are kept below `folder`; one with no file, such as the built-in one, goes by its
/// name.
fn file_of(folder: &Path, path: Option<&Path>, name: &str) -> PathBuf {
    let whole = path.map(|path| path.canonicalize().unwrap_or_else(|_| path.to_path_buf()));
    let name = whole.map_or_else(|| name.to_owned(), |path| path.display().to_string());
    // FNV-1a, 64 bit: a short name for a long path; a clash would share a few views and no more.
    let sum = name
        .bytes()
        .fold(0xcbf2_9ce4_8422_2325_u64, |sum, byte| (sum ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3));
    folder.join("views").join(format!("{sum:016x}.ron"))
}

/// Keeps saved views below `folder`.
#[derive(Debug)]
pub struct KeepViews {
    /// The user's state folder of this program.
    pub folder: Option<PathBuf>,
}

/// The folder, for the systems.
#[derive(Resource, Debug)]
struct Folder(PathBuf);

impl Plugin for KeepViews {
    fn build(&self, app: &mut App) {
        if let Some(folder) = &self.folder {
            app.insert_resource(Folder(folder.clone()));
            app.add_systems(
                Last,
                (load.run_if(resource_changed::<Desk>), store.run_if(resource_changed::<Saved>)).chain(),
            );
        }
    }
}

/// Another plan has other views.
fn load(folder: Res<'_, Folder>, desk: Res<'_, Desk>, mut saved: ResMut<'_, Saved>) {
    let file = file_of(&folder.0, desk.path(), desk.name());
    if saved.file.as_ref() == Some(&file) {
        return;
    }
    let views = match Saved::read(&file) {
        Ok(views) => views,
        Err(why) => {
            warn!("saved views in {} cannot be read, and are left alone: {why}", file.display());
            *saved = Saved::default();
            return;
        }
    };
    *saved = Saved { views, file: Some(file) };
}

fn store(desk: Res<'_, Desk>, saved: Res<'_, Saved>, mut written: Local<'_, Option<(PathBuf, Vec<SavedView>)>>) {
    let Some(file) = &saved.file else { return };
    let known = written.as_ref().is_some_and(|(at, views)| at == file && *views == saved.views);
    let is_new = written.as_ref().is_none_or(|(at, _)| at != file);
    if !known
        && !is_new
        && let Err(why) = saved.write(file, desk.name())
    {
        warn!("saved views cannot be kept in {}: {why}", file.display());
    }
    *written = Some((file.clone(), saved.views.clone()));
}

#[cfg(test)]
mod tests {
    use super::*;

    fn view(yaw: f32) -> View {
        View { focus: Vec3::new(0.1, 0.2, -0.3), yaw, pitch: 0.5, radius: 2.5 }
    }

    #[test]
    fn views_come_back_as_they_were_saved() {
        let folder = tempfile::tempdir().unwrap();
        let file = file_of(folder.path(), Some(Path::new("corner.ron")), "corner.ron");
        let mut saved = Saved::default();
        saved.add(view(0.25));
        saved.add(view(-1.0));
        saved.write(&file, "corner.ron").unwrap();
        assert_eq!(Saved::read(&file).unwrap(), saved.views);
        assert_eq!(Saved::read(&folder.path().join("none.ron")).unwrap(), []);
        std::fs::write(&file, "views, once").unwrap();
        assert!(Saved::read(&file).is_err());
        // Nothing but the file itself is left behind.
        assert_eq!(std::fs::read_dir(file.parent().unwrap()).unwrap().count(), 1);
    }

    #[test]
    fn a_forgotten_number_is_given_again_and_the_oldest_makes_room() {
        let mut saved = Saved::default();
        (0..3).for_each(|_| saved.add(view(0.0)));
        saved.forget(1);
        saved.add(view(1.0));
        let names: Vec<&str> = saved.views.iter().map(|saved| saved.name.as_str()).collect();
        assert_eq!(names, ["View 1", "View 3", "View 2"]);
        (0..20).for_each(|_| saved.add(view(2.0)));
        assert_eq!(saved.views.len(), MOST);
    }
}
