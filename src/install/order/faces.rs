//! How much is there to finish? The faces of fronts, frames and painted carcasses that are seen, measured on the model.
//!
//! Two solids that touch never lie in each other, so what touches one face never lies twice on the same spot: the bare
//! area of a face is its own less the sum of what touches it. Fronts are finished lying flat, so all their faces count.
//! Of what stays put the faces count that look neither at the wall nor at the floor nor up under the countertop. What
//! lies below a unit behind its kick cover counts where a panel stands beside it: too much paint, never too little.

use super::place::corner_box;
use super::step::Area;
use crate::model::convex::clip_outline;
use crate::model::finish::{finish, surface};
use crate::model::{Model, Part, Role, Vec3};
use crate::plan::{FarEnd, Finish, Plan, Side, Surface};

/// Faces closer than this, in mm, touch.
const TOUCHING: f64 = 0.02;

/// What is finished in place, by kind. Carcasses and drawer boxes are finished on the bench, save painted carcasses, which
/// are painted with the rest, inside too.
pub(super) fn areas(plan: &Plan, model: &Model) -> Vec<Area> {
    let kinds = [Surface::Fronts, Surface::Frames, Surface::Carcass];
    let all = kinds.into_iter().filter_map(|kind| {
        let done = plan.finishes.of(kind);
        if kind == Surface::Carcass && !matches!(done, Finish::Painted(_)) {
            return None;
        }
        let parts = model.parts.iter().filter(|part| surface(part) == Some(kind));
        let mm2 = parts.map(|part| seen_area(plan, model, part)).sum::<f64>();
        (mm2 > 0.0).then_some(Area { surface: kind, finish: done, mm2 })
    });
    all.collect()
}

/// The area of `part` that is seen, mm².
fn seen_area(plan: &Plan, model: &Model, part: &Part) -> f64 {
    // A front touches its own strips alone: it comes off its drawer box and its unit.
    let beside: Vec<&Part> = match part.mover {
        Some(mover) => {
            let same = |other: &&Part| finish(plan, model, other) == finish(plan, model, part);
            model.mover(mover).parts.iter().map(|&id| model.part(id)).filter(same).collect()
        }
        None => model.parts.iter().filter(|other| other.mover.is_none()).collect(),
    };
    let seen = |outline: &[Vec3]| part.mover.is_some() || looks_out(plan, model, part, outline);
    let mut area = 0.0;
    for face in part.outside().iter().flat_map(crate::model::Convex::faces).filter(|face| seen(face)) {
        let touching = beside.iter().flat_map(|other| other.outside()).flat_map(crate::model::Convex::faces);
        let covered = touching.map(|other| contact_area(&face, &other)).sum::<f64>();
        area += (double_area(&face).length() / 2.0 - covered).max(0.0);
    }
    area
}

/// Whether a face of a part that stays put looks to where someone can see it.
fn looks_out(plan: &Plan, model: &Model, part: &Part, outline: &[Vec3]) -> bool {
    let Some(side) = part.run else { return false };
    let Some(normal) = double_area(outline).try_normalize() else { return false };
    let (run, construction) = (model.run(side), &plan.construction);
    let (along, out, up) = (normal.dot(run.along), normal.dot(run.out), normal.z);
    let height = outline.iter().map(|p| p.z).fold(f64::NEG_INFINITY, f64::max);
    let unit = part.unit.and_then(|unit| plan.run(side).units.get(unit));
    let top = unit.map_or(construction.height, |unit| unit.height);
    if up > STEEP && height >= top.to_mm() - TOUCHING {
        return false;
    }
    if up < -STEEP && height <= construction.kick_height.to_mm() + TOUCHING {
        return false;
    }
    let toward_corner = along < -STEEP;
    match part.role {
        Role::FillerFace | Role::KickCover => out > -STEEP && up.abs() < STEEP && !toward_corner,
        Role::FrameStile if part.unit.is_none() => out > -STEEP && !toward_corner,
        Role::EndPanel => out > -STEEP && !(toward_corner && first_panel(plan, part)),
        Role::FrameStile | Role::FrameRail | Role::EdgeStrip => out > -STEEP,
        Role::CarcassSide => out > -STEEP && !hidden_side(plan, model, part, side, outline, along),
        Role::CarcassBottom | Role::CarcassTop | Role::Stretcher | Role::Shelf | Role::Nailer | Role::Back => {
            out > -STEEP
        }
        // Behind the kick cover.
        _ => false,
    }
}

/// A face looks some way when its normal leans that way by more than this.
const STEEP: f64 = 0.5;

/// Whether an end panel stands between the corner and the first carcass: its near face looks into the dead corner.
fn first_panel(plan: &Plan, part: &Part) -> bool {
    let before = part.run.and_then(|side| corner_box(plan, side)).unwrap_or(0);
    part.unit.is_some_and(|unit| unit < before || unit == 0)
}

/// Whether a side's outer face looks into the corner or at a wall; at the open end of a run it is seen.
fn hidden_side(plan: &Plan, model: &Model, part: &Part, side: Side, outline: &[Vec3], along: f64) -> bool {
    let run = model.run(side);
    let s = outline.iter().map(|p| p.dot(run.along)).fold(f64::NEG_INFINITY, f64::max);
    let at_corner = along < -STEEP && (s - run.starts_at).abs() < TOUCHING;
    let units = plan.run(side).units.len();
    let last = part.unit.is_some_and(|unit| unit + 1 == units);
    let at_end = along > STEEP && last && (s - run.ends_at).abs() < TOUCHING;
    at_corner || (at_end && plan.run(side).ends_at == FarEnd::Wall)
}

/// Twice the area of a flat outline, along its normal.
fn double_area(outline: &[Vec3]) -> Vec3 {
    let origin = outline.first().copied().unwrap_or(Vec3::ZERO);
    outline.windows(2).fold(Vec3::ZERO, |sum, pair| match pair {
        [a, b] => sum + (*a - origin).cross(*b - origin),
        _ => sum,
    })
}

/// The area in which two faces that look at each other touch, mm².
fn contact_area(face: &[Vec3], other: &[Vec3]) -> f64 {
    let (Some(&a), Some(&b)) = (face.first(), other.first()) else { return 0.0 };
    let (Some(n), Some(m)) = (double_area(face).try_normalize(), double_area(other).try_normalize()) else {
        return 0.0;
    };
    if n.dot(m) > -1.0 + 1e-9 || (b - a).dot(n).abs() > TOUCHING {
        return 0.0;
    }
    // Cut the face along each edge of the other, whose inside lies to the left of its edges.
    let mut rest = face.to_vec();
    for (k, &from) in other.iter().enumerate() {
        let to = other.get(k + 1).copied().unwrap_or(b);
        let inside = m.cross(to - from);
        rest = clip_outline(&rest, inside, inside.dot(from));
        if rest.is_empty() {
            return 0.0;
        }
    }
    double_area(&rest).length() / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Convex;

    #[test]
    fn two_boards_that_cross_touch_where_both_lie() {
        // 100 × 20 upright against 300 × 18 level: 20 × 18 of each.
        let upright = Convex::block(Vec3::ZERO, Vec3::X * 20.0, Vec3::Y * 10.0, Vec3::Z * 100.0);
        let level = Convex::block(Vec3::new(-140.0, 10.0, 40.0), Vec3::X * 300.0, Vec3::Y * 5.0, Vec3::Z * 18.0);
        let touching: f64 = upright
            .faces()
            .iter()
            .flat_map(|a| level.faces().iter().map(|b| contact_area(a, b)).collect::<Vec<_>>())
            .sum();
        assert!((touching - 20.0 * 18.0).abs() < 1e-9, "{touching}");
        let apart = level.moved(Vec3::Y);
        assert!(upright.faces().iter().all(|a| apart.faces().iter().all(|b| contact_area(a, b) == 0.0)));
    }
}
