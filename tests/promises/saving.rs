//! A plan is saved as a whole or not at all, and what was being edited is found again.

use std::fs;
use std::path::Path;

use elbowroom::plan::recovery::{RecoveryCopy, find};
use elbowroom::plan::save::{Expected, SaveError, save};

#[test]
fn a_plan_is_saved_over_the_text_that_was_read() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("plan.ron");
    save(&file, "one", Expected::Nothing).unwrap();
    save(&file, "two", Expected::Text("one")).unwrap();
    assert_eq!(fs::read_to_string(&file).unwrap(), "two");
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "nothing is left lying about");
}

#[test]
fn a_file_that_another_hand_changed_is_not_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("plan.ron");
    fs::write(&file, "a\nours").unwrap();
    fs::write(&file, "a\ntheirs").unwrap();
    let refused = save(&file, "a\nnew", Expected::Text("a\nours")).unwrap_err();
    assert!(matches!(&refused, SaveError::Changed { line: 2, there, here, .. } if there == "theirs" && here == "ours"));
    assert!(refused.to_string().contains("plan.ron"), "{refused}");
    assert_eq!(fs::read_to_string(&file).unwrap(), "a\ntheirs");
    assert!(matches!(save(&file, "x", Expected::Nothing), Err(SaveError::Exists(_))));
    save(&file, "a\nnew", Expected::Anything).unwrap();
    fs::remove_file(&file).unwrap();
    assert!(matches!(save(&file, "x", Expected::Text("a\nnew")), Err(SaveError::Gone(_))));
}

#[test]
fn a_place_that_takes_no_file_is_told_as_such() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("plan.ron");
    fs::write(&file, "one").unwrap();
    let mut permissions = fs::metadata(&file).unwrap().permissions();
    permissions.set_readonly(true);
    fs::set_permissions(&file, permissions).unwrap();
    assert!(matches!(save(&file, "two", Expected::Text("one")), Err(SaveError::ReadOnly(_))));
    assert_eq!(fs::read_to_string(&file).unwrap(), "one");
    let nowhere = folder.path().join("no such folder").join("plan.ron");
    assert!(matches!(save(&nowhere, "two", Expected::Nothing), Err(SaveError::Folder { .. })));
    assert!(matches!(save(folder.path(), "two", Expected::Anything), Err(SaveError::NoFile(_))));
    assert!(matches!(save(Path::new("/"), "two", Expected::Anything), Err(SaveError::NoFile(_))));
}

#[cfg(unix)]
#[test]
fn permissions_stay_and_a_link_stays_a_link() {
    use std::os::unix::fs::{PermissionsExt as _, symlink};
    let folder = tempfile::tempdir().unwrap();
    let (file, link) = (folder.path().join("plan.ron"), folder.path().join("link.ron"));
    fs::write(&file, "one").unwrap();
    fs::set_permissions(&file, fs::Permissions::from_mode(0o640)).unwrap();
    symlink("plan.ron", &link).unwrap();
    save(&link, "two", Expected::Text("one")).unwrap();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(fs::read_to_string(&file).unwrap(), "two");
    assert_eq!(fs::metadata(&file).unwrap().permissions().mode() & 0o777, 0o640);
    // A link that leads nowhere yet, and one that leads to itself.
    symlink("later.ron", folder.path().join("early.ron")).unwrap();
    save(&folder.path().join("early.ron"), "three", Expected::Nothing).unwrap();
    assert_eq!(fs::read_to_string(folder.path().join("later.ron")).unwrap(), "three");
    symlink("round.ron", folder.path().join("round.ron")).unwrap();
    assert!(matches!(save(&folder.path().join("round.ron"), "x", Expected::Anything), Err(SaveError::NoFile(_))));
    // A new file may be read by whom the user lets read new files.
    let plain = folder.path().join("plain");
    fs::write(&plain, "").unwrap();
    let mode = |file: &Path| fs::metadata(file).unwrap().permissions().mode() & 0o777;
    assert_eq!(mode(&folder.path().join("later.ron")), mode(&plain));
}

#[test]
fn a_copy_that_a_window_left_behind_is_found_with_its_text() {
    let state = tempfile::tempdir().unwrap();
    let folder = state.path().join("elbowroom");
    let plan = Path::new("/shop/corner.ron");
    assert!(find(&folder, plan).unwrap().is_empty());
    let copy = RecoveryCopy::start(&folder, plan).unwrap();
    assert!(find(&folder, plan).unwrap().is_empty(), "nothing is written yet");
    copy.write("// mine\n(one)", 1_000, 7).unwrap();
    copy.write("// mine\r\n(two)", 2_000, 7).unwrap();
    assert!(find(&folder, plan).unwrap().is_empty(), "its window lives");
    drop(copy);
    let found = find(&folder, plan).unwrap();
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].text, "// mine\r\n(two)");
    assert_eq!((found[0].about.plan.as_path(), found[0].about.saved_at_s, found[0].about.process), (plan, 2_000, 7));
    assert!(find(&folder, Path::new("/home/corner.ron")).unwrap().is_empty(), "another plan of that name");
    for found in found {
        found.discard().unwrap();
    }
    assert!(find(&folder, plan).unwrap().is_empty());
    assert_eq!(fs::read_dir(&folder).unwrap().count(), 0);
}

#[test]
fn two_windows_on_one_plan_keep_a_copy_each() {
    let state = tempfile::tempdir().unwrap();
    let plan = Path::new("/shop/corner.ron");
    let one = RecoveryCopy::start(state.path(), plan).unwrap();
    let two = RecoveryCopy::start(state.path(), plan).unwrap();
    one.write("one", 1, 7).unwrap();
    two.write("two", 2, 8).unwrap();
    let (first, second) = (one.file().to_owned(), two.file().to_owned());
    assert_ne!(first, second);
    drop(one);
    // What the first has left stays until someone decides, and a third does not write over it.
    let three = RecoveryCopy::start(state.path(), plan).unwrap();
    three.write("three", 3, 9).unwrap();
    let found = find(state.path(), plan).unwrap();
    assert_eq!(found.iter().map(|found| found.text.as_str()).collect::<Vec<_>>(), ["one"]);
    let again = found.into_iter().next().unwrap().resumed();
    again.write("one, gone on", 4, 10).unwrap();
    assert!(fs::read_to_string(&first).unwrap().ends_with("\none, gone on"));
    two.discard().unwrap();
    three.discard().unwrap();
    again.discard().unwrap();
    assert_eq!(fs::read_dir(state.path()).unwrap().count(), 0);
}

#[test]
fn what_is_no_copy_is_left_alone() {
    let state = tempfile::tempdir().unwrap();
    let plan = Path::new("/shop/corner.ron");
    let copy = RecoveryCopy::start(state.path(), plan).unwrap();
    copy.write("x", 1, 7).unwrap();
    let file = copy.file().to_owned();
    drop(copy);
    fs::write(&file, "(something: else)").unwrap();
    assert!(find(state.path(), plan).unwrap().is_empty());
    assert_eq!(fs::read_to_string(&file).unwrap(), "(something: else)");
}
