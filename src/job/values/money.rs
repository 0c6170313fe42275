//! Amounts of money, and prices by the foot or the metre.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::schema;
use crate::job::reading::{Field, Reading, Shape};
use crate::job::tree::{Node, Value};
use crate::money::{self, Money, ParseMoneyError};

/// Reads a number or a text as money by one of money's own readers.
fn money<T>(
    node: &Node,
    reading: &mut Reading,
    read: fn(&str) -> Result<T, ParseMoneyError>,
) -> Option<T> {
    let path = reading.path();
    let (Value::Text(text) | Value::Integer(text) | Value::Decimal(text)) = &node.value else {
        reading.error(
            node.place.clone(),
            format!("`{path}` is an amount of money, not {}", node.kind()),
            "write it with a point: 41.50",
        );
        return None;
    };
    match read(text) {
        Ok(amount) => Some(amount),
        Err(error) => {
            let message = format!("`{path}`: {}", error.message());
            reading.error(node.place.clone(), message, error.help());
            None
        }
    }
}

/// An amount of money, not below nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Price(pub Money);

impl From<Price> for Money {
    fn from(price: Price) -> Money {
        price.0
    }
}

impl Field for Price {
    const SHAPE: Shape = Shape::Money { decimals: 2 };

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        money(node, reading, Money::parse).map(Price)
    }
}

schema!(Price, "Price", {
    "description": "An amount of money with up to two decimals, as a number or a text; not below 0.",
    "type": ["number", "string"],
    "minimum": 0
});

macro_rules! rates {
    ($( $(#[doc = $doc:literal])* $kind:ident, $name:literal, $read:path; )*) => { $(
        $(#[doc = $doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub struct $kind(pub money::Rate);

        impl Field for $kind {
            const SHAPE: Shape = Shape::Money { decimals: 4 };

            fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
                money(node, reading, $read).map($kind)
            }
        }

        schema!($kind, $name, {
            "description": "An amount of money with up to four decimals, as a number or a text; not below 0.",
            "type": ["number", "string"],
            "minimum": 0
        });
    )* };
}

rates! {
    /// A price for each foot of a board.
    PerFoot, "PricePerFoot", money::Rate::per_foot;
    /// A price for each metre of a board.
    PerMetre, "PricePerMetre", money::Rate::per_metre;
}
