//! Lumber to buy: all pieces of one size are one cutting problem, solved by the
//! same engine as a bare cut list, so that the sticks are the cheapest and
//! proven to be.

use super::{Group, Line, LumberCut, OrderError, Trade, sawn};
use crate::frame::Piece;
use crate::job::{FrameRules, Job, Stock};
use crate::length::Length;
use crate::stock::{Demand, StockError, solve};
use crate::watch::Watch;

/// The cut list of each size that is used, in the job's order.
pub(super) fn cut(
    job: &Job,
    rules: &FrameRules,
    pieces: &[Piece],
    watch: &dyn Watch,
) -> Result<Vec<LumberCut>, OrderError> {
    let mut cuts = Vec::new();
    for (size, lumber) in job.lumber.iter().enumerate() {
        let pieces: Vec<&Piece> = pieces.iter().filter(|piece| piece.size == size).collect();
        if pieces.is_empty() {
            continue;
        }
        let demand = pieces.iter().map(|piece| Demand {
            length: piece.length,
            count: piece.count,
        });
        let problem = sawn::problem(&lumber.stock, demand.collect(), rules.kerf, rules.end_trim);
        let plan = solve(&problem, watch).map_err(|error| refused(job, &pieces, error))?;
        cuts.push(LumberCut {
            size,
            parts: pieces.iter().map(|piece| piece.part).collect(),
            problem,
            plan,
        });
    }
    Ok(cuts)
}

fn refused(job: &Job, pieces: &[&Piece], error: StockError) -> OrderError {
    let size = &job.lumber[pieces[0].size].size;
    match error {
        StockError::TooLong(piece) => OrderError::Impossible {
            message: format!(
                "no {size} that can be had is as long as a {} of {}",
                pieces[piece].part.name(),
                pieces[piece].length.show(job.unit)
            ),
            help: "add a longer `[[lumber]]` of that size".to_owned(),
        },
        StockError::NotEnough => OrderError::Impossible {
            message: format!("there is not enough {size} for all pieces that are cut from it"),
            help: "raise its `available`, or add another length of it".to_owned(),
        },
        StockError::Stopped => OrderError::Stopped,
    }
}

/// The sticks to buy, a line for each length, longest first.
pub(super) fn lines(job: &Job, cuts: &[LumberCut]) -> Vec<Line> {
    let of_size = |cut: &LumberCut| {
        let lumber = &job.lumber[cut.size];
        let name = |stick: &Stock| stick.called(&lumber.kind(), job.unit);
        sawn::lines(Group::Frame, Trade::Stick, &lumber.stock, &cut.plan, name)
    };
    cuts.iter().flat_map(of_size).collect()
}

/// Sawn ends of all pieces of treated lumber. The ends a stick came with are
/// not sawn, unless they are trimmed.
pub(super) fn treated_ends(job: &Job, cuts: &[LumberCut]) -> u64 {
    let treated = cuts.iter().filter(|cut| job.lumber[cut.size].treated);
    treated.map(sawn_ends).sum()
}

fn sawn_ends(cut: &LumberCut) -> u64 {
    let problem = &cut.problem;
    let of_each = cut.plan.boards.iter().map(|board| {
        let ends = 2 * board.pieces.len() as u64;
        if problem.end_trim > Length::ZERO {
            return ends * board.count;
        }
        let pieces = board
            .pieces
            .iter()
            .map(|&piece| problem.pieces[piece].length);
        let between = problem.kerf * (board.pieces.len() as i64 - 1);
        let whole = pieces.sum::<Length>() + between >= problem.stock[board.stock].length;
        (ends - if whole { 2 } else { 1 }) * board.count
    });
    of_each.sum()
}
