//! Supports that carry joints at a price, against every set of supports there is:
//! the best plan on each set alone, the set paid for, and the least of them all.

use crate::support::draw::Draw;
use crate::support::jobs::{Size, job};
use lastcourse::deck::supports;
use lastcourse::job::{Job, Zone};
use lastcourse::length::Length;
use lastcourse::money::Money;
use lastcourse::plan::{Plan, PlanError, PlanOptions, plan};
use lastcourse::verify;
use lastcourse::watch::Unwatched;

/// More sets than two to this are too many to try.
const MOST_SUPPORTS: usize = 6;
/// Seeds of decks with few enough supports, whose sets are soon tried.
const SEEDS: [u64; 3] = [14, 33, 38];

/// The inner supports where a joint may lie.
fn inner(job: &Job) -> Vec<Length> {
    let centres = supports(job).centres;
    let inner = centres.iter().skip(1).take(centres.len().saturating_sub(2));
    let kept = |at: &&Length| !job.joints.keep_out.iter().any(|zone| zone.holds(**at));
    inner.filter(kept).copied().collect()
}

fn best(job: &Job) -> Option<Plan> {
    match plan(job, &PlanOptions::default(), &Unwatched) {
        Ok(plan) => Some(plan),
        Err(PlanError::Impossible { .. }) => None,
        Err(other) => panic!("{other:?}"),
    }
}

/// The least of all sets of supports, each paid for; nothing where none will do.
/// Sets whose plan is not proven make the second false.
fn by_sets(job: &Job) -> (Option<i64>, bool) {
    let inner = inner(job);
    let (mut least, mut sure): (Option<i64>, bool) = (None, true);
    for set in 0..1u32 << inner.len() {
        let mut alone = job.clone();
        alone.joints.doubled_joist_price = Money::ZERO;
        for (k, &at) in inner.iter().enumerate() {
            if set & 1 << k == 0 {
                alone.joints.keep_out.push(Zone { from: at, to: at });
            }
        }
        let Some(plan) = best(&alone) else { continue };
        sure &= plan.totals.proven;
        let paid = job.joints.doubled_joist_price * i64::from(set.count_ones());
        let all = plan.totals.cost.cents() + paid.cents();
        least = Some(least.map_or(all, |least| least.min(all)));
    }
    (least, sure)
}

#[test]
fn the_best_of_all_sets_of_supports() {
    let mut compared = 0;
    for seed in SEEDS {
        let mut draw = Draw::seeded(seed);
        let mut job = job(&mut draw, Size::Small);
        job.joints.repeat = None;
        job.joints.doubled_joist_price = Money::from_cents(100 + 37 * (seed as i64 % 60));
        if inner(&job).len() > MOST_SUPPORTS || inner(&job).len() < 2 {
            continue;
        }
        let (least, sure) = by_sets(&job);
        let found = best(&job);
        assert_eq!(found.is_some(), least.is_some(), "seed {seed}");
        let (Some(found), Some(least)) = (found, least) else {
            continue;
        };
        assert_eq!(verify::plan(&job, &found), [], "seed {seed}");
        let totals = &found.totals;
        assert!(
            totals.bound <= least && least <= totals.value || !sure,
            "seed {seed}: {} to {} and by sets {least}",
            totals.bound,
            totals.value
        );
        assert!(totals.proven, "seed {seed}: {totals:?}");
        compared += 1;
    }
    assert_eq!(compared, SEEDS.len());
}
