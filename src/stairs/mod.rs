//! Stairs down from the deck: how many risers a rise takes and how high each
//! is cut, how deep the treads come out of whole deck boards, how many
//! stringers carry them and how long those are. It knows one straight flight
//! whose top step is the deck itself; what is bought for it is left to
//! [`crate::order`], and whether it is safe to the local code.

mod cautions;
mod model;

pub use cautions::{Limit, cautions};
pub use model::{Limits, Stairs, Timber};

use crate::length::{Length, Unit};

/// A flight of stairs worked out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Flight {
    /// Risers, one more than treads.
    pub risers: u32,
    /// The height of each riser as it is cut, from the ground up: 1/64 in or
    /// 1 mm apart at most, and together exactly the rise.
    pub heights: Vec<Length>,
    /// Treads; the deck is the step above the last one.
    pub treads: u32,
    /// Deck boards side by side on each tread.
    pub boards_each: u32,
    /// How deep those lie from front to back.
    pub depth: Length,
    /// From one tread's front to the next one's, level.
    pub run: Length,
    /// How far a tread's front stands over the riser below it; below zero the
    /// boards leave a strip of the run open.
    pub nosing: Length,
    /// From the lowest tread's front to the deck's edge, level.
    pub total_run: Length,
    /// Stringers, none where there is no tread.
    pub stringers: u32,
    /// The length of board each is cut from.
    pub stringer: Length,
}

impl Flight {
    /// Least and greatest riser.
    pub fn between(&self) -> [Length; 2] {
        let heights = || self.heights.iter().copied();
        [heights().min(), heights().max()].map(Option::unwrap_or_default)
    }

    /// Deck boards of all treads together.
    pub fn tread_boards(&self) -> u32 {
        self.treads.saturating_mul(self.boards_each)
    }
}

impl Stairs {
    /// The flight in boards of a face, set at a gap on each tread.
    ///
    /// A stringer's board is as long as the slope of as many steps as there are
    /// risers: one step more than it has notches, which leaves room for both
    /// end cuts (common practice, no source).
    pub fn flight(&self, face: Length, gap: Length, unit: Unit) -> Flight {
        let highest = self.limits.riser_most.unwrap_or(cautions::RISER_MOST);
        let fewest = (self.rise.units() + highest.units() - 1) / highest.units();
        let fewest = u32::try_from(fewest).unwrap_or(u32::MAX).max(1);
        let risers = self.risers.unwrap_or(fewest).max(1);
        let treads = risers - 1;
        let deep = |boards: u32| face * i64::from(boards) + gap * i64::from(boards - 1);
        let wanted = self
            .run
            .unwrap_or(self.limits.tread_least.unwrap_or(cautions::TREAD_LEAST));
        // The fewest boards that are as deep as wanted: (wanted + gap) / pitch,
        // rounded up.
        let pitch = (face + gap).units();
        let enough = ((wanted + gap).units() + pitch - 1) / pitch;
        let enough = u32::try_from(enough).unwrap_or(u32::MAX).max(1);
        let boards_each = self.tread_boards.unwrap_or(enough).max(1);
        let depth = deep(boards_each);
        let run = self.run.unwrap_or(depth);
        Flight {
            risers,
            heights: heights(self.rise, risers, unit),
            treads,
            boards_each,
            depth,
            run,
            nosing: depth - run,
            total_run: run * i64::from(treads),
            stringers: if treads == 0 { 0 } else { self.stringers() },
            stringer: slope(self.rise, run * i64::from(risers)),
        }
    }

    /// Stringers under the width: one at each side, the bays between none wider
    /// than the spacing on centre.
    fn stringers(&self) -> u32 {
        let between = (self.width - self.stringer_thickness).units().max(0);
        let spacing = self.stringer_spacing.units();
        let bays = ((between + spacing - 1) / spacing).max(1);
        u32::try_from(bays + 1).unwrap_or(u32::MAX)
    }
}

/// Each riser as it is cut: the height of every step above the ground is
/// marked to the nearest 1/64 in or millimetre, so that no error adds up.
fn heights(rise: Length, risers: u32, unit: Unit) -> Vec<Length> {
    let mark = i128::from(
        match unit {
            Unit::Inch => Length::from_64ths(1),
            Unit::Millimetre => Length::from_mm(1),
        }
        .units(),
    );
    let (rise_units, count) = (i128::from(rise.units()), i128::from(risers));
    let step = |k: u32| {
        let by = 2 * count * mark;
        let marks = (2 * rise_units * i128::from(k) + count * mark).div_euclid(by);
        match k == risers {
            // The last step is the deck, wherever it is.
            true => rise,
            false => Length::from_units(i64::try_from(marks * mark).unwrap_or(i64::MAX)),
        }
    };
    (1..=risers).map(|k| step(k) - step(k - 1)).collect()
}

/// The slope of a rise and a run, rounded up to a whole unit.
fn slope(rise: Length, run: Length) -> Length {
    let square = |length: Length| u128::from(length.units().unsigned_abs()).pow(2);
    let sum = square(rise) + square(run);
    let down = sum.isqrt();
    let up = if down * down == sum { down } else { down + 1 };
    Length::from_units(i64::try_from(up).unwrap_or(i64::MAX))
}
