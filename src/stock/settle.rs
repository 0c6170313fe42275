//! Settling numbers of boards one after another, cheapest first: each is packed,
//! or refuted by prices of the pieces, or left open. The first that is packed
//! with none left open before it is the cheapest answer there is.

use super::boards::Pattern;
use super::close::Work;
use super::counts::Counts;
use super::instance::{Cut, Instance};
use super::pack::Packer;
use super::reach::Reach;
use super::relax::{Relaxation, relax};

/// How much may be done, in counts.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Effort {
    /// Steps of each listing of numbers of boards.
    pub listing: u64,
    /// Numbers of boards that are tried to be packed.
    pub tries: usize,
    /// Work on packing each, in words of bits.
    pub packing: u64,
    /// Relaxations solved to refute some.
    pub refuting: usize,
}

impl Effort {
    /// Only what may be had is listed.
    pub(crate) const LISTING: Effort = Effort {
        listing: 20_000,
        tries: 0,
        packing: 0,
        refuting: 0,
    };

    /// In proportion to what may be done on the patterns.
    pub(crate) fn of(work: Work) -> Effort {
        let share = (work.limits.work / 6).min(4_000);
        Effort {
            listing: 4_000 + 100 * share,
            tries: 4 + share as usize / 100,
            packing: 500 * share.max(200),
            refuting: 1 + share as usize / 500,
        }
    }
}

/// Numbers of boards listed at once.
const MOST_LISTED: usize = 3_000;

/// What is known of the numbers of boards by cost.
pub(crate) struct Settled {
    /// The cheapest packing found, if it costs less than was asked.
    pub better: Option<Vec<Cut>>,
    /// No answer costs less than this.
    pub bound: i64,
    /// Costs that may still be had, ascending, none below the bound ...
    open: Vec<i64>,
    /// ... up to this one; nothing is known of higher ones.
    until: i64,
    /// Prices of the pieces that refute some numbers of boards.
    pub refuting: Vec<Vec<i64>>,
}

impl Settled {
    /// The least cost that may be had and is not below `bound`.
    pub(crate) fn lift(&self, reach: &Reach, bound: i64) -> i64 {
        if bound > self.until {
            return reach.lift(bound);
        }
        match self.open.get(self.open.partition_point(|&c| c < bound)) {
            Some(&cost) => cost,
            None => reach.lift(self.until + 1),
        }
    }
}

/// Settles the numbers of boards that cost from `bound` to less than `cost`.
pub(crate) fn settle(
    instance: &Instance,
    relaxation: &Relaxation,
    reach: &Reach,
    (bound, cost): (i64, i64),
    effort: Effort,
    stop: &dyn Fn() -> bool,
) -> Settled {
    let mut settled = Settled {
        better: None,
        bound,
        open: Vec::new(),
        until: bound - 1,
        refuting: Vec::new(),
    };
    let mut counts = Counts::new(instance, &relaxation.prices.length);
    let mut packer = Packer::new(instance, stop);
    let pieces = instance.pieces();
    let mut left = effort;
    let mut window = (cost - bound) / 16 + 1;
    let mut below = cost;
    while settled.until + 1 < below && !stop() {
        let from = settled.until + 1;
        let to = from.saturating_add(window - 1).min(below - 1);
        let Some(listed) = counts.list(from, to, MOST_LISTED, effort.listing) else {
            if window < 8 {
                break;
            }
            window /= 8;
            continue;
        };
        window = window.saturating_mul(3);
        for (cost, numbers) in listed {
            if cost >= below || !counts.allow(&numbers) {
                continue;
            }
            let first = settled.open.is_empty();
            if left.tries > 0 && !stop() {
                left.tries -= 1;
                // The cheapest is the one that matters most.
                let packing = effort.packing * if first { 20 } else { 1 };
                // No more of a kind are filled than there are pieces.
                let filled: Vec<i64> = numbers.iter().map(|&n| n.min(pieces)).collect();
                if let Some(cuts) = packer.pack(&instance.demand, &filled, packing) {
                    settled.better = Some(cuts);
                    below = cost;
                    continue;
                }
                if first && left.refuting > 0 {
                    left.refuting -= 1;
                    if let Some(prices) = refute(instance, &relaxation.used, &numbers, stop) {
                        counts.add(instance, &prices);
                        if !counts.allow(&numbers) {
                            settled.refuting.push(prices);
                            continue;
                        }
                    }
                }
            }
            settled.open.push(cost);
        }
        settled.until = to.min(below - 1);
    }
    settled.bound = settled.lift(reach, bound).min(below);
    settled
}

/// Prices of the pieces by which some numbers of boards cannot hold them; `used`
/// are columns worth starting from.
pub(crate) fn refute(
    instance: &Instance,
    used: &[(usize, Pattern, f64)],
    numbers: &[i64],
    stop: &dyn Fn() -> bool,
) -> Option<Vec<i64>> {
    let mut fixed = instance.clone();
    for (kind, &n) in fixed.kinds.iter_mut().zip(numbers) {
        kind.cost = 0;
        kind.limit = Some(n);
    }
    let known: Vec<Cut> = used
        .iter()
        .map(|(kind, pattern, _)| Cut {
            kind: *kind,
            pattern: pattern.clone(),
            count: 1,
        })
        .collect();
    let prices = relax(&fixed, &known, 0, stop).prices;
    (prices.bound > 0).then_some(prices.length)
}
