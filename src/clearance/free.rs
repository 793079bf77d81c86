//! How far does a drawer or door get from where it stands, with everything else as it stands now?
//!
//! [`free_travel`] moves one part of a [`Model`] whose other parts may be open, and stops it at the first touch;
//! [`overlaps_now`] tells what a part is in. Both look at solid bodies alone: what must keep the clearance wanted is
//! the findings' affair, and nothing stands ajar that is not said to.
//!
//! A slide is stopped where separating axes end (see [`super::travel`]), exact to the last digits; a swing by bounds on
//! the angle, within 0.01 mm and on the safe side (see [`super::swing`]). Frame: the room's, mm and radians.

use std::borrow::Cow;

use super::Contact;
use super::pairs::Bounds;
use super::sweep::{Swept, closest};
use super::swing::Swinging;
use super::tolerance::{SAME, SWING, TOUCH};
use super::travel::overlapping;
use crate::length::Length;
use crate::model::{Convex, Model, Motion, Mover, MoverId, Part, PartId, Vec3};

/// How far a drawer or door got.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FreeTravel {
    /// How far it is open at the end of its way: mm or radians.
    pub out: f64,
    /// What stopped it, where something did.
    pub meets: Option<Contact>,
}

/// A swinging part nearer to something than this, in mm, counts as resting against it: it may leave but not come nearer.
const RESTS: f64 = 2.0 * SWING;

/// How far, in mm, the farthest point of a resting part is moved to see whether it leaves.
const PROBE: f64 = 5.0 * SWING;

/// Moves `mover` from `from` towards `to`, mm or radians open, until it touches something.
///
/// Both are kept within its motion. Every other drawer and door stands as `outs` says, by [`MoverId`]; what is not in it
/// is shut.
///
/// What it overlaps from the start holds it from opening further and lets it shut, so that nothing is ever locked.
/// Takes a fraction of a millisecond for a corner of a dozen drawers and doors.
#[must_use]
pub fn free_travel(model: &Model, outs: &[f64], mover: MoverId, from: f64, to: f64) -> FreeTravel {
    let Some(moving) = model.movers.get(mover.0) else { return FreeTravel { out: from, meets: None } };
    let full = moving.motion.extent();
    let (from, to) = (from.clamp(0.0, full), to.clamp(0.0, full));
    let mut way = (to - from).abs();
    if way <= 0.0 {
        return FreeTravel { out: to, meets: None };
    }
    let sign = if to > from { 1.0 } else { -1.0 };
    let mut stopped: Option<(PartId, PartId)> = None;
    let around = bounds_of_way(model, moving, from, to);
    let own: Vec<Walking<'_>> = own_pieces(model, moving)
        .map(|(part, piece)| Walking { part: part.id, way: Way::new(piece, moving.motion, from, sign) })
        .collect();
    for_others(model, outs, moving, around, |part, other| {
        let bounds = Bounds::of(other.vertices());
        let standing = Swept::still(other);
        for walking in &own {
            let goes = walking.way.goes(&standing, &bounds, way, sign > 0.0);
            if goes < way {
                way = goes;
                stopped = Some((walking.part, part.id));
            }
        }
    });
    let out = if stopped.is_some() { from + sign * way } else { to };
    let meets = stopped.map(|(part, other)| {
        let mut now = outs.to_vec();
        now.resize(model.movers.len(), 0.0);
        now[mover.0] = out;
        let (gap, points) = super::gap_now(model, &now, part, other);
        Contact { mover, part, other, out, other_out: 0.0, gap: Length::mm(gap), points }
    });
    FreeTravel { out, meets }
}

/// Everything that `mover` overlaps as all stand in `outs`: one contact for each drawer, door or fixed part.
#[must_use]
pub fn overlaps_now(model: &Model, outs: &[f64], mover: MoverId) -> Vec<Contact> {
    let Some(moving) = model.movers.get(mover.0) else { return Vec::new() };
    let out = outs.get(mover.0).copied().unwrap_or(0.0);
    let around = bounds_of_way(model, moving, out, out);
    let own: Vec<(PartId, Cow<'_, Convex>)> =
        own_pieces(model, moving).map(|(part, piece)| (part.id, posed(piece, &moving.motion, out))).collect();
    let turns = |motion: &Motion| matches!(motion, Motion::Swing { .. });
    let mut found: Vec<Contact> = Vec::new();
    for_others(model, outs, moving, around, |part, other| {
        let known = |contact: &Contact| {
            let met = model.part(contact.other);
            met.id == part.id || (met.mover.is_some() && met.mover == part.mover)
        };
        if found.iter().any(known) {
            return;
        }
        let other_turns = part.mover.is_some_and(|id| turns(&model.mover(id).motion));
        let slack = if turns(&moving.motion) || other_turns { RESTS } else { SAME };
        let standing = Swept::still(other);
        let met =
            own.iter().find(|(_, piece)| overlapping(&Swept::still(piece), &standing, Vec3::ZERO, slack).is_some());
        if let Some((id, piece)) = met {
            let points = closest(&Swept::still(piece), &standing).points;
            found.push(Contact { mover, part: *id, other: part.id, out, other_out: 0.0, gap: Length::ZERO, points });
        }
    });
    found
}

/// `piece` where its part is when it is `out` open.
pub(super) fn posed<'m>(piece: &'m Convex, motion: &Motion, out: f64) -> Cow<'m, Convex> {
    if out == 0.0 {
        return Cow::Borrowed(piece);
    }
    let carry = motion.carrier(out);
    let push = carry(piece.push()) - carry(Vec3::ZERO);
    Cow::Owned(Convex::prism(piece.base().iter().map(|&p| carry(p)).collect(), push))
}

/// One piece of the part that moves.
struct Walking<'m> {
    part: PartId,
    way: Way<'m>,
}

enum Way<'m> {
    Straight { piece: Cow<'m, Convex>, along: Vec3 },
    Round { piece: Cow<'m, Convex>, hinge: Vec3, axis: Vec3, radius: f64 },
}

impl<'m> Way<'m> {
    /// The way of `piece` from where it is `from` open, opening for a `sign` of 1, shutting for −1.
    fn new(piece: &'m Convex, motion: Motion, from: f64, sign: f64) -> Self {
        let piece = posed(piece, &motion, from);
        match motion {
            Motion::Slide { direction, .. } => Self::Straight { piece, along: direction * sign },
            Motion::Swing { hinge, axis, .. } => {
                let radius = piece.vertices().map(|v| (v - hinge).cross(axis).length()).fold(1.0, f64::max);
                Self::Round { piece, hinge, axis: axis * sign, radius }
            }
        }
    }

    /// How far along `way` it goes before it touches `other`; `way` itself where it passes.
    fn goes(&self, other: &Swept<'_>, bounds: &Bounds, way: f64, opens: bool) -> f64 {
        let starts_within = if opens { 0.0 } else { way };
        match self {
            Self::Straight { piece, along } => {
                let own = Swept::still(piece);
                if !Bounds::of(piece.vertices()).swept(*along * way).overlaps(bounds) {
                    return way;
                }
                match overlapping(&own, other, *along, TOUCH) {
                    Some([low, high]) if high > 0.0 && low < way => {
                        if low < -SAME {
                            starts_within
                        } else {
                            low.max(0.0)
                        }
                    }
                    _ => way,
                }
            }
            Self::Round { piece, hinge, axis, radius } => {
                let turning = |from: f64, angle: f64| {
                    let motion = Motion::Swing { hinge: *hinge, axis: *axis, angle };
                    Swinging::new(&posed(piece, &motion, from), motion, true)
                };
                let apart = |turned: &Swinging| closest(&Swept::still(&turned.at(0.0)), other).distance;
                let here = turning(0.0, way);
                let now = apart(&here);
                if now <= 0.0 {
                    return starts_within;
                }
                if now >= RESTS {
                    return here.opens_to(other, 0.0);
                }
                let probe = (PROBE / radius).min(way);
                let further = turning(probe, way - probe);
                if apart(&further) < now { 0.0 } else { probe + further.opens_to(other, 0.0) }
            }
        }
    }
}

fn own_pieces<'m>(model: &'m Model, moving: &'m Mover) -> impl Iterator<Item = (&'m Part, &'m Convex)> {
    let parts = moving.parts.iter().map(|&id| model.part(id));
    parts.flat_map(|part| part.outside().iter().map(move |piece| (part, piece)))
}

/// A box around all that `moving` passes over between two openings.
fn bounds_of_way(model: &Model, moving: &Mover, from: f64, to: f64) -> Bounds {
    own_pieces(model, moving)
        .map(|(_, piece)| match moving.motion {
            Motion::Slide { direction, .. } => {
                Bounds::of(piece.vertices()).moved(direction * from).swept(direction * (to - from))
            }
            Motion::Swing { hinge, axis, .. } => Bounds::right_round(piece, hinge, axis),
        })
        .reduce(Bounds::join)
        .unwrap_or(Bounds { low: Vec3::ZERO, high: Vec3::ZERO })
}

/// Calls `with` for each piece, where it stands now, of everything else that comes into the box `around`.
fn for_others(model: &Model, outs: &[f64], moving: &Mover, around: Bounds, mut with: impl FnMut(&Part, &Convex)) {
    let counts = |part: &&Part| part.mover != Some(moving.id) && !model.is_of_its_thing(moving, part);
    for part in model.parts.iter().filter(counts) {
        let motion = part.mover.map(|id| (model.mover(id).motion, outs.get(id.0).copied().unwrap_or(0.0)));
        for piece in part.outside() {
            let piece = match &motion {
                Some((motion, out)) => posed(piece, motion, *out),
                None => Cow::Borrowed(piece),
            };
            if Bounds::of(piece.vertices()).overlaps(&around) {
                with(part, &piece);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clearance;
    use crate::plan::{self, Filler, Side};

    /// The demo with both fillers this wide, mm, and its first unit on the right this wide.
    fn answer_with(filler: f64, first_right: &str) -> clearance::Answer {
        let text = include_str!("../../assets/plans/glazing-corner.ron").replace("width: 700", first_right);
        let mut plan = plan::read("glazing-corner.ron", &text).unwrap();
        for side in Side::BOTH {
            plan.corner = plan.corner.with_filler(side, Filler::Fixed(Length::mm(filler)));
        }
        plan.clearance.ajar = Length::ZERO;
        clearance::answer(&plan)
    }

    fn answer(filler: f64) -> clearance::Answer {
        answer_with(filler, "width: 700")
    }

    #[test]
    fn with_everything_shut_it_gets_as_far_as_the_answer_says() {
        for filler in [0.0, 20.0, 40.0, 60.0, 150.0] {
            let answer = answer(filler);
            for opening in &answer.openings {
                let found = free_travel(&answer.model, &[], opening.mover, 0.0, opening.full);
                // 0.1 mm at a radius of 0.6 m.
                let slack = match answer.model.mover(opening.mover).motion {
                    Motion::Slide { .. } => 1e-6,
                    Motion::Swing { .. } => 0.1 / 600.0,
                };
                assert!((found.out - opening.to_touch).abs() < slack, "{} is not {}", found.out, opening.to_touch);
                assert_eq!(found.meets.is_some(), opening.touches_first.is_some());
            }
        }
    }

    #[test]
    fn small_steps_of_the_hand_come_to_the_same_place() {
        let answer = answer(40.0);
        assert!(answer.openings.iter().any(|o| o.touches_first.is_some() && o.to_touch > 100.0));
        for opening in &answer.openings {
            let mut out = 0.0;
            for k in 1..=37 {
                out = free_travel(&answer.model, &[], opening.mover, out, opening.full * f64::from(k) / 37.0).out;
            }
            let per_mm = match answer.model.mover(opening.mover).motion {
                Motion::Slide { .. } => 1.0,
                Motion::Swing { .. } => 600.0,
            };
            assert!((out - opening.to_touch).abs() * per_mm < 0.1, "{out} is not {}", opening.to_touch);
            // And nothing keeps it from shutting again.
            assert!(free_travel(&answer.model, &[], opening.mover, out, 0.0).out.abs() < 1e-12);
        }
    }

    #[test]
    fn what_stands_open_stops_it_and_what_is_shut_again_does_not() {
        let answer = answer(150.0);
        let model = &answer.model;
        let top = |side: Side| model.movers.iter().find(|m| m.side == side).unwrap();
        let (left, right) = (top(Side::Left), top(Side::Right));
        let mut outs = vec![0.0; model.movers.len()];
        outs[left.id.0] = left.motion.extent();
        let full = right.motion.extent();
        let stopped = free_travel(model, &outs, right.id, 0.0, full);
        let contact = stopped.meets.expect("two open drawers meet in the corner");
        assert!(stopped.out < full && model.part(contact.other).mover == Some(left.id));
        outs[right.id.0] = stopped.out;
        assert!(clearance::gap_now(model, &outs, contact.part, contact.other).0 < 0.1);
        assert!(overlaps_now(model, &outs, right.id).is_empty());
        // A millimetre further is too far.
        outs[right.id.0] = stopped.out + 1.0;
        assert!(!overlaps_now(model, &outs, right.id).is_empty());
        // From within, it shuts but does not open further.
        assert!(free_travel(model, &outs, right.id, stopped.out + 1.0, 0.0).out.abs() < 1e-12);
        let held = free_travel(model, &outs, right.id, stopped.out + 1.0, full);
        assert!((held.out - stopped.out - 1.0).abs() < 1e-12);
        outs[left.id.0] = 0.0;
        assert!((free_travel(model, &outs, right.id, 0.0, full).out - full).abs() < 1e-12);
    }

    #[test]
    fn a_door_does_not_shut_through_what_stands_in_its_way() {
        // With a narrow first unit the door beside it reaches over to where the left run's drawers come out.
        let answer = answer_with(68.0, "width: 300");
        let model = &answer.model;
        let is_door = |m: &&Mover| matches!(m.motion, Motion::Swing { .. });
        let door = model.movers.iter().find(is_door).expect("the demo has a door");
        let drawer = model.movers.iter().find(|m| m.side == Side::Left).expect("and drawers on the left");
        let full = door.motion.extent();
        let mut outs = vec![0.0; model.movers.len()];
        outs[door.id.0] = full;
        outs[drawer.id.0] = free_travel(model, &outs, drawer.id, 0.0, drawer.motion.extent()).out;
        assert!(outs[drawer.id.0] > 300.0);
        let back = free_travel(model, &outs, door.id, full, 0.0);
        let contact = back.meets.expect("the drawer stands in the door's way");
        assert!(back.out > 0.1 && back.out < full && contact.gap < Length::mm(0.1));
        assert_eq!(model.part(contact.other).mover, Some(drawer.id));
        outs[door.id.0] = back.out;
        assert!(overlaps_now(model, &outs, door.id).is_empty());
        // Resting against it, the door comes no nearer, and opens again.
        let again = free_travel(model, &outs, door.id, back.out, 0.0);
        assert!((again.out - back.out).abs() * 600.0 < 0.1);
        assert!((free_travel(model, &outs, door.id, back.out, full).out - full).abs() < 1e-12);
        // In small steps it comes to the same place.
        let mut out = full;
        for k in (0..37).rev() {
            out = free_travel(model, &outs, door.id, out, full * f64::from(k) / 37.0).out;
        }
        assert!((out - back.out).abs() * 600.0 < 0.1, "{out} is not {}", back.out);
    }
}
