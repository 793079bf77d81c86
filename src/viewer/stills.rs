//! What does it look like from all sides, or as it opens? Pictures in a row, from one scene that is built once.
//!
//! [`draw`] poses and draws; what becomes of each picture is the caller's. A row is a function of the plan and the
//! options: no clock is in it, so that it can be drawn again.

use image::ImageEncoder as _;
use image::codecs::png::PngEncoder;

use super::capture::{Options, PictureError, Studio};
use super::motion::Wish;
use super::viewpoint;
use crate::model::MoverId;
use crate::plan::Plan;

/// Which pictures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Row {
    /// One.
    One,
    /// So many, on a way round the corner.
    Around(usize),
    /// So many, while this drawer or door opens from shut to as far as it goes, all else shut.
    Opening(MoverId, usize),
}

impl Row {
    /// How many pictures.
    #[must_use]
    pub fn count(self) -> usize {
        match self {
            Self::One => 1,
            Self::Around(count) | Self::Opening(_, count) => count,
        }
    }
}

/// Why a row stopped.
#[derive(Debug, thiserror::Error)]
pub enum RowError<E> {
    /// A picture could not be drawn.
    #[error("{0}")]
    Picture(PictureError),
    /// The caller could not use one.
    #[error("{0}")]
    Kept(E),
}

/// What was drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// Drawers and doors that were asked to be open and had to be shut again, because another that was asked for later
    /// would have met them.
    pub shut_again: Vec<MoverId>,
}

/// Draws the row and hands each picture on as soon as it is there, with its number from 0.
///
/// # Errors
/// If a picture cannot be drawn, or `keep` fails; pictures handed on before are not taken back.
pub fn draw<E>(
    plan: &Plan,
    options: &Options,
    row: Row,
    mut keep: impl FnMut(usize, &image::RgbaImage) -> Result<(), E>,
) -> Result<Drawn, RowError<E>> {
    let mut studio = Studio::new(plan, options).map_err(RowError::Picture)?;
    let mut each = |studio: &mut Studio, k: usize| {
        let picture = studio.shoot().map_err(RowError::Picture)?;
        keep(k, &picture).map_err(RowError::Kept)
    };
    match row {
        Row::One => each(&mut studio, 0)?,
        Row::Around(count) => {
            let aspect = studio.aspect();
            let views = viewpoint::around(studio.shown().model(), count, aspect);
            for (k, view) in views.into_iter().enumerate() {
                studio.look(view);
                each(&mut studio, k)?;
            }
        }
        Row::Opening(mover, count) => {
            for k in 0..count {
                studio.pose(mover, step(&studio, mover, k, count));
                each(&mut studio, k)?;
            }
        }
    }
    let shut_again = options.open.iter().copied().filter(|&mover| !studio.is_open(mover)).collect();
    Ok(Drawn { shut_again })
}

/// How far it is open in picture `k` of `count`: evenly from shut to as far as it goes. The last is asked to be open, so
/// that what it touches is marked.
fn step(studio: &Studio, mover: MoverId, k: usize, count: usize) -> Wish {
    let goal = studio.shown().opening(mover).map_or(0.0, |opening| opening.to_touch.min(opening.full));
    match k {
        _ if k + 1 == count => Wish::Open,
        0 => Wish::Shut,
        _ => Wish::At(goal * k as f64 / (count - 1) as f64),
    }
}

/// A picture as a PNG file's bytes.
///
/// # Errors
/// If it cannot be encoded.
pub fn png(picture: &image::RgbaImage) -> Result<Vec<u8>, String> {
    let mut bytes = Vec::new();
    PngEncoder::new(&mut bytes)
        .write_image(picture, picture.width(), picture.height(), image::ExtendedColorType::Rgba8)
        .map_err(|error| error.to_string())?;
    Ok(bytes)
}
