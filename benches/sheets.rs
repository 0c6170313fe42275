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

const HERON_YARD: &str = include_str!("../fixtures/heron-yard-deck.toml");

/// The attached deck made 60 ft by 30 ft, and its frame left out.
fn large() -> String {
    let (deck, _) = HERON_YARD.split_once("[frame]").expect("a frame");
    let larger = deck
        .replace("along     = \"31ft 6in\"", "along     = \"60ft\"")
        .replace("across    = \"18ft\"", "across    = \"30ft\"");
    assert_ne!(larger, deck);
    larger
}

fn sheets(criterion: &mut Criterion) {
    let job = job::read(&large(), "deck.toml", &[]).expect("a job").job;
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
