//! The search where the joints of the courses come round again: one round is one
//! block, so that every answer is a plan. Blocks are cut one by one, then branched on.
//! Where a round is too wide for that, parts of it give the bound and families of joints
//! give plans.

use std::sync::Arc;

use super::attempts::MOST_STEPS;
use super::budget::Budget;
use super::class::{Class, Ways};
use super::counts::Counts;
use super::direct::direct;
use super::families::{Colours, Family, dive};
use super::finite::Answer;
use super::master::Master;
use super::model::Model;
use super::search::{Aim, Laid, Searched, State, Tell};
use super::single::{Spend, single};
use crate::job::JointRules;
use crate::joints::{Block, Place, TooLarge};

/// Courses of a round that is looked at in parts.
const WIDEST_PART: usize = 6;
/// Families of joints that are tried.
const FAMILIES: usize = 4;
/// What part of the work on a program is spent on each.
const PART: u64 = 5;

/// After how many courses the joints come round again, where there are more.
pub(crate) fn round_of(rules: &JointRules, courses: usize) -> Option<usize> {
    let round = usize::try_from(rules.repeat?).ok()?;
    (round < courses).then_some(round)
}

/// Searches for the lightest plan whose courses repeat after so many.
pub(crate) fn search(
    model: &Model,
    rules: &JointRules,
    round: usize,
    budget: Budget,
    stop: &dyn Fn() -> bool,
    tell: &Tell,
) -> Searched {
    let nothing = Searched {
        best: None,
        bound: model.conceivable.saturating_add(1),
        proof: None,
    };
    let task = Task {
        model,
        rules,
        round,
    };
    let widths = [round]
        .into_iter()
        .chain((1..=WIDEST_PART.min(round - 1)).rev());
    let mut parts = widths.map(|width| task.classes(width, MOST_STEPS));
    let classes = match parts.find_map(Result::ok) {
        Some(Some(classes)) => classes,
        Some(None) => return nothing,
        None => {
            return Searched {
                bound: 0,
                ..nothing
            };
        }
    };
    let mut guide = Master::new(model, classes, &model.extra, &[]);
    guide.solve(model.conceivable, i64::MAX, stop);
    let bound = match &guide.prices {
        Some(prices) => model.lift(prices.bound()),
        None => return nothing,
    };
    if bound > model.conceivable {
        return nothing;
    }
    tell(None, bound);
    // A shorter round that goes into this one is such a round too.
    let shorter =
        [2, 3, 5, 7].map(|part| (round.is_multiple_of(part) && round > part).then(|| round / part));
    let mut less = budget;
    if round > 6 {
        less.closing.limits.nodes /= 3;
    }
    let mut best: Option<Laid> = None;
    for shorter in shorter.into_iter().flatten() {
        let found = search(model, rules, shorter, less, stop, &|_, _| {});
        best = lighter(best, found.best);
    }
    let leads = |best: &Option<Laid>, bound: i64| {
        stop() || best.as_ref().is_some_and(|best| best.weight <= bound)
    };
    let mut tried: Vec<Family> = Vec::new();
    for turn in 0..budget.families.min(FAMILIES) {
        if round < 3 || leads(&best, bound) {
            break;
        }
        if let Some(family) = task.family(&guide, turn, stop)
            && !tried.contains(&family)
        {
            best = lighter(best, task.of_family(&family, budget, stop));
            tell(best.as_ref(), bound);
            tried.push(family);
        }
    }
    if guide.classes.len() > 1 || leads(&best, bound) {
        return Searched {
            bound: best.as_ref().map_or(bound, |best| bound.min(best.weight)),
            best,
            proof: None,
        };
    }
    let spend = Spend {
        cuts: budget.closing.limits.nodes as usize / [1, 1, 1, 3, 20][round.min(4)],
        each: budget.other,
    };
    let lay = |lots: &[Vec<Place>]| task.in_order(lots);
    let found = single(&guide, best, spend, stop, tell, &lay);
    let mut state = State::new(model, rules, budget, stop, tell, found.bound);
    state.offer(found.best, 0, Aim::Both);
    state.by_rounds(&guide, &lay);
    Searched {
        bound: state.bound.min(state.weight()),
        best: state.best,
        proof: None,
    }
}

/// The lighter of two plans.
fn lighter(one: Option<Laid>, other: Option<Laid>) -> Option<Laid> {
    match (one, other) {
        (Some(one), Some(other)) if other.weight < one.weight => Some(other),
        (Some(one), _) => Some(one),
        (None, other) => other,
    }
}

pub(super) struct Task<'a> {
    model: &'a Model,
    rules: &'a JointRules,
    round: usize,
}

impl Task<'_> {
    /// The round in parts of a width; nothing when one of them cannot be laid.
    fn classes(&self, width: usize, most: usize) -> Result<Option<Vec<Class>>, TooLarge> {
        let mut classes = Vec::new();
        for first in (0..self.round).step_by(width) {
            let places = first..(first + width).min(self.round);
            let (run, materials) = (&self.model.run, &self.model.materials);
            let block =
                Block::repeating(run, self.rules, materials, self.round, places.clone(), most)?;
            let Some(block) = block else {
                return Ok(None);
            };
            let alike = places.flat_map(|place| {
                let lot = materials.iter().skip(place).step_by(self.round);
                lot.map(move |&material| (material, place))
            });
            let (materials, colours): (Vec<u16>, Vec<usize>) = alike.unzip();
            classes.push(Class {
                colours,
                ..Class::new(Ways::Block(Arc::new(block)), materials)
            });
        }
        Ok(Some(classes))
    }

    /// A family of joints for the courses of the round, read off a relaxation.
    fn family(&self, guide: &Master, turn: usize, stop: &dyn Fn() -> bool) -> Option<Family> {
        let colours = Colours {
            period: self.round,
            cyclic: true,
            rules: self.rules,
            run: &self.model.run,
        };
        let at_most = self.model.conceivable;
        let counts = Counts::all(self.model, at_most);
        dive(guide, &colours, turn, at_most, &counts, stop)
    }

    /// The lightest plan of a family: each course of the round by itself.
    fn of_family(&self, family: &Family, budget: Budget, stop: &dyn Fn() -> bool) -> Option<Laid> {
        let mut classes = self.classes(1, usize::MAX).ok()??;
        for class in &mut classes {
            let joints = class.colours.iter().map(|&colour| family[colour].clone());
            class.allowed = Some(joints.collect());
        }
        let lay = |answer: &Answer| {
            let mut blocks: Vec<_> = answer.blocks.iter().collect();
            blocks.sort_by_key(|(class, _, _)| *class);
            let lots: Vec<_> = blocks
                .into_iter()
                .flat_map(|block| block.1.clone())
                .collect();
            self.in_order(&lots)
        };
        let mut work = budget.other;
        work.limits.work = work.limits.work.div_ceil(PART);
        work.limits.nodes = work.limits.nodes.div_ceil(PART);
        direct(self.model, classes, work, stop, &|_, _| {}, &lay).best
    }

    /// The joints of all courses as they lie, from those at the first place of a
    /// round, then those at the next one, and so on.
    pub(super) fn in_order(&self, lots: &[Vec<Place>]) -> Vec<Vec<Place>> {
        let mut lots = lots.iter();
        let count = self.model.materials.len();
        let mut courses = vec![Vec::new(); count];
        for place in 0..self.round {
            for at in (place..count).step_by(self.round) {
                if let Some(joints) = lots.next() {
                    courses[at].clone_from(joints);
                }
            }
        }
        courses
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// The solved relaxation of a model's round, and the task that it is of.
    pub(crate) fn relaxed<'a>(
        model: &'a Model,
        rules: &'a JointRules,
    ) -> Option<(Master<'a>, Task<'a>)> {
        let round = round_of(rules, model.materials.len())?;
        let task = Task {
            model,
            rules,
            round,
        };
        let classes = task.classes(round, MOST_STEPS).ok()??;
        let mut root = Master::new(model, classes, &model.extra, &[]);
        root.solve(model.conceivable, i64::MAX, &|| false);
        Some((root, task))
    }
}
