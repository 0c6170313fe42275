//! The job file's fields of the fascia: what a person may write, each with its
//! meaning, as [`crate::job::document`] has them for the deck itself.

use crate::job::document::StockTable;
use crate::job::framing::tables::{GoodsTable, SpacedTable};
use crate::job::reading::{Entry, Field, Member, Reading, Shape, tables};
use crate::job::tree::Node;
use crate::job::values::{
    CornersWord, Count, NotNegative, Positive, Price, RunsPastWord, Several, Share, SidesWords,
    SplicesWord, Words,
};

tables! {
    /// The fascia: what it is cut from and what holds it; its thickness is said at each edge.
    /// Without it the order leaves the fascia out.
    FasciaTable {
        required {
            /// The boards it is cut from, one for each length, with the fields of `[[stock]]`.
            stock or "boards": Several<StockTable>,
        }
        optional {
            /// What a board of it is called; `fascia board` by default.
            name: Words,
            /// Height of its boards; the item is named by it, and it is held against the lumber behind it.
            height: Positive,
            /// The edges it dresses, such as `["last", "left"]`; every open edge with a fascia thickness by default.
            edges: SidesWords,
            /// How two fascias meet: `mitred` (the default), both reaching the outside of the other, or `butted`.
            corners: CornersWord,
            /// Which run past the ends of the others where they are butted, and bear no return where they are mitred: `along` (the first and last edges, the default) or `across`.
            runs_past: RunsPastWord,
            /// Length of a short piece that turns each mitred corner, which is easier to fit than a mitre on a long board; none by default.
            returns or "return": Positive,
            /// Where a fascia longer than any board is spliced: `on-joists` (the default; on the left and right edges a joist lies behind all of it) or `anywhere`.
            splices or "splice": SplicesWord,
            /// How far one piece lies over the next at a splice, as much as the board is thick for a scarf cut at 45 degrees; 0 (the default) for a butt joint.
            scarf: NotNegative,
            /// What holds it to the frame.
            screws or "screw": SpacedTable,
            /// Plugs, one over each screw.
            plug or "plugs": GoodsTable,
            /// Packers that hold it off the frame so that water drains behind it; none by default.
            packer or "packers": PackerTable,
            /// Adhesive behind it.
            adhesive or "glue": AdhesiveTable,
            /// Width of a crosscut in it; `cutting.kerf` by default.
            kerf: NotNegative,
            /// Taken off each end of a board before it is used; `cutting.end_trim` by default.
            end_trim: NotNegative,
        }
    }

    /// Packers behind a fascia.
    PackerTable {
        required {
            /// How thick they are: the gap left for water.
            thickness: Positive,
            /// Greatest distance from one place to the next; each end of a piece has a place too.
            spacing: Positive,
        }
        optional {
            /// How many at each place; 1 by default.
            at_each: Count<1>,
            /// What it is called.
            name: Words,
            /// Pieces in a pack; 1 by default.
            pack: Count<1>,
            /// Price of a pack, or of a piece if not sold in packs.
            pack_price or "price": Price,
            /// Spares bought beyond the count; none by default.
            spare: Share,
        }
    }

    /// Adhesive in tubes.
    AdhesiveTable {
        required {
            /// Length of fascia that a tube is enough for.
            covers: Positive,
        }
        optional {
            /// What it is called.
            name: Words,
            /// Price of a tube.
            price: Price,
        }
    }
}
