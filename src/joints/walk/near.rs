//! The steps of walks that cost no more than so much, whatever the course they lie at:
//! courses of one material that follow each other are a stretch, and within one a step
//! is the same wherever it is taken.

use super::Walk;
use super::cheapest::{NONE, Priced, both};
use crate::joints::block::{PathCosts, TooLarge};
use crate::joints::run::Place;

/// Where a walk has got to: the stretch of the course laid last, and the state.
pub type Spot = (u16, u32);

/// The steps of all walks within some cost.
#[derive(Debug, Clone, Default)]
pub struct Near {
    /// Where the walks begin, with as many courses as a state remembers.
    pub starts: Vec<Spot>,
    /// Their steps, from spot to spot; each lays the last course of where it leads.
    pub steps: Vec<(Spot, Spot)>,
    /// What the cheapest walk by each of them costs.
    pub costs: Vec<i64>,
    /// The material of each stretch, and how many of its courses are laid by steps.
    pub stretches: Vec<(u16, i64)>,
}

impl Near {
    /// All spots, some of them several times.
    pub fn spots(&self) -> impl Iterator<Item = Spot> {
        let steps = self.steps.iter().flat_map(|&(from, to)| [from, to]);
        steps.chain(self.starts.iter().copied())
    }
}

impl Walk {
    /// The steps of all walks over courses of these materials that cost `most` at most.
    ///
    /// # Errors
    /// When there are more than `limit`.
    pub fn near(
        &self,
        costs: &PathCosts,
        materials: &[u16],
        most: i64,
        limit: usize,
    ) -> Result<Near, TooLarge> {
        let kinds = materials.iter().copied().max().unwrap_or(0);
        let by_kind: Vec<Vec<i64>> = (0..=kinds).map(|m| self.priced(costs, m)).collect();
        let by_course = materials.iter().map(|&m| &by_kind[usize::from(m)][..]);
        let priced = Priced::new(self, by_course.collect(), None);
        let mut near = Near::default();
        let mut stretch = Vec::with_capacity(materials.len());
        for (course, &material) in materials.iter().enumerate() {
            if near.stretches.last().is_none_or(|last| last.0 != material) {
                near.stretches.push((material, 0));
            }
            let at = near.stretches.len() - 1;
            near.stretches[at].1 += i64::from(course >= self.memory);
            stretch.push(at as u16);
        }
        let first = stretch[self.memory - 1];
        let starts = (0..self.states.len()).filter(|&s| priced.through(0, s) <= most);
        near.starts = starts.map(|s| (first, s as u32)).collect();
        // Where each step is listed, within each stretch and on from the one before.
        let mut listed = vec![vec![u32::MAX; self.steps.len()]; 2 * near.stretches.len()];
        let mut reach = priced.begin.clone();
        for (laid, rest) in priced.rest[1..].iter().enumerate() {
            let course = self.memory + laid;
            let (before, now) = (stretch[course - 1], stretch[course]);
            let listed = &mut listed[2 * usize::from(now) + usize::from(now != before)];
            let mut next = vec![NONE; self.states.len()];
            let (steps, costs) = (&mut near.steps, &mut near.costs);
            priced.steps_on(laid, &reach, |step, from, to, cost| {
                let on = &mut next[to as usize];
                *on = cost.min(*on);
                let cost = both(cost, rest[to as usize]);
                if cost > most {
                    return;
                }
                if listed[step] == u32::MAX {
                    listed[step] = steps.len() as u32;
                    steps.push(((before, from), (now, to)));
                    costs.push(cost);
                }
                let least = &mut costs[listed[step] as usize];
                *least = cost.min(*least);
            });
            if steps.len() > limit {
                return Err(TooLarge);
            }
            reach = next;
        }
        Ok(near)
    }

    /// The courses that a state remembers, the one laid last at the end.
    pub fn courses(&self, state: u32) -> impl DoubleEndedIterator<Item = &[Place]> {
        let patterns = self.states[state as usize].iter();
        patterns.map(|&p| &self.patterns[usize::from(p)].joints[..])
    }

    /// The same courses by their places among all ways to cut one.
    pub fn patterns(&self, state: u32) -> &[u16] {
        &self.states[state as usize]
    }
}
