//! All whole values of some of a program's sums, cheapest first, whatever the other columns
//! are: each is judged by somebody who knows more of it and barred, and the search goes on
//! where it was. It can be paused. How nodes are relaxed and branched on is left to
//! [`branch`](super::branch).

use std::ops::Range;

use super::ExtraRow;
use super::branch::{Found, Limits, Node, Program, Search, root};
use super::choice::{Experience, is_whole, value_of};
use super::simplex::Simplex;

/// What judges the values of columns that decide, all whole, the others being what they may:
/// gives a row that they break and that is asked for from then on, and what is looked for at
/// most; nothing if it cannot tell.
pub type Judge<'a> = dyn FnMut(&[(usize, i64)]) -> Option<(ExtraRow, i64)> + 'a;

/// What decides, who judges it, and what was asked for so far.
pub(super) struct Judging<'a> {
    /// Places of sums.
    pub deciding: Range<usize>,
    judge: &'a mut Judge<'a>,
    pub rows: Vec<ExtraRow>,
    /// What the cheapest whole answer costs whose values were judged.
    pub cheapest: i64,
}

/// A search that goes on from where it met a limit.
pub struct Decision {
    deciding: Range<usize>,
    open: Vec<Node>,
    rows: Vec<ExtraRow>,
    experience: Experience,
    /// What numbers failed at costs no less than this; it is not looked at again.
    left: i64,
}

impl Decision {
    /// Of a program, some of whose sums decide; nothing has been looked at yet.
    pub fn of(program: &Program, deciding: Range<usize>) -> Decision {
        Decision {
            deciding,
            open: vec![root(program)],
            rows: Vec::new(),
            experience: Experience::of(program),
            left: i64::MAX,
        }
    }

    /// Whether there is anything to go on with.
    pub fn is_open(&self) -> bool {
        !self.open.is_empty()
    }

    /// Has all values judged that cost at most `cutoff`. It finds no answer but bounds what
    /// is left; the program is the same every time, and no cutoff is above an earlier one.
    pub fn go_on<'a>(
        &mut self,
        program: &'a Program,
        cutoff: i64,
        lift: &'a dyn Fn(i64) -> i64,
        limits: Limits,
        stop: &'a dyn Fn() -> bool,
        judge: &'a mut Judge<'a>,
    ) -> Found {
        let judging = Judging {
            deciding: self.deciding.clone(),
            judge,
            rows: std::mem::take(&mut self.rows),
            cheapest: cutoff.saturating_add(1),
        };
        let mut search = Search::of(program, cutoff, lift, limits, stop, Some(judging));
        std::mem::swap(&mut search.experience, &mut self.experience);
        search.left(self.left);
        search.run(&mut self.open);
        // Open nodes are looked at again, what was left is not.
        self.left = search.found.bound;
        search.leave(&self.open);
        self.experience = search.experience;
        self.rows = search.judge.map_or(Vec::new(), |judging| judging.rows);
        search.found
    }
}

impl Search<'_> {
    /// Whether all sums that decide are whole.
    pub(super) fn is_decided(&self, node: &Simplex) -> bool {
        let Some(judging) = &self.judge else {
            return false;
        };
        let values = node.values();
        let mut sums = self.program.sums[judging.deciding.clone()].iter();
        sums.all(|sum| is_whole(value_of(sum, &values)))
    }

    /// How many rows the judge has asked for.
    pub(super) fn asked(&self) -> usize {
        self.judge.as_ref().map_or(0, |judging| judging.rows.len())
    }

    /// Has what decides judged; false if it cannot be told what becomes of it.
    pub(super) fn have_judged(&mut self, values: &[(usize, i64)]) -> bool {
        let Some(judging) = self.judge.as_mut() else {
            return false;
        };
        let judged = (judging.judge)(values);
        let Some((row, cutoff)) = judged.filter(|(row, _)| !row.is_met(values)) else {
            return false;
        };
        judging.rows.push(row);
        self.cutoff = self.cutoff.min(cutoff);
        true
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::program::Columns;
    use crate::program::branch::Way;

    const PLACES: usize = 6;

    /// What opening each place costs, and what each of some goods costs from each place.
    struct Given {
        open: Vec<i64>,
        from: Vec<[i64; PLACES]>,
    }

    impl Given {
        /// Any numbers, the same every time.
        fn of(seed: u64) -> Given {
            let mut state = seed * 2 + 1;
            let mut number = |most: u64| {
                state = state
                    .wrapping_mul(6_364_136_223_846_793_005)
                    .wrapping_add(1);
                (state >> 40) as i64 % most as i64
            };
            Given {
                open: (0..PLACES).map(|_| 20 + number(30)).collect(),
                from: (0..8)
                    .map(|_| std::array::from_fn(|_| 1 + number(40)))
                    .collect(),
            }
        }

        /// What a set of places comes to.
        fn cost(&self, set: usize) -> i64 {
            let of_set = |place: &usize| set >> place & 1 == 1;
            let open = (0..PLACES).filter(of_set).map(|place| self.open[place]);
            let cheapest = |from: &[i64; PLACES]| {
                let from = (0..PLACES).filter(of_set).map(|place| from[place]);
                from.min().unwrap_or(10_000)
            };
            open.sum::<i64>() + self.from.iter().map(cheapest).sum::<i64>()
        }

        /// A row for each good, and one for each place that holds goods if it is open.
        fn program(&self) -> Program {
            let goods = self.from.len();
            let mut columns = Columns::new();
            for (place, &open) in self.open.iter().enumerate() {
                columns.push(open, [((goods + place) as u32, goods as i32)]);
            }
            for (good, from) in self.from.iter().enumerate() {
                for (place, &cost) in from.iter().enumerate() {
                    columns.push(cost, [(good as u32, 1), ((goods + place) as u32, -1)]);
                }
            }
            let places = 0..PLACES as u32;
            let all = places.clone().map(|place| (place, 1)).collect();
            Program {
                group: vec![0; columns.len()],
                at_least: [vec![1; goods], vec![0; PLACES]].concat(),
                // The last one decides nothing.
                sums: [
                    vec![all],
                    places.map(|place| vec![(place, 1)]).collect(),
                    vec![vec![(6, 1)]],
                ]
                .concat(),
                most_columns: (goods + PLACES) as i64,
                moves: Vec::new(),
                way: Way::Wide,
                columns: Arc::new(columns),
            }
        }
    }

    /// The cheapest set of all, by judging every one that may be cheaper.
    #[test]
    fn the_cheapest_values_are_judged_however_often_the_search_is_paused() {
        for seed in 0..60 {
            let given = Given::of(seed);
            let program = given.program();
            let cheapest = (1..1 << PLACES).map(|set| given.cost(set)).min();
            for nodes in [1_000, 2] {
                let limits = Limits { nodes, work: 1_000 };
                let mut decision = Decision::of(&program, 0..PLACES + 1);
                let mut judged: Vec<usize> = Vec::new();
                let mut best = 10_000;
                let mut found = None;
                for _ in 0..500 {
                    let cutoff = best - 1;
                    let mut judge = |values: &[(usize, i64)]| {
                        let open = values.iter().filter(|&&(j, _)| j < PLACES);
                        let set = open.map(|&(j, _)| 1 << j).sum::<usize>();
                        assert!(!judged.contains(&set), "{seed}: {set} was judged before");
                        judged.push(set);
                        best = best.min(given.cost(set));
                        let in_set = |j: u32| set >> j & 1 == 1;
                        let row = (0..PLACES as u32).map(|j| (j, if in_set(j) { -1 } else { 1 }));
                        let row = ExtraRow::new(row.collect(), 1 - i64::from(set.count_ones()));
                        Some((row, best - 1))
                    };
                    let lift = |bound| bound;
                    let stop = || false;
                    let now = decision.go_on(&program, cutoff, &lift, limits, &stop, &mut judge);
                    assert!(now.bound.min(best) <= cheapest.unwrap_or(0), "{seed}");
                    let finished = now.finished;
                    found = Some(now);
                    if finished {
                        break;
                    }
                    assert!(decision.is_open(), "{seed}: numbers failed");
                }
                assert!(found.is_some_and(|found| found.finished), "{seed}");
                assert_eq!(Some(best), cheapest, "{seed}");
                assert!(judged.len() < 1 << PLACES, "{seed}: all sets were judged");
            }
        }
    }

    /// What the judge cannot tell stays open.
    #[test]
    fn what_is_not_judged_bounds_the_rest() {
        let given = Given::of(7);
        let program = given.program();
        let cheapest = (1..1 << PLACES).map(|set| given.cost(set)).min();
        let limits = Limits {
            nodes: 1_000,
            work: 1_000,
        };
        let mut decision = Decision::of(&program, 0..PLACES + 1);
        for _ in 0..2 {
            let (lift, stop) = (|bound| bound, || false);
            let found = decision.go_on(&program, 9_999, &lift, limits, &stop, &mut |_| None);
            assert!(!found.finished && decision.is_open());
            assert!(Some(found.bound) <= cheapest);
        }
    }
}
