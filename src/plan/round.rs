//! Whole plans from a relaxation: blocks are rounded down, what is left is
//! relaxed again, and so on until every course is fixed; then the boards are a
//! cutting problem of their own.

use super::class::Class;
use super::finite::{self, Answer, joints};
use super::master::{Column, Filled, Filling, Master};
use super::model::Model;
use super::search::Laid;
use crate::joints::{Path, Takes};
use crate::program::branch::Limits;
use crate::stock::{Cut, Instance, Kind, Work, search};

/// Work on the boards of pieces by themselves.
pub(super) const ALONE: Work = Work {
    patterns: 4_000,
    limits: Limits {
        nodes: 150,
        work: 240,
    },
};

/// A whole answer near a solved relaxation; nothing when the boards that can be
/// had do not allow one this way.
pub(crate) fn round(master: &Master, stop: &dyn Fn() -> bool) -> Option<Answer> {
    let model = master.model;
    let mut fixed = master.fixed().to_vec();
    let mut counts: Vec<i64> = master.classes.iter().map(|c| c.count).collect();
    let mut blocks: Vec<(usize, Path, i64)> = Vec::new();
    let mut used = master.used_blocks();
    let mut known: Vec<Column> = master.columns.clone();
    while counts.iter().any(|&n| n > 0) {
        let mut taken: Vec<(usize, Path, i64)> = used
            .iter()
            .map(|(q, path, x)| (*q, path.clone(), (x + 1e-6).floor() as i64))
            .filter(|t| t.2 > 0)
            .collect();
        if taken.is_empty() {
            let (q, path, _) = used.iter().max_by(|a, b| a.2.total_cmp(&b.2))?;
            taken.push((*q, path.clone(), 1));
        }
        for (q, path, n) in taken {
            let n = n.min(counts[q]);
            if n == 0 {
                continue;
            }
            counts[q] -= n;
            for row in Takes::of(&path, &model.run, &master.classes[q].materials, false).rows {
                fixed[row as usize] += n;
            }
            blocks.push((q, path, n));
        }
        if counts.iter().all(|&n| n == 0) || stop() {
            break;
        }
        let left = master
            .classes
            .iter()
            .zip(&counts)
            .map(|(class, &count)| Class {
                count,
                ..class.clone()
            })
            .collect();
        let mut next = Master::new(model, left, &fixed, &known);
        next.solve(model.conceivable, i64::MAX, stop);
        used = next.used_blocks();
        known = next.columns;
    }
    let too_many_joints = model.joints_left(&fixed, 0).is_some_and(|left| left < 0);
    if counts.iter().any(|&n| n > 0) || too_many_joints {
        return None;
    }
    cut(model, blocks, &fixed, None, stop)
}

/// The answer of fixed blocks: their pieces cut as cheaply as can be.
pub(crate) fn cut(
    model: &Model,
    blocks: Vec<(usize, Path, i64)>,
    demand: &[i64],
    limits: Option<&[i64]>,
    stop: &dyn Fn() -> bool,
) -> Option<Answer> {
    let (rows, instance) = alone(model, demand, limits);
    let kinds = instance.kinds.clone();
    let whole = in_bundles(model, &rows, instance, stop);
    let boards = split(model, demand, kinds, whole.as_ref(), stop).or(whole)?;
    let mut carrying: Vec<u16> = blocks
        .iter()
        .flat_map(|(_, path, _)| path.iter().flatten().copied())
        .collect();
    carrying.sort_unstable();
    carrying.dedup();
    let weight = weight(model, &boards)
        + joints(&blocks) * model.weights.joint
        + carrying.len() as i64 * model.weights.doubled;
    Some(Answer {
        weight,
        blocks,
        boards,
    })
}

/// The plan of some courses, their pieces cut as cheaply as can be.
pub(crate) fn laid(
    model: &Model,
    courses: Path,
    limits: Option<&[i64]>,
    stop: &dyn Fn() -> bool,
) -> Option<Laid> {
    let mut demand = model.extra.clone();
    for row in Takes::of(&courses, &model.run, &model.materials, false).rows {
        demand[usize::from(row)] += 1;
    }
    let answer = cut(model, vec![(0, courses.clone(), 1)], &demand, limits, stop)?;
    Some(Laid {
        weight: answer.weight,
        courses,
        boards: answer.boards,
    })
}

/// The plan of some courses and boards that hold their pieces.
pub(super) fn of_boards(model: &Model, courses: Path, boards: Filled) -> Laid {
    let joints: usize = courses.iter().map(Vec::len).sum();
    Laid {
        weight: weight(model, &boards) + joints as i64 * model.weights.joint,
        courses,
        boards,
    }
}

/// Pieces by themselves as a cutting problem of at most so many boards of each
/// kind, longest first, and the row of each length.
pub(super) fn alone(
    model: &Model,
    demand: &[i64],
    limits: Option<&[i64]>,
) -> (Vec<usize>, Instance) {
    let mut rows: Vec<usize> = (0..model.rows).filter(|&r| demand[r] > 0).collect();
    rows.sort_by_key(|&r| std::cmp::Reverse(model.lengths[r]));
    let lengths = rows.iter().map(|&r| model.lengths[r]).collect();
    let wanted = rows.iter().map(|&r| demand[r]).collect();
    let mut kinds = model.kinds.clone();
    if let Some(limits) = limits {
        for (kind, &limit) in kinds.iter_mut().zip(limits) {
            kind.limit = Some(limit);
        }
    }
    let instance = Instance::new(lengths, wanted, kinds, model.kerf);
    (rows, instance)
}

/// The same where boards may be split for strips among the pieces; nothing where that
/// is found to be no cheaper.
fn split(
    model: &Model,
    demand: &[i64],
    kinds: Vec<Kind>,
    whole: Option<&Filled>,
    stop: &dyn Fn() -> bool,
) -> Option<Filled> {
    let strips = model.rows_of(0).end..model.rows_of(model.materials.iter().max().copied()?).end;
    if model.splits.is_empty() || demand[strips].iter().all(|&n| n == 0) {
        return None;
    }
    let best = whole.map_or(model.conceivable, |whole| weight(model, whole));
    let alone = model.alone(kinds, demand.to_vec());
    let mut root = Master::new(&alone, Vec::new(), demand, &[]);
    root.solve(best, best, stop);
    let work = finite::Work {
        columns: ALONE.patterns,
        limits: ALONE.limits,
    };
    let closed = finite::close(&root, best, work, stop);
    model.spend(alone.spent() - model.spent());
    closed.better.map(|answer| answer.boards)
}

/// Boards that hold the pieces of an instance: as if all were sold singly, and
/// once more with the bundles that takes paid already.
fn in_bundles(
    model: &Model,
    rows: &[usize],
    mut instance: Instance,
    stop: &dyn Fn() -> bool,
) -> Option<Filled> {
    let singly = cheapest(rows, &instance, stop)?;
    if model.left_over(&singly) == 0 {
        return Some(singly);
    }
    for (k, kind) in instance.kinds.iter_mut().enumerate() {
        if kind.bundle > 1 {
            let used = singly.iter().filter(|board| board.0 == k);
            let used: i64 = used.map(|board| board.2).sum();
            kind.limit = Some(used + (-used).rem_euclid(kind.bundle));
            kind.cost = 0;
        }
    }
    let paid = cheapest(rows, &instance, stop);
    let lighter = paid.filter(|paid| weight(model, paid) < weight(model, &singly));
    Some(lighter.unwrap_or(singly))
}

/// What boards weigh, those left over included.
pub(super) fn weight(model: &Model, boards: &[(usize, Filling, i64)]) -> i64 {
    let used = boards
        .iter()
        .map(|(k, _, count)| model.kinds[*k].cost * count);
    used.sum::<i64>() + model.left_over(boards)
}

/// Boards that hold the pieces of an instance, whose lengths are those of rows.
fn cheapest(rows: &[usize], instance: &Instance, stop: &dyn Fn() -> bool) -> Option<Filled> {
    let solved = search(instance, i64::MAX, ALONE, stop, &|_, _, _| {}).ok()?;
    Some(in_rows(solved.cuts, rows))
}

/// Cuts of an instance whose lengths are those of rows, as fillings of boards.
pub(super) fn in_rows(cuts: Vec<Cut>, rows: &[usize]) -> Filled {
    let row = |i: u16| rows[usize::from(i)] as u16;
    cuts.into_iter()
        .map(|c| {
            let pattern = c.pattern.iter().map(|&(i, n)| (row(i), n)).collect();
            (c.kind, Filling::Whole(pattern), c.count)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joints::Place;
    use crate::length::Length;
    use crate::plan::decks::deck;
    use crate::plan::types::Objective;

    /// Ten whole courses and a strip of two inches, all of two pieces as long as the
    /// cheapest board.
    #[test]
    fn a_board_is_split_for_strips_of_courses_that_are_laid() {
        let cents = |split: bool| {
            let boards = [(6, 890), (8, 900), (10, 3_000)];
            let mut job = deck(0, 16 * 12, 58, boards);
            job.deck.across = Length::from_inches(58) + Length::from_64ths(16);
            job.cutting.split_rips = split;
            let model = Model::new(&job, 0, Objective::Cost).expect("a model");
            assert!(model.layout.courses[10].ripped);
            let middle = Length::from_inches(8 * 12);
            let joint = model.run.joints.iter().position(|&at| at == middle);
            let joint = joint.expect("a joist in the middle") as Place + 1;
            let courses = vec![vec![joint]; model.materials.len()];
            let laid = laid(&model, courses, None, &|| false).expect("a plan");
            laid.weight / model.weights.unit
        };
        assert_eq!(cents(false), 22 * 900);
        assert_eq!(cents(true), 21 * 900);
    }
}
