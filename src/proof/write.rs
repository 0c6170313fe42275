//! Certificates of what was found: the prices that the search kept, with the
//! bound that the check makes of them. Nothing is written that the check would
//! not confirm.

use super::Refused;
use super::certificate::{
    Certificate, CutPart, CutPiece, CutStock, Further, FurtherPlan, JointLimit, Limit, Objective,
    Of, Piece, PlanPart, SCHEMA, Support,
};
use super::check::prove;
use super::counts::{Least, Row};
use super::cut::Cut;
use super::deck::Deck;
use crate::job::Job;
use crate::length::Length;
use crate::plan::{self, Plan};
use crate::stock::{CutPlan, CutProblem, LimitPrice, Refuter};
use crate::watch::Watch;

/// How a bound goes beyond what the prices prove.
const BEYOND: &str = "the rest of the stated bound was shown by branching over numbers of boards, \
                      joints and supports and over the cuts and courses that a better answer \
                      could use; that part is too large to store and is not re-checkable";
/// The same for a cut list.
const BY_SEARCH: &str = "the rest of the stated bound was shown by a search over every cut that a \
                         better answer could use, and not by prices; that part is not stored and \
                         is not re-checkable";
/// The same where it was shown by prices, of which there are too many.
const TOO_LARGE: &str = "the prices that show the rest of the stated bound are too many to store, \
                         so that this part is not re-checkable";
/// Further prices in a certificate at most: some four megabytes as they are written.
const MOST_PRICES: usize = 200_000;
/// Sets of further prices that are looked for at most.
const MOST_SETS: usize = 300;
/// Work on finding out which boards are left.
const MOST_STEPS: usize = 40_000_000;

/// The certificate of a plan's bound; nothing where the search kept no prices.
/// As long as counts of boards and joints are left that weigh less than the bound,
/// prices are looked for that refute them.
///
/// # Errors
/// When the proof is too large to be re-checked.
///
/// # Panics
/// When the plan's fastener is not one of the job's.
pub fn of_plan(job: &Job, plan: &Plan, watch: &dyn Watch) -> Result<Option<Certificate>, Refused> {
    let Some(proof) = &plan.proof else {
        return Ok(None);
    };
    let mut certificate = Certificate {
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
        further: Vec::new(),
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
    // Where that is too much the certificate is one of the root alone.
    let _ = refute_plan(&mut certificate, job, plan, watch);
    proven(certificate, Some(job)).map(Some)
}

/// The certificate of a cut list's bound; nothing where the search kept no
/// prices. `cent_is` is the length that one cent stands for where length is
/// minimised. As long as numbers of boards are left that cost less than the
/// bound, prices are looked for that refute them.
///
/// # Errors
/// When the proof is too large to be re-checked.
pub fn of_cut(
    problem: &CutProblem,
    plan: &CutPlan,
    cent_is: Option<Length>,
    watch: &dyn Watch,
) -> Result<Option<Certificate>, Refused> {
    let Some(proof) = &plan.proof else {
        return Ok(None);
    };
    let stock = problem.stock.iter().map(|board| CutStock {
        length: board.length.units(),
        price: board.price.map(|price| price.cents()),
        on_hand: board.on_hand,
        available: board.available,
        bundle: board.bundle,
    });
    let pieces = problem.pieces.iter().filter(|piece| piece.count > 0);
    let mut certificate = Certificate {
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
        further: (proof.further.iter())
            .map(|prices| Further {
                pieces: prices.clone(),
                plan: None,
            })
            .collect(),
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
    // Where that is too much the certificate is one of the root alone.
    let _ = refute(&mut certificate, problem, plan, watch);
    proven(certificate, None).map(Some)
}

/// Adds prices that refute the cheapest boards left, again and again.
fn refute(
    certificate: &mut Certificate,
    problem: &CutProblem,
    plan: &CutPlan,
    watch: &dyn Watch,
) -> Result<(), Refused> {
    let Some(part) = &certificate.cut else {
        return Ok(());
    };
    let cut = Cut::of(certificate, part)?;
    let mut refuter = None;
    let sets = Sets {
        rows: cut.rows(certificate)?,
        least: &|rows, enough| cut.least(rows, enough),
        row: &|certificate, further| cut.further_row(certificate, further),
    };
    sets.add(certificate, watch, &mut |_, counts| {
        if refuter.is_none() {
            refuter = Refuter::new(problem, plan, watch);
        }
        let boards = cut.boards(counts);
        let boards = |stock: usize, hand: bool| how_many(&boards, stock, hand);
        let pieces = refuter.as_ref()?.prices(&boards, watch)?;
        Some(Further { pieces, plan: None })
    })
}

/// The rows that counts have to meet, and what is asked of them.
struct Sets<'s> {
    rows: Vec<Row>,
    /// The cheapest counts that meet all rows, unless none weigh less.
    least: &'s dyn Fn(&[Row], i64) -> Least,
    /// The row of further prices.
    row: &'s dyn Fn(&Certificate, &Further) -> Result<Row, Refused>,
}

impl Sets<'_> {
    /// Adds prices to a certificate, again and again, that refute the cheapest
    /// counts left; `refute` finds them.
    fn add(
        mut self,
        certificate: &mut Certificate,
        watch: &dyn Watch,
        refute: &mut dyn FnMut(&mut Certificate, &[i128]) -> Option<Further>,
    ) -> Result<(), Refused> {
        let mut steps = 0;
        while certificate.further.len() < MOST_SETS && steps < MOST_STEPS && !watch.stop() {
            let least = (self.least)(&self.rows, certificate.stated);
            steps += least.steps;
            let Some(counts) = least.counts else { break };
            let Some(further) = refute(certificate, &counts) else {
                break;
            };
            let row = (self.row)(certificate, &further)?;
            if row.is_met(&counts) {
                break;
            }
            self.rows.push(row);
            certificate.further.push(further);
        }
        Ok(())
    }
}

/// How many boards there are of a stock, by its place from 0.
fn how_many(boards: &[(usize, bool, i128)], stock: usize, on_hand: bool) -> i64 {
    let of_kind = |&&(s, h, _): &&(usize, bool, i128)| (s, h) == (stock + 1, on_hand);
    let count = boards.iter().find(of_kind).map_or(0, |kind| kind.2);
    i64::try_from(count).unwrap_or(i64::MAX)
}

/// The same for a plan, with joints beside its boards.
fn refute_plan(
    certificate: &mut Certificate,
    job: &Job,
    plan: &Plan,
    watch: &dyn Watch,
) -> Result<(), Refused> {
    let Some(part) = certificate.plan.clone() else {
        return Ok(());
    };
    if watch.stop()
        || prove(certificate, Some(job), certificate.stated)?.value >= certificate.stated
    {
        return Ok(());
    }
    let deck = Deck::of(certificate, &part, job)?;
    let refuted = plan::refuting(job, plan, watch, |refute| {
        let sets = Sets {
            rows: deck.rows(certificate, &part)?,
            least: &|rows, enough| deck.least(rows, enough),
            row: &|certificate, further| deck.further_row(certificate, further),
        };
        sets.add(certificate, watch, &mut |certificate, counts| {
            let (boards, joints) = deck.boards(counts);
            let joints = i64::try_from(joints).unwrap_or(i64::MAX);
            let boards = |stock: usize, on_hand: bool| how_many(&boards, stock, on_hand);
            refute(&boards, joints).map(|proof| further(certificate, &proof))
        })
    });
    refuted.unwrap_or(Ok(()))
}

/// A plan's prices in the order of the certificate's pieces; those that are not
/// among them yet are added.
fn further(certificate: &mut Certificate, proof: &plan::Proof) -> Further {
    let key = |piece: &Piece| (piece.strip, piece.length);
    let priced: Vec<Piece> = proof.pieces.iter().map(price).collect();
    for piece in &priced {
        if certificate
            .pieces
            .iter()
            .all(|known| key(known) != key(piece))
        {
            certificate.pieces.push(Piece {
                price: 0,
                ..piece.clone()
            });
            for further in &mut certificate.further {
                further.pieces.push(0);
            }
        }
    }
    let of = |known: &Piece| priced.iter().find(|piece| key(piece) == key(known));
    Further {
        pieces: (certificate.pieces.iter())
            .map(|known| of(known).map_or(0, |piece| piece.price))
            .collect(),
        plan: Some(FurtherPlan {
            joint: proof.joint,
            supports: proof.supports.iter().map(support).collect(),
        }),
    }
}

fn price(piece: &plan::PiecePrice) -> Piece {
    Piece {
        length: piece.length.units(),
        strip: piece.strip.map(Length::units),
        price: piece.price,
    }
}

fn support(&(at, price): &(Length, i64)) -> Support {
    Support {
        at: at.units(),
        price,
    }
}

fn limits(prices: &[LimitPrice]) -> Vec<Limit> {
    let limit = |price: &LimitPrice| Limit {
        stock: price.stock + 1,
        on_hand: price.on_hand,
        price: price.price,
    };
    prices.iter().map(limit).collect()
}

/// The certificate with the bound it proves, which is never more than stated, and
/// of the further prices those that are of use and not too many.
fn proven(mut certificate: Certificate, job: Option<&Job>) -> Result<Certificate, Refused> {
    let stated = certificate.stated;
    let mut beyond = match certificate.of {
        Of::Plan => BEYOND,
        Of::Cut => BY_SEARCH,
    };
    let mut proved = match prove(&certificate, job, stated) {
        Err(Refused::TooLarge(_)) if !certificate.further.is_empty() => None,
        proved => Some(proved?),
    };
    if let Some(proved) = &proved {
        let mut used = proved.used.iter();
        certificate.further.retain(|_| used.next() == Some(&true));
    }
    if proved.is_none() || certificate.further.len() * certificate.pieces.len() > MOST_PRICES {
        beyond = TOO_LARGE;
        certificate.further.clear();
        proved = None;
    }
    let proved = match proved {
        Some(proved) => proved,
        None => prove(&certificate, job, stated)?,
    };
    if !certificate.further.is_empty() && proved.value < stated {
        let mut root = certificate.clone();
        root.further.clear();
        if prove(&root, job, stated)?.value >= proved.value {
            certificate = root;
        }
    }
    certificate.bound = proved.value.min(stated);
    certificate.beyond = (certificate.bound < stated).then(|| beyond.to_owned());
    if let Some(plan) = &mut certificate.plan {
        plan.blocks = proved.blocks;
    }
    Ok(certificate)
}
