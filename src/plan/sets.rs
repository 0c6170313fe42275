//! The cheapest sets of supports: single courses weigh what their supports cost as well,
//! each support a column of its own, so that whole sets come of one integer program,
//! cheapest first. Each is searched as a plain problem and barred, and the search goes on
//! where it was, until no set is left that a lighter plan could have. How the plain problem
//! is searched is left to `carrying`.

use super::carrying::{MORE, MOST_TIMES};
use super::model::Model;
use super::search::{Aim, State};
use super::stretches::{Courses, ranges};
use super::tree::Tree;
use crate::program::ExtraRow;
use crate::program::branch::Program;
use crate::program::decide::Decision;
use crate::program::widen::Part;

/// Columns that are few.
const FEW: usize = 1000;
/// Sets of supports that are searched one after another.
const MOST_SETS: usize = 2_000;

/// Sets of supports that were searched, and the search for more.
#[derive(Default)]
pub(super) struct Sets {
    searched: Vec<Searched>,
    courses: Option<Courses>,
    paused: Option<Open>,
}

/// A search for sets that has met a limit.
struct Open {
    program: Program,
    cutoff: i64,
    decision: Decision,
}

/// A set that was searched, how much was spent on it, and what its plans weigh at least.
struct Searched {
    set: Vec<bool>,
    times: u64,
    least: i64,
}

impl Sets {
    /// The search that has met a limit, for plans lighter than a target.
    fn resumed(&mut self, target: i64) -> Option<Open> {
        let mut open = self.paused.take()?;
        open.cutoff = open.cutoff.min(target - 1);
        Some(open)
    }

    /// What plans on the sets that were searched weigh at least, if not settled.
    fn stuck(&self) -> i64 {
        let least = self.searched.iter().map(|searched| searched.least);
        least.min().unwrap_or(i64::MAX)
    }
}

impl<'a> State<'a> {
    /// Raises the bound, and finds plans, by the cheapest sets of supports, for so many
    /// times the usual work.
    pub(super) fn by_sets(&mut self, tree: &Tree<'a>, sets: &mut Sets, times: u64) {
        let model = self.model;
        if self.best.is_none() || self.done() {
            return;
        }
        let (root, _) = self.root(tree);
        let target = self.target(Aim::Primary);
        let Some(prices) = &root.prices else { return };
        let known = sets.courses.take();
        let new = || Courses::new(&root, prices, self.rules, target);
        let Some(mut courses) = known.or_else(new) else {
            return;
        };
        let mut plain = model.plain();
        let enough = model.spent() + self.budget.total / 4;
        let mut work = self.budget.stretches;
        work.limits.nodes *= times;
        work.limits.work *= times;
        let lift = |bound| model.level(bound);
        let mut bound = lift(prices.bound());
        let mut part = Part::first();
        // How many boards of each kind there are comes before all else.
        let deciding = 0..model.kinds.len() + ranges(model.run.joints.len()).len();
        let mut kept = None;
        let mut last = 0;
        while bound < self.target(Aim::Primary) && !self.spent() && model.spent() < enough {
            let target = self.target(Aim::Primary);
            let mut list = |cutoff, most| {
                let listed = courses.list(&root, prices, &mut kept, cutoff, most);
                listed.map(|(program, _)| Open {
                    decision: Decision::of(&program, deciding.clone()),
                    program,
                    cutoff,
                })
            };
            let resumed = sets.resumed(target);
            let all = resumed.or_else(|| list(target - 1, FEW.max(last * 2)));
            let open = all.or_else(|| list(part.cutoff(bound, target), work.columns));
            let mut open = match open {
                Some(open) => open,
                None if part.less() => continue,
                None => break,
            };
            let left = model.left_to_branch(self.budget.total).div_ceil(1_000_000);
            work.limits.work = work.limits.work.min(left);
            let stop = self.stop;
            let mut judging = Judging {
                state: self,
                sets,
                courses: &mut courses,
                plain: &mut plain,
                enough,
            };
            let mut judge = |values: &[(usize, i64)]| judging.judge(values);
            let (program, cutoff) = (&open.program, open.cutoff);
            let decision = &mut open.decision;
            let found = decision.go_on(program, cutoff, &lift, work.limits, stop, &mut judge);
            model.branched(found.work);
            last = program.columns.len();
            let proven = found.proven(cutoff.min(self.target(Aim::Primary) - 1));
            bound = bound.max(lift(proven));
            self.raise_by(sets, bound);
            if !found.finished {
                sets.paused = Some(open).filter(|open| open.decision.is_open());
                break;
            }
            part.more();
        }
        sets.courses = Some(courses);
        self.search_again(sets, bound, &mut plain, enough);
    }

    /// Searches sets that were not settled once more where nothing else weighs as little.
    fn search_again(&mut self, sets: &mut Sets, bound: i64, plain: &mut Model, enough: u64) {
        loop {
            let target = self.target(Aim::Primary).min(bound);
            let open = sets.searched.iter_mut().min_by_key(|s| s.least);
            let Some(open) = open.filter(|s| s.least < target && s.times < MOST_TIMES) else {
                break;
            };
            if self.spent() || self.model.spent() >= enough {
                break;
            }
            open.times *= MORE;
            let (laid, least) = self.on_supports(plain, &open.set, open.times);
            open.least = least.max(open.least);
            self.offer(laid, 0, Aim::Both);
        }
        self.raise_by(sets, bound);
    }

    /// Raises the bound where sets that were not searched are bounded so.
    fn raise_by(&mut self, sets: &Sets, bound: i64) {
        let bound = self.model.at_level(bound).min(sets.stuck());
        // What is no better in the primary objective was left alone.
        self.raise(bound.min(self.target(Aim::Primary)));
    }
}

/// What looks at the answers of one program.
struct Judging<'s, 'a> {
    state: &'s mut State<'a>,
    sets: &'s mut Sets,
    courses: &'s mut Courses,
    plain: &'s mut Model,
    enough: u64,
}

impl Judging<'_, '_> {
    /// Searches the set that is paid for and bars it.
    fn judge(&mut self, values: &[(usize, i64)]) -> Option<(ExtraRow, i64)> {
        let model = self.state.model;
        let state = &mut *self.state;
        let set = self.courses.paid(model, values);
        let known = self.sets.searched.iter().any(|known| known.set == set);
        let spent = state.spent() || model.spent() >= self.enough;
        if known || spent || self.sets.searched.len() >= MOST_SETS {
            return None;
        }
        let (laid, least) = state.on_supports(self.plain, &set, 1);
        state.offer(laid, 0, Aim::Both);
        let row = self.courses.barring(&set);
        self.courses.barred.push(set.clone());
        self.sets.searched.push(Searched {
            set,
            times: 1,
            least,
        });
        Some((row, state.target(Aim::Primary) - 1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::budget::Budget;
    use crate::plan::counts::Counts;
    use crate::plan::decks::{doubled, relaxed};
    use crate::plan::first::first;
    use crate::plan::search::search;

    /// Plans and bounds of sets alone, at once and in many small steps, beside those of the
    /// whole search.
    #[test]
    fn sets_come_to_the_lightest_plan() {
        let (mut settled, mut raised, mut paused) = (0, 0, 0);
        for n in 0..10 {
            let (job, model) = doubled(n);
            let rules = &job.joints;
            let searched = search(&model, rules, Budget::FULL, &|| false, &|_, _| {});
            let Some(best) = searched.best else { continue };
            let Some((root, relaxed)) = relaxed(&job, &model) else {
                continue;
            };
            for nodes in [4_000, 3] {
                let mut budget = Budget::FULL;
                budget.stretches.limits.nodes = nodes;
                let mut state = State::new(&model, rules, budget, &|| false, &|_, _| {}, 0);
                state.offer(first(&model, rules, &|| false), 0, Aim::Both);
                let all = Counts::all(&model, state.weight());
                let columns = root.whole_columns();
                let tree = Tree::over(&model, root.classes.clone(), &columns, all, relaxed);
                let mut sets = Sets::default();
                for _ in 0..30 {
                    state.by_sets(&tree, &mut sets, 1);
                    paused += i32::from(sets.paused.is_some());
                    assert!(
                        model.at_level(state.bound) <= model.at_level(best.weight),
                        "deck {n}"
                    );
                }
                assert!(state.weight() >= searched.bound, "deck {n}");
                raised += i32::from(state.bound > relaxed);
                settled += i32::from(state.bound >= state.target(Aim::Primary));
            }
        }
        assert!(
            settled > 12 && raised > 12 && paused > 12,
            "{settled} settled, {raised} raised, {paused} times paused"
        );
    }
}
