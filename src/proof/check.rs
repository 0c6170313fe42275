//! Re-checks a certificate: integer sums over what it was written for, and
//! nothing of how its prices were found.

use std::collections::{BTreeMap, HashMap};

use super::boards::{Cutting, Kind, worths};
use super::certificate::{BlockPart, Certificate, Objective, Of, PlanPart, SCHEMA};
use super::courses::{Prices, Run};
use super::cut::Cut;
use super::reach::next_sum;
use super::{Confirmed, Refused, broken};
use crate::job::{self, Job};
use crate::length::Length;
use crate::verify::{geometry_of, wide};

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
            prove_plan(certificate, plan, job.ok_or(Refused::NeedsJob)?)
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

fn prove_plan(certificate: &Certificate, plan: &PlanPart, job: &Job) -> Result<Proved, Refused> {
    let named = |fastener: &job::Fastener| fastener.name == plan.fastener;
    let Some(fastener) = job.fasteners.iter().position(named) else {
        return Err(Refused::OtherJob(format!(
            "{} has no fastener \"{}\"",
            job.title, plan.fastener
        )));
    };
    let geometry = geometry_of(job, fastener)
        .ok_or_else(|| Refused::OtherJob(format!("{} has no deck", job.title)))?;
    if plan.block < 1 {
        return Err(broken("a block has one course at least"));
    }
    // Whoever adds to these decides here what it means for the proof.
    let job::Cutting {
        kerf,
        end_trim,
        split_rips,
        rip_kerf,
    } = &job.cutting;
    let step = job.stock.iter().fold(0, |step, stock| {
        let (mut a, mut b) = (stock.length.units(), step);
        while b != 0 {
            (a, b) = (b, a % b);
        }
        a
    });
    let step = step.max(1);
    let unit = certificate.unit;
    // What something counts for the objective, and what it weighs.
    let weigh = |cents: i64, joints: i64, length: i64| -> (i64, i128) {
        let (primary, tie) = match certificate.objective {
            Objective::Cost => (cents, joints),
            Objective::Joints => (joints, cents),
            Objective::Waste => (length / step, cents),
        };
        (
            primary,
            i128::from(primary) * i128::from(unit) + i128::from(tie),
        )
    };
    let mut kinds = Vec::new();
    let mut longest = 0;
    for (place, stock) in (1..).zip(&job.stock) {
        let job::Stock {
            length,
            price,
            on_hand,
            available: _,
            bundle,
        } = stock;
        let usable = wide(*length) - 2 * wide(*end_trim);
        let mut kind = |from_hand: bool, cents: i64, limit: Option<u32>| {
            if limit == Some(0) {
                return;
            }
            longest = longest.max(usable);
            let (primary, weight) = weigh(cents, 0, length.units());
            kinds.push(Kind {
                stock: place,
                on_hand: from_hand,
                weight,
                // Money is paid for whole bundles; length is that of the boards used.
                sold: match certificate.objective {
                    Objective::Cost => primary.saturating_mul(i64::from(*bundle)),
                    Objective::Joints | Objective::Waste => primary,
                },
                limit: limit.map(u64::from),
                bundle: 1,
                room: usable + wide(*kerf),
            });
        };
        kind(true, 0, Some(*on_hand));
        if let Some(price) = price {
            // Boards left over of a bundle cost more still, which is left out.
            kind(false, price.cents(), stock.most_bought());
        }
    }
    let run = Run::of(job, &geometry, longest);
    let face = wide(job.board.face);
    let widths: Vec<i128> = geometry
        .courses
        .iter()
        .map(|(from, to)| to - from)
        .collect();
    let ripped = || widths.iter().copied().filter(|&width| width < face);
    let splits: Vec<(i128, i128)> = match split_rips {
        true => {
            let mut ripped: Vec<i128> = ripped().collect();
            ripped.sort_unstable();
            ripped.dedup();
            let pairs = (0..ripped.len()).flat_map(|a| (a..ripped.len()).map(move |b| (a, b)));
            pairs
                .map(|(a, b)| (ripped[a], ripped[b]))
                .filter(|(a, b)| a + b + wide(*rip_kerf) <= face)
                .collect()
        }
        false => Vec::new(),
    };
    let courses: Vec<Option<i128>> = widths
        .iter()
        .map(|&width| (width < face && !splits.is_empty()).then_some(width))
        .collect();
    let count = courses.len() as i128;
    let most_joints = run.most_joints().unwrap_or(0) as i128 * count;
    let extras: i128 = job.extras.iter().map(|extra| i128::from(extra.count)).sum();
    let most_pieces = most_joints + count + extras;
    let money = |money: crate::money::Money| i128::from(money.cents());
    let (joint_price, doubled_price) = (
        money(job.joints.price),
        money(job.joints.doubled_joist_price),
    );
    let dearest = job
        .stock
        .iter()
        .filter_map(|stock| stock.price)
        .map(money)
        .max();
    // Ties together weigh less than one unit in every plan whose boards all
    // hold something, and other plans are no better.
    let ties = match certificate.objective {
        Objective::Cost => most_joints,
        Objective::Joints | Objective::Waste => {
            most_pieces * dearest.unwrap_or(0)
                + most_joints * joint_price
                + run.places() as i128 * doubled_price
        }
    };
    if i128::from(unit) <= ties {
        return Err(broken(
            "`unit` is too small: what breaks ties could outweigh one",
        ));
    }

    let parts = i128::from(certificate.parts);
    let worth = worths(&certificate.pieces)?;
    let (joint_primary, joint_weight) = weigh(job.joints.price.cents(), 1, 0);
    let (doubled_primary, doubled_weight) = weigh(job.joints.doubled_joist_price.cents(), 0, 0);
    let limit_price = match &plan.joints {
        Some(limit) if limit.price < 0 => return Err(broken("a price is below 0")),
        Some(limit) => i128::from(limit.price),
        None => 0,
    };
    let mut supports: HashMap<i128, i128> = HashMap::new();
    for support in &plan.supports {
        let price = i128::from(support.price);
        if price < 0 || supports.insert(i128::from(support.at), price).is_some() {
            return Err(broken("a support has two prices, or one below 0"));
        }
    }
    let prices = Prices {
        pieces: &worth,
        joint: joint_weight * parts + limit_price,
        supports: &supports,
    };
    let mut sum = 0;
    let mut shapes: BTreeMap<Vec<Option<i128>>, (usize, i64)> = BTreeMap::new();
    for (number, block) in courses.chunks(plan.block as usize).enumerate() {
        shapes.entry(block.to_vec()).or_insert((number, 0)).1 += 1;
    }
    let mut shapes: Vec<_> = shapes.into_iter().collect();
    shapes.sort_by_key(|(_, (first, _))| *first);
    let mut blocks = Vec::new();
    for (shape, (_, count)) in shapes {
        let least = run
            .least(&job.joints, &shape, &prices)
            .map_err(|()| Refused::TooLarge("ways to cut neighbouring courses"))?
            .ok_or_else(|| Refused::OtherJob(format!("{} cannot be laid at all", job.title)))?;
        sum += least * i128::from(count);
        let narrow = |value: i128| i64::try_from(value).map_err(|_| Refused::TooLarge("prices"));
        blocks.push(BlockPart {
            courses: shape
                .into_iter()
                .map(|width| width.map(narrow).transpose())
                .collect::<Result<_, _>>()?,
            count,
            least: narrow(least)?,
        });
    }
    for extra in &job.extras {
        let job::Extra {
            label: _,
            length,
            count,
        } = extra;
        let each = worth.get(&(None, wide(*length))).copied().unwrap_or(0);
        sum += each * i128::from(*count);
    }
    if let Some(limit) = &plan.joints {
        sum -= limit_price * i128::from(limit.most);
    }
    // A support carries so many joints at most; what its joints pay beyond what
    // the support costs is given back.
    let apart = i128::from(job.joints.same_joist_after) + 1;
    let on_one = (count + apart - 1) / apart;
    for at in run.joints() {
        let paid = supports.get(at).copied().unwrap_or(0) * on_one;
        sum -= (paid - doubled_weight * parts).max(0);
    }
    let cutting = Cutting {
        kinds: &kinds,
        kerf: wide(*kerf),
        parts,
        most_boards: most_pieces,
        most: None,
        splits: &splits,
    };
    let most_worth = cutting.most_worth(&certificate.pieces)?;
    sum -= cutting.given_back(&most_worth, &certificate.limits)?;
    let primaries: Vec<i64> = kinds
        .iter()
        .map(|kind| kind.sold)
        .chain([joint_primary, doubled_primary])
        .collect();
    let value = lifted(certificate, sum, &primaries)?;
    let value = match certificate.objective {
        Objective::Waste => Length::from_units(step)
            .checked_mul(value)
            .map_or(i64::MAX, Length::units),
        Objective::Cost | Objective::Joints => value,
    };
    Ok(Proved {
        value,
        blocks,
        used: vec![false; certificate.further.len()],
    })
}
