//! Stretches along, each from and to, in a list.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::Signed;
use crate::job::model::Zone;
use crate::job::problem::Place;
use crate::job::reading::{Field, Reading, Shape};
use crate::job::tree::{Node, Value};

/// Stretches in a list.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Zones(pub Vec<(Zone, Place)>);

const WRITTEN: &str = "write it as [[\"5ft\", \"7ft\"]], each stretch from and to";

impl Field for Zones {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let nodes = reading.list(node, WRITTEN)?;
        reading.each(nodes).map(Zones)
    }
}

impl Field for Zone {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let path = reading.path();
        let Value::List(ends) = &node.value else {
            let message = format!("`{path}` is a stretch of two lengths, not {}", node.kind());
            reading.error(node.place.clone(), message, WRITTEN);
            return None;
        };
        if ends.len() != 2 {
            let message = format!("`{path}` has {} lengths, not two", ends.len());
            reading.error(node.place.clone(), message, WRITTEN);
            return None;
        }
        let ends = reading.each::<Signed>(ends)?;
        let (from, to) = (ends[0].0.0, ends[1].0.0);
        if from > to {
            let message = format!(
                "`{path}` goes from {} back to {}",
                reading.show(from),
                reading.show(to)
            );
            reading.error(
                node.place.clone(),
                message,
                "write the end nearer the frame's left side first",
            );
            return None;
        }
        Some(Zone { from, to })
    }
}

impl JsonSchema for Zones {
    fn schema_name() -> Cow<'static, str> {
        "Stretches".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let length = generator.subschema_for::<Signed>();
        json_schema!({
            "type": "array",
            "items": { "type": "array", "items": length, "minItems": 2, "maxItems": 2 }
        })
    }
}
