//! What is on screen is what is cut: a unit worked by hand to the last figure, in inches and in millimetres; every part once;
//! volumes that balance; and clear words about stock that does not serve. Common practice, no source; the sums of the worked
//! unit were checked by a second calculation.

use elbowroom::cutting::parts::{self, CutList, Row};
use elbowroom::cutting::rips::rip_list;
use elbowroom::cutting::{self, BAND, Demand, StockWord, stuff_of};
use elbowroom::length::{Length, Unit};
use elbowroom::model::{Cutting, Fillers, Model, Role};
use elbowroom::plan::{self, Plan, Side, Stuff};
use proptest::prelude::*;

use crate::laws::{config, corners};
use crate::plans::close;

const UNIT: &str = r#"(
    name: "worked by hand", units: UNITS,
    room: (left_wall: 120, right_wall: 120, ceiling: 96),
    construction: (
        base: IntegralKick, height: 34.5, depth: 24, panel: 0.75, back: 0.25, edge_strip: 0.25, nailer: 4, stretcher: 4,
        top: FrontStretcher, kick_height: 4, kick_setback: 3, kick_cover: 0, face: Frameless, fronts: Overlay, front: 0.75,
        bumper: 0, reveal: (side: 0.0625, top: 0.25, between: 0.125, bottom: 0), box_stock: 0.5, box_bottom: 0.25,
    ),
    joinery: (
        bottom: Dado(0.375), back: Rabbet(0.375), box_corners: Rabbet(0.25), box_groove: 0.25, box_play: 0.0625,
        strips: TakenOff, strip_edges: [Sides, Bottom, Top], front_grain: Level,
    ),
    pulls: { "bar": Bar(length: 5.5, thickness: 0.5, projection: 1.375) },
    slides: { "full": (length: 21, mount: SideMount, side: 0.5, under: 0.5, lift_out: 0.5, behind: 0.5, line: 0.875) },
    left: (
        units: [Drawers(width: 30, fronts: [6, 12, 12], box_heights: [4.5, 10, 10], pull: "bar", slide: "full")],
        ends_at: Open,
    ),
    right: (units: [ApplianceSpace(width: 24, depth: 23)], ends_at: Open),
    corner: (left: Fixed(3), right: Fixed(3), face: 0.75, block: 1.5),
    clearance: (wanted: 0.5, shop_step: 0.125),
)"#;

/// The plan in inches, or every number of it times 25.4.
fn worked(unit: Unit) -> Plan {
    let text = match unit {
        Unit::Inch => UNIT.replace("UNITS", "Inch"),
        Unit::Millimetre => {
            let mut text = String::new();
            let mut number = String::new();
            for c in UNIT.replace("UNITS", "Millimetre").chars() {
                if c.is_ascii_digit() || (c == '.' && !number.is_empty()) {
                    number.push(c);
                    continue;
                }
                if !number.is_empty() {
                    text += &format!("{:?}", number.parse::<f64>().unwrap() * 25.4);
                    number.clear();
                }
                text.push(c);
            }
            text
        }
    };
    match plan::read("worked.ron", &text) {
        Ok(plan) => plan,
        Err(problems) => panic!("{}\n{text}", problems.lines().join("\n")),
    }
}

fn build(plan: &Plan) -> Model {
    let filler = Length::mm(60.0);
    Model::build(plan, Fillers { left: filler, right: filler })
}

/// The rows of the one unit.
fn unit_rows<'l>(list: &'l CutList, model: &Model) -> Vec<&'l Row> {
    let own = |row: &&Row| model.part(row.parts[0]).unit == Some(0) && model.part(row.parts[0]).run == Some(Side::Left);
    list.rows().filter(own).collect()
}

// Inside 30 − 2 × 3/4 = 28-1/2. Bottom 28-1/2 + 2 × 3/8 = 29-1/4 by 24 − 1/4 strip − 1/4 back = 23-1/2. Back 29-1/4 by
// 34-1/2 − 4 = 30-1/2. Fronts 30-1/2 − 1/4 − 2 × 1/8 = 30 = 6 + 12 + 12, 30 − 2 × 1/16 = 29-7/8 wide. Box 28-1/2 − 2 × 1/2
// = 27-1/2 wide; ends 27-1/2 − 2 × 1/2 + 2 × 1/4 = 27; bottom 27-1/2 − 1 + 1/2 − 1/16 = 26-15/16 by 21 − 1 + 1/2 − 1/16 =
// 20-7/16.
const TABLE: [(Role, usize, [f64; 3]); 17] = [
    (Role::CarcassSide, 2, [34.5, 23.75, 0.75]),
    (Role::CarcassBottom, 1, [29.25, 23.5, 0.75]),
    (Role::Back, 1, [30.5, 29.25, 0.25]),
    (Role::Nailer, 2, [28.5, 4.0, 0.75]),
    (Role::Stretcher, 1, [28.5, 4.0, 0.75]),
    (Role::KickBoard, 1, [28.5, 4.0, 0.75]),
    (Role::DrawerFront, 1, [29.875, 6.0, 0.75]),
    (Role::DrawerFront, 2, [29.875, 12.0, 0.75]),
    (Role::BoxSide, 2, [21.0, 4.5, 0.5]),
    (Role::BoxEnd, 2, [27.0, 4.5, 0.5]),
    (Role::BoxSide, 4, [21.0, 10.0, 0.5]),
    (Role::BoxEnd, 4, [27.0, 10.0, 0.5]),
    (Role::BoxBottom, 3, [26.9375, 20.4375, 0.25]),
    (Role::EdgeStrip, 2, [30.5, 0.75, 0.25]),
    (Role::EdgeStrip, 2, [28.5, 0.75, 0.25]),
    // A pull is bought, and no more rows there are.
    (Role::Pull, 0, [0.0; 3]),
    (Role::Shelf, 0, [0.0; 3]),
];

#[test]
fn the_cut_list_of_a_unit_to_the_last_figure() {
    for unit in [Unit::Inch, Unit::Millimetre] {
        let model = build(&worked(unit));
        let list = parts::cut_list(&model);
        let rows = unit_rows(&list, &model);
        let expected = TABLE.iter().filter(|(_, quantity, _)| *quantity > 0);
        assert_eq!(rows.len(), expected.clone().count(), "{rows:#?}");
        for (role, quantity, size) in expected {
            let matches = |row: &&&Row| {
                let sized = row.cut.iter().zip(size).all(|(got, inches)| (got.to_mm() - inches * 25.4).abs() < 1e-6);
                row.role == *role && row.quantity() == *quantity && sized
            };
            assert_eq!(rows.iter().filter(matches).count(), 1, "{quantity} × {role:?} {size:?} in {rows:#?}");
        }
        // Strip in all 118 in (2,997.2 mm).
        let strips = rows.iter().filter(|row| row.role == Role::EdgeStrip);
        let sum: f64 = strips.map(|row| row.cut[0].to_mm() * row.quantity() as f64).sum();
        close(sum, 2997.2, 1e-6);
    }
}

// The joints as the table's heading says them: dados 3/8 deep and 3/4 wide, 4 above the floor; rabbets 3/8 × 1/4 at the back;
// the side notched 4 high and 3 less the strip's 1/4 deep, which is 2-3/4 on the panel itself.
#[test]
fn the_joints_of_a_side_are_told_as_a_builder_would() {
    let model = build(&worked(Unit::Inch));
    let list = parts::cut_list(&model);
    let side = unit_rows(&list, &model).into_iter().find(|row| row.role == Role::CarcassSide).unwrap();
    let lines: Vec<String> =
        side.joints.iter().map(|cut| elbowroom::report::cutting::joint_line(cut, Unit::Inch)).collect();
    assert_eq!(
        lines,
        [
            "dado 3/8 deep, 3/4 wide, 4 from the lower edge, for the bottom",
            "rabbet 3/8 deep, 1/4 wide, along the back edge, for the back",
            "notch 2-3/4 deep at the front edge, 4 along it, for the kick cover",
        ]
    );
    assert!(side.in_pairs);
}

// Slides 37 mm behind the front edge; the lowest box stands 4 + 3/4 + 1/2 above the floor, its screws 7/8 higher: 6-1/8. A
// bar's posts on a front 29-7/8 wide and 6 high: in the middle, at 3, 5-1/2 × 0.76 = 4.18 apart.
#[test]
fn holes_are_where_slides_and_pulls_sit() {
    use elbowroom::cutting::drilling::{HolesFor, drilling_list};
    let plan = worked(Unit::Inch);
    let model = build(&plan);
    let list = drilling_list(&model, &plan);
    let lowest = list.iter().rfind(|holes| holes.what == HolesFor::Slide).unwrap();
    assert_eq!(lowest.parts.len(), 2);
    close(lowest.up[0].to_mm(), 6.125 * 25.4, 1e-6);
    close(lowest.across[0].to_mm(), 37.0, 1e-6);
    // 21 in are 533.4: 37 + 15 × 32 = 517 is the last that keeps 10 off the end.
    close(lowest.across.last().unwrap().to_mm(), 517.0, 1e-6);
    let pull = list.iter().find(|holes| holes.what == HolesFor::Pull).unwrap();
    close(pull.up[0].to_mm(), 3.0 * 25.4, 1e-6);
    close(pull.across[0].to_mm(), (29.875 / 2.0 - 4.18 / 2.0) * 25.4, 1e-6);
    close(pull.across[1].to_mm(), (29.875 / 2.0 + 4.18 / 2.0) * 25.4, 1e-6);
}

#[test]
fn hardware_is_counted_by_the_drawer() {
    use elbowroom::cutting::hardware::{Count, hardware_list};
    let plan = worked(Unit::Inch);
    let list = hardware_list(&build(&plan), &plan);
    let count = |what: &str| list.iter().find(|item| item.what.starts_with(what)).map(|item| item.count);
    assert_eq!(count("slide `full`"), Some(Count::Pairs(3)));
    assert_eq!(count("pull `bar`"), Some(Count::Pieces(3)));
    assert_eq!(count("pull bolt"), Some(Count::Pieces(6)));
    assert_eq!(count("bumper"), Some(Count::Pieces(6)));
    // Bottom, stretcher, kick board and two nailers, four screws each.
    assert_eq!(count("screw, carcass joints"), Some(Count::Pieces(20)));
    // Nailer 3/4, back 1/4, board 1/2, bite 1: 2-1/2, and one stud behind a unit 30 wide: two nailers, two screws.
    let wall = list.iter().find(|item| item.what == "screw, nailer to stud").unwrap();
    assert_eq!((wall.length, wall.count), (Some(Length::inches(2.5)), Count::Pieces(2)));
    // Strips 1/4 thick are sawn, not band.
    assert_eq!(count("edge band"), None);
}

/// Sizes with their counts, in thousandths, whatever the names.
fn sizes(list: &CutList) -> Vec<(Role, usize, [i64; 3])> {
    #[expect(clippy::cast_possible_truncation, reason = "a test's own small numbers")]
    let size = |row: &Row| row.cut.map(|length| (length.to_mm() * 1000.0 + 0.25).floor() as i64);
    let mut all: Vec<(Role, [i64; 3], usize)> = Vec::new();
    for row in list.rows() {
        match all.iter_mut().find(|(role, known, _)| *role == row.role && *known == size(row)) {
            Some((_, _, count)) => *count += row.quantity(),
            None => all.push((row.role, size(row), row.quantity())),
        }
    }
    let mut all: Vec<_> = all.into_iter().map(|(role, size, count)| (role, count, size)).collect();
    all.sort_unstable();
    all
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..config() })]

    #[test]
    fn every_wooden_part_is_on_the_list_once_and_volumes_balance(corner in corners()) {
        let model = build(&corner.plan());
        let list = parts::cut_list(&model);
        let mut listed: Vec<_> = list.rows().flat_map(|row| row.parts.iter().copied()).collect();
        listed.sort_unstable();
        let wooden: Vec<_> = model.parts.iter().filter(|part| stuff_of(part).is_some()).map(|part| part.id).collect();
        prop_assert_eq!(listed, wooden);
        for (k, row) in list.rows().enumerate() {
            prop_assert_eq!(row.number, k + 1);
            for &id in &row.parts {
                let part = model.part(id);
                prop_assert_eq!(part.role, row.role);
                for (size, row) in part.size.iter().zip(row.fitted) {
                    prop_assert!((size - row.to_mm()).abs() < 1e-5);
                }
            }
        }
        // Square boards: the rows' sizes less their joints are what the model holds.
        let square = |row: &&Row| row.bevels.is_empty() && !matches!(row.role, Role::BackingBlock | Role::KickBlock);
        let (mut by_rows, mut by_model) = (0.0, 0.0);
        for row in list.rows().filter(square) {
            let blank: f64 = row.fitted.iter().map(|length| length.to_mm()).product();
            by_rows += (blank - row.joints.iter().map(Cutting::volume).sum::<f64>()) * row.quantity() as f64;
            by_model += row.parts.iter().map(|&id| model.part(id).volume()).sum::<f64>();
        }
        prop_assert!((by_rows / by_model - 1.0).abs() < 1e-9, "{by_rows} and {by_model}");
    }

    // What is laid out is what is listed, less band and countertop, and the spares beside it; every piece is ripped once.
    #[test]
    fn every_part_is_asked_for_once_and_ripped_once(corner in corners()) {
        let plan = corner.plan();
        let model = build(&plan);
        let demand = cutting::demand(&model, &plan);
        let mut asked: Vec<_> = demand.groups.iter().flat_map(|g| &g.pieces).filter(|p| !p.spare).map(|p| p.part).collect();
        asked.sort_unstable();
        let band = |part: &elbowroom::model::Part| part.role == Role::EdgeStrip && part.as_cut()[2] < BAND;
        let wanted: Vec<_> = model.parts.iter()
            .filter(|part| stuff_of(part).is_some_and(|stuff| stuff != Stuff::Countertop) && !band(part))
            .map(|part| part.id).collect();
        prop_assert_eq!(asked, wanted);
        let rips = rip_list(&demand, &plan);
        let pieces: usize = demand.groups.iter().map(|group| group.pieces.len()).sum();
        let mut cut = 0;
        for rip in rips.groups.iter().flat_map(|group| &group.rips) {
            let lengths: f64 = rip.crosscuts.iter().map(|c| c.length.to_mm() * c.quantity as f64).sum();
            let count: usize = rip.crosscuts.iter().map(|c| c.quantity).sum();
            cut += count;
            prop_assert!((rip.total.to_mm() - lengths - plan.stock.kerf.to_mm() * count as f64).abs() < 1e-6);
        }
        prop_assert_eq!(cut, pieces);
        for group in &rips.groups {
            prop_assert!(group.rips.windows(2).all(|pair| pair[0].fence >= pair[1].fence), "the fence goes one way");
        }
    }

    #[test]
    fn a_mirrored_corner_is_cut_from_the_same_list(corner in corners()) {
        let list = |corner: &crate::plans::Corner| sizes(&parts::cut_list(&build(&corner.plan())));
        prop_assert_eq!(list(&corner), list(&corner.mirrored()));
    }
}

/// The worked unit with a stock section.
fn with_stock(stock: &str) -> (Plan, Model) {
    let text = UNIT.replace("UNITS", "Inch").replace("    pulls:", &format!("    stock: ({stock}),\n    pulls:"));
    let plan = match plan::read("stock.ron", &text) {
        Ok(plan) => plan,
        Err(problems) => panic!("{}", problems.lines().join("\n")),
    };
    let model = build(&plan);
    (plan, model)
}

fn demand_of(stock: &str) -> Demand {
    let (plan, model) = with_stock(stock);
    let demand = cutting::demand(&model, &plan);
    // Lists of it can always be printed.
    let bench = elbowroom::report::cutting::Bench::new(&model, &plan);
    assert!(
        !elbowroom::report::cutting::parts_csv(&bench, &model, elbowroom::report::cutting::BenchList::Cost).is_empty()
    );
    demand
}

#[test]
fn stock_that_does_not_serve_is_told_in_plain_words() {
    let words = |stock: &str| {
        let demand = demand_of(stock);
        demand.words.iter().map(|w| elbowroom::report::cutting::stock_line(w, &demand, Unit::Inch)).collect::<Vec<_>>()
    };
    let said = |stock: &str, part: &str| {
        let words = words(stock);
        assert!(words.iter().any(|word| word.contains(part)), "{stock}: {words:#?}");
    };
    assert_eq!(demand_of("").words, [StockWord::NothingListed]);
    said("kerf: 0", "the kerf is 0");
    // Sides are 34-1/2 long.
    said(
        r#"sheets: {"small": (of: Panel, length: 30, width: 30, price: 20)}"#,
        "is larger than `small`, 30 × 30 × 3/4",
    );
    // 23-3/4 wide, 34-1/2 long: only across the grain of a sheet 24 long.
    said(r#"sheets: {"across": (of: Panel, length: 24, width: 96, price: 20)}, trim: 0"#, "only across its grain");
    said(r#"sheets: {"ply": (of: Panel)}"#, "`ply` has no price");
    said(r#"sheets: {"ply": (of: Panel, thickness: "1/2", price: 20)}"#, "the stock has no carcass panel 3/4 in thick");
    // Edge strips 1/4 thick, 3/4 wide: ripped on edge off 3/4 boards, or planed from thicker ones.
    let strips = |board: &str| words(&format!("boards: {{\"oak\": (of: Solid, thickness: {board}, price: 9)}}"));
    assert!(strips("0.75").iter().all(|word| !word.contains("solid wood") && !word.contains("planed")));
    assert!(strips("1").iter().any(|word| word.contains("`oak` is planed down to 1/4 in")));
    // A sheet without grain takes what one with grain does not.
    let plain = words(r#"sheets: {"across": (of: Panel, length: 24, width: 96, grain: false, price: 20)}, trim: 0"#);
    assert!(plain.iter().all(|word| !word.contains("across its grain")), "{plain:#?}");
    // The real thickness counts: what is sold as 3/4 and measures 23/32 serves for 3/4.
    let real = words(r#"sheets: {"ply": (of: Panel, thickness: "47/64", sold_as: "3/4", price: 20)}"#);
    assert!(real.iter().all(|word| !word.contains("no carcass panel")), "{real:#?}");
}

#[test]
fn stock_that_cannot_be_is_refused_with_what_would_be_right() {
    let refused = |stock: &str| {
        let text = UNIT.replace("UNITS", "Inch").replace("    pulls:", &format!("    stock: ({stock}),\n    pulls:"));
        plan::read("stock.ron", &text).unwrap_err().lines().join("\n")
    };
    for (stock, said) in [
        ("kerf: -1", "must not be less than 0"),
        ("kerf: 3", "must not be more than"),
        ("cuts: RipsFirst", "did you mean `RipFirst`"),
        (r#"sheets: {"a": (length: 10)}"#, "lacks `of`"),
        (r#"sheets: {"a": (of: Plank)}"#, "the choices are"),
        (r#"sheets: {"a": (of: Panel, price: -3)}"#, "not a price that can be paid"),
        (r#"sheets: {"a": (of: Panel, price: cheap)}"#, "is not a price"),
        (r#"sheets: {"a": (of: Panel, length: 1, width: 0)}, trim: 1"#, "leaves nothing"),
        (r#"sheets: {"a": (of: Panel, sold_as: 4)}"#, "too far apart"),
        (r#"sheets: {"a": (of: Panel, density: 7)}"#, "between 100 and 3500"),
        (r#"sheets: {"a": (of: Panel, count: some)}"#, "is not a count"),
        (r#"boards: {"a": (of: Solid, lenght: 9)}"#, "did you mean `length`"),
    ] {
        let lines = refused(stock);
        assert!(lines.contains(said), "{stock}: {lines}");
    }
}

// Sheets 96 × 48 less 1/4 all round: 95-1/2 × 47-1/2 = 4,536.25 square inches; the unit's 3/4 panel: two sides 819.375 each,
// a bottom of 687.375 and four rails of 114 make 2,782.125, so one sheet, 2,782.125 / 4,608 of it used.
#[test]
fn the_least_stock_by_area_and_its_price() {
    let (plan, model) = with_stock(r#"sheets: {"ply": (of: Panel, price: 64.50)}, currency: "EUR""#);
    let demand = cutting::demand(&model, &plan);
    let uses = cutting::cost::least(&demand, &plan);
    let panel = uses.iter().find(|one| demand.stock[one.item].name == "ply").unwrap();
    assert_eq!(panel.count, 1);
    close(panel.used, 2782.125 / 4608.0, 1e-9);
    let cost = cutting::cost::total(&demand, vec![*panel]);
    assert_eq!(cost.sum.show(&plan.stock.currency), "64.50 EUR");
    assert!(cost.whole);
    assert!(!cutting::cost::total(&demand, uses).whole, "thin panel has no price");
}

// Volume × density: the unit's fixed wood, 680 kg/m³ of panel and thin panel, 700 of strips.
#[test]
fn a_unit_weighs_what_its_parts_weigh() {
    let plan = worked(Unit::Millimetre);
    let model = build(&plan);
    let weights = cutting::cost::weights(&model, &plan);
    let (mut fixed, mut strips) = (0.0, 0.0);
    for part in
        model.parts.iter().filter(|part| part.unit == Some(0) && part.run == Some(Side::Left) && part.mover.is_none())
    {
        let blank: f64 = part.size.iter().product();
        let volume = blank - part.work.joints.iter().map(Cutting::volume).sum::<f64>();
        if part.role == Role::EdgeStrip { strips += volume } else { fixed += volume }
    }
    let unit = weights.iter().find(|one| one.side == Side::Left).unwrap();
    close(unit.fixed, (fixed * 680.0 + strips * 700.0) / 1e9, 1e-9);
    // From memory: a three-drawer base unit of 3/4 plywood, 30 in wide, weighs some 50 lb without its drawers.
    assert!(unit.fixed > 15.0 && unit.fixed < 35.0, "{}", unit.fixed);
}
