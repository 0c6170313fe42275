//! What changes the boards' size after they are laid: wood by moisture or
//! composite by heat, and not both.

use crate::job::document::{AirTable, BoardTable, ExpansionTable, WoodTable};
use crate::job::movement::{Air, Composite, Grain, Moisture, Movement, Temperature, Wood};
use crate::job::reading::{Entry, Reading};
use crate::job::values::{Degrees, Share};
use crate::length::Unit;

/// What changes the boards' size, if the job says so.
pub fn movement(board: &BoardTable, reading: &mut Reading) -> Option<Option<Movement>> {
    let wood = board.wood.option().map(|wood| {
        let wood = wood.map(|table| self::wood(table, board, reading));
        wood.map(|wood| wood.map(Movement::Wood))
    });
    let composite = board.expansion.option().map(|table| {
        let table = table.map(|table| composite(table, reading));
        table.map(|composite| composite.map(Movement::Composite))
    });
    if !board.wood.is_absent() && !board.expansion.is_absent() {
        let message = "boards are wood that follows its moisture or composite that follows its heat, not both";
        let help =
            "keep `board.wood` or `board.expansion`; what heat does to wood is too little to see";
        let error = reading.error(board.expansion.key(), message, help);
        error.also(board.wood.key(), "the wood");
        return None;
    }
    match (wood?, composite?) {
        (Some(movement), _) | (None, Some(movement)) => movement.map(Some),
        (None, None) => Some(None),
    }
}

fn wood(table: &WoodTable, board: &BoardTable, reading: &mut Reading) -> Option<Wood> {
    if table.species.is_absent() && table.coefficient.is_absent() {
        let help =
            "add `species`, such as \"western-redcedar\", or a `coefficient` for another wood";
        reading.error(
            board.wood.key(),
            "`board.wood` does not say what wood it is",
            help,
        );
        return None;
    }
    let now = moisture(
        board,
        ("moisture_now", &table.moisture_now),
        ("air_now", &table.air_now),
        reading,
    );
    let service = moisture(
        board,
        ("moisture_service", &table.moisture_service),
        ("air_service", &table.air_service),
        reading,
    );
    Some(Wood {
        species: table.species.option()?.map(|species| species.0),
        coefficient: table.coefficient.option()?.map(|change| change.0),
        grain: table.grain.or(Grain::default())?,
        moisture_now: now?,
        moisture_service: service?,
        gap_service: table.gap_service.option()?.map(|gap| gap.0),
    })
}

/// A moisture as it is given, or the air it follows from.
fn moisture(
    board: &BoardTable,
    (name, share): (&str, &Entry<Share>),
    (air_name, air): (&str, &Entry<AirTable>),
    reading: &mut Reading,
) -> Option<Moisture> {
    match (share, air) {
        (Entry::Absent, Entry::Absent) => {
            let message = format!("`board.wood` has no `{name}`");
            let help = format!(
                "add `{name} = \"15%\"` as a moisture meter shows it, or the air it follows from: \
                 `{air_name} = {{ humidity = \"65%\", temperature = \"{}\" }}`",
                match reading.unit {
                    Unit::Inch => "70F",
                    Unit::Millimetre => "20C",
                }
            );
            reading.error(board.wood.place(), message, help);
            None
        }
        (share, Entry::Absent) => Some(Moisture::Given(share.get()?.0)),
        (Entry::Absent, air) => {
            let air = air.get()?;
            Some(Moisture::In(Air {
                humidity: air.humidity.get()?.0,
                temperature: air.temperature.get()?.0,
            }))
        }
        (share, air) => {
            let message = format!("`board.wood` has both `{name}` and `{air_name}`");
            let help = "keep the moisture if it was measured, or else the air";
            reading
                .error(air.key(), message, help)
                .also(share.key(), "the other one");
            None
        }
    }
}

fn composite(table: &ExpansionTable, reading: &mut Reading) -> Option<Composite> {
    let coefficient = table.coefficient.option();
    let laid_at = table.laid_at.get()?.0;
    let coldest = table.coldest.get()?.0;
    let hottest = table.hottest.get()?.0;
    let mut wrong = |entry: &Entry<Degrees>, other: &Entry<Degrees>, said: &str| {
        let show = |entry: &Entry<Degrees>| {
            let degrees = entry.get().map_or(Temperature::default(), |value| value.0);
            degrees.show(reading.unit)
        };
        let message = format!("{} is {said} {}", show(entry), show(other));
        let help = "`coldest` is at most `laid_at`, and `laid_at` at most `hottest`; check which is F and which is C";
        let error = reading.error(entry.place(), message, help);
        error.also(other.place(), "against this");
    };
    if coldest >= hottest {
        wrong(&table.coldest, &table.hottest, "the coldest, and not below");
        return None;
    }
    if laid_at < coldest {
        wrong(&table.laid_at, &table.coldest, "below the coldest,");
        return None;
    }
    if laid_at > hottest {
        wrong(&table.laid_at, &table.hottest, "above the hottest,");
        return None;
    }
    Some(Composite {
        coefficient: coefficient?.map(|growth| growth.0),
        laid_at,
        coldest,
        hottest,
    })
}
