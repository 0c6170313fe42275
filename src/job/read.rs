//! From a text to a checked job: the tree of what was typed, changes made to it
//! for this time alone, its fields, and the checks, in this order. Everything
//! that is wrong is found in one go; files are left to whoever has them.

use super::check::check;
use super::document::Document;
use super::edit::{self, Set};
use super::model::Job;
use super::prices::PriceList;
use super::problem::{Findings, Place, Problem, Source};
use super::reading::{Entry, Field, Reading};
use super::tree::{self, Node, Parsed, Value};
use super::values::UnitWord;
use crate::length::Unit;

/// A job that was accepted, and what somebody should look at all the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Checked {
    /// The job.
    pub job: Job,
    /// Cautions; there are no errors among them.
    pub findings: Findings,
}

/// Reads and checks a job file's text.
///
/// `origin` is what the text is called in messages, usually the file's name.
/// `sets` change fields as if the file said so; a problem in one points at it.
///
/// ```
/// use lastcourse::job;
///
/// let text = r#"
/// [deck]
/// along  = "22ft 4in"
/// across = "13ft 2in"
/// [board]
/// face = "5-1/2in"
/// [[fastener]]
/// name = "slim clip"
/// gap  = "3/16in"
/// "#;
/// let checked = job::read(text, "deck.toml", &[])?;
/// assert_eq!(checked.job.fasteners[0].name, "slim clip");
///
/// let wider = job::Set::parse("deck.across=13ft 4in")?;
/// assert!(job::read(text, "deck.toml", &[wider])?.job.deck.across > checked.job.deck.across);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// When anything is wrong: all of it at once, with its places.
pub fn read(text: &str, origin: &str, sets: &[Set]) -> Result<Checked, Findings> {
    read_priced(text, origin, sets, &PriceList::default())
}

/// Reads and checks a job file's text as [`read`] does; what a price list has
/// takes the place of the job's own prices.
///
/// # Errors
/// As [`read`].
pub fn read_priced(
    text: &str,
    origin: &str,
    sets: &[Set],
    prices: &PriceList,
) -> Result<Checked, Findings> {
    let mut sources = vec![Source {
        name: origin.to_owned(),
        text: text.to_owned(),
    }];
    sources.extend(edit::sources(sets));
    let file = tree::parse(text, 0);
    let (file, problems) = with_sets(text, file, sets);
    let (job, mut problems) = interpret(text, &file, problems, prices);
    let start = |place: &Place| (place.source, place.span.start);
    problems.sort_by_key(|problem| (problem.severity, problem.place.as_ref().map(start)));
    let findings = Findings { sources, problems };
    match job {
        Some(job) if !findings.has_errors() => Ok(Checked { job, findings }),
        _ => Err(findings),
    }
}

/// The file's tree with the sets made, and what was wrong up to there.
fn with_sets(text: &str, mut file: Parsed, sets: &[Set]) -> (Parsed, Vec<Problem>) {
    let mut problems = std::mem::take(&mut file.problems);
    // A set cannot be made in a file that cannot be read; that is told first.
    if sets.is_empty() || !problems.is_empty() {
        return (file, problems);
    }
    match edit::edited(text, sets) {
        Ok(edited) => {
            let mut tree = tree::parse(&edited.text, 0);
            edit::point_back(&mut tree.root, &file.root, &edited.made);
            problems.extend(edited.cautions);
            (tree, problems)
        }
        Err(wrong) => {
            problems.extend(wrong);
            (file, problems)
        }
    }
}

/// Fields, checks and all problems of a file's tree.
fn interpret(
    text: &str,
    file: &Parsed,
    mut problems: Vec<Problem>,
    prices: &PriceList,
) -> (Option<Job>, Vec<Problem>) {
    let mut reading = Reading::new(unit(&file.root), file.sound, Document::MEMBERS);
    reading.prices = prices.clone();
    if let Value::Table(entries) = &file.root.value {
        let known = |name: &str| {
            Document::MEMBERS
                .iter()
                .any(|member| member.is_called(name))
        };
        if problems.len() > 1 && !entries.iter().any(|(key, _)| known(&key.name)) {
            // Some other text: a complaint about each of its lines helps nobody.
            problems.truncate(1);
            problems[0].message = "this is no job file".to_owned();
            problems[0].help = EXAMPLE.to_owned();
            return (None, problems);
        }
        if entries.is_empty() && problems.is_empty() {
            reading.error(None, "there is nothing in this file", EXAMPLE);
            return (None, reading.problems);
        }
    }
    let document = Document::read(&file.root, &mut reading);
    let job = document.and_then(|document| check(&document, &mut reading));
    // What was typed on a line that is no TOML may have been read as something
    // else; only what is certain is told.
    let line = |place: &Place| (place.source == 0).then(|| line(text, place.span.start));
    let unreadable: Vec<_> = problems
        .iter()
        .filter_map(|problem| line(problem.place.as_ref()?))
        .collect();
    let certain = |problem: &Problem| {
        let line = problem.place.as_ref().and_then(line);
        line.is_none_or(|line| !unreadable.contains(&line))
    };
    problems.extend(reading.problems.into_iter().filter(certain));
    (job, problems)
}

const EXAMPLE: &str = "`lastcourse check --example` prints a job file to start from";

/// The line that a byte of a text is on.
fn line(text: &str, at: usize) -> usize {
    text.bytes().take(at).filter(|byte| *byte == b'\n').count()
}

/// The unit of bare numbers, which has to be known before any is read. If it is
/// wrong, that is said when its turn comes.
fn unit(root: &Node) -> Unit {
    let Value::Table(entries) = &root.value else {
        return Unit::default();
    };
    let member = Document::MEMBERS
        .iter()
        .find(|member| member.name == "unit");
    let mut entry: Entry<UnitWord> = Entry::Absent;
    let mut aside = Reading::new(Unit::default(), false, &[]);
    for (key, node) in entries {
        if let Some(member) = member.filter(|member| member.is_called(&key.name)) {
            aside.entry(&mut entry, member, key, node);
        }
    }
    entry.or(Unit::default()).unwrap_or_default()
}
