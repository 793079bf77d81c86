//! In what order does a person at a table saw cut it? First every rip, fence by fence, then the crosscuts out of each.
//!
//! [`rip_list`] takes a [`Demand`]. Within a material the fence goes from the widest to the narrowest, square rips of a
//! width before bevelled ones, so that it is set once for each and the board stays wide as long as it can.

use super::demand::{Demand, Piece};
use crate::length::{Length, SNAP_MM};
use crate::plan::{Plan, StockForm, Stuff};

/// All rips.
#[derive(Clone, Debug, PartialEq)]
pub struct RipList {
    /// One a material and thickness.
    pub groups: Vec<RipGroup>,
}

/// The rips from one material of one thickness.
#[derive(Clone, Debug, PartialEq)]
pub struct RipGroup {
    /// The material.
    pub stuff: Stuff,
    /// Sheets or boards.
    pub form: StockForm,
    /// Its real thickness.
    pub thickness: Length,
    /// In the order to set the fence.
    pub rips: Vec<Rip>,
}

/// One setting of the fence.
#[derive(Clone, Debug, PartialEq)]
pub struct Rip {
    /// What the fence is set to.
    pub fence: Length,
    /// What the blade is tilted by, in degrees; 0 for square.
    pub bevel_deg: f64,
    /// How much of it is needed, a kerf with each crosscut.
    pub total: Length,
    /// What is crosscut from it, longest first.
    pub crosscuts: Vec<Crosscut>,
}

/// Pieces of one length.
#[derive(Clone, Debug, PartialEq)]
pub struct Crosscut {
    /// Length as cut.
    pub length: Length,
    /// What one end is sawn at, from square, in degrees; 0 for square.
    pub bevel_deg: f64,
    /// How many.
    pub quantity: usize,
    /// Numbers of their rows in the cut list.
    pub rows: Vec<usize>,
}

/// The rips that `demand`, gathered for `plan`, takes.
#[must_use]
pub fn rip_list(demand: &Demand, plan: &Plan) -> RipList {
    let mut groups: Vec<RipGroup> = Vec::new();
    for material in &demand.groups {
        let (stuff, form, thickness) = (material.stuff, material.form, material.thickness);
        // Strips of every width come from the same boards: one group.
        let at = groups.iter().position(|g| g.stuff == stuff && g.form == form && same(g.thickness, thickness));
        let at = at.unwrap_or_else(|| {
            groups.push(RipGroup { stuff, form, thickness, rips: Vec::new() });
            groups.len() - 1
        });
        for piece in &material.pieces {
            add(&mut groups[at].rips, piece, plan.stock.kerf);
        }
    }
    for group in &mut groups {
        group.rips.sort_by(|a, b| b.fence.cmp(&a.fence).then(a.bevel_deg.total_cmp(&b.bevel_deg)));
        for rip in &mut group.rips {
            rip.crosscuts.sort_by(|a, b| b.length.cmp(&a.length).then(a.bevel_deg.total_cmp(&b.bevel_deg)));
            rip.crosscuts.iter_mut().for_each(|cut| cut.rows.sort_unstable());
        }
    }
    RipList { groups }
}

fn add(rips: &mut Vec<Rip>, piece: &Piece, kerf: Length) {
    let alike = |rip: &Rip| same(rip.fence, piece.width) && same_angle(rip.bevel_deg, piece.rip_bevel_deg);
    let at = rips.iter().position(alike).unwrap_or_else(|| {
        let (fence, bevel_deg) = (piece.width, piece.rip_bevel_deg);
        rips.push(Rip { fence, bevel_deg, total: Length::ZERO, crosscuts: Vec::new() });
        rips.len() - 1
    });
    let rip = &mut rips[at];
    rip.total += piece.length + kerf;
    let alike = |cut: &&mut Crosscut| same(cut.length, piece.length) && same_angle(cut.bevel_deg, piece.end_bevel_deg);
    match rip.crosscuts.iter_mut().find(alike) {
        Some(cut) => {
            cut.quantity += 1;
            if !cut.rows.contains(&piece.row) {
                cut.rows.push(piece.row);
            }
        }
        None => rip.crosscuts.push(Crosscut {
            length: piece.length,
            bevel_deg: piece.end_bevel_deg,
            quantity: 1,
            rows: vec![piece.row],
        }),
    }
}

fn same(a: Length, b: Length) -> bool {
    (a - b).abs() <= Length::mm(SNAP_MM)
}

fn same_angle(a: f64, b: f64) -> bool {
    (a - b).abs() <= SNAP_MM
}
