//! From what was written to what was meant: fills in defaults, compares fields
//! with each other, and refuses what no deck can be. All of it looks at as much
//! as could be read, so that every mistake is told at once. Geometry beyond
//! "is there anything to cover" is left to [`crate::deck`].

mod base;
mod board;
mod codes;
mod extras;
mod fascia;
mod fasteners;
mod frame;
mod framing;
mod goods;
mod guard;
mod items;
mod joists;
mod laying;
mod movement;
mod ordering;
mod readings;
mod stairs;
mod stock;

use super::document::Document;
use super::model::{Cutting, Job, Span};
use super::reading::{Entry, Reading};
use super::values::Ranged;
use crate::length::Length;

/// The job that a document means, unless something in it is wrong.
pub fn check(document: &Document, reading: &mut Reading) -> Option<Job> {
    let deck = frame::frame(&document.deck.fields(), reading);
    let edges = frame::edges(&document.edge.fields(), reading);
    frame::surface(document, deck.as_ref(), edges.as_ref(), reading);
    let board = board::board(&document.board.fields(), reading);
    let fasteners = fasteners::fasteners(document, reading);
    let stock = stock::stock(document, reading);
    let extras = extras::extras(document, reading);
    let lumber = framing::lumber(document, reading);
    let stairs = stairs::stairs(document, lumber.as_deref(), reading);
    let stair_goods = stairs::goods(document, reading);
    let treads = match (&stairs, &board, &fasteners, &extras) {
        (Some(stairs), Some(board), Some(fasteners), Some(extras)) => {
            stairs::treads(document, stairs, board, fasteners, extras, reading)
        }
        _ => None,
    };
    let joists = joists::joists(document, reading);
    let courses = laying::courses(document, reading);
    let joints = laying::joints(&document.joints.fields(), reading);
    let cutting = cutting(document, reading);
    let frame = framing::frame(document, lumber.as_deref(), edges.as_ref(), reading);
    let fascia = fascia::fascia(document, edges.as_ref(), reading);
    fascia::covers(document, lumber.as_deref(), &frame, reading);
    let base = base::base(document, lumber.as_deref(), frame.as_ref(), reading);
    let codes = codes::codes(document, reading);
    let guards = guard::guards(
        document,
        deck.as_ref(),
        edges.as_ref(),
        stairs.as_deref(),
        lumber.as_deref(),
        reading,
    );
    let items = items::items(document, reading);
    let alternatives = items::alternatives(document, reading);
    let order = ordering::order(&document.order.fields(), items, reading);
    let readings = readings::readings(document, edges.as_ref(), reading);
    laying::counts(document, edges.as_ref(), reading);
    Some(Job {
        title: document.title.or("Deck".to_owned())?,
        unit: reading.unit,
        currency: document.currency.or("$".to_owned())?,
        deck: deck?,
        edges: edges?,
        board: board?,
        fasteners: fasteners?,
        stock: stock?,
        extras: [extras?, treads?].concat(),
        stairs: stairs?,
        stair_goods: stair_goods?,
        joists: joists?,
        courses: courses?,
        joints: joints?,
        cutting: cutting?,
        order: order?,
        prices: reading.prices.clone(),
        alternatives: alternatives?,
        lumber: lumber?,
        frame: frame?,
        fascia: fascia?,
        base: base?,
        codes: codes?,
        guards: guards?,
        readings: readings?,
    })
}

/// The saw.
fn cutting(document: &Document, reading: &mut Reading) -> Option<Cutting> {
    let table = document.cutting.fields();
    let usual = Cutting::customary(reading.unit);
    Some(Cutting {
        kerf: table.kerf.or(usual.kerf)?,
        end_trim: table.end_trim.or(usual.end_trim)?,
        split_rips: table.split_rips.or(usual.split_rips)?,
        rip_kerf: table.rip_kerf.or(usual.rip_kerf)?,
    })
}

/// A length that may be moved; says so when it is outside its own range.
fn span<L: Copy + Into<Length>>(
    entry: &Entry<Ranged<L>>,
    called: &str,
    reading: &mut Reading,
) -> Option<Span>
where
    Length: From<L>,
{
    let table = match entry {
        Entry::Absent => return Some(Span::fixed(Length::ZERO)),
        Entry::Wrong => return None,
        Entry::Given {
            value: Ranged::Fixed(length),
            ..
        } => {
            return Some(Span::fixed((*length).into()));
        }
        Entry::Given {
            value: Ranged::Free(table),
            ..
        } => table,
    };
    let set: Length = (*table.set.get()?).into();
    let least: Length = table.least.or(set)?;
    let most: Length = table.most.or(set)?;
    let (place, bound, message) = if least > most {
        let message = format!(
            "may be from {} to {}",
            reading.show(least),
            reading.show(most)
        );
        (&table.least, &table.most, message)
    } else if set < least {
        let message = format!(
            "is {}, below its least, {}",
            reading.show(set),
            reading.show(least)
        );
        (&table.set, &table.least, message)
    } else if set > most {
        let message = format!(
            "is {}, above its most, {}",
            reading.show(set),
            reading.show(most)
        );
        (&table.set, &table.most, message)
    } else {
        return Some(Span { set, least, most });
    };
    reading
        .error(
            place.place(),
            format!("{called} {message}"),
            "`least` is at most `set`, and `set` at most `most`; move one of them",
        )
        .also(bound.place(), "against this");
    None
}
