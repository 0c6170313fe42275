//! A door for benches: single steps of the cutting engine that nothing else
//! outside has a use for.

use super::instance::{instance, kinds};
use super::types::CutProblem;

/// Lends the step that prices patterns: from a value for each length, longest
/// first, to the most that one board of any kind can hold. Nothing where a
/// problem has no answer.
pub fn knapsack<R>(
    problem: &CutProblem,
    lend: impl FnOnce(usize, &dyn Fn(&[i64]) -> i64) -> R,
) -> Option<R> {
    let (instance, _) = instance(problem, kinds(problem)).ok()?;
    let most = |values: &[i64]| {
        let best = instance.boards.best(values);
        best.iter().map(|best| best.at_most).max().unwrap_or(0)
    };
    Some(lend(instance.lengths.len(), &most))
}
