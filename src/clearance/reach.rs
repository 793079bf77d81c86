//! How far does each drawer and door come out, what does it meet first, and what is wrong?
//!
//! Reads a scene as its model stands, fillers and all.

use std::collections::BTreeMap;

use super::behind::{need, stopped};
use super::filler::nearest;
use super::pairs::{Pair, Scene};
use super::rules::Rule;
use super::sweep::{Swept, closest};
use super::tolerance::{FAR, SAME};
use super::travel::{overlap, too_near};
use super::{Contact, Finding, FindingKind, Opening};
use crate::length::Length;
use crate::model::{Model, Motion, MoverId, PartId, Role, Vec3};
use crate::plan::Side;

/// A door held at less than this, in radians, is not one with a stop, but one that does not open. Our own choice: 1°.
const NO_STOP: f64 = std::f64::consts::PI / 180.0;

/// The model as it stands, with every pair that may come near.
#[derive(Debug)]
pub(super) struct Standing<'s, 'm> {
    pub(super) scene: &'s Scene<'m>,
    pub(super) pairs: Vec<Pair>,
    pub(super) widths: [f64; 2],
}

impl<'s, 'm> Standing<'s, 'm> {
    /// Looks at `scene` with its own fillers.
    pub(super) fn new(scene: &'s Scene<'m>) -> Self {
        let fillers = scene.model.fillers;
        Self { scene, pairs: scene.pairs(FAR, false), widths: [fillers.left.to_mm(), fillers.right.to_mm()] }
    }

    /// How every drawer and door opens, and what is wrong, worst first.
    pub(super) fn openings(&self) -> (Vec<Opening>, Vec<Finding>) {
        let mut openings = Vec::new();
        let mut findings = Vec::new();
        let mut from = 0;
        for mover in &self.scene.model.movers {
            let end =
                from + self.pairs[from..].iter().take_while(|p| p.moving.is_some_and(|m| m.0 == mover.id)).count();
            let pairs = &self.pairs[from..end];
            from = end;
            let bad: Vec<&Pair> = pairs.iter().filter(|pair| self.is_bad(pair)).collect();
            openings.push(self.opening(mover.id, pairs, &bad));
            findings.extend(self.findings(&bad));
        }
        findings.extend(self.behind_doors(&mut openings));
        let fixed: Vec<&Pair> = self.pairs[from..].iter().filter(|pair| self.is_bad(pair)).collect();
        findings.extend(self.run_findings(&fixed));
        findings.sort_by_key(|finding| (finding.kind, finding.gap, finding.part, finding.other));
        (openings, findings)
    }

    fn is_bad(&self, pair: &Pair) -> bool {
        self.bounds_gap(pair) < pair.margin.max(SAME) && self.scene.is_too_near(pair, self.widths)
    }

    fn bounds_gap(&self, pair: &Pair) -> f64 {
        self.scene.own_bounds(pair).gap(&self.scene.pieces[pair.other].bounds)
    }

    fn opening(&self, id: MoverId, pairs: &[Pair], bad: &[&Pair]) -> Opening {
        let full = self.scene.model.mover(id).motion.extent();
        let mut opening = Opening {
            mover: id,
            full,
            to_touch: full,
            to_wanted: full,
            touches_first: None,
            least_gap: None,
            stop: None,
            needs: Vec::new(),
        };
        for pair in bad {
            let to_touch = self.reaches(pair, 0.0);
            let to_wanted = if pair.margin > 0.0 { self.reaches(pair, pair.margin) } else { to_touch };
            opening.to_wanted = opening.to_wanted.min(to_wanted);
            if to_touch < opening.to_touch {
                opening.to_touch = to_touch;
                opening.touches_first = Some(self.contact_at(pair, to_touch));
            }
        }
        opening.least_gap = self.least_gap(pairs);
        let swings = matches!(self.scene.model.mover(id).motion, Motion::Swing { .. });
        let stops = swings && !opening.is_clear() && opening.to_wanted > NO_STOP;
        opening.stop = stops.then_some(opening.to_wanted);
        opening
    }

    /// What stands behind a door: what it needs of the door, and what is wrong where the door does not open so far.
    fn behind_doors(&self, openings: &mut [Opening]) -> Vec<Finding> {
        let model = self.scene.model;
        let mut findings = Vec::new();
        for mover in &model.movers {
            let Some(door) = mover.behind.map(|id| model.mover(id)) else { continue };
            let reaches = openings.get(door.id.0).map_or(0.0, |opening| opening.to_wanted);
            let Some(need) = need(self.scene, mover, door, reaches) else { continue };
            let Some(opening) = openings.get_mut(mover.id.0) else { continue };
            opening.needs.push(need);
            let Some(contact) = (!need.is_met()).then(|| stopped(self.scene, mover, &need)).flatten() else { continue };
            opening.to_wanted = opening.to_wanted.min(contact.out);
            if contact.out < opening.to_touch {
                opening.to_touch = contact.out;
                opening.touches_first = Some(contact);
            }
            findings.push(Finding {
                kind: FindingKind::Hits,
                part: contact.part,
                other: contact.other,
                mover: Some(mover.id),
                out: contact.out,
                gap: Length::ZERO,
                wanted: Length::ZERO,
                points: contact.points,
            });
        }
        findings
    }

    /// How far the pair's moving part goes before it comes within `margin` of the other.
    fn reaches(&self, pair: &Pair, margin: f64) -> f64 {
        let scene = self.scene;
        let extent = scene.extent(pair);
        let Some(shape) = scene.shape(pair.other, self.widths) else { return extent };
        let b = scene.standing(pair, &shape, self.widths);
        let Some((id, index)) = pair.moving else { return extent };
        let moving = &scene.movers[id.0][index];
        if let Some(swings) = &moving.swing {
            let drawn_in = margin <= 0.0;
            return swings[usize::from(drawn_in)].opens_to(&b, margin);
        }
        let a = Swept::still(scene.pieces[pair.piece].shape);
        let Some(direction) = moving.sweep.try_normalize() else { return extent };
        match too_near(&a, &b, direction, margin) {
            Some([low, high]) if high > 0.0 => low.clamp(0.0, extent),
            _ => extent,
        }
    }

    /// Where the moving part of `pair` stands when it is `out` open, and how near it is then.
    fn contact_at(&self, pair: &Pair, out: f64) -> Contact {
        let scene = self.scene;
        let [part, other] = scene.parts(pair);
        let mover = pair.moving.map_or(MoverId(0), |(id, _)| id);
        let mut contact =
            Contact { mover, part, other, out, other_out: self.ajar(pair), gap: Length::ZERO, points: [Vec3::ZERO; 2] };
        let Some((id, index)) = pair.moving else { return contact };
        let Some(shape) = scene.shape(pair.other, self.widths) else { return contact };
        let b = scene.standing(pair, &shape, self.widths);
        let moving = &scene.movers[id.0][index];
        let found = match (&moving.swing, scene.model.mover(id).motion) {
            (Some(swings), _) => closest(&Swept::still(&swings[0].at(out)), &b),
            (None, Motion::Slide { direction, .. }) => {
                closest(&Swept::still(scene.pieces[pair.piece].shape).moved(direction * out), &b)
            }
            (None, Motion::Swing { .. }) => return contact,
        };
        contact.gap = Length::mm(found.distance);
        contact.points = found.points;
        contact
    }

    fn ajar(&self, pair: &Pair) -> f64 {
        if pair.rule == Rule::ClearanceWanted { self.scene.pieces[pair.other].ajar.length() } else { 0.0 }
    }

    /// The pair's whole way, at its nearest.
    fn nearest(&self, pair: &Pair) -> Option<Contact> {
        let [part, other] = self.scene.parts(pair);
        let (out, found) = nearest(self.scene, pair, self.widths, f64::INFINITY)?;
        let mover = pair.moving.map_or(MoverId(0), |(id, _)| id);
        let gap = Length::mm(found.distance);
        Some(Contact { mover, part, other, out, other_out: self.ajar(pair), gap, points: found.points })
    }

    /// The nearest it comes to anything that it must keep clear of: nearest boxes first, until no box is nearer.
    fn least_gap(&self, pairs: &[Pair]) -> Option<Contact> {
        let mut wanted: Vec<(f64, &Pair)> = pairs
            .iter()
            .filter(|pair| pair.rule == Rule::ClearanceWanted)
            .map(|pair| (self.bounds_gap(pair), pair))
            .collect();
        wanted.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut best: Option<(f64, &Pair)> = None;
        for (bound, pair) in wanted {
            if best.is_some_and(|(gap, _)| bound >= gap) {
                break;
            }
            let gap = self.least_distance(pair, best.map_or(FAR, |(gap, _)| gap));
            if gap <= FAR && best.is_none_or(|(least, _)| gap < least) {
                best = Some((gap, pair));
            }
        }
        best.and_then(|(_, pair)| self.nearest(pair))
    }

    /// The least distance of the pair's whole way, or anything from `cutoff` up where it is no less.
    fn least_distance(&self, pair: &Pair, cutoff: f64) -> f64 {
        let scene = self.scene;
        let Some((id, index)) = pair.moving else { return f64::INFINITY };
        let moving = &scene.movers[id.0][index];
        if moving.swing.is_some() {
            return nearest(scene, pair, self.widths, cutoff).map_or(f64::INFINITY, |(_, found)| found.distance);
        }
        let Some(shape) = scene.shape(pair.other, self.widths) else { return f64::INFINITY };
        let b = scene.standing(pair, &shape, self.widths);
        let a = Swept { sweep: moving.sweep, ..Swept::still(scene.pieces[pair.piece].shape) };
        closest(&a, &b).distance
    }

    /// One finding for each drawer or door and each unit or thing it comes too near to: where it is nearest, and of
    /// equals what it meets first.
    fn findings(&self, bad: &[&Pair]) -> Vec<Finding> {
        let mut worst: BTreeMap<(Option<Side>, Option<usize>, PartId), (f64, f64, &Pair)> = BTreeMap::new();
        for pair in bad {
            let other = self.scene.pieces[pair.other].part;
            // All parts of a unit are one thing here, and so is what stands opposite with its fronts.
            let opposite = other.mover.and_then(|id| self.scene.model.mover(id).belongs_to);
            let thing = opposite.unwrap_or_else(|| other.unit.map_or(other.id, |_| PartId(0)));
            let (gap, out) = (self.least_distance(pair, f64::INFINITY), self.reaches(pair, 0.0));
            let found = worst.entry((other.run, other.unit, thing)).or_insert((gap, out, pair));
            if (gap, out) < (found.0, found.1) {
                *found = (gap, out, pair);
            }
        }
        worst.into_values().filter_map(|(_, _, pair)| self.finding(pair)).collect()
    }

    fn finding(&self, pair: &Pair) -> Option<Finding> {
        let touch = self.reaches(pair, 0.0);
        let touches = touch < self.scene.extent(pair) || self.overlaps_shut(pair);
        let contact = if touches { self.contact_at(pair, touch) } else { self.nearest(pair)? };
        Some(Finding {
            kind: if touches { FindingKind::Hits } else { FindingKind::TooNear },
            part: contact.part,
            other: contact.other,
            mover: Some(contact.mover),
            out: contact.out,
            gap: if touches { Length::ZERO } else { contact.gap },
            wanted: Length::mm(pair.margin),
            points: contact.points,
        })
    }

    fn overlaps_shut(&self, pair: &Pair) -> bool {
        let Some(shape) = self.scene.shape(pair.other, self.widths) else { return false };
        let b = self.scene.standing(pair, &shape, self.widths);
        overlap(&Swept::still(self.scene.pieces[pair.piece].shape), &b)
    }

    /// Runs that do not fit the room: too long for their wall, or standing in something.
    fn run_findings(&self, fixed: &[&Pair]) -> Vec<Finding> {
        let model = self.scene.model;
        let mut findings = Vec::new();
        for run in model.runs.iter().filter(|run| run.left_over < -SAME) {
            if let Some((part, other)) = far_end(model, run.side) {
                let end = run.at(run.ends_at, run.depth, model.part(part).middle().z);
                findings.push(Finding {
                    kind: FindingKind::RunTooLong,
                    part,
                    other,
                    mover: None,
                    out: 0.0,
                    gap: Length::mm(run.left_over),
                    wanted: Length::ZERO,
                    points: [end, end + run.wall_along * run.left_over],
                });
            }
        }
        let too_long: Vec<Side> = model.runs.iter().filter(|run| run.left_over < -SAME).map(|run| run.side).collect();
        for pair in fixed {
            let [part, other] = self.scene.parts(pair);
            let end = model.part(other);
            let told =
                matches!(end.role, Role::EndWall | Role::Casing) && end.run.is_some_and(|run| too_long.contains(&run));
            if told || findings.iter().any(|f| f.kind == FindingKind::Overlaps && f.other == other) {
                continue;
            }
            let shared = closest(
                &Swept::still(self.scene.pieces[pair.piece].shape),
                &Swept::still(self.scene.pieces[pair.other].shape),
            );
            findings.push(Finding {
                kind: FindingKind::Overlaps,
                part,
                other,
                mover: None,
                out: 0.0,
                gap: Length::ZERO,
                wanted: Length::ZERO,
                points: shared.points,
            });
        }
        findings
    }
}

/// The last unit's first part, and the wall its run backs on to.
fn far_end(model: &Model, side: Side) -> Option<(PartId, PartId)> {
    let last =
        model.parts.iter().filter(|part| part.run == Some(side) && part.unit.is_some()).max_by_key(|p| p.unit)?;
    let wall = model.parts.iter().find(|part| part.role == Role::EndWall && part.run == Some(side));
    let wall = wall.or_else(|| model.parts.iter().find(|part| part.role == Role::Wall && part.run == Some(side)))?;
    Some((last.id, wall.id))
}
