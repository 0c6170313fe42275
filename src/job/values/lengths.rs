//! Lengths: of any sign or above a bound, movable within a range, in a list.

use std::borrow::Cow;
use std::ops::Range;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::schema;
use crate::job::problem::Place;
use crate::job::reading::{Entry, Field, Member, Reading, Shape, tables};
use crate::job::tree::{Node, Value};
use crate::length::Length;

/// No length in a job is longer, up or down.
const LONGEST: Length = Length::from_feet(1_000);

/// Reads a length within limits; says why if it is none.
fn length(node: &Node, reading: &mut Reading) -> Option<Length> {
    let path = reading.path();
    let (text, inside) = match &node.value {
        Value::Text(text) => (text.as_str(), true),
        Value::Integer(text) | Value::Decimal(text) => (text.as_str(), false),
        _ => {
            reading.error(
                node.place.clone(),
                format!("`{path}` is a length, not {}", node.kind()),
                "write it as on a tape: \"13ft 2-1/2in\", \"158-1/2in\", \"4013mm\"",
            );
            return None;
        }
    };
    match Length::parse(text, Some(reading.unit)) {
        Ok(length) if length.abs() > LONGEST => {
            reading.error(
                node.place.clone(),
                format!(
                    "`{path}` is {}; no length in a job is over 1000 ft",
                    length.show(reading.unit)
                ),
                "give its unit if another is meant; a larger deck is planned in parts",
            );
            None
        }
        Ok(length) => Some(length),
        Err(error) => {
            let place = if inside {
                part(&node.place, text, error.span())
            } else {
                node.place.clone()
            };
            reading.error(
                place,
                format!("`{path}`: {}", error.message()),
                error.help(),
            );
            None
        }
    }
}

macro_rules! lengths {
    ($( $(#[doc = $doc:literal])* $kind:ident, $name:literal, $rule:expr, $says:literal, $schema:tt; )*) => { $(
        $(#[doc = $doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
        pub struct $kind(pub Length);

        impl From<$kind> for Length {
            fn from(value: $kind) -> Length {
                value.0
            }
        }

        impl Field for $kind {
            const SHAPE: Shape = Shape::Length;

            fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
                let read = length(node, reading)?;
                let rule: fn(Length) -> bool = $rule;
                if rule(read) {
                    return Some($kind(read));
                }
                let message = format!("`{}` is {}", reading.path(), read.show(reading.unit));
                reading.error(node.place.clone(), message, $says);
                None
            }
        }

        schema!($kind, $name, $schema);
    )* };
}

lengths! {
    /// Any length.
    Signed, "Length", |_| true, "", {
        "description": "A length: a text such as \"13ft 2-1/2in\", \"-1/4in\" or \"4013mm\", or a number in the job's unit.",
        "type": ["string", "number"]
    };
    /// A length that may be nothing, but not less.
    NotNegative, "LengthFromZero", |length| !length.is_negative(), "it may be 0, but not less", {
        "description": "A length, not below 0: a text such as \"1/8in\" or \"3mm\", or a number in the job's unit.",
        "type": ["string", "number"],
        "minimum": 0
    };
    /// A length above nothing.
    Positive, "LengthAboveZero", |length| length > Length::ZERO, "it has to be more than 0", {
        "description": "A length above 0: a text such as \"13ft 2-1/2in\" or \"4013mm\", or a number in the job's unit.",
        "type": ["string", "number"],
        "exclusiveMinimum": 0
    };
}

/// The place of a part of a text, as far as the text stands there as it reads:
/// between quotation marks in a file, without them in an option.
fn part(place: &Place, text: &str, span: Range<usize>) -> Place {
    let quote = match place.span.len().checked_sub(text.len()) {
        Some(0) => 0,
        Some(2) => 1,
        _ => return place.clone(),
    };
    if span.is_empty() {
        return place.clone();
    }
    let start = place.span.start + quote;
    Place {
        source: place.source,
        span: start + span.start..start + span.end,
    }
}

tables! {
    /// A length that may be moved between two others.
    RangeTable<L> {
        required {
            /// The length used unless something asks for another.
            set: L,
        }
        optional {
            /// The least it may be; `set` when left out.
            least: L,
            /// The most it may be; `set` when left out.
            most: L,
        }
    }
}

/// A length, or a length that may be moved.
#[derive(Debug, Clone, PartialEq)]
pub enum Ranged<L> {
    /// Just a length.
    Fixed(L),
    /// A length and its range.
    Free(RangeTable<L>),
}

impl<L: Field + Default> Field for Ranged<L> {
    const SHAPE: Shape = Shape::Range;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        match node.value {
            Value::Table(_) => RangeTable::read(node, reading).map(Ranged::Free),
            _ => L::read(node, reading).map(Ranged::Fixed),
        }
    }
}

impl<L: JsonSchema> JsonSchema for Ranged<L> {
    fn schema_name() -> Cow<'static, str> {
        format!("{}OrRange", L::schema_name()).into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let fixed = generator.subschema_for::<L>();
        let free = generator.subschema_for::<RangeTable<L>>();
        json_schema!({ "anyOf": [fixed, free] })
    }
}

/// Lengths in a list.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Lengths(pub Vec<(Length, Place)>);

impl Field for Lengths {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let nodes = reading.list(node, "write it as [\"3/4in\", \"16in\", \"32in\"]")?;
        let read = reading.each::<Signed>(nodes)?;
        Some(Lengths(
            read.into_iter()
                .map(|(length, place)| (length.0, place))
                .collect(),
        ))
    }
}

impl JsonSchema for Lengths {
    fn schema_name() -> Cow<'static, str> {
        "Lengths".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let length = generator.subschema_for::<Signed>();
        json_schema!({ "type": "array", "items": length })
    }
}
