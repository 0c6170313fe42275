//! Boards as a table of decking tells them apart: by what they are sold as, or
//! by their thickness.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::{Positive, schema};
use crate::job::codes::Decking;
use crate::job::reading::{Field, Reading, Shape};
use crate::job::tree::{Node, Value};

/// What deck boards are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DeckingWord(pub Decking);

impl Field for DeckingWord {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        if let Value::Text(text) = &node.value {
            // 5/4 is what a board 1 in thick is sold as, and no length.
            let known = match text.trim().to_lowercase().as_str() {
                "5/4" | "5/4in" | "5/4 in" => Some(Decking::FiveQuarter),
                "2x" => Some(Decking::TwoInch),
                "composite" => Some(Decking::Composite),
                word if word.starts_with(|c: char| c.is_alphabetic()) => {
                    let message = format!("`{}` cannot be \"{text}\"", reading.path());
                    let help = "it is \"5/4\", \"2x\", \"composite\", or the thickness of wood, \
                                such as \"1in\"";
                    reading.error(node.place.clone(), message, help);
                    return None;
                }
                _ => None,
            };
            if let Some(known) = known {
                return Some(DeckingWord(known));
            }
        }
        Positive::read(node, reading).map(|thickness| DeckingWord(Decking::Thick(thickness.0)))
    }
}

schema!(DeckingWord, "Decking", {
    "description": "\"5/4\" or \"2x\" wood, \"composite\", or the thickness of wood as a length.",
    "type": ["string", "number"],
    "exclusiveMinimum": 0
});
