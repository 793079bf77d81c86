//! What is read from disk, and what is written to it? Opening, saving, the copy kept while editing, and the end.
//!
//! Saves are whole or not at all ([`plan::save`]); what is not saved is kept by [`super::kept`].

use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::mpsc::{Receiver, Sender, channel};

use bevy::prelude::*;
use bevy::window::WindowCloseRequested;
use bevy::winit::{EventLoopProxyWrapper, WinitUserEvent};

use super::ViewerSystems;
use super::action::{Action, Applied, Asked, Choice};
use super::camera::Flight;
use super::desk::{Desk, Told};
use super::dialog::{Dialog, Next};
use super::kept::{self, Copies};
use crate::plan::save::{self, Expected};
use crate::plan::template::TEMPLATES;
use crate::plan::{self, LARGEST_PLAN_BYTES, Plan};

/// Where copies are kept, and what the desktop was asked for.
#[derive(Resource, Debug)]
pub struct Files {
    pub(super) copies: Copies,
    chosen: Mutex<Receiver<(Choice, PathBuf)>>,
    choose: Sender<(Choice, PathBuf)>,
    wanted: Option<Choice>,
    leaving: bool,
}

impl Default for Files {
    fn default() -> Self {
        Self::new(None)
    }
}

impl Files {
    /// Files whose copies are kept in the folder `state`.
    #[must_use]
    pub fn new(state: Option<PathBuf>) -> Self {
        let (choose, chosen) = channel();
        let copies = Copies::in_folder(state);
        Self { copies, chosen: Mutex::new(chosen), choose, wanted: None, leaving: false }
    }

    /// Whether the desktop can be asked for a file: on Linux that takes a session bus.
    #[must_use]
    pub fn can_choose(&self) -> bool {
        let bus = std::env::var_os("XDG_RUNTIME_DIR").is_some_and(|folder| Path::new(&folder).join("bus").exists());
        cfg!(any(windows, target_os = "macos")) || bus || std::env::var_os("DBUS_SESSION_BUS_ADDRESS").is_some()
    }
}

/// The user's state folder of this program, as the XDG base directory specification 0.8 says.
pub(super) fn state_folder() -> Option<PathBuf> {
    let given = std::env::var_os("XDG_STATE_HOME").map(PathBuf::from).filter(|folder| folder.is_absolute());
    let usual = || std::env::home_dir().map(|home| home.join(".local/state"));
    given.or_else(usual).map(|folder| folder.join("elbowroom"))
}

/// Registers what reads and writes.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Files>();
    app.add_systems(Startup, kept::look_at_start);
    app.add_systems(Update, (close_requested, take_chosen).in_set(ViewerSystems::Input));
    app.add_systems(Update, choose.after(ViewerSystems::Apply));
    app.add_systems(Last, (let_go, kept::keep.run_if(resource_changed::<Desk>), leave).chain());
}

impl Applied<'_> {
    pub(super) fn carry_out_on_file(&mut self, action: Action) {
        match action {
            Action::Save => self.save_then(None),
            Action::SaveThen(next) => self.save_then(Some(next)),
            Action::AskSaveAs => self.ask_where(None),
            Action::SaveAs { path, replace, then } => self.save_as(path, replace, then),
            Action::AskOpen => self.unless_unsaved(Next::AskOpen),
            Action::AskNew => self.unless_unsaved(Next::AskNew),
            Action::Close => self.unless_unsaved(Next::Close),
            Action::Proceed(next) => self.proceed(next),
            Action::Choose(choice) => self.files.wanted = Some(choice),
            Action::TakeFound(take) => self.take_found(take),
            _ => {}
        }
    }

    fn unless_unsaved(&mut self, next: Next) {
        if self.desk.has_unsaved() {
            *self.dialog = Dialog::Unsaved(next);
        } else {
            self.proceed(next);
        }
    }

    fn proceed(&mut self, next: Next) {
        *self.dialog = Dialog::None;
        match next {
            Next::Close => {
                self.forget_copy();
                self.files.leaving = true;
            }
            Next::AskOpen => *self.dialog = Dialog::Open { path: folder_of(&self.desk), wrong: Vec::new() },
            Next::AskNew => *self.dialog = Dialog::New,
            Next::Open(path) => self.open(path),
            Next::New(index) => {
                if let Some(template) = TEMPLATES.get(index) {
                    let name = "new plan";
                    let plan = plan::read(name, template.text).ok();
                    self.put(Desk::new(name.to_owned(), None, template.text.to_owned()), plan);
                }
            }
        }
    }

    fn open(&mut self, path: PathBuf) {
        let name = path.display().to_string();
        let wrong = match load(&path) {
            Ok(text) => match plan::read(&name, &text) {
                Ok(plan) => return self.put(Desk::new(name, Some(path), text), Some(plan)),
                Err(problems) => problems.lines(),
            },
            Err(why) => vec![why],
        };
        *self.dialog = Dialog::Open { path: name, wrong };
    }

    /// Puts another plan on the desk, as its text says. What was not saved of the one before has been asked about.
    fn put(&mut self, desk: Desk, plan: Option<Plan>) {
        self.forget_copy();
        *self.desk = desk;
        self.show_plan(plan);
        self.poses.shut_all();
        self.play.stop();
        *self.flight = Flight::ToCorner;
        self.files.copies.look_for(&self.desk, &mut self.dialog);
    }

    fn ask_where(&mut self, then: Option<Next>) {
        let path = self.desk.path().map_or_else(|| self.desk.name().to_owned(), |path| path.display().to_string());
        *self.dialog = Dialog::SaveAs { path, wrong: None, then, exists: false };
    }

    fn save_then(&mut self, then: Option<Next>) {
        match self.desk.path().map(Path::to_path_buf) {
            Some(path) => {
                match save::save(&path, self.desk.text(), self.desk.on_disk().map_or(Expected::Nothing, Expected::Text))
                {
                    Ok(()) => self.saved(path, then),
                    Err(why) => {
                        *self.dialog = Dialog::None;
                        self.desk.told = Some(Told { text: format!("Not saved: {why}"), wrong: true });
                    }
                }
            }
            None => self.ask_where(then),
        }
    }

    fn save_as(&mut self, path: PathBuf, replace: bool, then: Option<Next>) {
        let own = self.desk.path() == Some(path.as_path());
        let there = path.exists() && !own;
        if there && !replace {
            let wrong = Some(format!("{} is there already", path.display()));
            *self.dialog = Dialog::SaveAs { path: path.display().to_string(), wrong, then, exists: true };
            return;
        }
        let expected = match self.desk.on_disk().filter(|_| own) {
            Some(text) => Expected::Text(text),
            None if replace => Expected::Anything,
            None => Expected::Nothing,
        };
        match save::save(&path, self.desk.text(), expected) {
            Ok(()) => {
                *self.dialog = Dialog::None;
                self.saved(path, then);
            }
            Err(why) => {
                let (path, wrong) = (path.display().to_string(), Some(why.to_string()));
                *self.dialog = Dialog::SaveAs { path, wrong, then, exists: false };
            }
        }
    }

    fn saved(&mut self, path: PathBuf, then: Option<Next>) {
        self.forget_copy();
        self.desk.saved(path);
        if let Some(next) = then {
            self.proceed(next);
        }
    }

    fn take_found(&mut self, take: bool) {
        let Dialog::Found(found) = std::mem::take(&mut *self.dialog) else { return };
        let Some(copy) = self.files.copies.found.take() else { return };
        if take {
            self.files.copies.now = Some(copy.resumed());
            self.desk.replace(found.text, "changes taken up again");
            let plan = plan::read(self.desk.name(), self.desk.text()).ok();
            self.show_plan(plan);
        } else if let Err(why) = copy.discard() {
            self.desk.told = Some(Told { text: format!("The copy could not be taken away: {why}"), wrong: true });
        }
    }

    fn forget_copy(&mut self) {
        self.files.copies.forget();
    }
}

/// The text of a plan's file, or why it cannot be had.
fn load(path: &Path) -> Result<String, String> {
    let told = |why: &dyn std::fmt::Display| format!("`{}` could not be read: {why}", path.display());
    let size = std::fs::metadata(path).map_err(|why| told(&why))?.len();
    if size > LARGEST_PLAN_BYTES as u64 {
        return Err(told(&format!("it is larger than {LARGEST_PLAN_BYTES} bytes")));
    }
    std::fs::read_to_string(path).map_err(|why| told(&why))
}

/// Where one would look for another plan: beside this one.
fn folder_of(desk: &Desk) -> String {
    let folder = desk.path().and_then(Path::parent).filter(|folder| !folder.as_os_str().is_empty());
    folder.map_or_else(String::new, |folder| format!("{}/", folder.display()))
}

fn close_requested(mut requests: MessageReader<'_, '_, WindowCloseRequested>, mut asked: ResMut<'_, Asked>) {
    if requests.read().count() > 0 {
        asked.0.push(Action::Close);
    }
}

/// When no button of the mouse is held, the change that was being made is over.
fn let_go(pressed: Option<Res<'_, ButtonInput<MouseButton>>>, mut desk: ResMut<'_, Desk>) {
    let held = pressed.is_some_and(|pressed| pressed.get_pressed().next().is_some());
    if !held && desk.is_in_hand() {
        desk.let_go();
    }
}

fn leave(files: Res<'_, Files>, mut exit: MessageWriter<'_, AppExit>) {
    if files.leaving {
        exit.write(AppExit::Success);
    }
}

/// Wakes the window from another thread.
pub(super) fn waker(proxy: Option<&EventLoopProxyWrapper>) -> impl Fn() + Send + 'static + use<> {
    let wake = proxy.map(|proxy| (**proxy).clone());
    move || {
        if let Some(wake) = &wake {
            // An error means that the window is closed; then there is nobody to wake.
            let _closed = wake.send_event(WinitUserEvent::WakeUp);
        }
    }
}

/// Asks the desktop for a file, on a thread of its own.
fn choose(mut files: ResMut<'_, Files>, desk: Res<'_, Desk>, proxy: Option<Res<'_, EventLoopProxyWrapper>>) {
    if files.wanted.is_none() {
        return;
    }
    let Some(choice) = files.wanted.take() else { return };
    let (send, wake) = (files.choose.clone(), waker(proxy.as_deref()));
    let mut ask = rfd::AsyncFileDialog::new().add_filter("plans", &["ron"]);
    if let Some(folder) = desk.path().and_then(|path| std::path::absolute(path).ok()?.parent().map(Path::to_path_buf)) {
        ask = ask.set_directory(folder);
    }
    let asking = std::thread::Builder::new().name("file dialog".to_owned()).spawn(move || {
        let chosen = match choice {
            Choice::Open => pollster::block_on(ask.pick_file()),
            Choice::Save => pollster::block_on(ask.save_file()),
        };
        if let Some(file) = chosen {
            // The window may be closed by now.
            let _closed = send.send((choice, file.path().to_path_buf()));
            wake();
        }
    });
    if let Err(why) = asking {
        warn!("the desktop could not be asked for a file: {why}");
    }
}

/// Puts the file that the desktop gave into the question that is open.
fn take_chosen(mut files: ResMut<'_, Files>, mut dialog: ResMut<'_, Dialog>, mut asked: ResMut<'_, Asked>) {
    let Some((choice, chosen)) =
        files.bypass_change_detection().chosen.get_mut().ok().and_then(|chosen| chosen.try_recv().ok())
    else {
        return;
    };
    match (choice, &mut *dialog) {
        (Choice::Open, Dialog::Open { .. }) => asked.0.push(Action::Proceed(Next::Open(chosen))),
        // The desktop has asked already whether to replace what is there.
        (Choice::Save, Dialog::SaveAs { then, .. }) => {
            asked.0.push(Action::SaveAs { path: chosen, replace: true, then: then.clone() });
        }
        _ => {}
    }
}
