//! Whole-number prices of a relaxation and the bound they prove.

use super::boarded::Left;
use super::class::Class;
use super::model::Model;
use crate::joints::PathCosts;

/// The most a price may come to in parts, however short the paths are.
const MOST_PRICE: i64 = 10_000_000_000_000_000;

/// Whole prices and the bound they prove.
#[derive(Debug, Clone)]
pub(crate) struct Prices {
    /// Parts of one unit of weight.
    pub parts: i64,
    /// How often every course is in the blocks.
    pub scale: i64,
    /// Of pieces and joints, on paths.
    pub path: PathCosts,
    /// Of each kind's limit.
    pub limit: Vec<i64>,
    /// What a board of each kind leaves.
    pub left: Vec<Left>,
    /// What a joint costs beyond its weight, for the sake of their number.
    pub joint: i64,
    /// What the cheapest block of each class costs.
    pub least: Vec<i64>,
    /// Of each balance, by place.
    pub balances: Vec<Vec<i64>>,
    /// What paying for each support adds to the bound, or takes from it.
    pub supports: Vec<i128>,
    /// No plan weighs less, in parts.
    pub bound: i128,
}

impl Prices {
    /// The bound in whole weight.
    pub(crate) fn bound(&self) -> i64 {
        let parts = i128::from(self.parts) * i128::from(self.scale);
        let up = self.bound.div_euclid(parts) + i128::from(self.bound.rem_euclid(parts) != 0);
        i64::try_from(up.max(0)).unwrap_or(i64::MAX)
    }

    /// What a board of a kind that costs so much holds at least in a plan at most `gap`
    /// above the bound, where any number of them is allowed; and a split one, if there are
    /// such.
    pub(crate) fn floor(&self, kind: usize, cost: i64, gap: i64) -> (i64, Option<i64>) {
        let Left { whole, split } = self.left[kind];
        let cost = cost * self.parts;
        let least = |left: i64| (cost - left.min(0)).saturating_sub(gap);
        (least(whole), split.map(least))
    }

    /// How far a plan of weight `cutoff` lies above the bound, in parts.
    pub(crate) fn gap(&self, cutoff: i64) -> i64 {
        let parts = i128::from(self.parts) * i128::from(self.scale);
        let gap = i128::from(cutoff) * parts - self.bound;
        i64::try_from(gap).unwrap_or(i64::MAX / 4).min(i64::MAX / 4)
    }
}

/// The most a price may come to: a path meets at most a piece and a joint for every
/// joint of every course, each at some three prices, and a board holds no more.
pub(super) fn most_price(model: &Model, classes: &[Class]) -> i64 {
    let courses = classes.iter().map(|class| class.materials.len()).max();
    let pieces = courses.unwrap_or(1) * (model.run.joints.len() + 1);
    (i64::MAX / (8 * pieces as i64)).min(MOST_PRICE)
}

/// What the dearest board weighs, or a joint or a doubled support.
pub(super) fn dearest(model: &Model) -> i64 {
    let boards = model.kinds.iter().map(|k| k.cost).max().unwrap_or(1);
    boards
        .max(model.weights.joint)
        .max(model.weights.doubled)
        .max(1)
}
