//! The surface the boards cover: the frame and what its edges add or take.

use super::DeckError;
use crate::job::Job;
use crate::length::Length;

/// The surface to be covered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Surface {
    /// Its width across the boards, from the first edge to the last.
    pub width: Length,
    /// Where every run starts along; 0 is the frame's left side.
    pub from: Length,
    /// Where every run ends along.
    pub to: Length,
}

impl Surface {
    /// The length of a run.
    pub fn run(&self) -> Length {
        self.to - self.from
    }
}

/// The surface of a job's deck.
///
/// # Errors
/// When the edges take so much that nothing is left either way.
pub fn surface(job: &Job) -> Result<Surface, DeckError> {
    let edges = &job.edges;
    let width = job.deck.across + edges.first.reach() + edges.last.reach();
    let from = -edges.left.reach();
    let to = job.deck.along + edges.right.reach();
    if width <= Length::ZERO {
        return Err(DeckError::NoWidth);
    }
    if to <= from {
        return Err(DeckError::NoLength);
    }
    Ok(Surface { width, from, to })
}
