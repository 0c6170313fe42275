//! The linear relaxation of a plan: blocks of neighbouring courses on one side,
//! cutting patterns on the other, one row for each piece between them. Columns
//! are priced as they are needed, and every round's prices prove a bound in
//! whole numbers that holds for every plan the blocks allow.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::counts::Counts;
use super::finite::{self, Answer};
use super::model::{Model, Split};
use super::prices::Prices;
use super::rows::Rows;
use crate::joints::{Allowed, Block, Path, PathCosts, Pieces, Takes};
use crate::program::Columns;
use crate::program::branch::{self, Limits, Program};
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

/// The relaxation and the columns found so far.
#[derive(Clone)]
pub(crate) struct Master<'a> {
    pub model: &'a Model,
    pub classes: Vec<Class>,
    /// The columns, by their place in the program.
    pub columns: Vec<Column>,
    boards: FxHashMap<(usize, Filling), usize>,
    blocks: FxHashMap<(usize, Takes), usize>,
    simplex: Simplex,
    /// Strips of each material, as boards of their own.
    strips: Vec<Option<Boards>>,
    pub rows: Rows,
    /// The best prices so far.
    pub prices: Option<Prices>,
    /// Bounds on boards and joints, if they are rows of the program.
    counts: Option<Counts>,
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
        Master::with(model, classes, fixed, known, None)
    }

    /// The same with rows that count boards and joints.
    pub(crate) fn counting(
        model: &'a Model,
        classes: Vec<Class>,
        fixed: &[i64],
        known: &[Column],
        counts: Counts,
    ) -> Master<'a> {
        Master::with(model, classes, fixed, known, Some(counts))
    }

    fn with(
        model: &'a Model,
        classes: Vec<Class>,
        fixed: &[i64],
        known: &[Column],
        counts: Option<Counts>,
    ) -> Master<'a> {
        let rows = Rows::new(model, &classes, fixed, counts.as_ref());
        let dearest = dearest(model);
        let mut columns = Vec::new();
        let mut entries = Columns::new();
        let beyond = model.conceivable.saturating_add(1).min(1 << 52);
        let left_out = (0..model.rows).filter(|&row| model.extra[row] > 0);
        for row in left_out.chain(rows.class..rows.class + classes.len()) {
            entries.push(beyond, [(row as u32, 1)]);
            columns.push(Column::Missing);
        }
        // What counts forbid is told by its price, so that there is always a basis.
        if let Some(floor) = rows.joints_floor {
            for row in (0..model.rows)
                .filter(|&row| model.extra[row] == 0)
                .chain([floor])
            {
                let price = model.conceivable.saturating_add(1).min(1 << 52);
                entries.push(price, [(row as u32, 1)]);
                columns.push(Column::Missing);
            }
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
            boards: FxHashMap::default(),
            blocks: FxHashMap::default(),
            simplex,
            strips,
            rows,
            prices: None,
            counts,
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
        // Of a bundle some boards may be left over.
        for (k, kind) in model.kinds.iter().enumerate() {
            if master.counts.is_some() && kind.bundle > 1 {
                master.add_board(k, Filling::Whole(Vec::new()));
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

    /// Asks for other counts: of pieces beside the blocks, of blocks by class, of
    /// boards and of joints. Supports' rows are asked for `carried` joints.
    pub(crate) fn set(
        &mut self,
        fixed: &[i64],
        blocks: &[i64],
        counts: &Counts,
        carried: Option<&[i64]>,
    ) {
        let rows = &mut self.rows;
        rows.at_least[..fixed.len()].copy_from_slice(fixed);
        for (q, &count) in blocks.iter().enumerate() {
            rows.at_least[rows.class + q] = count;
            self.classes[q].count = count;
        }
        for (k, &(low, high)) in counts.boards.iter().enumerate() {
            if let (Some(limit), Some(floor)) = (rows.limit[k], rows.floor) {
                rows.at_least[limit] = -high;
                rows.at_least[floor + k] = low;
            }
        }
        if let (Some(most), Some(floor)) = (rows.joints, rows.joints_floor) {
            rows.at_least[most] = -counts.joints.1;
            rows.at_least[floor] = counts.joints.0;
        }
        if let (Some(first), Some(carried)) = (rows.support, carried) {
            rows.at_least[first..first + carried.len()].copy_from_slice(carried);
        }
        self.counts = Some(counts.clone());
        self.prices = None;
        self.simplex.set_right_sides(&self.rows.at_least);
    }

    fn by_joint(&self) -> bool {
        self.rows.support.is_some()
    }

    pub(crate) fn add_board(&mut self, kind: usize, filling: Filling) -> bool {
        let key = (kind, filling.clone());
        if let Some(&known) = self.boards.get(&key) {
            return self.simplex.recall(known);
        }
        self.boards.insert(key, self.columns.len());
        let entries = self.rows.board(kind, &filling);
        self.simplex
            .add_column(self.model.kinds[kind].cost, &entries);
        self.columns.push(Column::Board(kind, filling));
        true
    }

    /// Adds a block, or lets one that takes the same enter again; false if that
    /// is there already.
    pub(crate) fn add_block(&mut self, class: usize, path: Path) -> bool {
        let takes = Takes::of(
            &path,
            &self.model.run,
            &self.classes[class].materials,
            self.by_joint(),
        );
        let key = (class, takes.clone());
        if let Some(&known) = self.blocks.get(&key) {
            return self.simplex.recall(known);
        }
        self.blocks.insert(key, self.columns.len());
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
        let rows = self.rows.at_least.len() as u64;
        let graphs: usize = self.classes.iter().map(|c| c.block.size()).sum();
        let mut pivots = self.simplex.pivots;
        let mut ended = self.simplex.resolve(200_000, stop);
        for _ in 0..1_000 {
            while ended == Ended::Optimal && self.simplex.recall_priced(100) {
                ended = self.simplex.primal(200_000, stop);
            }
            let done = self.simplex.pivots - pivots;
            model.spend(done * (3 * rows * rows + 8 * self.simplex.active().len() as u64));
            model.spend(6 * graphs as u64 + model.boards.effort());
            pivots = self.simplex.pivots;
            let raw = self.simplex.prices();
            let whole = |row: usize| (raw[row] * parts as f64).round() as i64;
            let piece: Vec<i64> = (0..model.rows).map(whole).collect();
            let extra: Vec<i64> = (0..fees.len())
                .map(|k| {
                    self.rows.limit[k].map_or(0, whole)
                        - self.rows.floor.map_or(0, |r| whole(r + k))
                })
                .collect();
            let joint_extra =
                self.rows.joints.map_or(0, whole) - self.rows.joints_floor.map_or(0, whole);
            let support: Vec<i64> = match self.rows.support {
                Some(first) => (0..model.run.joints.len())
                    .map(|i| whole(first + i))
                    .collect(),
                None => vec![0; model.run.joints.len()],
            };
            let any = model.weights.joint * parts + joint_extra;
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
            let mut top: Vec<i64> = best.iter().map(|b| b.at_most).collect();
            for (k, _, _, value) in &splits {
                top[*k] = top[*k].max(*value);
            }
            let prices = Prices {
                parts,
                bound: self.bound(&path.row, joint_extra, &support, &least, &top, at_most),
                path,
                limit: extra.iter().map(|e| (*e).max(0)).collect(),
                top,
                joint: joint_extra,
                least,
            };
            let paid_out = |k: usize, value: i64| {
                fees[k] + extra[k] - value < -(fees[k] / 10_000_000_000).max(8)
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
            let fees_now: Vec<i64> = (0..fees.len()).map(|k| fees[k] + extra[k] + 8).collect();
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
                let columns = &self.columns;
                let most = 15 * self.rows.at_least.len() + 500;
                self.simplex.thin(most, |j| {
                    matches!(columns[j], Column::Missing | Column::Doubled)
                });
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
        joint_extra: i64,
        support: &[i64],
        least: &[i64],
        top: &[i64],
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
        // Every board leaves what it costs beyond the most it can hold.
        let parts = parts(dearest(model));
        for (k, kind) in model.kinds.iter().enumerate() {
            let (low, high) = match &self.counts {
                Some(counts) => counts.boards[k],
                None => (0, model.most_boards(k, at_most)),
            };
            let left = kind.cost * parts - top[k];
            sum += times(if left < 0 { high } else { low }, left);
        }
        sum += match &self.counts {
            Some(counts) => {
                let (low, high) = counts.joints;
                -times(if joint_extra > 0 { high } else { low }, joint_extra)
            }
            None => self.rows.limited(joint_extra),
        };
        if model.weights.doubled > 0 {
            for &s in support {
                let reduced = times(model.weights.doubled, parts) - times(model.most_on_support, s);
                sum += reduced.min(0);
            }
        }
        sum
    }

    /// Whole counts of the columns at hand that weigh `cutoff` at most.
    pub(crate) fn whole(
        &self,
        cutoff: i64,
        limits: Limits,
        stop: &dyn Fn() -> bool,
    ) -> Option<Answer> {
        let model = self.model;
        // What bundles leave over is not among these columns.
        if model.kinds.iter().any(|kind| kind.bundle > 1) {
            return None;
        }
        let mut columns = Columns::new();
        let mut listed = Vec::new();
        let mut group = Vec::new();
        let mut sums: Vec<Vec<(u32, i32)>> = vec![Vec::new(); model.kinds.len() + 1];
        let mut singles = Vec::new();
        for (j, column) in self.columns.iter().enumerate() {
            let all = self.simplex.columns();
            let kind = match column {
                Column::Missing | Column::Bundle => continue,
                Column::Doubled => 0,
                Column::Board(k, _) => 1 + *k as u32,
                Column::Block(q, _) => 1 + (model.kinds.len() + q) as u32,
            };
            let at = columns.push(all.cost(j), all.entries(j).map(|(r, v)| (r as u32, v))) as u32;
            match column {
                Column::Board(k, _) => sums[*k].push((at, 1)),
                Column::Block(_, path) => {
                    let joints: usize = path.iter().map(Vec::len).sum();
                    if joints > 0 {
                        sums[model.kinds.len()].push((at, joints as i32));
                    }
                }
                Column::Doubled => singles.push(vec![(at, 1)]),
                Column::Missing | Column::Bundle => {}
            }
            listed.push(column.clone());
            group.push(kind);
        }
        sums.extend(singles);
        let pieces = model.materials.len() * (model.run.joints.len() + 1);
        let program = Program {
            columns: Arc::new(columns),
            at_least: self.rows.at_least.clone(),
            group,
            sums,
            most_columns: (2 * pieces + model.run.joints.len()) as i64,
        };
        let found = branch::solve(&program, cutoff, &|b| model.lift(b), limits, stop);
        found.best.map(|best| finite::answer(best, &listed))
    }

    /// The pieces that blocks of a plan lighter than `target` can hold.
    pub(crate) fn pieces(&self, target: i64) -> Pieces {
        let mut pieces = Pieces::none(&self.model.run);
        if let Some(prices) = &self.prices {
            let gap = prices.gap(target - 1);
            for (class, least) in self.classes.iter().zip(&prices.least) {
                class.block.mark(
                    &self.model.run,
                    &prices.path,
                    class.allowed.as_ref(),
                    least.saturating_add(gap),
                    &mut pieces,
                );
            }
        }
        pieces
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

    /// The boards among the columns.
    pub(crate) fn boards(&self) -> Vec<Column> {
        let boards = |c: &&Column| matches!(c, Column::Board(..));
        self.columns.iter().filter(boards).cloned().collect()
    }

    /// The boards and blocks among the columns.
    pub(crate) fn whole_columns(&self) -> Vec<Column> {
        let whole = |c: &&Column| matches!(c, Column::Board(..) | Column::Block(..));
        self.columns.iter().filter(whole).cloned().collect()
    }

    /// The columns in use and how much of each.
    pub(crate) fn used(&self) -> Vec<(&Column, f64)> {
        self.simplex
            .values()
            .into_iter()
            .map(|(j, x)| (&self.columns[j], x))
            .collect()
    }

    /// The blocks in use: their class, one way to cut them, and how much of each.
    pub(crate) fn used_blocks(&self) -> Vec<(usize, Path, f64)> {
        let used = self.used().into_iter();
        used.filter_map(|(column, x)| match column {
            Column::Block(q, path) => Some((*q, path.clone(), x)),
            _ => None,
        })
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
