//! The cheapest ways through a block, and all that come within a given cost.

use rustc_hash::FxHashMap;

use super::block::{Allowed, Block, Path, PathCosts, Pieces, Step, Takes};
use super::run::Run;

/// What there is no way for costs.
const NONE: i64 = i64::MAX;
/// Beginnings of ways looked at for each that may be listed.
const LABELS: usize = 10;

/// What the steps of a block cost by some costs, and what the cheapest way to the goal
/// costs from every node on.
pub(super) struct Priced<'a> {
    block: &'a Block,
    steps: Vec<i64>,
    rest: Vec<i64>,
}

impl<'a> Priced<'a> {
    pub(super) fn of(block: &'a Block, costs: &PathCosts, allowed: Option<&Allowed>) -> Priced<'a> {
        let steps = block.steps.iter();
        let mut priced = Priced {
            block,
            steps: steps.map(|s| Block::cost(s, costs, allowed)).collect(),
            rest: vec![NONE; block.goal() + 1],
        };
        priced.rest[block.goal()] = 0;
        for node in (0..block.goal()).rev() {
            let on = block.range(node).filter_map(|at| priced.on(at));
            priced.rest[node] = on.min().unwrap_or(NONE);
        }
        priced
    }

    /// What the cheapest way to the goal by a step costs from its start on.
    fn on(&self, at: usize) -> Option<i64> {
        let (cost, rest) = (self.steps[at], self.rest[self.block.steps[at].to as usize]);
        (cost != NONE && rest != NONE).then(|| cost + rest)
    }

    /// What the cheapest block costs; nothing when there is no way.
    fn least(&self) -> Option<i64> {
        Some(self.rest[0]).filter(|&least| least != NONE)
    }

    /// What is spent after a step, if from there on `most_cost` can be kept.
    pub(super) fn spent_after(&self, at: usize, so_far: i64, most_cost: i64) -> Option<i64> {
        (so_far + self.on(at)? <= most_cost).then(|| so_far + self.steps[at])
    }

    /// The path of some first steps, then the cheapest way on from `node`.
    fn follow(&self, steps: &[u32], mut node: usize) -> Path {
        let block = self.block;
        let mut path = vec![Vec::new(); block.courses];
        let mut take = |step: &Step| {
            if step.joint != 0 {
                path[step.course as usize].push(step.joint);
            }
        };
        for &at in steps {
            take(&block.steps[at as usize]);
        }
        while node != block.goal() {
            let on = |at: &usize| self.on(*at) == Some(self.rest[node]);
            let at = block.range(node).find(on);
            let at = at.expect("a node on the way has a way on");
            take(&block.steps[at]);
            node = block.steps[at].to as usize;
        }
        path
    }
}

impl Block {
    fn cost(step: &Step, costs: &PathCosts, allowed: Option<&Allowed>) -> i64 {
        let row = costs.row[step.row as usize];
        if step.joint == 0 {
            return row;
        }
        match allowed {
            Some(allowed) if !allowed[step.course as usize][step.joint as usize] => NONE,
            _ => {
                let own = costs.course.get(step.course as usize);
                let own = own.map_or(0, |own| own[step.joint as usize]);
                row + costs.joint[step.joint as usize] * i64::from(step.times) + own
            }
        }
    }

    /// The node that a step starts from.
    fn start(&self, at: usize) -> usize {
        self.first.partition_point(|&first| first as usize <= at) - 1
    }

    /// What the cheapest block costs; nothing when the allowed joints leave no way.
    pub fn least(&self, costs: &PathCosts, allowed: Option<&Allowed>) -> Option<i64> {
        Priced::of(self, &self.own(costs), allowed).least()
    }

    /// The cheapest block and up to `more` cheap ones through different pieces,
    /// cheapest first; none when the allowed joints leave no way.
    pub fn cheapest(
        &self,
        costs: &PathCosts,
        allowed: Option<&Allowed>,
        more: usize,
    ) -> Vec<(i64, Path)> {
        let costs = &*self.own(costs);
        let priced = Priced::of(self, costs, allowed);
        let Some(least) = priced.least() else {
            return Vec::new();
        };
        let mut found = vec![(least, priced.follow(&[], 0))];
        if more == 0 {
            self.spread(&mut found[0].1);
            return found;
        }
        // The cheapest way to every node, then the cheapest block through each row.
        let mut reach = vec![(NONE, u32::MAX); self.goal() + 1];
        reach[0] = (0, u32::MAX);
        let mut through = vec![(NONE, u32::MAX); costs.row.len()];
        for node in 0..self.goal() {
            let so_far = reach[node].0;
            if so_far == NONE {
                continue;
            }
            for at in self.range(node) {
                let cost = priced.steps[at];
                if cost == NONE {
                    continue;
                }
                let step = &self.steps[at];
                let so_far = so_far + cost;
                let to = &mut reach[step.to as usize];
                if so_far < to.0 {
                    *to = (so_far, at as u32);
                }
                let left = priced.rest[step.to as usize];
                let best = &mut through[step.row as usize];
                if left != NONE && so_far + left < best.0 {
                    *best = (so_far + left, at as u32);
                }
            }
        }
        let mut others: Vec<(i64, u32)> = through.into_iter().filter(|t| t.0 != NONE).collect();
        others.sort_unstable();
        for (cost, at) in others {
            let mut steps = vec![at];
            let mut node = self.start(at as usize);
            while node != 0 {
                let (_, before) = reach[node];
                steps.push(before);
                node = self.start(before as usize);
            }
            steps.reverse();
            let on = self.steps[at as usize].to as usize;
            let path = priced.follow(&steps, on);
            if !found.iter().any(|(_, p)| *p == path) {
                found.push((cost, path));
                if found.len() > more {
                    break;
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
                let step = &self.steps[at];
                let to = &mut reach[step.to as usize];
                *to = Some(to.map_or(spent, |c| c.min(spent)));
                let end = if step.joint == 0 {
                    run.end()
                } else {
                    step.joint
                };
                pieces.add(step.row % lengths, end);
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
                    let step = &self.steps[i];
                    let mut next = taken.clone();
                    let place = next.rows.partition_point(|&r| r <= step.row);
                    next.rows.insert(place, step.row);
                    if by_joint && step.joint != 0 {
                        let place = next.joints.partition_point(|&j| j <= step.joint);
                        next.joints.insert(place, step.joint);
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
                let step = &self.steps[step as usize];
                if step.joint != 0 {
                    path[step.course as usize].insert(0, step.joint);
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
            let Ok(row) = self.rows.binary_search(&step.row) else {
                continue;
            };
            let joint = match &self.joints {
                Some(joints) if step.joint != 0 => match joints.binary_search(&step.joint) {
                    Ok(at) => Some(at),
                    Err(_) => continue,
                },
                _ => None,
            };
            self.rows.remove(row);
            if let (Some(joints), Some(at)) = (&mut self.joints, joint) {
                joints.remove(at);
            }
            if step.joint != 0 {
                self.path[step.course as usize].push(step.joint);
            }
            self.descend(step.to as usize);
            if step.joint != 0 {
                self.path[step.course as usize].pop();
            }
            if let (Some(joints), Some(at)) = (&mut self.joints, joint) {
                joints.insert(at, step.joint);
            }
            self.rows.insert(row, step.row);
        }
    }
}
