//! Lumber by size, and the frame that is made of it: every size named has to be
//! sold, and a ledger needs a wall.

use super::goods::{fixing, goods, money, sale, spaced};
use super::stock::offer;
use crate::job::document::Document;
use crate::job::dressed::{self, Dressed};
use crate::job::framing::tables::{
    BeamTable, BlockingTable, FlashingTable, FrameTable, LumberTable, PliesTable, RollTable,
};
use crate::job::framing::{
    Beam, BeamPlaces, Blocking, BlockingPattern, Flashing, FrameFastener, FrameRules, Lumber,
    Plies, Preservative, Roll, stick_kind,
};
use crate::job::model::{Cutting, Edge, Edges, Joists};
use crate::job::problem::Place;
use crate::job::reading::{Entry, Reading, nearest};
use crate::job::values::{Count, Flag, Several, Words};
use crate::length::Length;

/// More beams than this are a slip of the pen.
const MOST_BEAMS: u32 = 100;

/// Lumber by size, in the order the sizes first appear; there may be none.
pub fn lumber(document: &Document, reading: &mut Reading) -> Option<Vec<Lumber>> {
    let Some(Several(tables)) = document.lumber.option()? else {
        return Some(Vec::new());
    };
    let end_trim = match document.frame.fields().end_trim.get() {
        Some(trim) => Some((trim.0, "frame")),
        None => (document.cutting.fields().end_trim.get()).map(|trim| (trim.0, "cutting")),
    };
    let mut whole = true;
    let mut sizes: Vec<(Lumber, &LumberTable)> = Vec::new();
    for (table, heading) in tables {
        let kind = table.size.get().zip(table.treated.or(false));
        let kind = kind.map(|(size, treated)| stick_kind(&size.0, treated));
        let offer = offer!("stick", table).of(kind);
        if let Some((trim, home)) = end_trim {
            offer.trims(Some(trim), home, reading);
        }
        let stock = offer.read(heading, reading);
        let (Some(stock), Some(size), Some(treated)) =
            (stock, table.size.get(), table.treated.or(false))
        else {
            whole = false;
            continue;
        };
        match sizes
            .iter_mut()
            .find(|(known, _)| size.is_same(&known.size))
        {
            Some((known, first)) => {
                whole &= agrees(known, first, table, reading);
                known.stock.push(stock);
            }
            None => match section(table, size, heading, reading) {
                Some((thickness, depth)) => sizes.push((
                    Lumber {
                        size: size.0.clone(),
                        thickness,
                        depth,
                        treated,
                        stock: vec![stock],
                    },
                    table,
                )),
                None => whole = false,
            },
        }
    }
    whole.then(|| sizes.into_iter().map(|(size, _)| size).collect())
}

/// Whether a further length of a size says nothing else of its section.
fn agrees(known: &Lumber, first: &LumberTable, table: &LumberTable, reading: &mut Reading) -> bool {
    let sides = [
        (
            "thickness",
            &table.thickness,
            &first.thickness,
            known.thickness,
        ),
        ("depth", &table.depth, &first.depth, known.depth),
    ];
    let mut agrees = true;
    for (name, entry, other, before) in sides {
        let Some(now) = entry.get().filter(|now| now.0 != before) else {
            continue;
        };
        let message = format!(
            "the {name} of {} is {} here and {} before",
            known.size,
            reading.show(now.0),
            reading.show(before)
        );
        let help = "lumber of one size has one section; give what differs a size of its own name";
        reading
            .error(entry.place(), message, help)
            .also(other.place(), "before");
        agrees = false;
    }
    if let Some(Flag(now)) = table.treated.get()
        && *now != known.treated
    {
        let message = format!("{} is treated in one length and not in another", known.size);
        let help = "say `treated = true` for every length, or give what differs a size of its own \
                    name";
        reading
            .error(table.treated.place(), message, help)
            .also(first.treated.place(), "the first length");
        agrees = false;
    }
    agrees
}

/// Thickness and depth as given, or by the nominal size as it is dressed.
fn section(
    table: &LumberTable,
    size: &Words,
    heading: &Place,
    reading: &mut Reading,
) -> Option<(Length, Length)> {
    let dressed = match table.green.or(false)? {
        true => Dressed::Green,
        false => Dressed::Dry,
    };
    let usual = dressed::section(&size.0, dressed);
    if let (Some(key), Some(true)) = (table.green.key(), table.green.or(false)) {
        let measured = !table.thickness.is_absent() && !table.depth.is_absent();
        if measured || usual.is_none() {
            let message = format!("`green`: it does not say what {} measures", size.0);
            let help = "`green = true` is for a nominal size such as `2x8` whose `thickness` or \
                        `depth` is not given; take it out";
            reading.caution(key, message, help);
        }
    }
    let given = |entry: &Entry<crate::job::values::Positive>, usual: Option<Length>| match entry {
        Entry::Absent => usual,
        entry => entry.get().map(|length| length.0),
    };
    let thickness = given(&table.thickness, usual.map(|[thickness, _]| thickness));
    let depth = given(&table.depth, usual.map(|[_, depth]| depth));
    let unsaid = table.thickness.is_absent() || table.depth.is_absent();
    if usual.is_none() && unsaid {
        reading.error(
            heading.clone(),
            format!("it is not known how thick and deep \"{}\" is", size.0),
            "measure it and write `thickness = \"1-1/2in\"` and `depth = \"7-1/4in\"`",
        );
    }
    thickness.zip(depth)
}

/// The place of a size that the job sells; says so when there is none.
pub(super) fn size(
    entry: &Entry<Words>,
    lumber: Option<&[Lumber]>,
    field: &str,
    reading: &mut Reading,
) -> Option<usize> {
    let (wanted, lumber) = (entry.get()?, lumber?);
    let found = lumber.iter().position(|known| wanted.is_same(&known.size));
    if found.is_none() {
        let sizes = || lumber.iter().map(|known| known.size.as_str());
        let help = match nearest(&wanted.0, sizes()) {
            _ if lumber.is_empty() => format!(
                "add each length of it: `[[lumber]]`, and below it `size = \"{}\"`, `length` and \
                 `price`",
                wanted.0
            ),
            Some(near) => format!("\"{near}\" may be meant; or add a `[[lumber]]` of this size"),
            None => format!(
                "there is {}; or add a `[[lumber]]` of this size",
                sizes().collect::<Vec<_>>().join(", ")
            ),
        };
        let message = format!("`{field}`: no lumber of size \"{}\" is sold", wanted.0);
        reading.error(entry.place(), message, help);
    }
    found
}

/// The frame, if the job describes one.
pub fn frame(
    document: &Document,
    lumber: Option<&[Lumber]>,
    edges: Option<&Edges>,
    reading: &mut Reading,
) -> Option<Option<FrameRules>> {
    if document.frame.is_absent() {
        return Some(None);
    }
    let table = document.frame.get()?;
    let joist = size(&table.joist, lumber, "frame.joist", reading);
    let rim = match table.rim {
        Entry::Absent => joist,
        _ => size(&table.rim, lumber, "frame.rim", reading),
    };
    if let (Some(joist), Some(lumber)) = (joist, lumber) {
        thickness(document, &lumber[joist], table, reading);
    }
    let rims = table.rims.or(Count(1)).map(|rims| rims.0);
    if let Some(rims @ 3..) = rims {
        let message = format!("`frame.rims` is {rims}");
        let help = "a rim is single or doubled: 1 or 2 at each edge";
        reading.error(table.rims.place(), message, help);
    }
    let ledger = match table.ledger {
        Entry::Absent => Some(None),
        _ => size(&table.ledger, lumber, "frame.ledger", reading).map(Some),
    };
    attached(table, edges, reading);
    let blocking = optional(&table.blocking, |table| {
        blocking(table, joist, lumber, reading)
    });
    let beam = optional(&table.beam, |table| beam(table, document, lumber, reading));
    let tape = optional(&table.tape, |table| roll(table, "frame.tape", reading));
    let flashing = optional(&table.flashing, |table| {
        lapping(table, "frame.flashing", reading)
    });
    let fasteners = fasteners(table, reading);
    let usual = Cutting::customary(reading.unit);
    let cutting = document.cutting.fields();
    Some(Some(FrameRules {
        joist: joist?,
        rim: rim?,
        rims: rims.filter(|rims| *rims < 3)?,
        ledger: ledger?,
        double_joists: table.double_joists.or(true)?,
        blocking: blocking?,
        beam: beam?,
        tape: tape?,
        hanger: optional(&table.hanger, |table| {
            fixing(table, "joist hanger", reading)
        })?,
        double_hanger: optional(&table.double_hanger, |table| {
            fixing(table, "hanger for a doubled joist", reading)
        })?,
        tie: optional(&table.tie, |table| fixing(table, "joist tie", reading))?,
        nail: optional(&table.nail, |table| goods(table, "connector nail", reading))?,
        fasteners: fasteners?,
        ledger_fastener: optional(&table.ledger_fastener, |table| {
            spaced(table, "ledger fastener", reading)
        })?,
        flashing: flashing?,
        preservative: optional(&table.preservative, |table| {
            Some(Preservative {
                ends: table.ends.get()?.0,
                price: money(&table.price)?,
            })
        })?,
        kerf: table.kerf.or(cutting.kerf.or(usual.kerf)?)?,
        end_trim: table.end_trim.or(cutting.end_trim.or(usual.end_trim)?)?,
    }))
}

/// Nails or screws of the frame itself; each says where it goes.
fn fasteners(table: &FrameTable, reading: &mut Reading) -> Option<Vec<FrameFastener>> {
    let Some(Several(tables)) = table.fastener.option()? else {
        return Some(Vec::new());
    };
    let read = tables.iter().map(|(table, heading)| {
        let goods = sale!(table).goods("frame nail", reading);
        let nowhere = table.joist_end.is_absent()
            && table.blocking_end.is_absent()
            && table.plies.is_absent()
            && table.beam_plies.is_absent();
        if nowhere {
            let message = "this fastener of the frame does not say where it goes";
            let help = "add `joist_end = 3`, `blocking_end = 2`, `plies = { spacing = \"16in\", \
                        at_each = 2 }` or `beam_plies`";
            reading.error(heading.clone(), message, help);
            return None;
        }
        let plies = |entry| {
            optional(entry, |table: &PliesTable| {
                Some(Plies {
                    spacing: table.spacing.get()?.0,
                    at_each: table.at_each.or(1u32)?,
                })
            })
        };
        Some(FrameFastener {
            goods: goods?,
            joist_end: table.joist_end.option()?.map_or(0, |count| count.0),
            blocking_end: table.blocking_end.option()?.map_or(0, |count| count.0),
            plies: plies(&table.plies)?,
            beam_plies: plies(&table.beam_plies)?,
        })
    });
    let read: Vec<Option<FrameFastener>> = read.collect();
    read.into_iter().collect()
}

/// A table that need not be there, read by its own function.
pub(super) fn optional<T, U>(
    entry: &Entry<T>,
    read: impl FnOnce(&T) -> Option<U>,
) -> Option<Option<U>> {
    match entry.option()? {
        None => Some(None),
        Some(table) => read(table).map(Some),
    }
}

/// A caution where the joists are not as thick as their lumber.
fn thickness(document: &Document, joist: &Lumber, table: &FrameTable, reading: &mut Reading) {
    let joists = document.joists.fields();
    let usual = Joists::customary_sizes(reading.unit).1;
    let said: Option<Length> = joists.thickness.or(usual);
    let Some(said) = said.filter(|said| !same_thickness(*said, joist.thickness)) else {
        return;
    };
    let message = format!(
        "joists of {} are {} thick, and `joists.thickness` is {}",
        joist.size,
        reading.show(joist.thickness),
        reading.show(said)
    );
    let help = "measure a joist and write the same under both";
    let place = joists.thickness.place().or_else(|| table.joist.place());
    reading.error(place, message, help);
}

/// Whether two figures are of one thickness: dressed sizes are exact in inches, and
/// whole millimetres are those rounded, 38 mm for 1-1/2 in.
fn same_thickness(said: Length, dressed: Length) -> bool {
    let mm = Length::UNITS_PER_MM;
    said == dressed || said.units() % mm == 0 && ((said.units() - dressed.units()) * 2).abs() <= mm
}

/// A ledger, and what belongs to one, need a wall where joists end.
fn attached(table: &FrameTable, edges: Option<&Edges>, reading: &mut Reading) {
    let wall = |edge: &Edge| matches!(edge, Edge::Wall { .. });
    if let (Some(key), Some(edges)) = (table.ledger.key(), edges)
        && !wall(&edges.first)
        && !wall(&edges.last)
    {
        let help = if wall(&edges.left) || wall(&edges.right) {
            "joists run beside a wall at the left or right edge and end at the first and last: \
             take `ledger` out, the joist along the wall is counted with the others"
        } else {
            "say which edge is at the wall, `edge.first.wall_clearance = \"1/4in\"`, or take \
             `ledger` out"
        };
        let message = "`frame.ledger`: there is no wall where joists end";
        reading.error(key, message, help);
    }
    if !table.ledger.is_absent() {
        return;
    }
    for (name, key) in [
        ("ledger_fastener", table.ledger_fastener.key()),
        ("flashing", table.flashing.key()),
    ] {
        let Some(key) = key else { continue };
        let message = format!("`frame.{name}` belongs to a ledger, and the frame has none");
        let help = format!("name the ledger's size, `ledger = \"2x8\"`, or take `{name}` out");
        reading.error(key, message, help);
    }
}

fn blocking(
    table: &BlockingTable,
    joist: Option<usize>,
    lumber: Option<&[Lumber]>,
    reading: &mut Reading,
) -> Option<Blocking> {
    let size = match table.size {
        Entry::Absent => joist,
        _ => size(&table.size, lumber, "frame.blocking.size", reading),
    };
    Some(Blocking {
        rows: table.rows.get()?.0,
        pattern: table.pattern.or(BlockingPattern::Staggered)?,
        size: size?,
    })
}

fn beam(
    table: &BeamTable,
    document: &Document,
    lumber: Option<&[Lumber]>,
    reading: &mut Reading,
) -> Option<Beam> {
    let size = size(&table.size, lumber, "frame.beam.size", reading);
    let plies = table.plies.or(1u32);
    for (name, count, place) in [
        ("plies", plies, table.plies.place()),
        ("count", table.count.or(1u32), table.count.place()),
    ] {
        let Some(count) = count.filter(|count| *count > MOST_BEAMS) else {
            continue;
        };
        let message = format!("`frame.beam.{name}` is {count}");
        let help = format!("write a whole number up to {MOST_BEAMS}");
        reading.error(place, message, help);
    }
    let at = match (&table.count, &table.positions) {
        (Entry::Absent, Entry::Absent) => {
            let message = "the job does not say how many beams there are";
            let help = "write `count = 2` for evenly spread ones, or where they are: `positions = \
                        [\"6ft\", \"12ft\"]`";
            reading.error(table.size.place(), message, help);
            None
        }
        (count, Entry::Absent) => count.get().map(|count| BeamPlaces::Even(count.0)),
        (Entry::Absent, _) => centres(table, document, reading),
        (count, positions) => {
            let message = "`frame.beam` has both `count` and `positions`";
            reading
                .error(positions.key(), message, "keep one of them")
                .also(count.key(), "the other one");
            None
        }
    };
    Some(Beam {
        size: size?,
        plies: plies?,
        at: at?,
    })
}

/// Beams' centres, in order and under the frame.
fn centres(table: &BeamTable, document: &Document, reading: &mut Reading) -> Option<BeamPlaces> {
    let given = &table.positions.get()?.0;
    let across = document.deck.fields().across.get().map(|across| across.0);
    if given.is_empty() || given.len() > MOST_BEAMS as usize {
        let message = format!(
            "there are {} centres in `frame.beam.positions`",
            given.len()
        );
        let help = format!("name from 1 to {MOST_BEAMS} beams, or take `beam` out");
        reading.error(table.positions.place(), message, help);
        return None;
    }
    for ((one, one_place), (next, place)) in given.iter().zip(&given[1..]) {
        if next <= one {
            let message = format!("the beam at {} is out of order", reading.show(*next));
            let help = "list each beam once, from the frame's first edge to its last";
            reading
                .error(place.clone(), message, help)
                .also(Some(one_place.clone()), "after this one");
        }
    }
    for (at, place) in given {
        if at.is_negative() || across.is_some_and(|across| *at > across) {
            let message = format!("the beam at {} is not under the frame", reading.show(*at));
            let help = "beams are given by their centres, counted across from the frame's first \
                        edge";
            reading.error(place.clone(), message, help);
        }
    }
    Some(BeamPlaces::Centres(
        given.iter().map(|(at, _)| *at).collect(),
    ))
}

/// A roll whose laps leave something of it.
pub(super) fn lapping(
    table: &FlashingTable,
    path: &str,
    reading: &mut Reading,
) -> Option<Flashing> {
    let (length, overlap) = (table.length.get()?.0, table.overlap.or(Length::ZERO)?);
    laps(length, overlap, &table.overlap, path, reading)?;
    Some(Flashing {
        length,
        overlap,
        price: money(&table.price)?,
    })
}

pub(super) fn roll(table: &RollTable, path: &str, reading: &mut Reading) -> Option<Roll> {
    let (width, length) = (table.width.get()?.0, table.roll.get()?.0);
    let overlap = table.overlap.or(Length::ZERO)?;
    laps(length, overlap, &table.overlap, path, reading)?;
    Some(Roll {
        width,
        roll: length,
        overlap,
        price: money(&table.price)?,
    })
}

/// Refuses laps as long as the pieces.
pub(super) fn laps<L>(
    length: Length,
    overlap: Length,
    entry: &Entry<L>,
    path: &str,
    reading: &mut Reading,
) -> Option<()> {
    if overlap < length {
        return Some(());
    }
    let message = format!(
        "`{path}.overlap` is {}, and a piece only {} long",
        reading.show(overlap),
        reading.show(length)
    );
    reading.error(entry.place(), message, "a lap is shorter than what laps");
    None
}
