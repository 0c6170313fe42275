//! Relaxations that bound more tightly than blocks side by side: over all windows
//! of courses, which overlap, and over walks through all courses, where few ways
//! to cut a course are left.

use super::class::Class;
use super::classes::{walks, windows};
use super::counts::Counts;
use super::master::{Column, Master};
use super::search::{Aim, State};
use super::tree::Tree;
use crate::joints::Pieces;

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
    ) {
        let (model, stop) = (self.model, self.stop);
        let Some(only) = only.filter(|_| model.weights.doubled == 0) else {
            return;
        };
        // All courses in one block are bounded as tightly as can be.
        if width >= model.materials.len() {
            return;
        }
        let target = self.target(Aim::Primary);
        tree.relax(&mut all.clone(), target, Aim::Primary, stop);
        let mut bound = tree.master.prices.as_ref().map_or(0, |p| p.bound());
        if width >= NARROWEST {
            match windows(model, self.rules, width, only, self.budget.steps) {
                Ok(None) => return self.raise(target),
                Ok(Some(classes)) => {
                    let known = windowed(tree, &classes);
                    let (all, scale) = (all.clone(), width as i64);
                    let mut root =
                        Master::overlapping(model, classes, &model.extra, &known, all, scale);
                    root.solve(target, target, stop);
                    let found = root.prices.as_ref().map_or(0, |p| p.bound());
                    self.raise(model.lift(found));
                    if found > bound {
                        bound = found;
                        tree.tight = Some(root);
                    }
                }
                Err(_) => {}
            }
        }
        if self.bound >= target || self.spent() {
            return;
        }
        match walks(model, self.rules, only, MOST_STEPS) {
            Ok(None) => self.raise(target),
            Ok(Some(classes)) => {
                let all = all.clone().with_pieces(model);
                let boards = tree.master.boards();
                let mut root = Master::overlapping(model, classes, &model.extra, &boards, all, 1);
                root.solve(target, target, stop);
                let found = root.prices.as_ref().map_or(0, |p| p.bound());
                self.raise(model.lift(found));
                if found >= bound {
                    tree.tight = Some(root);
                }
            }
            Err(_) => {}
        }
    }
}

/// A tree's boards, and its blocks as windows.
fn windowed(tree: &Tree, classes: &[Class]) -> Vec<Column> {
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
