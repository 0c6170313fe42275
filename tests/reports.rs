//! How plans and orders look, on a plan laid by hand so that the planner's
//! choices cannot change a page.

mod common;

use common::{fastener, inches, job, lay, pack, stock, surface_of};
use lastcourse::caution::Caution;
use lastcourse::job::{Edge, FastenerKind, Job, Percent, Span, Spare};
use lastcourse::length::{Length, Unit};
use lastcourse::money::Money;
use lastcourse::order::order;
use lastcourse::plan::{Objective, Plan};
use lastcourse::report::{self, Page, Terms, plain};
use lastcourse::watch::Unwatched;

/// Six courses of 20 ft, the last ripped; 12 ft boards; one from hand.
fn deck() -> (Job, Plan) {
    let mut job = job(Length::from_feet(20) - inches(1), inches(33));
    job.title = "Small landing".to_string();
    job.edges.left = Edge::Open {
        fascia: Length::ZERO,
        overhang: Span::fixed(inches(1)),
        allowance: Length::from_64ths(32),
    };
    job.stock = vec![stock(12, 2980)];
    job.stock[0].on_hand = 1;
    job.fasteners = vec![fastener("slim clip", FastenerKind::Clip)];
    job.fasteners[0].packs = vec![pack(50, 1790)];
    job.fasteners[0].spare = Percent(500);
    job.order.spare = Spare::Boards(1);
    let mut plan = lay(&job);
    plan.boards[0].on_hand = true;
    plan.boards[0].price = Money::ZERO;
    for course in &mut plan.courses {
        let piece = &mut course.runs[0].pieces[0];
        piece.length += Length::from_64ths(32);
        plan.boards[piece.board as usize - 1].offcut -= Length::from_64ths(32);
    }
    let totals = &mut plan.totals;
    totals.price = totals.price - Money::from_cents(2980);
    totals.cost = totals.price;
    totals.value = totals.price.cents();
    totals.bound = totals.value;
    totals.proven = true;
    totals.doubled_joists = 2;
    (job, plan)
}

fn plan_page(job: &Job, plan: &Plan, cautions: &[Caution], width: usize) -> String {
    let mut page = Page::new(width);
    let terms = Terms::of(job, 16);
    report::plan::text(job, &surface_of(job), plan, cautions, &terms, &mut page);
    plain(&page.finish())
}

#[test]
fn a_plan_on_a_page() {
    let (job, plan) = deck();
    let cautions = [Caution::new(
        "at the left edge the boards reach 3 in past their last support",
        "keep it to 2 in or ask the boards' maker",
    )];
    insta::assert_snapshot!(plan_page(&job, &plan, &cautions, 80));
}

#[test]
fn a_metric_plan_on_a_narrow_page() {
    let (mut job, plan) = deck();
    job.unit = Unit::Millimetre;
    job.currency = "EUR".to_string();
    insta::assert_snapshot!(plan_page(&job, &plan, &[], 60));
}

#[test]
fn a_plan_as_a_spreadsheet() {
    let (job, plan) = deck();
    insta::assert_snapshot!(report::plan::csv(&job, &plan));
}

#[test]
fn an_order_on_a_page() {
    let (job, plan) = deck();
    let order = order(&job, &surface_of(&job), &plan, &Unwatched).expect("an order");
    let mut page = Page::new(80);
    report::order::text(&job, &plan, &order, &Terms::of(&job, 16), &mut page);
    insta::assert_snapshot!(plain(&page.finish()));
}

#[track_caller]
fn answers(change: impl Fn(&mut Plan), expected: &str) {
    let (job, mut plan) = deck();
    change(&mut plan);
    assert_eq!(report::plan::answer(&plan, &Terms::of(&job, 16)), expected);
}

#[test]
fn the_answer_says_what_was_minimised_and_how_sure_it_is() {
    let boards = "12 boards (1 from hand)";
    let best = format!("{boards} for $327.80; no plan can cost less.");
    answers(|_| (), &best);
    answers(
        |plan| plan.totals.bound = 32_770,
        &format!("{boards} for $327.80; at most 0.1 % above the best."),
    );
    answers(
        |plan| {
            plan.totals.bound = 0;
            plan.totals.stopped = true;
        },
        &format!("Stopped early: {boards} for $327.80; how far it is from the best is not known."),
    );
    answers(
        |plan| {
            plan.totals.cost = Money::from_cents(33_380);
            plan.totals.value = 33_380;
            plan.totals.bound = 33_380;
        },
        &format!("{boards} for $327.80, $333.80 with joints priced in; no plan can cost less."),
    );
    answers(
        |plan| {
            plan.totals.objective = Objective::Joints;
            plan.totals.value = 6;
            plan.totals.bound = 6;
        },
        &format!("6 joints with {boards} for $327.80; no plan has fewer joints."),
    );
    answers(
        |plan| {
            plan.totals.objective = Objective::Waste;
            plan.totals.value = plan.totals.bought.units();
            plan.totals.bound = plan.totals.value;
        },
        &format!("{boards} of 144 ft in all for $327.80; no plan takes less length of boards."),
    );
}
