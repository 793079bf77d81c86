//! What takes too long for a frame? It is worked out in a task beside the window, told how far it is, and stopped.
//!
//! [`Work`] keeps the last answer and the plan that it is of until the next one comes, so that a person sees what was
//! known and that it is being worked out anew.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use bevy::tasks::{AsyncComputeTaskPool, Task, block_on, poll_once};

use crate::plan::{Filler, Plan, Side};
use crate::progress::{Cancelled, Flow, Progress, Watch};

/// One question that takes long: its last answer, and the task that looks for the next.
#[derive(Debug)]
pub struct Work<T> {
    done: Option<(Plan, T)>,
    running: Option<Running<T>>,
}

#[derive(Debug)]
struct Running<T> {
    of: Plan,
    task: Task<Result<T, Cancelled>>,
    stop: Arc<AtomicBool>,
    /// Steps done, and steps after which it ends.
    steps: Arc<[AtomicU64; 2]>,
}

impl<T> Drop for Running<T> {
    fn drop(&mut self) {
        // A task that is dropped while it computes goes on to its end, if nobody tells it.
        self.stop.store(true, Ordering::Relaxed);
    }
}

impl<T> Default for Work<T> {
    fn default() -> Self {
        Self { done: None, running: None }
    }
}

impl<T> Work<T> {
    /// The last answer, of whatever plan.
    #[must_use]
    pub fn done(&self) -> Option<&T> {
        self.done.as_ref().map(|(_, done)| done)
    }

    /// Whether that answer is of `plan`.
    #[must_use]
    pub fn is_of(&self, plan: &Plan) -> bool {
        self.done.as_ref().is_some_and(|(of, _)| of == plan)
    }

    /// How much of the next one is done, 0 to 1, while it is being worked out; 0 where nobody tells.
    #[must_use]
    pub fn share_done(&self) -> Option<f32> {
        let [done, of] = self.running.as_ref()?.steps.each_ref().map(|steps| steps.load(Ordering::Relaxed));
        Some((done as f32 / of.max(1) as f32).clamp(0.0, 1.0))
    }

    /// Stops what is being worked out; nothing comes of it.
    pub fn stop(&mut self) {
        self.running = None;
    }
}

impl<T: Send + 'static> Work<T> {
    /// Takes this for the answer of `of`: it was worked out in line.
    pub(super) fn set(&mut self, of: Plan, done: T) {
        *self = Self { done: Some((of, done)), running: None };
    }

    /// Begins to work out the answer of `of`, in place of what is being worked out.
    pub(super) fn begin(&mut self, of: Plan, work: impl FnOnce(&Watch<'_>) -> Result<T, Cancelled> + Send + 'static) {
        let (stop, steps) = (Arc::new(AtomicBool::new(false)), Arc::new([AtomicU64::new(0), AtomicU64::new(1)]));
        let (asked_to_stop, told) = (Arc::clone(&stop), Arc::clone(&steps));
        let search = async move {
            let watch = |now: Progress| {
                told[0].store(now.steps, Ordering::Relaxed);
                told[1].store(now.of, Ordering::Relaxed);
                if asked_to_stop.load(Ordering::Relaxed) { Flow::Cancel } else { Flow::GoOn }
            };
            work(&watch)
        };
        let task = AsyncComputeTaskPool::get_or_init(Default::default).spawn(search);
        self.running = Some(Running { of, task, stop, steps });
    }

    /// Takes the answer when it is there; gives whether the work ended.
    pub(super) fn take(&mut self) -> bool {
        let Some(running) = &mut self.running else { return false };
        let Some(answer) = block_on(poll_once(&mut running.task)) else { return false };
        if let Ok(answer) = answer {
            self.done = Some((running.of.clone(), answer));
        }
        self.running = None;
        true
    }

    /// Sees to it that the answer of `plan` is there or on its way; gives whether something came or began.
    ///
    /// One task at a time: one that is of an older plan is told to stop and ends first, and what comes of it all the same
    /// is shown until the next.
    pub(super) fn follow(
        &mut self,
        plan: &Plan,
        work: impl FnOnce() -> Box<dyn FnOnce(&Watch<'_>) -> Result<T, Cancelled> + Send>,
    ) -> bool {
        let ended = self.take();
        match &self.running {
            Some(running) => {
                if running.of != *plan {
                    running.stop.store(true, Ordering::Relaxed);
                }
                ended
            }
            None if self.is_of(plan) => ended,
            None => {
                self.begin(plan.clone(), work());
                true
            }
        }
    }

    /// Whether [`Work::follow`] has something to do for `plan`.
    pub(super) fn lags(&self, plan: &Plan) -> bool {
        self.running.is_some() || !self.is_of(plan)
    }
}

/// `plan` with both fillers asked for: what depends on no filler's width is the same for all such plans.
pub(super) fn whatever_fillers(plan: &Plan) -> Plan {
    let mut plan = plan.clone();
    for side in Side::BOTH {
        plan.corner = plan.corner.with_filler(side, Filler::Least);
    }
    plan
}
