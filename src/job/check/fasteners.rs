//! The fasteners: their gaps as stated, or as a dry run shows them.

use super::framing::optional;
use super::goods::{goods, money, sale, weighed};
use crate::job::defaults::trial_reading;
use crate::job::document::{Document, FastenerTable, PackTable, TrialTable};
use crate::job::model::{
    Fastener, FastenerKind, FastenerTime, Pack, PerWeight, Percent, Span, Trial,
};
use crate::job::problem::Place;
use crate::job::reading::{Entry, Reading};
use crate::job::values::Several;
use crate::length::Length;

/// All fasteners of the job.
pub fn fasteners(document: &Document, reading: &mut Reading) -> Option<Vec<Fastener>> {
    let Several(tables) = document.fastener.get()?;
    if tables.is_empty() {
        reading.error(
            document.fastener.place(),
            "the job has no fastener, and the fastener sets the gap",
            "add `[[fastener]]`, and below it `name = \"slim clip\"` and `gap = \"3/16in\"`",
        );
        return None;
    }
    let face = document.board.fields().face.get().map(|face| face.0);
    let mut whole = Some(Vec::with_capacity(tables.len()));
    for (number, (table, heading)) in tables.iter().enumerate() {
        duplicate(&tables[..number], table, reading);
        let read = fastener(table, heading, face, reading);
        whole = whole.zip(read).map(|(mut read, one)| {
            read.push(one);
            read
        });
    }
    whole
}

/// A name that another fastener has already.
fn duplicate(before: &[(FastenerTable, Place)], table: &FastenerTable, reading: &mut Reading) {
    let Some(name) = table.name.get() else { return };
    let same = before
        .iter()
        .find(|(other, _)| other.name.get().is_some_and(|other| other.is_same(&name.0)));
    let Some((first, _)) = same else { return };
    let message = format!("two fasteners are called \"{}\"", name.0);
    let help = "give each a name of its own: answers, paths and `--fastener` go by it";
    reading
        .error(table.name.place(), message, help)
        .also(first.name.place(), "the first one");
}

fn fastener(
    table: &FastenerTable,
    heading: &Place,
    face: Option<Length>,
    reading: &mut Reading,
) -> Option<Fastener> {
    let called = match table.name.get() {
        Some(name) => format!("\"{}\"", name.0),
        None => "this fastener".to_owned(),
    };
    if table.gap.is_absent() && table.trial.is_absent() {
        reading.error(
            heading.clone(),
            format!("{called} has no `gap`"),
            "say the gap it leaves: `gap = \"3/16in\"`; or measure it: \
             `trial = { boards = 10, over = \"4ft 8-5/8in\" }`",
        );
    }
    let stated = super::span(&table.gap, &format!("the gap of {called}"), reading);
    let trial = match &table.trial {
        Entry::Absent => Some(None),
        entry => entry.get().and_then(trial).map(Some),
    };
    let gap = match trial {
        Some(None) => stated,
        Some(Some(trial)) => match (stated, face) {
            (Some(stated), Some(face)) => measured(&called, stated, trial, face, table, reading),
            _ => None,
        },
        None => None,
    };
    if let (Some(gap), Some(face)) = (gap, face)
        && gap.most >= face
    {
        let message = format!(
            "the gap of {called} is {}, and the board only {} wide",
            reading.show(gap.most),
            reading.show(face)
        );
        let place = table.gap.place().or_else(|| table.trial.place());
        reading.error(
            place,
            message,
            "a gap is narrower than the board; check the unit of both",
        );
    }
    let packs = packs(&called, table, reading);
    misplaced(&called, table, reading);
    let starter = optional(&table.starter, |table| {
        goods(table, "starter clip", reading)
    });
    let plug = optional(&table.plug, |table| goods(table, "plug", reading));
    let uncertainty = match trial? {
        Some(trial) => shared(trial_reading(reading.unit), trial),
        None => table.uncertainty.or(Length::ZERO)?,
    };
    Some(Fastener {
        name: table.name.get()?.0.clone(),
        gap: gap?,
        tolerance: table.tolerance.or(Length::ZERO)?,
        uncertainty,
        kind: table.kind.or(FastenerKind::Clip)?,
        packs: packs?,
        spare: table.spare.or(Percent::default())?,
        trial: trial?,
        time: FastenerTime {
            each: table.minutes.or(0u32)?,
            course: table.course_minutes.or(0u32)?,
        },
        starter: starter?,
        plug: plug?,
    })
}

/// Starters belong to clips, plugs to screws through the face.
fn misplaced(called: &str, table: &FastenerTable, reading: &mut Reading) {
    let (key, name, why, help) = match table.kind.or(FastenerKind::Clip) {
        Some(FastenerKind::Face) => (
            table.starter.key(),
            "starter",
            "goes through the face, the outer edges too",
            "a starter belongs to a `clip`: take it out",
        ),
        Some(FastenerKind::Clip) => (
            table.plug.key(),
            "plug",
            "is a clip and leaves no hole",
            "a plug belongs to a fastener of `kind = \"face\"`: take it out, or say so",
        ),
        None => return,
    };
    if let Some(key) = key {
        reading.error(key, format!("`{name}`: {called} {why}"), help);
    }
}

/// The packs it is sold in. A size and a price by themselves are a list of
/// one; a price alone is that of a piece.
fn packs(called: &str, table: &FastenerTable, reading: &mut Reading) -> Option<Vec<Pack>> {
    let sale = sale!(table);
    let name = &table.name.get()?.0;
    let each = sale.per_weight(name, reading)?;
    // What a yard lists is what can be bought there.
    let listed = reading.prices.packs(name, each);
    if !listed.is_empty() {
        return Some(listed);
    }
    let single = [
        ("pack", table.pack.is_absent(), table.pack.key()),
        (
            "pack_price",
            table.pack_price.is_absent(),
            table.pack_price.key(),
        ),
    ];
    let single = single.into_iter().find(|(_, absent, _)| !absent);
    let packs = match (single, table.packs.option()?) {
        (Some((single, _, key)), Some(_)) => {
            let message = format!("{called} has both `{single}` and `packs`");
            let help =
                "keep one: `pack` and `pack_price` for packs of one size, `packs` for several";
            reading
                .error(table.packs.key(), message, help)
                .also(key, "the other one");
            return None;
        }
        (Some(_), None) => vec![sale.pack(name, each, reading)?],
        (None, None) => Vec::new(),
        (None, Some(Several(tables))) => {
            let read = tables
                .iter()
                .map(|(table, heading)| pack(name, table, heading, each, reading));
            // All of them, so that no mistake hides another.
            let read: Vec<Option<Pack>> = read.collect();
            read.into_iter().collect::<Option<_>>()?
        }
    };
    if packs.iter().all(|pack| pack.weight.is_none()) {
        sale.of_no_use(name, reading);
    }
    Some(packs)
}

/// One of several packs: so many pieces, or so much by weight.
fn pack(
    name: &str,
    table: &PackTable,
    heading: &Place,
    each: Option<PerWeight>,
    reading: &mut Reading,
) -> Option<Pack> {
    let (pieces, weight) = (table.pieces.option()?, table.weight.option()?);
    let price = money(&table.price)?;
    match (pieces, weight) {
        (Some(pieces), None) => Some(Pack::of(pieces.0, Some(price?))),
        (None, Some(weight)) => {
            let place = table.weight.place();
            weighed(name, weight.0, each, Some(price?), place, reading)
        }
        (None, None) => {
            let message = format!("a pack of \"{name}\" does not say what is in it");
            let help = "add `pieces = 350`, or `weight = \"5 lb\"` for what is sold by weight";
            reading.error(heading.clone(), message, help);
            None
        }
        (Some(_), Some(_)) => {
            let message = format!("a pack of \"{name}\" has both `pieces` and `weight`");
            reading
                .error(table.weight.key(), message, "keep one of them")
                .also(table.pieces.key(), "the other one");
            None
        }
    }
}

fn trial(table: &TrialTable) -> Option<Trial> {
    Some(Trial {
        boards: table.boards.get()?.0,
        over: table.over.get()?.0,
    })
}

/// A length shared among the gaps of a dry run, to the nearest unit, halves
/// away from zero.
fn shared(length: Length, trial: Trial) -> Length {
    let gaps = i64::from(trial.boards) - 1;
    let units = (length.units().abs() * 2 + gaps) / (gaps * 2);
    Length::from_units(units * length.units().signum())
}

/// The gap that a dry run shows. What can be set by hand can still be set: a
/// stated range stays, and is widened to hold the measured gap.
fn measured(
    called: &str,
    stated: Span,
    trial: Trial,
    face: Length,
    table: &FastenerTable,
    reading: &mut Reading,
) -> Option<Span> {
    let boards = face * i64::from(trial.boards);
    let gap = shared(trial.over - boards, trial);
    if gap.is_negative() {
        let message = format!(
            "{} boards of {} are {} wide without any gap, and the trial of {called} says {}",
            trial.boards,
            reading.show(face),
            reading.show(boards),
            reading.show(trial.over)
        );
        let help = "measure over all, outer edge to outer edge; if that is right, measure `board.face` again";
        reading.error(table.trial.place(), message, help);
        return None;
    }
    if table.gap.is_absent() {
        return Some(Span::fixed(gap));
    }
    let slack = shared(trial_reading(reading.unit), trial);
    if gap + slack < stated.least || gap - slack > stated.most {
        let message = format!(
            "the trial of {called} shows a gap of {}, not the {} stated",
            gap.show(reading.unit),
            reading.show(stated.set)
        );
        reading
            .caution(table.trial.place(), message, "the measured gap is used")
            .also(table.gap.place(), "as stated");
    }
    if !stated.is_free() {
        return Some(Span::fixed(gap));
    }
    Some(Span {
        set: gap,
        least: stated.least.min(gap),
        most: stated.most.max(gap),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ten_boards_share_nine_gaps_to_the_nearest_unit() {
        let trial = Trial {
            boards: 10,
            over: Length::ZERO,
        };
        // Computed: 4 ft 8-5/8 in less ten boards of 5-1/2 in leave 1-5/8 in for nine gaps.
        let over = Length::from_64ths(104);
        assert_eq!(over.units(), 330_200);
        assert_eq!(shared(over, trial), Length::from_units(36_689));
        assert_eq!(shared(Length::from_units(4), trial), Length::ZERO);
        assert_eq!(shared(Length::from_units(5), trial), Length::from_units(1));
        assert_eq!(
            shared(Length::from_units(-5), trial),
            Length::from_units(-1)
        );
        let three = Trial {
            boards: 3,
            over: Length::ZERO,
        };
        assert_eq!(shared(Length::from_units(1), three), Length::from_units(1));
        assert_eq!(
            shared(Length::from_units(-1), three),
            Length::from_units(-1)
        );
    }
}
