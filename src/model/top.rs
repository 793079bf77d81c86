//! What lies on the runs? The countertop, the strips it is built up on, and the edge that drops before them.

use super::build::{Builder, NewPart, Place};
use super::convex::clip_outline;
use super::{Convex, Follows, Material, Role, RuleClass, Vec3, Why, Work};
use crate::length::SNAP_MM;
use crate::plan::{Countertop, FarEnd, Side};

/// Width of the strips that a countertop is built up on: lumber ripped to 2-1/2 in. Common practice, no source.
const BUILD_UP_WIDTH: f64 = 63.5;

impl Builder<'_> {
    /// The countertop over both runs, in two pieces with the seam along the left run's front edge, on what it is built
    /// up on.
    pub(super) fn countertop(&mut self) {
        let Some(top) = self.plan.countertop else { return };
        for side in Side::BOTH {
            self.build_up(side, &top);
        }
        let z = self.construction().height.to_mm() + top.build_up.to_mm();
        let (thick, overhang, wide) = (top.thickness.to_mm(), top.overhang.to_mm(), top.edge_width.to_mm());
        let drop = top.edge.to_mm() - thick;
        let (left, right) = (self.run(Side::Left).clone(), self.run(Side::Right).clone());
        let far_back = -10.0 * (left.depth + right.depth + 1000.0);
        // The left edge closes the corner square between the two.
        let seams = [(&left, &right, 0.0, right.depth + overhang - wide), (&right, &left, left.depth + overhang, 0.0)];
        for (own, other, seam, edge_seam) in seams {
            let front = own.depth + overhang;
            for (k, [from, to]) in self.under_countertop(own.side, far_back).into_iter().enumerate() {
                let scribe = self.plan.joinery.scribe.to_mm();
                let layers = [
                    ("countertop", [0.0, front], seam, [z, z + thick], scribe),
                    ("countertop edge", [front - wide, front], edge_seam.max(seam), [z - drop, z], 0.0),
                ];
                for (what, n, seam, z, scribe) in layers {
                    if z[1] - z[0] <= SNAP_MM {
                        continue;
                    }
                    let strip = [[from, n[0]], [to, n[0]], [to, n[1]], [from, n[1]]].map(|[s, n]| own.at(s, n, z[0]));
                    // Cut to the other run's back plane or the seam, and to both walls.
                    let cuts = [
                        (other.out, seam),
                        (self.room.out[0], self.room.out[0].dot(self.room.corner)),
                        (self.room.out[1], self.room.out[1].dot(self.room.corner)),
                    ];
                    let outline =
                        cuts.into_iter().fold(strip.to_vec(), |outline, (n, least)| clip_outline(&outline, n, least));
                    if !outline.is_empty() {
                        let piece = Convex::prism(outline, Vec3::Z * (z[1] - z[0]));
                        self.countertop_part(own.side, what, k, piece, (scribe, to >= own.ends_at - SNAP_MM));
                    }
                }
            }
        }
    }

    /// One piece of the top, its back edge fitted to the wall by `scribe`, and its far end where it goes on to the run's end.
    fn countertop_part(&mut self, side: Side, what: &str, index: usize, piece: Convex, (scribe, is_last): (f64, bool)) {
        let place = Place { run: Some(side), unit: None, follows: Follows::Rebuilt, mover: None };
        let name = match index {
            0 => format!("{} {what}", side.word()),
            k => format!("{} {what}, piece {}", side.word(), k + 1),
        };
        let at_wall = is_last && self.plan.run(side).ends_at == FarEnd::Wall;
        let at_end = if at_wall { self.plan.joinery.scribe.to_mm() } else { 0.0 };
        // The piece that goes through to the other wall is fitted to that as well, where it was measured.
        let through = side == Side::Left && index == 0 && !self.plan.room.survey.right.readings.is_empty();
        let at_end = at_end + if through { scribe } else { 0.0 };
        let part = NewPart::new(&name, Role::Countertop, Material::Countertop, RuleClass::Countertop, vec![piece]);
        self.add(&place, part.left_on([at_end, scribe, 0.0]));
    }

    /// Strips along the front and the back of each carcass that lift the countertop.
    fn build_up(&mut self, side: Side, top: &Countertop) {
        let construction = self.construction();
        let high = construction.height.to_mm();
        let z = [high, high + top.build_up.to_mm()];
        let drop = (top.edge - top.thickness).to_mm();
        let (along, depth) = (self.run(side).along, self.run(side).depth);
        let wide = BUILD_UP_WIDTH.min(depth / 2.0);
        let mut s = self.run(side).starts_at;
        for (index, unit) in self.plan.run(side).units.iter().enumerate() {
            let across = [s, s + unit.width.to_mm()];
            s = across[1];
            if !unit.kind.has_carcass() || self.plan.is_tall(unit) {
                continue;
            }
            for (what, n) in [("front", [depth - wide, depth]), ("back", [0.0, wide])] {
                let piece = self.block(side, across, n, z);
                let name = format!("{} {} {}, {what} build-up strip", side.word(), index + 1, unit.name);
                let work = Work { why: Some(Why::BuildUp { drop }), ..Work::default() };
                let material = Material::DimensionLumber;
                let part = NewPart::new(&name, Role::BuildUp, material, RuleClass::Hidden, vec![piece]);
                self.add(&Place::unit(side, index), part.grain(along).work(work));
            }
        }
    }

    /// The stretches of `side`'s run that the countertop covers, from `far_back`: all but what stands higher than
    /// the carcasses.
    fn under_countertop(&self, side: Side, far_back: f64) -> Vec<[f64; 2]> {
        let mut stretches = Vec::new();
        let (mut from, mut s) = (far_back, self.run(side).starts_at);
        for unit in &self.plan.run(side).units {
            let end = s + unit.width.to_mm();
            if self.plan.is_tall(unit) {
                stretches.push([from, s]);
                from = end;
            }
            s = end;
        }
        stretches.push([from, s]);
        stretches.retain(|[from, to]| to - from > SNAP_MM);
        stretches
    }
}
