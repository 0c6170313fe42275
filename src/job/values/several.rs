//! Several tables of one kind, each under a heading of its own.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use crate::job::problem::Place;
use crate::job::reading::{Field, Reading, Shape};
use crate::job::tree::{Node, Value};

/// Several tables under repeated headings.
#[derive(Debug, Clone, PartialEq)]
pub struct Several<T>(pub Vec<(T, Place)>);

impl<T> Default for Several<T> {
    fn default() -> Self {
        Several(Vec::new())
    }
}

impl<T: Field> Field for Several<T> {
    const SHAPE: Shape = match T::SHAPE {
        Shape::Table(members) => Shape::List(members),
        other => other,
    };

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        if let Value::List(nodes) = &node.value {
            return reading.each(nodes).map(Several);
        }
        let (path, heading) = (reading.path(), reading.heading(true));
        reading.error(
            node.place.clone(),
            format!("`{path}` may be given several times, each under a heading of its own"),
            format!("write the heading with double brackets: `{heading}`"),
        );
        None
    }
}

impl<T: JsonSchema> JsonSchema for Several<T> {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        format!("Several{}", T::schema_name()).into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let each = generator.subschema_for::<T>();
        json_schema!({ "type": "array", "items": each })
    }
}
