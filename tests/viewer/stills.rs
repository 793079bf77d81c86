//! `picture` on the command line: what it refuses before it draws, and what it writes.

use std::path::Path;

use assert_cmd::Command;

/// Those that draw nothing.
pub(crate) const PLAIN: &[(&str, fn())] = &[
    ("stills: what cannot be is refused, with what could be", wrong_names),
    ("stills: a picture that is there is not written over", nothing_is_written_over),
    ("stills: a size that is none is refused", bad_sizes),
    ("stills: the views are listed", views_are_listed),
    ("stills: with no adapter it says so and ends with 2", no_adapter),
];

/// Those that draw.
pub(crate) const TESTS: &[(&str, fn())] = &[
    ("stills: three pictures through an opening", an_opening_in_three),
    ("stills: three pictures round the corner", round_the_corner_in_three),
    ("stills: one picture to standard output", to_standard_output),
    ("stills: Ctrl-C leaves whole pictures and nothing else", ctrl_c_leaves_whole_pictures),
];

fn picture() -> Command {
    let mut command = Command::cargo_bin("elbowroom").expect("the program is built");
    command.env_remove("DISPLAY").env_remove("WAYLAND_DISPLAY");
    command.args(["picture", concat!(env!("CARGO_MANIFEST_DIR"), "/assets/plans/glazing-corner.ron")]);
    command
}

#[track_caller]
fn refused(command: &mut Command) -> String {
    let output = command.output().expect("it runs");
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    assert!(output.stdout.is_empty());
    String::from_utf8(output.stderr).expect("it says so in UTF-8")
}

fn wrong_names() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("out.png");
    let said = refused(picture().arg("-o").arg(&out).args([
        "--view",
        "below",
        "--open",
        "left 9, drawer",
        "--hide",
        "roof",
        "--open",
        "all",
    ]));
    // All at once, each with what would be right.
    for word in ["`below`", "whole corner", "`left 9, drawer`", "left 1 glaze drawers, top drawer", "`roof`", "fronts"]
    {
        assert!(said.contains(word), "{word} is not in {said}");
    }
    let said = refused(picture().arg("-o").arg(&out).args(["--finding", "99"]));
    assert!(said.contains("no finding 99") && said.contains("1 to 3"), "{said}");
    let said = refused(picture().args(["-o", "out.jpeg"]));
    assert!(said.contains("out.jpeg.png"), "{said}");
    let said = refused(picture().arg("-o").arg(folder.path().join("no/such/out.png")));
    assert!(said.contains("no folder"), "{said}");
    let said = refused(picture().args(["-o", "-", "--around", "3"]));
    assert!(said.contains("one picture"), "{said}");
    assert_eq!(files(folder.path()), Vec::<String>::new());
}

fn bad_sizes() {
    for size in ["640", "0x400", "99999x400", "wide"] {
        let said = refused(picture().args(["-o", "out.png", "--size", size]));
        assert!(said.contains("1920x1080"), "{said}");
    }
}

fn nothing_is_written_over() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("out.png");
    std::fs::write(&out, "the owner's").expect("it is written");
    let said = refused(picture().arg("-o").arg(&out));
    assert!(said.contains("there already") && said.contains("--force"), "{said}");
    assert_eq!(std::fs::read(&out).expect("it is there"), b"the owner's");
    // One of a row is enough.
    std::fs::rename(&out, folder.path().join("out-002.png")).expect("it is renamed");
    let said = refused(picture().arg("-o").arg(&out).args(["--around", "3"]));
    assert!(said.contains("out-002.png"), "{said}");
    assert_eq!(files(folder.path()), ["out-002.png"]);
}

fn views_are_listed() {
    let output =
        Command::cargo_bin("elbowroom").expect("it is built").args(["picture", "--views"]).output().expect("runs");
    assert_eq!(output.status.code(), Some(0));
    let text = String::from_utf8(output.stdout).expect("it is text");
    assert!(text.contains("whole corner") && text.contains("standing"), "{text}");
}

fn no_adapter() {
    let folder = tempfile::tempdir().expect("a folder");
    let none = folder.path().join("none.json");
    // The loader looks for drivers here and nowhere else.
    let said = refused(
        picture()
            .arg("-o")
            .arg(folder.path().join("out.png"))
            .env("VK_DRIVER_FILES", &none)
            .env("VK_ICD_FILENAMES", &none),
    );
    assert!(said.contains("no graphics adapter was found"), "{said}");
    assert_eq!(files(folder.path()), Vec::<String>::new());
}

fn files(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .expect("a folder")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

/// Draws a row of three, checks that there are three whole pictures and nothing else, and gives them.
fn three(arguments: &[&str]) -> Vec<image::RgbaImage> {
    let folder = tempfile::tempdir().expect("a folder");
    let mut command = picture();
    command.arg("-o").arg(folder.path().join("out.png")).args(["--size", "160x100"]).args(arguments);
    let output = command.output().expect("it runs");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(0), "{said}");
    assert!(said.contains("3 of 3"), "{said}");
    assert_eq!(files(folder.path()), ["out-001.png", "out-002.png", "out-003.png"]);
    let open = |name: &String| image::open(folder.path().join(name)).expect("a whole picture").to_rgba8();
    files(folder.path()).iter().map(open).collect()
}

/// How many pixels are plainly different.
fn changed(a: &image::RgbaImage, b: &image::RgbaImage) -> usize {
    assert_eq!(a.dimensions(), b.dimensions());
    a.pixels().zip(b.pixels()).filter(|(a, b)| (0..3).any(|k| a.0[k].abs_diff(b.0[k]) > 30)).count()
}

fn an_opening_in_three() {
    let pictures = three(&["--opening", "left 3, top drawer", "--frames", "3"]);
    assert_eq!(pictures[0].dimensions(), (160, 100));
    let [half, whole] = [changed(&pictures[0], &pictures[1]), changed(&pictures[0], &pictures[2])];
    // The drawer comes out, and farther; the rest of the scene stays.
    assert!(half > 40 && whole > half && whole < 160 * 100 / 3, "{half} {whole}");
}

fn round_the_corner_in_three() {
    let pictures = three(&["--around", "3", "--for", "owner"]);
    assert!(changed(&pictures[0], &pictures[1]) > 2_000 && changed(&pictures[1], &pictures[2]) > 2_000);
}

fn to_standard_output() {
    let output = picture().args(["-o", "-", "--size", "64x40"]).output().expect("it runs");
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    let picture = image::load_from_memory(&output.stdout).expect("a PNG picture");
    assert_eq!((picture.width(), picture.height()), (64, 40));
}

fn ctrl_c_leaves_whole_pictures() {
    let folder = tempfile::tempdir().expect("a folder");
    let plan = concat!(env!("CARGO_MANIFEST_DIR"), "/assets/plans/glazing-corner.ron");
    let mut program = std::process::Command::new(assert_cmd::cargo::cargo_bin("elbowroom"));
    program.args(["picture", plan, "--around", "900", "--size", "160x100", "-o"]).arg(folder.path().join("out.png"));
    program.stderr(std::process::Stdio::piped());
    let mut running = program.spawn().expect("it runs");
    // Only once it draws is the handler there.
    for _ in 0..1_200 {
        if folder.path().join("out-002.png").exists() || running.try_wait().is_ok_and(|ended| ended.is_some()) {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(50));
    }
    let kill = format!("kill -INT {}", running.id());
    assert!(std::process::Command::new("sh").args(["-c", &kill]).status().is_ok_and(|status| status.success()));
    let output = running.wait_with_output().expect("it ends");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(130), "{said}");
    let written = files(folder.path());
    assert!(written.len() >= 2 && written.len() < 900, "{}", written.len());
    assert!(said.contains(&format!("stopped ({} of 900 pictures were written)", written.len())), "{said}");
    for name in written {
        assert_eq!(image::open(folder.path().join(&name)).expect("a whole picture").width(), 160, "{name}");
    }
}
