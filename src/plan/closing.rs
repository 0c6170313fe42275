//! What is left between bound and plan, closed over every column inside the gap.
//! Answers whose blocks can be put in order are plans; where the first cannot,
//! others like it are tried.

use std::collections::VecDeque;

use super::finite::{Answer, close, without};
use super::master::Master;
use super::order::order;
use super::search::{Aim, Laid, State};
use crate::joints::Takes;

impl State<'_> {
    /// Closes the gap over blocks, first to the next lower value of the primary
    /// objective, then among plans of equal value. Answers that can be put in
    /// order are plans.
    pub(super) fn close(&mut self, root: &Master) {
        let unit = self.model.weights.unit;
        for _ in 0..4 {
            let weight = self.weight();
            let primary = if self.bound < weight / unit * unit {
                weight / unit * unit
            } else {
                weight
            };
            if self.done() {
                return;
            }
            let closed = close(root, primary, self.budget.closing, self.stop);
            self.bound = self.bound.max(closed.bound);
            let Some(answer) = closed.better else {
                if primary < weight && closed.bound >= primary {
                    continue;
                }
                return;
            };
            let laid = order(
                self.model,
                self.rules,
                &root.classes,
                &answer,
                self.budget.order,
            )
            .or_else(|| self.other_order(root, answer));
            let Some(laid) = laid else { return };
            self.offer(Some(laid), 0, Aim::Both);
        }
    }

    /// A plan from other answers like one that could not be put in order, each
    /// doing without some of its blocks.
    fn other_order(&self, root: &Master, answer: Answer) -> Option<Laid> {
        let by_joint = self.model.weights.doubled > 0;
        let mut queue = VecDeque::from([(Vec::new(), answer)]);
        let mut left = self.budget.others;
        while let Some((banned, answer)) = queue.pop_front() {
            let mut blocks = answer.blocks;
            blocks.sort_by_key(|(_, _, count)| *count);
            for (q, path, _) in blocks {
                if left == 0 || (self.stop)() {
                    return None;
                }
                left -= 1;
                let class = &root.classes[q];
                let takes = Takes::of(&path, &self.model.run, &class.materials, by_joint);
                let mut banned: Vec<(usize, Takes)> = banned.clone();
                banned.push((q, takes));
                let cutoff = self.weight() - 1;
                let Some(other) = without(root, &banned, cutoff, self.budget.other, self.stop)
                else {
                    continue;
                };
                let laid = order(
                    self.model,
                    self.rules,
                    &root.classes,
                    &other,
                    self.budget.order,
                );
                if laid.is_some() {
                    return laid;
                }
                queue.push_back((banned, other));
            }
        }
        None
    }
}
