//! The file as values with their places: every text, number, list and table,
//! exactly as typed. It knows TOML and nothing of decks, so that what follows
//! can look at all of a file whatever is wrong in it.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::problem::{Place, Problem};

/// A value and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    /// Where it stands; for a table with a heading, the heading.
    pub place: Place,
    /// What it is.
    pub value: Value,
}

/// A value as typed.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Text, its quotation marks and escapes resolved.
    Text(String),
    /// A whole number in decimal digits.
    Integer(String),
    /// A number with a point or an exponent, as typed.
    Decimal(String),
    /// True or false.
    Flag(bool),
    /// A date or a time.
    Moment(String),
    /// A list, or tables under repeated headings.
    List(Vec<Node>),
    /// A table.
    Table(Vec<(Key, Node)>),
}

/// A name and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Key {
    /// The name.
    pub name: String,
    /// Where it stands.
    pub place: Place,
}

impl Node {
    /// What kind of value it is, in a word or two for messages.
    pub fn kind(&self) -> &'static str {
        match self.value {
            Value::Text(_) => "a text",
            Value::Integer(_) | Value::Decimal(_) => "a number",
            Value::Flag(_) => "true or false",
            Value::Moment(_) => "a date",
            Value::List(_) => "a list",
            Value::Table(_) => "a table",
        }
    }
}

/// A file's tree, with whatever could be made of it.
pub struct Parsed {
    /// The whole file as a table.
    pub root: Node,
    /// What is not TOML.
    pub problems: Vec<Problem>,
    /// Whether names and tables can be trusted; false when a heading or a name
    /// is broken, so that what follows it may have ended up elsewhere.
    pub sound: bool,
}

/// What a line of a file is, for whoever has not seen one.
const LINES: &str = "every line is a heading such as `[deck]`, or a name, `=` and a value: \
                     `along = \"22ft 4in\"`";
/// What the value of an option is.
const OPTION: &str = "write it as in a job file, and for a shell the whole of it between single \
                      quotation marks: `--set 'joists.positions=[16, 32]'`";

/// Reads a whole file.
pub fn parse(text: &str, source: usize) -> Parsed {
    let (table, errors) = DeTable::parse_recoverable(text);
    let root = Spanned::new(0..0, DeValue::Table(table.into_inner()));
    parsed(text, 0, source, root, errors, LINES)
}

/// Reads a single value that starts `offset` bytes into its source.
pub fn parse_value(text: &str, offset: usize, source: usize) -> Parsed {
    let (value, errors) = DeValue::parse_recoverable(text);
    parsed(text, offset, source, value, errors, OPTION)
}

fn parsed(
    text: &str,
    offset: usize,
    source: usize,
    value: Spanned<DeValue<'_>>,
    errors: Vec<toml::de::Error>,
    usual: &str,
) -> Parsed {
    let reader = TreeReader { offset, source };
    let root = reader.node(value);
    let mut values = Vec::new();
    collect(&root, None, &mut values);
    let mut sound = true;
    let problems = errors
        .iter()
        .map(|error| {
            let span = error.span().unwrap_or(0..0);
            let place = reader.place(span.clone());
            let value = values.iter().find(|(node, _)| node.place == place);
            sound &= value.is_some();
            let written = text.get(span).unwrap_or_default();
            let name = value.and_then(|(_, name)| *name);
            syntax_problem(error.message(), place, written, name, usual)
        })
        .collect();
    Parsed {
        root,
        problems,
        sound,
    }
}

/// Every value below a node, with the name it was given under.
fn collect<'n>(
    node: &'n Node,
    name: Option<&'n str>,
    found: &mut Vec<(&'n Node, Option<&'n str>)>,
) {
    match &node.value {
        Value::List(nodes) => nodes.iter().for_each(|node| collect(node, None, found)),
        Value::Table(entries) => entries
            .iter()
            .for_each(|(key, node)| collect(node, Some(&key.name), found)),
        _ => found.push((node, name)),
    }
}

struct TreeReader {
    offset: usize,
    source: usize,
}

impl TreeReader {
    fn place(&self, span: Range<usize>) -> Place {
        Place {
            source: self.source,
            span: span.start + self.offset..span.end + self.offset,
        }
    }

    fn node(&self, spanned: Spanned<DeValue<'_>>) -> Node {
        let place = self.place(spanned.span());
        let value = match spanned.into_inner() {
            DeValue::String(text) => Value::Text(text.into_owned()),
            DeValue::Integer(number) => {
                match i128::from_str_radix(number.as_str(), number.radix()) {
                    Ok(whole) => Value::Integer(whole.to_string()),
                    Err(_) => Value::Integer(number.to_string()),
                }
            }
            DeValue::Float(number) => Value::Decimal(number.as_str().to_owned()),
            DeValue::Boolean(flag) => Value::Flag(flag),
            DeValue::Datetime(moment) => Value::Moment(moment.to_string()),
            DeValue::Array(list) => {
                Value::List(list.into_iter().map(|value| self.node(value)).collect())
            }
            DeValue::Table(table) => Value::Table(
                table
                    .into_iter()
                    .map(|(key, value)| {
                        let key = Key {
                            place: self.place(key.span()),
                            name: key.into_inner().into_owned(),
                        };
                        (key, self.node(value))
                    })
                    .collect(),
            ),
        };
        Node { place, value }
    }
}

/// What is not TOML, said so that a person who has never heard of TOML can mend it.
fn syntax_problem(
    found: &str,
    place: Place,
    written: &str,
    name: Option<&str>,
    usual: &str,
) -> Problem {
    let starts_as_value = written.starts_with(|c: char| c.is_alphanumeric() || "-+.".contains(c));
    let (message, help) = match name {
        Some(name) if starts_as_value && !written.contains('\n') => (
            format!("`{written}` stands without quotation marks"),
            format!("write `{name} = {}`", quoted(written)),
        ),
        _ => {
            let help = if found.starts_with("duplicate key") {
                "a name is given once in a table; take one of them out"
            } else if ["basic string", "literal string", "unexpected key or value"]
                .iter()
                .any(|what| found.contains(what))
            {
                "a text begins and ends with the same quotation mark on one line; one with inch \
                 marks in it stands between single ones: '13 ft 2-1/2\"'"
            } else if found.contains("table") {
                "a heading stands alone on its line: `[deck]`, or `[[stock]]` for each of several"
            } else {
                usual
            };
            (format!("this cannot be read: {found}"), help.to_owned())
        }
    };
    Problem::error(Some(place), message, help)
}

/// A text between quotation marks that do not occur in it.
fn quoted(text: &str) -> String {
    if text.contains('"') && !text.contains('\'') {
        format!("'{text}'")
    } else {
        format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
    }
}
