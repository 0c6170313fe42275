//! How long work is watched from outside: whether to stop, and what to say so
//! far. The stages know no clock, signal or terminal; whoever calls them does.

/// Asked and told by long work.
pub trait Watch: Sync {
    /// Whether to stop at the next good moment with the best found so far.
    fn stop(&self) -> bool {
        false
    }

    /// Told now and then what is known already.
    fn progress(&self, _so_far: &Progress) {}
}

/// What long work knows already.
#[derive(Debug, Clone, PartialEq)]
pub struct Progress {
    /// The best value found, in cents (or joints, or units of length).
    pub value: Option<i64>,
    /// The lower bound so far, in the same terms.
    pub bound: Option<i64>,
    /// Boards of the best plan so far.
    pub boards: Option<u32>,
}

/// Watches nothing: work goes on until it is finished.
#[derive(Debug, Clone, Copy, Default)]
pub struct Unwatched;

impl Watch for Unwatched {}
