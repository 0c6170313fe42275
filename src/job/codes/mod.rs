//! The checked tables of a code that a job is held against: which edition, what
//! wood and boards they are entered with, and the job's own table in their
//! place. Like [`super::model`] it holds what was meant, with defaults filled
//! in; what the tables say and how the deck compares is left to [`crate::codes`].

pub(super) mod tables;

use crate::length::Length;

/// Whose tables a job is held against.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CodeRules {
    /// Published tables; only the job's own where absent.
    pub edition: Option<Edition>,
    /// The joists' wood, as the tables group it.
    pub species: Option<SpeciesGroup>,
    /// The boards, as the tables tell them apart.
    pub decking: Option<Decking>,
    /// Greatest joist spacing under the boards, in place of a table's.
    pub decking_most: Option<Length>,
    /// Joists that each length of board lies on at least, in place of an edition's.
    pub joists_under: Option<u32>,
    /// Joist spans in place of a table's; no two of one size and spacing.
    pub spans: Vec<OwnSpan>,
    /// A deck higher than this needs a guard, in place of the code's height.
    pub guard_above: Option<Length>,
    /// The least height of a guard, in place of the code's.
    pub guard_least: Option<Length>,
    /// Where the job's own values come from, as it is printed with them.
    pub source: Option<String>,
}

/// An edition whose tables are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Edition {
    /// International Residential Code 2015.
    Irc2015,
    /// International Residential Code 2018.
    Irc2018,
    /// International Residential Code 2021, of which the table of decking alone is known.
    Irc2021,
    /// The wood council's prescriptive deck guide, DCA 6, for the code of 2012.
    Dca6,
}

impl Edition {
    /// Its name on everything that is printed.
    pub fn name(self) -> &'static str {
        match self {
            Edition::Irc2015 => "IRC 2015",
            Edition::Irc2018 => "IRC 2018",
            Edition::Irc2021 => "IRC 2021",
            Edition::Dca6 => "DCA 6 (2014, for the IRC 2012)",
        }
    }
}

/// Woods that a joist table has one row for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SpeciesGroup {
    /// Southern pine.
    SouthernPine,
    /// Douglas fir-larch, hem-fir and spruce-pine-fir, incised where treated.
    DouglasFirLarch,
    /// Redwood, western cedars, ponderosa pine and red pine.
    Redwood,
}

impl SpeciesGroup {
    /// All of them, in the tables' order.
    pub const ALL: [SpeciesGroup; 3] = [
        SpeciesGroup::SouthernPine,
        SpeciesGroup::DouglasFirLarch,
        SpeciesGroup::Redwood,
    ];

    /// The group as a table's row has it.
    pub fn name(self) -> &'static str {
        match self {
            SpeciesGroup::SouthernPine => "southern pine",
            SpeciesGroup::DouglasFirLarch => "Douglas fir-larch, hem-fir, spruce-pine-fir",
            SpeciesGroup::Redwood => "redwood, western cedars, ponderosa pine, red pine",
        }
    }
}

/// Boards as a table of decking tells them apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Decking {
    /// Wood sold as 5/4.
    FiveQuarter,
    /// Wood sold as 2 in.
    TwoInch,
    /// Wood so thick as it lies.
    Thick(Length),
    /// Plastic composite, for which its listing alone says how far it spans.
    Composite,
}

/// A line of the job's own joist table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnSpan {
    /// The lumber's size, as the job calls it.
    pub size: String,
    /// Joists are this far apart on centre at most.
    pub spacing: Length,
    /// The greatest span.
    pub most: Length,
    /// The greatest cantilever, where the table has one.
    pub cantilever: Option<Length>,
}
