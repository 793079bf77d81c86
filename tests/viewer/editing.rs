//! What becomes of a plan that is changed in the window: in its text, on disk, and after a crash.

use std::fs;

use bevy::prelude::*;
use bevy::window::WindowCloseRequested;
use bevy_egui::egui;
use bevy_egui::egui::accesskit::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use elbowroom::length::Length;
use elbowroom::plan::form::{self, Form, What};
use elbowroom::plan::template::TEMPLATES;
use elbowroom::plan::write::{Edit, Refused, apply};
use elbowroom::plan::{self, Plan, Side};
use elbowroom::viewer::action::{Action, Asked};
use elbowroom::viewer::desk::Desk;
use elbowroom::viewer::dialog::{Dialog, Next};
use elbowroom::viewer::file::Files;
use elbowroom::viewer::headless::headless;
use elbowroom::viewer::panel::{FormView, View, dialog_ui, panel_ui};
use elbowroom::viewer::settings::{Section, Settings};
use elbowroom::viewer::shown::Shown;
use elbowroom::{clearance, viewer};

use crate::plans;

pub(crate) const TESTS: &[(&str, fn())] = &[
    ("editing: a change is in the text, on screen and in the answer, and undo takes it back", a_change),
    ("editing: a slider changes the file's text", a_slider_changes_the_text),
    ("editing: a save keeps the author's comments", a_save_keeps_comments),
    ("editing: a file changed meanwhile is not written over", a_changed_file_is_kept),
    ("editing: closing with changes asks first", closing_asks),
    ("editing: a crash loses nothing", a_crash_loses_nothing),
    ("editing: another plan is opened, and a wrong one is explained", another_plan),
    ("editing: a new plan starts from a template and is saved under a name", a_new_plan),
    ("plan section: a value typed becomes an edit", a_value_typed),
    ("plan section: a value that is none is explained beside its field", a_wrong_value),
    ("plan section: what a change would lead to is told", a_refused_change),
    ("plan section: every group opens and every row has a name", every_group_opens),
    ("plan section: units change places and go", units_move),
    ("dialogs: every question can be answered by its words", every_question),
];

fn app(source: viewer::Source) -> App {
    let mut app = headless(source, (1280, 800));
    (0..4).for_each(|_| app.update());
    app
}

fn ask(app: &mut App, action: Action) {
    app.world_mut().resource_mut::<Asked>().0.push(action);
    (0..2).for_each(|_| app.update());
}

fn desk(app: &App) -> &Desk {
    app.world().resource::<Desk>()
}

fn dialog(app: &App) -> &Dialog {
    app.world().resource::<Dialog>()
}

fn shown(app: &App) -> &Plan {
    app.world().resource::<Shown>().plan()
}

fn set(place: &str, value: &str) -> Action {
    Action::Edit(Edit::Set { at: place.parse().expect("a place"), value: value.to_owned() })
}

fn a_change() {
    let mut app = app(plans::source(plans::plan()));
    ask(&mut app, set("left.units[0].width", "820"));
    assert!(desk(&app).text().contains("Drawers(name: \"glaze drawers\", width: 820,"));
    assert_eq!(shown(&app).left.units[0].width, Length::mm(820.0));
    let ends = app.world().resource::<Shown>().model().run(Side::Left).ends_at;
    ask(&mut app, Action::Undo);
    assert_eq!(desk(&app).text(), plans::TEXT);
    let before = app.world().resource::<Shown>().model().run(Side::Left).ends_at;
    assert!((ends - before - 20.0).abs() < 1e-9, "the run is drawn 20 mm longer");
    ask(&mut app, Action::Redo);
    assert_eq!(shown(&app).left.units[0].width, Length::mm(820.0));
}

fn a_slider_changes_the_text() {
    let mut app = app(plans::source(plans::plan()));
    for mm in 60..70 {
        ask(&mut app, Action::SetFiller(Side::Left, Length::mm(f64::from(mm))));
    }
    assert!(desk(&app).text().contains("left: Fixed(69),"));
    // The comment that stands above it is still there.
    assert!(desk(&app).text().contains("// Too tight, on purpose"));
}

fn a_save_keeps_comments() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut app = app(plans::saved(folder.path()));
    ask(&mut app, set("right.units[1].hinge", "CornerSide"));
    assert!(desk(&app).has_unsaved());
    ask(&mut app, Action::Save);
    assert!(!desk(&app).has_unsaved(), "{:?}", desk(&app).told);
    let on_disk = fs::read_to_string(folder.path().join("corner.ron")).expect("it is there");
    let changed: Vec<_> = on_disk.lines().zip(plans::TEXT.lines()).filter(|(new, old)| new != old).collect();
    assert_eq!(on_disk.lines().count(), plans::TEXT.lines().count());
    assert_eq!(changed.len(), 1, "{changed:?}");
    assert!(changed[0].0.contains("hinge: CornerSide"));
}

fn a_changed_file_is_kept() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut app = app(plans::saved(folder.path()));
    let path = folder.path().join("corner.ron");
    ask(&mut app, set("left.units[0].width", "820"));
    let theirs = plans::TEXT.replace("2700", "2650");
    fs::write(&path, &theirs).expect("written");
    ask(&mut app, Action::Save);
    assert!(desk(&app).told.as_ref().is_some_and(|told| told.wrong && told.text.contains("changed on disk")));
    assert_eq!(fs::read_to_string(&path).expect("there"), theirs);
    // The watcher tells of it; the person keeps what is here, and saves.
    ask(&mut app, Action::Reloaded(Ok(theirs)));
    assert!(desk(&app).newer().is_some());
    ask(&mut app, Action::TakeNewer(false));
    ask(&mut app, Action::Save);
    assert!(fs::read_to_string(&path).expect("there").contains("width: 820"));
}

fn close(app: &mut App) {
    let window = app.world_mut().query_filtered::<Entity, With<Window>>().single(app.world()).expect("a window");
    app.world_mut().write_message(WindowCloseRequested { window });
    (0..3).for_each(|_| app.update());
}

fn closing_asks() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut app = app(plans::saved(folder.path()));
    ask(&mut app, set("left.units[0].width", "820"));
    close(&mut app);
    assert_eq!(*dialog(&app), Dialog::Unsaved(Next::Close));
    assert!(app.should_exit().is_none());
    ask(&mut app, Action::SaveThen(Next::Close));
    assert!(app.should_exit().is_some());
    assert!(fs::read_to_string(folder.path().join("corner.ron")).expect("there").contains("width: 820"));
}

fn a_crash_loses_nothing() {
    let (folder, state) = (tempfile::tempdir().expect("a folder"), tempfile::tempdir().expect("a folder"));
    let source = plans::saved(folder.path());
    let begin = || {
        let mut app = headless(source.clone(), (1280, 800));
        app.insert_resource(Files::new(Some(state.path().to_owned())));
        (0..4).for_each(|_| app.update());
        app
    };
    let mut first = begin();
    assert_eq!(*dialog(&first), Dialog::None);
    ask(&mut first, set("left.units[0].width", "820"));
    let changed = desk(&first).text().to_owned();
    // Gone without a word.
    drop(first);

    let mut second = begin();
    let found = if let Dialog::Found(found) = dialog(&second) { Some(found.clone()) } else { None };
    let found = found.expect("what was not saved is offered");
    assert_eq!((found.text.as_str(), found.lines), (changed.as_str(), 1));
    ask(&mut second, Action::TakeFound(true));
    assert_eq!(desk(&second).text(), changed);
    assert_eq!(shown(&second).left.units[0].width, Length::mm(820.0));
    assert!(desk(&second).has_unsaved());
    ask(&mut second, Action::Save);
    drop(second);

    // All is saved: nothing is offered any more, and nothing is left behind.
    let third = begin();
    assert_eq!(*dialog(&third), Dialog::None);
    let left = fs::read_dir(state.path()).expect("there").filter_map(Result::ok);
    let left: Vec<_> =
        left.map(|entry| entry.file_name()).filter(|name| name.to_string_lossy().ends_with(".ron")).collect();
    assert!(left.is_empty(), "{left:?}");
}

fn another_plan() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut app = app(plans::source(plans::plan()));
    let other = folder.path().join("other.ron");
    fs::write(&other, TEMPLATES[0].text.replace("ceiling:", "cieling:")).expect("written");
    ask(&mut app, Action::AskOpen);
    ask(&mut app, Action::Proceed(Next::Open(other.clone())));
    let wrong = if let Dialog::Open { wrong, .. } = dialog(&app) { Some(wrong.clone()) } else { None };
    let wrong = wrong.expect("the question stands");
    assert!(wrong.iter().any(|line| line.contains("cieling")), "{wrong:?}");
    assert_eq!(desk(&app).text(), plans::TEXT);
    fs::write(&other, TEMPLATES[0].text).expect("written");
    ask(&mut app, Action::Proceed(Next::Open(other.clone())));
    assert_eq!(*dialog(&app), Dialog::None);
    assert_eq!(desk(&app).path(), Some(other.as_path()));
    assert_eq!(shown(&app).name, plan::read("x.ron", TEMPLATES[0].text).expect("good").name);
    ask(&mut app, Action::Proceed(Next::Open(folder.path().join("absent.ron"))));
    assert!(matches!(dialog(&app), Dialog::Open { wrong, .. } if wrong[0].contains("absent.ron")));
}

fn a_new_plan() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut app = app(plans::source(plans::plan()));
    ask(&mut app, Action::AskNew);
    assert_eq!(*dialog(&app), Dialog::New);
    ask(&mut app, Action::Proceed(Next::New(1)));
    assert_eq!(desk(&app).text(), TEMPLATES[1].text);
    ask(&mut app, Action::Save);
    assert!(matches!(dialog(&app), Dialog::SaveAs { .. }), "a plan without a file asks where to");
    let path = folder.path().join("mine.ron");
    fs::write(&path, "not to be lost").expect("written");
    let save = |replace| Action::SaveAs { path: path.clone(), replace, then: None };
    ask(&mut app, save(false));
    assert!(matches!(dialog(&app), Dialog::SaveAs { exists: true, .. }));
    assert_eq!(fs::read_to_string(&path).expect("there"), "not to be lost");
    ask(&mut app, save(true));
    assert_eq!(*dialog(&app), Dialog::None);
    assert_eq!(fs::read_to_string(&path).expect("there"), TEMPLATES[1].text);
}

/// The plan section with a plan's text behind it that takes the edits.
struct Bench {
    text: String,
    plan: Plan,
    form: Form,
    refused: Option<Refused>,
    actions: Vec<Action>,
}

impl Bench {
    fn new() -> Self {
        let (text, plan) = (plans::TEXT.to_owned(), plans::plan());
        let form = form::form(&text, &plan);
        Self { text, plan, form, refused: None, actions: Vec::new() }
    }

    fn take(&mut self) {
        for action in std::mem::take(&mut self.actions) {
            let Action::Edit(edit) = &action else { continue };
            match apply("corner.ron", &self.text, edit) {
                Ok((text, plan)) => {
                    self.form = form::form(&text, &plan);
                    (self.text, self.plan, self.refused) = (text, plan, None);
                }
                Err(refused) => self.refused = Some(refused),
            }
        }
    }

    fn harness(self) -> Harness<'static, Self> {
        let settings = Settings { section: Section::Plan, ..Settings::default() };
        let answer = clearance::answer(&self.plan);
        let mut harness = Harness::builder().with_size(egui::vec2(400.0, 12_000.0)).build_ui_state(
            move |root, bench: &mut Self| {
                let form = Some(FormView { form: &bench.form, refused: bench.refused.as_ref() });
                let view = View { form, ..View::at_rest(&bench.plan, &answer, &settings) };
                panel_ui(root, &view, &mut bench.actions);
                bench.take();
            },
            self,
        );
        harness.run();
        harness
    }
}

/// Opens a group by its heading.
fn open(harness: &mut Harness<'_, Bench>, heading: &str) {
    harness.get_by_label(heading).click();
    harness.run();
}

fn type_into(harness: &mut Harness<'_, Bench>, label: &str, text: &str) {
    harness.get_by_role_and_label(Role::TextInput, label).focus();
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.get_by_role_and_label(Role::TextInput, label).type_text(text);
    harness.run();
    harness.key_press(egui::Key::Enter);
    harness.run();
}

/// The label of the row at a place.
fn label(harness: &Harness<'_, Bench>, place: &str) -> String {
    let form = &harness.state().form;
    form.row(&place.parse().expect("a place")).expect("there is such a row").label.clone()
}

fn a_value_typed() {
    let mut harness = Bench::new().harness();
    let room = label(&harness, "room");
    open(&mut harness, &room);
    let wall = label(&harness, "room.left_wall");
    type_into(&mut harness, &wall, "10' 2-1/2\"");
    assert_eq!(harness.state().plan.room.left_wall, Length::inches(122.5));
    assert!(harness.state().refused.is_none());
}

fn a_wrong_value() {
    let mut harness = Bench::new().harness();
    let room = label(&harness, "room");
    open(&mut harness, &room);
    let wall = label(&harness, "room.left_wall");
    type_into(&mut harness, &wall, "three metres");
    harness.get_by_label_contains("`three metres` is not a length");
    assert_eq!(harness.state().text, plans::TEXT);
    type_into(&mut harness, &wall, "0");
    assert!(harness.state().refused.is_some());
    harness.get_by_label_contains("must be more than 0");
    // What was typed is still in the field, to be mended.
    let field = harness.get_by_role_and_label(Role::TextInput, &wall);
    let value = egui_kittest::kittest::NodeT::accesskit_node(&field).value();
    assert_eq!(value.as_deref(), Some("0"));
    type_into(&mut harness, &wall, "3000");
    assert!(harness.query_by_label_contains("must be more than 0").is_none());
    assert_eq!(harness.state().plan.room.left_wall, Length::mm(3000.0));
}

fn a_refused_change() {
    let mut harness = Bench::new().harness();
    let construction = label(&harness, "construction");
    open(&mut harness, &construction);
    let height = label(&harness, "construction.height");
    // Lower than the fronts that the units name.
    type_into(&mut harness, &height, "300");
    assert_eq!(harness.state().text, plans::TEXT);
    harness.get_by_label_contains("because of what it would lead to");
    assert!(harness.query_all_by_label_contains("left.units[0]").next().is_some());
}

fn every_group_opens() {
    let mut harness = Bench::new().harness();
    harness.get_by_label("Unfold all").click();
    harness.run();
    let mut rows = Vec::new();
    harness.state().form.plan.walk(&mut |row| {
        let is_group = matches!(row.what, What::Group | What::List { .. } | What::Set { .. });
        if !is_group && !row.label.is_empty() {
            rows.push((row.label.clone(), row.path.to_string()));
        }
    });
    assert!(rows.len() > 100, "only {} rows", rows.len());
    for (label, path) in rows {
        assert!(harness.query_all_by_label_contains(&label).next().is_some(), "`{label}` ({path}) is not on the panel");
    }
    harness.get_by_label("Fold all").click();
    harness.run();
    // Found by a word, without opening anything.
    type_into(&mut harness, "Find", "reveal");
    let reveal = label(&harness, "construction.reveal.between");
    harness.get_by_role_and_label(Role::TextInput, &reveal);
    let ceiling = label(&harness, "room.ceiling");
    assert!(harness.query_by_label(&ceiling).is_none(), "the rest is out of sight");
}

fn units_move() {
    let mut harness = Bench::new().harness();
    let (left, units) = (label(&harness, "left"), label(&harness, "left.units"));
    open(&mut harness, &left);
    let count = harness.state().plan.left.units.len();
    open(&mut harness, &format!("{units} ({count})"));
    let (first, second) = (label(&harness, "left.units[0]"), label(&harness, "left.units[1]"));
    harness.get_by_label(&format!("{first} later")).click();
    harness.run();
    let names: Vec<_> = harness.state().plan.left.units.iter().map(|unit| unit.name.clone()).collect();
    assert_eq!(names[..2], ["glaze buckets", "glaze drawers"]);
    assert!(second.contains("glaze buckets"));
    let now = label(&harness, "left.units[0]");
    harness.get_by_label(&format!("take {now} out")).click();
    harness.run();
    assert_eq!(harness.state().plan.left.units.len(), count - 1);
    assert_eq!(harness.state().plan.left.units[0].name, "glaze drawers");
}

fn every_question() {
    let found = viewer::dialog::Found { text: String::new(), when: "a moment ago".to_owned(), lines: 3 };
    let save = |exists| Dialog::SaveAs { path: "a.ron".to_owned(), wrong: None, then: None, exists };
    let path = std::path::PathBuf::from("a.ron");
    let cases: Vec<(Dialog, &str, Action)> = vec![
        (Dialog::Help, "Close", Action::Ask(Dialog::None)),
        (
            Dialog::Open { path: "a.ron".to_owned(), wrong: vec!["no such file".to_owned()] },
            "Open",
            Action::Proceed(Next::Open(path.clone())),
        ),
        (save(false), "Save", Action::SaveAs { path: path.clone(), replace: false, then: None }),
        (save(true), "Replace it", Action::SaveAs { path, replace: true, then: None }),
        (Dialog::Unsaved(Next::Close), "Do not save", Action::Proceed(Next::Close)),
        (Dialog::Unsaved(Next::Close), "Stay", Action::Ask(Dialog::None)),
        (Dialog::Found(found), "Take them up", Action::TakeFound(true)),
    ];
    for (question, answer, wanted) in cases {
        let state = (question.clone(), Vec::<Action>::new());
        let mut harness = Harness::builder().with_size(egui::vec2(900.0, 700.0)).build_ui_state(
            |ui, (dialog, actions): &mut (Dialog, Vec<Action>)| {
                dialog_ui(ui.ctx(), dialog, "corner.ron", true, actions);
            },
            state,
        );
        harness.run();
        harness.get_by_role_and_label(Role::Button, answer).click();
        harness.run();
        assert_eq!(harness.state().1, [wanted], "{question:?}");
    }
}
