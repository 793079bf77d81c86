//! Whether a piece goes to its place, and the least play with which it does, against sums done by hand and against a planner
//! that shares nothing with the program's.
//!
//! Closed forms: a rectangle h × t turned between two parallel faces needs √(h² + t²), its diagonal (standard geometry;
//! common practice, no source).

use elbowroom::clearance;
use elbowroom::command::install;
use elbowroom::install::fit::{
    Before, Carried, Entry, Exit, Flat, Outline, Passage, Piece, Section, TurnIn, carried, carried_in, goes_round,
    turning_in,
};
use elbowroom::length::Length;
use elbowroom::model::{Convex, Model, Role, Vec3};
use elbowroom::plan::{self, Plan, WayIn};
use elbowroom::report::install::InstallList;

use crate::plans::EXAMPLES;
use crate::solids::overlap as share;

fn rectangle(x: [f64; 2], y: [f64; 2]) -> Outline {
    Outline::rectangle(x, y).unwrap()
}

/// A recess between floor and ceiling, y out of it to the room; x is upwards. The back is at y = -600.
fn recess(clear: f64) -> Vec<Outline> {
    vec![
        rectangle([-50.0, 0.0], [-600.0, 2000.0]),
        rectangle([clear, clear + 400.0], [-600.0, 0.0]),
        rectangle([-50.0, clear + 400.0], [-650.0, -600.0]),
    ]
}

// A cover 100 high and 12 thick, a recess 100 high: straight in, touching above and below. With 99.9 it does not.
#[test]
fn a_cover_as_high_as_its_open_recess_slides_straight_in() {
    let cover = rectangle([0.0, 100.0], [-400.0, -388.0]);
    let out = Flat::new(0.0, 1.0);
    let passage = Section::new(cover.clone(), recess(100.0), Exit::Beyond(0.0)).passage(&[out]);
    assert!(matches!(passage, Passage::Straight(_)));
    assert_eq!(Section::new(cover, recess(99.9), Exit::Beyond(0.0)).straight(out), Err(Some(1)));
}

// The same behind a lip that leaves 40 above the floor: it goes in lying, and is stood up under the ceiling about its lower
// edge. √(100² + 12²) = 100.717.
#[test]
fn a_cover_behind_a_lip_is_stood_up_under_its_diagonal() {
    let (high, thick) = (100.0_f64, 12.0_f64);
    let diagonal = high.hypot(thick);
    let section = |clear: f64| {
        let mut obstacles = recess(clear);
        obstacles.push(rectangle([40.0, clear + 400.0], [-18.0, 0.0]));
        Section::new(rectangle([0.0, high], [-400.0, -400.0 + thick]), obstacles, Exit::Beyond(0.0))
    };
    let out = Flat::new(0.0, 1.0);
    for clear in [diagonal + 0.02, diagonal + 5.0] {
        let (passage, play) = (section(clear).passage(&[out]), section(clear).play());
        let Passage::Turned(places) = passage else { panic!("{clear}: {passage:?}") };
        assert!(section(clear).is_clear_along(&places));
        // The least play of a cover that may grow: h² + t² = clear².
        let least = clear - (clear * clear - thick * thick).sqrt();
        let play = play.unwrap();
        assert!((play.has - (clear - high)).abs() < 0.03, "{play:?}");
        assert!(
            play.at_least <= least && least <= play.at_most && play.at_most - play.at_least < 0.2,
            "{play:?} {least}"
        );
    }
    for clear in [100.0, diagonal - 0.02] {
        assert_eq!(section(clear).passage(&[out]), Passage::NoWay);
        let least = clear - (clear * clear - thick * thick).sqrt();
        let play = section(clear).play().unwrap();
        assert!(
            play.at_least <= least && least <= play.at_most && play.at_most - play.at_least < 0.2,
            "{play:?} {least}"
        );
        assert!(play.short() > 0.0);
        let shorter = section(clear).smaller(play.short()).unwrap();
        assert!(shorter.is_clear_along(&section(clear).way_of_shorter(&play).unwrap()));
    }
}

// A shelf L × t through a frame narrower than the case behind it: tilted through, then levelled between the sides, D apart,
// which takes L² + t² ≤ D². 530 apart, 18 thick: 529.694.
#[test]
fn a_shelf_is_turned_level_between_the_sides_on_its_diagonal() {
    let (inside, thick) = (530.0_f64, 18.0_f64);
    let longest = (inside * inside - thick * thick).sqrt();
    let section = |long: f64| {
        let middle = inside / 2.0;
        let sides = vec![
            rectangle([-18.0, 0.0], [0.0, 700.0]),
            rectangle([inside, inside + 18.0], [0.0, 700.0]),
            rectangle([-18.0, inside + 18.0], [-18.0, 0.0]),
            rectangle([-18.0, inside + 18.0], [700.0, 718.0]),
        ];
        let stiles =
            vec![rectangle([-18.0, 20.0], [-18.0, 718.0]), rectangle([inside - 20.0, inside + 18.0], [-18.0, 718.0])];
        let shelf = rectangle([middle - long / 2.0, middle + long / 2.0], [350.0, 350.0 + thick]);
        Section::new(shelf, sides, Exit::Through(stiles))
    };
    for (long, goes) in [(528.0, true), (longest - 0.03, true), (longest + 0.03, false), (529.99, false)] {
        let section = section(long);
        let passage = section.passage(&[]);
        assert_eq!(matches!(passage, Passage::Turned(_)), goes, "{long}: {passage:?}");
        let play = section.play().unwrap();
        let least = inside - longest;
        assert!(
            play.at_least <= least && least <= play.at_most && play.at_most - play.at_least < 0.1,
            "{play:?} {least}"
        );
        if let Passage::Turned(places) = passage {
            let out = section.piece_at(*places.last().unwrap());
            let Exit::Through(stiles) = &section.exit else { panic!() };
            assert!(section.is_clear_along(&places) && stiles.iter().all(|stile| !stile.overlaps(&out)));
        }
    }
}

// Round the right-angled corner of two passages: two sums that share nothing agree.
#[test]
fn the_planner_goes_round_a_corner_where_the_formula_does() {
    for (a, b, wide, long) in [(90.0, 110.0, 30.0, 260.0), (100.0, 100.0, 20.0, 270.0)] {
        let walls = vec![
            rectangle([-600.0, a + 50.0], [-50.0, 0.0]),
            rectangle([a, a + 50.0], [0.0, 700.0]),
            rectangle([-600.0, 0.0], [b, 700.0]),
            rectangle([-650.0, -600.0], [-50.0, 700.0]),
        ];
        let piece = rectangle([-long - 10.0, -10.0], [0.0, wide]);
        let play = Section::new(piece, walls, Exit::Beyond(b + 5.0)).play().unwrap();
        let [mut yes, mut no] = [wide, long];
        while no - yes > 1e-6 {
            let middle = f64::midpoint(yes, no);
            if goes_round([middle, wide], [a, b]) { yes = middle } else { no = middle }
        }
        let short = long - yes;
        assert!(play.at_least - play.has <= short && short <= play.short(), "{play:?} {short}");
        assert!(play.at_most - play.at_least < 3.0, "{play:?} {short}");
    }
}

/// Whether two convex outlines overlap, by whether a corner of one lies in the other or two sides cross: nothing of the
/// program's own test.
fn overlap(one: &[[f64; 2]], two: &[[f64; 2]]) -> bool {
    let cross = |a: [f64; 2], b: [f64; 2], p: [f64; 2]| (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
    let sides = |o: &[[f64; 2]]| (0..o.len()).map(|k| (o[k], o[(k + 1) % o.len()])).collect::<Vec<_>>();
    let holds = |o: &[[f64; 2]], p: [f64; 2]| {
        sides(o).iter().all(|&(a, b)| cross(a, b, p) > 1e-4 * (b[0] - a[0]).hypot(b[1] - a[1]))
    };
    if one.iter().any(|&p| holds(two, p)) || two.iter().any(|&p| holds(one, p)) {
        return true;
    }
    sides(one).iter().any(|&(a, b)| {
        sides(two).iter().any(|&(c, d)| {
            let far = 1e-2;
            (cross(a, b, c) > far) != (cross(a, b, d) > far)
                && (cross(a, b, c) < -far) != (cross(a, b, d) < -far)
                && (cross(c, d, a) > far) != (cross(c, d, b) > far)
                && (cross(c, d, a) < -far) != (cross(c, d, b) < -far)
        })
    })
}

fn corners(outline: &Outline) -> Vec<[f64; 2]> {
    outline.points().iter().map(|p| [p.x, p.y]).collect()
}

/// A plate 2·half across, its middle at `at`, turned.
fn plate(half: [f64; 2], at: [f64; 2], angle: f64) -> Vec<[f64; 2]> {
    let (sin, cos) = angle.sin_cos();
    [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]
        .map(|[i, j]| [i * half[0], j * half[1]])
        .map(|[x, y]| [at[0] + x * cos - y * sin, at[1] + x * sin + y * cos])
        .to_vec()
}

const STEP: f64 = 4.0;
const TURN: f64 = std::f64::consts::PI / 24.0;

/// A way on a grid of places and angles for a plate grown so that what it passes over between two grid points is covered: a
/// way on the grid is a way.
fn grid_way(half: [f64; 2], start: [f64; 2], obstacles: &[Vec<[f64; 2]>], line: f64) -> bool {
    let grow = (STEP / 2.0).max(half[0].hypot(half[1]) * TURN / 2.0);
    let grown = [half[0] + grow, half[1] + grow];
    let at = |[i, j, _]: [i32; 3]| [start[0] + f64::from(i) * STEP, start[1] + f64::from(j) * STEP];
    let angle = |[_, _, k]: [i32; 3]| f64::from(k) * TURN;
    let free = |n: [i32; 3]| !obstacles.iter().any(|o| overlap(&plate(grown, at(n), angle(n)), o));
    let mut seen = std::collections::BTreeSet::from([[0; 3]]);
    let mut left = vec![[0; 3]];
    while let Some(n) = left.pop() {
        let [_, y] = at(n);
        if !free(n) || at(n)[0].abs() > 220.0 || y < -220.0 {
            continue;
        }
        if y - half[0].hypot(half[1]) >= line {
            return true;
        }
        for (axis, by) in [(0, 1), (0, -1), (2, 1), (2, -1), (1, -1), (1, 1)] {
            let mut next = n;
            next[axis] += by;
            // Two half turns are one place.
            next[2] = next[2].rem_euclid(24);
            if seen.insert(next) {
                left.push(next);
            }
        }
    }
    false
}

// Plates in a walled yard with random posts in the way: what a search of a grid finds the program finds, and every way that the
// program tells is clear at thousands of places between its poses.
#[test]
fn random_cases_agree_with_a_search_of_a_grid() {
    let mut rng = fastrand::Rng::with_seed(11);
    let (mut found, mut shut, mut turned) = (0, 0, 0);
    for case in 0..16 {
        let half = [22.0 + 14.0 * rng.f64(), 4.0 + 3.0 * rng.f64()];
        let mut walls = vec![
            rectangle([-90.0, -80.0], [-70.0, 60.0]),
            rectangle([80.0, 90.0], [-70.0, 60.0]),
            rectangle([-90.0, 90.0], [-80.0, -70.0]),
        ];
        let gap = 6.0 + 30.0 * rng.f64();
        let at = -50.0 + 100.0 * rng.f64();
        walls.push(rectangle([-90.0, at - gap / 2.0], [40.0, 60.0]));
        walls.push(rectangle([at + gap / 2.0, 90.0], [40.0, 60.0]));
        for _ in 0..4 {
            let post = Flat::new(at - 50.0 + 70.0 * rng.f64(), -20.0 + 110.0 * rng.f64());
            let post = Outline::around((0..4).map(|_| post + Flat::new(30.0 * rng.f64(), 30.0 * rng.f64())));
            walls.extend(post);
        }
        let start = [0.0, -55.0];
        let piece = Outline::around(plate(half, start, 0.0).into_iter().map(|[x, y]| Flat::new(x, y))).unwrap();
        let section = Section::new(piece, walls.clone(), Exit::Beyond(110.0));
        if section.overlapped().is_some() {
            continue;
        }
        let obstacles: Vec<Vec<[f64; 2]>> = walls.iter().map(corners).collect();
        let grid = grid_way(half, start, &obstacles, 110.0);
        let passage = section.passage(&[Flat::new(0.0, 1.0)]);
        match &passage {
            Passage::Straight(places) | Passage::Moves(places) | Passage::Turned(places) => {
                found += 1;
                turned += usize::from(matches!(passage, Passage::Turned(_)));
                for step in places.windows(2) {
                    for k in 0..=400 {
                        let part = f64::from(k) / 400.0;
                        let at = step[0].at + (step[1].at - step[0].at) * part;
                        let angle = step[0].angle + (step[1].angle - step[0].angle) * part;
                        let now = plate(half, [at.x, at.y], angle);
                        assert!(!obstacles.iter().any(|o| overlap(&now, o)), "case {case} at {at:?} {angle}");
                    }
                }
                let last = section.piece_at(*places.last().unwrap());
                assert!(last.points().iter().all(|p| p.y >= 110.0 - 1e-6));
            }
            Passage::NoWay => {
                shut += 1;
                assert!(!grid, "case {case}: the grid has a way");
            }
        }
    }
    assert!(found >= 5 && shut >= 5 && turned >= 5, "{found} {shut} {turned}");
}

fn read(name: &str) -> (Plan, Model) {
    let (name, text) = EXAMPLES.into_iter().find(|(known, _)| known.trim_end_matches(".ron") == name).unwrap();
    let plan = plan::read(name, text).unwrap();
    let model = Model::build(&plan, clearance::least_fillers(&plan));
    (plan, model)
}

/// The piece in the open has left: no part that it goes among reaches it any more, and in place it is where the model has it.
/// Between, its solids share nothing with any that stands there.
fn goes_in_clear(model: &Model, turned: &TurnIn) {
    let way = turned.way.as_ref().unwrap();
    let steps = 24 * way.poses.len();
    let there: Vec<&Convex> = turned.among.iter().flat_map(|&id| model.part(id).outside()).collect();
    for k in 0..=steps {
        let pose = way.at(k as f64 / steps as f64).unwrap();
        for &id in &turned.parts {
            for piece in model.part(id).outside() {
                let base = piece.base().iter().map(|&p| pose.carry(p)).collect();
                let push = pose.carry(piece.base()[0] + piece.push()) - pose.carry(piece.base()[0]);
                let moved = Convex::prism(base, push);
                let hit = there.iter().position(|o| share(&moved, o));
                assert!(hit.is_none(), "{} at step {k}: {:?}", turned.name, pose);
                if k == steps {
                    let off = moved.vertices().zip(piece.vertices()).map(|(a, b)| (a - b).length()).fold(0.0, f64::max);
                    assert!(off < 1e-9, "{}", turned.name);
                }
            }
        }
    }
}

#[test]
fn every_way_told_of_an_example_is_clear_of_all_that_stands_there() {
    for name in EXAMPLES.map(|(name, _)| name.trim_end_matches(".ron")) {
        let (plan, model) = read(name);
        let pieces = turning_in(&plan, &model);
        let of = |piece: Piece| pieces.iter().filter(|turned| turned.piece == piece).count();
        // Every drawer has one box end at its front and one at its back.
        let ends = model.parts.iter().filter(|part| part.role == Role::BoxEnd).count();
        assert_eq!(of(Piece::DrawerBox) * 2, ends, "{name}");
        let covers = model.parts.iter().filter(|part| part.role == Role::KickCover).count();
        assert_eq!(of(Piece::KickCover), covers, "{name}");
        assert!(pieces.iter().all(|turned| turned.way.is_some()), "{name}");
        for turned in pieces {
            if !matches!(turned.entry, Entry::TooTight { .. } | Entry::NoWay) {
                goes_in_clear(&model, &turned);
            }
        }
    }
}

// The tack room's loose boot shelves are longer than the frames' openings: 26 1/2 in through 24 in. They go in tilted before the
// shelf frame, and are levelled on their diagonal: the sides are 28 − 2 × 23/32 = 26 9/16 in apart, so the longest that can be
// is √(26.5625² − 0.71875²) = 26.5528 in: 0.0097 in of play are needed, and they have 1/16.
#[test]
fn a_loose_shelf_is_turned_in_behind_a_face_frame() {
    let (plan, model) = read("tack-room");
    let shelves: Vec<TurnIn> =
        turning_in(&plan, &model).into_iter().filter(|turned| turned.piece == Piece::Shelf).collect();
    // The third lies behind a door.
    let shelves: Vec<TurnIn> = shelves.into_iter().filter(|shelf| shelf.name.contains("boots")).collect();
    assert_eq!(shelves.len(), 2);
    let needed = (26.5625 - (26.5625_f64.powi(2) - 0.71875_f64.powi(2)).sqrt()) * 25.4;
    for shelf in &shelves {
        assert_eq!((shelf.entry, shelf.before), (Entry::Turned, Before::ShelfFrame), "{}", shelf.name);
        assert!(model.part(shelf.in_the_way.unwrap()).name.contains("stile"));
        let play = shelf.play.unwrap();
        assert!((play.has - 25.4 / 16.0).abs() < 1e-4, "{play:?}");
        assert!(play.at_least <= needed && needed <= play.at_most && play.at_most < needed + 0.1, "{play:?} {needed}");
    }
    let said = install("tack-room.ron", EXAMPLES[5].1, Some(InstallList::TurningIn), elbowroom::command::Style::Plain)
        .unwrap()
        .text;
    assert!(
        said.contains("shelf 1: turned seen from the room") && said.contains("before the shelf frame is on"),
        "{said}"
    );
}

// The demo's left filler face is 40 wide, and runs on behind the right one: straight in the right run's first unit, whose fronts
// stand 21 and knobs 30 proud, is in its way. It goes in in several moves, past fronts and pulls. In the bay the corner is too
// close for that: both faces are let down from above before the countertop is on.
#[test]
fn a_filler_face_goes_in_past_the_fronts_in_moves_or_from_above() {
    let (plan, demo) = read("glazing-corner");
    let faces = |plan: &Plan, model: &Model| -> Vec<TurnIn> {
        turning_in(plan, model).into_iter().filter(|turned| turned.piece == Piece::FillerFace).collect()
    };
    let left = &faces(&plan, &demo)[0];
    assert_eq!((left.entry, left.before), (Entry::Moves, Before::Nothing));
    assert!(demo.part(left.in_the_way.unwrap()).name.starts_with("right 1"));
    assert!(left.among.iter().any(|&id| demo.part(id).role == Role::Pull));
    goes_in_clear(&demo, left);
    let (plan, bay) = read("bay-seat");
    let faces = faces(&plan, &bay);
    assert_eq!(faces.len(), 2);
    for face in &faces {
        assert_eq!((face.entry, face.before), (Entry::Straight, Before::Countertop), "{}", face.name);
        let [low, high] = bay.part(face.parts[0]).extent(Vec3::Z);
        assert_eq!(face.way.as_ref().unwrap().poses[0].shift, Vec3::Z * (high - low));
        assert!(!face.among.iter().any(|&id| bay.part(id).role == Role::Countertop));
    }
}

// 800 × 600 × 780 through a door 700 wide: 600 deep, so on its base. Through one of 590: no face is as narrow; but on its end
// tilted none either. With a passage of 900 behind: round the corner where the formula lets it.
#[test]
fn a_unit_is_carried_the_way_its_sides_allow() {
    let mm = Length::mm;
    let way = |width: f64, turn: Option<f64>| WayIn { width: mm(width), height: mm(1200.0), turn: turn.map(mm) };
    let size = [800.0, 600.0, 780.0];
    assert_eq!(carried(size, way(700.0, None)), Carried::Straight { upright: 2 });
    let Carried::TooLarge { short } = carried(size, way(590.0, None)) else { panic!() };
    assert!((short - 10.0).abs() < 0.02, "{short}");
    // 600 across the door, 800 across the passage: sideways, without a turn.
    assert_eq!(carried(size, way(700.0, Some(820.0))), Carried::Straight { upright: 2 });
    // Longest for 600 wide in passages of 900: 2 (900 √2 − 600) = 1345.6.
    assert_eq!(carried([1340.0, 600.0, 780.0], way(900.0, Some(900.0))), Carried::Turned { upright: 2 });
    let Carried::TooLarge { short } = carried([1400.0, 600.0, 1100.0], way(900.0, Some(900.0))) else { panic!() };
    // 2 ((900 + x) √2 − 600) = 1400 at x = 19.239.
    assert!((short - (1300.0 / 2.0_f64.sqrt() - 900.0)).abs() < 0.02, "{short}");
}

#[test]
fn units_are_carried_in_where_the_plan_tells_the_way() {
    let (mut plan, model) = read("glazing-corner");
    assert!(carried_in(&plan, &model).is_empty());
    plan.room.survey.way_in = Some(WayIn { width: Length::mm(620.0), height: Length::mm(1980.0), turn: None });
    let units = carried_in(&plan, &model);
    assert_eq!(units.len(), plan.left.units.len() + plan.right.units.len());
    // 800 wide, 590 deep, 860 − 90 high.
    assert_eq!(units[0].goes, Carried::Straight { upright: 2 });
    for (size, wanted) in units[0].size.into_iter().zip([800.0, 590.0, 770.0]) {
        assert!((size - wanted).abs() < 1e-9, "{:?}", units[0].size);
    }
}
