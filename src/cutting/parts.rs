//! What is cut? Every wooden part of a model, like ones in one row, grouped by material.
//!
//! [`cut_list`] takes a [`Model`] and gives a [`CutList`]. A row has two sizes: as fitted, which is the model's, and as
//! cut, with what is left on for fitting on site. Length is along the grain.

use std::collections::BTreeMap;

use super::stuff_of;
use crate::length::{Length, SNAP_MM};
use crate::model::{Bevel, Cutting, Edge, Model, Part, PartId, Role, Why};
use crate::plan::Stuff;

/// Everything to cut.
#[derive(Clone, Debug, PartialEq)]
pub struct CutList {
    /// One a material and thickness.
    pub groups: Vec<Group>,
}

/// What is cut from one material of one thickness.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// The material.
    pub stuff: Stuff,
    /// Its real thickness.
    pub thickness: Length,
    /// Its parts, like ones together.
    pub rows: Vec<Row>,
}

/// Parts that are alike in size, joints and edges.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Counted through the whole list, from 1: what is written on the parts.
    pub number: usize,
    /// What they are.
    pub role: Role,
    /// Length, width and thickness as fitted.
    pub fitted: [Length; 3],
    /// Length, width and thickness as cut.
    pub cut: [Length; 3],
    /// Whether the length must lie along the grain.
    pub grain: bool,
    /// Edges that get a strip.
    pub stripped: Vec<Edge>,
    /// What is cut into them.
    pub joints: Vec<Cutting>,
    /// Ends and edges not sawn square.
    pub bevels: Vec<Bevel>,
    /// The sums behind them, each once.
    pub whys: Vec<Why>,
    /// Whether half of them are the mirror image of the others.
    pub in_pairs: bool,
    /// The parts.
    pub parts: Vec<PartId>,
}

impl Row {
    /// How many.
    #[must_use]
    pub fn quantity(&self) -> usize {
        self.parts.len()
    }

    /// Whether something is left on for fitting.
    #[must_use]
    pub fn is_fitted_on_site(&self) -> bool {
        self.fitted.iter().zip(self.cut).any(|(fitted, cut)| cut - *fitted > Length::mm(SNAP_MM))
    }
}

impl CutList {
    /// All rows, in order.
    pub fn rows(&self) -> impl Iterator<Item = &Row> {
        self.groups.iter().flat_map(|group| &group.rows)
    }
}

/// Sizes and places in millionths of a millimetre, so that the noise of sums does not tell like parts apart. Fractions of
/// an inch down to 1/64 are whole numbers of these, so none lies where rounding turns.
#[expect(clippy::cast_possible_truncation, reason = "no part is longer than 2^63 millionths of a millimetre")]
pub(super) fn millionths(mm: f64) -> i64 {
    (mm * 1e6).round() as i64
}

/// What makes two parts alike.
type Key = (Role, [i64; 3], [i64; 3], bool, Vec<Edge>, Vec<(u8, Role, [i64; 4], Edge)>, Vec<(Edge, i64)>);

fn key(part: &Part) -> Key {
    let work = &part.work;
    let joint =
        |cut: &Cutting| (cut.kind as u8, cut.takes, [cut.deep, cut.wide, cut.long, cut.at].map(millionths), cut.from);
    (
        part.role,
        // Longest first within a role.
        part.size.map(|mm| -millionths(mm)),
        work.left_on.map(millionths),
        part.grain.is_some(),
        work.stripped.clone(),
        work.joints.iter().map(joint).collect(),
        work.bevels.iter().map(|bevel| (bevel.edge, millionths(bevel.angle_deg))).collect(),
    )
}

/// The cut list of `model`: every part that is made of wood or panel, and the countertop.
#[must_use]
pub fn cut_list(model: &Model) -> CutList {
    let mut groups: BTreeMap<(Stuff, i64), BTreeMap<Key, Vec<&Part>>> = BTreeMap::new();
    for part in &model.parts {
        if let Some(stuff) = stuff_of(part) {
            // Thickest first.
            let group = (stuff, -millionths(part.as_cut()[2]));
            groups.entry(group).or_default().entry(key(part)).or_default().push(part);
        }
    }
    let mut number = 0;
    let groups = groups.into_iter().map(|((stuff, thick), rows)| {
        let rows = rows.into_values().filter_map(|parts| {
            number += 1;
            row(number, &parts)
        });
        let rows: Vec<Row> = rows.collect();
        let thickness = rows.first().map_or(Length::mm(-(thick as f64) / 1e6), |row| row.cut[2]);
        Group { stuff, thickness, rows }
    });
    CutList { groups: groups.collect() }
}

fn row(number: usize, parts: &[&Part]) -> Option<Row> {
    let first = parts.first()?;
    let mut whys: Vec<Why> = Vec::new();
    for why in parts.iter().filter_map(|part| part.work.why) {
        if !whys.contains(&why) {
            whys.push(why);
        }
    }
    // A box's side turned end for end is its mate's; a carcass's has its notch and back at one edge.
    let handed = first.role == Role::CarcassSide && !first.work.joints.is_empty();
    Some(Row {
        number,
        role: first.role,
        fitted: first.size.map(Length::mm),
        cut: first.as_cut().map(Length::mm),
        grain: first.grain.is_some(),
        stripped: first.work.stripped.clone(),
        joints: first.work.joints.clone(),
        bevels: first.work.bevels.clone(),
        whys,
        in_pairs: handed && parts.len().is_multiple_of(2),
        parts: parts.iter().map(|part| part.id).collect(),
    })
}

/// The rows that finish the work where units meet walls, floor, countertop and each other.
pub fn finishing(list: &CutList) -> impl Iterator<Item = &Row> {
    list.rows().filter(|row| !row.whys.is_empty())
}
