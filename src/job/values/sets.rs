//! Changes of fields in a list, each as `--set` takes it.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::schema;
use crate::job::edit::Set;
use crate::job::reading::{Field, Reading, Shape};
use crate::job::tree::{Node, Value};

/// Changes of fields.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sets(pub Vec<Set>);

const WRITTEN: &str = "write it as [\"board.face=7-1/4in\", \"stock.1.price=58.40\"]";

impl Field for Sets {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let nodes = reading.list(node, WRITTEN)?;
        if nodes.is_empty() {
            let message = format!("`{}` changes nothing", reading.path());
            reading.error(node.place.clone(), message, WRITTEN);
            return None;
        }
        let sets = nodes.iter().map(|node| {
            let set = match &node.value {
                Value::Text(text) => Set::parse(text).map_err(|error| error.to_string()),
                _ => Err(format!("a change is a text, not {}", node.kind())),
            };
            match set {
                Ok(set) => Some(set),
                Err(message) => {
                    reading.error(node.place.clone(), message, WRITTEN);
                    None
                }
            }
        });
        let sets: Vec<Option<Set>> = sets.collect();
        sets.into_iter().collect::<Option<_>>().map(Sets)
    }
}

schema!(Sets, "Changes", {
    "description": "Changes of fields, each as PATH=VALUE.",
    "type": "array",
    "items": { "type": "string" },
    "minItems": 1
});
