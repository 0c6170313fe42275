//! What boards leave of a bound: each what it costs beyond the most it can hold at some
//! prices, whole or split, and so many of both. Which prices, and what boards hold, is
//! left to the relaxation.

/// What one board of a kind costs beyond the most it can hold; less than nothing where it
/// holds more than it costs.
#[derive(Debug, Clone, Copy)]
pub(super) struct Left {
    /// A whole board.
    pub whole: i64,
    /// A split one, where boards may be split.
    pub split: Option<i64>,
}

/// From and to.
type Range = (i64, i64);

impl Left {
    /// The least that so many boards leave, so many of them split.
    pub(super) fn least(&self, boards: Range, split: Range) -> i128 {
        let times = |n: i64, left: i64| i128::from(n) * i128::from(left);
        let of = |boards: i64, split: i64| {
            let whole = times(boards - split, self.whole);
            whole + times(split, self.split.unwrap_or(0))
        };
        let Some(split) = self.split.map(|_| split) else {
            let least = boards.0.min(boards.1);
            return of(least, 0).min(of(boards.1, 0));
        };
        // It is least at a corner; where too few boards are split, all may be.
        let corners = [split.0, split.1, boards.0, boards.1].map(|s| s.min(boards.1));
        let corners = corners
            .into_iter()
            .filter(|s| (split.0..=split.1).contains(s));
        let least = corners.map(|s| of(boards.0.max(s), s).min(of(boards.1, s)));
        least.min().unwrap_or(of(boards.1, boards.1))
    }

    /// Takes numbers off that leave more than `room`.
    pub(super) fn keep(&self, boards: &mut Range, split: Option<&mut Range>, room: i128) {
        let mut none = (0, 0);
        let split = split.unwrap_or(&mut none);
        split.1 = split.1.min(boards.1);
        boards.0 = boards.0.max(split.0);
        let fits = |boards: Range, split: Range| {
            boards.0 <= boards.1 && split.0 <= split.1 && self.least(boards, split) <= room
        };
        let (all, some) = (*boards, *split);
        boards.1 = last(all, |n| fits((n, all.1), some));
        boards.0 = first(all, |n| fits((all.0, n), some));
        split.1 = last(some, |n| fits(all, (n, some.1)));
        split.0 = first(some, |n| fits(all, (some.0, n)));
    }
}

/// The last of a range that is within, where those up to some place are.
fn last(range: Range, within: impl Fn(i64) -> bool) -> i64 {
    let (mut low, mut high) = (range.0 - 1, range.1);
    while low < high {
        let middle = high - (high - low) / 2;
        match within(middle) {
            true => low = middle,
            false => high = middle - 1,
        }
    }
    low
}

/// The first of a range that is within, where those from some place on are.
fn first(range: Range, within: impl Fn(i64) -> bool) -> i64 {
    -last((-range.1, -range.0), |n| within(-n))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// What so many boards leave, so many of them split.
    fn leave(left: Left, boards: i64, split: i64) -> i64 {
        (boards - split) * left.whole + split * left.split.unwrap_or(0)
    }

    fn all(boards: Range, split: Range) -> impl Iterator<Item = (i64, i64)> {
        let with = move |n: i64| (split.0..=split.1.min(n)).map(move |s| (n, s));
        (boards.0..=boards.1).flat_map(with)
    }

    proptest! {
        #[test]
        fn the_least_is_that_of_all_numbers(
            whole in -9i64..=9,
            split in -9i64..=9,
            low in 0i64..5,
            more in 0i64..5,
            few in 0i64..5,
            many in 0i64..5,
            room in -20i128..=30,
        ) {
            let left = Left { whole, split: Some(split) };
            let (boards, split) = ((low, low + more), (few, few + many));
            let weights = all(boards, split).map(|(n, s)| leave(left, n, s));
            let Some(least) = weights.min() else { return Ok(()) };
            prop_assert_eq!(left.least(boards, split), i128::from(least));
            let (mut kept, mut kept_split) = (boards, split);
            left.keep(&mut kept, Some(&mut kept_split), room);
            let within = |&(n, s): &(i64, i64)| i128::from(leave(left, n, s)) <= room;
            let left_over: Vec<_> = all(boards, split).filter(within).collect();
            for &(n, s) in &left_over {
                prop_assert!((kept.0..=kept.1).contains(&n), "{} in {:?}", n, kept);
                prop_assert!((kept_split.0..=kept_split.1).contains(&s));
            }
            if let Some(most) = left_over.iter().map(|n| n.0).max() {
                prop_assert_eq!(kept.1, most);
            }
        }

        #[test]
        fn boards_that_are_not_split_are_counted_alone(
            whole in -9i64..=9,
            low in 0i64..5,
            more in 0i64..5,
        ) {
            let left = Left { whole, split: None };
            let least = (low * whole).min((low + more) * whole);
            prop_assert_eq!(left.least((low, low + more), (0, 0)), i128::from(least));
        }
    }
}
