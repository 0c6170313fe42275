//! Other pieces from the same boards: each kind has a label of its own.

use crate::job::document::{Document, ExtraTable};
use crate::job::model::Extra;
use crate::job::problem::Place;
use crate::job::reading::{Entry, Reading};

/// All other pieces of the job; there may be none.
pub fn extras(document: &Document, reading: &mut Reading) -> Option<Vec<Extra>> {
    let tables = match &document.extra {
        Entry::Absent => return Some(Vec::new()),
        entry => &entry.get()?.0,
    };
    let mut whole = Some(Vec::with_capacity(tables.len()));
    for (number, (table, _)) in tables.iter().enumerate() {
        duplicate(&tables[..number], table, reading);
        let read = extra(table);
        whole = whole.zip(read).map(|(mut read, one)| {
            read.push(one);
            read
        });
    }
    whole
}

fn extra(table: &ExtraTable) -> Option<Extra> {
    Some(Extra {
        label: table.label.get()?.0.clone(),
        length: table.length.get()?.0,
        count: table.count.get()?.0,
    })
}

/// A label that other pieces have already.
fn duplicate(before: &[(ExtraTable, Place)], table: &ExtraTable, reading: &mut Reading) {
    let Some(label) = table.label.get() else {
        return;
    };
    let same = before.iter().find(|(other, _)| {
        let other = other.label.get();
        other.is_some_and(|other| other.is_same(&label.0))
    });
    let Some((first, _)) = same else { return };
    let message = format!("two kinds of other pieces are called \"{}\"", label.0);
    let help = "give each length a label of its own, so that the saw list tells them apart";
    reading
        .error(table.label.place(), message, help)
        .also(first.label.place(), "the first one");
}
