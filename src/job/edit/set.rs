//! One change as it is typed, and the path that leads to a fastener.

use std::fmt;

use crate::job::model::Job;
use crate::job::problem::Place;

/// A field to be changed and what to: `deck.across=13ft 4in`.
///
/// One of several tables is named or counted from 1: `fastener.slim clip.gap`,
/// `stock.2.price`; one past the last adds one. A plain value for a length that
/// has a range moves it within the range; an empty value takes the field out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Set {
    path: String,
    value: String,
}

/// A text that names no field and value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ParseSetError(String);

impl fmt::Display for ParseSetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "`{}` is no PATH=VALUE; write it like deck.across=\"13ft 4in\"",
            self.0
        )
    }
}

impl std::error::Error for ParseSetError {}

impl Set {
    /// A change of the field at a path.
    pub fn new(path: impl Into<String>, value: impl Into<String>) -> Set {
        Set {
            path: path.into(),
            value: value.into(),
        }
    }

    /// Reads `PATH=VALUE`. A name with an `=` in it stands between quotation
    /// marks: `fastener."a = b".gap=1/4in`.
    ///
    /// # Errors
    /// When there is no `=`, or nothing before it.
    pub fn parse(text: &str) -> Result<Set, ParseSetError> {
        let quoted = text.split_once(".\"").and_then(|(list, rest)| {
            let name = rest.split_once('"').map(|(name, _)| name.len())?;
            (!list.contains('=')).then_some(list.len() + 2 + name)
        });
        let from = quoted.unwrap_or(0);
        match text[from..].split_once('=') {
            Some((path, value)) if !text[..from + path.len()].trim().is_empty() => {
                Ok(Set::new(&text[..from + path.len()], value))
            }
            _ => Err(ParseSetError(text.to_owned())),
        }
    }

    /// The field's path.
    pub fn path(&self) -> &str {
        &self.path
    }

    /// The new value, as typed.
    pub fn value(&self) -> &str {
        &self.value
    }

    /// The change as it is typed.
    pub fn text(&self) -> String {
        format!("{}={}", self.path, self.value)
    }

    /// Where a part of the path stands in [`Set::text`].
    pub(super) fn place(&self, source: usize, span: std::ops::Range<usize>) -> Place {
        Place { source, span }
    }

    /// Where the whole path stands.
    pub(super) fn path_place(&self, source: usize) -> Place {
        self.place(source, 0..self.path.len())
    }
}

impl Job {
    /// The path of a fastener's field, as `--set` takes it: by the fastener's
    /// name where that leads there, else by its place.
    ///
    /// # Panics
    /// When there is no such fastener.
    pub fn fastener_path(&self, fastener: usize, field: &str) -> String {
        let name = self.fasteners[fastener].name.as_str();
        if name.is_empty() || name.contains(['=', '"', '\'']) {
            format!("fastener.{}.{field}", fastener + 1)
        } else {
            format!("fastener.{name}.{field}")
        }
    }
}
