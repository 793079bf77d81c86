//! What is on screen? The plan, and the answer worked out from it.
//!
//! [`Shown`] is the one truth of the window: the scene, the panel and the marks are drawn from it and nothing is stored
//! in them. Working the answer out takes about a millisecond, so it is done in line, at most once a frame.

use std::sync::OnceLock;

use bevy::prelude::Resource;

use crate::clearance::{self, Answer, Finding, Opening};
use crate::model::{Model, MoverId, PartId};
use crate::people::People;
use crate::plan::Plan;
use crate::report::{self, Mark, OwnerAnswer};
use crate::showing::showing;
use crate::wood::Reading;

use super::dimension::{self, Dimension};

/// The plan on screen and the answer worked out from it.
#[derive(Resource, Debug)]
pub struct Shown {
    plan: Plan,
    answer: Answer,
    stale: bool,
    chosen: Option<usize>,
    read: Readings,
}

/// What is read from the answer when somebody looks at it, once an answer.
#[derive(Debug, Default)]
struct Readings {
    asks: OnceLock<Vec<OwnerAnswer>>,
    dimensions: OnceLock<Vec<Dimension>>,
    wood: OnceLock<Reading>,
    worries: OnceLock<Lines>,
    in_use: OnceLock<[Lines; 2]>,
}

/// Lines of a report.
type Lines = Vec<(Mark, String)>;

impl Shown {
    /// Shows `plan`.
    #[must_use]
    pub fn new(plan: Plan) -> Self {
        let answer = clearance::answer(&plan);
        Self { plan, answer, stale: false, chosen: None, read: Readings::default() }
    }

    /// The plan, as the text on the desk says.
    #[must_use]
    pub fn plan(&self) -> &Plan {
        &self.plan
    }

    /// What was worked out from it.
    #[must_use]
    pub fn answer(&self) -> &Answer {
        &self.answer
    }

    /// The solid parts.
    #[must_use]
    pub fn model(&self) -> &Model {
        &self.answer.model
    }

    /// How the drawer or door `mover` opens.
    #[must_use]
    pub fn opening(&self, mover: MoverId) -> Option<&Opening> {
        self.answer.openings.iter().find(|opening| opening.mover == mover)
    }

    /// Index of the finding that is pointed out.
    #[must_use]
    pub fn chosen(&self) -> Option<usize> {
        self.chosen
    }

    /// The finding that is pointed out.
    #[must_use]
    pub fn chosen_finding(&self) -> Option<&Finding> {
        self.chosen.and_then(|k| self.answer.findings.get(k))
    }

    /// Points out a finding, or none.
    pub fn choose(&mut self, finding: Option<usize>) {
        self.chosen = finding.filter(|&k| k < self.answer.findings.len());
    }

    /// What owners ask, answered.
    #[must_use]
    pub fn asks(&self) -> &[OwnerAnswer] {
        self.read.asks.get_or_init(|| report::owner_answers(self.model(), &showing(self.model())))
    }

    fn wood(&self) -> &Reading {
        self.read.wood.get_or_init(|| Reading::of(&self.plan, self.model()))
    }

    /// What wood and load make bad.
    #[must_use]
    pub fn worries(&self) -> &[(Mark, String)] {
        self.read.worries.get_or_init(|| report::worry_lines(self.model(), self.wood()))
    }

    /// Room for people, and all that wood and load do.
    #[must_use]
    pub fn in_use(&self) -> [&[(Mark, String)]; 2] {
        let read = || {
            let people = report::people_text(self.model(), &People::of(&self.plan, self.model()));
            [people, report::wood_text(&self.plan, self.model(), self.wood())]
        };
        self.read.in_use.get_or_init(read).each_ref().map(Vec::as_slice)
    }

    /// The dimension lines of the plan.
    #[must_use]
    pub fn dimensions(&self) -> &[Dimension] {
        self.read.dimensions.get_or_init(|| dimension::dimensions(&self.plan, self.model()))
    }

    /// Takes another plan.
    pub fn set_plan(&mut self, plan: Plan) {
        self.plan = plan;
        self.stale = true;
    }

    /// Whether [`Shown::solve`] has something to do.
    #[must_use]
    pub fn is_stale(&self) -> bool {
        self.stale
    }

    /// Works the answer out again. A finding that is pointed out stays so while it is still found.
    pub fn solve(&mut self) {
        let kept = self.chosen_finding().map(|finding| self.likeness(finding));
        self.answer = clearance::answer(&self.plan);
        self.read = Readings::default();
        self.stale = false;
        let again = kept.and_then(|kept| self.answer.findings.iter().position(|f| self.likeness(f) == kept));
        self.chosen = again;
    }

    /// What stays the same about a finding when widths change: the names of its two parts.
    fn likeness(&self, finding: &Finding) -> [String; 2] {
        let name = |part: PartId| self.answer.model.parts.get(part.0).map(|p| p.name.clone()).unwrap_or_default();
        [name(finding.part), name(finding.other)]
    }
}
