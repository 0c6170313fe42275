//! Integer programs against every answer, where those can be listed, and against a
//! general-purpose solver.

use std::sync::Arc;

use itertools::Itertools;
use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome};
use proptest::prelude::*;

use super::Columns;
use super::branch::{Found, Limits, Program, Way, solve};

/// Columns, as costs and coefficients by row, and right sides.
#[derive(Debug, Clone)]
struct Given {
    columns: Vec<(i64, Vec<i32>)>,
    at_least: Vec<i64>,
}

fn given(
    columns: std::ops::Range<usize>,
    rows: std::ops::Range<usize>,
    costs: std::ops::Range<i64>,
) -> impl Strategy<Value = Given> {
    (columns, rows).prop_flat_map(move |(count, rows)| {
        let number = prop_oneof![2 => Just(0), 3 => 1i32..=7, 1 => -4i32..0];
        let column = (costs.clone(), proptest::collection::vec(number, rows));
        let columns = proptest::collection::vec(column, count);
        let at_least = proptest::collection::vec(-5i64..=14, rows);
        (columns, at_least).prop_map(|(columns, at_least)| Given { columns, at_least })
    })
}

impl Given {
    fn program(&self, most_columns: i64) -> Program {
        let mut columns = Columns::new();
        for (cost, values) in &self.columns {
            let entries = values.iter().enumerate().map(|(r, &v)| (r as u32, v));
            columns.push(*cost, entries);
        }
        // All columns together, and each second one.
        let all = 0..self.columns.len() as u32;
        let sums = [1, 2].map(|step| all.clone().step_by(step).map(|j| (j, 1)).collect());
        Program {
            columns: Arc::new(columns),
            at_least: self.at_least.clone(),
            group: vec![0; self.columns.len()],
            sums: sums.to_vec(),
            most_columns,
            moves: Vec::new(),
            way: match self.at_least.len().is_multiple_of(2) {
                true => Way::Deep,
                false => Way::Wide,
            },
        }
    }

    fn solve(&self, most_columns: i64, cutoff: i64, nodes: u64) -> Found {
        let limits = Limits { nodes, work: 1_000 };
        let program = self.program(most_columns);
        solve(&program, cutoff, &|bound| bound, limits, &|| false)
    }

    /// What nothing costs less than by what was found.
    fn known(found: &Found) -> i64 {
        let best = found.best.as_ref().map_or(i64::MAX, |best| best.0);
        found.bound.min(best)
    }

    fn cost(&self, answer: &[i64]) -> i64 {
        self.columns.iter().zip(answer).map(|(c, &x)| c.0 * x).sum()
    }

    fn meets(&self, answer: &[i64]) -> bool {
        self.at_least.iter().enumerate().all(|(row, &b)| {
            let terms = self.columns.iter().zip(answer);
            terms.map(|(c, &x)| i64::from(c.1[row]) * x).sum::<i64>() >= b
        })
    }
}

/// Programs whose relaxation has many answers that cost the same, one of them whole, and
/// that cost: prices are given to the rows, and every column costs what it is worth.
fn tied() -> impl Strategy<Value = (Given, i64)> {
    (2usize..8, 1usize..5).prop_flat_map(|(count, rows)| {
        let column = (proptest::collection::vec(0i32..=7, rows), 0i64..=9);
        let columns = proptest::collection::vec(column, count);
        let prices = proptest::collection::vec(1_000_000i64..9_000_000, rows);
        (columns, prices).prop_map(|(columns, prices)| {
            let of = |(values, times): &(Vec<i32>, i64)| -> Vec<i64> {
                values.iter().map(|&v| i64::from(v) * times).collect()
            };
            let at_least = (0..prices.len()).map(|row| columns.iter().map(|c| of(c)[row]).sum());
            let at_least: Vec<i64> = at_least.collect();
            let worth = |counts: &mut dyn Iterator<Item = i64>| -> i64 {
                counts.zip(&prices).map(|(n, price)| n * price).sum()
            };
            let least = worth(&mut at_least.iter().copied());
            let columns = columns.into_iter();
            let columns = columns
                .map(|(values, _)| (worth(&mut values.iter().map(|&v| i64::from(v))), values));
            let columns = columns.collect();
            (Given { columns, at_least }, least)
        })
    })
}

proptest! {
    #[test]
    fn what_is_past_the_cutoff_by_a_hair_is_not_branched_on((given, least) in tied()) {
        prop_assume!(least > 0);
        let below = given.solve(100, least - 1, 100);
        prop_assert!(below.finished && below.best.is_none());
        prop_assert_eq!(below.nodes, 1);
    }

    #[test]
    fn the_cheapest_answer_within_a_cutoff_is_found(
        given in given(1..5, 1..5, 2..9),
        cutoff in 0i64..=12,
        nodes in 1u64..8,
    ) {
        // Every column costs two at least, so that no more than six are used.
        let answers = given.columns.iter().map(|_| 0..=6).multi_cartesian_product();
        let answers = answers.filter(|answer| given.cost(answer) <= cutoff);
        let best = answers.filter(|a| given.meets(a)).map(|a| given.cost(&a)).min();
        let found = given.solve(6, cutoff, 10_000);
        prop_assert!(found.finished);
        prop_assert_eq!(found.best.as_ref().map(|b| b.0), best);
        prop_assert!(best.is_none_or(|best| Given::known(&found) <= best));
        // What is known of a search that is not finished holds as well.
        let begun = given.solve(6, cutoff, nodes);
        prop_assert!(best.is_none_or(|best| Given::known(&begun) <= best));
        if begun.finished {
            prop_assert_eq!(begun.best.map(|b| b.0), best);
        }
    }

    #[test]
    fn larger_programs_come_to_the_same_as_by_another_solver(
        given in given(5..16, 3..9, 3..40),
    ) {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let most = 200;
        let variables: Vec<_> = (given.columns.iter())
            .map(|(cost, _)| problem.add_integer_var(*cost as f64, (0, most)))
            .collect();
        for (row, &b) in given.at_least.iter().enumerate() {
            let terms = variables.iter().zip(&given.columns);
            let terms = terms.map(|(&v, (_, values))| (v, f64::from(values[row])));
            let terms: Vec<_> = terms.filter(|term| term.1 != 0.0).collect();
            problem.add_constraint(terms, ComparisonOp::Ge, b as f64);
        }
        // What cannot be met at all, or only by very much, is another test's.
        let Ok(SolveOutcome::Solution(reference)) = problem.solve() else {
            return Ok(());
        };
        let reference = reference.objective().round() as i64;
        prop_assume!(reference < 150);
        let found = given.solve(150, 150, 20_000);
        prop_assert!(found.finished);
        prop_assert_eq!(found.best.as_ref().map(|b| b.0), Some(reference));
        prop_assert!(Given::known(&found) <= reference);
        let below = given.solve(150, reference - 1, 20_000);
        prop_assert!(below.finished && below.best.is_none());
    }
}
