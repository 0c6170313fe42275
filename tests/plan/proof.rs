//! Certificates: what they prove is true whatever their prices are, as strong as
//! the relaxation itself, and refused as soon as anything is touched.

use crate::support::cuts;
use crate::support::draw::Draw;
use crate::support::jobs::{Size, job};
use crate::support::patience::seeds;
use crate::support::reference::Instance;
use crate::support::reference::boards::Source;
use lastcourse::job::Job;
use lastcourse::length::Length;
use lastcourse::money::Money;
use lastcourse::plan::{Effort, Objective, Plan, PlanOptions, plan};
use lastcourse::proof::{Certificate, Confirmed, Refused, certificate, check, of_cut, of_plan};
use lastcourse::stock::{CutPlan, CutProblem, solve};
use lastcourse::watch::{Unwatched, Watch};
use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};

/// Stops whatever may be stopped.
struct AtOnce;

impl Watch for AtOnce {
    fn stop(&self) -> bool {
        true
    }
}

const OBJECTIVES: [Objective; 3] = [Objective::Cost, Objective::Joints, Objective::Waste];

fn planned(job: &Job, prefer: Objective) -> Option<Plan> {
    let options = PlanOptions {
        prefer,
        effort: Effort::Quick,
        brief: true,
        ..PlanOptions::default()
    };
    plan(job, &options, &Unwatched).ok()
}

/// What the prices of a certificate prove, whatever it says.
fn proved(mut certificate: Certificate, job: Option<&Job>) -> Option<i64> {
    certificate.bound = i64::MAX;
    for block in certificate
        .plan
        .iter_mut()
        .flat_map(|plan| &mut plan.blocks)
    {
        block.least = i64::MIN;
    }
    match check(&certificate, job) {
        Err(Refused::Less { proved, .. }) => Some(proved),
        Err(Refused::TooLarge(_)) => None,
        other => panic!("{other:?}"),
    }
}

/// A random job, small enough for its proof to be stored, and its plan.
fn drawn(draw: &mut Draw) -> Option<(Job, Plan)> {
    let size = draw.pick(&[Size::Small, Size::Tiny]);
    let job = job(draw, size);
    let prefer = draw.pick(&OBJECTIVES);
    let plan = planned(&job, prefer)?;
    Some((job, plan))
}

#[test]
fn what_is_written_is_confirmed_and_mostly_all_that_was_stated() {
    let (mut all, mut complete, mut further) = (0, 0, 0);
    for seed in seeds(7_000, 40) {
        let mut draw = Draw::seeded(seed);
        let Some((job, plan)) = drawn(&mut draw) else {
            continue;
        };
        let written = of_plan(&job, &plan, &Unwatched).expect("small enough");
        let Some(written) = written else { continue };
        assert!(written.bound <= plan.totals.bound, "seed {seed}");
        let confirmed = check(&written, Some(&job)).unwrap_or_else(|why| panic!("{seed}: {why}"));
        assert_eq!(confirmed.bound, written.bound);
        assert_eq!(confirmed.complete, written.beyond.is_none());
        all += 1;
        complete += i32::from(confirmed.complete);
        let text = serde_json::to_string(&written).expect("JSON");
        let read: Certificate = serde_json::from_str(&text).expect("a certificate");
        assert_eq!(read, written);
        further += written.further.len();
        // Whatever further prices are, they prove nothing that is not true.
        for _ in 0..5 {
            let mut other = written.clone();
            for _ in 0..draw.below(3) {
                let more = further_of(&mut draw, &other);
                other.further.push(more);
            }
            let mut asked = other.clone();
            asked.bound = plan.totals.value + 1;
            let confirmed = check(&asked, Some(&job));
            assert!(
                matches!(confirmed, Err(Refused::Less { .. })),
                "seed {seed}: {confirmed:?} by {asked:?} of {job:?}"
            );
        }
    }
    assert!(all >= 12, "{all} certificates");
    assert!(complete * 3 > all * 2, "{complete} of {all} are complete");
    assert!(further >= 3, "{further} further prices");
}

/// Any price up to one and a half times a fair one; often none.
fn any_price(draw: &mut Draw, fair: i64) -> i64 {
    let share = match draw.below(4) {
        0 => 0,
        1 => draw.between(900, 1_000),
        _ => draw.between(0, 1_500),
    };
    (i128::from(fair) * i128::from(share) / 1_000) as i64
}

/// Further prices near those of a plan's certificate.
fn further_of(draw: &mut Draw, written: &Certificate) -> certificate::Further {
    let fair = written.further.last();
    let part = fair.and_then(|fair| fair.plan.clone());
    let joint = part
        .as_ref()
        .map_or(written.unit * written.parts, |part| part.joint);
    let root = written.plan.as_ref().map(|plan| plan.supports.clone());
    let mut supports = part.map_or(root.unwrap_or_default(), |part| part.supports);
    for support in &mut supports {
        support.price = any_price(draw, support.price);
    }
    let prices: Vec<i64> = match fair {
        Some(fair) => fair.pieces.clone(),
        None => written.pieces.iter().map(|piece| piece.price).collect(),
    };
    certificate::Further {
        pieces: prices
            .into_iter()
            .map(|price| any_price(draw, price))
            .collect(),
        plan: Some(certificate::FurtherPlan {
            joint: any_price(draw, joint) - any_price(draw, joint),
            supports,
        }),
    }
}

#[test]
fn no_prices_prove_what_is_not_true() {
    let mut strong = 0;
    for seed in seeds(8_000, 24) {
        let mut draw = Draw::seeded(seed);
        let Some((job, plan)) = drawn(&mut draw) else {
            continue;
        };
        let Some(written) = of_plan(&job, &plan, &Unwatched).expect("small enough") else {
            continue;
        };
        let instance = Instance::new(&job, 0, 5_000);
        for _ in 0..6 {
            let mut other = written.clone();
            let keep = draw.chance(40);
            if !keep {
                // What a piece is worth if the dearest board is worth its weight.
                other.parts = 1_000;
                let heaviest = written.pieces.iter().map(|piece| piece.price).max();
                let longest = written.pieces.iter().map(|piece| piece.length).max();
                let heaviest = heaviest.unwrap_or(0) / written.parts * other.parts;
                let kinds = instance.iter().flat_map(|instance| &instance.kinds);
                let lengths = kinds.filter(|kind| !kind.split).map(|kind| kind.length);
                let lengths: std::collections::BTreeSet<i64> = lengths.collect();
                other.pieces = lengths
                    .into_iter()
                    .map(|length| {
                        let share = i128::from(length) * i128::from(heaviest)
                            / i128::from(longest.unwrap_or(1));
                        certificate::Piece {
                            length,
                            strip: None,
                            price: any_price(&mut draw, share as i64),
                        }
                    })
                    .collect();
                other.limits.clear();
                if let Some(plan) = &mut other.plan {
                    plan.supports.clear();
                }
            }
            for piece in &mut other.pieces {
                if draw.chance(20) {
                    piece.price = any_price(&mut draw, piece.price);
                }
            }
            for (stock, board) in (1..).zip(&job.stock) {
                let on_hand = board.on_hand > 0 && draw.chance(50);
                let limited = on_hand
                    || board.price.is_some() && board.available.is_some_and(|count| count > 0);
                let new = (other.limits.iter())
                    .all(|limit| (limit.stock, limit.on_hand) != (stock, on_hand));
                if limited && new && draw.chance(40) {
                    let price = any_price(&mut draw, other.parts * other.unit * 500);
                    other.limits.push(certificate::Limit {
                        stock,
                        on_hand,
                        price,
                    });
                }
            }
            if let Some(plan) = &mut other.plan {
                for support in &mut plan.supports {
                    support.price = any_price(&mut draw, support.price);
                }
                // Another width of block has other blocks to be set against.
                plan.block = plan.block.min(draw.between(1, 3) as u32).max(1);
                other.plan.as_mut().expect("a plan").blocks.clear();
            }
            let found = match check(&other, Some(&job)) {
                Err(Refused::Blocks | Refused::TooLarge(_)) => {
                    // The blocks are not known from outside; each width is tried
                    // with those that the check itself would write.
                    let mut rewritten = plan.clone();
                    let proof = rewritten.proof.as_mut().expect("prices");
                    proof.parts = other.parts;
                    proof.block = other.plan.as_ref().expect("a plan").block;
                    proof.pieces = (other.pieces.iter())
                        .map(|piece| lastcourse::plan::PiecePrice {
                            length: Length::from_units(piece.length),
                            strip: piece.strip.map(Length::from_units),
                            price: piece.price,
                        })
                        .collect();
                    proof.limits = (other.limits.iter())
                        .map(|limit| lastcourse::stock::LimitPrice {
                            stock: limit.stock - 1,
                            on_hand: limit.on_hand,
                            price: limit.price,
                        })
                        .collect();
                    proof.supports = (other.plan.iter().flat_map(|plan| &plan.supports))
                        .map(|support| (Length::from_units(support.at), support.price))
                        .collect();
                    // So that no bound is cut down to the stated one.
                    rewritten.totals.bound = i64::MAX;
                    let rewritten = of_plan(&job, &rewritten, &AtOnce).expect("small enough");
                    rewritten.expect("prices").bound
                }
                other => panic!("{other:?}"),
            };
            assert!(
                found <= plan.totals.value,
                "seed {seed}: {found} is proven of {:#?} by {other:#?} of {job:#?}",
                plan.totals
            );
            strong += i32::from(found * 10 >= plan.totals.value * 8);
        }
    }
    assert!(strong > 12, "{strong} bounds come near");
}

#[test]
fn a_touched_certificate_is_refused() {
    let mut tried = 0;
    for seed in seeds(9_000, 16) {
        let mut draw = Draw::seeded(seed);
        let job = job(&mut draw, Size::Small);
        let Some(plan) = planned(&job, Objective::Cost) else {
            continue;
        };
        let Some(written) = of_plan(&job, &plan, &Unwatched).expect("small enough") else {
            continue;
        };
        if written.bound == 0 || written.pieces.is_empty() {
            continue;
        }
        tried += 1;
        let refused = |change: &dyn Fn(&mut Certificate)| {
            let mut changed = written.clone();
            change(&mut changed);
            let checked = check(&changed, Some(&job));
            assert!(checked.is_err(), "seed {seed}: {changed:?}");
        };
        // One more than the sum of prices that is reached: above the lifted one.
        refused(&|c| c.bound += 1);
        refused(&|c| c.schema.push('0'));
        refused(&|c| c.unit = 0);
        refused(&|c| c.parts = 0);
        refused(&|c| c.pieces[0].price = -1);
        refused(&|c| c.pieces.push(c.pieces[0].clone()));
        refused(&|c| c.plan.as_mut().expect("a plan").blocks[0].count += 1);
        refused(&|c| c.plan.as_mut().expect("a plan").blocks[0].least += 1);
        refused(&|c| c.plan.as_mut().expect("a plan").fastener.push('x'));
        assert_eq!(check(&written, None), Err(Refused::NeedsJob));
        // Boards for nothing make no bound above nothing.
        let mut free = job.clone();
        free.joints.price = Money::ZERO;
        free.joints.doubled_joist_price = Money::ZERO;
        for stock in &mut free.stock {
            stock.price = stock.price.map(|_| Money::ZERO);
        }
        assert!(check(&written, Some(&free)).is_err(), "seed {seed}");
    }
    assert!(tried > 4, "{tried}");
}

/// The cheapest way to cut a list, its certificate, and what that proves.
fn confirmed(problem: &CutProblem, seed: u64) -> Option<(CutPlan, Certificate, Confirmed)> {
    let plan = solve(problem, &Unwatched).ok()?;
    let written = of_cut(problem, &plan, None, &Unwatched).expect("small enough")?;
    let confirmed = check(&written, None).unwrap_or_else(|why| panic!("{seed}: {why}"));
    assert!(confirmed.bound <= plan.bound.cents(), "seed {seed}");
    Some((plan, written, confirmed))
}

#[test]
fn a_cut_lists_certificate_needs_nothing_else() {
    let (mut all, mut complete, mut by_further, mut further) = (0, 0, 0, 0);
    for seed in seeds(10_000, 60) {
        let mut draw = Draw::seeded(seed);
        let problem: CutProblem = cuts::problem(&mut draw, 8, 40);
        let Some((plan, written, confirmed)) = confirmed(&problem, seed) else {
            continue;
        };
        all += 1;
        complete += i32::from(confirmed.complete);
        further += written.further.len();
        assert!(
            confirmed.complete || written.bound < written.stated,
            "seed {seed}"
        );
        let mut root = written.clone();
        root.further.clear();
        by_further += i32::from(check(&root, None).is_err());
        for _ in 0..6 {
            let mut other = written.clone();
            for _ in 0..draw.below(3) {
                let prices = other.pieces.iter().map(|piece| piece.price);
                let pieces = prices.collect();
                other
                    .further
                    .push(certificate::Further { pieces, plan: None });
            }
            for price in other.further.iter_mut().flat_map(|more| &mut more.pieces) {
                *price = any_price(&mut draw, *price);
            }
            for piece in &mut other.pieces {
                piece.price = any_price(&mut draw, piece.price);
            }
            for limit in &mut other.limits {
                limit.price = any_price(&mut draw, limit.price);
            }
            let found = proved(other, None).expect("few sums");
            assert!(found <= plan.cost.cents(), "seed {seed}: {found}");
        }
        if let Some(more) = written.further.first() {
            let mut other = written.clone();
            other.further[0].pieces.pop();
            assert!(
                matches!(check(&other, None), Err(Refused::Broken(_))),
                "{more:?}"
            );
            other.further[0].pieces.push(-1);
            assert!(
                matches!(check(&other, None), Err(Refused::Broken(_))),
                "{more:?}"
            );
        }
    }
    // Nearly every bound can be checked again, some only by further prices.
    assert!(
        all >= 40 && complete * 20 >= all * 19,
        "{complete} of {all}"
    );
    assert!(by_further > 4 && further > 8, "{by_further}, {further}");
}

#[test]
fn a_cut_lists_certificate_counts_whole_bundles() {
    let (mut all, mut complete, mut touched) = (0, 0, 0);
    for seed in seeds(30_000, 60) {
        let problem = cuts::in_bundles(&mut Draw::seeded(seed), 6, 30);
        let Some((plan, written, confirmed)) = confirmed(&problem, seed) else {
            continue;
        };
        all += 1;
        complete += i32::from(confirmed.complete);
        // Sold singly or in other bundles, it proves nothing above what these cost.
        for bundle in 1..4 {
            let (mut other, mut easier) = (written.clone(), problem.clone());
            let stock = &mut other.cut.as_mut().expect("a cut list").stock;
            for (told, stock) in stock.iter_mut().zip(&mut easier.stock) {
                (told.bundle, stock.bundle) = (bundle, bundle);
            }
            touched += i32::from(check(&other, None).is_err());
            if let Ok(plan) = solve(&easier, &Unwatched) {
                let found = proved(other, None).expect("few sums");
                assert!(found <= plan.cost.cents(), "seed {seed}: {found}");
            }
        }
        let mut other = written.clone();
        other.cut.as_mut().expect("a cut list").stock[0].bundle = 0;
        assert!(matches!(check(&other, None), Err(Refused::Broken(_))));
        let mut other = written.clone();
        other.bound = plan.cost.cents() + 1;
        assert!(check(&other, None).is_err(), "seed {seed}");
    }
    assert!(
        all >= 40 && complete * 10 >= all * 9 && touched > 10,
        "{complete} of {all}, {touched}"
    );
}

/// Every way to fill a board to which nothing can be added, by count of each length.
fn fillings(lengths: &[i64], source: &Source, most: usize) -> Option<Vec<Vec<i64>>> {
    fn walk(
        lengths: &[i64],
        kerf: i64,
        room: i64,
        taken: &mut Vec<i64>,
        found: &mut Vec<Vec<i64>>,
        most: usize,
    ) -> bool {
        let at = taken.len();
        let Some(length) = lengths.get(at) else {
            found.push(taken.clone());
            return found.len() <= most;
        };
        for count in 0..=(room / (length + kerf)).max(0) {
            taken.push(count);
            let within = walk(
                lengths,
                kerf,
                room - count * (length + kerf),
                taken,
                found,
                most,
            );
            taken.pop();
            if !within {
                return false;
            }
        }
        true
    }
    let mut found = Vec::new();
    walk(
        lengths,
        source.kerf,
        source.room,
        &mut Vec::new(),
        &mut found,
        most,
    )
    .then_some(found)
}

/// A small job whose courses are looked at two by two.
fn by_pairs(job: &Job) -> Option<Instance> {
    let instance = Instance::new(job, 0, 60)?;
    let whole = instance.split_course.is_none() && instance.doubled_price == 0;
    (whole && instance.courses > 5 && instance.same_joist_after <= 1).then_some(instance)
}

/// The optimum of the dual of the relaxation over pairs of courses, by another
/// solver: prices are its variables, and every block and cut that the prices do
/// not respect yet becomes a row.
fn dual(job: &Job, unit: i64) -> Option<f64> {
    let instance = by_pairs(job)?;
    let unit = unit as f64;
    let lengths: Vec<i64> = instance.kinds.iter().map(|kind| kind.length).collect();
    let mut cuts: Vec<(usize, Vec<i64>)> = Vec::new();
    for (at, source) in instance.sources.iter().enumerate() {
        let found = fillings(&lengths, source, 4_000)?;
        cuts.extend(found.into_iter().map(|filling| (at, filling)));
    }
    let dearest = instance.sources.iter().map(|source| source.price).max()? as f64 * unit;
    let mut problem = Problem::new(OptimizationDirection::Maximize);
    let pieces: Vec<Variable> = instance
        .extra
        .iter()
        .map(|&count| problem.add_var(f64::from(count), (0.0, 4.0 * dearest)))
        .collect();
    let (pairs, single) = (instance.courses / 2, instance.courses % 2);
    let most = 100.0 * dearest + 1e6;
    let sigma = problem.add_var(pairs as f64, (0.0, most));
    let last = problem.add_var(single as f64, (0.0, most));
    let limits: Vec<Option<Variable>> = instance
        .sources
        .iter()
        .map(|source| {
            source
                .limit
                .map(|limit| problem.add_var(-(limit as f64), (0.0, most)))
        })
        .collect();
    let mut solution = problem.solve().ok()?.into_solution().ok()?;
    let needs: Vec<Vec<u8>> = (instance.patterns.iter())
        .map(|pattern| instance.needs(pattern, 0))
        .collect();
    let joint = instance.joint_price as f64 * unit + 1.0;
    for _ in 0..3_000 {
        let worth: Vec<f64> = pieces.iter().map(|&y| solution.var_value_raw(y)).collect();
        let cost = |pattern: usize| -> f64 {
            let pieces = needs[pattern].iter().zip(&worth);
            pieces
                .map(|(&count, worth)| f64::from(count) * worth)
                .sum::<f64>()
                + instance.patterns[pattern].joints.len() as f64 * joint
        };
        // The row that is broken by most: a pair, the single course, or a cut.
        let count = instance.patterns.len();
        let mut broken: (f64, Vec<(Variable, f64)>, f64) =
            (1e-6 * dearest.max(1.0), Vec::new(), 0.0);
        let row = |blocks: &[usize], sigma: Variable| {
            let mut row = vec![(sigma, 1.0)];
            for (k, &piece) in pieces.iter().enumerate() {
                let count: u32 = blocks.iter().map(|&b| u32::from(needs[b][k])).sum();
                row.push((piece, -f64::from(count)));
            }
            let joints: usize = blocks
                .iter()
                .map(|&b| instance.patterns[b].joints.len())
                .sum();
            (row, joints as f64 * joint)
        };
        for a in 0..count {
            let over = solution.var_value_raw(last) - cost(a);
            if single > 0 && over > broken.0 {
                let (row, right) = row(&[a], last);
                broken = (over, row, right);
            }
            for b in a..count {
                let over = solution.var_value_raw(sigma) - cost(a) - cost(b);
                if over > broken.0
                    && instance.compatible(&instance.patterns[a], &instance.patterns[b], 1)
                {
                    let (row, right) = row(&[a, b], sigma);
                    broken = (over, row, right);
                }
            }
        }
        for (source, filling) in &cuts {
            let held = filling.iter().zip(&worth);
            let limit = limits[*source].map_or(0.0, |w| solution.var_value_raw(w));
            let price = instance.sources[*source].price as f64 * unit;
            let over = held.map(|(&n, worth)| n as f64 * worth).sum::<f64>() - limit - price;
            if over > broken.0 {
                let mut row: Vec<(Variable, f64)> = (pieces.iter().zip(filling))
                    .filter(|(_, n)| **n > 0)
                    .map(|(&piece, &n)| (piece, n as f64))
                    .collect();
                row.extend(limits[*source].map(|w| (w, -1.0)));
                broken = (over, row, price);
            }
        }
        if broken.1.is_empty() {
            return Some(solution.objective());
        }
        let next = solution.add_constraint(&broken.1[..], ComparisonOp::Le, broken.2);
        solution = next.ok()?.into_solution().ok()?;
    }
    None
}

#[test]
fn the_prices_are_the_best_there_are() {
    let mut compared = 0;
    for seed in seeds(11_000, 100) {
        let mut draw = Draw::seeded(seed);
        let job = job(&mut draw, Size::Small);
        if by_pairs(&job).is_none() {
            continue;
        }
        let Some(plan) = planned(&job, Objective::Cost) else {
            continue;
        };
        let Some(written) = of_plan(&job, &plan, &Unwatched).expect("small enough") else {
            continue;
        };
        let Some(best) = dual(&job, written.unit) else {
            continue;
        };
        let part = written.plan.as_ref().expect("a plan");
        assert_eq!(part.block, 2, "seed {seed}");
        let worth = |length: i64| {
            let piece = written.pieces.iter().find(|piece| piece.length == length);
            piece.map_or(0, |piece| i128::from(piece.price))
        };
        let blocks = part.blocks.iter();
        let mut sum: i128 = blocks
            .map(|block| i128::from(block.count) * i128::from(block.least))
            .sum();
        for extra in &job.extras {
            sum += i128::from(extra.count) * worth(extra.length.units());
        }
        for limit in &written.limits {
            let stock = &job.stock[limit.stock - 1];
            let most = if limit.on_hand {
                stock.on_hand
            } else {
                stock.available.expect("a limit")
            };
            sum -= i128::from(limit.price) * i128::from(most);
        }
        let sum = sum as f64 / written.parts as f64;
        assert!(
            (sum - best).abs() <= 1e-5 * best.abs().max(1_000.0),
            "seed {seed}: the prices come to {sum}, the other solver's to {best}"
        );
        compared += 1;
    }
    assert!(compared >= 5, "{compared} compared");
}
