//! The fewest edges of a graph that part two of its nodes, by a flow of as much as goes
//! from one to the other. What nodes and edges stand for is for its caller to know.

use std::collections::VecDeque;

/// Which nodes lie beyond the fewest edges between two, seen from the first one: as many
/// as can.
pub(super) fn beyond(nodes: usize, edges: &[(usize, usize)], from: usize, to: usize) -> Vec<bool> {
    let mut flow = Flow::new(nodes, edges);
    loop {
        let depth = flow.depths(from);
        if depth[to] == usize::MAX || from == to {
            return depth.iter().map(|&depth| depth == usize::MAX).collect();
        }
        flow.more(&depth, from, to);
    }
}

/// What still goes along each edge, both ways: an arc and the one back are neighbours.
struct Flow {
    of: Vec<Vec<usize>>,
    to: Vec<usize>,
    left: Vec<u8>,
}

impl Flow {
    fn new(nodes: usize, edges: &[(usize, usize)]) -> Flow {
        let mut flow = Flow {
            of: vec![Vec::new(); nodes],
            to: Vec::with_capacity(2 * edges.len()),
            left: vec![1; 2 * edges.len()],
        };
        for &(a, b) in edges {
            for (from, to) in [(a, b), (b, a)] {
                flow.of[from].push(flow.to.len());
                flow.to.push(to);
            }
        }
        flow
    }

    /// How many edges lie between a node and each other one.
    fn depths(&self, from: usize) -> Vec<usize> {
        let mut depth = vec![usize::MAX; self.of.len()];
        depth[from] = 0;
        let mut queue = VecDeque::from([from]);
        while let Some(at) = queue.pop_front() {
            for &arc in &self.of[at] {
                let to = self.to[arc];
                if self.left[arc] > 0 && depth[to] == usize::MAX {
                    depth[to] = depth[at] + 1;
                    queue.push_back(to);
                }
            }
        }
        depth
    }

    /// Sends along shortest ways until none is left.
    fn more(&mut self, depth: &[usize], from: usize, to: usize) {
        let mut next = vec![0; self.of.len()];
        let mut way: Vec<usize> = Vec::new();
        loop {
            let at = way.last().map_or(from, |&arc| self.to[arc]);
            if at == to {
                for arc in way.drain(..) {
                    self.left[arc] -= 1;
                    self.left[arc ^ 1] += 1;
                }
                continue;
            }
            let Some(&arc) = self.of[at].get(next[at]) else {
                // No way on from here.
                match way.pop() {
                    Some(arc) => next[self.to[arc ^ 1]] += 1,
                    None => return,
                }
                continue;
            };
            if self.left[arc] > 0 && depth[self.to[arc]] == depth[at] + 1 {
                way.push(arc);
            } else {
                next[at] += 1;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Against all ways to part the nodes.
        #[test]
        fn no_fewer_edges_part_the_nodes(
            edges in proptest::collection::vec((0..7_usize, 0..7_usize), 0..24),
        ) {
            let parted = |side: &dyn Fn(usize) -> bool| {
                edges.iter().filter(|&&(a, b)| side(a) != side(b)).count()
            };
            let sides = (0..1_u32 << 7).filter(|side| side & 1 == 0 && side >> 6 == 1);
            let least = sides.clone().map(|s| parted(&|node| s >> node & 1 == 1)).min();
            let found = beyond(7, &edges, 0, 6);
            prop_assert!(!found[0] && found[6]);
            prop_assert_eq!(Some(parted(&|node| found[node])), least);
            let most = sides
                .filter(|s| Some(parted(&|node| s >> node & 1 == 1)) == least)
                .map(u32::count_ones)
                .max();
            let size = found.iter().filter(|&&beyond| beyond).count() as u32;
            prop_assert_eq!(Some(size), most);
        }
    }
}
