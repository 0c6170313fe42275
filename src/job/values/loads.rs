//! What stands on a deck, what carries it, and what a bag holds: loads, weights
//! and volumes with their units, read exactly.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::degrees::decimal;
use super::schema;
use crate::job::reading::{Field, Reading, Shape};
use crate::job::tree::{Node, Value};
use crate::length::Unit;
use crate::load::{Force, Pressure};
use crate::volume::Volume;

/// A number and the unit behind it, in small letters, without the dots and
/// spaces that people write differently.
pub(super) fn parts(text: &str) -> (&str, String) {
    let text = text.trim();
    let end = text
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(text.len());
    let unit = text[end..].trim().to_lowercase();
    let unit = unit.replace('²', "2").replace('³', "3");
    let unit = unit.replace(['.', '-', ' '], "");
    (&text[..end], unit)
}

/// Above nothing, and no more than fits into the arithmetic.
pub(super) fn within(count: Option<i64>, most: i64) -> Option<i64> {
    count.filter(|count| (1..=most).contains(count))
}

/// A load on a square foot or metre.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Load(pub Pressure);

impl Load {
    /// Up to 100,000 psf or 5,000 kPa, which is rock.
    fn parse(text: &str, unit: Unit) -> Option<Pressure> {
        let (number, written) = parts(text);
        match (written.as_str(), unit) {
            ("psf" | "lb/sqft" | "lb/ft2", _) | ("", Unit::Inch) => {
                within(decimal(number, 2), 10_000_000).map(Pressure::psf_100)
            }
            ("kpa" | "kn/m2", _) | ("", Unit::Millimetre) => {
                within(decimal(number, 3), 5_000_000).map(Pressure::pascals)
            }
            _ => None,
        }
    }
}

impl Field for Load {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let read = match &node.value {
            Value::Text(text) | Value::Integer(text) | Value::Decimal(text) => {
                Load::parse(text, reading.unit)
            }
            _ => None,
        };
        if read.is_none() {
            let (unit, help) = match reading.unit {
                Unit::Inch => ("psf", "write it as 40, \"40 psf\" or \"1.92 kPa\""),
                Unit::Millimetre => ("kPa", "write it as 1.92, \"1.92 kPa\" or \"40 psf\""),
            };
            let message = format!(
                "`{}` is a load in {unit}, above 0, with two decimals in psf and three in kPa at most",
                reading.path()
            );
            reading.error(node.place.clone(), message, help);
        }
        read.map(Load)
    }
}

schema!(Load, "Load", {
    "description": "A load on each square foot or metre: \"40 psf\", \"1.92 kPa\", or a number in psf where the unit is inches, in kPa where it is millimetres.",
    "type": ["number", "string"],
    "exclusiveMinimum": 0
});

/// What something carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Weight(pub Force);

impl Weight {
    fn parse(text: &str) -> Option<Force> {
        let (number, unit) = parts(text);
        match unit.as_str() {
            "lb" | "lbs" | "lbf" => within(decimal(number, 2), 100_000_000).map(Force::pounds_100),
            "kn" => within(decimal(number, 3), 10_000_000).map(Force::newtons),
            "kg" => within(decimal(number, 2), 100_000_000).map(Force::kilograms_100),
            _ => None,
        }
    }
}

impl Field for Weight {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let read = match &node.value {
            Value::Text(text) => Weight::parse(text),
            _ => None,
        };
        if read.is_none() {
            let message = format!(
                "`{}` is what one carries, with its unit, above 0",
                reading.path()
            );
            let help = "write it between quotation marks: \"1800 lb\", \"8 kN\", \"800 kg\"";
            reading.error(node.place.clone(), message, help);
        }
        read.map(Weight)
    }
}

schema!(Weight, "Weight", {
    "description": "What something carries, with its unit: \"1800 lb\", \"8 kN\" or \"800 kg\".",
    "type": "string"
});

/// What a bag holds or makes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Room(pub Volume);

impl Room {
    fn parse(text: &str) -> Option<Volume> {
        let (number, unit) = parts(text);
        let one = match unit.as_str() {
            "cuft" | "cubicfoot" | "cubicfeet" | "ft3" => Volume::CUBIC_FOOT,
            "cuyd" | "cubicyard" | "cubicyards" | "yd3" => Volume::CUBIC_YARD,
            "m3" => Volume::CUBIC_METRE,
            "l" | "litre" | "litres" | "liter" | "liters" => Volume::LITRE,
            _ => return None,
        };
        let count = within(decimal(number, 4), 1_000_000_000)?;
        let volume = Volume::ten_thousandths(count, one)?;
        (Room::LEAST..=Room::MOST)
            .contains(&volume)
            .then_some(volume)
    }

    /// No bag is smaller than a litre, or larger than some cubic yards.
    const LEAST: Volume = Volume::LITRE;
    const MOST: Volume = Volume::CUBIC_METRE;
}

impl Field for Room {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let read = match &node.value {
            Value::Text(text) => Room::parse(text),
            _ => None,
        };
        if read.is_none() {
            let message = format!(
                "`{}` is a volume with its unit, from a litre to a cubic metre, with four decimals at most",
                reading.path()
            );
            let help = "write it between quotation marks: \"0.6 cu ft\", \"17 l\", \"0.02 m3\"";
            reading.error(node.place.clone(), message, help);
        }
        read.map(Room)
    }
}

schema!(Room, "Volume", {
    "description": "A volume with its unit, from a litre to a cubic metre: \"0.6 cu ft\", \"17 l\" or \"0.02 m3\".",
    "type": "string"
});

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_may_be_written_as_people_do() {
        let psf = |hundredths| Some(Pressure::psf_100(hundredths));
        assert_eq!(Load::parse("40", Unit::Inch), psf(4000));
        assert_eq!(Load::parse("12.5psf", Unit::Millimetre), psf(1250));
        assert_eq!(Load::parse("40 lb/sq ft", Unit::Inch), psf(4000));
        let pascals = |count| Some(Pressure::pascals(count));
        assert_eq!(Load::parse("1.92", Unit::Millimetre), pascals(1920));
        assert_eq!(Load::parse("2 kN/m²", Unit::Inch), pascals(2000));
        for wrong in ["0", "-1", "40 lb", "1.234 psf", "psf", "1e3"] {
            assert_eq!(Load::parse(wrong, Unit::Inch), None, "{wrong}");
        }
        assert_eq!(Weight::parse("1800 lb"), Some(Force::pounds_100(180_000)));
        assert_eq!(Weight::parse("8kN"), Some(Force::newtons(8000)));
        assert_eq!(Weight::parse("800"), None);
        let room = |count, one| Volume::ten_thousandths(count, one);
        let foot = Volume::CUBIC_FOOT;
        assert_eq!(Room::parse("0.6 cu. ft."), room(6000, foot));
        assert_eq!(Room::parse("0.02 m³"), room(200, Volume::CUBIC_METRE));
        assert_eq!(Room::parse("17l"), room(170_000, Volume::LITRE));
        for wrong in ["0.6", "0 cu ft", "0.9 l", "1 cu yd 3", "0.00001 m3"] {
            assert_eq!(Room::parse(wrong), None, "{wrong}");
        }
    }
}
