//! Where do the runs stand in the measured room, and how far are the walls behind them?
//!
//! The two runs are one rigid piece: an angle between them that the plan gives. [`Set::of`] turns it as the plan's
//! [`BackLine`] says and moves it until each run touches its wall, and tells what that leaves behind nailers, at ends,
//! under the countertop and on the floor.
//!
//! *Touching* counts every height from the floor to each unit's top, with a baseboard that stays. Gaps behind nailers are
//! told at the middle of the nailer's height, where the screw goes. All gaps are square to the run's back.

use std::collections::BTreeMap;

use super::lie::{Angles, Backing, Lie, Place, Row, best_alone, best_turn, settle};
use crate::length::Length;
use crate::model::{Curve, Fillers, FloorSurface, HighSpot, Model, Part, Role, Setting, Surface, Vec3, wall_ends};
use crate::plan::{BackLine, BaseboardTreatment, FarEnd, Plan, Side, UnitKind};

/// How both runs stand in the measured room.
#[derive(Clone, Debug, PartialEq)]
pub struct Set {
    /// Where the room stands in the runs' frame.
    pub place: Setting,
    /// How the back lines were laid.
    pub line: BackLine,
    /// The angle between the runs, degrees.
    pub run_angle_deg: f64,
    /// The angle between the wall lines, degrees.
    pub room_angle_deg: f64,
    /// The widths of the corner fillers.
    pub fillers: Fillers,
    /// How far from square the ends of filler faces or corner stiles are sawn, degrees; the larger one.
    pub filler_bevel_deg: f64,
    /// The left run, then the right one.
    pub runs: [RunSet; 2],
    /// The highest point of the floor under the runs: the level line starts there. `None` where no level was measured.
    pub highest: Option<HighSpot>,
    walls: [Surface; 2],
}

/// How one run stands before its wall.
#[derive(Clone, Debug, PartialEq)]
pub struct RunSet {
    /// Which.
    pub side: Side,
    /// Its back plane before the wall line.
    pub lie: Lie,
    /// From where to where it stands along its wall line, from the corner of the room.
    pub along: [Length; 2],
    /// Where it touches.
    pub touches: GapAt,
    /// The greatest gap behind its nailers, or behind the whole run where it has none.
    pub greatest: GapAt,
    /// Its rows of nailers, highest first.
    pub rows: Vec<NailerRow>,
    /// The gaps at each unit's ends, from the corner outwards.
    pub edges: Vec<UnitEdge>,
    /// How much deeper than planned the countertop must be where the wall stands farthest behind it.
    pub countertop: Option<GapAt>,
    /// The widest gap to be seen past its last unit, where no wall closes the end.
    pub seen_at_end: Option<SeenAtEnd>,
    /// What is left of the wall past the run's end at the floor, at half the units' height and at their top; negative where
    /// the run does not fit.
    pub left_over: [Length; 3],
    /// What it would come to if this run could turn alone.
    pub alone: Alone,
}

/// A gap between a back plane and a wall, and where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GapAt {
    /// From the back plane to the wall, square to the back plane.
    pub gap: Length,
    /// Along the wall line from the corner of the room.
    pub along: Length,
    /// Above the floor.
    pub height: Length,
}

/// A row of nailers at one height.
#[derive(Clone, Debug, PartialEq)]
pub struct NailerRow {
    /// What a builder calls it: `top nailer`.
    pub name: String,
    /// The middle of its height.
    pub height: Length,
    /// The least gap behind it.
    pub least: GapAt,
    /// The greatest gap behind it.
    pub greatest: GapAt,
    /// From where to where along the run its nailers are, mm.
    stretches: Vec<[f64; 2]>,
}

impl NailerRow {
    /// Whether a nailer of this row ends at a place along the run, or goes over it.
    #[must_use]
    pub fn is_at(&self, s: Length) -> bool {
        let s = s.to_mm();
        self.stretches.iter().any(|[from, to]| (from - TOUCHES..=to + TOUCHES).contains(&s))
    }

    /// Whether the wall touches it nowhere, so that it needs a shim wherever it is screwed.
    #[must_use]
    pub fn touches_nowhere(&self) -> bool {
        self.least.gap.to_mm() > TOUCHES
    }
}

/// A gap narrower than this is a touch, mm.
pub(super) const TOUCHES: f64 = 1e-6;

/// The end of a unit.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitEdge {
    /// Along the run.
    pub s: Length,
    /// Along the wall line from the corner of the room, measured on the run's back.
    pub along: Length,
    /// The gap at each of [`RunSet::rows`].
    pub gaps: Vec<Length>,
}

/// A gap to be seen at a run's open end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeenAtEnd {
    /// The widest of it.
    pub gap: GapAt,
    /// Whether the run already ends in a panel, which is scribed to the wall.
    pub ends_in_panel: bool,
}

/// A run turned without the other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alone {
    /// How it would lie.
    pub lie: Lie,
    /// The greatest gap behind its nailers then.
    pub greatest: GapAt,
}

impl Set {
    /// Finds how the runs of `model`, built of `plan`, stand in its room.
    #[must_use]
    pub fn of(plan: &Plan, model: &Model) -> Self {
        let walls = Side::BOTH.map(|side| Surface::of(plan, side));
        let backings = [backing(plan, model, Side::Left, &walls[0]), backing(plan, model, Side::Right, &walls[1])];
        let angles = Angles { room: plan.room.angle_deg.to_radians(), runs: model.run_angle_deg.to_radians() };
        let turn = match plan.fixing.line {
            BackLine::Parallel => 0.0,
            BackLine::LeastGap => best_turn(&backings, angles),
        };
        let lies = settle(&backings, angles, turn);
        let place = place(lies[0], turn);
        let [left, right] =
            [0, 1].map(|k| run_set(plan, model, [Side::Left, Side::Right][k], &walls[k], &backings[k], lies[k]));
        let floor = FloorSurface::of(plan, place);
        let highest = Side::BOTH.into_iter().filter_map(|side| floor.highest(side, &footprint(plan, model, side)));
        Self {
            place,
            line: plan.fixing.line,
            run_angle_deg: model.run_angle_deg,
            room_angle_deg: plan.room.angle_deg,
            fillers: model.fillers,
            filler_bevel_deg: filler_bevel(model),
            runs: [left, right],
            highest: highest.reduce(|best, spot| if spot.level > best.level { spot } else { best }),
            walls,
        }
    }

    /// How `side`'s run stands.
    #[must_use]
    pub fn run(&self, side: Side) -> &RunSet {
        match side {
            Side::Left => &self.runs[0],
            Side::Right => &self.runs[1],
        }
    }

    /// The wall behind `side`'s run.
    #[must_use]
    pub fn wall(&self, side: Side) -> &Surface {
        match side {
            Side::Left => &self.walls[0],
            Side::Right => &self.walls[1],
        }
    }

    /// From `side`'s back plane straight back to the wall, `s` along the run and at a height.
    #[must_use]
    pub fn gap(&self, side: Side, s: Length, height: Length) -> Length {
        let curve = self.wall(side).at_height(height.to_mm());
        Length::mm(self.run(side).lie.behind(&curve, s.to_mm())[1])
    }

    /// The greatest gap behind any nailer.
    #[must_use]
    pub fn greatest(&self) -> Length {
        self.runs[0].greatest.gap.max(self.runs[1].greatest.gap)
    }

    /// Whether both runs fit between what ends their walls, at all three heights.
    #[must_use]
    pub fn fits(&self) -> bool {
        self.runs.iter().flat_map(|run| run.left_over).all(|left| left.to_mm() >= -TOUCHES)
    }
}

/// The room as the runs see it, from how the left one lies.
fn place(left: Lie, turn: f64) -> Setting {
    let nowhere = Setting { corner: Vec3::ZERO, turn };
    let [x, y] = left.origin;
    let [along, out] = nowhere.wall_frame(Side::Left, 0.0);
    Setting { corner: -(along * x + out * y), turn }
}

/// Nailers of `side`'s run by the middle of their height, highest first: name, height and stretches along the run. Those
/// above the countertop are told with their unit.
fn nailer_rows(plan: &Plan, model: &Model, side: Side) -> Vec<(String, f64, Vec<[f64; 2]>)> {
    let mut rows: BTreeMap<i64, (String, f64, Vec<[f64; 2]>)> = BTreeMap::new();
    for part in nailers(model, side) {
        let [low, high] = part.extent(Vec3::Z);
        let middle = f64::midpoint(low, high);
        // Nailers at one height to a micrometre are one row.
        #[expect(clippy::cast_possible_truncation, reason = "a unit is less than ten kilometres high")]
        let key = -(middle * 1000.0).round() as i64;
        let name = part.name.rsplit(", ").next().unwrap_or(&part.name);
        let unit = part.unit.and_then(|unit| plan.run(side).units.get(unit));
        let tall = unit.filter(|_| low >= plan.construction.height.to_mm());
        let name = tall.map_or_else(|| name.to_owned(), |unit| format!("{name} of {}", unit.name));
        let stretch = part.unit.map(|unit| unit_stretch(plan, model, side, unit));
        rows.entry(key).or_insert((name, middle, Vec::new())).2.extend(stretch);
    }
    rows.into_values().collect()
}

/// The nailers of `side`'s run.
pub(super) fn nailers(model: &Model, side: Side) -> impl Iterator<Item = &Part> {
    model.parts.iter().filter(move |part| part.role == Role::Nailer && part.run == Some(side))
}

/// From where to where a unit stands along its run.
pub(super) fn unit_stretch(plan: &Plan, model: &Model, side: Side, unit: usize) -> [f64; 2] {
    let widths = plan.run(side).units.iter().map(|unit| unit.width.to_mm());
    let from = model.run(side).starts_at + widths.clone().take(unit).sum::<f64>();
    [from, from + widths.skip(unit).take(1).sum::<f64>()]
}

fn backing(plan: &Plan, model: &Model, side: Side, wall: &Surface) -> Backing {
    let run = model.run(side);
    let extent = [run.starts_at, run.ends_at];
    let high = plan.construction.height.to_mm();
    let row = |z: f64| (z, wall.at_height(z));
    let along_run = |wall: (f64, Curve)| Row { wall, stretches: vec![extent] };
    let mut contact: Vec<_> = wall.heights([0.0, high]).into_iter().map(row).map(along_run).collect();
    // Of heights that touch alike, one that was read is told, else the floor.
    contact.rotate_left(1);
    let last = contact.len().saturating_sub(1);
    contact.swap(last.saturating_sub(1), last);
    if let Some(board) = plan.room.baseboard.filter(|board| board.treatment == BaseboardTreatment::Left) {
        contact.extend(wall.heights([0.0, board.height.to_mm().min(high)]).into_iter().map(|z| {
            let (z, mut curve) = row(z);
            curve.raise(board.thickness.to_mm());
            along_run((z, curve))
        }));
    }
    // A tall unit alone goes on above the run.
    for (unit, tall) in plan.run(side).units.iter().enumerate().filter(|(_, unit)| unit.height.to_mm() > high) {
        let stretches = vec![unit_stretch(plan, model, side, unit)];
        let heights = wall.heights([high, tall.height.to_mm()]).into_iter();
        contact.extend(heights.map(|z| Row { wall: row(z), stretches: stretches.clone() }));
    }
    let rows = nailer_rows(plan, model, side);
    let behind = if rows.is_empty() {
        vec![along_run(row(high / 2.0))]
    } else {
        rows.into_iter().map(|(_, z, stretches)| Row { wall: row(z), stretches }).collect()
    };
    Backing { extent, contact, behind }
}

fn gap_at(place: Place) -> GapAt {
    // What is a touch to the last digit is one.
    let gap = if place.gap.abs() < TOUCHES { 0.0 } else { place.gap };
    GapAt { gap: Length::mm(gap), along: Length::mm(place.x), height: Length::mm(place.height) }
}

fn run_set(plan: &Plan, model: &Model, side: Side, wall: &Surface, backing: &Backing, lie: Lie) -> RunSet {
    let run = model.run(side);
    let nowhere = Place { gap: 0.0, x: 0.0, height: 0.0 };
    let greatest = |lie: &Lie| gap_at(backing.greatest(lie).unwrap_or(nowhere));
    let named = nailer_rows(plan, model, side);
    let rows = named.iter().map(|(name, height, stretches)| {
        let row = (*height, wall.at_height(*height));
        let places: Vec<[Place; 2]> = stretches.iter().map(|&stretch| lie.extremes(&row, stretch)).collect();
        let least = places.iter().map(|[least, _]| *least).reduce(|a, b| if b.gap < a.gap { b } else { a });
        let most = places.iter().map(|[_, most]| *most).reduce(|a, b| if b.gap > a.gap { b } else { a });
        NailerRow {
            name: name.clone(),
            height: Length::mm(*height),
            least: gap_at(least.unwrap_or(nowhere)),
            greatest: gap_at(most.unwrap_or(nowhere)),
            stretches: stretches.clone(),
        }
    });
    let on_line = |s: f64| lie.origin[0] + s * lie.tilt.cos();
    let alone = best_alone(backing, &lie);
    RunSet {
        side,
        lie,
        along: [run.starts_at, run.ends_at].map(|s| Length::mm(on_line(s))),
        touches: gap_at(backing.touch(&lie).unwrap_or(nowhere)),
        greatest: greatest(&lie),
        rows: rows.collect(),
        edges: edges(plan, model, side, wall, &named, &lie),
        countertop: countertop(plan, model, side, wall, &lie),
        seen_at_end: seen_at_end(plan, model, side, wall, &lie),
        left_over: left_over(plan, model, side, &lie),
        alone: Alone { lie: alone, greatest: greatest(&alone) },
    }
}

fn edges(
    plan: &Plan,
    model: &Model,
    side: Side,
    wall: &Surface,
    rows: &[(String, f64, Vec<[f64; 2]>)],
    lie: &Lie,
) -> Vec<UnitEdge> {
    let curves: Vec<_> = rows.iter().map(|(_, height, _)| (*height, wall.at_height(*height))).collect();
    let count = plan.run(side).units.len();
    let ends = (0..count).map(|unit| unit_stretch(plan, model, side, unit));
    let mut places: Vec<f64> = ends.flatten().collect();
    places.dedup_by(|a, b| (*a - *b).abs() <= TOUCHES);
    let edge = |s: f64| UnitEdge {
        s: Length::mm(s),
        along: Length::mm(lie.origin[0] + s * lie.tilt.cos()),
        gaps: curves.iter().map(|row| gap_at(lie.extremes(row, [s, s])[0]).gap).collect(),
    };
    places.into_iter().map(edge).collect()
}

/// The greatest gap behind the countertop, from the corner to the run's end.
fn countertop(plan: &Plan, model: &Model, side: Side, wall: &Surface, lie: &Lie) -> Option<GapAt> {
    let top = plan.countertop?;
    let low = (plan.construction.height + top.build_up).to_mm();
    let heights = wall.heights([low, low + top.thickness.to_mm()]);
    let run = model.run(side);
    let places = heights.into_iter().map(|z| lie.extremes(&(z, wall.at_height(z)), [run.starts_at, run.ends_at])[1]);
    places.reduce(|best, place| if place.gap > best.gap { place } else { best }).map(gap_at)
}

fn seen_at_end(plan: &Plan, model: &Model, side: Side, wall: &Surface, lie: &Lie) -> Option<SeenAtEnd> {
    if plan.run(side).ends_at == FarEnd::Wall {
        return None;
    }
    let end = model.run(side).ends_at;
    let last = plan.run(side).units.last().map_or(plan.construction.height, |unit| unit.height);
    let heights = wall.heights([0.0, last.to_mm()]);
    let places = heights.into_iter().map(|z| lie.extremes(&(z, wall.at_height(z)), [end, end])[1]);
    let widest = places.reduce(|best, place| if place.gap > best.gap { place } else { best })?;
    let ends_in_panel = plan.run(side).units.last().is_some_and(|unit| unit.kind == UnitKind::EndPanel);
    Some(SeenAtEnd { gap: gap_at(widest), ends_in_panel })
}

/// What is left of the wall at three heights past the run's end, back and front.
fn left_over(plan: &Plan, model: &Model, side: Side, lie: &Lie) -> [Length; 3] {
    let run = model.run(side);
    let (sin, cos) = lie.tilt.sin_cos();
    let reach = [0.0, run.depth].map(|n| lie.origin[0] + run.ends_at * cos - n * sin);
    let reach = reach[0].max(reach[1]);
    let board = match plan.room.baseboard {
        Some(board) if board.treatment == BaseboardTreatment::Left && plan.run(side).ends_at == FarEnd::Wall => {
            board.thickness.to_mm()
        }
        _ => 0.0,
    };
    wall_ends(plan, side).map(|end| Length::mm(end - board - reach))
}

/// What a run stands on, in plan view.
fn footprint(plan: &Plan, model: &Model, side: Side) -> Vec<Vec3> {
    let run = model.run(side);
    let front = run.depth - plan.construction.kick_setback.to_mm();
    let places = [[run.starts_at, 0.0], [run.ends_at, 0.0], [run.ends_at, front], [run.starts_at, front]];
    places.map(|[s, n]| run.at(s, n, 0.0)).to_vec()
}

/// The larger bevel of what closes the corner.
fn filler_bevel(model: &Model) -> f64 {
    let closes = |part: &&Part| matches!(part.role, Role::FillerFace | Role::FrameStile);
    let bevels = model.parts.iter().filter(closes).flat_map(|part| &part.work.bevels);
    bevels.map(|bevel| bevel.angle_deg.abs()).fold(0.0, f64::max)
}
