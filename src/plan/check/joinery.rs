//! The rules of joints, strips and pieces fitted on site: what is taken out of a board must leave some of it.

use super::{Faults, exceeds};
use crate::length::Length;
use crate::plan::defaults::Usual;
use crate::plan::{BackJoint, CornerWork, Face, Fronts, Joint, ShelfJoint, Side, UnitKind};

/// A joint leaves at least this share of the board it goes into. Common practice, no source: half is usual.
const MOST_SHARE: f64 = 2.0 / 3.0;
/// More left on for fitting is a mistake of unit.
const MOST_SCRIBE: Usual = Usual::new(50.0, 2.0);
/// A looser bottom or shelf rattles or falls.
const MOST_PLAY: Usual = Usual::new(6.0, 0.25);
/// More spare fronts are a mistake.
const MOST_SPARE: usize = 100;

const AT: &str = "joinery";

pub(super) fn joinery(faults: &mut Faults<'_>) {
    let (j, c) = (&faults.plan.joinery, &faults.plan.construction);
    let shelves = match j.shelves {
        ShelfJoint::Fixed(joint) => joint,
        ShelfJoint::Pins(_) => Joint::Butt,
    };
    let back = match j.back {
        BackJoint::Rabbet(depth) => Joint::LetIn(depth),
        BackJoint::Between | BackJoint::Applied => Joint::Butt,
    };
    for (field, what, joint) in [
        ("bottom", "the bottom's joint", j.bottom),
        ("top", "the top's joint", j.top),
        ("shelves", "the shelves' joint", shelves),
        ("back", "the back's rabbet", back),
    ] {
        goes_into(faults, field, what, joint, c.panel, "construction.panel");
    }
    goes_into(faults, "box_corners", "the drawer boxes' joint", j.box_corners, c.box_stock, "construction.box_stock");
    if j.box_groove != Length::ZERO {
        let groove = Joint::LetIn(j.box_groove);
        goes_into(faults, "box_groove", "the box bottoms' groove", groove, c.box_stock, "construction.box_stock");
    }
    play(faults);
    let usual = "6 to 19 mm, 1/4 to 3/4 in, is usual; 0 where nothing is left on";
    faults.not_below_zero(AT, "scribe", "what is left on for fitting", j.scribe, usual);
    faults.at_most(AT, "scribe", "what is left on for fitting", j.scribe, MOST_SCRIBE.of(faults.plan.unit), usual);
    faults.not_below_zero(AT, "box_recess", "the box bottoms' height above the edge", j.box_recess, "write 0 for none");
    if j.spare_fronts > MOST_SPARE {
        let message = format!("`{}` spare fronts are more than {MOST_SPARE}", j.spare_fronts);
        faults.add("plan::count", "joinery.spare_fronts".to_owned(), &[], message, "one is usual");
    }
    box_bottoms(faults);
    shelf_frame(faults);
    if j.corner == CornerWork::Stiles && c.face == Face::Frameless {
        let message = "without a face frame there is no stile to widen to the corner".to_owned();
        let help = "write `corner: Faces`, or `face: FaceFrame` in the construction";
        faults.add("plan::fit", "joinery.corner".to_owned(), &["construction.face"], message, help);
    }
}

/// A joint must be deeper than nothing and leave enough of the board it goes into.
fn goes_into(faults: &mut Faults<'_>, field: &str, what: &str, joint: Joint, board: Length, board_path: &str) {
    let Joint::LetIn(depth) = joint else { return };
    let path = format!("{AT}.{field}");
    if depth <= Length::ZERO {
        let message = format!("{what} {} must be more than 0", faults.show(depth));
        faults.add("plan::length", path, &[], message, "write `Butt` where nothing is let in; 0 for a loose bottom");
    } else if board > Length::ZERO && exceeds(depth, board * MOST_SHARE) {
        let (depth, board) = (faults.show(depth), faults.show(board));
        let message = format!("{what} {depth} is more than two thirds of the board it goes into, {board}");
        faults.add("plan::fit", path, &[board_path], message, "half the thickness is usual");
    }
}

fn play(faults: &mut Faults<'_>) {
    let j = &faults.plan.joinery;
    let most = MOST_PLAY.of(faults.plan.unit).min(j.box_groove * 2.0).max(Length::ZERO);
    let help = "the bottom must not fall out of its grooves";
    faults.not_below_zero(AT, "box_play", "the box bottoms' play", j.box_play, "write 0 for none");
    if j.box_groove > Length::ZERO {
        faults.at_most(AT, "box_play", "the box bottoms' play", j.box_play, most, help);
    }
    if let ShelfJoint::Pins(play) = j.shelves {
        faults.not_below_zero(AT, "shelves", "the loose shelves' play", play, "write 0 for none");
        let most = MOST_PLAY.of(faults.plan.unit);
        faults.at_most(AT, "shelves", "the loose shelves' play", play, most, "the shelf must reach its pins");
    }
}

/// A drawer box must be higher than what lies below its bottom, and its bottom.
fn box_bottoms(faults: &mut Faults<'_>) {
    let plan = faults.plan;
    let needed = plan.joinery.box_recess + plan.construction.box_bottom;
    let mut lowest: Option<Length> = None;
    for unit in Side::BOTH.iter().flat_map(|&side| &plan.run(side).units) {
        let drawers = match &unit.kind {
            UnitKind::Drawers(drawers) => drawers.as_slice(),
            UnitKind::DrawerOverDoor(drawer, _) => std::slice::from_ref(drawer),
            UnitKind::Door(_) | UnitKind::OpenShelves { .. } | UnitKind::EndPanel | UnitKind::ApplianceSpace(_) => &[],
        };
        for drawer in drawers.iter().filter(|drawer| drawer.box_height > Length::ZERO) {
            lowest = Some(lowest.map_or(drawer.box_height, |lowest| lowest.min(drawer.box_height)));
        }
    }
    if let Some(lowest) = lowest
        && exceeds(needed, lowest)
    {
        let (needed, lowest) = (faults.show(needed), faults.show(lowest));
        let message =
            format!("the box bottoms with what lies below them take {needed}, more than a box is high, {lowest}");
        let rests_on = ["construction", "left", "right", "slides"];
        faults.add("plan::fit", "joinery.box_recess".to_owned(), &rests_on, message, "set the bottoms lower");
    }
}

fn shelf_frame(faults: &mut Faults<'_>) {
    let Some(frame) = faults.plan.joinery.shelf_frame else { return };
    let at = "joinery.shelf_frame";
    faults.above_zero(at, "stile", "the shelf frame's stile", frame.stile, "give its width on the face");
    faults.above_zero(at, "rail", "the shelf frame's rail", frame.rail, "give its height on the face");
    let c = &faults.plan.construction;
    if c.fronts == Fronts::Inset {
        let message = "inset fronts do not stand out, so no frame is needed before open shelves".to_owned();
        faults.add("plan::fit", at.to_owned(), &["construction.fronts"], message, "write `shelf_frame: Absent`");
        return;
    }
    let plan = faults.plan;
    for side in Side::BOTH {
        for (n, unit) in plan.run(side).units.iter().enumerate() {
            let UnitKind::OpenShelves { shelves } = unit.kind else { continue };
            let (wide, high) = (unit.width - frame.stile * 2.0, plan.construction_of(unit).front_zone().height());
            let rails = c.panel + frame.rail * (shelves + 2) as f64;
            if wide <= Length::ZERO || rails >= high {
                let message = format!("the shelf frame leaves no opening in `{}`", unit.name);
                let unit_at = format!("{}.units[{n}]", side.word());
                let help = "make stiles and rails narrower, or take shelves out";
                faults.add("plan::fit", at.to_owned(), &["construction", &unit_at], message, help);
                return;
            }
        }
    }
}
