//! The rows of a plan's relaxation: pieces, classes of blocks, bounds on boards
//! and joints, supports; and what each column has in them.

use std::collections::BTreeMap;

use super::class::Class;
use super::counts::{Counts, Supports};
use super::master::Filling;
use super::model::Model;
use crate::joints::{Link, Path, Takes};

/// Where each kind of row stands.
#[derive(Debug, Clone)]
pub(crate) struct Rows {
    pub class: usize,
    pub limit: Vec<Option<usize>>,
    /// Rows that ask for so many boards of each kind at least, the first of them.
    pub floor: Option<usize>,
    /// The first of the rows that count boards of each kind that are split, two each: at
    /// most and at least so many.
    pub split: Option<usize>,
    /// The limit on joints.
    pub joints: Option<usize>,
    /// The row that asks for joints.
    pub joints_floor: Option<usize>,
    /// The first of the rows that count pieces of each length, two each: at most
    /// and at least so many.
    pub pieces: Option<usize>,
    /// How many courses a block of each class has.
    courses: Vec<usize>,
    pub support: Option<usize>,
    /// The first of the rows that bound supports, if those are counted: one for each,
    /// and two for their number, at least and at most.
    pub supports: Option<usize>,
    /// The first of the rows that keep windows balanced, two for each place of
    /// each balance, and how many places and balances there are.
    balance: Option<(usize, usize, usize)>,
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
        let split = counts.filter(|c| !c.split.is_empty()).map(|c| {
            at_least.extend(c.split.iter().flat_map(|&(low, high)| [-high, low]));
            at_least.len() - 2 * c.split.len()
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
        let pieces = counts.and_then(|c| {
            at_least.extend(vec![0; 2 * c.pieces.len()]);
            (!c.pieces.is_empty()).then(|| at_least.len() - 2 * c.pieces.len())
        });
        let support = (model.weights.doubled > 0).then_some(at_least.len());
        if support.is_some() {
            at_least.extend(model.run.joints.iter().map(|_| 0));
        }
        let counted = counts.and_then(|c| c.supports.as_ref());
        let supports = counted.map(|supports| {
            at_least.extend(vec![0; supports.each.len() + 2]);
            at_least.len() - supports.each.len() - 2
        });
        let groups = classes.iter().map(|c| c.balance.len()).max().unwrap_or(0);
        let places = model.run.joints.len();
        let balance = (groups > 0).then_some((at_least.len(), places, groups));
        at_least.extend(vec![0; 2 * places * groups]);
        let mut rows = Rows {
            class,
            limit,
            floor,
            split,
            joints,
            joints_floor,
            pieces,
            courses,
            support,
            supports,
            balance,
            at_least,
        };
        if let Some(supports) = counted {
            rows.set_supports(model, supports);
        }
        if let Some(counts) = counts {
            rows.set_places(counts);
        }
        rows
    }

    /// Asks for other supports: those that are paid for carry joints for nothing.
    pub(super) fn set_supports(&mut self, model: &Model, supports: &Supports) {
        let (Some(first), Some(support)) = (self.supports, self.support) else {
            return;
        };
        for (place, &(low, high)) in supports.each.iter().enumerate() {
            self.at_least[first + place] = low - high;
            self.at_least[support + place] = -low * model.most_on_support;
        }
        let (paid, number) = (supports.paid(), first + supports.each.len());
        let (low, high) = supports.all;
        self.at_least[number] = low - paid;
        self.at_least[number + 1] = paid - high;
    }

    /// Asks for other places of joints.
    pub(super) fn set_places(&mut self, counts: &Counts) {
        let Some((first, ..)) = self.balance else {
            return;
        };
        for (at, &(low, high)) in counts.places.iter().enumerate() {
            self.at_least[first + 2 * at] = low;
            self.at_least[first + 2 * at + 1] = -high;
        }
    }

    /// The rows that ask for joints at places.
    pub(super) fn place_floors(&self, counts: &Counts) -> impl Iterator<Item = usize> {
        let first = self.balance.map_or(0, |balance| balance.0);
        (0..counts.places.len()).map(move |at| first + 2 * at)
    }

    /// The place of a balance's row among all.
    pub(super) fn place(&self, row: u32) -> usize {
        (row as usize - self.balance.map_or(0, |balance| balance.0)) / 2
    }

    /// The rows that ask for so many pieces of a length at least.
    pub(super) fn pieces_floors(&self) -> impl Iterator<Item = usize> {
        let (first, rows) = self.pieces.map_or((0, 0), |first| (first, self.class));
        (0..rows).map(move |row| first + 2 * row + 1)
    }

    /// The entries of a path in the rows of balances whose weights are given by
    /// balance and course.
    pub(crate) fn balance(&self, weights: &[Vec<i32>], path: &Path) -> Vec<(u32, i32)> {
        let Some((first, places, _)) = self.balance else {
            return Vec::new();
        };
        let mut sums = BTreeMap::new();
        for (group, weights) in weights.iter().enumerate() {
            for (joints, &weight) in path.iter().zip(weights) {
                for &joint in joints {
                    let row = first + 2 * (group * places + usize::from(joint) - 1);
                    *sums.entry(row as u32).or_insert(0) += weight;
                }
            }
        }
        let sums = sums.into_iter().filter(|(_, n)| *n != 0);
        sums.flat_map(|(row, n)| [(row, n), (row + 1, -n)])
            .collect()
    }

    /// The price of each balance by place, from the prices of the rows.
    pub(crate) fn balance_prices(&self, price: &dyn Fn(usize) -> i64) -> Vec<Vec<i64>> {
        let Some((first, places, groups)) = self.balance else {
            return Vec::new();
        };
        let of = |group: usize, place: usize| {
            let row = first + 2 * (group * places + place - 1);
            price(row) - price(row + 1)
        };
        (0..groups)
            .map(|group| {
                let prices = (0..=places).map(|place| match place {
                    0 => 0,
                    place => of(group, place),
                });
                prices.collect()
            })
            .collect()
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
        entries.extend(self.bought(kind, matches!(filling, Filling::Split(..))));
        entries
    }

    /// The entries of a board whatever it holds.
    pub(super) fn bought(&self, kind: usize, split: bool) -> Vec<(u32, i32)> {
        let limit = self.limit[kind].map(|row| (row, -1));
        let floor = self.floor.map(|row| (row + kind, 1));
        let split = self.split.filter(|_| split).map(|first| first + 2 * kind);
        let split = split.map(|row| [(row, -1), (row + 1, 1)]);
        let entries = limit.into_iter().chain(floor);
        let entries = entries.chain(split.into_iter().flatten());
        entries.map(|(row, n)| (row as u32, n)).collect()
    }

    /// The rows that ask for so many boards of each kind that are split.
    pub(super) fn split_floors(&self) -> impl Iterator<Item = usize> {
        let kinds = self.limit.len();
        self.split
            .into_iter()
            .flat_map(move |first| (0..kinds).map(move |kind| first + 2 * kind + 1))
    }

    /// The entries of a block that takes so much.
    pub(crate) fn block(&self, class: usize, takes: &Takes) -> Vec<(u32, i32)> {
        let mut entries = pieces(takes);
        let counted = self.pieces.map_or(Vec::new(), |first| {
            let of = |&(row, n): &(u32, i32)| {
                let row = first as u32 + 2 * row;
                [(row, n), (row + 1, -n)]
            };
            entries.iter().flat_map(of).collect()
        });
        if let Some(support) = self.support {
            for &joint in &takes.joints {
                less(&mut entries, support as u32 + u32::from(joint) - 1);
            }
        }
        entries.push(((self.class + class) as u32, 1));
        entries.extend(self.joints(takes.rows.len() - self.courses[class]));
        entries.extend(counted);
        entries
    }

    /// The entries of so many courses that are no block.
    pub(super) fn courses(&self, takes: &Takes, courses: usize) -> Vec<(u32, i32)> {
        let mut entries = pieces(takes);
        entries.extend(self.joints(takes.rows.len() - courses));
        entries
    }

    /// The entries of so many joints: of a course's pieces all but one end at a joint.
    fn joints(&self, joints: usize) -> impl Iterator<Item = (u32, i32)> {
        let n = joints as i32;
        let most = self.joints.map(|row| (row as u32, -n));
        let floor = self.joints_floor.map(|row| (row as u32, n));
        most.into_iter().chain(floor).filter(|entry| entry.1 != 0)
    }

    /// The entries of one step of a block, which the last one ends.
    pub(super) fn link(&self, class: usize, link: &Link, ends: bool) -> Vec<(u32, i32)> {
        let mut entries = vec![(u32::from(link.row), -1)];
        entries.extend(ends.then_some(((self.class + class) as u32, 1)));
        entries.extend(self.joints(usize::from(link.joint != 0)));
        entries
    }

    /// What a price of the limit on joints gives to a bound.
    pub(super) fn limited(&self, price: i64) -> i128 {
        let row = self.joints.map_or(0, |row| self.at_least[row]);
        i128::from(row) * i128::from(price)
    }

    /// The entry of a joint in the row of its support, if there is one.
    pub(super) fn on_support(&self, joint: u16) -> Option<(u32, i32)> {
        let first = self.support?;
        Some((first as u32 + u32::from(joint) - 1, -1))
    }

    /// The entries of a support that carries joints.
    pub(crate) fn doubled(&self, model: &Model, joint: u16) -> Vec<(u32, i32)> {
        let first = self
            .support
            .expect("supports have rows when they cost something");
        let place = joint as usize - 1;
        let mut entries = vec![((first + place) as u32, model.most_on_support as i32)];
        if let Some(first) = self.supports {
            let number = first + model.run.joints.len();
            let bounds = [(first + place, -1), (number, 1), (number + 1, -1)];
            entries.extend(bounds.map(|(row, n)| (row as u32, n)));
        }
        entries
    }
}

/// The entries of pieces.
fn pieces(takes: &Takes) -> Vec<(u32, i32)> {
    let mut entries = Vec::new();
    for &row in &takes.rows {
        less(&mut entries, u32::from(row));
    }
    entries
}

/// Takes one away in a row, the last one or a new one.
fn less(entries: &mut Vec<(u32, i32)>, row: u32) {
    match entries.last_mut() {
        Some((last, n)) if *last == row => *n -= 1,
        _ => entries.push((row, -1)),
    }
}
