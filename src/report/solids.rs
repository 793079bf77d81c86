//! Every solid of a model as JSON: all that an outside program needs to check the geometry alone.
//!
//! The schema, key by key, stands in `DEVELOPERS.md`. Points are in the room frame: mm, z up, floor at z = 0, origin
//! where the two runs' back planes meet, the left run along +x.

use serde_json::{Value, json};

use crate::model::{Follows, Model, Motion, Part, Vec3};
use crate::plan::{Clearance, Side};

/// What `solids --json` prints of `model`, built for a plan that wants `clearance`.
#[must_use]
pub fn solids_json(model: &Model, clearance: &Clearance) -> Value {
    let runs: Vec<Value> = model
        .runs
        .iter()
        .map(|run| {
            json!({
                "side": run.side.word(),
                "along": triple(run.along),
                "out": triple(run.out),
                "front_plane_mm": run.depth,
                "corner_at_mm": run.corner_at,
                "starts_at_mm": run.starts_at,
                "ends_at_mm": run.ends_at,
                "left_over_mm": run.left_over,
                "filler_mm": model.fillers.of(run.side),
            })
        })
        .collect();
    json!({
        "schema": "elbowroom-solids-1",
        "plan": model.name,
        "run_angle_deg": model.run_angle_deg,
        "clearance_wanted_mm": clearance.wanted,
        "shop_step_mm": clearance.shop_step,
        "ajar_mm": clearance.ajar,
        "runs": runs,
        "parts": model.parts.iter().map(|part| part_json(model, part)).collect::<Vec<_>>(),
    })
}

fn part_json(model: &Model, part: &Part) -> Value {
    let pieces: Vec<Vec<[f64; 3]>> = part.pieces.iter().map(|piece| piece.vertices().map(triple).collect()).collect();
    let faces: Vec<Vec<Vec<[f64; 3]>>> = part
        .pieces
        .iter()
        .map(|piece| piece.faces().into_iter().map(|face| face.into_iter().map(triple).collect()).collect())
        .collect();
    let mover = part.mover.map(|id| model.mover(id));
    json!({
        "name": part.name,
        "role": part.role,
        "material": part.material,
        // A door of the room, or of something opposite, is told with the wall that it is in or opens to.
        "run": part.run.or(mover.map(|mover| mover.side)).map(Side::word),
        "unit": part.unit.map(|unit| unit + 1),
        "class": part.class,
        "follows": follows(model, part),
        "mover": mover.map(|mover| mover.name.as_str()),
        "behind": mover.and_then(|mover| mover.behind).map(|door| model.mover(door).name.as_str()),
        "belongs_to": mover.and_then(|mover| mover.belongs_to).map(|thing| model.part(thing).name.as_str()),
        "motion": mover.map(|mover| motion(mover.motion)),
        "grain": part.grain.map(triple),
        "size_mm": part.size,
        "pieces_mm": pieces,
        "faces_mm": faces,
    })
}

/// In words, and as the whole part's shift for each millimetre that either filler grows.
fn follows(model: &Model, part: &Part) -> Value {
    let shift = |side| triple(model.shift(part, side));
    let word = match &part.follows {
        Follows::Room | Follows::Shifts { .. } => "room",
        Follows::Run(side) => side.word(),
        Follows::Stretch { .. } => "stretch",
        Follows::Rebuilt => "rebuilt",
    };
    let stretch = match &part.follows {
        Follows::Stretch { side, least, moves } => json!({ "side": side.word(), "least_mm": least, "moves": moves }),
        _ => Value::Null,
    };
    json!({
        "word": word,
        "for_left": shift(Side::Left),
        "for_right": shift(Side::Right),
        "stretch": stretch,
    })
}

fn motion(motion: Motion) -> Value {
    match motion {
        Motion::Slide { direction, travel } => {
            json!({ "kind": "slide", "direction": triple(direction), "travel_mm": travel })
        }
        Motion::Swing { hinge, axis, angle } => json!({
            "kind": "swing",
            "hinge_mm": triple(hinge),
            "axis": triple(axis),
            "from_deg": 0.0,
            "to_deg": angle.to_degrees(),
        }),
    }
}

fn triple(v: Vec3) -> [f64; 3] {
    [v.x, v.y, v.z]
}
