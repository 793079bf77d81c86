//! Joints move wood from one board to another: what is cut out of one is filled by the next, nothing is in one place twice,
//! and what stands in the room stays the same. Common practice, no source; the sums are closed forms.

use elbowroom::clearance;
use elbowroom::length::Length;
use elbowroom::model::{Convex, Edge, Fillers, Model, Part, Role, Why};
use elbowroom::plan::{self, Plan, Side};
use proptest::prelude::*;

use crate::laws::{config, corners};
use crate::plans::{Corner, Pull, Run, close};
use crate::solids::overlap;

/// The plan of `corner` with this joinery section.
#[track_caller]
pub(crate) fn with_joinery(corner: &Corner, joinery: &str) -> Plan {
    let text = corner.text().replace(" pulls: {", &format!(" joinery: ({joinery}), pulls: {{"));
    match plan::read("joinery.ron", &text) {
        Ok(plan) => plan,
        Err(problems) => panic!("{}\n{text}", problems.lines().join("\n")),
    }
}

fn model(plan: &Plan) -> Model {
    let filler = Length::mm(60.0);
    Model::build(plan, Fillers { left: filler, right: filler })
}

fn joineries() -> impl Strategy<Value = String> {
    let joint = |word: &'static str, most: u32| prop_oneof![1 => Just("Butt".to_owned()), 3 => (2..most).prop_map(move |d| format!("{word}({d})"))];
    let back = prop_oneof![
        Just("Between".to_owned()),
        Just("Applied".to_owned()),
        (2..12_u32).prop_map(|depth| format!("Rabbet({depth})"))
    ];
    let edges = prop::collection::vec(
        prop_oneof![Just("Sides"), Just("Bottom"), Just("Top"), Just("Shelves"), Just("Fronts")],
        0..5,
    );
    (joint("Dado", 12), joint("Rabbet", 8), back, 0..8_u32, edges, any::<bool>()).prop_map(
        |(bottom, corners, back, groove, edges, level)| {
            let grain = if level { "Level" } else { "Upright" };
            let groove = if groove == 1 { 0 } else { groove };
            let play = if groove == 0 { 0 } else { 1 };
            format!(
                "bottom: {bottom}, top: {bottom}, box_corners: {corners}, back: {back}, box_groove: {groove}, \
                 box_play: {play}, strip_edges: [{}], front_grain: {grain}",
                edges.join(", ")
            )
        },
    )
}

/// Parts whose volume is their size less their joints: boards sawn square, none round.
fn is_square(part: &Part) -> bool {
    let round = matches!(part.role, Role::Leg | Role::Pull | Role::Appliance | Role::ApplianceHandle);
    let room =
        matches!(part.role, Role::Wall | Role::EndWall | Role::Baseboard | Role::Casing | Role::Obstacle | Role::Floor);
    let cut_to_walls = matches!(part.role, Role::Countertop | Role::BackingBlock | Role::KickBlock);
    !round && !room && !cut_to_walls && part.work.bevels.is_empty()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..config() })]

    // Length × width × thickness, less every dado, rabbet, groove and notch, is what the part's solid pieces hold.
    #[test]
    fn a_part_is_its_blank_less_its_joints(corner in corners(), joinery in joineries()) {
        let plan = with_joinery(&corner, &joinery);
        for part in model(&plan).parts.iter().filter(|part| is_square(part)) {
            // A groove deeper than the rabbets at its ends runs under them: counted with them, not beside.
            let groove_runs_under = part.role == Role::BoxSide
                && plan.joinery.box_groove > plan.joinery.box_corners.depth()
                && plan.joinery.box_corners.depth() > Length::ZERO;
            if groove_runs_under {
                continue;
            }
            let blank: f64 = part.size.iter().product();
            let joints: f64 = part.work.joints.iter().map(elbowroom::model::Cutting::volume).sum();
            prop_assert!(((blank - joints) / part.volume() - 1.0).abs() < 1e-9,
                "{}: {} less {:?} is not {}\n{joinery}", part.name, blank, part.work.joints, part.volume());
        }
    }

    // Bottom, top and back let into the sides: the wood they gain is the wood that the sides lose.
    #[test]
    fn joints_neither_make_nor_lose_wood(corner in corners(), depth in 2..12_u32) {
        let carcass = |joinery: &str| {
            let plan = with_joinery(&corner, joinery);
            let fixed = |part: &&Part| part.mover.is_none() && part.unit.is_some();
            model(&plan).parts.iter().filter(fixed).map(Part::volume).sum::<f64>()
        };
        let butted = carcass("bottom: Butt, top: Butt, back: Between");
        let joined = carcass(&format!("bottom: Dado({depth}), top: Rabbet({depth}), back: Rabbet({depth})"));
        prop_assert!((joined / butted - 1.0).abs() < 1e-9, "{joined} and {butted}");
    }

    // What the search for fillers looks at is what the model says of its outside.
    #[test]
    fn a_model_with_joints_filled_is_the_outside_of_the_whole_one(corner in corners(), joinery in joineries()) {
        let plan = with_joinery(&corner, &joinery);
        let whole = model(&plan);
        let filled = Model::build_filled(&plan, whole.fillers);
        prop_assert_eq!(whole.parts.len(), filled.parts.len());
        for (a, b) in whole.parts.iter().zip(&filled.parts) {
            prop_assert_eq!(a.outside(), b.pieces.as_slice(), "{}", a.name);
            prop_assert_eq!(&a.work, &b.work);
        }
    }

    // In every unit and every drawer: parts share no more than faces.
    #[test]
    fn joined_boards_are_never_in_one_place(corner in corners(), joinery in joineries()) {
        let model = model(&with_joinery(&corner, &joinery));
        for (k, a) in model.parts.iter().enumerate().filter(|(_, part)| part.unit.is_some()) {
            for b in &model.parts[k + 1..] {
                if b.run != a.run || b.unit != a.unit {
                    continue;
                }
                // A drawer stands shut in its unit, and its slides' play keeps it clear.
                let shared = a.pieces.iter().any(|p| b.pieces.iter().any(|q| overlap(p, q)));
                prop_assert!(!shared, "{} and {} are in one place\n{joinery}\n{}", a.name, b.name, corner.text());
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..config() })]

    // The answer is about what can be touched, and joints are inside.
    #[test]
    fn joints_change_no_answer_about_clearance(corner in corners(), joinery in joineries()) {
        // Fronts with strips around them are more parts, and touch at the same places.
        let plain = clearance::answer(&with_joinery(&corner, "bottom: Butt, back: Between, box_corners: Butt, box_groove: 0"));
        let joined = clearance::answer(&with_joinery(&corner, &joinery));
        prop_assert_eq!(plain.fillers(), joined.fillers(), "{}\n{}", joinery, corner.text());
        for (a, b) in plain.openings.iter().zip(&joined.openings) {
            prop_assert!((a.to_touch - b.to_touch).abs() < 1e-9 && (a.to_wanted - b.to_wanted).abs() < 1e-9, "{}", joinery);
        }
        prop_assert_eq!(plain.is_clear(), joined.is_clear());
    }
}

fn bare(angle: f64) -> Corner {
    let bar = Pull::Bar { length: 160.0, projection: 35.0, upright: false };
    let mut corner = Corner::new(Run::of(600.0, bar), Run::of(450.0, bar));
    corner.angle = angle;
    corner
}

// Units + filler + setback ÷ tan(run angle ÷ 2): 75 of setback make 75 at 90°, 31.07 at 135°, 129.90 at 60°. The one that
// laps is longer by its mate's thickness, here 12, on the slant; mitred covers by 12 ÷ tan(run angle ÷ 2) at their backs.
#[test]
fn kick_covers_are_as_long_as_units_filler_and_setback() {
    for (angle, setback) in [(60.0, 129.903_810_567), (90.0, 75.0), (135.0, 31.066_017_178)] {
        let model = model(&with_joinery(&bare(angle), ""));
        for (side, units) in [(Side::Left, 600.0), (Side::Right, 450.0)] {
            let cover = model.parts.iter().find(|p| p.role == Role::KickCover && p.run == Some(side)).unwrap();
            let Some(Why::KickCover { units: told, filler, setback: term, lap }) = cover.work.why else { panic!() };
            close(told, units, 1e-9);
            close(filler, 60.0, 1e-9);
            close(term, setback, 1e-6);
            let [low, high] = cover.extent(model.run(side).along);
            close(high - low, units + 60.0 + setback + lap, 1e-6);
            let slant = f64::to_radians(angle);
            let laps = match (angle > 90.0, side) {
                (true, _) => 12.0 / (slant / 2.0).tan(),
                (false, Side::Left) => 12.0 / slant.sin(),
                (false, Side::Right) => 0.0,
            };
            // Below a right angle the bevelled end's farther corner lies on its back or its face.
            if angle >= 90.0 {
                close(lap, laps, 1e-6);
            }
            assert!(lap >= -1e-9);
        }
    }
}

// A mitre halves the angle between the faces; a lap off square is sawn to the other run's plane.
#[test]
fn strips_that_meet_off_square_are_bevelled() {
    for (angle, bevel) in [(60.0, 30.0), (80.0, 10.0), (135.0, 22.5), (150.0, 15.0)] {
        let model = model(&with_joinery(&bare(angle), ""));
        let faces = model.parts.iter().filter(|p| matches!(p.role, Role::FillerFace | Role::KickCover));
        for part in faces {
            assert_eq!(part.work.bevels.len(), 1, "{}", part.name);
            assert_eq!(part.work.bevels[0].edge, Edge::Near);
            close(part.work.bevels[0].angle_deg, bevel, 1e-6);
        }
    }
    let square = model(&with_joinery(&bare(90.0), ""));
    assert!(square.parts.iter().all(|part| part.work.bevels.is_empty()));
}

// The stile is as wide as stile and filler face together, in one piece, and stands where they would: 60 − 0 of filler, 38 of
// stile, and 19 where the left one laps.
#[test]
fn a_stile_widened_to_the_corner_is_stile_and_filler_in_one() {
    let mut corner = bare(90.0);
    (corner.frame, corner.inset) = (Some(38.0), true);
    let model = model(&with_joinery(&corner, "corner: Stiles"));
    assert!(model.parts.iter().all(|part| !matches!(part.role, Role::FillerFace | Role::BackingBlock)));
    for (side, wide) in [(Side::Left, 38.0 + 60.0 + 19.0), (Side::Right, 38.0 + 60.0)] {
        let wanted = format!("{} corner stile", side.word());
        let stile = model.parts.iter().find(|part| part.name == wanted).unwrap();
        close(stile.size[1], wide, 1e-9);
        close(stile.size[2], 19.0, 1e-9);
        // Left on for fitting: 12 on the width.
        close(stile.as_cut()[1], wide + 12.0, 1e-9);
        let others =
            model.parts.iter().filter(|p| p.role == Role::FrameStile && p.run == Some(side) && p.unit == Some(0));
        assert_eq!(others.count(), 1, "its own near stile is part of it");
    }
}

// Stiles of 38 before panels of 18: 20 of blocking on each side of each drawer.
#[test]
fn sides_of_face_frame_units_are_blocked_out_to_the_stile() {
    let mut corner = bare(90.0);
    (corner.frame, corner.inset) = (Some(38.0), true);
    let model = model(&with_joinery(&corner, ""));
    let blocks: Vec<_> = model.parts.iter().filter(|part| part.role == Role::Blocking).collect();
    assert_eq!(blocks.len(), 2 * 2 * 3);
    for block in blocks {
        let Some(Why::Blocking { out }) = block.work.why else { panic!() };
        close(out, 20.0, 1e-9);
        let along = model.run(block.run.unwrap()).along;
        let [low, high] = block.extent(along);
        close(high - low, 20.0, 1e-9);
    }
    let without = self::model(&with_joinery(&corner, "blocking: false"));
    assert!(without.parts.iter().all(|part| part.role != Role::Blocking));
}

const SHELVES: &str = r#"(
    units: Millimetre,
    room: (left_wall: 2400, right_wall: 2400, baseboard: (height: 160, thickness: 15, treatment: Left)),
    construction: (kick_height: 100, bumper: 2, front: 19),
    joinery: (shelf_frame: (stile: 40, rail: 32)),
    pulls: { "none": Absent }, slides: { "s": (length: 500) },
    left: (units: [Drawers(width: 600, fronts: Equal(3)), OpenShelves(width: 500, shelves: 2)], ends_at: Wall),
    right: (units: [Drawers(width: 600, fronts: Equal(3)), OpenShelves(width: 500, shelves: 1)], ends_at: Open),
)"#;

// Fronts stand 2 + 19 proud of the carcass, and so deep is the frame; one rail a shelf, one above, and the bottom rail as
// high as the bottom, 18, and a rail, 32, together. At the wall the stile is wider by the baseboard's 15, and notched below
// 160 (it begins at 100).
#[test]
fn a_frame_brings_open_shelves_flush_with_their_neighbours() {
    let model = model(&plan::read("shelves.ron", SHELVES).unwrap());
    for (side, rails, far) in [(Side::Left, 4, 40.0 + 1.5 + 15.0), (Side::Right, 3, 40.0)] {
        let frame: Vec<_> =
            model.parts.iter().filter(|p| p.run == Some(side) && p.name.contains("shelf frame")).collect();
        let front = model.parts.iter().find(|p| p.role == Role::DrawerFront && p.run == Some(side)).unwrap();
        let out = model.run(side).out;
        for part in &frame {
            close(part.extent(out)[1], front.extent(out)[1], 1e-9);
            close(part.extent(out)[1] - part.extent(out)[0], 21.0, 1e-9);
        }
        assert_eq!(frame.iter().filter(|part| part.role == Role::FrameRail).count(), rails);
        let bottom = frame.iter().find(|part| part.name.contains("bottom rail")).unwrap();
        close(bottom.size[1], 18.0 + 32.0, 1e-9);
        let stile = frame.iter().find(|part| part.name.contains("far stile")).unwrap();
        close(stile.size[1], far, 1e-9);
        let notches = &stile.work.joints;
        if side == Side::Left {
            assert_eq!(notches.len(), 1);
            close(notches[0].deep, 15.0, 1e-9);
            close(notches[0].wide, 160.0 - 100.0, 1e-9);
        } else {
            assert!(notches.is_empty());
        }
    }
    assert!(clearance::answer(&plan::read("shelves.ron", SHELVES).unwrap()).is_clear());
}

// A top of 20 with an edge of 50 drops by 30 and would hide the fronts' upper 30; built up by 30 it does not.
#[test]
fn a_dropped_edge_is_lifted_clear_of_the_fronts() {
    let text = |build_up: &str| {
        SHELVES.replace(" pulls:", &format!(" countertop: (thickness: 20, edge: 50, overhang: 30{build_up}), pulls:"))
    };
    let lowest = |model: &Model| {
        let tops = model.parts.iter().filter(|part| part.role == Role::Countertop);
        tops.flat_map(|part| &part.pieces).flat_map(Convex::vertices).map(|v| v.z).fold(f64::MAX, f64::min)
    };
    let lifted = model(&plan::read("top.ron", &text("")).unwrap());
    close(lowest(&lifted), 870.0, 1e-9);
    let strips: Vec<_> = lifted.parts.iter().filter(|part| part.role == Role::BuildUp).collect();
    assert_eq!(strips.len(), 2 * 4);
    for strip in strips {
        close(strip.extent(elbowroom::model::Vec3::Z)[1], 900.0, 1e-9);
    }
    let dropped = model(&plan::read("top.ron", &text(", build_up: 0")).unwrap());
    close(lowest(&dropped), 840.0, 1e-9);
    assert!(dropped.parts.iter().all(|part| part.role != Role::BuildUp));
    // Its edge, 19 thick under 30 of overhang, reaches to 11 before the front plane; the fronts stand out 21.
    assert!(!clearance::answer(&plan::read("top.ron", &text(", build_up: 0")).unwrap()).is_clear());
    assert!(clearance::answer(&plan::read("top.ron", &text("")).unwrap()).is_clear());
}

// Strips added to the panels bring the front plane out; strips taken off leave it.
#[test]
fn strips_are_added_or_taken_off_as_the_plan_says() {
    let side = |joinery: &str| {
        let model = model(&with_joinery(&bare(90.0), joinery));
        let side = model.parts.iter().find(|part| part.role == Role::CarcassSide).unwrap();
        (side.size[1], model.run(Side::Left).depth)
    };
    assert_eq!(side("strips: TakenOff"), (619.0, 620.0));
    assert_eq!(side("strips: Added"), (620.0, 621.0));
}

#[test]
fn joints_that_leave_nothing_are_refused_with_what_would_be_right() {
    let refused = |joinery: &str| {
        let text = bare(90.0).text().replace(" pulls: {", &format!(" joinery: ({joinery}), pulls: {{"));
        plan::read("joinery.ron", &text).unwrap_err().lines().join("\n")
    };
    for (joinery, said) in [
        ("bottom: Dado(13)", "more than two thirds"),
        ("bottom: Dado(0)", "must be more than 0"),
        ("bottom: Mortise(9)", "`Butt`, `Dado`, `Rabbet`"),
        ("box_groove: 6, box_play: 13", "play"),
        ("box_recess: 400", "more than a box is high"),
        ("scribe: -1", "must not be less than 0"),
        ("corner: Stiles", "no stile to widen"),
        ("strip_edges: [Side]", "did you mean `Sides`"),
        ("spare_fronts: 1000", "spare fronts"),
        ("scrib: 3", "did you mean `scribe`"),
    ] {
        let lines = refused(joinery);
        assert!(lines.contains(said), "{joinery}: {lines}");
        assert!(!lines.contains("panicked"));
    }
    // All at once.
    let both = refused("bottom: Dado(13), scribe: -1");
    assert_eq!(both.lines().count(), 2, "{both}");
}
