//! A certificate as it is written to a file: whole-number prices that prove a
//! lower bound, with what they were found for. Its keys are documented here;
//! what they prove is worked out by [`super::check()`].

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The schema that a certificate names.
pub const SCHEMA: &str = "lastcourse/certificate/1";

/// Whole-number prices that prove that no answer is better than a bound.
///
/// All lengths are whole counts of 1/8 µm, all prices whole counts of `parts`.
/// With what it was written for, the proof is re-checked by integer sums alone:
/// no way to cut a board is worth more than the board at these prices, and no
/// block of neighbouring courses costs less than its `least`. At any prices the
/// boards of an answer can hold what all its pieces are worth, so that `pieces`
/// and each of `further` leave only some numbers of boards; none of those that
/// all of them leave cost less than `bound`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Certificate {
    /// `lastcourse/certificate/1`.
    pub schema: String,
    /// What the bound is of: `plan` (with a job) or `cut` (by itself).
    pub of: Of,
    /// What was minimised: `cost` in cents, `joints`, or `waste` in units of 1/8 µm of board.
    pub objective: Objective,
    /// The value that was reached, in the objective's terms.
    pub value: i64,
    /// No answer has a lower value than this: what the prices prove.
    pub bound: i64,
    /// The bound that was stated beside the answer; it may rest on more than the prices.
    pub stated: i64,
    /// How `stated` goes beyond `bound`, where it does; that part is not stored.
    pub beyond: Option<String>,
    /// Weight of one unit of the objective; what breaks ties weighs less than one altogether.
    pub unit: i64,
    /// Parts of one unit of weight.
    pub parts: i64,
    /// What pieces are worth, by length; lengths left out are worth nothing.
    pub pieces: Vec<Piece>,
    /// What limits of boards are worth; limits left out are worth nothing.
    pub limits: Vec<Limit>,
    /// Further prices: each shows that some numbers of boards do not hold the pieces,
    /// so that together they leave none that cost less than `bound`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub further: Vec<Further>,
    /// The prices of a plan's courses; null for a cut list.
    pub plan: Option<PlanPart>,
    /// The cut list's problem; null for a plan, which has its job.
    pub cut: Option<CutPart>,
}

/// What a certificate is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Of {
    /// A board plan of a job.
    Plan,
    /// A bare cut list.
    Cut,
}

/// What was minimised.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Objective {
    /// Money, in cents.
    Cost,
    /// The number of joints.
    Joints,
    /// The length of boards, in units of 1/8 µm.
    Waste,
}

/// The price of a piece.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Piece {
    /// The length it is cut to.
    pub length: i64,
    /// The width of the course it is ripped to, where boards may be split into strips; else null.
    pub strip: Option<i64>,
    /// What it is worth, in parts; not below 0.
    pub price: i64,
}

/// The price of a limit on boards of one kind.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    /// The kind's place among the stock, from 1.
    pub stock: usize,
    /// Whether the boards on hand are meant, or those that are bought.
    pub on_hand: bool,
    /// What one more board would be worth, in parts; not below 0.
    pub price: i64,
}

/// Prices that show that some numbers of boards do not suffice.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Further {
    /// What pieces are worth, in the order of the certificate's `pieces`; not below 0.
    pub pieces: Vec<i64>,
    /// The prices of a plan's joints; left out for a cut list.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plan: Option<FurtherPlan>,
}

/// Prices of joints beside further prices of pieces.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FurtherPlan {
    /// What any joint costs, in parts.
    pub joint: i64,
    /// What a joint costs extra on a support, where doubled joists have a price; by support.
    pub supports: Vec<Support>,
}

/// What a plan's certificate says of its courses.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlanPart {
    /// What the job is called.
    pub job: String,
    /// The fastener the courses are laid with.
    pub fastener: String,
    /// How many neighbouring courses are looked at together, from the first edge on.
    pub block: u32,
    /// What a joint costs extra on a support, where doubled joists have a price; by support.
    pub supports: Vec<Support>,
    /// The most joints that are allowed, if they are limited, and the price of that limit.
    pub joints: Option<JointLimit>,
    /// What blocks of neighbouring courses cost at least at these prices.
    pub blocks: Vec<BlockPart>,
}

/// The extra price of a joint on a support.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Support {
    /// The support's centre along.
    pub at: i64,
    /// The price, in parts; not below 0.
    pub price: i64,
}

/// A limit on the number of joints.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JointLimit {
    /// The most joints.
    pub most: u32,
    /// What one more joint would be worth, in parts; not below 0.
    pub price: i64,
}

/// Blocks of neighbouring courses that are alike.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BlockPart {
    /// For each course the width it is ripped to, where boards may be split into strips; else null.
    pub courses: Vec<Option<i64>>,
    /// How many such blocks.
    pub count: i64,
    /// What one costs at least, in parts: its pieces and joints at these prices.
    pub least: i64,
}

/// A cut list's problem.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CutPart {
    /// The boards.
    pub stock: Vec<CutStock>,
    /// The pieces asked for.
    pub pieces: Vec<CutPiece>,
    /// Width of a saw cut.
    pub kerf: i64,
    /// Taken off each end of a board before it is used.
    pub end_trim: i64,
    /// The length that one cent stands for where no board has a price and length is minimised; else null.
    pub cent_is: Option<i64>,
}

/// Boards of one length.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CutStock {
    /// Their length.
    pub length: i64,
    /// The price of one in cents; null where none can be bought.
    pub price: Option<i64>,
    /// Boards that cost nothing.
    pub on_hand: u64,
    /// The most that can be bought; null without a limit.
    pub available: Option<u64>,
    /// Boards that are sold together, and all of them paid; left out where they are sold singly.
    #[serde(default = "singly", skip_serializing_if = "is_singly")]
    pub bundle: u64,
}

fn singly() -> u64 {
    1
}

fn is_singly(bundle: &u64) -> bool {
    *bundle == 1
}

/// Pieces of one length.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CutPiece {
    /// The length of each.
    pub length: i64,
    /// How many.
    pub count: u64,
}
