//! The rules of what opens opposite a run.

use super::{Faults, exceeds};
use crate::plan::{Obstacle, OppositeFront, OppositeOpening};

/// The fronts of the obstacle `at`: each on its face, before it room to stand in.
pub(super) fn fronts(faults: &mut Faults<'_>, at: &str, obstacle: &Obstacle) {
    for (n, front) in obstacle.opens.iter().enumerate() {
        let own = format!("{at}.opens[{n}]");
        sizes(faults, &own, front);
        lies_on_face(faults, at, &own, obstacle, front);
        let stands_out = front.thickness + front.pull;
        if exceeds(stands_out, obstacle.out) {
            let (out, stands_out) = (faults.show(obstacle.out), faults.show(stands_out));
            let message =
                format!("the front stands {stands_out} out before a face that is {out} from the wall it opens to");
            let help = "`out` is measured from the wall to the obstacle's face; what of it opens looks that way";
            let rests_on = [format!("{at}.out"), format!("{own}.pull")];
            let rests_on = rests_on.each_ref().map(String::as_str);
            faults.add("plan::fit", format!("{own}.thickness"), &rests_on, message, help);
        }
    }
}

fn sizes(faults: &mut Faults<'_>, at: &str, front: &OppositeFront) {
    let size = "give the front's own size along the wall and upwards";
    faults.above_zero(at, "width", "the front's width", front.width, size);
    faults.above_zero(at, "height", "the front's height", front.height, size);
    faults.above_zero(at, "thickness", "the front's thickness", front.thickness, "measure it");
    let place = "measure from the obstacle's near end, the floor or the front's face";
    faults.not_below_zero(at, "from", "the distance from the obstacle's end", front.from, place);
    faults.not_below_zero(at, "above", "the height above the floor", front.above, place);
    faults.not_below_zero(at, "pull", "what the pull stands out", front.pull, place);
    match front.opens {
        OppositeOpening::Draws(by) => {
            faults.above_zero(at, "opens_by", "what the drawer draws out", by, "measure how far it draws out");
        }
        OppositeOpening::Turns { opens_to_deg, .. } => super::unit::opens(faults, at, opens_to_deg),
    }
}

/// A front must not reach past the face that it is on.
fn lies_on_face(faults: &mut Faults<'_>, at: &str, own: &str, obstacle: &Obstacle, front: &OppositeFront) {
    let help = "`from` is measured from the obstacle's near end, `above` from the floor";
    let end = front.from + front.width;
    if exceeds(end, obstacle.width) {
        let (end, width) = (faults.show(end), faults.show(obstacle.width));
        let message = format!("the front ends {end} from the obstacle's near end, which is {width} wide");
        let rests_on = [format!("{own}.from"), format!("{at}.width")];
        faults.add("plan::fit", format!("{own}.width"), &rests_on.each_ref().map(String::as_str), message, help);
    }
    let rests_on = [format!("{at}.above"), format!("{at}.height")];
    let rests_on = rests_on.each_ref().map(String::as_str);
    if exceeds(obstacle.above, front.above) {
        let (low, face) = (faults.show(front.above), faults.show(obstacle.above));
        let message = format!("the front begins {low} above the floor, below the obstacle's lower face at {face}");
        faults.add("plan::fit", format!("{own}.above"), &rests_on, message, help);
    }
    let (top, face) = (front.above + front.height, obstacle.above + obstacle.height);
    if exceeds(top, face) {
        let (top, face) = (faults.show(top), faults.show(face));
        let message = format!("the front ends {top} above the floor, above the obstacle's upper face at {face}");
        faults.add("plan::fit", format!("{own}.height"), &rests_on, message, help);
    }
}
