//! Two lengths above nothing, in a list.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::Positive;
use crate::job::reading::{Field, Reading, Shape};
use crate::job::tree::Node;
use crate::length::Length;

/// Two lengths.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Pair(pub [Length; 2]);

const WRITTEN: &str = "write both of them: [\"16ft 4-1/8in\", \"16ft 4-3/8in\"]";

impl Field for Pair {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let nodes = reading.list(node, WRITTEN)?;
        if nodes.len() != 2 {
            let message = format!("`{}` has {} lengths, not two", reading.path(), nodes.len());
            reading.error(node.place.clone(), message, WRITTEN);
            return None;
        }
        let read = reading.each::<Positive>(nodes)?;
        Some(Pair([read[0].0.0, read[1].0.0]))
    }
}

impl JsonSchema for Pair {
    fn schema_name() -> Cow<'static, str> {
        "TwoLengths".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let length = generator.subschema_for::<Positive>();
        json_schema!({ "type": "array", "items": length, "minItems": 2, "maxItems": 2 })
    }
}
