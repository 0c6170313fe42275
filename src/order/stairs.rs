//! What stairs take beside their tread boards, which are cut with the courses:
//! lumber for the stringers, screws for the treads, riser boards, which may be cut
//! with the fascia, handrails, the slab of a landing.

use super::goods::{bought, in_bulk};
use super::{Group, Line, Needed, OrderError, Trade};
use crate::caution::Caution;
use crate::frame::{Part, Piece};
use crate::job::items::SoldBy;
use crate::job::{Goods, Job, Riser, Slab, StairGoods};
use crate::length::{Length, Printer, Unit};
use crate::stairs::{Flight, Stairs, cautions};
use crate::volume::Volume;

/// Wider boards take a third screw: the rule for nailing lumber.
const TWO_SCREWS_UP_TO: Length = Length::from_inches(8);

/// The job's stairs with their flights, in boards at the gap of the job's
/// first fastener.
pub fn flights(job: &Job) -> Vec<(&Stairs, Flight)> {
    let gap = job.fasteners.first().map_or(Length::ZERO, |f| f.gap.set);
    let flight = |stairs: &Stairs| stairs.flight(job.board.face, gap, job.unit);
    job.stairs.iter().map(|s| (s, flight(s))).collect()
}

/// What is bought for one of the job's stairs.
fn goods_of(job: &Job, number: usize) -> StairGoods {
    job.stair_goods.get(number).cloned().unwrap_or_default()
}

/// Riser boards that are cut with the fascia: what they are called, how long they
/// are and how many.
pub(super) fn risers_of_fascia(job: &Job) -> Vec<(String, Length, u32)> {
    let of_fascia =
        |&(number, _): &(usize, _)| goods_of(job, number).riser == Some(Riser::OfFascia);
    let each = flights(job).into_iter().enumerate().filter(of_fascia);
    each.map(|(_, (stairs, flight))| {
        (
            format!("{} riser", stairs.name),
            stairs.width,
            flight.risers,
        )
    })
    .collect()
}

/// The lines of all stairs, and what to look at.
pub(super) fn lines(job: &Job) -> Result<(Vec<Line>, Vec<Caution>), OrderError> {
    let (mut lines, mut found) = (Vec::new(), Vec::new());
    // Flights held by the same screws share their boxes, and so do handrails and
    // riser boards of one kind.
    let mut shared: Vec<(Goods, u64)> = Vec::new();
    let mut share = |goods: &Goods, needed| match shared.iter_mut().find(|one| one.0 == *goods) {
        Some((_, count)) => *count += needed,
        None => shared.push((goods.clone(), needed)),
    };
    for (number, (stairs, flight)) in flights(job).into_iter().enumerate() {
        let goods = goods_of(job, number);
        let (stringers, caution) = stringers(job, stairs, &flight);
        lines.extend(stringers);
        match &goods.screws {
            Some(screws) => share(screws, through_treads(job, &flight)),
            None if flight.treads > 0 => {
                let item = format!("screw through a tread's face, {}", stairs.name);
                lines.push(line(item, Trade::Piece, through_treads(job, &flight)));
            }
            None => {}
        }
        match &goods.riser {
            Some(Riser::Bought(board)) => share(board, u64::from(flight.risers)),
            Some(Riser::OfFascia) => found.extend(higher_than_fascia(job, stairs, &flight)),
            None => lines.extend(unsaid_risers(stairs, &flight, job.unit)),
        }
        if let Some(rails) = &goods.handrail {
            share(&rails.goods, u64::from(rails.count));
        }
        lines.extend(landing(stairs, goods.slab.as_ref(), job.unit)?);
        found.extend(caution);
        let railed = goods.handrail.is_some();
        found.extend(cautions(stairs, &flight, railed, job.unit));
    }
    let shared = shared.iter();
    lines.extend(shared.filter_map(|(goods, needed)| bought(Group::Stairs, goods, *needed)));
    Ok((lines, found))
}

/// A caution where riser boards are higher than the boards they are cut from.
fn higher_than_fascia(job: &Job, stairs: &Stairs, flight: &Flight) -> Option<Caution> {
    let [_, highest] = flight.between();
    let height = job.fascia.as_ref()?.height?;
    let at = |length| Printer::new(job.unit).to_64ths().show(length);
    (highest > height).then(|| {
        Caution::new(
            format!(
                "the risers of {} are up to {} high, and the fascia's boards {}",
                stairs.name,
                at(highest),
                at(height)
            ),
            "take one riser more, or a higher board: `riser = { name = \"riser board\" }`",
        )
    })
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

/// Riser boards of which the job does not say what they are.
fn unsaid_risers(stairs: &Stairs, flight: &Flight, unit: Unit) -> Option<Line> {
    let at = |length| Printer::new(unit).show(length);
    let [_, highest] = flight.between();
    let (width, name) = (at(stairs.width), &stairs.name);
    let item = format!("riser board, {width} × {}, {name}", at(highest));
    (stairs.closed).then(|| line(item, Trade::Piece, u64::from(flight.risers)))
}

/// A landing: its slab in bags where the job says what they hold.
fn landing(stairs: &Stairs, slab: Option<&Slab>, unit: Unit) -> Result<Option<Line>, OrderError> {
    let Some(length) = stairs.landing else {
        return Ok(None);
    };
    let at = |length| Printer::new(unit).show(length);
    let name = &stairs.name;
    let plain = format!("landing, {} × {}", at(stairs.width), at(length));
    let item = match slab {
        None => format!("{plain}, {name}"),
        Some(slab) => {
            let area = i128::from(stairs.width.units()) * i128::from(length.units());
            let needed = Volume::of(area, slab.depth);
            if let Some(bag) = &slab.bag {
                let item = format!("{}, {}, landing of {name}", bag.name, bag.yields.show(unit));
                let unit = SoldBy::new("bag", "bags");
                return in_bulk(Group::Stairs, item, unit, bag.yields, bag.price, needed);
            }
            format!(
                "{plain}, {} of concrete, {}, {name}",
                at(slab.depth),
                needed.show(unit)
            )
        }
    };
    Ok(Some(line(item, Trade::Piece, 1)))
}
