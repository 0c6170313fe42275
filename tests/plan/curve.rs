//! Limits on the number of joints, and the curve of joints against money: on
//! tiny decks what enumeration says, on small ones what must hold of any curve.

use std::collections::BTreeMap;

use crate::support::draw::Draw;
use crate::support::jobs::{Size, job};
use crate::support::patience::seeds;
use crate::support::reference::{Instance, brute};
use lastcourse::job::Job;
use lastcourse::plan::{Curve, Effort, Objective, Plan, PlanError, PlanOptions, curve, plan};
use lastcourse::proof;
use lastcourse::verify;
use lastcourse::watch::Unwatched;

/// A sound plan with so many joints at most.
fn limited(job: &Job, options: &PlanOptions) -> Result<Plan, PlanError> {
    let plan = plan(job, options, &Unwatched)?;
    let faults = verify::plan(job, &plan);
    assert!(faults.is_empty(), "{faults:#?}");
    let most = options.joints_at_most.unwrap_or(u32::MAX);
    assert!(plan.totals.joints <= most, "{:#?}", plan.totals);
    Ok(plan)
}

fn asked(joints_at_most: Option<u32>) -> PlanOptions {
    PlanOptions {
        joints_at_most,
        brief: true,
        ..PlanOptions::default()
    }
}

fn drawn(job: &Job, effort: Effort) -> Result<Curve, PlanError> {
    let asked = PlanOptions {
        effort,
        ..asked(None)
    };
    curve(&asked, &|asks| {
        let totals = |ask: &PlanOptions| limited(job, ask).map(|plan| plan.totals);
        asks.iter().map(totals).collect()
    })
}

/// The least cost of a tiny job for each number of joints at most where one
/// more joint pays.
fn steps(job: &Job) -> Option<Vec<(u32, i64)>> {
    let instance = Instance::new(job, 0, 30)?;
    let mut least: BTreeMap<i64, i64> = BTreeMap::new();
    for plan in brute::every(&instance, Objective::Cost)? {
        let cost = least.entry(plan.joints).or_insert(plan.cost);
        *cost = plan.cost.min(*cost);
    }
    let mut steps: Vec<(u32, i64)> = Vec::new();
    for (joints, cost) in least {
        if steps.last().is_none_or(|last| cost < last.1) {
            steps.push((joints as u32, cost));
        }
    }
    Some(steps)
}

#[test]
fn a_limit_on_joints_costs_what_enumeration_says() {
    let (mut proven, mut open, mut impossible) = (0, 0, 0);
    for seed in seeds(20_000, 120) {
        let job = job(&mut Draw::seeded(seed), Size::Tiny);
        let Some(steps) = steps(&job) else { continue };
        let (Some(first), Some(last)) = (steps.first(), steps.last()) else {
            continue;
        };
        for most in first.0.saturating_sub(2)..=last.0 {
            let best = steps.iter().rev().find(|step| step.0 <= most);
            match (limited(&job, &asked(Some(most))), best) {
                (Err(PlanError::Impossible { message, help }), None) => {
                    assert!(!message.is_empty() && !help.is_empty());
                    impossible += 1;
                }
                (Err(PlanError::NotFound { .. }), _) => open += 1,
                (Ok(plan), Some(best)) => {
                    let totals = &plan.totals;
                    let at = format!("seed {seed}, {most}: {totals:#?}, the best is {best:?}");
                    assert!(totals.bound <= best.1 && totals.value >= best.1, "{at}");
                    assert!(!totals.proven || totals.joints >= best.0, "{at}");
                    match totals.proven {
                        true => proven += 1,
                        false => open += 1,
                    }
                    assert_eq!(plan.joints_at_most, Some(most));
                    if let Some(written) =
                        proof::of_plan(&job, &plan, &Unwatched).expect("small enough")
                    {
                        let confirmed = proof::check(&written, Some(&job));
                        let confirmed = confirmed.unwrap_or_else(|why| panic!("{at}: {why}"));
                        assert!(confirmed.bound <= best.1, "{at}");
                    }
                }
                (found, best) => panic!("seed {seed}, {most}: {found:#?}, the best is {best:?}"),
            }
        }
    }
    assert!(proven > 40 && impossible > 8, "{proven} {impossible}");
    assert!(open * 5 < proven, "{open} open, {proven} proven");
}

#[test]
fn the_curve_is_what_enumeration_says() {
    let (mut whole, mut bent) = (0, 0);
    for seed in seeds(21_000, 100) {
        let job = job(&mut Draw::seeded(seed), Size::Tiny);
        let Some(steps) = steps(&job) else { continue };
        let curve = match drawn(&job, Effort::Full) {
            Ok(curve) => curve,
            Err(PlanError::Impossible { .. }) => {
                assert!(steps.is_empty(), "seed {seed}: {steps:?}");
                continue;
            }
            Err(_) => continue,
        };
        let found: Vec<(u32, i64)> = (curve.points.iter())
            .map(|point| (point.joints, point.price.cents()))
            .collect();
        let at = format!("seed {seed}: {curve:#?}, enumeration says {steps:?}");
        if curve.complete {
            assert_eq!(found, steps, "{at}");
            whole += 1;
            bent += i32::from(steps.len() > 1);
        }
        for point in &curve.points {
            let best = steps.iter().rev().find(|step| step.0 <= point.joints);
            let best = best.unwrap_or_else(|| panic!("{at}"));
            assert!(
                point.bound.cents() <= best.1 && point.price.cents() >= best.1,
                "{at}"
            );
        }
        assert!(
            !curve.fewest_proven || steps.first().map(|s| s.0) == Some(found[0].0),
            "{at}"
        );
    }
    assert!(
        whole > 20 && bent > 4,
        "{whole} whole, {bent} of more than one point"
    );
}

#[test]
fn any_curve_falls_and_its_points_are_plans() {
    let mut points = 0;
    for seed in seeds(22_000, 4) {
        let job = job(&mut Draw::seeded(seed), Size::Small);
        let Ok(curve) = drawn(&job, Effort::Quick) else {
            continue;
        };
        for pair in curve.points.windows(2) {
            assert!(pair[0].joints < pair[1].joints && pair[0].price > pair[1].price);
            assert!(pair[0].bound >= pair[1].bound, "seed {seed}: {curve:#?}");
        }
        for point in &curve.points {
            let plan = limited(&job, &asked(Some(point.joints))).expect("a plan");
            assert!(plan.totals.cost >= point.bound, "seed {seed}: {curve:#?}");
            if plan.totals.proven && point.proven() {
                assert_eq!(
                    (plan.totals.cost, plan.totals.joints),
                    (point.price, point.joints)
                );
            }
            points += 1;
        }
    }
    assert!(points > 2, "{points}");
}
