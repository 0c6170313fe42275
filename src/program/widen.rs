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
    let mut work = 0;
    while bound < best && !stop() {
        let room = best - 1 - bound;
        let cutoff = if share >= 1.0 {
            best - 1
        } else {
            bound + (room as f64 * share) as i64
        };
        let Some((program, columns)) = list(cutoff) else {
            break;
        };
        let found = solve(&program, cutoff, lift, limits, stop);
        work += found.work;
        if let Some((cost, answer)) = found.best {
            // The cheapest of all if the search was finished.
            let bound = if found.finished {
                cost.min(found.bound)
            } else {
                bound
            };
            return Widened {
                better: Some(((cost, answer), columns)),
                bound,
                work,
            };
        }
        if !found.finished {
            break;
        }
        bound = lift(cutoff + 1).min(best);
        share = if share >= 0.4 { 1.0 } else { share * 3.0 };
    }
    Widened {
        better: None,
        bound,
        work,
    }
}
