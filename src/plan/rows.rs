//! The rows of a plan's relaxation: pieces, classes of blocks, bounds on boards
//! and joints, supports; and what each column has in them.

use super::counts::Counts;
use super::master::{Class, Filling};
use super::model::Model;
use crate::joints::Takes;

/// Where each kind of row stands.
#[derive(Debug, Clone)]
pub(crate) struct Rows {
    pub class: usize,
    pub limit: Vec<Option<usize>>,
    /// Rows that ask for so many boards of each kind at least, the first of them.
    pub floor: Option<usize>,
    /// The limit on joints.
    pub joints: Option<usize>,
    /// The row that asks for joints.
    pub joints_floor: Option<usize>,
    /// How many courses a block of each class has.
    courses: Vec<usize>,
    pub support: Option<usize>,
    pub at_least: Vec<i64>,
}

impl Rows {
    pub(super) fn new(
        model: &Model,
        classes: &[Class],
        fixed: &[i64],
        counts: Option<&Counts>,
    ) -> Rows {
        let mut at_least = fixed.to_vec();
        let class = at_least.len();
        at_least.extend(classes.iter().map(|c| c.count));
        let limit = model
            .kinds
            .iter()
            .enumerate()
            .map(|(k, kind)| {
                counts.map(|c| c.boards[k].1).or(kind.limit).map(|limit| {
                    at_least.push(-limit);
                    at_least.len() - 1
                })
            })
            .collect();
        let floor = counts.map(|c| {
            at_least.extend(c.boards.iter().map(|b| b.0));
            at_least.len() - c.boards.len()
        });
        let courses: Vec<usize> = classes.iter().map(|c| c.materials.len()).collect();
        let left = classes.iter().zip(&courses);
        let left = left.map(|(c, &courses)| c.count * courses as i64).sum();
        let joints_at_most = match counts {
            Some(counts) => Some(counts.joints.1),
            None => model.joints_left(fixed, left),
        };
        let joints = joints_at_most.map(|most| {
            at_least.push(-most);
            at_least.len() - 1
        });
        let joints_floor = counts.map(|c| {
            at_least.push(c.joints.0);
            at_least.len() - 1
        });
        let support = (model.weights.doubled > 0).then_some(at_least.len());
        if support.is_some() {
            at_least.extend(model.run.joints.iter().map(|_| 0));
        }
        Rows {
            class,
            limit,
            floor,
            joints,
            joints_floor,
            courses,
            support,
            at_least,
        }
    }

    /// The entries of a board.
    pub(crate) fn board(&self, kind: usize, filling: &Filling) -> Vec<(u32, i32)> {
        let mut entries: Vec<(u32, i32)> = match filling {
            Filling::Whole(p) => p
                .iter()
                .map(|&(r, n)| (u32::from(r), i32::from(n)))
                .collect(),
            Filling::Split(a, b) => {
                let mut sums = std::collections::BTreeMap::new();
                for &(r, n) in a.iter().chain(b) {
                    *sums.entry(u32::from(r)).or_insert(0) += i32::from(n);
                }
                sums.into_iter().collect()
            }
        };
        entries.extend(self.limit[kind].map(|row| (row as u32, -1)));
        entries.extend(self.floor.map(|row| ((row + kind) as u32, 1)));
        entries
    }

    /// The entries of a block that takes so much.
    pub(crate) fn block(&self, class: usize, takes: &Takes) -> Vec<(u32, i32)> {
        let mut entries: Vec<(u32, i32)> = Vec::new();
        let mut less = |row: u32| match entries.last_mut() {
            Some((last, n)) if *last == row => *n -= 1,
            _ => entries.push((row, -1)),
        };
        takes.rows.iter().for_each(|&r| less(u32::from(r)));
        if let Some(support) = self.support {
            takes
                .joints
                .iter()
                .for_each(|&j| less(support as u32 + u32::from(j) - 1));
        }
        entries.push(((self.class + class) as u32, 1));
        // Each course has one piece more than joints.
        let joints = (takes.rows.len() - self.courses[class]) as i32;
        if joints > 0 {
            entries.extend(self.joints.map(|row| (row as u32, -joints)));
            entries.extend(self.joints_floor.map(|row| (row as u32, joints)));
        }
        entries
    }

    /// What a price of the limit on joints gives to a bound.
    pub(super) fn limited(&self, price: i64) -> i128 {
        let row = self.joints.map_or(0, |row| self.at_least[row]);
        i128::from(row) * i128::from(price)
    }

    /// The entries of a support that carries joints.
    pub(crate) fn doubled(&self, model: &Model, joint: u16) -> Vec<(u32, i32)> {
        let first = self
            .support
            .expect("supports have rows when they cost something");
        vec![(
            (first + joint as usize - 1) as u32,
            model.most_on_support as i32,
        )]
    }
}
