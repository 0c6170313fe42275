//! The fascia's lines: boards by the cut list, screws, plugs and adhesive. Its
//! pieces were laid out by [`crate::frame`]; of the ways to splice them the one
//! of fewest pieces is taken that can be had, and of those the cheapest.

use super::goods::{bought, line, places};
use super::{FasciaCut, Group, Line, Needed, OrderError, Trade, notes, sawn, stairs};
use crate::frame::{Face, fascia};
use crate::job::{Edge, FasciaRules, Job, Packers, Side, SoldBy, Stock};
use crate::length::Length;
use crate::stock::{CutPlan, CutProblem, Demand, StockError, solve};
use crate::watch::Watch;

/// Lays out the fascia over the supports and cuts its boards.
pub(super) fn cut(
    job: &Job,
    rules: &FasciaRules,
    supports: &[Length],
    watch: &dyn Watch,
) -> Result<FasciaCut, OrderError> {
    let mut best: Option<FasciaCut> = None;
    let mut refusal = None;
    for faces in ways(job, rules, supports)? {
        // Ways come by how many pieces they have.
        if best
            .as_ref()
            .is_some_and(|b| count(&b.faces) < count(&faces))
        {
            break;
        }
        let (labels, pieces) = demand(job, &faces);
        let problem = sawn::problem(&rules.stock, pieces, rules.kerf, rules.end_trim);
        match solve(&problem, watch) {
            Ok(plan) if best.as_ref().is_none_or(|b| plan.cost < b.plan.cost) => {
                best = Some(FasciaCut {
                    faces,
                    labels,
                    problem,
                    plan,
                });
            }
            Ok(_) => {}
            Err(StockError::Stopped) if best.is_some() => break,
            Err(error) => {
                refusal.get_or_insert_with(|| refused(job, rules, &problem, error));
            }
        }
    }
    best.ok_or_else(|| refusal.unwrap_or(OrderError::Stopped))
}

fn count(faces: &[Face]) -> usize {
    faces.iter().map(|face| face.pieces.len()).sum()
}

/// Ways to splice, those of fewest pieces first and of these first the evenest:
/// the fewest and longest pieces, and the evenest, that boards of each length
/// that can be had would give.
fn ways(job: &Job, rules: &FasciaRules, supports: &[Length]) -> Result<Vec<Vec<Face>>, OrderError> {
    let stock = rules.stock.iter().filter(|stock| stock.can_be_had());
    let mut lengths: Vec<Length> = stock
        .map(|stock| stock.length - rules.end_trim * 2)
        .collect();
    lengths.sort_unstable_by_key(|length| -*length);
    lengths.dedup();
    let (mut ways, mut refusal) = (Vec::new(), None);
    for longest in lengths {
        for even in [true, false] {
            match fascia(job, rules, supports, longest, even) {
                Ok(faces) if !ways.contains(&faces) => ways.push(faces),
                Ok(_) => {}
                Err(short) => {
                    refusal.get_or_insert(short);
                }
            }
        }
    }
    let shortest = |faces: &[Face]| {
        let pieces = faces.iter().flat_map(|face| &face.pieces);
        pieces.map(|piece| piece.length).min().unwrap_or_default()
    };
    ways.sort_by_key(|faces| (count(faces), -shortest(faces)));
    match refusal {
        Some(short) if ways.is_empty() => Err(OrderError::Impossible {
            message: format!(
                "the fascia of the {} edge cannot be made of boards of {} at most",
                short.side.name(),
                short.longest.show(job.unit)
            ),
            help: "add a longer `[[fascia.stock]]`, or let it be spliced between joists: \
                   `fascia.splices = \"anywhere\"`"
                .to_owned(),
        }),
        _ => Ok(ways),
    }
}

/// The pieces by what they are for and how long, with the names of what they
/// are for; riser boards of the stairs, where they are cut from the same boards,
/// among them.
fn demand(job: &Job, faces: &[Face]) -> (Vec<String>, Vec<Demand>) {
    let (mut labels, mut pieces): (Vec<String>, Vec<Demand>) = (Vec::new(), Vec::new());
    for face in faces {
        for piece in &face.pieces {
            let name = face.side.name();
            let label = match piece.turns {
                true => format!("{name} return"),
                false => format!("{name} edge"),
            };
            let mut known = labels.iter().zip(&mut pieces);
            let alike =
                known.find(|(known, demand)| **known == label && demand.length == piece.length);
            match alike {
                Some((_, demand)) => demand.count += 1,
                None => {
                    labels.push(label);
                    pieces.push(Demand {
                        length: piece.length,
                        count: 1,
                    });
                }
            }
        }
    }
    for (label, length, count) in stairs::risers_of_fascia(job) {
        labels.push(label);
        pieces.push(Demand {
            length,
            count: count.into(),
        });
    }
    (labels, pieces)
}

fn refused(job: &Job, rules: &FasciaRules, problem: &CutProblem, error: StockError) -> OrderError {
    match error {
        StockError::TooLong(piece) => OrderError::Impossible {
            message: format!(
                "no {} that can be had is as long as a piece of {}",
                rules.name,
                problem.pieces[piece].length.show(job.unit)
            ),
            help: "add a longer `[[fascia.stock]]`".to_owned(),
        },
        StockError::NotEnough => OrderError::Impossible {
            message: "there are not enough boards for the fascia".to_owned(),
            help: "raise the `available` of a `[[fascia.stock]]`, or add another length".to_owned(),
        },
        StockError::Stopped => OrderError::Stopped,
    }
}

/// What the fascia takes.
pub(super) fn lines(job: &Job, rules: &FasciaRules, cut: &FasciaCut) -> Vec<Line> {
    let name = |stock: &Stock| stock.called(&rules.kind(job.unit), job.unit);
    let plan: &CutPlan = &cut.plan;
    let mut lines = sawn::lines(Group::Fascia, Trade::Board, &rules.stock, plan, name);
    let pieces = || cut.faces.iter().flat_map(|face| &face.pieces);
    if let Some(screws) = &rules.screws {
        // Each piece has its own at both ends, so that a splice is held twice.
        let each = |length| places(length, screws.spacing) * u64::from(screws.at_each);
        let needed = pieces().map(|piece| each(piece.length)).sum();
        lines.extend(bought(Group::Fascia, &screws.goods, needed));
        let plug = rules.plug.as_ref();
        lines.extend(plug.and_then(|plug| bought(Group::Fascia, plug, needed)));
    }
    if let Some(Packers { spaced, .. }) = &rules.packers {
        let each = |length| places(length, spaced.spacing) * u64::from(spaced.at_each);
        let needed = pieces().map(|piece| each(piece.length)).sum();
        lines.extend(bought(Group::Fascia, &spaced.goods, needed));
    }
    if let Some(adhesive) = &rules.adhesive {
        let length: Length = pieces().map(|piece| piece.length).sum();
        let (needed, each) = (length.units().max(0), adhesive.covers.units().max(1));
        let line = line(
            Group::Fascia,
            adhesive.name.clone(),
            Trade::By(SoldBy::new("tube", "tubes")),
            Needed::Length(length),
            (needed as u64).div_ceil(each as u64),
        );
        lines.push(line.priced(adhesive.price));
    }
    lines
}

/// What of the fascia the job's figures do not reach.
pub(super) fn not_counted(job: &Job) -> Option<String> {
    let open = Side::ALL.into_iter().filter(
        |&side| matches!(job.edges.at(side), Edge::Open { fascia, .. } if *fascia > Length::ZERO),
    );
    let dressed = |side: &Side| {
        let rules = job.fascia.as_ref();
        rules.is_some_and(|rules| rules.sides.contains(side))
    };
    let bare: Vec<&str> = open.filter(|side| !dressed(side)).map(Side::name).collect();
    let what = match (&job.fascia, bare.as_slice()) {
        (None, []) => return None,
        (None, _) => "fascia boards".to_owned(),
        (Some(rules), []) if rules.screws.is_none() && rules.adhesive.is_none() => {
            "what holds the fascia".to_owned()
        }
        (Some(_), []) => return None,
        (Some(_), [one]) => format!("fascia of the {one} edge"),
        (Some(_), [most @ .., last]) => {
            format!("fascia of the {} and {last} edges", most.join(", "))
        }
    };
    Some(notes::beyond(job, Group::Fascia, &what))
}
