//! What is wrong, or doubtful, in what a person wrote: the message, the way
//! out, and the place. It knows texts and places in them; how a problem is
//! drawn is left to [`super::message`], and which problems there are to the
//! reader and its checks.

use std::ops::Range;

/// How bad a problem is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The job is refused.
    Error,
    /// The job is accepted, but somebody should look at this.
    Caution,
}

/// A stretch of one of the texts that a job was read from.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Place {
    /// The text's place in [`Findings::sources`]: 0 is the file, then the sets in order.
    pub source: usize,
    /// The stretch, in bytes.
    pub span: Range<usize>,
}

/// One problem with its way out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// How bad it is.
    pub severity: Severity,
    /// Where it is, unless it lies in what is not written anywhere.
    pub place: Option<Place>,
    /// What is wrong: the value and the rule it breaks.
    pub message: String,
    /// The next step.
    pub help: String,
    /// Other places that belong to it, each with a word or two.
    pub also: Vec<(Place, String)>,
}

impl Problem {
    /// An error at a place, or at none.
    pub(super) fn error(
        place: Option<Place>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Problem {
        Problem {
            severity: Severity::Error,
            place,
            message: message.into(),
            help: help.into(),
            also: Vec::new(),
        }
    }

    /// Adds another place that belongs to it, with a word or two on why.
    pub(super) fn also(&mut self, place: Option<Place>, word: &str) {
        self.also
            .extend(place.map(|place| (place, word.to_owned())));
    }
}

/// A text that a job was read from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// What it is called in messages: a file's name, or `--set`.
    pub name: String,
    /// The text itself.
    pub text: String,
}

/// Everything that was found in a job, in the order of the texts.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Findings {
    /// The texts the places refer to.
    pub sources: Vec<Source>,
    /// The problems.
    pub problems: Vec<Problem>,
}

impl Findings {
    /// One error about a text that could not be read at all.
    pub fn unread(name: &str, message: impl Into<String>, help: impl Into<String>) -> Findings {
        let source = Source {
            name: name.to_owned(),
            text: String::new(),
        };
        Findings {
            sources: vec![source],
            ..Findings::unplaced(message, help)
        }
    }

    /// One error that lies in no text.
    pub fn unplaced(message: impl Into<String>, help: impl Into<String>) -> Findings {
        Findings {
            sources: Vec::new(),
            problems: vec![Problem::error(None, message, help)],
        }
    }

    /// Whether any of them is an error.
    pub fn has_errors(&self) -> bool {
        self.problems
            .iter()
            .any(|problem| problem.severity == Severity::Error)
    }

    /// Line and column of a place's start, both counted from 1, the column in
    /// characters; nothing for a place outside the texts.
    pub fn line_and_column(&self, place: &Place) -> Option<(usize, usize)> {
        let text = &self.sources.get(place.source)?.text;
        let before = text.get(..place.span.start)?;
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        let line = before.matches('\n').count() + 1;
        Some((line, before[line_start..].chars().count() + 1))
    }
}

impl std::fmt::Display for Findings {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&super::message::plain(self))
    }
}

impl std::error::Error for Findings {}
