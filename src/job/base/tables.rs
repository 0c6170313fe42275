//! The job file's fields of the base: what a person may write, each with its
//! meaning, as [`crate::job::document`] has them for the deck itself.

use crate::job::framing::tables::{FixingTable, FlashingTable, RollTable};
use crate::job::reading::{Entry, Field, Member, Reading, Shape, tables};
use crate::job::tree::Node;
use crate::job::values::{
    BulkWord, Count, Lengths, Load, NotNegative, Positive, Price, Room, Share, StepWord,
    SupportWord, Weight, Words,
};

tables! {
    /// What the deck stands on: supports under its beams, or under its joists where there are no
    /// beams, and what lies on the ground below. Without it the order leaves the base out.
    BaseTable {
        required {
            /// What carries the deck, and how far apart.
            support or "supports": SupportTable,
        }
        optional {
            /// From the frame's edge to the centre of the first and the last support of a beam or joist, where no ledger carries it; 6 in or 150 mm by default.
            inset: NotNegative,
            /// Greatest distance between two joists that have supports under them, where there are no beams: the joists between hang from the rims. Every joist has them when it is left out.
            row_spacing: Positive,
            /// What the deck is meant to carry, by the local code.
            load: LoadTable,
            /// What the ground bears, such as 1500 in psf or 70 in kPa, by the local code or a soil report. The size that a support needs on it is then told.
            soil: Load,
            /// Footings poured in place, for supports of kind `footing`.
            footing: FootingTable,
            /// The concrete of footings, in bags.
            bag: BagTable,
            /// A post on each support, cut with the frame's lumber; for decks with beams.
            post: PostTable,
            /// What holds a post to its support: one for each.
            post_base: FixingTable,
            /// What holds a beam to its post: one for each.
            post_cap: FixingTable,
            /// Crushed stone under the frame.
            gravel: GravelTable,
            /// Fabric under the stone, in strips along the boards or across them, whichever takes fewer rolls.
            fabric: RollTable,
            /// Edging around the stone, or around the frame, at its open edges.
            edging: FlashingTable,
        }
    }

    /// What carries the deck.
    SupportTable {
        required {
            /// Greatest distance between the centres of two supports of one beam, or of one joist where there are no beams.
            spacing: Positive,
        }
        optional {
            /// `block` (the default), which is bought, or `footing`, which is poured.
            kind: SupportWord,
            /// What it is called.
            name: Words,
            /// What one is stated to carry, such as `"1800 lb"`, `"8 kN"` or `"800 kg"`.
            capacity: Weight,
            /// Pieces in a pack; 1 by default.
            pack: Count<1>,
            /// Price of a pack, or of a piece if not sold in packs. Of footings it is the price of what each takes beside concrete, such as a form tube, which is bought only if it has one.
            pack_price or "price": Price,
            /// Spares bought beyond the count; none by default.
            spare: Share,
        }
    }

    /// Loads on each square foot or metre of the deck.
    LoadTable {
        required {
            /// People and things, or snow, such as 40 in psf or 1.92 in kPa.
            live: Load,
            /// The deck itself, such as 10 in psf or 0.48 in kPa.
            dead: Load,
        }
        optional {}
    }

    /// A footing of one size, square or round.
    FootingTable {
        required {
            /// How deep the concrete is.
            depth: Positive,
        }
        optional {
            /// Side of a square one.
            side: Positive,
            /// In place of `side`: diameter of a round one.
            diameter: Positive,
        }
    }

    /// Concrete in bags.
    BagTable {
        required {
            /// What a bag makes, such as `"0.6 cu ft"` or `"13 l"`.
            yields: Room,
        }
        optional {
            /// What it is called.
            name: Words,
            /// Price of a bag.
            price: Price,
        }
    }

    /// A post on each support.
    PostTable {
        required {
            /// Its size, one of `lumber`.
            size: Words,
        }
        optional {
            /// The length each is cut to, where all are alike.
            height: Positive,
            /// In place of `height`, on ground that falls: one for each beam from the first edge, or one for each post, those of a beam together from the left.
            heights: Lengths,
        }
    }

    /// Crushed stone under the frame.
    GravelTable {
        required {
            /// How deep it is once it is compacted.
            depth: Positive,
        }
        optional {
            /// What it is called.
            name: Words,
            /// How far it reaches past the frame at open edges; 0 by default.
            beyond: NotNegative,
            /// How much more loose stone it takes than is there once it is compacted; 0% by default.
            compaction: Share,
            /// What it is sold by: `cu-yd` (the default with inches), `cu-ft`, `m3` (the default with millimetres) or `bag`.
            sold_by: BulkWord,
            /// What a bag holds, such as `"0.5 cu ft"` or `"15 l"`.
            bag: Room,
            /// The least step it is sold in: `whole` (the default), `half`, `quarter` or `tenth` of the unit.
            step: StepWord,
            /// Price of a whole unit.
            price: Price,
        }
    }
}
