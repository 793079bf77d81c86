//! What the owner's window says and does, found by what a person reads; nothing cut at any size of text.

use bevy::prelude::App;
use bevy_egui::egui;
use bevy_panorbit_camera::PanOrbitCamera;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use elbowroom::clearance;
use elbowroom::plan::Plan;
use elbowroom::report::{OwnerAnswer, owner_answers};
use elbowroom::showing::showing;
use elbowroom::viewer::action::{Action, Asked};
use elbowroom::viewer::camera::View as EyeView;
use elbowroom::viewer::headless::headless;
use elbowroom::viewer::marks::Marks;
use elbowroom::viewer::panel::{View, dress_egui, preview_ui};
use elbowroom::viewer::saved::{Saved, SavedView};
use elbowroom::viewer::settings::{Audience, Settings};
use elbowroom::viewer::viewpoint::Viewpoint;

use crate::plans;

pub(crate) const TESTS: &[(&str, fn())] = &[
    ("preview: every large control asks for what it says", large_controls),
    ("preview: a viewpoint's button flies there", viewpoints_fly),
    ("preview: views are kept, gone back to and forgotten", kept_views),
    ("preview: what owners ask is answered in words", owners_ask),
    ("preview: neither findings nor lengths are shown", no_figures),
    ("preview: nothing is cut at any size of text", nothing_is_cut),
    ("preview: the keyboard alone reaches every control", keyboard_alone),
    ("preview: the eye flies to a view, and back to one that was kept", the_eye_flies),
    ("preview: a touch is marked for the builder and not for the owner", no_marks_for_owner),
];

struct Window {
    plan: Plan,
    answer: clearance::Answer,
    asks: Vec<OwnerAnswer>,
    settings: Settings,
    saved: Vec<SavedView>,
    open: bool,
    actions: Vec<Action>,
    scene: egui::Rect,
}

impl Window {
    fn new(plan: Plan) -> Self {
        let answer = clearance::answer(&plan);
        let settings = Settings { audience: Audience::Owner, ..Settings::default() };
        let asks = owner_answers(&answer.model, &showing(&answer.model));
        Self {
            plan,
            answer,
            asks,
            settings,
            saved: Vec::new(),
            open: false,
            actions: Vec::new(),
            scene: egui::Rect::NOTHING,
        }
    }

    /// In a window of this many pixels, at its size of text.
    fn harness<'a>(self, width: f32, height: f32) -> Harness<'a, Self> {
        let size = egui::vec2(width, height) / self.settings.text_scale;
        let mut harness = Harness::builder().with_size(size).build_ui_state(
            move |ui, window: &mut Self| {
                dress_egui(ui.ctx());
                let open = vec![window.open; window.answer.model.movers.len()];
                let rest = View::at_rest(&window.plan, &window.answer, &window.settings);
                let view = View { open: &open, saved: &window.saved, asks: &window.asks, ..rest };
                let whole = ui.ctx().viewport_rect();
                let mut root = egui::Ui::new(
                    ui.ctx().clone(),
                    "window".into(),
                    egui::UiBuilder::new().layer_id(egui::LayerId::background()).max_rect(whole),
                );
                window.scene = preview_ui(&mut root, &view, &mut window.actions);
            },
            self,
        );
        harness.run();
        harness
    }
}

fn click(harness: &mut Harness<'_, Window>, label: &str) {
    harness.get_by_role_and_label(egui::accesskit::Role::Button, label).click();
    harness.run();
}

fn large_controls() {
    let mut harness = Window::new(plans::wide()).harness(1280.0, 800.0);
    for label in ["Open all", "▶ Play", "Full screen", "Bench"] {
        click(&mut harness, label);
    }
    let expected = [Action::ToggleAll, Action::PlayPause, Action::FullScreen(true), Action::ShowTo(Audience::Builder)];
    assert_eq!(harness.state().actions, expected);
    // Large: easy to hit.
    for label in ["Open all", "▶ Play", "Full screen"] {
        let size = harness.get_by_role_and_label(egui::accesskit::Role::Button, label).rect().size();
        assert!(size.x >= 100.0 && size.y >= 40.0, "{label}: {size}");
    }
    let open = Window { open: true, ..Window::new(plans::wide()) };
    open.harness(1280.0, 800.0).get_by_label("Close all");
}

fn viewpoints_fly() {
    let mut harness = Window::new(plans::wide()).harness(1280.0, 800.0);
    for viewpoint in Viewpoint::ALL {
        click(&mut harness, viewpoint.word());
    }
    assert_eq!(harness.state().actions, Viewpoint::ALL.map(Action::LookFrom));
}

fn kept_views() {
    let view = EyeView { focus: bevy::math::Vec3::ZERO, yaw: 0.0, pitch: 0.5, radius: 2.0 };
    let mut window = Window::new(plans::wide());
    window.saved = ["View 1", "View 2"].map(|name| SavedView { name: name.to_owned(), view }).to_vec();
    let mut harness = window.harness(1280.0, 800.0);
    for label in ["Keep this view", "View 2", "Forget View 1"] {
        click(&mut harness, label);
    }
    assert_eq!(harness.state().actions, [Action::SaveView, Action::LookAgain(1), Action::ForgetView(0)]);
}

fn owners_ask() {
    let harness = Window::new(plans::with_fillers(80.0)).harness(1280.0, 1200.0);
    harness.get_by_label("Do the drawer lines meet round the corner?");
    harness.get_by_label("Yes: every line runs on from one run to the other.");
    harness.get_by_label("Yes: both look equally wide.");
    harness.get_by_label_contains("litres (");
    harness.get_by_label_contains("large enough for a corner unit");
    // The fillers as the demo has them differ.
    let harness = Window::new(plans::plan()).harness(1280.0, 1200.0);
    harness.get_by_label("No: the right one is about 1.7 times as wide.");
}

/// Everything that is said on screen.
fn said(harness: &Harness<'_, Window>) -> Vec<String> {
    let mut said = Vec::new();
    for node in harness.root().children_recursive() {
        let node = node.accesskit_node();
        said.extend(node.label().into_iter().chain(node.value()));
    }
    said
}

fn no_figures() {
    let harness = Window::new(plans::too_narrow()).harness(1280.0, 1600.0);
    let said = said(&harness);
    assert!(said.len() > 15, "{said:?}");
    for text in &said {
        for word in ["CONFLICT", "mm", "touches", "inding"] {
            assert!(!text.contains(word), "`{word}` in `{text}`");
        }
    }
}

fn nothing_is_cut() {
    for (width, height) in [(1280.0, 800.0), (1920.0, 1080.0), (760.0, 480.0)] {
        for text_scale in Settings::TEXT_SCALES {
            let mut window = Window::new(plans::plan());
            window.settings.text_scale = text_scale;
            let harness = window.harness(width, height);
            let whole = egui::Rect::from_min_size(egui::Pos2::ZERO, egui::vec2(width, height) / text_scale);
            let at = format!("{width} × {height} at {text_scale}");
            let scene = harness.state().scene;
            assert!(scene.width() > whole.width() * 0.5 && scene.height() > whole.height() * 0.4, "{at}: {scene}");
            for label in ["Open all", "▶ Play", "Full screen", "Bench"] {
                let rect = harness.get_by_role_and_label(egui::accesskit::Role::Button, label).rect();
                assert!(whole.contains_rect(rect), "{at}: {label} at {rect}");
                assert!(!scene.shrink(1.0).intersects(rect), "{at}: {label} over the scene");
            }
            // Beside the scene one may have to scroll down, but never sideways.
            let words = Viewpoint::ALL.map(Viewpoint::word).into_iter().chain(["Keep this view"]);
            for label in words {
                let rect = harness.get_by_role_and_label(egui::accesskit::Role::Button, label).rect();
                assert!(rect.left() >= scene.right() && rect.right() <= whole.right(), "{at}: {label} at {rect}");
            }
            for asked in &harness.state().asks {
                for text in asked.answer.iter().map(String::as_str).chain([asked.question]) {
                    let rect = harness.get_by_label(text).rect();
                    assert!(rect.left() >= scene.right() && rect.right() <= whole.right(), "{at}: `{text}` at {rect}");
                }
            }
        }
    }
}

fn keyboard_alone() {
    let mut harness = Window::new(plans::wide()).harness(1280.0, 800.0);
    let mut reached = Vec::new();
    for _ in 0..150 {
        harness.key_press(egui::Key::Tab);
        harness.run();
        let focused = harness.root().children_recursive().find(|node| node.accesskit_node().is_focused());
        reached.extend(focused.and_then(|node| node.accesskit_node().label()));
    }
    for label in ["Open all", "▶ Play", "Full screen", "Bench", "Whole corner", "From above", "Keep this view"] {
        assert!(reached.iter().any(|name| name == label), "{label} is not among {reached:?}");
    }
}

fn ask(app: &mut App, action: Action) {
    app.world_mut().resource_mut::<Asked>().0.push(action);
    (0..3).for_each(|_| app.update());
}

/// Where the eye is or is on its way to: turn, height, distance.
fn aim(app: &mut App) -> [f32; 3] {
    let mut eyes = app.world_mut().query::<&PanOrbitCamera>();
    let eye = eyes.single(app.world()).expect("one eye");
    [eye.target_yaw, eye.target_pitch, eye.target_radius]
}

fn the_eye_flies() {
    let mut app = headless(plans::source(plans::wide()), (1280, 800));
    (0..4).for_each(|_| app.update());
    ask(&mut app, Action::LookFrom(Viewpoint::Above));
    let above = aim(&mut app);
    assert!(above[1] > 1.4, "{above:?}");
    ask(&mut app, Action::SaveView);
    assert_eq!(app.world().resource::<Saved>().views().len(), 1);
    ask(&mut app, Action::LookFrom(Viewpoint::Standing));
    let standing = aim(&mut app);
    assert!((standing[1] - above[1]).abs() > 0.5, "{standing:?}");
    ask(&mut app, Action::LookAgain(0));
    let again = aim(&mut app);
    assert!((0..3).all(|k| (again[k] - above[k]).abs() < 1e-3), "{again:?} is not {above:?}");
    ask(&mut app, Action::ForgetView(0));
    assert!(app.world().resource::<Saved>().views().is_empty());
}

fn no_marks_for_owner() {
    let plan = plans::too_narrow();
    let touching = plans::touching(&plan);
    let mut app = headless(plans::source(plan), (1280, 800));
    ask(&mut app, Action::Toggle(touching));
    (0..80).for_each(|_| app.update());
    assert!(!app.world().resource::<Marks>().0.is_empty());
    ask(&mut app, Action::ShowTo(Audience::Owner));
    assert!(app.world().resource::<Marks>().0.is_empty());
    ask(&mut app, Action::ShowTo(Audience::Builder));
    assert!(!app.world().resource::<Marks>().0.is_empty());
}
