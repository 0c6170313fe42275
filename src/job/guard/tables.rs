//! The job file's fields of the guard: what a person may write, each with its
//! meaning, as [`crate::job::document`] has them for the deck itself.

use crate::job::reading::{Entry, Field, Member, Reading, Shape, tables};
use crate::job::tree::Node;
use crate::job::values::{Count, Positive, Price, Share, SidesWords, Words};

tables! {
    /// The guard along the deck's open edges, less the width of the stairs. Without it the order
    /// leaves guards out.
    GuardTable {
        required {
            /// Its posts; one at each end of a stretch, and those at corners shared.
            post or "posts": GuardPostTable,
        }
        optional {
            /// The edges it stands along, such as `["last", "left"]`; all open ones by default.
            edges: SidesWords,
            /// From the deck's surface to its top; 36 in or 915 mm by default.
            height: Positive,
            /// Rails between the posts.
            rail or "rails": RailTable,
            /// Balusters between the posts, as few as leave no wider space than they may.
            baluster or "balusters": BalusterTable,
        }
    }

    /// Posts of the guard.
    GuardPostTable {
        required {
            /// Greatest distance from one to the next on centre.
            spacing: Positive,
        }
        optional {
            /// How wide one is; the thickness of its `size`, else 3-1/2 in or 90 mm by default.
            width: Positive,
            /// A size of `lumber` that they are cut from, with the frame's lumber; they are bought when it is left out.
            size: Words,
            /// The length each is cut to, with `size`.
            length: Positive,
            /// What one is called.
            name: Words,
            /// Pieces in a pack; 1 by default.
            pack: Count<1>,
            /// Price of a pack, or of a piece if not sold in packs.
            pack_price or "price": Price,
            /// Spares bought beyond the count; none by default.
            spare: Share,
        }
    }

    /// Rails between the posts.
    RailTable {
        required {}
        optional {
            /// Rails above each other; 2 by default.
            rows: Count<1>,
            /// A size of `lumber` that they are cut from between the posts, with the frame's lumber; one is bought for each stretch between two posts when it is left out.
            size: Words,
            /// What one is called.
            name: Words,
            /// Pieces in a pack; 1 by default.
            pack: Count<1>,
            /// Price of a pack, or of a piece if not sold in packs.
            pack_price or "price": Price,
            /// Spares bought beyond the count; none by default.
            spare: Share,
        }
    }

    /// Balusters between the posts.
    BalusterTable {
        required {
            /// How wide one is.
            width: Positive,
        }
        optional {
            /// The widest clear space beside one; 4 in or 100 mm by default.
            clear_most: Positive,
            /// What one is called.
            name: Words,
            /// Pieces in a pack; 1 by default.
            pack: Count<1>,
            /// Price of a pack, or of a piece if not sold in packs.
            pack_price or "price": Price,
            /// Spares bought beyond the count; none by default.
            spare: Share,
        }
    }
}
