//! Patterns none of whose pieces could be longer: where a longer piece may always be
//! cut down to a shorter one, these alone are needed, and they are few. It knows
//! sizes and capacities; which piece may come down to which is for its callers to say.

use super::boards::{Boards, Pattern, Tables};

/// Steps of the search for patterns.
const MOST_STEPS: u64 = 300_000;

/// Boards for pieces of some lengths at some prices.
#[derive(Debug, Clone)]
pub(crate) struct Longest {
    boards: Boards,
    /// What each length is worth: no less than what it may be cut down to.
    values: Vec<i64>,
    /// The most that some room can be worth.
    tables: Tables,
    /// The most of some room that pieces can take.
    full: Tables,
}

impl Longest {
    /// Boards whose pieces are no more limited than by what fits, and what pieces of
    /// each length are worth by themselves.
    pub(crate) fn new(boards: Boards, values: impl IntoIterator<Item = i64>) -> Longest {
        let mut values: Vec<i64> = values.into_iter().map(|value| value.max(0)).collect();
        for at in (1..values.len()).rev() {
            values[at - 1] = values[at - 1].max(values[at]);
        }
        Longest {
            tables: boards.tables(&values),
            full: boards.tables(boards.grid().0),
            values,
            boards,
        }
    }

    /// What a board of a kind is worth at most.
    pub(crate) fn best(&self, kind: usize) -> i64 {
        match self.boards.grid().1[kind] {
            none if none < 0 => 0,
            room => self.boards.at_most(&self.tables, 0, room),
        }
    }

    /// Every pattern of a kind of board to which nothing can be added, none of whose
    /// pieces can be longer and that is worth at least `floor`; none if there are more
    /// than `most`.
    pub(crate) fn near(&self, kind: usize, floor: i64, most: usize) -> Option<Vec<Pattern>> {
        let mut search = Search {
            longest: self,
            floor,
            most,
            stack: Vec::new(),
            found: Vec::new(),
            steps: MOST_STEPS.max(40 * most as u64),
        };
        let capacity = self.boards.grid().1[kind];
        if capacity >= 0 {
            search.descend(0, capacity, 0, i64::MAX)?;
        }
        Some(search.found)
    }
}

struct Search<'a> {
    longest: &'a Longest,
    floor: i64,
    most: usize,
    stack: Pattern,
    found: Vec<Pattern>,
    steps: u64,
}

impl Search<'_> {
    /// Of `room` more than `least` makes some piece longer, or has place for one more.
    /// Nothing when there are too many patterns.
    fn descend(&mut self, at: usize, room: i64, value: i64, least: i64) -> Option<()> {
        self.steps = self.steps.checked_sub(1)?;
        let longest = self.longest;
        let (boards, (sizes, _)) = (&longest.boards, longest.boards.grid());
        let short_of = |tables, wanted: i64| boards.at_most(tables, at, room) < wanted;
        let emptied = room.saturating_sub(least).saturating_add(1);
        if short_of(&longest.tables, self.floor - value) || short_of(&longest.full, emptied) {
            return Some(());
        }
        let Some(&size) = sizes.get(at) else {
            if !self.stack.is_empty() && sizes.last().is_some_and(|&shortest| room < shortest) {
                if self.found.len() >= self.most {
                    return None;
                }
                self.found.push(self.stack.clone());
            }
            return Some(());
        };
        let longer = match at {
            0 => i64::MAX,
            at => sizes[at - 1] - size,
        };
        for count in (0..=(room / size).min(65_535)).rev() {
            let left = room - count * size;
            let gained = value + count * longest.values[at];
            if count > 0 {
                self.stack.push((at as u16, count as u16));
                self.descend(at + 1, left, gained, least.min(longer))?;
                self.stack.pop();
            } else {
                self.descend(at + 1, left, gained, least)?;
            }
        }
        Some(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Length;

    /// Every pattern, by trying all.
    fn all(sizes: &[i64], room: i64) -> Vec<Vec<u16>> {
        let Some((&size, rest)) = sizes.split_first() else {
            return vec![Vec::new()];
        };
        let mut found = Vec::new();
        for count in 0..=room / size {
            for tail in all(rest, room - count * size) {
                let mut pattern = vec![count as u16];
                pattern.extend(tail);
                found.push(pattern);
            }
        }
        found
    }

    /// Whether pieces, longest first, can each be cut down to one of others.
    fn comes_down(from: &[u16], to: &[u16]) -> bool {
        let mut spare = 0i64;
        from.iter().zip(to).all(|(&a, &b)| {
            spare += i64::from(a) - i64::from(b);
            spare >= 0
        })
    }

    #[test]
    fn every_pattern_worth_enough_comes_of_one_listed() {
        let mut random: u64 = 5;
        let mut below = |n: u64| {
            random = random
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1);
            (random >> 33) % n
        };
        for _ in 0..200 {
            let count = 2 + below(4) as usize;
            let mut sizes: Vec<i64> = (0..count).map(|_| 8 + below(40) as i64).collect();
            sizes.sort_unstable();
            sizes.dedup();
            sizes.reverse();
            let room = 50 + below(60) as i64;
            let lengths: Vec<Length> = sizes.iter().map(|&s| Length::from_64ths(s)).collect();
            let boards = Boards::new(&lengths, &[Length::from_64ths(room)], Length::ZERO, None);
            let grid = sizes[0] / boards.grid().0[0];
            let values: Vec<i64> = sizes.iter().map(|&s| s + below(20) as i64).collect();
            let longest = Longest::new(boards, values);
            let floor = room * 6 / 5;
            let found = longest.near(0, floor, 100_000).unwrap();
            let listed: Vec<Vec<u16>> = found
                .iter()
                .map(|pattern| {
                    let mut counts = vec![0; sizes.len()];
                    pattern.iter().for_each(|&(i, n)| counts[i as usize] = n);
                    counts
                })
                .collect();
            let worth = |pattern: &[u16]| -> i64 {
                let each = pattern.iter().zip(&longest.values);
                each.map(|(&n, &value)| i64::from(n) * value).sum()
            };
            let every = all(&sizes, room / grid * grid);
            for pattern in every.iter().filter(|p| worth(p) >= floor) {
                assert!(
                    listed.iter().any(|from| comes_down(from, pattern)),
                    "{sizes:?} {room} {pattern:?} {listed:?}"
                );
            }
            // None of them comes of another.
            for pattern in &listed {
                assert!(worth(pattern) >= floor);
                let others = every.iter().filter(|other| *other != pattern);
                let mut others = others.filter(|other| comes_down(other, pattern));
                assert_eq!(others.next(), None, "{sizes:?} {room} {pattern:?}");
            }
        }
    }
}
