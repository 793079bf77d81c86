//! What must be open first? How far the door before a pull-out shelf must be open before the shelf passes it.
//!
//! The shelf's whole way is one swept body, which stands still; the door turns back from where it is fully open until it
//! comes near. The angle told is on the safe side, within what [`super::swing`] says: from there to where the door is
//! fully open it keeps 0.01 mm or more from all that the shelf passes over.

use super::Contact;
use super::pairs::Scene;
use super::sweep::{Swept, closest};
use super::swing::Swinging;
use super::tolerance::{SAME, SWING};
use super::travel::too_near;
use crate::length::Length;
use crate::model::{Motion, Mover, MoverId, PartId};

/// A door that must be open before what stands behind it moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Need {
    /// The door.
    pub mover: MoverId,
    /// How far it must be open at least, in radians; infinite where no angle that it opens to is enough.
    pub at_least: f64,
    /// How far it opens here with the clearance wanted.
    pub reaches: f64,
    /// The part behind it that decides, and the part of the door.
    pub parts: [PartId; 2],
}

impl Need {
    /// Whether the door opens far enough here.
    #[must_use]
    pub fn is_met(&self) -> bool {
        self.at_least <= self.reaches
    }
}

/// What `mover`, which stands behind `door`, needs of it where the door opens as far as `reaches`.
pub(super) fn need(scene: &Scene<'_>, mover: &Mover, door: &Mover, reaches: f64) -> Option<Need> {
    let Motion::Swing { hinge, axis, angle: full } = door.motion else { return None };
    let back = Motion::Swing { hinge, axis: -axis, angle: full };
    let mut found: Option<Need> = None;
    for leaf in &scene.movers[door.id.0] {
        let Some([swing, _]) = &leaf.swing else { continue };
        let shutting = Swinging::new(&swing.at(full), back, false);
        for shelf in &scene.movers[mover.id.0] {
            let way = Swept { sweep: shelf.sweep, ..Swept::still(scene.pieces[shelf.piece].shape) };
            let open = closest(&Swept::still(&swing.at(full)), &way).distance >= SWING - SAME;
            let at_least = if open { full - shutting.opens_to(&way, SWING) } else { f64::INFINITY };
            if found.is_none_or(|need| at_least > need.at_least) {
                let parts = [shelf.piece, leaf.piece].map(|piece| scene.pieces[piece].part.id);
                found = Some(Need { mover: door.id, at_least, reaches, parts });
            }
        }
    }
    found
}

/// How far `mover` comes before it touches the door of `need` where that stands as far open as it goes; where it does
/// not pass.
pub(super) fn stopped(scene: &Scene<'_>, mover: &Mover, need: &Need) -> Option<Contact> {
    let Motion::Slide { direction, travel } = mover.motion else { return None };
    let mut found: Option<Contact> = None;
    for leaf in &scene.movers[need.mover.0] {
        let Some([swing, _]) = &leaf.swing else { continue };
        let stands = swing.at(need.reaches);
        let b = Swept::still(&stands);
        for shelf in &scene.movers[mover.id.0] {
            let a = Swept::still(scene.pieces[shelf.piece].shape);
            // As near as the need counts as passing.
            let Some([low, high]) = too_near(&a, &b, direction, SWING) else { continue };
            if high <= 0.0 || low >= travel || found.is_some_and(|contact| contact.out <= low.max(0.0)) {
                continue;
            }
            let out = low.max(0.0);
            let points = closest(&a.moved(direction * out), &b).points;
            let [part, other] = [shelf.piece, leaf.piece].map(|piece| scene.pieces[piece].part.id);
            found = Some(Contact { mover: mover.id, part, other, out, other_out: 0.0, gap: Length::ZERO, points });
        }
    }
    found
}
