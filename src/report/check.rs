//! What checking a job file came to, for people and for programs.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::Serialize;

use super::json::{Answer, pretty};
use super::page::Page;
use crate::job::{Findings, Job, Problem, Severity};
use crate::length::{Length, Unit};

/// The answer for people: whether the job is accepted, and what was understood.
/// Cautions are drawn by [`crate::job::message`].
pub fn text(job: &Job, cautions: usize, width: usize) -> String {
    let mut page = Page::new(width);
    page.answer(&match cautions {
        0 => format!("{}: nothing is wrong with this job.", job.title),
        _ => format!(
            "{}: the job is accepted, with {}.",
            job.title,
            count(cautions, "caution")
        ),
    });
    let show = |length: Length| length.show(job.unit);
    let mut understood = format!(
        "A frame {} along and {} across, boards {} wide, {}",
        show(job.deck.along),
        show(job.deck.across),
        show(job.board.face),
        count(job.fasteners.len(), "fastener"),
    );
    let lengths: BTreeSet<Length> = job.stock.iter().map(|stock| stock.length).collect();
    if lengths.is_empty() {
        understood.push_str("; no stock is listed, which `plan` and `order` need.");
    } else {
        understood.push_str(&format!(", {}.", count(lengths.len(), "stock length")));
    }
    page.line(&understood);
    page.finish()
}

fn count(number: usize, what: &str) -> String {
    match number {
        1 => format!("1 {what}"),
        _ => format!("{number} {what}s"),
    }
}

/// The answer for programs.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Check<'a> {
    /// Whether the job is accepted.
    pub ok: bool,
    /// Everything that was found.
    pub problems: Vec<Found<'a>>,
}

/// One problem.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Found<'a> {
    /// `error` or `caution`.
    pub severity: &'static str,
    /// What the text is called that the problem is in: the file, or `--set`.
    pub origin: Option<&'a str>,
    /// Its line, counted from 1.
    pub line: Option<usize>,
    /// Its column in characters, counted from 1.
    pub column: Option<usize>,
    /// What is wrong.
    pub message: &'a str,
    /// What would help.
    pub help: &'a str,
}

/// The answer for programs; the job is there when it was accepted.
pub fn json(job: Option<&Job>, findings: &Findings) -> String {
    let check = Check {
        ok: job.is_some(),
        problems: findings
            .problems
            .iter()
            .map(|problem| found(findings, problem))
            .collect(),
    };
    pretty(&Answer::new(
        "check",
        job.map_or(Unit::default(), |job| job.unit),
        check,
    ))
}

fn found<'a>(findings: &'a Findings, problem: &'a Problem) -> Found<'a> {
    let place = problem.place.as_ref();
    let at = place.and_then(|place| findings.line_and_column(place));
    let source = place.and_then(|place| findings.sources.get(place.source));
    Found {
        severity: match problem.severity {
            Severity::Error => "error",
            Severity::Caution => "caution",
        },
        origin: source.map(|source| source.name.as_str()),
        line: at.map(|(line, _)| line),
        column: at.map(|(_, column)| column),
        message: &problem.message,
        help: &problem.help,
    }
}
