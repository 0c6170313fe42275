//! What all JSON answers share: lengths as numbers in the job's unit that give
//! the exact length back, money as decimal text, and the two keys every answer
//! starts with. Which keys an answer has is left to its own module.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Serialize, Serializer};

use crate::length::{Length, Unit};
use crate::money::Money;

/// A length as a JSON number in inches or millimetres. Rounding it to the
/// nearest 1/8 µm gives the exact length back; six decimals always do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Measure {
    length: Length,
    unit: Unit,
}

impl Measure {
    /// The length as a number in the unit.
    pub const fn new(length: Length, unit: Unit) -> Measure {
        Measure { length, unit }
    }
}

impl Serialize for Measure {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        const MILLIONTHS: i128 = 1_000_000;
        let units = i128::from(self.length.units());
        let per_unit = i128::from(match self.unit {
            Unit::Inch => Length::UNITS_PER_INCH,
            Unit::Millimetre => Length::UNITS_PER_MM,
        });
        if units % per_unit == 0 {
            return serializer.serialize_i64((units / per_unit) as i64);
        }
        // Whole millionths first, so that 5.515625 is written so and not with
        // the dust of a binary division behind it.
        let rounded = (units * MILLIONTHS * 2 + per_unit).div_euclid(per_unit * 2);
        serializer.serialize_f64(rounded as f64 / MILLIONTHS as f64)
    }
}

impl JsonSchema for Measure {
    fn schema_name() -> Cow<'static, str> {
        "Length".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "number",
            "description": "A length in the answer's `unit`; rounded to the nearest 1/8 µm it is exact."
        })
    }
}

/// Money as a JSON text with two decimals: `"41.50"`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Amount(pub Money);

impl Serialize for Amount {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&decimal(self.0))
    }
}

impl JsonSchema for Amount {
    fn schema_name() -> Cow<'static, str> {
        "Money".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "pattern": "^-?[0-9]+\\.[0-9]{2}$",
            "description": "An amount in the job's currency, exact to the cent."
        })
    }
}

/// An amount as plain decimal text, without sign of currency or separators.
pub fn decimal(amount: Money) -> String {
    let cents = amount.cents().unsigned_abs();
    let sign = if amount.cents() < 0 { "-" } else { "" };
    format!("{sign}{}.{:02}", cents / 100, cents % 100)
}

/// An answer with the two keys that every answer starts with.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Answer<T> {
    /// What the answer is and the version of its keys: `lastcourse/plan/1`.
    pub schema: String,
    /// The unit of all lengths in it: `in` or `mm`.
    pub unit: &'static str,
    /// The answer's own keys.
    #[serde(flatten)]
    pub body: T,
}

impl<T> Answer<T> {
    /// An answer of the named command in the given unit.
    pub fn new(command: &str, unit: Unit, body: T) -> Answer<T> {
        Answer {
            schema: format!("lastcourse/{command}/1"),
            unit: match unit {
                Unit::Inch => "in",
                Unit::Millimetre => "mm",
            },
            body,
        }
    }
}

/// A value as JSON text with a line break behind it.
pub fn pretty<T: Serialize>(value: &T) -> String {
    let mut text = serde_json::to_string_pretty(value)
        .expect("an answer of numbers, texts and lists is always JSON");
    text.push('\n');
    text
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn number(length: Length, unit: Unit) -> String {
        serde_json::to_string(&Measure::new(length, unit)).expect("a number")
    }

    #[test]
    fn lengths_are_tidy_numbers() {
        assert_eq!(number(Length::from_feet(16), Unit::Inch), "192");
        assert_eq!(number(Length::from_64ths(353), Unit::Inch), "5.515625");
        assert_eq!(number(-Length::from_64ths(1), Unit::Inch), "-0.015625");
        assert_eq!(
            number(Length::from_tenths_of_mm(35), Unit::Millimetre),
            "3.5"
        );
        assert_eq!(number(Length::from_inches(1), Unit::Millimetre), "25.4");
        assert_eq!(number(Length::from_units(1), Unit::Millimetre), "0.000125");
    }

    #[test]
    fn money_is_decimal_text() {
        assert_eq!(decimal(Money::from_cents(167_200)), "1672.00");
        assert_eq!(decimal(Money::from_cents(-5)), "-0.05");
    }

    proptest! {
        #[test]
        fn numbers_give_the_exact_length_back(units in -10_000_000_000_000i64..10_000_000_000_000) {
            let length = Length::from_units(units);
            for (unit, per_unit) in [(Unit::Inch, 203_200.0), (Unit::Millimetre, 8_000.0)] {
                let number: f64 = number(length, unit).parse().expect("a number");
                prop_assert_eq!((number * per_unit).round() as i64, units);
            }
        }
    }
}
