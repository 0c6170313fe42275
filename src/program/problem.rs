//! An integer program, what a search of it may spend and what it finds: plain data. How
//! it is searched is left to [`branch`](super::branch).

use std::sync::Arc;

use super::Columns;

/// An integer program over a finite set of columns.
#[derive(Debug, Clone)]
pub struct Program {
    /// Costs (none below zero) and coefficients.
    pub columns: Arc<Columns>,
    /// What each row must come to at least.
    pub at_least: Vec<i64>,
    /// Columns of one group are alike in kind: a stock, a class of blocks.
    pub group: Vec<u32>,
    /// Sums that are whole in every answer and worth branching on first, in
    /// order; by column place, ascending.
    pub sums: Vec<Vec<(u32, i32)>>,
    /// No answer of interest uses more columns than this, all counted.
    pub most_columns: i64,
    /// Columns that cost nothing and take one from a row for another. A row comes
    /// before those it is drawn from.
    pub moves: Vec<Move>,
    /// How it is searched.
    pub way: Way,
}

/// How a program is searched.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Depth first, cut at every node: where boards and pieces are all that is counted.
    Deep,
    /// From the node with the least bound on, cut at the root: where much else is, as
    /// supports that are paid for.
    Wide,
}

/// A column that takes one from a row for another.
#[derive(Debug, Clone, Copy)]
pub struct Move {
    /// Its place.
    pub column: u32,
    /// The row that it takes from.
    pub from: u32,
    /// The row that it gives to.
    pub to: u32,
}

/// The group of columns that are whole where all others are, and not branched on.
pub const NO_GROUP: u32 = u32::MAX;

/// How much work a search may do, in counts.
#[derive(Debug, Clone, Copy)]
pub struct Limits {
    /// Nodes looked at.
    pub nodes: u64,
    /// Products, in millions: numbers of the basis touched, and columns priced.
    pub work: u64,
}

/// An answer: what it costs, and its columns with how often each is used.
pub type Answer = (i64, Vec<(usize, i64)>);

/// What a search found.
#[derive(Debug, Clone)]
pub struct Found {
    /// The cheapest answer within the cutoff.
    pub best: Option<Answer>,
    /// Whether the search was finished: then `best` is the cheapest within the
    /// cutoff, or there is none.
    pub finished: bool,
    /// Nothing within the cutoff costs less than this, finished or not: up to
    /// rounding the cost of `best` where that is the cheapest.
    pub bound: i64,
    /// Nodes looked at.
    pub nodes: u64,
    /// Products, as limits count them.
    pub work: u64,
}

impl Found {
    /// Nothing costs less than this, where no answer within a cutoff was found.
    pub(crate) fn proven(&self, cutoff: i64) -> i64 {
        match self.finished {
            true => cutoff + 1,
            false => self.bound.min(cutoff + 1),
        }
    }
}
