//! Across the boards: how many courses a surface takes, how wide the last one
//! is, and what the gap, the finish and their errors do to it. It knows widths
//! and gaps; lengths of boards are left to the stages along the boards.

mod across;
mod layout;

pub use across::{Across, Outcome, Verdict};
pub use layout::{Course, Gap, Layout, layout};
