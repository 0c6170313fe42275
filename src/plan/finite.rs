//! The integer program over all columns that a plan within some weight could
//! use: blocks by what they take, boards by what they hold.

use std::sync::Arc;

use super::master::{Column, Filling, Master};
use super::model::Model;
use super::prices::Prices;
use crate::joints::{Path, Takes};
use crate::program::Columns;
use crate::program::branch::{self, Limits, Program, solve};
use crate::program::widen::widen;
use crate::stock::{Pattern, Tables};

/// Whole counts of blocks and boards.
#[derive(Debug, Clone)]
pub(crate) struct Answer {
    /// What it weighs.
    pub weight: i64,
    /// Blocks: class, path, how many.
    pub blocks: Vec<(usize, Path, i64)>,
    /// Boards: kind, filling, how many.
    pub boards: Vec<(usize, Filling, i64)>,
}

/// How far the gap was closed.
pub(crate) struct Closed {
    /// An answer lighter than the one known.
    pub better: Option<Answer>,
    /// No answer weighs less than this.
    pub bound: i64,
}

/// Work allowed.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Work {
    /// Columns listed at most.
    pub columns: usize,
    /// Limits of each integer program.
    pub limits: Limits,
}

/// Looks for whole counts that weigh less than `best`, or the proof that there
/// are none, over the classes of a solved relaxation.
pub(crate) fn close(master: &Master, best: i64, work: Work, stop: &dyn Fn() -> bool) -> Closed {
    let Some(prices) = &master.prices else {
        return Closed {
            better: None,
            bound: 0,
        };
    };
    let model = master.model;
    let lift = |bound| model.lift(bound);
    let tables = model.boards.tables(&prices.path.row);
    let widened = widen(
        prices.bound(),
        best,
        &lift,
        work.limits,
        stop,
        &mut |cutoff| list(master, prices, &tables, cutoff, work.columns, &[]),
    );
    model.branched(widened.work);
    let better = widened.better.map(|(best, columns)| answer(best, &columns));
    Closed {
        better,
        bound: widened.bound,
    }
}

/// The lightest whole counts up to `cutoff` that do without some blocks, if the
/// work allowed finds any: other answers where the first could not be laid.
pub(crate) fn without(
    master: &Master,
    banned: &[(usize, Takes)],
    cutoff: i64,
    work: Work,
    stop: &dyn Fn() -> bool,
) -> Option<Answer> {
    let prices = master.prices.as_ref()?;
    let model = master.model;
    let tables = model.boards.tables(&prices.path.row);
    let (program, columns) = list(master, prices, &tables, cutoff, work.columns, banned)?;
    let found = solve(
        &program,
        cutoff,
        &|bound| model.lift(bound),
        work.limits,
        stop,
    );
    model.branched(found.work);
    found.best.map(|best| answer(best, &columns))
}

pub(crate) fn answer((weight, counts): branch::Answer, columns: &[Column]) -> Answer {
    let mut result = Answer {
        weight,
        blocks: Vec::new(),
        boards: Vec::new(),
    };
    for (j, count) in counts {
        match &columns[j] {
            Column::Block(class, path) => result.blocks.push((*class, path.clone(), count)),
            Column::Board(kind, filling) => result.boards.push((*kind, filling.clone(), count)),
            Column::Missing | Column::Doubled | Column::Bundle => {}
        }
    }
    result
}

fn list(
    master: &Master,
    prices: &Prices,
    tables: &Tables,
    cutoff: i64,
    most: usize,
    banned: &[(usize, Takes)],
) -> Option<(Program, Vec<Column>)> {
    let model = master.model;
    let rows = &master.rows;
    let gap = prices.gap(cutoff);
    let by_joint = rows.support.is_some();
    let mut columns = Columns::new();
    let mut listed = Vec::new();
    let mut group = Vec::new();
    let mut joints: Vec<(u32, i32)> = Vec::new();
    if by_joint {
        for joint in 1..=model.run.joints.len() as u16 {
            let entries = rows.doubled(model, joint);
            columns.push(model.weights.doubled, entries);
            listed.push(Column::Doubled);
            group.push(0);
        }
    }
    let doubled: Vec<Vec<(u32, i32)>> = (0..listed.len() as u32).map(|j| vec![(j, 1)]).collect();
    for (q, class) in master.classes.iter().enumerate() {
        let within = class.block()?.within(
            &prices.path,
            class.allowed.as_ref(),
            prices.least[q].saturating_add(gap),
            by_joint,
            most.checked_sub(listed.len())?,
        )?;
        for (takes, path) in within {
            if banned
                .iter()
                .any(|(class, what)| *class == q && *what == takes)
            {
                continue;
            }
            let count: usize = path.iter().map(Vec::len).sum();
            let j = columns.push(count as i64 * model.weights.joint, rows.block(q, &takes));
            if count > 0 {
                joints.push((j as u32, count as i32));
            }
            listed.push(Column::Block(q, path));
            group.push(1 + q as u32);
        }
    }
    let mut at_least = rows.at_least.clone();
    let mut boards = Listed {
        columns,
        listed,
        group,
        sums: Vec::new(),
        bundles: 0,
    };
    boards.boards(master, prices, tables, cutoff, most, &mut at_least)?;
    let Listed {
        columns,
        listed,
        group,
        mut sums,
        bundles,
    } = boards;
    sums.extend(doubled);
    sums.push(joints);
    let boards: i64 = (0..model.kinds.len())
        .map(|k| model.most_boards(k, cutoff))
        .fold(0, i64::saturating_add)
        .min(model.most_pieces);
    let blocks: i64 = master.classes.iter().map(|c| c.count).sum();
    let supports = if by_joint {
        model.run.joints.len() as i64
    } else {
        0
    };
    let program = Program {
        columns: Arc::new(columns),
        at_least,
        group,
        sums,
        most_columns: boards + blocks + supports + bundles,
    };
    Some((program, listed))
}

/// The split boards of a kind that are worth at least so much.
fn split_near(
    master: &Master,
    prices: &Prices,
    kind: usize,
    floor: i64,
    most: usize,
) -> Option<Vec<Filling>> {
    let model: &Model = master.model;
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

/// Columns listed so far.
pub(super) struct Listed {
    pub columns: Columns,
    pub listed: Vec<Column>,
    pub group: Vec<u32>,
    /// Boards of each kind, or bundles of them.
    pub sums: Vec<Vec<(u32, i32)>>,
    /// Bundles at most.
    pub bundles: i64,
}

impl Listed {
    /// Adds the boards that an answer up to `cutoff` could hold; nothing if there
    /// are too many.
    pub(super) fn boards(
        &mut self,
        master: &Master,
        prices: &Prices,
        tables: &Tables,
        cutoff: i64,
        most: usize,
        at_least: &mut Vec<i64>,
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
                    most.checked_sub(self.listed.len())?,
                )?
                .into_iter()
                .map(Filling::Whole)
                .collect();
            let room = most.checked_sub(self.listed.len() + fillings.len())?;
            fillings.extend(split_near(master, prices, k, floor, room)?);
            // Boards in bundles cost what their bundles do, and those hold them.
            let bundled = kind.bundle > 1;
            let row = at_least.len() as u32;
            let (cost, held) = match bundled {
                true => (0, Some((row, -1))),
                false => (kind.cost, None),
            };
            for filling in fillings {
                self.columns
                    .push(cost, rows.board(k, &filling).into_iter().chain(held));
                self.listed.push(Column::Board(k, filling));
                self.group.push(first_kind + k as u32);
            }
            self.sums
                .push((first..self.columns.len() as u32).map(|j| (j, 1)).collect());
            if bundled {
                at_least.push(0);
                let size = i32::try_from(kind.bundle).ok()?;
                let j = self.columns.push(kind.cost * kind.bundle, [(row, size)]) as u32;
                self.listed.push(Column::Bundle);
                self.group.push(first_kind + (model.kinds.len() + k) as u32);
                self.sums.push(vec![(j, 1)]);
                self.bundles += model.most_boards(k, cutoff) / kind.bundle + 1;
            }
        }
        Some(())
    }
}
