//! What can be open at once, and which pairs of fillers are good? The maps of [`crate::clearance`], as the panel draws
//! them, worked out in tasks while their section is open.
//!
//! Maps of two are of the plan as it is. The map of both fillers is the same whatever they are, so that a drag in it does
//! not make it anew.

use bevy::prelude::{
    App, DetectChangesMut as _, IntoScheduleConfigs as _, MessageWriter, Res, ResMut, Resource, Update,
};
use bevy::window::RequestRedraw;

use super::ViewerSystems;
use super::action::{Action, Applied};
use super::motion::{Poses, Wish};
use super::region::Region;
use super::settings::Settings;
use super::shown::Shown;
use super::work::{Work, whatever_fillers};
use crate::clearance::FillerMap;
use crate::clearance::map::{Map, maps};
use crate::model::{Fillers, Model, Mover, MoverId};
use crate::plan::write::{Edit, PlanPath};
use crate::plan::{Plan, Side, form};
use crate::report;

/// Two drawers or doors that meet when both are open.
#[derive(Clone, Debug)]
pub struct Pair {
    /// Where they conflict.
    pub map: Map,
    /// The same as it is drawn.
    pub region: Region,
    /// Their names, which stay when the plan changes.
    pub names: [String; 2],
    /// The same by their places alone: `left 1, top drawer`.
    pub places: [String; 2],
    /// What each leaves the other, in words.
    pub lines: [String; 2],
}

/// Every two that meet, of one model.
#[derive(Clone, Debug)]
pub struct Pairs {
    /// The model.
    pub model: Model,
    /// The pairs, in the order of the report.
    pub list: Vec<Pair>,
}

impl Pairs {
    /// Works them out.
    #[must_use]
    pub fn of(model: &Model) -> Self {
        let pair = |map: Map| {
            let region = Region::of(map.regions.iter().map(|region| region.outer.as_slice()), map.extents);
            let names = map.movers.map(|id| model.mover(id).name.clone());
            let places = map.movers.map(|id| place(model.mover(id)));
            Pair { region, names, places, lines: report::map_lines(model, &map), map }
        };
        Self { model: model.clone(), list: maps(model).into_iter().map(pair).collect() }
    }
}

/// Where a drawer or door is, less the name of its unit.
fn place(mover: &Mover) -> String {
    let what = mover.name.rsplit(", ").next().filter(|_| !mover.of_the_room && mover.name.contains(", "));
    what.map_or_else(|| mover.name.clone(), |what| format!("{} {}, {what}", mover.side.word(), mover.unit + 1))
}

/// So many times the widest of the three pairs is drawn at first. Our own choice.
const NEAR_TIMES: f64 = 2.0;
/// And at least so much, mm: a hand's breadth. Our own choice.
const NEAR_AT_LEAST: f64 = 100.0;

/// All good pairs of fillers, as they are drawn.
#[derive(Clone, Debug)]
pub struct BothFillers {
    /// Which pairs are good.
    pub map: FillerMap,
    /// How far the plane is drawn around the pairs that one takes, mm.
    pub near_to: f64,
    /// The bad pairs, so far.
    pub near: Region,
    /// The bad pairs, as far as anything changes.
    pub whole: Region,
}

impl BothFillers {
    /// Works them out.
    #[must_use]
    pub fn of(plan: &Plan) -> Self {
        let map = FillerMap::of(plan);
        let picks = [map.least_sum, map.least_floor, map.equal].into_iter().flatten();
        let widest = picks.map(|pair| pair.fillers.left.max(pair.fillers.right).to_mm()).fold(0.0, f64::max);
        // To whole tens, which read well.
        let near_to = ((widest * NEAR_TIMES / 10.0).ceil() * 10.0).max(NEAR_AT_LEAST).min(map.drawn_to);
        let region = |to: f64| Region::of(map.bad.iter().map(|bad| bad.outer.as_slice()), [to; 2]);
        Self { near: region(near_to), whole: region(map.drawn_to), near_to, map }
    }
}

/// What was worked out, and which pair is looked at.
#[derive(Resource, Debug, Default)]
pub struct Together {
    pairs: Work<Pairs>,
    fillers: Work<BothFillers>,
    chosen: Option<[String; 2]>,
}

impl Together {
    /// Every two that meet, and whether they are of `plan`; none before they were worked out.
    #[must_use]
    pub fn pairs(&self, plan: &Plan) -> Option<(&Pairs, bool)> {
        Some((self.pairs.done()?, self.pairs.is_of(plan)))
    }

    /// All good pairs of fillers, and whether they are of `plan`, whatever its fillers.
    #[must_use]
    pub fn fillers(&self, plan: &Plan) -> Option<(&BothFillers, bool)> {
        Some((self.fillers.done()?, self.fillers.is_of(&whatever_fillers(plan))))
    }

    /// Which of the pairs is looked at: the first, until another is chosen.
    #[must_use]
    pub fn chosen(&self) -> usize {
        let list = self.pairs.done().map(|pairs| pairs.list.as_slice()).unwrap_or_default();
        let is_it = |names: &[String; 2]| list.iter().position(|pair| pair.names == *names);
        self.chosen.as_ref().and_then(is_it).unwrap_or(0)
    }

    fn choose(&mut self, index: usize) {
        let pair = self.pairs.done().and_then(|pairs| pairs.list.get(index));
        self.chosen = pair.map(|pair| pair.names.clone());
    }
}

impl Applied<'_> {
    /// What is asked while the section for what can be open together is open.
    pub(super) fn together(&mut self, action: Action) {
        match action {
            Action::LookAtPair(index) => self.together.choose(index),
            Action::Stand(outs) => self.stand(&outs),
            Action::SetFillers(fillers) => self.set_fillers(fillers),
            // All others are carried out elsewhere.
            _ => {}
        }
    }

    /// Puts drawers and doors so far open, whatever is in the way: it is to be seen.
    fn stand(&mut self, outs: &[(MoverId, f64)]) {
        self.interrupt();
        let model = self.shown.model();
        for &(mover, out) in outs {
            let Some(part) = model.movers.get(mover.0) else { continue };
            let out = out.clamp(0.0, part.motion.extent());
            self.poses.put(part, out, if out > 0.0 { Wish::At(out) } else { Wish::Shut });
        }
        let outs = self.poses.outs(model);
        self.hand.stop(None, outs);
    }

    /// Sets both fillers in one step, which is taken back as one.
    fn set_fillers(&mut self, fillers: Fillers) {
        let edit = fillers_edit(self.shown.plan(), fillers);
        let plan = self.desk.edit(&edit);
        self.show_plan(plan);
    }
}

/// The edit that gives `plan` these fillers.
pub(super) fn fillers_edit(plan: &Plan, fillers: Fillers) -> Edit {
    let set = |side: Side| Edit::Set {
        at: PlanPath::WHOLE.field("corner").field(side.word()),
        value: format!("Fixed({})", form::length_text(fillers.of(side), plan.unit)),
    };
    Edit::Together(Side::BOTH.map(set).into())
}

/// Registers what can be open together.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Together>();
    app.add_systems(Update, keep.after(ViewerSystems::Solve).before(ViewerSystems::Draw));
}

/// Works out what the plan on screen lacks, while the section is open.
fn keep(
    shown: Res<'_, Shown>,
    settings: Res<'_, Settings>,
    poses: Res<'_, Poses>,
    mut together: ResMut<'_, Together>,
    mut redraw: MessageWriter<'_, RequestRedraw>,
) {
    if !settings.together_is_open() {
        return;
    }
    let plan = shown.plan();
    let either = whatever_fillers(plan);
    if !together.pairs.lags(plan) && !together.fillers.lags(&either) {
        return;
    }
    let Together { pairs, fillers, .. } = together.bypass_change_detection();
    let news = if poses.at_once {
        pairs.set(plan.clone(), Pairs::of(shown.model()));
        fillers.set(either.clone(), BothFillers::of(&either));
        true
    } else {
        redraw.write(RequestRedraw);
        let model = shown.model();
        let begun = pairs.follow(plan, || {
            let model = model.clone();
            Box::new(move |_| Ok(Pairs::of(&model)))
        });
        let others = fillers.follow(&either, || {
            let plan = either.clone();
            Box::new(move |_| Ok(BothFillers::of(&plan)))
        });
        begun || others
    };
    if news {
        together.set_changed();
    }
}
