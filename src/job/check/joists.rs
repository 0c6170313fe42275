//! The supports as asked for: a spacing, or exact positions.

use crate::job::document::{Document, JoistsTable};
use crate::job::model::Joists;
use crate::job::problem::Place;
use crate::job::reading::Reading;
use crate::length::Length;

/// More joists than this are a slip of the pen.
const MOST_JOISTS: i64 = 10_000;

/// The supports.
pub fn joists(document: &Document, reading: &mut Reading) -> Option<Joists> {
    let table = document.joists.fields();
    let along = document.deck.fields().along.get().map(|along| along.0);
    let (usual_spacing, usual_thickness) = Joists::customary_sizes(reading.unit);
    if document.joists.is_absent() && !document.stock.is_absent() {
        let message = format!(
            "the job does not say where its joists are; {} on centre is taken",
            reading.show(usual_spacing)
        );
        let help = "joints fall on joists: say where they are with `spacing` or `positions` below `[joists]`";
        reading.caution(None, message, help);
    }
    let thickness = table.thickness.or(usual_thickness);
    end_gap(document, thickness, reading);
    if !table.positions.is_absent() {
        return Some(Joists::Positions {
            centres: positions(&table, along, reading)?,
            spacing: table.spacing.option()?.map(|spacing| spacing.0),
            thickness: thickness?,
        });
    }
    let spacing: Option<Length> = table.spacing.or(usual_spacing);
    if let (Some(spacing), Some(thickness)) = (spacing, thickness)
        && spacing < thickness
    {
        let message = format!(
            "joists {} thick do not fit {} apart on centre",
            reading.show(thickness),
            reading.show(spacing)
        );
        let place = table.spacing.place().or_else(|| table.thickness.place());
        let help = "check the unit of `joists.spacing` and `joists.thickness`";
        reading.error(place, message, help);
    }
    if let (Some(spacing), Some(along)) = (spacing, along) {
        let count = along.units() / spacing.units();
        if count > MOST_JOISTS {
            let message = format!(
                "a joist every {} would make {count} of them",
                reading.show(spacing)
            );
            let help = format!("check its unit; a job has at most {MOST_JOISTS} joists");
            reading.error(table.spacing.place(), message, help);
        }
    }
    if let (Some(first), Some(place)) = (table.first.get(), table.first.place()) {
        outside(first.0, &place, along, reading);
    }
    Some(Joists::Spaced {
        spacing: spacing?,
        first: table.first.or(spacing?)?,
        thickness: thickness?,
    })
}

/// The positions, which have to be in order and within the frame.
fn positions(
    table: &JoistsTable,
    along: Option<Length>,
    reading: &mut Reading,
) -> Option<Vec<Length>> {
    let given = &table.positions.get()?.0;
    if !table.first.is_absent() {
        let message = "`joists.first` has no effect beside `joists.positions`";
        let help = "the positions are all the joists there are; take `first` out";
        reading
            .caution(table.first.key(), message, help)
            .also(table.positions.key(), "these count");
    }
    if given.len() < 2 || given.len() as i64 > MOST_JOISTS {
        let message = format!("there are {} centres in `joists.positions`", given.len());
        let help =
            format!("name from 2 to {MOST_JOISTS} joists, those at the frame's two sides included");
        reading.error(table.positions.place(), message, help);
        return None;
    }
    for ((one, one_place), (next, place)) in given.iter().zip(&given[1..]) {
        if next > one {
            continue;
        }
        let (what, help) = if next == one {
            ("is given twice", "take one of them out")
        } else {
            (
                "is out of order",
                "list the centres from the frame's left side to its right",
            )
        };
        let message = format!("the joist at {} {what}", reading.show(*next));
        reading
            .error(place.clone(), message, help)
            .also(Some(one_place.clone()), "after this one");
    }
    for (at, place) in given {
        outside(*at, place, along, reading);
    }
    Some(given.iter().map(|(at, _)| *at).collect())
}

/// Refuses a joist outside the frame.
fn outside(at: Length, place: &Place, along: Option<Length>, reading: &mut Reading) {
    let Some(along) = along else { return };
    if !at.is_negative() && at <= along {
        return;
    }
    let message = format!(
        "the joist at {} is outside the frame, which is {} long",
        reading.show(at),
        reading.show(along)
    );
    let help = "joists are given by their centres, counted from the frame's left side";
    reading.error(place.clone(), message, help);
}

/// Refuses an end gap so wide that boards would miss the joist below the joint.
fn end_gap(document: &Document, thickness: Option<Length>, reading: &mut Reading) {
    let joints = document.joints.fields();
    let (Some(gap), Some(thickness)) = (joints.end_gap.get(), thickness) else {
        return;
    };
    if gap.0 < thickness {
        return;
    }
    let message = format!(
        "two boards {} apart at a joint do not both reach a joist {} thick",
        reading.show(gap.0),
        reading.show(thickness)
    );
    let help = "`joints.end_gap` is less than `joists.thickness`; check the unit of both";
    reading.error(joints.end_gap.place(), message, help);
}
