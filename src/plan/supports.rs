//! Sets of supports: where a support that carries joints costs something, a relaxation
//! uses every support a little and pays for little of each. It is branched on how many
//! supports carry joints and which, until what is left is a plain problem on the paid
//! ones; the least of all that is left open is a bound. Sets that come of single courses
//! are left to `sets`, the plain problem on a set to `carrying`.

use std::collections::BTreeSet;

use super::carrying::{MORE, MOST_TIMES};
use super::counts::Counts;
use super::master::Master;
use super::search::{Aim, State};
use super::sets::Sets;
use super::tree::{NEAR, Tree};

/// Branches at most.
const MOST_NODES: usize = 3_000;

/// What is left to be looked at.
#[derive(Clone)]
enum Branch {
    /// Some counts of supports.
    Counts(Counts),
    /// The plain problem on a set of supports, with so many times the least work.
    Set(Vec<bool>, u64),
}

/// What is left open of branching on supports.
struct Branching<'a> {
    master: Master<'a>,
    blocks: Vec<i64>,
    /// What is open, by what its plans weigh at least.
    open: BTreeSet<(i64, usize)>,
    nodes: Vec<Branch>,
    /// The least of what was searched and not settled.
    stuck: i64,
}

impl<'a> Branching<'a> {
    /// Over the blocks of a relaxation; no plan weighs less than `bound`.
    fn over(root: &Master<'a>, bound: i64, at_most: i64) -> Branching<'a> {
        let model = root.model;
        let all = Counts::all(model, at_most).with_supports(model);
        let (classes, columns) = (root.classes.clone(), root.whole_columns());
        Branching {
            master: Master::counting(model, classes, &model.extra, &columns, all.clone()),
            blocks: root.classes.iter().map(|c| c.count).collect(),
            open: BTreeSet::from([(bound, 0)]),
            nodes: vec![Branch::Counts(all)],
            stuck: i64::MAX,
        }
    }
}

impl<'a> State<'a> {
    /// Plans whose joints lie on few supports, where those cost something, and bounds. The
    /// ways take turns, each for more work than before: none is the quickest everywhere.
    pub(super) fn by_supports(&mut self, tree: &Tree<'a>, root: &Master<'a>) {
        if self.model.weights.doubled == 0 {
            return;
        }
        let at_most = self.weight().min(self.model.conceivable);
        let mut branching = Branching::over(root, self.bound, at_most);
        let mut sets = Sets::default();
        self.by_sets(tree, &mut sets, 5);
        self.concentrated(root);
        self.branch_on_supports(&mut branching, 80);
        self.downhill(root);
        self.by_sets(tree, &mut sets, 20);
        self.branch_on_supports(&mut branching, 8);
        self.by_sets(tree, &mut sets, 20);
        self.branch_on_supports(&mut branching, 4);
        self.by_sets(tree, &mut sets, 60);
    }

    /// Raises the bound, and finds plans, by how many supports carry joints and which, for
    /// a part of all work.
    fn branch_on_supports(&mut self, branching: &mut Branching<'a>, part: u64) {
        let model = self.model;
        let Branching {
            master,
            blocks,
            open,
            nodes,
            stuck,
        } = branching;
        let zeros = vec![0; model.run.joints.len()];
        let mut plain = model.plain();
        let enough = model.spent() + self.budget.total / part;
        while let Some(&(bound, id)) = open.first() {
            let target = self.target(Aim::Primary);
            let spent = self.spent() || model.spent() >= enough;
            if self.done() || bound >= target || nodes.len() >= MOST_NODES || spent {
                break;
            }
            open.pop_first();
            self.raise(bound.min(*stuck));
            let mut counts = match nodes[id].clone() {
                Branch::Counts(counts) => counts,
                // More is spent on it only once nothing else weighs as little.
                Branch::Set(set, times) => {
                    let (laid, least) = self.on_supports(&mut plain, &set, times);
                    self.offer(laid, 0, Aim::Both);
                    if times < MOST_TIMES {
                        open.insert((least.max(bound), nodes.len()));
                        nodes.push(Branch::Set(set, times * MORE));
                    } else {
                        *stuck = (*stuck).min(least.max(bound));
                    }
                    continue;
                }
            };
            master.set(&model.extra, blocks, &counts, Some(&zeros));
            master.solve(target, target, self.stop);
            let Some(prices) = &master.prices else {
                // No course can be cut so, or the work was stopped.
                if (self.stop)() {
                    open.insert((bound, id));
                }
                continue;
            };
            let bound = bound.max(model.lift(prices.bound()));
            if bound >= target {
                continue;
            }
            let gap = i128::from(prices.gap(target - 1));
            let paid = master.paid();
            counts.keep_supports(&prices.supports, gap);
            let parts = match branches(&counts, &paid) {
                Some(parts) => parts,
                None => {
                    let set = carrying(&counts, &paid);
                    let others = others(&counts, &set);
                    open.insert((bound, nodes.len()));
                    nodes.push(Branch::Set(set, 1));
                    others
                }
            };
            for part in parts {
                if !part.is_empty() {
                    open.insert((bound, nodes.len()));
                    nodes.push(Branch::Counts(part));
                }
            }
        }
        let least = open.first().map_or(i64::MAX, |&(bound, _)| bound);
        // What is no better in the primary objective was left alone.
        self.raise(least.min(*stuck).min(self.target(Aim::Primary)));
    }
}

/// The two halves of some counts, their number of supports first, where supports are
/// not wholly paid for.
fn branches(counts: &Counts, paid: &[f64]) -> Option<Vec<Counts>> {
    let supports = counts.supports.as_ref()?;
    let number = supports.paid() as f64 + paid.iter().sum::<f64>();
    let mut halves = vec![counts.clone(), counts.clone()];
    let [few, many] = &mut halves[..] else {
        return None;
    };
    let (few, many) = (few.supports.as_mut()?, many.supports.as_mut()?);
    if (number - number.round()).abs() > NEAR {
        few.all.1 = number.floor() as i64;
        many.all.0 = number.floor() as i64 + 1;
        return Some(halves);
    }
    let whole = |z: f64| (z - z.round()).abs() <= NEAR;
    let parts = (0..paid.len()).filter(|&place| !whole(paid[place]));
    let most = parts.max_by(|&a, &b| paid[a].total_cmp(&paid[b]).then(b.cmp(&a)))?;
    few.each[most].1 = 0;
    many.each[most].0 = 1;
    Some(halves)
}

/// The supports that are paid for, as a set of places; the run's start is none.
fn carrying(counts: &Counts, paid: &[f64]) -> Vec<bool> {
    let bounds = counts.supports.iter().flat_map(|supports| &supports.each);
    let set = bounds.zip(paid).map(|(bounds, z)| bounds.0 > 0 || *z > 0.5);
    [false].into_iter().chain(set).collect()
}

/// What is left of some counts without the plans whose joints lie on a set alone, in parts.
fn others(counts: &Counts, set: &[bool]) -> Vec<Counts> {
    let mut parts = Vec::new();
    let mut rest = counts.clone();
    let members = (0..set.len() - 1).filter(|&place| set[place + 1]);
    for place in members {
        let mut part = rest.clone();
        if let (Some(part), Some(rest)) = (&mut part.supports, &mut rest.supports) {
            part.each[place].1 = 0;
            rest.each[place].0 = 1;
        }
        parts.push(part);
    }
    if let Some(supports) = &mut rest.supports {
        supports.all.0 = supports.all.0.max(supports.paid() + 1);
    }
    parts.push(rest);
    parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::budget::Budget;
    use crate::plan::counts::Supports;
    use crate::plan::decks::{doubled, relaxed};
    use crate::plan::first::first;
    use crate::plan::search::search;

    /// Plans and bounds of branching alone beside those of the whole search.
    #[test]
    fn branching_on_supports_comes_to_the_lightest_plan() {
        let (mut settled, mut raised) = (0, 0);
        for n in 0..8 {
            let (job, model) = doubled(n);
            let rules = &job.joints;
            let searched = search(&model, rules, Budget::FULL, &|| false, &|_, _| {});
            let Some(best) = searched.best else { continue };
            let Some((root, relaxed)) = relaxed(&job, &model) else {
                continue;
            };
            let mut state = State::new(&model, rules, Budget::FULL, &|| false, &|_, _| {}, 0);
            state.offer(first(&model, rules, &|| false), 0, Aim::Both);
            let at_most = state.weight();
            let mut branching = Branching::over(&root, relaxed, at_most);
            state.branch_on_supports(&mut branching, 1);
            let level = |weight: i64| model.at_level(weight);
            assert!(level(state.bound) <= level(best.weight), "deck {n}");
            assert!(level(state.weight()) >= level(searched.bound), "deck {n}");
            raised += i32::from(state.bound > relaxed);
            settled += i32::from(state.bound >= state.target(Aim::Primary));
        }
        assert!(
            settled > 5 && raised > 5,
            "{settled} settled, {raised} raised"
        );
    }

    /// Of all sets that some counts allow, each but one is in just one part.
    #[test]
    fn what_is_left_is_all_but_the_set() {
        let (_, model) = doubled(0);
        let counts = Counts::all(&model, model.conceivable);
        let member = |code: usize, place: usize| code >> place & 1 == 1;
        let allowed = |counts: &Counts, code: usize| {
            let Some(supports) = &counts.supports else {
                return false;
            };
            let each = (0..5).map(|place| i64::from(member(code, place)));
            let number = each.clone().sum::<i64>();
            let (low, high) = supports.all;
            (low..=high).contains(&number)
                && each.zip(&supports.each).all(|(n, b)| b.0 <= n && n <= b.1)
        };
        for (paid, barred) in [(0, 0), (0b00010, 0), (0, 0b10000), (0b00100, 0b01000)] {
            let bounds = |place| {
                (
                    i64::from(member(paid, place)),
                    i64::from(!member(barred, place)),
                )
            };
            let counts = Counts {
                supports: Some(Supports {
                    each: (0..5).map(bounds).collect(),
                    all: (1, 4),
                }),
                ..counts.clone()
            };
            for set in (0..32).filter(|&set| allowed(&counts, set)) {
                let places: Vec<bool> = (0..6).map(|at| at > 0 && member(set, at - 1)).collect();
                let parts = others(&counts, &places);
                for code in (0..32).filter(|&code| allowed(&counts, code)) {
                    let within = parts.iter().filter(|part| allowed(part, code)).count();
                    assert_eq!(within, usize::from(code != set), "{set:b} {code:b}");
                }
            }
        }
    }
}
