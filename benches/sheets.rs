//! All sheets of a large deck, beside its planning and its order: laid out, and
//! written in each format.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use lastcourse::deck::surface;
use lastcourse::draw::{self, Extent, Sheet, Subject};
use lastcourse::job;
use lastcourse::order::order;
use lastcourse::plan::{PlanOptions, plan};
use lastcourse::report::Terms;
use lastcourse::watch::Unwatched;

#[path = "support/heron.rs"]
mod heron;

fn sheets(criterion: &mut Criterion) {
    let job = job::read(&heron::large(), "deck.toml", &[])
        .expect("a job")
        .job;
    let deck = surface(&job).expect("a deck");
    let plan = plan(&job, &PlanOptions::default(), &Unwatched).expect("a plan");
    let order = order(&job, &deck, &plan, &Unwatched).expect("an order");
    let subject = Subject {
        job: &job,
        surface: &deck,
        plan: &plan,
        terms: &Terms::of(&job, 16),
        sheet: Sheet::Letter,
        date: None,
    };
    let scenes = draw::sheets(&subject, &order);
    let mut group = criterion.benchmark_group("sheets of 60 x 30 ft");
    group.sample_size(20);
    group.bench_function("laid out", |bencher| {
        bencher.iter(|| draw::sheets(black_box(&subject), &order));
    });
    group.bench_function("PDF", |bencher| {
        bencher.iter(|| draw::pdf(&job.title, black_box(&scenes)).expect("a PDF"));
    });
    group.bench_function("page", |bencher| {
        bencher.iter(|| draw::html(&subject, &order, &draw::all(black_box(&subject))));
    });
    group.bench_function("SVG of each", |bencher| {
        let write = |scene| draw::svg(scene, Extent::Sheet).len();
        bencher.iter(|| black_box(&scenes).iter().map(write).sum::<usize>());
    });
    group.finish();
}

criterion_group!(benches, sheets);
criterion_main!(benches);
