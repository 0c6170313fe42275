//! Temperatures, and how sizes change by a degree or by moisture: numbers with
//! more decimals than money, read exactly.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::schema;
use crate::job::movement::{PerDegree, Temperature};
use crate::job::reading::{Field, Reading, Shape};
use crate::job::tree::{Node, Value};

/// Reads a decimal number, `0.0034` or `3.4e-3`, as a whole count of
/// `10^-decimals`; nothing where it is no number, is not whole in that, or is
/// larger than any here.
pub(super) fn decimal(text: &str, decimals: i32) -> Option<i64> {
    let text = text.trim();
    let (text, negative) = match text.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (rest, true),
        None => (text.strip_prefix('+').unwrap_or(text), false),
    };
    let (number, exponent) = match text.split_once(['e', 'E']) {
        Some((number, exponent)) => (number, exponent.parse::<i32>().ok()?),
        None => (text, 0),
    };
    let (whole, part) = number.split_once('.').unwrap_or((number, ""));
    let part = part.trim_end_matches('0');
    let digits = format!("{whole}{part}");
    if whole.is_empty() || digits.len() > 15 || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let mut count: i64 = digits.parse().ok()?;
    let mut shift = exponent
        .checked_sub(i32::try_from(part.len()).ok()?)?
        .checked_add(decimals)?;
    while count != 0 && shift != 0 {
        if shift > 0 {
            count = count.checked_mul(10)?;
            shift -= 1;
        } else if count % 10 == 0 {
            count /= 10;
            shift += 1;
        } else {
            return None;
        }
    }
    Some(if negative { -count } else { count })
}

/// A temperature with its scale.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Degrees(pub Temperature);

impl Degrees {
    /// The coldest and the hottest a deck can be, in tenths °C.
    const LEAST: Temperature = Temperature::from_tenths_c(-700);
    const MOST: Temperature = Temperature::from_tenths_c(1000);

    fn parse(text: &str) -> Option<Temperature> {
        let text = text.trim();
        let celsius = text.ends_with(['C', 'c']);
        let number = text.strip_suffix(['F', 'f', 'C', 'c'])?.trim_end();
        let number = number.trim_end_matches('°');
        let tenths = decimal(number, 1).filter(|tenths| tenths.abs() < 100_000)?;
        Some(match celsius {
            true => Temperature::from_tenths_c(tenths),
            false => Temperature::from_tenths_f(tenths),
        })
    }
}

impl Field for Degrees {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let path = reading.path();
        let read = match &node.value {
            Value::Text(text) => Degrees::parse(text),
            _ => None,
        };
        let (message, help) = match read {
            Some(read) if (Degrees::LEAST..=Degrees::MOST).contains(&read) => {
                return Some(Degrees(read));
            }
            Some(read) => (
                format!("`{path}` is {}", read.show(reading.unit)),
                "a deck is between -94 °F and 212 °F, -70 °C and 100 °C",
            ),
            None => (
                format!("`{path}` is a temperature with its scale, to a tenth of a degree"),
                "write it between quotation marks, with F or C behind it: \"60F\", \"15.5C\"",
            ),
        };
        reading.error(node.place.clone(), message, help);
        None
    }
}

schema!(Degrees, "Temperature", {
    "description": "A temperature with its scale, such as \"60F\", \"-5 °F\" or \"15.5C\".",
    "type": "string"
});

/// Growth of a length by a degree, with the degree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Growth(pub PerDegree);

impl Growth {
    /// Nothing that is sold as a board grows faster: 2e-4 by °F.
    const MOST: PerDegree = PerDegree::billionths_f(200_000);

    fn parse(text: &str) -> Option<PerDegree> {
        let (number, degree) = text.trim().rsplit_once('/')?;
        let mut number = number.trim();
        for shares in ["in/in", "mm/mm", "m/m"] {
            number = number.strip_suffix(shares).unwrap_or(number).trim_end();
        }
        let billionths = decimal(number, 9).filter(|count| (1..=1_000_000).contains(count))?;
        match degree.trim().trim_start_matches('°') {
            "F" | "f" => Some(PerDegree::billionths_f(billionths)),
            "C" | "c" | "K" => Some(PerDegree::billionths_c(billionths)),
            _ => None,
        }
    }
}

impl Field for Growth {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let read = match &node.value {
            Value::Text(text) => Growth::parse(text),
            _ => None,
        };
        if let Some(read) = read.filter(|read| *read <= Growth::MOST) {
            return Some(Growth(read));
        }
        let message = format!(
            "`{}` is the share of its length that a board grows by a degree, above 0 and at most 0.0002/F",
            reading.path()
        );
        let help = "write it with its degree between quotation marks: \"3.4e-5/F\", \"0.00006/C\"";
        reading.error(node.place.clone(), message, help);
        None
    }
}

schema!(Growth, "GrowthPerDegree", {
    "description": "The share of its length that a board grows by a degree, such as \"3.4e-5/F\" or \"0.00006/C\".",
    "type": "string"
});

/// Change of width by one per cent of moisture, in millionths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PerMoisture(pub u32);

impl From<PerMoisture> for u32 {
    fn from(change: PerMoisture) -> u32 {
        change.0
    }
}

impl Field for PerMoisture {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        // Twice what the liveliest wood has.
        const MOST: i64 = 10_000;
        let read = match &node.value {
            Value::Text(text) | Value::Integer(text) | Value::Decimal(text) => decimal(text, 6),
            _ => None,
        };
        match read.filter(|count| (1..=MOST).contains(count)) {
            Some(millionths) => u32::try_from(millionths).ok().map(PerMoisture),
            None => {
                let message = format!(
                    "`{}` is the share of its width that a board moves by 1 % of moisture, above 0, at most 0.01, with up to six decimals",
                    reading.path()
                );
                let help = "write it as the handbook does: 0.00267";
                reading.error(node.place.clone(), message, help);
                None
            }
        }
    }
}

schema!(PerMoisture, "ChangePerMoisture", {
    "description": "The share of its width that a board moves by 1 % of moisture, such as 0.00267.",
    "type": ["number", "string"],
    "exclusiveMinimum": 0,
    "maximum": 0.01
});

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimals_are_read_exactly_or_not_at_all() {
        assert_eq!(decimal("0.00267", 6), Some(2670));
        assert_eq!(decimal("2.67e-3", 6), Some(2670));
        assert_eq!(decimal("-12.5", 1), Some(-125));
        assert_eq!(decimal("70", 1), Some(700));
        assert_eq!(decimal("3.4E-5", 9), Some(34_000));
        for wrong in ["", ".5", "1.25", "1e99", "1e-99", "x", "1e", "--1", "1.2.3"] {
            assert_eq!(decimal(wrong, 1), None, "{wrong}");
        }
    }

    #[test]
    fn temperatures_and_growth_carry_their_degree() {
        assert_eq!(
            Degrees::parse("-5 °F"),
            Some(Temperature::from_tenths_f(-50))
        );
        assert_eq!(
            Degrees::parse("15.5C"),
            Some(Temperature::from_tenths_c(155))
        );
        assert_eq!(Degrees::parse("70"), None);
        assert_eq!(
            Growth::parse("3.4e-5 in/in/°F"),
            Some(PerDegree::billionths_f(34_000))
        );
        assert_eq!(
            Growth::parse("0.00006/C"),
            Some(PerDegree::billionths_c(60_000))
        );
        assert_eq!(Growth::parse("0.00006"), None);
    }
}
