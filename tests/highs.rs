//! With the feature `highs`: random integer programs, cut lists and decks, each
//! solved with the general-purpose solver and without it. What both prove is the
//! same optimum, no bound of one lies above an answer of the other, and every
//! answer passes the verifier.

#![cfg(feature = "highs")]

mod support;

use std::sync::Arc;

use lastcourse::plan::{Effort, Objective, PlanError};
use lastcourse::program::Columns;
use lastcourse::program::branch::{Found, Limits, Program, solve as branch};
use lastcourse::program::general::{Tally, with};
use lastcourse::stock::{StockError, solve};
use lastcourse::verify;
use support::cuts::problem;
use support::draw::Draw;
use support::jobs::{Size, job};
use support::patience::{Patience, planned, seeds};

/// Tallies added up; HiGHS has to have been of use, and right.
#[derive(Debug, Default)]
struct Sum {
    compared: u32,
    asked: u64,
    used: u64,
    refused: u64,
}

impl Sum {
    fn add(&mut self, tally: Tally) {
        self.compared += 1;
        self.asked += tally.asked;
        self.used += tally.used;
        self.refused += tally.refused;
    }
}

/// A program whose rows can all be met: covers with a few negative entries.
fn program(draw: &mut Draw) -> Program {
    let (rows, count) = (draw.between(2, 6), draw.between(9, 30));
    let mut columns = Columns::new();
    for row in 0..rows {
        columns.push(draw.between(20, 60), [(row as u32, 1)]);
    }
    for _ in 0..count {
        let mut entries = Vec::new();
        for row in 0..rows {
            if draw.chance(40) {
                entries.push((row as u32, draw.between(1, 4) as i32));
            } else if draw.chance(5) {
                entries.push((row as u32, -1));
            }
        }
        columns.push(draw.between(5, 90), entries);
    }
    let at_least: Vec<i64> = (0..rows).map(|_| draw.between(0, 25)).collect();
    Program {
        group: vec![0; columns.len()],
        columns: Arc::new(columns),
        at_least,
        sums: Vec::new(),
        most_columns: 400,
        moves: Vec::new(),
        patterns: false,
    }
}

/// What an answer costs, added up from its columns, if it meets every row.
fn cost(program: &Program, found: &Found) -> Option<i64> {
    let (stated, answer) = found.best.as_ref()?;
    let mut sums = vec![0; program.at_least.len()];
    let mut cost = 0;
    for &(j, count) in answer {
        assert!(count > 0, "{answer:?}");
        cost += count * program.columns.cost(j);
        for (row, value) in program.columns.entries(j) {
            sums[row] += count * i64::from(value);
        }
    }
    let met = sums.iter().zip(&program.at_least).all(|(s, b)| s >= b);
    assert!(met, "{answer:?} does not meet {program:?}");
    assert_eq!(cost, *stated, "{answer:?} of {program:?}");
    Some(cost)
}

#[test]
fn programs_cost_the_same() {
    let limits = Limits {
        nodes: 20_000,
        work: 20_000,
    };
    let mut sum = Sum::default();
    let mut nothing = 0;
    for seed in seeds(0, 400) {
        let mut draw = Draw::seeded(seed);
        let program = program(&mut draw);
        let lift = |bound| bound;
        let run = |cutoff| branch(&program, cutoff, &lift, limits, &|| false);
        let (own, none) = with(false, || run(1_000_000));
        assert_eq!(none, Tally::default());
        let (both, tally) = with(true, || run(1_000_000));
        if !(own.finished && both.finished) {
            continue;
        }
        let best = cost(&program, &own);
        assert_eq!(best, cost(&program, &both), "seed {seed}: {program:?}");
        sum.add(tally);
        // A little less than the best is found by neither.
        let Some(best) = best else { continue };
        let (below, _) = with(true, || run(best - 1));
        assert!(below.best.is_none(), "seed {seed}: {below:?} {program:?}");
        nothing += 1;
    }
    assert!(sum.compared > 300 && nothing > 300, "{sum:?} {nothing}");
    assert!(sum.used > 300 && sum.refused == 0, "{sum:?}");
}

#[test]
fn cut_lists_cost_the_same() {
    let mut sum = Sum::default();
    for seed in seeds(20_000, 400) {
        let problem = problem(&mut Draw::seeded(seed), 8, 60);
        let run = |solver| with(solver, || solve(&problem, &Patience::usual()));
        let ((own, _), (both, tally)) = (run(false), run(true));
        let (own, both) = match (own, both) {
            (Ok(own), Ok(both)) => (own, both),
            (Err(StockError::Stopped), _) | (_, Err(StockError::Stopped)) => continue,
            (own, both) => {
                assert_eq!(own.err(), both.err(), "seed {seed}: {problem:#?}");
                continue;
            }
        };
        for plan in [&own, &both] {
            let faults = verify::cut(&problem, plan);
            assert!(faults.is_empty(), "seed {seed}: {faults:#?}");
        }
        assert!(own.bound <= both.cost, "seed {seed}: {problem:#?}");
        assert!(both.bound <= own.cost, "seed {seed}: {problem:#?}");
        if own.proven && both.proven {
            assert_eq!(own.cost, both.cost, "seed {seed}: {problem:#?}");
            sum.add(tally);
        }
    }
    assert!(sum.compared > 200, "{sum:?}");
    assert_eq!(sum.refused, 0, "{sum:?}");
}

#[test]
fn decks_cost_the_same() {
    const OBJECTIVES: [Objective; 3] = [Objective::Cost, Objective::Joints, Objective::Waste];
    let mut sum = Sum::default();
    for seed in seeds(30_000, 400) {
        let size = if seed % 2 == 0 {
            Size::Tiny
        } else {
            Size::Small
        };
        let job = job(&mut Draw::seeded(seed), size);
        let prefer = OBJECTIVES[seed as usize / 2 % 3];
        let run = |solver| with(solver, || planned(&job, prefer, Effort::Full));
        let ((own, _), (both, tally)) = (run(false), run(true));
        let (own, both) = match (own, both) {
            (Ok(own), Ok(both)) => (own.totals, both.totals),
            (Err(PlanError::Impossible { .. }), Ok(both)) => {
                panic!("seed {seed}: impossible, and yet {both:#?} for {job:#?}")
            }
            (Ok(own), Err(PlanError::Impossible { .. })) => {
                panic!("seed {seed}: impossible, and yet {own:#?} for {job:#?}")
            }
            _ => continue,
        };
        assert!(own.bound <= both.value, "seed {seed}: {own:#?} {both:#?}");
        assert!(both.bound <= own.value, "seed {seed}: {own:#?} {both:#?}");
        if own.proven && both.proven {
            assert_eq!(own.value, both.value, "seed {seed}: {job:#?}");
            sum.add(tally);
        }
    }
    assert!(sum.compared > 100, "{sum:?}");
    assert!(sum.used > 20 && sum.refused == 0, "{sum:?}");
}
