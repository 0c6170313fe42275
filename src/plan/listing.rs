//! Columns listed for an integer program: whoever lists puts in the ways to cut
//! courses, and the boards of any such program are put in here.

use std::sync::Arc;

use super::cutdown::CutDown;
use super::master::{Column, Master};
use super::model::{Model, Split};
use super::prices::Prices;
use crate::program::Columns;
use crate::program::branch::{Move, NO_GROUP, Program, Way};
use crate::stock::Pattern;

/// How a plan's programs are searched: supports that cost something are chosen in sets.
pub(super) fn way(model: &Model) -> Way {
    match model.weights.doubled {
        0 => Way::Deep,
        _ => Way::Wide,
    }
}

/// What columns of integer programs alone stand for.
#[derive(Debug, Clone)]
pub(crate) enum Listed {
    /// A bundle of boards: a part of one costs no more than its boards, so that the
    /// relaxation knows only those.
    Bundle,
    /// A piece cut down from one row to another: the relaxation prices all boards.
    CutDown(u16, u16),
    /// A board of a kind that gives two strips.
    Split(usize, Split),
    /// A strip of a kind of board and of a material, and its pieces.
    Strip(usize, u16, Pattern),
}

/// Columns listed so far, each in its group.
pub(super) struct Listing {
    columns: Columns,
    group: Vec<u32>,
    /// What each row must come to; a row for each that a column names.
    pub at_least: Vec<i64>,
    /// What the last columns stand for: boards, and bundles of them.
    boards: Vec<Column>,
    /// Boards of each kind, or bundles of them.
    sums: Vec<Vec<(u32, i32)>>,
    /// Bundles at most.
    bundles: i64,
    /// Pieces cut down to others, and how often that can be.
    moves: Vec<Move>,
    moved: i64,
}

impl Listing {
    /// None yet, over the rows of a relaxation.
    pub(super) fn new(master: &Master) -> Listing {
        Listing {
            columns: Columns::new(),
            group: Vec::new(),
            at_least: master.rows.at_least.clone(),
            boards: Vec::new(),
            sums: Vec::new(),
            bundles: 0,
            moves: Vec::new(),
            moved: 0,
        }
    }

    /// Adds a column and gives its place.
    pub(super) fn push(
        &mut self,
        cost: i64,
        entries: impl IntoIterator<Item = (u32, i32)>,
        group: u32,
    ) -> u32 {
        self.group.push(group);
        self.columns.push(cost, entries) as u32
    }

    /// Adds a support that carries joints, behind all ways to cut courses.
    pub(super) fn doubled(&mut self, cost: i64, entries: Vec<(u32, i32)>) -> u32 {
        self.boards.push(Column::Doubled);
        self.push(cost, entries, 0)
    }

    /// How many columns there are.
    pub(super) fn len(&self) -> usize {
        self.columns.len()
    }

    /// Whether there is need of pieces of each row.
    fn needed(&self, rows: usize) -> Vec<bool> {
        let mut needed: Vec<bool> = self.at_least[..rows].iter().map(|&n| n > 0).collect();
        for (row, n) in (0..self.len()).flat_map(|j| self.columns.entries(j)) {
            if row < rows && n < 0 {
                needed[row] = true;
            }
        }
        needed
    }

    /// Adds the boards that an answer up to `cutoff` could hold, once all that needs
    /// pieces is listed; nothing if columns come to more than `most`. What is kept
    /// serves the next listing at the same prices.
    pub(super) fn boards(
        &mut self,
        master: &Master,
        prices: &Prices,
        kept: &mut Option<CutDown>,
        cutoff: i64,
        most: usize,
    ) -> Option<()> {
        let (model, rows) = (master.model, &master.rows);
        let gap = prices.gap(cutoff);
        let kinds = model.kinds.len() as u32;
        let first_kind = 1 + master.classes.len() as u32;
        let needed = self.needed(model.rows);
        let known = kept.take().filter(|known| known.is_of(&needed));
        let cut_down =
            kept.insert(known.unwrap_or_else(|| CutDown::new(model, needed, &prices.path.row)));
        for (k, kind) in model.kinds.iter().enumerate() {
            let room = most.checked_sub(self.len())?;
            let of_kind = cut_down.boards(k, prices.floor(k, kind.cost, gap), room)?;
            let first = self.columns.len() as u32;
            // Boards in bundles cost what their bundles do, and those hold them.
            let bundled = kind.bundle > 1;
            let row = self.at_least.len() as u32;
            let (cost, held) = match bundled {
                true => (0, Some((row, -1))),
                false => (kind.cost, None),
            };
            if bundled {
                self.at_least.push(0);
            }
            let group = first_kind + k as u32;
            for filling in of_kind.whole {
                let entries = rows.board(k, &filling).into_iter().chain(held);
                self.push(cost, entries, group);
                self.boards.push(Column::Board(k, filling));
            }
            let first_strip = self.at_least.len() as u32;
            let strips = &of_kind.strips;
            self.at_least.extend(strips.iter().map(|_| 0));
            let row_of = |material: u16| {
                let at = strips.iter().position(|strip| strip.0 == material);
                first_strip + at.unwrap_or(0) as u32
            };
            for &(a, b) in &of_kind.splits {
                let of_strips = match a == b {
                    true => vec![(row_of(a), 2)],
                    false => vec![(row_of(a), 1), (row_of(b), 1)],
                };
                let entries = rows.bought(k, true).into_iter().chain(held);
                self.push(cost, entries.chain(of_strips), group);
                self.boards.push(Column::Listed(Listed::Split(k, (a, b))));
            }
            self.sums
                .push((first..self.columns.len() as u32).map(|j| (j, 1)).collect());
            for (strip, patterns) in strips {
                let group = first_kind + (2 + u32::from(*strip)) * kinds + k as u32;
                for pattern in patterns {
                    let pieces = pattern.iter().map(|&(r, n)| (u32::from(r), i32::from(n)));
                    self.push(0, pieces.chain([(row_of(*strip), -1)]), group);
                    let column = Listed::Strip(k, *strip, pattern.clone());
                    self.boards.push(Column::Listed(column));
                }
            }
            if bundled {
                let size = i32::try_from(kind.bundle).ok()?;
                let group = first_kind + kinds + k as u32;
                let j = self.push(kind.cost * kind.bundle, [(row, size)], group);
                self.boards.push(Column::Listed(Listed::Bundle));
                self.sums.push(vec![(j, 1)]);
                self.bundles += model.most_boards(k, cutoff) / kind.bundle + 1;
            }
        }
        self.moved = model.most_pieces * cut_down.most_moves();
        for (from, to) in cut_down.moves() {
            let entries = [(u32::from(from), -1), (u32::from(to), 1)];
            let column = self.push(0, entries, NO_GROUP);
            self.boards.push(Column::Listed(Listed::CutDown(from, to)));
            let (from, to) = (u32::from(from), u32::from(to));
            self.moves.push(Move { column, from, to });
        }
        Some(())
    }

    /// The program, and what its last columns stand for. Other sums are worth
    /// branching on after boards; besides those an answer up to `cutoff` uses no
    /// more columns than `others`.
    pub(super) fn program(
        self,
        master: &Master,
        cutoff: i64,
        others: i64,
        sums: impl IntoIterator<Item = Vec<(u32, i32)>>,
    ) -> (Program, Vec<Column>) {
        let model = master.model;
        let boards: i64 = (0..model.kinds.len())
            .map(|k| model.most_boards(k, cutoff))
            .fold(0, i64::saturating_add)
            .min(model.most_pieces);
        let boards = match model.splits.is_empty() {
            true => boards,
            // A split board has two strips, which are columns too.
            false => 3 * boards,
        };
        let program = Program {
            columns: Arc::new(self.columns),
            at_least: self.at_least,
            group: self.group,
            sums: self.sums.into_iter().chain(sums).collect(),
            most_columns: boards + others + self.bundles + self.moved,
            moves: self.moves,
            way: way(model),
        };
        (program, self.boards)
    }
}
