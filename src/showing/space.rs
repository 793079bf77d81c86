//! How large is the space that the corner shuts off, and what could use it?
//!
//! Counted: what lies behind both filler faces, between the two first units, before both back planes (and the walls,
//! where they come before those), from the height of the faces' lower edge to their upper edge under the countertop;
//! less backing blocks, baseboards and obstacles in it. The toe kick's height below is not counted. No drawer and no
//! door gets there: they stay within their own units, or before them.
//!
//! Exact for prisms: cut into levels at every height where something begins or ends, each level's area is that of a
//! union of convex outlines.

use super::seen::planes;
use crate::model::convex::{area_of_union, clip_outline, hull_outline};
use crate::model::{Convex, Model, Part, Role, RunFrame, Vec3};
use crate::plan::Side;

/// Cubic millimetres in a litre, exactly.
pub const MM3_PER_LITRE: f64 = 1e6;
/// Cubic millimetres in a cubic foot, exactly: a foot is 304.8 mm (the 1959 agreement; NIST Special Publication 811).
pub const MM3_PER_CUBIC_FOOT: f64 = 304.8 * 304.8 * 304.8;

/// From this many litres on it is worth reaching into: two buckets and something beside them. Our own choice.
pub const WORTH_REACHING_LITRES: f64 = 40.0;
/// From this many litres on a corner unit with its own door is worth building: a large suitcase and more. Our own choice.
pub const WORTH_A_UNIT_LITRES: f64 = 150.0;

/// What the corner shuts off.
#[derive(Clone, Debug, PartialEq)]
pub struct Space {
    /// Its volume in mm³.
    pub mm3: f64,
    /// What could use it, simplest first; empty where it is not worth the work.
    pub uses: Vec<Use>,
}

/// What could use the space.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    /// The first unit of that run is open or has a door: with an opening in its side one reaches round into the corner.
    ThroughUnit(Side),
    /// A corner unit with a door of its own, in place of the fillers and a part of the first units.
    CornerUnit,
    /// A door from behind: that run's far end is open, so one may be able to walk round its wall.
    FromBehind(Side),
}

impl Space {
    /// Measures the space of `model`.
    #[must_use]
    pub fn of(model: &Model) -> Self {
        let mm3 = volume(model);
        Self { mm3, uses: uses(model, mm3 / MM3_PER_LITRE) }
    }

    /// In litres.
    #[must_use]
    pub fn litres(&self) -> f64 {
        self.mm3 / MM3_PER_LITRE
    }

    /// In cubic feet.
    #[must_use]
    pub fn cubic_feet(&self) -> f64 {
        self.mm3 / MM3_PER_CUBIC_FOOT
    }
}

/// How far a corner unit reaches past the line where the front planes meet, along each run, mm: units 900 to each side
/// of a corner of runs 600 deep. Common practice, no source.
pub const CORNER_LEG: f64 = 300.0;

/// A unit that stands in the corner itself, in place of both fillers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CornerUnit {
    /// A straight front across the corner; else a door that folds round it.
    pub diagonal: bool,
    /// What it holds, to its outsides, mm³.
    pub holds_mm3: f64,
    /// What it takes from the first units, which it pushes away from the corner, mm³.
    pub takes_mm3: f64,
}

impl CornerUnit {
    /// With a door round the corner, and with a diagonal front; empty where the model has nothing to stand beside.
    ///
    /// Both reach [`CORNER_LEG`] past the line where the front planes meet, and as high as the filler faces.
    #[must_use]
    pub fn both(model: &Model) -> Vec<Self> {
        let Some([low, high]) = heights(model) else { return Vec::new() };
        let outlines: Vec<Vec<Vec3>> = Side::BOTH.into_iter().map(|side| leg(model, side)).collect();
        let takes: f64 =
            model.runs.iter().map(|run| (run.corner_at + CORNER_LEG - run.starts_at).max(0.0) * run.depth).sum();
        let area = area_of_union(&outlines);
        let across = CORNER_LEG * CORNER_LEG * model.run_angle_deg.to_radians().sin() / 2.0;
        let of = |diagonal: bool| Self {
            diagonal,
            holds_mm3: (area + if diagonal { across } else { 0.0 }) * (high - low),
            takes_mm3: takes * (high - low),
        };
        vec![of(false), of(true)]
    }
}

/// The floor of a corner unit along one run.
fn leg(model: &Model, side: Side) -> Vec<Vec3> {
    let (own, other) = (model.run(side), model.run(side.other()));
    let far_back = -10.0 * (own.depth + other.depth + 1000.0);
    let floor = rectangle(own, [far_back, own.corner_at + CORNER_LEG], [0.0, own.depth]);
    before_walls(model, clip_outline(&floor, other.out, 0.0))
}

fn uses(model: &Model, litres: f64) -> Vec<Use> {
    let mut uses = Vec::new();
    if litres < WORTH_REACHING_LITRES {
        return uses;
    }
    uses.extend(Side::BOTH.into_iter().filter(|&side| is_reached_into(model, side)).map(Use::ThroughUnit));
    if litres >= WORTH_A_UNIT_LITRES {
        uses.push(Use::CornerUnit);
    }
    uses.extend(Side::BOTH.into_iter().filter(|&side| ends_open(model, side)).map(Use::FromBehind));
    uses
}

/// Whether the first unit of `side` has no drawers: a door, or open shelves.
fn is_reached_into(model: &Model, side: Side) -> bool {
    let has = |wanted: &[Role]| {
        let mut parts = model.parts.iter().filter(|part| part.run == Some(side) && part.unit == Some(0));
        parts.any(|part| wanted.contains(&part.role))
    };
    // A drawer above a door leaves the lower part to reach through.
    has(&[Role::CarcassSide]) && (has(&[Role::DoorFront]) || !has(&[Role::DrawerFront]))
}

fn ends_open(model: &Model, side: Side) -> bool {
    !model.parts.iter().any(|part| part.run == Some(side) && matches!(part.role, Role::EndWall | Role::Casing))
}

/// A convex outline in plan view, with the heights it lies between.
struct Block {
    outline: Vec<Vec3>,
    low: f64,
    high: f64,
}

impl Block {
    fn of(piece: &Convex) -> Self {
        let points: Vec<Vec3> = piece.vertices().collect();
        let flat: Vec<Vec3> = points.iter().map(|p| Vec3::new(p.x, p.y, 0.0)).collect();
        let low = points.iter().map(|p| p.z).fold(f64::INFINITY, f64::min);
        let high = points.iter().map(|p| p.z).fold(f64::NEG_INFINITY, f64::max);
        Self { outline: hull_outline(&flat), low, high }
    }
}

fn volume(model: &Model) -> f64 {
    let Some([low, high]) = heights(model) else { return 0.0 };
    let strips: Vec<Vec<Vec3>> = Side::BOTH.into_iter().map(|side| strip(model, side)).collect();
    let far = 10.0 * model.runs.iter().map(|run| run.depth + run.ends_at.abs() + 1000.0).sum::<f64>();
    let units = model.runs.iter().map(|run| Block {
        outline: rectangle(run, [run.starts_at, run.starts_at + far], [0.0, run.depth]),
        low,
        high,
    });
    // A face stands behind the other run's front plane where that run has none.
    let takes_room =
        |part: &&Part| matches!(part.role, Role::FillerFace | Role::BackingBlock | Role::Baseboard | Role::Obstacle);
    let pieces = model.parts.iter().filter(takes_room).flat_map(|part| &part.pieces).map(Block::of);
    // Only what lies in a strip matters.
    let inside = |block: &Block| strips.iter().any(|strip| !common(strip, &block.outline).is_empty());
    let blocks: Vec<Block> = units.chain(pieces).filter(inside).collect();

    let mut levels: Vec<f64> = blocks.iter().flat_map(|block| [block.low, block.high]).collect();
    levels.retain(|&z| z > low && z < high);
    levels.extend([low, high]);
    levels.sort_by(f64::total_cmp);
    let whole = area_of_union(&strips);
    let mut sum = 0.0;
    for level in levels.windows(2) {
        let &[from, to] = level else { continue };
        let taken: Vec<Vec<Vec3>> = blocks
            .iter()
            .filter(|block| block.low < f64::midpoint(from, to) && block.high > f64::midpoint(from, to))
            .flat_map(|block| strips.iter().map(|strip| common(strip, &block.outline)))
            .filter(|outline| !outline.is_empty())
            .collect();
        sum += (to - from) * (whole - area_of_union(&taken));
    }
    sum.max(0.0)
}

/// From the lower to the upper edge of the filler faces, or of the first units where there are none.
fn heights(model: &Model) -> Option<[f64; 2]> {
    let of = |role: Role| {
        let vertices = model.parts.iter().filter(move |part| part.role == role).flat_map(|part| &part.pieces);
        let (low, high) = vertices
            .flat_map(Convex::vertices)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v.z), high.max(v.z)));
        (low < high).then_some([low, high])
    };
    of(Role::FillerFace).or_else(|| {
        // A bottom board lies on the height where the carcass begins; its sides reach up to the top.
        let [low, _] = of(Role::CarcassBottom)?;
        let [_, high] = of(Role::CarcassSide)?;
        Some([low, high])
    })
}

/// The floor behind one filler face: from its inner plane to the back planes and walls, up to the first unit.
fn strip(model: &Model, side: Side) -> Vec<Vec3> {
    let (own, other) = (model.run(side), model.run(side.other()));
    let [inner, _] = planes(model, side);
    let far_back = -10.0 * (own.depth + other.depth + 1000.0);
    before_walls(model, clip_outline(&rectangle(own, [far_back, own.starts_at], [0.0, inner]), other.out, 0.0))
}

/// The part of `outline` that lies before both walls.
fn before_walls(model: &Model, mut outline: Vec<Vec3>) -> Vec<Vec3> {
    for run in &model.runs {
        let (out, level) = wall_plane(model, run);
        if !outline.is_empty() {
            outline = clip_outline(&outline, out, level);
        }
    }
    outline
}

/// The direction out of the wall behind `run`, and how far along it the wall's face lies.
fn wall_plane(model: &Model, run: &RunFrame) -> (Vec3, f64) {
    let across = Vec3::Z.cross(run.wall_along);
    let out = if across.dot(run.out) < 0.0 { -across } else { across };
    let walls = model.parts.iter().filter(|part| part.role == Role::Wall && part.run == Some(run.side));
    let vertices = walls.flat_map(|part| &part.pieces).flat_map(Convex::vertices);
    (out, vertices.map(|v| v.dot(out)).fold(f64::NEG_INFINITY, f64::max))
}

/// Counter-clockwise in plan view, at height 0.
fn rectangle(run: &RunFrame, s: [f64; 2], n: [f64; 2]) -> Vec<Vec3> {
    let at = |s: f64, n: f64| run.at(s, n, 0.0);
    hull_outline(&[at(s[0], n[0]), at(s[1], n[0]), at(s[1], n[1]), at(s[0], n[1])])
}

/// What two convex outlines, counter-clockwise, have in common.
fn common(a: &[Vec3], b: &[Vec3]) -> Vec<Vec3> {
    let mut left = a.to_vec();
    for (k, &from) in b.iter().enumerate() {
        if left.is_empty() {
            break;
        }
        let inwards = Vec3::Z.cross(b[(k + 1) % b.len()] - from);
        left = clip_outline(&left, inwards, inwards.dot(from));
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;

    // NIST Special Publication 811, appendix B.8: a cubic foot is 2.831 685 E-02 cubic metres.
    #[test]
    fn a_cubic_foot_is_what_the_standard_says() {
        assert!((MM3_PER_CUBIC_FOOT / 1e9 - 2.831_685e-2).abs() < 1e-8);
    }
}
