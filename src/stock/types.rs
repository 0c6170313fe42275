//! A cutting problem and its answer.

use crate::length::Length;
use crate::money::Money;

/// Pieces to be cut, and what they can be cut from.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CutProblem {
    /// Boards by length and price.
    pub stock: Vec<StockBoard>,
    /// Pieces by length; equal lengths may appear more than once.
    pub pieces: Vec<Demand>,
    /// Width of a crosscut.
    pub kerf: Length,
    /// Taken off each end of a board before it is used.
    pub end_trim: Length,
}

/// One kind of board.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StockBoard {
    /// Its length.
    pub length: Length,
    /// Its price; none can be bought without one.
    pub price: Option<Money>,
    /// Boards that cost nothing.
    pub on_hand: u64,
    /// The most that can be bought; no limit when absent.
    pub available: Option<u64>,
    /// Boards that are sold together, 1 where singly: all of a bundle are paid,
    /// and of `available` only whole bundles can be had. The price is of one board.
    pub bundle: u64,
}

impl StockBoard {
    /// The most that can be bought in whole bundles; no limit when absent.
    pub fn most_bought(&self) -> Option<u64> {
        let bundle = self.bundle.max(1);
        self.available
            .map(|available| available - available % bundle)
    }
}

/// Pieces of one length.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Demand {
    /// The length of each.
    pub length: Length,
    /// How many.
    pub count: u64,
}

/// The boards of an answer that are cut alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutBoard {
    /// The kind of board, by its place in [`CutProblem::stock`].
    pub stock: usize,
    /// Whether these come from hand.
    pub on_hand: bool,
    /// How many boards are cut so.
    pub count: u64,
    /// The pieces of each, by their place in [`CutProblem::pieces`], longest first.
    pub pieces: Vec<usize>,
    /// What remains of each after the last cut.
    pub offcut: Length,
}

/// Boards of one stock that its bundles leave over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BoardsLeft {
    /// The kind of board, by its place in [`CutProblem::stock`].
    pub stock: usize,
    /// How many.
    pub count: u64,
    /// What they cost together.
    pub price: Money,
}

/// An answer: every piece cut exactly as often as asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutPlan {
    /// The boards, by stock, those from hand first, and then longest piece first.
    pub boards: Vec<CutBoard>,
    /// Boards that are paid and not used, because they are sold in bundles, by stock.
    pub left_over: Vec<BoardsLeft>,
    /// What the boards cost, those left over included.
    pub cost: Money,
    /// A lower bound on the cost of any answer.
    pub bound: Money,
    /// Whether no answer can cost less: `bound == cost`.
    pub proven: bool,
    /// Whether the search was stopped from outside.
    pub stopped: bool,
    /// Prices that prove the bound, or what of it the linear relaxation gives.
    pub proof: Option<CutProof>,
}

impl CutPlan {
    /// Boards bought of a stock, those left over included.
    pub fn bought(&self, stock: usize) -> u64 {
        let of_stock = |board: &&CutBoard| board.stock == stock && !board.on_hand;
        let used = self.boards.iter().filter(of_stock);
        let left = self.left_over.iter().filter(|left| left.stock == stock);
        used.map(|board| board.count).sum::<u64>() + left.map(|left| left.count).sum::<u64>()
    }
}

/// Whole-number prices that prove the bound of the linear relaxation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutProof {
    /// Parts of a cent that prices are counted in.
    pub parts: i64,
    /// What a piece of each length is worth.
    pub pieces: Vec<(Length, i64)>,
    /// What one more board of a limited kind would be worth.
    pub limits: Vec<LimitPrice>,
    /// Other prices of the same pieces, each of which refutes some numbers of boards.
    pub further: Vec<Vec<i64>>,
}

/// What one more board of a limited kind would be worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LimitPrice {
    /// The kind's stock, by its place.
    pub stock: usize,
    /// Whether boards from hand are meant.
    pub on_hand: bool,
    /// The price, in parts.
    pub price: i64,
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum StockError {
    /// A piece fits no board that can be had.
    #[error("piece {0} fits none of the boards")]
    TooLong(usize),
    /// The boards that can be had do not hold all pieces, and that is proven.
    #[error("there are not enough boards for all pieces")]
    NotEnough,
    /// Nothing was found before the search was stopped.
    #[error("stopped before an answer was found")]
    Stopped,
}
