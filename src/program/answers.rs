//! Whole answers of a search: rounded, checked in whole numbers, kept where they are the
//! cheapest so far. Where they come from is left to [`branch`](super::branch).

use super::branch::{MET, NO_GROUP, Search, most_pivots};
use super::simplex::Simplex;

impl Search<'_> {
    /// Tries the present values rounded up, then trimmed where there is room.
    pub(super) fn round(&mut self, node: &Simplex) {
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

    pub(super) fn offer(&mut self, mut answer: Vec<(usize, i64)>) {
        let cost = self.cost(&answer);
        if let Some(judging) = self.judge.as_mut() {
            // What is cheap in all is judged at once: it may lower the cutoff.
            let met = judging.rows.iter().all(|row| row.is_met(&answer));
            if met && cost < judging.cheapest.min(self.cutoff + 1) {
                judging.cheapest = cost;
                answer.sort_unstable();
                self.have_judged(&answer);
            }
            return;
        }
        if cost <= self.cutoff {
            answer.sort_unstable();
            self.cutoff = cost - 1;
            self.found.best = Some((cost, answer));
        }
    }

    pub(super) fn cost(&self, answer: &[(usize, i64)]) -> i64 {
        let columns = &self.program.columns;
        answer.iter().map(|&(j, n)| n * columns.cost(j)).sum()
    }

    /// Takes a node whose values are all whole; false if whole numbers disagree
    /// with the method.
    pub(super) fn accept(&mut self, node: &mut Simplex) -> bool {
        let answer = whole_values(node);
        if self.surplus(&answer).iter().any(|&r| r < 0) {
            return false;
        }
        let cost = self.cost(&answer);
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

/// A node's values, made whole.
pub(super) fn whole_values(node: &Simplex) -> Vec<(usize, i64)> {
    let values = node.values().into_iter();
    let whole = values.map(|(j, x)| (j, x.round() as i64));
    whole.filter(|&(_, n)| n > 0).collect()
}
