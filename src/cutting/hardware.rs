//! What is bought beside wood? Slides, hinges, pulls, screws by length, and what is used up.
//!
//! [`hardware_list`] takes a [`Model`] and its [`Plan`] and counts. How many screws a joint takes, and how long they are,
//! is common practice, no source, and stands beside each line.

use super::demand::{BAND, spares};
use super::parts::cut_list;
use crate::length::{Length, Unit};
use crate::model::{Model, Part, Role, hung_on, hung_on_note};
use crate::plan::defaults::screws_sold;
use crate::plan::{Door, Face, FrameJoint, Fronts, Mount, Plan, PullShape, ShelfJoint, Side, UnitKind};

/// One thing to buy.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What it is.
    pub what: String,
    /// Its length, where it is bought by length.
    pub length: Option<Length>,
    /// How many.
    pub count: Count,
    /// How the number comes about.
    pub note: String,
}

/// How many, or how much.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Count {
    /// So many pieces.
    Pieces(usize),
    /// So many pairs.
    Pairs(usize),
    /// So much from a roll.
    Length(Length),
}

/// A screw's point stays this far inside the face that is seen. Common practice, no source.
const SHORT_OF_FACE: f64 = 3.0;
/// Into lumber or an end grain, a screw goes this deep. Common practice, no source.
const BITE: f64 = 25.4;
/// Into a stud, at most this deep: deeper may meet a cable. Common practice, no source.
const STUD_BITE: f64 = 31.75;
/// Wall board over the studs: 1/2 in. Common practice, no source: measure it.
const WALL_BOARD: f64 = 12.7;
/// Studs are usually 16 in apart.
const STUDS_APART: f64 = 406.4;
/// What a roll of band is cut longer by. Common practice, no source.
const BAND_WASTE: f64 = 0.1;

/// The longest screw sold that is not longer than `limit`; the shortest where all are.
fn longest_within(limit: Length, unit: Unit) -> Length {
    let sold = screws_sold(unit);
    sold.iter().rev().find(|length| **length <= limit).or(sold.first()).copied().unwrap_or(limit)
}

/// The shortest screw sold from `least` to `most`; where none is, the longest that does not pass `most`.
fn sold_between(least: Length, most: Length, unit: Unit) -> Length {
    let between = screws_sold(unit).into_iter().find(|length| *length >= least && *length <= most);
    between.unwrap_or_else(|| longest_within(most, unit))
}

/// Everything to buy for `model`, built of `plan`, beside what it is cut from.
#[must_use]
pub fn hardware_list(model: &Model, plan: &Plan) -> Vec<Item> {
    let mut list = List { model, plan, items: Vec::new() };
    list.slides();
    list.hinges();
    list.pulls();
    list.fronts();
    list.carcasses();
    list.faces();
    list.installing();
    list.used_up();
    list.items
}

struct List<'m> {
    model: &'m Model,
    plan: &'m Plan,
    items: Vec<Item>,
}

impl List<'_> {
    fn add(&mut self, what: impl Into<String>, length: Option<Length>, count: Count, note: impl Into<String>) {
        let some = match count {
            Count::Pieces(n) | Count::Pairs(n) => n > 0,
            Count::Length(length) => length > Length::ZERO,
        };
        if some {
            self.items.push(Item { what: what.into(), length, count, note: note.into() });
        }
    }

    fn count(&self, role: impl Fn(&Part) -> bool) -> usize {
        self.model.parts.iter().filter(|part| role(part)).count()
    }

    /// Units with a carcass.
    fn carcass_count(&self) -> usize {
        self.count(|part| part.role == Role::Back)
    }

    fn slides(&mut self) {
        let plan = self.plan;
        let mut counts = vec![0_usize; plan.slides.len()];
        for unit in Side::BOTH.iter().flat_map(|&side| &plan.run(side).units) {
            match &unit.kind {
                UnitKind::Drawers(drawers) => drawers.iter().for_each(|drawer| counts[drawer.slide] += 1),
                UnitKind::DrawerOverDoor(drawer, _) => counts[drawer.slide] += 1,
                UnitKind::Door(Door { pull_outs: Some(pull_outs), .. }) => counts[pull_outs.slide] += pull_outs.count,
                UnitKind::Door(_) | UnitKind::OpenShelves { .. } | UnitKind::EndPanel | UnitKind::ApplianceSpace(_) => {
                }
            }
        }
        for (slide, count) in plan.slides.iter().zip(counts) {
            let mount = match slide.mount {
                Mount::SideMount => "side-mount",
                Mount::UnderMount => "under-mount",
            };
            let what = format!("slide `{}`, {mount}", slide.name);
            self.add(what, Some(slide.length), Count::Pairs(count), "a pair a drawer");
        }
    }

    fn hinges(&mut self) {
        for (what, count) in hung_on(self.model, self.plan) {
            self.add(what, None, Count::Pieces(count), hung_on_note(what));
        }
    }

    fn pulls(&mut self) {
        let plan = self.plan;
        let mut counts = vec![0_usize; plan.pulls.len()];
        for unit in Side::BOTH.iter().flat_map(|&side| &plan.run(side).units) {
            match &unit.kind {
                UnitKind::Drawers(drawers) => drawers.iter().for_each(|drawer| counts[drawer.pull] += 1),
                UnitKind::Door(door) => counts[door.pull] += 1,
                UnitKind::DrawerOverDoor(drawer, door) => {
                    counts[drawer.pull] += 1;
                    counts[door.pull] += 1;
                }
                UnitKind::OpenShelves { .. } | UnitKind::EndPanel | UnitKind::ApplianceSpace(_) => {}
            }
        }
        let mut bolts = 0;
        for (pull, count) in plan.pulls.iter().zip(counts) {
            let (what, each) = match pull.shape {
                PullShape::Bar { .. } => ("bar", 2),
                PullShape::Knob { .. } => ("knob", 1),
                PullShape::Edge { .. } => ("lip", 0),
                PullShape::Absent => continue,
            };
            bolts += each * count;
            self.add(format!("pull `{}`, {what}", pull.name), None, Count::Pieces(count), "one a front");
        }
        let through = longest_within(plan.construction.front + Length::mm(INTO_PULL), plan.unit);
        self.add(
            "pull bolt",
            Some(through),
            Count::Pieces(bolts),
            "two a bar, one a knob: through the front and up to 1/4 in, 6 mm, into the pull",
        );
    }

    fn fronts(&mut self) {
        let (plan, c) = (self.plan, &self.plan.construction);
        let drawers = self.count(|part| part.role == Role::DrawerFront);
        let doors = self.count(|part| part.role == Role::DoorFront);
        let length = longest_within(c.box_stock + c.front - Length::mm(SHORT_OF_FACE), plan.unit);
        self.add(
            "screw, drawer front to box",
            Some(length),
            Count::Pieces(4 * drawers),
            "four a front, from inside the box, short of its face",
        );
        if c.fronts == Fronts::Overlay {
            let note = if c.bumper > Length::ZERO { "two a front, of the plan's thickness" } else { "two a front" };
            self.add(
                "bumper",
                Some(c.bumper).filter(|b| *b > Length::ZERO),
                Count::Pieces(2 * (drawers + doors)),
                note,
            );
        }
    }

    fn carcasses(&mut self) {
        let (plan, c) = (self.plan, &self.plan.construction);
        let boards = |role: Role| {
            matches!(role, Role::CarcassBottom | Role::CarcassTop | Role::Stretcher | Role::Nailer | Role::KickBoard)
        };
        let joined = self.count(|part| boards(part.role));
        let fixed_shelves = match plan.joinery.shelves {
            ShelfJoint::Fixed(_) => self.count(|part| part.role == Role::Shelf),
            ShelfJoint::Pins(_) => 0,
        };
        let length = longest_within(c.panel + Length::mm(1.5 * BITE), plan.unit);
        let count = 4 * (joined + fixed_shelves);
        self.add(
            "screw, carcass joints",
            Some(length),
            Count::Pieces(count),
            "two at each end of a board between the sides, with glue",
        );
        let pins = 4 * self.count(|part| part.role == Role::Shelf) - 4 * fixed_shelves;
        self.add("shelf pin", None, Count::Pieces(pins), "four a loose shelf");
        let frames: usize = 2 * self.count(|part| part.role == Role::FrameRail);
        match plan.joinery.frame {
            FrameJoint::PocketScrews => {
                let thick = match c.face {
                    Face::FaceFrame { thickness, .. } => thickness,
                    Face::Frameless => c.front,
                };
                let length = longest_within(thick * 1.7, plan.unit);
                self.add(
                    "pocket screw, frame joints",
                    Some(length),
                    Count::Pieces(2 * frames),
                    "two at each end of a rail",
                );
            }
            FrameJoint::Dowels => {
                self.add("dowel, frame joints", None, Count::Pieces(2 * frames), "two at each end of a rail");
            }
        }
        let blocks = self.count(|part| part.role == Role::Blocking);
        let length = longest_within(c.panel + Length::mm(BITE / 2.0), plan.unit);
        self.add("screw, side blocking", Some(length), Count::Pieces(3 * blocks), "three a block");
        let legs = self.count(|part| part.role == Role::Leg);
        self.add("levelling leg", Some(c.kick_height), Count::Pieces(legs), "as drawn");
    }

    /// Fillers, kick covers, end panels.
    fn faces(&mut self) {
        let (plan, c) = (self.plan, &self.plan.construction);
        let blocks = self.count(|part| part.role == Role::BackingBlock);
        let to_side = longest_within(c.panel + Length::mm(BITE), plan.unit);
        self.add(
            "screw, backing block to unit",
            Some(to_side),
            Count::Pieces(4 * blocks),
            "four a block, through the unit's side",
        );
        let faces = self.count(|part| part.role == Role::FillerFace);
        let into_face = longest_within(plan.corner.block + plan.corner.face - Length::mm(SHORT_OF_FACE), plan.unit);
        self.add(
            "screw, filler face to block",
            Some(into_face),
            Count::Pieces(4 * faces),
            "four a face, through the block from behind, short of the face",
        );
        let held =
            |part: &Part| part.run.zip(part.unit).is_some_and(|(side, unit)| plan.run(side).has_box_beside(unit));
        let [ends, loose] = [true, false].map(|is| self.count(|part| part.role == Role::EndPanel && held(part) == is));
        let through = longest_within(c.panel * 2.0 - Length::mm(SHORT_OF_FACE), plan.unit);
        self.add(
            "screw, end panel to unit",
            Some(through),
            Count::Pieces(6 * ends),
            "six a panel, from inside the unit, short of its face",
        );
        self.add(
            "screw, end panel to cleat",
            Some(through),
            Count::Pieces(6 * loose),
            "six a panel, from behind, short of its face",
        );
        let strips = self.count(|part| part.role == Role::BuildUp);
        let length = longest_within(c.panel + Length::mm(BITE), plan.unit);
        self.add("screw, build-up strip", Some(length), Count::Pieces(3 * strips), "three a strip");
    }

    /// What the units are joined and fixed with.
    fn installing(&mut self) {
        let (plan, c) = (self.plan, &self.plan.construction);
        let mut neighbours = 0;
        let mut studs = 0;
        for side in Side::BOTH {
            let units = &plan.run(side).units;
            neighbours += units.windows(2).filter(|pair| pair.iter().all(|unit| unit.kind.has_carcass())).count();
            let wide = units.iter().filter(|unit| unit.kind.has_carcass()).map(|unit| unit.width.to_mm());
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a wall has few studs")]
            let met = wide.map(|wide| (wide / STUDS_APART).floor().max(1.0) as usize).sum::<usize>();
            studs += met;
        }
        // Frames meet stile to stile, carcasses side to side.
        let through = match c.face {
            Face::Frameless => c.panel * 2.0,
            Face::FaceFrame { stile, .. } => stile * 2.0,
        };
        let length = longest_within(through - Length::mm(SHORT_OF_FACE), plan.unit);
        self.add(
            "screw, unit to unit",
            Some(length),
            Count::Pieces(4 * neighbours),
            "four where two units meet, clamped flush first",
        );
        let least = c.panel + c.back + Length::mm(WALL_BOARD + BITE);
        let most = c.panel + c.back + Length::mm(WALL_BOARD + STUD_BITE);
        let wall = sold_between(least, most, plan.unit);
        let note = format!(
            "one through each nailer at each stud: nailer, back, 1/2 in of board and 1 to 1-1/4 in of stud make {} to {}, and the shim there on top; other walls need other fixings",
            least.show(plan.unit),
            most.show(plan.unit)
        );
        self.add("screw, nailer to stud", Some(wall), Count::Pieces(2 * studs), note);
        let units = self.carcass_count();
        self.add("shim, pair", None, Count::Pieces(4 * units), "four a unit, under it and behind its nailers");
        self.add("packer for the gap at walls and fillers", None, Count::Pieces(2 * units), "two a unit");
    }

    fn used_up(&mut self) {
        let band = self.model.parts.iter().filter(|part| part.role == Role::EdgeStrip && part.size[2] < BAND);
        let needed = Length::mm(band.map(|part| part.size[0]).sum());
        self.add(
            "edge band from a roll",
            None,
            Count::Length(needed * (1.0 + BAND_WASTE)),
            "the strips' own length and a tenth",
        );
        let list = cut_list(self.model);
        for (row, count, what) in spares(&list, self.plan) {
            let size = row.cut.map(|length| length.show_bare(self.plan.unit)).join(" × ");
            self.add(what, None, Count::Pieces(count), format!("{size}, cut with the others, so that it matches"));
        }
        self.add("wood glue, bottle", None, Count::Pieces(self.carcass_count().div_ceil(4)), "one for four units");
        self.add("touch-up kit of the finish", None, Count::Pieces(1), "for what fitting scratches");
    }
}

/// How far a bolt goes into its pull: 6 mm, 1/4 in. Common practice, no source.
const INTO_PULL: f64 = 6.35;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn screws_come_in_lengths_that_are_sold() {
        // Two 18 mm sides less 3: 33, so 30. Two 3/4 sides less 3 mm: 1.38 in, so 1-1/4.
        assert_eq!(longest_within(Length::mm(33.0), Unit::Millimetre), Length::mm(30.0));
        assert_eq!(longest_within(Length::inches(1.5) - Length::mm(3.0), Unit::Inch), Length::inches(1.25));
        assert_eq!(longest_within(Length::mm(5.0), Unit::Millimetre), Length::mm(12.0));
        // 3/4 + 1/4 + 1/2 + 1 = 2-1/2.
        let wall = |least, most, unit| sold_between(Length::mm(least), Length::mm(most), unit);
        assert_eq!(wall(63.5, 69.85, Unit::Inch), Length::inches(2.5));
        assert_eq!(wall(62.1, 68.45, Unit::Millimetre), Length::mm(65.0));
        // Never longer than the stud may take, since a cable may lie behind.
        assert_eq!(wall(66.0, 69.0, Unit::Millimetre), Length::mm(65.0));
    }
}
