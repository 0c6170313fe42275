//! An order as its reports read it.

use super::sums::{Budget, Delivery, Labour, Sums};
use crate::base::Base;
use crate::caution::Caution;
use crate::codes::Finding;
use crate::frame::{Face, Part, Skeleton};
use crate::guard::Guard;
pub use crate::job::Group;
use crate::job::{Pack, SoldBy};
use crate::length::Length;
use crate::load::Force;
use crate::money::Money;
use crate::stock::{CutPlan, CutProblem};
use crate::volume::Volume;

/// Everything to buy for a plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Order {
    /// What is bought, by group.
    pub lines: Vec<Line>,
    /// The sum of the lines' prices, before tax; lines without a price add nothing.
    pub total: Money,
    /// What everything comes to, with what is set aside, delivery, tax and labour.
    pub sums: Sums,
    /// The time the fasteners take, where the job says how long one takes.
    pub labour: Option<Labour>,
    /// How that stands to what may be spent, where the job says so.
    pub budget: Option<Budget>,
    /// The deliveries of a job done in stages.
    pub deliveries: Vec<Delivery>,
    /// The deck's surface, gaps and all, in square units.
    pub surface: i128,
    /// What the plan's own boards cost, spares left out.
    pub boards_price: Money,
    /// Boards of the plan that lay there already.
    pub on_hand: u64,
    /// Board area used against area laid.
    pub area: Area,
    /// What the usual rule would have bought; none when no boards can be bought.
    pub rule_of_thumb: Option<RuleOfThumb>,
    /// The frame and how its lumber is cut, where the job describes one.
    pub framing: Option<Framing>,
    /// The fascia and how its boards are cut, where the job describes one.
    pub fascia: Option<FasciaCut>,
    /// What the deck stands on, where the job describes it.
    pub base: Option<Base>,
    /// The guard along its open edges, where the job describes one.
    pub guard: Option<Guard>,
    /// The deck held against the tables that the job names.
    pub compared: Vec<Finding>,
    /// What else a deck takes that is not in the lines.
    pub not_counted: Vec<String>,
    /// What a person should look at before ordering.
    pub cautions: Vec<Caution>,
}

impl Order {
    /// Every cutting problem that was solved for the order, with its answer.
    pub fn cut_lists(&self) -> impl Iterator<Item = (&CutProblem, &CutPlan)> {
        let lumber = self.framing.iter().flat_map(|framing| &framing.cuts);
        let lumber = lumber.map(|cut| (&cut.problem, &cut.plan));
        lumber.chain(self.fascia.iter().map(|cut| (&cut.problem, &cut.plan)))
    }
}

/// Why there is no order.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum OrderError {
    /// The frame, the base or the fascia cannot be made as the job has it.
    #[error("{message}")]
    Impossible {
        /// What cannot be.
        message: String,
        /// What would help.
        help: String,
    },
    /// Cutting was stopped before there was an answer.
    #[error("stopped before the lumber was cut")]
    Stopped,
}

/// A frame, and how its lumber is cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Framing {
    /// The frame as it is laid out.
    pub skeleton: Skeleton,
    /// The cut list of each size.
    pub cuts: Vec<LumberCut>,
}

/// How the lumber of one size is cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LumberCut {
    /// The size, by its place in the job's lumber.
    pub size: usize,
    /// What each kind of piece in the problem is for.
    pub parts: Vec<Part>,
    /// The pieces and the sticks.
    pub problem: CutProblem,
    /// The sticks bought and how they are cut.
    pub plan: CutPlan,
}

/// A fascia, and how its boards are cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FasciaCut {
    /// The fascia of each side.
    pub faces: Vec<Face>,
    /// What each kind of piece in the problem is for.
    pub labels: Vec<String>,
    /// The pieces and the boards.
    pub problem: CutProblem,
    /// The boards bought and how they are cut.
    pub plan: CutPlan,
}

/// One line of the order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// The kind of goods.
    pub group: Group,
    /// What it is, as the yard would call it.
    pub item: String,
    /// What `count` counts.
    pub unit: Trade,
    /// The exact need, before spares and packs; nothing for a line of
    /// spares, or of further packs for the need of the line before.
    pub needed: Needed,
    /// Of the need, what lies there already.
    pub on_hand: u64,
    /// How many units are bought.
    pub count: u64,
    /// The price of one unit, where the job gives one.
    pub price_each: Option<Money>,
    /// The price of all units; nothing when nothing is bought.
    pub price: Option<Money>,
}

impl Line {
    /// Sets what one unit costs, and with it the line's price.
    pub(crate) fn priced(mut self, each: Option<Money>) -> Line {
        self.price_each = each;
        self.price = match each {
            Some(each) => Some(each * self.count as i64),
            None if self.count == 0 => Some(Money::ZERO),
            None => None,
        };
        self
    }
}

/// What is counted when something is bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trade {
    /// Single boards.
    Board,
    /// Single pieces.
    Piece,
    /// Packs of so many pieces.
    Pack(u32),
    /// Boxes sold by weight.
    Box {
        /// What one weighs.
        weight: Force,
        /// As many pieces as that holds at least.
        pieces: u32,
    },
    /// Sticks of lumber.
    Stick,
    /// Rolls.
    Roll,
    /// Cans.
    Can,
    /// What goods added by hand are sold by.
    By(SoldBy),
}

impl Trade {
    /// What a pack is bought as.
    pub fn of(pack: &Pack) -> Trade {
        match (pack.weight, pack.pieces) {
            (Some(weight), pieces) => Trade::Box { weight, pieces },
            (None, 0 | 1) => Trade::Piece,
            (None, pieces) => Trade::Pack(pieces),
        }
    }

    /// The unit's name in every format.
    pub fn name(self) -> &'static str {
        match self {
            Trade::Board => "board",
            Trade::Piece => "piece",
            Trade::Pack(_) => "pack",
            Trade::Box { .. } => "box",
            Trade::Stick => "stick",
            Trade::Roll => "roll",
            Trade::Can => "can",
            Trade::By(unit) => unit.one,
        }
    }

    /// Its name where there are several.
    pub fn plural(self) -> &'static str {
        match self {
            Trade::Board => "boards",
            Trade::Piece => "pieces",
            Trade::Pack(_) => "packs",
            Trade::Box { .. } => "boxes",
            Trade::Stick => "sticks",
            Trade::Roll => "rolls",
            Trade::Can => "cans",
            Trade::By(unit) => unit.many,
        }
    }

    /// Pieces in a pack; nothing for what is sold singly.
    pub fn pack(self) -> Option<u32> {
        match self {
            Trade::Pack(pieces) | Trade::Box { pieces, .. } => Some(pieces),
            _ => None,
        }
    }

    /// What a box weighs; nothing for what is not sold by weight.
    pub fn weight(self) -> Option<Force> {
        match self {
            Trade::Box { weight, .. } => Some(weight),
            _ => None,
        }
    }
}

/// An exact need.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Needed {
    /// So many pieces.
    Count(u64),
    /// So much length.
    Length(Length),
    /// So much of what is sold by volume.
    Volume(Volume),
}

/// Areas in square units of 1/8 µm, exact.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Area {
    /// What the boards cover as they lie, gaps left out.
    pub laid: i128,
    /// Other pieces cut from the same boards.
    pub other: i128,
    /// The faces of all boards used, those from hand included.
    pub bought: i128,
}

impl Area {
    /// What is used beyond what is laid and cut from it besides, as a share of
    /// these.
    pub fn over(&self) -> f64 {
        let used = self.laid + self.other;
        if used == 0 {
            return 0.0;
        }
        (self.bought - used) as f64 / used as f64
    }
}

/// "Area plus ten per cent", in boards of the longest length sold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RuleOfThumb {
    /// The longest board that can be bought.
    pub length: Length,
    /// How many of them the rule buys.
    pub boards: u64,
    /// What one costs.
    pub price_each: Money,
    /// What they cost.
    pub price: Money,
}
