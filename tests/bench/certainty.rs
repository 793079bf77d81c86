//! How long does it take to be sure? `cargo bench --no-default-features --bench certainty`.
//!
//! Machines are noisy: compare figures of one run with each other, not with another run's.

use divan::{Bencher, black_box};
use elbowroom::certainty::alternatives::alternatives;
use elbowroom::certainty::{Sampling, sure, worst};
use elbowroom::clearance;
use elbowroom::command::DEMO;
use elbowroom::length::Length;
use elbowroom::plan::{self, Plan};
use elbowroom::progress::patient;

/// A door right at the corner decides here.
const SHED: &str = include_str!("../../assets/plans/potting-shed.ron");

/// And a dishwasher's door there.
const WASH_UP: &str = include_str!("../../assets/plans/wash-up.ron");

fn text_of(name: &str) -> &'static str {
    match name {
        "potting shed" => SHED,
        "wash-up" => WASH_UP,
        _ => DEMO,
    }
}

fn main() {
    divan::main();
}

fn read(text: &str) -> Plan {
    plan::read("plan", text).expect("a good plan")
}

#[divan::bench(args = ["demo", "potting shed", "wash-up"], sample_count = 5)]
fn worst_case(bencher: Bencher<'_, '_>, name: &str) {
    let plan = read(text_of(name));
    let answer = clearance::answer(&plan);
    bencher.bench_local(|| worst(black_box(&plan), &answer));
}

#[divan::bench(args = ["demo", "potting shed", "wash-up"], sample_count = 3)]
fn every_alternative(bencher: Bencher<'_, '_>, name: &str) {
    let text = text_of(name);
    let plan = read(text);
    bencher.bench_local(|| alternatives("plan", black_box(text), &plan, &patient).expect("nobody cancels"));
}

#[divan::bench(args = [1, 2], sample_count = 1, sample_size = 1)]
fn a_hundred_thousand_samples_of_the_demo(bencher: Bencher<'_, '_>, threads: usize) {
    samples(bencher, DEMO, 100_000, threads);
}

#[divan::bench(sample_count = 1, sample_size = 1)]
fn ten_thousand_samples_with_a_door_at_the_corner(bencher: Bencher<'_, '_>) {
    samples(bencher, SHED, 10_000, 2);
}

fn samples(bencher: Bencher<'_, '_>, text: &str, samples: usize, threads: usize) {
    let plan = read(text);
    let answer = clearance::answer(&plan);
    let sampling = Sampling { samples, seed: 1, threads };
    bencher.bench_local(|| sure(black_box(&plan), &answer, sampling, &patient).expect("nobody cancels"));
}

/// The plain way: the plan itself is off, and everything is found anew. A hundred samples, and only of what a plan can say:
/// the ratio is kind to it.
#[divan::bench(sample_count = 1, sample_size = 1)]
fn the_plain_way_a_hundred_samples_of_the_demo(bencher: Bencher<'_, '_>) {
    let plan = read(DEMO);
    bencher.bench_local(|| {
        let mut widest = Length::ZERO;
        for k in 0..100_u32 {
            let off = Length::mm(f64::from(k * 37 % 100) / 100.0 - 0.5);
            let mut other = plan.clone();
            for pull in &mut other.pulls {
                pull.projection += off;
            }
            for unit in other.left.units.iter_mut().chain(&mut other.right.units) {
                unit.width += off;
            }
            let answer = clearance::answer(&other);
            widest = widest.max(answer.sides[0].least.unwrap_or_default());
        }
        widest
    });
}
