//! Plans laid course by course along walks: the relaxation of what is left goes on
//! from the courses laid last, so that whatever is laid can be finished.

use super::class::{Class, Ways};
use super::counts::Counts;
use super::dive::{Noise, Rest};
use super::master::{Column, Master};
use super::search::Laid;
use crate::joints::{Path, Place};

/// A part of a walk's courses that is laid at once, at most.
const AT_ONCE: usize = 4;

/// A plan lighter than `target` of some counts, laid by walks from the first
/// course on.
pub(super) fn dive(
    walks: &Master,
    counts: &Counts,
    target: i64,
    turn: u64,
    stop: &dyn Fn() -> bool,
) -> Option<Laid> {
    let model = walks.model;
    let class = walks.classes.first()?;
    let walk = class.walk()?;
    let mut noise = Noise::new(turn);
    let mut laid: Vec<Vec<Place>> = Vec::new();
    let mut rest = Rest::new(model, &[0], counts);
    let mut columns = walks.whole_columns();
    while laid.len() < model.materials.len() {
        let start = match laid.is_empty() {
            true => None,
            false => Some(walk.state(&laid)?),
        };
        let left = Class {
            materials: model.materials[laid.len()..].to_vec(),
            ways: Ways::Walk(walk.clone(), start),
            ..class.clone()
        };
        let counts = rest.counts.clone();
        let mut master = Master::overlapping(model, vec![left], &rest.fixed, &columns, counts, 1);
        let room = target - rest.spent;
        master.solve(room, room, stop);
        let bound = master.prices.as_ref()?.bound();
        if stop() || master.misses() || model.lift(bound + rest.spent) >= target {
            return None;
        }
        let mut used = master.used_blocks();
        for (_, _, x) in &mut used {
            *x += 0.3 * noise.next();
        }
        used.sort_by(|a, b| b.2.total_cmp(&a.2));
        let (_, best, share) = used.first()?;
        let n = match *share > 0.99 && turn == 0 {
            true => best.len(),
            false => (best.len().div_ceil(AT_ONCE))
                .max(walk.memory())
                .min(best.len()),
        };
        let taken: Path = best[..n].to_vec();
        rest.take(model, &master.classes, 0, &taken, 1);
        let on = used.iter().filter(|(_, path, _)| path[..n] == taken[..]);
        let on = on.map(|(_, path, _)| Column::Block(0, path[n..].to_vec()));
        columns = master.boards().into_iter().chain(on).collect();
        laid.extend(taken);
    }
    let answer = rest.cut(model, stop)?;
    (answer.weight < target).then_some(Laid {
        weight: answer.weight,
        courses: laid,
        boards: answer.boards,
    })
}
