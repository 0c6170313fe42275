//! The cheapest ways through a block, and all that come within a given cost.

use rustc_hash::FxHashMap;

use super::block::{Allowed, Block, Path, PathCosts, Pieces, Step, Takes};
use super::run::Run;

/// What is spent after a step, if from there on `most_cost` can be kept.
pub(super) fn spent_after(
    step: &Step,
    cost: Option<i64>,
    so_far: i64,
    rest: &[Option<i64>],
    most_cost: i64,
) -> Option<i64> {
    let spent = so_far + cost?;
    (spent + rest[step.to as usize]? <= most_cost).then_some(spent)
}

impl Block {
    pub(super) fn cost(step: &Step, costs: &PathCosts, allowed: Option<&Allowed>) -> Option<i64> {
        let row = costs.row[step.row as usize];
        if step.joint == 0 {
            return Some(row);
        }
        match allowed {
            Some(allowed) if !allowed[step.course as usize][step.joint as usize] => None,
            _ => {
                let own = costs.course.get(step.course as usize);
                let own = own.map_or(0, |own| own[step.joint as usize]);
                Some(row + costs.joint[step.joint as usize] * i64::from(step.times) + own)
            }
        }
    }

    /// What the cheapest way to the goal costs from every node on; nothing where
    /// there is no way.
    pub(super) fn potentials(
        &self,
        costs: &PathCosts,
        allowed: Option<&Allowed>,
    ) -> Vec<Option<i64>> {
        let mut rest = vec![None; self.goal() + 1];
        rest[self.goal()] = Some(0i64);
        for node in (0..self.goal()).rev() {
            rest[node] = self.steps[self.range(node)]
                .iter()
                .filter_map(|s| Some(Block::cost(s, costs, allowed)? + rest[s.to as usize]?))
                .min();
        }
        rest
    }

    /// What the cheapest block costs; nothing when the allowed joints leave no way.
    pub fn least(&self, costs: &PathCosts, allowed: Option<&Allowed>) -> Option<i64> {
        self.potentials(&self.own(costs), allowed)[0]
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
        let rest = self.potentials(costs, allowed);
        let Some(least) = rest[0] else {
            return Vec::new();
        };
        let mut found = vec![(least, self.follow(&rest, costs, allowed, &[], 0))];
        if more == 0 {
            self.spread(&mut found[0].1);
            return found;
        }
        // The cheapest way to every node, then the cheapest block through each row.
        let mut reach: Vec<Option<(i64, u32)>> = vec![None; self.goal() + 1];
        reach[0] = Some((0, u32::MAX));
        let mut through: Vec<Option<(i64, u32)>> = vec![None; costs.row.len()];
        let mut start = vec![0u32; self.steps.len()];
        for node in 0..self.goal() {
            let Some((so_far, _)) = reach[node] else {
                continue;
            };
            for at in self.range(node) {
                let step = &self.steps[at];
                start[at] = node as u32;
                let Some(cost) = Block::cost(step, costs, allowed) else {
                    continue;
                };
                let so_far = so_far + cost;
                let to = &mut reach[step.to as usize];
                if to.is_none_or(|(c, _)| so_far < c) {
                    *to = Some((so_far, at as u32));
                }
                if let Some(left) = rest[step.to as usize] {
                    let best = &mut through[step.row as usize];
                    if best.is_none_or(|(c, _)| so_far + left < c) {
                        *best = Some((so_far + left, at as u32));
                    }
                }
            }
        }
        let mut others: Vec<(i64, u32)> = through.into_iter().flatten().collect();
        others.sort_unstable();
        for (cost, at) in others {
            let mut steps = vec![at];
            let mut node = start[at as usize];
            while node != 0 {
                let (_, before) = reach[node as usize].expect("the way here was found");
                steps.push(before);
                node = start[before as usize];
            }
            steps.reverse();
            let on = self.steps[at as usize].to as usize;
            let path = self.follow(&rest, costs, allowed, &steps, on);
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
        let costs = &*self.own(costs);
        let rest = self.potentials(costs, allowed);
        let lengths = run.lengths.len() as u16;
        let mut reach: Vec<Option<i64>> = vec![None; self.goal() + 1];
        reach[0] = Some(0);
        for node in 0..self.goal() {
            let Some(so_far) = reach[node] else {
                continue;
            };
            for step in &self.steps[self.range(node)] {
                let cost = Block::cost(step, costs, allowed);
                let Some(spent) = spent_after(step, cost, so_far, &rest, most_cost) else {
                    continue;
                };
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

    /// The path of some first steps, then the cheapest way on from `node`.
    fn follow(
        &self,
        rest: &[Option<i64>],
        costs: &PathCosts,
        allowed: Option<&Allowed>,
        steps: &[u32],
        mut node: usize,
    ) -> Path {
        let mut path = vec![Vec::new(); self.courses];
        let mut take = |step: &Step| {
            if step.joint != 0 {
                path[step.course as usize].push(step.joint);
            }
        };
        for &at in steps {
            take(&self.steps[at as usize]);
        }
        while node != self.goal() {
            let step = self.steps[self.range(node)]
                .iter()
                .find(|s| {
                    let cost = Block::cost(s, costs, allowed);
                    let on = cost.and_then(|c| Some(c + rest[s.to as usize]?));
                    on.is_some() && on == rest[node]
                })
                .expect("a node on the way has a way on");
            take(step);
            node = step.to as usize;
        }
        path
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
        let costs = &*self.own(costs);
        let rest = self.potentials(costs, allowed);
        if rest[0].is_none_or(|least| least > most_cost) {
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
                    let step = &self.steps[i];
                    let cost = Block::cost(step, costs, allowed);
                    let Some(spent) = spent_after(step, cost, so_far, &rest, most_cost) else {
                        continue;
                    };
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
                    if labels.len() > 30 * most {
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
