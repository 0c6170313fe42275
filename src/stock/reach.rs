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

    /// The greatest reachable total below `total`; nothing where there is none.
    pub(crate) fn below(&self, total: i64) -> Option<i64> {
        let last = total.checked_sub(1).filter(|&last| last >= 0)? / self.step;
        let reached = |i: &i64| *self.reachable.get(*i as usize).unwrap_or(&true);
        (0..=last).rev().find(reached).map(|i| i * self.step)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn totals_between_two_sums_belong_to_neither() {
        for prices in [vec![7, 12], vec![6590], vec![4, 6], vec![1_000, 1_001, 0]] {
            let reach = Reach::new(prices.iter().copied(), 5_000);
            let mut sums = vec![false; 5_001];
            sums[0] = true;
            for total in 1..=5_000usize {
                let parts = prices.iter().filter(|&&p| p > 0);
                let mut parts = parts.filter_map(|&p| total.checked_sub(p as usize));
                sums[total] = parts.any(|rest| sums[rest]);
            }
            for total in 1..=4_000 {
                let below = (0..total).rev().find(|&sum| sums[sum as usize]);
                assert_eq!(reach.below(total), below, "{prices:?}, {total}");
                let above = (total..5_000).find(|&sum| sums[sum as usize]);
                assert!(above.is_none_or(|above| reach.lift(total) == above));
            }
            assert_eq!(reach.below(0), None);
        }
    }
}
