//! What the file says of tolerances.

use super::reader::{Fields, Reader};
use crate::plan::{SpreadLaw, Tolerances, defaults};

pub(super) fn tolerances<'a>(reader: &mut Reader<'a>, plan: &mut Fields<'a>) -> Tolerances {
    let mut tolerances = Tolerances::usual(reader.unit);
    let Some(node) = plan.take("tolerances") else { return tolerances };
    let mut fields = reader.fields("the tolerances", &node);
    let angle = |reader: &mut Reader<'a>, fields: &mut Fields<'a>, name: &'static str, usual: f64| {
        fields.take(name).and_then(|node| reader.degrees(&node)).unwrap_or(usual)
    };
    tolerances.run_angle_deg = angle(reader, &mut fields, "run_angle", defaults::RUN_ANGLE_OFF_DEG);
    tolerances.unit_width = reader.length_or(&mut fields, "unit_width", tolerances.unit_width);
    tolerances.squareness = reader.length_or(&mut fields, "squareness", tolerances.squareness);
    tolerances.slide_play = reader.length_or(&mut fields, "slide_play", tolerances.slide_play);
    tolerances.slide_yaw_deg = angle(reader, &mut fields, "slide_yaw", defaults::SLIDE_YAW_OFF_DEG);
    tolerances.pull_projection = reader.length_or(&mut fields, "pull_projection", tolerances.pull_projection);
    tolerances.pull_place = reader.length_or(&mut fields, "pull_place", tolerances.pull_place);
    tolerances.front_adjustment = reader.length_or(&mut fields, "front_adjustment", tolerances.front_adjustment);
    tolerances.filler_cut = reader.length_or(&mut fields, "filler_cut", tolerances.filler_cut);
    let laws = [("Normal", SpreadLaw::Normal), ("Uniform", SpreadLaw::Uniform)];
    tolerances.spread = reader.choice_or(&mut fields, "spread", defaults::SPREAD, &laws);
    reader.finish(fields);
    tolerances
}
