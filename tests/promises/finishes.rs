//! Finishes are read with every fault told at once, print as they are read, and change nothing but what is seen.

use elbowroom::clearance;
use elbowroom::model::Role;
use elbowroom::model::finish::finish;
use elbowroom::plan::{self, Colour, Finish, Finishes, Metal, Plan, Species, Stone, Surface};

const DEMO: &str = include_str!("../../assets/plans/glazing-corner.ron");

const SMALLEST: &str = r#"(
    units: Millimetre,
    room: (left_wall: 2400, right_wall: 2400),
    pulls: { "bar": Bar(length: 160, projection: 35) },
    slides: { "full 500": (length: 500) },
    left: (units: [Drawers(width: 600, fronts: [140, 280, Rest])]),
    right: (units: [Door(width: 600)]),
    %
)"#;

fn with(finishes: &str) -> Plan {
    let text = SMALLEST.replace('%', finishes);
    plan::read("plan.ron", &text).unwrap_or_else(|problems| panic!("{}", problems.render(100, false)))
}

#[test]
fn every_fault_of_the_finishes_is_told_at_once() {
    let told = plan::read("finishes.ron", include_str!("../broken/finishes.ron")).unwrap_err();
    let lines: Vec<String> = told
        .list()
        .iter()
        .map(|problem| {
            let (line, column) = told.line_column(problem);
            format!("{line}:{column} {}: {} ({})", problem.path, problem.message, problem.help)
        })
        .collect();
    insta::assert_snapshot!(lines.join("\n"));
}

#[test]
fn a_plan_that_says_nothing_gets_the_usual_finishes() {
    assert_eq!(with("").finishes, Finishes::default());
    assert_eq!(with("finishes: (),").finishes, Finishes::default());
}

#[test]
fn frames_follow_the_fronts_unless_the_plan_says_otherwise() {
    let follows = with("finishes: (fronts: Wood(species: Cherry)),").finishes;
    assert_eq!(follows.of(Surface::Frames), Finish::Wood(Species::Cherry));
    let own = with("finishes: (fronts: Wood(species: Cherry), frames: Painted(colour: \"navy\")),").finishes;
    assert_eq!(own.of(Surface::Frames).to_string(), "Painted(colour: \"navy\")");
}

#[test]
fn a_finish_prints_as_it_is_read() {
    let mut all = vec![Finish::Concrete, Finish::Painted(Colour::new(0x12_34_56)), Finish::Tile(Colour::new(0xF4F3EF))];
    for (_, species) in Species::ALL {
        let stained = Finish::Stained(*species, Colour::new(0x5B4636));
        all.extend([Finish::Wood(*species), Finish::Boards(*species), stained]);
    }
    all.extend(Metal::ALL.iter().map(|(_, metal)| Finish::Metal(*metal)));
    all.extend(Stone::ALL.iter().map(|(_, stone)| Finish::Stone(*stone)));
    for finish in all {
        let surfaces: Vec<Surface> = Surface::ALL.into_iter().filter(|surface| surface.takes(finish)).collect();
        assert!(!surfaces.is_empty(), "{finish} can be had nowhere");
        for surface in surfaces {
            let read = with(&format!("finishes: ({}: {finish}),", surface.field())).finishes;
            assert_eq!(read, Finishes::default().with(surface, finish));
        }
    }
}

#[test]
fn another_finish_changes_what_is_seen_and_nothing_else() {
    let plan = plan::read("glazing-corner.ron", DEMO).unwrap();
    let mut other = plan.clone();
    for (surface, finish) in [
        (Surface::Fronts, Finish::Wood(Species::Cherry)),
        (Surface::Countertop, Finish::Wood(Species::Oak)),
        (Surface::Walls, Finish::Painted(Colour::new(0))),
    ] {
        other.finishes = other.finishes.with(surface, finish);
    }
    let (a, b) = (clearance::answer(&plan), clearance::answer(&other));
    assert_eq!(a.model, b.model);
    assert_eq!(format!("{:?}", a.findings), format!("{:?}", b.findings));
    let front = a.model.parts.iter().find(|part| part.role == Role::DrawerFront).unwrap();
    assert_eq!(finish(&other, &b.model, front), Some(Finish::Wood(Species::Cherry)));
    assert_ne!(finish(&plan, &a.model, front), finish(&other, &b.model, front));
}
