//! Minutes of work, with up to two decimals, read exactly.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::degrees::decimal;
use super::schema;
use crate::job::reading::{Field, Reading, Shape};
use crate::job::tree::{Node, Value};

/// No more than ten hours for one thing.
const MOST: u32 = 60_000;

/// Minutes in hundredths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Minutes(pub u32);

impl From<Minutes> for u32 {
    fn from(minutes: Minutes) -> u32 {
        minutes.0
    }
}

impl Field for Minutes {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let typed = match &node.value {
            Value::Integer(text) | Value::Decimal(text) => decimal(text, 2),
            _ => None,
        };
        let minutes = typed.and_then(|typed| u32::try_from(typed).ok());
        if let Some(minutes) = minutes.filter(|minutes| *minutes <= MOST) {
            return Some(Minutes(minutes));
        }
        let message = format!("`{}` is a number of minutes from 0 to 600", reading.path());
        reading.error(
            node.place.clone(),
            message,
            "write it without quotation marks, with two decimals at most: 0.4",
        );
        None
    }
}

schema!(Minutes, "Minutes", {
    "description": "Minutes, with up to two decimals.",
    "type": "number",
    "minimum": 0,
    "maximum": 600
});
