//! Groups of an order in a list.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::GroupWord;
use crate::job::items::Group;
use crate::job::problem::Place;
use crate::job::reading::{Field, Reading, Shape};
use crate::job::tree::Node;

/// Groups of an order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Groups(pub Vec<(Group, Place)>);

impl Field for Groups {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let nodes = reading.list(node, "write it as [\"frame\", \"base\"]")?;
        let words = reading.each::<GroupWord>(nodes)?;
        let groups = words.into_iter().map(|(word, place)| (word.0, place));
        Some(Groups(groups.collect()))
    }
}

impl JsonSchema for Groups {
    fn schema_name() -> Cow<'static, str> {
        "Groups".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let group = generator.subschema_for::<GroupWord>();
        json_schema!({ "type": "array", "items": group })
    }
}
