//! The linear relaxation of a plan: blocks of neighbouring courses on one side,
//! cutting patterns on the other, one row for each piece between them. Columns
//! are priced as they are needed, and every round's prices prove a bound in
//! whole numbers that holds for every plan the blocks allow.

use std::sync::Arc;

use rustc_hash::FxHashSet;

use super::model::{Model, Split};
use crate::joints::{Allowed, Block, Path, PathCosts, Takes};
use crate::program::Columns;
use crate::program::simplex::{Ended, Simplex};
use crate::stock::{Boards, Pattern, parts};

/// Blocks of neighbouring courses that are alike.
#[derive(Clone)]
pub(crate) struct Class {
    /// The ways to cut one.
    pub block: Arc<Block>,
    /// The material of each course.
    pub materials: Vec<u16>,
    /// The colour of each course: courses a period apart share it.
    pub colours: Vec<usize>,
    /// How many such blocks.
    pub count: i64,
    /// Which joints each course may have; all when absent.
    pub allowed: Option<Allowed>,
}

/// What one board holds: the pattern of the whole board, or of its two strips.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(crate) enum Filling {
    Whole(Pattern),
    Split(Pattern, Pattern),
}

/// A column of the relaxation.
#[derive(Debug, Clone)]
pub(crate) enum Column {
    /// A block of a class or another piece left out, at a price above any plan.
    Missing,
    /// A support that carries joints.
    Doubled,
    /// A bundle of boards, in integer programs alone: a part of one costs no more
    /// than its boards, so that the relaxation knows only those.
    Bundle,
    /// A board of a kind.
    Board(usize, Filling),
    /// A block of a class.
    Block(usize, Path),
}

/// Whole prices and the bound they prove.
#[derive(Debug, Clone)]
pub(crate) struct Prices {
    /// Parts of one unit of weight.
    pub parts: i64,
    /// Of pieces and joints, on paths.
    pub path: PathCosts,
    /// Of each kind's limit.
    pub limit: Vec<i64>,
    /// Of the limit on joints; on paths it is part of a joint's price.
    pub joint: i64,
    /// What the cheapest block of each class costs.
    pub least: Vec<i64>,
    /// No plan weighs less, in parts.
    pub bound: i128,
}

/// The relaxation and the columns found so far.
pub(crate) struct Master<'a> {
    pub model: &'a Model,
    pub classes: Vec<Class>,
    /// The columns, by their place in the program.
    pub columns: Vec<Column>,
    seen: FxHashSet<(usize, Filling)>,
    seen_blocks: FxHashSet<(usize, Takes)>,
    simplex: Simplex,
    /// Strips of each material, as boards of their own.
    strips: Vec<Option<Boards>>,
    pub rows: Rows,
    /// The best prices so far.
    pub prices: Option<Prices>,
}

/// Where each kind of row stands.
#[derive(Debug, Clone)]
pub(crate) struct Rows {
    pub class: usize,
    pub limit: Vec<Option<usize>>,
    pub support: Option<usize>,
    /// The limit on joints.
    pub joints: Option<usize>,
    /// How many courses a block of each class has.
    courses: Vec<usize>,
    pub at_least: Vec<i64>,
}

impl Rows {
    fn new(model: &Model, classes: &[Class], fixed: &[i64]) -> Rows {
        let mut at_least = fixed.to_vec();
        let class = at_least.len();
        at_least.extend(classes.iter().map(|c| c.count));
        let limit = model
            .kinds
            .iter()
            .map(|kind| {
                kind.limit.map(|limit| {
                    at_least.push(-limit);
                    at_least.len() - 1
                })
            })
            .collect();
        let support = (model.weights.doubled > 0).then_some(at_least.len());
        if support.is_some() {
            at_least.extend(model.run.joints.iter().map(|_| 0));
        }
        let courses: Vec<usize> = classes.iter().map(|c| c.materials.len()).collect();
        let left = classes.iter().zip(&courses);
        let left = left.map(|(c, &courses)| c.count * courses as i64).sum();
        let joints = model.joints_left(fixed, left).map(|most| {
            at_least.push(-most);
            at_least.len() - 1
        });
        Rows {
            class,
            limit,
            support,
            joints,
            courses,
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
        let joints = takes.rows.len() - self.courses[class];
        if let Some(row) = self.joints.filter(|_| joints > 0) {
            entries.push((row as u32, -(joints as i32)));
        }
        entries
    }

    /// What a price of the limit on joints gives to a bound.
    fn limited(&self, price: i64) -> i128 {
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

impl<'a> Master<'a> {
    /// The relaxation over some classes beside pieces that are wanted anyway,
    /// starting from columns of another.
    pub(crate) fn new(
        model: &'a Model,
        classes: Vec<Class>,
        fixed: &[i64],
        known: &[Column],
    ) -> Master<'a> {
        let rows = Rows::new(model, &classes, fixed);
        let dearest = dearest(model);
        let mut columns = Vec::new();
        let mut entries = Columns::new();
        let beyond = model.conceivable.saturating_add(1).min(1 << 52);
        let left_out = (0..model.rows).filter(|&row| model.extra[row] > 0);
        for row in left_out.chain(rows.class..rows.class + classes.len()) {
            entries.push(beyond, [(row as u32, 1)]);
            columns.push(Column::Missing);
        }
        if rows.support.is_some() {
            for joint in 1..=model.run.joints.len() as u16 {
                entries.push(model.weights.doubled, rows.doubled(model, joint));
                columns.push(Column::Doubled);
            }
        }
        let simplex = Simplex::new(Arc::new(entries), &rows.at_least, dearest as f64, 1e-6);
        let materials = model.materials.iter().copied().max().unwrap_or(0);
        let strips = (0..=materials)
            .map(|m| {
                (m > 0 && !model.splits.is_empty()).then(|| model.boards.only(model.rows_of(m)))
            })
            .collect();
        let mut master = Master {
            model,
            classes,
            columns,
            seen: FxHashSet::default(),
            seen_blocks: FxHashSet::default(),
            simplex,
            strips,
            rows,
            prices: None,
        };
        // Each piece by itself in every board that holds it.
        for row in 0..model.rows {
            for kind in 0..model.kinds.len() {
                let n = model.boards.holds(row, kind);
                if n > 0 {
                    master.add_board(
                        kind,
                        Filling::Whole(vec![(row as u16, n.min(60_000) as u16)]),
                    );
                }
            }
        }
        for column in known {
            match column {
                Column::Board(kind, filling) => {
                    master.add_board(*kind, filling.clone());
                }
                Column::Block(class, path) => {
                    master.add_block(*class, path.clone());
                }
                Column::Missing | Column::Doubled | Column::Bundle => {}
            }
        }
        master
    }

    /// The pieces wanted beside the blocks, by row.
    pub(crate) fn fixed(&self) -> &[i64] {
        &self.rows.at_least[..self.model.rows]
    }

    fn by_joint(&self) -> bool {
        self.rows.support.is_some()
    }

    pub(crate) fn add_board(&mut self, kind: usize, filling: Filling) -> bool {
        if !self.seen.insert((kind, filling.clone())) {
            return false;
        }
        let entries = self.rows.board(kind, &filling);
        self.simplex
            .add_column(self.model.kinds[kind].cost, &entries);
        self.columns.push(Column::Board(kind, filling));
        true
    }

    /// Adds a block unless one that takes the same is there.
    pub(crate) fn add_block(&mut self, class: usize, path: Path) -> bool {
        let takes = Takes::of(
            &path,
            &self.model.run,
            &self.classes[class].materials,
            self.by_joint(),
        );
        if !self.seen_blocks.insert((class, takes.clone())) {
            return false;
        }
        let joints: usize = path.iter().map(Vec::len).sum();
        let entries = self.rows.block(class, &takes);
        self.simplex
            .add_column(joints as i64 * self.model.weights.joint, &entries);
        self.columns.push(Column::Block(class, path));
        true
    }

    /// Prices columns until none improves, or until the bound passes `enough`.
    /// False when the classes' allowed joints leave no block, or work was stopped.
    pub(crate) fn solve(&mut self, at_most: i64, enough: i64, stop: &dyn Fn() -> bool) -> bool {
        let model = self.model;
        let parts = parts(dearest(model));
        let fees: Vec<i64> = model.kinds.iter().map(|k| k.cost * parts).collect();
        let mut ended = self.simplex.dual(200_000, f64::INFINITY, stop);
        for _ in 0..1_000 {
            let raw = self.simplex.prices();
            let whole = |row: usize| (raw[row] * parts as f64).round() as i64;
            let piece: Vec<i64> = (0..model.rows).map(whole).collect();
            let limit: Vec<i64> = self.rows.limit.iter().map(|r| r.map_or(0, whole)).collect();
            let support: Vec<i64> = match self.rows.support {
                Some(first) => (0..model.run.joints.len())
                    .map(|i| whole(first + i))
                    .collect(),
                None => vec![0; model.run.joints.len()],
            };
            let over = self.rows.joints.map_or(0, whole);
            let any = model.weights.joint * parts + over;
            let mut joint = vec![0i64];
            joint.extend(support.iter().map(|s| any + s));
            let path = PathCosts { row: piece, joint };
            let mut found_blocks = Vec::new();
            let mut least = Vec::new();
            for (q, class) in self.classes.iter().enumerate() {
                let cheap = class.block.cheapest(&path, class.allowed.as_ref(), 6);
                let Some(&(first, _)) = cheap.first() else {
                    return false;
                };
                least.push(first);
                let paid = whole(self.rows.class + q);
                found_blocks.extend(
                    cheap
                        .into_iter()
                        .filter(|(cost, _)| *cost < paid - (paid / 1_000_000_000).max(8))
                        .map(|(_, p)| (q, p)),
                );
            }
            let best = model.boards.best(&path.row);
            let splits = self.best_splits(&path.row);
            let mut earned: Vec<i64> = (0..fees.len())
                .map(|k| fees[k] + limit[k] - best[k].at_most)
                .collect();
            for (k, _, _, value) in &splits {
                earned[*k] = earned[*k].min(fees[*k] + limit[*k] - value);
            }
            let prices = Prices {
                parts,
                bound: self.bound(&path.row, &limit, &support, &least, &earned, at_most)
                    + self.rows.limited(over),
                path,
                limit,
                joint: over,
                least,
            };
            let paid_out = |k: usize, value: i64| {
                fees[k] + prices.limit[k] - value < -(fees[k] / 10_000_000_000).max(8)
            };
            let mut boards: Vec<(usize, Filling)> = Vec::new();
            for (k, b) in best.into_iter().enumerate() {
                if paid_out(k, b.value) {
                    boards.push((k, Filling::Whole(b.pattern)));
                }
            }
            for (k, a, b, value) in splits {
                if paid_out(k, value) {
                    boards.push((k, Filling::Split(a, b)));
                }
            }
            let fees_now: Vec<i64> = (0..fees.len())
                .map(|k| fees[k] + prices.limit[k] + 8)
                .collect();
            for (k, pattern) in model.boards.best_through(&prices.path.row, &fees_now) {
                boards.push((k, Filling::Whole(pattern)));
            }
            if self.prices.as_ref().is_none_or(|p| prices.bound > p.bound) {
                self.prices = Some(prices);
            }
            if ended != Ended::Optimal
                || stop()
                || self.prices.as_ref().is_some_and(|p| p.bound() > enough)
            {
                return false;
            }
            let mut added = false;
            for (kind, filling) in boards {
                added |= self.add_board(kind, filling);
            }
            for (class, path) in found_blocks {
                added |= self.add_block(class, path);
            }
            if !added {
                return true;
            }
            ended = self.simplex.primal(200_000, stop);
        }
        false
    }

    /// What whole prices prove: every class at its cheapest block and the fixed
    /// pieces, less what limits, supports and underpriced boards could give back.
    fn bound(
        &self,
        piece: &[i64],
        limit: &[i64],
        support: &[i64],
        least: &[i64],
        earned: &[i64],
        at_most: i64,
    ) -> i128 {
        let model = self.model;
        let times = |a: i64, b: i64| i128::from(a) * i128::from(b);
        let mut sum: i128 = self
            .classes
            .iter()
            .zip(least)
            .map(|(c, &l)| times(c.count, l))
            .sum();
        sum += self
            .rows
            .at_least
            .iter()
            .zip(piece)
            .map(|(&d, &v)| times(d, v))
            .sum::<i128>();
        for (k, kind) in model.kinds.iter().enumerate() {
            if let Some(most) = kind.limit {
                sum -= times(most, limit[k]);
            }
            if earned[k] < 0 {
                sum += times(model.most_boards(k, at_most), earned[k]);
            }
        }
        if model.weights.doubled > 0 {
            for &s in support {
                let reduced = times(model.weights.doubled, parts(dearest(model)))
                    - times(model.most_on_support, s);
                sum += reduced.min(0);
            }
        }
        sum
    }

    /// The best split board of each kind and split: kind, strips, worth.
    fn best_splits(&self, piece: &[i64]) -> Vec<(usize, Pattern, Pattern, i64)> {
        let mut found = Vec::new();
        let per_material: Vec<Option<Vec<(Pattern, i64)>>> = self
            .strips
            .iter()
            .enumerate()
            .map(|(m, strip)| {
                let strip = strip.as_ref()?;
                let rows = self.model.rows_of(m as u16);
                let first = rows.start as u16;
                Some(
                    strip
                        .best(&piece[rows])
                        .into_iter()
                        .map(|b| {
                            let moved = b.pattern.iter().map(|&(r, n)| (r + first, n)).collect();
                            (moved, b.at_most)
                        })
                        .collect(),
                )
            })
            .collect();
        for &(a, b) in &self.model.splits {
            let (Some(one), Some(two)) = (&per_material[a as usize], &per_material[b as usize])
            else {
                continue;
            };
            for k in 0..self.model.kinds.len() {
                found.push((k, one[k].0.clone(), two[k].0.clone(), one[k].1 + two[k].1));
            }
        }
        found
    }

    /// The strips of a material as boards.
    pub(crate) fn strip(&self, split: Split) -> (&Boards, &Boards) {
        let of = |m: u16| {
            self.strips[m as usize]
                .as_ref()
                .expect("a split material has strips")
        };
        (of(split.0), of(split.1))
    }

    /// The columns in use and how much of each.
    pub(crate) fn used(&self) -> Vec<(&Column, f64)> {
        self.simplex
            .values()
            .into_iter()
            .map(|(j, x)| (&self.columns[j], x))
            .collect()
    }

    /// Whether some block is left out for want of boards or ways.
    pub(crate) fn misses(&self) -> bool {
        self.used()
            .iter()
            .any(|(c, x)| matches!(c, Column::Missing) && *x > 1e-6)
    }
}

fn dearest(model: &Model) -> i64 {
    let boards = model.kinds.iter().map(|k| k.cost).max().unwrap_or(1);
    boards
        .max(model.weights.joint)
        .max(model.weights.doubled)
        .max(1)
}

impl Prices {
    /// The bound in whole weight.
    pub(crate) fn bound(&self) -> i64 {
        let parts = i128::from(self.parts);
        let up = self.bound.div_euclid(parts) + i128::from(self.bound.rem_euclid(parts) != 0);
        i64::try_from(up.max(0)).unwrap_or(i64::MAX)
    }

    /// How far a plan of weight `cutoff` lies above the bound, in parts.
    pub(crate) fn gap(&self, cutoff: i64) -> i64 {
        let gap = i128::from(cutoff) * i128::from(self.parts) - self.bound;
        i64::try_from(gap).unwrap_or(i64::MAX / 4).min(i64::MAX / 4)
    }
}
