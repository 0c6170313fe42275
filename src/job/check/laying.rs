//! How courses are laid and finished, where joints may fall, and whether there
//! are more courses than a deck can have.

use crate::job::document::{Document, JointsTable, MixedTable};
use crate::job::model::{CourseRules, Edges, Finish, JointRules, Mixed};
use crate::job::reading::{Entry, Reading, nearest};
use crate::job::values::Ranged;
use crate::length::Length;

/// More courses than this are a slip of the pen.
const MOST_COURSES: i64 = 10_000;

/// How the courses are laid.
pub fn courses(document: &Document, reading: &mut Reading) -> Option<CourseRules> {
    let table = document.courses.fields();
    let mixed = match &table.mixed {
        Entry::Absent => Some(None),
        entry => entry
            .get()
            .and_then(|mixed| self::mixed(document, mixed, reading))
            .map(Some),
    };
    Some(CourseRules {
        finish: table.finish.or(Finish::default())?,
        mixed: mixed?,
    })
}

/// The other fastener of the last gaps, by its name.
fn mixed(document: &Document, table: &MixedTable, reading: &mut Reading) -> Option<Mixed> {
    let wanted = &table.fastener.get()?.0;
    let tables = &document.fastener.get()?.0;
    let found = tables
        .iter()
        .position(|(fastener, _)| fastener.name.get().is_some_and(|name| name.is_same(wanted)));
    let Some(fastener) = found else {
        let names: Vec<&str> = tables
            .iter()
            .filter_map(|(fastener, _)| Some(fastener.name.get()?.0.as_str()))
            .collect();
        let help = match nearest(wanted, names.iter().copied()) {
            Some(near) => format!("\"{near}\" may be meant"),
            None => format!("the job has \"{}\"", names.join("\", \"")),
        };
        let message = format!("no fastener is called \"{wanted}\"");
        reading.error(table.fastener.place(), message, help);
        return None;
    };
    Some(Mixed {
        fastener,
        gaps: table.gaps.get()?.0,
    })
}

/// Where joints may fall.
pub fn joints(table: &JointsTable, reading: &mut Reading) -> Option<JointRules> {
    let usual = JointRules::customary(reading.unit);
    Some(JointRules {
        stagger: table.stagger.or(usual.stagger)?,
        stagger_joists: table.stagger_joists.or(usual.stagger_joists)?,
        keep_out: match table.keep_out.option()? {
            Some(zones) => zones.0.iter().map(|(zone, _)| *zone).collect(),
            None => usual.keep_out,
        },
        same_joist_after: table.same_joist_after.or(usual.same_joist_after)?,
        repeat: table.repeat.option()?.map(|count| count.0),
        shortest_piece: table.shortest_piece.or(usual.shortest_piece)?,
        bearing: table.bearing.or(usual.bearing)?,
        end_gap: table.end_gap.or(usual.end_gap)?,
        price: table.price.or(usual.price)?,
        doubled_joist_price: table.doubled_joist_price.or(usual.doubled_joist_price)?,
    })
}

/// Refuses more courses than a deck can have, and mixed gaps there are none of.
pub fn counts(document: &Document, edges: Option<&Edges>, reading: &mut Reading) {
    let deck = document.deck.fields();
    let board = document.board.fields();
    let (Some(across), Some(face), Some(edges)) = (deck.across.get(), board.face.get(), edges)
    else {
        return;
    };
    let width = across.0 + edges.first.reach() + edges.last.reach();
    if width <= Length::ZERO {
        return;
    }
    let courses = |gap: Length| {
        let pitch = (face.0 + gap).units();
        ((width + gap).units() + pitch - 1) / pitch
    };
    // Without gaps there are more courses than with any.
    let most = courses(Length::ZERO);
    if most > MOST_COURSES {
        let message = format!(
            "boards {} wide would make {most} courses",
            reading.show(face.0)
        );
        let help = format!("check its unit; a deck has at most {MOST_COURSES} courses");
        reading.error(board.face.place(), message, help);
        return;
    }
    let mixed = document.courses.fields().mixed.fields();
    let Some(asked) = mixed.gaps.get() else {
        return;
    };
    let there_are = courses(narrowest_gap(document)) - 1;
    if i64::from(asked.0) > there_are {
        let message = format!(
            "`courses.mixed` asks for {} gaps, and the deck has at most {there_are}",
            asked.0
        );
        let help = "ask for fewer, or put the other fastener first in the job";
        reading.error(mixed.gaps.place(), message, help);
    }
}

/// The narrowest gap any of the fasteners may be set to; none at all where that
/// is not known for certain.
fn narrowest_gap(document: &Document) -> Length {
    let tables = document.fastener.get().map_or(&[][..], |tables| &tables.0);
    let gap = |entry: &Entry<_>| match entry.get()? {
        Ranged::Fixed(gap) => Some(Length::from(*gap)),
        Ranged::Free(range) => range.set.get().map(|gap| Length::from(*gap)),
    };
    tables
        .iter()
        .map(|(fastener, _)| match fastener.trial {
            Entry::Absent => gap(&fastener.gap).unwrap_or_default(),
            _ => Length::ZERO,
        })
        .min()
        .unwrap_or_default()
}
