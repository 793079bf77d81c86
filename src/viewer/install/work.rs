//! What is told about installing the plan on screen? Worked out in a task beside the window, once a change of the plan.

use std::collections::BTreeMap;

use bevy::prelude::{DetectChangesMut as _, MessageWriter, Res, ResMut, Resource};
use bevy::tasks::{AsyncComputeTaskPool, Task, block_on, poll_once};
use bevy::window::RequestRedraw;

use super::Installing;
use crate::clearance::{self, Answer};
use crate::command;
use crate::install::Installation;
use crate::install::order::StepId;
use crate::model::{Model, Part, PartId};
use crate::plan::Plan;
use crate::viewer::motion::Poses;
use crate::viewer::settings::Settings;
use crate::viewer::shown::Shown;

/// All that the section for installing reads.
#[derive(Debug)]
pub struct Done {
    /// How it goes in.
    pub installation: Installation,
    /// Whether everything opens in the measured room.
    pub opens: Answer,
    /// In which step each part comes.
    comes_in: BTreeMap<PartId, usize>,
    /// The steps in which drawers and doors are taken off and put back.
    off: Option<[usize; 2]>,
}

impl Done {
    /// Works it out for `plan` and its `model`.
    #[must_use]
    pub fn new(plan: &Plan, model: &Model) -> Self {
        let installation = command::installed(plan, model);
        let opens = clearance::answer_in(plan, installation.model.clone());
        let order = &installation.order;
        let comes = order.iter().enumerate().flat_map(|(k, step)| step.parts.iter().map(move |&part| (part, k)));
        let comes_in = comes.rev().collect();
        let at = |id: StepId| order.iter().position(|step| step.id == id);
        let off = at(StepId::TakeOff).zip(at(StepId::PutBack)).map(|(off, back)| [off, back]);
        Self { installation, opens, comes_in, off }
    }

    /// Whether `part` stands in the room in `step`: it has come, and is not off to be painted. What comes in no step, as the
    /// room, is always there.
    #[must_use]
    pub fn stands(&self, part: &Part, step: usize) -> bool {
        let has_come = self.comes_in.get(&part.id).is_none_or(|&comes| comes <= step);
        let is_off = part.mover.is_some() && self.off.is_some_and(|[off, back]| off < step && step < back);
        has_come && !is_off
    }

    /// Whether `step` is about `part`.
    #[must_use]
    pub fn comes(&self, part: &Part, step: usize) -> bool {
        let handled = part.mover.is_some() && self.off.is_some_and(|steps| steps.contains(&step));
        self.comes_in.get(&part.id) == Some(&step) || handled
    }
}

/// What was worked out, or is being worked out.
#[derive(Resource, Debug, Default)]
pub struct Installed {
    /// Of this plan.
    of: Option<Plan>,
    done: Option<Done>,
    running: Option<(Plan, Task<Done>)>,
}

impl Installed {
    /// What was worked out of the plan on screen, once it is.
    #[must_use]
    pub fn done(&self) -> Option<&Done> {
        self.done.as_ref()
    }
}

/// Begins the work where the section is open and the plan is another, and takes the answer when it is there. Until then
/// nothing of an older plan is told.
pub(super) fn keep(
    shown: Res<'_, Shown>,
    settings: Res<'_, Settings>,
    poses: Res<'_, Poses>,
    mut installed: ResMut<'_, Installed>,
    mut installing: ResMut<'_, Installing>,
    mut redraw: MessageWriter<'_, RequestRedraw>,
) {
    let plan = shown.plan();
    if installed.of.as_ref().is_some_and(|of| of != plan) {
        (installed.of, installed.done) = (None, None);
    }
    if !settings.install_is_open() {
        if installing.showing.is_some() {
            installing.showing = None;
        }
        return;
    }
    if installed.of.is_some() {
        return;
    }
    let finished = if poses.at_once {
        Some(Done::new(plan, shown.model()))
    } else {
        redraw.write(RequestRedraw);
        let Installed { running, .. } = installed.bypass_change_detection();
        finished(running, plan, shown.model())
    };
    if let Some(done) = finished {
        installing.follow(&done);
        (installed.of, installed.done) = (Some(plan.clone()), Some(done));
    }
}

/// The answer for `plan`, when it is there. One task at a time: one that is of an older plan ends first.
fn finished(running: &mut Option<(Plan, Task<Done>)>, plan: &Plan, model: &Model) -> Option<Done> {
    match running {
        None => {
            let (own, model) = (plan.clone(), model.clone());
            let task =
                AsyncComputeTaskPool::get_or_init(Default::default).spawn(async move { Done::new(&own, &model) });
            *running = Some((plan.clone(), task));
            None
        }
        Some((of, task)) => {
            let done = block_on(poll_once(task))?;
            let is_wanted = of == plan;
            *running = None;
            is_wanted.then_some(done)
        }
    }
}
