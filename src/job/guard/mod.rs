//! The checked guards of a job: how high the deck is, where its stairs are, and
//! what the guard along its open edges is made of. Like [`super::model`] it holds
//! what was meant, with defaults filled in; where posts and balusters stand is
//! left to [`crate::guard`], and what they cost to [`crate::order`].

pub(super) mod tables;

use super::fascia::Side;
use super::framing::Goods;
use crate::length::{Length, Unit};

/// What decides about guards, and the guard itself.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Guards {
    /// From the ground to the deck's surface where it is highest, if the job says.
    pub height: Option<Length>,
    /// Where each flight of [`super::Job::stairs`] is, in the same order.
    pub stairs: Vec<StairsAt>,
    /// What the guard is made of; absent where the order leaves it out.
    pub rules: Option<GuardRules>,
}

/// Where stairs leave the deck.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StairsAt {
    /// The edge.
    pub side: Side,
    /// From the edge's start to the stairs: from the left on the first and last
    /// edges, from the first edge on the others.
    pub from: Length,
}

/// What a guard is made of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GuardRules {
    /// The edges it stands along, all of them open.
    pub edges: Vec<Side>,
    /// From the deck's surface to its top.
    pub height: Length,
    /// Its posts.
    pub post: GuardPost,
    /// Its rails, if they are counted.
    pub rail: Option<Rail>,
    /// Its balusters, if they are counted.
    pub baluster: Option<Baluster>,
}

/// Posts of a guard.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GuardPost {
    /// How wide one is.
    pub width: Length,
    /// Greatest distance from one to the next on centre.
    pub spacing: Length,
    /// What one is made of.
    pub made: Made,
}

/// Rails between posts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rail {
    /// Rails above each other between two posts.
    pub rows: u32,
    /// What one is made of; of lumber it is as long as posts stand clear of each other.
    pub made: Made,
}

/// What something is made of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Made {
    /// It is bought.
    Bought(Goods),
    /// It is cut with the frame's lumber.
    Cut {
        /// The size, by its place in [`super::Job::lumber`].
        size: usize,
        /// The length, where it is said: that of posts.
        length: Option<Length>,
    },
}

/// Balusters between posts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Baluster {
    /// How wide one is.
    pub width: Length,
    /// The widest clear space beside one.
    pub clear_most: Length,
    /// What is bought.
    pub goods: Goods,
}

impl GuardRules {
    /// The least height of a guard: 36 in (IRC 2018, R312.1.2), or 915 mm.
    pub fn customary_height(unit: Unit) -> Length {
        match unit {
            Unit::Inch => Length::from_inches(36),
            Unit::Millimetre => Length::from_mm(915),
        }
    }

    /// How wide posts are where a job does not say: a dry dressed 4x4, or 90 mm.
    pub fn customary_post(unit: Unit) -> Length {
        match unit {
            Unit::Inch => Length::from_64ths(224),
            Unit::Millimetre => Length::from_mm(90),
        }
    }

    /// The widest opening: no sphere of 4 in may pass (IRC 2018, R312.1.3), or 100 mm.
    pub fn customary_clear(unit: Unit) -> Length {
        match unit {
            Unit::Inch => Length::from_inches(4),
            Unit::Millimetre => Length::from_mm(100),
        }
    }
}
