//! The boards' cross-section.

use super::movement;
use crate::job::document::BoardTable;
use crate::job::dressed::taken_for_nominal;
use crate::job::model::Board;
use crate::job::reading::Reading;
use crate::length::Unit;

/// The boards' cross-section.
pub fn board(table: &BoardTable, reading: &mut Reading) -> Option<Board> {
    let face = table.face.get()?.0;
    let usual = Board::of(reading.unit, face);
    for (entry, name) in [
        (&table.face_tolerance, "face_tolerance"),
        (&table.uncertainty, "uncertainty"),
        (&table.narrowest_rip, "narrowest_rip"),
    ] {
        let Some(value) = entry.get() else { continue };
        if value.0 < face {
            continue;
        }
        let message = format!(
            "`board.{name}` is {}, and the board only {} wide",
            reading.show(value.0),
            reading.show(face)
        );
        reading
            .error(
                entry.place(),
                message,
                "it is less than `board.face`; check the unit of both",
            )
            .also(table.face.place(), "the face");
    }
    if let (Unit::Inch, Some(measures)) = (reading.unit, taken_for_nominal(face)) {
        let message = format!(
            "a face of {} is what boards are called by; as they are dressed dry they measure {}",
            reading.show(face),
            reading.show(measures)
        );
        let help =
            "lay a board on the tape and write what it measures; if it is so wide, all is well";
        reading.caution(table.face.place(), message, help);
    }
    let movement = movement::movement(table, reading);
    Some(Board {
        face,
        face_tolerance: table.face_tolerance.or(usual.face_tolerance)?,
        uncertainty: table.uncertainty.or(usual.uncertainty)?,
        narrowest_rip: table.narrowest_rip.or(usual.narrowest_rip)?,
        movement: movement?,
    })
}
