//! The cheapest ways through a block, and all that come within a given cost.

use rustc_hash::FxHashMap;

use super::block::{Allowed, Block, Path, PathCosts, Pieces, Step, Takes, Taking};
use super::run::Run;

/// What there is no way for costs, so that two such costs can be added up.
const NONE: i64 = i64::MAX / 2;
/// What costs as much is no way; ways cost less.
const FAR: i64 = NONE / 2;
/// Beginnings of ways looked at for each that may be listed.
const LABELS: usize = 10;

/// What the steps of a block cost by some costs, and what the cheapest way to the goal
/// costs from every node on.
pub(super) struct Priced<'a> {
    block: &'a Block,
    /// By what a step takes.
    costs: Vec<i64>,
    rest: Vec<i64>,
}

impl<'a> Priced<'a> {
    pub(super) fn of(block: &'a Block, costs: &PathCosts, allowed: Option<&Allowed>) -> Priced<'a> {
        let takings = block.takings.iter();
        let mut priced = Priced {
            block,
            costs: takings.map(|t| cost(t, costs, allowed)).collect(),
            rest: vec![NONE; block.goal() + 1],
        };
        priced.rest[block.goal()] = 0;
        for node in (0..block.goal()).rev() {
            let mut least = NONE;
            for &step in &block.steps[block.range(node)] {
                least = least.min(priced.with(step));
            }
            priced.rest[node] = if least < FAR { least } else { NONE };
        }
        priced
    }

    /// What the cheapest way to the goal by a step costs from its start on; from `FAR` on
    /// there is none.
    fn with(&self, step: Step) -> i64 {
        self.costs[step.taking as usize] + self.rest[step.to as usize]
    }

    /// What the cheapest block costs; nothing when there is no way.
    fn least(&self) -> Option<i64> {
        Some(self.rest[0]).filter(|&least| least < FAR)
    }

    /// What is spent after a step, if from there on `most_cost` can be kept.
    pub(super) fn spent_after(&self, at: usize, so_far: i64, most_cost: i64) -> Option<i64> {
        let step = self.block.steps[at];
        let on = self.with(step);
        (on < FAR && so_far + on <= most_cost).then(|| so_far + self.costs[step.taking as usize])
    }

    /// The path of some first steps, then the cheapest way on from `node`.
    fn follow(&self, steps: &[u32], mut node: usize) -> Path {
        let block = self.block;
        let mut path = vec![Vec::new(); block.courses];
        let mut take = |step: Step| {
            let taking = block.taking(step);
            if taking.joint != 0 {
                path[taking.course as usize].push(taking.joint);
            }
        };
        for &at in steps {
            take(block.steps[at as usize]);
        }
        while node != block.goal() {
            let mut steps = block.steps[block.range(node)].iter();
            let step = steps.find(|&&step| self.with(step) == self.rest[node]);
            let step = *step.expect("a node on the way has a way on");
            take(step);
            node = step.to as usize;
        }
        path
    }

    /// The cheapest ways to the goal through each row that cost less than `below`: their
    /// cost, and their steps up to the one that takes the row; cheapest first.
    fn through_rows(&self, rows: usize, below: i64) -> Vec<(i64, Vec<u32>)> {
        let block = self.block;
        // The cheapest way to every node, then the cheapest block through each row.
        let mut reach = vec![(NONE, u32::MAX); block.goal() + 1];
        reach[0] = (0, u32::MAX);
        let mut through = vec![(below.min(FAR), u32::MAX); rows];
        for node in 0..block.goal() {
            let so_far = reach[node].0;
            if so_far >= FAR || so_far + self.rest[node] >= below {
                continue;
            }
            for at in block.range(node) {
                let step = block.steps[at];
                let on = self.with(step);
                if on >= FAR || so_far + on >= below {
                    continue;
                }
                let to = &mut reach[step.to as usize];
                let spent = so_far + self.costs[step.taking as usize];
                if spent < to.0 {
                    *to = (spent, at as u32);
                }
                let best = &mut through[block.taking(step).row as usize];
                if so_far + on < best.0 {
                    *best = (so_far + on, at as u32);
                }
            }
        }
        through.retain(|through| through.1 != u32::MAX);
        through.sort_unstable();
        let steps_to = |at: u32| {
            let mut steps = vec![at];
            let mut node = block.start(at as usize);
            while node != 0 {
                let (_, before) = reach[node];
                steps.push(before);
                node = block.start(before as usize);
            }
            steps.reverse();
            steps
        };
        let through = through.into_iter();
        through.map(|(cost, at)| (cost, steps_to(at))).collect()
    }
}

/// What a step costs by what it takes.
fn cost(taking: &Taking, costs: &PathCosts, allowed: Option<&Allowed>) -> i64 {
    let (course, joint) = (usize::from(taking.course), usize::from(taking.joint));
    let row = costs.row[usize::from(taking.row)];
    if joint == 0 {
        return row;
    }
    match allowed {
        Some(allowed) if !allowed[course][joint] => NONE,
        _ => {
            let own = costs.course.get(course).map_or(0, |own| own[joint]);
            row + costs.joint[joint] * i64::from(taking.times) + own
        }
    }
}

impl Block {
    /// The node that a step starts from.
    fn start(&self, at: usize) -> usize {
        self.first.partition_point(|&first| first as usize <= at) - 1
    }

    /// What the cheapest block costs; nothing when the allowed joints leave no way.
    pub fn least(&self, costs: &PathCosts, allowed: Option<&Allowed>) -> Option<i64> {
        Priced::of(self, &self.own(costs), allowed).least()
    }

    /// The cheapest block and up to `more` through different pieces that cost less than
    /// `below`, cheapest first; none when the allowed joints leave no way.
    pub fn cheapest(
        &self,
        costs: &PathCosts,
        allowed: Option<&Allowed>,
        more: usize,
        below: i64,
    ) -> Vec<(i64, Path)> {
        let costs = &*self.own(costs);
        let priced = Priced::of(self, costs, allowed);
        let Some(least) = priced.least() else {
            return Vec::new();
        };
        let mut found = vec![(least, priced.follow(&[], 0))];
        if more > 0 && least < below {
            for (cost, steps) in priced.through_rows(costs.row.len(), below) {
                let last = steps[steps.len() - 1] as usize;
                let path = priced.follow(&steps, self.steps[last].to as usize);
                if !found.iter().any(|(_, p)| *p == path) {
                    found.push((cost, path));
                    if found.len() > more {
                        break;
                    }
                }
            }
        }
        for (_, path) in &mut found {
            self.spread(path);
        }
        found
    }

    /// Marks every piece that lies on some block that costs at most `most_cost`.
    pub fn mark(
        &self,
        run: &Run,
        costs: &PathCosts,
        allowed: Option<&Allowed>,
        most_cost: i64,
        pieces: &mut Pieces,
    ) {
        let priced = Priced::of(self, &self.own(costs), allowed);
        let lengths = run.lengths.len() as u16;
        let mut reach: Vec<Option<i64>> = vec![None; self.goal() + 1];
        reach[0] = Some(0);
        for node in 0..self.goal() {
            let Some(so_far) = reach[node] else {
                continue;
            };
            for at in self.range(node) {
                let Some(spent) = priced.spent_after(at, so_far, most_cost) else {
                    continue;
                };
                let step = self.steps[at];
                let to = &mut reach[step.to as usize];
                *to = Some(to.map_or(spent, |c| c.min(spent)));
                let taking = self.taking(step);
                let end = match taking.joint {
                    0 => run.end(),
                    joint => joint,
                };
                pieces.add(taking.row % lengths, end);
            }
        }
    }

    /// Every different taking of a block that costs at most `most_cost`, each
    /// with one path for it; nothing if there are more than `most`. Joints are
    /// told apart only if `by_joint`.
    pub fn within(
        &self,
        costs: &PathCosts,
        allowed: Option<&Allowed>,
        most_cost: i64,
        by_joint: bool,
        most: usize,
    ) -> Option<Vec<(Takes, Path)>> {
        let priced = Priced::of(self, &self.own(costs), allowed);
        if priced.least().is_none_or(|least| least > most_cost) {
            return Some(Vec::new());
        }
        // Labels: what was spent, the label before, and the step from it.
        let mut labels: Vec<(i64, u32, u32)> = vec![(0, u32::MAX, u32::MAX)];
        let mut at: Vec<FxHashMap<Takes, u32>> = vec![FxHashMap::default(); self.goal() + 1];
        at[0].insert(Takes::default(), 0);
        for node in 0..self.goal() {
            let mut here: Vec<(Takes, u32)> = std::mem::take(&mut at[node]).into_iter().collect();
            here.sort_unstable();
            for (taken, label) in here {
                let so_far = labels[label as usize].0;
                for i in self.range(node) {
                    let Some(spent) = priced.spent_after(i, so_far, most_cost) else {
                        continue;
                    };
                    let step = self.steps[i];
                    let taking = self.taking(step);
                    let mut next = taken.clone();
                    let place = next.rows.partition_point(|&r| r <= taking.row);
                    next.rows.insert(place, taking.row);
                    if by_joint && taking.joint != 0 {
                        let place = next.joints.partition_point(|&j| j <= taking.joint);
                        next.joints.insert(place, taking.joint);
                    }
                    let fresh = labels.len() as u32;
                    let known = *at[step.to as usize].entry(next).or_insert(fresh);
                    if known == fresh {
                        labels.push((spent, label, i as u32));
                    } else if spent < labels[known as usize].0 {
                        labels[known as usize] = (spent, label, i as u32);
                    }
                    if labels.len() > LABELS * most {
                        return None;
                    }
                }
            }
        }
        let mut ended: Vec<(Takes, u32)> =
            std::mem::take(&mut at[self.goal()]).into_iter().collect();
        if ended.len() > most {
            return None;
        }
        ended.sort_unstable();
        let path = |mut label: u32| {
            let mut path: Path = vec![Vec::new(); self.courses];
            while label != 0 {
                let (_, before, step) = labels[label as usize];
                let taking = self.taking(self.steps[step as usize]);
                if taking.joint != 0 {
                    path[taking.course as usize].insert(0, taking.joint);
                }
                label = before;
            }
            self.spread(&mut path);
            path
        };
        Some(
            ended
                .into_iter()
                .map(|(taken, label)| {
                    let path = path(label);
                    (self.taken(taken, &path, by_joint), path)
                })
                .collect(),
        )
    }
}

impl Block {
    /// Ways to cut a block that take just this, at most `most` of them.
    pub fn realise(&self, takes: &Takes, by_joint: bool, most: usize) -> Vec<Path> {
        let mut search = Realise {
            block: self,
            rows: takes.rows.clone(),
            joints: by_joint.then(|| takes.joints.clone()),
            path: vec![Vec::new(); self.courses],
            found: Vec::new(),
            most,
            steps: 20_000,
        };
        search.descend(0);
        search.found
    }
}

struct Realise<'a> {
    block: &'a Block,
    rows: Vec<u16>,
    joints: Option<Vec<u16>>,
    path: Path,
    found: Vec<Path>,
    most: usize,
    steps: u32,
}

impl Realise<'_> {
    fn descend(&mut self, node: usize) {
        if node == self.block.goal() {
            if self.rows.is_empty() {
                self.found.push(self.path.clone());
            }
            return;
        }
        for i in self.block.range(node) {
            if self.found.len() >= self.most || self.steps == 0 {
                return;
            }
            self.steps -= 1;
            let step = self.block.steps[i];
            let taking = *self.block.taking(step);
            let Ok(row) = self.rows.binary_search(&taking.row) else {
                continue;
            };
            let joint = match &self.joints {
                Some(joints) if taking.joint != 0 => match joints.binary_search(&taking.joint) {
                    Ok(at) => Some(at),
                    Err(_) => continue,
                },
                _ => None,
            };
            self.rows.remove(row);
            if let (Some(joints), Some(at)) = (&mut self.joints, joint) {
                joints.remove(at);
            }
            if taking.joint != 0 {
                self.path[taking.course as usize].push(taking.joint);
            }
            self.descend(step.to as usize);
            if taking.joint != 0 {
                self.path[taking.course as usize].pop();
            }
            if let (Some(joints), Some(at)) = (&mut self.joints, joint) {
                joints.insert(at, taking.joint);
            }
            self.rows.insert(row, taking.row);
        }
    }
}
