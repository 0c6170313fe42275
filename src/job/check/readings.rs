//! Readings of the tape: once after a course, or at both its ends, one for each
//! course, and none that no deck of this size has. Whether one can be right
//! with a fastener's gap is left to [`crate::measure`].

use crate::job::document::{Document, ReadingTable};
use crate::job::model::Edges;
use crate::job::problem::Place;
use crate::job::reading::Reading;
use crate::job::readings::{Tape, TapeReading};
use crate::length::Length;

/// All readings, by course; there may be none.
pub fn readings(
    document: &Document,
    edges: Option<&Edges>,
    reading: &mut Reading,
) -> Option<Vec<TapeReading>> {
    let tables = match &document.reading.option()? {
        None => return Some(Vec::new()),
        Some(tables) => &tables.0,
    };
    let deck = document.deck.fields();
    let width = deck.across.get().zip(edges);
    let width = width.map(|(across, edges)| across.0 + edges.first.reach() + edges.last.reach());
    let face = document.board.fields().face.get().map(|face| face.0);
    let mut readings = Vec::with_capacity(tables.len());
    let mut whole = true;
    for (number, (table, heading)) in tables.iter().enumerate() {
        twice(&tables[..number], table, reading);
        if let (Some(width), Some(face)) = (width, face) {
            outside(table, width, face, reading);
        }
        match one(table, heading, reading) {
            Some(read) => readings.push(read),
            None => whole = false,
        }
    }
    readings.sort_by_key(|reading| reading.after);
    whole.then_some(readings)
}

fn one(table: &ReadingTable, heading: &Place, reading: &mut Reading) -> Option<TapeReading> {
    let at = table.at.option()?.map(|at| at.0);
    let left = table.left.option()?.map(|left| left.0);
    let right = table.right.option()?.map(|right| right.0);
    let tape = match (at, left, right) {
        (Some(at), None, None) => Tape::Once(at),
        (None, Some(left), Some(right)) => Tape::Ends { left, right },
        (None, None, None) => {
            let help = "say what the tape reads from the starting edge: `at = \"4ft 3-5/8in\"`, \
                        or `left` and `right` where both ends were measured";
            reading.error(heading.clone(), "this reading has no `at`", help);
            return None;
        }
        (Some(_), _, _) => {
            let other = table.left.key().or_else(|| table.right.key());
            let help = "give `at` for one reading, or `left` and `right` for both ends";
            reading
                .error(table.at.key(), "a reading has `at`, or both ends", help)
                .also(other, "an end");
            return None;
        }
        (None, one_end, _) => {
            let (there, missing, key) = match one_end {
                Some(_) => ("left", "right", table.left.key()),
                None => ("right", "left", table.right.key()),
            };
            let message = format!("this reading has `{there}` and no `{missing}`");
            let help = format!("measure the {missing} end too, or call it `at`");
            reading.error(key, message, help);
            return None;
        }
    };
    Some(TapeReading {
        after: table.after.get()?.0,
        tape,
        gap: table.gap.option()?.map(|gap| gap.0),
    })
}

/// A course that another reading was taken after.
fn twice(before: &[(ReadingTable, Place)], table: &ReadingTable, reading: &mut Reading) {
    let Some(after) = table.after.get() else {
        return;
    };
    let same = before
        .iter()
        .find(|(other, _)| other.after.get() == Some(after));
    let Some((first, _)) = same else { return };
    let message = format!("there are two readings after course {}", after.0);
    let help = "keep the one that is right; one of both ends has `left` and `right`";
    reading
        .error(table.after.place(), message, help)
        .also(first.after.place(), "the first one");
}

/// A course, or a place, that no deck of this size has.
fn outside(table: &ReadingTable, width: Length, face: Length, reading: &mut Reading) {
    if width <= Length::ZERO {
        return;
    }
    // Without gaps there are more courses than with any.
    let most = (width.units() - 1).div_euclid(face.units()) + 1;
    if let Some(after) = table.after.get()
        && i64::from(after.0) > most
    {
        let message = format!(
            "{} boards of {} are more than the {} of this deck take",
            after.0,
            reading.show(face),
            reading.show(width)
        );
        let help = "count the courses again, from 1 at the first edge";
        reading.error(table.after.place(), message, help);
    }
    for entry in [&table.at, &table.left, &table.right] {
        let Some(at) = entry.get() else { continue };
        if at.0 > width + face {
            let message = format!(
                "the tape says {}, and the deck is {} from the first edge to the last",
                reading.show(at.0),
                reading.show(width)
            );
            let help = "measure from the starting edge to the course's far edge; check the unit";
            reading.error(entry.place(), message, help);
        }
    }
}
