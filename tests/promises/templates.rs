//! Templates are full size, well formed, and never written over what is not ours.

use assert_cmd::Command;
use elbowroom::install::Installation;
use elbowroom::length::{Length, Unit};
use elbowroom::plan::{Reading, Side};
use elbowroom::report::install::{TEMPLATE_MARK, templates};

use super::outlines::{ALCOVE, alcove, model};

/// Reads XML as far as a drawing needs: tags as (name, attributes). Fails on what is not well formed.
fn tags(text: &str) -> Vec<(String, Vec<(String, String)>)> {
    let (mut found, mut open, mut rest) = (Vec::new(), Vec::new(), text);
    while let Some(at) = rest.find('<') {
        let words = &rest[..at];
        assert!(!words.contains('>'), "a bracket stands alone in {words}");
        for (k, _) in words.match_indices('&') {
            let entity = words[k..].split(';').next().unwrap();
            assert!(["&amp", "&lt", "&gt", "&quot"].contains(&entity), "{entity} is no entity");
        }
        rest = &rest[at + 1..];
        if let Some(comment) = rest.strip_prefix("!--") {
            rest = &comment[comment.find("-->").unwrap() + 3..];
            continue;
        }
        let end = rest.find('>').unwrap();
        let (tag, after) = (&rest[..end], &rest[end + 1..]);
        rest = after;
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop().as_deref(), Some(name), "tags do not close in order");
            continue;
        }
        let (tag, closed) = tag.strip_suffix('/').map_or((tag, false), |tag| (tag, true));
        let (name, mut list) = tag.split_once(' ').unwrap_or((tag, ""));
        let mut attributes: Vec<(String, String)> = Vec::new();
        while let Some((key, value)) = list.split_once("=\"") {
            let (value, after) = value.split_once('"').unwrap();
            assert!(!attributes.iter().any(|(known, _)| known == key.trim()), "{key} twice in <{tag}>");
            attributes.push((key.trim().to_owned(), value.to_owned()));
            list = after;
        }
        assert!(list.trim().is_empty(), "{list} is left over in <{tag}>");
        if !closed {
            open.push(name.to_owned());
        }
        found.push((name.to_owned(), attributes));
    }
    assert!(open.is_empty(), "{open:?} stay open");
    found
}

fn attribute<'t>(tag: &'t (String, Vec<(String, String)>), name: &str) -> Option<&'t str> {
    tag.1.iter().find(|(key, _)| key == name).map(|(_, value)| value.as_str())
}

#[test]
fn every_drawing_is_full_size_and_shows_the_outline() {
    let mut plan = alcove();
    plan.name = "Dyes & <cloth>".to_owned();
    plan.left.units[0].name = "dyes & \"salts\" <wet>".to_owned();
    plan.room.survey.left.readings = [(0.0, 50.0), (700.0, 43.0), (1400.0, 55.0)]
        .map(|(along, gap)| Reading { along: Length::mm(along), height: Length::mm(900.0), gap: Length::mm(gap) })
        .to_vec();
    for unit in [Unit::Millimetre, Unit::Inch] {
        plan.unit = unit;
        let installation = Installation::of(&plan, &model(&plan));
        let files = templates(&installation);
        assert_eq!(files.len(), installation.outlines.pieces.len() + 4);
        for file in &files {
            assert!(file.text.lines().next().unwrap().contains(TEMPLATE_MARK), "{}", file.name);
        }
        let drawings = files.iter().filter(|file| file.name.ends_with(".svg"));
        for drawing in drawings {
            let tags = tags(&drawing.text);
            let svg = tags.iter().find(|tag| tag.0 == "svg").unwrap();
            let size =
                ["width", "height"].map(|key| attribute(svg, key).unwrap().strip_suffix("mm").unwrap().to_owned());
            assert_eq!(
                attribute(svg, "viewBox").unwrap(),
                format!("0 0 {} {}", size[0], size[1]),
                "one unit is one mm"
            );
            let bar = tags.iter().find(|tag| attribute(tag, "id") == Some("check-bar")).unwrap();
            let long: f64 = attribute(bar, "width").unwrap().parse().unwrap();
            let expected = if unit == Unit::Inch { 101.6 } else { 100.0 };
            assert!((long - expected).abs() < 1e-9);
        }
        for (outline, file) in installation.outlines.pieces.iter().zip(&files) {
            let tags = tags(&file.text);
            let path = tags.iter().find(|tag| attribute(tag, "id") == Some("outline")).unwrap();
            let numbers = attribute(path, "d").unwrap().split_whitespace();
            let numbers: Vec<f64> = numbers.filter_map(|word| word.parse().ok()).collect();
            let drawn: Vec<[f64; 2]> = numbers.chunks(2).map(|pair| [pair[0], pair[1]]).collect();
            let points = outline.points();
            assert_eq!(drawn.len(), points.len(), "{}", file.name);
            // Seen as it is held: x to the right, y up, each as long as it is.
            for (k, point) in points.iter().enumerate() {
                let to_first = [drawn[k][0] - drawn[0][0], drawn[0][1] - drawn[k][1]];
                for axis in [0, 1] {
                    let long = point[axis] - points[0][axis];
                    assert!((to_first[axis] - long).abs() < 0.0021, "{}: {} is {long}", file.name, to_first[axis]);
                }
            }
        }
        let stick = files.iter().find(|file| file.name == "stick-left-wall.svg").unwrap();
        let tags = tags(&stick.text);
        let at: Vec<f64> = tags
            .iter()
            .filter(|tag| attribute(tag, "class") == Some("mark"))
            .map(|tag| attribute(tag, "x1").unwrap().parse().unwrap())
            .collect();
        let marks = &installation.marks[usize::from(Side::Left != installation.marks[0].side)].marks;
        assert_eq!(at.len(), marks.len());
        for (x, mark) in at.iter().zip(marks) {
            // The corner stands 20 mm in.
            assert!((x - 20.0 - mark.along).abs() < 0.0006);
        }
    }
}

#[test]
fn templates_are_written_over_but_nothing_else_is() {
    let folder = tempfile::tempdir().unwrap();
    let plan = folder.path().join("alcove.ron");
    std::fs::write(&plan, ALCOVE).unwrap();
    let target = folder.path().join("to").join("cut");
    let run = || {
        let mut command = Command::cargo_bin("elbowroom").unwrap();
        command.arg("install").arg(&plan).arg("--templates").arg(&target).output().unwrap()
    };
    let output = run();
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    let written: Vec<String> = String::from_utf8(output.stdout).unwrap().lines().map(str::to_owned).collect();
    assert_eq!(written.len(), 9, "five pieces, two sticks drawn and told: {written:?}");
    for path in &written {
        assert!(std::fs::read_to_string(path).unwrap().contains(TEMPLATE_MARK), "{path}");
    }
    assert_eq!(run().status.code(), Some(0), "ours may be written over");

    let last = std::path::PathBuf::from(written.last().unwrap());
    std::fs::write(&last, "a builder's own notes\n").unwrap();
    std::fs::remove_file(&written[0]).unwrap();
    let output = run();
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("no template of ours"));
    assert_eq!(std::fs::read_to_string(&last).unwrap(), "a builder's own notes\n");
    assert!(!std::path::Path::new(&written[0]).exists(), "nothing was written");
}
