//! Whether the frame is square: what its diagonals must be, and what a pair of
//! them says. It knows a frame of four sides, opposite ones alike; that its
//! sides are what the job says is left to whoever measures them.
//!
//! A parallelogram's diagonals p and q and its sides a and b go together by
//! p² + q² = 2 (a² + b²), and p² - q² = 4 a b cos(angle), so that over side b
//! the frame is (p² - q²) / 4 a out of square.

use crate::job::Job;
use crate::length::Length;

/// What the diagonals say of the frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Square {
    /// Both diagonals of the square frame, to the nearest unit.
    pub diagonal: Length,
    /// The same to the nearest mark of a tape.
    pub on_tape: Length,
    /// What a measured pair says.
    pub measured: Option<Skew>,
}

/// What a measured pair of diagonals says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Skew {
    /// From the first edge's left end to the last edge's right end, and the
    /// other one.
    pub diagonals: [Length; 2],
    /// How far the last edge lies too far to the right of the first one; to the
    /// left below zero. That is over the frame's size across.
    pub across: Length,
    /// The same over its size along.
    pub along: Length,
    /// Whether the sides can be the job's: else what the pair is too long by.
    pub misfit: Option<Misfit>,
    /// Whether it is within what is usually accepted: half an inch on the third
    /// side of a triangle of 12 and 16 ft (a performance standard for
    /// remodelers, read as others quote it).
    pub accepted: bool,
}

/// A pair of diagonals that no frame with the job's sides can have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Misfit {
    /// What the two are too long, as their root mean square; too short below zero.
    pub by: Length,
    /// What the second would be if the first is right; none where there is no such frame.
    pub second: Option<Length>,
    /// What the first would be if the second is right.
    pub first: Option<Length>,
}

/// What diagonals of a job's frame must be, and what a measured pair says.
pub fn square(job: &Job, diagonals: Option<[Length; 2]>, tape: Length) -> Square {
    let [along, across] = [job.deck.along, job.deck.across].map(units);
    let both = along * along + across * across;
    let mark = job.unit.tape();
    Square {
        diagonal: nearest(both, Length::from_units(1)),
        on_tape: nearest(both, mark),
        measured: diagonals.map(|pair| skew(job, pair, tape)),
    }
}

fn skew(job: &Job, diagonals: [Length; 2], tape: Length) -> Skew {
    let [along, across] = [job.deck.along, job.deck.across].map(units);
    let [one, other] = diagonals.map(|d| units(d) * units(d));
    let difference = one - other;
    let both = along * along + across * across;
    let one_unit = Length::from_units(1);
    // The mean of the squares is that of the sides, whatever the angle.
    let by = nearest((one + other) / 2, one_unit) - nearest(both, one_unit);
    // Sides that are each off by the frame's tolerance, and both readings.
    let frame = units(job.deck.tolerance);
    let allowed = nearest_over(frame * (along + across), units(nearest(both, one_unit))) + tape;
    let misfit = (by.abs() > allowed).then(|| {
        let rest = |square: i128| {
            let rest = both * 2 - square;
            (rest > 0).then(|| nearest(rest, one_unit))
        };
        Misfit {
            by,
            second: rest(one),
            first: rest(other),
        }
    });
    // 240-1/2 in for 20 ft: 240.5² - 240² = 961/4 over 2 × 144 × 192.
    let accepted = difference.abs() * (2 * 144 * 192) <= 961 * along * across;
    Skew {
        diagonals,
        across: nearest_over(difference, 4 * along),
        along: nearest_over(difference, 4 * across),
        misfit,
        accepted,
    }
}

fn units(length: Length) -> i128 {
    i128::from(length.units())
}

/// The root of a square, to the nearest whole step; exact in whole numbers.
fn nearest(square: i128, step: Length) -> Length {
    let step = units(step);
    let below = (square / (step * step)).max(0).isqrt();
    // Above the middle between two steps: root > (below + 1/2) step.
    let up = 4 * square > (2 * below + 1).pow(2) * step * step;
    Length::from_units(((below + i128::from(up)) * step) as i64)
}

/// A quotient to the nearest unit.
fn nearest_over(over: i128, under: i128) -> Length {
    Length::from_units((2 * over + under).div_euclid(2 * under) as i64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_are_to_the_nearest_step() {
        let one = Length::from_units(1);
        let root = |square| nearest(square, one).units();
        assert_eq!(
            [0, 1, 2, 3, 6, 7, 12, 13].map(root),
            [0, 1, 1, 2, 2, 3, 3, 4]
        );
        // 7.6 lies nearer to 10 than to 5, 7.4 nearer to 5.
        let five = Length::from_units(5);
        assert_eq!(nearest(58, five).units(), 10);
        assert_eq!(nearest(54, five).units(), 5);
    }

    #[test]
    fn quotients_are_to_the_nearest_unit() {
        assert_eq!(nearest_over(7, 2).units(), 4);
        assert_eq!(nearest_over(-7, 3).units(), -2);
        assert_eq!(nearest_over(-8, 3).units(), -3);
    }
}
