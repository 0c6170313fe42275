//! Lengths as the trade and the arithmetic need them: a signed whole count of
//! 1/8 micrometre, in which both 1/64 in and 0.1 mm are whole, so that sums,
//! comparisons and cuts are exact. This module knows how lengths are counted,
//! written and printed; it leaves what they measure to everyone else.

mod parse;
mod print;
mod scan;

pub use parse::ParseLengthError;
pub use print::{Form, Printer};

use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

/// An exact signed length, counted in units of 1/8 µm (125 nm).
///
/// One inch is 203,200 units, 1/64 in is 3,175 and one millimetre is 8,000, so
/// nothing a person writes on a tape is ever rounded.
///
/// # Panics
/// The operators `+`, `-`, `*` and `sum` panic when the result leaves the range
/// of `i64`, some 1,150,000 km; use the `checked_` methods on numbers that have
/// not been limited before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Length(i64);

impl Length {
    /// No length at all.
    pub const ZERO: Length = Length(0);
    /// Units in one inch.
    pub const UNITS_PER_INCH: i64 = 203_200;
    /// Units in one foot.
    pub const UNITS_PER_FOOT: i64 = 12 * Self::UNITS_PER_INCH;
    /// Units in one millimetre.
    pub const UNITS_PER_MM: i64 = 8_000;

    /// A length of so many units of 1/8 µm.
    pub const fn from_units(units: i64) -> Length {
        Length(units)
    }

    /// The length as a count of 1/8 µm.
    pub const fn units(self) -> i64 {
        self.0
    }

    /// A length of whole inches.
    pub const fn from_inches(inches: i64) -> Length {
        Length(inches * Self::UNITS_PER_INCH)
    }

    /// A length of whole feet.
    pub const fn from_feet(feet: i64) -> Length {
        Length(feet * Self::UNITS_PER_FOOT)
    }

    /// A length of so many sixty-fourths of an inch.
    pub const fn from_64ths(count: i64) -> Length {
        Length(count * (Self::UNITS_PER_INCH / 64))
    }

    /// A length of whole millimetres.
    pub const fn from_mm(mm: i64) -> Length {
        Length(mm * Self::UNITS_PER_MM)
    }

    /// A length of whole tenths of a millimetre.
    pub const fn from_tenths_of_mm(count: i64) -> Length {
        Length(count * (Self::UNITS_PER_MM / 10))
    }

    /// The length in inches, for printing, drawing and statistics only.
    pub fn inches(self) -> f64 {
        self.0 as f64 / Self::UNITS_PER_INCH as f64
    }

    /// The length in millimetres, for printing, drawing and statistics only.
    pub fn mm(self) -> f64 {
        self.0 as f64 / Self::UNITS_PER_MM as f64
    }

    /// The sum, or nothing when it leaves the range.
    pub const fn checked_add(self, other: Length) -> Option<Length> {
        match self.0.checked_add(other.0) {
            Some(units) => Some(Length(units)),
            None => None,
        }
    }

    /// The product with a whole number, or nothing when it leaves the range.
    pub const fn checked_mul(self, factor: i64) -> Option<Length> {
        match self.0.checked_mul(factor) {
            Some(units) => Some(Length(units)),
            None => None,
        }
    }

    /// The length without its sign.
    pub const fn abs(self) -> Length {
        Length(self.0.abs())
    }

    /// Whether the length is below zero.
    pub const fn is_negative(self) -> bool {
        self.0 < 0
    }

    /// Half the length, an odd unit left off (rounded towards minus infinity).
    pub const fn half_down(self) -> Length {
        Length(self.0.div_euclid(2))
    }

    /// Half the length, an odd unit added (rounded towards plus infinity).
    pub const fn half_up(self) -> Length {
        Length(self.0 - self.0.div_euclid(2))
    }

    /// The length rounded up to what a tape shows.
    pub fn up_to_the_tape(self, unit: Unit) -> Length {
        let mark = unit.tape().units();
        Length(-(-self.0).div_euclid(mark) * mark)
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        Length(self.0.checked_add(other.0).expect("a length within range"))
    }
}

impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0.checked_sub(other.0).expect("a length within range"))
    }
}

impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Length;
    fn mul(self, factor: i64) -> Length {
        Length(self.0.checked_mul(factor).expect("a length within range"))
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Length) {
        *self = *self + other;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Length) {
        *self = *self - other;
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Length>>(lengths: I) -> Length {
        lengths.fold(Length::ZERO, Add::add)
    }
}

/// The system of units a job is written and printed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Unit {
    /// Feet, inches and fractions of an inch; bare numbers are inches.
    #[default]
    Inch,
    /// Millimetres; bare numbers are millimetres.
    Millimetre,
}

impl Unit {
    /// The finest mark of a tape: 1/16 in, or a millimetre.
    pub const fn tape(self) -> Length {
        match self {
            Unit::Inch => Length::from_64ths(4),
            Unit::Millimetre => Length::from_mm(1),
        }
    }

    /// The finest step in which a gap is set by hand: 1/64 in, or half a
    /// millimetre (common practice, no source).
    pub const fn setting(self) -> Length {
        match self {
            Unit::Inch => Length::from_64ths(1),
            Unit::Millimetre => Length::from_tenths_of_mm(5),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_rounded_up_to_the_tape_suffices() {
        let up = |n| Length::from_64ths(n).up_to_the_tape(Unit::Inch);
        assert_eq!([1, 4, 5, -5].map(up), [4, 4, 8, -4].map(Length::from_64ths));
        let least = Length::from_units(1);
        assert_eq!(least.up_to_the_tape(Unit::Millimetre), Length::from_mm(1));
    }
}
