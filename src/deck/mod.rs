//! Plan geometry of the deck: how wide the surface is, from where to where the
//! boards run, and on which supports they rest. It knows the frame and its
//! edges; boards, courses and joints are left to the stages after it.

mod supports;
mod surface;

pub use supports::{Supports, supports};
pub use surface::{Surface, surface};

/// Why a job has no deck.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DeckError {
    /// What the edges take leaves nothing across.
    #[error("the edges leave no surface across the boards")]
    NoWidth,
    /// What the edges take leaves nothing along.
    #[error("the edges leave no surface along the boards")]
    NoLength,
}

impl DeckError {
    /// What would leave one.
    pub fn way_out(&self) -> &'static str {
        "make the frame larger, or overhangs and clearances smaller"
    }
}
