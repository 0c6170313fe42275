//! What to branch on: of the sums that are whole in every answer the one whose branches
//! both cost most, by what it cost before and, where that is not known, by trying; where
//! no sum is known to cost anything, the first; and where all sums are whole, a set of
//! columns alike. Which branch is taken is decided by the search.

use std::ops::Range;

use itertools::Itertools;
use rustc_hash::FxHashMap;

use super::ExtraRow;
use super::branch::{NO_GROUP, Program, Way};
use super::simplex::{Ended, Simplex};

/// Sums this near to whole are whole.
const FRACTION: f64 = 1e-5;
/// Sets of columns have to be farther from it.
const CLEAR: f64 = 1e-3;
/// Sums whose branches are tried at a node, the most promising ones.
const TRIED: usize = 8;
/// What a branch costs is known well enough after so many times.
const KNOWN: u32 = 2;
/// Pivots of a trial.
const PIVOTS: u64 = 25;
/// The part of what an answer may still cost that a branch must cost to be chosen for it.
const WORTH: f64 = 1e-3;

/// A row to branch on.
pub(super) struct Choice {
    pub row: Vec<(u32, i32)>,
    /// What it comes to now.
    pub value: f64,
    /// Its place among the program's sums, if it is one.
    pub sum: Option<usize>,
}

/// What branches cost for each one that a sum was moved.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Costs {
    total: f64,
    times: u32,
}

impl Costs {
    /// One cost more.
    pub(crate) fn add(&mut self, cost: f64) {
        self.total += cost;
        self.times += 1;
    }

    /// What they came to in the mean, if there were any.
    pub(crate) fn mean(self) -> Option<f64> {
        (self.times > 0).then(|| self.total / f64::from(self.times))
    }
}

/// What branches down and up have cost: of each sum, and of all.
pub(super) struct Experience {
    sums: Vec<[Costs; 2]>,
    all: [Costs; 2],
    /// Work that trials took.
    pub work: u64,
}

/// A sum that is not whole.
#[derive(Clone, Copy)]
struct Open {
    sum: usize,
    value: f64,
}

impl Open {
    /// How far it is moved by the branches down and up.
    fn ways(self) -> [f64; 2] {
        let part = self.value - self.value.floor();
        [part, 1.0 - part]
    }

    fn choice(self, program: &Program) -> Choice {
        Choice {
            row: program.sums[self.sum].clone(),
            value: self.value,
            sum: Some(self.sum),
        }
    }
}

impl Experience {
    pub(super) fn of(program: &Program) -> Experience {
        Experience {
            sums: vec![[Costs::default(); 2]; program.sums.len()],
            all: [Costs::default(); 2],
            work: 0,
        }
    }

    /// A branch of a sum, up or down, that moved it so far has cost so much.
    pub(super) fn learn(&mut self, sum: usize, up: bool, moved: f64, cost: f64) {
        let side = usize::from(up);
        let cost = cost.max(0.0) / moved.max(FRACTION);
        self.sums[sum][side].add(cost);
        self.all[side].add(cost);
    }

    /// What to branch on where an answer may cost so much; none when all is whole.
    pub(super) fn choose(
        &mut self,
        program: &Program,
        among: Range<usize>,
        node: &Simplex,
        cutoff: f64,
        stop: &dyn Fn() -> bool,
    ) -> Option<Choice> {
        let values = node.values();
        if values.iter().all(|&(_, x)| fraction(x) < FRACTION) {
            return None;
        }
        let open: Vec<Open> = (among.clone().zip(&program.sums[among]))
            .map(|(sum, entries)| Open {
                sum,
                value: value_of(entries, &values),
            })
            .filter(|open| !is_whole(open.value))
            .collect();
        if let Some(&first) = open.first() {
            // Patterns are cut so well that the first sum serves.
            if program.way == Way::Deep {
                return Some(first.choice(program));
            }
            let ranked = self.ranked(&open);
            for &open in ranked.iter().take(TRIED) {
                self.try_out(program, node, open, cutoff, stop);
            }
            let best = self.ranked(&open).into_iter().next();
            let worth = WORTH * (cutoff - node.objective());
            let best = best.filter(|&best| self.known(best).into_iter().all(|cost| cost >= worth));
            return Some(best.unwrap_or(first).choice(program));
        }
        alike(program, node, &values)
    }

    /// Sums not whole, those first whose branches are thought to cost most.
    fn ranked(&self, open: &[Open]) -> Vec<Open> {
        let score = |open: &Open| -> f64 {
            let sides = open.ways().into_iter().enumerate();
            let cost = |(side, way): (usize, f64)| {
                let own = self.sums[open.sum][side].mean();
                way * own.or(self.all[side].mean()).unwrap_or(1.0)
            };
            sides.map(|side| cost(side).max(1e-6)).product()
        };
        let scored = open.iter().map(|open| (score(open), *open));
        let ranked = scored.sorted_by(|a, b| b.0.total_cmp(&a.0));
        ranked.map(|(_, open)| open).collect()
    }

    /// What the branches of a sum are known to cost.
    fn known(&self, open: Open) -> [f64; 2] {
        let [down, up] = open.ways();
        let [of_down, of_up] = self.sums[open.sum].map(|costs| costs.mean().unwrap_or(0.0));
        [down * of_down, up * of_up]
    }

    /// Tries the branches of a sum, a few pivots each, where little is known of them.
    fn try_out(
        &mut self,
        program: &Program,
        node: &Simplex,
        open: Open,
        cutoff: f64,
        stop: &dyn Fn() -> bool,
    ) {
        let before = node.objective();
        for up in [false, true] {
            if self.sums[open.sum][usize::from(up)].times >= KNOWN || stop() {
                continue;
            }
            let mut trial = node.clone();
            let start = trial.effort();
            trial.add_row(half(&program.sums[open.sum], open.value, up));
            let cost = match trial.dual(PIVOTS, cutoff, stop) {
                Ended::Infeasible => cutoff - before,
                _ => trial.objective() - before,
            };
            self.work += trial.effort() - start;
            self.learn(open.sum, up, open.ways()[usize::from(up)], cost);
        }
    }
}

/// The branch of a row that is up or down from its present value.
pub(super) fn half(row: &[(u32, i32)], value: f64, up: bool) -> ExtraRow {
    let floor = value.floor() as i64;
    if up {
        ExtraRow::new(row.to_vec(), floor + 1)
    } else {
        ExtraRow::new(row.iter().map(|&(j, c)| (j, -c)).collect(), -floor)
    }
}

fn fraction(x: f64) -> f64 {
    (x - x.round()).abs()
}

/// Whether a sum that comes to so much is whole.
pub(super) fn is_whole(value: f64) -> bool {
    fraction(value) <= FRACTION
}

/// What a sum comes to.
pub(super) fn value_of(sum: &[(u32, i32)], values: &[(usize, f64)]) -> f64 {
    let found = values.iter().filter_map(|&(j, x)| {
        let at = sum.binary_search_by_key(&(j as u32), |e| e.0).ok()?;
        Some(x * f64::from(sum[at].1))
    });
    found.sum()
}

/// Columns of one group that hold at least so much of one row, else those that touch two
/// rows, else one column.
fn alike(program: &Program, node: &Simplex, values: &[(usize, f64)]) -> Option<Choice> {
    let grouped = |j: usize| program.group[j] != NO_GROUP;
    let mut holds: FxHashMap<(u32, usize, i32), f64> = FxHashMap::default();
    for &(j, x) in values.iter().filter(|&&(j, _)| grouped(j)) {
        for (row, v) in program.columns.entries(j) {
            for t in 1..=v.abs() {
                *holds
                    .entry((program.group[j], row, t * v.signum()))
                    .or_default() += x;
            }
        }
    }
    if let Some(((group, row, t), value)) = farthest(&holds) {
        return Some(set(node, value, |j| {
            let mut entries = program.columns.entries(j);
            program.group[j] == group && entries.any(|(r, v)| r == row && v * t.signum() >= t.abs())
        }));
    }
    let mut pairs: FxHashMap<(u32, usize, usize), f64> = FxHashMap::default();
    for &(j, x) in values.iter().filter(|&&(j, _)| grouped(j)) {
        let rows: Vec<usize> = program.columns.entries(j).map(|(r, _)| r).collect();
        for [a, b] in rows.into_iter().array_combinations() {
            *pairs
                .entry((program.group[j], a.min(b), a.max(b)))
                .or_default() += x;
        }
    }
    if let Some(((group, a, b), value)) = farthest(&pairs) {
        let touches = |j: usize, row: usize| program.columns.entries(j).any(|(r, _)| r == row);
        return Some(set(node, value, |j| {
            program.group[j] == group && touches(j, a) && touches(j, b)
        }));
    }
    let fractions = values.iter().copied();
    let (j, x) =
        fractions.max_by(|a, b| fraction(a.1).total_cmp(&fraction(b.1)).then(b.0.cmp(&a.0)))?;
    Some(set(node, x, |other| other == j))
}

/// What is farthest from whole.
fn farthest<K: Copy + Ord>(sums: &FxHashMap<K, f64>) -> Option<(K, f64)> {
    let open = sums.iter().filter(|(_, x)| fraction(**x) > CLEAR);
    open.map(|(key, x)| (*key, *x))
        .sorted_by_key(|(key, _)| *key)
        .max_by(|a, b| fraction(a.1).total_cmp(&fraction(b.1)))
}

/// The columns of a node that are wanted, each once, which come to so much.
fn set(node: &Simplex, value: f64, mut wanted: impl FnMut(usize) -> bool) -> Choice {
    let active = node.active().iter();
    let wanted = active.filter(|&&j| wanted(j as usize));
    Choice {
        row: wanted.map(|&j| (j, 1)).collect(),
        value,
        sum: None,
    }
}
