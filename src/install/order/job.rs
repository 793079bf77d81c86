//! What do the steps read? The plan and the model together, with what several steps count.

use super::place::{carcasses, parts_of};
use super::step::{Step, StepId};
use crate::length::Length;
use crate::model::weight::weight;
use crate::model::{Model, Part, Role};
use crate::plan::{Face, Plan, Side};

/// A screw's point stays this far inside a face that is seen. Common practice, no source.
const SHORT_OF_FACE_MM: f64 = 3.0;
/// Into lumber a screw goes this deep: 1 in. Common practice, no source.
const BITE_MM: f64 = 25.4;

/// A plan and the model of it that goes in.
#[derive(Clone, Copy)]
pub(super) struct Job<'j> {
    pub(super) plan: &'j Plan,
    pub(super) model: &'j Model,
}

impl<'j> Job<'j> {
    /// The parts that appear in `step`.
    pub(super) fn parts(&self, step: StepId) -> Vec<&'j Part> {
        parts_of(self.plan, self.model, step)
    }

    /// How many parts have this role.
    pub(super) fn count(&self, role: Role) -> usize {
        self.model.parts.iter().filter(|part| part.role == role).count()
    }

    /// Whether anything appears in `step`.
    pub(super) fn any(&self, step: StepId) -> bool {
        !self.parts(step).is_empty()
    }

    /// Whether anything of the runs opens.
    pub(super) fn has_openings(&self) -> bool {
        self.model.movers.iter().any(|mover| !mover.of_the_room)
    }

    /// Whether a carcass of `side` stands higher than the run.
    pub(super) fn stands_tall(&self, side: Side) -> bool {
        self.plan.run(side).units.iter().any(|unit| unit.kind.has_carcass() && self.plan.is_tall(unit))
    }

    /// Whether either run has a carcass.
    pub(super) fn any_carcass(&self) -> bool {
        Side::BOTH.iter().any(|&side| !carcasses(self.plan, side).is_empty())
    }

    /// How many pairs of carcasses of `side` stand side by side.
    pub(super) fn neighbours(&self, side: Side) -> usize {
        carcasses(self.plan, side).windows(2).filter(|pair| matches!(pair, [a, b] if a + 1 == *b)).count()
    }

    /// Through both sides, or both stiles, of two neighbours.
    pub(super) fn through_neighbours(&self) -> Length {
        match self.plan.construction.face {
            Face::Frameless => self.plan.construction.panel * 2.0,
            Face::FaceFrame { stile, .. } => stile * 2.0,
        }
    }

    /// What `parts` weigh together, kg; `None` where the stuff of one is unknown.
    pub(super) fn weight<'p>(&self, parts: impl IntoIterator<Item = &'p Part>) -> Option<f64> {
        parts
            .into_iter()
            .filter(|part| part.material != crate::model::Material::Metal)
            .map(|p| weight(p, self.plan))
            .sum()
    }

    /// `step` with its parts, and what they weigh where they are lifted together.
    pub(super) fn lifted_together(&self, step: Step) -> Step {
        let parts = self.parts(step.id);
        let lift_kg = self.weight(parts.iter().copied()).filter(|kg| *kg > 0.0);
        Step { parts: parts.iter().map(|part| part.id).collect(), lift_kg, ..step }
    }

    /// `step` with its parts, and what the heaviest of them weighs; drawers and doors are lifted whole.
    pub(super) fn lifted_singly(&self, step: Step) -> Step {
        let parts = self.parts(step.id);
        let mut heaviest: Option<f64> = None;
        for part in &parts {
            let with = parts
                .iter()
                .copied()
                .filter(|other| other.id == part.id || (part.mover.is_some() && other.mover == part.mover));
            match self.weight(with) {
                Some(kg) => heaviest = Some(heaviest.map_or(kg, |most| most.max(kg))),
                None => {
                    heaviest = None;
                    break;
                }
            }
        }
        let lift_kg = heaviest.filter(|kg| *kg > 0.0);
        Step { parts: parts.iter().map(|part| part.id).collect(), lift_kg, ..step }
    }
}

/// The longest screw that stays short of the far face of something this thick.
pub(super) fn short_of_face(thickness: Length) -> Option<Length> {
    Some(thickness - Length::mm(SHORT_OF_FACE_MM))
}

/// The longest screw through `thickness` and a good bite into what lies behind.
pub(super) fn with_bite(thickness: Length) -> Option<Length> {
    Some(thickness + Length::mm(BITE_MM))
}
