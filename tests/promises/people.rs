//! Room for people is told as a tape would find it, and judged by the figures of the named clauses: at each limit, just
//! inside and just outside.
//!
//! Figures: 2010 ADA Standards for Accessible Design (US Department of Justice), 305.3, 306.2.1, 306.2.3, 308.2.1, 308.3.1
//! and 804.3.2 as read; 403.5.1 and 804.5 from memory.

use elbowroom::clearance;
use elbowroom::length::Length;
use elbowroom::model::{Model, Part, Role, Vec3};
use elbowroom::people::{Clause, Kick, People, Standing, storage_share, toe_height};
use elbowroom::plan::{self, Side};
use elbowroom::report::{people_json, people_text};

use crate::plans::{EXAMPLES, close};

const INCH: f64 = 25.4;

/// A corner of two drawer units 600 wide, fillers 100, 500 drawn out, and an island whose near face stands `out` from the
/// left wall; `more` goes into the construction, `pull` is the bar.
fn corner(out: f64, pull: &str, more: &str) -> (People, Model) {
    let text = format!(
        "(units: Millimetre, room: (left_wall: 4000, right_wall: 4000, obstacles: [
            (name: \"island\", wall: Left, along: 700, out: {out:?}, width: 900, depth: 600, height: 900),
        ]), construction: (height: 850, {more}), pulls: {{ \"bar\": {pull} }}, slides: {{ \"500\": (length: 500) }},
        left: (units: [Drawers(name: \"jars\", width: 600, fronts: Equal(3))], ends_at: Open),
        right: (units: [OpenShelves(width: 600, shelves: 1)], ends_at: Open),
        countertop: (thickness: 30),
        corner: (left: Fixed(100), right: Fixed(100)))"
    );
    let plan = plan::read("people.ron", &text).unwrap_or_else(|problems| panic!("{}", problems.lines().join("\n")));
    let model = clearance::answer(&plan).model;
    (People::of(&plan, &model), model)
}

const BAR: &str = "Bar(length: 160, projection: 35)";

fn first(people: &People) -> Standing {
    people.standing[0]
}

#[test]
fn each_clause_holds_at_its_limit_and_just_inside_and_not_just_outside() {
    let least = [
        (Clause::ClearFloor, 48.0),
        (Clause::Walking, 36.0),
        (Clause::Reach, 15.0),
        (Clause::Storage, 15.0),
        (Clause::Toe, 17.0),
    ];
    for (clause, inches) in least {
        close(clause.least().unwrap().to_mm(), inches * INCH, 1e-9);
        for (mm, met) in [(inches * INCH, true), (inches * INCH + 0.01, true), (inches * INCH - 0.01, false)] {
            assert_eq!(clause.is_met(mm), met, "{clause:?} at {mm}");
        }
    }
    for (clause, inches) in [(Clause::Reach, 48.0), (Clause::Storage, 48.0), (Clause::Worktop, 34.0)] {
        close(clause.most().unwrap().to_mm(), inches * INCH, 1e-9);
        for (mm, met) in [(inches * INCH, true), (inches * INCH - 0.01, true), (inches * INCH + 0.01, false)] {
            assert_eq!(clause.is_met(mm), met, "{clause:?} at {mm}");
        }
    }
    assert_eq!(toe_height(), Length::inches(9.0));
    close(storage_share(), 0.5, 0.0);
}

// By hand: an overlay front 19 thick on a bumper of 2 and a pull that stands out by 35 lie 56 before the front plane, drawn
// out by 500: 556 before it. The depth is the construction's; the island stands `out` from the wall.
#[test]
fn the_floor_before_an_open_drawer_is_what_a_tape_finds() {
    let (people, model) = corner(2400.0, BAR, "depth: 560, front: 19, bumper: 2");
    let run = model.run(Side::Left);
    let standing = first(&people);
    close(standing.stands_out, 500.0 + 2.0 + 19.0 + 35.0, 1e-9);
    close(standing.room.unwrap(), 2400.0 - run.depth - standing.stands_out, 1e-9);
    assert_eq!(model.part(standing.opposite.unwrap()).name, "island");
}

#[test]
fn a_clear_floor_space_and_a_way_past_end_at_their_figures() {
    let reaches = {
        let (people, model) = corner(3000.0, BAR, "");
        model.run(Side::Left).depth + first(&people).stands_out
    };
    for (inches, more, floor, past) in [
        (48.0, 0.0, true, true),
        (48.0, 0.01, true, true),
        (48.0, -0.01, false, true),
        (36.0, 0.0, false, true),
        (36.0, 0.01, false, true),
        (36.0, -0.01, false, false),
    ] {
        let standing = first(&corner(reaches + inches * INCH + more, BAR, "").0);
        assert_eq!((standing.takes_clear_floor(), standing.leaves_a_way_past()), (floor, past), "{inches} in {more:+}");
    }
}

#[test]
fn beside_a_drawer_at_the_corner_the_other_run_is_not_opposite() {
    // The island is out of the way, so nothing is told to stand before the drawers.
    let (people, model) = corner(2400.0, BAR, "");
    let opposite = first(&people).opposite.unwrap();
    assert_eq!(model.part(opposite).run, None);
}

// A bar 12 thick that stands out by 30 has 18 behind it, and 19 are wanted (common practice, no source).
#[test]
fn fingers_want_room_behind_a_bar() {
    for (projection, thickness, behind, short) in
        [(30.0, 12.0, 18.0, true), (31.0, 12.0, 19.0, false), (35.0, 10.0, 25.0, false)]
    {
        let pull = format!("Bar(length: 160, projection: {projection}, thickness: {thickness})");
        let (people, _) = corner(2400.0, &pull, "");
        let fingers = people.fingers[0];
        close(fingers.behind.unwrap(), behind, 1e-9);
        assert_eq!(fingers.short_of().contains(&Clause::FingersBehind), short, "{projection} and {thickness}");
    }
}

// Two units 300 wide with bars of 280 in the middle of each: the bars end 20 from each other.
#[test]
fn fingers_want_room_beside_a_pull() {
    let text = "(units: Millimetre, room: (left_wall: 4000, right_wall: 4000),
        pulls: { \"bar\": Bar(length: 280, projection: 35) }, slides: { \"500\": (length: 500) },
        left: (units: [Drawers(width: 300, fronts: Equal(3)), Drawers(width: 300, fronts: Equal(3))], ends_at: Open),
        right: (units: [OpenShelves(width: 600)], ends_at: Open),
        corner: (left: Fixed(100), right: Fixed(100)))";
    let plan = plan::read("beside.ron", text).unwrap();
    let model = clearance::answer(&plan).model;
    let people = People::of(&plan, &model);
    for fingers in &people.fingers {
        let (_, beside) = fingers.beside.unwrap();
        close(beside, 20.0, 1e-9);
        assert_eq!(fingers.short_of(), [Clause::FingersBeside]);
    }
    let text = people_text(&model, &people).into_iter().map(|(_, line)| line).collect::<Vec<_>>().join("\n");
    assert!(text.contains("20 mm beside it to left 2 drawer bank, top drawer pull"), "{text}");
}

// The middle one of three equal fronts of a unit 850 high on a kick of 100: its pull stands where the plan says, and passes
// 15 in, 381 mm.
#[test]
fn a_pull_is_in_reach_from_fifteen_inches_up() {
    let height = |people: &People| people.pulled[1].height;
    let (people, _) = corner(2400.0, BAR, "kick_height: 100");
    let at_100 = height(&people);
    for (more, met) in [(0.0, true), (0.02, true), (-0.02, false)] {
        // The pull is `height` above its front's lower edge, and that lies with the kick.
        let up = 15.0 * INCH + more - (at_100 - first_height(&people));
        let pull = format!("Bar(length: 160, projection: 35, height: {up:?})");
        let (people, _) = corner(2400.0, &pull, "kick_height: 100");
        close(height(&people), 15.0 * INCH + more, 1e-6);
        assert_eq!(Clause::Reach.is_met(height(&people)), met, "{more:+}");
    }
}

/// How high the pull of the middle drawer stands above its front's lower edge in [`corner`].
fn first_height(people: &People) -> f64 {
    let (_, model) = corner(2400.0, BAR, "kick_height: 100");
    let mover = model.mover(people.pulled[1].mover);
    let front = mover.parts.iter().map(|&id| model.part(id)).find(|part| part.role == Role::DrawerFront);
    people.pulled[1].height - front.unwrap().extent(Vec3::Z)[0]
}

#[test]
fn a_worktop_is_judged_by_its_upper_face() {
    for (height, met) in [(34.0 * INCH - 30.0, true), (34.0 * INCH - 30.1, true), (34.0 * INCH - 29.9, false)] {
        let text = format!(
            "(units: Millimetre, room: (left_wall: 4000, right_wall: 4000), construction: (height: {height:?}),
            pulls: {{ \"bar\": {BAR} }}, slides: {{ \"500\": (length: 500) }},
            left: (units: [OpenShelves(width: 600)], ends_at: Open), right: (units: [OpenShelves(width: 600)], ends_at: Open),
            countertop: (thickness: 30), corner: (left: Fixed(100), right: Fixed(100)))"
        );
        let plan =
            plan::read("worktop.ron", &text).unwrap_or_else(|problems| panic!("{}", problems.lines().join("\n")));
        let model = clearance::answer(&plan).model;
        let worktop = People::of(&plan, &model).worktop_mm.unwrap();
        close(worktop, height + 30.0, 1e-9);
        assert_eq!(Clause::Worktop.is_met(worktop), met, "{height}");
    }
}

// A usual toe kick is no toe clearance; one 9 in high and 17 in deep is.
#[test]
fn a_toe_kick_is_toe_clearance_from_nine_inches_high_and_seventeen_deep() {
    for (height, depth, is) in [(9.0, 17.0, true), (8.99, 17.0, false), (9.0, 16.99, false), (4.0, 3.0, false)] {
        let kick = Kick { height: height * INCH, depth: depth * INCH };
        assert_eq!(kick.is_toe_clearance(), is, "{height} by {depth}");
    }
    let (people, _) = corner(2400.0, BAR, "kick_height: 100, kick_setback: 75");
    assert!((people.kick.height - 100.0).abs() < 1e-9 && (people.kick.depth - 75.0).abs() < 1e-9);
}

// Drawers at three heights and one shelf over a carcass bottom: told by area, and half or more is enough.
#[test]
fn storage_counts_drawer_bottoms_shelves_and_bottoms_that_no_drawer_runs_over() {
    let (people, model) = corner(2400.0, BAR, "");
    let area = |role: Role, unit: Side| {
        let run = model.run(unit);
        let size = |part: &Part, axis| part.extent(axis)[1] - part.extent(axis)[0];
        let of = model.parts.iter().filter(|part| part.role == role && part.run == Some(unit));
        of.map(|part| size(part, run.along) * size(part, run.out)).sum::<f64>()
    };
    let right = area(Role::Shelf, Side::Right) + area(Role::CarcassBottom, Side::Right);
    let whole = area(Role::BoxBottom, Side::Left) + right;
    assert!(whole > 0.0);
    close(people.stored.whole, whole, 1e-6);
    assert!(people.stored.share() > 0.0 && people.stored.share() < 1.0);
    assert_eq!(people.stored.is_met(), people.stored.share() >= 0.5);
}

#[test]
fn every_example_is_told_with_the_clauses_and_that_local_codes_govern() {
    for (name, text) in EXAMPLES {
        let plan = plan::read(name, text).unwrap();
        let model = clearance::answer(&plan).model;
        let people = People::of(&plan, &model);
        let lines = people_text(&model, &people).into_iter().map(|(_, line)| line).collect::<Vec<_>>().join("\n");
        for said in ["local codes govern", "2010 ADA Standards, 308.2.1 and 308.3.1", "2010 ADA Standards, 306.2.1"] {
            assert!(lines.contains(said), "{name}: {lines}");
        }
        let json = people_json(&model, &people);
        assert_eq!(json["standing"].as_array().unwrap().len(), people.standing.len());
        assert!(json["clauses"]["reach"]["source"].as_str().unwrap().contains("308"));
    }
}
