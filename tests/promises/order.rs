//! The order of work: every part comes in once, nothing before what it needs, the corner first, cautions where they
//! belong, and a finish that is painted or clear as the plan has it. What must come before what is said here anew, apart
//! from the program's own rules. Common practice, no source.

use elbowroom::clearance;
use elbowroom::command::{self, Style};
use elbowroom::cutting::hardware::{Count, hardware_list};
use elbowroom::cutting::stuff_of;
use elbowroom::install::Installation;
use elbowroom::install::order::{Caution, Step, order};
use elbowroom::length::{Length, MM_PER_INCH};
use elbowroom::model::{Model, Part, Role};
use elbowroom::plan::{self, Base, FarEnd, Plan, Side, Stuff, UnitKind};
use elbowroom::report::install::{InstallList, install_text};
use elbowroom::showing::seen::FillersSeen;
use proptest::prelude::*;

use crate::laws::{config, corners};
use crate::plans::{EXAMPLES, close};

struct Job {
    plan: Plan,
    model: Model,
    steps: Vec<Step>,
}

fn job(name: &str, text: &str) -> Job {
    let plan = match plan::read(name, text) {
        Ok(plan) => plan,
        Err(problems) => panic!("{}\n{text}", problems.lines().join("\n")),
    };
    let model = Model::build(&plan, clearance::least_fillers(&plan));
    let steps = Installation::of(&plan, &model).order;
    Job { plan, model, steps }
}

fn examples() -> Vec<Job> {
    EXAMPLES.iter().map(|(name, text)| job(name, text)).collect()
}

impl Job {
    /// The step with this name, and its place.
    fn step(&self, id: &str) -> Option<(usize, &Step)> {
        self.steps.iter().enumerate().find(|(_, step)| step.id.to_string() == id)
    }

    fn must(&self, id: &str) -> &Step {
        self.step(id).unwrap_or_else(|| panic!("{} has no step {id}", self.plan.name)).1
    }

    /// Whether `last` waits for `first`, through others too.
    fn waits(&self, last: &str, first: &str) -> bool {
        let mut met = vec![last.to_owned()];
        let mut next = 0;
        while next < met.len() {
            for after in self.step(&met[next]).iter().flat_map(|(_, step)| &step.after) {
                let before = after.step.to_string();
                if !met.contains(&before) {
                    met.push(before);
                }
            }
            next += 1;
        }
        met[1..].iter().any(|id| id == first)
    }

    fn has(&self, id: &str) -> bool {
        self.step(id).is_some()
    }

    /// The step that a part appears in.
    fn of_part(&self, part: &Part) -> &Step {
        self.steps.iter().find(|step| step.parts.contains(&part.id)).unwrap()
    }

    fn carcasses(&self, side: Side) -> Vec<usize> {
        let units = self.plan.run(side).units.iter().enumerate();
        let boxes = units.filter(|(_, unit)| !matches!(unit.kind, UnitKind::EndPanel | UnitKind::ApplianceSpace(_)));
        boxes.map(|(index, _)| index).collect()
    }
}

fn stands_before(role: Role) -> bool {
    matches!(role, Role::Wall | Role::EndWall | Role::Baseboard | Role::Casing | Role::Obstacle | Role::Floor)
}

fn assert_every_part_once(job: &Job) {
    for part in &job.model.parts {
        let times = job.steps.iter().flat_map(|step| &step.parts).filter(|id| **id == part.id).count();
        assert_eq!(times, usize::from(!stands_before(part.role)), "{}: {}", job.plan.name, part.name);
    }
}

fn assert_nothing_comes_too_soon(job: &Job) {
    for (place, step) in job.steps.iter().enumerate() {
        for after in &step.after {
            let (before, _) = job.step(&after.step.to_string()).unwrap();
            assert!(before < place, "{}: {} before {}", job.plan.name, step.id, after.step);
            assert!(!after.why.is_empty());
        }
    }
}

#[test]
fn every_part_of_the_cabinets_comes_in_once() {
    examples().iter().for_each(assert_every_part_once);
}

#[test]
fn no_step_comes_before_what_it_waits_for() {
    examples().iter().for_each(assert_nothing_comes_too_soon);
}

#[test]
fn the_same_plan_gives_the_same_order() {
    for job in examples() {
        assert_eq!(order(&job.plan, &job.model), job.steps);
    }
}

/// What must be done before what, wherever a plan has both; `{}` is one side, the same in both.
const FIRST_THEN: &[(&str, &str)] = &[
    ("clear", "old-paint"),
    ("clear", "survey"),
    ("old-paint", "services"),
    ("old-paint", "baseboard-off"),
    ("survey", "marks"),
    ("services", "marks"),
    ("services", "fix-{}"),
    ("baseboard-off", "marks"),
    ("marks", "base"),
    ("base", "dry-fit"),
    ("dry-fit", "blocks-{}"),
    ("corner", "blocks-{}"),
    ("corner", "corner-stiles"),
    ("blocks-left", "slides"),
    ("blocks-right", "slides"),
    ("blocks-left", "drawers"),
    ("blocks-right", "fronts"),
    ("corner-stiles", "slides"),
    ("join-{}", "check-{}"),
    ("corner", "check-{}"),
    ("check-{}", "fix-{}"),
    ("fix-left", "slides"),
    ("fix-right", "slides"),
    ("fix-left", "fronts"),
    ("fix-right", "drawers"),
    ("fix-left", "shelves"),
    ("fix-left", "top-support"),
    ("fix-right", "top-support"),
    ("fix-{}", "filler-{}"),
    ("fix-{}", "kick-{}"),
    ("fix-left", "shelf-frames"),
    ("blocks-{}", "filler-{}"),
    ("blocks-left", "kick-right"),
    ("filler-left", "fronts"),
    ("filler-right", "fronts"),
    ("shelf-frames", "fronts"),
    ("slides", "drawers"),
    ("drawers", "fronts"),
    ("fronts", "pulls"),
    ("shelves", "shelf-frames"),
    ("filler-left", "top-support"),
    ("filler-right", "top-support"),
    ("top-support", "top"),
    ("kick-{}", "baseboard-back"),
    ("pulls", "take-off"),
    ("fronts", "take-off"),
    ("kick-{}", "take-off"),
    ("shelves", "take-off"),
    ("shelf-frames", "take-off"),
    ("baseboard-back", "take-off"),
    ("top", "take-off"),
    ("take-off", "fill"),
    ("take-off", "sand-bare"),
    ("fill", "prime"),
    ("prime", "sand-primer"),
    ("sand-primer", "caulk"),
    ("sand-primer", "first-coat"),
    ("caulk", "first-coat"),
    ("first-coat", "second-coat"),
    ("sand-bare", "stain"),
    ("sand-bare", "first-clear"),
    ("stain", "first-clear"),
    ("first-clear", "second-clear"),
    ("second-coat", "put-back"),
    ("second-clear", "put-back"),
    ("put-back", "appliances"),
];

/// Plans that have what the examples lack: a corner panel with a box alone on each run; fronts that are stained.
fn more() -> Vec<Job> {
    let odd = r#"(name: "odd", units: Millimetre, room: (left_wall: 3000, right_wall: 3000),
        joinery: (shelves: Pins(2), shelf_frame: (stile: 40, rail: 30)),
        slides: { "s": (length: 450) }, pulls: { "none": Absent },
        left: (units: [EndPanel(), Drawers(width: 600, fronts: Equal(3))], ends_at: Open),
        right: (units: [OpenShelves(width: 600, shelves: 2)], ends_at: Open),
        corner: (left: Fixed(60), right: Fixed(60)))"#;
    vec![job("odd.ron", odd)]
}

#[test]
fn what_must_come_first_comes_first() {
    let jobs: Vec<_> = examples().into_iter().chain(more()).collect();
    for (first, then) in FIRST_THEN {
        let mut met = false;
        for job in &jobs {
            for side in Side::BOTH {
                let [first, then] = [first, then].map(|word| word.replace("{}", side.word()));
                if job.has(&first) && job.has(&then) {
                    met = true;
                    assert!(job.waits(&then, &first), "{}: {then} does not wait for {first}", job.plan.name);
                }
            }
        }
        assert!(met, "no plan has both {first} and {then}");
    }
}

#[test]
fn the_corner_comes_first_and_the_runs_go_outward_from_it() {
    for job in examples().into_iter().chain(more()) {
        let Some((corner, _)) = job.step("corner") else { panic!("{} has no corner", job.plan.name) };
        for side in Side::BOTH {
            let boxes = job.carcasses(side);
            let name = |unit: usize| format!("set-{}-{}", side.word(), unit + 1);
            let places: Vec<_> = boxes.iter().map(|&unit| job.step(&name(unit)).unwrap().0).collect();
            assert!(places.is_sorted(), "{}", job.plan.name);
            // The first stands before the corner is squared, its neighbours after it and after the blocks are in. Where an
            // appliance stands at the corner, no box does.
            let is_first = |unit: &UnitKind| *unit != UnitKind::EndPanel;
            let at_corner = job.plan.run(side).units.iter().position(|unit| is_first(&unit.kind)) == Some(boxes[0]);
            assert_eq!(places[0] < corner, at_corner, "{}", job.plan.name);
            assert!(places[1..].iter().all(|place| *place > corner), "{}", job.plan.name);
            let first = &name(boxes[0]);
            assert!(job.waits("corner", first) == at_corner && job.waits(first, "dry-fit"), "{}", job.plan.name);
            let checked = format!("check-{}", side.word());
            assert!(boxes.iter().all(|&unit| job.waits(&checked, &name(unit))), "{}", job.plan.name);
            for pair in boxes.windows(2) {
                assert!(job.waits(&name(pair[1]), &name(pair[0])));
                let blocks = format!("blocks-{}", side.word());
                assert!(!job.has(&blocks) || job.waits(&name(pair[1]), &blocks), "{}", job.plan.name);
                assert!(!job.has("corner-stiles") || job.waits(&name(pair[1]), "corner-stiles"));
            }
        }
    }
}

#[test]
fn blocks_go_in_before_anything_closes_the_way_to_their_screws() {
    for job in examples() {
        for block in job.model.parts.iter().filter(|part| part.role == Role::BackingBlock) {
            let own = job.of_part(block).id.to_string();
            let inside = |part: &&Part| {
                let drawer = matches!(part.role, Role::BoxSide | Role::DrawerFront | Role::DoorFront);
                let neighbour = part.role == Role::CarcassSide && part.unit > Some(0);
                part.run == block.run && ((drawer && part.unit == Some(0)) || neighbour)
            };
            for part in job.model.parts.iter().filter(inside) {
                assert!(job.waits(&job.of_part(part).id.to_string(), &own), "{}: {}", job.plan.name, part.name);
            }
        }
    }
}

#[test]
fn a_kick_cover_goes_in_before_the_panel_that_would_trap_its_end_and_the_lapping_one_first() {
    let mut trapped = 0;
    for job in examples() {
        let covers: Vec<_> = job.model.parts.iter().filter(|part| part.role == Role::KickCover).collect();
        for cover in &covers {
            let along = job.model.run(cover.run.unwrap()).along;
            let at_far_end =
                |part: &&Part| part.run == cover.run && (part.extent(along)[0] - cover.extent(along)[1]).abs() < 1e-6;
            // A panel at the corner holds the filler, and stands before either.
            let traps = |part: &&Part| part.role == Role::EndPanel && part.unit != Some(0);
            for panel in job.model.parts.iter().filter(traps).filter(at_far_end) {
                trapped += 1;
                assert!(job.waits(&job.of_part(panel).id.to_string(), &job.of_part(cover).id.to_string()));
            }
        }
        if job.plan.run_angle_deg() <= 90.0 {
            let laps = job.plan.corner.laps;
            for word in ["kick", "filler"] {
                let [first, next] = [laps, laps.other()].map(|side| format!("{word}-{}", side.word()));
                assert!(!job.has(&first) || !job.has(&next) || job.waits(&next, &first), "{}", job.plan.name);
            }
        }
    }
    assert!(trapped >= 2, "the examples trap {trapped}");
}

#[test]
fn an_end_panel_is_fixed_to_units_that_stand_and_before_fronts_and_top() {
    for job in examples().into_iter().chain(more()) {
        for panel in job.model.parts.iter().filter(|part| part.role == Role::EndPanel) {
            let own = job.of_part(panel).id.to_string();
            let side = panel.run.unwrap().word();
            let in_corner = panel.unit == Some(0);
            // In the corner the block is screwed through it; elsewhere it is fitted to what stays where it is.
            let [before, later] = if in_corner {
                // An appliance beside it is no unit that stands: then it is fixed to cleats.
                let beside = Some(format!("set-{side}-2")).filter(|id| job.has(id));
                [beside.unwrap_or_else(|| "dry-fit".to_owned()), format!("blocks-{side}")]
            } else {
                [format!("fix-{side}"), "fronts".to_owned()]
            };
            assert!(job.waits(&own, &before), "{}", job.plan.name);
            assert!(job.waits(&later, &own), "{}", job.plan.name);
            assert!(!job.has("top-support") || job.waits("top-support", &own));
            assert!(!job.has("baseboard-back") || job.waits("baseboard-back", &own));
        }
    }
}

#[test]
fn until_a_unit_is_fixed_every_step_at_it_says_that_it_can_tip() {
    for job in examples() {
        for side in Side::BOTH.map(Side::word) {
            let Some((fixed, step)) = job.step(&format!("fix-{side}")) else { continue };
            assert!(step.cautions.contains(&Caution::TipOver));
            let at_it = |step: &&Step| {
                let id = step.id.to_string();
                let ours = ["set", "join", "check", "blocks"].iter().any(|w| id.starts_with(&format!("{w}-{side}")));
                ours || id == "corner" || id == "dry-fit"
            };
            for step in job.steps[..fixed].iter().filter(at_it) {
                assert!(step.cautions.contains(&Caution::TipOver), "{}", step.id);
            }
        }
    }
}

#[test]
fn cautions_stand_where_someone_can_be_hurt() {
    for job in examples() {
        for step in &job.steps {
            let id = step.id.to_string();
            let says = |caution| step.cautions.contains(&caution);
            if id.starts_with("fix-") || id == "services" || id == "top-support" {
                assert!(says(Caution::Studs) && says(Caution::Wires) && says(Caution::Pipes), "{id}");
            }
            if step.tools.iter().any(|tool| tool.contains("saw") || tool.contains("plane")) {
                assert!(says(Caution::Blades), "{id}");
            }
            if step.tools.iter().any(|tool| tool.contains("drill") || tool.contains("saw")) {
                assert!(says(Caution::Eyes) || id == "dry-fit" && says(Caution::Dust), "{id}");
            }
            if id.starts_with("sand") || id == "fill" {
                assert!(says(Caution::Dust), "{id}");
            }
            if step.lift_kg.is_some_and(|kg| kg > 23.0) {
                assert!(says(Caution::Lifting), "{id}");
            }
            if step.id.coats() {
                assert!(says(Caution::Vapours) && !step.drying.is_empty(), "{id}");
            }
            for drying in &step.drying {
                assert!(0.0 < drying.least_hours && drying.least_hours < drying.most_hours, "{id}");
            }
        }
        for id in ["old-paint", "services"] {
            assert!(!job.must(id).cautions.is_empty());
        }
        let text: String = install_text(&Installation::of(&job.plan, &job.model), &[InstallList::Order])
            .into_iter()
            .map(|l| l.1)
            .collect();
        assert!(text.contains("Local codes") && text.contains("licensed"), "{}", job.plan.name);
    }
}

// Common practice, no source: 18 mm plywood carcasses at 680 kg/m³, fronts and solid wood at 700, lumber at 480, from memory.
#[test]
fn what_is_lifted_weighs_what_its_boards_do() {
    for job in examples() {
        for step in job.steps.iter().filter(|step| step.id.to_string().starts_with("set-")) {
            let own = job.plan.stock.items.iter().all(|item| item.density.is_none());
            assert!(own, "the sum below takes the usual densities");
            let kg: f64 = step
                .parts
                .iter()
                .map(|&id| job.model.part(id))
                .map(|part| {
                    let density = match stuff_of(part) {
                        Some(Stuff::Panel | Stuff::ThinPanel | Stuff::Box) => 680.0,
                        Some(Stuff::Front | Stuff::Solid) => 700.0,
                        Some(Stuff::Lumber) => 480.0,
                        other => panic!("{other:?} in {}", step.id),
                    };
                    part.volume() / 1e9 * density
                })
                .sum();
            close(step.lift_kg.unwrap(), kg, 1e-9);
        }
    }
}

#[test]
fn screws_and_fittings_are_those_of_the_hardware_list() {
    for job in examples() {
        let list = hardware_list(&job.model, &job.plan);
        let mut compared = 0;
        for item in &list {
            let used: Vec<_> =
                job.steps.iter().flat_map(|step| &step.fasteners).filter(|one| one.what == item.what).collect();
            // Wall screws are counted by the survey's studs here, and lengths there take a usual wall.
            if used.is_empty() || item.what == "screw, nailer to stud" {
                continue;
            }
            compared += 1;
            let count: usize = used.iter().map(|one| one.count).sum();
            assert_eq!(item.count, Count::Pieces(count), "{}: {}", job.plan.name, item.what);
            for fastener in used {
                if let (Some(length), Some(most)) = (item.length, fastener.most) {
                    assert!(length <= most, "{}: {}", job.plan.name, item.what);
                }
            }
        }
        assert!(compared >= 4, "{}: {compared}", job.plan.name);
        let slides: usize = list
            .iter()
            .filter(|item| item.what.starts_with("slide "))
            .map(|item| match item.count {
                Count::Pairs(pairs) => pairs,
                _ => 0,
            })
            .sum();
        let in_order: usize = job
            .steps
            .iter()
            .flat_map(|step| &step.fasteners)
            .filter(|one| one.what == "slide, pair")
            .map(|one| one.count)
            .sum();
        assert_eq!(slides, in_order);
    }
}

// Sums done by hand, common practice, no source. Fillers 2-3/8 and 2-5/8, faces 3/4 flush with the carcass, left laps
// right: seen 2-3/8 and 2-5/8. Covers 1/2, set back 3, far ends flush with the units: seen 30 + 2-3/8 + 3 = 35-3/8 and
// 18 + 2-5/8 + 3 = 23-5/8. Fronts 30 = 6 + 12 + 12 high, 29-7/8 and 17-7/8 wide, 3/4 thick.
const BY_HAND: &str = r#"(
    name: "by hand", units: Inch,
    room: (left_wall: 120, right_wall: 120, ceiling: 96),
    construction: (
        base: IntegralKick, height: 34.5, depth: 24, panel: 0.75, back: 0.25, edge_strip: 0.25, top: FrontStretcher,
        kick_height: 4, kick_setback: 3, kick_cover: 0.5, face: Frameless, fronts: Overlay, front: 0.75,
        bumper: 0, reveal: (side: 0.0625, top: 0.25, between: 0.125, bottom: 0),
    ),
    joinery: (strips: TakenOff, strip_edges: [Sides, Bottom, Top]),
    pulls: { "none": Absent }, slides: { "full": (length: 21) },
    left: (units: [Drawers(width: 30, fronts: [6, 12, 12])], ends_at: Open),
    right: (units: [Drawers(width: 18, fronts: [6, 12, 12])], ends_at: Open),
    countertop: (thickness: 1.5, overhang: 1),
    corner: (left: Fixed(2.375), right: Fixed(2.625), laps: Left, face: 0.75, block: 1.5),
)"#;

#[test]
fn the_area_to_paint_is_the_one_worked_by_hand() {
    let job = job("by-hand.ron", BY_HAND);
    let slab = |w: f64, h: f64| 2.0 * (w * h + w * 0.75 + h * 0.75);
    let fronts: f64 = [29.875, 17.875].iter().flat_map(|&w| [6.0, 12.0, 12.0].map(|h| slab(w, h))).sum();
    let fillers = (2.375 + 2.625) * 30.5;
    // Each cover's far end is seen too: 1/2 by 4.
    let covers = (35.375 + 23.625) * 4.0 + 2.0 * 0.5 * 4.0;
    let areas = &job.must("first-coat").areas;
    assert_eq!(areas.len(), 1, "carcasses are clear by default");
    close(areas[0].mm2 / (MM_PER_INCH * MM_PER_INCH), fronts + fillers + covers, 1e-6);
    for id in ["fill", "prime", "sand-primer", "second-coat"] {
        assert_eq!(&job.must(id).areas, areas, "{id}");
    }
}

// The faces meet over 34-1/2 − 4 = 30-1/2; the covers over 4; the top meets the faces from below over 2-3/8 and 2-5/8, the
// left wall over 24 + 2-3/8 + 30 = 56-3/8, the right wall over its left piece's end, 25, and from there to
// 24 + 2-5/8 + 18 = 44-5/8: 19-5/8. The floor is of boards, so nothing there; carcasses are clear, so nothing beside them.
#[test]
fn the_caulk_is_the_one_worked_by_hand() {
    let job = job("by-hand.ron", BY_HAND);
    let caulk = &job.must("caulk").caulk;
    let mut inches: Vec<f64> = caulk.iter().map(|joint| joint.length / MM_PER_INCH).collect();
    inches.sort_by(f64::total_cmp);
    let expected = [2.375, 2.625, 4.0, 19.625, 25.0, 30.5, 56.375];
    assert_eq!(inches.len(), expected.len(), "{inches:?}");
    for (got, want) in inches.iter().zip(expected) {
        close(*got, want, 1e-6);
    }
    // On a tiled floor the covers' feet are caulked too, over 35-7/8 and 23-5/8: the lapping one's end counts.
    let tiled = BY_HAND.replace("countertop: (", "finishes: (floor: Tile(colour: \"white\")), countertop: (");
    let tiled = crate::order::job("tiled.ron", &tiled);
    let more: f64 = tiled.must("caulk").caulk.iter().map(|joint| joint.length / MM_PER_INCH).sum();
    close(more, expected.iter().sum::<f64>() + 35.875 + 23.625, 1e-6);
}

#[test]
fn a_filler_s_caulk_under_the_top_is_as_long_as_its_face_is_seen() {
    let mut met = 0;
    for job in examples() {
        let seen = FillersSeen::of(&job.model);
        for joint in job.steps.iter().flat_map(|step| &step.caulk) {
            let [part, meets] = [joint.part, joint.meets].map(|id| job.model.part(id));
            if part.role == Role::FillerFace && meets.role == Role::Countertop {
                met += 1;
                close(joint.length, seen.of_side(part.run.unwrap()).to_mm(), 1e-6);
            }
        }
    }
    assert!(met > 0);
}

#[test]
fn only_fixed_joints_of_painted_work_are_caulked() {
    for job in examples() {
        for joint in job.steps.iter().flat_map(|step| &step.caulk) {
            assert!(joint.length > 0.0);
            let parts = [joint.part, joint.meets].map(|id| job.model.part(id));
            for part in parts {
                assert!(part.mover.is_none(), "{} opens", part.name);
                let wood = !matches!(part.role, Role::Wall | Role::EndWall | Role::Floor | Role::Countertop);
                let finish = elbowroom::model::finish::finish(&job.plan, &job.model, part);
                assert!(!wood || finish.unwrap().kind() == "Painted", "{}", part.name);
                let clipped = job.plan.construction.base == Base::Legs;
                assert!(!clipped || part.role != Role::KickCover, "{} comes off", part.name);
            }
            let on_floor = parts.iter().any(|part| part.role == Role::Floor);
            assert!(!on_floor || job.plan.finishes.floor.kind() != "Boards", "{}", job.plan.name);
        }
    }
}

#[test]
fn kick_covers_clipped_to_legs_are_not_caulked_and_those_that_stay_are() {
    let with = |base: &str| {
        let text = BY_HAND.replace("IntegralKick", base);
        let job = job("base.ron", &text);
        job.must("caulk").caulk.iter().filter(|joint| job.model.part(joint.part).role == Role::KickCover).count()
    };
    assert_eq!((with("IntegralKick"), with("LevelledBase"), with("Legs")), (1, 1, 0));
}

#[test]
fn paint_stain_and_varnish_each_have_their_own_schedule() {
    let with = |fronts: &str| {
        let text = BY_HAND.replace("countertop: (", &format!("finishes: (fronts: {fronts}), countertop: ("));
        let job = job("finish.ron", &text);
        let last = job.steps.iter().map(|step| step.id.to_string());
        last.skip_while(|id| id != "take-off").collect::<Vec<_>>()
    };
    let painted = ["take-off", "fill", "prime", "sand-primer", "caulk", "first-coat", "second-coat", "put-back"];
    assert_eq!(with("Painted(colour: \"sage\")"), painted);
    assert_eq!(with("Wood(species: Oak)"), ["take-off", "sand-bare", "first-clear", "second-clear", "put-back"]);
    assert_eq!(
        with("Stained(species: Oak, colour: \"brown\")"),
        ["take-off", "sand-bare", "stain", "first-clear", "second-clear", "put-back"]
    );
}

#[test]
fn a_clear_frame_round_painted_fronts_is_varnished_and_not_painted() {
    let (name, text) = EXAMPLES[1];
    let mixed = text
        .replace("fronts: Wood(species: Cherry),", "fronts: Painted(colour: \"sage\"), frames: Wood(species: Cherry),");
    assert_ne!(mixed, text);
    let job = job(name, &mixed);
    let surfaces = |id: &str| job.must(id).areas.iter().map(|area| area.surface.field()).collect::<Vec<_>>();
    assert_eq!(surfaces("first-coat"), ["fronts"]);
    assert_eq!(surfaces("first-clear"), ["frames"]);
}

// Pythagoras: a unit 30 wide with a carcass 30-1/2 high above its kick; the far front edges of the corner boxes stand
// 24 + 2-3/8 + 30 and 24 + 2-5/8 + 18 along their runs, each 24 out.
#[test]
fn diagonals_to_check_are_the_ones_worked_by_hand() {
    let job = job("by-hand.ron", BY_HAND);
    let sizes = |id: &str, what: &str| -> Vec<f64> {
        let checks = job.must(id).checks.iter().filter(|check| check.what.contains(what));
        checks.map(|check| check.size.unwrap().to_mm() / MM_PER_INCH).collect()
    };
    close(sizes("set-left-1", "carcass front")[0], f64::hypot(30.0, 30.5), 1e-9);
    close(sizes("set-left-1", "from above")[0], f64::hypot(30.0, 24.0), 1e-9);
    close(sizes("set-right-1", "carcass front")[0], f64::hypot(18.0, 30.5), 1e-9);
    // The left far edge lies at (56-3/8, 24), the right one at (24, 44-5/8).
    close(sizes("corner", "far front edge")[0], f64::hypot(56.375 - 24.0, 44.625 - 24.0), 1e-9);
    close(sizes("corner", "near front edge")[0], f64::hypot(2.375, 2.625), 1e-9);
}

// Studs every 16 in from one at 4: behind a unit from 24 + 2-3/8 = 26-3/8 to 56-3/8 those at 36 and 52; behind one from
// 26-5/8 to 44-5/8 the one at 36. Two nailers each.
#[test]
fn wall_screws_are_counted_at_the_studs_of_the_survey() {
    let mut plan = plan::read("by-hand.ron", BY_HAND).unwrap();
    let inch = Length::inches;
    plan.room.survey.left.studs = plan::Studs::Spaced { one_at: inch(4.0), spacing: inch(16.0) };
    plan.room.survey.right.studs = plan::Studs::At([4.0, 20.0, 36.0, 52.0].map(inch).to_vec());
    let model = Model::build(&plan, clearance::least_fillers(&plan));
    let steps = order(&plan, &model);
    let screws = |id: &str| {
        let step = steps.iter().find(|step| step.id.to_string() == id).unwrap();
        (step.fasteners[0].count, step.fasteners[0].least.unwrap().to_mm() / MM_PER_INCH)
    };
    assert_eq!(screws("fix-left").0, 4);
    assert_eq!(screws("fix-right").0, 2);
    // 3/4 nailer, 1/4 back, 1/2 board, 1-1/4 bite.
    close(screws("fix-left").1, 2.75, 1e-9);
}

#[test]
fn a_run_against_a_wall_is_caulked_to_it_only_where_its_last_piece_reaches() {
    for job in examples() {
        for joint in job.steps.iter().flat_map(|step| &step.caulk) {
            let [part, meets] = [joint.part, joint.meets].map(|id| job.model.part(id));
            if meets.role == Role::EndWall && part.role != Role::Countertop {
                let side = part.run.unwrap();
                assert_eq!(job.plan.run(side).ends_at, FarEnd::Wall);
                assert!(job.model.run(side).left_over <= part.work.left_on.into_iter().fold(1.6, f64::max));
            }
        }
    }
}

#[test]
fn the_json_has_every_step_with_the_same_names() {
    for (name, text) in EXAMPLES {
        let out = command::install(name, text, Some(InstallList::Order), Style::Json).unwrap().text;
        let value: serde_json::Value = serde_json::from_str(&out).unwrap();
        let ids: Vec<_> = value["order"]["steps"].as_array().unwrap().iter().map(|step| step["id"].clone()).collect();
        assert_eq!(ids, job(name, text).steps.iter().map(|step| step.id.to_string()).collect::<Vec<_>>());
    }
}

#[test]
fn the_demo_s_order_of_work() {
    let text = command::install("demo", command::DEMO, Some(InstallList::Order), Style::Plain).unwrap().text;
    insta::assert_snapshot!(text);
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn every_corner_has_an_order_that_keeps_its_own_rules(corner in corners()) {
        let plan = corner.plan();
        let model = Model::build(&plan, clearance::least_fillers(&plan));
        let steps = order(&plan, &model);
        let job = Job { plan, model, steps };
        assert_every_part_once(&job);
        assert_nothing_comes_too_soon(&job);
    }
}
