//! Blocks of courses that are alike, and the cheapest of them at some prices. How
//! the courses are divided into blocks is left to `classes`.

use std::borrow::Cow;
use std::sync::Arc;

use crate::joints::{Allowed, Block, Path, PathCosts, Walk};

/// Blocks found beside the cheapest.
const BLOCKS: usize = 6;
/// Walks found beside the cheapest.
const WALKS: usize = 12;

/// The ways to cut the courses of a class.
#[derive(Clone)]
pub(crate) enum Ways {
    /// As a block.
    Block(Arc<Block>),
    /// As a walk on from a state, or from the first course.
    Walk(Arc<Walk>, Option<u32>),
}

/// Blocks of neighbouring courses that are alike.
#[derive(Clone)]
pub(crate) struct Class {
    /// The ways to cut one.
    pub ways: Ways,
    /// The material of each course.
    pub materials: Vec<u16>,
    /// The colour of each course: courses a period apart share it.
    pub colours: Vec<usize>,
    /// How many such blocks.
    pub count: i64,
    /// Which joints each course may have; all when absent.
    pub allowed: Option<Allowed>,
    /// How joints of each course of a path count in each of the balances that
    /// windows keep; none where blocks do not overlap.
    pub balance: Vec<Vec<i32>>,
}

impl Class {
    /// One of courses of some materials, each of a colour of its own.
    pub(super) fn new(ways: Ways, materials: Vec<u16>) -> Class {
        Class {
            ways,
            colours: (0..materials.len()).collect(),
            materials,
            count: 1,
            allowed: None,
            balance: Vec::new(),
        }
    }

    /// All courses of a deck, laid by walks from the first one on.
    pub(super) fn walking(walk: Arc<Walk>, materials: &[u16]) -> Class {
        Class::new(Ways::Walk(walk, None), materials.to_vec())
    }

    /// The block, where courses are cut as one.
    pub(super) fn block(&self) -> Option<&Arc<Block>> {
        match &self.ways {
            Ways::Block(block) => Some(block),
            Ways::Walk(..) => None,
        }
    }

    /// The walks, where courses are laid by them.
    pub(super) fn walk(&self) -> Option<&Arc<Walk>> {
        match &self.ways {
            Ways::Walk(walk, _) => Some(walk),
            Ways::Block(_) => None,
        }
    }

    /// What joints of each course cost at the prices of the balances.
    fn by_course(&self, balances: &[Vec<i64>]) -> Vec<Vec<i64>> {
        let courses = self.balance[0].len();
        let places = balances[0].len();
        let mut costs = vec![vec![0; places]; courses];
        for (weights, prices) in self.balance.iter().zip(balances) {
            for (costs, &weight) in costs.iter_mut().zip(weights) {
                for (cost, price) in costs.iter_mut().zip(prices) {
                    *cost -= i64::from(weight) * price;
                }
            }
        }
        costs
    }

    /// What pieces and joints of its blocks cost, the balances counted in.
    pub(super) fn costs<'p>(
        &self,
        path: &'p PathCosts,
        balances: &[Vec<i64>],
    ) -> Cow<'p, PathCosts> {
        if self.balance.is_empty() {
            return Cow::Borrowed(path);
        }
        Cow::Owned(PathCosts {
            course: self.by_course(balances),
            ..path.clone()
        })
    }

    /// The cheapest block and more that cost less than `below`, cheapest first; none when
    /// there is no block.
    pub(super) fn cheapest(
        &self,
        path: &PathCosts,
        balances: &[Vec<i64>],
        below: i64,
    ) -> Vec<(i64, Path)> {
        match &self.ways {
            Ways::Walk(walk, start) => walk.cheapest(path, &self.materials, *start, WALKS, below),
            Ways::Block(block) => {
                let costs = self.costs(path, balances);
                block.cheapest(&costs, self.allowed.as_ref(), BLOCKS, below)
            }
        }
    }

    /// Whether it holds the outermost courses beside windows.
    pub(super) fn edge(&self) -> bool {
        self.balance.first().is_some_and(|weights| weights[0] < 0)
    }

    /// Steps looked at to find them.
    pub(super) fn size(&self) -> usize {
        match &self.ways {
            Ways::Walk(walk, _) => walk.size() * self.materials.len() / 3,
            Ways::Block(block) => block.size(),
        }
    }
}
