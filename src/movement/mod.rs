//! How boards change after they are laid: wood in width as it dries or takes
//! up moisture ([`Drying`]), composite in length as it warms and cools
//! ([`Growing`]). It knows coefficients, their sources and whole-number
//! arithmetic; which moisture and which temperatures to reckon with is left to
//! the job, and what is done about them to whoever lays the boards.
//!
//! Everything is a quotient of whole numbers, rounded once, to the nearest
//! 1/8 µm and halves away from zero. Along the grain dried wood moves by less than
//! a thousandth (USDA Forest Products Laboratory, "Longitudinal shrinkage of
//! wood", rev. 1960) and is taken to stay as long as it is.

mod air;
mod cautions;
mod composite;
mod wood;

pub use air::equilibrium;
pub use cautions::{across, along};
pub use composite::{Basis, Growing, PUBLISHED, by_heat};
pub use wood::{
    Drying, Equation, Figures, Known, by_coefficient, by_lumber, by_shrinkage, drying, figures,
};

use crate::length::Length;

/// A quotient to the nearest whole number, halves away from zero; the divisor
/// is above zero.
fn nearest(number: i128, by: i128) -> i128 {
    let half = (2 * number.abs() + by) / (2 * by);
    half * number.signum()
}

/// A quotient of units as a length.
fn length(number: i128, by: i128) -> Length {
    let units = nearest(number, by);
    // Lengths of a job are far inside the range, and so is what they change by.
    Length::from_units(i64::try_from(units).unwrap_or(i64::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quotients_go_to_the_nearest_and_halves_away_from_zero() {
        assert_eq!(
            [7, 8, 9, -7, -8, -9].map(|n| nearest(n, 6)),
            [1, 1, 2, -1, -1, -2]
        );
        assert_eq!([3, -3].map(|n| nearest(n, 2)), [2, -2]);
    }
}
