//! Laws of editing that hold for any plan, place and sequence of edits.

use elbowroom::length::Length;
use elbowroom::plan::form::{Row, What};
use elbowroom::plan::write::{Edit, PlanPath, Step, apply};
use elbowroom::plan::{CabinetUnit, Plan, Side, UnitKind};
use proptest::prelude::*;

use super::editing::{EVERYTHING, form_of, read, rows, texts};

/// A length as a builder might type it.
fn typed() -> impl Strategy<Value = String> {
    prop_oneof![
        (1_u32..900).prop_map(|mm| mm.to_string()),
        (1_u32..9000).prop_map(|tenths| format!("{}.{}", tenths / 10, tenths % 10)),
        (1_u32..900).prop_map(|mm| format!("{mm} mm")),
        (0_u32..40, 1_u32..32).prop_map(|(whole, parts)| format!("{whole} {parts}/32 in")),
        (0_u32..3, 1_u32..12).prop_map(|(feet, inches)| format!("{feet}' {inches}\"")),
    ]
}

/// `text` as it is, or everything in one line.
fn laid_out(text: &str, in_line: bool) -> String {
    if in_line { EVERYTHING.split_whitespace().collect::<Vec<_>>().join(" ") } else { text.to_owned() }
}

/// `text` with numbered comments put in where a blank stands behind a mark.
fn commented(text: &str, chosen: &[bool]) -> (String, usize) {
    let (mut out, mut count, mut place) = (String::new(), 0, 0);
    let shift = chosen.iter().filter(|chosen| **chosen).count();
    let (mut in_string, mut in_line, mut before) = (false, false, ' ');
    for c in text.chars() {
        if !in_line && c == '"' && before != '\\' {
            in_string = !in_string;
        }
        in_line = (in_line || !in_string && c == '/' && before == '/') && c != '\n';
        let here = !in_string && !in_line && c.is_whitespace() && matches!(before, ':' | ',' | '(' | '[' | '{');
        if here {
            if chosen[place % chosen.len()] {
                // To the end of a line that is there, or of one made here; or between two marks.
                out += &match (c, (place + shift) % 5) {
                    ('\n', 2 | 4) => format!(" // c{count}."),
                    (' ', 4) => format!(" // c{count}.\n"),
                    _ => format!(" /* c{count}. */"),
                };
                count += 1;
            }
            place += 1;
        }
        out.push(c);
        before = c;
    }
    (out, count)
}

/// An edit of a row that takes no item out, or nothing where the row has none.
fn gentle(form: &elbowroom::plan::form::Form, row: &Row, typed: &str, n: usize) -> Option<Edit> {
    match row.what {
        What::Length | What::Angle | What::Count | What::Number | What::Text => form.typed(row, typed).ok(),
        What::YesNo => form.typed(row, "yes").ok(),
        What::Name(hardware) => form.typed(row, form.names(hardware).get(n % form.names(hardware).len().max(1))?).ok(),
        What::List { choices, .. } if n.is_multiple_of(2) => {
            Some(form.added(row, n, choices.get(n % choices.len().max(1)).map_or("", |choice| choice.word)))
        }
        What::List { .. } => {
            let count = row.rows.len();
            (count > 1).then(|| Edit::Move { list: row.path.clone(), from: n % count, to: n / 7 % count })
        }
        What::Set { choices, .. } if n.is_multiple_of(2) => {
            let word = choices.get(n % choices.len().max(1)).map_or("", |choice| choice.word);
            Some(form.added_as(row, &format!("new {n}"), word))
        }
        What::Set { .. } => {
            let entry = row.rows.get(n % row.rows.len().max(1))?;
            Some(Edit::Rename { at: entry.path.clone(), name: format!("renamed {n}") })
        }
        // A choice that loses no field.
        What::Choice { choices, .. } => {
            let loses = row.rows.iter().any(|row| row.given.is_some());
            (!loses).then(|| form.chosen(row, choices[n % choices.len()].word))
        }
        What::Group => None,
    }
}

/// Whether something tall stands at the corner, or a panel higher than what is beside it.
fn a_tall_one_is_out_of_place(plan: &Plan, units: &[CabinetUnit]) -> bool {
    let holds = |k: Option<usize>| k.and_then(|k| units.get(k)).filter(|unit| unit.kind != UnitKind::EndPanel);
    units.iter().enumerate().filter(|(_, unit)| plan.is_tall(unit)).any(|(n, unit)| {
        let beside = [holds(n.checked_sub(1)), holds(Some(n + 1))];
        let held = beside.into_iter().flatten().any(|beside| beside.stands() >= unit.height);
        (n == 0 && unit.kind.has_carcass()) || (unit.kind == UnitKind::EndPanel && !held)
    })
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        "[a-z_]{1,8}".prop_map(Step::Field),
        (0_usize..2_000).prop_map(Step::Item),
        any::<String>().prop_map(Step::Entry),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_path_reads_as_it_prints(first in "[a-z_]{1,8}", steps in prop::collection::vec(step(), 0..6)) {
        let path = steps.iter().fold(PlanPath::WHOLE.field(&first), |path, step| match step {
            Step::Field(name) => path.field(name),
            Step::Item(n) => path.item(*n),
            Step::Entry(name) => path.entry(name),
        });
        prop_assert_eq!(path.to_string().parse(), Ok(path));
    }

    #[test]
    fn any_text_is_a_path_or_none(text in any::<String>()) {
        if let Ok(path) = text.parse::<PlanPath>() {
            prop_assert_eq!(path.to_string().parse(), Ok(path));
        }
    }

    #[test]
    fn a_length_that_is_set_is_the_length_that_is_read(which in any::<prop::sample::Index>(), row in any::<prop::sample::Index>(), typed in typed()) {
        let text = *which.get(&texts());
        let form = form_of(text);
        let lengths: Vec<Row> = rows(&form).into_iter().filter(|row| row.what == What::Length).collect();
        let row = row.get(&lengths);
        let edit = form.typed(row, &typed).unwrap();
        let Ok((new, _)) = apply("plan.ron", text, &edit) else { return Ok(()) };
        let after = form_of(&new);
        let mut held = None;
        after.plan.walk(&mut |other| if other.path == row.path && other.what == What::Length { held = other.shown(); });
        let length = Length::parse(&typed, form.unit).unwrap();
        let got = Length::parse(&held.unwrap(), form.unit).unwrap();
        prop_assert!((got - length).abs().to_mm() < 1e-6, "{typed}: {got:?}");
        // And back again, byte for byte.
        let back = match &row.given {
            Some(given) => Edit::Set { at: row.path.clone(), value: given.clone() },
            None => Edit::Unset { at: row.path.clone() },
        };
        let parent_was_there = row.given.is_some() || row.path.parent().and_then(|(parent, _)| form.row(&parent)?.given.clone())
            .is_some_and(|given| given.ends_with(')'));
        if parent_was_there {
            prop_assert_eq!(apply("plan.ron", &new, &back).unwrap().0, text);
        }
    }

    #[test]
    fn an_item_moved_there_and_back_leaves_no_trace(which in any::<prop::sample::Index>(), list in any::<prop::sample::Index>(), from in 0_usize..8, to in 0_usize..8) {
        let text = *which.get(&texts());
        let form = form_of(text);
        let lists: Vec<Row> = rows(&form).into_iter().filter(|row| matches!(row.what, What::List { .. }) && row.rows.len() > 1).collect();
        if lists.is_empty() {
            return Ok(());
        }
        let list = list.get(&lists);
        let (from, to) = (from % list.rows.len(), to % list.rows.len());
        let there = Edit::Move { list: list.path.clone(), from, to };
        let back = Edit::Move { list: list.path.clone(), from: to, to: from };
        let Ok((moved, _)) = apply("plan.ron", text, &there) else { return Ok(()) };
        prop_assert_eq!(&apply("plan.ron", &moved, &back).unwrap().0, text);
        // Both at once is the identity whether or not the plan between can be built.
        prop_assert_eq!(&apply("plan.ron", text, &Edit::Together(vec![there, back])).unwrap().0, text);
    }

    #[test]
    fn comments_outlive_any_edits_that_take_nothing_out(
        which in any::<prop::sample::Index>(),
        in_line in prop::bool::weighted(0.3),
        places in prop::collection::vec(any::<bool>(), 40),
        edits in prop::collection::vec((any::<prop::sample::Index>(), typed(), 0_usize..1_000), 1..12),
        carriage in any::<bool>(),
    ) {
        let (mut text, count) = commented(&laid_out(which.get::<&str>(&texts()), in_line), &places);
        if carriage {
            text = text.replace('\n', "\r\n");
        }
        for (row, typed, n) in edits {
            let form = form_of(&text);
            let rows = rows(&form);
            let Some(edit) = gentle(&form, row.get(&rows), &typed, n) else { continue };
            match apply("plan.ron", &text, &edit) {
                Ok((new, plan)) => {
                    prop_assert_eq!(&read(&new), &plan);
                    text = new;
                }
                Err(refused) => {
                    let broken = refused.problems.list().iter().any(|problem| matches!(problem.code, "plan::syntax" | "plan::edit"));
                    prop_assert!(!broken, "{:?}: {:?}\n{}", edit, refused.problems.lines(), text);
                }
            }
            for comment in 0..count {
                prop_assert_eq!(text.matches(&format!(" c{comment}.")).count(), 1, "c{} after {:?} in\n{}", comment, edit, text);
            }
        }
    }

    #[test]
    fn units_come_go_and_change_places_whole_whatever_comments_stand_between(
        which in any::<prop::sample::Index>(),
        in_line in prop::bool::weighted(0.3),
        places in prop::collection::vec(any::<bool>(), 40),
        is_left in any::<bool>(),
        from in 0_usize..8,
        to in 0_usize..8,
    ) {
        let (text, _) = commented(&laid_out(which.get::<&str>(&texts()), in_line), &places);
        let side = if is_left { Side::Left } else { Side::Right };
        let list = PlanPath::WHOLE.field(side.word()).field("units");
        let before = read(&text);
        let units = before.run(side).units.clone();
        let (from, to) = (from % units.len(), to % units.len());
        let expect = |edit: Edit, expected: Vec<CabinetUnit>| {
            match apply("plan.ron", &text, &edit) {
                Ok((new, plan)) => prop_assert_eq!(&plan.run(side).units, &expected, "{}", new),
                // Only the last unit of a run cannot go, nor can what is tall stand at the corner or by itself.
                Err(refused) => prop_assert!(
                    expected.is_empty() || a_tall_one_is_out_of_place(&before, &expected),
                    "{:?}\n{}",
                    refused.problems.lines(),
                    text
                ),
            }
            Ok(())
        };
        let mut moved = units.clone();
        let unit = moved.remove(from);
        expect(Edit::Unset { at: list.item(from) }, moved.clone())?;
        moved.insert(to, unit);
        expect(Edit::Move { list: list.clone(), from, to }, moved)?;
        let mut more = units.clone();
        let panel = CabinetUnit { name: "x".to_owned(), width: Length::mm(1.0), height: before.construction.height, kind: UnitKind::EndPanel };
        more.insert(from, panel.clone());
        let value = "EndPanel(name: \"x\", width: \"1 mm\")".to_owned();
        expect(Edit::Insert { at: list.item(from), value: value.clone() }, more)?;
        let last = units.iter().cloned().chain([panel]).collect();
        expect(Edit::Insert { at: list.item(units.len()), value }, last)?;
    }

    #[test]
    fn no_edit_of_any_text_panics(
        cut in any::<prop::sample::Index>(),
        put in "[\\]()\\[{}\",:/*#r'0-9a-z \n]{0,6}",
        at in any::<prop::sample::Index>(),
        value in "[\\]()\\[{}\",:/*#r'0-9a-z \n]{0,8}",
    ) {
        let places: Vec<usize> = EVERYTHING.char_indices().map(|(at, _)| at).collect();
        let cut = *cut.get(&places);
        let text = format!("{}{put}{}", &EVERYTHING[..cut], &EVERYTHING[(cut + put.len() / 2).min(EVERYTHING.len())..]);
        let all = rows(&form_of(EVERYTHING));
        let path = at.get(&all).path.clone();
        for edit in [
            Edit::Set { at: path.clone(), value: value.clone() },
            Edit::Unset { at: path.clone() },
            Edit::Insert { at: path.item(0), value },
            Edit::Move { list: path.clone(), from: 0, to: 1 },
            Edit::Rename { at: path.clone(), name: "x".to_owned() },
            Edit::Become { at: path, word: "Door".to_owned(), with: Vec::new() },
        ] {
            if let Ok((text, plan)) = apply("plan.ron", &text, &edit) {
                prop_assert_eq!(read(&text), plan);
            }
        }
    }
}
