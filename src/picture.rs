//! The command line of `picture`: reads what is asked for, checks all of it before anything is drawn, and writes whole
//! files only.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

/// Draw pictures of a plan, with no window and no display.
///
/// One picture; or a numbered row of them (out-001.png, out-002.png, …) round the corner or through an opening. Ends
/// with 0 when all are written, 2 when not, 130 when Ctrl-C stopped it; pictures written before stay, each whole.
#[derive(Args, Debug)]
pub(crate) struct PictureArguments {
    /// The plan's file, or - for standard input.
    #[arg(required_unless_present = "views")]
    plan: Option<PathBuf>,
    /// The picture to write (PNG), or - for standard output.
    #[arg(short, long, value_name = "FILE", required_unless_present = "views")]
    output: Option<PathBuf>,
    /// Width and height in pixels, each from 16 to 8192.
    #[arg(long, value_name = "WIDTHxHEIGHT", default_value = "1280x800", value_parser = size)]
    size: (u32, u32),
    /// From where to look; --views lists the names.
    #[arg(long, value_name = "NAME", default_value = "whole corner")]
    view: String,
    /// List the names for --view, and end.
    #[arg(long)]
    views: bool,
    /// What is open: all (as many as can be at once), none, or the name of a drawer or door, such as "left 1, top
    /// drawer"; may be given more than once.
    #[arg(long, value_name = "all|none|NAME")]
    open: Vec<String>,
    /// Point out this finding, counted from 1 as `check` lists them.
    #[arg(long, value_name = "N", conflicts_with_all = ["view", "open", "around", "opening"])]
    finding: Option<usize>,
    /// Who is to see it: the builder (marks where parts meet) or the owner (none).
    #[arg(long = "for", value_enum, default_value = "builder")]
    audience: For,
    /// With the panel and the bar, as they stand in the window.
    #[arg(long)]
    panel: bool,
    /// Hide a layer: countertop, fronts, carcass, boxes or walls; may be given more than once.
    #[arg(long, value_name = "LAYER")]
    hide: Vec<String>,
    /// Only just draw a layer, so that one looks through it; may be given more than once.
    #[arg(long, value_name = "LAYER")]
    ghost: Vec<String>,
    /// How much effect; what the machine draws with affords it where none is given.
    #[arg(long, value_enum)]
    quality: Option<Effect>,
    /// Draw N pictures on a way round the corner.
    #[arg(long, value_name = "N", value_parser = count(), conflicts_with_all = ["view", "opening"])]
    around: Option<u16>,
    /// Draw this drawer or door as it opens, to its first touch or its full travel, all else shut.
    #[arg(long, value_name = "NAME", conflicts_with = "open")]
    opening: Option<String>,
    /// How many pictures of an opening.
    #[arg(long, value_name = "N", value_parser = count(), default_value = "24", requires = "opening")]
    frames: u16,
    /// Write over pictures that are there already.
    #[arg(long)]
    force: bool,
}

/// For whom.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum For {
    /// The homeowner.
    Owner,
    /// The builder.
    Builder,
}

/// How much effect.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Effect {
    /// As quick as can be.
    Plain,
    /// Physically based light and patterns.
    Balanced,
    /// Everything: slow without a graphics card.
    Full,
}

fn count() -> clap::builder::RangedI64ValueParser<u16> {
    clap::value_parser!(u16).range(1..=9999)
}

/// `1920x1080`, or with ×.
fn size(text: &str) -> Result<(u32, u32), String> {
    let wrong = || format!("`{text}` is no size; write for example 1920x1080, each from 16 to 8192 pixels");
    let (width, height) = text.split_once(['x', 'X', '×']).ok_or_else(wrong)?;
    let side = |text: &str| text.trim().parse().ok().filter(|side| (16..=8192).contains(side)).ok_or_else(wrong);
    Ok((side(width)?, side(height)?))
}

/// Why there are no pictures, or not all.
pub(crate) enum Failure {
    /// The plan could not be had.
    Plan(crate::Failure),
    /// What to say, whole lines.
    Said(String),
    /// Stopped by Ctrl-C; what to say.
    #[cfg(feature = "viewer")]
    Stopped(String),
}

impl Failure {
    /// What to say on standard error; of a plan's own problems the program says more than this.
    pub(crate) fn said(&self) -> &str {
        match self {
            Self::Plan(_) => "the plan could not be read",
            Self::Said(said) => said,
            #[cfg(feature = "viewer")]
            Self::Stopped(said) => said,
        }
    }

    /// What the program ends with: 2, or what shells expect after Ctrl-C.
    pub(crate) fn code(&self) -> u8 {
        match self {
            Self::Plan(_) | Self::Said(_) => 2,
            #[cfg(feature = "viewer")]
            Self::Stopped(_) => 128 + 2,
        }
    }
}

impl From<crate::Failure> for Failure {
    fn from(failure: crate::Failure) -> Self {
        Self::Plan(failure)
    }
}

impl From<String> for Failure {
    fn from(said: String) -> Self {
        Self::Said(said)
    }
}

#[cfg(not(feature = "viewer"))]
pub(crate) fn run(_: &PictureArguments) -> Result<String, Failure> {
    Err(Failure::Said(
        "this build draws no pictures: it was built with --no-default-features; build it without that".to_owned(),
    ))
}

#[cfg(feature = "viewer")]
pub(crate) use drawing::run;

#[cfg(feature = "viewer")]
mod drawing;

#[cfg(test)]
mod tests {
    use super::size;

    #[test]
    fn sizes_are_read_with_either_sign_and_kept_in_range() {
        assert_eq!(size("1920x1080"), Ok((1920, 1080)));
        assert_eq!(size("640 × 400"), Ok((640, 400)));
        for wrong in ["", "1920", "0x0", "15x400", "9000x400", "-5x4", "axb"] {
            assert!(size(wrong).is_err_and(|why| why.contains("1920x1080")), "{wrong}");
        }
    }
}
