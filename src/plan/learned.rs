//! What branches have cost, by what was branched on: the place of a joint, or a kind of
//! board. That is branched on next whose branches are thought to raise the bound most.
//! The nodes themselves, and what bounds them, are left to the tree.

use rustc_hash::FxHashMap;

use super::counts::Counts;
use super::model::Model;
use super::tree::{NEAR, apart};
use crate::program::Costs;

/// What a branch is thought to cost that nothing is known of.
const UNKNOWN: f64 = 1e9;

/// What is branched on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum On {
    /// A joint of a lot of courses, by its place among all.
    Place(usize),
    /// Boards of a kind.
    Boards(usize),
}

/// How a node came of another one.
#[derive(Debug, Clone, Copy)]
pub(super) struct Branch {
    on: On,
    up: bool,
    /// How far the value was moved.
    moved: f64,
    /// The bound before.
    from: i64,
}

/// What branches have cost, down and up.
#[derive(Default)]
pub(super) struct Learned {
    each: FxHashMap<On, [Costs; 2]>,
    /// Of places, and of boards.
    all: [[Costs; 2]; 2],
    /// The branch that is relaxed now.
    pub now: Option<Branch>,
    /// What was branched on last, down and up.
    last: [Option<Branch>; 2],
}

impl On {
    /// Whether it is places or boards.
    fn sort(self) -> usize {
        usize::from(matches!(self, On::Boards(_)))
    }
}

impl Learned {
    /// The branch that was relaxed is bounded so.
    pub(super) fn learn(&mut self, bound: i64) {
        let Some(branch) = self.now.take() else {
            return;
        };
        let cost = (bound - branch.from).max(0) as f64 / branch.moved.max(NEAR);
        let side = usize::from(branch.up);
        let own = &mut self.each.entry(branch.on).or_default()[side];
        for costs in [own, &mut self.all[branch.on.sort()][side]] {
            costs.add(cost);
        }
    }

    /// The branches of what was branched on last, if it was a place or boards.
    pub(super) fn branches(&mut self) -> [Option<Branch>; 2] {
        std::mem::take(&mut self.last)
    }

    /// The halves of some counts by the place or the boards, so many each, whose branches
    /// are thought to cost most; nothing if all are whole.
    pub(super) fn halves(
        &mut self,
        model: &Model,
        counts: &Counts,
        (places, boards): (&[f64], &[f64]),
        bound: i64,
    ) -> Option<[Counts; 2]> {
        let step = |k: usize| model.kinds[k].bundle;
        let places = places.iter().enumerate();
        let places = places.map(|(at, &x)| (On::Place(at), x));
        let boards = boards.iter().enumerate();
        let boards = boards.map(|(k, &n)| (On::Boards(k), n / step(k) as f64));
        let open = places.chain(boards).filter(|open| apart(open.1) > NEAR);
        let scored = open.map(|(on, value)| (self.score(on, value), on, value));
        let (_, on, value) = scored.max_by(|a, b| a.0.total_cmp(&b.0))?;
        let at = value.floor();
        let branch = |up: bool| Branch {
            on,
            up,
            moved: if up { at + 1.0 - value } else { value - at },
            from: bound,
        };
        self.last = [false, true].map(|up| Some(branch(up)));
        let (mut few, mut many) = (counts.clone(), counts.clone());
        match on {
            On::Place(place) => {
                few.places[place].1 = 0;
                many.places[place].0 = 1;
            }
            On::Boards(k) => {
                let most = at as i64 * step(k);
                few.boards[k].1 = few.boards[k].1.min(most);
                many.boards[k].0 = many.boards[k].0.max(most + step(k));
            }
        }
        Some([few, many])
    }

    fn score(&self, on: On, value: f64) -> f64 {
        let own = self.each.get(&on).copied().unwrap_or_default();
        let all = self.all[on.sort()];
        let part = value - value.floor();
        let cost = |side: usize, moved: f64| {
            let mean = own[side].mean().or(all[side].mean());
            (moved * mean.unwrap_or(UNKNOWN)).max(1e-3)
        };
        cost(0, part) * cost(1, 1.0 - part)
    }
}
