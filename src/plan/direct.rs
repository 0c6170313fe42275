//! The search where every answer of the integer program is a plan as it stands,
//! because nothing is left to be put in order. It is given the classes and how
//! an answer is laid.

use super::class::Class;
use super::finite::{Answer, Work, close};
use super::master::Master;
use super::model::Model;
use super::proof::proof;
use super::round::round;
use super::search::{Laid, Searched, Tell};
use crate::joints::Place;

/// Searches for the lightest answer of some classes.
pub(crate) fn direct(
    model: &Model,
    classes: Vec<Class>,
    work: Work,
    stop: &dyn Fn() -> bool,
    tell: &Tell,
    lay: &dyn Fn(&Answer) -> Vec<Vec<Place>>,
) -> Searched {
    let unreachable = model.conceivable.saturating_add(1);
    let laid = |answer: Answer| Laid {
        weight: answer.weight,
        courses: lay(&answer),
        boards: answer.boards,
    };
    let mut root = Master::new(model, classes, &model.extra, &[]);
    root.solve(model.conceivable, i64::MAX, stop);
    let (best, bound) = settle(&root, unreachable, work, stop, &|answer, bound| {
        tell(answer.cloned().map(laid).as_ref(), bound);
    });
    // Other blocks than the courses in their order are not re-checkable.
    let prices = root.prices.as_ref().filter(|_| root.classes.is_empty());
    Searched {
        best: best.map(laid),
        bound,
        proof: prices.map(|prices| proof(model, prices, 1)),
    }
}

/// The lightest answer over the classes of a solved relaxation that is lighter
/// than `cutoff`, and what no answer is lighter than, `cutoff` at most.
pub(crate) fn settle(
    root: &Master,
    cutoff: i64,
    work: Work,
    stop: &dyn Fn() -> bool,
    tell: &dyn Fn(Option<&Answer>, i64),
) -> (Option<Answer>, i64) {
    let model = root.model;
    let Some(prices) = &root.prices else {
        return (None, cutoff);
    };
    let mut bound = model.lift(prices.bound()).min(cutoff);
    let mut best: Option<Answer> = None;
    if bound < cutoff {
        tell(None, bound);
        best = round(root, stop).filter(|answer| answer.weight < cutoff);
    }
    let unit = model.weights.unit;
    loop {
        let weight = best.as_ref().map_or(cutoff, |best| best.weight);
        if best.is_some() {
            tell(best.as_ref(), bound);
        }
        if bound >= weight || stop() {
            return (best, bound.min(weight));
        }
        // First to the next lower value of the primary objective.
        let primary = weight / unit * unit;
        let target = if bound < primary { primary } else { weight };
        let closed = close(root, target, work, stop);
        let raised = closed.bound.min(weight) > bound;
        bound = bound.max(closed.bound.min(weight));
        match closed.better {
            Some(answer) => best = Some(answer),
            None if raised && target < weight && bound >= target => {}
            None => return (best, bound),
        }
    }
}
