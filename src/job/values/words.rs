//! Words: free text, true or false, and the choice of one word among several.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::schema;
use crate::job::BlockingPattern;
use crate::job::base::{Bulk, Step, SupportKind};
use crate::job::codes::{Edition, SpeciesGroup};
use crate::job::fascia::{Corners, RunsPast, Side, Splices};
use crate::job::items::{Group, SoldBy};
use crate::job::model::{FastenerKind, Finish};
use crate::job::movement::{Grain, Species};
use crate::job::reading::{Field, Reading, Shape, nearest};
use crate::job::tree::{Node, Value};
use crate::length::Unit;

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
    /// How the pieces of a row of blocking lie.
    PatternWord, "BlockingPattern", BlockingPattern {
        BlockingPattern::Staggered => "staggered",
        BlockingPattern::InLine => "in-line" | "inline",
    }
    /// A side of the frame.
    SideWord, "Side", Side {
        Side::First => "first",
        Side::Last => "last",
        Side::Left => "left",
        Side::Right => "right",
    }
    /// How two fascias meet at a corner.
    CornersWord, "Corners", Corners {
        Corners::Mitred => "mitred" | "mitered",
        Corners::Butted => "butted",
    }
    /// Whose boards run past the ends of the others.
    RunsPastWord, "RunsPast", RunsPast {
        RunsPast::Along => "along",
        RunsPast::Across => "across",
    }
    /// Where a fascia may be spliced.
    SplicesWord, "Splices", Splices {
        Splices::OnJoists => "on-joists",
        Splices::Anywhere => "anywhere",
    }
    /// What kind of thing carries a deck.
    SupportWord, "SupportKind", SupportKind {
        SupportKind::Block => "block" | "blocks",
        SupportKind::Footing => "footing" | "footings",
    }
    /// What stone is sold by.
    BulkWord, "Bulk", Bulk {
        Bulk::CubicYard => "cu-yd",
        Bulk::CubicFoot => "cu-ft",
        Bulk::CubicMetre => "m3" | "m³",
        Bulk::Bag => "bag" | "bags",
    }
    /// The least part of a unit that stone is sold in.
    StepWord, "Step", Step {
        Step::Whole => "whole",
        Step::Half => "half",
        Step::Quarter => "quarter",
        Step::Tenth => "tenth",
    }
    /// How a deck that does not come out whole is finished.
    FinishWord, "Finish", Finish {
        Finish::RipLast => "rip-last",
        Finish::RipFirst => "rip-first",
        Finish::Balanced => "balanced",
        Finish::Shared => "shared",
        Finish::LeaveOut => "leave-out",
    }
    /// How a board lies in its log.
    GrainWord, "Grain", Grain {
        Grain::Flat => "flat" | "flat-sawn" | "plain-sawn",
        Grain::Quarter => "quarter" | "quarter-sawn" | "edge-grain" | "vertical-grain",
    }
    /// A wood whose movement is known.
    SpeciesWord, "Species", Species {
        Species::DouglasFirCoast => "douglas-fir-coast" | "douglas-fir",
        Species::DouglasFirInteriorNorth => "douglas-fir-interior-north",
        Species::DouglasFirInteriorWest => "douglas-fir-interior-west",
        Species::LoblollyPine => "loblolly-pine",
        Species::LongleafPine => "longleaf-pine",
        Species::ShortleafPine => "shortleaf-pine",
        Species::SlashPine => "slash-pine",
        Species::PonderosaPine => "ponderosa-pine",
        Species::LodgepolePine => "lodgepole-pine",
        Species::WesternRedcedar => "western-redcedar" | "western-red-cedar",
        Species::NorthernWhiteCedar => "northern-white-cedar",
        Species::YellowCedar => "yellow-cedar",
        Species::RedwoodOldGrowth => "redwood-old-growth",
        Species::RedwoodSecondGrowth => "redwood-second-growth",
        Species::WhiteFir => "white-fir",
        Species::WesternHemlock => "western-hemlock",
        Species::WhiteOak => "white-oak",
        Species::RedOak => "red-oak",
        Species::BlackLocust => "black-locust",
        Species::Angelique => "angelique",
        Species::Azobe => "azobe",
        Species::Ipe => "ipe",
        Species::SoftwoodLumber => "softwood-lumber",
    }
    /// An edition whose tables are known.
    EditionWord, "Edition", Edition {
        Edition::Irc2015 => "IRC 2015" | "irc-2015",
        Edition::Irc2018 => "IRC 2018" | "irc-2018",
        Edition::Irc2021 => "IRC 2021" | "irc-2021",
        Edition::Dca6 => "DCA 6" | "dca-6" | "dca6",
    }
    /// A wood, by the group its joists' table has it in.
    SpeciesGroupWord, "SpeciesGroup", SpeciesGroup {
        SpeciesGroup::SouthernPine => "southern-pine",
        SpeciesGroup::DouglasFirLarch => "douglas-fir-larch" | "hem-fir" | "spruce-pine-fir",
        SpeciesGroup::Redwood => "redwood" | "western-cedar" | "western-cedars" | "ponderosa-pine" | "red-pine",
    }
    /// The group of the order that goods are listed in.
    GroupWord, "Group", Group {
        Group::Boards => "boards",
        Group::Fasteners => "fasteners",
        Group::Frame => "frame",
        Group::Base => "base",
        Group::Stairs => "stairs",
        Group::Fascia => "fascia",
        Group::Guard => "guard" | "guards",
        Group::Other => "other",
    }
    /// What goods are sold by.
    SoldByWord, "SoldBy", SoldBy {
        SoldBy::new("piece", "pieces") => "piece" | "pieces",
        SoldBy::new("pair", "pairs") => "pair" | "pairs",
        SoldBy::new("set", "sets") => "set" | "sets",
        SoldBy::new("pack", "packs") => "pack" | "packs",
        SoldBy::new("box", "boxes") => "box" | "boxes",
        SoldBy::new("bag", "bags") => "bag" | "bags",
        SoldBy::new("bucket", "buckets") => "bucket" | "buckets",
        SoldBy::new("can", "cans") => "can" | "cans",
        SoldBy::new("roll", "rolls") => "roll" | "rolls",
        SoldBy::new("sheet", "sheets") => "sheet" | "sheets",
        SoldBy::new("stick", "sticks") => "stick" | "sticks",
        SoldBy::new("load", "loads") => "load" | "loads",
        SoldBy::new("foot", "feet") => "foot" | "feet" | "ft",
        SoldBy::new("metre", "metres") => "metre" | "metres" | "meter" | "m",
        SoldBy::new("sq ft", "sq ft") => "sq-ft",
        SoldBy::new("m²", "m²") => "m²" | "m2",
        SoldBy::new("cu yd", "cu yd") => "cu-yd",
        SoldBy::new("m³", "m³") => "m³" | "m3",
        SoldBy::new("lb", "lb") => "lb",
        SoldBy::new("kg", "kg") => "kg",
        SoldBy::new("ton", "tons") => "ton" | "tons",
        SoldBy::new("tonne", "tonnes") => "tonne" | "tonnes",
        SoldBy::new("hour", "hours") => "hour" | "hours",
        SoldBy::new("day", "days") => "day" | "days",
    }
}
