//! The curve of joints against money: for every sensible number of joints the
//! least that a plan costs with no more of them. Which plans are asked for is
//! decided here, in batches that do not depend on each other; making them is
//! left to whoever asks.

use super::types::{Objective, Totals};
use super::{PlanError, PlanOptions};
use crate::money::Money;

/// One point of the curve.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CurvePoint {
    /// The joints of the plan.
    pub joints: u32,
    /// Its boards, those from hand included.
    pub boards: u32,
    /// What it costs: boards, and joints where the job gives them a price.
    pub price: Money,
    /// No plan with so many joints or fewer costs less.
    pub bound: Money,
}

impl CurvePoint {
    /// Whether no plan with so many joints or fewer costs less.
    pub fn proven(&self) -> bool {
        self.bound >= self.price
    }
}

/// The curve of joints against money.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Curve {
    /// The points by joints, ascending; each costs less than the one before it.
    pub points: Vec<CurvePoint>,
    /// Whether no plan has fewer joints than the first point.
    pub fewest_proven: bool,
    /// Whether no other point belongs on the curve: all are proven, and so is
    /// that every number of joints left out costs as much as the next lower one.
    pub complete: bool,
    /// Whether the planning was stopped from outside.
    pub stopped: bool,
}

/// Makes the plans that are asked for, one answer for each, in order.
pub type Planner<'a> = &'a dyn Fn(&[PlanOptions]) -> Vec<Result<Totals, PlanError>>;

/// A stretch between two numbers of joints.
struct Stretch {
    /// Up to this many joints, `low` is the best known plan.
    most: u32,
    low: CurvePoint,
    high: CurvePoint,
}

/// The curve of a job.
///
/// # Errors
/// When there is no plan at all.
pub fn curve(asked: &PlanOptions, planner: Planner) -> Result<Curve, PlanError> {
    let ask = |prefer: Objective, joints_at_most: Option<u32>| PlanOptions {
        prefer,
        joints_at_most,
        brief: prefer == Objective::Joints || joints_at_most.is_some(),
        ..asked.clone()
    };
    let mut ends = planner(&[ask(Objective::Cost, None), ask(Objective::Joints, None)]).into_iter();
    let mut next = || ends.next().unwrap_or(Err(PlanError::Stopped));
    let cheapest = next()?;
    let fewest = next();
    let right = point(&cheapest);
    let mut stopped = cheapest.stopped;
    // Where the fewest joints were not found, the cheapest plan has the fewest known.
    let (mut left, fewest_proven) = match &fewest {
        Ok(totals) if totals.joints < right.joints => {
            stopped |= totals.stopped;
            let left = CurvePoint {
                bound: right.bound,
                ..point(totals)
            };
            (left, totals.proven)
        }
        Ok(totals) => (
            right.clone(),
            totals.proven && totals.value >= i64::from(right.joints),
        ),
        Err(_) => (right.clone(), false),
    };
    let mut points = vec![right.clone()];
    let mut complete = fewest_proven;
    let mut open: Vec<Stretch> = Vec::new();
    if left.joints < right.joints {
        match planner(&[ask(Objective::Cost, Some(left.joints))]).pop() {
            Some(Ok(totals)) if totals.cost <= left.price => {
                stopped |= totals.stopped;
                left = point(&totals);
            }
            Some(Ok(totals)) => left.bound = left.bound.max(bound(&totals)),
            _ => {}
        }
        points.push(left.clone());
        open.push(Stretch {
            most: left.joints,
            low: left,
            high: right,
        });
    }
    while !open.is_empty() {
        open.retain(|stretch| stretch.is_open());
        let middles: Vec<u32> = open.iter().map(Stretch::middle).collect();
        let asks: Vec<PlanOptions> = middles
            .iter()
            .map(|&middle| ask(Objective::Cost, Some(middle)))
            .collect();
        let mut answers = planner(&asks).into_iter();
        let mut further = Vec::new();
        for (stretch, middle) in open.into_iter().zip(middles) {
            match answers.next() {
                Some(Ok(totals)) => {
                    stopped |= totals.stopped;
                    complete &= stretch.split(middle, &totals, &mut points, &mut further);
                }
                Some(Err(PlanError::Stopped)) | None => {
                    stopped = true;
                    complete = false;
                }
                // There is a plan with fewer joints: this was only not found.
                Some(Err(_)) => {
                    complete = false;
                    further.push(Stretch {
                        most: middle,
                        ..stretch
                    });
                }
            }
        }
        open = further;
    }
    let points = undominated(points);
    complete &= points.iter().all(CurvePoint::proven);
    Ok(Curve {
        points,
        fewest_proven,
        complete,
        stopped,
    })
}

impl Stretch {
    /// Whether some number of joints between may cost less than the lower one.
    fn is_open(&self) -> bool {
        self.high.joints > self.most + 1 && self.high.bound < self.low.price
    }

    fn middle(&self) -> u32 {
        self.most + (self.high.joints - self.most) / 2
    }

    /// Takes the plan with `middle` joints at most and leaves what is open on
    /// both sides of it. False when what is left out is not proven.
    fn split(
        self,
        middle: u32,
        totals: &Totals,
        points: &mut Vec<CurvePoint>,
        further: &mut Vec<Stretch>,
    ) -> bool {
        let found = point(totals);
        if found.price >= self.low.price {
            // A better plan with fewer joints would have served here too.
            let proven = found.bound >= self.low.price;
            further.push(Stretch {
                most: middle,
                ..self
            });
            return proven;
        }
        points.push(found.clone());
        further.push(Stretch {
            most: self.most,
            low: self.low,
            high: found.clone(),
        });
        further.push(Stretch {
            most: middle,
            low: found.clone(),
            high: self.high,
        });
        // From its joints to the middle nothing is cheaper if it is proven.
        found.joints == middle || found.proven()
    }
}

fn bound(totals: &Totals) -> Money {
    match totals.objective {
        Objective::Cost => Money::from_cents(totals.bound),
        Objective::Joints | Objective::Waste => Money::ZERO,
    }
}

fn point(totals: &Totals) -> CurvePoint {
    CurvePoint {
        joints: totals.joints,
        boards: totals.boards,
        price: totals.cost,
        bound: bound(totals),
    }
}

/// The points that no other one beats in both, by joints; what bounds plans
/// with more joints bounds those with fewer too.
fn undominated(mut points: Vec<CurvePoint>) -> Vec<CurvePoint> {
    points.sort_by_key(|point| (point.joints, point.price));
    let mut kept: Vec<CurvePoint> = Vec::new();
    for point in points {
        match kept.last_mut() {
            Some(last) if last.joints == point.joints => last.bound = last.bound.max(point.bound),
            Some(last) if last.price <= point.price => {}
            _ => kept.push(point),
        }
    }
    let mut least = Money::ZERO;
    for point in kept.iter_mut().rev() {
        least = least.max(point.bound);
        point.bound = least.min(point.price);
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Length;

    /// What some decks cost: cents by joints, where `known` says how far below
    /// the cost the bound is.
    fn totals(asked: &PlanOptions, deck: &[(u32, i64)], known: i64) -> Result<Totals, PlanError> {
        let most = asked.joints_at_most.unwrap_or(u32::MAX);
        let allowed = deck.iter().filter(|(joints, _)| *joints <= most);
        let best = match asked.prefer {
            Objective::Joints => allowed.min_by_key(|(joints, cents)| (*joints, *cents)),
            _ => allowed.min_by_key(|(joints, cents)| (*cents, *joints)),
        };
        let &(joints, cents) = best.ok_or(PlanError::Stopped)?;
        let (value, bound) = match asked.prefer {
            Objective::Joints => (i64::from(joints), i64::from(joints)),
            _ => (cents, cents - known),
        };
        Ok(Totals {
            boards: 1,
            price: Money::from_cents(cents),
            joints,
            doubled_joists: 0,
            objective: asked.prefer,
            cost: Money::from_cents(cents),
            value,
            bound,
            proven: value == bound,
            joints_proven: true,
            stopped: false,
            bought: Length::ZERO,
            laid: Length::ZERO,
            extra: Length::ZERO,
        })
    }

    fn drawn(deck: &[(u32, i64)], known: i64) -> (Curve, usize) {
        let asked = std::cell::Cell::new(0);
        let planner = |asks: &[PlanOptions]| {
            asked.set(asked.get() + asks.len());
            asks.iter().map(|ask| totals(ask, deck, known)).collect()
        };
        let curve = curve(&PlanOptions::default(), &planner).expect("a curve");
        (curve, asked.get())
    }

    fn figures(curve: &Curve) -> Vec<(u32, i64)> {
        let points = curve.points.iter();
        points.map(|p| (p.joints, p.price.cents())).collect()
    }

    #[test]
    fn every_number_that_pays_is_found_and_no_other() {
        let deck = [
            (3, 90),
            (4, 90),
            (5, 80),
            (7, 79),
            (8, 40),
            (30, 39),
            (31, 39),
        ];
        let (curve, _) = drawn(&deck, 0);
        assert_eq!(
            figures(&curve),
            [(3, 90), (5, 80), (7, 79), (8, 40), (30, 39)]
        );
        assert!(curve.complete && curve.fewest_proven && !curve.stopped);
    }

    #[test]
    fn one_plan_may_be_all_there_is() {
        let (curve, asked) = drawn(&[(0, 10)], 0);
        assert_eq!((figures(&curve), asked), (vec![(0, 10)], 2));
        assert!(curve.complete);
    }

    #[test]
    fn a_long_flat_stretch_takes_few_plans() {
        let (curve, asked) = drawn(&[(10, 90), (1_000, 80)], 0);
        assert_eq!(figures(&curve), [(10, 90), (1_000, 80)]);
        assert!(asked < 16, "{asked}");
    }

    #[test]
    fn what_is_not_proven_is_said() {
        let (curve, _) = drawn(&[(3, 90), (5, 80), (9, 70)], 5);
        assert_eq!(figures(&curve), [(3, 90), (5, 80), (9, 70)]);
        assert!(!curve.complete && curve.fewest_proven);
        assert!(curve.points.iter().all(|point| !point.proven()));
    }
}
