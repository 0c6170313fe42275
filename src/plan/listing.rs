//! Columns listed for an integer program: whoever lists puts in the ways to cut
//! courses, and the boards of any such program are put in here.

use std::sync::Arc;

use super::master::{Column, Filling, Master};
use super::prices::Prices;
use crate::program::Columns;
use crate::program::branch::Program;
use crate::stock::{Pattern, Tables};

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

    /// How many columns there are.
    pub(super) fn len(&self) -> usize {
        self.columns.len()
    }

    /// Adds the boards that an answer up to `cutoff` could hold; nothing if columns
    /// come to more than `most`.
    pub(super) fn boards(
        &mut self,
        master: &Master,
        prices: &Prices,
        tables: &Tables,
        cutoff: i64,
        most: usize,
    ) -> Option<()> {
        let (model, rows) = (master.model, &master.rows);
        let gap = prices.gap(cutoff);
        let first_kind = 1 + master.classes.len() as u32;
        for (k, kind) in model.kinds.iter().enumerate() {
            let floor = prices.floor(k, kind.cost, gap);
            let first = self.columns.len() as u32;
            let mut fillings: Vec<Filling> = model
                .boards
                .near(
                    &prices.path.row,
                    tables,
                    k,
                    floor,
                    most.checked_sub(self.columns.len())?,
                )?
                .into_iter()
                .map(Filling::Whole)
                .collect();
            let room = most.checked_sub(self.columns.len() + fillings.len())?;
            fillings.extend(split_near(master, prices, k, floor, room)?);
            // Boards in bundles cost what their bundles do, and those hold them.
            let bundled = kind.bundle > 1;
            let row = self.at_least.len() as u32;
            let (cost, held) = match bundled {
                true => (0, Some((row, -1))),
                false => (kind.cost, None),
            };
            for filling in fillings {
                let entries = rows.board(k, &filling).into_iter().chain(held);
                self.push(cost, entries, first_kind + k as u32);
                self.boards.push(Column::Board(k, filling));
            }
            self.sums
                .push((first..self.columns.len() as u32).map(|j| (j, 1)).collect());
            if bundled {
                self.at_least.push(0);
                let size = i32::try_from(kind.bundle).ok()?;
                let group = first_kind + (model.kinds.len() + k) as u32;
                let j = self.push(kind.cost * kind.bundle, [(row, size)], group);
                self.boards.push(Column::Bundle);
                self.sums.push(vec![(j, 1)]);
                self.bundles += model.most_boards(k, cutoff) / kind.bundle + 1;
            }
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
        let program = Program {
            columns: Arc::new(self.columns),
            at_least: self.at_least,
            group: self.group,
            sums: self.sums.into_iter().chain(sums).collect(),
            most_columns: boards + others + self.bundles,
        };
        (program, self.boards)
    }
}

/// The split boards of a kind that are worth at least so much.
fn split_near(
    master: &Master,
    prices: &Prices,
    kind: usize,
    floor: i64,
    most: usize,
) -> Option<Vec<Filling>> {
    let model = master.model;
    let mut found = Vec::new();
    for &split in &model.splits {
        let (one, two) = master.strip(split);
        let values = |material: u16| &prices.path.row[model.rows_of(material)];
        let (va, vb) = (values(split.0), values(split.1));
        let best = |boards: &crate::stock::Boards, v: &[i64]| boards.best(v)[kind].at_most;
        let (most_a, most_b) = (best(one, va), best(two, vb));
        if most_a + most_b < floor {
            continue;
        }
        let near = |boards: &crate::stock::Boards, v: &[i64], floor: i64, material: u16| {
            let first = model.rows_of(material).start as u16;
            let patterns = boards.near(v, &boards.tables(v), kind, floor, most)?;
            Some(
                patterns
                    .into_iter()
                    .map(|p| -> Pattern { p.into_iter().map(|(r, n)| (r + first, n)).collect() })
                    .collect::<Vec<_>>(),
            )
        };
        let ones = near(one, va, floor - most_b, split.0)?;
        let twos = near(two, vb, floor - most_a, split.1)?;
        let worth = |p: &Pattern| -> i64 {
            p.iter()
                .map(|&(r, n)| i64::from(n) * prices.path.row[r as usize])
                .sum()
        };
        for a in &ones {
            for b in &twos {
                if split.0 == split.1 && a > b {
                    continue;
                }
                if worth(a) + worth(b) >= floor {
                    found.push(Filling::Split(a.clone(), b.clone()));
                    if found.len() > most {
                        return None;
                    }
                }
            }
        }
    }
    Some(found)
}
