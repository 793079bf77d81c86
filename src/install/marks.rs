//! What is marked on walls and floor before anything is set? Level line, unit edges, studs, fixtures, front lines.
//!
//! Takes the measured room ([`Measured`]), gives one [`WallMarks`] a wall. `along` is mm from the corner of the room along
//! the measuring line, taken at the floor and plumbed up. The level line runs at the carcasses' upper edge, measured up
//! from the highest point of the floor under the runs.

use super::measured::Measured;
use crate::plan::{FixtureKind, Side, Studs};

/// What is marked along one wall.
#[derive(Clone, Debug, PartialEq)]
pub struct WallMarks {
    /// The wall behind this side's run.
    pub side: Side,
    /// Its length along the floor.
    pub length: f64,
    /// The level line.
    pub level: LevelLine,
    /// Marks on the wall, from the corner outwards.
    pub marks: Vec<WallMark>,
    /// Whether its studs are known.
    pub studs_known: bool,
    /// Lines on the floor.
    pub floor: Vec<FloorLine>,
    /// Whether the lines on the floor are measured from the face of a baseboard that stays.
    pub from_baseboard: bool,
}

/// The level line on a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct LevelLine {
    /// Its height above the highest point of the floor under the runs.
    pub height: f64,
    /// Whether levels of the floor were taken; with none it counts as flat.
    pub floor_measured: bool,
    /// The highest point under this run: along the wall, out from it, and how far it lies below the highest of all.
    pub starts_at: [f64; 3],
    /// Its height above the floor at the wall: along, height; at both ends of the run and wherever a level was taken.
    pub above_floor: Vec<[f64; 2]>,
}

/// One mark on a wall: a plumb line, or a centre.
#[derive(Clone, Debug, PartialEq)]
pub struct WallMark {
    /// From the corner.
    pub along: f64,
    /// What is marked.
    pub kind: MarkKind,
    /// What it is called.
    pub name: String,
    /// Its centre above the level line, negative below; `None` for a plumb line.
    pub above_level: Option<f64>,
    /// Its size along the wall and upwards; 0 where it has none.
    pub size: [f64; 2],
    /// The unit that will stand before it, numbered from 0 from the corner, and how far its centre lies from that unit's near
    /// side.
    pub behind: Option<(usize, f64)>,
}

/// What a mark on a wall is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkKind {
    /// A unit's side, plumb.
    UnitEdge,
    /// The middle of a stud, plumb.
    Stud,
    /// The centre of a fixture.
    Fixture(FixtureKind),
}

impl MarkKind {
    /// In plain words.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::UnitEdge => "unit edge",
            Self::Stud => "stud",
            Self::Fixture(FixtureKind::Outlet) => "outlet",
            Self::Fixture(FixtureKind::JunctionBox) => "junction box",
            Self::Fixture(FixtureKind::Pipe) => "pipe",
            Self::Fixture(FixtureKind::Gas) => "gas",
            Self::Fixture(FixtureKind::Valve) => "valve",
            Self::Fixture(FixtureKind::Register) => "register",
            Self::Fixture(FixtureKind::Casing) => "casing",
            Self::Fixture(FixtureKind::Sill) => "sill",
        }
    }
}

/// A straight line on the floor, by its two ends: along the wall and out from the wall's face there (or the face of a
/// baseboard that stays).
#[derive(Clone, Debug, PartialEq)]
pub struct FloorLine {
    /// What it is.
    pub name: &'static str,
    /// Where it begins, toward the corner.
    pub near: [f64; 2],
    /// Where the run ends.
    pub far: [f64; 2],
}

impl WallMarks {
    /// What is marked along both walls, left first.
    #[must_use]
    pub fn of(room: &Measured<'_>) -> [Self; 2] {
        Side::BOTH.map(|side| on_wall(room, side))
    }
}

fn on_wall(room: &Measured<'_>, side: Side) -> WallMarks {
    let (plan, run) = (room.plan(), room.run(side));
    let survey = plan.room.survey.wall(side);
    let height = plan.construction.height.to_mm();
    let edges = edges(room, side);
    // The wall at the level line, where the side of a unit meets it.
    let place = |s: f64| room.on_wall(side, run.at(s, room.wall(side, s, height), 0.0))[0];
    let mut marks: Vec<WallMark> =
        edges.iter().map(|(s, name)| plumb(place(*s), MarkKind::UnitEdge, name.clone())).collect();
    let length = plan.room.wall(side).to_mm();
    let studs = studs(&survey.studs, length);
    let behind = |a: f64| {
        let at = |s: f64| place(s);
        edges.windows(2).enumerate().find_map(|(unit, pair)| match pair {
            [(near, _), (far, _)] if (at(*near)..at(*far)).contains(&a) => Some((unit, a - at(*near))),
            _ => None,
        })
    };
    marks.extend(
        studs.into_iter().map(|a| WallMark { behind: behind(a), ..plumb(a, MarkKind::Stud, "stud".to_owned()) }),
    );
    for fixture in &survey.fixtures {
        let a = fixture.along.to_mm();
        let above_level = Some(room.floor_by_wall(side, a, 0.0) + fixture.above.to_mm() - height);
        let kind = MarkKind::Fixture(fixture.kind);
        let name = if fixture.name.is_empty() { kind.word().to_owned() } else { fixture.name.clone() };
        let size = [fixture.width.to_mm(), fixture.height.to_mm()];
        marks.push(WallMark { along: a, kind, name, above_level, size, behind: behind(a) });
    }
    marks.sort_by(|a, b| a.along.total_cmp(&b.along));
    WallMarks {
        side,
        length,
        level: level_line(room, side, &edges, place),
        marks,
        studs_known: survey.studs != Studs::Unknown,
        floor: floor_lines(room, side),
        from_baseboard: room.baseboard().is_some(),
    }
}

fn plumb(along: f64, kind: MarkKind, name: String) -> WallMark {
    WallMark { along, kind, name, above_level: None, size: [0.0; 2], behind: None }
}

/// The units' edges along the run, with what lies on both sides of each.
fn edges(room: &Measured<'_>, side: Side) -> Vec<(f64, String)> {
    let units = &room.plan().run(side).units;
    let name = |k: usize| units.get(k).map(|unit| format!("{} {} {}", side.word(), k + 1, unit.name));
    let mut s = room.run(side).starts_at;
    let mut edges = vec![(s, format!("near side of {}", name(0).unwrap_or_default()))];
    for (k, unit) in units.iter().enumerate() {
        s += unit.width.to_mm();
        let own = name(k).unwrap_or_default();
        edges.push((
            s,
            match name(k + 1) {
                Some(next) => format!("between {own} and {next}"),
                None => format!("far side of {own}"),
            },
        ));
    }
    edges
}

/// The middles of the studs along a wall of that length.
fn studs(studs: &Studs, length: f64) -> Vec<f64> {
    match studs {
        Studs::Unknown => Vec::new(),
        Studs::At(middles) => middles.iter().map(|middle| middle.to_mm()).collect(),
        Studs::Spaced { one_at, spacing } => {
            let (spacing, mut at) = (spacing.to_mm(), one_at.to_mm());
            if spacing <= 0.0 {
                return vec![at];
            }
            at -= (at / spacing).floor() * spacing;
            std::iter::successors(Some(at), |at| Some(at + spacing)).take_while(|at| *at <= length).collect()
        }
    }
}

fn level_line(room: &Measured<'_>, side: Side, edges: &[(f64, String)], place: impl Fn(f64) -> f64) -> LevelLine {
    let height = room.plan().construction.height.to_mm();
    let ends = [edges.first(), edges.last()].into_iter().flatten().map(|(s, _)| place(*s));
    let taken = room.plan().room.survey.floor.iter().filter(|level| level.wall == side);
    let at = super::measured::in_order(ends.chain(taken.map(|level| level.along.to_mm())).collect());
    let above_floor = at.into_iter().map(|a| [a, height - room.floor_by_wall(side, a, 0.0)]).collect();
    let [along, out, level] = room.highest_under(side);
    let floor_measured = !room.plan().room.survey.floor.is_empty();
    LevelLine { height, floor_measured, starts_at: [along, out, -level], above_floor }
}

fn floor_lines(room: &Measured<'_>, side: Side) -> Vec<FloorLine> {
    let run = room.run(side);
    let other = room.run(side.other());
    let thick = room.baseboard().map_or(0.0, |[thick, _]| thick);
    let construction = &room.plan().construction;
    let kick = construction.kick_setback.to_mm();
    let mut lines = vec![("front line", 0.0)];
    if kick > 0.0 && construction.kick_height.to_mm() > 0.0 {
        lines.push(("kick line", kick));
    }
    let line = |(name, back): (&'static str, f64)| {
        let n = run.depth - back;
        // Where it meets the same line of the other run.
        let near = (other.depth - back - n * run.out.dot(other.out)) / run.along.dot(other.out);
        let [near, far] = [near, run.ends_at].map(|s| {
            let [a, o] = room.on_wall(side, run.at(s, n, 0.0));
            [a, o - room.stands_out(side, a, 0.0) - thick]
        });
        FloorLine { name, near, far }
    };
    lines.into_iter().map(line).collect()
}
