//! The search where one block is the whole plan. The relaxation mixes blocks,
//! which no plan can, so that its bound alone is weak: here blocks are listed
//! with what each costs at least, and the cheapest looking one is cut for good,
//! over and over. The prices of one block's cut bound what every other costs.

use std::cmp::Reverse;
use std::collections::{BinaryHeap, HashSet};

use itertools::Itertools;

use super::direct::settle;
use super::finite::Work;
use super::master::{Column, Master};
use super::model::Model;
use super::search::{Laid, Searched, Tell};
use crate::joints::{Path, PathCosts, Place, Takes};

/// Blocks listed at most, and courses of all of them; fewer in larger graphs.
const MOST_LISTED: usize = 60_000;
const MOST_COURSES: usize = 2_000_000;
const MOST_STEPS: usize = 600_000_000;
/// Cheap blocks that each cut's prices propose.
const PROPOSED: usize = 4;

/// Puts the courses of a path in the order they lie in.
pub(crate) type Lay<'a> = dyn Fn(&[Vec<Place>]) -> Vec<Vec<Place>> + 'a;

/// What may be spent.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Spend {
    /// Blocks cut for good.
    pub cuts: usize,
    /// On each of them.
    pub each: Work,
}

/// Whole prices that bound what any pieces cost: a constant, and each piece's.
struct Floor {
    base: i128,
    row: Vec<i64>,
}

/// A block that might be the plan.
struct Candidate {
    /// The joints of each course of a round.
    round: Path,
    takes: Takes,
    /// What its joints weigh.
    own: i64,
    /// Floors that its bound has been held against.
    held: usize,
    cut: bool,
}

struct Search<'m, 's> {
    root: &'s Master<'m>,
    stop: &'s dyn Fn() -> bool,
    /// The joints of all courses as they lie, from a path.
    lay: &'s Lay<'s>,
    floors: Vec<Floor>,
    parts: i64,
    candidates: Vec<Candidate>,
    known: HashSet<Takes>,
    /// The candidates by what they cost at least.
    heap: BinaryHeap<Reverse<(i64, usize)>>,
    best: Option<Laid>,
    /// Blocks that were cut, not for the least, weigh no less.
    stuck: i64,
    /// The boards' patterns that were of use.
    boards: Vec<Column>,
}

/// Searches for the lightest plan of a solved relaxation over one class of one
/// block, lighter than one that is known; `lay` puts a path's courses in order.
pub(crate) fn single(
    root: &Master,
    known: Option<Laid>,
    spend: Spend,
    stop: &dyn Fn() -> bool,
    tell: &Tell,
    lay: &Lay,
) -> Searched {
    let model = root.model;
    let unreachable = model.conceivable.saturating_add(1);
    let Some(prices) = &root.prices else {
        return Searched {
            best: None,
            bound: unreachable,
            proof: None,
        };
    };
    let mut search = Search {
        root,
        stop,
        lay,
        floors: Vec::new(),
        parts: prices.parts,
        candidates: Vec::new(),
        known: HashSet::new(),
        heap: BinaryHeap::new(),
        best: known,
        stuck: unreachable,
        boards: root
            .columns
            .iter()
            .filter(|column| matches!(column, Column::Board(..)))
            .cloned()
            .collect(),
    };
    let mut floor = model.lift(prices.bound());
    if floor > model.conceivable {
        return Searched {
            best: None,
            bound: unreachable,
            proof: None,
        };
    }
    tell(search.best.as_ref(), floor);
    let used: Vec<Path> = root
        .used()
        .into_iter()
        .filter_map(|(column, _)| match column {
            Column::Block(_, path) => Some(path.clone()),
            _ => None,
        })
        .collect();
    for path in used {
        search.add(path);
    }
    let mut left = spend.cuts;
    for _ in 0..8.min(left) {
        left -= usize::from(search.step(spend.each));
    }
    // All blocks that may be lighter than the best plan, or as many as can be
    // listed; those that are not are known to weigh more than some bound.
    let whole = prices.gap(search.weight());
    let mut beyond = prices.bound;
    for gap in [32, 24, 16, 12, 8, 6, 4, 3, 2, 1].map(|part| whole / part) {
        if stop() || !search.list(gap) {
            break;
        }
        beyond = prices.bound.saturating_add(gap.into());
    }
    let beyond = model.lift(up(beyond, prices.parts));
    loop {
        let next = search
            .heap
            .peek()
            .map_or(unreachable, |Reverse(next)| next.0);
        let bound = next.min(beyond).min(search.stuck).min(search.weight());
        if bound > floor {
            floor = bound;
            tell(search.best.as_ref(), floor);
        }
        if next >= search.weight() || left == 0 || stop() {
            break;
        }
        let before = search.weight();
        left -= usize::from(search.step(spend.each));
        if search.weight() < before {
            tell(search.best.as_ref(), floor);
        }
    }
    Searched {
        bound: floor.min(search.weight()),
        best: search.best,
        proof: None,
    }
}

/// What the joints of a block weigh.
pub(super) fn beside_boards(model: &Model, path: &Path) -> i64 {
    let joints: usize = path.iter().map(Vec::len).sum();
    let carrying = path.iter().flatten().unique().count();
    joints as i64 * model.weights.joint + carrying as i64 * model.weights.doubled
}

/// The relaxation of cutting what one block takes, solved.
pub(super) fn cutting<'a>(
    model: &'a Model,
    takes: &Takes,
    boards: &[Column],
    stop: &dyn Fn() -> bool,
) -> Master<'a> {
    let mut demand = model.extra.clone();
    for &row in &takes.rows {
        demand[usize::from(row)] += 1;
    }
    let mut cutting = Master::new(model, Vec::new(), &demand, boards);
    cutting.solve(model.conceivable, i64::MAX, stop);
    cutting
}

/// Parts as whole weight, rounded up.
fn up(value: i128, parts: i64) -> i64 {
    let parts = i128::from(parts);
    let up = value.div_euclid(parts) + i128::from(value.rem_euclid(parts) != 0);
    i64::try_from(up.max(0)).unwrap_or(i64::MAX)
}

impl Search<'_, '_> {
    fn model(&self) -> &Model {
        self.root.model
    }

    fn weight(&self) -> i64 {
        let unreachable = self.model().conceivable.saturating_add(1);
        self.best.as_ref().map_or(unreachable, |best| best.weight)
    }

    /// Enters a block unless one that takes the same is there.
    fn add(&mut self, path: Path) {
        let model = self.root.model;
        let class = &self.root.classes[0];
        let by_joint = model.weights.doubled > 0;
        let takes = Takes::of(&path, &model.run, &class.materials, by_joint);
        if !self.known.insert(takes.clone()) {
            return;
        }
        if !model.allows(&path) {
            return;
        }
        let own = beside_boards(model, &path);
        let Some(prices) = &self.root.prices else {
            return;
        };
        let rows = takes.rows.iter().map(|&row| &prices.path.row[row as usize]);
        let marks = path.iter().flatten();
        let marks = marks.map(|&joint| &prices.path.joint[joint as usize]);
        let costs: i128 = rows.chain(marks).map(|&cost| i128::from(cost)).sum();
        let least = prices.bound - i128::from(prices.least[0]) + costs;
        let bound = model.lift(up(least, self.parts));
        self.heap.push(Reverse((bound, self.candidates.len())));
        let colours = &class.colours;
        let first = |at: &usize| *at == 0 || colours[*at] != colours[*at - 1];
        let firsts = (0..path.len()).filter(first);
        self.candidates.push(Candidate {
            round: firsts.map(|at| path[at].clone()).collect(),
            takes,
            own,
            held: 0,
            cut: false,
        });
    }

    /// Enters every block whose cost passes that of the cheapest by so many parts
    /// at most; false if they are too many.
    fn list(&mut self, gap: i64) -> bool {
        let (Some(prices), class) = (&self.root.prices, &self.root.classes[0]) else {
            return false;
        };
        let most_cost = prices.least[0].saturating_add(gap);
        let by_joint = self.model().weights.doubled > 0;
        let allowed = class.allowed.as_ref();
        let Some(block) = class.block() else {
            return false;
        };
        let most = (MOST_COURSES / class.materials.len())
            .min(MOST_STEPS / block.size().max(1))
            .min(MOST_LISTED);
        let found = block.within(&prices.path, allowed, most_cost, by_joint, most);
        let Some(found) = found else {
            return false;
        };
        for (_, path) in found {
            self.add(path);
        }
        true
    }

    /// Looks at the cheapest candidate again, or cuts it; whether it was cut.
    fn step(&mut self, work: Work) -> bool {
        let Some(Reverse((bound, at))) = self.heap.pop() else {
            return false;
        };
        let weight = self.weight();
        let model = self.root.model;
        let candidate = &mut self.candidates[at];
        let mut higher = bound;
        for floor in &self.floors[candidate.held..] {
            let rows = candidate.takes.rows.iter();
            let pieces: i128 = rows.map(|&row| i128::from(floor.row[row as usize])).sum();
            let least = up(floor.base + pieces, self.parts).saturating_add(candidate.own);
            higher = higher.max(model.lift(least));
        }
        candidate.held = self.floors.len();
        if higher >= weight {
            return false;
        }
        if candidate.cut {
            // Nothing more is to be got of it; it stays as a bound.
            self.stuck = self.stuck.min(higher);
            return false;
        }
        if higher > bound {
            self.heap.push(Reverse((higher, at)));
            return false;
        }
        candidate.cut = true;
        let own = candidate.own;
        let cutting = cutting(model, &candidate.takes, &self.boards, self.stop);
        let (answer, least) = settle(&cutting, weight - own, work, self.stop, &|_, _| {});
        if let Some(prices) = &cutting.prices {
            let row = prices.path.row.clone();
            let pieces = self.candidates[at].takes.rows.iter();
            let pieces: i128 = pieces.map(|&piece| i128::from(row[piece as usize])).sum();
            self.propose(&row);
            // A price of the limit on joints would hold for this block alone.
            if prices.joint == 0 {
                self.floors.push(Floor {
                    base: prices.bound - pieces,
                    row,
                });
            }
        }
        if let Some(answer) = answer {
            let round = &self.candidates[at].round;
            let courses = self.root.classes[0].colours.iter();
            let path: Path = courses.map(|&colour| round[colour].clone()).collect();
            self.best = Some(Laid {
                weight: answer.weight + own,
                courses: (self.lay)(&path),
                boards: answer.boards,
            });
        }
        let least = model.lift(least.saturating_add(own)).max(bound);
        if least < self.weight() {
            self.heap.push(Reverse((least, at)));
        }
        true
    }

    /// Enters blocks that are cheap at some prices of pieces, and half-way to
    /// those of the relaxation.
    fn propose(&mut self, row: &[i64]) {
        let Some(prices) = &self.root.prices else {
            return;
        };
        let half = |(a, b): (&i64, &i64)| a / 2 + b / 2;
        let middle: Vec<i64> = row.iter().zip(&prices.path.row).map(half).collect();
        let class = &self.root.classes[0];
        let mut paths: Vec<Path> = Vec::new();
        for row in [row.to_vec(), middle] {
            let costs = PathCosts {
                row,
                joint: prices.path.joint.clone(),
                course: Vec::new(),
            };
            if let Some(block) = class.block() {
                let cheap = block.cheapest(&costs, class.allowed.as_ref(), PROPOSED, i64::MAX);
                paths.extend(cheap.into_iter().map(|(_, path)| path));
            }
        }
        for path in paths {
            self.add(path);
        }
    }
}
