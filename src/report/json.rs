//! The clearance report as JSON: lengths in mm, unrounded; angles in degrees.

use serde_json::{Value, json};

use super::owner::showing_json;
use super::text::{advice_line, finding_line, verdict};
use crate::clearance::{Advice, Answer, Contact, Finding, FindingKind, Need, Opening, SideAnswer};
use crate::length::Length;
use crate::model::{Model, Motion, MoverId, PartId};
use crate::plan::Filler;
use crate::showing::showing;

/// The report that `check --json` prints. Every key is always there; what there is not is `null`.
#[must_use]
pub fn check_json(answer: &Answer) -> Value {
    json!({
        "schema": "elbowroom-check-1",
        "plan": answer.model.name,
        "clear": answer.is_clear(),
        "verdict": verdict(answer),
        "run_angle_deg": answer.model.run_angle_deg,
        "clearance_wanted_mm": answer.model.wanted,
        "fillers": answer.sides.iter().map(|side| side_json(answer, side)).collect::<Vec<_>>(),
        "openings": answer.openings.iter().map(|opening| opening_json(answer, opening)).collect::<Vec<_>>(),
        "findings": answer.findings.iter().map(|finding| finding_json(answer, finding)).collect::<Vec<_>>(),
        "together": null,
        "filler_pairs": null,
        "wood": null,
        "wood_worries": null,
        "advice": answer.advice.iter().map(|advice| advice_json(answer, advice)).collect::<Vec<_>>(),
        "showing": showing_json(&showing(&answer.model)),
        "assumes": answer.assumes,
    })
}

fn side_json(answer: &Answer, side: &SideAnswer) -> Value {
    let good: Vec<Value> = side.good.iter().map(|range| json!({ "from_mm": range.from, "to_mm": range.to })).collect();
    json!({
        "side": side.side.word(),
        "asked": match side.asked { Filler::Fixed(_) => "fixed", Filler::Least => "least" },
        "present_mm": side.present,
        "least_mm": side.least,
        "least_on_step_mm": side.least_on_step,
        "spare_mm": side.spare(),
        "good": good,
        "decided_by": side.decided_by.as_ref().map(|contact| contact_json(&answer.model, contact)),
        "largest_projection_mm": side.largest_projection,
        "left_over_mm": side.left_over,
        "far_end": side.far_end.map(|need| json!({
            "least_mm": need.least,
            "mover": answer.model.mover(need.mover).name,
            "part": answer.model.part(need.part).name,
            "other": answer.model.part(need.other).name,
        })),
    })
}

/// Millimetres for a slide, degrees for a swing: a value and its key's ending.
pub(super) fn out(model: &Model, mover: MoverId, out: f64) -> Value {
    match model.mover(mover).motion {
        Motion::Slide { .. } => json!({ "mm": out }),
        Motion::Swing { .. } => json!({ "deg": out.to_degrees() }),
    }
}

fn contact_json(model: &Model, contact: &Contact) -> Value {
    json!({
        "mover": model.mover(contact.mover).name,
        "part": model.part(contact.part).name,
        "other": model.part(contact.other).name,
        "out": out(model, contact.mover, contact.out),
        "other_ajar_mm": contact.other_out,
        "gap_mm": contact.gap,
        "points_mm": contact.points.map(|p| [p.x, p.y, p.z]),
    })
}

fn opening_json(answer: &Answer, opening: &Opening) -> Value {
    let model = &answer.model;
    json!({
        "mover": model.mover(opening.mover).name,
        "full": out(model, opening.mover, opening.full),
        "to_touch": out(model, opening.mover, opening.to_touch),
        "to_clearance_wanted": out(model, opening.mover, opening.to_wanted),
        "clear": opening.is_clear(),
        "touches_first": opening.touches_first.as_ref().map(|contact| contact_json(model, contact)),
        "least_gap": opening.least_gap.as_ref().map(|contact| contact_json(model, contact)),
        "stop": opening.stop.map(|stop| out(model, opening.mover, stop)),
        "needs": opening.needs.iter().map(|need| need_json(model, need)).collect::<Vec<_>>(),
    })
}

fn need_json(model: &Model, need: &Need) -> Value {
    let at_least = need.at_least.is_finite().then(|| out(model, need.mover, need.at_least));
    json!({
        "mover": model.mover(need.mover).name,
        "at_least": at_least,
        "reaches": out(model, need.mover, need.reaches),
        "met": need.is_met(),
        "part": model.part(need.parts[0]).name,
        "other": model.part(need.parts[1]).name,
    })
}

fn advice_json(answer: &Answer, advice: &Advice) -> Value {
    let name = |id: PartId| answer.model.part(id).name.as_str();
    let (kind, part, other, has, usual) = match *advice {
        Advice::SupportPanel { appliance, .. } => ("support_panel", name(appliance), None, None, None),
        Advice::StandingRoom { door, other, room, wanted } => {
            ("standing_room", name(door), Some(name(other)), Some(room), Some(wanted))
        }
        Advice::Raising { side, room, wanted } => ("raising", name(side), None, Some(room), Some(wanted)),
        Advice::Passage { part, other, room, wanted, .. } => {
            ("passage", name(part), Some(name(other)), Some(room), Some(wanted))
        }
    };
    let mover = |id: MoverId| answer.model.mover(id).name.as_str();
    let open = match *advice {
        Advice::Passage { open, .. } => open.map(|open| {
            let side = |(id, room): (MoverId, Length)| json!({ "mover": mover(id), "has_mm": room });
            json!({ "run": open.run.map(side), "opposite": side(open.opposite), "both_mm": open.both })
        }),
        Advice::SupportPanel { .. } | Advice::StandingRoom { .. } | Advice::Raising { .. } => None,
    };
    json!({
        "kind": kind,
        "text": advice_line(answer, advice),
        "short": advice.is_short(),
        "part": part,
        "other": other,
        "has_mm": has,
        "usual_mm": usual,
        "open": open,
    })
}

fn finding_json(answer: &Answer, finding: &Finding) -> Value {
    let model = &answer.model;
    let kind = match finding.kind {
        FindingKind::Hits => "hits",
        FindingKind::TooNear => "too_near",
        FindingKind::Overlaps => "overlaps",
        FindingKind::RunTooLong => "run_too_long",
    };
    json!({
        "kind": kind,
        "text": finding_line(answer, finding),
        "mover": finding.mover.map(|mover| model.mover(mover).name.clone()),
        "part": model.part(finding.part).name,
        "other": model.part(finding.other).name,
        "out": finding.mover.map(|mover| out(model, mover, finding.out)),
        "gap_mm": finding.gap,
        "wanted_mm": finding.wanted,
        "points_mm": finding.points.map(|p| [p.x, p.y, p.z]),
    })
}
