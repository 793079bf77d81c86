//! What would nobody get at any more, and what is taken for granted of the room, in words and as JSON.

use serde_json::{Value, json};

use super::super::Mark;
use crate::install::{Behind, Installation, ShutIn};
use crate::plan::FixtureKind;

/// Each fixture that would be shut in, with what to do about it; nothing where there is none.
pub(super) fn lines(installation: &Installation) -> Vec<(Mark, String)> {
    let mut lines = Vec::new();
    for shut in &installation.shut_in {
        lines.push((Mark::Bad, format!("  ! {}", line(installation, shut))));
        lines.push((Mark::Plain, format!("      {}", caution(shut.fixture.kind))));
    }
    lines
}

/// What is taken for granted.
pub(super) fn assumed_lines(installation: &Installation) -> Vec<(Mark, String)> {
    let mut lines = vec![(Mark::Heading, "Taken for granted of the room".to_owned())];
    lines.extend(installation.assumes.iter().map(|line| (Mark::Plain, format!("  {line}"))));
    lines
}

/// The same for machines.
pub(super) fn json(installation: &Installation) -> Value {
    let one = |shut: &ShutIn| {
        let (behind, unit) = match &shut.behind {
            Behind::Drawers { unit, .. } => ("drawers", Some(unit + 1)),
            Behind::EndPanel { unit, .. } => ("end panel", Some(unit + 1)),
            Behind::Kick { unit, .. } => ("toe kick", Some(unit + 1)),
            Behind::DeadCorner => ("dead corner", None),
        };
        json!({
            "name": shut.fixture.name,
            "kind": shut.fixture.kind.word(),
            "wall": shut.wall.word(),
            "along_mm": shut.fixture.along.to_mm(),
            "above_mm": shut.fixture.above.to_mm(),
            "behind": behind,
            "unit": unit,
            "caution": caution(shut.fixture.kind),
        })
    };
    installation.shut_in.iter().map(one).collect()
}

fn line(installation: &Installation, shut: &ShutIn) -> String {
    let unit = installation.model.unit;
    let (kind, name, wall) = (shut.fixture.kind.word(), &shut.fixture.name, shut.wall.word());
    let what = if name == kind { format!("The {kind}") } else { format!("The {kind} `{name}`") };
    let (along, above) = (shut.fixture.along.show(unit), shut.fixture.above.show(unit));
    let at = |unit: usize, name: &str| format!("{wall} {} {name}", unit + 1);
    let behind = match &shut.behind {
        Behind::Drawers { unit, name } => format!("behind the drawers of {}", at(*unit, name)),
        Behind::EndPanel { unit, name } => format!("behind the end panel {}", at(*unit, name)),
        Behind::Kick { unit, name } => format!("behind the toe kick of {}", at(*unit, name)),
        Behind::DeadCorner => "in the dead corner".to_owned(),
    };
    format!("{what} on the {wall} wall, {along} along and {above} up, would be shut in {behind}.")
}

/// Common practice, no source; what is allowed differs from place to place.
fn caution(kind: FixtureKind) -> &'static str {
    match kind {
        FixtureKind::Outlet | FixtureKind::JunctionBox => {
            "Outlets and boxes with wires in them may not be buried: have it moved or taken out before the units go in. \
             The electrical code of the place and a licensed electrician decide."
        }
        FixtureKind::Gas => {
            "A gas cock must be in reach, and gas must not gather where it is shut in: have it moved. \
             The gas code of the place and a licensed fitter decide."
        }
        FixtureKind::Valve => {
            "A valve must be in reach: move it, or put a unit with a door before it. \
             The plumbing code of the place and a licensed plumber decide."
        }
        FixtureKind::Register => {
            "A register that is shut in heats the cabinet and not the room: lead it on to a grille in the toe kick. \
             The mechanical code of the place and a licensed fitter decide."
        }
        FixtureKind::Pipe | FixtureKind::Casing | FixtureKind::Sill => "It can stay where nobody must reach it.",
    }
}
