//! Was the plan file saved? A thread watches its folder, waits until the file has been still for a moment, reads it, and
//! wakes the window.
//!
//! The folder is watched and not the file, because many editors save by putting a new file in the old one's place.

use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::Duration;

use bevy::prelude::*;
use bevy::winit::EventLoopProxyWrapper;
use notify::{EventKind, RecursiveMode, Watcher as _};

use super::ViewerSystems;
use super::action::{Action, Asked};
use super::desk::Desk;
use super::file::waker;

/// A save is over when the file has been still for this long.
const STILL: Duration = Duration::from_millis(80);

/// The watched file's saves.
#[derive(Resource, Debug)]
struct Saves {
    texts: Mutex<Receiver<Result<String, String>>>,
    // Watching ends when it is dropped.
    _watcher: notify::RecommendedWatcher,
}

/// Registers the watcher.
pub(super) fn plugin(app: &mut App) {
    let (follow, take) = (follow.run_if(resource_changed::<Desk>), take.run_if(resource_exists::<Saves>));
    app.add_systems(Update, (follow, take).chain().in_set(ViewerSystems::Input));
}

/// Watches the file that lies on the desk, whenever it is another than before.
fn follow(
    mut commands: Commands<'_, '_>,
    mut desk: ResMut<'_, Desk>,
    proxy: Option<Res<'_, EventLoopProxyWrapper>>,
    mut watched: Local<'_, Option<PathBuf>>,
) {
    if watched.as_deref() == desk.path() {
        return;
    }
    *watched = desk.path().map(Path::to_path_buf);
    commands.remove_resource::<Saves>();
    let Some(path) = watched.clone() else { return };
    let wake = waker(proxy.as_deref());
    match watch(&path, wake) {
        Ok(saves) => {
            commands.insert_resource(saves);
            desk.unwatched = None;
        }
        Err(why) => desk.unwatched = Some(format!("the file is not watched, so saves are not shown: {why}")),
    }
}

fn watch(path: &Path, wake: impl Fn() + Send + 'static) -> Result<Saves, String> {
    let path = std::path::absolute(path).map_err(|why| why.to_string())?;
    let folder = path.parent().map(Path::to_path_buf).ok_or_else(|| "it has no folder".to_owned())?;
    let name = path.file_name().map(std::ffi::OsStr::to_os_string).ok_or_else(|| "it has no name".to_owned())?;
    let (touched, touches) = channel::<()>();
    let mut watcher = notify::recommended_watcher(move |event: notify::Result<notify::Event>| {
        let ours = event.is_ok_and(|event| {
            !matches!(event.kind, EventKind::Access(_)) && event.paths.iter().any(|p| p.file_name() == Some(&name))
        });
        if ours {
            // The reader is gone only when the window is.
            let _closed = touched.send(());
        }
    })
    .map_err(|why| why.to_string())?;
    // Read before the watch begins: a save between the two must not pass for what is shown.
    let known = std::fs::read_to_string(&path).ok();
    watcher.watch(&folder, RecursiveMode::NonRecursive).map_err(|why| why.to_string())?;
    let (send, texts) = channel();
    std::thread::Builder::new()
        .name("plan file".to_owned())
        .spawn(move || read_saves(&path, known, &touches, &send, wake))
        .map_err(|why| why.to_string())?;
    Ok(Saves { texts: Mutex::new(texts), _watcher: watcher })
}

fn read_saves(
    path: &PathBuf,
    known: Option<String>,
    touches: &Receiver<()>,
    send: &Sender<Result<String, String>>,
    wake: impl Fn(),
) {
    let mut last = known;
    while touches.recv().is_ok() {
        while touches.recv_timeout(STILL).is_ok() {}
        let text = std::fs::read_to_string(path).map_err(|why| format!("{}: cannot be read: {why}", path.display()));
        if text.as_ref().ok() == last.as_ref() && last.is_some() {
            continue;
        }
        last = text.as_ref().ok().cloned();
        if send.send(text).is_err() {
            return;
        }
        wake();
    }
}

fn take(saves: Res<'_, Saves>, mut asked: ResMut<'_, Asked>) {
    let Ok(texts) = saves.texts.lock() else { return };
    // Only the newest save counts.
    if let Some(newest) = texts.try_iter().last() {
        asked.0.push(Action::Reloaded(newest));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_save_in_place_and_a_file_put_in_its_place_are_both_seen() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("corner.ron");
        std::fs::write(&path, "one").expect("written");
        let saves = watch(&path, || {}).expect("watched");
        let texts = saves.texts.lock().expect("nobody else has it");
        std::fs::write(&path, "two").expect("written");
        assert_eq!(texts.recv_timeout(Duration::from_secs(5)), Ok(Ok("two".to_owned())));
        let beside = folder.path().join(".corner.ron.new");
        std::fs::write(&beside, "three").expect("written");
        std::fs::rename(&beside, &path).expect("put in place");
        assert_eq!(texts.recv_timeout(Duration::from_secs(5)), Ok(Ok("three".to_owned())));
    }
}
