//! What moisture or heat does to the boards, as a forecast shows it: wood in a
//! sentence and two lines of the fasteners' figures, composite as a table of
//! end gaps by temperature; for programs the same in numbers.

use schemars::JsonSchema;
use serde::Serialize;

use crate::deck::Surface;
use crate::job::{Job, Moisture, Percent, Temperature};
use crate::length::{Length, Printer, Unit};
use crate::movement::{Basis, Drying, Equation, Growing, drying};
use crate::report::json::Measure;
use crate::report::{Column, Page, Table, Terms};

/// A share of moisture: `19 %`, `12.5 %`.
fn moisture(share: Percent) -> String {
    let (whole, part) = (share.0 / 100, share.0 % 100);
    let part = format!(".{part:02}");
    format!(
        "{whole}{} %",
        part.trim_end_matches('0').trim_end_matches('.')
    )
}

/// The same with the air that it follows from.
fn in_air(from: Moisture, share: Percent, unit: Unit) -> String {
    let share = moisture(share);
    match from {
        Moisture::Given(_) => share,
        Moisture::In(air) => format!(
            "{share} (as in air of {} humidity at {})",
            moisture(air.humidity),
            air.temperature.show(unit)
        ),
    }
}

/// What a wooden board comes to in service, and by what figures.
pub(super) fn wood(job: &Job, terms: &Terms) -> Option<String> {
    let drying = drying(job)?;
    let fine = |length| Printer::new(job.unit).to_64ths().show(length);
    let name = drying.wood.species.map_or("wood", |species| species.name());
    let equation = match drying.equation {
        Equation::Coefficient => "equation 13-2",
        Equation::Shrinkage => "equation 13-3",
        Equation::Lumber => "its mean line, given for 8 to 19 %",
        Equation::Carried => "the same line carried past 6 to 14 %",
    };
    Some(format!(
        "Boards of {name}, {} now and {} in service: {} of face come to {} ({}; {equation}).",
        in_air(drying.wood.moisture_now, drying.moisture[0], job.unit),
        in_air(drying.wood.moisture_service, drying.moisture[1], job.unit),
        terms.length(drying.face_now),
        fine(drying.face_service),
        drying.source(),
    ))
}

/// A gap in service as people read it.
pub(super) fn gap_in_service(job: &Job, drying: &Drying, gap: Length) -> String {
    let fine = |length| Printer::new(job.unit).to_64ths().show(length);
    match drying.gap(gap) {
        gap if gap.is_negative() => format!("none, pressed by {}", fine(-gap)),
        Length::ZERO => "none".to_string(),
        gap => fine(gap),
    }
}

/// The gap to set now as people read it.
pub(super) fn gap_to_set(job: &Job, drying: &Drying) -> Option<String> {
    let set = drying.to_set(drying.wood.gap_service?);
    Some(match set.is_negative() {
        true => "tight, and still wider".to_string(),
        false => Printer::new(job.unit).to_64ths().show(set),
    })
}

/// The longest board that a run can be laid with: what the yard sells, or the
/// run itself.
fn longest(job: &Job, surface: &Surface) -> Length {
    let run = surface.run();
    let longest = job.stock.iter().map(|stock| stock.length).max();
    longest.map_or(run, |longest| longest.min(run))
}

/// End gaps by temperature.
pub(super) fn composite(job: &Job, surface: &Surface, terms: &Terms, page: &mut Page) {
    let Some(growing) = Growing::of(job, longest(job, surface)) else {
        return;
    };
    let heat = growing.heat;
    let at = |temperature: Temperature| temperature.show(job.unit);
    let fine = |length| Printer::new(job.unit).to_64ths().show(length);
    let [grows, shrinks] =
        [growing.grows(), growing.shrinks()].map(|[least, most]| match least == most {
            true => fine(most),
            false => format!("{} to {}", fine(least), fine(most)),
        });
    page.space();
    page.line(&format!(
        "A board of {} laid at {} is {grows} longer at {} and {shrinks} shorter at {}, {}.",
        terms.length(growing.piece),
        at(heat.laid_at),
        at(heat.hottest),
        at(heat.coldest),
        match growing.basis {
            Basis::Job => "by the job's coefficient",
            Basis::Published =>
                "by the range published for wood-plastic boards (2e-5 to 5e-5 by °F, quoted from memory); \
                 the table takes the greatest, and the maker's own belongs in `board.expansion.coefficient`",
        }
    ));
    page.heading("Gaps at the ends of such boards, by the boards' temperature");
    let left = job.joints.end_gap;
    let mut table = Table::new([
        Column::left("temperature"),
        Column::right("to leave if laid then"),
        Column::right(&format!("{} at {} becomes", fine(left), at(heat.laid_at))),
    ]);
    for temperature in growing.temperatures(job.unit) {
        let then = growing.gap_then(left, temperature);
        let then = match then.is_negative() {
            true => format!("pressed by {}", fine(-then)),
            false => fine(then),
        };
        let leave = growing.gap_at(temperature).up_to_the_tape(job.unit);
        table.row([at(temperature), fine(leave), then]);
    }
    page.table(&table);
}

/// Wood as it is laid and in service.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub(super) struct WoodAnswer {
    /// The wood, where the job names one.
    species: Option<&'static str>,
    /// Moisture when it is laid, in per cent.
    moisture_now: f64,
    /// Moisture in service, in per cent.
    moisture_service: f64,
    /// The boards' face when they are laid.
    face_now: Measure,
    /// Their face in service.
    face_service: Measure,
    /// `13-2` or `13-3`, the handbook's equations; `carried`, a coefficient beyond 6 to 14 %; or `lumber`, the mean line of softwood lumber.
    equation: &'static str,
    /// Where the figures come from.
    source: &'static str,
}

/// Wood for programs.
pub(super) fn wood_json(job: &Job) -> Option<WoodAnswer> {
    let drying = drying(job)?;
    let at = |length| Measure::new(length, job.unit);
    Some(WoodAnswer {
        species: drying.wood.species.map(|species| species.name()),
        moisture_now: f64::from(drying.moisture[0].0) / 100.0,
        moisture_service: f64::from(drying.moisture[1].0) / 100.0,
        face_now: at(drying.face_now),
        face_service: at(drying.face_service),
        equation: match drying.equation {
            Equation::Coefficient => "13-2",
            Equation::Shrinkage => "13-3",
            Equation::Lumber => "lumber",
            Equation::Carried => "carried",
        },
        source: drying.source(),
    })
}

/// A composite board over the temperatures of its job.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub(super) struct CompositeAnswer {
    /// The longest board there is, as it is laid.
    length: Measure,
    /// The scale of the temperatures: `F` with inches, `C` with millimetres.
    degree: &'static str,
    /// The boards' temperature when they are laid.
    laid_at: f64,
    /// `job`, or `published` for the range of wood-plastic boards, quoted from memory.
    coefficient_from: &'static str,
    /// Least and greatest growth to the hottest.
    grows: [Measure; 2],
    /// Least and greatest shrinkage to the coldest.
    shrinks: [Measure; 2],
    /// End gaps by temperature, by the greatest coefficient.
    by_temperature: Vec<AtTemperature>,
}

/// End gaps at one temperature of the boards.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct AtTemperature {
    /// The temperature.
    temperature: f64,
    /// The gap to leave if boards are laid at this temperature, exact.
    leave: Measure,
    /// What `joints.end_gap` comes to at it, below 0 where boards press on each other.
    end_gap: Measure,
}

/// Composite for programs.
pub(super) fn composite_json(job: &Job, surface: &Surface) -> Option<CompositeAnswer> {
    let growing = Growing::of(job, longest(job, surface))?;
    let at = |length| Measure::new(length, job.unit);
    let degrees = |temperature: Temperature| temperature.tenths(job.unit) as f64 / 10.0;
    let rows = growing.temperatures(job.unit).into_iter();
    Some(CompositeAnswer {
        length: at(growing.piece),
        degree: match job.unit {
            Unit::Inch => "F",
            Unit::Millimetre => "C",
        },
        laid_at: degrees(growing.heat.laid_at),
        coefficient_from: match growing.basis {
            Basis::Job => "job",
            Basis::Published => "published",
        },
        grows: growing.grows().map(at),
        shrinks: growing.shrinks().map(at),
        by_temperature: rows
            .map(|temperature| AtTemperature {
                temperature: degrees(temperature),
                leave: at(growing.gap_at(temperature)),
                end_gap: at(growing.gap_then(job.joints.end_gap, temperature)),
            })
            .collect(),
    })
}
