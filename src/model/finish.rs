//! What is a part's finish, and which way does its grain run? From the plan's finishes to each part.
//!
//! Both are pure readings: another finish changes neither a size nor an answer.

use super::{Material, Model, Part, Role, Vec3};
use crate::plan::{Finish, Metal, Plan, Side, Species, Surface};

/// The kind of part that `part` counts as for its finish; `None` for what the plan's finishes do not cover:
/// appliances, obstacles, blocking and legs.
#[must_use]
pub fn surface(part: &Part) -> Option<Surface> {
    match part.role {
        Role::DrawerFront | Role::DoorFront | Role::EndPanel | Role::FillerFace | Role::KickCover => {
            Some(Surface::Fronts)
        }
        Role::FrameStile | Role::FrameRail => Some(Surface::Frames),
        // Strips round a front look as the front does.
        Role::EdgeStrip if part.mover.is_some() => Some(Surface::Fronts),
        Role::CarcassSide
        | Role::CarcassBottom
        | Role::CarcassTop
        | Role::Back
        | Role::Nailer
        | Role::Stretcher
        | Role::Shelf
        | Role::EdgeStrip
        | Role::KickBoard => Some(Surface::Carcass),
        Role::BoxSide | Role::BoxEnd | Role::BoxBottom => Some(Surface::Boxes),
        Role::Pull => Some(Surface::Pulls),
        Role::Countertop => Some(Surface::Countertop),
        Role::Wall | Role::EndWall => Some(Surface::Walls),
        Role::Floor => Some(Surface::Floor),
        Role::Baseboard | Role::Casing => Some(Surface::Woodwork),
        Role::KickBlock
        | Role::BaseFrame
        | Role::Leg
        | Role::BackingBlock
        | Role::Blocking
        | Role::BuildUp
        | Role::Appliance
        | Role::ApplianceHandle
        | Role::Obstacle => None,
    }
}

/// The finish of `part`, a part of `model`, by `plan`; `None` for appliances and obstacles, which come as they are.
#[must_use]
pub fn finish(plan: &Plan, model: &Model, part: &Part) -> Option<Finish> {
    let finishes = &plan.finishes;
    match surface(part) {
        Some(Surface::Pulls) => {
            let own = part.mover.and_then(|id| model.movers.get(id.0)).and_then(|mover| plan.pulls.get(mover.pull?));
            Some(own.and_then(|pull| pull.finish).unwrap_or(finishes.pulls))
        }
        Some(surface) => Some(finishes.of(surface)),
        None => match part.material {
            Material::Metal => Some(Finish::Metal(Metal::BrushedSteel)),
            Material::DimensionLumber => Some(Finish::Wood(Species::Pine)),
            _ => None,
        },
    }
}

/// Unit direction along which the grain of `part`, a part of `model`, runs if it is made of wood.
///
/// Its own, or along the run for a countertop, along the left wall for floorboards, and lengthways for what else has none
/// (a bar, a knob).
#[must_use]
pub fn grain(model: &Model, part: &Part) -> Vec3 {
    if let Some(grain) = part.grain {
        return grain;
    }
    match (part.role, part.run) {
        (Role::Floor, _) => model.run(Side::Left).wall_along,
        (Role::Countertop | Role::Baseboard, Some(side)) => model.run(side).along,
        (Role::Casing, _) => Vec3::Z,
        _ => longest_way(part),
    }
}

/// The direction of a part's longest edge.
fn longest_way(part: &Part) -> Vec3 {
    let edges = part.pieces.iter().flat_map(|piece| {
        let around = piece.base().windows(2).filter_map(|pair| match pair {
            [a, b] => Some(*b - *a),
            _ => None,
        });
        around.chain([piece.push()])
    });
    let longest = edges.fold(Vec3::ZERO, |best, edge| if edge.length() > best.length() + 1e-9 { edge } else { best });
    longest.try_normalize().unwrap_or(Vec3::X)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Length;
    use crate::model::Fillers;
    use crate::plan;

    const PLAN: &str = include_str!("../../assets/plans/glazing-corner.ron");

    fn model(plan: &Plan) -> Model {
        Model::build(plan, Fillers { left: Length::mm(70.0), right: Length::mm(70.0) })
    }

    #[test]
    fn every_part_of_wood_has_its_grain_along_its_own_length_where_the_plan_has_one() {
        let plan = plan::read("glazing-corner.ron", PLAN).unwrap();
        let model = model(&plan);
        for part in &model.parts {
            let grain = grain(&model, part);
            assert!((grain.length() - 1.0).abs() < 1e-9, "{}", part.name);
            if let Some(own) = part.grain {
                assert_eq!(grain, own, "{}", part.name);
            }
        }
        let bar = model.parts.iter().find(|part| part.role == Role::Pull).unwrap();
        assert!(grain(&model, bar).dot(model.run(Side::Left).along).abs() > 0.999, "a bar is brushed lengthways");
    }

    #[test]
    fn a_pull_with_a_finish_of_its_own_keeps_it() {
        let text = PLAN.replace(", finish: Wood(species: Beech)", ", finish: Wood(species: Cherry)");
        let plan = plan::read("glazing-corner.ron", &text).unwrap();
        let model = model(&plan);
        let on = |side| {
            let pull = model.parts.iter().find(|p| p.role == Role::Pull && p.run == Some(side)).unwrap();
            finish(&plan, &model, pull)
        };
        assert_eq!(on(Side::Right), Some(Finish::Wood(Species::Cherry)));
        assert_eq!(on(Side::Left), Some(plan.finishes.pulls));
    }
}
