//! What is ordered: counts of every kind of goods, worked by hand and held against
//! published figures, and what moves, carries and may be built.

#[path = "../common/mod.rs"]
mod common;

mod base;
mod car;
mod codes;
mod connections;
mod counts;
mod decking;
mod fascia;
mod frame;
mod guard;
mod heron;
mod moisture;
mod money;
mod movement;
mod stairs;

use lastcourse::job::Job;
use lastcourse::length::{Length, Unit};
use lastcourse::order::{Line, Order, order};
use lastcourse::plan::{Plan, PlanOptions, plan};
use lastcourse::report::{self, Page, Terms, json};
use lastcourse::watch::Unwatched;

use common::{lay, surface_of};

/// A large deck against a house, with everything but stairs and guards.
const HERON_YARD: &str = include_str!("../../fixtures/heron-yard-deck.toml");
/// A small one on blocks over stone.
const QUINCE_CORNER: &str = include_str!("../../fixtures/quince-corner.toml");

/// A length as it is written on a tape in inches.
#[track_caller]
fn at(text: &str) -> Length {
    Length::parse(text, Some(Unit::Inch)).expect("a length")
}

/// The order of a job whose boards are laid by hand.
#[track_caller]
fn ordered(job: &Job) -> Order {
    order(job, &surface_of(job), &lay(job), &Unwatched).expect("an order")
}

/// The best plan of a job, proven.
#[track_caller]
fn best(job: &Job) -> Plan {
    let plan = plan(job, &PlanOptions::default(), &Unwatched).expect("a plan");
    assert!(plan.totals.proven);
    plan
}

/// The line of an item.
#[track_caller]
fn line<'a>(order: &'a Order, item: &str) -> &'a Line {
    let found = order.lines.iter().find(|line| line.item == item);
    found.unwrap_or_else(|| panic!("no line {item:?}: {:#?}", order.lines))
}

/// An order as people read it, on a page so wide that nothing is broken.
fn page(job: &Job, order: &Order) -> String {
    let mut page = Page::new(10_000);
    report::order::text(job, &lay(job), order, &Terms::of(job, 16), &mut page);
    page.finish()
}

/// An order as programs read it.
fn answer(job: &Job, order: &Order) -> serde_json::Value {
    let answer = json::pretty(&report::order::json(job, &lay(job), order));
    serde_json::from_str(&answer).expect("JSON")
}
