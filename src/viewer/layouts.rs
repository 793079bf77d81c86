//! How do the pieces lie on sheets and boards? Worked out beside the window, which goes on meanwhile.
//!
//! [`Layouts`] begins a search in a task, tells how far it is, stops it, and drops the answer where the plan's demand or
//! stock is another by then.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use bevy::prelude::{App, DetectChanges as _, IntoScheduleConfigs as _, MessageWriter, Res, ResMut, Resource, Update};
use bevy::tasks::{AsyncComputeTaskPool, Task, block_on, poll_once};
use bevy::window::RequestRedraw;

use super::ViewerSystems;
use super::pointed::CutLists;
use super::shown::Shown;
use crate::cutting::{Demand, LaidOut, lay_out};
use crate::plan::Stock;
use crate::progress::{Cancelled, Effort, Flow, Progress};

/// The layouts, or the search for them.
#[derive(Resource, Debug, Default)]
pub struct Layouts {
    /// What they are the layouts of.
    of: Option<(Demand, Stock)>,
    laid: Option<LaidOut>,
    running: Option<Running>,
}

/// A search that goes on.
#[derive(Debug)]
struct Running {
    task: Task<Result<LaidOut, Cancelled>>,
    stop: Arc<AtomicBool>,
    /// Steps done, and steps after which it ends.
    steps: Arc<[AtomicU64; 2]>,
}

impl Drop for Running {
    fn drop(&mut self) {
        // A task that is dropped while it computes goes on to its end, if nobody tells it.
        self.stop.store(true, Ordering::Relaxed);
    }
}

impl Layouts {
    /// What was found.
    #[must_use]
    pub fn laid(&self) -> Option<&LaidOut> {
        self.laid.as_ref()
    }

    /// How much of the search is done, 0 to 1, while it goes on.
    #[must_use]
    pub fn share_done(&self) -> Option<f32> {
        let [done, of] = self.running.as_ref()?.steps.each_ref().map(|steps| steps.load(Ordering::Relaxed));
        Some((done as f32 / of.max(1) as f32).clamp(0.0, 1.0))
    }

    /// Begins the search.
    pub fn begin(&mut self, demand: &Demand, stock: &Stock) {
        let (stop, steps) = (Arc::new(AtomicBool::new(false)), Arc::new([AtomicU64::new(0), AtomicU64::new(1)]));
        let (demand, stock) = (demand.clone(), stock.clone());
        self.of = Some((demand.clone(), stock.clone()));
        self.laid = None;
        let (asked_to_stop, told) = (Arc::clone(&stop), Arc::clone(&steps));
        let search = async move {
            let watch = |now: Progress| {
                told[0].store(now.steps, Ordering::Relaxed);
                told[1].store(now.of, Ordering::Relaxed);
                if asked_to_stop.load(Ordering::Relaxed) { Flow::Cancel } else { Flow::GoOn }
            };
            lay_out(&demand, &stock, &Effort::for_demand(&demand), &watch)
        };
        let task = AsyncComputeTaskPool::get_or_init(Default::default).spawn(search);
        self.running = Some(Running { task, stop, steps });
    }

    /// Stops the search; nothing comes of it.
    pub fn stop(&mut self) {
        self.running = None;
    }

    /// Drops what is not of this demand and stock.
    fn keep_to(&mut self, demand: &Demand, stock: &Stock) {
        if self.of.as_ref().is_some_and(|(d, s)| d != demand || s != stock) {
            *self = Self::default();
        }
    }

    /// Takes the answer when it is there.
    fn take(&mut self) {
        let Some(running) = &mut self.running else { return };
        if let Some(answer) = block_on(poll_once(&mut running.task)) {
            self.laid = answer.ok();
            self.running = None;
        }
    }
}

/// Registers the layouts.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Layouts>();
    app.add_systems(Update, keep.after(ViewerSystems::Rebuild).before(ViewerSystems::Draw));
}

fn keep(
    shown: Res<'_, Shown>,
    lists: Res<'_, CutLists>,
    mut layouts: ResMut<'_, Layouts>,
    mut redraw: MessageWriter<'_, RequestRedraw>,
) {
    if lists.is_changed()
        && let Some(bench) = &lists.0
        && layouts.of.is_some()
    {
        layouts.keep_to(&bench.demand, &shown.plan().stock);
    }
    if layouts.running.is_some() {
        layouts.take();
        redraw.write(RequestRedraw);
    }
}
