//! What makes boards wider or longer after they are laid, as a job says it:
//! wood by its moisture, composite by its heat, each in whole numbers. By how
//! much is worked out in [`crate::movement`].

use super::model::Percent;
use crate::length::{Length, Unit};

/// What changes the boards' size after they are laid.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Movement {
    /// Wood, whose width follows its moisture.
    Wood(Wood),
    /// Composite, whose length follows its heat.
    Composite(Composite),
}

/// Wood, how moist it is when it is laid, and how moist it will be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wood {
    /// What wood it is, where the job names one.
    pub species: Option<Species>,
    /// Change of width by 1 % of moisture, in millionths of the width at 10 %; the species' own
    /// when absent. One of the two is always there.
    pub coefficient: Option<u32>,
    /// How the boards are sawn.
    pub grain: Grain,
    /// Moisture when the boards are laid; `board.face` is their width then.
    pub moisture_now: Moisture,
    /// Moisture they come to in service.
    pub moisture_service: Moisture,
    /// The gap wanted in service.
    pub gap_service: Option<Length>,
}

/// How moist wood is, as a share of its ovendry weight.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Moisture {
    /// As it is given.
    Given(Percent),
    /// As it follows from the air around it.
    In(Air),
}

/// Air that wood has lain in long enough to come to its moisture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Air {
    /// Its relative humidity.
    pub humidity: Percent,
    /// Its temperature.
    pub temperature: Temperature,
}

/// Wood whose movement is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "each is called what it is called in the trade")]
pub enum Species {
    DouglasFirCoast,
    DouglasFirInteriorNorth,
    DouglasFirInteriorWest,
    LoblollyPine,
    LongleafPine,
    ShortleafPine,
    SlashPine,
    PonderosaPine,
    LodgepolePine,
    WesternRedcedar,
    NorthernWhiteCedar,
    YellowCedar,
    RedwoodOldGrowth,
    RedwoodSecondGrowth,
    WhiteFir,
    WesternHemlock,
    WhiteOak,
    RedOak,
    BlackLocust,
    Angelique,
    Azobe,
    Ipe,
    /// Softwood lumber of whatever species.
    SoftwoodLumber,
}

impl Species {
    /// What it is called in sentences.
    pub fn name(self) -> &'static str {
        match self {
            Species::DouglasFirCoast => "coast Douglas-fir",
            Species::DouglasFirInteriorNorth => "interior north Douglas-fir",
            Species::DouglasFirInteriorWest => "interior west Douglas-fir",
            Species::LoblollyPine => "loblolly pine",
            Species::LongleafPine => "longleaf pine",
            Species::ShortleafPine => "shortleaf pine",
            Species::SlashPine => "slash pine",
            Species::PonderosaPine => "ponderosa pine",
            Species::LodgepolePine => "lodgepole pine",
            Species::WesternRedcedar => "western redcedar",
            Species::NorthernWhiteCedar => "northern white cedar",
            Species::YellowCedar => "yellow cedar",
            Species::RedwoodOldGrowth => "old-growth redwood",
            Species::RedwoodSecondGrowth => "second-growth redwood",
            Species::WhiteFir => "white fir",
            Species::WesternHemlock => "western hemlock",
            Species::WhiteOak => "white oak",
            Species::RedOak => "red oak",
            Species::BlackLocust => "black locust",
            Species::Angelique => "angelique",
            Species::Azobe => "azobe",
            Species::Ipe => "ipe",
            Species::SoftwoodLumber => "softwood lumber of any species",
        }
    }
}

/// How a board lies in its log.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Grain {
    /// Flat sawn: the width lies along the growth rings and moves most.
    #[default]
    Flat,
    /// Quarter sawn: the width lies across the growth rings.
    Quarter,
}

/// Composite, and the temperatures its boards go through.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Composite {
    /// Growth of a length by a degree, as stated by who made the boards.
    pub coefficient: Option<PerDegree>,
    /// What the boards' temperature is when they are laid.
    pub laid_at: Temperature,
    /// The least it will be; `coldest <= laid_at <= hottest` always holds.
    pub coldest: Temperature,
    /// The most it will be.
    pub hottest: Temperature,
}

/// A temperature in fiftieths of a degree Fahrenheit, in which tenths of a
/// degree of either scale are whole: 0.1 °F is 5 of them, 0.1 °C is 9.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Temperature(i64);

impl Temperature {
    /// Freezing water.
    const ZERO_CELSIUS: i64 = 32 * 50;

    /// So many fiftieths of a degree Fahrenheit.
    pub const fn from_fiftieths_f(count: i64) -> Temperature {
        Temperature(count)
    }

    /// So many tenths of a degree Fahrenheit.
    pub const fn from_tenths_f(tenths: i64) -> Temperature {
        Temperature(tenths * 5)
    }

    /// So many tenths of a degree Celsius.
    pub const fn from_tenths_c(tenths: i64) -> Temperature {
        Temperature(tenths * 9 + Self::ZERO_CELSIUS)
    }

    /// The temperature as a count of fiftieths of a degree Fahrenheit.
    pub const fn fiftieths_f(self) -> i64 {
        self.0
    }

    /// In tenths of the degrees that go with a unit, Fahrenheit with inches and Celsius with
    /// millimetres, to the nearest.
    pub fn tenths(self, unit: Unit) -> i64 {
        let (count, each) = match unit {
            Unit::Inch => (self.0, 5),
            Unit::Millimetre => (self.0 - Self::ZERO_CELSIUS, 9),
        };
        (2 * count + each).div_euclid(2 * each)
    }

    /// As people write it: `70 °F`, `21.5 °C`.
    pub fn show(self, unit: Unit) -> String {
        let tenths = self.tenths(unit);
        let sign = if tenths < 0 { "-" } else { "" };
        let (whole, part) = (tenths.abs() / 10, tenths.abs() % 10);
        let part = match part {
            0 => String::new(),
            part => format!(".{part}"),
        };
        let scale = match unit {
            Unit::Inch => "F",
            Unit::Millimetre => "C",
        };
        format!("{sign}{whole}{part} °{scale}")
    }
}

/// Growth of a length by a degree, in 1/9,000,000,000 of the length by a
/// degree Fahrenheit: a thousand-millionth by °F is 9 of them, one by °C is 5.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PerDegree(i64);

impl PerDegree {
    /// How many of them are the whole length by 1/50 °F.
    pub const WHOLE: i64 = 9_000_000_000 * 50;

    /// So many thousand-millionths of a length by a degree Fahrenheit.
    pub const fn billionths_f(count: i64) -> PerDegree {
        PerDegree(count * 9)
    }

    /// So many thousand-millionths of a length by a degree Celsius.
    pub const fn billionths_c(count: i64) -> PerDegree {
        PerDegree(count * 5)
    }

    /// The count.
    pub const fn parts(self) -> i64 {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_scales_are_exact() {
        // By definition 0 °C is 32 °F and 100 °C is 212 °F.
        assert_eq!(
            Temperature::from_tenths_c(0),
            Temperature::from_tenths_f(320)
        );
        assert_eq!(
            Temperature::from_tenths_c(1000),
            Temperature::from_tenths_f(2120)
        );
        assert_eq!(
            Temperature::from_tenths_c(-400),
            Temperature::from_tenths_f(-400)
        );
        assert_eq!(Temperature::from_tenths_f(705).show(Unit::Inch), "70.5 °F");
        assert_eq!(
            Temperature::from_tenths_c(-5).show(Unit::Millimetre),
            "-0.5 °C"
        );
    }

    #[test]
    fn a_coefficient_by_celsius_is_nine_fifths_of_one_by_fahrenheit() {
        // 1e-5 by °F is 1.8e-5 by °C (computed).
        assert_eq!(
            PerDegree::billionths_f(10_000),
            PerDegree::billionths_c(18_000)
        );
    }
}
