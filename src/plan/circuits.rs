//! The integer program over the steps of walks: how often each step from course to course
//! is taken, and the boards. Order is part of it: an answer is one walk through all
//! courses or, at worst, a shorter one and circuits beside it; either those are joined to
//! the walk or none of their courses is laid, and both are looked at. Which walks a plan
//! of some weight can be is known from the relaxation over blocks.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

use itertools::Itertools;

use super::class::Class;
use super::classes::singles;
use super::cutdown::CutDown;
use super::finite::{self, Answer};
use super::listing::Listing;
use super::master::{Column, Filled, Master};
use super::prices::Prices;
use super::round;
use super::search::{Aim, State};
use super::tree::Tree;
use crate::joints::{Near, Path, Pieces, Place, Spot, Takes, TooLarge, Walk};
use crate::program::branch::{Answer as Found, Program, solve};
use crate::program::widen::LEAST;

/// What part of the way to the target is looked at first.
const FIRST: f64 = 0.05;
/// Answers in groups that are put in order nevertheless, at some cost.
const ORDERS: u32 = 2;
/// The part of the way to the target that walks reach at least.
const SHORTEST: f64 = 0.01;

/// What of all walks is looked at.
#[derive(Clone, Default)]
struct Part {
    /// Nothing of it weighs less.
    bound: i64,
    /// Some course of each of these lies on the walk.
    joined: Vec<BTreeSet<Spot>>,
    /// No course of these does.
    left_out: BTreeSet<Spot>,
}

impl<'a> State<'a> {
    /// Looks for a plan of the best primary objective over all walks that a plan better
    /// than the one at hand can be, by a tree's relaxation of all counts, and raises the
    /// bound by what there is not.
    pub(super) fn by_circuits(&mut self, tree: &Tree<'a>, only: &Pieces) {
        let model = self.model;
        let Some((classes, reach)) = self.reached(tree, only) else {
            return;
        };
        let boards = tree.master.boards();
        let mut master = Master::new(model, classes, &model.extra, &boards);
        master.solve(reach, reach, self.stop);
        let walk = master.classes.first().and_then(|class| class.walk());
        let (Some(prices), Some(walk)) = (&master.prices, walk) else {
            return;
        };
        // Of heavier plans the walks say nothing.
        self.raise(model.lift(prices.bound()).min(reach + 1));
        let mut parts = vec![Part {
            bound: self.bound,
            ..Part::default()
        }];
        let mut orders = ORDERS;
        let mut share = FIRST;
        // From this weight on there are too many steps.
        let mut too_many = i64::MAX;
        while !self.done() && !self.spent() && self.bound <= reach.min(self.last()) {
            let farthest = reach.min(self.last());
            let part = |share: f64| self.bound + ((farthest - self.bound) as f64 * share) as i64;
            let mut cutoff = if share < 1.0 { part(share) } else { farthest };
            if cutoff >= too_many {
                share = (too_many - self.bound) as f64 / (farthest - self.bound) as f64 / 4.0;
                cutoff = part(share);
            }
            if share < LEAST {
                return;
            }
            let cutoff = model.level(cutoff).min(farthest);
            let cost = prices.least[0].saturating_add(prices.gap(cutoff));
            let most = self.budget.circuits.columns;
            let Ok(near) = walk.near(&prices.path, &model.materials, cost, most) else {
                if cutoff >= too_many {
                    return;
                }
                too_many = cutoff;
                continue;
            };
            let circuits = Circuits {
                master: &master,
                prices,
                walk,
                near,
            };
            if !self.walked(&circuits, &mut parts, &mut orders, cutoff) {
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
    fn reached(&mut self, tree: &Tree<'a>, only: &Pieces) -> Option<(Vec<Class>, i64)> {
        let steps = self.budget.circuits.columns;
        let mut share = 1.0;
        while share >= SHORTEST && self.bound <= self.last() && !(self.stop)() {
            let last = self.last();
            let room = (last - self.bound) as f64;
            let reach = (self.bound + (room * share) as i64).min(last);
            match self.walks(tree, only, reach + 1, steps) {
                Ok(Some(classes)) => return Some((classes, reach)),
                Ok(None) => self.raise(reach + 1),
                Err(TooLarge) => share /= 8.0,
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
    ) -> bool {
        let (model, work) = (self.model, self.budget.circuits);
        let boards = circuits.master.boards();
        let singles = singles(model, self.rules, 1, None);
        let mut kept = None;
        let mut settled = true;
        let enough = model.spent() + self.budget.apart;
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
            if let Some(courses) = circuits.lay(&taken) {
                // Nothing else of this part is lighter.
                self.offer(Some(round::of_boards(model, courses, filled)), 0, Aim::Both);
                continue;
            }
            let (apart, grouped) = circuits.apart(&taken);
            if apart.is_empty() {
                settled = false;
                break;
            }
            if !grouped || *orders > 0 {
                *orders -= u32::from(grouped);
                let answer = circuits.courses(&taken, least, filled);
                let laid = self.ordered(&singles, &answer, &boards);
                if self.offer(laid, bound, Aim::Primary) {
                    continue;
                }
            }
            let mut with = parts[at].clone();
            parts[at].left_out.extend(&apart);
            with.joined.push(apart);
            parts.push(with);
        }
        let least = parts.iter().map(|part| part.bound).min();
        self.raise(least.map_or(cutoff + 1, |least| least.min(cutoff + 1)));
        settled
    }
}

/// The walks up to some weight.
struct Circuits<'m, 'a> {
    master: &'m Master<'a>,
    prices: &'m Prices,
    walk: &'m Walk,
    near: Near,
}

/// How often which steps are taken, and from where on.
struct Taken {
    start: Option<Spot>,
    steps: BTreeMap<Spot, Vec<(Spot, i64)>>,
}

/// A program and what its columns are: starts, steps, then boards.
struct Listed {
    program: Program,
    starts: Vec<Spot>,
    steps: Vec<(Spot, Spot)>,
    boards: Vec<Column>,
}

impl Circuits<'_, '_> {
    /// The program of a part's walks that weigh `cutoff` at most; nothing if its columns
    /// come to more than `most`.
    fn list(
        &self,
        part: &Part,
        cutoff: i64,
        most: usize,
        kept: &mut Option<CutDown>,
    ) -> Option<Listed> {
        let (model, rows) = (self.master.model, &self.master.rows);
        let (walk, near) = (self.walk, &self.near);
        let mut listing = Listing::new(self.master);
        let row = |listing: &mut Listing, at_least: i64| {
            listing.at_least.push(at_least);
            listing.at_least.len() as u32 - 1
        };
        // One start, and as many courses of each stretch as there are.
        let one = row(&mut listing, -1);
        let just: Vec<(u32, u32)> = (near.stretches.iter())
            .map(|&(_, n)| (row(&mut listing, n), row(&mut listing, -n)))
            .collect();
        let joined: Vec<u32> = part.joined.iter().map(|_| row(&mut listing, 1)).collect();
        let enters = |from: Option<Spot>, to: Spot| {
            let rows = part.joined.iter().zip(&joined);
            let rows = rows.filter(move |(spots, _)| {
                spots.contains(&to) && from.is_none_or(|from| !spots.contains(&from))
            });
            rows.map(|(_, &row)| (row, 1))
        };
        let mut joints: Vec<(u32, i32)> = Vec::new();
        let mut pieces: Vec<Vec<(u32, i32)>> = vec![Vec::new(); model.rows];
        let mut patterns: BTreeMap<Option<u16>, Vec<(u32, i32)>> = BTreeMap::new();
        let mut spot_row: BTreeMap<Spot, u32> = BTreeMap::new();
        let mut spot = |listing: &mut Listing, spot: Spot| {
            *spot_row.entry(spot).or_insert_with(|| row(listing, 0))
        };
        let mut push = |listing: &mut Listing, courses: &Path, materials: &[u16], more| {
            let takes = Takes::of(courses, &model.run, materials, false);
            let entries = rows.courses(&takes, courses.len()).into_iter().chain(more);
            let n: usize = courses.iter().map(Vec::len).sum();
            let j = listing.push(n as i64 * model.weights.joint, entries, 1);
            joints.extend((n > 0).then_some((j, n as i32)));
            for row in takes.rows {
                match pieces[usize::from(row)].last_mut() {
                    Some((last, n)) if *last == j => *n += 1,
                    _ => pieces[usize::from(row)].push((j, 1)),
                }
            }
            j
        };
        let mut starts = Vec::new();
        for &to in near.starts.iter().filter(|to| !part.left_out.contains(to)) {
            let courses: Path = walk.courses(to.1).map(<[_]>::to_vec).collect();
            let mut more = vec![(rows.class as u32, 1), (one, -1)];
            more.push((spot(&mut listing, to), 1));
            more.extend(enters(None, to));
            push(
                &mut listing,
                &courses,
                &model.materials[..courses.len()],
                more,
            );
            starts.push(to);
        }
        let mut steps = Vec::new();
        for &(from, to) in &near.steps {
            if part.left_out.contains(&from) || part.left_out.contains(&to) {
                continue;
            }
            let (least, most) = just[usize::from(to.0)];
            let mut more = vec![(least, 1), (most, -1)];
            if from != to {
                more.push((spot(&mut listing, from), -1));
                more.push((spot(&mut listing, to), 1));
            }
            more.extend(enters(Some(from), to));
            let material = near.stretches[usize::from(to.0)].0;
            let j = push(&mut listing, &vec![self.last(to)], &[material], more);
            patterns
                .entry(walk.patterns(to.1).last().copied())
                .or_default()
                .push((j, 1));
            steps.push((from, to));
        }
        let sums = [joints].into_iter().chain(pieces);
        let sums = sums
            .chain(patterns.into_values())
            .filter(|sum| !sum.is_empty());
        let sums: Vec<_> = sums.collect();
        listing.boards(self.master, self.prices, kept, cutoff, most)?;
        let others = model.materials.len() as i64;
        let (program, boards) = listing.program(self.master, cutoff, others, sums);
        Some(Listed {
            program,
            starts,
            steps,
            boards,
        })
    }

    /// The courses of an answer that is one walk.
    fn lay(&self, taken: &Taken) -> Option<Path> {
        let start = taken.start?;
        let mut left = taken.steps.clone();
        // From any spot on until there is no way on, and where another was left out once
        // more from there.
        let mut on = vec![start];
        let mut trail = Vec::new();
        while let Some(&at) = on.last() {
            let next = left.get_mut(&at).and_then(|steps| {
                let (to, n) = steps.last_mut()?;
                let to = *to;
                *n -= 1;
                if *n == 0 {
                    steps.pop();
                }
                Some(to)
            });
            match next {
                Some(to) => on.push(to),
                None => trail.extend(on.pop()),
            }
        }
        trail.reverse();
        let head = self.walk.courses(start.1).map(<[_]>::to_vec);
        let after = trail[1..].iter().map(|spot| self.last(*spot));
        let all = left.values().all(Vec::is_empty);
        all.then(|| head.chain(after).collect())
    }

    /// The course laid last in a spot.
    fn last(&self, spot: Spot) -> Vec<Place> {
        let last = self.walk.courses(spot.1).next_back();
        last.map_or(Vec::new(), <[_]>::to_vec)
    }

    /// A group of spots with a circuit that the walk of an answer doesn't come to, and
    /// whether it cannot come to it by courses of the answer. The group is as large as it
    /// can be where all ways into it are dear.
    fn apart(&self, taken: &Taken) -> (BTreeSet<Spot>, bool) {
        let spots = self.near.steps.iter().flat_map(|&(from, to)| [from, to]);
        let spots = spots.chain(self.near.starts.iter().copied());
        let number: BTreeMap<Spot, usize> = spots.sorted().dedup().zip(0..).collect();
        let mut groups = Groups((0..number.len()).collect());
        let steps = taken.steps.iter();
        let steps = steps.flat_map(|(&from, to)| to.iter().map(move |&(to, _)| (from, to)));
        for (from, to) in steps {
            groups.join(number[&from], number[&to]);
        }
        let start = taken.start.map_or(0, |start| number[&start]);
        let used = taken.spots().flat_map(|spot| self.walk.patterns(spot.1));
        let used: BTreeSet<u16> = used.copied().collect();
        let all = |spot: &Spot| self.walk.patterns(spot.1).iter().all(|p| used.contains(p));
        let (from, to): (Vec<usize>, Vec<usize>) = (self.near.steps.iter())
            .map(|(from, to)| (number[from], number[to]))
            .unzip();
        let mut by_answer = groups.clone();
        for (at, (a, b)) in self.near.steps.iter().enumerate() {
            if all(a) && all(b) {
                by_answer.join(from[at], to[at]);
            }
        }
        let circuit = |groups: &Groups| {
            let beyond = |spot: &Spot| !groups.together(number[spot], start);
            taken.spots().find(beyond).map(|spot| number[&spot])
        };
        let grouped = circuit(&by_answer);
        if grouped.is_some() {
            groups = by_answer;
        }
        let Some(circuit) = grouped.or_else(|| circuit(&groups)) else {
            return (BTreeSet::new(), false);
        };
        let cheap = (0..from.len()).sorted_by_key(|&at| self.near.costs[at]);
        for at in cheap {
            let meets =
                |a: usize, b: usize| groups.together(a, start) && groups.together(b, circuit);
            if meets(from[at], to[at]) || meets(to[at], from[at]) {
                break;
            }
            groups.join(from[at], to[at]);
        }
        let group = number
            .iter()
            .filter(|spot| groups.together(*spot.1, circuit));
        (group.map(|spot| *spot.0).collect(), grouped.is_some())
    }

    /// An answer's courses, each by itself.
    fn courses(&self, taken: &Taken, weight: i64, boards: Filled) -> Answer {
        let materials = &self.master.model.materials;
        // The classes of single courses are in the order of their materials' first course.
        let class = |material: u16| materials.iter().unique().position(|&m| m == material);
        let mut blocks = Vec::new();
        if let Some(start) = taken.start {
            for (joints, &material) in self.walk.courses(start.1).zip(materials) {
                blocks.push((class(material).unwrap_or(0), vec![joints.to_vec()], 1));
            }
        }
        for &(to, n) in taken.steps.values().flatten() {
            let material = self.near.stretches[usize::from(to.0)].0;
            blocks.push((class(material).unwrap_or(0), vec![self.last(to)], n));
        }
        Answer {
            weight,
            blocks,
            boards,
        }
    }
}

/// Numbers in groups: what each belongs to.
#[derive(Clone)]
struct Groups(Vec<usize>);

impl Groups {
    fn together(&self, a: usize, b: usize) -> bool {
        self.0[a] == self.0[b]
    }

    fn join(&mut self, a: usize, b: usize) {
        let (one, other) = (self.0[a], self.0[b]);
        for group in self.0.iter_mut().filter(|group| **group == other) {
            *group = one;
        }
    }
}

impl Taken {
    /// Where courses are laid, each spot once or more often.
    fn spots(&self) -> impl Iterator<Item = Spot> {
        let steps = self.steps.iter();
        let steps = steps.flat_map(|(&from, to)| to.iter().flat_map(move |to| [from, to.0]));
        self.start.into_iter().chain(steps)
    }
}

impl Listed {
    /// What an answer takes, and its boards.
    fn answer(&self, (weight, counts): Found) -> (Taken, Filled) {
        let mut taken = Taken {
            start: None,
            steps: BTreeMap::new(),
        };
        let first = self.starts.len() + self.steps.len();
        let mut boards = Vec::new();
        for (j, n) in counts {
            match j.checked_sub(self.starts.len()) {
                None => taken.start = Some(self.starts[j]),
                Some(at) if j < first => {
                    let (from, to) = self.steps[at];
                    taken.steps.entry(from).or_default().push((to, n));
                }
                Some(_) => boards.push((j - first, n)),
            }
        }
        (taken, finite::answer((weight, boards), &self.boards).boards)
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
        let (mut settled, mut tied) = (0, 0);
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
            let mut state = State::new(&model, rules, Budget::FULL, &|| false, &|_, _| {}, 0);
            state.offer(first(&model, rules, &|| false), 0, Aim::Both);
            let target = state.target(Aim::Primary);
            tree.relax(&mut all.clone(), target, Aim::Primary, &|| false);
            state.by_circuits(&tree, &Pieces::all(&model.run));
            let level = |weight: i64| model.at_level(weight);
            assert!(level(state.bound) <= level(best.weight), "deck {n}");
            assert!(level(state.weight()) >= level(searched.bound), "deck {n}");
            settled += i32::from(state.bound > state.last());
            tied += i32::from(level(state.weight()) == level(best.weight));
        }
        assert!(settled > 7 && tied > 7, "{settled} settled, {tied} tied");
    }
}
