//! The kinds of value a field may hold, how each is read from what was typed,
//! and what the schema says of it. Limits that hold for a value by itself are
//! here; how values go together is left to [`super::check`].

use std::borrow::Cow;
use std::ops::Range;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::model::{FastenerKind, Finish, Percent, Spare};
use super::problem::Place;
use super::reading::{Entry, Field, Member, Reading, Shape, nearest, tables};
use super::tree::{Node, Value};
use crate::length::{Length, Unit};
use crate::money::{self, Money, ParseMoneyError};

/// No length in a job is longer, up or down.
const LONGEST: Length = Length::from_feet(1_000);
/// No count is higher.
const MOST: u32 = 1_000_000;

/// Gives a kind of value its schema: a name, then the schema itself.
macro_rules! schema {
    ($kind:ty, $name:literal, $($schema:tt)+) => {
        impl JsonSchema for $kind {
            fn schema_name() -> Cow<'static, str> {
                $name.into()
            }
            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!($($schema)+)
            }
        }
    };
}

/// Reads a length within limits; says why if it is none.
fn length(node: &Node, reading: &mut Reading) -> Option<Length> {
    let path = reading.path();
    let (text, inside) = match &node.value {
        Value::Text(text) => (text.as_str(), true),
        Value::Integer(text) | Value::Decimal(text) => (text.as_str(), false),
        _ => {
            reading.error(
                node.place.clone(),
                format!("`{path}` is a length, not {}", node.kind()),
                "write it as on a tape: \"13ft 2-1/2in\", \"158-1/2in\", \"4013mm\"",
            );
            return None;
        }
    };
    match Length::parse(text, Some(reading.unit)) {
        Ok(length) if length.abs() > LONGEST => {
            reading.error(
                node.place.clone(),
                format!(
                    "`{path}` is {}; no length in a job is over 1000 ft",
                    length.show(reading.unit)
                ),
                "give its unit if another is meant; a larger deck is planned in parts",
            );
            None
        }
        Ok(length) => Some(length),
        Err(error) => {
            let place = if inside {
                part(&node.place, text, error.span())
            } else {
                node.place.clone()
            };
            reading.error(
                place,
                format!("`{path}`: {}", error.message()),
                error.help(),
            );
            None
        }
    }
}

macro_rules! lengths {
    ($( $(#[doc = $doc:literal])* $kind:ident, $name:literal, $rule:expr, $says:literal, $schema:tt; )*) => { $(
        $(#[doc = $doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
        pub struct $kind(pub Length);

        impl From<$kind> for Length {
            fn from(value: $kind) -> Length {
                value.0
            }
        }

        impl Field for $kind {
            const SHAPE: Shape = Shape::Value;

            fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
                let read = length(node, reading)?;
                let rule: fn(Length) -> bool = $rule;
                if rule(read) {
                    return Some($kind(read));
                }
                let message = format!("`{}` is {}", reading.path(), read.show(reading.unit));
                reading.error(node.place.clone(), message, $says);
                None
            }
        }

        schema!($kind, $name, $schema);
    )* };
}

lengths! {
    /// Any length.
    Signed, "Length", |_| true, "", {
        "description": "A length: a text such as \"13ft 2-1/2in\", \"-1/4in\" or \"4013mm\", or a number in the job's unit.",
        "type": ["string", "number"]
    };
    /// A length that may be nothing, but not less.
    NotNegative, "LengthFromZero", |length| !length.is_negative(), "it may be 0, but not less", {
        "description": "A length, not below 0: a text such as \"1/8in\" or \"3mm\", or a number in the job's unit.",
        "type": ["string", "number"],
        "minimum": 0
    };
    /// A length above nothing.
    Positive, "LengthAboveZero", |length| length > Length::ZERO, "it has to be more than 0", {
        "description": "A length above 0: a text such as \"13ft 2-1/2in\" or \"4013mm\", or a number in the job's unit.",
        "type": ["string", "number"],
        "exclusiveMinimum": 0
    };
}

/// The place of a part of a text, as far as the text stands there as it reads:
/// between quotation marks in a file, without them in an option.
fn part(place: &Place, text: &str, span: Range<usize>) -> Place {
    let quote = match place.span.len().checked_sub(text.len()) {
        Some(0) => 0,
        Some(2) => 1,
        _ => return place.clone(),
    };
    if span.is_empty() {
        return place.clone();
    }
    let start = place.span.start + quote;
    Place {
        source: place.source,
        span: start + span.start..start + span.end,
    }
}

tables! {
    /// A length that may be moved between two others.
    RangeTable<L> {
        required {
            /// The length used unless something asks for another.
            set: L,
        }
        optional {
            /// The least it may be; `set` when left out.
            least: L,
            /// The most it may be; `set` when left out.
            most: L,
        }
    }
}

/// A length, or a length that may be moved.
#[derive(Debug, Clone, PartialEq)]
pub enum Ranged<L> {
    /// Just a length.
    Fixed(L),
    /// A length and its range.
    Free(RangeTable<L>),
}

impl<L: Field + Default> Field for Ranged<L> {
    const SHAPE: Shape = Shape::Range;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        match node.value {
            Value::Table(_) => RangeTable::read(node, reading).map(Ranged::Free),
            _ => L::read(node, reading).map(Ranged::Fixed),
        }
    }
}

impl<L: JsonSchema> JsonSchema for Ranged<L> {
    fn schema_name() -> Cow<'static, str> {
        format!("{}OrRange", L::schema_name()).into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let fixed = generator.subschema_for::<L>();
        let free = generator.subschema_for::<RangeTable<L>>();
        json_schema!({ "anyOf": [fixed, free] })
    }
}

/// A text of at least one visible character.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Words(pub String);

impl Words {
    /// Whether another text names the same thing.
    pub fn is_same(&self, other: &str) -> bool {
        self.0.to_lowercase() == other.trim().to_lowercase()
    }
}

impl From<Words> for String {
    fn from(words: Words) -> String {
        words.0
    }
}

impl Field for Words {
    const SHAPE: Shape = Shape::Text;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let message = match &node.value {
            Value::Text(text) if text.chars().any(char::is_control) => {
                "has a line break or a control character in it".to_owned()
            }
            Value::Text(text) if text.trim().is_empty() => "is empty".to_owned(),
            Value::Text(text) => return Some(Words(text.trim().to_owned())),
            _ => format!("is a text, not {}", node.kind()),
        };
        let message = format!("`{}` {message}", reading.path());
        reading.error(
            node.place.clone(),
            message,
            "write a few words between quotation marks",
        );
        None
    }
}

schema!(Words, "Text", { "type": "string", "minLength": 1 });

/// True or false.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Flag(pub bool);

impl From<Flag> for bool {
    fn from(flag: Flag) -> bool {
        flag.0
    }
}

impl Field for Flag {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        if let Value::Flag(flag) = node.value {
            return Some(Flag(flag));
        }
        let message = format!("`{}` is true or false, not {}", reading.path(), node.kind());
        reading.error(
            node.place.clone(),
            message,
            "write true or false, without quotation marks",
        );
        None
    }
}

schema!(Flag, "Flag", { "type": "boolean" });

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

/// Reads a number or a text as money by one of money's own readers.
fn money<T>(
    node: &Node,
    reading: &mut Reading,
    read: fn(&str) -> Result<T, ParseMoneyError>,
) -> Option<T> {
    let path = reading.path();
    let (Value::Text(text) | Value::Integer(text) | Value::Decimal(text)) = &node.value else {
        reading.error(
            node.place.clone(),
            format!("`{path}` is an amount of money, not {}", node.kind()),
            "write it with a point: 41.50",
        );
        return None;
    };
    match read(text) {
        Ok(amount) => Some(amount),
        Err(error) => {
            let message = format!("`{path}`: {}", error.message());
            reading.error(node.place.clone(), message, error.help());
            None
        }
    }
}

/// An amount of money, not below nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Price(pub Money);

impl From<Price> for Money {
    fn from(price: Price) -> Money {
        price.0
    }
}

impl Field for Price {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        money(node, reading, Money::parse).map(Price)
    }
}

schema!(Price, "Price", {
    "description": "An amount of money with up to two decimals, as a number or a text; not below 0.",
    "type": ["number", "string"],
    "minimum": 0
});

macro_rules! rates {
    ($( $(#[doc = $doc:literal])* $kind:ident, $name:literal, $read:path; )*) => { $(
        $(#[doc = $doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub struct $kind(pub money::Rate);

        impl Field for $kind {
            const SHAPE: Shape = Shape::Value;

            fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
                money(node, reading, $read).map($kind)
            }
        }

        schema!($kind, $name, {
            "description": "An amount of money with up to four decimals, as a number or a text; not below 0.",
            "type": ["number", "string"],
            "minimum": 0
        });
    )* };
}

rates! {
    /// A price for each foot of a board.
    PerFoot, "PricePerFoot", money::Rate::per_foot;
    /// A price for each metre of a board.
    PerMetre, "PricePerMetre", money::Rate::per_metre;
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
        let share = percent(text);
        if share.is_none() {
            let message = format!(
                "`{}` is a number of boards, or a share from 0% to 100%, not \"{text}\"",
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

/// Lengths in a list.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Lengths(pub Vec<(Length, Place)>);

impl Field for Lengths {
    const SHAPE: Shape = Shape::Value;

    fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
        let Value::List(nodes) = &node.value else {
            let message = format!("`{}` is a list, not {}", reading.path(), node.kind());
            reading.error(
                node.place.clone(),
                message,
                "write it as [\"3/4in\", \"16in\", \"32in\"]",
            );
            return None;
        };
        let read = reading.each::<Signed>(nodes)?;
        Some(Lengths(
            read.into_iter()
                .map(|(length, place)| (length.0, place))
                .collect(),
        ))
    }
}

impl JsonSchema for Lengths {
    fn schema_name() -> Cow<'static, str> {
        "Lengths".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let length = generator.subschema_for::<Signed>();
        json_schema!({ "type": "array", "items": length })
    }
}

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
        let path = reading.path();
        reading.error(
            node.place.clone(),
            format!("`{path}` may be given several times, each under a heading of its own"),
            format!("write the heading with double brackets: `[[{path}]]`"),
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

/// A choice by word: what each word stands for, the first of each meaning being
/// the one that is shown.
macro_rules! choices {
    ($( $(#[doc = $doc:literal])* $kind:ident, $name:literal, $of:ty {
        $( $value:expr => $first:literal $(| $other:literal)* ),+ $(,)?
    } )*) => { $(
        $(#[doc = $doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub struct $kind(pub $of);

        impl From<$kind> for $of {
            fn from(choice: $kind) -> $of {
                choice.0
            }
        }

        impl Field for $kind {
            const SHAPE: Shape = Shape::Value;

            fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
                let words = [$( ($first, $value), $( ($other, $value), )* )+];
                choice(node, reading, &words, &[$($first),+]).map($kind)
            }
        }

        schema!($kind, $name, { "enum": [$( $first $(, $other)* ),+] });
    )* };
}

/// Reads one of several words, whatever its capitals and dashes.
fn choice<T: Copy>(
    node: &Node,
    reading: &mut Reading,
    words: &[(&str, T)],
    shown: &[&str],
) -> Option<T> {
    let path = reading.path();
    let shown = shown.join("\", \"");
    let Value::Text(text) = &node.value else {
        reading.error(
            node.place.clone(),
            format!("`{path}` is a word, not {}", node.kind()),
            format!("it is one of \"{shown}\""),
        );
        return None;
    };
    let typed = text.trim().to_lowercase().replace(['_', ' '], "-");
    if let Some((_, value)) = words.iter().find(|(word, _)| *word == typed) {
        return Some(*value);
    }
    let help = match nearest(&typed, words.iter().map(|(word, _)| *word)) {
        Some(near) => format!("\"{near}\" may be meant; it is one of \"{shown}\""),
        None => format!("it is one of \"{shown}\""),
    };
    reading.error(
        node.place.clone(),
        format!("`{path}` cannot be \"{text}\""),
        help,
    );
    None
}

choices! {
    /// The unit of bare numbers, and of what is printed.
    UnitWord, "Unit", Unit {
        Unit::Inch => "in" | "inch" | "inches",
        Unit::Millimetre => "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters",
    }
    /// Whether the frame stands already.
    FrameWord, "Frame", bool { false => "planned", true => "built" }
    /// How a fastener holds.
    KindWord, "FastenerKind", FastenerKind {
        FastenerKind::Clip => "clip" | "hidden",
        FastenerKind::Face => "face" | "screw" | "nail",
    }
    /// How a deck that does not come out whole is finished.
    FinishWord, "Finish", Finish {
        Finish::RipLast => "rip-last",
        Finish::RipFirst => "rip-first",
        Finish::Balanced => "balanced",
        Finish::Shared => "shared",
        Finish::LeaveOut => "leave-out",
    }
}
