//! Editing a plan changes its text where it was asked to and nowhere else.

use elbowroom::plan::template::TEMPLATES;
use elbowroom::plan::write::Edit;

use super::editing::{EVERYTHING, form_of, made, path, pretty, refused, set};
use super::plans::EXAMPLES;

/// `edit` changes `before` to `after` somewhere in a small plan, and nothing else.
#[track_caller]
fn changes(plan: &str, edit: &Edit, before: &str, after: &str) {
    assert_eq!(plan.matches(before).count(), 1, "{before} is not once in the plan");
    pretty(&made(plan, edit), &plan.replace(before, after));
}

#[test]
fn a_value_is_set_where_it_stands() {
    let demo = EXAMPLES[0].1;
    changes(demo, &set("left.units[1].width", "520"), "\"glaze buckets\", width: 500", "\"glaze buckets\", width: 520");
    changes(demo, &set("corner.left", "Fixed(62)"), "Fixed(40)", "Fixed(62)");
    changes(demo, &set("pulls[\"bar 192\"].projection", "\"1-3/8 in\""), "projection: 36", "projection: \"1-3/8 in\"");
    changes(
        demo,
        &set("left.units[0].fronts", "[160, 280, Rest]"),
        "width: 800, fronts: [150,",
        "width: 800, fronts: [160,",
    );
    changes(demo, &set("name", r#""a \"b\" // c""#), "\"Glazing corner\"", r#""a \"b\" // c""#);
}

#[test]
fn a_missing_value_is_put_where_it_usually_stands_in_the_style_of_its_neighbours() {
    let demo = EXAMPLES[0].1;
    changes(demo, &set("construction.panel", "19"), "depth: 590,\n", "depth: 590,\n        panel: 19,\n");
    changes(demo, &set("right.units[1].pull", "\"bar 192\""), "110, pull: \"beech knob\"", "110, pull: \"bar 192\"");
    changes(demo, &set("left.units[3].width", "20"), "EndPanel()", "EndPanel(width: 20)");
    changes(demo, &set("left.units[1].name", "\"x\""), "\"glaze buckets\"", "\"x\"");
    changes(
        demo,
        &set("right.units[2].opens_to", "95"),
        "                hinge: FarSide,\n",
        "                hinge: FarSide,\n                opens_to: 95,\n",
    );
    changes(
        demo,
        &set("construction.reveal.side", "2"),
        "        fronts: Overlay,\n",
        "        fronts: Overlay,\n        reveal: (side: 2),\n",
    );
    changes(demo, &set("corner.face", "18"), "        laps: Left,\n", "        laps: Left,\n        face: 18,\n");
    changes(demo, &set("run_angle", "Square"), "\n    // What is not", "    run_angle: Square,\n\n    // What is not");
}

#[test]
fn a_whole_group_that_is_missing_is_made() {
    let bare = "(units: Millimetre, room: (left_wall: 2400, right_wall: 2400), pulls: {\"none\": Absent}, \
                slides: {\"full\": (length: 450)}, left: (units: [Door(width: 600)]), right: (units: [EndPanel]))";
    changes(bare, &set("construction.depth", "600"), ", pulls:", ", construction: (depth: 600), pulls:");
    changes(bare, &set("construction.reveal.side", "2"), ", pulls:", ", construction: (reveal: (side: 2)), pulls:");
    changes(bare, &set("corner.left", "Fixed(60)"), "[EndPanel])", "[EndPanel]), corner: (left: Fixed(60))");
    changes(bare, &set("right.units[0].width", "20"), "EndPanel", "EndPanel(width: 20)");
    changes(bare, &set("name", "\"x\""), "(units: Millimetre", "(name: \"x\", units: Millimetre");
    let obstacle = "(wall: Left, along: 2000, width: 90, depth: 50, height: 300)";
    changes(
        bare,
        &Edit::Insert { at: path("room.obstacles[0]"), value: obstacle.to_owned() },
        "right_wall: 2400)",
        &format!("right_wall: 2400, obstacles: [{obstacle}])"),
    );
    // One pull need not be named; a second makes it needed.
    let two = made(bare, &set("pulls[\"bar\"]", "Bar(length: 160, projection: 32)"));
    assert!(two.contains("{\"none\": Absent, \"bar\": Bar("), "{two}");
    assert!(two.contains("Door(width: 600, pull: \"none\")"), "{two}");
}

#[test]
fn a_value_is_taken_out_with_its_line_and_its_comment() {
    let demo = EXAMPLES[0].1;
    changes(demo, &Edit::Unset { at: path("construction.depth") }, "        depth: 590,\n", "");
    changes(
        demo,
        &Edit::Unset { at: path("corner.right") },
        "        // The least width at which everything opens.\n        right: Least,\n",
        "",
    );
    changes(demo, &Edit::Unset { at: path("left.units[1].shelves") }, "width: 500, shelves: 1", "width: 500");
    changes(demo, &Edit::Unset { at: path("left.units[1].name") }, "(name: \"glaze buckets\", width", "(width");
    changes(demo, &Edit::Unset { at: path("left.units[3]") }, "            EndPanel(),\n", "");
    changes(
        demo,
        &Edit::Unset { at: path("clearance") },
        "\n    // A finger's breadth between anything that moves and the other run.\n    clearance: (wanted: 12, shop_step: 1),\n",
        "",
    );
}

#[test]
fn items_take_their_comments_along() {
    let list = |inner: &str| {
        format!(
            "(units: Millimetre, room: (left_wall: 2400, right_wall: 2400), pulls: {{\"none\": Absent}}, right: (units: \
             [EndPanel]), left: (units: [{inner}]))"
        )
    };
    let text = list(
        "\n  // of nobody\n\n  // a\n  Door(width: 301), // a, too\n  Door(width: 302 /* b */),\n\n  // c\n  Door(width: 303)\n  // last\n",
    );
    let moved = made(&text, &Edit::Move { list: path("left.units"), from: 0, to: 2 });
    pretty(
        &moved,
        &list(
            "\n  // of nobody\n\n  Door(width: 302 /* b */),\n  // c\n  Door(width: 303),\n\n  // a\n  Door(width: 301) // a, too\n  // last\n",
        ),
    );
    pretty(&made(&moved, &Edit::Move { list: path("left.units"), from: 2, to: 0 }), &text);
    let without = made(&text, &Edit::Unset { at: path("left.units[2]") });
    pretty(
        &without,
        &list("\n  // of nobody\n\n  // a\n  Door(width: 301), // a, too\n  Door(width: 302 /* b */)\n\n  // last\n"),
    );
    let more = made(&text, &Edit::Insert { at: path("left.units[3]"), value: "Door(width: 304)".to_owned() });
    assert!(more.contains("  Door(width: 303),\n  Door(width: 304)\n  // last\n"), "{more}");
    let first = made(&text, &Edit::Insert { at: path("left.units[0]"), value: "Door(width: 300)".to_owned() });
    assert!(first.contains("// of nobody\n\n  Door(width: 300),\n  // a\n  Door(width: 301)"), "{first}");
    // In one line, and with a comment that would swallow what comes behind.
    let line = list("Door(width: 301), /* b */ Door(width: 302), Door(width: 303) // end\n");
    let moved = made(&line, &Edit::Move { list: path("left.units"), from: 2, to: 0 });
    assert!(moved.contains("[Door(width: 303), // end\n"), "{moved}");
    assert!(moved.contains("/* b */ Door(width: 302)"), "{moved}");
    let more = made(&line, &Edit::Insert { at: path("left.units[3]"), value: "EndPanel".to_owned() });
    assert!(more.contains("Door(width: 303), // end\n") && more.contains("EndPanel\n]"), "{more}");
    let fewer = made(&line, &Edit::Unset { at: path("left.units[1]") });
    assert!(fewer.contains("[Door(width: 301), Door(width: 303) // end\n]"), "{fewer}");
}

#[test]
fn line_breaks_and_tabs_stay_as_the_file_has_them() {
    let text = EXAMPLES[0].1.replace("    ", "\t").replace('\n', "\r\n");
    let with = made(&text, &set("construction.panel", "19"));
    pretty(&with, &text.replace("depth: 590,\r\n", "depth: 590,\r\n\t\tpanel: 19,\r\n"));
    pretty(&made(&with, &Edit::Unset { at: path("construction.panel") }), &text);
    let obstacle = "(name: \"a long name for a thing that stands there\",\n wall: Left, along: 2000, width: 90, depth: 50, height: 300)";
    let with = made(&text, &Edit::Insert { at: path("room.obstacles[1]"), value: obstacle.to_owned() });
    assert!(with.replace("\r\n", "").find(['\r', '\n']).is_none(), "{with:?}");
    // No line break at the end, and a line for the parser at the start.
    let text = format!("#![enable(implicit_some)]\n{}", EVERYTHING.trim_end());
    changes(&text, &set("clearance.wanted", "11"), "wanted: 10", "wanted: 11");
    changes(&text, &set("clearance.shop_step", "2"), "wanted: 10)", "wanted: 10, shop_step: 2)");
}

#[test]
fn strings_and_nested_comments_hide_what_they_hold() {
    let text = EVERYTHING
        .replace("\"knob\": Knob", "/* \"no\": /* ( */ Absent, */ r#\"knob\"#: Knob")
        .replace("name: \"pipe\"", r#"name: "]) // \"pipe\" /*""#);
    changes(&text, &set("pulls[\"knob\"].across", "30"), "across: 32", "across: 30");
    changes(&text, &set("room.obstacles[0].depth", "61"), "width: 60, depth: 60", "width: 60, depth: 61");
    changes(&text, &set("pulls[\"knob\"].square", "false"), "square: true", "square: false");
}

#[test]
fn a_pull_is_renamed_wherever_units_name_it() {
    let named = |pull: &str| EVERYTHING.replace("\"knob\"", &format!("{pull:?}"));
    let edit = Edit::Rename { at: path("pulls[\"knob\"]"), name: "a \"new\" one".to_owned() };
    pretty(&made(EVERYTHING, &edit), &named("a \"new\" one"));
    let edit = Edit::Rename { at: path("slides[\"full\"]"), name: "long".to_owned() };
    pretty(&made(EVERYTHING, &edit), &EVERYTHING.replace("\"full\"", "\"long\""));
    let taken = refused(EVERYTHING, &Edit::Rename { at: path("pulls[\"knob\"]"), name: "bar".to_owned() });
    assert!(taken.problems.list().iter().any(|problem| problem.message.contains("given to two pulls")));
    let used = refused(EVERYTHING, &Edit::Unset { at: path("pulls[\"knob\"]") });
    assert!(used.elsewhere().any(|problem| problem.path == "right.units[1].door_pull"), "{:?}", used.problems.lines());
}

#[test]
fn a_unit_becomes_another_and_keeps_what_both_have() {
    let demo = EXAMPLES[0].1;
    let edit = Edit::Become { at: path("left.units[0]"), word: "Door".to_owned(), with: Vec::new() };
    changes(
        demo,
        &edit,
        "Drawers(name: \"glaze drawers\", width: 800, fronts: [150, 280, Rest], pull: \"bar 192\", slide: \"full 550\")",
        "Door(name: \"glaze drawers\", width: 800, pull: \"bar 192\")",
    );
    let form = form_of(demo);
    let scales = form.row(&path("right.units[2]")).unwrap();
    let text = made(demo, &form.chosen(scales, "Drawers"));
    let expected = "            Drawers(\n                name: \"scales\",\n                width: 600,\n                fronts: Equal(3),\n                pull: \"beech knob\",\n                slide: \"full 500\",\n            ),\n";
    assert!(text.contains(expected), "{text}");
    let text = EXAMPLES[1].1;
    let form = form_of(text);
    let chosen = form.chosen(form.row(&path("construction.face")).unwrap(), "Frameless");
    changes(text, &chosen, "FaceFrame(stile: \"1 1/2\", rail: \"1 1/4\", thickness: \"3/4\")", "Frameless");
}

#[test]
fn a_comment_in_a_value_that_goes_is_kept_before_the_new_one() {
    let text = EVERYTHING.replace("Fixed(90)", "Fixed( /* as found */ 90 // mm\n )");
    let to_least = made(&text, &set("corner.left", "Least"));
    assert!(to_least.contains("left: /* as found */ // mm\n    Least, right"), "{to_least}");
    let wider = made(&text, &set("corner.left", "Fixed(91)"));
    pretty(&wider, &text.replace("*/ 90 //", "*/ 91 //"));
}

#[test]
fn a_refusal_tells_what_is_wrong_here_and_what_elsewhere() {
    let demo = EXAMPLES[0].1;
    let here = refused(demo, &set("left.units[0].width", "-5"));
    assert_eq!(here.here().map(|problem| problem.path.as_str()).collect::<Vec<_>>(), ["left.units[0].width"]);
    assert_eq!(here.elsewhere().count(), 0);
    // Lower units: the fronts of all banks with a height each no longer fill their opening.
    let elsewhere = refused(EVERYTHING, &set("construction.height", "400"));
    assert_eq!(elsewhere.here().count(), 0);
    assert!(elsewhere.elsewhere().count() > 0);
    for (at, value) in
        [("left.units[9].width", "5"), ("nothing[1]", "5"), ("left.units.width", "5"), ("left.units[0].fronts[7]", "5")]
    {
        let refused = refused(demo, &set(at, value));
        assert_eq!(refused.here().map(|problem| problem.code).collect::<Vec<_>>(), ["plan::edit"], "{at}");
    }
    // What is missing round the place is made, and is part of the edit.
    let made = refused(demo, &set("right.ends_at.width", "90"));
    assert_eq!(made.here().count(), 1, "{:?}", made.problems.lines());
    let made = refused(TEMPLATES[0].text, &set("room.baseboard.height", "90"));
    assert_eq!(made.here().map(|problem| problem.path.as_str()).collect::<Vec<_>>(), ["room.baseboard.thickness"]);
    for value in ["", "5, depth: 3", "5) // x", "5 // x", "(", "\"x", "/* 5", "]", "a: 5"] {
        let refused = refused(demo, &set("construction.depth", value));
        assert_eq!(refused.here().map(|problem| problem.code).collect::<Vec<_>>(), ["plan::edit"], "{value}");
    }
    // A text that is no plan is told as the reader tells it.
    let broken = refused("(units: Inch", &set("units", "Inch"));
    assert_eq!(broken.problems.list()[0].code, "plan::syntax");
}
