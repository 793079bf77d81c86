//! What closes the corner? Filler faces on backing blocks, or stiles widened to it; kick covers and the corner kick block.
//!
//! Each of the two strips that meet in the corner lies between two planes parallel to its run's front plane. The one
//! that laps runs on to the inner plane of the other; the other stops at the lapping one's outer plane. Off 90° their
//! ends are bevelled along those planes. In a corner wider than square a lapping end would run behind the other face into
//! the other run's first unit; there both are mitred.

use super::build::{Builder, NewPart, Place};
use super::cabinet::kick_cover_back;
use super::convex::clip_outline;
use super::{Bevel, Convex, Edge, Follows, Material, Role, RuleClass, Vec3, Why, Work};
use crate::plan::{Face, Flush, Side, UnitKind};

/// Up to this run angle one strip laps the other; in a wider corner both are mitred, since a lap would reach behind the
/// other face by its thickness × −cot θ.
const WIDEST_LAP_DEG: f64 = 90.0;

/// A strip that lies in the plan view of the corner: its outline, which of its outline's points move with the filler,
/// and the least filler at which it exists.
struct Strip {
    outline: Vec<Vec3>,
    moves: Vec<bool>,
    least: f64,
    /// How much longer it is at the corner than the filler: from where it starts to where the front planes meet.
    corner: f64,
    /// How its end is sawn, from square, in degrees.
    bevel_deg: f64,
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
            match construction.face {
                Face::FaceFrame { stile, thickness, .. } if self.has_corner_stile(side) => {
                    let far = far + stile.to_mm();
                    self.strip_part(side, "corner stile", Role::FrameStile, 0.0, thickness.to_mm(), far, z);
                }
                Face::Frameless | Face::FaceFrame { .. } => {
                    if self.strip_part(side, "filler face", Role::FillerFace, proud, corner.face.to_mm(), far, z) {
                        self.backing_block(side, proud - corner.face.to_mm(), z);
                    }
                }
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
        let level = role == Role::KickCover;
        let grain = if level { self.run(side).along } else { Vec3::Z };
        let scribe = self.plan.joinery.scribe.to_mm();
        let bevels = if strip.bevel_deg > 1e-9 {
            vec![Bevel { edge: Edge::Near, angle_deg: strip.bevel_deg }]
        } else {
            Vec::new()
        };
        let work = Work { bevels, why: Some(self.strip_sum(side, role, &strip, far)), ..Work::default() };
        let material = if role == Role::FrameStile { Material::SolidWood } else { Material::FrontStock };
        // A kick cover is fitted to the floor as well.
        let left_on = [scribe, 0.0, if level { scribe } else { 0.0 }];
        let part = NewPart::new(&name, role, material, RuleClass::Run, vec![piece]);
        self.add(&place, part.grain(grain).work(work).left_on(left_on).lying_flat());
        true
    }

    /// How the length of a strip comes about.
    fn strip_sum(&self, side: Side, role: Role, strip: &Strip, far: f64) -> Why {
        let frame = self.run(side);
        let filler = frame.starts_at - frame.corner_at;
        let corner = strip.corner;
        match role {
            Role::KickCover => {
                let half = (self.plan.run_angle_deg() / 2.0).to_radians();
                let setback = self.construction().kick_setback.to_mm() / half.tan();
                Why::KickCover { units: far - frame.starts_at, filler, setback, lap: corner - setback }
            }
            Role::FrameStile => Why::CornerStile { stile: far - frame.starts_at, filler, corner },
            _ => Why::Filler {
                filler,
                corner,
                laps: self.plan.corner.laps == side && self.plan.run_angle_deg() <= WIDEST_LAP_DEG,
                with_fronts: self.plan.corner.flush == Flush::WithFronts,
            },
        }
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
        let corner = own.corner_at - ends[0].min(ends[1]);
        let bevel_deg = ((ends[0] - ends[1]) / thickness).atan().abs().to_degrees();
        Some(Strip { outline, moves: vec![false, true, true, false], least, corner, bevel_deg })
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
        let work = Work { why: Some(Why::Backing), ..Work::default() };
        let left_on = self.to_section(side, &piece);
        let part = NewPart::new(&name, Role::BackingBlock, Material::DimensionLumber, RuleClass::Hidden, vec![piece]);
        self.add(&place, part.grain(Vec3::Z).work(work).left_on(left_on));
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
                    let work = Work { why: Some(Why::KickStretch), ..Work::default() };
                    let scribe = self.plan.joinery.scribe.to_mm();
                    let part = NewPart::new(&name, Role::KickCover, Material::FrontStock, RuleClass::Run, vec![piece]);
                    let part = part.grain(self.run(side).along).work(work);
                    self.add(&place, part.left_on([scribe, 0.0, scribe]));
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
        let work = Work { why: Some(Why::KickBlock), ..Work::default() };
        let (role, material) = (Role::KickBlock, Material::DimensionLumber);
        let left_on = self.to_section(self.plan.corner.laps, &piece);
        let part = NewPart::new("corner kick block", role, material, RuleClass::Hidden, vec![piece]);
        self.add(&place, part.grain(Vec3::Z).work(work).left_on(left_on));
    }

    /// What a block that is bevelled to its place lacks of its lumber's section, along the run and out from it.
    fn to_section(&self, side: Side, piece: &Convex) -> [f64; 3] {
        let section = self.plan.corner.block.to_mm();
        let lacks = |axis: Vec3| {
            let [low, high] = super::build::extent(std::slice::from_ref(piece), axis);
            let lack = section - (high - low);
            if lack > crate::length::SNAP_MM { lack } else { 0.0 }
        };
        [lacks(self.run(side).along), lacks(self.run(side).out), 0.0]
    }
}
