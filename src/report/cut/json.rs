//! A cut list for programs. The keys are stable; new ones may be added.

use schemars::JsonSchema;
use serde::Serialize;

use super::totals;
use crate::cutlist::CutList;
use crate::money::Money;
use crate::report::json::{Amount, Answer, Measure, Value, gap, objective, waste};
use crate::stock::CutPlan;

/// A cut list: boards, and the pieces sawn from each.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CutAnswer {
    /// Width of a crosscut.
    kerf: Measure,
    /// Taken off each end of a board before it is used.
    end_trim: Measure,
    /// The boards, those cut alike together.
    boards: Vec<Board>,
    /// Boards that are paid and not used, because they are sold in bundles.
    left_over: Vec<LeftOver>,
    /// Counts, money and how good the list is known to be.
    totals: Totals,
}

/// Boards that are cut alike.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Board {
    /// Counted from 1, once for all boards cut alike.
    number: usize,
    /// How many boards are cut so.
    count: u64,
    /// Which stock they are, in the order given, from 1.
    stock: usize,
    /// The length of each.
    length: Measure,
    /// The price of each; null when no prices were given.
    price: Option<Amount>,
    /// The pieces of each, in saw order.
    pieces: Vec<Piece>,
    /// What remains of each after the last cut.
    offcut: Measure,
}

/// Boards of one stock that its bundles leave over.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct LeftOver {
    /// Which stock they are, in the order given, from 1.
    stock: usize,
    /// Length of each.
    length: Measure,
    /// Boards in a bundle.
    bundle: u64,
    /// Boards bought of this stock, in whole bundles, used or not.
    bought: u64,
    /// How many of them are left over.
    count: u64,
    /// What those left over cost together; null when no prices were given.
    price: Option<Amount>,
}

/// A piece.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Piece {
    /// Its label, where one was given.
    label: Option<String>,
    /// Its length.
    length: Measure,
}

/// Counts, money and proof.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Totals {
    /// Boards used.
    boards: u64,
    /// What they cost, those left over included; null when no prices were given.
    price: Option<Amount>,
    /// What was minimised: `cost`, or `waste` (the length bought) when no prices were given.
    objective: &'static str,
    /// The same as `price`: nothing else costs.
    cost: Option<Amount>,
    /// The objective's value: money for `cost`, a length for `waste`.
    value: Value,
    /// A lower bound on the value of any cut list, in the same terms.
    bound: Value,
    /// `(value - bound) / value`, 0 when the value is 0.
    gap: f64,
    /// Whether no cut list can do better.
    proven: bool,
    /// Whether a limit or the user stopped the search.
    stopped: bool,
    /// Length of all boards used and left over.
    bought: Measure,
    /// Length of all pieces.
    laid: Measure,
    /// `1 - laid / bought`.
    waste: f64,
}

/// The cut list as a JSON answer.
pub fn json(list: &CutList, plan: &CutPlan) -> Answer<CutAnswer> {
    Answer::new("cut", list.unit, whole(list, plan))
}

/// The cut list's keys, as other answers hold them too.
pub(in crate::report) fn whole(list: &CutList, plan: &CutPlan) -> CutAnswer {
    let unit = list.unit;
    let at = |length| Measure::new(length, unit);
    let priced = |amount: Money| list.by_length.is_none().then_some(Amount(amount));
    let piece = |&piece: &usize| Piece {
        label: list.labels[piece].clone(),
        length: at(list.problem.pieces[piece].length),
    };
    let boards = plan.boards.iter().enumerate().map(|(k, board)| {
        let stock = &list.problem.stock[board.stock];
        Board {
            number: k + 1,
            count: board.count,
            stock: board.stock + 1,
            length: at(stock.length),
            price: priced(stock.price.unwrap_or_default()),
            pieces: board.pieces.iter().map(piece).collect(),
            offcut: at(board.offcut),
        }
    });
    let left_over = plan.left_over.iter().map(|left| {
        let stock = &list.problem.stock[left.stock];
        LeftOver {
            stock: left.stock + 1,
            length: at(stock.length),
            bundle: stock.bundle,
            bought: plan.bought(left.stock),
            count: left.count,
            price: priced(left.price),
        }
    });
    let totals = totals(list, plan);
    let value = |value| Value::of(totals.objective, value, unit);
    CutAnswer {
        kerf: at(list.problem.kerf),
        end_trim: at(list.problem.end_trim),
        boards: boards.collect(),
        left_over: left_over.collect(),
        totals: Totals {
            boards: totals.boards,
            price: priced(plan.cost),
            objective: objective(totals.objective),
            cost: priced(plan.cost),
            value: value(totals.value),
            bound: value(totals.bound),
            gap: gap(totals.value, totals.bound),
            proven: plan.proven,
            stopped: plan.stopped,
            bought: at(totals.bought),
            laid: at(totals.laid),
            waste: waste(totals.laid, totals.bought),
        },
    }
}
