//! How much of something is sold together: so many pieces, or so much by weight.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::{Count, schema};
use crate::job::reading::{Field, Reading, Shape};
use crate::job::tree::{Node, Value};
use crate::load::Force;

/// A weight of goods in pounds or kilograms.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GoodsWeight(pub Force);

impl GoodsWeight {
    /// Up to 1,000 lb or 500 kg, which is more than anybody carries to a car.
    pub fn parse(text: &str) -> Option<Force> {
        let (number, unit) = super::loads::parts(text);
        let hundredths = |most| super::loads::within(super::degrees::decimal(number, 2), most);
        match unit.as_str() {
            "lb" | "lbs" | "pound" | "pounds" => hundredths(100_000).map(Force::pounds_100),
            "kg" => hundredths(50_000).map(Force::kilograms_100),
            _ => None,
        }
    }
}

impl Field for GoodsWeight {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let read = match &node.value {
            Value::Text(text) => GoodsWeight::parse(text),
            _ => None,
        };
        if read.is_none() {
            let message = format!(
                "`{}` is a weight in pounds or kilograms, above 0, with two decimals at most",
                reading.path()
            );
            let help = "write it between quotation marks: \"5 lb\", \"2.5 kg\"";
            reading.error(node.place.clone(), message, help);
        }
        read.map(GoodsWeight)
    }
}

schema!(GoodsWeight, "GoodsWeight", {
    "description": "A weight of goods with its unit: \"5 lb\" or \"2.5 kg\".",
    "type": "string"
});

/// What is in a pack.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PackSize {
    /// So many pieces.
    Pieces(u32),
    /// So much by weight.
    Weight(Force),
}

impl Field for PackSize {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let Value::Text(text) = &node.value else {
            return Count::<1>::read(node, reading).map(|count| PackSize::Pieces(count.0));
        };
        let weight = GoodsWeight::parse(text);
        if weight.is_none() {
            let message = format!(
                "`{}` is a number of pieces, or a weight above 0 in pounds or kilograms, not \"{text}\"",
                reading.path()
            );
            let help = "write 250 for so many pieces, or \"5 lb\", \"2.5 kg\" for what is sold by \
                        weight";
            reading.error(node.place.clone(), message, help);
        }
        weight.map(PackSize::Weight)
    }
}

impl JsonSchema for PackSize {
    fn schema_name() -> Cow<'static, str> {
        "PackSize".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let pieces = generator.subschema_for::<Count<1>>();
        let weight = generator.subschema_for::<GoodsWeight>();
        json_schema!({ "anyOf": [pieces, weight] })
    }
}
