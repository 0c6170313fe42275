//! The checked frame of a job: lumber by size, what joists, rims and the rest
//! are made of, and what fixes and covers them. Like [`super::model`] it holds
//! what was meant, with defaults filled in; where the members lie is left to
//! [`crate::frame`], and what they cost to [`crate::order`].

pub(super) mod tables;

use super::base::Bag;
use super::dressed;
use super::model::{Pack, Percent, Stock};
use crate::length::Length;
use crate::money::Money;

/// Lumber of one size, in all the lengths it is sold in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lumber {
    /// What the size is called, such as `2x8`.
    pub size: String,
    /// Its thickness as it is.
    pub thickness: Length,
    /// Its width as it is: the depth of a joist.
    pub depth: Length,
    /// Whether it is treated against rot, so that its cut ends want preservative.
    pub treated: bool,
    /// The lengths, each with its price and how many there are; never empty.
    pub stock: Vec<Stock>,
}

/// What a stick is called in an order behind its length: `× 2x8, treated`.
pub(super) fn stick_kind(size: &str, treated: bool) -> String {
    format!("× {size}{}", if treated { ", treated" } else { "" })
}

impl Lumber {
    /// Tenths of a board foot in a length of it, where its size is nominal in inches.
    pub fn board_feet(&self, length: Length) -> Option<u64> {
        dressed::board_feet(&self.size, length)
    }

    /// What a stick of it is called in an order: `2x8, treated`.
    pub fn kind(&self) -> String {
        stick_kind(&self.size, self.treated)
    }
}

/// What a frame is made of. Sizes are places in [`super::Job::lumber`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FrameRules {
    /// The joists' size.
    pub joist: usize,
    /// The rims' size.
    pub rim: usize,
    /// Rims side by side along each edge that has one; one or more.
    pub rims: u32,
    /// The size of the ledger at the walls where joists end; rims when absent.
    pub ledger: Option<usize>,
    /// Whether a support that carries joints has a second joist.
    pub double_joists: bool,
    /// Blocking between the joists.
    pub blocking: Option<Blocking>,
    /// Beams under the joists.
    pub beam: Option<Beam>,
    /// Tape over the joists, rims and ledger.
    pub tape: Option<Roll>,
    /// What carries a joist's end at the ledger.
    pub hanger: Option<Fixing>,
    /// The same for a doubled joist.
    pub double_hanger: Option<Fixing>,
    /// What ties a joist to a beam it crosses.
    pub tie: Option<Fixing>,
    /// Nails or screws of hangers and ties.
    pub nail: Option<Goods>,
    /// Nails or screws of the frame itself; only what these name is counted.
    pub fasteners: Vec<FrameFastener>,
    /// What holds the ledger to the wall.
    pub ledger_fastener: Option<Spaced>,
    /// Flashing over the ledger.
    pub flashing: Option<Flashing>,
    /// Preservative for the cut ends of treated lumber.
    pub preservative: Option<Preservative>,
    /// Width of a crosscut in lumber.
    pub kerf: Length,
    /// Taken off each end of a stick before it is used.
    pub end_trim: Length,
}

impl FrameRules {
    /// Joists and single rims of one size, by its place in the job's lumber, and
    /// nothing else; doubled under joints.
    pub fn new(joist: usize, kerf: Length) -> FrameRules {
        FrameRules {
            joist,
            rim: joist,
            rims: 1,
            ledger: None,
            double_joists: true,
            blocking: None,
            beam: None,
            tape: None,
            hanger: None,
            double_hanger: None,
            tie: None,
            nail: None,
            fasteners: Vec::new(),
            ledger_fastener: None,
            flashing: None,
            preservative: None,
            kerf,
            end_trim: Length::ZERO,
        }
    }
}

/// Blocking: short pieces between the joists that keep them upright.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Blocking {
    /// How many rows across the joists.
    pub rows: u32,
    /// How the pieces of a row lie.
    pub pattern: BlockingPattern,
    /// Their size.
    pub size: usize,
}

/// How the pieces of a row of blocking lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BlockingPattern {
    /// All on one line: nailed through the joist from one side only, toenailed from the other.
    InLine,
    /// Every other one beside the line, so that each is nailed through both joists.
    Staggered,
}

/// Beams under the joists, as long as the frame is along.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beam {
    /// Their size.
    pub size: usize,
    /// Sticks side by side in each.
    pub plies: u32,
    /// Where they are.
    pub at: BeamPlaces,
}

/// Where beams are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BeamPlaces {
    /// So many, evenly; a ledger counts as carrying its edge, other edges have a beam under them.
    Even(u32),
    /// Their centres across from the frame's first edge, ascending.
    Centres(Vec<Length>),
}

/// Something that comes in rolls and is laid with laps.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Roll {
    /// Width of the roll.
    pub width: Length,
    /// Length of a roll.
    pub roll: Length,
    /// How far one piece lies over the next.
    pub overlap: Length,
    /// Price of a roll, if that is known.
    pub price: Option<Money>,
}

/// Something bought by the piece or the pack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Goods {
    /// What it is called.
    pub name: String,
    /// The pack it comes in; of one piece where it is sold singly.
    pub pack: Pack,
    /// Spares beyond the count.
    pub spare: Percent,
}

/// A connector and the nails or screws it takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fixing {
    /// The connector.
    pub goods: Goods,
    /// Nails or screws in each.
    pub nails: u32,
}

/// Fasteners at a spacing along a length.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spaced {
    /// The fastener.
    pub goods: Goods,
    /// Greatest distance from one place to the next.
    pub spacing: Length,
    /// How many at each place.
    pub at_each: u32,
}

/// What is bought for a flight of stairs beside its boards and stringers.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct StairGoods {
    /// What holds the treads.
    pub screws: Option<Goods>,
    /// What closes the risers, where they are closed and the job says with what.
    pub riser: Option<Riser>,
    /// Handrails.
    pub handrail: Option<Handrails>,
    /// The slab of the landing.
    pub slab: Option<Slab>,
}

/// What closes the risers of a flight.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Riser {
    /// Boards cut with the fascia.
    OfFascia,
    /// A board for each riser, bought as it is.
    Bought(Goods),
}

/// Handrails of a flight.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Handrails {
    /// How many.
    pub count: u32,
    /// What one is.
    pub goods: Goods,
}

/// A slab of concrete.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slab {
    /// How thick it is.
    pub depth: Length,
    /// The bags it comes in; absent where it does not.
    pub bag: Option<Bag>,
}

/// Nails or screws of the frame itself, and how many go where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FrameFastener {
    /// The nail or screw.
    pub goods: Goods,
    /// In each end of each ply of a joist at a rim that no hanger carries, and at each splice
    /// of a rim.
    pub joist_end: u32,
    /// In each end of each piece of blocking.
    pub blocking_end: u32,
    /// Through the plies of doubled rims and joists.
    pub plies: Option<Plies>,
    /// Through the plies of beams.
    pub beam_plies: Option<Plies>,
}

/// How plies are held together: at each end, at each splice, and between.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Plies {
    /// Greatest distance from one place to the next.
    pub spacing: Length,
    /// How many at each place.
    pub at_each: u32,
}

/// Flashing in lengths that lap.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Flashing {
    /// Length of a piece.
    pub length: Length,
    /// How far one lies over the next.
    pub overlap: Length,
    /// Price of a piece, if that is known.
    pub price: Option<Money>,
}

/// Preservative by how many cut ends a can is enough for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Preservative {
    /// Cut ends that a can is enough for; one or more.
    pub ends: u32,
    /// Price of a can, if that is known.
    pub price: Option<Money>,
}
