//! The method against a packaged one, as columns and rows come.

use std::sync::Arc;

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome};
use proptest::prelude::*;

use super::super::{Columns, ExtraRow};
use super::{Ended, ROUGH, Simplex};

type Column = (i64, Vec<i32>);

#[derive(Debug, Clone)]
struct Program {
    at_least: Vec<i64>,
    columns: Vec<Column>,
    later: Vec<Column>,
    rows: Vec<(i64, Vec<i32>)>,
}

fn programs() -> impl Strategy<Value = Program> {
    (1usize..9, 3usize..30, 0usize..20).prop_flat_map(|(rows, many, later)| {
        let number = prop_oneof![2 => Just(0), 3 => 1i32..5, 1 => -2i32..0];
        let column = (1i64..60, proptest::collection::vec(number.clone(), rows));
        let all = many + later;
        let row = (-3i64..9, proptest::collection::vec(number, all));
        (
            proptest::collection::vec(0i64..30, rows),
            proptest::collection::vec(column.clone(), many),
            proptest::collection::vec(column, later),
            proptest::collection::vec(row, 0..5),
        )
            .prop_map(|(at_least, columns, later, rows)| Program {
                at_least,
                columns,
                later,
                rows,
            })
    })
}

/// What the packaged method finds the columns to cost; nothing where the rows cannot
/// be met.
fn reference(at_least: &[i64], columns: &[Column], rows: &[(i64, Vec<i32>)]) -> Option<f64> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let variables: Vec<_> = columns
        .iter()
        .map(|(cost, _)| problem.add_var(*cost as f64, (0.0, f64::INFINITY)))
        .collect();
    for (r, &b) in at_least.iter().enumerate() {
        let terms = variables.iter().zip(columns);
        let terms: Vec<_> = terms.map(|(&v, c)| (v, f64::from(c.1[r]))).collect();
        problem.add_constraint(terms, ComparisonOp::Ge, b as f64);
    }
    for (b, row) in rows {
        let terms = variables.iter().zip(row);
        let terms: Vec<_> = terms.map(|(&v, &c)| (v, f64::from(c))).collect();
        problem.add_constraint(terms, ComparisonOp::Ge, *b as f64);
    }
    match problem.solve() {
        Ok(SolveOutcome::Solution(found)) => Some(found.objective()),
        _ => None,
    }
}

fn entries(column: &[i32]) -> Vec<(u32, i32)> {
    let entries = column.iter().enumerate().filter(|(_, v)| **v != 0);
    entries.map(|(r, &v)| (r as u32, v)).collect()
}

fn agree(ended: Ended, simplex: &Simplex, expected: Option<f64>) -> Result<bool, TestCaseError> {
    match expected {
        None => {
            prop_assert_eq!(ended, Ended::Infeasible);
            Ok(false)
        }
        Some(cost) => {
            prop_assert_eq!(ended, Ended::Optimal);
            let found = simplex.objective();
            prop_assert!(
                (found - cost).abs() < 1e-6 * (1.0 + cost.abs()),
                "{found} for {cost}"
            );
            Ok(true)
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn optima_are_those_of_a_packaged_method(program in programs()) {
        let mut columns = Columns::new();
        for (cost, column) in &program.columns {
            columns.push(*cost, entries(column));
        }
        let never = || false;
        let mut simplex = Simplex::new(Arc::new(columns), &program.at_least, 10.0, 0.0);
        let ended = simplex.dual(10_000, f64::INFINITY, &never);
        let expected = reference(&program.at_least, &program.columns, &[]);
        if !agree(ended, &simplex, expected)? {
            return Ok(());
        }
        let mut all = program.columns.clone();
        for (cost, column) in &program.later {
            simplex.add_column(*cost, &entries(column));
            all.push((*cost, column.clone()));
        }
        let ended = simplex.primal(10_000, &never);
        agree(ended, &simplex, reference(&program.at_least, &all, &[]))?;
        for (at, (b, row)) in program.rows.iter().enumerate() {
            // Rows may come while factors are not to be used.
            if at % 2 == 1 {
                simplex.since_refactor = ROUGH;
            }
            // A row may be counted in parts.
            let mut counted = ExtraRow::new(entries(row), *b);
            if at % 3 == 0 {
                let entries = entries(row).into_iter().map(|(j, v)| (j, 4 * v));
                counted = ExtraRow::new(entries.collect(), 4 * b);
                counted.part = 0.25;
            }
            simplex.add_row(counted);
            let ended = simplex.dual(10_000, f64::INFINITY, &never);
            let expected = reference(&program.at_least, &all, &program.rows[..=at]);
            if !agree(ended, &simplex, expected)? {
                return Ok(());
            }
            // What holds with room to spare makes no difference.
            let mut fewer = simplex.clone();
            fewer.drop_slack_rows(0, 0);
            let ended = fewer.dual(10_000, f64::INFINITY, &never);
            agree(ended, &fewer, expected)?;
        }
    }
}
