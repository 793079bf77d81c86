//! A plan's whole demand on its stock: every part once, cut as a saw can, counted and paid as laid out; and clear words
//! about stock that does not serve. The checker shares nothing with the solvers.

use std::collections::BTreeMap;

use elbowroom::clearance;
use elbowroom::command::{self, ListStyle, Search, Style};
use elbowroom::cutting::layout::{Measure, Saw, Standing};
use elbowroom::cutting::sheets::{self, Cuts, Direction};
use elbowroom::cutting::{self, Demand, LaidMaterial, LaidOut, NoPlace};
use elbowroom::model::Model;
use elbowroom::plan::{self, Plan, StockForm};
use elbowroom::progress::{Cancelled, Effort, Flow, patient};
use elbowroom::report::cutting::{Bench, layout_csv, layout_text, left_line};

use crate::layouts::checker::faults_of_sheets;
use crate::plans::{EXAMPLES, close};

struct Laid {
    plan: Plan,
    demand: Demand,
    laid: LaidOut,
    bench: Bench,
}

fn lay(name: &str, text: &str) -> Laid {
    let plan = match plan::read(name, text) {
        Ok(plan) => plan,
        Err(problems) => panic!("{}", problems.lines().join("\n")),
    };
    let model = Model::build(&plan, clearance::least_fillers(&plan));
    let demand = cutting::demand(&model, &plan);
    let laid = cutting::lay_out(&demand, &plan.stock, &Effort::for_demand(&demand), &patient).unwrap();
    let bench = Bench::new(&model, &plan);
    Laid { plan, demand, laid, bench }
}

/// The demo with a stock section.
fn with_stock(stock: &str) -> Laid {
    let text = command::DEMO.replacen("\n    pulls:", &format!("\n    stock: ({stock}),\n    pulls:"), 1);
    assert_ne!(text, command::DEMO);
    lay("stock.ron", &text)
}

/// The job that one material's layout answers, made anew from the demand, and the layout in its words: on what the trim
/// leaves, pieces as the demand wants them.
fn as_job(material: &LaidMaterial, case: &Laid) -> (sheets::Job, sheets::Layout) {
    let (trim_x, trim_y) = match material.form {
        StockForm::Sheet => (case.plan.stock.trim.to_mm(), case.plan.stock.trim.to_mm()),
        StockForm::Board => (case.plan.stock.end_trim.to_mm(), 0.0),
    };
    let stock = case.demand.stock.iter().map(|item| sheets::Stock {
        name: item.name.clone(),
        length: item.length.to_mm() - 2.0 * trim_x,
        width: item.width.to_mm() - 2.0 * trim_y,
        count: item.count,
        price: None,
    });
    let left: Vec<usize> = material.left.iter().map(|(number, _)| *number).collect();
    let grained = material.from.iter().any(|&item| case.demand.stock[item].grain);
    let pieces = material.pieces.iter().enumerate().map(|(number, at)| {
        let piece = &case.demand.groups[at.group].pieces[at.piece];
        sheets::Piece {
            name: piece.label.clone(),
            length: in_steps(piece.length.to_mm()),
            width: in_steps(piece.width.to_mm()),
            count: usize::from(!left.contains(&number)),
            turns: material.form == StockForm::Sheet && !(piece.grain && grained),
        }
    });
    let saw = Saw { kerf: case.plan.stock.kerf.to_mm(), trim: 0.0 };
    let job = sheets::Job { stock: stock.collect(), pieces: pieces.collect(), saw, cuts: material.cuts };
    let mut sheets = material.sheets.clone();
    sheets.iter_mut().for_each(|sheet| shift(&mut sheet.whole, -trim_x, -trim_y));
    let (measure, standing) = (material.measure, material.standing.unwrap_or(Standing::Proved));
    (job, sheets::Layout { sheets, measure, used: 0.0, standing, steps: 0 })
}

/// To the eighth of a micrometre that layouts are reckoned in: a bevel's width is no round figure.
fn in_steps(mm: f64) -> f64 {
    (mm * 8000.0).round() / 8000.0
}

fn shift(branch: &mut sheets::Branch, x: f64, y: f64) {
    branch.area.x += x;
    branch.area.y += y;
    if let sheets::Becomes::Split { first, second, .. } = &mut branch.becomes {
        shift(first, x, y);
        if let Some(second) = second {
            shift(second, x, y);
        }
    }
}

/// Everything that must hold of any layout.
fn check(case: &Laid) {
    let mut pieces: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for material in &case.laid.materials {
        let (job, layout) = as_job(material, case);
        assert_eq!(faults_of_sheets(&job, &layout), Vec::<String>::new(), "{:?}", material.stuff);
        for at in &material.pieces {
            *pieces.entry((at.group, at.piece)).or_default() += 1;
            assert_eq!(case.demand.groups[at.group].from, material.from);
        }
        for sheet in &material.sheets {
            assert!(material.from.contains(&sheet.stock));
        }
    }
    // Every piece of the demand belongs to one material, and to one alone.
    let wanted: usize = case.demand.groups.iter().map(|group| group.pieces.len()).sum();
    assert_eq!((pieces.len(), pieces.values().max()), (wanted, Some(&1)));
    // Counts and price add up.
    for one in &case.laid.cost.uses {
        let sheets = case.laid.materials.iter().flat_map(|material| &material.sheets);
        assert_eq!(sheets.filter(|sheet| sheet.stock == one.item).count(), one.count);
    }
    let sheets: usize = case.laid.materials.iter().map(|material| material.sheets.len()).sum();
    assert_eq!(case.laid.cost.uses.iter().map(|one| one.count).sum::<usize>(), sheets);
    let prices = case.laid.materials.iter().flat_map(|material| &material.sheets);
    let sum: i64 = prices.filter_map(|sheet| case.demand.stock[sheet.stock].price).map(|price| price.0).sum();
    assert_eq!(case.laid.cost.sum.0, sum);
    // What the pieces take of the faces, by the demand's own sizes.
    let face: f64 = case
        .laid
        .cost
        .uses
        .iter()
        .map(|one| {
            let item = &case.demand.stock[one.item];
            one.used * one.count as f64 * item.length.to_mm() * item.width.to_mm()
        })
        .sum();
    let placed = case.laid.materials.iter().flat_map(|material| {
        let left = |number: &usize| material.left.iter().all(|(left, _)| left != number);
        (0..material.pieces.len()).filter(left).map(|number| material.piece(number, &case.demand).unwrap())
    });
    let area: f64 = placed.map(|piece| piece.length.to_mm() * piece.width.to_mm()).sum();
    close(face, area, 1.0);
}

#[test]
fn every_piece_of_every_example_is_cut_once_as_a_saw_can() {
    for (name, text) in EXAMPLES {
        let case = lay(name, text);
        check(&case);
        let least = cutting::cost::least(&case.demand, &case.plan);
        let sum = |uses: &[cutting::cost::Use]| uses.iter().map(|one| one.count).sum::<usize>();
        assert!(sum(&case.laid.cost.uses) >= sum(&least), "{name}: fewer than their area takes");
    }
}

#[test]
fn rips_go_along_the_whole_length_unless_the_plan_says_otherwise() {
    let first_is_a_rip = |case: &Laid| {
        case.laid
            .materials
            .iter()
            .flat_map(|material| &material.sheets)
            .all(|sheet| sheet.cuts().first().is_none_or(|cut| cut.direction == Direction::Rip))
    };
    let usual = with_stock("");
    assert!(first_is_a_rip(&usual));
    let free = with_stock("cuts: Free");
    check(&free);
    assert!(free.laid.materials.iter().all(|material| material.cuts == Cuts::Free));
    let sheets = |case: &Laid| case.laid.cost.uses.iter().map(|one| one.count).sum::<usize>();
    assert!(sheets(&free) <= sheets(&usual));
}

// The potting shed's filler faces want a rip of their own, and so a second sheet, unless they may be cut across the others.
#[test]
fn it_is_told_where_cuts_in_any_order_take_less() {
    let (name, text) = EXAMPLES[4];
    let rips_first = lay(name, text);
    let free = lay(name, &text.replacen("    stock: (", "    stock: (cuts: Free, ", 1));
    check(&free);
    let mut told = 0;
    for (first, free) in rips_first.laid.materials.iter().zip(&free.laid.materials) {
        assert_eq!((first.stuff, &first.from, free.freely), (free.stuff, &free.from, None));
        if let Some(count) = first.freely {
            assert!(count < first.sheets.len() && free.sheets.len() <= count, "{:?}", first.stuff);
            told += 1;
        }
    }
    assert!(told > 0);
    let text: Vec<String> =
        layout_text(&rips_first.bench, &rips_first.laid).into_iter().map(|(_, line)| line).collect();
    assert_eq!(text.iter().filter(|line| line.contains("cut in any order")).count(), told);
}

#[test]
fn the_widest_rip_and_the_longest_crosscut_come_first() {
    let case = lay("demo", command::DEMO);
    for sheet in case.laid.materials.iter().flat_map(|material| &material.sheets) {
        let through = sheet.whole.area;
        let rips = sheet
            .cuts()
            .into_iter()
            .filter(|cut| cut.direction == Direction::Rip && (cut.through.length - through.length).abs() < 1e-6);
        let fences: Vec<f64> = rips.map(|cut| cut.at).collect();
        assert!(fences.windows(2).all(|pair| pair[0] >= pair[1] - 1e-6), "{fences:?}");
    }
}

#[test]
fn the_same_effort_and_seed_give_the_same_layout() {
    let (name, text) = EXAMPLES[5];
    assert_eq!(lay(name, text).laid, lay(name, text).laid);
}

#[test]
fn a_watch_is_told_and_can_cancel() {
    let plan = plan::read("demo", command::DEMO).unwrap();
    let model = Model::build(&plan, clearance::least_fillers(&plan));
    let demand = cutting::demand(&model, &plan);
    let effort = Effort::for_demand(&demand);
    assert_eq!(cutting::lay_out(&demand, &plan.stock, &effort, &|_| Flow::Cancel), Err(Cancelled));
    let seen = std::cell::RefCell::new(Vec::new());
    let watch = |now: elbowroom::progress::Progress| {
        seen.borrow_mut().push((now.steps, now.of));
        Flow::GoOn
    };
    cutting::lay_out(&demand, &plan.stock, &effort, &watch).unwrap();
    let seen = seen.into_inner();
    assert!(!seen.is_empty() && seen.iter().all(|&(_, of)| of == effort.steps));
    assert!(seen.windows(2).all(|pair| pair[0].0 <= pair[1].0), "{seen:?}");
}

/// The reasons and words of what has no place.
fn left(case: &Laid) -> (Vec<NoPlace>, String) {
    check(case);
    let left = case.laid.materials.iter().flat_map(|material| material.left.iter().map(move |one| (material, one)));
    let (mut reasons, mut said) = (Vec::new(), Vec::new());
    for (material, (number, why)) in left {
        reasons.push(why.clone());
        said.push(left_line(material, *number, why, &case.bench));
    }
    let text: Vec<String> = layout_text(&case.bench, &case.laid).into_iter().map(|(_, line)| line).collect();
    let table = layout_csv(&case.bench, &case.laid);
    for line in &said {
        assert!(text.iter().any(|told| told.contains(line)), "{line}");
    }
    assert_eq!(table.matches("no place: ").count(), said.len());
    (reasons, said.join("\n"))
}

#[test]
fn what_the_stock_cannot_hold_is_told_and_the_rest_is_laid_out() {
    // The demo's sides are 770 × 589.
    let (why, said) = left(&with_stock(r#"sheets: {"small": (of: Panel, length: 760, width: 700)}"#));
    assert!(why.contains(&NoPlace::TooLarge) && !why.contains(&NoPlace::AcrossGrain), "{why:?}");
    assert!(said.contains("is larger than any sheet less its trim"), "{said}");
    let (why, said) = left(&with_stock(r#"sheets: {"wide": (of: Panel, length: 760, width: 2000)}"#));
    assert!(why.contains(&NoPlace::AcrossGrain), "{why:?}");
    assert!(said.contains("only across the grain"), "{said}");
    let (why, _) = left(&with_stock(r#"sheets: {"plain": (of: Panel, length: 760, width: 2000, grain: false)}"#));
    assert!(why.is_empty(), "{why:?}");
    let (why, said) = left(&with_stock(r#"sheets: {"two left": (of: Panel, count: 2)}"#));
    assert!(why.iter().any(|why| matches!(why, NoPlace::RunsOut { .. })), "{why:?}");
    assert!(said.contains("`count` do not reach"), "{said}");
    let (why, _) = left(&with_stock(r#"sheets: {"none left": (of: Panel, count: 0)}"#));
    assert!(why.iter().all(|why| *why == NoPlace::RunsOut { proved: true }) && why.len() > 20, "{why:?}");
    // Nothing is wrong with these: no kerf, and a price for some alone.
    for stock in ["kerf: 0, trim: 0", r#"sheets: {"dear": (of: Panel, price: 90), "none": (of: Panel, length: 3000)}"#]
    {
        let (why, _) = left(&with_stock(stock));
        assert!(why.is_empty(), "{stock}: {why:?}");
    }
}

#[test]
fn what_is_on_hand_is_used_before_a_sheet_is_bought() {
    let stock = r#"
        currency: "EUR",
        sheets: {
            "ply": (of: Panel, price: 64.50),
            "half": (of: Panel, length: 2440, width: 610, count: 3, price: 0),
        }"#;
    let case = with_stock(stock);
    check(&case);
    let panel = &case.laid.materials[0];
    assert_eq!(panel.measure, Measure::Price);
    // Without the halves it takes four sheets.
    let count = |name: &str| panel.sheets.iter().filter(|sheet| case.demand.stock[sheet.stock].name == name).count();
    assert!((1..=3).contains(&count("half")) && count("ply") < 4, "{} and {}", count("half"), count("ply"));
    let whole = with_stock(r#"sheets: {"ply": (of: Panel, price: 64.50)}"#);
    assert_eq!(whole.laid.materials[0].sheets.len(), 4);
}

// Two strips of 38 and a kerf come out of 90.
#[test]
fn a_board_gives_as_many_strips_as_its_width_has() {
    let case =
        with_stock(r#"boards: {"fir": (of: Lumber, length: 900, width: 90, thickness: 38, price: 4)}, end_trim: 10"#);
    check(&case);
    // 770, 770 and 90 of 880: two strips hold 770 + 90 and 770.
    let lumber = case.laid.materials.iter().find(|one| one.form == StockForm::Board).unwrap();
    assert_eq!((lumber.pieces.len(), lumber.sheets.len()), (3, 1));
    assert_eq!(lumber.standing, Some(Standing::Proved));
    // Of boards no wider than one strip it takes two.
    let case =
        with_stock(r#"boards: {"fir": (of: Lumber, length: 900, width: 50, thickness: 38, price: 4)}, end_trim: 10"#);
    check(&case);
    let lumber = case.laid.materials.iter().find(|one| one.form == StockForm::Board).unwrap();
    assert_eq!((lumber.sheets.len(), lumber.standing), (2, Some(Standing::Proved)));
}

#[test]
fn the_demo_s_layout() {
    let style = ListStyle::Lines(Style::Plain);
    insta::assert_snapshot!(command::layout("demo", command::DEMO, style, Search::default(), &patient).unwrap().text);
}

#[test]
fn the_layout_of_a_plan_in_inches() {
    let (name, text) = EXAMPLES[4];
    let style = ListStyle::Lines(Style::Plain);
    insta::assert_snapshot!(command::layout(name, text, style, Search::default(), &patient).unwrap().text);
}
