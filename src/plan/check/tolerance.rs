//! The rules of tolerances: never less than nothing, and small enough that what is off stays a matter of millimetres.

use super::Faults;
use crate::plan::defaults::Usual;

/// More than this is no tolerance: the part is made anew. Our own choice.
const MOST: Usual = Usual::new(10.0, 0.375);
/// The same for angles, in degrees: up to here what is off grows straight with the angle. Our own choice.
const MOST_DEG: f64 = 1.0;

pub(super) fn tolerances(faults: &mut Faults<'_>) {
    let tolerances = faults.plan.tolerances;
    let most = MOST.of(faults.plan.unit);
    let help = "give how far it may be off either way; 0 where it is exact";
    for (field, what, length) in [
        ("unit_width", "the tolerance of a unit's width", tolerances.unit_width),
        ("squareness", "the tolerance of squareness", tolerances.squareness),
        ("slide_play", "the slides' side play", tolerances.slide_play),
        ("pull_projection", "the tolerance of a pull's projection", tolerances.pull_projection),
        ("pull_place", "the tolerance of a pull's place", tolerances.pull_place),
        ("front_adjustment", "the tolerance of a front's place", tolerances.front_adjustment),
        ("filler_cut", "the tolerance of a filler", tolerances.filler_cut),
    ] {
        faults.not_below_zero("tolerances", field, what, length, help);
        faults.at_most("tolerances", field, what, length, most, help);
    }
    for (field, what, degrees) in [
        ("run_angle", "the tolerance of the run angle", tolerances.run_angle_deg),
        ("slide_yaw", "what a drawer may be turned in its slides", tolerances.slide_yaw_deg),
    ] {
        if !(0.0..=MOST_DEG).contains(&degrees) {
            let message = format!("{what} `{degrees}` degrees must be between 0 and {MOST_DEG}");
            faults.add("plan::angle", format!("tolerances.{field}"), &[], message, help);
        }
    }
}
