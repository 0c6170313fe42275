//! The plan as every later stage reads it: courses cut into pieces, boards
//! that hold the pieces, and what is known about how good it is.

use crate::length::Length;
use crate::money::Money;
use crate::stock::LimitPrice;

/// What a plan minimises first; ties are broken by cost, then by joints.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Objective {
    /// Money: boards bought, the price of joints, doubled joists.
    #[default]
    Cost,
    /// The number of joints.
    Joints,
    /// The length of boards used, those from hand included.
    Waste,
}

/// A whole board plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// The fastener used, by its place in the job.
    pub fastener: usize,
    /// Its gap.
    pub gap: Length,
    /// The supports' centres along, ascending.
    pub supports: Vec<Length>,
    /// The courses in order from the first edge.
    pub courses: Vec<PlannedCourse>,
    /// Other pieces from the same boards, in the job's order.
    pub extras: Vec<PlannedExtra>,
    /// Boards that are paid and not used, because they are sold in bundles.
    pub left_over: Vec<LeftOver>,
    /// The boards, each with the pieces sawn from it; ordered by stock, then by number.
    pub boards: Vec<PlannedBoard>,
    /// Counts, money and how good the plan is known to be.
    pub totals: Totals,
    /// The most joints that were allowed, if they were limited; the bound is of such plans.
    pub joints_at_most: Option<u32>,
    /// Prices that prove the bound, or what of it the linear relaxation gives.
    pub proof: Option<Proof>,
}

/// Whole-number prices that prove the bound of the linear relaxation. What is
/// minimised there is a weight, in which what breaks ties is less than one unit
/// of the objective.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proof {
    /// Weight of a cent, a joint, or the greatest common measure of the boards' lengths.
    pub unit: i64,
    /// Parts of one unit of weight that prices are counted in.
    pub parts: i64,
    /// How many neighbouring courses are a block.
    pub block: u32,
    /// What pieces are worth.
    pub pieces: Vec<PiecePrice>,
    /// What a joint costs extra on a support, by its centre.
    pub supports: Vec<(Length, i64)>,
    /// What one more board of a limited kind would be worth.
    pub limits: Vec<LimitPrice>,
    /// The most joints allowed, and what one more would be worth.
    pub joints: Option<(u32, i64)>,
    /// What any joint costs, in parts, that of a limit included.
    pub joint: i64,
}

/// What a piece is worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PiecePrice {
    /// The length it is cut to.
    pub length: Length,
    /// The width of the course it is ripped to, where boards may be split.
    pub strip: Option<Length>,
    /// The price, in parts.
    pub price: i64,
}

/// One course of the plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlannedCourse {
    /// Counted from 1 at the first edge.
    pub number: u32,
    /// Its near edge across, 0 at the surface's first edge.
    pub from: Length,
    /// Its far edge across.
    pub to: Length,
    /// Its width, `to - from`.
    pub width: Length,
    /// Whether it is ripped below the board's face.
    pub ripped: bool,
    /// Its stretches between edges; a rectangle has one.
    pub runs: Vec<PlannedRun>,
}

/// One stretch of a course between two edges.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlannedRun {
    /// Where it starts along.
    pub from: Length,
    /// Where it ends along.
    pub to: Length,
    /// Its pieces from left to right.
    pub pieces: Vec<PlannedPiece>,
}

impl PlannedRun {
    /// The supports under its joints from the left, by their centres.
    pub fn joints<'a>(&'a self, supports: &'a [Length]) -> impl Iterator<Item = Length> + 'a {
        self.pieces.windows(2).filter_map(|pair| {
            let mut supports = supports.iter().copied();
            supports.find(|&s| pair[0].to <= s && s <= pair[1].from)
        })
    }
}

/// One piece as it lies.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlannedPiece {
    /// Course number and a letter counted from the left: `12b`.
    pub id: String,
    /// Where it starts along once sawn off in place.
    pub from: Length,
    /// Where it ends along once sawn off in place.
    pub to: Length,
    /// The length it is cut to: `to - from` and the allowance at an open edge.
    pub length: Length,
    /// The number of the board it is cut from.
    pub board: u32,
}

/// One piece that is no part of the deck.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlannedExtra {
    /// The label and a number counted from 1: `stair tread 3`.
    pub id: String,
    /// What it is, by its place in the job.
    pub extra: usize,
    /// The length it is cut to.
    pub length: Length,
    /// The number of the board it is cut from.
    pub board: u32,
}

/// Boards of one stock that a bundle leaves over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LeftOver {
    /// The stock, by its place in the job (from 0 here, from 1 in print).
    pub stock: usize,
    /// How many.
    pub count: u32,
    /// What they cost together.
    pub price: Money,
}

/// One board and what is sawn from it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlannedBoard {
    /// Counted from 1.
    pub number: u32,
    /// The stock it is, by its place in the job (from 0 here, from 1 in print).
    pub stock: usize,
    /// Its length.
    pub length: Length,
    /// What it costs; nothing from hand.
    pub price: Money,
    /// Whether it lay there already.
    pub on_hand: bool,
    /// The pieces sawn from it, by id, in saw order.
    pub pieces: Vec<String>,
    /// The two strips it is ripped into, each with its pieces, if it is.
    pub strips: Option<[Vec<String>; 2]>,
    /// What remains after the last cut; of the better strip if it is split.
    pub offcut: Length,
}

/// Counts, money and proof.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Totals {
    /// Boards used, those from hand included.
    pub boards: u32,
    /// Money for the boards bought, those left over included.
    pub price: Money,
    /// Butt joints.
    pub joints: u32,
    /// Supports that carry at least one joint.
    pub doubled_joists: u32,
    /// What was minimised; `value`, `bound` and `proven` speak of it.
    pub objective: Objective,
    /// Price of boards, joints and doubled joists together.
    pub cost: Money,
    /// The objective's value: cents, joints, or units of 1/8 µm.
    pub value: i64,
    /// A lower bound on the objective over all plans the rules allow, in the same terms.
    pub bound: i64,
    /// Whether no plan can do better: `bound == value`.
    pub proven: bool,
    /// Whether no plan of this cost has fewer joints.
    pub joints_proven: bool,
    /// Whether a limit or the user stopped the search.
    pub stopped: bool,
    /// Length of all boards used and left over, those from hand included.
    pub bought: Length,
    /// Length of all pieces as they lie.
    pub laid: Length,
    /// Length of all other pieces.
    pub extra: Length,
}
