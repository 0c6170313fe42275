//! A general-purpose solver, HiGHS, asked for the answer of an integer program;
//! only there with the feature `highs`. It knows how a program is told to HiGHS
//! and how an answer is checked; what its search proves is left to [`branch`].
//!
//! HiGHS reckons in floating point, so that nothing it says is believed: its
//! counts are rounded, every row and the cost are added up again in whole
//! numbers, and its bounds and its "impossible" are not looked at.
//!
//! [`branch`]: super::branch

use std::cell::Cell;

use good_lp::solvers::highs::{HighsParallelType, highs};
use good_lp::{
    Constraint, Expression, ProblemVariables, Solution, SolverModel, Variable, variable,
};

use super::branch::{Answer, Limits, Program};

/// Programs with fewer columns than this are the own search's, which is done
/// before HiGHS has read them.
const FEWEST_COLUMNS: usize = 8;

/// What HiGHS was asked on this thread since [`with`] began.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Tally {
    /// Programs that HiGHS was asked for.
    pub asked: u64,
    /// Answers that passed the check in whole numbers.
    pub used: u64,
    /// Answers that did not.
    pub refused: u64,
}

thread_local! {
    static ASKED: Cell<Option<Tally>> = const { Cell::new(Some(Tally {
        asked: 0,
        used: 0,
        refused: 0,
    })) };
}

/// Runs something on this thread with HiGHS or without it and says what HiGHS
/// was asked; for comparing the two.
#[doc(hidden)]
pub fn with<T>(solver: bool, run: impl FnOnce() -> T) -> (T, Tally) {
    let before = ASKED.replace(solver.then(Tally::default));
    let result = run();
    (result, ASKED.replace(before).unwrap_or_default())
}

/// An answer of HiGHS that costs at most `cutoff`, checked in whole numbers. It
/// may not be the cheapest, and where there is none that says nothing. Effort is
/// limited in nodes, so that the same program has the same answer.
pub(super) fn answer(
    program: &Program,
    cutoff: i64,
    limits: Limits,
    stop: &dyn Fn() -> bool,
) -> Option<Answer> {
    let mut tally = ASKED.get()?;
    if program.columns.len() < FEWEST_COLUMNS || cutoff < 0 || stop() {
        return None;
    }
    tally.asked += 1;
    let found = ask(program, cutoff, limits);
    let answer = found.as_deref().and_then(|values| checked(program, values));
    tally.used += u64::from(answer.is_some());
    tally.refused += u64::from(found.is_some() && answer.is_none());
    ASKED.set(Some(tally));
    answer.filter(|(cost, _)| *cost <= cutoff)
}

/// The values that HiGHS gives the columns, as it gives them.
fn ask(program: &Program, cutoff: i64, limits: Limits) -> Option<Vec<f64>> {
    let columns = &program.columns;
    // By a power of two, so that costs stay as they are but for the exponent.
    let dearest = (0..columns.len()).map(|j| columns.cost(j)).max()?;
    let scale = (dearest.max(1) as u64).next_power_of_two() as f64 / 1024.0;
    let most = program.most_columns.max(0) as f64;
    let mut variables = ProblemVariables::new();
    let places: Vec<Variable> = (0..columns.len())
        .map(|_| variables.add(variable().integer().min(0).max(most)))
        .collect();
    let mut cost = Expression::with_capacity(columns.len());
    let mut rows = vec![Expression::default(); program.at_least.len()];
    for (j, &place) in places.iter().enumerate() {
        cost.add_mul(columns.cost(j) as f64 / scale, place);
        for (row, value) in columns.entries(j) {
            rows[row].add_mul(f64::from(value), place);
        }
    }
    let nodes = i32::try_from(limits.nodes).unwrap_or(i32::MAX);
    let mut model = variables
        .minimise(cost)
        .using(highs)
        .set_parallel(HighsParallelType::Off)
        .set_threads(1)
        .set_option("mip_max_nodes", nodes)
        // Costs are whole: less than one apart is the same.
        .set_option("mip_rel_gap", 0.0)
        .set_option("mip_abs_gap", 0.5 / scale)
        .set_option("objective_bound", (cutoff as f64 + 0.5) / scale);
    for (row, at_least) in rows.into_iter().zip(&program.at_least) {
        let constraint: Constraint = row.geq(*at_least as f64);
        model.add_constraint(constraint);
    }
    let solution = model.solve().ok()?;
    Some(places.iter().map(|&place| solution.value(place)).collect())
}

/// Values as whole counts, if they meet every row; what they cost, added up
/// again.
fn checked(program: &Program, values: &[f64]) -> Option<Answer> {
    let columns = &program.columns;
    let mut short: Vec<i64> = program.at_least.clone();
    let (mut cost, mut counts) = (0_i64, Vec::new());
    for (j, value) in values.iter().enumerate() {
        let count = value.round();
        if !(0.0..=1e9).contains(&count) {
            return None;
        }
        let count = count as i64;
        if count == 0 {
            continue;
        }
        for (row, coefficient) in columns.entries(j) {
            short[row] = short[row].checked_sub(count.checked_mul(i64::from(coefficient))?)?;
        }
        cost = cost.checked_add(count.checked_mul(columns.cost(j))?)?;
        counts.push((j, count));
    }
    short.iter().all(|&s| s <= 0).then_some((cost, counts))
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::program::Columns;
    use crate::program::branch::Way;

    fn two_rows() -> Program {
        let mut columns = Columns::new();
        columns.push(3, [(0, 2)]);
        columns.push(2, [(1, 1), (0, -1)]);
        Program {
            columns: Arc::new(columns),
            at_least: vec![1, 2],
            group: vec![0, 0],
            sums: Vec::new(),
            most_columns: 10,
            moves: Vec::new(),
            way: Way::Wide,
        }
    }

    #[test]
    fn only_what_meets_every_row_is_an_answer() {
        let program = two_rows();
        let nearly = [2.000_000_4, 1.999_999_7];
        assert_eq!(checked(&program, &nearly), Some((10, vec![(0, 2), (1, 2)])));
        assert_eq!(checked(&program, &[1.0, 2.0]), None);
        assert_eq!(checked(&program, &[2.0, 1.0]), None);
        assert_eq!(checked(&program, &[f64::NAN, 2.0]), None);
        assert_eq!(checked(&program, &[3.0, -1.0]), None);
    }
}
