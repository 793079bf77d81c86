//! What the README shows can be done as it stands.

use elbowroom::{clearance, plan};

const README: &str = include_str!("../../README.md");

#[test]
fn the_plan_in_the_readme_is_a_good_one_and_clear() {
    let text = README.split("```ron\n").nth(1).unwrap().split("```").next().unwrap();
    let plan = plan::read("README.md", text).unwrap();
    assert!(clearance::answer(&plan).is_clear());
}

#[test]
fn the_readme_gives_two_commands_and_opens_with_the_job() {
    let first = README.split("\n\n").nth(1).unwrap();
    assert!(first.contains("least corner filler"), "{first}");
    assert!(README.contains("cargo run ") && README.contains("cargo test "));
}
