//! Branch and price on counts: boards of each kind, those that are split, and joints.
//! Every bound on a count is a row of the relaxation and enters the pricing as one more
//! price, so columns are priced as at the root. Where all counts are whole their weight is
//! known, and plans of just that weight are dived for.

use std::collections::BTreeSet;

use rustc_hash::FxHashMap;

use super::class::Class;
use super::counts::Counts;
use super::learned::{Branch, Learned};
use super::master::{Column, Filling, Master};
use super::model::Model;
use super::search::Aim;
use crate::joints::{Takes, Walk};

/// What became of a node.
#[derive(Debug)]
pub(crate) enum Node {
    /// No plan below it is light enough.
    Closed,
    /// Its counts are not whole: the two halves.
    Split(Box<[Counts; 2]>),
    /// Its counts are whole, and these.
    Whole(Vec<i64>, i64),
}

/// The open nodes and the relaxation they share.
pub(crate) struct Tree<'a> {
    pub(super) model: &'a Model,
    pub master: Master<'a>,
    /// A relaxation that bounds more tightly, if there is one.
    pub tight: Option<Master<'a>>,
    /// What plans weigh less than, that the tight one bounds.
    pub(super) below: i64,
    pub(super) blocks: Vec<i64>,
    open: BTreeSet<(i64, u32)>,
    nodes: Vec<Counts>,
    /// What branches have cost, where places are counted.
    learned: Learned,
    /// How open nodes came of others, where that is to be learned from.
    came: FxHashMap<u32, Branch>,
}

/// Values this near to whole are whole.
pub(super) const NEAR: f64 = 1e-4;

impl<'a> Tree<'a> {
    /// A tree over some counts, of blocks of some classes, with columns known
    /// already; no plan weighs less than `bound`.
    pub(crate) fn over(
        model: &'a Model,
        classes: Vec<Class>,
        known: &[Column],
        counts: Counts,
        bound: i64,
    ) -> Tree<'a> {
        let blocks = classes.iter().map(|c| c.count).collect();
        let fixed = model.extra.clone();
        Tree {
            model,
            master: Master::counting(model, classes, &fixed, known, counts.clone()),
            tight: None,
            below: 0,
            blocks,
            open: BTreeSet::from([(bound, 0)]),
            nodes: vec![counts],
            learned: Learned::default(),
            came: FxHashMap::default(),
        }
    }

    /// No plan weighs less than this; nothing when no node is open.
    pub(crate) fn bound(&self) -> Option<i64> {
        self.open.first().map(|o| o.0)
    }

    /// The node with the least bound, if any is below `target`.
    pub(crate) fn next(&mut self, target: i64) -> Option<(i64, Counts)> {
        let &(bound, id) = self.open.first()?;
        if bound >= target {
            return None;
        }
        Some((bound, self.take(bound, id)))
    }

    /// The node opened last, if it is open still and its bound is below `target`.
    pub(crate) fn newest(&mut self, target: i64) -> Option<(i64, Counts)> {
        let &(bound, id) = self.open.iter().max_by_key(|open| open.1)?;
        let newest = id as usize + 1 == self.nodes.len();
        (newest && bound < target).then(|| (bound, self.take(bound, id)))
    }

    fn take(&mut self, bound: i64, id: u32) -> Counts {
        self.open.remove(&(bound, id));
        self.learned.now = self.came.remove(&id);
        self.nodes[id as usize].clone()
    }

    /// Opens both halves of the node that was relaxed last, split at a place or a kind of
    /// board where such are learned from.
    pub(crate) fn push_halves(&mut self, bound: i64, halves: [Counts; 2]) {
        let branches = self.learned.branches();
        for (half, branch) in halves.into_iter().zip(branches) {
            if let Some(branch) = branch {
                self.came.insert(self.nodes.len() as u32, branch);
            }
            self.push(bound, half);
        }
    }

    /// Opens a node.
    pub(crate) fn push(&mut self, bound: i64, counts: Counts) {
        if !counts.is_empty() {
            self.open.insert((bound, self.nodes.len() as u32));
            self.nodes.push(counts);
        }
    }

    /// Relaxes a node: what it shows, and the bound. Counts that no plan lighter
    /// than `target` can have are taken off.
    pub(crate) fn relax(
        &mut self,
        counts: &mut Counts,
        target: i64,
        aim: Aim,
        stop: &dyn Fn() -> bool,
    ) -> (i64, Node) {
        let model = self.model;
        let zeros = vec![0; model.run.joints.len()];
        let fixed = model.extra.clone();
        let master = match &mut self.tight {
            Some(tight) => {
                let blocks: Vec<i64> = tight.classes.iter().map(|c| c.count).collect();
                tight.set(&fixed, &blocks, counts, Some(&zeros));
                tight
            }
            None => {
                self.master.set(&fixed, &self.blocks, counts, Some(&zeros));
                &mut self.master
            }
        };
        master.solve(target, target, stop);
        let Some(prices) = &master.prices else {
            return (i64::MAX / 4, Node::Closed);
        };
        let bound = model.lift(prices.bound());
        if bound >= target {
            self.learned.learn(target);
            return (bound, Node::Closed);
        }
        let gap = prices.gap(target - 1);
        for (k, left) in prices.left.iter().enumerate() {
            let (boards, split) = (&mut counts.boards[k], counts.split.get_mut(k));
            let given = split.as_deref().copied().unwrap_or((0, 0));
            let room = left.least(*boards, given) + i128::from(gap / prices.scale);
            left.keep(boards, split, room);
        }
        let (low, high) = &mut counts.joints;
        let joint = prices.joint.saturating_mul(prices.scale);
        if joint > 0 {
            *low = (*low).max(*high - gap / joint);
        } else if joint < 0 {
            *high = (*high).min(*low + gap / -joint);
        }
        let (boards, split, joints) = sums(model, master);
        self.learned.learn(bound);
        if !counts.places.is_empty()
            && let Some(halves) = self.learned.halves(
                model,
                counts,
                (&places(&self.master, counts), &boards),
                bound,
            )
        {
            return (bound, Node::Split(Box::new(halves)));
        }
        // Half a board that is split stands for a strip of no more than its length.
        let split = &split[..counts.split.len()];
        let single = |_: usize| 1;
        let bundle = |k: usize| model.kinds[k].bundle;
        let halves = halves(model, counts, split, |c| &mut c.split, single)
            .or_else(|| halves(model, counts, &boards, |c| &mut c.boards, bundle));
        if let Some(halves) = halves {
            return (bound, Node::Split(Box::new(halves)));
        }
        if (model.weights.joint > 1 || aim == Aim::Both) && apart(joints) > NEAR {
            let at = joints.floor() as i64;
            let (mut few, mut many) = (counts.clone(), counts.clone());
            few.joints.1 = at;
            many.joints.0 = at + 1;
            return (bound, Node::Split(Box::new([few, many])));
        }
        let boards = boards.iter().map(|b| b.round() as i64).collect();
        (bound, Node::Whole(boards, joints.round() as i64))
    }
}

impl Tree<'_> {
    /// The walks over all courses that the bound comes from, if it does.
    pub(super) fn walk(&self) -> Option<&Walk> {
        let walk = self.tight.as_ref()?.classes.first()?.walk()?;
        Some(walk)
    }

    /// Pieces of each row in the relaxation that bounds.
    pub(super) fn pieces(&self) -> Vec<f64> {
        let model = self.model;
        let master = self.tight.as_ref().unwrap_or(&self.master);
        let mut pieces = vec![0.0; model.rows];
        for (q, path, x) in master.used_blocks() {
            let takes = Takes::of(&path, &model.run, &master.classes[q].materials, false);
            for row in takes.rows {
                pieces[usize::from(row)] += x / master.scale as f64;
            }
        }
        pieces
    }
}

/// Boards of each kind, those that are split, and joints in the relaxation.
fn sums(model: &Model, master: &Master) -> (Vec<f64>, Vec<f64>, f64) {
    let mut boards = vec![0.0; model.kinds.len()];
    let mut split = boards.clone();
    let mut joints = 0.0;
    for (column, x) in master.used() {
        match column {
            Column::Board(k, filling) => {
                boards[*k] += x;
                if matches!(filling, Filling::Split(..)) {
                    split[*k] += x;
                }
            }
            Column::Block(_, path) => {
                joints += x * path.iter().map(Vec::len).sum::<usize>() as f64;
            }
            Column::Missing | Column::Doubled | Column::Listed(_) => {}
        }
    }
    let often = master.scale as f64;
    boards
        .iter_mut()
        .chain(&mut split)
        .for_each(|n| *n /= often);
    (boards, split, joints / often)
}

/// How often each lot of courses has a joint at each place in the relaxation.
fn places(master: &Master, counts: &Counts) -> Vec<f64> {
    let mut places = vec![0.0; counts.places.len()];
    for (q, path, x) in master.used_blocks() {
        let entries = master.rows.balance(&master.classes[q].balance, &path);
        for (row, _) in entries.into_iter().filter(|entry| entry.1 > 0) {
            places[master.rows.place(row)] += x;
        }
    }
    places
}

/// How far a value is from whole.
pub(super) fn apart(x: f64) -> f64 {
    (x - x.round()).abs()
}

/// The two halves of some counts where boards of a kind, bought in steps, are not whole:
/// of the kind whose part costs most.
fn halves(
    model: &Model,
    counts: &Counts,
    values: &[f64],
    of: impl Fn(&mut Counts) -> &mut Vec<(i64, i64)>,
    step: impl Fn(usize) -> i64,
) -> Option<[Counts; 2]> {
    let steps = |k: usize| values[k] / step(k) as f64;
    let weight = |k: usize| apart(steps(k)) * (model.kinds[k].cost as f64 + 1.0);
    let kinds = (0..values.len()).filter(|&k| apart(steps(k)) > NEAR);
    let k = kinds.max_by(|&a, &b| weight(a).total_cmp(&weight(b)).then(b.cmp(&a)))?;
    let at = steps(k).floor() as i64 * step(k);
    let (mut few, mut many) = (counts.clone(), counts.clone());
    let (most, least) = (&mut of(&mut few)[k].1, &mut of(&mut many)[k].0);
    *most = (*most).min(at);
    *least = (*least).max(at + step(k));
    Some([few, many])
}
