//! The program answers on the command line: verdict first, exit codes that scripts can use, JSON that machines can read.

use assert_cmd::Command;
use serde_json::Value;

fn elbowroom() -> Command {
    let mut command = Command::cargo_bin("elbowroom").unwrap();
    // No window may open from a test.
    command.env_remove("DISPLAY").env_remove("WAYLAND_DISPLAY").env_remove("NO_COLOR");
    command
}

fn plan(name: &str) -> String {
    format!("{}/assets/plans/{name}", env!("CARGO_MANIFEST_DIR"))
}

fn stdout(output: &std::process::Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

#[test]
fn a_clear_plan_ends_with_0_and_a_conflict_with_1() {
    let output = elbowroom().args(["check", &plan("old-house.ron")]).output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert!(stdout(&output).starts_with("ALL CLEAR"));
    let output = elbowroom().args(["check", &plan("glazing-corner.ron")]).output().unwrap();
    assert_eq!(output.status.code(), Some(1));
    assert!(stdout(&output).starts_with("CONFLICT"));
}

#[test]
fn a_plan_that_cannot_be_read_ends_with_2_and_says_why() {
    let output = elbowroom().args(["check", "no-such-plan.ron"]).output().unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("no-such-plan.ron"));
    let output = elbowroom().args(["check", "-"]).write_stdin("(units: Furlong)").output().unwrap();
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(said.contains("Furlong") && said.contains("Millimetre"), "{said}");
    let output = elbowroom().args(["check", "-"]).write_stdin([0xff_u8, 0xfe, 0x00].as_slice()).output().unwrap();
    assert_eq!(output.status.code(), Some(2));
}

#[test]
fn ten_megabytes_of_brackets_are_refused() {
    let output = elbowroom().args(["check", "-"]).write_stdin("[".repeat(10_000_000)).output().unwrap();
    assert_eq!(output.status.code(), Some(2), "{}", String::from_utf8_lossy(&output.stderr));
}

#[test]
fn a_pipe_gets_no_colour() {
    let output = elbowroom().args(["check", &plan("glazing-corner.ron")]).output().unwrap();
    assert!(!stdout(&output).contains('\u{1b}'));
}

#[test]
fn json_says_the_same_as_the_text() {
    let output = elbowroom().args(["check", "--json", &plan("glazing-corner.ron")]).output().unwrap();
    assert_eq!(output.status.code(), Some(1));
    let json: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(json["schema"], "elbowroom-check-1");
    assert_eq!(json["clear"], false);
    // 2 + 19 + 30 + 12 − 1.5: the beech knob opposite.
    assert!((json["fillers"][0]["least_mm"].as_f64().unwrap() - 61.5).abs() < 1e-6);
    let text = stdout(&elbowroom().args(["check", &plan("glazing-corner.ron")]).output().unwrap());
    for finding in json["findings"].as_array().unwrap() {
        assert!(text.contains(finding["text"].as_str().unwrap()));
    }
}

#[test]
fn solids_hold_all_that_an_outside_program_needs() {
    let output = elbowroom().args(["solids", "--json", &plan("print-room.ron")]).output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    let json: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(json["runs"].as_array().unwrap().len(), 2);
    for part in json["parts"].as_array().unwrap() {
        for key in ["name", "role", "class", "follows", "pieces_mm", "faces_mm"] {
            assert!(!part[key].is_null(), "{key} is missing in {part}");
        }
        assert_eq!(part["mover"].is_null(), part["motion"].is_null());
    }
}

#[test]
fn parts_and_rips_come_as_text_json_and_tables() {
    let run = |arguments: &[&str]| {
        let output = elbowroom().args(arguments).arg(plan("potting-shed.ron")).output().unwrap();
        assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
        stdout(&output)
    };
    let json: Value = serde_json::from_str(&run(&["parts", "--json"])).unwrap();
    assert_eq!(json["schema"], "elbowroom-parts-1");
    let rows = json["parts"].as_array().unwrap();
    let listed: u64 = rows.iter().map(|row| row["quantity"].as_u64().unwrap()).sum();
    let names: usize = rows.iter().map(|row| row["names"].as_array().unwrap().len()).sum();
    assert_eq!(listed, names as u64);
    // A line a row, under its header, whatever commas stand in the cells.
    let table = run(&["parts", "--csv"]);
    assert_eq!(table.lines().count(), rows.len() + 1);
    for list in ["finishing", "drilling", "hardware", "cost"] {
        assert!(run(&["parts", "--csv", "--list", list]).lines().count() > 2, "{list}");
        assert!(run(&["parts", "--list", list]).contains("Take care"), "{list}");
    }
    let json: Value = serde_json::from_str(&run(&["rips", "--json"])).unwrap();
    assert_eq!(json["schema"], "elbowroom-rips-1");
    assert!(run(&["rips"]).contains("fence") && run(&["rips", "--csv"]).starts_with("material,"));
    let output = elbowroom().args(["parts", "-"]).write_stdin("(units: Furlong)").output().unwrap();
    assert_eq!(output.status.code(), Some(2));
}

#[test]
fn a_layout_comes_as_text_json_and_a_table() {
    let run = |arguments: &[&str]| {
        let output = elbowroom().arg("layout").args(arguments).arg(plan("potting-shed.ron")).output().unwrap();
        assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
        // Progress is for terminals alone.
        assert!(output.stderr.is_empty());
        stdout(&output)
    };
    let json: Value = serde_json::from_str(&run(&["--json"])).unwrap();
    assert_eq!(json["schema"], "elbowroom-layout-1");
    let sheets = || json["materials"].as_array().unwrap().iter().flat_map(|one| one["sheets"].as_array().unwrap());
    let count = |key: &str| sheets().map(|sheet| sheet[key].as_array().unwrap().len()).sum::<usize>();
    // Every piece is on a list of pieces, and the table has a line for each, one for each offcut, and its header.
    let demand: Value = serde_json::from_slice(
        &elbowroom().args(["parts", "--json", &plan("potting-shed.ron")]).output().unwrap().stdout,
    )
    .unwrap();
    let wanted: usize =
        demand["demand"].as_array().unwrap().iter().map(|group| group["pieces"].as_array().unwrap().len()).sum();
    assert_eq!(count("pieces"), wanted);
    assert_eq!(run(&["--csv"]).lines().count(), wanted + count("offcuts") + 1);
    let text = run(&[]);
    assert!(text.contains("Take care") && text.contains("Saw with guard"), "{text}");
    for sheet in sheets() {
        for piece in sheet["pieces"].as_array().unwrap() {
            assert!(text.contains(piece["label"].as_str().unwrap()), "{piece}");
        }
    }
    assert_eq!(text, run(&["--seed", "1", "--effort", "1"]));
    let refused = elbowroom().args(["layout", "--effort", "0", &plan("potting-shed.ron")]).output().unwrap();
    assert_eq!(refused.status.code(), Some(2));
    // A kick cover longer than any sheet: the rest is printed, and scripts are told.
    let output = elbowroom().args(["layout", &plan("old-house.ron")]).output().unwrap();
    assert_eq!(output.status.code(), Some(1));
    assert!(stdout(&output).contains("has no place: it is larger than any sheet"));
}

// With no display the program says so and prints the demo's report instead; that is no failure.
#[test]
fn without_a_display_the_demo_s_report_is_printed() {
    let output = elbowroom().output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert!(String::from_utf8_lossy(&output.stderr).contains("No window"));
    assert!(stdout(&output).contains("Glazing corner"));
}

// What draws pictures is left out with the window; what is asked for is read all the same.
#[cfg(not(feature = "viewer"))]
#[test]
fn a_build_without_the_window_says_that_it_draws_no_pictures() {
    let output = elbowroom().args(["picture", &plan("old-house.ron"), "-o", "out.png"]).output().unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("--no-default-features"));
}
