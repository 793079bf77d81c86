//! Can it be built? The rules that a plan must keep, apart from how it was written.
//!
//! [`faults`] takes a [`Plan`] and gives everything that is wrong with it, each with the place in the plan that must
//! change and the values that the rule rests on. It knows nothing of the file: [`super::read()`] turns places into
//! spans, and leaves out what rests on a value that it could not read.

mod build;
mod hardware;
mod inside;
mod joinery;
mod opposite;
mod room;
mod stock;
mod survey;
mod tolerance;
mod unit;
mod wall;
mod wood;

use std::ops::RangeInclusive;

use super::Plan;
use crate::length::{Length, SNAP_MM, Unit};

/// The angles, in degrees, that walls and runs may meet at: beyond them a corner cannot be filled with one straight
/// face a side.
const ANGLES_DEG: RangeInclusive<f64> = 60.0..=170.0;

/// The room angles, in degrees, within which runs set square are taken for granted.
pub(super) const NEARLY_SQUARE_DEG: RangeInclusive<f64> = 85.0..=95.0;

/// Something that cannot be built.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Fault {
    /// A stable name for the kind of fault.
    pub code: &'static str,
    /// The place in the plan that should change.
    pub path: String,
    /// Other places whose values the rule used.
    pub rests_on: Vec<String>,
    /// What is wrong.
    pub message: String,
    /// What would be right.
    pub help: String,
}

/// Everything that is wrong with `plan`; empty where it can be built.
pub(super) fn faults(plan: &Plan) -> Vec<Fault> {
    let mut faults = Faults { plan, list: Vec::new() };
    room::room(&mut faults);
    survey::survey(&mut faults);
    survey::fixing(&mut faults);
    build::construction(&mut faults);
    build::countertop(&mut faults);
    joinery::joinery(&mut faults);
    stock::stock(&mut faults);
    hardware::pulls(&mut faults);
    hardware::slides(&mut faults);
    unit::runs(&mut faults);
    room::corner(&mut faults);
    room::clearance(&mut faults);
    tolerance::tolerances(&mut faults);
    wood::wood(&mut faults);
    faults.list
}

/// The faults so far, with words for the common rules.
#[derive(Debug)]
struct Faults<'p> {
    plan: &'p Plan,
    list: Vec<Fault>,
}

impl Faults<'_> {
    /// `length` as a builder reads it: the number in backquotes, the unit behind it. What would print as nothing but
    /// is not nothing comes in decimals.
    fn show(&self, length: Length) -> String {
        let unit = self.plan.unit;
        let bare = length.show_bare(unit);
        match bare.as_str() {
            "~0" => format!("`{:.4}` {}", length.to(unit), unit.symbol()),
            _ => format!("`{bare}` {}", unit.symbol()),
        }
    }

    /// `length` in millimetres, for limits too fine for inches.
    fn show_mm(length: Length) -> String {
        format!("`{}` {}", length.show_bare(Unit::Millimetre), Unit::Millimetre.symbol())
    }

    fn add(&mut self, code: &'static str, path: String, rests_on: &[&str], message: String, help: impl Into<String>) {
        let rests_on = rests_on.iter().map(|&path| path.to_owned()).collect();
        self.list.push(Fault { code, path, rests_on, message, help: help.into() });
    }

    /// The length `field` of `at`, called `what`, must be more than 0.
    fn above_zero(&mut self, at: &str, field: &str, what: &str, length: Length, help: &str) {
        if length <= Length::ZERO {
            let message = format!("{what} {} must be more than 0", self.show(length));
            self.add("plan::length", join(at, field), &[], message, help);
        }
    }

    /// The length `field` of `at`, called `what`, must not be less than 0.
    fn not_below_zero(&mut self, at: &str, field: &str, what: &str, length: Length, help: &str) {
        if length < Length::ZERO {
            let message = format!("{what} {} must not be less than 0", self.show(length));
            self.add("plan::length", join(at, field), &[], message, help);
        }
    }

    /// The length `field` of `at`, called `what`, must not be more than `limit`.
    fn at_most(&mut self, at: &str, field: &str, what: &str, length: Length, limit: Length, help: &str) {
        if exceeds(length, limit) {
            let message = format!("{what} {} must not be more than {}", self.show(length), self.show(limit));
            self.add("plan::length", join(at, field), &[], message, help);
        }
    }

    /// The angle `field` of `at`, called `what`, must lie in the range for walls and runs.
    fn corner_angle(&mut self, path: &str, what: &str, degrees: f64) {
        if !ANGLES_DEG.contains(&degrees) {
            let (least, most) = (ANGLES_DEG.start(), ANGLES_DEG.end());
            // An angle from lengths has more digits than anyone measured.
            let degrees = (degrees * 1e3).round() / 1e3;
            let message = format!("{what} `{degrees}` degrees must be between {least} and {most}");
            let help = "an inside corner is measured on the room's side; a square one has 90 degrees";
            self.add("plan::angle", path.to_owned(), &[], message, help);
        }
    }
}

/// Whether `length` is more than `limit` by more than the noise of sums.
fn exceeds(length: Length, limit: Length) -> bool {
    length - limit > Length::mm(SNAP_MM)
}

fn join(at: &str, field: &str) -> String {
    match (at.is_empty(), field.is_empty()) {
        (true, _) => field.to_owned(),
        (_, true) => at.to_owned(),
        (false, false) => format!("{at}.{field}"),
    }
}
