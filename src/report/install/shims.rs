//! Which shims, screws and packing, in words and as JSON?

use serde_json::{Value, json};

use super::super::Mark;
use crate::install::{FixingWarning, Foot, Installation, Serves, Shim, Stepped, WhyHere};
use crate::length::{Length, Unit};
use crate::plan::Base;

/// What governs every screw into a wall.
const CAUTION: &str = "  Find wires, pipes and gas before each screw. Local codes govern; where a wall carries the load in another way than here, ask a licensed tradesperson.";

/// Lines to read.
pub(super) fn lines(installation: &Installation) -> Vec<(Mark, String)> {
    let unit = installation.model.unit;
    let mut lines = vec![(Mark::Heading, "Shims and screws".to_owned())];
    let mut of = None;
    for shim in &installation.shims {
        if of != Some((shim.side, shim.unit)) {
            of = Some((shim.side, shim.unit));
            lines.push((Mark::Plain, format!("  {} {}", shim.side.word(), shim.unit + 1)));
        }
        lines.push((Mark::Plain, format!("    {}", shim_line(shim, unit))));
    }
    if installation.shims.is_empty() {
        lines.push((Mark::Plain, "  No nailers in these runs.".to_owned()));
    }
    for warning in &installation.fixing {
        lines.extend(warning_lines(warning, installation).into_iter().map(|line| (Mark::Bad, format!("  ! {line}"))));
    }
    lines.push((Mark::Plain, CAUTION.to_owned()));
    lines.push((Mark::Heading, "Under the units".to_owned()));
    if installation.setting.highest.is_none() {
        lines.push((Mark::Plain, "  The floor was not measured: taken as level.".to_owned()));
    }
    lines.extend(installation.feet.iter().map(|foot| (Mark::Plain, format!("  {}", foot_line(foot, unit)))));
    lines
}

/// Why and where, in words.
fn spot(shim: &Shim, unit: Unit) -> String {
    let along = shim.at.along.show(unit);
    match shim.why {
        WhyHere::Stud(middle) if (middle - shim.at.along).abs().to_mm() < 0.5 => {
            format!("stud at {}", middle.show(unit))
        }
        WhyHere::Stud(middle) => format!("{along}, on the stud at {}", middle.show(unit)),
        WhyHere::Asked => format!("{along}, as asked"),
        WhyHere::NoStuds => along,
    }
}

fn stepped(thickness: &Stepped, unit: Unit) -> String {
    match thickness.tie {
        Some([low, high]) => format!("{} (as near to {})", high.show(unit), low.show(unit)),
        None => thickness.nearest.show(unit),
    }
}

fn shim_line(shim: &Shim, unit: Unit) -> String {
    let mut line = format!("{}, {}: ", spot(shim, unit), shim.row);
    if shim.at.gap <= Length::ZERO {
        line += "touches, no shim";
    } else {
        line += &format!("gap {}, shim {}", shim.at.gap.show(unit), stepped(&shim.thickness, unit));
    }
    if let Some(screw) = &shim.screw {
        line += &format!("; screw {} or more", screw.needed.show_no_less(unit));
        if let (Some(take), Some(bites)) = (screw.take, screw.bites) {
            line += &format!(", take {}, which bites {}", take.show(unit), bites.show(unit));
            if screw.too_deep {
                line += " (deeper than wanted: a cable or pipe may lie there)";
            }
        }
    }
    line
}

fn warning_lines(warning: &FixingWarning, installation: &Installation) -> Vec<String> {
    let unit = installation.model.unit;
    let at = |index: usize| {
        let shim = installation.shims.get(index);
        shim.map_or_else(String::new, |shim| {
            format!("{}, {} of {} {}", spot(shim, unit), shim.row, shim.side.word(), shim.unit + 1)
        })
    };
    match warning {
        FixingWarning::NoStud { side, unit } => vec![format!(
            "no stud is behind {} {}: let blocking in between the studs, or use fixings rated for this wall and for the unit with all that it will hold and an open drawer's pull.",
            side.word(),
            unit + 1
        )],
        FixingWarning::StudsUnknown(side) => vec![format!(
            "nobody has found the studs of the {} wall: the lengths here are for two places a nailer; find the studs and put them in the plan.",
            side.word()
        )],
        FixingWarning::Masonry(side) => vec![format!(
            "the {} wall has no studs: use plugs and screws rated for it and for the load; the bite is the depth in the masonry, plaster not counted.",
            side.word()
        )],
        FixingWarning::NoLength(index) => {
            vec![format!("no screw at hand is long enough at {}.", at(*index))]
        }
        FixingWarning::NoOneLength(serves) => {
            let mut lines = vec!["no one length of screw serves all:".to_owned()];
            lines.extend(serves.iter().map(|serves| format!("  {}", serves_line(serves, unit, &at))));
            lines
        }
        FixingWarning::TouchesNowhere { side, row, least } => vec![format!(
            "the {} run's {row} touches the wall nowhere (least gap {}): every screw there gets a shim.",
            side.word(),
            least.show(unit)
        )],
    }
}

fn serves_line(serves: &Serves, unit: Unit, at: &dyn Fn(usize) -> String) -> String {
    let least = if serves.least.0 > Length::ZERO {
        format!("bites only {}", serves.least.0.show(unit))
    } else {
        "does not reach the stud".to_owned()
    };
    format!(
        "{} {least} ({}), and {} ({})",
        serves.length.show(unit),
        at(serves.least.1),
        serves.most.0.show(unit),
        at(serves.most.1)
    )
}

fn foot_line(foot: &Foot, unit: Unit) -> String {
    let what = match foot.base {
        Base::Legs => format!("leg {} high", foot.height.show(unit)),
        Base::LevelledBase => format!("levelled base packed by {}", foot.packed.show(unit)),
        Base::IntegralKick => format!("packed by {}", foot.packed.show(unit)),
    };
    format!(
        "{} {}, {}: {what}; floor {} below the highest point",
        foot.side.word(),
        foot.unit + 1,
        foot.corner,
        foot.below.show(unit)
    )
}

/// The same for machines: lengths in mm, unrounded.
pub(super) fn json(installation: &Installation) -> Value {
    let shims: Vec<Value> = installation
        .shims
        .iter()
        .map(|shim| {
            json!({
                "side": shim.side.word(),
                "unit": shim.unit + 1,
                "nailer": installation.model.part(shim.nailer).name,
                "why": match shim.why { WhyHere::Stud(_) => "stud", WhyHere::Asked => "asked", WhyHere::NoStuds => "no_studs" },
                "stud_mm": match shim.why { WhyHere::Stud(middle) => Some(middle), WhyHere::Asked | WhyHere::NoStuds => None },
                "along_mm": shim.at.along,
                "along_run_mm": shim.s,
                "height_mm": shim.at.height,
                "gap_mm": shim.at.gap,
                "shim_mm": shim.thickness.nearest,
                "tie_mm": shim.thickness.tie,
                "screw": shim.screw.map(|screw| json!({
                    "needed_mm": screw.needed, "take_mm": screw.take, "bites_mm": screw.bites, "too_deep": screw.too_deep,
                })),
            })
        })
        .collect();
    let feet: Vec<Value> = installation
        .feet
        .iter()
        .map(|foot| {
            json!({
                "side": foot.side.word(), "unit": foot.unit + 1, "corner": foot.corner,
                "at_mm": [foot.at.x, foot.at.y], "below_mm": foot.below, "packed_mm": foot.packed, "height_mm": foot.height,
            })
        })
        .collect();
    let warnings: Vec<String> =
        installation.fixing.iter().map(|warning| warning_lines(warning, installation).join(" ")).collect();
    json!({ "shims": shims, "feet": feet, "warnings": warnings })
}
