//! The boards held against what a code says of decking: how far they span from
//! joist to joist, as single spans where a piece lies on two joists only, and on
//! how many joists each piece lies. It knows the joists and, where there is one,
//! the plan; boards lie square to their joists.

use super::finding::{Amount, Check, Finding, Outcome, Rule};
use super::tables::{self, Spans};
use super::widest;
use crate::job::{CodeRules, Decking, Edition, Job, Movement};
use crate::length::Length;
use crate::plan::{Plan, PlannedRun};

/// Wood at least so thick is 5/4 (PS 20-20, Table 3: 1 in dry, from memory).
const FIVE_QUARTER: Length = Length::from_inches(1);
/// Wood at least so thick is 2 in nominal (the same table: 1-1/2 in dry).
const TWO_INCH: Length = Length::from_64ths(96);

/// Joists under composite boards are this far apart where one is cautious and
/// knows no listing (common practice, no source).
const CAUTIOUS: Length = Length::from_inches(12);

/// Joists that each length of decking lies on at least (DCA 6, decking
/// requirements, as reprinted by others).
const DECK_GUIDE_JOISTS: u32 = 4;

/// The widest spacing of joists against what the boards may span, each lying on
/// three joists or more; nothing where the job names no table, but for composite.
pub fn decking(job: &Job, supports: &[Length]) -> Option<Finding> {
    spanning(job, widest(supports)?, Spans::Several)
}

/// The same of the pieces of a plan, those that lie on two joists only by
/// themselves where the table has a column of its own for them; and on how many
/// joists the pieces lie.
pub(super) fn planned(job: &Job, plan: &Plan) -> Vec<Finding> {
    let Some(rules) = &job.codes else {
        return decking(job, &plan.supports).into_iter().collect();
    };
    let beneath: Vec<&[Length]> = pieces(plan).collect();
    let single = beneath.iter().filter(|under| under.len() < 3);
    let single = single.filter_map(|under| widest(under)).max();
    let tells = rules.decking_most.is_none() && rules.edition.is_some_and(tables::tells_spans);
    let single = single
        .filter(|_| tells)
        .and_then(|ours| spanning(job, ours, Spans::Single));
    let fewest = beneath.iter().map(|under| under.len()).min();
    let bears = fewest.and_then(|fewest| bearing(rules, u32::try_from(fewest).unwrap_or(u32::MAX)));
    let widest = decking(job, &plan.supports);
    widest.into_iter().chain(single).chain(bears).collect()
}

/// The joists under each piece, those under its own joints among them.
fn pieces(plan: &Plan) -> impl Iterator<Item = &[Length]> {
    let runs = plan.courses.iter().flat_map(|course| &course.runs);
    runs.flat_map(|run| (0..run.pieces.len()).map(|piece| under(plan, run, piece)))
}

fn under<'a>(plan: &'a Plan, run: &PlannedRun, piece: usize) -> &'a [Length] {
    let pieces = &run.pieces;
    // The gap at a joint lies over the middle of its joist.
    let from = match piece {
        0 => pieces[0].from,
        _ => pieces[piece - 1].to,
    };
    let to = pieces
        .get(piece + 1)
        .map_or(pieces[piece].to, |next| next.from);
    let at = |place: Length| plan.supports.partition_point(|&support| support < place);
    let end = plan.supports.partition_point(|&support| support <= to);
    &plan.supports[at(from)..end.max(at(from))]
}

/// The fewest joists that a piece lies on against the least.
fn bearing(rules: &CodeRules, fewest: u32) -> Option<Finding> {
    let (rule, least) = match (rules.joists_under, rules.edition) {
        (Some(least), _) => (Rule::own(rules), least),
        (None, Some(Edition::Dca6)) => {
            let rule = Rule {
                table: Some("decking requirements".to_owned()),
                basis: Some("as reprinted by others"),
                ..Rule::of(Edition::Dca6)
            };
            (rule, DECK_GUIDE_JOISTS)
        }
        (None, _) => return None,
    };
    Some(Finding {
        check: Check::BoardBearing,
        what: "each length of board".to_owned(),
        ours: Amount::Count(fewest),
        rule,
        outcome: match fewest >= least {
            true => Outcome::Within(Amount::Count(least)),
            false => Outcome::Beyond(Amount::Count(least)),
        },
    })
}

/// A spacing of joists against what the boards may span.
fn spanning(job: &Job, ours: Length, spans: Spans) -> Option<Finding> {
    let Some(rules) = &job.codes else {
        return cautious(job, ours);
    };
    let boards = match rules.decking {
        Some(Decking::FiveQuarter) => "5/4 boards".to_owned(),
        Some(Decking::TwoInch) => "2 in boards".to_owned(),
        Some(Decking::Composite) => "composite boards".to_owned(),
        Some(Decking::Thick(thick)) => format!("boards {} thick", thick.show(job.unit)),
        None => "the boards".to_owned(),
    };
    let (rule, outcome) = match (rules.decking_most, rules.edition) {
        (Some(most), _) => (Rule::own(rules), Outcome::of(ours, most)),
        (None, Some(edition)) => published(edition, rules.decking, ours, spans),
        (None, None) => return None,
    };
    Some(Finding {
        check: Check::JoistSpacing,
        what: match spans {
            Spans::Several => boards,
            Spans::Single => format!("{boards} that lie on two joists only"),
        },
        ours: Amount::Length(ours),
        rule,
        outcome,
    })
}

/// Composite boards on joists further apart than the cautious choice, where the
/// job names no table.
fn cautious(job: &Job, ours: Length) -> Option<Finding> {
    let composite = matches!(job.board.movement, Some(Movement::Composite(_)));
    (composite && ours > CAUTIOUS).then(|| Finding {
        check: Check::JoistSpacing,
        what: "composite boards".to_owned(),
        ours: Amount::Length(ours),
        rule: Rule::practice(),
        outcome: Outcome::of(ours, CAUTIOUS),
    })
}

/// A spacing against an edition's table of decking.
fn published(
    edition: Edition,
    decking: Option<Decking>,
    ours: Length,
    spans: Spans,
) -> (Rule, Outcome) {
    let unlisted = "give what their listing says as `codes.decking_most`; without it 12 in on centre \
                    is the cautious choice (common practice, no source)";
    let listed = "give what the boards may span as `codes.decking_most`";
    let without = |why: &str, help: &str| (Rule::of(edition), Outcome::not_covered(why, help));
    let thick = match decking {
        Some(Decking::FiveQuarter) => false,
        Some(Decking::TwoInch) => true,
        Some(Decking::Thick(thick)) if thick >= FIVE_QUARTER => thick >= TWO_INCH,
        Some(Decking::Thick(_)) => {
            return without("wood begins with 5/4 boards, 1 in thick", listed);
        }
        Some(Decking::Composite) => {
            return without(
                "composite boards span what their own listing says",
                unlisted,
            );
        }
        None => {
            return without(
                "the job does not say what its boards are",
                "add `codes.decking`: \"5/4\", \"2x\", a thickness or \"composite\"",
            );
        }
    };
    let table = tables::decking(edition, thick);
    match table.and_then(|table| table.most(0, spans).map(|most| (table, most))) {
        Some((table, most)) => {
            let rule = Rule {
                table: Some(table.name.to_owned()),
                basis: Some("wood boards square to the joists"),
                from_memory: table.from_memory,
                ..Rule::of(edition)
            };
            (rule, Outcome::of(ours, most))
        }
        None => without("no table of boards in it is known here", listed),
    }
}
