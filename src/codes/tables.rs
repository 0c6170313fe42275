//! The published tables themselves, as data: how far joists span and reach past
//! a support, and how far apart they may be under boards, each with its edition,
//! name and basis. It knows no deck; [`super`] enters them.

use crate::job::{Edition, SpeciesGroup};
use crate::length::Length;

/// The spacings on centre that joist tables have columns for.
pub const SPACINGS: [Length; 3] = [
    Length::from_inches(12),
    Length::from_inches(16),
    Length::from_inches(24),
];

/// The sizes they have rows for, and the nominal depth.
pub const SIZES: [(&str, Length); 4] = [
    ("2x6", Length::from_inches(6)),
    ("2x8", Length::from_inches(8)),
    ("2x10", Length::from_inches(10)),
    ("2x12", Length::from_inches(12)),
];

/// Lengths by wood, size and spacing, in feet and inches.
type Rows = [[[(i64, i64); 3]; 4]; 3];

/// A table of joists.
#[derive(Debug, Clone, Copy)]
pub struct JoistTable {
    /// Whose it is.
    pub edition: Edition,
    /// What it is called there.
    pub name: &'static str,
    /// What it stands on: grade, service, loads, deflection.
    pub basis: &'static str,
    /// How much of it is quoted from memory.
    memory: Memory,
    spans: &'static Rows,
    overhangs: Option<&'static Rows>,
}

/// How much of a table is quoted from memory.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Memory {
    /// All of it.
    All,
    /// A few cells of southern pine 2x10, which are hard to read in the copy seen.
    SomeOfSouthernPine,
}

/// A value of a table, and whether it is quoted from memory.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cell {
    /// The value.
    pub most: Length,
    /// Whether it is quoted from memory.
    pub from_memory: bool,
}

impl JoistTable {
    /// The greatest span of a size in the column of a spacing.
    pub fn span(&self, species: SpeciesGroup, size: usize, column: usize) -> Cell {
        self.cell(self.spans, species, size, column, column > 0)
    }

    /// The greatest overhang, where the table has one.
    pub fn overhang(&self, species: SpeciesGroup, size: usize, column: usize) -> Option<Cell> {
        let rows = self.overhangs?;
        Some(self.cell(rows, species, size, column, column == 0))
    }

    fn cell(
        &self,
        rows: &Rows,
        species: SpeciesGroup,
        size: usize,
        column: usize,
        hard_to_read: bool,
    ) -> Cell {
        let row = SpeciesGroup::ALL.iter().position(|each| *each == species);
        let (feet, inches) = rows[row.unwrap_or(0)][size][column];
        let pine = species == SpeciesGroup::SouthernPine && size == 2;
        Cell {
            most: Length::from_inches(12 * feet + inches),
            from_memory: match self.memory {
                Memory::All => true,
                Memory::SomeOfSouthernPine => pine && hard_to_read,
            },
        }
    }
}

/// The joist table of an edition: those of the IRC have one for joists that end
/// on their supports and one for joists that reach past them. That of 2021 is not
/// known here.
pub fn joists(edition: Edition, cantilevered: bool) -> Option<JoistTable> {
    let irc = |name| JoistTable {
        edition,
        name,
        basis: match cantilevered {
            false => "No. 2 grade, wet service, 40 psf live and 10 psf dead load, L/360",
            true => {
                "with cantilevers; No. 2 grade, wet service, 40 psf live and 10 psf dead load, \
                 L/360"
            }
        },
        memory: Memory::All,
        spans: match cantilevered {
            false => &IRC_SPANS,
            true => &IRC_CANTILEVERED,
        },
        overhangs: None,
    };
    Some(match edition {
        Edition::Irc2015 => irc("Table R507.5"),
        Edition::Irc2018 => irc("Table R507.6"),
        Edition::Irc2021 => return None,
        Edition::Dca6 => JoistTable {
            edition,
            name: "Table 2",
            basis: "No. 2 grade, wet service, 40 psf live and 10 psf dead load, L/360; overhangs \
                    L/180 with 220 lb at the end",
            memory: Memory::SomeOfSouthernPine,
            spans: &DCA6_SPANS,
            overhangs: Some(&DCA6_OVERHANGS),
        },
    })
}

/// American Wood Council, Prescriptive Residential Wood Deck Construction Guide,
/// DCA 6 (for the IRC 2012), Table 2, spans.
const DCA6_SPANS: Rows = [
    [
        [(9, 11), (9, 0), (7, 7)],
        [(13, 1), (11, 10), (9, 8)],
        [(16, 2), (14, 0), (11, 5)],
        [(18, 0), (16, 6), (13, 6)],
    ],
    [
        [(9, 6), (8, 4), (6, 10)],
        [(12, 6), (11, 1), (9, 1)],
        [(15, 8), (13, 7), (11, 1)],
        [(18, 0), (15, 9), (12, 10)],
    ],
    [
        [(8, 10), (8, 0), (6, 10)],
        [(11, 8), (10, 7), (8, 8)],
        [(14, 11), (13, 0), (10, 7)],
        [(17, 5), (15, 1), (12, 4)],
    ],
];

/// The same table, overhangs.
const DCA6_OVERHANGS: Rows = [
    [
        [(1, 0), (1, 1), (1, 3)],
        [(1, 10), (2, 0), (2, 4)],
        [(3, 1), (3, 5), (2, 10)],
        [(4, 6), (4, 2), (3, 4)],
    ],
    [
        [(0, 11), (1, 0), (1, 2)],
        [(1, 8), (1, 10), (2, 2)],
        [(2, 10), (3, 2), (2, 9)],
        [(4, 4), (3, 11), (3, 3)],
    ],
    [
        [(0, 9), (0, 10), (0, 11)],
        [(1, 5), (1, 7), (1, 9)],
        [(2, 5), (2, 7), (2, 8)],
        [(3, 7), (3, 9), (3, 1)],
    ],
];

/// International Residential Code 2015, Table R507.5, and 2018, Table R507.6,
/// joists without a cantilever.
const IRC_SPANS: Rows = [
    [
        [(9, 11), (9, 0), (7, 7)],
        [(13, 1), (11, 10), (9, 8)],
        [(16, 2), (14, 0), (11, 5)],
        [(18, 0), (16, 6), (13, 6)],
    ],
    [
        [(9, 6), (8, 8), (7, 2)],
        [(12, 6), (11, 1), (9, 1)],
        [(15, 8), (13, 7), (11, 1)],
        [(18, 0), (15, 9), (12, 10)],
    ],
    [
        [(8, 10), (8, 0), (7, 0)],
        [(11, 8), (10, 7), (8, 8)],
        [(14, 11), (13, 0), (10, 7)],
        [(17, 5), (15, 1), (12, 4)],
    ],
];

/// The same tables, joists with a cantilever.
const IRC_CANTILEVERED: Rows = [
    [
        [(6, 8), (6, 8), (6, 8)],
        [(10, 1), (10, 1), (9, 8)],
        [(14, 6), (14, 0), (11, 5)],
        [(18, 0), (16, 6), (13, 6)],
    ],
    [
        [(6, 3), (6, 3), (6, 3)],
        [(9, 5), (9, 5), (9, 1)],
        [(13, 7), (13, 7), (11, 1)],
        [(18, 0), (15, 9), (12, 10)],
    ],
    [
        [(5, 7), (5, 7), (5, 7)],
        [(8, 6), (8, 6), (8, 6)],
        [(12, 3), (12, 3), (10, 7)],
        [(16, 5), (15, 1), (12, 4)],
    ],
];

/// Over how many joists a board lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spans {
    /// Two: it spans once.
    Single,
    /// Three or more.
    Several,
}

/// A line of a table of wood decking.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DeckingTable {
    /// What it is called.
    pub name: &'static str,
    /// Whether it is quoted from memory.
    pub from_memory: bool,
    /// Joists on centre at most under boards that lie on three of them or more.
    pub several: Laid,
    /// The same under boards that lie on two only; as `several` where the table
    /// does not tell them apart.
    pub single: Laid,
}

/// Joists on centre at most by how boards lie on them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Laid {
    /// Square to the joists.
    pub square: Length,
    /// Up to 45 degrees from that.
    pub diagonal: Length,
}

impl DeckingTable {
    /// How far apart joists may be under boards that lie so many degrees from
    /// square to them; nothing beyond 45, where the table ends.
    pub fn most(&self, degrees: u32, spans: Spans) -> Option<Length> {
        let laid = match spans {
            Spans::Single => self.single,
            Spans::Several => self.several,
        };
        match degrees {
            0 => Some(laid.square),
            1..=45 => Some(laid.diagonal),
            _ => None,
        }
    }
}

/// Whether an edition has a column of its own for boards on two joists.
pub fn tells_spans(edition: Edition) -> bool {
    edition == Edition::Irc2021
}

/// How far apart joists may be under 5/4 boards or, `thick`, 2 in ones. The deck
/// guide's is not known here.
pub fn decking(edition: Edition, thick: bool) -> Option<DeckingTable> {
    let (name, from_memory) = match edition {
        Edition::Irc2015 => ("Table R507.4", true),
        Edition::Irc2018 => ("Table R507.7", false),
        Edition::Irc2021 => ("Table R507.7", true),
        Edition::Dca6 => return None,
    };
    let several = match (thick, tells_spans(edition)) {
        (false, _) => [16, 12],
        (true, false) => [24, 16],
        (true, true) => [24, 24],
    };
    let single = match (thick, tells_spans(edition)) {
        (_, false) => several,
        (false, true) => [12, 8],
        (true, true) => [24, 18],
    };
    let laid = |[square, diagonal]: [i64; 2]| Laid {
        square: Length::from_inches(square),
        diagonal: Length::from_inches(diagonal),
    };
    Some(DeckingTable {
        name,
        from_memory,
        several: laid(several),
        single: laid(single),
    })
}
