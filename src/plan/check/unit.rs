//! The rules of runs and units: what stands in a run must fit it, what is in a unit must fit the unit.

use super::{Faults, exceeds, inside, join};
use crate::length::Length;
use crate::plan::defaults::Usual;
use crate::plan::read::MOST_UNITS;
use crate::plan::{CabinetUnit, Door, Drawer, FarEnd, FrontFace, FrontZone, PullPlace, Side, UnitKind};

/// Fronts may miss their zone by this much, which their reveals take up.
const FILL_SLACK_MM: f64 = 1.0;

/// A drawer box holds nothing unless it is this much wider inside.
pub(super) const LEAST_BOX_WIDTH: Usual = Usual::new(30.0, 1.25);

/// A drawer box holds nothing unless its sides stand this much above its bottom.
pub(super) const LEAST_BOX_HEIGHT: Usual = Usual::new(15.0, 0.625);

/// Between two shelves there is at least this much.
const LEAST_SHELF_SPACE: Usual = Usual::new(50.0, 2.0);

/// A door opens by more than nothing and at most flat.
const FLAT_DEG: f64 = 180.0;

pub(super) fn runs(faults: &mut Faults<'_>) {
    let plan = faults.plan;
    for side in Side::BOTH {
        let run = plan.run(side);
        let at = format!("{}.units", side.word());
        if run.units.is_empty() {
            let message = format!("the {} run has no units", side.word());
            faults.add("plan::count", at.clone(), &[], message, "a corner needs at least one unit on each side");
        }
        for (n, unit) in run.units.iter().enumerate() {
            one_unit(faults, &format!("{at}[{n}]"), unit, side);
            height(faults, &format!("{at}[{n}]"), &run.units, n);
        }
        let (width, wall) = (run.width(), plan.room.wall(side));
        if exceeds(width, wall) && wall > Length::ZERO {
            let (width, wall) = (faults.show(width), faults.show(wall));
            let message =
                format!("the {} run's units are {width} wide together, more than their wall, {wall}", side.word());
            let rests_on = format!("room.{}_wall", side.word());
            let help = "take units out or make them narrower; the corner needs space as well";
            faults.add("plan::fit", at, &[&rests_on, "construction.panel"], message, help);
        }
        if let FarEnd::Casing { width, thickness } = run.ends_at {
            let at = format!("{}.ends_at", side.word());
            faults.above_zero(&at, "width", "the casing's width", width, "measure it along the wall");
            let stands_off = "measure how far it stands off the wall";
            faults.above_zero(&at, "thickness", "the casing's thickness", thickness, stands_off);
        }
    }
    let count = plan.left.units.len() + plan.right.units.len();
    if count > MOST_UNITS {
        let message = format!("`{count}` units are more than {MOST_UNITS}");
        faults.add("plan::count", "right.units".to_owned(), &["left.units"], message, "plan one corner at a time");
    }
}

/// The `n`th unit from the corner is as high as the run, or a tall one: not at the corner, and below the ceiling.
fn height(faults: &mut Faults<'_>, at: &str, units: &[CabinetUnit], n: usize) {
    let Some(unit) = units.get(n) else { return };
    let plan = faults.plan;
    let (run, ceiling, path) = (plan.construction.height, plan.room.ceiling, join(at, "height"));
    if matches!(unit.kind, UnitKind::ApplianceSpace(_)) || unit.height == run {
        return;
    }
    let [shown, high, under] = [unit.height, run, ceiling].map(|length| faults.show(length));
    if exceeds(run, unit.height) {
        let message = format!("the unit's height {shown} must not be less than the run's, {high}");
        let help = "a countertop lies level on all units; leave `height` out, or make the unit higher than the run";
        faults.add("plan::fit", path, &["construction.height"], message, help);
    } else if n == 0 && unit.kind.has_carcass() {
        let message = format!("the unit's height {shown} is more than the run's, {high}, and it stands at the corner");
        let help = "the corner filler is as high as the run, and the countertop goes round there: set a tall unit farther \
                    out";
        faults.add("plan::fit", path, &["construction.height"], message, help);
    } else if unit.height >= ceiling && ceiling > run {
        let message = format!("the unit's height {shown} must be less than the ceiling's, {under}");
        faults.add("plan::fit", path, &["room.ceiling"], message, "measure the ceiling where the unit will stand");
    } else if unit.kind == UnitKind::EndPanel {
        // Above the run a panel is held by what stands as high beside it.
        let beside = [n.checked_sub(1), n.checked_add(1)].into_iter().flatten().filter_map(|k| units.get(k));
        let tallest = beside.filter(|unit| unit.kind != UnitKind::EndPanel).map(CabinetUnit::stands).max();
        let tallest = tallest.unwrap_or(run).max(run);
        if exceeds(unit.height, tallest) {
            let beside = faults.show(tallest);
            let message = format!("the panel's height {shown} is more than that of what stands beside it, {beside}");
            let help = "give it the height of the unit or appliance that it closes";
            faults.add("plan::fit", path, &["construction.height"], message, help);
        }
    }
}

fn one_unit(faults: &mut Faults<'_>, at: &str, unit: &CabinetUnit, side: Side) {
    faults.above_zero(at, "width", "the unit's width", unit.width, "give its width along the run");
    if let UnitKind::Door(door) | UnitKind::DrawerOverDoor(_, door) = &unit.kind {
        opens(faults, at, door.opens_to_deg);
        if door.hinges != faults.plan.construction.hinges {
            super::build::hinges(faults, &join(at, "hinges"), door.hinges);
        }
    }
    if unit.width <= Length::ZERO {
        return;
    }
    match &unit.kind {
        UnitKind::EndPanel => {}
        UnitKind::ApplianceSpace(appliance) => inside::appliance_space(faults, at, unit, appliance),
        UnitKind::Drawers(drawers) => {
            if let Some(zone) = carcass(faults, at, unit) {
                bank(faults, at, unit, side, zone, drawers);
            }
        }
        UnitKind::Door(door) => {
            if let Some(zone) = carcass(faults, at, unit) {
                hinged(faults, at, "pull", zone.front_width(unit.width), door);
                if let Some(pull_outs) = door.pull_outs {
                    inside::pull_outs_fit(faults, at, unit, side, pull_outs);
                }
                if door.shelves > 0 {
                    shelves_behind(faults, at, unit, door);
                }
            }
        }
        UnitKind::DrawerOverDoor(drawer, door) => {
            if let Some(zone) = carcass(faults, at, unit) {
                drawer_over_door(faults, at, unit, side, zone, drawer, door);
            }
        }
        UnitKind::OpenShelves { shelves } => {
            if carcass(faults, at, unit).is_some() {
                shelves_fit(faults, at, unit, *shelves);
            }
        }
    }
}

/// The front zone of a unit with sides; `None`, where it is too narrow or the construction leaves none.
fn carcass(faults: &mut Faults<'_>, at: &str, unit: &CabinetUnit) -> Option<FrontZone> {
    let c = faults.plan.construction_of(unit);
    let zone = c.front_zone();
    let sides = c.opening_side().max(zone.side) * 2.0;
    if unit.width <= sides {
        let (width, sides) = (faults.show(unit.width), faults.show(sides));
        let message = format!("the unit's width {width} must be more than its two sides take, {sides}");
        faults.add("plan::fit", join(at, "width"), &["construction"], message, "make the unit wider");
        return None;
    }
    let (bottom, top) = c.opening_height();
    // Where the construction leaves no opening, that is the fault, and not every unit again.
    if zone.height() > Length::ZERO && top > bottom { Some(zone) } else { None }
}

/// Shelves behind a door stay in, so none draws out through them.
fn shelves_behind(faults: &mut Faults<'_>, at: &str, unit: &CabinetUnit, door: &Door) {
    if door.pull_outs.is_some() {
        let message = format!("`{}` shelves stand where pull-out shelves draw out", door.shelves);
        let help = "give either `shelves` or `pull_outs`";
        faults.add("plan::fit", join(at, "shelves"), &[&join(at, "pull_outs")], message, help);
        return;
    }
    shelves_fit(faults, at, unit, door.shelves);
}

fn shelves_fit(faults: &mut Faults<'_>, at: &str, unit: &CabinetUnit, shelves: usize) {
    let c = faults.plan.construction_of(unit);
    let (bottom, top) = c.opening_height();
    let space = LEAST_SHELF_SPACE.of(faults.plan.unit);
    let (clear, least) = ((top - bottom).to_mm(), space.to_mm());
    // n shelves make n + 1 spaces.
    let most = ((clear - least) / (least + c.panel.to_mm().max(0.0))).floor().max(0.0);
    if shelves as f64 > most {
        let message = format!("`{shelves}` shelves are more than fit, which is {most}");
        let help = format!("leave at least {} between two shelves", faults.show(space));
        faults.add("plan::fit", join(at, "shelves"), &["construction", &join(at, "height")], message, help);
    }
}

fn bank(faults: &mut Faults<'_>, at: &str, unit: &CabinetUnit, side: Side, zone: FrontZone, drawers: &[Drawer]) {
    let path = join(at, "fronts");
    let heights: Vec<Length> = drawers.iter().map(|drawer| drawer.front_height).collect();
    for (n, &height) in heights.iter().enumerate() {
        if height <= Length::ZERO {
            let message = format!("a drawer front's height {} must be more than 0", faults.show(height));
            let help = format!(
                "{} of height are there for all fronts of the unit",
                faults.show(zone.height_for(heights.len()))
            );
            faults.add("plan::fit", format!("{path}[{n}]"), &["construction"], message, help);
        }
    }
    if heights.is_empty() || heights.iter().any(|&height| height <= Length::ZERO) {
        return;
    }
    let (taken, room) = (heights.iter().copied().sum::<Length>(), zone.height_for(heights.len()));
    if (taken - room).abs() > Length::mm(FILL_SLACK_MM) {
        let (message, help) = if taken > room {
            let message =
                format!("the drawer fronts are {} high together, taller than the opening", faults.show(taken));
            (message, format!("{} of height are there for them; write `Rest` for one of them", faults.show(room)))
        } else {
            let message = format!("the drawer fronts leave {} of the opening bare", faults.show(room - taken));
            (message, "write `Rest` for the front that takes what is left".to_owned())
        };
        faults.add("plan::fit", path.clone(), &["construction"], message, help);
        return;
    }
    for (n, (drawer, row)) in drawers.iter().zip(zone.rows(heights)).enumerate() {
        drawer_box(faults, at, unit, side, drawer, row, &format!("box_heights[{n}]"));
        let front = FrontFace { width: zone.front_width(unit.width), height: drawer.front_height, hinge: None };
        pull_fits(faults, at, "pull", drawer.pull, front);
    }
}

fn drawer_over_door(
    faults: &mut Faults<'_>,
    at: &str,
    unit: &CabinetUnit,
    side: Side,
    zone: FrontZone,
    drawer: &Drawer,
    door: &Door,
) {
    let room = zone.height_for(2);
    faults.above_zero(at, "drawer", "the drawer front's height", drawer.front_height, "give its height");
    if drawer.front_height <= Length::ZERO {
        return;
    }
    if door.front_height <= Length::ZERO {
        let (height, room) = (faults.show(drawer.front_height), faults.show(room));
        let message = format!("the drawer front's height {height} must be less than the opening's, {room}");
        faults.add("plan::fit", join(at, "drawer"), &["construction"], message, "leave something for the door");
        return;
    }
    let row = (zone.top - drawer.front_height, zone.top);
    drawer_box(faults, at, unit, side, drawer, row, "box_height");
    let width = zone.front_width(unit.width);
    pull_fits(faults, at, "pull", drawer.pull, FrontFace { width, height: drawer.front_height, hinge: None });
    hinged(faults, at, "door_pull", width, door);
}

pub(super) fn opens(faults: &mut Faults<'_>, at: &str, degrees: f64) {
    if !(degrees > 0.0 && degrees <= FLAT_DEG) {
        let message =
            format!("the door opens to `{degrees}` degrees, which must be more than 0 and at most {FLAT_DEG}");
        faults.add("plan::angle", join(at, "opens_to"), &[], message, "common hinges open to 95 or 110 degrees");
    }
}

fn hinged(faults: &mut Faults<'_>, at: &str, pull: &str, width: Length, door: &Door) {
    let front = FrontFace { width, height: door.front_height, hinge: Some(door.hinge) };
    pull_fits(faults, at, pull, door.pull, front);
}

/// A drawer box must go in, hold something and draw out.
fn drawer_box(
    faults: &mut Faults<'_>,
    at: &str,
    unit: &CabinetUnit,
    side: Side,
    drawer: &Drawer,
    front: (Length, Length),
    field: &str,
) {
    let plan = faults.plan;
    let c = plan.construction_of(unit);
    let Some(slide) = plan.slides.get(drawer.slide) else { return };
    let (needed, depth) = (slide.length + slide.behind, c.inside_depth(plan.depth(side)));
    let inside = unit.width - c.opening_side() * 2.0 - slide.side * 2.0 - c.box_stock * 2.0;
    let narrowest = LEAST_BOX_WIDTH.of(plan.unit);
    let (bottom, top) = c.drawer_opening(front.0, front.1);
    let most = top - bottom - slide.under - slide.lift_out;
    let least = c.box_bottom + LEAST_BOX_HEIGHT.of(plan.unit);
    let height = drawer.box_height;
    if !exceeds(needed, depth) && !exceeds(narrowest, inside) && !exceeds(height, most) && !exceeds(least, height) {
        return;
    }
    let slide_at = format!("slides[{:?}]", slide.name);
    let run_depth = format!("{}.depth", side.word());
    let (slide_path, fronts, width) = (join(at, "slide"), join(at, "fronts"), join(at, "width"));
    let rests_on = ["construction", &slide_at, &slide_path, &run_depth, &fronts, &width];
    if exceeds(needed, depth) {
        let message = format!(
            "slide `{}` needs {} of depth with the space behind it, and the unit has {}",
            slide.name,
            faults.show(needed),
            faults.show(depth)
        );
        faults.add("plan::fit", slide_path.clone(), &rests_on, message, "take a shorter slide or deeper units");
    }
    if exceeds(narrowest, inside) {
        let (inside, least) = (faults.show(inside), faults.show(narrowest));
        let message = format!("the drawer box would be {inside} wide inside, less than {least}");
        faults.add("plan::fit", width.clone(), &rests_on, message, "make the unit wider");
    }
    if exceeds(height, most) {
        let (height, most) = (faults.show(height), faults.show(most));
        let message = format!("the drawer box's height {height} must not be more than its opening takes, {most}");
        let help = format!("slide `{}` needs space under the box and above it; make the box lower", slide.name);
        faults.add("plan::fit", join(at, field), &rests_on, message, help);
    } else if exceeds(least, height) {
        let (height, least) = (faults.show(height), faults.show(least));
        let message = format!("the drawer box's height {height} must be at least {least} to hold anything");
        faults.add("plan::fit", join(at, field), &rests_on, message, "make the drawer's front higher");
    }
}

/// A pull must lie on its front.
fn pull_fits(faults: &mut Faults<'_>, at: &str, field: &str, pull: usize, front: FrontFace) {
    let plan = faults.plan;
    let Some(pull) = plan.pulls.get(pull) else { return };
    let Some(PullPlace { across, upward, height, sideways }) = pull.place_on(front, plan.unit) else { return };
    let (most_sideways, lowest) = ((front.width - across) / 2.0, upward / 2.0);
    let highest = front.height - lowest;
    let too_large = exceeds(across, front.width) || exceeds(upward, front.height);
    if !too_large && !exceeds(height, highest) && !exceeds(lowest, height) && !exceeds(sideways.abs(), most_sideways) {
        return;
    }
    let path = join(at, field);
    let pull_at = format!("pulls[{:?}]", pull.name);
    let rests_on = ["construction", &pull_at, &join(at, "width"), &join(at, "fronts"), &join(at, "drawer")];
    let size = format!("`{}` by {}", front.width.show_bare(plan.unit), faults.show(front.height));
    if too_large {
        let own = format!("`{}` by {}", across.show_bare(plan.unit), faults.show(upward));
        let message = format!("pull `{}`, {own}, is larger than its front, {size}", pull.name);
        faults.add("plan::fit", path, &rests_on, message, "take a smaller pull or a larger front");
    } else {
        let message = format!("pull `{}` reaches beyond its front, {size}", pull.name);
        let help = format!(
            "set its height between {} and {}, and sideways within {} of the middle",
            faults.show(lowest),
            faults.show(highest),
            faults.show(most_sideways)
        );
        faults.add("plan::fit", path, &rests_on, message, help);
    }
}
