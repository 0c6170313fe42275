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
use super::counts::Counts;
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
/// What part of the work on all counts is spent on some.
const OF_ONE: u64 = 4;
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
    /// Whether those are plans of any counts.
    whole: bool,
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
        let (boards, spend) = (tree.master.boards(), self.of_all());
        self.through(&walks, reach, &boards, None, spend);
    }

    /// The same over plans of no more boards than some, of counts that weigh `bound` at
    /// least; what they weigh at least.
    pub(super) fn by_circuits_of(
        &mut self,
        tree: &mut Tree<'a>,
        only: &Pieces,
        counts: &Counts,
        boards: &[i64],
        bound: i64,
    ) -> i64 {
        if self.model.weights.doubled > 0 {
            return bound;
        }
        let (last, steps) = (self.last(), self.budget.circuits.columns);
        // Boards are listed as if none had to be bought.
        let mut counts = counts.up_to(boards, None);
        let least = counts.boards.iter_mut().chain(&mut counts.split);
        least.for_each(|bounds| bounds.0 = 0);
        let mut relaxed = counts.clone();
        let (of_counts, _) = tree.relax(&mut relaxed, last + 1, Aim::Primary, self.stop);
        if (self.stop)() {
            return bound;
        }
        if of_counts > last {
            return last + 1;
        }
        let known = tree.tight.as_ref().filter(|_| tree.walk().is_some());
        let walks = match known {
            Some(walks) => Ok(Some(Walks::Each(walks.classes.clone()))),
            None => self.all_walks(tree, only, last + 1, steps),
        };
        let walks = match walks {
            Ok(Some(walks)) => walks,
            // Nothing of these counts is lighter.
            Ok(None) => return last + 1,
            Err(TooLarge) => return bound,
        };
        let mut spend = Spend {
            apart: self.budget.along / OF_ONE,
            whole: false,
            ..self.of_all()
        };
        spend.work.limits.work = spend.work.limits.work.div_ceil(OF_ONE);
        spend.work.columns = spend.work.columns.div_ceil(OF_ONE as usize);
        let boards = tree.master.boards();
        let least = self.through(&walks, last, &boards, Some(&counts), spend);
        least.max(bound)
    }

    fn of_all(&self) -> Spend {
        Spend {
            work: self.budget.circuits,
            apart: self.budget.apart,
            all: true,
            whole: true,
        }
    }

    /// The same by all walks that a plan of some counts up to some weight can be; what
    /// such plans weigh at least.
    fn through(
        &mut self,
        walks: &Walks,
        reach: i64,
        boards: &[Column],
        counts: Option<&Counts>,
        spend: Spend,
    ) -> i64 {
        let (gathered, classes) = match walks {
            Walks::Each(classes) => (None, classes.clone()),
            Walks::Gathered(gathered) => (Some(gathered), self.all_along(&gathered.walk)),
        };
        let model = self.model;
        let master = match counts {
            Some(counts) => Master::counting(model, classes, &model.extra, boards, counts.clone()),
            None => Master::new(model, classes, &model.extra, boards),
        };
        self.among(master, reach, gathered, spend)
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
            whole: false,
        };
        let (model, classes) = (self.model, self.all_along(&gathered.walk));
        let master = Master::new(model, classes, &model.extra, boards);
        self.among(master, self.last(), Some(gathered), spend);
    }

    /// The same over the walks of a relaxation up to some weight, and what they weigh at
    /// least. Where those are all, that raises the bound.
    fn among(
        &mut self,
        mut master: Master<'a>,
        reach: i64,
        gathered: Option<&Gathered>,
        spend: Spend,
    ) -> i64 {
        let model = self.model;
        master.solve(reach, reach, self.stop);
        let walk = master.classes.first().and_then(|class| class.walk());
        let (Some(prices), Some(walk)) = (&master.prices, walk) else {
            return self.bound;
        };
        // Nothing among these walks weighs less; of heavier plans they say nothing.
        let mut floor = self.bound.max(model.lift(prices.bound()).min(reach + 1));
        if spend.whole {
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
                return floor;
            }
            cutoff = model.level(cutoff).min(farthest);
            let cost = prices.least[0].saturating_add(prices.gap(cutoff));
            let most = spend.work.columns;
            let near = |cost: i64| walk.near(&prices.path, &model.materials, cost, most);
            let Ok(mut listed) = near(cost) else {
                if cutoff >= too_many {
                    return floor;
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
            if spend.whole {
                self.raise(floor);
            }
            if !settled || cutoff == farthest {
                return floor;
            }
            share = if share >= 0.4 { 1.0 } else { share * 3.0 };
        }
        floor
    }

    /// The most that a plan of a better primary objective weighs.
    fn last(&self) -> i64 {
        self.target(Aim::Primary) - 1
    }

    /// The walks over all courses up to some weight, the target's if they are not too many,
    /// and that weight; nothing where there are always too many.
    fn reached(&mut self, tree: &Tree<'a>, only: &Pieces) -> Option<(Walks, i64)> {
        let steps = self.budget.circuits.columns;
        let mut share = 1.0;
        while share >= SHORTEST && self.bound <= self.last() && !(self.stop)() {
            let last = self.last();
            let room = (last - self.bound) as f64;
            let reach = (self.bound + (room * share) as i64).min(last);
            match self.all_walks(tree, only, reach + 1, steps) {
                Ok(Some(walks)) => return Some((walks, reach)),
                Ok(None) => self.raise(reach + 1),
                Err(TooLarge) => share /= 8.0,
            }
        }
        None
    }

    /// The walks over all courses that a plan lighter than `target` can be, of the counts
    /// that a tree is relaxed at; gathered ones where they are too many.
    fn all_walks(
        &self,
        tree: &Tree<'a>,
        only: &Pieces,
        target: i64,
        steps: usize,
    ) -> Result<Option<Walks>, TooLarge> {
        match self.walks(tree, only, target, steps) {
            Ok(classes) => Ok(classes.map(Walks::Each)),
            Err(TooLarge) => {
                let gathered = self.within(tree, target, |slots| {
                    Gathered::within(&self.model.run, self.rules, only, slots, steps)
                });
                gathered?.map(Walks::Gathered).ok_or(TooLarge).map(Some)
            }
        }
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
            whole: false,
            ..spend
        };
        let classes = self.all_along(&Arc::new(walk));
        let boards = circuits.master.boards();
        let master = Master::new(model, classes, &model.extra, &boards);
        self.among(master, self.last(), None, few);
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
                        let (boards, spend) = (tree.master.boards(), state.of_all());
                        state.through(&Walks::Gathered(walks), reach, &boards, None, spend);
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

    /// Walks of just some boards, those of the best plan and one less, beside a search that
    /// knows no circuits and has no more boards.
    #[test]
    fn walks_of_some_boards_bound_plans_of_those() {
        let mut without = Budget::FULL;
        without.circuits.columns = 0;
        let (mut reached, mut refuted) = (0, 0);
        for n in 0..12 {
            let job = nth(n);
            let rules = &job.joints;
            let model = Model::new(&job, 0, Objective::Cost).expect("a model");
            let best = search(&model, rules, without, &|| false, &|_, _| {}).best;
            let classes = first_classes(&model, rules, None, 100_000);
            let (Some(best), Some((_, classes))) = (best, classes) else {
                continue;
            };
            let mut boards = vec![0; model.kinds.len()];
            best.boards
                .iter()
                .for_each(|board| boards[board.0] += board.2);
            let all = Counts::all(&model, model.conceivable);
            let mut tree = Tree::over(&model, classes, &[], all.clone(), 0);
            let only = Pieces::all(&model.run);
            let known = first(&model, rules, &|| false);
            for less in [0, 1] {
                let most = boards.iter_mut().max().expect("boards");
                *most -= less;
                let mut limited = model.clone();
                for (kind, &limit) in limited.kinds.iter_mut().zip(&boards) {
                    kind.limit = Some(limit);
                }
                let found = search(&limited, rules, without, &|| false, &|_, _| {});
                let mut state = State::new(&model, rules, Budget::FULL, &|| false, &|_, _| {}, 0);
                state.offer(known.clone(), 0, Aim::Both);
                let target = state.target(Aim::Primary);
                let least = state.by_circuits_of(&mut tree, &only, &all, &boards, 0);
                let level = |weight: i64| model.at_level(weight);
                if let Some(best) = found.best.filter(|best| best.weight < target) {
                    let least = level(least.min(state.weight()));
                    assert!(least <= level(best.weight), "deck {n}, {less} less");
                    reached += i32::from(least == level(best.weight));
                } else if found.bound >= target {
                    refuted += i32::from(least >= target);
                }
                assert!(level(state.weight()) >= level(best.weight), "deck {n}");
            }
        }
        assert!(reached > 3 && refuted > 2, "{reached} {refuted}");
    }
}
