//! Whole numbers, shares, and spare boards, which are either.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::schema;
use crate::job::model::{Percent, Spare};
use crate::job::reading::{Field, Reading, Shape};
use crate::job::tree::{Node, Value};

/// No count is higher.
const MOST: u32 = 1_000_000;

/// A whole number from `LEAST` up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Count<const LEAST: u32>(pub u32);

impl<const LEAST: u32> From<Count<LEAST>> for u32 {
    fn from(count: Count<LEAST>) -> u32 {
        count.0
    }
}

impl<const LEAST: u32> Field for Count<LEAST> {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let path = reading.path();
        let message = match &node.value {
            Value::Integer(text) => match text.parse::<u32>() {
                Ok(count) if (LEAST..=MOST).contains(&count) => return Some(Count(count)),
                _ => format!("`{path}` is {text}"),
            },
            Value::Decimal(text) => format!("`{path}` is {text}, which is no whole number"),
            _ => format!("`{path}` is a whole number, not {}", node.kind()),
        };
        reading.error(
            node.place.clone(),
            message,
            format!("write a whole number from {LEAST} to {MOST}, without quotation marks"),
        );
        None
    }
}

impl<const LEAST: u32> JsonSchema for Count<LEAST> {
    fn schema_name() -> Cow<'static, str> {
        format!("CountFrom{LEAST}").into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "integer", "minimum": LEAST, "maximum": MOST })
    }
}

/// Reads a share written as per cent: `5%`, `2.5 %`.
fn percent(text: &str) -> Option<Percent> {
    let number = text.trim().strip_suffix('%')?.trim_end();
    let (whole, parts) = number.split_once('.').unwrap_or((number, ""));
    let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || !digits(whole) || !digits(parts) || parts.len() > 2 {
        return None;
    }
    let hundredths = format!("{whole}{parts:0<2}").parse::<u32>().ok()?;
    (hundredths <= 10_000).then_some(Percent(hundredths))
}

/// A share from 0 % to 100 %.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Share(pub Percent);

impl From<Share> for Percent {
    fn from(share: Share) -> Percent {
        share.0
    }
}

impl Field for Share {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        if let Value::Text(text) = &node.value
            && let Some(share) = percent(text)
        {
            return Some(Share(share));
        }
        let message = format!("`{}` is a share from 0% to 100%", reading.path());
        reading.error(
            node.place.clone(),
            message,
            "write it with its sign between quotation marks: \"5%\"",
        );
        None
    }
}

schema!(Share, "Share", {
    "description": "A share such as \"5%\" or \"2.5%\".",
    "type": "string",
    "pattern": "^ *[0-9]+(\\.[0-9]{0,2})? *% *$"
});

/// Boards to spare: a number for each length, or a share that may be culled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct SpareBoards(pub Spare);

impl From<SpareBoards> for Spare {
    fn from(spare: SpareBoards) -> Spare {
        spare.0
    }
}

impl Field for SpareBoards {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let Value::Text(text) = &node.value else {
            return Count::<0>::read(node, reading)
                .map(|count| SpareBoards(Spare::Boards(count.0)));
        };
        // Where half of all boards are thrown out, none should be bought.
        let share = percent(text).filter(|share| *share <= Percent(5_000));
        if share.is_none() {
            let message = format!(
                "`{}` is a number of boards, or a share to be culled from 0% to 50%, not \"{text}\"",
                reading.path()
            );
            reading.error(
                node.place.clone(),
                message,
                "write 2 for two of each length, or \"5%\"",
            );
        }
        share.map(|share| SpareBoards(Spare::Culled(share)))
    }
}

impl JsonSchema for SpareBoards {
    fn schema_name() -> Cow<'static, str> {
        "SpareBoards".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let boards = generator.subschema_for::<Count<0>>();
        let share = generator.subschema_for::<Share>();
        json_schema!({ "anyOf": [boards, share] })
    }
}
