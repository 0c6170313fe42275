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

/// Which part of the way to the best answer is looked at next.
pub(crate) struct Part {
    share: f64,
    listed: bool,
}

impl Part {
    pub(crate) fn first() -> Part {
        Part {
            share: 0.05,
            listed: false,
        }
    }

    /// What the answers looked at cost at most.
    pub(crate) fn cutoff(&self, bound: i64, best: i64) -> i64 {
        match self.share >= 1.0 {
            true => best - 1,
            false => bound + ((best - 1 - bound) as f64 * self.share) as i64,
        }
    }

    /// Takes less where columns are too many; false if that is of no use.
    pub(crate) fn less(&mut self) -> bool {
        // So near to the bound that few columns are left, an answer may be found yet.
        let more = !self.listed && self.share >= LEAST;
        self.share /= 4.0;
        more
    }

    /// Takes more once nothing is left of this part.
    pub(crate) fn more(&mut self) {
        self.listed = true;
        self.share = if self.share >= 0.4 {
            1.0
        } else {
            self.share * 3.0
        };
    }
}

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
    let mut part = Part::first();
    let mut work = 0;
    while bound < best && !stop() {
        let cutoff = part.cutoff(bound, best);
        let Some((program, columns)) = list(cutoff) else {
            if part.less() {
                continue;
            }
            break;
        };
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
        bound = bound.max(lift(found.proven(cutoff)).min(best));
        if !found.finished {
            break;
        }
        part.more();
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
