//! The integer program over all columns that a plan within some weight could
//! use: blocks by what they take, boards by what they hold.

use super::class::Class;
use super::cutdown::{CutDown, cut_down, pair};
use super::listing::{Listed, Listing};
use super::master::{Column, Filled, Master};
use super::model::Model;
use super::prices::Prices;
use crate::joints::{Path, Takes};
use crate::program::branch::{self, Limits, Program, solve};
use crate::program::widen::widen;

/// Whole counts of blocks and boards.
#[derive(Debug, Clone)]
pub(crate) struct Answer {
    /// What it weighs.
    pub weight: i64,
    /// Blocks: class, path, how many.
    pub blocks: Vec<(usize, Path, i64)>,
    /// Boards: kind, filling, how many.
    pub boards: Filled,
}

impl Answer {
    /// How many joints its blocks have.
    pub(crate) fn joints(&self) -> i64 {
        joints(&self.blocks)
    }

    /// The pieces of its courses, by row; its blocks are of these classes.
    pub(crate) fn pieces(&self, model: &Model, classes: &[Class]) -> Vec<i64> {
        let mut pieces = vec![0; model.rows];
        for (q, path, n) in &self.blocks {
            for row in Takes::of(path, &model.run, &classes[*q].materials, false).rows {
                pieces[usize::from(row)] += n;
            }
        }
        pieces
    }

    /// The places that carry its joints, as a set.
    pub(crate) fn carrying(&self, model: &Model) -> Vec<bool> {
        let mut set = vec![false; model.run.joints.len() + 1];
        for &joint in self.blocks.iter().flat_map(|block| &block.1).flatten() {
            set[usize::from(joint)] = true;
        }
        set
    }

    /// What the supports that carry its joints weigh.
    pub(crate) fn doubled(&self, model: &Model) -> i64 {
        let carrying = self.carrying(model);
        let count = carrying.iter().filter(|&&carries| carries).count();
        count as i64 * model.weights.doubled
    }
}

/// How many joints blocks have.
pub(crate) fn joints(blocks: &[(usize, Path, i64)]) -> i64 {
    let of_block = |path: &Path| path.iter().map(Vec::len).sum::<usize>() as i64;
    blocks.iter().map(|(_, path, n)| n * of_block(path)).sum()
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
    let mut kept = None;
    let widened = widen(
        prices.bound(),
        best,
        &lift,
        work.limits,
        stop,
        &mut |cutoff| list(master, prices, &mut kept, cutoff, work.columns, &[]),
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
    let mut kept = None;
    let (program, columns) = list(master, prices, &mut kept, cutoff, work.columns, banned)?;
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
    let (mut moves, mut splits, mut strips) = (Vec::new(), Vec::new(), Vec::new());
    for (j, count) in counts {
        match &columns[j] {
            Column::Block(class, path) => result.blocks.push((*class, path.clone(), count)),
            Column::Board(kind, filling) => result.boards.push((*kind, filling.clone(), count)),
            Column::Listed(Listed::CutDown(from, to)) => moves.push((*from, *to, count)),
            Column::Listed(Listed::Split(kind, split)) => splits.push((*kind, *split, count)),
            Column::Listed(Listed::Strip(kind, strip, pattern)) => {
                strips.push((*kind, *strip, pattern.clone(), count));
            }
            Column::Missing | Column::Doubled | Column::Listed(Listed::Bundle) => {}
        }
    }
    result.boards.extend(pair(&splits, strips));
    // Longer pieces first, which may be cut down further.
    moves.reverse();
    cut_down(&mut result.boards, &moves);
    result
}

fn list(
    master: &Master,
    prices: &Prices,
    kept: &mut Option<CutDown>,
    cutoff: i64,
    most: usize,
    banned: &[(usize, Takes)],
) -> Option<(Program, Vec<Column>)> {
    let model = master.model;
    let rows = &master.rows;
    let gap = prices.gap(cutoff);
    let by_joint = rows.support.is_some();
    let mut listing = Listing::new(master);
    let mut listed = Vec::new();
    let mut joints: Vec<(u32, i32)> = Vec::new();
    let mut doubled: Vec<Vec<(u32, i32)>> = Vec::new();
    if by_joint {
        for joint in 1..=model.run.joints.len() as u16 {
            let j = listing.push(model.weights.doubled, rows.doubled(model, joint), 0);
            doubled.push(vec![(j, 1)]);
            listed.push(Column::Doubled);
        }
    }
    let others = listed.len() as i64 + master.classes.iter().map(|c| c.count).sum::<i64>();
    for (q, class) in master.classes.iter().enumerate() {
        let within = class.block()?.within(
            &prices.path,
            class.allowed.as_ref(),
            prices.least[q].saturating_add(gap),
            by_joint,
            most.checked_sub(listing.len())?,
        )?;
        for (takes, path) in within {
            if banned
                .iter()
                .any(|(class, what)| *class == q && *what == takes)
            {
                continue;
            }
            let count: usize = path.iter().map(Vec::len).sum();
            let cost = count as i64 * model.weights.joint;
            let j = listing.push(cost, rows.block(q, &takes), 1 + q as u32);
            if count > 0 {
                joints.push((j, count as i32));
            }
            listed.push(Column::Block(q, path));
        }
    }
    listing.boards(master, prices, kept, cutoff, most)?;
    let sums = doubled.into_iter().chain([joints]);
    let (program, boards) = listing.program(master, cutoff, others, sums);
    listed.extend(boards);
    Some((program, listed))
}
