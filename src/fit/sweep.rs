//! What a job comes to over a range of values of one of its fields: courses,
//! boards and money at each, and which of them is cheapest. Values are read and
//! plans made by others.

use super::price::{Planned, Planner, Task, plan_all};
use crate::courses::{Across, Outcome};
use crate::deck::surface;
use crate::job::{Job, SweepStep};
use crate::plan::{PlanError, Totals};

/// What the job comes to at one value.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// The value, and the change that makes it.
    pub step: SweepStep,
    /// What the courses come to; nothing where there is no deck.
    pub outcome: Option<Outcome>,
    /// The board plan's totals, or why there is none.
    pub plan: Result<Totals, String>,
    /// Whether its planning was stopped from outside.
    pub stopped: bool,
    /// Whether no other value is known to be better.
    pub cheapest: bool,
}

/// What a job comes to at each of some values, in their order: the job with
/// that value, or why there is none.
///
/// # Panics
/// When a job has no such fastener.
pub fn sweep(
    values: Vec<(SweepStep, Result<Job, String>)>,
    fastener: usize,
    planner: Planner,
) -> Vec<Point> {
    let tasks: Vec<Task> = values
        .iter()
        .filter_map(|(_, job)| job.as_ref().ok())
        .map(|job| Task {
            job: job.clone(),
            fastener,
        })
        .collect();
    let mut planned = plan_all(&tasks, planner).into_iter();
    let mut points: Vec<Point> = values
        .into_iter()
        .map(|(step, job)| {
            let surface = job.as_ref().ok().and_then(|job| surface(job).ok());
            let (plan, stopped) = match &job {
                Ok(_) => told(planned.next()),
                Err(why) => (Err(why.clone()), false),
            };
            let outcome = match (&job, surface) {
                (Ok(job), Some(surface)) => Some(Across::of(job, &surface, fastener).outcome()),
                _ => None,
            };
            Point {
                step,
                outcome,
                plan,
                stopped,
                cheapest: false,
            }
        })
        .collect();
    let worth = |point: &Point| {
        let totals = point.plan.as_ref().ok()?;
        Some((totals.value, totals.cost, totals.joints))
    };
    let best = points.iter().filter_map(worth).min();
    for point in &mut points {
        point.cheapest = best.is_some() && worth(point) == best;
    }
    points
}

fn told(planned: Option<Planned>) -> (Result<Totals, String>, bool) {
    match planned.unwrap_or(Err(PlanError::Stopped)) {
        Ok(totals) => {
            let stopped = totals.stopped;
            (Ok(totals), stopped)
        }
        Err(error) => (Err(error.to_string()), error == PlanError::Stopped),
    }
}
