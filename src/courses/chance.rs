//! What errors of boards, gaps and frame do to the last course: the worst
//! case, the root-sum-square, and chances from them. It knows one model: each
//! board and gap varies by itself, a batch may be off alike, errors are normal
//! and a tolerance is three standard deviations.

use super::across::{Across, Outcome, Verdict};
use crate::job::{Finish, Job};
use crate::length::Length;

/// How far each part of a surface may be off, plus or minus.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Errors {
    /// Each board's face by itself.
    pub face: Length,
    /// The faces of the whole batch alike.
    pub faces: Length,
    /// Each gap by itself.
    pub gap: Length,
    /// All gaps alike.
    pub gaps: Length,
    /// Each gap of the mixed fastener by itself.
    pub other_gap: Length,
    /// All gaps of the mixed fastener alike.
    pub other_gaps: Length,
    /// The frame.
    pub frame: Length,
}

impl Errors {
    /// The errors of a job with one of its fasteners.
    ///
    /// # Panics
    /// When the job has no such fastener.
    pub fn of(job: &Job, fastener: usize) -> Errors {
        let own = &job.fasteners[fastener];
        let other = job
            .courses
            .mixed
            .map(|mixed| &job.fasteners[mixed.fastener]);
        Errors {
            face: job.board.face_tolerance,
            faces: job.board.uncertainty,
            gap: own.tolerance,
            gaps: own.uncertainty,
            other_gap: other.map_or(Length::ZERO, |f| f.tolerance),
            other_gaps: other.map_or(Length::ZERO, |f| f.uncertainty),
            frame: job.deck.tolerance,
        }
    }

    /// Whether anything may be off at all.
    pub fn any(&self) -> bool {
        *self != Errors::default()
    }
}

/// How far the last course's width is spread by the errors before it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// `W - (n-1)(b+g)`, about which it is spread.
    pub last: Length,
    /// Half the width of the worst case, every error at its limit.
    pub worst: Length,
    /// Half the width of the root-sum-square, in units of length.
    rss: f64,
}

impl Spread {
    /// The spread of a surface's last course.
    pub fn of(across: &Across, outcome: &Outcome, errors: &Errors) -> Spread {
        let boards = outcome.gaps;
        let (own, other) = across.share(outcome.gaps);
        let worst = (errors.face + errors.faces) * boards
            + (errors.gap + errors.gaps) * own
            + (errors.other_gap + errors.other_gaps) * other
            + errors.frame;
        let one_by_one = |error: Length, count: i64| squared(error) * count as f64;
        let alike = |error: Length, count: i64| squared(error) * (count as f64).powi(2);
        let rss = one_by_one(errors.face, boards)
            + alike(errors.faces, boards)
            + one_by_one(errors.gap, own)
            + alike(errors.gaps, own)
            + one_by_one(errors.other_gap, other)
            + alike(errors.other_gaps, other)
            + squared(errors.frame);
        Spread {
            last: outcome.last,
            worst,
            rss: rss.sqrt(),
        }
    }

    /// A spread of which the root-sum-square is known, half its width in units of
    /// length; its worst case is taken to be no wider.
    pub fn about(last: Length, rss: f64) -> Spread {
        Spread {
            last,
            worst: Length::from_units(rss.round() as i64),
            rss,
        }
    }

    /// Half the width of the root-sum-square, to the nearest unit.
    pub fn rss(&self) -> Length {
        Length::from_units(self.rss.round() as i64)
    }

    /// The chance that the last course's width is above a length.
    pub fn chance_above(&self, width: Length) -> f64 {
        let distance = (width - self.last).units() as f64;
        if self.rss == 0.0 {
            return if distance < 0.0 { 1.0 } else { 0.0 };
        }
        normal_above(distance / (self.rss / 3.0))
    }

    /// The chance that the last course's width is between two lengths.
    pub fn chance_between(&self, least: Length, most: Length) -> f64 {
        if least >= most {
            return 0.0;
        }
        // Both tails of the far side, so that small chances keep their digits.
        let (near, far) = if least > self.last {
            (self.chance_above(least), self.chance_above(most))
        } else {
            (
                1.0 - self.chance_above(most),
                1.0 - self.chance_above(least),
            )
        };
        (near - far).max(0.0)
    }

    /// The chance that one more course is wanted than is laid.
    pub fn chance_extra_course(&self, across: &Across, outcome: &Outcome) -> f64 {
        let pitch = across.face + across.next_gap(outcome.gaps);
        let one_more = match (outcome.verdict, across.finish) {
            // One that would have to be ripped is not laid.
            (Verdict::Short, Finish::LeaveOut) => across.face,
            (_, Finish::LeaveOut) => across.face + pitch,
            (Verdict::Short, _) => Length::ZERO,
            _ => pitch,
        };
        self.chance_above(one_more)
    }

    /// The chance that a course comes out narrower than the narrowest rip.
    pub fn chance_sliver(&self, across: &Across, outcome: &Outcome) -> f64 {
        let pitch = across.face + across.next_gap(outcome.gaps);
        let below = across.sliver_below(outcome.gaps + 1);
        let chance: f64 = (-1..=1)
            .map(|j| self.chance_between(pitch * j, pitch * j + below))
            .sum();
        chance.min(1.0)
    }
}

fn squared(length: Length) -> f64 {
    (length.units() as f64).powi(2)
}

/// The chance that a standard normal value is above `z`.
fn normal_above(z: f64) -> f64 {
    libm::erfc(z / std::f64::consts::SQRT_2) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Abramowitz and Stegun, Handbook of Mathematical Functions, table 26.1:
    /// P(x) to fifteen decimals (x = 1 and 2), from memory and confirmed by
    /// numerical integration; the tail at 6 likewise.
    #[test]
    fn the_normal_distribution_is_accurate() {
        for (z, above) in [
            (0.0, 0.5),
            (1.0, 1.0 - 0.841_344_746_068_543),
            (2.0, 1.0 - 0.977_249_868_051_821),
            (-1.0, 0.841_344_746_068_543),
        ] {
            assert!((normal_above(z) - above).abs() < 1e-14, "{z}");
        }
        assert!((normal_above(6.0) / 9.865_876_450_376_98e-10 - 1.0).abs() < 1e-12);
    }

    fn spread(last: i64, rss: f64) -> Spread {
        Spread {
            last: Length::from_units(last),
            worst: Length::ZERO,
            rss,
        }
    }

    #[test]
    fn a_tolerance_is_three_standard_deviations() {
        let spread = spread(0, 300.0);
        let one = spread.chance_between(Length::from_units(-100), Length::from_units(100));
        assert!((one - 0.682_689_492_137_086).abs() < 1e-13);
        let three = spread.chance_between(Length::from_units(-300), Length::from_units(300));
        assert!((three - 0.997_300_203_936_740).abs() < 1e-13);
    }

    #[test]
    fn far_tails_keep_their_digits() {
        let spread = spread(0, 3.0);
        let tail = spread.chance_between(Length::from_units(6), Length::from_units(60));
        assert!((tail / 9.865_876_450_376_98e-10 - 1.0).abs() < 1e-9);
        let other = spread.chance_between(Length::from_units(-60), Length::from_units(-6));
        assert!(other > 0.0);
    }

    #[test]
    fn without_errors_a_chance_is_yes_or_no() {
        let spread = spread(10, 0.0);
        assert_eq!(spread.chance_above(Length::from_units(9)), 1.0);
        assert_eq!(spread.chance_above(Length::from_units(10)), 0.0);
        let inside = spread.chance_between(Length::from_units(0), Length::from_units(20));
        assert_eq!(inside, 1.0);
    }
}
