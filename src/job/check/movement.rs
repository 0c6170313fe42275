//! What changes the boards' size after they are laid: wood by moisture or
//! composite by heat, and not both.

use crate::job::document::{BoardTable, ExpansionTable, WoodTable};
use crate::job::movement::{Composite, Grain, Movement, Temperature, Wood};
use crate::job::reading::{Entry, Reading};
use crate::job::values::Degrees;

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
    Some(Wood {
        species: table.species.option()?.map(|species| species.0),
        coefficient: table.coefficient.option()?.map(|change| change.0),
        grain: table.grain.or(Grain::default())?,
        moisture_now: table.moisture_now.get()?.0,
        moisture_service: table.moisture_service.get()?.0,
        gap_service: table.gap_service.option()?.map(|gap| gap.0),
    })
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
