//! In which order is the work done? Steps made from the plan and the model, each after all that it waits for.
//!
//! [`order`] takes a [`Plan`] and the [`Model`] that goes in, and gives every [`Step`] from the cleared room to the last
//! coat, with its parts, fasteners, tools, checks, times and cautions. What waits for what is one table of rules, and the
//! order keeps them all; where they leave a choice, the steps' own order decides, so the same plan gives the same order.
//!
//! It does not know the gaps behind the units: screws are told without them.

mod caulk;
mod faces;
mod finishing;
mod fitting;
mod job;
mod measure;
mod place;
mod prepare;
mod rules;
mod standing;
mod step;

use crate::model::Model;
use crate::model::weight::ONE_PERSON_KG;
use crate::plan::Plan;
pub use finishing::{SPREAD_M2_PER_LITRE, litres};
pub use step::{After, Area, CaulkJoint, Caution, Check, Drying, Fastener, Step, StepId};

use job::Job;

/// Every step of putting `model`, built of `plan`, into its room.
#[must_use]
pub fn order(plan: &Plan, model: &Model) -> Vec<Step> {
    let mut steps = unsorted(plan, model);
    let ids: Vec<StepId> = steps.iter().map(|step| step.id).collect();
    for step in &mut steps {
        step.after = rules::waits_for(plan, rules::RULES, &ids, step.id);
        let heavy = step.lift_kg.is_some_and(|kg| kg > ONE_PERSON_KG);
        if heavy && !step.cautions.contains(&Caution::Lifting) {
            step.cautions.push(Caution::Lifting);
        }
    }
    let waits: Vec<_> = steps.iter().map(|step| (step.id, step.after.clone())).collect();
    let sorted = rules::sorted(&waits);
    let place = |step: &Step| sorted.iter().position(|id| *id == step.id);
    steps.sort_by_key(place);
    steps
}

/// The steps in the order in which they are done where no rule decides.
fn unsorted(plan: &Plan, model: &Model) -> Vec<Step> {
    let job = Job { plan, model };
    [prepare::steps(&job), standing::steps(&job), fitting::steps(&job), finishing::steps(&job)].concat()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Length;
    use crate::model::Fillers;
    use crate::plan::{self, Filler, Side};

    const PLANS: [&str; 6] = [
        include_str!("../../../assets/plans/glazing-corner.ron"),
        include_str!("../../../assets/plans/print-room.ron"),
        include_str!("../../../assets/plans/bay-seat.ron"),
        include_str!("../../../assets/plans/old-house.ron"),
        include_str!("../../../assets/plans/potting-shed.ron"),
        include_str!("../../../assets/plans/tack-room.ron"),
    ];

    /// A support panel at the corner, a single box, a shelf on pins behind a frame; an appliance alone on one run; and no
    /// joint to caulk.
    const ODD: [&str; 3] = [
        r#"(name: "odd", units: Millimetre, room: (left_wall: 3000, right_wall: 3000),
            joinery: (shelves: Pins(2), shelf_frame: (stile: 40, rail: 30)),
            slides: { "s": (length: 450) }, pulls: { "none": Absent },
            left: (units: [EndPanel(), Drawers(width: 600, fronts: Equal(3))], ends_at: Open),
            right: (units: [OpenShelves(width: 600, shelves: 2)], ends_at: Open),
            corner: (left: Fixed(60), right: Fixed(60)))"#,
        r#"(name: "odd too", units: Millimetre, room: (left_wall: 3000, right_wall: 3000),
            slides: { "s": (length: 450) }, pulls: { "none": Absent },
            left: (units: [Door(width: 600, hinge: FarSide)], ends_at: Open),
            right: (units: [ApplianceSpace(width: 600, depth: 570)], ends_at: Open),
            corner: (left: Fixed(60), right: Fixed(60)))"#,
        r#"(name: "no joints", units: Millimetre, room: (left_wall: 3000, right_wall: 3000),
            construction: (base: Legs), slides: { "s": (length: 450) }, pulls: { "none": Absent },
            left: (units: [Drawers(width: 600, fronts: Equal(3))], ends_at: Open),
            right: (units: [Drawers(width: 600, fronts: Equal(3))], ends_at: Open),
            corner: (left: Fixed(0), right: Fixed(0)))"#,
    ];

    fn cases() -> Vec<(Plan, Vec<StepId>)> {
        let case = |text: &&str| {
            let plan = match plan::read("case.ron", text) {
                Ok(plan) => plan,
                Err(problems) => panic!("{}", problems.lines().join("\n")),
            };
            let width = |side| match plan.corner.filler(side) {
                Filler::Fixed(width) => width,
                Filler::Least => Length::mm(60.0),
            };
            let model = Model::build(&plan, Fillers { left: width(Side::Left), right: width(Side::Right) });
            let ids = unsorted(&plan, &model).iter().map(|step| step.id).collect();
            (plan, ids)
        };
        PLANS.iter().chain(&ODD).map(case).collect()
    }

    /// Whether `last` waits for `first`, through others too.
    fn waits(after: &[(StepId, Vec<After>)], first: StepId, last: StepId) -> bool {
        let mut met = vec![last];
        let mut next = 0;
        while let Some(&step) = met.get(next) {
            let own = after.iter().find(|(id, _)| *id == step).map_or(&[][..], |(_, own)| own);
            for one in own {
                if !met.contains(&one.step) {
                    met.push(one.step);
                }
            }
            next += 1;
        }
        met[1..].contains(&first)
    }

    #[test]
    fn every_rule_is_needed_somewhere() {
        let cases = cases();
        for (index, rule) in rules::RULES.iter().enumerate() {
            let others = rules::RULES.iter().enumerate().filter(|(k, _)| *k != index).map(|(_, rule)| rule);
            let needed = cases.iter().any(|(plan, ids)| {
                let without: Vec<_> =
                    ids.iter().map(|&id| (id, rules::waits_for(plan, others.clone(), ids, id))).collect();
                let alone = |id| rules::waits_for(plan, [rule], ids, id);
                ids.iter().any(|&id| alone(id).iter().any(|after| !waits(&without, after.step, id)))
            });
            assert!(needed, "`{}` follows from the other rules in every plan", rule.why);
        }
    }

    #[test]
    fn the_order_keeps_every_rule_whatever_order_the_steps_are_listed_in() {
        for (plan, mut ids) in cases() {
            for _ in 0..2 {
                ids.reverse();
                let waits: Vec<_> =
                    ids.iter().map(|&id| (id, rules::waits_for(&plan, rules::RULES, &ids, id))).collect();
                let sorted = rules::sorted(&waits);
                assert_eq!(sorted.len(), ids.len());
                let place = |id| sorted.iter().position(|one| *one == id);
                for (id, after) in &waits {
                    assert!(after.iter().all(|after| place(after.step) < place(*id)), "{} {id}", plan.name);
                }
            }
        }
    }

    #[test]
    fn names_of_steps_are_all_different() {
        for (plan, ids) in cases() {
            let mut names: Vec<_> = ids.iter().map(ToString::to_string).collect();
            names.sort_unstable();
            names.dedup();
            assert_eq!(names.len(), ids.len(), "{}", plan.name);
        }
    }
}
