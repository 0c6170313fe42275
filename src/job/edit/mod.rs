//! Changes to a job file by path and value, as `--set` asks for them: the same
//! change serves a what-if, which is checked like the file itself, and a file
//! written anew, whose comments and order stay. It knows paths and TOML; what
//! the values mean is left to the reader.

mod path;
mod places;
mod put;
mod set;
mod sweep;

use super::document::Document;
use super::problem::{Findings, Place, Problem, Severity, Source};
use super::reading::Shape;
use super::tree::{self, Node, Value};

use path::{Step, resolve};
pub(super) use places::point_back;
pub use set::{ParseSetError, Set};
pub use sweep::{ParseSweepError, Sweep, SweepStep, SweptValue};

/// A job file's text with changes made to it; comments, order and everything
/// else stay as they are.
///
/// ```
/// use lastcourse::job::{Set, edit};
///
/// let text = "[deck]  # behind the house\nalong = \"22ft\" # measured\nacross = \"13ft\"\n";
/// let set = Set::new("deck.along", "22ft 4in");
/// assert_eq!(
///     edit::apply(text, &[set])?,
///     "[deck]  # behind the house\nalong = \"22ft 4in\" # measured\nacross = \"13ft\"\n",
/// );
/// # Ok::<(), lastcourse::job::Findings>(())
/// ```
///
/// # Errors
/// When the text is no TOML, or a path leads nowhere. Values are not checked
/// here; reading the new text does that.
pub fn apply(text: &str, sets: &[Set]) -> Result<String, Findings> {
    let refused = |problems: Vec<Problem>| {
        let file = Source {
            name: "job".to_owned(),
            text: text.to_owned(),
        };
        let sources = std::iter::once(file).chain(sources(sets)).collect();
        Findings { sources, problems }
    };
    let file = tree::parse(text, 0);
    if !file.problems.is_empty() {
        return Err(refused(file.problems));
    }
    edited(text, sets)
        .map(|edited| edited.text)
        .map_err(refused)
}

/// The texts that problems in sets point into.
pub(super) fn sources(sets: &[Set]) -> impl Iterator<Item = Source> {
    sets.iter().map(|set| Source {
        name: "--set".to_owned(),
        text: set.text(),
    })
}

/// A file's text with changes made, and what was changed.
pub(super) struct Edited {
    /// The new text.
    pub text: String,
    /// The changes, each in the new text's terms.
    pub made: Vec<Made>,
    /// What somebody should know of the changes.
    pub cautions: Vec<Problem>,
}

/// One change that was made.
pub(super) struct Made {
    steps: Vec<Step>,
    /// The new value, pointing at the option; nothing when the field was taken out.
    value: Option<Node>,
    /// Where the path stands.
    place: Place,
}

/// Makes the changes in order, each in what the ones before it left.
pub(super) fn edited(text: &str, sets: &[Set]) -> Result<Edited, Vec<Problem>> {
    let mut document = match text.parse::<toml_edit::DocumentMut>() {
        Ok(document) => document,
        Err(error) => {
            return Err(vec![problem(
                None,
                format!("this cannot be read: {error}"),
                "",
            )]);
        }
    };
    let mut made = Vec::new();
    let mut problems = Vec::new();
    let mut cautions = Vec::new();
    for (source, set) in (1..).zip(sets) {
        match make(&mut document, set, source) {
            Ok((one, caution)) => {
                made.push(one);
                cautions.extend(caution);
            }
            Err(wrong) => problems.extend(wrong),
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    Ok(Edited {
        text: document.to_string(),
        made,
        cautions,
    })
}

/// Makes one change.
fn make(
    document: &mut toml_edit::DocumentMut,
    set: &Set,
    source: usize,
) -> Result<(Made, Option<Problem>), Vec<Problem>> {
    let place = set.path_place(source);
    let (mut steps, shape) =
        resolve(document.as_table(), Document::MEMBERS, set.path()).map_err(|fault| {
            let place = set.place(source, fault.span);
            vec![problem(Some(place), fault.message, fault.help)]
        })?;
    let value = value(set, shape, source)?;
    let plain = value
        .as_ref()
        .is_some_and(|node| !matches!(node.value, Value::Table(_)));
    if plain && matches!(shape, Shape::Range) && put::is_table(document.as_table(), &steps) {
        steps.push(Step::Name("set".to_owned()));
    }
    let caution = match &value {
        Some(_) => put::without_trial(document.as_table_mut(), &steps).then(|| Problem {
            severity: Severity::Caution,
            ..problem(
                Some(place.clone()),
                "the trial of this fastener is set aside: a gap that is set counts before one that was measured".to_owned(),
                "",
            )
        }),
        None => None,
    };
    put::put(document.as_table_mut(), &steps, value.as_ref()).map_err(|message| {
        vec![problem(
            Some(place.clone()),
            message,
            "mend the file first, or take the option out",
        )]
    })?;
    Ok((
        Made {
            steps,
            value,
            place,
        },
        caution,
    ))
}

/// The new value with its place in the option; nothing when it is empty.
fn value(set: &Set, shape: Shape, source: usize) -> Result<Option<Node>, Vec<Problem>> {
    let typed = set.value().trim();
    if typed.is_empty() {
        return Ok(None);
    }
    let start = set.path().len() + 1 + (set.value().len() - set.value().trim_start().len());
    let place = set.place(source, start..start + typed.len());
    let text = |text: &str| {
        Ok(Some(Node {
            place: place.clone(),
            value: Value::Text(text.to_owned()),
        }))
    };
    if typed.starts_with(['"', '\'', '[', '{']) {
        let parsed = tree::parse_value(typed, start, source);
        if parsed.problems.is_empty() {
            return Ok(Some(parsed.root));
        }
        return if matches!(shape, Shape::Text) {
            text(typed)
        } else {
            Err(parsed.problems)
        };
    }
    if matches!(shape, Shape::Text) {
        return text(typed);
    }
    let parsed = tree::parse_value(typed, start, source);
    match parsed.root.value {
        Value::Integer(_) | Value::Decimal(_) | Value::Flag(_) if parsed.problems.is_empty() => {
            Ok(Some(parsed.root))
        }
        _ => text(typed),
    }
}

fn problem(place: Option<Place>, message: String, help: impl Into<String>) -> Problem {
    Problem {
        severity: Severity::Error,
        place,
        message,
        help: help.into(),
        also: Vec::new(),
    }
}
