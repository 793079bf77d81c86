//! The rules of what stands in a unit apart from drawers: an appliance with its door, pull-out shelves behind a door.

use super::unit::{LEAST_BOX_HEIGHT, LEAST_BOX_WIDTH, opens};
use super::{Faults, exceeds, join};
use crate::length::Length;
use crate::plan::{Appliance, ApplianceDoor, CabinetUnit, PullOuts, Side, defaults};

/// Most pull-out shelves in one unit: lower ones hold nothing.
const MOST_PULL_OUTS: usize = 20;

pub(super) fn appliance_space(faults: &mut Faults<'_>, at: &str, unit: &CabinetUnit, appliance: &Appliance) {
    let measure = "measure the appliance itself";
    faults.above_zero(at, "body_width", "the appliance's width", appliance.width, measure);
    faults.above_zero(at, "depth", "the appliance's depth", appliance.depth, measure);
    faults.above_zero(at, "height", "the appliance's height", appliance.height, measure);
    faults.not_below_zero(at, "handle", "the appliance's handle", appliance.handle, "write 0 for none");
    if exceeds(appliance.width, unit.width) {
        let (width, space) = (faults.show(appliance.width), faults.show(unit.width));
        let message = format!("the appliance's width {width} must not be more than its space, {space}");
        faults.add("plan::fit", join(at, "body_width"), &[&join(at, "width")], message, "make the space wider");
    }
    faults.not_below_zero(at, "above", "the height of its underside", appliance.above, "measure it from the floor");
    if appliance.above >= appliance.height && appliance.height > Length::ZERO {
        let (above, height) = (faults.show(appliance.above), faults.show(appliance.height));
        let message = format!("the appliance's underside {above} must lie below its top, {height}");
        faults.add("plan::fit", join(at, "above"), &[&join(at, "height")], message, "measure both from the floor");
    }
    if let Some(door) = appliance.door {
        appliance_door(faults, at, appliance, door);
    }
}

fn appliance_door(faults: &mut Faults<'_>, at: &str, appliance: &Appliance, door: ApplianceDoor) {
    let door_at = join(at, "door");
    opens(faults, &door_at, door.opens_to_deg);
    let rests_on = [join(at, "height"), join(at, "above"), join(at, "depth")];
    let rests_on = rests_on.each_ref().map(String::as_str);
    if door.bottom < appliance.above || door.bottom >= appliance.height {
        let message = format!(
            "the door's lower edge {} must lie between the appliance's underside, {}, and its top, {}",
            faults.show(door.bottom),
            faults.show(appliance.above),
            faults.show(appliance.height)
        );
        faults.add("plan::fit", join(&door_at, "bottom"), &rests_on, message, "measure it from the floor");
    }
    faults.above_zero(&door_at, "thickness", "the door's thickness", door.thickness, "measure it");
    if door.thickness >= appliance.depth && appliance.depth > Length::ZERO {
        let (thickness, depth) = (faults.show(door.thickness), faults.show(appliance.depth));
        let message = format!("the door's thickness {thickness} must be less than the appliance's depth, {depth}");
        faults.add("plan::fit", join(&door_at, "thickness"), &rests_on, message, "the depth counts the door as well");
    }
}

/// Pull-out shelves must go in, hold something and draw out.
pub(super) fn pull_outs_fit(faults: &mut Faults<'_>, at: &str, unit: &CabinetUnit, side: Side, pull_outs: PullOuts) {
    let plan = faults.plan;
    let c = plan.construction_of(unit);
    let at = join(at, "pull_outs");
    if !(1..=MOST_PULL_OUTS).contains(&pull_outs.count) {
        let message = format!("`{}` pull-out shelves are not between 1 and {MOST_PULL_OUTS}", pull_outs.count);
        faults.add("plan::count", join(&at, "count"), &[], message, "write `Absent` for none");
        return;
    }
    faults.not_below_zero(&at, "spacer", "the packing", pull_outs.spacer, "write 0 for none");
    let Some(slide) = plan.slides.get(pull_outs.slide) else { return };
    let slide_at = format!("slides[{:?}]", slide.name);
    let rests_on = ["construction", &slide_at, &join(&at, "slide"), &join(&at, "count")];
    let needed = slide.length + slide.behind + Length::mm(defaults::PULL_OUT_BEHIND_DOOR);
    let depth = c.inside_depth(plan.depth(side));
    if exceeds(needed, depth) {
        let (needed, depth) = (faults.show(needed), faults.show(depth));
        let message = format!("a pull-out shelf on slide `{}` needs {needed} of depth, and has {depth}", slide.name);
        faults.add("plan::fit", join(&at, "slide"), &rests_on, message, "take a shorter slide or deeper units");
    }
    let inside = unit.width - (c.opening_side() + pull_outs.spacer + slide.side + c.box_stock) * 2.0;
    let narrowest = LEAST_BOX_WIDTH.of(plan.unit);
    if exceeds(narrowest, inside) {
        let (inside, least) = (faults.show(inside), faults.show(narrowest));
        let message = format!("a pull-out shelf would be {inside} wide inside, less than {least}");
        faults.add("plan::fit", join(&at, "spacer"), &rests_on, message, "pack it out less, or make the unit wider");
    }
    let spaces = c.pull_out_spaces(pull_outs.count);
    let (low, high) = spaces.first().copied().unwrap_or_default();
    let most = high - low - slide.under - slide.lift_out;
    let least = c.box_bottom + LEAST_BOX_HEIGHT.of(plan.unit);
    if exceeds(pull_outs.box_height, most) {
        let (height, most) = (faults.show(pull_outs.box_height), faults.show(most));
        let message = format!("a pull-out shelf's height {height} must not be more than its space takes, {most}");
        faults.add("plan::fit", join(&at, "box_height"), &rests_on, message, "make it lower, or have fewer of them");
    } else if exceeds(least, pull_outs.box_height) {
        let (height, least) = (faults.show(pull_outs.box_height), faults.show(least));
        let message = format!("a pull-out shelf's height {height} must be at least {least} to hold anything");
        faults.add("plan::fit", join(&at, "box_height"), &rests_on, message, "make it higher");
    }
}
