//! At 90° the least filler has a closed form. Common practice, no source: the sums a cabinetmaker does on a board.
//!
//! Each to 0.001 mm, in millimetres and in the inch twin of the same plan.

use crate::plans::{Corner, Pull, Run, close};

const BAR: Pull = Pull::Bar { length: 160.0, projection: 35.0, upright: false };
const KNOB: Pull = Pull::Knob { across: 32.0, projection: 28.0, square: false };
const SQUARE_KNOB: Pull = Pull::Knob { across: 32.0, projection: 28.0, square: true };
const EDGE: Pull = Pull::Edge { projection: 20.0 };
const SLACK: f64 = 0.001;

/// Both units, both ways round.
#[track_caller]
fn needs(corner: &Corner, left: f64, right: f64) {
    for corner in [corner.clone(), corner.twin()] {
        let [got_left, got_right] = corner.least();
        close(got_left, left, SLACK);
        close(got_right, right, SLACK);
        let [got_right, got_left] = corner.mirrored().least();
        close(got_left, left, SLACK);
        close(got_right, right, SLACK);
    }
}

/// The other run's bumper + front + projection, + clearance wanted, − own reveal.
fn past(projection: f64) -> f64 {
    2.0 + 19.0 + projection + 12.0 - 1.5
}

#[test]
fn overlay_with_the_other_pull_in_reach() {
    needs(&Corner::new(Run::of(600.0, BAR), Run::of(600.0, KNOB)), past(28.0), past(35.0));
    needs(&Corner::new(Run::of(600.0, SQUARE_KNOB), Run::of(600.0, EDGE)), past(20.0), past(28.0));
    let upright = Pull::Bar { length: 128.0, projection: 40.0, upright: true };
    needs(&Corner::new(Run::of(600.0, upright), Run::of(450.0, BAR)), past(35.0), past(40.0));
}

#[test]
fn no_pull_at_all() {
    needs(&Corner::new(Run::of(600.0, Pull::None), Run::of(600.0, Pull::None)), past(0.0), past(0.0));
}

// The left run's bar is centred on a 1,200 front: it begins at filler + 600 − 80 = 520 + filler, beyond the strip of
// 19 + 2 + 400 that the right run's drawers sweep.
#[test]
fn a_pull_out_of_reach_does_not_count() {
    let mut right = Run::of(600.0, KNOB);
    right.travel = 400.0;
    needs(&Corner::new(Run::of(1200.0, BAR), right), past(28.0), past(0.0));
}

// Lips along the upper edges of the right fronts: the left top drawer faces both, the left bottom drawer none. Its front
// ends `above` under the lower one, and keeps the front's distance alone, or √(dx² + dz²) from the lip, the smaller.
#[test]
fn a_pull_at_another_height_is_met_across_the_corner_of_its_edge() {
    for above in [4.0, 9.0, 40.0] {
        let mut left = Run::of(600.0, Pull::None);
        // Upper edge at 867; top front 300 high, so the bottom one ends at 564.
        left.units[0].1 = vec![300.0];
        let mut right = Run::of(600.0, EDGE);
        // The right bottom front ends where its lip, 3 thick, begins `above` over 564.
        right.units[0].1 = vec![867.0 - 3.0 - (564.0 + above + 3.0)];
        let mut corner = Corner::new(left, right);
        (corner.left.filler, corner.right.filler) = (Some(60.0), Some(60.0));
        for corner in [corner.clone(), corner.twin()] {
            let answer = corner.answer();
            let gap = |k: usize| answer.openings[k].least_gap.unwrap().gap.to_mm();
            let to_front = 60.0 + 1.5 - 21.0;
            close(gap(0), to_front - 20.0, SLACK);
            close(gap(1), to_front.min((to_front - 20.0).hypot(above)), SLACK);
        }
    }
}

// The left bar begins `beyond` past the right drawers' strip: the pull's corner is met at distance c, so c becomes
// √(c² − g²).
#[test]
fn just_out_of_reach_there_is_a_shoulder() {
    for beyond in [1.0, 5.0, 11.0] {
        let left_filler = 50.0;
        let mut left = Run::of(600.0, BAR);
        left.filler = Some(left_filler);
        let mut right = Run::of(600.0, KNOB);
        // The bar begins at left filler + 300 − 80 from the corner line; the strip ends at 2 + 19 + projection of the
        // right knob + travel; but the knob, in the middle of its front, does not pass the bar: the front does.
        right.travel = left_filler + 300.0 - 80.0 - beyond - 21.0;
        let corner = Corner::new(left, right);
        let shoulder = 2.0 + 19.0 + 35.0 + (144.0 - beyond * beyond).sqrt() - 1.5;
        for corner in [corner.clone(), corner.twin()] {
            close(corner.least()[1], shoulder, SLACK);
        }
    }
}

// Inset: the front starts at stile + gap from the filler; the other run's fronts lie in their front plane.
#[test]
fn inset_with_and_without_a_frame() {
    for (frame, edge) in [(Some(38.0), 38.0), (None, 18.0)] {
        let mut corner = Corner::new(
            Run::of(600.0, BAR),
            Run::of(600.0, Pull::Bar { length: 128.0, projection: 60.0, upright: false }),
        );
        corner.inset = true;
        corner.frame = frame;
        let need = |projection: f64| (projection + 12.0 - (edge + 2.5)).max(0.0);
        needs(&corner, need(60.0), need(35.0));
    }
    // Never below nothing: 38 + 2.5 is more than 12 + 20.
    let mut corner = Corner::new(Run::of(600.0, EDGE), Run::of(600.0, EDGE));
    corner.inset = true;
    corner.frame = Some(38.0);
    needs(&corner, 0.0, 0.0);
    let answer = corner.answer();
    assert!(answer.sides.iter().all(|side| side.decided_by.is_none()), "none needed, so nothing decides");
}

// Published check values, inches: stile 1-1/2, gap 3/32, projection 1-3/8, clearance 1/2 give 9/32.
#[test]
fn inset_in_inches() {
    let inch = 25.4;
    let bar = Pull::Bar { length: 5.5 * inch, projection: 1.375 * inch, upright: false };
    let mut corner = Corner::new(Run::of(30.0 * inch, bar), Run::of(24.0 * inch, bar));
    (corner.inset, corner.frame, corner.gap, corner.wanted) = (true, Some(1.5 * inch), 3.0 / 32.0 * inch, 0.5 * inch);
    needs(&corner, 9.0 / 32.0 * inch, 9.0 / 32.0 * inch);
}

#[test]
fn a_front_ajar_adds_as_much() {
    for ajar in [1.0, 3.0, 6.5] {
        let mut corner = Corner::new(Run::of(600.0, BAR), Run::of(600.0, KNOB));
        corner.ajar = ajar;
        needs(&corner, past(28.0) + ajar, past(35.0) + ajar);
    }
}

#[test]
fn touching_is_clear_when_no_clearance_is_wanted() {
    let mut corner = Corner::new(Run::of(600.0, BAR), Run::of(600.0, KNOB));
    corner.wanted = 0.0;
    needs(&corner, past(28.0) - 12.0, past(35.0) - 12.0);
}

// Real 600 mm fronts with 160 mm pulls, the opposite filler 66, front 19, projection 35, clearance 12, travel 533: by
// plan-view bisection on polygon distance, computed apart from this program (see DEVELOPERS.md, check values).
#[test]
fn near_square_real_fronts_agree_with_the_plan_view() {
    for (angle, least) in [(88.0, 81.53), (91.0, 61.00), (95.0, 40.87)] {
        let mut left = Run::of(600.0, BAR);
        left.travel = 533.0;
        let mut right = left.clone();
        right.filler = Some(66.0);
        let mut corner = Corner::new(left, right);
        (corner.angle, corner.reveal, corner.bumper) = (angle, 0.0, 0.0);
        close(corner.least()[0], least, 0.006);
    }
}

// What the fillers take: present filler − clearance + reveal − front − bumper.
#[test]
fn the_answer_turned_round_is_the_largest_projection() {
    let mut corner = Corner::new(Run::of(600.0, BAR), Run::of(600.0, KNOB));
    (corner.left.filler, corner.right.filler) = (Some(70.0), Some(64.0));
    for corner in [corner.clone(), corner.twin()] {
        let sides = corner.answer().sides;
        let largest = |k: usize| sides[k].largest_projection.map(elbowroom::length::Length::to_mm).unwrap();
        close(largest(1), 70.0 - 12.0 + 1.5 - 21.0, SLACK);
        close(largest(0), 64.0 - 12.0 + 1.5 - 21.0, SLACK);
    }
}
