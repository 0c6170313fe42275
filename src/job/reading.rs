//! How the file's values become fields: every field is read on its own, so
//! that one mistake hides no other. It knows names, aliases and what is
//! missing or unknown; the fields themselves are declared in
//! [`super::document`], and what their values mean is left to [`super::check`].

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator};

use super::problem::{Place, Problem, Severity};
use super::tree::{Key, Node, Value};
use crate::length::{Length, Unit};

/// What a field holds, for finding one's way by a path and for messages.
#[derive(Debug, Clone, Copy)]
pub enum Shape {
    /// A text that is taken as it is.
    Text,
    /// Any other single value, or a list of them.
    Value,
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

/// A reading under way: the job's unit, where we are, and what was found.
pub struct Reading {
    /// The unit of bare numbers.
    pub unit: Unit,
    /// What was found so far.
    pub problems: Vec<Problem>,
    /// Whether names can be trusted; if not, none is called missing or unknown.
    pub sound: bool,
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
            path: Vec::new(),
            everything,
        }
    }

    /// The field being read, as a path: `deck.along`.
    pub fn path(&self) -> String {
        self.path.join(".")
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

    /// The entries of a table, or a word that it is none.
    pub fn table<'n>(&mut self, node: &'n Node) -> Option<&'n [(Key, Node)]> {
        match &node.value {
            Value::Table(entries) => Some(entries),
            Value::List(_) => {
                let path = self.path();
                self.error(
                    node.place.clone(),
                    format!("`{path}` is one table, not several"),
                    format!("write its heading with single brackets: `[{path}]`"),
                );
                None
            }
            _ => {
                let path = self.path();
                self.error(
                    node.place.clone(),
                    format!("`{path}` is a table of fields, not {}", node.kind()),
                    format!("put its fields below a heading: `[{path}]`"),
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
        let help = match member.shape {
            Shape::Table(_) => format!(
                "add a heading `[{name}]` with its fields; `lastcourse check --example` shows them all"
            ),
            Shape::List(_) => format!(
                "add a heading `[[{name}]]` for each; `lastcourse check --example` shows the fields"
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

/// All names of the members, aliases too.
pub fn names(members: &[Member]) -> impl Iterator<Item = &str> {
    members
        .iter()
        .flat_map(|member| std::iter::once(member.name).chain(member.aliases.iter().copied()))
}

/// The candidate most like a word, if one is like it at all.
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.to_lowercase();
    let mut best: Option<(f64, &str)> = None;
    for candidate in candidates {
        let likeness = strsim::jaro_winkler(&word, &candidate.to_lowercase()).max(
            strsim::normalized_damerau_levenshtein(&word, &candidate.to_lowercase()),
        );
        // Below this, words share letters by chance alone.
        if likeness >= 0.8 && best.is_none_or(|(most, _)| likeness > most) {
            best = Some((likeness, candidate));
        }
    }
    best.map(|(_, candidate)| candidate)
}

/// The table that has a member of that name.
fn elsewhere(name: &str, members: &'static [Member]) -> Option<String> {
    members.iter().find_map(|member| match member.shape {
        Shape::Table(inner) | Shape::List(inner) => {
            if inner.iter().any(|field| field.is_called(name)) {
                Some(member.name.to_owned())
            } else {
                elsewhere(name, inner).map(|home| format!("{}.{home}", member.name))
            }
        }
        _ => None,
    })
}

/// Declares tables of the file: each field once, with its meaning, its names
/// and what it holds. From that come its reading and its place in the schema.
macro_rules! tables {
    ($(
        $(#[doc = $doc:literal])*
        $table:ident $(<$param:ident>)? {
            required { $(
                $(#[doc = $rdoc:literal])*
                $rname:ident $(or $ralias:literal)* : $rtype:ty,
            )* }
            optional { $(
                $(#[doc = $odoc:literal])*
                $oname:ident $(or $oalias:literal)* : $otype:ty,
            )* }
        }
    )*) => { $(
        $(#[doc = $doc])*
        #[derive(Debug, Clone, PartialEq, Default, schemars::JsonSchema)]
        #[schemars(deny_unknown_fields)]
        pub struct $table $(<$param>)? {
            $( $(#[doc = $rdoc])* pub $rname: Entry<$rtype>, )*
            $( $(#[doc = $odoc])* #[schemars(default)] pub $oname: Entry<$otype>, )*
        }

        impl $(<$param: Field>)? $table $(<$param>)? {
            /// The table's names.
            pub const MEMBERS: &'static [Member] = &[
                $( Member {
                    name: stringify!($rname),
                    aliases: &[$($ralias),*],
                    doc: &[$($rdoc),*],
                    shape: <$rtype as Field>::SHAPE,
                }, )*
                $( Member {
                    name: stringify!($oname),
                    aliases: &[$($oalias),*],
                    doc: &[$($odoc),*],
                    shape: <$otype as Field>::SHAPE,
                }, )*
            ];
        }

        impl $(<$param: Field + Default>)? Field for $table $(<$param>)? {
            const SHAPE: Shape = Shape::Table(Self::MEMBERS);

            fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
                let entries = reading.table(node)?;
                let mut table = Self::default();
                let mut meant = Vec::new();
                for (key, value) in entries {
                    let member = Self::MEMBERS.iter().find(|member| member.is_called(&key.name));
                    match member {
                        $( Some(member) if member.name == stringify!($rname) => {
                            reading.entry(&mut table.$rname, member, key, value);
                        } )*
                        $( Some(member) if member.name == stringify!($oname) => {
                            reading.entry(&mut table.$oname, member, key, value);
                        } )*
                        _ => meant.extend(reading.unknown(key, Self::MEMBERS)),
                    }
                }
                // A misspelt name is missing too, which need not be said twice.
                let missing = Self::MEMBERS.iter().filter(|member| {
                    let absent = false $( || member.name == stringify!($rname) && table.$rname.is_absent() )*;
                    absent && !meant.iter().any(|name| member.is_called(name))
                });
                missing.for_each(|member| reading.missing(node, member));
                Some(table)
            }
        }
    )* };
}
pub(super) use tables;
