//! The job file's fields of lumber and the frame: what a person may write, each
//! with its meaning, as [`crate::job::document`] has them for the deck itself.

use crate::job::reading::{Entry, Field, Member, Reading, Shape, tables};
use crate::job::tree::Node;
use crate::job::values::{
    Count, Flag, Lengths, NotNegative, PackSize, PatternWord, PerFoot, PerMetre, Positive, Price,
    Several, Share, Words,
};

tables! {
    /// Lumber of one size and length.
    LumberTable {
        required {
            /// What the size is called, such as `2x8`.
            size: Words,
            /// Length of a stick.
            length: Positive,
        }
        optional {
            /// Its thickness as it is. Of a nominal size from `1x2` to `4x12` that of dressed lumber by default.
            thickness: Positive,
            /// Its width as it is, the depth of a joist. Of a nominal size from `1x2` to `4x12` that of dressed lumber by default.
            depth: Positive,
            /// Whether a nominal size was dressed green and so measures a little more than a dry one; false by default.
            green: Flag,
            /// Whether it is treated against rot, so that its cut ends want preservative; false by default.
            treated: Flag,
            /// What the yard calls them, as on its price list; their length and size by default.
            item or "name": Words,
            /// Price of one stick; may be left out with `available = 0` or where a price list has it.
            price: Price,
            /// Price of a foot, in place of `price`; up to four decimals.
            price_per_foot or "price_per_ft": PerFoot,
            /// Price of a metre, in place of `price`; up to four decimals.
            price_per_metre or "price_per_meter" or "price_per_m": PerMetre,
            /// Sticks that lie there already and cost nothing; 0 by default.
            on_hand: Count<0>,
            /// The most sticks that can be bought; no limit by default.
            available: Count<0>,
            /// Sticks in a bundle, where they are sold in whole bundles only; 1 by default.
            bundle: Count<1>,
        }
    }

    /// What the frame is made of; where its joists are is said under `joists`. Without it the order
    /// leaves the frame out.
    FrameTable {
        required {
            /// Size of the joists, which run across between rims or from a ledger to a rim.
            joist: Words,
        }
        optional {
            /// Size of the rims along the first and last edges; the joists' by default.
            rim: Words,
            /// Rims side by side at each edge, 1 (the default) or 2.
            rims: Count<1>,
            /// Size of the ledger, where the frame is attached to a wall at its first or last edge; a rim stands there when it is left out.
            ledger: Words,
            /// Whether each support that carries joints gets a second joist; true by default.
            double_joists: Flag,
            /// Blocking between the joists.
            blocking: BlockingTable,
            /// Beams under the joists, as long as the frame is along.
            beam or "beams": BeamTable,
            /// Tape on top of joists, rims and ledger.
            tape: RollTable,
            /// Hangers: one for each joist's end at a ledger, or at both rims where there is no ledger.
            hanger or "hangers": FixingTable,
            /// Hangers for doubled joists, where those are others.
            double_hanger: FixingTable,
            /// Ties: one for each joist, doubled or not, on each beam.
            tie or "ties": FixingTable,
            /// The nails or screws that `hanger`, `double_hanger` and `tie` ask for, and those of posts under `base`.
            nail or "nails": GoodsTable,
            /// Nails or screws of the frame itself and where they go: none are counted that are not named here.
            fastener or "fasteners": Several<FrameFastenerTable>,
            /// What holds the ledger to the wall.
            ledger_fastener: SpacedTable,
            /// Flashing over the ledger.
            flashing: FlashingTable,
            /// Preservative for the cut ends of treated lumber.
            preservative: PreservativeTable,
            /// Width of a crosscut in lumber; `cutting.kerf` by default.
            kerf: NotNegative,
            /// Taken off each end of a stick before it is used; `cutting.end_trim` by default.
            end_trim: NotNegative,
        }
    }

    /// Blocking between the joists.
    BlockingTable {
        required {
            /// Rows of it, each with a piece in every bay.
            rows: Count<1>,
        }
        optional {
            /// `in-line`, or `staggered` (the default) so that each piece is nailed from both sides.
            pattern: PatternWord,
            /// Its size; the joists' by default.
            size: Words,
        }
    }

    /// Beams under the joists.
    BeamTable {
        required {
            /// Their size.
            size: Words,
        }
        optional {
            /// Sticks side by side in each; 1 by default.
            plies: Count<1>,
            /// How many, spread evenly: a ledger carries its edge, other edges have a beam under them.
            count: Count<1>,
            /// In place of `count`: their centres across from the frame's first edge, in order.
            positions: Lengths,
        }
    }

    /// Something that comes in rolls and is laid with laps.
    RollTable {
        required {
            /// Width of a roll.
            width: Positive,
            /// Length of a roll.
            roll: Positive,
        }
        optional {
            /// How far one piece lies over the next; 0 by default.
            overlap: NotNegative,
            /// Price of a roll.
            price: Price,
        }
    }

    /// A connector.
    FixingTable {
        required {}
        optional {
            /// What it is called.
            name: Words,
            /// Pieces in a pack, or its weight, such as `"5 lb"`; 1 piece by default.
            pack: PackSize,
            /// Pieces to the pound, where a pack is a weight.
            per_pound or "per_lb": Count<1>,
            /// Pieces to the kilogram, where a pack is a weight.
            per_kg or "per_kilogram": Count<1>,
            /// Price of a pack, or of a piece if not sold in packs.
            pack_price or "price": Price,
            /// Spares bought beyond the count; none by default.
            spare: Share,
            /// Nails or screws in each; 0 by default.
            nails: Count<0>,
        }
    }

    /// Nails or screws of the frame itself, and how many go where.
    FrameFastenerTable {
        required {
            /// What they are called.
            name: Words,
        }
        optional {
            /// In each joist's end at a rim, in either ply of a doubled joist's, where no hanger carries it; and at each splice of a rim.
            joist_end: Count<1>,
            /// In each end of each piece of blocking.
            blocking_end: Count<1>,
            /// Through the plies of doubled rims and joists.
            plies: PliesTable,
            /// Through the plies of beams.
            beam_plies: PliesTable,
            /// Pieces in a pack, or its weight, such as `"5 lb"`; 1 piece by default.
            pack: PackSize,
            /// Pieces to the pound, where a pack is a weight.
            per_pound or "per_lb": Count<1>,
            /// Pieces to the kilogram, where a pack is a weight.
            per_kg or "per_kilogram": Count<1>,
            /// Price of a pack, or of a piece if not sold in packs.
            pack_price or "price": Price,
            /// Spares bought beyond the count; none by default.
            spare: Share,
        }
    }

    /// How plies are held together.
    PliesTable {
        required {
            /// Greatest distance from one place to the next; each end and each splice has a place too.
            spacing: Positive,
        }
        optional {
            /// How many at each place; 1 by default.
            at_each: Count<1>,
        }
    }

    /// Something bought by the piece or the pack.
    GoodsTable {
        required {}
        optional {
            /// What it is called.
            name: Words,
            /// Pieces in a pack, or its weight, such as `"5 lb"`; 1 piece by default.
            pack: PackSize,
            /// Pieces to the pound, where a pack is a weight.
            per_pound or "per_lb": Count<1>,
            /// Pieces to the kilogram, where a pack is a weight.
            per_kg or "per_kilogram": Count<1>,
            /// Price of a pack, or of a piece if not sold in packs.
            pack_price or "price": Price,
            /// Spares bought beyond the count; none by default.
            spare: Share,
        }
    }

    /// Fasteners at a spacing.
    SpacedTable {
        required {
            /// Greatest distance from one place to the next; each end has a place too.
            spacing: Positive,
        }
        optional {
            /// How many at each place; 1 by default.
            at_each: Count<1>,
            /// What it is called.
            name: Words,
            /// Pieces in a pack, or its weight, such as `"5 lb"`; 1 piece by default.
            pack: PackSize,
            /// Pieces to the pound, where a pack is a weight.
            per_pound or "per_lb": Count<1>,
            /// Pieces to the kilogram, where a pack is a weight.
            per_kg or "per_kilogram": Count<1>,
            /// Price of a pack, or of a piece if not sold in packs.
            pack_price or "price": Price,
            /// Spares bought beyond the count; none by default.
            spare: Share,
        }
    }

    /// Flashing in lengths that lap.
    FlashingTable {
        required {
            /// Length of a piece.
            length: Positive,
        }
        optional {
            /// How far one lies over the next; 0 by default.
            overlap: NotNegative,
            /// Price of a piece.
            price: Price,
        }
    }

    /// Preservative for cut ends.
    PreservativeTable {
        required {
            /// Cut ends that one can is enough for.
            ends: Count<1>,
        }
        optional {
            /// Price of a can.
            price: Price,
        }
    }
}
