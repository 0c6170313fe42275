//! Sets of supports: where a support that carries joints costs something, a relaxation
//! uses every support a little and pays for little of each. Whole sets come of single
//! courses, cheapest first, or each support is paid for or barred, one after another,
//! until what is left is a plain problem on the paid ones; the least of all that is left
//! open is a bound.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::carrying::pieces_on;
use super::counts::Counts;
use super::master::{Column, Master};
use super::search::{Aim, State, first_classes};
use super::stretches::close;
use super::tree::Tree;

/// Relaxations that are solved at most.
const MOST_NODES: usize = 400;
/// Plain problems that are searched.
const MOST_LEAVES: usize = 12;

/// Sets of supports that are searched one after another.
const MOST_SETS: usize = 60;

/// What a branch says of a support.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Mark {
    /// Nothing yet.
    Open,
    /// It is paid for and carries what it can.
    Paid,
    /// It carries no joint.
    Barred,
}

/// A branch: what is said of each place, and whether the plain problem on those
/// that are paid is done with.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Branch {
    marks: Vec<Mark>,
    searched: bool,
}

impl Branch {
    fn with(&self, place: usize, mark: Mark) -> Branch {
        let mut branch = self.clone();
        branch.marks[place] = mark;
        // Another one paid for makes another problem of it.
        branch.searched &= mark != Mark::Paid;
        branch
    }

    fn paid(&self) -> i64 {
        self.marks.iter().filter(|m| **m == Mark::Paid).count() as i64
    }

    /// The places where joints may be, as a set; the run's start is none.
    fn set(&self, may: impl Fn(Mark) -> bool) -> Vec<bool> {
        let marks = self.marks.iter().enumerate();
        marks.map(|(place, mark)| place > 0 && may(*mark)).collect()
    }
}

/// What the relaxation of a branch says.
enum Relaxed {
    /// What its plans weigh at least, and how often each place is used.
    Solved(i64, Vec<f64>),
    /// No course can be cut so.
    Nothing,
    /// Nothing: the work was stopped.
    Unknown,
}

impl<'a> State<'a> {
    /// Raises the bound, and finds plans, by the cheapest sets of supports: what single
    /// courses weigh at least gives one, which is searched as a plain problem and barred,
    /// and so on until no set is left that a lighter plan could have. So many times the
    /// usual work is spent on each.
    pub(super) fn by_sets(&mut self, tree: &Tree<'a>, times: u64) {
        let model = self.model;
        if model.weights.doubled == 0 || self.best.is_none() || self.done() {
            return;
        }
        let (root, _) = self.root(tree);
        let enough = model.spent() + self.budget.total / 4;
        let mut work = self.budget.stretches;
        work.limits.nodes *= times;
        work.limits.work *= times;
        let mut plain = model.clone();
        plain.weights.doubled = 0;
        let mut barred: Vec<Vec<bool>> = Vec::new();
        // The least of what was searched and not settled.
        let mut stuck = i64::MAX;
        while barred.len() < MOST_SETS && !self.spent() && model.spent() < enough {
            let target = self.target(Aim::Primary);
            let (closed, _) = close(&root, self.rules, target, &barred, work, self.stop);
            self.raise(closed.bound.min(stuck));
            let Some(answer) = closed.better.filter(|_| !self.done()) else {
                break;
            };
            let set = answer.carrying(model);
            if barred.contains(&set) {
                break;
            }
            let (laid, least) = self.on_supports(&mut plain, &set);
            self.offer(laid, 0, Aim::Both);
            stuck = stuck.min(least);
            barred.push(set);
        }
    }

    /// Raises the bound, and finds plans, by what supports carry joints.
    pub(super) fn branch_on_supports(&mut self, root: &Master<'a>) {
        let model = self.model;
        if model.weights.doubled == 0 || self.best.is_none() || self.done() {
            return;
        }
        let places = model.run.joints.len() + 1;
        let all = Branch {
            marks: vec![Mark::Open; places],
            searched: false,
        };
        let boards = root.boards();
        let enough = model.spent() + self.budget.total / 4;
        let mut open = BinaryHeap::from([Reverse((self.bound, all))]);
        let (mut nodes, mut leaves) = (0, 0);
        // The least of what was searched and not settled.
        let mut stuck = i64::MAX;
        while let Some(Reverse((bound, branch))) = open.pop() {
            let spent = self.spent() || model.spent() >= enough;
            if bound >= self.weight() || nodes >= MOST_NODES || spent {
                open.push(Reverse((bound, branch)));
                break;
            }
            self.raise(bound.min(stuck));
            nodes += 1;
            let (found, used) = match self.relaxed(&branch, &boards) {
                Relaxed::Solved(found, used) => (found, used),
                Relaxed::Nothing => continue,
                Relaxed::Unknown => {
                    stuck = stuck.min(bound);
                    continue;
                }
            };
            let bound = bound.max(model.lift(found));
            if bound >= self.weight() {
                continue;
            }
            let candidates = (1..places).filter(|&s| branch.marks[s] == Mark::Open);
            let most = candidates.max_by(|&a, &b| used[a].total_cmp(&used[b]).then(b.cmp(&a)));
            let whole = most.is_none_or(|s| used[s] <= 1e-6);
            let mut branch = branch;
            if whole && !branch.searched {
                if leaves == MOST_LEAVES {
                    stuck = stuck.min(bound);
                    continue;
                }
                leaves += 1;
                branch.searched = true;
                let least = self.on_paid(&branch);
                stuck = stuck.min(least.max(bound));
            }
            let Some(most) = most else { continue };
            for mark in [Mark::Paid, Mark::Barred] {
                open.push(Reverse((bound, branch.with(most, mark))));
            }
        }
        let least = open.peek().map_or(i64::MAX, |Reverse((bound, _))| *bound);
        self.raise(least.min(stuck));
    }

    /// Relaxes a branch, its first columns these boards.
    fn relaxed(&self, branch: &Branch, boards: &[Column]) -> Relaxed {
        let model = self.model;
        let only = pieces_on(model, &branch.set(|mark| mark != Mark::Barred));
        let classes = first_classes(model, self.rules, Some(&only), self.budget.steps);
        let Some((_, classes)) = classes else {
            return Relaxed::Nothing;
        };
        let all = Counts::all(model, self.weight().min(model.conceivable));
        let blocks: Vec<i64> = classes.iter().map(|c| c.count).collect();
        let mut master = Master::counting(model, classes, &model.extra, boards, all.clone());
        let carried: Vec<i64> = branch.marks[1..]
            .iter()
            .map(|mark| match mark {
                Mark::Paid => -model.most_on_support,
                Mark::Open | Mark::Barred => 0,
            })
            .collect();
        master.set(&model.extra, &blocks, &all, Some(&carried));
        let price = branch.paid() * model.weights.doubled;
        let room = self.weight() - price;
        master.solve(self.weight().min(model.conceivable), room, self.stop);
        let Some(prices) = &master.prices else {
            return Relaxed::Unknown;
        };
        let bound = prices.bound().saturating_add(price);
        let mut used = vec![0.0; branch.marks.len()];
        for (_, path, x) in master.used_blocks() {
            for joint in path.into_iter().flatten() {
                used[joint as usize] += x;
            }
        }
        Relaxed::Solved(bound, used)
    }

    /// Searches the plain problem on the supports that are paid; what a plan on them
    /// weighs at least, or the best plan if none of them is lighter.
    fn on_paid(&mut self, branch: &Branch) -> i64 {
        let mut plain = self.model.clone();
        plain.weights.doubled = 0;
        let set = branch.set(|mark| mark == Mark::Paid);
        let (laid, least) = self.on_supports(&mut plain, &set);
        self.offer(laid, 0, Aim::Both);
        least
    }
}
