//! Volumes as whole counts of cubes of the unit of length, exact: cubic feet and
//! yards, cubic metres and litres. It knows how they are counted, read and
//! printed; what fills them is left to others.

use std::ops::Mul;

use crate::length::{Length, Unit};

/// An exact volume, in cubes of 1/8 µm.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Volume(i128);

const fn cube(side: i64) -> i128 {
    let side = side as i128;
    side * side * side
}

impl Volume {
    /// Nothing.
    pub const NONE: Volume = Volume(0);
    /// A cubic foot.
    pub const CUBIC_FOOT: Volume = Volume(cube(Length::UNITS_PER_FOOT));
    /// A cubic yard, 27 cubic feet.
    pub const CUBIC_YARD: Volume = Volume(27 * Volume::CUBIC_FOOT.0);
    /// A cubic metre.
    pub const CUBIC_METRE: Volume = Volume(cube(1000 * Length::UNITS_PER_MM));
    /// A litre.
    pub const LITRE: Volume = Volume(cube(100 * Length::UNITS_PER_MM));

    /// An area in square units, so deep.
    pub fn of(area: i128, depth: Length) -> Volume {
        Volume(area * i128::from(depth.units()))
    }

    /// The volume and a share of itself in hundredths of a per cent, rounded up.
    pub fn and(self, share: u32) -> Volume {
        Volume(-(-self.0 * i128::from(10_000 + share)).div_euclid(10_000))
    }

    /// A whole part of the volume, such as a half; nothing is lost, since a unit
    /// of the trade is whole in halves, quarters and tenths.
    pub fn part(self, parts: u32) -> Volume {
        Volume(self.0 / i128::from(parts))
    }

    /// How many of another make up the volume, rounded up.
    pub fn fill(self, one: Volume) -> u64 {
        u64::try_from(-(-self.0).div_euclid(one.0.max(1))).unwrap_or(0)
    }

    /// In cubic feet or cubic metres, rounded up to the hundredth.
    pub fn show(self, unit: Unit) -> String {
        match unit {
            Unit::Inch => self.show_in(Volume::CUBIC_FOOT, "cu ft"),
            Unit::Millimetre => self.show_in(Volume::CUBIC_METRE, "m³"),
        }
    }

    /// In another volume, rounded up to the hundredth.
    pub fn show_in(self, one: Volume, name: &str) -> String {
        let hundredths = -(-self.0 * 100).div_euclid(one.0);
        format!("{}.{:02} {name}", hundredths / 100, hundredths % 100)
    }

    /// The number of cubic feet or cubic metres, rounded up to the hundredth.
    pub fn decimal(self, unit: Unit) -> String {
        let shown = self.show(unit);
        shown.split(' ').next().unwrap_or_default().to_owned()
    }

    /// The volume in cubic feet or cubic metres, for answers to programs only.
    pub fn value(self, unit: Unit) -> f64 {
        let one = match unit {
            Unit::Inch => Volume::CUBIC_FOOT,
            Unit::Millimetre => Volume::CUBIC_METRE,
        };
        self.0 as f64 / one.0 as f64
    }

    /// A volume of so many ten-thousandths of another; a cubic foot and a litre
    /// are both whole in them.
    pub fn ten_thousandths(count: i64, one: Volume) -> Option<Volume> {
        let units = i128::from(count).checked_mul(one.0 / 10_000)?;
        Some(Volume(units))
    }
}

impl Mul<u64> for Volume {
    type Output = Volume;
    fn mul(self, count: u64) -> Volume {
        Volume(self.0 * i128::from(count))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_trades_volumes_divide_evenly() {
        for one in [
            Volume::CUBIC_FOOT,
            Volume::CUBIC_YARD,
            Volume::CUBIC_METRE,
            Volume::LITRE,
        ] {
            assert_eq!(one.0 % 100_000, 0);
        }
        assert_eq!(Volume::LITRE * 1000, Volume::CUBIC_METRE);
        // 12 in x 12 in x 3 ft is 3 cu ft, a ninth of a yard.
        let square = i128::from(Length::from_feet(1).units()).pow(2);
        let three = Volume::of(square, Length::from_feet(3));
        assert_eq!(three, Volume::CUBIC_FOOT * 3);
        assert_eq!(three.show(Unit::Inch), "3.00 cu ft");
        assert_eq!(three.show_in(Volume::CUBIC_YARD, "cu yd"), "0.12 cu yd");
        assert_eq!(three.fill(Volume::CUBIC_YARD.part(2)), 1);
        // 20 % more of 3 is 3.6.
        assert_eq!(three.and(2000).show(Unit::Inch), "3.60 cu ft");
    }
}
