//! Sides of the frame, in a list.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::SideWord;
use crate::job::fascia::Side;
use crate::job::problem::Place;
use crate::job::reading::{Field, Reading, Shape};
use crate::job::tree::Node;

/// Sides of the frame by their names.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SidesWords(pub Vec<(Side, Place)>);

impl Field for SidesWords {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let written = "write the edges' names in brackets: [\"last\", \"left\"]";
        let nodes = reading.list(node, written)?;
        let read = reading.each::<SideWord>(nodes)?;
        Some(SidesWords(
            read.into_iter()
                .map(|(side, place)| (side.0, place))
                .collect(),
        ))
    }
}

impl JsonSchema for SidesWords {
    fn schema_name() -> Cow<'static, str> {
        "Sides".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let side = generator.subschema_for::<SideWord>();
        json_schema!({ "type": "array", "items": side })
    }
}
