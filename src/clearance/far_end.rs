//! How much must be left at a run's far end? The least distance from the last unit to an end wall or casing at which
//! everything on the run opens.
//!
//! The run is thought of as moved along itself from where it meets the wall. Against each piece at the far end the
//! distances that are too near are one open interval for a slide and a union of such for a swing (see [`super::travel`]
//! and [`super::swing`], exact and on the safe side as they are); the least is the end of the farthest.

use super::pairs::{Moving, Scene};
use super::sweep::Swept;
use super::tolerance::{SAME, SWING, WIDEST_FILLER};
use super::travel::too_near;
use crate::length::Length;
use crate::model::{MoverId, Part, PartId, Role, RuleClass, Vec3};
use crate::plan::Side;

/// What a run needs between its last unit and what stands at its far end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FarEndNeed {
    /// The least distance, unrounded.
    pub least: Length,
    /// The drawer or door that needs it.
    pub mover: MoverId,
    /// Which of its parts.
    pub part: PartId,
    /// What it would meet.
    pub other: PartId,
}

/// What `side`'s run needs at its far end; `None` where it may stand right up to it, or nothing stands there.
pub(super) fn far_end(scene: &Scene<'_>, side: Side) -> Option<FarEndNeed> {
    let run = scene.model.run(side);
    // So much of the wall for each millimetre along the run.
    let rate = run.along.dot(run.wall_along);
    let (u, at) = (-run.along, run.along * (run.left_over / rate));
    let ends: Vec<usize> = (0..scene.pieces.len()).filter(|&k| stands_at_the_end(scene.pieces[k].part, side)).collect();
    let own = scene.model.movers.iter().filter(|mover| mover.side == side && !mover.of_the_room);
    let mut pairs: Vec<(f64, MoverId, &Moving, usize)> = Vec::new();
    for mover in own {
        for moving in &scene.movers[mover.id.0] {
            let bounds = moving.bounds.moved(at);
            let meets = |&end: &usize| {
                let [_, high] = bounds.meeting(&scene.pieces[end].bounds, u, scene.model.wanted + 2.0 * SWING)?;
                Some((high, mover.id, moving, end))
            };
            pairs.extend(ends.iter().filter_map(meets));
        }
    }
    // The farthest boxes first, until none can ask for more.
    pairs.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut found: Option<(f64, FarEndNeed)> = None;
    for (bound, mover, moving, end) in pairs {
        let most = found.map_or(SAME, |(most, _)| most);
        if bound <= most {
            break;
        }
        let least = least_against(scene, moving, end, at, u, most);
        if least > most {
            let [part, other] = [moving.piece, end].map(|piece| scene.pieces[piece].part.id);
            found = Some((least, FarEndNeed { least: Length::mm(least * rate), mover, part, other }));
        }
    }
    found.map(|(_, need)| need)
}

/// Where the last of the distances ends at which a moving piece, begun from `at`, comes too near to the piece `end`.
fn least_against(scene: &Scene<'_>, moving: &Moving, end: usize, at: Vec3, u: Vec3, known: f64) -> f64 {
    let margin = scene.model.wanted;
    let b = Swept::still(scene.pieces[end].shape);
    if let Some(swings) = &moving.swing {
        let swing = &swings[usize::from(margin <= 0.0)];
        let bad = swing.too_near(&b.moved(-at), u, margin, [-1.0, WIDEST_FILLER + 1.0], &[[-1.0, known]]);
        return bad.into_iter().map(|[_, high]| high).fold(0.0, f64::max);
    }
    let a = Swept { sweep: moving.sweep, ..Swept::still(scene.pieces[moving.piece].shape) }.moved(at);
    too_near(&a, &b, u, margin).map_or(0.0, |[_, high]| high)
}

/// An end wall, with its baseboard, or a casing at `side`'s far end.
fn stands_at_the_end(part: &Part, side: Side) -> bool {
    part.run == Some(side)
        && part.class == RuleClass::Standing
        && matches!(part.role, Role::EndWall | Role::Casing | Role::Baseboard)
}
