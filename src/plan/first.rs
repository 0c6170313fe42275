//! A plan and prices before any relaxation, for decks whose pieces are so many that the
//! first relaxation may take longer than somebody waits: a few courses that may
//! lie again and again, cheapest by what each piece costs cut from boards of one
//! kind by itself, over the whole deck; then the boards are a cutting problem of
//! their own. It knows nothing of what better plans share.

use super::class::Class;
use super::master::Column;
use super::model::Model;
use super::round;
use super::search::Laid;
use crate::job::JointRules;
use crate::joints::{Block, Path, PathCosts};
use crate::length::Length;

/// Lengths of pieces from which a relaxation takes long.
const MANY_LENGTHS: usize = 150;
/// Steps of the graph of the courses that lie again and again.
const MOST_STEPS: usize = 1_500_000;
/// Parts of one unit of weight that pieces are priced in.
const PARTS: i64 = 1_000;

/// A plan of repeating courses, if the deck has many different pieces and the
/// boards that can be had allow one this way.
pub(crate) fn first(model: &Model, rules: &JointRules, stop: &dyn Fn() -> bool) -> Option<Laid> {
    let count = model.materials.len();
    if model.rows < MANY_LENGTHS || stop() {
        return None;
    }
    let period = (rules.same_joist_after as usize + 1).max(2).min(count);
    let cyclic = period < count;
    let alike = vec![0; period];
    let block = Block::among(&model.run, rules, &alike, None, cyclic, MOST_STEPS);
    let costs = PathCosts {
        row: (0..model.run.lengths.len())
            .map(|row| alone(model, row))
            .collect(),
        joint: vec![model.weights.joint * PARTS; model.run.joints.len() + 1],
        course: Vec::new(),
    };
    let (_, path) = block.ok()??.cheapest(&costs, None, 0).into_iter().next()?;
    let courses: Path = path.iter().cycle().take(count).cloned().collect();
    round::laid(model, courses, None, stop)
}

/// The boards and blocks of a plan as columns of a relaxation over some classes.
pub(crate) fn columns(laid: &Laid, model: &Model, classes: &[Class]) -> Vec<Column> {
    let boards = laid.boards.iter();
    let boards = boards.map(|(kind, filling, _)| Column::Board(*kind, filling.clone()));
    let mut columns: Vec<Column> = boards.collect();
    let width = classes.iter().map(|c| c.materials.len()).max().unwrap_or(1);
    let blocks = laid
        .courses
        .chunks(width)
        .zip(model.materials.chunks(width));
    for (courses, materials) in blocks {
        let of = |class: &Class| class.materials == materials;
        if let Some(q) = classes.iter().position(of) {
            columns.push(Column::Block(q, courses.to_vec()));
        }
    }
    columns
}

/// Prices of so many rows by length alone, as much as the cheapest board allows:
/// not good, but never far off, and known before anything is solved; nothing where
/// the relaxation is soon solved.
pub(crate) fn even(model: &Model, rows: usize) -> Option<Vec<f64>> {
    if model.rows < MANY_LENGTHS {
        return None;
    }
    let long = |length: Length| (length + model.kerf).units().max(1) as f64;
    let kinds = model.kinds.iter();
    let rates = kinds.map(|kind| kind.cost as f64 / long(kind.usable));
    let rate = rates.fold(f64::INFINITY, f64::min);
    let mut prices = vec![0.0; rows];
    for (price, &length) in prices.iter_mut().zip(&model.lengths) {
        *price = rate * long(length);
    }
    Some(prices)
}

/// What a piece costs where boards of one kind hold nothing else, limited kinds
/// only where no other holds it; in parts.
fn alone(model: &Model, row: usize) -> i64 {
    let share = |k: usize| {
        let held = model.boards.holds(row, k);
        (held > 0).then(|| (model.kinds[k].cost * PARTS / held).max(1))
    };
    let least = |limited: bool| {
        let kinds = 0..model.kinds.len();
        kinds
            .filter(|&k| model.kinds[k].limit.is_some() == limited)
            .filter_map(share)
            .min()
    };
    // Paths are sums of some thousand such shares.
    least(false).or_else(|| least(true)).unwrap_or(1 << 40)
}
