//! Cut and branch over a finite set of columns: the cheapest whole answer that
//! costs no more than a cutoff, or the knowledge that there is none. It knows
//! rows, columns and the sums worth branching on; what lies outside the set of
//! columns is for its caller to account for.
//!
//! A node is given up only on a bound that holds for *any* non-negative prices
//! of the rows, reckoned in whole numbers: what the prices make of the right
//! sides, less what columns of negative reduced cost could gain. The simplex
//! method may be as wrong as it likes; it then prunes less.

use std::cmp::Reverse;
use std::sync::Arc;

use super::choice::{Experience, half};
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
    /// How it is searched.
    pub way: Way,
}

/// How a program is searched.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Depth first, cut at every node: where boards and pieces are all that is counted.
    Deep,
    /// From the node with the least bound on, cut at the root: where much else is, as
    /// supports that are paid for.
    Wide,
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

/// Pivots of one relaxation, and for each of its rows; more is a sign of trouble.
const MOST_PIVOTS: u64 = 3_000;
const PIVOTS_BY_ROW: u64 = 20;

/// Against ties the method sees costs lower by at most this part.
const LOWER: f64 = 2e-7;

/// Numbers kept for all open nodes, beyond which the last one is taken.
const MOST_KEPT: usize = 4_000_000;
/// Numbers kept for each row of a node.
const BY_ROW: usize = 40;
/// Cuts sought at once.
const MOST_CUTS: usize = 12;
/// Rounds of cuts in a row that raise nothing.
const WEAK: usize = 3;
/// What rows may lack where all depends on it.
const MET: f64 = 1e-9;

/// What a way of searching comes to.
struct Manner {
    /// What rows may lack.
    met: f64,
    /// Rounds of cuts at the root and below it.
    rounds: [usize; 2],
    /// The part of an answer's cost by which nothing cheaper is looked for.
    hair: f64,
    /// Whether the node with the least bound is next where nothing is left below.
    least_first: bool,
}

const DEEP: Manner = Manner {
    met: MET,
    rounds: [40, 4],
    hair: 0.0,
    least_first: false,
};

/// Below the root cuts, carried along and made again, were most of the work; and a hair is
/// what lower costs and rounding come to.
const WIDE: Manner = Manner {
    met: 1e-7,
    rounds: [10, 0],
    hair: 4.0 * LOWER,
    least_first: true,
};

/// An open node.
struct Node {
    simplex: Simplex,
    depth: u32,
    /// Nothing below costs less.
    bound: i64,
    branch: Option<Branch>,
}

/// How a node came of another one: which sum was moved how far, and which way, and what
/// the other one cost.
struct Branch {
    sum: usize,
    up: bool,
    moved: f64,
    from: f64,
}

struct Search<'a> {
    program: &'a Program,
    lift: &'a dyn Fn(i64) -> i64,
    stop: &'a dyn Fn() -> bool,
    cutoff: i64,
    limits: Limits,
    found: Found,
    /// Parts of one unit of cost in which prices are rounded to whole numbers.
    parts: i64,
    manner: &'static Manner,
    experience: Experience,
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
    let manner = match program.way {
        Way::Deep => &DEEP,
        Way::Wide => &WIDE,
    };
    root.meet_within(manner.met);
    let dearest = (0..program.columns.len())
        .map(|j| program.columns.cost(j))
        .max()
        .unwrap_or(1);
    let parts = (100_000_000_000_000 / dearest.max(1)).clamp(1, 1 << 24);
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
        manner,
        experience: Experience::of(program),
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
    /// From the root on down, and from the node with the least bound again where nothing
    /// is left below; false when a limit was hit, or numbers let it down.
    fn run(&mut self, root: Simplex) -> bool {
        let mut open = vec![Node {
            simplex: root,
            depth: 0,
            bound: 0,
            branch: None,
        }];
        let mut settled = true;
        let mut below = true;
        while let Some(node) = self.next(&mut open, below) {
            if self.found.nodes >= self.limits.nodes || self.spent() {
                let left = open.iter().map(|node| node.bound).chain([node.bound]);
                self.found.bound = left.fold(self.found.bound, i64::min);
                return false;
            }
            below = false;
            if self.past(node.bound) {
                continue;
            }
            self.found.nodes += 1;
            let Node {
                mut simplex,
                depth,
                bound,
                branch,
            } = node;
            let (relaxed, bound) = self.relax(&mut simplex, depth, bound);
            let objective = simplex.objective();
            if let Some(branch) = branch {
                let cost = match relaxed {
                    Relaxed::Pruned => (self.cutoff as f64).max(objective) - branch.from,
                    Relaxed::Open | Relaxed::Trouble => objective - branch.from,
                };
                self.experience
                    .learn(branch.sum, branch.up, branch.moved, cost);
            }
            match relaxed {
                Relaxed::Pruned => continue,
                // What is below a node that numbers fail at stays open.
                Relaxed::Trouble => {
                    settled = false;
                    self.found.bound = self.found.bound.min(bound);
                    continue;
                }
                Relaxed::Open => {}
            }
            let cutoff = self.cutoff as f64 + 1.0;
            let experience = &mut self.experience;
            let choice = experience.choose(self.program, &simplex, cutoff, self.stop);
            self.found.work += std::mem::take(&mut self.experience.work);
            let Some(choice) = choice else {
                // Everything is whole: an answer, checked in whole numbers.
                if !self.accept(&mut simplex) {
                    settled = false;
                    self.found.bound = self.found.bound.min(bound);
                }
                continue;
            };
            let part = choice.value - choice.value.floor();
            let first = part > 0.3;
            let mut other = simplex.clone();
            other.add_row(half(&choice.row, choice.value, !first));
            simplex.add_row(half(&choice.row, choice.value, first));
            for (simplex, up) in [(other, !first), (simplex, first)] {
                let branch = choice.sum.map(|sum| Branch {
                    sum,
                    up,
                    moved: if up { 1.0 - part } else { part },
                    from: objective,
                });
                open.push(Node {
                    simplex,
                    depth: depth + 1,
                    bound,
                    branch,
                });
            }
            below = true;
        }
        settled
    }

    /// The next node: the last one while the search goes down and where the nodes take
    /// much memory, else that with the least bound, of such the deepest.
    fn next(&self, open: &mut Vec<Node>, below: bool) -> Option<Node> {
        let kept = |node: &Node| self.program.columns.len() + BY_ROW * node.simplex.rows();
        let kept = open.last().map_or(0, kept) * open.len();
        if !below && self.manner.least_first && kept < MOST_KEPT {
            let places = open.iter().enumerate();
            let rank = |&(at, node): &(usize, &Node)| (node.bound, Reverse((node.depth, at)));
            let (at, _) = places.min_by_key(rank)?;
            return Some(open.remove(at));
        }
        open.pop()
    }

    /// Whether nothing is looked for where nothing costs less than this. What is cheaper
    /// than an answer by a hair is left alone, and kept in mind by the bound.
    fn past(&mut self, bound: i64) -> bool {
        if bound > self.cutoff {
            return true;
        }
        let hair = (self.cutoff as f64 * self.manner.hair) as i64;
        let past = self.found.best.is_some() && bound > self.cutoff - hair;
        if past {
            self.found.bound = self.found.bound.min(bound);
        }
        past
    }

    fn spent(&self) -> bool {
        self.found.work >= self.limits.work.saturating_mul(1_000_000) || (self.stop)()
    }

    /// What becomes of a node, and what nothing below it costs less than: no less than
    /// what is known.
    fn relax(&mut self, node: &mut Simplex, depth: u32, known: i64) -> (Relaxed, i64) {
        let mut known = known;
        let own_rows = node.extra_rows().len();
        let rounds = self.manner.rounds[usize::from(depth > 0)];
        let mut last = f64::NEG_INFINITY;
        let mut weak = 0;
        let mut before_cuts: Option<Simplex> = None;
        for round in 0..=rounds {
            let (ended, bound, reduced) = self.solve(node, known);
            known = known.max((self.lift)(bound));
            if self.past(known) {
                return (Relaxed::Pruned, known);
            }
            match ended {
                Ended::Optimal => {
                    known = known.max(self.by_own_costs(node, known));
                    if self.past(known) {
                        return (Relaxed::Pruned, known);
                    }
                }
                // Only a bound past the cutoff counts, also for what cannot be met. Cuts
                // that lead into numerical trouble are left off again.
                Ended::Infeasible | Ended::Stopped => match before_cuts.take() {
                    Some(saved) if !self.spent() => {
                        *node = saved;
                        break;
                    }
                    _ => return (Relaxed::Trouble, known),
                },
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
            if round == rounds || weak >= WEAK || self.spent() {
                break;
            }
            last = objective;
            let cuts = self.cuts(node, own_rows);
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

    /// What a node is bounded by at the columns' own costs, where those that the method
    /// sees bound it up to a hair past the cutoff.
    fn by_own_costs(&mut self, node: &Simplex, known: i64) -> i64 {
        let hair = (self.cutoff as f64 * 2.0 * LOWER) as i64 + 1;
        if (self.lift)(known + hair) <= self.cutoff {
            return known;
        }
        let mut own = node.clone();
        own.own_costs();
        own.primal(most_pivots(node), self.stop);
        self.found.work += own.effort() - node.effort();
        (self.lift)(self.bound(&own, &own.prices()).0)
    }

    /// Leaves out added rows from a place on that hold with room to spare, and cuts
    /// anew: small numbers suit cuts of whole coefficients.
    fn cuts(&mut self, node: &mut Simplex, own_rows: usize) -> Vec<ExtraRow> {
        if self.program.way == Way::Deep {
            node.drop_slack_rows(own_rows, 0);
            return cuts::whole::violated(node, MOST_CUTS, self.program.most_columns);
        }
        node.drop_slack_rows(own_rows, 1);
        let (cuts, work) = cuts::mixed::violated(node, MOST_CUTS);
        self.found.work += work;
        cuts
    }

    /// Solves a node's relaxation, from the slack basis where numbers have become too
    /// rough; how that ended, the bound and the reduced costs that its prices give.
    fn solve(&mut self, node: &mut Simplex, known: i64) -> (Ended, i64, Vec<i128>) {
        let (mut enough, mut afresh) = (self.cutoff as f64 + 1.0, false);
        loop {
            let (before, pivots, most) = (node.effort(), node.pivots, most_pivots(node));
            let ended = node.dual(most, enough, self.stop);
            // What is done beside pivots counts as one.
            self.found.work += node.effort() - before + node.active().len() as u64 + 400;
            let prices = match ended {
                Ended::Infeasible => node.climbing_prices(self.cutoff as f64),
                Ended::Optimal | Ended::Stopped => node.prices(),
            };
            let (bound, reduced) = self.bound(node, &prices);
            let past = (self.lift)(bound).max(known) > self.cutoff;
            let exhausted = node.pivots - pivots >= most;
            if ended == Ended::Optimal || past || afresh || exhausted || self.spent() {
                return (ended, bound, reduced);
            }
            // Past the cutoff by less than prices lose when they are made whole, it goes on.
            if ended == Ended::Stopped && node.objective() > enough {
                enough = f64::INFINITY;
                continue;
            }
            node.start_from_slacks();
            afresh = true;
        }
    }

    /// A bound that holds for any prices none of which is below zero, and the
    /// active columns' reduced costs by them, in parts. All in whole numbers.
    fn bound(&self, node: &Simplex, prices: &[f64]) -> (i64, Vec<i128>) {
        let whole = |p: &f64| (p * self.parts as f64).round().clamp(0.0, 4e18) as i64;
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
    fn accept(&mut self, node: &mut Simplex) -> bool {
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
        if cost > self.cutoff {
            // Not what is looked for. Below it may lie what is, by a hair.
            node.meet_within(MET);
            self.solve(node, 0);
            node.own_costs();
            node.primal(most_pivots(node), self.stop);
            let bound = (self.lift)(self.bound(node, &node.prices()).0);
            if bound > self.cutoff {
                return true;
            }
            self.found.bound = self.found.bound.min(bound);
            return self.found.best.is_some();
        }
        self.offer(answer);
        // The node's optimum is whole; its bound says how much cheaper anything
        // else below it could be, which is nothing but for rounding.
        let bound = (self.lift)(self.bound(node, &node.prices()).0).min(cost);
        self.found.bound = self.found.bound.min(bound);
        (cost as f64 - node.objective()).abs() <= 2e-6 * (1.0 + cost as f64)
    }
}

/// Pivots that a node's relaxation may take.
fn most_pivots(node: &Simplex) -> u64 {
    MOST_PIVOTS + PIVOTS_BY_ROW * node.rows() as u64
}

enum Relaxed {
    Pruned,
    Open,
    Trouble,
}
