//! Relaxations that bound more tightly than blocks side by side: over all windows
//! of courses, which overlap, and over walks through all courses, where few ways
//! to cut a course are left.

use super::class::Class;
use super::classes::{walks, windows};
use super::counts::Counts;
use super::master::{Column, Master};
use super::search::{Aim, State};
use super::tree::Tree;
use crate::joints::{Pieces, Slot, TooLarge};

/// Narrower windows say no more than blocks side by side.
const NARROWEST: usize = 3;
/// Steps from course to course beyond which walks take too long.
const MOST_STEPS: usize = 2_000_000;

impl<'a> State<'a> {
    /// Gives a tree over blocks of some width a relaxation that bounds more
    /// tightly, if there is one.
    pub(super) fn tighten(
        &mut self,
        tree: &mut Tree<'a>,
        width: usize,
        only: Option<&Pieces>,
        all: &Counts,
        aim: Aim,
    ) {
        let (model, stop) = (self.model, self.stop);
        let Some(only) = only.filter(|_| model.weights.doubled == 0) else {
            return;
        };
        // All courses in one block are bounded as tightly as can be.
        if width >= model.materials.len() {
            return;
        }
        let target = self.target(aim);
        tree.below = target;
        tree.relax(&mut all.clone(), target, aim, stop);
        if width >= NARROWEST {
            let classes = windows(model, self.rules, width, only, self.budget.steps);
            self.adopt(tree, classes, all.clone(), width as i64, target);
        }
        // Ties are not worth so much.
        if aim == Aim::Primary {
            self.by_circuits(tree, only);
        }
        if self.bound < self.target(aim) && !self.spent() {
            let classes = self.walks(tree, only, target, MOST_STEPS);
            self.adopt(tree, classes, all.clone().with_pieces(model), 1, target);
        }
    }

    /// The walks over all courses that a plan lighter than `target` can be, by what the
    /// tree's blocks may cost.
    pub(super) fn walks(
        &self,
        tree: &Tree<'a>,
        only: &Pieces,
        target: i64,
        steps: usize,
    ) -> Result<Option<Vec<Class>>, TooLarge> {
        self.within(tree, target, |slots| {
            walks(self.model, self.rules, only, slots, steps)
        })
    }

    /// What is made of the courses that blocks of a tree hold in such plans.
    pub(super) fn within<W>(
        &self,
        tree: &Tree<'a>,
        target: i64,
        walks: impl FnOnce(&[Slot]) -> Result<Option<W>, TooLarge>,
    ) -> Result<Option<W>, TooLarge> {
        let master = tree.tight.as_ref().unwrap_or(&tree.master);
        let prices = master.prices.as_ref().ok_or(TooLarge)?;
        let gap = prices.gap(target - 1);
        let inner = master.classes.iter().zip(&prices.least);
        let inner = inner.filter(|(class, _)| class.block().is_some() && !class.edge());
        let blocks: Vec<_> = inner
            .map(|(class, least)| {
                let costs = class.costs(&prices.path, &prices.balances);
                (class, costs, least.saturating_add(gap))
            })
            .collect();
        let slots: Vec<Slot> = blocks
            .iter()
            .flat_map(|(class, costs, most)| {
                (0..class.materials.len()).map(|course| Slot {
                    costs,
                    materials: &class.materials,
                    course,
                    most: *most,
                })
            })
            .collect();
        walks(&slots)
    }

    /// Gives a tree the relaxation over some classes, which hold every course
    /// `scale` times, if it bounds no less tightly than what the tree has. Without
    /// any way to lay the courses there is nothing lighter than what is known.
    fn adopt(
        &mut self,
        tree: &mut Tree<'a>,
        classes: Result<Option<Vec<Class>>, TooLarge>,
        all: Counts,
        scale: i64,
        target: i64,
    ) {
        let model = self.model;
        let classes = match classes {
            Err(TooLarge) => return,
            Ok(None) => return self.raise(target),
            Ok(Some(classes)) => classes,
        };
        let known = columns(tree, &classes);
        let mut root = Master::overlapping(model, classes, &model.extra, &known, all, scale);
        root.solve(target, target, self.stop);
        let bound = |master: &Master| master.prices.as_ref().map_or(0, |p| p.bound());
        let found = bound(&root);
        // Of heavier plans the classes say nothing.
        self.raise(model.lift(found).min(target));
        let so_far = tree.tight.as_ref().unwrap_or(&tree.master);
        // Walks settle counts even where they bound no better; windows do not.
        let walk = root.classes.iter().any(|class| class.walk().is_some());
        if found > bound(so_far) || walk && found == bound(so_far) {
            tree.tight = Some(root);
        }
    }
}

/// A tree's boards, and its blocks as those of the classes that hold them.
fn columns(tree: &Tree, classes: &[Class]) -> Vec<Column> {
    let class_of = |q: usize| {
        let materials = &tree.master.classes[q].materials;
        let alike = |c: &Class| c.materials == *materials && !c.edge();
        classes.iter().position(alike)
    };
    let columns = tree.master.whole_columns().into_iter();
    columns
        .filter_map(|column| match column {
            Column::Block(q, path) => Some(Column::Block(class_of(q)?, path)),
            other => Some(other),
        })
        .collect()
}
