//! Closing the gap between a bound and an answer: all columns that an answer
//! within some cost could use are listed, and the program over them is solved.
//! Nothing found raises the bound past that cost; then a longer list is tried.

use super::branch::{Answer, Limits, Program, solve};

/// How far the gap was closed.
pub struct Widened<T> {
    /// The cheapest answer found below the known one, and what its columns
    /// stand for.
    pub better: Option<(Answer, T)>,
    /// No answer costs less than this.
    pub bound: i64,
    /// Products spent, as limits count them.
    pub work: u64,
}

/// The least part of the way to the best answer that is looked at.
pub(crate) const LEAST: f64 = 0.001;

/// Looks for an answer that costs less than `best`, or the proof that there is
/// none. `list` gives the program over all columns that an answer within a cost
/// could use, or nothing when they are too many.
pub fn widen<T>(
    bound: i64,
    best: i64,
    lift: &dyn Fn(i64) -> i64,
    limits: Limits,
    stop: &dyn Fn() -> bool,
    list: &mut dyn FnMut(i64) -> Option<(Program, T)>,
) -> Widened<T> {
    let mut bound = lift(bound).min(best);
    let mut share = 0.05;
    let mut listed = false;
    let mut work = 0;
    while bound < best && !stop() {
        let room = best - 1 - bound;
        let cutoff = if share >= 1.0 {
            best - 1
        } else {
            bound + (room as f64 * share) as i64
        };
        let Some((program, columns)) = list(cutoff) else {
            // So near to the bound that few columns are left, an answer may be found yet.
            if listed || share < LEAST {
                break;
            }
            share /= 4.0;
            continue;
        };
        listed = true;
        let found = solve(&program, cutoff, lift, limits, stop);
        work += found.work;
        if let Some((cost, answer)) = found.best {
            // The cheapest of all if the search was finished.
            let bound = bound.max(cost.min(found.bound));
            return Widened {
                better: Some(((cost, answer), columns)),
                bound,
                work,
            };
        }
        // What is proven of an unfinished search still holds.
        let proven = match found.finished {
            true => cutoff + 1,
            false => found.bound.min(cutoff + 1),
        };
        bound = bound.max(lift(proven).min(best));
        if !found.finished {
            break;
        }
        share = if share >= 0.4 { 1.0 } else { share * 3.0 };
    }
    Widened {
        better: None,
        bound,
        work,
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::program::Columns;
    use crate::program::branch::Way;

    /// At such costs rounding leaves the bound of a whole answer below the cutoff that
    /// the answer is past.
    #[test]
    fn an_answer_past_the_cutoff_ends_the_search() {
        let cost = 1_000_000_000;
        let mut list = |_| {
            let mut columns = Columns::new();
            columns.push(cost, [(0, 1)]);
            let program = Program {
                columns: Arc::new(columns),
                at_least: vec![1],
                group: vec![0],
                sums: Vec::new(),
                most_columns: 1,
                moves: Vec::new(),
                way: Way::Wide,
            };
            Some((program, ()))
        };
        let limits = Limits {
            nodes: 100,
            work: 10,
        };
        let widened = widen(0, cost, &|bound| bound, limits, &|| false, &mut list);
        assert!(widened.better.is_none());
        assert_eq!(widened.bound, cost);
    }
}
