//! What a code says of stairs, as cautions: the limits of the International
//! Residential Code, all quoted from memory, or the job's own in their place.
//! None of it is design; the local code decides.

use super::{Flight, Stairs};
use crate::caution::Caution;
use crate::length::{Length, Printer, Unit};

/// The highest riser, 7-3/4 in: IRC 2018 and 2021, R311.7.5.1, from memory.
pub(super) const RISER_MOST: Length = Length::from_64ths(7 * 64 + 48);
/// The least run of a step, 10 in: R311.7.5.2, from memory.
pub(super) const TREAD_LEAST: Length = Length::from_inches(10);
/// The least width, 36 in: R311.7.1, from memory.
const WIDTH_LEAST: Length = Length::from_inches(36);
/// Treads below it want a nosing, 11 in: R311.7.5.3, from memory.
const NOSING_BELOW: Length = Length::from_inches(11);
/// Least and greatest nosing, 3/4 and 1-1/4 in: R311.7.5.3, from memory.
const NOSING: [Length; 2] = [Length::from_64ths(48), Length::from_64ths(80)];
/// The highest flight without a landing, 151 in: R311.7.3, from memory.
const FLIGHT_MOST: Length = Length::from_inches(151);
/// The least length of a landing, 36 in: R311.7.6, from memory.
const LANDING_LEAST: Length = Length::from_inches(36);
/// Risers from which on a handrail is wanted: R311.7.8, from memory.
const HANDRAIL_FROM: u32 = 4;
/// Open sides of stairs that rise more than 30 in take a guard: IRC 2018, R312.1.1.
const GUARDED_ABOVE: Length = Length::from_inches(30);
/// What may pass the guard beside stairs, and the triangle between a riser, a tread and its
/// bottom rail, just not: spheres of 4-3/8 and 6 in, R312.1.3.
const STAIR_OPENINGS: [Length; 2] = [Length::from_64ths(4 * 64 + 24), Length::from_inches(6)];

/// A limit and where it comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limit {
    /// The limit.
    pub at: Length,
    /// The section of the code; the job's own limit when absent.
    pub section: Option<&'static str>,
}

impl Limit {
    fn of(own: Option<Length>, code: Length, section: &'static str) -> Limit {
        Limit {
            at: own.unwrap_or(code),
            section: own.is_none().then_some(section),
        }
    }

    /// The limit in words with its edition and section.
    fn show(&self, unit: Unit) -> String {
        let at = Printer::new(unit).to_64ths().show(self.at);
        match self.section {
            Some(section) => format!("{at} (IRC 2018 and 2021, {section}, quoted from memory)"),
            None => format!("{at} (the job's limit)"),
        }
    }
}

/// What a person should look at, the last one always about safety; whether
/// handrails are counted is said beside them.
pub fn cautions(stairs: &Stairs, flight: &Flight, railed: bool, unit: Unit) -> Vec<Caution> {
    let at = |length| Printer::new(unit).to_64ths().show(length);
    let name = &stairs.name;
    let limits = &stairs.limits;
    let mut found = Vec::new();
    let mut say = |message: String, help: &str| found.push(Caution::new(message, help));

    let riser = Limit::of(limits.riser_most, RISER_MOST, "R311.7.5.1");
    let [_, highest] = flight.between();
    if highest > riser.at {
        say(
            format!(
                "the risers of {name} are up to {}, above {}",
                at(highest),
                riser.show(unit)
            ),
            "take one riser more, or leave `risers` out",
        );
    }
    let tread = Limit::of(limits.tread_least, TREAD_LEAST, "R311.7.5.2");
    if flight.treads > 0 && flight.run < tread.at {
        say(
            format!(
                "the steps of {name} run {}, below {}",
                at(flight.run),
                tread.show(unit)
            ),
            "make the run longer (`run`), or the treads of more boards (`tread_boards`)",
        );
    }
    if flight.treads > 0 && flight.nosing.is_negative() {
        say(
            format!(
                "the treads of {name} are {} deep and leave {} of the run open",
                at(flight.depth),
                at(-flight.nosing)
            ),
            "put one board more on each tread (`tread_boards`), or make the run shorter",
        );
    }
    let without = NOSING[0] > flight.nosing || flight.nosing > NOSING[1];
    let small = flight.depth < NOSING_BELOW || flight.nosing > NOSING[1];
    if flight.treads > 0 && limits.tread_least.is_none() && without && small {
        say(
            format!(
                "the nosing of {name} is {} with treads {} deep, and treads below {} take {} to {} \
                 (IRC 2018 and 2021, R311.7.5.3, quoted from memory)",
                at(flight.nosing),
                at(flight.depth),
                at(NOSING_BELOW),
                at(NOSING[0]),
                at(NOSING[1])
            ),
            "set `run` so that the treads' fronts stand over the risers below them",
        );
    }
    let width = Limit::of(limits.width_least, WIDTH_LEAST, "R311.7.1");
    if stairs.width < width.at {
        say(
            format!(
                "the flight of {name} is {} wide, below {}",
                at(stairs.width),
                width.show(unit)
            ),
            "make it wider, or ask whether the code asks for it there",
        );
    }
    if stairs.rise > FLIGHT_MOST {
        say(
            format!(
                "the flight of {name} rises {} in one flight, above {} (IRC 2018 and 2021, R311.7.3, quoted from memory)",
                at(stairs.rise),
                at(FLIGHT_MOST)
            ),
            "put a landing half way and describe two flights",
        );
    }
    if let Some(landing) = stairs.landing
        && landing < LANDING_LEAST
    {
        say(
            format!(
                "the landing of {name} is {} long, below {} (IRC 2018 and 2021, R311.7.6, quoted from memory)",
                at(landing),
                at(LANDING_LEAST)
            ),
            "make it longer",
        );
    }
    if flight.risers >= HANDRAIL_FROM {
        say(
            format!(
                "the flight of {name} has {} risers, and {HANDRAIL_FROM} or more take a handrail (IRC 2018 and 2021, R311.7.8, quoted from memory)",
                flight.risers
            ),
            match railed {
                true => {
                    "one is counted, not designed; the local code says where it goes and what it bears"
                }
                false => {
                    "no handrail is counted here; the local code says where it goes and what it bears"
                }
            },
        );
    }
    if stairs.rise > GUARDED_ABOVE {
        let [beside, triangle] = STAIR_OPENINGS;
        say(
            format!(
                "the flight of {name} rises {}; more than {} above the ground its open sides take a guard that no sphere of {} passes, nor one of {} the triangles at its steps (IRC 2018, R312.1.1 and R312.1.3)",
                at(stairs.rise),
                at(GUARDED_ABOVE),
                at(beside),
                at(triangle)
            ),
            "no guard is counted beside the steps; add what it takes as an `[[item]]`, by the local code",
        );
    }
    say(
        format!(
            "the flight of {name} is counted, not designed: what its stringers carry, what is left of them behind the notches, and how they are fixed is not checked"
        ),
        "the local building code and, where it asks for one, a licensed engineer decide that",
    );
    found
}
