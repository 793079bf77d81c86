//! Arrows between the modules go one way, and the pure ones stay pure.

use std::path::{Path, PathBuf};

/// Which modules each may use.
const ALLOWED: [(&str, &[&str]); 15] = [
    ("length", &[]),
    ("progress", &[]),
    ("plan", &["length"]),
    ("model", &["length", "plan"]),
    ("clearance", &["length", "plan", "model"]),
    ("showing", &["length", "plan", "model"]),
    ("people", &["length", "plan", "model"]),
    // The one reading that asks others, again and again.
    ("certainty", &["length", "progress", "plan", "model", "clearance", "showing"]),
    ("cutting", &["length", "progress", "plan", "model"]),
    ("install", &["length", "progress", "plan", "model"]),
    (
        "report",
        &["length", "progress", "plan", "model", "clearance", "showing", "people", "certainty", "cutting", "install"],
    ),
    (
        "command",
        &[
            "length",
            "progress",
            "plan",
            "model",
            "clearance",
            "showing",
            "people",
            "certainty",
            "cutting",
            "install",
            "report",
        ],
    ),
    (
        "viewer",
        &[
            "length",
            "progress",
            "plan",
            "model",
            "clearance",
            "showing",
            "people",
            "certainty",
            "cutting",
            "install",
            "report",
            "command",
        ],
    ),
    // Part of the program, like `main`: the command line of `picture`.
    ("picture", &[]),
    ("lib", &[]),
];

/// Nothing below the program and the window may look at the world.
const IMPURE: [&str; 6] = ["std::time", "std::env", "std::fs", "println!", "eprintln!", "bevy"];

/// The two files of the core that save and recover plans.
const MAY_TOUCH_FILES: [&str; 2] = ["src/plan/save.rs", "src/plan/recovery.rs"];

fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(rust_files(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            files.push(path);
        }
    }
    files.sort();
    files
}

/// The top module a file belongs to.
fn module(source: &Path, file: &Path) -> String {
    let first = file.strip_prefix(source).unwrap().components().next().unwrap();
    first.as_os_str().to_string_lossy().trim_end_matches(".rs").to_owned()
}

#[test]
fn no_module_knows_one_above_it() {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut wrong = Vec::new();
    for file in rust_files(&source) {
        let own = module(&source, &file);
        let Some((_, allowed)) = ALLOWED.iter().find(|(name, _)| *name == own) else {
            assert_eq!(own, "main", "{} is in no known module", file.display());
            continue;
        };
        let text = std::fs::read_to_string(&file).unwrap();
        for (number, line) in text.lines().enumerate() {
            let code = line.split("//").next().unwrap_or_default();
            let mut rest = code;
            while let Some(at) = rest.find("crate::") {
                rest = &rest[at + "crate::".len()..];
                let used: String = rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
                if ALLOWED.iter().any(|(name, _)| *name == used) && used != own && !allowed.contains(&used.as_str()) {
                    wrong.push(format!("{}:{}: {own} uses {used}: {line}", file.display(), number + 1));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_core_does_not_look_at_the_world() {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut wrong = Vec::new();
    for file in rust_files(&source) {
        let saves = MAY_TOUCH_FILES.iter().any(|name| file.ends_with(name));
        if saves || matches!(module(&source, &file).as_str(), "main" | "picture" | "viewer" | "lib") {
            continue;
        }
        let text = std::fs::read_to_string(&file).unwrap();
        for (number, line) in text.lines().enumerate() {
            let code = line.split("//").next().unwrap_or_default();
            if let Some(word) = IMPURE.iter().find(|word| code.contains(**word)) {
                wrong.push(format!("{}:{}: {word}: {line}", file.display(), number + 1));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
