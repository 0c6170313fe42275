//! Cut and branch over a finite set of columns: the cheapest whole answer that
//! costs no more than a cutoff, or the knowledge that there is none. It knows
//! rows, columns and the sums worth branching on; what lies outside the set of
//! columns is for its caller to account for.
//!
//! A node is given up only on a bound that holds for *any* non-negative prices
//! of the rows, reckoned in whole numbers: what the prices make of the right
//! sides, less what columns of negative reduced cost could gain. The simplex
//! method may be as wrong as it likes; it then prunes less.

use std::sync::Arc;

use itertools::Itertools;
use rustc_hash::FxHashMap;

use super::simplex::{Ended, Simplex};
use super::{Columns, ExtraRow, cuts};

/// An integer program over a finite set of columns.
#[derive(Debug, Clone)]
pub struct Program {
    /// Costs (none below zero) and coefficients.
    pub columns: Arc<Columns>,
    /// What each row must come to at least.
    pub at_least: Vec<i64>,
    /// Columns of one group are alike in kind: a stock, a class of blocks.
    pub group: Vec<u32>,
    /// Sums that are whole in every answer and worth branching on first, in
    /// order; by column place, ascending.
    pub sums: Vec<Vec<(u32, i32)>>,
    /// No answer of interest uses more columns than this, all counted.
    pub most_columns: i64,
    /// Columns that cost nothing and take one from a row for another. A row comes
    /// before those it is drawn from.
    pub moves: Vec<Move>,
}

/// A column that takes one from a row for another.
#[derive(Debug, Clone, Copy)]
pub struct Move {
    /// Its place.
    pub column: u32,
    /// The row that it takes from.
    pub from: u32,
    /// The row that it gives to.
    pub to: u32,
}

/// The group of columns that are whole where all others are, and not branched on.
pub const NO_GROUP: u32 = u32::MAX;

/// How much work a search may do, in counts.
#[derive(Debug, Clone, Copy)]
pub struct Limits {
    /// Nodes looked at.
    pub nodes: u64,
    /// Products, in millions: numbers of the basis touched, and columns priced.
    pub work: u64,
}

/// An answer: what it costs, and its columns with how often each is used.
pub type Answer = (i64, Vec<(usize, i64)>);

/// What a search found.
#[derive(Debug, Clone)]
pub struct Found {
    /// The cheapest answer within the cutoff.
    pub best: Option<Answer>,
    /// Whether the search was finished: then `best` is the cheapest within the
    /// cutoff, or there is none.
    pub finished: bool,
    /// Nothing within the cutoff costs less than this, finished or not: up to
    /// rounding the cost of `best` where that is the cheapest.
    pub bound: i64,
    /// Nodes looked at.
    pub nodes: u64,
    /// Products, as limits count them.
    pub work: u64,
}

/// Pivots of one relaxation; more is a sign of trouble.
const MOST_PIVOTS: u64 = 3_000;

/// Against ties the method sees costs lower by at most this part.
const LOWER: f64 = 2e-7;

struct Search<'a> {
    program: &'a Program,
    lift: &'a dyn Fn(i64) -> i64,
    stop: &'a dyn Fn() -> bool,
    cutoff: i64,
    limits: Limits,
    found: Found,
    /// Parts of one unit of cost in which prices are rounded to whole numbers.
    parts: i64,
}

/// Looks for the cheapest answer that costs at most `cutoff`. `lift` raises a
/// bound to the next cost that can be reached at all; it must be monotone.
pub fn solve(
    program: &Program,
    cutoff: i64,
    lift: &dyn Fn(i64) -> i64,
    limits: Limits,
    stop: &dyn Fn() -> bool,
) -> Found {
    let count = program.columns.len().max(1);
    let mean = (0..program.columns.len())
        .map(|j| program.columns.cost(j) as f64)
        .sum::<f64>()
        / count as f64;
    let scale = if mean > 0.0 { mean } else { 1.0 };
    let mut root = Simplex::new(program.columns.clone(), &program.at_least, scale, 0.0);
    root.lower_costs(LOWER);
    let dearest = (0..program.columns.len())
        .map(|j| program.columns.cost(j))
        .max()
        .unwrap_or(1);
    let parts = (1_000_000_000_000 / dearest.max(1)).clamp(1, 1 << 20);
    let mut search = Search {
        program,
        lift,
        stop,
        cutoff,
        limits,
        found: Found {
            best: None,
            finished: false,
            bound: i64::MAX,
            nodes: 0,
            work: 0,
        },
        parts,
    };
    // What HiGHS finds is an answer to be beaten; what it proves is not believed.
    #[cfg(feature = "highs")]
    if let Some((_, answer)) = super::general::answer(program, cutoff, limits, stop) {
        search.offer(answer);
    }
    search.found.finished = search.run(root);
    search.found
}

impl Search<'_> {
    /// Depth first from the root; false when a limit was hit, or numbers let it down.
    fn run(&mut self, root: Simplex) -> bool {
        // With what nothing below a node costs less than.
        let mut open = vec![(root, 0u32, 0)];
        while let Some((mut node, depth, bound)) = open.pop() {
            if self.found.nodes >= self.limits.nodes || self.spent() {
                return self.give_up(bound, &open);
            }
            self.found.nodes += 1;
            let (relaxed, bound) = self.relax(&mut node, depth, bound);
            match relaxed {
                Relaxed::Pruned => continue,
                Relaxed::Trouble => return self.give_up(bound, &open),
                Relaxed::Open => {}
            }
            match self.branch_row(&node) {
                None => {
                    // Everything is whole: an answer, checked in whole numbers.
                    if !self.accept(&node) {
                        return self.give_up(bound, &open);
                    }
                }
                Some((row, value)) => {
                    let floor = value.floor() as i64;
                    let down = ExtraRow {
                        entries: Arc::new(row.iter().map(|&(j, c)| (j, -c)).collect()),
                        at_least: -floor,
                    };
                    let up = ExtraRow {
                        entries: Arc::new(row),
                        at_least: floor + 1,
                    };
                    let mut other = node.clone();
                    let (first, second) = if value - value.floor() > 0.3 {
                        (up, down)
                    } else {
                        (down, up)
                    };
                    other.add_row(second);
                    node.add_row(first);
                    open.push((other, depth + 1, bound));
                    open.push((node, depth + 1, bound));
                }
            }
        }
        true
    }

    /// Leaves a node and the open ones: what is known of them bounds all the same.
    fn give_up(&mut self, bound: i64, open: &[(Simplex, u32, i64)]) -> bool {
        let left = open.iter().map(|node| node.2).chain([bound]);
        self.found.bound = left.fold(self.found.bound, i64::min);
        false
    }

    fn spent(&self) -> bool {
        self.found.work >= self.limits.work.saturating_mul(1_000_000) || (self.stop)()
    }

    /// What becomes of a node, and what nothing below it costs less than: no less than
    /// what is known.
    fn relax(&mut self, node: &mut Simplex, depth: u32, known: i64) -> (Relaxed, i64) {
        let mut known = known;
        let cut_rounds = if depth == 0 { 40 } else { 4 };
        let mut last = f64::NEG_INFINITY;
        let mut weak = 0;
        let own_rows = node.extra_rows().len();
        let mut before_cuts: Option<Simplex> = None;
        for round in 0..=cut_rounds {
            let (pivots, touched) = (node.pivots, node.touched);
            let ended = node.dual(MOST_PIVOTS, self.cutoff as f64 + 1.0, self.stop);
            self.found.work += node.touched - touched
                + (node.pivots - pivots + 1)
                    * (node.active().len() + node.extra_rows().len() * 40 + 400) as u64;
            let (bound, reduced) = self.bound(node, &node.prices());
            known = known.max((self.lift)(bound));
            if known > self.cutoff {
                return (Relaxed::Pruned, known);
            }
            match ended {
                // Only a bound past the cutoff counts, also for what cannot be met.
                Ended::Infeasible => {
                    let prices = node.climbing_prices(self.cutoff as f64);
                    let (bound, _) = self.bound(node, &prices);
                    known = known.max((self.lift)(bound));
                    return match known > self.cutoff {
                        true => (Relaxed::Pruned, known),
                        false => (Relaxed::Trouble, known),
                    };
                }
                // Cuts that lead into numerical trouble are left off again.
                Ended::Stopped => match before_cuts.take() {
                    Some(saved) if !self.spent() => {
                        *node = saved;
                        break;
                    }
                    _ => return (Relaxed::Trouble, known),
                },
                Ended::Optimal => {}
            }
            let room = i128::from(self.cutoff - bound + 1) * i128::from(self.parts);
            node.retain(|j| reduced[j] <= room);
            self.round(node);
            let objective = node.objective();
            weak = if objective < last + 1e-7 * objective.abs() {
                weak + 1
            } else {
                0
            };
            // Below the root cuts that don't help are not carried along.
            if depth > 0 && weak > 1 {
                if let Some(saved) = before_cuts.take() {
                    *node = saved;
                }
                break;
            }
            if round == cut_rounds || weak >= 3 || self.spent() {
                break;
            }
            last = objective;
            node.drop_slack_rows(own_rows);
            let cuts = cuts::violated(node, 12, self.program.most_columns);
            if cuts.is_empty() {
                break;
            }
            before_cuts = Some(node.clone());
            for cut in cuts {
                node.add_row(cut);
            }
        }
        (Relaxed::Open, known)
    }

    /// A bound that holds for any prices none of which is below zero, and the
    /// active columns' reduced costs by them, in parts. All in whole numbers.
    fn bound(&self, node: &Simplex, prices: &[f64]) -> (i64, Vec<i128>) {
        let whole = |p: &f64| (p * self.parts as f64).round().clamp(0.0, 1e17) as i64;
        let prices: Vec<i64> = prices.iter().map(whole).collect();
        let (value, reduced) = node.value_at(&prices, self.parts);
        let least = node
            .active()
            .iter()
            .map(|&j| reduced[j as usize])
            .fold(0, i128::min);
        let bound = value + least * i128::from(self.program.most_columns);
        let parts = i128::from(self.parts);
        let up = bound.div_euclid(parts) + i128::from(bound.rem_euclid(parts) != 0);
        (up.clamp(0, i128::from(i64::MAX / 4)) as i64, reduced)
    }

    /// Tries the present values rounded up, then trimmed where there is room.
    fn round(&mut self, node: &Simplex) {
        let mut answer: Vec<(usize, i64)> = node
            .values()
            .into_iter()
            .filter(|&(j, _)| self.program.group[j] != NO_GROUP)
            .map(|(j, x)| (j, (x - 1e-6).ceil() as i64))
            .collect();
        let mut room = self.surplus(&answer);
        for step in &self.program.moves {
            let lacking = -room[step.to as usize];
            if lacking > 0 {
                room[step.to as usize] = 0;
                room[step.from as usize] -= lacking;
                answer.push((step.column as usize, lacking));
            }
        }
        if room.iter().any(|&r| r < 0) {
            return;
        }
        answer.sort_by_key(|&(j, _)| std::cmp::Reverse((self.program.columns.cost(j), j)));
        for (j, count) in &mut answer {
            while *count > 0
                && self
                    .program
                    .columns
                    .entries(*j)
                    .all(|(r, v)| room[r] >= i64::from(v))
            {
                *count -= 1;
                for (r, v) in self.program.columns.entries(*j) {
                    room[r] -= i64::from(v);
                }
            }
        }
        answer.retain(|&(_, count)| count > 0);
        self.offer(answer);
    }

    fn surplus(&self, answer: &[(usize, i64)]) -> Vec<i64> {
        let mut room: Vec<i64> = self.program.at_least.iter().map(|b| -b).collect();
        for &(j, count) in answer {
            for (r, v) in self.program.columns.entries(j) {
                room[r] += count * i64::from(v);
            }
        }
        room
    }

    fn offer(&mut self, mut answer: Vec<(usize, i64)>) {
        let cost: i64 = answer
            .iter()
            .map(|&(j, n)| n * self.program.columns.cost(j))
            .sum();
        if cost <= self.cutoff {
            answer.sort_unstable();
            self.cutoff = cost - 1;
            self.found.best = Some((cost, answer));
        }
    }

    /// Takes a node whose values are all whole; false if whole numbers disagree
    /// with the method.
    fn accept(&mut self, node: &Simplex) -> bool {
        let answer: Vec<(usize, i64)> = node
            .values()
            .into_iter()
            .map(|(j, x)| (j, x.round() as i64))
            .filter(|&(_, n)| n > 0)
            .collect();
        if self.surplus(&answer).iter().any(|&r| r < 0) {
            return false;
        }
        let cost: i64 = answer
            .iter()
            .map(|&(j, n)| n * self.program.columns.cost(j))
            .sum();
        self.offer(answer);
        // The node's optimum is whole; its bound says how much cheaper anything
        // else below it could be, which is nothing but for rounding.
        let bound = (self.lift)(self.bound(node, &node.prices()).0).min(cost);
        self.found.bound = self.found.bound.min(bound);
        (cost as f64 - node.objective()).abs() <= 2e-6 * (1.0 + cost as f64)
    }

    /// The sum to branch on, with its present value; none when all is whole.
    fn branch_row(&self, node: &Simplex) -> Option<(Vec<(u32, i32)>, f64)> {
        const FRACTION: f64 = 1e-5;
        let values = node.values();
        if values.iter().all(|(_, x)| (x - x.round()).abs() < FRACTION) {
            return None;
        }
        let fraction = |x: f64| (x - x.round()).abs();
        for sum in &self.program.sums {
            let value: f64 = values
                .iter()
                .filter_map(|&(j, x)| {
                    let at = sum.binary_search_by_key(&(j as u32), |e| e.0).ok()?;
                    Some(x * f64::from(sum[at].1))
                })
                .sum();
            if fraction(value) > FRACTION {
                return Some((sum.clone(), value));
            }
        }
        let program = self.program;
        // Columns of one group that hold at least so much of one row.
        let mut holds: FxHashMap<(u32, usize, i32), f64> = FxHashMap::default();
        let grouped = |j: usize| program.group[j] != NO_GROUP;
        for &(j, x) in values.iter().filter(|&&(j, _)| grouped(j)) {
            for (row, v) in program.columns.entries(j) {
                for t in 1..=v.abs() {
                    *holds
                        .entry((program.group[j], row, t * v.signum()))
                        .or_default() += x;
                }
            }
        }
        let best = holds
            .iter()
            .filter(|(_, x)| fraction(**x) > 1e-3)
            .map(|(key, x)| (*key, *x))
            .sorted_by_key(|(key, _)| *key)
            .max_by(|a, b| fraction(a.1).total_cmp(&fraction(b.1)));
        if let Some(((group, row, t), value)) = best {
            let entries = self.collect(node, |j| {
                program.group[j] == group
                    && program
                        .columns
                        .entries(j)
                        .any(|(r, v)| r == row && v * t.signum() >= t.abs())
            });
            return Some((entries, value));
        }
        // Columns of one group that touch two rows.
        let mut pairs: FxHashMap<(u32, usize, usize), f64> = FxHashMap::default();
        for &(j, x) in values.iter().filter(|&&(j, _)| grouped(j)) {
            let rows: Vec<usize> = program.columns.entries(j).map(|(r, _)| r).collect();
            for [a, b] in rows.into_iter().array_combinations() {
                *pairs
                    .entry((program.group[j], a.min(b), a.max(b)))
                    .or_default() += x;
            }
        }
        let best = pairs
            .iter()
            .filter(|(_, x)| fraction(**x) > 1e-3)
            .map(|(key, x)| (*key, *x))
            .sorted_by_key(|(key, _)| *key)
            .max_by(|a, b| fraction(a.1).total_cmp(&fraction(b.1)));
        if let Some(((group, a, b), value)) = best {
            let entries = self.collect(node, |j| {
                program.group[j] == group
                    && program.columns.entries(j).any(|(r, _)| r == a)
                    && program.columns.entries(j).any(|(r, _)| r == b)
            });
            return Some((entries, value));
        }
        let (j, x) = values
            .into_iter()
            .max_by(|a, b| fraction(a.1).total_cmp(&fraction(b.1)).then(b.0.cmp(&a.0)))?;
        Some((vec![(j as u32, 1)], x))
    }

    fn collect(&self, node: &Simplex, mut wanted: impl FnMut(usize) -> bool) -> Vec<(u32, i32)> {
        node.active()
            .iter()
            .filter(|&&j| wanted(j as usize))
            .map(|&j| (j, 1))
            .collect()
    }
}

enum Relaxed {
    Pruned,
    Open,
    Trouble,
}
