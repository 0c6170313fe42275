//! The guard's lines: posts, rails and balusters, bought or cut with the frame's
//! lumber, and what the code asks of guards, as cautions. Where they stand was
//! laid out by [`crate::guard`]; none of it is design.

use super::goods::bought;
use super::{Group, Line};
use crate::caution::Caution;
use crate::frame::{Part, Piece};
use crate::guard::{Guard, guard};
use crate::job::guard::{GuardRules, Made};
use crate::job::{CodeRules, Edge, Job, Side};
use crate::length::{Length, Printer};

/// A deck higher than this needs a guard, 30 in: IRC 2018, R312.1.1.
const NEEDED_ABOVE: Length = Length::from_inches(30);
/// The least height of a guard, 36 in: R312.1.2.
const LEAST_HEIGHT: Length = Length::from_inches(36);
/// No sphere so wide passes a guard, 4 in: R312.1.3.
const WIDEST_OPENING: Length = Length::from_inches(4);

/// What is bought for a guard.
pub(super) fn lines(job: &Job, guard: Option<&Guard>) -> Vec<Line> {
    let Some((rules, guard)) = job.guards.rules.as_ref().zip(guard) else {
        return Vec::new();
    };
    let buy = |made: &Made, count| match made {
        Made::Bought(goods) => bought(Group::Guard, goods, count),
        Made::Cut { .. } => None,
    };
    let rails = rules.rail.as_ref();
    let rails = rails.and_then(|rail| buy(&rail.made, guard.bays() * u64::from(rail.rows)));
    let balusters = rules.baluster.as_ref();
    let balusters = balusters.and_then(|one| bought(Group::Guard, &one.goods, guard.balusters()));
    let posts = buy(&rules.post.made, guard.posts);
    [posts, rails, balusters].into_iter().flatten().collect()
}

/// Posts and rails that are cut with the frame's lumber, rails as long as the
/// tape shows what is clear between two posts.
pub(super) fn of_lumber(job: &Job) -> Vec<Piece> {
    let Some((rules, guard)) = job.guards.rules.as_ref().zip(guard(job)) else {
        return Vec::new();
    };
    let mut pieces = Vec::new();
    if let Made::Cut {
        size,
        length: Some(length),
    } = rules.post.made
    {
        pieces.push(Piece {
            part: Part::GuardPost,
            size,
            length,
            count: guard.posts,
        });
    }
    if let Some(rail) = &rules.rail
        && let Made::Cut { size, .. } = rail.made
    {
        for run in guard.runs.iter().filter(|run| run.bays > 0) {
            let length = run.clear.up_to_the_tape(job.unit);
            let count = run.bays * u64::from(rail.rows);
            match pieces
                .iter_mut()
                .find(|piece: &&mut Piece| piece.part == Part::Rail && piece.length == length)
            {
                Some(piece) => piece.count += count,
                None => pieces.push(Piece {
                    part: Part::Rail,
                    size,
                    length,
                    count,
                }),
            }
        }
    }
    pieces
}

/// What of a guard the job's figures do not reach.
pub(super) fn not_counted(job: &Job) -> impl Iterator<Item = String> {
    let mut left_out = Vec::new();
    if let Some(rules) = &job.guards.rules {
        if rules.rail.is_none() {
            left_out.push("the guard's rails".to_owned());
        }
        if rules.baluster.is_none() {
            left_out.push("what fills the guard between its posts".to_owned());
        }
        left_out.push("what fixes the guard's posts".to_owned());
    }
    left_out.into_iter()
}

/// What the code asks of guards, the job's own limits in its place.
pub(super) fn cautions(job: &Job) -> Vec<Caution> {
    let at = |length| Printer::new(job.unit).to_64ths().show(length);
    let codes = job.codes.as_ref();
    let cited = |own: bool, section: &str| match codes.filter(|_| own) {
        Some(CodeRules {
            source: Some(source),
            ..
        }) => source.clone(),
        Some(_) => "the job's limit".to_owned(),
        None => format!("IRC 2018, {section}"),
    };
    let mut found = Vec::new();
    let own_above = codes.and_then(|codes| codes.guard_above);
    let above = own_above.unwrap_or(NEEDED_ABOVE);
    // Stairs rise at least as high as the deck lies above the ground there.
    let rises = job.stairs.iter().map(|stairs| stairs.rise).max();
    let height = job.guards.height.or(rises);
    let open = open_edges(job);
    if let Some(height) = height.filter(|height| *height > above && !open.is_empty()) {
        let edges = match &job.guards.rules {
            None => "no guard is counted".to_owned(),
            Some(_) => format!(
                "its guard leaves out the {} edge",
                open.join(" edge and the ")
            ),
        };
        found.push(Caution::new(
            format!(
                "the deck is {} above the ground and {edges}; more than {} within 36 in of an open \
                 edge needs one ({})",
                at(height),
                at(above),
                cited(own_above.is_some(), "R312.1.1")
            ),
            "describe it in `[guard]`, or ask what the local code wants there",
        ));
    }
    let Some(rules) = &job.guards.rules else {
        return found;
    };
    let own_least = codes.and_then(|codes| codes.guard_least);
    let least = own_least.unwrap_or(LEAST_HEIGHT);
    if rules.height < least {
        found.push(Caution::new(
            format!(
                "the guard is {} high, below {} ({})",
                at(rules.height),
                at(least),
                cited(own_least.is_some(), "R312.1.2")
            ),
            "make it higher, or ask whether the code asks for a guard there",
        ));
    }
    if let Some(one) = (rules.baluster.as_ref()).filter(|one| one.clear_most > WIDEST_OPENING) {
        found.push(Caution::new(
            format!(
                "balusters may stand {} clear, and no sphere of {} may pass a guard (IRC 2018, \
                 R312.1.3)",
                at(one.clear_most),
                at(WIDEST_OPENING)
            ),
            "lower `guard.baluster.clear_most`",
        ));
    }
    found.push(Caution::new(
        "the guard is counted, not designed: what its posts, their fixing and its rails bear is \
         not checked",
        "the local building code says what a guard withstands and, where it asks for one, a \
         licensed engineer decides",
    ));
    found
}

/// Open edges without a guard, by name.
fn open_edges(job: &Job) -> Vec<&'static str> {
    let guarded = |rules: &GuardRules, side| rules.edges.contains(&side);
    let open = Side::ALL.into_iter().filter(|&side| {
        let open = matches!(job.edges.at(side), Edge::Open { .. });
        open && !(job.guards.rules.as_ref()).is_some_and(|rules| guarded(rules, side))
    });
    open.map(Side::name).collect()
}
