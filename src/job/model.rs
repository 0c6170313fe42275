//! The checked job: what was meant. Every value here has passed the checks of
//! its reader, defaults are filled in, and nothing in it refers back to how it
//! was typed. The stages read these types and no others; a program that has no
//! job file builds them directly.

use super::base::BaseRules;
use super::codes::CodeRules;
use super::edit::Set;
use super::fascia::FasciaRules;
use super::framing::{FrameRules, Goods, Lumber, StairGoods};
use super::guard::Guards;
use super::items::{Group, Item};
use super::movement::Movement;
use super::prices::PriceList;
use super::readings::TapeReading;
use crate::length::{Length, Unit};
use crate::load::Force;
use crate::money::Money;
use crate::stairs::Stairs;

/// A whole job: the deck, what it is made of, and the rules it is laid by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Job {
    /// What the job is called on everything that is printed.
    pub title: String,
    /// The units in which results are printed.
    pub unit: Unit,
    /// The sign put before amounts of money, such as `$`.
    pub currency: String,
    /// The frame.
    pub deck: Frame,
    /// What happens at the frame's four edges.
    pub edges: Edges,
    /// The boards' cross-section.
    pub board: Board,
    /// The fasteners under consideration; never empty, the first is used unless another is named.
    pub fasteners: Vec<Fastener>,
    /// The boards the yard sells and those on hand; may be empty for questions across the boards.
    pub stock: Vec<Stock>,
    /// Other pieces cut from the same boards, the stairs' treads last.
    pub extras: Vec<Extra>,
    /// Stairs; their treads are among the other pieces.
    pub stairs: Vec<Stairs>,
    /// What is bought for each of the stairs beside boards and stringers: as many as there are
    /// [`Job::stairs`], or fewer where nothing is.
    pub stair_goods: Vec<StairGoods>,
    /// The supports under the boards.
    pub joists: Joists,
    /// How the courses are finished.
    pub courses: CourseRules,
    /// Where butt joints may fall, and what one is worth avoiding.
    pub joints: JointRules,
    /// The saw.
    pub cutting: Cutting,
    /// What is bought beside the plan.
    pub order: OrderRules,
    /// Prices that take the place of the job's own.
    pub prices: PriceList,
    /// Other choices for the same deck.
    pub alternatives: Vec<Alternative>,
    /// Lumber for the frame, by size; may be empty.
    pub lumber: Vec<Lumber>,
    /// What the frame is made of; absent where the order leaves it out.
    pub frame: Option<FrameRules>,
    /// What the fascia is made of; absent where the order leaves it out.
    pub fascia: Option<FasciaRules>,
    /// What the deck stands on; absent where the order leaves it out.
    pub base: Option<BaseRules>,
    /// The tables it is compared with; none where absent.
    pub codes: Option<CodeRules>,
    /// How high it is, where its stairs are, and its guard.
    pub guards: Guards,
    /// What the tape said while the deck is laid, by course; no course twice.
    pub readings: Vec<TapeReading>,
}

/// Another choice for the same deck: the job with some fields changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Alternative {
    /// What it is called.
    pub name: String,
    /// The changes.
    pub sets: Vec<Set>,
}

/// The frame's size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Frame {
    /// Outside size parallel to the boards.
    pub along: Length,
    /// Outside size square to the boards.
    pub across: Length,
    /// Whether the frame stands already, so that its size is not up for change.
    pub built: bool,
    /// How true the frame's size is (plus or minus).
    pub tolerance: Length,
    /// Its diagonals as measured: from the first edge's left end to the last
    /// edge's right end, and the other one.
    pub diagonals: Option<[Length; 2]>,
}

/// The four edges of a rectangular frame. `first` and `last` run along the
/// boards; `left` and `right` are at the boards' ends.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edges {
    /// Where the first course starts.
    pub first: Edge,
    /// Where the last course ends.
    pub last: Edge,
    /// The boards' left ends, where `along` counts from 0.
    pub left: Edge,
    /// The boards' right ends.
    pub right: Edge,
}

/// What happens at one edge of the frame.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Edge {
    /// The surface reaches past the frame.
    Open {
        /// Thickness of the fascia between frame and overhang.
        fascia: Length,
        /// How far the surface reaches past frame and fascia; negative if it stops inside.
        overhang: Span,
        /// Extra left on the pieces here and sawn off in place (left and right edges only).
        allowance: Length,
    },
    /// The frame touches a wall and the surface stops short of it.
    Wall {
        /// The space left to the wall.
        clearance: Length,
    },
}

impl Edge {
    /// How far the surface reaches past the frame here; negative at a wall.
    pub fn reach(&self) -> Length {
        match self {
            Edge::Open {
                fascia, overhang, ..
            } => *fascia + overhang.set,
            Edge::Wall { clearance } => -*clearance,
        }
    }

    /// What is left on a piece that ends here, to be sawn off in place.
    pub fn allowance(&self) -> Length {
        match self {
            Edge::Open { allowance, .. } => *allowance,
            Edge::Wall { .. } => Length::ZERO,
        }
    }
}

/// A length that is set to one value and may be moved between two others.
/// `least <= set <= most` always holds; a fixed length has all three equal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    /// The value used unless something asks for another.
    pub set: Length,
    /// The least it may be.
    pub least: Length,
    /// The most it may be.
    pub most: Length,
}

impl Span {
    /// A length that is not up for change.
    pub const fn fixed(set: Length) -> Span {
        Span {
            set,
            least: set,
            most: set,
        }
    }

    /// Whether the length may be moved at all.
    pub fn is_free(&self) -> bool {
        self.least < self.most
    }
}

/// The boards' cross-section and how true it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Board {
    /// The width that shows; above zero.
    pub face: Length,
    /// How much each board's face varies by itself (plus or minus).
    pub face_tolerance: Length,
    /// How far the whole batch may be off, all boards alike (plus or minus).
    pub uncertainty: Length,
    /// A ripped board narrower than this is a sliver.
    pub narrowest_rip: Length,
    /// What changes its size after it is laid, if the job says so.
    pub movement: Option<Movement>,
}

/// What a whole board of this face is called in an order behind its length: `× 5-1/2 in board`.
pub(super) fn board_kind(face: Length, unit: Unit) -> String {
    format!("× {} board", face.show(unit))
}

impl Board {
    /// What a whole board is called in an order: `5-1/2 in board`.
    pub fn kind(&self, unit: Unit) -> String {
        board_kind(self.face, unit)
    }
}

/// A fastener under consideration and the gap it leaves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fastener {
    /// Its name in the job.
    pub name: String,
    /// The gap it leaves between courses; with a trial, `set` is the gap measured by it.
    pub gap: Span,
    /// How much each gap varies by itself (plus or minus).
    pub tolerance: Length,
    /// How far all gaps may be off alike (plus or minus); with a trial, the trial's own.
    pub uncertainty: Length,
    /// Whether it hides in the boards' edges or goes through their faces.
    pub kind: FastenerKind,
    /// The packs it is sold in; single pieces where there are none.
    pub packs: Vec<Pack>,
    /// Spares added to the exact count.
    pub spare: Percent,
    /// The dry run that replaced the stated gap, if there was one.
    pub trial: Option<Trial>,
    /// The time it takes.
    pub time: FastenerTime,
    /// What holds the outer edges of the first and the last course beside a clip.
    pub starter: Option<Goods>,
    /// What closes the hole over each screw through the face.
    pub plug: Option<Goods>,
}

/// What a fastener takes of a person's time, in hundredths of a minute.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct FastenerTime {
    /// For each one set.
    pub each: u32,
    /// For each course laid with it.
    pub course: u32,
}

/// Fasteners that are sold together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pack {
    /// Pieces in it; a pack of one is a single piece. Of one that is sold by weight, as many
    /// as that weight holds at least.
    pub pieces: u32,
    /// What it weighs, where it is sold by weight.
    pub weight: Option<Force>,
    /// What it costs, if that is known.
    pub price: Option<Money>,
}

impl Pack {
    /// So many pieces, counted.
    pub const fn of(pieces: u32, price: Option<Money>) -> Pack {
        Pack {
            pieces,
            weight: None,
            price,
        }
    }

    /// So much by weight.
    pub fn weighing(weight: Force, each: PerWeight, price: Option<Money>) -> Pack {
        Pack {
            pieces: weight.holds(each.pieces, each.weight),
            weight: Some(weight),
            price,
        }
    }
}

/// How many of a thing weigh how much: 85 to the pound.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PerWeight {
    /// So many.
    pub pieces: u32,
    /// Weigh as much as this.
    pub weight: Force,
}

/// How a fastener holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FastenerKind {
    /// A clip in the boards' grooves: it holds two courses and sets the gap.
    Clip,
    /// Screws or nails through the face; the gap is set by spacers.
    Face,
}

/// A share in hundredths of a per cent: 5 % is 500.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Percent(pub u32);

/// Boards fixed together on the ground and measured over all.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Trial {
    /// How many boards lay side by side; two or more.
    pub boards: u32,
    /// Their width over all.
    pub over: Length,
}

/// Boards of one length, bought or on hand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stock {
    /// What the yard calls them, where the job says so.
    pub item: Option<String>,
    /// The boards' length.
    pub length: Length,
    /// The price of one board bought; absent only where none can be bought.
    pub price: Option<Money>,
    /// Boards that lie there already and cost nothing.
    pub on_hand: u32,
    /// The most that can be bought; no limit when absent.
    pub available: Option<u32>,
    /// Boards that are sold together, all of them or none; 1 when sold singly.
    pub bundle: u32,
}

/// What boards of a length are called in an order.
pub(super) fn called(length: Length, item: Option<&str>, kind: &str, unit: Unit) -> String {
    let length = length.show(unit);
    match item {
        Some(item) => format!("{item}, {length}"),
        None => format!("{length} {kind}"),
    }
}

impl Stock {
    /// What they are called in an order: by the yard's own name, or by what
    /// kind of goods they are.
    pub fn called(&self, kind: &str, unit: Unit) -> String {
        called(self.length, self.item.as_deref(), kind, unit)
    }

    /// The most that can be bought in whole bundles; no limit when absent.
    pub fn most_bought(&self) -> Option<u32> {
        let bundle = self.bundle.max(1);
        self.available
            .map(|available| available - available % bundle)
    }

    /// Whether there is any: on hand, or sold in whole bundles at a price.
    pub fn can_be_had(&self) -> bool {
        self.on_hand > 0 || (self.price.is_some() && self.most_bought() != Some(0))
    }

    /// Boards left over when so many of those bought are used.
    pub fn left_over(&self, used: u64) -> u64 {
        let bundle = u64::from(self.bundle.max(1));
        used.next_multiple_of(bundle) - used
    }
}

/// Other pieces of one length, cut from the same whole boards.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Extra {
    /// What they are called; no two of a job alike.
    pub label: String,
    /// The length each is cut to.
    pub length: Length,
    /// How many.
    pub count: u32,
}

/// The supports under the boards, as asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Joists {
    /// End joists pulled to the frame's sides and inner ones at a spacing.
    Spaced {
        /// Distance on centre.
        spacing: Length,
        /// Centre of the first inner joist from the frame's left side.
        first: Length,
        /// Thickness of a joist.
        thickness: Length,
    },
    /// Exactly these centres, ascending, from the frame's left side.
    Positions {
        /// The centres.
        centres: Vec<Length>,
        /// The widest bay wanted, for a caution.
        spacing: Option<Length>,
        /// Thickness of a joist.
        thickness: Length,
    },
}

/// How a deck that does not come out in whole courses is finished.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Finish {
    /// Whole boards from the first edge; the last course is ripped.
    #[default]
    RipLast,
    /// The narrow course comes first.
    RipFirst,
    /// First and last course alike.
    Balanced,
    /// The last two courses alike.
    Shared,
    /// A ripped last course is not laid.
    LeaveOut,
}

impl Finish {
    /// Its name in job files and answers.
    pub fn name(self) -> &'static str {
        match self {
            Finish::RipLast => "rip-last",
            Finish::RipFirst => "rip-first",
            Finish::Balanced => "balanced",
            Finish::Shared => "shared",
            Finish::LeaveOut => "leave-out",
        }
    }
}

/// How the courses are laid and finished.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CourseRules {
    /// What is done with a course that does not come out whole.
    pub finish: Finish,
    /// Some gaps left by another of the job's fasteners.
    pub mixed: Option<Mixed>,
}

/// The last gaps of the deck left by another fastener than the rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Mixed {
    /// The other fastener's place in [`Job::fasteners`].
    pub fastener: usize,
    /// How many gaps, counted back from the last one.
    pub gaps: u32,
}

/// Where butt joints may fall.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JointRules {
    /// Least distance along between joints of neighbouring courses.
    pub stagger: Length,
    /// Least count of supports from a joint to those of neighbouring courses; 1 is the next one.
    pub stagger_joists: u32,
    /// Stretches along where no joint may fall.
    pub keep_out: Vec<Zone>,
    /// Courses there must be between two joints on one support.
    pub same_joist_after: u32,
    /// Courses after which the joints come round again; in any order when absent.
    pub repeat: Option<u32>,
    /// The shortest piece of a run cut into more than one.
    pub shortest_piece: Length,
    /// Supports under each piece of a run cut into more than one.
    pub bearing: u32,
    /// The space left between two pieces at a joint.
    pub end_gap: Length,
    /// What one joint is worth avoiding.
    pub price: Money,
    /// What a support that carries joints costs more than one that does not.
    pub doubled_joist_price: Money,
}

/// A stretch along, both ends included; `from <= to` always holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Zone {
    /// Where it starts, from the frame's left side.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
}

impl Zone {
    /// Whether a place lies in it.
    pub fn holds(&self, at: Length) -> bool {
        self.from <= at && at <= self.to
    }
}

/// The saw and what it takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cutting {
    /// Width of a crosscut.
    pub kerf: Length,
    /// Taken off each end of a board before it is used, its saw cut included.
    pub end_trim: Length,
    /// Whether a board may be ripped into two strips for ripped courses.
    pub split_rips: bool,
    /// Width of a rip cut.
    pub rip_kerf: Length,
}

/// What is bought beside the plan.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct OrderRules {
    /// Boards bought beyond the plan.
    pub spare: Spare,
    /// Goods that the program does not count by itself.
    pub items: Vec<Item>,
    /// What is set aside for what nobody thought of, as a share of all goods.
    pub contingency: Percent,
    /// What one delivery costs, if anything is brought.
    pub delivery: Option<Money>,
    /// Whether delivery is taxed.
    pub delivery_taxed: bool,
    /// Tax on goods and contingency.
    pub tax: Percent,
    /// What an hour of labour costs, if it is to be paid.
    pub hour: Option<Money>,
    /// The most that may be spent.
    pub budget: Option<Money>,
    /// Deliveries one after the other, and what each brings; all at once when empty.
    pub stages: Vec<Stage>,
}

/// One delivery of a job that is done in stages.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stage {
    /// What it is called.
    pub name: String,
    /// The groups of the order it brings; no group comes twice.
    pub groups: Vec<Group>,
    /// When it is wanted, in the person's own words.
    pub when: Option<String>,
}

/// Boards bought beyond the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spare {
    /// So many of each length that is bought.
    Boards(u32),
    /// So many that this share may be culled.
    Culled(Percent),
}

impl Default for Spare {
    fn default() -> Spare {
        Spare::Boards(0)
    }
}
