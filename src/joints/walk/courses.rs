//! The ways to cut a course that a block within some cost can hold. What blocks
//! cost at most is left to whoever knows the prices.

use rustc_hash::FxHashSet;

use super::Pattern;
use crate::job::JointRules;
use crate::joints::block::{PathCosts, Pieces, TooLarge};
use crate::joints::run::{Place, Run};

/// Ways to cut a course looked at, beyond which there are too many.
const MOST_LOOKED_AT: usize = 40_000;

/// Costs that nothing has.
const NONE: i64 = i64::MAX / 4;

/// A course of a block, and what the block costs at most.
pub struct Slot<'c> {
    /// What pieces and joints cost.
    pub costs: &'c PathCosts,
    /// The material of each course of the block.
    pub materials: &'c [u16],
    /// Which of them.
    pub course: usize,
    /// The block costs no more.
    pub most: i64,
}

/// One course's costs.
struct Course<'c> {
    run: &'c Run,
    only: &'c Pieces,
    /// Of a piece, by length.
    piece: &'c [i64],
    /// Of a joint, by place; the run's end costs nothing.
    joint: Vec<i64>,
}

impl<'c> Course<'c> {
    fn new(run: &'c Run, only: &'c Pieces, slot: &Slot<'c>, course: usize) -> Course<'c> {
        let first = usize::from(slot.materials[course]) * run.lengths.len();
        let own = slot.costs.course.get(course);
        let joint = |place: usize| match run.is_joint(place as Place) {
            true => slot.costs.joint[place] + own.map_or(0, |own| own[place]),
            false => 0,
        };
        Course {
            run,
            only,
            piece: &slot.costs.row[first..first + run.lengths.len()],
            joint: (0..=usize::from(run.end())).map(joint).collect(),
        }
    }

    /// What a piece and the joint at its end cost, if it may lie there.
    fn step(&self, from: Place, to: Place) -> Option<(u16, i64)> {
        let length = self.run.piece(from, to)?;
        self.only.has(length, to).then(|| {
            (
                length,
                self.piece[usize::from(length)] + self.joint[usize::from(to)],
            )
        })
    }

    /// What the cheapest way on costs from every place, without the barred joints.
    fn rest(&self, barred: &[bool]) -> Vec<i64> {
        let end = self.run.end();
        let mut rest = vec![NONE; usize::from(end) + 1];
        rest[usize::from(end)] = 0;
        for from in (0..end).rev().filter(|&from| !barred[usize::from(from)]) {
            let on = |to: Place| Some(self.step(from, to)?.1.saturating_add(rest[usize::from(to)]));
            let least = self.run.reach(from).filter_map(on).min();
            rest[usize::from(from)] = least.unwrap_or(NONE).min(NONE);
        }
        rest
    }
}

/// A listing of the ways to cut one course.
struct List<'a> {
    course: &'a Course<'a>,
    rest: Vec<i64>,
    most: i64,
    found: Vec<(i64, Pattern)>,
}

impl List<'_> {
    fn descend(&mut self, at: &mut Pattern, cost: i64) -> Result<(), TooLarge> {
        let from = at.joints.last().copied().unwrap_or(0);
        let run = self.course.run;
        for to in run.reach(from) {
            let Some((length, more)) = self.course.step(from, to) else {
                continue;
            };
            let cost = cost + more;
            let rest = self.rest[usize::from(to)];
            if rest >= NONE || cost + rest > self.most {
                continue;
            }
            at.lengths.push(length);
            if to == run.end() {
                if self.found.len() >= MOST_LOOKED_AT {
                    return Err(TooLarge);
                }
                self.found.push((cost, at.clone()));
            } else {
                at.joints.push(to);
                self.descend(at, cost)?;
                at.joints.pop();
            }
            at.lengths.pop();
        }
        Ok(())
    }
}

/// The ways to cut a course that one of the blocks can hold there within its cost:
/// each of its other courses lies as cheaply as it can beside that one.
///
/// # Errors
/// When there are too many to look at, or more than `limit`.
pub(super) fn courses(
    run: &Run,
    rules: &JointRules,
    only: &Pieces,
    slots: &[Slot],
    limit: usize,
) -> Result<Vec<Pattern>, TooLarge> {
    let mut known: FxHashSet<Vec<Place>> = FxHashSet::default();
    let mut patterns = Vec::new();
    let places = usize::from(run.end()) + 1;
    let free = vec![false; places];
    let reach = (rules.same_joist_after as usize).max(1);
    for slot in slots {
        let others: Vec<(usize, Course, i64)> = (0..slot.materials.len())
            .filter(|&other| other != slot.course)
            .map(|other| {
                let course = Course::new(run, only, slot, other);
                let least = course.rest(&free)[0];
                (other.abs_diff(slot.course), course, least)
            })
            .collect();
        let beside = others.iter().fold(0, |sum: i64, o| sum.saturating_add(o.2));
        let course = Course::new(run, only, slot, slot.course);
        let mut list = List {
            course: &course,
            rest: course.rest(&free),
            most: slot.most.saturating_sub(beside),
            found: Vec::new(),
        };
        let mut at = Pattern {
            joints: Vec::new(),
            lengths: Vec::new(),
        };
        list.descend(&mut at, 0)?;
        for (cost, pattern) in list.found {
            if known.contains(&pattern.joints) {
                continue;
            }
            let mut room = slot.most - cost;
            for (apart, other, least) in &others {
                if *apart > reach {
                    room -= least;
                    continue;
                }
                let barred: Vec<bool> = (0..places as Place)
                    .map(|place| {
                        let clash = |&joint: &Place| !run.compatible(rules, joint, place, *apart);
                        run.is_joint(place) && pattern.joints.iter().any(clash)
                    })
                    .collect();
                room = room.saturating_sub(other.rest(&barred)[0]);
            }
            if room >= 0 {
                known.insert(pattern.joints.clone());
                patterns.push(pattern);
            }
        }
    }
    match patterns.len() > limit {
        true => Err(TooLarge),
        false => Ok(patterns),
    }
}
