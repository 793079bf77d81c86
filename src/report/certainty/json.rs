//! How sure is it, and what would make it narrower? As JSON: lengths in mm, volumes in litres, shares from 0 to 1.

use serde_json::{Value, json};

use super::super::text::cautions;
use super::text::{change_words, holds, rests_on};
use crate::certainty::alternatives::{Alternative, Alternatives};
use crate::certainty::{Chance, Enough, Sure, Worst, WorstSide};
use crate::clearance::Answer;
use crate::length::Length;
use crate::model::Model;
use crate::plan::{Plan, SpreadLaw};
use crate::showing::space::MM3_PER_LITRE;

fn worst_side_json(model: &Model, side: &WorstSide) -> Value {
    json!({
        "side": side.side.word(),
        "present_mm": side.present,
        "planned_mm": side.planned,
        "at_least_mm": side.at_least,
        "enough_mm": side.enough,
        "decided_by": side.decided_by.map(|(mover, [part, other])| json!({
            "mover": model.mover(mover).name,
            "part": model.part(part).name,
            "other": model.part(other).name,
        })),
        "looked_at": side.looked_at,
        "can_decide": side.can_decide,
        "turns_within_mm": side.exactness.turns,
        "swings_within_mm": side.exactness.swings,
    })
}

/// The worst case as JSON.
#[must_use]
pub fn worst_json(answer: &Answer, worst: &Worst) -> Value {
    let of = |sides: &[WorstSide; 2]| sides.iter().map(|side| worst_side_json(&answer.model, side)).collect::<Vec<_>>();
    json!({ "wanted": of(&worst.wanted), "apart": of(&worst.apart) })
}

/// What `sure --json` prints.
#[must_use]
pub fn sure_json(answer: &Answer, plan: &Plan, worst: &Worst, sure: &Sure) -> Value {
    let model = &answer.model;
    let enough = |list: &[Enough]| -> Vec<Value> {
        list.iter().map(|e| json!({ "share": e.share, "width_mm": e.width, "band_mm": e.band })).collect()
    };
    let sides: Vec<Value> = sure
        .sides
        .iter()
        .map(|side| {
            let shares = side.shares.iter();
            let shares = shares
                .map(|s| json!({ "cause": s.cause.words(model), "tolerance": s.cause.field(), "share": s.share }));
            json!({
                "side": side.side.word(),
                "mean_mm": side.mean,
                "sigma_mm": side.sigma,
                "wanted": enough(&side.wanted),
                "apart": enough(&side.apart),
                "shares": shares.collect::<Vec<_>>(),
            })
        })
        .collect();
    let chance = |chance: &Chance| json!({ "share": chance.share, "band": chance.band });
    json!({
        "schema": "elbowroom-sure-1",
        "plan": model.name,
        "samples": sure.samples,
        "seed": sure.seed,
        "spread": match sure.law { SpreadLaw::Normal => "normal", SpreadLaw::Uniform => "uniform" },
        "worst": worst_json(answer, worst),
        "touches": chance(&sure.touches),
        "too_near": chance(&sure.too_near),
        "sides": sides,
        "rests_on": rests_on(plan, worst),
        "cautions": cautions(),
    })
}

fn alternative_json(plan: &Plan, alternative: &Alternative) -> Value {
    json!({
        "change": change_words(plan, &alternative.change),
        "left_mm": alternative.fillers.left,
        "right_mm": alternative.fillers.right,
        "saved_mm": alternative.saved,
        "storage_litres": alternative.storage_mm3 / MM3_PER_LITRE,
        "shut_off_litres": alternative.shut_off_mm3 / MM3_PER_LITRE,
    })
}

/// What saves most, as JSON; null where nothing saves anything.
#[must_use]
pub fn best_json(plan: &Plan, alternatives: &Alternatives) -> Value {
    let best = alternatives.list.first().filter(|best| best.saved > Length::ZERO);
    best.map_or(Value::Null, |best| alternative_json(plan, best))
}

/// What `narrower --json` prints.
#[must_use]
pub fn narrower_json(plan: &Plan, alternatives: &Alternatives) -> Value {
    let model = Model::build(plan, alternatives.before);
    let refused = alternatives.refused.iter();
    let refused = refused.map(|one| json!({ "change": change_words(plan, &one.change), "why": one.why }));
    let holds = holds(plan, &model).into_iter().map(|(what, holds, takes)| {
        json!({ "what": what, "holds_litres": holds / MM3_PER_LITRE, "takes_litres": takes / MM3_PER_LITRE })
    });
    json!({
        "schema": "elbowroom-narrower-1",
        "plan": plan.name,
        "left_mm": alternatives.before.left,
        "right_mm": alternatives.before.right,
        "storage_litres": alternatives.storage_mm3 / MM3_PER_LITRE,
        "shut_off_litres": alternatives.shut_off_mm3 / MM3_PER_LITRE,
        "alternatives": alternatives.list.iter().map(|one| alternative_json(plan, one)).collect::<Vec<_>>(),
        "refused": refused.collect::<Vec<_>>(),
        "corner": holds.collect::<Vec<_>>(),
    })
}
