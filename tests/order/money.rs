//! What an order comes to by area and beside a budget, worked by hand and read
//! back from the page and the answer.

use crate::common::{job, stock};
use crate::{answer, at, best, page};
use lastcourse::job::*;
use lastcourse::length::{Length, Unit};
use lastcourse::money::Money;
use lastcourse::order::{Order, order};
use lastcourse::watch::Unwatched;

fn ordered(job: &Job) -> Order {
    order(job, &crate::surface_of(job), &best(job), &Unwatched).expect("an order")
}

/// 10 courses of 145 mm at gaps of 5 mm over 3 m: ten boards of 3 m at 30.00, and
/// 3,000 by 1,495 mm of deck.
fn metric() -> Job {
    let mut job = job(Length::from_mm(3_000), Length::from_mm(1_495));
    job.unit = Unit::Millimetre;
    job.currency = "€".to_owned();
    job.board.face = Length::from_mm(145);
    job.fasteners[0].gap = Span::fixed(Length::from_mm(5));
    job.stock = vec![Stock::bought(
        Length::from_mm(3_000),
        Money::from_cents(3_000),
    )];
    job.joists = Joists::Spaced {
        spacing: Length::from_mm(400),
        first: Length::from_mm(400),
        thickness: Length::from_mm(45),
    };
    job
}

#[test]
fn a_square_metre_and_a_square_foot() {
    // 300.00 over 4.485 m² are 66.889 a square metre.
    let job = metric();
    let order = ordered(&job);
    assert_eq!(order.total, Money::from_cents(30_000));
    let text = page(&job, &order);
    assert!(
        text.contains("That is €66.89 a square metre of deck before tax."),
        "{text}"
    );
    assert_eq!(answer(&job, &order)["sums"]["by_area"], "66.89");
    // 8 ft by 5 courses of 5-1/2 in at 1/4 in, 28-1/2 in: 19 sq ft; five boards of 8 ft
    // at $20.00 are $100.00, and a tenth of tax $110.00: $5.79 a square foot.
    let mut job = crate::common::job(at("8ft"), at("28-1/2in"));
    job.stock = vec![stock(8, 2_000)];
    job.order.tax = Percent(1_000);
    let order = ordered(&job);
    let text = page(&job, &order);
    assert!(
        text.contains("That is $5.79 a square foot of deck all in."),
        "{text}"
    );
    assert_eq!(answer(&job, &order)["sums"]["by_area"], "5.79");
}

#[test]
fn what_a_budget_pays_for() {
    let mut job = metric();
    let with = |job: &mut Job, cents| {
        job.order.budget = Some(Money::from_cents(cents));
        let order = ordered(job);
        (page(job, &order), answer(job, &order))
    };
    let (text, _) = with(&mut job, 30_000);
    assert!(
        text.contains("Within the budget of €300.00: €0.00 is left."),
        "{text}"
    );
    let (text, _) = with(&mut job, 31_250);
    assert!(
        text.contains("Within the budget of €312.50: €12.50 is left."),
        "{text}"
    );
    // Nothing but boards, which the budget does not pay for, and nothing to give up.
    let (text, _) = with(&mut job, 29_900);
    assert!(
        text.contains(
            "Over the budget of €299.00 by €1.00: built from the ground up, it does not pay for \
             the first step."
        ),
        "{text}"
    );
    // One spare board more is €30.00 over, and could be given up.
    job.order.spare = Spare::Boards(1);
    let (text, answer) = with(&mut job, 30_000);
    for part in [
        "Over the budget of €300.00 by €30.00",
        "could be given up: ",
        "saves €30.00, which is enough",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    assert_eq!(answer["budget"]["over"], "30.00");
}
