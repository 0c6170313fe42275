//! A cutting problem in the form the search works on: distinct lengths with
//! their demand, kinds of boards with cost and limit, all in whole numbers.

use itertools::Itertools;

use super::boards::{Boards, Pattern};
use super::types::{CutProblem, StockError};
use crate::length::Length;

/// A kind of board: one stock, bought or from hand.
#[derive(Debug, Clone)]
pub(crate) struct Kind {
    /// The stock, by its place in the problem.
    pub stock: usize,
    /// Whether these come from hand.
    pub on_hand: bool,
    /// What one costs.
    pub cost: i64,
    /// The most there are; no limit when absent.
    pub limit: Option<i64>,
    /// Boards that are sold together, 1 where singly: all of a bundle are paid.
    pub bundle: i64,
    /// Its length less both trims.
    pub usable: Length,
}

/// A cutting problem over distinct lengths.
#[derive(Debug, Clone)]
pub(crate) struct Instance {
    /// Distinct lengths, descending.
    pub lengths: Vec<Length>,
    /// How many of each.
    pub demand: Vec<i64>,
    /// The kinds of boards worth having.
    pub kinds: Vec<Kind>,
    /// Width of a crosscut.
    pub kerf: Length,
    /// What the kinds can hold, each length limited to its demand.
    pub boards: Boards,
}

/// Boards of one kind cut alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Cut {
    /// The kind, by its place in the instance.
    pub kind: usize,
    /// What is cut from each.
    pub pattern: Pattern,
    /// How many boards.
    pub count: i64,
}

impl Kind {
    /// What a bundle costs.
    pub(crate) fn of_bundle(&self) -> i64 {
        self.cost.saturating_mul(self.bundle)
    }

    /// Boards that are paid and not used when so many are used.
    pub(crate) fn left_over(&self, used: i64) -> i64 {
        (-used).rem_euclid(self.bundle)
    }
}

impl Instance {
    /// An instance of the given lengths (descending, distinct) and kinds, of
    /// which only whole bundles can be had.
    pub(crate) fn new(
        lengths: Vec<Length>,
        demand: Vec<i64>,
        mut kinds: Vec<Kind>,
        kerf: Length,
    ) -> Instance {
        for kind in &mut kinds {
            kind.limit = kind.limit.map(|limit| limit - limit % kind.bundle);
        }
        let usable: Vec<Length> = kinds.iter().map(|k| k.usable).collect();
        let most = demand
            .iter()
            .map(|&d| u32::try_from(d).unwrap_or(u32::MAX))
            .collect();
        let boards = Boards::new(&lengths, &usable, kerf, Some(most));
        Instance {
            lengths,
            demand,
            kinds,
            kerf,
            boards,
        }
    }

    /// What a set of cuts costs, in whole bundles.
    pub(crate) fn cost(&self, cuts: &[Cut]) -> i64 {
        let used = self.used(cuts);
        let paid = self.kinds.iter().zip(used);
        paid.map(|(kind, used)| (used + kind.left_over(used)) * kind.cost)
            .sum()
    }

    /// How many boards of each kind a set of cuts uses.
    pub(crate) fn used(&self, cuts: &[Cut]) -> Vec<i64> {
        let mut used = vec![0; self.kinds.len()];
        for cut in cuts {
            used[cut.kind] += cut.count;
        }
        used
    }

    /// No answer that is of interest costs more: one board a piece, and what
    /// bundles leave over.
    pub(crate) fn conceivable(&self) -> i64 {
        let dearest = self.kinds.iter().map(|k| k.cost).max().unwrap_or(0);
        let over = self.kinds.iter().map(|k| k.of_bundle() - k.cost);
        over.fold(self.pieces().saturating_mul(dearest), i64::saturating_add)
            .min(1 << 52)
    }

    /// How many of all pieces are wanted.
    pub(crate) fn pieces(&self) -> i64 {
        self.demand.iter().sum()
    }

    /// What all pieces are worth at some prices.
    pub(crate) fn worth(&self, prices: &[i64]) -> i128 {
        let pieces = self.demand.iter().zip(prices);
        pieces.map(|(&d, &p)| i128::from(d) * i128::from(p)).sum()
    }

    /// The same boards for other pieces (lengths descending, distinct).
    pub(crate) fn with(&self, lengths: Vec<Length>, demand: Vec<i64>) -> Instance {
        Instance::new(lengths, demand, self.kinds.clone(), self.kerf)
    }

    /// Takes surplus pieces off and leaves out boards that hold nothing, so that
    /// exactly the demand is cut.
    pub(crate) fn trim(&self, cuts: &[Cut]) -> Vec<Cut> {
        let mut surplus: Vec<i64> = self.demand.iter().map(|d| -d).collect();
        for cut in cuts {
            for &(i, n) in &cut.pattern {
                surplus[i as usize] += cut.count * i64::from(n);
            }
        }
        let mut trimmed = Vec::new();
        for cut in cuts {
            let mut left = cut.count;
            while left > 0 {
                // How many boards in a row lose the same pieces.
                let mut pattern = Vec::new();
                let mut alike = left;
                for &(i, n) in &cut.pattern {
                    let room = surplus[i as usize];
                    let off = room.clamp(0, i64::from(n));
                    if off > 0 {
                        alike = alike.min((room / off).max(1));
                    }
                    if i64::from(n) > off {
                        pattern.push((i, (i64::from(n) - off) as u16));
                    }
                }
                for &(i, n) in &cut.pattern {
                    let kept = pattern
                        .iter()
                        .find(|(j, _)| *j == i)
                        .map_or(0, |&(_, kept)| kept);
                    surplus[i as usize] -= alike * i64::from(n - kept);
                }
                if !pattern.is_empty() {
                    trimmed.push(Cut {
                        kind: cut.kind,
                        pattern,
                        count: alike,
                    });
                }
                left -= alike;
            }
        }
        trimmed
    }
}

/// The kinds of a problem's stock that can be had, and their cost in cents.
pub(crate) fn kinds(problem: &CutProblem) -> Vec<Kind> {
    let mut kinds = Vec::new();
    for (stock, board) in problem.stock.iter().enumerate() {
        let usable = board.length - problem.end_trim * 2;
        if board.on_hand > 0 {
            kinds.push(Kind {
                stock,
                on_hand: true,
                cost: 0,
                limit: Some(board.on_hand.min(i64::MAX as u64) as i64),
                bundle: 1,
                usable,
            });
        }
        if let Some(price) = board.price
            && board.most_bought() != Some(0)
        {
            kinds.push(Kind {
                stock,
                on_hand: false,
                cost: price.cents(),
                limit: board.most_bought().map(|a| a.min(i64::MAX as u64) as i64),
                bundle: board.bundle.clamp(1, i64::MAX as u64) as i64,
                usable,
            });
        }
    }
    kinds
}

/// Leaves out kinds that another without limit beats in both length and cost.
pub(crate) fn without_dominated(kinds: Vec<Kind>) -> Vec<Kind> {
    let beats = |a: &Kind, b: &Kind, before: bool| {
        a.limit.is_none()
            && a.bundle == 1
            && a.usable >= b.usable
            && a.cost <= b.cost
            && (a.usable > b.usable || a.cost < b.cost || before || b.limit.is_some())
    };
    let kept = (0..kinds.len())
        .filter(|&i| {
            !(0..kinds.len())
                .any(|j| j != i && !kinds[i].on_hand && beats(&kinds[j], &kinds[i], j < i))
        })
        .collect_vec();
    kept.into_iter().map(|i| kinds[i].clone()).collect()
}

/// The instance of a problem over some kinds, and which piece entries make up each length.
pub(crate) fn instance(
    problem: &CutProblem,
    kinds: Vec<Kind>,
) -> Result<(Instance, Vec<Vec<usize>>), StockError> {
    let longest = kinds.iter().map(|k| k.usable).max();
    let mut by_length: std::collections::BTreeMap<Length, Vec<usize>> = Default::default();
    for (place, piece) in problem.pieces.iter().enumerate() {
        if piece.count == 0 {
            continue;
        }
        if longest.is_none_or(|l| piece.length > l) {
            return Err(StockError::TooLong(place));
        }
        by_length.entry(piece.length).or_default().push(place);
    }
    let (lengths, sources): (Vec<Length>, Vec<Vec<usize>>) = by_length.into_iter().rev().unzip();
    let demand = sources
        .iter()
        .map(|places| places.iter().map(|&p| problem.pieces[p].count as i64).sum())
        .collect();
    Ok((Instance::new(lengths, demand, kinds, problem.kerf), sources))
}
