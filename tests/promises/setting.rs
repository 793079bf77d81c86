//! How the runs stand in the measured room: against plane geometry done by hand, and against brute force.

use elbowroom::install::{Installation, Set};
use elbowroom::length::Length;
use elbowroom::model::{Convex, Model, Role, Surface, Vec3};
use elbowroom::plan::{
    self, BackLine, Baseboard, BaseboardTreatment, Between, Countertop, FloorLevel, Plan, Plumb, Reading, RunAngle,
    Side,
};
use elbowroom::{clearance, command};

use crate::plans::{Corner, Pull, Run, close};

pub(crate) fn reading(along: f64, height: f64, gap: f64) -> Reading {
    Reading { along: Length::mm(along), height: Length::mm(height), gap: Length::mm(gap) }
}

/// Units 600 wide, fillers 100, in a room at `angle`, the runs at `runs`.
fn corner(angle: f64, runs: RunAngle, counts: [usize; 2], line: BackLine) -> Plan {
    let run = |count: usize| {
        let mut run = Run::of(600.0, Pull::None);
        run.units = vec![(600.0, Vec::new()); count];
        run.filler = Some(100.0);
        run
    };
    let mut plan = Corner::new(run(counts[0]), run(counts[1])).plan();
    plan.room.angle_deg = angle;
    plan.run_angle = runs;
    plan.fixing.line = line;
    plan
}

fn model(plan: &Plan) -> Model {
    Model::build(plan, clearance::least_fillers(plan))
}

fn set(plan: &Plan) -> Set {
    Set::of(plan, &model(plan))
}

fn installed(plan: &Plan) -> Installation {
    Installation::of(plan, &model(plan))
}

// Plane geometry: a run of length L, set off by an angle error e from its wall and touching at one end, gapes by
// L tan e at the other.
#[test]
fn an_angle_error_leaves_its_tangent_times_the_length() {
    // Walls open by a degree: the right run touches at its near end. Closed by a degree: at its far end.
    for (angle, near, far) in [(91.0, 0.0, 1800.0), (89.0, 1800.0, 0.0)] {
        let set = set(&corner(angle, RunAngle::Square, [2, 3], BackLine::Parallel));
        let right = set.run(Side::Right);
        let edges: Vec<f64> = right.edges.iter().map(|edge| edge.gaps[0].to_mm()).collect();
        close(edges[0], near * 1.0_f64.to_radians().tan(), 1e-6);
        close(edges[3], far * 1.0_f64.to_radians().tan(), 1e-6);
        close(right.greatest.gap.to_mm(), 1800.0 * 1.0_f64.to_radians().tan(), 1e-6);
        close(set.run(Side::Left).greatest.gap.to_mm(), 0.0, 1e-9);
    }
}

// Two runs of the same length share the error: each takes half of it.
#[test]
fn the_least_gap_shares_an_angle_error_between_the_runs() {
    let square = set(&corner(91.0, RunAngle::Square, [3, 3], BackLine::LeastGap));
    let half = 1800.0 * 0.5_f64.to_radians().tan();
    for run in &square.runs {
        close(run.greatest.gap.to_mm(), half, 1e-5);
    }
    // Not of the same length: 1200 tan a = 1800 tan (1° − a), a + b = 1°. With t = tan 1°: by the sum of tangents
    // 1800 (t − u) = 1200 u (1 + t u), u = tan a.
    let unlike = set(&corner(91.0, RunAngle::Square, [2, 3], BackLine::LeastGap));
    let t = 1.0_f64.to_radians().tan();
    let u = (-3000.0 + (3000.0_f64 * 3000.0 + 4.0 * 1200.0 * t * 1800.0 * t).sqrt()) / (2.0 * 1200.0 * t);
    for run in &unlike.runs {
        close(run.greatest.gap.to_mm(), 1200.0 * u, 1e-5);
    }
    let parallel = set(&corner(91.0, RunAngle::Square, [2, 3], BackLine::Parallel));
    assert!(unlike.greatest() < parallel.greatest());
}

#[test]
fn along_the_walls_there_is_no_gap_and_the_filler_is_bevelled() {
    let mut plan = corner(88.9, RunAngle::Square, [3, 3], BackLine::Parallel);
    plan.countertop = Some(Countertop {
        thickness: Length::mm(30.0),
        overhang: Length::mm(25.0),
        edge: Length::mm(30.0),
        edge_width: Length::mm(30.0),
        build_up: Length::ZERO,
    });
    let model = model(&plan);
    let both = command::installed(&plan, &model);
    let other = both.other_way.as_ref().unwrap();
    close(both.setting.greatest().to_mm(), 1800.0 * 1.1_f64.to_radians().tan(), 1e-6);
    close(other.greatest().to_mm(), 0.0, 1e-9);
    close(both.setting.filler_bevel_deg, 0.0, 1e-9);
    close(other.filler_bevel_deg, 1.1, 1e-9);
    // The countertop over the square run reaches back as far as its greatest gap.
    close(both.setting.run(Side::Right).countertop.unwrap().gap.to_mm(), 1800.0 * 1.1_f64.to_radians().tan(), 1e-6);
    // The right run has its far end at the wall: nothing to hide there; the left one lies along its wall.
    close(both.setting.run(Side::Right).seen_at_end.unwrap().gap.gap.to_mm(), 0.0, 1e-9);
    // Asked of the plan that is along the walls, square is the other way.
    let along = Plan { run_angle: RunAngle::AlongWalls, ..plan.clone() };
    let both = command::installed(&along, &self::model(&along));
    close(both.other_way.unwrap().run_angle_deg, 90.0, 0.0);
    let square = corner(90.0, RunAngle::Square, [1, 1], BackLine::LeastGap);
    assert!(command::installed(&square, &self::model(&square)).other_way.is_none());
}

#[test]
fn without_readings_the_measured_room_is_the_drawn_one() {
    for angle in [87.0, 90.0, 93.5] {
        let plan = corner(angle, RunAngle::Square, [2, 2], BackLine::Parallel);
        let drawn = model(&plan);
        let measured = installed(&plan).model;
        assert_eq!(drawn.parts.len(), measured.parts.len());
        for (a, b) in drawn.parts.iter().zip(&measured.parts) {
            assert_eq!((a.id, &a.name, a.role), (b.id, &b.name, b.role));
            if a.role == Role::Wall {
                // The same wall: what it reaches along its own normals.
                for axis in [Vec3::X, Vec3::Y] {
                    let ([a0, a1], [b0, b1]) = (a.extent(axis), b.extent(axis));
                    close(a0, b0, 1e-6);
                    close(a1, b1, 1e-6);
                }
            }
        }
        for side in Side::BOTH {
            close(drawn.run(side).left_over, measured.run(side).left_over, 1e-6);
        }
    }
}

// A wall bowed by 10 at the middle of 2000, the run from 720 to 1920. Straight between readings: at 1720 the wall has gone
// back by 10 · 720/1000. As a natural spline through (0, 0), (1000, 10), (2000, 0) it is 15 u − 5 u³ with u the distance
// from the end in thousands (see the spline by hand in `model::curve`): at 1720, u = 0.28.
#[test]
fn a_bowed_wall_is_followed_straight_or_curved() {
    for (between, at) in [(Between::Straight, 10.0 * 0.28), (Between::Curved, 15.0 * 0.28 - 5.0 * 0.28_f64.powi(3))] {
        let mut plan = corner(90.0, RunAngle::Square, [2, 1], BackLine::Parallel);
        plan.room.survey.left.readings =
            vec![reading(0.0, 500.0, 30.0), reading(1000.0, 500.0, 20.0), reading(2000.0, 500.0, 30.0)];
        plan.room.survey.left.between = between;
        let set = set(&plan);
        let left = set.run(Side::Left);
        close(left.touches.along.to_mm(), 1000.0, 1e-6);
        close(left.along[0].to_mm(), 720.0, 1e-9);
        close(set.gap(Side::Left, Length::mm(1720.0), Length::mm(500.0)).to_mm(), 10.0 - at, 1e-9);
        close(set.gap(Side::Left, Length::mm(1000.0), Length::mm(100.0)).to_mm(), 0.0, 1e-9);
    }
}

// Out of plumb by 12 over 1200, back at the top: at a height of 300 the wall is 3 further back than at the floor.
#[test]
fn a_wall_out_of_plumb_leaves_a_gap_behind_the_upper_nailer() {
    let mut plan = corner(90.0, RunAngle::Square, [1, 1], BackLine::LeastGap);
    let plumb = |back: f64| Plumb { along: Length::mm(1000.0), over: Length::mm(1200.0), back_by: Length::mm(back) };
    plan.room.survey.left.plumb = vec![plumb(12.0)];
    let set_back = set(&plan);
    close(set_back.gap(Side::Left, Length::mm(900.0), Length::mm(300.0)).to_mm(), 3.0, 1e-9);
    let rows = &set_back.run(Side::Left).rows;
    assert!(rows.iter().all(elbowroom::install::NailerRow::touches_nowhere));
    close(rows[0].greatest.gap.to_mm(), rows[0].height.to_mm() / 100.0, 1e-9);
    // Into the room at the top: the units touch at their top, 870 up, and the wall is 3 further back at 570.
    plan.room.survey.left.plumb = vec![plumb(-12.0)];
    let leaning = set(&plan);
    close(leaning.run(Side::Left).touches.height.to_mm(), 870.0, 1e-9);
    close(leaning.gap(Side::Left, Length::mm(900.0), Length::mm(570.0)).to_mm(), 3.0, 1e-9);
    // One row of readings keeps its shape at its own height, and leans from there.
    plan.room.survey.left.readings = vec![reading(0.0, 600.0, 20.0), reading(2000.0, 600.0, 10.0)];
    let surface = Surface::of(&plan, Side::Left);
    close(surface.stands_out(1000.0, 600.0), 5.0, 1e-9);
    close(surface.stands_out(1000.0, 0.0), 5.0 - 6.0, 1e-9);
}

#[test]
fn a_baseboard_that_stays_keeps_the_run_off_the_wall() {
    let mut plan = corner(90.0, RunAngle::Square, [1, 1], BackLine::LeastGap);
    let board = |treatment| Baseboard { height: Length::mm(90.0), thickness: Length::mm(15.0), treatment };
    plan.room.survey.left.readings = vec![reading(0.0, 0.0, 10.0), reading(0.0, 900.0, 4.0)];
    for (treatment, gap) in [
        // The wall leans in by 6 over 900: 5.8 at 870. The board's top is 15 out and 0.6 of lean at 90.
        (BaseboardTreatment::Left, 15.6 - 5.8),
        (BaseboardTreatment::Removed, 0.0),
        (BaseboardTreatment::Notched, 0.0),
    ] {
        plan.room.baseboard = Some(board(treatment));
        close(set(&plan).gap(Side::Left, Length::mm(900.0), Length::mm(870.0)).to_mm(), gap, 1e-9);
    }
}

// The floor falls by 4 in 1000 along the left wall and by 6 in 600 out from it. The highest point under the left run is its
// near back corner, where along is 720: every other lies lower by the sum of the two slopes.
#[test]
fn legs_and_bases_are_level_on_the_highest_point() {
    let mut plan = corner(90.0, RunAngle::Square, [2, 1], BackLine::LeastGap);
    let point = |along: f64, out: f64, level: f64| FloorLevel {
        wall: Side::Left,
        along: Length::mm(along),
        out: Length::mm(out),
        level: Length::mm(level),
    };
    plan.room.survey.floor =
        vec![point(0.0, 0.0, 20.0), point(3000.0, 0.0, 8.0), point(0.0, 600.0, 14.0), point(3000.0, 600.0, 2.0)];
    plan.room.survey.flooring = Length::mm(10.0);
    let installation = installed(&plan);
    // The right run covers 0 to 545 along the left wall, from 720 out: there the floor is 14 at most, and falls no further.
    let highest = installation.setting.highest.unwrap();
    close(highest.level, 20.0 - 0.004 * 720.0, 1e-9);
    for foot in installation.feet.iter().filter(|foot| foot.side == Side::Left) {
        let below = 0.004 * (foot.at.x - 720.0) + 0.01 * foot.at.y;
        close(foot.below.to_mm(), below, 1e-9);
        close(foot.packed.to_mm(), below + 10.0, 1e-9);
        close(foot.height.to_mm(), 100.0 + below + 10.0, 1e-9);
    }
    assert_eq!(installation.feet.len(), 4 * 3);
}

/// A wall as points at some heights, close together; a polyline for each.
struct Sampled(Vec<Vec<[f64; 2]>>);

impl Sampled {
    fn of(surface: &Surface, readings: &[Reading], heights: &[f64]) -> Self {
        let mut alongs: Vec<f64> = (-10..320).map(|k| f64::from(k) * 10.0).collect();
        alongs.extend(readings.iter().map(|reading| reading.along.to_mm()));
        alongs.sort_by(f64::total_cmp);
        let row = |&height: &f64| alongs.iter().map(|&x| [x, surface.stands_out(x, height)]).collect();
        Self(heights.iter().map(row).collect())
    }

    /// How far each point behind a stretch of a run lies behind its back plane: least and greatest.
    fn gaps(&self, tilt: f64, origin: [f64; 2], stretch: [f64; 2]) -> [f64; 2] {
        let (sin, cos) = tilt.sin_cos();
        let mut range = [f64::INFINITY, f64::NEG_INFINITY];
        let mut look = |gap: f64| range = [range[0].min(gap), range[1].max(gap)];
        for row in &self.0 {
            let seen = |[x, y]: [f64; 2]| {
                let (x, y) = (x - origin[0], y - origin[1]);
                [x * cos + y * sin, x * sin - y * cos]
            };
            for pair in row.windows(2) {
                let ([s0, g0], [s1, g1]) = (seen(pair[0]), seen(pair[1]));
                if s0 >= stretch[0] && s0 <= stretch[1] {
                    look(g0);
                }
                for end in stretch {
                    if (s0 - end) * (s1 - end) < 0.0 {
                        look(g0 + (g1 - g0) * (end - s0) / (s1 - s0));
                    }
                }
            }
        }
        range
    }
}

/// Brute force: for a turn, both runs pushed back by what is left behind them, again and again; gives the greatest gap.
fn pushed(
    contact: &[Sampled; 2],
    behind: &[Sampled; 2],
    extents: [[f64; 2]; 2],
    [room, runs]: [f64; 2],
    turn: f64,
) -> f64 {
    let tilts = [-turn, room + turn - runs];
    // The meeting of the back planes in the room: along the left wall line, and out from it.
    let mut meeting = [60.0, 60.0];
    let origin = |meeting: [f64; 2], side: usize| match side {
        0 => meeting,
        _ => {
            let (sin, cos) = room.sin_cos();
            [meeting[0] * cos + meeting[1] * sin, meeting[0] * sin - meeting[1] * cos]
        }
    };
    for _ in 0..40 {
        let mut moved = 0.0_f64;
        for side in [0, 1] {
            let [least, _] = contact[side].gaps(tilts[side], origin(meeting, side), extents[side]);
            // Straight back, square to its own wall line, which does not move the other run off or into its wall.
            let back = least / tilts[side].cos();
            meeting = match side {
                0 => [meeting[0] - back * room.cos() / room.sin(), meeting[1] - back],
                _ => [meeting[0] - back / room.sin(), meeting[1]],
            };
            moved = moved.max(back.abs());
        }
        if moved < 1e-6 {
            break;
        }
    }
    let gap = |side: usize| behind[side].gaps(tilts[side], origin(meeting, side), extents[side])[1];
    gap(0).max(gap(1))
}

fn random_survey(chance: &mut fastrand::Rng) -> Plan {
    let angle = 90.0 + (chance.f64() - 0.5) * 5.0;
    let runs =
        [RunAngle::Square, RunAngle::AlongWalls, RunAngle::Degrees(90.0 + chance.f64() * 2.0)][chance.usize(0..3)];
    let counts = [chance.usize(1..4), chance.usize(1..4)];
    let mut plan = corner(angle, runs, counts, BackLine::LeastGap);
    for side in Side::BOTH {
        let wall = if side == Side::Left { &mut plan.room.survey.left } else { &mut plan.room.survey.right };
        wall.between = if chance.bool() { Between::Straight } else { Between::Curved };
        let heights = [vec![], vec![400.0], vec![150.0, 820.0], vec![60.0, 500.0, 1000.0]][chance.usize(0..4)].clone();
        for height in heights {
            let mut along = 0.0;
            for _ in 0..chance.usize(2..7) {
                wall.readings.push(reading(along, height, 20.0 + chance.f64() * 14.0));
                along += 250.0 + chance.f64() * 700.0;
            }
        }
        if chance.bool() {
            for along in [300.0, 1500.0] {
                let back_by = Length::mm((chance.f64() - 0.5) * 16.0);
                wall.plumb.push(Plumb { along: Length::mm(along), over: Length::mm(1000.0), back_by });
            }
        }
    }
    plan
}

#[test]
fn the_best_position_is_what_brute_force_finds() {
    let mut chance = fastrand::Rng::with_seed(11);
    let mut turned = 0;
    for number in 0..200 {
        let plan = random_survey(&mut chance);
        let model = model(&plan);
        let set = Set::of(&plan, &model);
        let surfaces = Side::BOTH.map(|side| Surface::of(&plan, side));
        let heights = |side: Side| -> Vec<f64> {
            let read = plan.room.survey.wall(side).readings.iter().map(|reading| reading.height.to_mm());
            read.filter(|height| *height < 870.0).chain([0.0, 870.0]).collect()
        };
        let rows = |side: Side| -> Vec<f64> { set.run(side).rows.iter().map(|row| row.height.to_mm()).collect() };
        let sampled = |heights: &dyn Fn(Side) -> Vec<f64>| {
            let of = |k: usize| {
                let side = Side::BOTH[k];
                Sampled::of(&surfaces[k], &plan.room.survey.wall(side).readings, &heights(side))
            };
            [of(0), of(1)]
        };
        let (contact, behind) = (sampled(&heights), sampled(&rows));
        let extents = Side::BOTH.map(|side| [model.run(side).starts_at, model.run(side).ends_at]);
        let angles = [plan.room.angle_deg.to_radians(), model.run_angle_deg.to_radians()];
        let gap = |turn: f64| pushed(&contact, &behind, extents, angles, turn);
        let said = set.greatest().to_mm();
        // The gap told is the gap there is.
        close(gap(set.place.turn), said, 0.02);
        // And no other turn has a smaller one.
        let best = (-20..=20).map(|k| gap(f64::from(k) * 0.004)).fold(f64::INFINITY, f64::min);
        let near = (-10..=10).map(|k| gap(set.place.turn + f64::from(k) * 1e-4)).fold(f64::INFINITY, f64::min);
        assert!(
            said <= best.min(near) + 0.02,
            "survey {number}: {said} at {}, brute force {best}, {near}",
            set.place.turn
        );
        turned += usize::from(set.place.turn.abs() > 1e-4);
    }
    assert!(turned > 100, "{turned}");
}

#[test]
fn no_wall_stands_into_a_back_plane_and_each_run_touches() {
    let mut chance = fastrand::Rng::with_seed(12);
    for _ in 0..100 {
        let mut plan = random_survey(&mut chance);
        plan.fixing.line = if chance.bool() { BackLine::Parallel } else { BackLine::LeastGap };
        let model = model(&plan);
        let set = Set::of(&plan, &model);
        for side in Side::BOTH {
            let [from, to] = [model.run(side).starts_at, model.run(side).ends_at];
            let mut least = f64::INFINITY;
            for k in 0..=300 {
                let s = Length::mm(from + (to - from) * f64::from(k) / 300.0);
                for z in 0..=29 {
                    let gap = set.gap(side, s, Length::mm(f64::from(z) * 30.0)).to_mm();
                    assert!(gap >= -1e-7, "{gap}");
                    least = least.min(gap);
                }
            }
            close(set.run(side).touches.gap.to_mm(), 0.0, 1e-7);
            // The touch is between two places looked at, 30 up and 6 along: no slope here passes 0.1.
            assert!(least < 1.0, "{least}");
        }
    }
}

/// Whether a point lies in a piece, or within `slack` of it.
fn holds(piece: &Convex, point: Vec3, slack: f64) -> bool {
    piece.faces().iter().all(|face| {
        let normal = (face[1] - face[0]).cross(face[2] - face[0]).normalize();
        normal.dot(point - face[0]) <= slack
    })
}

#[test]
fn the_measured_wall_has_no_less_wall_than_there_is_and_hardly_more() {
    let mut chance = fastrand::Rng::with_seed(13);
    for _ in 0..40 {
        let plan = random_survey(&mut chance);
        let installation = installed(&plan);
        let angle = plan.room.angle_deg.to_radians();
        for side in Side::BOTH {
            let wall = installation.model.parts.iter().find(|p| p.role == Role::Wall && p.run == Some(side)).unwrap();
            let surface = Surface::of(&plan, side);
            for _ in 0..200 {
                let (along, height) = (chance.f64() * 3500.0, chance.f64() * 2300.0);
                let out = surface.stands_out(along, height);
                let at = |out: f64| installation.setting.place.point(side, angle, [along, out, height]);
                let inside = |point: Vec3, slack: f64| wall.pieces.iter().any(|piece| holds(piece, point, slack));
                assert!(inside(at(out), 1e-6), "a piece of wall is missing at {along}, {height}");
                assert!(inside(at(out - 40.0), 1e-6));
                assert!(!inside(at(out + 0.3), 0.0), "too much wall at {along}, {height}");
            }
        }
    }
}

#[test]
fn a_run_that_does_not_fit_at_one_height_is_found() {
    let mut plan = corner(90.0, RunAngle::Square, [2, 1], BackLine::LeastGap);
    // The left run ends 1920 from the corner.
    plan.left.ends_at = plan::FarEnd::Wall;
    plan.room.left_wall = Length::mm(1945.0);
    plan.room.survey.left.lengths = Some([1947.0, 1946.0, 1940.0].map(Length::mm));
    let fitting = installed(&plan);
    assert!(fitting.setting.fits());
    assert!(clearance::answer_in(&plan, fitting.model).is_clear());
    plan.room.survey.left.lengths = Some([1947.0, 1946.0, 1918.0].map(Length::mm));
    let tight = installed(&plan);
    let left = tight.setting.run(Side::Left).left_over.map(Length::to_mm);
    for (left, expected) in left.into_iter().zip([27.0, 26.0, -2.0]) {
        close(left, expected, 1e-9);
    }
    let answer = clearance::answer_in(&plan, tight.model);
    assert!(!answer.is_clear());
    assert!(answer.findings.iter().any(|finding| finding.kind == clearance::FindingKind::RunTooLong));
    // As drawn, with 1945 of wall, it fits.
    assert!(clearance::answer(&plan).is_clear());
}

#[test]
fn a_pipe_behind_a_unit_is_found() {
    let mut plan = corner(90.0, RunAngle::Square, [2, 1], BackLine::LeastGap);
    let pipe = |out: f64| plan::Fixture {
        kind: plan::FixtureKind::Pipe,
        name: "waste pipe".to_owned(),
        along: Length::mm(1000.0),
        above: Length::mm(300.0),
        width: Length::mm(50.0),
        height: Length::mm(600.0),
        out: Length::mm(out),
    };
    plan.room.survey.left.readings = vec![
        reading(0.0, 0.0, 30.0),
        reading(800.0, 0.0, 30.0),
        reading(1000.0, 0.0, 70.0),
        reading(1200.0, 0.0, 30.0),
        reading(3000.0, 0.0, 30.0),
    ];
    // The wall is 40 further back where the pipe is, less 5 at the pipe's edges: 25 · 40 / 200.
    for (out, clear) in [(34.0, true), (45.0, false)] {
        plan.room.survey.left.fixtures = vec![pipe(out)];
        let answer = clearance::answer_in(&plan, installed(&plan).model);
        assert_eq!(answer.is_clear(), clear, "{:?}", answer.findings);
    }
}
