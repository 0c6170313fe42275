//! The linear relaxation of a cutting problem by column generation, and the
//! bound that its prices prove in whole numbers.

use std::sync::Arc;

use rustc_hash::FxHashSet;

use super::boards::Pattern;
use super::instance::{Cut, Instance};
use crate::program::simplex::{Ended, Simplex};
use crate::program::{Columns, whole};

/// Whole prices: what pieces are worth and boards of limited kinds cost extra.
#[derive(Debug, Clone)]
pub(crate) struct Prices {
    /// Parts of one unit of cost.
    pub parts: i64,
    /// Of each length, in parts, none below zero.
    pub length: Vec<i64>,
    /// Of each kind's limit, in parts, none below zero.
    pub limit: Vec<i64>,
    /// No answer costs less than this, in parts.
    pub bound: i128,
}

/// The relaxation solved.
pub(crate) struct Relaxation {
    /// The prices with the best bound.
    pub prices: Prices,
    /// The columns in use: kind, pattern, and how many boards.
    pub used: Vec<(usize, Pattern, f64)>,
}

/// What a price may come to in parts: a thousand times the dearest board, and still
/// the pieces of a board add up.
const MOST_PRICE: i64 = 1_000_000_000_000_000;

/// How finely prices are rounded: the dearest board is some 10^12 parts.
pub(crate) fn parts(dearest: i64) -> i64 {
    (1_000_000_000_000 / dearest.max(1)).clamp(1, 1_000_000)
}

/// Solves the relaxation. `known` are cuts worth starting from; no answer of
/// interest costs more than `at_most`.
pub(crate) fn relax(
    instance: &Instance,
    known: &[Cut],
    at_most: i64,
    stop: &dyn Fn() -> bool,
) -> Relaxation {
    let lengths = instance.lengths.len();
    let dearest = instance.kinds.iter().map(|k| k.cost).max().unwrap_or(1);
    let parts = parts(dearest);
    let limit_row: Vec<Option<u32>> = instance
        .kinds
        .iter()
        .scan(lengths as u32, |next, kind| {
            Some(kind.limit.map(|_| {
                *next += 1;
                *next - 1
            }))
        })
        .collect();
    let mut at_least: Vec<i64> = instance.demand.clone();
    at_least.extend(instance.kinds.iter().filter_map(|k| k.limit).map(|l| -l));

    // A piece that no board holds may be had at a price above any real answer.
    let dear = at_most.saturating_add(1).max(2 * dearest).min(1 << 50);
    let mut columns = Columns::new();
    for row in 0..lengths as u32 {
        columns.push(dear, [(row, 1)]);
    }
    let mut patterns: Vec<Option<(usize, Pattern)>> = vec![None; lengths];
    let mut seen: FxHashSet<(usize, Pattern)> = FxHashSet::default();
    let entries = |kind: usize, pattern: &Pattern| -> Vec<(u32, i32)> {
        let mut entries: Vec<(u32, i32)> = pattern
            .iter()
            .map(|&(i, n)| (u32::from(i), i32::from(n)))
            .collect();
        entries.extend(limit_row[kind].map(|row| (row, -1)));
        entries
    };
    let starts = known
        .iter()
        .map(|c| (c.kind, c.pattern.clone()))
        .chain((0..lengths).flat_map(|i| {
            (0..instance.kinds.len()).filter_map(move |k| {
                let n = instance.boards.holds(i, k);
                (n > 0).then(|| (k, vec![(i as u16, n.min(65_535) as u16)]))
            })
        }));
    for (kind, pattern) in starts {
        if seen.insert((kind, pattern.clone())) {
            columns.push(instance.kinds[kind].cost, entries(kind, &pattern));
            patterns.push(Some((kind, pattern)));
        }
    }
    let mut simplex = Simplex::new(Arc::new(columns), &at_least, dearest.max(1) as f64, 1e-6);
    let mut best: Option<Prices> = None;
    let mut ended = simplex.dual(100_000, f64::INFINITY, stop);
    let fees: Vec<i64> = instance.kinds.iter().map(|k| k.cost * parts).collect();
    for _ in 0..2_000 {
        let raw = simplex.prices();
        let whole = |p: f64| whole(p, parts, MOST_PRICE);
        let length: Vec<i64> = raw[..lengths].iter().map(|&p| whole(p)).collect();
        let limit: Vec<i64> = limit_row
            .iter()
            .map(|row| row.map_or(0, |r| whole(raw[r as usize])))
            .collect();
        let mut added = false;
        // Exactly only when nothing is found quickly.
        for exactly in [false, true] {
            let found = if exactly {
                instance.boards.best(&length)
            } else {
                instance.boards.quick(&length)
            };
            let earned: Vec<i64> = found
                .iter()
                .enumerate()
                .map(|(k, b)| fees[k] + limit[k] - b.at_most)
                .collect();
            let bound = bound(instance, &length, &limit, &earned, at_most);
            if best.as_ref().is_none_or(|b| bound > b.bound) {
                best = Some(Prices {
                    parts,
                    length: length.clone(),
                    limit: limit.clone(),
                    bound,
                });
            }
            if ended != Ended::Optimal || stop() {
                break;
            }
            let exact = found.iter().all(|b| b.value == b.at_most);
            for (k, b) in found.into_iter().enumerate() {
                let reduced = fees[k] + limit[k] - b.value;
                if reduced < -(fees[k] / 10_000_000_000).max(8)
                    && seen.insert((k, b.pattern.clone()))
                {
                    simplex.add_column(instance.kinds[k].cost, &entries(k, &b.pattern));
                    patterns.push(Some((k, b.pattern)));
                    added = true;
                }
            }
            if added || exact {
                break;
            }
        }
        if !added {
            break;
        }
        ended = simplex.primal(100_000, stop);
    }
    let used = simplex
        .values()
        .into_iter()
        .filter_map(|(j, x)| patterns[j].clone().map(|(k, p)| (k, p, x)))
        .collect();
    Relaxation {
        prices: best.expect("at least one round was made"),
        used,
    }
}

/// What given prices prove: the demand at its prices, less what limits and
/// underpriced boards could give back.
fn bound(instance: &Instance, length: &[i64], limit: &[i64], earned: &[i64], at_most: i64) -> i128 {
    let mut sum: i128 = instance
        .demand
        .iter()
        .zip(length)
        .map(|(&d, &v)| i128::from(d) * i128::from(v))
        .sum();
    let pieces = instance.pieces();
    for ((kind, &extra), &earned) in instance.kinds.iter().zip(limit).zip(earned) {
        if let Some(limit) = kind.limit {
            sum -= i128::from(limit) * i128::from(extra);
        }
        if earned < 0 {
            let mut most = kind.limit.unwrap_or(i64::MAX).min(pieces);
            if kind.cost > 0 {
                most = most.min(at_most / kind.cost);
            }
            sum += i128::from(most) * i128::from(earned);
        }
    }
    sum
}

impl Prices {
    /// The bound in whole units of cost.
    pub(crate) fn bound(&self) -> i64 {
        let parts = i128::from(self.parts);
        let up = self.bound.div_euclid(parts) + i128::from(self.bound.rem_euclid(parts) != 0);
        i64::try_from(up.max(0)).unwrap_or(i64::MAX)
    }

    /// What a pattern of a kind is worth at least if an answer that costs no
    /// more than `cutoff` uses it.
    pub(crate) fn floor(&self, kind: usize, cost: i64, cutoff: i64) -> i64 {
        let gap = i128::from(cutoff) * i128::from(self.parts) - self.bound;
        let floor = i128::from(cost) * i128::from(self.parts) + i128::from(self.limit[kind]) - gap;
        floor.clamp(i128::from(i64::MIN / 4), i128::from(i64::MAX / 4)) as i64
    }
}
