//! The most that pieces in one board can be worth, as a whole number: every sum
//! of lengths that is worth more than all shorter ones, piece by piece. No grid
//! and no table; where there are too many sums it gives up rather than guess.

/// A kind of piece that may go into a board.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Item {
    /// What it takes of a board.
    pub size: i128,
    /// What it is worth.
    pub worth: i128,
    /// The most there are of it in one board.
    pub most: u64,
}

/// Sums beyond which no board is looked at.
const MOST_SUMS: usize = 4_000_000;

/// The sums worth having up to some room.
#[derive(Debug, Clone)]
pub(super) struct Sums(Vec<(i128, i128)>);

impl Sums {
    /// All sums of some pieces within a room; nothing when there are too many.
    pub(super) fn of(items: &[Item], room: i128) -> Option<Sums> {
        let mut sums = vec![(0, 0)];
        for item in items {
            if item.worth <= 0 || item.size > room {
                continue;
            }
            if item.size <= 0 {
                return None;
            }
            let fit = u64::try_from(room / item.size).unwrap_or(u64::MAX);
            if item.most >= fit {
                sums = with_any(&sums, *item, room);
            } else {
                // 1, 2, 4, ... and the rest make every count up to the most.
                let mut left = item.most;
                let mut lot = 1;
                while left > 0 {
                    let taken = lot.min(left);
                    let (size, worth) = (item.size, item.worth);
                    let times = i128::from(taken);
                    sums = with_one(&sums, size * times, worth * times, room);
                    left -= taken;
                    lot *= 2;
                }
            }
            if sums.len() > MOST_SUMS {
                return None;
            }
        }
        Some(Sums(sums))
    }

    /// The most that fits a room is worth.
    pub(super) fn best(&self, room: i128) -> i128 {
        let fit = self.0.partition_point(|&(size, _)| size <= room);
        fit.checked_sub(1).map_or(0, |last| self.0[last].1)
    }
}

/// Adds a sum behind others if it is worth more than all of them.
fn keep(kept: &mut Vec<(i128, i128)>, sum: (i128, i128)) {
    match kept.last_mut() {
        Some(last) if last.1 >= sum.1 => {}
        Some(last) if last.0 == sum.0 => *last = sum,
        _ => kept.push(sum),
    }
}

/// The sums with any number of one piece more. What is kept grows while it is
/// read, so that every count is reached.
fn with_any(sums: &[(i128, i128)], item: Item, room: i128) -> Vec<(i128, i128)> {
    let mut kept: Vec<(i128, i128)> = Vec::with_capacity(sums.len());
    let (mut old, mut grown) = (0, 0);
    loop {
        let one = sums.get(old).copied();
        let other = kept
            .get(grown)
            .map(|&(size, worth)| (size + item.size, worth + item.worth))
            .filter(|&(size, _)| size <= room);
        match (one, other) {
            (Some(one), Some(other)) if one.0 <= other.0 => {
                keep(&mut kept, one);
                old += 1;
            }
            (_, Some(other)) => {
                keep(&mut kept, other);
                grown += 1;
            }
            (Some(one), None) => {
                keep(&mut kept, one);
                old += 1;
            }
            (None, None) => return kept,
        }
        if kept.len() > MOST_SUMS {
            return kept;
        }
    }
}

/// The sums with or without one lot more.
fn with_one(sums: &[(i128, i128)], size: i128, worth: i128, room: i128) -> Vec<(i128, i128)> {
    let mut kept = Vec::with_capacity(sums.len());
    let mut shifted = sums
        .iter()
        .map(|sum| (sum.0 + size, sum.1 + worth))
        .filter(|sum| sum.0 <= room)
        .peekable();
    for &sum in sums {
        while let Some(other) = shifted.next_if(|other| other.0 < sum.0) {
            keep(&mut kept, other);
        }
        keep(&mut kept, sum);
    }
    shifted.for_each(|other| keep(&mut kept, other));
    kept
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Every choice of counts, one after the other.
    fn brute(items: &[Item], room: i128) -> i128 {
        let Some((first, rest)) = items.split_first() else {
            return 0;
        };
        let mut best = 0;
        for count in 0..=first.most.min(20) as i128 {
            if count * first.size > room {
                break;
            }
            best = best.max(count * first.worth + brute(rest, room - count * first.size));
        }
        best
    }

    proptest! {
        #[test]
        fn the_best_sum_is_the_best_of_all(
            items in prop::collection::vec((1i128..40, -3i128..60, 0u64..9), 0..5),
            rooms in prop::collection::vec(0i128..120, 3),
        ) {
            let items: Vec<Item> = items
                .into_iter()
                .map(|(size, worth, most)| Item { size, worth, most })
                .collect();
            let room = rooms.iter().copied().max().unwrap_or(0);
            let sums = Sums::of(&items, room).expect("few sums");
            for room in rooms {
                prop_assert_eq!(sums.best(room), brute(&items, room));
            }
            prop_assert_eq!(sums.best(-1), 0);
        }
    }
}
