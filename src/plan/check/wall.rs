//! The rules of one surveyed wall.

use super::survey::MOST_OUT;
use super::{Faults, exceeds, join};
use crate::length::{Length, SNAP_MM};
use crate::plan::defaults;
use crate::plan::{Fixture, Plan, Reading, Side, Studs, WallMade};

pub(super) fn wall(faults: &mut Faults<'_>, side: Side) {
    let at = join("room.survey", side.word());
    lengths(faults, &at, side);
    readings(faults, &at, side);
    plumb(faults, &at, side);
    made_of(faults, &at, side);
    studs(faults, &at, side);
    let fixtures = &faults.plan.room.survey.wall(side).fixtures;
    for (n, fixture) in fixtures.iter().enumerate() {
        self::fixture(faults, &format!("{at}.fixtures[{n}]"), fixture, side);
    }
}

/// Whether two measures are of one place, apart from the noise of sums.
pub(super) fn same(a: Length, b: Length) -> bool {
    (a - b).abs() <= Length::mm(SNAP_MM)
}

/// How far the wall goes, at the height where it is longest.
fn reach(plan: &Plan, side: Side) -> Length {
    let lengths = plan.room.survey.wall(side).lengths;
    lengths.into_iter().flatten().fold(plan.room.wall(side), Length::max)
}

/// What was measured at `along` lies on the wall.
pub(super) fn on_wall(faults: &mut Faults<'_>, at: &str, field: &str, what: &str, along: Length, side: Side) {
    let (wall, word) = (reach(faults.plan, side), side.word());
    if along >= Length::ZERO && !exceeds(along, wall) {
        return;
    }
    let (along, wall) = (faults.show(along), faults.show(wall));
    let message = format!("{what} at {along} does not lie on the {word} wall, which goes from 0 to {wall}");
    let rests_on = [format!("room.{word}_wall"), format!("room.survey.{word}.lengths")];
    let rests_on = rests_on.each_ref().map(String::as_str);
    faults.add("plan::fit", join(at, field), &rests_on, message, "measure from the corner along the wall");
}

/// What was measured at `height` lies between the floor and the ceiling.
fn in_height(faults: &mut Faults<'_>, at: &str, field: &str, what: &str, height: Length) {
    let ceiling = faults.plan.room.ceiling;
    if height >= Length::ZERO && !exceeds(height, ceiling) {
        return;
    }
    let (height, ceiling) = (faults.show(height), faults.show(ceiling));
    let message = format!("{what} {height} is not between the floor and the ceiling, {ceiling}");
    faults.add("plan::fit", join(at, field), &["room.ceiling"], message, "measure from the finished floor up");
}

/// The least of the three lengths is what the units must fit, and so the wall's length.
fn lengths(faults: &mut Faults<'_>, at: &str, side: Side) {
    let Some(lengths) = faults.plan.room.survey.wall(side).lengths else { return };
    let word = side.word();
    let at = format!("{at}.lengths");
    for (field, length) in ["floor", "middle", "top"].into_iter().zip(lengths) {
        let what = format!("the {word} wall's length");
        faults.above_zero(&at, field, &what, length, "measure the wall from the corner");
    }
    let (wall, [a, b, c]) = (faults.plan.room.wall(side), lengths);
    let least = a.min(b).min(c);
    // One error in each of the two.
    let slack = defaults::READING.of(faults.plan.unit) * 2.0;
    if wall > Length::ZERO && least > Length::ZERO && exceeds((least - wall).abs(), slack) {
        let (least, wall) = (faults.show(least), faults.show(wall));
        let message =
            format!("the least of the {word} wall's three lengths {least} is not the `{word}_wall` of {wall}");
        let help = format!("`{word}_wall` is what the units must fit: give it the least of the three");
        let wall = format!("room.{word}_wall");
        faults.add("plan::fit", at, &[&wall], message, help);
    }
}

fn readings(faults: &mut Faults<'_>, at: &str, side: Side) {
    let readings = &faults.plan.room.survey.wall(side).readings;
    for (n, reading) in readings.iter().enumerate() {
        let at = format!("{at}.readings[{n}]");
        on_wall(faults, &at, "along", "the reading", reading.along, side);
        in_height(faults, &at, "height", "the reading's height", reading.height);
        let line = "set the measuring line off until it is clear of the whole wall, and measure from it";
        faults.not_below_zero(&at, "gap", "the gap", reading.gap, line);
        let is_here = |other: &Reading| same(other.along, reading.along) && same(other.height, reading.height);
        if let Some((k, twice)) = readings.iter().enumerate().take(n).find(|(_, other)| is_here(other)) {
            let (along, height) = (faults.show(reading.along), faults.show(reading.height));
            let (one, two) = (faults.show(twice.gap), faults.show(reading.gap));
            let message = format!("two gaps, {one} and {two}, are read in one place, at {along} along and {height} up");
            let other = format!("room.survey.{}.readings[{k}]", side.word());
            faults.add("plan::fit", at, &[&other], message, "keep the right one");
        }
    }
    let gaps = || readings.iter().map(|reading| reading.gap);
    if let (Some(least), Some(most)) = (gaps().min(), gaps().max()) {
        let limit = MOST_OUT.of(faults.plan.unit);
        if exceeds(most - least, limit) {
            let (least, most, limit) = (faults.show(least), faults.show(most), faults.show(limit));
            let message = format!("the gaps go from {least} to {most}, more than {limit} apart");
            let help = "measure all gaps of a wall from one line; what stands off the wall is an obstacle or a fixture";
            faults.add("plan::length", format!("{at}.readings"), &[], message, help);
        }
    }
}

fn plumb(faults: &mut Faults<'_>, at: &str, side: Side) {
    let list = &faults.plan.room.survey.wall(side).plumb;
    for (n, plumb) in list.iter().enumerate() {
        let at = format!("{at}.plumb[{n}]");
        on_wall(faults, &at, "along", "the plumb reading", plumb.along, side);
        let up = "give the height that the level or line reached up to";
        faults.above_zero(&at, "over", "the height over which the wall was plumbed", plumb.over, up);
        in_height(faults, &at, "over", "the height over which the wall was plumbed", plumb.over.max(Length::ZERO));
        let lean = "give how far the wall is further back up there than at the floor, as a length";
        let most = MOST_OUT.of(faults.plan.unit);
        faults.at_most(&at, "back_by", "the wall's lean", plumb.back_by.abs(), most, lean);
        if let Some(k) = list.iter().take(n).position(|other| same(other.along, plumb.along)) {
            let message = format!("the wall is plumbed twice in one place, at {} along", faults.show(plumb.along));
            let other = format!("room.survey.{}.plumb[{k}]", side.word());
            faults.add("plan::fit", at, &[&other], message, "keep the right one; a bend upwards is told by gaps");
        }
    }
}

fn made_of(faults: &mut Faults<'_>, at: &str, side: Side) {
    let wall = faults.plan.room.survey.wall(side);
    match wall.made_of {
        WallMade::Framed { board, stud } => {
            let at = format!("{at}.made_of");
            let most = super::build::THICKEST.of(faults.plan.unit);
            let thickness = "give the thickness of board or plaster before the studs";
            faults.above_zero(&at, "board", "the wall board's thickness", board, thickness);
            faults.at_most(&at, "board", "the wall board's thickness", board, most, thickness);
            let width = "give the width of the face that a screw can meet";
            faults.above_zero(&at, "stud", "the stud's width", stud, width);
            faults.at_most(&at, "stud", "the stud's width", stud, MOST_OUT.of(faults.plan.unit), width);
        }
        WallMade::Masonry if wall.studs != Studs::Unknown => {
            let message = format!("the {} wall is masonry and has studs", side.word());
            let made_of = format!("{at}.made_of");
            let help = "write `made_of: Framed` for studs or battens before masonry, or leave `studs` out";
            faults.add("plan::fit", format!("{at}.studs"), &[&made_of], message, help);
        }
        WallMade::Masonry => {}
    }
}

fn studs(faults: &mut Faults<'_>, at: &str, side: Side) {
    let wall = faults.plan.room.survey.wall(side);
    // Two studs cannot stand in each other.
    let least = match wall.made_of {
        WallMade::Framed { stud, .. } => stud,
        WallMade::Masonry => Length::ZERO,
    };
    let at = format!("{at}.studs");
    let made_of = format!("room.survey.{}.made_of", side.word());
    match &wall.studs {
        Studs::Unknown => {}
        Studs::Spaced { one_at, spacing } => {
            on_wall(faults, &at, "one_at", "the stud", *one_at, side);
            let middles = "measure from the middle of one stud to the middle of the next";
            if *spacing > Length::ZERO && exceeds(least, *spacing) {
                let (spacing, least) = (faults.show(*spacing), faults.show(least));
                let message = format!("the studs' spacing {spacing} is less than a stud's width, {least}");
                faults.add("plan::fit", join(&at, "spacing"), &[&made_of], message, middles);
            }
            faults.above_zero(&at, "spacing", "the studs' spacing", *spacing, middles);
        }
        Studs::At(middles) => {
            for (n, &middle) in middles.iter().enumerate() {
                on_wall(faults, &format!("{at}[{n}]"), "", "the stud", middle, side);
                let Some((k, &before)) = n.checked_sub(1).and_then(|k| Some((k, middles.get(k)?))) else { continue };
                let (rests_on, path) = (format!("{at}[{k}]"), format!("{at}[{n}]"));
                if middle <= before {
                    let (middle, before) = (faults.show(middle), faults.show(before));
                    let message = format!("the stud at {middle} does not lie beyond the one before it, at {before}");
                    faults.add("plan::fit", path, &[&rests_on], message, "list studs from the corner outwards");
                } else if exceeds(least, middle - before) {
                    let (apart, least) = (faults.show(middle - before), faults.show(least));
                    let message = format!("two studs lie {apart} apart, less than a stud's width, {least}");
                    let help = "give the middle of each stud; a double one is one stud with its whole width";
                    faults.add("plan::fit", path, &[&rests_on, &made_of], message, help);
                }
            }
        }
    }
}

fn fixture(faults: &mut Faults<'_>, at: &str, fixture: &Fixture, side: Side) {
    let what = fixture.kind.word();
    let size = "give its own size along the wall and upwards";
    faults.above_zero(at, "width", &format!("the {what}'s width"), fixture.width, size);
    faults.above_zero(at, "height", &format!("the {what}'s height"), fixture.height, size);
    let out = "measure how far it stands out from the wall, 0 where it lies in the wall";
    faults.not_below_zero(at, "out", &format!("what the {what} stands out"), fixture.out, out);
    faults.at_most(at, "out", &format!("what the {what} stands out"), fixture.out, MOST_OUT.of(faults.plan.unit), out);
    let word = side.word();
    let (half_width, half_height) = (fixture.width / 2.0, fixture.height / 2.0);
    let [near, far] = [fixture.along - half_width, fixture.along + half_width];
    let wall = reach(faults.plan, side);
    let noise = Length::mm(SNAP_MM);
    if near < -noise || exceeds(far, wall) {
        let [near, far, wall] = [near, far, wall].map(|length| faults.show(length));
        let message = format!(
            "the {what} `{}`, from {near} to {far}, does not lie on the {word} wall, which goes from 0 to {wall}",
            fixture.name
        );
        let help = "measure from the corner along the wall to its centre; what lies beyond the wall's end is left out";
        let rests_on = [format!("{at}.width"), format!("room.{word}_wall"), format!("room.survey.{word}.lengths")];
        let rests_on = rests_on.each_ref().map(String::as_str);
        faults.add("plan::fit", join(at, "along"), &rests_on, message, help);
    }
    let [low, high] = [fixture.above - half_height, fixture.above + half_height];
    let ceiling = faults.plan.room.ceiling;
    if low < -noise || exceeds(high, ceiling) {
        let [low, high, ceiling] = [low, high, ceiling].map(|length| faults.show(length));
        let message = format!(
            "the {what} `{}`, from {low} to {high} up, is not between the floor and the ceiling, {ceiling}",
            fixture.name
        );
        let height = format!("{at}.height");
        let help = "measure from the finished floor up to its centre";
        faults.add("plan::fit", join(at, "above"), &[&height, "room.ceiling"], message, help);
    }
}
