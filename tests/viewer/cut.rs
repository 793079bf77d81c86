//! What the lists of what is cut say and do, found by what a person reads; and that list and scene point at the same parts.

use bevy::ecs::system::RunSystemOnce as _;
use bevy::prelude::*;
use bevy_egui::egui;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use egui_kittest::{Harness, Node};
use elbowroom::clearance;
use elbowroom::cutting::parts::{Row, cut_list};
use elbowroom::cutting::{LaidOut, lay_out};
use elbowroom::length::Length;
use elbowroom::model::{Model, PartId, Role};
use elbowroom::plan::{Plan, Side};
use elbowroom::progress::{Effort, patient};
use elbowroom::report::cutting::{self, Bench};
use elbowroom::viewer::action::Action;
use elbowroom::viewer::camera::{self, SceneCamera};
use elbowroom::viewer::frame;
use elbowroom::viewer::layouts::Layouts;
use elbowroom::viewer::panel::{CutView, View, panel_ui};
use elbowroom::viewer::pointed::{Aim, CutLists, Pointed};
use elbowroom::viewer::scene::{Body, Home};
use elbowroom::viewer::settings::{Section, Settings};

use crate::hands::{app, ask, click, on_screen, out, shown, updates};
use crate::plans;

pub(crate) const TESTS: &[(&str, fn())] = &[
    ("cut: every row of the cut list is there once, with its size", every_row_is_there),
    ("cut: the cautions for saw and dust stand below the lists", the_cautions_stand_below),
    ("cut: a click on a row asks for its parts", a_row_is_picked),
    ("cut: a part picked in the scene is told and its row says more", a_part_is_told),
    ("cut: a part that is not cut is told as bought whole", what_is_bought_is_told),
    ("cut: a row picked marks its parts and brings them into the picture", a_row_marks_its_parts),
    ("cut: with the lists open a click on a part picks it and opens nothing", a_click_picks),
    ("cut: what is picked stays picked when the plan changes", what_is_picked_stays),
    ("cut: every piece of the demand is drawn once, and a click on it shows its part", every_piece_is_drawn),
    ("cut: a search for layouts can be stopped", a_search_can_be_stopped),
    ("cut: layouts are worked out beside the window, and dropped when the plan changes", layouts_come_and_go),
    ("cut: the lists are worked out only while they are on screen", only_while_on_screen),
];

struct Desk {
    plan: Plan,
    answer: clearance::Answer,
    bench: Bench,
    pointed: Pointed,
    laid: Option<LaidOut>,
    laying: Option<f32>,
    actions: Vec<Action>,
}

impl Desk {
    fn new() -> Self {
        let plan = plans::wide();
        let answer = clearance::answer(&plan);
        let bench = Bench::new(&answer.model, &plan);
        Self { plan, answer, bench, pointed: Pointed::default(), laid: None, laying: None, actions: Vec::new() }
    }

    fn pointing(aim: impl FnOnce(&Model) -> Aim) -> Self {
        let mut desk = Self::new();
        let aim = aim(&desk.answer.model);
        desk.pointed.point(&desk.answer.model, &desk.bench, aim);
        desk
    }

    fn harness(self) -> Harness<'static, Self> {
        let settings = Settings { section: Section::Cut, ..Settings::default() };
        let mut harness = Harness::builder().with_size(egui::vec2(400.0, 30_000.0)).build_ui_state(
            move |root, desk: &mut Self| {
                let cut = Some(CutView { bench: &desk.bench, pointed: &desk.pointed });
                let (laid, laying) = (desk.laid.as_ref(), desk.laying);
                let view = View { cut, laid, laying, ..View::at_rest(&desk.plan, &desk.answer, &settings) };
                panel_ui(root, &view, &mut desk.actions);
            },
            self,
        );
        harness.run();
        harness
    }
}

/// What a row's button begins with.
fn head(row: &Row, plan: &Plan) -> String {
    let [length, width, thickness] = row.cut.map(|size| size.show_bare(plan.unit));
    let (number, quantity, role) = (row.number, row.quantity(), row.role.word());
    format!("{number}    {quantity} × {role}    {length} × {width} × {thickness}\n")
}

/// The one button that begins with `head`.
fn button<'h>(harness: &'h Harness<'_, Desk>, head: &'h str) -> Node<'h> {
    let begins = |node: &Node<'_>| node.accesskit_node().label().is_some_and(|label| label.starts_with(head));
    let mut found = harness.query_all_by_label_contains(head).filter(begins);
    let button = found.next().expect("a button begins so");
    assert!(found.next().is_none(), "{head} is there twice");
    button
}

/// The first of the parts with this role.
fn first(model: &Model, role: Role) -> PartId {
    model.parts.iter().find(|part| part.role == role).expect("there is one").id
}

fn every_row_is_there() {
    let desk = Desk::new();
    // The list of the core, made anew: what is on screen is what is cut.
    let list = cut_list(&desk.answer.model);
    let heads: Vec<String> = list.rows().map(|row| head(row, &desk.plan)).collect();
    assert!(heads.len() > 20, "the example has many rows");
    let harness = desk.harness();
    for head in heads {
        button(&harness, &head);
    }
}

fn the_cautions_stand_below() {
    let harness = Desk::new().harness();
    for caution in cutting::bench_cautions().iter().copied().chain([cutting::layout_caution()]) {
        harness.get_by_label(caution);
    }
}

fn a_row_is_picked() {
    let desk = Desk::new();
    let row = desk.bench.list.rows().nth(3).expect("a fourth row");
    let (number, head) = (row.number, head(row, &desk.plan));
    let mut harness = desk.harness();
    button(&harness, &head).click();
    harness.run();
    assert_eq!(harness.state().actions, [Action::Point(Aim::Row(number))]);
}

fn a_part_is_told() {
    let desk = Desk::pointing(|model| Aim::Part(first(model, Role::CarcassBottom)));
    let part = desk.answer.model.part(first(&desk.answer.model, Role::CarcassBottom));
    let row = desk.bench.list.rows().find(|row| row.parts.contains(&part.id)).expect("a bottom is cut");
    let told = format!("Picked: {} – no. {} of the cut list", part.name, row.number);
    let says_more = format!("for {}", cutting::places(row, &desk.answer.model));
    let head = head(row, &desk.plan);
    let mut harness = desk.harness();
    harness.get_by_label(&told);
    let label = button(&harness, &head).accesskit_node().label().unwrap_or_default();
    assert!(label.ends_with(&says_more), "{label} does not say where the parts go");
    harness.get_by_label("Pick nothing").click();
    harness.run();
    assert_eq!(harness.state().actions, [Action::Point(Aim::Nothing)]);
}

fn what_is_bought_is_told() {
    let desk = Desk::pointing(|model| Aim::Part(first(model, Role::Pull)));
    assert!(desk.pointed.row.is_none() && !desk.pointed.is_empty());
    desk.harness().get_by_label_contains("not cut: bought whole");
    // A wall is no part to be found in a list.
    assert!(Desk::pointing(|model| Aim::Part(first(model, Role::Wall))).pointed.is_empty());
}

/// The window with the lists open.
fn opened() -> App {
    let mut app = app(plans::wide());
    ask(&mut app, Action::Turn(Section::Cut));
    updates(&mut app, 2);
    app
}

fn pointed(app: &App) -> &Pointed {
    app.world().resource::<Pointed>()
}

/// How far outside of the picture the farthest corner of what is picked lies, in shares of the picture; 0 where all is
/// inside.
fn outside(app: &mut App) -> f32 {
    app.world_mut()
        .run_system_once(
            |shown: Res<'_, elbowroom::viewer::shown::Shown>,
             pointed: Res<'_, Pointed>,
             bodies: Query<'_, '_, (&Body, &Home, &GlobalTransform)>,
             eyes: Query<'_, '_, (&Camera, &GlobalTransform), With<SceneCamera>>| {
                let (eye, place) = eyes.single().expect("one eye");
                let mut far = 0.0_f32;
                for (body, home, at) in bodies.iter().filter(|(body, ..)| pointed.has(body.part)) {
                    let part = shown.model().part(body.part);
                    for point in part.pieces.iter().flat_map(elbowroom::model::Convex::vertices) {
                        let point = at.transform_point(frame::to_bevy(point) - home.0);
                        let seen = eye.world_to_ndc(place, point).expect("a place in the picture");
                        far = far.max(seen.x.abs() - 1.0).max(seen.y.abs() - 1.0);
                    }
                }
                far
            },
        )
        .expect("it runs")
}

fn a_row_marks_its_parts() {
    let mut app = opened();
    // Look away first, so that the flight has something to do.
    let away = camera::View { focus: Vec3::new(-3.0, 0.5, 3.0), yaw: 0.6, pitch: 0.4, radius: 0.8 };
    let lists = app.world().resource::<CutLists>().0.as_ref().expect("the lists are open");
    let row = lists.list.rows().find(|row| row.role == Role::CarcassBottom).expect("a bottom is cut").clone();
    let mut flight = app.world_mut().resource_mut::<camera::Flight>();
    *flight = camera::Flight::ToView(away);
    updates(&mut app, 120);
    ask(&mut app, Action::Point(Aim::Row(row.number)));
    assert_eq!(pointed(&app).row, Some(row.number));
    assert!(pointed(&app).parts.iter().eq(&row.parts.iter().copied().collect::<std::collections::BTreeSet<_>>()));
    assert!(outside(&mut app) > 0.0, "it was out of the picture");
    updates(&mut app, 240);
    assert!(outside(&mut app) <= 0.0, "and now is in it: {}", outside(&mut app));
    // Esc drops it.
    ask(&mut app, Action::Leave);
    assert!(pointed(&app).is_empty());
}

fn a_click_picks() {
    let mut app = opened();
    let mover = crate::hands::easy(&app);
    let at = on_screen(&mut app, mover);
    click(&mut app, at, at);
    updates(&mut app, 60);
    assert!(out(&app, mover).abs() < 1e-9, "it stays shut");
    let part = pointed(&app).part.expect("the front is picked");
    let model = shown(&app).model();
    assert_eq!(model.part(part).role, Role::DrawerFront);
    assert_eq!(model.part(part).mover, Some(mover));
    let row = pointed(&app).row.expect("a front is cut");
    let lists = app.world().resource::<CutLists>().0.as_ref().expect("the lists are open");
    assert!(lists.list.rows().any(|found| found.number == row && found.parts.contains(&part)));
    // With another section open, the same click opens it, and nothing is picked any more.
    ask(&mut app, Action::Turn(Section::Corner));
    app.update();
    assert!(pointed(&app).is_empty());
    click(&mut app, at, at);
    updates(&mut app, 60);
    assert!(out(&app, mover) > 1.0);
}

fn what_is_picked_stays() {
    let mut app = opened();
    let part = first(shown(&app).model(), Role::Countertop);
    ask(&mut app, Action::Point(Aim::Part(part)));
    let name = shown(&app).model().part(part).name.clone();
    app.update();
    ask(&mut app, Action::SetFiller(Side::Left, Length::mm(160.0)));
    app.update();
    let now = pointed(&app).part.expect("it is still picked");
    assert_eq!(shown(&app).model().part(now).name, name);
    let (model, plan) = (shown(&app).model(), shown(&app).plan());
    let lists = app.world().resource::<CutLists>().0.as_ref().expect("the lists are open");
    assert_eq!(lists.list, Bench::new(model, plan).list, "the lists are those of the plan as it is now");
}

fn only_while_on_screen() {
    let mut app = app(plans::wide());
    assert!(app.world().resource::<CutLists>().0.is_none());
    ask(&mut app, Action::Turn(Section::Cut));
    assert!(app.world().resource::<CutLists>().0.is_some());
    ask(&mut app, Action::Turn(Section::View));
    assert!(app.world().resource::<CutLists>().0.is_none());
}

/// The layouts of a desk's plan.
fn laid(bench: &Bench, plan: &Plan) -> LaidOut {
    lay_out(&bench.demand, &plan.stock, &Effort::for_demand(&bench.demand), &patient).expect("nobody stops it")
}

fn every_piece_is_drawn() {
    let mut desk = Desk::new();
    let found = laid(&desk.bench, &desk.plan);
    desk.laid = Some(found.clone());
    let pieces: Vec<_> = desk.bench.demand.groups.iter().flat_map(|group| group.pieces.clone()).collect();
    let left: usize = found.materials.iter().map(|material| material.left.len()).sum();
    assert!(pieces.len() > 60, "the example has many pieces");
    let mut harness = desk.harness();
    harness.get_by_label("Layouts").click();
    harness.run();
    let is_piece = |node: &Node<'_>| {
        let node = node.accesskit_node();
        node.role() == egui::accesskit::Role::Button && node.label().is_some_and(|label| label.starts_with("no. "))
    };
    let drawn = harness.query_all_by_label_contains("no. ").filter(is_piece).count();
    assert_eq!(drawn + left, pieces.len());
    for piece in &pieces {
        // A spare is told beside the piece that it stands in for.
        let own = format!("no. {},", piece.label);
        let like = pieces.iter().filter(|other| (other.row, &other.label) == (piece.row, &piece.label)).count();
        let there = harness.query_all_by_label_contains(&own).filter(is_piece).count();
        assert!(there <= like && (there == like || left > 0), "{own} is drawn {there} times and not {like}");
    }
    let piece = pieces.iter().find(|piece| !piece.spare).expect("not all are spares");
    let own = format!("no. {},", piece.label);
    harness.query_all_by_label_contains(&own).find(is_piece).expect("it is drawn").click();
    harness.run();
    assert_eq!(harness.state().actions, [Action::Point(Aim::Show(piece.part))]);
}

fn a_search_can_be_stopped() {
    let mut harness = Desk { laying: Some(0.4), ..Desk::new() }.harness();
    harness.get_by_label("Layouts").click();
    harness.run();
    harness.get_by_label("Stop laying out").click();
    harness.run();
    assert_eq!(harness.state().actions, [Action::LayOut(false)]);
    let mut app = opened();
    ask(&mut app, Action::LayOut(true));
    assert!(app.world().resource::<Layouts>().share_done().is_some());
    ask(&mut app, Action::LayOut(false));
    updates(&mut app, 20);
    let layouts = app.world().resource::<Layouts>();
    assert!(layouts.share_done().is_none() && layouts.laid().is_none());
}

fn layouts_come_and_go() {
    let mut app = opened();
    ask(&mut app, Action::LayOut(true));
    let begun = std::time::Instant::now();
    while app.world().resource::<Layouts>().share_done().is_some() {
        assert!(begun.elapsed().as_secs() < 60, "it takes too long");
        std::thread::sleep(std::time::Duration::from_millis(5));
        app.update();
    }
    let (model, plan) = (shown(&app).model().clone(), shown(&app).plan().clone());
    let found = app.world().resource::<Layouts>().laid().cloned().expect("it was found");
    assert_eq!(found, laid(&Bench::new(&model, &plan), &plan), "it is what the command line finds");
    // Looking elsewhere and back loses nothing; another plan's layouts are others.
    ask(&mut app, Action::Turn(Section::Corner));
    ask(&mut app, Action::Turn(Section::Cut));
    assert!(app.world().resource::<Layouts>().laid().is_some());
    ask(&mut app, Action::LayOut(true));
    ask(&mut app, Action::SetFiller(Side::Left, Length::mm(160.0)));
    updates(&mut app, 200);
    let layouts = app.world().resource::<Layouts>();
    assert!(layouts.share_done().is_none() && layouts.laid().is_none());
}
