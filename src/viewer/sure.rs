//! How sure is it, and what would make it narrower? [`crate::certainty`], asked in tasks while its section is open.
//!
//! Told in words: what was off belongs to the model that was asked, and that may be another by the time it is read.

use bevy::prelude::{
    App, DetectChangesMut as _, IntoScheduleConfigs as _, MessageWriter, Res, ResMut, Resource, Update,
};
use bevy::window::RequestRedraw;

use super::ViewerSystems;
use super::action::{Action, Applied};
use super::desk::Desk;
use super::motion::Poses;
use super::settings::Settings;
use super::shown::Shown;
use super::together::fillers_edit;
use super::work::{Work, whatever_fillers};
use crate::certainty::alternatives::alternatives;
use crate::certainty::{self, Enough, Sampling, Worst};
use crate::clearance::Answer;
use crate::length::Length;
use crate::model::Fillers;
use crate::plan::write::Edit;
use crate::plan::{Filler, Plan, Side};
use crate::progress::{Cancelled, Watch};
use crate::report::Mark;
use crate::report::certainty as words;

/// The worst case.
#[derive(Clone, Debug)]
pub struct WorstTold {
    /// What came of it.
    pub worst: Worst,
    /// Each side in words.
    pub lines: [String; 2],
    /// What it rests on.
    pub rests_on: Vec<String>,
}

impl WorstTold {
    fn of(plan: &Plan, answer: &Answer) -> Self {
        Self::new(plan, answer, certainty::worst(plan, answer))
    }

    fn new(plan: &Plan, answer: &Answer, worst: Worst) -> Self {
        let line = |k: usize| words::worst_line(&answer.model, &worst.wanted[k], &worst.apart[k]);
        Self { lines: [line(0), line(1)], rests_on: words::rests_on(plan, &worst), worst }
    }
}

/// What samples say of one side.
#[derive(Clone, Debug)]
pub struct SideTold {
    /// Which side.
    pub side: Side,
    /// Mean and sigma, in words.
    pub line: String,
    /// Widths that keep the clearance wanted, the surest last.
    pub wanted: Vec<Enough>,
    /// Widths that stay apart at all, the surest last.
    pub apart: Vec<Enough>,
    /// What the variance comes from: its share, and what it is.
    pub shares: Vec<(f64, String)>,
}

/// What samples say.
#[derive(Clone, Debug)]
pub struct SamplesTold {
    /// The verdict.
    pub verdict: (Mark, String),
    /// How often something touches, and comes nearer than is wanted, each with its band.
    pub chances: [String; 2],
    /// The left side, then the right.
    pub sides: [SideTold; 2],
    /// How many, and from which seed.
    pub count: String,
}

impl SamplesTold {
    /// Draws the samples.
    ///
    /// # Errors
    /// If `watch` cancels.
    pub fn of(plan: &Plan, answer: &Answer, sampling: Sampling, watch: &Watch<'_>) -> Result<Self, Cancelled> {
        let (_, sure) = certainty::sure(plan, answer, sampling, watch)?;
        let model = &answer.model;
        let told = |k: usize| {
            let side = &sure.sides[k];
            SideTold {
                side: side.side,
                line: words::mean_line(model, side),
                wanted: side.wanted.clone(),
                apart: side.apart.clone(),
                shares: words::shares(model, side),
            }
        };
        Ok(Self {
            verdict: words::touch_verdict(&sure),
            chances: words::chance_lines(&sure),
            sides: [told(0), told(1)],
            count: words::samples_line(&sure),
        })
    }
}

/// One change of the plan and what it would do.
#[derive(Clone, Debug)]
pub struct ChangeTold {
    /// What is changed.
    pub what: String,
    /// What comes of it.
    pub does: String,
    /// How much narrower both fillers together become.
    pub saved: Length,
    /// The change as an edit of the plan's text.
    pub edit: Edit,
    /// The least fillers with it.
    pub fillers: Fillers,
}

/// What would make the fillers narrower.
#[derive(Clone, Debug)]
pub struct NarrowerTold {
    /// The least fillers as the plan is.
    pub before: Fillers,
    /// What saves most first; what saves nothing is left out.
    pub better: Vec<ChangeTold>,
    /// Changes that save nothing, a line each.
    pub rest: Vec<String>,
    /// Changes that cannot be built, and why not.
    pub refused: Vec<String>,
    /// What else the corner could hold.
    pub corner: Vec<String>,
}

impl NarrowerTold {
    /// Tries the changes of the plan in `text`, from the file `name`.
    ///
    /// # Errors
    /// If `watch` cancels.
    pub fn of(name: &str, text: &str, plan: &Plan, watch: &Watch<'_>) -> Result<Self, Cancelled> {
        let tried = alternatives(name, text, plan, watch)?;
        let (better, rest): (Vec<_>, Vec<_>) = tried.list.iter().partition(|one| one.saved > Length::ZERO);
        let told = better.into_iter().map(|one| ChangeTold {
            what: words::change_words(plan, &one.change),
            does: words::change_does(plan, one),
            saved: one.saved,
            edit: one.edit.clone(),
            fillers: one.fillers,
        });
        let line = |what: String, does: String| format!("{what}: {does}");
        Ok(Self {
            before: tried.before,
            better: told.collect(),
            rest: rest
                .into_iter()
                .map(|one| line(words::change_words(plan, &one.change), words::change_does(plan, one)))
                .collect(),
            refused: tried
                .refused
                .iter()
                .map(|refused| line(words::change_words(plan, &refused.change), refused.why.clone()))
                .collect(),
            corner: words::corner_lines(plan, &tried),
        })
    }
}

/// What was worked out, or is being worked out.
#[derive(Resource, Debug, Default)]
pub struct Certain {
    worst: Work<WorstTold>,
    samples: Work<SamplesTold>,
    narrower: Work<NarrowerTold>,
}

impl Certain {
    /// The worst case, and whether it is of `plan`.
    #[must_use]
    pub fn worst(&self, plan: &Plan) -> Option<(&WorstTold, bool)> {
        Some((self.worst.done()?, self.worst.is_of(plan)))
    }

    /// What samples say, and whether they are of `plan`.
    #[must_use]
    pub fn samples(&self, plan: &Plan) -> Option<(&SamplesTold, bool)> {
        Some((self.samples.done()?, self.samples.is_of(plan)))
    }

    /// What would make the fillers narrower, and whether that is of `plan`, whatever its fillers.
    #[must_use]
    pub fn narrower(&self, plan: &Plan) -> Option<(&NarrowerTold, bool)> {
        Some((self.narrower.done()?, self.narrower.is_of(&whatever_fillers(plan))))
    }

    /// How many of the samples are drawn, 0 to 1, while they are.
    #[must_use]
    pub fn drawing(&self) -> Option<f32> {
        self.samples.share_done()
    }

    /// How many of the changes are tried, 0 to 1, while they are.
    #[must_use]
    pub fn trying(&self) -> Option<f32> {
        self.narrower.share_done()
    }
}

impl Applied<'_> {
    /// What is asked while the section for how sure it is, is open.
    pub(super) fn sure(&mut self, action: &Action) {
        match *action {
            Action::Sample(true) => {
                let (plan, answer) = (self.shown.plan().clone(), self.shown.answer().clone());
                let threads = std::thread::available_parallelism().map_or(1, usize::from);
                let sampling = Sampling { threads, ..Sampling::default() };
                let of = plan.clone();
                self.certain.samples.begin(of, move |watch| SamplesTold::of(&plan, &answer, sampling, watch));
            }
            Action::Sample(false) => self.certain.samples.stop(),
            Action::TryChange(index) => self.try_change(index),
            // All others are carried out elsewhere.
            _ => {}
        }
    }

    /// Makes a change in the plan, and gives fillers that the plan fixes the width that it allows; one step.
    fn try_change(&mut self, index: usize) {
        let plan = self.shown.plan();
        let Some(change) = self.certain.narrower.done().and_then(|told| told.better.get(index)) else { return };
        let mut edits = vec![change.edit.clone()];
        if Side::BOTH.iter().any(|side| matches!(plan.corner.filler(*side), Filler::Fixed(_))) {
            edits.push(fillers_edit(plan, change.fillers));
        }
        let plan = self.desk.edit(&Edit::Together(edits));
        self.show_plan(plan);
    }
}

/// Registers how sure it is.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Certain>();
    app.add_systems(Update, keep.after(ViewerSystems::Solve).before(ViewerSystems::Draw));
}

/// Works out what the plan on screen lacks, while the section is open. Samples are drawn when asked for alone.
fn keep(
    shown: Res<'_, Shown>,
    desk: Res<'_, Desk>,
    settings: Res<'_, Settings>,
    poses: Res<'_, Poses>,
    mut certain: ResMut<'_, Certain>,
    mut redraw: MessageWriter<'_, RequestRedraw>,
) {
    if certain.samples.share_done().is_some() {
        redraw.write(RequestRedraw);
        if certain.bypass_change_detection().samples.take() {
            certain.set_changed();
        }
    }
    if !settings.sure_is_open() {
        return;
    }
    let plan = shown.plan();
    let either = whatever_fillers(plan);
    if !certain.worst.lags(plan) && !certain.narrower.lags(&either) {
        return;
    }
    redraw.write(RequestRedraw);
    let Certain { worst, narrower, .. } = certain.bypass_change_detection();
    let answer = shown.answer();
    let first = if poses.at_once {
        worst.set(plan.clone(), WorstTold::of(plan, answer));
        true
    } else {
        worst.follow(plan, || {
            let (plan, answer) = (plan.clone(), answer.clone());
            Box::new(move |_| Ok(WorstTold::of(&plan, &answer)))
        })
    };
    let (name, text) = (desk.name(), desk.text());
    let second = narrower.follow(&either, || {
        let (name, text, plan) = (name.to_owned(), text.to_owned(), plan.clone());
        Box::new(move |watch| NarrowerTold::of(&name, &text, &plan, watch))
    });
    if first || second {
        certain.set_changed();
    }
}
