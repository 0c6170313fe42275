//! Blocks taken apart into the steps of their graph: those that lie on a block
//! within some cost, and whole numbers of them put together to blocks again.

use std::collections::BTreeMap;

use super::block::{Allowed, Block, Path, PathCosts};
use super::cheapest::Priced;
use super::run::Place;

/// A step of a block's graph: a course takes its next piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Link {
    /// The node it leads from; blocks start at node 0.
    pub from: u32,
    /// The node it leads to.
    pub to: u32,
    /// The row of its piece.
    pub row: u16,
    /// The joint at the piece's far end; 0 at the run's end.
    pub joint: Place,
    /// The course that takes it.
    course: u16,
}

impl Block {
    /// The node where blocks end.
    pub fn last(&self) -> u32 {
        self.goal() as u32
    }

    /// The steps that lie on some block that costs at most `most_cost`; nothing
    /// where courses stand for several that lie alike.
    pub fn links(
        &self,
        costs: &PathCosts,
        allowed: Option<&Allowed>,
        most_cost: i64,
    ) -> Option<Vec<Link>> {
        if self.alike.is_some() {
            return None;
        }
        let priced = Priced::of(self, costs, allowed);
        let mut reach: Vec<Option<i64>> = vec![None; self.goal() + 1];
        reach[0] = Some(0);
        let mut links = Vec::new();
        for node in 0..self.goal() {
            let Some(so_far) = reach[node] else {
                continue;
            };
            for at in self.range(node) {
                let Some(spent) = priced.spent_after(at, so_far, most_cost) else {
                    continue;
                };
                let step = self.steps[at];
                let taking = self.taking(step);
                let to = &mut reach[step.to as usize];
                *to = Some(to.map_or(spent, |c| c.min(spent)));
                links.push(Link {
                    from: node as u32,
                    to: step.to,
                    row: taking.row,
                    joint: taking.joint,
                    course: taking.course,
                });
            }
        }
        Some(links)
    }

    /// Blocks made of so many of each step, as many as end; each node is entered at
    /// least as often as it is left. The steps that are there most are taken first,
    /// so that few blocks differ.
    pub fn of_links(&self, links: &[(Link, i64)]) -> Vec<(Path, i64)> {
        let mut into: BTreeMap<u32, Vec<(Link, i64)>> = BTreeMap::new();
        for &(link, n) in links.iter().filter(|l| l.1 > 0) {
            into.entry(link.to).or_default().push((link, n));
        }
        let mut found: Vec<(Path, i64)> = Vec::new();
        loop {
            // The fullest way back from the end.
            let mut at = self.last();
            let mut taken: Vec<(u32, usize)> = Vec::new();
            let mut least = i64::MAX;
            while at != 0 {
                let ways = into.get(&at).into_iter().flatten().enumerate();
                let Some((i, &(link, n))) = ways.filter(|w| w.1.1 > 0).max_by_key(|w| w.1.1) else {
                    return found;
                };
                taken.push((at, i));
                least = least.min(n);
                at = link.from;
            }
            let mut path: Path = vec![Vec::new(); self.courses];
            for &(to, i) in taken.iter().rev() {
                let (link, n) = &mut into.get_mut(&to).expect("a way in was found")[i];
                *n -= least;
                if link.joint != 0 {
                    path[usize::from(link.course)].push(link.joint);
                }
            }
            found.push((path, least));
        }
    }
}
