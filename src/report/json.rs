//! What all JSON answers share: lengths as numbers in the job's unit that give
//! the exact length back, money as decimal text, and the two keys every answer
//! starts with. Which keys an answer has is left to its own module.

use std::borrow::Cow;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Serialize, Serializer};

use crate::caution::Caution;
use crate::courses::Verdict;
use crate::length::{Length, Unit};
use crate::money::Money;
use crate::plan::Objective;

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

impl Measure {
    /// The number in millionths of its unit, rounded; 5.515625 is then written
    /// so, and not with the dust of a binary division behind it.
    fn millionths(&self) -> i128 {
        let units = i128::from(self.length.units());
        let per_unit = i128::from(match self.unit {
            Unit::Inch => Length::UNITS_PER_INCH,
            Unit::Millimetre => Length::UNITS_PER_MM,
        });
        (units * MILLIONTHS * 2 + per_unit).div_euclid(per_unit * 2)
    }
}

const MILLIONTHS: i128 = 1_000_000;

impl fmt::Display for Measure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let millionths = self.millionths();
        let sign = if millionths < 0 { "-" } else { "" };
        let (whole, rest) = (millionths.abs() / MILLIONTHS, millionths.abs() % MILLIONTHS);
        let text = format!("{sign}{whole}.{rest:06}");
        f.write_str(text.trim_end_matches('0').trim_end_matches('.'))
    }
}

impl Serialize for Measure {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let millionths = self.millionths();
        match i64::try_from(millionths / MILLIONTHS) {
            Ok(whole) if millionths % MILLIONTHS == 0 => serializer.serialize_i64(whole),
            _ => serializer.serialize_f64(millionths as f64 / MILLIONTHS as f64),
        }
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
        serializer.serialize_str(&self.0.decimal())
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

/// A value of an objective in the objective's own terms.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum Value {
    /// Money, for cost.
    Money(Amount),
    /// A count, for joints.
    Count(i64),
    /// A length, for waste.
    Length(Measure),
}

impl Value {
    /// The value of an objective: cents, a count, or units of length.
    pub fn of(objective: Objective, value: i64, unit: Unit) -> Value {
        match objective {
            Objective::Cost => Value::Money(Amount(Money::from_cents(value))),
            Objective::Joints => Value::Count(value),
            Objective::Waste => Value::Length(Measure::new(Length::from_units(value), unit)),
        }
    }
}

/// The name of a unit in every format.
pub fn unit(unit: Unit) -> &'static str {
    match unit {
        Unit::Inch => "in",
        Unit::Millimetre => "mm",
    }
}

/// The name of an objective in every format.
pub fn objective(objective: Objective) -> &'static str {
    match objective {
        Objective::Cost => "cost",
        Objective::Joints => "joints",
        Objective::Waste => "waste",
    }
}

/// The name of a verdict in every format.
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Full => "full",
        Verdict::Short => "short",
        Verdict::Sliver => "sliver",
        Verdict::Rip => "rip",
    }
}

/// How far a value may be above the best, as a share of the value.
pub fn gap(value: i64, bound: i64) -> f64 {
    if value == 0 {
        return 0.0;
    }
    (value - bound) as f64 / value as f64
}

/// The share of the boards' length that nothing is made of.
pub fn waste(used: Length, bought: Length) -> f64 {
    if bought == Length::ZERO {
        return 0.0;
    }
    (bought - used).units() as f64 / bought.units() as f64
}

/// Something that is allowed but should be looked at.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Warning {
    /// What is the matter.
    message: String,
    /// What one could do, or who decides.
    help: String,
}

impl Warning {
    /// The cautions of an answer.
    pub fn list(cautions: &[Caution]) -> Vec<Warning> {
        let warning = |caution: &Caution| Warning {
            message: caution.message.clone(),
            help: caution.help.clone(),
        };
        cautions.iter().map(warning).collect()
    }
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
            unit: self::unit(unit),
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

    proptest! {
        #[test]
        fn numbers_give_the_exact_length_back(units in -10_000_000_000_000i64..10_000_000_000_000) {
            let length = Length::from_units(units);
            for (unit, per_unit) in [(Unit::Inch, 203_200.0), (Unit::Millimetre, 8_000.0)] {
                let number: f64 = number(length, unit).parse().expect("a number");
                prop_assert_eq!((number * per_unit).round() as i64, units);
                prop_assert_eq!(Measure::new(length, unit).to_string().parse::<f64>(), Ok(number));
            }
        }
    }
}
