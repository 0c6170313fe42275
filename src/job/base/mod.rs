//! The checked base of a job: what carries the deck and how far apart, what it
//! is meant to carry, and what lies on the ground below. Like [`super::model`]
//! it holds what was meant, with defaults filled in; where the supports stand is
//! left to [`crate::base`], and what they cost to [`crate::order`].

pub(super) mod tables;

use super::framing::{Fixing, Flashing, Goods, Roll};
use super::items::SoldBy;
use super::model::Percent;
use crate::length::{Length, Unit};
use crate::load::{Force, Pressure};
use crate::money::Money;
use crate::volume::Volume;

/// What a deck stands on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BaseRules {
    /// What carries the deck.
    pub support: Support,
    /// From the frame's edge to a beam's or joist's first and last support.
    pub inset: Length,
    /// Greatest distance between joists with supports; all joists when absent.
    pub row_spacing: Option<Length>,
    /// What stands on the deck, live and dead load together.
    pub load: Option<Pressure>,
    /// What the ground bears.
    pub soil: Option<Pressure>,
    /// Footings poured in place, with the bags they are poured from.
    pub footing: Option<Footing>,
    /// A post on each support.
    pub post: Option<Post>,
    /// What holds a post to its support.
    pub post_base: Option<Fixing>,
    /// What holds a beam to its post.
    pub post_cap: Option<Fixing>,
    /// Crushed stone under the frame.
    pub gravel: Option<Gravel>,
    /// Fabric under the stone.
    pub fabric: Option<Roll>,
    /// Edging around it.
    pub edging: Option<Flashing>,
}

impl BaseRules {
    /// Supports and nothing else, none of them loaded.
    pub fn new(support: Support, inset: Length) -> BaseRules {
        BaseRules {
            support,
            inset,
            row_spacing: None,
            load: None,
            soil: None,
            footing: None,
            post: None,
            post_base: None,
            post_cap: None,
            gravel: None,
            fabric: None,
            edging: None,
        }
    }

    /// How far supports are set in from the frame's edge where a job does not say.
    pub fn customary_inset(unit: Unit) -> Length {
        match unit {
            Unit::Inch => Length::from_inches(6),
            Unit::Millimetre => Length::from_mm(150),
        }
    }
}

/// What carries the deck at one place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Support {
    /// The block, or what a footing takes beside concrete.
    pub goods: Goods,
    /// Which of the two it is.
    pub kind: SupportKind,
    /// Greatest distance from one to the next under a beam or joist.
    pub spacing: Length,
    /// What one is stated to carry.
    pub capacity: Option<Force>,
}

/// What kind of thing carries a deck.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SupportKind {
    /// A block that is bought and set down.
    Block,
    /// A footing that is poured.
    Footing,
}

impl SupportKind {
    /// The kind's name in every format.
    pub fn name(self) -> &'static str {
        match self {
            SupportKind::Block => "block",
            SupportKind::Footing => "footing",
        }
    }
}

/// Footings of one size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Footing {
    /// Their outline.
    pub outline: Outline,
    /// How deep the concrete is.
    pub depth: Length,
    /// The bags it comes in; absent where it does not.
    pub bag: Option<Bag>,
}

/// The outline of a footing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outline {
    /// Square, by its side.
    Square(Length),
    /// Round, by its diameter.
    Round(Length),
}

/// Concrete in bags.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bag {
    /// What it is called.
    pub name: String,
    /// What one makes.
    pub yields: Volume,
    /// The price of one.
    pub price: Option<Money>,
}

/// A post on each support.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Post {
    /// Its size, by its place in [`super::Job::lumber`].
    pub size: usize,
    /// The lengths they are cut to: one for all, one for each beam, or one for each post, beam by
    /// beam; never empty.
    pub heights: Vec<Length>,
}

/// Crushed stone under the frame.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gravel {
    /// What it is called.
    pub name: String,
    /// How deep it is once it is compacted.
    pub depth: Length,
    /// How far it reaches past the frame at open edges.
    pub beyond: Length,
    /// How much more of it loose there is than once it is compacted.
    pub compaction: Percent,
    /// The least of it that is sold.
    pub portion: Portion,
}

/// The least of something that is sold: a unit, or a part of one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Portion {
    /// What it is called.
    pub unit: SoldBy,
    /// How much it is.
    pub volume: Volume,
    /// Its price.
    pub price: Option<Money>,
}

/// What stone and the like is sold by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bulk {
    /// Cubic yards.
    CubicYard,
    /// Cubic feet.
    CubicFoot,
    /// Cubic metres.
    CubicMetre,
    /// Bags.
    Bag,
}

/// The least part of a unit that something is sold in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// Whole units only.
    Whole,
    /// Halves.
    Half,
    /// Quarters.
    Quarter,
    /// Tenths.
    Tenth,
}

impl Step {
    /// How many make up a unit.
    pub fn parts(self) -> u32 {
        match self {
            Step::Whole => 1,
            Step::Half => 2,
            Step::Quarter => 4,
            Step::Tenth => 10,
        }
    }
}

impl Bulk {
    /// What a unit or a part of one is called; a bag has no parts.
    pub fn sold_by(self, step: Step) -> SoldBy {
        let names = match self {
            Bulk::CubicYard => ["cu yd", "1/2 cu yd", "1/4 cu yd", "1/10 cu yd"],
            Bulk::CubicFoot => ["cu ft", "1/2 cu ft", "1/4 cu ft", "1/10 cu ft"],
            Bulk::CubicMetre => ["m³", "1/2 m³", "1/4 m³", "1/10 m³"],
            Bulk::Bag => return SoldBy::new("bag", "bags"),
        };
        let name = names[step as usize];
        SoldBy::new(name, name)
    }

    /// How much a unit is; nothing is known of a bag.
    pub fn volume(self) -> Option<Volume> {
        match self {
            Bulk::CubicYard => Some(Volume::CUBIC_YARD),
            Bulk::CubicFoot => Some(Volume::CUBIC_FOOT),
            Bulk::CubicMetre => Some(Volume::CUBIC_METRE),
            Bulk::Bag => None,
        }
    }
}
