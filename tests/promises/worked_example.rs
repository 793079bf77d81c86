//! A corner worked by hand, step by step, in inches and in millimetres. Common practice, no source; the sums were
//! checked by a second calculation.
//!
//! Run angle 90°, frameless, overlay, bumpers 0, front 3/4, reveal 1/16, clearance 1/2, travel 21, shop step 1/8.
//! Left unit 30 wide, bar 5-1/2 long, projection 1-3/8. Right unit 18 wide, square knob 1-1/4, projection 1-1/8.

use elbowroom::clearance::{self, Answer};
use elbowroom::cutting::parts;
use elbowroom::length::{Length, Unit};
use elbowroom::model::{Convex, Role, Why};
use elbowroom::plan::{self, Side};

use crate::plans::close;

fn text(unit: Unit, flush: &str) -> String {
    let l = |inches: f64| if unit == Unit::Inch { format!("{inches:?}") } else { format!("{:?}", inches * 25.4) };
    let units = if unit == Unit::Inch { "Inch" } else { "Millimetre" };
    format!(
        r#"(
        name: "worked by hand", units: {units},
        room: (angle: 90, left_wall: {wall}, right_wall: {wall}, ceiling: {ceiling}),
        construction: (
            height: {height}, depth: {depth}, panel: {three_quarters}, back: {quarter}, edge_strip: {quarter}, nailer: {four},
            stretcher: {four}, kick_height: {four}, kick_setback: {three}, kick_cover: {half}, face: Frameless,
            fronts: Overlay, front: {three_quarters}, bumper: 0,
            reveal: (side: {sixteenth}, top: {quarter}, between: {eighth}, bottom: 0), box_stock: {half}, box_bottom: {quarter},
        ),
        pulls: {{
            "bar": Bar(length: {bar}, thickness: {half}, projection: {bar_out}),
            "knob": Knob(across: {knob}, square: true, projection: {knob_out}),
        }},
        slides: {{ "full": (length: {travel}, extension: Full, mount: SideMount, side: {half}, under: {half}, lift_out: {half}, behind: {three_quarters}) }},
        left: (units: [Drawers(width: {left}, fronts: Equal(3), pull: "bar", slide: "full")], ends_at: Open),
        right: (units: [Drawers(width: {right}, fronts: Equal(3), pull: "knob", slide: "full")], ends_at: Open),
        corner: (left: Least, right: Least, flush: {flush}, laps: Left, face: {three_quarters}, block: {block}),
        clearance: (wanted: {half}, shop_step: {eighth}, ajar: 0),
    )"#,
        wall = l(120.0),
        ceiling = l(96.0),
        height = l(34.5),
        depth = l(24.0),
        three_quarters = l(0.75),
        quarter = l(0.25),
        four = l(4.0),
        three = l(3.0),
        half = l(0.5),
        sixteenth = l(0.0625),
        eighth = l(0.125),
        bar = l(5.5),
        bar_out = l(1.375),
        knob = l(1.25),
        knob_out = l(1.125),
        travel = l(21.0),
        left = l(30.0),
        right = l(18.0),
        block = l(1.5),
    )
}

fn answers(flush: &str) -> Vec<Answer> {
    [Unit::Inch, Unit::Millimetre]
        .into_iter()
        .map(|unit| clearance::answer(&plan::read("worked", &text(unit, flush)).unwrap()))
        .collect()
}

#[test]
fn the_fillers_to_the_last_figure() {
    for answer in answers("WithCarcass") {
        // Left: the other run's 3/4 + 1-1/8, + 1/2 − own 1/16 = 2-5/16 (58.7375) → 2-3/8 (60.325).
        // Right: 3/4 + 1-3/8 + 1/2 − 1/16 = 2-9/16 (65.0875) → 2-5/8 (66.675).
        for (side, least, on_step) in [(Side::Left, 58.7375, 60.325), (Side::Right, 65.0875, 66.675)] {
            let side = answer.side(side);
            close(side.least.unwrap().to_mm(), least, 1e-6);
            close(side.least_on_step.unwrap().to_mm(), on_step, 1e-9);
            close(side.present.to_mm(), on_step, 1e-9);
        }
        assert!(answer.is_clear());
        // Gap left at the rounded fillers, both sides: 9/16 (14.2875).
        for opening in &answer.openings {
            close(opening.least_gap.unwrap().gap.to_mm(), 14.2875, 1e-6);
        }
        // Largest projection these fillers take: on the right run 1-3/16 (30.1625), on the left run 1-7/16 (36.5125).
        close(answer.side(Side::Right).largest_projection.unwrap().to_mm(), 30.1625, 1e-6);
        close(answer.side(Side::Left).largest_projection.unwrap().to_mm(), 36.5125, 1e-6);
    }
}

/// The length of a part along its run.
fn along(answer: &Answer, side: Side, role: Role) -> f64 {
    let along = answer.model.run(side).along;
    let part = answer.model.parts.iter().find(|part| part.role == role && part.run == Some(side)).unwrap();
    let extent = part.pieces.iter().flat_map(Convex::vertices).map(|v| v.dot(along));
    let (low, high) = extent.fold((f64::MAX, f64::MIN), |(low, high), s| (low.min(s), high.max(s)));
    high - low
}

#[test]
fn the_filler_faces_and_kick_covers_too() {
    // Faces 3/4 thick, left lapping right. Flush with the carcass: cut 3-1/8 (79.375) and 2-5/8 (66.675). Flush with
    // the fronts: cut 2-3/8 (60.325) and 1-7/8 (47.625).
    for (flush, left, right) in [("WithCarcass", 79.375, 66.675), ("WithFronts", 60.325, 47.625)] {
        for answer in answers(flush) {
            close(along(&answer, Side::Left, Role::FillerFace), left, 1e-6);
            close(along(&answer, Side::Right, Role::FillerFace), right, 1e-6);
            // Kick covers 1/2 thick, face set back 3: left 30 + 2-3/8 + 3, lapping by 1/2: 35-7/8 (911.225); right
            // 18 + 2-5/8 + 3 = 23-5/8 (600.075).
            close(along(&answer, Side::Left, Role::KickCover), 911.225, 1e-6);
            close(along(&answer, Side::Right, Role::KickCover), 600.075, 1e-6);
        }
    }
}

// Both sizes on the list: as fitted, and 1/2 in (12.7) more where they are fitted on site; in millimetres the usual 12.
#[test]
fn the_lists_say_faces_and_covers_as_fitted_and_as_cut() {
    for (unit, left_on) in [(Unit::Inch, 12.7), (Unit::Millimetre, 12.0)] {
        let plan = plan::read("worked", &text(unit, "WithCarcass")).unwrap();
        let list = parts::cut_list(&clearance::answer(&plan).model);
        for (role, at, longer, shorter) in
            [(Role::FillerFace, 1, 79.375, 66.675), (Role::KickCover, 0, 911.225, 600.075)]
        {
            let mut rows: Vec<_> = list.rows().filter(|row| row.role == role).collect();
            rows.sort_by_key(|row| std::cmp::Reverse(row.fitted[at]));
            assert_eq!(rows.len(), 2);
            for (row, fitted) in rows.iter().zip([longer, shorter]) {
                close(row.fitted[at].to_mm(), fitted, 1e-6);
                close(row.cut[at].to_mm(), fitted + left_on, 1e-6);
                assert!(row.is_fitted_on_site());
            }
        }
        // 30 + 2-3/8 + 3 and 1/2 for the lap; 18 + 2-5/8 + 3.
        let sums: Vec<_> = parts::finishing(&list).filter(|row| row.role == Role::KickCover).collect();
        let Why::KickCover { units, filler, setback, lap } = sums[0].whys[0] else { panic!("{:?}", sums[0].whys) };
        for (got, inches) in [(units, 30.0), (filler, 2.375), (setback, 3.0), (lap, 0.5)] {
            close(got, inches * 25.4, 1e-6);
        }
        let Why::KickCover { units, filler, setback, lap } = sums[1].whys[0] else { panic!("{:?}", sums[1].whys) };
        for (got, inches) in [(units, 18.0), (filler, 2.625), (setback, 3.0), (lap, 0.0)] {
            close(got, inches * 25.4, 1e-6);
        }
    }
}

#[test]
fn the_drawers_touch_where_the_sum_says() {
    // With no left filler the left front's edge, 1/16 in, meets the knob's face, which stands 1-7/8 out. The knob, on a
    // unit 18 wide behind a filler of 2-5/8, begins at 2-5/8 + 9 − 5/8 = 11 from the corner line; the left front's face
    // stands 3/4 out and reaches it when pulled out by 10-1/4 (260.35).
    for unit in [Unit::Inch, Unit::Millimetre] {
        let text = text(unit, "WithCarcass");
        let right = if unit == Unit::Inch { "2.625" } else { "66.675" };
        // Left 1 in: narrower than 1-7/8 − 1/16, wider than 3/4 − 1/16.
        let left = if unit == Unit::Inch { "1" } else { "25.4" };
        let text = text.replace("left: Least, right: Least", &format!("left: Fixed({left}), right: Fixed({right})"));
        let answer = clearance::answer(&plan::read("worked", &text).unwrap());
        let opening = &answer.openings[0];
        close(opening.to_touch, 260.35, 1e-6);
        let contact = opening.touches_first.unwrap();
        assert_eq!(answer.model.part(contact.other).role, Role::Pull);
        close(contact.gap.to_mm(), 0.0, 1e-6);
        // And the width that would clear it is told as before, the right filler being as it is.
        close(answer.side(Side::Left).least.map(Length::to_mm).unwrap(), 58.7375, 1e-6);
    }
}
