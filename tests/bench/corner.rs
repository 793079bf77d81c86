//! How fast is the answer? `cargo bench --no-default-features`; the figures of one machine are in `DEVELOPERS.md`.
//!
//! Machines are noisy: compare figures of one run with each other, not with another run's.

use divan::{Bencher, black_box};
use elbowroom::clearance;
use elbowroom::clearance::map::{Map, maps};
use elbowroom::command::DEMO;
use elbowroom::length::Length;
use elbowroom::model::{Convex, Fillers, Model, Motion, Mover, MoverId, Vec3};
use elbowroom::plan::form::form;
use elbowroom::plan::write::{Edit, apply};
use elbowroom::plan::{self, Filler, Plan, Side};
use parry3d::math::Pose;
use parry3d::query;
use parry3d::shape::ConvexPolyhedron;

fn main() {
    divan::main();
}

fn demo() -> Plan {
    plan::read("demo", DEMO).expect("the demo is a good plan")
}

/// A plan of `units` three-drawer units, half on each run.
fn synthetic(units: usize) -> String {
    let mut text = String::from(
        "(units: Millimetre, room: (left_wall: 900000, right_wall: 900000), \
         pulls: {\"bar\": Bar(length: 160, projection: 35)}, slides: {\"full 500\": (length: 500)},",
    );
    for side in ["left", "right"] {
        text += &format!("{side}: (ends_at: Open, units: [");
        for _ in 0..units / 2 {
            text += "Drawers(width: 600, fronts: [140, 280, Rest]),";
        }
        text += "]),";
    }
    text + "corner: (left: Least, right: Least))"
}

#[divan::bench]
fn demo_from_text_to_verdict() -> bool {
    let plan = plan::read("demo", black_box(DEMO)).expect("the demo is a good plan");
    clearance::answer(&plan).is_clear()
}

#[divan::bench]
fn demo_read_alone() -> Plan {
    plan::read("demo", black_box(DEMO)).expect("the demo is a good plan")
}

#[divan::bench]
fn demo_model_alone(bencher: Bencher<'_, '_>) {
    let plan = demo();
    let fillers = Fillers { left: Length::mm(62.0), right: Length::mm(68.0) };
    bencher.bench_local(|| Model::build(black_box(&plan), fillers));
}

#[divan::bench]
fn demo_solve_alone(bencher: Bencher<'_, '_>) {
    let mut plan = demo();
    plan.corner = plan.corner.with_filler(Side::Left, Filler::Least);
    let model = clearance::solver_model(&plan);
    bencher.bench_local(|| clearance::solve(black_box(&plan), &model));
}

#[divan::bench]
fn demo_answer_alone(bencher: Bencher<'_, '_>) {
    let plan = demo();
    bencher.bench_local(|| clearance::answer(black_box(&plan)));
}

/// What a hand on a drawer asks for at each move of the mouse: the whole way, everything else shut but the other run's
/// first drawer, which stands half open.
#[divan::bench]
fn demo_a_drawer_by_hand(bencher: Bencher<'_, '_>) {
    by_hand(bencher, |motion| matches!(motion, Motion::Slide { .. }));
}

/// The same for a door.
#[divan::bench]
fn demo_a_door_by_hand(bencher: Bencher<'_, '_>) {
    by_hand(bencher, |motion| matches!(motion, Motion::Swing { .. }));
}

fn by_hand(bencher: Bencher<'_, '_>, which: fn(&Motion) -> bool) {
    let model = clearance::answer(&demo()).model;
    let mover = model.movers.iter().rfind(|mover| which(&mover.motion)).expect("the demo has one");
    let mut outs = vec![0.0; model.movers.len()];
    outs[0] = model.movers[0].motion.extent() / 2.0;
    bencher.bench_local(|| clearance::free_travel(&model, black_box(&outs), mover.id, 0.0, mover.motion.extent()));
}

#[divan::bench(args = [10, 30, 100, 200, 300, 1000])]
fn units_from_text_to_verdict(bencher: Bencher<'_, '_>, units: usize) {
    let text = synthetic(units);
    bencher.bench_local(|| {
        let plan = plan::read("synthetic", black_box(&text)).expect("the synthetic plan is good");
        clearance::answer(&plan).is_clear()
    });
}

/// One width changed, and the plan read anew: what every change in the window costs before the answer.
fn widened(unit: usize) -> Edit {
    let at = format!("left.units[{unit}].width").parse().expect("a good path");
    Edit::Set { at, value: "610".to_owned() }
}

#[divan::bench]
fn demo_one_edit(bencher: Bencher<'_, '_>) {
    let edit = widened(0);
    bencher.bench_local(|| apply("demo", black_box(DEMO), &edit).is_ok());
}

#[divan::bench]
fn demo_form(bencher: Bencher<'_, '_>) {
    let plan = demo();
    bencher.bench_local(|| form(black_box(DEMO), &plan));
}

#[divan::bench(args = [10, 1000])]
fn units_read_alone(bencher: Bencher<'_, '_>, units: usize) {
    let text = synthetic(units);
    bencher.bench_local(|| plan::read("synthetic", black_box(&text)).is_ok());
}

#[divan::bench(args = [10, 1000])]
fn units_one_edit(bencher: Bencher<'_, '_>, units: usize) {
    let (text, edit) = (synthetic(units), widened(units / 2 - 1));
    bencher.bench_local(|| apply("synthetic", black_box(&text), &edit).is_ok());
}

#[divan::bench(args = [10, 1000])]
fn units_form(bencher: Bencher<'_, '_>, units: usize) {
    let text = synthetic(units);
    let plan = plan::read("synthetic", &text).expect("the synthetic plan is good");
    bencher.bench_local(|| form(black_box(&text), &plan));
}

/// Two drawers of the demo that meet in the corner.
fn two_drawers(model: &Model) -> [MoverId; 2] {
    let first = |side: Side| {
        let slides = |mover: &&Mover| mover.side == side && matches!(mover.motion, Motion::Slide { .. });
        model.movers.iter().find(slides).expect("the demo has drawers on both runs").id
    };
    Side::BOTH.map(first)
}

#[divan::bench]
fn map_of_two_drawers(bencher: Bencher<'_, '_>) {
    let model = clearance::answer(&demo()).model;
    let [first, second] = two_drawers(&model);
    bencher.bench_local(|| Map::of(black_box(&model), first, second));
}

/// Every door of the example with a door at the corner, against every drawer that it meets.
#[divan::bench]
fn maps_with_a_door_at_the_corner(bencher: Bencher<'_, '_>) {
    let text = include_str!("../../assets/plans/old-house.ron");
    let model = clearance::answer(&plan::read("old-house", text).expect("a good plan")).model;
    bencher.bench_local(|| maps(black_box(&model)).len());
}

#[divan::bench(args = [10, 50, 200])]
fn every_map(bencher: Bencher<'_, '_>, units: usize) {
    let model = clearance::answer(&plan::read("synthetic", &synthetic(units)).expect("a good plan")).model;
    bencher.bench_local(|| maps(black_box(&model)).len());
}

#[divan::bench]
fn demo_every_pair_of_fillers(bencher: Bencher<'_, '_>) {
    let plan = demo();
    bencher.bench_local(|| clearance::FillerMap::of(black_box(&plan)));
}

/// The map of the two drawers by sampling with the same library, openings 10 mm apart: a hundredth of the work of a map
/// that is good to a millimetre, a millionth of one that is good to 0.01 mm.
#[divan::bench(sample_count = 3, sample_size = 1)]
fn map_of_two_drawers_by_sampling_every_10_mm(bencher: Bencher<'_, '_>) {
    let model = clearance::answer(&demo()).model;
    let movers = two_drawers(&model).map(|id| model.mover(id));
    let hull = |piece: &Convex| ConvexPolyhedron::from_convex_hull(&piece.vertices().collect::<Vec<_>>());
    let pieces = movers.map(|mover| {
        let parts = mover.parts.iter().flat_map(|&id| model.part(id).outside());
        parts.filter_map(hull).collect::<Vec<_>>()
    });
    let at = |k: usize, out: f64| match movers[k].motion {
        Motion::Slide { direction, .. } => Pose::from_translation(direction * out),
        Motion::Swing { .. } => Pose::IDENTITY,
    };
    let steps = |k: usize| (0..).map(|n| f64::from(n) * 10.0).take_while(move |out| *out <= movers[k].motion.extent());
    bencher.bench_local(|| {
        let conflicts = |a: f64, b: f64| {
            let (pose, other) = (at(0, a), at(1, b));
            pieces[0].iter().any(|own| {
                pieces[1].iter().any(|theirs| {
                    query::distance(&pose, own, &other, theirs).is_ok_and(|found| found.distance < model.wanted)
                })
            })
        };
        steps(0).flat_map(|a| steps(1).map(move |b| (a, b))).filter(|&(a, b)| conflicts(a, b)).count()
    });
}

/// The plain way with the same library: frames a millimetre apart, hulls of every piece, bisection on the left filler.
/// One drawer against the other run alone, and so the ratio is kind to it.
#[divan::bench(sample_count = 3, sample_size = 1)]
fn the_plain_way_for_one_drawer(bencher: Bencher<'_, '_>) {
    let plan = demo();
    let model = Model::build(&plan, Fillers { left: Length::ZERO, right: Length::mm(68.0) });
    let hull = |piece: &Convex| ConvexPolyhedron::from_convex_hull(&piece.vertices().collect::<Vec<_>>());
    let mover = &model.movers[0];
    let own: Vec<_> = mover.parts.iter().flat_map(|&id| &model.part(id).pieces).filter_map(hull).collect();
    let other: Vec<_> = model
        .parts
        .iter()
        .filter(|part| part.run == Some(Side::Right) && part.unit == Some(0))
        .flat_map(|part| &part.pieces)
        .filter_map(hull)
        .collect();
    let Motion::Slide { direction, travel } = mover.motion else { return };
    bencher.bench_local(|| {
        let clear = |width: f64| {
            let mut out = 0.0;
            while out <= travel {
                let at = Pose::from_translation(direction * out + Vec3::X * width);
                for a in &own {
                    for b in &other {
                        let gap = query::distance(&at, a, &Pose::IDENTITY, b).map_or(0.0, |found| found.distance);
                        if gap < model.wanted {
                            return false;
                        }
                    }
                }
                out += 1.0;
            }
            true
        };
        let (mut low, mut high) = (0.0, 400.0);
        while high - low > 0.001 {
            let middle = f64::midpoint(low, high);
            if clear(middle) { high = middle } else { low = middle }
        }
        high
    });
}
