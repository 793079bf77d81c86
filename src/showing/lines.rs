//! Do the drawer lines meet? The level lines between and at the edges of fronts, compared from one unit to the next.
//!
//! A unit's lines are its fronts' upper edge, each gap between two fronts one above the other, and their lower edge.
//! Two lines of neighbours belong together where each is the other's nearest; then they meet or they are off.

use crate::length::Length;
use crate::model::{Convex, Model, Role};
use crate::plan::Side;

/// Lines that differ by no more than this meet, in mm: about what fronts are set to by eye. Common practice, no source.
pub const MEETS: f64 = 0.5;

/// Lines that differ by more than this, in mm, do not miss each other: they are another division of the front. Our own
/// choice.
pub const NEAR: f64 = 40.0;

/// Where a line lies on its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinePlace {
    /// The upper edge of the top front.
    Top,
    /// Between two fronts.
    Between,
    /// The lower edge of the lowest front.
    Bottom,
}

/// A level line on the face of a unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Where it lies.
    pub place: LinePlace,
    /// The drawer or door above it; at the top, the one below it: `top drawer`.
    pub front: String,
    /// Its lower edge above the floor.
    pub low: Length,
    /// Its upper edge above the floor; the same as `low` where it is a mere edge.
    pub high: Length,
}

/// Two lines of neighbours that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct LinePair {
    /// The nearer unit's, or the left run's at the corner.
    pub here: Line,
    /// The other's.
    pub there: Line,
    /// How much higher `there` lies; negative where it lies lower.
    pub off: Length,
}

impl LinePair {
    /// Whether the line goes on from one unit to the other.
    #[must_use]
    pub fn meets(&self) -> bool {
        self.off.to_mm().abs() <= MEETS
    }
}

/// A unit with fronts.
#[derive(Clone, Debug, PartialEq)]
pub struct Fronted {
    /// Its run.
    pub side: Side,
    /// Its index in the run, from the corner.
    pub unit: usize,
    /// What the builder calls it, with its place: `left 1 glaze drawers`.
    pub name: String,
    /// Its lines, from the top.
    pub lines: Vec<Line>,
}

/// Two units whose fronts come one after the other, and how their lines go on.
#[derive(Clone, Debug, PartialEq)]
pub struct Neighbours {
    /// The first, going from the far end of the left run round the corner to the far end of the right one.
    pub here: Fronted,
    /// The second.
    pub there: Fronted,
    /// Whether they stand on different runs.
    pub round_the_corner: bool,
    /// Whether nothing without fronts stands between them, save the fillers.
    pub adjoin: bool,
    /// Lines that belong together, from the top.
    pub pairs: Vec<LinePair>,
    /// Lines of the first that end at the second.
    pub alone_here: Vec<Line>,
    /// Lines of the second that end at the first.
    pub alone_there: Vec<Line>,
}

impl Neighbours {
    /// Whether every line of both goes on in the other.
    #[must_use]
    pub fn all_meet(&self) -> bool {
        self.alone_here.is_empty() && self.alone_there.is_empty() && self.pairs.iter().all(LinePair::meets)
    }

    /// How many lines go on.
    #[must_use]
    pub fn meeting(&self) -> usize {
        self.pairs.iter().filter(|pair| pair.meets()).count()
    }

    /// How many lines there are to see: pairs once, lines that end once.
    #[must_use]
    pub fn count(&self) -> usize {
        self.pairs.len() + self.alone_here.len() + self.alone_there.len()
    }
}

/// Compares each unit with fronts with the next, from the far end of the left run to the far end of the right one.
#[must_use]
pub fn neighbours(model: &Model) -> Vec<Neighbours> {
    let mut row = fronted(model, Side::Left);
    row.reverse();
    row.extend(fronted(model, Side::Right));
    row.windows(2).filter_map(|two| if let [here, there] = two { Some(compare(here, there)) } else { None }).collect()
}

/// The units of `side` that have fronts, from the corner outwards.
fn fronted(model: &Model, side: Side) -> Vec<Fronted> {
    let mut units: Vec<(usize, Vec<(f64, f64, &str)>)> = Vec::new();
    for mover in model.movers.iter().filter(|mover| mover.side == side) {
        let parts = mover.parts.iter().filter_map(|id| model.parts.get(id.0));
        for part in parts.filter(|part| matches!(part.role, Role::DrawerFront | Role::DoorFront)) {
            let heights = || part.pieces.iter().flat_map(Convex::vertices).map(|v| v.z);
            let low = heights().fold(f64::INFINITY, f64::min);
            let high = heights().fold(f64::NEG_INFINITY, f64::max);
            let front = (low, high, mover.name.as_str());
            match units.iter_mut().find(|(unit, _)| *unit == mover.unit) {
                Some((_, fronts)) => fronts.push(front),
                None => units.push((mover.unit, vec![front])),
            }
        }
    }
    units.sort_by_key(|(unit, _)| *unit);
    units
        .into_iter()
        .map(|(unit, mut fronts)| {
            fronts.sort_by(|a, b| b.1.total_cmp(&a.1).then(b.0.total_cmp(&a.0)));
            let name = fronts.first().map_or("", |front| split(front.2).0).to_owned();
            Fronted { side, unit, name, lines: lines_of(&fronts) }
        })
        .collect()
}

/// A drawer's name in two: its unit's, and its own.
fn split(name: &str) -> (&str, &str) {
    name.rsplit_once(", ").unwrap_or((name, name))
}

/// The lines of fronts that are listed from the top; fronts side by side at one height count once.
fn lines_of(fronts: &[(f64, f64, &str)]) -> Vec<Line> {
    let line = |place, name: &str, low: f64, high: f64| Line {
        place,
        front: split(name).1.to_owned(),
        low: Length::mm(low),
        high: Length::mm(high),
    };
    let mut lines = Vec::new();
    let Some(&(mut low, top, mut name)) = fronts.first() else { return lines };
    lines.push(line(LinePlace::Top, name, top, top));
    for &(next_low, next_high, next_name) in fronts.iter().skip(1) {
        if next_high <= low {
            lines.push(line(LinePlace::Between, name, next_high, low));
        }
        if next_low < low {
            (low, name) = (next_low, next_name);
        }
    }
    lines.push(line(LinePlace::Bottom, name, low, low));
    lines
}

fn compare(here: &Fronted, there: &Fronted) -> Neighbours {
    let mut pairs = Vec::new();
    let mut taken = vec![false; there.lines.len()];
    let mut alone_here = Vec::new();
    for (k, line) in here.lines.iter().enumerate() {
        let partner = nearest(line, &there.lines).filter(|&(m, off)| {
            off.abs() <= NEAR && nearest(&there.lines[m], &here.lines).is_some_and(|(n, _)| n == k)
        });
        match partner {
            Some((m, off)) => {
                taken[m] = true;
                pairs.push(LinePair { here: line.clone(), there: there.lines[m].clone(), off: Length::mm(off) });
            }
            None => alone_here.push(line.clone()),
        }
    }
    let alone_there = there.lines.iter().zip(&taken).filter(|(_, taken)| !**taken).map(|(line, _)| line.clone());
    let round_the_corner = here.side != there.side;
    let adjoin = if round_the_corner { here.unit == 0 && there.unit == 0 } else { here.unit.abs_diff(there.unit) == 1 };
    Neighbours {
        here: here.clone(),
        there: there.clone(),
        round_the_corner,
        adjoin,
        alone_there: alone_there.collect(),
        pairs,
        alone_here,
    }
}

/// The index of the line that lies nearest to `line`, and how much higher it lies, mm.
fn nearest(line: &Line, others: &[Line]) -> Option<(usize, f64)> {
    let off = |other: &Line| {
        let (low, high) = ((other.low - line.low).to_mm(), (other.high - line.high).to_mm());
        if low.abs() > high.abs() { low } else { high }
    };
    others.iter().map(off).enumerate().min_by(|(_, a), (_, b)| a.abs().total_cmp(&b.abs()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unit(fronts: &[(f64, f64)]) -> Fronted {
        let fronts: Vec<_> = fronts.iter().map(|&(low, high)| (low, high, "left 1 a, drawer")).collect();
        Fronted { side: Side::Left, unit: 0, name: "a".to_owned(), lines: lines_of(&fronts) }
    }

    #[test]
    fn a_line_that_lies_lower_is_off_by_as_much() {
        let three = unit(&[(700.0, 867.0), (400.0, 697.0), (100.0, 397.0)]);
        let lower = unit(&[(688.0, 867.0), (400.0, 685.0), (100.0, 397.0)]);
        let both = compare(&three, &lower);
        assert_eq!((both.count(), both.meeting()), (4, 3));
        let off: Vec<f64> = both.pairs.iter().filter(|pair| !pair.meets()).map(|pair| pair.off.to_mm()).collect();
        assert_eq!(off, [-12.0]);
        assert!(!both.all_meet());
    }

    #[test]
    fn a_door_has_no_partner_for_the_lines_of_drawers() {
        let both = compare(&unit(&[(700.0, 867.0), (100.0, 697.0)]), &unit(&[(100.0, 867.0)]));
        assert_eq!((both.pairs.len(), both.alone_here.len(), both.alone_there.len()), (2, 1, 0));
        assert_eq!(both.alone_here[0].place, LinePlace::Between);
    }

    #[test]
    fn two_doors_side_by_side_make_no_line_between_them() {
        assert_eq!(unit(&[(100.0, 867.0), (100.0, 867.0)]).lines.len(), 2);
    }

    #[test]
    fn half_a_millimetre_is_still_one_line() {
        let both = compare(&unit(&[(100.0, 867.0)]), &unit(&[(100.4, 866.6)]));
        assert!(both.all_meet());
    }
}
