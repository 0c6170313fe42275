//! Walks over courses of the same pieces as one: in whichever order the pieces lie, they
//! cost the same, and mostly some order of them fits beside a neighbour. Such walks are
//! far fewer; which order each course has is settled once a walk is found.

use std::sync::Arc;

use itertools::Itertools;
use rustc_hash::FxHashSet;

use super::beside::Beside;
use super::courses::{self, Slot};
use super::{Pattern, Walk};
use crate::job::JointRules;
use crate::joints::block::{Path, Pieces, TooLarge};
use crate::joints::run::{Place, Run};

/// Courses of all groups together, at most.
const MOST_COURSES: usize = 8_000;
/// Pieces laid in a search for a course's orders, and orders taken of those found, where a
/// group need not hold all.
const LAID: usize = 5_000;
const TAKEN: usize = 40;
/// Groups beyond which walks are of no use.
const MOST_GROUPS: usize = 1_500;
/// Courses laid and taken back in a search for the orders of a walk's courses.
const MOST_TRIED: usize = 100_000;

/// The courses that walks over gathered ones stand for.
pub struct Gathered {
    /// One course of each group stands for all of it.
    pub walk: Arc<Walk>,
    /// All courses, and which of them are of each group.
    patterns: Vec<Pattern>,
    groups: Vec<Vec<u16>>,
    beside: Beside,
}

impl Gathered {
    /// The walks over some courses, given by their joints, and others of the same pieces;
    /// nothing if there is no way to go on from any.
    ///
    /// # Errors
    /// When there are too many such courses, or more than `most` steps.
    pub fn of(
        run: &Run,
        rules: &JointRules,
        courses: &[Vec<Place>],
        most: usize,
    ) -> Result<Option<Gathered>, TooLarge> {
        let given = courses.iter().filter_map(|joints| Pattern::of(run, joints));
        let mut patterns: Vec<Pattern> = Vec::new();
        for pattern in given.unique_by(Pattern::set) {
            let mut others = Orders::of(run, pattern.set());
            let apart = others.len().div_ceil(TAKEN).max(1);
            others.retain(|other| other.joints != pattern.joints);
            patterns.push(pattern);
            patterns.extend(others.into_iter().step_by(apart));
        }
        if patterns.len() > MOST_COURSES {
            return Err(TooLarge);
        }
        Gathered::over(run, rules, patterns, most)
    }

    /// The walks over the ways to cut a course of some pieces that blocks within some cost
    /// can hold; nothing if there is no way to go on from any.
    ///
    /// # Errors
    /// When there are too many such courses, or more than `most` steps.
    pub fn within(
        run: &Run,
        rules: &JointRules,
        only: &Pieces,
        slots: &[Slot],
        most: usize,
    ) -> Result<Option<Gathered>, TooLarge> {
        let patterns = courses::courses(run, rules, only, slots, MOST_COURSES)?;
        Gathered::over(run, rules, patterns, most)
    }

    fn over(
        run: &Run,
        rules: &JointRules,
        patterns: Vec<Pattern>,
        most: usize,
    ) -> Result<Option<Gathered>, TooLarge> {
        let by_set = patterns.iter().zip(0..);
        let by_set = by_set
            .map(|(pattern, p)| (pattern.set(), p))
            .into_group_map();
        let groups: Vec<Vec<u16>> = by_set.into_values().sorted().collect();
        if groups.len() > MOST_GROUPS {
            return Err(TooLarge);
        }
        let beside = Beside::new(run, rules, &patterns);
        let fits = beside.fits_any(&groups);
        let first = |group: &Vec<u16>| patterns[usize::from(group[0])].clone();
        let gathered = groups.iter().map(first).collect();
        let walk = Walk::fitting(run, gathered, &fits, most)?;
        Ok(walk.map(|walk| Gathered {
            walk: Arc::new(walk),
            patterns,
            groups,
            beside,
        }))
    }

    /// How many groups there are.
    pub fn groups(&self) -> usize {
        self.groups.len()
    }

    /// All courses of some groups, by their joints.
    pub fn courses(&self, groups: impl Iterator<Item = u16>) -> Vec<Vec<Place>> {
        let patterns = groups.flat_map(|group| &self.groups[usize::from(group)]);
        patterns
            .map(|&p| self.patterns[usize::from(p)].joints.clone())
            .collect()
    }

    /// Courses of the groups of a walk that may lie so, if such are found. The walk is
    /// given by the group of each course.
    pub fn lay(&self, walk: &[u16]) -> Option<Path> {
        let mut laid: Vec<u16> = Vec::new();
        // From where there is no way on: how many were laid, and the last of them.
        let mut passed: FxHashSet<(usize, Vec<u16>)> = FxHashSet::default();
        let memory = self.walk.memory;
        // The next to be tried of each course's group.
        let mut next = vec![0];
        while let Some(at) = next.last_mut().filter(|_| laid.len() < walk.len()) {
            let group = &self.groups[usize::from(walk[laid.len()])];
            let may = |&&p: &&u16| {
                let before = laid.iter().rev().take(memory).zip(1..);
                let mut before = before.map(|(&b, apart)| (usize::from(b), apart));
                before.all(|(b, apart)| self.beside.may(b, usize::from(p), apart))
            };
            let to = group[*at..].iter().find_position(may);
            let Some((skipped, &to)) = to else {
                next.pop();
                laid.pop();
                continue;
            };
            *at += skipped + 1;
            laid.push(to);
            let from = laid.len().saturating_sub(memory);
            if !passed.insert((laid.len(), laid[from..].to_vec())) {
                laid.pop();
                continue;
            }
            if passed.len() > MOST_TRIED {
                return None;
            }
            next.push(0);
        }
        let joints = |&p: &u16| self.patterns[usize::from(p)].joints.clone();
        (laid.len() == walk.len()).then(|| laid.iter().map(joints).collect())
    }
}

/// A search for the ways to lay pieces one after another on a run, the first of them.
struct Orders<'r> {
    run: &'r Run,
    left: Vec<u16>,
    joints: Vec<Place>,
    found: Vec<Pattern>,
    /// Pieces that may still be laid.
    tries: usize,
}

impl Orders<'_> {
    fn of(run: &Run, pieces: Vec<u16>) -> Vec<Pattern> {
        let mut orders = Orders {
            run,
            left: pieces,
            joints: Vec::new(),
            found: Vec::new(),
            tries: LAID,
        };
        orders.descend();
        orders.found
    }

    fn descend(&mut self) {
        let from = self.joints.last().copied().unwrap_or(0);
        if from == self.run.end() {
            if let ([joints @ .., _], true) = (&self.joints[..], self.left.is_empty()) {
                self.found.extend(Pattern::of(self.run, joints));
            }
            return;
        }
        for to in self.run.reach(from) {
            let piece = self.run.piece(from, to);
            let at = piece.and_then(|piece| self.left.iter().position(|&l| l == piece));
            let Some(at) = at.filter(|_| self.tries > 0) else {
                continue;
            };
            self.tries -= 1;
            let piece = self.left.remove(at);
            self.joints.push(to);
            self.descend();
            self.joints.pop();
            self.left.insert(at, piece);
        }
    }
}
