//! The report reads as a builder would want it: reviewed by eye, so that a change of wording is seen.

use elbowroom::command::{self, Style};

fn report(name: &str, text: &str) -> String {
    command::check(name, text, Style::Plain).unwrap().text
}

#[test]
fn the_demo_s_report() {
    insta::assert_snapshot!(report("demo", command::DEMO));
}

#[test]
fn the_report_of_a_plan_in_inches() {
    insta::assert_snapshot!(report("print-room.ron", include_str!("../../assets/plans/print-room.ron")));
}
