//! What a field is: its names, its shape, and whether and how it was given.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator};

use super::Reading;
use crate::job::problem::Place;
use crate::job::tree::Node;

/// What a field holds, for finding one's way by a path and for messages.
#[derive(Debug, Clone, Copy)]
pub enum Shape {
    /// A text that is taken as it is.
    Text,
    /// Any other single value, or a list of them.
    Value,
    /// A length.
    Length,
    /// An amount of money with so many decimals at most.
    Money {
        /// Two, or four for a price by the foot or the metre.
        decimals: u8,
    },
    /// A length, or a table of `set`, `least` and `most`.
    Range,
    /// A table with these members.
    Table(&'static [Member]),
    /// Several tables, each with these members and known by its name or place.
    List(&'static [Member]),
}

/// One name of a table.
#[derive(Debug, Clone, Copy)]
pub struct Member {
    /// The name.
    pub name: &'static str,
    /// Other names for the same.
    pub aliases: &'static [&'static str],
    /// What it means.
    pub doc: &'static [&'static str],
    /// What it holds.
    pub shape: Shape,
}

impl Member {
    /// Whether this is what is called so.
    pub fn is_called(&self, name: &str) -> bool {
        self.name == name || self.aliases.contains(&name)
    }
}

/// A value as given in a job file.
pub trait Field: Sized {
    /// What it holds.
    const SHAPE: Shape;

    /// Reads it; when that cannot be, says why and gives nothing.
    fn read(node: &Node, reading: &mut Reading) -> Option<Self>;
}

/// Whether and how a field was given.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Entry<T> {
    /// Not given.
    #[default]
    Absent,
    /// Given, but unreadable, which has been said already.
    Wrong,
    /// Given.
    Given {
        /// What.
        value: T,
        /// Where its value stands.
        place: Place,
        /// Where its name stands.
        key: Place,
    },
}

impl<T> Entry<T> {
    /// The value if it was given and could be read.
    pub fn get(&self) -> Option<&T> {
        match self {
            Entry::Given { value, .. } => Some(value),
            Entry::Absent | Entry::Wrong => None,
        }
    }

    /// Where the value stands.
    pub fn place(&self) -> Option<Place> {
        match self {
            Entry::Given { place, .. } => Some(place.clone()),
            Entry::Absent | Entry::Wrong => None,
        }
    }

    /// Where the name stands.
    pub fn key(&self) -> Option<Place> {
        match self {
            Entry::Given { key, .. } => Some(key.clone()),
            Entry::Absent | Entry::Wrong => None,
        }
    }

    /// Whether nothing was given, not even something unreadable.
    pub fn is_absent(&self) -> bool {
        matches!(self, Entry::Absent)
    }

    /// The value if one was given; nothing at all where what was given is wrong.
    pub fn option(&self) -> Option<Option<&T>> {
        match self {
            Entry::Absent => Some(None),
            Entry::Wrong => None,
            Entry::Given { value, .. } => Some(Some(value)),
        }
    }

    /// The value, or the default where nothing was given; nothing where what
    /// was given is wrong.
    pub fn or<U: From<T>>(&self, default: U) -> Option<U>
    where
        T: Clone,
    {
        match self {
            Entry::Absent => Some(default),
            Entry::Wrong => None,
            Entry::Given { value, .. } => Some(U::from(value.clone())),
        }
    }
}

impl<T: Clone + Default> Entry<T> {
    /// A table's fields, all absent where the table is.
    pub fn fields(&self) -> T {
        self.get().cloned().unwrap_or_default()
    }
}

impl<T: JsonSchema> JsonSchema for Entry<T> {
    fn inline_schema() -> bool {
        T::inline_schema()
    }
    fn schema_name() -> Cow<'static, str> {
        T::schema_name()
    }
    fn schema_id() -> Cow<'static, str> {
        T::schema_id()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        T::json_schema(generator)
    }
}
