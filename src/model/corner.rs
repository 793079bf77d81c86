//! What closes the corner? Filler faces on backing blocks, kick covers, the corner kick block, and the countertop.
//!
//! Each of the two strips that meet in the corner lies between two planes parallel to its run's front plane. The one
//! that laps runs on to the inner plane of the other; the other stops at the lapping one's outer plane. Off 90° their
//! ends are bevelled along those planes. In a corner wider than square a lapping end would run behind the other face into
//! the other run's first unit; there both are mitred.

use super::build::{Builder, NewPart, Place};
use super::cabinet::kick_cover_back;
use super::convex::clip_outline;
use super::{Convex, Follows, Material, Role, RuleClass, Vec3};
use crate::plan::{Flush, Side, UnitKind};

/// Up to this run angle one strip laps the other; in a wider corner both are mitred, since a lap would reach behind the
/// other face by its thickness × −cot θ.
const WIDEST_LAP_DEG: f64 = 90.0;

/// A strip that lies in the plan view of the corner: its outline, which of its outline's points move with the filler,
/// and the least filler at which it exists.
struct Strip {
    outline: Vec<Vec3>,
    moves: Vec<bool>,
    least: f64,
}

impl Builder<'_> {
    /// Everything between the two runs.
    pub(super) fn corner(&mut self) {
        let corner = self.plan.corner;
        let construction = self.construction();
        let proud = match corner.flush {
            Flush::WithCarcass => 0.0,
            Flush::WithFronts => super::drawer::front_planes(construction, 0.0)[1].max(0.0),
        };
        let z = [construction.kick_height.to_mm(), construction.height.to_mm()];
        for side in Side::BOTH {
            let far = self.run(side).starts_at;
            if self.strip_part(side, "filler face", Role::FillerFace, proud, corner.face.to_mm(), far, z) {
                self.backing_block(side, proud - corner.face.to_mm(), z);
            }
            self.kick_covers(side);
        }
        self.kick_block();
    }

    /// Adds the strip of `side` whose outer plane stands `proud` of the front plane, up to `far` along the run; false
    /// where the filler leaves no room for it.
    fn strip_part(
        &mut self,
        side: Side,
        what: &str,
        role: Role,
        proud: f64,
        thickness: f64,
        far: f64,
        z: [f64; 2],
    ) -> bool {
        let Some(strip) = self.corner_strip(side, proud, thickness, far) else { return false };
        let outline: Vec<Vec3> = strip.outline.iter().map(|&p| p + Vec3::Z * z[0]).collect();
        let piece = Convex::prism(outline.clone(), Vec3::Z * (z[1] - z[0]));
        // The prism may have turned the outline round; its points are told apart by their place.
        let moves_of = |vertex: Vec3| {
            let flat = Vec3::new(vertex.x, vertex.y, z[0]);
            outline.iter().zip(&strip.moves).any(|(&p, &moves)| moves && (p - flat).length() < 1e-9)
        };
        let moves = vec![piece.vertices().map(moves_of).collect()];
        let follows = Follows::Stretch { side, least: strip.least, moves };
        let place = Place { run: Some(side), unit: None, follows, mover: None };
        let name = format!("{} {what}", side.word());
        let grain = Some(if role == Role::FillerFace { Vec3::Z } else { self.run(side).along });
        let part = NewPart {
            name: &name,
            role,
            material: Material::FrontStock,
            grain,
            class: RuleClass::Run,
            pieces: vec![piece],
        };
        self.add(&place, part);
        true
    }

    fn corner_strip(&self, side: Side, proud: f64, thickness: f64, far: f64) -> Option<Strip> {
        if thickness <= 0.0 {
            return None;
        }
        let (own, other) = (self.run(side), self.run(side.other()));
        let laps = self.plan.corner.laps == side;
        let offsets = [proud, proud - thickness];
        let [outer, inner] = offsets.map(|offset| own.depth + offset);
        let ends = if self.plan.run_angle_deg() > WIDEST_LAP_DEG {
            offsets.map(|offset| self.meets(side, own.depth + offset, other.depth + offset))
        } else {
            let stop = other.depth + proud - if laps { thickness } else { 0.0 };
            [outer, inner].map(|n| self.meets(side, n, stop))
        };
        let latest = ends[0].max(ends[1]);
        let least = latest - own.corner_at - (far - own.starts_at);
        if far <= latest + crate::length::SNAP_MM {
            return None;
        }
        let outline = vec![
            own.at(ends[0], outer, 0.0),
            own.at(far, outer, 0.0),
            own.at(far, inner, 0.0),
            own.at(ends[1], inner, 0.0),
        ];
        Some(Strip { outline, moves: vec![false, true, true, false], least })
    }

    /// How far along `side`'s run its plane `n` meets the other run's plane `other_n`: from
    /// `n_other = s sin θ − n cos θ`.
    fn meets(&self, side: Side, n: f64, other_n: f64) -> f64 {
        let (own, other) = (self.run(side), self.run(side.other()));
        (other_n - n * own.out.dot(other.out)) / own.along.dot(other.out)
    }

    /// A block behind the filler face, screwed to the first unit's side; it keeps to its own side of the mitre.
    fn backing_block(&mut self, side: Side, face_back: f64, z: [f64; 2]) {
        let section = self.plan.corner.block.to_mm();
        let (own, other) = (self.run(side).clone(), self.run(side.other()));
        let (front, back) = (own.depth + face_back, own.depth + face_back - section);
        let [near, far] = [own.starts_at - section, own.starts_at];
        let outline =
            [own.at(near, back, z[0]), own.at(far, back, z[0]), own.at(far, front, z[0]), own.at(near, front, z[0])];
        // The mitre is where a point is as far before the one front plane as before the other.
        let outline = clip_outline(&outline, other.out - own.out, other.depth - own.depth);
        if outline.is_empty() {
            return;
        }
        let piece = Convex::prism(outline, Vec3::Z * (z[1] - z[0]));
        let place = Place { run: Some(side), unit: None, follows: Follows::Rebuilt, mover: None };
        let name = format!("{} backing block", side.word());
        let part = NewPart {
            name: &name,
            role: Role::BackingBlock,
            material: Material::DimensionLumber,
            grain: Some(Vec3::Z),
            class: RuleClass::Hidden,
            pieces: vec![piece],
        };
        self.add(&place, part);
    }

    /// Kick covers along `side`: the first from the corner, another after each appliance or end panel.
    fn kick_covers(&mut self, side: Side) {
        let construction = self.construction();
        let (cover, set_back) = (construction.kick_cover.to_mm(), construction.kick_setback.to_mm());
        let z = [0.0, construction.kick_height.to_mm()];
        let mut s = self.run(side).starts_at;
        // The first stretch begins at the corner and has no start of its own.
        let mut stretches = vec![[None, Some(s)]];
        for unit in &self.plan.run(side).units {
            let end = s + unit.width.to_mm();
            let kicked = !matches!(unit.kind, UnitKind::EndPanel | UnitKind::ApplianceSpace(_));
            match stretches.last_mut() {
                Some([_, Some(last)]) if kicked && (*last - s).abs() < crate::length::SNAP_MM => *last = end,
                _ if kicked => stretches.push([Some(s), Some(end)]),
                _ => {}
            }
            s = end;
        }
        for [start, end] in stretches {
            match (start, end) {
                (None, Some(end)) => {
                    self.strip_part(side, "kick cover", Role::KickCover, -set_back, cover, end, z);
                }
                (Some(start), Some(end)) if cover > 0.0 => {
                    let back = kick_cover_back(construction, self.run(side).depth);
                    let piece = self.block(side, [start, end], [back, back + cover], z);
                    let place = Place { run: Some(side), unit: None, follows: Follows::Run(side), mover: None };
                    let name = format!("{} kick cover", side.word());
                    let part = NewPart {
                        name: &name,
                        role: Role::KickCover,
                        material: Material::FrontStock,
                        grain: Some(self.run(side).along),
                        class: RuleClass::Run,
                        pieces: vec![piece],
                    };
                    self.add(&place, part);
                }
                _ => {}
            }
        }
    }

    /// A block behind the line where the two kick covers meet.
    fn kick_block(&mut self) {
        let construction = self.construction();
        let section = self.plan.corner.block.to_mm();
        let [left, right] = Side::BOTH.map(|side| kick_cover_back(construction, self.run(side).depth));
        let meet = self.run(Side::Left).at(self.meets(Side::Left, left, right), left, 0.0);
        let [a, b] = [self.run(Side::Left).along * -section, self.run(Side::Right).along * -section];
        // Clear of both first units, which come close in a wide corner with narrow fillers.
        let outline = Side::BOTH.into_iter().fold(vec![meet, meet + a, meet + a + b, meet + b], |outline, side| {
            clip_outline(&outline, -self.run(side).along, -self.run(side).starts_at)
        });
        if outline.is_empty() {
            return;
        }
        let piece = Convex::prism(outline, Vec3::Z * construction.kick_height.to_mm());
        let place = Place { run: Some(self.plan.corner.laps), unit: None, follows: Follows::Rebuilt, mover: None };
        let part = NewPart {
            name: "corner kick block",
            role: Role::KickBlock,
            material: Material::DimensionLumber,
            grain: Some(Vec3::Z),
            class: RuleClass::Hidden,
            pieces: vec![piece],
        };
        self.add(&place, part);
    }

    /// The countertop over both runs, in two pieces with the seam along the left run's front edge.
    pub(super) fn countertop(&mut self) {
        let Some(top) = self.plan.countertop else { return };
        let z = self.construction().height.to_mm();
        let overhang = top.overhang.to_mm();
        let (left, right) = (self.run(Side::Left).clone(), self.run(Side::Right).clone());
        let far_back = -10.0 * (left.depth + right.depth + 1000.0);
        for (own, other, seam) in [(&left, &right, 0.0), (&right, &left, left.depth + overhang)] {
            let front = own.depth + overhang;
            let mut pieces = Vec::new();
            for [from, to] in self.under_countertop(own.side, far_back) {
                let strip = [own.at(from, 0.0, z), own.at(to, 0.0, z), own.at(to, front, z), own.at(from, front, z)];
                // Cut to the other run's back plane or the seam, and to both walls.
                let cuts = [
                    (other.out, seam),
                    (self.room.out[0], self.room.out[0].dot(self.room.corner)),
                    (self.room.out[1], self.room.out[1].dot(self.room.corner)),
                ];
                let outline =
                    cuts.into_iter().fold(strip.to_vec(), |outline, (n, least)| clip_outline(&outline, n, least));
                if !outline.is_empty() {
                    pieces.push(Convex::prism(outline, Vec3::Z * top.thickness.to_mm()));
                }
            }
            let place = Place { run: Some(own.side), unit: None, follows: Follows::Rebuilt, mover: None };
            let name = format!("{} countertop", own.side.word());
            let part = NewPart {
                name: &name,
                role: Role::Countertop,
                material: Material::Countertop,
                grain: None,
                class: RuleClass::Countertop,
                pieces,
            };
            self.add(&place, part);
        }
    }

    /// The stretches of `side`'s run that the countertop covers, from `far_back`: all but spaces for appliances that
    /// stand higher than the carcasses.
    fn under_countertop(&self, side: Side, far_back: f64) -> Vec<[f64; 2]> {
        let height = self.construction().height;
        let mut stretches = Vec::new();
        let (mut from, mut s) = (far_back, self.run(side).starts_at);
        for unit in &self.plan.run(side).units {
            let end = s + unit.width.to_mm();
            if matches!(&unit.kind, UnitKind::ApplianceSpace(appliance) if appliance.height > height) {
                stretches.push([from, s]);
                from = end;
            }
            s = end;
        }
        stretches.push([from, s]);
        stretches.retain(|[from, to]| to - from > crate::length::SNAP_MM);
        stretches
    }
}
