//! What stairs take beside their tread boards, which are cut with the courses:
//! lumber for the stringers, screws for the treads, riser boards, a landing.

use super::goods::bought;
use super::{Group, Line, Needed, Trade};
use crate::caution::Caution;
use crate::frame::{Part, Piece};
use crate::job::{Goods, Job};
use crate::length::{Length, Printer, Unit};
use crate::stairs::{Flight, Stairs, cautions};

/// Wider boards take a third screw: the rule for nailing lumber.
const TWO_SCREWS_UP_TO: Length = Length::from_inches(8);

/// The job's stairs with their flights, in boards at the gap of the job's
/// first fastener.
pub fn flights(job: &Job) -> Vec<(&Stairs, Flight)> {
    let gap = job.fasteners.first().map_or(Length::ZERO, |f| f.gap.set);
    let flight = |stairs: &Stairs| stairs.flight(job.board.face, gap, job.unit);
    job.stairs.iter().map(|s| (s, flight(s))).collect()
}

/// The lines of all stairs, and what to look at.
pub(super) fn lines(job: &Job) -> (Vec<Line>, Vec<Caution>) {
    let (mut lines, mut found) = (Vec::new(), Vec::new());
    // Flights held by the same screws share their boxes.
    let mut screws: Vec<(&Goods, u64)> = Vec::new();
    for (number, (stairs, flight)) in flights(job).into_iter().enumerate() {
        let (stringers, caution) = stringers(job, stairs, &flight);
        lines.extend(stringers);
        match job.tread_screws.get(number).and_then(Option::as_ref) {
            Some(goods) => {
                let needed = through_treads(job, &flight);
                match screws.iter_mut().find(|(known, _)| *known == goods) {
                    Some((_, count)) => *count += needed,
                    None => screws.push((goods, needed)),
                }
            }
            None if flight.treads > 0 => {
                let item = format!("screw through a tread's face, {}", stairs.name);
                lines.push(line(item, Trade::Piece, through_treads(job, &flight)));
            }
            None => {}
        }
        lines.extend(others(stairs, &flight, job.unit));
        found.extend(caution);
        found.extend(cautions(stairs, &flight, job.unit));
    }
    let screws = screws.into_iter();
    lines.extend(screws.filter_map(|(goods, needed)| bought(Group::Stairs, goods, needed)));
    (lines, found)
}

fn line(item: String, unit: Trade, count: u64) -> Line {
    Line {
        group: Group::Stairs,
        item,
        unit,
        needed: Needed::Count(count),
        on_hand: 0,
        count,
        price_each: None,
        price: None,
    }
}

/// Stringers that are cut with the frame's lumber, as long as the tape shows.
pub(super) fn stringers_of_lumber(job: &Job) -> Vec<Piece> {
    let each = flights(job).into_iter().filter_map(|(stairs, flight)| {
        let piece = Piece {
            part: Part::Stringer,
            size: stairs.size?,
            length: flight.stringer.up_to_the_tape(job.unit),
            count: u64::from(flight.stringers),
        };
        (piece.count > 0).then_some(piece)
    });
    each.collect()
}

/// Boards for the stringers, unless they are cut with the frame's lumber: all of one length, the cheapest, and of those the
/// shortest.
fn stringers(job: &Job, stairs: &Stairs, flight: &Flight) -> (Option<Line>, Option<Caution>) {
    if flight.stringers == 0 || stairs.size.is_some() {
        return (None, None);
    }
    let at = |length| Printer::new(job.unit).show(length);
    let (count, each) = (u64::from(flight.stringers), flight.stringer);
    // n stringers and their cuts fit a board when n (length + kerf) <= board + kerf.
    let kerf = job.cutting.kerf;
    let gives = |board: Length| ((board + kerf).units() / (each + kerf).units()).max(0) as u64;
    let fitting = stairs.timber.iter().filter(|t| gives(t.length) > 0);
    let choice = fitting
        .map(|timber| {
            let boards = count.div_ceil(gives(timber.length));
            (timber, boards)
        })
        .min_by_key(|(timber, boards)| {
            let money = timber.price.map(|price| price * *boards as i64);
            // A length without a price is taken only where none has one.
            (money.is_none(), money, timber.length * *boards as i64)
        });
    let noun = if count == 1 { "stringer" } else { "stringers" };
    match choice {
        Some((timber, boards)) => {
            let item = format!(
                "{} board for {count} {noun} of {}, {}",
                at(timber.length),
                at(each),
                stairs.name
            );
            (
                Some(line(item, Trade::Board, boards).priced(timber.price)),
                None,
            )
        }
        None => {
            let item = format!(
                "stringer, from a board of {} at least, {}",
                at(each.up_to_the_tape(job.unit)),
                stairs.name
            );
            let caution = (!stairs.timber.is_empty()).then(|| {
                Caution::new(
                    format!(
                        "no board given for the stringers of {} is as long as {}",
                        stairs.name,
                        at(each.up_to_the_tape(job.unit))
                    ),
                    "add a longer one to `stringer`, or put a landing half way",
                )
            });
            (Some(line(item, Trade::Piece, count)), caution)
        }
    }
}

/// Screws through the faces of the tread boards, on each stringer.
fn through_treads(job: &Job, flight: &Flight) -> u64 {
    let each = if job.board.face > TWO_SCREWS_UP_TO {
        3
    } else {
        2
    };
    u64::from(flight.tread_boards()) * u64::from(flight.stringers) * each
}

/// Riser boards and a landing.
fn others(stairs: &Stairs, flight: &Flight, unit: Unit) -> Vec<Line> {
    let at = |length| Printer::new(unit).show(length);
    let name = &stairs.name;
    let mut lines = Vec::new();
    if stairs.closed {
        let [_, highest] = flight.between();
        let item = format!(
            "riser board, {} × {}, {name}",
            at(stairs.width),
            at(highest)
        );
        lines.push(line(item, Trade::Piece, u64::from(flight.risers)));
    }
    if let Some(landing) = stairs.landing {
        let item = format!("landing, {} × {}, {name}", at(stairs.width), at(landing));
        lines.push(line(item, Trade::Piece, 1));
    }
    lines
}
