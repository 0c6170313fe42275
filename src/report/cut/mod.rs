//! A bare cut list in its three forms. Equal boards are joined in all of them,
//! so that a million pieces stay readable.

mod csv;
mod json;
mod text;

pub use csv::csv;
pub(in crate::report) use json::whole;
pub use json::{CutAnswer, json};
pub(in crate::report) use text::cuts;
pub use text::{answer, text};

use crate::cutlist::CutList;
use crate::length::Length;
use crate::plan::Objective;
use crate::stock::CutPlan;

/// What a cut list comes to.
struct Totals {
    boards: u64,
    /// Boards that bundles leave over.
    left_over: u64,
    objective: Objective,
    /// The objective's value: cents, or units of length where there are no prices.
    value: i64,
    bound: i64,
    bought: Length,
    laid: Length,
}

fn totals(list: &CutList, plan: &CutPlan) -> Totals {
    // Without prices each board was priced by its length in steps of one size.
    let (objective, step) = match list.by_length {
        None => (Objective::Cost, 1),
        Some(step) => (Objective::Waste, step.units()),
    };
    let of = |length: Length, count: u64| length * count as i64;
    let problem = &list.problem;
    let used = plan.boards.iter().map(|board| (board.stock, board.count));
    let left_over = plan.left_over.iter().map(|left| (left.stock, left.count));
    Totals {
        left_over: plan.left_over.iter().map(|left| left.count).sum(),
        boards: plan.boards.iter().map(|board| board.count).sum(),
        objective,
        value: plan.cost.cents() * step,
        bound: plan.bound.cents() * step,
        bought: used
            .chain(left_over)
            .map(|(stock, count)| of(problem.stock[stock].length, count))
            .sum(),
        laid: problem
            .pieces
            .iter()
            .map(|piece| of(piece.length, piece.count))
            .sum(),
    }
}
