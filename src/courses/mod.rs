//! Across the boards: how many courses a surface takes, how wide the last one
//! is, and what the gap, the finish and their errors do to it. It knows widths
//! and gaps; lengths of boards are left to the stages along the boards.

mod across;
mod cautions;
mod chance;
mod forecast;
mod layout;

pub use across::{Across, Outcome, Verdict};
pub use cautions::cautions;
pub use chance::{Errors, Spread};
pub use forecast::{Forecast, GapWrong, Holds, Risk, Sensitivity, forecast};
pub use layout::{Course, Gap, Layout, layout};
