//! Plans of small random decks against the reference models: no bound above
//! the optimum, nothing proven that is not the optimum, nothing called
//! impossible that can be done.

use crate::support::draw::{Draw, strategy};
use crate::support::jobs::{Size, job};
use crate::support::patience::{planned, seeds};
use crate::support::reference::{Best, Instance, Outcome, brute, milp};
use lastcourse::job::Job;
use lastcourse::plan::{Effort, Objective, PlanError};
use proptest::prelude::*;

const OBJECTIVES: [Objective; 3] = [Objective::Cost, Objective::Joints, Objective::Waste];
/// How the program did on jobs of which the optimum is known.
#[derive(Debug, Default)]
struct Tally {
    proven: u32,
    open: u32,
    impossible: u32,
    nothing: u32,
}

/// Holds a plan against the known optimum; an error says what is wrong.
fn compare(
    job: &Job,
    prefer: Objective,
    effort: Effort,
    outcome: &Outcome,
    tally: &mut Tally,
) -> Result<(), String> {
    let best = match outcome {
        Outcome::TooLarge => return Ok(()),
        Outcome::Best(best) => Some(best),
        Outcome::Impossible => None,
    };
    let plan = match (planned(job, prefer, effort), best) {
        (Err(PlanError::NotFound { .. } | PlanError::Stopped), _) => {
            tally.nothing += 1;
            return Ok(());
        }
        (Err(PlanError::Impossible { message, help }), None) => {
            tally.impossible += 1;
            return match message.is_empty() || help.is_empty() {
                true => Err("says nothing".into()),
                false => Ok(()),
            };
        }
        (Ok(plan), Some(_)) => plan,
        (result, best) => return Err(format!("{result:#?}, but the best is {best:?}")),
    };
    let (totals, best) = (&plan.totals, best.expect("a best plan"));
    let found = Best {
        value: totals.value,
        cost: totals.cost.cents(),
        joints: totals.joints.into(),
    };
    let wrong = |what: &str| Err(format!("{what}: {totals:#?}, but the best is {best:?}"));
    if totals.bound > best.value {
        return wrong("a bound above the optimum");
    }
    if found < *best {
        return wrong("better than the optimum");
    }
    if !totals.proven {
        tally.open += 1;
        return Ok(());
    }
    tally.proven += 1;
    if totals.value != best.value {
        return wrong("proven, but not the optimum");
    }
    if totals.joints_proven && prefer == Objective::Cost && found != *best {
        return wrong("fewest joints proven, but there are fewer");
    }
    Ok(())
}

#[test]
fn tiny_decks_cost_what_enumeration_says() {
    let mut tally = Tally::default();
    for seed in seeds(0, 600) {
        let job = job(&mut Draw::seeded(seed), Size::Tiny);
        let Some(instance) = Instance::new(&job, 0, 40) else {
            continue;
        };
        let prefer = match seed % 2 {
            0 => Objective::Cost,
            _ => OBJECTIVES[seed as usize / 2 % 3],
        };
        let effort = match seed % 5 {
            0 => Effort::Quick,
            _ => Effort::Full,
        };
        let outcome = brute::solve(&instance, prefer);
        if let Err(wrong) = compare(&job, prefer, effort, &outcome, &mut tally) {
            panic!("seed {seed} {prefer:?} {effort:?}: {wrong} for {job:#?}");
        }
    }
    let done = tally.proven + tally.impossible;
    assert!(tally.proven > 200 && tally.impossible > 60, "{tally:?}");
    assert!((tally.open + tally.nothing) * 4 < done, "{tally:?}");
}

#[test]
fn a_solver_says_the_same() {
    let mut compared = 0;
    for seed in seeds(7_000, 80) {
        let job = job(&mut Draw::seeded(seed), Size::Tiny);
        let Some(instance) = Instance::new(&job, 0, 12) else {
            continue;
        };
        let prefer = OBJECTIVES[seed as usize % 3];
        // The solver was asked for the value alone.
        if let Outcome::Best(best) = milp::solve(&instance, prefer)
            && let Ok(plan) = planned(&job, prefer, Effort::Full)
        {
            let totals = &plan.totals;
            assert!(
                totals.bound <= best.value,
                "seed {seed}: {totals:#?} {best:?}"
            );
            assert!(
                totals.value >= best.value,
                "seed {seed}: {totals:#?} {best:?}"
            );
            compared += 1;
        }
    }
    assert!(compared > 15, "{compared}");
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 150,
        max_shrink_iters: 400,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    /// The same by shrinking choices, so that a failure shows its simplest deck.
    #[test]
    fn any_tiny_deck(job in strategy(|draw| job(draw, Size::Tiny)), prefer in 0_usize..3) {
        if let Some(instance) = Instance::new(&job, 0, 40) {
            let prefer = OBJECTIVES[prefer];
            let outcome = brute::solve(&instance, prefer);
            compare(&job, prefer, Effort::Full, &outcome, &mut Tally::default())
                .map_err(TestCaseError::fail)?;
        }
    }
}
