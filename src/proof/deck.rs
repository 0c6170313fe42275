//! The proof of a plan's bound: the deck worked out again from the job, and what
//! each set of prices says about the numbers of boards, joints and supports that
//! carry joints.

use std::collections::{BTreeMap, HashMap};

use super::boards::{Cutting, Kind, of_kinds, worths};
use super::certificate::{BlockPart, Certificate, Further, Objective, Piece, PlanPart, Support};
use super::check::{Proved, further_pieces, lifted};
use super::counts::{Counted, Least, Row, least};
use super::courses::{Prices, Run};
use super::{Refused, broken};
use crate::job::{self, Job};
use crate::length::Length;
use crate::verify::{geometry_of, wide};

/// A width to be ripped to, for each course of a block, if boards may be split.
type Shape = Vec<Option<i128>>;

/// A job's deck as a certificate looks at it.
pub(super) struct Deck<'a> {
    job: &'a Job,
    run: Run,
    kinds: Vec<Kind>,
    splits: Vec<(i128, i128)>,
    /// Blocks of neighbouring courses that are alike, and how many there are.
    shapes: Vec<(Shape, i64)>,
    objective: Objective,
    unit: i64,
    parts: i128,
    /// Boards' lengths are counted in steps of this many units.
    step: i64,
    most_pieces: i128,
    most_joints: i128,
    /// Joints that one support can carry at most.
    on_one: i128,
    joint: (i64, i128),
    doubled: (i64, i128),
}

/// What one set of prices says of blocks and counts.
pub(super) struct Said {
    /// What the counts have to meet.
    pub row: Row,
    /// What a single board of each kind can hold at most.
    most_worth: Vec<i128>,
    blocks: Vec<BlockPart>,
}

impl<'a> Deck<'a> {
    /// The deck of a job, for the fastener and blocks that a certificate names.
    pub(super) fn of(
        certificate: &Certificate,
        plan: &PlanPart,
        job: &'a Job,
    ) -> Result<Deck<'a>, Refused> {
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
                item: _,
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
                    bundle: match certificate.objective {
                        Objective::Cost if !from_hand => u64::from(*bundle),
                        _ => 1,
                    },
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
        let courses: Shape = widths
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

        let mut shapes: BTreeMap<Shape, (usize, i64)> = BTreeMap::new();
        for (number, block) in courses.chunks(plan.block as usize).enumerate() {
            shapes.entry(block.to_vec()).or_insert((number, 0)).1 += 1;
        }
        let mut shapes: Vec<_> = shapes.into_iter().collect();
        shapes.sort_by_key(|(_, (first, _))| *first);
        let apart = i128::from(job.joints.same_joist_after) + 1;
        Ok(Deck {
            job,
            run,
            kinds,
            splits,
            shapes: shapes
                .into_iter()
                .map(|(shape, (_, count))| (shape, count))
                .collect(),
            objective: certificate.objective,
            unit,
            parts: i128::from(certificate.parts),
            step,
            most_pieces,
            most_joints: match &plan.joints {
                Some(limit) => most_joints.min(i128::from(limit.most)),
                None => most_joints,
            },
            on_one: (count + apart - 1) / apart,
            joint: weigh(job.joints.price.cents(), 1, 0),
            doubled: weigh(job.joints.doubled_joist_price.cents(), 0, 0),
        })
    }

    fn cutting(&self) -> Cutting<'_> {
        Cutting {
            kinds: &self.kinds,
            kerf: wide(self.job.cutting.kerf),
            parts: self.parts,
            most_boards: self.most_pieces,
            most: None,
            splits: &self.splits,
        }
    }

    /// What prices say where any joint costs so much, and one on a support more.
    fn said(&self, pieces: &[Piece], joint: i128, supports: &[Support]) -> Result<Said, Refused> {
        let worth = worths(pieces)?;
        let mut extra: HashMap<i128, i128> = HashMap::new();
        for support in supports {
            let price = i128::from(support.price);
            if price < 0 || extra.insert(i128::from(support.at), price).is_some() {
                return Err(broken("a support has two prices, or one below 0"));
            }
        }
        let prices = Prices {
            pieces: &worth,
            joint,
            supports: &extra,
        };
        let mut need = 0;
        let mut blocks = Vec::new();
        for (shape, count) in &self.shapes {
            let least = self
                .run
                .least(&self.job.joints, shape, &prices)
                .map_err(|()| Refused::TooLarge("ways to cut neighbouring courses"))?
                .ok_or_else(|| {
                    Refused::OtherJob(format!("{} cannot be laid at all", self.job.title))
                })?;
            need += least * i128::from(*count);
            let narrow =
                |value: i128| i64::try_from(value).map_err(|_| Refused::TooLarge("prices"));
            blocks.push(BlockPart {
                courses: shape
                    .iter()
                    .map(|width| width.map(narrow).transpose())
                    .collect::<Result<_, _>>()?,
                count: *count,
                least: narrow(least)?,
            });
        }
        for extra in &self.job.extras {
            let job::Extra {
                label: _,
                length,
                count,
            } = extra;
            let each = worth.get(&(None, wide(*length))).copied().unwrap_or(0);
            need += each * i128::from(*count);
        }
        let most_worth = self.cutting().most_worth(pieces)?;
        let mut row = self.cutting().of_bundles(&most_worth);
        row.push(joint);
        // A support carries so many joints at most.
        let carried = |at: &i128| extra.get(at).copied().unwrap_or(0) * self.on_one;
        row.extend(self.run.joints().iter().map(carried));
        Ok(Said {
            row: Row { worth: row, need },
            most_worth,
            blocks,
        })
    }

    /// What the certificate's first prices say.
    fn first(&self, certificate: &Certificate, plan: &PlanPart) -> Result<Said, Refused> {
        let limit = match &plan.joints {
            Some(limit) if limit.price < 0 => return Err(broken("a price is below 0")),
            Some(limit) => i128::from(limit.price),
            None => 0,
        };
        let joint = self.joint.1 * self.parts + limit;
        self.said(&certificate.pieces, joint, &plan.supports)
    }

    /// The row of further prices.
    pub(super) fn further_row(
        &self,
        certificate: &Certificate,
        further: &Further,
    ) -> Result<Row, Refused> {
        let Some(part) = &further.plan else {
            return Err(broken("further prices say nothing of joints"));
        };
        let pieces = further_pieces(certificate, further)?;
        let said = self.said(&pieces, i128::from(part.joint), &part.supports)?;
        Ok(said.row)
    }

    /// The rows of all prices, the root's first.
    pub(super) fn rows(
        &self,
        certificate: &Certificate,
        plan: &PlanPart,
    ) -> Result<Vec<Row>, Refused> {
        let further = certificate.further.iter();
        let further = further.map(|further| self.further_row(certificate, further));
        std::iter::once(self.first(certificate, plan).map(|said| said.row))
            .chain(further)
            .collect()
    }

    /// The least that counts weigh which meet all rows: of boards, joints and
    /// supports that carry joints.
    pub(super) fn least(&self, rows: &[Row], enough: i64) -> Least {
        let mut counted: Vec<Counted> = self.cutting().counted();
        counted.push(Counted {
            weight: self.joint.1,
            most: self.most_joints,
        });
        let support = Counted {
            weight: self.doubled.1,
            most: 1,
        };
        counted.extend(self.run.joints().iter().map(|_| support.clone()));
        let enough = match self.objective {
            Objective::Waste => enough.div_euclid(self.step) + i64::from(enough % self.step != 0),
            Objective::Cost | Objective::Joints => enough,
        };
        least(&counted, rows, i128::from(enough) * i128::from(self.unit))
    }

    /// Boards by stock and where they come from, and joints.
    pub(super) fn boards(&self, counts: &[i128]) -> (Vec<(usize, bool, i128)>, i128) {
        (of_kinds(&self.kinds, counts), counts[self.kinds.len()])
    }

    /// What a certificate proves of it.
    pub(super) fn prove(
        &self,
        certificate: &Certificate,
        plan: &PlanPart,
        enough: i64,
    ) -> Result<Proved, Refused> {
        let first = self.first(certificate, plan)?;
        let Said {
            row,
            most_worth,
            blocks,
        } = first;
        let mut sum = row.need;
        if let Some(limit) = &plan.joints {
            sum -= i128::from(limit.price) * i128::from(limit.most);
        }
        // What a support's joints pay beyond what the support costs is given back.
        let first_support = self.kinds.len() + 1;
        for paid in &row.worth[first_support..] {
            sum -= (paid - self.doubled.1 * self.parts).max(0);
        }
        sum -= self
            .cutting()
            .given_back(&most_worth, &certificate.limits)?;
        let primaries: Vec<i64> = (self.kinds.iter().map(|kind| kind.sold))
            .chain([self.joint.0, self.doubled.0])
            .collect();
        let steps = |value: i64| match self.objective {
            Objective::Waste => Length::from_units(self.step)
                .checked_mul(value)
                .map_or(i64::MAX, Length::units),
            Objective::Cost | Objective::Joints => value,
        };
        let mut value = steps(lifted(certificate, sum, &primaries)?);
        let mut used = vec![false; certificate.further.len()];
        if value < enough && !certificate.further.is_empty() {
            let least = self.least(&self.rows(certificate, plan)?, enough);
            let primary = least.weight.div_euclid(i128::from(self.unit));
            value = value.max(steps(i64::try_from(primary).unwrap_or(i64::MAX)));
            used = least.used[1..].to_vec();
        }
        Ok(Proved {
            value,
            blocks,
            used,
        })
    }
}
