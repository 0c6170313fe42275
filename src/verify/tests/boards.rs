//! The valid plan broken rule by rule: boards, money and proof.

use super::super::Rule;
use super::breaks::{UNIT, breaks, piece};
use super::{cents, eighths, inches};
use crate::job::*;
use crate::length::Length;
use crate::plan::*;

#[test]
fn each_piece_on_one_board() {
    breaks(|_, plan| piece(plan, 0, 0).board = 2, &[Rule::OneBoard]);
    breaks(
        |_, plan| {
            plan.boards[5].pieces.pop();
            plan.boards[5].offcut += inches(64) - eighths(1) - Length::from_units(12_701);
        },
        &[Rule::OneBoard],
    );
    breaks(
        |_, plan| {
            plan.boards[4].pieces.push("9c".into());
        },
        &[Rule::OneBoard],
    );
    breaks(
        |job, plan| {
            let long = inches(120);
            job.stock[1].length += long;
            plan.boards[4].length += long;
            plan.totals.bought += long;
            plan.boards[4].pieces.push("1b".into());
            let second = piece(plan, 0, 1).length + eighths(1);
            plan.boards[4].offcut += long - second;
        },
        &[Rule::OneBoard],
    );
}

#[test]
fn boards_in_order() {
    breaks(
        |_, plan| plan.boards[1].number = 9,
        &[Rule::BoardOrder, Rule::OneBoard],
    );
    breaks(
        |_, plan| {
            plan.boards.swap(4, 5);
            plan.boards[4].number = 5;
            plan.boards[5].number = 6;
            for (course, index, board) in [(1, 1, 5), (2, 1, 5), (2, 0, 6)] {
                piece(plan, course, index).board = board;
            }
        },
        &[Rule::BoardOrder],
    );
}

#[test]
fn boards_of_the_job() {
    breaks(|_, plan| plan.boards[5].stock = 3, &[Rule::BoardStock]);
    breaks(
        |_, plan| {
            plan.boards[4].length += UNIT;
            plan.boards[4].offcut += UNIT;
            plan.totals.bought += UNIT;
        },
        &[Rule::BoardStock],
    );
}

#[test]
fn boards_hold_their_pieces() {
    // The last cut may fall on the board's end: the board may be as short as
    // the pieces and one cut between them.
    let exact = |job: &mut Job, plan: &mut Plan, short: Length| {
        let pieces = piece(plan, 1, 1).length + piece(plan, 2, 1).length;
        let length = pieces + eighths(1) + eighths(2) - short;
        plan.totals.bought += length - job.stock[2].length;
        plan.boards[5].length = length;
        job.stock[2].length = length;
        plan.boards[5].offcut = Length::ZERO;
    };
    breaks(|job, plan| exact(job, plan, Length::ZERO), &[]);
    breaks(|job, plan| exact(job, plan, UNIT), &[Rule::BoardHolds]);
    // A wider cut and a deeper trim take it too, and change every offcut.
    breaks(
        |job, _| job.cutting.end_trim = eighths(3),
        &[Rule::BoardHolds, Rule::Offcut],
    );
    breaks(
        |job, _| job.cutting.kerf = eighths(10),
        &[Rule::BoardHolds, Rule::Offcut],
    );
    // A board for nothing.
    breaks(
        |job, plan| {
            plan.boards.push(PlannedBoard {
                number: 7,
                pieces: Vec::new(),
                offcut: inches(192) - eighths(2),
                ..plan.boards[5].clone()
            });
            job.stock[2].available = None;
            plan.totals.boards += 1;
            plan.totals.price += cents(2203);
            plan.totals.cost += cents(2203);
            plan.totals.value += 2203;
            plan.totals.bought += inches(192);
        },
        &[Rule::BoardHolds],
    );
}

#[test]
fn split_boards() {
    breaks(|job, _| job.cutting.split_rips = false, &[Rule::Split]);
    // 2 in, 2 in and 1-1/2 in fill a face of 5-1/2 in; a unit more does not fit.
    breaks(|job, _| job.cutting.rip_kerf = eighths(12), &[]);
    breaks(
        |job, _| job.cutting.rip_kerf = eighths(12) + UNIT,
        &[Rule::Split],
    );
    // Not split, both pieces one after the other are too long.
    breaks(
        |_, plan| {
            plan.boards[3].strips = None;
            plan.boards[3].offcut = Length::ZERO;
        },
        &[Rule::BoardHolds],
    );
    // Both in one strip likewise, and the other strip idle.
    breaks(
        |_, plan| {
            plan.boards[3].strips = Some([vec!["4a".into(), "4b".into()], vec![]]);
            plan.boards[3].offcut = inches(108) - eighths(2);
        },
        &[Rule::BoardHolds, Rule::Split],
    );
    // Strips that forget a piece.
    breaks(
        |_, plan| plan.boards[3].pieces = vec!["4b".into()],
        &[Rule::Split, Rule::OneBoard],
    );
    // A whole piece in a strip.
    breaks(
        |_, plan| {
            plan.boards[1].strips = Some([vec!["1b".into()], vec![]]);
            plan.boards[1].offcut = inches(108) - eighths(2);
        },
        &[Rule::Split],
    );
    // The better strip remains.
    breaks(
        |_, plan| {
            plan.boards[3].offcut = inches(108) - eighths(3) - piece(plan, 3, 0).length;
        },
        &[Rule::Offcut],
    );
}

#[test]
fn offcuts() {
    breaks(|_, plan| plan.boards[0].offcut += UNIT, &[Rule::Offcut]);
    breaks(|_, plan| plan.boards[5].offcut = inches(1), &[Rule::Offcut]);
}

#[test]
fn prices_and_limits() {
    breaks(
        |_, plan| {
            plan.boards[1].price = cents(1136);
            plan.totals.price = plan.totals.price - cents(1);
            plan.totals.cost = plan.totals.cost - cents(1);
            plan.totals.value -= 1;
        },
        &[Rule::Price],
    );
    breaks(|job, _| job.stock[1].price = None, &[Rule::Price]);
    breaks(|job, _| job.stock[0].on_hand = 0, &[Rule::OnHand]);
    breaks(
        |job, _| job.stock[0].available = Some(2),
        &[Rule::Available],
    );
    breaks(
        |job, _| job.stock[2].available = Some(0),
        &[Rule::Available],
    );
    // From hand means for nothing.
    breaks(
        |job, plan| {
            job.stock[0].on_hand = 2;
            plan.boards[1].on_hand = true;
        },
        &[Rule::Price],
    );
}

#[test]
fn totals() {
    breaks(|_, plan| plan.totals.boards += 1, &[Rule::Totals]);
    breaks(|_, plan| plan.totals.price += cents(1), &[Rule::Totals]);
    breaks(|_, plan| plan.totals.joints -= 1, &[Rule::Totals]);
    breaks(|_, plan| plan.totals.doubled_joists += 1, &[Rule::Totals]);
    breaks(|_, plan| plan.totals.cost += cents(1), &[Rule::Totals]);
    breaks(|_, plan| plan.totals.bought += UNIT, &[Rule::Totals]);
    breaks(|_, plan| plan.totals.laid -= UNIT, &[Rule::Totals]);
    breaks(
        |job, _| job.joints.price = cents(151),
        &[Rule::Totals, Rule::Value],
    );
    breaks(
        |job, _| job.joints.doubled_joist_price = cents(404),
        &[Rule::Totals, Rule::Value],
    );
}

#[test]
fn value_bound_and_proof() {
    breaks(|_, plan| plan.totals.value += 1, &[Rule::Value]);
    breaks(
        |_, plan| plan.totals.bound = plan.totals.value + 1,
        &[Rule::Bound],
    );
    breaks(
        |_, plan| plan.totals.bound = plan.totals.value,
        &[Rule::Proven],
    );
    breaks(|_, plan| plan.totals.proven = true, &[Rule::Proven]);
    breaks(
        |_, plan| {
            plan.totals.proven = true;
            plan.totals.bound = plan.totals.value;
        },
        &[],
    );
    breaks(
        |_, plan| {
            plan.totals.objective = Objective::Joints;
            plan.totals.value = 4;
            plan.totals.bound = 3;
        },
        &[],
    );
    breaks(
        |_, plan| {
            plan.totals.objective = Objective::Joints;
            plan.totals.bound = 3;
        },
        &[Rule::Value],
    );
    breaks(
        |_, plan| {
            plan.totals.objective = Objective::Waste;
            plan.totals.value = inches(4 * 108 + 144 + 192).units();
        },
        &[],
    );
    breaks(
        |_, plan| plan.totals.objective = Objective::Waste,
        &[Rule::Value],
    );
}

#[test]
fn bundles() {
    let in_fours = |job: &mut Job, plan: &mut Plan| {
        job.stock[1].bundle = 4;
        plan.left_over.push(LeftOver {
            stock: 1,
            count: 3,
            price: cents(3 * 1499),
        });
        plan.totals.price += cents(3 * 1499);
        plan.totals.cost += cents(3 * 1499);
        plan.totals.value += 3 * 1499;
        plan.totals.bought += inches(3 * 144);
    };
    breaks(in_fours, &[]);
    breaks(|job, _| job.stock[1].bundle = 4, &[Rule::Bundle]);
    breaks(
        |job, plan| {
            in_fours(job, plan);
            job.stock[1].bundle = 2;
        },
        &[Rule::Bundle],
    );
    breaks(
        |job, plan| {
            in_fours(job, plan);
            job.stock[1].available = Some(3);
        },
        &[Rule::Available],
    );
    breaks(
        |job, plan| {
            in_fours(job, plan);
            plan.left_over[0].price += cents(1);
            plan.totals.price += cents(1);
            plan.totals.cost += cents(1);
            plan.totals.value += 1;
        },
        &[Rule::Bundle],
    );
    breaks(
        |job, plan| {
            in_fours(job, plan);
            plan.totals.bought -= inches(144);
        },
        &[Rule::Totals],
    );
}
