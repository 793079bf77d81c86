//! Where does each part of a run lie? Its reach along the run, out from the wall and up, by unit.

use std::collections::BTreeMap;

use crate::model::{Model, Part, Vec3};
use crate::plan::Side;

/// A part of a run and the ranges it fills, in mm in its run's frame.
#[derive(Clone, Copy, Debug)]
pub(super) struct Placed<'m> {
    pub part: &'m Part,
    pub along: [f64; 2],
    pub out: [f64; 2],
    pub up: [f64; 2],
}

/// Less than this, in mm, is no overlap but two faces that meet.
const MEETING: f64 = 0.01;

/// Whether two ranges share more than a face.
pub(super) fn overlap(a: [f64; 2], b: [f64; 2]) -> bool {
    a[1].min(b[1]) - a[0].max(b[0]) > MEETING
}

/// The parts of both runs, by unit; what belongs to no unit (fillers, countertop, kick covers) by itself.
#[derive(Debug)]
pub(super) struct Places<'m>(BTreeMap<(Side, Option<usize>), Vec<Placed<'m>>>);

impl<'m> Places<'m> {
    pub(super) fn of(model: &'m Model) -> Self {
        let mut places: BTreeMap<_, Vec<_>> = BTreeMap::new();
        for part in &model.parts {
            let Some(side) = part.run else { continue };
            let run = model.run(side);
            let [along, out, up] = [run.along, run.out, Vec3::Z].map(|axis| part.extent(axis));
            places.entry((side, part.unit)).or_default().push(Placed { part, along, out, up });
        }
        Self(places)
    }

    /// The parts of one unit.
    pub(super) fn unit(&self, side: Side, unit: usize) -> &[Placed<'m>] {
        self.0.get(&(side, Some(unit))).map_or(&[], Vec::as_slice)
    }

    /// The parts of one unit, of its two neighbours, and of the run as a whole.
    pub(super) fn round(&self, side: Side, unit: usize) -> impl Iterator<Item = &Placed<'m>> {
        let units = unit.saturating_sub(1)..=unit + 1;
        let keys = units.map(Some).chain([None]);
        keys.filter_map(move |unit| self.0.get(&(side, unit))).flatten()
    }
}
