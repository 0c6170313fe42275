//! The steps of walks as an integer program: its columns and rows, and what an answer is.
//! Which programs are solved, and what follows, is left to the search.

use std::collections::{BTreeMap, BTreeSet};

use itertools::Itertools;

use super::cutdown::CutDown;
use super::finite::{self, Answer};
use super::listing::Listing;
use super::master::{Column, Filled, Master};
use super::parting;
use super::prices::Prices;
use crate::joints::{Gathered, Near, Path, Place, Spot, Takes, Walk};
use crate::program::branch::{Answer as Found, Program};

/// What part of the dearest that all ways into a group can be they are at least.
const DEAR: f64 = 0.9;

/// What of all walks is looked at.
#[derive(Clone, Default)]
pub(super) struct Part {
    /// Nothing of it weighs less.
    pub bound: i64,
    /// The walk goes from each of these to other spots or back.
    pub joined: Vec<BTreeSet<Spot>>,
    /// It comes to none of these.
    pub left_out: BTreeSet<Spot>,
}

/// The walks up to some weight.
pub(super) struct Circuits<'m, 'a> {
    pub master: &'m Master<'a>,
    pub prices: &'m Prices,
    pub walk: &'m Walk,
    /// What its courses stand for, if they are gathered.
    pub gathered: Option<&'m Gathered>,
    pub near: Near,
}

/// How often which steps are taken, and from where on.
pub(super) struct Taken {
    start: Option<Spot>,
    steps: BTreeMap<Spot, Vec<(Spot, i64)>>,
}

/// A program and what its columns are: starts, steps, then boards.
pub(super) struct Listed {
    pub program: Program,
    starts: Vec<Spot>,
    steps: Vec<(Spot, Spot)>,
    boards: Vec<Column>,
}

impl Circuits<'_, '_> {
    /// The program of a part's walks that weigh `cutoff` at most; nothing if its columns
    /// come to more than `most`.
    pub(super) fn list(
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
        let crosses = |from: Spot, to: Spot| {
            let rows = part.joined.iter().zip(&joined);
            let rows = rows.filter(move |(group, _)| group.contains(&from) != group.contains(&to));
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
            more.extend(crosses(from, to));
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

    /// The courses of an answer that is one walk, where they may lie so.
    pub(super) fn lay(&self, taken: &Taken, turn: usize) -> Option<Path> {
        let trail = self.trail(taken, turn)?;
        let (start, after) = trail.split_first()?;
        if let Some(gathered) = self.gathered {
            let head = self.walk.patterns(start.1).iter();
            let after = after
                .iter()
                .filter_map(|to| self.walk.patterns(to.1).last());
            let walk: Vec<u16> = head.chain(after).copied().collect();
            return gathered.lay(&walk);
        }
        let head = self.walk.courses(start.1).map(<[_]>::to_vec);
        let after = after.iter().map(|spot| self.last(*spot));
        Some(head.chain(after).collect())
    }

    /// The spots of an answer that is one walk, one of several ways to take its steps.
    pub(super) fn trail(&self, taken: &Taken, turn: usize) -> Option<Vec<Spot>> {
        let start = taken.start?;
        let mut left = taken.steps.clone();
        for steps in left.values_mut() {
            let first = turn % steps.len();
            steps.rotate_left(first);
        }
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
        let all = left.values().all(Vec::is_empty);
        all.then_some(trail)
    }

    /// The course laid last in a spot.
    fn last(&self, spot: Spot) -> Vec<Place> {
        let last = self.walk.courses(spot.1).next_back();
        last.map_or(Vec::new(), <[_]>::to_vec)
    }

    /// Groups of spots with a circuit each that the walk of an answer doesn't come to, and
    /// whether it cannot come to one by courses of the answer. All ways into a group are
    /// dear, and they are as few as can be.
    pub(super) fn apart(&self, taken: &Taken) -> (Vec<BTreeSet<Spot>>, bool) {
        let spots = self.near.spots();
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
        let circuits = |groups: &Groups| {
            let spots = taken.spots().map(|spot| number[&spot]);
            let beyond = spots.filter(|&spot| !groups.together(spot, start));
            beyond.unique_by(|&spot| groups.0[spot]).collect_vec()
        };
        let mut beyond = circuits(&by_answer);
        let grouped = !beyond.is_empty();
        if grouped {
            groups = by_answer;
        } else {
            beyond = circuits(&groups);
        }
        let cheap = (0..from.len()).sorted_by_key(|&at| self.near.costs[at]);
        let cheap: Vec<usize> = cheap.collect();
        let least = cheap.first().map_or(0, |&at| self.near.costs[at]);
        let around = beyond.into_iter().map(|circuit| {
            let crosses = |groups: &Groups, at: usize| {
                let meets =
                    |a: usize, b: usize| groups.together(a, start) && groups.together(b, circuit);
                meets(from[at], to[at]) || meets(to[at], from[at])
            };
            // The dearest that all ways in can be.
            let mut groups_so_far = groups.clone();
            let dearest = cheap.iter().find(|&&at| {
                let crosses = crosses(&groups_so_far, at);
                groups_so_far.join(from[at], to[at]);
                crosses
            });
            let dear = dearest.map_or(least, |&at| {
                let above = (self.near.costs[at] - least) as f64;
                least + (above * DEAR) as i64
            });
            let mut groups = groups.clone();
            for &at in cheap.iter().filter(|&&at| self.near.costs[at] < dear) {
                groups.join(from[at], to[at]);
            }
            let ways = (0..from.len()).map(|at| (groups.0[from[at]], groups.0[to[at]]));
            let ways: Vec<(usize, usize)> = ways.collect();
            let beyond = parting::beyond(number.len(), &ways, groups.0[start], groups.0[circuit]);
            let group = number.iter().filter(|spot| beyond[groups.0[*spot.1]]);
            group.map(|spot| *spot.0).collect()
        });
        (around.unique().collect(), grouped)
    }

    /// An answer's courses, each by itself.
    pub(super) fn courses(&self, taken: &Taken, weight: i64, boards: Filled) -> Answer {
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
    pub(super) fn spots(&self) -> impl Iterator<Item = Spot> {
        let steps = self.steps.iter();
        let steps = steps.flat_map(|(&from, to)| to.iter().flat_map(move |to| [from, to.0]));
        self.start.into_iter().chain(steps)
    }
}

impl Listed {
    /// What an answer takes, and its boards.
    pub(super) fn answer(&self, (weight, counts): Found) -> (Taken, Filled) {
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
