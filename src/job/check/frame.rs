//! The frame and its four edges, and whether anything is left to cover.

use crate::job::document::{DeckTable, Document, EdgeTable, EdgesTable};
use crate::job::model::{Edge, Edges, Frame};
use crate::job::reading::{Entry, Reading};
use crate::length::Length;

/// The frame's size.
pub fn frame(table: &DeckTable, reading: &mut Reading) -> Option<Frame> {
    let along = table.along.get().map(|side| side.0);
    let across = table.across.get().map(|side| side.0);
    let smallest = along.into_iter().chain(across).min();
    if let (Some(tolerance), Some(smallest)) = (table.tolerance.get(), smallest)
        && tolerance.0 >= smallest
    {
        let message = format!(
            "`deck.tolerance` is {}, as much as the frame itself",
            reading.show(tolerance.0)
        );
        let help = "it says how true the frame is, plus or minus; check its unit";
        reading.error(table.tolerance.place(), message, help);
    }
    Some(Frame {
        along: along?,
        across: across?,
        built: table.frame.or(false)?,
        tolerance: table.tolerance.or(Length::ZERO)?,
        diagonals: table.diagonals.option()?.map(|pair| pair.0),
    })
}

/// The four edges.
pub fn edges(table: &EdgesTable, reading: &mut Reading) -> Option<Edges> {
    let first = edge(&table.first, "first", false, reading);
    let last = edge(&table.last, "last", false, reading);
    let left = edge(&table.left, "left", true, reading);
    let right = edge(&table.right, "right", true, reading);
    Some(Edges {
        first: first?,
        last: last?,
        left: left?,
        right: right?,
    })
}

/// One edge; `at_ends` when boards end there.
fn edge(
    entry: &Entry<EdgeTable>,
    name: &str,
    at_ends: bool,
    reading: &mut Reading,
) -> Option<Edge> {
    if matches!(entry, Entry::Wrong) {
        return None;
    }
    let table = entry.fields();
    if !at_ends && !table.allowance.is_absent() {
        reading.error(
            table.allowance.key(),
            format!("`edge.{name}.allowance`: no board ends at this edge"),
            "an allowance is left on at `edge.left` or `edge.right`, where boards are sawn off in place",
        );
    }
    if !table.wall_clearance.is_absent() {
        for (field, key) in [
            ("overhang", table.overhang.key()),
            ("fascia", table.fascia.key()),
            ("allowance", table.allowance.key()),
        ] {
            let Some(key) = key else { continue };
            let message = format!("`edge.{name}` has both `wall_clearance` and `{field}`");
            let help = format!(
                "a wall has no {field}: keep `wall_clearance` for a wall, or `{field}` for an open edge"
            );
            reading
                .error(key, message, help)
                .also(table.wall_clearance.key(), "this makes it a wall");
        }
        return Some(Edge::Wall {
            clearance: table.wall_clearance.or(Length::ZERO)?,
        });
    }
    let overhang = super::span(&table.overhang, &format!("`edge.{name}.overhang`"), reading);
    Some(Edge::Open {
        fascia: table.fascia.or(Length::ZERO)?,
        overhang: overhang?,
        allowance: table.allowance.or(Length::ZERO)?,
    })
}

/// Refuses a deck whose edges leave nothing to cover.
pub fn surface(
    document: &Document,
    deck: Option<&Frame>,
    edges: Option<&Edges>,
    reading: &mut Reading,
) {
    let (Some(deck), Some(edges)) = (deck, edges) else {
        return;
    };
    let table = document.deck.fields();
    let across = edges.first.reach() + edges.last.reach();
    let along = edges.left.reach() + edges.right.reach();
    for (way, size, reach, entry, names) in [
        (
            "across",
            deck.across,
            across,
            &table.across,
            ["first", "last"],
        ),
        ("along", deck.along, along, &table.along, ["left", "right"]),
    ] {
        if size + reach > Length::ZERO {
            continue;
        }
        let message = format!(
            "nothing is left to cover {way}: the frame is {} and its edges take {}",
            reading.show(size),
            reading.show(-reach)
        );
        let [one, other] = names;
        let help = format!("look at `deck.{way}`, `edge.{one}` and `edge.{other}`");
        reading.error(entry.place(), message, help);
    }
}
