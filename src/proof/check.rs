//! Re-checks a certificate: integer sums over what it was written for, and
//! nothing of how its prices were found.

use super::certificate::{BlockPart, Certificate, Further, Of, Piece, SCHEMA};
use super::cut::Cut;
use super::deck::Deck;
use super::reach::next_sum;
use super::{Confirmed, Refused, broken};
use crate::job::Job;

/// Re-checks a certificate; a plan's with its job, a cut list's by itself.
///
/// # Errors
/// When it does not prove its bound, or cannot be re-checked.
pub fn check(certificate: &Certificate, job: Option<&Job>) -> Result<Confirmed, Refused> {
    let Proved { value, blocks, .. } = prove(certificate, job, certificate.bound)?;
    let stated: &[BlockPart] = match &certificate.plan {
        Some(plan) => &plan.blocks,
        None => &[],
    };
    let same = stated.len() == blocks.len()
        && stated.iter().zip(&blocks).all(|(stated, own)| {
            stated.courses == own.courses && stated.count == own.count && stated.least <= own.least
        });
    if !same {
        return Err(Refused::Blocks);
    }
    if value < certificate.bound {
        return Err(Refused::Less {
            stated: certificate.bound,
            proved: value,
        });
    }
    let sets = 1 + certificate.further.len();
    Ok(Confirmed {
        bound: certificate.bound,
        complete: certificate.bound >= certificate.stated,
        sets,
        pieces: certificate.pieces.len() * sets,
        blocks: blocks.iter().map(|block| block.count).sum(),
    })
}

/// What a certificate's prices prove.
pub(super) struct Proved {
    /// No answer has a lower value, in the objective's terms.
    pub value: i64,
    /// What its blocks of courses cost at least.
    pub blocks: Vec<BlockPart>,
    /// Which of the further prices were of use.
    pub used: Vec<bool>,
}

/// What a certificate's prices prove; further prices are looked at until they
/// prove `enough`.
pub(super) fn prove(
    certificate: &Certificate,
    job: Option<&Job>,
    enough: i64,
) -> Result<Proved, Refused> {
    if certificate.schema != SCHEMA {
        return Err(Refused::Unknown(certificate.schema.clone()));
    }
    if certificate.parts < 1 || certificate.unit < 1 {
        return Err(broken("`parts` and `unit` are whole numbers above 0"));
    }
    match (certificate.of, &certificate.plan, &certificate.cut) {
        (Of::Plan, Some(plan), None) => {
            let job = job.ok_or(Refused::NeedsJob)?;
            Deck::of(certificate, plan, job)?.prove(certificate, plan, enough)
        }
        (Of::Cut, None, Some(cut)) => Cut::of(certificate, cut)?.prove(certificate, enough),
        _ => Err(broken("`plan` and `cut` do not go with `of`")),
    }
}

/// The weight that a sum of parts proves, as a value of the objective that can
/// be reached at all.
pub(super) fn lifted(
    certificate: &Certificate,
    sum: i128,
    primaries: &[i64],
) -> Result<i64, Refused> {
    let parts = i128::from(certificate.parts);
    let weight = sum.div_euclid(parts) + i128::from(sum.rem_euclid(parts) != 0);
    // What breaks ties is less than one unit: see `tie`.
    let value = weight.max(0).div_euclid(i128::from(certificate.unit));
    let value = i64::try_from(value).map_err(|_| Refused::TooLarge("money"))?;
    Ok(next_sum(primaries, value))
}

/// Further prices with the pieces they are of.
pub(super) fn further_pieces(
    certificate: &Certificate,
    further: &Further,
) -> Result<Vec<Piece>, Refused> {
    if further.pieces.len() != certificate.pieces.len() {
        return Err(broken("further prices are not as many as the pieces"));
    }
    let priced = certificate.pieces.iter().zip(&further.pieces);
    let priced = priced.map(|(piece, &price)| Piece {
        price,
        ..piece.clone()
    });
    Ok(priced.collect())
}
