//! Plans improved in parts: most courses stay as they are, those in the holes between
//! them are laid anew, and all boards are cut anew. The courses that stay bar a few
//! joints, so that the best way to fill all holes at once is a small integer program.
//! Courses that clash are mended alike, by holes around the clashes. Which courses stay
//! is all that is decided here.

use std::cell::RefCell;
use std::ops::Range;
use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::class::{Class, Ways};
use super::counts::Counts;
use super::dive::{Noise, bar};
use super::finite::Answer;
use super::flows::close;
use super::master::{Column, Master};
use super::order::{Clashes, nearly};
use super::search::{Aim, Laid, State};
use crate::joints::{Allowed, Block, Place, Takes};

/// Courses of a hole at most, where no clashes are mended.
const WIDEST: usize = 3;
/// Turns without success after which a plan is left as it is.
const IDLE: u64 = 12;
/// The turn from which on holes grow longer, by a course every so many turns.
const LONGER: u64 = 1_000;
const A_COURSE_MORE: u64 = 60;
/// Turns of longer holes without success after which a plan is left as it is.
const IDLE_LONGER: u64 = 200;
/// Clashes beyond which courses are not mended.
const MOST_CLASHES: usize = 8;
/// Clashes mended at once.
const AT_ONCE: usize = 3;
/// Turns without success after which clashes are given up.
const IDLE_MENDING: u64 = 150;
/// Steps of the graphs of all holes' courses beyond which they are too many.
const MOST_STEPS: usize = 100_000;

/// The blocks of so many courses by their materials; nothing where they are too large,
/// or cannot be cut.
pub(super) type Graphs = RefCell<FxHashMap<Vec<u16>, Option<Arc<Block>>>>;

/// Courses laid anew.
type Holes = Vec<Range<usize>>;

impl State<'_> {
    /// Lays parts of the best plan anew until that no longer helps, or so much work is
    /// spent; once for each plan.
    pub(super) fn refill(&mut self, boards: &[Column]) {
        if self.refilled == self.weight() {
            return;
        }
        self.in_turns(boards, 0, IDLE, self.budget.refill);
        self.refilled = self.weight();
    }

    /// The same in longer parts, where all else has left something open.
    pub(super) fn refill_longer(&mut self, boards: &[Column]) {
        self.in_turns(boards, LONGER, IDLE_LONGER, self.budget.longer);
    }

    /// Lays parts of the best plan anew, from a turn on until so many are without success,
    /// or so much work is spent.
    fn in_turns(&mut self, boards: &[Column], first: u64, most_idle: u64, work: u64) {
        let (model, outer) = (self.model, self.stop);
        if model.weights.doubled > 0 {
            return;
        }
        let enough = model.spent() + work;
        let stop = &|| outer() || model.spent() >= enough;
        let (count, reach) = (model.materials.len(), self.reach());
        let (mut turn, mut idle) = (first, 0);
        while idle < most_idle && self.bound < self.target(Aim::Primary) && !self.spent() && !stop()
        {
            let Some(best) = &self.best else { break };
            let holes = holes(count, reach, turn);
            let found = self.filled(&best.courses, &holes, boards, stop);
            turn += 1;
            idle = if found.is_some() { 0 } else { idle + 1 };
            self.offer(found, self.bound, Aim::Primary);
        }
    }

    /// The blocks of an answer in order, if need be some of them laid anew.
    pub(super) fn ordered(
        &self,
        classes: &[Class],
        answer: &Answer,
        boards: &[Column],
    ) -> Option<Laid> {
        let (model, rules) = (self.model, self.rules);
        let (laid, clashes) = nearly(model, rules, classes, answer, self.budget.order)?;
        match clashes.is_empty() {
            true => Some(laid),
            // Mending pays for an order, so that it breaks no ties.
            false if self.bound >= self.target(Aim::Primary) => None,
            false => self.mend(&laid.courses, clashes, boards),
        }
    }

    /// A plan lighter than the best one from courses some of which clash: those are laid
    /// anew, a few at a time and others with them.
    fn mend(&self, laid: &[Vec<Place>], clashes: Clashes, boards: &[Column]) -> Option<Laid> {
        let (model, outer) = (self.model, self.stop);
        if model.weights.doubled > 0 || clashes.len() > MOST_CLASHES {
            return None;
        }
        let enough = model.spent() + self.budget.mend;
        let stop = &|| outer() || model.spent() >= enough;
        let (mut laid, mut clashes) = (laid.to_vec(), clashes);
        let (mut turn, mut idle) = (0, 0);
        while idle < IDLE_MENDING && !self.spent() && !stop() {
            let holes = around(&clashes, laid.len(), self.reach(), idle > 0, turn);
            turn += 1;
            idle += 1;
            let Some(found) = self.filled(&laid, &holes, boards, stop) else {
                continue;
            };
            let left = self.clashes(&found.courses);
            if left.is_empty() {
                return Some(found);
            }
            if left.len() < clashes.len() {
                idle = 0;
            }
            if left.len() <= clashes.len() {
                (laid, clashes) = (found.courses, left);
            }
        }
        None
    }

    /// How far apart courses have to do with one another.
    fn reach(&self) -> usize {
        (self.rules.same_joist_after as usize).max(1)
    }

    /// Courses that lie nearer to one another than they may.
    fn clashes(&self, courses: &[Vec<Place>]) -> Clashes {
        let (run, rules) = (&self.model.run, self.rules);
        let mut clashes = Vec::new();
        for (from, a) in courses.iter().enumerate() {
            let near = courses[from..].iter().enumerate().skip(1);
            for (apart, b) in near.take(self.reach()) {
                let clash = |&x: &Place| b.iter().any(|&y| !run.compatible(rules, x, y, apart));
                if a.iter().any(clash) {
                    clashes.push((from, from + apart));
                }
            }
        }
        clashes
    }

    /// A plan lighter than the best one with the courses of the holes laid anew.
    fn filled(
        &self,
        laid: &[Vec<Place>],
        holes: &Holes,
        boards: &[Column],
        stop: &dyn Fn() -> bool,
    ) -> Option<Laid> {
        let model = self.model;
        let target = self.target(Aim::Primary);
        let mut stays = vec![true; laid.len()];
        holes
            .iter()
            .for_each(|hole| stays[hole.clone()].fill(false));
        let mut fixed = model.extra.clone();
        let mut joints = 0;
        for (at, course) in laid.iter().enumerate().filter(|(at, _)| stays[*at]) {
            let material = [model.materials[at]];
            let takes = Takes::of(&vec![course.clone()], &model.run, &material, false);
            takes
                .rows
                .iter()
                .for_each(|&row| fixed[usize::from(row)] += 1);
            joints += course.len() as i64;
        }
        let parts = self.parts(laid, holes, &stays)?;
        let mut counts = Counts::all(model, target);
        counts.joints.1 -= joints;
        let spent = joints * model.weights.joint;
        let room = target - spent;
        let known = parts.known.iter().chain(boards).cloned();
        let known: Vec<Column> = known.collect();
        let mut master = Master::counting(model, parts.classes, &fixed, &known, counts);
        master.solve(room, room, stop);
        let bound = model.lift(master.prices.as_ref()?.bound());
        if bound >= room || stop() {
            return None;
        }
        let closed = close(&master, room, self.budget.coloured, stop);
        let answer = match closed.better {
            None if closed.bound >= room => return None,
            None => master.whole(room - 1, self.budget.whole, stop)?,
            Some(answer) => answer,
        };
        let Answer {
            weight,
            blocks,
            boards,
        } = answer;
        let mut courses = laid.to_vec();
        let mut places = parts.places;
        for (q, path, n) in blocks {
            for _ in 0..n {
                let at = places[q].pop()?;
                courses[at..at + path.len()].clone_from_slice(&path);
            }
        }
        Some(Laid {
            weight: weight + spent,
            courses,
            boards,
        })
    }

    /// The courses of holes as classes: those that the same courses lie beside are alike.
    fn parts(&self, laid: &[Vec<Place>], holes: &Holes, stays: &[bool]) -> Option<Parts> {
        let (model, rules, reach) = (self.model, self.rules, self.reach());
        let mut number: FxHashMap<(&[u16], Allowed), usize> = FxHashMap::default();
        let mut parts = Parts::default();
        for hole in holes {
            let materials = &model.materials[hole.clone()];
            let allowed = |at: usize| {
                let mut allowed = vec![true; model.run.joints.len() + 1];
                let near = at.saturating_sub(reach)..(at + reach + 1).min(laid.len());
                for other in near.filter(|&other| stays[other]) {
                    let apart = at.abs_diff(other);
                    bar(model, rules, &laid[other], apart, &mut allowed);
                }
                allowed
            };
            let allowed: Allowed = hole.clone().map(allowed).collect();
            let fresh = parts.classes.len();
            let q = *number.entry((materials, allowed.clone())).or_insert(fresh);
            if q == fresh {
                let mut graphs = self.graphs.borrow_mut();
                let graph = graphs.entry(materials.to_vec()).or_insert_with(|| {
                    let block = Block::new(&model.run, rules, materials, MOST_STEPS);
                    block.ok()?.map(Arc::new)
                });
                let block = graph.clone()?;
                parts.classes.push(Class {
                    allowed: Some(allowed),
                    count: 0,
                    ..Class::new(Ways::Block(block), materials.to_vec())
                });
                parts.places.push(Vec::new());
                let steps: usize = parts.classes.iter().map(Class::size).sum();
                if steps > MOST_STEPS {
                    return None;
                }
            }
            parts.classes[q].count += 1;
            parts.places[q].push(hole.start);
            parts
                .known
                .push(Column::Block(q, laid[hole.clone()].to_vec()));
        }
        Some(parts)
    }
}

/// The holes of a plan, by class.
#[derive(Default)]
struct Parts {
    classes: Vec<Class>,
    /// Where the holes of each class begin.
    places: Vec<Vec<usize>>,
    /// What lay there.
    known: Vec<Column>,
}

/// Courses to be laid anew: all that lie so far apart that they have nothing to do with
/// one another, from each of the first courses on, then by chance, at last more and more
/// at once.
fn holes(count: usize, reach: usize, turn: u64) -> Holes {
    let apart = reach + 1;
    if (turn as usize) < apart {
        let starts = (turn as usize..count).step_by(apart);
        return starts.map(|at| at..at + 1).collect();
    }
    let widest = WIDEST + (turn.saturating_sub(LONGER) / A_COURSE_MORE) as usize;
    let mut noise = Noise::new(turn + 1);
    let mut below = |n: usize| (noise.next() * n as f64) as usize;
    let mut holes = Holes::new();
    let mut at = below(apart + 2);
    while at < count {
        let end = (at + 1 + below(widest)).min(count);
        holes.push(at..end);
        at = end + reach + below(2) * below(4);
    }
    holes
}

/// Courses around some of the clashes, and others that have nothing to do with them
/// where so asked.
fn around(clashes: &Clashes, count: usize, reach: usize, others: bool, turn: u64) -> Holes {
    let mut noise = Noise::new(turn + 1);
    let mut below = |n: usize| (noise.next() * n as f64) as usize;
    let mut free = vec![false; count];
    let first = below(clashes.len());
    let some = clashes.iter().cycle().skip(first);
    for &(from, to) in some.take(AT_ONCE.min(clashes.len())) {
        let wider = 1 + usize::from(others);
        let (before, after) = (below(wider), below(wider));
        free[from.saturating_sub(before)..=(to + after).min(count - 1)].fill(true);
    }
    let mut at = if others { below(reach + 1) } else { count };
    while at < count {
        let near = at.saturating_sub(reach)..(at + reach + 1).min(count);
        if !free[near].contains(&true) {
            free[at] = true;
        }
        at += 1 + below(2);
    }
    // Holes too near to one another are one.
    let mut holes = Holes::new();
    for at in (0..count).filter(|&at| free[at]) {
        match holes.last_mut() {
            Some(hole) if at < hole.end + reach => hole.end = at + 1,
            _ => holes.push(at..at + 1),
        }
    }
    holes
}
