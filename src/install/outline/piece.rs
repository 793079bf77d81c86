//! How does an outline come together? Edges cut at the corners where each meets the next, and turned to be seen.

use super::chain::{Point, Straight, Waste, between, followed, kept, meet, twice_area, value};
use super::{CutTo, Fit, Outline, OutlineEdge, View};
use crate::model::{Edge, PartId};

/// Edges run on past their corners by this, so that each meets the next, mm.
pub(super) const PAST: f64 = 1.0;

/// Two corners nearer than this are one, mm.
const ONE_POINT: f64 = 1e-9;

/// A part's edges in its own plane before they are cut to each other.
pub(super) struct Piece {
    pub(super) part: PartId,
    pub(super) name: String,
    pub(super) seen_from: View,
    /// From where to where the blank reaches, along both coordinates.
    pub(super) blank: [[f64; 2]; 2],
    pub(super) thickness: f64,
    /// Counter-clockwise.
    pub(super) lines: Vec<Line>,
    /// Whether each coordinate is turned round to be seen.
    pub(super) turned: [bool; 2],
}

/// One edge, longer than it will be.
pub(super) struct Line {
    pub(super) edge: Edge,
    pub(super) cut_to: CutTo,
    /// In the direction of travel.
    pub(super) chain: Vec<Point>,
    pub(super) bevel_deg: f64,
    pub(super) scribe: Option<Scribe>,
}

impl Line {
    /// An edge that stays straight.
    pub(super) fn straight(edge: Edge, cut_to: CutTo, from: Point, to: Point) -> Self {
        Self { edge, cut_to, chain: vec![from, to], bevel_deg: 0.0, scribe: None }
    }

    /// The same sawn at an angle.
    pub(super) fn bevelled(self, bevel_deg: f64) -> Self {
        Self { bevel_deg, ..self }
    }
}

/// What is measured along an edge, as a function of the coordinate that runs along it.
pub(super) struct Scribe {
    /// Which coordinate that is.
    pub(super) runs: usize,
    pub(super) measured: Vec<Point>,
    /// The same on the face that is not seen.
    pub(super) hidden: Vec<Point>,
    pub(super) blank: Straight,
    pub(super) waste: Waste,
    pub(super) left_on: f64,
    /// Where on the edge something was read.
    pub(super) read_at: Vec<f64>,
    /// The end that lies at the smaller values.
    pub(super) from: Edge,
    /// Up to where a baseboard stands before the wall, and how far.
    pub(super) board: Option<[f64; 2]>,
}

impl Scribe {
    /// The edge in the direction of travel, `back` for the one along which its coordinate falls.
    pub(super) fn line(self, edge: Edge, cut_to: CutTo, back: bool) -> Line {
        let mut line = kept(&self.notched(), self.blank, self.waste);
        if self.runs == 1 {
            line = line.into_iter().map(|[t, v]| [v, t]).collect();
        }
        if back {
            line.reverse();
        }
        Line { edge, cut_to, chain: line, bevel_deg: 0.0, scribe: Some(self) }
    }

    /// What is measured, with the baseboard before it.
    fn notched(&self) -> Vec<Point> {
        let Some([top, thick]) = self.board else { return self.measured.clone() };
        let by = match self.waste {
            Waste::Below => thick,
            Waste::Above => -thick,
        };
        let Some(at_top) = value(&self.measured, top) else {
            // Over its whole length, or nowhere.
            let all = self.measured.first().is_some_and(|p| p[0] < top);
            let by = if all { by } else { 0.0 };
            return self.measured.iter().map(|[t, v]| [*t, v + by]).collect();
        };
        let below = self.measured.iter().filter(|p| p[0] < top).map(|[t, v]| [*t, v + by]);
        let above = self.measured.iter().filter(|p| p[0] > top).copied();
        below.chain([[top, at_top + by], [top, at_top]]).chain(above).collect()
    }

    /// How the edge comes out of the blank between its corners `range`, and the bevel that its hidden face needs.
    fn fit(&self, range: [f64; 2], points: &[Point], thickness: f64, blank: [f64; 2]) -> (Option<Fit>, f64) {
        // The notch has figures of its own.
        let low = self.board.map_or(range[0], |[top, _]| top.clamp(range[0], range[1]));
        let Some(cut_off) = between(&self.measured, self.blank, self.waste, [low, range[1]]) else {
            return (None, 0.0);
        };
        let sign = if self.waste == Waste::Below { 1.0 } else { -1.0 };
        let off = |t: f64| value(&self.measured, t).map(|v| [t - blank[0], sign * (v - self.blank.at(t))]);
        let mut stations = vec![low, range[1]];
        stations.extend(self.read_at.iter().copied().filter(|&t| t > low && t < range[1]));
        let offsets = super::super::measured::in_order(stations).into_iter().filter_map(off).collect();
        let along = |p: &Point| p[self.runs];
        let notch = self.board.and_then(|[top, _]| {
            let step = points.windows(2).find_map(|pair| match pair {
                [a, b] if (along(a) - top).abs() + (along(b) - top).abs() < ONE_POINT => {
                    Some((a[1 - self.runs] - b[1 - self.runs]).abs())
                }
                _ => None,
            });
            step.map(|deep| [deep, top - range[0]])
        });
        let behind = self.measured.iter().filter(|p| p[0] >= low && p[0] <= range[1]).filter_map(|p| {
            let hidden = value(&self.hidden, p[0])?;
            Some((sign * (hidden - p[1]) / thickness).atan().to_degrees())
        });
        let bevel_deg = behind.fold(0.0, f64::max);
        (Some(Fit { left_on: self.left_on, cut_off, from: self.from, offsets, notch }), bevel_deg)
    }
}

/// What a scribe is measured as: `seen` and `hidden` at `knots` over `range`.
pub(super) fn both_faces(
    seen: &dyn Fn(f64) -> f64,
    hidden: &dyn Fn(f64) -> f64,
    knots: &[f64],
    range: [f64; 2],
) -> [Vec<Point>; 2] {
    [followed(seen, knots, range[0], range[1]), followed(hidden, knots, range[0], range[1])]
}

/// Whether the edges go round once, counter-clockwise: none meets another that is not its neighbour.
fn goes_round(edges: &[OutlineEdge]) -> bool {
    let points: Vec<Point> = edges.iter().flat_map(|edge| edge.points.iter().copied()).collect();
    let apart = edges.iter().zip(edges.iter().skip(2)).all(|(a, b)| meet(&a.points, &b.points).is_none());
    twice_area(&points) > 0.0 && apart
}

impl Piece {
    /// The outline; `None` where its edges do not meet, or a measured one crosses the one opposite.
    pub(super) fn outline(self) -> Option<Outline> {
        let count = self.lines.len();
        let next = self.lines.iter().cycle().skip(1);
        let corners: Option<Vec<([usize; 2], Point)>> =
            self.lines.iter().zip(next).map(|(line, next)| meet(&line.chain, &next.chain)).collect();
        let corners = corners?;
        let before = corners.iter().cycle().skip(count.saturating_sub(1));
        let mut edges = Vec::with_capacity(count);
        for ((line, ([_, first], start)), ([last, _], end)) in self.lines.iter().zip(before).zip(&corners) {
            let middle = if first < last { line.chain.get(first + 1..=*last)? } else { &[] };
            if first > last {
                return None;
            }
            let mut points = vec![*start];
            points.extend_from_slice(middle);
            points.push(*end);
            points.dedup_by(|a, b| (a[0] - b[0]).abs() + (a[1] - b[1]).abs() < ONE_POINT);
            let (fit, bevel_deg) = match &line.scribe {
                Some(scribe) => {
                    let ends = [start[scribe.runs], end[scribe.runs]];
                    let range = [ends[0].min(ends[1]), ends[0].max(ends[1])];
                    scribe.fit(range, &points, self.thickness, *self.blank.get(scribe.runs)?)
                }
                None => (None, line.bevel_deg),
            };
            edges.push(OutlineEdge { edge: line.edge, cut_to: line.cut_to, points, bevel_deg, fit });
        }
        if !goes_round(&edges) {
            return None;
        }
        let [[x0, x1], [y0, y1]] = self.blank;
        let [turn_x, turn_y] = self.turned;
        let seen = |p: &mut Point| {
            *p = [if turn_x { x1 - p[0] } else { p[0] - x0 }, if turn_y { y1 - p[1] } else { p[1] - y0 }];
        };
        for edge in &mut edges {
            edge.points.iter_mut().for_each(seen);
            if turn_x != turn_y {
                edge.points.reverse();
            }
        }
        if turn_x != turn_y {
            edges.reverse();
        }
        let (blank, Self { part, name, seen_from, thickness, .. }) = ([x1 - x0, y1 - y0], self);
        Some(Outline { part, name, seen_from, blank, thickness, edges })
    }
}
