//! What can meet what? Every two pieces that must keep the clearance wanted, for whoever asks what happens when they are
//! not quite where the plan has them.
//!
//! Frame: the room's, mm; everything shut and where `model` has it.

use super::pairs::Scene;
use super::rules::Rule;
use crate::model::{Convex, Model, MoverId, PartId, Vec3};

/// A piece of a drawer or door, and a piece of something else that it must keep the clearance wanted from.
#[derive(Clone, Debug)]
pub struct Meeting {
    /// The drawer or door.
    pub mover: MoverId,
    /// Which of its parts.
    pub part: PartId,
    /// What it may meet.
    pub other: PartId,
    /// The piece that moves, shut.
    pub own: Convex,
    /// The other piece.
    pub its: Convex,
    /// How far, and where to, the other may stand ajar.
    pub ajar: Vec3,
    /// How the moving piece goes against the other for each millimetre of the left filler, and of the right one.
    pub against: [Vec3; 2],
}

/// Every meeting that some pair of fillers could bring within the clearance wanted and `extra` mm more.
///
/// What keeps clear of its own run by reveals and gaps alone is not among them.
#[must_use]
pub fn meetings(model: &Model, extra: f64) -> Vec<Meeting> {
    let scene = Scene::new(model);
    let pairs = scene.pairs(extra, true);
    let wanted = pairs.iter().filter(|pair| pair.rule == Rule::ClearanceWanted);
    wanted
        .filter_map(|pair| {
            let (mover, _) = pair.moving?;
            let (own, other) = (&scene.pieces[pair.piece], &scene.pieces[pair.other]);
            Some(Meeting {
                mover,
                part: own.part.id,
                other: other.part.id,
                own: own.shape.clone(),
                its: other.shape.clone(),
                ajar: other.ajar,
                against: [own.shift[0] - other.shift[0], own.shift[1] - other.shift[1]],
            })
        })
        .collect()
}
