//! Certificates of what was found: the prices that the search kept, with the
//! bound that the check makes of them. Nothing is written that the check would
//! not confirm.

use super::Refused;
use super::certificate::{
    Certificate, CutPart, CutPiece, CutStock, JointLimit, Limit, Objective, Of, Piece, PlanPart,
    SCHEMA, Support,
};
use super::check::prove;
use crate::job::Job;
use crate::length::Length;
use crate::plan::{self, Plan};
use crate::stock::{CutPlan, CutProblem, LimitPrice};

/// How a bound goes beyond what the prices prove.
const BEYOND: &str = "the rest of the stated bound was shown by listing every cut and block that \
                      a better answer could use and branching over them; that part is too large \
                      to store and is not re-checkable";

/// The certificate of a plan's bound; nothing where the search kept no prices.
///
/// # Errors
/// When the proof is too large to be re-checked.
///
/// # Panics
/// When the plan's fastener is not one of the job's.
pub fn of_plan(job: &Job, plan: &Plan) -> Result<Option<Certificate>, Refused> {
    let Some(proof) = &plan.proof else {
        return Ok(None);
    };
    let units = |length: Length| length.units();
    let price = |piece: &plan::PiecePrice| Piece {
        length: piece.length.units(),
        strip: piece.strip.map(units),
        price: piece.price,
    };
    let support = |&(at, price): &(Length, i64)| Support {
        at: at.units(),
        price,
    };
    let certificate = Certificate {
        schema: SCHEMA.to_owned(),
        of: Of::Plan,
        objective: match plan.totals.objective {
            plan::Objective::Cost => Objective::Cost,
            plan::Objective::Joints => Objective::Joints,
            plan::Objective::Waste => Objective::Waste,
        },
        value: plan.totals.value,
        bound: 0,
        stated: plan.totals.bound,
        beyond: None,
        unit: proof.unit,
        parts: proof.parts,
        pieces: proof.pieces.iter().map(price).collect(),
        limits: limits(&proof.limits),
        plan: Some(PlanPart {
            job: job.title.clone(),
            fastener: job.fasteners[plan.fastener].name.clone(),
            block: proof.block,
            supports: proof.supports.iter().map(support).collect(),
            joints: proof.joints.map(|(most, price)| JointLimit { most, price }),
            blocks: Vec::new(),
        }),
        cut: None,
    };
    proven(certificate, Some(job)).map(Some)
}

/// The certificate of a cut list's bound; nothing where the search kept no
/// prices. `cent_is` is the length that one cent stands for where length is
/// minimised.
///
/// # Errors
/// When the proof is too large to be re-checked.
pub fn of_cut(
    problem: &CutProblem,
    plan: &CutPlan,
    cent_is: Option<Length>,
) -> Result<Option<Certificate>, Refused> {
    let Some(proof) = &plan.proof else {
        return Ok(None);
    };
    let stock = problem.stock.iter().map(|board| CutStock {
        length: board.length.units(),
        price: board.price.map(|price| price.cents()),
        on_hand: board.on_hand,
        available: board.available,
    });
    let pieces = problem.pieces.iter().filter(|piece| piece.count > 0);
    let certificate = Certificate {
        schema: SCHEMA.to_owned(),
        of: Of::Cut,
        objective: Objective::Cost,
        value: plan.cost.cents(),
        bound: 0,
        stated: plan.bound.cents(),
        beyond: None,
        unit: 1,
        parts: proof.parts,
        pieces: proof
            .pieces
            .iter()
            .map(|&(length, price)| Piece {
                length: length.units(),
                strip: None,
                price,
            })
            .collect(),
        limits: limits(&proof.limits),
        plan: None,
        cut: Some(CutPart {
            stock: stock.collect(),
            pieces: pieces
                .map(|piece| CutPiece {
                    length: piece.length.units(),
                    count: piece.count,
                })
                .collect(),
            kerf: problem.kerf.units(),
            end_trim: problem.end_trim.units(),
            cent_is: cent_is.map(Length::units),
        }),
    };
    proven(certificate, None).map(Some)
}

fn limits(prices: &[LimitPrice]) -> Vec<Limit> {
    let limit = |price: &LimitPrice| Limit {
        stock: price.stock + 1,
        on_hand: price.on_hand,
        price: price.price,
    };
    prices.iter().map(limit).collect()
}

/// The certificate with the bound it proves, which is never more than stated.
fn proven(mut certificate: Certificate, job: Option<&Job>) -> Result<Certificate, Refused> {
    let (bound, blocks) = prove(&certificate, job)?;
    certificate.bound = bound.min(certificate.stated);
    certificate.beyond = (certificate.bound < certificate.stated).then(|| BEYOND.to_owned());
    if let Some(plan) = &mut certificate.plan {
        plan.blocks = blocks;
    }
    Ok(certificate)
}
