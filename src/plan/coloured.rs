//! Plans whose courses keep to a family of joints: any order of such courses will
//! do, so that a family's best plan is an integer program over single courses.

use super::attempts::MOST_STEPS;
use super::classes::{Division, blocks, singles};
use super::counts::Counts;
use super::families::{Colours, dive};
use super::finite::Answer;
use super::flows::close;
use super::master::Master;
use super::model::Model;
use super::search::{Aim, Laid, State};
use super::tree::{Node, Tree};
use crate::job::JointRules;
use crate::joints::Place;

/// A relaxation whose courses have the colours of a period.
pub(super) struct Guide<'a> {
    period: usize,
    master: Master<'a>,
    blocks: Vec<i64>,
    /// Whether the program of a family has been too large to be finished.
    vast: bool,
}

impl<'a> Guide<'a> {
    /// The relaxation of some counts with colours that come round after so many
    /// courses; nothing where those cannot be cut.
    pub(super) fn new(
        model: &'a Model,
        rules: &JointRules,
        period: usize,
        counts: &Counts,
    ) -> Option<Guide<'a>> {
        let width = if period.is_multiple_of(2) { 2 } else { period };
        let division = |width, most| Division {
            period,
            ..Division::of(width, most)
        };
        let classes = blocks(model, rules, &division(width, MOST_STEPS))
            .or_else(|_| blocks(model, rules, &division(1, usize::MAX)))
            .ok()??;
        Some(Guide {
            period,
            blocks: classes.iter().map(|c| c.count).collect(),
            master: Master::counting(model, classes, &model.extra, &[], counts.clone()),
            vast: false,
        })
    }

    /// A plan lighter than `target` from the family of joints that the relaxation
    /// of some counts suggests; so many products are spent on it, and what was begun is
    /// finished.
    pub(super) fn suggested(
        &mut self,
        state: &State,
        counts: &Counts,
        target: i64,
        turn: usize,
        work: u64,
    ) -> Option<Laid> {
        let (model, stop) = (state.model, state.stop);
        let zeros = vec![0; model.run.joints.len()];
        let (master, blocks) = (&mut self.master, &self.blocks);
        master.set(&model.extra, blocks, counts, Some(&zeros));
        master.solve(target, target, stop);
        let bound = model.lift(master.prices.as_ref()?.bound());
        if bound >= target {
            return None;
        }
        let colours = Colours {
            period: self.period,
            cyclic: model.materials.len() > self.period,
            rules: state.rules,
            run: &model.run,
        };
        let family = dive(master, &colours, turn, target, counts, stop)?;
        let classes = singles(model, state.rules, self.period, Some(&family));
        let boards = master.boards();
        let mut tree = Tree::over(model, classes, &boards, counts.clone(), bound);
        let answer = match self.vast {
            true => None,
            false => {
                let blocks = tree.blocks.clone();
                tree.master.set(&model.extra, &blocks, counts, Some(&zeros));
                tree.master.solve(target, target, stop);
                let closed = close(&tree.master, target, state.budget.coloured, stop);
                if closed.better.is_none() && closed.bound >= target {
                    return None;
                }
                self.vast = closed.better.is_none();
                closed.better
            }
        };
        let answer = answer.or_else(|| settle(state, &mut tree, target, work))?;
        lay(model, &tree.master, answer, self.period)
    }
}

/// The first whole answer that a short search of a tree comes upon.
fn settle(state: &State, tree: &mut Tree, target: i64, work: u64) -> Option<Answer> {
    let stop = state.stop;
    let enough = state.model.spent() + work;
    for _ in 0..state.budget.settle {
        let (bound, mut counts) = tree.next(target)?;
        let (found, node) = tree.relax(&mut counts, target, Aim::Primary, stop);
        match node {
            Node::Closed => {}
            Node::Split(halves) => {
                for half in *halves {
                    tree.push(bound.max(found), half);
                }
            }
            Node::Whole(boards, joints) => {
                let tight =
                    counts.up_to(&boards, (state.model.weights.joint > 1).then_some(joints));
                let answer = (0..2)
                    .find_map(|turn| tree.dive(&tight, target, turn, stop))
                    .or_else(|| tree.whole(&tight, target, state.budget.whole, stop));
                if answer.is_some() {
                    return answer;
                }
            }
        }
        if state.spent() || state.model.spent() >= enough {
            return None;
        }
    }
    None
}

/// Puts the single courses of an answer in order: each colour's in turn.
fn lay(model: &Model, master: &Master, answer: Answer, period: usize) -> Option<Laid> {
    let mut waiting: Vec<Vec<Vec<Place>>> = vec![Vec::new(); master.classes.len()];
    for (q, path, count) in &answer.blocks {
        for _ in 0..*count {
            waiting[*q].push(path[0].clone());
        }
    }
    for list in &mut waiting {
        list.sort_unstable();
        list.reverse();
    }
    let courses = model
        .materials
        .iter()
        .enumerate()
        .map(|(i, &material)| {
            let q = master
                .classes
                .iter()
                .position(|c| c.materials == [material] && c.colours == [i % period])?;
            waiting[q].pop()
        })
        .collect::<Option<_>>()?;
    Some(Laid {
        weight: answer.weight,
        courses,
        boards: answer.boards,
    })
}
