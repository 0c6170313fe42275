//! The next total that sums of some prices can come to at all.

/// Totals beyond which none is looked for.
const MOST: i64 = 20_000_000;

/// The least sum of prices, each taken as often as one likes, that is not below
/// a bound; the bound itself where there are too many sums to look at.
pub(super) fn next_sum(prices: &[i64], bound: i64) -> i64 {
    if bound <= 0 {
        return 0;
    }
    let mut prices: Vec<i64> = prices.iter().copied().filter(|&price| price > 0).collect();
    prices.sort_unstable();
    prices.dedup();
    let Some(&dearest) = prices.last() else {
        // Nothing costs anything: no sum reaches a bound above nothing.
        return bound;
    };
    let step = prices.iter().fold(0, |step, &price| common(step, price));
    // A multiple of one price lies in every stretch as long as that price.
    let last = match bound.checked_add(dearest) {
        Some(last) if last / step <= MOST => last,
        _ => return bound,
    };
    let count = (last / step) as usize + 1;
    let mut sums = vec![false; count];
    sums[0] = true;
    for at in 1..count {
        sums[at] = prices.iter().any(|price| {
            let back = (price / step) as usize;
            back <= at && sums[at - back]
        });
    }
    let first = (bound + step - 1) / step;
    (first as usize..count)
        .find(|&at| sums[at])
        .map_or(bound, |at| at as i64 * step)
}

/// The greatest common divisor.
fn common(a: i64, b: i64) -> i64 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_next_sum_is_not_below_the_bound_and_none_lies_between() {
        // Computed: sums of 6 and 10 are 6, 10, 12, 16, 18, 20, 22, ...
        assert_eq!(next_sum(&[10, 6, 0], 1), 6);
        assert_eq!(next_sum(&[10, 6], 7), 10);
        assert_eq!(next_sum(&[10, 6], 13), 16);
        assert_eq!(next_sum(&[10, 6], 12), 12);
        assert_eq!(next_sum(&[10, 6], 0), 0);
        assert_eq!(next_sum(&[10, 6], -3), 0);
        assert_eq!(next_sum(&[0], 5), 5);
        assert_eq!(next_sum(&[i64::MAX], 5), 5);
    }
}
