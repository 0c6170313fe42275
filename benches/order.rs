//! The whole order of a large deck, beside its planning: frame, base and fascia
//! counted and their lumber cut.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use lastcourse::deck::surface;
use lastcourse::job;
use lastcourse::order::order;
use lastcourse::plan::{PlanOptions, plan};
use lastcourse::watch::Unwatched;

#[path = "support/heron.rs"]
mod heron;

use heron::{HERON_YARD, large};

fn orders(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("order");
    group.sample_size(20);
    for (name, text) in [
        ("31 ft 6 in x 18 ft", HERON_YARD.to_owned()),
        ("60 x 30 ft", large()),
    ] {
        let job = job::read(&text, "deck.toml", &[]).expect("a job").job;
        let deck = surface(&job).expect("a deck");
        let plan = plan(&job, &PlanOptions::default(), &Unwatched).expect("a plan");
        group.bench_function(name, |bencher| {
            bencher.iter(|| order(black_box(&job), &deck, &plan, &Unwatched).expect("an order"));
        });
    }
    group.finish();
}

criterion_group!(benches, orders);
criterion_main!(benches);
