//! Plans laid course by course along walks: the relaxation of what is left goes on
//! from the courses laid last, so that whatever is laid can be finished.

use super::class::Class;
use super::counts::Counts;
use super::dive::Noise;
use super::master::{Column, Filling, Master};
use super::model::Model;
use super::round;
use super::search::Laid;
use crate::joints::{Path, Place, Takes};

/// A part of a walk's courses that is laid at once, at most.
const AT_ONCE: usize = 4;

/// A plan lighter than `target` of some counts, laid by walks from the first
/// course on.
pub(super) fn dive(
    model: &Model,
    walks: &Master,
    counts: &Counts,
    target: i64,
    turn: u64,
    stop: &dyn Fn() -> bool,
) -> Option<Laid> {
    let class = walks.classes.first()?;
    let (walk, _) = class.walk.clone()?;
    let mut noise = Noise::new(turn);
    let mut laid: Vec<Vec<Place>> = Vec::new();
    let mut fixed = model.extra.clone();
    let mut counts = counts.clone();
    let mut spent = 0;
    let mut boards = walks.boards();
    let mut known: Vec<Path> = walks
        .columns
        .iter()
        .filter_map(|c| match c {
            Column::Block(_, path) => Some(path.clone()),
            _ => None,
        })
        .collect();
    while laid.len() < model.materials.len() {
        let materials = &model.materials[laid.len()..];
        let start = match laid.is_empty() {
            true => None,
            false => Some(walk.state(&laid)?),
        };
        let rest = Class {
            materials: materials.to_vec(),
            walk: Some((walk.clone(), start)),
            ..class.clone()
        };
        let columns: Vec<Column> = boards
            .iter()
            .cloned()
            .chain(known.iter().map(|path| Column::Block(0, path.clone())))
            .collect();
        let mut master =
            Master::overlapping(model, vec![rest], &fixed, &columns, counts.clone(), 1);
        let room = target - spent;
        master.solve(room, room, stop);
        let bound = master.prices.as_ref()?.bound();
        if stop() || master.misses() || model.lift(bound + spent) >= target {
            return None;
        }
        boards = master.boards();
        let mut used = master.used_blocks();
        for (_, _, x) in &mut used {
            *x += 0.3 * noise.next();
        }
        used.sort_by(|a, b| b.2.total_cmp(&a.2));
        let (_, best, share) = used.first()?.clone();
        let n = if share > 0.99 && turn == 0 {
            best.len()
        } else {
            (best.len().div_ceil(AT_ONCE))
                .max(walk.memory())
                .min(best.len())
        };
        let taken = best[..n].to_vec();
        let takes = Takes::of(&taken, &model.run, &materials[..n], true);
        for &row in &takes.rows {
            fixed[usize::from(row)] += 1;
            if let Some((low, high)) = counts.pieces.get_mut(usize::from(row)) {
                *low = (*low - 1).max(0);
                *high -= 1;
            }
        }
        let joints = takes.joints.len() as i64;
        counts.joints.0 = (counts.joints.0 - joints).max(0);
        counts.joints.1 -= joints;
        spent += joints * model.weights.joint;
        known = used
            .into_iter()
            .filter(|(_, path, _)| path[..n] == taken[..] && n < path.len())
            .map(|(_, path, _)| path[n..].to_vec())
            .collect();
        laid.extend(taken);
        if counts.joints.1 < 0 || counts.pieces.iter().any(|p| p.1 < 0) {
            return None;
        }
    }
    lay(model, laid, &counts, stop).filter(|laid| laid.weight < target)
}

/// The plan of some courses, cut from no more boards than these counts have.
pub(super) fn lay(
    model: &Model,
    courses: Path,
    counts: &Counts,
    stop: &dyn Fn() -> bool,
) -> Option<Laid> {
    let mut wanted = model.extra.clone();
    for row in Takes::of(&courses, &model.run, &model.materials, false).rows {
        wanted[usize::from(row)] += 1;
    }
    let limits: Vec<i64> = counts.boards.iter().map(|b| b.1).collect();
    let blocks = vec![(0, courses.clone(), 1)];
    let answer = round::cut(model, blocks, &wanted, Some(&limits), stop)?;
    Some(Laid {
        weight: answer.weight,
        courses,
        boards: answer.boards,
    })
}

/// The plan of some courses and boards that hold their pieces.
pub(super) fn laid(model: &Model, courses: Path, boards: Vec<(usize, Filling, i64)>) -> Laid {
    let joints: usize = courses.iter().map(Vec::len).sum();
    Laid {
        weight: round::weight(model, &boards) + joints as i64 * model.weights.joint,
        courses,
        boards,
    }
}
