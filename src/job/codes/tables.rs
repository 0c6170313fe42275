//! The job file's fields of code tables: what a person may write, each with its
//! meaning, as [`crate::job::document`] has them for the deck itself.

use crate::job::reading::{Entry, Field, Member, Reading, Shape, tables};
use crate::job::tree::Node;
use crate::job::values::{
    Count, DeckingWord, EditionWord, NotNegative, Positive, Several, SpeciesGroupWord, Words,
};

tables! {
    /// The tables of a code that joists and boards are compared with. What exceeds them is a
    /// caution; nothing is designed, and the local code decides.
    CodesTable {
        required {}
        optional {
            /// Whose tables: `IRC 2015`, `IRC 2018`, `IRC 2021` (of which its table of decking alone is known) or `DCA 6`; none by default.
            edition: EditionWord,
            /// The joists' wood, by one of its table's group: `southern-pine`; `douglas-fir-larch`, `hem-fir` or `spruce-pine-fir`; `redwood`, `western-cedar`, `ponderosa-pine` or `red-pine`.
            species: SpeciesGroupWord,
            /// What the boards are: `5/4` or `2x` wood, the thickness of wood as it lies, or `composite`.
            decking: DeckingWord,
            /// The greatest distance of joists on centre under the boards, by their listing or the local code, in place of the edition's.
            decking_most: Positive,
            /// The fewest joists that a length of board may lie on by the local code.
            joists_under: Count<1>,
            /// Joist spans of the local code, in place of the edition's for that size.
            span or "spans": Several<SpanTable>,
            /// The height of a deck above which it needs a guard by the local code, in place of 30 in.
            guard_above: NotNegative,
            /// The least height of a guard by the local code, in place of 36 in.
            guard_least: Positive,
            /// Where values given here come from, such as `county handout 2024`; printed with them.
            source: Words,
        }
    }

    /// A line of a local table of joist spans.
    SpanTable {
        required {
            /// The size, as `lumber` calls it.
            size: Words,
            /// The greatest distance of joists on centre that it holds for.
            spacing: Positive,
            /// The greatest span.
            most: Positive,
        }
        optional {
            /// The greatest cantilever past a support.
            cantilever: Positive,
        }
    }
}
