//! Across the boards: how many courses a surface takes, how wide the last one
//! is, and what the gap, the finish and their errors do to it. It knows widths
//! and gaps; lengths of boards are left to [`crate::joints`].

mod layout;

pub use layout::{Course, Layout, Verdict, layout};
