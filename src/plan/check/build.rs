//! The rules of the construction and the countertop.

use super::{Faults, exceeds, join};
use crate::length::Length;
use crate::plan::defaults::Usual;
use crate::plan::{Face, Hinges, Side};

/// Thicker panels, strips and fronts are a mistake of unit.
pub(super) const THICKEST: Usual = Usual::new(100.0, 4.0);

/// A countertop's edge, or what it is built up on, that is higher than this is a mistake of unit.
const MOST_DROP: Usual = Usual::new(200.0, 8.0);

const AT: &str = "construction";

pub(super) fn construction(faults: &mut Faults<'_>) {
    thicknesses(faults);
    let c = &faults.plan.construction;
    let measure = "give it as it will be cut";
    for (field, what, length) in [
        ("height", "the height", c.height),
        ("depth", "the depth", c.depth),
        ("nailer", "the nailer", c.nailer),
        ("stretcher", "the stretcher", c.stretcher),
    ] {
        faults.above_zero(AT, field, what, length, measure);
    }
    let none = "write 0 for none";
    for (field, what, length) in [
        ("kick_height", "the toe kick's height", c.kick_height),
        ("kick_setback", "the toe kick's setback", c.kick_setback),
        ("bumper", "the bumper", c.bumper),
        ("gap", "the gap", c.gap),
        ("reveal.side", "the side reveal", c.reveal.side),
        ("reveal.top", "the top reveal", c.reveal.top),
        ("reveal.between", "the reveal between fronts", c.reveal.between),
        ("reveal.bottom", "the bottom reveal", c.reveal.bottom),
    ] {
        faults.not_below_zero(AT, field, what, length, none);
    }
    heights(faults);
    depths(faults);
    hinges(faults, &join(AT, "hinges"), c.hinges);
}

/// A door's pin must lie where a hinge can have one.
pub(super) fn hinges(faults: &mut Faults<'_>, at: &str, hinges: Hinges) {
    let most = THICKEST.of(faults.plan.unit);
    let measure = "measure it on the hinge, or take it from its sheet";
    match hinges {
        Hinges::FaceEdge => {}
        Hinges::Concealed { cup, least_reveal } => {
            for (field, what, length) in
                [("cup", "the cup's distance from the edge", cup), ("least_reveal", "the least reveal", least_reveal)]
            {
                faults.not_below_zero(at, field, what, length, measure);
                faults.at_most(at, field, what, length, most, measure);
            }
            let (behind, front) = (hinges.pin(&faults.plan.construction).behind, faults.plan.construction.front);
            if exceeds(behind, front) {
                let message = format!(
                    "the least reveal {} would put the pin {} behind the door's face, more than its thickness, {}",
                    faults.show(least_reveal),
                    faults.show(behind),
                    faults.show(front)
                );
                let help = "take the figure that the sheet gives for this cup and this thickness of door";
                faults.add("plan::fit", join(at, "least_reveal"), &["construction.front"], message, help);
            }
        }
        Hinges::Butt { pin_out, pin_beside } => {
            faults.not_below_zero(at, "pin_out", "the pin's distance from the face", pin_out, measure);
            faults.at_most(at, "pin_out", "the pin's distance from the face", pin_out, most, measure);
            let beside = pin_beside.unwrap_or(Length::ZERO);
            faults.not_below_zero(at, "pin_beside", "the pin's distance from the edge", beside, measure);
            faults.at_most(at, "pin_beside", "the pin's distance from the edge", beside, most, measure);
        }
        Hinges::Knife { inset, behind } => {
            faults.at_most(at, "inset", "the pin's distance from the edge", inset.abs(), most, measure);
            faults.at_most(at, "behind", "the pin's distance from the face", behind.abs(), most, measure);
        }
    }
}

fn thicknesses(faults: &mut Faults<'_>) {
    let c = &faults.plan.construction;
    let most = THICKEST.of(faults.plan.unit);
    let measure = "give the thickness as measured";
    let mut must_be = vec![
        ("panel", "the panel", c.panel),
        ("front", "the front's thickness", c.front),
        ("box_stock", "the drawer-box stock", c.box_stock),
        ("box_bottom", "the drawer-box bottom", c.box_bottom),
    ];
    if let Face::FaceFrame { stile, rail, thickness } = c.face {
        must_be.push(("face.thickness", "the face frame's thickness", thickness));
        faults.above_zero(AT, "face.stile", "the stile", stile, "give its width on the face");
        faults.above_zero(AT, "face.rail", "the rail", rail, "give its height on the face");
    }
    for (field, what, length) in must_be {
        faults.above_zero(AT, field, what, length, measure);
        faults.at_most(AT, field, what, length, most, measure);
    }
    for (field, what, length) in [
        ("back", "the back", c.back),
        ("edge_strip", "the edge strip", c.edge_strip),
        ("kick_cover", "the kick cover", c.kick_cover),
    ] {
        faults.not_below_zero(AT, field, what, length, "write 0 for none");
        faults.at_most(AT, field, what, length, most, measure);
    }
}

/// Toe kick, bottom and top must leave an opening, and fronts something to fill.
fn heights(faults: &mut Faults<'_>) {
    let c = &faults.plan.construction;
    let (bottom, top) = c.opening_height();
    let clear = top - bottom;
    if clear <= Length::ZERO {
        let taken = c.height - clear;
        let (height, taken) = (faults.show(c.height), faults.show(taken));
        let message = format!("the height {height} must be more than the toe kick, bottom and top take, {taken}");
        faults.add("plan::fit", join(AT, "height"), &[AT], message, "make the units higher or the toe kick lower");
    } else if c.front_zone().height() <= Length::ZERO {
        let message = format!("the height {} leaves nothing for fronts", faults.show(c.height));
        faults.add("plan::fit", join(AT, "height"), &[AT], message, "make the units higher or the reveals smaller");
    } else if exceeds(c.nailer, clear) {
        let message =
            format!("the nailer {} is higher than the opening, {}", faults.show(c.nailer), faults.show(clear));
        faults.add("plan::fit", join(AT, "nailer"), &[AT], message, "make it lower");
    }
}

/// Each run's depth must hold what lies in it, front to back.
fn depths(faults: &mut Faults<'_>) {
    let plan = faults.plan;
    let c = &plan.construction;
    for side in Side::BOTH {
        let depth = plan.depth(side);
        let own = plan.run(side).depth.is_some();
        let path = if own { format!("{}.depth", side.word()) } else { join(AT, "depth") };
        if depth <= Length::ZERO {
            if own {
                faults.above_zero(side.word(), "depth", "the depth", depth, "give it from back plane to front plane");
            }
            continue;
        }
        let frame = match c.face {
            Face::Frameless => Length::ZERO,
            Face::FaceFrame { thickness, .. } => thickness,
        };
        let needs = [
            ("the back and an inset front", depth - c.inside_depth(depth)),
            ("the face frame and the back", frame + c.back),
            ("the toe kick's setback and cover", c.kick_setback + c.kick_cover),
            ("the stretcher", c.stretcher),
        ];
        for (what, needed) in needs {
            if depth <= needed {
                let (depth, needed) = (faults.show(depth), faults.show(needed));
                let message = format!("the depth {depth} must be more than {what} take, {needed}");
                faults.add(
                    "plan::fit",
                    path.clone(),
                    &[AT],
                    message,
                    "make the units deeper, or what they hold smaller",
                );
            }
        }
    }
}

pub(super) fn countertop(faults: &mut Faults<'_>) {
    let Some(countertop) = faults.plan.countertop else { return };
    let absent = "give the thickness, or write `countertop: Absent`";
    faults.above_zero("countertop", "thickness", "the countertop", countertop.thickness, absent);
    let flush = "write 0 where it is flush with the front plane";
    faults.not_below_zero("countertop", "overhang", "the overhang", countertop.overhang, flush);
    let none = "write 0 for none";
    faults.not_below_zero("countertop", "build_up", "the build-up", countertop.build_up, none);
    faults.above_zero(
        "countertop",
        "edge_width",
        "the edge's thickness",
        countertop.edge_width,
        "measure it front to back",
    );
    if exceeds(countertop.thickness, countertop.edge) {
        let (edge, thickness) = (faults.show(countertop.edge), faults.show(countertop.thickness));
        let message = format!("the countertop's edge {edge} must not be lower than its thickness, {thickness}");
        let help = "leave `edge` out where the edge does not drop";
        faults.add("plan::length", "countertop.edge".to_owned(), &["countertop.thickness"], message, help);
    }
    let most = MOST_DROP.of(faults.plan.unit);
    faults.at_most("countertop", "edge", "the countertop's edge", countertop.edge, most, "give its height on the face");
    faults.at_most("countertop", "build_up", "the build-up", countertop.build_up, most, none);
    faults.at_most("countertop", "edge_width", "the edge's thickness", countertop.edge_width, most, none);
}
