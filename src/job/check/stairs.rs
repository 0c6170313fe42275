//! Stairs: each flight has a name of its own, is not out of proportion, and its
//! tread boards become other pieces cut from the deck boards.

use super::super::document::{Document, StairsTable};
use super::super::framing::{Handrails, Lumber, Riser, Slab, StairGoods};
use super::super::model::{Board, Extra, Fastener};
use super::super::problem::Place;
use super::super::reading::{Entry, Reading};
use super::super::values::Flag;
use super::base::bag;
use super::framing::{optional, size};
use super::goods::goods as one_of;
use crate::length::Length;
use crate::stairs::{Limits, Stairs, Timber};

/// A flight of more risers is a slip of the pen.
const MOST_RISERS: i64 = 200;

/// What holds a tread board where the job does not say.
const TREAD_SCREW: &str = "screw through a tread's face";
/// What a handrail is called where the job does not say.
const HANDRAIL: &str = "handrail";

/// More boards on a tread are one too.
const MOST_BOARDS: u32 = 100;

/// All stairs of the job; there may be none.
pub fn stairs(
    document: &Document,
    lumber: Option<&[Lumber]>,
    reading: &mut Reading,
) -> Option<Vec<Stairs>> {
    let tables = match &document.stairs {
        Entry::Absent => return Some(Vec::new()),
        entry => &entry.get()?.0,
    };
    let mut whole = Some(Vec::with_capacity(tables.len()));
    let mut names: Vec<(String, Option<Place>)> = Vec::new();
    for (number, (table, place)) in (1..).zip(tables) {
        let usual = match tables.len() {
            1 => "stairs".to_owned(),
            _ => format!("stairs {number}"),
        };
        let name = table.name.or(usual);
        if let Some(name) = &name {
            let place = table.name.place().or_else(|| Some(place.clone()));
            let same = |other: &&(String, _)| other.0.to_lowercase() == name.to_lowercase();
            if let Some((_, first)) = names.iter().find(same) {
                let message = format!("two flights of stairs are called \"{name}\"");
                let help = "give each a `name` of its own";
                let error = reading.error(place.clone(), message, help);
                error.also(first.clone(), "the first one");
            }
            names.push((name.clone(), place));
        }
        let read = name.and_then(|name| flight(document, table, lumber, (name, place), reading));
        whole = whole.zip(read).map(|(mut read, one)| {
            read.push(one);
            read
        });
    }
    whole
}

fn flight(
    document: &Document,
    table: &StairsTable,
    lumber: Option<&[Lumber]>,
    (name, place): (String, &Place),
    reading: &mut Reading,
) -> Option<Stairs> {
    let sized = sized(document, table, lumber, reading)?;
    let (rise, width) = (table.rise.get()?.0, table.width.get()?.0);
    let usual = Stairs::of(reading.unit, &name, rise, width);
    let limits = Limits {
        riser_most: table.riser_most.option()?.map(|length| length.0),
        tread_least: table.tread_least.option()?.map(|length| length.0),
        width_least: table.width_least.option()?.map(|length| length.0),
    };
    let stairs = Stairs {
        risers: table.risers.option()?.map(|count| count.0),
        run: table.run.option()?.map(|length| length.0),
        tread_boards: table.tread_boards.option()?.map(|count| count.0),
        stringer_spacing: table.stringer_spacing.or(usual.stringer_spacing)?,
        stringer_thickness: {
            let of_size = sized
                .zip(lumber)
                .map(|(size, lumber)| lumber[size].thickness);
            let usual = of_size.unwrap_or(usual.stringer_thickness);
            table.stringer_thickness.or(usual)?
        },
        timber: timber(table)?,
        size: sized,
        closed: {
            let told = !table.riser.is_absent() || table.riser_from_fascia.or(false)?;
            table.closed.or(told)?
        },
        landing: table.landing.option()?.map(|length| length.0),
        limits,
        ..usual
    };
    let mut refuse = |at: Option<Place>, message: String, help: &str| {
        reading.error(at.or_else(|| Some(place.clone())), message, help);
    };
    let most = Length::from_inches(12);
    let lowest = limits.riser_most.unwrap_or(Length::from_inches(7));
    let count = stairs
        .risers
        .map_or(rise.units() / lowest.units(), i64::from);
    if count > MOST_RISERS {
        refuse(
            table.risers.place().or_else(|| table.riser_most.place()),
            format!("\"{name}\" would have {count} risers"),
            "check the unit of `rise`, and of `riser_most` if it is given",
        );
        return None;
    }
    if width < stairs.stringer_thickness * 2 {
        refuse(
            table.width.place(),
            format!("\"{name}\" is narrower than its two stringers"),
            "check the unit of `width`",
        );
        return None;
    }
    let bays = width.units() / stairs.stringer_spacing.units();
    if stairs.stringer_spacing < stairs.stringer_thickness || bays > 1_000 {
        refuse(
            table.stringer_spacing.place(),
            format!("the stringers of \"{name}\" do not fit so near to each other"),
            "check the unit of `stringer_spacing`",
        );
        return None;
    }
    if stairs.run.is_some_and(|run| run > most * 4) || stairs.tread_boards > Some(MOST_BOARDS) {
        refuse(
            table.run.place().or_else(|| table.tread_boards.place()),
            format!("the steps of \"{name}\" are deeper than 4 ft"),
            "check the unit of `run`; a deeper step is a deck of its own",
        );
        return None;
    }
    Some(stairs)
}

/// The frame's lumber that stringers are cut from, where the job names a size.
fn sized(
    document: &Document,
    table: &StairsTable,
    lumber: Option<&[Lumber]>,
    reading: &mut Reading,
) -> Option<Option<usize>> {
    let Some(key) = table.stringer_size.key() else {
        return table.stringer_size.option().map(|_| None);
    };
    if let Some(other) = table.stringer.key() {
        let message = "these stairs have both `stringer` and `stringer_size`";
        reading
            .error(key.clone(), message, "keep one of them")
            .also(Some(other), "the other one");
    }
    if document.frame.is_absent() {
        let message = "`stringer_size`: stringers are cut with the frame's lumber, and the job \
                       describes no frame";
        let help = "add a `[frame]`, or list their boards: `stringer = [{ length = \"12ft\", \
                    price = 27.10 }]`";
        reading.error(key, message, help);
        return None;
    }
    size(
        &table.stringer_size,
        lumber,
        "stairs.stringer_size",
        reading,
    )
    .map(Some)
}

/// What is bought for each flight beside its boards and stringers.
pub fn goods(document: &Document, reading: &mut Reading) -> Option<Vec<StairGoods>> {
    let tables = match &document.stairs {
        Entry::Absent => return Some(Vec::new()),
        entry => &entry.get()?.0,
    };
    let read = tables
        .iter()
        .map(|(table, _)| goods_of(document, table, reading));
    let read: Vec<Option<StairGoods>> = read.collect();
    read.into_iter().collect()
}

fn goods_of(document: &Document, table: &StairsTable, reading: &mut Reading) -> Option<StairGoods> {
    let screws = optional(&table.screws, |one| one_of(one, TREAD_SCREW, reading));
    let riser = riser(document, table, reading);
    let rail = optional(&table.handrail, |one| one_of(one, HANDRAIL, reading));
    if let (Some(key), true) = (table.handrails.key(), table.handrail.is_absent()) {
        let message = "`handrails`: these stairs do not say what a handrail is";
        let help = "add `handrail = { name = \"handrail, 8 ft\", price = 54.00 }`";
        reading.error(key, message, help);
    }
    let bag = optional(&table.landing_bag, bag);
    for (entry, other, name, of) in [
        (
            table.landing_slab.key(),
            table.landing.is_absent(),
            "landing_slab",
            "landing",
        ),
        (
            table.landing_bag.key(),
            table.landing_slab.is_absent(),
            "landing_bag",
            "landing_slab",
        ),
    ] {
        if let (Some(key), true) = (entry, other) {
            let message = format!("`{name}`: these stairs have no `{of}`");
            let help = format!("add `{of}`, or take `{name}` out");
            reading.error(key, message, help);
        }
    }
    let slab = table.landing_slab.option();
    let count = table.handrails.or(1u32);
    Some(StairGoods {
        screws: screws?,
        riser: riser?,
        handrail: match rail? {
            Some(goods) => Some(Handrails {
                count: count?,
                goods,
            }),
            None => None,
        },
        slab: match (slab?, bag?) {
            (Some(depth), bag) => Some(Slab {
                depth: depth.0,
                bag,
            }),
            (None, _) => None,
        },
    })
}

/// What closes the risers, where the job says.
fn riser(document: &Document, table: &StairsTable, reading: &mut Reading) -> Option<Option<Riser>> {
    let bought = optional(&table.riser, |one| one_of(one, "riser board", reading));
    let of_fascia = table.riser_from_fascia.or(false)?;
    let place = || table.riser_from_fascia.key().or_else(|| table.riser.key());
    if !of_fascia && table.riser.is_absent() {
        return Some(None);
    }
    let mut refuse = |message: &str, help: &str| {
        reading.error(place(), message, help);
        None
    };
    if of_fascia && !table.riser.is_absent() {
        return refuse(
            "these stairs have both `riser` and `riser_from_fascia`",
            "keep one of them",
        );
    }
    if of_fascia && document.fascia.is_absent() {
        return refuse(
            "`riser_from_fascia`: the job describes no fascia to cut riser boards from",
            "add a `[fascia]`, or say what is bought: `riser = { name = \"riser board\", price = \
             14.50 }`",
        );
    }
    if table.closed.get() == Some(&Flag(false)) {
        return refuse(
            "these stairs leave their risers open and say what closes them",
            "take `closed = false` out, or what closes them",
        );
    }
    match of_fascia {
        true => Some(Some(Riser::OfFascia)),
        false => bought.map(|goods| goods.map(Riser::Bought)),
    }
}

fn timber(table: &StairsTable) -> Option<Vec<Timber>> {
    let tables = match &table.stringer {
        Entry::Absent => return Some(Vec::new()),
        entry => &entry.get()?.0,
    };
    let read = tables.iter().map(|(table, _)| {
        Some(Timber {
            length: table.length.get()?.0,
            price: table.price.option()?.map(|price| price.0),
        })
    });
    read.collect()
}

/// The tread boards of all stairs, to be cut from the deck boards.
pub fn treads(
    document: &Document,
    stairs: &[Stairs],
    board: &Board,
    fasteners: &[Fastener],
    written: &[Extra],
    reading: &mut Reading,
) -> Option<Vec<Extra>> {
    let gap = fasteners.first()?.gap.set;
    let mut treads = Vec::new();
    for stairs in stairs {
        let label = stairs.tread_label();
        let same = |extra: &Extra| extra.label.to_lowercase() == label.to_lowercase();
        if written.iter().any(same) {
            let message = format!("other pieces are called \"{label}\", as the stairs' treads are");
            let help = "the treads of `[[stairs]]` are counted by themselves: take the pieces out, or call the stairs or them otherwise";
            reading.error(document.extra.key(), message, help);
            return None;
        }
        let flight = stairs.flight(board.face, gap, reading.unit);
        if flight.boards_each > MOST_BOARDS {
            let message = format!(
                "a tread of \"{}\" would take {} boards side by side",
                stairs.name, flight.boards_each
            );
            let help = "check the unit of `board.face`, and of `run` or `tread_least`";
            reading.error(document.stairs.key(), message, help);
            return None;
        }
        let count = flight.tread_boards();
        if count > 0 {
            treads.push(Extra {
                label,
                length: stairs.width,
                count,
            });
        }
    }
    Some(treads)
}
