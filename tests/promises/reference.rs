//! Least fillers and first touches agree with an independent library, to 0.01 mm in distance.
//!
//! `tests/reference/table.csv` was computed by `tests/reference/reference.py` from `solids --json` alone, with the
//! Flexible Collision Library (Pan, Chitta, Manocha, ICRA 2012) and bisection. Beside each value stand the two that it
//! would have if everything kept 0.01 mm less and 0.01 mm more: what the program says must lie between.

use std::collections::BTreeMap;

use elbowroom::clearance::map::Map;
use elbowroom::clearance::{self, Answer};
use elbowroom::install::Set;
use elbowroom::length::Length;
use elbowroom::model::{Model, Motion, MoverId};
use elbowroom::plan::{self, Face, Filler, Fronts, Plan, Side, UnitKind};

const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference");

/// The table is printed to six places.
const PRINTED: f64 = 1e-6;

/// One row: what the library found, and how much less and more would still be within 0.01 mm.
#[derive(Debug)]
struct Row {
    plan: usize,
    what: String,
    which: String,
    /// Which pairs a least filler is held to, or the unit of a first touch.
    scope: String,
    value: Option<f64>,
    low: Option<f64>,
    high: Option<f64>,
}

fn table(name: &str) -> Vec<Row> {
    let text = std::fs::read_to_string(format!("{FOLDER}/{name}.csv")).unwrap();
    let row = |line: &str| {
        let cells: Vec<&str> = line.split(',').collect();
        let number = |n: usize| (!cells[n].is_empty()).then(|| cells[n].parse().unwrap());
        Row {
            plan: cells[0].parse().unwrap(),
            what: cells[1].to_owned(),
            which: cells[2].to_owned(),
            scope: cells[3].to_owned(),
            value: number(4),
            low: number(5),
            high: number(6),
        }
    };
    text.lines().skip(1).map(row).collect()
}

fn plans(name: &str) -> Vec<Plan> {
    let text = std::fs::read_to_string(format!("{FOLDER}/{name}.jsonl")).unwrap();
    text.lines()
        .enumerate()
        .map(|(index, line)| {
            let entry: serde_json::Value = serde_json::from_str(line).unwrap();
            assert_eq!(entry["plan"].as_u64(), u64::try_from(index).ok(), "plans stand in order");
            plan::read("plan.ron", entry["text"].as_str().unwrap()).unwrap_or_else(|problems| {
                panic!("plan {index} is not read:\n{}", problems.lines().join("\n"));
            })
        })
        .collect()
}

/// What the program says to `row`: the scope or unit, and the value.
fn said(answer: &Answer, row: &Row) -> (&'static str, Option<f64>) {
    if row.what != "touch" {
        let side = if row.which == Side::Left.word() { Side::Left } else { Side::Right };
        let side = answer.side(side);
        return match row.what.as_str() {
            "least" => ("own", side.least.map(Length::to_mm)),
            _ => ("all", side.good.first().map(|range| range.from.to_mm())),
        };
    }
    let opening = &answer.openings[row.which.parse::<usize>().unwrap()];
    match answer.model.mover(opening.mover).motion {
        Motion::Slide { .. } => ("mm", Some(opening.to_touch)),
        Motion::Swing { .. } => ("deg", Some(opening.to_touch.to_degrees())),
    }
}

/// Whether what is said lies between the row's two limits. No limit above: any width, or none at all.
fn agrees(row: &Row, scope: &str, said: Option<f64>) -> bool {
    let within = match (said, row.value) {
        (Some(said), Some(_)) => {
            row.low.is_none_or(|low| said >= low - PRINTED) && row.high.is_none_or(|high| said <= high + PRINTED)
        }
        (None, _) => row.high.is_none(),
        (Some(_), None) => false,
    };
    within && scope == row.scope
}

/// The answers are worked out on as many cores as there are.
fn answers(plans: &[Plan]) -> Vec<Answer> {
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let share = plans.len().div_ceil(cores).max(1);
    std::thread::scope(|scope| {
        let parts: Vec<_> = plans
            .chunks(share)
            .map(|part| scope.spawn(move || part.iter().map(clearance::answer).collect::<Vec<_>>()))
            .collect();
        parts.into_iter().flat_map(|part| part.join().unwrap()).collect()
    })
}

#[test]
fn least_fillers_and_first_touches_agree_with_an_independent_library() {
    let (plans, rows) = (plans("plans"), table("table"));
    let answers = answers(&plans);
    let mut told: BTreeMap<usize, usize> = BTreeMap::new();
    let mut wrong = Vec::new();
    let mut largest = 0.0_f64;
    for row in &rows {
        *told.entry(row.plan).or_default() += 1;
        let (scope, said) = said(&answers[row.plan], row);
        if !agrees(row, scope, said) {
            wrong.push(format!("{scope} {said:?} against {row:?}"));
        } else if let (Some(said), Some(value)) = (said, row.value) {
            largest = largest.max((said - value).abs());
        }
    }
    let count = wrong.len();
    wrong.truncate(20);
    assert!(
        count == 0,
        "{count} of {} values differ by more than 0.01 mm in distance (the rest by at most {largest} in width, travel \
         or degrees):\n{}",
        rows.len(),
        wrong.join("\n")
    );
    for (index, answer) in answers.iter().enumerate() {
        // Two fillers, twice, and every drawer and door.
        assert_eq!(told.get(&index), Some(&(4 + answer.openings.len())), "plan {index}");
    }
}

// `tests/reference/maps.csv`, from the same library: two drawers of a plan, the area of the openings that conflict (at least
// and at most, counted in 48 times 48 cells), and 17 times 17 pairs of openings, each 1 in conflict, 0 clear, or ? within
// 0.015 mm of the edge.
#[test]
fn maps_of_two_drawers_agree_with_an_independent_library() {
    let plans = plans("plans");
    let text = std::fs::read_to_string(format!("{FOLDER}/maps.csv")).unwrap();
    let (mut count, mut told, mut apart) = (0, 0, 0.0_f64);
    for line in text.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let index = |n: usize| cells[n].parse::<usize>().unwrap();
        let [low, high] = [3, 4].map(|n: usize| cells[n].parse::<f64>().unwrap());
        let model = clearance::answer(&plans[index(0)]).model;
        let map = Map::of(&model, MoverId(index(1)), MoverId(index(2)));
        let [least, most] = map.area();
        assert!(low <= most + 1e-3 && least <= high + 1e-3, "{line}: {least} to {most}");
        apart = apart.max((most - least) / (high - low));
        let side = 17;
        assert_eq!(cells[5].len(), side * side);
        for (k, code) in cells[5].chars().enumerate() {
            let share = |n: usize| f64::from(u32::try_from(n).unwrap()) / 16.0;
            let at = [map.extents[0] * share(k / side), map.extents[1] * share(k % side)];
            let conflict = map.conflict_at(at[0], at[1]).is_some();
            let agrees = match code {
                '1' => conflict,
                '0' => !conflict,
                _ => true,
            };
            assert!(agrees, "{line}: {at:?} is told {conflict}");
            told += usize::from(code == '1');
        }
        count += 1;
    }
    assert_eq!(count, 100);
    assert!(told > 1000, "{told}");
    // The outlines lie far closer together than the cells can tell.
    assert!(apart < 0.05, "{apart}");
}

#[test]
fn what_opens_in_measured_rooms_agrees_with_an_independent_library() {
    let (plans, rows) = (plans("measured"), table("measured"));
    let surveyed = |plan: &Plan| Side::BOTH.iter().any(|&side| !plan.room.survey.wall(side).readings.is_empty());
    assert!(plans.len() >= 100 && plans.iter().filter(|plan| surveyed(plan)).count() >= 80);
    let drawn: Vec<Answer> = plans.iter().map(clearance::answer).collect();
    let in_room = |(plan, drawn): (&Plan, &Answer)| {
        let place = Set::of(plan, &drawn.model).place;
        clearance::answer_in(plan, Model::build_in(plan, drawn.fillers(), &place))
    };
    let measured: Vec<Answer> = plans.iter().zip(&drawn).map(in_room).collect();
    let mut other = 0;
    let mut wrong = Vec::new();
    for row in &rows {
        let (scope, said) = said(&measured[row.plan], row);
        if !agrees(row, scope, said) {
            wrong.push(format!("{scope} {said:?} against {row:?}"));
        }
        other += usize::from(self::said(&drawn[row.plan], row).1 != said);
    }
    assert!(wrong.is_empty(), "{} of {} values differ:\n{}", wrong.len(), rows.len(), wrong.join("\n"));
    assert_eq!(rows.len(), measured.iter().map(|answer| answer.openings.len()).sum::<usize>());
    // The room has a say in many of them.
    assert!(other > 150, "{other}");
}

// `tests/reference/furnished.csv`, from the same library: islands whose drawers and doors open, doors of the room, shelves
// that draw out behind a door, and tall units.
#[test]
fn what_opens_among_furniture_agrees_with_an_independent_library() {
    let (plans, rows) = (plans("furnished"), table("furnished"));
    let answers = answers(&plans);
    let mut wrong = Vec::new();
    // Of each kind, how many come less than their whole way.
    let [mut opposite, mut of_room, mut behind, mut tall] = [0; 4];
    for row in &rows {
        let answer = &answers[row.plan];
        let (scope, said) = said(answer, row);
        if !agrees(row, scope, said) {
            wrong.push(format!("{scope} {said:?} against {row:?}"));
        }
        let mover = answer.model.mover(answer.openings[row.which.parse::<usize>().unwrap()].mover);
        let stopped = usize::from(answer.openings[mover.id.0].to_touch < mover.motion.extent() - 1e-6);
        opposite += stopped * usize::from(mover.belongs_to.is_some());
        of_room += stopped * usize::from(mover.of_the_room && mover.belongs_to.is_none());
        behind += usize::from(mover.behind.is_some());
        let unit = plans[row.plan].run(mover.side).units.get(mover.unit);
        tall += usize::from(!mover.of_the_room && unit.is_some_and(|unit| plans[row.plan].is_tall(unit)));
    }
    assert!(wrong.is_empty(), "{} of {} values differ:\n{}", wrong.len(), rows.len(), wrong.join("\n"));
    assert_eq!(rows.len(), answers.iter().map(|answer| answer.openings.len()).sum::<usize>());
    let counts = [opposite, of_room, behind, tall];
    assert!(counts.iter().zip([40, 6, 40, 60]).all(|(&count, least)| count >= least), "{counts:?}");
}

#[test]
fn the_plans_compared_are_of_every_kind() {
    let plans = plans("plans");
    let count = |of: &dyn Fn(&Plan) -> bool| plans.iter().filter(|plan| of(plan)).count();
    assert!(plans.len() >= 300);
    for fronts in [Fronts::Overlay, Fronts::Inset] {
        for framed in [false, true] {
            let style = |plan: &Plan| {
                plan.construction.fronts == fronts && matches!(plan.construction.face, Face::FaceFrame { .. }) == framed
            };
            assert!(count(&style) >= 50, "{fronts:?}, framed: {framed}");
        }
    }
    let angle = |from: f64, to: f64| count(&|plan| plan.run_angle_deg() >= from && plan.run_angle_deg() <= to);
    assert!(angle(90.0, 90.0) >= 50);
    // Off square, but as walls are.
    assert!(angle(85.0, 95.0) - angle(90.0, 90.0) >= 100);
    assert!(angle(80.0, 85.0) >= 10 && angle(95.0, 120.0) >= 30 && angle(120.0, 150.0) >= 30);
    let doors = |plan: &Plan| {
        [&plan.left, &plan.right]
            .iter()
            .flat_map(|run| &run.units)
            .any(|unit| matches!(unit.kind, UnitKind::Door(_) | UnitKind::DrawerOverDoor(..)))
    };
    assert!(count(&doors) >= 40);
    assert!(count(&|plan| plan.clearance.wanted == Length::ZERO) >= 30);
    assert!(count(&|plan| plan.clearance.ajar > Length::ZERO) >= 60);
    assert!(
        plans.iter().all(|plan| matches!((plan.corner.left, plan.corner.right), (Filler::Fixed(_), Filler::Fixed(_))))
    );
}
