//! Guards: they stand along open edges, stairs leave an edge that has room for
//! them, and what is cut is cut from lumber that is there.

use super::framing::size;
use super::goods::bought;
use crate::job::document::{Document, StairsTable};
use crate::job::fascia::Side;
use crate::job::framing::Lumber;
use crate::job::guard::tables::{GuardPostTable, GuardTable, RailTable};
use crate::job::guard::{Baluster, GuardPost, GuardRules, Guards, Made, Rail, StairsAt};
use crate::job::model::{Edge, Edges, Frame};
use crate::job::problem::Place;
use crate::job::reading::{Entry, Reading};
use crate::job::values::{Several, Words};
use crate::length::Length;
use crate::stairs::Stairs;

/// Posts nearer to each other than this are a slip of the pen.
const NEAREST_POSTS: Length = Length::from_inches(6);
/// Balusters come at this pitch at least.
const LEAST_PITCH: Length = Length::from_64ths(32);

/// The guards, and what decides about them.
pub fn guards(
    document: &Document,
    deck: Option<&Frame>,
    edges: Option<&Edges>,
    stairs: Option<&[Stairs]>,
    lumber: Option<&[Lumber]>,
    reading: &mut Reading,
) -> Option<Guards> {
    let table = document.deck.fields();
    let height = table.height.option();
    let stairs = places(document, deck?, edges?, stairs?, reading);
    let rules = match &document.guard {
        Entry::Absent => Some(None),
        entry => entry
            .get()
            .and_then(|table| rules(document, table, edges?, lumber, reading))
            .map(Some),
    };
    Some(Guards {
        height: height?.map(|height| height.0),
        stairs: stairs?,
        rules: rules?,
    })
}

/// Where each flight of stairs leaves the deck.
fn places(
    document: &Document,
    deck: &Frame,
    edges: &Edges,
    stairs: &[Stairs],
    reading: &mut Reading,
) -> Option<Vec<StairsAt>> {
    let empty = Several::default();
    let tables = &document.stairs.get().unwrap_or(&empty).0;
    let mut places: Vec<StairsAt> = Vec::new();
    let mut whole = true;
    for (number, ((table, heading), flight)) in tables.iter().zip(stairs).enumerate() {
        let Some(side) = side(table, edges, reading) else {
            whole = false;
            continue;
        };
        let length = match side.is_along() {
            true => deck.along,
            false => deck.across,
        };
        let middle = Length::from_units((length - flight.width).units().max(0) / 2);
        let Some(from) = table.at.or(middle) else {
            whole = false;
            continue;
        };
        // Where nobody asks for a guard, nothing hangs on it.
        let asked = !document.guard.is_absent() || !table.at.is_absent();
        if asked && from + flight.width > length {
            let message = format!(
                "\"{}\", {} wide, does not fit into the {} edge, {} long",
                flight.name,
                reading.show(flight.width),
                side.name(),
                reading.show(length)
            );
            let help = "look at its `width`, `edge` and `at`, the way along the edge to it";
            let place = table.at.place().or_else(|| Some(heading.clone()));
            reading.error(place, message, help);
            whole = false;
        }
        let meets = |(other, at): &(&Stairs, &StairsAt)| {
            at.side == side && at.from < from + flight.width && from < at.from + other.width
        };
        let before = stairs[..number].iter().zip(&places);
        if asked && let Some((other, _)) = before.into_iter().find(meets) {
            let message = format!(
                "\"{}\" and \"{}\" are at one place",
                other.name, flight.name
            );
            let help = "say where each leaves its edge: `edge = \"left\"`, `at = \"3ft\"`";
            reading.error(heading.clone(), message, help);
            whole = false;
        }
        places.push(StairsAt { side, from });
    }
    whole.then_some(places)
}

/// The edge that stairs are at: the last one, or the first of those that are open.
fn side(table: &StairsTable, edges: &Edges, reading: &mut Reading) -> Option<Side> {
    let is_open = |side: &Side| matches!(edges.at(*side), Edge::Open { .. });
    match table.edge.option()? {
        Some(named) if !is_open(&named.0) => {
            let name = named.0.name();
            let message = format!("the {name} edge is at a wall, where no stairs leave the deck");
            let help = format!("name an open edge, or take `edge.{name}.wall_clearance` out");
            reading.error(table.edge.place(), message, help);
            None
        }
        Some(named) => Some(named.0),
        None => {
            let usual = [Side::Last].into_iter().chain(Side::ALL);
            Some(usual.into_iter().find(is_open).unwrap_or(Side::Last))
        }
    }
}

fn rules(
    document: &Document,
    table: &GuardTable,
    edges: &Edges,
    lumber: Option<&[Lumber]>,
    reading: &mut Reading,
) -> Option<GuardRules> {
    let edges = guarded(document, table, edges, reading);
    let post = (table.post.get()).and_then(|post| self::post(document, post, lumber, reading));
    let rail = table.rail.option()?;
    let rail = rail.map(|rail| self::rail(document, rail, lumber, reading));
    let baluster = match table.baluster.option()? {
        None => None,
        Some(one) => {
            let clear = one
                .clear_most
                .or(GuardRules::customary_clear(reading.unit))?;
            let width = one.width.get()?.0;
            if width + clear < LEAST_PITCH {
                let message = format!(
                    "balusters {} wide and {} apart are finer than any",
                    reading.show(width),
                    reading.show(clear)
                );
                let help = "look at the units of `width` and `clear_most`";
                reading.error(one.width.place(), message, help);
                return None;
            }
            let (name, price) = (&one.name, &one.pack_price);
            Some(Baluster {
                width,
                clear_most: clear,
                goods: bought(name, &one.pack, price, &one.spare, "baluster")?,
            })
        }
    };
    let height = table.height.or(GuardRules::customary_height(reading.unit));
    Some(GuardRules {
        edges: edges?,
        height: height?,
        post: post?,
        rail: match rail {
            Some(rail) => Some(rail?),
            None => None,
        },
        baluster,
    })
}

/// The edges a guard stands along: those named, or all open ones.
fn guarded(
    document: &Document,
    table: &GuardTable,
    edges: &Edges,
    reading: &mut Reading,
) -> Option<Vec<Side>> {
    let is_open = |side: &Side| matches!(edges.at(*side), Edge::Open { .. });
    let open: Vec<Side> = Side::ALL.into_iter().filter(is_open).collect();
    let named = match table.edges.option()? {
        None if open.is_empty() => {
            let message = "all edges are at walls, and a guard stands along open ones";
            reading.error(document.guard.key(), message, "take `[guard]` out");
            return None;
        }
        None => return Some(open),
        Some(named) => &named.0,
    };
    if named.is_empty() {
        let help = "name an edge, `edges = [\"last\"]`, or take `edges` out for all open ones";
        reading.error(table.edges.place(), "`guard.edges` names no edge", help);
        return None;
    }
    let mut whole = true;
    for (number, (side, place)) in named.iter().enumerate() {
        let name = side.name();
        if let Some((_, first)) = named[..number].iter().find(|(other, _)| other == side) {
            let message = format!("`guard.edges` names the {name} edge twice");
            reading
                .error(place.clone(), message, "take one of them out")
                .also(Some(first.clone()), "the first one");
            whole = false;
        } else if !is_open(side) {
            let message = format!("`guard.edges`: the {name} edge is at a wall");
            let help = format!("take \"{name}\" out, or `edge.{name}.wall_clearance`");
            reading.error(place.clone(), message, help);
            whole = false;
        }
    }
    let is_named = |side: &Side| named.iter().any(|(other, _)| other == side);
    whole.then(|| Side::ALL.into_iter().filter(is_named).collect())
}

fn post(
    document: &Document,
    table: &GuardPostTable,
    lumber: Option<&[Lumber]>,
    reading: &mut Reading,
) -> Option<GuardPost> {
    let sized = sized(document, &table.size, lumber, "guard.post", reading)?;
    let usual = match sized.zip(lumber) {
        Some((size, lumber)) => lumber[size].thickness,
        None => GuardRules::customary_post(reading.unit),
    };
    let (width, spacing): (Length, _) = (table.width.or(usual)?, table.spacing.get()?.0);
    if spacing < NEAREST_POSTS || spacing < width * 2 {
        let message = format!(
            "guard posts {} wide are {} apart on centre",
            reading.show(width),
            reading.show(spacing)
        );
        let help = "write the greatest distance between two of them, such as \"6ft\", with its \
                    unit";
        reading.error(table.spacing.place(), message, help);
        return None;
    }
    let made = match sized {
        Some(_) if table.length.is_absent() => {
            let message = "the guard's posts are cut from lumber, and their length is not given";
            let help = "add `length`, from their foot to their top, such as \"4ft 6in\"";
            reading.error(table.size.key(), message, help);
            return None;
        }
        Some(size) => Made::Cut {
            size,
            length: Some(table.length.get()?.0),
        },
        None => {
            if let Some(key) = table.length.key() {
                let message = "`guard.post.length` is for posts that are cut from lumber";
                let help = "add the `size` they are cut from, or take `length` out";
                reading.error(key, message, help);
                return None;
            }
            let (name, price) = (&table.name, &table.pack_price);
            let goods = bought(name, &table.pack, price, &table.spare, "guard post");
            Made::Bought(goods?)
        }
    };
    Some(GuardPost {
        width,
        spacing,
        made,
    })
}

fn rail(
    document: &Document,
    table: &RailTable,
    lumber: Option<&[Lumber]>,
    reading: &mut Reading,
) -> Option<Rail> {
    let rows = table.rows.or(2u32)?;
    if rows > 20 {
        let message = format!("`guard.rail.rows` is {rows}");
        reading.error(table.rows.place(), message, "write a whole number up to 20");
        return None;
    }
    let made = match sized(document, &table.size, lumber, "guard.rail", reading)? {
        Some(size) => Made::Cut { size, length: None },
        None => {
            let (name, price) = (&table.name, &table.pack_price);
            let goods = bought(
                name,
                &table.pack,
                price,
                &table.spare,
                "rail between two posts",
            );
            Made::Bought(goods?)
        }
    };
    Some(Rail { rows, made })
}

/// The frame's lumber that something is cut from, where the job names a size.
fn sized(
    document: &Document,
    entry: &Entry<Words>,
    lumber: Option<&[Lumber]>,
    path: &str,
    reading: &mut Reading,
) -> Option<Option<usize>> {
    let Some(key): Option<Place> = entry.key() else {
        return entry.option().map(|_| None);
    };
    if document.frame.is_absent() {
        let message =
            format!("`{path}.size` is cut with the frame's lumber, and the job describes no frame");
        let help = "add a `[frame]`, or take `size` out and say what is bought: `name`, `price`";
        reading.error(key, message, help);
        return None;
    }
    size(entry, lumber, &format!("{path}.size"), reading).map(Some)
}
