//! The search where every answer of the integer program is a plan as it stands,
//! because nothing is left to be put in order. It is given the classes and how
//! an answer is laid.

use super::finite::{Answer, Work, close};
use super::master::{Class, Master};
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
    let Some(prices) = &root.prices else {
        return Searched {
            best: None,
            bound: unreachable,
            proof: None,
        };
    };
    let mut bound = model.lift(prices.bound()).min(unreachable);
    let mut best: Option<Laid> = None;
    if bound <= model.conceivable {
        tell(None, bound);
        best = round(&root, stop).map(laid);
    }
    let unit = model.weights.unit;
    loop {
        let weight = best.as_ref().map_or(unreachable, |best| best.weight);
        if best.is_some() {
            tell(best.as_ref(), bound);
        }
        if bound >= weight || stop() {
            break;
        }
        // First to the next lower value of the primary objective.
        let primary = weight / unit * unit;
        let target = if bound < primary { primary } else { weight };
        let closed = close(&root, target, work, stop);
        let raised = closed.bound.min(weight) > bound;
        bound = bound.max(closed.bound.min(weight));
        match closed.better {
            Some(answer) => best = Some(laid(answer)),
            None if raised && target < weight && bound >= target => {}
            None => break,
        }
    }
    let weight = best.as_ref().map_or(unreachable, |best| best.weight);
    // Other blocks than the courses in their order are not re-checkable.
    let re_checkable = root.classes.is_empty();
    Searched {
        proof: re_checkable.then(|| proof(model, prices, 1)),
        bound: bound.min(weight),
        best,
    }
}
