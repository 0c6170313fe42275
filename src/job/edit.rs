//! Changes to a job file by path and value, as `--set` asks for them: the same
//! change serves a what-if, which is checked like the file itself, and a file
//! written anew, whose comments and order stay. It knows paths and TOML; what
//! the values mean is left to the reader.

mod path;
mod put;

use std::fmt;

use super::document::Document;
use super::problem::{Findings, Place, Problem, Severity, Source};
use super::reading::Shape;
use super::tree::{self, Node, Value};

use path::{Step, resolve};

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
    fn place(&self, source: usize, span: std::ops::Range<usize>) -> Place {
        Place { source, span }
    }

    /// Where the whole path stands.
    fn path_place(&self, source: usize) -> Place {
        self.place(source, 0..self.path.len())
    }
}

impl super::Job {
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

/// Makes the places of an edited file's tree point at the file as it was
/// typed, and those of changed values at the options that changed them.
pub(super) fn point_back(edited: &mut Node, typed: &Node, made: &[Made]) {
    as_typed(edited, Some(typed));
    for change in made {
        changed(edited, &change.steps, change);
    }
}

/// Makes what one change put there point at its option.
fn changed(node: &mut Node, steps: &[Step], change: &Made) {
    if node.place.source == NEW {
        node.place = change.place.clone();
    }
    let Some((step, rest)) = steps.split_first() else {
        if let Some(value) = &change.value {
            *node = value.clone();
        }
        return;
    };
    match (&mut node.value, step) {
        (Value::Table(entries), Step::Name(name)) => {
            let entry = entries.iter_mut().find(|(key, _)| key.name == *name);
            if let Some((key, node)) = entry {
                if key.place.source == NEW {
                    key.place = change.place.clone();
                }
                changed(node, rest, change);
            }
        }
        (Value::List(nodes), Step::Place(number)) => {
            if let Some(node) = nodes.get_mut(*number) {
                changed(node, rest, change);
            }
        }
        _ => {}
    }
}

/// The source of what stands in no text yet.
const NEW: usize = usize::MAX;

/// Makes a tree point where the same things stand in another one.
fn as_typed(edited: &mut Node, typed: Option<&Node>) {
    let nowhere = Place {
        source: NEW,
        span: 0..0,
    };
    edited.place = typed.map_or(nowhere.clone(), |typed| typed.place.clone());
    let known = typed.map(|typed| &typed.value);
    match (&mut edited.value, known) {
        (Value::Table(entries), known) => {
            for (key, node) in entries {
                let same = match known {
                    Some(Value::Table(known)) => known.iter().find(|(old, _)| old.name == key.name),
                    _ => None,
                };
                key.place = same.map_or(nowhere.clone(), |(old, _)| old.place.clone());
                as_typed(node, same.map(|(_, node)| node));
            }
        }
        (Value::List(nodes), known) => {
            for (number, node) in nodes.iter_mut().enumerate() {
                let same = match known {
                    Some(Value::List(known)) => known.get(number),
                    _ => None,
                };
                as_typed(node, same);
            }
        }
        _ => {}
    }
}
