//! What is tried once no plan of some counts is found in the usual ways: the integer
//! programs over single courses and over the steps of blocks, which say what counts
//! weigh at least whatever their order, and plans laid along walks over few ways to cut
//! a course, which are in order as they come.

use std::sync::Arc;

use rustc_hash::FxHashSet;

use super::attempts::{Attempts, Sought};
use super::class::Class;
use super::counts::Counts;
use super::finite::Answer;
use super::flows::close;
use super::master::{Column, Master};
use super::search::{Aim, State};
use super::stretches;
use super::tree::Tree;
use super::walking;
use crate::joints::{Gathered, Path, Place, Takes, TooLarge, Walk};

/// Answers that are put in order, one after another.
const ANSWERS: usize = 4;
/// Ways to cut a course that walks are made of at most, where they are not all.
const MOST_COURSES: usize = 200;
/// Steps of such walks at most, over all courses and for each that is remembered.
const MOST_STEPS: usize = 600_000;

impl<'a> State<'a> {
    /// Whole counts of single courses, which bound whatever the order, and plans of the
    /// boards that they come to.
    pub(super) fn by_courses(&mut self, tree: &mut Tree<'a>, attempts: &mut Attempts<'a>) {
        let (model, outer) = (self.model, self.stop);
        // Where supports cost something, whole sets of them are settled before.
        if model.weights.doubled > 0 {
            return;
        }
        let target = self.target(Aim::Primary);
        let (root, all) = self.root(tree);
        let enough = model.spent() + self.budget.along;
        let stop = &|| outer() || model.spent() >= enough;
        let work = self.budget.stretches;
        let (closed, classes) = stretches::close(&root, self.rules, target, work, stop);
        self.raise(closed.bound);
        let Some(answer) = closed.better else { return };
        let laid = self.ordered(&classes, &answer, &root.boards());
        if self.offer(laid, self.bound, Aim::Primary) {
            return;
        }
        let mut boards = vec![0; model.kinds.len()];
        for (kind, _, n) in &answer.boards {
            boards[*kind] += n;
        }
        for (n, kind) in boards.iter_mut().zip(&model.kinds) {
            *n += (-*n).rem_euclid(kind.bundle);
        }
        let by_joints = model.weights.joint > 1;
        let counts = all.up_to(&boards, by_joints.then(|| answer.joints()));
        if self.recut(tree, &classes, &answer, &counts) {
            return;
        }
        let sought = Sought {
            counts,
            bound: closed.bound,
            aim: Aim::Primary,
        };
        if !attempts.at_once(self, tree, &sought) {
            attempts.at(self, tree, &sought);
        }
    }

    /// A plan of the boards of single courses, cut into blocks; whether it is as light as
    /// plans can be.
    fn recut(
        &mut self,
        tree: &mut Tree<'a>,
        classes: &[Class],
        answer: &Answer,
        counts: &Counts,
    ) -> bool {
        let pieces = answer.pieces(self.model, classes);
        let target = self.target(Aim::Primary);
        let found = tree.recut(answer, &pieces, counts, target, self.stop);
        let laid = found.and_then(|found| {
            let boards = tree.master.boards();
            self.ordered(&tree.master.classes, &found, &boards)
        });
        self.offer(laid, self.bound, Aim::Primary)
    }

    /// The relaxation of all counts over a tree's blocks, and those counts.
    pub(super) fn root(&self, tree: &Tree<'a>) -> (Master<'a>, Counts) {
        let model = self.model;
        let all = Counts::all(model, self.weight().min(model.conceivable));
        let mut root = tree.master.clone();
        let carried = vec![0; model.run.joints.len()];
        root.set(&model.extra, &tree.blocks, &all, Some(&carried));
        let target = self.target(Aim::Primary);
        root.solve(target, target, self.stop);
        (root, all)
    }

    /// Whole counts of the steps of a tree's blocks, then plans along walks: over the
    /// courses of the blocks at hand, and over all that the tree is bounded by.
    pub(super) fn otherwise(&mut self, tree: &Tree<'a>, width: usize) {
        let (root, all) = self.root(tree);
        self.by_flows(&root);
        // Of wide blocks there are too few at hand.
        if width <= 2 && !self.done() && !self.spent() {
            self.along(&all, |state, stop| at_hand(state, &root, &all, stop));
        }
        self.by_gathered(&root);
        let tight = tree.tight.as_ref().filter(|_| tree.walk().is_some());
        if let Some(walks) = tight {
            self.along(&all, |_, _| Some(walks.clone()));
        }
    }

    /// Raises the bound by whole counts of the steps of a relaxation's blocks, and
    /// takes those that can be put in order.
    fn by_flows(&mut self, root: &Master) {
        for _ in 0..ANSWERS {
            if self.done() || self.spent() {
                return;
            }
            let target = self.target(Aim::Primary);
            let closed = close(root, target, self.budget.flows, self.stop);
            self.raise(closed.bound);
            let Some(answer) = closed.better else { return };
            let classes = &root.classes;
            let laid = self.ordered(classes, &answer, &root.boards());
            if laid.is_none() || self.offer(laid, self.bound, Aim::Primary) {
                return;
            }
        }
    }

    /// Looks for a better plan among the walks of the courses of a relaxation's blocks, in
    /// any order of their pieces.
    fn by_gathered(&mut self, root: &Master) {
        let (model, rules) = (self.model, self.rules);
        if model.weights.doubled > 0 || self.done() || self.spent() {
            return;
        }
        let walks = courses(root).and_then(|courses| {
            few(&courses, self, |courses, steps| {
                Gathered::of(&model.run, rules, courses, steps)
            })
        });
        if let Some(walks) = walks {
            self.among_gathered(&walks, &root.boards());
        }
    }

    /// Lays plans along walks until that finds none, or so much work is spent.
    fn along(
        &mut self,
        all: &Counts,
        walks: impl FnOnce(&State<'a>, &dyn Fn() -> bool) -> Option<Master<'a>>,
    ) {
        let (model, outer) = (self.model, self.stop);
        let enough = model.spent() + self.budget.along;
        let stop = &|| outer() || model.spent() >= enough;
        let Some(walks) = walks(self, stop) else {
            return;
        };
        for turn in 0..self.budget.walked {
            if self.done() || self.spent() || stop() {
                return;
            }
            let target = self.target(Aim::Both);
            let laid = walking::dive(&walks, all, target, turn, stop);
            if laid.is_none() && turn > 0 {
                return;
            }
            self.offer(laid, 0, Aim::Both);
        }
    }
}

/// The relaxation over walks of the courses of another's blocks, the cheapest blocks
/// first.
fn at_hand<'a>(
    state: &State<'a>,
    root: &Master<'a>,
    all: &Counts,
    stop: &dyn Fn() -> bool,
) -> Option<Master<'a>> {
    let (model, rules) = (state.model, state.rules);
    let courses = courses(root)?;
    let walk = few(&courses, state, |courses, steps| {
        Walk::of(&model.run, rules, courses, steps)
    })?;
    let class = Class::walking(Arc::new(walk), &model.materials);
    let (known, counts) = (root.boards(), all.clone());
    let mut walks = Master::overlapping(model, vec![class], &model.extra, &known, counts, 1);
    let target = state.target(Aim::Primary);
    walks.solve(target, target, stop);
    Some(walks)
}

/// The courses of a relaxation's blocks, the cheapest blocks first.
fn courses(master: &Master) -> Option<Vec<Vec<Place>>> {
    let model = master.model;
    let prices = master.prices.as_ref()?;
    let mut blocks: Vec<(i64, &Path)> = Vec::new();
    for column in &master.columns {
        if let Column::Block(q, path) = column {
            let takes = Takes::of(path, &model.run, &master.classes[*q].materials, true);
            let pieces = takes.rows.iter().map(|&r| prices.path.row[usize::from(r)]);
            let joints = takes.joints.iter();
            let joints = joints.map(|&j| prices.path.joint[usize::from(j)]);
            let cost = pieces.sum::<i64>() + joints.sum::<i64>();
            blocks.push((cost - prices.least[*q], path));
        }
    }
    blocks.sort_unstable();
    let mut known = FxHashSet::default();
    let courses = blocks.into_iter().flat_map(|(_, path)| path);
    let courses = courses.filter(|&joints| known.insert(joints)).cloned();
    Some(courses.collect())
}

/// Walks over so many of some courses that they are not too many.
fn few<W>(
    courses: &[Vec<Place>],
    state: &State,
    walks: impl Fn(&[Vec<Place>], usize) -> Result<Option<W>, TooLarge>,
) -> Option<W> {
    let remembered = 1 + state.rules.same_joist_after as usize;
    // A walk remembers fewer courses than there are.
    if remembered.max(2) > state.model.materials.len() {
        return None;
    }
    let steps = MOST_STEPS * remembered / state.model.materials.len();
    let mut most = courses.len().min(MOST_COURSES);
    loop {
        match walks(&courses[..most], steps) {
            Err(TooLarge) if most > 1 => most = most * 3 / 4,
            walks => return walks.ok()?,
        }
    }
}
