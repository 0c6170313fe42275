//! The same second look at a bare cut list.

use std::collections::BTreeMap;

use super::bundles::{self, Sold};
use super::saw::Saw;
use super::totals::check_bound;
use super::{Findings, Rule, Violation, wide};
use crate::length::Unit;
use crate::stock::{CutBoard, CutPlan, CutProblem};

/// Everything that is wrong with an answer to a cutting problem; empty if
/// nothing is. Lengths in the messages are in inches.
pub fn cut(problem: &CutProblem, plan: &CutPlan) -> Vec<Violation> {
    let mut found = Findings::new(Unit::Inch);
    let mut taken: BTreeMap<(usize, bool), u128> = BTreeMap::new();
    let mut made = vec![0_u128; problem.pieces.len()];
    let mut cost = 0_i128;
    let mut before = None;
    for (index, board) in plan.boards.iter().enumerate() {
        let name = format!("cut {}", index + 1);
        let longest = board
            .pieces
            .iter()
            .filter_map(|piece| problem.pieces.get(*piece))
            .map(|piece| wide(piece.length))
            .max()
            .unwrap_or(0);
        let place = (board.stock, !board.on_hand, std::cmp::Reverse(longest));
        if before.is_some_and(|before| before > place) {
            found.add(
                Rule::BoardOrder,
                format!("{name} is not in its place: by stock, from hand first, then longest piece first"),
            );
        }
        before = Some(place);
        *taken.entry((board.stock, board.on_hand)).or_default() += u128::from(board.count);
        cost += check_board(problem, board, &name, &mut found);
        for piece in &board.pieces {
            match made.get_mut(*piece) {
                Some(made) => *made += u128::from(board.count),
                None => found.add(
                    Rule::Demand,
                    format!("{name} makes a piece that was not asked for"),
                ),
            }
        }
    }
    for (index, (demand, made)) in problem.pieces.iter().zip(made).enumerate() {
        if made != u128::from(demand.count) {
            found.add(
                Rule::Demand,
                format!(
                    "{made} of piece {} ({}) are cut, but {} are asked for",
                    index + 1,
                    found.show(wide(demand.length)),
                    demand.count
                ),
            );
        }
    }
    check_limits(problem, &taken, &mut found);
    check_bundles(problem, plan, &taken, &mut found);
    let spare = plan.left_over.iter();
    cost += spare
        .map(|left| i128::from(left.price.cents()))
        .sum::<i128>();
    if i128::from(plan.cost.cents()) != cost {
        found.add(
            Rule::Totals,
            format!(
                "the boards are said to cost {} cents, but they come to {cost}",
                plan.cost.cents()
            ),
        );
    }
    check_bound(
        plan.cost.cents().into(),
        plan.bound.cents().into(),
        plan.proven,
        &mut found,
    );
    found.list
}

/// Checks boards that are cut alike and gives what they cost together.
fn check_board(problem: &CutProblem, board: &CutBoard, name: &str, found: &mut Findings) -> i128 {
    if board.count == 0 || board.pieces.is_empty() {
        found.add(Rule::BoardHolds, format!("{name} has no board or no piece"));
    }
    let Some(stock) = problem.stock.get(board.stock) else {
        found.add(
            Rule::BoardStock,
            format!("{name} is of stock {}, which there is not", board.stock + 1),
        );
        return 0;
    };
    let lengths: Vec<i128> = board
        .pieces
        .iter()
        .filter_map(|piece| problem.pieces.get(*piece))
        .map(|piece| wide(piece.length))
        .collect();
    if lengths.windows(2).any(|pair| pair[0] < pair[1]) {
        found.add(
            Rule::BoardOrder,
            format!("{name} does not name its longest piece first"),
        );
    }
    let saw = Saw {
        length: wide(stock.length),
        trim: wide(problem.end_trim),
        kerf: wide(problem.kerf),
    };
    let excess = saw.excess(lengths.iter().copied());
    if excess > 0 {
        found.add(
            Rule::BoardHolds,
            format!(
                "{name} of {} is {} too short for its pieces and their cuts",
                found.show(saw.length),
                found.show(excess)
            ),
        );
    }
    let offcut = saw.offcut(lengths);
    if wide(board.offcut) != offcut {
        found.add(
            Rule::Offcut,
            format!(
                "the offcut of {name} is said to be {}, but it is {}",
                found.show(wide(board.offcut)),
                found.show(offcut)
            ),
        );
    }
    match (board.on_hand, stock.price) {
        (true, _) => 0,
        (false, Some(price)) => i128::from(price.cents()) * i128::from(board.count),
        (false, None) => {
            found.add(
                Rule::Price,
                format!(
                    "{name} is bought, but stock {} has no price",
                    board.stock + 1
                ),
            );
            0
        }
    }
}

/// Whether what is bought makes whole bundles with what is left over.
fn check_bundles(
    problem: &CutProblem,
    plan: &CutPlan,
    taken: &BTreeMap<(usize, bool), u128>,
    found: &mut Findings,
) {
    let sold = problem.stock.iter().enumerate().map(|(place, stock)| Sold {
        length: wide(stock.length),
        price: stock.price.map_or(0, |price| price.cents().into()),
        bundle: stock.bundle,
        available: stock.available,
        bought: taken.get(&(place, false)).copied().unwrap_or(0),
    });
    let left_over = plan.left_over.iter();
    let left_over = left_over.map(|left| (left.stock, left.count, left.price.cents().into()));
    bundles::check(sold, left_over, "cut list", found);
}

fn check_limits(problem: &CutProblem, taken: &BTreeMap<(usize, bool), u128>, found: &mut Findings) {
    for (&(stock, on_hand), &count) in taken {
        let Some(kind) = problem.stock.get(stock) else {
            continue;
        };
        let (rule, limit, verb) = if on_hand {
            (Rule::OnHand, Some(kind.on_hand), "taken from hand")
        } else {
            (Rule::Available, kind.available, "bought")
        };
        if let Some(limit) = limit
            // Bundles have been counted whole.
            && (on_hand || kind.bundle <= 1)
            && count > u128::from(limit)
        {
            found.add(
                rule,
                format!(
                    "{count} boards of {} are {verb}, but there are {limit}",
                    found.show(wide(kind.length))
                ),
            );
        }
    }
}
