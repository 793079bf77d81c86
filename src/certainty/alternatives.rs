//! What would make it narrower? The plan changed in one way at a time, and the fillers found anew.
//!
//! Each [`Change`] is an edit of the plan's text, and what comes of it is read like any plan: what cannot be built is
//! refused with the reader's own reasons. Both fillers are taken as the least that passes, before and after, whatever the
//! plan fixes; ranked is by how much narrower both together become.
//!
//! What a change does to what can be put away is told beside it (see [`super::storage_mm3`]), and to the space that the
//! corner shuts off.

use super::entry::{length_text, pull_text, slide_text};
use crate::clearance;
use crate::length::Length;
use crate::model::{Fillers, Model};
use crate::plan::write::{Edit, PlanPath, apply};
use crate::plan::{Extension, Filler, Fronts, Plan, Pull, PullSet, PullShape, Side, Slide, UnitKind};
use crate::progress::{Cancelled, Flow, Progress, Watch};
use crate::showing::space::Space;

/// One way to change a plan.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// Another of the plan's pulls on that unit.
    OtherPull(Side, usize, String),
    /// The unit's pulls moved away from the corner by this much.
    PullShifted(Side, usize, Length),
    /// The unit's bars turned the other way.
    PullTurned(Side, usize),
    /// Every front set into its opening.
    InsetFronts,
    /// Another of the plan's slides in that unit.
    OtherSlide(Side, usize, String),
    /// Slides that draw out three quarters, in that unit.
    ShorterExtension(Side, usize),
    /// A stop that lets that unit's drawers out by this much.
    DrawerStop(Side, usize, Length),
    /// That unit, and so its fronts, narrower by this much.
    NarrowerUnit(Side, usize, Length),
}

/// A change that can be built.
#[derive(Clone, Debug, PartialEq)]
pub struct Alternative {
    /// What is changed.
    pub change: Change,
    /// The same as an edit of the plan's text.
    pub edit: Edit,
    /// The least fillers with it.
    pub fillers: Fillers,
    /// How much narrower both fillers together become; negative where they become wider.
    pub saved: Length,
    /// How much more can be put away, mm³; negative where it is less.
    pub storage_mm3: f64,
    /// How much more the corner shuts off, mm³; negative where it is less.
    pub shut_off_mm3: f64,
}

/// A change that cannot be built.
#[derive(Clone, Debug, PartialEq)]
pub struct Refused {
    /// What was to be changed.
    pub change: Change,
    /// Why not: the reader's first reason.
    pub why: String,
}

/// What changing the plan would do.
#[derive(Clone, Debug, PartialEq)]
pub struct Alternatives {
    /// The least fillers as the plan is.
    pub before: Fillers,
    /// What can be put away as the plan is, mm³.
    pub storage_mm3: f64,
    /// What the corner shuts off with those fillers, mm³.
    pub shut_off_mm3: f64,
    /// What saves most first.
    pub list: Vec<Alternative>,
    /// What cannot be built.
    pub refused: Vec<Refused>,
}

/// How much narrower a unit is tried, mm. Our own choice.
const NARROWER: [f64; 2] = [50.0, 100.0];
/// A stop that leaves less than this of the way is no drawer any more. Our own choice.
const LEAST_WAY: f64 = 0.5;
/// A stop is set to whole steps of this, mm. Our own choice.
const STOP_STEP: f64 = 5.0;
/// A shifted pull keeps this from its front's edge, mm: what a door's pull keeps of it. Common practice, no source.
const FROM_EDGE: f64 = 50.0;

/// Changes the plan in `text`, from the file `name`, in every way that is known, one at a time.
///
/// # Errors
/// If `watch`, asked before each, cancels.
pub fn alternatives(name: &str, text: &str, plan: &Plan, watch: &Watch<'_>) -> Result<Alternatives, Cancelled> {
    let before = super::least_of_both(plan);
    let model = Model::build(plan, before);
    let mut found = Alternatives {
        before,
        storage_mm3: super::storage_mm3(plan),
        shut_off_mm3: Space::of(&model).mm3,
        list: Vec::new(),
        refused: Vec::new(),
    };
    let changes = changes(plan);
    let of = changes.len() as u64;
    for (k, change) in changes.into_iter().enumerate() {
        match watch(Progress { steps: k as u64, of, found: None, at_least: 0.0 }) {
            Flow::GoOn => {}
            Flow::Enough => break,
            Flow::Cancel => return Err(Cancelled),
        }
        let edits = edits(plan, &change);
        let mut why = None;
        let made = edits.into_iter().find_map(|edit| match apply(name, text, &edit) {
            Ok((_, changed)) => Some((edit, changed)),
            Err(refused) => {
                why = Some(refused.problems.list().first().map(|p| p.message.clone()).unwrap_or_default());
                None
            }
        });
        match (made, why) {
            (Some((edit, changed)), _) => found.list.push(judged(&found, change, edit, &changed)),
            (None, Some(why)) => found.refused.push(Refused { change, why }),
            (None, None) => {}
        }
    }
    // A stable sort: of equals what was thought of first.
    found.list.sort_by_key(|alternative| -alternative.saved);
    Ok(found)
}

fn judged(found: &Alternatives, change: Change, edit: Edit, changed: &Plan) -> Alternative {
    let fillers = super::least_of_both(changed);
    let sum = |fillers: Fillers| fillers.left + fillers.right;
    let shut_off = Space::of(&Model::build(changed, fillers)).mm3;
    Alternative {
        change,
        edit,
        fillers,
        saved: sum(found.before) - sum(fillers),
        storage_mm3: super::storage_mm3(changed) - found.storage_mm3,
        shut_off_mm3: shut_off - found.shut_off_mm3,
    }
}

/// The unit of `side` whose fronts stand nearest to the corner.
fn corner_unit(plan: &Plan, side: Side) -> Option<usize> {
    plan.run(side).units.iter().position(|unit| !pulls_of(&unit.kind).is_empty())
}

/// The pulls of a unit, by drawer and door from the top.
fn pulls_of(kind: &UnitKind) -> Vec<usize> {
    match kind {
        UnitKind::Drawers(drawers) => drawers.iter().map(|drawer| drawer.pull).collect(),
        UnitKind::Door(door) => vec![door.pull],
        UnitKind::DrawerOverDoor(drawer, door) => vec![drawer.pull, door.pull],
        UnitKind::OpenShelves { .. } | UnitKind::EndPanel | UnitKind::ApplianceSpace(_) => Vec::new(),
    }
}

/// The slide of a unit's drawers.
fn slide_of<'p>(plan: &'p Plan, kind: &UnitKind) -> Option<&'p Slide> {
    let index = match kind {
        UnitKind::Drawers(drawers) => drawers.first()?.slide,
        UnitKind::DrawerOverDoor(drawer, _) => drawer.slide,
        UnitKind::Door(_) | UnitKind::OpenShelves { .. } | UnitKind::EndPanel | UnitKind::ApplianceSpace(_) => {
            return None;
        }
    };
    plan.slides.get(index)
}

/// Every change that is worth a try.
fn changes(plan: &Plan) -> Vec<Change> {
    let mut list = Vec::new();
    for side in Side::BOTH {
        let Some(unit) = corner_unit(plan, side) else { continue };
        let cabinet = &plan.run(side).units[unit];
        let pulls = pulls_of(&cabinet.kind);
        let only = pulls.first().copied().filter(|first| pulls.iter().all(|pull| pull == first));
        for (index, pull) in plan.pulls.iter().enumerate() {
            if only != Some(index) {
                list.push(Change::OtherPull(side, unit, pull.name.clone()));
            }
        }
        if let Some(pull) = only.and_then(|only| plan.pulls.get(only)) {
            list.extend(shift_of(plan, cabinet.width, pull).map(|by| Change::PullShifted(side, unit, by)));
            if matches!(pull.shape, PullShape::Bar { .. }) {
                list.push(Change::PullTurned(side, unit));
            }
        }
        if let Some(slide) = slide_of(plan, &cabinet.kind) {
            let others = plan.slides.iter().filter(|other| other.name != slide.name);
            list.extend(others.map(|other| Change::OtherSlide(side, unit, other.name.clone())));
            if slide.travel() > slide.length * 0.75 {
                list.push(Change::ShorterExtension(side, unit));
            }
        }
        list.extend(NARROWER.map(|by| Change::NarrowerUnit(side, unit, Length::mm(by))));
    }
    if plan.construction.fronts == Fronts::Overlay {
        list.push(Change::InsetFronts);
    }
    list.extend(stops(plan));
    list
}

/// How far a pull in the middle of a front can be moved away from the corner.
fn shift_of(plan: &Plan, unit_width: Length, pull: &Pull) -> Option<Length> {
    let front = plan.construction.front_zone().front_width(unit_width);
    let across = match (pull.shape, pull.set) {
        (PullShape::Bar { length, .. }, PullSet::Level) => length,
        (PullShape::Bar { thickness, .. }, PullSet::Upright) => thickness,
        (PullShape::Knob { across, .. }, _) => across,
        (PullShape::Edge { length, .. }, _) => length?,
        (PullShape::Absent, _) => return None,
    };
    let by = front / 2.0 - across / 2.0 - Length::mm(FROM_EDGE) - pull.sideways.unwrap_or_default();
    (by >= Length::mm(1.0)).then(|| Length::mm(by.to_mm().floor()))
}

/// Stops that let the drawers at the corner out only as far as they get with the fillers that would do without pulls.
fn stops(plan: &Plan) -> Vec<Change> {
    let mut bare = plan.clone();
    bare.pulls.push(Pull::absent(String::new()));
    let none = bare.pulls.len() - 1;
    for run in [&mut bare.left, &mut bare.right] {
        for unit in &mut run.units {
            match &mut unit.kind {
                UnitKind::Drawers(drawers) => drawers.iter_mut().for_each(|drawer| drawer.pull = none),
                UnitKind::Door(door) => door.pull = none,
                UnitKind::DrawerOverDoor(drawer, door) => (drawer.pull, door.pull) = (none, none),
                UnitKind::OpenShelves { .. } | UnitKind::EndPanel | UnitKind::ApplianceSpace(_) => {}
            }
        }
    }
    let narrow = super::least_of_both(&bare);
    let mut fixed = plan.clone();
    for side in Side::BOTH {
        fixed.corner = fixed.corner.with_filler(side, Filler::Fixed(narrow.of(side)));
    }
    let answer = clearance::answer(&fixed);
    let stop = |side: Side| {
        let unit = corner_unit(plan, side)?;
        let full = slide_of(plan, &plan.run(side).units[unit].kind)?.travel();
        let openings = answer.openings.iter().filter(|opening| {
            let mover = answer.model.mover(opening.mover);
            mover.side == side && mover.unit == unit && matches!(mover.motion, crate::model::Motion::Slide { .. })
        });
        let way = openings.map(|opening| opening.to_wanted).fold(f64::INFINITY, f64::min);
        let way = Length::mm((way / STOP_STEP).floor() * STOP_STEP);
        (way < full && way >= full * LEAST_WAY).then_some(Change::DrawerStop(side, unit, way))
    };
    Side::BOTH.into_iter().filter_map(stop).collect()
}

/// The edits that make a change, the first that the plan takes being the one: which fields a unit gives is the file's own.
fn edits(plan: &Plan, change: &Change) -> Vec<Edit> {
    let unit_at = |side: Side, unit: usize| PlanPath::WHOLE.field(side.word()).field("units").item(unit);
    let pull = |side: Side, unit: usize, name: &str, first: Option<Edit>| {
        let at = unit_at(side, unit);
        let set = Edit::Set { at: at.field("pull"), value: format!("{name:?}") };
        // A unit that names a pull for each drawer, or another one for its door, names one for all.
        let whole = |unset: Option<&str>| {
            let unset = unset.map(|field| Edit::Unset { at: at.field(field) });
            Edit::Together(first.iter().cloned().chain(Some(set.clone())).chain(unset).collect())
        };
        vec![whole(Some("pulls")), whole(Some("door_pull")), whole(None)]
    };
    let slide = |side: Side, unit: usize, name: &str, first: Option<Edit>| {
        let set = Edit::Set { at: unit_at(side, unit).field("slide"), value: format!("{name:?}") };
        vec![Edit::Together(first.into_iter().chain(Some(set)).collect())]
    };
    let own_pull = |side: Side, unit: usize| {
        let cabinet = plan.run(side).units.get(unit)?;
        plan.pulls.get(*pulls_of(&cabinet.kind).first()?).cloned()
    };
    let own_slide = |side: Side, unit: usize| slide_of(plan, &plan.run(side).units.get(unit)?.kind).cloned();
    let new_pull = |side: Side, unit: usize, made: Option<Pull>| {
        let Some(made) = made else { return Vec::new() };
        let at = PlanPath::WHOLE.field("pulls").entry(&made.name);
        pull(side, unit, &made.name, Some(Edit::Set { at, value: pull_text(&made) }))
    };
    let new_slide = |side: Side, unit: usize, made: Option<Slide>| {
        let Some(made) = made else { return Vec::new() };
        let at = PlanPath::WHOLE.field("slides").entry(&made.name);
        slide(side, unit, &made.name, Some(Edit::Set { at, value: slide_text(&made) }))
    };
    match change {
        Change::OtherPull(side, unit, name) => pull(*side, *unit, name, None),
        Change::PullShifted(side, unit, by) => {
            let made = own_pull(*side, *unit).map(|own| Pull {
                name: format!("{}, aside", own.name),
                sideways: Some(own.sideways.unwrap_or_default() + *by),
                ..own
            });
            new_pull(*side, *unit, made)
        }
        Change::PullTurned(side, unit) => {
            let turned = |set: PullSet| if set == PullSet::Level { PullSet::Upright } else { PullSet::Level };
            let made = own_pull(*side, *unit).map(|own| Pull {
                name: format!("{}, turned", own.name),
                set: turned(own.set),
                ..own
            });
            new_pull(*side, *unit, made)
        }
        Change::InsetFronts => {
            let at = PlanPath::WHOLE.field("construction").field("fronts");
            vec![Edit::Set { at, value: "Inset".to_owned() }]
        }
        Change::OtherSlide(side, unit, name) => slide(*side, *unit, name, None),
        Change::ShorterExtension(side, unit) => {
            let made = own_slide(*side, *unit).map(|own| Slide {
                name: format!("{}, three-quarter", own.name),
                extension: Extension::ThreeQuarter,
                ..own
            });
            new_slide(*side, *unit, made)
        }
        Change::DrawerStop(side, unit, way) => {
            let made = own_slide(*side, *unit).map(|own| Slide {
                name: format!("{}, with a stop", own.name),
                extension: Extension::Travel(*way),
                ..own
            });
            new_slide(*side, *unit, made)
        }
        Change::NarrowerUnit(side, unit, by) => {
            let Some(cabinet) = plan.run(*side).units.get(*unit) else { return Vec::new() };
            let at = unit_at(*side, *unit).field("width");
            vec![Edit::Set { at, value: length_text(cabinet.width - *by) }]
        }
    }
}
