//! A cutting problem from end to end: taken in, searched, and its boards handed
//! out piece by piece.

use std::cmp::Reverse;

use super::close::Work;
use super::instance::{Cut, Instance, instance, kinds, without_dominated};
use super::relax::Prices;
use super::search::search;
use super::types::{BoardsLeft, CutBoard, CutPlan, CutProblem, CutProof, LimitPrice, StockError};
use crate::length::Length;
use crate::money::Money;
use crate::program::branch::Limits;
use crate::watch::{Progress, Watch};

/// The prices in lengths and stocks of the problem.
fn proof(instance: &Instance, prices: &Prices, further: Vec<Vec<i64>>) -> CutProof {
    let limits = instance.kinds.iter().zip(&prices.limit);
    CutProof {
        parts: prices.parts,
        pieces: instance
            .lengths
            .iter()
            .copied()
            .zip(prices.length.iter().copied())
            .collect(),
        limits: limits
            .filter(|(_, price)| **price > 0)
            .map(|(kind, &price)| LimitPrice {
                stock: kind.stock,
                on_hand: kind.on_hand,
                price,
            })
            .collect(),
        further,
    }
}

/// Cuts the pieces of a problem from its boards at the least cost.
///
/// # Errors
/// When a piece fits no board, when the boards provably do not hold all pieces,
/// or when the watch stopped the search before an answer was found.
pub fn solve(problem: &CutProblem, watch: &dyn Watch) -> Result<CutPlan, StockError> {
    let (instance, sources) = instance(problem, without_dominated(kinds(problem)))?;
    if instance.lengths.is_empty() {
        return Ok(CutPlan {
            boards: Vec::new(),
            left_over: Vec::new(),
            cost: Money::ZERO,
            bound: Money::ZERO,
            proven: true,
            stopped: false,
            proof: None,
        });
    }
    let work = Work {
        patterns: 60_000,
        limits: Limits {
            nodes: 20_000,
            work: 24_000,
        },
    };
    let tell = |cost: Option<i64>, bound: i64, cuts: Option<&Vec<Cut>>| {
        watch.progress(&Progress {
            value: cost,
            bound: Some(bound),
            boards: cuts.map(|c| c.iter().map(|c| c.count).sum::<i64>() as u32),
        });
    };
    let solved = search(&instance, i64::MAX, work, &|| watch.stop(), &tell)?;
    let stopped = solved.cost > solved.bound && watch.stop();
    Ok(CutPlan {
        boards: boards(problem, &instance, &sources, &solved.cuts),
        left_over: left_over(&instance, &solved.cuts),
        cost: Money::from_cents(solved.cost),
        bound: Money::from_cents(solved.bound),
        proven: solved.cost == solved.bound,
        stopped,
        proof: (solved.prices).map(|prices| proof(&instance, &prices, solved.refuting)),
    })
}

/// What the bundles of the boards bought leave over; the kinds are in the order
/// of their stock.
fn left_over(instance: &Instance, cuts: &[Cut]) -> Vec<BoardsLeft> {
    let kinds = instance.kinds.iter().zip(instance.used(cuts));
    kinds
        .map(|(kind, used)| (kind, kind.left_over(used)))
        .filter(|&(_, left)| left > 0)
        .map(|(kind, left)| BoardsLeft {
            stock: kind.stock,
            count: left as u64,
            price: Money::from_cents(kind.cost) * left,
        })
        .collect()
}

/// The boards of an answer as they are handed out.
fn boards(
    problem: &CutProblem,
    instance: &Instance,
    sources: &[Vec<usize>],
    cuts: &[Cut],
) -> Vec<CutBoard> {
    // Entries of equal length are served in their own order.
    let mut next: Vec<(usize, u64)> = sources
        .iter()
        .map(|places| (0, places.first().map_or(0, |&p| problem.pieces[p].count)))
        .collect();
    let mut boards: Vec<CutBoard> = Vec::new();
    for cut in cuts {
        let kind = &instance.kinds[cut.kind];
        let used: Length = cut
            .pattern
            .iter()
            .map(|&(i, n)| (instance.lengths[i as usize] + instance.kerf) * i64::from(n))
            .sum();
        let offcut = (kind.usable - used).max(Length::ZERO);
        let mut left = cut.count as u64;
        while left > 0 {
            // As many boards as get the same entries.
            let mut alike = left;
            for &(i, n) in &cut.pattern {
                let (at, room) = next[i as usize];
                let single = at + 1 == sources[i as usize].len();
                alike = alike.min(if single || room >= u64::from(n) {
                    if single {
                        left
                    } else {
                        (room / u64::from(n)).max(1)
                    }
                } else {
                    1
                });
            }
            let mut pieces = Vec::new();
            for &(i, n) in &cut.pattern {
                let places = &sources[i as usize];
                let state = &mut next[i as usize];
                let mut wanted = u64::from(n);
                let mut first = true;
                while wanted > 0 {
                    while state.1 == 0 && state.0 + 1 < places.len() {
                        state.0 += 1;
                        state.1 = problem.pieces[places[state.0]].count;
                    }
                    let now = if first && alike > 1 {
                        wanted
                    } else {
                        wanted.min(state.1.max(1))
                    };
                    pieces.extend(std::iter::repeat_n(places[state.0], now as usize));
                    state.1 = state.1.saturating_sub(now * alike);
                    wanted -= now;
                    first = false;
                }
            }
            boards.push(CutBoard {
                stock: kind.stock,
                on_hand: kind.on_hand,
                count: alike,
                pieces,
                offcut,
            });
            left -= alike;
        }
    }
    let lengths = |board: &CutBoard| -> Vec<Length> {
        board
            .pieces
            .iter()
            .map(|&piece| problem.pieces[piece].length)
            .collect()
    };
    boards.sort_by_cached_key(|board| {
        let longest_first = Reverse(lengths(board));
        (
            board.stock,
            !board.on_hand,
            longest_first,
            board.pieces.clone(),
        )
    });
    boards.dedup_by(|b, a| {
        let same = a.stock == b.stock && a.on_hand == b.on_hand && a.pieces == b.pieces;
        if same {
            a.count += b.count;
        }
        same
    });
    boards
}
