//! Lumber to buy: all pieces of one size are one cutting problem, solved by the
//! same engine as a bare cut list, so that the sticks are the cheapest and
//! proven to be.

use super::goods::line;
use super::{Group, Line, LumberCut, Needed, OrderError, Trade};
use crate::frame::Piece;
use crate::job::{FrameRules, Job};
use crate::length::Length;
use crate::stock::{CutProblem, Demand, StockBoard, StockError, solve};
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
        let problem = CutProblem {
            stock: (lumber.stock.iter())
                .map(|stick| StockBoard {
                    length: stick.length,
                    price: stick.price,
                    on_hand: u64::from(stick.on_hand),
                    available: stick.available.map(u64::from),
                    bundle: u64::from(stick.bundle),
                })
                .collect(),
            pieces: (pieces.iter())
                .map(|piece| Demand {
                    length: piece.length,
                    count: piece.count,
                })
                .collect(),
            kerf: rules.kerf,
            end_trim: rules.end_trim,
        };
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
            message: format!("there is not enough {size} for all pieces of the frame"),
            help: "raise its `available`, or add another length of it".to_owned(),
        },
        StockError::Stopped => OrderError::Stopped,
    }
}

/// The sticks to buy, a line for each length, longest first.
pub(super) fn lines(job: &Job, cuts: &[LumberCut]) -> Vec<Line> {
    let mut lines = Vec::new();
    for cut in cuts {
        let lumber = &job.lumber[cut.size];
        let mut of_size: Vec<(Length, Line)> = Vec::new();
        for (place, stick) in lumber.stock.iter().enumerate() {
            let alike = cut.plan.boards.iter().filter(|board| board.stock == place);
            let (mut used, mut on_hand) = (0, 0);
            for board in alike {
                used += board.count;
                on_hand += if board.on_hand { board.count } else { 0 };
            }
            if used == 0 {
                continue;
            }
            let treated = if lumber.treated { ", treated" } else { "" };
            let item = format!("{} × {}{treated}", stick.length.show(job.unit), lumber.size);
            let line = Line {
                on_hand,
                ..line(
                    Group::Frame,
                    item,
                    Trade::Stick,
                    Needed::Count(used),
                    cut.plan.bought(place),
                )
            };
            of_size.push((stick.length, line.priced(stick.price)));
        }
        of_size.sort_by_key(|(length, _)| -*length);
        lines.extend(of_size.into_iter().map(|(_, line)| line));
    }
    lines
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
