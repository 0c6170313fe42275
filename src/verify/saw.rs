//! What the saw makes of a board: whether the pieces fit with their cuts, and
//! what remains.

/// A board's length, what is trimmed off each end, and the kerf.
#[derive(Clone, Copy)]
pub(super) struct Saw {
    pub length: i128,
    pub trim: i128,
    pub kerf: i128,
}

impl Saw {
    /// How much too long the pieces are for the board: each takes its length
    /// and a cut, but the last cut may fall on the board's end. Zero or below
    /// when they fit.
    pub fn excess(self, pieces: impl IntoIterator<Item = i128>) -> i128 {
        self.used(pieces) - (self.length - 2 * self.trim + self.kerf)
    }

    /// What remains after the last cut.
    pub fn offcut(self, pieces: impl IntoIterator<Item = i128>) -> i128 {
        (self.length - 2 * self.trim - self.used(pieces)).max(0)
    }

    fn used(self, pieces: impl IntoIterator<Item = i128>) -> i128 {
        pieces.into_iter().map(|piece| piece + self.kerf).sum()
    }
}
