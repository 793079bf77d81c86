//! Everything that the reader takes can be edited, and what the form offers can be read.

use std::collections::{BTreeMap, BTreeSet};

use elbowroom::clearance;
use elbowroom::plan::form::{Form, Row, What, form};
use elbowroom::plan::template::TEMPLATES;
use elbowroom::plan::write::{Edit, PlanPath, Refused, apply};
use elbowroom::plan::{self, Plan, Problem};

use crate::plans::EXAMPLES;

/// A plan with something of everything that the reader takes.
pub(crate) const EVERYTHING: &str = r#"(
    units: Millimetre,
    room: (left_wall: 9000, right_wall: 9000, baseboard: (height: 90, thickness: 15), obstacles: [
        (name: "pipe", wall: Right, along: 8000, width: 60, depth: 60, height: 2000),
        (name: "island", wall: Left, along: 3000, out: 1800, width: 900, depth: 600, height: 850, opens: [
            Drawer(width: 400, above: 500, height: 300, opens_by: 450),
            Door(from: 450, width: 400, height: 800, pull: 30),
        ]),
    ], doors: [(wall: Left, along: 7000, width: 800)], survey: (
        left: (
            readings: [(along: 0, height: 100, gap: 12), (along: 900, height: 100, gap: 9.5)],
            between: Curved,
            plumb: [(along: 300, over: 1800, back_by: -4)],
            lengths: (floor: 9000, middle: 9004, top: 9010),
            studs: [400, 800],
            made_of: Framed(board: 15),
            fixtures: [
                Outlet(along: 700, above: 300),
                JunctionBox(name: "old box", along: 1000, above: 300, width: 100),
                Pipe(along: 1200, above: 300, width: 40, height: 40, out: 50),
                Gas(along: 1300, above: 300, width: 40, height: 40),
            ],
        ),
        right: (
            studs: Spaced(one_at: 410, spacing: 406),
            fixtures: [
                Valve(along: 700, above: 300, width: 60, height: 60),
                Register(along: 1000, above: 60, width: 300, height: 100),
                Casing(along: 4000, above: 1000, width: 90, height: 2000, out: 18),
                Sill(along: 5000, above: 1100, width: 900, height: 30, out: 40),
            ],
        ),
        corner: Triangle(left: 900, right: 1200, across: 1500),
        floor: [(wall: Left, along: 0, level: 0), (wall: Right, along: 3000, out: 500, level: -6)],
        flooring: 12,
        way_in: (width: 760, height: 2000, turn: 900),
    )),
    run_angle: Degrees(90),
    construction: (face: FaceFrame(stile: 40), reveal: (side: 2), hinges: Butt(pin_out: 5)),
    joinery: (
        bottom: Dado(8), shelves: Pins(2), back: Rabbet(8), box_corners: Rabbet(5), strip_edges: [Sides, Top],
        shelf_frame: (stile: 30),
    ),
    stock: (
        kerf: 3,
        cuts: Free,
        currency: "EUR",
        sheets: { "ply": (of: Panel, price: 64.5, count: 3) },
        boards: { "oak": (of: Solid, sold_as: 25, density: 700) },
    ),
    pulls: {
        "bar": Bar(length: 160, projection: 32, holes: 128),
        "knob": Knob(across: 32, projection: 28, square: true, finish: Wood(species: Beech)),
        "lip": Edge(projection: 20),
        "none": Absent,
    },
    slides: { "full": (length: 450, extension: Travel(440), mount: UnderMount), "short": (length: 400, holes: [37, 261], droop: 3) },
    left: (
        units: [
            Drawers(width: 600, fronts: [150, Rest], pulls: ["bar", "knob"], slide: "full", box_heights: [80, 200]),
            Drawers(width: 600, fronts: Equal(3), pull: "lip", slide: "short"),
            OpenShelves(width: 500),
            EndPanel,
            Door(width: 500, height: 2100, pull: "none", shelves: 3),
            EndPanel(height: 2100),
        ],
        ends_at: Casing(width: 90, thickness: 18),
        depth: 560,
    ),
    right: (
        units: [
            Door(width: 450, pull: "none", hinges: Knife(inset: 8, behind: 6), pull_outs: (count: 2, slide: "short")),
            DrawerOverDoor(
                width: 500, drawer: 150, pull: "bar", door_pull: "knob", slide: "full", hinges: Concealed(cup: 4),
            ),
            ApplianceSpace(width: 600, door: (bottom: 110)),
        ],
    ),
    countertop: (thickness: 30),
    corner: (left: Fixed(90), right: Least),
    clearance: (wanted: 10),
    fixing: (line: Parallel, screws: [60, 80], shim_also: [(wall: Right, along: 500)]),
    tolerances: (run_angle: 0.3, filler_cut: 0.4),
    wood: (
        fronts: Solid(timber: RedOak, made_at: 9),
        driest: (humidity: 25),
        paint_build: 0.1,
        panel: Solid(timber: WhiteAsh),
        load: 60,
    ),
    finishes: (
        fronts: Stained(species: Ash, colour: "brown"),
        carcass: Painted(colour: "white"),
        pulls: Metal(kind: Copper),
        countertop: Stone(kind: Marble),
        walls: Tile(colour: "ivory"),
        floor: Boards(species: Pine),
        woodwork: Wood(species: Oak),
    ),
)
"#;

/// What [`EVERYTHING`] cannot say as well, in inches: a corner measured by both diagonals, a masonry wall.
pub(crate) const BY_DIAGONALS: &str = r#"(
    units: Inch,
    room: (left_wall: 120, right_wall: 160, survey: (
        left: (made_of: Masonry, readings: [(along: 24, height: 4, gap: "1-13/16")]),
        right: (made_of: Framed, studs: Unknown, lengths: Absent),
        corner: Diagonals(left: 120, right: 160, opposite_left: 120, opposite_right: 160, across: 200, through: 200),
        way_in: Absent,
    )),
    pulls: { "knob": Knob(across: "1 1/4", projection: 1) },
    slides: { "full 21": (length: 21) },
    left: (units: [Drawers(width: 30, fronts: Equal(3))]),
    right: (units: [Door(width: 18)]),
)
"#;

/// Every good text that there is.
pub(crate) fn texts() -> Vec<&'static str> {
    EXAMPLES
        .into_iter()
        .map(|(_, text)| text)
        .chain(TEMPLATES.map(|template| template.text))
        .chain([EVERYTHING, BY_DIAGONALS])
        .collect()
}

pub(crate) fn path(text: &str) -> PlanPath {
    text.parse().unwrap()
}

pub(crate) fn set(at: &str, value: &str) -> Edit {
    Edit::Set { at: path(at), value: value.to_owned() }
}

#[track_caller]
pub(crate) fn read(text: &str) -> Plan {
    match plan::read("plan.ron", text) {
        Ok(plan) => plan,
        Err(problems) => panic!("{}\n{text}", problems.lines().join("\n")),
    }
}

pub(crate) fn form_of(text: &str) -> Form {
    form(text, &read(text))
}

/// Every row, from the outside in.
pub(crate) fn rows(form: &Form) -> Vec<Row> {
    let mut rows = Vec::new();
    form.plan.walk(&mut |row| rows.push(row.clone()));
    rows
}

#[track_caller]
pub(crate) fn made(text: &str, edit: &Edit) -> String {
    match apply("plan.ron", text, edit) {
        Ok((text, _)) => text,
        Err(refused) => panic!("{refused}: {}", refused.problems.lines().join("\n")),
    }
}

#[track_caller]
pub(crate) fn pretty(got: &str, expected: &str) {
    let differs = got.split_inclusive('\n').zip(expected.split_inclusive('\n')).find(|(got, expected)| got != expected);
    assert!(got == expected, "differs first in {differs:?}; got:\n{got}");
}

pub(crate) fn refused(text: &str, edit: &Edit) -> Refused {
    match apply("plan.ron", text, edit) {
        Ok((text, _)) => panic!("the edit was made:\n{text}"),
        Err(refused) => refused,
    }
}

/// Words between backquotes.
fn words(text: &str) -> BTreeSet<String> {
    text.split('`').skip(1).step_by(2).map(str::to_owned).collect()
}

/// The names of fields that the reader tells when it meets one it does not know, with what they are fields of.
fn told_fields(problem: &Problem) -> Option<(String, BTreeSet<String>)> {
    let what = problem.message.strip_suffix(" has no field `qqqqqqqq`")?;
    Some((what.to_owned(), words(problem.help.strip_prefix(&format!("the fields of {what} are "))?)))
}

#[test]
fn the_form_has_every_field_that_the_reader_asks_for_and_no_other() {
    let (mut asked, mut shown) = (BTreeMap::new(), BTreeMap::new());
    for text in texts() {
        for row in rows(&form_of(text)) {
            let word = match row.what {
                What::Group => "",
                What::Choice { chosen: Some(word), .. } => word,
                _ => continue,
            };
            let has_fields = row.rows.iter().all(|inner| inner.path != row.path)
                && row.given.as_ref().is_none_or(|given| !given.starts_with('['));
            if !has_fields || matches!(row.what, What::Choice { .. }) && row.rows.is_empty() {
                continue;
            }
            let probe = set(&row.path.field("qqqqqqqq").to_string(), "1");
            let refused = refused(text, &probe);
            let told = refused.problems.list().iter().find_map(told_fields);
            let (what, names) = told.unwrap_or_else(|| panic!("{}: {:?}", row.path, refused.problems.lines()));
            let own = row.rows.iter().map(|row| field_name(row.path.steps().last().unwrap()));
            asked.entry((what.clone(), word)).or_insert_with(BTreeSet::new).extend(names);
            shown.entry((what, word)).or_insert_with(BTreeSet::new).extend(own);
        }
    }
    assert_eq!(shown, asked);
    // The plan, a room, a baseboard, an obstacle, a drawer and a door of one, a construction, a face frame, a reveal, a
    // joinery, the wood, a front of solid wood, the driest and the dampest air, a shelf frame, a
    // stock, a sheet, a board, a countertop, a corner, a clearance, the tolerances, three pulls, a slide, a run, a casing, six
    // units, three kinds of hinges, pull-out shelves, an appliance's door, a room's door, the finishes and seven kinds of
    // them. Of the survey: itself, a wall, a gap, a plumb reading, three lengths, a row of studs, a framed wall, eight
    // fixtures, a triangle, a pair of diagonals, a level, a way in; a fixing and a place for a shim.
    assert_eq!(asked.len(), 48 + 21, "{:?}", asked.keys());
    for broken in [include_str!("../broken/many-faults.ron"), include_str!("../broken/does-not-fit.ron")] {
        for problem in plan::read("broken.ron", broken).unwrap_err().list() {
            let Some((what, _)) = problem.message.split_once(" has no field ") else { continue };
            assert!(asked.keys().any(|(known, _)| known == what), "the form knows no {what}");
        }
    }
}

fn field_name(step: &plan::write::Step) -> String {
    match step {
        plan::write::Step::Field(name) => name.clone(),
        other => panic!("{other:?} is no field"),
    }
}

#[test]
fn the_form_has_every_choice_that_the_reader_takes_and_no_other() {
    let mut seen = 0;
    for text in texts() {
        for row in rows(&form_of(text)) {
            let own: BTreeSet<_> = match row.what {
                What::Choice { choices, .. } => choices.iter().map(|choice| choice.word.to_owned()).collect(),
                What::YesNo => ["true", "false"].map(str::to_owned).into(),
                _ => continue,
            };
            if own.contains("Rest") {
                continue;
            }
            let refused = refused(text, &set(&row.path.to_string(), "Qqqqqqqq"));
            let told = refused.here().find(|problem| problem.code == "plan::choice");
            let help = told.map(|problem| problem.help.as_str()).unwrap_or_else(|| panic!("{}", row.path));
            let expected = match help.strip_prefix("write `Absent` or ") {
                Some(_) => ["Absent".to_owned(), String::new()].into(),
                None => words(help),
            };
            // Heights one by one stand in a list, which has no word.
            let own: BTreeSet<_> = own.into_iter().filter(|word| !word.is_empty() || expected.contains("")).collect();
            assert_eq!(own, expected, "{}", row.path);
            seen += 1;
        }
    }
    assert!(seen > 200, "{seen}");
}

#[test]
fn what_the_form_calls_usual_is_what_the_reader_takes() {
    let mut seen = 0;
    for text in texts() {
        let form = form_of(text);
        let before = read(text);
        for row in rows(&form).into_iter().filter(|row| row.given.is_none()) {
            let Some(usual) = &row.usual else { continue };
            if usual.source == "follows from the rest of the plan" || row.path.to_string() == "name" {
                continue;
            }
            let edit = match row.what {
                What::Length | What::Name(_) => form.typed(&row, &usual.text).unwrap(),
                _ => set(&row.path.to_string(), &usual.text),
            };
            let (_, mut after) = apply("plan.ron", text, &edit)
                .unwrap_or_else(|refused| panic!("{}: {}", row.path, refused.problems.lines().join("\n")));
            after.room.angle_measured = before.room.angle_measured;
            after.room.angle_read = before.room.angle_read;
            assert_eq!(after, before, "{}: {}", row.path, usual.text);
            seen += 1;
        }
    }
    assert!(seen > 200, "{seen}");
}

#[test]
fn every_row_has_a_label_and_a_sentence_and_a_place_that_reads_back() {
    for text in texts() {
        for row in rows(&form_of(text)) {
            assert!(!row.label.is_empty(), "{}", row.path);
            assert!(row.help.ends_with('.') && row.help.len() > 8, "{}: {}", row.path, row.help);
            assert_eq!(row.path.to_string().parse(), Ok(row.path.clone()));
        }
    }
}

#[test]
fn any_edit_that_the_form_offers_is_made_or_refused_with_a_reason() {
    const TYPED: [&str; 8] = ["0", "61", "2-3/8 in", "-1", "", "\"", "Rest", "99999"];
    let (mut done, mut not) = (0, 0);
    for text in texts() {
        let form = form_of(text);
        for row in rows(&form) {
            let mut edits: Vec<Edit> = TYPED.iter().filter_map(|input| form.typed(&row, input).ok()).collect();
            edits.extend(row.unset());
            match row.what {
                What::Choice { choices, .. } => {
                    edits.extend(choices.iter().map(|choice| form.chosen(&row, choice.word)));
                }
                What::List { choices, .. } => {
                    let words = choices.iter().map(|choice| choice.word).chain([""]);
                    edits.extend(words.flat_map(|word| [0, usize::MAX].map(|at| form.added(&row, at, word))));
                    edits.extend(row.rows.iter().map(|item| form.removed(item)));
                    edits.extend(row.rows.len().checked_sub(1).map(|to| Edit::Move {
                        list: row.path.clone(),
                        from: 0,
                        to,
                    }));
                }
                What::Set { choices, .. } => {
                    let words = choices.iter().map(|choice| choice.word).chain([""]);
                    edits.extend(words.map(|word| form.added_as(&row, "a \"new\" one", word)));
                    edits.extend(row.rows.iter().map(|entry| form.removed(entry)));
                    let rename =
                        |entry: &Row| Edit::Rename { at: entry.path.clone(), name: "other \\ name".to_owned() };
                    edits.extend(row.rows.iter().map(rename));
                }
                _ => {}
            }
            for edit in edits {
                match apply("plan.ron", text, &edit) {
                    Ok((text, plan)) => {
                        assert_eq!(read(&text), plan);
                        done += 1;
                    }
                    Err(refused) => {
                        assert!(!refused.problems.list().is_empty());
                        let told = refused.problems.list().iter();
                        let broken = told.filter(|problem| matches!(problem.code, "plan::syntax" | "plan::edit"));
                        assert_eq!(broken.count(), 0, "{edit:?}: {:?}", refused.problems.lines());
                        not += 1;
                    }
                }
            }
        }
    }
    assert!(done > 2_000 && not > 200, "{done} made, {not} refused");
}

#[test]
fn what_the_form_adds_and_chooses_can_be_read() {
    for (row, word) in [("left.units", "Drawers"), ("left.units", "DrawerOverDoor"), ("right.units", "ApplianceSpace")]
    {
        let form = form_of(EVERYTHING);
        made(EVERYTHING, &form.added(form.row(&path(row)).unwrap(), 0, word));
    }
    for (row, word) in [
        ("left.units[1].fronts", ""),
        ("left.units[0].fronts", "Equal"),
        ("left.units[0].fronts[1]", ""),
        ("left.units[1]", "DrawerOverDoor"),
        ("right.units[0]", "Drawers"),
        ("right.units[2]", "EndPanel"),
        ("left.units[3]", "Door"),
        ("pulls[\"none\"]", "Bar"),
        ("pulls[\"bar\"]", "Knob"),
        ("pulls[\"bar\"]", "Absent"),
        ("countertop", "Absent"),
        ("corner.right", "Fixed"),
        ("slides[\"full\"].extension", "Full"),
        ("right.ends_at", "Casing"),
        ("construction.face", "Frameless"),
        ("run_angle", "AlongWalls"),
    ] {
        let form = form_of(EVERYTHING);
        let row = form.row(&path(row)).unwrap();
        let text = made(EVERYTHING, &form.chosen(row, word));
        let What::Choice { chosen, .. } = form_of(&text).row(&row.path).unwrap().what else { panic!("{}", row.path) };
        assert_eq!(chosen, Some(word), "{}", row.path);
    }
    // Lists with one item for each drawer go together.
    let form = form_of(EVERYTHING);
    let text = made(EVERYTHING, &form.added(form.row(&path("left.units[0].fronts")).unwrap(), 1, ""));
    assert!(text.contains("[150, 150, Rest], pulls: [\"bar\", \"bar\", \"knob\"]"), "{text}");
    let form = form_of(&text);
    let again = made(&text, &form.removed(form.row(&path("left.units[0].fronts[1]")).unwrap()));
    pretty(&again, EVERYTHING);
    let start = form.added(form.row(&path("left.units[1].pulls")).unwrap(), 0, "");
    assert!(made(&text, &start).contains("pulls: [\"lip\", \"lip\", \"lip\"]"));
}

#[test]
fn what_a_builder_types_becomes_text_in_the_style_of_the_file() {
    for (text, at, typed, expected) in [
        (EXAMPLES[0].1, "construction.depth", "600", "600"),
        (EXAMPLES[0].1, "construction.depth", "600 mm", "600"),
        (EXAMPLES[0].1, "construction.depth", "23-1/2 in", "596.9"),
        (EXAMPLES[0].1, "construction.depth", "1/3 in", "\"1/3 in\""),
        (EXAMPLES[0].1, "construction.panel", "3/4 in", "\"3/4 in\""),
        (EXAMPLES[0].1, "construction.panel", ".5", "0.5"),
        (EXAMPLES[0].1, "corner.left", "62", "Fixed(62)"),
        (EXAMPLES[0].1, "room.angle", "88.9\u{b0}", "88.9"),
        (EXAMPLES[1].1, "construction.height", "5' 2\"", r#""5' 2\"""#),
        (EXAMPLES[1].1, "construction.height", "34", "\"34\""),
        (EXAMPLES[1].1, "construction.depth", "23-1/2", "23.5"),
        (EXAMPLES[0].1, "name", "  a \"b\" \\ ", r#""a \"b\" \\""#),
    ] {
        let form = form_of(text);
        let mut found = form.row(&path(at)).unwrap();
        if let What::Choice { .. } = found.what {
            found = &found.rows[0];
        }
        let Ok(Edit::Set { value, .. }) = form.typed(found, typed) else { panic!("{at} {typed}") };
        assert_eq!(value, expected, "{at} {typed}");
    }
    let form = form_of(EXAMPLES[0].1);
    for (at, typed) in [
        ("construction.depth", "wide"),
        ("construction.depth", ""),
        ("room.angle", "square"),
        ("left.units[1].shelves", "1.5"),
        ("left.units[0].pull", "bra"),
        ("name", " "),
        ("construction", "5"),
    ] {
        assert!(form.typed(form.row(&path(at)).unwrap(), typed).is_err(), "{at} {typed}");
    }
    let shown = |text: &str, at: &str| form_of(text).row(&path(at)).unwrap().shown();
    assert_eq!(shown(EXAMPLES[1].1, "room.right_wall").as_deref(), Some("11' 2-1/2\""));
    assert_eq!(form_of(EXAMPLES[0].1).row(&path("corner.left")).unwrap().rows[0].shown().as_deref(), Some("40"));
}

#[test]
fn every_template_opens_round_its_corner_as_it_is() {
    for template in TEMPLATES {
        let answer = clearance::answer(&read(template.text));
        assert!(answer.is_clear(), "{}", template.title);
        assert!(template.text.contains("Least"), "{}", template.title);
        assert!(template.text.contains("//"), "{}", template.title);
        assert!(template.about.ends_with('.'));
    }
}
