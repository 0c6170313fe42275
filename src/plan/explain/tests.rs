//! What is said where nothing is found and nothing proven.

use super::*;
use crate::job::Stock;
use crate::length::Unit;
use crate::money::Money;

/// Eight courses of 20 ft, joists 16 in apart, boards of 12 ft.
fn job(available: Option<u32>) -> Job {
    let read = |text: &str| text.parse::<Length>().expect("a length");
    let (along, across) = (read("20ft"), read("44-3/4in"));
    let mut job = Job::rectangle(Unit::Inch, along, across, read("5-1/2in"), read("1/8in"));
    let mut stock = Stock::bought(Length::from_feet(12), Money::from_cents(20_00));
    stock.available = available;
    job.stock.push(stock);
    job
}

#[test]
fn where_nothing_is_found_or_proven_it_is_said_what_was_tried_and_what_is_there() {
    let options = PlanOptions {
        effort: Effort::Quick,
        ..PlanOptions::default()
    };
    let PlanError::NotFound { message, help } = not_found(&job(Some(15)), &options, &|| false)
    else {
        panic!("nothing is proven");
    };
    assert_eq!(
        message,
        "no plan was found for 8 courses with joints on 14 joists, and it is not proven that \
         there is none; tried were blocks of neighbouring courses put in order, and orders of \
         joints that repeat; of the 180 ft of boards that can be had 8 courses take 160 ft \
         or more"
    );
    assert!(help.contains("`joints.stagger`"), "{help}");
    let PlanError::NotFound { message, .. } = not_found(&job(None), &options, &|| false) else {
        panic!("nothing is proven");
    };
    assert!(
        message.ends_with("orders of joints that repeat"),
        "{message}"
    );
}
