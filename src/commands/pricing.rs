//! Many plans at once, for tables that compare: on as many cores as there are,
//! each verified like any plan that is shown. The answers stand in the order
//! they were asked for, whichever is done first.

use std::cell::RefCell;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

use lastcourse::fit::{Planned, Task};
use lastcourse::job::Job;
use lastcourse::plan::{Effort, PlanError, PlanOptions, plan};
use lastcourse::verify;
use lastcourse::watch::Watch;

use super::failure::Failure;
use super::watch::Watching;

/// Plans what it is asked to, and remembers whether any plan was unsound.
pub struct Pricing<'a> {
    watch: &'a Watching,
    options: PlanOptions,
    unsound: RefCell<Option<Failure>>,
}

impl<'a> Pricing<'a> {
    /// Prices quickly while the watch lets it.
    pub fn watched(watch: &'a Watching) -> Pricing<'a> {
        let quick = PlanOptions {
            effort: Effort::Quick,
            ..PlanOptions::default()
        };
        Pricing::asked(watch, quick)
    }

    /// Prices while the watch lets it, each plan asked for so, with the task's
    /// own fastener.
    pub fn asked(watch: &'a Watching, options: PlanOptions) -> Pricing<'a> {
        Pricing {
            watch,
            options,
            unsound: RefCell::new(None),
        }
    }

    /// The totals of each task's plan.
    pub fn plan(&self, tasks: &[Task]) -> Vec<Planned> {
        let asked = |task: &Task| PlanOptions {
            fastener: task.fastener,
            ..self.options.clone()
        };
        let all: Vec<(&Job, PlanOptions)> =
            tasks.iter().map(|task| (&task.job, asked(task))).collect();
        self.all(&all)
    }

    /// The totals of one job's plan, asked for in several ways.
    pub fn plan_as(&self, job: &Job, asks: &[PlanOptions]) -> Vec<Planned> {
        let all: Vec<(&Job, PlanOptions)> = asks.iter().map(|ask| (job, ask.clone())).collect();
        self.all(&all)
    }

    fn all(&self, tasks: &[(&Job, PlanOptions)]) -> Vec<Planned> {
        let answers: Vec<Mutex<Option<Answer>>> = tasks.iter().map(|_| Mutex::new(None)).collect();
        let (next, done) = (AtomicUsize::new(0), AtomicUsize::new(0));
        let watch = self.watch;
        let work = || {
            loop {
                let k = next.fetch_add(1, Ordering::Relaxed);
                let Some((job, options)) = tasks.get(k) else {
                    break;
                };
                let answer = one(job, options, &Quiet(watch));
                if let Ok(mut place) = answers[k].lock() {
                    *place = Some(answer);
                }
                let done = done.fetch_add(1, Ordering::Relaxed) + 1;
                watch.say(|| format!("{done} of {} plans priced", tasks.len()));
            }
        };
        let cores = thread::available_parallelism().map_or(1, usize::from);
        thread::scope(|scope| {
            for _ in 1..cores.min(tasks.len()) {
                scope.spawn(work);
            }
            work();
        });
        answers
            .into_iter()
            .map(|place| match place.into_inner() {
                Ok(Some(Answer::Planned(planned))) => planned,
                Ok(Some(Answer::Unsound(failure))) => {
                    self.unsound.borrow_mut().get_or_insert(failure);
                    Err(PlanError::Stopped)
                }
                _ => Err(PlanError::Stopped),
            })
            .collect()
    }

    /// Whether all plans were sound.
    ///
    /// # Errors
    /// When the verifier refused one of them.
    pub fn sound(self) -> Result<(), Failure> {
        match self.unsound.into_inner() {
            Some(failure) => Err(failure),
            None => Ok(()),
        }
    }
}

/// Watches one of several pieces of work: it stops like all of them, and what
/// it alone knows is told to nobody.
struct Quiet<'a>(&'a Watching);

impl Watch for Quiet<'_> {
    fn stop(&self) -> bool {
        self.0.stop()
    }
}

enum Answer {
    Planned(Planned),
    Unsound(Failure),
}

fn one(job: &Job, options: &PlanOptions, watch: &dyn Watch) -> Answer {
    match plan(job, options, watch) {
        Err(error) => Answer::Planned(Err(error)),
        Ok(plan) => match verify::plan(job, &plan).as_slice() {
            [] => Answer::Planned(Ok(plan.totals)),
            violations => Answer::Unsound(Failure::unsound(violations)),
        },
    }
}
