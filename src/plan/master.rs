//! The linear relaxation of a plan: blocks of neighbouring courses on one side,
//! cutting patterns on the other, one row for each piece between them. Columns
//! are priced as they are needed, and every round's prices prove a bound in
//! whole numbers that holds for every plan the blocks allow.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::boarded::Left;
use super::carried::Carried;
use super::class::Class;
use super::counts::Counts;
use super::cutdown::all_moves;
use super::first::{even, takes_long};
use super::listing::Listed;
use super::model::Model;
use super::prices::{Prices, dearest, most_price};
use super::rows::Rows;
use crate::joints::{Path, PathCosts, Takes};
use crate::program::simplex::{Ended, Simplex};
use crate::program::{Columns, whole};
use crate::stock::{Boards, Pattern, parts};

/// What one board holds: the pattern of the whole board, or of its two strips.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(crate) enum Filling {
    Whole(Pattern),
    Split(Pattern, Pattern),
}

/// Boards: kind, filling, how many.
pub(crate) type Filled = Vec<(usize, Filling, i64)>;

/// A column of the relaxation.
#[derive(Debug, Clone)]
pub(crate) enum Column {
    /// A block of a class or another piece left out, at a price above any plan.
    Missing,
    /// A support that carries joints.
    Doubled,
    /// What only integer programs need.
    Listed(Listed),
    /// A board of a kind.
    Board(usize, Filling),
    /// A block of a class.
    Block(usize, Path),
}

/// What a column has in rows.
type Entries = Vec<(u32, i32)>;

/// Whole prices and what they find.
struct Priced<'p> {
    /// Of each piece, as boards give it.
    piece: &'p [i64],
    /// Of pieces and joints, as blocks take them.
    path: &'p PathCosts,
    /// Of the bounds on joints.
    joint: i64,
    /// Of supports.
    support: &'p Carried,
    /// The cheapest block of each class.
    least: &'p [i64],
    /// What a board of each kind leaves.
    left: &'p [Left],
    /// Of balances.
    balances: &'p [Vec<i64>],
}

/// How near to the prices of the best bound columns are priced.
const CENTRED: f64 = 0.8;

/// Columns kept for each row.
const MANY: usize = 15;
/// The same where supports or places are branched on.
const FEW: usize = 3;

/// What part of the relaxation's value a bound is near to it from.
const NEARLY: f64 = 0.9999;

/// The relaxation and the columns found so far.
#[derive(Clone)]
pub(crate) struct Master<'a> {
    pub model: &'a Model,
    pub classes: Vec<Class>,
    /// The columns, by their place in the program.
    pub columns: Vec<Column>,
    boards: FxHashMap<(usize, Filling), usize>,
    blocks: FxHashMap<(usize, Takes, Entries), usize>,
    pub(super) simplex: Simplex,
    /// Strips of each material, as boards of their own.
    pub(super) strips: Vec<Option<Boards>>,
    pub rows: Rows,
    /// The best prices so far.
    pub prices: Option<Prices>,
    /// Bounds on boards and joints, if they are rows of the program.
    counts: Option<Counts>,
    /// How often every course is in the blocks: everything but single joints and
    /// boards counts so often.
    pub scale: i64,
    /// What a price may come to in parts, so that those on a block's path add up.
    most: i64,
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
        Master::with(model, classes, fixed, known, None, 1)
    }

    /// The same with rows that count boards and joints.
    pub(crate) fn counting(
        model: &'a Model,
        classes: Vec<Class>,
        fixed: &[i64],
        known: &[Column],
        counts: Counts,
    ) -> Master<'a> {
        Master::with(model, classes, fixed, known, Some(counts), 1)
    }

    /// The same over classes that hold every course `scale` times.
    pub(crate) fn overlapping(
        model: &'a Model,
        classes: Vec<Class>,
        fixed: &[i64],
        known: &[Column],
        counts: Counts,
        scale: i64,
    ) -> Master<'a> {
        let mut master = Master::with(model, classes, fixed, known, Some(counts.clone()), scale);
        let blocks: Vec<i64> = master.classes.iter().map(|c| c.count).collect();
        master.set(fixed, &blocks, &counts, None);
        master
    }

    fn with(
        model: &'a Model,
        classes: Vec<Class>,
        fixed: &[i64],
        known: &[Column],
        counts: Option<Counts>,
        scale: i64,
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
                .chain(rows.pieces_floors())
                .chain(rows.split_floors())
                .chain(counts.iter().flat_map(|counts| rows.place_floors(counts)))
                .chain(rows.supports.map(|first| first + model.run.joints.len()))
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
        let most = most_price(model, &classes);
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
            scale,
            most,
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
        if takes_long(model) {
            for (from, to) in all_moves(model) {
                let entries = [(u32::from(from), -1), (u32::from(to), 1)];
                master.simplex.add_column(0, &entries);
                let column = Column::Listed(Listed::CutDown(from, to));
                master.columns.push(column);
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
                Column::Missing | Column::Doubled | Column::Listed(_) => {}
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
        let mut counts = counts.clone();
        if self.rows.pieces.is_some() && counts.pieces.is_empty() {
            counts = counts.with_pieces(self.model);
        }
        let (rows, scale, model) = (&mut self.rows, self.scale, self.model);
        for (row, &n) in rows.at_least.iter_mut().zip(fixed) {
            *row = n * scale;
        }
        for (q, &count) in blocks.iter().enumerate() {
            rows.at_least[rows.class + q] = count;
            self.classes[q].count = count;
        }
        for (k, &(low, high)) in counts.boards.iter().enumerate() {
            if let (Some(limit), Some(floor)) = (rows.limit[k], rows.floor) {
                rows.at_least[limit] = -high * scale;
                rows.at_least[floor + k] = low * scale;
            }
        }
        if let Some(first) = rows.split {
            for (k, &(low, high)) in counts.split.iter().enumerate() {
                rows.at_least[first + 2 * k] = -high * scale;
                rows.at_least[first + 2 * k + 1] = low * scale;
            }
        }
        if let (Some(most), Some(floor)) = (rows.joints, rows.joints_floor) {
            rows.at_least[most] = -counts.joints.1 * scale;
            rows.at_least[floor] = counts.joints.0 * scale;
        }
        if let Some(first) = rows.pieces {
            for (row, &(low, high)) in counts.pieces.iter().enumerate() {
                rows.at_least[first + 2 * row] = -high * scale;
                rows.at_least[first + 2 * row + 1] = low * scale;
            }
        }
        if let (Some(first), Some(carried)) = (rows.support, carried) {
            rows.at_least[first..first + carried.len()].copy_from_slice(carried);
        }
        if let Some(supports) = &counts.supports {
            rows.set_supports(model, supports);
        }
        rows.set_places(&counts);
        self.counts = Some(counts);
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
        let balance = self.rows.balance(&self.classes[class].balance, &path);
        let key = (class, takes.clone(), balance);
        if let Some(&known) = self.blocks.get(&key) {
            return self.simplex.recall(known);
        }
        let mut entries = self.rows.block(class, &takes);
        entries.extend(&key.2);
        self.blocks.insert(key, self.columns.len());
        let joints: usize = path.iter().map(Vec::len).sum();
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
        let graphs: usize = self.classes.iter().map(Class::size).sum();
        // The prices of the best bound; columns are priced between those and the
        // present ones, which swing less from round to round.
        let mut centre = even(model, self.rows.at_least.len());
        let mut weight = if centre.is_some() { 1.0 } else { CENTRED };
        let mut plain = false;
        let (mut pivots, mut touched) = (self.simplex.pivots, self.simplex.touched);
        let mut ended = self.simplex.resolve(200_000, stop);
        if ended != Ended::Optimal && !stop() {
            self.simplex.start_afresh();
            ended = self.simplex.resolve(200_000, stop);
        }
        for _ in 0..1_000 {
            while ended == Ended::Optimal && self.simplex.recall_priced(100) {
                ended = self.simplex.primal(200_000, stop);
            }
            let done = self.simplex.pivots - pivots;
            model.spend(3 * (self.simplex.touched - touched));
            model.spend(8 * done * self.simplex.active().len() as u64);
            model.spend(6 * graphs as u64 + model.boards.effort());
            (pivots, touched) = (self.simplex.pivots, self.simplex.touched);
            let mut raw = self.simplex.prices();
            let smooth = centre.is_some() && !plain && ended == Ended::Optimal;
            if let (Some(centre), true) = (&centre, smooth) {
                for (p, c) in raw.iter_mut().zip(centre) {
                    *p = weight * c + (1.0 - weight) * *p;
                }
            }
            weight = CENTRED;
            // What a block is paid is compared and never added up.
            let paid: Vec<i64> = (0..self.classes.len())
                .map(|q| whole(raw[self.rows.class + q], parts, i64::MAX / 2))
                .collect();
            let whole = |row: usize| whole(raw[row], parts, self.most);
            let piece: Vec<i64> = (0..model.rows).map(whole).collect();
            let extra: Vec<i64> = (0..fees.len())
                .map(|k| {
                    self.rows.limit[k].map_or(0, whole)
                        - self.rows.floor.map_or(0, |r| whole(r + k))
                })
                .collect();
            let joint_extra =
                self.rows.joints.map_or(0, whole) - self.rows.joints_floor.map_or(0, whole);
            let counted = self.counts.as_ref().and_then(|c| c.supports.as_ref());
            let support = Carried::of(model, &self.rows, counted, &whole, self.most);
            let any = model.weights.joint * parts + joint_extra;
            let mut joint = vec![0i64];
            joint.extend(support.price.iter().map(|s| any + s));
            let counted: Vec<i64> = match self.rows.pieces {
                Some(first) => (0..model.rows)
                    .map(|row| whole(first + 2 * row) - whole(first + 2 * row + 1))
                    .collect(),
                None => Vec::new(),
            };
            let mut row = piece.clone();
            for (row, counted) in row.iter_mut().zip(&counted) {
                *row += counted;
            }
            let path = PathCosts {
                row,
                joint,
                course: Vec::new(),
            };
            let balances = self.rows.balance_prices(&whole);
            let mut found_blocks = Vec::new();
            let mut least = Vec::new();
            for (q, class) in self.classes.iter().enumerate() {
                let paid = paid[q];
                let below = paid - (paid / 1_000_000_000).max(8);
                let cheap = class.cheapest(&path, &balances, below);
                let Some(&(first, _)) = cheap.first() else {
                    return false;
                };
                least.push(first);
                let cheap = cheap.into_iter().filter(|(cost, _)| *cost < below);
                found_blocks.extend(cheap.map(|(_, path)| (q, path)));
            }
            let best = model.boards.best(&piece);
            let splits = self.best_splits(&piece);
            // What one of the boards that are split costs for the sake of their number.
            let split: Vec<i64> = match self.rows.split {
                Some(first) => (0..fees.len())
                    .map(|k| whole(first + 2 * k) - whole(first + 2 * k + 1))
                    .collect(),
                None => vec![0; fees.len()],
            };
            let best_split = |k: usize| {
                let of_kind = splits.iter().filter(|found| found.0 == k);
                of_kind.map(|found| found.3).max()
            };
            let left = |k: usize| Left {
                whole: fees[k] - best[k].at_most,
                split: best_split(k).map(|value| fees[k] - value),
            };
            let left: Vec<Left> = (0..fees.len()).map(left).collect();
            let priced = Priced {
                piece: &piece,
                path: &path,
                joint: joint_extra,
                support: &support,
                least: &least,
                left: &left,
                balances: &balances,
            };
            let prices = Prices {
                parts,
                scale: self.scale,
                bound: self.bound(&priced, at_most),
                path,
                limit: extra.iter().map(|e| (*e).max(0)).collect(),
                left,
                joint: joint_extra,
                least,
                balances,
                supports: support.reduced,
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
                if paid_out(k, value - split[k]) {
                    boards.push((k, Filling::Split(a, b)));
                }
            }
            let fees_now: Vec<i64> = (0..fees.len()).map(|k| fees[k] + extra[k] + 8).collect();
            for (k, pattern) in model.boards.best_through(&piece, &fees_now) {
                boards.push((k, Filling::Whole(pattern)));
            }
            if self.prices.as_ref().is_none_or(|p| prices.bound > p.bound) {
                self.prices = Some(prices);
                centre = Some(raw);
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
            let risen = ended == Ended::Optimal && self.has_risen();
            if !added && smooth && !risen {
                plain = true;
                continue;
            }
            plain = false;
            if !added || risen {
                let columns = &self.columns;
                // What is solved again and again, far apart, is the quicker for few columns.
                let places = self.counts.as_ref().is_some_and(|c| !c.places.is_empty());
                let each = match places || self.rows.supports.is_some() {
                    true => FEW,
                    false => MANY,
                };
                let most = each * (self.rows.at_least.len() + 33);
                self.simplex.thin(most, |j| {
                    matches!(columns[j], Column::Missing | Column::Doubled)
                });
                return true;
            }
            ended = self.simplex.primal(200_000, stop);
        }
        false
    }

    /// Whether the bound is as good as it gets: near the relaxation's value, and lifted
    /// past that.
    fn has_risen(&self) -> bool {
        let counted = self.counts.as_ref().and_then(|c| c.supports.as_ref());
        let paid = counted.map_or(0, |supports| supports.paid() * self.model.weights.doubled);
        let value = self.simplex.objective() / self.scale as f64 + paid as f64;
        self.prices.as_ref().is_some_and(|prices| {
            let bound = prices.bound();
            bound as f64 > NEARLY * value && self.model.lift(bound) as f64 > value
        })
    }

    /// What whole prices prove: every class at its cheapest block and the fixed
    /// pieces, less what limits, supports and underpriced boards could give back.
    fn bound(&self, priced: &Priced, at_most: i64) -> i128 {
        let joint_extra = priced.joint;
        let model = self.model;
        let times = |a: i64, b: i64| i128::from(a) * i128::from(b);
        let often = |n: i64| n.saturating_mul(self.scale);
        let mut sum: i128 = self
            .classes
            .iter()
            .zip(priced.least)
            .map(|(c, &l)| times(c.count, l))
            .sum();
        sum += self
            .rows
            .at_least
            .iter()
            .zip(priced.piece)
            .map(|(&d, &v)| times(d, v))
            .sum::<i128>();
        // Every board leaves what it costs beyond the most it can hold.
        for (k, left) in priced.left.iter().enumerate() {
            let boards = match &self.counts {
                Some(counts) => counts.boards[k],
                None => (0, model.most_boards(k, at_most)),
            };
            let split = self.counts.as_ref().and_then(|c| c.split.get(k).copied());
            let split = split.unwrap_or((0, boards.1));
            sum += left.least(boards, split) * i128::from(self.scale);
        }
        sum += match &self.counts {
            Some(counts) => {
                let (low, high) = counts.joints;
                -times(often(if joint_extra > 0 { high } else { low }), joint_extra)
            }
            None => self.rows.limited(joint_extra),
        };
        if let Some(counts) = &self.counts {
            for (row, &(low, high)) in counts.pieces.iter().enumerate() {
                let price = priced.path.row[row] - priced.piece[row];
                sum -= times(often(if price > 0 { high } else { low }), price);
            }
            let of_places = priced.balances.iter().flat_map(|prices| &prices[1..]);
            for (&(low, high), &price) in counts.places.iter().zip(of_places) {
                sum += times(if price > 0 { low } else { high }, price);
            }
        }
        let counted = self.counts.as_ref().and_then(|c| c.supports.as_ref());
        sum + priced.support.bound(model, &self.rows, counted)
    }
}
