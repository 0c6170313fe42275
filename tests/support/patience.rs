//! How much the random tests do: a watch that stops a search after a while, so
//! that a hard case does not hold up the rest (what was found by then must be
//! just as true), and how many seeds are tried. For a longer hunt set
//! `LASTCOURSE_HUNT=20` for twenty times the seeds and
//! `LASTCOURSE_PATIENCE=2000` for the milliseconds a search may take.

use std::time::{Duration, Instant};

use lastcourse::job::Job;
use lastcourse::plan::{Effort, Objective, Plan, PlanError, PlanOptions, plan};
use lastcourse::verify;
use lastcourse::watch::Watch;

/// So many seeds from a first one on, times the hunt's factor.
pub fn seeds(first: u64, count: u64) -> std::ops::Range<u64> {
    first..first + count * number("LASTCOURSE_HUNT", 1)
}

/// How long one search may take.
pub fn patience() -> Duration {
    Duration::from_millis(number("LASTCOURSE_PATIENCE", 500))
}

fn number(name: &str, usual: u64) -> u64 {
    let set = std::env::var(name).ok();
    set.map_or(usual, |value| value.parse().expect("a whole number"))
}

/// Stops after so long.
pub struct Patience(Instant);

impl Patience {
    pub fn usual() -> Patience {
        Patience(Instant::now() + patience())
    }
}

impl Watch for Patience {
    fn stop(&self) -> bool {
        Instant::now() > self.0
    }
}

/// The program's plan of a job with its first fastener, without a fault.
pub fn planned(job: &Job, prefer: Objective, effort: Effort) -> Result<Plan, PlanError> {
    let options = PlanOptions {
        fastener: 0,
        prefer,
        effort,
        ..PlanOptions::default()
    };
    let plan = plan(job, &options, &Patience::usual())?;
    let faults = verify::plan(job, &plan);
    assert!(faults.is_empty(), "{faults:#?} in {plan:#?} for {job:#?}");
    assert_eq!(plan.totals.objective, prefer);
    Ok(plan)
}
