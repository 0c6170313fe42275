//! The integer program over the steps of walks: how often each step from course to course
//! is taken, and the boards. Order is part of it: an answer is one walk through all
//! courses or, at worst, a shorter one and circuits beside it; then the walk crosses from
//! some courses to the others or lies among either alone, and all three are looked at.
//! Which walks a plan of some weight can be is known from the relaxation over blocks.

use std::cmp::Reverse;
use std::sync::Arc;

use itertools::Itertools;

use super::class::Class;
use super::classes::singles;
use super::finite::Work;
use super::master::{Column, Master};
use super::round;
use super::search::{Aim, State};
use super::steps::{Circuits, Part, Taken};
use super::tree::Tree;
use crate::joints::{Gathered, Pieces, TooLarge, Walk};
use crate::program::branch::solve;
use crate::program::widen::LEAST;

/// What part of the way to the target is looked at first.
const FIRST: f64 = 0.05;
/// Answers in groups that are put in order nevertheless, at some cost.
const ORDERS: u32 = 2;
/// Ways to take the steps of an answer that are tried.
const TRAILS: usize = 6;
/// The part of the way to the target that walks reach at least.
const SHORTEST: f64 = 0.01;

/// What is spent on walks.
#[derive(Clone, Copy)]
struct Spend {
    /// On each program.
    work: Work,
    /// Products on all up to each weight.
    apart: u64,
    /// Whether they are all that a lighter plan can be: then what there is not bounds, and
    /// answers in parts are put in order at some cost.
    all: bool,
}

/// The walks over all courses.
enum Walks {
    Each(Vec<Class>),
    Gathered(Gathered),
}

impl<'a> State<'a> {
    /// Looks for a plan of the best primary objective over all walks that a plan better
    /// than the one at hand can be, by a tree's relaxation of all counts, and raises the
    /// bound by what there is not.
    pub(super) fn by_circuits(&mut self, tree: &Tree<'a>, only: &Pieces) {
        let Some((walks, reach)) = self.reached(tree, only) else {
            return;
        };
        self.through(&walks, reach, &tree.master.boards());
    }

    /// The same by all walks that a plan up to some weight can be.
    fn through(&mut self, walks: &Walks, reach: i64, boards: &[Column]) {
        let (gathered, classes) = match walks {
            Walks::Each(classes) => (None, classes.clone()),
            Walks::Gathered(gathered) => (Some(gathered), self.all_along(&gathered.walk)),
        };
        let spend = Spend {
            work: self.budget.circuits,
            apart: self.budget.apart,
            all: true,
        };
        self.among(classes, boards, reach, gathered, spend);
    }

    fn all_along(&self, walk: &Arc<Walk>) -> Vec<Class> {
        vec![Class::walking(walk.clone(), &self.model.materials)]
    }

    /// Looks for such a plan among the walks of a few courses in any order of their pieces,
    /// of which a plan may be another.
    pub(super) fn among_gathered(&mut self, gathered: &Gathered, boards: &[Column]) {
        let spend = Spend {
            work: self.budget.few,
            apart: self.budget.along,
            all: false,
        };
        let classes = self.all_along(&gathered.walk);
        self.among(classes, boards, self.last(), Some(gathered), spend);
    }

    /// The same over the walks of some classes up to some weight. Where those are all, their
    /// relaxation and what there is not among them raise the bound.
    fn among(
        &mut self,
        classes: Vec<Class>,
        boards: &[Column],
        reach: i64,
        gathered: Option<&Gathered>,
        spend: Spend,
    ) {
        let model = self.model;
        let mut master = Master::new(model, classes, &model.extra, boards);
        master.solve(reach, reach, self.stop);
        let walk = master.classes.first().and_then(|class| class.walk());
        let (Some(prices), Some(walk)) = (&master.prices, walk) else {
            return;
        };
        // Nothing among these walks weighs less; of heavier plans they say nothing.
        let mut floor = self.bound.max(model.lift(prices.bound()).min(reach + 1));
        if spend.all {
            self.raise(floor);
        }
        let mut parts = vec![Part {
            bound: floor,
            ..Part::default()
        }];
        let mut orders = ORDERS;
        let mut share = FIRST;
        // From this weight on there are too many steps.
        let mut too_many = i64::MAX;
        while !self.done() && !self.spent() && floor <= reach.min(self.last()) {
            let farthest = reach.min(self.last());
            let part = |share: f64| floor + ((farthest - floor) as f64 * share) as i64;
            let mut cutoff = if share < 1.0 { part(share) } else { farthest };
            if cutoff >= too_many {
                share = (too_many - floor) as f64 / (farthest - floor) as f64 / 4.0;
                cutoff = part(share);
            }
            if share < LEAST {
                return;
            }
            cutoff = model.level(cutoff).min(farthest);
            let cost = prices.least[0].saturating_add(prices.gap(cutoff));
            let most = spend.work.columns;
            let near = |cost: i64| walk.near(&prices.path, &model.materials, cost, most);
            let Ok(mut listed) = near(cost) else {
                if cutoff >= too_many {
                    return;
                }
                too_many = cutoff;
                continue;
            };
            // Where nearly all steps are listed and no bound is sought, one program does.
            let all = prices.least[0].saturating_add(prices.gap(farthest));
            let widest = (!spend.all).then(|| near(all).ok()).flatten();
            if let Some(widest) = widest.filter(|w| w.steps.len() < listed.steps.len() * 2) {
                (cutoff, listed) = (farthest, widest);
            }
            let circuits = Circuits {
                master: &master,
                prices,
                walk,
                gathered,
                near: listed,
            };
            let settled = self.walked(&circuits, &mut parts, &mut orders, cutoff, spend);
            let least = parts.iter().map(|part| part.bound).min();
            floor = floor.max(least.map_or(cutoff + 1, |least| least.min(cutoff + 1)));
            if spend.all {
                self.raise(floor);
            }
            if !settled || cutoff == farthest {
                return;
            }
            share = if share >= 0.4 { 1.0 } else { share * 3.0 };
        }
    }

    /// The most that a plan of a better primary objective weighs.
    fn last(&self) -> i64 {
        self.target(Aim::Primary) - 1
    }

    /// The walks over all courses up to some weight, the target's if they are not too many,
    /// and that weight; nothing where there are always too many.
    fn reached(&mut self, tree: &Tree<'a>, only: &Pieces) -> Option<(Walks, i64)> {
        let (model, steps) = (self.model, self.budget.circuits.columns);
        let mut share = 1.0;
        while share >= SHORTEST && self.bound <= self.last() && !(self.stop)() {
            let last = self.last();
            let room = (last - self.bound) as f64;
            let reach = (self.bound + (room * share) as i64).min(last);
            match self.walks(tree, only, reach + 1, steps) {
                Ok(Some(classes)) => return Some((Walks::Each(classes), reach)),
                Ok(None) => self.raise(reach + 1),
                Err(TooLarge) => {
                    let gathered = self.within(tree, reach + 1, |slots| {
                        Gathered::within(&model.run, self.rules, only, slots, steps)
                    });
                    match gathered {
                        Ok(Some(gathered)) => return Some((Walks::Gathered(gathered), reach)),
                        _ => share /= 8.0,
                    }
                }
            }
        }
        None
    }

    /// The same for plans up to some weight; whether that is settled. What parts there are
    /// is kept, and what they weigh at least.
    fn walked(
        &mut self,
        circuits: &Circuits<'_, 'a>,
        parts: &mut Vec<Part>,
        orders: &mut u32,
        cutoff: i64,
        spend: Spend,
    ) -> bool {
        let (model, work) = (self.model, spend.work);
        let boards = circuits.master.boards();
        let singles = singles(model, self.rules, 1, None);
        let mut kept = None;
        let mut settled = true;
        let enough = model.spent() + spend.apart;
        while settled && !self.done() {
            let last = cutoff.min(self.last());
            // The one split off last among those of the least bound.
            let open = (0..parts.len()).filter(|&at| parts[at].bound <= last);
            let Some(at) = open.min_by_key(|&at| (parts[at].bound, Reverse(at))) else {
                break;
            };
            if model.spent() >= enough || self.spent() {
                settled = false;
                break;
            }
            let Some(listed) = circuits.list(&parts[at], last, work.columns, &mut kept) else {
                settled = false;
                break;
            };
            // What bounds all plans bounds these.
            let known = parts[at].bound.max(self.bound);
            let lift = |bound: i64| model.level(bound.max(known));
            let found = solve(&listed.program, last, &lift, work.limits, self.stop);
            model.branched(found.work);
            // What is found is the least of all where nothing is left open.
            let least = found.best.as_ref().map_or(last + 1, |best| best.0);
            let bound = known.max(model.at_level(found.bound.min(least)));
            parts[at].bound = bound;
            let Some(best) = found.best else {
                settled = bound > last;
                continue;
            };
            let (taken, filled) = listed.answer(best);
            if circuits.trail(&taken, 0).is_some() {
                let Some(courses) = (0..TRAILS).find_map(|turn| circuits.lay(&taken, turn)) else {
                    self.apiece(circuits, &taken, spend);
                    settled = false;
                    break;
                };
                // Nothing else of this part is lighter.
                self.offer(Some(round::of_boards(model, courses, filled)), 0, Aim::Both);
                continue;
            }
            let (apart, grouped) = circuits.apart(&taken);
            if apart.is_empty() {
                settled = false;
                break;
            }
            if spend.all && circuits.gathered.is_none() && (!grouped || *orders > 0) {
                *orders -= u32::from(grouped);
                let answer = circuits.courses(&taken, least, filled);
                let laid = self.ordered(&singles, &answer, &boards);
                if self.offer(laid, bound, Aim::Primary) {
                    continue;
                }
            }
            // The walk crosses from each group to its other spots, or lies in one of both.
            let mut with = parts.swap_remove(at);
            for group in apart {
                let mut within = with.clone();
                let others = circuits.near.spots().filter(|spot| !group.contains(spot));
                within.left_out.extend(others);
                let mut without = with.clone();
                without.left_out.extend(&group);
                parts.extend([within, without]);
                with.joined.push(group);
            }
            parts.push(with);
        }
        settled
    }

    /// Looks for such a plan among the walks of all courses that an answer's stand for,
    /// each by itself.
    fn apiece(&mut self, circuits: &Circuits<'_, 'a>, taken: &Taken, spend: Spend) {
        let model = self.model;
        let Some(gathered) = circuits.gathered else {
            return;
        };
        let groups = taken
            .spots()
            .flat_map(|spot| gathered.walk.patterns(spot.1));
        let courses = gathered.courses(groups.copied().unique());
        let most = spend.work.columns;
        let Ok(Some(walk)) = Walk::of(&model.run, self.rules, &courses, most) else {
            return;
        };
        let few = Spend {
            all: false,
            ..spend
        };
        let classes = self.all_along(&Arc::new(walk));
        self.among(classes, &circuits.master.boards(), self.last(), None, few);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::Job;
    use crate::length::Length;
    use crate::plan::budget::Budget;
    use crate::plan::counts::Counts;
    use crate::plan::decks::deck;
    use crate::plan::first::first;
    use crate::plan::model::Model;
    use crate::plan::search::{first_classes, search};
    use crate::plan::types::Objective;

    fn nth(n: i64) -> Job {
        let boards = [(8, 1_911 + 37 * n), (10, 2_503 - 11 * n), (14, 3_790)];
        let mut job = deck(n, 170 + 29 * (n % 7), 40 + 11 * (n % 5), boards);
        job.joints.stagger = Length::from_inches([16, 32, 24, 48][(n % 4) as usize]);
        job
    }

    /// Plans and bounds of walks beside those of a search that knows no circuits.
    #[test]
    fn the_lightest_walk_is_the_lightest_plan() {
        let mut without = Budget::FULL;
        without.circuits.columns = 0;
        let (mut settled, mut tied) = ([0; 2], [0; 2]);
        for n in 0..16 {
            let job = nth(n);
            let rules = &job.joints;
            let Ok(model) = Model::new(&job, 0, Objective::Cost) else {
                panic!("deck {n} is one that can be searched");
            };
            let searched = search(&model, rules, without, &|| false, &|_, _| {});
            let Some((_, classes)) = first_classes(&model, rules, None, 100_000) else {
                continue;
            };
            let Some(best) = searched.best else { continue };
            let all = Counts::all(&model, model.conceivable);
            let mut tree = Tree::over(&model, classes, &[], all.clone(), 0);
            let state = State::new(&model, rules, Budget::FULL, &|| false, &|_, _| {}, 0);
            let target = state.target(Aim::Primary);
            tree.relax(&mut all.clone(), target, Aim::Primary, &|| false);
            let only = Pieces::all(&model.run);
            for gathered in [false, true] {
                let mut state = State::new(&model, rules, Budget::FULL, &|| false, &|_, _| {}, 0);
                state.offer(first(&model, rules, &|| false), 0, Aim::Both);
                if gathered {
                    let reach = state.last();
                    let walks = state.within(&tree, reach + 1, |slots| {
                        Gathered::within(&model.run, rules, &only, slots, 30_000)
                    });
                    if let Ok(Some(walks)) = walks {
                        state.through(&Walks::Gathered(walks), reach, &tree.master.boards());
                    }
                } else {
                    state.by_circuits(&tree, &only);
                }
                let level = |weight: i64| model.at_level(weight);
                assert!(level(state.bound) <= level(best.weight), "deck {n}");
                assert!(level(state.weight()) >= level(searched.bound), "deck {n}");
                let at = usize::from(gathered);
                settled[at] += i32::from(state.bound > state.last());
                tied[at] += i32::from(level(state.weight()) == level(best.weight));
            }
        }
        for at in 0..2 {
            assert!(settled[at] > 7 && tied[at] > 7, "{settled:?} {tied:?}");
        }
    }
}
