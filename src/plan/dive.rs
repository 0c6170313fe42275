//! Plans dived for from a relaxation: blocks are taken whole, what is left is
//! relaxed again, and so on until every course is fixed; then the boards are a
//! cutting problem of their own. Either blocks are counted without regard to
//! their order, or they are laid one after another.

use super::class::Class;
use super::counts::Counts;
use super::finite::Answer;
use super::model::Model;
use super::round;
use super::search::Laid;
use super::tree::{NEAR, Tree};
use crate::job::JointRules;
use crate::joints::{Allowed, Path, Place, Takes};
use crate::program::branch::Limits;

impl Tree<'_> {
    /// Whole blocks near the relaxation of some counts, and their pieces cut:
    /// blocks are rounded down, what is left is relaxed again, and so on.
    /// Nothing when that comes out at `target` or above.
    pub(crate) fn dive(
        &mut self,
        counts: &Counts,
        target: i64,
        turn: u64,
        stop: &dyn Fn() -> bool,
    ) -> Option<Answer> {
        let mut rest = Rest::new(self.model, &self.blocks, counts);
        self.take_blocks(&mut rest, target, turn, stop)?;
        let answer = rest.cut(self.model, stop)?;
        (answer.weight < target).then_some(answer)
    }

    /// The same of the pieces and boards of another answer, whose courses cannot be put
    /// in order.
    pub(crate) fn recut(
        &mut self,
        from: &Answer,
        pieces: &[i64],
        counts: &Counts,
        target: i64,
        stop: &dyn Fn() -> bool,
    ) -> Option<Answer> {
        let model = self.model;
        let mut rest = Rest::new(model, &self.blocks, counts);
        rest.fixed = pieces.iter().map(|n| -n).collect();
        let boards = round::weight(model, &from.boards);
        self.take_blocks(&mut rest, target - boards, 0, stop)?;
        let lacking = rest.fixed.iter().any(|&n| n > 0);
        for ((fixed, n), extra) in rest.fixed.iter_mut().zip(pieces).zip(&model.extra) {
            *fixed += n + extra;
        }
        let answer = match lacking {
            true => rest.cut(model, stop)?,
            false => Answer {
                weight: boards + rest.spent,
                blocks: rest.laid,
                boards: from.boards.clone(),
            },
        };
        (answer.weight < target).then_some(answer)
    }

    /// Takes blocks near the relaxation of what is left until all courses are fixed.
    fn take_blocks(
        &mut self,
        rest: &mut Rest,
        target: i64,
        turn: u64,
        stop: &dyn Fn() -> bool,
    ) -> Option<()> {
        let mut noise = Noise::new(turn);
        let mut first = true;
        while !rest.is_empty() {
            let used = self.relax_rest(rest, target, stop)?;
            let mut taken: Vec<(usize, Path, i64)> = used
                .iter()
                .map(|(q, path, x)| (*q, path.clone(), whole(*x)))
                .filter(|t| t.2 > 0)
                .collect();
            if taken.is_empty() || (first && turn > 0) {
                let (_, (q, path, _)) = used
                    .iter()
                    .map(|u| (u.2 - whole(u.2) as f64 + 0.3 * noise.next(), u))
                    .max_by(|a, b| a.0.total_cmp(&b.0))?;
                taken.push((*q, path.clone(), 1));
            }
            first = false;
            for (q, path, n) in taken {
                let n = n.min(rest.blocks[q]);
                rest.take(self.model, &self.master.classes, q, &path, n);
            }
        }
        Some(())
    }

    /// Whole counts of the columns at hand that weigh less than `target`, if a
    /// short search finds any.
    pub(crate) fn whole(
        &mut self,
        counts: &Counts,
        target: i64,
        limits: Limits,
        stop: &dyn Fn() -> bool,
    ) -> Option<Answer> {
        let rest = Rest::new(self.model, &self.blocks, counts);
        self.relax_rest(&rest, target, stop)?;
        self.master.whole(target - 1, limits, stop)
    }

    /// The blocks of the relaxation of what is left, and how much of each;
    /// nothing when no plan lighter than `target` can come of it.
    fn relax_rest(
        &mut self,
        rest: &Rest,
        target: i64,
        stop: &dyn Fn() -> bool,
    ) -> Option<Vec<(usize, Path, f64)>> {
        if rest.counts.is_empty() {
            return None;
        }
        self.master
            .set(&rest.fixed, &rest.blocks, &rest.counts, Some(&rest.carried));
        let room = target - rest.spent;
        self.master.solve(room, room, stop);
        let bound = self.master.prices.as_ref()?.bound();
        if stop() || self.master.misses() || self.model.lift(bound + rest.spent) >= target {
            return None;
        }
        Some(self.master.used_blocks())
    }

    /// A plan laid from the first course on: each block is one of the relaxation
    /// that may lie beside what is laid, or the cheapest that may.
    pub(crate) fn chain(
        &mut self,
        rules: &JointRules,
        counts: &Counts,
        target: i64,
        turn: u64,
        stop: &dyn Fn() -> bool,
    ) -> Option<Laid> {
        let model = self.model;
        let by_joint = model.weights.doubled > 0;
        let mut rest = Rest::new(model, &self.blocks, counts);
        let mut noise = Noise::new(turn);
        let mut courses: Vec<Vec<Place>> = Vec::new();
        let width = self
            .master
            .classes
            .iter()
            .map(|c| c.materials.len())
            .max()?;
        let chunks: Vec<&[u16]> = model.materials.chunks(width).collect();
        let mut at = 0;
        while at < chunks.len() {
            let used = self.relax_rest(&rest, target, stop)?;
            let q = (0..self.master.classes.len())
                .find(|&q| self.master.classes[q].materials == chunks[at] && rest.blocks[q] > 0)?;
            let class = &self.master.classes[q];
            let block = class.block()?.clone();
            let allowed = beside(model, rules, &courses, chunks[at].len());
            let fits = |path: &Path| {
                path.iter()
                    .zip(&allowed)
                    .all(|(joints, ok)| joints.iter().all(|&j| ok[j as usize]))
            };
            let mut best: Option<(f64, Path, i64)> = None;
            for (_, path, x) in used.iter().filter(|u| u.0 == q) {
                let takes = Takes::of(path, &model.run, &class.materials, by_joint);
                let mut ways = block.realise(&takes, by_joint, 40);
                ways.push(path.clone());
                let Some(way) = ways.into_iter().find(|way| fits(way)) else {
                    continue;
                };
                let score = x + 0.5 * noise.next();
                if best.as_ref().is_none_or(|b| score > b.0) {
                    best = Some((score, way, whole(*x).max(1)));
                }
            }
            let (path, n) = match best {
                Some((_, path, n)) => (path, n),
                None => {
                    let prices = self.master.prices.as_ref()?;
                    let cheap = block.cheapest(&prices.path, Some(&allowed), 0, i64::MAX);
                    (cheap.into_iter().next()?.1, 1)
                }
            };
            // As often as the relaxation would have it, where it may lie beside itself.
            let mut n = n.min(rest.blocks[q]);
            let alike = chunks[at..]
                .iter()
                .take_while(|c| **c == chunks[at])
                .count() as i64;
            n = n.min(alike);
            let again = beside(model, rules, &path, path.len());
            let repeats = path
                .iter()
                .zip(&again)
                .all(|(joints, ok)| joints.iter().all(|&j| ok[j as usize]));
            if !repeats {
                n = 1;
            }
            for _ in 0..n {
                courses.extend(path.iter().cloned());
            }
            at += n as usize;
            rest.take(model, &self.master.classes, q, &path, n);
        }
        let answer = rest.cut(model, stop)?;
        (answer.weight < target).then_some(Laid {
            weight: answer.weight,
            courses,
            boards: answer.boards,
        })
    }
}

/// Which joints the next courses may have beside those laid before them.
fn beside(model: &Model, rules: &JointRules, laid: &[Vec<Place>], next: usize) -> Allowed {
    let reach = (rules.same_joist_after as usize).max(1);
    (0..next)
        .map(|c| {
            let mut allowed = vec![true; model.run.joints.len() + 1];
            for (back, before) in laid.iter().rev().enumerate() {
                let apart = back + 1 + c;
                if apart > reach {
                    break;
                }
                bar(model, rules, before, apart, &mut allowed);
            }
            allowed
        })
        .collect()
}

/// Bars the joints that a course may not have so far apart from one that is laid.
pub(super) fn bar(
    model: &Model,
    rules: &JointRules,
    laid: &[Place],
    apart: usize,
    allowed: &mut [bool],
) {
    for &joint in laid {
        for (place, ok) in allowed.iter_mut().enumerate().skip(1) {
            *ok &= model.run.compatible(rules, joint, place as Place, apart);
        }
    }
}

/// The whole part of a value that may be a little too low.
fn whole(x: f64) -> i64 {
    (x + NEAR).floor() as i64
}

/// What is left to be laid when some blocks are.
pub(super) struct Rest {
    pub blocks: Vec<i64>,
    pub counts: Counts,
    pub fixed: Vec<i64>,
    carried: Vec<i64>,
    pub spent: i64,
    laid: Vec<(usize, Path, i64)>,
}

impl Rest {
    pub(super) fn new(model: &Model, blocks: &[i64], counts: &Counts) -> Rest {
        Rest {
            blocks: blocks.to_vec(),
            counts: counts.clone(),
            fixed: model.extra.clone(),
            carried: vec![0; model.run.joints.len()],
            spent: 0,
            laid: Vec::new(),
        }
    }

    fn is_empty(&self) -> bool {
        self.blocks.iter().all(|&n| n == 0)
    }

    /// Lays so many blocks of a class, or the first courses of one.
    pub(super) fn take(&mut self, model: &Model, classes: &[Class], q: usize, path: &Path, n: i64) {
        if n == 0 {
            return;
        }
        self.blocks[q] -= n;
        let takes = Takes::of(path, &model.run, &classes[q].materials, true);
        for &row in &takes.rows {
            self.fixed[row as usize] += n;
            if let Some((low, high)) = self.counts.pieces.get_mut(row as usize) {
                *low = (*low - n).max(0);
                *high -= n;
            }
        }
        for &joint in &takes.joints {
            self.carried[joint as usize - 1] += n;
        }
        let joints = n * takes.joints.len() as i64;
        self.counts.joints.0 = (self.counts.joints.0 - joints).max(0);
        self.counts.joints.1 -= joints;
        self.spent += joints * model.weights.joint;
        self.laid.push((q, path.clone(), n));
    }

    /// The pieces laid, cut from the boards there are; nothing where there are
    /// more of them, or of joints, than there may be.
    pub(super) fn cut(self, model: &Model, stop: &dyn Fn() -> bool) -> Option<Answer> {
        if self.counts.joints.1 < 0 || self.counts.pieces.iter().any(|p| p.1 < 0) {
            return None;
        }
        let limits: Vec<i64> = self.counts.boards.iter().map(|b| b.1).collect();
        round::cut(model, self.laid, &self.fixed, Some(&limits), stop)
    }
}

/// Numbers in [0, 1) that are the same every time; zeros for turn 0.
pub(super) struct Noise(u64);

impl Noise {
    pub(super) fn new(turn: u64) -> Noise {
        Noise(turn)
    }

    pub(super) fn next(&mut self) -> f64 {
        if self.0 == 0 {
            return 0.0;
        }
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 40) as f64 / (1u64 << 24) as f64
    }
}
