//! Plans of random decks of every size: verified, held against plans made
//! without looking for good ones, and against what must follow from a change.

use crate::support::draw::Draw;
use crate::support::jobs::{Size, job};
use crate::support::patience::{planned, seeds};
use crate::support::planted;
use std::sync::atomic::{AtomicU32, Ordering};

use lastcourse::deck::supports;
use lastcourse::job::{Edge, Extra, Finish, Job, Joists, Stock, Zone};
use lastcourse::length::{Length, Unit};
use lastcourse::money::Money;
use lastcourse::plan::{Effort, Objective, Plan, PlanError, PlanOptions, plan};
use lastcourse::verify;
use lastcourse::watch::Watch;

/// A job of that size and a valid plan of it, whatever limits its stock had.
fn planted(seed: u64, size: Size) -> Option<(Job, Plan)> {
    let mut draw = Draw::seeded(seed);
    let mut job = job(&mut draw, size);
    let plan = planted::plan(&mut draw, &mut job)?;
    let faults = verify::plan(&job, &plan);
    assert!(faults.is_empty(), "seed {seed}: {faults:#?}");
    Some((job, plan))
}

/// What the program says of a job for which a plan is known.
#[track_caller]
fn held(seed: u64, job: &Job, effort: Effort, known: &Plan) -> Option<Plan> {
    let objective = [
        Objective::Cost,
        Objective::Cost,
        Objective::Joints,
        Objective::Waste,
    ][seed as usize / 7 % 4];
    let value = match objective {
        Objective::Cost => known.totals.cost.cents(),
        Objective::Joints => known.totals.joints.into(),
        Objective::Waste => known.totals.bought.units(),
    };
    match planned(job, objective, effort) {
        Ok(plan) => {
            assert!(
                plan.totals.bound <= value,
                "seed {seed}: {:#?}, but there is a plan of {value}",
                plan.totals
            );
            Some(plan)
        }
        Err(PlanError::Impossible { message, .. }) => {
            panic!("seed {seed}: called impossible, but there is a plan of {value}: {message}")
        }
        Err(PlanError::Stopped | PlanError::NotFound { .. }) => None,
    }
}

#[test]
fn planted_plans_are_valid() {
    let mut made = 0;
    for seed in seeds(0, 600) {
        let size = [Size::Tiny, Size::Small, Size::Full][seed as usize % 3];
        let Some((mut job, plan)) = planted(seed, size) else {
            continue;
        };
        planted::tighten(&mut job, &plan);
        let faults = verify::plan(&job, &plan);
        assert!(faults.is_empty(), "seed {seed}: {faults:#?}");
        made += 1;
    }
    assert!(made > 300, "{made}");
}

#[test]
fn no_bound_is_above_a_known_plan() {
    for (size, seeds) in [
        (Size::Tiny, seeds(0, 60)),
        (Size::Small, seeds(0, 40)),
        (Size::Full, seeds(0, 20)),
    ] {
        for seed in seeds {
            if let Some((job, plan)) = planted(seed, size) {
                held(
                    seed,
                    &job,
                    [Effort::Full, Effort::Quick][seed as usize % 2],
                    &plan,
                );
            }
        }
    }
}

/// With every limit set to just what a known plan takes, there is still a plan.
/// A watch that wants an end at once, or after so many questions.
struct Impatient(AtomicU32);

impl Watch for Impatient {
    fn stop(&self) -> bool {
        let left = self.0.load(Ordering::Relaxed);
        self.0.store(left.saturating_sub(1), Ordering::Relaxed);
        left == 0
    }
}

/// Whoever stops the search before it found anything has a plan that can be built
/// all the same, and is not told that it is good.
#[test]
fn who_stops_early_still_has_a_plan() {
    let mut plans = 0;
    for seed in seeds(0, 12) {
        let Some((job, known)) = planted(seed, Size::Full) else {
            continue;
        };
        for patience in [0, 20] {
            let watch = Impatient(AtomicU32::new(patience));
            match plan(&job, &PlanOptions::default(), &watch) {
                Ok(plan) => {
                    let faults = verify::plan(&job, &plan);
                    assert!(faults.is_empty(), "seed {seed}: {faults:#?}");
                    let totals = &plan.totals;
                    assert!(totals.bound <= known.totals.cost.cents().min(totals.value));
                    assert!(!totals.proven || totals.bound == totals.value);
                    plans += 1;
                }
                // Where boards are short no plan is laid by rule of thumb.
                Err(PlanError::Stopped) => {}
                Err(PlanError::NotFound { .. }) => {}
                Err(other) => panic!("seed {seed}: {other:?}"),
            }
        }
    }
    assert!(plans > 8, "only {plans} plans");
    // A plain deck has one in any case.
    let feet = Length::from_feet;
    let face = Length::from_64ths(352);
    let gap = Length::from_64ths(12);
    let mut job = Job::rectangle(Unit::Inch, feet(40), feet(20), face, gap);
    job.stock = vec![
        Stock::bought(feet(12), Money::from_cents(2_400)),
        Stock::bought(feet(16), Money::from_cents(3_300)),
    ];
    let watch = Impatient(AtomicU32::new(0));
    let plan = plan(&job, &PlanOptions::default(), &watch).expect("a plan");
    assert_eq!(verify::plan(&job, &plan), []);
    assert!(!plan.totals.proven);
}

#[test]
fn just_enough_boards_are_enough() {
    let (mut found, mut all) = (0, 0);
    for (size, seeds) in [
        (Size::Tiny, seeds(1_000, 80)),
        (Size::Small, seeds(1_000, 30)),
        (Size::Full, seeds(1_000, 10)),
    ] {
        for seed in seeds {
            if let Some((mut job, plan)) = planted(seed, size) {
                planted::tighten(&mut job, &plan);
                all += 1;
                found += u32::from(held(seed, &job, Effort::Full, &plan).is_some());
            }
        }
    }
    assert!(found * 2 > all, "{found} of {all}");
}

type Answer = Result<Plan, PlanError>;

fn answer(job: &Job) -> Answer {
    planned(job, Objective::Cost, Effort::Full)
}

/// Two answers to jobs of which the second allows no more than the first.
#[track_caller]
fn not_cheaper(what: &str, (easier, easy): (&Job, &Answer), (harder, hard): (&Job, &Answer)) {
    match (easy, hard) {
        (Ok(easy), Ok(hard)) => {
            let (easy, hard) = (&easy.totals, &hard.totals);
            assert!(
                easy.bound <= hard.value,
                "{what}: {easy:#?} {hard:#?} {easier:#?} {harder:#?}"
            );
        }
        (Err(PlanError::Impossible { message, .. }), Ok(_)) => {
            panic!("{what}: {message} {easier:#?} {harder:#?}")
        }
        _ => {}
    }
}

#[test]
fn stricter_rules_are_never_cheaper() {
    for seed in seeds(2_000, 60) {
        let mut draw = Draw::seeded(seed);
        let size = [Size::Tiny, Size::Small][seed as usize % 2];
        let job = job(&mut draw, size);
        let mut harder = job.clone();
        let (what, inch) = (seed % 17, Length::from_inches(1));
        let stock = draw.below(job.stock.len() as u32) as usize;
        match what {
            0 => harder.joints.stagger += inch * draw.between(1, 16),
            1 => {
                let after = &mut harder.joints.same_joist_after;
                *after = after.saturating_add(1);
            }
            2 => harder.joints.bearing += 1,
            3 => harder.joints.shortest_piece += inch * draw.between(1, 20),
            4 => harder.cutting.kerf += Length::from_64ths(draw.between(1, 30)),
            5 => harder.cutting.end_trim += Length::from_64ths(draw.between(1, 99)),
            6 => harder.joints.price += Money::from_cents(draw.between(1, 300)),
            7 => harder.joints.doubled_joist_price += Money::from_cents(draw.between(1, 999)),
            8 => {
                let price = &mut harder.stock[stock].price;
                *price = price.map(|price| price + Money::from_cents(draw.between(1, 500)));
            }
            9 => {
                harder.stock[stock].on_hand = 0;
                harder.stock[stock].available = Some(draw.below(3));
            }
            10 => harder.cutting.split_rips = false,
            11 => harder.joints.stagger_joists += 1,
            15 if harder.stock[stock].bundle == 1 => {
                harder.stock[stock].bundle = draw.between(2, 4) as u32;
            }
            14 if harder.joints.repeat.is_none() => {
                harder.joints.repeat = Some(draw.between(1, 4) as u32);
            }
            13 => harder.extras.push(Extra {
                label: "bench".into(),
                length: inch * draw.between(1, 60),
                count: draw.between(1, 3) as u32,
            }),
            12 => {
                let from = inch * draw.between(0, 200);
                let to = from + inch * draw.between(0, 60);
                harder.joints.keep_out.push(Zone { from, to });
            }
            _ => {
                if harder.stock.len() > 1 {
                    harder.stock.remove(stock);
                }
            }
        }
        let (easy, hard) = (answer(&job), answer(&harder));
        let what = format!("seed {seed}, change {what}");
        not_cheaper(&what, (&job, &easy), (&harder, &hard));
    }
}

/// Two jobs that are the same deck told otherwise.
#[track_caller]
fn same(what: &str, one: &Job, other: &Job) {
    let one = (one, &answer(one));
    let other = (other, &answer(other));
    for (one, other) in [(one, other), (other, one)] {
        not_cheaper(what, one, other);
        let (Ok(a), Ok(b)) = (one.1, other.1) else {
            continue;
        };
        let (a, b) = (&a.totals, &b.totals);
        assert!(
            !a.joints_proven || a.value != b.value || a.joints <= b.joints,
            "{what}: {a:#?} {b:#?} {:#?} {:#?}",
            one.0,
            other.0
        );
    }
}

/// The way to cut each course of a deck that has few joints for its price, by where
/// the joints lie, in inches.
const FEW_JOINTS: [&[i64]; 15] = [
    &[32, 176],
    &[64, 208],
    &[32, 176],
    &[64, 208],
    &[32, 176],
    &[64, 208],
    &[96],
    &[48, 192],
    &[160],
    &[48, 192],
    &[160],
    &[48, 192],
    &[96],
    &[48, 192],
    &[96],
];

#[test]
fn fewest_joints_are_not_claimed_of_more_than_there_need_be() {
    let read = |text: &str| text.parse::<Length>().expect("a length");
    let (along, across) = (read("19ft 6in"), read("7ft"));
    let mut job = Job::rectangle(Unit::Inch, along, across, read("5-1/2in"), read("3/16in"));
    let past = || Edge::open(read("1in"));
    job.edges.first = Edge::Wall {
        clearance: read("1/4in"),
    };
    (job.edges.last, job.edges.left, job.edges.right) = (past(), past(), past());
    if let Edge::Open { allowance, .. } = &mut job.edges.left {
        *allowance = read("1/2in");
    }
    let bought = |feet, cents| Stock::bought(Length::from_feet(feet), Money::from_cents(cents));
    job.stock = vec![bought(12, 2_980), bought(16, 4_150), bought(8, 0)];
    job.stock[2].price = None;
    job.stock[2].on_hand = 2;
    job.stock[2].available = Some(0);
    let plan = answer(&job).expect("a plan");
    // 21 boards of 12 ft, 2 of 16 ft and those on hand hold the pieces.
    assert_eq!(plan.totals.cost.cents(), 21 * 2_980 + 2 * 4_150);
    let known: usize = FEW_JOINTS.iter().map(|joints| joints.len()).sum();
    if plan.totals.joints_proven {
        assert!(plan.totals.joints as usize <= known, "{:?}", plan.totals);
    }
}

#[test]
fn a_board_that_nobody_would_take_changes_nothing() {
    for seed in seeds(3_000, 30) {
        let mut draw = Draw::seeded(seed);
        let job = job(&mut draw, Size::Tiny);
        let Some(best) = job
            .stock
            .iter()
            .find(|s| s.price.is_some() && s.available.is_none() && s.bundle == 1)
        else {
            continue;
        };
        let mut wider = job.clone();
        wider.stock.insert(
            draw.below(job.stock.len() as u32 + 1) as usize,
            Stock {
                item: None,
                length: best.length - Length::from_64ths(draw.between(0, 640)),
                price: best
                    .price
                    .map(|price| price + Money::from_cents(draw.between(0, 90))),
                on_hand: 0,
                available: None,
                bundle: 1,
            },
        );
        same(&format!("seed {seed}"), &job, &wider);
    }
}

/// Everything that is halved somewhere made even, so that a mirror or a larger
/// scale moves nothing by a unit.
fn even(mut job: Job) -> Job {
    job.joints.end_gap = job.joints.end_gap.half_down() * 2;
    job.courses.mixed = None;
    job
}

#[test]
fn twice_the_size_costs_the_same() {
    for seed in seeds(4_000, 25) {
        let job = even(job(&mut Draw::seeded(seed), Size::Tiny));
        let mut twice = job.clone();
        let double = |length: &mut Length| *length = *length * 2;
        double(&mut twice.deck.along);
        double(&mut twice.deck.across);
        let edges = &mut twice.edges;
        for edge in [
            &mut edges.first,
            &mut edges.last,
            &mut edges.left,
            &mut edges.right,
        ] {
            match edge {
                Edge::Open {
                    fascia,
                    overhang,
                    allowance,
                } => {
                    double(fascia);
                    double(allowance);
                    for end in [&mut overhang.set, &mut overhang.least, &mut overhang.most] {
                        double(end);
                    }
                }
                Edge::Wall { clearance } => double(clearance),
            }
        }
        double(&mut twice.board.face);
        for fastener in &mut twice.fasteners {
            let gap = &mut fastener.gap;
            for end in [&mut gap.set, &mut gap.least, &mut gap.most] {
                double(end);
            }
        }
        for stock in &mut twice.stock {
            double(&mut stock.length);
        }
        for extra in &mut twice.extras {
            double(&mut extra.length);
        }
        twice.joists = Joists::Positions {
            centres: supports(&job)
                .centres
                .into_iter()
                .map(|at| at * 2)
                .collect(),
            spacing: None,
            thickness: supports(&job).thickness * 2,
        };
        let rules = &mut twice.joints;
        for zone in &mut rules.keep_out {
            double(&mut zone.from);
            double(&mut zone.to);
        }
        for rule in [
            &mut rules.stagger,
            &mut rules.shortest_piece,
            &mut rules.end_gap,
        ] {
            double(rule);
        }
        let saw = &mut twice.cutting;
        for cut in [&mut saw.kerf, &mut saw.end_trim, &mut saw.rip_kerf] {
            double(cut);
        }
        same(&format!("seed {seed}"), &job, &twice);
    }
}

#[test]
fn a_mirrored_deck_costs_the_same() {
    for seed in seeds(5_000, 30) {
        let mut job = even(job(&mut Draw::seeded(seed), Size::Tiny));
        let mut mirrored = job.clone();
        // Left for right.
        std::mem::swap(&mut mirrored.edges.left, &mut mirrored.edges.right);
        mirrored.joists = Joists::Positions {
            centres: supports(&job)
                .centres
                .into_iter()
                .rev()
                .map(|at| job.deck.along - at)
                .collect(),
            spacing: None,
            thickness: supports(&job).thickness,
        };
        for zone in &mut mirrored.joints.keep_out {
            let (from, to) = (zone.from, zone.to);
            (zone.from, zone.to) = (job.deck.along - to, job.deck.along - from);
        }
        same(&format!("seed {seed}, along"), &job, &mirrored);
        // First for last.
        job.courses.finish = Finish::RipFirst;
        mirrored.courses.finish = Finish::RipLast;
        same(&format!("seed {seed}, both"), &job, &mirrored);
    }
}

#[test]
fn dearer_money_changes_only_the_money() {
    for seed in seeds(6_000, 30) {
        let job = job(&mut Draw::seeded(seed), Size::Tiny);
        let mut dearer = job.clone();
        for stock in &mut dearer.stock {
            stock.price = stock.price.map(|price| price * 3);
        }
        dearer.joints.price = dearer.joints.price * 3;
        dearer.joints.doubled_joist_price = dearer.joints.doubled_joist_price * 3;
        let answer = |job| planned(job, Objective::Cost, Effort::Full);
        if let (Ok(one), Ok(three)) = (answer(&job), answer(&dearer)) {
            assert!(3 * one.totals.bound <= three.totals.value, "seed {seed}");
            assert!(three.totals.bound <= 3 * one.totals.value, "seed {seed}");
        }
    }
}

/// The three objectives know of one another's plans.
#[test]
fn no_objective_beats_another_at_its_own() {
    for seed in seeds(7_000, 20) {
        let job = job(&mut Draw::seeded(seed), Size::Small);
        let answer = |prefer| planned(&job, prefer, Effort::Full);
        let all = [Objective::Cost, Objective::Joints, Objective::Waste].map(answer);
        for plan in all.iter().flatten() {
            let at = [
                plan.totals.cost.cents(),
                plan.totals.joints.into(),
                plan.totals.bought.units(),
            ];
            for (other, value) in all.iter().zip(at) {
                if let Ok(other) = other {
                    assert!(
                        other.totals.bound <= value,
                        "seed {seed}: {:#?} {value}",
                        other.totals
                    );
                }
                assert!(
                    !matches!(other, Err(PlanError::Impossible { .. })),
                    "seed {seed}: possible for one, impossible for another"
                );
            }
        }
    }
}
