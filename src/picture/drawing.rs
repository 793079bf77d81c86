//! What is asked for, looked up in the plan, and where the pictures go.

use std::io::{self, IsTerminal as _, Write as _};
use std::path::{Path, PathBuf};

use elbowroom::clearance::Answer;
use elbowroom::model::{Model, MoverId};
use elbowroom::plan;
use elbowroom::viewer::capture::{Options, PictureError};
use elbowroom::viewer::layers::{Layer, Shade};
use elbowroom::viewer::motion::Poses;
use elbowroom::viewer::quality::{Drawing, Quality};
use elbowroom::viewer::settings::Audience;
use elbowroom::viewer::shown::Shown;
use elbowroom::viewer::stills::{self, Row, RowError};
use elbowroom::viewer::viewpoint::Viewpoint;

use super::{Effect, Failure, For, PictureArguments};

/// Draws what is asked for; gives what to print.
pub(crate) fn run(asked: &PictureArguments) -> Result<String, Failure> {
    if asked.views {
        let line = |this: Viewpoint| format!("{:16} {}\n", this.word().to_lowercase(), this.help());
        return Ok(Viewpoint::ALL.map(line).concat());
    }
    let (Some(path), Some(output)) = (&asked.plan, &asked.output) else { return Ok(String::new()) };
    let (name, text) = crate::read_file(path)?;
    let plan = plan::read(&name, &text).map_err(crate::Failure::from)?;
    let shown = Shown::new(plan.clone());
    let (options, row) = resolve(asked, &shown, shown.answer()).map_err(|wrong| wrong.join("\n"))?;
    let files = Files::new(output, row.count(), asked)?;
    let mut written = 0;
    let drawn = stills::draw(&plan, &options, row, |k, picture| {
        let bytes = stills::png(picture)?;
        files.write(k, &bytes)?;
        written = k + 1;
        Ok::<(), String>(())
    });
    if files.progress == Progress::Counter {
        crate::talk("\n");
    }
    let drawn = drawn.map_err(|error| {
        let so_far = so_far(written, row.count());
        match error {
            RowError::Picture(PictureError::Stopped) => Failure::Stopped(format!("stopped{so_far}")),
            RowError::Picture(why) => Failure::Said(format!("no picture: {why}{so_far}")),
            RowError::Kept(why) => Failure::Said(format!("{why}{so_far}")),
        }
    })?;
    for mover in drawn.shut_again {
        let name = &shown.model().mover(mover).name;
        crate::talk(&format!("{name} is shut in the picture: it cannot be open at once with what came after it.\n"));
    }
    Ok(String::new())
}

fn so_far(written: usize, count: usize) -> String {
    if count > 1 { format!(" ({written} of {count} pictures were written)") } else { String::new() }
}

/// What is asked for, with every name looked up; or everything that is wrong with it.
fn resolve(asked: &PictureArguments, shown: &Shown, answer: &Answer) -> Result<(Options, Row), Vec<String>> {
    let mut wrong = Vec::new();
    let mut options = Options { size: asked.size, panel: asked.panel, ..Options::default() };
    options.audience = match asked.audience {
        For::Owner => Audience::Owner,
        For::Builder => Audience::Builder,
    };
    options.drawing = match asked.quality {
        None => Drawing::ByMachine,
        Some(Effect::Plain) => Drawing::Always(Quality::Plain),
        Some(Effect::Balanced) => Drawing::Always(Quality::Balanced),
        Some(Effect::Full) => Drawing::Always(Quality::Full),
    };
    match Viewpoint::named(&asked.view) {
        Some(viewpoint) => options.from = viewpoint,
        None => wrong.push(format!(
            "there is no view `{}`; there are: {}",
            asked.view,
            Viewpoint::ALL.map(|this| this.word().to_lowercase()).join(", ")
        )),
    }
    let layers = [(&asked.hide, Shade::Hidden), (&asked.ghost, Shade::Ghosted)];
    for (name, shade) in layers.into_iter().flat_map(|(names, shade)| names.iter().map(move |name| (name, shade))) {
        match Layer::ALL.into_iter().find(|layer| layer.word().eq_ignore_ascii_case(name.trim())) {
            Some(layer) => options.show.set(layer, shade),
            None => wrong.push(format!(
                "there is no layer `{name}`; there are: {}",
                Layer::ALL.map(|layer| layer.word().to_lowercase()).join(", ")
            )),
        }
    }
    match open(&asked.open, shown) {
        Ok(open) => options.open = open,
        Err(why) => wrong.extend(why),
    }
    match (asked.finding, answer.findings.len()) {
        (Some(n), count) if n == 0 || n > count => wrong.push(match count {
            0 => "this plan has no findings to point out".to_owned(),
            1 => format!("there is no finding {n}; there is one: 1"),
            count => format!("there is no finding {n}; there are {count}: 1 to {count}"),
        }),
        (n, _) => options.finding = n.map(|n| n - 1),
    }
    let row = match (&asked.opening, asked.around) {
        (Some(name), _) => find_mover(shown.model(), name).map_or_else(
            |why| {
                wrong.push(why);
                Row::One
            },
            |mover| Row::Opening(mover, usize::from(asked.frames)),
        ),
        (None, Some(count)) => Row::Around(usize::from(count)),
        (None, None) => Row::One,
    };
    if wrong.is_empty() { Ok((options, row)) } else { Err(wrong) }
}

/// What is to be open, each once.
fn open(names: &[String], shown: &Shown) -> Result<Vec<MoverId>, Vec<String>> {
    let (mut open, mut wrong) = (Vec::new(), Vec::new());
    for name in names {
        match name.trim().to_lowercase().as_str() {
            "none" => {}
            "all" => {
                let mut poses = Poses::default();
                poses.toggle_all(shown);
                let is_open = |mover: &&elbowroom::model::Mover| poses.wish(mover) != Default::default();
                open.extend(shown.model().movers.iter().filter(is_open).map(|mover| mover.id));
            }
            _ => match find_mover(shown.model(), name) {
                Ok(mover) => open.push(mover),
                Err(why) => wrong.push(why),
            },
        }
    }
    let mut seen = Vec::new();
    open.retain(|mover| {
        !seen.contains(mover) && {
            seen.push(*mover);
            true
        }
    });
    if wrong.is_empty() { Ok(open) } else { Err(wrong) }
}

/// The drawer or door of that name: whole (`left 1 glaze drawers, top drawer`), by its unit's place (`left 1, top
/// drawer`), or by its unit's own name (`glaze drawers, top drawer`).
fn find_mover(model: &Model, name: &str) -> Result<MoverId, String> {
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    let wanted = plain(name);
    let named = |mover: &elbowroom::model::Mover| {
        let place = format!("{} {}", mover.side.word(), mover.unit + 1);
        let (unit, own) = mover.name.rsplit_once(", ").unwrap_or((&mover.name, &mover.name));
        let bare = unit.strip_prefix(place.as_str()).unwrap_or(unit);
        let all = [mover.name.clone(), format!("{place}, {own}"), format!("{bare}, {own}")];
        all.iter().any(|name| plain(name) == wanted)
    };
    let found: Vec<_> = model.movers.iter().filter(|mover| named(mover)).collect();
    let list = |movers: &mut dyn Iterator<Item = &elbowroom::model::Mover>| {
        movers.map(|mover| format!("\n  {}", mover.name)).collect::<String>()
    };
    match found.as_slice() {
        [one] => Ok(one.id),
        [] if model.movers.is_empty() => Err("this plan has nothing that opens".to_owned()),
        [] => Err(format!("nothing is called `{name}`; what opens:{}", list(&mut model.movers.iter()))),
        several => Err(format!("`{name}` may mean:{}", list(&mut several.iter().copied()))),
    }
}

/// How one sees how far it is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Progress {
    /// A line that counts, on a terminal.
    Counter,
    /// A line a picture.
    Lines,
    /// Nothing: the picture goes to standard output.
    Silent,
}

/// Where the pictures go.
struct Files {
    /// None for standard output.
    paths: Option<Vec<PathBuf>>,
    force: bool,
    progress: Progress,
}

impl Files {
    fn new(output: &Path, count: usize, asked: &PictureArguments) -> Result<Self, String> {
        let force = asked.force;
        let is_row = asked.around.is_some() || asked.opening.is_some();
        if output.as_os_str() == "-" {
            if is_row {
                return Err("standard output takes one picture, not a row of them; name a file".to_owned());
            }
            if io::stdout().is_terminal() {
                return Err("a picture is no text for a terminal; name a file, or send it to a program".to_owned());
            }
            return Ok(Self { paths: None, force, progress: Progress::Silent });
        }
        let name = output.display();
        if !output.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("png")) {
            return Err(format!("`{name}` is not named as a PNG picture; write for example `{name}.png`"));
        }
        let folder = output.parent().filter(|folder| !folder.as_os_str().is_empty());
        if let Some(folder) = folder.filter(|folder| !folder.is_dir()) {
            return Err(format!("there is no folder `{}` to write to", folder.display()));
        }
        let paths: Vec<PathBuf> =
            if is_row { (1..=count).map(|k| numbered(output, k)).collect() } else { vec![output.to_path_buf()] };
        let there: Vec<String> =
            paths.iter().filter(|path| path.exists()).map(|path| format!("`{}`", path.display())).collect();
        if !there.is_empty() && !force {
            let more = if there.len() > 3 { format!(" and {} more", there.len() - 3) } else { String::new() };
            let first = there.into_iter().take(3).collect::<Vec<_>>().join(", ");
            return Err(format!("{first}{more}: there already; --force writes over"));
        }
        let progress = if is_row && io::stderr().is_terminal() { Progress::Counter } else { Progress::Lines };
        Ok(Self { paths: Some(paths), force, progress })
    }

    /// Writes one picture, whole or not at all.
    fn write(&self, k: usize, bytes: &[u8]) -> Result<(), String> {
        let Some(paths) = &self.paths else {
            return match io::stdout().lock().write_all(bytes) {
                Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
                    Err(format!("the picture could not be written: {error}"))
                }
                _ => Ok(()),
            };
        };
        let Some(path) = paths.get(k) else { return Ok(()) };
        let wrong = |error: io::Error| format!("`{}` could not be written: {error}", path.display());
        // Under a name that says so until it is whole.
        let mut part = path.as_os_str().to_owned();
        part.push(".part");
        let part = PathBuf::from(part);
        std::fs::write(&part, bytes).map_err(wrong)?;
        if !self.force && path.exists() {
            std::fs::remove_file(&part).map_err(wrong)?;
            return Err(format!("`{}` has come to be there meanwhile; --force writes over", path.display()));
        }
        std::fs::rename(&part, path).map_err(wrong)?;
        match self.progress {
            Progress::Counter => crate::talk(&format!("\r{} of {} ", k + 1, paths.len())),
            Progress::Lines if paths.len() > 1 => {
                crate::talk(&format!("{} of {}: {}\n", k + 1, paths.len(), path.display()));
            }
            Progress::Lines => crate::talk(&format!("{}\n", path.display())),
            Progress::Silent => {}
        }
        Ok(())
    }
}

/// `out.png` as `out-001.png`.
fn numbered(output: &Path, k: usize) -> PathBuf {
    let stem = output.file_stem().unwrap_or_default().to_string_lossy();
    let ending = output.extension().unwrap_or_default().to_string_lossy();
    output.with_file_name(format!("{stem}-{k:03}.{ending}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn demo() -> Model {
        let plan = plan::read("demo", elbowroom::command::DEMO).expect("the demo is good");
        elbowroom::clearance::answer(&plan).model
    }

    #[test]
    fn a_drawer_is_found_by_its_whole_name_its_place_or_its_unit() {
        let model = demo();
        for name in ["left 1 glaze drawers, top drawer", "Left 1,  Top Drawer", "glaze drawers, top drawer"] {
            assert_eq!(find_mover(&model, name), Ok(MoverId(0)), "{name}");
        }
        let why = find_mover(&model, "left 9, top drawer").expect_err("there is none");
        assert!(why.contains("left 1 glaze drawers, top drawer") && why.contains("right 2 sieves, door"), "{why}");
    }

    #[test]
    fn numbers_stand_before_the_ending() {
        assert_eq!(numbered(Path::new("a/out.png"), 7), Path::new("a/out-007.png"));
        assert_eq!(numbered(Path::new("out.x.PNG"), 1234), Path::new("out.x-1234.PNG"));
    }
}
