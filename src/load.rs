//! Weights and loads, exactly: pounds, kilograms and newtons, and what stands on
//! an area by the square foot or in pascals. It knows how they are counted,
//! read and printed; what carries them, and whether it may, is left to others.

use crate::length::{Length, Unit};
use crate::text::grouped;

/// A force in units of 10⁻¹⁵ N, in which a hundredth of a pound-force (4.4482216152605 N)
/// and of a kilogram's weight (9.80665 N) are both whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Force(i128);

/// Units in a hundredth of a pound-force.
const POUND_100: i128 = 44_482_216_152_605;
/// Units in a hundredth of a kilogram's weight.
const KILOGRAM_100: i128 = 98_066_500_000_000;
/// Units in a newton.
const NEWTON: i128 = 1_000_000_000_000_000;

impl Force {
    /// So many hundredths of a pound.
    pub const fn pounds_100(hundredths: i64) -> Force {
        Force(hundredths as i128 * POUND_100)
    }

    /// The weight of so many hundredths of a kilogram.
    pub const fn kilograms_100(hundredths: i64) -> Force {
        Force(hundredths as i128 * KILOGRAM_100)
    }

    /// So many newtons.
    pub const fn newtons(newtons: i64) -> Force {
        Force(newtons as i128 * NEWTON)
    }

    /// The weight of a pound.
    pub const POUND: Force = Force::pounds_100(100);

    /// The weight of a kilogram.
    pub const KILOGRAM: Force = Force::kilograms_100(100);

    /// How many whole things weigh this much together, where so many weigh as
    /// much as `each`; rounded down, so that there is none too few.
    pub fn holds(self, count: u32, each: Force) -> u32 {
        let whole = (self.0 * i128::from(count)).div_euclid(each.0.max(1));
        u32::try_from(whole).unwrap_or(u32::MAX)
    }

    /// A weight of goods as it is sold: `5 lb`, `2.5 kg`. It is in kilograms
    /// where it is whole hundredths of one, else in pounds.
    pub fn sold(self) -> String {
        let (one, name) = match self.0 % KILOGRAM_100 {
            0 => (KILOGRAM_100, "kg"),
            _ => (POUND_100, "lb"),
        };
        let hundredths = self.0.div_euclid(one);
        let text = format!("{}.{:02}", hundredths / 100, hundredths % 100);
        let text = text.trim_end_matches('0').trim_end_matches('.');
        format!("{text} {name}")
    }

    /// A weight of goods in pounds or kilograms, for answers to programs only.
    pub fn weighs(self, unit: Unit) -> f64 {
        match unit {
            Unit::Inch => self.0 as f64 / Force::POUND.0 as f64,
            Unit::Millimetre => self.0 as f64 / Force::KILOGRAM.0 as f64,
        }
    }

    /// Whole pounds, or kilonewtons to the hundredth, rounded up: `1,234 lb`, `5.49 kN`.
    pub fn show(self, unit: Unit) -> String {
        let up = |part: i128| -(-self.0).div_euclid(part);
        match unit {
            Unit::Inch => format!("{} lb", grouped(up(100 * POUND_100).unsigned_abs())),
            Unit::Millimetre => {
                let hundredths = up(10 * NEWTON);
                format!("{}.{:02} kN", hundredths / 100, hundredths % 100)
            }
        }
    }

    /// The force in pounds or kilonewtons, for answers to programs only.
    pub fn value(self, unit: Unit) -> f64 {
        match unit {
            Unit::Inch => self.0 as f64 / (100 * POUND_100) as f64,
            Unit::Millimetre => self.0 as f64 / (1000 * NEWTON) as f64,
        }
    }
}

/// A force on each square foot, in the units of [`Force`]: in it a hundredth of a
/// pound on a square foot and a pascal are both whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Pressure(i128);

/// A pascal: a newton on a square metre, of which a square foot is 0.09290304.
const PASCAL: i128 = NEWTON / 100_000_000 * 9_290_304;

/// Square units of length in a square foot.
const SQUARE_FOOT: i128 = (Length::UNITS_PER_FOOT as i128) * (Length::UNITS_PER_FOOT as i128);

impl Pressure {
    /// So many hundredths of a pound on a square foot.
    pub const fn psf_100(hundredths: i64) -> Pressure {
        Pressure(hundredths as i128 * POUND_100)
    }

    /// So many pascals.
    pub const fn pascals(pascals: i64) -> Pressure {
        Pressure(pascals as i128 * PASCAL)
    }

    /// Both together.
    pub const fn and(self, other: Pressure) -> Pressure {
        Pressure(self.0 + other.0)
    }

    /// What stands on an area in quarters of square units, rounded up to the
    /// last unit, so that nothing that is too much is taken for enough.
    pub fn on(self, quarters: i128) -> Force {
        Force(-(-self.0 * quarters).div_euclid(4 * SQUARE_FOOT))
    }

    /// The area, in quarters of square units rounded up, that bears on ground of
    /// this bearing value what stands on another area under `load`; nothing on
    /// ground that bears nothing.
    pub fn bears(self, load: Pressure, quarters: i128) -> Option<i128> {
        (self.0 > 0).then(|| -(-load.0 * quarters).div_euclid(self.0))
    }

    /// Pounds on a square foot, or kilopascals, as far as they have decimals.
    pub fn show(self, unit: Unit) -> String {
        let up = |part: i128| -(-self.0).div_euclid(part);
        let (count, decimals, name) = match unit {
            Unit::Inch => (up(POUND_100), 2, "psf"),
            Unit::Millimetre => (up(PASCAL), 3, "kPa"),
        };
        let one = 10i128.pow(decimals);
        let text = format!("{}.{:0w$}", count / one, count % one, w = decimals as usize);
        let text = text.trim_end_matches('0').trim_end_matches('.');
        format!("{text} {name}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_by_weight() {
        // 74 nails of 10d to the pound: US Army subcourse EN0069A, Carpentry,
        // paragraph 4-9, where 7,200 of them are 97.3 lb.
        let pounds = |hundredths| Force::pounds_100(hundredths);
        assert_eq!(pounds(9730).holds(74, Force::POUND), 7_200);
        assert_eq!(pounds(9729).holds(74, Force::POUND), 7_199);
        // Computed: 2.5 kg at 85 to the pound of 0.45359237 kg are 468.48; 5 lb at
        // 180 to the kilogram are 408.23.
        assert_eq!(Force::kilograms_100(250).holds(85, Force::POUND), 468);
        assert_eq!(pounds(500).holds(180, Force::KILOGRAM), 408);
        assert_eq!(pounds(500).sold(), "5 lb");
        assert_eq!(pounds(25).sold(), "0.25 lb");
        assert_eq!(Force::kilograms_100(250).sold(), "2.5 kg");
        assert!((Force::kilograms_100(100).weighs(Unit::Inch) - 2.2046226).abs() < 1e-7);
    }

    #[test]
    fn pounds_and_newtons_meet_exactly() {
        // Computed from the definitions: 1 lbf = 0.45359237 kg x 9.80665 m/s², 1 ft =
        // 0.3048 m. 50 psf on 40 sq ft is 2,000 lb to the last unit.
        let square_feet = |count: i128| 4 * count * SQUARE_FOOT;
        let on = Pressure::psf_100(5000).on(square_feet(40));
        assert_eq!(on, Force::pounds_100(200_000));
        assert!(Pressure::psf_100(5000).on(square_feet(40) + 1) > on);
        assert_eq!(on.show(Unit::Inch), "2,000 lb");
        // 8,896.4432... N.
        assert_eq!(on.show(Unit::Millimetre), "8.90 kN");
        assert!(Force::newtons(8896) < on && on < Force::newtons(8897));
        assert_eq!(
            Force::kilograms_100(45_359_237),
            Force::pounds_100(100_000_000)
        );
        // 1 psf is 47.8802589... Pa.
        assert!(Pressure::pascals(47) < Pressure::psf_100(100));
        assert!(Pressure::psf_100(100) < Pressure::pascals(48));
        assert_eq!(Pressure::pascals(1920).show(Unit::Millimetre), "1.92 kPa");
        assert_eq!(Pressure::psf_100(4000).show(Unit::Inch), "40 psf");
    }
}
