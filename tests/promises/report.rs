//! The report reads as a builder would want it: reviewed by eye, so that a change of wording is seen.

use elbowroom::command::{self, ListStyle, Style};

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

#[test]
fn the_parts_of_a_plan_in_inches() {
    let text = include_str!("../../assets/plans/potting-shed.ron");
    insta::assert_snapshot!(
        command::parts("potting-shed.ron", text, None, ListStyle::Lines(Style::Plain)).unwrap().text
    );
}

#[test]
fn the_rips_of_a_plan_with_a_face_frame() {
    let text = include_str!("../../assets/plans/tack-room.ron");
    insta::assert_snapshot!(command::rips("tack-room.ron", text, ListStyle::Lines(Style::Plain)).unwrap().text);
}

// At 135° faces and covers are mitred, so the blade is tilted by half of 45°.
#[test]
fn the_rips_of_a_corner_off_square() {
    let text = include_str!("../../assets/plans/bay-seat.ron");
    insta::assert_snapshot!(command::rips("bay-seat.ron", text, ListStyle::Lines(Style::Plain)).unwrap().text);
}
