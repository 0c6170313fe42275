//! Counts of boards settled by the numbers of pieces: where boards and joints are
//! whole but pieces of some length are not, their number is branched on, depth
//! first; where all are whole, the boards are a cutting problem of their own and
//! the courses a walk of just those pieces.

use itertools::Itertools;

use super::counts::Counts;
use super::direct::settle;
use super::master::{Filled, Master};
use super::round;
use super::search::{Aim, State};
use super::tree::{NEAR, Node, Tree};
use crate::stock::{StockError, search};

/// Places passed in search of a walk of just so many pieces.
const PASSED: usize = 100_000;

/// Looks for a plan of some counts: nothing when one is found that weighs no more
/// than `bound`, else what every plan of them weighs at least (the target or more
/// when there is none below it).
pub(super) fn by_pieces(
    state: &mut State,
    tree: &mut Tree,
    counts: Counts,
    bound: i64,
    aim: Aim,
) -> Option<i64> {
    let least_of_all = bound;
    let mut open = vec![(bound, counts)];
    let mut least = i64::MAX;
    let most = state.model.spent() + state.budget.pieces;
    while let Some((bound, mut counts)) = open.pop() {
        if counts.is_empty() || bound >= state.target(aim) {
            continue;
        }
        if state.model.spent() >= most || state.spent() {
            least = least.min(bound);
            continue;
        }
        let target = state.target(aim);
        let (found, node) = tree.relax(&mut counts, target, aim, state.stop);
        let bound = bound.max(found);
        match node {
            Node::Closed => continue,
            Node::Split(halves) => {
                open.extend(halves.into_iter().map(|half| (bound, half)));
                continue;
            }
            Node::Whole(..) => {}
        }
        let pieces = tree.pieces();
        let part = |x: f64| (x - x.round()).abs();
        let most = (0..pieces.len())
            .filter(|&row| part(pieces[row]) > NEAR)
            .max_by(|&a, &b| part(pieces[a]).total_cmp(&part(pieces[b])).then(b.cmp(&a)));
        if let Some(row) = most {
            let at = pieces[row].floor() as i64;
            let (mut few, mut many) = (counts.clone(), counts);
            few.pieces[row].1 = at;
            many.pieces[row].0 = at + 1;
            let halves = match pieces[row] - at as f64 > 0.5 {
                true => [few, many],
                false => [many, few],
            };
            open.extend(halves.map(|half| (bound, half)));
            continue;
        }
        let whole = pieces.iter().map(|x| x.round() as i64).collect_vec();
        let (boards, weight) = cut(state, &counts, &whole, target);
        let mut closed = weight >= target;
        if let (Some(boards), false) = (boards, closed) {
            let walk = tree.walk()?;
            let found = walk.of_pieces(&state.model.materials, &whole, PASSED);
            closed = matches!(found, Ok(None));
            if let Ok(Some(courses)) = found {
                let laid = round::of_boards(state.model, courses, boards);
                // What is as light as can be of these pieces may not be of others.
                if state.offer(Some(laid), least_of_all, aim) {
                    return None;
                }
                if state.target(aim) < target {
                    open.push((bound, counts));
                    continue;
                }
            }
        }
        if !closed {
            least = least.min(bound);
        }
        // The same boards with other pieces.
        let wide = (0..whole.len()).find(|&row| counts.pieces[row].0 < counts.pieces[row].1);
        if let Some(row) = wide {
            let (low, high) = counts.pieces[row];
            let n = whole[row];
            let mut parts = vec![(low, n - 1), (n + 1, high)];
            if closed {
                parts.push((n, n));
            }
            for range in parts {
                let mut part = counts.clone();
                part.pieces[row] = range;
                open.push((bound, part));
            }
        }
    }
    Some(least)
}

/// The cheapest boards that hold these pieces, if some are found that make a plan
/// lighter than `target`, and what every plan of these pieces weighs at least.
fn cut(state: &State, counts: &Counts, pieces: &[i64], target: i64) -> (Option<Filled>, i64) {
    let model = state.model;
    let joints = pieces.iter().sum::<i64>() - model.materials.len() as i64;
    let joints = joints * model.weights.joint;
    let limits = counts.boards.iter().map(|boards| boards.1).collect_vec();
    let wanted = pieces.iter().zip(&model.extra).map(|(a, b)| a + b);
    let wanted = wanted.collect_vec();
    let (rows, instance) = round::alone(model, &wanted, Some(&limits));
    if !model.splits.is_empty() || model.kinds.iter().any(|kind| kind.bundle > 1) {
        let alone = model.alone(instance.kinds, wanted);
        let mut root = Master::new(&alone, Vec::new(), &alone.extra, &[]);
        root.solve(alone.conceivable, i64::MAX, state.stop);
        let work = state.budget.other;
        let (best, bound) = settle(&root, target - joints, work, state.stop, &|_, _| {});
        model.spend(alone.spent().saturating_sub(model.spent()));
        return (best.map(|answer| answer.boards), bound + joints);
    }
    match search(&instance, i64::MAX, round::ALONE, state.stop, &|_, _, _| {}) {
        Ok(solved) => {
            let boards =
                (solved.cost + joints < target).then(|| round::in_rows(solved.cuts, &rows));
            (boards, solved.bound + joints)
        }
        Err(StockError::Stopped) => (None, 0),
        Err(_) => (None, i64::MAX),
    }
}
