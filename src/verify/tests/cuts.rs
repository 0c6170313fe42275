//! A valid cut list broken rule by rule.

use super::super::{Rule, cut as verify};
use super::{cents, eighths, inches};
use crate::length::Length;
use crate::stock::{BoardsLeft, CutBoard, CutPlan, CutProblem, Demand, StockBoard};

const UNIT: Length = Length::from_units(1);

fn problem() -> CutProblem {
    let stock = |length, price, on_hand, available| StockBoard {
        length: inches(length),
        price,
        on_hand,
        available,
        bundle: 1,
    };
    let piece = |length, count| Demand {
        length: inches(length),
        count,
    };
    CutProblem {
        stock: vec![
            stock(96, Some(cents(801)), 1, Some(2)),
            stock(144, None, 1, None),
        ],
        pieces: vec![piece(40, 3), piece(90, 2), piece(40, 2)],
        kerf: eighths(1),
        end_trim: eighths(2),
    }
}

fn valid() -> CutPlan {
    let board = |stock, on_hand, count, pieces: &[usize], offcut| CutBoard {
        stock,
        on_hand,
        count,
        pieces: pieces.to_vec(),
        offcut,
    };
    CutPlan {
        boards: vec![
            board(0, true, 1, &[1], inches(6) - eighths(5)),
            board(0, false, 1, &[1], inches(6) - eighths(5)),
            board(0, false, 1, &[0, 2], inches(16) - eighths(6)),
            board(1, true, 1, &[0, 2, 0], inches(24) - eighths(7)),
        ],
        left_over: Vec::new(),
        cost: cents(1602),
        bound: cents(1602),
        proven: true,
        stopped: false,
        proof: None,
    }
}

#[test]
fn bundles() {
    let spare = |stock, count, price| BoardsLeft {
        stock,
        count,
        price: cents(price),
    };
    // Two are bought, so that a bundle of four leaves two over.
    let in_fours = |problem: &mut CutProblem, plan: &mut CutPlan| {
        problem.stock[0].bundle = 4;
        problem.stock[0].available = Some(7);
        plan.left_over = vec![spare(0, 2, 1602)];
        plan.cost = cents(3204);
        plan.bound = cents(3204);
    };
    breaks(|problem, _| problem.stock[0].bundle = 2, &[]);
    breaks(in_fours, &[]);
    breaks(
        |problem, _| {
            problem.stock[0].bundle = 4;
            problem.stock[0].available = None;
        },
        &[Rule::Bundle],
    );
    breaks(
        |problem, plan| {
            in_fours(problem, plan);
            problem.stock[0].available = Some(3);
        },
        &[Rule::Available],
    );
    breaks(
        |problem, plan| {
            in_fours(problem, plan);
            plan.left_over[0].count = 1;
        },
        &[Rule::Bundle],
    );
    breaks(
        |problem, plan| {
            in_fours(problem, plan);
            plan.cost = cents(1602);
            plan.bound = cents(1602);
        },
        &[Rule::Totals],
    );
    breaks(
        |problem, plan| {
            in_fours(problem, plan);
            plan.left_over.push(spare(2, 1, 0));
        },
        &[Rule::Bundle],
    );
}

#[track_caller]
fn breaks(change: impl FnOnce(&mut CutProblem, &mut CutPlan), rules: &[Rule]) {
    let (mut problem, mut plan) = (problem(), valid());
    change(&mut problem, &mut plan);
    let found = verify(&problem, &plan);
    let mut broken: Vec<Rule> = found.iter().map(|violation| violation.rule).collect();
    broken.sort_unstable();
    broken.dedup();
    let mut expected = rules.to_vec();
    expected.sort_unstable();
    assert_eq!(broken, expected, "{found:#?}");
}

#[test]
fn nothing_is_wrong_with_the_valid_list() {
    breaks(|_, _| {}, &[]);
}

#[test]
fn demand_is_met_exactly() {
    breaks(|problem, _| problem.pieces[0].count = 4, &[Rule::Demand]);
    breaks(|problem, _| problem.pieces[1].count = 1, &[Rule::Demand]);
    breaks(
        |_, plan| plan.boards[3].pieces = vec![0, 2, 9],
        &[Rule::Demand, Rule::Offcut],
    );
}

#[test]
fn boards_hold_their_pieces() {
    let exact = |problem: &mut CutProblem, plan: &mut CutPlan, short: Length| {
        problem.stock[1].length = inches(120) + eighths(2) + eighths(4) - short;
        plan.boards[3].offcut = Length::ZERO;
    };
    breaks(|problem, plan| exact(problem, plan, Length::ZERO), &[]);
    breaks(
        |problem, plan| exact(problem, plan, UNIT),
        &[Rule::BoardHolds],
    );
    breaks(|_, plan| plan.boards[0].offcut += UNIT, &[Rule::Offcut]);
    breaks(
        |_, plan| plan.boards[1].count = 0,
        &[Rule::BoardHolds, Rule::Demand, Rule::Totals],
    );
    breaks(
        |_, plan| {
            plan.boards.push(CutBoard {
                pieces: vec![],
                offcut: inches(144) - eighths(4),
                ..plan.boards[3].clone()
            });
        },
        &[Rule::BoardHolds, Rule::OnHand],
    );
}

#[test]
fn limits_and_money() {
    breaks(
        |problem, _| problem.stock[0].available = Some(1),
        &[Rule::Available],
    );
    breaks(|problem, _| problem.stock[0].on_hand = 0, &[Rule::OnHand]);
    breaks(
        |problem, _| problem.stock[0].price = None,
        &[Rule::Price, Rule::Totals],
    );
    breaks(|_, plan| plan.boards[3].on_hand = false, &[Rule::Price]);
    breaks(|_, plan| plan.boards[3].stock = 2, &[Rule::BoardStock]);
    breaks(
        |_, plan| {
            plan.cost = cents(1601);
            plan.bound = cents(1601);
        },
        &[Rule::Totals],
    );
}

#[test]
fn bound_and_proof() {
    breaks(
        |_, plan| {
            plan.bound = cents(1603);
            plan.proven = false;
        },
        &[Rule::Bound],
    );
    breaks(|_, plan| plan.proven = false, &[Rule::Proven]);
    breaks(|_, plan| plan.bound = cents(1000), &[Rule::Proven]);
}

#[test]
fn order() {
    breaks(|_, plan| plan.boards.swap(0, 3), &[Rule::BoardOrder]);
    breaks(|_, plan| plan.boards.swap(1, 2), &[Rule::BoardOrder]);
}
