//! The fascia: the edges it dresses are open and have a thickness, the same one
//! everywhere, and there are boards to cut it from. Whether the boards are long
//! enough is left to the order, which knows the joists.

use super::framing::optional;
use super::goods::{bought, goods, money, spaced};
use super::stock::boards;
use crate::job::document::Document;
use crate::job::fascia::tables::FasciaTable;
use crate::job::fascia::{
    Adhesive, Corners, FasciaRules, Packers, RunsPast, Side, Splices, fascia_kind,
};
use crate::job::framing::{FrameRules, Lumber, Spaced};
use crate::job::model::{Cutting, Edge, Edges, Stock};
use crate::job::reading::{Entry, Reading};
use crate::length::Length;

/// What its boards are called where the job does not say.
const NAME: &str = "fascia board";

/// The fascia, if the job describes one.
pub fn fascia(
    document: &Document,
    edges: Option<&Edges>,
    reading: &mut Reading,
) -> Option<Option<FasciaRules>> {
    if document.fascia.is_absent() {
        return Some(None);
    }
    let table = document.fascia.get()?;
    let stock = stock(document, table, reading);
    let sides = edges.and_then(|edges| sides(document, table, edges, reading));
    let corners = table.corners.or(Corners::Mitred);
    let returns = table.returns.option().map(|length| length.map(|l| l.0));
    let packed = table.packer.fields().thickness.get().map(|packed| packed.0);
    let packed = packed.unwrap_or_default();
    if let (Some(edges), Some(sides), true) = (edges, &sides, packed > Length::ZERO) {
        overhung(table, edges, sides, packed, reading);
    }
    let thickness = edges.zip(sides.as_ref()).map(|(edges, sides)| {
        let thickness = sides.iter().map(|&side| edges.fascia(side) + packed);
        thickness.max().unwrap_or_default()
    });
    if let (Some(key), Some(Corners::Butted)) = (table.returns.key(), corners) {
        let help = "keep `corners = \"mitred\"`, or take `returns` out";
        let message = "`fascia.returns`: a return turns a mitred corner, and these are butted";
        reading
            .error(key, message, help)
            .also(table.corners.place(), "here");
    }
    let scarf = table.scarf.or(Length::ZERO);
    if let (Some(Some(returns)), Some(thickness), Some(scarf)) = (returns, thickness, scarf) {
        // Over its long point it reaches past the other fascia, and there has to
        // be some of it on the frame beyond a scarf.
        let least = thickness + scarf;
        if returns <= least {
            let message = format!(
                "`fascia.returns` is {}, and {} of it lie over the corner and the splice",
                reading.show(returns),
                reading.show(least)
            );
            let help = "a return is measured over its long point: make it longer, \"12in\"";
            reading.error(table.returns.place(), message, help);
        }
    }
    if let (Some(key), true) = (table.plug.key(), table.screws.is_absent()) {
        let message = "`fascia.plug`: a plug closes the hole over a screw, and there are none";
        let help = "add `screws = { spacing = \"16in\", at_each = 2 }`, or take `plug` out";
        reading.error(key, message, help);
    }
    let usual = Cutting::customary(reading.unit);
    let cutting = document.cutting.fields();
    Some(Some(FasciaRules {
        name: table.name.or(NAME.to_owned())?,
        height: table.height.option()?.map(|height| height.0),
        sides: sides?,
        corners: corners?,
        runs_past: table.runs_past.or(RunsPast::Along)?,
        returns: returns?,
        splices: table.splices.or(Splices::OnJoists)?,
        scarf: scarf?,
        stock: stock?,
        screws: optional(&table.screws, |table| {
            spaced(table, "fascia screw", reading)
        })?,
        plug: optional(&table.plug, |table| goods(table, "fascia plug", reading))?,
        packers: optional(&table.packer, |table| {
            Some(Packers {
                thickness: table.thickness.get()?.0,
                spaced: Spaced {
                    goods: bought(
                        &table.name,
                        &table.pack,
                        &table.pack_price,
                        &table.spare,
                        "packer behind the fascia",
                    )?,
                    spacing: table.spacing.get()?.0,
                    at_each: table.at_each.or(1u32)?,
                },
            })
        })?,
        adhesive: optional(&table.adhesive, |table| {
            Some(Adhesive {
                name: table.name.or("fascia adhesive".to_owned())?,
                covers: table.covers.get()?.0,
                price: money(&table.price)?,
            })
        })?,
        kerf: table.kerf.or(cutting.kerf.or(usual.kerf)?)?,
        end_trim: table.end_trim.or(cutting.end_trim.or(usual.end_trim)?)?,
    }))
}

/// Cautions where a fascia on packers stands out from under the boards.
fn overhung(
    table: &FasciaTable,
    edges: &Edges,
    sides: &[Side],
    packed: Length,
    reading: &mut Reading,
) {
    for &side in sides {
        let Edge::Open { overhang, .. } = edges.at(side) else {
            continue;
        };
        // The overhang is past a fascia that lies on the frame.
        if overhang.set >= packed {
            continue;
        }
        let thick = edges.fascia(side);
        let name = side.name();
        let message = format!(
            "the fascia of the {name} edge stands {} off the frame on its packers, and the boards \
             reach {} past it",
            reading.show(thick + packed),
            reading.show(thick + overhang.set)
        );
        let help = format!(
            "lay the boards further over the frame, `edge.{name}.overhang`, or take thinner packers"
        );
        reading.caution(table.packer.place(), message, help);
    }
}

/// The boards it is cut from: at least one that can be had.
fn stock(document: &Document, table: &FasciaTable, reading: &mut Reading) -> Option<Vec<Stock>> {
    let tables = &table.stock.get()?.0;
    let (end_trim, home) = match table.end_trim.get() {
        Some(trim) => (Some(trim.0), "fascia"),
        None => {
            let trim = document.cutting.fields().end_trim.get().map(|trim| trim.0);
            (trim, "cutting")
        }
    };
    let named = table.name.or(NAME.to_owned());
    let height = table.height.option().map(|height| height.map(|h| h.0));
    let kind = (named.zip(height)).map(|(name, height)| fascia_kind(&name, height, reading.unit));
    let stock = boards(tables, kind, end_trim, home, reading)?;
    if !stock.iter().any(Stock::can_be_had) {
        let message = "no board for the fascia can be had";
        let help = "add a length that the yard sells: `[[fascia.stock]]`, and below it `length` \
                    and `price`";
        let place = tables.first().map(|(_, heading)| heading.clone());
        reading.error(place.or_else(|| table.stock.place()), message, help);
        return None;
    }
    Some(stock)
}

/// The sides it dresses: those named, or every one that has a fascia.
fn sides(
    document: &Document,
    table: &FasciaTable,
    edges: &Edges,
    reading: &mut Reading,
) -> Option<Vec<Side>> {
    let dressed = |side: &Side| edges.fascia(*side) > Length::ZERO;
    let (sides, place) = match &table.edges {
        Entry::Absent => {
            let sides: Vec<Side> = Side::ALL.into_iter().filter(dressed).collect();
            if sides.is_empty() {
                let message = "no edge has a fascia for `[fascia]` to cut";
                let help = "say how thick it is at each edge that has one: `edge.last.fascia = \
                            \"3/4in\"`";
                reading.error(document.fascia.place(), message, help);
                return None;
            }
            (sides, document.fascia.place())
        }
        named => {
            let named_at = named.place();
            let named = &named.get()?.0;
            if named.is_empty() {
                let help = "name an edge, `edges = [\"last\"]`, or take `edges` out for all that \
                            have a fascia";
                reading.error(named_at, "`fascia.edges` names no edge", help);
                return None;
            }
            let mut whole = true;
            for (number, (side, place)) in named.iter().enumerate() {
                let name = side.name();
                let twice = named[..number].iter().find(|(other, _)| other == side);
                let (message, help) = if let Some((_, first)) = twice {
                    let message = format!("`fascia.edges` names the {name} edge twice");
                    reading
                        .error(place.clone(), message, "take one of them out")
                        .also(Some(first.clone()), "the first one");
                    whole = false;
                    continue;
                } else if let Edge::Wall { .. } = edges.at(*side) {
                    (
                        format!(
                            "`fascia.edges`: the {name} edge is at a wall, which has no fascia"
                        ),
                        format!("take \"{name}\" out, or `edge.{name}.wall_clearance`"),
                    )
                } else if !dressed(side) {
                    (
                        format!("`fascia.edges`: the fascia of the {name} edge has no thickness"),
                        format!(
                            "say how thick it is, `edge.{name}.fascia = \"3/4in\"`, or take \
                             \"{name}\" out"
                        ),
                    )
                } else {
                    continue;
                };
                reading.error(place.clone(), message, help);
                whole = false;
            }
            if !whole {
                return None;
            }
            let is_named = |side: &Side| named.iter().any(|(other, _)| other == side);
            let sides = Side::ALL.into_iter().filter(is_named).collect();
            (sides, named_at)
        }
    };
    let thickness = |side: Side| edges.fascia(side);
    let other = sides
        .iter()
        .find(|side| thickness(**side) != thickness(sides[0]));
    if let Some(&other) = other {
        let message = format!(
            "the fascia of the {} edge is {} thick and that of the {} edge {}",
            sides[0].name(),
            reading.show(thickness(sides[0])),
            other.name(),
            reading.show(thickness(other))
        );
        let help = format!(
            "boards of one thickness are cut together: name the edges they are for, `edges = \
             [\"{}\"]`, and list the others as an `[[item]]`",
            sides[0].name()
        );
        reading.error(place, message, help);
        return None;
    }
    Some(sides)
}

/// A caution where the fascia does not cover the lumber behind it.
pub fn covers(
    document: &Document,
    lumber: Option<&[Lumber]>,
    frame: &Option<Option<FrameRules>>,
    reading: &mut Reading,
) {
    let table = document.fascia.fields();
    let (Some(height), Some(lumber), Some(Some(frame))) = (table.height.get(), lumber, frame)
    else {
        return;
    };
    let behind = [frame.rim, frame.joist].map(|size| &lumber[size]);
    let Some(deepest) = behind.into_iter().max_by_key(|size| size.depth) else {
        return;
    };
    if height.0 >= deepest.depth {
        return;
    }
    let message = format!(
        "the fascia is {} high and the {} behind it {} deep: {} of it stays bare",
        reading.show(height.0),
        deepest.size,
        reading.show(deepest.depth),
        reading.show(deepest.depth - height.0)
    );
    let help = "take a higher board, or leave it so if that is meant";
    reading.caution(table.height.place(), message, help);
}
