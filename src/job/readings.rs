//! What a tape says on the site: how far the courses reach after one of them.
//! It is taken as it was read; what it means for the rest of the deck is left
//! to [`crate::measure`].

use super::problem::Place;
use super::tree::{self, Node, Value};
use crate::length::Length;

/// A reading of the tape after a course.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TapeReading {
    /// The course it was taken after, counted from 1 at the first edge.
    pub after: u32,
    /// What the tape said.
    pub tape: Tape,
    /// The gap that was set since the reading before, or from the start; the
    /// fastener's own when absent.
    pub gap: Option<Length>,
}

/// What the tape said, from the starting edge to a course's far edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tape {
    /// Read once.
    Once(Length),
    /// Read at both ends of the courses.
    Ends {
        /// At the left end.
        left: Length,
        /// At the right end.
        right: Length,
    },
    /// Read from the course's far edge on to the frame's last edge.
    ToFar {
        /// What the tape said.
        left_over: Length,
        /// What that makes of the place from the starting edge, in a frame as
        /// large as the job says.
        at: Length,
    },
}

impl Tape {
    /// What was read at the left and at the right end, where both were.
    pub fn ends(self) -> Option<[Length; 2]> {
        match self {
            Tape::Once(_) | Tape::ToFar { .. } => None,
            Tape::Ends { left, right } => Some([left, right]),
        }
    }

    /// What was read, halfway between the ends where both were.
    pub fn middle(self) -> Length {
        match self {
            Tape::Once(at) | Tape::ToFar { at, .. } => at,
            Tape::Ends { left, right } => (left + right).half_down(),
        }
    }
}

/// Where a reading of a job file's text stands: the value of one of its fields,
/// `at`, `left` or `right`.
pub fn place(text: &str, after: u32, field: &str) -> Option<Place> {
    let file = tree::parse(text, 0);
    let entry = |node: &Node, names: &[&str]| match &node.value {
        Value::Table(entries) => entries
            .iter()
            .find(|(key, _)| names.contains(&key.name.as_str()))
            .map(|(_, node)| node.clone()),
        _ => None,
    };
    let Value::List(tables) = entry(&file.root, &["reading", "readings"])?.value else {
        return None;
    };
    let course = |table: &&Node| match entry(table, &["after"]).map(|node| node.value) {
        Some(Value::Integer(text)) => text.parse() == Ok(after),
        _ => false,
    };
    let table = tables.iter().find(course)?;
    entry(table, &[field]).map(|node| node.place)
}
