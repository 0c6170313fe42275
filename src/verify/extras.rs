//! Whether the other pieces of the job are all there, each by its name, and none
//! besides. What boards they come from is left to [`super::boards`].

use super::pieces::{Laid, LaidPiece};
use super::{Findings, Rule, wide};
use crate::job::Job;
use crate::plan::Plan;

/// Checks the other pieces and puts them beside the courses' own.
pub(super) fn check(job: &Job, plan: &Plan, laid: &mut Laid, found: &mut Findings) {
    let wanted = job.extras.iter().enumerate().flat_map(|(place, extra)| {
        (1..=extra.count).map(move |number| (place, extra, format!("{} {number}", extra.label)))
    });
    let mut pieces = plan.extras.iter();
    for (place, extra, id) in wanted {
        let Some(piece) = pieces.next() else {
            found.add(Rule::Extra, format!("{id} is missing"));
            continue;
        };
        if piece.id != id || piece.extra != place {
            found.add(
                Rule::Extra,
                format!(
                    "{} of kind {} stands where {id} is due",
                    piece.id,
                    piece.extra + 1
                ),
            );
        }
        if piece.length != extra.length {
            found.add(
                Rule::Extra,
                format!(
                    "{} is cut to {}, but it must be {}",
                    piece.id,
                    found.show(wide(piece.length)),
                    found.show(wide(extra.length))
                ),
            );
        }
    }
    for piece in pieces {
        found.add(
            Rule::Extra,
            format!("the job asks for no piece like {}", piece.id),
        );
    }
    for piece in &plan.extras {
        laid.extra += wide(piece.length);
        // As wide as a board: it comes from no strip.
        let kept = LaidPiece {
            length: wide(piece.length),
            board: piece.board,
            width: wide(job.board.face),
            ripped: false,
        };
        if laid.pieces.insert(piece.id.clone(), kept).is_some() {
            found.add(Rule::PieceId, format!("two pieces are named {}", piece.id));
        }
    }
}
