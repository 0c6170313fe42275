//! The cheapest walks at some prices: what the way on costs from every state, by
//! courses laid, and the same from the other end.

use super::Walk;
use crate::joints::block::{Path, PathCosts};

/// Costs that no walk has.
pub(super) const NONE: i64 = i64::MAX / 4;

/// What two ways cost together; nothing more than none.
pub(super) fn both(a: i64, b: i64) -> i64 {
    if a >= NONE || b >= NONE { NONE } else { a + b }
}

/// A walk at some prices: the courses to be laid and what is left from where.
pub(super) struct Priced<'w> {
    walk: &'w Walk,
    /// What each pattern costs, by course.
    costs: Vec<&'w [i64]>,
    /// Courses that the first state holds; none where walks go on from one.
    head: usize,
    /// What the first courses cost, by state.
    pub(super) begin: Vec<i64>,
    /// What the way on costs, by courses laid after the first, then by state.
    pub(super) rest: Vec<Vec<i64>>,
}

impl Walk {
    /// The cheapest walk over courses of these materials, on from a state or from
    /// the first course, and up to `more` through other patterns that cost less than
    /// `below`, cheapest first; none when there is no walk so long.
    pub fn cheapest(
        &self,
        costs: &PathCosts,
        materials: &[u16],
        start: Option<u32>,
        more: usize,
        below: i64,
    ) -> Vec<(i64, Path)> {
        let kinds = materials.iter().copied().max().unwrap_or(0);
        let by_kind: Vec<Vec<i64>> = (0..=kinds).map(|m| self.priced(costs, m)).collect();
        let by_course = materials.iter().map(|&m| &by_kind[usize::from(m)][..]);
        let priced = Priced::new(self, by_course.collect(), start);
        let states = 0..self.states.len();
        let Some(first) = states.min_by_key(|&s| priced.through(0, s)) else {
            return Vec::new();
        };
        let least = priced.through(0, first);
        if least >= NONE {
            return Vec::new();
        }
        let mut found = vec![(least, priced.on(vec![first as u32]))];
        if more > 0 && least < below {
            for (cost, walk) in priced.others(below) {
                if found.len() > more {
                    break;
                }
                let walk = priced.on(walk);
                if !found.iter().any(|f| f.1 == walk) {
                    found.push((cost, walk));
                }
            }
        }
        let found = found.into_iter();
        found
            .map(|(cost, walk)| (cost, priced.lay(&walk)))
            .collect()
    }

    /// What each pattern costs in a course of a material.
    pub(super) fn priced(&self, costs: &PathCosts, material: u16) -> Vec<i64> {
        let rows = usize::from(material) * self.lengths;
        let patterns = self.patterns.iter();
        patterns
            .map(|p| {
                let pieces = p.lengths.iter().map(|&l| costs.row[rows + usize::from(l)]);
                let joints = p.joints.iter().map(|&j| costs.joint[usize::from(j)]);
                pieces.sum::<i64>() + joints.sum::<i64>()
            })
            .collect()
    }
}

impl<'w> Priced<'w> {
    pub(super) fn new(walk: &'w Walk, costs: Vec<&'w [i64]>, start: Option<u32>) -> Priced<'w> {
        let count = walk.states.len();
        let head = if start.is_some() { 0 } else { walk.memory };
        let begin = (0..count)
            .map(|s| match start {
                Some(start) => {
                    if start as usize == s {
                        0
                    } else {
                        NONE
                    }
                }
                None => {
                    let patterns = walk.states[s].iter().zip(&costs);
                    patterns.map(|(&p, costs)| costs[usize::from(p)]).sum()
                }
            })
            .collect();
        let left = costs.len() - head;
        let mut priced = Priced {
            walk,
            costs,
            head,
            begin,
            rest: vec![vec![0; count]],
        };
        for laid in (0..left).rev() {
            let after = priced.rest.last().expect("the end costs nothing");
            let ahead: Vec<i64> = (0..count)
                .map(|to| both(priced.course(laid, to), after[to]))
                .collect();
            let now = (0..count).map(|s| {
                let steps = walk.steps(s).iter();
                steps.map(|&to| ahead[to as usize]).min().unwrap_or(NONE)
            });
            priced.rest.push(now.collect());
        }
        priced.rest.reverse();
        priced
    }

    /// What the course costs that leads to a state after so many.
    fn course(&self, laid: usize, to: usize) -> i64 {
        self.costs[self.head + laid][self.walk.last(to)]
    }

    /// What the cheapest walk costs that begins in a state.
    pub(super) fn through(&self, laid: usize, state: usize) -> i64 {
        both(self.begin[state], self.rest[laid][state])
    }

    /// The cheapest way on from the end of a walk.
    fn on(&self, mut walk: Vec<u32>) -> Vec<u32> {
        while walk.len() < self.rest.len() {
            let laid = walk.len() - 1;
            let from = walk[laid] as usize;
            let after = &self.rest[laid + 1];
            let costs = |to: u32| both(self.course(laid, to as usize), after[to as usize]);
            let mut steps = self.walk.steps(from).iter().copied();
            let next = steps.find(|&to| costs(to) == self.rest[laid][from]);
            walk.push(next.expect("a state on the way has a way on"));
        }
        walk
    }

    /// Every step that lays one course more after so many: which one, from where to where,
    /// and what the courses up to there cost.
    pub(super) fn steps_on(
        &self,
        laid: usize,
        reach: &[i64],
        mut see: impl FnMut(usize, u32, u32, i64),
    ) {
        let first = self.walk.first.windows(2).enumerate();
        for (s, ends) in first.filter(|(s, _)| reach[*s] < NONE) {
            for step in ends[0] as usize..ends[1] as usize {
                let to = self.walk.steps[step];
                let cost = reach[s] + self.course(laid, to as usize);
                see(step, s as u32, to, cost);
            }
        }
    }

    /// The cheapest beginnings through each pattern and what the walk costs then, where
    /// that is less than `below`, cheapest first.
    fn others(&self, below: i64) -> Vec<(i64, Vec<u32>)> {
        let walk = self.walk;
        let count = walk.states.len();
        let mut reach = self.begin.clone();
        let mut back: Vec<Vec<u32>> = Vec::with_capacity(self.rest.len());
        let below = below.min(NONE);
        let mut best: Vec<(i64, usize, u32)> = vec![(below, 0, 0); walk.patterns.len()];
        for (laid, rest) in self.rest.iter().enumerate() {
            for (s, (so_far, &left)) in reach.iter_mut().zip(rest).enumerate() {
                let whole = both(*so_far, left);
                if whole >= below {
                    // No walk on from here is of use.
                    *so_far = NONE;
                    continue;
                }
                let best = &mut best[walk.last(s)];
                if whole < best.0 {
                    *best = (whole, laid, s as u32);
                }
            }
            if laid + 1 == self.rest.len() {
                break;
            }
            let mut next = vec![NONE; count];
            let mut from = vec![u32::MAX; count];
            self.steps_on(laid, &reach, |_, s, to, so_far| {
                if so_far < next[to as usize] {
                    next[to as usize] = so_far;
                    from[to as usize] = s;
                }
            });
            back.push(from);
            reach = next;
        }
        best.retain(|b| b.0 < below);
        best.sort_unstable();
        let walk_to = |laid: usize, s: u32| {
            let mut walk = vec![s];
            for back in back[..laid].iter().rev() {
                walk.push(back[walk[walk.len() - 1] as usize]);
            }
            walk.reverse();
            walk
        };
        let best = best.into_iter();
        best.map(|(cost, laid, s)| (cost, walk_to(laid, s)))
            .collect()
    }

    /// The courses of a walk.
    fn lay(&self, walk: &[u32]) -> Path {
        let joints = |p: usize| self.walk.patterns[p].joints.clone();
        let head = self.walk.states[walk[0] as usize].iter().take(self.head);
        let after = walk[1..].iter().map(|&s| self.walk.last(s as usize));
        let patterns = head.map(|&p| usize::from(p)).chain(after);
        patterns.map(joints).collect()
    }
}
