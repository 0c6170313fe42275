//! How robust a way is: the chance that it still comes out when boards, gaps
//! and frame are as far off as the job says, in the same model as a forecast.

use crate::courses::{Across, Outcome, Spread, Verdict};
use crate::job::Finish;
use crate::length::Length;

/// The chance that the courses still come out as a way means them to.
///
/// Whole courses come out while none must be ripped and no more than a gap, or
/// than the last overhang may give way (`play`: down, zero or below, and up),
/// is short. A ripped course comes out while it is laid and no sliver, a
/// sliver while it stays one.
pub(super) fn chance(
    across: &Across,
    outcome: &Outcome,
    spread: &Spread,
    (down, up): (Length, Length),
) -> f64 {
    let next_gap = across.next_gap(outcome.gaps);
    let sliver_below = across.sliver_below(outcome.gaps + 1);
    match outcome.verdict {
        Verdict::Full | Verdict::Short => {
            // How wide course n is when the courses laid end exactly at the edge.
            let flush = if outcome.laid > outcome.gaps {
                across.face
            } else {
                -next_gap
            };
            let short = match across.finish {
                // One that would have to be ripped is not laid either.
                Finish::LeaveOut => across.face + next_gap - Length::from_units(1),
                _ => next_gap,
            };
            spread.chance_between(flush - up, flush + short.max(-down))
        }
        Verdict::Rip => spread.chance_between(sliver_below, across.face + next_gap),
        Verdict::Sliver => spread.chance_between(Length::ZERO, sliver_below),
    }
}
