//! Whether the boards can be had, hold their pieces, and cost what is said.

use std::collections::BTreeMap;

use super::bundles::{self, Sold};
use super::pieces::Laid;
use super::saw::Saw;
use super::{Findings, Rule, wide};
use crate::job::Job;
use crate::money::Money;
use crate::plan::{Plan, PlannedBoard};

pub(super) fn check(job: &Job, plan: &Plan, laid: &Laid, found: &mut Findings) {
    // Boards taken from hand and bought, by stock.
    let mut taken: BTreeMap<(usize, bool), u64> = BTreeMap::new();
    let mut sawn: BTreeMap<&str, u32> = BTreeMap::new();
    let mut before = 0;
    for (index, board) in plan.boards.iter().enumerate() {
        if usize::try_from(board.number).ok() != Some(index + 1) || board.stock < before {
            found.add(
                Rule::BoardOrder,
                format!(
                    "board {} is not in its place: boards are numbered from 1 in the order of the stock",
                    board.number
                ),
            );
        }
        before = board.stock;
        *taken.entry((board.stock, board.on_hand)).or_default() += 1;
        check_stock(job, board, found);
        check_saw(job, board, laid, found);
        for id in &board.pieces {
            match laid.pieces.get(id) {
                None => found.add(
                    Rule::OneBoard,
                    format!(
                        "board {} holds piece {id}, which nothing asks for",
                        board.number
                    ),
                ),
                Some(piece) if piece.board != board.number => found.add(
                    Rule::OneBoard,
                    format!(
                        "board {} holds piece {id}, which says it comes from board {}",
                        board.number, piece.board
                    ),
                ),
                Some(_) => {}
            }
            if let Some(other) = sawn.insert(id, board.number) {
                found.add(
                    Rule::OneBoard,
                    format!(
                        "piece {id} is sawn from board {other} and again from board {}",
                        board.number
                    ),
                );
            }
        }
    }
    for id in laid.pieces.keys() {
        if !sawn.contains_key(id.as_str()) {
            found.add(Rule::OneBoard, format!("piece {id} is sawn from no board"));
        }
    }
    check_bundles(job, plan, &taken, found);
    check_limits(job, &taken, found);
}

/// Whether what is bought makes whole bundles with what is left over.
fn check_bundles(
    job: &Job,
    plan: &Plan,
    taken: &BTreeMap<(usize, bool), u64>,
    found: &mut Findings,
) {
    let sold = job.stock.iter().enumerate().map(|(place, stock)| Sold {
        length: wide(stock.length),
        price: stock.price.map_or(0, |price| price.cents().into()),
        bundle: stock.bundle.into(),
        available: stock.available.map(u64::from),
        bought: taken.get(&(place, false)).copied().unwrap_or(0).into(),
    });
    let left_over = plan.left_over.iter();
    let left_over =
        left_over.map(|left| (left.stock, left.count.into(), left.price.cents().into()));
    bundles::check(sold, left_over, "job", found);
}

/// Whether a board is one that the job has, at its length and price.
fn check_stock(job: &Job, board: &PlannedBoard, found: &mut Findings) {
    let Some(stock) = job.stock.get(board.stock) else {
        found.add(
            Rule::BoardStock,
            format!(
                "board {} is of stock {}, but the job has {}",
                board.number,
                board.stock + 1,
                job.stock.len()
            ),
        );
        return;
    };
    if board.length != stock.length {
        found.add(
            Rule::BoardStock,
            format!(
                "board {} is {} long, but stock {} is {}",
                board.number,
                found.show(wide(board.length)),
                board.stock + 1,
                found.show(wide(stock.length))
            ),
        );
    }
    let price = if board.on_hand {
        Some(Money::ZERO)
    } else {
        stock.price
    };
    if price != Some(board.price) {
        found.add(
            Rule::Price,
            match price {
                Some(price) => format!(
                    "board {} is priced at {} cents, not {}",
                    board.number,
                    board.price.cents(),
                    price.cents()
                ),
                None => format!(
                    "board {} is bought, but stock {} has no price",
                    board.number,
                    board.stock + 1
                ),
            },
        );
    }
}

/// Whether a board holds its pieces, whole or split.
fn check_saw(job: &Job, board: &PlannedBoard, laid: &Laid, found: &mut Findings) {
    let saw = Saw {
        length: wide(board.length),
        trim: wide(job.cutting.end_trim),
        kerf: wide(job.cutting.kerf),
    };
    if board.pieces.is_empty() {
        found.add(
            Rule::BoardHolds,
            format!("board {} holds no piece", board.number),
        );
    }
    let lengths = |ids: &[String]| -> Vec<i128> {
        ids.iter()
            .filter_map(|id| laid.pieces.get(id))
            .map(|piece| piece.length)
            .collect()
    };
    let strips: Vec<&[String]> = match &board.strips {
        None => vec![&board.pieces],
        Some(strips) => {
            check_split(job, board, strips, laid, found);
            strips.iter().map(Vec::as_slice).collect()
        }
    };
    for ids in &strips {
        let excess = saw.excess(lengths(ids));
        if excess > 0 {
            found.add(
                Rule::BoardHolds,
                format!(
                    "board {} of {} is {} too short for pieces {} and their cuts",
                    board.number,
                    found.show(saw.length),
                    found.show(excess),
                    ids.join(", ")
                ),
            );
        }
    }
    let offcut = strips
        .iter()
        .map(|ids| saw.offcut(lengths(ids)))
        .max()
        .unwrap_or(0);
    if wide(board.offcut) != offcut {
        found.add(
            Rule::Offcut,
            format!(
                "the offcut of board {} is said to be {}, but it is {}",
                board.number,
                found.show(wide(board.offcut)),
                found.show(offcut)
            ),
        );
    }
}

/// Whether a board may be split as it is.
fn check_split(
    job: &Job,
    board: &PlannedBoard,
    strips: &[Vec<String>; 2],
    laid: &Laid,
    found: &mut Findings,
) {
    let number = board.number;
    if !job.cutting.split_rips {
        found.add(
            Rule::Split,
            format!("board {number} is split, but the job does not allow it"),
        );
    }
    let mut listed: Vec<&String> = board.pieces.iter().collect();
    let mut in_strips: Vec<&String> = strips.iter().flatten().collect();
    listed.sort_unstable();
    in_strips.sort_unstable();
    if listed != in_strips {
        found.add(
            Rule::Split,
            format!("the strips of board {number} do not hold the pieces of the board"),
        );
    }
    let mut across = wide(job.cutting.rip_kerf);
    for strip in strips {
        let pieces = || {
            strip
                .iter()
                .filter_map(|id| laid.pieces.get(id).map(|piece| (id, piece)))
        };
        let Some((_, first)) = pieces().next() else {
            found.add(
                Rule::Split,
                format!("board {number} is split, but one strip holds no piece"),
            );
            continue;
        };
        across += first.width;
        for (id, piece) in pieces() {
            if !piece.ripped {
                found.add(
                    Rule::Split,
                    format!(
                        "piece {id} is as wide as the board, but lies in a strip of board {number}"
                    ),
                );
            }
            if piece.width != first.width {
                found.add(
                    Rule::Split,
                    format!("a strip of board {number} holds pieces of different widths"),
                );
            }
        }
    }
    if across > wide(job.board.face) {
        found.add(
            Rule::Split,
            format!(
                "the strips of board {number} and the rip cut take {}, but the board is {} wide",
                found.show(across),
                found.show(wide(job.board.face))
            ),
        );
    }
}

fn check_limits(job: &Job, taken: &BTreeMap<(usize, bool), u64>, found: &mut Findings) {
    for (&(stock, on_hand), &count) in taken {
        let Some(kind) = job.stock.get(stock) else {
            continue;
        };
        let (rule, limit, verb) = if on_hand {
            (Rule::OnHand, Some(kind.on_hand), "taken from hand")
        } else {
            (Rule::Available, kind.available, "bought")
        };
        if let Some(limit) = limit
            && count > u64::from(limit)
            // Bundles have been counted whole.
            && (on_hand || kind.bundle <= 1)
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
