//! Closing the gap between an answer and the bound with proof, over every
//! pattern that a better answer could use.

use std::sync::Arc;

use super::boards::Pattern;
use super::instance::{Cut, Instance};
use super::relax::Prices;
use crate::program::Columns;
use crate::program::branch::{Limits, Program, Way};
use crate::program::widen::widen;

/// How far closing got.
pub(crate) struct Closed {
    /// A better answer, if one was found.
    pub better: Option<Vec<Cut>>,
    /// No answer costs less than this.
    pub bound: i64,
}

/// Work allowed for closing.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Work {
    /// Patterns listed at most.
    pub patterns: usize,
    /// Limits of each integer program.
    pub limits: Limits,
}

/// Looks for an answer that costs less than `cost`, given that none costs less
/// than `bound`, or the proof that there is none.
pub(crate) fn close(
    instance: &Instance,
    prices: &Prices,
    (bound, cost): (i64, i64),
    lift: &dyn Fn(i64) -> i64,
    work: Work,
    stop: &dyn Fn() -> bool,
) -> Closed {
    let tables = instance.boards.tables(&prices.length);
    let widened = widen(bound, cost, lift, work.limits, stop, &mut |cutoff| {
        program(instance, prices, &tables, cutoff, work.patterns)
    });
    let better = widened.better.map(|((_, answer), listed)| {
        let cuts: Vec<Cut> = answer
            .into_iter()
            .filter_map(|(j, count)| {
                let (kind, pattern) = listed[j].clone()?;
                Some(Cut {
                    kind,
                    pattern,
                    count,
                })
            })
            .collect();
        instance.trim(&cuts)
    });
    Closed {
        better,
        bound: widened.bound,
    }
}

/// What each column stands for: a kind and how it is cut, or else a bundle.
type Listed = Vec<Option<(usize, Pattern)>>;

fn program(
    instance: &Instance,
    prices: &Prices,
    tables: &super::boards::Tables,
    cutoff: i64,
    most: usize,
) -> Option<(Program, Listed)> {
    let lengths = instance.lengths.len();
    let mut at_least = instance.demand.clone();
    let mut columns = Columns::new();
    let mut listed = Vec::new();
    let mut group = Vec::new();
    let mut counts = Vec::new();
    let kinds = instance.kinds.len() as u32;
    let pieces = instance.pieces();
    let mut bundles = 0;
    for (k, kind) in instance.kinds.iter().enumerate() {
        let floor = prices.floor(k, kind.cost, cutoff);
        let room = most.checked_sub(listed.len())?;
        let patterns = instance
            .boards
            .near(&prices.length, tables, k, floor, room)?;
        let limit_row = kind.limit.map(|limit| {
            at_least.push(-limit);
            at_least.len() as u32 - 1
        });
        // Boards in bundles cost what their bundles do, and those hold them.
        let (cost, held) = match kind.bundle > 1 {
            true => {
                at_least.push(0);
                (0, Some((at_least.len() as u32 - 1, -1)))
            }
            false => (kind.cost, None),
        };
        let first = columns.len() as u32;
        for pattern in patterns {
            let entries = pattern
                .iter()
                .map(|&(i, n)| (u32::from(i), i32::from(n)))
                .chain(limit_row.map(|row| (row, -1)))
                .chain(held);
            columns.push(cost, entries);
            group.push(k as u32);
            listed.push(Some((k, pattern)));
        }
        let boards = (first..columns.len() as u32).map(|j| (j, 1)).collect();
        if let Some((row, _)) = held {
            // More of a bundle than there are pieces is of no use.
            let of_use = i32::try_from(kind.bundle.min(pieces)).ok()?;
            let j = columns.push(kind.of_bundle(), [(row, of_use)]) as u32;
            listed.push(None);
            group.push(kinds + k as u32);
            counts.push(vec![(j, 1)]);
            bundles += pieces / kind.bundle + 1;
        }
        counts.push(boards);
    }
    debug_assert!(at_least.len() >= lengths);
    let program = Program {
        columns: Arc::new(columns),
        at_least,
        group,
        sums: counts,
        most_columns: most_boards(instance, cutoff).saturating_add(bundles),
        moves: Vec::new(),
        way: Way::Deep,
    };
    Some((program, listed))
}

/// No answer that costs at most `cutoff`, each board of which holds something
/// needed, uses more boards than this.
fn most_boards(instance: &Instance, cutoff: i64) -> i64 {
    let from_hand: i64 = instance
        .kinds
        .iter()
        .filter(|k| k.cost == 0)
        .map(|k| k.limit.unwrap_or(i64::MAX))
        .fold(0, i64::saturating_add);
    let cheapest = instance
        .kinds
        .iter()
        .map(|k| k.cost)
        .filter(|&c| c > 0)
        .min();
    let bought = cheapest.map_or(0, |c| cutoff / c);
    from_hand
        .saturating_add(bought)
        .min(instance.pieces())
        .max(1)
}
