//! The frame's lines: lumber by the cut list, what its connections take, tape, and
//! what a ledger takes. The frame itself was laid out by [`crate::frame`], and its
//! connections are counted by [`super::connections`].

use std::collections::BTreeSet;

use super::connections::Connections;
use super::goods::{bought, lapped, line, places, rolls};
use super::{Framing, Group, Line, Needed, OrderError, Trade, base, guard, lumber, stairs};
use crate::caution::Caution;
use crate::frame::{Border, FrameError, Part, Skeleton, frame};
use crate::job::{FrameRules, Job};
use crate::length::Length;
use crate::plan::Plan;
use crate::watch::Watch;

impl From<FrameError> for OrderError {
    fn from(error: FrameError) -> OrderError {
        OrderError::Impossible {
            message: error.to_string(),
            help: error.way_out().to_owned(),
        }
    }
}

/// Supports that carry at least one joint.
fn carrying(job: &Job, plan: &Plan) -> Vec<Length> {
    let half = job.joints.end_gap.half_down();
    let runs = plan.courses.iter().flat_map(|course| &course.runs);
    let joints = runs.flat_map(|run| {
        run.pieces
            .split_last()
            .map_or(&[][..], |(_, others)| others)
    });
    let joints: BTreeSet<Length> = joints.map(|piece| piece.to + half).collect();
    joints.into_iter().collect()
}

/// Lays out the frame under a plan and cuts its lumber.
pub(super) fn framing(
    job: &Job,
    rules: &FrameRules,
    plan: &Plan,
    watch: &dyn Watch,
) -> Result<Framing, OrderError> {
    let base = job.base.as_ref();
    let under_beams = base.map_or(Vec::new(), |base| crate::base::under_beams(job, base));
    let carrying = carrying(job, plan);
    let mut skeleton = frame(job, rules, &plan.supports, &carrying, &under_beams)?;
    let posts = base::posts(job, &plan.supports, &skeleton)?;
    skeleton.pieces.extend(posts);
    // Stringers of the same sizes are cut from the same sticks.
    skeleton.pieces.extend(stairs::stringers_of_lumber(job));
    skeleton.pieces.extend(guard::of_lumber(job));
    let cuts = lumber::cut(job, rules, &skeleton.pieces, watch)?;
    Ok(Framing { skeleton, cuts })
}

/// What the frame takes.
pub(super) fn lines(
    job: &Job,
    rules: &FrameRules,
    framing: &Framing,
    connections: &Connections,
) -> Vec<Line> {
    let skeleton = &framing.skeleton;
    let mut lines = lumber::lines(job, &framing.cuts);
    lines.extend(connections.lines(rules));
    if let Some(tape) = &rules.tape {
        lines.extend(rolls(
            Group::Frame,
            "joist tape",
            tape,
            taped(job, rules, skeleton),
        ));
    }
    let (along, ledgers) = (job.deck.along, skeleton.ledgers());
    if let Some(fastener) = &rules.ledger_fastener {
        let needed = ledgers * places(along, fastener.spacing) * u64::from(fastener.at_each);
        lines.extend(bought(Group::Frame, &fastener.goods, needed));
    }
    if let Some(flashing) = rules.flashing.as_ref().filter(|_| ledgers > 0) {
        let count = ledgers * lapped(along, flashing.length, flashing.overlap);
        let item = format!("ledger flashing, {}", flashing.length.show(job.unit));
        let needed = Needed::Length(along * ledgers as i64);
        let line = line(Group::Frame, item, Trade::Piece, needed, count);
        lines.push(line.priced(flashing.price));
    }
    let ends = lumber::treated_ends(job, &framing.cuts);
    if let Some(can) = rules.preservative.as_ref().filter(|_| ends > 0) {
        let line = line(
            Group::Frame,
            "preservative for cut ends".to_owned(),
            Trade::Can,
            Needed::Count(ends),
            ends.div_ceil(u64::from(can.ends.max(1))),
        );
        lines.push(line.priced(can.price));
    }
    lines
}

/// The strips of tape over joists, rims and ledger: as many side by side as
/// cover the plies of each.
fn taped(job: &Job, rules: &FrameRules, skeleton: &Skeleton) -> Vec<Length> {
    let Some(tape) = &rules.tape else {
        return Vec::new();
    };
    let side_by_side = |width: Length| {
        let strips = (width.units() + tape.width.units() - 1) / tape.width.units();
        usize::try_from(strips).unwrap_or(0)
    };
    let thickness = |size: usize| job.lumber[size].thickness;
    let mut strips = Vec::new();
    let mut cover = |length: Length, width: Length| {
        strips.extend(std::iter::repeat_n(length, side_by_side(width)));
    };
    for joist in &skeleton.joists {
        let width = thickness(rules.joist) * i64::from(joist.plies);
        cover(skeleton.joist_length(), width);
    }
    for edge in &skeleton.edges {
        match (edge, rules.ledger) {
            (Border::Rims(rims), _) => {
                cover(job.deck.along, thickness(rules.rim) * i64::from(*rims));
            }
            (Border::Ledger, Some(ledger)) => cover(job.deck.along, thickness(ledger)),
            (Border::Ledger, None) => {}
        }
    }
    strips
}

/// What of a frame the job's figures do not reach.
pub(super) fn not_counted(
    rules: &FrameRules,
    framing: &Framing,
    connections: &Connections,
) -> Vec<String> {
    let skeleton = &framing.skeleton;
    let mut left_out = Vec::new();
    let mut unless = |counted: bool, what: &str| {
        if !counted {
            left_out.push(what.to_owned());
        }
    };
    let ledgers = skeleton.ledgers() > 0;
    let doubled = connections.double_hangers;
    if ledgers {
        unless(rules.hanger.is_some(), "joist hangers at the ledger");
    }
    if rules.hanger.is_some() && doubled > 0 {
        let what = format!("hangers for doubled joists ({doubled} ends)");
        unless(rules.double_hanger.is_some(), &what);
    }
    if connections.ties > 0 {
        unless(rules.tie.is_some(), "ties between joists and beams");
    }
    if connections.nails(rules) > 0 {
        unless(rules.nail.is_some(), "nails or screws of the connectors");
    }
    match connections.unfastened(rules).as_slice() {
        [] => {}
        [one] => unless(false, &format!("nails or screws of {one}")),
        [most @ .., last] => {
            let what = format!("nails or screws of {} and {last}", most.join(", "));
            unless(false, &what);
        }
    }
    unless(rules.blocking.is_some(), "blocking");
    unless(rules.tape.is_some(), "joist tape");
    if ledgers {
        unless(rules.ledger_fastener.is_some(), "ledger fasteners");
        unless(rules.flashing.is_some(), "flashing over the ledger");
    }
    left_out
}

/// What to look at before the frame's lumber is ordered and cut.
pub(super) fn cautions(job: &Job, rules: &FrameRules, framing: &Framing) -> Vec<Caution> {
    let mut found = Vec::new();
    let pieces = &framing.skeleton.pieces;
    let spliced = |part: Part| {
        let mut parts = pieces.iter().filter(|piece| piece.part == part);
        parts.any(|piece| piece.length < job.deck.along)
    };
    let joined: Vec<&str> = [
        (Part::Rim, "rims on a joist"),
        (Part::Ledger, "the ledger between two joists"),
        (
            Part::Beam,
            match job.base {
                Some(_) => "beams over a support",
                None => "beams under a joist, since the job does not say what carries them",
            },
        ),
    ]
    .into_iter()
    .filter(|(part, _)| spliced(*part))
    .map(|(_, how)| how)
    .collect();
    if !joined.is_empty() {
        found.push(Caution::new(
            format!(
                "no stick is as long as the frame, so members are spliced: {}",
                joined.join(", ")
            ),
            "whether and how a member may be spliced is for the local code or whoever designed \
             the frame",
        ));
    }
    if rules.ledger.is_some() {
        found.push(Caution::new(
            "the ledger, what holds it to the wall and its flashing are counted by the spacing and \
             lengths in the job, not designed",
            "how a ledger is fixed, and to what wall, is laid down by the local building code; \
             where it asks for one, a licensed engineer decides",
        ));
    }
    found
}
