//! Where a path leads in a job file: names of tables and fields, and tables of
//! a list by their own name or their place. It only looks; [`super::put`] changes.

use std::cmp::Reverse;
use std::ops::Range;

use toml_edit::{Item, Table, TableLike};

use crate::job::reading::{Member, Shape, names, nearest};

/// One step of a path.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Step {
    /// To a name, as the file has it or would have it.
    Name(String),
    /// To one of several tables, counted from 0.
    Place(usize),
}

/// Why a path leads nowhere.
pub struct Fault {
    /// The part of the path at fault.
    pub span: Range<usize>,
    /// What is wrong with it.
    pub message: String,
    /// What may be meant.
    pub help: String,
}

/// The steps of a path and the shape of what is there.
pub fn resolve(
    file: &Table,
    everything: &'static [Member],
    path: &str,
) -> Result<(Vec<Step>, Shape), Fault> {
    let mut walk = Walk {
        path,
        at: path.len() - path.trim_start().len(),
        end: path.trim_end().len(),
        last: 0..0,
    };
    let mut steps = Vec::new();
    let mut shape = Shape::Table(everything);
    let mut here: Option<&dyn TableLike> = Some(file);
    loop {
        let members = match shape {
            Shape::Table(members) => members,
            // Its members have the same names whatever the length is.
            Shape::Range => RANGE,
            Shape::List(_) | Shape::Text | Shape::Value | Shape::Length | Shape::Money { .. } => {
                return Err(walk.fault("has no fields of its own", "end the path here"));
            }
        };
        let name = walk.name();
        let Some(member) = members.iter().find(|member| member.is_called(name)) else {
            if let Some(help) = walk.in_brackets(name, members) {
                return Err(walk.fault("is no field", help));
            }
            let help = match nearest(name, names(members)) {
                Some(near) => format!("`{near}` may be meant"),
                None => {
                    let known: Vec<_> = members.iter().map(|member| member.name).collect();
                    format!("there are `{}`", known.join("`, `"))
                }
            };
            return Err(walk.fault("is no field", help));
        };
        let key = names(std::slice::from_ref(member))
            .find(|name| here.is_some_and(|table| table.contains_key(name)))
            .unwrap_or(member.name);
        steps.push(Step::Name(key.to_owned()));
        let mut item = here.and_then(|table| table.get(key));
        shape = member.shape;
        if let Shape::List(members) = shape
            && !walk.is_done()
        {
            let number = walk.number(item, member.name)?;
            steps.push(Step::Place(number));
            here = nth(item, number);
            shape = Shape::Table(members);
            if walk.is_done() {
                return Err(walk.fault(
                    "is a whole table",
                    "say which of its fields: `stock.2.price`",
                ));
            }
            continue;
        }
        if walk.is_done() {
            return Ok((steps, shape));
        }
        here = item.take().and_then(Item::as_table_like);
    }
}

/// The names of a length's range.
const RANGE: &[Member] = crate::job::values::RangeTable::<crate::job::values::Signed>::MEMBERS;

/// One of several tables.
pub fn nth(item: Option<&Item>, number: usize) -> Option<&dyn TableLike> {
    match item? {
        Item::ArrayOfTables(tables) => tables.get(number).map(|table| table as &dyn TableLike),
        Item::Value(toml_edit::Value::Array(values)) => values
            .get(number)?
            .as_inline_table()
            .map(|table| table as &dyn TableLike),
        _ => None,
    }
}

/// A path on its way.
struct Walk<'p> {
    path: &'p str,
    /// Where the next part starts.
    at: usize,
    /// Where the path ends.
    end: usize,
    /// The part read last.
    last: Range<usize>,
}

impl<'p> Walk<'p> {
    fn is_done(&self) -> bool {
        self.at >= self.end
    }

    fn rest(&self) -> &'p str {
        self.path.get(self.at..self.end).unwrap_or_default()
    }

    /// Takes so many bytes and the point after them.
    fn take(&mut self, length: usize) -> &'p str {
        self.last = self.at..self.at + length;
        self.at += length + 1;
        &self.path[self.last.clone()]
    }

    /// Takes the next name, up to a point.
    fn name(&mut self) -> &'p str {
        let length = self.rest().find('.').unwrap_or(self.rest().len());
        self.take(length)
    }

    /// What to write where a table of a list is asked for as in some programming
    /// languages, by `name[0]` instead of `name.1`.
    fn in_brackets(&self, name: &str, members: &[Member]) -> Option<String> {
        let (list, which) = name.trim_end().strip_suffix(']')?.split_once('[')?;
        let member = members
            .iter()
            .find(|member| member.is_called(list.trim()))?;
        if !matches!(member.shape, Shape::List(_)) {
            return None;
        }
        let before = &self.path[..self.last.start];
        let rest = self.rest();
        let point = if rest.is_empty() { "" } else { "." };
        let told = |which: &str| format!("`{before}{list}.{which}{point}{rest}`");
        Some(match which.trim().parse::<usize>() {
            Ok(place) => {
                let next = place.saturating_add(1).to_string();
                format!(
                    "tables are counted from 1: {} is the one meant",
                    told(&next)
                )
            }
            Err(_) => format!("write {}", told(which.trim())),
        })
    }

    /// Takes which of several tables is meant: by name, which may have points in
    /// it and stand in quotation marks, or by its place.
    fn number(&mut self, item: Option<&Item>, list: &str) -> Result<usize, Fault> {
        let called: Vec<Option<&str>> = (0..)
            .map_while(|number| nth(item, number))
            .map(|table| {
                let name = table.get("name").or_else(|| table.get("label"));
                name.and_then(Item::as_str).map(str::trim)
            })
            .collect();
        let rest = self.rest();
        if let Some(quote @ ('"' | '\'')) = rest.chars().next()
            && let Some(length) = rest[1..].find(quote)
        {
            let name = &self.take(length + 2)[1..=length];
            return match called.iter().position(|known| *known == Some(name)) {
                Some(number) => Ok(number),
                None => Err(self.unnamed(name, &called, list)),
            };
        }
        // A name may begin like another one, or like another one and its field.
        let fit = |name: &str| {
            let head = rest.get(..name.len())?;
            let tail = &rest[name.len()..];
            let same = !name.is_empty() && head.to_lowercase() == name.to_lowercase();
            (same && (tail.is_empty() || tail.starts_with('.')))
                .then_some((!tail.is_empty(), name.len()))
        };
        let named = called
            .iter()
            .enumerate()
            .filter_map(|(number, name)| Some((fit((*name)?)?, number, (*name)?)))
            .max_by_key(|(fit, number, _)| (*fit, Reverse(*number)))
            .map(|(_, number, name)| (number, name));
        if let Some((number, name)) = named {
            self.take(name.len());
            return Ok(number);
        }
        let word = self.name();
        match word.parse::<usize>() {
            Ok(place) if (1..=called.len() + 1).contains(&place) => Ok(place - 1),
            Ok(_) => Err(self.fault(
                "is not there",
                format!(
                    "the job has {} under `{list}`; the next one would be {}",
                    called.len(),
                    called.len() + 1
                ),
            )),
            Err(_) => Err(self.unnamed(word, &called, list)),
        }
    }

    fn unnamed(&self, name: &str, called: &[Option<&str>], list: &str) -> Fault {
        let known: Vec<&str> = called.iter().copied().flatten().collect();
        let help = match nearest(name, known.iter().copied()) {
            Some(near) => format!("\"{near}\" may be meant"),
            None if known.is_empty() => format!("count them: `{list}.1` is the first one"),
            None => format!("the job has \"{}\"", known.join("\", \"")),
        };
        self.fault(&format!("is no {list} of this job"), help)
    }

    fn fault(&self, message: &str, help: impl Into<String>) -> Fault {
        let word = self.path.get(self.last.clone()).unwrap_or_default();
        Fault {
            span: self.last.clone(),
            message: match word.trim() {
                "" => "a name is missing in this path".to_owned(),
                word => format!("`{word}` {message}"),
            },
            help: help.into(),
        }
    }
}
