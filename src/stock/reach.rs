//! Which totals can be reached at all as sums of prices: a bound that falls
//! between two of them may be raised to the upper one.

use super::boards::gcd;

/// The sums of some prices, each taken as often as one likes.
#[derive(Debug, Clone)]
pub(crate) struct Reach {
    step: i64,
    /// Whether `step * i` can be reached, up to a limit; all beyond count as reachable.
    reachable: Vec<bool>,
}

const MOST_STEPS: i64 = 4_000_000;

impl Reach {
    /// The sums up to `limit` of prices none of which is below zero.
    pub(crate) fn new(prices: impl IntoIterator<Item = i64>, limit: i64) -> Reach {
        let mut prices: Vec<i64> = prices.into_iter().filter(|&p| p > 0).collect();
        prices.sort_unstable();
        prices.dedup();
        let step = prices.iter().copied().fold(0, gcd).max(1);
        let steps = (limit / step).clamp(0, MOST_STEPS);
        let mut reachable = vec![false; steps as usize + 1];
        reachable[0] = true;
        for &price in &prices {
            let p = (price / step) as usize;
            for i in p..reachable.len() {
                reachable[i] |= reachable[i - p];
            }
        }
        if prices.is_empty() {
            reachable.truncate(1);
        }
        Reach { step, reachable }
    }

    /// The least reachable total that is not below `bound`.
    pub(crate) fn lift(&self, bound: i64) -> i64 {
        if bound <= 0 {
            return 0;
        }
        let first = bound / self.step + i64::from(bound % self.step != 0);
        let mut i = first;
        while let Some(&reachable) = self.reachable.get(i as usize) {
            if reachable {
                break;
            }
            i += 1;
        }
        i * self.step
    }
}
