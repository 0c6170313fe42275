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

use super::answers::whole_values;
use super::choice::{Experience, half};
use super::decide::Judging;
pub use super::problem::{Answer, Found, Limits, Move, NO_GROUP, Program, Way};
use super::simplex::{Ended, Simplex};
use super::{ExtraRow, cuts};

/// Pivots of one relaxation, and for each of its rows; more is a sign of trouble.
const MOST_PIVOTS: u64 = 3_000;
const PIVOTS_BY_ROW: u64 = 20;

/// Against ties the method sees costs lower by at most this part.
const LOWER: f64 = 2e-7;

/// Numbers kept for all open nodes, beyond which the last one is taken.
const MOST_KEPT: usize = 8_000_000;
/// Numbers kept for each row of a node.
const BY_ROW: usize = 40;
/// Cuts sought at once.
const MOST_CUTS: usize = 12;
/// Rounds of cuts in a row that raise nothing.
const WEAK: usize = 3;
/// What rows may lack where all depends on it.
pub(super) const MET: f64 = 1e-9;

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
pub(super) struct Node {
    simplex: Simplex,
    /// The rows of a judge that it has.
    rows: usize,
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

pub(super) struct Search<'a> {
    pub program: &'a Program,
    pub lift: &'a dyn Fn(i64) -> i64,
    pub stop: &'a dyn Fn() -> bool,
    pub cutoff: i64,
    limits: Limits,
    pub found: Found,
    /// Parts of one unit of cost in which prices are rounded to whole numbers.
    parts: i64,
    manner: &'static Manner,
    pub experience: Experience,
    pub judge: Option<Judging<'a>>,
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
    let mut search = Search::of(program, cutoff, lift, limits, stop, None);
    // What HiGHS finds is an answer to be beaten; what it proves is not believed.
    #[cfg(feature = "highs")]
    if let Some((_, answer)) = super::general::answer(program, cutoff, limits, stop) {
        search.offer(answer);
    }
    let mut open = vec![root(program)];
    search.run(&mut open);
    search.leave(&open);
    search.found
}

/// The node that all others come of.
pub(super) fn root(program: &Program) -> Node {
    let mut simplex = Simplex::new(
        program.columns.clone(),
        &program.at_least,
        scale(program),
        0.0,
    );
    simplex.lower_costs(LOWER);
    simplex.meet_within(manner(program).met);
    Node {
        simplex,
        rows: 0,
        depth: 0,
        bound: 0,
        branch: None,
    }
}

fn manner(program: &Program) -> &'static Manner {
    match program.way {
        Way::Deep => &DEEP,
        Way::Wide => &WIDE,
    }
}

/// What a column costs in the mean.
fn scale(program: &Program) -> f64 {
    let count = program.columns.len().max(1);
    let mean = (0..program.columns.len())
        .map(|j| program.columns.cost(j) as f64)
        .sum::<f64>()
        / count as f64;
    if mean > 0.0 { mean } else { 1.0 }
}

impl<'a> Search<'a> {
    pub(super) fn of(
        program: &'a Program,
        cutoff: i64,
        lift: &'a dyn Fn(i64) -> i64,
        limits: Limits,
        stop: &'a dyn Fn() -> bool,
        judge: Option<Judging<'a>>,
    ) -> Search<'a> {
        let costs = (0..program.columns.len()).map(|j| program.columns.cost(j));
        let dearest = costs.max().unwrap_or(1);
        Search {
            program,
            lift,
            stop,
            cutoff,
            limits,
            found: Found {
                best: None,
                finished: true,
                bound: i64::MAX,
                nodes: 0,
                work: 0,
            },
            parts: (100_000_000_000_000 / dearest.max(1)).clamp(1, 1 << 24),
            manner: manner(program),
            experience: Experience::of(program),
            judge,
        }
    }
}

impl Search<'_> {
    /// Open nodes are left open.
    pub(super) fn leave(&mut self, open: &[Node]) {
        for node in open {
            self.left(node.bound);
        }
    }

    /// What costs no less than a bound is left open, if it is one.
    pub(super) fn left(&mut self, bound: i64) {
        self.found.finished &= bound == i64::MAX;
        self.found.bound = self.found.bound.min(bound);
    }

    /// Looks at open nodes until none is left or a limit was hit: on down, and from the
    /// node with the least bound again where nothing is left below.
    pub(super) fn run(&mut self, open: &mut Vec<Node>) {
        let mut below = true;
        loop {
            // The search goes down first, and where the nodes take much memory.
            let least = !below && self.takes_least(open);
            let Some(mut node) = self.next(open, least) else {
                return;
            };
            if self.found.nodes >= self.limits.nodes || self.spent() {
                open.push(node);
                return;
            }
            below = false;
            if self.past(node.bound) {
                continue;
            }
            self.found.nodes += 1;
            let asked = self.judge.iter().flat_map(|judging| &judging.rows);
            for row in asked.skip(node.rows) {
                node.simplex.add_row(row.clone());
                node.rows += 1;
            }
            let relaxed = self.relax(&mut node);
            let objective = node.simplex.objective();
            if let Some(branch) = node.branch.take() {
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
                    self.left(node.bound);
                    continue;
                }
                Relaxed::Open => {}
            }
            if self.is_decided(&node.simplex) {
                // Dearer ones wait: they may not be needed once others were judged.
                let cheaper = least && open.iter().any(|other| other.bound < node.bound);
                // What was judged on the way may have been this.
                let waits = cheaper || node.rows < self.asked();
                let judged = waits || self.have_judged(&whole_values(&node.simplex));
                open.push(node);
                if judged {
                    continue;
                }
                return;
            }
            let cutoff = self.cutoff as f64 + 1.0;
            let all = 0..self.program.sums.len();
            let among = self
                .judge
                .as_ref()
                .map_or(all, |judging| judging.deciding.clone());
            let experience = &mut self.experience;
            let choice = experience.choose(self.program, among, &node.simplex, cutoff, self.stop);
            self.found.work += std::mem::take(&mut self.experience.work);
            let Some(choice) = choice else {
                // Everything is whole: an answer, checked in whole numbers.
                if !self.accept(&mut node.simplex) {
                    self.left(node.bound);
                }
                continue;
            };
            let part = choice.value - choice.value.floor();
            let first = part > 0.3;
            let mut other = node.simplex.clone();
            other.add_row(half(&choice.row, choice.value, !first));
            let mut simplex = node.simplex;
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
                    rows: node.rows,
                    depth: node.depth + 1,
                    bound: node.bound,
                    branch,
                });
            }
            below = self.judge.is_none();
        }
    }

    /// The next node: that with the least bound, of such the deepest, or the last one.
    fn next(&self, open: &mut Vec<Node>, least: bool) -> Option<Node> {
        if least {
            let places = open.iter().enumerate();
            let rank = |&(at, node): &(usize, &Node)| (node.bound, Reverse((node.depth, at)));
            let (at, _) = places.min_by_key(rank)?;
            return Some(open.remove(at));
        }
        open.pop()
    }

    /// Whether the nodes take so little memory that the search may go on anywhere.
    fn takes_least(&self, open: &[Node]) -> bool {
        let kept = |node: &Node| self.program.columns.len() + BY_ROW * node.simplex.rows();
        let kept = open.last().map_or(0, kept) * open.len();
        self.manner.least_first && kept < MOST_KEPT
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

    /// What becomes of a node, whose bound is raised.
    fn relax(&mut self, node: &mut Node) -> Relaxed {
        let (depth, known) = (node.depth, &mut node.bound);
        let node = &mut node.simplex;
        let own_rows = node.extra_rows().len();
        let rounds = self.manner.rounds[usize::from(depth > 0)];
        let mut last = f64::NEG_INFINITY;
        let mut weak = 0;
        let mut before_cuts: Option<Simplex> = None;
        for round in 0..=rounds {
            let (ended, bound, reduced) = self.solve(node, *known);
            *known = (*known).max((self.lift)(bound));
            if self.past(*known) {
                return Relaxed::Pruned;
            }
            match ended {
                Ended::Optimal => {
                    *known = (*known).max(self.by_own_costs(node, *known));
                    if self.past(*known) {
                        return Relaxed::Pruned;
                    }
                }
                // Only a bound past the cutoff counts, also for what cannot be met. Cuts
                // that lead into numerical trouble are left off again.
                Ended::Infeasible | Ended::Stopped => match before_cuts.take() {
                    Some(saved) if !self.spent() => {
                        *node = saved;
                        break;
                    }
                    _ => return Relaxed::Trouble,
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
        Relaxed::Open
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
    pub(super) fn solve(&mut self, node: &mut Simplex, known: i64) -> (Ended, i64, Vec<i128>) {
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
    pub(super) fn bound(&self, node: &Simplex, prices: &[f64]) -> (i64, Vec<i128>) {
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
}

/// Pivots that a node's relaxation may take.
pub(super) fn most_pivots(node: &Simplex) -> u64 {
    MOST_PIVOTS + PIVOTS_BY_ROW * node.rows() as u64
}

enum Relaxed {
    Pruned,
    Open,
    Trouble,
}
