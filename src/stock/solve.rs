//! The whole search: a quick answer, the relaxation and its bound, the gap
//! closed by listing patterns, and dives where that is too much.

use std::cmp::Reverse;

use super::close::{Work, close};
use super::greedy;
use super::instance::{Cut, Instance, instance};
use super::reach::Reach;
use super::relax::{Prices, Relaxation, relax};
use super::types::{CutBoard, CutPlan, CutProblem, CutProof, LimitPrice, StockError};
use crate::length::Length;
use crate::money::Money;
use crate::program::branch::Limits;
use crate::watch::{Progress, Watch};

/// Distinct lengths beyond which the relaxation would take too long.
const MOST_LENGTHS: usize = 300;

/// An answer to an instance and what is known about it.
pub(crate) struct Solved {
    /// The boards and their cuts.
    pub cuts: Vec<Cut>,
    /// What they cost.
    pub cost: i64,
    /// No answer costs less.
    pub bound: i64,
    /// The prices that prove what the relaxation gives of the bound.
    pub prices: Option<Prices>,
}

/// The prices in lengths and stocks of the problem.
fn proof(instance: &Instance, prices: &Prices) -> CutProof {
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
    }
}

/// Cuts the pieces of a problem from its boards at the least cost.
///
/// # Errors
/// When a piece fits no board, when the boards provably do not hold all pieces,
/// or when the watch stopped the search before an answer was found.
pub fn solve(problem: &CutProblem, watch: &dyn Watch) -> Result<CutPlan, StockError> {
    let (instance, sources) = instance(problem)?;
    if instance.lengths.is_empty() {
        return Ok(CutPlan {
            boards: Vec::new(),
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
            work: 4_000,
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
        cost: Money::from_cents(solved.cost),
        bound: Money::from_cents(solved.bound),
        proven: solved.cost == solved.bound,
        stopped,
        proof: solved.prices.map(|prices| proof(&instance, &prices)),
    })
}

/// Told of the best cost so far, the bound, and the cuts.
type Tell<'a> = dyn Fn(Option<i64>, i64, Option<&Vec<Cut>>) + 'a;

/// Searches an instance. Answers that cost more than `enough` are of no use;
/// if none is found that is not, the cheapest is returned with its bound.
pub(crate) fn search(
    instance: &Instance,
    enough: i64,
    work: Work,
    stop: &dyn Fn() -> bool,
    tell: &Tell,
) -> Result<Solved, StockError> {
    let dearest = instance.kinds.iter().map(|k| k.cost).max().unwrap_or(0);
    // One board a piece costs no more than this, if there are enough of them.
    let conceivable = instance.pieces().saturating_mul(dearest).min(1 << 52);
    let sizes: Vec<i64> = instance
        .lengths
        .iter()
        .map(|&l| (l + instance.kerf).units())
        .collect();
    let limits: Vec<Option<i64>> = instance.kinds.iter().map(|k| k.limit).collect();
    if instance.lengths.len() > MOST_LENGTHS {
        let cuts = greedy::first_fit(instance).ok_or(StockError::Stopped)?;
        let cost = instance.cost(&cuts);
        let reach = reach(instance, cost);
        let bound = reach.lift(by_material(instance)).min(cost);
        return Ok(Solved {
            cuts,
            cost,
            bound,
            prices: None,
        });
    }
    let mut best = greedy::fill(instance, instance.demand.clone(), limits, &sizes)
        .map(|cuts| instance.trim(&cuts));
    let mut cost = best
        .as_ref()
        .map_or(conceivable, |cuts| instance.cost(cuts));
    let relaxation = relax(instance, best.as_deref().unwrap_or(&[]), cost, stop);
    if best.is_none() && relaxation.prices.bound() > conceivable {
        return Err(StockError::NotEnough);
    }
    let reach = reach(instance, cost.min(enough));
    let mut bound = reach.lift(relaxation.prices.bound()).min(cost);
    tell(best.as_ref().map(|_| cost), bound, best.as_ref());
    let improve = |cuts: Vec<Cut>, cost: &mut i64, best: &mut Option<Vec<Cut>>| {
        let new = instance.cost(&cuts);
        if best.is_none() || new < *cost {
            *cost = new;
            *best = Some(cuts);
        }
    };
    if bound < cost
        && let Some(cuts) = greedy::round(instance, &relaxation)
    {
        improve(cuts, &mut cost, &mut best);
    }
    if bound < cost || best.is_none() {
        // One more than the best, so that an equal answer counts while there is none.
        let target = if best.is_some() {
            cost
        } else {
            conceivable.saturating_add(1)
        };
        let target = target.min(enough.saturating_add(1));
        let closed = close(instance, &relaxation.prices, &reach, target, work, stop);
        bound = bound.max(closed.bound.min(cost));
        match closed.better {
            Some(cuts) => improve(cuts, &mut cost, &mut best),
            None if best.is_none() && closed.bound > conceivable => {
                return Err(StockError::NotEnough);
            }
            None => {}
        }
        tell(best.as_ref().map(|_| cost), bound, best.as_ref());
    }
    if bound < cost && cost > enough.min(cost - 1) && !stop() {
        let before = cost;
        // Each dive relaxes what is left many times; large problems get one.
        for depth in 0..if instance.lengths.len() > 100 { 1 } else { 2 } {
            if let Some(cuts) = dive(instance, &relaxation, depth, stop) {
                improve(cuts, &mut cost, &mut best);
            }
        }
        if bound < cost && cost < before && !stop() {
            let closed = close(instance, &relaxation.prices, &reach, cost, work, stop);
            bound = bound.max(closed.bound.min(cost));
            if let Some(cuts) = closed.better {
                improve(cuts, &mut cost, &mut best);
            }
        }
    }
    let cuts = best.ok_or(StockError::Stopped)?;
    Ok(Solved {
        cuts,
        cost,
        bound: bound.min(cost),
        prices: Some(relaxation.prices),
    })
}

fn reach(instance: &Instance, limit: i64) -> Reach {
    Reach::new(instance.kinds.iter().map(|k| k.cost), limit)
}

/// What the bare material must cost at the best price for its length.
fn by_material(instance: &Instance) -> i64 {
    let offer = |k: &super::instance::Kind| i128::from((k.usable + instance.kerf).units().max(1));
    let free: i128 = instance
        .kinds
        .iter()
        .filter(|k| k.cost == 0)
        .map(|k| i128::from(k.limit.unwrap_or(i64::MAX)).saturating_mul(offer(k)))
        .sum();
    let needed: i128 = instance
        .lengths
        .iter()
        .zip(&instance.demand)
        .map(|(&l, &d)| i128::from((l + instance.kerf).units()) * i128::from(d))
        .sum();
    let bought = (needed - free).max(0);
    instance
        .kinds
        .iter()
        .filter(|k| k.cost > 0)
        .map(|k| {
            let product = bought * i128::from(k.cost);
            product / offer(k) + i128::from(product % offer(k) != 0)
        })
        .min()
        .and_then(|bound| i64::try_from(bound).ok())
        .unwrap_or(0)
}

/// Rounds the relaxation down, relaxes what is left, and so on; where nothing
/// rounds, the board nearest to whole is taken. `skip` leaves out so many of the
/// first choices, so that another dive goes another way.
fn dive(
    instance: &Instance,
    relaxation: &Relaxation,
    skip: usize,
    stop: &dyn Fn() -> bool,
) -> Option<Vec<Cut>> {
    let mut rest = instance.demand.clone();
    let mut limits: Vec<Option<i64>> = instance.kinds.iter().map(|k| k.limit).collect();
    let mut used = relaxation.used.clone();
    let mut cuts: Vec<Cut> = Vec::new();
    for round in 0..60 {
        let mut taken = false;
        let mut by_fraction: Vec<usize> = (0..used.len()).collect();
        by_fraction.sort_by(|&a, &b| {
            let part = |i: usize| used[i].2 - used[i].2.floor();
            part(b).total_cmp(&part(a)).then(a.cmp(&b))
        });
        let whole: Vec<(usize, i64)> = (0..used.len())
            .map(|i| (i, (used[i].2 + 1e-6).floor() as i64))
            .collect();
        let choices = if whole.iter().any(|w| w.1 > 0) {
            whole
        } else {
            let nth = if round == 0 { skip } else { 0 };
            by_fraction.get(nth).map(|&i| (i, 1)).into_iter().collect()
        };
        for (i, count) in choices {
            let (kind, pattern, _) = &used[i];
            let fits = pattern
                .iter()
                .map(|&(l, n)| (rest[l as usize] + i64::from(n) - 1) / i64::from(n))
                .max()
                .unwrap_or(0);
            let count = count.min(fits).min(limits[*kind].unwrap_or(i64::MAX));
            if count > 0 {
                for &(l, n) in pattern {
                    rest[l as usize] = (rest[l as usize] - count * i64::from(n)).max(0);
                }
                if let Some(limit) = &mut limits[*kind] {
                    *limit -= count;
                }
                cuts.push(Cut {
                    kind: *kind,
                    pattern: pattern.clone(),
                    count,
                });
                taken = true;
            }
        }
        if rest.iter().all(|&r| r == 0) {
            return Some(instance.trim(&cuts));
        }
        if !taken || stop() {
            break;
        }
        let left: Vec<usize> = (0..rest.len()).filter(|&i| rest[i] > 0).collect();
        let mut kinds = instance.kinds.clone();
        for (kind, limit) in kinds.iter_mut().zip(&limits) {
            kind.limit = *limit;
        }
        let sub = Instance::new(
            left.iter().map(|&i| instance.lengths[i]).collect(),
            left.iter().map(|&i| rest[i]).collect(),
            kinds,
            instance.kerf,
        );
        let dearest = instance.kinds.iter().map(|k| k.cost).max().unwrap_or(0);
        let most = sub.pieces().saturating_mul(dearest).min(1 << 52);
        let relaxed = relax(&sub, &[], most, stop);
        used = relaxed
            .used
            .into_iter()
            .map(|(k, p, x)| {
                (
                    k,
                    p.into_iter()
                        .map(|(i, n)| (left[i as usize] as u16, n))
                        .collect(),
                    x,
                )
            })
            .collect();
    }
    None
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
