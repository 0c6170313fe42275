//! Goods that a person adds to the order by hand: the groups an order has, what
//! things are sold by, and an item of them. What an order comes to is left to
//! [`crate::order`].

use crate::money::Money;

/// The kinds of goods an order is grouped by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Group {
    /// Deck boards.
    Boards,
    /// Clips, screws and starters.
    Fasteners,
    /// Joists, rims, beams and their connectors.
    Frame,
    /// Footings, blocks and what is under them.
    Base,
    /// Stairs.
    Stairs,
    /// Fascia boards.
    Fascia,
    /// Guards.
    Guard,
    /// Anything else.
    Other,
}

impl Group {
    /// All of them, in the order they are listed in.
    pub const ALL: [Group; 8] = [
        Group::Boards,
        Group::Fasteners,
        Group::Frame,
        Group::Base,
        Group::Stairs,
        Group::Fascia,
        Group::Guard,
        Group::Other,
    ];

    /// The group's name in every format.
    pub fn name(self) -> &'static str {
        match self {
            Group::Boards => "boards",
            Group::Fasteners => "fasteners",
            Group::Frame => "frame",
            Group::Base => "base",
            Group::Stairs => "stairs",
            Group::Fascia => "fascia",
            Group::Guard => "guard",
            Group::Other => "other",
        }
    }
}

/// What goods are sold by: the name of one, and of several.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SoldBy {
    /// One: `bag`.
    pub one: &'static str,
    /// Several: `bags`.
    pub many: &'static str,
}

impl SoldBy {
    /// Single pieces.
    pub const PIECE: SoldBy = SoldBy::new("piece", "pieces");

    /// A unit by its two names.
    pub const fn new(one: &'static str, many: &'static str) -> SoldBy {
        SoldBy { one, many }
    }
}

/// Goods that the program does not count by itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    /// The group it is listed in.
    pub group: Group,
    /// What it is, as the yard would call it.
    pub item: String,
    /// How many units are bought; above 0.
    pub count: u32,
    /// What `count` counts.
    pub unit: SoldBy,
    /// The price of one unit, where it is known.
    pub price: Option<Money>,
}
