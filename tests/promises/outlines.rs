//! What is cut to the wall and the floor comes out as plane geometry says, and never stands in either.
//!
//! Figures are worked by hand from the plan below; common practice, no source.

use elbowroom::install::measured::Measured;
use elbowroom::install::outline::{CHORD_MM, CutTo, Outline, Outlines};
use elbowroom::length::Length;
use elbowroom::model::{Edge, Fillers, Model, Role, Setting, Vec3};
use elbowroom::plan::{self, BaseboardTreatment, Between, FarEnd, FloorLevel, Plan, Reading, Side};

/// Left run: filler 70, drawers 600, an end panel 18 thick, ends at 580 + 70 + 600 + 18 = 1268. Right run: filler 70,
/// drawers 900, ends at 1550, 5 mm before the wall beside it.
pub(crate) const ALCOVE: &str = r#"(
    name: "Dye room",
    units: Millimetre,
    room: (left_wall: 2400, right_wall: 1555, baseboard: (height: 80, thickness: 15, treatment: Notched)),
    construction: (base: Legs),
    joinery: (scribe: 12),
    pulls: { "bar": Bar(length: 140, projection: 32) },
    slides: { "500": (length: 500, extension: Full, mount: UnderMount) },
    left: (units: [Drawers(name: "dyes", width: 600, fronts: Equal(3)), EndPanel(width: 18)], ends_at: Open),
    right: (units: [Drawers(name: "cloth", width: 900, fronts: Equal(3))], ends_at: Wall),
    countertop: (thickness: 30, overhang: 25),
    corner: (left: Fixed(70), right: Fixed(70), laps: Left),
)"#;

pub(crate) fn alcove() -> Plan {
    plan::read("alcove.ron", ALCOVE).unwrap()
}

pub(crate) fn model(plan: &Plan) -> Model {
    let filler = Length::mm(70.0);
    Model::build(plan, Fillers { left: filler, right: filler })
}

/// Where the room stands by the plan alone: each run against its wall as the model has it.
///
/// The left run stands along its wall, off by a baseboard that stays. How far along that wall the corner lies follows from
/// what is left of the wall past the run's end.
pub(crate) fn nominal_setting(plan: &Plan, model: &Model) -> Setting {
    let run = model.run(Side::Left);
    let stays = plan.room.baseboard.filter(|board| board.treatment == BaseboardTreatment::Left);
    let stand_off = stays.map_or(0.0, |board| board.thickness.to_mm());
    let end_board = if plan.left.ends_at == FarEnd::Wall { stand_off } else { 0.0 };
    let reach = [0.0, run.depth].map(|n| run.at(run.ends_at, n, 0.0).dot(run.wall_along));
    let corner = reach[0].max(reach[1]) - (run.wall_length - end_board - run.left_over);
    Setting { corner: Vec3::new(corner, -stand_off, 0.0), turn: 0.0 }
}

fn outlines(plan: &Plan, setting: Option<Setting>) -> Outlines {
    let model = model(plan);
    Outlines::of(&Measured::new(plan, &model, setting.unwrap_or_else(|| nominal_setting(plan, &model))))
}

fn find<'o>(outlines: &'o Outlines, name: &str) -> &'o Outline {
    outlines.pieces.iter().find(|outline| outline.name == name).unwrap()
}

fn reading(along: f64, height: f64, gap: f64) -> Reading {
    Reading { along: Length::mm(along), height: Length::mm(height), gap: Length::mm(gap) }
}

fn level(wall: Side, along: f64, out: f64, level: f64) -> FloorLevel {
    FloorLevel { wall, along: Length::mm(along), out: Length::mm(out), level: Length::mm(level) }
}

fn turned(degrees: f64) -> Option<Setting> {
    Some(Setting { corner: Vec3::ZERO, turn: degrees.to_radians() })
}

/// The same corners, wherever each list begins.
fn assert_corners(outline: &Outline, expected: &[[f64; 2]]) {
    let points = outline.points();
    assert_eq!(points.len(), expected.len(), "{}: {points:?}", outline.name);
    let near = |a: &[f64; 2], b: &[f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]) < 1e-6;
    let start = points.iter().position(|point| near(point, &expected[0]));
    let start = start.unwrap_or_else(|| panic!("{}: {:?} is not in {points:?}", outline.name, expected[0]));
    for (k, corner) in expected.iter().enumerate() {
        let point = &points[(start + k) % points.len()];
        assert!(near(point, corner), "{}: corner {k} is {point:?}, not {corner:?}, in {points:?}", outline.name);
    }
}

#[test]
fn in_a_straight_room_every_outline_is_the_part_as_fitted() {
    let outlines = outlines(&alcove(), None);
    assert!(outlines.blocked.is_empty());
    // As cut 592 by 870; 12 left on come off the back, and the notch is the baseboard's section.
    let panel = find(&outlines, "left 2 end panel, panel");
    assert_eq!(panel.blank, [592.0, 870.0]);
    assert_corners(panel, &[[27.0, 0.0], [592.0, 0.0], [592.0, 870.0], [12.0, 870.0], [12.0, 80.0], [27.0, 80.0]]);
    let back = panel.edge(Edge::Back).unwrap();
    assert_eq!(back.cut_to, CutTo::Wall(Side::Left));
    let fit = back.fit.as_ref().unwrap();
    assert!((fit.cut_off[0] - 12.0).abs() < 1e-9 && (fit.cut_off[1] - 12.0).abs() < 1e-9);
    let [deep, high] = fit.notch.unwrap();
    assert!((deep - 15.0).abs() < 1e-9 && (high - 80.0).abs() < 1e-9);

    // The left top goes through to the right run's back plane, 1268 long; the right one stops at its front edge, 605 out,
    // and is cut to the wall at 1555: 950 of the 957 that it has. Both are 580 + 25 deep, with 12 more at the back.
    let left = find(&outlines, "left countertop");
    assert_corners(left, &[[0.0, 12.0], [1268.0, 12.0], [1268.0, 617.0], [0.0, 617.0]]);
    assert!((left.area() - 1268.0 * 605.0).abs() < 1e-3);
    let right = find(&outlines, "right countertop");
    assert_eq!(right.blank, [957.0, 617.0]);
    assert_corners(right, &[[0.0, 0.0], [950.0, 0.0], [950.0, 605.0], [0.0, 605.0]]);
    assert_eq!(right.edge(Edge::Near).unwrap().cut_to, CutTo::Seam);
    let end = right.edge(Edge::Far).unwrap();
    assert_eq!(end.cut_to, CutTo::EndWall(Side::Right));
    assert!((end.fit.as_ref().unwrap().cut_off[1] - 7.0).abs() < 1e-9);

    // The left kick cover laps: from 580 - 75 - 12 to 1250, 100 high, 12 left on its lower edge.
    let kick = find(&outlines, "left kick cover");
    assert_corners(kick, &[[0.0, 12.0], [757.0, 12.0], [757.0, 112.0], [0.0, 112.0]]);
    // The right one ends at the wall: from 505 to 1555 of the 1562 that it has.
    let kick = find(&outlines, "right kick cover");
    assert_corners(kick, &[[0.0, 12.0], [1050.0, 12.0], [1050.0, 112.0], [0.0, 112.0]]);
    assert!(outlines.pieces.iter().all(Outline::reaches));
}

#[test]
fn a_wall_one_degree_out_tapers_the_top_by_its_length_times_the_tangent() {
    let outlines = outlines(&alcove(), turned(1.0));
    let top = find(&outlines, "left countertop");
    let back = top.edge(Edge::Back).unwrap();
    let (first, last) = (back.points[0], back.points[back.points.len() - 1]);
    let taper = (last[0] - first[0]) * 1.0_f64.to_radians().tan();
    assert!((last[1] - first[1] - taper).abs() < 1e-6, "{} over {}", last[1] - first[1], last[0] - first[0]);
    // tan 1° = 0.017 455: at the end panel's far side, 1268 along, 22.133 more than the 12 left on come off.
    let fit = find(&outlines, "left 2 end panel, panel").edge(Edge::Back).unwrap().fit.clone().unwrap();
    assert!((fit.cut_off[1] - 34.133).abs() < 1e-3, "{:?}", fit.cut_off);
}

#[test]
fn what_the_blank_lacks_is_told_and_its_edge_left_straight() {
    let outlines = outlines(&alcove(), turned(-1.0));
    let panel = find(&outlines, "left 2 end panel, panel");
    let back = panel.edge(Edge::Back).unwrap();
    let fit = back.fit.as_ref().unwrap();
    // 22.133 are needed there, 12 are left on.
    assert!((fit.lacks() - 10.133).abs() < 1e-3, "{}", fit.lacks());
    assert!((fit.needs_left_on() - 22.133).abs() < 1e-3);
    assert!(!panel.reaches());
    assert!(back.points.iter().filter(|p| p[1] > 100.0).all(|p| p[0].abs() < 1e-9));
    // The top still reaches where 12 are enough: 12 / tan 1° = 687.48 along.
    let top = find(&outlines, "left countertop").edge(Edge::Back).unwrap();
    let bend = top.points[1];
    assert!((bend[0] - 687.48).abs() < 0.01 && bend[1].abs() < 1e-9, "{bend:?}");
}

#[test]
fn a_bowed_wall_comes_off_as_it_was_read() {
    let mut plan = alcove();
    let read = [(0.0, 50.0), (600.0, 44.0), (900.0, 41.5), (1200.0, 47.0), (1800.0, 52.0)];
    plan.room.survey.left.readings = read.iter().map(|&(along, gap)| reading(along, 900.0, gap)).collect();
    let outlines = outlines(&plan, None);
    let fit = find(&outlines, "left countertop").edge(Edge::Back).unwrap().fit.clone().unwrap();
    for (along, gap) in [(600.0, 44.0), (900.0, 41.5), (1200.0, 47.0)] {
        let off = fit.offsets.iter().find(|[t, _]| (t - along).abs() < 1e-6).map(|[_, off]| *off);
        assert!((off.unwrap() - (12.0 + 50.0 - gap)).abs() < 1e-9, "at {along}: {:?}", fit.offsets);
    }
    assert!((fit.cut_off[1] - 20.5).abs() < 1e-9);
    // At the end panel, 1268 along: 47 + 5 · 68/600 = 47.5667, so 50 - 47.5667 more than 12.
    let panel = find(&outlines, "left 2 end panel, panel").edge(Edge::Back).unwrap().fit.clone().unwrap();
    assert!((panel.cut_off[1] - 14.4333).abs() < 1e-3, "{:?}", panel.cut_off);
}

#[test]
fn a_leaning_wall_tapers_the_end_panel_from_top_to_bottom() {
    let mut plan = alcove();
    // The wall comes 9 mm into the room over 900.
    plan.room.survey.left.readings = vec![reading(0.0, 0.0, 20.0), reading(0.0, 900.0, 11.0)];
    let outlines = outlines(&plan, None);
    let panel = find(&outlines, "left 2 end panel, panel");
    let back = panel.edge(Edge::Back).unwrap();
    // Down the back edge: at 870 up 8.7 in, at 80 up 0.8 in, then the baseboard's 15.
    let expected = [[20.7, 870.0], [12.8, 80.0], [27.8, 80.0], [27.0, 0.0]];
    assert_eq!(back.points.len(), expected.len(), "{:?}", back.points);
    for (point, expected) in back.points.iter().zip(expected) {
        assert!((point[0] - expected[0]).hypot(point[1] - expected[1]) < 1e-6, "{point:?} is not {expected:?}");
    }
    // The top lies where the wall stands out most over its thickness: 9 mm at 900.
    let top = find(&outlines, "left countertop").edge(Edge::Back).unwrap().fit.clone().unwrap();
    assert!((top.cut_off[1] - 21.0).abs() < 1e-9, "{:?}", top.cut_off);
}

#[test]
fn a_sloping_floor_shapes_kick_cover_and_end_panel() {
    let mut plan = alcove();
    // 5 mm a metre down from the corner along the left wall, and 6 mm over 600 down from the wall into the room.
    plan.room.survey.floor = vec![
        level(Side::Left, 0.0, 0.0, 30.0),
        level(Side::Left, 2000.0, 0.0, 20.0),
        level(Side::Left, 0.0, 600.0, 24.0),
        level(Side::Left, 2000.0, 600.0, 14.0),
    ];
    let outlines = outlines(&plan, None);
    let height = |s: f64, n: f64| -0.005 * s - 0.01 * n;
    // The kick cover's face is 505 out, from 493 to 1250 along; seen from the room the left run goes to the left.
    let kick = find(&outlines, "left kick cover");
    let [near, far] = [493.0, 1250.0].map(|s| 12.0 + height(s, 505.0));
    assert_corners(kick, &[[757.0, near], [757.0, 112.0], [0.0, 112.0], [0.0, far]]);
    // The end panel's far side is 1268 along; a panel for a measured floor has 12 left on below. Its front foot lies 12.14
    // under the highest point, so 0.14 stay open at the front.
    let panel = find(&outlines, "left 2 end panel, panel");
    assert_eq!(panel.blank, [592.0, 882.0]);
    let lower = panel.edge(Edge::Lower).unwrap();
    let fit = lower.fit.as_ref().unwrap();
    assert!((fit.lacks() - 0.14).abs() < 1e-9, "{fit:?}");
    let first = lower.points[0];
    assert!((first[0] - 27.0).abs() < 1e-6 && (first[1] - (12.0 + height(1268.0, 15.0))).abs() < 1e-6, "{first:?}");
}

#[test]
fn a_top_against_a_wall_that_is_not_square_to_its_run_gets_an_end_out_of_square() {
    let mut plan = plan::read("alcove.ron", &ALCOVE.replace("scribe: 12", "scribe: 30")).unwrap();
    plan.room.angle_deg = 91.0;
    let outlines = outlines(&plan, None);
    let top = find(&outlines, "right countertop");
    let end = top.edge(Edge::Far).unwrap();
    let (first, last) = (end.points[0], end.points[end.points.len() - 1]);
    let (dx, dy) = ((last[0] - first[0]).abs(), (last[1] - first[1]).abs());
    assert!((dx / dy - 1.0_f64.to_radians().tan()).abs() < 1e-9, "{dx} over {dy}");
}

#[test]
fn a_stile_beside_a_wall_goes_over_the_baseboard_that_stays_there() {
    let text = ALCOVE
        .replace("treatment: Notched", "treatment: Left")
        .replace("height: 80", "height: 130")
        .replace("construction: (base: Legs)", "construction: (base: Legs, face: FaceFrame())")
        .replace("right_wall: 1555", "right_wall: 1585");
    let plan = plan::read("alcove.ron", &text).unwrap();
    let outlines = outlines(&plan, None);
    // The room's corner lies 15 behind both back planes: the end wall is 1570 along, 20 past the run, its baseboard's face
    // 1555. The stile's face reaches from 1512 to 1550 and has 12 left on: 8 stay open above the baseboard, and up to 130 it
    // is cut back 7.
    let stile = find(&outlines, "right 1 cloth, far stile");
    let far = stile.edge(Edge::Far).unwrap();
    let fit = far.fit.as_ref().unwrap();
    assert!((fit.lacks() - 8.0).abs() < 1e-9, "{fit:?}");
    let [deep, high] = fit.notch.unwrap();
    assert!((deep - 7.0).abs() < 1e-9 && (high - 30.0).abs() < 1e-9, "{:?}", fit.notch);
    assert_corners(stile, &[[0.0, 0.0], [43.0, 0.0], [43.0, 30.0], [50.0, 30.0], [50.0, 770.0], [0.0, 770.0]]);
}

#[test]
fn a_wall_past_the_front_blocks_the_piece_and_says_so() {
    let plan = alcove();
    let setting = Setting { corner: Vec3::new(0.0, 700.0, 0.0), turn: 0.0 };
    let outlines = outlines(&plan, Some(setting));
    let model = model(&plan);
    let blocked: Vec<&str> = outlines.blocked.iter().map(|&id| model.part(id).name.as_str()).collect();
    assert!(blocked.contains(&"left 2 end panel, panel"), "{blocked:?}");
    assert!(blocked.contains(&"left countertop"), "{blocked:?}");
    // A pier in the middle alone, 620 deep, parts the top in two.
    let mut plan = alcove();
    let read = [(0.0, 700.0), (500.0, 700.0), (501.0, 80.0), (700.0, 80.0), (701.0, 700.0)];
    plan.room.survey.left.readings = read.iter().map(|&(along, gap)| reading(along, 900.0, gap)).collect();
    let outlines = self::outlines(&plan, None);
    assert!(outlines.blocked.iter().any(|&id| model.part(id).name == "left countertop"));
}

#[test]
fn what_ends_well_before_an_end_wall_is_not_cut_to_it() {
    let plan = plan::read("alcove.ron", &ALCOVE.replace("right_wall: 1555", "right_wall: 1700")).unwrap();
    let outlines = outlines(&plan, None);
    for name in ["right countertop", "right kick cover"] {
        let far = find(&outlines, name).edge(Edge::Far).unwrap();
        assert!(far.cut_to == CutTo::Straight && far.fit.is_none(), "{name}");
    }
}

/// A chain of random numbers in 0..1 (splitmix64), the same each time.
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn within(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }
}

fn surveyed(chance: &mut Chance) -> (Plan, Setting) {
    let mut plan = alcove();
    plan.room.angle_deg = chance.within(87.0, 93.0);
    for side in Side::BOTH {
        let mut readings = Vec::new();
        for height in [0.0, chance.within(300.0, 880.0), 905.0] {
            let mut along = 0.0;
            while along < 2400.0 {
                readings.push(reading(along, height, chance.within(40.0, 60.0)));
                along += chance.within(150.0, 700.0);
            }
        }
        let between = if chance.next() < 0.5 { Between::Straight } else { Between::Curved };
        let lengths = [0, 1, 2].map(|_| plan.room.wall(side) + Length::mm(chance.within(-4.0, 9.0)));
        let wall = match side {
            Side::Left => &mut plan.room.survey.left,
            Side::Right => &mut plan.room.survey.right,
        };
        (wall.readings, wall.between, wall.lengths) = (readings, between, Some(lengths));
        for out in [0.0, 600.0] {
            for along in [0.0, 700.0, 1400.0, 2100.0] {
                plan.room.survey.floor.push(level(side, along, out, chance.within(-8.0, 8.0)));
            }
        }
    }
    let corner = Vec3::new(chance.within(-8.0, 4.0), chance.within(-8.0, 4.0), 0.0);
    (plan, Setting { corner, turn: chance.within(-1.0, 1.0).to_radians() })
}

fn crosses_itself(points: &[[f64; 2]]) -> bool {
    let n = points.len();
    let turn = |a: [f64; 2], b: [f64; 2], c: [f64; 2]| (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    (0..n).any(|i| {
        (i + 2..n).filter(|j| (j + 1) % n != i).any(|j| {
            let [a, b, c, d] = [points[i], points[(i + 1) % n], points[j], points[(j + 1) % n]];
            turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0
        })
    })
}

/// Where a point of an outline lies along its run, out from it and up; `None` for what does not lie in its blank's frame.
fn in_run(model: &Model, outline: &Outline, [x, y]: [f64; 2]) -> [f64; 3] {
    let part = model.part(outline.part);
    let side = part.run.unwrap();
    let run = model.run(side);
    let [s, n, z] = [part.extent(run.along), part.extent(run.out), part.extent(Vec3::Z)];
    // What is left on lies below and behind, and at the far end of what ends at a wall.
    match part.role {
        Role::EndPanel => {
            let from_front = if side == Side::Left { outline.blank[0] - x } else { x };
            [s[1], n[1] - from_front, z[1] - (outline.blank[1] - y)]
        }
        Role::Countertop => {
            let from_front = if side == Side::Left { outline.blank[1] - y } else { y };
            // The left top's far end is free, the right top's near end is the seam.
            let along = if side == Side::Left { s[1] - (outline.blank[0] - x) } else { s[0] + x };
            [along, n[1] - from_front, z[0]]
        }
        _ => {
            let from_far = if side == Side::Left { x } else { outline.blank[0] - x };
            let far = s[1] + if side == Side::Right { 12.0 } else { 0.0 };
            [far - from_far, n[1], z[1] - (outline.blank[1] - y)]
        }
    }
}

#[test]
fn of_two_hundred_random_rooms_no_outline_stands_in_a_wall_or_the_floor() {
    let mut chance = Chance(11);
    let mut seen = 0;
    for room in 0..200 {
        let (plan, setting) = surveyed(&mut chance);
        let model = model(&plan);
        let measured = Measured::new(&plan, &model, setting);
        let outlines = Outlines::of(&measured);
        assert!(outlines.blocked.is_empty(), "room {room}: {:?}", outlines.blocked);
        for outline in &outlines.pieces {
            let (points, name) = (outline.points(), &outline.name);
            assert!(!crosses_itself(&points), "room {room}: {name} crosses itself: {points:?}");
            let part = model.part(outline.part);
            let [long, wide, _] = part.as_cut();
            assert!(outline.area() > 0.0 && outline.area() <= long * wide + 1e-6, "room {room}: {name}");
            assert!((outline.blank[0] * outline.blank[1]) <= long * wide + 1.0, "room {room}: {name}");
            let side = part.run.unwrap();
            for edge in &outline.edges {
                for pair in edge.points.windows(2) {
                    for part_way in [0.0, 0.31, 0.5, 0.77] {
                        let at = [0, 1].map(|k| pair[0][k] + (pair[1][k] - pair[0][k]) * part_way);
                        let [s, n, z] = in_run(&model, outline, at);
                        let within = CHORD_MM + 1e-6;
                        seen += 1;
                        match edge.cut_to {
                            CutTo::Floor => assert!(z >= measured.floor(side, s, n) - within, "room {room}: {name}"),
                            CutTo::Wall(wall) => {
                                let heights =
                                    if part.role == Role::Countertop { vec![870.0, 885.0, 900.0] } else { vec![z] };
                                for z in heights {
                                    let [a, o] = measured.on_wall(wall, model.run(side).at(s, n, 0.0));
                                    let stands = measured.stands_out(wall, a, z);
                                    assert!(o >= stands - within, "room {room}: {name} stands {} in", stands - o);
                                }
                            }
                            CutTo::EndWall(_) => {
                                let wall = measured.end_wall(side, n, z).unwrap();
                                assert!(s <= wall + within, "room {room}: {name} stands {} in", s - wall);
                            }
                            CutTo::Straight | CutTo::Seam => seen -= 1,
                        }
                    }
                }
            }
        }
    }
    assert!(seen > 20_000, "only {seen} places were looked at");
}
