//! How the file's values become fields: every field is read on its own, so
//! that one mistake hides no other. It knows names, aliases and what is
//! missing or unknown; the fields themselves are declared in
//! [`super::document`], and what their values mean is left to [`super::check`].

mod field;
mod names;
mod tables;

pub use field::{Entry, Field, Member, Shape};
pub use names::{names, nearest};
pub(super) use tables::tables;

use super::prices::PriceList;
use super::problem::{Place, Problem, Severity};
use super::tree::{Key, Node, Value};
use crate::length::{Length, Unit};
use names::elsewhere;

/// A reading under way: the job's unit, where we are, and what was found.
pub struct Reading {
    /// The unit of bare numbers.
    pub unit: Unit,
    /// What was found so far.
    pub problems: Vec<Problem>,
    /// Whether names can be trusted; if not, none is called missing or unknown.
    pub sound: bool,
    /// Prices that take the place of the job's own.
    pub prices: PriceList,
    /// The names that lead to where we are.
    path: Vec<String>,
    /// The whole document, for saying where a misplaced name belongs.
    everything: &'static [Member],
}

impl Reading {
    /// A reading of a document with these members.
    pub fn new(unit: Unit, sound: bool, everything: &'static [Member]) -> Reading {
        Reading {
            unit,
            problems: Vec::new(),
            sound,
            prices: PriceList::default(),
            path: Vec::new(),
            everything,
        }
    }

    /// The field being read, as a path: `deck.along`.
    pub fn path(&self) -> String {
        self.path.join(".")
    }

    /// The heading of the tables being read, in double brackets where there may
    /// be several: `[edge.last]`, `[[fastener.packs]]`.
    pub fn heading(&self, several: bool) -> String {
        let counted = |part: &String| part.bytes().all(|byte| byte.is_ascii_digit());
        let names = self.path.iter().filter(|part| !counted(part));
        let names = names.map(String::as_str).collect::<Vec<_>>().join(".");
        match several || self.path.last().is_some_and(counted) {
            true => format!("[[{names}]]"),
            false => format!("[{names}]"),
        }
    }

    /// A length as messages say it: readable where that is exact, else to the
    /// last digit, since it is the typed value that is spoken of.
    pub fn show(&self, length: Length) -> String {
        let shown = length.show(self.unit);
        if Length::parse(&shown, None) == Ok(length) {
            shown
        } else {
            length.exact(self.unit)
        }
    }

    /// Notes an error.
    pub fn error(
        &mut self,
        place: impl Into<Option<Place>>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> &mut Problem {
        self.note(Severity::Error, place.into(), message.into(), help.into())
    }

    /// Notes a caution.
    pub fn caution(
        &mut self,
        place: impl Into<Option<Place>>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> &mut Problem {
        self.note(Severity::Caution, place.into(), message.into(), help.into())
    }

    fn note(
        &mut self,
        severity: Severity,
        place: Option<Place>,
        message: String,
        help: String,
    ) -> &mut Problem {
        self.problems.push(Problem {
            severity,
            place,
            message,
            help,
            also: Vec::new(),
        });
        self.problems.last_mut().expect("it was just put there")
    }

    /// Reads a field into its entry.
    pub fn entry<T: Field>(
        &mut self,
        entry: &mut Entry<T>,
        member: &Member,
        key: &Key,
        node: &Node,
    ) {
        if !entry.is_absent() {
            let other = entry.key();
            self.error(
                key.place.clone(),
                format!("`{}` is given twice", member.name),
                format!(
                    "`{}` mean the same; keep one",
                    names(&[*member]).collect::<Vec<_>>().join("` and `")
                ),
            )
            .also(other, "the other one");
            return;
        }
        self.path.push(member.name.to_owned());
        *entry = match T::read(node, self) {
            Some(value) => Entry::Given {
                value,
                place: node.place.clone(),
                key: key.place.clone(),
            },
            None => Entry::Wrong,
        };
        self.path.pop();
    }

    /// The values of a list, or a word that it is none and how one is written.
    pub fn list<'n>(&mut self, node: &'n Node, written: &str) -> Option<&'n [Node]> {
        if let Value::List(nodes) = &node.value {
            return Some(nodes);
        }
        let message = format!("`{}` is a list, not {}", self.path(), node.kind());
        self.error(node.place.clone(), message, written);
        None
    }

    /// The entries of a table, or a word that it is none.
    pub fn table<'n>(&mut self, node: &'n Node) -> Option<&'n [(Key, Node)]> {
        match &node.value {
            Value::Table(entries) => Some(entries),
            Value::List(_) => {
                let (path, heading) = (self.path(), self.heading(false));
                self.error(
                    node.place.clone(),
                    format!("`{path}` is one table, not several"),
                    format!("write its heading with single brackets: `{heading}`"),
                );
                None
            }
            _ => {
                let (path, heading) = (self.path(), self.heading(false));
                self.error(
                    node.place.clone(),
                    format!("`{path}` is a table of fields, not {}", node.kind()),
                    format!("put its fields below a heading: `{heading}`"),
                );
                None
            }
        }
    }

    /// Notes a field that has to be given and is not.
    pub fn missing(&mut self, table: &Node, member: &Member) {
        if !self.sound {
            return;
        }
        let (path, name) = (self.path(), member.name);
        let meaning = member.doc.first().map_or("", |line| line.trim());
        let meaning = first_small(meaning.trim_end_matches('.'));
        // Where the heading of such a table stands, whatever its number.
        let counted = |part: &&String| part.bytes().all(|byte| byte.is_ascii_digit());
        let home = self.path.iter().filter(|part| !counted(part));
        let home: String = home.map(|part| format!("{part}.")).collect();
        let help = match member.shape {
            Shape::Table(_) => format!(
                "add a heading `[{home}{name}]` with its fields; `lastcourse check --example` shows them all"
            ),
            Shape::List(_) => format!(
                "add a heading `[[{home}{name}]]` for each; `lastcourse check --example` shows the fields"
            ),
            _ => format!("add `{name}`: {meaning}"),
        };
        let (place, message) = if path.is_empty() {
            (None, format!("the job has no `{name}`"))
        } else {
            (
                Some(table.place.clone()),
                format!("`{path}` has no `{name}`"),
            )
        };
        self.error(place, message, help);
    }

    /// Notes a name that is not known here, and gives what may have been meant.
    pub fn unknown(&mut self, key: &Key, members: &'static [Member]) -> Option<&'static str> {
        if !self.sound {
            return None;
        }
        let here = if self.path.is_empty() {
            "a job".to_owned()
        } else {
            format!("`{}`", self.path())
        };
        let name = key.name.as_str();
        let near = nearest(name, names(members));
        let help = match (near, elsewhere(name, self.everything)) {
            (Some(near), _) => format!("`{near}` may be meant"),
            (None, Some(home)) => format!("`{name}` belongs in `{home}`"),
            (None, None) => format!(
                "it has `{}`",
                members
                    .iter()
                    .map(|member| member.name)
                    .collect::<Vec<_>>()
                    .join("`, `")
            ),
        };
        let message = format!("{here} has no field `{name}`");
        self.error(key.place.clone(), message, help);
        near
    }

    /// Reads the tables of a list, each under its place.
    pub fn each<T: Field>(&mut self, nodes: &[Node]) -> Option<Vec<(T, Place)>> {
        let mut read = Vec::with_capacity(nodes.len());
        let mut whole = true;
        for (number, node) in (1..).zip(nodes) {
            self.path.push(format!("{number}"));
            match T::read(node, self) {
                Some(value) => read.push((value, node.place.clone())),
                None => whole = false,
            }
            self.path.pop();
        }
        whole.then_some(read)
    }
}

/// A sentence that goes on after a colon.
fn first_small(sentence: &str) -> String {
    let mut letters = sentence.chars();
    match letters.next() {
        Some(first) => first.to_lowercase().chain(letters).collect(),
        None => String::new(),
    }
}
