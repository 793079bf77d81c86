//! What is marked on walls and floor lies where a tape and a level would put it. Worked by hand; common practice, no source.

use elbowroom::install::marks::{MarkKind, WallMarks};
use elbowroom::install::measured::Measured;
use elbowroom::length::Length;
use elbowroom::plan::{Fixture, FixtureKind, FloorLevel, Plan, Side, Studs};

use super::outlines::{alcove, model, nominal_setting};

fn marks(plan: &Plan) -> [WallMarks; 2] {
    let model = model(plan);
    WallMarks::of(&Measured::new(plan, &model, nominal_setting(plan, &model)))
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

#[test]
fn unit_edges_studs_and_fixtures_stand_in_order_from_the_corner() {
    let mut plan = alcove();
    // One stud found at 700, 400 apart: 300, 700, 1100, and so on to the wall's end.
    plan.room.survey.left.studs = Studs::Spaced { one_at: Length::mm(700.0), spacing: Length::mm(400.0) };
    plan.room.survey.left.fixtures = vec![Fixture {
        kind: FixtureKind::Outlet,
        name: "outlet".to_owned(),
        along: Length::mm(900.0),
        above: Length::mm(450.0),
        width: Length::mm(70.0),
        height: Length::mm(115.0),
        out: Length::mm(8.0),
    }];
    let [left, right] = marks(&plan);
    let found: Vec<(f64, &str)> = left.marks.iter().map(|mark| (mark.along, mark.kind.word())).collect();
    let expected = [
        (300.0, "stud"),
        (650.0, "unit edge"),
        (700.0, "stud"),
        (900.0, "outlet"),
        (1100.0, "stud"),
        (1250.0, "unit edge"),
        (1268.0, "unit edge"),
        (1500.0, "stud"),
        (1900.0, "stud"),
        (2300.0, "stud"),
    ];
    assert_eq!(found.len(), expected.len(), "{found:?}");
    for ((along, kind), (at, what)) in found.iter().zip(expected) {
        assert!(near(*along, at) && *kind == what, "{found:?}");
    }
    // 870 less 450 below the level line, 900 - 650 from the near side of the first unit.
    let outlet = left.marks.iter().find(|mark| matches!(mark.kind, MarkKind::Fixture(_))).unwrap();
    assert!(near(outlet.above_level.unwrap(), -420.0));
    let (unit, off) = outlet.behind.unwrap();
    assert!(unit == 0 && near(off, 250.0));
    assert!(left.studs_known && !right.studs_known);
}

#[test]
fn the_level_line_starts_at_the_highest_floor_and_is_higher_elsewhere() {
    let mut plan = alcove();
    let level = |wall, along: f64, out: f64, level: f64| FloorLevel {
        wall,
        along: Length::mm(along),
        out: Length::mm(out),
        level: Length::mm(level),
    };
    plan.room.survey.floor = vec![
        level(Side::Left, 0.0, 0.0, 2.0),
        level(Side::Left, 800.0, 0.0, 9.0),
        level(Side::Left, 2000.0, 0.0, -3.0),
        level(Side::Right, 0.0, 0.0, 2.0),
        level(Side::Right, 1500.0, 0.0, 5.0),
    ];
    let [left, right] = marks(&plan);
    assert!(near(left.level.height, 870.0));
    assert!(near(left.level.starts_at[0], 800.0) && near(left.level.starts_at[2], 0.0), "{:?}", left.level);
    // On the right the highest, past 1500, lies 4 lower than the highest of all.
    assert!(near(right.level.starts_at[2], 4.0), "{:?}", right.level);
    let at = |a: f64| left.level.above_floor.iter().find(|[along, _]| near(*along, a)).map(|[_, height]| *height);
    assert!(near(at(800.0).unwrap(), 870.0));
    assert!(near(at(0.0).unwrap(), 877.0));
    assert!(near(at(2000.0).unwrap(), 882.0));
    // At the run's end, 1268 along: 9 - 12 · 468/1200 = 4.32, so 4.68 more.
    assert!(near(at(1268.0).unwrap(), 874.68));
}

#[test]
fn front_lines_are_told_out_from_the_wall_or_from_the_baseboard_that_stays() {
    // The baseboard, 15 thick, is notched over, so it stands before the wall: the front line is 580 - 15 out from it.
    let [left, right] = marks(&alcove());
    assert!(left.from_baseboard);
    let front = &left.floor[0];
    assert!(near(front.near[0], 580.0) && near(front.near[1], 565.0), "{front:?}");
    assert!(near(front.far[0], 1268.0) && near(front.far[1], 565.0), "{front:?}");
    let kick = &right.floor[1];
    assert!(near(kick.near[0], 505.0) && near(kick.near[1], 490.0), "{kick:?}");

    // Square runs in a room of 91 degrees: the right wall falls back from the run, tan 1° = 0.017 455 for each millimetre.
    let mut plan = alcove();
    plan.room.baseboard = None;
    plan.room.angle_deg = 91.0;
    let [left, right] = marks(&plan);
    assert!(near(left.floor[0].near[1], 580.0));
    let front = &right.floor[0];
    let (along, out) = (front.far[0] - front.near[0], front.far[1] - front.near[1]);
    assert!(near(out / along, 1.0_f64.to_radians().tan()), "{front:?}");
}
