//! Code tables: there is something to compare with, and a local table says one
//! thing of each size and spacing.

use crate::job::codes::tables::{CodesTable, SpanTable};
use crate::job::codes::{CodeRules, OwnSpan};
use crate::job::document::Document;
use crate::job::problem::Place;
use crate::job::reading::{Entry, Reading};

/// The tables, if the job names any.
pub fn codes(document: &Document, reading: &mut Reading) -> Option<Option<CodeRules>> {
    if document.codes.is_absent() {
        return Some(None);
    }
    let table = document.codes.get()?;
    let guards = table.guard_above.is_absent() && table.guard_least.is_absent();
    let boards = table.decking_most.is_absent() && table.joists_under.is_absent();
    let own = boards && table.span.is_absent() && guards;
    if table.edition.is_absent() && own {
        let message = "`codes` names no table, so nothing is compared with one";
        let help = "add `edition = \"IRC 2018\"` or another, or the local values: \
                    `[[codes.span]]`, `decking_most`";
        reading.caution(document.codes.key(), message, help);
    }
    let spans = spans(table, reading);
    Some(Some(CodeRules {
        edition: table.edition.option()?.map(|edition| edition.0),
        species: table.species.option()?.map(|species| species.0),
        decking: table.decking.option()?.map(|decking| decking.0),
        decking_most: table.decking_most.option()?.map(|most| most.0),
        joists_under: table.joists_under.option()?.map(|count| count.0),
        spans: spans?,
        guard_above: table.guard_above.option()?.map(|above| above.0),
        guard_least: table.guard_least.option()?.map(|least| least.0),
        source: table.source.option()?.map(|source| source.0.clone()),
    }))
}

fn spans(table: &CodesTable, reading: &mut Reading) -> Option<Vec<OwnSpan>> {
    let tables = match &table.span {
        Entry::Absent => return Some(Vec::new()),
        entry => &entry.get()?.0,
    };
    for (number, (table, _)) in tables.iter().enumerate() {
        twice(&tables[..number], table, reading);
    }
    let read = tables.iter().map(|(table, _)| {
        Some(OwnSpan {
            size: table.size.get()?.0.clone(),
            spacing: table.spacing.get()?.0,
            most: table.most.get()?.0,
            cantilever: table.cantilever.option()?.map(|most| most.0),
        })
    });
    read.collect()
}

/// Refuses a second line of one size and spacing.
fn twice(before: &[(SpanTable, Place)], table: &SpanTable, reading: &mut Reading) {
    let (Some(size), Some(spacing)) = (table.size.get(), table.spacing.get()) else {
        return;
    };
    let same = before.iter().find(|(other, _)| {
        let named = other.size.get().is_some_and(|other| other.is_same(&size.0));
        named && other.spacing.get() == Some(spacing)
    });
    let Some((first, _)) = same else { return };
    let message = format!(
        "the span of {} at {} is given twice",
        size.0,
        reading.show(spacing.0)
    );
    let help = "a table has one span for each size and spacing; keep one";
    reading
        .error(table.most.place(), message, help)
        .also(first.most.place(), "the first one");
}
