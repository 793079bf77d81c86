//! What is put behind the nailers, and which screw goes where?
//!
//! A shim wherever a screw goes through a nailer: at every stud behind a unit, or at two places a nailer where there are no
//! studs to screw into; and wherever else the plan asks for one. Its thickness is the gap there, at the middle of the
//! nailer's height; the screw goes through nailer, back, gap and board, and bites in the stud.

use super::setting::{GapAt, Set, nailers};
use crate::length::{Length, SNAP_MM};
use crate::model::{Model, Part, PartId, wall_ends};
use crate::plan::{Plan, Side, Studs, WallMade, defaults};

/// A screw keeps this far from the edge of a stud and from a nailer's end, mm: 3/8 in. Common practice, no source.
const EDGE: f64 = 9.525;
/// How far from a nailer's end the two screws go where studs do not say, mm: 2 in. Common practice, no source.
const FROM_END: f64 = 50.8;
/// A screw that goes further than this past the bite wanted may meet a cable or a pipe, mm: 1/8 in. Common practice, no source.
const TOO_DEEP: f64 = 3.175;

/// One place behind a nailer.
#[derive(Clone, Debug, PartialEq)]
pub struct Shim {
    /// Which run.
    pub side: Side,
    /// Which unit of it, from the corner.
    pub unit: usize,
    /// The nailer.
    pub nailer: PartId,
    /// What a builder calls it: `top nailer`.
    pub row: String,
    /// Why here.
    pub why: WhyHere,
    /// Along the run.
    pub s: Length,
    /// The gap there.
    pub at: GapAt,
    /// How thick a shim.
    pub thickness: Stepped,
    /// The screw through it; `None` where only a shim is asked for.
    pub screw: Option<Screw>,
}

/// Why there is a shim.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WhyHere {
    /// A stud is behind it, its middle so far from the corner.
    Stud(Length),
    /// The plan asks for one here.
    Asked,
    /// One of two places a nailer, since no studs are known.
    NoStuds,
}

/// A length on the shop's steps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stepped {
    /// The nearest step; of two as near, the thicker.
    pub nearest: Length,
    /// Both steps, where it lies in the middle of them.
    pub tie: Option<[Length; 2]>,
}

impl Stepped {
    /// `length` on steps of `step`.
    #[must_use]
    pub fn of(length: Length, step: Length) -> Self {
        if step <= Length::ZERO {
            return Self { nearest: length, tie: None };
        }
        let steps = length.to_mm() / step.to_mm();
        let (low, part) = (steps.floor(), steps - steps.floor());
        let tie = (part - 0.5).abs() * step.to_mm() <= SNAP_MM;
        let nearest = step * if tie { low + 1.0 } else { steps.round() };
        Self { nearest, tie: tie.then_some([step * low, step * (low + 1.0)]) }
    }
}

/// The screw through a nailer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screw {
    /// Nailer, back, gap, board and bite.
    pub needed: Length,
    /// The shortest at hand that is no shorter; `None` where all are.
    pub take: Option<Length>,
    /// How far that one goes into the stud.
    pub bites: Option<Length>,
    /// Whether that is deeper than it should.
    pub too_deep: bool,
}

/// What must be known before the units are fixed.
#[derive(Clone, Debug, PartialEq)]
pub enum FixingWarning {
    /// No stud is behind a unit.
    NoStud {
        /// Which run.
        side: Side,
        /// Which unit of it.
        unit: usize,
    },
    /// Nobody has found the studs of this wall.
    StudsUnknown(Side),
    /// This wall has no studs.
    Masonry(Side),
    /// The screw at this index of the shims is longer than any at hand.
    NoLength(usize),
    /// No one length serves all: lengths from the longest that is nowhere too long to the shortest that is nowhere too short.
    NoOneLength(Vec<Serves>),
    /// A row of nailers that the wall touches nowhere.
    TouchesNowhere {
        /// Which run.
        side: Side,
        /// Which row.
        row: String,
        /// The least gap behind it.
        least: Length,
    },
}

/// How one length of screw serves all places.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Serves {
    /// The length.
    pub length: Length,
    /// Its least bite, negative where it does not reach the stud, and the index of the shim there.
    pub least: (Length, usize),
    /// Its greatest bite, and the index of the shim there.
    pub most: (Length, usize),
}

/// Every shim behind the runs of `model`, and what must be known of the fixing.
#[must_use]
pub fn shims(plan: &Plan, model: &Model, set: &Set) -> (Vec<Shim>, Vec<FixingWarning>) {
    let mut shims = Vec::new();
    let mut warnings = Vec::new();
    for side in Side::BOTH {
        let survey = plan.room.survey.wall(side);
        match (survey.made_of, &survey.studs) {
            (WallMade::Masonry, _) => warnings.push(FixingWarning::Masonry(side)),
            (WallMade::Framed { .. }, Studs::Unknown) => warnings.push(FixingWarning::StudsUnknown(side)),
            (WallMade::Framed { .. }, Studs::Spaced { .. } | Studs::At(_)) => {}
        }
        let wall = Wall { plan, set, side, studs: studs(plan, side) };
        for nailer in nailers(model, side) {
            let Some(unit) = nailer.unit else { continue };
            let found = wall.behind(nailer, nailer.extent(model.run(side).along), unit);
            let screwed = found.iter().any(|shim| shim.screw.is_some());
            let told = warnings.contains(&FixingWarning::NoStud { side, unit });
            if !screwed && !told {
                warnings.push(FixingWarning::NoStud { side, unit });
            }
            shims.extend(found);
        }
        let untouched = set.run(side).rows.iter().filter(|row| row.touches_nowhere());
        warnings.extend(untouched.map(|row| FixingWarning::TouchesNowhere {
            side,
            row: row.name.clone(),
            least: row.least.gap,
        }));
    }
    shims.sort_by(|a, b| {
        (a.side, a.unit).cmp(&(b.side, b.unit)).then(a.s.cmp(&b.s)).then(b.at.height.cmp(&a.at.height))
    });
    let missing = shims.iter().enumerate().filter(|(_, shim)| shim.screw.is_some_and(|screw| screw.take.is_none()));
    warnings.extend(missing.map(|(k, _)| FixingWarning::NoLength(k)));
    warnings.extend(no_one_length(plan, &shims));
    (shims, warnings)
}

/// The middles of the studs behind `side`'s run along its wall; `None` where nobody knows them or there are none.
fn studs(plan: &Plan, side: Side) -> Option<Vec<f64>> {
    let survey = plan.room.survey.wall(side);
    if survey.made_of == WallMade::Masonry {
        return None;
    }
    match &survey.studs {
        Studs::Unknown => None,
        Studs::At(middles) => Some(middles.iter().map(|middle| middle.to_mm()).collect()),
        Studs::Spaced { one_at, spacing } => {
            let (one, spacing) = (one_at.to_mm(), spacing.to_mm());
            if spacing <= 0.0 {
                return Some(vec![one]);
            }
            let end = wall_ends(plan, side).into_iter().fold(0.0, f64::max);
            let first = one - (one / spacing).floor() * spacing;
            Some(std::iter::successors(Some(first), |x| Some(x + spacing)).take_while(|x| *x <= end).collect())
        }
    }
}

/// The lengths of screws at hand, shortest first.
fn at_hand(plan: &Plan) -> Vec<Length> {
    let mut lengths =
        if plan.fixing.screws.is_empty() { defaults::screws_sold(plan.unit) } else { plan.fixing.screws.clone() };
    lengths.sort();
    lengths
}

struct Wall<'p> {
    plan: &'p Plan,
    set: &'p Set,
    side: Side,
    studs: Option<Vec<f64>>,
}

impl Wall<'_> {
    /// Shims behind one nailer, which reaches from `reach[0]` to `reach[1]` along the run.
    fn behind(&self, nailer: &Part, reach: [f64; 2], unit: usize) -> Vec<Shim> {
        let [low, high] = nailer.extent(crate::model::Vec3::Z);
        let height = f64::midpoint(low, high);
        let (lie, curve) = (&self.set.run(self.side).lie, self.set.wall(self.side).at_height(height));
        let inside = [reach[0] + EDGE, reach[1] - EDGE];
        let mut places: Vec<(f64, WhyHere)> = Vec::new();
        match (&self.studs, self.plan.room.survey.wall(self.side).made_of) {
            (Some(studs), WallMade::Framed { stud, .. }) => {
                let half = (stud.to_mm() / 2.0 - EDGE).max(0.0);
                for &x in studs {
                    let middle = lie.before(&curve, x);
                    let range = [(middle - half).max(inside[0]), (middle + half).min(inside[1])];
                    if range[0] <= range[1] {
                        places.push((middle.clamp(range[0], range[1]), WhyHere::Stud(Length::mm(x))));
                    }
                }
            }
            (None, _) | (Some(_), WallMade::Masonry) => {
                let from_end = FROM_END.min((reach[1] - reach[0]) / 2.0);
                places.push((reach[0] + from_end, WhyHere::NoStuds));
                places.push((reach[1] - from_end, WhyHere::NoStuds));
            }
        }
        let asked = self.plan.fixing.shim_also.iter().filter(|(side, _)| *side == self.side);
        places.extend(asked.map(|(_, along)| (lie.before(&curve, along.to_mm()), WhyHere::Asked)));
        places.retain(|(s, _)| *s >= reach[0] && *s <= reach[1]);
        let shim = |(s, why): (f64, WhyHere)| {
            let [x, gap] = lie.behind(&curve, s);
            let gap = Length::mm(if gap.abs() < super::setting::TOUCHES { 0.0 } else { gap });
            Shim {
                side: self.side,
                unit,
                nailer: nailer.id,
                row: nailer.name.rsplit(", ").next().unwrap_or(&nailer.name).to_owned(),
                why,
                s: Length::mm(s),
                at: GapAt { gap, along: Length::mm(x), height: Length::mm(height) },
                thickness: Stepped::of(gap, self.plan.fixing.shim_step),
                screw: (why != WhyHere::Asked).then(|| self.screw(gap)),
            }
        };
        places.into_iter().map(shim).collect()
    }

    /// The screw past a gap.
    fn screw(&self, gap: Length) -> Screw {
        let (c, bite) = (&self.plan.construction, self.plan.fixing.bite);
        let board = match self.plan.room.survey.wall(self.side).made_of {
            WallMade::Framed { board, .. } => board,
            WallMade::Masonry => Length::ZERO,
        };
        let needed = c.panel + c.back + gap + board + bite;
        let take = at_hand(self.plan).into_iter().find(|length| *length >= needed - Length::mm(SNAP_MM));
        let bites = take.map(|length| length - (needed - bite));
        let too_deep = bites.is_some_and(|bites| bites > bite + Length::mm(TOO_DEEP + SNAP_MM));
        Screw { needed, take, bites, too_deep }
    }
}

/// The warning where no length at hand bites far enough everywhere and nowhere too far.
fn no_one_length(plan: &Plan, shims: &[Shim]) -> Option<FixingWarning> {
    let bite = plan.fixing.bite;
    let needs: Vec<(Length, usize)> =
        shims.iter().enumerate().filter_map(|(k, shim)| Some((shim.screw?.needed, k))).collect();
    // Of equals the first.
    let least = needs.iter().copied().reduce(|a, b| if b.0 < a.0 { b } else { a })?;
    let most = needs.iter().copied().reduce(|a, b| if b.0 > a.0 { b } else { a })?;
    let snap = Length::mm(SNAP_MM);
    let serves = |length: Length| Serves {
        length,
        least: (length - most.0 + bite, most.1),
        most: (length - least.0 + bite, least.1),
    };
    let all: Vec<Serves> = at_hand(plan).into_iter().map(serves).collect();
    let good = |s: &Serves| s.least.0 >= bite - snap && s.most.0 <= bite + Length::mm(TOO_DEEP) + snap;
    if all.iter().any(good) {
        return None;
    }
    let from = all.iter().rposition(|s| s.most.0 <= bite + snap).unwrap_or(0);
    let to = all.iter().position(|s| s.least.0 >= bite - snap).unwrap_or(all.len().saturating_sub(1));
    Some(FixingWarning::NoOneLength(all.get(from..=to.max(from)).unwrap_or_default().to_vec()))
}
