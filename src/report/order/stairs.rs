//! Stairs as an order shows them: how they come out, in a sentence and in
//! numbers.

use schemars::JsonSchema;
use serde::Serialize;

use crate::job::Job;
use crate::length::{Length, Printer};
use crate::order::flights;
use crate::report::Page;
use crate::report::json::Measure;
use crate::report::terms::counted;
use crate::stairs::{Flight, Stairs};

/// A sentence for each flight.
pub(super) fn text(job: &Job, page: &mut Page) {
    for (stairs, flight) in flights(job) {
        page.line(&sentence(job, stairs, &flight));
    }
}

fn sentence(job: &Job, stairs: &Stairs, flight: &Flight) -> String {
    let at = |length| Printer::new(job.unit).to_64ths().show(length);
    let [least, most] = flight.between();
    let risers = counted(u64::from(flight.risers), "riser");
    let heights = match least == most {
        true => format!("{risers} of {}", at(most)),
        false => format!(
            "{risers} of {} and {}, {} apart at most",
            at(least),
            at(most),
            at(most - least)
        ),
    };
    let rises = format!(
        "The flight of {} rises {}: {heights}",
        stairs.name,
        at(stairs.rise)
    );
    if flight.treads == 0 {
        return format!("{rises}, no tread.");
    }
    let nosing = match flight.nosing > Length::ZERO {
        true => format!(", nosing {}", at(flight.nosing)),
        false => String::new(),
    };
    format!(
        "{rises}; {} of {}, {} deep{nosing}; the steps run {} each, {} together, on {}.",
        counted(u64::from(flight.treads), "tread"),
        counted(u64::from(flight.boards_each), "board"),
        at(flight.depth),
        at(flight.run),
        at(flight.total_run),
        counted(u64::from(flight.stringers), "stringer"),
    )
}

/// A flight of stairs as it comes out.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub(super) struct OneFlight {
    /// What the job calls it.
    name: String,
    /// From the ground to the deck's surface.
    rise: Measure,
    /// Height of each riser as it is cut, from the ground up.
    risers: Vec<Measure>,
    /// Treads, the deck left out.
    treads: u32,
    /// Boards side by side on each tread.
    boards_each: u32,
    /// How deep a tread is.
    depth: Measure,
    /// The run of each step.
    run: Measure,
    /// What treads stand over the risers below them; below 0 they leave a strip open.
    nosing: Measure,
    /// The run of all steps.
    total_run: Measure,
    /// Stringers under them.
    stringers: u32,
    /// The length of board each is cut from.
    stringer: Measure,
}

/// All flights for programs.
pub(super) fn json(job: &Job) -> Vec<OneFlight> {
    let at = |length| Measure::new(length, job.unit);
    let one = |(stairs, flight): (&Stairs, Flight)| OneFlight {
        name: stairs.name.clone(),
        rise: at(stairs.rise),
        risers: flight.heights.iter().copied().map(at).collect(),
        treads: flight.treads,
        boards_each: flight.boards_each,
        depth: at(flight.depth),
        run: at(flight.run),
        nosing: at(flight.nosing),
        total_run: at(flight.total_run),
        stringers: flight.stringers,
        stringer: at(flight.stringer),
    };
    flights(job).into_iter().map(one).collect()
}
